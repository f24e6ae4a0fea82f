//! The table of constants as it is read.

use super::*;

const TEXT: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/equilibria.toml"));

#[test]
fn a_name_carries_its_charge() {
    for (name, charge) in [
        ("Na+", 1.0),
        ("SO3^2-", -2.0),
        ("B(OH)3", 0.0),
        ("Fe(CN)6^4-", -4.0),
        ("Fe2(OH)2^4+", 4.0),
        ("p-aminophenol", 0.0),
        ("p-aminophenol-", -1.0),
        ("o-phenylenediamine+", 1.0),
    ] {
        assert!((charge_in_name(name) - charge).abs() < 1e-12, "{name}");
    }
}

#[test]
fn the_constant_moves_with_temperature_as_written() {
    let equilibria = Equilibria::parse(TEXT).unwrap();
    let water = &equilibria.species[HYDROXIDE];
    assert!((water.log_k(25.0) + 13.995).abs() < 1e-12);
    // Harned and Owen, as tabulated in handbooks: pKw 14.535 at 10 °C, 13.535 at 40 °C; to 0.01 for the two-term form.
    assert!((water.log_k(10.0) + 14.535).abs() < 0.01);
    assert!((water.log_k(40.0) + 13.535).abs() < 0.01);
}

#[test]
fn a_wrong_charge_an_unlisted_source_and_a_stray_key_are_refused() {
    let wrong = TEXT.replace("name = \"HCO3-\", hydrogen = 1", "name = \"HCO3-\", hydrogen = 2");
    assert!(matches!(Equilibria::parse(&wrong), Err(EquilibriaError::ChargeMismatch { .. })));
    let wrong = TEXT.replacen("source = \"phreeqc-sit\"", "source = \"hearsay\"", 1);
    assert!(matches!(Equilibria::parse(&wrong), Err(EquilibriaError::UnlistedSource { .. })));
    let wrong = TEXT.replacen("log_k = -13.995", "log_k = -13.995\npkw = 14", 1);
    assert!(matches!(Equilibria::parse(&wrong), Err(EquilibriaError::Parse(_))));
    let wrong = TEXT.replacen("\"SO4^2-\" = 1", "\"SO4\" = 1", 1);
    assert!(matches!(Equilibria::parse(&wrong), Err(EquilibriaError::UnknownName { .. })));
    let wrong = TEXT.replacen("log_k = -13.995", "log_k = nan", 1);
    assert!(matches!(Equilibria::parse(&wrong), Err(EquilibriaError::BadFigure { .. })));
}

#[test]
fn a_shift_of_a_component_moves_every_pk_of_its_family() {
    let equilibria = Equilibria::parse(TEXT).unwrap();
    let shifted = equilibria.with_shift("hydroquinone", 0.2).unwrap();
    let log_k =
        |table: &Equilibria, name: &str| table.species.iter().find(|s| s.name == name).unwrap().log_k(25.0);
    assert!((log_k(&shifted, "hydroquinone-") + 10.05).abs() < 1e-9);
    assert!((log_k(&shifted, "hydroquinone^2-") + 21.65).abs() < 1e-9);
    let shifted = equilibria.with_shift("HCO3-", 0.1).unwrap();
    assert!((log_k(&shifted, "HCO3-") - 10.429).abs() < 1e-9);
    assert!((log_k(&shifted, "CO2") - 16.680).abs() < 1e-9);
    assert!(equilibria.with_shift("Na+", 0.1).is_err());
    assert!(equilibria.with_shift("H+", 0.1).is_err());
}
