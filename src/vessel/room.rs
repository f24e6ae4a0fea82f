//! The room that ingredients take up in a litre.

use crate::formula::{Amount, Ingredient, amount_in_grams};
use crate::substance::State;

/// Room that ingredients take up in a litre, mL.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Room {
    /// Volume of the liquids and solutions.
    pub liquids_ml: f64,
    /// Volume of the solids as crystals, which is near what they displace when dissolved.
    pub solids_ml: f64,
    /// Water that the solutions among the liquids bring, g: what their strength leaves; a pure liquid brings none.
    pub brought_water_g: f64,
}

impl Room {
    /// Room taken up by the ingredients of a part; a liquid given in grams without a density counts as one gram a millilitre.
    pub fn of(ingredients: &[Ingredient]) -> Self {
        let mut room = Self::default();
        for ingredient in ingredients {
            let form = &ingredient.form;
            let grams = amount_in_grams(form, ingredient.amount);
            match ingredient.amount {
                Amount::Millilitres(millilitres) => room.liquids_ml += millilitres,
                Amount::PercentSolution { millilitres, .. } => {
                    room.liquids_ml += millilitres;
                    room.brought_water_g += (millilitres - grams.unwrap_or(0.0)).max(0.0);
                }
                Amount::Grams(grams) if form.state == State::Solid => {
                    room.solids_ml += form.solid_room_ml(grams);
                }
                Amount::Grams(grams) => room.liquids_ml += grams / form.density_g_per_ml.unwrap_or(1.0),
            }
            if form.state == State::Solution && !matches!(ingredient.amount, Amount::PercentSolution { .. }) {
                room.brought_water_g += grams.unwrap_or(0.0) * (1.0 - form.assay_fraction());
            }
        }
        room
    }

    /// Both together.
    pub fn total_ml(self) -> f64 {
        self.liquids_ml + self.solids_ml
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Formula;
    use crate::library::Library;

    #[test]
    fn a_solution_brings_the_water_that_its_strength_leaves() {
        // 100 mL of a 10 % w/v solution hold 10 g of the salt (IUPAC Gold Book, mass concentration): 90 g are water, its density taken as
        // 1. 100 g of an acid of 28 % by mass bring 72 g.
        let text = "format = 1\ntitle = \"T\"\nkind = \"stop-bath\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"potassium-bromide\"\nmillilitres = 100\nstrength = \"10 % w/v\"\n[[ingredients]]\nsubstance = \"acetic-acid-28\"\ngrams = 100\n";
        let formula = Formula::parse(text, "own", "own.toml", &Library::shipped()).unwrap();
        let room = Room::of(&formula.parts[0].ingredients);
        assert!((room.brought_water_g - 162.0).abs() < 1e-9, "{room:?}");
        let of_acid = 100.0 / formula.parts[0].ingredients[1].form.density_g_per_ml.unwrap();
        assert!((room.liquids_ml - 100.0 - of_acid).abs() < 1e-9, "{room:?}");
    }

    #[test]
    fn a_solution_of_unknown_strength_by_volume_counts_as_water() {
        // 100 mL of 10 % by weight, its density not known: at the most all of it is water, at 1 g/mL.
        let text = "format = 1\ntitle = \"T\"\nkind = \"stop-bath\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"potassium-bromide\"\nmillilitres = 100\nstrength = \"10 % w/w\"\n";
        let formula = Formula::parse(text, "own", "own.toml", &Library::shipped()).unwrap();
        let room = Room::of(&formula.parts[0].ingredients);
        assert!(
            (room.brought_water_g - 100.0).abs() < 1e-9 && (room.total_ml() - 100.0).abs() < 1e-9,
            "{room:?}"
        );
    }
}
