//! The words of a step agree with the figures beside them, over the whole library at three volumes.

use crate::common::shipped::{Tables, formulas, shipped, tables};
use crate::common::{in_process, own_formula};
use soupcon::formula::{Appearance, FinishedIn};
use soupcon::label::labels;
use soupcon::quantity::Volume;
use soupcon::scale::{Request, scale};
use soupcon::sequence::Action;
use soupcon::sheet::{SheetPart, SheetStep, sheet};
use soupcon::substance::{Class, State};

/// At the bench a sentence has at most twelve words, a capital and a stop.
fn faults_of_sentences(how: &str, done: &str) -> Vec<String> {
    let long = how.split(". ").chain(done.split("; ")).filter(|own| own.split_whitespace().count() > 12);
    let mut faults: Vec<String> = long.map(|own| format!("a long sentence: {own}")).collect();
    if how.starts_with(|letter: char| letter.is_lowercase()) || !how.is_empty() && !how.ends_with('.') {
        faults.push(format!("no whole sentence: {how}"));
    }
    faults
}

/// Nobody cools what is cool, heats what is hotter, or drops a crystal.
fn faults_of_waits(step: &SheetStep, before: Option<f64>, part: &SheetPart) -> Vec<&'static str> {
    let own = &step.step;
    let mut faults = Vec::new();
    let rise_k = before.zip(step.after_c).map(|(before, after)| after - before);
    if own.how.contains("warms up") && rise_k.is_some_and(|rise| rise <= 0.0) {
        faults.push("it does not warm up");
    }
    if own.done.contains("cool again") && rise_k.is_some_and(|rise| rise < 3.0) {
        faults.push("it hardly warms");
    }
    if let Some((before, wanted)) = before.zip(own.celsius) {
        if own.action == Action::Cool && before <= wanted && own.instruction.contains("Cool to") {
            faults.push("it is no warmer already");
        }
        if own.instruction.starts_with("HEAT") && before > wanted {
            faults.push("it is hotter already");
        }
    }
    let is_solid = own.form.as_ref().is_some_and(|form| form.state == State::Solid);
    let item = own.item.and_then(|item| part.batch.items.get(item));
    let is_poured = item.is_some_and(|item| item.dose.is_some() || item.solution.is_some());
    if own.how.contains("drop by drop") && is_solid && !is_poured {
        faults.push("a solid has no drops");
    }
    faults
}

/// Whether a strong acid warms its vessel, or nobody knows.
fn an_acid_heats(part: &SheetPart) -> bool {
    part.steps.windows(2).any(|pair| {
        let is_acid = pair[1].step.form.as_ref().is_some_and(|form| form.is_class(&Class::StrongAcid));
        let known = pair[0].after_c.zip(pair[1].after_c);
        is_acid && known.is_none_or(|(before, after)| after > before + 0.05)
    })
}

#[test]
fn the_words_of_a_step_agree_with_its_figures() {
    let Tables { safety, relations, equilibria } = tables();
    let mut wrong = Vec::new();
    for formula in formulas() {
        let mut caustic_words: Vec<Vec<String>> = Vec::new();
        for millilitres in [100.0, 1000.0, 10_000.0] {
            let Ok(batch) = scale(formula, &Request::volume(Volume::from_ml(millilitres)), relations) else {
                continue;
            };
            let Ok(sheet) = sheet(formula, &batch, safety, equilibria) else { continue };
            let mut caustic = Vec::new();
            for (part, source) in sheet.parts.iter().zip(&formula.parts) {
                let mut before: Option<f64> = None;
                if part.plan.start.why.contains("acid heats") && !an_acid_heats(part) {
                    wrong.push(format!("{} {millilitres}: the acid heats nothing", formula.id));
                }
                for step in &part.steps {
                    let own = &step.step;
                    let mut object = |what: &str| {
                        wrong.push(format!("{} {millilitres}: {}: {what}", formula.id, own.instruction));
                    };
                    let is_colder = before.zip(step.after_c).is_none_or(|(before, after)| after < before);
                    if own.how.contains("turns cold") && !is_colder {
                        object("it does not turn cold");
                    }
                    for fault in faults_of_waits(step, before, part) {
                        object(fault);
                    }
                    if own.how.contains("make up to the mark again")
                        && step.after_c.is_some_and(|after| after <= 25.0)
                    {
                        object("it is cool already");
                    }
                    if own.why.contains("while the water is hot")
                        && before.is_some_and(|celsius| celsius < 40.0)
                    {
                        object("the water is not hot");
                    }
                    if own.how.contains("Bottle and") && part.ends_in != FinishedIn::Bottle {
                        object("it must not be bottled");
                    }
                    let is_dark = part.batch.items.iter().any(|item| {
                        item.form.is_class(&Class::Permanganate) || item.form.is_class(&Class::ChromiumVi)
                    });
                    let in_vessel = own.action != Action::DissolveApart;
                    if in_vessel
                        && own.done.contains("clear")
                        && (is_dark || source.mixing.appearance != Appearance::Clear)
                    {
                        object("nobody sees that it is clear");
                    }
                    let empty = [
                        "custom",
                        "the only chemical",
                        "lukewarm",
                        "room temperature",
                        "as the formula gives it",
                    ];
                    if empty.iter().any(|own_word| own.why.contains(own_word)) {
                        object("a reason that says nothing");
                    }
                    for fault in faults_of_sentences(&own.how, &own.done) {
                        object(&fault);
                    }
                    caustic.extend(
                        step.cautions
                            .iter()
                            .map(|own| own.text.clone())
                            .filter(|text| text.contains("austic")),
                    );
                    if in_vessel {
                        before = step.after_c;
                    }
                }
            }
            if sheet.parts.iter().any(|part| part.ends_in != FinishedIn::Bottle) {
                let bottled = sheet.parts.iter().filter(|part| part.ends_in == FinishedIn::Bottle).count();
                let labelled = labels(&sheet, None, None).map_or(0, |own| own.len());
                if labelled != bottled {
                    wrong.push(format!("{}: a label for what is never bottled", formula.id));
                }
            }
            caustic_words.push(caustic);
        }
        if caustic_words.windows(2).any(|pair| pair[0] != pair[1]) {
            wrong.push(format!("{}: caustic is told differently at another volume", formula.id));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_must_not_be_kept_is_never_bottled() {
    for (formula, words) in [
        ("peroxide-ammonia-thiosulfate-eliminator", "open tray"),
        ("gold-thiocyanate-acid-toner", "does not keep"),
    ] {
        let ran = crate::common::good(&["sheet", formula, "1L"]);
        assert!(!ran.out.contains("Bottle and label") && !ran.out.contains("clean bottle"), "{}", ran.out);
        assert!(ran.out.contains(words), "{}", ran.out);
        let ran = crate::common::soupcon(&["label", formula, "1L"]);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert!(ran.whole().contains("never bottled"), "{}", ran.whole());
    }
}

/// The sheet of a formula of one's own, as printed.
fn page_of(kind: &str, contents: &[(&str, &str)]) -> String {
    let folder = tempfile::tempdir().unwrap();
    in_process(&["sheet", &own_formula(&folder, kind, contents), "1L"]).out
}

/// What `check` says of a reducer of one's own, as one line.
fn check_of(contents: &[(&str, &str)]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let ran = in_process(&["check", &own_formula(&folder, "reducer", contents)]);
    ran.whole().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The number of the row that holds a word.
fn row_with(page: &str, word: &str) -> usize {
    page.lines().position(|line| line.contains(word)).unwrap_or_else(|| panic!("{word}: {page}"))
}

// What follows is common practice, no source.

#[test]
fn no_sign_asks_for_cool_where_the_row_or_the_next_reads_warm() {
    let (mut wrong, mut warm) = (Vec::new(), 0);
    for (sheet, _) in &shipped().batches {
        for part in &sheet.parts {
            for (place, step) in part.steps.iter().enumerate() {
                let next = part.steps.get(place + 1).and_then(|own| own.after_c);
                if step.after_c.into_iter().chain(next).all(|celsius| celsius <= 27.0) {
                    continue;
                }
                warm += 1;
                if step.step.done.contains("cool again") {
                    wrong
                        .push(format!("{}: {}: {}", sheet.formula.id, step.step.instruction, step.step.done));
                }
            }
        }
    }
    assert!(warm > 100, "{warm}");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn hot_selenium_cools_before_the_acid_sulfite() {
    let contents = [
        ("selenium", "grams = 5"),
        ("sodium-sulfite-anhydrous", "grams = 50"),
        ("sodium-metabisulfite", "grams = 40"),
    ];
    let page = page_of("toner", &contents);
    assert!(row_with(&page, "SELENIUM, powder") < row_with(&page, "WAIT: cool to 27 °C"), "{page}");
    let (cool, bar) = (row_with(&page, "WAIT: cool to 27 °C"), row_with(&page, "gives off sulfur dioxide"));
    assert!(cool < bar && bar < row_with(&page, "SODIUM METABISULFITE  "), "{page}");
    assert!(page.contains("GAS     sulfur dioxide") && page.contains("GAS     hydrogen selenide"), "{page}");
    // What falls out is red, and nobody waits for a clear bath.
    assert!(page.contains("what is red is lost"), "{page}");
}

#[test]
fn iodine_goes_into_its_iodide_in_little_water() {
    let page = page_of("reducer", &[("potassium-iodide", "grams = 20"), ("iodine", "grams = 10")]);
    assert!(row_with(&page, "POTASSIUM IODIDE") < row_with(&page, "IODINE  "), "{page}");
    assert!(page.contains("1   100 mL   WATER at 20 °C"), "{page}");
    assert!(page.contains("seen against a light") && !page.contains("clear"), "{page}");
    assert!(
        page.contains("IODINE")
            && !check_of(&[("potassium-iodide", "grams = 20"), ("iodine", "grams = 10")])
                .contains("more than dissolve")
    );
    assert!(
        check_of(&[("potassium-bromide", "grams = 20"), ("iodine", "grams = 10")])
            .contains("more than dissolve")
    );
    // Black in alcohol, too.
    let page = in_process(&["sheet", "iodine-thiourea-local-reducer", "1L"]).out;
    let iodine = row_with(&page, "IODINE  ");
    assert!(page.lines().nth(iodine + 1).unwrap().contains("seen against a light"), "{page}");
}

#[test]
fn a_heat_that_no_table_holds_leaves_the_reading_blank() {
    for (substance, amount, blank) in [
        ("hydrochloric-acid-37", "millilitres = 400", true),
        ("hydrochloric-acid-37", "millilitres = 200", true),
        ("hydrochloric-acid-37", "millilitres = 10", false),
        ("methanol", "millilitres = 300", true),
        // That of sulfuric acid is computed.
        ("sulfuric-acid", "millilitres = 40", false),
    ] {
        let page = page_of("test-solution", &[(substance, amount)]);
        let made_up = page.lines().nth(row_with(&page, "MAKE UP")).unwrap();
        assert_eq!(!made_up.contains("°C"), blank, "{substance}: {page}");
        assert!(page.contains("WATER at 20 °C"), "{page}");
    }
}

#[test]
fn what_sets_to_a_jelly_is_made_up_and_bottled_warm() {
    // Gelatin sets from about one per cent on.
    let page = in_process(&["sheet", "salted-paper-gelatin-salt", "1L"]).out;
    assert!(page.contains("MAKE UP with water at 40 °C"), "{page}");
    assert!(page.contains("bottle warm, label; it sets to a jelly"), "{page}");
    assert!(page.contains("melt it before use") && page.contains("coating  at 40 °C"), "{page}");
    assert!(!page.contains("cold water") && !page.contains("at 20 °C make up"), "{page}");
}

#[test]
fn what_ends_colder_than_its_use_is_warmed() {
    let page = in_process(&["sheet", "copper-bromide-acetic-rehalogenising-bleach", "1L"]).out;
    assert!(page.contains("READY   warm to 20 °C (now 15)"), "{page}");
}

#[test]
fn ascorbate_that_is_kept_wants_distilled_water_unless_something_binds_the_metals() {
    for (contents, distilled) in [
        (vec![("ascorbic-acid", "grams = 10"), ("borax-decahydrate", "grams = 10")], true),
        (
            vec![
                ("ascorbic-acid", "grams = 10"),
                ("borax-decahydrate", "grams = 10"),
                ("dtpa-pentasodium-40", "grams = 5"),
            ],
            false,
        ),
        (vec![("hydroquinone", "grams = 10"), ("borax-decahydrate", "grams = 10")], false),
    ] {
        let page = page_of("film-developer", &contents);
        assert!(page.contains("MAKE UP"), "{page}");
        assert_eq!(page.contains("DISTILLED WATER"), distilled, "{page}");
    }
}
