//! What timing needs to know of a developer: its agents, its kind, how it is used, and whether it is timed at all.

use std::collections::BTreeSet;

use super::TimingError;
use super::dilution::Working;
use super::table::TimingTable;
use crate::formula::{Formula, Kind, Use};
use crate::quantity::MixRatio;

/// A way of using a developer.
#[derive(Debug, Clone, PartialEq)]
struct Usage {
    name: String,
    working: Working,
    minutes: Option<(f64, f64)>,
    celsius: Option<f64>,
    source: Option<String>,
}

/// The time that a formula's own card gives for a use.
#[derive(Debug, Clone, PartialEq)]
pub struct CardTime {
    /// Name of the use.
    pub name: String,
    /// The working solution.
    pub working: Working,
    /// Shortest and longest, minutes.
    pub minutes: (f64, f64),
    /// Temperature of those minutes, where it is said, °C.
    pub celsius: Option<f64>,
    /// Where they come from.
    pub source: Option<String>,
}

/// A developer as timing sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Developer {
    /// Id of the formula.
    pub id: String,
    /// Film or paper developer, or what else it is.
    pub kind: Kind,
    /// Developing agents under their timing names.
    pub agents: BTreeSet<String>,
    /// Everything it is made of, by parent substance.
    pub substances: BTreeSet<String>,
    /// Whether it is the shipped formula, so that shipped relations and coefficients by id hold for it.
    pub is_shipped: bool,
    /// Least stock for one roll, mL.
    pub stock_ml_per_roll: Option<f64>,
    parts: usize,
    usages: Vec<Usage>,
    uses_two_baths: bool,
}

impl Developer {
    /// Looks at a formula; `is_shipped` is false for a personal formula, also one that hides a shipped id.
    pub fn of(formula: &Formula, is_shipped: bool, table: &TimingTable) -> Self {
        let substances: BTreeSet<String> =
            formula.ingredients().map(|ingredient| ingredient.form.parent.id.clone()).collect();
        let agents = table.agents_among(&substances);
        let parts = formula.parts.len().max(1);
        let usages: Vec<Usage> = formula.uses.iter().filter_map(|one| usage(formula, one)).collect();
        Self {
            id: formula.id.clone(),
            kind: formula.kind,
            agents,
            substances,
            is_shipped,
            stock_ml_per_roll: formula.capacity.stock_ml_per_roll.or_else(|| {
                formula.capacity.area_cm2_per_litre.map(|area| 1000.0 * table.limits.roll_cm2 / area)
            }),
            parts,
            uses_two_baths: usages.is_empty() && formula.uses.iter().any(|one| one.baths.len() > 1),
            usages,
        }
    }

    /// The working solution meant by a typed ratio, or the usual one where none was typed.
    ///
    /// # Errors
    /// `stock` where it means nothing, a ratio with the wrong number of figures, or no single usual dilution.
    pub fn working(&self, typed: Option<&MixRatio>) -> Result<Working, TimingError> {
        let Some(typed) = typed else { return self.usual() };
        let figures = typed.parts();
        if figures.len() == 1 {
            return self.undiluted().ok_or_else(|| TimingError::StockMeansNothing {
                formula: self.id.clone(),
                known: self.known_dilutions(),
            });
        }
        let text = || {
            figures
                .iter()
                .map(|part| crate::quantity::rounding::show_short(*part, 3))
                .collect::<Vec<_>>()
                .join("+")
        };
        let wrong = || TimingError::WrongParts {
            formula: self.id.clone(),
            text: text(),
            given: figures.len(),
            needed: if self.parts == 1 {
                "two figures, stock and water, such as 1+3".to_owned()
            } else {
                format!("{} figures, its parts in their order and then water", self.parts + 1)
            },
        };
        let (shares, water) = match figures.split_last() {
            Some((water, shares)) if shares.len() == self.parts => (shares.to_vec(), *water),
            _ if self.parts > 1 && figures.len() == self.parts => (figures.to_vec(), 0.0),
            _ => return Err(wrong()),
        };
        if self.parts == 1 && water == 0.0 {
            return self.undiluted().ok_or_else(|| TimingError::StockMeansNothing {
                formula: self.id.clone(),
                known: self.known_dilutions(),
            });
        }
        Working::new(shares, water).ok_or_else(wrong)
    }

    /// Undiluted where that is a way of using it, else its only dilution.
    fn usual(&self) -> Result<Working, TimingError> {
        if let Some(undiluted) = self.undiluted() {
            return Ok(undiluted);
        }
        let mut distinct: Vec<&Working> = Vec::new();
        for usage in &self.usages {
            if !distinct.contains(&&usage.working) {
                distinct.push(&usage.working);
            }
        }
        match distinct.as_slice() {
            [only] => Ok((*only).clone()),
            _ => Err(TimingError::DilutionNeeded { formula: self.id.clone(), known: self.known_dilutions() }),
        }
    }

    /// The solution without water, where the formula is used so or says nothing of its use.
    pub fn undiluted(&self) -> Option<Working> {
        if self.usages.is_empty() && self.parts == 1 && !self.uses_two_baths {
            return Some(Working::stock());
        }
        self.usages.iter().map(|usage| &usage.working).find(|working| working.ratio() <= 1.0).cloned()
    }

    /// Undiluted, else the strongest of its uses.
    pub(super) fn plainest(&self) -> Option<Working> {
        let strongest = || {
            let by_ratio =
                |one: &&Usage, other: &&Usage| one.working.ratio().total_cmp(&other.working.ratio());
            self.usages.iter().min_by(by_ratio).map(|usage| usage.working.clone())
        };
        self.undiluted().or_else(strongest)
    }

    /// The time on its own card for a working solution: of a use at that dilution, else of one with the same parts.
    pub fn card_time(&self, working: &Working) -> Option<CardTime> {
        let timed = || {
            self.usages.iter().filter_map(|usage| {
                let (low, high) = usage.minutes.filter(|(low, high)| *low > 0.0 && low <= high)?;
                Some(CardTime {
                    name: usage.name.clone(),
                    working: usage.working.clone(),
                    minutes: (low, high),
                    celsius: usage.celsius,
                    source: usage.source.clone(),
                })
            })
        };
        timed()
            .find(|card| card.working.same_as(working))
            .or_else(|| timed().find(|card| card.working.same_proportions(working)))
    }

    /// Whether a working solution of it is for paper: a paper developer, or a use that says so.
    pub fn is_for_paper(&self, working: &Working) -> bool {
        self.kind == Kind::PaperDeveloper || self.every_use_says(working, &["paper", "print"])
    }

    /// Whether a working solution of it is for film in a dish: every use at that dilution says so.
    pub fn is_for_dish(&self, working: &Working) -> bool {
        self.every_use_says(working, &["dish", "tray"])
    }

    /// Whether there is a use at that dilution and each holds one of some words in its name.
    fn every_use_says(&self, working: &Working, words: &[&str]) -> bool {
        let says = |usage: &Usage| words.iter().any(|word| usage.name.to_lowercase().contains(word));
        let mut same = self.usages.iter().filter(|usage| usage.working.same_as(working)).peekable();
        same.peek().is_some() && same.all(says)
    }

    /// The dilutions its formula names, for messages.
    fn known_dilutions(&self) -> String {
        let mut known: Vec<String> = Vec::new();
        for usage in &self.usages {
            let text = usage.working.to_string();
            if !known.contains(&text) {
                known.push(text);
            }
        }
        if known.is_empty() {
            "in parts whose proportions it does not say".to_owned()
        } else {
            known.join(", ")
        }
    }

    /// Smallest and largest dilution its formula names.
    pub fn named_ratios(&self) -> Option<(f64, f64)> {
        let ratios = self.usages.iter().map(|usage| usage.working.ratio());
        ratios.fold(None, |range, ratio| match range {
            None => Some((ratio, ratio)),
            Some((low, high)) => Some((f64::min(low, ratio), f64::max(high, ratio))),
        })
    }

    /// Refuses a developer, or a use of it, whose result one time does not set.
    ///
    /// # Errors
    /// No developer, two baths, or a kind that goes by something else than time.
    pub fn must_be_timed(&self, working: &Working, table: &TimingTable) -> Result<(), TimingError> {
        let formula = self.id.clone();
        if !matches!(self.kind, Kind::FilmDeveloper | Kind::PaperDeveloper) {
            return Err(TimingError::NotADeveloper { formula, kind: self.kind.words() });
        }
        if let Some(refused) =
            table.refused.iter().find(|refused| refused.composition.fits(&self.agents, &self.substances))
        {
            return Err(TimingError::NotByTime {
                formula,
                kind: refused.name.clone(),
                reason: refused.reason.clone(),
            });
        }
        if self.agents.is_empty() {
            let kind = "developer without a developing agent that timing knows".to_owned();
            let reason = "no law or factor is known for it".to_owned();
            return Err(TimingError::NotByTime { formula, kind, reason });
        }
        if self.uses_two_baths {
            return Err(TimingError::TwoBath { formula });
        }
        let mut same = self.usages.iter().filter(|usage| usage.working.same_as(working)).peekable();
        if same.peek().is_some() && same.all(|usage| usage.name.to_lowercase().contains("stand")) {
            let stand = table.agitation_refused("stand");
            return Err(TimingError::AgitationRefused {
                words: format!("`{formula}` {working}, which is used for stand development"),
                reason: stand.unwrap_or_default().to_owned(),
            });
        }
        Ok(())
    }

    /// Refuses a film developer against a paper developer.
    ///
    /// # Errors
    /// The two are not of one kind.
    pub fn must_be_of_the_kind_of(&self, other: &Self) -> Result<(), TimingError> {
        if self.kind == other.kind {
            return Ok(());
        }
        let (film, paper) = if self.kind == Kind::FilmDeveloper { (self, other) } else { (other, self) };
        Err(TimingError::FilmAgainstPaper { film: film.id.clone(), paper: paper.id.clone() })
    }

    /// Whether hydroquinone is among its agents.
    pub fn has_hydroquinone(&self) -> bool {
        self.agents.contains("hydroquinone")
    }
}

/// A one-bath use as a working solution.
fn usage(formula: &Formula, one: &Use) -> Option<Usage> {
    let [bath] = one.baths.as_slice() else { return None };
    let shares: Vec<f64> = if let [_] = formula.parts.as_slice() {
        vec![bath.shares.iter().map(|(_, share)| share).sum()]
    } else {
        let share_of = |name: &Option<String>| {
            bath.shares.iter().find(|(own, _)| Some(own) == name.as_ref()).map_or(0.0, |(_, share)| *share)
        };
        formula.parts.iter().map(|part| share_of(&part.name)).collect()
    };
    // Undiluted is undiluted, whatever figure stands for it.
    let (shares, water) =
        if shares.len() == 1 && bath.water == 0.0 { (vec![1.0], 0.0) } else { (shares, bath.water) };
    Some(Usage {
        name: one.name.clone(),
        working: Working::new(shares, water)?,
        minutes: one.minutes,
        celsius: one.temperature_c,
        source: one.source.clone(),
    })
}
