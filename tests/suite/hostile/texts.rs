//! Files that are monstrous, broken or absurd.

use super::*;

#[test]
fn monstrous_text_is_refused_in_bounded_time_and_memory() {
    let many = |count: usize, text: &dyn Fn(usize) -> String| (0..count).map(text).collect::<String>();
    let deep = |open: &str, close: &str| format!("own.x = {}{}\n", open.repeat(10_000), close.repeat(10_000));
    let inputs: Vec<(&str, String)> = vec![
        ("10,000 arrays in each other", formula(&deep("[", "]"))),
        ("10,000 arrays never closed", formula(&deep("[", ""))),
        ("10,000 inline tables in each other", formula(&deep("{a=", "}"))),
        ("a key of 10,000 parts", formula(&format!("own.{}a = 1\n", "a.".repeat(10_000)))),
        ("a table header of 10,000 parts", format!("{HEAD}[own.{}a]\n", "a.".repeat(10_000))),
        ("a comment of more than a megabyte", format!("# {}\n{}", "x".repeat(1_100_000), formula(""))),
        ("a million blank lines and more", format!("{}{}", "\n".repeat(1_050_000), formula(""))),
        (
            "a substance's name of 900 kB",
            formula("").replace("\"metol\"", &format!("\"{}\"", "metol-".repeat(150_000))),
        ),
        ("a mistyped key of 900 kB", formula(&format!("{} = 1\n", "k".repeat(900_000)))),
        ("a broken line of 900 kB", formula(&format!("note = {}\n", "x".repeat(900_000)))),
        (
            "a part's name of 900 kB",
            format!(
                "{HEAD}[[parts]]\nname = \"{}\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\n",
                "A".repeat(900_000)
            ),
        ),
        (
            "an amount of 300,000 digits",
            formula("").replace("= 2\n", &format!("= 2{}\n", "0".repeat(300_000))),
        ),
        (
            "15,000 unknown substances",
            format!(
                "{HEAD}{}",
                many(15_000, &|n| format!("[[ingredients]]\nsubstance = \"metool-{n}\"\ngrams = 2\n"))
            ),
        ),
        ("20,000 times metol", format!("{HEAD}{}", INGREDIENT.repeat(20_000))),
        (
            "10,000 uses of a part that is not there",
            format!("{}{}", formula(""), "[[use]]\nname = \"x\"\nbaths = [{ stok = 1 }]\n".repeat(10_000)),
        ),
        (
            "5,000 parts of one name",
            format!(
                "{HEAD}{}",
                "[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\n"
                    .repeat(5000)
            ),
        ),
        ("50,000 keys", formula(&many(50_000, &|n| format!("k{n} = 1\n")))),
        ("one key 50,000 times", formula(&"note = \"x\"\n".repeat(50_000))),
        ("40,000 empty aliases", formula(&format!("aliases = [{}]\n", "\"\",".repeat(40_000)))),
    ];
    let mut report = Report::default();
    for (what, text) in &inputs {
        report.refused(what, &run_with_input(&["show", "-"], text.as_bytes()));
    }
    for (what, bytes) in [
        ("bytes that are no text", b"\xff\xfe\xfd".as_slice()),
        ("a UTF-8 sequence cut short", b"title = \"\xe2\x82".as_slice()),
        ("an overlong encoding", b"title = \"\xc0\xaf\"".as_slice()),
        ("a surrogate in UTF-8", b"title = \"\xed\xa0\x80\"".as_slice()),
        ("nothing at all", b"".as_slice()),
        ("a program", &fs::read(env!("CARGO_BIN_EXE_soupcon")).unwrap()[..2_000_000]),
    ] {
        report.refused(what, &run_with_input(&["show", "-"], bytes));
    }
    let endless = fs::File::open("/dev/zero").unwrap();
    let ran = finish(start(Path::new("/"), &["show", "-"], endless.into()), "an endless stream");
    report.refused("an endless stream", &ran);
    insta::assert_snapshot!(report.0);
}

#[test]
fn monstrous_text_that_is_valid_is_printed_in_bounded_time() {
    let word = "x".repeat(2000);
    let words = "word ".repeat(400);
    let wide = "漢".repeat(2000);
    for text in [&word, &words, &wide] {
        let formula = formula(&format!("note = \"{text}\"\naliases = [\"a\"]\n"));
        for format in ["text", "markdown", "html", "json"] {
            assert_eq!(run_with_input(&["show", "-", "--format", format], formula.as_bytes()).code, 0);
        }
        assert_eq!(run_with_input(&["sheet", "-", "1L"], formula.as_bytes()).code, 0);
    }
}

#[test]
fn what_is_odd_but_sound_is_read() {
    let plain = run_with_input(&["show", "-"], formula("").as_bytes());
    assert_eq!(plain.code, 0, "{}", plain.whole());
    let windows = format!("\u{feff}{}", formula("").replace('\n', "\r\n"));
    assert_eq!(run_with_input(&["show", "-"], windows.as_bytes()).out, plain.out);
    let no_final_line_end = formula("").trim_end().to_owned();
    assert_eq!(run_with_input(&["show", "-"], no_final_line_end.as_bytes()).out, plain.out);
    let hexadecimal = formula("").replace("grams = 2", "grams = 0x2");
    assert_eq!(run_with_input(&["show", "-"], hexadecimal.as_bytes()).out, plain.out);
    // Whatever later TOML allows (a table over several lines) is read or refused, never worse.
    let later = formula("own = {\n  a = 1,\n}\n");
    run_with_input(&["show", "-"], later.as_bytes());
}

/// Relations are names, never paths, and nothing follows them round and round.
#[test]
fn relations_in_a_circle_and_out_of_the_library_lead_nowhere() {
    let relation = |to: &str| {
        format!(
            "{}\n[replenishment]\nwith = \"{to}\"\nml_per_roll = 20\n",
            formula(&format!(
                "variant_of = \"{to}\"\nreplenishes = [\"{to}\"]\npartners = [\"{to}\"]\naliases = [\"{to}-too\"]\n"
            ))
        )
    };
    let folder = library(&[
        ("film-developer/first.toml", &relation("second")),
        ("film-developer/second.toml", &relation("third")),
        ("film-developer/third.toml", &relation("first")),
        ("film-developer/own-tail.toml", &relation("own-tail")),
        (
            "film-developer/outside.toml",
            &relation("no-such").replace("no-such", "../../../etc/passwd").replace("aliases", "own.aliases"),
        ),
        (
            "film-developer/absolute.toml",
            &relation("no-such").replace("no-such", "/etc/passwd").replace("aliases", "own.aliases"),
        ),
    ]);
    for name in ["first", "second", "own-tail", "outside", "absolute", "first-too"] {
        for arguments in [
            vec!["show", name],
            vec!["scale", name, "1L"],
            vec!["sheet", name, "1L"],
            vec!["safety", name, "first"],
            vec!["compare", name, "first"],
        ] {
            let ran = run(folder.path(), &[&["--library", "."], arguments.as_slice()].concat());
            assert!(!ran.whole().contains("root:"), "{}", ran.whole());
            assert!(ran.code < 2, "{arguments:?}: {}", ran.whole());
        }
    }
    for arguments in [vec!["list"], vec!["list", "--near", "first"], vec!["check", "."]] {
        let ran = run(folder.path(), &[&["--library", "."], arguments.as_slice()].concat());
        assert!(ran.code < 2, "{}", ran.whole());
        assert!(!ran.whole().contains("root:"), "{}", ran.whole());
    }
}

#[test]
fn absurd_chemical_formulas_are_refused() {
    let nested = format!("{}H{}", "(".repeat(100), ")".repeat(100));
    let long = "CH2".repeat(5000);
    let dots = ".H2O".repeat(40);
    let absurd: &[&str] = &[
        "H9999999",
        "H0",
        "H-1",
        "H1.5",
        "",
        " ",
        "h2o",
        "Xx2",
        "H(",
        "H)",
        "()",
        "(((((((((",
        "(H]",
        "2",
        "..",
        "Na2CO3..10H2O",
        "1e9H2O",
        "H２O",
        "H٢O",
        "Н2O",
        "H2O<b>",
        "H2O; rm -rf",
        "../H2O",
        "H2O\u{301}",
        "9999.9999H2O9999",
        &nested,
        &long,
        &dots,
    ];
    let mut report = Report::default();
    for text in absurd {
        let substance = format!(
            "format = 1\nname = \"Odd\"\nroles = [\"alkali\"]\n\n[[forms]]\nid = \"odd\"\nname = \"odd\"\nformula = \"{text}\"\n"
        );
        let folder = library(&[("substances/odd.toml", &substance)]);
        let shown: String = text.chars().take(30).collect();
        report.refused(&shown, &run(folder.path(), &["--library", ".", "substance", "odd"]));
    }
    insta::assert_snapshot!(report.0);
}

#[test]
fn broken_substances_are_refused() {
    let head = "format = 1\nname = \"Odd\"\nroles = [\"alkali\"]\n";
    let form = "\n[[forms]]\nid = \"odd\"\nname = \"odd\"\n";
    let texts: &[(&str, String)] = &[
        ("no form", head.to_owned()),
        ("two forms of one id", format!("{head}{form}{form}")),
        ("a form of another name", format!("{head}{}", form.replace("id = \"odd\"", "id = \"metol\""))),
        ("an unknown role", format!("{}{form}", head.replace("alkali", "alkaly"))),
        ("assay nan", format!("{head}{form}assay_percent = nan\n")),
        ("assay 1e308", format!("{head}{form}assay_percent = 1e308\n")),
        ("density 0", format!("{head}{form}density_g_per_ml = 0\n")),
        ("density infinite", format!("{head}{form}density_g_per_ml = inf\n")),
        ("crystal water negative", format!("{head}{form}crystal_water = -1\n")),
        (
            "crystal water that the formula denies",
            format!("{head}{form}formula = \"Na2CO3\"\ncrystal_water = 10\n"),
        ),
        ("usual assay nan", format!("{head}{form}assay_typical = [85, nan]\n")),
        (
            "constant nan",
            format!("{head}{form}acid_constants = [{{ step = \"x\", pka = nan, source = \"memory\" }}]\n"),
        ),
        (
            "heat infinite",
            format!("{head}{form}heat_of_solution = {{ kj_per_mol = -inf, source = \"memory\" }}\n"),
        ),
        (
            "solubility falling in temperature",
            format!(
                "{head}{form}solubility = [{{ basis = \"as-weighed\", points = [[20, 1], [10, 2]], source = \"memory\" }}]\n"
            ),
        ),
        (
            "solubility infinite",
            format!(
                "{head}{form}solubility = [{{ basis = \"as-weighed\", points = [[20, inf]], source = \"memory\" }}]\n"
            ),
        ),
        (
            "percent solution of 1000 %",
            format!(
                "{head}keeps_in_solution = {{ solvent = \"water\", percent = [1000], source = \"memory\" }}\n{form}"
            ),
        ),
        ("escape in a name", format!("{head}{}", form.replace("name = \"odd\"", "name = \"o\\u001b[2Jdd\""))),
        (
            "a hazard in no class",
            format!("{head}{form}hazards = {{ status = \"harmless\", source = \"memory\" }}\n"),
        ),
        ("5,000 forms of one id", format!("{head}{}", form.repeat(5000))),
    ];
    let mut report = Report::default();
    for (what, text) in texts {
        let folder = library(&[("substances/odd.toml", text)]);
        report.refused(what, &run(folder.path(), &["--library", ".", "substance", "odd"]));
        let using = formula("").replace("\"metol\"", "\"odd\"");
        fs::write(folder.path().join("film-developer/uses.toml"), using).unwrap();
        assert_eq!(run(folder.path(), &["--library", ".", "show", "uses"]).code, 2, "{what}");
    }
    insta::assert_snapshot!(report.0);
}

#[test]
fn a_substance_of_5000_forms_and_a_formula_of_many_lines_are_borne() {
    let forms: String = (0..5000)
        .map(|index| {
            format!(
                "\n[[forms]]\nid = \"odd-{index}\"\nname = \"odd {index}\"\nformula = \"Rb2CO3.{}H2O\"\n",
                index % 90 + 1
            )
        })
        .collect();
    let substance = format!("format = 1\nname = \"Odd\"\nroles = [\"alkali\"]\n{forms}");
    let lines: String = (0..60)
        .map(|index| format!("\n[[ingredients]]\nsubstance = \"odd-{index}\"\ngrams = 0.{:03}\n", index + 1))
        .collect();
    let folder = library(&[
        ("substances/odd.toml", &substance),
        ("film-developer/long.toml", &format!("{HEAD}{lines}")),
    ]);
    assert_eq!(run(folder.path(), &["--library", ".", "substance", "odd-4999"]).code, 0);
    assert_eq!(run(folder.path(), &["--library", ".", "substance", "odd"]).code, 2);
    assert_eq!(run(folder.path(), &["--library", ".", "show", "long"]).code, 0);
    assert_eq!(run(folder.path(), &["--library", ".", "scale", "long", "1L"]).code, 0);
    assert!(run(folder.path(), &["--library", ".", "sheet", "long", "1L"]).code < 2);
}
