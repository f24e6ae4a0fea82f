//! Formulas side by side: grams and moles per litre on one basis, the figures the trade goes by, and the differences in words.
//!
//! The table shows every chemical in one form: the one all recipes name, else the form of [`crate::composition`]. A column is one solution: a
//! part as bottled, or a bath as first used. The figures and the words go by the baths as first used, because that is what meets the
//! film. Words are told against the first formula; every sentence carries its [`DifferenceReason`]. What is not known stays out of the words.

mod facts;
mod words;

use std::rc::Rc;

use thiserror::Error;

use crate::composition::brought::SpeciesAmounts;
use crate::composition::chemistry::Chemistry;
use crate::composition::{Component, Composer, Composition, first_baths, in_order_told};
use crate::formula::Formula;
use crate::qualities::{Comparative, Qualities, Quality, QualityRule};
use crate::quantity::rounding::show_decimals;
use crate::substance::molar::{HYPO_G_PER_MOL, POTASSIUM_BROMIDE_G_PER_MOL, SODIUM_SULFITE_G_PER_MOL};
use crate::substance::{Form, Role};
use crate::vessel::Unknown;
pub(crate) use facts::DifferenceReason;
pub(crate) use words::Difference;

/// Fewest formulas that can be compared.
pub(crate) const FEWEST: usize = 2;
/// Most formulas that fit side by side.
pub(crate) const MOST: usize = 6;

/// Why formulas cannot be compared.
#[derive(Debug, Clone, PartialEq, Error)]
pub(crate) enum CompareError {
    /// Too few or too many.
    #[error("{FEWEST} to {MOST} formulas go side by side, not {given}")]
    Count {
        /// How many were given.
        given: usize,
    },
}

impl CompareError {
    /// What to do about it.
    pub(crate) fn fix() -> String {
        format!("name {FEWEST} to {MOST} formulas")
    }
}

/// Which solutions the table shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ShownStrength {
    /// Each part as bottled.
    Bottled,
    /// Each bath of the first use.
    Used,
}

impl ShownStrength {
    /// As bottled where every formula is one bottle, as used where one is mixed from several.
    pub(crate) fn usual(formulas: &[&Formula]) -> Self {
        if formulas.iter().all(|formula| formula.parts.len() == 1) { Self::Bottled } else { Self::Used }
    }

    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Bottled => "as bottled",
            Self::Used => "in use (first listed use)",
        }
    }

    /// Stable words for programs.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::Bottled => "as bottled",
            Self::Used => "as first used",
        }
    }
}

/// One solution of one formula.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BathColumn {
    /// Place of the formula among those compared.
    pub formula: usize,
    /// Part or bath, where the formula has several or is diluted; none for a plain bottle.
    pub label: Option<String>,
    /// What it holds.
    pub composition: Composition,
    /// pH predicted by the caller.
    pub ph: Option<ComparedPh>,
}

/// A predicted pH.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ComparedPh {
    /// The pH.
    pub value: f64,
    /// Its expected error, either way.
    pub error: f64,
    /// How firmly it is held, mol/L per pH.
    pub buffer_capacity: f64,
}

/// What one column holds of a chemical.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cell {
    /// Grams per litre in the row's form.
    pub grams_per_litre: Option<f64>,
    pub moles_per_litre: Option<f64>,
    /// Why a figure is missing.
    pub unknown: Option<Unknown>,
    /// Whether the recipe calls it optional.
    pub optional: bool,
    /// Whether the amount is an estimate (a solvent).
    pub estimated: bool,
}

/// A chemical across the columns.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ChemicalRow {
    /// The form in which its grams are told.
    pub form: Rc<Form>,
    /// What it does.
    pub role: Option<Role>,
    /// One cell a column; none where it is absent.
    pub cells: Vec<Option<Cell>>,
}

/// A figure that the trade goes by.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Measure {
    pub name: &'static str,
    /// Stable key for programs, with the unit.
    pub key: &'static str,
    /// Unit as printed; empty for words and ratios.
    pub unit: &'static str,
    /// One value a formula.
    pub values: Vec<MeasureValue>,
}

/// A value of a measure.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum MeasureValue {
    /// It does not apply, or is not known.
    None,
    /// A number in the measure's unit.
    Number(f64),
    /// 1 to so many.
    OneTo(f64),
    Words(String),
}

/// A chemical that only some formulas hold.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OnlyIn {
    /// The form in which its row is told.
    pub form: Rc<Form>,
    /// Places of the formulas that hold it.
    pub formulas: Vec<usize>,
}

/// Formulas side by side.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Comparison<'a> {
    /// The formulas, the first being the one the others are told against.
    pub formulas: Vec<&'a Formula>,
    /// Which solutions the table shows.
    pub shown: ShownStrength,
    pub columns: Vec<BathColumn>,
    /// The chemicals, by role and name.
    pub rows: Vec<ChemicalRow>,
    /// Figures of the baths as first used.
    pub measures: Vec<Measure>,
    /// What only some hold.
    pub only_in: Vec<OnlyIn>,
    /// Differences in words.
    pub differences: Vec<Difference>,
    /// What one would see of each against the first; empty where the kinds differ.
    pub seen: Vec<Seen>,
}

/// One quality of the formulas compared.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Seen {
    /// What one sees.
    pub quality: Quality,
    /// How each formula after the first stands to it.
    pub standings: Vec<Comparative>,
    /// What speaks for and against it, one list a formula, the first included.
    pub reasons: Vec<Vec<QualityRule>>,
}

/// Predicts the pH of a solution, where it can.
pub(crate) type PredictPh<'a> = &'a dyn Fn(&Composition) -> Option<ComparedPh>;

/// Puts formulas side by side.
///
/// # Errors
/// Fewer than [`FEWEST`] or more than [`MOST`].
pub(crate) fn compare<'a>(
    formulas: &[&'a Formula],
    shown: ShownStrength,
    composer: &Composer<'_>,
    ph: Option<PredictPh<'_>>,
) -> Result<Comparison<'a>, CompareError> {
    if !(FEWEST..=MOST).contains(&formulas.len()) {
        return Err(CompareError::Count { given: formulas.len() });
    }
    let columns: Vec<BathColumn> = formulas
        .iter()
        .enumerate()
        .flat_map(|(place, formula)| columns_of(place, formula, shown, composer, ph))
        .collect();
    let rows = rows(&columns);
    let baths: Vec<Baths> = formulas.iter().map(|formula| Baths::of(formula, composer, ph)).collect();
    Ok(Comparison {
        formulas: formulas.to_vec(),
        shown,
        measures: measures(&baths),
        only_in: only_in(&rows, &columns, formulas.len()),
        differences: words::differences(formulas, &baths, composer),
        seen: seen(formulas, composer),
        columns,
        rows,
    })
}

/// What one would see, where all are of one kind: the qualities of which something is known in at least one of them.
fn seen(formulas: &[&Formula], composer: &Composer<'_>) -> Vec<Seen> {
    let Some(first) =
        formulas.first().filter(|first| formulas.iter().all(|formula| formula.kind == first.kind))
    else {
        return Vec::new();
    };
    let table = Qualities::shipped(composer.library());
    let judged: Vec<_> = formulas.iter().map(|formula| table.judge(formula, composer)).collect();
    table
        .of_kind(first.kind)
        .filter_map(|quality| {
            let compositions: Vec<_> =
                judged.iter().map(|all| all.iter().find(|own| own.quality.key == quality.key)).collect();
            let yardstick = *compositions.first()?;
            compositions.iter().any(Option::is_some).then(|| Seen {
                quality: quality.clone(),
                standings: compositions.iter().skip(1).map(|own| Comparative::of(*own, yardstick)).collect(),
                reasons: compositions
                    .iter()
                    .map(|own| {
                        own.map_or_else(Vec::new, |own| {
                            own.reasons.iter().map(|rule| (*rule).clone()).collect()
                        })
                    })
                    .collect(),
            })
        })
        .collect()
}

fn columns_of(
    place: usize,
    formula: &Formula,
    shown: ShownStrength,
    composer: &Composer<'_>,
    ph: Option<PredictPh<'_>>,
) -> Vec<BathColumn> {
    let compositions = match shown {
        ShownStrength::Bottled => composer.bottled(formula),
        ShownStrength::Used => first_baths(formula).iter().map(|bath| composer.bath(formula, bath)).collect(),
    };
    let plain = shown == ShownStrength::Bottled && formula.parts.len() == 1;
    compositions
        .into_iter()
        .map(|composition| BathColumn {
            formula: place,
            label: (!plain).then(|| composition.label.clone()),
            ph: ph.and_then(|predict| predict(&composition)),
            composition,
        })
        .collect()
}

/// Every chemical of the columns, in one form.
fn rows(columns: &[BathColumn]) -> Vec<ChemicalRow> {
    let mut components: Vec<&Component> = Vec::new();
    for component in columns.iter().flat_map(|column| &column.composition.components) {
        if components.iter().all(|own| own.parent.id != component.parent.id) {
            components.push(component);
        }
    }
    components.sort_by(|left, right| in_order_told(left, right));
    components
        .into_iter()
        .map(|first| {
            let all = || columns.iter().filter_map(|column| column.composition.component(&first.parent.id));
            let form = one_form(all(), &first.basis);
            let cells = columns
                .iter()
                .map(|column| {
                    let component = column.composition.component(&first.parent.id)?;
                    Some(Cell {
                        grams_per_litre: component.grams_in(&form),
                        moles_per_litre: component.moles_per_litre,
                        unknown: component.unknown,
                        optional: component.optional,
                        estimated: component.estimated,
                    })
                })
                .collect();
            ChemicalRow { form, role: first.role, cells }
        })
        .collect()
}

/// The form that all recipes name, else the usual one.
fn one_form<'a>(components: impl Iterator<Item = &'a Component>, usual: &Rc<Form>) -> Rc<Form> {
    let mut named = components.flat_map(|component| &component.named);
    match named.next() {
        Some(first) if named.all(|form| form.id == first.id) => Rc::clone(first),
        _ => Rc::clone(usual),
    }
}

fn only_in(rows: &[ChemicalRow], columns: &[BathColumn], count: usize) -> Vec<OnlyIn> {
    rows.iter()
        .filter_map(|row| {
            let mut formulas: Vec<usize> = columns
                .iter()
                .zip(&row.cells)
                .filter(|(_, cell)| cell.is_some())
                .map(|(column, _)| column.formula)
                .collect();
            formulas.dedup();
            (formulas.len() < count).then(|| OnlyIn { form: Rc::clone(&row.form), formulas })
        })
        .collect()
}

/// The baths of a formula's first use, with what they bring.
struct Baths {
    compositions: Vec<Composition>,
    /// All baths together, as the film meets them.
    brought: SpeciesAmounts,
    /// Sulfite of the bath that holds most, counted as anhydrous sodium sulfite, g/L.
    sulfite_g: f64,
    /// Names of the chemicals that bring alkali, where none of it is left after acid.
    spent_alkali: Vec<String>,
    ph: Vec<Option<ComparedPh>>,
}

impl Baths {
    fn of(formula: &Formula, composer: &Composer<'_>, ph: Option<PredictPh<'_>>) -> Self {
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
    fn alkali_chemicals(&self, chemistry: &Chemistry) -> Vec<String> {
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
    fn grams(&self, parent: &str) -> Option<f64> {
        self.compositions
            .iter()
            .map(|own| own.component(parent).map_or(Some(0.0), |own| own.grams_per_litre))
            .sum()
    }

    fn component(&self, parent: &str) -> Option<&Component> {
        self.compositions.iter().find_map(|composition| composition.component(parent))
    }

    /// The alkalis that are left after acid, strongest first, with their equivalents in mol/L.
    fn alkalis(&self) -> Vec<(Alkali, f64)> {
        Alkali::ALL
            .into_iter()
            .map(|alkali| (alkali, self.brought.moles(alkali.species())))
            .filter(|(_, moles)| *moles > LEAST_ALKALI_MOL)
            .collect()
    }
}

/// All sulfite of a bath, counted as anhydrous sodium sulfite, g/L.
fn sulfite_g(composition: &Composition, chemistry: &Chemistry) -> f64 {
    SpeciesAmounts::of(std::slice::from_ref(composition), chemistry).moles("sulfite")
        * SODIUM_SULFITE_G_PER_MOL
}

/// Chloride from which it counts as a solvent of silver halide, mol/L; some 6 g/L of salt, common practice.
const LEAST_CHLORIDE_MOL: f64 = 0.1;
/// Alkali below this does nothing, mol/L.
const LEAST_ALKALI_MOL: f64 = 0.0005;

/// Kinds of alkali, strongest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Alkali {
    Hydroxide,
    Phosphate,
    Carbonate,
    Borate,
    Triethanolamine,
}

impl Alkali {
    const ALL: [Self; 5] =
        [Self::Hydroxide, Self::Phosphate, Self::Carbonate, Self::Borate, Self::Triethanolamine];

    fn species(self) -> &'static str {
        match self {
            Self::Hydroxide => "hydroxide",
            Self::Phosphate => "phosphate",
            Self::Carbonate => "carbonate",
            Self::Borate => "borate",
            Self::Triethanolamine => "triethanolamine",
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Hydroxide => "caustic",
            Self::Phosphate => "phosphate",
            Self::Carbonate => "carbonate",
            Self::Borate => "borate",
            Self::Triethanolamine => "triethanolamine",
        }
    }

    /// How strong: borate and triethanolamine are alike.
    fn strength(self) -> u8 {
        match self {
            Self::Hydroxide => 4,
            Self::Phosphate => 3,
            Self::Carbonate => 2,
            Self::Borate | Self::Triethanolamine => 1,
        }
    }
}

/// The figures the trade goes by; a line that says nothing of any formula is left out.
fn measures(baths: &[Baths]) -> Vec<Measure> {
    let number = |value: f64| if value > 1e-9 { MeasureValue::Number(value) } else { MeasureValue::None };
    let line = |name, key, unit, of: &dyn Fn(&Baths) -> MeasureValue| Measure {
        name,
        key,
        unit,
        values: baths.iter().map(of).collect(),
    };
    let is_developer = baths.iter().any(|bath| bath.agents().next().is_some());
    let mut all = vec![
        line("metol : hydroquinone", "metol_to_hydroquinone", "", &|own| own.ratio("metol", "hydroquinone")),
        line("phenidone : hydroquinone", "phenidone_to_hydroquinone", "", &|own| {
            own.ratio("phenidone", "hydroquinone")
        }),
        line("developing agents, total", "agents_mol_per_litre", "mol/L", &|own| {
            own.agents()
                .map(|agent| agent.moles_per_litre)
                .sum::<Option<f64>>()
                .map_or(MeasureValue::None, number)
        }),
        line("sulfite, as anhydrous", "sulfite_g_per_litre", "g/L", &|own| number(own.sulfite_g)),
        line("alkali", "alkali", "", &|own| match own.alkalis().first() {
            Some((alkali, _)) => MeasureValue::Words(alkali.words().to_owned()),
            None if !own.spent_alkali.is_empty() => MeasureValue::Words("taken up by acid".to_owned()),
            None if own.agents().next().is_some() && own.sulfite_g > 0.0 => {
                MeasureValue::Words("sulfite alone".to_owned())
            }
            None => MeasureValue::None,
        }),
        line("alkali not neutralised", "alkali_mol_per_litre", "mol/L", &|own| {
            number(own.alkalis().iter().map(|(_, moles)| moles).sum())
        }),
        line("acid not neutralised", "acid_mol_per_litre", "mol/L", &|own| number(own.brought.moles("acid"))),
        line("bromide, as potassium bromide", "bromide_g_per_litre", "g/L", &|own| {
            number(own.brought.moles("bromide") * POTASSIUM_BROMIDE_G_PER_MOL)
        }),
        line("thiosulfate, as crystals", "thiosulfate_g_per_litre", "g/L", &|own| {
            number(own.brought.moles("thiosulfate") * HYPO_G_PER_MOL)
        }),
        line("thiocyanate", "thiocyanate_mol_per_litre", "mol/L", &|own| {
            number(own.brought.moles("thiocyanate"))
        }),
    ];
    if is_developer {
        all.push(line("dissolves silver halide", "solvent_action", "", &|own| {
            MeasureValue::Words(own.solvent_action())
        }));
    }
    if baths.iter().any(|bath| bath.ph.iter().any(Option::is_some)) {
        all.push(line("predicted pH", "ph", "", &|own| own.of_ph(1, |ph| ph.value)));
        all.push(line("expected error of the pH", "ph_error", "", &|own| own.of_ph(2, |ph| ph.error)));
        all.push(line("buffer capacity", "buffer_capacity", "mol/L per pH", &|own| {
            own.of_ph(3, |ph| ph.buffer_capacity)
        }));
    }
    all.retain(|measure| measure.values.iter().any(|value| *value != MeasureValue::None));
    all
}

impl Baths {
    /// The developing agents.
    fn agents(&self) -> impl Iterator<Item = &Component> {
        self.compositions
            .iter()
            .flat_map(|composition| &composition.components)
            .filter(|component| component.role == Some(Role::DevelopingAgent))
    }

    /// Grams of one agent to grams of another, as the trade tells it.
    fn ratio(&self, one: &str, other: &str) -> MeasureValue {
        match (self.grams(one), self.grams(other)) {
            (Some(one), Some(other)) if one > 0.0 && other > 0.0 => MeasureValue::OneTo(other / one),
            _ => MeasureValue::None,
        }
    }

    /// A figure of the predicted pH: a number, or one for each bath in words.
    fn of_ph(&self, decimals: usize, figure: fn(&ComparedPh) -> f64) -> MeasureValue {
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
    fn solvent_action(&self) -> String {
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

#[cfg(test)]
mod tests;
