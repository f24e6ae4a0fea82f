//! The bench page: names of chemicals, the table of its words, what it holds and how many lines and pages it takes.

use std::collections::BTreeMap;
use std::rc::Rc;

use soupcon::bench::words::BenchWords;
use soupcon::library::Library;
use soupcon::substance::{Form, Signal, Substance};

/// Every shipped substance.
fn substances(library: &Library) -> Vec<Substance> {
    let shipped = Library::shipped_files();
    let files = shipped.iter().filter_map(|(path, text)| {
        let id = path.strip_prefix("substances/")?.strip_suffix(".toml")?;
        Some((id, *text))
    });
    files.map(|(id, text)| Substance::parse(text, id, id, library.weights()).unwrap()).collect()
}

fn forms(library: &Library) -> Vec<Rc<Form>> {
    substances(library).into_iter().flat_map(|own| own.forms).collect()
}

fn words() -> BenchWords {
    BenchWords::parse(Library::shipped().table("bench-words.toml").unwrap()).unwrap()
}

/// Where several forms are sold, the name says which: words and signs for water of crystallisation, for strength, for the dry salt.
const TELLS_THE_FORM: &[&str] = &["anhydrous", "anh.", "hydrate", "H2O", "%", "glacial", "dry", "flake"];

#[test]
fn bench_names_are_short_unlike_each_other_and_tell_the_form() {
    let library = Library::shipped();
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    for substance in substances(&library) {
        for form in &substance.forms {
            let name = &form.bench_name;
            assert!(name.chars().count() <= 24, "{name} has more than 24 letters");
            if let Some(other) = seen.insert(name.to_lowercase(), form.id.clone()) {
                panic!("{} and {other} are both called {name}", form.id);
            }
            let is_told = TELLS_THE_FORM.iter().any(|sign| name.contains(sign));
            assert!(substance.forms.len() == 1 || is_told, "{name} does not say which form it is");
        }
    }
    assert!(seen.len() > 150);
}

/// A hydrate's count on the page is that of its chemical formula (`Na2CO3.10H2O` is `10H2O`).
#[test]
fn the_water_in_a_bench_name_is_that_of_the_crystals() {
    let greek = [
        ("monohydrate", 1.0),
        ("dihydrate", 2.0),
        ("tetrahydrate", 4.0),
        ("pentahydrate", 5.0),
        ("heptahydrate", 7.0),
        ("decahydrate", 10.0),
        ("anhydrous", 0.0),
        ("anh.", 0.0),
    ];
    let mut told = 0;
    for form in forms(&Library::shipped()) {
        let last = form.bench_name.rsplit([' ', '(']).next().unwrap().trim_end_matches(')');
        let counted = last.strip_suffix("H2O").map(|count| count.parse::<f64>().unwrap());
        let named = greek.iter().find(|(word, _)| last.ends_with(word)).map(|(_, count)| *count);
        if let Some(count) = counted.or(named) {
            assert!((form.crystal_water - count).abs() < 1e-9, "{}: {}", form.id, form.bench_name);
            told += 1;
        }
    }
    assert!(told > 40, "{told}");
}

/// Every statement that asks for the signal word Danger (CLP, Annex I) is told on the bench, and so is cancer, unborn child, allergy.
#[test]
fn every_dangerous_statement_has_a_phrase() {
    let words = words();
    for form in forms(&Library::shipped()) {
        let hazards = &form.hazards;
        if hazards.signal != Some(Signal::Danger) {
            continue;
        }
        let told = hazards.statements.iter().chain(&hazards.supplementary);
        let told = told.filter(|code| words.row_of(code).is_some()).count();
        assert!(told > 0, "{} is dangerous and no phrase tells it: {:?}", form.id, hazards.statements);
    }
    for (code, id) in [
        ("H350", "cancer"),
        ("H350i", "cancer"),
        ("H360FD", "pregnancy"),
        ("H314", "burns"),
        ("H317", "skin-allergy"),
    ] {
        assert_eq!(words.row_of(code).unwrap().1.id, id);
    }
    assert!(words.row_of("H36").is_none() && words.row_of("H3601").is_none());
}

/// The page has a line for every box and gas of the tables of safety.
#[test]
fn boxes_and_gases_of_the_precautions_have_their_line() {
    let text = Library::shipped().table("precautions.toml").unwrap();
    let table: toml::Table = text.parse().unwrap();
    let ids = |array: &str| -> Vec<String> {
        let rows = table[array].as_array().unwrap().iter();
        rows.map(|row| row["id"].as_str().unwrap().to_owned()).collect()
    };
    let words = words();
    let (boxes, gases) = words.ids();
    for id in ids("boxes") {
        assert!(boxes.contains(&id.as_str()), "no line for the box {id}");
    }
    for id in ids("gases") {
        assert!(gases.contains(&id.as_str()), "no line for the gas {id}");
    }
}

#[test]
fn a_bench_name_that_is_too_long_is_refused() {
    let library = Library::shipped();
    let text = "format = 1\nname = \"soda\"\n[[forms]]\nid = \"soda\"\nname = \"soda\"\nbench_name = \"sodium carbonate, anhydrous\"\n";
    let findings = Substance::parse(text, "soda", "soda.toml", library.weights()).unwrap_err();
    assert_eq!(findings[0].code, "bench-name");
    let short = text.replace("sodium carbonate, anhydrous", "washing soda");
    assert_eq!(
        Substance::parse(&short, "soda", "soda.toml", library.weights()).unwrap().forms[0].bench_name,
        "washing soda"
    );
    let without: String =
        text.lines().filter(|line| !line.starts_with("bench_name")).map(|line| format!("{line}\n")).collect();
    assert_eq!(
        Substance::parse(&without, "soda", "soda.toml", library.weights()).unwrap().forms[0].bench_name,
        "soda"
    );
}
