//! The sheet for the shelf's door: what is due stands first, films as squares in fives, the next eight weeks as bars.

use super::ShownBottles;
use super::words::{act, advice, date_words, good_to, whole_name};
use crate::bath::Basis;
use crate::bath::bottle::{BottleJudgement, BottleState, GoodTo};
use crate::lettering::Paper;
use crate::quantity::rounding::show_short;
use crate::render::films::volume_words;
use crate::render::html::{escape, grid, page_of};

const STYLE: &str = include_str!("bottles.css");

/// Most squares that are drawn.
const MOST_SQUARES: f64 = 40.0;
/// Weeks that the bars show.
const WEEKS: i64 = 8;
/// Where the bars begin and end, mm from the left.
const BARS_MM: (f64, f64) = (16.0, 151.0);
/// Most bottles for which the foot has a place to note the day.
const MOST_HALVES: usize = 3;

pub(crate) fn bottles_html(shown: &ShownBottles, paper: Paper) -> String {
    let out = shown.bottles.iter().filter(|bottle| bottle.state == BottleState::Out).count();
    let nearly = shown.bottles.iter().filter(|bottle| bottle.state == BottleState::Nearly).count();
    let figure = match (out, nearly) {
        (0, 0) => "all good".to_owned(),
        (0, nearly) => format!("{nearly} nearly"),
        (out, _) => format!("{out} out"),
    };
    let line = format!(
        "{} · what is due stands first · black: films through; white: films left",
        date_words(shown.on)
    );
    let mut body = grid::head("Bottles", &line, &figure);
    body.push_str(
        "<div class=\"row heads\"><span></span><span>do</span><span class=\"c\">bottle</span><span>what, how old, films</span><span class=\"r\">good to</span></div>\n",
    );
    for bottle in &shown.bottles {
        body.push_str(&row(bottle, shown));
    }
    if shown.bottles.is_empty() {
        body.push_str("<p>No bottle stands in the journal.</p>\n");
    }
    if !shown.bottles.is_empty() {
        // Kept whole by its style: it stands below the rows where it has room, else on the next page.
        body.push_str(&format!("<section><h2>The next eight weeks</h2>\n{}</section>\n", bars(shown)));
    }
    body.push_str(&foot(shown));
    let verdict = if out > 0 { "something must go out" } else { "nothing must go out" };
    body.push_str(&grid::foot("bottles · rule: by the class, no figure for this formula", verdict));
    let style = format!("{}{STYLE}", grid::style(paper));
    page_of("Bottles", &style, &format!("<main class=\"page bottles\">\n{body}</main>\n"))
}

/// Escaped text whose dates are never broken across a line.
fn kept(text: &str) -> String {
    let is_date = |word: &str| {
        word.len() == 10
            && word.bytes().enumerate().all(|(index, byte)| match index {
                4 | 7 => byte == b'-',
                _ => byte.is_ascii_digit(),
            })
    };
    let of_word = |word: &str| {
        let end = word.trim_end_matches([',', '.', ';', ':']).len();
        let (head, tail) = word.split_at(end);
        if is_date(head) { format!("<s>{head}</s>{}", escape(tail)) } else { escape(word) }
    };
    text.split(' ').map(of_word).collect::<Vec<_>>().join(" ")
}

/// The size of a bottle's name: as large as its column holds.
fn size(name: &str) -> &'static str {
    match name.chars().count() {
        0..=4 => "",
        5..=7 => " long",
        _ => " longest",
    }
}

fn row(judgement: &BottleJudgement, shown: &ShownBottles) -> String {
    let word = escape(&act(judgement, shown.on));
    let word = if judgement.state == BottleState::Out { format!("<i>{word}</i>") } else { word };
    let words = advice(judgement, shown);
    let next = words.first().map(|own| kept(own)).unwrap_or_default();
    let bottle = match &judgement.bottle.part {
        Some(part) => {
            let head = judgement.bottle.name.strip_suffix(part.as_str()).unwrap_or(&judgement.bottle.name);
            let class = size(head.trim_end()).trim_start();
            format!("<small class=\"{class}\">{}</small><em>{}</em>", escape(head.trim_end()), escape(part))
        }
        None => escape(&judgement.bottle.name),
    };
    let volume = judgement.bottle.left_ml.or(judgement.bottle.filled_ml).map(volume_words);
    let age = match judgement.age_days {
        0 => "today".to_owned(),
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    };
    let facts: Vec<String> =
        volume.into_iter().chain([format!("mixed {}, {age}", judgement.bottle.mixed_on)]).collect();
    format!(
        "<div class=\"row\"><span class=\"tick\"></span><span><b class=\"act\">{word}</b><br>{next}</span><span class=\"c bottle{}\">{bottle}</span>\
         <span><b class=\"what\">{}</b><br>{}<br>{}</span><span class=\"r\">{}</span></div>\n",
        if judgement.bottle.part.is_some() { "" } else { size(&judgement.bottle.name) },
        escape(&whole_name(judgement)),
        kept(&facts.join(", ")),
        squares(judgement),
        good(judgement)
    )
}

/// Films through and left, as squares in fives; in words where they are too many or not counted.
fn squares(judgement: &BottleJudgement) -> String {
    if judgement.is_one_shot {
        return "one-shot: no count".to_owned();
    }
    let Some(films) = &judgement.films else { return escape(&super::words::films(judgement)) };
    // As many white ones as the act says: what is left of the lower limit.
    let low = (films.limit.low + 1e-6).floor();
    let total = low.max((judgement.bottle.films - 1e-6).ceil());
    if total > MOST_SQUARES || judgement.bottle.films > MOST_SQUARES {
        return escape(&super::words::films(judgement));
    }
    let mut drawn = String::new();
    let mut index = 0.0;
    while index < total {
        let class = if judgement.bottle.films >= index + 1.0 - 1e-6 {
            "f"
        } else if judgement.bottle.films > index + 1e-6 {
            "h"
        } else {
            "e"
        };
        let gap = if index > 0.0 && index % 5.0 < 0.5 { " g" } else { "" };
        drawn.push_str(&format!("<u class=\"{class}{gap}\"></u>"));
        index += 1.0;
    }
    let basis = if films.basis == Basis::Rule {
        let (low, high) = (show_short(low, 0), show_short((films.limit.high + 1e-6).floor(), 0));
        match films.ends {
            Some((name, other)) => format!("<br><b>rule</b>, {name} {low}, {other} {high}"),
            None => format!("<br><b>rule</b>, from {low} on test"),
        }
    } else {
        String::new()
    };
    format!("<span class=\"squares\">{drawn}</span>{basis}")
}

/// The date with its basis; two dates where it is a rule, neither of them large.
fn good(judgement: &BottleJudgement) -> String {
    match judgement.good_to {
        None => match &judgement.days.in_words {
            Some(note) => format!("{}, stated", kept(note.trim_end_matches('.'))),
            None => "<b>not known</b>".to_owned(),
        },
        Some(GoodTo { out_by, basis: Basis::Stated, of, .. }) => {
            format!("<b class=\"date\">{out_by}</b><br>{of}, stated")
        }
        Some(GoodTo { look_from, out_by, of, .. }) => {
            format!("look from <s>{look_from}</s><br>out by <s>{out_by}</s><br>{of}, <b>by rule</b>")
        }
    }
}

/// What is missing, and a place for the day on which a bottle became half full.
fn foot(shown: &ShownBottles) -> String {
    let mut words = String::new();
    if let Some(missing) = super::words::missing(shown) {
        words.push_str(&format!("<b>{}</b> ", escape(&missing)));
    }
    let halves = shown.bottles.iter().filter_map(|bottle| {
        let is_full = bottle.good_to.is_some_and(|day| day.of == "full") && bottle.state != BottleState::Out;
        let half = bottle.days.half.filter(|_| is_full)?;
        Some(format!(
            "<span><b>{}</b>, once half full, {} days, {}; half full since ________</span>",
            escape(&bottle.bottle.name),
            crate::render::films::span_words(half.span, 0),
            if half.basis == Basis::Rule { "by rule" } else { "stated" }
        ))
    });
    words.push_str(&halves.take(MOST_HALVES).collect::<Vec<_>>().join(" "));
    if words.is_empty() { words } else { format!("<p class=\"foot\">{words}</p>\n") }
}

/// A bar a bottle: whole to its stated day, to the first day of a rule whole and then dashed, dotted where no day is known.
fn bars(shown: &ShownBottles) -> String {
    let (left, right) = BARS_MM;
    let today = shown.on.days_since_1970();
    let at = |day: i64| {
        #[allow(clippy::cast_precision_loss, reason = "a few weeks of days")]
        let share = (day - today) as f64 / (WEEKS * 7) as f64;
        left + share.clamp(0.0, 1.0) * (right - left)
    };
    #[allow(clippy::cast_precision_loss, reason = "a few bottles")]
    let height = 8.0 + 6.5 * shown.bottles.len() as f64;
    let mut drawn = format!("<svg viewBox=\"0 0 181 {height}\" width=\"181mm\" height=\"{height}mm\">\n");
    for week in 0..=WEEKS {
        let x = at(today + 7 * week);
        let day = crate::journal::Date::from_days_since_1970(today + 7 * week);
        let label =
            day.map_or_else(String::new, |day| day.to_string().get(5..).unwrap_or_default().to_owned());
        drawn.push_str(&format!(
            "<text x=\"{x:.1}\" y=\"4\" class=\"m\">{label}</text><line x1=\"{x:.1}\" y1=\"6\" x2=\"{x:.1}\" y2=\"{height}\" class=\"week\"/>\n"
        ));
    }
    let mut y = 10.5;
    for bottle in &shown.bottles {
        drawn.push_str(&format!(
            "<text x=\"0\" y=\"{:.1}\" class=\"b\">{}</text>",
            y + 1.2,
            escape(&short(&bottle.bottle.name))
        ));
        drawn.push_str(&bar(bottle, y, &at, (today, right)));
        drawn.push('\n');
        y += 6.5;
    }
    drawn.push_str("</svg>\n");
    drawn
}

/// Longest name beside a bar.
const LONGEST_BESIDE: usize = 7;

/// A name as it has room beside its bar.
fn short(name: &str) -> String {
    if name.chars().count() <= LONGEST_BESIDE {
        return name.to_owned();
    }
    let head: String = name.chars().take(LONGEST_BESIDE - 1).collect();
    format!("{}…", head.trim_end())
}

fn bar(judgement: &BottleJudgement, y: f64, at: &impl Fn(i64) -> f64, (today, right): (i64, f64)) -> String {
    let line = |from: f64, to: f64, class: &str| {
        format!("<line x1=\"{from:.1}\" y1=\"{y:.1}\" x2=\"{to:.1}\" y2=\"{y:.1}\" class=\"{class}\"/>")
    };
    let text =
        |x: f64, words: &str| format!("<text x=\"{:.1}\" y=\"{:.1}\">{words}</text>", x + 2.8, y + 1.2);
    if judgement.state == BottleState::Out {
        return text(at(today) - 3.0, "✕ out");
    }
    let Some(day) = judgement.good_to else { return line(at(today), right, "dots") };
    let (look, end) = (day.look_from.days_since_1970(), day.out_by.days_since_1970());
    let until = if day.basis == Basis::Rule { look } else { end };
    let mut drawn = line(at(today), at(until), "bar");
    // It goes on beyond the weeks shown, or ends within them.
    let tip = at(end);
    drawn.push_str(&if tip >= right - 1e-6 {
        format!("<path d=\"M{tip:.1} {:.1} l2.4 1.5 l-2.4 1.5 z\"/>", y - 1.5)
    } else {
        format!(
            "<line x1=\"{tip:.1}\" y1=\"{:.1}\" x2=\"{tip:.1}\" y2=\"{:.1}\" class=\"end\"/>",
            y - 1.5,
            y + 1.5
        )
    });
    if day.basis == Basis::Rule && at(end) > at(until) {
        drawn.push_str(&line(at(until), at(end), "dash"));
    }
    drawn.push_str(&text(
        at(end),
        &good_to(judgement).split(' ').find(|word| word.contains('-')).map_or_else(String::new, |word| {
            let shown = if day.basis == Basis::Rule { day.out_by.to_string() } else { word.to_owned() };
            escape(&shown)
        }),
    ));
    drawn
}
