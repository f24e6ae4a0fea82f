//! Figures of curves worked out elsewhere.

use super::*;

#[test]
fn open_sets_read_as_worked_out_elsewhere_and_near_the_truth() {
    // Source: tests/data/sensitometry.csv. Tolerances: half of the last printed place against the table; against the function what
    // readings rounded to 0.01 and steps of 0.15 allow: 0.02 in log H (5 % in speed), 0.015 in gradients.
    let mut checked = 0;
    for set in ["rising-21", "shoulder-21", "soft-31", "series-4", "series-6", "series-9", "series-13"] {
        let read = named(&figures(set, EXACT));
        for (record, _, from_table, exact) in rows(set) {
            let Some(value) = read.get(record.as_str()) else { continue };
            let (near, truth) = match record.as_str() {
                "speed" | "delta_x_speed" => (0.0007 * from_table, 0.055 * from_table),
                "degrees" | "speed_label" | "is_iso" => (0.0, 0.0),
                "log_h_m" => (0.000_051, 0.02),
                _ => (0.000_051, 0.015),
            };
            assert_abs_diff_eq!(*value, from_table, epsilon = near);
            if let Some(exact) = exact {
                assert_abs_diff_eq!(*value, exact, epsilon = truth);
            }
            checked += 1;
        }
    }
    assert_eq!(checked, 3 * 10 + 4 * 4);
}

#[test]
fn gamma_is_the_slope_that_the_sets_were_made_with() {
    // Source: the generating functions, g = 0.6485, 0.85, 0.56 (tests/data/sensitometry.csv); the shoulder of the second begins
    // before its straight line has run out. Tolerance: 0.01, and 0.02 there.
    for (set, slope, tolerance) in
        [("rising-21", 0.6485, 0.01), ("shoulder-21", 0.85, 0.02), ("soft-31", 0.56, 0.01)]
    {
        let gamma = figures(set, READ).gamma.unwrap();
        assert_abs_diff_eq!(gamma.value, slope, epsilon = tolerance);
        assert!(gamma.residual < 0.005, "{gamma:?}");
    }
    assert!(figures("rising-21", EXACT).useful_range.is_open);
    assert!(!figures("shoulder-21", EXACT).useful_range.is_open);
}

fn series() -> Series {
    let strips = ["series-4", "series-6", "series-9", "series-13"].map(|set| {
        let minutes = rows(set).into_iter().find(|row| row.0 == "minutes").unwrap().2;
        (minutes, figures(set, READ))
    });
    Series::new(strips.to_vec()).unwrap()
}

#[test]
fn a_series_gives_the_time_and_the_speed_there() {
    let target = Target::of(ContrastWish::Iso, SUBJECT, &table()).unwrap();
    let TargetOutcome::Reached(answer) = series().answer(target, SUBJECT, &table()).unwrap() else {
        panic!()
    };
    let expected: BTreeMap<String, (f64, f64)> =
        rows("target").into_iter().map(|row| (row.0, (row.2, row.3.unwrap()))).collect();
    // Source: tests/data/sensitometry.csv. The true time is missed by what rounded readings allow.
    assert_abs_diff_eq!(answer.minutes, expected["minutes"].0, epsilon = 0.005);
    assert_abs_diff_eq!(answer.minutes, expected["minutes"].1, epsilon = 0.25);
    assert_abs_diff_eq!(answer.speed.value, expected["speed"].0, epsilon = 0.05);
    assert_abs_diff_eq!(answer.speed.value, expected["speed"].1, epsilon = 6.5);
    assert!(answer.limits.low < expected["minutes"].1 && expected["minutes"].1 < answer.limits.high);
    assert!(answer.speed.limits.low < expected["speed"].1 && expected["speed"].1 < answer.speed.limits.high);
    let names = answer.speed.named.unwrap();
    assert_eq!(
        (f64::from(names.degrees), names.label),
        (expected["degrees"].0, Some(expected["speed_label"].0))
    );
}

#[test]
fn every_kind_of_target_is_met_where_it_says() {
    // The law behind the series, g = 0.95 (1 - e^(-0.115 t)) far from the toe, is met by the answers within what the toe takes off.
    let series = series();
    for wish in
        [ContrastWish::Iso, ContrastWish::Gradient(0.58), ContrastWish::Steps(0.0), ContrastWish::Range(1.20)]
    {
        let target = Target::of(wish, SUBJECT, &table()).unwrap();
        let TargetOutcome::Reached(answer) = series.answer(target, SUBJECT, &table()).unwrap() else {
            panic!("{wish:?}")
        };
        let straight = 0.95 * (1.0 - (-0.115 * answer.minutes).exp());
        assert!(straight > target.gradient() && straight < target.gradient() * 1.13, "{wish:?} {straight}");
    }
    let beyond = Target::of(ContrastWish::Gradient(0.75), SUBJECT, &table()).unwrap();
    assert!(matches!(series.answer(beyond, SUBJECT, &table()), Ok(TargetOutcome::Outside { .. })));
    // Source: 1.05 for grade 2 (practitioners); a step is one stop of the subject: 1.05 / 1.80 and 1.05 / 1.50.
    let gradient = |steps| Target::of(ContrastWish::Steps(steps), SUBJECT, &table()).unwrap().gradient();
    assert_abs_diff_eq!(gradient(0.0), 0.5833, epsilon = 0.0001);
    assert_abs_diff_eq!(gradient(1.0), 0.7, epsilon = 0.0001);
}

#[test]
fn a_paper_reads_as_worked_out_elsewhere() {
    let own = paper(&strip_of(&file("paper")), READ, &table()).unwrap();
    let read = BTreeMap::from([
        ("log_exposure_range", (own.range, 0.0005)),
        ("iso_range", (own.iso_range, 0.0)),
        ("log_h_speed", (own.log_h_speed, 0.00005)),
        ("paper_speed", (own.speed, 0.5)),
        ("range_absolute", (own.range_absolute.unwrap(), 0.0005)),
    ]);
    let mut checked = 0;
    for (record, _, from_table, exact) in rows("paper") {
        let Some((value, near)) = read.get(record.as_str()) else { continue };
        assert_abs_diff_eq!(*value, from_table, epsilon = *near);
        // The toe is read to 0.01: 0.02 in log H, 5 % in speed.
        let truth = if record == "paper_speed" { 8.0 } else { 0.02 };
        assert_abs_diff_eq!(*value, exact.unwrap(), epsilon = truth);
        checked += 1;
    }
    assert_eq!(checked, read.len());
    assert!(own.is_full);
    // Source: bands of 1966 (The Focal Encyclopedia of Photography, 4th ed., p. 679; the inner limits from memory).
    assert_eq!(own.grade.as_deref(), Some("2"));
}

#[test]
fn the_interpolation_is_that_of_an_independent_implementation() {
    // Source: tests/data/pchip-scipy.csv (its version is named there). Tolerance: rounding of the last bits.
    type Pairs = Vec<(f64, f64)>;
    let mut sets: BTreeMap<String, (Pairs, Pairs, Pairs)> = BTreeMap::new();
    for line in SCIPY.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let fields: Vec<&str> = line.split(',').collect();
        let pair = (fields[2].parse().unwrap(), fields[3].parse().unwrap());
        let set = sets.entry(fields[0].to_owned()).or_default();
        match fields[1] {
            "point" => set.0.push(pair),
            "slope" => set.1.push(pair),
            _ => set.2.push(pair),
        }
    }
    assert_eq!(sets.len(), 8);
    for (points, slopes, values) in sets.values() {
        let curve = Pchip::new(points).unwrap();
        for (own, (_, slope)) in curve.slopes().iter().zip(slopes) {
            assert_abs_diff_eq!(*own, *slope, epsilon = 1e-9);
        }
        for (x, value) in values {
            assert_abs_diff_eq!(curve.at(*x).unwrap(), *value, epsilon = 1e-12);
        }
        let (first, last) = curve.span();
        assert!(curve.at(first - 0.001).is_none() && curve.at(last + 0.001).is_none());
    }
}

#[test]
fn the_interpolation_passes_the_check_set() {
    // Source: worked out with scipy 1.17; printed places.
    let curve = Pchip::new(&[(0.0, 0.0), (0.5, 0.05), (1.0, 0.40), (2.0, 1.20), (2.5, 1.30)]).unwrap();
    for (own, expected) in curve.slopes().iter().zip([0.0, 0.175, 0.741_176, 0.3, 0.0]) {
        assert_abs_diff_eq!(*own, expected, epsilon = 5e-7);
    }
    for (x, expected) in [(0.25, 0.014_063), (0.75, 0.189_614), (1.5, 0.855_147), (2.25, 1.268_750)] {
        assert_abs_diff_eq!(curve.at(x).unwrap(), expected, epsilon = 5.1e-7);
    }
}

#[test]
fn speeds_round_to_the_nearest_step() {
    // Source: tests/data/speed-steps.csv, to three places of log Hm; so a little inside of each boundary.
    let table = table();
    let mut count = 0;
    for line in STEPS.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let fields: Vec<f64> = line.split(',').map(|own| own.parse().unwrap()).collect();
        let [degrees, label, from, to] = fields[..] else { panic!("{line}") };
        for log_h in [from + 0.001, f64::midpoint(from, to), to - 0.001] {
            let named = table.named(0.8 / 10_f64.powf(log_h)).unwrap();
            assert_eq!((f64::from(named.degrees), named.label), (degrees, Some(label)), "{line} at {log_h}");
        }
        count += 1;
    }
    assert_eq!(count, 33);
    // Source: an encyclopedia article on film speed describing ISO 6: 100 = 21°, 200 = 24°. S = 71.5 is nearer to the step 80.
    for (speed, degrees, label) in
        [(100.0, 21, 100.0), (200.0, 24, 200.0), (71.5, 20, 80.0), (437.0, 27, 400.0)]
    {
        let named = table.named(speed).unwrap();
        assert_eq!((named.degrees, named.label), (degrees, Some(label)));
    }
    assert_eq!(table.named(0.0), None);
    assert_eq!(table.named(-3.0), None);
}

#[test]
fn a_tablet_is_what_it_says() {
    // Source: worked example: 10 lx, 0.02 s, 21 steps of 0.15 from 0.05, step 11: -0.6990 - 1.55 = -2.2490.
    let mut tablet = Tablet::parse("21x0.15+0.05").unwrap();
    tablet.log_exposure = Some((10.0_f64 * 0.02).log10());
    assert_abs_diff_eq!(tablet.log_h(11), -2.2490, epsilon = 0.00005);
    for wrong in [
        "21",
        "x0.15",
        "21x",
        "21x0.15+",
        "0x0.15",
        "21x9",
        "21x0.15+7",
        "1e9x0.15",
        "21x-0.15",
        "21x0.15+nan",
    ] {
        assert!(Tablet::parse(wrong).is_err(), "{wrong}");
    }
    let folder = tempfile::tempdir().unwrap();
    let steps: String = rows("rising-21")
        .iter()
        .filter(|row| row.0 == "point")
        .rev()
        .enumerate()
        .map(|(index, row)| format!("{},{}\n", index + 1, row.2))
        .collect();
    fs::write(folder.path().join("s.csv"), format!("step,density\nbase,0.28\n{steps}")).unwrap();
    let run = |more: &[&str]| {
        let all = [&["curve", "s.csv", "--tablet", "21x0.15+0.05", "--json"], more].concat();
        soupcon_in(folder.path(), &all).json()["curves"][0].clone()
    };
    let known = run(&["--lux", "10", "--seconds", "0.02"]);
    assert_abs_diff_eq!(known["log_h"][10].as_f64().unwrap(), -2.2490, epsilon = 0.00005);
    assert_eq!(known["log_h"].as_array().unwrap().len(), 21);
    assert_eq!(known["is_iso"], true);
    // Without the light there is no speed, the contrast is the same.
    let relative = run(&[]);
    assert!(
        relative["speed"].is_null() && relative["degrees"].is_null() && relative["speed_label"].is_null()
    );
    assert_eq!(relative["is_iso"], false);
    assert_abs_diff_eq!(
        relative["density_difference"].as_f64().unwrap(),
        known["density_difference"].as_f64().unwrap(),
        epsilon = 1e-9
    );
}
