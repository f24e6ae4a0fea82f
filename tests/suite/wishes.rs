//! Formulas by wish, and what one would see, against what the trade says.

use crate::common::{good, soupcon};

const WISHES: &str = include_str!("../data/wishes.csv");
const PAIRS: &str = include_str!("../data/seen-pairs.csv");

fn rows(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).map(|line| line.split(';').collect())
}

#[test]
fn a_wish_brings_what_a_practitioner_would_look_for_among_the_first_five() {
    let mut told = 0;
    for row in rows(WISHES) {
        let mut arguments = vec!["list", "--json"];
        arguments.extend(row[0].split(' '));
        let json = good(&arguments).json();
        let first: Vec<&str> = json["formulas"]
            .as_array()
            .unwrap()
            .iter()
            .take(5)
            .map(|own| own["id"].as_str().unwrap())
            .collect();
        for wanted in row[1].split(',') {
            assert!(first.contains(&wanted), "{}: {wanted} is not among {first:?}", row[0]);
        }
        told += 1;
    }
    assert!(told >= 20, "{told}");
}

#[test]
fn what_one_would_see_is_what_the_trade_says() {
    let mut told = 0;
    for row in rows(PAIRS) {
        let json = good(&["compare", row[0], row[1], "--json"]).json();
        let seen = json["seen"].as_array().unwrap();
        let own = seen.iter().find(|own| own["quality"] == row[2]).unwrap_or_else(|| panic!("{row:?}"));
        let standing = own["standings"][0].as_str().unwrap();
        let right = match row[3] {
            "not_less" => ["more", "about_equal"].contains(&standing),
            wanted => wanted == standing,
        };
        assert!(right, "{row:?}: {standing}");
        told += 1;
    }
    assert!(told >= 20, "{told}");
}

#[test]
fn nothing_is_said_of_what_is_not_known_and_the_first_is_the_yardstick() {
    let json = good(&["compare", "mq-borax-classic", "plain-thiosulfate-fixer", "--json"]).json();
    assert_eq!(json["seen"].as_array().unwrap().len(), 0);
    let text = good(&["compare", "mq-borax-classic", "acutance-metol-iodide"]).out;
    let place = |word: &str| text.find(word).unwrap_or_else(|| panic!("{word}\n{text}"));
    assert!(place("WHAT YOU WOULD SEE") < place("GRAMS PER LITRE"));
    assert!(place("GRAMS PER LITRE") < place("MOLES PER LITRE"));
}

#[test]
fn a_partial_answer_is_told_as_one() {
    let ran = good(&["list", "sharper", "finer", "grain", "keeps", "long"]);
    assert!(ran.out.contains("No formula meets all three.") || ran.out.contains("ALL THREE"), "{}", ran.out);
    let ran = good(&["list", "sharper", "finer", "grain"]);
    assert!(ran.out.contains("ONE OF TWO"), "{}", ran.out);
}

#[test]
fn a_chemical_is_left_out_and_a_word_must_occur() {
    let json = good(&["list", "no", "hydroquinone", "--json"]).json();
    let ids: Vec<&str> =
        json["formulas"].as_array().unwrap().iter().map(|own| own["id"].as_str().unwrap()).collect();
    assert!(ids.contains(&"metol-sulfite") && !ids.contains(&"mq-borax-classic"));
    assert!(!ids.contains(&"plain-thiosulfate-fixer"), "a fixer never has it");
    let json = good(&["list", "borax", "fine", "grain", "no", "metol", "--json"]).json();
    for own in json["formulas"].as_array().unwrap() {
        let own = own["id"].as_str().unwrap();
        assert!(own.starts_with("pq-") || own.contains("phenidone"), "{own}");
    }
}

#[test]
fn no_likeness_of_sound_is_offered_and_other_wants_are_led_where_they_are_answered() {
    for word in ["sharper", "push", "beginner", "wetting", "rinse", "drying", "35mm"] {
        let ran = soupcon(&["list", word]);
        assert!(!ran.err.contains("did you mean"), "{word}: {}", ran.err);
    }
    for (word, told) in [
        ("rinse", "exposure wash"),
        ("tank", "dilute"),
        ("drying", "wetting bath"),
        ("wetting", "washing-aid"),
    ] {
        assert!(soupcon(&["list", word]).err.contains(told), "{word}");
    }
}

#[test]
fn the_list_says_what_leans_on_a_forum_and_what_is_recalled() {
    let out = good(&["list", "--kind", "fixer"]).out;
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("composition from a forum or hobby page"), "{out}");
    assert!(flat.contains("(from memory: check against a book)"), "{out}");
    assert!(!flat.contains("in doubt"), "{out}");
}
