//! Printed pages as a browser makes them. Needs `chromium`, `pdftotext`, `pdfinfo` and `pdftoppm`; run with
//! `cargo test --test suite browser:: -- --ignored`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::common::shipped::{Shipped, shipped};
use crate::common::{good, soupcon_with_input};
use serde_json::Value;
use soupcon::label::Label;
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
substance = "sodium-thiosulfate-pentahydrate"
grams = 240
note = "<svg onload=document.title='ran'></svg>"

[[ingredients]]
substance = "sulfuric-acid"
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

    /// Every page has its number and the number of all in its own text.
    fn check_numbers(&self, what: &str) {
        let count = self.pages.len();
        for (index, page) in self.pages.iter().enumerate() {
            let number = format!("page{}of{count}", index + 1);
            assert!(page.contains(&number), "{what}: page {} of {count} has not `{number}`", index + 1);
        }
    }

    /// Each step of a sheet stands whole on one page, below its cautions: what it says is taken from the JSON of the sheet, so that
    /// it does not matter how the page is put together. Gives the page of each step of each part.
    fn check_steps(&self, what: &str, sheet: &Value) -> Vec<Vec<usize>> {
        let (mut page, mut after) = (0, 0);
        let mut place = |step: &Value| {
            let text = |name: &str| without_blanks(step[name].as_str().unwrap());
            let instruction = text("instruction");
            let (own, start, at) = (page..self.pages.len())
                .find_map(|own| {
                    let start = if own == page { after } else { 0 };
                    Some((own, start, start + self.pages[own][start..].find(&instruction)?))
                })
                .unwrap_or_else(|| panic!("{what}: not printed: {instruction}"));
            let whole = &self.pages[own];
            let number = whole[start..at].rfind(&format!("{}.", step["number"]));
            assert!(number.is_some(), "{what}: the number stands elsewhere: {instruction}");
            for caution in step["cautions"].as_array().unwrap() {
                let caution = without_blanks(caution.as_str().unwrap().split_once(": ").unwrap().1);
                assert!(whole[start..at].contains(&caution), "{what}: {caution} is not above {instruction}");
            }
            (page, after) = (own, at + instruction.len());
            let reads =
                !step["temperature_after_c"].is_null() && !matches!(&*text("action"), "start" | "cool");
            let reads = if reads { "readsthen:" } else { "" };
            for detail in [&*text("done"), &*text("why"), reads] {
                let found = whole[after..].find(detail);
                after +=
                    found.unwrap_or_else(|| panic!("{what}: split: {instruction}: {detail}")) + detail.len();
            }
            own
        };
        let steps = |part: &Value| part["steps"].as_array().unwrap().iter().map(&mut place).collect();
        sheet["parts"].as_array().unwrap().iter().map(steps).collect()
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

/// The sheets looked at, with the most pages that each may take: one part, two parts, a hazardous one, three parts, a fixer with alum
/// apart, percent solutions to make first.
const SHEETS: [(&str, &str, usize); 6] = [
    ("mq-borax-classic", "1L", 4),
    ("pyro-soda-tank", "500ml", 5),
    ("dichromate-sulfuric-reversal-bleach", "1L", 4),
    ("mq-three-solution-potassium-carbonate", "1L", 6),
    ("acid-hardening-alum-boric-fixer", "2L", 5),
    ("pq-borax-buffered", "500ml", 5),
];

#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn a_sheet_prints_on_few_numbered_pages_in_black_and_no_step_is_split() {
    for (formula, volume, most) in SHEETS {
        let sheet = good(&["sheet", formula, volume, "--json"]).json();
        for (paper, size) in PAPERS {
            let what = format!("{formula} on {paper}");
            let html = good(&["sheet", formula, volume, "--format", "html", "--paper", paper]).out;
            let printed = Printed::new(&html);
            assert!(printed.size().contains(size), "{what}: {}", printed.size());
            printed.check_numbers(&what);
            assert!(printed.pages.len() <= most, "{what}: {} pages", printed.pages.len());
            for pages in printed.check_steps(&what, &sheet) {
                // Where they begin, three steps stand together.
                let together = pages.iter().take_while(|page| **page == pages[0]).count();
                assert!(together >= 3.min(pages.len()), "{what}: steps stand on the pages {pages:?}");
            }
            printed.check_greys(&what);
        }
    }
}

#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn a_browser_without_the_usual_faces_keeps_to_the_pages() {
    for (formula, volume, _) in SHEETS {
        let sheet = good(&["sheet", formula, volume, "--json"]).json();
        let html = good(&["sheet", formula, volume, "--format", "html", "--paper", "letter"]).out;
        let other = html.replace("\"Liberation Sans\", Arial, Helvetica, ", "");
        assert_ne!(html, other, "the style sheet names its faces otherwise");
        let printed = Printed::new(&other);
        printed.check_numbers(formula);
        printed.check_steps(formula, &sheet);
    }
}

#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn a_card_prints_on_one_page_or_two() {
    for (formula, most) in [("mq-borax-classic", 2), ("pyro-soda-tank", 1), ("plain-thiosulfate-fixer", 2)] {
        for (paper, size) in PAPERS {
            let printed = Printed::new(&good(&["show", formula, "--format", "html", "--paper", paper]).out);
            assert!(printed.size().contains(size));
            assert!(printed.pages.len() <= most, "{formula} on {paper}: {} pages", printed.pages.len());
            printed.check_numbers(formula);
            printed.check_greys(formula);
        }
    }
}

#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn hostile_text_from_a_formula_is_inert_and_long_text_goes_on_overleaf() {
    let formula = HOSTILE.replace("LONG", &"a caution that goes on and on, ".repeat(200));
    for arguments in [&["sheet", "-", "1L", "--format", "html"][..], &["show", "-", "--format", "html"]] {
        let ran = soupcon_with_input(arguments, formula.as_bytes());
        assert_eq!(ran.code, 0, "{}", ran.whole());
        let printed = Printed::new(&ran.out);
        printed.check_numbers("hostile");
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
        let fit: Vec<Label> = all.filter(|label| check(label, size, &sheets).is_ok()).cloned().collect();
        if fit.is_empty() {
            continue;
        }
        let html = label_sheet_html(&fit, size, &sheets, &placing).unwrap();
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
        let printed = Printed::new(&good(&arguments).out);
        assert!(printed.size().contains(size));
        assert_eq!(printed.pages.len(), 1);
        printed.check_greys(paper);
        for text in ["DANGER", "(H350)", "corrosion", "healthhazard", "notalegallabel"] {
            assert!(printed.pages[0].contains(text), "{text} is missing on {paper}");
        }
    }
}
