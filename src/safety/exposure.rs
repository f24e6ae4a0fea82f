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
}

impl ExposureTexts {
    /// The lines to print, the gases that could come off first.
    pub(super) fn lines(&self, meant: &[&Gas]) -> Vec<String> {
        let mut lines = Vec::new();
        if !meant.is_empty() {
            let named: Vec<String> = meant
                .iter()
                .map(|gas| match &gas.more {
                    Some(more) => format!("{} ({more})", gas.name),
                    None => gas.name.clone(),
                })
                .collect();
            let named = named.join("; ");
            lines.push(format!("Gas could come off here: {named}. Leave the room at once, door shut, and air it from outside."));
        }
        for text in [&self.eyes, &self.skin, &self.breathing, &self.swallowed, &self.help] {
            lines.push(text.clone());
        }
        lines
    }
}
