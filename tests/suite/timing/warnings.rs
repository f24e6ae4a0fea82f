//! What is refused, warned of, or told beside the time.

use super::*;

// ----------------------------------------------------------------------------------------------------- refusals

#[test]
fn what_one_time_does_not_set_is_refused_with_the_reason() {
    let shelf = Shelf::default();
    let classic = || shelf.stock("mq-borax-classic", 20.0);
    let raw = |id: &str| Setup { developer: Arc::new(shelf.developer(id).unwrap()), ..classic() };
    for (to, code, word) in [
        (raw("two-bath-metol-sulfite-borax"), "two-bath", "two baths"),
        (raw("monobath-pq-thiosulfate"), "not-by-time", "monobath"),
        (raw("lith-paraformaldehyde"), "not-by-time", "lith"),
        (raw("coffee-carbonate-ascorbate-stand"), "agitation-refused", "stand"),
        (shelf.at("mq-borax-classic", "", 20.0, "stand"), "agitation-refused", "bromide"),
        (shelf.at("mq-borax-classic", "", 20.0, "water-bath"), "agitation-refused", "cycles"),
        (
            shelf.at("mq-carbonate-neutral-paper-developer", "1+2", 20.0, "inversion"),
            "film-against-paper",
            "paper",
        ),
        (raw("plain-thiosulfate-fixer"), "not-a-developer", "fixer"),
        (shelf.at("mq-borax-classic", "1+500", 20.0, "inversion"), "dilution-range", "beyond"),
        (shelf.at("mq-borax-classic", "", 9.9, "inversion"), "temperature-range", "9.9"),
        (shelf.at("mq-borax-classic", "", 35.1, "inversion"), "temperature-range", "35"),
    ] {
        for swapped in [false, true] {
            let (from, to) = if swapped { (to.clone(), classic()) } else { (classic(), to.clone()) };
            let refused = answer(8.0, from, to).unwrap_err();
            assert_eq!(refused.code(), code, "{refused}");
            assert!(refused.to_string().contains(word), "{refused}");
            assert!(!refused.fix().is_empty());
        }
    }
}

#[test]
fn stock_means_nothing_for_a_concentrate_and_dilutions_must_fit_the_parts() {
    let shelf = Shelf::default();
    let ratio = |text: &str| text.parse::<MixRatio>().unwrap();
    let concentrate = shelf.developer("p-aminophenol-potassium-hydroxide-concentrate").unwrap();
    assert!(matches!(concentrate.working(Some(&ratio("stock"))), Err(TimingError::StockMeansNothing { .. })));
    assert!(matches!(concentrate.working(Some(&ratio("1+0"))), Err(TimingError::StockMeansNothing { .. })));
    assert!(matches!(concentrate.working(None), Err(TimingError::DilutionNeeded { .. })));
    assert_abs_diff_eq!(concentrate.working(Some(&ratio("1+50"))).unwrap().ratio(), 51.0);
    // A single way of use needs no naming.
    let tank = shelf.developer("pyro-soda-tank").unwrap();
    assert_eq!(tank.working(None).unwrap().to_string(), "4+30+266");
    assert!(matches!(tank.working(Some(&ratio("1+1+1+1"))), Err(TimingError::WrongParts { .. })));
    let classic = shelf.developer("mq-borax-classic").unwrap();
    assert_eq!(classic.working(None).unwrap().to_string(), "stock");
    assert!(matches!(classic.working(Some(&ratio("1+1+8"))), Err(TimingError::WrongParts { .. })));
    // Other proportions of the parts are another developer.
    let soda = "hydroquinone-soda-citric-two-solution-1900";
    let refused = answer(5.0, shelf.at(soda, "1+1", 20.0, "tray"), shelf.at(soda, "3+1", 20.0, "tray"));
    assert!(matches!(refused, Err(TimingError::OtherProportions { .. })));
}

// ------------------------------------------------------------------------------------------------------- warnings

#[test]
fn each_limit_has_its_own_warning_and_only_where_it_applies() {
    let shelf = Shelf::default();
    let classic = |celsius| shelf.stock("mq-borax-classic", celsius);
    let at = |minutes, celsius| codes(&answer(minutes, classic(20.0), classic(celsius)).unwrap());
    assert!(at(8.0, 20.0).is_empty());
    assert!(at(8.0, 21.0).is_empty());
    assert!(at(8.0, 15.0).contains(&"hydroquinone-cold"));
    assert!(at(8.0, 12.0).contains(&"hydroquinone-inactive"));
    assert!(!at(8.0, 12.0).contains(&"hydroquinone-cold"));
    assert!(at(12.0, 26.0).contains(&"gelatin-soft"));
    // A cool cellar is not extrapolated; four degrees off the data are.
    assert!(at(8.0, 18.0).is_empty() && at(8.0, 19.0).is_empty());
    assert!(at(8.0, 16.0).contains(&"temperature-extrapolated"));
    assert!(!at(8.0, 23.5).contains(&"temperature-extrapolated"));
    assert!(at(8.0, 23.5).contains(&"large-temperature-step"));
    assert!(at(5.5, 23.0).contains(&"too-short"));
    assert!(at(28.0, 18.0).contains(&"too-long"));
    // Cold means nothing without hydroquinone.
    let metol = answer(12.0, shelf.stock("metol-sulfite", 20.0), shelf.stock("metol-sulfite", 15.0)).unwrap();
    assert!(!codes(&metol).iter().any(|code| code.starts_with("hydroquinone")));
    let tray = answer(8.0, classic(20.0), shelf.at("mq-borax-classic", "", 20.0, "tray")).unwrap();
    assert_eq!(codes(&tray), ["agitation-uncertain"]);
    let dilute = answer(8.0, classic(20.0), shelf.at("mq-borax-classic", "1+9", 20.0, "inversion")).unwrap();
    assert!(
        codes(&dilute).contains(&"dilution-extrapolated") && codes(&dilute).contains(&"unusual-dilution")
    );
}

// Source: memory and common practice: a metol fine-grain developer with bisulfite gives half a stop to a stop less than a borax one.
#[test]
fn film_speed_is_told_in_stops_where_the_class_changes_and_only_then() {
    let mut shelf = Shelf::default();
    shelf.near.insert("metol-sulfite-bisulfite", vec![("metol-sulfite", 0.2)]);
    let model = Model::new(table(), &shelf);
    let (classic, slow) =
        (shelf.stock("mq-borax-classic", 20.0), shelf.stock("metol-sulfite-bisulfite", 20.0));
    let found = model.adjust(&question(8.0, classic.clone(), slow.clone())).unwrap();
    let told = found.warnings.iter().find(|warning| warning.code() == "speed").unwrap().to_string();
    assert!(told.contains("-1 to -1/2 stop") && told.contains("test"), "{told}");
    assert!(model.adjust(&question(20.0, slow.clone(), slow.clone())).unwrap().warnings.is_empty());
    let same = shelf.stock("mq-borax-bromide-80-sulfite-stronger", 20.0);
    assert!(!codes(&model.adjust(&question(8.0, classic.clone(), same)).unwrap()).contains(&"speed"));
    // A number only from own measured speed.
    let measured = |formula: &str, speed| Record {
        speed: Some(speed),
        ..record("2026-01-02", formula, "stock", 20.0, 8.0)
    };
    let records = [measured("mq-borax-classic", 400.0), measured("metol-sulfite-bisulfite", 200.0)];
    let own = Model::new(table(), &shelf).with_own("my 400 film", &records);
    let found = own.adjust(&question(8.0, classic, slow)).unwrap();
    assert!(codes(&found).contains(&"measured-speed") && !codes(&found).contains(&"speed"));
}

#[test]
fn too_little_stock_for_the_tank_is_told_with_the_tank_that_would_do() {
    let shelf = Shelf::default();
    let model = Model::new(table(), &shelf);
    let to = shelf.at("mq-borax-classic", "1+1", 20.0, "inversion");
    let asked = |rolls, volume_ml| TimeQuestion {
        tank: Some(TankFill { rolls, volume_ml }),
        ..question(8.0, shelf.stock("mq-borax-classic", 20.0), to.clone())
    };
    let small = model.adjust(&asked(1.0, 300.0)).unwrap();
    let Some(TimingWarning::TooLittleStock { have_ml, need_ml, tank_ml }) =
        small.warnings.iter().find(|warning| warning.code() == "too-little-stock")
    else {
        panic!("{:?}", small.warnings)
    };
    assert_abs_diff_eq!(*have_ml, 150.0, epsilon = 1e-9);
    assert_abs_diff_eq!(*need_ml, 237.5, epsilon = 1e-9);
    assert_abs_diff_eq!(*tank_ml, 475.0, epsilon = 1e-9);
    assert!(!codes(&model.adjust(&asked(1.0, 475.0)).unwrap()).contains(&"too-little-stock"));
    assert!(codes(&model.adjust(&asked(2.0, 600.0)).unwrap()).contains(&"too-little-stock"));
}

// Source: common practice, no source: to 5 s below 10 min, to 15 s above.
#[test]
fn a_timer_is_set_to_5_or_15_seconds_and_the_range_rounded_outwards() {
    let shelf = Shelf::default();
    let warmer = |minutes| {
        answer(minutes, shelf.stock("mq-borax-classic", 20.0), shelf.stock("mq-borax-classic", 22.0)).unwrap()
    };
    for (minutes, step) in [(4.0, 5.0), (8.0, 5.0), (16.0, 15.0)] {
        let found = warmer(minutes);
        assert_abs_diff_eq!(found.timer().as_s() % step, 0.0);
        assert_abs_diff_eq!(found.timer().as_s(), found.time.as_s(), epsilon = step / 2.0);
        let (low, high) = found.timer_range().unwrap();
        assert!(low <= found.low && high >= found.high);
        assert!(found.low.as_s() - low.as_s() < 15.0 && high.as_s() - found.high.as_s() < 15.0);
        let test = found.test_first();
        assert!(test.contains("three ordinary frames") && test.contains("temperature"), "{test}");
    }
}
