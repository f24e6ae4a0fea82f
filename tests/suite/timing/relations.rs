//! From one developer to another.

use super::*;

// ---------------------------------------------------------------------------------------------------- relations

#[test]
fn every_formula_of_the_table_is_shipped_and_agrees_with_its_own_file() {
    let library = Library::shipped();
    for id in table().formula_ids() {
        assert!(library.formula(&id).is_ok(), "{id}");
    }
    for relation in &table().relations {
        let stated = library.formula(&relation.to.formula).unwrap().formula.stated.relative_time;
        if let (Some((low, high)), "mq-borax-classic") = (stated, relation.from.formula.as_str()) {
            let within = relation.figure.low <= low && relation.figure.high >= high;
            assert!(within, "{} is stated as {low} to {high}", relation.to.formula);
        }
    }
}

#[test]
fn every_shipped_formula_with_a_stated_relative_time_has_its_relation() {
    let (found, _) = Library::shipped().formulas().unwrap();
    for one in found.iter().filter(|one| one.formula.stated.relative_time.is_some()) {
        let id = &one.formula.id;
        assert!(
            id == "mq-borax-classic" || table().relations.iter().any(|relation| relation.to.formula == *id),
            "{id}"
        );
    }
}

// Source: common practice, no document: 10 to 20 % longer. A range may not be narrower than films differ.
#[test]
fn the_lower_sulfite_bromide_developer_takes_10_to_20_percent_longer() {
    let shelf = Shelf::default();
    let to = shelf.stock("mq-borax-bromide-80-sulfite-stronger", 20.0);
    let found = answer(10.0, shelf.stock("mq-borax-classic", 20.0), to).unwrap();
    assert_abs_diff_eq!(found.time.as_min(), 11.5, epsilon = 1e-9);
    // Films differ by 10 % beside that: two makers' packs of one formula are printed 5 to 6 % apart on one film.
    let reach = (12.0_f64 / 11.5).ln().hypot(0.10);
    assert_abs_diff_eq!((found.high.as_s() / found.time.as_s()).ln(), reach, epsilon = 1e-9);
    assert!(found.low.as_min() < 11.0 && found.high.as_min() > 12.0);
    assert_eq!(found.factors[0].support, Support::CommonPractice);
    assert_eq!(found.factors[0].source, None);
}

#[test]
fn a_way_through_two_relations_multiplies_and_widens() {
    let shelf = Shelf::default();
    let found =
        answer(8.0, shelf.stock("mq-borax-classic", 20.0), shelf.stock("metol-sulfite", 20.0)).unwrap();
    assert_eq!(found.by, ["mq-borax-classic", "mq-metaborate-studio", "metol-sulfite"]);
    let widths: Vec<f64> = found.factors.iter().map(|factor| (factor.high / factor.low).ln()).collect();
    let whole = (found.high.as_s() / found.low.as_s()).ln();
    assert!(widths.iter().all(|width| whole > *width), "{widths:?} {whole}");
    // In quadrature of logarithms, the two sides apart.
    let up: f64 = found.factors.iter().map(|factor| (factor.high / factor.factor).ln().powi(2)).sum();
    assert_abs_diff_eq!((found.high.as_s() / found.time.as_s()).ln(), up.sqrt(), epsilon = 1e-12);
}

#[test]
fn a_relation_at_its_own_dilution_needs_no_further_factor() {
    let shelf = Shelf::default();
    let to = shelf.at("p-aminophenol-potassium-hydroxide-concentrate", "1+50", 20.0, "inversion");
    let found = answer(8.0, shelf.stock("mq-borax-classic", 20.0), to).unwrap();
    assert_eq!(found.factors.len(), 1);
    assert_abs_diff_eq!(found.time.as_min(), 8.0 * 1.7, epsilon = 1e-9);
}

#[test]
fn without_a_relation_the_nearest_by_composition_is_a_guess_and_called_one() {
    let mut shelf = Shelf::default();
    let to = "mq-borax-bromide-80-sulfite";
    let asked = question(10.0, shelf.stock("mq-borax-classic", 20.0), shelf.stock(to, 20.0));
    let refused = Model::new(table(), &shelf).adjust(&asked).unwrap_err();
    assert!(refused.to_string().starts_with("no published relation"), "{refused}");
    shelf.near.insert(to, vec![("mq-borax-bromide-80-sulfite-stronger", 0.1), ("mq-borax-classic", 0.4)]);
    let model = Model::new(table(), &shelf);
    let found = model.adjust(&asked).unwrap();
    assert_abs_diff_eq!(found.time.as_min(), 11.5, epsilon = 1e-9);
    assert_eq!(codes(&found)[0], "guess");
    assert!(found.factors.iter().any(|factor| factor.support == Support::Guess));
    let text = found.warnings[0].to_string();
    assert!(text.contains("a guess: no published relation") && text.contains("Test before"), "{text}");
    let back = model.adjust(&question(found.time.as_min(), asked.to.clone(), asked.from.clone())).unwrap();
    assert_abs_diff_eq!(back.time.as_min(), 10.0, epsilon = 1e-9);
    // A relative twice as far off makes the guess wider; one beyond all likeness is named and not used.
    let width = |estimate: &Estimate| (estimate.high.as_s() / estimate.low.as_s()).ln();
    shelf.near.insert(to, vec![("mq-borax-bromide-80-sulfite-stronger", 2.0)]);
    assert!(width(&Model::new(table(), &shelf).adjust(&asked).unwrap()) > 1.5 * width(&found));
    shelf.near.insert(to, vec![("mq-borax-bromide-80-sulfite-stronger", 3.3)]);
    let refused = Model::new(table(), &shelf).adjust(&asked).unwrap_err().to_string();
    assert!(refused.contains("stronger (distance 3.3), too far for a guess"), "{refused}");
}

#[test]
fn shipped_relations_and_coefficients_do_not_apply_to_a_formula_in_a_shipped_ones_place() {
    let shelf = Shelf { personal: vec!["mq-borax-classic"], ..Shelf::default() };
    let model = Model::new(table(), &shelf);
    let classic = |celsius| shelf.stock("mq-borax-classic", celsius);
    let refused = model.adjust(&question(8.0, classic(20.0), shelf.stock("pq-borax-buffered", 20.0)));
    assert!(matches!(refused, Err(TimingError::NoRelation { .. })));
    let warm = model.adjust(&question(8.0, classic(20.0), classic(22.0))).unwrap();
    assert!(codes(&warm).contains(&"hides-shipped"));
    assert!(warm.factors[0].basis.contains("2.30 for"), "{}", warm.factors[0].basis);
    // Nor do they lead through it.
    let to = shelf.stock("mpq-borax-carbonate-acutance-fine-grain", 20.0);
    let through = model.adjust(&question(8.0, shelf.stock("pq-borax-buffered", 20.0), to));
    assert!(matches!(through, Err(TimingError::NoRelation { .. })));
}
