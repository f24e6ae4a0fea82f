//! What the baths of a formula hold together: sulfite, alkali, species.

use super::{ComparedPh, MeasureValue, PredictPh, facts};
use crate::composition::brought::SpeciesAmounts;
use crate::composition::chemistry::Chemistry;
use crate::composition::{Component, Composer, Composition, first_baths};
use crate::formula::Formula;
use crate::quantity::rounding::show_decimals;
use crate::substance::Role;
use crate::substance::molar::SODIUM_SULFITE_G_PER_MOL;

/// The baths of a formula's first use, with what they bring.
pub(super) struct Baths {
    pub(super) compositions: Vec<Composition>,
    /// All baths together, as the film meets them.
    pub(super) brought: SpeciesAmounts,
    /// Sulfite of the bath that holds most, counted as anhydrous sodium sulfite, g/L.
    pub(super) sulfite_g: f64,
    /// Names of the chemicals that bring alkali, where none of it is left after acid.
    pub(super) spent_alkali: Vec<String>,
    pub(super) ph: Vec<Option<ComparedPh>>,
}

impl Baths {
    pub(super) fn of(formula: &Formula, composer: &Composer<'_>, ph: Option<PredictPh<'_>>) -> Self {
        let compositions: Vec<Composition> =
            first_baths(formula).iter().map(|bath| composer.bath(formula, bath)).collect();
        let brought = SpeciesAmounts::of(&compositions, composer.chemistry());
        let sulfite_g = compositions
            .iter()
            .map(|composition| sulfite_g(composition, composer.chemistry()))
            .fold(0.0, f64::max);
        let ph = compositions.iter().map(|composition| ph.and_then(|predict| predict(composition))).collect();
        let mut baths = Self { compositions, brought, sulfite_g, spent_alkali: Vec::new(), ph };
        if baths.alkalis().is_empty() {
            baths.spent_alkali = baths.alkali_chemicals(composer.chemistry());
        }
        baths
    }

    /// Names of the chemicals that bring alkali.
    pub(super) fn alkali_chemicals(&self, chemistry: &Chemistry) -> Vec<String> {
        let brings = |component: &&Component| {
            chemistry
                .brought_by(&component.parent.id)
                .any(|(species, _)| Alkali::ALL.iter().any(|alkali| alkali.species() == species.name))
        };
        let mut names: Vec<String> = Vec::new();
        for own in self.compositions.iter().flat_map(|composition| &composition.components).filter(brings) {
            if !names.contains(&own.parent.name) {
                names.push(own.parent.name.clone());
            }
        }
        names
    }

    /// g/L of a chemical in its usual form in all baths together; zero where absent, none where unknown.
    pub(super) fn grams(&self, parent: &str) -> Option<f64> {
        self.compositions
            .iter()
            .map(|own| own.component(parent).map_or(Some(0.0), |own| own.grams_per_litre))
            .sum()
    }

    pub(super) fn component(&self, parent: &str) -> Option<&Component> {
        self.compositions.iter().find_map(|composition| composition.component(parent))
    }

    /// The alkalis that are left after acid, strongest first, with their equivalents in mol/L.
    pub(super) fn alkalis(&self) -> Vec<(Alkali, f64)> {
        Alkali::ALL
            .into_iter()
            .map(|alkali| (alkali, self.brought.moles(alkali.species())))
            .filter(|(_, moles)| *moles > LEAST_ALKALI_MOL)
            .collect()
    }
}

/// All sulfite of a bath, counted as anhydrous sodium sulfite, g/L.
pub(super) fn sulfite_g(composition: &Composition, chemistry: &Chemistry) -> f64 {
    SpeciesAmounts::of(std::slice::from_ref(composition), chemistry).moles("sulfite")
        * SODIUM_SULFITE_G_PER_MOL
}

/// Chloride from which it counts as a solvent of silver halide, mol/L; some 6 g/L of salt, common practice.
pub(super) const LEAST_CHLORIDE_MOL: f64 = 0.1;

/// Alkali below this does nothing, mol/L.
const LEAST_ALKALI_MOL: f64 = 0.0005;

/// Kinds of alkali, strongest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Alkali {
    Hydroxide,
    Phosphate,
    Carbonate,
    Borate,
    Triethanolamine,
}

impl Alkali {
    const ALL: [Self; 5] =
        [Self::Hydroxide, Self::Phosphate, Self::Carbonate, Self::Borate, Self::Triethanolamine];

    pub(super) fn species(self) -> &'static str {
        match self {
            Self::Hydroxide => "hydroxide",
            Self::Phosphate => "phosphate",
            Self::Carbonate => "carbonate",
            Self::Borate => "borate",
            Self::Triethanolamine => "triethanolamine",
        }
    }

    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Hydroxide => "caustic",
            Self::Phosphate => "phosphate",
            Self::Carbonate => "carbonate",
            Self::Borate => "borate",
            Self::Triethanolamine => "triethanolamine",
        }
    }

    /// How strong: borate and triethanolamine are alike.
    pub(super) fn strength(self) -> u8 {
        match self {
            Self::Hydroxide => 4,
            Self::Phosphate => 3,
            Self::Carbonate => 2,
            Self::Borate | Self::Triethanolamine => 1,
        }
    }
}

impl Baths {
    /// The developing agents.
    pub(super) fn agents(&self) -> impl Iterator<Item = &Component> {
        self.compositions
            .iter()
            .flat_map(|composition| &composition.components)
            .filter(|component| component.role == Some(Role::DevelopingAgent))
    }

    /// Grams of one agent to grams of another, as the trade tells it.
    pub(super) fn ratio(&self, one: &str, other: &str) -> MeasureValue {
        match (self.grams(one), self.grams(other)) {
            (Some(one), Some(other)) if one > 0.0 && other > 0.0 => MeasureValue::OneTo(other / one),
            _ => MeasureValue::None,
        }
    }

    /// A figure of the predicted pH: a number, or one for each bath in words.
    pub(super) fn of_ph(&self, decimals: usize, figure: fn(&ComparedPh) -> f64) -> MeasureValue {
        match self.ph.as_slice() {
            [Some(only)] => MeasureValue::Number(figure(only)),
            [] | [None] => MeasureValue::None,
            several => {
                let words = |ph: &Option<ComparedPh>| {
                    ph.as_ref().map_or_else(|| "?".to_owned(), |ph| show_decimals(figure(ph), decimals))
                };
                MeasureValue::Words(several.iter().map(words).collect::<Vec<_>>().join(", then "))
            }
        }
    }

    /// How strongly the developer dissolves silver halide, and by what.
    pub(super) fn solvent_action(&self) -> String {
        let mut by = Vec::new();
        if self.brought.moles("thiosulfate") > 0.0 {
            by.push("thiosulfate".to_owned());
        }
        if self.brought.moles("thiocyanate") > 0.0 {
            by.push("thiocyanate".to_owned());
        }
        if self.brought.moles("chloride") > LEAST_CHLORIDE_MOL {
            by.push("chloride".to_owned());
        }
        if self.component("p-phenylenediamine").or(self.component("o-phenylenediamine")).is_some() {
            by.push("phenylenediamine".to_owned());
        }
        if self.sulfite_g > facts::SOLVENT_SULFITE_G {
            by.push("sulfite".to_owned());
        }
        if by.is_empty() { "hardly".to_owned() } else { format!("yes: {}", by.join(", ")) }
    }
}
