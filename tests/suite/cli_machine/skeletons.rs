use super::*;

/// Fills in the marked lines of a skeleton.
fn filled(kind: &str, values: &[(&str, &str)]) -> String {
    let mut text = good(&["new", kind]).out;
    for (from, to) in values {
        let line = text.lines().find(|line| line.starts_with(from) && line.contains("FILL IN")).unwrap();
        let with = line.replacen(from, to, 1).replace("FILL IN", "filled in");
        text = text.replacen(line, &with, 1);
    }
    assert_eq!(text.lines().filter(|line| line.contains("FILL IN") && !line.starts_with('#')).count(), 0);
    text
}

/// Wakes the lines that are asleep.
fn awake(text: &str) -> String {
    let wake = |line: &str| {
        let rest = line.strip_prefix('#').unwrap_or(line);
        if rest.starts_with(|first: char| first.is_ascii_lowercase() || first == '[') { rest } else { line }
            .to_owned()
    };
    text.lines().map(wake).collect::<Vec<_>>().join("\n") + "\n"
}

const FORMULA: &[(&str, &str)] = &[
    ("title = \"\"", "title = \"Metol-sulfite developer, 100 g sulfite\""),
    ("summary = \"\"", "summary = \"Fine grain.\""),
    ("substance = \"\"", "substance = \"metol\""),
    ("grams = 0", "grams = 7.5"),
];
const SUBSTANCE: &[(&str, &str)] = &[
    ("name = \"\"", "name = \"our restrainer\""),
    ("id = \"\"", "id = \"our-restrainer\""),
    ("name = \"\"", "name = \"our restrainer\""),
];

#[test]
fn a_filled_formula_is_shown_checked_and_mixed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("my-metol-developer.toml");
    let name = path.to_str().unwrap();
    for text in [filled("formula", FORMULA), awake(&filled("formula", FORMULA))] {
        fs::write(&path, &text).unwrap();
        good(&["show", name]);
        good(&["sheet", name, "1L"]);
        let check = soupcon(&["check", name]);
        assert_eq!(check.code, 0, "{}", check.whole());
    }
    let unfilled = good(&["new", "formula"]).out;
    fs::write(&path, unfilled).unwrap();
    let ran = soupcon(&["show", name]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("title") && ran.err.contains("substance"), "{}", ran.err);
}

#[test]
fn a_filled_substance_is_checked_and_weighed() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("substances")).unwrap();
    let path = folder.path().join("substances/our-restrainer.toml");
    let library = folder.path().to_str().unwrap();
    for text in [filled("substance", SUBSTANCE), awake(&filled("substance", SUBSTANCE))] {
        fs::write(&path, &text).unwrap();
        let card = good(&["substance", "our-restrainer", "--library", library]).out;
        assert!(card.contains("our restrainer"));
        let check = soupcon(&["check", library]);
        assert!(!check.out.contains(": error:"), "{}", check.whole());
    }
}

#[test]
fn a_filled_shelf_and_configuration_are_read() {
    let folder = tempfile::tempdir().unwrap();
    let shelf = folder.path().join("shelf.toml");
    fs::write(&shelf, filled("shelf", &[("  \"\"", "  \"hydroquinone\"")])).unwrap();
    good(&["list", "--can-make", "--shelf", shelf.to_str().unwrap()]);
    let path = folder.path().join("config.toml");
    fs::create_dir(folder.path().join("library")).unwrap();
    for text in [good(&["new", "configuration"]).out, awake(&good(&["new", "configuration"]).out)] {
        fs::write(&path, text).unwrap();
        let output = command(&["config"]).env("SOUPCON_CONFIG", &path).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn a_skeleton_names_its_schema_fits_it_and_overwrites_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for kind in ["formula", "substance", "shelf", "configuration"] {
        let text = good(&["new", kind]).out;
        let schema = format!("#:schema ./{kind}.schema.json\n");
        assert!(
            text.starts_with(&schema)
                && text.contains(&format!("soupcon schema {kind} -o {kind}.schema.json"))
        );
        let path = folder.path().join(format!("{kind}.toml"));
        let path = path.to_str().unwrap();
        assert_eq!(soupcon(&["new", kind, "-o", path]).code, 0);
        assert_eq!(fs::read_to_string(path).unwrap(), text);
        fs::write(path, "mine").unwrap();
        assert_eq!(soupcon(&["new", kind, "-o", path]).code, 1);
        assert_eq!(fs::read_to_string(path).unwrap(), "mine");
        assert_eq!(soupcon(&["new", kind, "-o", path, "--force"]).code, 0);
    }
    for (kind, values) in [("formula", FORMULA), ("substance", SUBSTANCE)] {
        let text = awake(&filled(kind, values));
        let value = serde_json::to_value(toml::from_str::<toml::Table>(&text).unwrap()).unwrap();
        let schema = good(&["schema", kind]).json();
        assert_eq!(crate::common::schema::departures(&schema, &value), Vec::<String>::new());
    }
}
