//! Wishes in everyday words: what is denied, stepped over, left out, and told beside the answer. Expectations: common practice, no source.

use crate::common::{good, soupcon};

fn listed(typed: &str) -> (Vec<String>, serde_json::Value) {
    let mut arguments = vec!["list", "--json", "--most", "200"];
    arguments.extend(typed.split(' '));
    let json = good(&arguments).json();
    let ids = json["formulas"].as_array().unwrap().iter().map(|own| own["id"].as_str().unwrap().to_owned());
    (ids.collect(), json)
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_is_denied_is_not_among_the_answers() {
    for (typed, absent) in [
        ("no staining", "pyrocatechol-phenidone-carbonate-staining"),
        ("not one-shot", "p-aminophenol-potassium-hydroxide-concentrate"),
        ("less speed", "mpq-borax-speed"),
        ("no sepia", "sulfide-sepia-bleach-redevelop-toner"),
        ("keeps short", "p-aminophenol-potassium-hydroxide-concentrate"),
        ("no hardener", "acid-hardening-alum-boric-fixer"),
        ("low contrast", "lith-paraformaldehyde"),
        ("keeps long", "lith-paraformaldehyde"),
        ("sepia", "gold-acetate-thiocyanate-toner"),
        ("few chemicals paper developer", "kallitype-rochelle-borax-developer"),
        ("few chemicals paper developer", "platinum-oxalate-phosphate-developer"),
    ] {
        let (ids, _) = listed(typed);
        assert!(!ids.is_empty() && !ids.iter().any(|own| own == absent), "{typed}: {ids:?}");
    }
}

#[test]
fn what_is_labelled_toxic_in_any_part_is_not_without_poisons() {
    for typed in ["non toxic", "without poisons", "poison free"] {
        let mut arguments = vec!["list", "--most", "200", "--json"];
        arguments.extend(typed.split(' '));
        arguments.push("developer");
        let json = good(&arguments).json();
        let ids: Vec<&str> =
            json["formulas"].as_array().unwrap().iter().map(|own| own["id"].as_str().unwrap()).collect();
        for absent in [
            "platinum-oxalate-phosphate-developer",
            "two-solution-variable-contrast-paper-developer",
            "dimezone-s-ascorbate-metaborate-45-sulfite",
            "ppd-sulfite",
        ] {
            assert!(!ids.contains(&absent), "{typed}: {absent}");
        }
        assert!(ids.contains(&"phenidone-ascorbate-tea-concentrate"), "{typed}: {ids:?}");
    }
}

#[test]
fn a_word_that_no_answer_is_called_by_is_left_out_and_said_so() {
    let ran = good(&["list", "fine", "grane"]);
    let told = flat(&ran.out);
    assert!(
        told.contains("meet finer grain; none is called by the word `grane`: left out; did you mean grain?"),
        "{told}"
    );
    let (ids, json) = listed("borax fine grain");
    assert_eq!(json["words"][0], "borax");
    assert!(ids.contains(&"mq-borax-classic".to_owned()) && !ids.contains(&"metol-sulfite".to_owned()));
    // A word out of a caution speaks for nothing: the skin that an agent harms.
    let (_, plain) = listed("fine grain");
    let (_, json) = listed("smooth skin");
    assert_eq!(json["found"], plain["found"]);
    let told = good(&["list", "no", "colour", "fine", "grain"]).out;
    assert!(told.contains("`no colour` is not understood"), "{told}");
}

#[test]
fn two_wishes_that_two_uses_grant_are_told_apart() {
    let out = good(&["list", "fine", "grain", "one-shot"]).out;
    assert!(out.contains("BUT EACH IN ANOTHER USE"), "{out}");
    let (_, json) = listed("fine grain one-shot");
    let own =
        json["formulas"].as_array().unwrap().iter().find(|own| own["id"] == "mq-borax-classic").unwrap();
    assert_eq!(own["apart"][0], "undiluted");
}

#[test]
fn a_reason_stays_with_its_wish_and_a_price_is_told() {
    let out = flat(&good(&["list", "sharp", "fine", "grain", "--most", "100"]).out);
    assert!(!out.contains("to weigh)"), "{out}");
    let out = flat(&good(&["list", "finer", "grain"]).out);
    assert!(out.contains("strong sensitiser of the skin") && out.contains("dichroically"), "{out}");
    let out = flat(&good(&["list", "for", "beginners", "--most", "100"]).out);
    assert!(!out.contains("mq-metaborate-100-sulfite"), "no borax in it: {out}");
}

#[test]
fn bare_kinds_are_understood_in_the_plural() {
    for (typed, wanted) in [
        ("fixers", "plain-thiosulfate-fixer"),
        ("toners", "copper-red-toner"),
        ("monobaths", "monobath-pq-thiosulfate"),
        ("stand development", "p-aminophenol-potassium-hydroxide-concentrate"),
    ] {
        let (ids, _) = listed(typed);
        assert!(ids.iter().any(|own| own == wanted), "{typed}: {ids:?}");
    }
}

#[test]
fn what_is_no_wish_of_chemistry_or_not_known_is_said_to_be_so() {
    for (typed, told) in [
        ("portrait", "light and lens"),
        ("landscape", "finer grain"),
        ("archival", "washing"),
        ("cheap", "not known"),
        ("toxic", "list without poisons"),
    ] {
        let ran = soupcon(&["list", typed]);
        assert!(ran.err.contains(told) && !ran.err.contains("did you mean"), "{typed}: {}", ran.err);
    }
    for line in soupcon(&["list", "xylophone"]).err.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn a_card_gives_the_keeping_of_ascorbate_the_right_direction() {
    let card = flat(&good(&["show", "phenidone-ascorbate-metaborate-60-sulfite"]).out);
    assert!(card.contains("shorter: ascorbate is exhausted sooner"), "{card}");
    assert!(!card.contains("no alkali but sulfite"), "{card}");
}
