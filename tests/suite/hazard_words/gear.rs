//! Gear, air and words for one bath are the same wherever it is told.

use super::*;

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
