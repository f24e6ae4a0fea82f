//! The table of equilibria, whole and by excerpt, and what it refuses.

use super::*;

#[test]
fn unknown_additions_are_named_with_what_they_may_do() {
    let table = table();
    let mut solution = recipe(table, "sodium-sulfite-anhydrous=30;sodium-carbonate-anhydrous=50");
    solution.push(table.substance("glycin").unwrap().addition(0.06, 0.0));
    solution.push(table.substance("gelatin").unwrap().addition(0.0, 0.0));
    let predicted = predict(table, &solution, 20.0).unwrap();
    let [glycin, gelatin] = predicted.limits.as_slice() else {
        panic!("two expected: {:?}", predicted.limits)
    };
    assert!(matches!(gelatin, ModelLimit::Unknown { ph_shift: None, .. }));
    let ModelLimit::Unknown { substance, moles, ph_shift } = glycin else { panic!("{glycin:?}") };
    assert_eq!(substance, "glycin");
    assert_abs_diff_eq!(*moles, 0.06);
    assert!(ph_shift.unwrap() > 0.05);
    assert!(predicted.ph_error >= ph_shift.unwrap());
    // What is known of it counts: its carboxyl group is an acid.
    let without = predict(table, &solution[..2], 20.0).unwrap();
    assert!(predicted.ph < without.ph - 0.1);
}

#[test]
fn inputs_that_cannot_be_are_refused_in_words() {
    let table = table();
    let solution = developer(table);
    for temperature in [-0.1, 60.1, f64::NAN, f64::INFINITY] {
        let refused = predict(table, &solution, temperature);
        assert!(matches!(refused, Err(SolutionError::TemperatureOutOfRange { .. })));
    }
    for moles in [-1e-9, f64::NAN, f64::INFINITY] {
        let one = table.substance("borax").unwrap().addition(moles, 10.0);
        let refused = predict(table, &[one], 20.0).unwrap_err();
        assert!(matches!(refused, SolutionError::AmountNotUsable { .. }));
        assert!(!refused.fix().is_empty());
    }
    let mut own = table.substance("borax").unwrap().addition(0.1, 10.0);
    own.components = vec![("Unobtainium+".to_owned(), 1.0)];
    let refused = predict(table, &[own], 20.0).unwrap_err();
    assert_eq!(refused.to_string(), "borax: there is no component \"Unobtainium+\"");
    let strong = table.substance("sodium-sulfite").unwrap().addition(60.0, 0.0);
    assert!(matches!(predict(table, &[strong], 20.0), Err(SolutionError::TooConcentrated { .. })));
}

#[test]
fn a_users_own_substance_takes_part_by_its_components() {
    let table = table();
    let own = Addition {
        substance: "my buffer salt".to_owned(),
        moles: 0.1,
        components: vec![("Na+".to_owned(), 1.0), ("B(OH)3".to_owned(), 1.0)],
        water_moles: 0.0,
        standing: Modelling::Modelled,
        protons: 0.0,
    };
    let shipped = table.substance("sodium-metaborate").unwrap().addition(0.1, 4.0);
    let ph = |one: Addition| predict(table, &[one], 20.0).unwrap().ph;
    assert_abs_diff_eq!(ph(own), ph(shipped), epsilon = 1e-12);
}

#[test]
fn borax_and_caustic_make_metaborate_exactly() {
    let table = table();
    // Na2B4O7 + 2 NaOH = 4 NaBO2 in components, so the same solution to the last digit.
    let metaborate = vec![table.substance("sodium-metaborate").unwrap().addition(0.08, 4.0)];
    let made: Vec<Addition> = [("borax", 0.02), ("sodium-hydroxide", 0.04)]
        .map(|(id, moles)| table.substance(id).unwrap().addition(moles, 0.0))
        .to_vec();
    let target = predict(table, &metaborate, 20.0).unwrap().ph;
    assert_abs_diff_eq!(predict(table, &made, 20.0).unwrap().ph, target, epsilon = 1e-9);
    let caustic = table.substance("sodium-hydroxide").unwrap().addition(1.0, 0.0);
    let needed = amount_for_ph(table, &made[..1], &caustic, target, 20.0, 0.5).unwrap();
    assert_abs_diff_eq!(needed, 0.04, epsilon = 1e-6);
}

#[test]
fn an_alkali_is_found_for_a_ph_or_the_reach_is_told() {
    let table = table();
    let base = recipe(table, "metol=2;hydroquinone=5;sodium-sulfite-anhydrous=100");
    let borax = table.substance("borax").unwrap().addition(1.0, 10.0);
    let moles = amount_for_ph(table, &base, &borax, 8.6, 20.0, 0.2).unwrap();
    let mut made = base.clone();
    made.push(Addition { moles, ..borax.clone() });
    assert_abs_diff_eq!(predict(table, &made, 20.0).unwrap().ph, 8.6, epsilon = 1e-6);
    let refused = amount_for_ph(table, &base, &borax, 11.0, 20.0, 0.2).unwrap_err();
    let SolutionError::Unreachable { highest_ph, lowest_ph, .. } = refused else { panic!("{refused}") };
    assert!(highest_ph < 9.5 && lowest_ph < highest_ph);
    assert!(amount_for_ph(table, &base, &borax, 8.6, 20.0, 0.0).is_err());
    // A target already met needs nothing.
    let already = predict(table, &base, 20.0).unwrap().ph;
    let none = amount_for_ph(table, &base, &borax, already, 20.0, 0.2).unwrap();
    assert!(none < 1e-6);
}

#[test]
fn every_row_of_the_table_can_be_predicted_or_says_it_is_not_known() {
    let table = table();
    let (mut modelled, mut inert, mut unknown) = (0, 0, 0);
    for row in table.substances() {
        let predicted = predict(table, &[row.addition(0.01, 0.0)], 20.0).unwrap();
        assert!(predicted.ph.is_finite(), "{}", row.id());
        match row.standing() {
            Modelling::Modelled => {
                modelled += 1;
                assert!(!row.components().is_empty(), "{}", row.id());
            }
            Modelling::Inert => {
                inert += 1;
                assert!(row.components().is_empty(), "{}", row.id());
            }
            _ => {
                unknown += 1;
                assert!(row.note().is_some(), "{}", row.id());
                assert!(predicted.limits.iter().any(|l| matches!(l, ModelLimit::Unknown { .. })));
            }
        }
    }
    assert!(modelled > 90 && inert > 5 && unknown > 10, "{modelled} {inert} {unknown}");
    let solvents = table.substance("ethanol").unwrap().addition(1.0, 0.0);
    assert_abs_diff_eq!(predict(table, &[solvents], 25.0).unwrap().ph, 6.9975, epsilon = 1e-3);
}

#[test]
fn coupled_families_are_solved_from_weak_to_strong() {
    let table = table();
    for text in [
        "edta-disodium-dihydrate=1;sodium-sulfite-anhydrous=100",
        "edta-tetrasodium=40;sodium-hydroxide=20;sodium-chloride=100",
        "potassium-alum-dodecahydrate=120",
        "potassium-alum-dodecahydrate=30;citric-acid-anhydrous=12.15;sodium-hydroxide=10",
    ] {
        for factor in [1e-6, 1e-3, 1.0] {
            let solution: Vec<Addition> =
                recipe(table, text).into_iter().map(|a| Addition { moles: a.moles * factor, ..a }).collect();
            let predicted = predict(table, &solution, 20.0).unwrap();
            assert!(predicted.ph.is_finite() && predicted.iterations.charge < 400, "{text}");
        }
    }
    let iron = table.substance("ferric-ammonium-oxalate").unwrap().addition(0.2, 3.0);
    assert!((2.0..8.0).contains(&predict(table, &[iron], 20.0).unwrap().ph));
    // Formaldehyde frees caustic from sulfite.
    let sulfite = recipe(table, "sodium-sulfite-anhydrous=30");
    let mut with_formaldehyde = sulfite.clone();
    with_formaldehyde.push(table.substance("formaldehyde").unwrap().addition(0.1, 0.0));
    let lift =
        predict(table, &with_formaldehyde, 20.0).unwrap().ph - predict(table, &sulfite, 20.0).unwrap().ph;
    assert!(lift > 1.5, "{lift}");
}

/// Time of a prediction: `cargo test --release -- --ignored --nocapture speed`.
#[test]
#[ignore = "a measurement, not a check"]
#[allow(clippy::print_stdout, reason = "it is a report")]
fn speed_of_a_prediction() {
    let table = table();
    let cases: Vec<(&str, f64, Vec<Addition>)> =
        cross_check_rows().map(|row| (row.id, row.temperature_c, recipe(table, row.components))).collect();
    let rounds = 2000_u32;
    let mut total = 0.0;
    for (id, temperature, solution) in &cases {
        let start = std::time::Instant::now();
        let mut sum = 0.0;
        for _ in 0..rounds {
            sum += predict(table, std::hint::black_box(solution), *temperature).unwrap().ph;
        }
        let micros = start.elapsed().as_secs_f64() * 1e6 / f64::from(rounds);
        total += micros;
        println!("{id:<36} {micros:>7.1} µs  pH {:.2}", sum / f64::from(rounds));
    }
    println!("mean {:.1} µs", total / f64::from(u32::try_from(cases.len()).unwrap()));
}

#[test]
fn an_excerpt_of_the_table_predicts_as_the_whole_does() {
    // Independent of any figure: the same engine on fewer rows must give the same answer for every shipped formula.
    use soupcon::library::Library;
    use soupcon::predict::predict_part;
    let library = Library::shipped();
    let whole = Equilibria::parse(library.table("equilibria.toml").unwrap()).unwrap();
    let (found, _) = library.formulas().unwrap();
    let mut compared = 0;
    for part in found.iter().flat_map(|found| &found.formula.parts) {
        let parents = part.ingredients.iter().map(|own| own.form.parent.id.as_str()).collect();
        let few = Equilibria::read_for(library.packed("equilibria.toml"), &parents)
            .unwrap_or_else(|error| panic!("{error}"));
        match (predict_part(&whole, part, 20.0), predict_part(&few, part, 20.0)) {
            (Ok(all), Ok(own)) => {
                assert!((all.ph - own.ph).abs() < 1e-9 && (all.ph_error - own.ph_error).abs() < 1e-9);
                assert!((all.buffer_capacity - own.buffer_capacity).abs() < 1e-9);
                compared += 1;
            }
            (all, own) => assert_eq!(all.is_err(), own.is_err()),
        }
    }
    assert!(compared > 150, "only {compared} parts were compared");
}

#[test]
fn an_excerpt_of_the_table_reports_every_slip_that_the_whole_reports() {
    use soupcon::library::Library;
    use soupcon::predict::report::{Question, Sources, report};
    use soupcon::predict::sensitivity::BROUGHT_BY_SLIPS;
    let library = Library::shipped();
    let whole = Equilibria::parse(library.table("equilibria.toml").unwrap()).unwrap();
    let siblings = |parent: &str| library.substance(parent).unwrap().unwrap().forms.clone();
    let mut slips = 0;
    for found in library.formulas().unwrap().0 {
        let formula = &found.formula;
        let members = formula.parts.iter().flat_map(|part| {
            part.ingredients
                .iter()
                .map(|own| &own.form)
                .chain(&part.solvent)
                .map(|form| form.parent.id.as_str())
        });
        let few = Equilibria::read_for(
            library.packed("equilibria.toml"),
            &members.chain(BROUGHT_BY_SLIPS).collect(),
        )
        .unwrap();
        let of = |equilibria| {
            let sources = Sources { equilibria, weights: library.weights(), siblings: &siblings };
            report(sources, formula, &Question::usual()).unwrap()
        };
        let (all, own) = (of(&whole), of(&few));
        assert_eq!(all.parts.len(), own.parts.len());
        let outcomes = all.parts.iter().zip(&own.parts).map(|(all, own)| (&all.outcome, &own.outcome));
        let baths = all.baths.iter().zip(&own.baths).map(|(all, own)| (&all.outcome, &own.outcome));
        for pair in outcomes.chain(baths) {
            let (Ok(all), Ok(own)) = pair else {
                assert_eq!(pair.0.is_err(), pair.1.is_err());
                continue;
            };
            assert_eq!(all.sensitivities.len(), own.sensitivities.len(), "{}", formula.id);
            for (all, own) in all.sensitivities.iter().zip(&own.sensitivities) {
                assert_eq!(all.words, own.words, "{}", formula.id);
                assert!((all.change - own.change).abs() < 1e-9, "{}: {}", formula.id, all.words);
                slips += 1;
            }
        }
    }
    assert!(slips > 500, "only {slips} slips were compared");
}
