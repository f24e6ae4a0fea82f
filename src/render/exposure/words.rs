//! The sums under the enlarger in words: the answer in the first line, then what it rests on.

mod answer;
mod baths;
mod contrast;
mod light;
mod local;
mod size;
mod strips;

pub(crate) use baths::{capacity, silver, wash};
pub(crate) use contrast::{condenser_factor, given, hard_change, range, two_filters};
pub(crate) use light::{change, filter, lamp_effect, lamp_loss, metered};
pub(crate) use local::{burn, dodge};
pub(crate) use size::size;
pub(crate) use strips::{contact, steps, strip, table};
pub(super) use strips::{strip_error, strip_line, table_notes};
