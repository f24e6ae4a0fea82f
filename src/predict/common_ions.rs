//! How far a salt dissolves beside other salts of its own ion: the ion product.
//!
//! A solution is saturated with a salt when the product of its ions, each to the power of its number, is that of the salt's own saturated
//! solution: for sodium sulfite [Na⁺]²·[SO₃²⁻], to which the sodium of the carbonate counts. Molalities stand for activities, so
//! that the answer is an estimate and no bound: at the strengths of a stock real salts may do better or worse by some tens per cent.
//! (Nernst's law of the solubility product; any textbook of physical chemistry.)

use super::margin::{Figure, figure, water_kg};
use super::{additions, equilibrium_row};
use crate::solution::{Equilibria, WATER_G_PER_MOL};
use crate::substance::Form;
use crate::substance::chemical_formula::AtomicWeights;
use crate::vessel::Content;

/// A simple salt: its ions with how many of each a mole gives.
type Ions = [(String, f64); 2];

/// How often the ion product of a form's own saturated solution is there already; 1 at saturation. None where another chemical brings
/// none of its ions, where it is no simple salt of sodium or potassium, or where its solubility is not known at the temperature.
pub(super) fn times_saturated(
    equilibria: &Equilibria,
    weights: &AtomicWeights,
    list: &[Content],
    index: usize,
    celsius: f64,
) -> Option<f64> {
    let form = &list.get(index)?.form;
    let ions = simple_salt(equilibria, form)?;
    let saturated = saturated_molality(form, weights, celsius)?;
    let there = additions(equilibria, list, "it").ok()?;
    let total = |ion: &str| -> f64 {
        let counts = |own: &crate::solution::Addition| -> f64 {
            own.components.iter().filter(|(name, _)| name == ion).map(|(_, count)| count * own.moles).sum()
        };
        there.iter().map(counts).sum()
    };
    let own_moles = list.get(index)?.moles_per_litre()?;
    let is_shared = ions.iter().any(|(ion, count)| total(ion) > own_moles * count * (1.0 + 1e-6));
    if !is_shared || own_moles <= 0.0 {
        return None;
    }
    let water = water_kg(equilibria, list, celsius)?;
    Some(ions.iter().map(|(ion, count)| (total(ion) / water / (count * saturated)).powf(*count)).product())
}

/// The ions of a salt of sodium or potassium with one anion that takes up or gives off no proton on the way.
fn simple_salt(equilibria: &Equilibria, form: &Form) -> Option<Ions> {
    let row = equilibrium_row(equilibria, form)?;
    let [one, other] = row.components() else { return None };
    let (metal, anion) = if charge(&one.0) > 0.0 { (one, other) } else { (other, one) };
    let is_salt = ["Na+", "K+"].contains(&metal.0.as_str()) && charge(&anion.0) < 0.0;
    let is_neutral = (metal.1 * charge(&metal.0) + anion.1 * charge(&anion.0)).abs() < 1e-9;
    (is_salt && is_neutral).then(|| [metal.clone(), anion.clone()])
}

/// The charge that the name of a component ends in: `SO3^2-` is -2, `Na+` is 1.
fn charge(component: &str) -> f64 {
    let Some(sign) = component.chars().last().filter(|last| ['+', '-'].contains(last)) else { return 0.0 };
    let count =
        component.trim_end_matches(['+', '-']).rsplit_once('^').map_or(Ok(1.0), |(_, count)| count.parse());
    count.unwrap_or(1.0) * if sign == '-' { -1.0 } else { 1.0 }
}

/// mol of a form in a kilogram of water of its own saturated solution, crystal water counted as water.
fn saturated_molality(form: &Form, weights: &AtomicWeights, celsius: f64) -> Option<f64> {
    let Some(Figure::At(grams)) = figure(form, weights, celsius) else { return None };
    let moles = grams / form.molar_mass_g_per_mol?;
    Some(moles / ((100.0 + moles * form.crystal_water * WATER_G_PER_MOL) / 1000.0))
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;

    fn product(contents: &[(&str, f64)], celsius: f64) -> Option<f64> {
        let library = Library::shipped();
        let equilibria = Equilibria::read(library.packed("equilibria.toml")).unwrap();
        let list: Vec<Content> =
            contents.iter().map(|(id, grams)| Content::grams(&library.form(id).unwrap(), *grams)).collect();
        times_saturated(&equilibria, library.weights(), &list, 0, celsius)
    }

    #[test]
    fn a_charge_is_read_from_the_name() {
        for (name, expected) in [("Na+", 1.0), ("SO3^2-", -2.0), ("citrate^3-", -3.0), ("B(OH)3", 0.0)] {
            assert!((charge(name) - expected).abs() < f64::EPSILON, "{name}");
        }
    }

    #[test]
    fn a_salt_alone_is_no_matter_of_common_ions() {
        assert_eq!(product(&[("sodium-sulfite-anhydrous", 100.0)], 18.0), None);
        assert_eq!(product(&[("sodium-sulfite-anhydrous", 100.0), ("potassium-bromide", 50.0)], 18.0), None);
    }

    #[test]
    fn sulfite_beside_carbonate_reaches_its_ion_product_sooner() {
        // By hand, at 18 °C: 2.0 mol of sulfite and 1.2 mol of carbonate on a litre; sodium 6.4 mol. Alone 252 g (2.0 mol) would need its
        // own 4.0 mol: the product is (6.4 / 4.0)² = 2.56 times what the sulfite alone makes of it.
        let beside =
            product(&[("sodium-sulfite-anhydrous", 150.0), ("sodium-carbonate-anhydrous", 75.0)], 18.0);
        let less =
            product(&[("sodium-sulfite-anhydrous", 150.0), ("sodium-carbonate-anhydrous", 10.0)], 18.0);
        let (beside, less) = (beside.unwrap(), less.unwrap());
        // 150 g are 1.190 mol, with 2.380 mol of sodium; 75 g of carbonate bring 1.415, 10 g bring 0.189.
        let by_hand = ((2.380 + 1.415_f64) / (2.380 + 0.189)).powi(2);
        // The carbonate takes up a little room, too.
        assert_relative_eq!(beside / less, by_hand, max_relative = 0.06);
    }
}
