//! What the card of a film developer must answer: how it is used, how long, how many films, how long it keeps.

use soupcon::bath::days;
use soupcon::bath::life::Life;
use soupcon::bath::rules::ClassRules;
use soupcon::formula::Kind;
use soupcon::library::Library;

use crate::common::good;

/// What no document read and no class rule answers: this list may only become shorter.
const STILL_NOT_KNOWN: [&str; 11] = [
    "lith-paraformaldehyde capacity",
    "metol-hydroquinone-pyro-tank-dilute time",
    "monobath-pq-thiosulfate capacity",
    "monobath-pq-thiosulfate keeping",
    "mq-carbonate-one-solution-plate-1910 time",
    "mq-carbonate-thiocyanate-reversal-first capacity",
    "mq-carbonate-thiocyanate-reversal-first keeping",
    "mq-three-solution-potassium-carbonate time",
    "phenidone-ascorbate-tea-glycol-concentrate time",
    "pyro-soda-average time",
    "pyro-soda-sensitometry-standard time",
];

#[test]
fn every_film_developer_answers_use_time_capacity_and_keeping() {
    let library = Library::shipped();
    let text = include_str!("../../formulas/tables/class-rules.toml");
    let rules = ClassRules::parse(text, "class-rules.toml").unwrap();
    let mut told = 0;
    let mut bare = Vec::new();
    for found in library.formulas().unwrap().0 {
        let formula = found.formula;
        if formula.kind != Kind::FilmDeveloper {
            continue;
        }
        told += 1;
        let id = &formula.id;
        assert!(!formula.uses.is_empty(), "{id}: no use");
        let life = Life::of(&formula, &rules);
        let notes: String = formula.uses.iter().filter_map(|own| own.note.clone()).collect();
        let timed = formula.uses.iter().any(|own| own.minutes.is_some())
            || life.start_minutes.is_some()
            || [" min", "imes", "inspection"].iter().any(|word| notes.contains(word));
        let stock = life.stock.rule_ml.is_some() || life.stock.stated_ml.is_some() || life.capacity.is_some();
        // A part of alkali alone keeps as long as its bottle is shut, and has no rule: one part at least answers.
        let mut keeps = false;
        for part in &formula.parts {
            let own = days(&formula, part, false, &rules);
            keeps |= own.in_words.is_some() || own.figures().next().is_some();
            // Source: air takes the sulfite and the agent away, common practice, no source.
            if let (Some(full), Some(half)) = (own.full, own.half) {
                assert!(half.span.high <= full.span.high, "{id}: a half-full bottle outlives the full one");
            }
        }
        for (answered, what) in [(timed, "time"), (stock, "capacity"), (keeps, "keeping")] {
            if !answered {
                bare.push(format!("{id} {what}"));
            }
        }
    }
    assert!(told > 100, "{told}");
    assert_eq!(bare, STILL_NOT_KNOWN, "what a card still does not answer");
}

#[test]
fn a_time_by_rule_is_called_one_and_never_stands_beside_a_stated_time() {
    let by_rule = good(&["show", "mq-borax-75-sulfite"]).out;
    assert!(by_rule.contains("time, rule"), "{by_rule}");
    let stated = good(&["show", "metol-sulfite"]).out;
    assert!(!stated.contains("time, rule"), "{stated}");
}
