//! The commands as a user runs them: form in snapshots (read by a person before they are accepted), facts in assertions.

use std::fs;
use std::path::Path;

use crate::common::{command, good, soupcon, soupcon_with_input};

/// A personal library in a real folder.
fn library(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (path, text) in files {
        let path = folder.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    folder
}

const OWN: &str = "format = 1\ntitle = \"My weekend developer\"\nkind = \"film-developer\"\nsummary = \"Ours.\"\nevidence = \"memory\"\naliases = [\"weekend soup\"]\n\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 3\n\n[[ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 60\n";

fn with_library(folder: &Path, arguments: &[&str]) -> crate::common::Ran {
    let mut all = arguments.to_vec();
    let folder = folder.to_string_lossy().into_owned();
    all.extend(["--library", &folder]);
    soupcon(&all)
}

mod help {
    use super::*;

    #[test]
    fn no_arguments_show_help_and_exit_2() {
        let ran = soupcon(&[]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("Usage:") && ran.out.is_empty());
    }

    #[test]
    fn every_command_has_an_example_that_runs() {
        let help = good(&["--help"]).out;
        // Commands stand below the headings of their tasks, after the examples and before the options.
        let names: Vec<&str> = help
            .split("\nExamples:\n")
            .nth(1)
            .unwrap()
            .split("\nOptions:\n")
            .next()
            .unwrap()
            .lines()
            .filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next())
            .filter(|name| {
                !["help", "soupcon"].contains(name) && name.chars().all(|own| own.is_ascii_lowercase())
            })
            .filter(|name| soupcon(&[name, "--help"]).code == 0)
            .collect();
        assert!(names.len() >= 8, "{names:?}");
        for name in names {
            let text = good(&[name, "--help"]).out;
            assert!(text.contains("Examples:"), "{name} has no examples");
            assert!(text.contains(&format!("soupcon {name}")), "{name} has no example of itself");
        }
    }

    #[test]
    fn a_mistyped_command_gets_a_suggestion_and_is_not_run() {
        let ran = soupcon(&["scael", "mq-borax-classic", "500ml"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("scale"), "{}", ran.err);
    }
}

mod show {
    use super::*;

    #[test]
    fn the_card_reads_well_at_80_columns() {
        let ran = good(&["show", "mq-borax-bromide-80-sulfite"]);
        assert!(ran.out.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 80));
        insta::assert_snapshot!(ran.out);
    }

    #[test]
    fn a_mistyped_id_gets_near_misses_and_is_not_corrected() {
        let ran = soupcon(&["show", "mq-borax-clasic"]);
        assert_eq!(ran.code, 2);
        assert!(ran.out.is_empty() && ran.err.contains("did you mean mq-borax-classic"), "{}", ran.err);
    }

    #[test]
    fn a_formula_from_standard_input_is_the_same_as_from_its_file() {
        let folder = library(&[("own.toml", OWN)]);
        let path = folder.path().join("own.toml");
        let from_file = good(&["scale", path.to_str().unwrap(), "1L", "--json"]).json();
        let from_input = soupcon_with_input(&["scale", "-", "1L", "--json"], OWN.as_bytes()).json();
        assert_eq!(from_file["parts"], from_input["parts"]);
    }
}

mod list {
    use super::*;

    #[test]
    fn filters_narrow_and_a_parent_stands_for_its_forms() {
        let ids = |arguments: &[&str]| -> Vec<String> {
            let mut all = vec!["list", "--json"];
            all.extend(arguments);
            let json = good(&all).json();
            json["formulas"]
                .as_array()
                .unwrap()
                .iter()
                .map(|own| own["id"].as_str().unwrap().to_owned())
                .collect()
        };
        let all = ids(&[]);
        assert!(all.len() >= 110);
        let carbonate = ids(&["--with", "sodium-carbonate"]);
        let monohydrate = ids(&["--with", "sodium-carbonate-monohydrate"]);
        assert!(
            !monohydrate.is_empty() && monohydrate.len() < carbonate.len() && carbonate.len() < all.len()
        );
        assert!(monohydrate.iter().all(|id| carbonate.contains(id)));
        let without = ids(&["--with", "metol", "--without", "hydroquinone"]);
        assert!(
            without.contains(&"metol-sulfite".to_owned())
                && !without.contains(&"mq-borax-classic".to_owned())
        );
        assert!(ids(&["--kind", "fixer"]).len() >= 8);
        assert!(ids(&["borax", "fine", "grain"]).iter().all(|id| all.contains(id)));
    }

    #[test]
    fn nothing_found_is_exit_1_and_a_wrong_kind_gets_a_suggestion() {
        assert_eq!(soupcon(&["list", "unobtainium"]).code, 1);
        let ran = soupcon(&["list", "--kind", "fixxer"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("did you mean fixer"), "{}", ran.err);
        assert_eq!(soupcon(&["list", "--with", "unobtainium"]).code, 2);
    }

    #[test]
    fn a_kind_reads_well_at_80_and_at_40_columns() {
        let wide = good(&["list", "--kind", "washing-aid"]).out;
        insta::assert_snapshot!(wide);
        let narrow = command(&["list", "--kind", "washing-aid"]).env("COLUMNS", "40").output().unwrap();
        let narrow = String::from_utf8(narrow.stdout).unwrap();
        assert!(narrow.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 40), "{narrow}");
    }
}

mod scale {
    use super::*;

    #[test]
    fn a_batch_with_doses_and_advice() {
        insta::assert_snapshot!(good(&["scale", "mq-borax-bromide-80-sulfite", "500ml"]).out);
    }

    #[test]
    fn forms_on_the_shelf_are_exchanged_mole_for_mole() {
        // Source: hydrate table of M. Langford, Basic Photography, appendix D: monohydrate 1.17 to 1.2 times the anhydrous.
        let item = |have: &[&str], form: &str| {
            let mut all = vec!["scale", "mq-carbonate-universal-film-paper", "1L", "--json"];
            all.extend(have);
            let json = good(&all).json();
            let items = json["parts"][0]["items"].as_array().unwrap();
            items.iter().find(|item| item["substance"] == form).unwrap().clone()
        };
        let own = item(&[], "sodium-carbonate-anhydrous");
        let shelf = item(&["--have", "sodium-carbonate-monohydrate"], "sodium-carbonate-monohydrate");
        assert_eq!(shelf["instead_of"], "sodium-carbonate-anhydrous");
        let factor = shelf["amount"].as_f64().unwrap() / own["amount"].as_f64().unwrap();
        assert!((factor - 1.17).abs() < 0.005, "{factor}");
    }

    #[test]
    fn what_rounds_to_nothing_is_shown_as_it_is() {
        for (command, words) in
            [("scale", "0.002 mL  sulfuric acid"), ("sheet", "0.002 mL   SULFURIC ACID, conc.")]
        {
            let out = good(&[command, "permanganate-sulfuric-reversal-bleach", "1ml"]).out;
            assert!(out.contains(words), "{out}");
        }
    }

    #[test]
    fn the_last_three_grams_of_metol_make_the_largest_batch() {
        let json = good(&["scale", "mq-borax-classic", "--limit", "metol=3.2g", "--json"]).json();
        assert!((json["parts"][0]["volume_ml"].as_f64().unwrap() - 1600.0).abs() < 1e-6);
        assert_eq!(json["limited_by"], "metol");
        let ran = soupcon(&["scale", "mq-borax-classic", "2L", "--limit", "metol=3.2g"]);
        assert_eq!(ran.code, 1);
        assert!(ran.err.contains("1600 mL"), "{}", ran.err);
        let ran = soupcon(&["scale", "mq-borax-classic", "--limit", "glycin=3.2g"]);
        assert_eq!(ran.code, 2);
    }

    #[test]
    fn a_working_volume_takes_only_its_share_of_stock() {
        let json = good(&["scale", "mq-borax-classic", "1L", "--working", "1+3", "--json"]).json();
        assert!((json["parts"][0]["volume_ml"].as_f64().unwrap() - 250.0).abs() < 1e-9);
        let json =
            good(&["scale", "pyro-metol-metaborate-staining", "1030ml", "--working", "1+2+100", "--json"])
                .json();
        assert!((json["parts"][0]["volume_ml"].as_f64().unwrap() - 10.0).abs() < 1e-9);
        assert!((json["parts"][1]["volume_ml"].as_f64().unwrap() - 20.0).abs() < 1e-9);
        assert_eq!(soupcon(&["scale", "mq-borax-classic", "1L", "--working", "1+1+8"]).code, 2);
    }

    #[test]
    fn an_assay_weighs_more_and_is_offered_but_never_applied_by_itself() {
        let plain = good(&["scale", "pyrocatechol-phenidone-carbonate-staining", "1L", "--json"]).json();
        assert!(plain["schema_version"].is_u64());
        let text = good(&["scale", "mq-caustic-potash-two-solution", "1L"]).out;
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("taken as 100 % pure"), "{text}");
        let json = good(&[
            "scale",
            "mq-caustic-potash-two-solution",
            "1L",
            "--assay",
            "potassium-hydroxide=86%",
            "--json",
        ])
        .json();
        let item = json["parts"][1]["items"]
            .as_array()
            .unwrap()
            .iter()
            .find(|item| item["substance"] == "potassium-hydroxide");
        assert!((item.unwrap()["amount"].as_f64().unwrap() - 4.6 / 0.86).abs() < 1e-6);
    }

    #[test]
    fn refusals_of_volumes_and_masses_each_have_their_own_words() {
        let mut report = String::new();
        for volume in
            ["500", "16oz", "1qt", "0,5L", "nan", "-1L", "1e400L", "500mg", "0ml", "", "half", "1e9L", "300L"]
        {
            let ran = soupcon(&["scale", "mq-borax-classic", "--", volume]);
            assert_ne!(ran.code, 0, "{volume} was taken");
            report.push_str(&format!("# VOLUME {volume:?} (exit {})\n{}\n", ran.code, ran.err));
        }
        for balance in ["0.1", "0,1g", "1oz2", "inf g", "0g", "2dr", "5gr"] {
            let ran = soupcon(&["scale", "mq-borax-classic", "1L", "--balance", balance]);
            assert_eq!(ran.code, 2, "{balance}");
            report.push_str(&format!("# --balance {balance:?}\n{}\n", ran.err));
        }
        for working in ["1:4", "2:10", "1:1", "3", "1+", "1+x", "0+3", "1+-3"] {
            let ran = soupcon(&["scale", "mq-borax-classic", "1L", "--working", working]);
            assert_eq!(ran.code, 2, "{working}");
            report.push_str(&format!("# --working {working:?}\n{}\n", ran.err));
        }
        insta::assert_snapshot!(report);
    }
}

mod small_calculators {
    use super::*;

    #[test]
    fn dilute_percent_exchange_and_water_print_what_to_take() {
        let mut report = String::new();
        for arguments in [
            vec!["dilute", "1+3", "600ml"],
            vec!["dilute", "1+2+100", "1030ml", "--formula", "pyro-metol-metaborate-staining"],
            vec!["dilute", "1+1", "300ml", "--formula", "mq-borax-classic", "--films", "2"],
            vec!["percent", "potassium-bromide", "10 % w/v", "250ml"],
            vec!["percent", "acetic-acid", "28 % w/w", "500ml"],
            vec!["percent", "boric-acid", "10%", "100ml"],
            vec!["exchange", "67.5g", "sodium-carbonate-anhydrous", "--for", "sodium-carbonate-monohydrate"],
            vec!["exchange", "10g", "sodium-ascorbate", "--for", "ascorbic-acid"],
            vec!["exchange", "10g", "metol", "--for", "hydroquinone"],
            vec!["water", "1L", "--hot", "45C", "--cold", "12C", "--target", "20C"],
            vec!["water", "1L", "--hot", "45C", "--cold", "22C", "--target", "20C"],
        ] {
            let ran = soupcon(&arguments);
            report.push_str(&format!("$ soupcon {}\n{}\n", arguments.join(" "), ran.whole()));
        }
        insta::assert_snapshot!(report);
    }

    #[test]
    fn water_agrees_with_the_steam_tables() {
        // Source: IAPWS-95 enthalpy and mass balance (Python package iapws): 1 L at 20 °C from 45 and 12 °C takes 244.7 mL hot, 756.3 cold.
        let json =
            good(&["water", "1L", "--hot", "45C", "--cold", "12C", "--target", "20C", "--json"]).json();
        assert!((json["hot_ml"].as_f64().unwrap() - 244.7).abs() < 1.0);
        assert!((json["cold_ml"].as_f64().unwrap() - 756.3).abs() < 1.0);
    }

    #[test]
    fn dilute_is_arithmetic() {
        let json = good(&["dilute", "1+3", "600ml", "--json"]).json();
        assert!((json["stock_ml"].as_f64().unwrap() - 150.0).abs() < 1e-9);
        assert!((json["water_ml"].as_f64().unwrap() - 450.0).abs() < 1e-9);
    }

    #[test]
    fn percent_counts_its_basis() {
        let json = good(&["percent", "potassium-bromide", "10 % w/v", "250ml", "--json"]).json();
        assert!((json["solute_g"].as_f64().unwrap() - 25.0).abs() < 1e-9);
        assert!((json["make_up_to_ml"].as_f64().unwrap() - 250.0).abs() < 1e-9);
        assert!(json["make_up_to_g"].is_null());
        // By mass all the water is weighed before, and acid goes into it.
        let acid = ["percent", "sulfuric-acid", "10 % w/w", "500ml"];
        assert_eq!(good(&[&acid[..], &["--json"]].concat()).json()["make_up_to_g"], 500.0);
        let text = good(&acid).out;
        assert!(
            text.find("of cold water, all of it").unwrap() < text.find("500 g in all").unwrap(),
            "{text}"
        );
        // A liquid must say which percent is meant.
        assert_eq!(soupcon(&["percent", "acetic-acid", "28%", "500ml"]).code, 2);
    }

    /// 100 g of water at 20 °C hold 26.42 g of sodium sulfite, 143.9 g of potassium iodide (CRC Handbook, aqueous solubility).
    #[test]
    fn a_percent_solution_above_the_solubility_is_refused_by_the_water_that_is_left() {
        for (form, strength, is_told) in [
            // 20 g in 80 g of water are 25 in 100 g; 25 g in 75 g are 33.3.
            ("sodium-sulfite-anhydrous", "20 % w/w", false),
            ("sodium-sulfite-anhydrous", "25 % w/w", true),
            ("sodium-sulfite-anhydrous", "20 % w/v", false),
            // 100 g of crystals of 3.12 g/mL leave 68 of 100 mL to the water, which holds 98 g.
            ("potassium-iodide", "100 % w/v", true),
            ("potassium-iodide", "80 % w/v", false),
            // 58 g in 42 g of water are 138 in 100 g; 60 g in 40 g are 150.
            ("potassium-iodide", "58 % w/w", false),
            ("potassium-iodide", "60 % w/w", true),
        ] {
            let ran = soupcon(&["percent", form, strength, "100ml"]);
            assert_eq!(ran.code == 1, is_told, "{form} {strength}\n{}", ran.whole());
            assert_eq!(ran.err.contains("more than dissolves"), is_told, "{form} {strength}");
        }
    }
}

mod substance {
    use super::*;

    #[test]
    fn every_form_is_listed_and_each_can_be_asked_for() {
        let json = good(&["substance", "--json"]).json();
        let all = json["substances"].as_array().unwrap();
        assert!(all.len() >= 126);
        for own in all {
            let id = own["id"].as_str().unwrap();
            let one = good(&["substance", id, "--json"]).json();
            assert_eq!(one["id"], id);
            assert!(one["hazards"].is_array() && one["crystal_water"].is_number());
        }
    }

    #[test]
    fn hydrates_name_their_parent_and_water() {
        let json = good(&["substance", "sodium-carbonate-decahydrate", "--json"]).json();
        assert_eq!(json["parent"], "sodium-carbonate");
        assert!((json["crystal_water"].as_f64().unwrap() - 10.0).abs() < 1e-12);
        // Source: CRC Handbook, physical constants: 286.141 g/mol.
        assert!((json["molar_mass"].as_f64().unwrap() - 286.141).abs() < 0.02);
        let json = good(&["substance", "metol", "--json"]).json();
        assert!(json["parent"].is_null());
    }

    #[test]
    fn names_and_cas_numbers_lead_to_it_and_a_bare_parent_is_told_its_forms() {
        assert_eq!(good(&["substance", "55-55-0", "--json"]).json()["id"], "metol");
        let ran = soupcon(&["substance", "soda"]);
        assert_eq!(ran.code, 2);
        insta::assert_snapshot!(soupcon(&["substance", "sodium-carbonate"]).whole());
    }

    #[test]
    fn the_card_of_metol() {
        insta::assert_snapshot!(good(&["substance", "metol"]).out);
    }
}

mod personal_libraries {
    use super::*;

    #[test]
    fn an_own_formula_is_found_by_id_alias_and_path_and_is_listed() {
        let folder = library(&[("film-developer/weekend.toml", OWN)]);
        for name in ["weekend", "weekend soup", "Weekend Soup"] {
            let ran = with_library(folder.path(), &["show", name]);
            assert_eq!(ran.code, 0, "{name}: {}", ran.whole());
        }
        let listed = with_library(folder.path(), &["list", "weekend", "--json"]).json();
        assert_eq!(listed["formulas"][0]["id"], "weekend");
        assert_ne!(listed["formulas"][0]["origin"], "shipped");
    }

    #[test]
    fn an_own_formula_may_shadow_a_shipped_one_and_that_is_said() {
        let folder = library(&[("film-developer/mq-borax-classic.toml", OWN)]);
        let ran = with_library(folder.path(), &["scale", "mq-borax-classic", "1L", "--json"]);
        assert_eq!(ran.code, 0);
        assert!(ran.err.contains("overrides the built-in one"), "{}", ran.err);
        assert_eq!(ran.json()["parts"][0]["items"].as_array().unwrap().len(), 2);
        // The last layer wins.
        let second =
            library(&[("film-developer/mq-borax-classic.toml", &OWN.replace("grams = 3", "grams = 4"))]);
        let ran = soupcon(&[
            "scale",
            "mq-borax-classic",
            "1L",
            "--json",
            "--library",
            folder.path().to_str().unwrap(),
            "--library",
            second.path().to_str().unwrap(),
        ]);
        assert!((ran.json()["parts"][0]["items"][0]["amount"].as_f64().unwrap() - 4.0).abs() < 1e-12);
    }

    #[test]
    fn a_shipped_substance_cannot_be_replaced() {
        let text = "format = 1\nname = \"metol\"\nroles = [\"developing-agent\"]\nclasses = []\n[[forms]]\nid = \"metol\"\nname = \"metol\"\n";
        let folder = library(&[("substances/metol.toml", text)]);
        let ran = with_library(folder.path(), &["show", "mq-borax-classic"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("cannot be replaced"), "{}", ran.err);
    }

    #[test]
    fn an_own_substance_takes_part_with_its_hazard_unknown() {
        let substance = "format = 1\nname = \"our tea\"\nroles = [\"buffer\"]\n[[forms]]\nid = \"our-tea\"\nname = \"our tea\"\nformula = \"C8H10N4O2\"\n";
        let formula = OWN.replace("\"sodium-sulfite-anhydrous\"", "\"our-tea\"");
        let folder =
            library(&[("substances/our-tea.toml", substance), ("film-developer/tea.toml", &formula)]);
        let ran = with_library(folder.path(), &["sheet", "tea", "1L"]);
        assert_eq!(ran.code, 0, "{}", ran.whole());
        assert!(ran.out.contains("hazard not known: our tea"), "{}", ran.out);
        assert!(ran.out.contains("combinations not checked for our tea"), "{}", ran.out);
    }

    #[test]
    fn the_environment_names_folders_too_and_a_missing_one_is_refused() {
        let folder = library(&[("film-developer/weekend.toml", OWN)]);
        let output = command(&["show", "weekend"]).env("SOUPCON_LIBRARY", folder.path()).output().unwrap();
        assert!(output.status.success());
        assert_eq!(soupcon(&["list", "--library", "/nowhere/at/all"]).code, 2);
    }

    #[test]
    fn the_same_id_in_two_folders_of_one_library_is_refused() {
        let folder = library(&[("film-developer/weekend.toml", OWN), ("fixer/weekend.toml", OWN)]);
        let ran = with_library(folder.path(), &["show", "weekend"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("stands twice"), "{}", ran.err);
    }

    #[test]
    fn a_name_with_dots_and_slashes_never_leaves_the_library() {
        let folder = library(&[("film-developer/weekend.toml", OWN), ("secret.toml", OWN)]);
        let ran = with_library(folder.path(), &["show", "..\u{2215}secret"]);
        assert_eq!(ran.code, 2);
        let ran = with_library(folder.path(), &["scale", "weekend", "1L", "--have", "../secret"]);
        assert_eq!(ran.code, 2);
    }
}

mod sheet {
    use super::*;

    #[test]
    fn the_sheet_of_a_real_developer_at_80_columns() {
        let ran = good(&["sheet", "mq-borax-bromide-80-sulfite", "500ml"]);
        assert!(ran.out.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 80));
        insta::assert_snapshot!(ran.out);
    }

    #[test]
    fn the_sheet_of_a_two_part_developer_and_of_a_fixer() {
        insta::assert_snapshot!(good(&["sheet", "pyro-metol-metaborate-staining", "500ml"]).out);
        insta::assert_snapshot!("fixer", good(&["sheet", "acid-hardening-alum-boric-fixer", "2L"]).out);
    }

    #[test]
    fn percent_solutions_are_made_first_and_have_their_bottles() {
        let out = good(&["sheet", "pq-borax-buffered", "500ml", "--side", "both"]).out;
        let joined = out.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in [
            "syringe or pipette, thermometer",
            "a bottle for each percent solution (potassium bromide, 10 % w/v; phenidone, 1 % w/v), propylene glycol.",
            "[ ] 5.0 g potassium bromide [ ] to 50 mL with water;",
            "[ ] 1.0 g phenidone [ ] to 100 mL with propylene glycol;",
            // Half of 0.1 g over 0.5 g and over 0.1 g.
            "0.5 g is too little for a 0.1 g balance (± 10 %; a restrainer needs ± 2 %)",
            "0.1 g is too little for a 0.1 g balance (± 50 %; a weighing needs ± 5 %)",
        ] {
            assert!(joined.contains(words), "{words}: {out}");
        }
        // The row says whence it comes.
        assert!(joined.contains("5 mL POTASSIUM BROMIDE, 10 %"), "{out}");
        assert!(joined.contains("your own solution (see reasons)"), "{out}");
        // Bromide in two parts is one bottle, with enough in it for both.
        let two = TWO_PARTS_WITH_BROMIDE.as_bytes();
        let ran = soupcon_with_input(&["sheet", "-", "1L", "--side", "both"], two);
        assert_eq!(ran.out.matches("potassium bromide, 10 % w/v)").count(), 1, "{}", ran.whole());
        assert_eq!(ran.out.matches("to 100 mL").count(), 1, "60 mL are needed: {}", ran.out);
        assert!(ran.out.contains("a clean bottle for each part (A, B)"), "{}", ran.out);
        assert_eq!(ran.out.matches("PART B: rinse vessel and stirrer first").count(), 1, "{}", ran.out);
    }

    /// Each part measures bromide out of the same percent solution.
    const TWO_PARTS_WITH_BROMIDE: &str = r#"
format = 1
title = "two parts with bromide"
kind = "film-developer"
summary = "For a test."
evidence = "memory"

[[parts]]
name = "A"
[[parts.ingredients]]
substance = "potassium-bromide"
millilitres = 30
strength = "10 % w/v"

[[parts]]
name = "B"
[[parts.ingredients]]
substance = "potassium-bromide"
millilitres = 30
strength = "10 % w/v"
"#;

    #[test]
    fn a_strong_acid_goes_into_the_water_of_its_percent_solution() {
        let out =
            good(&["sheet", "permanganate-persulfate-proportional-reducer", "1L", "--side", "reasons"]).out;
        let joined = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(joined.contains("sulfuric acid, concentrated: slowly into most of the water, COLD"), "{out}");
        assert!(joined.contains("Write on its bottle: sulfuric acid, 10 % v/v"), "{out}");
    }

    #[test]
    fn a_batch_too_small_to_mix_is_told_first_with_the_least_that_is_not() {
        // A balance of 0.1 g weighs 1 g to 5 %: 2 g/L of metol from 500 mL on.
        let ran = good(&["sheet", "mq-borax-classic", "1ml"]);
        let (told, begin) = (ran.out.find("DO NOT MIX THIS BATCH"), ran.out.find("WEAR"));
        assert!(told.is_some() && told < begin, "{}", ran.out);
        assert!(
            ran.out.contains("Mix 500 mL or more.") && ran.err.contains("Mix 500 mL or more."),
            "{ran:?}"
        );
        assert!(!ran.out.contains("0.00 mL"), "{}", ran.out);
        let json = good(&["sheet", "mq-borax-classic", "1ml", "--json"]).json();
        assert!(json["safety"][0].as_str().unwrap().contains("cannot be mixed"));
        // What is advised can be mixed; bromide is then measured from its solution.
        for (formula, least) in [("mq-borax-classic", "500ml"), ("mq-borax-bromide-80-sulfite", "700ml")] {
            let out = good(&["sheet", formula, least]).out;
            assert!(!out.contains("DO NOT MIX") && !out.contains("on this balance"), "{out}");
        }
        let ran = good(&["sheet", "mq-borax-bromide-80-sulfite", "1ml"]);
        assert!(ran.err.contains("Mix 700 mL or more."), "{}", ran.err);
    }

    #[test]
    fn another_way_of_mixing_stands_at_the_end_and_never_above_the_steps() {
        let out = good(&["sheet", "mq-borax-classic", "1L", "--side", "both"]).out;
        let way = out.find("NOT followed here").unwrap();
        assert!(way > out.find("WHY, BY STEP").unwrap() && !out[..way].contains("three vessels"), "{out}");
    }

    #[test]
    fn the_sheet_as_markdown() {
        insta::assert_snapshot!(good(&["sheet", "citric-acid-stop-bath", "1L", "--format", "markdown"]).out);
    }

    #[test]
    fn narrow_and_ascii_sheets_keep_every_word() {
        let narrow = command(&["sheet", "mq-borax-classic", "500ml", "--ascii"])
            .env("COLUMNS", "40")
            .output()
            .unwrap();
        let text = String::from_utf8(narrow.stdout).unwrap();
        assert!(text.is_ascii());
        assert!(text.lines().all(|line| line.len() <= 44), "{text}");
        assert!(text.contains("50 deg C"));
    }

    #[test]
    fn a_file_is_written_whole_and_never_over_another_without_force() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("sheet.md");
        let path = path.to_str().unwrap();
        let write = |extra: &[&str]| {
            let mut all = vec!["sheet", "mq-borax-classic", "500ml", "--format", "markdown", "-o", path];
            all.extend(extra);
            soupcon(&all)
        };
        assert_eq!(write(&[]).code, 0);
        assert!(fs::read_to_string(path).unwrap().starts_with("# "));
        let again = write(&[]);
        assert_eq!(again.code, 1);
        assert!(again.err.contains("--force"));
        assert_eq!(write(&["--force"]).code, 0);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "a temporary file was left");
    }

    #[test]
    fn hostile_text_is_inert_in_every_format() {
        let hostile = OWN
            .replace("My weekend developer", "<script>alert(1)</script> & *bold* [x](y)")
            .replace("Ours.", "| pipe | `code` <b>");
        for format in ["text", "markdown", "html", "json"] {
            let ran = soupcon_with_input(&["sheet", "-", "1L", "--format", format], hostile.as_bytes());
            assert_eq!(ran.code, 0, "{}", ran.whole());
            assert!(ran.out.chars().all(|letter| letter == '\n' || !letter.is_control()));
            if format == "html" {
                assert!(!ran.out.contains("<script") && ran.out.contains("&lt;script&gt;"));
            }
            if format == "markdown" {
                assert!(!ran.out.contains("<script"));
            }
        }
    }
}

mod streams {
    use super::*;
    use std::process::Stdio;

    #[test]
    fn a_closed_pipe_ends_quietly() {
        let mut child = command(&["list"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0));
        assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_full_disk_is_reported_without_a_panic() {
        for arguments in [vec!["list"], vec!["--help"], vec!["sheet", "mq-borax-classic", "1L"]] {
            let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
            let output = command(&arguments)
                .stdout(full)
                .stderr(Stdio::piped())
                .spawn()
                .unwrap()
                .wait_with_output()
                .unwrap();
            assert_eq!(output.status.code(), Some(1), "{arguments:?}");
            assert!(!String::from_utf8_lossy(&output.stderr).contains("panicked"));
        }
    }

    #[test]
    fn the_same_input_gives_the_same_bytes_in_any_locale() {
        let plain = good(&["scale", "mq-borax-classic", "500ml", "--json"]).out;
        for locale in ["C", "de_DE.UTF-8", "tr_TR.UTF-8"] {
            let output = command(&["scale", "mq-borax-classic", "500ml", "--json"])
                .env("LC_ALL", locale)
                .output()
                .unwrap();
            assert_eq!(String::from_utf8(output.stdout).unwrap(), plain);
        }
    }
}

mod shelf {
    use super::*;

    const JARS: &str = "format = 1\nhave = [\"metol=12g\", \"sodium-sulfite-heptahydrate\", \"borax-pentahydrate=500g\", \"potassium-bromide\"]\n";

    #[test]
    fn its_forms_are_taken_and_what_it_lacks_is_told() {
        let folder = library(&[("shelf.toml", JARS)]);
        let file = folder.path().join("shelf.toml");
        let shelf = ["--shelf", file.to_str().unwrap()];
        let ran = good(&[&["scale", "mq-borax-classic", "1L"], &shelf[..]].concat());
        // 252.150 / 126.043 and 291.296 / 381.372, molmass 2026.1.8.
        assert!(ran.out.contains("200.1 g  sodium sulfite, crystals (heptahydrate)"), "{}", ran.out);
        assert!(ran.out.contains("1.5 g  borax, pentahydrate"), "{}", ran.out);
        assert_eq!(ran.err, "note: not on the shelf: hydroquinone; you cannot mix this yet\n");

        // An option goes before the file.
        let named = ["scale", "mq-borax-classic", "1L", "--have", "sodium-sulfite-anhydrous"];
        let ran = good(&[&named, &shelf[..]].concat());
        assert!(ran.out.contains("100.0 g  sodium sulfite, anhydrous"), "{}", ran.out);

        // Paper says what is not there, for the note is gone by then; the answer is no.
        let sheet = [&["sheet", "mq-borax-classic", "1L"], &shelf[..]].concat();
        let ran = soupcon(&sheet);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert!(ran.out.contains("SULFITE, heptahydrate"), "{}", ran.out);
        assert!(ran.out.contains("NOT ON THE SHELF: hydroquinone"), "{}", ran.out);
        let json = soupcon(&[&sheet[..], &["--json"]].concat());
        assert_eq!((json.code, json.json()["missing"][0]["substance"].as_str()), (1, Some("hydroquinone")));

        assert_eq!(json.json()["missing"][0]["needed_g"], 5.0);
        let page = folder.path().join("page.html");
        let written = ["--format", "html", "-o", page.to_str().unwrap()];
        assert_eq!(soupcon(&[&sheet[..], &written].concat()).code, 1);
        assert!(std::fs::read_to_string(page).unwrap().contains("NOT ON THE SHELF: hydroquinone"));
    }

    #[test]
    fn a_jar_that_would_run_out_stops_the_batch_and_sets_the_largest() {
        let folder = library(&[("shelf.toml", JARS)]);
        let file = folder.path().join("shelf.toml");
        let shelf = ["--shelf", file.to_str().unwrap()];
        let ran = soupcon(&[&["scale", "mq-borax-classic", "8L"], &shelf[..]].concat());
        assert_eq!(ran.code, 1);
        assert!(
            ran.err.contains("metol: this batch needs 16 g; you have 12 g, enough for 6000 mL"),
            "{}",
            ran.err
        );
        let ran = good(&[&["scale", "mq-borax-classic"], &shelf[..]].concat());
        assert!(ran.out.contains("12.0 g  metol"), "{}", ran.out);
    }

    #[test]
    fn a_file_that_is_not_there_is_told_with_the_command_that_starts_one() {
        for command in [&["scale", "mq-borax-classic", "1L"][..], &["list", "--can-make"]] {
            let ran = soupcon(&[command, &["--shelf", "no-such-shelf.toml"]].concat());
            assert_eq!(ran.code, 2);
            assert!(
                ran.err.contains("no-such-shelf.toml") && ran.err.contains("soupcon new shelf"),
                "{}",
                ran.err
            );
        }
    }
}

mod balance {
    use super::*;

    #[test]
    fn more_than_it_carries_is_weighed_in_portions_it_can_show() {
        let ran = good(&["scale", "mq-borax-classic", "500ml", "--balance-max", "1g"]);
        let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains("weigh 50 portions of 1 g -"), "{told}");
        assert!(told.contains("weigh 2 portions of 1 g and one of 0.5 g +"), "{told}");
    }

    #[test]
    fn how_far_off_counts_the_rounding_and_the_half_step() {
        // 1.25 g becomes 1.5 g, read to 0.25 g: (0.25 + 0.25) / 1.25.
        let ran = good(&["scale", "sulfide-sepia-bleach-redevelop-toner", "250ml", "--balance", "0.5g"]);
        let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains("(± 40 %)"), "{told}");
    }

    #[test]
    fn one_that_carries_less_than_it_shows_is_told_where_it_was_given() {
        let ran = soupcon(&["scale", "mq-borax-classic", "500ml", "--balance-max", "0.001g"]);
        assert_eq!(ran.code, 2);
        assert!(
            ran.err.contains("--balance-max: a balance that shows 0.1 g cannot carry only 0.001 g"),
            "{}",
            ran.err
        );

        let folder = library(&[("config.toml", "format = 1\n\nbalance_max = \"0.001 g\"\n")]);
        let file = folder.path().join("config.toml");
        let arguments = ["scale", "mq-borax-classic", "500ml"];
        let ran = command(&arguments).env("SOUPCON_CONFIG", &file).output().unwrap();
        let told = String::from_utf8(ran.stderr).unwrap();
        assert!(told.contains("config.toml:3: balance_max: a balance that shows 0.1 g"), "{told}");
    }
}

mod slips {
    use super::*;

    #[test]
    fn each_is_answered_with_what_was_meant() {
        let cases: [(&[&str], &str); 8] = [
            (&["list", "fixr"], "no formula mentions `fixr`: did you mean fixer?"),
            (
                &["concentrate", "mq-borax-classic", "--temp", "18C"],
                "unexpected argument '--temp' found\n\nUsage:",
            ),
            (&["scale", "mq-borax-classic", "-500ml"], "-500ml: an amount cannot be below zero"),
            (
                &["scale", "mq-borax-classic", "1,000ml"],
                "write 1000 for thousands, or 1.000 where the comma is a decimal mark",
            ),
            (&["scale", "mq-borax-classic", "1,000.5ml"], "write 1000.5\n"),
            (&["scale", "mq-borax-classic", "0,125L"], "write 0.125\n"),
            (&["scale", "mq-borax-classic", "1,5,6L"], "write one number with one point"),
            (
                &["new", "configuration", "-o", "no/such/folder/config.toml"],
                "make the folder first: mkdir -p no/such/folder",
            ),
        ];
        for (arguments, told) in cases {
            let ran = soupcon(arguments);
            assert!(ran.code != 0 && ran.err.contains(told), "{arguments:?}\n{}", ran.err);
        }
        assert!(good(&["substance", "acetic-acid-glacial"]).out.starts_with("acetic acid, glacial\n"));
    }

    #[test]
    fn a_folder_that_is_not_there_is_told_by_the_name_that_gave_it() {
        let ran = command(&["list"]).env("SOUPCON_LIBRARY", "no-such-folder").output().unwrap();
        let told = String::from_utf8(ran.stderr).unwrap();
        assert!(told.starts_with("error: SOUPCON_LIBRARY: no-such-folder is not a folder"), "{told}");
        let ran = soupcon(&["list", "--library", "no-such-folder"]);
        assert!(ran.err.starts_with("error: --library: no-such-folder is not a folder"), "{}", ran.err);
    }
}

#[test]
fn what_must_never_be_in_one_vessel_is_refused_wherever_it_would_be_mixed() {
    let text = format!("{OWN}\n[[ingredients]]\nsubstance = \"potassium-dichromate\"\ngrams = 5\n");
    let folder = library(&[("soup.toml", &text)]);
    let path = folder.path().join("soup.toml");
    let path = path.to_str().unwrap();
    for arguments in [&["scale", path, "1L"][..], &["sheet", path, "1L"], &["label", path, "1L"]] {
        let ran = soupcon(arguments);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{arguments:?}");
        assert!(ran.err.contains("destroy each other in one vessel"), "{arguments:?}\n{}", ran.err);
    }
    let ran = soupcon(&["check", path]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("[never-in-one-vessel]"), "{}", ran.out);
}

/// Paper is sold as A4 and as Letter; the configuration and the environment take either case too.
#[test]
fn a_paper_is_known_in_capitals_and_in_small_letters() {
    let page =
        |paper: &str| good(&["show", "plain-thiosulfate-fixer", "--format", "html", "--paper", paper]).out;
    assert_eq!(page("A4"), page("a4"));
    assert_eq!(page("Letter"), page("letter"));
    assert_ne!(page("A4"), page("LETTER"));
}

/// `help` in the place of a file is a question for help, also of the command that takes files.
#[test]
fn help_is_told_by_every_command_that_has_commands() {
    for command in ["curve", "exposure", "record"] {
        let told = good(&[command, "help"]).out;
        assert!(told.contains("Usage: soupcon") && told.contains("Commands:"), "{command}: {told}");
    }
}
