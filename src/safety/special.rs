//! The few things that get a full-width box before all else: chromium(VI), selenium, formaldehyde and what releases it, sulfide,
//! ammoniacal silver, strong acid with ferricyanide. Each names the safer way and where the waste goes.

use serde::Deserialize;

use super::amounts::{Equivalents, Seen};
use super::combinations::{Group, Need, names_of};
use super::rows::Rows;
use super::waste::WasteRow;
use crate::formula::Kind;
use crate::vessel::Content;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BoxRow {
    pub(super) id: String,
    pub(super) members: Vec<Group>,
    #[serde(default)]
    pub(super) needs: Vec<Need>,
    pub(super) title: String,
    pub(super) text: String,
    pub(super) waste: String,
    #[serde(default)]
    pub(super) safer: Vec<Safer>,
    pub(super) source: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Safer {
    #[serde(default)]
    pub(super) kinds: Vec<Kind>,
    pub(super) text: String,
    pub(super) formula: Option<String>,
}

/// A box to print across the page before anything else.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpecialBox {
    /// Stable name.
    pub id: String,
    /// The heading, in capitals.
    pub title: String,
    /// What it does and what to do.
    pub text: String,
    /// The safer way, named by composition.
    pub safer: Option<String>,
    /// Id of a formula that is such a safer way.
    pub safer_formula: Option<String>,
    /// Where the waste goes.
    pub waste: String,
    /// Ids of the forms it is about.
    pub about: Vec<String>,
    /// Key of the source.
    pub source: String,
}

/// The boxes of a vessel; `formula` is the one being made, which is never named as the way out of itself.
pub(super) fn boxes_of(
    contents: &[Content],
    kind: Option<Kind>,
    formula: Option<&str>,
    (boxes, waste): (&Rows<BoxRow>, &Rows<WasteRow>),
    equivalents: &Equivalents,
) -> Vec<SpecialBox> {
    let fires = |row: &&BoxRow| {
        row.members.iter().all(|group| contents.iter().any(|content| group.has(&content.form)))
            && row.needs.iter().all(|need| need.holds(equivalents, &Seen::plain(contents)))
    };
    let one = |row: &BoxRow| {
        let is_member = |content: &&Content| row.members.iter().any(|group| group.has(&content.form));
        let fits = |safer: &&Safer| {
            (safer.kinds.is_empty() || kind.is_some_and(|kind| safer.kinds.contains(&kind)))
                && (safer.formula.is_none() || safer.formula.as_deref() != formula)
        };
        let safer = row.safer.iter().find(fits);
        SpecialBox {
            id: row.id.clone(),
            title: row.title.clone(),
            text: row.text.clone(),
            safer: safer.map(|safer| safer.text.clone()),
            safer_formula: safer.and_then(|safer| safer.formula.clone()),
            waste: waste.find(&row.waste).map_or_else(String::new, |own| own.text.clone()),
            about: contents.iter().filter(is_member).map(|content| content.form.id.clone()).collect(),
            source: row.source.clone(),
        }
    };
    boxes.among(&names_of(contents), false, &[]).into_iter().filter(fires).map(one).collect()
}

#[cfg(test)]
mod tests {
    use crate::formula::Kind;
    use crate::library::Library;
    use crate::safety::SafetyData;
    use crate::vessel::Vessel;

    #[test]
    fn the_safer_toner_is_named_for_toners_only() {
        let library = Library::shipped();
        let data = SafetyData::shipped(&library);
        let formula = library.formula("sulfide-sepia-bleach-redevelop-toner").unwrap().formula;
        let vessels: Vec<Vessel> = formula.parts.iter().map(Vessel::of_part).collect();
        let safer = |kind| {
            let boxes = vessels.iter().flat_map(|own| data.boxes(own, kind, None)).collect::<Vec<_>>();
            boxes.into_iter().find(|own| own.id == "sulfide").unwrap().safer_formula
        };
        assert_eq!(safer(Some(Kind::Toner)).as_deref(), Some("thiourea-hydroxide-sepia-toner"));
        // Nobody knows what it is for, and so a toner is no way out of it.
        assert_eq!(safer(None), None);
        assert_eq!(safer(Some(Kind::Fixer)), None);
    }
}
