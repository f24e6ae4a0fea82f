//! What is typed to append an entry.

use clap::{Args, Subcommand, ValueEnum};

use super::today;
use crate::cli::arguments::{BatchArguments, date};
use crate::cli::conditions::JournalArguments;
use crate::cli::error::CliError;
use crate::journal::{Date, Highlights, Shadows, Verdict};
use crate::timing::USUAL_AGITATION;

/// What happened.
#[derive(Debug, Subcommand)]
pub(super) enum Add {
    /// A batch that was mixed
    Mixed(MixedArguments),
    /// Films that were developed
    Developed(DevelopedArguments),
    /// Negatives judged, by the number of their roll
    Judged(JudgedArguments),
    /// Replenisher poured into a bottle
    Replenished(ReplenishedArguments),
    /// A figure measured: of a bottle, or of a film's curve
    Measured(MeasuredArguments),
    /// Sheets of paper that were printed
    Printed(PrintedArguments),
    /// The strokes on a bottle's label, counted
    Count(CountArguments),
    /// Bottles that were thrown out
    Discarded(DiscardedArguments),
}

/// When, who, what else, and into which journal.
#[derive(Debug, Args)]
pub(super) struct Common {
    /// When [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    date: Option<String>,
    /// Who did it
    #[arg(long, value_name = "NAME")]
    pub(super) by: Option<String>,
    /// Anything else
    #[arg(long, value_name = "WORDS")]
    pub(super) note: Option<String>,
    #[command(flatten)]
    pub(super) journal: JournalArguments,
}

impl Common {
    pub(super) fn date(&self) -> Result<Date, CliError> {
        self.date.as_ref().map_or_else(today, |text| date("--date", text))
    }
}

/// Arguments of `record add mixed`.
#[derive(Debug, Args)]
pub(super) struct MixedArguments {
    #[command(flatten)]
    pub(super) batch: BatchArguments,
    /// The bottles filled, to equal parts; a formula in parts makes "NAME A", "NAME B"
    #[arg(long, value_name = "NAME,…", value_delimiter = ',')]
    pub(super) bottle: Vec<String>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add developed`.
#[derive(Debug, Args)]
pub(super) struct DevelopedArguments {
    /// Time in the developer: 8min, 8:30, 8m30s, 510s
    pub(super) time: String,
    /// The film, in your own words; may be left out with --bottle
    #[arg(long, value_name = "FILM")]
    pub(super) film: Option<String>,
    /// The developer [default: what is in the bottle]
    #[arg(long, value_name = "FORMULA")]
    pub(super) formula: Option<String>,
    /// Its dilution: stock, 1+1, or for a formula in parts A+B+water [default: undiluted, or its only way of use]
    #[arg(long, value_name = "DILUTION")]
    pub(super) dilution: Option<String>,
    /// Temperature of the bath
    #[arg(long, value_name = "TEMPERATURE", default_value = "20C")]
    pub(super) temp: String,
    /// Agitation: inversion (each minute), every-30s, continuous (tray), rotary, tank-lift, stand, water-bath
    #[arg(long, value_name = "AGITATION", default_value = USUAL_AGITATION)]
    pub(super) agitation: String,
    /// Gradient, if it was measured: a pure number such as 0.58
    #[arg(long, value_name = "GRADIENT")]
    pub(super) gradient: Option<f64>,
    /// How the negatives came out as a whole; counts as the highlights
    #[arg(long, value_enum)]
    pub(super) verdict: Option<VerdictWord>,
    /// The shadows: they tell the exposure
    #[arg(long, value_enum)]
    pub(super) shadows: Option<ShadowsWord>,
    /// The highlights: they tell the development
    #[arg(long, value_enum)]
    pub(super) highlights: Option<HighlightsWord>,
    /// The bottles that the films went through, the developer's first
    #[arg(long, value_name = "NAME,…", value_delimiter = ',', help_heading = "Bottles")]
    pub(super) bottle: Vec<String>,
    /// How many of which size: 2x135, 2x135-36,1x120,6x4x5in, 4films
    #[arg(long, value_name = "FILMS", help_heading = "Bottles")]
    pub(super) films: Option<String>,
    /// Numbers of the rolls, by which a later judgement finds them
    #[arg(long, value_name = "ROLL,…", value_delimiter = ',', help_heading = "Bottles")]
    pub(super) rolls: Vec<String>,
    /// Working solution in the tank
    #[arg(long, value_name = "VOLUME", help_heading = "Bottles")]
    pub(super) tank: Option<String>,
    /// Taken out of the developer's bottle [default: from the tank and the dilution]
    #[arg(long, value_name = "VOLUME", help_heading = "Bottles")]
    pub(super) drawn: Option<String>,
    /// Poured back into it [default: the same if it was undiluted, else nothing]
    #[arg(long, value_name = "VOLUME", help_heading = "Bottles")]
    pub(super) returned: Option<String>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add judged`.
#[derive(Debug, Args)]
pub(super) struct JudgedArguments {
    /// Number of the roll
    pub(super) roll: String,
    /// The shadows: they tell the exposure
    #[arg(long, value_enum, required_unless_present_any = ["highlights", "verdict"])]
    pub(super) shadows: Option<ShadowsWord>,
    /// The highlights: they tell the development
    #[arg(long, value_enum)]
    pub(super) highlights: Option<HighlightsWord>,
    /// As a whole; counts as the highlights where these are not given
    #[arg(long, value_enum)]
    pub(super) verdict: Option<VerdictWord>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add replenished`.
#[derive(Debug, Args)]
pub(super) struct ReplenishedArguments {
    /// How much was poured in: 88ml
    pub(super) volume: String,
    /// The bottle
    #[arg(long, value_name = "NAME")]
    pub(super) bottle: String,
    /// What was poured in
    #[arg(long, value_name = "FORMULA")]
    pub(super) formula: Option<String>,
    /// The bottle it came from
    #[arg(long, value_name = "NAME")]
    pub(super) from: Option<String>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add measured`.
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("figure").required(true).args(["ph", "silver", "clearing", "gradient"]))]
pub(super) struct MeasuredArguments {
    /// The bottle measured
    #[arg(long, value_name = "NAME", required_unless_present = "gradient")]
    pub(super) bottle: Option<String>,
    /// Its pH, a pure number
    #[arg(long, value_name = "PH", requires = "bottle", help_heading = "Figure")]
    pub(super) ph: Option<f64>,
    /// Silver in it: 1.5g/L
    #[arg(long, value_name = "SILVER", requires = "bottle", help_heading = "Figure")]
    pub(super) silver: Option<String>,
    /// Time in which it clears a film: 60s, 1:40
    #[arg(long, value_name = "TIME", requires = "bottle", help_heading = "Figure")]
    pub(super) clearing: Option<String>,
    /// Average gradient of a film's curve, a pure number such as 0.58
    #[arg(long, value_name = "GRADIENT", help_heading = "Figure")]
    pub(super) gradient: Option<f64>,
    /// Speed by the same curve, as in ISO 100
    #[arg(long, value_name = "SPEED", requires = "gradient", help_heading = "Figure")]
    pub(super) speed: Option<f64>,
    /// The roll whose curve it is; film, developer and time are those of its development
    #[arg(long, value_name = "ROLL", requires = "gradient", help_heading = "Film")]
    pub(super) roll: Option<String>,
    /// The film, in your own words
    #[arg(long, value_name = "FILM", help_heading = "Film")]
    pub(super) film: Option<String>,
    /// The developer
    #[arg(long, value_name = "FORMULA", requires = "gradient", help_heading = "Film")]
    pub(super) formula: Option<String>,
    /// Time in it
    #[arg(long, value_name = "TIME", requires = "gradient", help_heading = "Film")]
    pub(super) time: Option<String>,
    /// Its dilution [default: undiluted, or its only way of use]
    #[arg(long, value_name = "DILUTION", requires = "gradient", help_heading = "Film")]
    pub(super) dilution: Option<String>,
    /// Its temperature [default: 20C]
    #[arg(long, value_name = "TEMPERATURE", requires = "gradient", help_heading = "Film")]
    pub(super) temp: Option<String>,
    /// Agitation, as of `record add developed` [default: inversion]
    #[arg(long, value_name = "AGITATION", requires = "gradient", help_heading = "Film")]
    pub(super) agitation: Option<String>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add printed`.
#[derive(Debug, Args)]
pub(super) struct PrintedArguments {
    /// How many of which size: 12x8x10in, 8x18x24cm
    #[arg(long, value_name = "SHEETS")]
    pub(super) sheets: String,
    /// The bottles they went through
    #[arg(long, value_name = "NAME,…", value_delimiter = ',')]
    pub(super) bottle: Vec<String>,
    /// Roll and frame
    #[arg(long, value_name = "WORDS")]
    pub(super) negative: Option<String>,
    /// The paper, in your own words
    #[arg(long, value_name = "PAPER")]
    pub(super) paper_used: Option<String>,
    /// Its grade or filter
    #[arg(long, value_name = "GRADE")]
    pub(super) grade: Option<String>,
    /// Exposure under the enlarger: 12s
    #[arg(long, value_name = "TIME")]
    pub(super) exposure: Option<String>,
    /// A place that got more or less than that, in stops: "sky +3/4"; may be given several times
    #[arg(long, value_name = "PLACE STOPS", requires = "exposure")]
    pub(super) local: Vec<String>,
    /// What to change next time, in stops: +1/3, -0.5
    #[arg(long, value_name = "STOPS", allow_hyphen_values = true)]
    pub(super) stops: Option<String>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add count`.
#[derive(Debug, Args)]
pub(super) struct CountArguments {
    /// Strokes on the label: films through the bottle since it was filled
    pub(super) films: f64,
    /// The bottle
    #[arg(long, value_name = "NAME")]
    pub(super) bottle: String,
    #[command(flatten)]
    pub(super) common: Common,
}

/// Arguments of `record add discarded`.
#[derive(Debug, Args)]
pub(super) struct DiscardedArguments {
    /// The bottles
    #[arg(long, value_name = "NAME,…", value_delimiter = ',', required = true)]
    pub(super) bottle: Vec<String>,
    #[command(flatten)]
    pub(super) common: Common,
}

/// A judgement as it is typed.
macro_rules! words {
    ($type:ident => $judgement:ident: $($(#[$doc:meta])* $variant:ident),+) => {
        #[doc = concat!("[`", stringify!($judgement), "`] as it is typed.")]
        #[derive(Debug, Clone, Copy, ValueEnum)]
        pub(super) enum $type { $($(#[$doc])* $variant),+ }

        impl From<$type> for $judgement {
            fn from(word: $type) -> Self {
                match word { $($type::$variant => Self::$variant),+ }
            }
        }
    };
}
words!(VerdictWord => Verdict:
    /// Too little density
    Thin,
    /// As wanted
    Right,
    /// Too much density
    Dense);
words!(ShadowsWord => Shadows:
    /// No detail: exposed too little
    Empty,
    /// As wanted
    Right,
    /// More than needed: exposed too much
    Full);
words!(HighlightsWord => Highlights:
    /// Too little contrast: developed too short
    Flat,
    /// As wanted
    Right,
    /// Too much: developed too long
    Blocked);
