//! Mixtures that hurt and mixtures that do not, through the command line: what `check`, `sheet`, `label`, `safety` and `adjust` say of each,
//! and that they say the same.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::common::in_process;

/// Lines of a CSV with quoted cells.
fn rows_of(text: &str) -> Vec<Vec<String>> {
    let cells = |line: &str| {
        let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
        for letter in line.chars() {
            match letter {
                '"' => quoted = !quoted,
                ',' if !quoted => cells.push(std::mem::take(&mut cell)),
                _ => cell.push(letter),
            }
        }
        cells.push(cell);
        cells
    };
    text.lines().skip(1).filter(|line| !line.is_empty()).map(cells).collect()
}

/// A mixture of one of the tables, as formula files in a folder.
struct Mixture {
    words: String,
    expected: String,
    forms: String,
    /// One file a bath.
    files: Vec<PathBuf>,
    is_dry: bool,
}

fn formula(title: &str, contents: &str) -> String {
    let mut text = format!(
        "format = 1\ntitle = \"{title}\"\nkind = \"test-solution\"\nsummary = \"s\"\nevidence = \"memory\"\n"
    );
    for content in contents.split(';') {
        let (id, grams) = content.trim().split_once('=').unwrap_or((content.trim(), "10"));
        write!(text, "\n[[ingredients]]\nsubstance = \"{id}\"\ngrams = {grams}\n").unwrap();
    }
    text
}

fn mixtures(folder: &Path, table: &str) -> Vec<Mixture> {
    let one = |(index, row): (usize, Vec<String>)| {
        let (words, contents) = (row[0].clone(), row[1].as_str());
        let (expected, forms) =
            if row.len() == 5 { (row[2].clone(), row[3].clone()) } else { (String::new(), String::new()) };
        let dry = contents.strip_prefix("dry: ");
        let baths = dry.unwrap_or(contents).split('>');
        let files = baths.enumerate().map(|(bath, contents)| {
            let path = folder.join(format!("mixture-{index}-{bath}.toml"));
            std::fs::write(&path, formula(&words, contents)).unwrap();
            path
        });
        Mixture { files: files.collect(), words, expected, forms, is_dry: dry.is_some() }
    };
    rows_of(table).into_iter().enumerate().map(one).collect()
}

fn dangerous(folder: &Path) -> Vec<Mixture> {
    mixtures(folder, include_str!("../data/dangerous-mixtures.csv"))
}

fn harmless(folder: &Path) -> Vec<Mixture> {
    mixtures(folder, include_str!("../data/harmless-mixtures.csv"))
}

/// The findings of `check` on a folder, by file name: severity, code, message.
fn findings(folder: &Path) -> Vec<(String, String, String, String)> {
    let checked = in_process(&["check", folder.to_str().unwrap(), "--json"]);
    let json = checked.json();
    let own = json["findings"].as_array().unwrap().iter().map(|own| {
        let text = |key: &str| own[key].as_str().unwrap().to_owned();
        let file = Path::new(&text("file")).file_name().unwrap().to_string_lossy().into_owned();
        (file, text("severity"), text("code"), text("message"))
    });
    own.collect()
}

/// What a document says of cautions: severity and words.
fn cautions(json: &Value) -> Vec<(String, String)> {
    let own = json["cautions"].as_array().into_iter().flatten();
    own.map(|own| (own["severity"].as_str().unwrap().into(), own["text"].as_str().unwrap().into())).collect()
}

fn refusals(json: &Value) -> Vec<String> {
    json["refusals"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|own| own["text"].as_str().unwrap().into())
        .collect()
}

/// The lines about gas in a list of parts, labels or vessels.
fn gas_lines(list: &Value) -> BTreeSet<String> {
    let own =
        list.as_array().into_iter().flatten().flat_map(|own| own["gas"].as_array().into_iter().flatten());
    own.map(|line| line.as_str().unwrap().to_owned()).collect()
}

/// What `sheet`, `label` and `safety` say of one formula.
struct Said {
    codes: [i32; 3],
    refused: [Vec<String>; 3],
    sheet_cautions: Vec<(String, String)>,
    safety_cautions: Vec<(String, String)>,
    sheet_gas: BTreeSet<String>,
    sheet_baths_gas: BTreeSet<String>,
    label_gas: BTreeSet<String>,
    safety_gas: BTreeSet<String>,
    /// The label as a printer gets it.
    label_text: String,
    sheet: Value,
    safety: Value,
}

fn said(file: &Path) -> Said {
    let file = file.to_str().unwrap();
    let sheet = in_process(&["sheet", file, "1L", "--json"]);
    let label = in_process(&["label", file, "1L", "--json"]);
    let safety = in_process(&["safety", file, "--json"]);
    let (one, two, three) = (sheet.json(), label.json_or_null(), safety.json());
    let has_gas = !gas_lines(&two["labels"]).is_empty();
    let label_text = if has_gas { in_process(&["label", file, "1L"]).out } else { String::new() };
    Said {
        codes: [sheet.code, label.code, safety.code],
        refused: [refusals(&one), refusals(&two), refusals(&three)],
        sheet_cautions: cautions(&one),
        safety_cautions: cautions(&three),
        sheet_gas: gas_lines(&one["parts"]),
        sheet_baths_gas: gas_lines(&one["baths"]),
        label_gas: gas_lines(&two["labels"]),
        safety_gas: gas_lines(&three["formulas"][0]["vessels"]),
        label_text,
        sheet: one,
        safety: three,
    }
}

/// Where the commands say different things of one formula.
fn disagreements(said: &Said) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut differ = |what: &str, is_same: bool| {
        if !is_same {
            wrong.push(format!("sheet, label and safety differ in {what}"));
        }
    };
    let in_parts = said.sheet_gas.iter().filter(|line| !line.starts_with("Poured together"));
    let vessels: BTreeSet<String> = in_parts.chain(&said.sheet_baths_gas).cloned().collect();
    let has_label = !said.label_gas.is_empty() || said.codes[1] == 0;
    differ("whether it is refused", said.codes[0] == said.codes[2]);
    differ("why it is refused", said.refused[0] == said.refused[2]);
    differ("the gas of sheet and safety", said.codes[0] != 0 || vessels == said.safety_gas);
    differ(
        "the gas of sheet and label",
        said.codes[0] != 0 || !has_label || said.sheet_gas == said.label_gas,
    );
    for (severity, words) in &said.safety_cautions {
        let is_told =
            said.sheet_cautions.iter().any(|own| own.0 == *severity && own.1.starts_with(words.as_str()));
        differ(&format!("the caution {words:?}"), said.codes[0] != 0 || is_told);
    }
    // What is worn, the air, the waste and the first aid are the same lines.
    let lines: BTreeSet<&str> =
        said.sheet["safety"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    for key in ["exposure", "waste"] {
        for line in said.safety[key].as_array().into_iter().flatten().filter_map(Value::as_str) {
            differ(&format!("{key}: {line:?}"), lines.contains(line));
        }
    }
    let air = said.safety["ventilation"].as_str();
    differ("the air", air.is_none_or(|air| lines.contains(air)));
    for line in &said.label_gas {
        let text =
            said.label_text.split_whitespace().filter(|word| *word != "|").collect::<Vec<_>>().join(" ");
        differ(&format!("the printed label: {line:?}"), text.contains(line.as_str()));
    }
    wrong
}

/// Names of gases as the program prints them.
const GASES: [&str; 10] = [
    "chlorine",
    "hydrogen sulfide",
    "hydrogen cyanide",
    "sulfur dioxide",
    "hydrogen selenide",
    "bromine",
    "iodine",
    "ammonia",
    "hydrogen chloride",
    "formaldehyde",
];

#[test]
fn what_hurts_is_told_by_every_command() {
    let folder = tempfile::tempdir().unwrap();
    let mixtures = dangerous(folder.path());
    let found = findings(folder.path());
    assert!(mixtures.len() >= 99);
    let mut wrong = Vec::new();
    for own in &mixtures {
        let mut says = |what: String| wrong.push(format!("{}: {what}", own.words));
        let words = own.forms.to_lowercase();
        if own.files.len() > 1 {
            between(own, &mut says);
            continue;
        }
        let name = own.files[0].file_name().unwrap().to_str().unwrap();
        let of_file = found.iter().filter(|finding| finding.0 == name);
        let grave: Vec<_> =
            of_file.filter(|finding| ["error", "advice"].contains(&finding.1.as_str())).collect();
        if !grave.iter().any(|finding| finding.2 == "dangerous-combination" || finding.1 == "error") {
            says(format!("check says only {grave:?}"));
        }
        if ["refuse", "danger"].contains(&own.expected.as_str()) && !grave.iter().any(|own| own.1 == "error")
        {
            says(format!("check calls it no error: {grave:?}"));
        }
        let said = said(&own.files[0]);
        for what in disagreements(&said) {
            says(what);
        }
        if own.expected == "refuse" {
            if said.codes.contains(&0) || said.refused[0].is_empty() {
                says(format!("not refused by sheet, label, safety: {:?}", said.codes));
            }
            continue;
        }
        let told = said.sheet_cautions.iter().any(|(severity, text)| {
            (severity == "danger" || severity == &own.expected) && text.to_lowercase().contains(&words)
        });
        let told = told || said.sheet_gas.iter().any(|line| line.contains(&words));
        if said.codes[0] == 0 && !told {
            says(format!("the sheet does not speak of {words}: {:?}", said.sheet_cautions));
        }
        let is_gas = GASES.iter().any(|gas| words.contains(gas));
        if said.codes[1] == 0
            && is_gas
            && !own.is_dry
            && !said.label_gas.iter().any(|line| line.contains(&words))
        {
            says(format!("the label does not name {words}: {:?}", said.label_gas));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Two baths, one after the other.
fn between(own: &Mixture, says: &mut impl FnMut(String)) {
    let files: Vec<&str> = own.files.iter().map(|file| file.to_str().unwrap()).collect();
    let safety = in_process(&["safety", files[0], files[1], "--json"]).json();
    let told = safety["between"].as_array().unwrap().iter().any(|caution| {
        let text = format!("{} {}", caution["product"], caution["text"]).to_lowercase();
        caution["severity"] == own.expected.as_str() && text.contains(&own.forms.to_lowercase())
    });
    if !told {
        says(format!("safety says between them only {}", safety["between"]));
    }
    // Each of the two says it of itself, for whoever has only its sheet or its bottle.
    let never = files.iter().any(|file| {
        let label = in_process(&["label", file, "1L", "--json"]).json_or_null();
        label["labels"]
            .as_array()
            .into_iter()
            .flatten()
            .any(|own| !own["never_beside"].as_array().unwrap().is_empty())
    });
    if !never {
        says("no label says what must not come beside it".to_owned());
    }
}

#[test]
fn what_does_not_hurt_is_called_so_by_no_command() {
    let folder = tempfile::tempdir().unwrap();
    let mixtures = harmless(folder.path());
    let found = findings(folder.path());
    assert!(mixtures.len() >= 40);
    let mut wrong = Vec::new();
    for own in &mixtures {
        let mut says = |what: String| wrong.push(format!("{}: {what}", own.words));
        let name = own.files[0].file_name().unwrap().to_str().unwrap();
        for finding in found.iter().filter(|finding| finding.0 == name) {
            if ["dangerous-combination", "principle", "known-danger"].contains(&finding.2.as_str())
                || finding.1 == "error"
            {
                says(format!("check: {finding:?}"));
            }
        }
        let said = said(&own.files[0]);
        for what in disagreements(&said) {
            says(what);
        }
        if said.codes != [0; 3] {
            says(format!("refused: {:?} {:?}", said.codes, said.refused));
        }
        for (severity, text) in said.sheet_cautions.iter().chain(&said.safety_cautions) {
            if severity != "note" {
                says(format!("{severity}: {text}"));
            }
        }
        if said.label_gas.iter().any(|line| line.contains("leave")) {
            says(format!("its label names gas: {:?}", said.label_gas));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Acids and alkalis that `adjust` takes, with a pH to bring a bath to.
const ADJUSTERS: [(&str, &str); 9] = [
    ("acetic-acid-28", "3.5"),
    ("acetic-acid", "3.5"),
    ("citric-acid-monohydrate", "3.5"),
    ("hydrochloric-acid-37", "3"),
    ("sulfuric-acid", "3"),
    ("sodium-bisulfate-anhydrous", "1.5"),
    ("ammonia-25", "10"),
    ("sodium-hydroxide", "12"),
    ("triethanolamine", "9"),
];

#[test]
fn adjust_makes_none_of_them_without_a_word() {
    let folder = tempfile::tempdir().unwrap();
    let mut wrong = Vec::new();
    let mut tried = 0;
    for row in rows_of(include_str!("../data/dangerous-mixtures.csv")) {
        let (words, contents) = (&row[0], row[1].as_str());
        if contents.contains('>') || contents.starts_with("dry") {
            continue;
        }
        for (adjuster, ph) in ADJUSTERS {
            let is_adjuster = |own: &&str| own.trim().split('=').next() == Some(adjuster);
            let rest: Vec<&str> = contents.split(';').filter(|own| !is_adjuster(own)).collect();
            if rest.len() == contents.split(';').count() || rest.is_empty() {
                continue;
            }
            let path = folder.path().join("rest.toml");
            std::fs::write(&path, formula(words, &rest.join(";"))).unwrap();
            let adjusted =
                in_process(&["adjust", path.to_str().unwrap(), "--ph", ph, "--using", adjuster, "--json"]);
            tried += 1;
            let says_nothing =
                adjusted.code == 0 && cautions(&adjusted.json()).iter().all(|own| own.0 == "note");
            if says_nothing {
                wrong.push(format!("{words}: {adjuster} to pH {ph}: {}", adjusted.out));
            }
        }
    }
    assert!(tried >= 20, "{tried}");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_formula_of_the_library_is_told_of_alike() {
    let mut wrong = Vec::new();
    let list = in_process(&["list", "--json"]).json();
    let ids: Vec<&str> =
        list["formulas"].as_array().unwrap().iter().map(|own| own["id"].as_str().unwrap()).collect();
    assert!(ids.len() > 200);
    // Every eleventh: the rest is the same code.
    for id in ids.iter().step_by(11) {
        wrong.extend(disagreements(&said(Path::new(id))).into_iter().map(|what| format!("{id}: {what}")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Sulfide baths of which so little is free as hydrogen sulfide that the air above them stays below 100 ppm (NIOSH, immediately dangerous to
/// life): with Henry's constant 0.10 mol/(L atm) (Sander, Atmos. Chem. Phys. 23, 2023) that are 1.0e-5 mol/L.
const KEPT_ALKALINE: [&str; 5] = [
    "sodium-sulfide-nonahydrate=20",
    "sodium-sulfide-nonahydrate=20; sodium-carbonate-anhydrous=20",
    "sodium-sulfide-flake=20; trisodium-phosphate-dodecahydrate=20",
    "sodium-sulfide-nonahydrate=40; borax-decahydrate=2",
    "sodium-sulfide-nonahydrate=20; hydroquinone=1",
];

#[test]
fn a_sulfide_bath_that_alkali_holds_is_not_refused() {
    let folder = tempfile::tempdir().unwrap();
    for contents in KEPT_ALKALINE {
        let path = folder.path().join("sulfide.toml");
        std::fs::write(&path, formula("sulfide", contents)).unwrap();
        let said = said(&path);
        assert_eq!(said.codes, [0; 3], "{contents}: {:?}", said.refused);
    }
}
