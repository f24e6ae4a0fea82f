//! A replenished tank: in words, as JSON, as a plot of characters and as a sheet beside the tank.

mod json;
mod paper;
mod plot;
mod plotted;
mod words;

pub(crate) use json::ReplenishBody;
pub(crate) use paper::replenish_html;
pub(crate) use plot::replenish_plot;
pub(crate) use words::{held_words, replenish_document};
