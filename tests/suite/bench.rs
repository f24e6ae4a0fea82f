//! How long the work takes: `cargo test --release --test suite bench:: -- --ignored --nocapture`.
//!
//! A measurement, not a check: it fails only where something is so slow that a person would wait for it.

use crate::common::shipped::{Tables, tables};
use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use soupcon::bench::{adapter::material, bench_sheet, words::BenchWords};
use soupcon::formula::Formula;
use soupcon::library::Library;
use soupcon::predict::additions;
use soupcon::predict::report::{Question, Sources, report};
use soupcon::quantity::Volume;
use soupcon::render::TextStyle;
use soupcon::render::bench::bench_text;
use soupcon::scale::{Request, scale};
use soupcon::sheet::sheet;
use soupcon::solution::{Addition, Equilibria, predict};
use soupcon::substance::Form;
use soupcon::vessel::Vessel;

/// Longest that a person does not notice, µs.
const NOT_NOTICED_US: f64 = 50_000.0;

/// Mean µs of a run, over so many after some to warm up.
fn micros(rounds: u32, mut work: impl FnMut()) -> f64 {
    for _ in 0..=rounds / 10 {
        work();
    }
    let start = Instant::now();
    for _ in 0..rounds {
        work();
    }
    start.elapsed().as_secs_f64() * 1e6 / f64::from(rounds)
}

fn told(what: &str, each: &str, time: f64) {
    println!("{what:<62} {time:>9.1} µs {each}");
    assert!(time < NOT_NOTICED_US, "{what}: {time:.0} µs");
}

/// Every part of the shipped developers, fixers and baths that the model takes.
fn solutions(library: &Library, equilibria: &Equilibria) -> Vec<Vec<Addition>> {
    let (formulas, _) = library.formulas().unwrap();
    formulas
        .iter()
        .flat_map(|found| &found.formula.parts)
        .filter(|part| part.solvent.is_none())
        .filter_map(|part| additions(equilibria, &Vessel::of_part(part), "it").ok())
        .filter(|list| predict(equilibria, list, 20.0).is_ok())
        .collect()
}

#[test]
#[ignore = "a measurement, not a check"]
fn time_of_a_prediction() {
    let library = Library::shipped();
    let table = library.table("equilibria.toml").unwrap();
    told(
        "reading the table of equilibria",
        "once a run",
        micros(20, || {
            black_box(Equilibria::parse(black_box(table)).unwrap());
        }),
    );
    let equilibria = Equilibria::parse(table).unwrap();
    let all = solutions(&library, &equilibria);
    let count = f64::from(u32::try_from(all.len()).unwrap());
    let time = micros(20, || {
        for list in &all {
            black_box(predict(&equilibria, black_box(list), 20.0).unwrap());
        }
    });
    told(&format!("predicting pH, buffering and error, mean of {count} parts"), "each", time / count);
    for id in ["mq-borax-classic", "acid-hardening-alum-boric-fixer", "ph-standard-borax"] {
        let formula = library.formula(id).unwrap().formula;
        let list = additions(&equilibria, &Vessel::of_part(&formula.parts[0]), "it").unwrap();
        let time = micros(2000, || {
            black_box(predict(&equilibria, black_box(&list), 20.0).unwrap());
        });
        told(&format!("  {id}"), "each", time);
    }
    let formula = library.formula("mq-borax-classic").unwrap().formula;
    let siblings = |parent: &str| -> Vec<Arc<Form>> {
        library.substance(parent).unwrap().map(|own| own.forms.clone()).unwrap_or_default()
    };
    let sources = Sources { equilibria: &equilibria, weights: library.weights(), siblings: &siblings };
    let time = micros(100, || {
        black_box(report(sources, &formula, &Question::usual()).unwrap());
    });
    told("the whole report of mq-borax-classic, its table of slips included", "each", time);
}

#[test]
#[ignore = "a measurement, not a check"]
fn time_of_a_sheet() {
    let library = Library::shipped();
    let Tables { safety, relations, equilibria } = tables();
    let words = BenchWords::parse(library.table("bench-words.toml").unwrap()).unwrap();
    let request = Request::volume(Volume::from_ml(1000.0));
    for id in ["mq-borax-classic", "acid-hardening-alum-boric-fixer"] {
        let text = Library::shipped_files()
            .iter()
            .find(|(path, _)| path.ends_with(&format!("/{id}.toml")))
            .unwrap()
            .1;
        let parse = || -> Formula { library.formula_from_text(text, id, id).unwrap().formula };
        let formula = parse();
        told(
            &format!("reading the formula {id}"),
            "each",
            micros(200, || {
                black_box(parse());
            }),
        );
        told(
            "  scaling it to a litre",
            "each",
            micros(500, || {
                black_box(scale(&formula, &request, relations).unwrap());
            }),
        );
        told(
            "  scaling, ordering, safety, heat and pH: the sheet",
            "each",
            micros(200, || {
                let batch = scale(&formula, &request, relations).unwrap();
                black_box(sheet(&formula, &batch, safety, equilibria).unwrap());
            }),
        );
        let batch = scale(&formula, &request, relations).unwrap();
        let done = sheet(&formula, &batch, safety, equilibria).unwrap();
        told(
            "  printing it as text",
            "each",
            micros(200, || {
                let bench = bench_sheet(&material(&done, String::new()), &words, &[]);
                black_box(bench_text(&bench, TextStyle { width: 80, bold: false }, false));
            }),
        );
    }
}
