//! Limits: what to mind of an answer, each with what to do about it. A warning is told only where it applies.

use std::fmt;

use super::agitation::USUAL_FOR_PAPER;
use super::model::{Model, is_unread};
use super::product::{Key, Product};
use super::setup::{Alternative, Setup, TimeQuestion};
use crate::journal::Shadows;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::quantity::{Duration, Temperature};

/// What to mind.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum TimingWarning {
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
        /// That the other way gives.
        factor: f64,
        /// The factor used.
        used: f64,
    },
    /// A personal formula has the id of a shipped one.
    HidesShipped {
        /// That both have.
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
        /// Between the known and the wanted temperature, °C.
        degrees: f64,
        /// From where on it is doubtful.
        limit_degrees: f64,
    },
    /// A dilution that the formula does not name.
    UnusualDilution {
        /// Its id.
        formula: String,
        /// As typed.
        dilution: String,
    },
    /// So short that development is uneven.
    TooShort {
        /// That came out.
        time: Duration,
        /// The limit, min.
        limit_minutes: f64,
    },
    /// So long that fog grows and nobody waits.
    TooLong {
        /// That came out.
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
        /// Its id.
        formula: String,
    },
    /// The developer may give another film speed than the known one.
    Speed {
        /// The developer.
        formula: String,
        /// Lowest and highest difference, stops.
        stops: (f64, f64),
    },
    /// Film speed that the user has measured in the developer.
    MeasuredSpeed {
        /// The developer.
        formula: String,
        /// Arithmetic speed.
        speed: f64,
        /// Stops against the known developer, where speed was measured in that too.
        stops: Option<f64>,
    },
    /// What the shadows of the latest record judged say of the exposure.
    Shadows {
        /// Whether they were empty; else full.
        empty: bool,
        /// When they were judged.
        date: crate::journal::Date,
        /// Stops of exposure, least and most.
        stops: (f64, f64),
    },
    /// An agitation factor that no document gives for this developer.
    AgitationUncertain,
    /// The film is used at a higher index.
    Pushed {
        /// Stops; below zero, a lower index.
        stops: f64,
    },
    /// A gradient was asked without a measured one to start from.
    NormalGradientTaken {
        /// The gradient that the known time is taken to give.
        normal: f64,
    },
    /// No ratio is known; the time on the formula's own card stands in.
    FromCard {
        /// Its id.
        formula: String,
    },
    /// All records came out thin.
    OnlyThin,
    /// All records came out dense.
    OnlyDense,
    /// A record that came out thin was longer than one that came out dense.
    RecordsContradict,
    /// Records judged right scatter more than judging explains.
    RecordsScatter {
        /// How well one is known, percent.
        percent: f64,
    },
    /// No record was judged.
    NotJudged,
    /// Measured gradients that no law fits.
    GradientsDoNotFit,
}

impl TimingWarning {
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
            Self::Speed { .. } => "speed",
            Self::MeasuredSpeed { .. } => "measured-speed",
            Self::Shadows { .. } => "shadows",
            Self::AgitationUncertain => "agitation-uncertain",
            Self::Pushed { .. } => "pushed",
            Self::NormalGradientTaken { .. } => "normal-gradient-taken",
            Self::FromCard { .. } => "from-card",
            Self::OnlyThin => "only-thin",
            Self::OnlyDense => "only-dense",
            Self::RecordsContradict => "records-contradict",
            Self::RecordsScatter { .. } => "records-scatter",
            Self::NotJudged => "not-judged",
            Self::GradientsDoNotFit => "gradients-do-not-fit",
        }
    }
}

impl fmt::Display for TimingWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ml = |value: &f64| format!("{} mL", show_short(*value, 0));
        let celsius = |value: &f64| Temperature::from_c(*value).to_string();
        match self {
            Self::Guess { from, to, taken } => {
                let taken: Vec<String> =
                    taken.iter().map(|(one, other)| format!("{one} stands in for {other}")).collect();
                write!(
                    f,
                    "a guess: no published relation between {from} and {to}. Here {}, the nearest by composition. Test before anything that matters",
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
                "too little stock: the tank holds {} and the films want {} for full development; a tank of {}, fewer films, or less water ({} of stock to the tank), each with its own time",
                ml(have_ml),
                ml(need_ml),
                ml(tank_ml),
                ml(need_ml)
            ),
            Self::StockNotKnown { formula } => {
                write!(f, "how much stock a film needs is not known for {formula}; the tank was not checked")
            }
            other => other.own_words(f),
        }
    }
}

impl TimingWarning {
    /// What to mind of the negative, of the records and of where the time comes from.
    fn own_words(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Speed { formula, stops: (low, high) } => write!(
                f,
                "film speed in {formula} may differ from that in the known developer by {}: test the index",
                stops_words(*low, *high)
            ),
            Self::MeasuredSpeed { formula, speed, stops } => {
                write!(f, "film speed in {formula} by your own measurement: {}", show_short(*speed, 0))?;
                let against = |stops: &f64| format!(", {} stop against the known developer", stop_words(*stops));
                f.write_str(&stops.as_ref().map_or_else(String::new, against))
            }
            Self::Shadows { empty, date, stops: (least, most) } => {
                let stops = format!("{} to {} stop", stop_words(*least), stop_words(*most)).replace('+', "");
                if *empty {
                    write!(f, "shadows were empty on {date}: expose {stops} more; time does not bring them back")
                } else {
                    write!(f, "shadows were full on {date}: expose up to {} stop less", stop_words(*least).replace('+', ""))
                }
            }
            Self::AgitationUncertain => f.write_str(
                "another agitation: hands differ more than the figure says; test it",
            ),
            Self::Pushed { stops } if *stops > 0.0 => f.write_str(
                "pushing raises contrast; the shadows gain next to nothing and come out as empty as they were metered",
            ),
            Self::Pushed { .. } => f.write_str(
                "pulling lowers contrast; expose as much more as you shorten for, the figure is that of pushing turned round",
            ),
            Self::NormalGradientTaken { normal } => write!(
                f,
                "assumed: the known time gives a gradient of {}; say what it gives with --from-gradient",
                show_decimals(*normal, 2)
            ),
            Self::FromCard { formula } => write!(
                f,
                "no ratio to {formula} is known: this is the time on its own card, for films not distinguished; the known time was not used"
            ),
            Self::OnlyThin => f.write_str(
                "every record came out flat (thin): the time lies beyond them, how far is not known; go up in steps and record",
            ),
            Self::OnlyDense => f.write_str(
                "every record came out blocked (dense): the time lies below them, how far is not known; go down in steps and record",
            ),
            Self::RecordsContradict => f.write_str(
                "records contradict each other: one that came out flat was longer than one that came out blocked; the answer lies between",
            ),
            Self::RecordsScatter { percent } => write!(
                f,
                "your times judged right scatter: each is known to about {} %, more than judging by eye explains; look for what differed",
                show_short(*percent, 0)
            ),
            Self::NotJudged => {
                f.write_str("no record was judged; assumed: they were about right")
            }
            Self::GradientsDoNotFit => f.write_str(
                "your gradients fit no law by which a gradient grows; they are used as well as they go, look for a reading or a time that is wrong",
            ),
            // All others are told where this is called.
            _ => Ok(()),
        }
    }
}

/// `+1/3 to +2/3 stop`.
fn stops_words(low: f64, high: f64) -> String {
    format!("{} to {} stop", stop_words(low), stop_words(high))
}

/// `+1/3`, to a sixth of a stop.
fn stop_words(stops: f64) -> String {
    let sixths = (stops * 6.0).round();
    let sign = if sixths > 0.0 {
        "+"
    } else if sixths < 0.0 {
        "-"
    } else {
        ""
    };
    let whole = (sixths.abs() / 6.0).floor();
    let part = match (sixths.abs() - whole * 6.0).round() {
        part if part < 0.5 => "",
        part if part < 1.5 => "1/6",
        part if part < 2.5 => "1/3",
        part if part < 3.5 => "1/2",
        part if part < 4.5 => "2/3",
        _ => "5/6",
    };
    match (whole > 0.0, part) {
        (false, "") => "0".to_owned(),
        (true, "") => format!("{sign}{whole:.0}"),
        (false, part) => format!("{sign}{part}"),
        (true, part) => format!("{sign}{whole:.0} {part}"),
    }
}

/// Tells other ways that do not agree with the one taken.
pub(super) fn disagreements(
    product: &Product,
    alternatives: &[Alternative],
    warnings: &mut Vec<TimingWarning>,
) {
    let (ln, down, up) = product.ln();
    let (used, low, high) = (ln.exp(), (ln - down).exp(), (ln + up).exp());
    for other in alternatives {
        // They disagree where neither range reaches the other's central value.
        let apart = !(low..=high).contains(&other.factor) && !(other.low..=other.high).contains(&used);
        if apart {
            warnings.push(TimingWarning::Disagreement { by: other.by.clone(), factor: other.factor, used });
        }
    }
}

/// Everything else that applies to an answer.
pub(super) fn collect(
    model: &Model<'_>,
    question: &TimeQuestion,
    product: &Product,
    time: Duration,
    warnings: &mut Vec<TimingWarning>,
) {
    identity(model, question, warnings);
    temperature(model, question, warnings);
    data_ranges(model, question, product, warnings);
    let limits = &model.table.limits;
    let to = &question.to;
    // It is the small tank that develops unevenly; a tray is moved all the time.
    let is_in_a_tray = to.developer.is_for_paper(&to.working) || to.agitation == USUAL_FOR_PAPER;
    if time.as_min() < limits.shortest_minutes && !is_in_a_tray {
        warnings.push(TimingWarning::TooShort { time, limit_minutes: limits.shortest_minutes });
    }
    if time.as_min() > limits.longest_minutes {
        warnings.push(TimingWarning::TooLong { time, limit_minutes: limits.longest_minutes });
    }
    stock(question, warnings);
    let agitates = product
        .terms()
        .any(|(key, term)| matches!(key, Key::Agitation(_)) && is_unread(term.per_unit.support));
    if agitates {
        warnings.push(TimingWarning::AgitationUncertain);
    }
    let wish = &question.wish;
    if wish.push != 0.0 {
        warnings.push(TimingWarning::Pushed { stops: wish.push });
    }
    let measured = product.terms().any(|(key, term)| {
        *key == Key::Contrast && term.per_unit.support == super::figure::Support::OwnRecord
    });
    if wish.gradient.is_some() && wish.known_gradient.is_none() && !measured {
        warnings.push(TimingWarning::NormalGradientTaken { normal: model.table.gradient.normal });
    }
}

fn identity(model: &Model<'_>, question: &TimeQuestion, warnings: &mut Vec<TimingWarning>) {
    let (from, to) = (&question.from.developer, &question.to.developer);
    let mut told: Vec<&str> = Vec::new();
    for developer in [from, to] {
        let hides = !developer.is_shipped && model.table.names_formula(&developer.id);
        if hides && !told.contains(&developer.id.as_str()) {
            told.push(&developer.id);
            warnings.push(TimingWarning::HidesShipped { id: developer.id.clone() });
        }
    }
    let is_film = |setup: &Setup| !setup.developer.is_for_paper(&setup.working);
    let classes = model.table.speed_of(from).zip(model.table.speed_of(to));
    if from != to && is_film(&question.to) {
        let speeds = &model.own.speeds;
        if let Some(speed) = speeds.get(&to.id) {
            let stops = speeds.get(&from.id).map(|known| (speed / known).log2());
            warnings.push(TimingWarning::MeasuredSpeed { formula: to.id.clone(), speed: *speed, stops });
        } else if let Some((known, wanted)) = classes
            && known != wanted
        {
            warnings.push(TimingWarning::Speed { formula: to.id.clone(), stops: wanted.against(known) });
        }
    }
    if is_film(&question.to)
        && let Some((date, shadows)) = model.own.shadows
        && shadows != Shadows::Right
    {
        let stops = (model.table.foot.slight_stops, model.table.foot.clear_stops);
        warnings.push(TimingWarning::Shadows { empty: shadows == Shadows::Empty, date, stops });
    }
}

fn temperature(model: &Model<'_>, question: &TimeQuestion, warnings: &mut Vec<TimingWarning>) {
    let limits = &model.table.limits;
    let celsius = question.to.temperature.as_c();
    if question.to.developer.has_hydroquinone() {
        if celsius < limits.hydroquinone_inactive_celsius {
            let limit_celsius = limits.hydroquinone_inactive_celsius;
            warnings.push(TimingWarning::HydroquinoneInactive { celsius, limit_celsius });
        } else if celsius < limits.hydroquinone_cold_celsius {
            warnings.push(TimingWarning::HydroquinoneCold {
                celsius,
                limit_celsius: limits.hydroquinone_cold_celsius,
            });
        }
    }
    if celsius > limits.gelatin_soft_celsius && !question.to.developer.is_for_paper(&question.to.working) {
        warnings.push(TimingWarning::GelatinSoft { celsius, limit_celsius: limits.gelatin_soft_celsius });
    }
}

/// Temperatures and dilutions outside the data behind the figures used.
fn data_ranges(
    model: &Model<'_>,
    question: &TimeQuestion,
    product: &Product,
    warnings: &mut Vec<TimingWarning>,
) {
    let mut by_books = false;
    for (key, term) in product.terms() {
        match key {
            Key::Temperature(of) => {
                by_books |= term.data.is_some();
                let near = model.table.limits.beyond_data_degrees;
                for at in outside(&term.steps, term.data.map(|(low, high)| (low - near, high + near))) {
                    let range_celsius = term.data.unwrap_or((at, at));
                    warnings.push(TimingWarning::TemperatureExtrapolated {
                        celsius: at,
                        range_celsius,
                        of: of.clone(),
                    });
                }
            }
            Key::Dilution(of) => {
                for at in outside(&term.steps, term.data) {
                    let range = term.data.unwrap_or((at, at));
                    warnings.push(TimingWarning::DilutionExtrapolated { ratio: at, range, of: of.clone() });
                }
            }
            _ => {}
        }
    }
    let limit_degrees = model.table.limits.doubtful_degrees;
    let degrees = (question.to.temperature.as_c() - question.from.temperature.as_c()).abs();
    if by_books && degrees > limit_degrees + 1e-6 {
        warnings.push(TimingWarning::LargeTemperatureStep { degrees, limit_degrees });
    }
    let to = &question.to;
    let ratio = to.working.ratio();
    let unusual =
        to.developer.named_ratios().is_some_and(|(low, high)| ratio > high * 1.001 || ratio < low * 0.999);
    if unusual {
        let (formula, dilution) = (to.developer.id.clone(), to.working.to_string());
        warnings.push(TimingWarning::UnusualDilution { formula, dilution });
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

fn stock(question: &TimeQuestion, warnings: &mut Vec<TimingWarning>) {
    let Some(tank) = question.tank else { return };
    let to = &question.to;
    let Some(least) = to.developer.stock_ml_per_roll else {
        warnings.push(TimingWarning::StockNotKnown { formula: to.developer.id.clone() });
        return;
    };
    let ratio = to.working.ratio();
    let (have_ml, need_ml) = (tank.volume_ml / ratio, least * tank.rolls);
    if have_ml < need_ml * (1.0 - 1e-9) {
        warnings.push(TimingWarning::TooLittleStock { have_ml, need_ml, tank_ml: need_ml * ratio });
    }
}
