//! What is told of what hurts: one source of words for every command, and words that agree with the figures beside them, over the whole
//! library.

use std::fmt::Write as _;

use serde_json::Value;
use soupcon::formula::FinishedIn;
use soupcon::library::Library;
use soupcon::predict::crystals::Crystals;
use soupcon::quantity::Volume;
use soupcon::safety::{Air, worn_words};
use soupcon::scale::{Request, scale};
use soupcon::sequence::Action;
use soupcon::sheet::{MixingSheet, assemble};
use soupcon::substance::{Class, State};

use crate::common::shipped::{Tables, tables};
use crate::common::{in_process, own_formula};

/// What does not hold, in a list.
fn assert_none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Every formula of the library at a litre.
fn sheets() -> Vec<MixingSheet> {
    let library = Library::shipped();
    let Tables { safety, relations, equilibria } = tables(&library);
    let (formulas, _) = library.formulas().unwrap();
    let request = Request::volume(Volume::from_ml(1000.0));
    let one = |found: &soupcon::library::FoundFormula| {
        let batch = scale(&found.formula, &request, &relations).unwrap();
        let mut sheet = assemble(&found.formula, &batch, &safety, &equilibria);
        sheet.tell_crystals(&equilibria, library.weights());
        sheet
    };
    formulas.iter().map(one).collect()
}

/// Words of a page as one line.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words after a name at the beginning of a line, with the lines set in below it.
fn told(page: &str, name: &str) -> String {
    let mut lines = page.lines().skip_while(|line| !line.starts_with(name));
    let first = lines.next().unwrap_or_default().trim_start_matches(name).to_owned();
    let more = lines.take_while(|line| line.starts_with("     ")).map(str::to_owned);
    flat(&[first].into_iter().chain(more).collect::<Vec<_>>().join(" "))
}

#[test]
fn sheet_and_safety_name_the_same_gear_and_air_for_the_same_bath() {
    let mut wrong = Vec::new();
    let all = sheets();
    for (index, sheet) in all.iter().filter(|own| own.objections.is_empty()).enumerate() {
        let id = sheet.formula.id.as_str();
        let json = in_process(&["safety", id, "--json"]).json();
        let worn: Vec<&str> = json["wear"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(Value::as_str)
            .filter(|own| !["ventilation", "extraction"].contains(own))
            .collect();
        let worn = worn.join(", ");
        let mut said = vec![("the review", worn_words(&sheet.review.general.wear))];
        // The writers take the words from there: every fifth shows that they do.
        if index % 5 == 0 {
            let page = in_process(&["sheet", id, "1L", "--side", "both"]).out;
            let bench = told(&page, "WEAR ");
            let bench = bench.split_once(';').map_or(bench.as_str(), |(worn, _)| worn);
            said.push(("the bench page", bench.to_owned()));
            said.push(("the reasons", told(&page, "wear ")));
            said.push(("safety", told(&in_process(&["safety", id]).out, "wear ")));
            if sheet.review.general.air == Air::None && page.contains("window open") {
                wrong.push(format!("{id}: the page asks for a window, safety does not"));
            }
            if page.contains("eye protection") {
                wrong.push(format!("{id}: two words for one thing"));
            }
        }
        for (place, said) in said {
            if said != worn {
                wrong.push(format!("{id}: {place} has {said:?}, the JSON of safety {worn:?}"));
            }
        }
        let air = json["ventilation"].as_str().map(str::to_owned);
        if air != sheet.review.general.ventilation() {
            wrong.push(format!("{id}: air {air:?}"));
        }
    }
    assert_none(&wrong);
}

#[test]
fn strong_vapours_ask_for_air_and_a_plain_developer_for_none() {
    // Common practice, no source: vapour of acetic and hydrochloric acid, ammonia, an oxidiser in strong acid, a boiling selenium bath.
    let all = sheets();
    let air = |id: &str| all.iter().find(|own| own.formula.id == id).unwrap().review.general.air;
    for id in [
        "acetic-acid-strong-stop-bath",
        "permanganate-sulfuric-reversal-bleach",
        "permanganate-tray-cleaner",
        "peroxide-ammonia-thiosulfate-eliminator",
    ] {
        assert_eq!(air(id), Air::Open, "{id}");
    }
    for id in ["selenium-selenosulfate-toner", "formalin-hardener", "sulfide-sepia-bleach-redevelop-toner"] {
        assert_eq!(air(id), Air::Closed, "{id}");
    }
    for id in ["mq-borax-classic", "ascorbate-metol-borax-paper-developer", "citric-acid-stop-bath"] {
        assert_eq!(air(id), Air::None, "{id}");
    }
}

/// A formula of one chemical.
fn one_chemical(substance: &str, amount: &str) -> String {
    let mut text =
        "format = 1\ntitle = \"T\"\nkind = \"test-solution\"\nsummary = \"s\"\nevidence = \"memory\"\n"
            .to_owned();
    write!(text, "\n[[ingredients]]\nsubstance = \"{substance}\"\n{amount}\n").unwrap();
    text
}

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

/// The heat of sodium hydroxide, 44.5 kJ/mol (CRC Handbook, as its file says), in the water of a litre: 100 g in some 960 g of water are
/// about 28 K. The same concentration carries the same words in a small batch and a large one.
#[test]
fn the_words_of_caustic_go_by_its_heat_and_not_by_the_batch() {
    let words = |volume: &str, id: &str| -> Vec<(String, String)> {
        let json = in_process(&["sheet", id, volume, "--json"]).json();
        let steps =
            json["parts"].as_array().unwrap().iter().flat_map(|part| part["steps"].as_array().unwrap());
        let cautions = steps.flat_map(|step| step["cautions"].as_array().unwrap());
        cautions.map(|own| (own["severity"].to_string(), own["text"].to_string())).collect()
    };
    let mut seen = 0;
    for sheet in sheets().iter().filter(|own| own.objections.is_empty()) {
        let is_caustic = |own: &soupcon::formula::Ingredient| own.form.is_class(&Class::StrongAlkali);
        if !sheet.formula.ingredients().any(is_caustic) {
            continue;
        }
        let id = sheet.formula.id.as_str();
        let strip = |list: Vec<(String, String)>| -> Vec<(String, String)> {
            // A start rounded to the jug changes the peak by a kelvin.
            let bare =
                |text: String| text.chars().filter(|letter| !letter.is_ascii_digit()).collect::<String>();
            list.into_iter().map(|(severity, text)| (severity, bare(text))).collect()
        };
        assert_eq!(strip(words("1L", id)), strip(words("5L", id)), "{id}");
        seen += 1;
    }
    assert!(seen >= 8, "{seen}");
    let json = in_process(&["sheet", "pyrocatechol-hydroxide-compensating", "1L", "--json"]).json();
    let after = json["parts"][1]["steps"][1]["temperature_after_c"].as_f64().unwrap();
    assert!((after - (15.0 + 28.0)).abs() < 3.0, "{after}");
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
fn what_crystallises_in_the_cold_is_told_on_sheet_and_label() {
    let mut seen = Vec::new();
    for sheet in sheets().iter().filter(|own| own.objections.is_empty()) {
        for part in &sheet.parts {
            let Some(crystals) = &part.crystals else { continue };
            assert_eq!(part.ends_in, FinishedIn::Bottle, "{}", sheet.formula.id);
            let page = flat(&in_process(&["sheet", &sheet.formula.id, "1L"]).out);
            assert!(page.contains(&crystals.words()), "{}: {page}", sheet.formula.id);
            let label = flat(&in_process(&["label", &sheet.formula.id, "1L"]).out.replace('|', " "));
            assert!(label.to_lowercase().contains(&crystals.words().to_lowercase()), "{label}");
            seen.push(sheet.formula.id.clone());
        }
    }
    // Potassium alum at 120 g/L, 28 °C; sulfite at 200 g/L, 13 °C: the curves in their files.
    for id in ["acid-alum-hardener-stock-1916", "alum-citric-clearing-bath", "p-aminophenol-from-paracetamol"]
    {
        assert!(seen.iter().any(|own| own == id), "{seen:?}");
    }
    // Used warm and at once, it stands in no cupboard.
    assert!(!seen.iter().any(|own| own == "kallitype-rochelle-borax-developer"));
    let words = |below_c| Crystals { name: "salt".into(), below_c }.words();
    assert!(words(28.0).starts_with("below 28 °C") && words(13.2).starts_with("not below 13 °C"));
}

#[test]
fn what_says_it_is_no_bottle_for_the_shelf_is_not_bottled() {
    for sheet in sheets() {
        let says_so = sheet
            .formula
            .cautions
            .all()
            .any(|own| own.contains("Not a bottle") || own.contains("Never store the bath"));
        for part in sheet.parts.iter().filter(|_| says_so) {
            assert_ne!(part.ends_in, FinishedIn::Bottle, "{}", sheet.formula.id);
        }
    }
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
    assert!(said("80").contains("in a warm or hot vessel free hydrogen cyanide"), "{}", said("80"));
    assert!(!said("30").contains("in a warm or hot vessel"));
}

#[test]
fn no_use_on_the_page_is_without_a_word() {
    for sheet in sheets().iter().filter(|own| own.objections.is_empty()) {
        let page = in_process(&["sheet", &sheet.formula.id, "1L"]).out;
        for own in &sheet.formula.uses {
            let is_bare = page.lines().any(|line| line.trim_end() == own.name);
            assert!(!is_bare, "{}: {}\n{page}", sheet.formula.id, own.name);
        }
    }
}

#[test]
fn household_bleach_stands_on_the_bottles_where_it_would_give_a_gas() {
    let mut quiet = 0;
    for sheet in sheets() {
        let plain = |part: &soupcon::formula::Part| {
            // Alcohol instead of water burns with it.
            part.solvent.is_none()
                && part.ingredients.iter().all(|own| {
                    let form = &own.form;
                    ![
                        Class::Acid,
                        Class::WeakAcid,
                        Class::AcidicInWater,
                        Class::StrongAcid,
                        Class::Ammonia,
                        Class::Ammonium,
                        Class::Amine,
                        Class::Cyanoferrate,
                        Class::Thiocyanate,
                        Class::Flammable,
                        Class::Peroxide,
                    ]
                    .iter()
                    .any(|class| form.is_class(class))
                        && !["glycerol", "ethylene-glycol", "propylene-glycol"]
                            .contains(&form.parent.id.as_str())
                })
        };
        for (own, part) in sheet.parts.iter().zip(&sheet.formula.parts) {
            let is_told = own.never_beside.iter().any(|words| words.contains("household bleach"));
            if plain(part) {
                assert!(!is_told, "{}: {:?}", sheet.formula.id, own.never_beside);
                quiet += 1;
            }
            let has = |class: Class| part.ingredients.iter().any(|own| own.form.is_class(&class));
            if part.solvent.is_none()
                && (has(Class::Ammonium) || has(Class::Cyanoferrate) || has(Class::StrongAcid))
            {
                assert!(is_told, "{}: {:?}", sheet.formula.id, own.never_beside);
            }
        }
    }
    assert!(quiet > 50, "{quiet}");
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

// What follows is common practice, no source, where none is named.

#[test]
fn a_row_that_forbids_a_bottle_ends_the_bath_in_an_open_tray() {
    // Law over the table: what says "open vessel" or "never bottled" is never bottled. A foam that is soon still may be.
    let library = Library::shipped();
    let table: toml::Table = library.table("combinations.toml").unwrap().parse().unwrap();
    let words = ["open vessel", "open tray", "never bottle", "not bottle", "never stopper", "closed bottle"];
    let (mut judged, mut wrong) = (0, Vec::new());
    for row in table["combinations"].as_array().unwrap() {
        let says = |key: &str| row.get(key).and_then(toml::Value::as_str).unwrap_or_default();
        let is = |key: &str| row.get(key).and_then(toml::Value::as_bool).unwrap_or_default();
        let plain = says("plain").to_lowercase();
        let is_of_a_vessel = row["where"]
            .as_array()
            .unwrap()
            .iter()
            .any(|own| ["mixing", "one-vessel"].contains(&own.as_str().unwrap()));
        let forbids = words.iter().any(|own| plain.contains(own)) && !plain.contains("until it is still");
        if is_of_a_vessel && forbids && !is("refuse") {
            judged += 1;
            if !is("open") {
                wrong.push(says("id").to_owned());
            }
        }
    }
    assert!(judged >= 10, "{judged}");
    assert_none(&wrong);
}

#[test]
fn what_must_stay_open_is_neither_bottled_nor_kept() {
    let folder = tempfile::tempdir().unwrap();
    for (kind, contents) in [
        ("bleach", vec![("potassium-dichromate", "grams = 30"), ("propylene-glycol", "millilitres = 300")]),
        ("reducer", vec![("ammonium-persulfate", "grams = 50"), ("metol", "grams = 20")]),
        (
            "reducer",
            vec![("ammonium-persulfate", "grams = 30"), ("sodium-thiosulfate-pentahydrate", "grams = 100")],
        ),
        (
            "bleach",
            vec![
                ("oxalic-acid-dihydrate", "grams = 20"),
                ("potassium-permanganate", "grams = 5"),
                ("sulfuric-acid", "millilitres = 10"),
            ],
        ),
        (
            "bleach",
            vec![
                ("potassium-ferrocyanide-trihydrate", "grams = 30"),
                ("sodium-bisulfate-monohydrate", "grams = 60"),
            ],
        ),
    ] {
        let file = own_formula(&folder, kind, &contents);
        let page = in_process(&["sheet", &file, "1L"]).out;
        assert!(page.contains("in an open tray, never a bottle"), "{page}");
        assert!(page.contains("not at all: no bottle"), "{page}");
        assert!(!page.contains("bottle, label") && !page.contains("full bottle"), "{page}");
        assert_eq!(in_process(&["label", &file, "1L"]).code, 1, "{contents:?}");
    }
    // Published, and kept in bottles.
    assert!(in_process(&["sheet", "chromium-intensifier", "1L"]).out.contains("bottle, label"));
}

/// What four commands say of a mixture that must not be made.
fn refusals_of(contents: &[(&str, &str)], kind: &str) -> Vec<(&'static str, String)> {
    let folder = tempfile::tempdir().unwrap();
    let file = own_formula(&folder, kind, contents);
    let ran = |arguments: &[&str]| {
        let ran = in_process(arguments);
        assert_eq!(ran.code, 1, "{arguments:?}: {}", ran.whole());
        flat(&format!("{} {}", ran.err, ran.out).replace("\n| ", " "))
    };
    vec![
        ("check", ran(&["check", &file])),
        ("sheet", ran(&["sheet", &file, "1L"])),
        ("label", ran(&["label", &file, "1L"])),
        ("safety", flat(&in_process(&["safety", &file]).whole().replace("\n| ", " "))),
    ]
}

#[test]
fn what_no_word_makes_safe_is_refused_by_all() {
    // Sulfur and sulfur dioxide of thiosulfate with acid: GisChem, sodium thiosulfate. The others from memory.
    for (kind, words, contents) in [
        (
            "fixer",
            "Strong acid beyond what the sulfite can take up",
            vec![
                ("sodium-thiosulfate-pentahydrate", "grams = 250"),
                ("hydrochloric-acid-37", "millilitres = 40"),
            ],
        ),
        (
            "bleach",
            "frees hydrogen cyanide, a deadly gas",
            vec![("potassium-ferricyanide", "grams = 30"), ("sulfuric-acid", "millilitres = 60")],
        ),
        (
            "test-solution",
            "Acid breaks dithionite down",
            vec![("sodium-dithionite", "grams = 30"), ("citric-acid-monohydrate", "grams = 30")],
        ),
        (
            "toner",
            "throws all selenium out, red",
            vec![
                ("sodium-selenite", "grams = 10"),
                ("sodium-sulfite-anhydrous", "grams = 50"),
                ("acetic-acid", "millilitres = 50"),
            ],
        ),
    ] {
        for (command, said) in refusals_of(&contents, kind) {
            assert!(said.contains(words), "{command}: {said}");
        }
    }
    // Sulfite that takes the acid up keeps the thiosulfate whole: the chrome alum fixers stay.
    assert_eq!(in_process(&["sheet", "thiosulfate-chrome-alum-hardening-fixer", "1L"]).code, 0);
}

#[test]
fn of_several_reasons_what_explodes_is_told_first() {
    // Fulminating silver, from memory; that caustic frees ammonia and chokes is the lesser harm.
    let contents = [
        ("silver-nitrate", "grams = 60"),
        ("ammonium-chloride", "grams = 20"),
        ("sodium-hydroxide", "grams = 20"),
    ];
    for (command, said) in refusals_of(&contents, "sensitizer") {
        let explodes = said.find("EXPLOSIVE").unwrap_or(usize::MAX);
        assert!(explodes < said.find("chokes").unwrap_or(usize::MAX), "{command}: {said}");
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
        assert!(said.contains("More acid than the sulfite can take up"), "{id}: {page}");
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

#[test]
fn strong_hydrochloric_acid_fumes_by_one_rule() {
    let gas = "GAS     hydrogen chloride";
    let folder = tempfile::tempdir().unwrap();
    let page = |millilitres: &str| {
        let amount = format!("millilitres = {millilitres}");
        let file = own_formula(&folder, "bleach", &[("hydrochloric-acid-37", amount.as_str())]);
        in_process(&["sheet", &file, "1L"]).out
    };
    // 0.2 mol/L are 16.7 mL of the 37 % acid of 1.18 g/mL (12 mol/L).
    for (millilitres, fumes) in [("400", true), ("200", true), ("20", true), ("10", false)] {
        let page = page(millilitres);
        assert_eq!(page.contains(gas), fumes, "{millilitres}: {page}");
        assert_eq!(page.contains("fumes as it is poured"), fumes, "{millilitres}: {page}");
    }
    // A few millilitres of sulfuric acid into all the water, with the salt in it, fume with nothing.
    assert!(!in_process(&["sheet", "copper-chloride-sulfuric-bleach", "1L"]).out.contains(gas));
}

#[test]
fn the_bar_of_what_burns_touches_the_row_that_burns() {
    for (id, row) in [
        ("hydroquinone-hydroxide-line", "HYDROXIDE"),
        ("kallitype-ferric-oxalate-sensitizer", "SILVER NITRATE"),
        ("p-aminophenol-potassium-hydroxide-concentrate", "HYDROXIDE"),
    ] {
        let page = in_process(&["sheet", id, "1L"]).out;
        let bar = page.find("It burns skin and eyes").unwrap_or_else(|| panic!("{id}: {page}"));
        let next = page[bar..].lines().find(|line| line.starts_with("[ ]")).unwrap();
        assert!(next.contains(row), "{id}: {next}");
    }
}
