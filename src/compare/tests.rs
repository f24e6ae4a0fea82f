//! Formulas side by side on one basis.

use approx::assert_relative_eq;

use super::*;
use crate::library::Library;

fn formulas(library: &Library, ids: &[&str]) -> Vec<Formula> {
    ids.iter().map(|id| library.formula(id).unwrap().formula).collect()
}

#[test]
fn one_is_too_few_and_seven_are_too_many() {
    let library = Library::shipped();
    let composer = Composer::new(&library);
    let all = formulas(&library, &["metol-sulfite"; 7]);
    let refs: Vec<&Formula> = all.iter().collect();
    for count in [0, 1, 7] {
        let error = compare(&refs[..count], ShownStrength::Bottled, &composer, None).unwrap_err();
        assert_eq!(error, CompareError::Count { given: count });
        assert_eq!(CompareError::fix(), "name 2 to 6 formulas");
    }
    assert!(compare(&refs[..6], ShownStrength::Bottled, &composer, None).is_ok());
}

#[test]
fn hydrates_stand_in_one_row_and_one_form() {
    let library = Library::shipped();
    let composer = Composer::new(&library);
    // 90 g anhydrous sulfite and, in the other, crystals; carbonate as anhydrous and monohydrate.
    let all = formulas(
        &library,
        &["mq-carbonate-tray-tank", "mq-carbonate-titling", "mq-potassium-carbonate-one-solution-1900"],
    );
    let refs: Vec<&Formula> = all.iter().collect();
    let comparison = compare(&refs, ShownStrength::Bottled, &composer, None).unwrap();
    let row = |parent: &str| comparison.rows.iter().find(|row| row.form.parent.id == parent).unwrap();
    assert_eq!(row("sodium-sulfite").form.id, "sodium-sulfite-anhydrous");
    let crystals = row("sodium-sulfite").cells[2].unwrap().grams_per_litre.unwrap();
    // 75 g of crystals × 126.043 / 252.150 (molmass 2026.1.8).
    assert_relative_eq!(crystals, 37.49, max_relative = 1e-3);
    let monohydrate = row("sodium-carbonate").cells[1].unwrap().grams_per_litre.unwrap();
    // 50 g × 105.988 / 124.004.
    assert_relative_eq!(monohydrate, 42.736, max_relative = 1e-3);
    assert!(row("sodium-carbonate").cells[2].is_none());
    let only = comparison.only_in.iter().find(|own| own.form.parent.id == "potassium-carbonate").unwrap();
    assert_eq!(only.formulas, [2]);
}

#[test]
fn a_row_is_told_in_the_form_that_all_recipes_name() {
    let library = Library::shipped();
    let composer = Composer::new(&library);
    let all = formulas(&library, &["pyro-soda-average", "pyro-soda-sensitometry-standard"]);
    let refs: Vec<&Formula> = all.iter().collect();
    let comparison = compare(&refs, ShownStrength::Bottled, &composer, None).unwrap();
    let forms: Vec<&str> = comparison.rows.iter().map(|row| row.form.id.as_str()).collect();
    assert!(forms.contains(&"sodium-carbonate-decahydrate"), "{forms:?}");
    assert!(forms.contains(&"sodium-sulfite-heptahydrate"), "{forms:?}");
}

#[test]
fn several_parts_are_compared_as_used_and_each_bath_has_its_column() {
    let library = Library::shipped();
    let composer = Composer::new(&library);
    let all = formulas(&library, &["metol-sulfite", "two-bath-metol-sulfite-borax"]);
    let refs: Vec<&Formula> = all.iter().collect();
    assert_eq!(ShownStrength::usual(&refs), ShownStrength::Used);
    let comparison = compare(
        &refs,
        ShownStrength::Used,
        &composer,
        Some(&|own| {
            own.component("metol").map(|_| ComparedPh { value: 8.2, error: 0.2, buffer_capacity: 0.05 })
        }),
    )
    .unwrap();
    let labels: Vec<Option<&str>> = comparison.columns.iter().map(|column| column.label.as_deref()).collect();
    assert_eq!(labels, [Some("undiluted"), Some("A undiluted"), Some("B undiluted")]);
    assert_eq!(comparison.columns[0].ph, Some(ComparedPh { value: 8.2, error: 0.2, buffer_capacity: 0.05 }));
    let ph = comparison.measures.iter().find(|measure| measure.key == "ph").unwrap();
    assert_eq!(ph.values, [MeasureValue::Number(8.2), MeasureValue::Words("8.2, then ?".to_owned())]);
}

#[test]
fn the_figures_of_the_trade_are_those_of_the_bath_as_used() {
    let library = Library::shipped();
    let composer = Composer::new(&library);
    let all = formulas(&library, &["mq-borax-classic", "mq-carbonate-neutral-paper-developer"]);
    let refs: Vec<&Formula> = all.iter().collect();
    let comparison = compare(&refs, ShownStrength::Bottled, &composer, None).unwrap();
    let measure = |key: &str| comparison.measures.iter().find(|measure| measure.key == key).unwrap();
    assert_eq!(measure("metol_to_hydroquinone").values, [MeasureValue::OneTo(2.5), MeasureValue::OneTo(4.0)]);
    let MeasureValue::Number(sulfite) = measure("sulfite_g_per_litre").values[1] else { panic!("a number") };
    // 45 g/L diluted 1+2.
    assert_relative_eq!(sulfite, 15.0, max_relative = 1e-3);
    assert_eq!(measure("solvent_action").values[0], MeasureValue::Words("yes: sulfite".to_owned()));
    assert_eq!(measure("solvent_action").values[1], MeasureValue::Words("hardly".to_owned()));
    assert_eq!(measure("bromide_g_per_litre").values[0], MeasureValue::None);
    assert!(comparison.measures.iter().all(|measure| measure.key != "thiosulfate_g_per_litre"));
}
