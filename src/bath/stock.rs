//! Whether the stock in a tank is enough for the films: one judgement for the card, `dilute` and `time`.

use super::life::{Basis, Life};
use super::rules::{ClassRules, Span};
use crate::formula::{Bath, Formula, Kind, Part};
use crate::quantity::Films;
use crate::substance::Role;

/// What the stock in the tank is for the films.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum StockGrade {
    /// As much as the figure asks.
    Enough,
    /// Less than that, and still what the class goes with: somewhat longer.
    Short,
    /// Less than goes.
    TooLittle,
    /// Nobody says how much is needed.
    NotKnown,
}

/// The judgement with its figures.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct StockCheck {
    pub films: Films,
    pub grade: StockGrade,
    /// Stock in the tank, mL; of a class that counts the mixture, all of it.
    pub have_ml: f64,
    /// What the figure asks, mL.
    pub need_ml: Option<f64>,
    /// What the class goes with at least, mL.
    pub least_ml: Option<f64>,
    /// Where the figure comes from.
    pub basis: Basis,
    /// The source, of the file or of the rule.
    pub source: Option<String>,
    /// The class in words, where its rule decides.
    pub class: Option<String>,
    /// How much longer where it is short, percent.
    pub longer_percent: Option<Span>,
    /// Working solution that would hold enough at this dilution, mL.
    pub would_do_ml: Option<f64>,
    /// Stock that would be enough in the same tank undiluted, mL; none where it is undiluted already or would not fit.
    pub undiluted_ml: Option<f64>,
    /// Grams of all agents for one film in the working bath.
    pub agent_g_per_film: Option<f64>,
    /// Grams of all agents in the tank.
    pub agent_g: Option<f64>,
    /// Limits of that: doubtful, too little.
    pub agent_limits_g: (f64, f64),
}

/// Judges a tank of working solution: `shares_ml` of each part in the order of the formula, and all of it.
pub(crate) fn check(
    formula: &Formula,
    films: &Films,
    shares_ml: &[f64],
    total_ml: f64,
    rules: &ClassRules,
) -> StockCheck {
    let life = Life::of(formula, rules);
    let stock_ml: f64 = if formula.parts.len() > 1 && life.stock.stated_ml.is_none() {
        shares_ml.first().copied().unwrap_or(0.0)
    } else {
        shares_ml.iter().sum()
    };
    let of_mixture = life.stock.is_of_the_mixture && life.stock.stated_ml.is_none();
    let have_ml = if of_mixture { total_ml } else { stock_ml };
    let planned = life.stock.planned_ml();
    let basis = planned.map_or(Basis::NotKnown, |(_, basis)| basis);
    // A figure per roll is counted by rolls, a rule by area.
    let stated_count = films.trade();
    let count = if basis == Basis::Stated { stated_count } else { films.units() };
    let need_ml = planned.map(|(one, _)| one * count);
    let least_ml = life.stock.least_ml().map(|one| one * count);
    let enough = 1.0 - 1e-9;
    let grade = match (need_ml, least_ml) {
        (Some(need), _) if have_ml >= need * enough => StockGrade::Enough,
        (Some(_), Some(least)) if have_ml >= least * enough => StockGrade::Short,
        (Some(_), _) => StockGrade::TooLittle,
        (None, _) => StockGrade::NotKnown,
    };
    let share = have_ml / total_ml;
    let goes_undiluted = formula
        .uses
        .iter()
        .any(|listed_use| listed_use.baths.iter().all(|bath| bath.water <= 0.0 && bath.shares.len() == 1));
    let is_diluted = share < 0.999 && formula.parts.len() < 2 && goes_undiluted;
    let agent_g = shares_ml
        .iter()
        .zip(&formula.parts)
        .map(|(ml, part)| Some(agents_g_per_litre(part)? * ml / 1000.0))
        .sum::<Option<f64>>()
        .filter(|grams| *grams > 0.0);
    StockCheck {
        films: films.clone(),
        grade,
        have_ml,
        need_ml,
        least_ml,
        basis,
        source: match basis {
            Basis::Stated => formula.capacity.source.clone(),
            _ => life.rule_source.map(str::to_owned),
        },
        class: life.class.clone().filter(|_| basis == Basis::Rule),
        longer_percent: life.growth.map(|growth| growth.percent),
        would_do_ml: need_ml.filter(|_| share > 0.0).map(|need| need / share),
        undiluted_ml: need_ml.filter(|need| is_diluted && *need <= total_ml * (1.0 + 1e-9)),
        agent_g_per_film: agent_g.map(|grams| grams / films.units()),
        agent_g,
        agent_limits_g: rules.tests.agent_g_per_film,
    }
}

/// Working solution that one film needs at a dilution.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PerFilm {
    /// The dilution in words: `1 stock + 1 water`.
    pub bath: String,
    /// As the formula or the safe figure of its class asks, mL.
    pub ml: f64,
    /// What the class goes with at least, with more time, mL; none where that is no less.
    pub least_ml: Option<f64>,
    /// Where it comes from.
    pub basis: Basis,
}

/// For each diluted use of a film developer the working solution that one film needs: the stock for a film, as [`check`] asks for it.
pub(crate) fn per_film(formula: &Formula, rules: &ClassRules) -> Vec<PerFilm> {
    let life = Life::of(formula, rules);
    let Some((stock_ml, basis)) = life.stock.planned_ml().filter(|_| formula.kind == Kind::FilmDeveloper)
    else {
        return Vec::new();
    };
    let is_stated = life.stock.stated_ml.is_some();
    let of_mixture = life.stock.is_of_the_mixture && !is_stated;
    let mut told: Vec<PerFilm> = Vec::new();
    for bath in
        formula.uses.iter().filter_map(|listed_use| <&[Bath; 1]>::try_from(listed_use.baths.as_slice()).ok())
    {
        let [bath] = bath;
        let stock: f64 = if formula.parts.len() > 1 && !is_stated {
            let first = formula.parts.first().map(Part::share_name).unwrap_or_default();
            bath.shares.iter().find(|(name, _)| name == first).map_or(0.0, |(_, share)| *share)
        } else {
            bath.shares.iter().map(|(_, share)| share).sum()
        };
        let share = if of_mixture { 1.0 } else { stock / bath.total() };
        let words = bath.to_string();
        if bath.water > 0.0 && share > 0.0 && !told.iter().any(|own| own.bath == words) {
            let ml = stock_ml / share;
            let least_ml =
                life.stock.least_ml().map(|least| least / share).filter(|least| *least < ml * 0.99);
            told.push(PerFilm { bath: words, ml, least_ml, basis });
        }
    }
    told
}

/// Grams of all developing agents in a litre of a part; none where one has no grams.
fn agents_g_per_litre(part: &Part) -> Option<f64> {
    // Ascorbate and the like are told as agents by their first role.
    let agents = part
        .ingredients
        .iter()
        .filter(|ingredient| ingredient.form.parent.roles.first() == Some(&Role::DevelopingAgent));
    agents.map(crate::formula::Ingredient::grams_per_litre).sum()
}
