//! One tiny broken formula per kind of mistake; the whole message is a snapshot.

use std::fs;
use std::path::Path;

use crate::common::soupcon_in;

#[test]
fn each_broken_formula_is_refused_with_what_where_and_how_to_mend_it() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/refused");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| Path::new(name).extension().is_some_and(|extension| extension == "toml"))
        .collect();
    names.sort();
    assert!(names.len() >= 110, "only {} broken formulas", names.len());
    let mut report = String::new();
    for name in &names {
        let ran = soupcon_in(&folder, &["show", &format!("./{name}")]);
        assert_eq!(ran.code, 2, "{name} gave {}", ran.whole());
        assert!(ran.out.is_empty(), "{name} printed a result");
        assert!(!ran.err.contains("panicked"), "{name} panicked");
        assert!(ran.err.contains("error: ") && ran.err.contains(name.as_str()), "{name}: {}", ran.err);
        assert!(
            ran.err.chars().all(|letter| letter == '\n' || !letter.is_control()),
            "{name}: control characters"
        );
        report.push_str(&format!("# {name}\n{}\n", ran.err));
    }
    insta::assert_snapshot!(report);
}

#[test]
fn with_json_the_error_is_one_object() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/refused");
    let ran = soupcon_in(&folder, &["show", "./bare-parent.toml", "--json"]);
    assert_eq!(ran.code, 2);
    assert!(ran.out.is_empty());
    let json: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
    assert_eq!(json["error"]["code"], "bare-parent");
    for field in ["message", "fix"] {
        assert!(json["error"][field].as_str().unwrap().len() > 20);
    }
}
