//! The table of all factors, `timing.toml`, and what is found in it by name. [`super::check`] reads it, [`super::belongs`] says which
//! row belongs to a developer.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::TimingError;
use super::agitation::Agitation;
use super::contrast::Shape;
use super::figure::TimingFigure;
use super::judging::{Foot, SpeedClass};
use super::rows::{
    Class, Coefficient, DeveloperRelation, FactorialRow, GradientRule, OwnErrors, Push, Refused, Scatter,
    Scope, TimingLimits,
};
use crate::suggestion;

/// All factors between formulas, temperatures, dilutions and ways of agitation.
#[derive(Debug, Clone, PartialEq)]
pub struct TimingTable {
    pub(super) agents: Vec<(String, Vec<String>)>,
    pub(super) classes: Vec<Class>,
    pub(super) refused: Vec<Refused>,
    pub(super) temperature: Vec<Arc<Coefficient>>,
    pub(super) dilution: Vec<Arc<Coefficient>>,
    pub(super) agitation: Vec<Agitation>,
    pub(super) speed: Vec<SpeedClass>,
    pub(super) contrast: Vec<Shape>,
    pub(super) foot: Foot,
    /// Relations between developers.
    pub relations: Vec<DeveloperRelation>,
    /// Scatter of published temperature tables.
    pub scatter: Scatter,
    /// What a developer without a relation is worth against its nearest relative.
    pub guess: TimingFigure,
    /// Distance in composition beyond which nothing is guessed.
    pub guess_farthest: f64,
    /// Gradients and steps of contrast.
    pub gradient: GradientRule,
    /// Use at a higher index.
    pub push: Push,
    /// How well own times are known.
    pub own: OwnErrors,
    /// Temperatures, times and steps.
    pub limits: TimingLimits,
    /// Factors of factorial development.
    pub factorial: Vec<FactorialRow>,
}

impl TimingTable {
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

    /// Whether the table says anything of a formula by its id.
    pub fn names_formula(&self, id: &str) -> bool {
        let by_scope = |row: &Arc<Coefficient>| matches!(&row.scope, Some(Scope::Formulas(ids)) if ids.iter().any(|own| own == id));
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
    pub fn agitation(&self, name: &str) -> Result<(&Agitation, &TimingFigure), TimingError> {
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

    /// Stops of exposure to add for a shadow of a net density, where the threshold was meant.
    pub fn exposure_stops(&self, net_density: f64) -> Option<f64> {
        self.foot.stops(net_density)
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub(in crate::timing) fn shipped() -> TimingTable {
        TimingTable::parse(include_str!("../../formulas/tables/timing.toml"), "timing.toml").unwrap()
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
            let findings = TimingTable::parse(&broken, "timing.toml").unwrap_err();
            assert!(
                findings.iter().any(|finding| finding.code == code && finding.line.is_some()),
                "{code}: {findings:?}"
            );
        }
    }
}
