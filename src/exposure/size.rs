//! Change of size and of diaphragm.
//!
//! Thin lens, focal length f, magnification m = image side / negative side: lens to paper `v = f(1+m)`, negative to paper
//! `T = f(1+m)²/m`. The pupil has the diameter f/N, so illuminance goes as `(f/N)²/v²`:
//! `t2/t1 = ((1+m2)/(1+m1))² · (N2/N1)² = (v2/v1)² · (N2/N1)² = (m2·T2)/(m1·T1) · (N2/N1)²`.
//!
//! Source: derived; L.-P. Clerc, Photography: Theory and Practice, section 770, gives the same as 9, 16, 25, 36 for 2, 3, 4, 5 times, as
//! a rough guide. It fails where a condenser or its lamp is moved with the size (same place).

use super::error::within;
use super::limits::{of_change, of_time};
use super::{ExposureError, ExposureWarning, Length, Stops};
use crate::quantity::Duration;

/// Magnifications that an enlarger has.
const SIZES: (f64, f64) = (0.05, 200.0);
/// Distances that disagree with the sizes by more are told, stops.
const DISAGREEMENT: f64 = 1.0 / 12.0;
/// Full stops as they are engraved; each is a power of root two.
const ENGRAVED: &[f64] =
    &[0.7, 1.0, 1.4, 2.0, 2.8, 4.0, 5.6, 8.0, 11.0, 16.0, 22.0, 32.0, 45.0, 64.0, 90.0, 128.0];

/// The enlarger's light.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum EnlargerHead {
    /// Diffuse: the law holds.
    Diffuse,
    Condenser,
}

/// One size, as far as it was measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct EnlargerSide {
    /// Image side over negative side.
    pub magnification: Option<f64>,
    /// Negative to paper.
    pub height: Option<Length>,
    /// Lens to paper.
    pub lens: Option<Length>,
    /// The diaphragm as engraved.
    pub f_number: Option<f64>,
}

/// From one size, diaphragm and time to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SizeChange {
    /// Time at the first size.
    pub time: Option<Duration>,
    /// The first size.
    pub from: EnlargerSide,
    /// The other; the same where nothing is said.
    pub to: EnlargerSide,
    pub focal: Option<Length>,
    /// Pupil magnification of the lens; 1 for a symmetrical one.
    pub pupil: f64,
    /// Stops by which the diaphragm is opened.
    pub opened: Stops,
    /// Exponent of the paper's response to low light: 1 unless measured.
    pub reciprocity: f64,
    pub head: Option<EnlargerHead>,
}

/// What a change of size asks for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Resized {
    /// Time before, s.
    pub from_s: Option<f64>,
    /// Time after, s.
    pub seconds: Option<f64>,
    /// What the light asks for: `E1/E2`, size and diaphragm together.
    pub factor: f64,
    /// The factor of the size alone.
    pub size_factor: f64,
    /// The change of time.
    pub stops: Stops,
    pub from_magnification: Option<f64>,
    pub to_magnification: Option<f64>,
    /// What a column's scale adds to the distance from negative to paper, mm.
    pub column_zero_mm: Option<f64>,
    /// By how much the square of the size errs; above zero: too much exposure.
    pub area_rule_error: Option<Stops>,
    /// By how much the square of the height of the negative errs.
    pub height_squared_rule_error: Option<Stops>,
    /// Stops of the diaphragm with the full stops as powers of root two.
    pub aperture: Option<Stops>,
    /// The same with the figures as engraved.
    pub nominal_aperture: Option<Stops>,
    /// Where the law stops holding.
    pub warnings: Vec<ExposureWarning>,
}

/// Magnification from the distance of negative and paper: the larger root of `m + 1/m = T/f - 2`.
///
/// # Errors
/// A distance below four focal lengths has none.
pub(crate) fn magnification_of_height(height: Length, focal: Length) -> Result<f64, ExposureError> {
    let (height_mm, focal_mm) = (height.as_mm(), focal.as_mm());
    let q = height_mm / focal_mm - 2.0;
    if q < 2.0 - 1e-12 {
        return Err(ExposureError::NoImage { height_mm, focal_mm });
    }
    Ok(f64::midpoint(q, (q * q - 4.0).max(0.0).sqrt()))
}

/// Works out a change of size.
///
/// # Errors
/// One size of two, a distance that a lens has no image at, a figure out of range.
pub(crate) fn resize(change: &SizeChange) -> Result<Resized, ExposureError> {
    let column_zero_mm = column_zero(change)?;
    let from = magnification(&change.from, change.focal, column_zero_mm)?;
    let to = magnification(&change.to, change.focal, column_zero_mm)?;
    within("a pupil magnification", change.pupil, 0.3, 3.0)?;
    within("a reciprocity exponent", change.reciprocity, 0.5, 1.2)?;
    let mut warnings = Vec::new();
    let size = size_factor(change, from.zip(to), &mut warnings)?;
    let size_factor = size.unwrap_or(1.0);
    let numbers = change.from.f_number.zip(change.to.f_number);
    if let Some((from, to)) = numbers {
        within("an f-number", from, 0.5, 256.0)?;
        within("an f-number", to, 0.5, 256.0)?;
    }
    let stops_of = |from: f64, to: f64| Stops::new(2.0 * (to / from).log2());
    let aperture = numbers.map(|(from, to)| stops_of(exact(from), exact(to)));
    let nominal_aperture = numbers.map(|(from, to)| stops_of(from, to));
    let light = aperture.map_or(1.0, Stops::factor) / change.opened.factor();
    let factor = size_factor * light;
    let stops = Stops::new(factor.log2() / change.reciprocity);
    let from_s = change.time.map(Duration::as_s);
    let seconds = from_s.map(|time| time * stops.factor());
    warnings.extend(seconds.and_then(of_time));
    warnings.extend(of_change(stops));
    if size.is_some_and(|factor| (factor - 1.0).abs() > 1e-9) && change.head != Some(EnlargerHead::Diffuse) {
        warnings.push(ExposureWarning::Condenser { is_known: change.head.is_some() });
    }
    let law = |from: f64, to: f64| 2.0 * ((1.0 + to) / (1.0 + from)).log2();
    let area_rule_error = from.zip(to).map(|(from, to)| Stops::new(2.0 * (to / from).log2() - law(from, to)));
    let heights = change.from.height.zip(change.to.height).filter(|_| size.is_some());
    let height_squared_rule_error = heights.map(|(from, to)| {
        let zero = column_zero_mm.unwrap_or(0.0);
        Stops::new(2.0 * ((to.as_mm() - zero) / (from.as_mm() - zero)).log2() - size_factor.log2())
    });
    Ok(Resized {
        from_s,
        seconds,
        factor,
        size_factor,
        stops,
        from_magnification: from,
        to_magnification: to,
        column_zero_mm,
        area_rule_error,
        height_squared_rule_error,
        aperture,
        nominal_aperture,
        warnings,
    })
}

/// A full stop as the power of root two that is meant; another figure as it is engraved.
fn exact(engraved: f64) -> f64 {
    if ENGRAVED.iter().any(|own| (own - engraved).abs() < 1e-9) {
        let half_stops = (2.0 * engraved.log2()).round();
        return (half_stops / 2.0).exp2();
    }
    engraved
}

/// What the scale of a column is off by, where the first size was measured both ways: `c = reading - f(2 + m + 1/m)`.
fn column_zero(change: &SizeChange) -> Result<Option<f64>, ExposureError> {
    let (Some(m), Some(height), Some(focal), None) =
        (change.from.magnification, change.from.height, change.focal, change.to.magnification)
    else {
        return Ok(None);
    };
    let m = within("a magnification", m, SIZES.0, SIZES.1)?;
    Ok(Some(height.as_mm() - focal.as_mm() * (2.0 + m + 1.0 / m)))
}

/// The magnification of one size, where it is told or follows.
fn magnification(
    side: &EnlargerSide,
    focal: Option<Length>,
    column_zero_mm: Option<f64>,
) -> Result<Option<f64>, ExposureError> {
    let magnification = match (side.magnification, side.height, side.lens, focal) {
        (Some(m), ..) => m,
        (None, Some(height), _, Some(focal)) => {
            let distance = Length::from_mm(height.as_mm() - column_zero_mm.unwrap_or(0.0));
            magnification_of_height(distance, focal)?
        }
        (None, None, Some(lens), Some(focal)) => {
            let m = lens.as_mm() / focal.as_mm() - 1.0;
            if m <= 0.0 {
                let (lens_mm, focal_mm) = (lens.as_mm(), focal.as_mm());
                return Err(ExposureError::WithinFocus { lens_mm, focal_mm });
            }
            m
        }
        _ => return Ok(None),
    };
    within("a magnification", magnification, SIZES.0, SIZES.1).map(Some)
}

/// The factor of the size, by the best of the ways that were told; none where only the diaphragm changes.
fn size_factor(
    change: &SizeChange,
    sizes: Option<(f64, f64)>,
    warnings: &mut Vec<ExposureWarning>,
) -> Result<Option<f64>, ExposureError> {
    let by_size = sizes.map(|(from, to)| ((1.0 + to / change.pupil) / (1.0 + from / change.pupil)).powi(2));
    let by_lens = change.from.lens.zip(change.to.lens).map(|(from, to)| (to.as_mm() / from.as_mm()).powi(2));
    let heights = change.from.height.zip(change.to.height);
    let typed = change.from.magnification.zip(change.to.magnification);
    // Without a focal length print size and negative-to-paper distance give the same, since T = f(1+m)²/m.
    let by_height = typed.zip(heights).map(|((m1, m2), (from, to))| (m2 * to.as_mm()) / (m1 * from.as_mm()));
    let ways: Vec<f64> = [by_height, by_lens, by_size].into_iter().flatten().collect();
    let Some(&best) = ways.first() else {
        let told = |side: &EnlargerSide| {
            side.magnification.is_some() || side.height.is_some() || side.lens.is_some()
        };
        // A lone first size is a question for its magnification.
        let is_half = told(&change.to) || told(&change.from) && change.time.is_some();
        return if is_half { Err(ExposureError::HalfASize) } else { Ok(None) };
    };
    let furthest = ways
        .iter()
        .map(|way| (way / best).log2())
        .fold(0.0, |most: f64, own| if own.abs() > most.abs() { own } else { most });
    if furthest.abs() > DISAGREEMENT {
        warnings.push(ExposureWarning::SizesDisagree { stops: Stops::new(furthest) });
    }
    Ok(Some(best))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn plain(from: EnlargerSide, to: EnlargerSide, focal: Option<Length>) -> SizeChange {
        SizeChange {
            time: Some(Duration::from_s(10.0)),
            from,
            to,
            focal,
            pupil: 1.0,
            opened: Stops::new(0.0),
            reciprocity: 1.0,
            head: Some(EnlargerHead::Diffuse),
        }
    }

    proptest! {
        #[test]
        fn size_by_three_ways_agrees_and_back_is_where_one_was(
            m1 in 1.0_f64..20.0, m2 in 1.0_f64..20.0, f in 25.0_f64..210.0,
        ) {
            let size = |m| EnlargerSide { magnification: Some(m), ..EnlargerSide::default() };
            let lens = |m: f64| EnlargerSide { lens: Some(Length::from_mm(f * (1.0 + m))), ..EnlargerSide::default() };
            let height_mm = |m: f64| f * (1.0 + m).powi(2) / m;
            let height = |m| EnlargerSide { height: Some(Length::from_mm(height_mm(m))), ..EnlargerSide::default() };
            let both = |m| EnlargerSide { magnification: Some(m), ..height(m) };
            let focal = Some(Length::from_mm(f));
            let factor = |from, to, focal| resize(&plain(from, to, focal)).unwrap().factor;
            let by_size = factor(size(m1), size(m2), None);
            let near = |other: f64| (other / by_size - 1.0).abs() < 1e-5;
            prop_assert!(near(factor(lens(m1), lens(m2), None)));
            prop_assert!(near(factor(height(m1), height(m2), focal)));
            prop_assert!(near(factor(both(m1), both(m2), None)));
            prop_assert!((factor(size(m2), size(m1), None) * by_size - 1.0).abs() < 1e-9);
            // The two rules of thumb err by the same, one each way.
            let told = resize(&plain(height(m1), height(m2), focal)).unwrap();
            let sum = told.area_rule_error.unwrap().get() + told.height_squared_rule_error.unwrap().get();
            prop_assert!(sum.abs() < 1e-4, "{}", sum);
        }
    }

    #[test]
    fn a_column_with_a_false_zero_is_put_right_by_one_measured_size() {
        let f = 50.0;
        let height = |m: f64| f * (2.0 + m + 1.0 / m) + 17.0;
        let side = |m, at: f64| EnlargerSide {
            magnification: m,
            height: Some(Length::from_mm(at)),
            ..EnlargerSide::default()
        };
        let change = plain(side(Some(4.0), height(4.0)), side(None, height(8.0)), Some(Length::from_mm(f)));
        let told = resize(&change).unwrap();
        assert!((told.column_zero_mm.unwrap() - 17.0).abs() < 1e-9);
        assert!((told.to_magnification.unwrap() - 8.0).abs() < 1e-9);
        assert!((told.factor - 3.24).abs() < 1e-9);
    }
}
