//! What is put together for the bench: single figures and places that nothing else would miss if they moved.

use soupcon::composition::Composer;
use soupcon::library::Library;

use crate::common::{Ran, good, soupcon, soupcon_in, soupcon_with_input};

/// The sheet as one line of words.
fn words(arguments: &[&str]) -> String {
    good(arguments).out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_pinch_is_five_grams_a_litre_at_most_however_much_sulfite_there_is() {
    // Source: US Army correspondence course SS0513, page 21: 5 % of the sulfite; 5 g/L at most is common practice, no source. Of 100 g
    // both come to 5 g, of 125 g the twentieth would be 6.25 g.
    for (formula, volume, expected) in [
        ("mq-borax-classic", "1L", 5.0),
        ("mq-metaborate-100-sulfite", "2L", 10.0),
        ("metol-borax-boric-125-sulfite", "1L", 5.0),
    ] {
        let json = good(&["sheet", formula, volume, "--json"]).json();
        let steps = json["parts"][0]["steps"].as_array().unwrap();
        let pinch = steps.iter().find(|step| step["action"] == "pinch").unwrap();
        assert_eq!(pinch["carries_g"].as_f64(), Some(expected), "{formula}");
    }
}

#[test]
fn beside_a_box_an_open_window_is_not_enough() {
    let strict = "Under extraction or outdoors; nobody else in the room.";
    for (formula, boxed) in [("chromium-intensifier", true), ("acetic-acid-stop-bath", false)] {
        let sheet = good(&["sheet", formula, "1L", "--json"]).json();
        let safety = good(&["safety", formula, "--json"]).json();
        assert_eq!(!safety["formulas"][0]["boxes"].as_array().unwrap().is_empty(), boxed, "{formula}");
        let air = safety["ventilation"].as_str().unwrap_or_default();
        assert_eq!(air.starts_with(strict), boxed, "{formula}");
        let page = words(&["sheet", formula, "1L"]);
        assert_eq!(page.contains("extraction on, or outdoors"), boxed, "{formula}: {page}");
        assert!(sheet["safety"].to_string().contains(strict) == boxed, "{formula}");
    }
}

#[test]
fn a_caution_in_a_second_vessel_stands_before_the_member_that_completes_it() {
    // The sulfite goes into the second vessel first and the acid last: the gas comes with the acid.
    for (formula, first, last) in [
        ("thiosulfate-chrome-alum-hardening-fixer", "potassium-metabisulfite", "chrome-alum"),
        ("thiosulfate-tartaric-sulfite-acid-fixer", "sodium-sulfite-heptahydrate", "tartaric-acid"),
    ] {
        let json = good(&["sheet", formula, "1L", "--json"]).json();
        let steps = json["parts"][0]["steps"].as_array().unwrap();
        let said = |substance: &str| {
            let own = |step: &&serde_json::Value| {
                step["action"] == "dissolve-apart" && step["substance"] == substance
            };
            steps.iter().find(own).unwrap()["cautions"].to_string()
        };
        assert!(said(last).contains("sulfur dioxide"), "{formula}: {}", said(last));
        assert!(!said(first).contains("sulfur dioxide"), "{formula}: {}", said(first));
    }
}

#[test]
fn what_stands_twice_is_optional_only_where_both_lines_are() {
    let library = Library::shipped();
    let optional = |first: bool, second: bool| {
        let text = format!(
            "format = 1\ntitle = \"t\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
             [[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 20\noptional = {first}\n\
             [[ingredients]]\nsubstance = \"sodium-sulfite-heptahydrate\"\ngrams = 20\noptional = {second}\n"
        );
        let found = library.formula_from_text(&text, "t", "t.toml").unwrap();
        let bottled = Composer::new(&library).bottled(&found.formula).remove(0);
        bottled.component("sodium-sulfite").unwrap().optional
    };
    for (first, second) in [(true, true), (true, false), (false, true), (false, false)] {
        assert_eq!(optional(first, second), first && second, "{first} {second}");
    }
}

#[test]
fn a_leader_proves_a_developer_with_alkali_and_no_other() {
    // A developer of sulfite alone blackens a leader slowly or not at all: common practice, no source.
    for (formula, told) in [
        ("mq-borax-classic", true),
        ("mq-carbonate-tray-tank", true),
        ("pq-sulfite-no-alkali", false),
        ("metol-sulfite", false),
        ("ppd-sulfite", false),
    ] {
        let said = words(&["sheet", formula, "1L"]).contains("leader black in ____ min");
        assert_eq!(said, told, "{formula}");
    }
}

const HEAD: &str = "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n";

/// A formula of one's own in a folder, and what a command says of it.
fn of_own(body: &str, command: &[&str]) -> Ran {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("own.toml"), format!("{HEAD}{body}")).unwrap();
    soupcon_in(folder.path(), command)
}

fn line(substance: &str, millilitres: f64, strength: &str) -> String {
    let strength = if strength.is_empty() { String::new() } else { format!("strength = \"{strength}\"\n") };
    format!("[[ingredients]]\nsubstance = \"{substance}\"\nmillilitres = {millilitres}\n{strength}")
}

/// Kind and code of the first refusal, and how many parts are told.
fn refused(ran: &Ran) -> (String, String, usize) {
    let json = ran.json();
    let first = &json["refusals"][0];
    let told = json["parts"].as_array().or_else(|| json["labels"].as_array()).map_or(0, Vec::len);
    (first["kind"].as_str().unwrap().to_owned(), first["code"].as_str().unwrap().to_owned(), told)
}

#[test]
fn what_never_may_meet_is_refused_by_all_and_told_by_those_who_are_asked() {
    // Two sound bottles and a use that pours them together: chlorine.
    let parts = "[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"sodium-hypochlorite-5\"\nmillilitres = 500\n\
                 [[parts]]\nname = \"B\"\n[[parts.ingredients]]\nsubstance = \"acetic-acid-28\"\nmillilitres = 300\n\
                 [[use]]\nname = \"mix\"\nbaths = [{ A = 1, B = 1 }]\n";
    let solvent =
        "solvent = \"sulfuric-acid\"\n[[ingredients]]\nsubstance = \"potassium-permanganate\"\ngrams = 100\n";
    for (body, code) in [(parts, "never-in-one-vessel"), (solvent, "unsafe-solvent")] {
        for command in ["sheet", "scale", "label"] {
            let ran = of_own(body, &[command, "own.toml", "1L", "--json"]);
            assert_eq!(ran.code, 1, "{command} {code}\n{}", ran.whole());
            assert_eq!(refused(&ran), ("never".to_owned(), code.to_owned(), 0), "{command}");
            let text = of_own(body, &[command, "own.toml", "1L"]);
            assert!(text.code == 1 && text.out.is_empty(), "{command}\n{}", text.whole());
        }
        for command in ["show", "safety"] {
            let ran = of_own(body, &[command, "own.toml", "--json"]);
            assert_eq!((ran.code, ran.json()["refusals"][0]["code"].as_str()), (1, Some(code)), "{command}");
            let text = of_own(body, &[command, "own.toml"]);
            assert!(text.code == 1 && text.out.contains("REFUSED"), "{command}\n{}", text.whole());
        }
        let check = of_own(body, &["check", "own.toml"]);
        assert!(check.code == 1 && check.out.contains(code), "{}", check.whole());
    }
}

#[test]
fn a_bath_of_bleach_before_one_of_acid_is_a_danger_on_the_sheet_too() {
    let body = "[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"sodium-hypochlorite-5\"\nmillilitres = 500\n\
                [[parts]]\nname = \"B\"\n[[parts.ingredients]]\nsubstance = \"acetic-acid-28\"\nmillilitres = 300\n\
                [[use]]\nname = \"two\"\nbaths = [{ A = 1 }, { B = 1 }]\n";
    let sheet = of_own(body, &["sheet", "own.toml", "1L"]);
    assert!(sheet.out.contains("chlorine"), "{}", sheet.out);
    let check = of_own(body, &["check", "own.toml"]);
    assert!(check.code == 1 && check.out.contains("danger: "), "{}", check.whole());
}

#[test]
fn a_strong_acid_keeps_its_heat_however_its_strength_is_written() {
    // 300 mL of the concentrated acid boil what is left of the litre of water; so do 900 mL of a slightly weaker one of which only
    // the most that it can weigh is known.
    for (body, code) in [
        (line("sulfuric-acid", 300.0, "96 % w/w"), "too-hot"),
        (line("sulfuric-acid", 900.0, "90 % w/w"), "too-hot"),
        (line("sulfuric-acid", 300.0, "96 % w/v"), "too-hot"),
        // 500 g of caustic in a litre of solution: the making itself.
        (line("sodium-hydroxide", 900.0, "50 % w/v"), "too-hot"),
    ] {
        for command in ["sheet", "scale"] {
            let ran = of_own(&body, &[command, "own.toml", "1L", "--json"]);
            assert_eq!(refused(&ran), ("not-this-way".to_owned(), code.to_owned(), 0), "{body}");
            assert_eq!(ran.code, 1);
        }
        // Who asks what the bottle is gets an answer, and is told.
        let label = of_own(&body, &["label", "own.toml", "1L", "--json"]);
        assert_eq!(refused(&label), ("not-this-way".to_owned(), code.to_owned(), 1), "{body}");
    }
}

#[test]
fn a_bath_of_unknown_strength_is_labelled_by_the_most_that_it_can_hold() {
    // Statements of the shipped substances at these shares, by the mixture rules.
    for (substance, millilitres, strength, code) in [
        ("formaldehyde-37", 400.0, "37 % w/w", "H350"),
        ("ammonia-25", 500.0, "28 % w/w", "H314"),
        ("hydrochloric-acid-37", 800.0, "37 % w/w", "H314"),
        ("potassium-dichromate", 500.0, "10 % w/w", "H350"),
        ("silver-nitrate", 500.0, "10 % w/w", "H314"),
    ] {
        let body = line(substance, millilitres, strength);
        let label = of_own(&body, &["label", "own.toml", "1L", "--json"]).json();
        assert!(label["labels"][0]["statements"].to_string().contains(code), "{substance}: {label}");
    }
}

#[test]
fn harmless_parts_solvents_and_strengths_still_print() {
    let parts = "[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"sodium-thiosulfate-pentahydrate\"\ngrams = 200\n\
                 [[parts]]\nname = \"B\"\n[[parts.ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 20\n\
                 [[use]]\nname = \"mix\"\nbaths = [{ A = 1, B = 1 }]\n";
    let glycol = "solvent = \"propylene-glycol\"\n[[ingredients]]\nsubstance = \"phenidone\"\ngrams = 5\n";
    let weak = line("potassium-bromide", 20.0, "10 % w/v");
    for body in [parts, glycol, &weak] {
        let ran = of_own(body, &["sheet", "own.toml", "1L", "--json"]);
        assert_eq!(ran.code, 0, "{}", ran.whole());
        assert_eq!(ran.json()["refusals"].as_array().unwrap().len(), 0);
    }
    good(&["percent", "potassium-bromide", "10 % w/v", "250ml"]);
    good(&["dilute", "1+3", "1L", "--formula", "mq-carbonate-tray-tank"]);
    good(&["adjust", "mq-borax-classic", "--ph", "8.7", "--using", "sodium-hydroxide"]);
}

#[test]
fn an_adjustment_that_would_gas_or_explode_gives_no_amounts() {
    for (formula, ph, using, part, word) in [
        ("sulfide-sepia-bleach-redevelop-toner", "7", "acetic-acid", Some("B"), "hydrogen sulfide"),
        ("sulfide-sepia-bleach-redevelop-toner", "2", "sulfuric-acid", Some("A"), "cyanide"),
        ("residual-silver-sulfide-test", "9", "boric-acid", None, "hydrogen sulfide"),
        ("gold-borax-alkaline-toner", "10", "ammonia-25", None, "explodes"),
        ("formalin-hardener", "5", "hydrochloric-acid-37", None, "carcinogenic"),
        ("permanganate-sulfuric-reversal-bleach", "1", "hydrochloric-acid-37", None, "chlorine"),
        ("selenium-selenosulfate-toner", "5", "acetic-acid", None, "selenide"),
        ("ammonium-thiosulfate-acid-hardening-rapid-fixer", "9", "sodium-hydroxide", None, "ammonia"),
        ("acid-hardening-alum-boric-fixer", "7", "sodium-hydroxide", None, "Alum"),
        ("plain-thiosulfate-fixer", "3.5", "sulfuric-acid", None, "sulfur"),
    ] {
        let mut arguments = vec!["adjust", formula, "--ph", ph, "--using", using];
        arguments.extend(part.iter().flat_map(|part| ["--part", part]));
        let ran = soupcon(&arguments);
        assert!(ran.code == 1 && ran.out.is_empty(), "{arguments:?}\n{}", ran.whole());
        assert!(ran.err.contains(word), "{arguments:?}\n{}", ran.err);
        arguments.push("--json");
        let json = soupcon(&arguments).json();
        assert_eq!(json["using"].as_array().unwrap().len(), 0, "{json}");
        assert!(json["refusals"][0]["text"].as_str().unwrap().contains(word), "{json}");
    }
}

#[test]
fn a_dilution_pours_as_the_use_says_and_knows_what_is_no_use() {
    let bleach = words(&["dilute", "1+1+2", "1L", "--formula", "permanganate-strong-chloride-stain-bleach"]);
    let place = |text: &str| bleach.find(text).unwrap_or_else(|| panic!("{text}: {bleach}"));
    assert!(place("water 500 mL") < place("B 250 mL") && place("B 250 mL") < place("A 250 mL"), "{bleach}");
    let reducer = words(&["dilute", "1+1", "1L", "--formula", "ferricyanide-thiosulfate-cutting-reducer"]);
    assert!(reducer.contains("not a use of this formula"), "{reducer}");
    let two = soupcon(&["dilute", "1+15", "1L", "--formula", "two-bath-metol-sulfite-borax"]);
    assert!(
        two.code == 1 && two.out.is_empty() && two.err.contains("one after the other"),
        "{}",
        two.whole()
    );
    let json =
        soupcon(&["dilute", "1+15", "1L", "--formula", "two-bath-metol-sulfite-borax", "--json"]).json();
    assert!(json["stock_ml"].is_null() && json["refusals"][0]["code"] == "two-baths", "{json}");
}

#[test]
fn a_percent_solution_that_cannot_be_made_is_refused() {
    for (form, strength, code) in [
        ("phenidone", "2 % w/v", "other-solvent"),
        ("selenium", "1 % w/v", "does-not-dissolve"),
        ("sodium-hydroxide", "50 % w/v", "too-hot"),
        ("borax-decahydrate", "20 % w/v", "more-than-dissolves"),
    ] {
        let ran = soupcon(&["percent", form, strength, "100ml", "--json"]);
        assert_eq!((ran.code, ran.json()["refusals"][0]["code"].as_str()), (1, Some(code)), "{form}");
        assert!(ran.json()["weigh_g"].is_null());
    }
    assert!(words(&["percent", "metol", "1 % w/v", "1L"]).contains("spoils in water within hours to days"));
    assert!(words(&["percent", "hydroquinone", "10 % w/v", "100ml"]).contains("may stay dissolved"));
    assert!(!words(&["percent", "potassium-bromide", "10 % w/v", "250ml"]).contains("Caustic goes"));
}

#[test]
fn what_would_freeze_its_vessel_goes_in_by_portions_and_no_reading_is_made_up() {
    // 500 g of ammonium thiocyanate are 6.57 mol and take up 22.6 kJ each (from memory, as in its file): 148 kJ, 59 K of 600 g of water.
    let sheet = |grams: u32, more: &[&str]| {
        let body = format!("[[ingredients]]\nsubstance = \"ammonium-thiocyanate\"\ngrams = {grams}\n");
        of_own(&body, &[&["sheet", "own.toml", "1L"], more].concat())
    };
    let json = sheet(500, &["--json"]).json();
    let step = &json["parts"][0]["steps"][1];
    let said = step["cautions"].to_string();
    assert!(said.contains("would cool to −29 °C") || said.contains("would cool to -29 °C"), "{said}");
    assert!(said.contains("Stand the vessel in water as warm as at the start"), "{said}");
    for step in json["parts"][0]["steps"].as_array().unwrap() {
        assert!(step["temperature_after_c"].as_f64().is_none_or(|celsius| celsius >= 0.0), "{step}");
    }
    assert!(json["parts"][0]["ends_at_c"].is_null(), "in portions nobody knows what it reads");
    let page = sheet(500, &[]).out;
    assert!(!page.contains(" 0 °C"), "{page}");
    // 200 g cool it too, but not to ice: read as computed, without a word more.
    let json = sheet(200, &["--json"]).json();
    let step = &json["parts"][0]["steps"][1];
    assert!((step["temperature_after_c"].as_f64().unwrap() - 6.4).abs() < 0.5, "{step}");
    assert_eq!(step["cautions"], serde_json::Value::Array(Vec::new()));
}

#[test]
fn the_step_of_a_dose_pours_millilitres_of_the_solution_and_carries_its_grams() {
    // 0.4 g of bromide from a solution of 10 g in 100 mL (IUPAC Gold Book, mass concentration): 4 mL.
    let text = "format = 1\ntitle = \"T\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n[[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 50\n[[ingredients]]\nsubstance = \"sodium-carbonate-anhydrous\"\ngrams = 20\n[[ingredients]]\nsubstance = \"potassium-bromide\"\ngrams = 0.4\n";
    let sheet = soupcon_with_input(&["sheet", "-", "1L", "--json"], text.as_bytes()).json();
    let steps = sheet["parts"][0]["steps"].as_array().unwrap();
    let step = steps.iter().find(|step| step["substance"] == "potassium-bromide").unwrap();
    assert_eq!((step["amount"].as_f64(), step["unit"].as_str()), (Some(4.0), Some("ml")), "{step}");
    assert_eq!(step["carries_g"].as_f64(), Some(0.4), "{step}");
}

#[test]
fn a_stock_an_adjustment_and_a_dilution_are_judged_by_the_whole_formula() {
    let caustic = "[[ingredients]]\nsubstance = \"sodium-hydroxide\"\ngrams = 60\n";
    // 44.5 kJ/mol (CRC Handbook, in its file): 300 g in a litre boil.
    assert_eq!(refused(&of_own(caustic, &["concentrate", "own.toml", "5x", "--json"])).1, "too-hot");
    assert_eq!(of_own(caustic, &["concentrate", "own.toml", "2x"]).code, 0);
    let neutral = "[[ingredients]]\nsubstance = \"sodium-hydroxide\"\ngrams = 160\n[[ingredients]]\nsubstance = \"acetic-acid\"\nmillilitres = 230\n";
    assert_eq!(refused(&of_own(neutral, &["concentrate", "own.toml", "1x", "--json"])).1, "too-hot");
    // Seilnacht, sodium sulfide: acid frees hydrogen sulfide; here only when the parts are poured together.
    let part = |name: &str, id: &str| {
        format!("[[parts]]\nname = \"{name}\"\n[[parts.ingredients]]\nsubstance = \"{id}\"\ngrams = 20\n")
    };
    let parts = format!("{}{}", part("A", "amidol"), part("B", "sodium-sulfide-nonahydrate"));
    let body = format!("{parts}[[use]]\nname = \"mixed\"\nbaths = [{{ A = 1, B = 1 }}]\n");
    for command in [
        &["concentrate", "own.toml", "2x", "--json"][..],
        &["adjust", "own.toml", "--part", "B", "--ph", "13.5", "--using", "sodium-hydroxide", "--json"],
        &["dilute", "1+1", "1L", "--formula", "own.toml", "--json"],
    ] {
        let (kind, code, _) = refused(&of_own(&body, command));
        assert_eq!((kind.as_str(), code.as_str()), ("never", "never-in-one-vessel"), "{command:?}");
    }
    let strong = "[[ingredients]]\nsubstance = \"potassium-ferrocyanide-trihydrate\"\ngrams = 50\n[[ingredients]]\nsubstance = \"sodium-bisulfate-anhydrous\"\ngrams = 120\n";
    let diluted = of_own(strong, &["dilute", "1+1", "1L", "--formula", "own.toml", "--json"]);
    assert_eq!(refused(&diluted).0, "never", "what is refused undiluted is not diluted");
}

#[test]
fn no_temperature_is_told_after_a_reaction_of_unknown_heat() {
    let grams = |id: &str, grams: f64| format!("[[ingredients]]\nsubstance = \"{id}\"\ngrams = {grams}\n");
    for body in [
        line("glutaraldehyde-50", 500.0, "") + &line("ammonia-28", 300.0, ""),
        grams("sodium-sulfite-anhydrous", 100.0) + &line("hydrogen-peroxide-3", 800.0, ""),
        grams("sodium-sulfide-nonahydrate", 100.0) + &line("hydrogen-peroxide-3", 500.0, ""),
        grams("sodium-sulfite-anhydrous", 150.0) + &line("formaldehyde-37", 150.0, ""),
    ] {
        let sheet = of_own(&body, &["sheet", "own.toml", "1L", "--json"]).json();
        let part = &sheet["parts"][0];
        let steps = part["steps"].as_array().unwrap();
        assert!(!steps.is_empty() && part["ends_at_c"].is_null(), "{part}");
        assert!(steps.last().unwrap()["temperature_after_c"].is_null(), "{steps:?}");
        assert!(!steps[0]["temperature_after_c"].is_null(), "before it the temperature is known: {steps:?}");
    }
    // A trace of the one is not felt.
    let body = grams("sodium-sulfite-anhydrous", 100.0) + &grams("paraformaldehyde", 0.3);
    let sheet = of_own(&body, &["sheet", "own.toml", "1L", "--json"]).json();
    assert!(!sheet["parts"][0]["ends_at_c"].is_null(), "{}", sheet["parts"][0]["steps"]);
}

#[test]
fn strong_acid_and_much_caustic_in_another_solvent_than_water_are_refused() {
    let in_solvent = |solvent: &str, rest: &str| format!("solvent = \"{solvent}\"\n{rest}");
    let caustic =
        |grams: u32| format!("[[ingredients]]\nsubstance = \"sodium-hydroxide\"\ngrams = {grams}\n");
    for body in [
        in_solvent("triethanolamine", &line("sulfuric-acid", 100.0, "")),
        in_solvent("ethylene-glycol", &caustic(300)),
        in_solvent("methanol", &caustic(100)),
    ] {
        let ran = of_own(&body, &["sheet", "own.toml", "1L", "--json"]);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert_eq!(refused(&ran).1, "heat-not-known", "{body}");
    }
    assert_eq!(of_own(&in_solvent("propylene-glycol", &caustic(5)), &["sheet", "own.toml", "1L"]).code, 0);
}

/// A principle that no rule bears excuses nothing, and is no silent slip of the finger.
#[test]
fn a_principle_without_a_rule_is_told() {
    let text = "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\nprinciple = [\"alum-thiosulfat\", \"nothing-of-the-kind\"]\n[[ingredients]]\nsubstance = \"borax-decahydrate\"\ngrams = 3\n";
    let ran = soupcon_with_input(&["check", "-"], text.as_bytes());
    let told = ran.whole().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("no rule is called `alum-thiosulfat`. Fix: write alum-thiosulfate"), "{told}");
    assert!(told.contains("no rule is called `nothing-of-the-kind`"), "{told}");
    assert_eq!(ran.code, 1, "{told}");
}
