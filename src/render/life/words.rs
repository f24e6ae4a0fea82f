//! The rule of a class in words: capacity, keeping, first time.

use crate::bath::life::{Basis, Days, Life, Range, part_class};
use crate::bath::rules::ClassRules;
use crate::bath::stock::{PerFilm, per_film};
use crate::bath::{days, fixer_class};
use crate::bench::material::RuleWords;
use crate::bench::uses::{NOTE_LETTERS, first_sentences};
use crate::formula::{Formula, Kind};
use crate::label::ByRule;
use crate::quantity::UNIT_CM2;
use crate::quantity::rounding::show_short;
use crate::render::films::span_words;

/// Facts by rule for a card: only what the formula does not state itself.
pub fn rule_facts(formula: &Formula, rules: &ClassRules) -> Vec<(String, String)> {
    let life = Life::of(formula, rules);
    let mut facts = Vec::new();
    if let Some(class) = &life.class {
        let source = life.rule_source.map_or_else(String::new, |source| format!(" [{source}]"));
        let is_told = |kind| matches!(kind, Kind::FilmDeveloper | Kind::PaperDeveloper | Kind::Toner);
        let is_told = is_told(formula.kind) || life.capacity.is_none();
        let note = life.rule_note.filter(|_| is_told);
        let note = note.map_or_else(String::new, |note| format!(". {}", note.trim_end_matches('.')));
        facts.push((
            "rule".to_owned(),
            format!("by rule for its class, no figure for this formula: {class}{note}{source}"),
        ));
    }
    for part in &formula.parts {
        let figures: Vec<String> = days(formula, part, false, rules)
            .figures()
            .filter(|(_, _, range)| range.basis == Basis::Rule)
            .map(|(name, unit, range)| format!("{name} {}", with_unit(range, unit)))
            .collect();
        if !figures.is_empty() {
            let of = part.name.as_ref().map_or_else(String::new, |name| format!(" of {name}"));
            let class = part_class(formula, part, rules);
            let class =
                class.filter(|_| formula.parts.len() > 1).map_or_else(String::new, |own| format!(" ({own})"));
            facts.push((format!("keeping{of}, rule"), format!("{}{class}", figures.join("; "))));
        }
    }
    if let Some(span) = life.start_minutes {
        let words = format!(
            "{} min at 20 °C as mixed and not diluted further, for a first test with a film of medium speed",
            span_words(span, 0)
        );
        facts.push(("time, rule".to_owned(), words));
    }
    if formula.capacity.stock_ml_per_roll.is_none()
        && let Some(span) = life.stock.rule_ml
    {
        let what = if life.stock.is_of_the_mixture { "mixture" } else { "stock" };
        facts.push((
            "stock a film, rule".to_owned(),
            format!("{} mL of {what} at least, {} safe", show_short(span.low, 1), show_short(span.high, 1)),
        ));
    }
    facts.extend(per_film(formula, rules).iter().map(per_film_fact));
    if let Some(capacity) =
        life.capacity.as_ref().filter(|capacity| capacity.films_per_litre.basis == Basis::Rule)
    {
        let span = capacity.films_per_litre.span;
        let words = match capacity.ends {
            Some((low, high)) => {
                format!(
                    "{low} {}, {high} {} films a litre",
                    show_short(span.low, 0),
                    show_short(span.high, 0)
                )
            }
            None => format!("{} films a litre", span_words(span, 0)),
        };
        facts.push(("capacity, rule".to_owned(), words));
    }
    if let Some(sheets) =
        life.sheets_per_litre.filter(|sheets_per_litre| sheets_per_litre.basis == Basis::Rule)
    {
        let words = format!("{} sheets of 8 by 10 in a litre of the tray", span_words(sheets.span, 0));
        facts.push(("capacity, rule".to_owned(), words));
    }
    if let Some(growth) = life.growth.filter(|_| !life.is_one_shot) {
        facts.push((
            "used again, rule".to_owned(),
            format!(
                "the time grows {} % with each film in a litre after the first{}",
                span_words(growth.percent, 0),
                if growth.free_films > 1.0 {
                    format!(" {}", show_short(growth.free_films, 0))
                } else {
                    String::new()
                }
            ),
        ));
    }
    facts.extend(fixing_facts(formula, rules));
    facts
}

/// How long a fixer fixes, and how much paper it takes.
fn fixing_facts(formula: &Formula, rules: &ClassRules) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    if let Some(class) = fixer_class(formula, rules) {
        let fixer_rules = &rules.fixers;
        let clears = class.clearing_s.map_or_else(String::new, |span| {
            format!("; it clears in {} s when fresh, by rule", span_words(span, 0))
        });
        facts.push((
            "fixing".to_owned(),
            format!(
                "film: {} times the clearing time of tonight's film, {}{clears}; out when it clears in {} times the fresh time [{}]",
                show_short(fixer_rules.clearing_times.low, 0),
                fixer_rules.iodide_note,
                show_short(fixer_rules.spent_times, 0),
                fixer_rules.clearing_source
            ),
        ));
        facts.push((
            "paper, rule".to_owned(),
            format!(
                "sheets of 8 by 10 in a litre: lasting {}, ordinary {}; counted by itself, never with film [{}]",
                show_short(fixer_rules.paper_sheets_per_litre.low, 0),
                show_short(fixer_rules.paper_sheets_per_litre.high, 0),
                fixer_rules.paper_source
            ),
        ));
    }
    facts
}

/// What one film needs at a dilution.
fn per_film_fact(per_film: &PerFilm) -> (String, String) {
    let figure = |ml: f64| show_short(ml, usize::from(ml < 50.0));
    let basis = if per_film.basis == Basis::Rule { "by rule" } else { "stated" };
    let least = per_film
        .least_ml
        .map_or_else(String::new, |least| format!("; down to {} mL with more time, by rule", figure(least)));
    (format!("a film at {}", per_film.bath), format!("{} mL, {basis}{least}", figure(per_film.ml)))
}

/// A range with `days` or `hours`: `30 to 180 days`, `1 hour`, `at most 1 day` from none on.
fn with_unit(range: Range, unit: &str) -> String {
    let unit = if range.span.high <= 1.0 { unit.trim_end_matches('s') } else { unit };
    if range.span.low <= 0.0 && range.span.high > 0.0 {
        return format!("at most {} {unit}", show_short(range.span.high, 1));
    }
    format!("{} {unit}", open_ended(range))
}

/// How long each part keeps, in a cell of the card or of the bench page: what the formula states, else the rule of its class. What it
/// says without a figure is told in its first sentences, or whole where the first is longer than a line.
pub fn keeps_words(formula: &Formula, rules: &ClassRules) -> String {
    let of = |part: &crate::formula::Part| {
        let kept_days = days(formula, part, false, rules);
        let short = |name: &'static str| if name == "half-full bottle" { "half full" } else { name };
        let (stated, ruled): (Vec<_>, Vec<_>) =
            kept_days.figures().partition(|(_, _, range)| range.basis == Basis::Stated);
        let stated: Vec<String> = stated
            .into_iter()
            .map(|(name, unit, range)| match unit {
                "days" => format!("{} {}", short(name), crate::render::show::days_words(range.span.low)),
                _ => format!("{name} {} h", open_ended(range)),
            })
            .collect();
        let ruled: Vec<String> = ruled
            .into_iter()
            .map(|(name, unit, range)| format!("{} {}", short(name), with_unit(range, unit)))
            .collect();
        let ruled = (!ruled.is_empty()).then(|| format!("by rule: {}", ruled.join(" · ")));
        let stated = (!stated.is_empty()).then(|| stated.join(", "));
        let in_words = kept_days.in_words.map(|note| {
            let letters =
                NOTE_LETTERS.max(note.split(". ").next().map_or(0, |first| first.chars().count() + 1));
            first_sentences(&note, letters)
        });
        let words: Vec<String> = [stated, ruled, in_words].into_iter().flatten().collect();
        let words = if words.is_empty() { crate::doubt::NOT_KNOWN.to_owned() } else { words.join("; ") };
        part.name.as_ref().map_or_else(|| words.clone(), |name| format!("{name}: {words}"))
    };
    let all: Vec<String> = formula.parts.iter().map(of).collect();
    // What holds for every part is said once.
    let told = |text: &String| text.split_once(": ").map_or(text.clone(), |(_, words)| words.to_owned());
    match all.as_slice() {
        [first, rest @ ..] if !rest.is_empty() && rest.iter().all(|own| told(own) == told(first)) => {
            told(first)
        }
        _ => all.join(". "),
    }
}

/// All that the rules of its class say on the bench page.
pub fn bench_rules(formula: &Formula, rules: &ClassRules) -> RuleWords {
    let spent = fixer_class(formula, rules).map(|_| {
        let times = |times: f64| match times {
            times if times <= 2.0 => "twice".to_owned(),
            times if times <= 3.0 => "three times".to_owned(),
            times => format!("{} times", show_short(times, 1)),
        };
        format!(
            "iodide-rich film {}; out when it clears in over {} the fresh time",
            times(rules.fixers.clearing_times.high),
            times(rules.fixers.spent_times)
        )
    });
    RuleWords { keeps: keeps_words(formula, rules), treats: treats_words(formula, rules), spent }
}

/// How much a fixer treats, a line for film and one for prints: lasting and ordinary are told apart, and what the file states from what is a rule.
fn treats_words(formula: &Formula, rules: &ClassRules) -> Vec<String> {
    if fixer_class(formula, rules).is_none() {
        return Vec::new();
    }
    let own = &rules.fixers;
    let is_for = |words: &[&str]| {
        let mut names = formula.uses.iter().map(|listed_use| listed_use.name.to_lowercase());
        names.any(|name| words.iter().any(|word| name.contains(word)))
    };
    let (film, prints) = (is_for(&["film", "plate", "negative"]), is_for(&["print", "paper"]));
    let litre = if formula.uses.iter().flat_map(|own| &own.baths).any(|bath| bath.water > 0.0) {
        "a litre as used"
    } else {
        "a litre"
    };
    let figure = |count: f64| show_short(count, 0);
    let (lasting, ordinary) = (own.lasting_films_per_litre, own.ordinary_films_per_litre);
    let stated = formula.capacity.area_cm2_per_litre.map(|area| (area / UNIT_CM2).round());
    let mut lines = Vec::new();
    if film || !prints {
        lines.push(match stated {
            Some(count) if (count - ordinary).abs() > 0.5 => {
                format!("films {litre}: {} stated, {} to last", figure(count), figure(lasting))
            }
            _ => format!("films {litre}: {} to last, {} ordinary", figure(lasting), figure(ordinary)),
        });
    }
    if prints || !film {
        let sheets = own.paper_sheets_per_litre;
        let told = format!("{} to last, {}", figure(sheets.low), figure(sheets.high));
        lines.push(match (lines.is_empty(), stated) {
            (true, Some(count)) => {
                format!("prints 8 × 10 {litre}: {} stated, {told} ordinary", figure(count))
            }
            (true, None) => format!("prints 8 × 10 {litre}: {told} ordinary"),
            // The line above says what the second figure is.
            (false, _) => format!("prints 8 × 10: {told}"),
        });
    }
    lines
}

/// How much it treats, in a cell of the card: what the formula states, else the rule of its class.
pub fn does_words(formula: &Formula, rules: &ClassRules) -> String {
    let treats = treats_words(formula, rules);
    if !treats.is_empty() {
        return format!("{}, by rule", treats.join("; "));
    }
    let mut words: Vec<String> = crate::bench::uses::does(formula).into_iter().collect();
    let life = Life::of(formula, rules);
    if let Some(capacity) =
        life.capacity.as_ref().filter(|capacity| capacity.films_per_litre.basis == Basis::Rule)
    {
        let span = capacity.films_per_litre.span;
        words.push(format!("by rule {} films a litre", span_words(span, 0)));
    }
    if let Some(sheets) =
        life.sheets_per_litre.filter(|sheets_per_litre| sheets_per_litre.basis == Basis::Rule)
    {
        words
            .push(format!("by rule {} sheets of 8 by 10 in a litre of the tray", span_words(sheets.span, 0)));
    }
    if formula.capacity.stock_ml_per_roll.is_none()
        && let Some(span) = life.stock.rule_ml
    {
        let what = if life.stock.is_of_the_mixture { "mixture" } else { "stock" };
        words.push(format!("by rule {} mL of {what} a film", span_words(span, 0)));
    }
    if words.is_empty() { crate::doubt::NOT_KNOWN.to_owned() } else { words.join("; ") }
}

/// A range in words.
fn open_ended(range: Range) -> String {
    span_words(range.span, 1)
}

/// An unused bottle by rule, for a label. None where the formula states how long it keeps, or no rule is known.
pub fn label_rule(days: &Days) -> Option<ByRule> {
    let full = days.full.filter(|range| range.basis == Basis::Rule)?.span;
    let half_days = days.half.map(|half| half.span.low);
    let look_days = half_days.filter(|_| full.low >= full.high).unwrap_or(full.low);
    Some(ByRule { full_days: (look_days, full.high), half_days })
}
