//! Sheets in trays, in total darkness: what to do at which beat, to be learnt and said aloud, since nothing can be read.

use super::clock::{Hands, Tank, TankPlan};
use super::file::table_name;

/// From so long in the fixer on there may be light, s. Source: US Army subcourse SS0509, page 30 (the cover may come off after 2 min).
const LIGHT_AFTER_S: i64 = 120;

#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Beat {
    /// Seconds from the first sheet in the first bath.
    pub at_s: i64,
    /// What to do.
    pub act: String,
}

/// The beats of a pile of sheets that goes from tray to tray, one sheet each `sheet_s`, in the order in which they went in.
///
/// In a bath the pile is turned over whole: the lowest sheet to the top, one each beat, so that after a round the order stands. Source: a
/// pile from bottom to top, each sheet once in 30 to 60 s, order kept, is common practice; US Army subcourse SS0509, page 26.
pub(crate) fn beats(tank: &Tank, plan: &TankPlan, sheets: u32, sheet_s: i64) -> Vec<Beat> {
    let sheets = i64::from(sheets.max(1));
    let sheet_s = sheet_s.max(1);
    let spans =
        || tank.baths.iter().zip(plan.starts_s.iter().zip(&plan.ends_s)).filter(|own| own.0.is_in_tank);
    let Some(zero) = spans().map(|span| *span.1.0).next() else { return Vec::new() };
    let mut all = Vec::new();
    let mut say = |at_s: i64, act: String| all.push(Beat { at_s: at_s - zero, act });
    let mut lifted_at = None;
    for (bath, (start, end)) in spans() {
        let name = bath.name.as_str();
        for sheet in 0..sheets {
            // Each sheet has its time from going in to being lifted out.
            let (at, act) = match lifted_at {
                None => (*start, format!("in to {name}")),
                Some(at) => (at, format!("up, drain from a corner, into {name}")),
            };
            say(at + sheet * sheet_s, format!("sheet {} {act}", sheet + 1));
        }
        lifted_at = Some(*end);
        if bath.hands == Hands::Poured {
            continue;
        }
        let is_fixer = table_name(name) == "fix";
        let light_at = start + (sheets - 1) * sheet_s + LIGHT_AFTER_S;
        let round_s = if sheets == 1 { 30.max(sheet_s) } else { sheets * sheet_s };
        let mut at = start + sheets * sheet_s;
        let mut round = 1;
        while at + round_s <= *end && !(is_fixer && at >= light_at) {
            let act = if sheets == 1 {
                format!("{name}: rock on, change direction")
            } else {
                format!("{name}: round {round}, lowest sheet to the top, one each {sheet_s} s")
            };
            say(at, act);
            at += round_s;
            round += 1;
        }
        if is_fixer && light_at <= *end {
            say(
                light_at,
                "light may come on: the last sheet has been 2 min in the fixer; on by the clock".to_owned(),
            );
            break;
        }
        if at < *end && sheets > 1 {
            say(at, format!("{name}: press the pile down, wait"));
        }
    }
    all
}
