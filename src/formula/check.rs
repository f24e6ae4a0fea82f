//! What a valid formula is: turns the shape on disk into a [`Formula`], or says everything that is wrong with it at once.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::file::{
    FormulaFile, IngredientFile, KeepingFile, MixingFile, OneOrTwo, OperationFile, PartFile, UseFile,
};
use super::{
    After, Amount, Bath, Capacity, Cautions, Chemicals, Evidence, EvidenceKind, FORMAT, FormError, Formula,
    Ingredient, Keeping, MOST_PER_LITRE, Mixing, Operation, OperationKind, Origin, Part, Replenishment,
    SelfCheck, Stated, Use, is_id,
};
use crate::diagnostic::{Finding, LineStarts, MOST_FINDINGS, read_table, read_toml};
use crate::packed::{Packed, Placed};
use crate::quantity::{Strength, Volume, parse_historical_mass};
use crate::substance::{Form, State};
use crate::suggestion;

/// Least grams or millilitres in a litre that anybody could mean: a microgram.
const LEAST_PER_LITRE: f64 = 1e-6;

/// Smallest share of a part in a bath.
const LEAST_SHARE: f64 = 1e-4;

/// Most parts, baths of a use, and ingredients of a part: beyond any published formula, and few enough to be judged in a moment.
const MOST_PARTS: usize = 26;
/// Most baths of a use, one after the other.
pub const MOST_BATHS: usize = 20;
const MOST_INGREDIENTS: usize = 60;
/// Most ways of use, aliases, cautions and the like.
const MOST_OTHERS: usize = 40;
/// Longest title, in letters, and longest other text.
const LONGEST_TITLE: usize = 200;
const LONGEST_TEXT: usize = 2000;

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

/// Code of the refusal of a file that holds too much.
const TOO_MUCH: &str = "too-much";

/// Refuses what is more or longer than anybody writes down for a bath.
fn sizes(shape: &FormulaFile, text: &str, collector: &mut Collector<'_>) {
    // Lines are looked for only where something is told: there may be very many.
    let mut at_most = |most: usize, count: usize, offset: Option<usize>, what: &str, fix: &str| {
        if count > most && !collector.is_full() {
            let message = format!("{count} {what}, where {most} are the most that this program looks at");
            let line = offset.map(|offset| collector.lines.line(offset));
            collector.wrong(TOO_MUCH, line, message, fix);
        }
    };
    at_most(MOST_PARTS, shape.parts.len(), None, "parts", "write several formulas");
    let fix = "write several formulas, or parts";
    let lists = shape.ingredients.iter().chain(shape.parts.iter().map(|part| &part.get_ref().ingredients));
    for list in lists {
        let offset = list.first().map(Placed::start);
        at_most(MOST_INGREDIENTS, list.len(), offset, "ingredients in one part", fix);
    }
    for own in &shape.uses {
        let (offset, count) = (Some(own.start()), own.get_ref().baths.len());
        at_most(MOST_BATHS, count, offset, "baths in one use", "write several uses");
    }
    let in_parts = |of: fn(&PartFile) -> usize| shape.parts.iter().map(|part| of(part.get_ref())).sum();
    let others = [
        ("cautions of parts", in_parts(|part| part.cautions.len() + part.waste_cautions.len())),
        ("ways of use", shape.uses.len()),
        ("aliases", shape.aliases.len()),
        ("cautions", shape.cautions.len()),
        ("mixing_cautions", shape.mixing_cautions.len()),
        ("waste_cautions", shape.waste_cautions.len()),
        ("choosing_cautions", shape.choosing_cautions.len()),
        ("published figures in [[check]]", shape.check.len()),
        ("partners", shape.partners.len()),
        ("formulas that it replenishes", shape.replenishes.len()),
    ];
    for (what, count) in others {
        at_most(MOST_OTHERS, count, None, what, "keep those that matter");
    }
    let title = shape.title.get_ref().chars().count();
    let fix = "put the rest into the summary";
    at_most(LONGEST_TITLE, title, Some(shape.title.start()), "letters in the title", fix);
    // No text on a short line is long.
    let begins_block = |quote: char, three: &str| {
        text.match_indices(quote).any(|(at, _)| text.get(at..).is_some_and(|rest| rest.starts_with(three)))
    };
    let may_be_long = text.len() > LONGEST_TEXT
        && (text.lines().any(|line| line.len() > LONGEST_TEXT)
            || begins_block('"', "\"\"\"")
            || begins_block('\'', "'''"));
    if may_be_long && let Ok(table) = text.parse::<toml::Table>() {
        let mut longest = 0;
        for (key, value) in table.iter().filter(|(key, _)| key.as_str() != "own") {
            longest = longest.max(longest_text(value));
            if longest > LONGEST_TEXT {
                at_most(
                    LONGEST_TEXT,
                    longest,
                    text.find(key.as_str()),
                    "letters in one text",
                    "say it shorter",
                );
                break;
            }
        }
    }
}

/// Letters of the longest text in a value.
fn longest_text(value: &toml::Value) -> usize {
    match value {
        toml::Value::String(text) => text.chars().count(),
        toml::Value::Array(list) => list.iter().map(longest_text).max().unwrap_or(0),
        toml::Value::Table(table) => table.values().map(longest_text).max().unwrap_or(0),
        _ => 0,
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
) -> Option<Rc<Form>> {
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

fn mixing(
    spanned: Placed<MixingFile>,
    ingredients: &[Placed<IngredientFile>],
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Mixing {
    let line = collector.at(&spanned);
    let shape = spanned.into_inner();
    if shape.water.is_some_and(|water| !(0.0..=1000.0).contains(&water)) {
        let fix = "write mL per litre to start with, such as water = 750";
        collector.wrong("mixing-water", line, "mixing.water is not between 0 and 1000 mL per litre", fix);
    }
    if shape.temperature.is_some_and(|celsius| !(0.0..=100.0).contains(&celsius)) {
        let fix = "write °C, such as temperature = 50";
        collector.wrong("mixing-temperature", line, "mixing.temperature is not between 0 and 100 °C", fix);
    }
    Mixing {
        water_ml_per_litre: shape.water,
        temperature_c: shape.temperature,
        order: shape.order,
        source: shape.source,
        order_note: shape.order_note,
        note: shape.note,
        other_way: shape.other_way,
        operations: shape
            .operations
            .into_iter()
            .filter_map(|own| operation(own, ingredients, chemicals, collector))
            .collect(),
        appearance: shape.appearance.unwrap_or_default(),
        finish: shape.finish.unwrap_or_default(),
    }
}

fn operation(
    spanned: Placed<OperationFile>,
    ingredients: &[Placed<IngredientFile>],
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Option<Operation> {
    let line = collector.at(&spanned);
    let shape = spanned.into_inner();
    let after = match shape.after.as_str() {
        "start" => Some(After::Start),
        "end" => Some(After::End),
        id => ingredients
            .iter()
            .find(|own| own.get_ref().substance.get_ref() == id)
            .and_then(|_| chemicals.form(id).ok())
            .map(|form| After::Ingredient(form.id.clone())),
    };
    if after.is_none() {
        let ids: Vec<&str> =
            ingredients.iter().map(|own| own.get_ref().substance.get_ref().as_str()).collect();
        let fix = format!("write \"start\", \"end\" or an ingredient: {}", ids.join(", "));
        let message = format!("nothing here is called `{}`", shape.after);
        collector.wrong("operation", line, message, fix);
    }
    if shape.temperature.is_some_and(|celsius| !(0.0..=100.0).contains(&celsius)) {
        let fix = "write °C, such as temperature = 40";
        collector.wrong("operation", line, "the temperature is not between 0 and 100 °C", fix);
    }
    if shape.minutes.is_some_and(|minutes| !(minutes.is_finite() && minutes > 0.0)) {
        let fix = "write minutes = 30, or say until = \"…\"";
        collector.wrong("operation", line, "the minutes are not above zero", fix);
    }
    if matches!(shape.kind, OperationKind::Heat | OperationKind::Cool) && shape.temperature.is_none() {
        let fix = "add temperature, °C";
        collector.wrong("operation", line, "nobody knows how far to heat or cool", fix);
    }
    Some(Operation {
        after: after?,
        kind: shape.kind,
        until: shape.until,
        minutes: shape.minutes,
        temperature_c: shape.temperature,
        how: shape.how,
        source: shape.source,
    })
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

fn ingredient_list(
    shapes: &[Placed<IngredientFile>],
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Vec<Ingredient> {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let mut list = Vec::with_capacity(shapes.len());
    for spanned in shapes {
        if collector.is_full() {
            break;
        }
        let line = collector.at(spanned);
        let id = spanned.get_ref().substance.get_ref();
        if let Some(first) = seen.insert(id, line) {
            let message = format!("`{id}` stands twice in this part (first on line {first})");
            collector.wrong("twice", line, message, "put the whole amount on one line, or make two parts");
        }
        if let Some(ingredient) = ingredient(spanned.get_ref(), line, chemicals, collector) {
            list.push(ingredient);
        }
    }
    list
}

fn ingredient(
    shape: &IngredientFile,
    line: usize,
    chemicals: &dyn Chemicals,
    collector: &mut Collector<'_>,
) -> Option<Ingredient> {
    let form = match chemicals.form(shape.substance.get_ref()) {
        Ok(form) => Some(form),
        Err(error) => {
            let code = match error {
                FormError::BareParent { .. } => "bare-parent",
                FormError::Broken { .. } => "broken-substance",
                FormError::Unknown { .. } => "unknown-substance",
            };
            collector.wrong(code, collector.at(&shape.substance), error.to_string(), error.fix());
            None
        }
    };
    let amount = amount(shape, line, collector);
    let form = form?;
    let (amount, historical) = amount?;
    if matches!(amount, Amount::Millilitres(_)) && form.state == State::Solid {
        let message = format!("`{}` is a solid, but its amount is in millilitres", form.id);
        let fix = "write grams, or add strength = \"10 % w/v\" if a percent solution is meant";
        collector.wrong("solid-in-millilitres", line, message, fix);
    }
    if let Some(apart) = shape.apart_ml.filter(|apart| !(*apart > 0.0 && *apart <= 1000.0)) {
        let message = format!("apart_ml = {apart} is not between 0 and 1000 mL per litre of batch");
        collector.wrong("apart", line, message, "give the millilitres in which it is dissolved apart");
    }
    if !shape.exchange && shape.note.as_ref().is_none_or(|note| note.trim().is_empty()) {
        let message = format!("`{}` may not be exchanged, but no note says why", form.id);
        collector.wrong("no-exchange", line, message, "add note = \"…\" with the reason");
    }
    Some(Ingredient {
        exchange: shape.exchange,
        form,
        amount,
        historical,
        note: shape.note.clone(),
        until: shape.until.clone(),
        apart_ml: shape.apart_ml,
        optional: shape.optional,
        line,
    })
}

/// The one amount of an ingredient, and the old source's figure if that was given.
fn amount(
    shape: &IngredientFile,
    line: usize,
    collector: &mut Collector<'_>,
) -> Option<(Amount, Option<String>)> {
    let id = shape.substance.get_ref();
    let given = [shape.grams.is_some(), shape.millilitres.is_some(), shape.amount.is_some()];
    match given.iter().filter(|&&given| given).count() {
        1 => {}
        0 => {
            let fix = "write grams = …, millilitres = … (per litre), or amount = \"20 grain\" with per = \"10 imp-floz\"";
            collector.wrong("no-amount", line, format!("`{id}` has no amount"), fix);
            return None;
        }
        _ => {
            let message = format!("`{id}` has more than one amount");
            collector.wrong("two-amounts", line, message, "keep one of grams, millilitres and amount");
            return None;
        }
    }
    if let Some(stray) = shape.strength.as_ref().filter(|_| shape.millilitres.is_none()) {
        let fix = "write millilitres of the percent solution, or remove strength";
        collector.wrong("stray-strength", collector.at(stray), "strength needs millilitres", fix);
        return None;
    }
    if let Some(stray) = shape.per.as_ref().filter(|_| shape.amount.is_none()) {
        let fix = "grams and millilitres are always per litre; remove per";
        collector.wrong("stray-per", collector.at(stray), "per belongs to amount only", fix);
        return None;
    }
    if let Some(grams) = &shape.grams {
        let value = plausible(*grams.get_ref(), "grams", id, collector.at(grams), collector)?;
        return Some((Amount::Grams(value), None));
    }
    if let Some(millilitres) = &shape.millilitres {
        let value =
            plausible(*millilitres.get_ref(), "millilitres", id, collector.at(millilitres), collector)?;
        let Some(strength) = &shape.strength else { return Some((Amount::Millilitres(value), None)) };
        return match strength.get_ref().parse::<Strength>() {
            Ok(parsed) => Some((Amount::PercentSolution { millilitres: value, strength: parsed }, None)),
            Err(error) => {
                collector.wrong(
                    "strength",
                    collector.at(strength),
                    error.to_string(),
                    "write it as 10 % w/v",
                );
                None
            }
        };
    }
    historical(shape, line, collector)
}

/// `amount = "20 grain"`, `per = "10 imp-floz"`: grams per litre = mass / volume.
fn historical(
    shape: &IngredientFile,
    line: usize,
    collector: &mut Collector<'_>,
) -> Option<(Amount, Option<String>)> {
    let id = shape.substance.get_ref();
    let amount = shape.amount.as_ref()?;
    let Some(per) = &shape.per else {
        let fix = "add per = \"10 imp-floz\" (or 1 us-qt, 1 us-gal, 20 imp-floz, 1 l)";
        collector.wrong("no-per", line, format!("`{id}` has an amount but not of what volume"), fix);
        return None;
    };
    let mass = parse_historical_mass(amount.get_ref()).map_err(|error| {
        collector.wrong("amount", collector.at(amount), error.to_string(), "write it like 20 grain");
    });
    let volume = per.get_ref().parse::<Volume>().map_err(|error| {
        collector.wrong("per", collector.at(per), error.to_string(), "write it like 10 imp-floz");
    });
    let grams = mass.ok()?.as_g() / volume.ok()?.as_litres();
    let grams = plausible(grams, "amount", id, collector.at(amount), collector)?;
    Some((Amount::Grams(grams), Some(format!("{} per {}", amount.get_ref().trim(), per.get_ref().trim()))))
}

/// Refuses zero, negative, non-finite and impossible figures.
fn plausible(value: f64, key: &str, id: &str, line: usize, collector: &mut Collector<'_>) -> Option<f64> {
    if (LEAST_PER_LITRE..=MOST_PER_LITRE).contains(&value) {
        return Some(value);
    }
    let is_long = value.abs() >= 1e7 || (value != 0.0 && value.abs() < LEAST_PER_LITRE);
    let shown = if is_long { format!("{value:e}") } else { value.to_string() };
    let message = format!("{key} = {shown} of `{id}` is not above 0 and at most {MOST_PER_LITRE} per litre");
    collector.wrong("amount-out-of-range", line, message, "amounts are per litre of the part as bottled");
    None
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
