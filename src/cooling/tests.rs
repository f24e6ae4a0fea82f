//! Times of cooling against worked cases and the laws of cooling.

use super::*;

fn litre(material: BottleMaterial, around: Around, around_c: f64) -> CoolingCourse {
    CoolingCourse {
        bottle: CoolingBottle { volume_ml: 1000.0, material, around },
        from_c: 46.0,
        around_c,
        bath_ml: None,
        time_constant_minutes: None,
    }
}

/// Film coefficient outside cold bottles in a room, 4 to 6 K from it: students measured 7.4 W/(m² K) (university slides on water bottles).
#[test]
fn still_air_takes_about_seven_watts_from_a_square_metre_of_bottle() {
    let bottle = CoolingBottle { volume_ml: 1000.0, material: BottleMaterial::Plastic, around: Around::Air };
    let overall = bottle.overall_w_per_m2_k(15.0, 20.0);
    assert!((6.8..8.4).contains(&overall), "{overall}");
}

/// U of plastic bottles, measured from 10 W/(m² K) in air to nearly 400 in fast water (A. Liga et al., Heat and Mass Transfer, 2015, abstract).
#[test]
fn water_takes_tens_of_times_what_air_takes() {
    let of = |around| {
        CoolingBottle { volume_ml: 500.0, material: BottleMaterial::Plastic, around }
            .overall_w_per_m2_k(40.0, 18.0)
    };
    assert!(of(Around::Air) > 7.0 && of(Around::Air) < 12.0);
    assert!(of(Around::MovingWater) > 200.0 && of(Around::MovingWater) < 400.0);
    assert!(of(Around::Water) > 8.0 * of(Around::Air));
}

/// In still air the time constant goes about as the cube root of the volume (geometry alone: C grows as V, A as V^(2/3)).
#[test]
fn eight_times_the_bottle_takes_twice_as_long() {
    let tau = |volume_ml| {
        CoolingBottle { volume_ml, material: BottleMaterial::Glass, around: Around::Air }
            .time_constant_minutes(32.0, 18.0, None)
    };
    let ratio = tau(4000.0) / tau(500.0);
    assert!((1.8..2.2).contains(&ratio), "{ratio}");
}

#[test]
fn there_and_back_by_time_and_temperature() {
    let course = litre(BottleMaterial::Glass, Around::Water, 15.0);
    let minutes = course.minutes_to(20.0).unwrap();
    let back = course.celsius_after(minutes).unwrap();
    assert!((back - 20.0).abs() < 0.05, "{back}");
}

#[test]
fn a_limited_bath_meets_the_bottle_between() {
    let mut course = litre(BottleMaterial::Glass, Around::Water, 15.0);
    course.bath_ml = Some(3000.0);
    assert!(course.settles_c() > 22.0 && course.settles_c() < 24.0);
    assert!(course.minutes_to(20.0).is_err());
    let wanted = bath_ending_at_ml(&course.bottle, 46.0, 20.0, 15.0).unwrap();
    course.bath_ml = Some(wanted);
    assert!((course.settles_c() - 20.0).abs() < 1e-9);
    assert_eq!(course.minutes_to(20.0), Err(CoolingError::Never));
}

#[test]
fn what_cannot_be_is_refused() {
    let course = litre(BottleMaterial::Glass, Around::Air, 20.0);
    assert_eq!(course.minutes_to(20.0), Err(CoolingError::Never));
    assert!(matches!(course.minutes_to(15.0), Err(CoolingError::WrongWay { .. })));
    assert!(matches!(course.minutes_to(50.0), Err(CoolingError::WrongWay { .. })));
    assert!(ice_g(1000.0, 20.0, 26.0, 0.0, Ice::InABag).is_err());
    assert!(ice_g(1000.0, 26.0, 20.0, 4.0, Ice::InABag).is_err());
}

#[test]
fn what_is_worked_out_quickly_is_the_same_to_a_thousandth() {
    for (volume_ml, from_c) in [(100.0, 25.0), (500.0, 40.0), (1000.0, 52.0), (5000.0, 90.0)] {
        for around in [Around::Air, Around::Water, Around::MovingAir] {
            let bottle = CoolingBottle { volume_ml, material: BottleMaterial::Glass, around };
            let course =
                CoolingCourse { bottle, from_c, around_c: 15.0, bath_ml: None, time_constant_minutes: None };
            let (exact, about) = (course.minutes_to(20.0).unwrap(), course.about_minutes_to(20.0).unwrap());
            assert!((about / exact - 1.0).abs() < 1e-3, "{exact} {about}");
        }
    }
}
