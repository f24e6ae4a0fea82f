//! The commands of the examples run, from their own folder.

use std::fs;
use std::path::Path;

use crate::common::soupcon_in;

#[test]
fn every_command_of_the_weekend_class_runs() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/weekend-class");
    let text = fs::read_to_string(folder.join("README.md")).unwrap();
    assert!(text.contains("invented"));
    let mut heads = String::new();
    let mut count = 0;
    for line in text.lines().filter(|line| line.starts_with("soupcon ")) {
        let arguments: Vec<&str> = line.split_whitespace().skip(1).collect();
        let ran = soupcon_in(&folder, &arguments);
        assert_eq!(ran.code, 0, "{line}\n{}", ran.whole());
        let head: Vec<&str> = ran.out.lines().take(6).collect();
        heads.push_str(&format!("$ {line}\n{}\n\n", head.join("\n")));
        count += 1;
    }
    assert!(count >= 8, "only {count} commands");
    insta::assert_snapshot!(heads);
}

#[test]
fn no_ph_is_told_of_an_acid_that_is_not_modelled() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/weekend-class");
    let sheet =
        soupcon_in(&folder, &["sheet", "class-stop-bath", "2L", "--library", "library", "--side", "both"]);
    assert!(sheet.out.contains("pH not known: the model does not include malic acid."), "{}", sheet.out);
    assert!(!sheet.out.contains("READY   pH"), "{}", sheet.out);
    let predict = soupcon_in(&folder, &["predict", "class-stop-bath", "--library", "library"]);
    let told = predict.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("pH not known: the model does not include malic acid (computed without it 7."),
        "{told}"
    );
}
