//! What a substance asks to be worn, and which air it asks for, beyond what its hazard statements ask: gloves that hold, a face shield, an
//! open window. A statement says how a substance harms, not what keeps it off: thin nitrile stops metol and not strong sulfuric acid.

use serde::Deserialize;

use super::amounts::{Equivalents, Seen};
use super::combinations::{Group, Need, names_of};
use super::rows::Rows;
use super::statements::Wear;
use crate::vessel::Content;

/// What to wear where something of each group is in a vessel.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WearRow {
    /// Stable name, for readers of the file.
    #[serde(rename = "id")]
    _id: String,
    members: Vec<Group>,
    #[serde(default)]
    needs: Vec<Need>,
    wear: Vec<Wear>,
    pub(super) source: String,
}

impl WearRow {
    /// Names of classes, parents and forms that it waits for.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.members.iter().flat_map(Group::names)
    }
}

/// What a vessel asks for while it is filled.
pub(super) fn wear_of(table: &Rows<WearRow>, vessel: &[Content], equivalents: &Equivalents) -> Vec<Wear> {
    let rows = table.among(&names_of(vessel), false, &[]).into_iter();
    let meant = rows.filter(|row| {
        row.members.iter().all(|group| vessel.iter().any(|content| group.has(&content.form)))
            && row.needs.iter().all(|need| need.holds(equivalents, &Seen::plain(vessel)))
    });
    meant.flat_map(|row| row.wear.iter().copied()).collect()
}
