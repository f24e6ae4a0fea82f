use super::*;

const JARS: &str = "format = 1\nhave = [\"metol=12g\", \"sodium-sulfite-heptahydrate\", \"borax-pentahydrate=500g\", \"potassium-bromide\"]\n";

#[test]
fn its_forms_are_taken_and_what_it_lacks_is_told() {
    let folder = library(&[("shelf.toml", JARS)]);
    let file = folder.path().join("shelf.toml");
    let shelf = ["--shelf", file.to_str().unwrap()];
    let ran = good(&[&["scale", "mq-borax-classic", "1L"], &shelf[..]].concat());
    // 252.150 / 126.043 and 291.296 / 381.372, molmass 2026.1.8.
    assert!(ran.out.contains("200.1 g  sodium sulfite, crystals (heptahydrate)"), "{}", ran.out);
    assert!(ran.out.contains("1.5 g  borax, pentahydrate"), "{}", ran.out);
    assert_eq!(ran.err, "note: not on the shelf: hydroquinone; you cannot mix this yet\n");

    // An option goes before the file.
    let named = ["scale", "mq-borax-classic", "1L", "--have", "sodium-sulfite-anhydrous"];
    let ran = good(&[&named, &shelf[..]].concat());
    assert!(ran.out.contains("100.0 g  sodium sulfite, anhydrous"), "{}", ran.out);

    // Paper says what is not there, for the note is gone by then; the answer is no.
    let sheet = [&["sheet", "mq-borax-classic", "1L"], &shelf[..]].concat();
    let ran = soupcon(&sheet);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.out.contains("SULFITE, heptahydrate"), "{}", ran.out);
    assert!(ran.out.contains("NOT ON THE SHELF: hydroquinone"), "{}", ran.out);
    let json = soupcon(&[&sheet[..], &["--json"]].concat());
    assert_eq!((json.code, json.json()["missing"][0]["substance"].as_str()), (1, Some("hydroquinone")));

    assert_eq!(json.json()["missing"][0]["needed_g"], 5.0);
    let page = folder.path().join("page.html");
    let written = ["--format", "html", "-o", page.to_str().unwrap()];
    assert_eq!(soupcon(&[&sheet[..], &written].concat()).code, 1);
    assert!(std::fs::read_to_string(page).unwrap().contains("NOT ON THE SHELF: hydroquinone"));
}

#[test]
fn a_jar_that_would_run_out_stops_the_batch_and_sets_the_largest() {
    let folder = library(&[("shelf.toml", JARS)]);
    let file = folder.path().join("shelf.toml");
    let shelf = ["--shelf", file.to_str().unwrap()];
    let ran = soupcon(&[&["scale", "mq-borax-classic", "8L"], &shelf[..]].concat());
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("metol: this batch needs 16 g; you have 12 g, enough for 6000 mL"),
        "{}",
        ran.err
    );
    let ran = good(&[&["scale", "mq-borax-classic"], &shelf[..]].concat());
    assert!(ran.out.contains("12.0 g  metol"), "{}", ran.out);
}

#[test]
fn a_file_that_is_not_there_is_told_with_the_command_that_starts_one() {
    for command in [&["scale", "mq-borax-classic", "1L"][..], &["list", "--can-make"]] {
        let ran = soupcon(&[command, &["--shelf", "no-such-shelf.toml"]].concat());
        assert_eq!(ran.code, 2);
        assert!(
            ran.err.contains("no-such-shelf.toml") && ran.err.contains("soupcon new shelf"),
            "{}",
            ran.err
        );
    }
}
