//! Formulas and substances with one mistake each, and what the linter says of them.

use super::*;

const HEAD: &str = "format = 1\ntitle = \"t\"\nsummary = \"s\"\nevidence = \"memory\"\n";

/// A formula of one part: kind, extra keys, and ingredients as `form grams`, `form 5ml` …
fn text(kind: &str, extra: &str, ingredients: &[&str]) -> String {
    let mut text = format!("{HEAD}kind = \"{kind}\"\n{extra}\n");
    for line in ingredients {
        let (form, amount) = line.split_once(' ').unwrap();
        let amount = match amount.strip_suffix("ml") {
            Some(ml) => format!("millilitres = {ml}"),
            None => format!("grams = {amount}"),
        };
        text.push_str(&format!("[[ingredients]]\nsubstance = \"{form}\"\n{amount}\n"));
    }
    text
}

/// A linter that knows the shipped library; building one reads all of it.
fn linter() -> Linter<'static> {
    Linter::new(Box::leak(Box::new(Library::shipped()))).unwrap()
}

/// The same, which also tries what it judges.
fn trying_linter() -> Linter<'static> {
    let library: &'static Library = Box::leak(Box::new(Library::shipped()));
    let table = |name: &str| library.table(name).unwrap();
    let read = (table("statements.toml"), table("combinations.toml"), table("precautions.toml"));
    let tables = Tables {
        equilibria: Box::leak(Box::new(Equilibria::parse(table("equilibria.toml")).unwrap())),
        safety: Box::leak(Box::new(SafetyData::parse(read.0, read.1, read.2).unwrap())),
        relations: Box::leak(Box::new(Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap())),
    };
    Linter::new(library).unwrap().with_tables(Some(tables))
}

impl Linter<'_> {
    /// Codes found in a formula, with their lines.
    fn judged(&self, text: &str) -> Vec<(&'static str, Option<usize>)> {
        let found = self.library.formula_from_text(text, "mine", "mine.toml").unwrap();
        let findings = self.formula(&found.formula, text);
        for finding in &findings {
            assert!(!finding.message.is_empty() && !finding.fix.is_empty(), "{finding:?}");
        }
        findings.iter().map(|finding| (finding.code, finding.line)).collect()
    }

    fn codes(&self, kind: &str, extra: &str, ingredients: &[&str]) -> Vec<&'static str> {
        self.judged(&text(kind, extra, ingredients)).into_iter().map(|(code, _)| code).collect()
    }
}

const MQ: [&str; 4] = ["metol 2", "sodium-sulfite-anhydrous 100", "hydroquinone 5.5", "borax-decahydrate 2"];

#[test]
fn a_sound_formula_is_left_alone() {
    let linter = linter();
    assert!(linter.codes("film-developer", "", &MQ).is_empty());
}

#[test]
fn a_developer_without_an_agent_is_told_unless_it_serves_a_sensitizer() {
    let linter = linter();
    let soda = ["sodium-sulfite-anhydrous 50", "sodium-carbonate-anhydrous 30"];
    let found = linter.judged(&text("film-developer", "", &soda));
    assert_eq!(found, [("no-agent", Some(5))]);
    let extra = "partners = [\"kallitype-ferric-oxalate-sensitizer\"]";
    assert!(linter.codes("paper-developer", extra, &soda).is_empty());
    assert!(linter.codes("washing-aid", "", &soda).is_empty());
}

#[test]
fn salts_above_their_solubility_are_told_with_their_line() {
    let linter = trying_linter();
    let findings = linter.judged(&text(
        "film-developer",
        "",
        &["metol 2", "sodium-sulfite-anhydrous 100", "borax-decahydrate 80"],
    ));
    assert_eq!(findings, [("above-solubility", Some(13))]);
    // Warm use says its temperature.
    let warm = "\n[[use]]\nname = \"warm\"\nbaths = [{ stock = 1 }]\ntemperature = 45\n";
    let file =
        text("film-developer", "", &["metol 2", "sodium-sulfite-anhydrous 100", "borax-decahydrate 80"])
            + warm;
    assert!(linter.judged(&file).is_empty());
    // So does a note of its own that speaks of it; one that speaks of another's crystals does not.
    let eighty = ["metol 2", "sodium-sulfite-anhydrous 100", "borax-decahydrate 80"];
    let noted = |note: &str| linter.codes("film-developer", &format!("note = \"{note}\""), &eighty);
    assert!(noted("In a cool room borax crystallises.").is_empty());
    assert_eq!(noted("Sulfite crystals are meant."), ["above-solubility"]);
    // A hardener is no exception: 120 g of alum crystals against 111 g in a litre of water at 20 °C (the shipped curve).
    let alum = ["potassium-alum-dodecahydrate 140"];
    assert_eq!(linter.codes("hardener", "", &alum), ["above-solubility"]);
    // Caustic turns borax into metaborate; a strong solution brings water of its own.
    let caustic = ["metol 2", "borax-decahydrate 80", "sodium-hydroxide 17"];
    assert!(linter.codes("film-developer", "", &caustic).is_empty());
}

#[test]
fn ten_times_the_usual_sulfite_is_a_slip_of_the_decimal_point() {
    let linter = linter();
    let codes =
        linter.codes("film-developer", "", &["metol 2", "sodium-sulfite-anhydrous 1000", "hydroquinone 5"]);
    assert!(codes.contains(&"much-sulfite"), "{codes:?}");
    let found =
        linter.codes("fixer", "", &["sodium-thiosulfate-pentahydrate 240", "sodium-sulfite-anhydrous 250"]);
    assert!(found.contains(&"much-sulfite"), "{found:?}");
}

#[test]
fn thiosulfate_in_acid_without_sulfite_is_told_but_not_in_a_toner() {
    let linter = linter();
    let bare = ["sodium-thiosulfate-pentahydrate 240", "acetic-acid-28 48ml"];
    assert_eq!(linter.codes("fixer", "", &bare), ["sulfur"]);
    let alum = ["sodium-thiosulfate-pentahydrate 240", "potassium-alum-dodecahydrate 15"];
    assert_eq!(linter.codes("fixer", "", &alum), ["sulfur"]);
    let kept = ["sodium-thiosulfate-pentahydrate 240", "sodium-sulfite-anhydrous 15", "acetic-acid-28 48ml"];
    assert!(linter.codes("fixer", "", &kept).is_empty());
    let boric = ["sodium-thiosulfate-pentahydrate 240", "boric-acid 7.5"];
    assert!(linter.codes("fixer", "", &boric).is_empty(), "boric acid is too weak");
    assert!(linter.codes("toner", "", &alum).is_empty());
}

#[test]
fn more_than_a_litre_in_a_litre_is_told() {
    let linter = linter();
    let codes = linter.codes(
        "fixer",
        "",
        &[
            "sodium-thiosulfate-pentahydrate 1200",
            "sodium-sulfite-anhydrous 15",
            "ammonium-thiosulfate-60 400ml",
        ],
    );
    assert!(codes.contains(&"no-room"), "{codes:?}");
    // A kilogram of agents has room in a litre, but not the water to dissolve in.
    let codes = linter.codes(
        "film-developer",
        "",
        &["metol 400", "hydroquinone 500", "sodium-sulfite-anhydrous 100"],
    );
    assert!(codes.contains(&"no-room"), "{codes:?}");
    let water = "[mixing]\nwater = 950\n";
    let found =
        linter.codes("fixer", water, &["sodium-thiosulfate-pentahydrate 300", "sodium-sulfite-anhydrous 15"]);
    assert_eq!(found, ["overfull"]);
}

#[test]
fn relations_name_what_exists_and_what_names_back() {
    let linter = linter();
    let found = linter.judged(&text("film-developer", "variant_of = \"mq-borax-clasic\"", &MQ));
    assert_eq!(found, [("unknown-relation", Some(6))]);
    assert_eq!(linter.codes("film-developer", "variant_of = \"mine\"", &MQ), ["names-itself"]);
    assert_eq!(
        linter.codes("film-developer", "variant_of = \"plain-thiosulfate-fixer\"", &MQ),
        ["variant-kind"]
    );
    assert_eq!(linter.codes("film-developer", "partners = [\"nothing-such\"]", &MQ), ["unknown-relation"]);
    assert_eq!(
        linter.codes("film-developer", "replenishes = [\"metol-sulfite\"]", &MQ),
        ["replenisher-kind"]
    );
    assert_eq!(linter.codes("replenisher", "", &MQ), ["replenishes-nothing"]);
    let with = "[replenishment]\nwith = \"mq-borax-classic-replenisher\"\n";
    assert_eq!(linter.codes("film-developer", with, &MQ), ["replenishes-one-way"]);
    assert_eq!(linter.codes("film-developer", "aliases = [\"Metol-Sulfite\"]", &MQ), ["alias-clash"]);
}

#[test]
fn order_keeping_and_minutes_are_looked_at() {
    let linter = linter();
    let order = "[mixing]\norder = [\"metol\", \"sodium-sulfite-anhydrous\", \"borax-pentahydrate\"]\n";
    assert_eq!(linter.judged(&text("film-developer", order, &MQ)), [("order-names", Some(7))]);
    let keeping = "[keeping]\nfull_bottle_days = 30\nhalf_bottle_days = 60\n";
    assert_eq!(linter.codes("film-developer", keeping, &MQ), ["keeping"]);
    let file = text("film-developer", "", &MQ)
        + "[[use]]\nname = \"u\"\nbaths = [{ stock = 1 }]\nminutes = [9, 5]\n";
    assert_eq!(linter.judged(&file).iter().map(|own| own.0).collect::<Vec<_>>(), ["use-minutes"]);
}

#[test]
fn the_same_composition_under_another_name_and_jars_that_lie_are_advice() {
    let linter = linter();
    let classic = ["metol 2", "sodium-sulfite-heptahydrate 200.05", "hydroquinone 5", "borax-decahydrate 2"];
    assert_eq!(linter.codes("film-developer", "", &classic), ["same-composition"]);
    assert_eq!(linter.codes("stop-bath", "", &["sodium-bisulfite 30"]), ["bisulfite"]);
    let much = ["metol 2", "sodium-sulfite-anhydrous 100", "potassium-bromide 400"];
    assert!(linter.codes("film-developer", "", &much).contains(&"unusual-amount"));
}

#[test]
fn published_figures_are_reproduced_or_told() {
    let linter = linter();
    let check = |table: &str| {
        linter.codes("film-developer", "", &MQ).is_empty().then(|| {
            let file = text("film-developer", "", &MQ) + "[[check]]\nsource = \"S\"\n" + table;
            linter.judged(&file).iter().map(|own| own.0).collect::<Vec<_>>()
        })
    };
    // 100 g / 126.043 g/mol (molmass 2026.1.8).
    let good =
        "quantity = \"molarity\"\nsubstance = \"sodium-sulfite\"\nexpected = 0.793\ntolerance = 0.001\n";
    assert_eq!(check(good).unwrap(), Vec::<&str>::new());
    let bad =
        "quantity = \"molarity\"\nsubstance = \"sodium-sulfite\"\nexpected = 0.397\ntolerance = 0.001\n";
    assert_eq!(check(bad).unwrap(), ["check-failed"]);
    let crystals = "quantity = \"equivalent\"\nsubstance = \"sodium-sulfite-anhydrous\"\nequivalent_of = \"sodium-sulfite-heptahydrate\"\nexpected = 200\ntolerance = 0.5\n";
    assert_eq!(check(crystals).unwrap(), Vec::<&str>::new());
    let grams =
        "quantity = \"grams_per_litre\"\nsubstance = \"hydroquinone\"\nexpected = 5\ntolerance = 0.1\n";
    assert_eq!(check(grams).unwrap(), ["check-failed"]);
    for wrong in [
        "quantity = \"molarity\"\nsubstance = \"amidol\"\nexpected = 1\ntolerance = 1\n",
        "quantity = \"molarity\"\nexpected = 1\ntolerance = 1\n",
        "quantity = \"molarity\"\nsubstance = \"metol\"\npart = \"Z\"\nexpected = 1\ntolerance = 1\n",
        "quantity = \"equivalent\"\nsubstance = \"metol\"\nequivalent_of = \"hydroquinone\"\nexpected = 1\ntolerance = 1\n",
        "quantity = \"molarity\"\nsubstance = \"metol\"\nexpected = 1\ntolerance = 0\n",
    ] {
        assert_eq!(check(wrong).unwrap(), ["check"], "{wrong}");
    }
}

#[test]
fn a_ph_is_compared_only_with_a_prediction() {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let equilibria = Equilibria::parse(table("equilibria.toml")).unwrap();
    let read = (table("statements.toml"), table("combinations.toml"), table("precautions.toml"));
    let safety = SafetyData::parse(read.0, read.1, read.2).unwrap();
    let relations = Relations::parse(table("exchanges.toml"), "exchanges.toml").unwrap();
    let tables = Tables { equilibria: &equilibria, safety: &safety, relations: &relations };
    // The borax standard: 3.80 g a litre, 9.180 at 25 °C (Lange's Handbook of Chemistry, 15th ed., p. 8.106, table 8.15).
    let checked = |ph: f64| {
        text(
            "film-developer",
            "partners = [\"kallitype-ferric-oxalate-sensitizer\"]",
            &["borax-decahydrate 3.80"],
        ) + &format!(
            "[[check]]\nquantity = \"ph\"\nexpected = {ph}\ntolerance = 0.03\ncelsius = 25\nsource = \"S\"\n"
        )
    };
    let findings = |ph: f64, tables: Option<Tables<'_>>| {
        let linter = Linter::new(&library).unwrap().with_tables(tables);
        let codes = linter.judged(&checked(ph)).into_iter().map(|(code, _)| code);
        codes.filter(|code| *code == "check-failed").count()
    };
    assert_eq!((findings(9.18, Some(tables)), findings(9.0, Some(tables)), findings(9.0, None)), (0, 1, 0));
}

#[test]
fn substances_need_sources_roles_classes_and_forms_that_agree() {
    let library = Library::shipped();
    let linter = Linter::new(&library).unwrap();
    let codes = |text: &str| {
        let substance = Substance::parse(text, "mine", "mine.toml", library.weights()).unwrap();
        let findings = linter.substance(&substance, "mine.toml", text, false);
        findings.iter().map(|finding| finding.code).collect::<Vec<_>>()
    };
    let form = "[[forms]]\nid = \"mine\"\nname = \"mine\"\n";
    let head = "format = 1\nname = \"mine\"\n";
    assert_eq!(codes(&format!("{head}{form}")), ["no-roles", "no-classes"]);
    let whole = format!("{head}roles = [\"alkali\"]\nclasses = [\"alkali\"]\n{form}");
    assert!(codes(&whole).is_empty());
    assert_eq!(codes(&whole.replace("[\"alkali\"]\n[[", "[\"alkalii\"]\n[[")), ["unknown-class"]);
    assert_eq!(
        codes(&format!("{whole}density_g_per_ml = 2\ndensity_source = \"crc-roh\"\n")),
        ["unknown-source"]
    );
    assert!(
        codes(&format!("{whole}density_g_per_ml = 2\ndensity_source = \"A. Author, Title, 1999\"\n"))
            .is_empty()
    );
    assert_eq!(codes(&format!("{whole}cas = \"7757-83-6\"\n")), ["cas"]);
    assert_eq!(
        codes(&format!("{whole}state = \"solution\"\nformula = \"NaOH\"\n")),
        ["no-density", "no-assay"]
    );
    let hazards = "[forms.hazards]\nstatus = \"typical\"\nstatements = [\"P280\"]\nsource = \"memory\"\n";
    assert_eq!(codes(&format!("{whole}{hazards}")), ["hazard-code"]);
    let other =
        "formula = \"Na2CO3\"\n[[forms]]\nid = \"mine-wet\"\nname = \"wet\"\nformula = \"K2CO3.H2O\"\n";
    assert_eq!(codes(&format!("{whole}{other}")), ["forms-differ"]);
    let hydrate = other.replace("K2CO3", "Na2CO3");
    assert!(codes(&format!("{whole}{hydrate}")).is_empty());
}
