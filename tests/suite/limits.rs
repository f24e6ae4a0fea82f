//! What is more, longer or less visible than anybody writes down is refused, at once and in words.

use std::time::{Duration, Instant};

use crate::common::{Ran, good, soupcon, soupcon_with_input};

const HEAD: &str =
    "format = 1\ntitle = \"T\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n";
const METOL: &str = "[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n";

/// The commands that took minutes, each on the same formula.
fn all_on(text: &str) -> Vec<Ran> {
    [&["safety", "-"][..], &["sheet", "-", "1L"], &["label", "-", "1L"], &["predict", "-"], &["show", "-"]]
        .iter()
        .map(|arguments| {
            let started = Instant::now();
            let ran = soupcon_with_input(arguments, text.as_bytes());
            // In an unoptimised build on a busy machine.
            assert!(started.elapsed() < Duration::from_secs(20), "{arguments:?}: {:?}", started.elapsed());
            ran
        })
        .collect()
}

fn refused(text: &str, words: &str) {
    for ran in all_on(text) {
        assert_eq!(ran.code, 2, "{}", ran.whole());
        assert!(ran.err.contains(words), "{words}: {}", ran.err);
    }
}

#[test]
fn more_than_is_looked_at_is_refused() {
    let part = |name: usize| {
        format!("[[parts]]\nname = \"P{name}\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\n")
    };
    let parts = |count: usize| HEAD.to_owned() + &(0..count).map(part).collect::<String>();
    refused(
        &parts(27),
        "27 parts, where 26 are the most that this program looks at\n  fix: write several formulas",
    );
    assert_eq!(soupcon_with_input(&["scale", "-", "1L"], parts(26).as_bytes()).code, 0);
    let baths = |count: usize| {
        let baths = vec!["{ stock = 1 }"; count].join(", ");
        format!("{HEAD}{METOL}[[use]]\nname = \"film\"\nbaths = [{baths}]\n")
    };
    refused(&baths(21), "standard input:9: 21 baths in one use, where 20 are the most");
    assert_eq!(soupcon_with_input(&["safety", "-"], baths(20).as_bytes()).code, 0);
    let ingredients = HEAD.to_owned() + &METOL.repeat(61);
    refused(&ingredients, "standard input:6: 61 ingredients in one part, where 60 are the most");
    let uses = format!("{HEAD}{METOL}") + &"[[use]]\nname = \"a\"\nbaths = [{ stock = 1 }]\n".repeat(41);
    refused(&uses, "41 ways of use, where 40 are the most");
    let wide = |key: &str, count: usize| {
        let list: Vec<String> = (0..count).map(|number| format!("\"x{number}\"")).collect();
        format!("{HEAD}{key} = [{}]\n{METOL}", list.join(", "))
    };
    refused(&wide("aliases", 20_000), "20000 aliases, where 40 are the most");
    refused(&wide("cautions", 5000), "5000 cautions, where 40 are the most");
    let ran = soupcon(&[&["safety"][..], &["mq-borax-classic"; 21]].concat());
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("21 baths, where 20 are the most that are looked at at once"), "{}", ran.err);
    good(&[&["safety"][..], &["mq-borax-classic"; 20]].concat());
}

#[test]
fn texts_longer_than_a_page_are_refused() {
    let title = HEAD.replace("\"T\"", &format!("\"{}\"", "T".repeat(201))) + METOL;
    refused(&title, "standard input:2: 201 letters in the title, where 200 are the most");
    let note = format!("{HEAD}note = \"{}\"\n{METOL}", "n".repeat(2001));
    refused(
        &note,
        "2001 letters in one text, where 2000 are the most that this program looks at\n  fix: say it shorter",
    );
    let until = format!("{HEAD}{METOL}until = \"{}\"\n", "u".repeat(90_000));
    refused(&until, "90000 letters in one text");
    // What is the user's own is never read.
    let own = format!("{HEAD}{METOL}[own]\nlog = \"{}\"\n", "o".repeat(5000));
    assert_eq!(soupcon_with_input(&["sheet", "-", "1L"], own.as_bytes()).code, 0);
}

#[test]
fn parts_are_told_apart_by_plain_letters() {
    for name in ["А", "Ａ", "A\u{301}", "A/B", "Å"] {
        let text = format!(
            "{HEAD}[[parts]]\nname = \"{name}\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\n"
        );
        let ran = soupcon_with_input(&["label", "-", "1L"], text.as_bytes());
        assert_eq!(ran.code, 2, "{name}: {}", ran.whole());
        let words = "cannot be the name of a part\n  fix: write it with A-Z, a-z, 0-9, spaces and hyphens";
        assert!(ran.err.contains(words), "{name}: {}", ran.err);
    }
}

/// What is there and not seen, in any text of a file, raw or escaped.
#[test]
fn letters_that_nobody_sees_are_refused_in_any_text() {
    let unseen = [
        0x200c, 0x200d, 0x34f, 0x115f, 0x1160, 0x17b4, 0x17b5, 0x180b, 0x180d, 0x180f, 0x3164, 0xffa0,
        0xfe00, 0xfe0f, 0x2800, 0x1d173, 0x1d17a, 0x13430, 0x13438, 0x1bca0, 0x1bca3, 0xe000, 0xf0000,
        0xffff, 0xfdd0, 0x1fffe,
    ];
    for code in unseen {
        let letter = char::from_u32(code).unwrap();
        for written in [letter.to_string(), format!("\\U{code:08X}")] {
            for place in [
                format!("{}{METOL}", HEAD.replace("\"T\"", &format!("\"T{written}\""))),
                format!("{HEAD}{METOL}note = \"x{written}\"\n"),
            ] {
                let ran = soupcon_with_input(&["scale", "-", "1L"], place.as_bytes());
                assert_eq!(ran.code, 2, "U+{code:04X}: {}", ran.whole());
                assert!(ran.err.contains(&format!("U+{code:04X}")), "{}", ran.err);
            }
        }
    }
    // Letters of any script, figures below the line and signs are seen.
    let text = HEAD.replace("\"T\"", "\"Entwickler für µ, Na₂SO₃, проявитель, 現像液 §\"") + METOL;
    assert_eq!(soupcon_with_input(&["scale", "-", "1L"], text.as_bytes()).code, 0);
}
