//! Against other databases and another program with the same constants.

use super::*;

// Source: PHREEQC 3.8.6 given the constants and coefficients of this project. Tolerance: PHREEQC takes the activity of water from an
// osmotic coefficient where this model takes a straight line, and its own dielectric constant.
#[test]
fn another_program_with_the_same_constants_agrees() {
    let table = table();
    let mut count = 0;
    for row in cross_check_rows() {
        let predicted = predict(table, &recipe(table, row.components), row.temperature_c).unwrap();
        assert!(
            (predicted.ph - row.same_constants).abs() <= 0.01,
            "{}: {:.3} for {}",
            row.id,
            predicted.ph,
            row.same_constants
        );
        count += 1;
    }
    assert!(count >= 15);
}

// Source: the same program with its own databases, told in the file. Tolerance: in the file, from how far those databases lie apart.
#[test]
fn other_databases_agree_as_far_as_they_agree_among_themselves() {
    let table = table();
    for row in cross_check_rows() {
        let predicted = predict(table, &recipe(table, row.components), row.temperature_c).unwrap();
        for other in row.shipped {
            assert!(
                (predicted.ph - other).abs() <= row.tolerance,
                "{}: {:.3} for {other} ± {}",
                row.id,
                predicted.ph,
                row.tolerance
            );
        }
    }
}
