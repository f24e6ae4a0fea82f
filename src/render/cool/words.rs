//! A time of cooling, or the ice for it, in words.

use super::{CoolAnswer, range};
use crate::cooling::{Around, CoolingCourse, Ice};
use crate::quantity::Volume;
use crate::quantity::rounding::{show_short, show_step, to_step};
use crate::render::Document;

/// Minutes as one says them.
fn words(minutes: f64) -> String {
    let step = if minutes < 20.0 {
        1.0
    } else if minutes < 120.0 {
        5.0
    } else {
        10.0
    };
    let whole = to_step(minutes, step).max(1.0);
    if whole < 120.0 {
        format!("{whole:.0} min")
    } else {
        format!("{} h {:02.0} min", (whole / 60.0).floor(), whole % 60.0)
    }
}

fn degrees(celsius: f64) -> String {
    format!("{} °C", show_short(celsius, 1))
}

fn place(course: &CoolingCourse) -> String {
    let around = degrees(course.around_c);
    match course.bottle.around {
        Around::Air => format!("still air at {around}"),
        Around::MovingAir => format!("before a fan at {around}"),
        Around::Water => format!("quiet water at {around}"),
        Around::MovingWater => format!("moving water at {around}, swirled"),
    }
}

/// The answer in words.
pub(crate) fn cool_document(answer: &CoolAnswer) -> Document {
    let mut document = Document::new();
    match answer {
        CoolAnswer::Until { course, volume, to, minutes, by_itself_ml } => {
            let (low, high) = range(course, *minutes);
            let from = degrees(course.from_c);
            let mut facts = vec![(format!("{volume}, {from} to {to}"), words(*minutes))];
            if low < high {
                facts.push(("between".to_owned(), format!("{} and {}", words(low), words(high))));
            }
            facts.push(("in".to_owned(), place(course)));
            document.facts(facts);
            let mut points = Vec::new();
            if let Some(ml) = by_itself_ml.filter(|ml| (50.0..=200_000.0).contains(ml)) {
                let step = if ml < 1000.0 { 10.0 } else { 100.0 };
                points.push(format!(
                    "{} mL of that water, not renewed, end at {to} by themselves.",
                    show_step(to_step(ml, step), step)
                ));
            }
            points.push("Shake the bottle before the thermometer goes in.".to_owned());
            document.list(points);
        }
        CoolAnswer::After { course, volume, after, celsius } => {
            document.facts(vec![
                (format!("{volume} after {after}"), degrees(*celsius)),
                ("from".to_owned(), degrees(course.from_c)),
                ("in".to_owned(), place(course)),
            ]);
            document.list(vec!["Shake the bottle before the thermometer goes in.".to_owned()]);
        }
        CoolAnswer::Settles { course, volume, celsius } => {
            let bath = course.bath_ml.map(Volume::from_ml).map_or_else(String::new, |own| own.to_string());
            document.facts(vec![
                ("both end at".to_owned(), degrees(*celsius)),
                ("batch".to_owned(), format!("{volume}, {}", degrees(course.from_c))),
                ("bath".to_owned(), format!("{bath}, {}", degrees(course.around_c))),
            ]);
        }
        CoolAnswer::Poured { volume, from, around, celsius } => {
            document.facts(vec![
                ("then reads".to_owned(), degrees(*celsius)),
                ("poured".to_owned(), format!("{volume} at {from}")),
                ("vessel".to_owned(), around.to_string()),
            ]);
        }
        CoolAnswer::Ice { volume, from, to, ice, grams, becomes } => {
            let step = if *grams < 100.0 { 1.0 } else { 5.0 };
            let ice_words = format!("{} g of ice at {ice}", show_step(to_step(*grams, step), step));
            match becomes {
                Ice::InABag => {
                    document.facts(vec![(format!("{volume}, {from} to {to}"), ice_words)]);
                    document.list(vec![
                        "Ice in a closed bag: loose ice dilutes the bath.".to_owned(),
                        "Real ice needs 5 to 15 % more. Stir, and stop 1 °C early (common practice)."
                            .to_owned(),
                    ]);
                }
                Ice::PartOfIt => {
                    let rest = (volume.as_ml() - grams).max(0.0);
                    let rest = show_step(to_step(rest, step), step);
                    document.facts(vec![(
                        format!("{volume} at {to}"),
                        format!("{ice_words} in {rest} mL at {from}"),
                    )]);
                    document.list(vec!["The ice is part of the water to make up.".to_owned()]);
                }
            }
        }
    }
    document
}
