use super::*;

#[test]
fn the_sheet_of_a_real_developer_at_80_columns() {
    let ran = good(&["sheet", "mq-borax-bromide-80-sulfite", "500ml"]);
    assert!(ran.out.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 80));
    insta::assert_snapshot!(ran.out);
}

#[test]
fn the_sheet_of_a_two_part_developer_and_of_a_fixer() {
    insta::assert_snapshot!(good(&["sheet", "pyro-metol-metaborate-staining", "500ml"]).out);
    insta::assert_snapshot!("fixer", good(&["sheet", "acid-hardening-alum-boric-fixer", "2L"]).out);
}

#[test]
fn percent_solutions_are_made_first_and_have_their_bottles() {
    let out = good(&["sheet", "pq-borax-buffered", "500ml", "--side", "both"]).out;
    let joined = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "syringe or pipette, thermometer",
        "a bottle for each percent solution (potassium bromide, 10 % w/v; phenidone, 1 % w/v), propylene glycol.",
        "[ ] 5.0 g potassium bromide [ ] to 50 mL with water;",
        "[ ] 1.0 g phenidone [ ] to 100 mL with propylene glycol;",
        // Half of 0.1 g over 0.5 g and over 0.1 g.
        "0.5 g is too little for a 0.1 g balance (± 10 %; a restrainer needs ± 2 %)",
        "0.1 g is too little for a 0.1 g balance (± 50 %; a weighing needs ± 5 %)",
    ] {
        assert!(joined.contains(words), "{words}: {out}");
    }
    // The row says whence it comes.
    assert!(joined.contains("5 mL POTASSIUM BROMIDE, 10 %"), "{out}");
    assert!(joined.contains("your own solution (see reasons)"), "{out}");
    // Bromide in two parts is one bottle, with enough in it for both.
    let two = TWO_PARTS_WITH_BROMIDE.as_bytes();
    let ran = soupcon_with_input(&["sheet", "-", "1L", "--side", "both"], two);
    assert_eq!(ran.out.matches("potassium bromide, 10 % w/v)").count(), 1, "{}", ran.whole());
    assert_eq!(ran.out.matches("to 100 mL").count(), 1, "60 mL are needed: {}", ran.out);
    assert!(ran.out.contains("a clean bottle for each part (A, B)"), "{}", ran.out);
    assert_eq!(ran.out.matches("PART B: rinse vessel and stirrer first").count(), 1, "{}", ran.out);
}

/// Each part measures bromide out of the same percent solution.
const TWO_PARTS_WITH_BROMIDE: &str = r#"
format = 1
title = "two parts with bromide"
kind = "film-developer"
summary = "For a test."
evidence = "memory"

[[parts]]
name = "A"
[[parts.ingredients]]
substance = "potassium-bromide"
millilitres = 30
strength = "10 % w/v"

[[parts]]
name = "B"
[[parts.ingredients]]
substance = "potassium-bromide"
millilitres = 30
strength = "10 % w/v"
"#;

#[test]
fn a_strong_acid_goes_into_the_water_of_its_percent_solution() {
    let out = good(&["sheet", "permanganate-persulfate-proportional-reducer", "1L", "--side", "reasons"]).out;
    let joined = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(joined.contains("sulfuric acid, concentrated: slowly into most of the water, COLD"), "{out}");
    assert!(joined.contains("Write on its bottle: sulfuric acid, 10 % v/v"), "{out}");
}

#[test]
fn a_batch_too_small_to_mix_is_told_first_with_the_least_that_is_not() {
    // A balance of 0.1 g weighs 1 g to 5 %: 2 g/L of metol from 500 mL on.
    let ran = good(&["sheet", "mq-borax-classic", "1ml"]);
    let (told, begin) = (ran.out.find("DO NOT MIX THIS BATCH"), ran.out.find("WEAR"));
    assert!(told.is_some() && told < begin, "{}", ran.out);
    assert!(ran.out.contains("Mix 500 mL or more.") && ran.err.contains("Mix 500 mL or more."), "{ran:?}");
    assert!(!ran.out.contains("0.00 mL"), "{}", ran.out);
    let json = good(&["sheet", "mq-borax-classic", "1ml", "--json"]).json();
    assert!(json["safety"][0].as_str().unwrap().contains("cannot be mixed"));
    // What is advised can be mixed; bromide is then measured from its solution.
    for (formula, least) in [("mq-borax-classic", "500ml"), ("mq-borax-bromide-80-sulfite", "700ml")] {
        let out = good(&["sheet", formula, least]).out;
        assert!(!out.contains("DO NOT MIX") && !out.contains("on this balance"), "{out}");
    }
    let ran = good(&["sheet", "mq-borax-bromide-80-sulfite", "1ml"]);
    assert!(ran.err.contains("Mix 700 mL or more."), "{}", ran.err);
}

#[test]
fn another_way_of_mixing_stands_at_the_end_and_never_above_the_steps() {
    let out = good(&["sheet", "mq-borax-classic", "1L", "--side", "both"]).out;
    let way = out.find("NOT followed here").unwrap();
    assert!(way > out.find("WHY, BY STEP").unwrap() && !out[..way].contains("three vessels"), "{out}");
}

#[test]
fn the_sheet_as_markdown() {
    insta::assert_snapshot!(good(&["sheet", "citric-acid-stop-bath", "1L", "--format", "markdown"]).out);
}

#[test]
fn narrow_and_ascii_sheets_keep_every_word() {
    let narrow =
        command(&["sheet", "mq-borax-classic", "500ml", "--ascii"]).env("COLUMNS", "40").output().unwrap();
    let text = String::from_utf8(narrow.stdout).unwrap();
    assert!(text.is_ascii());
    assert!(text.lines().all(|line| line.len() <= 44), "{text}");
    assert!(text.contains("50 deg C"));
}

#[test]
fn a_file_is_written_whole_and_never_over_another_without_force() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheet.md");
    let path = path.to_str().unwrap();
    let write = |extra: &[&str]| {
        let mut all = vec!["sheet", "mq-borax-classic", "500ml", "--format", "markdown", "-o", path];
        all.extend(extra);
        soupcon(&all)
    };
    assert_eq!(write(&[]).code, 0);
    assert!(fs::read_to_string(path).unwrap().starts_with("# "));
    let again = write(&[]);
    assert_eq!(again.code, 1);
    assert!(again.err.contains("--force"));
    assert_eq!(write(&["--force"]).code, 0);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "a temporary file was left");
}

#[test]
fn hostile_text_is_inert_in_every_format() {
    let hostile = OWN
        .replace("My weekend developer", "<script>alert(1)</script> & *bold* [x](y)")
        .replace("Ours.", "| pipe | `code` <b>");
    for format in ["text", "markdown", "html", "json"] {
        let ran = soupcon_with_input(&["sheet", "-", "1L", "--format", format], hostile.as_bytes());
        assert_eq!(ran.code, 0, "{}", ran.whole());
        assert!(ran.out.chars().all(|letter| letter == '\n' || !letter.is_control()));
        if format == "html" {
            assert!(!ran.out.contains("<script") && ran.out.contains("&lt;script&gt;"));
        }
        if format == "markdown" {
            assert!(!ran.out.contains("<script"));
        }
    }
}
