//! Fixers and stop baths: clearing test, silver, acid.

use super::*;

#[test]
fn a_clearing_test_goes_before_the_count() {
    let room = Darkroom::new();
    room.add("mixed thiosulfate-bisulfite-acid-fixer-250 1L --bottle F1 --date 2026-11-01");
    room.add("measured --clearing 45s --bottle F1 --date 2026-11-01");
    room.add("developed 8min --film x --formula mq-borax-classic --bottle F1 --films 2x135 --tank 500ml --date 2026-11-02");
    room.add("measured --clearing 1:40 --bottle F1 --date 2026-11-03");
    // EV-F1: 1:40 twice is 3:20; and the bath is spent, as 100 s are more than twice 45 s.
    let json = room.bottle("F1", "2026-11-03");
    assert_abs_diff_eq!(figure(&json, "fix_s"), 200.0, epsilon = 1e-9);
    room.add("measured --clearing 92s --bottle F1 --date 2026-11-04");
    let ran = room.run("bottles F1 --date 2026-11-04");
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    // EV-F2: spent: clearing time has doubled.
    assert!(words.to_lowercase().contains("spent: clearing time has doubled"), "{words}");
    assert_eq!(ran.code, 1);
    room.add("measured --clearing 89s --bottle F1 --date 2026-11-05");
    let ran = room.run("bottles F1 --date 2026-11-05");
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(ran.out.contains("2:58"), "{}", ran.out);
}

#[test]
fn silver_follows_from_coating_and_area() {
    let one = silver_mg_per_film(4.0, 0.75);
    assert_case("EV-F3", one);
    assert_case("EV-F4", films_per_litre(2.0, one));
    // Table of the same balance: 10 films at 3 and 6 g/m² bring 1.16 and 2.32 g into a litre.
    let room = Darkroom::new();
    room.add("mixed plain-thiosulfate-fixer 1L --bottle F1 --date 2026-11-01");
    room.add("developed 8min --film x --formula mq-borax-classic --bottle F1 --films 10films --tank 500ml --date 2026-11-02");
    let json = room.bottle("F1", "2026-11-03");
    assert_abs_diff_eq!(figure(&json, "silver_g_per_litre_low"), 1.16, epsilon = 0.005);
    assert_abs_diff_eq!(figure(&json, "silver_g_per_litre_high"), 2.32, epsilon = 0.005);
}

#[test]
fn a_fixer_has_two_figures_and_counts_paper_by_itself() {
    let room = Darkroom::new();
    room.add("mixed thiosulfate-bisulfite-acid-fixer-250 1L --bottle F1 --date 2026-11-01");
    room.add("developed 8min --film x --formula mq-borax-classic --bottle F1 --films 5x135,4x8x10in --tank 500ml --date 2026-11-02");
    let json = room.bottle("F1", "2026-11-03");
    assert_case("EV-F5", figure(&json, "films_left"));
    assert_eq!(json["films_basis"], "rule");
    assert_abs_diff_eq!(figure(&json, "films_left_low"), 1.0, epsilon = 1e-9);
    room.add("printed --sheets 30x8x10in --bottle F1 --date 2026-11-03");
    let after = room.bottle("F1", "2026-11-03");
    assert_eq!(after["films_left"], json["films_left"]);
    let advice = after["advice"].as_str().unwrap();
    for word in [
        "asting: 1 left of 10",
        "ordinary: 11 of 20",
        "Paper counts by itself: 30 sheets",
        "learing test first",
    ] {
        assert!(advice.contains(word), "{word} in {advice}");
    }
    // Far beyond both figures, a rule alone still never throws it out.
    room.add("count 60 --bottle F1 --date 2026-11-04");
    let ran = room.run("bottles --date 2026-11-05");
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(!ran.out.contains("OUT") && ran.out.contains("TEST"), "{}", ran.out);
}

#[test]
fn a_stop_bath_goes_by_its_acid() {
    let room = Darkroom::new();
    let stop = room.file(
        "stop.toml",
        "format = 1\ntitle = \"A stop bath of a test\"\nkind = \"stop-bath\"\nsummary = \"For a test.\"\nevidence = \"memory\"\n\
         [[ingredients]]\nsubstance = \"acetic-acid\"\ngrams = 15\n",
    );
    let json = room.run_words(&["show", &stop, "--json"]).json();
    let range = &json["rules"]["films_per_litre"];
    assert_case("EV-P1", range[0].as_f64().unwrap());
    // Half the carry-over, twice the films.
    assert_abs_diff_eq!(range[1].as_f64().unwrap(), 2.0 * range[0].as_f64().unwrap(), epsilon = 1e-9);
}
