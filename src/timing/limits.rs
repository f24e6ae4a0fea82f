//! Limits: what to mind of an answer, each with what to do about it. A warning is told only where it applies.

use std::fmt;

use super::model::{Alternative, Model, Question, is_unread};
use super::product::{Key, Product};
use super::relation::Way;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::quantity::{Duration, Temperature};

/// What to mind.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// No relation is known; a relative by composition stands in.
    Guess {
        /// Developer of the known time.
        from: String,
        /// Developer wanted.
        to: String,
        /// Who was taken for whom.
        taken: Vec<(String, String)>,
    },
    /// Another way between the two developers says something else.
    Disagreement {
        /// The formulas it passes.
        by: String,
        /// Its factor.
        factor: f64,
        /// The factor used.
        used: f64,
    },
    /// A personal formula has the id of a shipped one.
    HidesShipped {
        /// The id.
        id: String,
    },
    /// Hydroquinone is nearly inactive.
    HydroquinoneInactive {
        /// The bath, °C.
        celsius: f64,
        /// The limit, °C.
        limit_celsius: f64,
    },
    /// Hydroquinone loses power.
    HydroquinoneCold {
        /// The bath, °C.
        celsius: f64,
        /// The limit, °C.
        limit_celsius: f64,
    },
    /// Gelatin gets soft.
    GelatinSoft {
        /// The bath, °C.
        celsius: f64,
        /// The limit, °C.
        limit_celsius: f64,
    },
    /// A temperature outside the data behind the coefficient.
    TemperatureExtrapolated {
        /// The temperature, °C.
        celsius: f64,
        /// Range of the data, °C.
        range_celsius: (f64, f64),
        /// Which coefficient.
        of: String,
    },
    /// A dilution outside the data behind the exponent.
    DilutionExtrapolated {
        /// Total over stock.
        ratio: f64,
        /// Range of the data.
        range: (f64, f64),
        /// Which exponent.
        of: String,
    },
    /// A correction over so many degrees is doubtful.
    LargeTemperatureStep {
        /// Degrees.
        degrees: f64,
        /// From where on it is doubtful.
        limit_degrees: f64,
    },
    /// A dilution that the formula does not name.
    UnusualDilution {
        /// The formula.
        formula: String,
        /// The dilution.
        dilution: String,
    },
    /// So short that development is uneven.
    TooShort {
        /// The time.
        time: Duration,
        /// The limit, min.
        limit_minutes: f64,
    },
    /// So long that fog grows and nobody waits.
    TooLong {
        /// The time.
        time: Duration,
        /// The limit, min.
        limit_minutes: f64,
    },
    /// Too little stock for the films.
    TooLittleStock {
        /// Stock in the tank, mL.
        have_ml: f64,
        /// Stock needed, mL.
        need_ml: f64,
        /// Tank that would hold enough at this dilution, mL.
        tank_ml: f64,
    },
    /// It is not known how much stock a film needs.
    StockNotKnown {
        /// The formula.
        formula: String,
    },
    /// The developer costs film speed.
    SpeedLoss {
        /// What is known.
        note: String,
    },
    /// An agitation factor from memory.
    AgitationFromMemory,
    /// The record started from came out thin.
    StartWasThin,
    /// The record started from came out dense.
    StartWasDense,
    /// The record started from was not judged.
    StartNotJudged,
}

impl Warning {
    /// A stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Guess { .. } => "guess",
            Self::Disagreement { .. } => "disagreement",
            Self::HidesShipped { .. } => "hides-shipped",
            Self::HydroquinoneInactive { .. } => "hydroquinone-inactive",
            Self::HydroquinoneCold { .. } => "hydroquinone-cold",
            Self::GelatinSoft { .. } => "gelatin-soft",
            Self::TemperatureExtrapolated { .. } => "temperature-extrapolated",
            Self::DilutionExtrapolated { .. } => "dilution-extrapolated",
            Self::LargeTemperatureStep { .. } => "large-temperature-step",
            Self::UnusualDilution { .. } => "unusual-dilution",
            Self::TooShort { .. } => "too-short",
            Self::TooLong { .. } => "too-long",
            Self::TooLittleStock { .. } => "too-little-stock",
            Self::StockNotKnown { .. } => "stock-not-known",
            Self::SpeedLoss { .. } => "speed-loss",
            Self::AgitationFromMemory => "agitation-from-memory",
            Self::StartWasThin => "start-was-thin",
            Self::StartWasDense => "start-was-dense",
            Self::StartNotJudged => "start-not-judged",
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ml = |value: &f64| format!("{} mL", show_short(*value, 0));
        let celsius = |value: &f64| Temperature::from_c(*value).to_string();
        match self {
            Self::Guess { from, to, taken } => {
                let taken: Vec<String> =
                    taken.iter().map(|(one, other)| format!("{one} is taken for {other}")).collect();
                write!(
                    f,
                    "a guess: no published relation between {from} and {to}; start from the ratio's nearest relative or measure. Here {}, the nearest by composition. Test before any film that matters",
                    taken.join(" and ")
                )
            }
            Self::Disagreement { by, factor, used } => write!(
                f,
                "the relations disagree: by way of {by} the factor would be {}, not {}; test near both",
                show_decimals(*factor, 2),
                show_decimals(*used, 2)
            ),
            Self::HidesShipped { id } => write!(
                f,
                "{id} is your own formula in the place of a shipped one; the shipped relations and coefficients do not apply to it"
            ),
            Self::HydroquinoneInactive { celsius: at, limit_celsius } => write!(
                f,
                "hydroquinone nearly inactive: {} is below {}, the developer works by its other agent alone and no time holds; warm the bath",
                celsius(at),
                celsius(limit_celsius)
            ),
            Self::HydroquinoneCold { celsius: at, limit_celsius } => write!(
                f,
                "cold: {} is below {}, where hydroquinone quickly loses power and times run longer than computed; warm the bath",
                celsius(at),
                celsius(limit_celsius)
            ),
            Self::GelatinSoft { celsius: at, limit_celsius } => write!(
                f,
                "gelatin soft: {} is above {}; handle the film with care, keep all baths and the wash as warm, or harden first",
                celsius(at),
                celsius(limit_celsius)
            ),
            Self::TemperatureExtrapolated { celsius: at, range_celsius: (low, high), of } => write!(
                f,
                "extrapolated: {} is outside {} to {}, the data behind the temperature coefficient ({of}); work nearer to them or test",
                celsius(at),
                celsius(low),
                celsius(high)
            ),
            Self::DilutionExtrapolated { ratio, range: (low, high), of } => write!(
                f,
                "extrapolated: stock in {} times its volume is outside {} to {} times, the data behind the dilution exponent ({of}); test",
                show_short(*ratio, 2),
                show_short(*low, 2),
                show_short(*high, 2)
            ),
            Self::LargeTemperatureStep { degrees, limit_degrees } => write!(
                f,
                "a correction over {} °C is doubtful: published coefficients disagree by a factor of two, and beyond {} °C that shows; work nearer to the known temperature if you can",
                show_short(*degrees, 1),
                show_short(*limit_degrees, 1)
            ),
            Self::UnusualDilution { formula, dilution } => write!(
                f,
                "{dilution} is outside the dilutions that the formula of {formula} names; nothing is known of it there, test"
            ),
            Self::TooShort { time, limit_minutes } => write!(
                f,
                "short: {time} is under {} min, where a small tank develops unevenly; dilute more, work cooler, or wet the film first and agitate at once",
                show_short(*limit_minutes, 0)
            ),
            Self::TooLong { time, limit_minutes } => write!(
                f,
                "long: {time} is over {} min, where fog grows; dilute less or work warmer",
                show_short(*limit_minutes, 0)
            ),
            Self::TooLittleStock { have_ml, need_ml, tank_ml } => write!(
                f,
                "too little stock: the tank holds {} of it and the films need {}; take a tank of {}, fewer films or less water, and do not stretch the time instead",
                ml(have_ml),
                ml(need_ml),
                ml(tank_ml)
            ),
            Self::StockNotKnown { formula } => {
                write!(f, "how much stock a film needs is not known for {formula}; the tank was not checked")
            }
            Self::SpeedLoss { note } => f.write_str(note),
            Self::AgitationFromMemory => f.write_str(
                "no document with agitation factors was found; the one used is from memory, test it",
            ),
            Self::StartWasThin => f.write_str(
                "the record started from came out thin: go longer than this, towards the high end",
            ),
            Self::StartWasDense => f.write_str(
                "the record started from came out dense: go shorter than this, towards the low end",
            ),
            Self::StartNotJudged => {
                f.write_str("the record started from was not judged; it may not have been right")
            }
        }
    }
}

/// Tells other ways that do not agree with the one taken.
pub(super) fn disagreements(way: &Way, alternatives: &[Alternative], warnings: &mut Vec<Warning>) {
    let (ln, down, up) = way.product.ln();
    let (used, low, high) = (ln.exp(), (ln - down).exp(), (ln + up).exp());
    for other in alternatives {
        // They disagree where neither range reaches the other's central value.
        let apart = !(low..=high).contains(&other.factor) && !(other.low..=other.high).contains(&used);
        if apart {
            warnings.push(Warning::Disagreement { by: other.by.clone(), factor: other.factor, used });
        }
    }
}

/// Everything else that applies to an answer.
pub(super) fn collect(
    model: &Model<'_>,
    question: &Question,
    product: &Product,
    time: Duration,
    warnings: &mut Vec<Warning>,
) {
    identity(model, question, warnings);
    temperature(model, question, warnings);
    data_ranges(model, question, product, warnings);
    let limits = &model.table.limits;
    if time.as_min() < limits.shortest_minutes
        && question.to.developer.kind == crate::formula::Kind::FilmDeveloper
    {
        warnings.push(Warning::TooShort { time, limit_minutes: limits.shortest_minutes });
    }
    if time.as_min() > limits.longest_minutes {
        warnings.push(Warning::TooLong { time, limit_minutes: limits.longest_minutes });
    }
    stock(question, warnings);
    let agitates = product
        .terms()
        .any(|(key, term)| matches!(key, Key::Agitation(_)) && is_unread(term.per_unit.support));
    if agitates {
        warnings.push(Warning::AgitationFromMemory);
    }
}

fn identity(model: &Model<'_>, question: &Question, warnings: &mut Vec<Warning>) {
    let (from, to) = (&question.from.developer, &question.to.developer);
    let mut told: Vec<&str> = Vec::new();
    for developer in [from, to] {
        let hides = !developer.is_shipped && model.table.names_formula(&developer.id);
        if hides && !told.contains(&developer.id.as_str()) {
            told.push(&developer.id);
            warnings.push(Warning::HidesShipped { id: developer.id.clone() });
        }
    }
    if from != to
        && let Some(note) = model.table.speed_loss(to)
    {
        warnings.push(Warning::SpeedLoss { note: format!("{}: {note}", to.id) });
    }
}

fn temperature(model: &Model<'_>, question: &Question, warnings: &mut Vec<Warning>) {
    let limits = &model.table.limits;
    let celsius = question.to.temperature.as_c();
    if question.to.developer.has_hydroquinone() {
        if celsius < limits.hydroquinone_inactive_celsius {
            let limit_celsius = limits.hydroquinone_inactive_celsius;
            warnings.push(Warning::HydroquinoneInactive { celsius, limit_celsius });
        } else if celsius < limits.hydroquinone_cold_celsius {
            warnings
                .push(Warning::HydroquinoneCold { celsius, limit_celsius: limits.hydroquinone_cold_celsius });
        }
    }
    if celsius > limits.gelatin_soft_celsius {
        warnings.push(Warning::GelatinSoft { celsius, limit_celsius: limits.gelatin_soft_celsius });
    }
}

/// Temperatures and dilutions outside the data behind the figures used.
fn data_ranges(model: &Model<'_>, question: &Question, product: &Product, warnings: &mut Vec<Warning>) {
    let mut by_books = false;
    for (key, term) in product.terms() {
        match key {
            Key::Temperature(of) => {
                by_books |= term.scatter.is_some();
                for at in outside(&term.steps, term.data) {
                    let range_celsius = term.data.unwrap_or((at, at));
                    warnings.push(Warning::TemperatureExtrapolated {
                        celsius: at,
                        range_celsius,
                        of: of.clone(),
                    });
                }
            }
            Key::Dilution(of) => {
                for at in outside(&term.steps, term.data) {
                    let range = term.data.unwrap_or((at, at));
                    warnings.push(Warning::DilutionExtrapolated { ratio: at, range, of: of.clone() });
                }
            }
            _ => {}
        }
    }
    let limit_degrees = model.table.limits.doubtful_degrees;
    let degrees = (question.to.temperature.as_c() - question.from.temperature.as_c()).abs();
    if by_books && degrees > limit_degrees + 1e-6 {
        warnings.push(Warning::LargeTemperatureStep { degrees, limit_degrees });
    }
    let to = &question.to;
    let ratio = to.working.ratio();
    let unusual =
        to.developer.named_ratios().is_some_and(|(low, high)| ratio > high * 1.001 || ratio < low * 0.999);
    if unusual {
        let (formula, dilution) = (to.developer.id.clone(), to.working.to_string());
        warnings.push(Warning::UnusualDilution { formula, dilution });
    }
}

/// Ends of steps that lie outside a range, each once.
fn outside(steps: &[(f64, f64)], range: Option<(f64, f64)>) -> Vec<f64> {
    let Some((low, high)) = range else { return Vec::new() };
    let mut found: Vec<f64> = Vec::new();
    for at in steps.iter().flat_map(|(start, end)| [*start, *end]) {
        let is_outside = at < low - 0.05 || at > high + 0.05;
        if is_outside && !found.iter().any(|known| (known - at).abs() < 1e-6) {
            found.push(at);
        }
    }
    found
}

fn stock(question: &Question, warnings: &mut Vec<Warning>) {
    let Some(tank) = question.tank else { return };
    let to = &question.to;
    let Some(least) = to.developer.stock_ml_per_roll else {
        warnings.push(Warning::StockNotKnown { formula: to.developer.id.clone() });
        return;
    };
    let ratio = to.working.ratio();
    let (have_ml, need_ml) = (tank.volume_ml / ratio, least * tank.rolls);
    if have_ml < need_ml * (1.0 - 1e-9) {
        warnings.push(Warning::TooLittleStock { have_ml, need_ml, tank_ml: need_ml * ratio });
    }
}
