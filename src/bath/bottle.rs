//! The bottles that stand, from the journal; and what is to be done with each.

mod judgement;

use super::life::Life;
use super::rules::Span;
use crate::journal::{Date, Entry, Journal, Mixed};
use crate::quantity::{MixRatio, UNIT_CM2};
use judgement::HALF;
pub(crate) use judgement::{BottleJudgement, BottleState, FilmsLeft, GoodTo, Out, judge};
use std::collections::HashMap;

/// What the journal says of one bottle in its present life.
#[derive(Debug, Clone, PartialEq)]
pub struct Bottle {
    /// As the label calls it; the journal knows a bottle by nothing else.
    pub name: String,
    /// Id of what is in it.
    pub formula: Option<String>,
    /// None for a formula in one part, or where the journal does not say.
    pub part: Option<String>,
    /// Its dilution in the bottle; none for as mixed.
    pub dilution: Option<MixRatio>,
    /// When it was filled.
    pub mixed_on: Date,
    /// Filled, mL.
    pub filled_ml: Option<f64>,
    /// Left in it, mL, as far as what was drawn and returned is known.
    pub left_ml: Option<f64>,
    /// Films through it and back, by the trade's count.
    pub films: f64,
    /// The same by area, cm².
    pub area_cm2: f64,
    /// Paper through it, cm²; never added to film.
    pub paper_cm2: f64,
    /// Replenisher poured in, mL.
    pub replenished_ml: f64,
    /// First film through it.
    pub first_used: Option<Date>,
    /// Day since which it has been half full or less.
    pub half_since: Option<Date>,
    /// Clearing times measured: day, seconds, films through it then.
    pub clearings: Vec<(Date, f64, f64)>,
    /// Last pH measured.
    pub ph: Option<f64>,
    /// Last silver measured, g/L.
    pub silver_g_per_litre: Option<f64>,
}

/// All bottles that stand on a day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bottles {
    /// In the order of their first filling.
    pub bottles: Vec<Bottle>,
}

impl Bottles {
    /// The bottles that stand at the end of a day.
    ///
    /// Entries are taken by day, those of one day in the order of the file. A name filled again begins a new life.
    pub fn standing(journal: &Journal, on: Date) -> Self {
        let mut entries: Vec<&Entry> =
            journal.entries.iter().filter(|entry| concerns_bottles(entry) && entry.date() <= on).collect();
        entries.sort_by_key(|entry| entry.date());
        let mut all: Vec<Option<Bottle>> = Vec::new();
        let mut places: HashMap<&str, usize> = HashMap::new();
        for entry in entries {
            if let Entry::Mixed(mixed) = entry {
                for (index, filled) in mixed.filled.iter().enumerate() {
                    if let Some(bottle) = Bottle::filled(mixed, index) {
                        if let Some(old) = places.insert(&filled.bottle, all.len())
                            && let Some(place) = all.get_mut(old)
                        {
                            *place = None;
                        }
                        all.push(Some(bottle));
                    }
                }
                continue;
            }
            let mut at = |name: &str, tell: &mut dyn FnMut(&mut Option<Bottle>)| {
                if let Some(place) = places.get(name).and_then(|&index| all.get_mut(index)) {
                    tell(place);
                }
            };
            match entry {
                Entry::Developed(developed) => {
                    for draw in &developed.draws {
                        at(&draw.bottle, &mut |place| {
                            if let Some(bottle) = place {
                                bottle.develop(developed, draw);
                            }
                        });
                    }
                }
                Entry::Printed(printed) => {
                    for name in &printed.bottles {
                        at(name, &mut |place| {
                            if let Some(bottle) = place {
                                bottle.paper_cm2 += printed.sheets.area_cm2();
                                bottle.first_used.get_or_insert(printed.date);
                            }
                        });
                    }
                }
                Entry::Replenished(replenished) => {
                    let poured = replenished.volume_ml.unwrap_or(0.0);
                    at(&replenished.bottle, &mut |place| {
                        if let Some(bottle) = place {
                            bottle.replenished_ml += poured;
                            bottle.left_ml = bottle.left_ml.map(|left| left + poured);
                        }
                    });
                    if let Some(from) = &replenished.from {
                        at(from, &mut |place| {
                            if let Some(bottle) = place {
                                bottle.take(poured, replenished.date);
                            }
                        });
                    }
                }
                Entry::Measured(measured) => at(&measured.subject, &mut |place| {
                    if let Some(bottle) = place {
                        match measured.quantity.as_str() {
                            "pH" => bottle.ph = Some(measured.value),
                            "silver" => bottle.silver_g_per_litre = Some(measured.value),
                            "clearing" => {
                                bottle.clearings.push((measured.date, measured.value, bottle.films));
                            }
                            _ => {}
                        }
                    }
                }),
                Entry::Count(count) => at(&count.bottle, &mut |place| {
                    if let Some(bottle) = place {
                        bottle.films = count.films;
                        bottle.area_cm2 = count.films * UNIT_CM2;
                        if count.films > 0.0 {
                            bottle.first_used.get_or_insert(count.date);
                        }
                    }
                }),
                Entry::Discarded(discarded) => {
                    for name in &discarded.bottles {
                        at(name, &mut |place| *place = None);
                    }
                }
                _ => {}
            }
        }
        Self { bottles: all.into_iter().flatten().collect() }
    }

    /// The bottles of a name: itself, or its parts `NAME A`, `NAME B`.
    pub fn named<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Bottle> {
        self.bottles.iter().filter(move |bottle| bottle.is_named(name))
    }
}

fn concerns_bottles(entry: &Entry) -> bool {
    match entry {
        Entry::Mixed(mixed) => !mixed.filled.is_empty(),
        Entry::Developed(developed) => !developed.draws.is_empty(),
        Entry::Printed(printed) => !printed.bottles.is_empty(),
        Entry::Replenished(_) | Entry::Measured(_) | Entry::Count(_) | Entry::Discarded(_) => true,
        Entry::Judged(_) | Entry::Curve(_) => false,
    }
}

impl Bottle {
    fn filled(mixed: &Mixed, index: usize) -> Option<Self> {
        let filling = mixed.filled.get(index)?;
        Some(Self {
            name: filling.bottle.clone(),
            formula: mixed.formula.clone(),
            part: filling.part.clone(),
            dilution: mixed.dilution.clone(),
            mixed_on: mixed.date,
            filled_ml: filling.volume_ml,
            left_ml: filling.volume_ml,
            films: 0.0,
            area_cm2: 0.0,
            paper_cm2: 0.0,
            replenished_ml: 0.0,
            first_used: None,
            half_since: None,
            clearings: Vec::new(),
            ph: None,
            silver_g_per_litre: None,
        })
    }

    /// Whether it goes by this name, by itself or as a part.
    pub fn is_named(&self, name: &str) -> bool {
        self.name == name
            || self.part.as_ref().is_some_and(|part| {
                self.name.strip_suffix(part.as_str()).and_then(|head| head.strip_suffix(' ')) == Some(name)
            })
    }

    fn take(&mut self, ml: f64, on: Date) {
        self.left_ml = self.left_ml.map(|left| (left - ml).max(0.0));
        if let (Some(left), Some(filled)) = (self.left_ml, self.filled_ml)
            && left <= filled * HALF
        {
            self.half_since.get_or_insert(on);
        }
    }

    fn develop(&mut self, developed: &crate::journal::Developed, draw: &crate::journal::Draw) {
        let returned = draw.returned_ml.unwrap_or(0.0);
        if let Some(drawn) = draw.drawn_ml {
            self.take((drawn - returned).max(0.0), developed.date);
        }
        // What was thrown away left nothing behind in the bottle.
        if draw.returned_ml.is_some_and(|back| back <= 0.0) {
            return;
        }
        self.first_used.get_or_insert(developed.date);
        if let Some(films) = &developed.films {
            self.films += films.trade();
            self.area_cm2 += films.area_cm2();
        } else {
            // A development without a number of films is one film.
            self.films += 1.0;
            self.area_cm2 += UNIT_CM2;
        }
    }

    /// Whether anything went through it.
    pub fn is_used(&self) -> bool {
        self.first_used.is_some()
    }

    /// The volume that shares the films: what was filled, mL.
    pub fn litres(&self) -> Option<f64> {
        self.filled_ml.map(|ml| ml / 1000.0).filter(|litres| *litres > 0.0)
    }

    /// By how much longer the next film takes in it, where the class has a rule; 1 for a fresh bottle or a one-shot.
    pub fn next_time(&self, life: &Life<'_>) -> Option<Span> {
        // A replenished bath is kept where it is.
        if self.replenished_ml > 0.0 {
            return None;
        }
        Some(life.growth?.factor(self.films, self.litres()?))
    }
}
