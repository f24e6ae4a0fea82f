//! What must stand ready: each bath with its bottle, whether that is enough, how warm, and how to get there.

use super::EveningData;
use super::used::{Baths, Used};
use super::warmth::{SAME_C, Warmth};
use crate::bath::bottle::{BottleJudgement, BottleState, FilmsLeft, Out, judge};
use crate::bath::{Basis, Bottle, Life, stock};
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cooling::{Around, BottleMaterial, CoolingBottle, CoolingCourse, bath_ending_at_ml};
use crate::evening::file::{Evening, table_name};
use crate::evening::needs::{BathNeed, Served, key_of};
use crate::quantity::rounding::show_short;
use crate::render::evening::NeedView;
use crate::render::films::{stock_words, volume_words};
use crate::solution::hot_volume_for_target;

/// How much warmer or colder than the target a water bath begins, °C; advice.
const BATH_OFF_C: f64 = 4.0;
/// From so little on a stop is thrown out after the evening, mL: it costs nothing; advice.
const LITTLE_STOP_ML: f64 = 250.0;

/// The place of a step's bath among those of its formula: B is the second.
fn place_of(step: &str) -> usize {
    let letter = step.split_whitespace().nth(1).and_then(|own| own.bytes().next());
    match letter {
        Some(letter @ b'A'..=b'Z') => usize::from(letter - b'A'),
        Some(letter @ b'a'..=b'z') => usize::from(letter - b'a'),
        _ => 0,
    }
}

/// What a bottle must give, part by part: name and mL.
fn drawn(used: Option<&Used>, place: usize, ml: f64) -> Vec<(String, f64)> {
    let bath = used.and_then(|own| own.use_of()).and_then(|own| own.baths.get(place));
    match bath {
        Some(bath) => {
            bath.shares.iter().map(|(name, part)| (name.clone(), ml * part / bath.total())).collect()
        }
        None => vec![("stock".to_owned(), ml)],
    }
}

/// The needs with their bottles.
pub(super) fn needs(
    all: Vec<BathNeed>,
    evening: &Evening,
    baths: &Baths,
    (warmth, known): (&Warmth, &EveningData),
    missing: &mut Vec<String>,
    notes: &mut Vec<String>,
) -> Vec<NeedView> {
    let films: f64 =
        evening.tanks.iter().map(|tank| tank.films.as_ref().map_or(1.0, crate::quantity::Films::trade)).sum();
    all.into_iter().map(|need| view(need, baths, (warmth, films, known), missing, notes)).collect()
}

/// What is too little stock for the films of a tank, before anything is mixed.
fn stock_facts(evening: &Evening, baths: &Baths, known: &EveningData) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    for (tank, used) in evening.tanks.iter().zip(&baths.developers) {
        let (Some(used), Some(films), Some(volume)) = (used, &tank.films, tank.volume) else { continue };
        let shares: Vec<f64> = drawn(Some(used), 0, volume.as_ml()).into_iter().map(|own| own.1).collect();
        let check = stock::check(&used.formula, films, &shares, volume.as_ml(), &known.rules);
        if matches!(check.grade, stock::StockGrade::Short | stock::StockGrade::TooLittle) {
            facts.push((
                "stock".to_owned(),
                format!("tank {}: {}", tank.name, stock_words(&check).join("; instead: ")),
            ));
        }
    }
    facts
}

fn view(
    need: BathNeed,
    baths: &Baths,
    (warmth, films, known): (&Warmth, f64, &EveningData),
    missing: &mut Vec<String>,
    notes: &mut Vec<String>,
) -> NeedView {
    let is_developer = table_name(&need.step) == "develop";
    let used = if is_developer && need.formula.is_none() && need.bottle.is_none() {
        None
    } else if is_developer {
        baths.named(&need.step).or_else(|| baths.developers.get(need.tank).and_then(Option::as_ref))
    } else {
        baths.named(key_of(&need.step))
    };
    let place = if is_developer { place_of(&need.step) } else { 0 };
    let made = match (used, need.served) {
        (Some(used), _) => {
            let mixture = need.fresh.1.and_then(|ml| used.mixture(place, ml));
            // That a stop or a fixer is poured as it is goes without saying.
            let mixture = mixture.filter(|mixture| is_developer || mixture != "undiluted");
            mixture
                .map_or_else(|| used.formula.id.clone(), |mixture| format!("{}, {mixture}", used.formula.id))
        }
        (None, Served::Water) if table_name(&need.step) == "stop" => {
            "water, changed two or three times".to_owned()
        }
        (None, Served::Water) => "water".to_owned(),
        (None, Served::Hose) => "running water".to_owned(),
        (None, _) if need.step == "wetting" => "any, in distilled or boiled water".to_owned(),
        (None, _) => format!("any {}", need.bath),
    };
    let mut need_view = NeedView {
        made,
        source: String::new(),
        stock: String::new(),
        drawn_ml: None,
        holds_ml: None,
        celsius: warmth.figures(&need, &known.table),
        target_c: warmth.target(&need),
        then: then(&need, used, known),
        need,
    };
    match (&need_view.need.bottle, used, need_view.need.served) {
        (Some(bottle), _, _) => {
            let bottle = bottle.clone();
            of_bottle(&mut need_view, &bottle, used, place, (films, known), missing, notes);
        }
        (None, Some(used), _) => {
            "mix".clone_into(&mut need_view.source);
            let character = baths.character(need_view.need.tank, known).filter(|_| is_developer);
            let is_short = character.is_some_and(|character| character.short_life_hours.is_some());
            need_view.stock = if is_short { "just before each tank".to_owned() } else { keeps(used, known) };
            if let Some(ml) = need_view.need.volume_ml {
                let parts = drawn(Some(used), place, ml);
                let words: Vec<String> = parts
                    .iter()
                    .filter(|part| part.1 > 0.0)
                    .map(|(name, ml)| {
                        if name == "stock" {
                            volume_words(*ml)
                        } else {
                            format!("{} mL of {name}", show_short(*ml, 1))
                        }
                    })
                    .collect();
                // What stands in the first column is not told twice.
                let is_told =
                    need_view.need.fresh.0 == 1 && matches!(parts.as_slice(), [(name, _)] if name == "stock");
                if !is_told {
                    need_view.stock = format!("{}; {}", words.join(", "), need_view.stock);
                }
                need_view.drawn_ml = Some(parts.iter().map(|part| part.1).sum());
            }
        }
        (None, None, Served::Water) => {
            "jug".clone_into(&mut need_view.source);
            "at hand, tempered".clone_into(&mut need_view.stock);
        }
        (None, None, Served::Hose) => {
            "tap".clone_into(&mut need_view.source);
            "by the core".clone_into(&mut need_view.stock);
        }
        (None, None, _) if need_view.need.step == "wetting" => {
            "jug".clone_into(&mut need_view.source);
            "dose by its label".clone_into(&mut need_view.stock);
        }
        (None, None, _) => {
            "yours".clone_into(&mut need_view.source);
            "life not known".clone_into(&mut need_view.stock);
        }
    }
    need_view
}

/// How long what is mixed keeps, in a few words.
fn keeps(used: &Used, known: &EveningData) -> String {
    let formula = &used.formula;
    let days = formula.parts.first().map(|part| crate::bath::days(formula, part, false, &known.rules));
    match days {
        Some(crate::bath::Days { in_words: Some(words), .. }) if words.chars().count() <= 40 => words,
        Some(crate::bath::Days { full: Some(range), .. }) => {
            let rule = if range.basis == Basis::Rule { ", by rule" } else { "" };
            format!("keeps {} d{rule}", show_short(range.span.low, 0))
        }
        _ => "keeping not known".to_owned(),
    }
}

/// Where a bath goes after.
fn then(need: &BathNeed, used: Option<&Used>, known: &EveningData) -> String {
    let back = || need.bottle.as_ref().map(|bottle| format!("back to {bottle}"));
    let or = |text: &str| back().unwrap_or_else(|| text.to_owned());
    match (need.served, table_name(&need.step)) {
        (Served::Hose | Served::Water, _) | (_, "wetting" | "aid") => "out".to_owned(),
        (Served::Fresh, _) => match used.map(|own| reuse(own, known)) {
            Some(Reuse::Never) => "out".to_owned(),
            Some(Reuse::Counted) => or("into a bottle marked used developer, films written on"),
            Some(Reuse::NotKnown) => or("out: whether it serves again is not known"),
            None => or("as its label says"),
        },
        (_, "stop") if need.volume_ml.is_some_and(|ml| ml < LITTLE_STOP_ML) => "out".to_owned(),
        (_, "stop") => or("into a bottle marked stop, till its colour turns"),
        (_, "fix") => or("into a bottle marked used fixer, films written on"),
        _ => or("out"),
    }
}

/// Whether a developer serves again after a film.
#[derive(Clone, Copy)]
enum Reuse {
    /// Diluted, mixed from parts for minutes or hours, or of a class that is used once.
    Never,
    /// So many films a litre, as its formula states or its class has it.
    Counted,
    /// Nobody says how many films it does.
    NotKnown,
}

fn reuse(used: &Used, known: &EveningData) -> Reuse {
    let formula = &used.formula;
    let life = Life::of(formula, &known.rules);
    // Parts that are mixed into one bath are used once; baths one after the other are not mixed.
    let is_mixed = formula.parts.len() > 1 && used.use_of().is_none_or(|own| own.baths.len() < 2);
    if life.is_one_shot || is_mixed || !used.is_undiluted() {
        Reuse::Never
    } else if life.capacity.is_some() {
        Reuse::Counted
    } else {
        Reuse::NotKnown
    }
}

/// Fills in what the journal says of a bottle.
fn of_bottle(
    own: &mut NeedView,
    name: &str,
    used: Option<&Used>,
    place: usize,
    (films, known): (f64, &EveningData),
    missing: &mut Vec<String>,
    notes: &mut Vec<String>,
) {
    name.clone_into(&mut own.source);
    let standing: Vec<&Bottle> = known.bottles.named(name).collect();
    if standing.is_empty() {
        let known_one = if known.bottles.bottles.is_empty() { "" } else { "not in the journal; " };
        own.stock = format!("{known_one}enough? look");
        return;
    }
    let today = standing.iter().map(|bottle| bottle.mixed_on).max();
    for bottle in &standing {
        let Some(on) = crate::cli::record::today().ok().or(today) else { continue };
        let formula = used.map(|own| &own.formula).filter(|own| Some(&own.id) == bottle.formula.as_ref());
        tell(&judge(bottle, formula, on, &known.rules), own, films, missing, notes);
    }
    let Some(ml) = own.need.volume_ml else { return };
    // A bottle of working dilution is poured as it is.
    let is_ready = standing
        .iter()
        .all(|bottle| bottle.dilution.as_ref().is_some_and(|dilution| dilution.parts().len() > 1));
    let parts = if is_ready { vec![("stock".to_owned(), ml)] } else { drawn(used, place, ml) };
    let mut words = Vec::new();
    for (part, wanted) in &parts {
        let bottle = standing
            .iter()
            .find(|own| own.part.as_ref() == Some(part))
            .or_else(|| standing.first().filter(|own| own.part.is_none()));
        let Some(bottle) = bottle else { continue };
        let Some(left) = bottle.left_ml else {
            words.push("not known how much is in it".to_owned());
            continue;
        };
        own.holds_ml = Some(own.holds_ml.unwrap_or(0.0) + left);
        own.drawn_ml = Some(own.drawn_ml.unwrap_or(0.0) + wanted);
        let label = if bottle.part.is_some() { format!("{part}: ") } else { String::new() };
        if *wanted <= left + 1.0 {
            words.push(format!("{label}{} in it: enough", volume_words(left)));
        } else {
            let lack = volume_words(wanted - left);
            words.push(format!("{label}{} in it: {lack} too little", volume_words(left)));
            missing.push(format!(
                "{} holds {}, {} are asked for, {} too little for {}: mix more before the evening, or load fewer films",
                bottle.name,
                volume_words(left),
                volume_words(*wanted),
                lack,
                own.need.bath
            ));
        }
    }
    own.stock = words.join("; ");
}

/// What must be known of a bottle: spent, nearly spent, too few films left.
fn tell(
    judged: &BottleJudgement,
    need_view: &NeedView,
    films: f64,
    missing: &mut Vec<String>,
    notes: &mut Vec<String>,
) {
    let name = &judged.bottle.name;
    let bath = &need_view.need.bath;
    let mut say = |text: String, is_grave: bool| {
        let list = if is_grave { &mut *missing } else { &mut *notes };
        if !list.contains(&text) {
            list.push(text);
        }
    };
    match judged.out {
        Some(Out::Films { limit }) => {
            say(
                format!(
                    "{name} is out: the {} films that it is good for are through it",
                    show_short(limit, 1)
                ),
                true,
            );
        }
        Some(Out::Day { day }) => say(format!("{name} is out: it was good to {day}"), true),
        Some(Out::Clearing { fresh_s, tonight_s }) => say(
            format!(
                "{name} is out: it cleared in {} s fresh, in {} s now",
                show_short(fresh_s, 0),
                show_short(tonight_s, 0)
            ),
            true,
        ),
        None if judged.state == BottleState::Nearly => {
            say(format!("{name} ({bath}) is nearly out: `soupcon bottles {name}`"), false);
        }
        None => {}
    }
    if judged.out.is_some() {
        return;
    }
    if let Some(FilmsLeft { left, basis, .. }) = &judged.films
        && left.high + 1e-6 < films
    {
        let text = format!(
            "{name} does {} more films, tonight are {} ({})",
            show_short(left.high, 1),
            show_short(films, 1),
            if *basis == Basis::Stated { "stated" } else { "by rule: test" }
        );
        say(text, *basis == Basis::Stated);
    }
}

/// What to do before, in words.
pub(super) struct Ready {
    pub(super) facts: Vec<(String, String)>,
    /// In the water bath, minutes.
    pub(super) temper_minutes: Option<f64>,
}

/// Litres as a jug shows them.
fn litres(ml: f64) -> String {
    format!("{} L", show_short(ml / 1000.0, 2))
}

pub(super) fn facts(
    evening: &Evening,
    needs: &[NeedView],
    (baths, warmth, known): (&Baths, &Warmth, &EveningData),
    context: &Context<'_, '_>,
) -> Result<Ready, CliError> {
    let hot = context.settings.hot_tap(None)?.map(|own| own.value.as_c());
    let cold = context.settings.cold_tap(None)?.map(|own| own.value.as_c());
    let blend = |ml: f64, target: f64| {
        let (hot, cold) = (hot?, cold?);
        let hot_ml = hot_volume_for_target(ml, target, hot, cold).ok()?;
        Some(format!(
            "{} of {} °C and {} of {} °C",
            litres(hot_ml.hot_ml),
            show_short(hot, 1),
            litres(hot_ml.cold_ml),
            show_short(cold, 1)
        ))
    };
    let mut facts = stock_facts(evening, baths, known);
    let mut temper_minutes: Option<f64> = None;
    for (target, bottled) in by_target(needs.iter().filter(|need| need.need.bottle.is_some())) {
        let (warm, minutes) = tempered(evening, &bottled, target, &blend);
        facts.extend(warm);
        temper_minutes = minutes.into_iter().chain(temper_minutes).reduce(f64::max);
    }
    let water = |need_view: &NeedView| match need_view.need.served {
        Served::Water => need_view.need.volume_ml.unwrap_or(0.0),
        // The rest of a bath made up from its bottle is water.
        Served::Fresh | Served::InTurn => need_view
            .need
            .volume_ml
            .zip(need_view.drawn_ml)
            .map_or(0.0, |(all, drawn)| (all - drawn).max(0.0)),
        Served::Hose => 0.0,
    };
    let poured = by_target(needs.iter().filter(|need| water(need) > 0.0));
    let told: Vec<String> = poured
        .iter()
        .map(|(target, baths)| {
            let ml: f64 = baths.iter().map(|bath| water(bath)).sum();
            let made = blend(ml, *target).map_or_else(String::new, |own| format!(", {own}"));
            format!("{} at {} °C{made}", litres(ml), show_short(*target, 1))
        })
        .collect();
    if !told.is_empty() {
        let known = blend(1000.0, warmth.of_tank(0)).is_some();
        let end = if known {
            "read it in the jug"
        } else {
            "how warm the taps run is not known: mix, then read it in the jug"
        };
        facts.push(("water".to_owned(), format!("{}; {end}", told.join("; "))));
    }
    if evening.tanks.len() > 1 {
        facts.push((
            "twice".to_owned(),
            "a figure with × is poured afresh for each tank; one without serves one tank after the other"
                .to_owned(),
        ));
    }
    let mut after: Vec<String> = Vec::new();
    for view in needs.iter().filter(|need| !matches!(need.need.served, Served::Hose | Served::Water)) {
        let mut words = view.need.bath.clone();
        // Two developers that go different ways are told apart.
        if needs.iter().any(|other| other.need.bath == view.need.bath && other.then != view.then) {
            let which = [&view.need.formula, &view.need.use_name];
            words.extend(which.into_iter().flatten().map(|own| format!(" {own}")));
        }
        words += &format!(" {}", view.then);
        if !after.contains(&words) {
            after.push(words);
        }
    }
    facts.push(("after".to_owned(), after.join(" · ")));
    Ok(Ready { facts, temper_minutes })
}

/// Baths that are brought to one temperature, °C.
fn by_target<'a>(needs: impl Iterator<Item = &'a NeedView>) -> Vec<(f64, Vec<&'a NeedView>)> {
    let mut all: Vec<(f64, Vec<&NeedView>)> = Vec::new();
    for need in needs {
        match all.iter_mut().find(|(target, _)| (target - need.target_c).abs() < SAME_C) {
            Some((_, baths)) => baths.push(need),
            None => all.push((need.target_c, vec![need])),
        }
    }
    all
}

/// How bottles come to their one temperature, and in how many minutes.
fn tempered(
    evening: &Evening,
    bottled: &[&NeedView],
    degrees: f64,
    blend: &impl Fn(f64, f64) -> Option<String>,
) -> (Vec<(String, String)>, Option<f64>) {
    let mut temper_minutes = None;
    let mut facts = Vec::new();
    let mut names: Vec<&str> = bottled.iter().map(|own| own.source.as_str()).collect();
    names.dedup();
    let names = names.join(", ");
    // What is poured stands in the bath: the fills of all bottles.
    let total: f64 = bottled.iter().filter_map(|own| own.drawn_ml.or(own.need.volume_ml)).sum();
    match evening.bottles_at.map(crate::quantity::Temperature::as_c) {
        None if !bottled.is_empty() => facts.push((
            "warm".to_owned(),
            format!("how warm {names} stand is not known: read one. Water that ends at {} °C, never warmer while loading; shake, read; again after loading, before the pour", show_short(degrees, 1)),
        )),
        Some(from) if (from - degrees).abs() > 0.25 && total > 0.0 => {
            let sign = if from < degrees { 1.0 } else { -1.0 };
            let around = (degrees + sign * BATH_OFF_C).max(0.5);
            let each = bottled.iter().filter_map(|own| own.drawn_ml.or(own.need.volume_ml)).fold(0.0, f64::max);
            let vessel = |ml: f64| CoolingBottle { volume_ml: ml, material: BottleMaterial::Glass, around: Around::Water };
            let bath_ml: Option<f64> = bottled
                .iter()
                .filter_map(|own| own.drawn_ml.or(own.need.volume_ml))
                .map(|ml| bath_ending_at_ml(&vessel(ml), from, degrees, around))
                .sum();
            let course = |bath: f64| CoolingCourse {
                bottle: vessel(each),
                from_c: from,
                around_c: around,
                bath_ml: Some(bath),
                time_constant_minutes: None,
            };
            let own_bath = bath_ending_at_ml(&vessel(each), from, degrees, around);
            let minutes = own_bath.and_then(|bath| course(bath).minutes_to(degrees - sign * 0.5).ok());
            temper_minutes = minutes;
            let word = if sign > 0.0 { "warm" } else { "cool" };
            let minutes = minutes.map_or_else(
                || "some time".to_owned(),
                |own| format!("{} min (±40 %)", show_short(own, 0)),
            );
            let bath = bath_ml.map_or_else(
                || "water".to_owned(),
                |ml| {
                    let made = blend(ml, around).map_or_else(String::new, |own| format!(" ({own})"));
                    format!("{} of water at {} °C{made}", litres(ml), show_short(around, 1))
                },
            );
            facts.push((
                word.to_owned(),
                format!(
                    "{names}, {} in all, from {} °C in {bath}: to within half a degree in {minutes}, and it ends at {} °C, so they may stand in it while films are loaded; shake, read; last reading after loading, before the pour",
                    litres(total),
                    show_short(from, 1),
                    show_short(degrees, 1)
                ),
            ));
        }
        _ => {}
    }
    (facts, temper_minutes)
}
