use super::*;

#[test]
fn an_own_formula_is_found_by_id_alias_and_path_and_is_listed() {
    let folder = library(&[("film-developer/weekend.toml", OWN)]);
    for name in ["weekend", "weekend soup", "Weekend Soup"] {
        let ran = with_library(folder.path(), &["show", name]);
        assert_eq!(ran.code, 0, "{name}: {}", ran.whole());
    }
    let listed = with_library(folder.path(), &["list", "weekend", "--json"]).json();
    assert_eq!(listed["formulas"][0]["id"], "weekend");
    assert_ne!(listed["formulas"][0]["origin"], "shipped");
}

#[test]
fn an_own_formula_may_shadow_a_shipped_one_and_that_is_said() {
    let folder = library(&[("film-developer/mq-borax-classic.toml", OWN)]);
    let ran = with_library(folder.path(), &["scale", "mq-borax-classic", "1L", "--json"]);
    assert_eq!(ran.code, 0);
    assert!(ran.err.contains("overrides the built-in one"), "{}", ran.err);
    assert_eq!(ran.json()["parts"][0]["items"].as_array().unwrap().len(), 2);
    // The last layer wins.
    let second = library(&[("film-developer/mq-borax-classic.toml", &OWN.replace("grams = 3", "grams = 4"))]);
    let ran = soupcon(&[
        "scale",
        "mq-borax-classic",
        "1L",
        "--json",
        "--library",
        folder.path().to_str().unwrap(),
        "--library",
        second.path().to_str().unwrap(),
    ]);
    assert!((ran.json()["parts"][0]["items"][0]["amount"].as_f64().unwrap() - 4.0).abs() < 1e-12);
}

#[test]
fn a_shipped_substance_cannot_be_replaced() {
    let text = "format = 1\nname = \"metol\"\nroles = [\"developing-agent\"]\nclasses = []\n[[forms]]\nid = \"metol\"\nname = \"metol\"\n";
    let folder = library(&[("substances/metol.toml", text)]);
    let ran = with_library(folder.path(), &["show", "mq-borax-classic"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("cannot be replaced"), "{}", ran.err);
}

#[test]
fn an_own_substance_takes_part_with_its_hazard_unknown() {
    let substance = "format = 1\nname = \"our tea\"\nroles = [\"buffer\"]\n[[forms]]\nid = \"our-tea\"\nname = \"our tea\"\nformula = \"C8H10N4O2\"\n";
    let formula = OWN.replace("\"sodium-sulfite-anhydrous\"", "\"our-tea\"");
    let folder = library(&[("substances/our-tea.toml", substance), ("film-developer/tea.toml", &formula)]);
    let ran = with_library(folder.path(), &["sheet", "tea", "1L"]);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(ran.out.contains("hazard not known: our tea"), "{}", ran.out);
    assert!(ran.out.contains("combinations not checked for our tea"), "{}", ran.out);
}

#[test]
fn the_environment_names_folders_too_and_a_missing_one_is_refused() {
    let folder = library(&[("film-developer/weekend.toml", OWN)]);
    let output = command(&["show", "weekend"]).env("SOUPCON_LIBRARY", folder.path()).output().unwrap();
    assert!(output.status.success());
    assert_eq!(soupcon(&["list", "--library", "/nowhere/at/all"]).code, 2);
}

#[test]
fn the_same_id_in_two_folders_of_one_library_is_refused() {
    let folder = library(&[("film-developer/weekend.toml", OWN), ("fixer/weekend.toml", OWN)]);
    let ran = with_library(folder.path(), &["show", "weekend"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("stands twice"), "{}", ran.err);
}

#[test]
fn a_name_with_dots_and_slashes_never_leaves_the_library() {
    let folder = library(&[("film-developer/weekend.toml", OWN), ("secret.toml", OWN)]);
    let ran = with_library(folder.path(), &["show", "..\u{2215}secret"]);
    assert_eq!(ran.code, 2);
    let ran = with_library(folder.path(), &["scale", "weekend", "1L", "--have", "../secret"]);
    assert_eq!(ran.code, 2);
}
