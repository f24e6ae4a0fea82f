//! The whole plan of a part: pinch, portions, second vessels, cooling, the end.

use super::*;
use crate::library::Library;
use crate::quantity::Volume;
use crate::scale::exchange::Relations;
use crate::scale::{Request, scale};

/// A litre of the first part of a formula of one's own, with that part.
pub(super) fn litre_to_mix(text: &str) -> (BatchPart, Part, Balance) {
    let library = Library::shipped();
    let mut formula = crate::formula::Formula::parse(text, "own", "own.toml", &library).unwrap();
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let mut batch = scale(&formula, &Request::volume(Volume::from_ml(1000.0)), &relations).unwrap();
    (batch.parts.remove(0), formula.parts.remove(0), batch.balance)
}

/// The plan of a litre of a formula of one's own.
pub(super) fn planned(text: &str) -> Result<Plan, SequenceError> {
    let (batch, source, balance) = litre_to_mix(text);
    plan(&batch, &source, balance)
}

/// What is weighed and measured for a litre.
pub(super) fn items(ingredients: &[(&str, &str)]) -> Vec<Item> {
    litre_to_mix(&own("bleach", "", ingredients)).0.items
}

/// A formula of one's own: the head beyond the title, and its ingredients with their amounts.
pub(super) fn own(kind: &str, head: &str, ingredients: &[(&str, &str)]) -> String {
    let lines =
        ingredients.iter().map(|(id, amount)| format!("[[ingredients]]\nsubstance = \"{id}\"\n{amount}\n"));
    format!(
        "format = 1\ntitle = \"T\"\nkind = \"{kind}\"\nsummary = \"s\"\nevidence = \"memory\"\n{head}\n{}",
        lines.collect::<String>()
    )
}

/// The plan of a litre of these.
pub(super) fn plan_of(kind: &str, head: &str, ingredients: &[(&str, &str)]) -> Plan {
    planned(&own(kind, head, ingredients)).unwrap()
}

/// How the last step of a litre of the first part is done.
fn last_step(id: &str) -> Step {
    let library = Library::shipped();
    let formula = library.formula(id).unwrap().formula;
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let batch = scale(&formula, &Request::volume(Volume::from_ml(1000.0)), &relations).unwrap();
    plan(&batch.parts[0], &formula.parts[0], batch.balance).unwrap().steps.pop().unwrap()
}

#[test]
fn a_warm_watery_bath_is_made_up_again_when_it_is_cool_and_a_concentrate_is_cooled_first() {
    // Water shrinks as it cools, so the mark of a warm bath is no mark; thick glycol is cooled before it is made up at all.
    let watery = last_step("mq-borax-classic");
    assert!(watery.how.contains("At 20 °C make up to the mark again"), "{watery:?}");
    let concentrate = last_step("phenidone-ascorbate-tea-concentrate");
    assert!(concentrate.instruction.starts_with("Cool to 20 °C. Make up"), "{concentrate:?}");
    assert!(!concentrate.how.contains("again"), "{concentrate:?}");
}

/// The step in which a form enters the vessel.
fn enters<'p>(plan: &'p Plan, id: &str) -> &'p Step {
    let is_it = |own: &&Step| own.carries_g.is_some() && own.form.as_ref().is_some_and(|form| form.id == id);
    plan.steps.iter().rev().find(is_it).unwrap()
}

const SULFITE: (&str, &str) = ("sodium-sulfite-anhydrous", "grams = 50");
const METOL: (&str, &str) = ("metol", "grams = 2");
const HYPO: (&str, &str) = ("sodium-thiosulfate-pentahydrate", "grams = 240");
const ALUM: (&str, &str) = ("potassium-alum-dodecahydrate", "grams = 15");
const ACID: (&str, &str) = ("acetic-acid-28", "millilitres = 50");
const BROMIDE: (&str, &str) = ("potassium-bromide", "grams = 5");
const CARBONATE: (&str, &str) = ("sodium-carbonate-anhydrous", "grams = 20");

// The reasons are common practice, no source, but for the pinch and the metol.

#[test]
fn the_reason_of_a_step_is_that_of_its_place() {
    let caustic = ("sodium-hydroxide", "grams = 2");
    let (edta, phenidone) = (("edta-disodium-dihydrate", "grams = 2"), ("phenidone", "grams = 2"));
    for (kind, ingredients, id, why) in [
        ("film-developer", &[METOL, SULFITE][..], "sodium-sulfite-anhydrous", "metol first"),
        ("film-developer", &[METOL, SULFITE], "metol", "pinch"),
        ("fixer", &[HYPO, SULFITE, ACID], "sodium-sulfite-anhydrous", "before any acid"),
        ("fixer", &[HYPO, SULFITE], "sodium-sulfite-anhydrous", "preservative"),
        ("stop-bath", &[SULFITE, ACID], "sodium-sulfite-anhydrous", "preservative"),
        ("toner", &[HYPO, ALUM], "potassium-alum-dodecahydrate", "the sulfur that it releases tones"),
        ("fixer", &[HYPO, SULFITE, ACID, ALUM], "potassium-alum-dodecahydrate", "after the acid"),
        // What must be goes before what is custom: caustic goes in after the agents, and only then after the milder alkali.
        ("film-developer", &[METOL, SULFITE, CARBONATE, caustic], "sodium-hydroxide", "after the agents"),
        // Custom is told where nothing must be.
        ("film-developer", &[phenidone, CARBONATE], "phenidone", "late"),
        // Why a sequestrant goes first is told with it alone.
        ("film-developer", &[edta, METOL, SULFITE], "edta-disodium-dihydrate", "hard water"),
        ("film-developer", &[edta, METOL, ("hydroquinone", "grams = 5")], "metol", "first of the agents"),
        ("stop-bath", &[BROMIDE], "potassium-bromide", ""),
    ] {
        let plan = plan_of(kind, "", ingredients);
        let step = enters(&plan, id);
        assert!(
            step.why.contains(why) && step.why.is_empty() == why.is_empty(),
            "{ingredients:?}: {}",
            step.why
        );
    }
    let plan = plan_of("film-developer", "", &[METOL, SULFITE]);
    let pinch = plan.steps.iter().find(|own| own.action == Action::Pinch).unwrap();
    assert!(pinch.source.contains("SS0513") && pinch.why.contains("protects the metol"), "{pinch:?}");
    // The handbook of the plate makers says it of metol.
    assert!(enters(&plan, "sodium-sulfite-anhydrous").source.contains("handbook"));
}

#[test]
fn a_pinch_and_the_rest_are_the_whole_sulfite() {
    // 5 % of the sulfite (US Army correspondence course SS0513, page 21), 5 g/L at the most, weighed from two steps of the balance on.
    let steps = |grams: f64| {
        let sulfite = ("sodium-sulfite-anhydrous", &*format!("grams = {grams}"));
        let plan = plan_of("film-developer", "", &[METOL, sulfite]);
        let pinch = plan.steps.iter().find(|own| own.action == Action::Pinch).unwrap().clone();
        (pinch, enters(&plan, "sodium-sulfite-anhydrous").clone())
    };
    for (grams, pinch_g, weighed) in [
        (100.0, 5.0, Some(5.0)),
        (60.0, 3.0, Some(3.0)),
        (200.0, 5.0, Some(5.0)),
        (4.0, 0.2, Some(0.2)),
        (2.9, 0.145, None),
    ] {
        let (pinch, rest) = steps(grams);
        assert!((pinch.amount.unwrap() - pinch_g).abs() < 1e-9, "{grams}: {pinch:?}");
        assert_eq!(pinch.weigh, weighed, "{grams}");
        assert!((pinch.amount.unwrap() + rest.amount.unwrap() - grams).abs() < 1e-9, "{grams}: {rest:?}");
        assert!(
            (pinch.carries_g.unwrap() + rest.carries_g.unwrap() - grams).abs() < 1e-9,
            "{grams}: {rest:?}"
        );
        let whole = pinch.weigh.zip(rest.weigh).map(|(one, other)| one + other);
        assert!(whole.is_none_or(|whole| (whole - grams).abs() < 1e-9), "{grams}: {whole:?}");
        assert!(rest.instruction.contains("the rest of the") && !pinch.instruction.contains("rest"));
        assert!(pinch.how.contains("Do not weigh any extra") && !rest.how.contains("extra"));
    }
    // A dose is all of it.
    let plan = plan_of("film-developer", "", &[METOL, SULFITE, ("potassium-bromide", "grams = 0.5")]);
    assert!(!enters(&plan, "potassium-bromide").instruction.contains("rest of"));
}

#[test]
fn a_hot_fixer_cools_once_before_the_first_acid_and_a_warm_bath_once_before_what_fumes() {
    let cools = |kind: &str, head: &str, ingredients: &[(&str, &str)]| {
        plan_of(kind, head, ingredients).steps.iter().filter(|own| own.action == Action::Cool).count()
    };
    assert_eq!(cools("fixer", "", &[HYPO, SULFITE, ACID, ALUM]), 1);
    assert_eq!(cools("fixer", "", &[HYPO, SULFITE]), 0);
    assert_eq!(cools("fixer", "", &[HYPO, SULFITE, ("ammonia-25", "millilitres = 5")]), 1, "it fumes");
    assert_eq!(cools("toner", "", &[HYPO, ALUM]), 0, "hot on purpose");
    let (sulfuric, hydrochloric) =
        (("sulfuric-acid", "millilitres = 5"), ("hydrochloric-acid-37", "millilitres = 5"));
    let warm = |celsius: u32| format!("[mixing]\ntemperature = {celsius}");
    assert_eq!(cools("bleach", &warm(40), &[BROMIDE, sulfuric, hydrochloric]), 1);
    assert_eq!(cools("bleach", &warm(28), &[BROMIDE, sulfuric]), 1);
    assert_eq!(cools("bleach", &warm(27), &[BROMIDE, sulfuric]), 0);
    // A liquid acid fumes beside sulfite in a warm bath; crystals do not, nor does anything else.
    let warm_alum = ("potassium-alum-dodecahydrate", "grams = 80");
    assert_eq!(cools("stop-bath", "", &[SULFITE, warm_alum, ACID]), 1);
    assert_eq!(cools("stop-bath", "", &[SULFITE, warm_alum, ("citric-acid-monohydrate", "grams = 10")]), 0);
    assert_eq!(cools("stop-bath", "", &[warm_alum, ACID]), 0);
    assert_eq!(cools("stop-bath", "", &[SULFITE, warm_alum, BROMIDE]), 0);
}

#[test]
fn what_is_done_besides_dissolving_stands_where_the_file_puts_it() {
    let places = |after: &str, kind: &str, ingredients: &[(&str, &str)]| -> Vec<&'static str> {
        let head = format!("[[mixing.operations]]\nafter = \"{after}\"\ndo = \"filter\"");
        plan_of(kind, &head, ingredients).steps.iter().map(|own| own.action.word()).collect()
    };
    let one = [("potassium-ferricyanide", "grams = 20")];
    assert_eq!(places("start", "bleach", &one), ["start", "filter", "add", "top-up"]);
    assert_eq!(places("potassium-ferricyanide", "bleach", &one), ["start", "add", "filter", "top-up"]);
    assert_eq!(places("end", "bleach", &one), ["start", "add", "top-up", "filter"]);
    // After what is dissolved apart and poured in, and after what shares a second vessel once that is poured in.
    let apart = [("sodium-hydroxide", "grams = 20"), BROMIDE];
    let steps = places("sodium-hydroxide", "bleach", &apart);
    let place = |word| steps.iter().position(|own| *own == word).unwrap();
    assert_eq!(place("filter"), place("pour-in") + 1, "{steps:?}");
    let shared = [HYPO, SULFITE, ("citric-acid-monohydrate", "grams = 10")];
    let steps = places("citric-acid-monohydrate", "fixer", &shared);
    assert!(steps.ends_with(&["dissolve-apart", "pour-in", "pour-in", "filter", "top-up"]), "{steps:?}");
    // What follows the end is told as the end.
    let end = |head: &str| {
        plan_of("bleach", head, &one)
            .steps
            .iter()
            .find(|own| own.action == Action::TopUp)
            .unwrap()
            .how
            .clone()
    };
    assert!(end("").contains("Bottle and label"));
    let wait = |after: &str| end(&format!("[[mixing.operations]]\nafter = \"{after}\"\ndo = \"filter\""));
    assert!(!wait("end").contains("Bottle") && wait("start").contains("Bottle"));
}

#[test]
fn a_shared_second_vessel_is_poured_in_once_and_rinsed() {
    let plan = plan_of("fixer", "", &[HYPO, SULFITE, ("citric-acid-monohydrate", "grams = 10")]);
    let of = |action| plan.steps.iter().filter(move |own| own.action == action).collect::<Vec<_>>();
    let (apart, poured) = (of(Action::DissolveApart), of(Action::PourIn));
    assert_eq!(apart.iter().map(|own| own.water_ml.is_some()).collect::<Vec<_>>(), [true, false]);
    assert!(
        apart[0].instruction.starts_with("In a second vessel") && apart[1].instruction.starts_with("Add")
    );
    assert_eq!(apart.iter().map(|own| own.celsius).collect::<Vec<_>>(), [Some(25.0), None]);
    assert!(poured[0].instruction.starts_with("Pour in") && poured[1].instruction.starts_with("Rinse"));
    // The white suspension of silver is not clear.
    let toner = [HYPO, ALUM, ("silver-nitrate", "grams = 1"), ("sodium-chloride", "grams = 2")];
    let plan = plan_of("toner", "", &toner);
    let done = |id: &str| {
        let is_it = |own: &&Step| {
            own.action == Action::DissolveApart && own.form.as_ref().is_some_and(|form| form.id == id)
        };
        plan.steps.iter().find(is_it).unwrap().done.clone()
    };
    assert!(done("silver-nitrate").contains("white") && done("sodium-chloride").contains("clear"));
}

#[test]
fn acid_and_permanganate_apart_are_as_warm_as_they_are_safe() {
    let celsius = |ingredients: &[(&str, &str)]| {
        plan_of("bleach", "", ingredients)
            .steps
            .iter()
            .find(|own| own.action == Action::DissolveApart)
            .unwrap()
            .celsius
    };
    // Permanganate dissolves at 40 °C twice as well as at 20 (6.4 g in 100 g); acid is let down in cool water.
    let sulfuric = ("sulfuric-acid", "millilitres = 5");
    assert_eq!(celsius(&[("potassium-permanganate", "grams = 2"), sulfuric]), Some(40.0));
    assert_eq!(celsius(&[("acetic-acid", "millilitres = 15"), SULFITE]), Some(20.0));
    assert!(celsius(&[("sodium-hydroxide", "grams = 20"), BROMIDE]).is_some_and(|celsius| celsius <= 15.0));
}

#[test]
fn silver_and_kept_ascorbate_want_distilled_water_and_others_do_not() {
    // Chloride of the tap clouds silver; a trace of iron or copper kills ascorbate unless something binds it.
    let water = |kind: &str, head: &str, ingredients: &[(&str, &str)]| {
        plan_of(kind, head, ingredients).steps[0].instruction.contains("distilled")
    };
    let ascorbic = ("ascorbic-acid", "grams = 10");
    let bottle = "[mixing]\nfinish = \"bottle\"";
    assert!(water("sensitizer", "", &[("silver-nitrate", "grams = 20")]));
    assert!(water("toner", "", &[("tetrachloroauric-acid-trihydrate", "grams = 1")]));
    assert!(water("film-developer", bottle, &[ascorbic, METOL]));
    assert!(!water("film-developer", bottle, &[ascorbic, METOL, ("edta-disodium-dihydrate", "grams = 1")]));
    assert!(!water("film-developer", "[mixing]\nfinish = \"use-at-once\"", &[ascorbic, METOL]));
    assert!(!water("bleach", "", &[BROMIDE]));
    assert!(water("bleach", "[mixing]\nnote = \"Distilled water is best.\"", &[BROMIDE]));
}

#[test]
fn ten_grams_of_gelatin_set_a_litre_to_a_jelly() {
    for (grams, sets) in [("10", true), ("9.9", false)] {
        let gelatin = [("gelatin", &*format!("grams = {grams}")), BROMIDE];
        assert_eq!(sets_to_jelly(&items(&gelatin)), sets, "{grams}");
        let end = plan_of("bleach", "", &gelatin).steps.pop().unwrap();
        assert_eq!(
            (end.how.contains("jelly"), end.instruction.contains("warm water")),
            (sets, sets),
            "{end:?}"
        );
        assert_eq!(end.celsius, sets.then_some(40.0));
    }
}

#[test]
fn a_bath_that_must_not_be_closed_in_ends_in_a_tray_and_begins_as_any() {
    let mut plan = plan_of("bleach", "", &[BROMIDE]);
    let before = plan.steps.clone();
    plan.end_in_a_tray();
    for (own, before) in plan.steps.iter().zip(&before) {
        let is_end = own.action == Action::TopUp;
        assert_eq!(own.how == OPEN_TRAY, is_end);
        assert_eq!(own.how == before.how, !is_end);
    }
}

#[test]
fn a_concentrate_is_warmed_in_a_water_bath_and_water_read_with_a_thermometer() {
    let glycol = plan_of("film-developer", "solvent = \"propylene-glycol\"", &[("phenidone", "grams = 2")]);
    assert!(
        glycol.steps[0].how.contains("water bath")
            && plan_of("bleach", "", &[BROMIDE]).steps[0].how.contains("thermometer")
    );
}

#[test]
fn an_order_that_differs_is_told_with_whether_it_must_be_so() {
    let head = "[mixing]\norder = [\"sodium-sulfite-anhydrous\", \"metol\", \"sodium-carbonate-anhydrous\"]";
    let (batch, source, _) = litre_to_mix(&own("film-developer", head, &[METOL, SULFITE, CARBONATE]));
    let told = differences(&batch, &source).unwrap();
    let metol_first = OrderDifference {
        first: "metol".to_owned(),
        second: "sodium-sulfite-anhydrous".to_owned(),
        must: true,
    };
    assert_eq!(told, [metol_first], "what the source has the same way round is no difference");
    let musts = musts(&batch);
    let has = |before: &str, after: &str| musts.iter().any(|(one, other, _)| one == before && other == after);
    assert!(has("metol", "sodium-carbonate-anhydrous") && has("pinch of sodium-sulfite-anhydrous", "metol"));
    assert!(!has("sodium-sulfite-anhydrous", "sodium-carbonate-anhydrous"), "custom at most: {musts:?}");
}

#[test]
fn an_optional_thing_is_called_so_and_selenium_that_falls_is_lost() {
    let optional = plan_of("bleach", "", &[BROMIDE, ("borax-decahydrate", "grams = 5\noptional = true")]);
    assert!(enters(&optional, "borax-decahydrate").instruction.ends_with("(optional)"));
    assert!(!enters(&optional, "potassium-bromide").instruction.contains("optional"));
    let sulfite = ("sodium-sulfite-anhydrous", "grams = 150");
    let acid = ("sodium-bisulfite", "grams = 10");
    let toner = plan_of("toner", "", &[("selenium", "grams = 5"), sulfite, acid]);
    assert!(enters(&toner, "sodium-bisulfite").done.contains("red"));
    assert!(!enters(&toner, "selenium").done.contains("red"));
    let without = plan_of("stop-bath", "", &[sulfite, acid]);
    assert!(!enters(&without, "sodium-bisulfite").done.contains("red"));
    // What holds of solid caustic does not hold of its solution.
    let why = |amount| {
        enters(&plan_of("bleach", "", &[("sodium-hydroxide", amount)]), "sodium-hydroxide").why.clone()
    };
    assert!(why("grams = 10").contains("onto caustic"));
    assert_eq!(why("millilitres = 50\nstrength = \"10 % w/v\""), "");
}
