//! The wall table and the strip card as one page each: black on white, large enough for red light and distance.
//!
//! Margins, head and foot are those of every paper (`render::html::grid`).

use super::words::{strip_error, strip_line, table_notes};
use crate::exposure::{BURNS, ChosenStrip, DODGES, Stops, StripMethod, StripStart, TestStrip, WallTable};
use crate::lettering::Paper;
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::html::grid::{self, foot, head, room_mm};
use crate::render::html::{escape, page_of};

const STYLE: &str = include_str!("paper.css");

fn page(paper: Paper, title: &str, own_style: &str, body: &str) -> String {
    let (width, height) = room_mm(paper);
    let style = format!(
        "{}.page {{ width: {width:.1}mm; height: {height:.1}mm; }}\n{STYLE}{own_style}",
        grid::style(paper)
    );
    page_of(&escape(title), &style, &format!("<section class=\"page\">\n{body}</section>\n"))
}

/// Stops with a true minus, as on paper.
fn stops(stops: Stops) -> String {
    stops.to_string().replace('-', "−")
}

pub(crate) fn wall_table(wall: &WallTable, command: &str, paper: Paper) -> String {
    let (_, height) = room_mm(paper);
    let count = f64::from(u32::try_from(wall.rows.len()).unwrap_or(1));
    // Head, column heads, notes and foot.
    let row_mm = (height - 60.0) / count;
    let style = format!(".wall tbody td {{ height: {row_mm:.2}mm; }}\n");
    let column = |sixths: &f64| format!("<th>{}</th>", Stops::new(sixths / 6.0).unsigned());
    let (held, added): (String, String) =
        (DODGES.iter().map(column).collect(), BURNS.iter().map(column).collect());
    let rows: String = wall
        .rows
        .iter()
        .enumerate()
        .map(|(index, row)| {
            let cell = |class: &str, seconds: f64| format!("<td{class}>{}</td>", wall.clock.show(seconds));
            let held: String = row.held_back_s.iter().map(|own| cell("", *own)).collect();
            let added: String = row.extra_s.iter().map(|own| cell("", *own)).collect();
            let class = if index % 2 == 0 { " class=\"third\"" } else { "" };
            format!("<tr{class}>{}{held}{added}</tr>\n", cell(" class=\"base\"", row.set_s))
        })
        .collect();
    let notes: String =
        table_notes(wall).iter().map(|table_note| format!("<p>{}</p>", escape(table_note))).collect();
    let body = format!(
        "{}<table class=\"wall\"><thead><tr><th></th><th colspan=\"{}\">hold back</th><th colspan=\"{}\">burn: add</th></tr><tr><th>base</th>{held}{added}</tr></thead>\n<tbody>{rows}</tbody></table>\n<div class=\"notes\">{notes}</div>{}",
        head(
            "Stops in seconds",
            "every row a sixth of a stop; bold rules: thirds",
            &format!("{}", wall.clock)
        ),
        DODGES.len(),
        BURNS.len(),
        foot(command, "seconds")
    );
    page(paper, "Stops in seconds", &style, &body)
}

/// The card of a test strip.
pub(crate) fn strip_card(
    own: &TestStrip,
    chosen: Option<&ChosenStrip>,
    lost_s: Option<f64>,
    command: &str,
    paper: Paper,
) -> String {
    let clock = own.request.clock;
    let (width, height) = room_mm(paper);
    let strips = own.totals_s.len();
    let count = f64::from(u32::try_from(strips).unwrap_or(1));
    // Head, line to fill in, column heads above; boxes, sum and foot below.
    let row_mm = ((height - 106.0) / count).min(24.4);
    // A figure takes 0.7 of its size in height, a row at least a quarter more.
    let set_pt = (row_mm / 24.4 * 48.0 * 1.12).min(48.0);
    let had_pt = set_pt.min(22.0);
    let box_mm = ((82.0 - 0.5 * (count - 1.0)) / count).min(12.0);
    let total_pt = (width / count / 25.9 * 24.0).min(23.0);
    let tick_mm = (row_mm * 0.62).min(8.5);
    let style = format!(
        ".row {{ height: {row_mm:.2}mm; }}\n.row .set {{ font-size: {set_pt:.1}pt; }}\n.row .had {{ font-size: {had_pt:.1}pt; }}\n.row .no {{ font-size: {:.1}pt; }}\n.lay i {{ width: {box_mm:.2}mm; height: {:.2}mm; font-size: {:.1}pt; }}\n.tick {{ width: {tick_mm:.1}mm; height: {tick_mm:.1}mm; }}\n.best div b {{ font-size: {total_pt:.1}pt; }}\n",
        set_pt.min(20.0),
        (row_mm * 0.53).min(12.7),
        (box_mm * 1.45).min(15.0),
    );
    let figure = match own.request.start {
        StripStart::First(first) => show_short(first.as_s(), 1),
        StripStart::Centre(centre) => show_short(centre.as_s(), 1),
    };
    let rows: String = own
        .settings_s
        .iter()
        .enumerate()
        .map(|(index, setting)| {
            let number = own.strip_of(index);
            let lay: String = own
                .covered(index)
                .iter()
                .enumerate()
                .map(|(strip, covered)| {
                    let class = if *covered { " class=\"under\"" } else { "" };
                    format!("<i{class}>{}</i>", strip + 1)
                })
                .collect();
            let total = own.clocked_s.get(number).copied().unwrap_or_default();
            format!(
                "<div class=\"row\"><span class=\"tick\"></span><b class=\"no\">{}</b><b class=\"set\">{}</b><span class=\"lay\">{lay}</span><span class=\"had\">{}</span></div>\n",
                number + 1,
                clock.show(*setting),
                clock.show(total)
            )
        })
        .collect();
    let boxes = best(own);
    let (had, next) = match own.request.method {
        StripMethod::Uncover => ("in the end", ""),
        StripMethod::Cover => ("it has had", ""),
        StripMethod::Apart => {
            ("it has had", "Each strip had one pulse, as the print will have: its total is the base. ")
        }
    };
    let sum = sum(own, chosen, lost_s);
    let known = if own.request.method == StripMethod::Apart {
        String::new()
    } else {
        let state = if lost_s.is_some() { "" } else { "; not measured on this lamp" };
        format!("Lamp loss: what each switching costs{state}. ")
    };
    let finer = if own.request.step.get() > 1.0 / 6.0 + 1e-9 {
        "sixths, the best in the middle"
    } else {
        "none needed; make the print"
    };
    let body = format!(
        "{}<div class=\"fill\"><span>negative {}</span><span>paper {}</span><span>grade, filter {}</span><span>f/ {}</span><span>height {}</span></div>\n<div class=\"row heads\"><b>done</b><b>strip</b><b class=\"set\">set, seconds</b><b class=\"lay\">black: under the card</b><b class=\"had\">{had}</b></div>\n{rows}<h2>Best, dry, in the highlights: strike it through</h2>\n<div class=\"best\">{boxes}</div>\n<p class=\"sum\">{sum}</p>\n<p>{}</p>\n{}",
        head("Test strip", &strip_line(own), &format!("{figure} s")),
        blank(20),
        blank(26),
        blank(14),
        blank(9),
        blank(14),
        escape(&format!("{next}{known}Next strip: {finer}.")),
        foot(&format!("{command} · stops from strip {}", own.middle() + 1), &strip_error(own))
    );
    page(paper, "Test strip", &style, &body)
}

/// The strips as they lie on the paper, with their totals, to strike the best through.
fn best(strip: &TestStrip) -> String {
    let clock = strip.request.clock;
    let strips = strip.totals_s.len();
    let middle = strip.middle();
    let from_middle = |index: usize| {
        let steps = f64::from(i32::try_from(index).unwrap_or(0) - i32::try_from(middle).unwrap_or(0));
        let told = stops(Stops::new(strip.request.step.get() * steps));
        let is_end = index == 0 || index + 1 == strips;
        if is_end && told != "0" {
            format!(
                "{told} {}",
                if steps.abs() * strip.request.step.get() > 1.0 + 1e-9 { "stops" } else { "stop" }
            )
        } else {
            told
        }
    };
    strip
        .clocked_s
        .iter()
        .enumerate()
        .map(|(index, total)| {
            format!(
                "<div><span><em>{}</em><b>{}</b></span><small>{}</small></div>",
                index + 1,
                clock.show(*total),
                escape(&from_middle(index))
            )
        })
        .collect()
}

/// A line to write on.
fn blank(width_mm: u32) -> String {
    format!("<u style=\"width:{width_mm}mm\"></u>")
}

/// From the strip to the base exposure.
fn sum(strip: &TestStrip, chosen: Option<&ChosenStrip>, lost_s: Option<f64>) -> String {
    let clock = strip.request.clock;
    match (strip.request.method, chosen) {
        (StripMethod::Apart, _) => format!("total = <b>base</b> {} s", blank(22)),
        (_, Some(chosen)) => format!(
            "strip {}: {} less {} × {} lamp loss = <b>base {}</b> s",
            chosen.number,
            show_decimals(chosen.total_s, 1),
            chosen.pulses.saturating_sub(1),
            show_short(lost_s.unwrap_or(0.0), 3),
            clock.show(chosen.seconds)
        ),
        (_, None) => format!(
            "total {} less (strip − 1) × {} lamp loss = <b>base</b> {} s",
            blank(18),
            lost_s.map_or_else(|| blank(14), |lost| show_short(lost, 3)),
            blank(20)
        ),
    }
}
