//! `cool` against sums of heat, Newton's law and a textbook's bottle.

use approx::assert_abs_diff_eq;

use crate::common::{good, soupcon};

fn figure(arguments: &[&str], field: &str) -> f64 {
    let mut all = vec!["cool"];
    all.extend(arguments);
    all.push("--json");
    good(&all).json()[field].as_f64().unwrap()
}

/// `t = tau ln((T0 − Ta) / (T − Ta))`: 140 ln(26/5) = 230.8 min; 18 + 6 exp(−0.8) = 20.70 °C.
#[test]
fn newtons_law_there_and_back() {
    let minutes = figure(
        &["1L", "--from", "46C", "--to", "25C", "--around", "20C", "--time-constant", "140min"],
        "minutes",
    );
    assert_abs_diff_eq!(minutes, 230.8, epsilon = 0.5);
    let after = [
        "1L",
        "--from",
        "24.0C",
        "--in",
        "water",
        "--around",
        "18.0C",
        "--time-constant",
        "10min",
        "--after",
        "8min",
    ];
    assert_abs_diff_eq!(figure(&after, "celsius"), 20.70, epsilon = 0.03);
}

/// A cylinder 0.10 × 0.30 m of water, 15.55 W/(m² K) on its side, from 3 °C in air of 27 °C: a solved textbook problem (heat transfer
/// text, problem 7-61) gives 11 °C after 45 min; Newton's law 10.9. Time constant: 2.356 kg × 4182 J/(kg K) / (15.55 × 0.09425 m²) = 6723 s.
#[test]
fn a_textbook_bottle_warms_as_the_textbook_says() {
    let tau = format!("{:.0}s", 2.356 * 4182.0 / (15.55 * std::f64::consts::PI * 0.10 * 0.30));
    let celsius = figure(
        &["2356ml", "--from", "3C", "--around", "27C", "--time-constant", &tau, "--after", "45min"],
        "celsius",
    );
    assert_abs_diff_eq!(celsius, 10.9, epsilon = 0.2);
}

/// The correlations of natural convection, integrated elsewhere (a script, apart from this program) for a cylinder two and a half times as
/// high as wide: minutes from 46 °C. The tolerance, 12 %, is the difference that two tables of fluid properties make.
#[test]
fn time_of_a_litre_by_the_correlations() {
    for (around, celsius, to, glass, plastic) in [
        ("air", "20C", "30C", 132.0, 130.0),
        ("air", "20C", "22C", 398.0, 392.0),
        ("air", "18C", "25C", 198.0, 195.0),
        ("moving-air", "18C", "22C", 128.0, 123.0),
        ("water", "18C", "22C", 21.0, 20.0),
        ("water", "15C", "20C", 20.0, 18.0),
        ("water", "10C", "20C", 14.0, 12.0),
        ("moving-water", "15C", "20C", 10.0, 9.0),
    ] {
        for (bottle, expected) in [("glass", glass), ("plastic", plastic)] {
            let run =
                ["1L", "--from", "46C", "--to", to, "--in", around, "--around", celsius, "--bottle", bottle];
            let minutes = figure(&run, "minutes");
            assert!(
                (minutes / expected - 1.0).abs() < 0.12,
                "{around} {celsius} {to} {bottle}: {minutes} against {expected}"
            );
            assert!(figure(&run, "low_minutes") < minutes && figure(&run, "high_minutes") > minutes);
        }
    }
}

/// Heat balances with 334 J/g for melting, 4.18 and 2.1 J/(g K): 4180 × 6 / (334 + 83.6) = 60.1 g; from −18 °C 55.1 g; as part of the
/// batch m (334 + 83.6) = (1000 − m) 4.18 × 26 gives 206.5 g.
#[test]
fn ice_by_the_balance_of_heat() {
    assert_abs_diff_eq!(
        figure(&["1L", "--from", "26C", "--to", "20C", "--ice", "0C"], "ice_g"),
        60.1,
        epsilon = 0.1
    );
    assert_abs_diff_eq!(
        figure(&["1L", "--from", "26C", "--to", "20C", "--ice", "-18C"], "ice_g"),
        55.1,
        epsilon = 0.1
    );
    assert_abs_diff_eq!(
        figure(&["1L", "--from", "46C", "--to", "20C", "--ice", "0C", "--ice-counts"], "ice_g"),
        206.5,
        epsilon = 0.1
    );
}

/// (1 × 46 + 3 × 15) / 4 = 22.75 °C; 600 mL at 20 °C into 420 g of steel (0.5 J/(g K)) at 26 °C: 20.46 °C.
#[test]
fn bodies_put_together_meet_between() {
    assert_abs_diff_eq!(
        figure(&["1L", "--from", "46C", "--in", "water", "--around", "15C", "--bath", "3L"], "celsius"),
        22.75,
        epsilon = 0.05
    );
    assert_abs_diff_eq!(
        figure(&["600ml", "--from", "20C", "--into", "steel=420g", "--around", "26C"], "celsius"),
        20.46,
        epsilon = 0.05
    );
}

#[test]
fn what_never_comes_is_refused_with_a_remedy() {
    for (arguments, told) in [
        (&["cool", "1L", "--from", "46C", "--to", "20.0C", "--around", "20.0C"][..], "never reaches"),
        (&["cool", "1L", "--from", "46C", "--to", "15C", "--around", "20C"], "cannot bring it"),
        (&["cool", "1L", "--from", "20C", "--to", "26C", "--ice", "0C"], "ice cools"),
        (&["cool", "1L", "--from", "46", "--to", "20C", "--around", "18C"], "--from"),
        (&["cool", "1L", "--from", "46C", "--to", "20C"], "--around"),
        (&["cool", "1L", "--from", "46C", "--to", "20C", "--in", "water", "--around", "-5C"], "0 °C"),
    ] {
        let ran = soupcon(arguments);
        assert_ne!(ran.code, 0, "{arguments:?}");
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
        assert!(ran.err.contains("fix:"), "{arguments:?}: {}", ran.err);
    }
    let near = good(&["cool", "1L", "--from", "46C", "--to", "20C", "--around", "20C", "--within", "1C"]);
    assert!(near.out.contains("21 °C"), "{}", near.out);
}

/// The time constant of a closed bottle in still air goes about as the cube root of its volume (surface over heat capacity): 4 L over 0.5 L
/// twice as long.
#[test]
fn a_bottle_eight_times_as_large_takes_about_twice_as_long() {
    let tau = |volume: &str| {
        figure(
            &[volume, "--from", "46C", "--to", "25C", "--in", "air", "--around", "18C", "--bottle", "glass"],
            "time_constant_minutes",
        )
    };
    let ratio = tau("4L") / tau("500ml");
    assert!((ratio / 2.0 - 1.0).abs() < 0.10, "{ratio}");
}
