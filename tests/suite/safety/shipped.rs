//! Every formula and substance of the library, boxes, gear and the tables themselves.

use super::*;

#[test]
fn every_substance_with_hazard_statements_shows_them() {
    let library = Library::shipped();
    let data = safety();
    let (substances, findings) = library.all_substances().unwrap();
    assert!(findings.is_empty());
    for form in substances.iter().flat_map(|substance| &substance.forms) {
        let hazards = data.powders(&[Content::grams(form, 1.0)]);
        if form.parent.id == "water" {
            assert!(hazards.is_empty());
            continue;
        }
        let [hazard] = hazards.as_slice() else { panic!("{}", form.id) };
        let codes: Vec<&String> = form.hazards.statements.iter().chain(&form.hazards.supplementary).collect();
        for code in &codes {
            assert!(data.statements().get(code).is_some(), "{code} of {} is not in statements.toml", form.id);
            assert!(
                hazard.with_codes().iter().any(|line| line.ends_with(&format!("({code})"))),
                "{code} of {}",
                form.id
            );
        }
        // Never nothing: a statement, or that nothing is known, or a source that says so.
        let is_cleared = !form.hazards.is_unknown() && codes.is_empty();
        assert!(!hazard.plain.is_empty() || is_cleared, "{}", form.id);
        assert_eq!(
            hazard.plain.first().is_some_and(|line| line == NOT_KNOWN),
            form.hazards.is_unknown(),
            "{}",
            form.id
        );
        if let Some(computed) = codes.iter().filter_map(|code| signal_of(code)).max() {
            assert_eq!(hazard.signal, Some(computed), "signal word of {}", form.id);
        }
    }
}

#[test]
fn every_shipped_formula_shows_every_hazard_of_what_it_holds() {
    let data = safety();
    for formula in formulas() {
        let review = review(data, formula, 1.0, &|_| None);
        for ingredient in formula.ingredients() {
            if ingredient.form.parent.id == "water" {
                continue;
            }
            let own = review.powders.iter().find(|hazard| hazard.id == ingredient.form.id);
            let own = own.unwrap_or_else(|| panic!("{} does not show {}", formula.id, ingredient.form.id));
            let codes =
                ingredient.form.hazards.statements.len() + ingredient.form.hazards.supplementary.len();
            assert_eq!(own.statements.len(), codes);
        }
        assert!(review.general.closing.contains("Local rules and licensed practice come first"));
        assert!(review.general.exposure.iter().any(|line| line.contains("15 minutes")));
        assert!(review.general.exposure.iter().any(|line| line.contains("poison centre")));
    }
}

#[test]
fn no_shipped_formula_is_refused() {
    for formula in formulas() {
        let review = review(safety(), formula, 20.0, &|_| None);
        assert_eq!(review.objections, [], "{}", formula.id);
    }
}

#[test]
fn boxes_stand_over_exactly_these_formulas() {
    let mut boxes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for formula in formulas() {
        for own in review(safety(), formula, 1.0, &|_| None).boxes {
            assert!(!own.waste.is_empty() && own.title.to_uppercase() == own.title);
            assert_ne!(own.safer_formula.as_ref(), Some(&formula.id));
            // A test of residual silver is the only one for which the collection has no safer way.
            assert!(own.safer.is_some() || formula.kind == Kind::TestSolution, "{}", formula.id);
            boxes.entry(own.id).or_default().push(formula.id.clone());
        }
    }
    let named: Vec<(&str, Vec<&str>)> = boxes
        .iter()
        .map(|(id, formulas)| (id.as_str(), formulas.iter().map(String::as_str).collect()))
        .collect();
    let expected: Vec<(&str, Vec<&str>)> = vec![
        ("acid-ferricyanide", vec!["iron-blue-two-stock-toner"]),
        (
            "chromium-vi",
            vec![
                "chromium-intensifier",
                "chromium-intensifier-little-acid",
                "chromium-intensifier-medium-acid",
                "chromium-intensifier-much-acid",
                "copper-bromide-dichromate-bromoil-bleach",
                "dichromate-bisulfate-reversal-bleach",
                "dichromate-sulfuric-reversal-bleach",
                "dichromate-sulfuric-weak-reversal-bleach",
                "gum-ammonium-dichromate-sensitizer",
                "gum-potassium-dichromate-sensitizer",
            ],
        ),
        (
            "formaldehyde",
            vec![
                "lith-paraformaldehyde",
                "lith-paraformaldehyde-two-part-paper-developer",
                "formalin-hardener",
            ],
        ),
        ("selenium", vec!["selenium-selenosulfate-toner"]),
        (
            "sulfide",
            vec![
                "polysulfide-direct-brown-toner",
                "sulfide-sepia-bleach-redevelop-toner",
                "residual-silver-sulfide-test",
            ],
        ),
    ];
    assert_eq!(named, expected);
}

#[test]
fn boxes_of_a_users_formula_come_by_what_it_holds() {
    let library = Library::shipped();
    let data = safety();
    let boxes = |contents: &[(&str, f64)], kind: Kind| {
        let boxes = data.boxes(&vessel(&library, contents), Some(kind), None);
        boxes.into_iter().map(|own| own.id).collect::<Vec<_>>()
    };
    assert_eq!(
        boxes(&[("silver-nitrate", 50.0), ("ammonia-25", 30.0)], Kind::Sensitizer),
        ["ammoniacal-silver"]
    );
    let salt = [("silver-nitrate", 5.0), ("ammonium-chloride", 30.0), ("sodium-hydroxide", 5.0)];
    assert_eq!(boxes(&salt, Kind::Sensitizer), ["ammoniacal-silver-from-salt"]);
    assert_eq!(
        boxes(&[("sulfuric-acid", 10.0), ("potassium-ferricyanide", 5.0)], Kind::Bleach),
        ["acid-ferricyanide"]
    );
    assert_eq!(
        boxes(&[("potassium-ferricyanide", 5.0), ("potassium-bromide", 5.0)], Kind::Bleach),
        Vec::<String>::new()
    );
}

#[test]
fn gloves_and_eye_protection_are_named_whatever_the_statements_ask_for() {
    let library = Library::shipped();
    // Metabisulfite with H318, which asks for eye protection alone; a fixer of which nothing is classified.
    for name in ["thiosulfate-metabisulfite-acid-fixer", "plain-thiosulfate-fixer"] {
        let general = review(safety(), &library.formula(name).unwrap().formula, 1.0, &|_| None).general;
        assert!(general.wear.starts_with(&[Wear::NitrileGloves, Wear::EyeProtection]), "{name}: {general:?}");
    }
}

#[test]
fn general_names_gloves_air_waste_and_the_gases_that_mean_leaving() {
    let library = Library::shipped();
    let data = safety();
    let review =
        review(data, &library.formula("permanganate-chloride-stain-bleach").unwrap().formula, 1.0, &|_| None);
    let general = review.general;
    assert!(general.wear.contains(&Wear::NitrileGloves) && general.wear.contains(&Wear::EyeProtection));
    assert!(general.ventilation().unwrap().contains("Window open"));
    assert!(general.exposure[0].contains("chlorine") && general.exposure[0].contains("leave at once"));
    let waste = |name: &str| {
        let formula = library.formula(name).unwrap().formula;
        let waste = mixing::review(data, &formula, 1.0, &|_| None).general.waste;
        waste.into_iter().map(|line| line.id).collect::<Vec<_>>()
    };
    assert_eq!(waste("plain-thiosulfate-fixer"), ["silver-fixer"]);
    assert_eq!(waste("chromium-intensifier"), ["chromium-vi", "acid"]);
    assert_eq!(waste("mq-borax-classic"), ["developer"]);
    assert!(waste("selenium-selenosulfate-toner").contains(&"selenium".to_owned()));
    assert!(waste("copper-red-toner").contains(&"copper".to_owned()));
    // Waste lines that hang on a kind are left out where the kind is not known.
    let fixer = vessel(&library, &[("sodium-thiosulfate-pentahydrate", 200.0)]);
    assert!(data.waste(&fixer, None).is_empty());
}

#[test]
fn the_tables_name_nothing_that_is_not_there() {
    let library = Library::shipped();
    let data = safety();
    let mut known: BTreeSet<String> = BTreeSet::new();
    for substance in library.all_substances().unwrap().0 {
        known.insert(substance.parent.id.clone());
        known.extend(substance.forms.iter().map(|form| form.id.clone()));
        known.extend(substance.parent.classes.iter().flatten().map(ToString::to_string));
    }
    // Classes that only chemicals of the user's own have.
    known.extend(["azide", "cyanide", "ketone", "lead", "mercury", "nitrite"].map(str::to_owned));
    assert_eq!(
        data.unknown_names(&|name| known.contains(name) || data.statements().get(name).is_some()),
        Vec::<String>::new()
    );
    assert_eq!(data.unknown_gases(), Vec::<&str>::new());
    let sources = library.sources();
    for (source, statement, _) in data.combinations().references() {
        assert!(sources.contains_key(source), "{source}");
        assert!(statement.is_none_or(|code| data.statements().get(code).is_some()), "{statement:?}");
    }
    for source in data.precautions().sources() {
        assert!(sources.contains_key(source), "{source}");
    }
    for formula in data.precautions().safer_formulas() {
        assert!(library.formula(formula).is_ok(), "{formula}");
    }
}

#[test]
fn a_broken_row_is_refused_with_its_line() {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let parse = |combinations: &str| {
        SafetyData::parse(table("statements.toml"), combinations, table("precautions.toml")).unwrap_err()
    };
    let head = "format = 1\n[equivalents]\nsource = \"memory\"\nacid = {}\nalkali = {}\nsulfite = {}\n";
    let row = "[[combinations]]\nid = \"x\"\nwhere = [\"one-vessel\"]\nseverity = \"danger\"\nproduct = \"p\"\nplain = \"p\"\nsource = \"memory\"\n";
    let one_group = format!("{head}{row}members = [{{ any = [\"acid\"] }}]\n");
    let finding = parse(&one_group);
    assert_eq!(finding.line, Some(7));
    assert!(finding.message.contains("too few"));
    let refuses =
        format!("{head}{row}refuse = true\nmembers = [{{ any = [\"acid\"] }}, {{ any = [\"sulfide\"] }}]\n");
    assert!(parse(&refuses).message.contains("refuses without a way out"));
    let mistyped = format!("{head}{row}member = []\n");
    assert_eq!(parse(&mistyped).code, "unknown-key");
    assert_eq!(parse("format = 2\n").code, "missing-key");
}
