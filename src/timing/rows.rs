//! The rows of `timing.toml` by themselves: figures and the conditions between which they hold.

use std::collections::BTreeSet;

use super::figure::TimingFigure;
use crate::quantity::MixRatio;

/// A composition that a developer may have.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Composition {
    only_agents: BTreeSet<String>,
    all_agents: BTreeSet<String>,
    any_substance: BTreeSet<String>,
}

impl Composition {
    pub(super) fn new(only_agents: Vec<String>, all_agents: Vec<String>, any_substance: Vec<String>) -> Self {
        let set = |names: Vec<String>| names.into_iter().collect();
        Self { only_agents: set(only_agents), all_agents: set(all_agents), any_substance: set(any_substance) }
    }

    /// Whether agents (under their timing names) and substances are so composed.
    pub(super) fn fits(&self, agents: &BTreeSet<String>, substances: &BTreeSet<String>) -> bool {
        (self.only_agents.is_empty() || self.only_agents == *agents)
            && self.all_agents.is_subset(agents)
            && (self.any_substance.is_empty() || !self.any_substance.is_disjoint(substances))
    }
}

/// A class of developers.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Class {
    pub(super) name: String,
    pub(super) composition: Composition,
}

/// A kind of developer that is not timed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Refused {
    pub(super) name: String,
    pub(super) composition: Composition,
    pub(super) reason: String,
}

/// To which developers a coefficient or an exponent belongs.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Scope {
    Formulas(Vec<String>),
    Agents(BTreeSet<String>),
    Class(String),
    Any,
}

/// A temperature coefficient or a dilution exponent with the range of its data.
#[derive(Debug, Clone, PartialEq)]
pub struct Coefficient {
    /// Of the row in the table, or what the user gave, in words.
    pub name: String,
    /// k in 1/°C, or the exponent p.
    pub figure: TimingFigure,
    /// For a dilution: ln of the factor by which 1+1 lies off the straight law.
    pub bend: Option<TimingFigure>,
    /// Range of the data behind it: °C, or total over stock; none where nothing limits it.
    pub range: Option<(f64, f64)>,
    pub(super) scope: Option<Scope>,
}

impl Coefficient {
    /// One that belongs to no row of the table: given by the user.
    pub fn given(name: String, figure: TimingFigure) -> Self {
        Self { name, figure, bend: None, range: None, scope: None }
    }

    /// Whether it is a row of the table, so that the scatter of published tables applies to it.
    pub fn is_from_books(&self) -> bool {
        self.scope.is_some()
    }
}

/// One side of a relation between developers.
#[derive(Debug, Clone, PartialEq)]
pub struct RelationSide {
    /// Id of the formula.
    pub formula: String,
    /// Dilution as typed.
    pub dilution: MixRatio,
    /// Temperature, °C.
    pub celsius: f64,
    /// Way of agitation, where the relation holds for one only.
    pub agitation: Option<String>,
}

/// Two conditions under which a film needs times in a certain ratio.
#[derive(Debug, Clone, PartialEq)]
pub struct DeveloperRelation {
    /// The first.
    pub from: RelationSide,
    /// The second.
    pub to: RelationSide,
    /// Time at the second over time at the first.
    pub figure: TimingFigure,
}

/// What no single figure knows, each nine in ten in ln t.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// Rounding of printed times.
    pub floor: f64,
    /// How far films differ, per °C.
    pub per_degree: f64,
    /// How far films differ in the ratio of two developers.
    pub swap: f64,
    /// What a typed coefficient leaves open, per °C.
    pub typed_per_degree: f64,
}

/// How well times of the user's own are known, each nine in ten in ln t.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnErrors {
    /// Judged right by eye.
    pub judged_right: f64,
    /// A time that was used, and nobody said how it came out.
    pub not_judged: f64,
    /// Known from one side only.
    pub one_sided: f64,
    /// Of the time for the normal gradient against the one judged right.
    pub own_normal: f64,
}

/// Use at a higher index.
#[derive(Debug, Clone, PartialEq)]
pub struct Push {
    /// Time for one stop.
    pub figure: TimingFigure,
    /// Most stops either way.
    pub most_stops: f64,
}

/// What a step of contrast means, and which gradient is normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GradientRule {
    /// Most steps either way.
    pub most_steps: f64,
    /// log exposure range of a normal subject.
    pub subject_range: f64,
    /// Flare, log exposure.
    pub flare: f64,
    /// One step in log exposure.
    pub step: f64,
    /// How well a gradient is read.
    pub reading_error: f64,
    /// That of a negative for normal paper.
    pub normal: f64,
}

/// Where warnings begin and answers end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "each field is its name and unit; the file says where from")]
pub struct TimingLimits {
    pub coldest_celsius: f64,
    pub hottest_celsius: f64,
    pub hydroquinone_cold_celsius: f64,
    pub hydroquinone_inactive_celsius: f64,
    pub gelatin_soft_celsius: f64,
    pub shortest_minutes: f64,
    pub longest_minutes: f64,
    pub doubtful_degrees: f64,
    pub beyond_data_degrees: f64,
    pub usual_celsius: f64,
    pub usual_paper_celsius: f64,
    pub farthest_dilution: f64,
    pub roll_cm2: f64,
}

/// One published factor.
#[derive(Debug, Clone, PartialEq)]
pub struct FactorialRow {
    /// Agents, by their timing names.
    pub agents: BTreeSet<String>,
    /// Strength of the bath, where the factor holds for one only.
    pub strength: Option<String>,
    /// For a soft negative.
    pub soft: Option<f64>,
    /// For a strong negative.
    pub strong: Option<f64>,
    /// Normal in the middle, soft and strong as ends.
    pub figure: TimingFigure,
}
