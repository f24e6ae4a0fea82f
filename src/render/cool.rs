//! The answer of `cool`, in words and as JSON.

use serde::Serialize;

use super::Document;
use crate::cooling::{Around, Course, Ice};
use crate::quantity::rounding::{show_short, show_step, to_step};
use crate::quantity::{Duration, Temperature, Volume};

/// What was asked and what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// Minutes to a temperature.
    Until {
        /// The law.
        course: Course,
        /// How much.
        volume: Volume,
        /// The temperature wanted.
        to: Temperature,
        /// Minutes.
        minutes: f64,
        /// A water bath that ends at the target by itself, mL.
        by_itself_ml: Option<f64>,
    },
    /// The temperature after a time.
    After {
        /// The law.
        course: Course,
        /// How much.
        volume: Volume,
        /// The time.
        after: Duration,
        /// Temperature then, °C.
        celsius: f64,
    },
    /// Where it settles in a bath that is not renewed.
    Settles {
        /// The law.
        course: Course,
        /// How much.
        volume: Volume,
        /// Temperature of both in the end, °C.
        celsius: f64,
    },
    /// Poured into a vessel of another temperature.
    Poured {
        /// How much.
        volume: Volume,
        /// Its temperature.
        from: Temperature,
        /// The vessel's.
        around: Temperature,
        /// Of both, °C.
        celsius: f64,
    },
    /// Ice.
    Ice {
        /// How much there is, or will be with the ice.
        volume: Volume,
        /// Its temperature.
        from: Temperature,
        /// The temperature wanted.
        to: Temperature,
        /// The ice's.
        ice: Temperature,
        /// Ice, g.
        grams: f64,
        /// Whether it becomes part of the batch.
        becomes: Ice,
    },
}

/// What `cool --json` prints: the fields that the question has.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct CoolBody {
    /// Minutes to the temperature.
    minutes: Option<f64>,
    /// Least, minutes.
    low_minutes: Option<f64>,
    /// Most, minutes.
    high_minutes: Option<f64>,
    /// Temperature reached, °C.
    celsius: Option<f64>,
    /// Ice, g.
    ice_g: Option<f64>,
    /// A water bath that ends at the target by itself, mL.
    bath_ending_there_ml: Option<f64>,
    /// The time constant used, minutes.
    time_constant_minutes: Option<f64>,
}

impl CoolBody {
    /// The fields of an answer.
    pub fn new(answer: &Answer) -> Self {
        let constant = |course: &Course| {
            course.time_constant_minutes.unwrap_or_else(|| {
                let middle = f64::midpoint(course.from_c, course.settles_c());
                course.bottle.time_constant_minutes(middle, course.around_c, course.bath_ml)
            })
        };
        match answer {
            Answer::Until { course, minutes, by_itself_ml, .. } => {
                let (low, high) = range(course, *minutes);
                Self {
                    minutes: Some(*minutes),
                    low_minutes: Some(low),
                    high_minutes: Some(high),
                    bath_ending_there_ml: *by_itself_ml,
                    time_constant_minutes: Some(constant(course)),
                    ..Self::default()
                }
            }
            Answer::After { course, celsius, .. } => Self {
                celsius: Some(*celsius),
                time_constant_minutes: Some(constant(course)),
                ..Self::default()
            },
            Answer::Settles { celsius, .. } | Answer::Poured { celsius, .. } => {
                Self { celsius: Some(*celsius), ..Self::default() }
            }
            Answer::Ice { grams, .. } => Self { ice_g: Some(*grams), ..Self::default() },
        }
    }
}

/// The honest range of a time; one's own time constant is taken to be known.
fn range(course: &Course, minutes: f64) -> (f64, f64) {
    if course.time_constant_minutes.is_some() {
        return (minutes, minutes);
    }
    let doubt = course.bottle.around.doubt();
    (minutes * (1.0 - doubt), minutes * (1.0 + doubt))
}

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

fn place(course: &Course) -> String {
    let around = degrees(course.around_c);
    match course.bottle.around {
        Around::Air => format!("still air at {around}"),
        Around::MovingAir => format!("before a fan at {around}"),
        Around::Water => format!("quiet water at {around}"),
        Around::MovingWater => format!("moving water at {around}, swirled"),
    }
}

/// The answer in words.
pub fn cool_document(answer: &Answer) -> Document {
    let mut document = Document::new();
    match answer {
        Answer::Until { course, volume, to, minutes, by_itself_ml } => {
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
        Answer::After { course, volume, after, celsius } => {
            document.facts(vec![
                (format!("{volume} after {after}"), degrees(*celsius)),
                ("from".to_owned(), degrees(course.from_c)),
                ("in".to_owned(), place(course)),
            ]);
            document.list(vec!["Shake the bottle before the thermometer goes in.".to_owned()]);
        }
        Answer::Settles { course, volume, celsius } => {
            let bath = course.bath_ml.map(Volume::from_ml).map_or_else(String::new, |own| own.to_string());
            document.facts(vec![
                ("both end at".to_owned(), degrees(*celsius)),
                ("batch".to_owned(), format!("{volume}, {}", degrees(course.from_c))),
                ("bath".to_owned(), format!("{bath}, {}", degrees(course.around_c))),
            ]);
        }
        Answer::Poured { volume, from, around, celsius } => {
            document.facts(vec![
                ("then reads".to_owned(), degrees(*celsius)),
                ("poured".to_owned(), format!("{volume} at {from}")),
                ("vessel".to_owned(), around.to_string()),
            ]);
        }
        Answer::Ice { volume, from, to, ice, grams, becomes } => {
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
