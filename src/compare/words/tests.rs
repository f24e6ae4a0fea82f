//! The sentences that tell two formulas apart.

use super::*;
use crate::compare::{Comparison, ShownStrength, compare};
use crate::library::Library;

/// What is told of the last formula, as `topic: text`.
fn told(ids: &[&str]) -> Vec<String> {
    let library = Library::shipped();
    let formulas: Vec<Formula> = ids.iter().map(|id| library.formula(id).unwrap().formula).collect();
    let refs: Vec<&Formula> = formulas.iter().collect();
    let composer = Composer::new(&library);
    let comparison: Comparison<'_> = compare(&refs, ShownStrength::usual(&refs), &composer, None).unwrap();
    comparison
        .differences
        .iter()
        .filter(|difference| difference.formula == ids.len() - 1)
        .map(|difference| format!("{}: {}", difference.topic.word(), difference.text))
        .collect()
}

fn says(told: &[String], topic: &str, words: &[&str]) -> bool {
    told.iter().any(|own| own.starts_with(topic) && words.iter().all(|word| own.contains(word)))
}

#[test]
fn a_family_differs_in_what_the_trade_would_name() {
    let all = told(&["mq-borax-classic", "mq-borax-bromide-80-sulfite"]);
    assert!(says(&all, "agents", &["25 % less metol", "1.5 g/L; 2 in the other"]), "{all:?}");
    assert!(says(&all, "agents", &["1 : 2 against 1 : 2.5", "softer"]), "{all:?}");
    assert!(
        says(&all, "sulfite", &["80 g/L, counted anhydrous; 100 in the other", "both are above"]),
        "{all:?}"
    );
    assert!(says(&all, "alkali", &["50 % more borax"]), "{all:?}");
    assert!(says(&all, "restrainer", &["has bromide, 0.5 g/L"]), "{all:?}");
    let all = told(&["mq-borax-classic", "mq-borax-boric-acid-buffered"]);
    assert!(says(&all, "alkali", &["4 times as much borax"]), "{all:?}");
    assert!(says(&all, "alkali", &["buffered", "steadier"]), "{all:?}");
    assert!(!says(&all, "agents", &[]), "{all:?}");
}

#[test]
fn sulfite_tells_grain_and_sharpness_by_the_bath_as_used() {
    let all = told(&["mq-borax-classic", "acutance-metol-sulfite-carbonate-ab"]);
    assert!(says(&all, "sulfite", &["5 g/L, counted anhydrous; 100 in the other", "coarser"]), "{all:?}");
    assert!(says(&all, "sulfite", &["sharper"]), "{all:?}");
    let own = told(&["mq-borax-boric-acid-buffered", "mq-borax-classic"]);
    assert!(
        says(&own, "dilution", &["50 g/L at 1 stock + 1 water and 25 g/L at 1 stock + 3 water"]),
        "{own:?}"
    );
}

#[test]
fn alkalis_solvents_baths_and_agents_are_told_by_name() {
    let all = told(&["mq-borax-classic", "mq-carbonate-tray-tank"]);
    assert!(says(&all, "alkali", &["sodium carbonate in place of borax", "more active"]), "{all:?}");
    let all = told(&["mq-borax-classic", "mq-metaborate-100-sulfite"]);
    assert_eq!(all.len(), 1, "{all:?}");
    assert!(says(&all, "alkali", &["sodium metaborate in place of borax"]), "{all:?}");
    let all = told(&["metol-sulfite", "metol-metaborate-thiocyanate"]);
    assert!(says(&all, "silver solvent", &["thiocyanate"]), "{all:?}");
    let all = told(&["metol-sulfite", "two-bath-metol-sulfite-borax"]);
    assert!(says(&all, "baths", &["2 baths against 1"]), "{all:?}");
    let all = told(&["mq-borax-classic", "pq-borax-buffered"]);
    assert!(says(&all, "agents", &["has phenidone, 0.2 g/L"]), "{all:?}");
    assert!(says(&all, "agents", &["has no metol, which brings up"]), "{all:?}");
    let all = told(&["mq-borax-classic", "metol-sulfite"]);
    assert!(says(&all, "alkali", &["no alkali but the sulfite"]), "{all:?}");
    let all = told(&["metol-sulfite", "metol-sulfite-bisulfite"]);
    assert!(says(&all, "alkali", &["sodium metabisulfite", "acid takes"]), "{all:?}");
}

#[test]
fn fixers_are_told_by_thiosulfate_acid_and_hardener() {
    let all = told(&["acid-hardening-alum-boric-fixer", "ammonium-thiosulfate-alkaline-rapid-fixer"]);
    assert!(says(&all, "fixing", &["with ammonium"]), "{all:?}");
    assert!(says(&all, "fixing", &["not acid"]), "{all:?}");
    assert!(says(&all, "fixing", &["does not harden"]), "{all:?}");
}

#[test]
fn the_same_formula_twice_does_not_differ_and_hydrates_are_told_as_forms() {
    let all = told(&["metol-sulfite-bisulfite", "metol-sulfite-bisulfite"]);
    assert_eq!(all, ["same: the figures show no difference in the bath"]);
    let all = told(&["mq-borax-classic", "mq-carbonate-one-solution-plate-1910"]);
    assert!(says(&all, "forms", &["heptahydrate", "2.001 g"]), "{all:?}");
}

#[test]
fn every_sentence_of_the_whole_library_is_whole() {
    let library = Library::shipped();
    let formulas: Vec<Formula> =
        library.formulas().unwrap().0.into_iter().map(|found| found.formula).collect();
    let composer = Composer::new(&library);
    for pair in formulas.windows(2) {
        let refs: Vec<&Formula> = pair.iter().collect();
        let comparison = compare(&refs, ShownStrength::usual(&refs), &composer, None).unwrap();
        assert!(comparison.differences.iter().any(|difference| difference.formula == 1), "{}", pair[1].id);
        for difference in &comparison.differences {
            assert!(
                !difference.text.contains("NaN") && !difference.text.contains("inf "),
                "{}: {}",
                pair[1].id,
                difference.text
            );
            assert!(!difference.text.is_empty() && !difference.reason.words().is_empty());
        }
    }
}

#[test]
fn what_the_readers_of_a_comparison_must_not_be_told() {
    // No grain of prints; common practice, no source.
    let all = told(&["mq-carbonate-neutral-paper-developer", "mq-carbonate-warm-tone-paper-developer"]);
    assert!(!all.iter().any(|own| own.contains("grain")), "{all:?}");
    // 7 g/L of metaborate are not no alkali, and 2 g/L of borax are not more than they.
    let all = told(&["phenidone-ascorbate-metaborate-60-sulfite", "mq-borax-classic"]);
    assert!(says(&all, "alkali", &["borax", "sodium metaborate", "taken up"]), "{all:?}");
    assert!(!all.iter().any(|own| own.contains("the more active")), "{all:?}");
    let all = told(&["mq-borax-classic", "phenidone-ascorbate-metaborate-60-sulfite"]);
    assert!(!all.iter().any(|own| own.contains("no alkali but")), "{all:?}");
    let all = told(&["acutance-metol-iodide", "mq-borax-classic"]);
    assert!(says(&all, "restrainer", &["no iodide against a trace"]), "{all:?}");
    // The thiosulfate of a toner, and the form in which carbonate is told.
    let all = told(&["alum-thiosulfate-hot-sepia-toner", "polysulfide-direct-brown-toner"]);
    assert!(says(&all, "other chemicals", &["has no", "thiosulfate", "125 g/L"]), "{all:?}");
    assert!(says(&all, "other chemicals", &["sodium carbonate, monohydrate, 2.4 g/L"]), "{all:?}");
}
