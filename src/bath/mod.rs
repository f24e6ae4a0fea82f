//! What becomes of a bath in use: replenishing by mass balance.

pub mod replenish;
