//! What stands on a bottle, and what goes into none.

use super::*;

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
