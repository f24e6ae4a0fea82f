//! What `cool --json` prints.

use super::{CoolAnswer, range};
use crate::cooling::CoolingCourse;
use serde::Serialize;

/// What `cool --json` prints: the fields that the question has.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct CoolBody {
    /// Minutes to the temperature.
    minutes: Option<f64>,
    /// Least, minutes.
    low_minutes: Option<f64>,
    /// Most, minutes.
    high_minutes: Option<f64>,
    /// Temperature reached, °C.
    celsius: Option<f64>,
    ice_g: Option<f64>,
    /// A water bath that ends at the target by itself, mL.
    bath_ending_there_ml: Option<f64>,
    /// The time constant used, minutes.
    time_constant_minutes: Option<f64>,
}

impl CoolBody {
    /// The fields of an answer.
    pub(crate) fn new(answer: &CoolAnswer) -> Self {
        let constant = |course: &CoolingCourse| {
            course.time_constant_minutes.unwrap_or_else(|| {
                let middle = f64::midpoint(course.from_c, course.settles_c());
                course.bottle.time_constant_minutes(middle, course.around_c, course.bath_ml)
            })
        };
        match answer {
            CoolAnswer::Until { course, minutes, by_itself_ml, .. } => {
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
            CoolAnswer::After { course, celsius, .. } => Self {
                celsius: Some(*celsius),
                time_constant_minutes: Some(constant(course)),
                ..Self::default()
            },
            CoolAnswer::Settles { celsius, .. } | CoolAnswer::Poured { celsius, .. } => {
                Self { celsius: Some(*celsius), ..Self::default() }
            }
            CoolAnswer::Ice { grams, .. } => Self { ice_g: Some(*grams), ..Self::default() },
        }
    }
}
