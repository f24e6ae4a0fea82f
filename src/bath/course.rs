//! The course of a replenished tank: what stands in it film by film, or batch by batch, where it settles, and when to begin anew.
//!
//! The mass balance of one substance is in [`super::replenish`]; here those of a bath go together, with the acid that development sets
//! free.

use std::sync::Arc;

use super::replenish::{ReplenishError, ReplenishedSubstance, ReplenishedTank};
use crate::formula::Formula;
use crate::substance::Form;

/// About so many points of a course are told their pH.
const MOST_PH: usize = 200;

/// What an average film does to one substance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FilmRelease {
    pub form: Arc<Form>,
    /// Released, mg; used up below zero.
    pub mg: f64,
    /// Least, mg.
    pub low_mg: f64,
    /// Most, mg.
    pub high_mg: f64,
    pub source: String,
}

/// One substance of the bath.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TankSubstance {
    pub form: Arc<Form>,
    /// Its figures.
    pub substance: ReplenishedSubstance,
    /// What films do to it.
    pub film: Option<FilmRelease>,
    /// Where it is to be held, g/L.
    pub held: Option<f64>,
}

/// Where the rate comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum RateBasis {
    /// Typed.
    Given,
    /// The formula's own.
    Stated,
    /// From what is to be held.
    WorkedOut,
}

/// Batches with an exchange after each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct BatchExchange {
    pub films: u32,
    /// Exchanged, mL.
    pub exchange_ml: f64,
}

/// A point of the course.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TankPoint {
    /// Films so far.
    pub films: u32,
    /// Volume, mL.
    pub volume_ml: f64,
    /// g/L, in the order of the rows.
    pub g_per_l: Vec<f64>,
    /// Acid set free by development that stays in the bath, mol/L.
    pub acid_mol_per_l: f64,
    /// pH at 20 °C, where it was asked for and can be counted on.
    pub ph: Option<f64>,
}

/// The pH of what stands in a bath, g/L of each form, with the acid that development set free, mol/L; none where it cannot be counted on.
pub(crate) type TankPh<'p> = dyn Fn(&[(Arc<Form>, f64)], f64) -> Option<f64> + 'p;

/// A tank in use: what stands in it over films, as far as it can be worked out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Replenishing {
    /// The developer in the tank.
    pub(crate) formula: Formula,
    /// What is put back; none where it is the developer itself.
    pub(crate) replenisher: Option<Formula>,
    /// Volume, rate and carry-out.
    pub(crate) tank: ReplenishedTank,
    /// Where the rate comes from.
    pub(crate) rate_basis: RateBasis,
    /// Whether the carry-out was told, not taken as usual.
    pub(crate) carry_out_given: bool,
    /// The substances that are followed.
    pub(crate) rows: Vec<TankSubstance>,
    /// How many films of 516 cm² are asked for.
    pub(crate) films: u32,
    /// Where films go in batches with an exchange after each.
    pub(crate) exchange: Option<BatchExchange>,
    /// Film by film, or batch by batch; the fresh bath first.
    pub(crate) course: Vec<TankPoint>,
    /// pH at 20 °C where it settles, where it can be counted on.
    pub(crate) ph_steady: Option<f64>,
    /// pH of the replenisher at 20 °C.
    pub(crate) ph_replenisher: Option<f64>,
}

impl Replenishing {
    /// Works out the course.
    ///
    /// # Errors
    /// Where the tank runs empty, or a substance is used up; with its name.
    #[allow(clippy::too_many_arguments, reason = "the parts of one answer, put together once")]
    pub(crate) fn new(
        formula: Formula,
        replenisher: Option<Formula>,
        tank: ReplenishedTank,
        rate_basis: RateBasis,
        carry_out_given: bool,
        rows: Vec<TankSubstance>,
        films: u32,
        exchange: Option<BatchExchange>,
    ) -> Result<Self, (ReplenishError, String)> {
        let mut course = Self {
            formula,
            replenisher,
            tank,
            rate_basis,
            carry_out_given,
            rows,
            films,
            exchange,
            course: Vec::new(),
            ph_steady: None,
            ph_replenisher: None,
        };
        course.course = course.points()?;
        Ok(course)
    }

    /// Films and concentrations: each film up to 500, else some 200 points; of batches the end of each.
    pub(crate) fn points(&self) -> Result<Vec<TankPoint>, (ReplenishError, String)> {
        let start = TankPoint {
            films: 0,
            volume_ml: self.tank.volume_ml,
            g_per_l: self.rows.iter().map(|row| row.substance.start_g_per_l).collect(),
            acid_mol_per_l: 0.0,
            ph: None,
        };
        let mut points = vec![start];
        if let Some(exchange) = self.exchange {
            let batches = self.films / exchange.films;
            let of_row = |row: &TankSubstance| {
                row.substance
                    .after_batches_g_per_l(self.tank.volume_ml, exchange.films, exchange.exchange_ml, batches)
                    .map_err(|error| (error, row.form.name.clone()))
            };
            let courses = self.rows.iter().map(of_row).collect::<Result<Vec<_>, _>>()?;
            let acid = self
                .acid()
                .after_batches_g_per_l(self.tank.volume_ml, exchange.films, exchange.exchange_ml, batches)
                .unwrap_or_default();
            for batch in 1..=batches {
                let index = (batch - 1) as usize;
                let g_per_l = courses.iter().filter_map(|course| course.get(index).copied()).collect();
                points.push(TankPoint {
                    films: batch * exchange.films,
                    volume_ml: self.tank.volume_ml,
                    g_per_l,
                    acid_mol_per_l: acid.get(index).copied().unwrap_or_default(),
                    ph: None,
                });
            }
            // The films after the last exchange, which wait for the next.
            let rest = f64::from(self.films % exchange.films);
            if let (Some(last), true) = (points.last().cloned(), rest > 0.0) {
                let volume_ml = self.tank.volume_ml;
                let g_per_l = last
                    .g_per_l
                    .iter()
                    .zip(&self.rows)
                    .map(|(grams, row)| (grams + rest * row.substance.released_mg / volume_ml).max(0.0))
                    .collect();
                let acid_mol_per_l = last.acid_mol_per_l + rest * self.acid().released_mg / volume_ml;
                points.push(TankPoint { films: self.films, volume_ml, g_per_l, acid_mol_per_l, ph: None });
            }
            return Ok(points);
        }
        let step = self.films.div_ceil(500).max(1);
        let mut films = step;
        loop {
            let films_now = films.min(self.films);
            points.push(self.at(films_now)?);
            if films_now == self.films {
                return Ok(points);
            }
            films += step;
        }
    }

    fn at(&self, films: u32) -> Result<TankPoint, (ReplenishError, String)> {
        let volume_ml = self.tank.volume_after_ml(films).map_err(|error| (error, String::new()))?;
        let of_row = |row: &TankSubstance| {
            row.substance.after_g_per_l(&self.tank, films).map_err(|error| (error, row.form.name.clone()))
        };
        let g_per_l = self.rows.iter().map(of_row).collect::<Result<Vec<_>, _>>()?;
        let acid_mol_per_l = self.acid().after_g_per_l(&self.tank, films).unwrap_or_default();
        Ok(TankPoint { films, volume_ml, g_per_l, acid_mol_per_l, ph: None })
    }

    /// The acid that development sets free, in mmol a film and mol/L in place of mg and g/L: two for each borax that takes it up, else one
    /// for each hydroquinone used.
    fn acid(&self) -> ReplenishedSubstance {
        let used = |id: &str| {
            let row = self.rows.iter().find(|row| row.form.parent.id == id)?;
            Some((-row.substance.released_mg).max(0.0) / row.form.product_g_per_mol()?)
        };
        let released_mg = used("borax").filter(|mmol| *mmol > 0.0).map(|mmol| 2.0 * mmol);
        ReplenishedSubstance {
            start_g_per_l: 0.0,
            replenisher_g_per_l: 0.0,
            released_mg: released_mg.or_else(|| used("hydroquinone")).unwrap_or_default(),
        }
    }

    /// What stands in the bath at a point for its pH: borax is told as alkali left, and here its boron is still there, with the acid that
    /// took up the alkali.
    fn contents(&self, point: &TankPoint) -> Vec<(Arc<Form>, f64)> {
        self.rows
            .iter()
            .zip(&point.g_per_l)
            .map(|(row, grams)| {
                let back = if row.form.parent.id == "borax" && row.substance.released_mg < 0.0 {
                    let mol = row.form.product_g_per_mol().unwrap_or_default();
                    point.acid_mol_per_l / 2.0 * mol
                } else {
                    0.0
                };
                (Arc::clone(&row.form), grams + back)
            })
            .collect()
    }

    /// Tells the pH of up to some two hundred points of the course, of those that are printed, and of where it settles.
    pub(crate) fn tell_ph(&mut self, ph: &TankPh<'_>) {
        let printed: Vec<u32> = self.shown().iter().map(|point| point.films).collect();
        let every = self.course.len().div_ceil(MOST_PH).max(1);
        let last = self.course.len().saturating_sub(1);
        let wanted = |index: usize, films: u32| {
            index.is_multiple_of(every) || index == last || printed.contains(&films)
        };
        let told: Vec<Option<f64>> = self
            .course
            .iter()
            .enumerate()
            .map(|(index, point)| {
                let is_wanted = wanted(index, point.films);
                is_wanted.then(|| ph(&self.contents(point), point.acid_mol_per_l)).flatten()
            })
            .collect();
        for (point, ph) in self.course.iter_mut().zip(told) {
            point.ph = ph;
        }
        let settled: Option<Vec<f64>> = self.rows.iter().map(|row| self.settles(row)).collect();
        let acid = self.acid();
        let acid = match self.exchange {
            None => acid.settles_g_per_l(&self.tank),
            Some(own) => acid
                .settles_with_batches_g_per_l(self.tank.volume_ml, own.films, own.exchange_ml)
                .map(|(after, _)| after),
        };
        if let (Some(g_per_l), Some(acid_mol_per_l)) = (settled, acid) {
            let point =
                TankPoint { films: 0, volume_ml: self.tank.volume_ml, g_per_l, acid_mol_per_l, ph: None };
            self.ph_steady = ph(&self.contents(&point), acid_mol_per_l);
        }
        let brought: Vec<(Arc<Form>, f64)> =
            self.rows.iter().map(|row| (Arc::clone(&row.form), row.substance.replenisher_g_per_l)).collect();
        self.ph_replenisher = ph(&brought, 0.0);
    }

    /// What the replenisher holds, g/L.
    pub(crate) fn replenisher_contents(&self) -> Vec<(Arc<Form>, f64)> {
        self.rows
            .iter()
            .filter(|row| row.substance.replenisher_g_per_l > 0.0)
            .map(|row| (Arc::clone(&row.form), row.substance.replenisher_g_per_l))
            .collect()
    }

    /// Replenisher for a film, mL.
    pub(crate) fn rate_ml(&self) -> f64 {
        self.tank.rate_ml
    }

    /// Where a substance settles, g/L: with batches just after an exchange.
    pub(crate) fn settles(&self, row: &TankSubstance) -> Option<f64> {
        match self.exchange {
            None => row.substance.settles_g_per_l(&self.tank),
            Some(film_release) => {
                let both = row.substance.settles_with_batches_g_per_l(
                    self.tank.volume_ml,
                    film_release.films,
                    film_release.exchange_ml,
                );
                both.map(|(after, _)| after)
            }
        }
    }

    /// Films until as much has been added as the tank holds: when to begin anew (common practice, no source).
    pub(crate) fn begin_anew(&self) -> Option<u32> {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "films, far below the limit"
        )]
        self.tank.turnover_films().filter(|films| *films < 1e6).map(|films| films.floor().max(1.0) as u32)
    }

    /// The points that are printed: the start, a quarter, half, the end, and where to begin anew.
    pub(crate) fn shown(&self) -> Vec<&TankPoint> {
        let quarter = self.films / 4;
        let mut wanted = vec![0, quarter, self.films / 2, self.films];
        if let Some(anew) = self.begin_anew() {
            wanted.push(anew);
        }
        if let Some(exchange) = self.exchange {
            wanted = vec![
                0,
                exchange.films,
                2 * exchange.films,
                3 * exchange.films,
                self.course.last().map_or(0, |last| last.films),
            ];
        }
        self.course.iter().filter(|point| wanted.contains(&point.films)).collect()
    }
}
