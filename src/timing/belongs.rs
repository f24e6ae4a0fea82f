//! Which rows of the table belong to a developer: by formula, else by its agents, else by class, else those of any.

use std::sync::Arc;

use super::contrast::Shape;
use super::developer::Developer;
use super::dilution::Working;
use super::judging::SpeedClass;
use super::rows::{Coefficient, Scope};
use super::setup::Setup;
use super::table::TimingTable;

impl TimingTable {
    /// Temperature coefficient of a developer: by formula, else agents, else class, else that of an unknown one.
    pub fn temperature_of(&self, developer: &Developer) -> Option<Arc<Coefficient>> {
        self.best(&self.temperature, |row| row.scope.as_ref(), developer).cloned()
    }

    /// Dilution exponent of a developer: by formula, else class, else that of an unknown one.
    pub fn dilution_of(&self, developer: &Developer) -> Option<Arc<Coefficient>> {
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
        let class = self
            .classes
            .iter()
            .find(|class| class.composition.fits(&developer.agents, &developer.substances))
            .map(|class| &class.name);
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

    /// The class of a developer by the film speed it gives.
    pub(super) fn speed_of(&self, developer: &Developer) -> Option<&SpeedClass> {
        self.speed.iter().find(|class| class.composition.fits(&developer.agents, &developer.substances))
    }

    /// The temperature meant where none is said, °C: that of film or of paper.
    pub fn usual_celsius(&self, setup: &Setup) -> f64 {
        self.usual_celsius_of(&setup.developer, &setup.working)
    }

    /// The same of a developer in a working solution.
    pub fn usual_celsius_of(&self, developer: &Developer, working: &Working) -> f64 {
        let is_paper = developer.is_for_paper(working);
        if is_paper { self.limits.usual_paper_celsius } else { self.limits.usual_celsius }
    }
}
