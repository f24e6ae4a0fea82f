//! What `evening --json` prints.

use serde::Serialize;

use super::rows::groups;
use super::{EveningRefusal, EveningView};
use crate::evening::clock::{EveningPlan, Tank, Watch};

/// What `evening --json` prints.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct EveningBody {
    /// `calm` or `tight`.
    plan: &'static str,
    /// First developer in, seconds of the day.
    start_of_day_s: Option<i64>,
    tanks: Vec<TankBody>,
    /// The last film hangs, seconds from the first developer in.
    end_s: Option<i64>,
    /// Time of the hands in all, s.
    hands_s: Option<i64>,
    needs: Vec<NeedBody>,
    /// Moments at which hands begin, by time.
    clock: Vec<MomentBody>,
    /// What is done by heart in total darkness, from the first sheet in the first bath.
    beats: Vec<BeatBody>,
    /// Bottles that hold too little, or are spent.
    missing: Vec<String>,
    /// What to do before: warm, cool, water.
    before: Vec<FactBody>,
    late: Vec<LateBody>,
    refusals: Vec<EveningRefusal>,
    cautions: Vec<CautionBody>,
    notes: Vec<String>,
    record: Vec<String>,
    /// The journal in which it was recorded.
    recorded_in: Option<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct TankBody {
    name: String,
    steps: Vec<StepBody>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StepBody {
    name: String,
    start_s: i64,
    end_s: i64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct NeedBody {
    bath: String,
    volume_ml: Option<f64>,
    /// How often it is poured afresh.
    times: usize,
    each_ml: Option<f64>,
    formula: Option<String>,
    bottle: Option<String>,
    /// Taken from the bottle; null where that is not known.
    drawn_ml: Option<f64>,
    /// What the bottle holds by the journal.
    holds_ml: Option<f64>,
    /// Whether that is enough; null where it is not known.
    enough: Option<bool>,
    /// Where it goes after.
    after: String,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct MomentBody {
    tank: String,
    /// Seconds from the first developer in.
    at_s: i64,
    /// On the watch that goes back to 0:00 at each developer.
    watch: String,
    act: String,
    detail: String,
    /// Later turnings, seconds from the first developer in.
    turns_s: Vec<i64>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct BeatBody {
    tank: String,
    at_s: i64,
    /// `m:ss`.
    at: String,
    act: String,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct FactBody {
    name: String,
    text: String,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LateBody {
    tank: String,
    due_s: i64,
    late_s: i64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct CautionBody {
    severity: String,
    text: String,
}

impl EveningBody {
    pub(crate) fn new(view: &EveningView) -> Self {
        let steps = |index: usize, tank: &Tank| {
            let all = view.plan.as_ref().map_or_else(Vec::new, |plan| plan.steps(index, tank));
            all.into_iter()
                .map(|own| StepBody { name: own.name, start_s: own.start_s, end_s: own.end_s })
                .collect()
        };
        let name = |index: usize| view.tanks.get(index).map_or_else(String::new, |tank| tank.name.clone());
        Self {
            plan: if view.is_tight { "tight" } else { "calm" },
            start_of_day_s: view.evening.first_of_day_s(),
            tanks: view
                .tanks
                .iter()
                .enumerate()
                .map(|(index, tank)| TankBody { name: tank.name.clone(), steps: steps(index, tank) })
                .collect(),
            end_s: view.plan.as_ref().map(|plan| plan.end_s),
            hands_s: view.plan.as_ref().map(EveningPlan::hands_s),
            needs: view
                .needs
                .iter()
                .map(|need| NeedBody {
                    bath: need.need.bath.clone(),
                    volume_ml: need.need.volume_ml,
                    times: need.need.fresh.0,
                    each_ml: need.need.fresh.1,
                    formula: need.need.formula.clone(),
                    bottle: need.need.bottle.clone(),
                    drawn_ml: need.drawn_ml,
                    holds_ml: need.holds_ml,
                    enough: need.is_enough(),
                    after: need.then.clone(),
                })
                .collect(),
            clock: view
                .plan
                .iter()
                .flat_map(|plan| groups(view, plan))
                .flat_map(|group| {
                    let zero = group.zero_s;
                    group.rows.into_iter().map(move |row| (zero, row))
                })
                .map(|(zero, row)| MomentBody {
                    tank: name(row.tank),
                    at_s: row.at_s,
                    watch: super::rows::watch(row.at_s - zero),
                    act: row.act,
                    detail: row.detail,
                    turns_s: row.turns_s,
                })
                .collect(),
            beats: view
                .beats
                .iter()
                .flat_map(|(tank, beats)| beats.iter().map(move |beat| (*tank, beat)))
                .map(|(tank, beat)| BeatBody {
                    tank: name(tank),
                    at_s: beat.at_s,
                    at: Watch(beat.at_s).to_string(),
                    act: beat.act.clone(),
                })
                .collect(),
            missing: view.missing.clone(),
            before: view
                .ready
                .iter()
                .map(|(name, text)| FactBody { name: name.clone(), text: text.clone() })
                .collect(),
            late: view
                .plan
                .iter()
                .flat_map(EveningPlan::late)
                .map(|(tank, due_s, late_s)| LateBody { tank: name(tank), due_s, late_s })
                .collect(),
            refusals: view.refusals.clone(),
            cautions: view
                .between
                .iter()
                .map(|(severity, text)| CautionBody { severity: severity.clone(), text: text.clone() })
                .collect(),
            notes: view.notes.clone(),
            record: view.journal.clone(),
            recorded_in: view.recorded_in.clone(),
        }
    }
}
