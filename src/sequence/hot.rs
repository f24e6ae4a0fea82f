//! How hot a vessel may be made on a stove, by what is in it already.

use super::{Action, SequenceError, Step};
use crate::formula::OperationKind;
use crate::quantity::rounding;
use crate::scale::Item;
use crate::substance::Class;

/// Boiling water, °C.
const BOILS_C: f64 = 100.0;

/// Limits by class, °C, with the reason. From memory and common practice; the gas limits are those of the tables of combinations.
const LIMITS: [(&[Class], f64, &str); 9] = [
    (&[Class::Hypochlorite], 25.0, "household bleach breaks down when warm and gives off chlorine"),
    (&[Class::Persulfate, Class::Peroxide], 30.0, "it breaks down when warm, and spits"),
    (&[Class::Ammonia], 30.0, "warm ammonia fumes"),
    (&[Class::FormaldehydeReleaser, Class::Aldehyde], 32.0, "warm, it gives off poisonous aldehyde vapour"),
    (&[Class::Flammable], 35.0, "alcohol fumes when warm, and its vapour burns"),
    (&[Class::StrongReducer], 40.0, "it breaks down when warm and gives off sulfur dioxide"),
    (&[Class::StrongAcid], 40.0, "hot strong acid fumes and spits"),
    (&[Class::Permanganate, Class::ChromiumVi], 60.0, "a hot oxidiser spits, and with acid gives off gas"),
    (&[Class::SilverSalt], 60.0, "hot silver solutions spit and stain"),
];

/// Pairs that give off gas when warm, °C: `acid-cyanoferrate-hot` of the combinations, and thiocyanate by memory.
const ACID_PAIRS: [(Class, f64, &str); 2] = [
    (Class::Cyanoferrate, 30.0, "warm acid frees hydrogen cyanide from ferricyanide or ferrocyanide"),
    (Class::Thiocyanate, 40.0, "hot acid breaks thiocyanate down to poisonous gases"),
];

/// The lowest limit of what is in a vessel.
fn limit(items: &[&Item]) -> Option<(f64, &'static str)> {
    let has = |class: &Class| items.iter().any(|item| item.form.is_class(class));
    let is_acid = [Class::Acid, Class::WeakAcid, Class::AcidicInWater, Class::StrongAcid].iter().any(has);
    let alone = LIMITS.iter().filter(|(classes, ..)| classes.iter().any(has)).map(|own| (own.1, own.2));
    let pairs = ACID_PAIRS.iter().filter(|(class, ..)| is_acid && has(class)).map(|own| (own.1, own.2));
    alone.chain(pairs).min_by(|one, other| one.0.total_cmp(&other.0))
}

/// Refuses to heat or boil what must stay cooler, and to put it into what is still hot.
///
/// # Errors
/// The first such step.
pub(super) fn judge(steps: &[Step], items: &[Item]) -> Result<(), SequenceError> {
    let mut inside: Vec<&Item> = Vec::new();
    // What the stove has made of it, until it is cooled.
    let mut celsius: Option<f64> = None;
    for step in steps {
        match step.action {
            Action::Operation(OperationKind::Boil) => celsius = Some(BOILS_C),
            Action::Operation(OperationKind::Heat) => celsius = step.celsius.or(Some(BOILS_C)),
            Action::Cool | Action::Operation(OperationKind::Cool) => celsius = None,
            _ => {}
        }
        if let (Some(form), true) = (&step.form, step.action != Action::DissolveApart) {
            inside.extend(items.iter().filter(|item| item.form.id == form.id));
        }
        let Some(asked) = celsius else { continue };
        if let Some((limit, why)) = limit(&inside).filter(|(limit, _)| asked > *limit) {
            return Err(SequenceError::UnsafeHeating {
                asked_c: rounding::show_short(asked, 1),
                limit_c: rounding::show_short(limit, 1),
                why,
            });
        }
    }
    Ok(())
}
