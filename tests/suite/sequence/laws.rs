//! What holds for every formula, shipped or random.

use super::*;

struct House {
    formulas: &'static [Formula],
    relations: &'static Relations,
    safety: &'static SafetyData,
    equilibria: &'static Equilibria,
}

fn house() -> House {
    let Tables { safety, relations, equilibria } = tables();
    House { formulas: formulas(), relations, safety, equilibria }
}

#[test]
fn published_orders_agree_or_differ_by_preference_or_are_explained() {
    let house = house();
    let mut report = Vec::new();
    let (mut agrees, mut preference, mut explained) = (0, 0, 0);
    for formula in house.formulas {
        let batch = scale(formula, &Request::volume(Volume::from_ml(1000.0)), house.relations).unwrap();
        for (part, source) in batch.parts.iter().zip(&formula.parts) {
            if source.mixing.order.is_empty() {
                continue;
            }
            let differences = sequence::differences(part, source).unwrap();
            let must = differences.iter().any(|difference| difference.must);
            let place = source
                .name
                .as_ref()
                .map_or_else(|| formula.id.clone(), |name| format!("{} {name}", formula.id));
            if differences.is_empty() {
                agrees += 1;
            } else if source.mixing.order_note.is_some() {
                explained += 1;
                report.push(format!("explained   {place}"));
            } else {
                assert!(
                    !must,
                    "{place}: a must differs from the published order: the rule is wrong (src/sequence/rules.rs), or an order_note must explain it: {differences:?}"
                );
                preference += 1;
                let pairs: Vec<String> =
                    differences.iter().map(|own| format!("{} before {}", own.first, own.second)).collect();
                report.push(format!("preference  {place}: {}", pairs.join(", ")));
            }
        }
    }
    report.push(format!("agrees {agrees}, differs by preference only {preference}, explained {explained}"));
    // A report to read, and a guard: most published orders agree outright.
    assert!(agrees * 10 >= (agrees + preference + explained) * 6, "{}", report.join("\n"));
    insta::assert_snapshot!(report.join("\n"));
}

#[test]
fn every_shipped_formula_has_a_sheet() {
    for sheet in sheets() {
        assert!(sheet.objections.is_empty(), "{}: {:?}", sheet.formula.id, sheet.objections);
    }
}

#[test]
fn every_hazard_statement_stands_on_every_sheet_that_uses_it() {
    let house = house();
    for formula in house.formulas {
        let batch = scale(formula, &Request::volume(Volume::from_ml(500.0)), house.relations).unwrap();
        let Ok(sheet) = sheet(formula, &batch, house.safety, house.equilibria) else { continue };
        let text = soupcon::render::to_text(
            &soupcon::render::bench::reasons_document(
                &sheet,
                &crate::common::shipped::bench_of(&sheet),
                &soupcon::label::labels(&sheet, None, None).unwrap_or_default(),
            ),
            soupcon::render::TextStyle { width: 200, bold: false },
        );
        for item in batch.parts.iter().flat_map(|part| &part.items) {
            let hazards = &item.form.hazards;
            for code in hazards.statements.iter().chain(&hazards.supplementary) {
                assert!(
                    text.contains(code.as_str()),
                    "{}: {code} of {} is not on the sheet",
                    formula.id,
                    item.form.id
                );
            }
            if hazards.is_unknown() && item.form.parent.id != "water" {
                assert!(
                    text.contains("hazard not known: treat as harmful"),
                    "{}: {}",
                    formula.id,
                    item.form.id
                );
            }
        }
        assert!(
            text.trim_end().ends_with(house.safety.closing()),
            "{}: the closing line is missing",
            formula.id
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn steps_satisfy_every_must_and_carry_exactly_the_batch(ml in 50.0_f64..30000.0, step in prop::sample::select(vec![1.0, 0.1, 0.01])) {
        let house = house();
        let mut request = Request::volume(Volume::from_ml(ml));
        request.balance = Balance { step_g: step, max_g: None };
        for formula in house.formulas {
            let batch = scale(formula, &request, house.relations).unwrap();
            for (part, source) in batch.parts.iter().zip(&formula.parts) {
                let plan = sequence::plan(part, source, batch.balance).unwrap();
                let names: Vec<String> = plan.steps.iter().filter(|own| own.action != Action::DissolveApart).filter_map(|own| {
                    let id = &own.form.as_ref()?.id;
                    Some(if own.action == Action::Pinch { format!("pinch of {id}") } else { id.clone() })
                }).collect();
                for (first, second, rule) in sequence::musts(part) {
                    let place = |name: &String| names.iter().position(|own| own == name).unwrap();
                    prop_assert!(place(&first) < place(&second), "{}: {rule}", formula.id);
                }
                for (index, item) in part.items.iter().enumerate() {
                    let carried: f64 = plan.steps.iter().filter(|own| own.item == Some(index)).filter_map(|own| own.carries_g).sum();
                    if let Some(grams) = item.grams {
                        prop_assert!((carried - grams).abs() <= 1e-9 * grams, "{}: {carried} g of {} for {grams}", formula.id, item.form.id);
                    }
                }
                // What is poured together fits the bottle: start, second vessels and liquids within the volume.
                let poured: f64 = plan.steps.iter().filter_map(|own| own.water_ml).sum();
                let has_end_point = part.items.iter().any(|item| item.until.is_some());
                prop_assert!(has_end_point || poured <= ml * 1.0001, "{}: {poured} mL of water in {ml}", formula.id);
            }
        }
    }

    #[test]
    fn the_files_own_order_of_ingredients_does_not_change_the_sheet(seed in 0_u64..1000) {
        let house = house();
        for formula in house.formulas {
            let mut shuffled = formula.clone();
            for part in &mut shuffled.parts {
                let count = part.ingredients.len() as u64;
                part.ingredients.sort_by_key(|own| (own.line as u64 * 7919 + seed * 104_729) % (count * 13 + 1));
            }
            let request = Request::volume(Volume::from_ml(750.0));
            let plans = |formula: &Formula| -> Vec<Vec<(Action, String, Option<f64>)>> {
                let batch = scale(formula, &request, house.relations).unwrap();
                batch.parts.iter().zip(&formula.parts).map(|(part, source)| {
                    sequence::plan(part, source, batch.balance).unwrap().steps.into_iter()
                        .map(|own| (own.action, own.instruction, own.weigh)).collect()
                }).collect()
            };
            prop_assert_eq!(plans(formula), plans(&shuffled), "{}", &formula.id);
        }
    }
}

#[test]
fn kinds_have_at_least_what_the_library_promises() {
    let house = house();
    let count = |kind: Kind| house.formulas.iter().filter(|formula| formula.kind == kind).count();
    assert!(house.formulas.len() >= 110);
    assert!(count(Kind::FilmDeveloper) + count(Kind::Replenisher) >= 60 && count(Kind::Replenisher) >= 8);
    assert!(count(Kind::PaperDeveloper) >= 14 && count(Kind::StopBath) >= 5 && count(Kind::Fixer) >= 8);
    for kind in Kind::ALL {
        assert!(count(kind) >= 1, "no {}", kind.folder());
    }
}
