use super::*;

/// Runs the program with a personal library that holds one substance, on a formula that uses it.
fn with_substance(substance: &str, arguments: &[&str]) -> Ran {
    let folder = tempfile::tempdir().unwrap();
    let substances = folder.path().join("substances");
    fs::create_dir_all(&substances).unwrap();
    let text = format!(
        "format = 1\nname = \"my buffer\"\nclasses = [\"borate\"]\n{substance}\n[[forms]]\nid = \"my-buffer\"\nname = \"my buffer\"\nformula = \"NaBO2.4H2O\"\n\
             [forms.hazards]\nstatus = \"typical\"\nstatements = [\"H319\", \"H360FD\"]\nsource = \"the jar\"\n"
    );
    fs::write(substances.join("my-buffer.toml"), text).unwrap();
    let formula = folder.path().join("mine.toml");
    fs::write(&formula, recipe(&[("my-buffer", 13.8)], "")).unwrap();
    let formula = formula.to_str().unwrap().to_owned();
    let library = folder.path().to_str().unwrap().to_owned();
    let all: Vec<String> = arguments
        .iter()
        .map(|own| if *own == "FORMULA" { formula.clone() } else { (*own).to_owned() })
        .chain(["--library".to_owned(), library])
        .collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    soupcon(&all)
}

#[test]
fn one_takes_part_by_the_components_it_declares() {
    let declared = "[solution]\nstanding = \"modelled\"\ncomponents = { \"Na+\" = 1, \"B(OH)3\" = 1 }\n";
    let ran = with_substance(declared, &["predict", "FORMULA", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.whole());
    let shipped = predicted(&recipe(&[("sodium-metaborate-tetrahydrate", 13.8)], ""), &[]);
    assert_abs_diff_eq!(
        number(&ran.json()["parts"][0]["ph"]),
        number(&shipped["parts"][0]["ph"]),
        epsilon = 1e-6
    );
    // It can be worked with, too.
    let ran = with_substance(
        declared,
        &[
            "adjust",
            "FORMULA",
            "--replace",
            "my-buffer",
            "--using",
            "sodium-metaborate-tetrahydrate",
            "--json",
        ],
    );
    assert_eq!(ran.json()["way"], "exact");
}

#[test]
fn one_that_declares_nothing_is_named_as_not_modelled() {
    let ran = with_substance("", &["predict", "FORMULA", "--json"]);
    let json = ran.json();
    assert!(json["parts"][0]["not_modelled"][0]["what"].as_str().unwrap().starts_with("my buffer"));
    assert_eq!(json["parts"][0]["open_doubt"], true);
    let unknown = "[solution]\nstanding = \"unknown\"\nprotons = 1\nnote = \"a weak acid of unknown make\"\n";
    let json = with_substance(unknown, &["predict", "FORMULA", "--json"]).json();
    let doubt = &json["parts"][0]["not_modelled"][0];
    assert!(doubt["what"].as_str().unwrap().contains("unknown make"));
    assert!(number(&doubt["ph_shift"]) > 1.0);
    let inert = "[solution]\nstanding = \"inert\"\n";
    let json = with_substance(inert, &["predict", "FORMULA", "--json"]).json();
    assert!(json["parts"][0]["not_modelled"].as_array().unwrap().is_empty());
}

#[test]
fn mistakes_in_a_declaration_are_told_with_a_remedy() {
    let mut told = Vec::new();
    for declared in [
        "[solution]\nstanding = \"modelled\"\ncomponents = { \"Na+\" = 1, \"CO3--\" = 1 }\n",
        "[solution]\nstanding = \"modelled\"\ncomponents = { \"Na\" = 1 }\n",
        "[solution]\nstanding = \"modelled\"\ncomponents = { unobtainium = 1 }\n",
        "[solution]\nstanding = \"modelled\"\n",
        "[solution]\nstanding = \"modelled\"\ncomponents = { \"Na+\" = -1 }\n",
        "[solution]\nstanding = \"modelled\"\ncomponents = { \"Na+\" = 1 }\nprotons = 1\n",
        "[solution]\nstanding = \"inert\"\ncomponents = { \"Na+\" = 1 }\n",
        "[solution]\nstanding = \"unknown\"\nprotons = 300\n",
        "[solution]\nstanding = \"modeled\"\ncomponents = { \"Na+\" = 1 }\n",
        "[solution]\ncomponents = { \"Na+\" = 1 }\n",
        "[solution]\nstanding = \"unknown\"\nprotones = 1\n",
    ] {
        let ran = with_substance(declared, &["predict", "FORMULA"]);
        assert_ne!(ran.code, 0, "{declared}");
        // The folder is another each time.
        let err = ran.err.lines().map(|line| {
            let from = line.find('/').unwrap_or(line.len());
            let upto = line.find("my-buffer.toml").unwrap_or(from).max(from);
            format!("{}{}", &line[..from], &line[upto..])
        });
        told.push(format!("{}\n{}", declared.trim(), err.collect::<Vec<_>>().join("\n")));
    }
    insta::assert_snapshot!(told.join("\n\n"));
}

#[test]
fn check_finds_a_component_that_does_not_exist_and_a_stated_ph_that_cannot_be() {
    let folder = tempfile::tempdir().unwrap();
    let substances = folder.path().join("substances");
    fs::create_dir_all(&substances).unwrap();
    let text = "format = 1\nname = \"my salt\"\nroles = [\"buffer\"]\nclasses = []\n[solution]\nstanding = \"modelled\"\ncomponents = { \"Na\" = 1 }\n\
                    [[forms]]\nid = \"my-salt\"\nname = \"my salt\"\nformula = \"NaCl\"\n";
    fs::write(substances.join("my-salt.toml"), text).unwrap();
    let mut formula = recipe(&[("borax-decahydrate", 10.0)], "");
    formula =
        formula.replace("[[ingredients]]", "[stated]\nph = 10.5\nsource = \"memory\"\n\n[[ingredients]]");
    let formulas = folder.path().join("test-solution");
    fs::create_dir_all(&formulas).unwrap();
    fs::write(formulas.join("mine.toml"), &formula).unwrap();
    let codes = |folder: &Path| -> Vec<String> {
        let json = soupcon(&["check", folder.to_str().unwrap(), "--json"]).json();
        let findings = json["findings"].as_array().unwrap();
        findings.iter().map(|own| own["code"].as_str().unwrap().to_owned()).collect()
    };
    let found = codes(folder.path());
    assert!(found.contains(&"stated-ph".to_owned()), "{found:?}");
    assert!(found.contains(&"unknown-component".to_owned()), "{found:?}");
    // A note shows that somebody looked.
    let noted = formula.replace("source = \"memory\"\n\n", "source = \"memory\"\nnote = \"As printed.\"\n\n");
    fs::write(formulas.join("mine.toml"), noted).unwrap();
    assert!(!codes(folder.path()).contains(&"stated-ph".to_owned()));
}
