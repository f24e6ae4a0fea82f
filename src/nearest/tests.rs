//! Distances between solutions: what must be near, what must be far, and the laws of a distance.

use super::*;
use crate::composition::typed;
use crate::library::Library;

/// Everything that the tests ask of the shipped library, read once.
struct Bench {
    library: Library,
    formulas: Vec<Formula>,
}

impl Bench {
    fn new() -> Self {
        let library = Library::shipped();
        let formulas = library.formulas().unwrap().0.into_iter().map(|found| found.formula).collect();
        Self { library, formulas }
    }

    fn near(&self, to: &str, count: usize) -> Vec<String> {
        let composer = Composer::new(&self.library);
        let point = if typed::looks_typed(to) {
            Point::of_composition(&typed::parse(to, &composer).unwrap(), &composer)
        } else {
            Point::of_formula(self.formulas.iter().find(|formula| formula.id == to).unwrap(), &composer)
        };
        nearest(&point, &self.formulas, &composer)
            .iter()
            .take(count)
            .map(|near| near.formula.id.clone())
            .collect()
    }

    fn distance(&self, one: &str, other: &str) -> f64 {
        let composer = Composer::new(&self.library);
        let point = |id: &str| {
            Point::of_formula(self.formulas.iter().find(|formula| formula.id == id).unwrap(), &composer)
        };
        point(one).distance(&point(other)).0
    }

    fn typed(&self, one: &str, other: &str) -> f64 {
        let composer = Composer::new(&self.library);
        let point = |text: &str| Point::of_composition(&typed::parse(text, &composer).unwrap(), &composer);
        point(one).distance(&point(other)).0
    }
}

/// All of `members` come before all others when looking from any of them.
fn assert_family(bench: &Bench, members: &[&str]) {
    for member in members {
        let near = bench.near(member, members.len());
        for other in members {
            assert!(
                near.iter().any(|id| id == other),
                "{other} is not among the nearest to {member}: {near:?}"
            );
        }
    }
}

#[test]
fn the_same_bath_is_at_zero_and_the_way_back_is_as_far() {
    let bench = Bench::new();
    let composer = Composer::new(&bench.library);
    let points: Vec<Point> =
        bench.formulas.iter().map(|formula| Point::of_formula(formula, &composer)).collect();
    for (place, one) in points.iter().enumerate() {
        assert!(one.distance(one).0.abs() < 1e-12, "{}", bench.formulas[place].id);
        for other in &points {
            let (there, back) = (one.distance(other).0, other.distance(one).0);
            assert!(there.is_finite() && (there - back).abs() < 1e-9);
        }
    }
}

#[test]
fn one_strength_alone_keeps_the_triangle() {
    let bench = Bench::new();
    let composer = Composer::new(&bench.library);
    let points: Vec<Profile> = bench
        .formulas
        .iter()
        .step_by(4)
        .map(|formula| Profile::of_sum(&composer.bottled(formula), &composer))
        .collect();
    let apart = |one: &Profile, other: &Profile| one.squared(other).sqrt();
    for one in &points {
        for other in &points {
            for third in &points {
                assert!(apart(one, other) <= apart(one, third) + apart(third, other) + 1e-9);
            }
        }
    }
}

#[test]
fn hydrates_counter_ions_and_ways_of_mixing_make_no_difference() {
    let bench = Bench::new();
    // Masses of one mole each: molmass 2026.1.8.
    for (one, other) in [
        ("sodium-carbonate-anhydrous=10.5988", "sodium-carbonate-decahydrate=28.6141"),
        ("sodium-carbonate-anhydrous=10.5988", "sodium-carbonate-monohydrate=12.4004"),
        ("borax-decahydrate=3.81372", "borax-pentahydrate=2.91296"),
        ("sodium-thiosulfate-pentahydrate=248.184", "sodium-thiosulfate-anhydrous=158.107"),
        // 1 mol of sodium hydroxide and 1 mol of bicarbonate are 1 mol of carbonate.
        ("sodium-bicarbonate=8.4007,sodium-hydroxide=3.9997", "sodium-carbonate-anhydrous=10.5988"),
        // 1 mol of metabisulfite and 2 mol of hydroxide are 2 mol of sulfite.
        ("sodium-metabisulfite=19.0106,sodium-hydroxide=7.9994", "sodium-sulfite-anhydrous=25.2086"),
        // 1 mol of borax and 2 mol of hydroxide are 4 mol of metaborate.
        ("borax-decahydrate=38.1372,sodium-hydroxide=7.9994", "sodium-metaborate-tetrahydrate=55.144"),
        ("potassium-bromide=1.19002", "sodium-bromide=1.02894"),
    ] {
        let distance = bench.typed(one, other);
        assert!(distance < 0.002, "{one} and {other}: {distance}");
    }
}

#[test]
fn kin_are_told_apart_but_stay_kin() {
    let bench = Bench::new();
    // 2 mmol of each: 162.188 and 190.242 g/mol (IUPAC 2021).
    let kin = bench.typed("phenidone=0.3244", "dimezone=0.3805");
    let stranger = bench.typed("phenidone=0.3244", "metol=0.6888");
    assert!(kin > 0.2 && kin < stranger / 2.0, "{kin} and {stranger}");
}

#[test]
fn a_typed_composition_finds_its_formula_by_stock_and_by_working_strength() {
    let bench = Bench::new();
    let classic = "metol=2,sodium-sulfite-anhydrous=100,hydroquinone=5,borax-decahydrate=2";
    assert_eq!(bench.near(classic, 1), ["mq-borax-classic"]);
    // A chemist told the same in crystals.
    let crystals = "metol=2g,sodium-sulfite-heptahydrate=200,hydroquinone=5,borax-decahydrate=2";
    assert_eq!(bench.near(crystals, 1), ["mq-borax-classic"]);
    let stock = "metol=3,sodium-sulfite-anhydrous=45,hydroquinone=12,sodium-carbonate-anhydrous=67.5,potassium-bromide=1.9";
    assert_eq!(bench.near(stock, 1), ["mq-carbonate-neutral-paper-developer"]);
    let working = "metol=1,sodium-sulfite-anhydrous=15,hydroquinone=4,sodium-carbonate-anhydrous=22.5,potassium-bromide=0.633";
    assert_eq!(bench.near(working, 1), ["mq-carbonate-neutral-paper-developer"]);
}

#[test]
fn metol_hydroquinone_borax_developers_are_a_family() {
    let bench = Bench::new();
    // The nearest ten to the classic are all of metol, hydroquinone, much sulfite and borax or metaborate.
    for id in bench.near("mq-borax-classic", 10) {
        assert!(id.starts_with("mq-borax") || id.starts_with("mq-metaborate"), "{id}");
    }
    assert_family(&bench, &["mq-borax-boric-acid-buffered", "mq-borax-less-boric-acid"]);
    assert_family(
        &bench,
        &[
            "mq-borax-bromide-80-sulfite",
            "mq-borax-bromide-80-sulfite-stronger",
            "mq-metaborate-bromide-80-sulfite",
        ],
    );
    // Without hydroquinone it is further off than with boric acid; carbonate is further off than metaborate.
    let from_classic = |id: &str| bench.distance("mq-borax-classic", id);
    assert!(
        from_classic("metol-sulfite-borax-without-hydroquinone")
            > from_classic("mq-borax-boric-acid-buffered")
    );
    assert!(from_classic("mq-carbonate-tray-tank") > from_classic("mq-metaborate-studio"));
}

#[test]
fn other_families_of_film_developers_are_neighbours() {
    let bench = Bench::new();
    for id in bench.near("metol-sulfite", 9) {
        assert!(id.starts_with("metol-"), "{id}");
    }
    assert_family(
        &bench,
        &[
            "pq-borax-buffered",
            "pq-borax-75-sulfite",
            "pq-borax-85-sulfite",
            "pq-borax-100-sulfite-bisulfite",
        ],
    );
    assert_family(
        &bench,
        &[
            "two-bath-metol-sulfite-borax",
            "two-bath-metol-sulfite-metaborate",
            "two-bath-metol-sulfite-metaborate-sulfite",
        ],
    );
    assert_family(
        &bench,
        &[
            "p-aminophenol-potassium-hydroxide-concentrate",
            "p-aminophenol-sodium-hydroxide-concentrate",
            "p-aminophenol-from-paracetamol",
        ],
    );
    assert_family(
        &bench,
        &[
            "coffee-carbonate-ascorbate",
            "coffee-carbonate-ascorbate-bromide",
            "coffee-carbonate-ascorbate-stand",
        ],
    );
    assert_family(&bench, &["hydroquinone-potash-two-solution", "hydroquinone-hydroxide-two-solution"]);
    // Caustic potash and caustic soda, mole for mole, are the same bath.
    let caustic = bench.distance(
        "p-aminophenol-potassium-hydroxide-concentrate",
        "p-aminophenol-sodium-hydroxide-concentrate",
    );
    assert!(caustic < 0.01, "{caustic}");
}

#[test]
fn pyro_is_near_pyro() {
    let bench = Bench::new();
    let pyro = [
        "pyro-soda-tank",
        "pyro-soda-average",
        "pyro-soda-sensitometry-standard",
        "pyro-sulfite-carbonate-abc",
    ];
    assert_family(&bench, &pyro);
    for from in ["pyro-soda-tank", "pyro-metol-metaborate-staining", "pyro-metol-sulfite-carbonate-abc"] {
        for id in bench.near(from, 5) {
            assert!(id.contains("pyro-"), "{from}: {id}");
        }
    }
}

#[test]
fn carbonate_paper_developers_are_a_family() {
    let bench = Bench::new();
    for from in ["mq-carbonate-neutral-paper-developer", "mq-carbonate-warm-tone-paper-developer"] {
        for id in bench.near(from, 6) {
            assert!(id.starts_with("mq-"), "{from}: {id}");
            assert!(!id.contains("borax") && !id.contains("metaborate"), "{from}: {id}");
        }
    }
    assert_family(
        &bench,
        &[
            "mq-carbonate-neutral-paper-developer",
            "mq-cold-tone-chloride-45-sulfite-paper-developer",
            "mq-cold-tone-chloride-paper-developer",
        ],
    );
    assert_family(
        &bench,
        &[
            "amidol-sulfite-paper-developer",
            "amidol-sulfite-stock-1910",
            "amidol-sulfite-120-stock-paper-developer",
        ],
    );
}

#[test]
fn fixers_are_near_fixers_and_stop_baths_near_stop_baths() {
    let bench = Bench::new();
    let is_fixer = |id: &str| id.contains("fixer");
    for (from, count) in [
        ("thiosulfate-metabisulfite-acid-fixer", 8),
        ("acid-hardening-alum-boric-fixer", 8),
        ("plain-thiosulfate-fixer", 3),
    ] {
        for id in bench.near(from, count) {
            assert!(is_fixer(&id), "{from}: {id}");
        }
    }
    assert_family(
        &bench,
        &[
            "acid-hardening-alum-boric-fixer",
            "acid-hardening-alum-boric-strong-fixer",
            "odourless-metaborate-alum-hardening-fixer",
        ],
    );
    for id in bench.near("acetic-acid-stop-bath", 5) {
        // An acid clearing bath of iron prints is, by what is in it, a stop bath.
        assert!(id.ends_with("stop-bath") || id.contains("clearing-bath"), "{id}");
    }
    let stops = bench.near("acetic-sulfate-non-swelling-stop-bath", 5);
    let stops: Vec<_> = stops.iter().filter(|id| id.ends_with("stop-bath")).collect();
    assert_eq!(stops.get(1).map(|id| id.as_str()), Some("acetic-acid-stop-bath"), "{stops:?}");
    // A developer of another agent is nearer to a developer than anything that does not develop.
    let composer = Composer::new(&bench.library);
    let amidol =
        bench.formulas.iter().find(|formula| formula.id == "amidol-sulfite-paper-developer").unwrap();
    let ranked = nearest(&Point::of_formula(amidol, &composer), &bench.formulas, &composer);
    for near in ranked.iter().take(30) {
        assert!(
            near.formula.kind.is_developer() || near.formula.id.contains("intensifier"),
            "{}",
            near.formula.id
        );
    }
}

#[test]
fn a_distance_says_what_makes_it() {
    let bench = Bench::new();
    let composer = Composer::new(&bench.library);
    let find = |id: &str| bench.formulas.iter().find(|formula| formula.id == id).unwrap();
    let ranked = nearest(
        &Point::of_formula(find("mq-borax-classic"), &composer),
        [find("mq-borax-bromide-80-sulfite")],
        &composer,
    );
    let told: Vec<(&str, bool)> = ranked[0]
        .differences
        .iter()
        .map(|difference| (difference.species.as_str(), difference.amount > 0.0))
        .collect();
    assert_eq!(told, [("bromide", true), ("hydroquinone", false), ("metol", false)]);
    assert_eq!(ranked[0].strength, StrengthCompared::Bottled);
}
