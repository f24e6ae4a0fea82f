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

    #[test]
    fn what_a_thing_is_to_the_order_follows_what_it_does() {
        // Common practice, no source, where the rules name none.
        let library = Library::shipped();
        for (id, stage) in [
            ("metol", Stage::MetolLike),
            ("hydroquinone", Stage::Agent),
            ("pyrogallol", Stage::Agent),
            ("phenidone", Stage::SlowAgent),
            ("glycin", Stage::AlkaliSolubleAgent),
            ("amidol", Stage::Amidol),
            ("ascorbic-acid", Stage::AscorbicAcid),
            ("coffee-instant", Stage::Colloid),
            ("sodium-sulfite-anhydrous", Stage::Sulfite),
            ("sodium-bisulfite", Stage::AcidSulfite),
            ("potassium-metabisulfite", Stage::AcidSulfite),
            ("ammonium-thiosulfate-60", Stage::Thiosulfate),
            ("chrome-alum", Stage::ChromeAlum),
            ("potassium-alum-dodecahydrate", Stage::Alum),
            ("silver-nitrate", Stage::Silver),
            ("tetrachloroauric-acid-trihydrate", Stage::NobleMetal),
            ("palladium-chloride", Stage::NobleMetal),
            ("potassium-permanganate", Stage::Permanganate),
            ("formaldehyde-37", Stage::Aldehyde),
            ("sulfuric-acid", Stage::StrongAcid),
            ("sodium-sulfide-nonahydrate", Stage::Toner),
            ("thiourea", Stage::Toner),
            ("selenium", Stage::Toner),
            ("sodium-hydroxide", Stage::Caustic),
            ("potassium-thiocyanate", Stage::Halide),
            ("iodine", Stage::Iodine),
            ("edta-disodium-dihydrate", Stage::Sequestrant),
            ("sodium-carbonate-anhydrous", Stage::Alkali),
            ("triethanolamine", Stage::Alkali),
            ("acetic-acid-28", Stage::WeakAcid),
            ("citric-acid-monohydrate", Stage::WeakAcid),
            ("boric-acid", Stage::Buffer),
            ("benzotriazole", Stage::Antifoggant),
            ("ethanol", Stage::Solvent),
            ("gelatin", Stage::Colloid),
            ("potassium-bromide", Stage::Restrainer),
            ("potassium-dichromate", Stage::Oxidiser),
            ("potassium-ferricyanide", Stage::Oxidiser),
        ] {
            assert_eq!(Stage::of(&library.form(id).unwrap()), stage, "{id}");
        }
    }

    #[test]
    fn what_a_part_holds_is_read_off_its_ingredients() {
        use crate::sequence::tests::items;
        let of = |ingredients: &[(&str, &str)]| Contents::of(&items(ingredients));
        let ascorbic = ("ascorbic-acid", "grams = 10");
        let (sulfite, bisulfite) =
            (("sodium-sulfite-anhydrous", "grams = 20"), ("sodium-bisulfite", "grams = 20"));
        let (hypo, alum) = (
            ("sodium-thiosulfate-pentahydrate", "grams = 200"),
            ("potassium-alum-dodecahydrate", "grams = 20"),
        );
        let bromide = ("potassium-bromide", "grams = 5");
        // Ascorbic acid guards in place of sulfite, where there is neither sulfite nor bisulfite.
        assert!(of(&[ascorbic]).ascorbate_guard && of(&[bromide, ascorbic]).ascorbate_guard);
        for preserved in [&[ascorbic, sulfite][..], &[ascorbic, bisulfite], &[("metol", "grams = 2")]] {
            assert!(!of(preserved).ascorbate_guard, "{preserved:?}");
        }
        // Hypo with alum and nothing that keeps the sulfur in.
        assert!(of(&[hypo, alum]).hot_alum_toner);
        for calm in [&[hypo][..], &[alum], &[hypo, alum, sulfite], &[hypo, alum, bisulfite]] {
            assert!(!of(calm).hot_alum_toner, "{calm:?}");
        }
        // A solid acid beside sulfite, a liquid one not.
        let (solid, liquid) =
            (("citric-acid-monohydrate", "grams = 5"), ("acetic-acid-28", "millilitres = 50"));
        assert!(of(&[sulfite, solid]).solid_acid_with_sulfite);
        assert!(!of(&[solid]).solid_acid_with_sulfite && !of(&[sulfite, liquid]).solid_acid_with_sulfite);
        assert!(!of(&[sulfite, bromide]).solid_acid_with_sulfite);
        // Crystals chill by 47 kJ/mol; the dry salt and the liquid do not.
        assert!(of(&[bromide, hypo]).chilling_hypo);
        for warm in ["sodium-thiosulfate-anhydrous", "ammonium-thiosulfate-60"] {
            let amount = if warm.ends_with("60") { "millilitres = 100" } else { "grams = 100" };
            assert!(!of(&[(warm, amount)]).chilling_hypo, "{warm}");
        }
        let urea_like = of(&[("ammonium-chloride", "grams = 50")]);
        assert!(!urea_like.chilling_hypo, "it chills and is no hypo");
        // One end point is enough.
        let until = ("sodium-bisulfite", "grams = 20\nuntil = \"it is acid\"");
        assert!(of(&[until, bromide]).end_point && !of(&[bromide]).end_point);
        // Acid of any kind, alkali of any kind, alum of either kind.
        for acid in [solid, liquid, bisulfite, ("sulfuric-acid", "millilitres = 5")] {
            assert!(of(&[bromide, acid]).acid && !of(&[bromide, acid]).alkali, "{acid:?}");
        }
        for alkali in [("sodium-carbonate-anhydrous", "grams = 20"), ("sodium-hydroxide", "grams = 5")] {
            assert!(of(&[bromide, alkali]).alkali && !of(&[bromide, alkali]).acid, "{alkali:?}");
        }
        assert!(of(&[alum]).alum && of(&[("chrome-alum", "grams = 20")]).alum && !of(&[hypo]).alum);
        // Selenium needs sulfite to be dissolved in.
        let selenium = ("selenium", "grams = 5");
        assert!(of(&[selenium, sulfite]).selenium && !of(&[selenium]).selenium && !of(&[sulfite]).selenium);
        // The customs: an agent makes a developer, hypo without one a fixer.
        assert_eq!(of(&[hypo, ("metol", "grams = 2")]).family, Family::Developer);
        assert_eq!((of(&[hypo]).family, of(&[sulfite]).family), (Family::Fixer, Family::Other));
    }

    #[test]
    fn a_weighed_solid_is_neither_liquid_nor_dose_nor_solution() {
        use crate::sequence::tests::items;
        for (id, amount, is_weighed) in [
            ("potassium-bromide", "grams = 5", true),
            ("potassium-bromide", "grams = 0.5", false),
            ("potassium-bromide", "millilitres = 50\nstrength = \"10 % w/v\"", false),
            ("acetic-acid", "grams = 50", false),
            ("acetic-acid", "millilitres = 50", false),
        ] {
            assert_eq!(is_weighed_solid(&items(&[(id, amount)])[0]), is_weighed, "{id} {amount}");
        }
    }

    #[test]
    fn the_acid_and_its_salt_are_both_ascorbate() {
        let library = Library::shipped();
        for (id, is_it) in [("ascorbic-acid", true), ("sodium-ascorbate", true), ("hydroquinone", false)] {
            assert_eq!(is_ascorbate(&library.form(id).unwrap()), is_it, "{id}");
        }
    }
}
