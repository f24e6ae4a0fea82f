//! The answer of `replenish`: in words, as JSON, as a plot of characters and as a sheet beside the tank.

mod paper;
mod plot;

pub use paper::replenish_html;
pub use plot::replenish_plot;

use std::rc::Rc;

use serde::Serialize;

use super::{Column, Document};
use crate::bath::replenish::{ReplenishError, Substance, Tank};
use crate::formula::Formula;
use crate::quantity::Volume;
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::substance::Form;

/// What an average film does to one substance.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// Which.
    pub form: Rc<Form>,
    /// Released, mg; used up below zero.
    pub mg: f64,
    /// Least, mg.
    pub low_mg: f64,
    /// Most, mg.
    pub high_mg: f64,
    /// Where from.
    pub source: String,
}

/// One substance of the bath.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Which.
    pub form: Rc<Form>,
    /// Its figures.
    pub substance: Substance,
    /// What films do to it.
    pub film: Option<Film>,
    /// Where it is to be held, g/L.
    pub held: Option<f64>,
}

/// Where the rate comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Typed.
    Given,
    /// The formula's own.
    Stated,
    /// From what is to be held.
    WorkedOut,
}

/// Batches with an exchange after each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchange {
    /// Films in a batch.
    pub films: u32,
    /// Exchanged, mL.
    pub exchange_ml: f64,
}

/// A point of the course.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
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

/// One substance drawn over films.
pub(crate) struct Plotted {
    /// Its place among the rows.
    index: usize,
    /// Its name.
    name: String,
    /// Films and g/L.
    curve: Vec<(f64, f64)>,
    /// The curve for the least and for the most that a film gives off or uses up.
    low: Vec<(f64, f64)>,
    high: Vec<(f64, f64)>,
    /// What a film gives off on each of the three, in words.
    curve_words: String,
    low_words: String,
    high_words: String,
    /// Points with their figures: a quarter, where to begin anew, the end.
    points: Vec<(f64, f64)>,
    /// Where it settles.
    settles: Option<f64>,
    begin_anew: Option<u32>,
    replenisher_g_per_l: f64,
    /// Ends of the axes.
    films: f64,
    top: f64,
    /// What a film does, as a sentence.
    film_words: Option<String>,
}

/// The pH of what stands in a bath, g/L of each form, with the acid that development set free, mol/L; none where it cannot be counted on.
pub type Ph<'p> = dyn Fn(&[(Rc<Form>, f64)], f64) -> Option<f64> + 'p;

/// Everything that is told.
#[derive(Debug, Clone, PartialEq)]
pub struct Replenishing {
    formula: Formula,
    replenisher: Option<Formula>,
    tank: Tank,
    rate_basis: Basis,
    carry_out_given: bool,
    rows: Vec<Row>,
    films: u32,
    exchange: Option<Exchange>,
    course: Vec<Point>,
    ph_steady: Option<f64>,
    ph_replenisher: Option<f64>,
}

/// A level at which a substance settles is drawn up to so many times what its curve reaches.
const MOST_ABOVE: f64 = 2.0;
/// About so many points of a course are told their pH.
const MOST_PH: usize = 200;

impl Replenishing {
    /// Works out the course.
    ///
    /// # Errors
    /// Where the tank runs empty, or a substance is used up; with its name.
    #[allow(clippy::too_many_arguments, reason = "the parts of one answer, put together once")]
    pub fn new(
        formula: Formula,
        replenisher: Option<Formula>,
        tank: Tank,
        rate_basis: Basis,
        carry_out_given: bool,
        rows: Vec<Row>,
        films: u32,
        exchange: Option<Exchange>,
    ) -> Result<Self, (ReplenishError, String)> {
        let mut own = Self {
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
        own.course = own.points()?;
        Ok(own)
    }

    /// Films and concentrations: each film up to 500, else some 200 points; of batches the end of each.
    fn points(&self) -> Result<Vec<Point>, (ReplenishError, String)> {
        let start = Point {
            films: 0,
            volume_ml: self.tank.volume_ml,
            g_per_l: self.rows.iter().map(|row| row.substance.start_g_per_l).collect(),
            acid_mol_per_l: 0.0,
            ph: None,
        };
        let mut points = vec![start];
        if let Some(exchange) = self.exchange {
            let batches = self.films / exchange.films;
            let of_row = |row: &Row| {
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
                points.push(Point {
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
                points.push(Point { films: self.films, volume_ml, g_per_l, acid_mol_per_l, ph: None });
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

    fn at(&self, films: u32) -> Result<Point, (ReplenishError, String)> {
        let volume_ml = self.tank.volume_after_ml(films).map_err(|error| (error, String::new()))?;
        let of_row = |row: &Row| {
            row.substance.after_g_per_l(&self.tank, films).map_err(|error| (error, row.form.name.clone()))
        };
        let g_per_l = self.rows.iter().map(of_row).collect::<Result<Vec<_>, _>>()?;
        let acid_mol_per_l = self.acid().after_g_per_l(&self.tank, films).unwrap_or_default();
        Ok(Point { films, volume_ml, g_per_l, acid_mol_per_l, ph: None })
    }

    /// The acid that development sets free, in mmol a film and mol/L in place of mg and g/L: two for each borax that takes it up, else one
    /// for each hydroquinone used.
    fn acid(&self) -> Substance {
        let used = |id: &str| {
            let row = self.rows.iter().find(|row| row.form.parent.id == id)?;
            Some((-row.substance.released_mg).max(0.0) / row.form.product_g_per_mol()?)
        };
        let released_mg = used("borax").filter(|mmol| *mmol > 0.0).map(|mmol| 2.0 * mmol);
        Substance {
            start_g_per_l: 0.0,
            replenisher_g_per_l: 0.0,
            released_mg: released_mg.or_else(|| used("hydroquinone")).unwrap_or_default(),
        }
    }

    /// What stands in the bath at a point for its pH: borax is told as alkali left, and here its boron is still there, with the acid that
    /// took up the alkali.
    fn contents(&self, point: &Point) -> Vec<(Rc<Form>, f64)> {
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
                (Rc::clone(&row.form), grams + back)
            })
            .collect()
    }

    /// Tells the pH of up to some two hundred points of the course, of those that are printed, and of where it settles.
    pub fn tell_ph(&mut self, ph: &Ph<'_>) {
        let printed: Vec<u32> = shown(self).iter().map(|point| point.films).collect();
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
            let point = Point { films: 0, volume_ml: self.tank.volume_ml, g_per_l, acid_mol_per_l, ph: None };
            self.ph_steady = ph(&self.contents(&point), acid_mol_per_l);
        }
        let brought: Vec<(Rc<Form>, f64)> =
            self.rows.iter().map(|row| (Rc::clone(&row.form), row.substance.replenisher_g_per_l)).collect();
        self.ph_replenisher = ph(&brought, 0.0);
    }

    /// What the replenisher holds, g/L.
    pub fn replenisher_contents(&self) -> Vec<(Rc<Form>, f64)> {
        self.rows
            .iter()
            .filter(|row| row.substance.replenisher_g_per_l > 0.0)
            .map(|row| (Rc::clone(&row.form), row.substance.replenisher_g_per_l))
            .collect()
    }

    /// Replenisher for a film, mL.
    pub fn rate_ml(&self) -> f64 {
        self.tank.rate_ml
    }

    /// What is held and where, in words: `hydroquinone at 5 g/L`.
    pub fn held_words(&self) -> Vec<String> {
        let words = |row: &Row| Some(format!("{} at {} g/L", row.form.name, grams(row.held?)));
        self.rows.iter().filter_map(words).collect()
    }

    /// The substance to draw: the bromide, else what is held, else what films change.
    pub(crate) fn plotted(&self) -> Option<Plotted> {
        let of = |test: &dyn Fn(&Row) -> bool| self.rows.iter().position(test);
        let index = of(&|row| row.form.parent.id == "potassium-bromide" && row.substance.released_mg > 0.0)
            .or_else(|| of(&|row| row.held.is_some()))
            .or_else(|| of(&|row| row.film.is_some()))?;
        let row = self.rows.get(index)?;
        let at = |point: &Point| Some((f64::from(point.films), *point.g_per_l.get(index)?));
        let curve: Vec<(f64, f64)> = self.course.iter().filter_map(at).collect();
        let other = |mg: Option<f64>| -> Vec<(f64, f64)> {
            let Some(mg) = mg.filter(|mg| (mg - row.substance.released_mg).abs() > 1e-9) else {
                return Vec::new();
            };
            let mut own = self.clone();
            let scale = mg / row.substance.released_mg;
            if let Some(row) = own.rows.get_mut(index) {
                row.substance.released_mg *= scale;
            }
            own.points().unwrap_or_default().iter().filter_map(at).collect()
        };
        let (low, high) = match &row.film {
            Some(film) if film.mg.abs() > 1e-9 => {
                let share = row.substance.released_mg / film.mg;
                (other(Some(film.low_mg * share)), other(Some(film.high_mg * share)))
            }
            _ => (Vec::new(), Vec::new()),
        };
        let begin_anew = self.begin_anew().filter(|anew| *anew <= self.films);
        let told = [Some(self.films / 4), begin_anew, Some(self.films)];
        let points = told.into_iter().flatten().filter(|films| *films > 0).filter_map(|films| {
            let point = self.course.iter().find(|point| point.films >= films)?;
            at(point)
        });
        let points: Vec<(f64, f64)> = points.collect();
        let settles = self.settles(row);
        let drawn = curve.iter().chain(&low).chain(&high).map(|(_, grams)| *grams).fold(0.0, f64::max);
        // A level that lies far above what the films asked for reach would press them flat.
        let highest = settles.filter(|own| *own < MOST_ABOVE * drawn).map_or(drawn, |own| drawn.max(own));
        let words =
            |mg: Option<f64>| mg.map_or_else(String::new, |mg| format!("{} mg", show_short(mg.abs(), 1)));
        let film = row.film.as_ref();
        Some(Plotted {
            index,
            name: row.form.name.clone(),
            low_words: words(film.map(|own| own.low_mg)),
            high_words: words(film.map(|own| own.high_mg)),
            curve_words: words(film.map(|own| own.mg)),
            curve,
            low,
            high,
            points,
            settles,
            begin_anew,
            replenisher_g_per_l: row.substance.replenisher_g_per_l,
            films: f64::from(self.films.max(1)),
            top: if highest > 0.0 { highest * 1.12 } else { 1.0 },
            film_words: film.map(|own| {
                let verb = if own.mg >= 0.0 { "gives off" } else { "uses up" };
                format!("A film {verb} {} when negatives are average; ", amount_words(own))
            }),
        })
    }

    /// Where a substance settles, g/L: with batches just after an exchange.
    fn settles(&self, row: &Row) -> Option<f64> {
        match self.exchange {
            None => row.substance.settles_g_per_l(&self.tank),
            Some(own) => {
                let both = row.substance.settles_with_batches_g_per_l(
                    self.tank.volume_ml,
                    own.films,
                    own.exchange_ml,
                );
                both.map(|(after, _)| after)
            }
        }
    }

    /// Films until as much has been added as the tank holds: when to begin anew (common practice, no source).
    fn begin_anew(&self) -> Option<u32> {
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "films, far below the limit"
        )]
        self.tank.turnover_films().filter(|films| *films < 1e6).map(|films| films.floor().max(1.0) as u32)
    }
}

/// A substance and its concentration.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Level {
    /// Its form, by id.
    substance: String,
    /// g/L.
    grams_per_litre: f64,
}

/// A point of the course.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct CoursePoint {
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
pub struct FilmBody {
    /// The form, by id.
    substance: String,
    /// Released, mg; used up below zero.
    milligrams: f64,
    /// Least, mg.
    low_milligrams: f64,
    /// Most, mg.
    high_milligrams: f64,
    /// Where from.
    source: String,
}

/// What `replenish --json` prints.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReplenishBody {
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
    /// The replenisher.
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
    pub fn new(answer: &Replenishing) -> Self {
        let level =
            |row: &Row, grams_per_litre: f64| Level { substance: row.form.id.clone(), grams_per_litre };
        let tank = &answer.tank;
        let before = |row: &Row| {
            let own = answer.exchange?;
            let both =
                row.substance.settles_with_batches_g_per_l(tank.volume_ml, own.films, own.exchange_ml)?;
            Some(level(row, both.1))
        };
        let point = |own: &Point| CoursePoint {
            films: own.films,
            volume_ml: own.volume_ml,
            concentrations: answer
                .rows
                .iter()
                .zip(&own.g_per_l)
                .map(|(row, grams)| level(row, *grams))
                .collect(),
            ph: own.ph,
        };
        let film = |row: &Row| {
            let own = row.film.as_ref()?;
            Some(FilmBody {
                substance: own.form.id.clone(),
                milligrams: own.mg,
                low_milligrams: own.low_mg,
                high_milligrams: own.high_mg,
                source: own.source.clone(),
            })
        };
        Self {
            formula: answer.formula.id.clone(),
            replenisher_formula: answer.replenisher.as_ref().map(|own| own.id.clone()),
            tank_ml: tank.volume_ml,
            turnover_films: tank.turnover_films(),
            rate_ml: Some(tank.rate_ml),
            rate_basis: match answer.rate_basis {
                Basis::Given => "given",
                Basis::Stated => "stated",
                Basis::WorkedOut => "worked-out",
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

/// Grams per litre as they are read: three figures.
fn grams(value: f64) -> String {
    if value == 0.0 {
        "0".to_owned()
    } else if value >= 100.0 {
        show_short(value, 1)
    } else if value >= 0.1 {
        show_decimals(value, 2)
    } else {
        show_significant(value)
    }
}

fn litres(ml: f64) -> String {
    if ml >= 1000.0 { format!("{} L", show_short(ml / 1000.0, 2)) } else { Volume::from_ml(ml).to_string() }
}

fn millilitres(ml: f64) -> String {
    format!("{} mL", show_short(ml, 1))
}

/// The answer in words.
pub fn replenish_document(answer: &Replenishing) -> Document {
    let tank = &answer.tank;
    let mut document = Document::new();
    document.title(format!("Replenishing: {}", answer.formula.title));
    document.facts(facts(answer));
    document.paragraph(verdict(answer));
    document.table(
        std::iter::once(Column::left("g/L"))
            .chain(shown(answer).iter().map(|point| Column::right(&heading(point.films))))
            .chain([Column::right("settles at"), Column::right("replenisher")])
            .collect(),
        answer
            .rows
            .iter()
            .enumerate()
            .map(|(index, row)| {
                let mut cells = vec![row.form.name.clone()];
                let at =
                    |point: &&Point| point.g_per_l.get(index).map_or_else(String::new, |value| grams(*value));
                cells.extend(shown(answer).iter().map(at));
                cells.push(answer.settles(row).map_or_else(|| "-".to_owned(), grams));
                cells.push(grams(row.substance.replenisher_g_per_l));
                cells
            })
            .chain(ph_row(answer))
            .collect(),
    );
    let mut points = Vec::new();
    for row in &answer.rows {
        if let Some(own) = &row.film {
            let verb = if own.mg >= 0.0 { "gives off" } else { "uses up" };
            points.push(format!("A film {verb} {}: {}.", amount_words(own), own.source));
        }
        let start = row.substance.start_g_per_l;
        if let Some(wanted) = row.held.filter(|wanted| (wanted - start).abs() > 1e-6) {
            let way = if wanted > start { "Add" } else { "Leave out" };
            points.push(format!(
                "{way} {} g of {} a litre of the fresh bath: it is held at {} from the first film then.",
                grams((wanted - start).abs()),
                row.form.name,
                grams(wanted)
            ));
        }
    }
    if answer.rate_basis == Basis::Stated {
        points.extend(answer.formula.replenishment.as_ref().and_then(|own| own.note.clone()));
    }
    if tank.bleed_ml() < -1e-9 {
        points.push(format!(
            "The level falls by {} a film: top up to the mark, or raise the rate.",
            millilitres(-tank.bleed_ml())
        ));
    }
    points.push("True of average negatives; a control strip decides.".to_owned());
    document.list(points);
    document
}

/// The pH under the substances, where any is known.
fn ph_row(answer: &Replenishing) -> Option<Vec<String>> {
    let words = |ph: Option<f64>| ph.map_or_else(|| "-".to_owned(), |ph| show_decimals(ph, 1));
    let points = shown(answer);
    points.iter().any(|point| point.ph.is_some()).then(|| {
        std::iter::once("pH, 20 °C".to_owned())
            .chain(points.iter().map(|point| words(point.ph)))
            .chain([words(answer.ph_steady), words(answer.ph_replenisher)])
            .collect()
    })
}

/// `50 mg of potassium bromide (40 to 60; a source)`.
fn amount_words(own: &Film) -> String {
    let (low, high) = (own.low_mg.abs().min(own.high_mg.abs()), own.low_mg.abs().max(own.high_mg.abs()));
    let range = if high - low > 0.05 { format!(" ({low:.0} to {high:.0})") } else { String::new() };
    format!("{} mg of {}{range}", show_short(own.mg.abs(), 1), own.form.name)
}

fn heading(films: u32) -> String {
    match films {
        0 => "fresh".to_owned(),
        1 => "1 film".to_owned(),
        more => format!("{more} films"),
    }
}

/// The points that are printed: the start, a quarter, half, the end, and where to begin anew.
fn shown(answer: &Replenishing) -> Vec<&Point> {
    let quarter = answer.films / 4;
    let mut wanted = vec![0, quarter, answer.films / 2, answer.films];
    if let Some(anew) = answer.begin_anew() {
        wanted.push(anew);
    }
    if let Some(own) = answer.exchange {
        wanted = vec![
            0,
            own.films,
            2 * own.films,
            3 * own.films,
            answer.course.last().map_or(0, |last| last.films),
        ];
    }
    answer.course.iter().filter(|point| wanted.contains(&point.films)).collect()
}

fn facts(answer: &Replenishing) -> Vec<(String, String)> {
    let tank = &answer.tank;
    let basis = match answer.rate_basis {
        Basis::Given => "",
        Basis::Stated => ", the formula's own",
        Basis::WorkedOut => ", worked out",
    };
    let mut facts = vec![("tank".to_owned(), litres(tank.volume_ml))];
    match answer.exchange {
        Some(own) => facts.push((
            "exchange".to_owned(),
            format!(
                "{} after each {} films ({} a film)",
                millilitres(own.exchange_ml),
                own.films,
                millilitres(tank.rate_ml)
            ),
        )),
        None => facts.push((
            "replenisher".to_owned(),
            format!("{} a film of 516 cm²{basis}", millilitres(tank.rate_ml)),
        )),
    }
    let with =
        answer.replenisher.as_ref().map_or_else(|| "the developer itself".to_owned(), |own| own.id.clone());
    facts.push(("with".to_owned(), with));
    if answer.exchange.is_none() {
        let usual = if answer.carry_out_given { "" } else { ", usual" };
        let mut goes = format!("{} carried out{usual}", millilitres(tank.carry_out_ml));
        if tank.bleed_ml() > 0.05 {
            goes.push_str(&format!(", {} to pour away first", millilitres(tank.bleed_ml())));
        }
        facts.push(("of it".to_owned(), goes));
    }
    facts.push((
        format!("for {} films", answer.films),
        format!("{} of replenisher", litres(tank.rate_ml * f64::from(answer.films))),
    ));
    facts
}

fn verdict(answer: &Replenishing) -> String {
    match answer.begin_anew() {
        Some(films) => format!(
            "Begin anew after {films} films: by then {} of replenisher has gone in, as much as the tank holds (common practice, no source).",
            litres(f64::from(films) * answer.tank.rate_ml)
        ),
        None => "Nothing is put back: the bath is used up.".to_owned(),
    }
}
