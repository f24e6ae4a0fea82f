//! Sheets in trays, in total darkness: what to do at which beat, to be learnt and said aloud, since nothing can be read.

use super::clock::{Hands, Tank, TankPlan};

/// A beat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beat {
    /// Seconds from the first sheet in the first bath.
    pub at_s: i64,
    /// What to do.
    pub act: String,
}

/// The beats of a pile of sheets that goes from tray to tray, one sheet each `sheet_s`, in the order in which they went in.
///
/// In a bath the pile is turned over whole: the lowest sheet to the top, one each beat, so that after a round the order stands. Source: a
/// pile from bottom to top, each sheet once in 30 to 60 s, order kept, is common practice; US Army subcourse SS0509, page 26.
pub fn beats(tank: &Tank, plan: &TankPlan, sheets: u32, sheet_s: i64) -> Vec<Beat> {
    let sheets = i64::from(sheets.max(1));
    let (Some(zero), sheet_s) = (plan.starts_s.first().copied(), sheet_s.max(1)) else { return Vec::new() };
    let mut all = Vec::new();
    let mut say = |at_s: i64, act: String| all.push(Beat { at_s: at_s - zero, act });
    for (place, (bath, (start, end))) in
        tank.baths.iter().zip(plan.starts_s.iter().zip(&plan.ends_s)).enumerate()
    {
        let name = bath.name.as_str();
        for sheet in 0..sheets {
            let from = if place == 0 { "in" } else { "over" };
            let drain = if place == 0 { "" } else { ", drained from a corner" };
            say(start + sheet * sheet_s, format!("sheet {} {from} to {name}{drain}", sheet + 1));
        }
        if bath.hands == Hands::Poured {
            continue;
        }
        let round_s = if sheets == 1 { 30.max(sheet_s) } else { sheets * sheet_s };
        let mut at = start + sheets * sheet_s;
        let mut round = 1;
        while at + round_s <= *end {
            let act = if sheets == 1 {
                format!("{name}: rock on, change direction")
            } else {
                format!("{name}: round {round}, lowest sheet to the top, one each {sheet_s} s")
            };
            say(at, act);
            at += round_s;
            round += 1;
        }
        if at < *end && sheets > 1 {
            say(at, format!("{name}: press the pile down, wait"));
        }
        if tank.baths.get(place + 1).is_none() {
            say(*end, "first sheet out, then in order".to_owned());
        }
    }
    all
}
