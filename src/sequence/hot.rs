//! How hot a vessel may be made on a stove, by what is in it already.

use super::{Action, SequenceError, Step};
use crate::formula::OperationKind;
use crate::quantity::rounding;
use crate::scale::{BatchPart, Item};
use crate::substance::{Class, State};

/// A boiling bath, °C.
pub(crate) const BOILS_C: f64 = 100.0;

/// Limits by class, °C, with the reason. From memory and common practice; the gas limits are those of the tables of combinations.
const LIMITS: [(&[Class], f64, &str); 6] = [
    (&[Class::Hypochlorite], 25.0, "household bleach breaks down when warm and gives off chlorine"),
    (&[Class::Persulfate, Class::Peroxide], 30.0, "it breaks down when warm, and spits"),
    (&[Class::Ammonia], 30.0, "warm ammonia fumes"),
    (&[Class::FormaldehydeReleaser, Class::Aldehyde], 32.0, "warm, it gives off poisonous aldehyde vapour"),
    (&[Class::Flammable], 35.0, "alcohol fumes when warm, and its vapour burns"),
    (&[Class::StrongReducer], 40.0, "it breaks down when warm and gives off sulfur dioxide"),
];

/// What gives off gas when warm and acid, °C: `acid-cyanoferrate-hot` of the combinations, the rest by memory.
const WITH_ACID: [(Class, f64, &str); 4] = [
    (Class::Cyanoferrate, 30.0, "warm acid frees hydrogen cyanide from ferricyanide or ferrocyanide"),
    (Class::Thiocyanate, 40.0, "hot acid breaks thiocyanate down to poisonous gases"),
    (Class::Permanganate, 60.0, "a hot acid oxidiser spits and gives off gas"),
    (Class::ChromiumVi, 60.0, "a hot acid oxidiser spits and gives off gas"),
];

const ACIDS: [Class; 4] = [Class::Acid, Class::WeakAcid, Class::AcidicInWater, Class::StrongAcid];
const ALKALIS: [Class; 3] = [Class::StrongAlkali, Class::Alkali, Class::Carbonate];

/// From so much on hot strong acid fumes, g/L; our own limit.
const MUCH_ACID_G_PER_L: f64 = 20.0;
const HOT_ACID_C: f64 = 40.0;
/// Of an ammonium salt beside alkali.
const HOT_AMMONIUM_C: f64 = 50.0;
/// Of bisulfite and metabisulfite; published hardeners dissolve them at 52 °C.
const HOT_BISULFITE_C: f64 = 65.0;

/// The lowest limit of what is in a vessel of so many litres.
fn limit(items: &[&Item], litres: f64) -> Option<(f64, &'static str)> {
    let has = |class: &Class| items.iter().any(|item| item.form.is_class(class));
    let is_alkaline = ALKALIS.iter().any(has);
    let is_acid = ACIDS.iter().any(has) && !is_alkaline;
    let mut all: Vec<(f64, &'static str)> = Vec::new();
    all.extend(LIMITS.iter().filter(|(classes, ..)| classes.iter().any(has)).map(|own| (own.1, own.2)));
    all.extend(WITH_ACID.iter().filter(|(class, ..)| is_acid && has(class)).map(|own| (own.1, own.2)));
    let acids = items.iter().filter(|item| item.form.is_class(&Class::StrongAcid));
    let grams: f64 = acids
        .map(|item| {
            item.amount
                * item.form.density_g_per_ml.filter(|_| item.form.state != State::Solid).unwrap_or(1.0)
        })
        .sum();
    if grams > MUCH_ACID_G_PER_L * litres {
        all.push((HOT_ACID_C, "hot strong acid fumes and spits"));
    }
    if has(&Class::Ammonium) && is_alkaline {
        all.push((HOT_AMMONIUM_C, "hot alkali drives ammonia off the ammonium salt"));
    }
    let is_bisulfite =
        |item: &&Item| item.form.is_class(&Class::Sulfite) && item.form.is_class(&Class::AcidicInWater);
    if items.iter().any(is_bisulfite) {
        all.push((HOT_BISULFITE_C, "hot bisulfite gives off sulfur dioxide"));
    }
    all.into_iter().min_by(|one, other| one.0.total_cmp(&other.0))
}

/// Refuses to heat or boil what must stay cooler, and to put it into what is still hot.
///
/// # Errors
/// The first such step.
pub(super) fn judge(steps: &[Step], batch: &BatchPart, start_c: Option<f64>) -> Result<(), SequenceError> {
    let (items, litres) = (&batch.items, batch.volume.as_litres());
    let mut inside: Vec<&Item> = Vec::new();
    // What the stove, or water as warm as the file asks, has made of it, until it is cooled.
    let mut celsius: Option<f64> = start_c;
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
        if let Some((limit, why)) = limit(&inside, litres).filter(|(limit, _)| asked > *limit) {
            return Err(SequenceError::UnsafeHeating {
                asked_c: rounding::show_short(asked, 1),
                limit_c: rounding::show_short(limit, 1),
                why,
            });
        }
    }
    Ok(())
}
