use super::*;

fn whole(arguments: &[&str]) -> String {
    format!("$ soupcon {}\n{}", arguments.join(" "), soupcon(arguments).whole())
}

#[test]
fn a_developer() {
    insta::assert_snapshot!(whole(&["predict", "mq-borax-classic", "--measured", "8.0"]));
}

#[test]
fn a_developer_in_two_parts() {
    insta::assert_snapshot!(whole(&["predict", "pyrocatechol-phenidone-carbonate-staining"]));
}

#[test]
fn a_concentrate_that_is_not_watery() {
    insta::assert_snapshot!(whole(&["predict", "phenidone-ascorbate-tea-concentrate"]));
}

#[test]
fn a_fixer_with_alum() {
    insta::assert_snapshot!(whole(&["predict", "acid-hardening-alum-boric-fixer", "--storage", "5C"]));
}

#[test]
fn alkali_design() {
    let all = [
        vec!["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "borax-decahydrate"],
        vec![
            "adjust",
            "mq-metaborate-studio",
            "--replace",
            "sodium-metaborate-tetrahydrate",
            "--using",
            "borax-decahydrate",
            "--using",
            "sodium-hydroxide",
        ],
        vec![
            "adjust",
            "mq-metaborate-studio",
            "--replace",
            "sodium-metaborate-tetrahydrate",
            "--using",
            "sodium-carbonate-anhydrous",
        ],
        vec!["adjust", "metol-sulfite", "--match", "mq-borax-classic", "--using", "triethanolamine"],
        vec!["adjust", "mq-borax-classic", "--ph", "11", "--using", "borax-decahydrate"],
    ];
    insta::assert_snapshot!(all.map(|own| whole(&own)).join("\n"));
}

#[test]
fn stocks() {
    let all = [
        vec!["concentrate", "mq-carbonate-tray-tank", "2x"],
        vec!["concentrate", "mq-carbonate-tray-tank", "5x"],
    ];
    insta::assert_snapshot!(all.map(|own| whole(&own)).join("\n"));
}

#[test]
fn every_example_of_the_help_runs() {
    let mut count = 0;
    for command in ["predict", "adjust", "concentrate"] {
        let help = good(&[command, "--help"]).out.replace("\\\n    ", "");
        for line in help.lines().filter_map(|line| line.trim().strip_prefix("soupcon ")) {
            let words: Vec<&str> = line.split("   ").next().unwrap().split_whitespace().collect();
            let ran = soupcon(&words);
            assert_eq!(ran.code, 0, "{words:?}\n{}", ran.whole());
            count += 1;
        }
    }
    assert!(count >= 12, "{count}");
}

#[test]
fn the_fields_that_programs_rely_on_are_there() {
    let json = good(&["predict", "mq-carbonate-tray-tank", "--json"]).json();
    assert_eq!(json["schema_version"], 1);
    let part = &json["parts"][0];
    assert!(part["name"].is_null());
    for field in ["temperature_c", "ph", "ph_error", "ionic_strength", "buffer_capacity"] {
        assert!(part[field].is_number(), "{field}");
    }
    for line in part["solubility"].as_array().unwrap() {
        assert!(line["substance"].is_string() && line["grams_per_litre"].is_number());
        assert!(line.as_object().unwrap().contains_key("limit_grams_per_litre"));
    }
    for line in part["heating"].as_array().unwrap() {
        assert!(line["substance"].is_string());
        assert!(line.as_object().unwrap().contains_key("temperature_after_c"));
    }
    for format in ["markdown", "html"] {
        let ran = good(&["predict", "mq-carbonate-tray-tank", "--format", format]);
        assert!(ran.out.contains("well buffered"));
    }
}
