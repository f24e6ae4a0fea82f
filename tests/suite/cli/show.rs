use super::*;

#[test]
fn the_card_reads_well_at_80_columns() {
    let ran = good(&["show", "mq-borax-bromide-80-sulfite"]);
    assert!(ran.out.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 80));
    insta::assert_snapshot!(ran.out);
}

#[test]
fn a_mistyped_id_gets_near_misses_and_is_not_corrected() {
    let ran = soupcon(&["show", "mq-borax-clasic"]);
    assert_eq!(ran.code, 2);
    assert!(ran.out.is_empty() && ran.err.contains("did you mean mq-borax-classic"), "{}", ran.err);
}

#[test]
fn a_formula_from_standard_input_is_the_same_as_from_its_file() {
    let folder = library(&[("own.toml", OWN)]);
    let path = folder.path().join("own.toml");
    let from_file = good(&["scale", path.to_str().unwrap(), "1L", "--json"]).json();
    let from_input = soupcon_with_input(&["scale", "-", "1L", "--json"], OWN.as_bytes()).json();
    assert_eq!(from_file["parts"], from_input["parts"]);
}
