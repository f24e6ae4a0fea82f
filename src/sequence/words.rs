//! What a step says: verb, how, and the sign that it is done, by stage.

use super::order::Node;
use super::stage::{Contents, Family, Stage, chills, is_weighed_solid};
use super::{Action, Portion, Step, rules};
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

const CLEAR: &str = "clear, no grains at the bottom";

fn manner(stage: Stage, item: &Item, contents: &Contents) -> Manner {
    let dissolved_already = item.dose.is_some() || item.solution.is_some();
    if dissolved_already && !matches!(stage, Stage::AscorbicAcid | Stage::StrongAcid) {
        return Manner { verb: "Measure in", how: "stir", done: "mixed" };
    }
    let (verb, how, done) = match stage {
        Stage::Solvent if item.form.is_class(&Class::Flammable) => {
            ("Add", "into water of at most 30 °C; no flame or spark near it", "mixed")
        }
        Stage::Pinch => ("Add a pinch of the weighed", "stir", "dissolved"),
        Stage::MetolLike => {
            ("Dissolve", "stir without splashing; crush no lumps dry", "clear, every grain gone")
        }
        Stage::Sulfite => ("Dissolve", "sprinkle it in while stirring; poured in a heap it cakes", CLEAR),
        Stage::AcidSulfite => ("Dissolve", "stir; keep your nose away from it", CLEAR),
        Stage::Aldehyde if item.form.state != State::Solid => {
            ("Add", "stir, under an extractor or in the open air", "mixed; cover it")
        }
        Stage::Aldehyde => {
            ("Add", "stir, under an extractor or in the open air", "dissolved; it can be slow")
        }
        Stage::AscorbicAcid if contents.carbonate => (
            "Add",
            "a little at a time, stirring, in a vessel with room: wait for the foam each time",
            "no more bubbles, clear",
        ),
        Stage::AlkaliSolubleAgent if contents.alkali => {
            ("Dissolve", "stir; it is slow until the alkali takes it up", CLEAR)
        }
        Stage::AlkaliSolubleAgent => ("Dissolve", "stir; it is slow", CLEAR),
        Stage::Buffer if item.form.is_class(&Class::Borate) => ("Dissolve", "stir; it is slow", CLEAR),
        // Where an end point follows, or the agent has first to be split, it is not meant to be clear yet.
        Stage::Agent if contents.end_point || item.form.is_class(&Class::Organic) => {
            ("Stir in", "stir", "evenly wetted; it need not be clear yet (see the note above)")
        }
        Stage::Caustic => ("Add", "a little at a time, stirring", "clear; let it cool"),
        Stage::SlowAgent => (
            "Dissolve",
            "stir long; it is slow to wet, so rub it first with a few drops of the solution",
            "no specks floating",
        ),
        Stage::Thiosulfate if is_weighed_solid(item) && chills(item) => {
            ("Dissolve", "stir; the vessel grows cold", CLEAR)
        }
        Stage::Thiosulfate | Stage::Solvent => ("Add", "stir", "mixed"),
        Stage::WeakAcid if is_weighed_solid(item) => ("Dissolve", "slowly, stirring", CLEAR),
        Stage::WeakAcid => ("Add", "slowly, stirring", "mixed, no cloud"),
        Stage::StrongAcid => (
            "Add",
            "drop by drop down the side, stirring: the acid into the solution, never the solution into the acid",
            "mixed; let it cool",
        ),
        Stage::NobleMetal | Stage::Silver => ("Add", "slowly, stirring; no metal spoon", CLEAR),
        Stage::Toner => ("Dissolve", "stir", "dissolved"),
        Stage::WettingAgent => ("Add", "stir gently", "mixed, no foam"),
        Stage::Amidol => ("Dissolve", "stir; it spoils soon", CLEAR),
        Stage::Colloid => ("Add", "let it soak or swell, then stir", "even, no lumps"),
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
        | Stage::Permanganate
        | Stage::Restrainer
        | Stage::Antifoggant => ("Dissolve", "stir", CLEAR),
    };
    // A liquid is added, not dissolved.
    let is_liquid = item.form.state != State::Solid;
    match (is_liquid, verb, done) {
        (true, "Dissolve", CLEAR) => Manner { verb: "Add", how, done: "mixed" },
        _ => Manner { verb, how, done },
    }
}

/// A step that dissolves nothing.
pub(super) fn operation_step(own: &Operation) -> Step {
    let celsius = own.temperature_c.map(|celsius| format!("{} °C", rounding::show_short(celsius, 0)));
    let instruction = match (own.kind, &celsius) {
        (OperationKind::Heat, Some(celsius)) => format!("HEAT it to {celsius}"),
        (OperationKind::Heat, None) => "HEAT it".to_owned(),
        (OperationKind::Boil, _) => "BOIL it gently".to_owned(),
        (OperationKind::Cool, Some(celsius)) => format!("COOL: let it cool to {celsius} or below"),
        (OperationKind::Cool, None) => "COOL: let it cool".to_owned(),
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
        _ => minutes.map_or_else(String::new, |minutes| format!("{minutes} have passed")),
    };
    Step {
        celsius: own.temperature_c,
        how: own.how.clone().unwrap_or_default(),
        done,
        ..Step::plain(Action::Operation(own.kind), format!("{instruction}{long}"))
    }
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

/// Nobody sees the bottom of a bath that is not clear: what "done" means follows what it looks like.
pub(super) fn by_appearance(steps: &mut [Step], appearance: Appearance) {
    let (grains, end) = match appearance {
        Appearance::Clear => return,
        Appearance::Milky => ("no lumps; it is milky", "even and milky"),
        Appearance::Slurry => {
            ("evenly stirred; it stays a slurry", "evenly stirred; what settles belongs to it")
        }
        Appearance::Coloured => ("no grains left on the bottom (hold a light behind it)", "even"),
    };
    // Before the first thing that clouds or colours it a step may be clear, but nobody is harmed by the other words.
    for step in steps.iter_mut() {
        let in_vessel = matches!(step.action, Action::Add | Action::PourIn | Action::Pinch);
        if step.action == Action::TopUp {
            end.clone_into(&mut step.done);
        } else if in_vessel && step.done.contains("clear") {
            grains.clone_into(&mut step.done);
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
        Stage::Sequestrant => "first: it binds the lime of hard water",
        Stage::Solvent => "it helps the next to dissolve",
        Stage::MetolLike => "first of the agents",
        Stage::Sulfite => "the preservative: it guards what follows from the air",
        Stage::AcidSulfite => "it guards what follows from the air",
        Stage::Thiosulfate if contents.family == Family::Fixer && contents.chilling_hypo => {
            "first, while the water is hot: it chills it"
        }
        Stage::Thiosulfate if contents.family == Family::Fixer => "first of all",
        Stage::Alkali if contents.ascorbate_guard => {
            "first: the ascorbic acid goes into the dissolved alkali"
        }
        Stage::Alkali => "the alkali",
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
    let action = if portion.is_pinch { Action::Pinch } else { Action::Add };
    let mut instruction = match (portion.is_pinch, portion.is_rest) {
        (true, _) => format!("{} {}", manner.verb, name(item)),
        (_, true) => format!("{} the rest of the {}", manner.verb, name(item)),
        _ => format!("{} {}", manner.verb, name(item)),
    };
    if item.optional {
        instruction.push_str(" (optional)");
    }
    let how = match (portion.is_pinch, portion.weigh) {
        (true, None) => "a pinch between two fingers (gloves), out of the weighed sulfite".to_owned(),
        (true, Some(_)) => "the small heap out of the weighed sulfite; do not weigh extra; stir".to_owned(),
        _ => manner.how.to_owned(),
    };
    let done =
        item.until.as_ref().map_or_else(|| manner.done.to_owned(), |until| format!("only until {until}"));
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
    let (temperature, celsius, how, why) = match node.stage {
        Stage::Caustic => (
            "COLD ",
            Some(15.0),
            "in a second vessel of heat-proof glass or plastic, standing in cold water: sprinkle it in slowly while stirring; never pour water onto it",
            "apart and cold: it heats the water strongly",
        ),
        Stage::Permanganate => (
            "warm ",
            Some(40.0),
            "in a second vessel of glass or plastic; crush nothing, stir until no crystal is left",
            "apart: it meets the acid only as a solution",
        ),
        Stage::Alum => (
            "warm ",
            Some(50.0),
            "in a second vessel; stir until clear, then let it cool",
            "apart: it goes in last, as a solution",
        ),
        Stage::ChromeAlum => (
            "lukewarm ",
            Some(40.0),
            "in a second vessel, never above 50 °C; it is slow",
            "apart and cool: hot chrome alum turns green and stops hardening",
        ),
        Stage::WeakAcid | Stage::StrongAcid => (
            "cold ",
            Some(20.0),
            "in a second vessel: the acid into the water, stirring",
            "concentrated acid must not meet sulfite or hypo undiluted",
        ),
        _ => ("", None, "in a second vessel; stir", reason.0),
    };
    Step {
        carries_g: None,
        water_ml: Some(water_ml),
        celsius,
        instruction: format!("Apart: dissolve {} in {volume} of {temperature}water", name(item)),
        how: how.to_owned(),
        done: if node.stage == Stage::Permanganate {
            "no crystal left, seen against a light; cooled to 30 °C or below".to_owned()
        } else {
            "clear, and cooled to 30 °C or below".to_owned()
        },
        why: why.to_owned(),
        ..about(Action::DissolveApart, node, item, portion, reason)
    }
}

/// The step that pours the second vessel in; it carries what was dissolved there.
pub(super) fn pour_step(node: &Node, item: &Item, portion: &Portion, reason: (&str, &'static str)) -> Step {
    let how = match node.stage {
        Stage::Caustic => "slowly, stirring; it warms up",
        Stage::Alum | Stage::ChromeAlum => "slowly, stirring hard; both cool",
        _ => "slowly, stirring",
    };
    let done = item.until.as_ref().map_or_else(
        || "clear; rinse the second vessel with a little water into the first".to_owned(),
        |until| format!("only until {until}"),
    );
    Step {
        instruction: format!("Pour in the solution of {}", item.form.name),
        how: how.to_owned(),
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
        format!("Apart: dissolve {} in {} of water", name(item), crate::quantity::Volume::from_ml(water_ml))
    } else {
        format!("Into the same second vessel: {}", name(item))
    };
    let why = match (node.stage, is_first) {
        (Stage::WeakAcid, _) => "acid into sulfite first: it meets the hypo only as bisulfite",
        (Stage::Halide, _) => "it throws the silver down in this vessel",
        (Stage::Silver, _) => "they react there, and the white suspension is added whole",
        _ => why,
    };
    Step {
        carries_g: None,
        water_ml: is_first.then_some(water_ml),
        celsius: is_first.then_some(25.0),
        instruction,
        how: "stir; keep your face away".to_owned(),
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
        (
            format!("Pour the second vessel in (it brings the {})", item.form.name),
            "slowly, stirring; both cool",
        )
    } else {
        (
            format!("Rinse the second vessel into the first (with it went the {})", item.form.name),
            "with a little water",
        )
    };
    Step {
        instruction,
        how: how.to_owned(),
        done: "nothing left in the second vessel".to_owned(),
        ..about(Action::PourIn, node, item, portion, reason)
    }
}
