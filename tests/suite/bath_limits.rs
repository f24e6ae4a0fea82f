//! From which share on a statement of a chemical is one of its bath: class by class, a little below the limit nothing and from it on the
//! statement.
//!
//! Source of all limits: Regulation (EC) 1272/2008, Annex I, tables 1.1, 3.2.3, 3.3.3, 3.4.5, 3.5.2, 3.6.2, 3.7.2, 3.8.3 and 3.9.4; the
//! figures are from memory. Only chemicals without a limit of their own are taken. Percent by mass is taken as grams in 100 mL.

use crate::common::shipped::tables;
use soupcon::formula::Chemicals as _;
use soupcon::library::Library;
use soupcon::safety::{BathHazards, SafetyData};
use soupcon::vessel::Content;

struct House {
    library: Library,
    safety: &'static SafetyData,
}

impl House {
    fn new() -> Self {
        let library = Library::shipped();
        let safety = &tables().safety;
        Self { library, safety }
    }

    /// The hazards of a bath with so many percent of one chemical, its pH in the middle.
    fn bath(&self, id: &str, percent: f64) -> BathHazards {
        self.bath_at(id, percent, 7.0)
    }

    fn bath_at(&self, id: &str, percent: f64, ph: f64) -> BathHazards {
        let contents = [Content::grams(&self.library.form(id).unwrap(), percent * 10.0)];
        self.safety.bath(&contents, Some(ph.into()))
    }

    fn has(&self, id: &str, percent: f64, code: &str) -> bool {
        self.bath(id, percent).statements.iter().any(|own| own.code == code)
    }
}

#[test]
fn each_class_counts_from_its_own_share_on() {
    let house = House::new();
    for (code, id, limit) in [
        // For genes, cancer: category 1 from 0.1 %, suspected from 1 %.
        ("H340", "potassium-dichromate", 0.1),
        ("H350", "pyrocatechol", 0.1),
        ("H341", "hydroquinone", 1.0),
        ("H351", "hydroquinone", 1.0),
        // For fertility and the unborn: 0.3 %, suspected 3 %; through milk 0.3 %.
        ("H360FD", "boric-acid", 0.3),
        ("H361d", "thiourea", 3.0),
        ("H361", "dimezone-s", 3.0),
        ("H362", "ammonium-bromide", 0.3),
        // Allergy: 1 %, and a tenth of it is told to those who have it already.
        ("H334", "ammonium-persulfate", 1.0),
        ("H317", "metol", 1.0),
        ("EUH208", "metol", 0.1),
        // Single organs: 10 %, and from 1 % on the lesser statement.
        ("H372", "potassium-iodide", 10.0),
        ("H373", "potassium-iodide", 1.0),
        ("H373", "metol", 10.0),
        // Airways and drowsiness: 20 %.
        ("H335", "glycin", 20.0),
        ("H336", "isopropanol", 20.0),
        // Skin and eyes: corrosive 5 % burns and 1 % irritates; eye damage 3 % damages and 1 % irritates; irritants 10 %.
        ("H314", "silver-nitrate", 5.0),
        ("H315", "silver-nitrate", 1.0),
        ("H318", "silver-nitrate", 3.0),
        ("H318", "hydroquinone", 3.0),
        ("H319", "hydroquinone", 1.0),
        ("H319", "sodium-carbonate-anhydrous", 10.0),
        ("H315", "glycin", 10.0),
        ("H319", "glycin", 10.0),
    ] {
        assert!(house.has(id, limit * 1.001, code), "{code} from {limit} % of {id}");
        assert!(!house.has(id, limit * 0.99, code), "{code} below {limit} % of {id}");
    }
}

#[test]
fn the_graver_statement_stands_alone() {
    let house = House::new();
    // What burns is not said to irritate too, and a damaged eye is no irritated one.
    assert!(house.has("silver-nitrate", 6.0, "H314") && !house.has("silver-nitrate", 6.0, "H315"));
    assert!(house.has("hydroquinone", 4.0, "H318") && !house.has("hydroquinone", 4.0, "H319"));
    // Neither is an organ damaged twice, nor one warned of what makes anybody allergic.
    assert!(!house.has("potassium-iodide", 12.0, "H373") && !house.has("metol", 2.0, "EUH208"));
}

#[test]
fn what_is_left_to_tests_is_named_from_its_share_on() {
    let house = House::new();
    for (what, id, limit) in [
        // Table 1.1: poison by breathing of the graver categories counts from 0.1 %.
        ("poisoning by vapour or spray", "p-phenylenediamine", 0.1),
        // Fire, oxidisers and metal are tested, not computed; the shares from which they are named are judgement, no source.
        ("fire", "ethanol", 10.0),
        ("feeding a fire", "potassium-permanganate", 1.0),
        ("corrosion of metal", "silver-nitrate", 1.0),
    ] {
        let named = |percent: f64| house.bath(id, percent).not_computed.iter().any(|own| own.what == what);
        assert!(named(limit * 1.001), "{what} from {limit} % of {id}");
        assert!(!named(limit * 0.99), "{what} below {limit} % of {id}");
    }
}

#[test]
fn alkali_that_is_taken_up_still_counts_for_all_but_skin_and_eyes() {
    // At pH 9 the caustic of a sulfide no longer burns, but acid drives hydrogen sulfide out of it all the same, and it is poison to fish.
    let house = House::new();
    let bath = house.bath_at("sodium-sulfide-anhydrous", 30.0, 9.0);
    let has = |code: &str| bath.statements.iter().any(|own| own.code == code);
    assert!(!has("H314") && !has("H318"), "{bath:?}");
    assert!(has("EUH031") && has("H400"), "{bath:?}");
}
