//! The one substance that is drawn over films, with what its plot and its plate tell.

use super::words::amount_words;
use crate::bath::course::{Replenishing, TankPoint, TankSubstance};
use crate::quantity::rounding::show_short;

/// A level at which a substance settles is drawn up to so many times what its curve reaches.
const MOST_ABOVE: f64 = 2.0;

/// One substance drawn over films.
pub(super) struct Plotted {
    /// Its place among the rows.
    pub(super) index: usize,
    pub(super) name: String,
    /// Films and g/L.
    pub(super) curve: Vec<(f64, f64)>,
    /// The curve for the least and for the most that a film gives off or uses up.
    pub(super) low: Vec<(f64, f64)>,
    pub(super) high: Vec<(f64, f64)>,
    /// What a film gives off on each of the three, in words.
    pub(super) curve_words: String,
    pub(super) low_words: String,
    pub(super) high_words: String,
    /// Points with their figures: half way to where to begin anew, there, the end.
    pub(super) points: Vec<(f64, f64)>,
    pub(super) settles: Option<f64>,
    pub(super) begin_anew: Option<u32>,
    pub(super) replenisher_g_per_l: f64,
    /// Ends of the axes.
    pub(super) films: f64,
    pub(super) top: f64,
    /// What a film does, as a sentence.
    pub(super) film_words: Option<String>,
}

/// The substance to draw: the bromide, else what is held, else what films change.
pub(super) fn plotted(answer: &Replenishing) -> Option<Plotted> {
    let of = |test: &dyn Fn(&TankSubstance) -> bool| answer.rows.iter().position(test);
    let index = of(&|row| row.form.parent.id == "potassium-bromide" && row.substance.released_mg > 0.0)
        .or_else(|| of(&|row| row.held.is_some()))
        .or_else(|| of(&|row| row.film.is_some()))?;
    let row = answer.rows.get(index)?;
    let at = |point: &TankPoint| Some((f64::from(point.films), *point.g_per_l.get(index)?));
    let curve: Vec<(f64, f64)> = answer.course.iter().filter_map(at).collect();
    let other = |mg: Option<f64>| -> Vec<(f64, f64)> {
        let Some(mg) = mg.filter(|mg| (mg - row.substance.released_mg).abs() > 1e-9) else {
            return Vec::new();
        };
        let mut other = answer.clone();
        let scale = mg / row.substance.released_mg;
        if let Some(row) = other.rows.get_mut(index) {
            row.substance.released_mg *= scale;
        }
        other.points().unwrap_or_default().iter().filter_map(at).collect()
    };
    let (low, high) = match &row.film {
        Some(film) if film.mg.abs() > 1e-9 => {
            let share = row.substance.released_mg / film.mg;
            (other(Some(film.low_mg * share)), other(Some(film.high_mg * share)))
        }
        _ => (Vec::new(), Vec::new()),
    };
    let begin_anew = answer.begin_anew().filter(|anew| *anew <= answer.films);
    let half = begin_anew.unwrap_or(answer.films) / 2;
    let told = [Some(half), begin_anew, Some(answer.films)];
    let points = told.into_iter().flatten().filter(|films| *films > 0).filter_map(|films| {
        let point = answer.course.iter().find(|point| point.films >= films)?;
        at(point)
    });
    let points: Vec<(f64, f64)> = points.collect();
    let settles = answer.settles(row);
    let drawn = curve.iter().chain(&low).chain(&high).map(|(_, grams)| *grams).fold(0.0, f64::max);
    // A level that lies far above what the films asked for reach would press them flat.
    let highest = settles.filter(|settles| *settles < MOST_ABOVE * drawn).map_or(drawn, |own| drawn.max(own));
    let words = |mg: Option<f64>| mg.map_or_else(String::new, |mg| format!("{} mg", show_short(mg.abs(), 1)));
    let film = row.film.as_ref();
    Some(Plotted {
        index,
        name: row.form.name.clone(),
        low_words: words(film.map(|film| film.low_mg)),
        high_words: words(film.map(|film| film.high_mg)),
        curve_words: words(film.map(|film| film.mg)),
        curve,
        low,
        high,
        points,
        settles,
        begin_anew,
        replenisher_g_per_l: row.substance.replenisher_g_per_l,
        films: f64::from(answer.films.max(1)),
        top: if highest > 0.0 { highest * 1.12 } else { 1.0 },
        film_words: film.map(|film| {
            let verb = if film.mg >= 0.0 { "gives off" } else { "uses up" };
            format!("A film {verb} {} when negatives are average; ", amount_words(film))
        }),
    })
}
