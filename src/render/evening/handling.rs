//! How the films are moved, said once for the ways that an evening has, and what light they bear.

use super::EveningView;
use crate::evening::clock::Watch;
use crate::evening::file::Way;

fn has(view: &EveningView, way: Way) -> bool {
    view.evening.tanks.iter().any(|tank| tank.way == way)
}

/// What a time is counted from, then a sentence for each way.
pub(super) fn sentences(view: &EveningView) -> Vec<String> {
    let hands = &view.table.hands;
    let mut all = Vec::new();
    if [Way::Tank, Way::Rotary, Way::Hangers].into_iter().any(|way| has(view, way)) {
        all.push(format!(
            "A time runs from the start of pouring in to the start of pouring out; pouring out {}.",
            Watch(view.evening.pour_s)
        ));
    }
    if has(view, Way::Tank) {
        all.push(format!(
            "After pouring in rap the tank, invert {}, then {} s at each time given (a bare number is a full minute); stop and rinse: keep moving.",
            Watch(hands.first_turning),
            hands.each_turning
        ));
    }
    if has(view, Way::Rotary) {
        all.push("Rotary: the motor runs from pouring in to pouring out.".to_owned());
    }
    if has(view, Way::Hangers) {
        all.push(format!(
            "Hangers: knock against the rim and lift for {}, then {} s at each time given (a bare number is a full minute); stop and rinse: keep moving.",
            Watch(hands.hanger_first),
            hands.each_turning
        ));
    }
    if has(view, Way::Trays) {
        all.push(
            "Trays: a time runs from the first sheet in to the first sheet out, the order kept; the beats to learn stand below."
                .to_owned(),
        );
    }
    all.extend(light(view));
    all
}

/// The same in a few words.
pub(super) fn short(view: &EveningView) -> String {
    let hands = &view.table.hands;
    let mut all = Vec::new();
    if has(view, Way::Tank) {
        all.push(format!("rap, then invert {} once it is in", Watch(hands.first_turning)));
    }
    if has(view, Way::Rotary) {
        all.push("motor on while it is in".to_owned());
    }
    if has(view, Way::Hangers) {
        all.push(format!("knock, lift for {} once it is in", Watch(hands.hanger_first)));
    }
    if has(view, Way::Trays) {
        all.push("trays by heart".to_owned());
    }
    all.join(" · ")
}

/// What light the films bear until they are fixed. Source of the two minutes: US Army subcourse SS0509, page 30.
pub(super) fn light(view: &EveningView) -> Vec<String> {
    let mut all = Vec::new();
    if has(view, Way::Tank) || has(view, Way::Rotary) {
        all.push("A loaded, closed tank stands in full light.".to_owned());
    }
    if has(view, Way::Hangers) || has(view, Way::Trays) {
        all.push(
            "Open tanks and trays: no light at all until the film has been 2 min in the fixer.".to_owned(),
        );
    }
    all.push("Film sees red light too.".to_owned());
    all
}
