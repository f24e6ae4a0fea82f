//! Silver in the fixing baths of prints.
//!
//! Each bath keeps its level; a sheet carries v out of it and as much in. With silver s a sheet, baths of V and n sheets, `x = n·v/V`:
//! `c1 = (s/v)(1 - e^-x)`, `c2 = (s/v)(1 - e^-x (1 + x))`, the fixer's strength left `e^-x`. Derived.

use super::error::within;
use super::{ExposureError, ExposureWarning};

/// First bath of two: thrown out at so much, g/L. A print-washer maker's page.
pub(super) const FIRST_LIMIT: f64 = 2.0;
/// Second bath: from so much on lasting prints are in doubt, g/L. From memory.
const SECOND_LIMIT: f64 = 0.3;
/// Least strength without a word about it; advice.
const LEAST_STRENGTH: f64 = 0.6;

/// Silver that one sheet gives to the fixer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SilverPerSheet {
    pub milligrams: f64,
}

impl SilverPerSheet {
    /// From the coating (g/m²), the share that is dissolved, and the area (cm²).
    ///
    /// # Errors
    /// A figure out of range.
    pub(crate) fn from_coating(grams_per_m2: f64, share: f64, area_cm2: f64) -> Result<Self, ExposureError> {
        within("a silver coating in g/m²", grams_per_m2, 0.01, 50.0)?;
        within("a share of dissolved silver", share, 0.01, 1.0)?;
        Self::from_mg(grams_per_m2 * share * area_cm2 / 10.0)
    }

    /// From milligrams.
    ///
    /// # Errors
    /// A figure out of range.
    pub(crate) fn from_mg(milligrams: f64) -> Result<Self, ExposureError> {
        Ok(Self { milligrams: within("the silver of a sheet in mg", milligrams, 0.001, 100_000.0)? })
    }
}

/// What goes through two baths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Baths {
    pub silver: SilverPerSheet,
    /// Carried over a sheet, mL.
    pub carried_ml: f64,
    pub sheets: f64,
    /// Volume of each bath, mL.
    pub volume_ml: f64,
}

/// What is then in them.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TwoBaths {
    /// Silver in the first bath, g/L.
    pub first_g_per_l: f64,
    /// Silver in the second bath, g/L.
    pub second_g_per_l: f64,
    /// What is left of the first bath's strength, as a fraction.
    pub strength_left: f64,
    /// What is to be minded.
    pub warnings: Vec<ExposureWarning>,
}

/// Silver in two baths after so many sheets.
///
/// # Errors
/// A figure out of range.
pub(crate) fn two_baths(baths: &Baths) -> Result<TwoBaths, ExposureError> {
    let carried = within("a carried volume in mL", baths.carried_ml, 0.0, 1000.0)?;
    let sheets = within("a number of sheets", baths.sheets, 0.0, 1e6)?;
    let volume = within("a volume in mL", baths.volume_ml, 1.0, 1e7)?;
    let silver = baths.silver.milligrams;
    let x = sheets * carried / volume;
    // Mg/mL is g/L. Nothing carried over leaves all of it in the first bath.
    let (first, second) = if x < 1e-9 {
        (silver * sheets / volume, 0.0)
    } else {
        let level = silver / carried;
        // 1 - e^-x, and that less x e^-x, without loss of figures at small x.
        (level * -(-x).exp_m1(), level * (-(-x).exp_m1() - x * (-x).exp()))
    };
    let strength_left = (-x).exp();
    let mut warnings = Vec::new();
    if first > FIRST_LIMIT {
        warnings.push(ExposureWarning::FirstBathFull { grams_per_litre: first });
    }
    if second > SECOND_LIMIT {
        warnings.push(ExposureWarning::SecondBathFull { grams_per_litre: second });
    }
    if strength_left < LEAST_STRENGTH {
        warnings.push(ExposureWarning::Diluted { strength_left });
    }
    Ok(TwoBaths { first_g_per_l: first, second_g_per_l: second, strength_left, warnings })
}

/// Sheets a litre until a bath holds so much silver; none where carrying over keeps it below for good.
///
/// `n/V = limit/s`, and with v carried over `-ln(1 - limit·v/s) / v`.
///
/// # Errors
/// A figure out of range.
pub(crate) fn sheets_per_litre(
    silver: SilverPerSheet,
    limit_g_per_l: f64,
    carried_ml: f64,
) -> Result<Option<f64>, ExposureError> {
    within("a limit of silver in g/L", limit_g_per_l, 0.001, 100.0)?;
    within("a carried volume in mL", carried_ml, 0.0, 1000.0)?;
    let plain = limit_g_per_l / silver.milligrams * 1000.0;
    if carried_ml < 1e-9 {
        return Ok(Some(plain));
    }
    let share = limit_g_per_l * carried_ml / silver.milligrams;
    Ok((share < 1.0).then(|| -(-share).ln_1p() / carried_ml * 1000.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against a simulation sheet by sheet: what one sheet leaves and takes is mixed in before the next.
    #[test]
    fn the_law_is_the_limit_of_sheet_after_sheet() {
        let (silver, carried, volume) = (38.71, 10.0, 1000.0);
        let (mut first, mut second) = (0.0_f64, 0.0_f64);
        let fine = 1000_u32;
        for _ in 0..40 * fine {
            let part = carried / f64::from(fine);
            let out = first / volume * part;
            second += out - second / volume * part;
            first += silver / f64::from(fine) - out;
        }
        let told = two_baths(&Baths {
            silver: SilverPerSheet::from_mg(silver).unwrap(),
            carried_ml: carried,
            sheets: 40.0,
            volume_ml: volume,
        })
        .unwrap();
        assert!((told.first_g_per_l - first / volume).abs() < 1e-4);
        assert!((told.second_g_per_l - second / volume).abs() < 1e-4);
        let silver = SilverPerSheet::from_mg(silver).unwrap();
        let sheets = sheets_per_litre(silver, told.first_g_per_l, carried).unwrap().unwrap();
        assert!((sheets - 40.0).abs() < 1e-9);
    }
}
