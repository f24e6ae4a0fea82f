//! What to do after something went wrong: eyes, skin, breathing, and which gases mean leaving the room.

use serde::Deserialize;

use super::amounts::is_named;
use super::combinations::{Caution, Severity};
use super::rows::{Named, Rows};
use crate::vessel::Content;

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ExposureTexts {
    pub(super) source: String,
    eyes: String,
    skin: String,
    breathing: String,
    swallowed: String,
    help: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Gas {
    pub(super) id: String,
    name: String,
    more: Option<String>,
    /// An open window is enough, where no caution of the gravest kind brings it up.
    #[serde(default)]
    window: bool,
    /// Classes and parents that give it off by themselves, at room temperature.
    #[serde(default)]
    pub(super) from: Vec<String>,
    /// Classes and parents that give it off as soon as acid comes to them.
    #[serde(default)]
    pub(super) with_acid: Vec<String>,
    /// Any acid brings it up, a stop bath carried over too; else only a strong or a hot one.
    #[serde(default)]
    any_acid: bool,
}

impl Named for Gas {
    const KEY: &'static str = "id";

    fn row_name(&self) -> &str {
        &self.id
    }
}

impl Gas {
    fn words(&self) -> String {
        match &self.more {
            Some(more) => format!("{} ({more})", self.name),
            None => self.name.clone(),
        }
    }
}

/// How a gas can come off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Release {
    /// It is in the air over the bath, or may be in its making; a window is enough.
    Window,
    /// Only when strong or hot acid is let in.
    WithAcid,
    /// As soon as any acid comes to it, if only what a film carries over: told on every paper.
    WithAnyAcid,
    /// In the making or in use, and so that one must leave.
    Leave,
}

/// A gas that can come off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GasRelease {
    /// Its id among the precautions.
    pub id: String,
    /// As printed: `sulfur dioxide`.
    pub name: String,
    /// How it comes off.
    pub release: Release,
    /// Its name, with what to know of it.
    words: String,
}

impl GasRelease {
    /// The names of those that come off in one way: `chlorine, bromine`.
    fn named(gases: &[Self], release: Release, word: impl Fn(&Self) -> &str, joint: &str) -> Option<String> {
        let own: Vec<&str> = gases.iter().filter(|own| own.release == release).map(word).collect();
        (!own.is_empty()).then(|| own.join(joint))
    }

    /// What a label says of them, the gravest first; `poured` where they come off only when the parts are poured together. What comes off
    /// only when acid is let in stands there among the baths that must not come beside it.
    pub fn label_lines(gases: &[Self], poured: bool) -> Vec<String> {
        let named = |release| Self::named(gases, release, |own| &own.name, ", ");
        let can = if poured { "Poured together it can" } else { "Can" };
        let leave = named(Release::Leave)
            .map(|names| format!("{can} give off {names}: if it does, leave at once and shut the door."));
        let acid = named(Release::WithAnyAcid).filter(|_| !poured).map(|names| {
            format!("With any acid it gives off {names}: then leave at once and shut the door.")
        });
        let window = named(Release::Window).map(|names| format!("{can} smell of {names}: open a window."));
        leave.into_iter().chain(acid).chain(window).collect()
    }
}

impl Gas {
    /// How it comes off where a caution names it.
    fn release(&self, severity: Severity) -> Release {
        match severity {
            Severity::Note => Release::Window,
            Severity::Warning if self.window => Release::Window,
            Severity::Warning | Severity::Danger => Release::Leave,
        }
    }
}

/// The gases that can come off, in the making (by the cautions found), from the bath by itself, and when acid comes to it.
pub(super) fn gases(table: &Rows<Gas>, contents: &[Content], cautions: &[&Caution]) -> Vec<GasRelease> {
    let named = |names: &[String]| {
        contents.iter().any(|content| names.iter().any(|name| is_named(&content.form, name)))
    };
    let mut meant: Vec<GasRelease> = Vec::new();
    for gas in table.all() {
        let own = cautions.iter().filter(|caution| caution.gas.as_deref() == Some(gas.id.as_str()));
        let release = own
            .map(|caution| caution.severity)
            .max()
            .map(|severity| gas.release(severity))
            .or_else(|| named(&gas.from).then(|| gas.release(Severity::Warning)))
            .or_else(|| {
                let way = if gas.any_acid { Release::WithAnyAcid } else { Release::WithAcid };
                named(&gas.with_acid).then_some(way)
            });
        meant.extend(release.map(|release| GasRelease {
            id: gas.id.clone(),
            name: gas.name.clone(),
            words: gas.words(),
            release,
        }));
    }
    meant
}

impl ExposureTexts {
    /// The lines to print, the gases that could come off first, those that mean leaving before those that mean a window.
    pub(super) fn lines(&self, meant: &[GasRelease]) -> Vec<String> {
        let named = |release| GasRelease::named(meant, release, |own| &own.words, "; ");
        let mut lines = Vec::new();
        if let Some(gases) = named(Release::Leave) {
            lines.push(format!(
                "If gas comes off, {gases}: leave at once and shut the door. Go back only when the room has aired."
            ));
        }
        for gases in [Release::WithAnyAcid, Release::WithAcid].into_iter().filter_map(named) {
            lines.push(format!(
                "With acid it gives off {gases}: then leave at once and shut the door. Go back only when the room has aired."
            ));
        }
        if let Some(gases) = named(Release::Window) {
            lines.push(format!(
                "It can smell of {gases}: open a window; where it stings, go out and air the room."
            ));
        }
        for text in [&self.eyes, &self.skin, &self.breathing, &self.swallowed, &self.help] {
            lines.push(text.clone());
        }
        lines
    }
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::safety::SafetyData;
    use crate::vessel::Vessel;

    #[test]
    fn a_gas_comes_off_a_bath_that_holds_other_things_too() {
        let library = Library::shipped();
        let data = SafetyData::shipped(&library);
        let formula = library.formula("peroxide-ammonia-thiosulfate-eliminator").unwrap().formula;
        let gases = data.gases(&Vessel::of_part(&formula.parts[0]), &[]);
        assert!(gases.iter().any(|own| own.id == "ammonia"), "{gases:?}");
    }
}
