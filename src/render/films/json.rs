//! Films, and whether the stock is enough for them, in JSON.

use crate::bath::need::Need;
use crate::bath::stock::{StockCheck, StockGrade};
use serde::Serialize;

/// What films ask for, in JSON.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct FilmsBody {
    /// As typed again.
    films: String,
    /// Area, cm².
    area_cm2: f64,
    /// Area over 516.128 cm².
    films_by_area: f64,
    /// As the trade counts rolls.
    films_by_trade: f64,
    /// Stock needed, unrounded, mL.
    stock_ml: f64,
    /// The same counted by area.
    stock_by_area_ml: f64,
    /// The same counted by the trade.
    stock_by_trade_ml: f64,
    /// Stock for one film, mL.
    stock_for_one_ml: f64,
    /// `stated` or `rule`.
    basis: &'static str,
    /// The class, where a rule decides.
    class: Option<String>,
    /// The tank that must be covered, mL.
    tank_ml: Option<f64>,
    /// Whether the tank decides, not the films.
    tank_decides: bool,
    /// The bath for which it is told.
    bath: String,
    /// What to mix, rounded up, mL; of a formula in parts the working solution.
    volume_ml: f64,
}

impl FilmsBody {
    pub(crate) fn new(need: &Need) -> Self {
        Self {
            films: need.films.to_string(),
            area_cm2: need.films.area_cm2(),
            films_by_area: need.films.units(),
            films_by_trade: need.films.trade(),
            stock_ml: need.stock_ml,
            stock_by_area_ml: need.stock_by_area_ml,
            stock_by_trade_ml: need.stock_by_trade_ml,
            stock_for_one_ml: need.for_one_ml.0,
            basis: need.for_one_ml.1.word(),
            class: need.class.clone(),
            tank_ml: need.tank.as_ref().map(|tank| tank.volume_ml),
            tank_decides: need.tank_decides,
            bath: need.bath.clone(),
            volume_ml: need.volume.as_ml(),
        }
    }
}

/// Whether the stock is enough, in JSON.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct StockBody {
    films: String,
    films_by_area: f64,
    films_by_trade: f64,
    /// `enough`, `short`, `too-little` or `not-known`.
    grade: &'static str,
    have_ml: f64,
    need_ml: Option<f64>,
    least_ml: Option<f64>,
    /// `stated`, `rule` or `not known`.
    basis: &'static str,
    class: Option<String>,
    /// Working solution that would be enough at this dilution.
    would_do_ml: Option<f64>,
    agent_g: Option<f64>,
    agent_g_per_film: Option<f64>,
}

impl StockBody {
    /// From the judgement.
    pub(crate) fn new(check: &StockCheck) -> Self {
        Self {
            films: check.films.to_string(),
            films_by_area: check.films.units(),
            films_by_trade: check.films.trade(),
            grade: match check.grade {
                StockGrade::Enough => "enough",
                StockGrade::Short => "short",
                StockGrade::TooLittle => "too-little",
                StockGrade::NotKnown => "not-known",
            },
            have_ml: check.have_ml,
            need_ml: check.need_ml,
            least_ml: check.least_ml,
            basis: check.basis.word(),
            class: check.class.clone(),
            would_do_ml: check.would_do_ml,
            agent_g: check.agent_g,
            agent_g_per_film: check.agent_g_per_film,
        }
    }
}
