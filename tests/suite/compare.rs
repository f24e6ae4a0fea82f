//! Comparing, finding the nearest, what the shelf allows, and judging files: the program as a user runs it.

use std::fs;
use std::path::Path;

use crate::common::{good, soupcon, soupcon_in};

fn folder() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn two_of_a_family_side_by_side() {
    insta::assert_snapshot!(good(&["compare", "metol-sulfite", "metol-sulfite-chloride"]).out);
}

#[test]
fn a_two_bath_developer_has_a_column_for_each_bath() {
    insta::assert_snapshot!(good(&["compare", "metol-sulfite", "two-bath-metol-sulfite-borax"]).out);
}

#[test]
fn compare_as_json_has_rows_figures_and_differences() {
    let json = good(&["compare", "mq-borax-classic", "mq-borax-bromide-80-sulfite", "--json"]).json();
    assert_eq!(json["schema_version"], 1);
    assert_eq!(json["shown"], "as bottled");
    assert_eq!(json["formulas"][1]["id"], "mq-borax-bromide-80-sulfite");
    let rows = json["rows"].as_array().unwrap();
    let row = |id: &str| rows.iter().find(|row| row["substance"] == id).unwrap();
    assert_eq!(row("sodium-sulfite-anhydrous")["cells"][1]["grams_per_litre"], 80.0);
    assert!(row("potassium-bromide")["cells"][0].is_null());
    let ratio = json["measures"]
        .as_array()
        .unwrap()
        .iter()
        .find(|own| own["key"] == "metol_to_hydroquinone")
        .unwrap();
    assert_eq!(ratio["values"][0], 2.5);
    assert_eq!(json["only_in"][0]["substance"], "potassium-bromide");
    for difference in json["differences"].as_array().unwrap() {
        assert!(!difference["text"].as_str().unwrap().is_empty());
        assert!(!difference["reason"].as_str().unwrap().is_empty());
    }
    // The pH is predicted, with its error.
    assert!((7.5..9.5).contains(&json["columns"][0]["ph"].as_f64().unwrap()));
    assert!(json["columns"][0]["ph_error"].as_f64().unwrap() > 0.0);
}

#[test]
fn one_formula_or_seven_are_refused_as_a_wrong_request() {
    for arguments in [vec!["compare", "metol-sulfite"], {
        let mut seven = vec!["compare"];
        seven.extend(["metol-sulfite"; 7]);
        seven
    }] {
        let ran = soupcon(&arguments);
        assert_eq!(ran.code, 2, "{}", ran.whole());
        assert!(ran.err.contains("2 to 6 formulas"), "{}", ran.err);
    }
    assert_eq!(soupcon(&["compare", "metol-sulfite", "no-such-formula"]).code, 2);
}

#[test]
fn the_nearest_come_first_with_their_distance() {
    let json = good(&["list", "--near", "mq-borax-classic", "--json"]).json();
    let found = json["formulas"].as_array().unwrap();
    assert_eq!(found.len(), 20);
    assert_eq!(found[0]["id"], "mq-borax-classic");
    assert_eq!(found[0]["distance"], 0.0);
    let distances: Vec<f64> = found.iter().map(|own| own["distance"].as_f64().unwrap()).collect();
    assert!(distances.windows(2).all(|pair| pair[0] <= pair[1]), "{distances:?}");
    for own in &found[..8] {
        assert!(own["id"].as_str().unwrap().starts_with("mq-"), "{own}");
    }
}

#[test]
fn a_typed_composition_finds_its_formula_whatever_the_hydrate() {
    for text in [
        "metol=2,sodium-sulfite-anhydrous=100,hydroquinone=5,borax-decahydrate=2",
        "borax-pentahydrate=1.5276,hydroquinone=5g,metol=2g,sodium-sulfite-heptahydrate=200.05",
    ] {
        let json = good(&["list", "--near", text, "--most", "1", "--json"]).json();
        assert_eq!(json["formulas"][0]["id"], "mq-borax-classic");
        assert!(json["formulas"][0]["distance"].as_f64().unwrap() < 0.01);
    }
    let bare = soupcon(&["list", "--near", "metol=2,sodium-sulfite=100"]);
    assert_eq!(bare.code, 2);
    assert!(
        bare.err.contains("several forms") && bare.err.contains("sodium-sulfite-anhydrous"),
        "{}",
        bare.err
    );
}

#[test]
fn near_joins_the_other_filters() {
    let json = good(&["list", "--near", "mq-borax-classic", "--kind", "fixer", "--json"]).json();
    assert!(json["formulas"].as_array().unwrap().iter().all(|own| own["kind"] == "fixer"));
    insta::assert_snapshot!(good(&["list", "--near", "acetic-acid-stop-bath", "--kind", "stop-bath"]).out);
}

#[test]
fn the_shelf_says_what_can_be_mixed_now_and_what_lacks_one_chemical() {
    let shelf = ["--have", "metol", "--have", "sodium-sulfite-heptahydrate=450g", "--have", "hydroquinone"];
    let mut arguments = vec!["list", "--can-make", "--kind", "film-developer"];
    arguments.extend(shelf);
    insta::assert_snapshot!(good(&arguments).out);
    arguments.push("--json");
    let json = good(&arguments).json();
    let found = json["formulas"].as_array().unwrap();
    let own = |id: &str| found.iter().find(|own| own["id"] == id).unwrap();
    assert_eq!(own("metol-sulfite")["can_make"], true);
    assert_eq!(own("metol-sulfite")["substitutes"][0]["shelf"], "sodium-sulfite-heptahydrate");
    assert!((own("metol-sulfite")["largest_ml"].as_f64().unwrap() - 2249.4).abs() < 0.5);
    assert_eq!(own("mq-borax-classic")["missing"][0], "borax-decahydrate");
}

#[test]
fn a_shelf_file_is_read_and_everything_wrong_in_it_told_at_once() {
    let place = tempfile::tempdir().unwrap();
    let write = |text: &str| fs::write(place.path().join("shelf.toml"), text).unwrap();
    let run = || soupcon_in(place.path(), &["list", "--can-make", "--shelf", "shelf.toml"]);
    write("format = 1\nhave = [\"acetic-acid-28=200g\", \"sodium-sulfate-decahydrate\"]\n");
    let ran = run();
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(
        ran.out.contains("acetic-acid-stop-bath")
            && ran.out.contains("acetic-sulfate-non-swelling-stop-bath")
    );
    write("format = 1\nhave = [\n  \"metoll\",\n  \"hydroquinone=5\",\n]\n");
    let ran = run();
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(ran.err.contains("shelf.toml:3") && ran.err.contains("did you mean metol"), "{}", ran.err);
    assert!(ran.err.contains("shelf.toml:4"), "{}", ran.err);
    write("format = 1\nhvae = []\n");
    assert!(run().err.contains("did you mean `have`?"));
    assert_eq!(soupcon(&["list", "--can-make"]).code, 2);
    assert_eq!(soupcon(&["list", "--have", "metol"]).code, 2);
}

#[test]
fn check_tells_everything_wrong_at_once_with_line_and_remedy() {
    let ran = soupcon_in(folder(), &["check", "tests/doubtful"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.is_empty(), "{}", ran.err);
    insta::assert_snapshot!(ran.out);
}

#[test]
fn check_as_json_has_code_severity_file_line_message_and_fix() {
    let ran = soupcon_in(folder(), &["check", "tests/doubtful/fixer/sulfur.toml", "--json"]);
    assert_eq!(ran.code, 1);
    let json = ran.json();
    assert_eq!(json["schema_version"], 1);
    let findings = json["findings"].as_array().unwrap();
    // The rule of the trade, and the combination that it comes from.
    let codes: Vec<_> = findings.iter().map(|own| own["code"].as_str().unwrap()).collect();
    assert_eq!(codes, ["never-in-one-vessel", "sulfur"]);
    let sulfur = &findings[1];
    assert_eq!(sulfur["severity"], "warning");
    assert_eq!(sulfur["file"], "tests/doubtful/fixer/sulfur.toml");
    assert_eq!(sulfur["line"], 7);
    assert!(sulfur["message"].as_str().unwrap().contains("sulfur"));
    assert!(sulfur["fix"].as_str().unwrap().contains("sulfite"));
}

#[test]
fn the_shipped_library_and_a_sound_file_are_clean() {
    let ran = soupcon_in(folder(), &["check", "formulas"]);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(ran.out.contains("Nothing to change, and "), "{}", ran.out);
    let ran = soupcon_in(folder(), &["check", "formulas/film-developer/mq-borax-classic.toml", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert_eq!(ran.json()["findings"].as_array().unwrap().len(), 0);
}

#[test]
fn broken_files_are_findings_too() {
    let ran = soupcon_in(folder(), &["check", "tests/refused", "--json"]);
    assert_eq!(ran.code, 1);
    let json = ran.json();
    for entry in fs::read_dir(folder().join("tests/refused")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let told = json["findings"]
            .as_array()
            .unwrap()
            .iter()
            .any(|own| own["file"].as_str().unwrap().ends_with(&name));
        assert!(
            told || Path::new(&name).extension().is_none_or(|extension| extension != "toml"),
            "{name} has no finding"
        );
    }
}

#[test]
fn a_folder_of_ones_own_brings_its_substances_and_clashes_are_told() {
    let place = tempfile::tempdir().unwrap();
    let write = |path: &str, text: &str| {
        let path = place.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    };
    let formula = |kind: &str, substance: &str| {
        format!(
            "format = 1\ntitle = \"t\"\nkind = \"{kind}\"\nsummary = \"s\"\nevidence = \"memory\"\n\
             [[ingredients]]\nsubstance = \"{substance}\"\ngrams = 4\n"
        )
    };
    write(
        "substances/my-agent.toml",
        "format = 1\nname = \"my agent\"\nroles = [\"developing-agent\"]\nclasses = [\"reducer\"]\n\
         [[forms]]\nid = \"my-agent\"\nname = \"my agent\"\n",
    );
    write("film-developer/mine.toml", &formula("film-developer", "my-agent"));
    let check = || soupcon_in(place.path(), &["check", ".", "--json"]);
    let ran = check();
    assert_eq!(ran.code, 0, "{}", ran.whole());
    // The same id in two folders, a hidden shipped formula, a shipped substance replaced.
    write("paper-developer/mine.toml", &formula("paper-developer", "metol"));
    write("film-developer/metol-sulfite.toml", &formula("film-developer", "my-agent"));
    write(
        "substances/borax.toml",
        "format = 1\nname = \"borax\"\n[[forms]]\nid = \"borax\"\nname = \"borax\"\n",
    );
    let json = check().json();
    let codes: Vec<&str> =
        json["findings"].as_array().unwrap().iter().map(|own| own["code"].as_str().unwrap()).collect();
    for code in ["duplicate-id", "hides-shipped", "shadowed-substance"] {
        assert!(codes.contains(&code), "{code}: {codes:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn names_that_differ_only_in_case_are_told() {
    let place = tempfile::tempdir().unwrap();
    let text = "format = 1\ntitle = \"t\"\nkind = \"stop-bath\"\nsummary = \"s\"\nevidence = \"memory\"\n\
                [[ingredients]]\nsubstance = \"chrome-alum\"\ngrams = 25\n";
    fs::create_dir(place.path().join("stop-bath")).unwrap();
    for name in ["alum.toml", "Alum.toml"] {
        fs::write(place.path().join("stop-bath").join(name), text).unwrap();
    }
    let json = soupcon_in(place.path(), &["check", ".", "--json"]).json();
    let codes: Vec<&str> =
        json["findings"].as_array().unwrap().iter().map(|own| own["code"].as_str().unwrap()).collect();
    assert!(codes.contains(&"case-clash") && codes.contains(&"id"), "{codes:?}");
}

#[test]
fn a_path_that_is_not_there_is_a_wrong_request() {
    let ran = soupcon(&["check", "no-such-folder"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    let place = tempfile::tempdir().unwrap();
    let ran = soupcon_in(place.path(), &["check", "."]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
}
