//! The columns, rows and measures of the table.

use super::sums::Baths;
use super::{BathColumn, Cell, ChemicalRow, Measure, MeasureValue, OnlyIn, PredictPh, Seen, ShownStrength};
use crate::composition::{Component, Composer, first_baths, in_order_told};
use crate::formula::Formula;
use crate::qualities::{Comparative, Qualities};
use crate::substance::Form;
use crate::substance::molar::{HYPO_G_PER_MOL, POTASSIUM_BROMIDE_G_PER_MOL};
use std::sync::Arc;

/// What one would see, where all are of one kind: the qualities of which something is known in at least one of them.
pub(super) fn seen(formulas: &[&Formula], composer: &Composer<'_>) -> Vec<Seen> {
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

pub(super) fn columns_of(
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
pub(super) fn rows(columns: &[BathColumn]) -> Vec<ChemicalRow> {
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
pub(super) fn one_form<'a>(components: impl Iterator<Item = &'a Component>, usual: &Arc<Form>) -> Arc<Form> {
    let mut named = components.flat_map(|component| &component.named);
    match named.next() {
        Some(first) if named.all(|form| form.id == first.id) => Arc::clone(first),
        _ => Arc::clone(usual),
    }
}

pub(super) fn only_in(rows: &[ChemicalRow], columns: &[BathColumn], count: usize) -> Vec<OnlyIn> {
    rows.iter()
        .filter_map(|row| {
            let mut formulas: Vec<usize> = columns
                .iter()
                .zip(&row.cells)
                .filter(|(_, cell)| cell.is_some())
                .map(|(column, _)| column.formula)
                .collect();
            formulas.dedup();
            (formulas.len() < count).then(|| OnlyIn { form: Arc::clone(&row.form), formulas })
        })
        .collect()
}

/// The figures the trade goes by; a line that says nothing of any formula is left out.
pub(super) fn measures(baths: &[Baths]) -> Vec<Measure> {
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
