//! A replenished tank in words: its figures, the substances over films, what to do.

use crate::bath::course::{FilmRelease, RateBasis, Replenishing, TankPoint, TankSubstance};
use crate::quantity::Volume;
use crate::quantity::rounding::{show_decimals, show_short, show_significant};
use crate::render::{Column, Document};

/// Grams per litre as they are read: three figures.
pub(super) fn grams(value: f64) -> String {
    if value == 0.0 {
        "0".to_owned()
    } else if value >= 100.0 {
        show_short(value, 1)
    } else if value >= 0.1 {
        show_decimals(value, 2)
    } else {
        show_significant(value)
    }
}

pub(super) fn litres(ml: f64) -> String {
    if ml >= 1000.0 { format!("{} L", show_short(ml / 1000.0, 2)) } else { Volume::from_ml(ml).to_string() }
}

pub(super) fn millilitres(ml: f64) -> String {
    format!("{} mL", show_short(ml, 1))
}

/// The answer in words.
pub(crate) fn replenish_document(answer: &Replenishing) -> Document {
    let tank = &answer.tank;
    let mut document = Document::new();
    document.title(format!("Replenishing: {}", answer.formula.title));
    document.facts(facts(answer));
    document.paragraph(verdict(answer));
    document.table(
        std::iter::once(Column::left("g/L"))
            .chain(answer.shown().iter().map(|point| Column::right(&heading(point.films))))
            .chain([Column::right("settles at"), Column::right("replenisher")])
            .collect(),
        answer
            .rows
            .iter()
            .enumerate()
            .map(|(index, row)| {
                let mut cells = vec![row.form.name.clone()];
                let at = |point: &&TankPoint| {
                    point.g_per_l.get(index).map_or_else(String::new, |value| grams(*value))
                };
                cells.extend(answer.shown().iter().map(at));
                cells.push(answer.settles(row).map_or_else(|| "-".to_owned(), grams));
                cells.push(grams(row.substance.replenisher_g_per_l));
                cells
            })
            .chain(ph_row(answer))
            .collect(),
    );
    let mut points = Vec::new();
    for row in &answer.rows {
        if let Some(own) = &row.film {
            let verb = if own.mg >= 0.0 { "gives off" } else { "uses up" };
            points.push(format!("A film {verb} {}: {}.", amount_words(own), own.source));
        }
        let start = row.substance.start_g_per_l;
        if let Some(wanted) = row.held.filter(|wanted| (wanted - start).abs() > 1e-6) {
            let way = if wanted > start { "Add" } else { "Leave out" };
            points.push(format!(
                "{way} {} g of {} a litre of the fresh bath: it is held at {} from the first film then.",
                grams((wanted - start).abs()),
                row.form.name,
                grams(wanted)
            ));
        }
    }
    if answer.rate_basis == RateBasis::Stated {
        points.extend(
            answer.formula.replenishment.as_ref().and_then(|replenishment| replenishment.note.clone()),
        );
    }
    if tank.bleed_ml() < -1e-9 {
        points.push(format!(
            "The level falls by {} a film: top up to the mark, or raise the rate.",
            millilitres(-tank.bleed_ml())
        ));
    }
    points.push("True of average negatives; a control strip decides.".to_owned());
    document.list(points);
    document
}

/// The pH under the substances, where any is known.
fn ph_row(answer: &Replenishing) -> Option<Vec<String>> {
    let words = |ph: Option<f64>| ph.map_or_else(|| "-".to_owned(), |ph| show_decimals(ph, 1));
    let points = answer.shown();
    points.iter().any(|point| point.ph.is_some()).then(|| {
        std::iter::once("pH, 20 °C".to_owned())
            .chain(points.iter().map(|point| words(point.ph)))
            .chain([words(answer.ph_steady), words(answer.ph_replenisher)])
            .collect()
    })
}

/// `50 mg of potassium bromide (40 to 60; a source)`.
pub(super) fn amount_words(release: &FilmRelease) -> String {
    let (low, high) =
        (release.low_mg.abs().min(release.high_mg.abs()), release.low_mg.abs().max(release.high_mg.abs()));
    let range = if high - low > 0.05 { format!(" ({low:.0} to {high:.0})") } else { String::new() };
    format!("{} mg of {}{range}", show_short(release.mg.abs(), 1), release.form.name)
}

fn heading(films: u32) -> String {
    match films {
        0 => "fresh".to_owned(),
        1 => "1 film".to_owned(),
        more => format!("{more} films"),
    }
}

fn facts(answer: &Replenishing) -> Vec<(String, String)> {
    let tank = &answer.tank;
    let basis = match answer.rate_basis {
        RateBasis::Given => "",
        RateBasis::Stated => ", the formula's own",
        RateBasis::WorkedOut => ", worked out",
    };
    let mut facts = vec![("tank".to_owned(), litres(tank.volume_ml))];
    match answer.exchange {
        Some(exchange) => facts.push((
            "exchange".to_owned(),
            format!(
                "{} after each {} films ({} a film)",
                millilitres(exchange.exchange_ml),
                exchange.films,
                millilitres(tank.rate_ml)
            ),
        )),
        None => facts.push((
            "replenisher".to_owned(),
            format!("{} a film of 516 cm²{basis}", millilitres(tank.rate_ml)),
        )),
    }
    let with =
        answer.replenisher.as_ref().map_or_else(|| "the developer itself".to_owned(), |own| own.id.clone());
    facts.push(("with".to_owned(), with));
    if answer.exchange.is_none() {
        let usual = if answer.carry_out_given { "" } else { ", usual" };
        let mut goes = format!("{} carried out{usual}", millilitres(tank.carry_out_ml));
        if tank.bleed_ml() > 0.05 {
            goes.push_str(&format!(", {} to pour away first", millilitres(tank.bleed_ml())));
        }
        facts.push(("of it".to_owned(), goes));
    }
    facts.push((
        format!("for {} film{}", answer.films, if answer.films == 1 { "" } else { "s" }),
        format!("{} of replenisher", litres(tank.rate_ml * f64::from(answer.films))),
    ));
    facts
}

fn verdict(answer: &Replenishing) -> String {
    match answer.begin_anew() {
        Some(films) => format!(
            "Begin anew after {films} films: by then {} of replenisher has gone in, as much as the tank holds (common practice, no source).",
            litres(f64::from(films) * answer.tank.rate_ml)
        ),
        None => "Nothing is put back: the bath is used up.".to_owned(),
    }
}

/// What is held and where, in words: `hydroquinone at 5 g/L`.
pub(crate) fn held_words(answer: &Replenishing) -> Vec<String> {
    let words = |row: &TankSubstance| Some(format!("{} at {} g/L", row.form.name, grams(row.held?)));
    answer.rows.iter().filter_map(words).collect()
}
