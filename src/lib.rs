//! soupcon: a darkroom chemistry calculator.
#![cfg_attr(test, allow(clippy::restriction, reason = "a panic is how a test fails"))]

pub mod bath;
pub mod bench;
pub mod can_make;
pub mod cli;
pub mod compare;
pub mod composition;
pub mod configuration;
pub mod cooling;
pub mod curve;
pub mod diagnostic;
pub mod evening;
pub mod exposure;
pub mod formula;
pub mod journal;
pub mod label;
pub mod lettering;
pub mod library;
pub mod lint;
pub mod mixing;
pub mod nearest;
pub mod predict;
pub mod qualities;
pub mod quantity;
pub mod render;
pub mod safety;
pub mod scale;
pub mod schema;
pub mod sequence;
pub mod sheet;
pub mod solution;
pub mod substance;
pub mod suggestion;
pub mod timing;
pub mod vessel;
pub mod wishes;
