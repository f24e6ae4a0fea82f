//! `curve`: what is judged, as words, as JSON, as a plot of characters and as plates on paper.

mod characters;
pub(crate) mod json;
mod plate;
mod words;

pub(crate) use plate::plate;
pub(crate) use words::curve_document;

use crate::curve::Errors;
use crate::curve::comparison::CurveComparison;
use crate::curve::figures::FilmFigures;
use crate::curve::paper::PaperFigures;
use crate::curve::series::{GradientGrowth, Series, Subject, Target, TargetCourse, TargetOutcome};
use crate::curve::table::Sensitometry;

#[derive(Debug)]
pub(crate) struct JudgedStrips {
    /// The command that made it, for the foot of a page.
    pub command: String,
    /// How well things were read.
    pub errors: Errors,
    pub table: Sensitometry,
    /// What came of it.
    pub subject: StripJudgement,
    /// The film, in the user's own words.
    pub film: Option<String>,
    pub formula: Option<String>,
}

/// What came of it.
#[derive(Debug)]
pub(crate) enum StripJudgement {
    /// One strip, or several side by side: each against the first.
    Films(Vec<FilmFigures>, Vec<CurveComparison>),
    /// A series of times.
    Series(Box<SeriesView>),
    /// Strips of paper.
    Papers(Vec<PaperFigures>),
}

/// A series with what was asked of it.
#[derive(Debug)]
pub(crate) struct SeriesView {
    pub series: Series,
    /// The target that is drawn.
    pub target: Target,
    /// What came of the target, where one was asked.
    pub outcome: Option<TargetOutcome>,
    /// Over the times.
    pub course: Option<TargetCourse>,
    /// The law of growth.
    pub growth: Option<GradientGrowth>,
    pub subject: Subject,
}

/// Capital letters that strips are called by.
const LETTERS: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// The letter of a strip.
fn letter(index: usize) -> String {
    LETTERS.chars().cycle().nth(index).unwrap_or('A').to_string()
}
