//! soupcon: a darkroom chemistry calculator.
#![allow(rustdoc::private_intra_doc_links, reason = "the documentation is made with its private items")]
#![cfg_attr(test, allow(clippy::restriction, reason = "a panic is how a test fails"))]

pub mod bath;
pub mod bench;
mod can_make;
pub mod cli;
mod compare;
pub mod composition;
pub mod configuration;
mod cooling;
pub mod curve;
pub mod diagnostic;
mod doubt;
mod evening;
mod exposure;
pub mod formula;
pub mod journal;
pub mod label;
pub mod lettering;
pub mod library;
pub mod lint;
pub mod mixing;
mod nearest;
mod packed;
pub mod predict;
mod qualities;
pub mod quantity;
pub mod render;
pub mod safety;
pub mod scale;
mod schema;
pub mod sequence;
pub mod sheet;
mod shelf;
pub mod solution;
pub mod substance;
mod suggestion;
pub mod timing;
pub mod vessel;
mod wishes;
