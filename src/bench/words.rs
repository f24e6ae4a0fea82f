//! The few words of a bench page: a table by class of statement, box, gas and chemical (`tables/bench-words.toml`), in rank order.
//!
//! Nothing is judged here. The table says how a hazard that another module found is told in two or three words; what it does not know is
//! told in the words of that module, so that nothing is lost.

use serde::Deserialize;

use crate::diagnostic::{Finding, TableSource, read_table};
use crate::substance::Form;

const FILE: &str = "tables/bench-words.toml";
/// Version of the table that this program reads.
const FORMAT: u32 = 1;

/// How a class of statements is told.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MindRow {
    /// Stable name.
    pub id: String,
    /// Codes of the statements; `H360` stands for `H360FD` too.
    pub codes: Vec<String>,
    /// Classes of which it is said whatever their statements are.
    #[serde(default)]
    pub classes: Vec<String>,
    /// Said before the names of the chemicals.
    pub phrase: String,
    /// Said of the finished solution.
    pub bath: String,
    /// Said above the table, before a jar is opened.
    pub opening: Option<String>,
}

impl MindRow {
    /// Whether the row is about a statement.
    pub fn has(&self, code: &str) -> bool {
        self.codes.iter().any(|own| {
            code.strip_prefix(own.as_str())
                .is_some_and(|rest| rest.chars().all(|letter| letter.is_ascii_alphabetic()))
        })
    }
}

/// A special box in one line.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OpeningRow {
    /// Id of the box.
    pub id: String,
    /// The line.
    pub text: String,
}

/// How much air a batch asks for.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AirWords {
    /// An open window.
    pub open: String,
    /// A gas can come off.
    pub gas: String,
    /// A special box asks for more.
    pub closed: String,
}

#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
struct NeverRow {
    any: Vec<String>,
    #[serde(default)]
    with: Vec<String>,
    #[serde(default)]
    beside: Vec<String>,
    phrase: String,
}

/// What to do about a gas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum GasAct {
    /// Leave the room.
    Leave,
    /// Let air in.
    Air,
}

/// A gas in one line.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GasRow {
    /// Its id among the precautions.
    pub id: String,
    /// What to do.
    pub act: GasAct,
    /// The line.
    pub phrase: String,
}

/// First aid, a line each.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "each field is what it is about")]
pub struct FirstAid {
    pub eyes: String,
    pub skin: String,
    pub mouth: String,
    pub air: String,
    pub call: String,
}

/// The table.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BenchWords {
    format: u32,
    mind: Vec<MindRow>,
    opening: Vec<OpeningRow>,
    air: AirWords,
    never: Vec<NeverRow>,
    kept_by_order: Vec<String>,
    gas: Vec<GasRow>,
    first_aid: FirstAid,
}

/// Whether one phrase of what must not go in says all that another says: "acid or an oxidiser into it" says "strong acid into it" too.
fn says_all_of(phrase: &str, other: &str) -> bool {
    // What must not come near it must not go into it.
    if let Some(kept_away) = phrase.strip_prefix("any ").and_then(|rest| rest.strip_suffix(" near it")) {
        let is_kept_away = |own: &str| own == kept_away || own.ends_with(&format!(" {kept_away}"));
        return phrase == other || other.strip_suffix(" into it").is_some_and(is_kept_away);
    }
    let alternatives = |phrase: &str| -> Option<Vec<String>> {
        let list = phrase.strip_suffix(" into it")?.replace(", or ", " or ").replace(", ", " or ");
        let bare = |one: &str| one.trim_start_matches("an ").trim_start_matches("a ").to_owned();
        Some(list.split(" or ").map(bare).collect())
    };
    let (Some(more), Some(less)) = (alternatives(phrase), alternatives(other)) else {
        return phrase == other;
    };
    let is_said = |one: &String| more.iter().any(|own| own == one || one.ends_with(&format!(" {own}")));
    less.iter().all(is_said)
}

impl BenchWords {
    /// Reads the table.
    ///
    /// # Errors
    /// It is not of its shape.
    pub fn parse<'a>(source: impl Into<TableSource<'a>>) -> Result<Self, Finding> {
        let table: Self = read_table(source, FILE)?;
        if table.format != FORMAT {
            let message = format!("format = {} is not known to this version", table.format);
            return Err(Finding::error("format", FILE, Some(1), message, format!("write format = {FORMAT}")));
        }
        Ok(table)
    }

    /// The rows of MIND, worst first.
    pub fn mind(&self) -> &[MindRow] {
        &self.mind
    }

    /// Rank and row of a statement; none for one that the page does not tell.
    pub fn mind_row(&self, code: &str) -> Option<(usize, &MindRow)> {
        self.mind.iter().enumerate().find(|(_, row)| row.has(code))
    }

    /// Whether a note says no more than the order of the rows does, or what the bath is: its place is beside the reasons.
    pub fn is_kept_by_order(&self, id: &str) -> bool {
        self.kept_by_order.iter().any(|own| own == id)
    }

    /// The line of a special box; its title where the table does not know it.
    pub fn opening<'a>(&'a self, id: &str, title: &'a str) -> &'a str {
        self.opening.iter().find(|row| row.id == id).map_or(title, |row| &row.text)
    }

    /// How the air is told.
    pub fn air(&self) -> &AirWords {
        &self.air
    }

    /// What must never go into these chemicals, the gravest first, each once.
    pub fn never<'a>(&'a self, forms: &[&Form]) -> Vec<&'a str> {
        let is_there = |names: &[String]| {
            names.iter().any(|name| {
                forms
                    .iter()
                    .any(|form| form.id == *name || form.parent.id == *name || form.is_class_named(name))
            })
        };
        let mut phrases: Vec<&str> = Vec::new();
        for row in &self.never {
            let fires = is_there(&row.any)
                && [&row.with, &row.beside].into_iter().all(|group| group.is_empty() || is_there(group));
            let phrase = row.phrase.as_str();
            if !fires || phrases.iter().any(|told| says_all_of(told, phrase)) {
                continue;
            }
            // What says more takes the rank of what it says too.
            let place = phrases.iter().position(|told| says_all_of(phrase, told)).unwrap_or(phrases.len());
            phrases.retain(|told| !says_all_of(phrase, told));
            phrases.insert(place, phrase);
        }
        phrases
    }

    /// The lines of gases, the gravest first; one that the table does not know is named.
    pub fn gases(&self, ids: &[String]) -> Vec<GasRow> {
        let mut rows: Vec<GasRow> = self.gas.iter().filter(|row| ids.contains(&row.id)).cloned().collect();
        let unknown = ids.iter().filter(|id| !self.gas.iter().any(|row| row.id == **id));
        rows.extend(unknown.map(|id| GasRow {
            id: id.clone(),
            act: GasAct::Leave,
            phrase: format!("{}: out at once, door shut", id.replace('-', " ")),
        }));
        rows
    }

    /// What stands at the foot of every page.
    pub fn first_aid(&self) -> &FirstAid {
        &self.first_aid
    }

    /// Ids of boxes and gases in the table, for tests.
    pub fn ids(&self) -> (Vec<&str>, Vec<&str>) {
        let boxes = self.opening.iter().map(|row| row.id.as_str()).collect();
        (boxes, self.gas.iter().map(|row| row.id.as_str()).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::says_all_of;

    #[test]
    fn what_another_phrase_says_too_is_not_said_twice() {
        assert!(says_all_of("acid or an oxidiser into it", "acid into it"));
        assert!(says_all_of("acid into it", "strong acid into it"));
        assert!(says_all_of("water onto the caustic, or acid into it", "acid into it"));
        assert!(says_all_of("any acid near it", "any acid near it"));
        assert!(says_all_of("any acid near it", "strong acid into it"));
        // These say less, or something else.
        assert!(!says_all_of("strong acid into it", "acid into it"));
        assert!(!says_all_of("acid into it warm, or before the sulfite", "acid into it"));
        assert!(!says_all_of("ammonia into it", "ammonia or caustic into it"));
        assert!(!says_all_of("acid into it", "any acid near it"));
        assert!(!says_all_of("hydrochloric acid into it", "strong acid into it"));
    }
}
