//! The laws of temperature, dilution, contrast and pushing, for any input.

use super::*;

// Source: the Arrhenius and the exponential law themselves; Ea chosen for the same factor from 15 to 25 °C.
#[test]
fn the_two_temperature_laws_differ_by_at_most_0_6_percent_near_20_c() {
    let kelvin = |celsius: f64| celsius + 273.15;
    for q10 in [1.3_f64, 1.9, 2.5, 2.8] {
        let k = q10.ln() / 10.0;
        let ea_over_r = q10.ln() / (1.0 / kelvin(15.0) - 1.0 / kelvin(25.0));
        for celsius in [16.0, 18.0, 22.0, 24.0] {
            let exponential = (-k * (celsius - 20.0)).exp();
            let arrhenius = (ea_over_r * (1.0 / kelvin(celsius) - 1.0 / kelvin(20.0))).exp();
            assert_relative_eq!(exponential, arrhenius, max_relative = 0.0065);
        }
    }
}

// Source: factor table of the exponential law, computed apart. Tolerance: half of the last printed place.
#[test]
fn a_coefficient_given_by_the_user_moves_the_time_as_the_law_says() {
    let shelf = Shelf::default();
    for (q10, factors) in [
        (1.3, [1.111, 1.054, 0.949, 0.900]),
        (1.9, [1.293, 1.137, 0.880, 0.774]),
        (2.5, [1.443, 1.201, 0.833, 0.693]),
        (3.3, [1.612, 1.270, 0.788, 0.620]),
    ] {
        let coefficient: TypedCoefficient = format!("{q10}/10C").parse().unwrap();
        let model = Model::new(table(), &shelf).with_coefficient(coefficient);
        for (celsius, factor) in [16.0, 18.0, 22.0, 24.0].into_iter().zip(factors) {
            let (from, to) =
                (shelf.stock("mq-borax-classic", 20.0), shelf.stock("mq-borax-classic", celsius));
            let found = model.adjust(&question(10.0, from, to)).unwrap();
            assert_abs_diff_eq!(found.time.as_min() / 10.0, factor, epsilon = 0.000_51);
            assert_eq!(found.factors.len(), 1);
            assert_eq!(found.factors[0].support, Support::Given);
            // Rounding of the known time, and what a coefficient printed to two figures leaves open: 7 % and 1 % a degree.
            let reach = 0.07_f64.hypot(0.01 * (celsius - 20.0));
            assert_abs_diff_eq!((found.high.as_s() / found.time.as_s()).ln(), reach, epsilon = 1e-9);
        }
    }
}

// Source: synthetic sets with least-squares answers computed apart (scipy). Tolerance: half of the last printed place.
#[test]
fn least_squares_fits_of_gradients_agree_with_those_computed_apart() {
    // Minutes, gradients; infinity, rate, rms and the time for 0.58.
    type Set = (&'static [f64], &'static [f64], f64, f64, f64, f64);
    let sets: [Set; 3] = [
        (&[4.0, 6.0, 9.0, 13.0], &[0.3423, 0.4582, 0.5775, 0.6891], 0.843, 0.1298, 0.0023, 8.96),
        (&[3.0, 5.0, 8.0, 12.0, 20.0], &[0.33, 0.49, 0.66, 0.80, 0.93], 0.998, 0.1350, 0.0012, 6.45),
        (&[2.0, 4.0, 8.0, 16.0], &[0.55, 0.86, 1.17, 1.33], 1.349, 0.2563, 0.0060, 2.19),
    ];
    for (minutes, gradients, infinity, rate, rms, needed) in sets {
        let pairs = minutes.iter().zip(gradients);
        let points: Vec<Measured> =
            pairs.map(|(&minutes, &gradient)| Measured { minutes, gradient }).collect();
        let (law, found_rms) = GammaLaw::fit(&points).unwrap();
        assert_abs_diff_eq!(law.infinity, infinity, epsilon = 0.000_51);
        assert_abs_diff_eq!(law.rate_per_minute, rate, epsilon = 0.000_051);
        assert_abs_diff_eq!(found_rms, rms, epsilon = 0.000_051);
        assert_abs_diff_eq!(law.minutes_for(0.58).unwrap(), needed, epsilon = 0.0051);
    }
    let straight: Vec<Measured> =
        [2.0, 4.0, 8.0].map(|minutes| Measured { minutes, gradient: 0.05 * minutes }).to_vec();
    assert_eq!(GammaLaw::fit(&straight), None);
}

// Source: density range 1.05, subject range 2.20, flare 0.40, computed apart. Tolerance: half of the last printed place.
#[test]
fn a_step_of_contrast_is_one_stop_of_subject_range() {
    for (steps, gradient) in [(2.0, 0.875), (1.0, 0.700), (0.0, 0.583), (-1.0, 0.500), (-2.0, 0.437)] {
        let normal = 1.05 / 1.80;
        assert_abs_diff_eq!(normal * gradient_ratio(1.80, 0.30, steps), gradient, epsilon = 0.000_51);
    }
}

// Source: the law g = G (1 - e^(-k t)) at a normal gradient of 0.583 over G 0.84 to 1.35, computed apart: one step less 0.76 to 0.82 of
// the time, two 0.62 to 0.69. Documents (a film maker's sheets and data book): 0.78 to 0.85, 0.62 to 0.70; more 1.31 to 1.41, 2.0 to
// 2.38.
#[test]
fn contrast_without_own_gradients_goes_by_the_law_and_counts_from_normal() {
    let shelf = Shelf::default();
    let here = shelf.stock("mq-borax-classic", 20.0);
    let model = Model::new(table(), &shelf);
    let asked = |contrast| TimeQuestion {
        wish: NegativeWish::steps(contrast),
        ..question(8.0, here.clone(), here.clone())
    };
    let span = |contrast| {
        let found = model.adjust(&asked(contrast)).unwrap();
        let factor = |time: Duration| time.as_min() / 8.0;
        (factor(found.low), factor(found.time), factor(found.high))
    };
    for (steps, lowest, highest) in
        [(-1.0, 0.78, 0.85), (-2.0, 0.62, 0.70), (1.0, 1.31, 1.41), (2.0, 2.0, 2.38)]
    {
        let (low, central, high) = span(steps);
        assert!(low <= lowest && highest <= high, "{steps}: {low} to {high}");
        assert!((lowest - 0.02..=highest + 0.02).contains(&central), "{steps}: {central}");
    }
    // Half a step is between nothing and a whole one; steps are no powers of one figure.
    assert!(span(1.0).1 > span(0.5).1 && span(0.5).1 > 1.0);
    assert!(span(-2.0).1 > span(-1.0).1.powi(2) && span(2.0).1 > span(1.0).1.powi(2));
    // A step is a gradient: 0.583 to 0.700.
    let wish = NegativeWish { gradient: Some(0.583 * 1.2), ..NegativeWish::default() };
    let by_gradient = model.adjust(&TimeQuestion { wish, ..asked(0.0) }).unwrap();
    assert_relative_eq!(by_gradient.time.as_min() / 8.0, span(1.0).1, max_relative = 1e-9);
    assert!(codes(&by_gradient).contains(&"normal-gradient-taken"));
    assert!(matches!(model.adjust(&asked(3.0)), Err(TimingError::ContrastSteps { .. })));
    assert!(matches!(model.adjust(&asked(f64::NAN)), Err(TimingError::ContrastSteps { .. })));
}

// Source: a film maker's sheets for four films in the borax developer, fifteen steps of one stop: 1.11 to 1.40.
#[test]
fn a_push_takes_what_makers_sheets_print_and_says_that_shadows_gain_nothing() {
    let shelf = Shelf::default();
    let here = shelf.stock("mq-borax-classic", 20.0);
    let wish = NegativeWish { push: 1.0, ..NegativeWish::default() };
    let found = answer_with(&shelf, &TimeQuestion { wish, ..question(8.0, here.clone(), here.clone()) });
    assert!((1.11..=1.40).contains(&(found.time.as_min() / 8.0)));
    assert!(codes(&found).contains(&"pushed"));
    let far = TimeQuestion {
        wish: NegativeWish { push: 4.0, ..NegativeWish::default() },
        ..question(8.0, here.clone(), here)
    };
    assert!(matches!(Model::new(table(), &shelf).adjust(&far), Err(TimingError::PushStops { .. })));
}

fn answer_with(shelf: &Shelf, question: &TimeQuestion) -> Estimate {
    Model::new(table(), shelf).adjust(question).unwrap()
}

// Source: worked cases of the reading of a foot and of the gamma law, computed apart. Tolerances: those of the cases, 0.05 stop, 0.005.
#[test]
fn shadows_tell_stops_and_highlights_time() {
    assert_abs_diff_eq!(table().exposure_stops(0.05).unwrap(), 0.49, epsilon = 0.05);
    assert_abs_diff_eq!(table().exposure_stops(0.20).unwrap(), -0.66, epsilon = 0.05);
    assert_eq!(table().exposure_stops(0.01), None);
    let law = GammaLaw { infinity: 0.96, rate_per_minute: 0.1386 };
    let factor = law.minutes_for(0.58).unwrap() / law.minutes_for(0.638).unwrap();
    assert_abs_diff_eq!(factor, 0.848, epsilon = 0.005);
    // Only highlights move the time: a record whose shadows were empty is told, and changes nothing.
    let shelf = Shelf::default();
    let here = shelf.stock("mq-borax-classic", 20.0);
    let right = record("2026-01-02", "mq-borax-classic", "stock", 20.0, 8.0);
    let empty = Record { shadows: Some(soupcon::journal::Shadows::Empty), ..right.clone() };
    let time = |records: &[Record]| {
        let model = Model::new(table(), &shelf).with_own("my 400 film", records);
        model.adjust_from_own(&here, &NegativeWish::default(), None).unwrap()
    };
    let (plain, told) = (time(&[right]), time(&[empty]));
    assert_eq!(plain.time, told.time);
    assert!(!codes(&plain).contains(&"shadows") && codes(&told).contains(&"shadows"));
}

// ------------------------------------------------------------------------------------------------- laws of the model

const RELATED: [(&str, &str); 8] = [
    ("mq-borax-classic", "stock"),
    ("mq-borax-classic", "1+1"),
    ("mq-borax-bromide-80-sulfite-stronger", "stock"),
    ("pq-borax-buffered", "1+1"),
    ("metol-sulfite", "stock"),
    ("mq-metaborate-studio", "1+1"),
    ("p-aminophenol-potassium-hydroxide-concentrate", "1+25"),
    ("acutance-metol-iodide", "stock"),
];

fn conditions() -> impl Strategy<Value = (usize, f64, usize)> {
    (0..RELATED.len(), 10.0..35.0_f64, 0..4_usize)
}

fn setup(shelf: &Shelf, (index, celsius, agitation): (usize, f64, usize)) -> Setup {
    let (id, dilution) = RELATED[index];
    shelf.at(id, dilution, celsius, ["inversion", "tray", "rotary", "tank-lift"][agitation])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn identical_conditions_give_exactly_the_known_time_and_no_range(at in conditions(), minutes in 1.0..60.0_f64) {
        let shelf = Shelf::default();
        let here = setup(&shelf, at);
        let found = answer(minutes, here.clone(), here).unwrap();
        prop_assert!(found.time == Duration::from_min(minutes) && found.timer() == found.time);
        prop_assert!(found.low == found.time && found.high == found.time && found.factors.is_empty());
        prop_assert!(found.timer_range().is_none());
    }

    #[test]
    fn there_and_back_returns_the_start(one in conditions(), other in conditions(), minutes in 1.0..60.0_f64) {
        let shelf = Shelf::default();
        let (from, to) = (setup(&shelf, one), setup(&shelf, other));
        let there = answer(minutes, from.clone(), to.clone()).unwrap();
        prop_assert!(there.low <= there.time && there.time <= there.high);
        prop_assert!(there.time.as_s().is_finite() && there.low.as_s() > 0.0);
        let back = answer(there.time.as_min(), to, from).unwrap();
        prop_assert!((back.time.as_min() / minutes - 1.0).abs() < 1e-9);
        prop_assert!((back.high.as_s() / back.time.as_s() - there.time.as_s() / there.low.as_s()).abs() < 1e-9);
    }

    #[test]
    fn the_order_of_the_steps_does_not_matter(
        celsius in 10.0..35.0_f64, agitation in 0..4_usize, minutes in 1.0..60.0_f64,
    ) {
        let shelf = Shelf::default();
        let start = setup(&shelf, (0, 20.0, 0));
        let end = setup(&shelf, (1, celsius, agitation));
        let at_once = answer(minutes, start.clone(), end.clone()).unwrap();
        // Dilution first, then temperature, then agitation; and the other way round.
        for steps in [[(1, 20.0, 0), (1, celsius, 0)], [(0, 20.0, agitation), (0, celsius, agitation)]] {
            let mut time = minutes;
            let mut here = start.clone();
            for step in steps {
                let next = setup(&shelf, step);
                time = answer(time, here, next.clone()).unwrap().time.as_min();
                here = next;
            }
            time = answer(time, here, end.clone()).unwrap().time.as_min();
            prop_assert!((time / at_once.time.as_min() - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn warmer_is_shorter_more_dilute_is_longer_and_further_is_less_certain(
        celsius in 10.0..34.0_f64, more in 0.1..1.0_f64, water in 0.0..5.0_f64, minutes in 1.0..60.0_f64,
    ) {
        let shelf = Shelf::default();
        let start = shelf.stock("mq-borax-classic", 20.0);
        let to = |celsius, water: f64| shelf.at("mq-borax-classic", &format!("1+{water:.3}"), celsius, "inversion");
        let found = |celsius, water| answer(minutes, start.clone(), to(celsius, water)).unwrap();
        prop_assert!(found(celsius + more, water).time < found(celsius, water).time);
        prop_assert!(found(celsius, water + more).time > found(celsius, water).time);
        let width = |celsius| {
            let found = found(celsius, 0.0);
            (found.high.as_s() / found.low.as_s()).ln()
        };
        let (near, far) = if celsius < 20.0 { (celsius + more, celsius) } else { (celsius, celsius + more) };
        if (near - 20.0) * (far - 20.0) > 0.0 {
            prop_assert!(width(far) > width(near));
        }
    }
}
