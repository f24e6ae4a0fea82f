//! The papers on the common grid, over the whole library and on both papers: one document holds all pages of a kind, so that a browser starts
//! once a paper.

use std::fmt::Write as _;
use std::fs;

use super::{PAPERS, Printed, browser, tool};
use crate::common::{Ran, good, soupcon};

/// What stands between two tags.
fn between<'t>(html: &'t str, from: &str, to: &str) -> &'t str {
    html.split_once(from).unwrap().1.split_once(to).unwrap().0
}

/// Many documents of one kind as one; their styles must be the same.
struct Bound {
    style: String,
    body: String,
    pages: Vec<(String, usize)>,
}

impl Bound {
    /// Runs the program for each name that it has an answer for; another exit code than 0 and `may_end_in` fails.
    fn of(names: &[String], may_end_in: &[i32], run: impl Fn(&str) -> Ran + Sync) -> Self {
        let mut bound = Self { style: String::new(), body: String::new(), pages: Vec::new() };
        let half = names.len().div_ceil(2).max(1);
        let ran: Vec<(String, Ran)> = std::thread::scope(|scope| {
            let run = &run;
            let threads: Vec<_> = names
                .chunks(half)
                .map(|names| {
                    scope.spawn(move || names.iter().map(|name| (name.clone(), run(name))).collect())
                })
                .collect();
            threads.into_iter().flat_map(|own| -> Vec<(String, Ran)> { own.join().unwrap() }).collect()
        });
        for (name, ran) in ran {
            assert!(ran.code == 0 || may_end_in.contains(&ran.code), "{name}: {}", ran.whole());
            if ran.out.is_empty() {
                continue;
            }
            let style = between(&ran.out, "<style>", "</style>");
            assert!(bound.style.is_empty() || bound.style == style, "{name} has a style of its own");
            style.clone_into(&mut bound.style);
            let body = between(&ran.out, "<body>", "</body>");
            bound.pages.push((name, body.matches("<section").count()));
            bound.body.push_str(body);
        }
        bound
    }

    fn html(&self, script: &str) -> String {
        format!(
            "<!DOCTYPE html><html><head><meta charset=\"utf-8\"><style>{}</style>{script}</head><body>{}</body></html>",
            self.style, self.body
        )
    }

    /// A finding with the names of the pages that it is about.
    fn named(&self, found: &str) -> String {
        let names = self.pages.iter().flat_map(|(name, pages)| std::iter::repeat_n(name.as_str(), *pages));
        names.enumerate().fold(found.to_owned(), |text, (index, name)| {
            text.replace(&format!("page {index}:"), &format!("page {index}, {name}:"))
        })
    }

    fn count(&self) -> usize {
        self.pages.iter().map(|(_, pages)| pages).sum()
    }
}

/// Ids of the shipped formulas of some kinds; of all where none is given.
fn ids(kinds: &[&str]) -> Vec<String> {
    let json = good(&["list", "--json"]).json();
    let formulas = json["formulas"].as_array().unwrap().iter();
    let wanted =
        formulas.filter(|own| kinds.is_empty() || kinds.contains(&own["kind"].as_str().unwrap_or_default()));
    wanted.map(|own| own["id"].as_str().unwrap().to_owned()).collect()
}

/// Looks at every page in a browser: nothing higher than its page or wider than its cell, no two pieces over each other, sizes of type as
/// they are specified, and what must not be broken on one line. Gives what it found.
fn looked_at(bound: &Bound, height_mm: f64, sizes: &[(&str, f64)], unbroken: &str) -> String {
    let mut wanted = String::new();
    for (selector, points) in sizes {
        write!(wanted, "['{selector}', {points}],").unwrap();
    }
    let height = height_mm * 96.0 / 25.4;
    let script = format!(
        r"<script>window.onload = () => {{
        const bad = [];
        const size = (element) => Math.round(parseFloat(getComputedStyle(element).fontSize) * 0.75 * 4) / 4;
        let seen = 0;
        [...document.querySelectorAll('.page')].forEach((page, index) => {{
            seen += 1;
            const own = page.getBoundingClientRect();
            const told = (text) => bad.push('page ' + index + ': ' + text);
            if (own.height > {height:.0} + 1) told('higher than the paper by ' + (own.height - {height:.0}));
            let bottom = own.top;
            for (const piece of page.children) {{
                const box = piece.getBoundingClientRect();
                if (box.top < bottom - 1) told('overlaps: ' + piece.tagName + ' ' + piece.className);
                bottom = box.bottom;
            }}
            for (const piece of page.querySelectorAll('*')) {{
                const box = piece.getBoundingClientRect();
                if (!piece.ownerSVGElement && piece.clientWidth > 0 && piece.scrollWidth > piece.clientWidth + 1) told('wider than its box: ' + piece.tagName + ' ' + piece.textContent.slice(0, 40));
                if (box.right > own.right + 1 || box.left < own.left - 1) told('over the edge: ' + piece.textContent.slice(0, 40));
            }}
            for (const row of page.querySelectorAll('tr')) {{
                const cells = [...row.children].map((cell) => cell.getBoundingClientRect());
                for (let at = 1; at < cells.length; at += 1)
                    if (cells[at].left < cells[at - 1].right - 1) told('cells over each other: ' + row.textContent.slice(0, 40));
            }}
            for (const [selector, points] of [{wanted}])
                for (const element of page.querySelectorAll(selector))
                    if (size(element) !== points) told(selector + ' is ' + size(element) + ' points');
            for (const element of {unbroken:?} ? page.querySelectorAll({unbroken:?}) : []) {{
                const range = document.createRange();
                range.selectNodeContents(element);
                const tops = new Set([...range.getClientRects()].map((box) => Math.round(box.bottom)));
                if (tops.size > 1) told('broken over lines: ' + element.textContent);
            }}
        }});
        document.body.textContent = 'looked at ' + seen + ' found ' + bad.length + ': ' + bad.slice(0, 30).join('; ');
        }};</script>"
    );
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("page.html"), bound.html(&script)).unwrap();
    let tree = browser(folder.path(), &["--window-size=1200,900", "--dump-dom", "page.html"]);
    let tree = String::from_utf8(tree).unwrap();
    tree[tree.rfind("<body").unwrap_or(0)..].to_owned()
}

/// Prints all pages and looks at them: as many as are counted, of the paper's size, in black and white.
fn check(bound: &Bound, paper: usize, sizes: &[(&str, f64)], unbroken: &str) {
    let (name, size) = PAPERS[paper];
    // 297 and 279.4 mm less the margins of 10 and 9.
    let height_mm = [278.0, 260.4][paper];
    let found = looked_at(bound, height_mm, sizes, unbroken);
    let wanted = format!("looked at {} found 0:", bound.count());
    assert!(found.contains(&wanted), "{name}: {}", bound.named(&found));
    let printed = Printed::new(&bound.html(""));
    assert!(printed.size().contains(size), "{name}: {}", printed.size());
    assert_eq!(printed.pages.len(), bound.count(), "{name}");
    printed.check_greys(name);
}

/// Sizes of type in a printed page, by `pdftohtml`: the fonts' sizes in points, each once.
fn sizes_in_print(html: &str) -> Vec<f64> {
    let printed = Printed::new(html);
    let xml = tool(printed.folder.path(), "pdftohtml", &["-xml", "-i", "-stdout", "-zoom", "1", "page.pdf"]);
    let xml = String::from_utf8_lossy(&xml).into_owned();
    let mut sizes: Vec<f64> = xml
        .lines()
        .filter_map(|line| line.trim().strip_prefix("<fontspec "))
        .map(|line| between(line, "size=\"", "\"").parse().unwrap())
        .collect();
    sizes.sort_by(f64::total_cmp);
    sizes.dedup();
    sizes
}

/// Every developer with a time, one and two columns: times at 60 points (56 on the lower paper), ranges at 20 on one line, temperatures at 50.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn charts_of_the_whole_library_are_read_from_afar() {
    let developers = ids(&["film-developer", "paper-developer"]);
    for (paper, (name, _)) in PAPERS.iter().enumerate() {
        let time = [60.0, 56.0][paper];
        let bound = Bound::of(&developers, &[1, 2], |id| {
            let twice = ["--to-dilution", "stock", "--to-dilution", "1+1"];
            let chart = ["chart", "8min", "--from", id, "--format", "html", "--paper", name];
            let ran = soupcon(&[&chart[..], &twice].concat());
            let ran = if ran.code == 0 { ran } else { soupcon(&chart) };
            // Every other developer says why: it is used in several ways, or a time carried over would not set its result.
            let reasons = [
                "has several dilutions",
                "without a developing agent that timing knows",
                "two baths one after the other",
                "is a lith developer",
                "is a monobath",
                "stand development",
            ];
            assert!(ran.code == 0 || reasons.iter().any(|own| ran.err.contains(own)), "{id}: {}", ran.err);
            ran
        });
        assert!(bound.pages.len() > 80, "only {} charts", bound.pages.len());
        let sizes = [
            (".chart .time b", time),
            (".chart .time span", 20.0),
            (".chart td:first-child", 50.0),
            (".chart .film", 20.0),
        ];
        check(&bound, paper, &sizes, ".time b, .time span");
    }
    let one = good(&["chart", "8min", "--from", "mq-borax-classic", "--format", "html"]).out;
    let sizes = sizes_in_print(&one);
    for wanted in [60.0, 50.0, 20.0] {
        assert!(sizes.iter().any(|size| (size - wanted).abs() < 1.01), "{wanted} is not among {sizes:?}");
    }
}

/// Long names of films, hours, degrees Fahrenheit, many times and rows.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn charts_that_ask_for_much_go_on_further_pages() {
    let asked = [
        "8min|--film|A very long name of a film that goes on and on, 400, sheet, from the second box of the weekend class",
        "6min|7min|8min|9min|10min",
        "90min|--from-agitation|tray|--coldest|65F|--warmest|75F",
        "8min|--to-dilution|1+1|--to-dilution|1+3|--coldest|10C|--warmest|30C",
        "2min|--contrast|-1",
    ];
    for (paper, (name, _)) in PAPERS.iter().enumerate() {
        let bound = Bound::of(&asked.map(str::to_owned), &[], |asked| {
            let mut arguments =
                vec!["chart", "--from", "mq-borax-classic", "--format", "html", "--paper", name];
            arguments.extend(asked.split('|'));
            if asked.contains("--film") {
                arguments.extend(["--journal", "not-there.toml"]);
            }
            soupcon(&arguments)
        });
        assert!(bound.count() > 10, "{:?}", bound.pages);
        check(&bound, paper, &[(".chart .time b", [60.0, 56.0][paper])], ".time b, .time span");
    }
}

/// Every card of the library: one page, amounts at 20 and names at 16 points where there is room, evidence at 9.5 and after use and what to mind.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn the_card_of_every_formula_is_one_page() {
    let all = ids(&[]);
    for (paper, (name, _)) in PAPERS.iter().enumerate() {
        let bound = Bound::of(&all, &[1], |id| soupcon(&["show", id, "--format", "html", "--paper", name]));
        assert!(bound.pages.len() > 200 && bound.count() == bound.pages.len(), "{} pages", bound.count());
        let sizes = [
            (".card .evidence td", 9.5),
            (".card .evidence th", 9.5),
            (".card .seen tbody th", 14.0),
            (".card > header h1:not(.small)", 22.0),
            (".card > header > b:not(.long)", 34.0),
        ];
        check(&bound, paper, &sizes, ".card .litre td:first-child:not(.long)");
        let roomy = bound.body.matches("--amount:20pt;--name:16pt").count();
        assert!(roomy * 2 > bound.count(), "only {roomy} cards have room for 20 and 16 points");
        for section in bound.body.split("<section").skip(1) {
            let place = |words: &str| section.find(words).unwrap_or_else(|| panic!("{words}: {section}"));
            assert!(place("one litre") < place("<b>keeps</b>"));
            assert!(place("<b>keeps</b>") < place("evidence and chemistry"));
            assert!(section.contains("<table class=\"evidence\">\n<tr>"), "no evidence: {section}");
        }
    }
}

/// Three dozen pairs, some threes and sixes: one page each, whatever the chemicals; what one would see before grams, chemistry last.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn formulas_side_by_side_are_one_page() {
    let mut asked: Vec<String> = Vec::new();
    for kind in ["film-developer", "paper-developer", "fixer", "toner"] {
        let own = ids(&[kind]);
        asked.extend(own.chunks_exact(2).step_by(3).map(|pair| pair.join(" ")));
        asked.extend(own.chunks_exact(3).step_by(9).map(|three| three.join(" ")));
        asked.extend(own.chunks_exact(6).step_by(6).map(|six| six.join(" ")));
    }
    // Of different kinds, where no word says what one would see; parts, and a use of its own for each.
    asked.push("mq-borax-classic plain-thiosulfate-fixer".to_owned());
    asked.push("pyrocatechol-hydroxide-compensating pyro-metol-metaborate-staining".to_owned());
    assert!(asked.len() > 36, "{}", asked.len());
    for (paper, (name, _)) in PAPERS.iter().enumerate() {
        let bound = Bound::of(&asked, &[], |asked| {
            let mut arguments = vec!["compare", "--format", "html", "--paper", name];
            arguments.extend(asked.split(' '));
            soupcon(&arguments)
        });
        for (asked, pages) in &bound.pages {
            assert_eq!(*pages, 1, "{asked} on {name}");
        }
        let sizes = [
            (".compare > header h1", 22.0),
            (".compare > header > b", 34.0),
            (".compare .seen thead th", 16.0),
            (".compare .fine td", 9.5),
            (".compare .legend", 10.0),
        ];
        check(&bound, paper, &sizes, ".compare .seen thead th");
        for section in bound.body.split("<section").skip(1) {
            let place = |words: &str| section.find(words).unwrap_or(usize::MAX);
            let (grams, chemistry) = (place("grams per litre"), place("chemistry</h2>"));
            assert!(place("what you would see") < grams || section.contains("<h1>Formulas"), "{section}");
            assert!(grams < chemistry, "{section}");
        }
    }
}

/// Plates of strips, a series and a paper: nothing runs through the foot, however long the command is that stands in it.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn a_plate_stands_above_its_foot() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/weekend-class/readings/");
    let light = "--tablet 21x0.15+0.05 --lux 10 --seconds 1/20";
    let strips = ["5", "7", "10", "14"].map(|own| format!("{folder}borax-{own}min.csv@{own}min")).join(" ");
    let asked = [
        format!("{strips} {light} --target iso"),
        format!("{strips} {light}"),
        format!("{strips} --target 0.6 --tablet 21x0.15+0.05"),
        format!("{folder}borax-10min.csv {light}"),
        format!("{folder}borax-10min.csv {folder}metol-12min.csv {light}"),
        format!("{folder}paper.csv --reflection --relative"),
    ];
    for (paper, (name, _)) in PAPERS.iter().enumerate() {
        for asked in &asked {
            let bound = Bound::of(std::slice::from_ref(asked), &[], |asked| {
                let mut arguments = vec!["curve", "--format", "html", "--paper", name];
                arguments.extend(asked.split(' '));
                soupcon(&arguments)
            });
            check(&bound, paper, &[(".plate .note", 10.0), (".plate footer", 10.0)], "");
        }
    }
}

/// With something missing, said in a box above all: still the clock and one page before it, on both papers.
#[test]
#[ignore = "needs chromium, pdftotext and pdftoppm"]
fn an_evening_with_something_missing_is_two_pages() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/weekend-class");
    let (file, journal) = (format!("{folder}/evening.toml"), format!("{folder}/journal.toml"));
    for (paper, _) in PAPERS {
        let html = soupcon(&["evening", &file, "--journal", &journal, "--format", "html", "--paper", paper]);
        assert!(html.out.contains("MISSING"), "{}", html.whole());
        let printed = Printed::new(&html.out);
        assert_eq!(printed.pages.len(), 2, "{paper}");
        assert!(printed.pages[1].contains("blocked") && printed.pages[1].contains("MISSING"), "{paper}");
    }
}
