//! What a curve says, in words and as a picture of characters.

use super::characters::{Line, Marked, plot, signed};
use super::{JudgedStrips, SeriesView, StripJudgement, letter};
use crate::curve::comparison::{CurveComparison, Toe};
use crate::curve::figures::{CurveFigure, FilmFigures, Speed};
use crate::curve::paper::PaperFigures;
use crate::curve::series::{ContrastWish, SeriesAnswer, Target, TargetOutcome};
use crate::curve::{Errors, NineInTen, STOP};
use crate::quantity::Duration;
use crate::quantity::rounding::{show_decimals, show_short, to_step};
use crate::render::{Block, Column, Document, harmless};

/// The file's own name, without its folders.
pub(super) fn short(name: &str) -> &str {
    name.rsplit(['/', '\\']).next().unwrap_or(name)
}

/// Differences below this many stops are none, and so on.
const LEAST_STOPS: f64 = 0.1;

/// A word as a shell takes it.
fn quoted(word: &str) -> String {
    let is_plain =
        !word.is_empty() && word.chars().all(|own| own.is_ascii_alphanumeric() || "-_.".contains(own));
    if is_plain { word.to_owned() } else { format!("'{}'", harmless(word).replace('\'', "'\\''")) }
}

/// The commands that put strips of a known time into the journal, each in two pieces.
pub(super) fn journal_lines(judged: &JudgedStrips) -> Vec<(String, String)> {
    let films: Vec<&FilmFigures> = match &judged.subject {
        StripJudgement::Films(films, _) => films.iter().collect(),
        StripJudgement::Series(view) => view.series.strips.iter().map(|strip| &strip.1).collect(),
        StripJudgement::Papers(_) => Vec::new(),
    };
    let film = judged.film.as_deref().map_or_else(|| "FILM".to_owned(), quoted);
    let formula = judged.formula.as_deref().map_or_else(|| "FORMULA".to_owned(), quoted);
    films
        .iter()
        .filter_map(|strip| {
            let (minutes, gradient) = (strip.strip.minutes?, strip.average_gradient?.value);
            let speed = if strip.strip.is_relative {
                String::new()
            } else {
                format!(" --speed {}", speed_figure(strip.speed.value))
            };
            let seconds = to_step(minutes * 60.0, 1.0);
            let time = if seconds % 60.0 == 0.0 {
                format!("{}min", show_decimals(seconds / 60.0, 0))
            } else {
                format!("{}s", show_decimals(seconds, 0))
            };
            Some((
                format!("soupcon record add measured --gradient {}{speed}", show_decimals(gradient, 2)),
                format!("--time {time} --film {film} --formula {formula}"),
            ))
        })
        .collect()
}

/// The same at the end of the answer.
fn journal(document: &mut Document, judged: &JudgedStrips) {
    let lines = journal_lines(judged);
    if lines.is_empty() {
        return;
    }
    let names = match (&judged.film, &judged.formula) {
        (Some(_), Some(_)) => "",
        _ => " (--film and --formula fill in the names)",
    };
    document.paragraph(format!("For the journal, so that times go by it{names}:"));
    let pieces = lines.into_iter().flat_map(|(first, second)| [format!("{first} \\"), format!("  {second}")]);
    document.blocks.push(Block::Plot(pieces.collect()));
}

/// The answer as a document.
pub(crate) fn curve_document(judged: &JudgedStrips) -> Document {
    let mut document = Document::new();
    match &judged.subject {
        StripJudgement::Films(films, comparisons) => match films.as_slice() {
            [only] => one(&mut document, only, judged),
            _ => several(&mut document, films, comparisons, judged),
        },
        StripJudgement::Series(view) => series(&mut document, view, judged),
        StripJudgement::Papers(papers) => papers.iter().for_each(|own| paper(&mut document, own, judged)),
    }
    journal(&mut document, judged);
    document
}

/// `93 to 112`.
pub(super) fn limits(limits: NineInTen, decimals: usize) -> String {
    format!("{} to {}", signed(limits.low, decimals), signed(limits.high, decimals))
}

/// Limits of a speed, to three figures at most.
pub(super) fn speed_limits(limits: NineInTen) -> String {
    format!("{} to {}", speed_figure(limits.low), speed_figure(limits.high))
}

/// A speed as it reads.
pub(super) fn speed_figure(value: f64) -> String {
    if value >= 1000.0 {
        show_decimals(to_step(value, 10.0), 0)
    } else if value >= 20.0 {
        show_decimals(value, 0)
    } else {
        show_short(value, 1)
    }
}

/// `0.81 (0.78 to 0.84)`.
fn with_limits(figure: CurveFigure, decimals: usize) -> String {
    format!("{} ({})", signed(figure.value, decimals), limits(figure.limits, decimals))
}

/// `100/21°`; degrees alone beyond the series.
pub(super) fn label(speed: &Speed) -> String {
    match speed.named {
        Some(named) => match named.label {
            Some(label) => format!("{}/{}°", show_short(label, 1), named.degrees),
            None => format!("{}°", named.degrees),
        },
        None => crate::doubt::NOT_KNOWN.to_owned(),
    }
}

/// The headline: `ISO 100/21°`, `exposure index 40`, `relative speed`.
pub(super) fn headline(film: &FilmFigures) -> String {
    if film.strip.is_relative {
        "relative speed".to_owned()
    } else if film.is_iso {
        format!("ISO {}", label(&film.speed))
    } else {
        let number = film.speed.named.and_then(|named| named.label).unwrap_or(film.speed.value);
        format!("exposure index {}", show_short(number, 1))
    }
}

/// What the limits hold.
pub(super) fn errors_words(errors: Errors) -> String {
    let light = if errors.light_stops > 0.0 {
        format!("the light known to {} stop", stops_figure(errors.light_stops))
    } else {
        "the light taken as exact".to_owned()
    };
    format!("nine in ten: densities read to {} (standard deviation), {light}", show_short(errors.density, 3))
}

/// `1/3`, `0.5`.
fn stops_figure(stops: f64) -> String {
    if (stops - 1.0 / 3.0).abs() < 1e-9 { "1/3".to_owned() } else { show_short(stops, 2) }
}

/// Whether the standard's contrast is met, and what that makes of the speed.
pub(super) fn criterion(strip_figures: &FilmFigures, judged: &JudgedStrips) -> String {
    let film = &judged.table.film;
    let asked = format!("{} ± {}", show_decimals(film.difference, 2), show_decimals(film.tolerance, 2));
    let span = show_decimals(film.span, 2);
    match strip_figures.density_difference {
        None => format!(
            "The strip ends before {span} from m: whether the contrast is that of the standard is not known."
        ),
        Some(difference) => {
            let reads = show_decimals(difference.value, 2);
            if strip_figures.is_iso {
                format!("Contrast as the standard asks: {reads} over {span} ({asked}).")
            } else if (difference.value - film.difference).abs() <= film.tolerance {
                format!(
                    "Contrast as the standard asks: {reads} over {span} ({asked}); the light is not known, so no speed is given."
                )
            } else {
                let which = if difference.value > film.difference { "More" } else { "Less" };
                format!(
                    "Not an ISO speed. {which} contrast than the standard asks: {reads} over {span} ({asked})."
                )
            }
        }
    }
}

fn line_of(film: &FilmFigures, mark: char) -> Line<'_> {
    Line {
        curve: &film.curve,
        readings: film.strip.points.iter().map(|point| (point.log_h, point.density)).collect(),
        mark,
    }
}

/// m and n.
pub(super) fn points(own: &FilmFigures, span: f64) -> ((f64, f64), Option<(f64, f64)>) {
    let m = own.log_h_m.value;
    let at = |log_h: f64| own.curve.at(log_h).map(|density| (log_h, density));
    (at(m).unwrap_or((m, 0.0)), at(m + span))
}

fn one(document: &mut Document, film: &FilmFigures, judged: &JudgedStrips) {
    let errors = errors_words(judged.errors);
    if film.strip.is_relative {
        document.paragraph(format!(
            "Relative speed: {} for an exposure of 1 ({errors}). It compares strips exposed alike; --lux and --seconds make it a speed.",
            speed_figure(film.speed.value)
        ));
    } else {
        document.paragraph(format!("{}   {} ({errors})", headline(film), speed_limits(film.speed.limits)));
    }
    document.paragraph(criterion(film, judged));
    let (m, n) = points(film, judged.table.film.span);
    let mut letters = vec![('m', m.0, m.1)];
    letters.extend(n.map(|n| ('n', n.0, n.1)));
    let marked = Marked {
        stops_from: Some(m.0),
        triangle: n.map(|n| (m, n)),
        base: Some(film.strip.base_fog),
        letters,
    };
    document.blocks.push(Block::Plot(plot(&[line_of(film, '●')], &marked)));
    document.list(figures(film, judged));
    notes(document, std::slice::from_ref(film));
}

/// The figures, a line a subject.
fn figures(film: &FilmFigures, judged: &JudgedStrips) -> Vec<String> {
    let span = show_decimals(judged.table.film.average_span, 2);
    let missing = || "not available (off the strip)".to_owned();
    let speed = if film.strip.is_relative {
        String::new()
    } else {
        format!(" · 0.8/Hm {}", speed_figure(film.speed.value))
    };
    let mut lines = vec![
        format!(
            "base + fog {} · log Hm {}{speed}",
            show_decimals(film.strip.base_fog, 2),
            with_limits(film.log_h_m, 2)
        ),
        format!(
            "gradient, m to n {} · average, {span} from m {}",
            film.gradient_iso.map_or_else(missing, |own| with_limits(own, 2)),
            film.average_gradient.map_or_else(missing, |own| with_limits(own, 2))
        ),
    ];
    let gamma = film.gamma.map_or_else(
        || "gamma not available".to_owned(),
        |gamma| {
            format!(
                "gamma {} ({}) from {} to {}, residual {}",
                show_decimals(gamma.value, 2),
                limits(gamma.limits, 2),
                signed(gamma.from, 2),
                signed(gamma.to, 2),
                show_decimals(gamma.residual, 3)
            )
        },
    );
    lines.push(format!(
        "two-arc index {} · {gamma}",
        film.contrast_index.map_or_else(missing, |own| with_limits(own, 2))
    ));
    if let (Some(speed), false) = (&film.delta_x_speed, film.strip.is_relative) {
        lines.push(format!(
            "delta-X speed {} ({}); its coefficients are from memory",
            speed_figure(speed.value),
            speed_limits(speed.limits)
        ));
    }
    lines.push(useful(film));
    lines
}

fn useful(film: &FilmFigures) -> String {
    let range = film.useful_range;
    let stops = show_decimals(range.stops(), 1);
    if range.is_open {
        format!("useful range from m at least {stops} stops: no shoulder on the strip")
    } else {
        format!(
            "useful range from m {stops} stops, to log H {} (gradient below 4/5 of gamma)",
            signed(range.to, 2)
        )
    }
}

/// What was levelled or assumed.
fn notes(document: &mut Document, films: &[FilmFigures]) {
    let notes = films
        .iter()
        .flat_map(|film| film.strip.notes.iter().map(|note| format!("{}: {note}", short(&film.strip.name))));
    document.list(notes.collect());
}

/// A difference in stops, in words.
fn stops_words(stops: f64) -> String {
    let figure = show_decimals(stops.abs(), 1);
    let noun = if figure == "1.0" || stops.abs() < 1.0 { "stop" } else { "stops" };
    format!("{figure} {noun}")
}

/// `30 %`.
fn percent(ratio: f64) -> String {
    format!("{} %", show_decimals((ratio - 1.0).abs() * 100.0, 0))
}

/// What the other strip is against the first: contrast first where it is not equal.
pub(super) fn verdict(
    first: &FilmFigures,
    other: &FilmFigures,
    own: &CurveComparison,
    names: (&str, &str),
) -> Vec<String> {
    let (a, b) = names;
    let mut sentences = Vec::new();
    let speed = if own.stops.abs() < LEAST_STOPS {
        format!("the speed of {a}")
    } else {
        format!("{} {} speed", stops_words(own.stops), if own.stops > 0.0 { "more" } else { "less" })
    };
    match (own.contrast, own.is_equal_contrast()) {
        (Some(ratio), Some(false)) => {
            let gradient = |own: &FilmFigures| {
                own.gradient_iso.map_or_else(String::new, |own| show_decimals(own.value, 2))
            };
            sentences.push(format!(
                "Not at equal contrast: {b} has {} {} ({} against {}).",
                percent(ratio),
                if ratio > 1.0 { "more" } else { "less" },
                gradient(other),
                gradient(first)
            ));
            sentences.push(format!("As developed, {b} gives {speed}."));
        }
        (Some(_), _) => sentences.push(format!("At equal contrast {b} gives {speed}.")),
        (None, _) => {
            sentences.push("A strip ends before n: whether the contrast is equal is not known.".to_owned());
            sentences.push(format!("{b} gives {speed}."));
        }
    }
    sentences.extend(own.highlights.map(|ratio| {
        if (ratio - 1.0).abs() > 0.05 {
            let way = if ratio > 1.0 { "more" } else { "less" };
            format!("{b} has {} {way} contrast in the highlights.", percent(ratio))
        } else {
            "The contrast in the highlights is the same.".to_owned()
        }
    }));
    sentences.extend(own.toe.map(|toe| match toe {
        Toe::Same => "The toe is the same.".to_owned(),
        Toe::Longer => format!("The toe of {b} is longer."),
        Toe::Shorter => format!("The toe of {b} is shorter."),
    }));
    match (first.useful_range.is_open, other.useful_range.is_open) {
        (true, false) => sentences.push(shoulder(other, b, a)),
        (false, true) => sentences.push(shoulder(first, a, b)),
        _ => {}
    }
    if own.base_fog.abs() >= 0.02 - 1e-9 {
        let way = if own.base_fog > 0.0 { "denser" } else { "clearer" };
        sentences.push(format!("Clear film of {b} is {} {way}.", show_decimals(own.base_fog.abs(), 2)));
    }
    sentences
}

fn shoulder(film: &FilmFigures, bends: &str, straight: &str) -> String {
    let stops = show_short(to_step(film.useful_range.stops(), 0.5), 1);
    format!(
        "The highlights of {bends} round off about {stops} stops above its m; {straight} runs straight to the end of its strip."
    )
}

fn several(
    document: &mut Document,
    films: &[FilmFigures],
    comparisons: &[CurveComparison],
    judged: &JudgedStrips,
) {
    let Some(first) = films.first() else { return };
    for (index, (other, own)) in films.iter().skip(1).zip(comparisons).enumerate() {
        document.paragraph(verdict(first, other, own, ("A", &letter(index + 1))).join(" "));
    }
    let mut columns = vec![Column::left("")];
    columns.extend(films.iter().enumerate().map(|(index, _)| Column::right(&letter(index))));
    document.table(columns, comparison_rows(films));
    if let [own] = comparisons {
        document.paragraph(format!(
            "B against A: {} stops ({}), contrast {}",
            signed_plus(own.stops, 1),
            limits(own.stops_limits, 1),
            own.contrast.zip(own.contrast_limits).map_or_else(
                || crate::doubt::NOT_KNOWN.to_owned(),
                |(ratio, comparison)| format!(
                    "{} % ({} to {})",
                    signed_plus((ratio - 1.0) * 100.0, 0),
                    signed_plus((comparison.low - 1.0) * 100.0, 0),
                    signed_plus((comparison.high - 1.0) * 100.0, 0)
                )
            )
        ));
    }
    let lines: Vec<Line<'_>> = films
        .iter()
        .enumerate()
        .map(|(index, own)| line_of(own, letter(index).chars().next().unwrap_or('A')))
        .collect();
    let letters = films.iter().map(|film| {
        let (m, _) = points(film, judged.table.film.span);
        ('m', m.0, m.1)
    });
    let marked =
        Marked { stops_from: Some(first.log_h_m.value), letters: letters.collect(), ..Marked::default() };
    document.blocks.push(Block::Plot(plot(&lines, &marked)));
    let rows = comparisons.first().filter(|_| films.len() == 2).map(aligned_rows).unwrap_or_default();
    let columns = ["stops above own m", "A", "B", "B less A"].map(Column::right);
    document.table(columns.to_vec(), rows);
    document.paragraph(format!(
        "Strips exposed alike; limits {}. Densities above base + fog.",
        errors_words(judged.errors)
    ));
    notes(document, films);
}

/// `+0.4`, `−1.4`, `0.0`.
pub(super) fn signed_plus(value: f64, decimals: usize) -> String {
    let text = signed(value, decimals);
    if value > 0.0 && text.chars().any(|own| ('1'..='9').contains(&own)) { format!("+{text}") } else { text }
}

/// The densities of two strips at stops from their own m.
pub(super) fn aligned_rows(own: &CurveComparison) -> Vec<Vec<String>> {
    let density = |own: Option<f64>| own.map_or_else(|| "off".to_owned(), |own| show_decimals(own, 2));
    own.aligned
        .iter()
        .filter(|row| row.stops >= 0.0)
        .map(|row| {
            let less = row.first.zip(row.other).map_or_else(String::new, |(a, b)| signed(b - a, 2));
            let stops = if row.stops == 0.0 { "m".to_owned() } else { format!("+{:.0}", row.stops) };
            vec![stops, density(row.first), density(row.other), less]
        })
        .collect()
}

/// What strips read, a row a measure.
pub(super) fn comparison_rows(films: &[FilmFigures]) -> Vec<Vec<String>> {
    let row = |name: &str, of: &dyn Fn(&FilmFigures) -> String| {
        let mut cells = vec![name.to_owned()];
        cells.extend(films.iter().map(of));
        cells
    };
    let figure =
        |own: Option<CurveFigure>| own.map_or_else(|| "not available".to_owned(), |own| with_limits(own, 2));
    vec![
        row("strip", &|own| short(&own.strip.name).to_owned()),
        row("speed", &|own| {
            format!("{} ({})", speed_figure(own.speed.value), speed_limits(own.speed.limits))
        }),
        row("label", &headline),
        row("gradient, m to n", &|own| figure(own.gradient_iso)),
        row("average gradient", &|own| figure(own.average_gradient)),
        row("two-arc index", &|own| figure(own.contrast_index)),
        row("gamma", &|own| {
            own.gamma.map_or_else(|| "not available".to_owned(), |own| show_decimals(own.value, 2))
        }),
        row("base + fog", &|own| show_decimals(own.strip.base_fog, 2)),
        row("useful range, stops", &|own| {
            let least = if own.useful_range.is_open { "over " } else { "" };
            format!("{least}{}", show_decimals(own.useful_range.stops(), 1))
        }),
    ]
}

/// What is wanted, in words.
pub(super) fn target_words(target: &Target) -> String {
    let gradient = show_decimals(target.gradient(), 2);
    match target.wish {
        ContrastWish::Iso => {
            format!(
                "the contrast of the standard ({} over {})",
                show_decimals(target.difference, 2),
                show_decimals(target.span, 2)
            )
        }
        ContrastWish::Gradient(_) => format!("an average gradient of {gradient}"),
        ContrastWish::Steps(steps) => format!(
            "N{} (density range {} over {}, gradient {gradient})",
            if steps == 0.0 { String::new() } else { signed_plus(steps, 0) },
            show_decimals(target.difference, 2),
            show_decimals(target.span, 2)
        ),
        ContrastWish::Range(range) => {
            format!("a density range of {} (gradient {gradient})", show_decimals(range, 2))
        }
    }
}

/// A developing time to 5 s below 10 min, 15 s above: what a hand can keep.
pub(super) fn clock(minutes: f64) -> String {
    let step = if minutes < 10.0 { 5.0 } else { 15.0 };
    let shown = Duration::from_s(to_step(minutes * 60.0, step)).to_string();
    shown.strip_suffix(" min").map_or(shown.clone(), str::to_owned)
}

/// The answer to a target.
pub(super) fn answer_words(answer: &SeriesAnswer, is_relative: bool) -> Vec<String> {
    let range = format!("({} to {})", clock(answer.limits.low), clock(answer.limits.high));
    let gives = format!("{} min {range} gives {}", clock(answer.minutes), target_words(&answer.target));
    if is_relative {
        return vec![format!("{gives}; the light is not known, so neither is the speed.")];
    }
    vec![format!(
        "{gives}; the speed there is {} ({}).",
        label(&answer.speed),
        speed_limits(answer.speed.limits)
    )]
}

/// From the first to the last time.
pub(super) fn growth_words(view: &SeriesView) -> Option<String> {
    let (first, last) = (view.series.strips.first()?, view.series.strips.last()?);
    let (low, high) = (first.1.gradient_iso?.value, last.1.gradient_iso?.value);
    let stops = (first.1.log_h_m.value - last.1.log_h_m.value) / STOP;
    Some(format!(
        "From {} to {} min the contrast grows {}-fold and the speed {} {}.",
        show_short(first.0, 1),
        show_short(last.0, 1),
        show_decimals(high / low, 1),
        if stops >= 0.0 { "gains" } else { "loses" },
        stops_words(stops)
    ))
}

/// What could not be reached.
pub(super) fn outside_words(view: &SeriesView, target: &Target, between: (f64, f64)) -> String {
    let longest = view.series.strips.last().map_or(0.0, |own| own.0);
    let shortest = view.series.strips.first().map_or(0.0, |own| own.0);
    let (what, way) = if target.difference > between.1 {
        (
            format!("{} min gives {}", show_short(longest, 1), show_decimals(between.1, 2)),
            "longer than the longest",
        )
    } else {
        (
            format!("{} min gives {} already", show_short(shortest, 1), show_decimals(between.0, 2)),
            "shorter than the shortest",
        )
    };
    format!(
        "No time of the series gives {}: {what} over {}. It needs {way} time; nothing is extrapolated. Develop one more strip.",
        target_words(target),
        show_decimals(target.span, 2)
    )
}

fn series(document: &mut Document, view: &SeriesView, judged: &JudgedStrips) {
    match &view.outcome {
        Some(TargetOutcome::Reached(answer)) => {
            let is_relative = view.series.strips.iter().any(|(_, own)| own.strip.is_relative);
            document.paragraph(answer_words(answer, is_relative).join(" "));
        }
        Some(TargetOutcome::Outside { target, between }) => {
            document.paragraph(outside_words(view, target, *between));
        }
        None => {}
    }
    if let Some(words) = growth_words(view) {
        document.paragraph(words);
    }
    if let Some(TargetOutcome::Reached(answer)) = &view.outcome
        && let Some(range) = answer.range
    {
        document.paragraph(format!(
            "Density range of a normal subject there (log H {} after flare): {}{}.",
            show_decimals(view.subject.range, 2),
            show_decimals(range, 2),
            judged
                .table
                .grade_for(range)
                .map_or_else(String::new, |grade| format!(", for paper of grade {}", grade.name))
        ));
    }
    let films: Vec<&FilmFigures> = view.series.strips.iter().map(|strip| &strip.1).collect();
    let columns = ["min", "base + fog", "log Hm", "difference", "average", "index", "speed", "label"];
    let figure = |given_figure: Option<CurveFigure>| {
        given_figure.map_or_else(|| "-".to_owned(), |own| show_decimals(own.value, 2))
    };
    let rows = view.series.strips.iter().map(|(minutes, film)| {
        vec![
            show_short(*minutes, 2),
            show_decimals(film.strip.base_fog, 2),
            signed(film.log_h_m.value, 2),
            figure(film.density_difference),
            figure(film.average_gradient),
            figure(film.contrast_index),
            speed_figure(film.speed.value),
            if film.is_iso {
                format!("ISO {}", label(&film.speed))
            } else {
                format!("index {}", label(&film.speed))
            },
        ]
    });
    document.table(columns.map(Column::right).to_vec(), rows.collect());
    let lines: Vec<Line<'_>> = films
        .iter()
        .enumerate()
        .map(|(index, own)| line_of(own, letter(index).chars().next().unwrap_or('A')))
        .collect();
    document.blocks.push(Block::Plot(plot(&lines, &Marked::default())));
    let names = films
        .iter()
        .enumerate()
        .zip(&view.series.strips)
        .map(|((index, _), (minutes, _))| format!("{} {} min", letter(index), show_short(*minutes, 2)));
    document.paragraph(format!(
        "{}. Limits {}.",
        names.collect::<Vec<_>>().join(", "),
        errors_words(judged.errors)
    ));
    if let Some(growth) = view.growth {
        let tried = if view.series.strips.len() > 2 {
            format!("residual {}", show_decimals(growth.residual, 3))
        } else {
            "from two times, so untried".to_owned()
        };
        document.paragraph(format!(
            "Average gradient = G (1 - e^(-k t)): G {}, k {} a minute, {tried}. G is badly determined by such times; inside of them the times are not.",
            show_decimals(growth.law.infinity, 2),
            show_decimals(growth.law.rate_per_minute, 3)
        ));
    }
    let owned: Vec<FilmFigures> = films.into_iter().cloned().collect();
    notes(document, &owned);
}

/// The sentence of a paper.
pub(super) fn paper_verdict(paper: &PaperFigures) -> String {
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

fn paper(document: &mut Document, paper: &PaperFigures, judged: &JudgedStrips) {
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

pub(super) fn paper_lines(paper: &PaperFigures, judged: &JudgedStrips) -> Vec<String> {
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
