//! The long runs, ignored unless asked for.

use super::*;

#[test]
#[ignore = "millions of cases"]
fn long_formula_file() {
    formula_target().run(many());
}

#[test]
#[ignore = "millions of cases"]
fn long_substance_file() {
    substance_target().run(many());
}

#[test]
#[ignore = "millions of cases"]
fn long_quantity() {
    quantity_target().run(many());
}

#[test]
#[ignore = "millions of cases"]
fn long_dilution() {
    dilution_target().run(many());
}

#[test]
#[ignore = "millions of cases"]
fn long_chemical_formula() {
    chemical_formula_target().run(many());
}

#[test]
#[ignore = "millions of cases"]
fn long_journal() {
    journal_target().run(many());
}

#[test]
#[ignore = "millions of cases"]
fn long_configuration() {
    configuration_target().run(many());
}

/// A tenth of the cases: each is a whole run of the program.
#[test]
#[ignore = "hundreds of thousands of cases"]
fn long_shelf() {
    shelf_target().run(many() / 10);
}

/// A tenth of the cases: each is a whole run of the program.
#[test]
#[ignore = "hundreds of thousands of cases"]
fn long_command_line() {
    command_line_target().run(many() / 10);
}
