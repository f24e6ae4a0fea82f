//! What holds for any solution.

use super::*;

// Limit: water alone, pKw / 2. Tolerance: the rounding of 13.995 / 2.
#[test]
fn pure_water_is_neutral() {
    let table = table();
    let water = predict(table, &[], 25.0).unwrap();
    assert_abs_diff_eq!(water.ph, 6.9975, epsilon = 1e-4);
    assert_eq!(water.buffering, Buffering::Poor);
    assert!(water.limits.iter().any(|limit| matches!(limit, ModelLimit::PoorlyBuffered { .. })));
    // Pure water at 0 and 60 °C: 7.47 and 6.51 in handbooks (pKw 14.94 and 13.02).
    assert_abs_diff_eq!(predict(table, &[], 0.0).unwrap().ph, 7.47, epsilon = 0.01);
    assert_abs_diff_eq!(predict(table, &[], 60.0).unwrap().ph, 6.51, epsilon = 0.01);
}

// Limit: a buffer thinned out tends to water, a strong acid to -log c.
#[test]
fn infinite_dilution_tends_to_the_ideal() {
    let table = table();
    let acid = |moles| vec![table.substance("hydrochloric-acid").unwrap().addition(moles, 0.0)];
    let ph = |moles| predict(table, &acid(moles), 25.0).unwrap().ph;
    // At 1e-4 the activity coefficient still makes 0.005 and the density of water 0.001.
    assert_abs_diff_eq!(ph(1e-4), 4.0, epsilon = 0.008);
    assert_abs_diff_eq!(ph(1e-12), 6.9975, epsilon = 1e-4);
    // Equal parts of acetic acid and acetate tend to the pK; far enough above the dissociation of the acid itself.
    let buffer: Vec<Addition> = [("acetic-acid", 0.01), ("sodium-acetate", 0.01)]
        .map(|(id, moles)| table.substance(id).unwrap().addition(moles, 0.0))
        .to_vec();
    assert_abs_diff_eq!(predict(table, &buffer, 25.0).unwrap().ph, 4.756, epsilon = 0.06);
}

#[test]
fn the_order_of_additions_does_not_matter() {
    let table = table();
    let mut additions = developer(table);
    let forward = predict(table, &additions, 20.0).unwrap();
    additions.reverse();
    let backward = predict(table, &additions, 20.0).unwrap();
    assert_abs_diff_eq!(forward.ph, backward.ph, epsilon = 1e-9);
    additions.rotate_left(2);
    assert_abs_diff_eq!(predict(table, &additions, 20.0).unwrap().ph, forward.ph, epsilon = 1e-9);
}

// Grams for any volume, told per litre, are the same solution; so is an addition in two halves.
#[test]
fn volume_does_not_matter_and_splitting_an_addition_neither() {
    let table = table();
    let whole = predict(table, &developer(table), 20.0).unwrap();
    for volume in [0.25, 3.0, 20.0] {
        let batch = [
            ("metol", 2.0),
            ("sodium-sulfite-anhydrous", 100.0),
            ("hydroquinone", 5.0),
            ("borax-decahydrate", 2.0),
            ("potassium-bromide", 0.5),
        ];
        let scaled: Vec<Addition> = batch
            .map(|(form, per_litre)| (form, per_litre * volume))
            .map(|(form, in_batch)| grams(table, form, in_batch / volume))
            .to_vec();
        assert_abs_diff_eq!(predict(table, &scaled, 20.0).unwrap().ph, whole.ph, epsilon = 1e-9);
    }
    let halves: Vec<Addition> = developer(table)
        .into_iter()
        .flat_map(|addition| {
            let half = Addition { moles: addition.moles / 2.0, ..addition };
            [half.clone(), half]
        })
        .collect();
    assert_abs_diff_eq!(predict(table, &halves, 20.0).unwrap().ph, whole.ph, epsilon = 1e-9);
}

#[test]
fn charges_and_masses_balance() {
    let table = table();
    let predicted = predict(table, &developer(table), 20.0).unwrap();
    let charge_of = |name: &str| -> f64 {
        let (body, sign) = match (name.strip_suffix('+'), name.strip_suffix('-')) {
            (Some(body), _) => (body, 1.0),
            (_, Some(body)) => (body, -1.0),
            _ => return 0.0,
        };
        sign * body.rsplit_once('^').and_then(|(_, n)| n.parse().ok()).unwrap_or(1.0)
    };
    let amount = |name: &str| -> f64 {
        predicted.species.iter().find(|s| s.name == name).map_or(0.0, |s| s.moles_per_litre)
    };
    let charge: f64 = predicted.species.iter().map(|s| charge_of(&s.name) * s.moles_per_litre).sum();
    assert_abs_diff_eq!(charge, 0.0, epsilon = 1e-7);
    let boron =
        amount("B(OH)3") + amount("B(OH)4-") + 3.0 * amount("B3O3(OH)4-") + 4.0 * amount("B4O5(OH)4^2-");
    assert_abs_diff_eq!(boron, 4.0 * 2.0 / 381.372, epsilon = 1e-8);
    let sulfur = amount("SO3^2-") + amount("HSO3-") + amount("SO2") + 2.0 * amount("S2O5^2-");
    assert_abs_diff_eq!(sulfur, 100.0 / 126.043, epsilon = 1e-7);
}

// The sum of charges falls with pH, so strong base always raises the pH and the capacity is positive.
#[test]
fn base_raises_and_acid_lowers_the_ph_without_a_step_back() {
    let table = table();
    let bases = [
        "citric-acid-anhydrous=20;borax-decahydrate=10;sodium-sulfite-anhydrous=20",
        "edta-disodium-dihydrate=10;sodium-bicarbonate=20",
        "potassium-alum-dodecahydrate=15;sodium-thiosulfate-pentahydrate=200;acetic-acid=13",
    ];
    for base in bases {
        let mut last = f64::NEG_INFINITY;
        for step in 0..40 {
            let mut solution = recipe(table, base);
            solution.push(grams(table, "sodium-hydroxide", f64::from(step) * 0.5));
            let predicted = predict(table, &solution, 20.0).unwrap();
            assert!(predicted.ph > last, "{base} step {step}");
            assert!(predicted.buffer_capacity > 0.0);
            last = predicted.ph;
        }
    }
}

#[test]
fn capacity_is_what_a_little_caustic_does() {
    let table = table();
    let solution = recipe(table, "sodium-carbonate-anhydrous=20;sodium-bicarbonate=10");
    let predicted = predict(table, &solution, 20.0).unwrap();
    let mut with_caustic = solution.clone();
    let caustic = 0.001;
    with_caustic.push(table.substance("sodium-hydroxide").unwrap().addition(caustic, 0.0));
    let moved = predict(table, &with_caustic, 20.0).unwrap().ph - predicted.ph;
    // A tenth: the capacity is told at fixed activity coefficients, which bicarbonate turning into carbonate also moves.
    assert_abs_diff_eq!(caustic / moved / predicted.buffer_capacity, 1.0, epsilon = 0.1);
}

#[test]
fn a_zero_amount_removes_its_family() {
    let table = table();
    let mut solution = developer(table);
    let without = predict(table, &solution, 20.0).unwrap();
    solution.push(grams(table, "edta-tetrasodium", 0.0));
    let with = predict(table, &solution, 20.0).unwrap();
    assert_abs_diff_eq!(with.ph, without.ph, epsilon = 1e-12);
    assert_eq!(with.species.len(), without.species.len());
}

// Source of the shifts: the table of sensitivities worked out with the same model apart from this program. Tolerance: its last place.
#[test]
fn what_moves_a_developer_most_is_its_sulfite() {
    let table = table();
    let text = "metol=2;hydroquinone=5;sodium-sulfite-anhydrous=100;borax-decahydrate=2";
    let base = predict(table, &recipe(table, text), 20.0).unwrap().ph;
    assert_abs_diff_eq!(base, 8.35, epsilon = 0.015);
    let one_percent =
        "metol=2;hydroquinone=5;sodium-sulfite-anhydrous=99;sodium-bisulfite=0.8256;borax-decahydrate=2";
    let impure = predict(table, &recipe(table, one_percent), 20.0).unwrap().ph;
    assert_abs_diff_eq!(impure - base, -0.24, epsilon = 0.015);
    let weaker = table.with_shift("hydroquinone", 0.2).unwrap();
    let shifted = predict(&weaker, &recipe(&weaker, text), 20.0).unwrap().ph;
    assert_abs_diff_eq!(shifted - base, 0.03, epsilon = 0.01);
    let warmer = predict(table, &recipe(table, text), 25.0).unwrap().ph;
    assert_abs_diff_eq!(warmer - base, -0.02, epsilon = 0.01);
}

fn finite(predicted: &Prediction) -> bool {
    let figures = [
        predicted.ph,
        predicted.ph_error,
        predicted.ionic_strength,
        predicted.buffer_capacity,
        predicted.water_kg_per_litre,
    ];
    figures.iter().all(|figure| figure.is_finite())
        && predicted.species.iter().all(|s| s.moles_per_litre.is_finite() && s.moles_per_litre >= 0.0)
        && predicted.iterations.charge < 40_000
}

fn any_moles() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => (-12.0..1.7_f64).prop_map(|power| 10_f64.powf(power)),
        1 => Just(0.0),
        1 => any::<f64>(),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_input_loops_or_gives_a_figure_that_is_not_finite(
        picks in prop::collection::vec((0_usize..140, any_moles()), 0..9),
        temperature in prop_oneof![8 => 0.0..60.0_f64, 1 => any::<f64>()],
    ) {
        let table = table();
        let additions: Vec<Addition> = picks
            .iter()
            .filter_map(|(at, moles)| Some(table.substances().nth(*at)?.addition(*moles, 0.0)))
            .collect();
        if let Ok(predicted) = predict(table, &additions, temperature) {
            prop_assert!(finite(&predicted));
        }
    }

    #[test]
    fn what_a_darkroom_mixes_always_gets_an_answer(
        picks in prop::collection::vec((0_usize..140, 1e-6..0.6_f64), 1..8),
        temperature in 0.0..60.0_f64,
    ) {
        let table = table();
        let additions: Vec<Addition> = picks
            .iter()
            .filter_map(|(at, moles)| Some(table.substances().nth(*at)?.addition(*moles, 0.0)))
            .collect();
        let predicted = predict(table, &additions, temperature);
        prop_assert!(predicted.is_ok(), "{predicted:?}");
        prop_assert!(finite(&predicted.unwrap()));
    }

    #[test]
    fn a_search_for_an_amount_ends(
        at in any::<prop::sample::Index>(),
        target in prop_oneof![0.0..14.0_f64, any::<f64>()],
        most in any_moles(),
    ) {
        let table = table();
        let reagent = table.substances().nth(at.index(table.substances().count())).unwrap().addition(1.0, 0.0);
        let base = developer(table);
        if let Ok(moles) = amount_for_ph(table, &base, &reagent, target, 20.0, most) {
            prop_assert!(moles.is_finite() && moles >= 0.0 && moles <= most);
        }
    }

    #[test]
    fn a_beaker_never_reads_nonsense(
        water in any_moles(), start in any::<f64>(), grams in any_moles(), poured_c in -10.0..120.0_f64,
    ) {
        let table = table();
        if let Ok(beaker) = Beaker::new(water * 1000.0, start) {
            for portion in [
                Portion::powder(table.substance("sodium-hydroxide").unwrap(), grams, 0.0, Some(-44.5)),
                Portion::powder(table.substance("borax").unwrap(), grams, 10.0, None),
                Portion::water(grams, poured_c),
            ] {
                if let Ok(step) = step_temperature(table, &beaker, &portion) {
                    prop_assert!(step.temperature_after_c.is_finite());
                    prop_assert!((0.0..=100.0).contains(&step.beaker.temperature_c()));
                }
            }
        }
    }
}
