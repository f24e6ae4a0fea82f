//! What moves a predicted pH: the slips and doubts that matter at the bench, each worked out by predicting the changed solution again.
//!
//! The size of each slip is a judgement (one percent of bisulfite in sulfite, a pK off by 0.2), so that a figure here says how sensitive
//! a solution is, not how wrong it will be.

use std::sync::Arc;

use super::additions;
use crate::solution::{Addition, Equilibria, Modelling, predict};
use crate::substance::{Form, Role, State};
use crate::vessel::Content;

/// Share of sulfite that is bisulfite in the first case.
const BISULFITE_SHARE: f64 = 0.01;
/// Share of sulfite that is carbonate in the second.
const CARBONATE_SHARE: f64 = 0.002;
/// mol/L of carbon dioxide absorbed from the air.
const CARBON_DIOXIDE: f64 = 0.001;
/// pH above which an open solution takes it up.
const TAKES_UP_ABOVE_PH: f64 = 8.0;
/// Share of hydroquinone that the air has oxidised.
const OXIDISED_SHARE: f64 = 0.05;
/// mol/L of calcium bicarbonate in hard tap water: 200 mg/L as calcium carbonate; common practice, no source.
const HARDNESS: f64 = 0.002;
/// What binds calcium: component, charges that are left of it when it has, and the pH from which it binds it whole (stability of calcium
/// EDTA 10^10.7, of calcium citrate 10^3.5 at an ionic strength of 0.1, from memory).
const BINDERS: [(&str, f64, f64); 3] =
    [("EDTA^4-", 2.0, 6.0), ("DTPA^5-", 3.0, 7.0), ("citrate^3-", 1.0, 6.0)];
/// By how much a doubtful acid constant is moved.
const PK_SHIFT: f64 = 0.2;
const WEIGHING_SLIP: f64 = 0.05;
/// Warmer by so many K.
const WARMER_K: f64 = 5.0;

/// Chemicals (parent ids) that the slips add to those of the formula: carbonate in sulfite and from the air, chloride for the sulfonate,
/// metabisulfite sold as bisulfite. Who reads only the rows of a formula reads these too.
pub const BROUGHT_BY_SLIPS: [&str; 4] =
    ["sodium-carbonate", "sodium-sulfite", "sodium-chloride", "sodium-metabisulfite"];

/// Constants of developing agents that are moved: the name to shift, the component that must be there, by how much, and the words.
const CONSTANTS: &[(&str, &str, f64, &str)] = &[
    ("hydroquinone", "hydroquinone", PK_SHIFT, "pK of hydroquinone 0.2 higher"),
    ("metol+", "metol", -PK_SHIFT, "pK of metol's amine 0.2 lower"),
    ("phenidone", "phenidone", PK_SHIFT, "pK of phenidone 0.2 higher"),
    ("dimezone", "dimezone", PK_SHIFT, "pK of dimezone 0.2 higher"),
    ("pyrogallol", "pyrogallol", PK_SHIFT, "pK of pyrogallol 0.2 higher"),
    ("pyrocatechol", "pyrocatechol", PK_SHIFT, "pK of pyrocatechol 0.2 higher"),
    ("p-aminophenol-", "p-aminophenol", -PK_SHIFT, "pK of p-aminophenol's phenol 0.2 higher"),
    ("ascorbate^2-", "ascorbate-", -PK_SHIFT, "second pK of ascorbic acid 0.2 higher"),
    ("amidol+", "amidol", PK_SHIFT, "pK of amidol's amine 0.2 higher"),
];

/// What kind of slip or doubt it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// A salt as sold is not pure.
    Purity,
    /// A constant of the model is in doubt.
    Constant,
    /// Another form was weighed than the recipe means.
    WrongForm,
    /// Too much or too little was weighed.
    Weighing,
    /// The solution stood in the air.
    Ageing,
    /// The water is hard.
    Water,
    /// The temperature is another.
    Temperature,
}

impl Cause {
    /// The word in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Purity => "purity",
            Self::Constant => "constant",
            Self::WrongForm => "wrong-form",
            Self::Weighing => "weighing",
            Self::Ageing => "ageing",
            Self::Water => "water",
            Self::Temperature => "temperature",
        }
    }
}

/// One slip and what it does.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// What kind.
    pub cause: Cause,
    /// In words, to follow "if".
    pub words: String,
    /// pH then.
    pub ph: f64,
    /// By how much that differs from the prediction.
    pub change: f64,
    /// Whether it is another slip the other way round, so that a short table needs only one of the two.
    pub is_mirror: bool,
}

/// All forms of a chemical, by its parent id.
pub type Siblings<'a> = dyn Fn(&str) -> Vec<Arc<Form>> + 'a;

/// A solution whose pH is known, to be asked what moves it.
struct Subject<'a> {
    equilibria: &'a Equilibria,
    list: &'a [Content],
    additions: Vec<Addition>,
    celsius: f64,
    ph: f64,
    found: Vec<Sensitivity>,
}

/// What moves the pH of a solution, most first. `ph` is its prediction at that temperature.
///
/// A case that the model has no answer for is left out; so is everything when the solution itself cannot be predicted.
pub fn sensitivities(
    equilibria: &Equilibria,
    siblings: &Siblings<'_>,
    list: &[Content],
    celsius: f64,
    ph: f64,
) -> Vec<Sensitivity> {
    let Ok(additions) = additions(equilibria, list, "it") else { return Vec::new() };
    let mut subject = Subject { equilibria, list, additions, celsius, ph, found: Vec::new() };
    subject.sulfite();
    subject.constants();
    subject.other_forms(siblings);
    subject.weighing();
    subject.air();
    subject.hardness();
    subject.warmer();
    subject.found.sort_by(|one, two| {
        two.change.abs().total_cmp(&one.change.abs()).then_with(|| one.words.cmp(&two.words))
    });
    subject.found
}

impl Subject<'_> {
    fn record(
        &mut self,
        cause: Cause,
        words: String,
        equilibria: &Equilibria,
        changed: &[Addition],
        celsius: f64,
    ) {
        if let Ok(prediction) = predict(equilibria, changed, celsius) {
            let ph = prediction.ph;
            self.found.push(Sensitivity { cause, words, ph, change: ph - self.ph, is_mirror: false });
        }
    }

    fn with_additions(&mut self, cause: Cause, words: String, changed: &[Addition]) {
        self.record(cause, words, self.equilibria, changed, self.celsius);
    }

    /// mol/L of a component.
    fn total(&self, component: &str) -> f64 {
        let of = |addition: &Addition| {
            let own = addition.components.iter().filter(|(name, _)| name == component);
            own.map(|(_, count)| count * addition.moles).sum::<f64>()
        };
        self.additions.iter().map(of).sum()
    }

    /// mol/L of neutral sulfite salts: two of an alkali to each sulfite.
    fn sulfite_salts(&self) -> f64 {
        self.additions
            .iter()
            .filter(|addition| is_neutral_sulfite(addition))
            .map(|addition| addition.moles)
            .sum()
    }

    fn sulfite(&mut self) {
        let sulfite = self.sulfite_salts();
        if sulfite <= 0.0 {
            return;
        }
        // Bisulfite is sulfite with one alkali fewer.
        let with_bisulfite = self.with_sulfite(|own| scale_alkali(own, 1.0 - BISULFITE_SHARE / 2.0));
        self.with_additions(Cause::Purity, "1 % of the sulfite is bisulfite".to_owned(), &with_bisulfite);
        let with_carbonate = self.with_sulfite(|own| {
            scale_sulfite(own, 1.0 - CARBONATE_SHARE);
            own.components.push(("CO3^2-".to_owned(), CARBONATE_SHARE));
        });
        self.with_additions(Cause::Purity, "0.2 % of the sulfite is carbonate".to_owned(), &with_carbonate);
    }

    /// The additions, with something done to each neutral sulfite.
    fn with_sulfite(&self, change: impl Fn(&mut Addition)) -> Vec<Addition> {
        let mut changed = self.additions.clone();
        changed.iter_mut().filter(|own| is_neutral_sulfite(own)).for_each(change);
        changed
    }

    fn constants(&mut self) {
        for &(name, component, shift, words) in CONSTANTS {
            if self.total(component) <= 0.0 {
                continue;
            }
            if let Ok(shifted) = self.equilibria.with_shift(name, shift) {
                let same = self.additions.clone();
                self.record(Cause::Constant, words.to_owned(), &shifted, &same, self.celsius);
            }
        }
    }

    /// A hydrate taken for another, and metabisulfite sold as bisulfite.
    fn other_forms(&mut self, siblings: &Siblings<'_>) {
        for content in self.list {
            let form = &content.form;
            if form.state != State::Solid {
                continue;
            }
            for other in siblings(&form.parent.id) {
                let differs = (other.crystal_water - form.crystal_water).abs() > 1e-9;
                if differs && other.state == State::Solid {
                    let words = format!("the jar contains {} instead of {}", other.name, form.name);
                    self.with_form(content, &other, words);
                }
            }
            if form.parent.id == "sodium-bisulfite" {
                for other in siblings("sodium-metabisulfite") {
                    let words = format!("the jar of {} contains {}", form.name, other.name);
                    self.with_form(content, &other, words);
                }
            }
        }
    }

    /// The same grams of another form in its place.
    fn with_form(&mut self, content: &Content, other: &Arc<Form>, words: String) {
        let changed: Vec<Content> = self
            .list
            .iter()
            .map(|one| {
                if one.form.id != content.form.id {
                    return one.clone();
                }
                Content { form: Arc::clone(other), assay: other.assay_fraction(), ..one.clone() }
            })
            .collect();
        if let Ok(changed) = additions(self.equilibria, &changed, "it") {
            self.with_additions(Cause::WrongForm, words, &changed);
        }
    }

    /// Five percent less of each acid, alkali and buffer salt.
    fn weighing(&mut self) {
        let watched = |form: &Form| {
            let roles = [Role::Alkali, Role::Buffer, Role::Acid];
            roles.into_iter().any(|role| form.has_role(role)) && !form.has_role(Role::Preservative)
        };
        for own in self.list.iter().filter(|own| watched(&own.form)) {
            let name = &own.form.name;
            for (share, word) in [(1.0 - WEIGHING_SLIP, "little"), (1.0 + WEIGHING_SLIP, "much")] {
                let changed: Vec<Addition> = self
                    .additions
                    .iter()
                    .map(|one| {
                        let share = if one.substance == *name { share } else { 1.0 };
                        Addition { moles: one.moles * share, ..one.clone() }
                    })
                    .collect();
                self.with_additions(Cause::Weighing, format!("5 % too {word} {name}"), &changed);
            }
            if let Some(last) = self.found.last_mut() {
                last.is_mirror = last.cause == Cause::Weighing;
            }
        }
    }

    fn air(&mut self) {
        if self.ph > TAKES_UP_ABOVE_PH {
            let mut changed = self.additions.clone();
            changed.push(bare("CO3^2-", CARBON_DIOXIDE));
            let words = "1 mmol/L of carbon dioxide absorbed from the air".to_owned();
            self.with_additions(Cause::Ageing, words, &changed);
        }
        let oxidised = self.total("hydroquinone") * OXIDISED_SHARE;
        if oxidised > 0.0 && self.sulfite_salts() > oxidised {
            // Hydroquinone, oxygen and SO3^2- give the singly charged monosulfonate and OH-. A chloride stands for the sulfonate; its
            // own phenol groups are counted as gone, which takes a little too much acid out.
            let sulfite = self.sulfite_salts();
            let mut changed = self.with_sulfite(|own| scale_sulfite(own, 1.0 - oxidised / sulfite));
            for own in &mut changed {
                if own.components.iter().any(|(name, _)| name == "hydroquinone") {
                    own.moles *= 1.0 - OXIDISED_SHARE;
                }
            }
            changed.push(bare("Cl-", oxidised));
            let words = "the air has oxidised 5 % of the hydroquinone, which makes caustic from the sulfite";
            self.with_additions(Cause::Ageing, words.to_owned(), &changed);
        }
    }

    /// Calcium bicarbonate of the tap water, of which a sequestrant takes the calcium and sets its own protons free.
    fn hardness(&mut self) {
        for (binder, charges_left, from_ph) in BINDERS {
            let there = self.total(binder);
            if there <= 0.0 || self.ph < from_ph {
                continue;
            }
            let bound = HARDNESS.min(there);
            let mut changed = self.additions.clone();
            let own = changed.iter_mut().flat_map(|own| &mut own.components);
            own.filter(|(name, _)| name == binder).for_each(|(_, count)| *count *= 1.0 - bound / there);
            // Chloride stands for the charges of the complex.
            changed.push(bare("Cl-", bound * charges_left));
            changed.push(bare("CO3^2-", bound * 2.0));
            let name = binder.split('^').next().unwrap_or(binder);
            let words = format!("it is made with hard tap water (2 mmol/L of calcium), which binds {name}");
            self.with_additions(Cause::Water, words, &changed);
        }
    }

    fn warmer(&mut self) {
        let same = self.additions.clone();
        let celsius = self.celsius + WARMER_K;
        self.record(Cause::Temperature, "5 °C warmer".to_owned(), self.equilibria, &same, celsius);
    }
}

/// A component by itself, with the protons that balance it.
fn bare(component: &str, moles: f64) -> Addition {
    Addition {
        substance: component.to_owned(),
        moles,
        components: vec![(component.to_owned(), 1.0)],
        water_moles: 0.0,
        standing: Modelling::Modelled,
        protons: 0.0,
    }
}

const SULFITE: &str = "SO3^2-";

fn scale_sulfite(addition: &mut Addition, factor: f64) {
    let sulfite = addition.components.iter_mut().filter(|(name, _)| name == SULFITE);
    sulfite.for_each(|(_, count)| *count *= factor);
}

fn scale_alkali(addition: &mut Addition, factor: f64) {
    let alkali = addition.components.iter_mut().filter(|(name, _)| name != SULFITE);
    alkali.for_each(|(_, count)| *count *= factor);
}

/// Whether an addition is M₂SO₃ of an alkali.
fn is_neutral_sulfite(addition: &Addition) -> bool {
    match addition.components.as_slice() {
        [(first, one), (second, two)] => {
            let alkali = |name: &str| matches!(name, "Na+" | "K+");
            let is = |name: &str, count: f64, other: &str, other_count: f64| {
                alkali(name)
                    && (count - 2.0).abs() < 1e-9
                    && other == SULFITE
                    && (other_count - 1.0).abs() < 1e-9
            };
            is(first, *one, second, *two) || is(second, *two, first, *one)
        }
        _ => false,
    }
}
