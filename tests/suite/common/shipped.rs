//! The shipped library as formulas, sheets and labels, each worked out once for all the tests of a run.

use std::sync::LazyLock;

use soupcon::bath::{ClassRules, days};
use soupcon::bench::adapter::material;
use soupcon::bench::words::BenchWords;
use soupcon::bench::{BenchSheet, bench_sheet};
use soupcon::formula::Formula;
use soupcon::label::sheets::LabelSheets;
use soupcon::label::{Label, labels};
use soupcon::library::Library;
use soupcon::quantity::Volume;
use soupcon::render::label::gravest;
use soupcon::render::life::label_rule;
use soupcon::safety::SafetyData;
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Request, scale};
use soupcon::sheet::{MixingSheet, assemble};
use soupcon::solution::Equilibria;

/// The tables that a sheet is worked out with.
pub(crate) struct Tables {
    pub(crate) safety: SafetyData,
    pub(crate) relations: Relations,
    pub(crate) equilibria: Equilibria,
}

/// The text of a shipped table.
fn table(name: &str) -> &'static str {
    Library::shipped().table(name).unwrap()
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables {
    safety: SafetyData::parse(
        table("statements.toml"),
        table("combinations.toml"),
        table("precautions.toml"),
    )
    .unwrap(),
    relations: Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap(),
    equilibria: Equilibria::parse(table("equilibria.toml")).unwrap(),
});

/// Those of the library, from their texts.
pub(crate) fn tables() -> &'static Tables {
    &TABLES
}

static FORMULAS: LazyLock<Vec<Formula>> = LazyLock::new(|| {
    let (found, findings) = Library::shipped().formulas().unwrap();
    assert!(findings.is_empty(), "{findings:?}");
    assert!(found.len() > 200);
    found.into_iter().map(|found| found.formula).collect()
});

/// Every formula of the library.
pub(crate) fn formulas() -> &'static [Formula] {
    &FORMULAS
}

static SHEETS: LazyLock<Vec<MixingSheet>> = LazyLock::new(|| {
    let (Tables { safety, relations, equilibria }, library) = (tables(), Library::shipped());
    let request = Request::volume(Volume::from_ml(1000.0));
    let one = |formula: &Formula| {
        let batch = scale(formula, &request, relations).unwrap();
        let mut sheet = assemble(formula, &batch, safety, equilibria);
        sheet.tell_crystals(equilibria, library.weights());
        sheet
    };
    formulas().iter().map(one).collect()
});

/// Every formula of the library at a litre of each part, with what is said against it.
pub(crate) fn sheets() -> &'static [MixingSheet] {
    &SHEETS
}

static WORDS: LazyLock<BenchWords> = LazyLock::new(|| BenchWords::parse(table("bench-words.toml")).unwrap());
static RULES: LazyLock<ClassRules> =
    LazyLock::new(|| ClassRules::parse(table("class-rules.toml"), "class-rules.toml").unwrap());

/// The bench side of a sheet.
pub(crate) fn bench_of(mixing: &MixingSheet) -> BenchSheet {
    bench_sheet(&material(mixing, String::new()), &WORDS, &[])
}

/// What the command sets on its labels beside what the sheet says: how long it keeps by rule, and the gravest in few words.
pub(crate) fn as_the_command(mixing: &MixingSheet, labels: &mut [Label]) {
    for label in labels {
        let part = mixing.formula.parts.iter().find(|part| part.name == label.part).unwrap();
        label.by_rule = label_rule(&days(&mixing.formula, part, false, &RULES));
        label.gravest = gravest(label, &WORDS);
    }
}

/// Each formula of the shipped library that has a sheet, with the labels of a litre of each part; not told what crystallises in the cold.
pub(crate) struct Shipped {
    pub(crate) sheets: LabelSheets,
    pub(crate) batches: Vec<(MixingSheet, Vec<Label>)>,
}

static SHIPPED: LazyLock<Shipped> = LazyLock::new(|| {
    let with_labels = |mixing: &MixingSheet| {
        let mut mixing = mixing.clone();
        mixing.parts.iter_mut().for_each(|part| part.crystals = None);
        let mut own = labels(&mixing, None, None).unwrap_or_default();
        as_the_command(&mixing, &mut own);
        (mixing, own)
    };
    let batches: Vec<_> = sheets().iter().filter(|own| own.objections.is_empty()).map(with_labels).collect();
    assert!(batches.iter().map(|(_, labels)| labels.len()).sum::<usize>() > 200);
    let sheets = LabelSheets::parse(table("label-sheets.toml"), "label-sheets.toml").unwrap();
    Shipped { sheets, batches }
});

pub(crate) fn shipped() -> &'static Shipped {
    &SHIPPED
}
