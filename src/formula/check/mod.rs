//! What a valid formula is: turns the shape on disk into a [`Formula`], or says everything that is wrong with it at once.

mod ingredient;
mod mixing;
mod sizes;

use crate::diagnostic::{Finding, LineStarts, MOST_FINDINGS, read_table, read_toml};
use crate::formula::file::{FormulaFile, KeepingFile, OneOrTwo, PartFile, UseFile};
use crate::formula::{
    Bath, Capacity, Cautions, Chemicals, Evidence, EvidenceKind, FORMAT, Formula, Keeping, Mixing, Origin,
    Part, Replenishment, SelfCheck, Stated, Use, is_id,
};
use crate::packed::{Packed, Placed};
use crate::substance::Form;
use crate::suggestion;
use ingredient::{LEAST_SHARE, ingredient_list};
use mixing::mixing;
use sizes::{TOO_MUCH, sizes};
use std::sync::Arc;

/// Most baths of a use, one after the other.
pub const MOST_BATHS: usize = 20;

/// Collects what is wrong, with lines.
struct Collector<'a> {
    lines: LineStarts,
    file: &'a str,
    findings: Vec<Finding>,
}

impl Collector<'_> {
    fn at<T>(&self, spanned: &Placed<T>) -> usize {
        self.lines.line(spanned.start())
    }

    fn wrong(
        &mut self,
        code: &'static str,
        line: impl Into<Option<usize>>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) {
        if !self.is_full() {
            self.findings.push(Finding::error(code, self.file, line.into(), message, fix));
        }
    }

    /// Whether the file holds more than is looked at.
    fn is_too_much(&self) -> bool {
        self.findings.iter().any(|finding| finding.code == TOO_MUCH)
    }

    /// Whether so much is wrong that looking on would only cost time.
    fn is_full(&self) -> bool {
        self.findings.len() >= MOST_FINDINGS
    }
}

pub(super) fn formula(
    text: &str,
    id: &str,
    file: &str,
    chemicals: &dyn Chemicals,
) -> Result<Formula, Vec<Finding>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let shape: FormulaFile = read_toml(text, file).map_err(|finding| vec![finding])?;
    let mut collector = Collector { lines: LineStarts::of(text), file, findings: Vec::new() };
    header(&shape, id, &mut collector);
    sizes(&shape, text, &mut collector);
    judged(shape, id, collector, chemicals)
}

/// The same of a shipped file, which a test reads by its text.
pub(super) fn shipped(
    (text, packed): (&str, Packed<'static>),
    id: &str,
    file: &str,
    chemicals: &dyn Chemicals,
) -> Result<Formula, Vec<Finding>> {
    let shape: FormulaFile = read_table(packed, file).map_err(|finding| vec![finding])?;
    let mut collector = Collector { lines: LineStarts::of(text), file, findings: Vec::new() };
    header(&shape, id, &mut collector);
    judged(shape, id, collector, chemicals)
}

fn judged(
    mut shape: FormulaFile,
    id: &str,
    mut collector: Collector<'_>,
    chemicals: &dyn Chemicals,
) -> Result<Formula, Vec<Finding>> {
    let file = collector.file;
    if collector.is_too_much() {
        return Err(collector.findings);
    }
    let parts = parts(&mut shape, chemicals, &mut collector);
    let uses = shape.uses.iter().filter_map(|spanned| one_use(spanned, &parts, &mut collector)).collect();
    let checks = shape.check.iter().map(|spanned| self_check(spanned, &collector)).collect();
    if !collector.findings.is_empty() {
        return Err(collector.findings);
    }
    let stated = shape.stated.map_or_else(Stated::default, |stated| Stated {
        ph: stated.ph.map(low_and_high),
        certified_ph: stated
            .certified_ph
            .into_iter()
            .map(|[celsius, ph]| (celsius.into(), ph.into()))
            .collect(),
        relative_time: stated.relative_time.map(low_and_high),
        source: stated.source,
        note: stated.note,
    });
    let with_parts = |mut own: Vec<String>, of: fn(&Part) -> &Vec<String>| {
        let in_parts: Vec<String> = parts.iter().flat_map(of).cloned().collect();
        own.extend(in_parts);
        own
    };
    Ok(Formula {
        id: id.to_owned(),
        file: file.to_owned(),
        title: shape.title.into_inner(),
        kind: shape.kind,
        summary: shape.summary,
        evidence: Evidence {
            kind: *shape.evidence.get_ref(),
            source: shape.source,
            lead: shape.lead,
            doubt: shape.doubt,
            doubt_about: shape.doubt_about,
        },
        aliases: shape.aliases.into_iter().map(Placed::into_inner).collect(),
        variant_of: shape.variant_of,
        replenishes: shape.replenishes,
        partners: shape.partners,
        cautions: Cautions {
            always: with_parts(shape.cautions, |part| &part.cautions.always),
            mixing: shape.mixing_cautions,
            waste: with_parts(shape.waste_cautions, |part| &part.cautions.waste),
            choosing: shape.choosing_cautions,
        },
        principle: shape.principle,
        note: shape.note,
        stated,
        parts,
        uses,
        capacity: shape.capacity.map_or_else(Capacity::default, |capacity| Capacity {
            area_cm2_per_litre: capacity.area_cm2_per_litre.map(f64::from),
            stock_ml_per_roll: capacity.stock_ml_per_roll.map(f64::from),
            source: capacity.source,
            note: capacity.note,
        }),
        replenishment: shape.replenishment.map(|replenishment| Replenishment {
            with: replenishment.with,
            ml_per_roll: replenishment.ml_per_roll.map(f64::from),
            source: replenishment.source,
            note: replenishment.note,
        }),
        checks,
        origin: Origin::File,
        shadows_shipped: false,
    })
}

fn low_and_high(figure: OneOrTwo) -> (f64, f64) {
    match figure {
        OneOrTwo::One(value) => (value.into(), value.into()),
        OneOrTwo::Two([low, high]) => (low.into(), high.into()),
    }
}

/// Version, id, title and evidence.
fn header(shape: &FormulaFile, id: &str, collector: &mut Collector<'_>) {
    if *shape.format.get_ref() != FORMAT {
        let line = collector.at(&shape.format);
        let message = format!("format = {} is not known to this version", shape.format.get_ref());
        collector.wrong("format", line, message, format!("write format = {FORMAT}"));
    }
    if !is_id(id) {
        let fix = "name the file with a-z, 0-9 and hyphens, such as my-borax-developer.toml";
        collector.wrong("id", None, format!("the file name `{id}` cannot be an id"), fix);
    }
    for spanned in &shape.aliases {
        let alias = spanned.get_ref();
        if alias.trim().is_empty() || alias.len() > 80 || alias.contains(['/', '\\']) {
            let fix = "use a short name (80 letters at most) without slashes";
            collector.wrong("alias", collector.at(spanned), format!("`{alias}` cannot be an alias"), fix);
        }
    }
    if shape.title.get_ref().trim().is_empty() {
        let line = collector.at(&shape.title);
        collector.wrong("title", line, "the title is empty", "write title = \"…\", by composition");
    }
    if *shape.evidence.get_ref() == EvidenceKind::Published
        && shape.source.as_ref().is_none_or(|source| source.trim().is_empty())
    {
        let line = collector.at(&shape.evidence);
        let fix = "add source = \"Author, Title, year, page\", or write evidence = \"memory\"";
        collector.wrong("no-source", line, "evidence is \"published\" but no source is given", fix);
    }
}

/// The parts, whether written as parts or as one list of ingredients.
fn parts(shape: &mut FormulaFile, chemicals: &dyn Chemicals, collector: &mut Collector<'_>) -> Vec<Part> {
    let taken = std::mem::take(&mut shape.parts);
    if taken.is_empty() {
        let solvent = shape.solvent.as_ref().and_then(|id| solvent(id, chemicals, collector));
        let ingredients = shape.ingredients.take().unwrap_or_default();
        if ingredients.is_empty() {
            let fix =
                "add [[ingredients]] with substance and grams, or [[parts]] with ingredients of their own";
            collector.wrong("no-ingredients", 1, "the formula has no ingredients", fix);
        }
        return vec![Part {
            name: None,
            solvent,
            note: None,
            mixing: shape
                .mixing
                .take()
                .map_or_else(Mixing::default, |spanned| mixing(spanned, &ingredients, chemicals, collector)),
            ingredients: ingredient_list(&ingredients, chemicals, collector),
            keeping: shape.keeping.take().map_or_else(Keeping::default, keeping),
            cautions: Cautions::default(),
        }];
    }
    if shape.ingredients.is_some() || shape.mixing.is_some() || shape.solvent.is_some() {
        let line = taken.first().map_or(1, |part| collector.at(part));
        let fix = "move them into the part they belong to: [parts.mixing], [[parts.ingredients]]";
        collector.wrong(
            "parts-and-ingredients",
            line,
            "ingredients, mixing or solvent stand outside the parts",
            fix,
        );
    }
    let shared = shape.keeping.take().map(keeping);
    let mut seen: Vec<String> = Vec::new();
    taken
        .into_iter()
        .map(|spanned| {
            let line = collector.at(&spanned);
            part(spanned.into_inner(), line, shared.as_ref(), &mut seen, chemicals, collector)
        })
        .collect()
}

fn part(
    shape: PartFile,
    line: usize,
    shared: Option<&Keeping>,
    seen: &mut Vec<String>,
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Part {
    let name = shape.name.get_ref().trim().to_owned();
    let lower = name.to_lowercase();
    // Plain letters: a part is told by its name alone, and others look like them.
    let is_plain = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, ' ' | '-');
    let is_odd = !name.chars().all(is_plain);
    if name.is_empty() || name.len() > 24 || is_odd || lower == "water" || lower == "stock" {
        let message = format!("`{name}` cannot be the name of a part");
        let fix = if is_odd {
            "write it with A-Z, a-z, 0-9, spaces and hyphens: A, B, C"
        } else {
            "call the parts A, B, C"
        };
        collector.wrong("part-name", collector.at(&shape.name), message, fix);
    }
    if seen.contains(&lower) {
        let message = format!("two parts are called `{name}`");
        collector.wrong("part-name", collector.at(&shape.name), message, "give each part its own name");
    }
    seen.push(lower);
    if shape.ingredients.is_empty() {
        let message = format!("part {name} has no ingredients");
        collector.wrong("no-ingredients", line, message, "add [[parts.ingredients]] under it");
    }
    Part {
        solvent: shape.solvent.as_ref().and_then(|id| solvent(id, chemicals, collector)),
        note: shape.note,
        mixing: shape.mixing.map_or_else(Mixing::default, |spanned| {
            mixing(spanned, &shape.ingredients, chemicals, collector)
        }),
        ingredients: ingredient_list(&shape.ingredients, chemicals, collector),
        keeping: shape.keeping.map(keeping).or_else(|| shared.cloned()).unwrap_or_default(),
        cautions: Cautions { always: shape.cautions, waste: shape.waste_cautions, ..Cautions::default() },
        name: Some(name),
    }
}

fn solvent(
    id: &Placed<String>,
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Option<Arc<Form>> {
    if id.get_ref() == "water" {
        return None;
    }
    let line = collector.at(id);
    match chemicals.form(id.get_ref()) {
        Ok(form) => Some(form),
        Err(error) => {
            collector.wrong("substance", line, error.to_string(), error.fix());
            None
        }
    }
}

fn keeping(shape: KeepingFile) -> Keeping {
    Keeping {
        full_bottle_days: shape.full_bottle_days.map(f64::from),
        half_bottle_days: shape.half_bottle_days.map(f64::from),
        tray_hours: shape.tray_hours.map(f64::from),
        tank_days: shape.tank_days.map(f64::from),
        source: shape.source,
        note: shape.note,
    }
}

fn one_use(spanned: &Placed<UseFile>, parts: &[Part], collector: &mut Collector<'_>) -> Option<Use> {
    let line = collector.at(spanned);
    let shape = spanned.get_ref();
    let names: Vec<&str> = match parts {
        [only] if only.name.is_none() => vec!["stock"],
        several => several.iter().filter_map(|part| part.name.as_deref()).collect(),
    };
    let mut baths = Vec::with_capacity(shape.baths.len());
    for bath in &shape.baths {
        let mut shares = Vec::new();
        let mut water = 0.0;
        for (name, &share) in bath {
            if !(LEAST_SHARE..=10_000.0).contains(&share) {
                let message =
                    format!("the share of `{name}` in use `{}` is not between 0.0001 and 10000", shape.name);
                collector.wrong(
                    "use",
                    line,
                    message,
                    "write parts by volume, such as { stock = 1, water = 3 }",
                );
                return None;
            }
            if name == "water" {
                water = share;
            } else if let Some(known) = names.iter().find(|known| known.eq_ignore_ascii_case(name)) {
                shares.push(((*known).to_owned(), share));
            } else {
                let message =
                    format!("use `{}` names a part `{name}` that the formula does not have", shape.name);
                let fix = match suggestion::nearest(name, names.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("its parts are {}", names.join(", ")),
                };
                collector.wrong("use", line, message, fix);
                return None;
            }
        }
        shares.sort_by_key(|(name, _)| names.iter().position(|known| known == name));
        baths.push(Bath { shares, water });
    }
    if baths.is_empty() || baths.iter().any(|bath| bath.shares.is_empty()) {
        let fix = "write baths = [{ stock = 1, water = 1 }]";
        collector.wrong("use", line, format!("use `{}` has a bath with nothing in it", shape.name), fix);
        return None;
    }
    Some(Use {
        name: shape.name.clone(),
        baths,
        wash_between: shape.wash_between,
        minutes: shape.minutes.map(|[low, high]| (low.into(), high.into())),
        temperature_c: shape.temperature.map(f64::from),
        working_hours: shape.working_hours.map(f64::from),
        source: shape.source.clone(),
        note: shape.note.clone(),
    })
}

fn self_check(spanned: &Placed<super::file::CheckFile>, collector: &Collector<'_>) -> SelfCheck {
    let shape = spanned.get_ref();
    SelfCheck {
        quantity: shape.quantity,
        substance: shape.substance.clone(),
        part: shape.part.clone(),
        equivalent_of: shape.equivalent_of.clone(),
        expected: shape.expected.into(),
        tolerance: shape.tolerance.into(),
        tolerance_note: shape.tolerance_note.clone(),
        celsius: shape.celsius.map(f64::from),
        source: shape.source.clone(),
        line: collector.at(spanned),
    }
}
