//! The lines that record an evening, and their writing.

use super::Used;
use super::timed::agitation_name;
use super::used::Baths;
use super::warmth::Warmth;
use crate::cli::conditions::JournalArguments;
use crate::cli::context::Context;
use crate::cli::error::CliError;
use crate::cli::record::append_lines;
use crate::cli::shell;
use crate::evening::file::{Evening, TankSpec};
use crate::quantity::rounding::show_short;

/// The line of each tank whose developer is known.
pub(super) fn lines(
    evening: &Evening,
    baths: &Baths,
    warmth: &Warmth,
    journal: &JournalArguments,
) -> Vec<String> {
    let path = journal.typed();
    let mut all = Vec::new();
    for (index, (tank, developer)) in evening.tanks.iter().zip(&baths.developers).enumerate() {
        let Some(developer) = developer else { continue };
        let mut line = line(evening, tank, developer, warmth.of_tank(index));
        if let Some(path) = &path {
            line += &format!(" --journal {}", shell::quoted(path));
        }
        all.push(line);
    }
    all
}

fn line(evening: &Evening, tank: &TankSpec, developer: &Used, degrees: f64) -> String {
    let seconds = tank.time_s();
    let mut line = format!(
        "soupcon record add developed {}:{:02} --formula {} --temp {}C",
        seconds / 60,
        seconds % 60,
        shell::quoted_word(tank.developer.as_deref().unwrap_or(&developer.formula.id)),
        show_short(degrees, 2)
    );
    let mut add = |option: &str, value: Option<String>| {
        if let Some(value) = value {
            // A word that begins with a stroke would be taken for an option.
            let between = if value.starts_with('-') { '=' } else { ' ' };
            line += &format!(" --{option}{between}{}", shell::quoted_word(&value));
        }
    };
    let several = developer.use_of().filter(|own| own.baths.len() > 1);
    let dilution = match several {
        // Baths one after the other have no one dilution: the first stands for them.
        Some(_) => Some("stock".to_owned()),
        None => developer.dilution().or_else(|| developer.is_undiluted().then(|| "stock".to_owned())),
    };
    add("dilution", dilution);
    let agitation = agitation_name(tank);
    add("agitation", (agitation != "inversion").then(|| agitation.to_owned()));
    let mut bottles: Vec<String> = tank.bottle.iter().cloned().collect();
    if !bottles.is_empty() {
        for (step, key) in [("stop", "stop"), ("fix", "fixer")] {
            let own = evening.baths.get(key).and_then(|own| own.bottle.clone());
            bottles.extend(own.filter(|own| evening.has(step) && !bottles.contains(own)));
        }
    }
    let name = match (&tank.film, bottles.is_empty()) {
        (Some(film), _) => Some(film.clone()),
        // Without a bottle the film is what it is found by.
        (None, true) => Some(format!("film of tank {}", tank.name)),
        (None, false) => None,
    };
    add("film", name);
    add("bottle", (!bottles.is_empty()).then(|| bottles.join(",")));
    add("films", tank.films.as_ref().map(ToString::to_string));
    add("rolls", (!tank.rolls.is_empty()).then(|| tank.rolls.join(",")));
    add("tank", tank.volume.map(|volume| format!("{}ml", show_short(volume.as_ml(), 1))));
    line
}

/// Appends the lines to the journal, all or, where one cannot be read, none; tells the journal.
pub(super) fn write(lines: &[String], context: &mut Context<'_, '_>) -> Result<String, CliError> {
    let words: Vec<Vec<String>> = lines.iter().map(|line| words_of(line)).collect();
    append_lines(&words, context)
}

/// The words of a line after `soupcon record add`, as the shell would cut them: blanks, and single quotes as [`shell::quoted_word`] writes them.
fn words_of(line: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let (mut word, mut is_quoted, mut is_open) = (String::new(), false, false);
    let mut letters = line.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\'' => {
                is_quoted = !is_quoted;
                is_open = true;
            }
            '\\' if !is_quoted => {
                word.extend(letters.next());
                is_open = true;
            }
            ' ' if !is_quoted => {
                if is_open {
                    words.push(std::mem::take(&mut word));
                }
                is_open = false;
            }
            other => {
                word.push(other);
                is_open = true;
            }
        }
    }
    if is_open {
        words.push(word);
    }
    words.drain(..words.len().min(3));
    words
}
