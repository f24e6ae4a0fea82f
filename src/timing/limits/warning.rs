//! What is warned of, and in which words.

use crate::quantity::rounding::{show_decimals, show_short};
use crate::quantity::{Duration, Temperature};
use std::fmt;

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
