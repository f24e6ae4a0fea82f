use super::*;

#[test]
fn filters_narrow_and_a_parent_stands_for_its_forms() {
    let ids = |arguments: &[&str]| -> Vec<String> {
        let mut all = vec!["list", "--json"];
        all.extend(arguments);
        let json = good(&all).json();
        json["formulas"]
            .as_array()
            .unwrap()
            .iter()
            .map(|own| own["id"].as_str().unwrap().to_owned())
            .collect()
    };
    let all = ids(&[]);
    assert!(all.len() >= 110);
    let carbonate = ids(&["--with", "sodium-carbonate"]);
    let monohydrate = ids(&["--with", "sodium-carbonate-monohydrate"]);
    assert!(!monohydrate.is_empty() && monohydrate.len() < carbonate.len() && carbonate.len() < all.len());
    assert!(monohydrate.iter().all(|id| carbonate.contains(id)));
    let without = ids(&["--with", "metol", "--without", "hydroquinone"]);
    assert!(
        without.contains(&"metol-sulfite".to_owned()) && !without.contains(&"mq-borax-classic".to_owned())
    );
    assert!(ids(&["--kind", "fixer"]).len() >= 8);
    assert!(ids(&["borax", "fine", "grain"]).iter().all(|id| all.contains(id)));
}

#[test]
fn nothing_found_is_exit_1_and_a_wrong_kind_gets_a_suggestion() {
    assert_eq!(soupcon(&["list", "unobtainium"]).code, 1);
    let ran = soupcon(&["list", "--kind", "fixxer"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("did you mean fixer"), "{}", ran.err);
    assert_eq!(soupcon(&["list", "--with", "unobtainium"]).code, 2);
}

#[test]
fn a_kind_reads_well_at_80_and_at_40_columns() {
    let wide = good(&["list", "--kind", "washing-aid"]).out;
    insta::assert_snapshot!(wide);
    let narrow = command(&["list", "--kind", "washing-aid"]).env("COLUMNS", "40").output().unwrap();
    let narrow = String::from_utf8(narrow.stdout).unwrap();
    assert!(narrow.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 40), "{narrow}");
}
