//! How long a bottle takes to a temperature, and how much ice does it.

mod json;
mod words;

pub(crate) use json::CoolBody;
pub(crate) use words::cool_document;

use crate::cooling::{CoolingCourse, Ice};
use crate::quantity::{Duration, Temperature, Volume};

/// What was asked and what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum CoolAnswer {
    /// Minutes to a temperature.
    Until {
        course: CoolingCourse,
        volume: Volume,
        /// The temperature wanted.
        to: Temperature,
        minutes: f64,
        /// A water bath that ends at the target by itself, mL.
        by_itself_ml: Option<f64>,
    },
    /// The temperature after a time.
    After {
        course: CoolingCourse,
        volume: Volume,
        after: Duration,
        /// Temperature then, °C.
        celsius: f64,
    },
    /// Where it settles in a bath that is not renewed.
    Settles {
        course: CoolingCourse,
        volume: Volume,
        /// Temperature of both in the end, °C.
        celsius: f64,
    },
    /// Poured into a vessel of another temperature.
    Poured {
        volume: Volume,
        from: Temperature,
        /// The vessel's.
        around: Temperature,
        /// Of both, °C.
        celsius: f64,
    },
    Ice {
        /// How much there is, or will be with the ice.
        volume: Volume,
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

/// The honest range of a time; one's own time constant is taken to be known.
fn range(course: &CoolingCourse, minutes: f64) -> (f64, f64) {
    if course.time_constant_minutes.is_some() {
        return (minutes, minutes);
    }
    let doubt = course.bottle.around.doubt();
    (minutes * (1.0 - doubt), minutes * (1.0 + doubt))
}
