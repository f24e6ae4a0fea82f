//! Hazards of the substances themselves, while they are weighed and measured; the bath that comes of them is another matter.

use super::statements::{Statements, Wear, signal_of};
use crate::substance::{Form, HazardStatus, Signal, State};
use crate::vessel::Content;

/// What is said of a substance of which no hazard is known.
pub const NOT_KNOWN: &str = "hazard not known: treat as harmful";

/// The hazards of one substance as weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct PowderHazard {
    /// Id of the form.
    pub id: String,
    /// As printed, with hydrate or strength.
    pub name: String,
    /// How sure the statements are.
    pub status: HazardStatus,
    /// Whether nothing reliable is known.
    pub is_unknown: bool,
    /// The signal word.
    pub signal: Option<Signal>,
    /// Plain words, one line a statement, [`NOT_KNOWN`] first where it applies.
    pub plain: Vec<String>,
    /// Code and standard wording of each statement.
    pub statements: Vec<(String, String)>,
    /// Empty where nothing is asked for.
    pub wear: Vec<Wear>,
    /// What to know of the statements.
    pub remark: Option<String>,
    /// Key of the source.
    pub source: String,
}

impl PowderHazard {
    /// Signal word and plain words in one line; what nobody knows is told as such.
    pub fn line(&self) -> String {
        let signal = self.signal.map(|signal| format!("{}.", signal.word()));
        let plain = self.plain.iter().map(|text| {
            if text == NOT_KNOWN && self.plain.len() > 1 { format!("{text}.") } else { text.clone() }
        });
        let words: Vec<String> = signal.into_iter().chain(plain).collect();
        if words.is_empty() {
            return if self.status == HazardStatus::NoneKnown {
                "Not known to be hazardous (no document read); handle it as any chemical."
            } else {
                "Not classified as hazardous, as its source says; handle it as any chemical."
            }
            .to_owned();
        }
        words.join(" ")
    }

    /// The standard statements with their codes: `Harmful if swallowed. (H302)`.
    pub fn with_codes(&self) -> Vec<String> {
        self.statements
            .iter()
            .map(|(code, text)| if text.is_empty() { code.clone() } else { format!("{text} ({code})") })
            .collect()
    }
}

pub(super) fn hazard_of(form: &Form, statements: &Statements) -> PowderHazard {
    let hazards = &form.hazards;
    let is_unknown = hazards.is_unknown();
    let codes: Vec<&String> = hazards.statements.iter().chain(&hazards.supplementary).collect();
    let mut plain: Vec<String> = Vec::new();
    if is_unknown {
        plain.push(NOT_KNOWN.to_owned());
    }
    plain.extend(codes.iter().map(|code| statements.plain(code)));
    let mut wear: Vec<Wear> = codes
        .iter()
        .filter_map(|code| statements.get(code))
        .flat_map(|statement| statement.wear.iter().copied())
        .chain(if is_unknown {
            vec![Wear::NitrileGloves, Wear::EyeProtection, Wear::DustMask]
        } else {
            Vec::new()
        })
        // What is said of breathing means the dust of a solid, and the vapour of a liquid; a solid that gives off a gas has a row of its own.
        .filter_map(|wear| match (wear, form.state == State::Solid) {
            (Wear::DustMask, false) => None,
            (Wear::Ventilation, true) => Some(Wear::DustMask),
            (wear, _) => Some(wear),
        })
        .collect();
    wear.sort();
    wear.dedup();
    PowderHazard {
        id: form.id.clone(),
        name: form.name.clone(),
        status: hazards.status,
        is_unknown,
        signal: hazards.signal.or_else(|| codes.iter().filter_map(|code| signal_of(code)).max()),
        plain,
        statements: codes
            .iter()
            .map(|code| {
                ((*code).clone(), statements.get(code).map_or_else(String::new, |own| own.text.clone()))
            })
            .collect(),
        wear,
        remark: hazards.remark.clone(),
        source: hazards.source.clone(),
    }
}

/// The hazards of all substances of a recipe, each form once, plain water left out.
pub(super) fn hazards_of(contents: &[Content], statements: &Statements) -> Vec<PowderHazard> {
    let mut all: Vec<PowderHazard> = Vec::new();
    for content in contents.iter().filter(|content| !content.is_water()) {
        if !all.iter().any(|own| own.id == content.form.id) {
            all.push(hazard_of(&content.form, statements));
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Chemicals as _;
    use crate::library::Library;
    use crate::safety::SafetyData;

    fn wear(id: &str) -> Vec<Wear> {
        let library = Library::shipped();
        hazard_of(&library.form(id).unwrap(), SafetyData::shipped(&library).statements()).wear
    }

    #[test]
    fn what_is_breathed_of_a_solid_is_dust_and_of_a_liquid_vapour() {
        // Both are poisonous when breathed (H331, H330): a mask is for dust, air for vapour. Common practice, no source.
        let solid = wear("p-phenylenediamine");
        assert!(solid.contains(&Wear::DustMask) && !solid.contains(&Wear::Ventilation), "{solid:?}");
        let liquid = wear("glutaraldehyde-25");
        assert!(liquid.contains(&Wear::Ventilation) && !liquid.contains(&Wear::DustMask), "{liquid:?}");
    }

    #[test]
    fn each_thing_to_wear_is_named_once() {
        // Five of its statements ask for gloves or eye protection.
        for id in ["potassium-dichromate", "p-phenylenediamine", "glutaraldehyde-25", "sodium-hydroxide"] {
            let worn = wear(id);
            for thing in &worn {
                assert_eq!(worn.iter().filter(|own| *own == thing).count(), 1, "{id}: {worn:?}");
            }
            assert!(worn.len() > 1, "{id}: {worn:?}");
        }
    }

    #[test]
    fn gloves_are_worn_and_air_is_not() {
        assert!(Wear::NitrileGloves.is_worn() && Wear::DustMask.is_worn() && Wear::Apron.is_worn());
        assert!(!Wear::Ventilation.is_worn() && !Wear::Extraction.is_worn());
    }

    #[test]
    fn what_nobody_knows_is_told_first_and_what_is_no_hazard_by_who_said_so() {
        let library = Library::shipped();
        let data = SafetyData::shipped(&library);
        let salt = hazard_of(&library.form("sodium-chloride").unwrap(), data.statements());
        let line = |plain: &[&str], status, signal| {
            let plain = plain.iter().map(|own| (*own).to_owned()).collect();
            PowderHazard { status, signal, plain, ..salt.clone() }.line()
        };
        let said = HazardStatus::NotClassified;
        assert_eq!(line(&[NOT_KNOWN], said, None), NOT_KNOWN);
        assert_eq!(line(&[NOT_KNOWN, "It stings."], said, None), format!("{NOT_KNOWN}. It stings."));
        assert_eq!(
            line(&["It stings.", "It stains."], said, Some(Signal::Danger)),
            "Danger. It stings. It stains."
        );
        assert!(line(&[], HazardStatus::NoneKnown, None).contains("no document read"));
        assert!(line(&[], said, None).contains("as its source says"));
    }

    #[test]
    fn each_chemical_is_told_once_and_water_not_at_all() {
        let library = Library::shipped();
        let content = |id: &str| Content::grams(&library.form(id).unwrap(), 5.0);
        let all = [content("metol"), content("water"), content("metol"), content("hydroquinone")];
        let told = hazards_of(&all, SafetyData::shipped(&library).statements());
        assert_eq!(told.iter().map(|own| own.id.as_str()).collect::<Vec<_>>(), ["metol", "hydroquinone"]);
    }
}
