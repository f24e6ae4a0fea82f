//! How strong a stock can be, in words.

use crate::formula::Formula;
use crate::predict::concentrate::{Answer, Concentrate, Reach};
use crate::quantity::rounding::show_short;
use crate::render::predict::{celsius_words, grams_words, limit_words};
use crate::render::{Column, Document};

/// How strong a stock can be.
pub(crate) fn concentrate_document(formula: &Formula, parts: &[Concentrate], asked: Option<f64>) -> Document {
    let mut document = Document::new();
    document.title(match asked {
        Some(times) => format!("{}: a stock of {} times the strength", formula.title, show_short(times, 2)),
        None => format!("{}: how strong a stock can be", formula.title),
    });
    document.facts(crate::render::origin::facts(formula));
    for part in parts {
        let of = part.name.as_ref().map_or_else(String::new, |name| format!("Part {name}, in"));
        let place = if of.is_empty() { "In".to_owned() } else { of };
        document.heading(format!("{place} the cupboard at {}", celsius_words(part.celsius)));
        document.paragraph(ceiling_words(part));
        if let Some((about, form)) = &part.about {
            document.paragraph(beside_words(*about, &form.name));
        }
        if let Some(times) = asked {
            document.paragraph(answer_words(part, times));
        }
        let times = asked.unwrap_or(1.0);
        let rows = part
            .reaches
            .iter()
            .map(|reach| {
                vec![
                    reach.form.name.clone(),
                    reach.grams_per_litre.map_or_else(
                        || crate::doubt::NOT_KNOWN.to_owned(),
                        |grams| grams_words(grams * times),
                    ),
                    limit_words(&reach.limit),
                    reach_words(reach),
                ]
            })
            .collect();
        let in_it = if asked.is_some() { "in the stock" } else { "now" };
        document.table(
            vec![
                Column::left("chemical"),
                Column::right(in_it),
                Column::right("limit"),
                Column::right("at most"),
            ],
            rows,
        );
    }
    document.list(vec![
        "Each chemical alone in the water that is left. Salts that share sodium or potassium dissolve less beside each other. Where the ion product gives how much less, it stands above.".to_owned(),
        "Mix 100 mL of it first. Leave it overnight in the coldest place it will stand.".to_owned(),
    ]);
    document
}

fn times_words(times: f64) -> String {
    let decimals = usize::from(times < 10.0);
    // Down, so that the figure printed does dissolve.
    let step = if times < 10.0 { 10.0 } else { 1.0 };
    format!("{}×", show_short((times * step).floor() / step, decimals))
}

fn ceiling_words(part: &Concentrate) -> String {
    let open: Vec<&str> = part.not_known_at(part.ceiling()).map(|reach| reach.form.name.as_str()).collect();
    let limit = strongest_words(part);
    if part.ceiling() < 1.0 || open.is_empty() {
        return limit;
    }
    format!("{limit} Perhaps less: not known is the solubility of {}.", open.join(", "))
}

/// What salts of one ion leave of it.
fn beside_words(about: f64, salt: &str) -> String {
    let from = if about < 1.0 {
        "in the solution already".to_owned()
    } else {
        format!("from about {} on", times_words(about))
    };
    format!(
        "Beside the other salts of its ion {salt} can crystallise {from} (ion product; activities left out)."
    )
}

fn strongest_words(part: &Concentrate) -> String {
    if let Some((from, why)) =
        part.refused_from.as_ref().filter(|(from, _)| *from < part.dissolving_ceiling())
    {
        return format!("At most about {}; above that there is no sheet for it: {why}", times_words(*from));
    }
    match &part.most {
        Some((most, form)) if *most < part.no_water_above => {
            if *most < 1.0 {
                format!("Too strong already: {} crystallises.", form.name)
            } else {
                format!("At most {}; above that {} crystallises.", times_words(*most), form.name)
            }
        }
        _ => format!(
            "No figure sets a limit; above {} there would be no water left.",
            times_words(part.no_water_above)
        ),
    }
}

/// Whether a part can be made so strong.
pub(crate) fn answer_words(part: &Concentrate, times: f64) -> String {
    let asked = format!("{}×", show_short(times, 2));
    match part.answer(times) {
        Answer::Yes => {
            let close: Vec<&str> = part.close_at(times).map(|reach| reach.form.name.as_str()).collect();
            if close.is_empty() {
                format!("{asked}: the data allow it.")
            } else {
                format!("{asked}: the data allow it, but {} is close to saturation.", close.join(", "))
            }
        }
        Answer::No => match &part.most {
            Some((most, form)) if *most < part.no_water_above => {
                format!("{asked} is too strong: {} would crystallise.", form.name)
            }
            _ => format!("{asked} is too strong: no water would be left to dissolve it in."),
        },
        Answer::NotKnown => {
            let mut names: Vec<&str> =
                part.not_known_at(times).map(|reach| reach.form.name.as_str()).collect();
            let beside = part.about.as_ref().filter(|(about, _)| times > *about);
            names.extend(beside.map(|(_, salt)| salt.name.as_str()));
            format!("{asked}: not known for {}; nothing known forbids it.", names.join(", "))
        }
    }
}

fn reach_words(reach: &Reach) -> String {
    match (reach.dissolves_to, reach.fails_above) {
        (Some(to), Some(above)) if (above - to).abs() < 1e-6 => times_words(to),
        (Some(to), Some(above)) => format!("{} to {}", times_words(to), times_words(above)),
        (Some(to), None) => format!("at least {}", times_words(to)),
        (None, Some(above)) => format!("less than {}", times_words(above)),
        (None, None) => crate::doubt::NOT_KNOWN.to_owned(),
    }
}
