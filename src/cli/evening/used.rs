//! The formulas of an evening as they are used, and what they ask of each other.

use std::collections::BTreeMap;

use super::EveningData;
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::evening::character::{DeveloperCharacter, FixerCharacter, of_developer, of_fixer};
use crate::evening::clock::Watch;
use crate::evening::file::Evening;
use crate::formula::{Formula, Kind, Use};
use crate::quantity::rounding::show_short;
use crate::render::evening::EveningRefusal;

/// A formula as it is used.
pub(super) struct Used {
    pub(super) formula: Formula,
    pub(super) use_name: Option<String>,
}

impl Used {
    fn of(
        name: Option<&String>,
        use_name: Option<&String>,
        context: &mut Context<'_, '_>,
    ) -> Result<Option<Self>, CliError> {
        let Some(name) = name else { return Ok(None) };
        let formula = context.formula(name)?.formula;
        let called = use_name.and_then(|wanted| formula.use_called(wanted)).map(|own| own.name.clone());
        if let (Some(wanted), None) = (use_name, &called) {
            let known: Vec<&str> = formula.uses.iter().map(|listed_use| listed_use.name.as_str()).collect();
            let fix = if known.is_empty() {
                "leave `use` out: the formula names none".to_owned()
            } else {
                format!("write one of: {}", known.join(", "))
            };
            let message = format!("{} has no use `{wanted}`", formula.id);
            return Err(CliError::Refused { code: "unknown-use", message, fix });
        }
        Ok(Some(Self { formula, use_name: called }))
    }

    pub(super) fn use_of(&self) -> Option<&Use> {
        match &self.use_name {
            Some(name) => {
                self.formula.uses.iter().find(|listed_use| listed_use.name.eq_ignore_ascii_case(name))
            }
            None => self.formula.uses.first(),
        }
    }

    /// Whether the bath is what stands in the bottle.
    pub(super) fn is_undiluted(&self) -> bool {
        self.use_of()
            .is_none_or(|own| own.baths.iter().all(|bath| bath.water == 0.0 && bath.shares.len() == 1))
    }

    /// Stock and water of so much of the bath; of the one at a place where there are several.
    pub(super) fn mixture(&self, place: usize, ml: f64) -> Option<String> {
        let bath = self.use_of()?.baths.get(place)?;
        if bath.water == 0.0 && bath.shares.len() == 1 {
            return Some(bath.to_string());
        }
        let share = |part: f64| show_short(ml * part / bath.total(), 1);
        let mut words: Vec<String> =
            bath.shares.iter().map(|(name, part)| format!("{} {name}", share(*part))).collect();
        if bath.water > 0.0 {
            words.push(format!("{} water", share(bath.water)));
        }
        Some(words.join(" + "))
    }

    /// The dilution as `record` wants it; none where it was undiluted or there are several baths.
    pub(super) fn dilution(&self) -> Option<String> {
        let [bath] = self.use_of()?.baths.as_slice() else { return None };
        if bath.water == 0.0 && bath.shares.len() == 1 {
            return None;
        }
        let mut parts: Vec<String> = bath.shares.iter().map(|(_, own)| show_short(*own, 3)).collect();
        parts.push(show_short(bath.water, 3));
        if bath.water == 0.0 {
            parts.pop();
        }
        Some(parts.join("+"))
    }
}

/// All formulas of an evening.
pub(super) struct Baths {
    /// Of each tank.
    pub(super) developers: Vec<Option<Used>>,
    /// By the key of the file: stop, fixer, aid, wetting, a step's own name.
    named: BTreeMap<String, Used>,
}

impl Baths {
    pub(super) fn of(
        evening: &Evening,
        known: &EveningData,
        context: &mut Context<'_, '_>,
    ) -> Result<Self, CliError> {
        let in_bottle = |bottle: Option<&String>| {
            let bottle = bottle?;
            known.bottles.named(bottle).find_map(|own| own.formula.clone())
        };
        let mut developers = Vec::new();
        for tank in &evening.tanks {
            let name = tank.developer.clone().or_else(|| in_bottle(tank.bottle.as_ref()));
            developers.push(Used::of(name.as_ref(), tank.use_name.as_ref(), context)?);
        }
        let mut named = BTreeMap::new();
        for (key, spec) in &evening.baths {
            let name = spec.formula.clone().or_else(|| in_bottle(spec.bottle.as_ref()));
            if let Some(used) = Used::of(name.as_ref(), None, context)? {
                named.insert(key.clone(), used);
            }
        }
        Ok(Self { developers, named })
    }

    pub(super) fn named(&self, key: &str) -> Option<&Used> {
        self.named.get(key)
    }

    pub(super) fn character(&self, tank: usize, known: &EveningData) -> Option<DeveloperCharacter> {
        let own = self.developers.get(tank)?.as_ref()?;
        Some(of_developer(&own.formula, own.use_name.as_deref(), &known.rules))
    }

    pub(super) fn fixer(&self, known: &EveningData) -> Option<FixerCharacter> {
        Some(of_fixer(&self.named("fixer")?.formula, &known.table.substances))
    }
}

/// Fits the sequence of baths to the developers and the fixer: what is given stands, and is told where it is against the usual.
pub(super) fn settle(evening: &mut Evening, baths: &Baths, known: &EveningData, notes: &mut Vec<String>) {
    let fixer = baths.fixer(known);
    let has_stop = evening.baths.get("stop").is_some_and(|own| own.formula.is_some() || own.bottle.is_some());
    let has_aid = evening.baths.get("aid").is_some_and(|own| own.formula.is_some() || own.bottle.is_some());
    let is_given = |step: &str| evening.given.contains(step);
    let (stop_given, aid_given, wash_given) = (is_given("stop"), is_given("aid"), is_given("wash"));
    let least_wash = known.table.step("wash").map_or(300, |own| own.seconds);
    let longer = |seconds: i64, times: f64| {
        #[allow(
            clippy::cast_precision_loss,
            clippy::cast_possible_truncation,
            reason = "times of an evening"
        )]
        let own = (seconds as f64 * times).round() as i64;
        own
    };
    let substances = &known.table.substances;
    let common = "common practice";
    let fix_s = evening.time_s("fix");
    let evening_aid_s = evening.time_s("aid");
    let mut told: Vec<String> = Vec::new();
    for (index, tank) in evening.tanks.iter_mut().enumerate() {
        let character = baths.character(index, known);
        let is_staining = character.as_ref().is_some_and(|character| character.is_staining);
        let wants_water = is_staining || fixer.is_some_and(|fixer| fixer.is_alkaline);
        if tank.steps.is_none() && wants_water && !has_stop {
            tank.has_water_stop = true;
            if !stop_given {
                tank.own_s.insert("stop".to_owned(), 60);
            }
            let why = if is_staining { "a staining developer" } else { "an alkaline fixer" };
            told.push(format!("stop in water, two or three changes, 1 min: {why} wants no acid ({common})"));
        }
        let mut aid_s = evening_aid_s;
        if tank.steps.is_none() && is_staining && !has_aid && !aid_given {
            tank.own_s.insert("aid".to_owned(), 0);
            aid_s = 0;
            told.push(format!("no washing aid after a staining developer, a longer wash instead ({common})"));
        }
        if tank.steps.is_none() && !wash_given && fix_s > 0 {
            let mut wash = if aid_s > 0 {
                least_wash
            } else {
                known.table.step("wash").and_then(|own| own.without_aid).unwrap_or(least_wash)
            };
            if fixer.is_some_and(|fixer| fixer.is_hardening) {
                wash = longer(wash, substances.hardener_wash_usual);
                told.push(format!(
                    "after an alum fixer the wash takes {} to {} times as long ({})",
                    substances.hardener_wash_least,
                    substances.hardener_wash_usual,
                    substances.mark.words()
                ));
            }
            tank.own_s.insert("wash".to_owned(), wash);
        }
        if let Some(character) = character {
            if character.baths > 1 && tank.steps.is_none() && tank.times_s.len() == 1 {
                let one = tank.times_s.first().copied().unwrap_or(0);
                tank.times_s = vec![one; character.baths];
                told.push(format!("each of the {} baths of the developer {}", character.baths, Watch(one)));
            }
            if character.short_life_hours.is_some() && tank.steps.is_none() && tank.mix_s == 0 {
                tank.mix_s = known.table.hands.mix;
                told.push(format!(
                    "mixing the developer {} before each tank: mixed it lives for minutes ({})",
                    Watch(tank.mix_s),
                    known.table.hands.mark.words()
                ));
            }
        }
    }
    // What the table gave and the developer changed is told once, as it stands.
    for step in ["stop", "aid", "wash"] {
        let usual = evening.time_s(step);
        let mut times_s: Vec<i64> = evening.tanks.iter().map(|tank| evening.time_in_s(tank, step)).collect();
        times_s.dedup();
        if times_s.iter().any(|seconds| *seconds != usual) {
            evening.assumed.retain(|words| !words.starts_with(&format!("{step} ")));
            let words: Vec<String> = times_s.iter().map(|seconds| Watch(*seconds).to_string()).collect();
            evening.assumed.push(format!("{step} {} (by developer and fixer)", words.join(" and ")));
        }
    }
    told.dedup();
    for own in told {
        if !notes.contains(&own) {
            notes.push(own);
        }
    }
}

/// What cannot be: a mixed bath older than its life, a presoak before two baths, a crowd in a tray.
pub(super) fn refusals(evening: &Evening, baths: &Baths, known: &EveningData) -> Vec<EveningRefusal> {
    let mut all = Vec::new();
    let mut refuse = |code: &'static str, text: String, fix: &str| {
        all.push(EveningRefusal { kind: "evening", code, text, fix: fix.to_owned() });
    };
    for (index, tank) in evening.tanks.iter().enumerate() {
        let most = known.table.hands.most_sheets;
        if tank.way == crate::evening::file::Way::Trays && tank.pieces() > most {
            let text = format!("{} sheets in one tray are more than {most}", tank.pieces());
            refuse("too-many-sheets", text, "share them out over two runs");
        }
        let Some(character) = baths.character(index, known) else { continue };
        let name = &tank.name;
        let has_presoak =
            tank.presoak_s > 0 || tank.steps.iter().flatten().any(|(own, _)| own.starts_with("presoak"));
        if character.baths > 1 && has_presoak {
            let text = format!(
                "tank {name} is presoaked before a developer of two baths, whose first must soak in undiluted"
            );
            refuse("presoak-before-two-baths", text, "leave the presoak out");
        }
        if let Some(life) = character.short_life_hours {
            let mut before_s = 0;
            let mut times = tank.times_s.iter().copied();
            if let Some(steps) = &tank.steps {
                // From the end of mixing to the end of the last developer.
                let mixed = steps.iter().position(|(own, _)| own.starts_with("mix")).map_or(0, |own| own + 1);
                let last = steps.iter().rposition(|(own, _)| own.starts_with("develop")).unwrap_or(0);
                for (own, seconds) in steps.iter().take(last + 1).skip(mixed) {
                    let is_developer = own.starts_with("develop");
                    let usual = || {
                        if is_developer { times.next().unwrap_or(0) } else { evening.time_in_s(tank, own) }
                    };
                    before_s += seconds.unwrap_or_else(usual) + evening.pour_s;
                }
            } else {
                before_s = tank.time_s() + tank.presoak_s;
            }
            #[allow(clippy::cast_precision_loss, reason = "times of an evening")]
            let hours = before_s as f64 / 3600.0;
            if hours > life.high {
                let basis = if character.is_rule { "by rule for its class" } else { "stated" };
                let text = format!(
                    "the mixed developer of tank {name} would be {} old when it goes out; it lives {} min at most ({basis})",
                    Watch(before_s),
                    show_short(life.high * 60.0, 0)
                );
                refuse(
                    "older-than-its-life",
                    text,
                    "mix it straight before the developer step, or develop for less time",
                );
            }
        }
    }
    all
}

/// What is to be known of the baths together, in words.
pub(super) fn notes(evening: &Evening, baths: &Baths, known: &EveningData) -> Vec<String> {
    let mut notes = Vec::new();
    let mut say = |text: String| {
        if !notes.contains(&text) {
            notes.push(text);
        }
    };
    let fixer = baths.fixer(known);
    let stop_is_acid = baths.named("stop").is_some_and(|own| own.formula.kind == Kind::StopBath);
    for index in 0..evening.tanks.len() {
        let Some(character) = baths.character(index, known) else { continue };
        if character.is_staining {
            if stop_is_acid {
                say("the developer stains: an acid stop takes stain; water instead (common practice)"
                    .to_owned());
            }
            if fixer.is_some_and(|fixer| fixer.is_hardening || fixer.is_acid) {
                say("the developer stains: a plain or alkaline fixer without hardener keeps its stain (common practice)".to_owned());
            }
            if evening.baths.contains_key("aid") {
                say("the developer stains: a washing aid takes stain (common practice)".to_owned());
            }
        } else if character.is_alkaline && evening.has("stop") && stop_is_acid {
            say("carbonate or hydroxide before an acid stop: keep the acid weak, or gas makes pinholes"
                .to_owned());
        }
    }
    if fixer.is_some_and(|fixer| fixer.is_alkaline) && stop_is_acid {
        say("the fixer is alkaline: carried acid spends it evening by evening; water stop instead (common practice)".to_owned());
    }
    if fixer.is_some_and(|fixer| fixer.is_hardening) && evening.given.contains("wash") {
        let least = known.table.step("wash").map_or(300, |own| own.seconds);
        let substance_rules = &known.table.substances;
        #[allow(
            clippy::cast_precision_loss,
            clippy::cast_possible_truncation,
            reason = "times of an evening"
        )]
        let want = (least as f64 * substance_rules.hardener_wash_least) as i64;
        if evening.time_s("wash") < want {
            say(format!(
                "the fixer hardens with alum: wash {} to {} rather than {} ({})",
                Watch(want),
                Watch(least * 2),
                Watch(evening.time_s("wash")),
                substance_rules.mark.words()
            ));
        }
        if !evening.has("aid") {
            say("the fixer hardens with alum: a washing aid is needed, without one the wash takes twice as long".to_owned());
        }
    }
    if let Some(text) = fixing(evening, baths) {
        say(text);
    }
    let unnamed: Vec<&str> =
        [("stop", "stop"), ("fix", "fixer"), ("aid", "washing aid"), ("wetting", "wetting agent")]
            .into_iter()
            .filter(|(step, _)| evening.has(step))
            .filter(|(step, _)| baths.named(crate::evening::needs::key_of(step)).is_none())
            .filter(|(step, _)| *step != "stop" || !evening.tanks.iter().all(|tank| tank.has_water_stop))
            .map(|(_, word)| word)
            .collect();
    if !unnamed.is_empty() {
        say(format!(
            "not named, so any {} will do: its cautions, what must not follow it and its life are not known",
            unnamed.join(", any ")
        ));
    }
    notes
}

/// Where the fixer's own text asks for longer than the plan fixes.
fn fixing(evening: &Evening, baths: &Baths) -> Option<String> {
    let fixer = baths.named("fixer")?;
    let (least, _) = fixer.use_of()?.minutes?;
    let fix = evening.time_s("fix");
    #[allow(clippy::cast_precision_loss, reason = "times of an evening")]
    let is_short = fix > 0 && (fix as f64) < least * 60.0;
    is_short.then(|| {
        format!(
            "{} asks for {} min by its own text, the plan fixes {}: only the clearing test allows that",
            fixer.formula.id,
            show_short(least, 1),
            Watch(fix)
        )
    })
}
