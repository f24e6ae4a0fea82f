//! Bottle labels: as text, as JSON, and as HTML on a sheet of labels or as cards to cut out.

use serde::Serialize;

use super::card::{keeping_figures, keeping_words, use_in_short};
use super::html::{escape, page_of};
use super::pictogram::svg;
use super::{Block, Document};
use crate::label::layout::{self, Face, Layout, Room, Telling, lay_out};
use crate::label::sheets::{LabelSheet, LabelSheets, Smallest};
use crate::label::{Label, Strength};
use crate::lettering::Paper;
use crate::safety::NotComputed;

/// Who vouches for the label.
const FOOT: &str = "In-house help, not a legal label.";
/// A card to cut out: width and least height, mm.
const CARD_MM: (f64, f64) = (148.0, 105.0);
/// Size of type on a card, points.
const CARD_PT: f64 = 12.0;
/// Largest size of type on a label, points.
const MOST_PT: f64 = 11.0;
/// Least size of type where no rule asks for more, points; a judgement: a jar held in the hand in white light.
const LEAST_PT: f64 = 6.5;

/// Why a label is too small.
#[derive(Debug, Clone, PartialEq)]
pub struct TooSmall {
    /// What is wrong.
    pub message: String,
    /// Sizes that have room.
    pub larger: Vec<String>,
}

impl TooSmall {
    /// What to do about it.
    pub fn fix(&self) -> String {
        let card = "leave --sheet out for a card to cut out (--format html)";
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
        let layout = chosen.and_then(|sheet| check(label, sheet, sheets).ok());
        document.caution(&heading(label), label_lines(label, layout.map_or(0, |layout| layout.telling)));
        let facts = sheets
            .sheets
            .iter()
            .map(|sheet| {
                let verdict = match check(label, sheet, sheets) {
                    Ok(layout) => match left_out(label, &layout) {
                        left_out if left_out.is_empty() => "has room".to_owned(),
                        left_out => format!("has room, without {}", left_out.join(" and ")),
                    },
                    Err(problem) => problem.message,
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

/// All lines of a label, told in full.
pub(super) fn lines_in_full(label: &Label) -> Vec<String> {
    label_lines(label, 0)
}

/// What the labels leave out for want of room on a sheet, one line a label.
pub fn left_out_notes(labels: &[Label], sheet: &LabelSheet, sheets: &LabelSheets) -> Vec<String> {
    let notes = labels.iter().filter_map(|label| {
        let left_out = left_out(label, &check(label, sheet, sheets).ok()?);
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

/// Background that a layout of the label leaves out.
fn left_out(label: &Label, layout: &Layout) -> Vec<&'static str> {
    face(label).tellings.get(layout.telling).map(|own| own.left_out.clone()).unwrap_or_default()
}

fn label_lines(label: &Label, telling: usize) -> Vec<String> {
    let face = face(label);
    let told = face.tellings.get(telling).cloned().unwrap_or_default();
    let mut lines = vec![face.title];
    lines.extend(told.facts);
    lines.extend(face.write_in.iter().map(|line| format!("{line} ____________")));
    lines.extend(face.signal.map(str::to_uppercase));
    lines.extend(told.hazards);
    if !label.pictograms.is_empty() {
        let names: Vec<&str> = label.pictograms.iter().map(|own| own.name()).collect();
        lines.push(format!("pictograms: {}", names.join(", ")));
    }
    lines.push(face.foot);
    lines
}

/// How much is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Length {
    /// All of it, each matter on a line of its own.
    Full,
    /// All of it, in fewer words and run together.
    Brief,
    /// Without the reasons why something is not computed.
    WithoutReasons,
    /// Without what is noted on its keeping, too.
    WithoutKeepingNotes,
}

/// The words of a label.
fn face(label: &Label) -> Face {
    let lengths = [Length::Full, Length::Brief, Length::WithoutReasons, Length::WithoutKeepingNotes];
    let mixed = match label.mixed {
        Some(date) => format!("Mixed on {date} by"),
        None => "Mixed on, by".to_owned(),
    };
    Face {
        // A taken for B is the mistake to prevent.
        title: match &label.part {
            Some(part) => format!("Part {part}: {}", label.title),
            None => label.title.clone(),
        },
        tellings: lengths.into_iter().map(|length| telling(label, length)).collect(),
        write_in: vec![mixed],
        signal: label.hazards.signal.map(crate::substance::Signal::word),
        pictograms: label.pictograms.len(),
        foot: format!("{FOOT} {}", label.formula),
    }
}

fn telling(label: &Label, length: Length) -> Telling {
    let strength = strength_words(label);
    let keeps = keeps_words(label, length);
    let uses = uses_words(label);
    let hazards = hazard_words(label, length);
    let mut left_out = Vec::new();
    if length >= Length::WithoutReasons && !label.hazards.not_computed.is_empty() {
        left_out.push("the reasons of what is not computed");
    }
    if leaves_out_keeping_note(label, length) {
        left_out.push("what is noted on its keeping");
    }
    if length == Length::Full {
        let own = label.own.iter().map(|words| super::capital(words));
        let facts = [Some(strength), uses, Some(keeps)].into_iter().flatten().chain(own).collect();
        return Telling { facts, hazards, left_out };
    }
    let own =
        if label.own.is_empty() { String::new() } else { format!(". {}", label.own_in_short.join(" ")) };
    let facts = [Some(format!("{strength}. {keeps}{own}")), uses].into_iter().flatten().collect();
    Telling { facts, hazards: vec![hazards.join(" ")], left_out }
}

/// `Use: film: 1 stock + 2 water | paper: 1 stock + 3 water`; none where the strength says it already.
fn uses_words(label: &Label) -> Option<String> {
    let uses: Vec<String> = label
        .uses
        .iter()
        .filter(|own| {
            let plain = own.baths.len() == 1 && own.minutes.is_none() && own.working_hours.is_none();
            label.strength != Strength::Working || !plain
        })
        .map(|own| {
            let words = use_in_short(own);
            if words.starts_with(&own.name) { words } else { format!("{}: {words}", own.name) }
        })
        .collect();
    (!uses.is_empty()).then(|| format!("Use: {}", uses.join(" | ")))
}

/// Never a note that is all there is to know: its place would be taken by `not known`.
fn leaves_out_keeping_note(label: &Label, length: Length) -> bool {
    length >= Length::WithoutKeepingNotes
        && label.keeping.note.is_some()
        && keeping_figures(&label.keeping).is_some()
}

fn keeps_words(label: &Label, length: Length) -> String {
    let in_full = || keeping_words(&crate::formula::Keeping { source: None, ..label.keeping.clone() });
    let words =
        if leaves_out_keeping_note(label, length) { keeping_figures(&label.keeping) } else { in_full() };
    let until = label.good_until.map_or_else(String::new, |date| format!("; full bottle good to {date}"));
    // Where room is short the half-full bottle is told on the card.
    let rule = label.by_rule.as_ref().map(|rule| match length {
        Length::Full | Length::Brief => rule.as_str(),
        Length::WithoutReasons | Length::WithoutKeepingNotes => rule.split(';').next().unwrap_or(rule),
    });
    match (words, rule) {
        (Some(words), Some(rule)) => format!("Keeps: {}; {rule}", words.trim_end_matches('.')),
        (Some(words), None) => format!("Keeps: {}{until}", words.trim_end_matches('.')),
        (None, Some(rule)) => format!("Keeps: {rule}"),
        (None, None) => "Keeps: not known".to_owned(),
    }
}

fn strength_words(label: &Label) -> String {
    let volume = label.volume;
    match (label.strength, &label.part) {
        (Strength::Part, Some(part)) => {
            let others: Vec<&str> =
                label.parts.iter().filter(|own| *own != part).map(String::as_str).collect();
            format!("{volume}. Used with {}", others.join(" and "))
        }
        (Strength::Working, _) => format!("Ready to use, {volume}"),
        (Strength::Stock, _) => format!("Stock solution, {volume}"),
        _ => format!("As mixed, {volume}"),
    }
}

fn hazard_words(label: &Label, length: Length) -> Vec<String> {
    let hazards = &label.hazards;
    let is_full = length == Length::Full;
    let mut words = Vec::new();
    let statements: Vec<String> = hazards
        .statements
        .iter()
        .map(|own| {
            // The standard text names the substance.
            if own.code == "EUH208" {
                return format!(
                    "Contains {}. May produce an allergic reaction. (EUH208)",
                    own.because.join(", ")
                );
            }
            format!("{} ({})", own.text, own.code)
        })
        .collect();
    if statements.is_empty() {
        let so_far = hazards.unknown.is_empty() && hazards.not_computed.is_empty();
        let so_far = if so_far { "" } else { ", as far as known" };
        let (rules, eyes) = if is_full {
            ("that the mixture rules name", " all the same")
        } else {
            ("by the mixture rules", "")
        };
        // Of the others it is said below that their hazards are not known.
        if label.unvouched.is_empty() {
            words.push(format!("No hazard {rules}{so_far}; keep it out of eyes{eyes}."));
        }
    } else {
        words.push(statements.join(" "));
    }
    if !hazards.not_computed.is_empty() {
        let own: Vec<String> = if length >= Length::WithoutReasons {
            hazards.not_computed.iter().map(NotComputed::in_short).collect()
        } else {
            hazards.not_computed.iter().map(ToString::to_string).collect()
        };
        words.push(format!("Not computed: {}.", own.join("; ")));
    }
    if !hazards.unknown.is_empty() {
        words.push(format!("Hazard not known, treat as harmful: {}.", hazards.unknown.join(", ")));
    }
    words.extend(label.gas.iter().cloned());
    if !label.never_beside.is_empty() {
        let unwashed =
            if is_full { "before or after it without a good wash" } else { "straight before or after it" };
        words.push(format!("Never {unwashed}: {}.", label.never_beside.join("; ")));
    }
    if !label.cautions.is_empty() {
        words.push(label.cautions.join(" "));
    }
    words
}

/// How a label stands on a sheet's labels.
///
/// # Errors
/// The label is smaller than the rules or the text allow; the sizes that are large enough are named.
pub fn check(label: &Label, sheet: &LabelSheet, sheets: &LabelSheets) -> Result<Layout, TooSmall> {
    attempt(label, sheet, sheets).map_err(|message| TooSmall {
        message,
        larger: sheets
            .sheets
            .iter()
            .filter(|other| attempt(label, other, sheets).is_ok())
            .map(|other| other.size.clone())
            .collect(),
    })
}

fn attempt(label: &Label, sheet: &LabelSheet, sheets: &LabelSheets) -> Result<Layout, String> {
    let smallest = sheets.smallest_for(label.volume);
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
    let room = Room {
        width_mm: sheet.width,
        height_mm: sheet.height,
        most_pt: MOST_PT,
        ..room(smallest.filter(|_| label.is_classified()))
    };
    lay_out(&face(label), &room).map_err(|layout| {
        format!(
            "too small for the text of {}: at {} point it is {:.0} mm high, and the label {} mm",
            named(label),
            layout.type_pt,
            layout.height_mm.ceil(),
            sheet.height
        )
    })
}

fn room(smallest: Option<&Smallest>) -> Room {
    let least_pt = smallest.map_or(LEAST_PT, Smallest::type_pt);
    Room {
        width_mm: CARD_MM.0,
        height_mm: f64::INFINITY,
        least_pt,
        most_pt: CARD_PT.max(least_pt),
        pictogram_mm: smallest.map_or(16.0, |own| own.pictogram),
    }
}

fn named(label: &Label) -> String {
    label.part.as_ref().map_or_else(|| label.formula.clone(), |part| format!("{} part {part}", label.formula))
}

/// The styles of a label; the lengths are those of [`layout`].
fn style() -> String {
    format!(
        "* {{ box-sizing: border-box; margin: 0; padding: 0; }}\n\
         body {{ line-height: {}; }}\n\
         .sheet {{ position: relative; overflow: hidden; break-after: page; }} .sheet:last-child {{ break-after: auto; }}\n\
         .label {{ padding: {}mm; display: flex; flex-direction: column; overflow: hidden; background: #fff; }} .sheet .label, .edge {{ position: absolute; }}\n\
         .edge {{ outline: 0.2mm solid #000; }}\n\
         .card {{ border: 0.5mm solid #000; margin-bottom: 6mm; break-inside: avoid; }}\n\
         .label p {{ padding-bottom: {}mm; }} .label .name {{ font-weight: bold; font-size: {}em; }}\n\
         .body {{ flex: 1; }}\n\
         .signal {{ font-weight: bold; font-size: {}em; text-transform: uppercase; }}\n\
         .write {{ display: flex; align-items: flex-end; gap: 2mm; height: {}mm; padding-bottom: 1mm; }} .write::after {{ content: \"\"; flex: 1; border-bottom: 0.3mm solid #000; }}\n\
         .pictures {{ float: right; display: flex; flex-wrap: wrap; align-content: flex-start; justify-content: flex-end; gap: 0 {}mm; }} .pictures div {{ text-align: center; font-size: {}pt; }} .pictures svg {{ display: block; }}\n\
         .foot {{ font-size: {}pt; }}\n\
         .measure {{ position: absolute; border-left: 0.3mm solid #000; border-right: 0.3mm solid #000; border-bottom: 0.3mm solid #000; width: 100mm; height: 4mm; font-size: 8pt; text-align: center; background: #fff; }}\n",
        layout::SPACING,
        layout::BORDER_MM,
        layout::PARAGRAPH_MM,
        layout::TITLE,
        layout::SIGNAL,
        layout::WRITE_IN_MM,
        layout::GAP_MM,
        layout::SMALL_PT,
        layout::SMALL_PT,
    )
}

/// Inside of a label.
fn inside(label: &Label, face: &Face, layout: &Layout) -> String {
    let paragraphs = |lines: &[String]| -> String {
        lines.iter().map(|line| format!("<p>{}</p>", escape(line))).collect()
    };
    let told = face.tellings.get(layout.telling).cloned().unwrap_or_default();
    let write: String =
        face.write_in.iter().map(|line| format!("<div class=\"write\">{}</div>", escape(line))).collect();
    let signal =
        face.signal.map_or_else(String::new, |word| format!("<div class=\"signal\">{}</div>", escape(word)));
    let pictures: String = label
        .pictograms
        .iter()
        .map(|own| {
            format!(
                "<div style=\"width:{:.2}mm\">{}{}</div>",
                layout.across_mm,
                svg(*own, layout.across_mm),
                own.name()
            )
        })
        .collect();
    format!(
        "<p class=\"name\">{}</p><div class=\"body\"><div class=\"pictures\" style=\"width:{:.2}mm\">{pictures}</div>{}{write}{signal}{}</div><div class=\"foot\">{}</div>",
        escape(&face.title),
        layout.pictures_mm,
        paragraphs(&told.facts),
        paragraphs(&told.hazards),
        escape(&face.foot)
    )
}

/// Labels on a sheet of labels, printed at full size without margins.
///
/// # Errors
/// A label that has no room.
pub fn label_sheet_html(
    labels: &[Label],
    sheet: &LabelSheet,
    sheets: &LabelSheets,
    placing: &Placing,
) -> Result<String, TooSmall> {
    let (width, height) = sheet.paper.size_mm();
    let at = |index: u32| {
        let (left, top) = sheet.place(index);
        format!(
            "left:{:.2}mm;top:{:.2}mm;width:{:.2}mm;height:{:.2}mm",
            left + placing.shift_mm.0,
            top + placing.shift_mm.1,
            sheet.width,
            sheet.height
        )
    };
    let mut pages: Vec<String> = Vec::new();
    for (index, label) in (placing.first..).zip(labels) {
        let layout = check(label, sheet, sheets)?;
        if pages.is_empty() || index % sheet.count().max(1) == 0 {
            pages.push(String::new());
        }
        if let Some(page) = pages.last_mut() {
            page.push_str(&format!(
                "<div class=\"label\" style=\"{};font-size:{}pt\">{}</div>\n",
                at(index),
                layout.type_pt,
                inside(label, &face(label), &layout)
            ));
        }
    }
    let outline: String = if placing.outline {
        let edges: String = (0..sheet.count())
            .map(|index| format!("<div class=\"edge\" style=\"{}\"></div>\n", at(index)))
            .collect();
        let measure = format!(
            "<div class=\"measure\" style=\"left:{:.2}mm;top:{:.2}mm\">this line is 100 mm long when printed at 100 %</div>\n",
            (width - 100.0) / 2.0,
            height / 2.0
        );
        edges + &measure
    } else {
        String::new()
    };
    let body: String = pages
        .iter()
        .map(|page| {
            // A hair less than the paper, so that rounding makes no empty page.
            format!(
                "<section class=\"sheet\" style=\"width:{width}mm;height:{:.1}mm\">\n{page}{outline}</section>\n",
                height - 0.3
            )
        })
        .collect();
    let style = format!("@page {{ size: {}; margin: 0; }}\n{}", sheet.paper.word(), style());
    Ok(page_of(&escape(&title(labels)), &style, &body))
}

/// Labels as cards to cut out of plain paper.
pub fn label_cards_html(labels: &[Label], sheets: &LabelSheets, paper: Paper) -> String {
    let body: String = labels
        .iter()
        .map(|label| {
            let face = face(label);
            // A card grows with its text: it always has room.
            let (Ok(layout) | Err(layout)) = lay_out(&face, &room(sheets.smallest_for(label.volume)));
            format!(
                "<div class=\"label card\" style=\"width:{}mm;min-height:{}mm;font-size:{}pt\">{}</div>\n",
                CARD_MM.0,
                CARD_MM.1,
                layout.type_pt,
                inside(label, &face, &layout)
            )
        })
        .collect();
    let style = format!("@page {{ size: {}; margin: 15mm; }}\n{}", paper.word(), style());
    page_of(&escape(&title(labels)), &style, &body)
}

fn title(labels: &[Label]) -> String {
    labels.first().map_or_else(String::new, |label| format!("Labels: {}", label.title))
}

/// `label --json`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct LabelBody {
    formula: String,
    /// `shipped`, or the personal folder or file.
    origin: String,
    labels: Vec<LabelJson>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LabelJson {
    title: String,
    own_substances: Vec<super::origin::OwnSubstance>,
    part: Option<String>,
    volume_ml: f64,
    strength: &'static str,
    uses: Vec<String>,
    mixed: Option<String>,
    good_until: Option<String>,
    full_bottle_days: Option<f64>,
    half_bottle_days: Option<f64>,
    /// How long it keeps by the rule of its class, where the formula does not say.
    keeping_by_rule: Option<String>,
    signal_word: Option<&'static str>,
    statements: Vec<StatementJson>,
    pictograms: Vec<&'static str>,
    ph: Option<f64>,
    not_computed: Vec<String>,
    hazard_not_known: Vec<String>,
    never_beside: Vec<String>,
    /// What gas can come off it, and what to do then.
    gas: Vec<String>,
    /// What the formula itself warns of.
    cautions: Vec<String>,
    is_legal_label: bool,
    sheets: Vec<SheetJson>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct StatementJson {
    code: String,
    text: String,
    because: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct SheetJson {
    size: String,
    paper: &'static str,
    labels_per_sheet: u32,
    has_room: bool,
    type_pt: Option<f64>,
    /// Background for which there is no room.
    left_out: Vec<&'static str>,
    why_not: Option<String>,
}

impl LabelBody {
    /// No labels.
    pub fn refused(formula: &crate::formula::Formula) -> Self {
        Self { formula: formula.id.clone(), origin: formula.origin_name(), labels: Vec::new() }
    }

    /// Labels for other programs.
    pub fn new(labels: &[Label], sheets: &LabelSheets) -> Self {
        Self {
            formula: labels.first().map(|label| label.formula.clone()).unwrap_or_default(),
            origin: labels.first().map(|label| label.origin.clone()).unwrap_or_default(),
            labels: labels.iter().map(|label| label_json(label, sheets)).collect(),
        }
    }
}

fn label_json(label: &Label, sheets: &LabelSheets) -> LabelJson {
    let statements = label.hazards.statements.iter().map(|own| StatementJson {
        code: own.code.clone(),
        text: own.text.clone(),
        because: own.because.clone(),
    });
    let rooms = sheets.sheets.iter().map(|sheet| {
        let verdict = check(label, sheet, sheets);
        SheetJson {
            size: sheet.size.clone(),
            paper: sheet.paper.word(),
            labels_per_sheet: sheet.count(),
            has_room: verdict.is_ok(),
            type_pt: verdict.as_ref().ok().map(|layout| layout.type_pt),
            left_out: verdict.as_ref().map(|layout| left_out(label, layout)).unwrap_or_default(),
            why_not: verdict.err().map(|problem| problem.message),
        }
    });
    LabelJson {
        title: label.title.clone(),
        own_substances: label
            .own_substances
            .iter()
            .map(|(substance, origin)| super::origin::OwnSubstance {
                substance: substance.clone(),
                origin: origin.clone(),
            })
            .collect(),
        part: label.part.clone(),
        volume_ml: label.volume.as_ml(),
        strength: match label.strength {
            Strength::Working => "working",
            Strength::Stock => "stock",
            Strength::Part => "part",
            Strength::NotKnown => "not-known",
        },
        uses: label.uses.iter().map(|own| format!("{}: {}", own.name, use_in_short(own))).collect(),
        mixed: label.mixed.map(|date| date.to_string()),
        good_until: label.good_until.map(|date| date.to_string()),
        full_bottle_days: label.keeping.full_bottle_days,
        half_bottle_days: label.keeping.half_bottle_days,
        keeping_by_rule: label.by_rule.clone(),
        signal_word: label.hazards.signal.map(crate::substance::Signal::word),
        statements: statements.collect(),
        pictograms: label.pictograms.iter().map(|own| own.name()).collect(),
        ph: label.hazards.ph,
        not_computed: label.hazards.not_computed.iter().map(ToString::to_string).collect(),
        hazard_not_known: label.hazards.unknown.clone(),
        never_beside: label.never_beside.clone(),
        gas: label.gas.clone(),
        cautions: label.cautions.clone(),
        is_legal_label: false,
        sheets: rooms.collect(),
    }
}
