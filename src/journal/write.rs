//! How each kind of entry stands in the file.

use std::fmt::Write as _;

use super::entry::{CurveMeasured, Developed, Mixed, Printed, Taken};
use super::{Entry, Highlights, Shadows, VERSION, Verdict, dilution_text};

impl Entry {
    /// The entry as it stands in the file, from `[[entry]]` to `end = true`.
    pub(super) fn to_toml(&self) -> String {
        let mut lines = Lines(format!("[[entry]]\nversion = {VERSION}\n"));
        lines.text("kind", self.kind());
        lines.text("date", &self.date().to_string());
        match self {
            Self::Mixed(entry) => mixed(&mut lines, entry),
            Self::Developed(entry) => developed(&mut lines, entry),
            Self::Judged(entry) => {
                lines.text("roll", &entry.roll);
                lines.optional_text("shadows", entry.shadows.map(Shadows::word));
                lines.optional_text("highlights", entry.highlights.map(Highlights::word));
            }
            Self::Replenished(entry) => {
                lines.text("bottle", &entry.bottle);
                lines.optional_text("formula", entry.formula.as_deref());
                lines.optional_figure("volume_ml", entry.volume_ml);
                lines.optional_text("from", entry.from.as_deref());
            }
            Self::Measured(entry) => {
                lines.text("subject", &entry.subject);
                lines.text("quantity", &entry.quantity);
                lines.figure("value", entry.value);
                lines.optional_text("unit", entry.unit.as_deref());
                lines.optional_text("film", entry.film.as_deref());
            }
            Self::Curve(entry) => curve(&mut lines, entry),
            Self::Printed(entry) => printed(&mut lines, entry),
            Self::Count(entry) => {
                lines.text("bottle", &entry.bottle);
                lines.figure("films", entry.films);
            }
            Self::Discarded(entry) => {
                lines.texts("bottles", &entry.bottles);
                lines.optional_text("formula", entry.formula.as_deref());
                lines.optional_figure("volume_ml", entry.volume_ml);
            }
        }
        lines.optional_text("by", self.by());
        lines.optional_text("note", self.note());
        lines.0.push_str("end = true\n");
        lines.0
    }
}

fn mixed(lines: &mut Lines, entry: &Mixed) {
    lines.optional_text("formula", entry.formula.as_deref());
    lines.optional_figure("volume_ml", entry.volume_ml);
    lines.optional_text("dilution", entry.dilution.as_ref().map(dilution_text).as_deref());
    lines.texts("bottles", entry.filled.iter().map(|filled| &filled.bottle));
    if entry.filled.iter().any(|filled| filled.part.is_some()) {
        lines.texts("parts", entry.filled.iter().map(|filled| filled.part.as_deref().unwrap_or_default()));
    }
    lines.optional_figures("volumes_ml", entry.filled.iter().map(|filled| filled.volume_ml));
    lines.texts("taken", entry.taken.iter().map(taken_text));
}

/// What a batch took, as in the file: `metol 2 g`.
fn taken_text(taken: &Taken) -> String {
    format!("{} {} {}", taken.form, taken.amount, if taken.is_ml { "ml" } else { "g" })
}

fn developed(lines: &mut Lines, entry: &Developed) {
    lines.optional_text("film", entry.film.as_deref());
    lines.text("formula", &entry.formula);
    lines.text("dilution", &dilution_text(&entry.dilution));
    lines.figure("celsius", entry.temperature.as_c());
    lines.text("agitation", &entry.agitation);
    lines.figure("minutes", entry.minutes);
    lines.optional_figure("gradient", entry.gradient);
    lines.optional_text("verdict", entry.verdict.map(Verdict::word));
    lines.optional_text("shadows", entry.shadows.map(Shadows::word));
    lines.optional_text("highlights", entry.highlights.map(Highlights::word));
    lines.optional_text("films", entry.films.as_ref().map(ToString::to_string).as_deref());
    lines.texts("rolls", &entry.rolls);
    lines.texts("bottles", entry.draws.iter().map(|draw| &draw.bottle));
    lines.optional_figures("drawn_ml", entry.draws.iter().map(|draw| draw.drawn_ml));
    lines.optional_figures("returned_ml", entry.draws.iter().map(|draw| draw.returned_ml));
}

fn curve(lines: &mut Lines, entry: &CurveMeasured) {
    lines.text("film", &entry.film);
    lines.text("formula", &entry.formula);
    lines.text("dilution", &dilution_text(&entry.dilution));
    lines.figure("celsius", entry.temperature.as_c());
    lines.text("agitation", &entry.agitation);
    lines.figure("minutes", entry.minutes);
    lines.figure("gradient", entry.gradient);
    lines.optional_figure("speed", entry.speed);
    lines.optional_text("roll", entry.roll.as_deref());
}

fn printed(lines: &mut Lines, entry: &Printed) {
    lines.text("sheets", &entry.sheets.to_string());
    lines.texts("bottles", &entry.bottles);
    lines.optional_text("negative", entry.negative.as_deref());
    lines.optional_text("paper", entry.paper.as_deref());
    lines.optional_text("grade", entry.grade.as_deref());
    lines.optional_text("exposure", entry.exposure.as_deref());
    lines.optional_figure("exposure_s", entry.exposure_s);
    lines.optional_figure("stops", entry.stops);
}

/// Lines `key = value` of TOML.
struct Lines(String);

impl Lines {
    fn text(&mut self, key: &str, value: &str) {
        let _ = writeln!(self.0, "{key} = {}", quoted(value));
    }

    fn optional_text(&mut self, key: &str, value: Option<&str>) {
        if let Some(value) = value {
            self.text(key, value);
        }
    }

    /// A list; none of nothing.
    fn texts<T: AsRef<str>>(&mut self, key: &str, values: impl IntoIterator<Item = T>) {
        let values: Vec<String> = values.into_iter().map(|value| quoted(value.as_ref())).collect();
        if !values.is_empty() {
            let _ = writeln!(self.0, "{key} = [{}]", values.join(", "));
        }
    }

    fn figure(&mut self, key: &str, value: f64) {
        let _ = writeln!(self.0, "{key} = {value}");
    }

    fn optional_figure(&mut self, key: &str, value: Option<f64>) {
        if let Some(value) = value {
            self.figure(key, value);
        }
    }

    /// A list as long as that of the bottles, `nan` where a figure is not known; none where none is known.
    fn optional_figures(&mut self, key: &str, values: impl Iterator<Item = Option<f64>> + Clone) {
        if values.clone().any(|value| value.is_some()) {
            let values: Vec<String> = values
                .map(|value| value.map_or_else(|| "nan".to_owned(), |value| value.to_string()))
                .collect();
            let _ = writeln!(self.0, "{key} = [{}]", values.join(", "));
        }
    }
}

fn quoted(value: &str) -> String {
    format!("\"{}\"", value.replace('\\', "\\\\").replace('"', "\\\""))
}
