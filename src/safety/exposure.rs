//! What to do after something went wrong: eyes, skin, breathing, and which gases mean leaving the room.

use serde::Deserialize;

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
pub(super) enum Release {
    /// It is in the air over the bath, or may be in its making; a window is enough.
    Window,
    /// Only when acid is let in.
    WithAcid,
    /// In the making or in use, and so that one must leave.
    Leave,
}

impl Gas {
    /// How it comes off where a caution names it.
    pub(super) fn release(&self, is_danger: bool) -> Release {
        if self.window && !is_danger { Release::Window } else { Release::Leave }
    }
}

impl ExposureTexts {
    /// The lines to print, the gases that could come off first, those that mean leaving before those that mean a window.
    pub(super) fn lines(&self, meant: &[(&Gas, Release)]) -> Vec<String> {
        let named = |release: Release| -> Option<String> {
            let own = meant.iter().filter(|(_, own)| *own == release);
            let words: Vec<String> = own.map(|(gas, _)| gas.words()).collect();
            (!words.is_empty()).then(|| words.join("; "))
        };
        let mut lines = Vec::new();
        if let Some(gases) = named(Release::Leave) {
            lines.push(format!(
                "If gas comes off, {gases}: leave at once and shut the door. Go back only when the room has aired."
            ));
        }
        if let Some(gases) = named(Release::WithAcid) {
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
