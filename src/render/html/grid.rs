//! The grid that every paper stands on: margins for holes and a sleeve at the left, a head with the name and the one figure of the page,
//! a foot with what made it and which side it is. Lengths and sizes stand here and in `grid.css`, nowhere else.

use super::{MARGINS_MM, escape, page_of};
use crate::lettering::Paper;

const STYLE: &str = include_str!("grid.css");

/// Kept free at the foot for a browser that rounds, mm.
const SPARE_MM: f64 = 0.8;
/// Letters of a figure at 34 points beside the name; a longer one is set smaller.
const FIGURE_LETTERS: usize = 14;
/// Letters of a name at 22 points on one line beside the figure.
const NAME_LETTERS: usize = 60;

/// Width and height that is printed on, mm.
pub(in crate::render) fn room_mm(paper: Paper) -> (f64, f64) {
    let [left, right, top, bottom] = MARGINS_MM;
    let (width, height) = paper.size_mm();
    (width - left - right, height - top - bottom - SPARE_MM)
}

/// What every paper has in common: its size and margins, face, head, foot. A paper's own style comes after it and holds only what is its own.
pub(in crate::render) fn style(paper: Paper) -> String {
    let [left, right, top, bottom] = MARGINS_MM;
    format!("@page {{ size: {}; margin: {top}mm {right}mm {bottom}mm {left}mm; }}\n{STYLE}", paper.word())
}

/// Head, foot and break of a page of the grid, for pages that stand before text that flows.
pub(in crate::render) fn frame() -> &'static str {
    STYLE
}

/// Pages of a kind as one HTML document; `own_style` comes after that of the grid.
pub(in crate::render) fn pages(
    title: &str,
    paper: Paper,
    (kind, own_style): (&str, &str),
    pages: &[String],
) -> String {
    let (width, height) = room_mm(paper);
    let style =
        format!("{}.page {{ width: {width:.1}mm; min-height: {height:.1}mm; }}\n{own_style}", style(paper));
    let body: String =
        pages.iter().map(|page| format!("<section class=\"page {kind}\">\n{page}</section>\n")).collect();
    page_of(&escape(title), &style, &body)
}

/// Head: the name with a line under it, and the one figure or word of the page.
pub(in crate::render) fn head(name: &str, line: &str, figure: &str) -> String {
    head_of(name, line, figure, (NAME_LETTERS, FIGURE_LETTERS))
}

/// The same with name and figure set smaller from more than so many letters on.
pub(in crate::render) fn head_of(
    name: &str,
    line: &str,
    figure: &str,
    (name_letters, letters): (usize, usize),
) -> String {
    let long = if figure.chars().count() > letters { " class=\"long\"" } else { "" };
    let small = if name.chars().count() > name_letters { " class=\"small\"" } else { "" };
    format!(
        "<header><div><h1{small}>{}</h1><p>{}</p></div><b{long}>{}</b></header>\n",
        escape(name),
        escape(line),
        escape(figure)
    )
}

/// Foot: what made the page, and which side or page it is.
pub(in crate::render) fn foot(left: &str, right: &str) -> String {
    format!("<footer><span>{}</span><b>{}</b></footer>\n", escape(left), escape(right))
}
