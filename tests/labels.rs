//! Bottle labels: what they say, what they refuse, and that they say no more and no less than the bath's own hazards.
#![allow(clippy::restriction, reason = "a panic is how a test fails")]

mod common;

use common::{good, soupcon, soupcon_with_input};
use soupcon::label::labels;
use soupcon::label::sheets::LabelSheets;
use soupcon::library::Library;
use soupcon::quantity::Volume;
use soupcon::render::label::{check, label_document};
use soupcon::safety::SafetyData;
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Request, scale};
use soupcon::sheet::sheet;
use soupcon::solution::Equilibria;

#[test]
fn the_labels_of_a_two_part_developer_as_text() {
    insta::assert_snapshot!(good(&["label", "pyro-soda-tank", "500ml", "--mixed", "2026-11-25"]).out);
}

#[test]
fn a_label_has_the_hazards_of_the_bath_not_of_the_powders() {
    let json = good(&["label", "mq-borax-classic", "1L", "--json"]).json();
    let label = &json["labels"][0];
    let codes: Vec<&str> =
        label["statements"].as_array().unwrap().iter().map(|own| own["code"].as_str().unwrap()).collect();
    // The jars of metol, hydroquinone and borax say all of these; 2 to 5 g of each in a litre do not.
    for powder in ["H302", "H318", "H341", "H351", "H360FD", "H400", "H410"] {
        assert!(!codes.contains(&powder), "{powder} in {codes:?}");
    }
    assert!(codes.contains(&"EUH208") && label["signal_word"].is_null());
    assert_eq!(label["pictograms"].as_array().unwrap().len(), 0);
    assert_eq!((label["is_legal_label"].as_bool(), json["schema_version"].as_i64()), (Some(false), Some(1)));
    let caustic = "pyrocatechol-hydroxide-compensating";
    let corrosive = good(&["label", caustic, "500ml", "--part", "b", "--json"]).json();
    assert_eq!(corrosive["labels"].as_array().unwrap().len(), 1);
    assert_eq!(corrosive["labels"][0]["pictograms"][0], "corrosion");
    assert_eq!(corrosive["labels"][0]["signal_word"], "Danger");
}

#[test]
fn a_label_too_small_is_refused_with_the_size_that_is_not() {
    let ran = soupcon(&["label", "pyro-soda-tank", "500ml", "--sheet", "63.5x38.1"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.is_empty() && ran.err.contains("52 × 74 mm"), "{}", ran.err);
    assert!(ran.err.contains("use --sheet 99.1x67.7"), "{}", ran.err);
    let ran = soupcon(&["label", "pyro-soda-tank", "5L", "--sheet", "99.1x67.7"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("74 × 105 mm") && ran.err.contains("no sheet in the table"), "{}", ran.err);
    let ran = soupcon(&["label", "dichromate-sulfuric-reversal-bleach", "1L", "--sheet", "99.1x67.7"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("mm high"), "{}", ran.err);
    let ran = soupcon(&["label", "sulfite-bisulfite-washing-aid", "1L", "--sheet", "63.5 x 38.1 mm"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
}

#[test]
fn mistakes_are_told_with_the_way_out() {
    for (arguments, words) in [
        (&["label", "mq-borax-classic", "1L", "--mixed", "2026-02-29"][..], "write it as 2026-11-25"),
        (&["label", "mq-borax-classic", "1L", "--mixed", "yesterday"], "write it as 2026-11-25"),
        (&["label", "mq-borax-classic", "1L", "--part", "A"], "it has one part"),
        (&["label", "pyro-soda-tank", "1L", "--part", "C"], "its parts are A, B"),
        (&["label", "mq-borax-classic", "1L", "--sheet", "10x10"], "63.5x38.1, 66.7x25.4, 99.1x67.7"),
        (&["label", "mq-borax-classic", "1L", "--sheet", "99.1x67.7", "--start", "9"], "1 to 8"),
        (&["label", "mq-borax-classic", "1L", "--sheet", "99.1x67.7", "--shift", "1"], "0.5mm,-1mm"),
        (&["label", "mq-borax-classic", "1"], "every volume carries its unit"),
    ] {
        let ran = soupcon(arguments);
        assert_eq!(ran.code, 2, "{arguments:?}: {}", ran.whole());
        assert!(ran.err.contains(words), "{arguments:?}: {}", ran.err);
    }
}

#[test]
fn labels_begin_where_asked_and_go_on_on_the_next_sheet() {
    let page = |start: &str| {
        let arguments = [
            "label",
            "pyro-soda-tank",
            "500ml",
            "--sheet",
            "99.1x67.7",
            "--format",
            "html",
            "--start",
            start,
        ];
        good(&arguments).out
    };
    // Source: the geometry of tables/label-sheets.toml: left 4.65, step 101.6; top 13.1, step 67.7.
    let third = page("3");
    assert!(third.contains("left:4.65mm;top:80.80mm") && third.contains("left:106.25mm;top:80.80mm"));
    let last = page("8");
    assert_eq!(last.matches("<section").count(), 2);
    assert!(last.contains("left:106.25mm;top:216.20mm") && last.contains("left:4.65mm;top:13.10mm"));
    for html in [third, last] {
        for outside in ["<script", "http", "url(", "<img", "<link"] {
            assert!(!html.contains(outside), "{outside}");
        }
    }
}

#[test]
fn a_day_of_mixing_gives_the_day_to_which_a_full_bottle_keeps() {
    // 180 days from 25 November 2026, by the calendar.
    let json = good(&["label", "mq-borax-classic", "1L", "--mixed", "2026-11-25", "--json"]).json();
    let label = &json["labels"][0];
    assert_eq!(
        (label["mixed"].as_str(), label["good_until"].as_str()),
        (Some("2026-11-25"), Some("2027-05-24"))
    );
    let json = good(&["label", "mq-borax-classic", "1L", "--json"]).json();
    assert!(json["labels"][0]["good_until"].is_null() && json["labels"][0]["mixed"].is_null());
}

#[test]
fn hostile_text_is_harmless_on_a_label() {
    let formula = "format = 1\ntitle = \"<script>x</script> \\\"&\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n\n[[ingredients]]\nsubstance = \"sodium-thiosulfate-pentahydrate\"\ngrams = 240\n\n[keeping]\nnote = \"<img src=x>\"\n";
    for sheet in [&[][..], &["--sheet", "99.1x67.7"]] {
        let mut arguments = vec!["label", "-", "1L", "--format", "html"];
        arguments.extend(sheet);
        let ran = soupcon_with_input(&arguments, formula.as_bytes());
        assert_eq!(ran.code, 0, "{}", ran.whole());
        assert!(!ran.out.contains("<script") && !ran.out.contains("<img"));
        assert!(ran.out.contains("&lt;script&gt;x&lt;/script&gt; &quot;&amp;"));
    }
}

/// Over the shipped library: every statement of the bath stands on the label, and a label that has room is as large as the rules ask.
#[test]
fn every_formula_with_a_sheet_has_labels() {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let safety =
        SafetyData::parse(table("statements.toml"), table("combinations.toml"), table("precautions.toml"))
            .unwrap();
    let relations = Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap();
    let equilibria = Equilibria::parse(table("equilibria.toml")).unwrap();
    let sheets = LabelSheets::parse(table("label-sheets.toml"), "label-sheets.toml").unwrap();
    let (found, _) = library.formulas().unwrap();
    let mut seen = 0;
    for formula in found.iter().map(|found| &found.formula) {
        let Ok(batch) = scale(formula, &Request::volume(Volume::from_ml(1000.0)), &relations) else {
            continue;
        };
        let Ok(mixing) = sheet(formula, &batch, &safety, &equilibria) else { continue };
        for (label, part) in labels(&mixing, None, None).unwrap().iter().zip(&mixing.parts) {
            assert_eq!(label.hazards, part.bath, "{}", formula.id);
            let text = format!("{:?}", label_document(std::slice::from_ref(label), &sheets));
            for statement in &part.bath.statements {
                assert!(text.contains(&statement.code), "{}: {} is lost", formula.id, statement.code);
            }
            for other in &part.never_beside {
                assert!(text.contains(&other.replace('"', "\\\"")), "{}: {other} is lost", formula.id);
            }
            for caution in &formula.cautions {
                assert!(text.contains(&caution.replace('"', "\\\"")), "{}: {caution} is lost", formula.id);
            }
            for size in &sheets.sheets {
                let rule = sheets.smallest_for(label.volume).unwrap();
                if let (Ok(layout), true) = (check(label, size, &sheets), label.is_classified()) {
                    assert!(rule.allows(size.width, size.height), "{} on {}", formula.id, size.size);
                    assert!(layout.type_pt >= rule.type_pt() && layout.height_mm <= size.height);
                }
            }
            seen += 1;
        }
    }
    assert!(seen > 200, "only {seen} labels");
}
