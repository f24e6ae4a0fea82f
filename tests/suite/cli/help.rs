use super::*;

#[test]
fn no_arguments_show_help_and_exit_2() {
    let ran = soupcon(&[]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("Usage:") && ran.out.is_empty());
}

#[test]
fn every_command_has_an_example_that_runs() {
    let help = good(&["--help"]).out;
    // Commands stand below the headings of their tasks, after the examples and before the options.
    let names: Vec<&str> = help
        .split("\nExamples:\n")
        .nth(1)
        .unwrap()
        .split("\nOptions:\n")
        .next()
        .unwrap()
        .lines()
        .filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next())
        .filter(|name| {
            !["help", "soupcon"].contains(name) && name.chars().all(|own| own.is_ascii_lowercase())
        })
        .filter(|name| soupcon(&[name, "--help"]).code == 0)
        .collect();
    assert!(names.len() >= 8, "{names:?}");
    for name in names {
        let text = good(&[name, "--help"]).out;
        assert!(text.contains("Examples:"), "{name} has no examples");
        assert!(text.contains(&format!("soupcon {name}")), "{name} has no example of itself");
    }
}

#[test]
fn a_mistyped_command_gets_a_suggestion_and_is_not_run() {
    let ran = soupcon(&["scael", "mq-borax-classic", "500ml"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("scale"), "{}", ran.err);
}
