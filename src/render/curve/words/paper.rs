//! A strip of paper.

use super::figures::{errors_words, limits, short, speed_figure, speed_limits};
use crate::curve::paper::PaperFigures;
use crate::quantity::rounding::show_decimals;
use crate::render::curve::JudgedStrips;
use crate::render::curve::characters::{Line, Marked, plot, signed};
use crate::render::{Block, Document};

/// The sentence of a paper.
pub(in crate::render::curve) fn paper_verdict(paper: &PaperFigures) -> String {
    let fits = paper.grade.as_ref().map_or_else(
        || "beyond the bands of grades".to_owned(),
        |grade| format!("grade {grade} by the bands of 1966"),
    );
    let least = if paper.is_full { "" } else { " at least (the strip does not reach full black)" };
    format!(
        "ISO range R{}{least}: log exposure range {} ({}), {fits}. It prints a negative of that density range in diffuse light.",
        show_decimals(paper.iso_range, 0),
        show_decimals(paper.range, 2),
        limits(paper.range_limits, 2)
    )
}

pub(super) fn paper(document: &mut Document, paper: &PaperFigures, judged: &JudgedStrips) {
    document.paragraph(format!("{}: {}", short(&paper.strip.name), paper_verdict(paper)));
    let marked = Marked {
        letters: [('T', paper.log_h_t), ('S', paper.log_h_s)]
            .into_iter()
            .filter_map(|(letter, at)| Some((letter, at, paper.curve.at(at)?)))
            .collect(),
        ..Marked::default()
    };
    let line = Line {
        curve: &paper.curve,
        readings: paper.strip.points.iter().map(|point| (point.log_h, point.density)).collect(),
        mark: '●',
    };
    document.blocks.push(Block::Plot(plot(&[line], &marked)));
    document.list(paper_lines(paper, judged));
    document.list(paper.strip.notes.clone());
}

pub(in crate::render::curve) fn paper_lines(paper: &PaperFigures, judged: &JudgedStrips) -> Vec<String> {
    let mut lines = vec![format!(
        "base {} · greatest density {} · T {} to S {} ({} net to 90 % of the net maximum)",
        show_decimals(paper.strip.base_fog, 2),
        show_decimals(paper.maximum, 2),
        signed(paper.log_h_t, 2),
        signed(paper.log_h_s, 2),
        show_decimals(judged.table.paper.toe, 2)
    )];
    if let Some(other) = paper.range_absolute {
        lines.push(format!(
            "with 90 % of the maximum itself, base included, the range is {}",
            show_decimals(other, 2)
        ));
    }
    let at = signed(paper.log_h_speed, 2);
    lines.push(if paper.strip.is_relative {
        format!(
            "log H {at} at net {}, for an exposure of 1",
            show_decimals(judged.table.paper.speed_density, 2)
        )
    } else {
        format!(
            "paper speed P {} ({}): 1000/H at net {} (log H {at}); the constant is from memory",
            speed_figure(paper.speed),
            speed_limits(paper.speed_limits),
            show_decimals(judged.table.paper.speed_density, 2)
        )
    });
    lines.push(format!("Limits {}.", errors_words(judged.errors)));
    lines
}
