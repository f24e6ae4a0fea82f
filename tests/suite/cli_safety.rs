//! `soupcon safety` as a user runs it.

use crate::common::{command, good, soupcon, soupcon_with_input};

#[test]
fn a_plain_sequence_as_text() {
    let ran = good(&["safety", "mq-borax-classic", "acetic-acid-stop-bath", "plain-thiosulfate-fixer"]);
    insta::assert_snapshot!(ran.out);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn what_harms_little_is_answered_in_a_few_lines() {
    let ran = good(&["safety", "mq-borax-classic"]);
    assert!(ran.out.lines().count() <= 18, "{}", ran.out);
    let order = good(&["safety", "mq-borax-classic", "wash", "ammonium-thiosulfate-alkaline-rapid-fixer"]);
    assert!(order.out.lines().count() <= 40, "{}", order.out);
    let full = good(&["safety", "mq-borax-classic", "--full"]);
    assert!(
        full.out.contains("Eyes: hold the lids open") && full.out.lines().count() > ran.out.lines().count()
    );
}

/// What a page says after a word at the beginning of a line, with the lines set in below it.
fn said(page: &str, word: &str) -> String {
    let mut lines = page.lines().skip_while(|line| !line.starts_with(word));
    let first = lines.next().unwrap_or_default().trim_start_matches(word).to_owned();
    let more = lines.take_while(|line| line.starts_with("      "));
    let words: Vec<String> = [first].into_iter().chain(more.map(str::to_owned)).collect();
    words.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_the_sheet_and_the_label_tell_is_told_in_short() {
    for id in [
        "mq-borax-classic",
        "acetic-sulfate-non-swelling-stop-bath",
        "ammonium-thiosulfate-bisulfite-acid-rapid-fixer",
        "metol-ascorbate-borax-sulfite-free",
        "permanganate-tray-cleaner",
        "sulfide-sepia-bleach-redevelop-toner",
        "pyro-metol-sulfite-carbonate-abc",
    ] {
        let short = good(&["safety", id]).out.to_lowercase();
        let short = short.split_whitespace().collect::<Vec<_>>().join(" ");
        let sheet = good(&["sheet", id, "1L"]);
        for word in ["MIND", "NEVER"] {
            for phrase in said(&sheet.out, word).to_lowercase().split(" · ") {
                assert!(short.contains(phrase), "{id} {word}: {phrase}: {short}");
            }
        }
        for gas in good(&["sheet", id, "1L", "--json"]).json()["parts"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|part| part["gas"].as_array().unwrap().clone())
        {
            let gas = gas.as_str().unwrap().to_lowercase();
            let names =
                gas.split(':').next().unwrap().replace("can give off", "").replace("can smell of", "");
            for name in names.split(", ").map(str::trim) {
                assert!(short.contains(name), "{id}: {name}: {short}");
            }
        }
        assert!(!short.contains("nothing is known against it"), "{id}: {short}");
    }
}

#[test]
fn the_wash_between_the_baths_of_one_formula_is_seen() {
    // Its use says: wash three minutes between the bleach and the sulfide.
    let json = good(&["safety", "sulfide-sepia-bleach-redevelop-toner", "--json"]).json();
    let washes: Vec<_> = json["baths"].as_array().unwrap().iter().map(|own| own["is_wash"] == true).collect();
    assert_eq!(washes, [false, true, false]);
}

#[test]
fn a_poison_is_told_before_its_jar_is_opened() {
    for id in ["ppd-sulfite", "selenium-selenosulfate-toner", "sulfide-sepia-bleach-redevelop-toner"] {
        let safety = good(&["safety", id, "--json"]).json();
        let sheet = good(&["sheet", id, "1L", "--json"]).json();
        let told = &safety["formulas"][0]["before_opening"];
        assert!(!told.as_array().unwrap().is_empty(), "{id}");
        assert_eq!(*told, sheet["before_opening"], "{id}");
        let line = told[0].as_str().unwrap();
        let word = line.split(':').next().unwrap();
        let page = good(&["sheet", id, "1L"]).out;
        let table = page.find("weighed").or_else(|| page.find("[ ]")).unwrap_or(page.len());
        assert!(page.find(word).is_some_and(|at| at < table), "{id}: {page}");
        assert!(good(&["safety", id]).out.contains(word), "{id}");
    }
}

#[test]
fn what_is_worn_goes_by_the_substance() {
    let wear = |id: &str| {
        let json = good(&["safety", id, "--json"]).json();
        let words = json["wear"].as_array().unwrap().iter().map(|own| own.as_str().unwrap().to_owned());
        (words.collect::<Vec<_>>().join(", "), json["ventilation"].as_str().map(str::to_owned))
    };
    // Butyl, neoprene or PVC for sulfuric acid above 70 %: the source stands in precautions.toml. Glacial acetic acid: common practice.
    for id in ["permanganate-tray-cleaner", "acid-hardening-alum-boric-strong-fixer"] {
        let (worn, air) = wear(id);
        assert!(worn.contains("butyl") && worn.contains("face shield") && worn.contains("apron"), "{worn}");
        assert!(air.is_some());
    }
    // A plain developer with sulfite needs no open window; acid on it would, and that is told beside it.
    let (worn, air) = wear("mq-borax-classic");
    assert!(!worn.contains("butyl") && !worn.contains("ventilation"), "{worn}");
    assert_eq!(air, None);
    // The air agrees with the box at the step: no dust, under extraction.
    assert!(wear("ppd-sulfite").1.unwrap().contains("extraction on before you begin"));
}

#[test]
fn a_cold_fixer_is_not_told_of_hot_sulfite() {
    // The row holds above 40 °C; a bath of liquid ammonium thiosulfate is mixed cold.
    let id = "ammonium-thiosulfate-alkaline-rapid-fixer";
    for out in [good(&["safety", id, "--full"]).out, good(&["sheet", id, "1L", "--json"]).out] {
        assert!(!out.contains("Hot sulfite"), "{out}");
    }
}

#[test]
fn a_dangerous_sequence_as_text() {
    insta::assert_snapshot!(
        good(&["safety", "acetic-acid-stop-bath", "sulfide-sepia-bleach-redevelop-toner"]).out
    );
}

#[test]
fn a_box_and_parts_poured_together_as_markdown() {
    insta::assert_snapshot!(
        good(&[
            "safety",
            "dichromate-sulfuric-reversal-bleach",
            "permanganate-chloride-stain-bleach",
            "--full",
            "--format",
            "markdown"
        ])
        .out
    );
}

#[test]
fn a_narrow_terminal_keeps_to_its_width() {
    let output =
        command(&["safety", "chromium-intensifier", "--full"]).env("COLUMNS", "40").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.lines().all(|line| line.chars().count() <= 40), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn json_names_what_is_between_and_who_decides() {
    let json =
        good(&["safety", "acetic-acid-stop-bath", "wash", "sulfide-sepia-bleach-redevelop-toner", "--json"])
            .json();
    assert_eq!(json["schema_version"], 1);
    assert_eq!(json["baths"][1]["is_wash"], true);
    let between = json["between"].as_array().unwrap();
    let sulfide = between.iter().find(|own| own["id"] == "acid-then-sulfide").unwrap();
    assert_eq!(sulfide["severity"], "danger");
    assert_eq!(sulfide["is_next"], false);
    assert_eq!((sulfide["earlier"].as_u64(), sulfide["later"].as_u64()), (Some(0), Some(4)));
    assert!(json["closing"].as_str().unwrap().contains("Local rules and licensed practice come first"));
    assert_eq!(json["formulas"][1]["boxes"][0]["id"], "sulfide");
}

#[test]
fn what_must_not_be_mixed_is_refused_with_exit_1() {
    let formula = "format = 1\ntitle = \"Never\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
        [[ingredients]]\nsubstance = \"potassium-dichromate\"\ngrams = 5\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n";
    let ran = soupcon_with_input(&["safety", "-"], formula.as_bytes());
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.out.contains("REFUSED") && ran.out.contains("Make two baths of them"), "{}", ran.out);
    let ran = soupcon_with_input(&["safety", "-", "--json"], formula.as_bytes());
    assert_eq!(ran.json()["formulas"][0]["vessels"][0]["refusal"]["id"], "strong-oxidiser-developer");
}

#[test]
fn mistakes_say_how_to_mend_them() {
    let ran = soupcon(&["safety", "wash"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("not a sequence of baths") && ran.err.contains("fix:"), "{}", ran.err);
    let ran = soupcon(&["safety", "mq-borax-clasic"]);
    assert!(ran.code != 0 && ran.err.contains("mq-borax-classic"), "{}", ran.err);
    assert_eq!(soupcon(&["safety"]).code, 2);
    insta::assert_snapshot!(good(&["safety", "--help"]).out);
}

/// What two baths do to the film is asked for by naming both: a note is told in short, too, and then nobody says that nothing is known.
#[test]
fn a_note_between_two_baths_is_told_in_short() {
    let ran = soupcon(&["safety", "citric-acid-stop-bath", "acid-hardening-alum-boric-fixer"]);
    let text = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("1 to 2: Citrate carried into an alum fixer"), "{text}");
    assert!(!text.contains("Nothing is known against this order"), "{text}");
}
