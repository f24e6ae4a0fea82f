//! The one table of a part: weigh and mix together, row by row.

use super::material::{Act, Finish, Mark, Material, MaterialPart, MaterialStep};
use super::{BenchPart, volume_words};
use crate::cooling::{self, Around, CoolingBottle, CoolingCourse};
use crate::formula::{Formula, Kind};
use crate::quantity::USUAL_C;
use crate::quantity::rounding::{show_decimals, show_short, show_step, to_step};
use crate::scale::dose::{Balance, measuring_step_ml};
use crate::scale::{Advice, Item, Unit, advised_batch};
use crate::sequence::{CHECK, MADE_UP_AGAIN_ABOVE_C, sets_to_jelly};
use crate::substance::{Class, Role};

/// A pH beyond these is on no meter's scale.
const METER_PH: (f64, f64) = (0.5, 13.0);
/// The basin that it cools in, °C: tap water, a glass vessel in much of it; common practice, no source.
pub(crate) const BASIN_C: f64 = 15.0;
/// What is no warmer than this is soon cool, and its time is not told, °C; common practice, no source.
const COOLING_TOLD_ABOVE_C: f64 = 30.0;
/// Letters of an act that stand on one line of the page, and of its second line.
pub(crate) const LINE_LETTERS: usize = 26;

/// The look of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Weighed or measured from a jar.
    Weigh,
    /// Water, pouring in, making up.
    Plain,
    /// Waiting, cooling, heating, standing: nothing goes in.
    Wait,
    /// In a second vessel.
    Apart,
}

/// What to do, in three pieces: a word in capitals, the name, the rest.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ActWords {
    /// `WAIT`, `APART: `, `MAKE UP`; empty where there is none.
    pub lead: String,
    /// The name of what goes in.
    pub head: String,
    /// What follows it.
    pub tail: String,
}

impl ActWords {
    fn new(lead: &str, head: &str, tail: String) -> Self {
        Self { lead: lead.to_owned(), head: head.to_owned(), tail }
    }

    /// As it is read.
    pub fn plain(&self) -> String {
        format!("{}{}{}", self.lead, self.head, self.tail)
    }

    /// With the name in capitals, but for its form: `BORAX (decahydrate)`.
    pub fn capitals(&self) -> String {
        format!("{}{}{}", self.lead, capitals(&self.head), self.tail)
    }
}

/// A name in capitals, up to what stands behind a comma or in brackets; the water of crystals stays as it is.
pub(crate) fn capitals(name: &str) -> String {
    let (name, form) = match name.find([',', '(']) {
        Some(at) => name.split_at(at),
        None => (name, ""),
    };
    let words: Vec<String> = name
        .split(' ')
        .map(|word| match word {
            "anh." | "anhydrous" | "dry" | "tetrahydrate" | "dihydrate" => word.to_owned(),
            other => other.to_uppercase(),
        })
        .collect();
    format!("{}{form}", words.join(" "))
}

/// A caution that touches its row.
pub(crate) type RowMark = Mark;

#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Number of the step.
    pub number: usize,
    pub look: Look,
    /// Cautions above it.
    pub marks: Vec<RowMark>,
    /// Whether something is weighed or measured from a jar: then it has a left tick.
    pub is_weighed: bool,
    /// `50.0 g`; empty where there is none.
    pub amount: String,
    /// What to do.
    pub act: ActWords,
    /// How to do it, where that is more than stirring.
    pub how: String,
    /// The sign that it is done.
    pub done: String,
    /// What belongs to the weighing: portions, another form than the recipe's.
    pub remark: String,
    /// What the thermometer should read, °C; where nobody knows there is a line to write on all the same.
    pub reads_c: Option<f64>,
    /// Whether how it is done keeps hands whole or a temperature in bounds, so that it never gives way.
    pub is_vital: bool,
    /// Whether it is a wait, before which a page may end.
    pub may_break: bool,
}

impl Row {
    /// Whether the act takes two lines of a page, by its letters.
    pub fn is_tall(&self) -> bool {
        self.act.plain().chars().count() > LINE_LETTERS
    }

    /// How and the sign in one line; where there is little room the sign alone.
    pub fn sign(&self, is_tight: bool) -> String {
        match (self.how.is_empty(), self.done.is_empty()) {
            (true, _) => self.done.clone(),
            (false, true) => self.how.clone(),
            (false, false) if is_tight && !self.is_vital && !forbids(&self.how) => self.done.clone(),
            (false, false) => format!("{}; {}", self.how, self.done),
        }
    }
}

/// The parts with their rows.
pub(super) fn parts(material: &Material<'_>) -> Vec<BenchPart> {
    let single = material.parts.len() == 1;
    material
        .parts
        .iter()
        .map(|part| {
            let mut rows: Vec<Row> =
                part.steps.iter().map(|step| row(step, part, material.batch.balance)).collect();
            end_with_the_bottle(&mut rows, part);
            if single {
                rows.extend(take_row(material, part, rows.len() + 1));
            }
            BenchPart {
                name: part.name.clone(),
                volume: volume_words(part.volume_ml),
                rows,
                ready: ready(material.formula, part),
                head: super::PartHead::default(),
            }
        })
        .collect()
}

/// Where something is done after making up, the bottle comes after that.
fn end_with_the_bottle(rows: &mut [Row], part: &MaterialPart) {
    let made_up = part.steps.iter().position(|step| step.act == Act::MakeUp);
    if let (Some(place), [.., last]) = (made_up.filter(|place| place + 1 < part.steps.len()), &mut *rows) {
        let end = bottle_words(part);
        last.done = [last.done.as_str(), end]
            .into_iter()
            .filter(|own| !own.is_empty())
            .collect::<Vec<_>>()
            .join("; ");
        if let Some(row) = rows.get_mut(place) {
            row.done = row.done.trim_end_matches(end).trim_end_matches("; ").to_owned();
        }
    }
}

/// What a vessel must not be made of is told once, before the first row that asks for it, in the words of the gravest.
pub(super) fn choose_vessel_once(rows: &mut [Row]) {
    let is_of_vessel = |mark: &RowMark| mark.id.ends_with("-metal-vessel");
    let all = rows.iter().flat_map(|row| &row.marks).filter(|mark| is_of_vessel(mark));
    // Of two that are equally grave the later speaks of more.
    let Some(gravest) = all.max_by_key(|mark| mark.is_grave).cloned() else { return };
    let mut gravest = Some(gravest);
    for row in rows {
        let had = row.marks.len();
        row.marks.retain(|mark| !is_of_vessel(mark));
        if row.marks.len() < had {
            row.marks.extend(gravest.take());
        }
    }
}

/// The last step of a working solution: stock and water of the volume that was asked for.
fn take_row(material: &Material<'_>, part: &MaterialPart, number: usize) -> Option<Row> {
    let (volume, ratio) = material.batch.working.as_ref()?;
    let water_ml = volume.as_ml() - part.volume_ml;
    if water_ml < 0.01 {
        return None;
    }
    let words: Vec<String> = ratio.parts().iter().map(|part| show_short(*part, 3)).collect();
    Some(Row {
        number,
        look: Look::Plain,
        marks: Vec::new(),
        is_weighed: false,
        amount: volume_words(part.volume_ml),
        act: ActWords::new("TAKE", "", format!(" the stock, add {} water", volume_words(water_ml))),
        how: String::new(),
        done: format!("makes {} at {}; for use", volume_words(volume.as_ml()), words.join(" + ")),
        remark: String::new(),
        is_vital: true,
        reads_c: None,
        may_break: false,
    })
}

fn row(step: &MaterialStep, part: &MaterialPart, balance: Balance) -> Row {
    let item = step.item.and_then(|item| part.items.get(item));
    let is_weighed = matches!(step.act, Act::Pinch | Act::Add | Act::Apart) && item.is_some();
    let may_break = matches!(step.act, Act::Wait | Act::Operation);
    Row {
        number: step.number,
        look: match step.act {
            Act::Wait | Act::Operation => Look::Wait,
            Act::Apart => Look::Apart,
            _ if is_weighed => Look::Weigh,
            _ => Look::Plain,
        },
        marks: step.marks.clone(),
        is_weighed,
        amount: amount(step, part, item.filter(|_| is_weighed), balance),
        act: act_words(step, part, item),
        how: how(step, part),
        done: done(step, part),
        remark: item.filter(|_| is_weighed).map_or_else(String::new, |item| remark(item, balance)),
        reads_c: step.after_c.or(step.celsius.filter(|_| may_break)),
        is_vital: is_vital(step),
        may_break,
    }
}

/// Whether hands are hurt or the bath is lost where it is done otherwise: heat, a second vessel, acid, caustic.
fn is_vital(step: &MaterialStep) -> bool {
    let of = |form: &crate::substance::Form| {
        [Class::StrongAcid, Class::StrongAlkali, Class::Acid, Class::WeakAcid]
            .iter()
            .any(|own| form.is_class(own))
    };
    matches!(step.act, Act::Apart | Act::Pour | Act::Wait | Act::Operation)
        || step.act == Act::Add && step.form.as_deref().is_some_and(of)
}

/// The amount of a row with its unit, rounded to the balance or the measure.
fn amount(step: &MaterialStep, part: &MaterialPart, item: Option<&Item>, balance: Balance) -> String {
    match (step.act, item) {
        (Act::Start, _) => step.water_ml.map_or_else(String::new, millilitres),
        (Act::MakeUp, _) => volume_words(part.volume_ml),
        (_, Some(item)) => take_words(item, balance),
        _ => String::new(),
    }
}

fn millilitres(amount: f64) -> String {
    volume_words(to_step(amount, measuring_step_ml(amount)))
}

/// What to weigh or measure of an item: the dose in place of a weighing where there is one.
pub(crate) fn take_words(item: &Item, balance: Balance) -> String {
    if let Some(dose) = &item.dose {
        return format!(
            "{} mL",
            show_short(to_step(dose.millilitres, measuring_step_ml(dose.millilitres)), 3)
        );
    }
    match item.unit {
        unit if item.weigh == 0.0 => {
            format!("{} {}", crate::quantity::rounding::show_significant(item.amount), unit.symbol())
        }
        // A heap of kilograms is told in them only where the balance's step is lost in it anyway.
        Unit::Gram => format!("{} g", show_step(item.weigh, balance.step_g)),
        // As a cylinder is read: 48 mL, and 48.5 mL where it can tell that.
        Unit::Millilitre => {
            format!("{} mL", show_short(to_step(item.weigh, measuring_step_ml(item.amount)), 3))
        }
    }
}

fn act_words(step: &MaterialStep, part: &MaterialPart, item: Option<&Item>) -> ActWords {
    let name = step.form.as_ref().map_or("", |form| form.bench_name.as_str());
    let strength = item.map_or_else(String::new, strength);
    let optional = if item.is_some_and(|item| item.optional) { " (optional)" } else { "" };
    let celsius = |celsius: Option<f64>| {
        celsius.map_or_else(String::new, |celsius| format!(" at {} °C", show_short(celsius, 0)))
    };
    match step.act {
        Act::Start => {
            let water = match &part.solvent {
                Some(form) => form.bench_name.as_str(),
                None if step.instruction.contains("distilled") => "distilled water",
                None => "water",
            };
            ActWords::new("", water, celsius(step.celsius))
        }
        Act::Pinch => ActWords::new("", &capitals(name), ": a PINCH of it in".to_owned()),
        Act::Rest => {
            let parent = step.form.as_ref().map_or("", |form| form.parent.name.as_str());
            let short = parent.strip_prefix("sodium ").unwrap_or(parent);
            ActWords::new(&format!("THE REST OF THE {}", short.to_uppercase()), "", String::new())
        }
        Act::Add => ActWords::new("", name, format!("{strength}{optional}")),
        Act::Apart => {
            let vessel = match step.water_ml {
                Some(ml) if ml > 0.0 => {
                    // What the thermometer reads then stands beside it; the water's own warmth is told where it is another.
                    let is_same = |(at, after): (f64, f64)| (at - after).abs() < 1.0;
                    let told = step.celsius.filter(|_| !step.celsius.zip(step.after_c).is_some_and(is_same));
                    format!(" in {}{}", millilitres(ml), celsius(told).replace(" at ", ", "))
                }
                _ => String::new(),
            };
            let where_to = if vessel.is_empty() { "SAME VESSEL: " } else { "APART: " };
            ActWords::new(where_to, name, format!("{strength}{optional}{vessel}"))
        }
        Act::Pour => {
            let parent = step.form.as_ref().map_or("", |form| form.parent.name.as_str());
            if step.instruction.starts_with("Rinse") {
                ActWords::new("RINSE", "", " that vessel in".to_owned())
            } else {
                ActWords::new("POUR", "", format!(" {parent} in"))
            }
        }
        Act::Wait if is_over(step) => {
            let most = step
                .celsius
                .map_or_else(String::new, |celsius| format!(": {} °C or less", show_short(celsius, 0)));
            ActWords::new("CHECK", "", most)
        }
        Act::Wait => ActWords::new(
            "WAIT",
            "",
            step.celsius
                .map_or_else(String::new, |celsius| format!(": cool to {} °C", show_short(celsius, 0))),
        ),
        Act::Operation => {
            let (lead, rest) = step
                .instruction
                .split_at(step.instruction.find([' ', ':']).unwrap_or(step.instruction.len()));
            ActWords::new(&lead.to_uppercase(), "", rest.to_owned())
        }
        Act::MakeUp => {
            let water = match step.celsius {
                Some(celsius) => format!("water at {} °C", show_short(celsius, 0)),
                None if step.instruction.contains("distilled") => "distilled water".to_owned(),
                None => "cold water".to_owned(),
            };
            let with = part.solvent.as_ref().map_or(water.as_str(), |form| form.bench_name.as_str());
            ActWords::new("MAKE UP", "", format!(" with {with}"))
        }
    }
}

/// Whether a wait is over before it begins: by what is computed it reads no more already.
fn is_over(step: &MaterialStep) -> bool {
    step.instruction.starts_with(CHECK)
}

/// `, 10 %` of what is measured as a percent solution.
fn strength(item: &Item) -> String {
    if let Some(dose) = &item.dose {
        return format!(", {} %", show_short(dose.strength_percent, 2));
    }
    item.solution.map_or_else(String::new, |strength| format!(", {strength}"))
}

/// What belongs to the weighing.
fn remark(item: &Item, balance: Balance) -> String {
    let mut words = Vec::new();
    for advice in &item.advice {
        if let Advice::Portions { full, full_g, rest_g } = advice {
            let rest = if *rest_g > 0.0 {
                format!(" and {} g", show_step(*rest_g, balance.step_g))
            } else {
                String::new()
            };
            words.push(format!("weigh {full} × {} g{rest}", show_step(*full_g, balance.step_g)));
        }
        if let Advice::TooSmall { uncertainty_percent, least_batch_ml, .. } = advice {
            let better = advised_batch(*least_batch_ml).map_or_else(String::new, |least| {
                format!(": better mix {} or more", volume_words(least.as_ml()))
            });
            words.push(format!("± {} % on this balance{better}", show_short(*uncertainty_percent, 0)));
        }
    }
    if item.dose.is_some() {
        words.push("your own solution (see reasons)".to_owned());
    }
    if let Some(instead) = &item.instead_of {
        words.push(format!("in place of {}", instead.form.bench_name));
    }
    words.join("; ")
}

/// The sign that it is done.
fn done(step: &MaterialStep, part: &MaterialPart) -> String {
    match step.act {
        // How warm it must be is the act itself, and stands in the column of readings once more.
        Act::Start | Act::Wait => String::new(),
        Act::MakeUp => {
            let end = bottle_words(part);
            match step.done.trim() {
                "" | "clear and even" | "clear and evenly mixed" => end.to_owned(),
                done => format!("{done}; {end}"),
            }
        }
        _ => step.done.trim().trim_end_matches('.').to_owned(),
    }
}

/// What comes when the solution is made.
fn bottle_words(part: &MaterialPart) -> &'static str {
    match part.finish {
        Finish::Bottle if sets_to_jelly(&part.items) => "bottle warm, label; it sets to a jelly",
        Finish::Bottle if part.end_c.is_some_and(|end| end <= MADE_UP_AGAIN_ABOVE_C) => "bottle, label",
        Finish::Bottle if part.solvent.is_some() => "cooled to 20 °C first; bottle, label",
        Finish::Bottle => "at 20 °C make up again; bottle, label",
        Finish::Tray => "in an open tray, never a bottle; use at once",
        Finish::AtOnce => "use at once; it does not keep",
    }
}

/// How to do it: the first clause; all of it where it forbids something that no caution of the row forbids; nothing where it only says to stir.
fn how(step: &MaterialStep, part: &MaterialPart) -> String {
    match step.act {
        // Water is run warm from the tap; what else a bath begins with is heated here.
        Act::Start if part.solvent.is_none() => return String::new(),
        Act::MakeUp => return String::new(),
        Act::Pinch => return "a knife tip of the weighed heap, no extra".to_owned(),
        Act::Wait if is_over(step) => return "if warmer, stand in cold water".to_owned(),
        Act::Wait => return "stand in cold water, stir".to_owned(),
        _ => {}
    }
    let is_told = step.marks.iter().any(|mark| mark.is_grave && forbids(&mark.text));
    // The act says already that it is poured.
    let said = if step.act == Act::Pour { step.how.replacen("Pour ", "", 1) } else { step.how.clone() };
    let sentences: Vec<String> =
        sentences(&said).filter(|sentence| !matches!(sentence.as_str(), "stir" | "mix")).collect();
    // All of it where it forbids something that no caution forbids, else the first.
    let keeps_all = sentences.iter().any(|sentence| forbids(sentence)) && !is_told;
    let kept = if keeps_all { sentences.len() } else { 1 };
    sentences.into_iter().take(kept).collect::<Vec<_>>().join("; ")
}

/// The sentences of a text, each with a small letter first and no stop.
fn sentences(text: &str) -> impl Iterator<Item = String> {
    text.trim().split(". ").map(|own| own.trim().trim_end_matches('.')).filter(|own| !own.is_empty()).map(
        |own| {
            let mut letters = own.chars();
            letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
        },
    )
}

/// Whether words forbid something.
fn forbids(words: &str) -> bool {
    let low = words.to_lowercase();
    ["never", "only", "no flame", "no metal", "not above", "away", "extract"]
        .iter()
        .any(|word| low.contains(word))
}

fn ready(formula: &Formula, part: &MaterialPart) -> Vec<String> {
    let mut ready = Vec::new();
    match (part.end_c, formula.warm_use_c()) {
        (Some(end), Some(used_c)) => {
            ready.push(format!("used at {} °C (now {})", show_short(used_c, 0), show_short(end, 0)));
        }
        (Some(end), None) if end > USUAL_C + 2.0 => {
            let time =
                cooling_words(part.volume_ml, end).map_or_else(String::new, |time| format!("; {time}"));
            ready.push(format!("cool to {} °C (now {}{time})", show_short(USUAL_C, 0), show_short(end, 0)));
        }
        (Some(end), None) if end < USUAL_C - 2.0 => {
            ready.push(format!("warm to {} °C (now {})", show_short(USUAL_C, 0), show_short(end, 0)));
        }
        (Some(end), None) => ready.push(format!("at about {} °C", show_short(end, 0))),
        (None, _) => {}
    }
    if sets_to_jelly(&part.items) {
        ready.push("melt it before use".to_owned());
    }
    if let Some(certified_ph) = part.ph.as_ref().filter(|ph| !ph.certified.is_empty()) {
        ready.push(certified_words(&certified_ph.certified));
    } else if let Some(metered_ph) = part.ph.as_ref().filter(|ph| (METER_PH.0..=METER_PH.1).contains(&ph.ph))
    {
        ready.push(if metered_ph.is_poorly_buffered {
            "pH not steady".to_owned()
        } else {
            format!(
                "pH {} ± {}",
                show_decimals(metered_ph.ph, 1),
                show_decimals(metered_ph.error.max(0.1), 1)
            )
        });
    }
    ready.extend(part.crystals.clone());
    ready.extend(test_words(formula));
    ready
}

/// Temperatures at which a meter is set, °C; common practice, no source.
const SET_AT_C: [f64; 2] = [20.0, 25.0];

/// `certified pH 9.225 at 20 °C, 9.180 at 25 °C`.
fn certified_words(certified: &[(f64, f64)]) -> String {
    let at = |celsius: f64| certified.iter().find(|own| (own.0 - celsius).abs() < 0.01);
    let points: Vec<String> = SET_AT_C
        .iter()
        .filter_map(|celsius| at(*celsius))
        .map(|(celsius, ph)| format!("{} at {} °C", show_decimals(*ph, 3), show_short(*celsius, 0)))
        .collect();
    format!("certified pH {}", points.join(", "))
}

/// How long it takes to cool in a basin: `in water 15 to 35 min`; nothing where it is hardly warm.
pub(crate) fn cooling_words(volume_ml: f64, from_c: f64) -> Option<String> {
    if from_c <= COOLING_TOLD_ABOVE_C {
        return None;
    }
    let around = Around::Water;
    let bottle = CoolingBottle { volume_ml, material: cooling::BottleMaterial::Glass, around };
    let course =
        CoolingCourse { bottle, from_c, around_c: BASIN_C, bath_ml: None, time_constant_minutes: None };
    let minutes = course.about_minutes_to(USUAL_C).ok()?;
    let five = |minutes: f64| ((minutes / 5.0).round() * 5.0).max(5.0);
    let (low, high) = (five(minutes * (1.0 - around.doubt())), five(minutes * (1.0 + around.doubt())));
    let range = if (high - low).abs() < 1.0 {
        format!("about {} min", show_short(low, 0))
    } else {
        format!("{} to {} min", show_short(low, 0), show_short(high, 0))
    };
    Some(format!("in water {range}"))
}

/// A test before film is risked; common practice, no source.
fn test_words(formula: &Formula) -> Option<String> {
    let has = |test: &dyn Fn(&crate::substance::Form) -> bool| {
        formula.ingredients().any(|ingredient| test(&ingredient.form))
    };
    match formula.kind {
        Kind::FilmDeveloper if formula.parts.len() == 1 => {
            let is_single = formula.uses.iter().all(|listed_use| listed_use.baths.len() == 1);
            let has_alkali = has(&|form| form.has_role(Role::Alkali) && !form.is_class(&Class::Sulfite));
            // A concentrate is tried as it is used, not as it stands in the bottle.
            let is_concentrate = formula
                .uses
                .iter()
                .flat_map(|own| &own.baths)
                .all(|bath| bath.water >= 10.0 * bath.shares.iter().map(|(_, share)| share).sum::<f64>());
            (is_single && has_alkali && (!is_concentrate || formula.uses.is_empty()))
                .then(|| "leader black in ____ min".to_owned())
        }
        Kind::Fixer if formula.uses.iter().any(|listed_use| listed_use.name.contains("film")) => {
            Some("time a film leader's clearing".to_owned())
        }
        _ => None,
    }
}
