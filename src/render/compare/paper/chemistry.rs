//! The chemistry in small print, what differs first, as much as there is room for.

use super::super::words::{cell_moles, column_labels, measure_row};
use super::seen::{is_reasoned, use_rows, why};
use super::{ComparePage, FINE_PT, HEADING_MM, LABEL_MM, Squeeze, TABLE_END, count};
use crate::compare::Comparison;
use crate::doubt::COMPUTED;
use crate::quantity::rounding::show_decimals;
use crate::render::html::escape;
use crate::render::html::piece::{bold_mm, text_mm};

/// Differences in words, the figures of the trade, moles, and the reasons that were not told above: as many as there is room for, and how
/// many had none.
pub(super) fn chemistry(page: &ComparePage<'_>, chosen: Squeeze, room: f64, width: f64) -> (String, usize) {
    let comparison = page.comparison;
    let mut fine = Fine { left: room - HEADING_MM, left_out: 0 };
    let label = |place: usize, name: &str| format!("{} {name}", place + 1);
    let each = |name: &str, words: Vec<String>| -> Vec<(String, String)> {
        words.into_iter().enumerate().map(|(place, own)| (label(place, name), own)).collect()
    };
    let mut all = String::new();
    if !chosen.has_uses {
        let lines: Vec<_> = use_rows(page).into_iter().flat_map(|(name, words)| each(name, words)).collect();
        all.push_str(&fine.lines(&lines, width));
    }
    // What differs comes first.
    let is_alike = |row: &(String, Vec<String>)| row.1.windows(2).all(|two| two.first() == two.last());
    let (alike, differing): (Vec<_>, Vec<_>) = figures(comparison).into_iter().partition(is_alike);
    all.push_str(&fine.table(&differing, comparison.formulas.len(), width));
    let mut lines = told(comparison);
    lines.extend(moles(comparison));
    let of_all = |(name, values): (String, Vec<String>)| Some((name, format!("{}, all", values.first()?)));
    lines.extend(alike.into_iter().filter_map(of_all));
    for own in comparison.seen.iter().filter(|own| !is_reasoned(own, chosen.reasons)) {
        let reasons = (0..comparison.formulas.len()).map(|place| why(own, place)).collect();
        lines.extend(each(&own.quality.name, reasons));
    }
    all.push_str(&fine.lines(&lines, width));
    let heading = if chosen.has_uses { "chemistry" } else { "use and chemistry" };
    if all.is_empty() {
        return (all, fine.left_out);
    }
    (format!("<h2>{heading}</h2>\n{all}"), fine.left_out)
}

/// Small print, as much of it as there is room for.
struct Fine {
    /// Height that is left, mm.
    left: f64,
    left_out: usize,
}

impl Fine {
    /// Whether there is room for a row; it counts as taken, or as left out.
    fn takes(&mut self, mm: f64) -> bool {
        let mm = mm + 0.6;
        if mm > self.left {
            self.left_out += 1;
            return false;
        }
        self.left -= mm;
        true
    }

    /// Names with one text.
    fn lines(&mut self, lines: &[(String, String)], width: f64) -> String {
        let mut rows = String::new();
        for (label, text) in lines {
            let mm = text_mm(text, FINE_PT, width - LABEL_MM - 0.5);
            if self.takes(mm.max(bold_mm(label, FINE_PT, LABEL_MM - 2.0))) {
                rows.push_str(&format!("<tr><th>{}</th><td>{}</td></tr>\n", escape(label), escape(text)));
            }
        }
        Self::framed(&rows)
    }

    /// Names with a value a formula.
    fn table(&mut self, lines: &[(String, Vec<String>)], formulas: usize, width: f64) -> String {
        let column = (width - LABEL_MM) / count(formulas) - 2.0;
        let mut rows = String::new();
        for (name, values) in lines {
            let mm = values.iter().map(|value| text_mm(value, FINE_PT, column)).fold(0.0, f64::max);
            if self.takes(mm.max(bold_mm(name, FINE_PT, LABEL_MM - 2.0))) {
                let tag = if name.is_empty() { "th" } else { "td" };
                let cell = |own: &String| format!("<{tag}>{}</{tag}>", escape(own));
                let cells: String = values.iter().map(cell).collect();
                rows.push_str(&format!("<tr><th>{}</th>{cells}</tr>\n", escape(name)));
            }
        }
        Self::framed(&rows)
    }

    fn framed(rows: &str) -> String {
        if rows.is_empty() { String::new() } else { format!("<table class=\"fine\">\n{rows}{TABLE_END}") }
    }
}

/// Figures the trade goes by, with one value a formula.
fn figures(comparison: &Comparison<'_>) -> Vec<(String, Vec<String>)> {
    let numbers = (1..=comparison.formulas.len()).map(|number| number.to_string()).collect();
    let mut lines = vec![(String::new(), numbers)];
    let row = |key: &str| {
        let measure = comparison.measures.iter().find(|measure| measure.key == key)?;
        Some(measure_row(measure).split_off(1))
    };
    if let (Some(ph), Some(error)) = (row("ph"), row("ph_error")) {
        let values = ph.iter().zip(&error).map(|(ph, error)| {
            let both = ph.split(", then ").zip(error.split(", then "));
            let words = |(ph, error): (&str, &str)| {
                // In tenths, as on the sheet: an error of an error is none.
                let error = error.parse().map_or_else(|_| error.to_owned(), |own| show_decimals(own, 1));
                if ph.contains('-') || ph == "?" { ph.to_owned() } else { format!("{ph} ± {error}") }
            };
            both.map(words).collect::<Vec<_>>().join(", then ")
        });
        lines.push((format!("pH, {COMPUTED}"), values.collect()));
    }
    for measure in comparison.measures.iter().filter(|measure| !["ph", "ph_error"].contains(&measure.key)) {
        let mut cells = measure_row(measure).into_iter();
        let name = cells.next().unwrap_or_default();
        lines.push((name, cells.collect()));
    }
    if lines.len() == 1 { Vec::new() } else { lines }
}

/// Differences in words with their reasons; arithmetic needs none.
fn told(comparison: &Comparison<'_>) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    for difference in &comparison.differences {
        let reason = match difference.reason {
            crate::compare::DifferenceReason::Arithmetic => String::new(),
            ref other => format!(" [{}]", other.words()),
        };
        let number = difference.formula + 1;
        let label = if difference.against == difference.formula {
            format!("{number} {}", difference.topic.words())
        } else {
            format!("{number} against {}: {}", difference.against + 1, difference.topic.words())
        };
        let text = format!("{}{reason}", difference.text);
        // All of one topic is one row.
        match all.last_mut() {
            Some((last, words)) if *last == label => words.push_str(&format!("; {text}")),
            _ => all.push((label, text)),
        }
    }
    all
}

/// Moles per litre, a line a solution.
fn moles(comparison: &Comparison<'_>) -> Vec<(String, String)> {
    let labels = column_labels(comparison);
    labels
        .iter()
        .enumerate()
        .map(|(index, label)| {
            let all = comparison.rows.iter().filter_map(|row| {
                let cell = row.cells.get(index)?.as_ref()?;
                Some(format!("{} {}", row.form.bench_name, cell_moles(cell)))
            });
            (format!("{label} mol/L"), all.collect::<Vec<_>>().join(";  "))
        })
        .collect()
}
