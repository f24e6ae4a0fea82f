//! The lines of the table of equilibria that some chemicals need, so that a sheet does not read what it does not use.
//!
//! The table holds one row a line, which a test keeps true: over the whole shipped library a prediction from the excerpt is the
//! prediction from the whole table to the last figure.
//!
//! A sheet reads only the rows of its own chemicals. What is given up: the table keeps one row a line.

use std::collections::BTreeSet;

/// Always kept: sodium, whose interaction figures stand in for potassium and ammonium; both as what a titration adds.
const ALWAYS: [&str; 2] = ["Na+", "Cl-"];
/// Species that the model brings without a row.
const BUILT_IN: [&str; 2] = ["H+", "OH-"];

/// The text with only the rows that concern these substances (parent ids).
pub(super) fn excerpt(text: &str, parents: &BTreeSet<&str>) -> String {
    let rows: Vec<&str> = text
        .lines()
        .filter(|line| after(line, "  { id = \"").is_some_and(|rest| parents.contains(upto_quote(rest))))
        .collect();
    let components: BTreeSet<&str> = names_of_components(text)
        .filter(|name| ALWAYS.contains(name) || rows.iter().any(|row| mentions(row, name)))
        .collect();
    let all: Vec<&str> = names_of_components(text).collect();
    let is_dropped = |name: &str| all.contains(&name) && !components.contains(name);
    let mut species: BTreeSet<&str> = components.iter().copied().chain(BUILT_IN).collect();
    let mut kept: Vec<String> = Vec::new();
    let mut interactions: Vec<&str> = Vec::new();
    let mut skipping = false;
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        if line.trim_start().starts_with('#') || line.trim().is_empty() {
            continue;
        }
        if line.starts_with('[') {
            let name = lines.peek().and_then(|next| after(next, "name = \"")).map(upto_quote);
            skipping =
                line.starts_with("[[components]]") && !name.is_some_and(|name| components.contains(name));
        }
        if skipping {
            continue;
        }
        if line.starts_with("  { id = \"") {
            if rows.contains(&line) {
                kept.push(line.to_owned());
            }
        } else if line.starts_with("  { cation = \"") {
            interactions.push(line);
        } else if let Some(rest) = after(line, "  { name = \"") {
            let with = line.split_once("with = {").map_or("", |(_, rest)| rest);
            let partners = with.split_once('}').map_or("", |(inside, _)| inside);
            if !quoted(partners).any(is_dropped) {
                species.insert(upto_quote(rest));
                kept.push(line.to_owned());
            }
        } else if let Some(rest) = after(line, "complexes_missing_with = [") {
            let names: Vec<String> =
                quoted(rest).filter(|name| !is_dropped(name)).map(|name| format!("\"{name}\"")).collect();
            kept.push(format!("complexes_missing_with = [{}]", names.join(", ")));
        } else {
            kept.push(line.to_owned());
        }
    }
    // The interactions stand before the components whose species they name, so they are chosen last and put back in their place.
    let chosen =
        interactions.into_iter().filter(|line| quoted(line).take(2).all(|name| species.contains(name)));
    let place =
        kept.iter().position(|line| line.starts_with("interactions = [")).map_or(0, |place| place + 1);
    kept.splice(place..place, chosen.map(str::to_owned));
    kept.join("\n")
}

fn names_of_components(text: &str) -> impl Iterator<Item = &str> {
    text.lines().filter_map(|line| after(line, "name = \"")).map(upto_quote)
}

/// Whether a row of a substance counts a component: `"Na+" = 2` or `hydroquinone = 1` among its `components`.
fn mentions(row: &str, name: &str) -> bool {
    let Some((_, rest)) = row.split_once(" components = {") else { return false };
    let inside = rest.split_once('}').map_or(rest, |(inside, _)| inside);
    inside
        .split(',')
        .filter_map(|entry| entry.split_once('='))
        .any(|(key, _)| key.trim().trim_matches('"') == name)
}

fn after<'t>(line: &'t str, prefix: &str) -> Option<&'t str> {
    line.strip_prefix(prefix)
}

fn upto_quote(text: &str) -> &str {
    text.split('"').next().unwrap_or_default()
}

/// The texts between quotes.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.split('"').skip(1).step_by(2)
}
