//! The card of a formula on one page: what one would see first, then one litre of it in the order of mixing, then what it keeps and does and
//! what to mind; evidence and chemistry at the end, as much as there is room for.
//!
//! What makes one choose a formula stands in 14 to 20 points; evidence in 9.5, from the weightiest on. What has no room is told
//! on the screen, and the foot says so. Heights are sums of lines by [`crate::lettering`].

use super::{STYLE, count};
use crate::bench::BenchSheet;
use crate::bench::uses::first_sentences;
use crate::doubt::NOT_KNOWN;
use crate::formula::{Formula, Kind, Part, Use};
use crate::lettering::{Lettering, Paper};
use crate::quantity::rounding::show_short;
use crate::render::html::escape;
use crate::render::html::grid::{self, room_mm};
use crate::render::html::piece::{Piece, SPACING, bold_mm, text_mm, used};
use crate::render::show::{amount_words, evidence_facts, moles_line, use_in_short};
use crate::sequence::Action;
use crate::sheet::{MixingSheet, SheetPart};

/// Width of the names of rows, mm.
const NAME_MM: f64 = 34.0;
/// Width of the names of evidence, mm.
const LABEL_MM: f64 = 30.0;
/// Width of an amount with its gap, mm.
const AMOUNT_MM: f64 = 38.0;
/// Longest note of a use, letters.
const NOTE_LETTERS: usize = 110;
/// Least height kept for evidence, mm: the source itself.
const EVIDENCE_MM: f64 = 26.0;
/// Height kept for rows that a browser sets a little higher than they are reckoned, mm.
const ROUNDING_MM: f64 = 2.0;
/// Height of the foot, mm.
const FOOT_MM: f64 = 6.2;

/// What the card is made of.
#[derive(Debug)]
pub(crate) struct CardPage<'a> {
    pub formula: &'a Formula,
    /// A litre of it, mixed.
    pub sheet: &'a MixingSheet,
    /// The same for the bench: uses, what to mind.
    pub bench: &'a BenchSheet,
    /// Why it must not be mixed, or not so.
    pub objections: Vec<String>,
    /// What one would see in each use that the bench names.
    pub seen: Vec<SeenRow>,
    /// How long it keeps.
    pub keeps: String,
    /// How much it treats, by what the formula states or the rule of its class.
    pub does: String,
    /// Evidence after that of the formula itself: rules, predictions, reasons; the weightiest first.
    pub facts: Vec<(String, String)>,
}

/// A quality in each use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct SeenRow {
    /// `grain`.
    pub name: String,
    /// `finer`, one a use.
    pub words: Vec<String>,
    /// Whether anything is known in any use.
    pub is_known: bool,
}

/// How much room is given: the first that leaves room for evidence is taken.
#[derive(Debug, Clone, Copy)]
struct Squeeze {
    /// Whether qualities of which nobody knows anything have a row.
    has_unknown: bool,
    /// Sizes of amounts and names, points, and the least height of their rows, mm.
    amount_pt: f64,
    name_pt: f64,
    row_mm: f64,
    /// Parts or halves of a long list side by side.
    columns: usize,
    /// Size of what stands in the cells and of the cautions, points.
    cell_pt: f64,
}

/// From roomy to tight.
fn squeezes(paper: Paper) -> [Squeeze; 5] {
    let row_mm = match paper {
        Paper::A4 => 9.6,
        Paper::Letter => 8.6,
    };
    let roomy =
        Squeeze { has_unknown: true, amount_pt: 20.0, name_pt: 16.0, row_mm, columns: 1, cell_pt: 12.0 };
    [
        roomy,
        Squeeze { has_unknown: false, row_mm: 8.6, ..roomy },
        Squeeze { has_unknown: false, amount_pt: 16.0, name_pt: 14.0, row_mm: 7.0, cell_pt: 11.0, ..roomy },
        Squeeze {
            has_unknown: false,
            amount_pt: 13.0,
            name_pt: 12.0,
            row_mm: 5.6,
            columns: 2,
            cell_pt: 10.0,
        },
        Squeeze { has_unknown: false, amount_pt: 11.0, name_pt: 10.0, row_mm: 4.8, columns: 2, cell_pt: 9.5 },
    ]
}

pub(crate) fn card_html(card: &CardPage<'_>, paper: Paper) -> String {
    let (width, height) = room_mm(paper);
    // Letters are reckoned and not measured: a little is kept for what a browser makes of many rows.
    let height = height - ROUNDING_MM;
    let mut chosen = Vec::new();
    for squeeze in squeezes(paper) {
        chosen = fixed(card, squeeze, width);
        if used(&chosen) + EVIDENCE_MM + FOOT_MM <= height {
            break;
        }
    }
    let mut page: String = chosen.iter().map(|piece| piece.html.as_str()).collect();
    let mut facts = evidence_facts(card.formula);
    // Figures in short stand before what is told at length.
    let (figures, told): (Vec<_>, Vec<_>) =
        card.facts.iter().cloned().partition(|(label, _)| label.starts_with("pH"));
    let figures = once_where_not_known(figures);
    let moles = moles_line(card.formula).map(|line| ("mol/L".to_owned(), line));
    let source = facts.iter().take_while(|(label, _)| label == "evidence" || label == "source").count();
    facts.splice(source..source, figures.into_iter().chain(moles));
    facts.extend(told);
    let (evidence, left_out) = evidence(&facts, height - used(&chosen) - FOOT_MM, width);
    page.push_str(&evidence);
    let made = if left_out > 0 {
        format!("{left_out} more on the screen: soupcon show {}", card.formula.id)
    } else {
        format!("soupcon show {}", card.formula.id)
    };
    page.push_str(&grid::foot(&made, "card · mix it from its bench page"));
    grid::pages(&card.formula.title, paper, ("card", STYLE), &[page])
}

/// The pH of each use; where none is known, one line says why.
fn once_where_not_known(figures: Vec<(String, String)>) -> Vec<(String, String)> {
    let is_open = |own: &(String, String)| own.1.starts_with(NOT_KNOWN);
    if figures.len() > 1 && figures.iter().all(is_open) {
        let first = figures.into_iter().next();
        return first.map(|(_, why)| ("pH".to_owned(), why)).into_iter().collect();
    }
    figures
}

/// What a use takes of the undiluted time, as its note says it: `× 1.2 to 1.7`.
fn factor(note: &str) -> Option<String> {
    let (before, _) = note.split_once(" times the undiluted time")?;
    let words: Vec<&str> = before.rsplitn(4, ' ').collect();
    let is_figure = |word: &str| word.parse::<f64>().is_ok();
    match words.as_slice() {
        [high, "to", low, ..] if is_figure(high) && is_figure(low) => Some(format!("× {low} to {high}")),
        [only, ..] if is_figure(only) => Some(format!("× {only}")),
        _ => None,
    }
}

/// The developing time of a use: its own minutes, or against the undiluted one.
fn time_words(card: &CardPage<'_>, name: &str) -> String {
    let uses = &card.formula.uses;
    let Some(own) = uses.iter().find(|own| own.name == name) else { return NOT_KNOWN.to_owned() };
    let note = own.note.as_deref().unwrap_or_default();
    if own.minutes.is_some() {
        let words = use_in_short(&Use { working_hours: None, ..own.clone() });
        return words.split_once("; ").map_or(words.clone(), |(_, time)| time.to_owned());
    }
    let is_undiluted = own.baths.iter().all(|bath| bath.water <= 0.0);
    let has_factors = uses.iter().any(|own| own.note.as_deref().is_some_and(|note| factor(note).is_some()));
    match factor(note) {
        Some(words) => words,
        None if is_undiluted && has_factors => "× 1".to_owned(),
        None => NOT_KNOWN.to_owned(),
    }
}

/// Rows of a developer that are no quality: its time, and the stock that a film wants.
fn figures_of_uses(card: &CardPage<'_>, uses: &[UseColumn]) -> Vec<SeenRow> {
    if !card.formula.kind.is_developer() {
        return Vec::new();
    }
    let row = |name: &str, words: Vec<String>| {
        let is_known = words.iter().any(|own| own != NOT_KNOWN);
        SeenRow { name: name.to_owned(), words, is_known }
    };
    let mut rows = vec![row("time", uses.iter().map(|own| time_words(card, &own.name)).collect())];
    if card.formula.kind == Kind::FilmDeveloper {
        let stock = card.formula.capacity.stock_ml_per_roll;
        let words = stock.map_or_else(|| NOT_KNOWN.to_owned(), |ml| format!("{} mL", show_short(ml, 0)));
        rows.push(row("stock a film", vec![words; uses.len()]));
    }
    rows
}

/// All above the evidence.
fn fixed(card: &CardPage<'_>, squeeze: Squeeze, width: f64) -> Vec<Piece> {
    let mut pieces = vec![head(card, width)];
    pieces.extend(stops(card, width));
    let summary = &card.formula.summary;
    let (first, rest) = first_clause(summary);
    pieces.push(Piece {
        html: format!("<p class=\"summary\"><b>{}</b>{}</p>\n", escape(first), escape(rest)),
        mm: bold_mm(summary, 15.0, width) + 3.0,
    });
    pieces.extend(seen(card, squeeze, width));
    pieces.push(litre(card, squeeze, width));
    pieces.push(cells(card, squeeze, width));
    pieces.extend(cautions(card, squeeze, width));
    pieces
}

fn head(card: &CardPage<'_>, width: f64) -> Piece {
    let formula = card.formula;
    let mut line = vec![formula.id.clone()];
    line.extend(card.bench.remark.clone());
    line.push(card.bench.evidence.clone());
    line.extend(card.bench.origin.iter().cloned());
    let line = line.join(" · ");
    let figure = match formula.kind {
        Kind::FilmDeveloper => "film".to_owned(),
        Kind::PaperDeveloper => "paper".to_owned(),
        kind => kind.words(),
    };
    let beside = width - Lettering::bold(34.0, 1.0).width_mm(&figure) - 5.0;
    let mm = (bold_mm(&card.bench.name, 22.0, beside) + text_mm(&line, 10.0, beside) + 0.8).max(12.0) + 2.5;
    Piece { html: grid::head(&card.bench.name, &line, &figure), mm }
}

/// Why it must not be mixed.
fn stops(card: &CardPage<'_>, width: f64) -> Option<Piece> {
    if card.objections.is_empty() {
        return None;
    }
    let lines: String = card.objections.iter().map(|line| format!("<p>{}</p>", escape(line))).collect();
    let mm: f64 = card.objections.iter().map(|line| bold_mm(line, 13.0, width - 9.0)).sum();
    Some(Piece { html: format!("<div class=\"stop\">{lines}</div>\n"), mm: mm + 6.5 })
}

/// Up to the first stop, colon or semicolon.
fn first_clause(summary: &str) -> (&str, &str) {
    let end = summary.find(['.', ';', ':']).map_or(summary.len(), |at| at + 1);
    summary.split_at(end)
}

/// What one would see, a column a use, with how each is used.
fn seen(card: &CardPage<'_>, squeeze: Squeeze, width: f64) -> Option<Piece> {
    let mut uses = uses(card);
    if uses.is_empty() {
        return None;
    }
    let column = (width - NAME_MM) / count(uses.len()) - 2.0;
    let mut mm = 5.5 + 1.0;
    let names: String =
        uses.iter().map(|listed_use| format!("<th>{}</th>", escape(&listed_use.name))).collect();
    mm += uses.iter().map(|listed_use| bold_mm(&listed_use.name, 16.0, column)).fold(0.0, f64::max).max(7.0)
        + 1.4;
    let title = if card.seen.is_empty() { "what it is used for" } else { "what you would see" };
    let mut html = format!(
        "<h2>{title}</h2><table class=\"seen\"><colgroup><col style=\"width:{NAME_MM}mm\"></colgroup><thead><tr><th></th>{names}</tr></thead>\n"
    );
    let figures = figures_of_uses(card, &uses);
    // A time in its row is not told again.
    for row in figures.iter().filter(|row| row.name == "time") {
        for (own, words) in uses.iter_mut().zip(&row.words) {
            own.lines.retain(|line| line != words);
        }
    }
    let rows = card.seen.iter().chain(&figures);
    for row in rows.filter(|row| row.is_known || squeeze.has_unknown) {
        let words: String = row.words.iter().map(|word| format!("<td>{}</td>", escape(word))).collect();
        html.push_str(&format!("<tr><th>{}</th>{words}</tr>\n", escape(&row.name)));
        let lines = row.words.iter().map(|word| text_mm(word, 14.0, column)).fold(0.0, f64::max);
        mm += (lines + 1.3).max(7.6);
    }
    if uses.iter().any(|listed_use| !listed_use.lines.is_empty()) {
        let how: String = uses
            .iter()
            .map(|listed_use| format!("<td>{}</td>", escape(&listed_use.lines.join("; "))))
            .collect();
        html.push_str(&format!("<tr class=\"how\"><th>how</th>{how}</tr>\n"));
        let lines = uses
            .iter()
            .map(|listed_use| text_mm(&listed_use.lines.join("; "), 11.0, column))
            .fold(0.0, f64::max);
        mm += (lines + 1.4).max(7.4);
    }
    html.push_str("</table>\n");
    Some(Piece { html, mm: mm + 1.5 })
}

struct UseColumn {
    name: String,
    lines: Vec<String>,
}

/// The uses that the bench names; how much a litre makes is not asked on a card.
fn uses(card: &CardPage<'_>) -> Vec<UseColumn> {
    let names: Vec<&str> = card.formula.uses.iter().map(|listed_use| listed_use.name.as_str()).collect();
    let named_cells = card.bench.uses.iter().filter(|cell| names.contains(&cell.name.as_str()));
    named_cells
        .map(|cell| {
            let mut lines: Vec<String> =
                cell.lines.iter().filter(|line| !line.starts_with("makes ")).cloned().collect();
            let of = card.formula.uses.iter().find(|listed_use| listed_use.name == cell.name);
            let note = of.and_then(|own| own.note.as_deref());
            // When it is out stands there already.
            let is_told = lines.iter().any(|line| line.contains("out when"));
            let rest = |note: &str| -> String {
                let sentences = note.split_inclusive(". ");
                sentences.filter(|own| !(is_told && own.starts_with("Out when"))).collect()
            };
            if let Some(note) = note.map(|note| first_sentences(&rest(note), NOTE_LETTERS)) {
                lines.push(note);
            }
            lines.retain(|line| !line.is_empty());
            UseColumn { name: cell.name.clone(), lines }
        })
        .collect()
}

/// A row of what is weighed.
struct Weighed {
    amount: String,
    name: String,
    remark: String,
}

/// One litre of each part.
fn litre(card: &CardPage<'_>, squeeze: Squeeze, width: f64) -> Piece {
    let gap = 5.0;
    let columns = count(squeeze.columns);
    let column = (width - gap * (columns - 1.0)) / columns;
    let mut lists: Vec<(String, String, Vec<Weighed>)> = Vec::new();
    for (part, mixed) in card.formula.parts.iter().zip(&card.sheet.parts) {
        let rows = weighed(part, mixed);
        let title =
            part.name.as_ref().map_or("one litre".to_owned(), |name| format!("part {name}, one litre"));
        let from = from_words(part, mixed);
        if squeeze.columns > 1 && card.formula.parts.len() == 1 {
            let mut rows = rows;
            let rest = rows.split_off(rows.len().div_ceil(2));
            lists.push((title, from, rows));
            lists.push((String::new(), String::new(), rest));
        } else {
            lists.push((title, from, rows));
        }
    }
    let amount_mm = AMOUNT_MM * (squeeze.amount_pt / 20.0).max(0.62);
    let name_mm = column - amount_mm - 1.0;
    let mut heights = Vec::new();
    let mut html = format!(
        "<div class=\"litre\" style=\"--amount:{}pt;--name:{}pt;--row:{}mm;--wide:{amount_mm:.1}mm;grid-template-columns:repeat({},minmax(0,1fr));gap:0 {gap}mm\">",
        squeeze.amount_pt, squeeze.name_pt, squeeze.row_mm, squeeze.columns
    );
    for (title, from, rows) in &lists {
        let mut mm = 7.2;
        html.push_str(&format!("<div><h2>{}<span>{}</span></h2><table>\n", escape(title), escape(from)));
        mm += (text_mm(&format!("{title}  {from}"), 11.0, column) - 4.7).max(0.0);
        for row in rows {
            let long = if row.amount.chars().count() > 8 { " class=\"long\"" } else { "" };
            let remark = if row.remark.is_empty() {
                String::new()
            } else {
                format!(" <small>{}</small>", escape(&row.remark))
            };
            html.push_str(&format!(
                "<tr><td{long}>{}</td><td>{}{remark}</td></tr>\n",
                escape(&row.amount),
                escape(&row.name)
            ));
            let name = Lettering::regular(squeeze.name_pt, SPACING);
            let small = Lettering::regular(10.0_f64.min(squeeze.name_pt), SPACING);
            let one_line = name.width_mm(&row.name) + small.width_mm(&row.remark) + 3.0 <= name_mm;
            let lines_mm = if one_line {
                name.line_mm()
            } else {
                // The remark begins on a line of the name and goes on in lines of the same height.
                name.height_mm(&row.name, name_mm)
                    + count(small.lines(&row.remark, name_mm))
                        * if row.remark.is_empty() { 0.0 } else { name.line_mm() }
            };
            let amount_lines = if long.is_empty() {
                0.0
            } else {
                bold_mm(&row.amount, squeeze.amount_pt * 0.6, amount_mm - 4.0)
            };
            mm += lines_mm.max(amount_lines).max(squeeze.row_mm - 0.4) + 0.7;
        }
        html.push_str("</table></div>\n");
        heights.push(mm);
    }
    html.push_str("</div>\n");
    let mm: f64 = heights.chunks(squeeze.columns).map(|row| row.iter().copied().fold(0.0, f64::max)).sum();
    Piece { html, mm: mm + 1.5 }
}

/// `from 750 mL at 50 °C`, and what takes the place of water.
fn from_words(part: &Part, mixed: &SheetPart) -> String {
    let solvent =
        part.solvent.as_ref().map(|solvent| format!("made up with {}, not with water", solvent.name));
    let start = mixed.steps.iter().map(|step| &step.step).find(|step| step.action == Action::Start);
    let start = start.and_then(|step| {
        let water = crate::bench::volume_words(step.water_ml?);
        Some(step.celsius.map_or_else(
            || format!("in this order, from {water}"),
            |celsius| {
                format!("in this order, from {water} at {}", crate::quantity::Temperature::from_c(celsius))
            },
        ))
    });
    [start, solvent].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// What is weighed in the order of mixing; in the order of the formula where there are no steps.
fn weighed(part: &Part, mixed: &SheetPart) -> Vec<Weighed> {
    let mut order: Vec<(usize, Option<String>)> = Vec::new();
    let mut pinch: Option<String> = None;
    for step in mixed.steps.iter().map(|step| &step.step) {
        let Some(item) = step.item else { continue };
        match step.action {
            Action::Pinch => pinch = step.form.as_ref().map(|form| form.bench_name.clone()),
            Action::Add | Action::DissolveApart if !order.iter().any(|(own, _)| *own == item) => {
                order.push((item, pinch.take()));
            }
            _ => {}
        }
    }
    for index in 0..part.ingredients.len() {
        if !order.iter().any(|(own, _)| *own == index) {
            order.push((index, None));
        }
    }
    order
        .into_iter()
        .filter_map(|(index, pinch)| {
            let ingredient = part.ingredients.get(index)?;
            let mut remarks: Vec<String> = Vec::new();
            remarks.extend(pinch.map(|name| format!("after a pinch of the {name}")));
            remarks.extend(ingredient.optional.then(|| "optional".to_owned()));
            remarks.extend(ingredient.until.as_ref().map(|until| format!("only until {until}")));
            Some(Weighed {
                amount: amount_words(ingredient),
                name: ingredient.form.name.clone(),
                remark: remarks.join("; "),
            })
        })
        .collect()
}

/// Keeps, does, mind, never.
fn cells(card: &CardPage<'_>, squeeze: Squeeze, width: f64) -> Piece {
    let mind: Vec<String> = card.bench.mind.iter().map(crate::bench::Minded::words).collect();
    let mut cells = vec![("keeps", card.keeps.clone()), ("does", card.does.clone())];
    cells.push(("mind", mind.join("; ")));
    cells.push(("never", card.bench.never.clone()));
    cells.retain(|(_, text)| !text.is_empty());
    // A cell with much to say is wider, up to twice and a half.
    let letters: Vec<f64> =
        cells.iter().map(|(_, text)| (count(text.chars().count()) / 60.0).clamp(1.0, 2.5)).collect();
    let all: f64 = letters.iter().sum();
    let mut mm: f64 = 0.0;
    let mut html = String::from("<div class=\"cells\">");
    for ((name, text), share) in cells.iter().zip(&letters) {
        html.push_str(&format!(
            "<div style=\"flex:{share:.2} 1 0;font-size:{}pt\"><b>{name}</b>{}</div>",
            squeeze.cell_pt,
            escape(text)
        ));
        mm = mm.max(text_mm(text, squeeze.cell_pt, (width - 2.0) * share / all - 5.0));
    }
    html.push_str("</div>\n");
    Piece { html, mm: mm + 6.2 + 3.6 + 2.5 }
}

fn cautions(card: &CardPage<'_>, squeeze: Squeeze, width: f64) -> Option<Piece> {
    let own: Vec<&String> = card.formula.cautions.all().collect();
    if own.is_empty() {
        return None;
    }
    let lines: String = own.iter().map(|line| format!("<p>{}</p>", escape(line))).collect();
    let mm: f64 = own.iter().map(|line| bold_mm(line, squeeze.cell_pt, width - 9.0)).sum();
    Some(Piece {
        html: format!("<div class=\"cautions\" style=\"font-size:{}pt\">{lines}</div>\n", squeeze.cell_pt),
        mm: mm + 6.0,
    })
}

/// Evidence for which there is room, and how many facts had none.
fn evidence(facts: &[(String, String)], room: f64, width: f64) -> (String, usize) {
    let mut html = String::from("<h2>evidence and chemistry</h2><table class=\"evidence\">\n");
    let mut left = room - 7.5;
    let mut left_out = 0;
    for (label, text) in facts {
        let mm = text_mm(text, 9.5, width - LABEL_MM - 1.0).max(bold_mm(label, 9.5, LABEL_MM - 3.0)) + 0.6;
        if mm > left {
            left_out += 1;
            continue;
        }
        left -= mm;
        html.push_str(&format!("<tr><th>{}</th><td>{}</td></tr>\n", escape(label), escape(text)));
    }
    html.push_str("</table>\n");
    (html, left_out)
}
