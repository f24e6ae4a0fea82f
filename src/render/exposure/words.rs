//! The sums under the enlarger in words: the answer in the first line, then what it rests on.

use crate::exposure::{
    BURNS, Baths, Burn, Change, ChosenStrip, Clock, Contact, DODGES, Dodge, Failure, Filtered, Given,
    HardChange, Hold, LampEffect, LampLoss, Metered, MeteredShadow, PaperRange, Resized, Stops, StripMethod,
    TestStrip, TwoBaths, TwoFilters, WallTable, Washed,
};
use crate::quantity::rounding::{show_decimals, show_short, to_step};
use crate::render::{Column, Document};

/// Seconds with a tenth: what a timer takes.
fn s(seconds: f64) -> String {
    let decimals = if seconds.abs() < 1.0 { 2 } else { 1 };
    format!("{} s", show_short(seconds, decimals))
}

/// Seconds as counted, with what they are in minutes where that is longer than two.
fn long(seconds: f64) -> String {
    if seconds < 120.0 {
        return s(seconds);
    }
    format!("{} ({})", s(seconds), crate::quantity::Duration::from_s(seconds))
}

/// `1 stop`, `1/3 stop`, `2 stops`, without a sign.
fn of_stops(stops: Stops) -> String {
    let unit = if stops.size().get() > 1.0 + 1e-9 { "stops" } else { "stop" };
    format!("{} {unit}", stops.unsigned())
}

/// `1/3 stop more`, `1/4 stop less`, `no change`.
fn more_or_less(stops: Stops) -> String {
    match stops.unsigned().as_str() {
        "0" => "no change".to_owned(),
        _ if stops.get() > 0.0 => format!("{} more", of_stops(stops)),
        _ => format!("{} less", of_stops(stops)),
    }
}

fn figure(value: f64) -> String {
    show_short(value, 3)
}

fn fact(label: &str, value: impl Into<String>) -> (String, String) {
    (label.to_owned(), value.into())
}

fn answer(title: impl Into<String>, facts: Vec<(String, String)>, reason: &str) -> Document {
    let mut document = Document::new();
    document.title(title);
    document.facts(facts);
    document.paragraph(reason);
    document
}

pub(crate) fn change(change: &Change) -> Document {
    let title = match (change.from_s, change.seconds) {
        (Some(from), Some(to)) => format!("{} → {}: {}", s(from), long(to), more_or_less(change.stops)),
        _ => format!("{} stop: {}", change.stops, more_or_less(change.stops)),
    };
    let facts = vec![
        fact("factor", format!("× {}", figure(change.stops.factor()))),
        fact("stops", show_decimals(change.stops.get(), 3)),
        fact("log exposure", show_decimals(change.stops.log_exposure(), 3)),
    ];
    answer(
        title,
        facts,
        "Why: a stop doubles the exposure, t2 = t1 × 2^stops. Keep the stops, not the seconds: they survive a change of size.",
    )
}

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
pub(super) fn table_notes(wall_table: &WallTable) -> Vec<String> {
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

/// What the hand does at a setting.
fn hand(strip: &TestStrip, index: usize) -> String {
    let number = strip.strip_of(index) + 1;
    match (strip.request.method, index) {
        (StripMethod::Cover, 0) => "all open".to_owned(),
        (StripMethod::Cover, 1) => "cover 1".to_owned(),
        (StripMethod::Cover, _) => format!("cover 1 to {index}"),
        (StripMethod::Uncover, 0) | (StripMethod::Apart, _) => format!("only {number} open"),
        (StripMethod::Uncover, _) if number == 1 => "all open".to_owned(),
        (StripMethod::Uncover, _) => format!("open {number} to {}", strip.totals_s.len()),
    }
}

/// The line below the title of a strip.
pub(super) fn strip_line(strip: &TestStrip) -> String {
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
pub(super) fn strip_error(strip: &TestStrip) -> String {
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

/// `lamp`, measured.
pub(crate) fn lamp_loss(lamp: &LampLoss) -> Document {
    let cost = |seconds: f64| Stops::from_ratio((seconds - lamp.lost_s).max(1e-6) / seconds);
    let facts = [2.0, 5.0, 10.0, 20.0]
        .into_iter()
        .filter(|seconds| *seconds > lamp.lost_s)
        .map(|seconds| (format!("at {seconds} s"), format!("{} stop", show_decimals(cost(seconds).get(), 3))))
        .collect();
    answer(
        format!("Each switching loses {} s", show_short(lamp.lost_s, 3)),
        facts,
        "Why: (pulses × pulse - one exposure) / (pulses - 1). It holds intermittency as well. Discharge and fluorescent heads settle in minutes: leave them burning behind a shutter.",
    )
}

/// `lamp`, what a loss does.
pub(crate) fn lamp_effect(lamp_effect: &LampEffect) -> Document {
    answer(
        format!(
            "{} set gives {}: {} stop",
            s(lamp_effect.setting_s),
            s(lamp_effect.seconds),
            show_decimals(lamp_effect.stops.get(), 3)
        ),
        vec![fact("to get the whole time", format!("set {}", show_short(lamp_effect.set_s, 2) + " s"))],
        "Why: the paper gets the setting less what the lamp loses in coming on, log2((t - lost) / t).",
    )
}

pub(crate) fn size(resized: &Resized) -> Document {
    let is_question = resized.to_magnification.is_none() && resized.from_magnification.is_some();
    let title = match (resized.from_s, resized.seconds, resized.from_magnification) {
        (Some(from), Some(to), _) => format!("{} → {}: {}", s(from), long(to), more_or_less(resized.stops)),
        (_, _, Some(size)) if is_question => format!("Magnification {}", figure(size)),
        _ => format!("× {}: {}", figure(resized.factor), more_or_less(resized.stops)),
    };
    let mut facts = Vec::new();
    if let Some((from, to)) = resized.from_magnification.zip(resized.to_magnification) {
        facts.push(fact("magnification", format!("{} to {}", figure(from), figure(to))));
    }
    if let Some(zero) = resized.column_zero_mm {
        facts.push(fact("column's zero", format!("the scale reads {} mm too much", show_short(zero, 1))));
    }
    if !is_question {
        facts.push(fact("factor", format!("× {}", figure(resized.factor))));
        facts.push(fact(
            "time kept",
            match resized.stops.unsigned().as_str() {
                "0" => "nothing to change".to_owned(),
                _ if resized.stops.get() > 0.0 => format!("open by {}", of_stops(resized.stops)),
                _ => format!("close by {}", of_stops(resized.stops)),
            },
        ));
    }
    if let Some((exact, nominal)) = resized.aperture.zip(resized.nominal_aperture) {
        facts.push(fact(
            "diaphragm",
            format!("{exact} stops (the engraved figures would give {})", show_decimals(nominal.get(), 3)),
        ));
    }
    let err = |stops: Stops| {
        let by = show_decimals(stops.size().get(), 2);
        if stops.get() >= 0.0 { format!("{by} stop too much") } else { format!("{by} stop too little") }
    };
    if let Some(error) = resized.area_rule_error {
        facts.push(fact("the area rule would give", err(error)));
    }
    if let Some(error) = resized.height_squared_rule_error {
        facts.push(fact("the height squared would give", err(error)));
    }
    let reason = if is_question {
        "Why: negative to paper is f (1 + m)² / m; m is the larger root. Measure it once on a ruled scale in the carrier."
    } else {
        "Why: the light goes as the square of the distance from lens to paper, f (1 + m): ((1 + m2) / (1 + m1))², not as the area of the picture. Measure m on the same detail, never from paper sizes."
    };
    answer(title, facts, reason)
}

pub(crate) fn range(paper_range: &PaperRange, condenser_factor: f64) -> Document {
    let mut facts = vec![
        fact("density range", show_decimals(paper_range.density_range, 2)),
        fact("as the paper sees it", show_decimals(paper_range.effective_range, 3)),
    ];
    if condenser_factor > 1.0 {
        facts.push(fact("condenser factor", show_short(condenser_factor, 2)));
    }
    answer(
        format!("Paper range R {}", show_short(paper_range.iso_range, 0)),
        facts,
        "Why: highlights set the time, shadows the contrast; print well where the paper's log range is the negative's effective range. R is 100 times that, to the nearest ten.",
    )
}

/// `range`, the condenser factor.
pub(crate) fn condenser_factor(factor: f64) -> Document {
    answer(
        format!("Condenser factor {}", figure(factor)),
        Vec::new(),
        "Why: one negative that fits two papers, in the condenser and in diffuse light: the ratio of their log ranges.",
    )
}

pub(crate) fn two_filters(filters: &TwoFilters, range: Option<f64>) -> Document {
    let mut document = Document::new();
    let mut facts = Vec::new();
    match filters.exposures_s {
        Ok((soft, hard)) => {
            document.title(format!("Soft {}, hard {}, together {}", s(soft), s(hard), s(soft + hard)));
            if let Some(excess) =
                filters.highlight_excess.filter(|highlight_excess| highlight_excess.get() > 0.0)
            {
                facts.push(fact(
                    "keeping the soft time alone",
                    format!(
                        "would darken highlights by {} stop: hard light touches them too",
                        show_decimals(excess.get(), 2)
                    ),
                ));
            }
        }
        Err(failure) => failed(&mut document, failure),
    }
    if let Some(range) = range {
        let r = |lag: f64| format!("R {}", show_short(to_step(100.0 * (range + lag), 10.0), 0));
        facts.push(fact(
            "the filters on this paper",
            format!("soft {}, hard {}", r(filters.soft_lag), r(filters.hard_lag)),
        ));
    }
    document.facts(facts);
    document.paragraph("Why: soft/a + hard/b = 1 for the highlight and soft/c + hard/d = 1 for the shadow, where a, b, c, d are the times that each filter needs alone. Every later change (size, diaphragm, dry-down) multiplies both alike.");
    document
}

fn failed(document: &mut Document, failure: Failure) {
    document.title(crate::render::capital(failure.words()));
    document.paragraph(format!("No two exposures do it: {}. Do: {}.", failure.because(), failure.fix()));
}

/// `two-filter --try`.
pub(crate) fn given(soft_s: f64, hard_s: f64, times: &Given) -> Document {
    let told = |stops: Stops| {
        format!("{} stop{}", show_decimals(stops.get(), 2), if stops.get() > 0.0 { " too much" } else { "" })
    };
    let mut facts = vec![fact("highlight", told(times.highlight))];
    facts.extend(times.shadow.map(|shadow| fact("shadow", told(shadow))));
    answer(
        format!(
            "Soft {}, hard {}: highlight {} stop",
            s(soft_s),
            s(hard_s),
            show_decimals(times.highlight.get(), 2)
        ),
        facts,
        "Why: what each exposure is of the time that its filter needs alone, added: log2(soft/a + hard/b).",
    )
}

/// `two-filter --hard-change`.
pub(crate) fn hard_change(hard_change: &HardChange, hold: Hold) -> Document {
    let tone = match hold {
        Hold::Highlight => "highlights",
        Hold::Shadow => "shadows",
    };
    let signed =
        |seconds: f64| format!("{}{} s", if seconds > 0.0 { "+" } else { "" }, show_short(seconds, 2));
    answer(
        format!("Hard {}, soft {}: the {tone} stay", signed(hard_change.hard_s), signed(hard_change.soft_s)),
        vec![fact("together", signed(hard_change.total_s))],
        "Why: a second of hard light does to the tone what soft/hard seconds of soft light do, by the times that each needs alone.",
    )
}

pub(crate) fn burn(burn: &Burn) -> Document {
    let through = if (burn.extra_s - burn.extra_base_s).abs() > 1e-9 {
        vec![fact("through the base's filter", format!("{} s", show_decimals(burn.extra_base_s, 2)))]
    } else {
        Vec::new()
    };
    answer(
        format!("Burn {} s more: {} stop on {}", show_decimals(burn.extra_s, 1), burn.stops, s(burn.base_s)),
        through,
        "Why: extra = base × (2^stops - 1). Write down the place and the stops; keep the card moving.",
    )
}

pub(crate) fn dodge(dodge: &Dodge) -> Document {
    let told: Vec<String> = dodge.stops.iter().map(ToString::to_string).collect();
    let facts = if dodge.each_s.len() > 1 {
        let each = dodge.stops.iter().zip(&dodge.each_s);
        each.map(|(stops, seconds)| (format!("{stops} stop"), format!("{} s", show_decimals(*seconds, 1))))
            .collect()
    } else {
        Vec::new()
    };
    answer(
        format!(
            "Hold back {} s of {}: {} stop",
            show_decimals(dodge.held_back_s, 1),
            s(dodge.base_s),
            told.join(" and ")
        ),
        facts,
        "Why: held back = base × (1 - 2^-stops), within the base exposure. Keep the tool moving.",
    )
}

pub(crate) fn filter(filtered: &Filtered) -> Document {
    answer(
        format!("{} → {}: {}", s(filtered.from_s), long(filtered.seconds), more_or_less(filtered.stops)),
        vec![fact("factor", format!("× {}", figure(filtered.factor)))],
        "Why: the ratio of your own factors (or of the paper speeds). A factor holds for the tone, lamp and paper it was measured with.",
    )
}

pub(crate) fn contact(contact: &Contact) -> Document {
    answer(
        format!("{} → {}: {}", s(contact.from_s), long(contact.seconds), more_or_less(contact.stops)),
        vec![fact("factor", format!("× {}", figure(contact.factor)))],
        "Why: base and fog stand between the lamp and the black of the rebate: 10^(difference). The least exposure at which rebate and bare paper cannot be told apart; judge it dry.",
    )
}

pub(crate) fn metered(metered: &Metered, shadow: Option<&MeteredShadow>) -> Document {
    let mut facts = Vec::new();
    if let Some(shadow) = shadow {
        facts.push(fact("log exposure of the shadow", show_decimals(shadow.log_exposure, 3)));
        if let Some(short) = shadow.short_of_black {
            let side = if short > 0.0 { "short of black" } else { "beyond black" };
            facts.push(fact("that is", format!("{} {side}", show_decimals(short.abs(), 3))));
        }
    }
    answer(
        format!("Expose {}", long(metered.seconds)),
        facts,
        "Why: time = 1000 × 10^density / (paper speed × lux), which prints that density at 0.60 above base; with the paper's own log exposure, 10^(log H + density) / lux. Lux at the easel without a negative.",
    )
}

pub(crate) fn silver(
    milligrams: f64,
    limit: f64,
    sheets_per_litre: Option<f64>,
    baths: Option<(&Baths, &TwoBaths)>,
) -> Document {
    let until = match sheets_per_litre {
        Some(sheets) => {
            format!("{} sheets a litre to {} g/L of silver", show_short(sheets, 1), show_short(limit, 2))
        }
        None => format!(
            "{} g/L of silver is never reached: what is carried out keeps it below",
            show_short(limit, 2)
        ),
    };
    let mut facts = vec![fact("silver a sheet", format!("{} mg", show_short(milligrams, 2)))];
    let mut title = crate::render::capital(&until);
    if let Some((given, own)) = baths {
        title = format!(
            "After {} sheets: {} g/L in the first bath, {} in the second",
            show_short(given.sheets, 0),
            show_decimals(own.first_g_per_l, 2),
            show_decimals(own.second_g_per_l, 2)
        );
        facts.push(fact(
            "strength left in the first",
            format!("{} %", show_short(own.strength_left * 100.0, 0)),
        ));
        facts.push(fact("limit", until));
    }
    answer(
        title,
        facts,
        "Why: silver of the sheets less what they carry on. Customary limits: 0.5 g/L in a single bath for lasting prints, 2 g/L in the first of two. A silver test of the bath goes before any count.",
    )
}

pub(crate) fn capacity(units: Option<f64>, units_left: Option<f64>) -> Document {
    let title = match (units, units_left) {
        (_, Some(left)) if left >= 0.0 => format!("{} sheets of 8 × 10 in are left", show_short(left, 1)),
        (_, Some(left)) => format!("Spent: {} sheets of 8 × 10 in too many", show_short(-left, 1)),
        (Some(units), None) => format!("One sheet counts as {} of 8 × 10 in", show_short(units, 2)),
        (None, None) => "Nothing was asked".to_owned(),
    };
    answer(title, Vec::new(), "Why: a bath is used by area; 8 × 10 in, 516 cm², counts as one.")
}

pub(crate) fn wash(washed: Option<(f64, &Washed)>, residue: Option<(f64, f64)>) -> Document {
    let mut document = Document::new();
    if let Some((from_s, own)) = washed {
        let time = |seconds: f64| crate::quantity::Duration::from_s(seconds).to_string();
        document.title(format!("Wash {} in place of {}", time(own.seconds), time(from_s)));
        document.facts(vec![
            fact("factor", format!("× {}", figure(own.factor))),
            fact("diffusion alone", format!("× {}", figure(own.diffusion_ratio))),
        ]);
        document.paragraph("Why: twice the time for each 10 °C colder, a safe rule and not physics: salts leave the paper's fibres more slowly than they diffuse.");
    }
    if let Some((grams, milligrams)) = residue {
        document.title(format!(
            "{} g/m² is {} mg per square inch",
            show_short(grams, 4),
            show_short(milligrams, 5)
        ));
        document.paragraph("A drop test cannot read such figures: never take a number from it.");
    }
    document
}
