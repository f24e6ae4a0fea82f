//! The words of a step agree with the figures beside them, over the whole library at three volumes.

use crate::common::shipped::{Tables, tables};
use soupcon::formula::{Appearance, FinishedIn};
use soupcon::label::labels;
use soupcon::library::Library;
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
    let library = Library::shipped();
    let Tables { safety, relations, equilibria } = tables(&library);
    let mut wrong = Vec::new();
    for found in library.formulas().unwrap().0 {
        let formula = &found.formula;
        let mut caustic_words: Vec<Vec<String>> = Vec::new();
        for millilitres in [100.0, 1000.0, 10_000.0] {
            let Ok(batch) = scale(formula, &Request::volume(Volume::from_ml(millilitres)), &relations) else {
                continue;
            };
            let Ok(sheet) = sheet(formula, &batch, &safety, &equilibria) else { continue };
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
