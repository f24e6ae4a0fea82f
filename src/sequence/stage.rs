//! What an ingredient is to the order of mixing, told by its roles and classes, never by its name.
//!
//! Order is told by role and class, never by name, and ties go by rank, then id, so that the file's own order never matters.
//! Rejected: ranks alone (no reasons), names (a user's own substance would not take part).

use crate::scale::{Item, Unit};
use crate::substance::{Class, Form, Role, State};

/// The family of a solution: which customs of order apply.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Family {
    /// Holds a developing agent.
    Developer,
    /// Holds thiosulfate and no developing agent.
    Fixer,
    /// Everything else: stop baths, bleaches, toners, sensitizers …
    Other,
}

/// What an ingredient is to the order of mixing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Binds lime.
    Sequestrant,
    /// An organic liquid added to the water.
    Solvent,
    /// A little of the sulfite, taken from the weighed amount.
    Pinch,
    /// Metol and its like: salted out by strong sulfite.
    MetolLike,
    /// Neutral or alkaline sulfite.
    Sulfite,
    /// Formaldehyde and what releases it.
    Aldehyde,
    /// Bisulfite and metabisulfite.
    AcidSulfite,
    /// Acids that are not strong.
    WeakAcid,
    /// Developing agents that dissolve in water or sulfite.
    Agent,
    /// Ascorbic acid itself (not its salts).
    AscorbicAcid,
    /// Carbonate, borate, phosphate, amine.
    Alkali,
    /// Boric acid and other buffers.
    Buffer,
    /// Hydroxides.
    Caustic,
    /// Agents that dissolve only in alkali or sulfite.
    AlkaliSolubleAgent,
    /// Phenidone and its relatives: slow to wet.
    SlowAgent,
    /// Sodium or ammonium thiosulfate.
    Thiosulfate,
    /// Salts without a rule of their own.
    Salt,
    /// Chloride, bromide as halide source, thiocyanate.
    Halide,
    /// Oxidising salts.
    Oxidiser,
    /// Iodine: it dissolves in iodide.
    Iodine,
    /// Permanganate: never crystals and concentrated acid together.
    Permanganate,
    /// Toning agents.
    Toner,
    /// Gold, platinum and palladium salts.
    NobleMetal,
    /// Silver salts.
    Silver,
    /// Potassium alum.
    Alum,
    /// Chromium potassium sulfate.
    ChromeAlum,
    /// Sulfuric, hydrochloric and other strong acids.
    StrongAcid,
    /// Bromide and iodide as restrainers.
    Restrainer,
    /// Benzotriazole and its like.
    Antifoggant,
    /// Amidol: develops without alkali and spoils soonest.
    Amidol,
    /// Coffee, gelatin, starch, sugar, gum.
    Colloid,
    /// Foams.
    WettingAgent,
}

impl Stage {
    /// By role first, then by class, never by name.
    pub fn of(form: &Form) -> Self {
        let role = |role| form.has_role(role);
        let class = |class| form.is_class(class);
        if role(Role::WettingAgent) {
            Self::WettingAgent
        } else if role(Role::DevelopingAgent) || class(&Class::DevelopingAgent) {
            Self::agent(form)
        } else if class(&Class::Sulfite) {
            if class(&Class::AcidicInWater) { Self::AcidSulfite } else { Self::Sulfite }
        } else if class(&Class::Thiosulfate) {
            Self::Thiosulfate
        } else if class(&Class::ChromiumIii) {
            Self::ChromeAlum
        } else if class(&Class::AluminiumSalt) {
            Self::Alum
        } else if class(&Class::SilverSalt) {
            Self::Silver
        } else if class(&Class::Gold) || class(&Class::Platinum) || class(&Class::Palladium) {
            Self::NobleMetal
        } else if class(&Class::Permanganate) {
            Self::Permanganate
        } else if class(&Class::Aldehyde) {
            Self::Aldehyde
        } else if class(&Class::StrongAcid) {
            Self::StrongAcid
        } else if class(&Class::Sulfide) || class(&Class::Thiourea) || class(&Class::Selenium) {
            Self::Toner
        } else if class(&Class::StrongAlkali) {
            Self::Caustic
        } else if class(&Class::Thiocyanate) {
            Self::Halide
        } else if class(&Class::Iodine) {
            Self::Iodine
        } else {
            Self::by_role(form)
        }
    }

    fn agent(form: &Form) -> Self {
        if form.is_class(&Class::MetolLike) {
            Self::MetolLike
        } else if form.is_class(&Class::SlowToWet) {
            Self::SlowAgent
        } else if form.is_class(&Class::DissolvesInAlkali) {
            Self::AlkaliSolubleAgent
        } else if form.is_class(&Class::Organic) {
            if form.is_class(&Class::DevelopingAgent) { Self::Colloid } else { Self::Agent }
        } else if form.is_class(&Class::DevelopsWithoutAlkali) {
            Self::Amidol
        } else if form.is_class(&Class::WeakAcid) {
            Self::AscorbicAcid
        } else {
            Self::Agent
        }
    }

    fn by_role(form: &Form) -> Self {
        let role = |role| form.has_role(role);
        if role(Role::Sequestrant) && !role(Role::Acid) && form.is_class(&Class::Chelate)
            || form.is_class(&Class::Phosphate) && role(Role::Sequestrant)
        {
            Self::Sequestrant
        } else if role(Role::Alkali) {
            Self::Alkali
        } else if role(Role::Acid) || form.is_class(&Class::Acid) {
            Self::WeakAcid
        } else if role(Role::Buffer) {
            Self::Buffer
        } else if role(Role::Antifoggant) {
            Self::Antifoggant
        } else if form.is_class(&Class::Organic) && role(Role::Solvent) {
            Self::Solvent
        } else if role(Role::Colloid) || form.is_class(&Class::Organic) {
            Self::Colloid
        } else if role(Role::Restrainer) {
            Self::Restrainer
        } else if role(Role::HalideSource) {
            Self::Halide
        } else if role(Role::Oxidiser) || role(Role::Bleach) || role(Role::Sensitiser) {
            Self::Oxidiser
        } else if role(Role::Toner) {
            Self::Toner
        } else {
            Self::Salt
        }
    }

    /// Place among ingredients that no rule orders, by family.
    pub fn rank(self, family: Family) -> u32 {
        match family {
            Family::Developer => self.developer_rank(),
            Family::Fixer => self.fixer_rank(),
            Family::Other => self.other_rank(),
        }
    }

    fn developer_rank(self) -> u32 {
        match self {
            Self::Sequestrant => 5,
            Self::Solvent => 8,
            Self::Pinch => 10,
            Self::MetolLike => 20,
            Self::Sulfite => 30,
            Self::Aldehyde => 32,
            Self::AcidSulfite => 35,
            Self::WeakAcid => 38,
            Self::Agent => 40,
            Self::AscorbicAcid => 42,
            Self::Toner
            | Self::Oxidiser
            | Self::Iodine
            | Self::Permanganate
            | Self::NobleMetal
            | Self::Silver => 45,
            Self::Alkali => 50,
            Self::Buffer => 55,
            Self::Caustic => 60,
            Self::AlkaliSolubleAgent => 65,
            Self::Salt => 75,
            Self::Halide => 80,
            Self::Restrainer => 85,
            Self::SlowAgent => 86,
            Self::Antifoggant => 87,
            Self::Thiosulfate => 88,
            Self::Alum => 90,
            Self::ChromeAlum => 91,
            Self::StrongAcid => 92,
            Self::Colloid => 93,
            Self::Amidol => 95,
            Self::WettingAgent => 99,
        }
    }

    fn fixer_rank(self) -> u32 {
        match self {
            Self::Sequestrant => 5,
            Self::Thiosulfate => 10,
            Self::Halide | Self::Salt => 15,
            Self::Sulfite => 20,
            Self::Alkali => 25,
            Self::AcidSulfite => 30,
            Self::WeakAcid => 35,
            Self::StrongAcid => 36,
            Self::Buffer => 40,
            Self::Alum => 50,
            Self::ChromeAlum => 55,
            Self::WettingAgent => 99,
            _ => 45,
        }
    }

    fn other_rank(self) -> u32 {
        match self {
            Self::Sequestrant => 5,
            Self::Sulfite => 10,
            Self::Halide => 18,
            Self::Salt => 20,
            Self::Oxidiser => 22,
            Self::Alkali => 24,
            Self::Thiosulfate => 26,
            Self::Toner => 30,
            Self::Buffer => 32,
            Self::AcidSulfite => 50,
            Self::Alum => 55,
            Self::ChromeAlum => 56,
            Self::WeakAcid => 60,
            Self::NobleMetal => 62,
            Self::Silver => 63,
            Self::StrongAcid => 65,
            Self::Permanganate => 66,
            Self::Iodine => 68,
            Self::Caustic => 70,
            Self::Aldehyde => 72,
            Self::Solvent => 80,
            Self::Colloid => 82,
            Self::WettingAgent => 99,
            _ => 40,
        }
    }
}

/// What a part holds, as far as order and water depend on it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(clippy::struct_excessive_bools, reason = "each is one plain fact about the contents")]
pub struct Contents {
    /// Which customs apply.
    pub family: Family,
    /// Neutral sulfite is there.
    pub sulfite: bool,
    /// Bisulfite or metabisulfite is there.
    pub acid_sulfite: bool,
    /// Ascorbic acid or a salt of it guards the agents in place of sulfite.
    pub ascorbate_guard: bool,
    /// Of sodium or potassium.
    pub carbonate: bool,
    /// Mild or caustic.
    pub alkali: bool,
    /// Acid or alum is there.
    pub acid: bool,
    /// Alum of either kind is there.
    pub alum: bool,
    /// Alum with hypo and nothing that keeps sulfur from falling out: a hot toner that works by it.
    pub hot_alum_toner: bool,
    /// A solid weak acid stands beside sulfite.
    pub solid_acid_with_sulfite: bool,
    /// Formaldehyde or what releases it is there.
    pub aldehyde: bool,
    /// Crystals of hypo that chill the water are there.
    pub chilling_hypo: bool,
    /// Triethanolamine and the like.
    pub amine: bool,
    /// An ingredient goes in to an end point.
    pub end_point: bool,
    /// A silver salt is there.
    pub silver: bool,
    /// Sulfuric, hydrochloric or the like.
    pub strong_acid: bool,
    /// Selenium as such is there.
    pub selenium: bool,
    /// Metol or its like is there.
    pub metol: bool,
    /// In which iodine dissolves.
    pub iodide: bool,
    /// How many ingredients there are.
    pub count: usize,
}

impl Contents {
    /// Reads the items of a part.
    pub fn of(items: &[Item]) -> Self {
        let stages: Vec<Stage> = items.iter().map(|item| Stage::of(&item.form)).collect();
        let has = |stage: Stage| stages.contains(&stage);
        let class = |class: &Class| items.iter().any(|item| item.form.is_class(class));
        let agent = class(&Class::DevelopingAgent);
        let sulfite = has(Stage::Sulfite);
        let ascorbate =
            items.iter().any(|item| item.form.is_class(&Class::DevelopingAgent) && is_ascorbate(&item.form));
        Self {
            family: if agent {
                Family::Developer
            } else if has(Stage::Thiosulfate) {
                Family::Fixer
            } else {
                Family::Other
            },
            sulfite,
            acid_sulfite: has(Stage::AcidSulfite),
            ascorbate_guard: ascorbate && !sulfite && !has(Stage::AcidSulfite),
            carbonate: class(&Class::Carbonate),
            alkali: has(Stage::Alkali) || has(Stage::Caustic),
            acid: has(Stage::WeakAcid) || has(Stage::StrongAcid) || has(Stage::AcidSulfite),
            alum: has(Stage::Alum) || has(Stage::ChromeAlum),
            hot_alum_toner: has(Stage::Thiosulfate)
                && has(Stage::Alum)
                && !sulfite
                && !has(Stage::AcidSulfite),
            solid_acid_with_sulfite: sulfite
                && items
                    .iter()
                    .any(|item| Stage::of(&item.form) == Stage::WeakAcid && is_weighed_solid(item)),
            aldehyde: has(Stage::Aldehyde),
            chilling_hypo: items.iter().any(|item| {
                Stage::of(&item.form) == Stage::Thiosulfate && is_weighed_solid(item) && chills(item)
            }),
            amine: class(&Class::Amine),
            end_point: items.iter().any(|item| item.until.is_some()),
            silver: has(Stage::Silver),
            strong_acid: has(Stage::StrongAcid),
            selenium: class(&Class::Selenium) && sulfite,
            metol: has(Stage::MetolLike),
            iodide: class(&Class::Iodide),
            count: items.len(),
        }
    }
}

/// Ascorbic acid, its isomer, and their salts.
pub(super) fn is_ascorbate(form: &Form) -> bool {
    form.is_class(&Class::Ascorbate) || Stage::of(form) == Stage::AscorbicAcid
}

/// Heat of solution from which a solid chills its water so that one notices, kJ/mol: hypo crystals take up 47, the dry salt gives off 8.
const CHILLS_FROM_KJ_PER_MOL: f64 = 15.0;

/// Whether a solid chills its water strongly.
pub(super) fn chills(item: &Item) -> bool {
    item.form.heat_of_solution.as_ref().is_some_and(|own| own.kj_per_mol >= CHILLS_FROM_KJ_PER_MOL)
}

/// Whether it is a solid weighed out (rather than a liquid, a dose or a measured solution).
pub(super) fn is_weighed_solid(item: &Item) -> bool {
    item.unit == Unit::Gram && item.dose.is_none() && item.form.state == State::Solid
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;

    #[test]
    fn a_wetting_agent_goes_in_last_for_it_foams() {
        // Common practice, no source.
        let form = Library::shipped().form("wetting-agent").unwrap();
        assert_eq!(Stage::of(&form), Stage::WettingAgent);
    }
}
