//! What must not be a solvent, and what must not be dissolved in one that is not water.

use super::{Objection, ObjectionKind};
use crate::substance::{Class, Form, State};
use crate::vessel::{Content, Vessel};

/// Classes of what is no solvent: it would be there in any amount, and water poured onto it spits.
const NO_SOLVENT: [Class; 8] = [
    Class::Acid,
    Class::WeakAcid,
    Class::StrongAcid,
    Class::StrongAlkali,
    Class::Oxidiser,
    Class::Aldehyde,
    Class::Hypochlorite,
    Class::Ammonia,
];

/// Why a form must not be the solvent of a part, if it must not.
pub(super) fn unsafe_solvent(place: &str, form: &Form) -> Option<Objection> {
    if form.state == State::Solid {
        let text = format!("{} is a solid, and no solvent", form.name);
        let fix = "make the part with water, and write it as an ingredient with its amount";
        return Some(Objection::not_this_way("solid-solvent", place, text, fix));
    }
    NO_SOLVENT.iter().any(|class| form.is_class(class)).then(|| Objection {
        kind: ObjectionKind::Never,
        code: "unsafe-solvent",
        place: place.to_owned(),
        text: format!(
            "{} is no solvent: a vessel full of it burns, fumes or heats, and everything meets an unlimited amount of it",
            form.name
        ),
        fix: "make the part with water, and write it as an ingredient with its amount".to_owned(),
    })
}

/// Most strong acid or caustic in a litre of a solvent that is not water, mol: half a mole of 100 kJ/mol warms a litre of a glycol by about
/// 20 K. Our own limit.
const MOST_IN_SOLVENT: f64 = 0.5;
/// Most of a weaker acid in an amine, mol/L; our own limit.
const MOST_ACID_IN_AMINE: f64 = 2.0;

/// That nobody knows how hot a part gets: strong acid or much caustic in a solvent that is not water.
pub fn untold_heat(place: &str, vessel: &Vessel) -> Option<Objection> {
    let solvent = vessel.solvent()?;
    let amount = |classes: &[Class]| {
        let own = vessel.iter().filter(|own| !own.is_solvent);
        let own = own.filter(|own| classes.iter().any(|class| own.form.is_class(class)));
        own.map(Content::at_most_moles).sum::<Option<f64>>()
    };
    let is_more = |classes: &[Class], most: f64| amount(classes).is_none_or(|moles| moles >= most);
    let is_untold = is_more(&[Class::StrongAcid, Class::StrongAlkali], MOST_IN_SOLVENT)
        || solvent.form.is_class(&Class::Amine) && is_more(&[Class::Acid], MOST_ACID_IN_AMINE);
    is_untold.then(|| {
        let text = format!("how hot this gets in {} is not known", solvent.form.name);
        Objection::not_this_way("heat-not-known", place, text, "make it with water, or take much less")
    })
}
