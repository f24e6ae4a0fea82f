//! The hazards of a finished bath, by the mixture rules.

use super::*;

#[test]
fn a_bath_is_not_the_powder() {
    let library = Library::shipped();
    let data = safety();
    let codes = |contents: &[(&str, f64)], ph: Option<f64>| {
        let bath = data.bath(&vessel(&library, contents), ph.map(Acidity::from));
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    // Reproductive toxicants count from 0.3 % (CLP Annex I, table 3.7.2): 2 g of borax in a litre is 0.2 %, 8 g is 0.8 %.
    assert_eq!(codes(&[("borax-decahydrate", 2.0)], None), Vec::<String>::new());
    assert_eq!(codes(&[("borax-decahydrate", 8.0)], None), ["H360FD"]);
    // Carcinogens and mutagens of category 1 from 0.1 % (table 3.6.2); dichromate allergy by its own limit of 0.2 %.
    let weak = codes(&[("potassium-dichromate", 1.0)], None);
    assert!(
        weak.contains(&"H350".to_owned())
            && weak.contains(&"EUH208".to_owned())
            && !weak.contains(&"H317".to_owned())
    );
    assert!(codes(&[("potassium-dichromate", 2.0)], None).contains(&"H317".to_owned()));
    // A sensitiser from 1 %, an extreme one from 0.1 % (table 3.4.5).
    assert!(!codes(&[("metol", 5.0)], Some(8.5)).contains(&"H317".to_owned()));
    assert!(codes(&[("p-phenylenediamine", 5.0)], Some(8.5)).contains(&"H317".to_owned()));
    // Suspected ones from 1 %.
    assert!(!codes(&[("hydroquinone", 5.0)], Some(8.5)).contains(&"H351".to_owned()));
    assert!(codes(&[("hydroquinone", 45.0)], Some(8.5)).contains(&"H351".to_owned()));
    // pH at or below 2, at or above 11.5: corrosive (Annex I, 3.2.3.1.2).
    assert_eq!(codes(&[("trisodium-phosphate-dodecahydrate", 50.0)], Some(12.1)), ["H314"]);
    // Near a limit a predicted pH proves nothing: that is said.
    let near = data.bath(&vessel(&library, &[("citric-acid-anhydrous", 15.0)]), Some(Acidity::from(2.2)));
    assert!(near.statements.is_empty() && near.not_computed[0].what == "whether it is corrosive");
    // Acetic acid has limits of its own: 10 % irritates, 25 % burns.
    assert_eq!(codes(&[("acetic-acid-28", 48.7)], Some(2.9)), Vec::<String>::new());
    assert_eq!(codes(&[("acetic-acid-28", 500.0)], None), ["H315", "H319"]);
    assert!(codes(&[("acetic-acid-28", 1000.0)], None).contains(&"H314".to_owned()));
    // Caustic taken up by bisulfite no longer burns once the pH says so; without a pH it counts.
    let taken_up = [("sodium-hydroxide", 15.0), ("sodium-metabisulfite", 60.0)];
    assert!(codes(&taken_up, None).contains(&"H314".to_owned()));
    assert!(!codes(&taken_up, Some(7.0)).contains(&"H314".to_owned()));
}

/// Twenty baths of extreme pH: what is in a litre, pH and reserve (g of sodium hydroxide per 100 g) as worked out by hand from the moles and
/// the acid constants of handbooks, lowest and highest, and what they count as. The rule is that of `safety::extreme` (Young et al.
/// 1988; CLP Annex I, 3.2.3.1.2), beside the limits of the substances' own entries (recalled from Annex VI: sulfuric acid 15 %,
/// hydroxides 2 %, hydrochloric and acetic acid 25 %).
#[allow(clippy::type_complexity, reason = "a table: what is in it, pH, reserve, class")]
const EXTREME: &[(&[(&str, f64)], [f64; 2], [f64; 2], &str)] = &[
    // Strong acid: two protons of sulfuric acid are gone at pH 4. 3.7 g is 2 mL.
    (&[("sulfuric-acid", 3.7)], [1.2, 1.7], [0.25, 0.33], "irritates"),
    (&[("sulfuric-acid", 18.3)], [0.6, 1.0], [1.3, 1.6], "irritates"),
    (&[("sulfuric-acid", 59.0)], [0.1, 0.5], [4.4, 5.1], "irritates"),
    (&[("sulfuric-acid", 180.0)], [-0.6, 0.1], [13.0, 15.2], "burns"),
    (&[("hydrochloric-acid-37", 10.0)], [0.8, 1.2], [0.36, 0.45], "irritates"),
    (&[("hydrochloric-acid-37", 119.0)], [-0.2, 0.3], [4.5, 5.2], "irritates"),
    (&[("sodium-bisulfate-anhydrous", 30.0)], [0.8, 1.2], [0.9, 1.05], "eyes"),
    (&[("sulfamic-acid", 20.0)], [0.6, 1.1], [0.75, 0.9], "irritates"),
    // Weak acids: citric acid gives one proton of three by pH 4, tartaric acid one and a half of two.
    (&[("citric-acid-anhydrous", 50.0)], [1.7, 2.0], [0.9, 1.5], "irritates"),
    (&[("tartaric-acid", 45.0)], [1.6, 2.0], [1.3, 2.1], "eyes"),
    (&[("oxalic-acid-dihydrate", 50.0)], [0.7, 1.4], [2.0, 2.9], "eyes"),
    // Caustic: all of it is gone at pH 10.
    (&[("sodium-hydroxide", 4.0)], [12.7, 13.1], [0.38, 0.42], "irritates"),
    (&[("sodium-hydroxide", 10.0)], [13.1, 13.5], [0.95, 1.05], "irritates"),
    (&[("sodium-hydroxide", 25.0)], [13.5, 13.9], [2.4, 2.6], "burns"),
    (&[("sodium-hydroxide", 100.0)], [14.1, 14.7], [9.8, 10.2], "burns"),
    (&[("potassium-hydroxide", 15.0)], [13.1, 13.6], [0.95, 1.2], "irritates"),
    // Carbonate takes half a proton or so by pH 10.
    (&[("sodium-carbonate-anhydrous", 50.0)], [11.4, 11.8], [0.5, 1.5], "irritates"),
    (&[("potassium-carbonate-anhydrous", 75.0)], [11.6, 12.0], [0.6, 1.8], "irritates"),
    (&[("trisodium-phosphate-dodecahydrate", 50.0)], [11.7, 12.4], [0.4, 0.8], "irritates"),
    (
        &[("sodium-carbonate-anhydrous", 50.0), ("sodium-hydroxide", 5.0)],
        [12.7, 13.3],
        [0.9, 1.9],
        "irritates",
    ),
];

#[test]
fn an_extreme_ph_counts_with_what_stands_behind_it() {
    let library = Library::shipped();
    let data = safety();
    let equilibria = &tables().equilibria;
    let mut wrong = Vec::new();
    for (contents, ph, reserve, expected) in EXTREME {
        let contents = vessel(&library, contents);
        let additions = additions(equilibria, &contents, "it").unwrap();
        let prediction = predict(equilibria, &additions, 20.0).unwrap();
        let reserve_g = reserve_g(equilibria, &additions, &prediction, 20.0).unwrap_or(f64::NAN);
        let bath = data.bath(&contents, Some(Acidity { reserve_g: Some(reserve_g), ..prediction.ph.into() }));
        let has = |code: &str| bath.statements.iter().any(|own| own.code == code);
        let told = match (has("H314"), has("H318"), has("H315") && has("H319")) {
            (true, ..) => "burns",
            (_, true, _) => "eyes",
            (_, _, true) => "irritates",
            _ => "nothing",
        };
        let within = |value: f64, [low, high]: [f64; 2]| (low..=high).contains(&value);
        if told != *expected || !within(prediction.ph, *ph) || !within(reserve_g, *reserve) {
            let names: Vec<&str> = contents.iter().map(|own| own.form.id.as_str()).collect();
            wrong.push(format!("{names:?}: pH {:.2}, reserve {reserve_g:.2}, {told}", prediction.ph));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // Where nothing is known of the reserve, the pH alone decides.
    assert!(
        data.bath(&vessel(&library, &[("citric-acid-anhydrous", 50.0)]), Some(1.9.into())).is_corrosive()
    );
    let unmeasured = [Content::unknown_amount(&library.form("sulfuric-acid").unwrap())];
    assert!(data.bath(&unmeasured, Some(1.0.into())).is_corrosive());
}

#[test]
fn a_bath_asks_for_an_apron_that_its_powders_do_not() {
    let library = Library::shipped();
    let formula = library.formula("mq-carbonate-tray-tank").unwrap().formula;
    let general = |ph: f64| review(safety(), &formula, 1.0, &|_| Some(Acidity::from(ph))).general;
    assert!(general(12.1).wear.contains(&Wear::Apron));
    assert!(!general(10.0).wear.contains(&Wear::Apron));
}

#[test]
fn acute_toxicity_adds_up_by_estimates() {
    let library = Library::shipped();
    let data = safety();
    let codes = |contents: &[(&str, f64)]| {
        let bath = data.bath(&vessel(&library, contents), None);
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    // H301, 100 mg/kg: 5 % gives 100 × 100 / 5 = 2000 mg/kg, just category 4; 4 % is 2500, nothing.
    assert!(codes(&[("p-phenylenediamine", 50.0)]).contains(&"H302".to_owned()));
    assert!(!codes(&[("p-phenylenediamine", 40.0)]).contains(&"H302".to_owned()));
    // H302, 500 mg/kg, needs 25 % for 2000 mg/kg.
    assert!(codes(&[("thiourea", 250.0)]).contains(&"H302".to_owned()));
    assert!(!codes(&[("thiourea", 200.0)]).contains(&"H302".to_owned()));
    // By breathing it is never computed, and that is said.
    let bath = data.bath(&vessel(&library, &[("p-phenylenediamine", 50.0)]), None);
    assert!(bath.not_computed.iter().any(|line| line.what == "poisoning by vapour or spray"));
}

#[test]
fn water_life_adds_up_and_says_what_it_leaves_out() {
    let library = Library::shipped();
    let data = safety();
    let codes = |contents: &[(&str, f64)]| {
        let bath = data.bath(&vessel(&library, contents), None);
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    // Summation (table 4.1.2): 100 × 0.25 % of a substance with H410 is 25 %: H412; 10 × 2.5 % is 25 %: H411.
    assert!(codes(&[("copper-sulfate-pentahydrate", 2.5)]).contains(&"H412".to_owned()));
    assert!(codes(&[("copper-sulfate-pentahydrate", 25.0)]).contains(&"H411".to_owned()));
    assert!(!codes(&[("copper-sulfate-pentahydrate", 2.0)]).contains(&"H412".to_owned()));
    let bath = data.bath(&vessel(&library, &[("metol", 2.0)]), Some(Acidity::from(8.5)));
    assert!(bath.not_computed.iter().any(|line| line.what.contains("water life")));
    assert!(bath.summary().contains("as far as it is known") || !bath.statements.is_empty());
}

#[test]
fn an_unknown_substance_is_never_called_harmless() {
    let library = Library::shipped();
    let data = safety();
    let bath = data.bath(&vessel(&library, &[("potassium-bromide", 5.0)]), Some(Acidity::from(7.0)));
    assert_eq!(bath.unknown, ["potassium bromide"]);
    assert_eq!(bath.summary(), "no limit of the mixture rules is reached as far as it is known");
    assert_eq!(bath.signal, None::<Signal>);
}

#[test]
fn the_contents_of_a_bath_follow_its_parts() {
    let library = Library::shipped();
    let formula = library.formula("two-bath-metol-sulfite-carbonate").unwrap().formula;
    let baths = baths_of(&formula, None);
    assert_eq!(baths.len(), 2);
    assert_eq!(baths[0].contents, Vessel::of_part(&formula.parts[0]));
    let formula = library.formula("ferricyanide-thiosulfate-cutting-reducer").unwrap().formula;
    let bath = &baths_of(&formula, None)[0];
    // 1 of A with 100 g/L in 41 parts.
    assert!((bath.contents[0].grams_per_litre.unwrap() - 100.0 / 41.0).abs() < 1e-9);
}
