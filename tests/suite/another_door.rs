//! The same bath asked for by another door: as a working solution, stronger, diluted, heated on a stove, in another solvent.

use crate::common::{Ran, good, library, soupcon};

const HEAD: &str = "format = 1\ntitle = \"T\"\nkind = \"toner\"\nsummary = \"s\"\nevidence = \"memory\"\n";

fn in_parts(parts: &[&[(&str, f64)]]) -> String {
    let mut text = HEAD.to_owned();
    for (name, part) in ["A", "B", "C"].iter().zip(parts) {
        text.push_str(&format!("[[parts]]\nname = \"{name}\"\n"));
        for (id, grams) in *part {
            text.push_str(&format!("[[parts.ingredients]]\nsubstance = \"{id}\"\ngrams = {grams}\n"));
        }
    }
    text
}

fn in_one(contents: &[(&str, f64)], mixing: &str) -> String {
    let lines = contents
        .iter()
        .map(|(id, grams)| format!("[[ingredients]]\nsubstance = \"{id}\"\ngrams = {grams}\n"));
    format!("{HEAD}{mixing}{}", lines.collect::<String>())
}

fn asked(text: &str, command: &[&str]) -> Ran {
    let folder = library(&[("own.toml", text)]);
    let path = folder.path().join("own.toml");
    let all: Vec<&str> =
        command.iter().map(|word| if *word == "F" { path.to_str().unwrap() } else { word }).collect();
    soupcon(&all)
}

#[test]
fn what_dilute_refuses_a_working_solution_refuses_too() {
    let sulfide = in_parts(&[&[("sodium-sulfide-nonahydrate", 40.0)], &[("citric-acid-monohydrate", 60.0)]]);
    let ammonium = in_parts(&[&[("ammonium-chloride", 200.0)], &[("potassium-hydroxide", 200.0)]]);
    for text in [&sulfide, &ammonium] {
        let diluted = asked(text, &["dilute", "1+1", "1L", "--formula", "F", "--json"]);
        for command in ["sheet", "scale"] {
            let working = asked(text, &[command, "F", "1L", "--working", "1+1", "--json"]);
            assert_eq!((diluted.code, working.code), (1, 1), "{}", working.whole());
            assert_eq!(working.json()["refusals"][0]["code"], diluted.json()["refusals"][0]["code"]);
            let words = asked(text, &[command, "F", "1L", "--working", "1+1"]);
            assert!(words.code == 1 && !words.out.contains("POUR"), "{}", words.whole());
        }
    }
    // Two baths, used one after the other.
    let ran = soupcon(&["sheet", "sulfide-sepia-bleach-redevelop-toner", "1L", "--working", "1+1", "--json"]);
    assert_eq!(ran.json()["refusals"][0]["code"], "two-baths", "{}", ran.whole());
    // What is meant to be poured together is.
    good(&["sheet", "pyro-soda-tank", "1L", "--working", "4+30+266"]);
}

#[test]
fn no_stock_is_called_possible_that_is_refused_as_soon_as_it_is_asked_for() {
    let oil = in_one(&[("potassium-permanganate", 2.0), ("sulfuric-acid", 20.0)], "");
    let gas = in_one(&[("ammonium-chloride", 15.0), ("sodium-hydroxide", 5.0)], "");
    for text in [&oil, &gas] {
        let open = asked(text, &["concentrate", "F", "--json"]);
        assert_eq!(open.code, 0, "{}", open.whole());
        let part = open.json()["parts"][0].clone();
        let most = part["largest_times"].as_f64().unwrap();
        assert!(most > 1.0 && part["refused_above"].is_string(), "{part}");
        for times in [most * 1.06, most * 1.5, most * 2.0] {
            let ran = asked(text, &["concentrate", "F", &format!("{times:.3}x")]);
            assert_eq!(ran.code, 1, "{times}: {}", ran.whole());
        }
        assert_eq!(asked(text, &["concentrate", "F", &format!("{:.3}x", most * 0.99)]).code, 0);
    }
    // What must never be mixed is told before what the model of water cannot say.
    let in_alcohol = in_one(
        &[("silver-nitrate", 20.0), ("ammonia-25", 30.0), ("sodium-hydroxide", 10.0)],
        "solvent = \"ethanol\"\n",
    );
    let ran = asked(&in_alcohol, &["concentrate", "F", "2x", "--json"]);
    assert_eq!(ran.json()["refusals"][0]["kind"], "never", "{}", ran.whole());
}

/// Flash point of ethanol 13 °C, of its 10 % solution 49 °C (as tables of safety data give it, from memory); that formaldehyde, ammonia and
/// peroxide leave or break down when warm is common practice, no source.
#[test]
fn nothing_is_heated_on_a_stove_that_must_not_be_warm() {
    let boil =
        |after: &str| format!("[[mixing.operations]]\nafter = \"{after}\"\ndo = \"boil\"\nminutes = 10\n");
    let heat = |after: &str| {
        format!("[[mixing.operations]]\nafter = \"{after}\"\ndo = \"heat\"\ntemperature = 70\n")
    };
    for (id, more) in [
        ("ethanol", "citric-acid-monohydrate"),
        ("ammonia-25", "potassium-bromide"),
        ("hydrogen-peroxide-3", "potassium-bromide"),
        ("sodium-hypochlorite-5", "sodium-chloride"),
        ("formaldehyde-37", "sodium-carbonate-anhydrous"),
        ("potassium-ferricyanide", "citric-acid-monohydrate"),
        ("sodium-dithionite", "sodium-carbonate-anhydrous"),
        ("sulfuric-acid", "sodium-sulfate-anhydrous"),
        ("ammonium-chloride", "sodium-carbonate-anhydrous"),
    ] {
        for operation in [boil(id), heat(id), heat("end"), "[mixing]\ntemperature = 70\n".to_owned()] {
            let text = in_one(&[(id, 50.0), (more, 10.0)], &operation);
            for command in [&["sheet", "F", "1L"][..], &["check", "F"]] {
                let ran = asked(&text, command);
                let told = ran.whole().split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(ran.code == 1 && told.contains("°C is safe"), "{id}: {told}");
            }
        }
    }
    // Heated before it goes in, and what may be hot.
    let cool = "[[mixing.operations]]\nafter = \"start\"\ndo = \"cool\"\ntemperature = 20\n";
    for (then, code) in [("", 1), (cool, 0)] {
        let both = format!("{}{then}", heat("start"));
        let before = in_one(&[("ethanol", 20.0), ("citric-acid-monohydrate", 10.0)], &both);
        let ran = asked(&before, &["sheet", "F", "1L"]);
        assert_eq!(ran.code, code, "{}", ran.whole());
    }
    for hot in [
        &[("sulfuric-acid", 5.0), ("sodium-sulfate-anhydrous", 50.0)][..],
        &[("potassium-thiocyanate", 5.0), ("ascorbic-acid", 5.0), ("sodium-carbonate-anhydrous", 30.0)],
        &[("potassium-dichromate", 20.0), ("sodium-sulfate-anhydrous", 5.0)],
    ] {
        let ran = asked(&in_one(hot, &heat("end")), &["sheet", "F", "1L"]);
        assert_eq!(ran.code, 0, "{}", ran.whole());
    }
    let size = in_one(&[("gelatin", 20.0), ("potassium-alum-dodecahydrate", 1.0)], &heat("end"));
    assert_eq!(asked(&size, &["sheet", "F", "1L"]).code, 0);
}

#[test]
fn a_vessel_full_of_ammonia_or_of_a_solid_is_no_solvent_and_much_of_what_fumes_is_told() {
    for (solvent, code) in
        [("ammonia-25", "unsafe-solvent"), ("gelatin", "solid-solvent"), ("sodium-chloride", "solid-solvent")]
    {
        let text = in_one(&[("potassium-bromide", 5.0)], &format!("solvent = \"{solvent}\"\n"));
        let ran = asked(&text, &["sheet", "F", "1L", "--json"]);
        assert_eq!(ran.json()["refusals"][0]["code"], code, "{}", ran.whole());
    }
    for (id, says) in [("ammonia-25", "So much ammonia fumes"), ("acetic-acid", "So much acetic acid fumes")]
    {
        let told = |grams: f64| {
            asked(&in_one(&[(id, grams)], ""), &["sheet", "F", "1L", "--json"]).json()["cautions"].to_string()
        };
        assert!(told(500.0).contains(says) && !told(10.0).contains(says), "{id}");
    }
}

#[test]
fn a_stock_that_heats_goes_into_the_water() {
    let acid = in_one(&[("sulfuric-acid", 200.0)], "");
    let json = asked(&acid, &["dilute", "1+3", "1L", "--formula", "F", "--json"]).json();
    assert_eq!(json["cautions"][0]["severity"], "danger", "{json}");
    let words = asked(&acid, &["dilute", "1+3", "1L", "--formula", "F"]).whole();
    let (water, stock) = (words.find("water").unwrap(), words.find("stock").unwrap());
    assert!(water < stock && words.contains("into cold water, slowly"), "{words}");
    let mild = in_one(&[("sodium-sulfite-anhydrous", 100.0)], "");
    let words = asked(&mild, &["dilute", "1+3", "1L", "--formula", "F"]).whole();
    assert!(
        words.find("stock").unwrap() < words.find("water").unwrap() && !words.contains("slowly"),
        "{words}"
    );
}

/// What a bath makes of its own chemicals is carried over: salt and sulfuric acid as hydrochloric acid.
#[test]
fn what_arises_in_one_bath_is_judged_beside_the_next() {
    let between = |first: &[(&str, f64)], second: &[(&str, f64)]| {
        let folder = library(&[("one.toml", &in_one(first, "")), ("two.toml", &in_one(second, ""))]);
        let [one, two] =
            ["one.toml", "two.toml"].map(|name| folder.path().join(name).to_str().unwrap().to_owned());
        soupcon(&["safety", &one, &two, "--json"]).json()["between"].to_string()
    };
    let formalin = [("formaldehyde-37", 100.0)];
    let salt = [("sodium-chloride", 100.0), ("sulfuric-acid", 100.0)];
    let acid = [("hydrochloric-acid-37", 150.0)];
    assert!(between(&formalin, &acid).contains("danger"));
    assert!(between(&formalin, &salt).contains("danger"));
    let sulfide = [("sodium-sulfide-nonahydrate", 20.0)];
    assert!(between(&[("ammonium-chloride", 60.0)], &sulfide).contains("ammonium-then-sulfide"));
}

#[test]
fn water_is_no_percent_solution_and_a_pure_liquid_leaves_no_room_for_it() {
    for arguments in [
        &["percent", "water", "10 % w/v", "1L", "--json"][..],
        &["percent", "ethanol", "100 % v/v", "1L", "--json"],
    ] {
        let ran = soupcon(arguments);
        let refusal = ran.json()["refusals"][0].clone();
        let code = refusal["code"].as_str().unwrap().to_owned();
        assert!(ran.code == 1 && ["is-water", "no-water"].contains(&code.as_str()), "{refusal}");
    }
}

#[test]
fn an_adjustment_tells_what_the_next_bath_makes_of_it() {
    let mut text = in_parts(&[&[("sodium-sulfite-anhydrous", 5.0)], &[("sodium-sulfide-nonahydrate", 20.0)]]);
    text.push_str("[[use]]\nname = \"in turn\"\nbaths = [{ A = 1 }, { B = 1 }]\n");
    let to = |ph: &str| {
        asked(
            &text,
            &["adjust", "F", "--part", "A", "--ph", ph, "--using", "citric-acid-anhydrous", "--json"],
        )
    };
    let (sour, mild) = (to("5"), to("8.5"));
    assert!(
        sour.whole().contains("hydrogen sulfide") && !mild.whole().contains("hydrogen sulfide"),
        "{}",
        sour.whole()
    );
}
