use super::*;

#[test]
fn every_shipped_chemical_has_its_row_of_equilibria() {
    let library = Library::shipped();
    let equilibria = equilibria();
    let (all, findings) = library.all_substances().unwrap();
    assert!(findings.is_empty());
    let missing: Vec<&str> = all
        .iter()
        .map(|own| own.parent.id.as_str())
        .filter(|id| equilibria.substance(id).is_none())
        .collect();
    assert!(missing.is_empty(), "no row for {missing:?}");
    // One home per fact: no shipped file declares what the table says.
    assert!(all.iter().all(|own| own.parent.solution.is_none()));
    for own in &all {
        let row = equilibria.substance(&own.parent.id).unwrap();
        let told = row.standing() != Modelling::Unknown || row.note().is_some();
        assert!(told, "{} is unknown and does not say why", own.parent.id);
    }
}

#[test]
fn every_published_ph_of_the_files_is_reproduced() {
    let equilibria = equilibria();
    let mut count = 0;
    for formula in formulas() {
        for check in formula.checks.iter().filter(|check| check.quantity == CheckQuantity::Ph) {
            let part = check.part.as_ref().map_or(&formula.parts[0], |name| formula.part(name).unwrap());
            let ph = predict_part(equilibria, part, check.celsius.unwrap_or(20.0)).unwrap().ph;
            assert_abs_diff_eq!(ph, check.expected, epsilon = check.tolerance);
            count += 1;
        }
    }
    assert!(count >= 4, "{count}");
}

/// Differences are looked at here: what is stated of developers is recalled or read off a meter, seldom better than 0.2.
#[test]
fn stated_ph_beside_the_prediction() {
    let equilibria = equilibria();
    let mut lines = Vec::new();
    for formula in formulas() {
        let Some(own) = stated(equilibria, formula) else { continue };
        let (low, high) = own.stated;
        lines.push(format!(
            "{:<52} stated {low:.1} to {high:.1}  predicted {:.1} ± {:.1}  outside by {:.1}{}",
            formula.id,
            own.predicted,
            own.error.max(0.1),
            own.gap(),
            if own.is_contradicted() { "  contradicted" } else { "" }
        ));
        assert!(contradiction(equilibria, formula).is_none(), "{} needs a note", formula.id);
    }
    insta::assert_snapshot!(lines.join("\n"));
}

#[test]
fn every_shipped_formula_is_predicted_or_refused_with_a_reason() {
    let library = Library::shipped();
    let equilibria = equilibria();
    let (mut parts, mut refused) = (0, 0);
    for formula in formulas() {
        let report = reported(&library, equilibria, formula, &Question::usual());
        for part in &report.parts {
            parts += 1;
            match &part.outcome {
                Ok(own) => {
                    let p = &own.prediction;
                    assert!(p.ph.is_finite() && p.ph_error.is_finite() && p.buffer_capacity > 0.0);
                    assert!(own.sensitivities.iter().all(|one| one.change.is_finite()));
                }
                Err(error) => {
                    refused += 1;
                    assert!(!error.to_string().is_empty() && !error.fix().is_empty());
                }
            }
            for margin in &part.margins {
                assert!(margin.share_left().is_none_or(f64::is_finite), "{}", formula.id);
            }
        }
    }
    assert!(parts > 200 && refused < 12, "{refused} of {parts} refused");
}
