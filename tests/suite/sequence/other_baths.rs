//! Fixers, bleaches and toners.

use super::*;

#[test]
fn alum_fixer_is_hypo_sulfite_cooling_acid_boric_and_the_alum_apart() {
    let steps = steps("acid-hardening-alum-boric-fixer", "1L", 0);
    let actions: Vec<&str> = steps.iter().map(|(action, _)| action.as_str()).collect();
    let cool = actions.iter().position(|action| *action == "cool").unwrap();
    let acid = steps.iter().position(|(_, substance)| substance == "acetic-acid-28").unwrap();
    let hypo =
        steps.iter().position(|(_, substance)| substance == "sodium-thiosulfate-pentahydrate").unwrap();
    assert!(hypo < cool && cool < acid);
    assert_eq!(
        entering(&steps),
        [
            "sodium-thiosulfate-pentahydrate",
            "sodium-sulfite-anhydrous",
            "acetic-acid-28",
            "boric-acid",
            "potassium-alum-dodecahydrate",
        ]
    );
    assert!(steps.contains(&("dissolve-apart".to_owned(), "potassium-alum-dodecahydrate".to_owned())));
}

#[test]
fn hypo_chills_the_beaker_by_about_sixteen_kelvin() {
    // 240 g of hypo crystals in 600 mL of water: 0.967 mol × 46.3 kJ/mol over 0.6 kg and the crystal water is about 16 K.
    let json = good(&["sheet", "acid-hardening-alum-boric-fixer", "1L", "--json"]).json();
    let steps = json["parts"][0]["steps"].as_array().unwrap();
    let hypo = steps.iter().find(|step| step["substance"] == "sodium-thiosulfate-pentahydrate").unwrap();
    let fall =
        steps[0]["temperature_after_c"].as_f64().unwrap() - hypo["temperature_after_c"].as_f64().unwrap();
    assert!((14.0..=18.0).contains(&fall), "{fall} K");
}

#[test]
fn plain_acid_fixer_cools_before_the_metabisulfite() {
    let steps = steps("thiosulfate-metabisulfite-acid-fixer", "1L", 0);
    let place =
        |wanted: &str| steps.iter().position(|(action, own)| action == wanted || own == wanted).unwrap();
    assert!(place("sodium-thiosulfate-pentahydrate") < place("cool"));
    assert!(place("cool") < place("potassium-metabisulfite"));
}

#[test]
fn tartaric_acid_goes_into_the_sulfite_and_both_into_the_cool_hypo() {
    let steps = steps("thiosulfate-tartaric-sulfite-acid-fixer", "1L", 0);
    let place = |action: &str, substance: &str| {
        steps.iter().position(|own| own.0 == action && own.1.starts_with(substance)).unwrap()
    };
    assert!(place("dissolve-apart", "sodium-sulfite") < place("dissolve-apart", "tartaric-acid"));
    assert!(place("dissolve-apart", "tartaric-acid") < place("pour-in", "sodium-sulfite"));
    assert!(place("add", "sodium-thiosulfate") < place("pour-in", "sodium-sulfite"));
    assert!(place("cool", "") < place("pour-in", "sodium-sulfite"));
    let carried =
        |substance: &str| -> usize { steps.iter().filter(|own| own.1.starts_with(substance)).count() };
    assert_eq!((carried("tartaric-acid"), carried("sodium-sulfite")), (2, 2));
}

#[test]
fn chrome_alum_goes_in_last_from_its_own_cool_solution() {
    let json = good(&["sheet", "thiosulfate-chrome-alum-hardening-fixer", "1L", "--json"]).json();
    let part = &json["parts"][0];
    assert_eq!(entering(&steps_of(part)).last().unwrap(), "chrome-alum");
    let apart = part["steps"]
        .as_array()
        .unwrap()
        .iter()
        .find(|step| step["action"] == "dissolve-apart" && step["substance"] == "chrome-alum");
    assert!(apart.unwrap()["target_c"].as_f64().unwrap() < 50.0);
}

#[test]
fn an_alkaline_rapid_fixer_leaves_room_for_its_liquid() {
    // 800 mL of thiosulfate solution per litre.
    let json = good(&["sheet", "ammonium-thiosulfate-alkaline-rapid-fixer", "1L", "--json"]).json();
    let start = json["parts"][0]["start_water_ml"].as_f64().unwrap();
    assert!(start <= 200.0, "{start} mL leave no room");
    assert!(json["parts"][0]["steps"].as_array().unwrap().iter().all(|step| step["action"] != "cool"));
}

#[test]
fn strong_acid_goes_last_into_the_cool_bleach() {
    let order = order("dichromate-sulfuric-reversal-bleach", 0);
    assert_eq!(order, ["potassium-dichromate", "sulfuric-acid"]);
    let json = good(&["sheet", "dichromate-sulfuric-reversal-bleach", "1L", "--json"]).json();
    assert!(json["parts"][0]["start_water_c"].as_f64().unwrap() <= 25.0);
    assert!(json["safety"].to_string().contains("Chromium(VI)"));
}

#[test]
fn ferricyanide_bleach_and_its_sulfide_are_two_parts() {
    let json = good(&["sheet", "sulfide-sepia-bleach-redevelop-toner", "1L", "--json"]).json();
    assert_eq!(json["parts"].as_array().unwrap().len(), 2);
    assert!(json["safety"].to_string().to_lowercase().contains("hydrogen sulfide"));
}

#[test]
fn dichromate_with_an_agent_in_one_vessel_is_refused() {
    for oxidiser in ["potassium-dichromate", "potassium-permanganate"] {
        for reducer in ["hydroquinone", "sodium-sulfite-anhydrous"] {
            let text = formula_text("bleach", &[(oxidiser, 10.0), (reducer, 10.0)]);
            let ran = soupcon_with_input(&["sheet", "-", "1L"], text.as_bytes());
            assert_eq!(ran.code, 1, "{oxidiser} with {reducer}: {}", ran.whole());
        }
    }
}
