//! Why no time is given.

use thiserror::Error;

/// Why no time is given; every message says what to do instead.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum TimingError {
    /// A coefficient that cannot be read, or without its convention.
    #[error("`{text}` is not a temperature coefficient")]
    Coefficient {
        /// What was typed.
        text: String,
    },
    /// A coefficient that no developer has.
    #[error("`{text}` means a factor of {factor_for_ten:.3} for 10 °C; developers have 1 to 10")]
    CoefficientRange {
        /// What was typed.
        text: String,
        /// What it means.
        factor_for_ten: f64,
    },
    /// Two baths one after the other.
    #[error("`{formula}` is used as two baths one after the other; its result is not set by one time")]
    TwoBath {
        /// Its id.
        formula: String,
    },
    /// A developer whose result is not set by time.
    #[error("`{formula}` is a {kind}: {reason}")]
    NotByTime {
        /// Its id.
        formula: String,
        /// Its kind, in the singular.
        kind: String,
        /// Why.
        reason: String,
    },
    /// A way of agitation that no factor reaches.
    #[error("no time can be given for {words}: {reason}")]
    AgitationRefused {
        /// The way.
        words: String,
        /// Why.
        reason: String,
    },
    /// An agitation that is not known.
    #[error("`{name}` is not a way of agitation; known are {known}")]
    UnknownAgitation {
        /// What was typed.
        name: String,
        /// Names in the table, joined by commas.
        known: String,
        /// A near miss.
        near: Option<String>,
    },
    /// A film developer against a paper developer.
    #[error("`{film}` develops film and `{paper}` paper: no time carries over between them")]
    FilmAgainstPaper {
        /// The film developer.
        film: String,
        /// The paper developer.
        paper: String,
    },
    /// Something that is no developer.
    #[error("`{formula}` is a {kind}, not a developer for film or paper")]
    NotADeveloper {
        /// Its id.
        formula: String,
        /// Its kind, in the singular.
        kind: String,
    },
    /// `stock` for a developer that is never used undiluted.
    #[error("`stock` means nothing for `{formula}`: it is never used undiluted, but {known}")]
    StockMeansNothing {
        /// Its id.
        formula: String,
        /// Its dilutions.
        known: String,
    },
    /// A formula with several dilutions and none named.
    #[error("`{formula}` has several dilutions: {known}")]
    DilutionNeeded {
        /// Its id.
        formula: String,
        /// Its dilutions.
        known: String,
    },
    /// A dilution with the wrong number of parts.
    #[error("`{text}` has {given} figures, but `{formula}` needs {needed}")]
    WrongParts {
        /// Its id.
        formula: String,
        /// What was typed.
        text: String,
        /// How many figures it has.
        given: usize,
        /// What is needed, in words.
        needed: String,
    },
    /// Two mixtures of the same parts in another proportion.
    #[error("`{formula}` {one} and {other} hold its parts in different proportions: they are two developers")]
    OtherProportions {
        /// Its id.
        formula: String,
        /// One mixture.
        one: String,
        /// The other mixture, as typed or as its use names it.
        other: String,
    },
    /// A dilution outside all experience.
    #[error(
        "`{formula}` {dilution} is far beyond any dilution that something is known of (total over stock {ratio:.0}, known to {known:.0})"
    )]
    Dilution {
        /// Its id.
        formula: String,
        /// As typed.
        dilution: String,
        /// Its total over stock.
        ratio: f64,
        /// The largest of the data and of the formula's own dilutions.
        known: f64,
    },
    /// A temperature outside all experience.
    #[error("{celsius:.1} °C is outside {coldest} to {hottest} °C, where no developing time holds")]
    Temperature {
        /// What was asked.
        celsius: f64,
        /// Lowest that is answered, °C.
        coldest: f64,
        /// Highest that is answered, °C.
        hottest: f64,
    },
    /// No chain of relations between two developers and no relative by composition.
    #[error(
        "no published relation between `{from}` and `{to}`, and no time on the card of `{to}` for this dilution{}",
        near.iter().map(|words| format!("; {words}, too far for a guess")).collect::<String>()
    )]
    NoRelation {
        /// The developer of the known time.
        from: String,
        /// The developer wanted.
        to: String,
        /// For each without any relation, its nearest relative that has one, in words.
        near: Vec<String>,
    },
    /// More contrast than the rule reaches.
    #[error("{steps:+} steps of contrast is beyond what a time can be trusted to give (at most {most})")]
    ContrastSteps {
        /// What was asked.
        steps: f64,
        /// Most steps either way.
        most: f64,
    },
    /// More stops of index than the rule reaches.
    #[error("{stops:+} stops of index are beyond what a time can be trusted to give (at most {most})")]
    PushStops {
        /// What was asked.
        stops: f64,
        /// Most stops either way.
        most: f64,
    },
    /// A gradient that no film is developed to.
    #[error("a gradient of {gradient} is none that film is developed to ({least} to {most})")]
    Gradient {
        /// What was asked.
        gradient: f64,
        /// Of the rule, inclusive.
        least: f64,
        /// Of the rule, inclusive.
        most: f64,
    },
    /// A gradient that this film and developer never reach.
    #[error(
        "{} the highest gradient of this film and developer near {infinity:.2}; {wanted:.2} is never reached",
        if *is_own { "your records put" } else { "other films have" }
    )]
    GradientBeyondReach {
        /// Gradient at infinite time.
        infinity: f64,
        /// What was asked.
        wanted: f64,
        /// Whether own records say so.
        is_own: bool,
    },
    /// No own record to start from.
    #[error("no record of `{film}` to start from{}", if *others > 0 { " that reaches this developer" } else { "" })]
    NoRecord {
        /// The film in the user's words.
        film: String,
        /// How many records of the film there are that do not reach.
        others: usize,
    },
    /// An agent without a factor.
    #[error("no factor of factorial development is known for {agents}; known are {known}")]
    NoFactor {
        /// Those of the developer, by name.
        agents: String,
        /// Those of the table, by name.
        known: String,
    },
    /// A time that no timer shows.
    #[error("{seconds} s is shorter than any timer is set to")]
    TooShort {
        /// Seconds that come out.
        seconds: String,
    },
}

impl TimingError {
    /// A stable short name.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Coefficient { .. } | Self::CoefficientRange { .. } => "coefficient",
            Self::TwoBath { .. } => "two-bath",
            Self::NotByTime { .. } => "not-by-time",
            Self::AgitationRefused { .. } => "agitation-refused",
            Self::UnknownAgitation { .. } => "unknown-agitation",
            Self::FilmAgainstPaper { .. } => "film-against-paper",
            Self::NotADeveloper { .. } => "not-a-developer",
            Self::StockMeansNothing { .. } => "stock-means-nothing",
            Self::DilutionNeeded { .. } => "dilution-needed",
            Self::WrongParts { .. } => "dilution-parts",
            Self::TooShort { .. } => "too-short",
            Self::OtherProportions { .. } => "other-proportions",
            Self::Dilution { .. } => "dilution-range",
            Self::Temperature { .. } => "temperature-range",
            Self::NoRelation { .. } => "no-relation",
            Self::ContrastSteps { .. } => "contrast-steps",
            Self::PushStops { .. } => "push-stops",
            Self::Gradient { .. } => "gradient",
            Self::GradientBeyondReach { .. } => "gradient-beyond-reach",
            Self::NoRecord { .. } => "no-record",
            Self::NoFactor { .. } => "no-factor",
        }
    }

    /// Whether the request itself was wrong, rather than understood and answered with no.
    pub fn is_misuse(&self) -> bool {
        matches!(
            self,
            Self::Coefficient { .. }
                | Self::CoefficientRange { .. }
                | Self::UnknownAgitation { .. }
                | Self::Gradient { .. }
                | Self::WrongParts { .. }
                | Self::DilutionNeeded { .. }
        )
    }

    /// What to do about it.
    pub fn fix(&self) -> String {
        match self {
            Self::Coefficient { .. } | Self::CoefficientRange { .. } => {
                "write how it counts: 2.5/10C (factor for 10 °C), 1.9/7C (factor for 7 °C), 1.096/C (factor per degree), \
                 0.398log/10C or 0.0398log/C (decadic logarithm)"
                    .to_owned()
            }
            Self::TwoBath { .. } => {
                "keep to the times of the formula; more or less time in the first bath changes little".to_owned()
            }
            Self::NotByTime { .. } => "use the time and the signs that the formula itself gives".to_owned(),
            Self::AgitationRefused { .. } => "take the times of such a process from its own tests".to_owned(),
            Self::UnknownAgitation { near: Some(near), .. } => format!("did you mean {near}?"),
            Self::UnknownAgitation { known, .. } | Self::NoFactor { known, .. } => {
                format!("choose one of {known}")
            }
            Self::FilmAgainstPaper { .. } => "name two developers of the same kind".to_owned(),
            Self::NotADeveloper { .. } => "name the developer itself".to_owned(),
            Self::StockMeansNothing { known, .. } | Self::DilutionNeeded { known, .. } => {
                format!("name one dilution: {known}")
            }
            Self::WrongParts { needed, .. } => format!("give {needed}"),
            Self::TooShort { .. } => "begin with a known time of minutes".to_owned(),
            Self::OtherProportions { .. } => "test the second mixture for itself".to_owned(),
            Self::Dilution { .. } => "dilute less".to_owned(),
            Self::Temperature { .. } => "bring the bath nearer to 20 °C".to_owned(),
            Self::NoRelation { .. } => {
                "develop a test strip at the known time; with a record of it the next answer is your own".to_owned()
            }
            Self::ContrastSteps { .. } | Self::PushStops { .. } => {
                "change the developer or the exposure as well".to_owned()
            }
            Self::Gradient { .. } => "write a gradient such as 0.58".to_owned(),
            Self::GradientBeyondReach { .. } => "take a more energetic developer".to_owned(),
            Self::NoRecord { .. } => {
                "give a known time with its developer, or record one with `record add developed`".to_owned()
            }
        }
    }
}
