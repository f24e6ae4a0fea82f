//! The order of mixing, derived from rules with reasons: a plan of steps for one part of a batch.
//!
//! The plan depends on what the ingredients are (roles and classes, [`stage`]), on the rules ([`rules`]) and on the amounts; it never
//! looks at the file's own order or at `mixing.order`. A stable topological sort decides (`order`); what is dissolved apart is
//! poured in at its place; the pinch is taken from the weighed sulfite.

mod hot;
mod order;
pub mod rules;
pub mod stage;
mod water;
mod words;

use std::sync::Arc;

use thiserror::Error;

use crate::formula::{After, Appearance, FinishedIn, OperationKind, Part};
use crate::quantity::rounding;
use crate::scale::dose::Balance;
use crate::scale::{BatchPart, Item, Unit};
use crate::substance::{Class, Form, State};
pub(crate) use hot::BOILS_C;
use order::{Edge, Node};
use stage::{Contents, Family, Stage, is_weighed_solid};
pub use water::Start;
pub use words::CHECK;

/// Share of the sulfite that is the pinch. Source: US Army correspondence course SS0513, page 21 (5 % of the sulfite first).
const PINCH_SHARE: f64 = 0.05;
/// Most that a pinch takes, g per litre of batch; common practice, no source (2 to 5 g/L).
const PINCH_MOST_G_PER_L: f64 = 5.0;
/// Warmest at which acid or alum may meet hypo, °C; common practice, no source.
pub const ACID_MEETS_HYPO_BELOW_C: f64 = 27.0;

/// A bath that ends warmer than this is made up once more when it has cooled to 20 °C: from 25 to 20 °C water shrinks by 0.12 %, less than a
/// cylinder shows (0.9970 and 0.9982 g/mL by Kell's formula, from memory).
pub const MADE_UP_AGAIN_ABOVE_C: f64 = 25.0;

/// What colours a bath so darkly that nobody sees its bottom.
const DARK: [Class; 3] = [Class::Permanganate, Class::ChromiumVi, Class::Iodine];
/// Grams of gelatin in a litre from which a bath sets to a jelly when it cools; common practice, no source.
const SETS_FROM_G_PER_L: f64 = 10.0;
/// How warm a bath is made up that sets when it cools, °C; common practice, no source.
const MADE_UP_WARM_C: f64 = 40.0;

/// Whether so much gelatin is in it that it sets when it cools.
pub fn sets_to_jelly(items: &[Item]) -> bool {
    let gelatin = items.iter().filter(|item| item.form.parent.id == "gelatin");
    gelatin.map(|item| item.per_litre).sum::<f64>() >= SETS_FROM_G_PER_L
}

/// What a step does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Measure the water (or solvent) to start with.
    Start,
    /// Add a little of the weighed sulfite.
    Pinch,
    /// Dissolve in the vessel.
    Add,
    /// Dissolve in a second vessel.
    DissolveApart,
    /// Pour the second vessel in.
    PourIn,
    /// Wait for a temperature.
    Cool,
    /// Something that the formula asks for besides dissolving: heat, boil, stand, strain …
    Operation(OperationKind),
    /// Fill to the mark.
    TopUp,
}

impl Action {
    /// The word in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Pinch => "pinch",
            Self::Add => "add",
            Self::DissolveApart => "dissolve-apart",
            Self::PourIn => "pour-in",
            Self::Cool => "cool",
            Self::TopUp => "top-up",
            Self::Operation(kind) => match kind {
                OperationKind::Heat => "heat",
                OperationKind::Boil => "boil",
                OperationKind::Cool => "cool",
                OperationKind::Stand => "stand",
                OperationKind::Strain => "strain",
                OperationKind::Filter => "filter",
                OperationKind::Swell => "swell",
            },
        }
    }

    /// The word of something that is done besides dissolving, waiting for a temperature included.
    pub fn operation(self) -> Option<&'static str> {
        matches!(self, Self::Cool | Self::Operation(_)).then(|| self.word())
    }
}

/// One line of a plan: the act, its amount and its words.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What it does.
    pub action: Action,
    /// Place among the part's items.
    pub item: Option<usize>,
    /// The form that it is about.
    pub form: Option<Arc<Form>>,
    /// How much, unrounded; of a dose or measured solution its millilitres.
    pub amount: Option<f64>,
    /// Unit of the amount.
    pub unit: Option<Unit>,
    /// How much, rounded to the balance or the measure; none for a pinch too small for the balance.
    pub weigh: Option<f64>,
    /// Grams of the form that enter the vessel with this step.
    pub carries_g: Option<f64>,
    /// Water of this step, mL: to start with, or to dissolve apart in.
    pub water_ml: Option<f64>,
    /// Temperature of that water, or the temperature to wait for, °C.
    pub celsius: Option<f64>,
    /// What to do, verb first.
    pub instruction: String,
    /// Of the manner of dissolving; empty where there is nothing to say.
    pub how: String,
    /// The sign that it is done.
    pub done: String,
    /// Why at this place.
    pub why: String,
    /// Source of the reason.
    pub source: &'static str,
}

impl Step {
    /// Makes the words agree with the thermometer: before the step in the main vessel, after it, and after the next one, °C.
    pub fn agree_with(&mut self, before_c: Option<f64>, after_c: Option<f64>, next_c: Option<f64>) {
        words::by_temperature(self, before_c, after_c, next_c);
    }

    fn plain(action: Action, instruction: String) -> Self {
        Self {
            action,
            item: None,
            form: None,
            amount: None,
            unit: None,
            weigh: None,
            carries_g: None,
            water_ml: None,
            celsius: None,
            instruction,
            how: String::new(),
            done: String::new(),
            why: String::new(),
            source: rules::COMMON_PRACTICE,
        }
    }
}

/// How to mix a part.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// Water and its temperature before anything is in it.
    pub start: Start,
    /// All steps, the start and the top-up included.
    pub steps: Vec<Step>,
}

/// Why a part cannot be mixed.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SequenceError {
    /// The rules contradict each other for this content.
    #[error("{} cannot be dissolved safely in one vessel: the rules {} contradict each other", ids.join(", "), rules.join(", "))]
    NoOrder {
        /// The ingredients concerned.
        ids: Vec<String>,
        /// Names of the rules.
        rules: Vec<&'static str>,
    },
    /// The file asks for an unsafe start.
    #[error("the formula asks for water at {asked_c} °C, but at most {limit_c} °C is safe: {why}")]
    UnsafeTemperature {
        /// What the file asks.
        asked_c: String,
        /// What is safe.
        limit_c: String,
        /// What a warmer or colder start would do.
        why: &'static str,
    },
    /// The file asks for heating what must stay cooler.
    #[error("the formula asks for heating it to {asked_c} °C, but at most {limit_c} °C is safe: {why}")]
    UnsafeHeating {
        /// What the file asks.
        asked_c: String,
        /// What is safe.
        limit_c: String,
        /// What more would do.
        why: &'static str,
    },
}

impl SequenceError {
    /// What to do about it.
    pub fn fix(&self) -> &'static str {
        match self {
            Self::NoOrder { .. } => "make two parts of it, mixed at use",
            Self::UnsafeHeating { .. } => {
                "let it cool before that goes in (`do = \"cool\"`), leave the heating out, or make two parts of it"
            }
            Self::UnsafeTemperature { .. } => "lower `temperature` in [mixing], or remove the line",
        }
    }
}

/// Plans the mixing of one part; `source` is the same part of the formula.
///
/// # Errors
/// No order satisfies every must, or the file asks for an unsafe start.
pub fn plan(batch: &BatchPart, source: &Part, balance: Balance) -> Result<Plan, SequenceError> {
    let contents = Contents::of(&batch.items);
    let nodes = nodes(batch, &contents);
    let edges = order::edges(&nodes, &contents);
    let sorted = order::order(&nodes, &edges, contents.family)
        .map_err(|stuck| SequenceError::NoOrder { ids: stuck.ids, rules: stuck.rules })?;
    let in_water = source.solvent.is_none();
    let is_apart = |item: &Item| in_water && water::dissolves_apart_from(item, &contents);
    let volume_ml = batch.volume.as_ml();
    // A shared second vessel holds the water of its first member only; counting each errs on the careful side.
    let apart_ml: f64 = batch
        .items
        .iter()
        .filter(|item| is_apart(item) && item.until.is_none())
        .map(|item| water::apart_water_ml(item, volume_ml))
        .sum();
    let start = water::start(batch, source, &contents, apart_ml)?;
    let mut steps = vec![start_step(&start, source)];
    steps.extend(operations(source, &After::Start));
    let pinch = pinch_of(batch, &contents, balance);
    let mut cooled = contents.family != Family::Fixer || contents.hot_alum_toner;
    // Water that was warmed for the oxidiser, or that a hardener's sulfite has warmed, cools before the acid.
    let is_warm = start.celsius.is_some_and(|celsius| celsius > ACID_MEETS_HYPO_BELOW_C);
    let mut cool_before_acid = contents.family == Family::Other && is_warm && in_water;
    // Members of a shared second vessel that wait to be poured in, and how many are still to come.
    let mut waiting: Vec<(usize, Portion, (&'static str, &'static str))> = Vec::new();
    // What is to be done after them waits with them.
    let mut held: Vec<Step> = Vec::new();
    let mut to_come =
        batch.items.iter().filter(|item| in_water && water::second_vessel(item, &contents).is_some()).count();
    for &index in &sorted {
        let Some(node) = nodes.get(index) else { continue };
        let Some(item) = batch.items.get(node.item) else { continue };
        let fumes = node.stage == Stage::StrongAcid
            || node.stage == Stage::AcidSulfite && contents.selenium
            || node.stage == Stage::WeakAcid && contents.sulfite && item.form.state != State::Solid;
        if cool_before_acid && fumes {
            steps.push(cool_before_acid_step());
            cool_before_acid = false;
        }
        if !cooled && must_not_meet_hot_hypo(item) {
            steps.push(cool_step());
            cooled = true;
        }
        let (why, rule_source) = reason(index, &edges, node.stage, &contents);
        // The rest of the sulfite is the sulfite; its pinch asks for nothing.
        let after = if node.stage == Stage::Pinch { Vec::new() } else { operations_after(source, item) };
        let portion = portion(node, item, pinch, balance);
        if in_water && water::second_vessel(item, &contents).is_some() {
            let water_ml = waiting.is_empty().then(|| water::apart_water_ml(item, volume_ml));
            steps.push(words::shared_step(node, item, &portion, water_ml, why));
            waiting.push((index, portion, (why, rule_source)));
            to_come -= 1;
            held.extend(after);
            if to_come > 0 {
                continue;
            }
            for (turn, (index, portion, reason)) in std::mem::take(&mut waiting).into_iter().enumerate() {
                let Some((node, item)) =
                    nodes.get(index).and_then(|node| Some((node, batch.items.get(node.item)?)))
                else {
                    continue;
                };
                steps.push(words::shared_pour_step(node, item, &portion, turn == 0, reason));
            }
        } else if is_apart(item) {
            held.extend(after);
            let water_ml = water::apart_water_ml(item, volume_ml);
            steps.push(words::apart_step(node, item, &portion, water_ml, (why, rule_source)));
            steps.push(words::pour_step(node, item, &portion, (why, rule_source)));
        } else {
            held.extend(after);
            steps.push(words::add_step(node, item, &portion, &contents, (why, rule_source)));
        }
        words::left_to(&mut steps, &held);
        steps.append(&mut held);
    }
    steps.push(top_up(batch, source));
    steps.extend(operations(source, &After::End));
    let is_dark = |item: &Item| DARK.iter().any(|class| item.form.is_class(class));
    let appearance = match source.mixing.appearance {
        Appearance::Clear if batch.items.iter().any(is_dark) => Appearance::Coloured,
        own => own,
    };
    words::by_appearance(&mut steps, appearance);
    hot::judge(&steps, batch, source.mixing.temperature_c)?;
    Ok(Plan { start, steps })
}

/// How much of an item a step moves.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Portion {
    amount: f64,
    unit: Unit,
    weigh: Option<f64>,
    carries_g: Option<f64>,
    is_pinch: bool,
    is_rest: bool,
}

/// The pinch: out of which sulfite, grams, and rounded where the balance can weigh them.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pinch {
    /// Place of the sulfite that it comes out of.
    from: usize,
    grams: f64,
    weighed: Option<f64>,
}

/// A node for each item, and one for the pinch where there is one.
fn nodes(batch: &BatchPart, contents: &Contents) -> Vec<Node> {
    let gives_pinch = pinch_source(batch, contents);
    let mut nodes = Vec::new();
    for (item, own) in batch.items.iter().enumerate() {
        let stage = Stage::of(&own.form);
        nodes.push(Node { id: own.form.id.clone(), item, stage });
        if gives_pinch == Some(item) {
            nodes.push(Node { id: own.form.id.clone(), item, stage: Stage::Pinch });
        }
    }
    nodes
}

/// The one weighed sulfite that gives the pinch, by its place among the items: the largest, then the first by id.
fn pinch_source(batch: &BatchPart, contents: &Contents) -> Option<usize> {
    let weighed = |item: &Item| Stage::of(&item.form) == Stage::Sulfite && is_weighed_solid(item);
    let sulfites = batch.items.iter().enumerate().filter(|(_, item)| contents.metol && weighed(item));
    let larger_or_first = |one: &Item, other: &Item| {
        other.amount.total_cmp(&one.amount).then_with(|| one.form.id.cmp(&other.form.id))
    };
    sulfites.min_by(|(_, one), (_, other)| larger_or_first(one, other)).map(|(place, _)| place)
}

/// The pinch of a part with metol and sulfite.
fn pinch_of(batch: &BatchPart, contents: &Contents, balance: Balance) -> Option<Pinch> {
    let from = pinch_source(batch, contents)?;
    let sulfite = batch.items.get(from)?;
    let grams = (sulfite.amount * PINCH_SHARE).min(PINCH_MOST_G_PER_L * batch.volume.as_litres());
    let rounded = rounding::to_step(grams, balance.step_g);
    // A pinch needs no precision, but it must be more than the balance's flicker.
    let weighed = (rounded >= 2.0 * balance.step_g).then_some(rounded);
    Some(Pinch { from, grams: weighed.unwrap_or(grams), weighed })
}

fn portion(node: &Node, item: &Item, pinch: Option<Pinch>, balance: Balance) -> Portion {
    if let Some(dose) = &item.dose {
        return Portion {
            amount: dose.millilitres,
            unit: Unit::Millilitre,
            weigh: Some(dose.millilitres),
            carries_g: item.grams,
            is_pinch: false,
            is_rest: false,
        };
    }
    let whole = Portion {
        amount: item.amount,
        unit: item.unit,
        weigh: Some(item.weigh),
        carries_g: item.grams,
        is_pinch: false,
        is_rest: false,
    };
    let Some(pinch) = pinch.filter(|pinch| pinch.from == node.item) else { return whole };
    match node.stage {
        Stage::Pinch => Portion {
            amount: pinch.grams,
            weigh: pinch.weighed,
            carries_g: Some(pinch.grams),
            is_pinch: true,
            ..whole
        },
        Stage::Sulfite => Portion {
            amount: item.amount - pinch.grams,
            weigh: pinch.weighed.map(|weighed| rounding::to_step(item.weigh - weighed, balance.step_g)),
            carries_g: item.grams.map(|grams| grams - pinch.grams),
            is_rest: true,
            ..whole
        },
        _ => whole,
    }
}

/// The reason for a node's place: the first must that holds it back, else the first preference, else its stage's own.
fn reason(index: usize, edges: &[Edge], stage: Stage, contents: &Contents) -> (&'static str, &'static str) {
    if stage == Stage::Pinch {
        return (
            "sulfite protects the metol from air while the metol dissolves",
            "US Army correspondence course SS0513, page 21",
        );
    }
    if stage == Stage::Sulfite && contents.metol {
        return ("metol first: it hardly dissolves in strong sulfite", rule_source("metol-before-sulfite"));
    }
    if stage == Stage::Sulfite && contents.family == Family::Fixer && contents.acid {
        return (
            "before any acid: sulfite stops acid breaking down the hypo",
            rule_source("sulfite-before-acid"),
        );
    }
    if stage == Stage::Alum && contents.hot_alum_toner {
        return (
            "last, slowly, into the hot hypo: the sulfur that it releases tones",
            rules::COMMON_PRACTICE,
        );
    }
    // Why a sequestrant goes first is told with the sequestrant, not with all that follow.
    let is_told_here = |edge: &&Edge| {
        edge.after == index && edge.rule.name != "sequestrant-first" && !edge.rule.why.is_empty()
    };
    let held = |must: bool| edges.iter().find(|edge| is_told_here(edge) && edge.must == must);
    if let Some(edge) = held(true).or_else(|| held(false)) {
        return (edge.rule.why, edge.rule.source);
    }
    words::stage_reason(stage, contents)
}

fn rule_source(name: &str) -> &'static str {
    rules::RULES.iter().find(|rule| rule.name == name).map_or(rules::COMMON_PRACTICE, |rule| rule.source)
}

/// What must not meet hot hypo: acids, alums, and ammonia, which fumes.
fn must_not_meet_hot_hypo(item: &Item) -> bool {
    is_acid_stage(Stage::of(&item.form)) || item.form.is_class(&Class::Ammonia)
}

fn is_acid_stage(stage: Stage) -> bool {
    matches!(
        stage,
        Stage::AcidSulfite | Stage::WeakAcid | Stage::StrongAcid | Stage::Alum | Stage::ChromeAlum
    )
}

fn start_step(start: &Start, source: &Part) -> Step {
    let water = if needs_distilled(source) { "distilled water" } else { "water" };
    let solvent = source.solvent.as_ref().map_or(water, |form| form.name.as_str());
    let instruction = match start.celsius {
        Some(celsius) => format!("Start with {solvent} at {} °C", rounding::show_short(celsius, 0)),
        None => format!("Start with {solvent}"),
    };
    Step {
        water_ml: Some(start.millilitres),
        celsius: start.celsius,
        how: match source.solvent {
            Some(_) if start.celsius.is_some_and(|celsius| celsius > 30.0) => {
                "Heat it in a water bath, away from any flame.".to_owned()
            }
            Some(_) => "Keep it away from any flame.".to_owned(),
            None => "Check with the thermometer.".to_owned(),
        },
        why: start.why.to_owned(),
        ..Step::plain(Action::Start, instruction)
    }
}

/// Whether a part wants distilled water: the file says so, or it holds a silver, gold or platinum salt, or ascorbate that is kept.
fn needs_distilled(source: &Part) -> bool {
    let said = [&source.note, &source.mixing.note]
        .into_iter()
        .flatten()
        .any(|note| note.to_lowercase().contains("distilled"));
    let has = |test: &dyn Fn(&Form) -> bool| source.ingredients.iter().any(|own| test(&own.form));
    let is_noble = |form: &Form| matches!(Stage::of(form), Stage::Silver | Stage::NobleMetal);
    // A trace of iron or copper from the tap kills ascorbate, unless something binds it.
    let is_ascorbate = |form: &Form| stage::is_ascorbate(form) && form.is_class(&Class::DevelopingAgent);
    let is_kept = source.mixing.finish == FinishedIn::Bottle;
    let is_bare_ascorbate = has(&is_ascorbate) && is_kept && !has(&|form| form.is_class(&Class::Chelate));
    said || has(&is_noble) || is_bare_ascorbate
}

fn cool_step() -> Step {
    Step {
        celsius: Some(ACID_MEETS_HYPO_BELOW_C),
        how: "Stand the vessel in cold water. Stir.".to_owned(),
        done: format!("the thermometer reads {ACID_MEETS_HYPO_BELOW_C:.0} °C or less"),
        why: "acid or alum in warm hypo releases sulfur".to_owned(),
        ..Step::plain(Action::Cool, format!("Cool to {ACID_MEETS_HYPO_BELOW_C:.0} °C before going on"))
    }
}

fn cool_before_acid_step() -> Step {
    Step {
        celsius: Some(ACID_MEETS_HYPO_BELOW_C),
        how: "Stand the vessel in cold water. Stir.".to_owned(),
        done: format!("the thermometer reads {ACID_MEETS_HYPO_BELOW_C:.0} °C or less"),
        why: "in a warm bath the acid fumes and spits".to_owned(),
        ..Step::plain(Action::Cool, format!("Cool to {ACID_MEETS_HYPO_BELOW_C:.0} °C before going on"))
    }
}

fn top_up(batch: &BatchPart, source: &Part) -> Step {
    let is_jelly = source.solvent.is_none() && sets_to_jelly(&batch.items);
    let instruction = match &source.solvent {
        Some(solvent) => {
            format!("Cool to 20 °C. Make up to {} with {}", batch.volume, solvent.name)
        }
        None if is_jelly => format!("Make up to {} with warm water", batch.volume),
        None if needs_distilled(source) => format!("Make up to {} with distilled water", batch.volume),
        None => format!("Make up to {} with cold water", batch.volume),
    };
    Step {
        how: match (source.mixing.finish, source.mixing.operations.iter().any(|own| own.after == After::End))
        {
            (FinishedIn::Bottle, _) if is_jelly => {
                "Stir. Bottle it warm and label. It sets to a jelly. Melt it at 40 °C before use."
            }
            (FinishedIn::Bottle, false) if source.solvent.is_some() => "Stir. Bottle and label.",
            (FinishedIn::Bottle, false) => "Stir. At 20 °C make up to the mark again. Bottle and label.",
            (FinishedIn::Bottle, true) => "Stir. At 20 °C make up to the mark again.",
            (FinishedIn::Tray, _) => OPEN_TRAY,
            (FinishedIn::UseAtOnce, _) => "Stir. Use it at once. It does not keep.",
        }
        .to_owned(),
        done: "clear and evenly mixed".to_owned(),
        celsius: is_jelly.then_some(MADE_UP_WARM_C),
        ..Step::plain(Action::TopUp, instruction)
    }
}

/// How a bath ends that must not be closed in.
pub const OPEN_TRAY: &str = "Stir. Pour it into an open tray. Use it at once. Never bottle it.";

impl Plan {
    /// Ends in an open tray, whatever the file says: something in it must never be closed in.
    pub fn end_in_a_tray(&mut self) {
        for step in self.steps.iter_mut().filter(|step| step.action == Action::TopUp) {
            OPEN_TRAY.clone_into(&mut step.how);
        }
    }
}

/// The operations of a part at one place, as steps.
fn operations(source: &Part, after: &After) -> Vec<Step> {
    source.mixing.operations.iter().filter(|own| own.after == *after).map(words::operation_step).collect()
}

/// The operations after an item, under the name that the recipe gives it.
fn operations_after(source: &Part, item: &Item) -> Vec<Step> {
    let recipe = item.instead_of.as_ref().map_or(&item.form.id, |own| &own.form.id);
    operations(source, &After::Ingredient(recipe.clone()))
}

/// A pair that the published order has the other way round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderDifference {
    /// What this program puts first.
    pub first: String,
    /// What it puts after.
    pub second: String,
    /// Whether a must puts it so; else it is custom or a tie.
    pub must: bool,
}

/// Where the derived order differs from the order that the source gives; the pinch is left out of the comparison.
///
/// # Errors
/// As [`plan`].
pub fn differences(batch: &BatchPart, source: &Part) -> Result<Vec<OrderDifference>, SequenceError> {
    let contents = Contents::of(&batch.items);
    let nodes: Vec<Node> =
        nodes(batch, &contents).into_iter().filter(|node| node.stage != Stage::Pinch).collect();
    let edges = order::edges(&nodes, &contents);
    let sorted = order::order(&nodes, &edges, contents.family)
        .map_err(|stuck| SequenceError::NoOrder { ids: stuck.ids, rules: stuck.rules })?;
    let musts: Vec<Edge> = edges.iter().filter(|edge| edge.must).copied().collect();
    let published = |node: usize| {
        let id = &nodes.get(node)?.id;
        source.mixing.order.iter().position(|own| own == id)
    };
    let mut differences = Vec::new();
    for (place, &first) in sorted.iter().enumerate() {
        for &second in sorted.iter().skip(place + 1) {
            let is_other_way_round =
                published(first).zip(published(second)).is_some_and(|(own, other)| own > other);
            if is_other_way_round {
                differences.push(OrderDifference {
                    first: nodes.get(first).map(|node| node.id.clone()).unwrap_or_default(),
                    second: nodes.get(second).map(|node| node.id.clone()).unwrap_or_default(),
                    must: order::reaches(&musts, first, second, nodes.len()),
                });
            }
        }
    }
    Ok(differences)
}

/// Pairs of form ids that a must keeps in order, for tests.
pub fn musts(batch: &BatchPart) -> Vec<(String, String, &'static str)> {
    let contents = Contents::of(&batch.items);
    let nodes = nodes(batch, &contents);
    let name = |node: usize| {
        nodes.get(node).map_or_else(String::new, |own| {
            if own.stage == Stage::Pinch { format!("pinch of {}", own.id) } else { own.id.clone() }
        })
    };
    order::edges(&nodes, &contents)
        .iter()
        .filter(|edge| edge.must)
        .map(|edge| (name(edge.before), name(edge.after), edge.rule.name))
        .collect()
}

#[cfg(test)]
mod tests;
