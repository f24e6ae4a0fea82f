//! Laws that hold for any input.
#![allow(clippy::float_cmp, reason = "figures as written are compared")]

use std::sync::Arc;

use crate::common::shipped::{formulas, tables};
use proptest::prelude::*;
use soupcon::formula::{Chemicals as _, Formula};
use soupcon::library::Library;
use soupcon::quantity::{Duration, Mass, MixRatio, Strength, Temperature, Volume};
use soupcon::scale::dose::Balance;
use soupcon::scale::exchange::{Relations, exchange};
use soupcon::scale::{Advice, Have, Request, Unit, Wanted, scale};
use soupcon::substance::chemical_formula::ChemicalFormula;

fn shipped() -> (Library, &'static [Formula], &'static Relations) {
    (Library::shipped(), formulas(), &tables().relations)
}

fn parsed_as_everything(text: &str) {
    let _ = text.parse::<Mass>();
    let _ = text.parse::<Volume>();
    let _ = text.parse::<Temperature>();
    let _ = text.parse::<Duration>();
    let _ = text.parse::<Strength>();
    let _ = text.parse::<MixRatio>();
    let _ = ChemicalFormula::parse(text);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn parsing_a_quantity_never_panics(text in "\\PC{0,24}") {
        parsed_as_everything(&text);
    }

    #[test]
    fn parsing_something_like_a_quantity_never_panics(text in "[-+0-9.,eE/: %a-zA-Z°()\\[\\]·]{0,16}") {
        parsed_as_everything(&text);
    }

    #[test]
    fn a_displayed_mass_reads_back_as_displayed(grams in 0.0001_f64..5000.0) {
        let shown = Mass::from_g(grams).to_string();
        let again = shown.parse::<Mass>().unwrap();
        prop_assert_eq!(again.to_string(), shown);
    }

    #[test]
    fn a_displayed_volume_duration_or_temperature_reads_back_as_displayed(
        ml in 0.1_f64..50000.0, seconds in 1.0_f64..7000.0, celsius in -40.0_f64..110.0,
    ) {
        let volume = Volume::from_ml(ml).to_string();
        prop_assert_eq!(volume.parse::<Volume>().unwrap().to_string(), volume);
        let duration = Duration::from_s(seconds).to_string();
        let typed = duration.replace(" min", "");
        prop_assert_eq!(typed.parse::<Duration>().unwrap().to_string(), duration);
        let temperature = Temperature::from_c(celsius).to_string();
        prop_assert_eq!(temperature.parse::<Temperature>().unwrap().to_string(), temperature);
    }

    #[test]
    fn a_dilution_is_read_as_written(stock in 1_u32..50, water in 1_u32..200) {
        let ratio = format!("{stock}+{water}").parse::<MixRatio>().unwrap();
        prop_assert_eq!(ratio.parts(), [f64::from(stock), f64::from(water)]);
    }

    #[test]
    fn reading_a_formula_never_panics(text in "\\PC{0,400}") {
        let library = Library::shipped();
        let _ = Formula::parse(&text, "any", "any.toml", &library);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn portions_add_up_and_each_is_what_the_balance_carries_and_shows(
        ml in 100.0_f64..3000.0, max_steps in 1_u32..400, step in prop::sample::select(vec![0.01, 0.1, 0.2, 1.0]),
    ) {
        let (_, formulas, relations) = shipped();
        let max_g = f64::from(max_steps) * step * 1.003;
        let in_steps = |grams: f64| (grams / step - (grams / step).round()).abs() < 1e-6;
        for formula in formulas {
            let mut request = Request::volume(Volume::from_ml(ml));
            request.balance = Balance { step_g: step, max_g: Some(max_g) };
            for item in scale(formula, &request, relations).unwrap().parts.iter().flat_map(|part| &part.items) {
                let told = item.advice.iter().find_map(|advice| match advice {
                    Advice::Portions { full, full_g, rest_g } => Some((*full, *full_g, *rest_g)),
                    _ => None,
                });
                let is_weighed = item.unit == Unit::Gram && item.dose.is_none();
                prop_assert_eq!(told.is_some(), is_weighed && item.weigh > max_g, "{} of {}", item.weigh, formula.id);
                if let Some((full, full_g, rest_g)) = told {
                    prop_assert!((f64::from(full) * full_g + rest_g - item.weigh).abs() < 1e-6);
                    prop_assert!(full_g <= max_g && rest_g < full_g && in_steps(full_g) && in_steps(rest_g));
                }
            }
        }
    }

    #[test]
    fn scaling_by_a_then_b_is_scaling_by_a_times_b(a in 0.01_f64..20.0, b in 0.01_f64..5.0) {
        let (_, formulas, relations) = shipped();
        for formula in formulas {
            let at = |ml: f64| scale(formula, &Request::volume(Volume::from_ml(ml)), relations).unwrap();
            let (one, both) = (at(a * 1000.0), at(a * b * 1000.0));
            for (first, second) in one.parts.iter().zip(&both.parts) {
                for (small, large) in first.items.iter().zip(&second.items) {
                    prop_assert!((small.amount * b - large.amount).abs() <= 1e-9 * large.amount.abs());
                }
            }
        }
    }

    #[test]
    fn mass_is_conserved_through_dose_and_rounding(ml in 20.0_f64..20000.0, step in prop::sample::select(vec![1.0, 0.1, 0.05, 0.01, 0.001])) {
        let (_, formulas, relations) = shipped();
        let mut request = Request::volume(Volume::from_ml(ml));
        request.balance = Balance { step_g: step, max_g: None };
        for formula in formulas {
            let batch = scale(formula, &request, relations).unwrap();
            for (part, source) in batch.parts.iter().zip(&formula.parts) {
                for (item, ingredient) in part.items.iter().zip(&source.ingredients) {
                    // What enters the vessel is what the recipe asks.
                    if let (Some(own), Some(asked)) = (item.grams, ingredient.grams_per_litre()) {
                        let asked = asked * ml / 1000.0;
                        prop_assert!((own - asked).abs() <= 1e-9 * asked, "{}: {own} for {asked}", item.form.id);
                    }
                    // The reported rounding is the whole difference.
                    if item.unit == Unit::Gram {
                        let back = item.weigh / (1.0 + item.rounding_error_percent / 100.0);
                        prop_assert!(item.weigh == 0.0 || (back - item.amount).abs() <= 1e-9 * item.amount);
                        if item.dose.is_none() {
                            prop_assert!((item.weigh - item.amount).abs() <= step / 2.0 + 1e-6);
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn exchange_there_and_back_conserves_moles_for_every_pair_of_forms() {
    let (library, _, relations) = shipped();
    let (substances, _) = library.all_substances().unwrap();
    let mut pairs = 0;
    for substance in &substances {
        for from in &substance.forms {
            for to in &substance.forms {
                let (Some(_), Some(_)) = (from.molar_mass_g_per_mol, to.molar_mass_g_per_mol) else {
                    continue;
                };
                let there =
                    exchange(12.5, (from, from.assay_fraction()), (to, to.assay_fraction()), relations)
                        .unwrap();
                let back = exchange(
                    there.grams,
                    (to, to.assay_fraction()),
                    (from, from.assay_fraction()),
                    relations,
                )
                .unwrap();
                assert!((back.grams - 12.5).abs() < 1e-9, "{} and {}", from.id, to.id);
                let moles = |grams: f64, form: &soupcon::substance::Form| {
                    grams * form.assay_fraction() / form.molar_mass_g_per_mol.unwrap()
                };
                assert!((moles(12.5, from) - moles(there.grams, to)).abs() < 1e-12);
                pairs += 1;
            }
        }
    }
    assert!(pairs > 150);
}

#[test]
fn relations_between_parents_go_both_ways_or_say_why_not() {
    let (library, _, relations) = shipped();
    for relation in relations.rows() {
        for parent in [&relation.from, &relation.to] {
            assert!(
                library.substance(parent).unwrap().is_some(),
                "{parent} in tables/exchanges.toml is no substance"
            );
        }
        if let Some(back) = relations.between(&relation.to, &relation.from) {
            assert!((relation.moles * back.moles - 1.0).abs() < 1e-12, "{} and back", relation.from);
            assert_eq!(relation.hydroxide_moles, -back.hydroxide_moles);
        }
    }
}

#[test]
fn a_limited_bottle_makes_a_batch_that_uses_it_up() {
    let (library, formulas, relations) = shipped();
    let metol = library.form("metol").unwrap();
    for formula in formulas.iter().filter(|formula| formula.ingredients().any(|own| own.form.id == "metol")) {
        let mut request = Request::volume(Volume::from_ml(1.0));
        request.wanted = Wanted::AsMuchAsPossible;
        request.have =
            vec![Have { form: Arc::clone(&metol), amount: Some(Mass::from_g(3.2)), is_limit: true }];
        let batch = scale(formula, &request, relations).unwrap();
        let used: f64 = batch
            .parts
            .iter()
            .flat_map(|part| &part.items)
            .filter(|item| item.form.id == "metol")
            .filter_map(|item| item.grams)
            .sum();
        assert!((used - 3.2).abs() < 1e-9, "{} uses {used} g", formula.id);
    }
}
