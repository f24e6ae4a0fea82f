//! The bench page: names of chemicals, the table of its words, what it holds and how many lines and pages it takes.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::common::shipped::{bench_of, shipped};
use crate::common::{command, good};
use soupcon::bench::words::BenchWords;
use soupcon::lettering::Paper;
use soupcon::library::Library;
use soupcon::render::TextStyle;
use soupcon::render::bench::{bench_text, part_pages};
use soupcon::substance::{Form, Signal, Substance};

/// Every shipped substance.
fn substances(library: &Library) -> Vec<Substance> {
    let shipped = Library::shipped_files();
    let files = shipped.iter().filter_map(|(path, text)| {
        let id = path.strip_prefix("substances/")?.strip_suffix(".toml")?;
        Some((id, *text))
    });
    files.map(|(id, text)| Substance::parse(text, id, id, library.weights()).unwrap()).collect()
}

fn forms(library: &Library) -> Vec<Arc<Form>> {
    substances(library).into_iter().flat_map(|own| own.forms).collect()
}

fn words() -> BenchWords {
    BenchWords::parse(Library::shipped().table("bench-words.toml").unwrap()).unwrap()
}

/// Where several forms are sold, the name says which: words and signs for water of crystallisation, for strength, for the dry salt.
const TELLS_THE_FORM: &[&str] = &["anhydrous", "anh.", "hydrate", "H2O", "%", "glacial", "dry", "flake"];

#[test]
fn bench_names_are_short_unlike_each_other_and_tell_the_form() {
    let library = Library::shipped();
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    for substance in substances(&library) {
        for form in &substance.forms {
            let name = &form.bench_name;
            assert!(name.chars().count() <= 24, "{name} has more than 24 letters");
            if let Some(other) = seen.insert(name.to_lowercase(), form.id.clone()) {
                panic!("{} and {other} are both called {name}", form.id);
            }
            let is_told = TELLS_THE_FORM.iter().any(|sign| name.contains(sign));
            assert!(substance.forms.len() == 1 || is_told, "{name} does not say which form it is");
        }
    }
    assert!(seen.len() > 150);
}

/// A hydrate's count on the page is that of its chemical formula (`Na2CO3.10H2O` is `10H2O`).
#[test]
fn the_water_in_a_bench_name_is_that_of_the_crystals() {
    let greek = [
        ("monohydrate", 1.0),
        ("dihydrate", 2.0),
        ("tetrahydrate", 4.0),
        ("pentahydrate", 5.0),
        ("heptahydrate", 7.0),
        ("decahydrate", 10.0),
        ("anhydrous", 0.0),
        ("anh.", 0.0),
    ];
    let mut told = 0;
    for form in forms(&Library::shipped()) {
        let last = form.bench_name.rsplit([' ', '(']).next().unwrap().trim_end_matches(')');
        let counted = last.strip_suffix("H2O").map(|count| count.parse::<f64>().unwrap());
        let named = greek.iter().find(|(word, _)| last.ends_with(word)).map(|(_, count)| *count);
        if let Some(count) = counted.or(named) {
            assert!((form.crystal_water - count).abs() < 1e-9, "{}: {}", form.id, form.bench_name);
            told += 1;
        }
    }
    assert!(told > 40, "{told}");
}

/// Every statement that asks for the signal word Danger (CLP, Annex I) is told on the bench, and so is cancer, unborn child, allergy.
#[test]
fn every_dangerous_statement_has_a_phrase() {
    let words = words();
    for form in forms(&Library::shipped()) {
        let hazards = &form.hazards;
        if hazards.signal != Some(Signal::Danger) {
            continue;
        }
        let told = hazards.statements.iter().chain(&hazards.supplementary);
        let told = told.filter(|code| words.mind_row(code).is_some()).count();
        assert!(told > 0, "{} is dangerous and no phrase tells it: {:?}", form.id, hazards.statements);
    }
    for (code, id) in [
        ("H350", "cancer"),
        ("H350i", "cancer"),
        ("H360FD", "pregnancy"),
        ("H314", "burns"),
        ("H317", "skin-allergy"),
    ] {
        assert_eq!(words.mind_row(code).unwrap().1.id, id);
    }
    assert!(words.mind_row("H36").is_none() && words.mind_row("H3601").is_none());
}

/// The page has a line for every box and gas of the tables of safety.
#[test]
fn boxes_and_gases_of_the_precautions_have_their_line() {
    let text = Library::shipped().table("precautions.toml").unwrap();
    let table: toml::Table = text.parse().unwrap();
    let ids = |array: &str| -> Vec<String> {
        let rows = table[array].as_array().unwrap().iter();
        rows.map(|row| row["id"].as_str().unwrap().to_owned()).collect()
    };
    let words = words();
    let (boxes, gases) = words.ids();
    for id in ids("boxes") {
        assert!(boxes.contains(&id.as_str()), "no line for the box {id}");
    }
    for id in ids("gases") {
        assert!(gases.contains(&id.as_str()), "no line for the gas {id}");
    }
}

#[test]
fn a_bench_name_that_is_too_long_is_refused() {
    let library = Library::shipped();
    let text = "format = 1\nname = \"soda\"\n[[forms]]\nid = \"soda\"\nname = \"soda\"\nbench_name = \"sodium carbonate, anhydrous\"\n";
    let findings = Substance::parse(text, "soda", "soda.toml", library.weights()).unwrap_err();
    assert_eq!(findings[0].code, "bench-name");
    let short = text.replace("sodium carbonate, anhydrous", "washing soda");
    assert_eq!(
        Substance::parse(&short, "soda", "soda.toml", library.weights()).unwrap().forms[0].bench_name,
        "washing soda"
    );
    let without: String =
        text.lines().filter(|line| !line.starts_with("bench_name")).map(|line| format!("{line}\n")).collect();
    assert_eq!(
        Substance::parse(&without, "soda", "soda.toml", library.weights()).unwrap().forms[0].bench_name,
        "soda"
    );
}

/// What is dangerous is named above the table: before a jar is opened, or under MIND; a special box by its own line.
#[test]
fn every_dangerous_chemical_is_named_on_its_bench_page() {
    for (sheet, _) in &shipped().batches {
        let bench = bench_of(sheet);
        let told = bench.mind.iter().flat_map(|own| own.names.clone()).chain(bench.opening.clone());
        let told = told.collect::<Vec<_>>().join(" ").to_lowercase();
        for powder in sheet.review.powders.iter().filter(|powder| powder.signal == Some(Signal::Danger)) {
            let parent = powder.name.split([',', '(']).next().unwrap().trim().to_lowercase();
            let forms = sheet.parts.iter().flat_map(|part| &part.batch.items).map(|item| &item.form);
            let form = forms.into_iter().find(|form| form.id == powder.id);
            let names = form.map(|form| [form.bench_name.to_lowercase(), form.parent.name.to_lowercase()]);
            let is_named =
                told.contains(&parent) || names.into_iter().flatten().any(|name| told.contains(&name));
            let is_boxed = sheet.review.boxes.iter().any(|own| own.about.contains(&powder.id));
            assert!(is_named || is_boxed, "{}: {} is not named in: {told}", sheet.formula.id, powder.id);
        }
        assert_eq!(
            sheet.review.boxes.is_empty(),
            !bench.opening.iter().any(|line| line.contains(':')
                && sheet.review.boxes.iter().any(|own| words().opening(&own.id, &own.title) == line)),
            "{}",
            sheet.formula.id
        );
    }
}

/// A caution is never dropped or shortened: each danger and warning of a step stands on the terminal's page in its own words.
#[test]
fn every_caution_of_a_step_stands_on_the_page_before_its_row() {
    for (sheet, _) in &shipped().batches {
        let text = bench_text(&bench_of(sheet), TextStyle::default(), false).text;
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for step in sheet.parts.iter().flat_map(|part| &part.steps) {
            for caution in
                step.cautions.iter().filter(|own| own.severity >= soupcon::safety::Severity::Warning)
            {
                let own = caution.text.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(text.contains(&format!("!! {own}")), "{}: {own}", sheet.formula.id);
            }
        }
    }
}

/// Of a part with up to nine steps 45 lines at 80 columns, the first weighed gram within 15, step 4 within 30; pages that many cautions make longer
/// are counted, so that they do not become more unseen.
#[test]
fn the_bench_side_is_short_over_the_whole_library() {
    let mut lengths: Vec<usize> = Vec::new();
    let (mut long, mut late, mut parts, mut pages) = (Vec::new(), Vec::new(), 0, [0, 0]);
    let mut broken: [Vec<String>; 2] = Default::default();
    for (sheet, _) in &shipped().batches {
        let bench = bench_of(sheet);
        let text = bench_text(&bench, TextStyle::default(), false);
        let id = sheet.formula.id.clone();
        assert!(text.text.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 80), "{id}");
        for (part, lines) in bench.parts.iter().zip(&text.part_lines) {
            lengths.push(*lines);
            if part.rows.len() <= 9 && *lines > 45 {
                long.push(format!("{id} {lines}"));
            }
        }
        if text.first_gram > 15 {
            late.push(format!("{id} {}", text.first_gram));
        }
        let fourth =
            text.text.lines().position(|line| line.trim_start_matches(['[', ' ', ']']).starts_with("4 "));
        if let (true, Some(line)) = (bench.parts[0].rows.len() >= 4, fourth) {
            assert!(line < 33, "{id}: step 4 on line {}", line + 1);
        }
        parts += bench.parts.len();
        for (place, paper) in [Paper::A4, Paper::Letter].into_iter().enumerate() {
            for (part, own) in bench.parts.iter().zip(part_pages(&bench, paper)) {
                pages[place] += own;
                if part.rows.len() <= 9 && own > 1 {
                    broken[place].push(id.clone());
                }
            }
        }
    }
    lengths.sort_unstable();
    let (median, ninth, worst) =
        (lengths[lengths.len() / 2], lengths[lengths.len() * 9 / 10], lengths.last().unwrap());
    println!(
        "{parts} parts: median {median} lines, 90th percentile {ninth}, worst {worst}; pages A4 {}, Letter {}",
        pages[0], pages[1]
    );
    assert!(median <= 36 && ninth <= 45, "{median} {ninth}");
    assert!(long.is_empty(), "{long:?}");
    assert!(late.len() <= 2, "{late:?}");
    // One page a part of up to nine steps, on Letter too, which is 18 mm lower.
    assert!(broken[0].is_empty() && broken[1].is_empty(), "{broken:?}");
}

/// Where lines are short, uses give way, and signs of harmless steps: never a caution or a note, and never how acid, caustic, heat or a second
/// vessel is handled.
#[test]
fn no_caution_gives_way_and_no_way_of_handling_what_hurts() {
    let mut vital = 0;
    for (sheet, _) in &shipped().batches {
        let bench = bench_of(sheet);
        let text = bench_text(&bench, TextStyle::default(), false).text;
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let text = flat(&text);
        for row in bench.parts.iter().flat_map(|part| &part.rows) {
            for mark in &row.marks {
                assert!(text.contains(&flat(&mark.text)), "{}: {}", bench.id, mark.text);
            }
            let act = row.act.plain();
            let hurts = ["sulfuric acid", "hydrochloric acid", "acetic acid", "hydroxide", "APART", "POUR"];
            let is_of_it = hurts.iter().any(|word| act.contains(word)) && !act.contains("calcium");
            assert!(!is_of_it || row.is_vital, "{}: {act}", bench.id);
            if row.is_vital {
                vital += 1;
                assert!(text.contains(&flat(&row.how)), "{}: {}", bench.id, row.how);
            }
        }
    }
    assert!(vital > 150, "{vital}");
}

/// A page is of one part: what is weighed for another part is not minded on it, and what is dangerous of its own is.
#[test]
fn a_page_minds_what_is_weighed_for_its_part() {
    let mut several = 0;
    for (sheet, _) in &shipped().batches {
        let bench = bench_of(sheet);
        several += usize::from(bench.parts.len() > 1);
        for (part, source) in bench.parts.iter().zip(&sheet.parts) {
            let told = part.head.mind.iter().flat_map(|own| own.names.clone());
            let told = told.chain(part.head.opening.clone()).collect::<Vec<_>>().join(" ").to_lowercase();
            let is_weighed = |id: &str| source.batch.items.iter().any(|item| item.form.id == id);
            for powder in sheet.review.powders.iter().filter(|powder| powder.signal == Some(Signal::Danger)) {
                let parent = powder.name.split([',', '(']).next().unwrap().trim().to_lowercase();
                let is_boxed = sheet.review.boxes.iter().any(|own| own.about.contains(&powder.id));
                if is_weighed(&powder.id) && !is_boxed {
                    let form = source.batch.items.iter().find(|item| item.form.id == powder.id).unwrap();
                    let names =
                        [form.form.bench_name.to_lowercase(), form.form.parent.name.to_lowercase(), parent];
                    assert!(names.iter().any(|name| told.contains(name)), "{}: {names:?}: {told}", bench.id);
                }
            }
            for named in part.head.mind.iter().flat_map(|own| &own.names) {
                let is_its_own = source
                    .batch
                    .items
                    .iter()
                    .any(|item| item.form.bench_name == *named || item.form.parent.name == *named)
                    || sheet
                        .formula
                        .parts
                        .iter()
                        .filter(|own| own.name == part.name)
                        .filter_map(|own| own.solvent.as_ref())
                        .any(|own| own.bench_name == *named || own.parent.name == *named);
                assert!(is_its_own, "{}, part {:?}: {named}", bench.id, part.name);
            }
        }
    }
    assert!(several > 40, "{several}");
}

/// What is heated once more after making up goes into the bottle after that, not before.
#[test]
fn the_bottle_comes_last() {
    let out = good(&["sheet", "alum-thiosulfate-hot-sepia-toner", "1L"]).out;
    let (made_up, heated) = out.split_once("TO 49").or_else(|| out.split_once("to 49 °C")).unwrap();
    assert!(!made_up.contains("bottle, label") && heated.contains("bottle, label"), "{out}");
}

/// Narrow, and in ASCII: the same words.
#[test]
fn a_narrow_terminal_loses_no_word() {
    for (sheet, _) in shipped().batches.iter().step_by(7) {
        let bench = bench_of(sheet);
        let narrow = TextStyle { width: 40, bold: false };
        let words = |text: &str| text.chars().filter(|letter| letter.is_alphanumeric()).collect::<String>();
        let text = bench_text(&bench, narrow, false).text;
        assert!(text.lines().all(|line| unicode_width::UnicodeWidthStr::width(line) <= 40), "{text}");
        let all = words(&text);
        for part in &bench.parts {
            for row in &part.rows {
                assert!(all.contains(&words(&row.act.capitals())), "{}: {}", bench.id, row.act.plain());
                assert!(all.contains(&words(&row.sign(false))), "{}: {}", bench.id, row.sign(false));
            }
        }
        let ascii = bench_text(&bench, narrow, true).text;
        assert!(ascii.is_ascii() && ascii.lines().all(|line| line.len() <= 40), "{ascii}");
    }
}

/// The asked-for volume of a working solution stands on the page, with the stock and the water that make it.
#[test]
fn a_working_solution_ends_with_stock_and_water() {
    let out = good(&["sheet", "mq-borax-classic", "1L", "--working", "1+3", "--balance", "0.01g"]).out;
    for words in
        ["1 L working (250 mL stock)", "250 mL   TAKE the stock, add 750 mL water", "makes 1 L at 1 + 3"]
    {
        assert!(out.contains(words), "{words}: {out}");
    }
    let out = good(&["sheet", "acutance-metol-sulfite-carbonate-ab", "500ml"]).out;
    assert!(out.contains("makes 5 L at 1 A + 1 B + 8 water"), "{out}");
}

/// The sulfite is weighed once; what the steps carry stays exact.
#[test]
fn the_sulfite_is_ticked_once() {
    let out = good(&["sheet", "mq-borax-classic", "500ml"]).out;
    assert!(out.contains("[ ]    2   50.0 g   SULFITE, anhydrous: a PINCH of it in"), "{out}");
    let rest = out.lines().find(|line| line.contains("THE REST OF THE SULFITE")).unwrap();
    assert!(rest.starts_with("       4            THE REST"), "{rest}");
    let json = good(&["sheet", "mq-borax-classic", "500ml", "--json"]).json();
    let steps = json["parts"][0]["steps"].as_array().unwrap().iter();
    let carried = steps
        .filter(|step| step["substance"] == "sodium-sulfite-anhydrous")
        .map(|step| step["carries_g"].as_f64().unwrap());
    assert!((carried.sum::<f64>() - 50.0).abs() < 1e-9);
    assert!(json["bench"]["lines"].as_u64().unwrap() <= 45 && json["bench"]["pages"] == 1);
}

/// Each side by itself, and both.
#[test]
fn a_side_is_chosen() {
    let side = |side: &str| good(&["sheet", "mq-borax-classic", "1L", "--side", side]).out;
    let (bench, reasons, both) = (side("bench"), side("reasons"), side("both"));
    assert!(bench.contains("weighed    amount") && !bench.contains("WHY, BY STEP"));
    assert!(reasons.contains("WHY, BY STEP") && !reasons.contains("weighed    amount"));
    assert!(both.starts_with(&bench) && both.ends_with(&reasons));
    let html = command(&["sheet", "mq-borax-classic", "1L", "--format", "html"]).output().unwrap();
    let html = String::from_utf8(html.stdout).unwrap();
    assert!(html.contains("class=\"page bench\"") && html.contains("Why, by step"));
}

/// What the card prints of a use is accepted where a use is asked for: its name, and its phrase.
#[test]
fn a_use_is_known_by_its_name_and_its_phrase() {
    let formula = "acutance-metol-sulfite-carbonate-ab";
    let parts = |working: &str| {
        let json = good(&["scale", formula, "500ml", "--working", working, "--json"]).json();
        json["parts"]
            .as_array()
            .unwrap()
            .iter()
            .map(|part| part["volume_ml"].as_f64().unwrap())
            .collect::<Vec<_>>()
    };
    // 1 in 10 parts of half a litre of each.
    for working in ["one-shot", "1 A + 1 B + 8 water", "1+1+8"] {
        assert_eq!(parts(working), [50.0, 50.0], "{working}");
    }
    let out = good(&["dilute", "one-shot", "500ml", "--formula", formula]).out;
    assert!(out.contains("water  400 mL"), "{out}");
    let ran = crate::common::soupcon(&["scale", "mq-borax-classic", "1L", "--working", "nope"]);
    assert!(ran.code == 2 && ran.err.contains("undiluted, one-shot 1+1, one-shot 1+3"), "{}", ran.whole());
}
