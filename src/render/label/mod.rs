//! Bottle labels: as text, as JSON, and as HTML on a sheet of labels or as cards to cut out.

use super::{Block, Document};
use crate::label::Label;
use crate::label::layout::{Dress, Face, LabelLine, LabelRoom, Layout, lay_out};
use crate::label::sheets::{LabelSheet, LabelSheets, Smallest};
pub use json::LabelBody;
pub use print::{label_cards_html, label_sheet_html};
pub use words::gravest;
use words::{card_face, face};

mod json;
mod print;
mod words;

/// A card to cut out: width and least height, mm.
const CARD_MM: (f64, f64) = (148.0, 105.0);

/// Size of type on a card, points.
const CARD_PT: f64 = 12.0;

/// Largest size of type on a label, points.
const MOST_PT: f64 = 11.0;

/// Size of hazards, points: of a bottle held in the hand (16 minutes of arc for a lower-case x at 0.35 m).
const USUAL_PT: f64 = 9.0;

/// Where something is written in, in text.
const BLANK: &str = "____________";

/// Why a label is too small.
#[derive(Debug, Clone, PartialEq)]
pub struct TooSmall {
    /// What is wrong.
    pub message: String,
    /// Sizes that have room.
    pub larger: Vec<String>,
    /// Whether a second label in the short form would have room.
    pub has_short: bool,
}

impl TooSmall {
    /// What to do about it.
    pub fn fix(&self) -> String {
        let card = if self.has_short {
            "leave --sheet out for a card to cut out (--format html); --short prints a second label of this size, beside the full one"
        } else {
            "leave --sheet out for a card to cut out (--format html)"
        };
        if self.larger.is_empty() {
            format!("no sheet in the table is large enough; {card}")
        } else {
            format!("use --sheet {}, or {card}", self.larger.join(" or "))
        }
    }
}

/// Where the labels go on their sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placing {
    /// The first label used, counted from 0.
    pub first: u32,
    /// Moved to the right and down, mm.
    pub shift_mm: (f64, f64),
    /// Whether the edges of all labels are drawn, with a measure, for a trial on plain paper.
    pub outline: bool,
}

/// The labels as a document, with the sizes they have room on; in the words that stand on `chosen`, or else in full as on a card.
pub fn label_document(labels: &[Label], chosen: Option<&LabelSheet>, sheets: &LabelSheets) -> Document {
    let mut document = Document::new();
    for label in labels {
        let face = face(label);
        let layout = chosen.and_then(|sheet| stands(label, &face, sheet, sheets).ok());
        let lines = match layout {
            Some(layout) => label_lines(label, &face, layout.telling),
            None => lines_in_full(label),
        };
        document.caution(&heading(label), lines);
        let facts = sheets
            .sheets
            .iter()
            .map(|sheet| {
                let verdict = match stands(label, &face, sheet, sheets) {
                    Ok(layout) => {
                        let short = if is_short(&face, &layout) { " in the short form" } else { "" };
                        match left_out(&face, &layout) {
                            left_out if left_out.is_empty() => format!("has room{short}"),
                            left_out => format!("has room, without {}{short}", left_out.join(" and ")),
                        }
                    }
                    Err(message) => message,
                };
                (format!("sheet {}", sheet.size), verdict)
            })
            .collect();
        document.blocks.push(Block::Facts(facts));
    }
    document
}

/// What stands above the box of a label.
pub(super) fn heading(label: &Label) -> String {
    let part = label.part.as_ref().map_or_else(String::new, |part| format!(", PART {}", part.to_uppercase()));
    format!("LABEL{part}")
}

/// All lines of a label, told in full; of a second one its own.
pub(super) fn lines_in_full(label: &Label) -> Vec<String> {
    label_lines(label, &if label.is_second { face(label) } else { card_face(label) }, 0)
}

/// What the labels leave out for want of room on a sheet, one line a label.
pub fn left_out_notes(labels: &[Label], sheet: &LabelSheet, sheets: &LabelSheets) -> Vec<String> {
    let notes = labels.iter().filter_map(|label| {
        let face = face(label);
        let left_out = left_out(&face, &stands(label, &face, sheet, sheets).ok()?);
        (!left_out.is_empty()).then(|| {
            format!(
                "the label of {} has no room on {} mm for {}: that stands on the card (without --sheet)",
                named(label),
                sheet.size,
                left_out.join(" and ")
            )
        })
    });
    notes.collect()
}

/// Whether a layout is the short form.
fn is_short(face: &Face, layout: &Layout) -> bool {
    face.tellings.get(layout.telling).is_some_and(|own| own.is_short)
}

/// Background that a layout of the label leaves out.
fn left_out(face: &Face, layout: &Layout) -> Vec<&'static str> {
    face.tellings.get(layout.telling).map(|own| own.left_out.clone()).unwrap_or_default()
}

/// The lines of a face, in the order in which they stand.
fn label_lines(label: &Label, face: &Face, telling: usize) -> Vec<String> {
    let told = face.tellings.get(telling).cloned().unwrap_or_default();
    // A taken for B is the mistake to prevent.
    let mut lines = vec![match &face.ring {
        Some(part) => format!("({part}) {}", face.title),
        None => face.title.clone(),
    }];
    lines.extend(told.uses.iter().map(ToString::to_string));
    lines.extend((!told.detail.is_empty()).then_some(told.detail));
    lines.extend(face.signal.map(str::to_uppercase));
    let hazards: Vec<String> = told.hazards.iter().map(LabelLine::to_string).collect();
    if told.is_run_together {
        lines.push(hazards.join(" "));
    } else {
        lines.extend(hazards);
    }
    if !told.is_short && !label.pictograms.is_empty() {
        let names: Vec<&str> = label.pictograms.iter().map(|pictogram| pictogram.name()).collect();
        lines.push(format!("pictograms: {}", names.join(", ")));
    }
    lines.extend(told.good_to.iter().map(ToString::to_string));
    lines.extend((!told.basis.is_empty()).then_some(told.basis));
    if !told.is_short {
        let mixed = if face.mixed.text.is_empty() { BLANK } else { &face.mixed.text };
        lines.push(format!("{} {mixed}", face.mixed.lead));
    }
    let (beside, is_written) = told.beside;
    lines.push(if is_written { format!("{beside} {BLANK}") } else { beside });
    lines.extend(told.write_in.iter().map(|own| format!("{own} {BLANK}")));
    if told.tally > 0 {
        lines.push("[ ]".repeat(told.tally));
    }
    lines.extend((!told.foot.is_empty()).then(|| format!("{}; {}", face.foot, told.foot)));
    lines
}

/// How a label stands on a sheet's labels.
///
/// # Errors
/// The label is smaller than the rules or the text allow; the sizes that are large enough are named.
pub fn check(label: &Label, sheet: &LabelSheet, sheets: &LabelSheets) -> Result<Layout, TooSmall> {
    let face = face(label);
    stands(label, &face, sheet, sheets).map_err(|message| TooSmall {
        message,
        larger: sheets
            .sheets
            .iter()
            .filter(|other| stands(label, &face, other, sheets).is_ok())
            .map(|other| other.size.clone())
            .collect(),
        has_short: attempt(&Label { is_second: true, ..label.clone() }, sheet, sheets, |room| room).is_ok(),
    })
}

/// How the labels stand on a sheet's labels; the bottles of one formula alike, so that A and B are taken for a pair.
///
/// # Errors
/// One of them is smaller than the rules or its text allow.
pub(crate) fn check_alike(
    labels: &[Label],
    sheet: &LabelSheet,
    sheets: &LabelSheets,
) -> Result<Vec<Layout>, TooSmall> {
    let mut layouts: Vec<Layout> =
        labels.iter().map(|label| check(label, sheet, sheets)).collect::<Result<_, _>>()?;
    let least = |of: &str, size: fn(&Layout) -> f64, layouts: &[Layout]| {
        let own = labels.iter().zip(layouts).filter(|(label, _)| label.formula == of);
        own.map(|(_, layout)| size(layout)).fold(f64::INFINITY, f64::min)
    };
    let own = layouts.clone();
    for (label, layout) in labels.iter().zip(&mut layouts) {
        let type_pt = least(&label.formula, |own| own.type_pt, &own);
        let dress = Dress {
            name_pt: least(&label.formula, |own| own.dress.name_pt, &own),
            use_pt: least(&label.formula, |own| own.dress.use_pt, &own),
            signal_pt: least(&label.formula, |own| own.dress.signal_pt, &own),
            date_pt: least(&label.formula, |own| own.dress.date_pt, &own),
            mixed_pt: least(&label.formula, |own| own.dress.mixed_pt, &own),
            ring_mm: least(&label.formula, |own| own.dress.ring_mm, &own),
            ring_pt: least(&label.formula, |own| own.dress.ring_pt, &own),
        };
        if dress != layout.dress || type_pt < layout.type_pt {
            let sized = |room: LabelRoom| LabelRoom { most_pt: type_pt, dress: Some(dress), ..room };
            // What has room in larger type has it in smaller.
            if let Ok(alike) = attempt(label, sheet, sheets, sized) {
                *layout = alike;
            }
        }
    }
    Ok(layouts)
}

/// As [`check`], of a face that is there already; what is wrong in words.
fn stands(label: &Label, face: &Face, sheet: &LabelSheet, sheets: &LabelSheets) -> Result<Layout, String> {
    attempt_face((label, face), sheet, sheets, |room| room)
}

fn attempt(
    label: &Label,
    sheet: &LabelSheet,
    sheets: &LabelSheets,
    sized: impl Fn(LabelRoom) -> LabelRoom,
) -> Result<Layout, String> {
    attempt_face((label, &face(label)), sheet, sheets, sized)
}

fn attempt_face(
    (label, face): (&Label, &Face),
    sheet: &LabelSheet,
    sheets: &LabelSheets,
    sized: impl Fn(LabelRoom) -> LabelRoom,
) -> Result<Layout, String> {
    let smallest = sheets.smallest_for(label.volume);
    let smallest = smallest.filter(|_| !label.is_second);
    if let Some(rule) =
        smallest.filter(|rule| label.is_classified() && !rule.allows(sheet.width, sheet.height))
    {
        return Err(format!(
            "too small for the hazards of {}: a bottle up to {} L needs {} × {} mm",
            named(label),
            rule.up_to_litres,
            rule.short,
            rule.long
        ));
    }
    let room = LabelRoom {
        width_mm: sheet.width,
        height_mm: sheet.height,
        most_pt: MOST_PT,
        ..room(smallest.filter(|_| label.is_classified()))
    };
    lay_out(face, &sized(room)).map_err(|layout| {
        format!(
            "too small for the text of {}: at {} point it is {:.0} mm high, and the label {} mm",
            named(label),
            layout.type_pt,
            layout.height_mm.ceil(),
            sheet.height
        )
    })
}

fn room(smallest: Option<&Smallest>) -> LabelRoom {
    let least_pt = smallest.map_or(USUAL_PT, Smallest::type_pt).max(USUAL_PT);
    LabelRoom {
        width_mm: CARD_MM.0,
        height_mm: f64::INFINITY,
        least_pt,
        most_pt: CARD_PT.max(least_pt),
        pictogram_mm: smallest.map_or(16.0, |own| own.pictogram),
        dress: None,
    }
}

fn named(label: &Label) -> String {
    label.part.as_ref().map_or_else(|| label.formula.clone(), |part| format!("{} part {part}", label.formula))
}
