//! The shipped library as batches with their labels.

use soupcon::bath::{ClassRules, days};
use soupcon::bench::adapter::material;
use soupcon::bench::words::BenchWords;
use soupcon::bench::{BenchSheet, bench_sheet};
use soupcon::label::sheets::LabelSheets;
use soupcon::label::{Label, labels};
use soupcon::library::Library;
use soupcon::quantity::Volume;
use soupcon::render::label::gravest;
use soupcon::render::life::label_rule;
use soupcon::safety::SafetyData;
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Request, scale};
use soupcon::sheet::{MixingSheet, sheet};
use soupcon::solution::Equilibria;

/// The tables that a sheet is worked out with.
pub(crate) struct Tables {
    pub(crate) safety: SafetyData,
    pub(crate) relations: Relations,
    pub(crate) equilibria: Equilibria,
}

/// Those of the library, from their texts.
pub(crate) fn tables(library: &Library) -> Tables {
    let table = |name: &str| library.table(name).unwrap();
    Tables {
        safety: SafetyData::parse(
            table("statements.toml"),
            table("combinations.toml"),
            table("precautions.toml"),
        )
        .unwrap(),
        relations: Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap(),
        equilibria: Equilibria::parse(table("equilibria.toml")).unwrap(),
    }
}

/// The bench side of a sheet.
pub(crate) fn bench_of(mixing: &MixingSheet) -> BenchSheet {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let words = BenchWords::parse(table("bench-words.toml")).unwrap();
    bench_sheet(&material(mixing, String::new()), &words, &[])
}

/// What the command sets on its labels beside what the sheet says: how long it keeps by rule, and the gravest in few words.
pub(crate) fn as_the_command(mixing: &MixingSheet, labels: &mut [Label]) {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let words = BenchWords::parse(table("bench-words.toml")).unwrap();
    let rules = ClassRules::parse(table("class-rules.toml"), "class-rules.toml").unwrap();
    for label in labels {
        let part = mixing.formula.parts.iter().find(|part| part.name == label.part).unwrap();
        label.by_rule = label_rule(&days(&mixing.formula, part, false, &rules));
        label.gravest = gravest(label, &words);
    }
}

/// Each formula of the shipped library that has a sheet, with the labels of a litre of each part.
pub(crate) struct Shipped {
    pub(crate) sheets: LabelSheets,
    pub(crate) batches: Vec<(MixingSheet, Vec<Label>)>,
}

pub(crate) fn shipped() -> Shipped {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let Tables { safety, relations, equilibria } = tables(&library);
    let sheets = LabelSheets::parse(table("label-sheets.toml"), "label-sheets.toml").unwrap();
    let (found, _) = library.formulas().unwrap();
    let mut batches = Vec::new();
    for formula in found.iter().map(|found| &found.formula) {
        let Ok(batch) = scale(formula, &Request::volume(Volume::from_ml(1000.0)), &relations) else {
            continue;
        };
        let Ok(mixing) = sheet(formula, &batch, &safety, &equilibria) else { continue };
        let mut own = labels(&mixing, None, None).unwrap_or_default();
        as_the_command(&mixing, &mut own);
        batches.push((mixing, own));
    }
    assert!(batches.iter().map(|(_, labels)| labels.len()).sum::<usize>() > 200);
    Shipped { sheets, batches }
}
