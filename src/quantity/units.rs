//! Conversion constants and unit names of masses and volumes.
//!
//! Source: international yard and pound agreement of 1959 (1 lb = 0.453 592 37 kg exactly, 1 grain = 1/7000 lb, 1 oz = 1/16 lb);
//! NIST Handbook 44, appendix C (1 US gallon = 231 in³, 1 in = 2.54 cm, both exact); UK Weights and Measures Act 1985
//! (1 imperial gallon = 4.546 09 L exactly). Checked against GNU units in `tests/suite/reference.rs`.

use super::QuantityError;
use crate::suggestion;

/// A unit: the names by which it is typed, its size in the base unit, and whether it may be suggested.
pub(super) struct UnitWord {
    /// Names, the first is the one to advise.
    pub(super) names: &'static [&'static str],
    /// Size in grams or millilitres.
    pub(super) size: f64,
}

const POUND_G: f64 = 453.592_37;
const US_GALLON_ML: f64 = 3_785.411_784;
const IMPERIAL_GALLON_ML: f64 = 4_546.09;

/// Units of mass, in grams.
pub(super) const MASS: &[UnitWord] = &[
    UnitWord { names: &["g", "gram", "grams"], size: 1.0 },
    UnitWord { names: &["mg"], size: 0.001 },
    UnitWord { names: &["kg"], size: 1000.0 },
    UnitWord { names: &["grain", "grains"], size: POUND_G / 7000.0 },
    UnitWord { names: &["oz"], size: POUND_G / 16.0 },
    UnitWord { names: &["lb"], size: POUND_G },
];

/// Units of volume, in millilitres.
pub(super) const VOLUME: &[UnitWord] = &[
    UnitWord { names: &["ml", "millilitre", "millilitres", "milliliter", "milliliters", "cc"], size: 1.0 },
    UnitWord { names: &["l", "litre", "litres", "liter", "liters"], size: 1000.0 },
    UnitWord { names: &["us-floz"], size: US_GALLON_ML / 128.0 },
    UnitWord { names: &["us-pint", "us-pt"], size: US_GALLON_ML / 8.0 },
    UnitWord { names: &["us-qt", "us-quart"], size: US_GALLON_ML / 4.0 },
    UnitWord { names: &["us-gal", "us-gallon"], size: US_GALLON_ML },
    UnitWord { names: &["imp-floz"], size: IMPERIAL_GALLON_ML / 160.0 },
    UnitWord { names: &["imp-pint", "imp-pt"], size: IMPERIAL_GALLON_ML / 8.0 },
    UnitWord { names: &["imp-qt", "imp-quart"], size: IMPERIAL_GALLON_ML / 4.0 },
    UnitWord { names: &["imp-gal", "imp-gallon"], size: IMPERIAL_GALLON_ML },
];

/// Finds a unit's size, or says which units there are.
pub(super) fn size_of(
    units: &[UnitWord],
    unit: &str,
    kind: &'static str,
    examples: &'static str,
) -> Result<f64, QuantityError> {
    if unit.is_empty() {
        return Err(QuantityError::NoUnit { kind, examples });
    }
    let lower = unit.to_lowercase();
    if let Some(found) = units.iter().find(|known| known.names.contains(&lower.as_str())) {
        return Ok(found.size);
    }
    if let Some(reason) = ambiguous(&lower, kind) {
        return Err(QuantityError::AmbiguousUnit { unit: unit.to_owned(), reason });
    }
    let names = || units.iter().flat_map(|known| known.names.iter().copied());
    Err(QuantityError::UnknownUnit {
        unit: unit.to_owned(),
        kind,
        suggestion: suggestion::nearest(&lower, names()).map(str::to_owned),
        known: units.iter().filter_map(|known| known.names.first().copied()).collect::<Vec<_>>().join(", "),
    })
}

/// Why a unit that people do write is not taken: it means two things.
fn ambiguous(unit: &str, kind: &str) -> Option<&'static str> {
    Some(match (unit, kind) {
        ("oz" | "ounce" | "ounces" | "floz" | "fl oz" | "fl.oz" | "fl-oz", "volume") => {
            "a fluid ounce is 29.57 mL in the US and 28.41 mL in the imperial system; write us-floz or imp-floz"
        }
        ("pt" | "pint" | "pints" | "qt" | "quart" | "quarts" | "gal" | "gallon" | "gallons", "volume") => {
            "US and imperial measures differ by a fifth; write us-pint, us-qt, us-gal or imp-pint, imp-qt, imp-gal"
        }
        ("gr", "mass") => "gr is read as gram and as grain (0.065 g); write g or grain",
        ("dr" | "dram" | "drachm", "mass") => {
            "a dram is 27.3 grain (avoirdupois) or 60 grain (apothecaries); write the grains"
        }
        _ => return None,
    })
}
