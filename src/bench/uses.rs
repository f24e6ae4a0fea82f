//! What the solution is used for: a cell each, how much it makes, how its parts are put together.

use super::material::Material;
use super::volume_words;
use crate::formula::{Bath, Formula, Kind, Use};
use crate::quantity::UNIT_CM2;
use crate::quantity::rounding::show_short;

/// So many uses stand on the page.
const MOST_USES: usize = 3;
/// Longest note of a use, or of keeping, that stands on the page, letters.
pub(crate) const NOTE_LETTERS: usize = 70;

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// Its heading.
    pub name: String,
    /// What it says.
    pub lines: Vec<String>,
    /// The beginning of the use's note; the whole of it stands on the other side.
    pub note: Option<String>,
}

impl Cell {
    fn new(name: &str, lines: Vec<String>) -> Self {
        Self { name: name.to_owned(), lines, note: None }
    }

    /// All that it says.
    pub fn told(&self) -> impl Iterator<Item = &String> {
        self.lines.iter().chain(&self.note)
    }
}

/// The cells of the page, and those that stand on the other side.
pub(super) fn cells(material: &Material<'_>) -> (Vec<Cell>, Vec<Cell>) {
    let formula = material.formula;
    let mut cells: Vec<Cell> = formula.uses.iter().map(|listed_use| use_cell(listed_use, material)).collect();
    let more = cells.split_off(cells.len().min(MOST_USES));
    let does: Vec<String> = if material.treats.is_empty() {
        does(formula).into_iter().collect()
    } else {
        material.treats.clone()
    };
    let keeps = material.keeps.clone();
    if does.is_empty() {
        cells.push(Cell::new("keeps", vec![keeps]));
    } else if cells.len() < MOST_USES {
        cells.push(Cell::new("does", does));
        cells.push(Cell::new("keeps", vec![keeps]));
    } else {
        cells.push(Cell::new("does, keeps", does.into_iter().chain([keeps]).collect()));
    }
    (cells, more)
}

fn use_cell(listed_use: &Use, material: &Material<'_>) -> Cell {
    let formula = material.formula;
    let mut lines = Vec::new();
    let baths = listed_use.phrase();
    if baths != "undiluted" && !squeezed(&listed_use.name).contains(&ratio(&listed_use.baths)) {
        lines.push(baths);
    }
    if let ([bath], [part], None) =
        (listed_use.baths.as_slice(), material.parts.as_slice(), &material.batch.working)
        && let (true, [(_, share)]) = (bath.water > 0.0, bath.shares.as_slice())
    {
        lines.push(format!("makes {}", reach_words(part.volume_ml / share * bath.total())));
    }
    let own_note = listed_use.note.as_deref().unwrap_or_default().to_lowercase();
    // A file that names its own multiple of the clearing time is not contradicted.
    let has_own = own_note.contains("times the clearing") || own_note.contains("times the time to clear");
    let is_film = ["film", "negative"].iter().any(|own| listed_use.name.contains(own));
    let is_film_fixer = formula.kind == Kind::Fixer && is_film && !has_own;
    if let Some((low, high)) = listed_use.minutes {
        let range = |scale: f64| {
            let (low, high) = (show_short(low * scale, 2), show_short(high * scale, 2));
            if low == high { low } else { format!("{low} to {high}") }
        };
        let time = if high <= 1.0 { format!("{} s", range(60.0)) } else { format!("{} min", range(1.0)) };
        let at =
            listed_use.temperature_c.map_or_else(String::new, |c| format!(" at {} °C", show_short(c, 1)));
        lines.push(if is_film_fixer {
            format!("twice the clearing time (fresh {time}{at})")
        } else {
            format!("{time}{at}")
        });
    } else {
        if is_film_fixer {
            lines.push("twice the clearing time".to_owned());
        }
        // Where no time is told its temperature is told all the same.
        lines.extend(listed_use.temperature_c.map(|celsius| format!("at {} °C", show_short(celsius, 1))));
    }
    // The file's own sign that it is out stands in the place of the rule's.
    let told = listed_use.note.as_deref().unwrap_or_default();
    let own_sign = told.split_inclusive(". ").find(|sentence| sentence.starts_with("Out when"));
    if is_film_fixer {
        let own = own_sign.map(|sentence| first_sentences(sentence, NOTE_LETTERS));
        lines.extend(own.or_else(|| material.spent.clone()));
    }
    if let Some(hours) = listed_use.working_hours {
        lines.push(if hours < 1.0 {
            format!("once mixed it keeps {} min", show_short(hours * 60.0, 0))
        } else {
            format!("once mixed it keeps {} h", show_short(hours, 1))
        });
    }
    let note =
        own_sign.filter(|_| is_film_fixer).map_or_else(|| told.to_owned(), |sign| told.replace(sign, ""));
    let note = Some(first_sentences(&note, NOTE_LETTERS));
    let note = note.filter(|note| !note.is_empty());
    if lines.is_empty() && note.is_none() {
        lines.push(baths_or_as_it_is(listed_use));
    }
    Cell { name: listed_use.name.clone(), lines, note }
}

/// How it is poured, where a use tells nothing else and its name does not say it.
fn baths_or_as_it_is(own: &Use) -> String {
    let phrase = own.phrase();
    if phrase.is_empty() || phrase == own.name { "as it is".to_owned() } else { phrase }
}

/// The first sentences of a note that so many letters hold.
pub(crate) fn first_sentences(note: &str, letters: usize) -> String {
    let mut kept = String::new();
    for sentence in note.split_inclusive(". ") {
        if kept.chars().count() + sentence.trim_end().chars().count() > letters {
            break;
        }
        kept.push_str(sentence);
    }
    let kept = kept.trim().trim_end_matches('.');
    let mut rest = kept.chars();
    rest.next().map_or_else(String::new, |first| first.to_lowercase().chain(rest).collect())
}

/// How much a batch makes, never more than it does: `5.3 L` of 5333 mL.
fn reach_words(millilitres: f64) -> String {
    let step = match millilitres {
        ml if ml < 100.0 => 1.0,
        ml if ml < 1000.0 => 10.0,
        ml if ml < 5000.0 => 50.0,
        _ => 100.0,
    };
    volume_words(((millilitres + 1e-6) / step).floor() * step)
}

fn squeezed(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// `1+3` of a single bath; all of them in words else.
fn ratio(baths: &[Bath]) -> String {
    let one = |bath: &Bath| {
        let mut parts: Vec<String> = bath.shares.iter().map(|(_, share)| show_short(*share, 3)).collect();
        if bath.water > 0.0 {
            parts.push(show_short(bath.water, 3));
        }
        parts.join("+")
    };
    baths.iter().map(one).collect::<Vec<_>>().join(", then ")
}

/// How much it treats and how it is replenished, as the formula states.
pub(crate) fn does(formula: &Formula) -> Option<String> {
    let capacity = &formula.capacity;
    let mut words = Vec::new();
    if let Some(area) = capacity.area_cm2_per_litre {
        let count = show_short(area / UNIT_CM2, 0);
        words.push(match formula.kind {
            Kind::FilmDeveloper | Kind::Replenisher => format!("{count} films a litre"),
            Kind::PaperDeveloper | Kind::Toner => format!("{count} sheets 8 × 10 in a litre"),
            _ => format!("{count} films or sheets 8 × 10 in a litre"),
        });
    }
    if let Some(stock) = capacity.stock_ml_per_roll {
        words.push(format!("{} mL of stock a film", show_short(stock, 0)));
    }
    if let Some(own) = &formula.replenishment {
        words.push(own.ml_per_roll.map_or_else(
            || format!("replenish with {}", own.with),
            |ml| format!("replenish {} mL a film with {}", show_short(ml, 1), own.with),
        ));
    }
    (!words.is_empty()).then(|| words.join("; "))
}

/// How much is made, as the head says it.
pub(super) fn volume(material: &Material<'_>) -> String {
    let parts = material.parts.as_slice();
    let each = |part: &super::material::MaterialPart| {
        format!("{} {}", volume_words(part.volume_ml), part.name.as_deref().unwrap_or("stock"))
    };
    if let Some((volume, _)) = &material.batch.working {
        let taken: Vec<String> = parts.iter().map(each).collect();
        return format!("{} working ({})", volume_words(volume.as_ml()), taken.join(" + "));
    }
    match parts {
        [one] => volume_words(one.volume_ml),
        [first, rest @ ..] if rest.iter().all(|own| (own.volume_ml - first.volume_ml).abs() < 1e-9) => {
            let names: Vec<&str> = parts.iter().filter_map(|part| part.name.as_deref()).collect();
            format!("{} of {}", volume_words(first.volume_ml), names.join(", "))
        }
        _ => parts.iter().map(each).collect::<Vec<_>>().join(", "),
    }
}

/// How the parts are put together, in the order of pouring.
pub(super) fn together(material: &Material<'_>) -> Vec<String> {
    if material.parts.len() < 2 {
        return Vec::new();
    }
    if let Some((volume, ratio)) = &material.batch.working {
        let mut taken: Vec<String> = material
            .parts
            .iter()
            .map(|part| {
                format!("{} {}", volume_words(part.volume_ml), part.name.as_deref().unwrap_or("stock"))
            })
            .collect();
        let water = volume.as_ml() - material.parts.iter().map(|part| part.volume_ml).sum::<f64>();
        if ratio.parts().len() > material.parts.len() && water > 0.01 {
            taken.push(format!("{} water", volume_words(water)));
        }
        return vec![format!("{} = {}", taken.join(" + "), volume_words(volume.as_ml()))];
    }
    let mut lines: Vec<String> = Vec::new();
    for listed_use in &material.formula.uses {
        let line = listed_use.in_order(|bath| match reach_ml(bath, material) {
            Some(millilitres) if bath.water > 0.0 || bath.shares.len() > 1 => {
                format!("makes {} at {bath}", reach_words(millilitres))
            }
            _ => bath.to_string(),
        });
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.truncate(1);
    lines
}

/// How much of a bath the batch makes, mL.
fn reach_ml(bath: &Bath, material: &Material<'_>) -> Option<f64> {
    let reach = bath.shares.iter().map(|(name, share)| {
        let part = material
            .parts
            .iter()
            .find(|part| part.name.as_deref() == Some(name) || part.name.is_none() && name == "stock")?;
        Some(part.volume_ml / share)
    });
    let unit = reach.collect::<Option<Vec<f64>>>()?.into_iter().fold(f64::INFINITY, f64::min);
    unit.is_finite().then(|| unit * bath.total())
}
