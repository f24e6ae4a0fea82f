//! What a step says: verb, how, and the sign that it is done, by stage.

use super::order::Node;
use super::stage::{Contents, Family, Stage, chills, is_weighed_solid};
use super::{ACID_MEETS_HYPO_BELOW_C, Action, Portion, Step, rules};
use crate::formula::{Appearance, Operation, OperationKind};
use crate::quantity::rounding;
use crate::scale::Item;
use crate::substance::{Class, State};

/// How an ingredient goes in, and the sign that it is done.
struct Manner {
    verb: &'static str,
    how: &'static str,
    done: &'static str,
}

const CLEAR: &str = "clear, no grains";
const STIR: &str = "Stir.";
/// Of a second vessel that was poured in.
const RINSED_IN: &str = "; vessel rinsed in";
const CHILLED: &str = "Stir. The vessel turns cold.";
const SLOWLY: &str = "Add slowly while stirring.";
const MIXED: &str = "evenly mixed";
/// Of acid in a selenium bath.
const SELENIUM_FALLS: &str = "evenly mixed; what is red is lost selenium";
/// The first word of a wait that is over before it begins.
pub const CHECK: &str = "Check";
/// What is said after a thing that warms its vessel; the sheet takes it away where the vessel hardly warms.
const COOL_AGAIN: &str = ", and cool again";
/// The same of a thing that is poured in.
const WARMS_UP: &str = " The solution warms up.";
/// What is said of a salt that chills its vessel.
const TURNS_COLD: &str = " The vessel turns cold.";
/// What is said where a bath that ends warm has to be made up once more.
const MADE_UP_AGAIN: &str = " At 20 °C make up to the mark again.";
/// From this on a step warms or chills its vessel so that it is told, K; common practice, no source.
const FELT_K: f64 = 3.0;

fn manner(stage: Stage, item: &Item, contents: &Contents) -> Manner {
    let dissolved_already = item.dose.is_some() || item.solution.is_some();
    if dissolved_already && !matches!(stage, Stage::AscorbicAcid | Stage::StrongAcid) {
        let how = match stage {
            Stage::NobleMetal | Stage::Silver => "Add slowly while stirring. Use no metal spoon.",
            Stage::WeakAcid | Stage::Caustic => SLOWLY,
            _ => STIR,
        };
        return Manner { verb: "Add", how, done: MIXED };
    }
    let (verb, how, done) = match stage {
        Stage::Solvent if item.form.is_class(&Class::Flammable) => {
            ("Add", "Pour it into water of at most 30 °C. No flame or spark near it.", MIXED)
        }
        Stage::Pinch => ("Add a pinch of the weighed", STIR, "dissolved"),
        Stage::MetolLike => {
            ("Dissolve", "Stir without splashing. Do not crush dry lumps.", "clear, every grain dissolved")
        }
        Stage::Sulfite => ("Dissolve", "Sprinkle it in, stirring. Tipped in at once, it cakes.", CLEAR),
        Stage::AcidSulfite => ("Dissolve", "Stir. Keep your face away.", CLEAR),
        Stage::Aldehyde if item.form.state != State::Solid => {
            ("Add", "Stir, under extraction or outdoors. Cover the vessel.", MIXED)
        }
        Stage::Aldehyde => ("Add", "Stir, under extraction or outdoors. It dissolves slowly.", "dissolved"),
        Stage::AscorbicAcid if contents.carbonate => (
            "Add",
            "Add a little at a time, stirring. Let the foam fall each time. Leave headroom.",
            "clear, and bubbling has stopped",
        ),
        Stage::AlkaliSolubleAgent if contents.alkali => {
            ("Dissolve", "Stir. It dissolves slowly, as the alkali takes it up.", CLEAR)
        }
        Stage::AlkaliSolubleAgent => ("Dissolve", "Stir. It dissolves slowly.", CLEAR),
        Stage::Buffer if item.form.is_class(&Class::Borate) => {
            ("Dissolve", "Stir. It dissolves slowly.", CLEAR)
        }
        // Where an end point follows, or the agent has first to be split, it is not meant to be clear yet.
        Stage::Agent if contents.end_point || item.form.is_class(&Class::Organic) => {
            ("Stir in", STIR, "evenly wetted; it need not be clear yet")
        }
        Stage::Caustic => ("Add", "Add a little at a time, stirring.", "clear, and cool again"),
        Stage::SlowAgent => (
            "Dissolve",
            "Rub it to a paste with a few drops of the solution. Stir long.",
            "no specks float on top",
        ),
        Stage::Thiosulfate if is_weighed_solid(item) && chills(item) => ("Dissolve", CHILLED, CLEAR),
        Stage::Thiosulfate if is_weighed_solid(item) => ("Dissolve", STIR, CLEAR),
        Stage::Thiosulfate | Stage::Solvent => ("Add", STIR, MIXED),
        Stage::WeakAcid if is_weighed_solid(item) => ("Dissolve", SLOWLY, CLEAR),
        Stage::WeakAcid => ("Add", SLOWLY, "evenly mixed, no cloud"),
        // Crystals have no drops.
        Stage::StrongAcid if is_weighed_solid(item) => ("Add", "Add a little at a time, stirring.", CLEAR),
        Stage::StrongAcid => (
            "Add",
            "Add drop by drop, stirring. Acid into solution, never solution into acid.",
            "evenly mixed, and cool again",
        ),
        Stage::NobleMetal | Stage::Silver => ("Add", "Add slowly while stirring. Use no metal spoon.", CLEAR),
        Stage::Toner => ("Dissolve", STIR, "dissolved"),
        Stage::WettingAgent => ("Add", "Stir gently.", "evenly mixed, no foam"),
        Stage::Amidol => ("Dissolve", "Stir. Use it within hours.", CLEAR),
        Stage::Colloid if swells(item) => ("Add", "Let it swell, then stir.", "smooth, with no lumps"),
        Stage::Colloid => ("Add", STIR, "smooth, with no lumps"),
        Stage::Sequestrant
        | Stage::Buffer
        | Stage::Alum
        | Stage::ChromeAlum
        | Stage::Agent
        | Stage::AscorbicAcid
        | Stage::Alkali
        | Stage::Salt
        | Stage::Halide
        | Stage::Oxidiser
        | Stage::Iodine
        | Stage::Permanganate
        | Stage::Restrainer
        | Stage::Antifoggant => ("Dissolve", STIR, CLEAR),
    };
    // A liquid is added, not dissolved.
    let is_liquid = item.form.state != State::Solid;
    match (is_liquid, verb, done) {
        (true, "Dissolve", CLEAR) => Manner { verb: "Add", how, done: MIXED },
        _ => Manner { verb, how, done },
    }
}

/// Whether a colloid has to swell: gelatin, gum, starch; not coffee.
fn swells(item: &Item) -> bool {
    !item.form.parent.id.contains("coffee")
}

/// A step that dissolves nothing.
pub(super) fn operation_step(own: &Operation) -> Step {
    let celsius = own.temperature_c.map(|celsius| format!("{} °C", rounding::show_short(celsius, 0)));
    let instruction = match (own.kind, &celsius) {
        (OperationKind::Heat, Some(celsius)) => format!("HEAT it to {celsius}"),
        (OperationKind::Heat, None) => "HEAT it".to_owned(),
        (OperationKind::Boil, _) => "BOIL it gently".to_owned(),
        (OperationKind::Cool, Some(celsius)) => format!("COOL it to {celsius} or below"),
        (OperationKind::Cool, None) => "COOL it to room temperature".to_owned(),
        (OperationKind::Stand, _) => "STAND: leave it".to_owned(),
        (OperationKind::Strain, _) => "STRAIN it through fine cloth".to_owned(),
        (OperationKind::Filter, _) => "FILTER it".to_owned(),
        (OperationKind::Swell, _) => "STAND: let it swell".to_owned(),
    };
    let minutes = own.minutes.map(duration);
    let long = match own.kind {
        OperationKind::Stand | OperationKind::Swell | OperationKind::Boil => {
            minutes.as_ref().map_or_else(String::new, |minutes| format!(" for {minutes}"))
        }
        _ => String::new(),
    };
    let done = match (&own.until, own.kind, &celsius) {
        (Some(until), ..) => until.clone(),
        (None, OperationKind::Heat, Some(celsius)) => format!("it reads {celsius}"),
        (None, OperationKind::Cool, Some(celsius)) => format!("it reads {celsius} or less"),
        _ => minutes.map_or_else(String::new, |minutes| {
            let have = if minutes.starts_with("1 ") { "has" } else { "have" };
            format!("{minutes} {have} passed")
        }),
    };
    Step {
        celsius: own.temperature_c,
        how: own.how.as_deref().map_or_else(String::new, sentences),
        done,
        ..Step::plain(Action::Operation(own.kind), format!("{instruction}{long}"))
    }
}

/// What a wait or a fire after it dissolves is not asked to be dissolved before.
pub(super) fn left_to(steps: &mut [Step], next: &[Step]) {
    let dissolves = |own: &Step| {
        let kinds = [OperationKind::Boil, OperationKind::Heat, OperationKind::Stand, OperationKind::Swell];
        let is_told = ["dissolved", "left", "swollen"].iter().any(|word| own.done.contains(word));
        matches!(own.action, Action::Operation(kind) if kinds.contains(&kind)) && is_told
    };
    if let Some(step) = steps.last_mut().filter(|step| step.carries_g.is_some() && next.iter().any(dissolves))
    {
        "evenly stirred in; it dissolves in what follows".clone_into(&mut step.done);
    }
}

/// Pieces after semicolons as sentences of their own.
fn sentences(text: &str) -> String {
    let one = |piece: &str| {
        let mut letters = piece.trim().trim_end_matches('.').chars();
        letters.next().map(|first| format!("{}.", first.to_uppercase().chain(letters).collect::<String>()))
    };
    text.split(';').filter_map(one).collect::<Vec<_>>().join(" ")
}

/// Minutes as one says them.
fn duration(minutes: f64) -> String {
    match minutes {
        m if m >= 2880.0 => format!("{} days", rounding::show_short(m / 1440.0, 1)),
        m if m >= 120.0 => format!("{} hours", rounding::show_short(m / 60.0, 1)),
        m if (m - 60.0).abs() < f64::EPSILON => "1 hour".to_owned(),
        m => format!("{} min", rounding::show_short(m, 1)),
    }
}

/// Makes the words of a step agree with the thermometer beside it.
///
/// `next_c` is what the row after it reads.
pub(super) fn by_temperature(
    step: &mut Step,
    before_c: Option<f64>,
    after_c: Option<f64>,
    next_c: Option<f64>,
) {
    // Nobody is asked to wait until it is cool where this row or the next one reads warm.
    if [after_c, next_c].into_iter().flatten().any(|celsius| celsius > ACID_MEETS_HYPO_BELOW_C) {
        step.done = step.done.replace(COOL_AGAIN, "");
    }
    if let Some(rise_k) = before_c.zip(after_c).map(|(before, after)| after - before) {
        if rise_k < FELT_K {
            step.done = step.done.replace(COOL_AGAIN, "");
        }
        if rise_k <= 0.0 {
            step.how = step.how.replace(WARMS_UP, "");
        }
        if rise_k > -FELT_K {
            step.how = step.how.replace(TURNS_COLD, "");
        }
    }
    // Nobody waits for what it reads already, nor heats what is hotter; but readings are computed, and so it is looked at.
    if let Some((before, celsius)) = before_c.zip(step.celsius) {
        let show = rounding::show_short(celsius, 0);
        match step.action {
            Action::Cool if before <= celsius => {
                step.instruction = format!("{CHECK} that it reads {show} °C or less");
                "If it is warmer, stand the vessel in cold water.".clone_into(&mut step.how);
            }
            Action::Operation(OperationKind::Heat) if before > celsius => {
                step.instruction = step.instruction.replace("HEAT", "BRING");
            }
            _ => {}
        }
    }
    if after_c.is_some_and(|after| after <= super::MADE_UP_AGAIN_ABOVE_C) {
        step.how = step.how.replace(MADE_UP_AGAIN, "");
    }
}

/// Nobody sees the bottom of a bath that is not clear: what "done" means follows what it looks like.
pub(super) fn by_appearance(steps: &mut [Step], appearance: Appearance) {
    let (grains, end) = match appearance {
        Appearance::Clear => return,
        Appearance::Milky => ("no lumps; it is milky", "even and milky"),
        Appearance::Slurry => {
            ("evenly stirred; it stays a slurry", "evenly stirred; what settles belongs to it")
        }
        Appearance::Coloured => ("no grains, seen against a light", "even"),
    };
    // Before the first thing that clouds or colours it a step may be clear, but nobody is harmed by the other words.
    for step in steps.iter_mut() {
        let in_vessel = matches!(step.action, Action::Add | Action::PourIn | Action::Pinch);
        if step.action == Action::TopUp {
            end.clone_into(&mut step.done);
        } else if in_vessel && step.done.contains("clear") {
            let rinsed = if step.done.ends_with(RINSED_IN) { RINSED_IN } else { "" };
            step.done = format!("{grains}{rinsed}");
        }
    }
}

/// Reason of a stage that no rule holds back.
pub(super) fn stage_reason(stage: Stage, contents: &Contents) -> (&'static str, &'static str) {
    let why = match stage {
        Stage::StrongAcid => "acid into water, never water into acid",
        Stage::WeakAcid if contents.count == 1 => "acid into water",
        Stage::Caustic => "caustic into cold water, never water onto caustic",
        _ if contents.count == 1 => "",
        Stage::Sequestrant => "first: it binds the calcium of hard water",
        Stage::Solvent => "it helps the next to dissolve",
        Stage::MetolLike => "first of the agents",
        Stage::Sulfite | Stage::AcidSulfite => "preservative: it protects what follows from the air",
        Stage::Thiosulfate if contents.family == Family::Fixer && contents.chilling_hypo => {
            "first, while the water is hot: hypo chills it"
        }
        Stage::Thiosulfate if contents.family == Family::Fixer => "",
        Stage::Alkali if contents.ascorbate_guard => {
            "first: the ascorbic acid goes into the dissolved alkali"
        }
        // Where no rule of chemistry holds it back there is nothing to say.
        _ => "",
    };
    (why, rules::COMMON_PRACTICE)
}

/// The name on the jar with what is measured of it.
fn name(item: &Item) -> String {
    let name = &item.form.name;
    if let Some(dose) = &item.dose {
        return format!("{name}, {} % solution", rounding::show_short(dose.strength_percent, 2));
    }
    match item.solution {
        Some(strength) => format!("{name}, {strength} solution"),
        None => name.clone(),
    }
}

fn about(action: Action, node: &Node, item: &Item, portion: &Portion, reason: (&str, &'static str)) -> Step {
    Step {
        item: Some(node.item),
        form: Some(std::rc::Rc::clone(&item.form)),
        amount: Some(portion.amount),
        unit: Some(portion.unit),
        weigh: portion.weigh,
        carries_g: portion.carries_g,
        why: reason.0.to_owned(),
        source: reason.1,
        ..Step::plain(action, String::new())
    }
}

/// A step that dissolves in the vessel.
pub(super) fn add_step(
    node: &Node,
    item: &Item,
    portion: &Portion,
    contents: &Contents,
    reason: (&str, &'static str),
) -> Step {
    let manner = manner(node.stage, item, contents);
    // What holds of a solid caustic does not hold of its solution.
    let is_solid_reason =
        node.stage == Stage::Caustic && !is_weighed_solid(item) && reason.0.contains("onto caustic");
    let reason = if is_solid_reason { ("", reason.1) } else { reason };
    let action = if portion.is_pinch { Action::Pinch } else { Action::Add };
    let mut instruction = match (portion.is_pinch, portion.is_rest) {
        (true, _) => format!("{} {}", manner.verb, name(item)),
        (_, true) => format!("{} the rest of the {}", manner.verb, name(item)),
        _ => format!("{} {}", manner.verb, name(item)),
    };
    if item.optional {
        instruction.push_str(" (optional)");
    }
    let how = match (portion.is_pinch, portion.is_rest) {
        (true, _) => "Tip in a knife tip of the weighed heap. Do not weigh any extra. Stir.".to_owned(),
        _ => manner.how.to_owned(),
    };
    // Acid throws selenium out of its sulfite.
    let is_acid = matches!(node.stage, Stage::AcidSulfite | Stage::WeakAcid | Stage::StrongAcid);
    let manner_done = if contents.selenium && is_acid { SELENIUM_FALLS } else { manner.done };
    let done =
        item.until.as_ref().map_or_else(|| manner_done.to_owned(), |until| format!("only until {until}"));
    Step { instruction, how, done, ..about(action, node, item, portion, reason) }
}

/// A step that dissolves in a second vessel; it carries nothing into the first.
pub(super) fn apart_step(
    node: &Node,
    item: &Item,
    portion: &Portion,
    water_ml: f64,
    reason: (&str, &'static str),
) -> Step {
    let volume = crate::quantity::Volume::from_ml(water_ml);
    let cooled = format!("clear, and cooled to {ACID_MEETS_HYPO_BELOW_C:.0} °C");
    let (temperature, celsius, how, done, why) = match node.stage {
        Stage::Caustic => (
            "COLD ",
            Some(15.0),
            "Use heat-proof glass or plastic, standing in cold water. Sprinkle slowly, stirring. Never pour water onto caustic.",
            cooled,
            "apart and cold: caustic heats water fiercely",
        ),
        Stage::Permanganate => (
            "",
            Some(40.0),
            "Use glass or plastic. Crush nothing. Stir until no crystal is left.",
            format!("no crystal left, seen against a light; cooled to {ACID_MEETS_HYPO_BELOW_C:.0} °C"),
            "apart: it meets the acid only as a solution",
        ),
        Stage::Alum => ("", Some(50.0), STIR, cooled, "apart: it goes in last, as a solution"),
        Stage::ChromeAlum => (
            "",
            Some(40.0),
            "Stir, never above 50 °C. It dissolves slowly.",
            cooled,
            "apart and cool: chrome alum dissolved hot turns green and no longer hardens",
        ),
        Stage::WeakAcid | Stage::StrongAcid => (
            "",
            Some(20.0),
            "Add the acid to the water, stirring.",
            MIXED.to_owned(),
            "concentrated acid must not meet sulfite or hypo undiluted",
        ),
        _ => ("", None, STIR, CLEAR.to_owned(), reason.0),
    };
    let at = celsius.map_or_else(String::new, |celsius| format!(" at {celsius:.0} °C"));
    Step {
        carries_g: None,
        water_ml: Some(water_ml),
        celsius,
        instruction: format!(
            "In a second vessel, dissolve {} in {volume} of {temperature}water{at}",
            name(item)
        ),
        how: how.to_owned(),
        done,
        why: why.to_owned(),
        ..about(Action::DissolveApart, node, item, portion, reason)
    }
}

/// The step that pours the second vessel in; it carries what was dissolved there.
pub(super) fn pour_step(node: &Node, item: &Item, portion: &Portion, reason: (&str, &'static str)) -> Step {
    let how = match node.stage {
        Stage::Caustic => format!("Pour slowly, stirring.{WARMS_UP}"),
        Stage::Alum | Stage::ChromeAlum => {
            format!("Pour slowly, stir hard. Have both at {ACID_MEETS_HYPO_BELOW_C:.0} °C or below.")
        }
        _ => "Pour slowly, stirring.".to_owned(),
    };
    let done = item
        .until
        .as_ref()
        .map_or_else(|| format!("clear{RINSED_IN}"), |until| format!("only until {until}"));
    Step {
        instruction: format!("Pour the {} solution into the main vessel", item.form.name),
        how,
        done,
        ..about(Action::PourIn, node, item, portion, reason)
    }
}

/// A step in a second vessel that several ingredients share.
pub(super) fn shared_step(
    node: &Node,
    item: &Item,
    portion: &Portion,
    water_ml: f64,
    why: &'static str,
) -> Step {
    let is_first = water_ml > 0.0;
    let instruction = if is_first {
        format!(
            "In a second vessel, dissolve {} in {} of water",
            name(item),
            crate::quantity::Volume::from_ml(water_ml)
        )
    } else {
        format!("Add {} to the second vessel", name(item))
    };
    let why = match (node.stage, is_first) {
        (Stage::WeakAcid, _) => "acid into sulfite first: it meets the hypo only as bisulfite",
        (Stage::Halide, _) => "it precipitates the silver in this vessel",
        (Stage::Silver, _) => "they react there; the white suspension is added whole",
        _ => why,
    };
    Step {
        carries_g: None,
        water_ml: is_first.then_some(water_ml),
        celsius: is_first.then_some(25.0),
        instruction,
        how: match node.stage {
            Stage::WeakAcid | Stage::StrongAcid | Stage::AcidSulfite => {
                "Stir. Keep your face away from the fumes."
            }
            _ => STIR,
        }
        .to_owned(),
        done: if node.stage == Stage::Silver { "white and even".to_owned() } else { CLEAR.to_owned() },
        ..about(Action::DissolveApart, node, item, portion, (why, rules::COMMON_PRACTICE))
    }
}

/// The step that pours a shared second vessel in; the first member stands for the pour, the others for the rinse.
pub(super) fn shared_pour_step(
    node: &Node,
    item: &Item,
    portion: &Portion,
    is_first: bool,
    reason: (&str, &'static str),
) -> Step {
    let (instruction, how) = if is_first {
        (format!("Pour in the second vessel (with the {})", item.form.name), "Pour slowly, stirring.")
    } else {
        (
            format!("Rinse the second vessel into the first (with it went the {})", item.form.name),
            "With a little water.",
        )
    };
    Step {
        instruction,
        how: how.to_owned(),
        done: "nothing left in it".to_owned(),
        ..about(Action::PourIn, node, item, portion, reason)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_waits_are_told_in_the_unit_one_says() {
        for (minutes, words) in [
            (30.0, "30 min"),
            (60.0, "1 hour"),
            (90.0, "90 min"),
            (120.0, "2 hours"),
            (720.0, "12 hours"),
            (1440.0, "24 hours"),
            (2880.0, "2 days"),
        ] {
            assert_eq!(duration(minutes), words);
        }
    }
}
