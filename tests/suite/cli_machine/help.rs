use super::*;

#[test]
fn the_short_help_fits_one_screen() {
    let text = good(&["-h"]).out;
    assert!(text.lines().count() <= 24, "{} lines", text.lines().count());
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    insta::assert_snapshot!(text);
}

#[test]
fn the_long_help_teaches_by_task() {
    let text = good(&["--help"]).out;
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    let place = |word: &str| text.find(word).unwrap_or_else(|| panic!("no {word} in\n{text}"));
    assert!(place("Usage:") < place("Examples:") && place("Examples:") < place("Find:"));
    assert!(place("Find:") < place("Mix:") && place("Mix:") < place("Options:"));
    insta::assert_snapshot!(text);
}

#[test]
fn a_commands_help_gives_examples_before_options() {
    let text = good(&["scale", "-h"]).out;
    assert!(text.find("Examples:").unwrap() < text.find("Arguments:").unwrap());
    insta::assert_snapshot!(text);
}

#[test]
fn help_is_asked_for_in_many_ways() {
    assert_eq!(good(&["help"]).out, good(&["--help"]).out);
    assert_eq!(good(&["help", "scale"]).out, good(&["scale", "--help"]).out);
    assert!(good(&["-V"]).out.starts_with("soupcon ") && good(&["--version"]).out == good(&["-V"]).out);
    assert_eq!(soupcon(&["-v"]).code, 2);
}

#[test]
fn help_keeps_to_a_narrow_terminal() {
    for arguments in [vec!["--help"], vec!["scale", "-h"], vec!["list", "--help"]] {
        let output = command(&arguments).env("COLUMNS", "40").output().unwrap();
        let text = String::from_utf8(output.stdout).unwrap();
        let longest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(longest <= 40, "{arguments:?}: {longest}\n{text}");
    }
}
