//! Help, completions, manual pages, schemas, skeletons and settings, as a user or another program meets them.

use std::fs;
use std::path::Path;

use crate::common::{command, good, soupcon};

mod help {
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
}

mod completions {
    use super::*;

    #[test]
    fn five_shells_get_a_script_that_knows_every_command() {
        for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
            let script = good(&["completions", shell]).out;
            for word in ["scale", "completions", "balance"] {
                assert!(script.contains(word), "{shell} lacks {word}");
            }
        }
        assert_eq!(soupcon(&["completions", "tcsh"]).code, 2);
        assert_eq!(soupcon(&["completions", "bash", "--json"]).code, 2);
    }

    #[test]
    fn bash_takes_the_script_and_completes_a_command() {
        let script = good(&["completions", "bash"]).out;
        let ask = format!(
            "{script}\nCOMP_WORDS=(soupcon sca); COMP_CWORD=1; _soupcon soupcon sca soupcon; echo \"${{COMPREPLY[@]}}\""
        );
        let Ok(output) = std::process::Command::new("bash").args(["--norc", "-c", &ask]).output() else {
            return;
        };
        assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
        assert_eq!(String::from_utf8_lossy(&output.stdout).trim(), "scale");
    }
}

mod man {
    use super::*;

    #[test]
    fn a_page_is_the_same_every_time_and_holds_every_option() {
        let page = good(&["man", "scale"]).out;
        assert_eq!(page, good(&["man", "scale"]).out);
        assert!(page.starts_with(".ie") || page.contains(".TH SOUPCON-SCALE 1"), "{page}");
        for word in ["balance\\-max", "ascii", "EXAMPLES", "characters only"] {
            assert!(page.contains(word), "no {word}");
        }
        assert_eq!(soupcon(&["man", "scael"]).code, 2);
        assert!(soupcon(&["man", "scael"]).err.contains("did you mean scale"));
    }

    #[test]
    fn all_pages_are_written_or_none_and_pass_the_formatters_check() {
        let folder = tempfile::tempdir().unwrap();
        let pages = folder.path().join("man1");
        let write = |extra: &[&str]| {
            let mut all = vec!["man", "--dir", pages.to_str().unwrap()];
            all.extend(extra);
            soupcon(&all)
        };
        assert_eq!(write(&[]).code, 0);
        let names: Vec<String> = fs::read_dir(&pages)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        assert!(names.contains(&"soupcon.1".to_owned()) && names.contains(&"soupcon-scale.1".to_owned()));
        fs::remove_file(pages.join("soupcon-scale.1")).unwrap();
        let again = write(&[]);
        assert_eq!(again.code, 1);
        assert!(again.err.contains("--force") && !pages.join("soupcon-scale.1").exists());
        assert_eq!(write(&["--force"]).code, 0);
        for name in names {
            let lint = std::process::Command::new("mandoc")
                .args(["-T", "lint", "-W", "warning"])
                .arg(pages.join(&name))
                .output();
            // Only where the formatter is installed.
            let Ok(lint) = lint else { return };
            assert!(lint.stdout.is_empty(), "{}", String::from_utf8_lossy(&lint.stdout));
        }
    }
}

mod schema {
    use serde_json::Value;

    use super::*;
    use crate::common::schema::{departures, unknown_keys};

    const STRIP: &str = "examples/weekend-class/readings/borax-10min.csv";
    const OTHER_STRIP: &str = "examples/weekend-class/readings/metol-12min.csv";
    const STRIP_AT_10: &str = "examples/weekend-class/readings/borax-10min.csv@10min";
    const STRIP_AT_14: &str = "examples/weekend-class/readings/borax-14min.csv@14min";
    const PAPER_STRIP: &str = "examples/weekend-class/readings/paper.csv";
    const TABLET: &str = "--tablet=21x0.15+0.05";

    fn schema(name: &str) -> Value {
        good(&["schema", name]).json()
    }

    fn as_json(text: &str) -> Value {
        let table: toml::Table = toml::from_str(text).unwrap();
        serde_json::to_value(table).unwrap()
    }

    fn toml_files(folder: &Path) -> Vec<std::path::PathBuf> {
        let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        entries.filter(|path| path.extension().is_some_and(|own| own == "toml")).collect()
    }

    #[test]
    fn every_shipped_formula_and_substance_fits_its_schema() {
        let library = Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas");
        let (formula, substance) = (schema("formula"), schema("substance"));
        let mut count = 0;
        for entry in fs::read_dir(&library).unwrap() {
            let folder = entry.unwrap().path();
            let name = folder.file_name().unwrap().to_string_lossy().into_owned();
            if name == "tables" || name == "schemas" || !folder.is_dir() {
                continue;
            }
            let own = if name == "substances" { &substance } else { &formula };
            for path in toml_files(&folder) {
                let wrong = departures(own, &as_json(&fs::read_to_string(&path).unwrap()));
                assert!(wrong.is_empty(), "{}: {wrong:?}", path.display());
                count += 1;
            }
        }
        assert!(count > 300, "{count}");
    }

    #[test]
    fn a_mistake_in_a_file_is_seen_by_the_schema_too() {
        let good_one = "format = 1\ntitle = \"t\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n";
        let formula = schema("formula");
        assert!(departures(&formula, &as_json(good_one)).is_empty());
        for (from, to) in [
            ("title", "titel"),
            ("grams", "gram"),
            ("grams = 2", "grams = 0"),
            ("grams = 2", "grams = \"2 g\""),
            ("grams = 2", "grams = 2\nmillilitres = 3"),
            ("grams = 2", "millilitres = 2\nstrenght = \"10 % w/v\""),
            ("grams = 2", "amount = \"20 grain\""),
            ("memory", "published"),
            ("fixer", "fixxer"),
            ("format = 1", "format = 2"),
            (
                "[[ingredients]]",
                "[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 1\n[[ingredients]]",
            ),
        ] {
            let bad = good_one.replace(from, to);
            assert!(!departures(&formula, &as_json(&bad)).is_empty(), "not seen: {to}");
        }
    }

    #[test]
    #[allow(clippy::too_many_lines, reason = "a row a command")]
    fn what_each_command_prints_fits_its_schema_and_holds_nothing_else() {
        let runs: &[(&str, &[&str])] = &[
            ("list", &["list"]),
            ("list-near", &["list", "--near", "mq-borax-classic"]),
            ("list-wish", &["list", "sharper", "soft", "highlights"]),
            (
                "list-can-make",
                &["list", "--can-make", "--have", "metol", "--have", "sodium-sulfite-anhydrous=450g"],
            ),
            ("show", &["show", "mq-borax-classic"]),
            ("show", &["show", "pyro-metol-metaborate-staining"]),
            ("compare", &["compare", "mq-borax-classic", "pq-borax-85-sulfite"]),
            ("compare", &["compare", "two-bath-metol-sulfite-borax", "pyro-metol-metaborate-staining"]),
            ("substance-list", &["substance"]),
            ("substance-card", &["substance", "metol"]),
            ("substance-card", &["substance", "acetic-acid-28"]),
            ("scale", &["scale", "mq-borax-bromide-80-sulfite", "500ml"]),
            ("scale", &["scale", "mq-borax-classic", "--limit", "metol=3.2g"]),
            ("sheet", &["sheet", "mq-borax-bromide-80-sulfite", "500ml"]),
            ("sheet", &["sheet", "phenidone-ascorbate-tea-concentrate", "100ml"]),
            ("sheet", &["sheet", "acid-hardening-alum-boric-fixer", "2L"]),
            ("label", &["label", "mq-borax-classic", "1L"]),
            ("label", &["label", "pyro-soda-tank", "500ml", "--mixed", "2026-11-25"]),
            ("dilute", &["dilute", "1+3", "600ml"]),
            ("dilute", &["dilute", "1+2+100", "1L", "--formula", "pyro-metol-metaborate-staining"]),
            ("percent", &["percent", "potassium-bromide", "10 % w/v", "250ml"]),
            ("predict", &["predict", "mq-borax-classic", "--measured", "8.0"]),
            ("predict", &["predict", "pyro-metol-metaborate-staining"]),
            ("predict", &["predict", "phenidone-ascorbate-glycol-plus-borax"]),
            ("adjust", &["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "borax-decahydrate"]),
            ("concentrate", &["concentrate", "mq-carbonate-tray-tank", "2x"]),
            ("concentrate", &["concentrate", "mq-carbonate-tray-tank"]),
            ("exchange", &["exchange", "10g", "sodium-ascorbate", "--for", "ascorbic-acid"]),
            ("water", &["water", "1L", "--hot", "45C", "--cold", "12C", "--target", "20C"]),
            ("cool", &["cool", "1L", "--from", "46C", "--to", "20C", "--in", "water", "--around", "15C"]),
            ("replenish", &["replenish", "mq-borax-classic", "--tank", "1L", "--films", "10"]),
            (
                "bottles",
                &["bottles", "--journal", "examples/weekend-class/journal.toml", "--date", "2026-11-21"],
            ),
            (
                "shelf-left",
                &["shelf", "--shelf", "examples/weekend-class/jars.toml", "--journal", "none-yet.toml"],
            ),
            (
                "shopping",
                &[
                    "shopping",
                    "mq-borax-classic=3L",
                    "--shelf",
                    "examples/weekend-class/jars.toml",
                    "--journal",
                    "none-yet.toml",
                ],
            ),
            ("scale", &["scale", "mq-borax-classic", "2x135"]),
            ("dilute", &["dilute", "1+1", "500ml", "--formula", "mq-borax-classic", "--films", "2x135"]),
            ("evening", &["evening", "examples/weekend-class/evening.toml"]),
            ("safety", &["safety", "acetic-acid-stop-bath", "wash", "sulfide-sepia-bleach-redevelop-toner"]),
            (
                "safety",
                &["safety", "dichromate-sulfuric-reversal-bleach", "permanganate-chloride-stain-bleach"],
            ),
            ("config", &["config", "--balance", "0.01g", "--assay", "potassium-hydroxide=88%"]),
            ("schema-list", &["schema"]),
            ("time", &["time", "8min", "--from", "mq-borax-classic", "--to-temp", "22C"]),
            (
                "time",
                &[
                    "time",
                    "8:30",
                    "--from",
                    "mq-borax-classic",
                    "--to",
                    "mq-borax-bromide-80-sulfite-stronger",
                ],
            ),
            ("chart", &["chart", "8min", "--from", "mq-borax-classic"]),
            ("exposure", &["exposure", "change", "12s", "--stops", "+1/3"]),
            ("curve", &["curve", STRIP, OTHER_STRIP, TABLET, "--lux", "10", "--seconds", "1/20"]),
            ("curve", &["curve", STRIP_AT_10, STRIP_AT_14, TABLET]),
            ("curve", &["curve", PAPER_STRIP, "--reflection"]),
            ("curve-speed", &["curve", "speed", "437"]),
            ("curve-density", &["curve", "density", STRIP, TABLET, "--at", "-1.5"]),
            ("factorial", &["factorial", "30s", "--agent", "pyro=4", "--agent", "metol=2"]),
        ];
        for (name, arguments) in runs {
            let mut all = arguments.to_vec();
            all.push("--json");
            let (schema, document) = (schema(name), good(&all).json());
            assert_eq!(departures(&schema, &document), Vec::<String>::new(), "{arguments:?}");
            assert_eq!(unknown_keys(&schema, &document), Vec::<String>::new(), "{arguments:?}");
        }
        let folder = tempfile::tempdir().unwrap();
        let journal = folder.path().join("journal.toml");
        let journal = journal.to_str().unwrap();
        let developed = [
            "record",
            "add",
            "developed",
            "8:30",
            "--film",
            "my film",
            "--formula",
            "mq-borax-classic",
            "--json",
        ];
        let mut add = developed.to_vec();
        add.extend(["--date", "2026-11-25", "--verdict", "right", "--journal", journal]);
        let list = ["record", "list", "--journal", journal, "--json"];
        for (name, arguments) in [("record-add", &add[..]), ("record-list", &list[..])] {
            let (schema, document) = (schema(name), good(arguments).json());
            assert_eq!(departures(&schema, &document), Vec::<String>::new(), "{arguments:?}");
            assert_eq!(unknown_keys(&schema, &document), Vec::<String>::new(), "{arguments:?}");
        }
        let findings = soupcon(&["check", "tests/refused", "--json"]);
        assert_eq!(findings.code, 1);
        assert_eq!(departures(&schema("check"), &findings.json()), Vec::<String>::new());
        let error = soupcon(&["show", "mq-borax-clasic", "--json"]);
        let error: Value = serde_json::from_str(&error.err).unwrap();
        assert_eq!(departures(&schema("error"), &error), Vec::<String>::new());
        // No schema without a run of its own.
        let names = good(&["schema", "--json"]).json();
        let elsewhere = [
            "formula",
            "substance",
            "shelf",
            "configuration",
            "evening-file",
            "check",
            "record-add",
            "record-list",
            "error",
        ];
        for own in names["schemas"].as_array().unwrap() {
            let name = own["name"].as_str().unwrap();
            assert!(
                elsewhere.contains(&name) || runs.iter().any(|(own, _)| *own == name),
                "{name} is not tried"
            );
        }
    }

    #[test]
    fn a_mistyped_name_gets_a_suggestion_and_a_file_is_not_overwritten() {
        let ran = soupcon(&["schema", "formla"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("'formula'"), "{}", ran.err);
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("formula.schema.json");
        let path = path.to_str().unwrap();
        assert_eq!(soupcon(&["schema", "formula", "-o", path]).code, 0);
        assert_eq!(fs::read_to_string(path).unwrap(), good(&["schema", "formula"]).out);
        assert_eq!(soupcon(&["schema", "formula", "-o", path]).code, 1);
    }
}

mod skeletons {
    use super::*;

    /// Fills in the marked lines of a skeleton.
    fn filled(kind: &str, values: &[(&str, &str)]) -> String {
        let mut text = good(&["new", kind]).out;
        for (from, to) in values {
            let line = text.lines().find(|line| line.starts_with(from) && line.contains("FILL IN")).unwrap();
            let with = line.replacen(from, to, 1).replace("FILL IN", "filled in");
            text = text.replacen(line, &with, 1);
        }
        assert_eq!(text.lines().filter(|line| line.contains("FILL IN") && !line.starts_with('#')).count(), 0);
        text
    }

    /// Wakes the lines that are asleep.
    fn awake(text: &str) -> String {
        let wake = |line: &str| {
            let rest = line.strip_prefix('#').unwrap_or(line);
            if rest.starts_with(|first: char| first.is_ascii_lowercase() || first == '[') {
                rest
            } else {
                line
            }
            .to_owned()
        };
        text.lines().map(wake).collect::<Vec<_>>().join("\n") + "\n"
    }

    const FORMULA: &[(&str, &str)] = &[
        ("title = \"\"", "title = \"Metol-sulfite developer, 100 g sulfite\""),
        ("summary = \"\"", "summary = \"Fine grain.\""),
        ("substance = \"\"", "substance = \"metol\""),
        ("grams = 0", "grams = 7.5"),
    ];
    const SUBSTANCE: &[(&str, &str)] = &[
        ("name = \"\"", "name = \"our restrainer\""),
        ("id = \"\"", "id = \"our-restrainer\""),
        ("name = \"\"", "name = \"our restrainer\""),
    ];

    #[test]
    fn a_filled_formula_is_shown_checked_and_mixed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("my-metol-developer.toml");
        let name = path.to_str().unwrap();
        for text in [filled("formula", FORMULA), awake(&filled("formula", FORMULA))] {
            fs::write(&path, &text).unwrap();
            good(&["show", name]);
            good(&["sheet", name, "1L"]);
            let check = soupcon(&["check", name]);
            assert_eq!(check.code, 0, "{}", check.whole());
        }
        let unfilled = good(&["new", "formula"]).out;
        fs::write(&path, unfilled).unwrap();
        let ran = soupcon(&["show", name]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("title") && ran.err.contains("substance"), "{}", ran.err);
    }

    #[test]
    fn a_filled_substance_is_checked_and_weighed() {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("substances")).unwrap();
        let path = folder.path().join("substances/our-restrainer.toml");
        let library = folder.path().to_str().unwrap();
        for text in [filled("substance", SUBSTANCE), awake(&filled("substance", SUBSTANCE))] {
            fs::write(&path, &text).unwrap();
            let card = good(&["substance", "our-restrainer", "--library", library]).out;
            assert!(card.contains("our restrainer"));
            let check = soupcon(&["check", library]);
            assert!(!check.out.contains(": error:"), "{}", check.whole());
        }
    }

    #[test]
    fn a_filled_shelf_and_configuration_are_read() {
        let folder = tempfile::tempdir().unwrap();
        let shelf = folder.path().join("shelf.toml");
        fs::write(&shelf, filled("shelf", &[("  \"\"", "  \"hydroquinone\"")])).unwrap();
        good(&["list", "--can-make", "--shelf", shelf.to_str().unwrap()]);
        let path = folder.path().join("config.toml");
        fs::create_dir(folder.path().join("library")).unwrap();
        for text in [good(&["new", "configuration"]).out, awake(&good(&["new", "configuration"]).out)] {
            fs::write(&path, text).unwrap();
            let output = command(&["config"]).env("SOUPCON_CONFIG", &path).output().unwrap();
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        }
    }

    #[test]
    fn a_skeleton_names_its_schema_fits_it_and_overwrites_nothing() {
        let folder = tempfile::tempdir().unwrap();
        for kind in ["formula", "substance", "shelf", "configuration"] {
            let text = good(&["new", kind]).out;
            let schema = format!("#:schema ./{kind}.schema.json\n");
            assert!(
                text.starts_with(&schema)
                    && text.contains(&format!("soupcon schema {kind} -o {kind}.schema.json"))
            );
            let path = folder.path().join(format!("{kind}.toml"));
            let path = path.to_str().unwrap();
            assert_eq!(soupcon(&["new", kind, "-o", path]).code, 0);
            assert_eq!(fs::read_to_string(path).unwrap(), text);
            fs::write(path, "mine").unwrap();
            assert_eq!(soupcon(&["new", kind, "-o", path]).code, 1);
            assert_eq!(fs::read_to_string(path).unwrap(), "mine");
            assert_eq!(soupcon(&["new", kind, "-o", path, "--force"]).code, 0);
        }
        for (kind, values) in [("formula", FORMULA), ("substance", SUBSTANCE)] {
            let text = awake(&filled(kind, values));
            let value = serde_json::to_value(toml::from_str::<toml::Table>(&text).unwrap()).unwrap();
            let schema = good(&["schema", kind]).json();
            assert_eq!(crate::common::schema::departures(&schema, &value), Vec::<String>::new());
        }
    }
}

mod configuration {
    use super::*;

    const TEXT: &str = "# mine\nbalance = \"0.01 g\"\nhot_tap = \"48 C\"\ncold_tap = \"12 C\"\n[assay]\npotassium-hydroxide = \"88 %\"\n";

    /// Runs with a configuration file in a home of its own, and with variables.
    fn with(text: &str, variables: &[(&str, &str)], arguments: &[&str]) -> crate::common::Ran {
        let home = tempfile::tempdir().unwrap();
        fs::create_dir_all(home.path().join(".config/soupcon")).unwrap();
        fs::write(home.path().join(".config/soupcon/config.toml"), text).unwrap();
        let mut command = command(arguments);
        command.env("HOME", home.path()).envs(variables.iter().copied());
        command.output().unwrap().into()
    }

    fn setting(ran: &crate::common::Ran, name: &str) -> (serde_json::Value, serde_json::Value) {
        let json = ran.json();
        let own =
            json["settings"].as_array().unwrap().iter().find(|own| own["name"] == name).unwrap().clone();
        (own["value"].clone(), own["origin"].clone())
    }

    #[test]
    fn option_goes_before_environment_before_file_before_default() {
        let ask = ["config", "--json"];
        let environment = [("SOUPCON_BALANCE", "0.05g"), ("SOUPCON_ASSAY", "potassium-hydroxide=85%")];
        let mut option = ask.to_vec();
        option.extend(["--balance", "1g", "--assay", "potassium-hydroxide=90%"]);
        for (text, variables, arguments, balance, assay, origin) in [
            (TEXT, &environment[..], &option[..], "1 g", "90 %", "flag"),
            (TEXT, &environment[..], &ask[..], "0.05 g", "85 %", "environment"),
            (TEXT, &[][..], &ask[..], "0.01 g", "88 %", "file"),
        ] {
            let ran = with(text, variables, arguments);
            assert_eq!(setting(&ran, "balance"), (balance.into(), origin.into()), "{}", ran.whole());
            assert_eq!(setting(&ran, "assay"), (assay.into(), origin.into()));
        }
        let ran = with("", &[], &ask);
        assert_eq!(setting(&ran, "balance"), ("0.1 g".into(), "default".into()));
        assert_eq!(setting(&ran, "hot_tap"), (serde_json::Value::Null, "default".into()));
        let ran = with("", &[("SOUPCON_BALANCE", "")], &ask);
        assert_eq!(setting(&ran, "balance").1, "default", "an empty variable counts as unset");
    }

    #[test]
    fn the_settings_are_used() {
        let scale = ["scale", "mq-caustic-potash-two-solution", "100ml", "--json"];
        let items = |ran: &crate::common::Ran| ran.json()["parts"][1]["items"][0].clone();
        let (with_file, without) = (items(&with(TEXT, &[], &scale)), items(&with("", &[], &scale)));
        let ratio = with_file["amount"].as_f64().unwrap() / without["amount"].as_f64().unwrap();
        assert!((ratio - 1.0 / 0.88).abs() < 1e-9, "{ratio}");
        assert!(with_file["advice"][0].as_str().unwrap().contains("88 %"), "{with_file}");
        // To a hundredth of a gram, not to a tenth.
        assert!((with_file["weigh"].as_f64().unwrap() * 10.0).fract() > 0.05);
        let show = ["show", "mq-borax-classic", "--format", "html"];
        assert!(with("paper = \"letter\"\n", &[], &show).out.contains("size: letter"));
        assert!(with("paper = \"letter\"\n", &[("SOUPCON_PAPER", "A4")], &show).out.contains("size: a4"));
        let water = ["water", "1L", "--target", "20C", "--json"];
        assert_eq!(with(TEXT, &[], &water).code, 0);
        let ran = with("", &[], &water);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("hot_tap"), "{}", ran.err);
    }

    #[test]
    fn a_folder_of_the_file_is_part_of_the_library() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("darkroom/film-developer");
        fs::create_dir_all(&folder).unwrap();
        let formula = "format = 1\ntitle = \"Mine\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 3\n";
        fs::write(folder.join("mine.toml"), formula).unwrap();
        let path = home.path().join("config.toml");
        for library in ["darkroom", "~/darkroom"] {
            fs::write(&path, format!("library = [\"{library}\"]\n")).unwrap();
            let output = command(&["show", "mine"])
                .env("SOUPCON_CONFIG", &path)
                .env("HOME", home.path())
                .output()
                .unwrap();
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        }
    }

    #[test]
    fn a_broken_file_is_told_with_its_line_by_every_command_and_never_ignored() {
        let mut report = String::new();
        for text in [
            "balence = \"0.1 g\"\n",
            "\nbalance = 0.1\n",
            "balance = \"0.1\"\npaper = \"lettre\"\n",
            "library = [\"nowhere\"]\n",
            "library = \"darkroom\"\n",
            "[assay]\npotasium-hydroxide = \"88 %\"\n",
            "[assay]\npotassium-hydroxide = \"120 %\"\n",
            "balance = \"0.1 g\nhot_tap = \"20 C\"\n",
            "hot_tap = \"200 C\"\n",
            "format = 2\n",
            "balance = \"0,1 g\"\n",
            "a = \"\u{202e}\"\n",
        ] {
            let ran = with(text, &[], &["scale", "mq-borax-classic", "1L"]);
            assert_eq!(ran.code, 2, "{text}: {}", ran.whole());
            assert!(ran.out.is_empty());
            let start = ran.err.find("/.config").unwrap_or_else(|| panic!("{}", ran.err));
            assert!(ran.err[start..].starts_with("/.config/soupcon/config.toml:"), "{}", ran.err);
            let home = ran.err["error: ".len()..start].to_owned();
            report.push_str(&format!("# {text:?}\n{}\n", ran.err.replace(&home, "~")));
        }
        insta::assert_snapshot!(report);
        // A mistyped form too, by commands that use no assay, and in the environment.
        let mistyped = "[assay]\npotasium-hydroxide = \"88 %\"\n";
        for arguments in
            [&["list"][..], &["show", "metol-sulfite"], &["dilute", "1+3", "600ml"], &["check", "formulas"]]
        {
            let ran = with(mistyped, &[], arguments);
            assert_eq!(ran.code, 2, "{arguments:?}: {}", ran.whole());
            assert!(ran.err.contains("config.toml:2: assay: no substance is called"), "{}", ran.err);
            let ran = with("", &[("SOUPCON_ASSAY", "potasium-hydroxide=88%")], arguments);
            assert!(ran.code == 2 && ran.err.contains("SOUPCON_ASSAY: no substance"), "{}", ran.err);
        }
        // A shell that starts with the completions must start all the same.
        assert_eq!(with("broken", &[], &["completions", "bash"]).code, 0);
        assert_eq!(with("broken", &[], &["new", "configuration"]).code, 0);
    }

    /// 10 g / 56.105 g/mol × 39.997 g/mol (IUPAC 2021), and 85 % of it.
    #[test]
    fn an_assay_of_every_day_is_of_the_jar_on_the_shelf_and_not_of_the_recipe() {
        let ask = |to: &str, text: &str, options: &[&str]| {
            let mut all = vec!["exchange", "10g", "potassium-hydroxide", "--for", to, "--json"];
            all.extend(options);
            with(text, &[], &all).json()["result_g"].as_f64().unwrap()
        };
        let option = ["--assay", "potassium-hydroxide=85%"];
        let file = "[assay]\npotassium-hydroxide = \"85 %\"\n";
        for (own, expected) in [
            (ask("sodium-hydroxide", file, &[]), 7.129),
            (ask("sodium-hydroxide", "", &option), 6.060),
            (ask("potassium-hydroxide", file, &[]), 11.765),
            (ask("potassium-hydroxide", "", &option), 11.765),
        ] {
            assert!((own - expected).abs() < 0.001, "{own} for {expected}");
        }
    }

    #[test]
    fn without_a_home_and_without_a_file_all_is_well() {
        assert!(good(&["config"]).out.contains("none: neither HOME nor SOUPCON_CONFIG is set"));
        let output =
            command(&["list"]).env("HOME", "/nowhere").env("XDG_CONFIG_HOME", "relative").output().unwrap();
        assert!(output.status.success());
        let output = command(&["list"]).env("SOUPCON_CONFIG", "/nowhere/config.toml").output().unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&output.stderr).contains("SOUPCON_CONFIG"));
    }

    #[test]
    fn settings_read_well_at_80_columns() {
        let ran = with(TEXT, &[("SOUPCON_BALANCE_MAX", "200g")], &["config", "--cold", "9C"]);
        let (_, table) = ran.out.split_once("\n\n").unwrap();
        insta::assert_snapshot!(table);
    }

    #[test]
    fn a_broken_variable_is_told_by_its_name() {
        for (variable, text) in [
            ("SOUPCON_BALANCE", "heavy"),
            ("SOUPCON_ASSAY", "potassium-hydroxide"),
            ("SOUPCON_ASSAY", "x=88%"),
        ] {
            let ran = with("", &[(variable, text)], &["scale", "mq-borax-classic", "1L"]);
            assert_eq!(ran.code, 2);
            assert!(ran.err.starts_with(&format!("error: {variable}: ")), "{}", ran.err);
        }
    }
}
