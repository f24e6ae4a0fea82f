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
    gases: Vec<Gas>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Gas {
    id: String,
    name: String,
    more: Option<String>,
}

impl ExposureTexts {
    /// Whether a gas is known by that id.
    pub(super) fn has_gas(&self, id: &str) -> bool {
        self.gases.iter().any(|gas| gas.id == id)
    }

    /// The lines to print, the gases that could come off first.
    pub(super) fn lines(&self, gases: &[&str]) -> Vec<String> {
        let meant: Vec<&Gas> = self.gases.iter().filter(|gas| gases.contains(&gas.id.as_str())).collect();
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
