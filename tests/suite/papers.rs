//! What stands on the papers for wall, shelf and desk; how they print is looked at in `browser::papers`.

use crate::common::good;

/// Pages of a document.
fn pages(html: &str) -> Vec<&str> {
    html.split("<section").skip(1).collect()
}

/// The text between tags, with plain blanks.
fn plain(html: &str) -> String {
    let text: Vec<&str> =
        html.split('<').map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text)).collect();
    text.join(" ").replace('\u{a0}', " ")
}

/// Source: the drawing of the chart, seven rows on one page of either paper, and the order in which pages hang: all temperatures of a
/// column on one, what is to be minded of a table under that table.
#[test]
fn a_chart_is_one_page_and_its_notes_stand_under_their_own_table() {
    let chart = ["chart", "--from", "mq-borax-classic", "--format", "html"];
    for paper in ["a4", "letter"] {
        for more in [&["8min"][..], &["8min", "--to-dilution", "stock", "--to-dilution", "1+1"]] {
            let html = good(&[&chart[..], &["--paper", paper], more].concat()).out;
            assert_eq!(pages(&html).len(), 1, "{more:?} on {paper}");
        }
        let html = good(&[&chart[..], &["--paper", paper, "6min", "8min", "10min", "12min"]].concat()).out;
        let pages = pages(&html);
        assert!(pages.len() <= 3, "{} pages on {paper}", pages.len());
        // 6 min at 20 °C fall under 5 in warmth, 10 do not.
        let short = "under 5 min a small tank develops unevenly";
        let place = pages.iter().position(|page| plain(page).contains(short)).unwrap();
        let table = pages.iter().position(|page| page.contains("6:00")).unwrap();
        assert!(place == table || place == table + 1 && !pages[place].contains("<table"), "{place} {table}");
        assert!(!plain(pages[pages.len() - 1]).contains(short), "on the page of 10 and 12 min");
    }
}

/// One word for one dilution; a question mark says how far is far (the drawing: 4 °C from the known time).
#[test]
fn a_chart_says_what_it_means_in_one_word() {
    let html = good(&["chart", "8min", "--from", "mq-borax-classic", "--format", "html"]).out;
    let text = plain(&html);
    assert!(text.contains("undiluted") && !text.contains("stock"), "{text}");
    assert!(text.contains("? 4 °C or more from the known temperature: test first."), "{text}");
}

/// The speed at the time of a series is told in one figure, in its sentence and beside its mark.
#[test]
fn a_series_tells_one_speed() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/weekend-class/readings/");
    let files: Vec<String> =
        [5, 7, 10, 14].iter().map(|minutes| format!("{folder}borax-{minutes}min.csv@{minutes}min")).collect();
    let mut arguments = vec!["curve"];
    arguments.extend(files.iter().map(String::as_str));
    arguments.extend(["--tablet", "21x0.15+0.05", "--lux", "10", "--seconds", "1/20", "--target", "iso"]);
    arguments.extend(["--format", "html"]);
    let html = good(&arguments).out;
    let told = html.split_once("the speed there is ").unwrap().1.split_once(' ').unwrap().0;
    assert!(told.ends_with('°'), "{told}");
    assert!(html.contains(&format!(">{told}</text>")), "{told} is not beside the mark");
}

/// Runs the program with the journal of the weekend class.
fn class(words: &str) -> crate::common::Ran {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/weekend-class/");
    let words = words.replace("FOLDER/", folder);
    crate::common::soupcon(&words.split(' ').collect::<Vec<_>>())
}

/// As many white squares as the act says films, and the whole name.
#[test]
fn the_sheet_of_the_shelf_agrees_with_itself() {
    let html = class("bottles --journal FOLDER/journal.toml --date 2026-11-21 --format html").out;
    let mut counted = 0;
    for row in html.split("<div class=\"row\">").skip(1) {
        let act = row.split_once("class=\"act\">").unwrap().1.split_once('<').unwrap().0;
        let Some(films) = act.strip_suffix(" FILMS").or_else(|| act.strip_suffix(" FILM")) else { continue };
        let row = row.split_once("</div>").unwrap().0;
        assert_eq!(row.matches("<u class=\"e").count().to_string(), films, "{row}");
        counted += 1;
    }
    assert!(counted > 2, "{counted} rows");
    let text = plain(&html);
    assert!(text.contains("Thiosulfate-sodium bisulfite acid fixer"), "{text}");
    assert!(text.contains("throw it out when spent, stated"), "{text}");
}

/// What is asked of the hand is no command.
#[test]
fn the_pages_of_an_evening_speak_no_command() {
    let ran = class("evening FOLDER/evening.toml --journal FOLDER/journal.toml --format html");
    let text = plain(ran.out.split_once("<body>").unwrap().1);
    assert!(text.contains("MISSING") && text.contains("how warm D3, S1, F1 stand is not known"), "{text}");
    for word in ["--", "_tap"] {
        assert!(!text.replace("<!--", "").contains(word), "{word}: {text}");
    }
}

/// Rows of the drawing: time and stock a film; the times are those of the reasons side, 1.2 to 1.7 and 2 to 2.8 of the undiluted one.
#[test]
fn a_card_tells_time_and_stock_of_each_use() {
    let text = plain(&good(&["show", "mq-borax-classic", "--format", "html"]).out);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("time × 1 × 1.2 to 1.7 × 2 to 2.8"), "{text}");
    assert!(text.contains("stock a film 238 mL 238 mL 238 mL"), "{text}");
    assert!(text.contains("film speed the yardstick") && !text.contains("as usual as usual"), "{text}");
    let text =
        plain(&good(&["show", "p-aminophenol-potassium-hydroxide-concentrate", "--format", "html"]).out);
    assert_eq!(text.matches("so no pH is predicted").count(), 1, "{text}");
    assert!(text.contains("10 to 13 min at 20 °C"), "{text}");
}

/// What is poured is told in the millilitres of its recipe: 48 mL of 28 % acid a litre (the formula's file), not 49.7 g.
#[test]
fn side_by_side_liquids_are_in_millilitres_and_a_topic_is_one_row() {
    let asked =
        ["compare", "acid-hardening-alum-boric-fixer", "ammonium-thiosulfate-acid-hardening-rapid-fixer"];
    let html = good(&[&asked[..], &["--format", "html"]].concat()).out;
    let text = plain(&html).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("acetic acid, 28 %, mL 48 "), "{text}");
    let (_, table) = text.split_once("grams per litre").unwrap();
    assert!(!table.split_once("- absent").unwrap().0.contains("49.7"), "{table}");
    let rows = html.matches("2 against 1: ").count();
    let topics: std::collections::BTreeSet<&str> =
        html.split("2 against 1: ").skip(1).map(|rest| rest.split('<').next().unwrap()).collect();
    assert!(rows > 1 && rows == topics.len(), "{rows} rows of {topics:?}");
    // An error of the pH as on the sheet, in tenths.
    let error = text.split_once(" ± ").unwrap().1.split_whitespace().next().unwrap();
    assert_eq!(error.trim_end_matches(',').len(), 3, "{error}");
    let words = good(&asked).out;
    assert!(words.contains("acetic acid, 28 %, mL") && words.contains("LIQUIDS IN ML"), "{words}");
}

/// Half way, where to begin anew, and the end; the spread of an average film beside a figure that lies in it.
/// Source of 1.58 g/L at 50 films and of 40 to 60 mg: the worked example of the drawing.
#[test]
fn a_replenished_tank_is_drawn_with_its_spread() {
    let asked = ["replenish", "mq-borax-classic", "--tank", "1L", "--films", "50", "--rate", "20ml"];
    let html = |mg: &str| {
        good(&[&asked[..], &["--releases", &format!("potassium-bromide={mg}"), "--format", "html"]].concat())
            .out
    };
    let own = html("50mg");
    for words in [">40 mg<", ">60 mg<", ">50 mg<", ">0.98<", ">1.58<", "<p>MQ borax developer"] {
        assert!(own.replace('\u{a0}', " ").contains(words), "{words}: {own}");
    }
    assert!(!own.contains(">0.53<"));
    // Somebody's own measurement outside it has none.
    let measured = html("75mg").replace('\u{a0}', " ");
    assert!(!measured.contains(">40 mg<") && !measured.contains(">60 mg<"));
}
