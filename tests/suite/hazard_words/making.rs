//! What is told while it is made: drops, heat, foam, what dissolves.

use super::*;

#[test]
fn a_percent_solution_says_what_the_sheet_of_the_same_bath_says() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("one.toml");
    let file = path.to_str().unwrap();
    let (mut refused, mut told, mut wrong) = (0, 0, Vec::new());
    for (substance, basis, strengths) in [
        ("sodium-hydroxide", "w/v", [1.0, 10.0, 20.0, 40.0]),
        ("potassium-hydroxide", "w/v", [1.0, 10.0, 25.0, 45.0]),
        ("sodium-carbonate-anhydrous", "w/v", [2.0, 5.0, 10.0, 20.0]),
        ("potassium-carbonate-anhydrous", "w/v", [5.0, 20.0, 50.0, 75.0]),
        ("sulfuric-acid", "v/v", [1.0, 10.0, 20.0, 40.0]),
        ("hydrochloric-acid-37", "v/v", [1.0, 10.0, 25.0, 50.0]),
        ("acetic-acid", "v/v", [2.0, 10.0, 28.0, 50.0]),
        ("ammonia-25", "v/v", [1.0, 5.0, 10.0, 50.0]),
        ("sulfamic-acid", "w/v", [1.0, 5.0, 10.0, 15.0]),
        ("citric-acid-monohydrate", "w/v", [2.0, 10.0, 25.0, 50.0]),
        ("sodium-bisulfate-anhydrous", "w/v", [2.0, 5.0, 10.0, 20.0]),
        ("potassium-dichromate", "w/v", [1.0, 2.0, 5.0, 8.0]),
        ("potassium-permanganate", "w/v", [0.5, 1.0, 2.0, 5.0]),
        ("silver-nitrate", "w/v", [1.0, 5.0, 10.0, 20.0]),
        ("formaldehyde-37", "v/v", [1.0, 5.0, 10.0, 25.0]),
        ("ammonium-persulfate", "w/v", [1.0, 5.0, 10.0, 20.0]),
        ("sodium-sulfide-nonahydrate", "w/v", [1.0, 5.0, 10.0, 20.0]),
        ("sodium-thiosulfate-anhydrous", "w/v", [5.0, 10.0, 20.0, 30.0]),
    ] {
        for strength in strengths {
            let amount = if basis == "w/v" {
                format!("grams = {}", strength * 10.0)
            } else {
                format!("millilitres = {}", strength * 10.0)
            };
            std::fs::write(&path, one_chemical(substance, &amount)).unwrap();
            let sheet = in_process(&["sheet", file, "500ml", "--json"]).json();
            let percent =
                in_process(&["percent", substance, &format!("{strength} % {basis}"), "500ml", "--json"])
                    .json();
            let is_refused = |json: &Value| !json["refusals"].as_array().unwrap().is_empty();
            let mut say = |what: &str| wrong.push(format!("{strength} % {substance}: {what}"));
            // What would not dissolve is refused by `percent` alone, which makes nothing else.
            if is_refused(&percent) && percent["refusals"][0]["code"] != "too-hot" {
                continue;
            }
            if is_refused(&sheet) != is_refused(&percent) {
                say("refused by one of the two");
                continue;
            }
            if is_refused(&sheet) {
                refused += 1;
                if sheet["refusals"][0]["text"].as_str().unwrap().split("heat the vessel").nth(1)
                    != percent["refusals"][0]["text"].as_str().unwrap().split("heat the vessel").nth(1)
                {
                    say("another heat");
                }
                continue;
            }
            let part = &sheet["parts"][0];
            for step in part["steps"].as_array().unwrap() {
                for caution in step["cautions"].as_array().unwrap() {
                    told += 1;
                    let same = |own: &&Value| {
                        own["text"] == caution["text"] && own["severity"] == caution["severity"]
                    };
                    if percent["cautions"].as_array().unwrap().iter().find(same).is_none() {
                        say(&format!("does not say {caution}"));
                    }
                }
            }
            if part["start_water_ml"] != percent["start_water_ml"]
                || part["start_water_c"] != percent["start_water_c"]
            {
                say("begins with other water");
            }
            if part["steps"][1]["temperature_after_c"] != percent["temperature_after_c"] {
                say("reads another temperature");
            }
        }
    }
    assert_none(&wrong);
    assert!(refused >= 3 && told >= 60, "{refused} {told}");
}

#[test]
fn only_a_liquid_goes_in_by_drops() {
    let mut liquid = 0;
    let mut wrong = Vec::new();
    for sheet in sheets() {
        for part in &sheet.parts {
            for step in &part.steps {
                let texts = [&step.step.how, &step.step.done, &step.step.instruction];
                let cautions = step.cautions.iter().map(|own| &own.text);
                let by_drops = |text: &&String| text.contains("drop by drop") || text.contains("by drops");
                if !texts.into_iter().chain(cautions).any(|text| by_drops(&text)) {
                    continue;
                }
                let item = step.step.item.and_then(|item| part.batch.items.get(item));
                let is_liquid = item.is_some_and(|item| {
                    item.form.state != State::Solid || item.dose.is_some() || item.solution.is_some()
                });
                liquid += u32::from(is_liquid);
                if !is_liquid {
                    wrong.push(format!(
                        "{}: step {}: {}",
                        sheet.formula.id, step.number, step.step.instruction
                    ));
                }
            }
        }
    }
    assert_none(&wrong);
    assert!(liquid >= 10, "{liquid}");
    // A caution about several acids, of which some are solids, speaks of no drops.
    let library = Library::shipped();
    for block in library.table("combinations.toml").unwrap().split("[[combinations]]") {
        let is_of_any_acid =
            ["\"strong-acid\"", "\"acid\"", "\"weak-acid\""].iter().any(|class| block.contains(class));
        assert!(!is_of_any_acid || !block.contains("drop by drop"), "{block}");
    }
}

/// A step that promises a clear vessel has the water, warm enough, in which so much dissolves: by the published curve of the chemical alone
/// in water, in its file.
#[test]
fn what_should_be_clear_can_dissolve_where_it_stands() {
    let (mut looked_at, mut wrong) = (0, Vec::new());
    for sheet in sheets().iter().filter(|own| own.objections.is_empty()) {
        for part in &sheet.parts {
            let mut water_ml = 0.0;
            for step in &part.steps {
                let own = &step.step;
                let item = own.item.and_then(|item| part.batch.items.get(item));
                if own.action == Action::Start {
                    water_ml = own.water_ml.unwrap_or(0.0);
                }
                let Some(item) = item else { continue };
                if item.form.state != State::Solid || item.dose.is_some() || item.solution.is_some() {
                    water_ml += if item.unit == soupcon::scale::Unit::Millilitre { item.amount } else { 0.0 };
                    continue;
                }
                let promises = own.done.contains("clear") || own.done.contains("no grains");
                let apart = (own.action == Action::DissolveApart).then_some(own.water_ml).flatten();
                let celsius = if apart.is_some() { own.celsius } else { step.after_c };
                // Acids, agents and what reacts with its bath say nothing by their own solubility.
                let is_salt = [
                    Class::AluminiumSalt,
                    Class::ChromiumVi,
                    Class::Permanganate,
                    Class::Persulfate,
                    Class::Thiosulfate,
                    Class::Cyanoferrate,
                ]
                .iter()
                .any(|class| item.form.is_class(class));
                let water = apart.unwrap_or(water_ml);
                let (Some(celsius), true, true) = (celsius, promises, is_salt) else { continue };
                let Some(limit) = item.form.solubility_per_100_g(celsius, Library::shipped().weights())
                else {
                    continue;
                };
                looked_at += 1;
                let has = own.carries_g.or(item.grams).unwrap_or(item.amount).max(if apart.is_some() {
                    item.amount
                } else {
                    0.0
                }) / water
                    * 100.0;
                if has > limit * 1.02 {
                    wrong.push(format!("{} {:?} step {}: {} needs {has:.1} g in 100 mL at {celsius:.0} °C, {limit:.1} dissolve", sheet.formula.id, part.batch.name, step.number, item.form.id));
                }
            }
        }
    }
    assert_none(&wrong);
    assert!(looked_at >= 30, "{looked_at}");
}

#[test]
fn a_little_acid_on_much_carbonate_fizzes_and_much_foams_over() {
    // CO3(2-) + H+ gives bicarbonate first: no gas leaves before there is more acid than carbonate. Stoichiometry.
    let folder = tempfile::tempdir().unwrap();
    let said = |contents: &[(&str, f64)]| {
        let path = folder.path().join("one.toml");
        let mut text =
            "format = 1\ntitle = \"T\"\nkind = \"test-solution\"\nsummary = \"s\"\nevidence = \"memory\"\n"
                .to_owned();
        for (id, grams) in contents {
            write!(text, "\n[[ingredients]]\nsubstance = \"{id}\"\ngrams = {grams}\n").unwrap();
        }
        std::fs::write(&path, text).unwrap();
        in_process(&["safety", path.to_str().unwrap(), "--json"]).out
    };
    let little = said(&[("sodium-carbonate-anhydrous", 54.0), ("ascorbic-acid", 16.0)]);
    assert!(little.contains("fizzes") && !little.contains("foams over"), "{little}");
    let much = said(&[("sodium-carbonate-anhydrous", 54.0), ("citric-acid-anhydrous", 60.0)]);
    assert!(much.contains("foams over"), "{much}");
    for sheet in sheets() {
        let mut cautions = sheet.parts.iter().flat_map(|part| &part.steps).flat_map(|step| &step.cautions);
        assert!(!cautions.any(|own| own.text.contains("foams over")), "{}", sheet.formula.id);
    }
}

#[test]
fn heat_that_the_file_asks_for_counts() {
    let folder = tempfile::tempdir().unwrap();
    let said = |celsius: &str| {
        let path = folder.path().join("hot.toml");
        let text = format!(
            "format = 1\ntitle = \"T\"\nkind = \"toner\"\nsummary = \"s\"\nevidence = \"memory\"\n[mixing]\ntemperature = 20\n[[mixing.operations]]\nafter = \"potassium-alum-dodecahydrate\"\ndo = \"heat\"\ntemperature = {celsius}\n[[ingredients]]\nsubstance = \"potassium-ferricyanide\"\ngrams = 20\n[[ingredients]]\nsubstance = \"potassium-alum-dodecahydrate\"\ngrams = 30\n"
        );
        std::fs::write(&path, text).unwrap();
        in_process(&["sheet", path.to_str().unwrap(), "1L", "--json"]).out
    };
    assert!(said("80").contains("Warm acid frees hydrogen cyanide"), "{}", said("80"));
    assert!(!said("30").contains("Warm acid frees"));
}

/// Twenty degrees is far from both: Hetzer, Durst, Robinson and Bates, J. Res. NBS 81A (1977) 21, its equation as its abstract gives it; and
/// JIS Z 8802 (2011), the table as a maker of meters prints it, to two decimals.
#[test]
fn the_certified_figures_agree_with_two_other_tables() {
    let kelvin = |celsius: f64| celsius + 273.15;
    let phthalate = |celsius: f64| {
        let t = kelvin(celsius);
        2073.44 / t - 13.3270 + 0.045_199 * t - 3.4846e-5 * t * t
    };
    let library = Library::shipped();
    let certified = |id: &str| library.formula(id).unwrap().formula.stated.certified_ph.clone();
    for (celsius, ph) in certified("ph-standard-phthalate") {
        assert!((phthalate(celsius) - ph).abs() < 0.006, "{celsius}: {ph} {}", phthalate(celsius));
    }
    for (id, at_20, at_25) in [
        ("ph-standard-phthalate", 4.00, 4.01),
        ("ph-standard-phosphate", 6.88, 6.86),
        ("ph-standard-borax", 9.22, 9.18),
        ("ph-standard-carbonate", 10.07, 10.02),
    ] {
        let own = certified(id);
        for (celsius, expected) in [(20.0, at_20), (25.0, at_25)] {
            let ph = own.iter().find(|(own, _)| (*own - celsius).abs() < 0.01).unwrap().1;
            assert!((ph - expected).abs() < 0.0101, "{id} at {celsius}: {ph}");
        }
    }
}

#[test]
fn what_would_boil_is_an_error_of_check() {
    let folder = tempfile::tempdir().unwrap();
    let contents = [
        ("sodium-sulfite-anhydrous", "grams = 50"),
        ("hydroquinone", "grams = 20"),
        ("sodium-hydroxide", "grams = 400"),
    ];
    let ran = in_process(&["check", &own_formula(&folder, "film-developer", &contents)]);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    let said = flat(&ran.whole());
    assert!(said.contains("error: there is no sheet") && said.contains("boil and spit"), "{said}");
    // The way out of permanganate with hydrochloric acid is no new danger.
    let contents = [("potassium-permanganate", "grams = 4"), ("hydrochloric-acid-37", "millilitres = 20")];
    let said = flat(&in_process(&["check", &own_formula(&folder, "bleach", &contents)]).whole());
    assert!(said.contains("Use sulfuric acid in place of hydrochloric acid, diluted first"), "{said}");
}

#[test]
fn a_borate_that_follows_the_acid_takes_no_sulfur_dioxide_back() {
    // The same hypo, sulfite and acid; in one the borate follows.
    for id in ["acid-hardening-alum-boric-fixer", "odourless-metaborate-alum-hardening-fixer"] {
        let page = in_process(&["sheet", id, "1L"]).out;
        let said = flat(&page);
        assert!(said.contains("More acid than the sulfite takes up"), "{id}: {page}");
        assert!(page.contains("GAS     sulfur dioxide") && page.contains("window open"), "{id}: {page}");
        let bar = page.find("More acid than").unwrap();
        assert!(
            bar < page.find("POUR the acetic acid in").or_else(|| page.find("ACETIC ACID")).unwrap(),
            "{page}"
        );
    }
    // Where no alum waits the alkali is in first, and takes the acid up: a carbonate developer stays quiet.
    let page = in_process(&["sheet", "mq-carbonate-universal-film-paper", "1L"]).out;
    assert!(!page.contains("sulfur dioxide"), "{page}");
}
