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
        form: Some(std::sync::Arc::clone(&item.form)),
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
    let rest = if portion.is_rest { " the rest of the" } else { "" };
    let mut instruction = format!("{}{rest} {}", manner.verb, name(item));
    if item.optional {
        instruction.push_str(" (optional)");
    }
    let how = if portion.is_pinch {
        "Tip in a knife tip of the weighed heap. Do not weigh any extra. Stir."
    } else {
        manner.how
    };
    // Acid throws selenium out of its sulfite.
    let is_acid = matches!(node.stage, Stage::AcidSulfite | Stage::WeakAcid | Stage::StrongAcid);
    let manner_done = if contents.selenium && is_acid { SELENIUM_FALLS } else { manner.done };
    let done =
        item.until.as_ref().map_or_else(|| manner_done.to_owned(), |until| format!("only until {until}"));
    Step { instruction, how: how.to_owned(), done, ..about(action, node, item, portion, reason) }
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

/// A step in a second vessel that several ingredients share; the first of them brings its water.
pub(super) fn shared_step(
    node: &Node,
    item: &Item,
    portion: &Portion,
    water_ml: Option<f64>,
    why: &'static str,
) -> Step {
    let instruction = match water_ml.map(crate::quantity::Volume::from_ml) {
        Some(water) => format!("In a second vessel, dissolve {} in {water} of water", name(item)),
        None => format!("Add {} to the second vessel", name(item)),
    };
    let why = match node.stage {
        Stage::WeakAcid => "acid into sulfite first: it meets the hypo only as bisulfite",
        Stage::Halide => "it precipitates the silver in this vessel",
        Stage::Silver => "they react there; the white suspension is added whole",
        _ => why,
    };
    Step {
        carries_g: None,
        water_ml,
        celsius: water_ml.map(|_| 25.0),
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
    use crate::sequence::tests::{items, plan_of};

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

    fn add(done: &str, how: &str) -> Step {
        Step { done: done.to_owned(), how: how.to_owned(), ..Step::plain(Action::Add, String::new()) }
    }

    // 3 K are felt, and 27 °C is the warmest at which acid meets hypo; common practice, no source.

    #[test]
    fn nobody_waits_for_what_hardly_warmed_nor_for_what_stays_warm() {
        for (before, after, next, waits) in [
            (Some(20.0), Some(23.0), None, true),
            (Some(20.0), Some(22.9), None, false),
            (Some(20.0), Some(27.0), Some(27.0), true),
            (Some(20.0), Some(27.1), None, false),
            (Some(20.0), Some(24.0), Some(27.1), false),
            (None, Some(24.0), None, true),
        ] {
            let mut step = add("clear, and cool again", "Stir.");
            by_temperature(&mut step, before, after, next);
            assert_eq!(step.done.contains("cool again"), waits, "{before:?} {after:?} {next:?}");
            assert!(step.done.starts_with("clear"));
        }
    }

    #[test]
    fn a_vessel_is_said_to_warm_or_to_turn_cold_where_it_does() {
        for (after, warms, turns_cold) in [
            (20.1, true, false),
            (20.0, false, false),
            (17.1, false, false),
            (17.0, false, true),
            (12.0, false, true),
        ] {
            let mut step = add("clear", "Stir. The solution warms up. The vessel turns cold.");
            by_temperature(&mut step, Some(20.0), Some(after), None);
            assert_eq!(
                (step.how.contains("warms"), step.how.contains("cold")),
                (warms, turns_cold),
                "{after}"
            );
        }
    }

    #[test]
    fn what_reads_right_already_is_looked_at_and_not_waited_for() {
        let after = |action, before_c| {
            let mut step = Step { celsius: Some(30.0), ..Step::plain(action, "HEAT it".to_owned()) };
            by_temperature(&mut step, Some(before_c), None, None);
            step.instruction
        };
        assert!(after(Action::Cool, 30.0).starts_with(CHECK) && after(Action::Cool, 30.1) == "HEAT it");
        let heat = Action::Operation(OperationKind::Heat);
        assert_eq!((after(heat, 30.0).as_str(), after(heat, 30.1).as_str()), ("HEAT it", "BRING it"));
        assert_eq!(after(Action::Add, 40.0), "HEAT it");
    }

    #[test]
    fn only_a_bath_that_ends_warm_is_made_up_again() {
        // From 25 to 20 °C water shrinks by 0.12 % (Kell's formula, from memory).
        for (after, again) in [(25.0, false), (25.1, true)] {
            let mut step = add("", "Stir. At 20 °C make up to the mark again. Bottle and label.");
            by_temperature(&mut step, None, Some(after), None);
            assert_eq!(step.how.contains("again"), again, "{after}");
        }
    }

    #[test]
    fn a_bath_that_is_not_clear_is_not_asked_to_be() {
        for appearance in [Appearance::Milky, Appearance::Slurry, Appearance::Coloured] {
            let top_up = Step { done: "clear".to_owned(), ..Step::plain(Action::TopUp, String::new()) };
            let apart =
                Step { done: "clear".to_owned(), ..Step::plain(Action::DissolveApart, String::new()) };
            let mut steps = [
                add("clear, no grains", ""),
                add("clear; vessel rinsed in", ""),
                add("evenly mixed", ""),
                apart,
                top_up,
            ];
            by_appearance(&mut steps, appearance);
            let [grains, poured, mixed, apart, end] = steps.map(|own| own.done);
            assert!(!grains.contains("clear") && !grains.contains("rinsed"), "{grains}");
            assert!(!poured.contains("clear") && poured.ends_with("vessel rinsed in"), "{poured}");
            assert_eq!((mixed.as_str(), apart.as_str()), ("evenly mixed", "clear"));
            assert!(end.contains("even"), "{end}");
        }
        let mut clear = [add("clear, no grains", "")];
        by_appearance(&mut clear, Appearance::Clear);
        assert_eq!(clear[0].done, "clear, no grains");
    }

    #[test]
    fn what_dissolves_in_the_wait_that_follows_is_not_asked_to_be_clear_before() {
        use OperationKind::{Boil, Filter, Heat, Stand, Swell};

        let next = |kind, done: &str| Step {
            done: done.to_owned(),
            ..Step::plain(Action::Operation(kind), String::new())
        };
        let left = |carries_g, next: Step| {
            let mut steps = [Step { carries_g, ..add("clear", "") }];
            left_to(&mut steps, &[next]);
            steps[0].done == "clear"
        };
        for (kind, done) in [
            (Stand, "all is dissolved"),
            (Boil, "no grain is left"),
            (Heat, "dissolved"),
            (Swell, "it is swollen"),
        ] {
            assert!(!left(Some(2.0), next(kind, done)), "{done}");
            assert!(left(None, next(kind, done)), "nothing went in: {done}");
        }
        assert!(left(Some(2.0), next(Stand, "10 min have passed")));
        assert!(left(Some(2.0), next(Filter, "nothing is left on the paper")));
    }

    #[test]
    #[allow(clippy::too_many_lines, reason = "a table of cases")]
    fn how_a_thing_goes_in_follows_what_it_is() {
        let sulfite = ("sodium-sulfite-anhydrous", "grams = 50");
        let metol = ("metol", "grams = 2");
        for (kind, ingredients, verb, how, done) in [
            // What is dissolved already is added; strong acid by drops even then, noble metal with no metal spoon.
            (
                "bleach",
                &[("potassium-bromide", "millilitres = 50\nstrength = \"10 % w/v\"")][..],
                "Add",
                "Stir.",
                "evenly mixed",
            ),
            (
                "film-developer",
                &[("potassium-bromide", "grams = 0.5"), metol, sulfite],
                "Add",
                "Stir.",
                "evenly mixed",
            ),
            (
                "bleach",
                &[("sulfuric-acid", "millilitres = 50\nstrength = \"10 % w/v\"")],
                "Add",
                "drop by drop",
                "cool again",
            ),
            (
                "bleach",
                &[("citric-acid-monohydrate", "millilitres = 50\nstrength = \"10 % w/v\"")],
                "Add",
                "slowly",
                "evenly mixed",
            ),
            (
                "sensitizer",
                &[("silver-nitrate", "millilitres = 50\nstrength = \"10 % w/v\"")],
                "Add",
                "no metal spoon",
                "evenly mixed",
            ),
            ("sensitizer", &[("silver-nitrate", "grams = 50")], "Add", "no metal spoon", "clear"),
            // Alcohol burns, glycol does not.
            (
                "film-developer",
                &[("ethanol", "millilitres = 50"), metol, sulfite],
                "Add",
                "No flame",
                "evenly mixed",
            ),
            (
                "film-developer",
                &[("propylene-glycol", "millilitres = 50"), metol, sulfite],
                "Add",
                "Stir.",
                "evenly mixed",
            ),
            // Hypo crystals chill, the dry salt does not, the liquid is poured.
            (
                "fixer",
                &[("sodium-thiosulfate-pentahydrate", "grams = 240")],
                "Dissolve",
                "turns cold",
                "clear",
            ),
            ("fixer", &[("sodium-thiosulfate-anhydrous", "grams = 150")], "Dissolve", "Stir.", "clear"),
            ("fixer", &[("ammonium-thiosulfate-60", "millilitres = 200")], "Add", "Stir.", "evenly mixed"),
            // Crystals have no drops, and a liquid is not dissolved.
            ("bleach", &[("sulfamic-acid", "grams = 10")], "Add", "a little at a time", "clear"),
            ("stop-bath", &[("citric-acid-monohydrate", "grams = 10")], "Dissolve", "slowly", "clear"),
            ("stop-bath", &[("acetic-acid-28", "millilitres = 50")], "Add", "slowly", "no cloud"),
            ("bleach", &[("formaldehyde-37", "millilitres = 10")], "Add", "Cover", "evenly mixed"),
            (
                "film-developer",
                &[("triethanolamine", "millilitres = 10"), metol, sulfite],
                "Add",
                "Stir.",
                "evenly mixed",
            ),
            // Gelatin swells, coffee does not.
            ("bleach", &[("gelatin", "grams = 5")], "Add", "swell", "no lumps"),
            ("film-developer", &[("coffee-instant", "grams = 40")], "Add", "Stir.", "no lumps"),
            // Ascorbic acid foams on carbonate; borates are slow.
            (
                "film-developer",
                &[("ascorbic-acid", "grams = 10"), ("sodium-carbonate-anhydrous", "grams = 20")],
                "Add",
                "foam",
                "bubbling",
            ),
            ("film-developer", &[("ascorbic-acid", "grams = 10"), metol], "Dissolve", "Stir.", "clear"),
            ("stop-bath", &[("boric-acid", "grams = 10")], "Dissolve", "slowly", "clear"),
            (
                "film-developer",
                &[("glycin", "grams = 10"), ("sodium-carbonate-anhydrous", "grams = 20"), sulfite],
                "Dissolve",
                "as the alkali",
                "clear",
            ),
            (
                "film-developer",
                &[("glycin", "grams = 10"), sulfite],
                "Dissolve",
                "It dissolves slowly.",
                "clear",
            ),
        ] {
            let plan = plan_of(kind, "", ingredients);
            let is_it = |own: &&Step| {
                own.action == Action::Add && own.form.as_ref().is_some_and(|form| form.id == ingredients[0].0)
            };
            let step = plan.steps.iter().find(is_it).unwrap_or_else(|| panic!("{ingredients:?}"));
            assert!(step.instruction.starts_with(verb), "{ingredients:?}: {step:?}");
            assert!(step.how.contains(how) && step.done.contains(done), "{ingredients:?}: {step:?}");
        }
    }

    #[test]
    fn where_no_rule_holds_a_thing_back_its_own_reason_is_told() {
        let reason =
            |stage, ingredients: &[(&str, &str)]| stage_reason(stage, &Contents::of(&items(ingredients))).0;
        let hypo = ("sodium-thiosulfate-pentahydrate", "grams = 200");
        let (bromide, alkali) =
            (("potassium-bromide", "grams = 20"), ("sodium-carbonate-anhydrous", "grams = 20"));
        let acid = ("citric-acid-monohydrate", "grams = 10");
        assert_eq!(reason(Stage::WeakAcid, &[acid]), "acid into water");
        assert_eq!(reason(Stage::WeakAcid, &[acid, bromide]), "");
        // Alone there is nothing to be first of.
        assert_eq!(reason(Stage::Sequestrant, &[bromide]), "");
        assert!(reason(Stage::Sequestrant, &[bromide, acid]).contains("hard water"));
        // Crystals of hypo go into a fixer while it is hot; in a developer they do not go in first.
        assert!(reason(Stage::Thiosulfate, &[hypo, bromide]).contains("hot"));
        assert_eq!(
            reason(Stage::Thiosulfate, &[("sodium-thiosulfate-anhydrous", "grams = 100"), bromide]),
            ""
        );
        assert_eq!(reason(Stage::Thiosulfate, &[hypo, ("metol", "grams = 2")]), "");
        let (ascorbic, sulfite) =
            (("ascorbic-acid", "grams = 10"), ("sodium-sulfite-anhydrous", "grams = 20"));
        assert!(reason(Stage::Alkali, &[ascorbic, alkali]).contains("ascorbic acid"));
        assert_eq!(reason(Stage::Alkali, &[ascorbic, alkali, sulfite]), "");
    }

    #[test]
    fn a_wait_says_how_long_and_what_ends_it() {
        let operation = |kind, temperature_c, minutes, until: Option<&str>| {
            let until = until.map(str::to_owned);
            operation_step(&Operation {
                kind,
                after: crate::formula::After::Start,
                temperature_c,
                minutes,
                until,
                how: None,
                source: None,
            })
        };
        let stand = operation(OperationKind::Stand, None, Some(60.0), None);
        assert_eq!(
            (stand.instruction.as_str(), stand.done.as_str()),
            ("STAND: leave it for 1 hour", "1 hour has passed")
        );
        let stand = operation(OperationKind::Stand, None, Some(59.0), None);
        assert_eq!(
            (stand.instruction.as_str(), stand.done.as_str()),
            ("STAND: leave it for 59 min", "59 min have passed")
        );
        assert_eq!(operation(OperationKind::Stand, None, Some(119.0), None).done, "119 min have passed");
        assert_eq!(operation(OperationKind::Stand, None, Some(2820.0), None).done, "47 hours have passed");
        assert_eq!(operation(OperationKind::Heat, Some(60.0), None, None).done, "it reads 60 °C");
        assert_eq!(operation(OperationKind::Cool, Some(20.0), None, None).done, "it reads 20 °C or less");
        assert_eq!(
            operation(OperationKind::Strain, None, Some(5.0), None).instruction,
            "STRAIN it through fine cloth"
        );
        assert_eq!(operation(OperationKind::Boil, None, Some(5.0), Some("it is clear")).done, "it is clear");
    }
}
