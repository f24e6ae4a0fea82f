//! Printed pages as a browser makes them. Needs `chromium`, `pdftotext`, `pdfinfo` and `pdftoppm`; run with
//! `cargo test --test suite browser:: -- --ignored`.

mod labels;
mod papers;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::common::shipped::{Shipped, bench_of, shipped};
use crate::common::{good, soupcon_with_input};
use soupcon::label::Label;
use soupcon::lettering::Paper;
use soupcon::render::bench::{part_pages, sheet_html};
use soupcon::render::label::{Placing, check, label_sheet_html};

const PAPERS: [(&str, &str); 2] = [("a4", "594.96 x 841.92"), ("letter", "612 x 792")];

/// A formula that does its worst: markup in every text, a step with a caution, and more text than a page holds.
const HOSTILE: &str = r#"
format = 1
title = "</title></style><script>document.title='ran'</script><img src=x onerror=document.title='ran'> 'quoted' \"twice\" &amp; done"
kind = "fixer"
summary = "<b>bold</b> <a href='https://example.org'>away</a>"
evidence = "memory"
cautions = ["<iframe src='https://example.org'></iframe> LONG"]
note = "--> ]]> <!-- <style>* { display: none }</style>"

[[ingredients]]
substance = "sodium-sulfite-anhydrous"
grams = 30

[[ingredients]]
substance = "sodium-thiosulfate-pentahydrate"
grams = 240
note = "<svg onload=document.title='ran'></svg>"

[[ingredients]]
substance = "acetic-acid"
grams = 3
"#;

/// Runs a tool in a folder and gives its standard output.
fn tool(folder: &Path, name: &str, arguments: &[&str]) -> Vec<u8> {
    let output = Command::new(name).args(arguments).current_dir(folder).output();
    let output = output.unwrap_or_else(|error| panic!("{name} does not start: {error}"));
    assert!(output.status.success(), "{name} {arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

/// The browser without a window and without a network.
fn browser(folder: &Path, arguments: &[&str]) -> Vec<u8> {
    let profile = format!("--user-data-dir={}", folder.join("profile").display());
    let mut all = vec!["--headless", "--no-sandbox", "--disable-gpu", "--proxy-server=127.0.0.1:9", &profile];
    all.extend(arguments);
    tool(folder, "chromium", &all)
}

/// A page printed to PDF.
struct Printed {
    folder: tempfile::TempDir,
    /// Text of each page, without blanks.
    pages: Vec<String>,
}

impl Printed {
    fn new(html: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("page.html"), html).unwrap();
        browser(folder.path(), &["--no-pdf-header-footer", "--print-to-pdf=page.pdf", "page.html"]);
        let text = tool(folder.path(), "pdftotext", &["-raw", "page.pdf", "-"]);
        let text = String::from_utf8(text).unwrap();
        let pages = text.trim_end_matches('\u{c}').split('\u{c}').map(without_blanks).collect();
        Self { folder, pages }
    }

    /// Every picture element of every page: only greys, so that nothing depends on hue, and black is on white.
    fn check_greys(&self, what: &str) {
        tool(self.folder.path(), "pdftoppm", &["-r", "40", "page.pdf", "page"]);
        for picture in pictures(self.folder.path()) {
            let (mut darkest, mut lightest) = (255, 0);
            for pixel in picture.chunks_exact(3) {
                assert!(pixel[0] == pixel[1] && pixel[1] == pixel[2], "{what}: a colour, {pixel:?}");
                darkest = darkest.min(pixel[0]);
                lightest = lightest.max(pixel[0]);
            }
            assert!(darkest < 40 && lightest == 255, "{what}: {darkest} on {lightest}");
        }
    }

    fn size(&self) -> String {
        let info = String::from_utf8(tool(self.folder.path(), "pdfinfo", &["page.pdf"])).unwrap();
        info.lines().find(|line| line.starts_with("Page size")).unwrap().to_owned()
    }
}

/// Samples of all portable pixmaps in a folder.
fn pictures(folder: &Path) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "ppm"));
    assert!(!paths.is_empty());
    paths
        .iter()
        .map(|path| {
            let bytes = fs::read(path).unwrap();
            // P6, width, height, 255: the samples follow the third line end.
            let ends = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at);
            let start = ends.take(3).last().unwrap() + 1;
            bytes[start..].to_vec()
        })
        .collect()
}

/// Text of a piece of this program's HTML.
fn text_of(html: &str) -> String {
    let mut text = String::new();
    let mut inside = false;
    for letter in html.chars() {
        match letter {
            '<' => inside = true,
            '>' => inside = false,
            other if !inside => text.push(other),
            _ => {}
        }
    }
    let entities = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&amp;", "&")];
    entities.iter().fold(text, |text, (entity, letter)| text.replace(entity, letter))
}

/// Text without blanks, and with plain hyphens.
fn without_blanks(text: &str) -> String {
    text.chars()
        .filter(|letter| !letter.is_whitespace())
        .map(|letter| if letter == '\u{2011}' { '-' } else { letter })
        .collect()
}

/// The bench pages of the whole library on a paper as one document, and how many pages the program counts.
fn whole_library(paper: Paper) -> (String, Vec<(String, usize)>) {
    let (mut body, mut style, mut counted) = (String::new(), String::new(), Vec::new());
    for (sheet, _) in &shipped().batches {
        let bench = bench_of(sheet);
        let html = sheet_html(Some(&bench), None, paper);
        let own = html.split_once("<body>").unwrap().1.split_once("</body>").unwrap().0;
        body.push_str(own);
        html.split_once("<style>").unwrap().1.split_once("</style>").unwrap().0.clone_into(&mut style);
        counted.push((bench.id.clone(), part_pages(&bench, paper).iter().sum()));
    }
    let html = format!(
        "<!DOCTYPE html><html><head><meta charset=\"utf-8\"><style>{style}</style></head><body>{body}</body></html>"
    );
    (html, counted)
}

/// Over the whole library, on both papers: a browser prints as many bench pages as are counted, each formula's own; every number of a step has
/// its act on the same page.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn bench_pages_of_the_whole_library_are_as_many_as_are_counted() {
    for (paper, name, size) in
        [(Paper::A4, PAPERS[0].0, PAPERS[0].1), (Paper::Letter, PAPERS[1].0, PAPERS[1].1)]
    {
        let (html, counted) = whole_library(paper);
        let printed = Printed::new(&html);
        assert!(printed.size().contains(size), "{name}: {}", printed.size());
        assert_eq!(printed.pages.len(), counted.iter().map(|(_, pages)| pages).sum::<usize>(), "{name}");
        let mut pages = printed.pages.iter();
        for (id, count) in &counted {
            for number in 1..=*count {
                let page = pages.next().unwrap();
                let of = if *count > 1 { format!("{number}of{count}") } else { String::new() };
                let foot = format!("benchside{of}·");
                assert!(
                    page.contains(&foot) && page.contains(id.as_str()),
                    "{id} on {name}: {foot} is not on its page"
                );
            }
        }
        printed.check_greys(name);
    }
}

/// Over the whole library: nothing is wider than its cell or its page, nothing higher than its page, no two pieces overlap, and the sizes of type are those
/// of the specification: numbers 24, amounts 22, acts 17, signs 12, batch 34, name 22 points.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn nothing_on_a_bench_page_is_cut_or_overlaps() {
    const LOOK: &str = r"<script>window.onload = () => {
        const bad = [];
        const size = (element) => Math.round(parseFloat(getComputedStyle(element).fontSize) * 0.75 * 2) / 2;
        const wanted = { 'td.no': 24, 'td.am:not(.long)': 22, '.do b': 17, 'td.do': 12, 'header > b:not(.long)': 34, 'header h1': 22, '.told': 13, '.bar': 13, 'td.rd': 14 };
        for (const page of document.querySelectorAll('.bench')) {
            const own = page.getBoundingClientRect();
            const id = page.querySelector('header p').textContent.slice(0, 40);
            if (page.scrollHeight > HEIGHT + 1) bad.push(id + ': higher than the page by ' + (page.scrollHeight - HEIGHT));
            let bottom = own.top;
            for (const piece of page.children) {
                const box = piece.getBoundingClientRect();
                if (box.top < bottom - 1) bad.push(id + ': overlaps: ' + piece.className);
                bottom = box.bottom;
            }
            for (const cell of page.querySelectorAll('td, .told span, .ready span, .bar, .uses div, header > b')) {
                const box = cell.getBoundingClientRect();
                if (cell.clientWidth > 0 && cell.scrollWidth > cell.clientWidth + 1) bad.push(id + ': wider than its cell: ' + cell.textContent.slice(0, 40));
                if (box.right > own.right + 1) bad.push(id + ': over the edge: ' + cell.textContent.slice(0, 40));
            }
            for (const [selector, points] of Object.entries(wanted))
                for (const element of page.querySelectorAll(selector))
                    if (size(element) !== points) bad.push(id + ': ' + selector + ' is ' + size(element) + ' points');
        }
        document.body.textContent = 'looked at ' + document.title + ' found ' + bad.length + ': ' + bad.slice(0, 20).join('; ');
    };</script>";
    for (paper, width, height) in [(Paper::A4, 181.0, 278.0), (Paper::Letter, 186.9, 260.4)] {
        let (html, _) = whole_library(paper);
        let pixel = 96.0 / 25.4;
        let html = html.replace("</style>", &format!(" .bench {{ width: {width}mm; }}</style>")).replace(
            "</body>",
            &format!("{}</body>", LOOK.replace("HEIGHT", &format!("{:.0}", height * pixel))),
        );
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("page.html"), html).unwrap();
        let tree = browser(folder.path(), &["--window-size=1200,900", "--dump-dom", "page.html"]);
        let tree = String::from_utf8(tree).unwrap();
        assert!(
            tree.contains("looked at") && tree.contains("found 0:"),
            "{paper:?}: {}",
            &tree[tree.find("<body").unwrap_or(0)..]
        );
    }
}

#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn hostile_text_from_a_formula_is_inert_and_long_text_goes_on_overleaf() {
    let formula = HOSTILE.replace("LONG", &"a caution that goes on and on, ".repeat(55));
    for arguments in [&["sheet", "-", "1L", "--format", "html"][..], &["show", "-", "--format", "html"]] {
        let ran = soupcon_with_input(arguments, formula.as_bytes());
        assert_eq!(ran.code, 0, "{}", ran.whole());
        let printed = Printed::new(&ran.out);
        printed.check_greys("hostile");
        let all = printed.pages.concat();
        for text in
            ["<script>document.title='ran'</script>", "'quoted'\"twice\"&amp;done", "-->]]><!--<style>"]
        {
            assert!(all.contains(text), "{text} is not printed as it stands");
        }
        let tree = browser(printed.folder.path(), &["--dump-dom", "page.html"]);
        let tree = String::from_utf8(tree).unwrap();
        for element in ["<script", "<img", "<iframe", "<svg", "<a ", "<title>ran"] {
            assert!(!tree.contains(element), "{element} came alive in {arguments:?}");
        }
        assert_eq!(tree.matches("<style").count(), 1);
    }
}

/// A word in print: its corners in points, left, top, right, bottom, and its letters.
struct Word {
    corners: [f64; 4],
    letters: String,
}

impl Word {
    /// Whether it stands wholly in a box of left, top, width and height in mm.
    fn is_in(&self, [left, top, width, height]: [f64; 4]) -> bool {
        let point = 72.0 / 25.4;
        let [x_min, y_min, x_max, y_max] = self.corners;
        x_min >= left * point
            && x_max <= (left + width) * point
            && y_min >= top * point
            && y_max <= (top + height) * point
    }
}

/// The words of each page.
fn words_of(printed: &Printed) -> Vec<Vec<Word>> {
    let text = tool(printed.folder.path(), "pdftotext", &["-bbox", "page.pdf", "-"]);
    let text = String::from_utf8(text).unwrap();
    let number = |line: &str, name: &str| -> f64 {
        let rest = &line[line.find(name).unwrap() + name.len() + 2..];
        rest[..rest.find('"').unwrap()].parse().unwrap()
    };
    let page_of = |page: &str| {
        let words = page.lines().filter(|line| line.trim_start().starts_with("<word"));
        let words = words.map(|line| Word {
            corners: ["xMin", "yMin", "xMax", "yMax"].map(|name| number(line, name)),
            letters: text_of(line),
        });
        words.collect()
    };
    text.split("<page ").skip(1).map(page_of).collect()
}

/// All letters in their own order, whatever the lines.
fn letters(text: &str) -> Vec<char> {
    let plain = without_blanks(text).to_lowercase().replace('\u{2011}', "-");
    let mut letters: Vec<char> = plain.chars().collect();
    letters.sort_unstable();
    letters
}

/// Every label of the library, on each size on which it has room: nothing of its text is cut off or stands outside.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn the_text_of_every_label_stays_inside_it_whatever_the_face() {
    let Shipped { sheets, batches } = shipped();
    let placing = Placing { first: 0, shift_mm: (0.0, 0.0), outline: false };
    for size in &sheets.sheets {
        let all = batches.iter().flat_map(|(_, labels)| labels);
        let fit: Vec<Label> = all.filter(|label| check(label, size, sheets).is_ok()).cloned().collect();
        if fit.is_empty() {
            continue;
        }
        let html = label_sheet_html(&fit, size, sheets, &placing).unwrap();
        let expected: Vec<String> =
            html.lines().filter(|line| line.starts_with("<div class=\"label\"")).map(text_of).collect();
        assert_eq!(expected.len(), fit.len());
        let other = html.replace("\"Liberation Sans\", Arial, Helvetica, ", "");
        assert_ne!(html, other);
        for html in [html, other] {
            let printed = Printed::new(&html);
            printed.check_greys(&size.size);
            let pages = words_of(&printed);
            let per_sheet = size.count() as usize;
            assert_eq!(pages.len(), fit.len().div_ceil(per_sheet));
            for (index, (label, expected)) in fit.iter().zip(&expected).enumerate() {
                let (left, top) = size.place(u32::try_from(index).unwrap());
                let edges = [left, top, size.width, size.height];
                let words = pages[index / per_sheet].iter().filter(|word| word.is_in(edges));
                let words: String = words.map(|word| word.letters.as_str()).collect();
                let what = format!("{} {:?} on {}", label.formula, label.part, size.size);
                assert_eq!(letters(&words), letters(expected), "{what}: of {expected} there is {words}");
            }
        }
    }
}

#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn label_cards_print_on_both_papers() {
    for (paper, size) in PAPERS {
        let arguments =
            ["label", "dichromate-sulfuric-reversal-bleach", "1L", "--format", "html", "--paper", paper];
        let html = good(&arguments).out;
        assert!(html.contains("aria-label=\"health hazard\""));
        let printed = Printed::new(&html);
        assert!(printed.size().contains(size));
        assert_eq!(printed.pages.len(), 1);
        printed.check_greys(paper);
        for text in ["DANGER", "Maycausecancer", "neopreneorPVC", "hydrochloricacid", "nolegallabel"] {
            assert!(printed.pages[0].contains(text), "{text} is missing on {paper}");
        }
    }
}

/// Evenings that ask for more room than that of the class: other developers, a fixer that hardens, bottles whose warmth is not known.
fn full_evenings() -> Vec<(&'static str, String, usize)> {
    const BEFORE: &str = "start = \"19:30\"\n[times]\nfix = \"5min\"\nwash = \"5min\"\n[baths]\nstop = \"acetic-acid-stop-bath\"\nfixer = \"acid-hardening-alum-boric-fixer\"\n";
    let tank = |name: &str, rest: &str| {
        format!("[[tanks]]\nname = \"{name}\"\nfilms = \"2x135-36\"\nvolume = \"600ml\"\n{rest}\n")
    };
    let classic = |minutes: u8| {
        format!("developer = \"mq-borax-classic\"\nuse = \"undiluted\"\ntime = \"{minutes}min\"")
    };
    let in_bottle = |minutes: u8| format!("bottle = \"D3\"\n{}", classic(minutes));
    let staining = "developer = \"pyrocatechol-hydroxide-compensating\"\ntime = \"12min\"";
    let other = "developer = \"mq-borax-75-sulfite\"\ntime = \"11min\"";
    let six: String = ["A", "B", "C", "D", "E", "F"].map(|name| tank(name, &classic(8))).concat();
    let all = [
        ("two times", tank("A", &classic(8)) + &tank("B", &classic(11)), 2),
        ("from a bottle", tank("A", &in_bottle(8)) + &tank("B", &in_bottle(11)), 2),
        ("two developers", tank("A", &classic(8)) + &tank("B", other), 2),
        ("a staining one", tank("A", &classic(8)) + &tank("B", staining), 2),
        // The clock of six tanks is long; what comes before it is one page.
        ("six tanks", six, 4),
    ];
    // Without an aid five minutes of washing are refused: that of the table stands.
    let before = |what| {
        if what == "a staining one" { BEFORE.replace("wash = \"5min\"\n", "") } else { BEFORE.to_owned() }
    };
    all.map(|(what, tanks, pages)| (what, before(what) + &tanks, pages)).into()
}

/// What comes before the clock is one page of each paper, whatever the evening, with every caution and note on it, and no page holds only
/// a foot.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn a_full_evening_prints_what_comes_before_on_one_page() {
    for (what, text, pages) in full_evenings() {
        let told = soupcon_with_input(&["evening", "-", "--json"], text.as_bytes());
        assert_eq!(told.code, 0, "{what}: {}", told.whole());
        let told = told.json();
        for (paper, size) in PAPERS {
            let html =
                soupcon_with_input(&["evening", "-", "--format", "html", "--paper", paper], text.as_bytes());
            let printed = Printed::new(&html.out);
            assert_eq!(printed.pages.len(), pages, "{what} on {paper}");
            assert!(printed.size().contains(size), "{what} on {paper}");
            let before = printed.pages.last().unwrap();
            assert!(before.starts_with("Evening:before"), "{what} on {paper}: {before}");
            assert!(before.ends_with("otherside"), "{what} on {paper}: {before}");
            let cautions =
                told["cautions"].as_array().unwrap().iter().map(|own| own["text"].as_str().unwrap());
            let notes = told["notes"].as_array().unwrap().iter().map(|own| own.as_str().unwrap());
            let seen = before.replace('\u{2011}', "-");
            for text in cautions.chain(notes) {
                let wanted = without_blanks(text).replace('\u{2011}', "-");
                assert!(seen.contains(&wanted), "{what} on {paper}: {text} is missing in {seen}");
            }
        }
    }
}

/// The evening's pages: two of them on both papers, nothing past the paper, and every letter of the page on the paper.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn an_evening_prints_on_two_pages_and_nothing_is_cut() {
    const FILE: &str = "examples/weekend-class/evening.toml";
    for (paper, size) in PAPERS {
        let html = good(&["evening", FILE, "--format", "html", "--paper", paper]).out;
        let printed = Printed::new(&html);
        assert_eq!(printed.pages.len(), 2, "{paper}");
        assert!(printed.size().contains(size), "{paper}");
        printed.check_greys(paper);
        assert!(printed.pages[0].contains("Evening:clock") && printed.pages[0].contains("allhung"));
        assert!(printed.pages[1].contains("Evening:before") && printed.pages[1].contains("blocked"));
        // The text of the document, all of it, stands on the paper.
        let body = html.split_once("<body>").unwrap().1;
        let told: Vec<char> = letters(&text_of(body));
        let seen: Vec<char> = letters(&printed.pages.concat());
        assert_eq!(told.len(), seen.len(), "{paper}");
        // A figure in its box is never broken, whatever stands beside it.
        let words = words_of(&printed);
        let boxes = body.split("<u>").skip(1).filter_map(|own| own.split_once("</u>"));
        for (figure, _) in boxes {
            assert!(
                words.iter().flatten().any(|word| word.letters.contains(figure)),
                "{paper}: {figure} is broken"
            );
        }
        // No word stands past the margins of 18, 11, 10 and 9 mm.
        let (width, height) = if paper == "a4" { (210.0, 297.0) } else { (215.9, 279.4) };
        for words in &words {
            for (place, word) in words.iter().enumerate() {
                let is_in = word.is_in([17.0, 9.0, width - 17.0 - 10.0, height - 9.0 - 8.0]);
                assert!(is_in, "{paper}: {} at {:?}", word.letters, word.corners);
                for other in words.iter().skip(place + 1) {
                    let [left, top, right, bottom] = word.corners;
                    let [x_min, y_min, x_max, y_max] = other.corners;
                    let wide = right.min(x_max) - left.max(x_min);
                    let high = bottom.min(y_max) - top.max(y_min);
                    // Line boxes of a heading over a smaller line may touch; letters never do.
                    let is_over = wide > 1.0 && high > 0.5 * (bottom - top).min(y_max - y_min);
                    assert!(!is_over, "{paper}: {} over {}", word.letters, other.letters);
                }
            }
        }
    }
}

/// Twelve bottles: the bars follow the rows on the second page and do not begin a third.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn a_dozen_bottles_print_on_two_pages() {
    let folder = tempfile::tempdir().unwrap();
    let journal = folder.path().join("journal.toml").display().to_string();
    for number in 1..=12 {
        let line =
            format!("record add mixed mq-borax-classic 1L --bottle D{number} --date 2026-11-{}", 10 + number);
        let mut words: Vec<&str> = line.split(' ').collect();
        words.extend(["--journal", &journal]);
        good(&words);
    }
    for (paper, _) in PAPERS {
        let line = format!("bottles --date 2026-11-27 --format html --paper {paper} --journal");
        let printed = Printed::new(&good(&line.split(' ').chain([journal.as_str()]).collect::<Vec<_>>()).out);
        assert_eq!(printed.pages.len(), 2, "{paper}");
        assert!(printed.pages[1].contains("Thenexteightweeks"), "{paper}: {:?}", printed.pages);
    }
}
