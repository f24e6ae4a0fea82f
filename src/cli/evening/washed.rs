//! How an evening washes: by hose, or by fills of tempered water; and whether that is long enough.

use super::warmth::Warmth;
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::evening::clock::Watch;
use crate::evening::file::{Evening, TankSpec};
use crate::evening::table::EveningTable;
use crate::evening::washing::{FillAndDump, HALF_TIME_MIN, running_fraction, too_short};
use crate::quantity::rounding::show_short;
use crate::render::evening::EveningRefusal;

/// Whether the wash is by fills of tempered water.
pub(super) struct Changes {
    is_filled: bool,
}

impl Changes {
    pub(super) fn of(
        evening: &Evening,
        warmth: &Warmth,
        table: &EveningTable,
        context: &Context<'_, '_>,
        notes: &mut Vec<String>,
    ) -> Result<Self, CliError> {
        let no = Self { is_filled: false };
        if !evening.has("wash") {
            notes.push("no wash in this plan: the films are washed before they dry".to_owned());
            return Ok(no);
        }
        let Some(cold) = context.settings.cold_tap(None)?.map(|own| own.value.as_c()) else {
            notes.push("wash by hose, by the core where there is one, within 3 °C of the developer; the tap's temperature is not known".to_owned());
            return Ok(no);
        };
        let shown = show_short(cold, 1);
        if warmth.farthest_from(cold) <= table.temperature.wash_within {
            notes.push(format!("wash by hose from the tap at {shown} °C, by the core where there is one"));
            return Ok(no);
        }
        let all = Self { is_filled: true };
        let told = evening.tanks.iter().filter_map(|spec| {
            let fills = all.of_tank(evening, spec)?;
            let words: Vec<String> = fills.iter().map(|fill| Watch(*fill).to_string()).collect();
            let litres = spec.volume.map(|volume| {
                let times = u32::try_from(fills.len()).map_or(0.0, f64::from);
                format!(" ({} L)", show_short(volume.as_ml() * times / 1000.0, 2))
            });
            Some(format!("{} {}{}", spec.name, words.join(", "), litres.unwrap_or_default()))
        });
        let told: Vec<String> = told.collect();
        notes.push(format!(
            "the tap gives {shown} °C, more than {} °C off: wash in the tank with tempered water, fill and dump: {}; each fill stands its minutes, more fills do not shorten them",
            show_short(table.temperature.wash_within, 1),
            told.join("; ")
        ));
        Ok(all)
    }

    /// The fills of a tank's wash, s; none for a hose.
    pub(super) fn of_tank(&self, evening: &Evening, spec: &TankSpec) -> Option<Vec<i64>> {
        let wash = wash_s(evening, spec);
        if !self.is_filled || wash == 0 {
            return None;
        }
        // After an aid three changes of 1, 2, 2 parts, from eight minutes on of 2, 3, 3; without one six of 1 to 5.
        let parts: &[i64] = match (has_aid(evening, spec), wash) {
            (true, ..480) => &[1, 2, 2],
            (true, _) => &[2, 3, 3],
            (false, _) => &[1, 2, 3, 4, 5, 5],
        };
        let sum: i64 = parts.iter().sum();
        let mut fills: Vec<i64> = parts.iter().map(|part| wash * part / sum).collect();
        let rest = wash - fills.iter().sum::<i64>();
        if let Some(last) = fills.last_mut() {
            *last += rest;
        }
        Some(fills)
    }

    /// Washes that are too short by the fast part alone, each told once.
    pub(super) fn refusals(&self, evening: &Evening) -> Vec<EveningRefusal> {
        let mut all: Vec<EveningRefusal> = Vec::new();
        for spec in &evening.tanks {
            let wash = wash_s(evening, spec);
            if wash == 0 || !evening.has("fix") {
                continue;
            }
            #[allow(clippy::cast_precision_loss, reason = "times of an evening")]
            let minutes = |seconds: i64| seconds as f64 / 60.0;
            let fraction = match self.of_tank(evening, spec) {
                None => running_fraction(minutes(wash), HALF_TIME_MIN),
                Some(changes) => {
                    let list: Vec<f64> = changes.iter().map(|change| minutes(*change)).collect();
                    let whole = |ml| (ml, f64::from(spec.pieces()));
                    let (fill_ml, films) = spec.volume.map_or((290.0, 1.0), |volume| whole(volume.as_ml()));
                    let tank = FillAndDump {
                        fill_ml,
                        held_ml: 6.0 + 4.0 * films,
                        layer_ml: 1.29 * films,
                        half_time_min: HALF_TIME_MIN,
                    };
                    tank.layer_fraction(&list)
                }
            };
            let has_aid = has_aid(evening, spec);
            let Some(text) = too_short(fraction, has_aid) else { continue };
            let fix = if has_aid {
                "wash 5 min or longer"
            } else {
                "wash 8 min or longer, better 20, or use a washing aid"
            };
            let refusal = EveningRefusal {
                kind: "wash",
                code: "wash-too-short",
                text: format!("the wash of {} is {text}", Watch(wash)),
                fix: fix.to_owned(),
            };
            if !all.contains(&refusal) {
                all.push(refusal);
            }
        }
        all
    }
}

fn has_aid(evening: &Evening, spec: &TankSpec) -> bool {
    match &spec.steps {
        Some(steps) => steps.iter().any(|(name, _)| name == "aid"),
        None => evening.time_in_s(spec, "aid") > 0,
    }
}

fn wash_s(evening: &Evening, spec: &TankSpec) -> i64 {
    let usual = || evening.time_in_s(spec, "wash");
    match &spec.steps {
        Some(steps) => {
            steps.iter().find(|(name, _)| name == "wash").map_or(0, |(_, own)| own.unwrap_or_else(usual))
        }
        None => usual(),
    }
}
