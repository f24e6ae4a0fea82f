//! What `replenish --json` prints.

use crate::bath::course::{RateBasis, Replenishing, TankPoint, TankSubstance};
use serde::Serialize;

/// A substance and its concentration.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Level {
    /// Its form, by id.
    substance: String,
    /// g/L.
    grams_per_litre: f64,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct CoursePoint {
    /// Films so far, of 516 cm² each.
    films: u32,
    /// Volume of the bath, mL.
    volume_ml: f64,
    /// Concentrations; with batches just after the exchange.
    concentrations: Vec<Level>,
    /// pH at 20 °C, told at up to some two hundred points; null in between, and where it cannot be counted on.
    ph: Option<f64>,
}

/// What a film does.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct FilmBody {
    /// The form, by id.
    substance: String,
    /// Released, mg; used up below zero.
    milligrams: f64,
    /// Least, mg.
    low_milligrams: f64,
    /// Most, mg.
    high_milligrams: f64,
    source: String,
}

/// What `replenish --json` prints.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(crate) struct ReplenishBody {
    /// The developer's id.
    formula: String,
    /// The replenisher's id; none where it is topped up with itself.
    replenisher_formula: Option<String>,
    /// Tank, mL.
    tank_ml: f64,
    /// Films until as much has been added as the tank holds.
    turnover_films: Option<f64>,
    /// Replenisher for a film, mL.
    rate_ml: Option<f64>,
    /// Where the rate comes from: given, stated or worked-out.
    rate_basis: &'static str,
    /// Overflow for a film, mL; none where the carry-out is not given.
    bleed_ml: Option<f64>,
    /// Replenisher for all films, mL.
    replenisher_total_ml: f64,
    /// Where each substance settles; with batches just after an exchange.
    steady: Vec<Level>,
    /// With batches: where each settles just before an exchange.
    steady_before_exchange: Vec<Level>,
    /// pH at 20 °C where it settles; null where it cannot be counted on.
    steady_ph: Option<f64>,
    replenisher: Vec<Level>,
    /// Its pH at 20 °C.
    replenisher_ph: Option<f64>,
    /// What an average film does.
    film: Vec<FilmBody>,
    /// Film by film, or batch by batch.
    course: Vec<CoursePoint>,
}

impl ReplenishBody {
    /// The fields of an answer.
    pub(crate) fn new(answer: &Replenishing) -> Self {
        let level = |row: &TankSubstance, grams_per_litre: f64| Level {
            substance: row.form.id.clone(),
            grams_per_litre,
        };
        let tank = &answer.tank;
        let before = |row: &TankSubstance| {
            let own = answer.exchange?;
            let both =
                row.substance.settles_with_batches_g_per_l(tank.volume_ml, own.films, own.exchange_ml)?;
            Some(level(row, both.1))
        };
        let point = |tank_point: &TankPoint| CoursePoint {
            films: tank_point.films,
            volume_ml: tank_point.volume_ml,
            concentrations: answer
                .rows
                .iter()
                .zip(&tank_point.g_per_l)
                .map(|(row, grams)| level(row, *grams))
                .collect(),
            ph: tank_point.ph,
        };
        let film = |row: &TankSubstance| {
            let film = row.film.as_ref()?;
            Some(FilmBody {
                substance: film.form.id.clone(),
                milligrams: film.mg,
                low_milligrams: film.low_mg,
                high_milligrams: film.high_mg,
                source: film.source.clone(),
            })
        };
        Self {
            formula: answer.formula.id.clone(),
            replenisher_formula: answer.replenisher.as_ref().map(|replenisher| replenisher.id.clone()),
            tank_ml: tank.volume_ml,
            turnover_films: tank.turnover_films(),
            rate_ml: Some(tank.rate_ml),
            rate_basis: match answer.rate_basis {
                RateBasis::Given => "given",
                RateBasis::Stated => "stated",
                RateBasis::WorkedOut => "worked-out",
            },
            bleed_ml: answer.carry_out_given.then(|| tank.bleed_ml()),
            replenisher_total_ml: tank.rate_ml * f64::from(answer.films),
            steady: answer.rows.iter().filter_map(|row| Some(level(row, answer.settles(row)?))).collect(),
            steady_before_exchange: answer.rows.iter().filter_map(before).collect(),
            replenisher: answer
                .rows
                .iter()
                .filter(|row| row.substance.replenisher_g_per_l > 0.0)
                .map(|row| level(row, row.substance.replenisher_g_per_l))
                .collect(),
            steady_ph: answer.ph_steady,
            replenisher_ph: answer.ph_replenisher,
            film: answer.rows.iter().filter_map(film).collect(),
            course: answer.course.iter().map(point).collect(),
        }
    }
}
