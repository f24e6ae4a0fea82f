//! Labels in print: on sheets of labels, and as cards to cut out.

use super::words::{card_face, face};
use super::{CARD_MM, Placing, TooSmall, check_alike, room};
use crate::label::Label;
use crate::label::layout::{self, Dress, Face, LabelLine, Layout, PLAIN_PT, Telling, Until, lay_out};
use crate::label::sheets::{LabelSheet, LabelSheets};
use crate::lettering::Paper;
use crate::render::html::{escape, page_of};
use crate::render::pictogram::svg;

const STYLE: &str = include_str!("label.css");

/// The styles of a label; the lengths are those of [`layout`].
fn style() -> String {
    format!(
        "{STYLE}body {{ line-height: {}; }}\n\
         .label {{ padding: {}mm; }} .label p {{ padding-bottom: {paragraph}mm; }}\n\
         .top {{ gap: {gap}mm; padding-bottom: {paragraph}mm; }} .top b {{ line-height: {}; }}\n\
         .write {{ height: {}mm; }} .blank {{ width: {}mm; }} .tally i {{ width: {tally}mm; height: {:.1}mm; }}\n\
         .pictures {{ padding-right: {gap}mm; }} .foot {{ font-size: {}pt; }}\n",
        layout::SPACING,
        layout::BORDER_MM,
        layout::NAME_SPACING,
        layout::WRITE_IN_MM,
        layout::BLANK_MM,
        layout::TALLY_MM - 0.6,
        layout::SMALL_PT,
        paragraph = layout::PARAGRAPH_MM,
        gap = layout::GAP_MM,
        tally = layout::TALLY_MM,
    )
}

fn line(line: &LabelLine) -> String {
    match (line.lead.is_empty(), line.text.is_empty()) {
        (true, _) => escape(&line.text),
        (false, true) => format!("<b>{}</b>", escape(&line.lead)),
        (false, false) => format!("<b>{}</b> {}", escape(&line.lead), escape(&line.text)),
    }
}

fn paragraph(own: &[LabelLine]) -> String {
    let lines: Vec<String> = own.iter().map(line).collect();
    format!("<p>{}</p>", lines.join(" "))
}

fn inside(label: &Label, face: &Face, layout: &Layout) -> String {
    let told = face.tellings.get(layout.telling).cloned().unwrap_or_default();
    let Dress { name_pt, use_pt, ring_mm, ring_pt, .. } = layout.dress;
    let ring = face.ring.as_ref().map_or_else(String::new, |part| {
        format!(
            "<div class=\"ring\" style=\"width:{ring_mm}mm;height:{ring_mm}mm;font-size:{ring_pt}pt\">{}</div>",
            escape(part)
        )
    });
    let uses: String = told
        .uses
        .iter()
        .map(|listed_use| format!("<div style=\"font-size:{use_pt}pt\">{}</div>", line(listed_use)))
        .collect();
    let detail = if told.detail.is_empty() {
        String::new()
    } else {
        format!("<div style=\"font-size:{PLAIN_PT}pt\">{}</div>", escape(&told.detail))
    };
    let name = match layout.name_break {
        Some(letters) => {
            let (first, rest): (Vec<_>, Vec<_>) =
                face.title.chars().enumerate().partition(|(at, _)| *at < usize::from(letters));
            let joined = |own: Vec<(usize, char)>| own.into_iter().map(|own| own.1).collect::<String>();
            let (first, rest) = (joined(first), joined(rest));
            format!("{} <i style=\"font-size:{use_pt}pt\">{}</i>", escape(&first), escape(rest.trim()))
        }
        None => escape(&face.title),
    };
    let hazards: String = if told.is_run_together {
        paragraph(&told.hazards)
    } else {
        told.hazards.iter().map(|hazard| paragraph(std::slice::from_ref(hazard))).collect()
    };
    let foot = if told.foot.is_empty() {
        String::new()
    } else {
        format!(
            "<div class=\"foot\"><span>{}</span><span>{}</span></div>",
            escape(&face.foot),
            escape(told.foot)
        )
    };
    format!(
        "<div class=\"top\"><div><b style=\"font-size:{name_pt}pt\">{name}</b>{uses}{detail}</div>{ring}</div><div class=\"body\">{}{hazards}</div>{}{foot}",
        pictures_and_signal(label, face, layout, &told),
        date(face, layout, &told),
    )
}

/// What the hazards run around, and the signal word.
fn pictures_and_signal(label: &Label, face: &Face, layout: &Layout, told: &Telling) -> String {
    let signal = face.signal.map_or_else(String::new, |word| {
        let side = if told.is_short || layout.is_beside { " class=\"beside\"" } else { "" };
        format!(
            "<div{side}><span class=\"signal\" style=\"font-size:{}pt\">{}</span></div>",
            layout.dress.signal_pt,
            escape(&word.to_uppercase())
        )
    });
    if told.is_short || label.pictograms.is_empty() {
        return signal;
    }
    let pictures: String =
        label.pictograms.iter().map(|pictogram| svg(*pictogram, layout.across_mm)).collect();
    format!("<div class=\"pictures\" style=\"width:{:.2}mm\">{pictures}</div>{signal}", layout.pictures_mm)
}

/// Below the rule: the date, by what it is told, and what is written in.
fn date(face: &Face, layout: &Layout, told: &Telling) -> String {
    const BLANK: &str = "<i class=\"blank\"></i>";
    let words_pt = told.words_pt(layout.date_pt);
    let words = |own: &str| {
        if own.is_empty() || words_pt >= layout.date_pt {
            escape(own)
        } else {
            format!("<small style=\"font-size:{words_pt}pt\">{}</small>", escape(own))
        }
    };
    let one = |own: &Until| {
        let all = [words(own.before), escape(&own.day), words(own.after)];
        let all: Vec<String> = all.into_iter().filter(|own| !own.is_empty()).collect();
        format!("<div>{}</div>", all.join(" "))
    };
    let dates: String = told.good_to.iter().map(one).collect();
    let (beside, is_written) = &told.beside;
    let beside = if *is_written {
        format!("{} {BLANK}", escape(beside))
    } else {
        format!("<b>{}</b>", escape(beside))
    };
    let day = if face.mixed.text.is_empty() {
        BLANK.to_owned()
    } else {
        format!("<b>{}</b>", escape(&face.mixed.text))
    };
    let is_beside_dates = told.is_beside_dates();
    let below = if is_beside_dates { format!("<div class=\"under\">{beside}</div>") } else { String::new() };
    let mixed = if told.is_short {
        String::new()
    } else {
        format!(
            "<div class=\"mixed\" style=\"font-size:{}pt\">{} {day}{below}</div>",
            layout.dress.mixed_pt,
            escape(&face.mixed.lead)
        )
    };
    let by = if is_beside_dates { String::new() } else { format!("<span class=\"by\">{beside}</span>") };
    let write: String = told
        .write_in
        .iter()
        .map(|own| format!("<div class=\"write\"><span>{}</span><i></i></div>", escape(own)))
        .collect();
    let tally = if told.tally > 0 {
        format!("<div class=\"tally\">{}</div>", "<i></i>".repeat(told.tally))
    } else {
        String::new()
    };
    format!(
        "<div class=\"date\"><div class=\"days\"><b style=\"font-size:{}pt\">{dates}</b>{mixed}</div><div class=\"basis\">{by}{}</div>{write}{tally}</div>",
        layout.date_pt,
        escape(&told.basis)
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
    let layouts = check_alike(labels, sheet, sheets)?;
    for (index, (label, layout)) in (placing.first..).zip(labels.iter().zip(layouts)) {
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
            let face = if label.is_second { face(label) } else { card_face(label) };
            // A card grows with its text: it always has room.
            let (Ok(layout) | Err(layout)) = lay_out(&face, &room(sheets.smallest_for(label.volume)));
            let least_mm = if label.is_second { 0.0 } else { CARD_MM.1 };
            format!(
                "<div class=\"label card\" style=\"width:{}mm;min-height:{least_mm}mm;font-size:{}pt\">{}</div>\n",
                CARD_MM.0,
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
