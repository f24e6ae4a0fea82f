//! Water to start with: how much, how warm, and why; derived from the contents unless the file says otherwise and that is safe.
//!
//! The start water of the file wins over the derived one, for the source knows its formula; but not where it is unsafe (caustic,
//! acid, persulfate, paraformaldehyde, chrome alum): that is refused with the reason.

use super::SequenceError;
use super::stage::{Contents, Family, Stage, is_weighed_solid};
use crate::formula::Part;
use crate::quantity::{USUAL_C, rounding};
use crate::scale::dose::measuring_step_ml;
use crate::scale::{BatchPart, Item, Unit};
use crate::substance::{Class, State};

/// Share of the volume that starts a developer; common practice, no source (70 to 75 % is usual).
const DEVELOPER_SHARE: f64 = 0.70;
/// Share that starts a fixer or another bath rich in salts; common practice, no source.
const FIXER_SHARE: f64 = 0.60;
/// Millilitres by which a gram of dissolved solid swells the solution; half a millilitre is on the careful side. Computed from
/// densities of solutions: 240 g/L hypo crystals 0.46, 100 g/L sulfite 0.2 (densities from memory).
const SWELLING_ML_PER_G: f64 = 0.5;
/// The same for carbonate, sulfite and hydroxide, which take up little room: a litre with 750 g of potassium carbonate weighs about
/// 1.54 kg and holds 790 mL of water, 0.28 mL a gram (density from memory).
const DENSE_SWELLING_ML_PER_G: f64 = 0.3;
/// Grams of carbonate per millilitre of batch above which the start is cold; common practice, no source.
const STRONG_CARBONATE_G_PER_ML: f64 = 0.2;
/// Grams of alum per litre above which it is not dissolved apart; common practice, no source.
const MOST_ALUM_APART_G_PER_L: f64 = 60.0;
/// Warmest water that alcohol goes into, °C: no warmer than the hand, or it fumes and its vapour burns; common practice, no source.
const ALCOHOL_MOST_C: f64 = 35.0;
/// Millilitres of water a gram of iodide in which iodine dissolves quickly: a strong solution of it; common practice, no source.
const IODIDE_WATER_ML_PER_G: f64 = 5.0;
/// Part of the room left that the start may fill.
const ROOM_SHARE: f64 = 0.95;

/// The start of a part.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Start {
    /// Millilitres of water (or of the part's own solvent).
    pub millilitres: f64,
    /// Its temperature, °C; none where the solvent is not water and no source gives it.
    pub celsius: Option<f64>,
    /// Why that warm or cold.
    pub why: &'static str,
    /// Whether the formula's file gave volume or temperature.
    pub from_file: bool,
}

/// Room that is taken in a part by what is poured in, mL: liquids, doses, measured solutions.
fn liquids_ml(items: &[Item]) -> f64 {
    items
        .iter()
        .map(|item| match (&item.dose, item.unit) {
            (Some(dose), _) => dose.millilitres,
            (None, Unit::Millilitre) => item.amount,
            (None, Unit::Gram) if item.form.state != State::Solid => {
                item.amount / item.form.density_g_per_ml.unwrap_or(1.0)
            }
            (None, Unit::Gram) => 0.0,
        })
        .sum()
}

/// Millilitres by which the solids of a part swell it.
fn swelling_ml(items: &[Item]) -> f64 {
    let each = |item: &Item| {
        let is_dense = [Class::Carbonate, Class::Sulfite, Class::StrongAlkali]
            .iter()
            .any(|class| item.form.is_class(class));
        item.amount * if is_dense { DENSE_SWELLING_ML_PER_G } else { SWELLING_ML_PER_G }
    };
    items.iter().filter(|item| is_weighed_solid(item)).map(each).sum()
}

/// Kelvin by which the file's own temperature may differ from the derived one and still have its reason.
const SAME_REASON_K: f64 = 6.0;

/// The start of a part; `apart_ml` is the water in which ingredients are dissolved apart and poured in.
///
/// # Errors
/// The file asks for a temperature that is unsafe with what goes in.
pub(super) fn start(
    batch: &BatchPart,
    source: &Part,
    contents: &Contents,
    apart_ml: f64,
) -> Result<Start, SequenceError> {
    let volume_ml = batch.volume.as_ml();
    let room =
        (volume_ml - liquids_ml(&batch.items) - swelling_ml(&batch.items) - apart_ml).max(0.0) * ROOM_SHARE;
    let heats = |item: &Item| heats_its_vessel(item) && !dissolves_apart_from(item, contents);
    let share = if batch.items.iter().any(heats) {
        // What makes heat of its own goes into all the water there is room for: it stays cooler.
        1.0
    } else if contents.family == Family::Developer {
        DEVELOPER_SHARE
    } else {
        FIXER_SHARE
    };
    if source.solvent.is_some() {
        let millilitres = volume_ml * 0.8 - liquids_ml(&batch.items);
        return Ok(Start {
            millilitres: round_down(millilitres.max(volume_ml * 0.5)),
            celsius: source.mixing.temperature_c,
            why: "warmed, so that the solids dissolve; leave room for them",
            from_file: source.mixing.temperature_c.is_some(),
        });
    }
    let (limit, limit_why) = safe_limit(&batch.items, contents);
    if let Some(celsius) = source.mixing.temperature_c.filter(|celsius| *celsius > limit) {
        return Err(SequenceError::UnsafeTemperature {
            asked_c: rounding::show_short(celsius, 1),
            limit_c: rounding::show_short(limit, 1),
            why: limit_why,
        });
    }
    let (derived_c, why) = temperature(&batch.items, contents, volume_ml);
    // A bath that is to end cool still needs water in which its oxidiser dissolves.
    let weighed_in: Vec<&Item> =
        batch.items.iter().filter(|item| !dissolves_apart_from(item, contents)).collect();
    let roomy_ml = source.mixing.water_ml_per_litre.map_or(room, |water| water * volume_ml / 1000.0);
    let warmer = warm_enough(&weighed_in, derived_c, limit, roomy_ml);
    let (derived_c, why) = match warmer {
        Some(celsius) => (celsius, "warm enough for the oxidiser to dissolve, which chills it"),
        None => (derived_c, why),
    };
    let celsius = source.mixing.temperature_c.unwrap_or(derived_c);
    let why = if (celsius - derived_c).abs() > SAME_REASON_K { "" } else { why };
    let in_vessel = batch.items.iter().filter(|item| !dissolves_apart_from(item, contents));
    // What dissolves slowly has to find room in water that it has chilled itself.
    let at_c = |item: &Item| if is_slow(item) { celsius - chill_k(item, roomy_ml) } else { celsius };
    let needed_ml = in_vessel.filter_map(|item| least_water_ml(item, at_c(item))).fold(0.0, f64::max);
    let derived_ml = room.min((volume_ml * share).max(needed_ml));
    let derived_ml = little_for_iodine_ml(&batch.items).map_or(derived_ml, |ml| derived_ml.min(ml));
    // The file's own water still has to leave room for what is poured in.
    let hard_room = (volume_ml - liquids_ml(&batch.items) - apart_ml).max(0.0);
    let millilitres = source
        .mixing
        .water_ml_per_litre
        .map_or(derived_ml, |water| (water * volume_ml / 1000.0).min(hard_room));
    Ok(Start {
        millilitres: round_down(millilitres),
        celsius: Some(celsius),
        why,
        from_file: source.mixing.temperature_c.is_some() || source.mixing.water_ml_per_litre.is_some(),
    })
}

/// The little water in which iodide takes up iodine, where nothing else has to dissolve in it.
fn little_for_iodine_ml(items: &[Item]) -> Option<f64> {
    let is_iodide = |item: &&Item| item.form.is_class(&Class::Iodide) && is_weighed_solid(item);
    let (iodides, others): (Vec<&Item>, Vec<&Item>) = items.iter().partition(is_iodide);
    let has_iodine_alone =
        !others.is_empty() && others.iter().all(|item| Stage::of(&item.form) == Stage::Iodine);
    let grams = iodides.iter().map(|item| item.amount).sum::<f64>();
    (has_iodine_alone && !iodides.is_empty()).then_some(grams * IODIDE_WATER_ML_PER_G)
}

/// Least water in which a solid dissolves at a temperature, with a tenth to spare; none where its solubility there is not known.
fn least_water_ml(item: &Item, celsius: f64) -> Option<f64> {
    // What dissolves by reacting with the alkali or the sulfite says nothing by its solubility in water.
    let reacts = matches!(
        Stage::of(&item.form),
        Stage::AlkaliSolubleAgent | Stage::SlowAgent | Stage::Agent | Stage::Toner | Stage::Iodine
    );
    let grams_per_100 = item.form.solubility_as_weighed(celsius)?;
    let is_known = is_weighed_solid(item) && !reacts && grams_per_100 > 0.0;
    is_known.then(|| item.amount / grams_per_100 * 110.0)
}

/// Down to what a jug or cylinder shows.
fn round_down(millilitres: f64) -> f64 {
    let step = match millilitres {
        ml if ml < 2.0 => measuring_step_ml(ml),
        ml if ml < 20.0 => 1.0,
        ml if ml < 200.0 => 5.0,
        ml if ml < 2000.0 => 10.0,
        _ => 50.0,
    };
    rounding::down_to_step(millilitres, step)
}

/// Temperature by class; the first that applies.
fn temperature(items: &[Item], contents: &Contents, volume_ml: f64) -> (f64, &'static str) {
    let class = |class: &Class| items.iter().any(|item| item.form.is_class(class));
    let stage = |stage: Stage| items.iter().any(|item| Stage::of(&item.form) == stage);
    if class(&Class::FormaldehydeReleaser) {
        return (30.0, "never above 32 °C: warmer water drives off formaldehyde");
    }
    if class(&Class::Aldehyde) && contents.family != Family::Developer {
        return (20.0, "cool: the warmer it is, the more poisonous vapour it gives off");
    }
    if is_caustic_alone(items) {
        return (15.0, "cold: caustic makes heat of its own");
    }
    if holds_alcohol(items) {
        return (20.0, "cool: alcohol warms the water, and its vapour burns");
    }
    // A strong carbonate stock heats the water as caustic does: 32.6 kJ/mol for the potassium salt.
    let carbonate_g: f64 =
        items.iter().filter(|item| item.form.is_class(&Class::Carbonate)).map(|item| item.amount).sum();
    if carbonate_g > volume_ml * STRONG_CARBONATE_G_PER_ML {
        return (15.0, "cold: so much carbonate makes heat of its own");
    }
    if contents.hot_alum_toner {
        return (60.0, "hot on purpose: alum releases sulfur from hot hypo, and that tones");
    }
    if contents.selenium {
        return (80.0, "very hot: selenium dissolves only in hot sulfite");
    }
    let hypo_as_solid =
        items.iter().any(|item| Stage::of(&item.form) == Stage::Thiosulfate && is_weighed_solid(item));
    if contents.family == Family::Fixer && contents.chilling_hypo {
        return (50.0, "hot, because hypo chills the water sharply as it dissolves");
    }
    if contents.family == Family::Fixer && hypo_as_solid {
        return (25.0, "no warmer: the dry salt does not chill it, and ammonium salts smell when warm");
    }
    if class(&Class::Persulfate) || class(&Class::Peroxide) || class(&Class::Ammonia) {
        return (18.0, "cold: it decomposes or fumes when warm");
    }
    if stage(Stage::StrongAcid) {
        return (20.0, why_cool(items));
    }
    if stage(Stage::Iodine) {
        return (USUAL_C, "cool: warm iodine gives off its violet vapour");
    }
    if class(&Class::Sulfide) || stage(Stage::Silver) || stage(Stage::NobleMetal) {
        return (USUAL_C, "");
    }
    match contents.family {
        Family::Developer => {
            if stage(Stage::AscorbicAcid) {
                (30.0, "only warm: heat spoils ascorbic acid")
            } else if contents.acid_sulfite && !contents.sulfite {
                (30.0, "only warm: hot bisulfite gives off sulfur dioxide")
            } else {
                (50.0, "hot enough to dissolve the agents; no hotter: the salts can warm it further")
            }
        }
        Family::Fixer => (25.0, "no warmer: the thiosulfate is a liquid already"),
        Family::Other => {
            if stage(Stage::ChromeAlum) {
                (40.0, "well below 50 °C: chrome alum dissolved hot turns green and no longer hardens")
            } else if (contents.acid_sulfite || fuming_acid(items)) && !contents.alum {
                (20.0, "cool water is enough, and it fumes less in it")
            } else if stage(Stage::Colloid) && contents.acid && !contents.alum {
                (20.0, "cool, so that it swells evenly")
            } else if contents.acid && !contents.alum {
                (20.0, "")
            } else if stage(Stage::Alum) || class(&Class::Borate) {
                (50.0, "warm: it dissolves slowly in cold water")
            } else {
                (30.0, "")
            }
        }
    }
}

/// The warmest start that is safe, and why.
fn safe_limit(items: &[Item], contents: &Contents) -> (f64, &'static str) {
    let class = |class: &Class| items.iter().any(|item| item.form.is_class(class));
    let stage = |stage: Stage| items.iter().any(|item| Stage::of(&item.form) == stage);
    if class(&Class::FormaldehydeReleaser) {
        (32.0, "paraformaldehyde gives off formaldehyde in warmer water")
    } else if is_caustic_alone(items) {
        (30.0, "caustic alkali goes into cold water only: it can boil and spit")
    } else if contents.family != Family::Fixer
        && (class(&Class::Persulfate) || class(&Class::Peroxide) || class(&Class::Ammonia))
    {
        (30.0, "it decomposes or fumes in warm water")
    } else if stage(Stage::StrongAcid) {
        (40.0, "strong acid goes into cool water only")
    } else if holds_alcohol(items) {
        (ALCOHOL_MOST_C, "alcohol fumes in warmer water, and its vapour burns")
    } else if items
        .iter()
        .any(|item| Stage::of(&item.form) == Stage::ChromeAlum && !dissolves_apart_from(item, contents))
    {
        (50.0, "chrome alum dissolved hot no longer hardens")
    } else {
        // The file can ask for no more than boiling water.
        (f64::INFINITY, "")
    }
}

/// Why a strong acid goes into cool water: not all of them heat it.
fn why_cool(items: &[Item]) -> &'static str {
    let acids = || items.iter().filter(|item| Stage::of(&item.form) == Stage::StrongAcid);
    if acids().any(gives_heat) {
        "cool, because the acid heats the water"
    } else if acids().any(|item| item.form.state != State::Solid) {
        "cool water is enough, and it fumes less in it"
    } else {
        "strong acid goes into cool water only"
    }
}

/// Whether it is known to warm the water that it dissolves in.
fn gives_heat(item: &Item) -> bool {
    item.form.heat_of_solution.as_ref().is_some_and(|own| own.kj_per_mol.is_sign_negative())
}

/// Whether acetic acid is there, which smells.
fn fuming_acid(items: &[Item]) -> bool {
    items.iter().any(|item| item.form.parent.id == "acetic-acid")
}

/// Kelvin by which a solid chills its water when it dissolves; nothing where it warms it or its heat is not known.
fn chill_k(item: &Item, water_ml: f64) -> f64 {
    let kj = item.form.heat_of_solution.as_ref().map_or(0.0, |own| own.kj_per_mol.max(0.0));
    let moles = item.grams.and_then(|grams| item.form.moles_in(grams, item.assay)).unwrap_or(0.0);
    // 4.18 J for each gram of water and kelvin.
    kj * moles * 1000.0 / (4.18 * water_ml.max(1.0))
}

/// Whether it dissolves slowly and nobody sees its last grains.
fn is_slow(item: &Item) -> bool {
    matches!(Stage::of(&item.form), Stage::Oxidiser | Stage::Permanganate)
}

/// The least of the usual start temperatures at which everything weighed into the vessel dissolves in the water there is, chilled as it
/// is by what dissolves; none where the derived one is warm enough, or none helps.
fn warm_enough(items: &[&Item], derived_c: f64, limit_c: f64, water_ml: f64) -> Option<f64> {
    let fits = |celsius: f64| {
        items.iter().filter(|item| is_slow(item)).all(|item| {
            let cold_c = celsius - chill_k(item, water_ml);
            least_water_ml(item, cold_c).is_none_or(|needed| needed <= water_ml)
        })
    };
    if fits(derived_c) {
        return None;
    }
    [25.0, 30.0, 35.0, 40.0, 45.0, 50.0]
        .into_iter()
        .find(|celsius| *celsius > derived_c && *celsius <= limit_c && fits(*celsius))
}

/// Whether a step with it is mostly heat: solid caustic, concentrated sulfuric acid.
fn heats_its_vessel(item: &Item) -> bool {
    let is_concentrated = item.dose.is_none() && item.solution.is_none();
    match Stage::of(&item.form) {
        Stage::Caustic => is_weighed_solid(item),
        Stage::StrongAcid => is_concentrated && gives_heat(item),
        _ => false,
    }
}

/// Whether alcohol itself is poured in, not a ready solution of something in it.
fn holds_alcohol(items: &[Item]) -> bool {
    items.iter().any(|item| Stage::of(&item.form) == Stage::Solvent && item.form.is_class(&Class::Flammable))
}

/// Whether a solid hydroxide is all that there is, and so dissolves in the vessel itself: beside anything else it is dissolved apart.
fn is_caustic_alone(items: &[Item]) -> bool {
    let [only] = items else { return false };
    Stage::of(&only.form) == Stage::Caustic && is_weighed_solid(only) && only.apart_ml.is_none()
}

/// Whether an item is dissolved apart and poured in, given what else the part holds.
pub(super) fn dissolves_apart_from(item: &Item, contents: &Contents) -> bool {
    if item.apart_ml.is_some() {
        return true;
    }
    if contents.count < 2 || contents.hot_alum_toner && Stage::of(&item.form) == Stage::Alum {
        return false;
    }
    if second_vessel(item, contents).is_some() {
        return true;
    }
    match Stage::of(&item.form) {
        Stage::Caustic => is_weighed_solid(item),
        // A hardener stock has no room for the alum's own water: there it dissolves in the acid bath.
        Stage::Alum => {
            item.per_litre <= MOST_ALUM_APART_G_PER_L
                && (contents.family == Family::Fixer || contents.sulfite || contents.acid_sulfite)
        }
        Stage::ChromeAlum => contents.family == Family::Fixer || contents.acid,
        Stage::Permanganate => contents.strong_acid,
        // Concentrated acid is let down with cold water before it meets sulfite or hypo.
        Stage::WeakAcid => {
            item.unit == Unit::Millilitre
                && item.form.assay_fraction() > 0.5
                && (contents.sulfite || contents.family == Family::Fixer)
        }
        _ => false,
    }
}

/// A second vessel that several ingredients share before it is poured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SecondVessel {
    /// Sulfite, and a solid acid into it: it meets the hypo as bisulfite.
    SulfiteAndAcid,
    /// A halide and silver nitrate: they react there, and the white suspension is added whole.
    HalideAndSilver,
}

/// The shared second vessel of an item, if it has one.
pub(super) fn second_vessel(item: &Item, contents: &Contents) -> Option<SecondVessel> {
    if contents.family != Family::Fixer {
        return None;
    }
    match Stage::of(&item.form) {
        Stage::Sulfite | Stage::WeakAcid if contents.solid_acid_with_sulfite && is_weighed_solid(item) => {
            Some(SecondVessel::SulfiteAndAcid)
        }
        Stage::Halide | Stage::Silver if contents.hot_alum_toner && contents.silver => {
            Some(SecondVessel::HalideAndSilver)
        }
        _ => None,
    }
}

/// Water in which an item is dissolved apart, mL.
pub(super) fn apart_water_ml(item: &Item, volume_ml: f64) -> f64 {
    if let Some(apart) = item.apart_ml {
        return apart;
    }
    let wanted = match Stage::of(&item.form) {
        // Eight parts of cold water keep the heat of dissolving below about 35 K: 44.4 kJ/mol over 40 g/mol into 8 × 4.18 J/K.
        Stage::Caustic => (item.amount * 8.0).min(volume_ml * 0.3),
        // Eight parts of water hold potassium alum from about 23 °C on (12.5 g in 100 g of water): it stays clear until it is poured in.
        Stage::Alum | Stage::ChromeAlum => (item.amount * 8.0).min(volume_ml * 0.2),
        // Permanganate dissolves to 6.4 g in 100 g of water at 20 °C (handbook tables), twice that warm: 5 g stay dissolved when it cools.
        Stage::Permanganate => (item.amount * 20.0).min(volume_ml * 0.4),
        Stage::WeakAcid => (item.amount * 3.0).min(volume_ml * 0.1),
        _ => volume_ml * 0.1,
    };
    let warm_c = match Stage::of(&item.form) {
        Stage::Alum => 50.0,
        Stage::ChromeAlum | Stage::Permanganate => 40.0,
        _ => 20.0,
    };
    let wanted = wanted.max(least_water_ml(item, warm_c).unwrap_or(0.0).min(volume_ml * 0.5));
    let step = if wanted < 20.0 {
        1.0
    } else if wanted < 100.0 {
        5.0
    } else {
        10.0
    };
    rounding::up_to_step(wanted, step)
}

#[cfg(test)]
mod tests;
