//! A replenished tank: in words, as JSON, as a plot of characters and as a sheet beside the tank.

mod json;
mod paper;
mod plot;
mod plotted;
mod words;

pub use json::ReplenishBody;
pub use paper::replenish_html;
pub use plot::replenish_plot;
pub use words::{held_words, replenish_document};
