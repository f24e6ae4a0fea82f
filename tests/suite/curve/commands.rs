//! The commands as a user runs them, and their plates.

use super::*;

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for set in
        ["rising-21", "shoulder-21", "soft-31", "series-4", "series-6", "series-9", "series-13", "paper"]
    {
        fs::write(folder.path().join(format!("{set}.csv")), file(set)).unwrap();
    }
    folder
}

fn typed(folder: &Path, line: &str) -> Ran {
    soupcon_in(folder, &line.split(' ').collect::<Vec<_>>())
}

const SERIES: &str = "curve series-4.csv@4min series-6.csv@6min series-9.csv@9min series-13.csv@13min";

#[test]
fn as_a_user_meets_it() {
    let folder = folder();
    let folder = folder.path();
    insta::assert_snapshot!("one", typed(folder, "curve rising-21.csv").whole());
    insta::assert_snapshot!("one_ascii", typed(folder, "curve rising-21.csv --ascii").whole());
    insta::assert_snapshot!("two", typed(folder, "curve rising-21.csv shoulder-21.csv").whole());
    insta::assert_snapshot!("series", typed(folder, &format!("{SERIES} --target iso")).whole());
    insta::assert_snapshot!("paper", typed(folder, "curve paper.csv --reflection").whole());
    insta::assert_snapshot!("speed", good(&["curve", "speed", "437"]).whole());
    insta::assert_snapshot!("density", typed(folder, "curve density rising-21.csv --at -1.75").whole());
    let beyond = typed(folder, &format!("{SERIES} --target N+1"));
    assert_eq!(beyond.code, 1);
    assert!(beyond.out.starts_with("No time of the series gives N+1"), "{}", beyond.out);
    let json = typed(folder, &format!("{SERIES} --target N+1 --json"));
    assert_eq!(json.code, 1);
    assert!(json.json()["target"].is_null());
}

#[test]
fn the_journal_takes_the_lines_that_are_offered() {
    let folder = folder();
    let line = format!("{SERIES} --json --formula mq-borax-classic --film");
    let mut words: Vec<&str> = line.split(' ').collect();
    words.push("the class's film");
    let journal = folder.path().join("journal.toml");
    let offered = soupcon_in(folder.path(), &words).json()["journal"].clone();
    let offered: Vec<&str> = offered.as_array().unwrap().iter().map(|own| own.as_str().unwrap()).collect();
    assert_eq!(offered.len(), 4);
    for line in offered {
        let (head, film) = line.split_once(" --film ").unwrap();
        let (film, formula) = film.split_once(" --formula ").unwrap();
        assert_eq!(film, r"'the class'\''s film'");
        let mut all: Vec<&str> = head.split(' ').skip(1).collect();
        all.extend([
            "--film",
            "the class's film",
            "--formula",
            formula,
            "--journal",
            journal.to_str().unwrap(),
        ]);
        let ran = soupcon_in(folder.path(), &all);
        assert_eq!(ran.code, 0, "{line}: {}", ran.whole());
    }
    let kept = fs::read_to_string(&journal).unwrap();
    assert_eq!(kept.matches("gradient = ").count(), 4, "{kept}");
}

#[test]
fn iso_is_said_only_where_it_holds() {
    let folder = folder();
    for (set, is_iso) in [("rising-21", true), ("shoulder-21", false), ("soft-31", false)] {
        let text = typed(folder.path(), &format!("curve {set}.csv")).out;
        assert_eq!(text.starts_with("ISO "), is_iso, "{text}");
        assert_eq!(text.contains("Not an ISO speed"), !is_iso, "{text}");
        let html = typed(folder.path(), &format!("curve {set}.csv --format html")).out;
        assert_eq!(html.contains("<b>ISO "), is_iso);
    }
    let relative = typed(folder.path(), "curve rising-21.csv --relative").out;
    assert!(relative.starts_with("Relative speed") && !relative.contains("ISO 100"), "{relative}");
}

#[test]
fn equal_contrast_comes_first() {
    let folder = folder();
    let unequal = typed(folder.path(), "curve rising-21.csv shoulder-21.csv").out;
    assert!(unequal.starts_with("Not at equal contrast: B has 30 % more (0.81 against 0.62)."), "{unequal}");
    let rising = file("rising-21");
    let moved: String = rising
        .lines()
        .map(|line| match line.split_once(',') {
            Some((x, density)) if x.parse::<f64>().is_ok() => {
                format!("{},{density}\n", x.parse::<f64>().unwrap() - 0.4 * STOP)
            }
            _ => format!("{line}\n"),
        })
        .collect();
    fs::write(folder.path().join("faster.csv"), moved).unwrap();
    let equal = typed(folder.path(), "curve rising-21.csv faster.csv").out;
    let words = equal.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.starts_with("At equal contrast B gives 0.4 stop more speed."), "{words}");
    assert!(words.contains("The toe is the same."), "{words}");
}

#[test]
fn odd_readings_are_levelled_or_refused_by_name_and_line() {
    let run = |text: &str, more: &[&str]| {
        let all = [&["curve", "-"], more].concat();
        soupcon_with_input(&all, text.as_bytes())
    };
    let good_lines =
        "log_h,density\nbase,0.20\n-3,0.20\n-2.5,0.22\n-2,0.40\n-1.5,0.70\n-1,1.00\n-0.5,1.30\n0,1.60\n";
    let levelled =
        run(&good_lines.replace("-2.5,0.22", "-2.5,0.19").replace("0,1.60", "0,1.60\n0,1.62"), &[]);
    assert_eq!(levelled.code, 0, "{}", levelled.whole());
    assert!(levelled.out.contains("levelled") && levelled.out.contains("averaged"), "{}", levelled.out);
    let no_base = run(&good_lines.replace("base,0.20\n", ""), &[]);
    assert!(no_base.out.contains("no base + fog was read"), "{}", no_base.out);
    let mut all = String::new();
    for (what, text, more) in [
        ("falls by more than noise", good_lines.replace("-1,1.00", "-1,0.60"), &[][..]),
        ("text", good_lines.replace("0.70", "dense"), &[]),
        ("NaN", good_lines.replace("0.70", "NaN"), &[]),
        ("infinite", good_lines.replace("-1.5", "-inf"), &[]),
        ("decimal comma", good_lines.replace("-1.5,0.70", "-1,5,0,70"), &[]),
        ("semicolons and a decimal comma", good_lines.replace(',', ";").replace("0.70", "0,70"), &[]),
        ("one point", "log_h,density\nbase,0.2\n-3,0.2\n".to_owned(), &[]),
        ("no point", "log_h,density\n".to_owned(), &[]),
        ("empty", String::new(), &[]),
        ("no head", good_lines.replace("log_h,density\n", ""), &[]),
        ("a misspelt column", good_lines.replace("density", "desnity"), &[]),
        ("steps without a tablet", good_lines.replace("log_h", "step"), &[]),
        ("log H with a tablet", good_lines.to_owned(), &["--tablet", "21x0.15+0.05"]),
        (
            "a step that is not there",
            "step,density\nbase,0.2\n0,1\n2.5,1\n22,0.2\n".to_owned(),
            &["--tablet", "21x0.15+0.05"],
        ),
        ("base + fog above the lowest", good_lines.replace("base,0.20", "base,0.30"), &[]),
        ("no base and no toe", "log_h,density\n-2,0.4\n-1,1.0\n".to_owned(), &[]),
        ("no speed point", "log_h,density\nbase,0.2\n-2,0.4\n-1,1.0\n".to_owned(), &[]),
        ("nothing above the toe", "log_h,density\nbase,0.2\n-2,0.2\n-1,0.22\n".to_owned(), &[]),
        ("a density of a wall", good_lines.replace("1.60", "160"), &[]),
    ] {
        let ran = run(&text, more);
        assert!(ran.code == 1 || ran.code == 2, "{what}: {}", ran.whole());
        assert!(ran.out.is_empty(), "{what}: {}", ran.out);
        all.push_str(&format!("# {what}: exit {}\n{}\n", ran.code, ran.err));
    }
    insta::assert_snapshot!("odd", all);
}

#[test]
fn requests_that_make_no_sense_say_so() {
    let folder = folder();
    let mut all = String::new();
    for line in [
        "curve nothing.csv",
        "curve .",
        "curve rising-21.csv --target iso",
        "curve series-4.csv@4min series-6.csv --target iso",
        "curve series-4.csv@4min series-6.csv@4min --target iso",
        "curve series-4.csv@13min series-13.csv@4min --target iso",
        "curve series-4.csv@4 series-6.csv@6min",
        "curve series-4.csv@4min series-6.csv@6min --target soft",
        "curve series-4.csv@4min series-6.csv@6min --target range:nan",
        "curve rising-21.csv --light-error 99",
        "curve rising-21.csv --density-error -1",
        "curve rising-21.csv --tablet 21",
        "curve rising-21.csv --lux 10",
        "curve density rising-21.csv --at 7",
        "curve speed 0",
        "curve speed fast",
    ] {
        let ran = typed(folder.path(), line);
        assert!(ran.code > 0 && ran.out.is_empty(), "{line}: {}", ran.whole());
        all.push_str(&format!("$ {line}: exit {}\n{}\n", ran.code, ran.err));
    }
    insta::assert_snapshot!("requests", all);
}

#[test]
fn plates_are_black_on_white_and_take_nothing_from_a_name() {
    let folder = folder();
    fs::write(folder.path().join("<script>&.csv"), file("rising-21")).unwrap();
    for line in [
        "curve rising-21.csv",
        "curve rising-21.csv shoulder-21.csv soft-31.csv",
        "curve <script>&.csv shoulder-21.csv",
        SERIES,
        "curve paper.csv --reflection",
    ] {
        for paper in ["a4", "letter"] {
            let html = typed(folder.path(), &format!("{line} --format html --paper {paper}")).out;
            assert!(html.contains("<svg "), "{line}");
            assert!(!html.contains("<script"), "{line}");
            assert!(!html.contains("NaN") && !html.contains("inf"), "{line}");
            for (at, _) in html.match_indices('#') {
                let colour: String = html[at + 1..].chars().take_while(char::is_ascii_hexdigit).collect();
                assert!(["000", "fff", "39"].contains(&colour.as_str()), "{line}: #{colour}");
            }
        }
    }
}

#[test]
#[ignore = "needs chromium and poppler-utils"]
fn every_plate_is_one_page() {
    let folder = folder();
    let lines = [
        "curve rising-21.csv".to_owned(),
        "curve rising-21.csv shoulder-21.csv".to_owned(),
        "curve rising-21.csv shoulder-21.csv soft-31.csv".to_owned(),
        format!("{SERIES} --target iso"),
        "curve paper.csv --reflection".to_owned(),
    ];
    for (index, line) in lines.iter().enumerate() {
        for paper in ["a4", "letter"] {
            let page = folder.path().join(format!("{index}-{paper}.html"));
            let printed: PathBuf = page.with_extension("pdf");
            fs::write(&page, typed(folder.path(), &format!("{line} --format html --paper {paper}")).out)
                .unwrap();
            let run = std::process::Command::new("chromium")
                .args(["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"])
                .arg(format!("--print-to-pdf={}", printed.display()))
                .arg(&page)
                .output()
                .unwrap();
            assert!(run.status.success());
            let info = std::process::Command::new("pdfinfo").arg(&printed).output().unwrap();
            let info = String::from_utf8(info.stdout).unwrap();
            assert!(
                info.lines().any(|line| line.starts_with("Pages:") && line.ends_with(" 1")),
                "{line}: {info}"
            );
        }
    }
}
