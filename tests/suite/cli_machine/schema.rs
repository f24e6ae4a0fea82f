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
        ("bottles", &["bottles", "--journal", "examples/weekend-class/journal.toml", "--date", "2026-11-21"]),
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
        ("safety", &["safety", "dichromate-sulfuric-reversal-bleach", "permanganate-chloride-stain-bleach"]),
        ("config", &["config", "--balance", "0.01g", "--assay", "potassium-hydroxide=88%"]),
        ("schema-list", &["schema"]),
        ("time", &["time", "8min", "--from", "mq-borax-classic", "--to-temp", "22C"]),
        (
            "time",
            &["time", "8:30", "--from", "mq-borax-classic", "--to", "mq-borax-bromide-80-sulfite-stronger"],
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
    // Every no is a document on standard output, whatever the command.
    for no in [
        &["scale", "mq-borax-classic", "201L"][..],
        &["sheet", "mq-borax-classic", "1L", "--limit", "metol=0.001g", "--balance", "0.1g"],
        &["label", "peroxide-ammonia-thiosulfate-eliminator", "500ml"],
        &["adjust", "mq-borax-classic", "--ph", "2", "--using", "borax-decahydrate"],
        &["concentrate", "phenidone-ascorbate-tea-concentrate"],
        &["cool", "1L", "--from", "50C", "--to", "5C", "--in", "air", "--around", "18C"],
        &["water", "1L", "--target", "20C", "--hot", "30C", "--cold", "25C"],
        &["replenish", "two-bath-metol-sulfite-borax", "--tank", "1L", "--films", "1"],
        &["predict", "p-aminophenol-sodium-hydroxide-concentrate"],
    ] {
        let ran = soupcon(&[no, &["--json"]].concat());
        assert_eq!(ran.code, 1, "{no:?}: {}", ran.whole());
        let document = ran.json();
        if no[0] != "predict" {
            assert_eq!(departures(&schema("refused"), &document), Vec::<String>::new(), "{no:?}");
            assert_eq!(unknown_keys(&schema("refused"), &document), Vec::<String>::new(), "{no:?}");
        }
        let refusal = &document["refusals"][0];
        assert!(refusal["text"].as_str().unwrap().len() > 20 && !ran.err.contains("\"error\""), "{no:?}");
    }
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
        "refused",
        "error",
    ];
    for own in names["schemas"].as_array().unwrap() {
        let name = own["name"].as_str().unwrap();
        assert!(elsewhere.contains(&name) || runs.iter().any(|(own, _)| *own == name), "{name} is not tried");
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
