//! Times of the user's own, weighed against the books.

use super::*;

fn from_own(shelf: &Shelf, records: &[Record], to: &Setup) -> Estimate {
    let model = Model::new(table(), shelf).with_own("My 400  film", records);
    model.adjust_from_own(to, &NegativeWish::default(), None).unwrap()
}

fn classic(shelf: &Shelf, celsius: f64) -> Setup {
    shelf.stock("mq-borax-classic", celsius)
}

// Source: textbook algebra. Between the books' ratio (1.15, known to half of ln 1.2/1.1 and 10 % together, nine in ten) and that of two
// records (7 % each) the mean is weighted by precision.
#[test]
fn two_own_records_in_two_formulas_are_weighed_against_the_books() {
    let shelf = Shelf::default();
    let stronger = "mq-borax-bromide-80-sulfite-stronger";
    let records = [
        record("2026-01-02", "mq-borax-classic", "stock", 20.0, 8.0),
        record("2026-02-03", stronger, "stock", 20.0, 10.4),
    ];
    let model = Model::new(table(), &shelf).with_own("My 400  film", &records);
    let asked = question(10.0, classic(&shelf, 20.0), shelf.stock(stronger, 20.0));
    let found = model.adjust(&asked).unwrap();
    let reach = |low: f64, high: f64| (high / low).ln().abs().hypot(0.10);
    let books = f64::midpoint(reach(1.1, 1.15), reach(1.15, 1.2)).powi(-2);
    let own = 1.0 / (2.0 * 0.07 * 0.07);
    let expected = ((books * 1.15_f64.ln() + own * 1.3_f64.ln()) / (books + own)).exp();
    assert_relative_eq!(found.time.as_min() / 10.0, expected, max_relative = 1e-3);
    assert!(found.factors[0].basis.contains("your records"), "{:?}", found.factors);
    assert!(found.records.iter().any(|own| own.record.contains("2026-01-02") && own.weight > 0.4));
    // Records of another film say nothing.
    let other = Model::new(table(), &shelf).with_own("another film", &records).adjust(&asked).unwrap();
    assert_abs_diff_eq!(other.time.as_min(), 11.5, epsilon = 1e-9);
    // A personal factor between formulas that no book relates.
    let weaker = "mq-borax-bromide-80-sulfite";
    let records = [
        record("2026-01-02", "mq-borax-classic", "stock", 20.0, 8.0),
        record("2026-02-03", weaker, "stock", 20.0, 8.8),
    ];
    let model = Model::new(table(), &shelf).with_own("my 400 film", &records);
    let asked = question(10.0, classic(&shelf, 20.0), shelf.stock(weaker, 20.0));
    assert_relative_eq!(model.adjust(&asked).unwrap().time.as_min(), 11.0, max_relative = 0.005);
}

// Source: least squares over ln t with the true slope, computed apart: 10:00, 8:30, 6:45 and 6:15 at 18, 20, 22 and 24 °C lie on
// 9.90, 8.40, 7.13 and 6.05 min; the answer lies between that line and the one with the books' coefficient (2.0 for 10 °C).
#[test]
fn records_at_several_temperatures_are_one_line_and_never_go_back() {
    let shelf = Shelf::default();
    let at = [(18.0, 10.0), (20.0, 8.5), (22.0, 6.75), (24.0, 6.25)];
    let records =
        at.map(|(celsius, minutes)| record("2026-01-02", "mq-borax-classic", "stock", celsius, minutes));
    for (celsius, line) in [(18.0, 9.90), (20.0, 8.40), (22.0, 7.13), (24.0, 6.05)] {
        let found = from_own(&shelf, &records, &classic(&shelf, celsius));
        assert_relative_eq!(found.time.as_min(), line, max_relative = 0.015);
        // Also at a record's own temperature there is a range, and it holds the line.
        assert!((found.low.as_min()..=found.high.as_min()).contains(&line));
        assert!(found.high.as_s() / found.low.as_s() > 1.05);
        assert!(!found.factors.is_empty() && found.records.len() == 4);
    }
    let times: Vec<f64> = (0..=70)
        .map(|step| from_own(&shelf, &records, &classic(&shelf, 17.0 + 0.1 * f64::from(step))).time.as_s())
        .collect();
    assert!(times.is_sorted_by(|colder, warmer| colder > warmer));
}

// Source: precision-weighted algebra with the table's coefficient (2.0 for 10 °C, known with the spread of films to 0.029 per °C) and
// two records 1 °C apart: the records' slope weighs little. Whatever they say, warmer stays shorter.
#[test]
fn two_records_close_together_do_not_beat_every_book() {
    let shelf = Shelf::default();
    for (warm, shorter_than) in [(6.5, 8.0), (9.0, 8.0 * 1.1), (12.0, 8.0 * 1.3)] {
        let records = [
            record("2026-01-02", "mq-borax-classic", "stock", 20.0, 8.0),
            record("2026-01-03", "mq-borax-classic", "stock", 21.0, warm),
        ];
        let time = |celsius| from_own(&shelf, &records, &classic(&shelf, celsius));
        let (near, far) = (time(20.0), time(24.0));
        assert!(far.time < near.time && time(23.0).time > far.time);
        assert!(near.time.as_min() < shorter_than, "{}", near.time);
        assert!(far.records.iter().all(|own| own.weight > 0.0), "{:?}", far.records);
    }
    let records = [
        record("2026-01-02", "mq-borax-classic", "stock", 20.0, 8.0),
        record("2026-01-03", "mq-borax-classic", "stock", 21.0, 6.5),
    ];
    let far = from_own(&shelf, &records, &classic(&shelf, 24.0));
    assert!((5.0..6.1).contains(&far.time.as_min()), "{}", far.time);
    assert!(far.high.as_s() / far.low.as_s() < 1.5);
}

// Source: geometry. A bracket's best guess is its geometric middle.
#[test]
fn flat_and_blocked_bracket_the_time() {
    let shelf = Shelf::default();
    let here = classic(&shelf, 20.0);
    let bracket = [came_out(Highlights::Flat, 6.0), came_out(Highlights::Blocked, 10.0)];
    let found = from_own(&shelf, &bracket, &here);
    assert_relative_eq!(found.time.as_min(), 60.0_f64.sqrt(), max_relative = 0.002);
    assert!(found.low.as_min() > 5.0 && found.high.as_min() < 12.0);
    assert!(!found.test_first().contains("nothing needs a test"));
    // One side alone: beyond it, widely, and said.
    let flat = from_own(&shelf, &[came_out(Highlights::Flat, 6.0)], &here);
    assert!(flat.time.as_min() > 6.5 && flat.high.as_s() / flat.low.as_s() > 1.5);
    assert!(codes(&flat).contains(&"only-thin"));
    let blocked = from_own(&shelf, &[came_out(Highlights::Blocked, 10.0)], &here);
    assert!(blocked.time.as_min() < 9.5 && codes(&blocked).contains(&"only-dense"));
    let turned = [came_out(Highlights::Flat, 10.0), came_out(Highlights::Blocked, 6.0)];
    assert!(codes(&from_own(&shelf, &turned, &here)).contains(&"records-contradict"));
    // A bracket narrows the time of a record that was not judged.
    let unjudged =
        Record { highlights: None, ..record("2026-01-02", "mq-borax-classic", "stock", 20.0, 9.0) };
    let alone = from_own(&shelf, std::slice::from_ref(&unjudged), &here);
    assert!(codes(&alone).contains(&"not-judged") && alone.high.as_s() / alone.low.as_s() > 1.4);
    let with = from_own(
        &shelf,
        &[unjudged, came_out(Highlights::Flat, 6.0), came_out(Highlights::Blocked, 10.0)],
        &here,
    );
    assert!(with.records.iter().any(|own| own.taken.starts_with("not used")));
}

// Source: arithmetic. 8:00, 9:00, 7:00 and 8:30 have the geometric mean 8:05; their scatter is 11 %, more than 7 %.
#[test]
fn repeats_are_averaged_and_their_scatter_counts() {
    let shelf = Shelf::default();
    let of = |minutes: [f64; 4]| {
        let records = minutes.map(|minutes| came_out(Highlights::Right, minutes));
        from_own(&shelf, &records, &classic(&shelf, 20.0))
    };
    let found = of([8.0, 9.0, 7.0, 8.5]);
    assert_relative_eq!(found.time.as_min(), (8.0_f64 * 9.0 * 7.0 * 8.5).powf(0.25), max_relative = 1e-6);
    assert!(codes(&found).contains(&"records-scatter"), "{:?}", found.warnings);
    let close = of([8.0, 8.2, 7.9, 8.1]);
    assert!(codes(&close).is_empty());
    // The mean of four times known to 7 % is known to 3.5 %.
    assert_relative_eq!((close.high.as_s() / close.time.as_s()).ln(), 0.035, max_relative = 0.02);
}

#[test]
fn nothing_is_left_out_without_a_word() {
    let shelf = Shelf::default();
    let here = classic(&shelf, 20.0);
    let right = record("2026-01-02", "mq-borax-classic", "stock", 20.0, 8.0);
    let gone = record("2026-01-02", "long-forgotten-developer", "stock", 20.0, 20.0);
    let unrelated = record("2026-01-02", "ppd-sulfite", "stock", 20.0, 20.0);
    let stand = Record { agitation: "stand".to_owned(), ..right.clone() };
    let found = from_own(&shelf, &[right, gone.clone(), unrelated.clone(), stand], &here);
    assert_eq!(found.records.len(), 4);
    for word in ["no longer in the library", "stand"] {
        assert!(found.records.iter().any(|own| own.taken.contains(word)), "{:?}", found.records);
    }
    let start = |records: &[Record]| {
        Model::new(table(), &shelf).with_own("my 400 film", records).adjust_from_own(
            &here,
            &NegativeWish::default(),
            None,
        )
    };
    assert!(matches!(start(&[]), Err(TimingError::NoRecord { .. })));
    assert!(matches!(start(&[unrelated]), Err(TimingError::NoRecord { others: 1, .. })));
    assert!(matches!(start(&[gone]), Err(TimingError::NoRecord { .. })));
}

// Source: the law itself, for a film made up: G 0.96, k 0.1386; 0.583 after 6.7 min, 0.700 after 9.4 (computed apart). The book's prior
// of G and the reading error move them by no more than 3 %.
#[test]
fn own_gradients_are_rows_of_the_law() {
    let shelf = Shelf::default();
    let with = |minutes, gradient| Record {
        gradient: Some(gradient),
        highlights: None,
        ..record("2026-01-02", "mq-borax-classic", "stock", 20.0, minutes)
    };
    let law = GammaLaw { infinity: 0.96, rate_per_minute: 2.0_f64.ln() / 5.0 };
    let records: Vec<Record> =
        [4.0, 6.0, 9.0, 13.0].map(|minutes| with(minutes, law.gradient_at(minutes))).to_vec();
    let here = classic(&shelf, 20.0);
    let model = Model::new(table(), &shelf).with_own("my 400 film", &records);
    for gradient in [0.5, 0.583, 0.7] {
        let wish = NegativeWish { gradient: Some(gradient), ..NegativeWish::default() };
        let found = model.adjust_from_own(&here, &wish, None).unwrap();
        let right = law.minutes_for(gradient).unwrap();
        assert_relative_eq!(found.time.as_min(), right, max_relative = 0.03);
        assert!((found.low.as_min()..=found.high.as_min()).contains(&right));
        assert!(found.high.as_s() / found.low.as_s() < 1.2, "{gradient}");
    }
    let normal = law.minutes_for(1.05 / 1.80).unwrap();
    let asked =
        TimeQuestion { wish: NegativeWish::steps(1.0), ..question(normal, here.clone(), here.clone()) };
    let found = model.adjust(&asked).unwrap();
    assert_relative_eq!(found.time.as_min(), 9.4, max_relative = 0.03);
    assert_eq!(found.factors[0].support, Support::OwnRecord);
    // Gradients that grow faster than the time fit no law, and that is said.
    let odd = [with(5.0, 0.35), with(10.0, 0.92)];
    let model = Model::new(table(), &shelf).with_own("my 400 film", &odd);
    let found = model.adjust_from_own(&here, &NegativeWish::steps(-1.0), None).unwrap();
    assert!(codes(&found).contains(&"gradients-do-not-fit"), "{:?}", found.warnings);
}
