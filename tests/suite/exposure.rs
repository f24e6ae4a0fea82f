//! The sums under the enlarger as a user meets them: worked cases, refusals, pages.

use std::fs;

use serde_json::Value;

use crate::common::schema::{departures, unknown_keys};
use crate::common::{Ran, command, good, soupcon};

fn typed(line: &str) -> Ran {
    soupcon(&line.split(' ').collect::<Vec<_>>())
}

/// Cells of a line of CSV.
fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            other => cells.last_mut().unwrap().push(other),
        }
    }
    cells
}

/// The figures of some fields, lists one after the other.
fn figures(document: &Value, fields: &str) -> Vec<Value> {
    let mut figures = Vec::new();
    for field in fields.split(' ') {
        let pointer = format!("/{}", field.replace('.', "/"));
        match document.pointer(&pointer).unwrap_or_else(|| panic!("no {field} in {document}")) {
            Value::Array(list) => figures.extend(list.iter().cloned()),
            other => figures.push(other.clone()),
        }
    }
    figures
}

/// Expected values were worked out by hand or by a script of their own, each with its derivation or source beside it, before this module was written.
#[test]
fn every_worked_case_comes_out() {
    let text = include_str!("../data/printing-cases.csv");
    let mut count = 0;
    for line in text.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let row = cells(line);
        let [id, words, fields, expected, tolerance, source] = &row[..] else { panic!("{line}") };
        assert!(!source.is_empty(), "{id} has no source");
        let ran = typed(&format!("{words} --json"));
        let got = figures(&ran.json(), fields);
        if tolerance == "text" {
            assert_eq!(got, [expected.as_str()], "{id}");
            count += 1;
            continue;
        }
        assert_eq!(ran.code, 0, "{id}: {}", ran.whole());
        let expected: Vec<f64> = expected.split(' ').map(|own| own.parse().unwrap()).collect();
        assert_eq!(got.len(), expected.len(), "{id}");
        for (got, expected) in got.iter().zip(expected) {
            let allowed = match tolerance.strip_suffix('%') {
                Some(percent) => percent.parse::<f64>().unwrap() / 100.0 * expected.abs(),
                None => tolerance.parse().unwrap(),
            };
            let got = got.as_f64().unwrap();
            assert!((got - expected).abs() <= allowed, "{id}: {got} for {expected} ± {allowed}");
        }
        count += 1;
    }
    assert_eq!(count, 60);
}

/// Derived table of factors from 4 times to other sizes (L.-P. Clerc, Photography, section 770: exposures as 9, 16, 25, 36 for 2, 3, 4, 5 times).
#[test]
fn sizes_go_as_the_published_squares() {
    for (size, square) in [(2, 9.0), (3, 16.0), (4, 25.0), (5, 36.0)] {
        let factor = good(&["exposure", "size", "--from", "4x", "--to", &format!("{size}x"), "--json"])
            .json()["factor"]
            .as_f64()
            .unwrap();
        assert!((factor * 25.0 - square).abs() < 1e-9, "{size}: {factor}");
    }
}

#[test]
fn what_cannot_be_done_is_refused_with_what_to_do() {
    let mut report = String::new();
    for line in [
        "exposure strip 4s --step 1/6 --strips 9 --clock 1s",
        "exposure strip 1s --step 1/12 --strips 5",
        "exposure strip 8.5s --clock 1s",
        "exposure strip 8.25s",
        "exposure strip 8s --clock 0.5s",
        "exposure strip 8 --strips 5",
        "exposure strip 8s --strips 1",
        "exposure strip 8s --step 0",
        "exposure strip 8s --centre 16s",
        "exposure strip 8s --chosen 9",
        "exposure strip 1s --lost 0.5s --chosen 7",
        "exposure strip --totals 5s,5s",
        "exposure change 12s",
        "exposure change 12s --stops third",
        "exposure change 12s --stops 1,5",
        "exposure change 20s --dry-down 8",
        "exposure change 20s --percent -100",
        "exposure lamp --pulses 1 --pulse 1s --matches 1s",
        "exposure lamp 2s --lost 2s",
        "exposure size 10s --from 4x",
        "exposure size 10s --focal 50mm --from-height 150mm --to-height 300mm",
        "exposure size 10s --focal 50mm --from-lens 50mm --to-lens 300mm",
        "exposure size 10s --negative 36 --from-image 180mm --to-image 288mm",
        "exposure size 10s",
        "exposure range --thin 1.50 --dense 0.35",
        "exposure range --thin 0.35 --dense 1.50 --condenser 0.9",
        "exposure two-filter --soft 8s,20s --hard 24s,30s",
        "exposure two-filter --soft 20s,8s --hard 24s,10s",
        "exposure two-filter --soft 20s,8s --hard 10s,24s",
        "exposure two-filter --soft 8s --hard 24s,10s",
        "exposure burn 20s --stops -1/2",
        "exposure dodge 20s --stops +1/4",
        "exposure dodge 20s --stops -1 --stops -1",
        "exposure silver --sheet 38.7",
        "exposure silver --sheet 8x10in --limit 0.5",
        "exposure table --from 4s --clock 1s",
    ] {
        let ran = typed(line);
        assert!(ran.code == 1 || ran.code == 2, "{line}: {}", ran.whole());
        report.push_str(&format!("$ soupcon {line}\n{}\n", ran.whole()));
    }
    insta::assert_snapshot!(report);
}

#[test]
fn each_sum_reads_well_at_80_columns() {
    let mut report = String::new();
    for line in [
        "exposure change 12s --stops +1/3",
        "exposure change 10s --to 60s",
        "exposure change 20s --dry-down 8%",
        "exposure table --clock 1s",
        "exposure strip 8s --step 1/3 --strips 7",
        "exposure strip 8s --step 1/6 --strips 7 --clock 1s --method uncover",
        "exposure strip --centre 16s --step 1/6 --strips 5 --method apart",
        "exposure strip 5s --step 1/3 --strips 7 --lost 0.15s --chosen 6",
        "exposure strip --totals 5s,10s,15s,20s",
        "exposure lamp --pulses 10 --pulse 1.15s --matches 10s",
        "exposure lamp 2s --lost 0.15s",
        "exposure size 10s --from 4x --to 8x",
        "exposure size 8s --focal 50mm --from-height 350mm --to-height 600mm --head condenser",
        "exposure size 20s --from-f 5.6 --to-f 11",
        "exposure size --focal 50mm --from-height 350mm",
        "exposure range --thin 0.35 --dense 1.50 --condenser 1.20",
        "exposure range --thin 0.35 --dense 1.50",
        "exposure two-filter --soft 8s,20s --hard 24s,10s --range 1.10",
        "exposure two-filter --soft 8s,20s --hard 24s,10s --hard-change +3s --hold shadow",
        "exposure burn 20s --stops +3/4 --from-factor 1.0 --to-factor 1.6",
        "exposure dodge 20s --stops -1/4",
        "exposure filter 8s --from-factor 1.0 --to-factor 1.9",
        "exposure contact 9s --from-fog 0.28 --to-fog 0.35",
        "exposure metered --log-h 0.2270 --lux 3 --density 1.40 --thin 0.30 --log-h-black 1.3561",
        "exposure silver --sheet 38.7mg --carried 10ml --sheets 40 --volume 1L",
        "exposure silver --sheet 8x10in --limit 2g/L",
        "exposure capacity --per-litre 25 --volume 1.5L --done 10x8x10in --done 6x12x16in",
        "exposure wash 60min --to-temp 8C",
    ] {
        let ran = typed(line);
        assert_eq!(ran.code, 0, "{line}: {}", ran.whole());
        assert!(ran.out.lines().all(|own| own.chars().count() <= 80), "{}", ran.out);
        report.push_str(&format!("$ soupcon {line}\n{}\n", ran.whole()));
    }
    insta::assert_snapshot!(report);
}

#[test]
fn the_timer_is_told_once() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("config.toml");
    let ask = |text: &str, options: &[&str]| -> Ran {
        fs::write(&file, text).unwrap();
        let mut all = vec!["exposure", "strip", "8s", "--step", "1/6", "--json"];
        all.extend(options);
        command(&all).env("SOUPCON_CONFIG", &file).output().unwrap().into()
    };
    let clock = |ran: &Ran| ran.json()["clock_s"].as_f64().unwrap().to_string();
    assert_eq!(clock(&ask("clock = \"1 s\"\n", &[])), "1");
    assert_eq!(clock(&ask("clock = \"1 s\"\n", &["--clock", "0.1s"])), "0.1");
    assert_eq!(clock(&ask("", &[])), "0.1");
    let broken = ask("clock = \"2 s\"\n", &[]);
    assert!(
        broken.code == 2 && broken.err.contains("config.toml:1: clock") || broken.err.contains(":1"),
        "{}",
        broken.err
    );
}

#[test]
fn a_failing_paper_is_an_answer_too() {
    let ran = typed("exposure two-filter --soft 8s,20s --hard 24s,30s --json");
    let document = ran.json();
    assert_eq!(
        (ran.code, &document["soft_s"], &document["fails"]),
        (1, &Value::Null, &Value::from("too-soft"))
    );
    assert_eq!(document["refusals"][0]["code"], "too-soft");
    let ran = typed("exposure strip 4s --step 1/6 --strips 9 --clock 1s --json");
    assert_eq!(ran.code, 1);
    assert_eq!(ran.json()["refusals"][0]["code"], "strips-coincide");
}

#[test]
fn the_laws_say_where_they_stop() {
    for (line, code) in [
        ("exposure change 3s --stops +1/3", "short-time"),
        ("exposure change 50s --stops +1", "reciprocity"),
        ("exposure change 10s --stops +2.5", "large-change"),
        ("exposure size 10s --from 4x --to 5x", "condenser"),
        ("exposure size 10s --from 4x --to 8x --from-lens 300mm --to-lens 310mm", "sizes-disagree"),
        ("exposure strip 9s --step 1/12 --strips 2 --clock 1s", "coarse-clock"),
        ("exposure lamp --pulses 10 --pulse 0.9s --matches 10s", "gained-by-switching"),
        ("exposure range --thin 0.35 --dense 1.50", "between-two-papers"),
        ("exposure silver --sheet 38.7mg --carried 15ml --sheets 50 --volume 1L", "second-bath"),
        ("exposure silver --sheet 38.7mg --carried 15ml --sheets 50 --volume 1L", "diluted"),
        ("exposure wash 60min --to-temp 5C", "wash-temperature"),
    ] {
        let ran = typed(&format!("{line} --json"));
        let codes: Vec<String> = match ran.code {
            0 => {
                ran.json()["warnings"].as_array().unwrap().iter().map(|own| own["code"].to_string()).collect()
            }
            _ => panic!("{line}: {}", ran.whole()),
        };
        assert!(codes.contains(&format!("\"{code}\"")), "{line}: {codes:?}");
        assert!(ran.err.contains("note: "), "{line}: {}", ran.err);
    }
    let quiet = typed("exposure size 10s --from 4x --to 5x --head diffuse --json").json();
    assert_eq!(quiet["warnings"].as_array().unwrap().len(), 0);
}

#[test]
fn the_pages_hold_the_same_figures_as_the_answer() {
    let line = "exposure strip 8s --step 1/3 --strips 7 --method uncover";
    let settings = typed(&format!("{line} --json")).json()["settings_s"].clone();
    let page = typed(&format!("{line} --format html --paper letter")).out;
    assert!(page.contains("size: letter"));
    let set: Vec<&str> =
        page.split("<b class=\"set\">").skip(2).map(|rest| rest.split('<').next().unwrap()).collect();
    let told: Vec<String> =
        settings.as_array().unwrap().iter().map(|own| format!("{:.1}", own.as_f64().unwrap())).collect();
    assert_eq!(set, told);
    let wall = typed("exposure table --clock 1s --format html").out;
    assert_eq!(wall.matches("<td class=\"base\">").count(), 16);
    assert!(wall.contains("<td class=\"base\">45</td>"));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("wall.html");
    let path = path.to_str().unwrap();
    good(&["exposure", "table", "--clock", "1s", "--format", "html", "-o", path]);
    assert_eq!(fs::read_to_string(path).unwrap(), wall);
    assert_eq!(soupcon(&["exposure", "table", "-o", path]).code, 1);
}

#[test]
fn what_each_sum_prints_fits_the_schema_and_holds_nothing_else() {
    let schema = good(&["schema", "exposure"]).json();
    let text = include_str!("../data/printing-cases.csv");
    for line in text.lines() {
        let words = cells(line).swap_remove(1.min(cells(line).len() - 1));
        if words.starts_with("exposure ") {
            let document = typed(&format!("{words} --json")).json();
            assert_eq!(departures(&schema, &document), Vec::<String>::new(), "{words}");
            assert_eq!(unknown_keys(&schema, &document), Vec::<String>::new(), "{words}");
        }
    }
}

/// 12 s are log₂ 12 = 3.585 stops over one second; a place that got 3/4 stop more is kept beside them, as stops.
#[test]
fn a_print_is_recorded_by_its_stops() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml");
    let journal = journal.to_str().unwrap();
    let add =
        ["record", "add", "printed", "--sheets", "1x8x10in", "--exposure", "12s", "--local", "sky +3/4"];
    good(&[&add[..], &["--journal", journal]].concat());
    let list = good(&["record", "list", "--journal", journal, "--json"]).json();
    let entry = &list["entries"][0];
    let text = entry["exposure"].as_str().unwrap();
    assert!(text.starts_with("3.58496") && text.ends_with("sky +3/4"), "{text}");
    assert!((entry["exposure_s"].as_f64().unwrap() - 12.0).abs() < 1e-3);
}
