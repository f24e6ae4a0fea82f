//! What one bath carries into the next.

use super::*;

#[test]
fn a_wash_or_an_alkaline_bath_between_ends_the_danger() {
    let library = Library::shipped();
    let data = safety();
    let bath = |name: &str| baths_of(&library.formula(name).unwrap().formula, None).remove(0);
    let stop = bath("acetic-acid-stop-bath");
    let sulfide =
        baths_of(&library.formula("sulfide-sepia-bleach-redevelop-toner").unwrap().formula, None).remove(2);
    let next = data.between(&[&stop, &sulfide]);
    assert!(next.iter().any(|own| own.is_next && own.caution.id == "acid-then-sulfide"));
    // With a wash between, only the waste remains.
    let wash = BathSummary::wash();
    assert!(wash.is_wash());
    let apart = data.between(&[&stop, &wash, &sulfide]);
    assert!(
        !apart.is_empty() && apart.iter().all(|own| !own.is_next && own.caution.severity == Severity::Danger)
    );
    // A carbonate developer with a little bisulfite is alkaline: no hydrogen sulfide.
    let developer = bath("mq-carbonate-tray-tank");
    assert!(!data.between(&[&developer, &sulfide]).iter().any(|own| own.caution.id == "acid-then-sulfide"));
    // The ordinary sequence has nothing dangerous in it.
    let ordinary = [bath("mq-borax-classic"), stop, bath("acid-hardening-alum-boric-fixer")];
    let ordinary: Vec<&BathSummary> = ordinary.iter().collect();
    assert_eq!(data.between(&ordinary), []);
}

#[test]
fn only_a_fixer_that_is_alkaline_is_spoiled_by_a_stop_bath() {
    let library = Library::shipped();
    let data = safety();
    let bath = |name: &str| baths_of(&library.formula(name).unwrap().formula, None).remove(0);
    let alkaline = "ammonium-thiosulfate-alkaline-rapid-fixer";
    let stop = bath("acetic-acid-stop-bath");
    let told = |first: &BathSummary, second: &BathSummary| {
        let all = data.between(&[first, second]);
        all.iter().any(|own| own.caution.id == "acid-then-alkaline-fixer")
    };
    assert!(told(&stop, &bath(alkaline)) && !told(&bath(alkaline), &stop));
    // What only spoils a bath is of no account with a wash between.
    assert_eq!(data.between(&[&stop, &BathSummary::wash(), &bath(alkaline)]), []);
    let fixers = formulas().iter().filter(|own| own.kind == Kind::Fixer);
    let spoiled: Vec<String> = fixers.map(|own| own.id.clone()).filter(|id| told(&stop, &bath(id))).collect();
    assert_eq!(spoiled, [alkaline, "salted-paper-fixer", "thiosulfate-sulfite-carbonate-alkaline-fixer"]);
}

#[test]
fn a_bath_names_what_must_not_come_beside_it() {
    let library = Library::shipped();
    let data = safety();
    let bath = |name: &str, index: usize| {
        baths_of(&library.formula(name).unwrap().formula, None).remove(index).contents
    };
    let never = data.never_beside(&bath("acetic-acid-stop-bath", 0));
    assert_eq!(never[0], "a sulfide bath");
    let never = data.never_beside(&bath("sulfide-sepia-bleach-redevelop-toner", 2));
    assert!(never.iter().any(|words| words.contains("bisulfite")));
    let never = data.never_beside(&bath("silver-nitrate-salted-paper-sensitizer", 0));
    assert!(never.contains(&"a bath with ammonia".to_owned()));
}
