//! The program as a citizen of the terminal: streams, exit codes, help, colour, width, locale, files.
//!
//! What good command lines do, line by line, and where it is held (T here, H `hostile.rs`, C `cli.rs`, S `speed.rs`); what does not hold in full
//! says so.
//!
//! 1. results to output, messages to errors: T `results_go_to_output_and_messages_to_errors`
//! 2. exit 0 on success, help and version: T `exit_codes_are_those_that_help_promises`
//! 3. usage errors exit 2: T same
//! 4. own codes documented: three codes only, in `--help`: 0 done, 1 the answer is no, 2 the request was wrong; the kind of failure
//!    stands in `error.code` of `--json`
//! 5. closed pipe: T `a_closed_pipe_and_a_full_disk_end_every_command_without_a_panic`
//! 6. full disk: T same: exit 1, one line and a remedy; also when standard error itself is full
//! 7. no panic reaches a user: `tests/refused/` (118 files), H (some 170 inputs), `tests/suite/fuzz`; clippy refuses `unwrap`,
//!    `expect`, `panic`, indexing (holds; the text of a panic, if one came, would not say where to report it)
//! 8. short but not empty; written files are named: T `quiet_leaves_out_hints_and_nothing_else`
//! 9. `-q/--quiet`: T same: hints go, results, warnings and errors stay
//! 10. no log levels or times: only `error:`, `fix:` and `note:`; there is no log
//! 11. every way of asking for help: T `every_way_of_asking_shows_it`
//! 12. `-h` short, `--help` long, wrapped: `tests/suite/cli_machine`: one screen, groups by task, examples before options, a
//!     narrow terminal; T
//! 13. help names home page and manual: the manual (`soupcon man`) is named; there is no home page yet (half)
//! 14. `--version`, `-V`; `-v` is not it: T `every_way_of_asking_shows_it`
//! 15. suggestions, never acted on: T `commands_are_neither_abbreviated_nor_guessed`; C near misses of ids; `tests/refused/` for
//!     keys, words, chemicals; H for units
//! 16. no abbreviations, no default command: T same
//! 17. completions: every shell the parser knows; `tests/suite/cli_machine`
//! 18. manual pages: `man`, `man --dir`; `tests/suite/cli_machine`
//! 19. an example in every help, tried: C `every_command_has_an_example_that_runs`; `tests/suite/readme.rs`
//! 20. `--json`, one document: T `json_is_one_document_and_errors_leave_output_empty`
//! 21. `schema_version`, units in names, fixed order, no date or host: T
//!     `the_same_input_gives_the_same_bytes_wherever_and_whenever`; paths stand only where a personal folder or a file was given
//! 22. JSON Schemas: `schema`; `tests/suite/cli_machine` holds every shipped file and output against them
//! 23. errors with `--json`: one object `error {code, message, fix}` on standard error, output empty: T, `tests/suite/refused.rs`
//! 24. `--plain`, one record a line: not offered: `--json` is for programs (no, on purpose)
//! 25. no non-finite number in or out: H `numbers_on_the_command_line_are_finite_and_sane`; `tests/refused/` (nan, inf, 1e308,
//!     5e-324, 1e400, -0.0); fuzz asserts it of every accepted value
//! 26. locale-neutral output: C `the_same_input_gives_the_same_bytes_in_any_locale`; T (holds; a decimal comma on sheets is not
//!     offered)
//! 27. `1,5` refused with "write 1.5": T `a_comma_is_refused_and_never_read_as_thousands`; `tests/refused/comma-decimal.toml`
//! 28. quantities carry units: H; a bare number is refused with the ways to write it, since a wrong guess is weighed
//! 29. negative values where they make sense: T `negative_temperatures_are_values_and_not_options` (holds; a negative
//!     amount is refused in those words)
//! 30. display width, narrow terminals: T `a_narrow_terminal_wraps_by_display_width` over eleven commands (holds; an id wider than
//!     the page is not broken, so that it can be copied)
//! 31. ASCII mode: T `ascii_is_used_on_request_and_where_the_locale_knows_no_more` (holds; JSON stays UTF-8)
//! 32. no meaning by colour alone: T `nothing_is_said_by_bold_type_alone`; there is no colour, only bold
//! 33. when colour is off and forced: T `bold_type_follows_the_flag_then_the_environment_then_the_terminal`, on a pseudo-terminal
//!     too; order: `--color`, `NO_COLOR`, `CLICOLOR_FORCE` (not 0), `CLICOLOR=0`, terminal and `TERM`; help is never coloured
//! 34. no animation; first byte within 100 ms: S: every command but a list of thousands of own formulas is below 20 ms
//! 35. pager: none (holds (the simplest choice))
//! 36. `-` is standard input and output; a hint on a terminal: T `a_dash_is_standard_input_and_standard_output`,
//!     `a_terminal_as_standard_input_gets_a_hint`
//! 37. no prompt; `--force` to overwrite: nothing ever prompts; T `a_file_is_whole_or_not_there`
//! 38. written beside, then renamed: T same, with a writer that fails half way; the journal is appended to under a lock instead:
//!     `tests/suite/journal.rs`
//! 39. XDG folders: `config`, journal and library; relative ones are ignored (H `odd_surroundings_are_borne`)
//! 40. precedence, where a value came from: `config` prints the origin of every value
//! 41. absent configuration is no error, a broken one is: T `neither_home_nor_a_writable_disk_is_needed`; the broken one:
//!     `tests/suite/cli_machine`
//! 42. `--dry-run`; long names; few short ones: one-letter names are `-h -V -q -o`; no dry run: only `-o`, `man --dir` and what
//!     adds to the journal write, and none over anything without `--force` (mostly; no dry run, on purpose)
//! 43. no network: T `no_network_is_used` (traced)
//! 44. additive changes: a rule for releases; nothing is deprecated yet (by rule)
//! 45. one binary: needs the C library only
//! 46. Windows and macOS: CRLF and byte-order mark: H `what_is_odd_but_sound_is_read`, `tests/refused/` (the line is right too);
//!     ids in lower case only, so none differ by case (H `folders_with_traps…`); no Windows target was tried; reserved names such as
//!     `con` are not refused (partly)
//! 47. Ctrl-C leaves no half file: follows from 38
//! 48. same input, same bytes: T `the_same_input_gives_the_same_bytes_wherever_and_whenever`; nothing prints a date of its own

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::common::{Ran, command, good, soupcon, soupcon_with_input};
use unicode_width::UnicodeWidthStr as _;

const OWN: &str = "format = 1\ntitle = \"Weekend\"\nkind = \"film-developer\"\nsummary = \"Ours.\"\nevidence = \"memory\"\n\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n";

/// Every command that prints a result, with arguments that give one.
const RESULTS: &[&[&str]] = &[
    &["list", "borax"],
    &["show", "mq-borax-classic"],
    &["compare", "mq-borax-classic", "mq-carbonate-tray-tank"],
    &["scale", "mq-borax-classic", "500ml"],
    &["sheet", "mq-borax-classic", "500ml"],
    &["safety", "mq-borax-classic", "plain-thiosulfate-fixer"],
    &["substance", "metol"],
    &["exchange", "10g", "sodium-carbonate-anhydrous", "--for", "sodium-carbonate-monohydrate"],
    &["percent", "potassium-bromide", "10%w/v", "100ml"],
    &["dilute", "1+3", "1L"],
    &["water", "1L", "--hot", "45C", "--cold", "12C", "--target", "20C"],
    &["predict", "mq-borax-classic", "--measured", "8.0"],
    &["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "borax-decahydrate"],
    &["concentrate", "mq-carbonate-tray-tank"],
    &["label", "pyro-soda-tank", "500ml"],
    &["time", "8min", "--from", "mq-borax-classic", "--to-temp", "22C"],
    &["chart", "8min", "--from", "mq-borax-classic"],
    &["factorial", "45s", "--agent", "pyro"],
    &["exposure", "strip", "8s"],
    &[
        "curve",
        concat!(env!("CARGO_MANIFEST_DIR"), "/examples/weekend-class/readings/borax-10min.csv"),
        "--tablet",
        "21x0.15+0.05",
    ],
    &["curve", "speed", "437"],
    &["config"],
    &["schema"],
];

fn with(variables: &[(&str, &str)], arguments: &[&str]) -> Ran {
    let mut command = command(arguments);
    command.envs(variables.iter().copied());
    command.output().unwrap().into()
}

/// Runs it on a pseudo-terminal, where the program `script` is there to make one.
fn on_a_terminal(variables: &[(&str, &str)], arguments: &[&str], input: &[u8]) -> Option<String> {
    use std::io::Write as _;
    if !Path::new("/usr/bin/script").exists() {
        return None;
    }
    let line = [&[env!("CARGO_BIN_EXE_soupcon")], arguments].concat().join(" ");
    let mut child = Command::new("/usr/bin/script")
        .args(["-qec", &line, "/dev/null"])
        .env_clear()
        .env("TERM", "xterm")
        .env("COLUMNS", "80")
        .envs(variables.iter().copied())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(input).unwrap();
    Some(String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap())
}

mod streams_and_codes {
    use super::*;

    #[test]
    fn results_go_to_output_and_messages_to_errors() {
        let folder = tempfile::tempdir().unwrap();
        let own = folder.path().join("film-developer");
        fs::create_dir(&own).unwrap();
        fs::write(own.join("broken.toml"), "title =\n").unwrap();
        fs::write(own.join("weekend.toml"), OWN).unwrap();
        let ran = soupcon(&["--library", folder.path().to_str().unwrap(), "list", "weekend"]);
        assert_eq!(ran.code, 0);
        assert!(ran.out.contains("weekend") && !ran.out.contains("broken"));
        assert!(ran.err.contains("broken.toml:1"));
        for arguments in RESULTS {
            let ran = good(arguments);
            assert!(!ran.out.is_empty() && ran.out.ends_with('\n'), "{arguments:?}");
            assert!(ran.err.is_empty(), "{arguments:?}: {}", ran.err);
        }
    }

    #[test]
    fn exit_codes_are_those_that_help_promises() {
        assert!(
            good(&["--help"])
                .out
                .contains("Exit codes: 0 done; 1 understood, but the answer is no; 2 the request was wrong.")
        );
        for arguments in [vec!["--help"], vec!["--version"], vec!["list"]] {
            assert_eq!(soupcon(&arguments).code, 0);
        }
        for arguments in
            [vec!["list", "no-such-word"], vec!["scale", "mq-borax-classic", "1L", "--have", "metol=1g"]]
        {
            assert_eq!(soupcon(&arguments).code, 1, "{arguments:?}");
        }
        for arguments in [
            vec![],
            vec!["runn"],
            vec!["list", "--volum"],
            vec!["show", "nothing"],
            vec!["scale", "mq-borax-classic", "1"],
        ] {
            let ran = soupcon(&arguments);
            assert_eq!(ran.code, 2, "{arguments:?}");
            assert!(ran.out.is_empty() && !ran.err.is_empty());
        }
    }

    #[test]
    fn a_closed_pipe_and_a_full_disk_end_every_command_without_a_panic() {
        for arguments in RESULTS {
            let mut child = command(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
            drop(child.stdout.take());
            let output = child.wait_with_output().unwrap();
            assert_eq!((output.status.code(), output.stderr.len()), (Some(0), 0), "{arguments:?}");
            let Ok(full) = fs::OpenOptions::new().write(true).open("/dev/full") else { continue };
            let child = command(arguments).stdout(full).stderr(Stdio::piped()).spawn().unwrap();
            let output = child.wait_with_output().unwrap();
            let said = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(1), "{arguments:?}");
            assert!(said.contains("cannot be written") && said.lines().count() <= 2, "{arguments:?}: {said}");
        }
        // Nowhere left to say anything: still no panic code.
        if let Ok(full) = fs::OpenOptions::new().write(true).open("/dev/full") {
            let status = command(&["show", "nothing"]).stderr(full).status().unwrap();
            assert_eq!(status.code(), Some(2));
        }
    }

    #[test]
    fn quiet_leaves_out_hints_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("sheet.txt");
        let path = file.to_str().unwrap();
        assert!(good(&["sheet", "mq-borax-classic", "1L", "-o", path]).err.contains("wrote"));
        assert!(good(&["-q", "sheet", "mq-borax-classic", "1L", "-o", path, "--force"]).err.is_empty());
        assert_eq!(soupcon(&["list", "no-such-word", "--quiet"]).err, "");
        assert_eq!(good(&["show", "mq-borax-classic", "-q"]).out, good(&["show", "mq-borax-classic"]).out);
        assert!(soupcon(&["show", "nothing", "-q"]).err.starts_with("error: "));
        let strong = ["percent", "hydroquinone", "50%w/v", "100ml"];
        assert_eq!(soupcon(&[&strong[..], &["-q"]].concat()).whole(), soupcon(&strong).whole());
    }

    #[test]
    fn json_is_one_document_and_errors_leave_output_empty() {
        for arguments in RESULTS {
            let ran = good(&[arguments, &["--json"][..]].concat());
            assert!(ran.json()["schema_version"].is_u64(), "{arguments:?}");
            assert!(ran.out.ends_with("}\n"));
        }
        for wrong in [vec!["show", "nothing", "--json"], vec!["runn", "--json"]] {
            let ran = soupcon(&wrong);
            assert!(ran.out.is_empty());
            let error: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
            assert!(error["error"]["code"].is_string() && error["error"]["fix"].is_string());
        }
    }
}

mod help {
    use super::*;

    #[test]
    fn every_way_of_asking_shows_it() {
        assert_eq!(soupcon(&[]).code, 2);
        for arguments in [
            vec!["-h"],
            vec!["--help"],
            vec!["help"],
            vec!["help", "scale"],
            vec!["scale", "-h"],
            vec!["scale", "--help"],
        ] {
            assert!(good(&arguments).out.contains("Usage: soupcon"), "{arguments:?}");
        }
        for arguments in [vec!["--version"], vec!["-V"]] {
            assert_eq!(good(&arguments).out, format!("soupcon {}\n", env!("CARGO_PKG_VERSION")));
        }
        let not_the_version = soupcon(&["-v"]);
        assert_eq!((not_the_version.code, not_the_version.out.as_str()), (2, ""));
    }

    #[test]
    fn commands_are_neither_abbreviated_nor_guessed() {
        for (typed, meant) in
            [("shw", "show"), ("scal", "scale"), ("sheets", "sheet"), ("substanc", "substance")]
        {
            let ran = soupcon(&[typed, "mq-borax-classic", "1L"]);
            assert_eq!(ran.code, 2);
            assert!(ran.out.is_empty() && ran.err.contains(&format!("'{meant}'")), "{}", ran.err);
        }
        let option = soupcon(&["list", "--knd", "fixer"]);
        assert_eq!(option.code, 2);
        assert!(option.err.contains("--kind"), "{}", option.err);
    }

    #[test]
    fn help_keeps_to_the_width_it_is_given() {
        for columns in ["40", "80", "120"] {
            let ran = with(&[("COLUMNS", columns)], &["scale", "--help"]);
            assert_eq!(ran.code, 0);
            let longest: usize = columns.parse().unwrap();
            let prose = ran.out.lines().filter(|line| !line.contains("soupcon "));
            assert!(prose.clone().all(|line| line.width() <= longest), "{}", ran.out);
        }
    }
}

mod look {
    use super::*;

    #[test]
    fn bold_type_follows_the_flag_then_the_environment_then_the_terminal() {
        let bold = |variables: &[(&str, &str)], arguments: &[&str]| {
            with(variables, &[&["list", "borax"], arguments].concat()).out.contains('\u{1b}')
        };
        assert!(!bold(&[("TERM", "xterm")], &[]), "not a terminal");
        assert!(bold(&[], &["--color", "always"]));
        assert!(bold(&[("NO_COLOR", "1")], &["--color", "always"]), "the flag wins");
        assert!(bold(&[("CLICOLOR_FORCE", "1")], &[]));
        assert!(!bold(&[("CLICOLOR_FORCE", "0")], &[]));
        assert!(!bold(&[("CLICOLOR_FORCE", "")], &[]));
        assert!(!bold(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")], &[]));
        assert!(!bold(&[("CLICOLOR_FORCE", "1")], &["--color", "never"]));
        let on = |variables: &[(&str, &str)]| {
            on_a_terminal(variables, &["list", "borax"], b"").map(|text| text.contains('\u{1b}'))
        };
        let Some(plain_terminal) = on(&[]) else { return };
        assert!(plain_terminal);
        for variables in [("NO_COLOR", "1"), ("TERM", "dumb"), ("CLICOLOR", "0")] {
            assert_eq!(on(&[variables]), Some(false), "{variables:?}");
        }
        assert_eq!(on(&[("NO_COLOR", "")]), Some(true), "empty is unset");
    }

    /// Bold is the only sequence, and without it the text is the same.
    #[test]
    fn nothing_is_said_by_bold_type_alone() {
        for arguments in RESULTS {
            let bold = good(&[arguments, &["--color", "always"][..]].concat()).out;
            let plain = bold.replace("\u{1b}[1m", "").replace("\u{1b}[0m", "");
            assert!(!plain.contains('\u{1b}'));
            assert_eq!(plain, good(arguments).out, "{arguments:?}");
        }
    }

    #[test]
    fn a_narrow_terminal_wraps_by_display_width() {
        for arguments in RESULTS {
            let ran = with(&[("COLUMNS", "40")], arguments);
            for line in ran.out.lines() {
                // An id is never broken: it must be copied whole.
                assert!(line.width() <= 40 || !line.trim().contains(' '), "{arguments:?}: {line}");
            }
        }
        assert_eq!(with(&[("COLUMNS", "")], &["list"]).out, with(&[("COLUMNS", "80")], &["list"]).out);
    }

    #[test]
    fn ascii_is_used_on_request_and_where_the_locale_knows_no_more() {
        for arguments in RESULTS {
            assert!(good(&[arguments, &["--ascii"][..]].concat()).out.is_ascii(), "{arguments:?}");
            assert!(with(&[("LC_ALL", "C")], arguments).out.is_ascii(), "{arguments:?}");
            assert_eq!(
                with(&[("LC_ALL", "de_DE.UTF-8")], arguments).out,
                good(arguments).out,
                "{arguments:?}"
            );
        }
        let sheet = good(&["sheet", "mq-borax-classic", "500ml", "--ascii"]).out;
        assert!(sheet.contains("deg C") && !sheet.contains('?'), "{sheet}");
    }
}

mod numbers {
    use super::*;

    #[test]
    fn negative_temperatures_are_values_and_not_options() {
        for typed in [["--cold", "-5C"], ["--cold", "-5.5C"]] {
            let ran = soupcon(&["water", "1L", "--hot", "45C", typed[0], typed[1], "--target", "20C"]);
            assert!(!ran.err.contains("unexpected argument"), "{}", ran.err);
            assert!(ran.err.contains("does not come from a tap"), "{}", ran.err);
        }
    }

    #[test]
    fn a_comma_is_refused_and_never_read_as_thousands() {
        for arguments in [["scale", "mq-borax-classic", "1,5L"], ["percent", "metol", "1,5%w/v"]] {
            let ran = soupcon(&[&arguments[..], &["100ml"][usize::from(arguments[0] == "scale")..]].concat());
            assert_eq!(ran.code, 2);
            assert!(ran.err.contains("1.5"), "{}", ran.err);
        }
    }
}

mod files {
    use super::*;

    #[test]
    fn a_dash_is_standard_input_and_standard_output() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("standard-input.toml");
        fs::write(&file, OWN).unwrap();
        for command in [vec!["show"], vec!["scale", "1L"], vec!["sheet", "1L"]] {
            let arguments = |name: &str| -> Vec<String> {
                let mut all = vec![command[0].to_owned(), name.to_owned()];
                all.extend(command[1..].iter().map(|&own| own.to_owned()));
                all
            };
            let path = arguments(file.to_str().unwrap());
            let from_file = good(&path.iter().map(String::as_str).collect::<Vec<_>>()).out;
            let dash = arguments("-");
            let from_input =
                soupcon_with_input(&dash.iter().map(String::as_str).collect::<Vec<_>>(), OWN.as_bytes());
            // Only the place that it comes from is told otherwise, on as many lines as its name takes.
            let told = |text: &str| text.split("own formula, from").next().unwrap_or_default().to_owned();
            assert_eq!(told(&from_input.out).trim_end(), told(&from_file).trim_end());
            assert!(from_input.err.is_empty(), "no hint where input is no terminal: {}", from_input.err);
        }
        let plain = good(&["sheet", "mq-borax-classic", "1L"]).out;
        assert_eq!(good(&["sheet", "mq-borax-classic", "1L", "-o", "-"]).out, plain);
    }

    #[test]
    fn a_terminal_as_standard_input_gets_a_hint() {
        // A terminal's end of input is Ctrl-D at the start of a line.
        if let Some(said) = on_a_terminal(&[], &["show", "-"], b"\x04") {
            assert!(said.contains("reading a formula from standard input; end it with Ctrl-D"), "{said}");
        }
    }

    #[test]
    fn a_file_is_whole_or_not_there() {
        let folder = tempfile::tempdir().unwrap();
        let names = || {
            fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect::<Vec<_>>()
        };
        let file = folder.path().join("sheet.txt");
        let path = file.to_str().unwrap();
        good(&["sheet", "mq-borax-classic", "1L", "-o", path]);
        let first = fs::read_to_string(&file).unwrap();
        let refused = soupcon(&["sheet", "mq-borax-classic", "2L", "-o", path]);
        assert_eq!(refused.code, 1);
        assert!(refused.err.contains("--force"));
        assert_eq!(fs::read_to_string(&file).unwrap(), first);
        // A limit on the size of files makes the writing fail half way: the old file stays, and nothing is left beside it.
        let output = Command::new("/bin/sh")
            .args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_soupcon")])
            .args(["sheet", "mq-borax-classic", "2L", "-o", path, "--force"])
            .env_clear()
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
        assert_eq!(fs::read_to_string(&file).unwrap(), first);
        assert_eq!(names(), ["sheet.txt"]);
        let nowhere = soupcon(&["sheet", "mq-borax-classic", "2L", "-o", "/nonexistent/sheet.txt"]);
        assert_eq!(nowhere.code, 1);
        assert!(nowhere.err.contains("cannot be written"), "{}", nowhere.err);
    }

    #[test]
    fn neither_home_nor_a_writable_disk_is_needed() {
        for arguments in RESULTS {
            let output = Command::new(env!("CARGO_BIN_EXE_soupcon"))
                .args(*arguments)
                .env_clear()
                .current_dir("/")
                .stdin(Stdio::null())
                .output()
                .unwrap();
            assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        }
    }

    #[test]
    fn the_same_input_gives_the_same_bytes_wherever_and_whenever() {
        for arguments in RESULTS {
            for format in ["text", "markdown", "html", "json"] {
                let arguments = [arguments, &["--format", format][..]].concat();
                let first = good(&arguments).out;
                let elsewhere = with(
                    &[("TZ", "Asia/Tokyo"), ("USER", "x"), ("HOSTNAME", "x"), ("LC_ALL", "tr_TR.UTF-8")],
                    &arguments,
                )
                .out;
                assert_eq!(elsewhere, first, "{arguments:?}");
            }
        }
    }

    /// Where the tracer is there: no socket is ever opened.
    #[test]
    fn no_network_is_used() {
        if !Path::new("/usr/bin/strace").exists() {
            return;
        }
        for arguments in RESULTS {
            let output = Command::new("/usr/bin/strace")
                .args(["-f", "-qq", "-e", "trace=network", env!("CARGO_BIN_EXE_soupcon")])
                .args(*arguments)
                .env_clear()
                .output()
                .unwrap();
            let traced = String::from_utf8(output.stderr).unwrap();
            assert!(!traced.contains("socket(") && !traced.contains("connect("), "{arguments:?}: {traced}");
        }
    }
}
