//! Compositions against figures from outside: molar masses, old pages with two columns, the published figures in the formula files, and
//! the shipped library judged by the program itself.

use std::path::Path;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use soupcon::composition::Composer;
use soupcon::diagnostic::FindingSeverity;
use soupcon::formula::{Amount, Chemicals as _};
use soupcon::library::Library;
use soupcon::lint::{self, Tables};
use soupcon::safety::SafetyData;
use soupcon::scale::exchange::Relations;
use soupcon::solution::Equilibria;
use soupcon::vessel::Content;

/// Fields of a CSV file whose last field may be quoted.
fn rows(text: &str) -> Vec<Vec<String>> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            let (plain, quoted) = line.split_once('"').unwrap_or((line, ""));
            let mut fields: Vec<String> = plain.trim_end_matches(',').split(',').map(str::to_owned).collect();
            if !quoted.is_empty() {
                fields.push(quoted.trim_end_matches('"').to_owned());
            }
            fields
        })
        .collect()
}

#[test]
fn a_mole_of_every_form_is_a_mole_per_litre() {
    // Source: Python packages molmass and periodictable (versions in the file). Tolerance 2e-4: the two differ by up to 8e-5, and the
    // abridged atomic weights add as much.
    let library = Library::shipped();
    let composer = Composer::new(&library);
    let mut checked = 0;
    for row in rows(include_str!("../data/molar-masses.csv")) {
        let form = library.form(&row[0]).unwrap_or_else(|error| panic!("{error}"));
        let molar_mass: f64 = row[2].parse().unwrap();
        let grams = Amount::Grams(molar_mass / form.assay_fraction());
        let composition =
            composer.of_vessel("one mole".to_owned(), vec![Content::of_amount(&form, grams)].into(), None);
        let component = &composition.components[0];
        assert_relative_eq!(component.moles_per_litre.unwrap(), 1.0, max_relative = 2e-4);
        // Told in its basis form and back in the form named, nothing is lost.
        let back = component.grams_in(&component.named[0]).unwrap();
        assert_relative_eq!(back, molar_mass / component.named[0].assay_fraction(), max_relative = 1e-9);
        checked += 1;
    }
    assert!(checked > 120, "only {checked} forms were checked");
}

#[test]
fn old_pages_with_two_columns_are_reproduced_with_their_own_disagreements() {
    // Source and tolerance of each row stand in the file; a row marked `no` is a page whose columns do not agree, and the figure must
    // then not agree either, or the conversion would be wrong.
    let library = Library::shipped();
    for row in rows(include_str!("../data/double-columns.csv")) {
        let [amount, per, printed, tolerance, agrees, what, source] = row.as_slice() else {
            panic!("{row:?}")
        };
        let text = format!(
            "format = 1\ntitle = \"t\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
             [[ingredients]]\nsubstance = \"metol\"\namount = \"{amount}\"\nper = \"{per}\"\n"
        );
        let formula = library.formula_from_text(&text, "t", "t.toml").unwrap().formula;
        let ingredient = &formula.parts[0].ingredients[0];
        let own = ingredient.grams_per_litre().unwrap();
        let difference = (own - printed.parse::<f64>().unwrap()).abs();
        let within = difference <= tolerance.parse::<f64>().unwrap();
        assert_eq!(within, agrees == "yes", "{what}, {amount} in {per}: {own} against {printed} ({source})");
        // Both the old figure and the grams stay to be shown.
        assert_eq!(ingredient.historical.as_deref(), Some(format!("{amount} per {per}").as_str()));
    }
}

#[test]
fn standard_solutions_have_the_molarity_that_their_names_say() {
    // Source: molalities in the titles, Bates, J. Res. NBS 66A (1962) 179 and J. Res. NBS 73A (1969) 37; the recipes are for a litre, so
    // mol/L lies some 0.2 to 1 % below mol/kg.
    let library = Library::shipped();
    let composer = Composer::new(&library);
    for (id, parent, molal) in [
        ("ph-standard-borax", "borax", 0.01),
        ("ph-standard-phthalate", "potassium-hydrogen-phthalate", 0.05),
        ("ph-standard-carbonate", "sodium-carbonate", 0.025),
        ("ph-standard-carbonate", "sodium-bicarbonate", 0.025),
        ("ph-standard-phosphate", "monopotassium-phosphate", 0.025),
        ("ph-standard-phosphate", "disodium-phosphate", 0.025),
    ] {
        let formula = library.formula(id).unwrap().formula;
        let moles = composer.bottled(&formula)[0].moles(parent).unwrap();
        assert_abs_diff_eq!(moles, molal * 0.995, epsilon = molal * 0.006);
    }
}

/// Judges the folder `formulas` as `soupcon check formulas` does.
fn report() -> lint::LintReport {
    let library = Library::shipped();
    let equilibria = Equilibria::parse(library.table("equilibria.toml").unwrap()).unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("formulas");
    let table = |name: &str| library.table(name).unwrap();
    let relations = Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap();
    let safety =
        SafetyData::parse(table("statements.toml"), table("combinations.toml"), table("precautions.toml"));
    let tables = Tables { equilibria: &equilibria, safety: &safety.unwrap(), relations: &relations };
    lint::paths(&[folder], None, &library, Some(tables)).unwrap()
}

#[test]
fn the_shipped_library_is_clean_and_all_its_published_figures_are_reproduced() {
    let report = report();
    let told: Vec<String> = report
        .at_least(FindingSeverity::Advice)
        .map(|finding| format!("{finding} ({})", finding.fix))
        .collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
    assert!(
        report.formulas >= 200 && report.substances >= 120,
        "{} and {}",
        report.formulas,
        report.substances
    );
    assert!(report.checks >= 13, "only {} published figures were compared", report.checks);
    assert_eq!(report.unchecked, 0);
}
