//! Molar masses of the salts in which sums are told, g/mol: from the standard atomic weights of IUPAC 2021, as a test computes them.

/// Sodium sulfite, anhydrous: all sulfite is told as this salt.
pub const SODIUM_SULFITE_G_PER_MOL: f64 = 126.04;
/// `NaOH`, by the shipped atomic weights; a test holds it against them.
pub const SODIUM_HYDROXIDE_G_PER_MOL: f64 = 39.997;
/// Potassium bromide: all bromide is told as this salt.
pub const POTASSIUM_BROMIDE_G_PER_MOL: f64 = 119.00;
/// Sodium thiosulfate pentahydrate: all thiosulfate is told as hypo in crystals.
pub const HYPO_G_PER_MOL: f64 = 248.17;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::Library;
    use crate::substance::chemical_formula::ChemicalFormula;

    #[test]
    fn the_molar_masses_are_those_of_the_formulas() {
        let library = Library::shipped();
        for (formula, told) in [
            ("Na2SO3", SODIUM_SULFITE_G_PER_MOL),
            ("NaOH", SODIUM_HYDROXIDE_G_PER_MOL),
            ("KBr", POTASSIUM_BROMIDE_G_PER_MOL),
            ("Na2S2O3.5H2O", HYPO_G_PER_MOL),
        ] {
            let mass = ChemicalFormula::parse(formula).unwrap().molar_mass(library.weights()).unwrap();
            // Told with two decimals or three.
            assert!((mass - told).abs() < 0.006, "{formula}: {mass} against {told}");
        }
    }
}
