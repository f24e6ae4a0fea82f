use super::*;

const TEXT: &str = "# mine\nbalance = \"0.01 g\"\nhot_tap = \"48 C\"\ncold_tap = \"12 C\"\n[assay]\npotassium-hydroxide = \"88 %\"\n";

/// Runs with a configuration file in a home of its own, and with variables.
fn with(text: &str, variables: &[(&str, &str)], arguments: &[&str]) -> crate::common::Ran {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir_all(home.path().join(".config/soupcon")).unwrap();
    fs::write(home.path().join(".config/soupcon/config.toml"), text).unwrap();
    let mut command = command(arguments);
    command.env("HOME", home.path()).envs(variables.iter().copied());
    command.output().unwrap().into()
}

fn setting(ran: &crate::common::Ran, name: &str) -> (serde_json::Value, serde_json::Value) {
    let json = ran.json();
    let own = json["settings"].as_array().unwrap().iter().find(|own| own["name"] == name).unwrap().clone();
    (own["value"].clone(), own["origin"].clone())
}

#[test]
fn option_goes_before_environment_before_file_before_default() {
    let ask = ["config", "--json"];
    let environment = [("SOUPCON_BALANCE", "0.05g"), ("SOUPCON_ASSAY", "potassium-hydroxide=85%")];
    let mut option = ask.to_vec();
    option.extend(["--balance", "1g", "--assay", "potassium-hydroxide=90%"]);
    for (text, variables, arguments, balance, assay, origin) in [
        (TEXT, &environment[..], &option[..], "1 g", "90 %", "flag"),
        (TEXT, &environment[..], &ask[..], "0.05 g", "85 %", "environment"),
        (TEXT, &[][..], &ask[..], "0.01 g", "88 %", "file"),
    ] {
        let ran = with(text, variables, arguments);
        assert_eq!(setting(&ran, "balance"), (balance.into(), origin.into()), "{}", ran.whole());
        assert_eq!(setting(&ran, "assay"), (assay.into(), origin.into()));
    }
    let ran = with("", &[], &ask);
    assert_eq!(setting(&ran, "balance"), ("0.1 g".into(), "default".into()));
    assert_eq!(setting(&ran, "hot_tap"), (serde_json::Value::Null, "default".into()));
    let ran = with("", &[("SOUPCON_BALANCE", "")], &ask);
    assert_eq!(setting(&ran, "balance").1, "default", "an empty variable counts as unset");
}

#[test]
fn the_settings_are_used() {
    let scale = ["scale", "mq-caustic-potash-two-solution", "100ml", "--json"];
    let items = |ran: &crate::common::Ran| ran.json()["parts"][1]["items"][0].clone();
    let (with_file, without) = (items(&with(TEXT, &[], &scale)), items(&with("", &[], &scale)));
    let ratio = with_file["amount"].as_f64().unwrap() / without["amount"].as_f64().unwrap();
    assert!((ratio - 1.0 / 0.88).abs() < 1e-9, "{ratio}");
    assert!(with_file["advice"][0].as_str().unwrap().contains("88 %"), "{with_file}");
    // To a hundredth of a gram, not to a tenth.
    assert!((with_file["weigh"].as_f64().unwrap() * 10.0).fract() > 0.05);
    let show = ["show", "mq-borax-classic", "--format", "html"];
    assert!(with("paper = \"letter\"\n", &[], &show).out.contains("size: letter"));
    assert!(with("paper = \"letter\"\n", &[("SOUPCON_PAPER", "A4")], &show).out.contains("size: a4"));
    let water = ["water", "1L", "--target", "20C", "--json"];
    assert_eq!(with(TEXT, &[], &water).code, 0);
    let ran = with("", &[], &water);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("hot_tap"), "{}", ran.err);
}

#[test]
fn a_folder_of_the_file_is_part_of_the_library() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("darkroom/film-developer");
    fs::create_dir_all(&folder).unwrap();
    let formula = "format = 1\ntitle = \"Mine\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 3\n";
    fs::write(folder.join("mine.toml"), formula).unwrap();
    let path = home.path().join("config.toml");
    for library in ["darkroom", "~/darkroom"] {
        fs::write(&path, format!("library = [\"{library}\"]\n")).unwrap();
        let output = command(&["show", "mine"])
            .env("SOUPCON_CONFIG", &path)
            .env("HOME", home.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn a_broken_file_is_told_with_its_line_by_every_command_and_never_ignored() {
    let mut report = String::new();
    for text in [
        "balence = \"0.1 g\"\n",
        "\nbalance = 0.1\n",
        "balance = \"0.1\"\npaper = \"lettre\"\n",
        "library = [\"nowhere\"]\n",
        "library = \"darkroom\"\n",
        "[assay]\npotasium-hydroxide = \"88 %\"\n",
        "[assay]\npotassium-hydroxide = \"120 %\"\n",
        "balance = \"0.1 g\nhot_tap = \"20 C\"\n",
        "hot_tap = \"200 C\"\n",
        "format = 2\n",
        "balance = \"0,1 g\"\n",
        "a = \"\u{202e}\"\n",
    ] {
        let ran = with(text, &[], &["scale", "mq-borax-classic", "1L"]);
        assert_eq!(ran.code, 2, "{text}: {}", ran.whole());
        assert!(ran.out.is_empty());
        let start = ran.err.find("/.config").unwrap_or_else(|| panic!("{}", ran.err));
        assert!(ran.err[start..].starts_with("/.config/soupcon/config.toml:"), "{}", ran.err);
        let home = ran.err["error: ".len()..start].to_owned();
        report.push_str(&format!("# {text:?}\n{}\n", ran.err.replace(&home, "~")));
    }
    insta::assert_snapshot!(report);
    // A mistyped form too, by commands that use no assay, and in the environment.
    let mistyped = "[assay]\npotasium-hydroxide = \"88 %\"\n";
    for arguments in
        [&["list"][..], &["show", "metol-sulfite"], &["dilute", "1+3", "600ml"], &["check", "formulas"]]
    {
        let ran = with(mistyped, &[], arguments);
        assert_eq!(ran.code, 2, "{arguments:?}: {}", ran.whole());
        assert!(ran.err.contains("config.toml:2: assay: no substance is called"), "{}", ran.err);
        let ran = with("", &[("SOUPCON_ASSAY", "potasium-hydroxide=88%")], arguments);
        assert!(ran.code == 2 && ran.err.contains("SOUPCON_ASSAY: no substance"), "{}", ran.err);
    }
    // A shell that starts with the completions must start all the same.
    assert_eq!(with("broken", &[], &["completions", "bash"]).code, 0);
    assert_eq!(with("broken", &[], &["new", "configuration"]).code, 0);
}

/// 10 g / 56.105 g/mol × 39.997 g/mol (IUPAC 2021), and 85 % of it.
#[test]
fn an_assay_of_every_day_is_of_the_jar_on_the_shelf_and_not_of_the_recipe() {
    let ask = |to: &str, text: &str, options: &[&str]| {
        let mut all = vec!["exchange", "10g", "potassium-hydroxide", "--for", to, "--json"];
        all.extend(options);
        with(text, &[], &all).json()["result_g"].as_f64().unwrap()
    };
    let option = ["--assay", "potassium-hydroxide=85%"];
    let file = "[assay]\npotassium-hydroxide = \"85 %\"\n";
    for (own, expected) in [
        (ask("sodium-hydroxide", file, &[]), 7.129),
        (ask("sodium-hydroxide", "", &option), 6.060),
        (ask("potassium-hydroxide", file, &[]), 11.765),
        (ask("potassium-hydroxide", "", &option), 11.765),
    ] {
        assert!((own - expected).abs() < 0.001, "{own} for {expected}");
    }
}

#[test]
fn without_a_home_and_without_a_file_all_is_well() {
    assert!(good(&["config"]).out.contains("none: neither HOME nor SOUPCON_CONFIG is set"));
    let output =
        command(&["list"]).env("HOME", "/nowhere").env("XDG_CONFIG_HOME", "relative").output().unwrap();
    assert!(output.status.success());
    let output = command(&["list"]).env("SOUPCON_CONFIG", "/nowhere/config.toml").output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("SOUPCON_CONFIG"));
}

#[test]
fn settings_read_well_at_80_columns() {
    let ran = with(TEXT, &[("SOUPCON_BALANCE_MAX", "200g")], &["config", "--cold", "9C"]);
    let (_, table) = ran.out.split_once("\n\n").unwrap();
    insta::assert_snapshot!(table);
}

#[test]
fn a_broken_variable_is_told_by_its_name() {
    for (variable, text) in
        [("SOUPCON_BALANCE", "heavy"), ("SOUPCON_ASSAY", "potassium-hydroxide"), ("SOUPCON_ASSAY", "x=88%")]
    {
        let ran = with("", &[(variable, text)], &["scale", "mq-borax-classic", "1L"]);
        assert_eq!(ran.code, 2);
        assert!(ran.err.starts_with(&format!("error: {variable}: ")), "{}", ran.err);
    }
}
