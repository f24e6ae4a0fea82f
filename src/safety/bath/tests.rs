//! The mixture rules at their limits, with invented chemicals that have one statement each.
//!
//! Source of all limits: Regulation (EC) 1272/2008, Annex I, the tables named in the module; the figures are from memory.

use std::sync::Arc;

use super::*;
use crate::formula::Chemicals as _;
use crate::library::Library;
use crate::safety::SafetyData;
use crate::substance::JudgedAs;

struct House {
    library: Library,
    safety: SafetyData,
}

impl House {
    fn new() -> Self {
        let library = Library::shipped();
        let safety = SafetyData::shipped(&library);
        Self { library, safety }
    }

    /// So many percent of an invented chemical with these statements and classes.
    fn part(&self, id: &str, codes: &str, classes: &[Class], percent: f64) -> Content {
        let mut form = (*self.library.form("sodium-chloride").unwrap()).clone();
        let mut parent = (*form.parent).clone();
        parent.id = id.to_owned();
        parent.classes = Some(classes.to_vec());
        form.id = id.to_owned();
        form.name = id.to_owned();
        form.parent = Arc::new(parent);
        let codes = codes.split_whitespace().map(str::to_owned).collect();
        form.judged = Arc::new(JudgedAs { codes, molar_mass_g_per_mol: None, ..(*form.judged).clone() });
        Content::grams(&Arc::new(form), percent * 10.0)
    }

    /// Codes and shares, each of a chemical of its own.
    fn parts(&self, parts: &[(&str, f64)]) -> Vec<Content> {
        let part = |(index, (codes, percent)): (usize, &(&str, f64))| {
            self.part(&format!("invented-{index}"), codes, &[], *percent)
        };
        parts.iter().enumerate().map(part).collect()
    }

    fn bath(&self, contents: &[Content], ph: Option<f64>) -> BathHazards {
        self.safety.bath(contents, ph.map(Acidity::from))
    }

    /// The codes of a bath of middling pH.
    fn codes(&self, parts: &[(&str, f64)]) -> String {
        let found = self.bath(&self.parts(parts), Some(7.0)).statements;
        found.iter().map(|own| own.code.as_str()).collect::<Vec<_>>().join(" ")
    }
}

/// What is left open, each once.
fn open(bath: &BathHazards) -> Vec<&str> {
    bath.not_computed.iter().map(|own| own.what.as_str()).collect()
}

#[test]
fn poison_counts_by_the_estimate_of_the_mixture() {
    let house = House::new();
    // 100 / ATE of the mixture = sum of share / ATE; table 3.1.2 with its converted estimates, table 1.1 for the shares that count.
    for (parts, codes) in [
        // Swallowed: 50, 300 and 2000 mg/kg.
        (&[("H300", 1.0)][..], "H300"),
        (&[("H300", 0.99)], "H301"),
        (&[("H300", 0.17)], "H301"),
        (&[("H300", 0.16)], "H302"),
        (&[("H300", 0.1)], "H302"),
        (&[("H300", 0.09)], ""),
        (&[("H301", 33.4)], "H301"),
        (&[("H301", 33.3)], "H302"),
        (&[("H301", 5.0)], "H302"),
        (&[("H301", 4.9)], ""),
        (&[("H302", 25.0)], "H302"),
        (&[("H302", 24.9)], ""),
        (&[("H302", 100.0)], "H302"),
        // A little of the one beside nearly enough of the other counts from a tenth of a percent, of category 4 from one percent.
        (&[("H302", 24.9), ("H301", 0.1)], "H302"),
        (&[("H302", 24.9), ("H301", 0.09)], ""),
        (&[("H301", 4.9), ("H302", 1.0)], "H302"),
        (&[("H301", 4.9), ("H302", 0.9)], ""),
        // On the skin: 200, 1000 and 2000 mg/kg.
        (&[("H310", 2.5)], "H310"),
        (&[("H310", 2.4)], "H311"),
        (&[("H310", 0.5)], "H311"),
        (&[("H310", 0.49)], "H312"),
        (&[("H310", 0.25)], "H312"),
        (&[("H310", 0.24)], ""),
        (&[("H311", 30.0)], "H311"),
        (&[("H311", 29.9)], "H312"),
        (&[("H311", 15.0)], "H312"),
        (&[("H311", 14.9)], ""),
        (&[("H312", 55.0)], "H312"),
        (&[("H312", 54.9)], ""),
        (&[("H311", 9.8), ("H310", 0.1)], "H312"),
        (&[("H311", 9.8), ("H310", 0.09)], ""),
        (&[("H310", 0.249), ("H311", 0.1)], "H312"),
        (&[("H310", 0.249), ("H311", 0.09)], ""),
        (&[("H311", 14.8), ("H312", 1.0)], "H312"),
        (&[("H311", 14.8), ("H312", 0.9)], ""),
    ] {
        assert_eq!(house.codes(parts), codes, "{parts:?}");
    }
}

#[test]
fn skin_and_eyes_add_up_share_over_limit() {
    let house = House::new();
    for (parts, codes) in [
        // Corrosive from 5 %, irritating from 1 %; eyes damaged from 3 %, irritated from 1 %.
        (&[("H314", 5.0)][..], "H314"),
        (&[("H314", 4.9)], "H315 H318"),
        (&[("H314", 3.0)], "H315 H318"),
        (&[("H314", 2.9)], "H315 H319"),
        (&[("H314", 1.0)], "H315 H319"),
        (&[("H314", 0.9)], ""),
        (&[("H314", 2.5), ("H314", 2.5)], "H314"),
        (&[("H315", 10.0)], "H315"),
        (&[("H315", 9.9)], ""),
        (&[("H315", 5.0), ("H314", 0.5)], "H315"),
        (&[("H318", 3.0)], "H318"),
        (&[("H318", 2.9)], "H319"),
        (&[("H318", 1.0)], "H319"),
        (&[("H318", 0.9)], ""),
        (&[("H319", 10.0)], "H319"),
        (&[("H319", 9.9)], ""),
    ] {
        assert_eq!(house.codes(parts), codes, "{parts:?}");
    }
    // Named are those behind it, and no others.
    let bath = house.bath(&house.parts(&[("H315", 10.0), ("H302", 5.0)]), Some(7.0));
    assert_eq!(bath.statements[0].because, ["invented-0"]);
    // A chemical with limits of its own is judged by those: formaldehyde burns from 25 %, irritates skin from 5 %.
    let formaldehyde = |percent| {
        let bath = house.bath(&[house.part("formaldehyde", "H314", &[], percent)], Some(7.0));
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    assert_eq!(formaldehyde(25.0)[0], "H314");
    assert_eq!(formaldehyde(24.9)[..2], ["H315", "H319"]);
    assert_eq!(formaldehyde(5.0)[..2], ["H315", "H319"]);
    assert!(formaldehyde(4.9).is_empty());
}

#[test]
fn an_extreme_ph_irritates_at_least_and_one_near_the_limit_is_left_open() {
    let house = House::new();
    let salt = house.parts(&[("H302", 1.0)]);
    // Predictions err by some 0.3: 2.3 could be 2, and 11.2 could be 11.5.
    for (ph, is_open) in [(2.3, true), (2.31, false), (7.0, false), (11.19, false), (11.2, true)] {
        let bath = house.bath(&salt, Some(ph));
        assert_eq!(open(&bath), if is_open { vec!["whether it is corrosive"] } else { vec![] }, "{ph}");
    }
    let mild = Acidity { reserve_g: Some(0.1), ..Acidity::from(12.0) };
    let codes = |parts: &[(&str, f64)]| -> Vec<String> {
        house
            .safety
            .bath(&house.parts(parts), Some(mild))
            .statements
            .into_iter()
            .map(|own| own.code)
            .collect()
    };
    assert_eq!(codes(&[("H302", 1.0)]), ["H315", "H319"]);
    assert_eq!(
        codes(&[("H315", 20.0), ("H318", 5.0)]),
        ["H315", "H318"],
        "what damages the eyes irritates them too"
    );
    assert_eq!(codes(&[("H314", 5.0)]), ["H314"]);
}

#[test]
fn where_no_ph_is_known_strong_acid_and_alkali_count_by_their_share() {
    let house = House::new();
    let bath = |codes: &str, class: Class, percent: f64| {
        house.bath(&[house.part("x", codes, &[class], percent)], None)
    };
    // One percent of a strong one that burns; what is said not to burn, and less of it, is left open.
    assert!(bath("H314", Class::StrongAlkali, 1.0).is_corrosive());
    assert!(bath("H314", Class::StrongAcid, 1.0).is_corrosive());
    for (codes, percent) in [("H314", 0.9), ("H319", 5.0)] {
        let bath = bath(codes, Class::StrongAcid, percent);
        assert!(!bath.is_corrosive());
        assert_eq!(open(&bath), ["corrosion by pH"], "{codes} {percent}");
    }
    // 50 g/L of soda read pH 11.7 (Pitzer's model), beyond the limit; a neutral salt of any amount does not.
    assert_eq!(open(&bath("H319", Class::Carbonate, 5.0)), ["corrosion by pH"]);
    assert!(open(&bath("H319", Class::Carbonate, 4.9)).is_empty());
    assert!(open(&bath("H319", Class::Bromide, 9.0)).is_empty());
    // Where the pH lies between, the strong one has been taken up and counts for skin and eyes no longer.
    let taken_up = house.bath(&[house.part("x", "H314 H302", &[Class::StrongAcid], 30.0)], Some(7.0));
    let codes: Vec<&str> = taken_up.statements.iter().map(|own| own.code.as_str()).collect();
    assert_eq!(codes, ["H302"]);
}

#[test]
fn each_ingredient_counts_by_itself_for_what_harms_in_the_long_run() {
    let house = House::new();
    // The others have a shipped chemical to be tried with: `tests/suite/bath_limits.rs`.
    for (code, limit) in [("H370", 10.0), ("H371", 10.0), ("EUH031", 1.0), ("EUH032", 1.0)] {
        assert_eq!(house.codes(&[(code, limit)]), code);
        assert!(
            !house.codes(&[(code, limit * 0.99)]).split(' ').any(|own| own == code),
            "below {limit} % of {code}"
        );
    }
    // Of the graver harm to organs, from 1 % on the lesser is told.
    for (strong, weak) in [("H370", "H371"), ("H372", "H373")] {
        assert_eq!(house.codes(&[(strong, 9.9)]), weak);
        assert_eq!(house.codes(&[(strong, 1.0)]), weak);
        assert_eq!(house.codes(&[(strong, 0.9)]), "");
    }
    // A tenth of the limit is told to those who are allergic already.
    for code in ["H317", "H334"] {
        assert_eq!(house.codes(&[(code, 0.1)]), "EUH208");
        assert_eq!(house.codes(&[(code, 0.09)]), "");
    }
    // What bites the airways adds up, of however many; each one with a limit of its own counts at that.
    assert_eq!(house.codes(&[("H335", 0.8); 25]), "H335");
    assert_eq!(house.codes(&[("H335", 0.8); 24]), "");
    let formaldehyde = |percent| {
        !house.bath(&[house.part("formaldehyde", "H335", &[], percent)], Some(7.0)).statements.is_empty()
    };
    assert!(formaldehyde(5.0) && !formaldehyde(4.9));
}

#[test]
fn harm_to_water_life_adds_up_with_its_weights() {
    let house = House::new();
    // Table 4.1.2: 25 % of the whole, the graver counted ten and a hundred times; multiplying factors of 1.
    for (parts, codes) in [
        (&[("H410", 25.0)][..], "H410"),
        (&[("H410", 24.9)], "H411"),
        (&[("H410", 2.5)], "H411"),
        (&[("H410", 2.4)], "H412"),
        (&[("H410", 0.25)], "H412"),
        (&[("H410", 0.24)], ""),
        (&[("H411", 25.0)], "H411"),
        (&[("H411", 24.9)], "H412"),
        (&[("H411", 2.5)], "H412"),
        (&[("H411", 2.4)], ""),
        (&[("H412", 25.0)], "H412"),
        (&[("H412", 24.9)], ""),
        (&[("H413", 25.0)], "H413"),
        (&[("H413", 24.9)], ""),
        (&[("H410", 1.25), ("H411", 12.5)], "H411"),
        (&[("H410", 1.25), ("H411", 12.4)], "H412"),
        (&[("H410", 0.1), ("H411", 0.5), ("H412", 10.0)], "H412"),
        (&[("H410", 0.1), ("H411", 0.5), ("H412", 9.9)], ""),
        (&[("H412", 5.0), ("H413", 20.0)], "H413"),
        (&[("H412", 5.0), ("H413", 19.9)], ""),
        (&[("H410", 0.05), ("H411", 0.5), ("H412", 4.45), ("H413", 20.0)], "H413"),
        // At once: 25 % of what is very poisonous, unless the lasting harm says it.
        (&[("H400", 25.0)], "H400"),
        (&[("H400", 24.9)], ""),
        (&[("H400", 10.0), ("H410", 15.0)], "H411 H400"),
        (&[("H400", 10.0), ("H410", 25.0)], "H410"),
    ] {
        assert_eq!(house.codes(parts), codes, "{parts:?}");
    }
    // Without the factors of multiplication the whole of it stays open, unless the gravest is told.
    let is_open =
        |code: &str, percent| !open(&house.bath(&house.parts(&[(code, percent)]), Some(7.0))).is_empty();
    assert!(is_open("H400", 1.0) && is_open("H410", 1.0) && !is_open("H410", 25.0) && !is_open("H411", 1.0));
}

#[test]
fn what_nobody_measured_counts_as_the_chemical_itself() {
    let house = House::new();
    let part = house.part("x", "H312", &[], 1.0);
    // All of it would be 1100 mg/kg, H312; more than all there is not.
    let unknown = house.bath(&[Content { grams_per_litre: None, ..part.clone() }], Some(7.0));
    assert_eq!(unknown.statements[0].code, "H312");
    assert_eq!(open(&unknown), ["the share of x"]);
    let bounded = Content { grams_per_litre: None, at_most_g_per_litre: Some(540.0), ..part };
    assert!(house.bath(&[bounded], Some(7.0)).statements.is_empty(), "54 % are too little");
    assert!(open(&house.bath(&house.parts(&[("H302", 1.0)]), Some(7.0))).is_empty());
}
