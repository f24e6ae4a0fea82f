//! Test strips, contact sheets and the table on the wall.

use super::answer::{answer, fact, figure, long, more_or_less, s};
use super::light::hand;
use crate::exposure::{BURNS, ChosenStrip, Clock, Contact, DODGES, Stops, StripMethod, TestStrip, WallTable};
use crate::quantity::rounding::{show_decimals, show_short};
use crate::render::{Column, Document};

pub(crate) fn table(wall: &WallTable) -> Document {
    let mut document = Document::new();
    document.title(format!("Wall table, clock {}", wall.clock));
    let mut columns = vec![Column::right("base")];
    let title = |sign: &str, sixths: f64| format!("{sign}{}", Stops::new(sixths / 6.0).unsigned());
    columns.extend(DODGES.iter().map(|own| Column::right(&title("hold ", *own))));
    columns.extend(BURNS.iter().map(|own| Column::right(&title("add ", *own))));
    let rows = wall.rows.iter().map(|row| {
        let cells = std::iter::once(row.set_s)
            .chain(row.held_back_s.iter().copied())
            .chain(row.extra_s.iter().copied());
        cells.map(|seconds| wall.clock.show(seconds)).collect()
    });
    document.table(columns, rows.collect());
    document.list(table_notes(wall));
    document
}

/// What stands below the wall table.
pub(in crate::render::exposure) fn table_notes(wall_table: &WallTable) -> Vec<String> {
    vec![
        "Change: one row down is 1/6 stop more, two rows 1/3, six rows a whole stop.".to_owned(),
        "Hold back within the base exposure; add after it. Stops survive a change of size, seconds do not."
            .to_owned(),
        format!(
            "Rounded once, to {}: within {} stop from {} s on.",
            wall_table.clock,
            wall_table.within.unsigned(),
            show_decimals(wall_table.shortest_s, 1)
        ),
    ]
}

/// The line below the title of a strip.
pub(in crate::render::exposure) fn strip_line(strip: &TestStrip) -> String {
    let clock = strip.request.clock;
    let ends = strip.clocked_s.first().zip(strip.clocked_s.last());
    let (first, last) = ends.map_or((String::new(), String::new()), |(first, last)| {
        (show_short(*first, 1), show_short(*last, 1))
    });
    let method = match strip.request.method {
        StripMethod::Cover => "cover as you go",
        StripMethod::Uncover => "uncover as you go",
        StripMethod::Apart => "each strip apart",
    };
    format!(
        "{} strips, {}, {first} s to {last} s · clock {clock} · {method}",
        strip.totals_s.len(),
        strip.request.step.as_steps()
    )
}

/// How exact a strip is.
pub(in crate::render::exposure) fn strip_error(strip: &TestStrip) -> String {
    format!("totals rounded, never a setting: within {} stop", show_decimals(strip.largest_error.get(), 3))
}

pub(crate) fn strip(strip: &TestStrip, chosen: Option<&ChosenStrip>, lost_s: Option<f64>) -> Document {
    let clock: Clock = strip.request.clock;
    let mut document = Document::new();
    match chosen {
        Some(chosen) => {
            let set = clock.show(chosen.seconds);
            document.title(format!("Strip {} as one exposure: {set} s", chosen.number));
        }
        None => document.title("Test strip".to_owned()),
    }
    document.paragraph(strip_line(strip));
    let rows = strip.settings_s.iter().enumerate().map(|(index, setting)| {
        let number = strip.strip_of(index);
        let total = strip.clocked_s.get(number).copied().unwrap_or_default();
        let exact = strip.totals_s.get(number).copied().unwrap_or_default();
        vec![
            (index + 1).to_string(),
            clock.show(*setting),
            hand(strip, index),
            (number + 1).to_string(),
            clock.show(total),
            show_decimals(exact, 2),
        ]
    });
    let columns = vec![
        Column::right("pulse"),
        Column::right("set, s"),
        Column::left("paper"),
        Column::right("strip"),
        Column::right("total, s"),
        Column::right("exact"),
    ];
    document.table(columns, rows.collect());
    let mut reason = format!(
        "Why: each total is {} times the one before; {}.",
        show_short(strip.request.step.factor(), 4),
        strip_error(strip)
    );
    if strip.largest_error_each.get() > strip.largest_error.get() + 0.0005 {
        let each = show_decimals(strip.largest_error_each.get(), 3);
        reason.push_str(&format!(" Each setting rounded by itself would be off by up to {each}."));
    }
    document.paragraph(reason);
    if let Some(chosen) = chosen {
        let lost = lost_s.unwrap_or(0.0);
        document.paragraph(format!(
            "Strip {} has had {} pulse{}, the print has one: {} s less {} × {} s is {} s ({} stop). From the total that the clock gave: {} s.",
            chosen.number,
            chosen.pulses,
            if chosen.pulses == 1 { "" } else { "s" },
            show_decimals(chosen.total_s, 2),
            chosen.pulses.saturating_sub(1),
            show_short(lost, 3),
            show_decimals(chosen.seconds, 2),
            show_decimals(chosen.stops.get(), 2),
            show_decimals(chosen.from_clock_s, 2),
        ));
    } else if strip.request.method != StripMethod::Apart {
        document.paragraph(
            "The strip chosen has had as many pulses as its number, the print has one: base = total - (strip - 1) × what the lamp loses (`--lost 0.15s --chosen 6`; `exposure lamp` measures it).",
        );
    }
    document
}

/// `strip --totals`.
pub(crate) fn steps(totals_s: &[f64], steps: &[Stops]) -> Document {
    let told: Vec<String> = steps.iter().map(|step| show_decimals(step.get(), 3)).collect();
    let totals: Vec<String> = totals_s.iter().map(|own| show_short(*own, 2)).collect();
    let title = format!("{} s: steps of {} stop", totals.join(", "), told.join(", "));
    answer(
        title,
        Vec::new(),
        "Why: even seconds are uneven stops, log2 of each total over the one before. `--step 1/3` makes them even.",
    )
}

pub(crate) fn contact(contact: &Contact) -> Document {
    answer(
        format!("{} → {}: {}", s(contact.from_s), long(contact.seconds), more_or_less(contact.stops)),
        vec![fact("factor", format!("× {}", figure(contact.factor)))],
        "Why: base and fog stand between the lamp and the black of the rebate: 10^(difference). The least exposure at which rebate and bare paper cannot be told apart; judge it dry.",
    )
}
