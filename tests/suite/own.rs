//! What is the user's own is told as that wherever it is printed, and it cannot wear the name of something shipped without its hazards.

use std::fs;

use crate::common::{library, soupcon, with_library};

fn substance(name: &str, classes: &str, form: &str, hazards: &str) -> String {
    format!(
        "format = 1\nname = \"{name}\"\nroles = [\"alkali\"]\n{classes}\n[solution]\nstanding = \"inert\"\n\
         [[forms]]\n{form}\n{hazards}\n"
    )
}

const FORMULA_HEAD: &str =
    "format = 1\ntitle = \"T\"\nkind = \"fixer\"\nsummary = \"s\"\nevidence = \"memory\"\n";

const NOT_CLASSIFIED: &str =
    "[forms.hazards]\nstatus = \"not-classified\"\nsource = \"Somebody, A Book, 1950\"";

/// Every command that reads a formula with it, and the check of its own file, says these words.
fn every_command_says(id: &str, text: &str, words: &str) {
    let path = format!("substances/{id}.toml");
    let folder = library(&[(&path, text)]);
    let formula = folder.path().join("with.toml");
    fs::write(&formula, format!("{FORMULA_HEAD}[[ingredients]]\nsubstance = \"{id}\"\ngrams = 30\n"))
        .unwrap();
    let formula = formula.to_str().unwrap();
    for command in [&["check", formula][..], &["sheet", formula, "1L"], &["label", formula, "1L"]] {
        let ran = with_library(folder.path(), command);
        assert!(ran.code != 0, "{id} {command:?}: {}", ran.whole());
        let told = ran.whole().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(words), "{id} {command:?}: {told}");
    }
    let ran = soupcon(&["check", folder.path().join(&path).to_str().unwrap()]);
    let told = ran.whole().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(ran.code == 1 && told.contains(words), "{told}");
}

/// Sodium hypochlorite 7681-52-9, sodium hydroxide 1310-73-2, sodium sulfite 7757-83-7: CAS numbers as printed on jars.
#[test]
fn nothing_less_bears_the_name_the_number_or_the_formula_of_a_shipped_chemical() {
    let cases = [
        (
            "crystals",
            substance(
                "harmless crystals",
                "classes = []",
                "id = \"crystals\"\nname = \"sodium sulfite, anhydrous\"\nformula = \"Na2SO4\"",
                NOT_CLASSIFIED,
            ),
            "`crystals` bears the name, the CAS number or the formula of the shipped `sodium-sulfite-anhydrous`, but not its classes",
        ),
        (
            "my-bleach",
            substance(
                "my bleach",
                "classes = []",
                "id = \"my-bleach\"\nname = \"my bleach\"\ncas = \"7681-52-9\"\nstate = \"solution\"\nassay_percent = 5",
                NOT_CLASSIFIED,
            ),
            "of the shipped `sodium-hypochlorite-5`, but not its classes",
        ),
        (
            "mild-salt",
            substance(
                "mild salt",
                "classes = [\"strong-alkali\"]",
                "id = \"mild-salt\"\nname = \"mild salt\"\nformula = \"NaOH\"",
                NOT_CLASSIFIED,
            ),
            "of the shipped `sodium-hydroxide`, but not its",
        ),
        (
            "white-salt",
            substance(
                "white salt",
                "classes = []",
                "id = \"white-salt\"\nname = \"white salt\"\ncas = \"151-50-8\"\nformula = \"KCN\"",
                NOT_CLASSIFIED,
            ),
            "`white-salt` holds a cyanide or cyanate group, and its classes do not say what it must not meet",
        ),
        // By its name alone; in the order of a data sheet; with more blanks than one, and one that does not break.
        (
            "named",
            substance(
                "sodium cyanide",
                "classes = []",
                "id = \"named\"\nname = \"sodium cyanide\"",
                NOT_CLASSIFIED,
            ),
            "`named` holds a cyanide or cyanate group, and its classes do not say what it must not meet",
        ),
        (
            "other-order",
            substance(
                "mild salt",
                "classes = []",
                "id = \"other-order\"\nname = \"mild salt\"\nformula = \"HNaO\"",
                NOT_CLASSIFIED,
            ),
            "of the shipped `sodium-hydroxide`, but not its",
        ),
        (
            "on-a-jar",
            substance(
                "pellets",
                "classes = []",
                "id = \"on-a-jar\"\nname = \"sodium hydroxide, pellets\"",
                NOT_CLASSIFIED,
            ),
            "of the shipped `sodium-hydroxide`, but not its",
        ),
        (
            "british",
            substance(
                "british",
                "classes = [\"acid\"]",
                "id = \"british\"\nname = \"sulphuric acid\"",
                NOT_CLASSIFIED,
            ),
            "of the shipped `sulfuric-acid`, but not its",
        ),
        (
            "wide",
            substance(
                "wide",
                "classes = []",
                "id = \"wide\"\nname = \"Sodium \u{a0}Hydroxide\"",
                NOT_CLASSIFIED,
            ),
            "of the shipped `sodium-hydroxide`, but not its",
        ),
    ];
    for (id, text, words) in cases {
        every_command_says(id, &text, words);
    }
}

/// One that says as much as the shipped one, and one that has nothing to do with any, are read.
#[test]
fn an_own_chemical_that_says_enough_is_used_and_told_everywhere() {
    let mine = substance(
        "my sulfite",
        "classes = [\"sulfite\", \"reducer\"]",
        "id = \"my-sulfite\"\nname = \"my sulfite\"\ncas = \"7757-83-7\"\nformula = \"Na2SO3\"",
        "[forms.hazards]\nstatus = \"typical\"\nsupplementary = [\"EUH031\"]\nsource = \"the label of the jar\"",
    );
    let salt = substance(
        "beach salt",
        "",
        "id = \"beach-salt\"\nname = \"beach salt\"",
        "[forms.hazards]\nstatus = \"not-classified\"\nsource = \"memory\"",
    );
    let soup = format!(
        "{FORMULA_HEAD}[[ingredients]]\nsubstance = \"my-sulfite\"\ngrams = 30\n[[ingredients]]\nsubstance = \"beach-salt\"\ngrams = 5\n"
    );
    let folder = library(&[
        ("substances/my-sulfite.toml", &mine),
        ("substances/beach-salt.toml", &salt),
        ("fixer/soup.toml", &soup),
    ]);
    let place = folder.path().to_str().unwrap();
    for command in ["sheet", "scale", "label", "show", "predict", "safety"] {
        let volume = if matches!(command, "sheet" | "scale" | "label") { &["1L"][..] } else { &[] };
        let arguments = [&[command, "soup"][..], volume].concat();
        let ran = with_library(folder.path(), &arguments);
        let text = ran.out.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        // A long folder is broken over lines, so the words around it are looked at.
        for words in
            ["own formula, from", "own substance `my-sulfite`, from", "own substance `beach-salt`, from"]
        {
            assert!(text.contains(words), "{arguments:?}: {}", ran.whole());
        }
        let json = with_library(folder.path(), &[&arguments[..], &["--json"]].concat()).json();
        let origin = if command == "safety" { &json["formulas"][0]["origin"] } else { &json["origin"] };
        assert_eq!(origin, place, "{command}");
    }
    let json = with_library(folder.path(), &["sheet", "soup", "1L", "--json"]).json();
    assert_eq!(json["own_substances"][0]["substance"], "my-sulfite");
    assert_eq!(json["own_substances"][0]["origin"], place);
    let label = with_library(folder.path(), &["label", "soup", "1L"]).out;
    let words = label.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!words.contains("No hazard"), "{label}");
    assert!(words.contains("Hazard not known, treat as harmful: beach salt"), "{label}");
    // That there are no hazards only a document can say.
    let check = soupcon(&["check", folder.path().join("substances/beach-salt.toml").to_str().unwrap()]);
    let words = check.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("is called not classified, but no document says so"), "{}", check.whole());
    // The shipped chemical keeps its number.
    let ran = with_library(folder.path(), &["substance", "7757-83-7"]);
    assert!(ran.code == 0 && ran.out.contains("sodium-sulfite-anhydrous"), "{}", ran.whole());
}

#[test]
fn a_formula_in_place_of_a_shipped_one_is_told_on_every_page() {
    let own = "format = 1\ntitle = \"Borax developer, as ours\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
        [[ingredients]]\nsubstance = \"metol\"\ngrams = 20\n[[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 100\n";
    let folder = library(&[("film-developer/mq-borax-classic.toml", own)]);
    let id = "mq-borax-classic";
    for arguments in [
        &["sheet", id, "1L"][..],
        &["scale", id, "1L"],
        &["label", id, "1L"],
        &["show", id],
        &["predict", id],
        &["safety", id],
        &["concentrate", id],
        &["compare", id, "metol-sulfite"],
        &["dilute", "1+1", "500ml", "--formula", id],
        &["adjust", id, "--ph", "9", "--using", "sodium-hydroxide"],
    ] {
        for format in ["text", "markdown", "html"] {
            let ran = with_library(folder.path(), &[arguments, &["--format", format]].concat());
            let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
            assert!(words.contains("own formula, from"), "{arguments:?} {format}: {}", ran.whole());
            assert!(words.contains("in place of the shipped one"), "{arguments:?} {format}: {}", ran.whole());
        }
        let json = with_library(folder.path(), &[arguments, &["--json"]].concat()).out;
        assert!(
            json.contains(&format!("\"origin\": \"{}\"", folder.path().display())),
            "{arguments:?}: {json}"
        );
    }
    let listed = with_library(folder.path(), &["list", "--kind", "film-developer"]).out;
    assert_eq!(listed.matches("own, from").count(), 1, "{listed}");
    // A shipped one says so to other programs, and nothing to people.
    let shipped = soupcon(&["sheet", id, "1L", "--json"]).json();
    assert_eq!(shipped["origin"], "shipped");
    assert!(!soupcon(&["sheet", id, "1L"]).out.contains("own formula"));
}

const SOUP: &str = "format = 1\ntitle = \"T\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
    [[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n\
    [[ingredients]]\nsubstance = \"sodium-carbonate-monohydrate\"\ngrams = 20\nexchange = false\nnote = \"the decahydrate of the shop has weathered\"\n";

#[test]
fn a_formula_may_forbid_an_exchange_and_says_why() {
    let folder = library(&[
        ("soup.toml", SOUP),
        ("shelf.toml", "format = 1\nhave = [\"metol\", \"sodium-carbonate-decahydrate\"]\n"),
    ]);
    let run = |arguments: &[&str]| crate::common::soupcon_in(folder.path(), arguments);
    for command in ["scale", "sheet"] {
        let ran = run(&[command, "./soup.toml", "1L", "--have", "sodium-carbonate-decahydrate"]);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        let words = "may not be exchanged for sodium carbonate, crystals (decahydrate) in this formula: the decahydrate of the shop has weathered";
        assert!(ran.err.contains("sodium carbonate, monohydrate") && ran.err.contains(words), "{}", ran.err);
        assert!(ran.err.contains("fix: use the form that the formula names"), "{}", ran.err);
        assert!(ran.out.is_empty());
    }
    // A shelf file offers no stand-in; what is missing is told with the reason.
    let ran = run(&["scale", "./soup.toml", "1L", "--shelf", "shelf.toml", "--json"]);
    let words = "not on the shelf: sodium carbonate, monohydrate (it may not be exchanged: the decahydrate of the shop has weathered)";
    assert!(ran.code == 0 && ran.err.contains(words), "{}", ran.whole());
    assert_eq!(ran.json()["parts"][0]["items"][1]["substance"], "sodium-carbonate-monohydrate");
    assert_eq!(run(&["scale", "./soup.toml", "1L", "--have", "sodium-carbonate-monohydrate"]).code, 0);
    // Without the key the exchange is made.
    fs::write(folder.path().join("free.toml"), SOUP.replace("exchange = false\n", "")).unwrap();
    assert_eq!(run(&["scale", "./free.toml", "1L", "--have", "sodium-carbonate-decahydrate"]).code, 0);
    fs::write(
        folder.path().join("mute.toml"),
        SOUP.replace("note = \"the decahydrate of the shop has weathered\"\n", ""),
    )
    .unwrap();
    let ran = run(&["scale", "./mute.toml", "1L"]);
    assert!(ran.code == 2 && ran.err.contains("may not be exchanged, but no note says why"), "{}", ran.err);
}

/// Rows of the combinations that only a chemical of the user's own brings up; the tests below try them.
pub(crate) const ROWS_OF_OWN_CHEMICALS: &[&str] = &[
    "acid-azide",
    "acid-cyanide",
    "acid-frees-deadly-gas",
    "acid-frees-gas",
    "acid-then-deadly-gas",
    "azide-heavy-metal",
    "cyanide-anything",
    "explosive-as-such",
    "hypochlorite-cyanide",
    "ketone-peroxide-acid",
    "nitrite-acid",
    "own-oxidiser-flammable",
    "own-oxidiser-reducer",
    "own-oxidiser-strong-acid",
    "violent-with-water",
    "water-frees-poison-gas",
];

/// What no shipped chemical is: cyanide, azide, and what its own statements tell of acid, water and itself. That cyanide and acid give
/// hydrogen cyanide, azide and acid hydrazoic acid, is in every textbook of inorganic chemistry; the rest the statements say themselves
/// (Regulation (EC) 1272/2008, Annexes II and III).
#[test]
fn what_an_own_chemical_does_in_company_is_refused_by_its_class_or_its_statements() {
    let jar = |id: &str, classes: &str, codes: &str| {
        let form = format!("id = \"{id}\"\nname = \"{id}\"");
        let hazards = format!(
            "[forms.hazards]\nstatus = \"typical\"\nsignal = \"Danger\"\n{codes}\nsource = \"its label\""
        );
        substance(id, classes, &form, &hazards)
    };
    let formula = |with: &[&str]| {
        let lines = with.iter().map(|id| format!("[[ingredients]]\nsubstance = \"{id}\"\ngrams = 5\n"));
        format!("{FORMULA_HEAD}{}", lines.collect::<String>())
    };
    let plain = "statements = [\"H302\"]";
    let cases = [
        ("[\"cyanide\"]", plain, "citric-acid-monohydrate", "hydrogen cyanide"),
        ("[\"cyanide\"]", plain, "ammonium-chloride", "hydrogen cyanide"),
        ("[\"cyanide\"]", plain, "disodium-phosphate-dodecahydrate", "Cyanide goes with nothing but"),
        ("[\"cyanide\"]", plain, "copper-sulfate-pentahydrate", "Cyanide goes with nothing but"),
        ("[\"oxidiser\"]", plain, "sulfuric-acid", "of chlorate one that explodes"),
        ("[\"oxidiser\"]", plain, "ethanol", "take fire or explode"),
        ("[\"nitrite\"]", plain, "citric-acid-monohydrate", "nitrogen oxides"),
        ("[\"azide\"]", plain, "citric-acid-monohydrate", "hydrazoic acid"),
        ("[\"azide\"]", plain, "silver-nitrate", "explode"),
        ("[\"cyanide\"]", plain, "sodium-hypochlorite-5", "cyanogen chloride"),
        (
            "[]",
            "statements = [\"H302\"]\nsupplementary = [\"EUH032\"]",
            "citric-acid-monohydrate",
            "very poisonous gas",
        ),
        ("[]", "statements = [\"H302\"]\nsupplementary = [\"EUH029\"]", "potassium-bromide", "Water alone"),
        ("[]", "statements = [\"H201\"]", "potassium-bromide", "explodes by itself"),
    ];
    for (classes, codes, other, says) in cases {
        let folder = library(&[
            ("substances/grey-lumps.toml", &jar("grey-lumps", &format!("classes = {classes}"), codes)),
            ("fixer/bad.toml", &formula(&["grey-lumps", other])),
            ("fixer/other-way.toml", &formula(&[other, "grey-lumps"])),
            ("fixer/good.toml", &formula(&["grey-lumps", "sodium-carbonate-anhydrous"])),
        ]);
        for id in ["bad", "other-way"] {
            for arguments in [vec!["sheet", id, "1L"], vec!["label", id, "1L"], vec!["scale", id, "1L"]] {
                let ran = with_library(folder.path(), &arguments);
                assert!(
                    ran.code == 1 && ran.err.contains(says),
                    "{arguments:?} {classes} {codes}\n{}",
                    ran.whole()
                );
            }
        }
        if other != "potassium-bromide" {
            let ran = with_library(folder.path(), &["sheet", "good", "1L"]);
            assert_eq!(ran.code, 0, "{classes} {codes}\n{}", ran.whole());
        }
    }
    let three = formula(&["grey-lumps", "hydrogen-peroxide-3", "citric-acid-monohydrate"]);
    let folder = library(&[
        ("substances/grey-lumps.toml", &jar("grey-lumps", "classes = [\"ketone\"]", plain)),
        ("fixer/three.toml", &three),
    ]);
    let ran = with_library(folder.path(), &["sheet", "three", "1L"]);
    assert!(ran.code == 1 && ran.err.contains("explosive crystals"), "{}", ran.whole());
    // In two baths, one after the other.
    let two = format!(
        "{FORMULA_HEAD}[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"acetic-acid-28\"\nmillilitres = 100\n\
         [[parts]]\nname = \"B\"\n[[parts.ingredients]]\nsubstance = \"grey-lumps\"\ngrams = 5\n\
         [[use]]\nname = \"in turn\"\nbaths = [{{ A = 1 }}, {{ B = 1 }}]\n"
    );
    let folder = library(&[
        ("substances/grey-lumps.toml", &jar("grey-lumps", "classes = [\"cyanide\"]", plain)),
        ("fixer/in-turn.toml", &two),
    ]);
    let told = with_library(folder.path(), &["safety", "in-turn"]);
    assert!(told.out.contains("Acid carried into it frees a poisonous gas"), "{}", told.whole());
    // Told, and mixed all the same.
    for (codes, other, says) in [
        ("statements = [\"H302\"]\nsupplementary = [\"EUH031\"]", "citric-acid-monohydrate", "poisonous gas"),
        ("statements = [\"H260\"]", "potassium-bromide", "reacts with water"),
        ("statements = [\"H272\"]", "sodium-sulfite-anhydrous", "destroy each other"),
    ] {
        let classes = if codes.contains("H272") { "classes = [\"oxidiser\"]" } else { "classes = []" };
        let folder = library(&[
            ("substances/grey-lumps.toml", &jar("grey-lumps", classes, codes)),
            ("fixer/risky.toml", &formula(&["grey-lumps", other])),
        ]);
        let ran = with_library(folder.path(), &["sheet", "risky", "1L", "--json"]);
        let cautions = ran.json()["cautions"].to_string();
        assert!(ran.code == 0 && cautions.contains(says), "{}", ran.whole());
        // Nobody has looked at it yet, so the check is not silent over a danger.
        let checked = soupcon(&["check", folder.path().to_str().unwrap()]);
        assert!(checked.out.contains("[dangerous-combination]"), "{}", checked.whole());
    }
}

/// The names and CAS numbers as jars bear them; classes that do not say what such a chemical must not meet.
#[test]
fn what_goes_by_a_number_or_a_mild_class_must_say_what_it_must_not_meet() {
    for (form, classes, ask) in [
        ("cas = \"151-50-8\"", "[\"halide\"]", "\"cyanide\""),
        ("formula = \"KCN\"", "[\"halide\"]", "\"cyanide\""),
        ("cas = \"26628-22-8\"", "[]", "\"azide\""),
        ("formula = \"CrO3\"", "[\"oxidiser\"]", "\"chromium-vi\""),
        ("cas = \"7487-94-7\"", "[]", "as the file of a shipped relative"),
        ("synonyms = [\"nitric acid\"]", "[]", "\"acid\""),
        ("synonyms = [\"potassium chlorate\"]", "[\"halide\"]", "\"oxidiser\""),
        ("synonyms = [\"sodium nitrite\"]", "[\"reducer\"]", "\"nitrite\""),
        ("synonyms = [\"sulphide of barium\"]", "[\"reducer\"]", "\"sulfide\""),
    ] {
        let form = format!("id = \"grey-lumps\"\nname = \"grey lumps\"\n{form}");
        let text = substance("grey lumps", &format!("classes = {classes}"), &form, NOT_CLASSIFIED);
        let folder = library(&[("substances/grey-lumps.toml", &text)]);
        let ran = soupcon(&["check", folder.path().to_str().unwrap()]);
        assert!(
            ran.code == 1 && ran.out.contains("[no-classes]") && ran.out.contains(ask),
            "{form} {}",
            ran.whole()
        );
    }
}

/// A denial is no answer, and a strength that cannot exist is no recipe: 6.4 g of potassium permanganate dissolve in 100 g of water
/// (CRC Handbook).
#[test]
fn a_caution_that_calls_it_harmless_answers_nothing_and_no_more_is_dissolved_than_can_be() {
    let silver = "[[ingredients]]\nsubstance = \"silver-nitrate\"\ngrams = 20\n\
                  [[ingredients]]\nsubstance = \"ammonia-25\"\nmillilitres = 60\n";
    let with_caution = |caution: &str| format!("{FORMULA_HEAD}cautions = [\"{caution}\"]\n{silver}");
    let strong = format!(
        "{FORMULA_HEAD}[[ingredients]]\nsubstance = \"potassium-permanganate\"\nmillilitres = 100\nstrength = \"40 % w/v\"\n"
    );
    let folder = library(&[
        ("fixer/denies.toml", &with_caution("Silver nitrate and ammonia together are harmless.")),
        (
            "fixer/knows.toml",
            &with_caution("Silver nitrate and ammonia explode on drying: use at once, then acidify."),
        ),
        ("fixer/strong.toml", &strong),
    ]);
    let check = |file: &str| soupcon(&["check", folder.path().join(file).to_str().unwrap()]);
    let (denies, knows, strong) =
        (check("fixer/denies.toml"), check("fixer/knows.toml"), check("fixer/strong.toml"));
    assert!(denies.code == 1 && denies.out.contains("[dangerous-combination]"), "{}", denies.whole());
    assert!(knows.code == 0 && knows.out.contains("[known-danger]"), "{}", knows.whole());
    assert!(strong.code == 1 && strong.out.contains("[more-than-dissolves]"), "{}", strong.whole());
    assert_eq!(with_library(folder.path(), &["sheet", "strong", "1L"]).code, 1);
}

/// Parts of which no use tells how they come together stand side by side all the same.
#[test]
fn parts_without_a_use_are_judged_as_neighbours_by_every_command() {
    let text = format!(
        "{FORMULA_HEAD}[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"sodium-hypochlorite-5\"\nmillilitres = 200\n\
         [[parts]]\nname = \"B\"\n[[parts.ingredients]]\nsubstance = \"acetic-acid-28\"\nmillilitres = 100\n"
    );
    let folder = library(&[("fixer/apart.toml", &text)]);
    let safety = with_library(folder.path(), &["safety", "apart", "--json"]).json();
    for arguments in [
        vec!["sheet", "apart", "1L", "--json"],
        vec!["label", "apart", "1L", "--json"],
        vec!["show", "apart", "--json"],
    ] {
        let told = with_library(folder.path(), &arguments).json()["cautions"].to_string();
        for caution in safety["cautions"].as_array().unwrap() {
            assert!(told.contains(caution["text"].as_str().unwrap()), "{arguments:?} {told}");
        }
    }
    assert!(safety["cautions"].to_string().contains("chlorine"));
    assert_eq!(soupcon(&["check", folder.path().to_str().unwrap()]).code, 1);
}

/// A sensitizing dye, a wetting agent, a pigment: their names share letters with what is grave.
#[test]
fn letters_alone_make_no_poison_of_a_dye_or_a_soap() {
    for name in [
        "cryptocyanine",
        "phthalocyanine pigment",
        "cyan dye",
        "cetyltrimethylammonium bromide",
        "aluminium hydroxide",
        "zinc sulfide",
        "vanillin",
    ] {
        let form = format!("id = \"grey-lumps\"\nname = \"{name}\"");
        let text = substance(name, "classes = []", &form, NOT_CLASSIFIED);
        let folder = library(&[("substances/grey-lumps.toml", &text)]);
        let ran = soupcon(&["check", folder.path().to_str().unwrap()]);
        assert!(!ran.out.contains("[no-classes]"), "{name} {}", ran.whole());
    }
}
