//! The commands as a user runs them: form in snapshots (read by a person before they are accepted), facts in assertions.

use std::fs;

use crate::common::{command, good, library, soupcon, soupcon_with_input, with_library};

const OWN: &str = "format = 1\ntitle = \"My weekend developer\"\nkind = \"film-developer\"\nsummary = \"Ours.\"\nevidence = \"memory\"\naliases = [\"weekend soup\"]\n\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 3\n\n[[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 60\n";

mod help;

mod show;

mod list;

mod scale;

mod small_calculators;

mod substance;

mod personal_libraries;

mod sheet;

mod streams;

mod shelf;

mod balance;

mod slips;

#[test]
fn what_must_never_be_in_one_vessel_is_refused_wherever_it_would_be_mixed() {
    let text = format!("{OWN}\n[[ingredients]]\nsubstance = \"potassium-dichromate\"\ngrams = 5\n");
    let folder = library(&[("soup.toml", &text)]);
    let path = folder.path().join("soup.toml");
    let path = path.to_str().unwrap();
    for arguments in [&["scale", path, "1L"][..], &["sheet", path, "1L"], &["label", path, "1L"]] {
        let ran = soupcon(arguments);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{arguments:?}");
        assert!(ran.err.contains("destroy each other in one vessel"), "{arguments:?}\n{}", ran.err);
    }
    let ran = soupcon(&["check", path]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("[never-in-one-vessel]"), "{}", ran.out);
}

/// Paper is sold as A4 and as Letter; the configuration and the environment take either case too.
#[test]
fn a_paper_is_known_in_capitals_and_in_small_letters() {
    let page =
        |paper: &str| good(&["show", "plain-thiosulfate-fixer", "--format", "html", "--paper", paper]).out;
    assert_eq!(page("A4"), page("a4"));
    assert_eq!(page("Letter"), page("letter"));
    assert_ne!(page("A4"), page("LETTER"));
}

/// `help` in the place of a file is a question for help, also of the command that takes files.
#[test]
fn help_is_told_by_every_command_that_has_commands() {
    for command in ["curve", "exposure", "record"] {
        let told = good(&[command, "help"]).out;
        assert!(told.contains("Usage: soupcon") && told.contains("Commands:"), "{command}: {told}");
    }
}
