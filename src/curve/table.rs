//! The constants of `tables/sensitometry.toml`, and what a speed is called.

use serde::Deserialize;

use crate::diagnostic::{Finding, TableSource, read_table};

/// `tables/sensitometry.toml`, as it is read.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sensitometry {
    #[serde(rename = "format")]
    _format: u32,
    /// ISO 6.
    pub film: Film,
    /// The fractional-gradient speed.
    pub delta_x: DeltaX,
    /// The two-arc index.
    pub two_arc: TwoArc,
    /// ISO 6846.
    pub paper: PaperCriteria,
    /// The usual negative.
    pub normal: Normal,
    #[serde(rename = "grade")]
    grades: Vec<PaperGrade>,
    speeds: Speeds,
}

/// Film speed.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Film {
    /// Density above base + fog of the speed point m.
    pub net_density: f64,
    /// log H from m to n.
    pub span: f64,
    /// Density difference between m and n that the standard asks.
    pub difference: f64,
    /// How far from it still counts.
    pub tolerance: f64,
    /// S = this / Hm.
    pub numerator: f64,
    /// log H of the average gradient.
    pub average_span: f64,
    /// The standard and where its figures were read.
    pub source: String,
}

/// Polynomial of the second degree in the density difference of ISO 6.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeltaX {
    a: f64,
    b: f64,
    c: f64,
    /// The publication of the polynomial.
    pub source: String,
}

impl DeltaX {
    /// How far the fractional-gradient point lies to the left of m, log H.
    pub fn of(&self, difference: f64) -> f64 {
        self.a + self.b * difference + self.c * difference * difference
    }
}

/// Distances of the two arcs.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TwoArc {
    /// Radius of the arc at the toe, in log H and density alike.
    pub inner: f64,
    /// Radius of the arc at the far end, in log H and density alike.
    pub outer: f64,
    /// The publication of the arcs.
    pub source: String,
}

/// Where on the curve of a paper its range and speed are read.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperCriteria {
    /// Net density of the least useful point.
    pub toe: f64,
    /// Share of the net maximum of the greatest useful point.
    pub share_of_maximum: f64,
    /// Net density of the speed point.
    pub speed_density: f64,
    /// P = this / Hm.
    pub numerator: f64,
    /// The ISO range is rounded to this.
    pub range_step: f64,
    /// The standard and where its figures were read.
    pub source: String,
}

/// What a normal negative is.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Normal {
    /// Of what prints on normal paper.
    pub density_range: f64,
    /// Who calls it normal.
    pub source: String,
}

/// A band of log exposure range.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperGrade {
    /// Its number.
    pub name: String,
    /// Longest range.
    pub high: f64,
    /// Shortest range.
    pub low: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Speeds {
    lowest_degrees: i32,
    series: Vec<f64>,
}

/// A speed as it is called.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Named {
    /// Rounded logarithmic speed.
    pub degrees: i32,
    /// The arithmetic speed of the conventional series; none beyond its ends.
    pub label: Option<f64>,
}

impl Sensitometry {
    /// Reads the table.
    ///
    /// # Errors
    /// The text is not what is wanted.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>) -> Result<Self, Finding> {
        read_table(source, "tables/sensitometry.toml")
    }

    /// Degrees and label of an arithmetic speed: the nearest step of `1 + 10 log10 S`. None for zero and below.
    pub fn named(&self, speed: f64) -> Option<Named> {
        let exact = 1.0 + 10.0 * speed.log10();
        if !exact.is_finite() {
            return None;
        }
        #[allow(
            clippy::cast_possible_truncation,
            reason = "ten times the logarithm of a number is a small one"
        )]
        let degrees = (exact + 0.5).floor() as i32;
        let index = usize::try_from(degrees - self.speeds.lowest_degrees).ok();
        Some(Named { degrees, label: index.and_then(|index| self.speeds.series.get(index).copied()) })
    }

    /// The grade whose band of log exposure range holds this range; the softer one where two meet.
    pub fn grade_for(&self, range: f64) -> Option<&PaperGrade> {
        self.grades.iter().find(|grade| (grade.low..=grade.high).contains(&range))
    }
}
