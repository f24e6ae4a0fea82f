//! The table of all factors, `timing.toml`: what it holds, and which row belongs to a developer. [`super::check`] reads it.

use std::collections::BTreeSet;
use std::rc::Rc;

use super::TimingError;
use super::agitation::Agitation;
use super::contrast::Shape;
use super::developer::Developer;
use super::factorial::FactorialRow;
use super::figure::Figure;
use super::judging::{Foot, SpeedClass};
use crate::diagnostic::{Finding, TableSource};
use crate::quantity::MixRatio;
use crate::suggestion;

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

    /// Whether a developer is so composed.
    pub(super) fn fits(&self, developer: &Developer) -> bool {
        (self.only_agents.is_empty() || self.only_agents == developer.agents)
            && self.all_agents.is_subset(&developer.agents)
            && (self.any_substance.is_empty() || !self.any_substance.is_disjoint(&developer.substances))
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
    /// Of what.
    pub name: String,
    /// k in 1/°C, or the exponent p.
    pub figure: Figure,
    /// For a dilution: ln of the factor by which 1+1 lies off the straight law.
    pub bend: Option<Figure>,
    /// Range of the data behind it: °C, or total over stock; none where nothing limits it.
    pub range: Option<(f64, f64)>,
    pub(super) scope: Option<Scope>,
}

impl Coefficient {
    /// One that belongs to no row of the table: given by the user.
    pub fn given(name: String, figure: Figure) -> Self {
        Self { name, figure, bend: None, range: None, scope: None }
    }

    /// Whether it is a row of the table, so that the scatter of published tables applies to it.
    pub fn is_from_books(&self) -> bool {
        self.scope.is_some()
    }
}

/// One side of a relation between developers.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
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
pub struct Relation {
    /// The first.
    pub from: Side,
    /// The second.
    pub to: Side,
    /// Time at the second over time at the first.
    pub figure: Figure,
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
    /// Not judged.
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
    pub figure: Figure,
    /// Most stops either way.
    pub most_stops: f64,
}

/// Gradients.
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
    /// The normal gradient.
    pub normal: f64,
}

/// Where warnings begin and answers end.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "each field is its name and unit; the file says where from")]
pub struct Limits {
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

/// All factors between formulas, temperatures, dilutions and ways of agitation.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    pub(super) agents: Vec<(String, Vec<String>)>,
    pub(super) classes: Vec<Class>,
    pub(super) refused: Vec<Refused>,
    pub(super) temperature: Vec<Rc<Coefficient>>,
    pub(super) dilution: Vec<Rc<Coefficient>>,
    pub(super) agitation: Vec<Agitation>,
    pub(super) speed: Vec<SpeedClass>,
    pub(super) contrast: Vec<Shape>,
    pub(super) foot: Foot,
    /// Relations between developers.
    pub relations: Vec<Relation>,
    /// Scatter of published temperature tables.
    pub scatter: Scatter,
    /// What a developer without a relation is worth against its nearest relative.
    pub guess: Figure,
    /// Distance in composition beyond which nothing is guessed.
    pub guess_farthest: f64,
    /// Gradients and steps of contrast.
    pub gradient: GradientRule,
    /// Use at a higher index.
    pub push: Push,
    /// How well own times are known.
    pub own: OwnErrors,
    /// Limits.
    pub limits: Limits,
    /// Factors of factorial development.
    pub factorial: Vec<FactorialRow>,
}

impl Table {
    /// Reads the table; `file` names it in messages.
    ///
    /// # Errors
    /// Everything wrong in it, with lines.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>, file: &str) -> Result<Self, Vec<Finding>> {
        super::check::table(source.into(), file)
    }

    /// Developing agents among substances, under their timing names.
    pub fn agents_among(&self, substances: &BTreeSet<String>) -> BTreeSet<String> {
        let of = |members: &Vec<String>| members.iter().any(|member| substances.contains(member));
        self.agents.iter().filter(|(_, members)| of(members)).map(|(name, _)| name.clone()).collect()
    }

    /// The timing name of an agent: its own, or that of a substance that counts as it.
    pub fn agent_named(&self, text: &str) -> Option<&str> {
        let wanted = text.trim().to_lowercase().replace([' ', '_'], "-");
        self.agents
            .iter()
            .find(|(name, members)| *name == wanted || members.contains(&wanted))
            .map(|(name, _)| name.as_str())
    }

    /// Temperature coefficient of a developer: by formula, else agents, else class, else that of an unknown one.
    pub fn temperature_of(&self, developer: &Developer) -> Option<Rc<Coefficient>> {
        self.best(&self.temperature, |row| row.scope.as_ref(), developer).cloned()
    }

    /// Dilution exponent of a developer: by formula, else class, else that of an unknown one.
    pub fn dilution_of(&self, developer: &Developer) -> Option<Rc<Coefficient>> {
        self.best(&self.dilution, |row| row.scope.as_ref(), developer).cloned()
    }

    /// How time grows with the gradient in a developer: by class, else that of any.
    pub(super) fn shape_of(&self, developer: &Developer) -> Option<&Shape> {
        self.best(&self.contrast, |row| row.scope.as_ref(), developer)
    }

    fn best<'a, T>(
        &self,
        rows: &'a [T],
        scope: impl Fn(&T) -> Option<&Scope>,
        developer: &Developer,
    ) -> Option<&'a T> {
        let class =
            self.classes.iter().find(|class| class.composition.fits(developer)).map(|class| &class.name);
        let rank = |row: &T| match scope(row)? {
            Scope::Formulas(ids) => (developer.is_shipped && ids.contains(&developer.id)).then_some(0),
            Scope::Agents(agents) => (*agents == developer.agents).then_some(1),
            Scope::Class(name) => (Some(name) == class).then_some(2),
            Scope::Any => Some(3),
        };
        rows.iter()
            .filter_map(|row| Some((rank(row)?, row)))
            .min_by_key(|(rank, _)| *rank)
            .map(|(_, row)| row)
    }

    /// Whether the table says anything of a formula by its id.
    pub fn names_formula(&self, id: &str) -> bool {
        let by_scope = |row: &Rc<Coefficient>| matches!(&row.scope, Some(Scope::Formulas(ids)) if ids.iter().any(|own| own == id));
        self.relations.iter().any(|relation| relation.from.formula == id || relation.to.formula == id)
            || self.temperature.iter().any(by_scope)
            || self.dilution.iter().any(by_scope)
    }

    /// All ids of formulas that the table names, for a test that they exist.
    pub fn formula_ids(&self) -> BTreeSet<String> {
        let mut ids = BTreeSet::new();
        for relation in &self.relations {
            ids.insert(relation.from.formula.clone());
            ids.insert(relation.to.formula.clone());
        }
        for row in self.temperature.iter().chain(&self.dilution) {
            if let Some(Scope::Formulas(own)) = &row.scope {
                ids.extend(own.iter().cloned());
            }
        }
        ids
    }

    /// The way of agitation that is meant.
    ///
    /// # Errors
    /// An unknown one, or one that no factor reaches.
    pub fn agitation(&self, name: &str) -> Result<(&Agitation, &Figure), TimingError> {
        let found = self.agitation_named(name, false)?;
        match &found.factor {
            Ok(figure) => Ok((found, figure)),
            Err(reason) => {
                Err(TimingError::AgitationRefused { words: found.words.clone(), reason: reason.clone() })
            }
        }
    }

    /// The way of agitation that a name, another name for it or its words mean; with `untimed` also one that has no factor is offered.
    ///
    /// # Errors
    /// No way is called so; with those that are, and a near one.
    pub fn agitation_named(&self, name: &str, untimed: bool) -> Result<&Agitation, TimingError> {
        let wanted = name.trim().to_lowercase().replace([' ', '_'], "-");
        let offered = self.agitation.iter().filter(|one| untimed || one.factor.is_ok());
        let all_names = offered
            .clone()
            .flat_map(|one| std::iter::once(&one.name).chain(&one.aliases).map(String::as_str));
        let means = |one: &&Agitation| one.name == wanted || one.aliases.contains(&wanted);
        self.agitation.iter().find(means).ok_or_else(|| TimingError::UnknownAgitation {
            name: name.trim().to_owned(),
            known: offered.map(|one| format!("{} ({})", one.name, one.words)).collect::<Vec<_>>().join(", "),
            near: suggestion::nearest(&wanted, all_names).map(str::to_owned),
        })
    }

    /// All ways of agitation.
    pub fn agitations(&self) -> &[Agitation] {
        &self.agitation
    }

    /// Why a way of agitation is refused.
    pub(super) fn agitation_refused(&self, name: &str) -> Option<&str> {
        let found = self.agitation.iter().find(|one| one.name == name)?;
        found.factor.as_ref().err().map(String::as_str)
    }

    /// The class of a developer by the film speed it gives.
    pub(super) fn speed_of(&self, developer: &Developer) -> Option<&SpeedClass> {
        self.speed.iter().find(|class| class.composition.fits(developer))
    }

    /// The temperature meant where none is said, °C: that of film or of paper.
    pub fn usual_celsius(&self, setup: &super::model::Setup) -> f64 {
        self.usual_celsius_of(&setup.developer, &setup.working)
    }

    /// The same of a developer in a working solution.
    pub fn usual_celsius_of(&self, developer: &Developer, working: &super::dilution::Working) -> f64 {
        let is_paper = developer.is_for_paper(working);
        if is_paper { self.limits.usual_paper_celsius } else { self.limits.usual_celsius }
    }

    /// Stops of exposure to add for a shadow of a net density, where the threshold was meant.
    pub fn exposure_stops(&self, net_density: f64) -> Option<f64> {
        self.foot.stops(net_density)
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub(in crate::timing) fn shipped() -> Table {
        Table::parse(include_str!("../../formulas/tables/timing.toml"), "timing.toml").unwrap()
    }

    #[test]
    fn the_shipped_table_is_sound() {
        let table = shipped();
        assert!(table.relations.len() >= 8);
        assert_eq!(table.agent_named("pyrogallol"), Some("pyro"));
        assert_eq!(table.agent_named("Pyro"), Some("pyro"));
        assert!(table.agitation("rotary").is_ok());
        assert!(matches!(table.agitation("stand"), Err(TimingError::AgitationRefused { .. })));
        assert!(matches!(table.agitation("rotry"), Err(TimingError::UnknownAgitation { near: Some(_), .. })));
    }

    #[test]
    fn mistakes_in_the_table_are_told_with_their_line() {
        let text = include_str!("../../formulas/tables/timing.toml");
        for (old, new, code) in [
            ("source = \"clerc-573\"", "source = \"clerk-573\"", "unknown-source"),
            ("source = \"clerc-573\"\n", "", "no-source"),
            ("class = \"pyro-carbonate\"", "class = \"pyro\"", "unknown-class"),
            ("central = 1.15", "central = 1.25", "figure"),
            ("central = 1.15", "centre = 1.15", "unknown-key"),
            ("dilution = \"1+50\"", "dilution = \"1:50\"", "dilution"),
            ("from_celsius = 12.8", "from_celsius = 40", "range"),
            ("format = 1", "format = 2", "format"),
        ] {
            let broken = text.replacen(old, new, 1);
            assert_ne!(broken, text, "{old}");
            let findings = Table::parse(&broken, "timing.toml").unwrap_err();
            assert!(
                findings.iter().any(|finding| finding.code == code && finding.line.is_some()),
                "{code}: {findings:?}"
            );
        }
    }
}
