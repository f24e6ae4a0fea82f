//! Bottles in use: films through them, times that grow.

use super::*;

/// 15 % for each 4 rolls through a US gallon is 15 % for each 1.06 films a litre (memory); 10 % after each film: a French club course,
/// section 7.2.3. After three films in a litre 1.10³ = 1.33 to 1.15³ = 1.52, never 1.
#[test]
fn the_time_of_a_used_bath_grows_from_the_second_film_on() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D3 --date 2026-11-01");
    let next = |films: &str| {
        room.add(&format!("count {films} --bottle D3 --date 2026-11-02"));
        let json = room.bottle("D3", "2026-11-03");
        (figure(&json, "next_time_low"), figure(&json, "next_time_high"))
    };
    assert_eq!(next("0"), (1.0, 1.0));
    let (low, high) = next("1");
    assert_abs_diff_eq!(low, 1.10, epsilon = 1e-9);
    assert_abs_diff_eq!(high, 1.15, epsilon = 1e-9);
    let (low, high) = next("3");
    assert_abs_diff_eq!(low, 1.33, epsilon = 0.01);
    assert_abs_diff_eq!(high, 1.52, epsilon = 0.01);
    let time = room.good("time 8min --from mq-borax-classic --bottle D3 --json").json();
    assert_abs_diff_eq!(figure(&time, "low_seconds"), 480.0 * 1.331, epsilon = 0.1);
    assert_abs_diff_eq!(figure(&time, "high_seconds"), 480.0 * 1.5209, epsilon = 0.1);
    let factor = time["factors"].as_array().unwrap().iter().find(|own| own["name"] == "used bath").unwrap();
    assert_eq!(factor["evidence"], "common-practice");
    // Three films in two litres are one and a half a litre.
    room.add("mixed mq-borax-classic 2L --bottle D4 --date 2026-11-01");
    room.add("count 3 --bottle D4 --date 2026-11-02");
    assert_abs_diff_eq!(
        figure(&room.bottle("D4", "2026-11-03"), "next_time_low"),
        1.1f64.powf(1.5),
        epsilon = 1e-9
    );
}

#[test]
fn bottles_begin_new_lives_and_leave() {
    let room = Darkroom::new();
    assert!(room.good("bottles --date 2026-11-01").out.contains("No bottle stands"));
    room.add("mixed mq-borax-classic 1L --bottle D3,D4 --date 2026-11-01");
    room.add("count 2 --bottle D3 --date 2026-11-02");
    let again = room.good("record add mixed metol-sulfite 500ml --bottle D3 --date 2026-11-05");
    assert!(again.err.contains("not discarded"), "{}", again.err);
    let json = room.bottle("D3", "2026-11-06");
    assert_eq!((json["formula"].as_str(), json["films"].as_f64()), (Some("metol-sulfite"), Some(0.0)));
    // The day before it was still the old one.
    assert_eq!(room.bottle("D3", "2026-11-04")["formula"], "mq-borax-classic");
    assert_abs_diff_eq!(figure(&room.bottle("D4", "2026-11-06"), "volume_ml"), 500.0, epsilon = 1e-9);
    room.add("discarded --bottle D3,D4 --date 2026-11-07");
    assert!(room.good("bottles --date 2026-11-07").out.contains("No bottle stands"));
    let gone = room.run("bottles D3 --date 2026-11-07");
    assert_eq!(gone.code, 2);
    // Replenisher drawn from its own bottle; a replenished bath is not counted against the films of one that is not.
    room.add("mixed mq-borax-classic 1L --bottle D5 --date 2026-11-08");
    room.add("mixed mq-borax-classic-replenisher 1L --bottle R5 --date 2026-11-08");
    room.add("developed 8min --bottle D5 --films 4x135 --drawn 600ml --returned 570ml --date 2026-11-09");
    room.add("replenished 88ml --bottle D5 --from R5 --date 2026-11-09");
    let bath = room.bottle("D5", "2026-11-10");
    assert_abs_diff_eq!(figure(&bath, "left_ml"), 1058.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&bath, "replenished_ml"), 88.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&room.bottle("R5", "2026-11-10"), "left_ml"), 912.0, epsilon = 1e-9);
    assert_eq!(bath["state"], "good");
}

/// The count and the day of a bottle reach `time`: after three films in a litre 1.33 to 1.52 times as long, each further film 10 to 15 %
/// (15 % for each 4 rolls through a US gallon, memory; 10 % after each film: a French club course, section 7.2.3).
#[test]
fn the_count_and_the_day_of_a_bottle_reach_the_time() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D3 --date 2026-11-20");
    room.add("count 3 --bottle D3 --date 2026-11-22");
    let on = |day: &str| {
        room.good(&format!("time 8min --from mq-borax-classic --bottle D3 --date {day} --json")).json()
    };
    assert_abs_diff_eq!(figure(&on("2026-11-21"), "seconds"), 480.0, epsilon = 1e-9);
    let after = on("2026-11-23");
    assert_abs_diff_eq!(
        figure(&after, "seconds") / 480.0,
        (1.1_f64.powi(3) * 1.15_f64.powi(3)).sqrt(),
        epsilon = 1e-9
    );
    assert_abs_diff_eq!(figure(&after, "low_seconds") / 480.0, 1.331, epsilon = 1e-9);
    assert_abs_diff_eq!(figure(&after, "high_seconds") / 480.0, 1.520_875, epsilon = 1e-9);
    assert!(after["warnings"].to_string().contains("3 days old; 3 films through it"), "{after}");
    // Stated: 30 days in a tank with its lid, from the first film on.
    assert!(on("2026-12-24")["warnings"].to_string().contains("OUT: bottle D3 was good to 2026-12-22"));
    let early = room.run("time 8min --from mq-borax-classic --bottle D3 --date 2026-11-01");
    assert_eq!(early.code, 2, "{}", early.whole());
}

/// The formula states 22 mL of replenisher for a film: 3 films ask for 66 mL, of which 44 have been poured in.
#[test]
fn a_replenished_bottle_tells_the_sum_after_its_films() {
    let room = Darkroom::new();
    room.add("mixed mq-borax-classic 1L --bottle D2 --date 2026-11-20");
    room.add("developed 8:30 --bottle D2 --films 3 --date 2026-11-21");
    let due = |day: &str| figure(&room.bottle("D2", day), "replenisher_due_ml");
    assert_abs_diff_eq!(due("2026-11-21"), 66.0, epsilon = 1e-9);
    room.add("replenished 44ml --bottle D2 --date 2026-11-22");
    assert_abs_diff_eq!(due("2026-11-22"), 22.0, epsilon = 1e-9);
    let told = room.run("bottles --date 2026-11-22").out;
    assert!(told.contains("+ 22 mL") && told.contains("Mix afresh after 42 films more"), "{told}");
    room.add("replenished 22ml --bottle D2 --date 2026-11-23");
    assert_abs_diff_eq!(due("2026-11-23"), 0.0, epsilon = 1e-9);
}
