//! Replenishing a tank as a mass balance: what films put in and take out, what carry-out and overflow take away, what the replenisher brings.
//!
//! For a tank of V litres, with r litres of replenisher, c of carry-out and w of water carried in by each film, m grams released by
//! each film (negative: used up) and `C_R` grams per litre in the replenisher:
//!
//! * full tank (r + w ≥ c; what is too much overflows at tank strength): `V dC/dn = m + r C_R − (r + w) C`, so
//!   `C(n) = C∞ + (C0 − C∞) exp(−(r + w) n / V)` with `C∞ = (m + r C_R) / (r + w)`;
//! * falling level (r + w < c): `V = V0 − (c − r − w) n`, `C = C∞ + (C0 − C∞) (V / V0)^((r + w) / (c − r − w))`;
//! * nothing added: `C = C0 + (m / c) ln(V0 / V)`, and without carry-out `C = C0 + m n / V0`;
//! * batches of q films, then x litres exchanged: `C' = (C + q m / V)(1 − x / V) + C_R x / V`.
//!
//! Derived from the balance alone. A film is 516 cm² (80 sq in). The figures hold for average negatives; a control strip decides.
//!
//! Documents: bromide released by such an area of pictorial negative developed to normal contrast, 40 to 60 mg (as potassium bromide),
//! and topping up at about 20 mL, which is about the carry-out: R. Suzuki, Replenishing system, `silvergrain.com/labs/Replenishing_system`.
//! Hydroquinone, sulfite and borax used up follow from the bromide by stoichiometry: per mole of silver half a mole of hydroquinone,
//! half a mole of sulfite (its sulfonation) and, after the sulfite has taken part, half a mole of acid (reaction from memory).

use thiserror::Error;

/// Carry-out of a film, mL: about the usual rate of topping up (source in the module's head).
pub(crate) const USUAL_CARRY_OUT_ML: f64 = 20.0;

/// Most films that are reckoned with.
pub(crate) const MOST_FILMS: u32 = 10_000;

/// What a film does to one substance, mg: released above zero, used up below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Usual {
    /// The form, by id.
    pub form: &'static str,
    /// mg a film.
    pub mg: f64,
    /// Least, mg.
    pub low_mg: f64,
    /// Most, mg.
    pub high_mg: f64,
    pub source: &'static str,
}

/// What an average film does where nobody says otherwise; hydroquinone and sulfite only in developers that hold hydroquinone.
///
/// 50 mg of potassium bromide stand for 45.3 mg of silver, 0.420 mmol: 23.1 mg of hydroquinone, 26.5 mg of sodium sulfite, and 0.21 mmol of
/// acid, which 40 mg of borax crystals take up (2 H⁺ each).
pub(crate) const USUAL: &[Usual] = &[
    Usual {
        form: "potassium-bromide",
        mg: 50.0,
        low_mg: 40.0,
        high_mg: 60.0,
        source: "R. Suzuki, Replenishing system, silvergrain.com/labs/Replenishing_system",
    },
    Usual { form: "hydroquinone", mg: -23.1, low_mg: -27.7, high_mg: -18.5, source: STOICHIOMETRY },
    Usual {
        form: "sodium-sulfite-anhydrous",
        mg: -26.5,
        low_mg: -31.8,
        high_mg: -21.2,
        source: STOICHIOMETRY,
    },
    Usual { form: "borax-decahydrate", mg: -40.0, low_mg: -48.0, high_mg: -32.0, source: STOICHIOMETRY },
];

const STOICHIOMETRY: &str = "computed from the bromide by stoichiometry";

/// The tank and what each film does to its level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ReplenishedTank {
    /// Volume at the start, mL.
    pub volume_ml: f64,
    /// Replenisher a film, mL.
    pub rate_ml: f64,
    /// Carried out a film, mL.
    pub carry_out_ml: f64,
    /// Water carried in a film, mL.
    pub carry_in_ml: f64,
}

/// What each film does to one substance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ReplenishedSubstance {
    pub start_g_per_l: f64,
    pub replenisher_g_per_l: f64,
    /// Released a film, mg; used up below zero.
    pub released_mg: f64,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub(crate) enum ReplenishError {
    /// A volume, rate or number out of range.
    #[error("{what} is out of range")]
    OutOfRange { what: &'static str },
    /// The tank runs empty.
    #[error("the tank is empty after {films} films: {lost_ml} mL go out with each and are not put back")]
    Empty {
        /// Films until then.
        films: u32,
        /// Lost a film, mL, as printed.
        lost_ml: String,
    },
    /// A substance is used up.
    #[error("it is used up after {films} films")]
    UsedUp {
        /// Films until then.
        films: u32,
    },
    /// No replenisher at this rate holds it.
    #[error(
        "no replenisher holds it at {rate_ml} mL a film: the films release more than the overflow takes away"
    )]
    RateTooLow {
        /// The rate, mL, as printed.
        rate_ml: String,
        /// Least rate that does, mL a film, as printed.
        least_ml: String,
    },
    /// What is used up cannot design a rate.
    #[error("a substance that is used up, or of which nothing is known, gives no rate")]
    NoRate,
    /// More goes out in an exchange than the tank holds.
    #[error("the exchange is larger than the tank")]
    ExchangeTooLarge,
}

impl ReplenishError {
    /// What to do about it.
    pub(crate) fn fix(&self) -> String {
        match self {
            Self::OutOfRange { .. } => {
                "give a tank of 50 mL to 1000 L, rates up to the tank's volume, and 1 to 10000 films"
                    .to_owned()
            }
            Self::Empty { .. } => "give a rate (--rate 20ml), or fewer films".to_owned(),
            Self::UsedUp { .. } => {
                "raise the rate, or strengthen the replenisher: --hold SUBSTANCE=G/L".to_owned()
            }
            Self::RateTooLow { least_ml, .. } => {
                format!("use {least_ml} mL a film or more, with none of it in the replenisher")
            }
            Self::NoRate => {
                "give the rate (--rate 22ml), or what a film releases: --releases potassium-bromide=50mg"
                    .to_owned()
            }
            Self::ExchangeTooLarge => "exchange less than the tank holds".to_owned(),
        }
    }
}

impl ReplenishedTank {
    /// Whether the figures can be reckoned with.
    ///
    /// # Errors
    /// The figure that is out of range.
    pub(crate) fn check(&self) -> Result<(), ReplenishError> {
        let within = |value: f64, low: f64, high: f64| value.is_finite() && (low..=high).contains(&value);
        if !within(self.volume_ml, 50.0, 1e6) {
            return Err(ReplenishError::OutOfRange { what: "the tank's volume" });
        }
        for (value, what) in [
            (self.rate_ml, "the rate"),
            (self.carry_out_ml, "the carry-out"),
            (self.carry_in_ml, "the water carried in"),
        ] {
            if !within(value, 0.0, self.volume_ml) {
                return Err(ReplenishError::OutOfRange { what });
            }
        }
        Ok(())
    }

    /// What comes in a film, mL.
    fn inflow_ml(&self) -> f64 {
        self.rate_ml + self.carry_in_ml
    }

    /// What overflows a film, mL; below zero the level falls by so much.
    pub(crate) fn bleed_ml(&self) -> f64 {
        self.inflow_ml() - self.carry_out_ml
    }

    /// Volume after so many films, mL.
    ///
    /// # Errors
    /// Where the tank runs empty before.
    pub(crate) fn volume_after_ml(&self, films: u32) -> Result<f64, ReplenishError> {
        let lost = (-self.bleed_ml()).max(0.0);
        let volume = self.volume_ml - lost * f64::from(films);
        if volume > 0.01 * self.volume_ml {
            return Ok(volume);
        }
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and the films asked for"
        )]
        let films = (self.volume_ml / lost).floor() as u32;
        Err(ReplenishError::Empty { films, lost_ml: plain(lost) })
    }

    /// Films until the replenisher added equals the tank.
    pub(crate) fn turnover_films(&self) -> Option<f64> {
        (self.rate_ml > 0.0).then(|| self.volume_ml / self.rate_ml)
    }
}

impl ReplenishedSubstance {
    /// Where it settles, g/L; none where nothing comes in, or the level falls until the tank is empty.
    pub(crate) fn settles_g_per_l(&self, tank: &ReplenishedTank) -> Option<f64> {
        let inflow = tank.inflow_ml();
        (inflow > 0.0 && tank.bleed_ml() >= 0.0)
            .then(|| (self.released_mg + tank.rate_ml * self.replenisher_g_per_l) / inflow)
    }

    /// After so many films, g/L, replenished film by film.
    ///
    /// # Errors
    /// Where the tank runs empty or the substance is used up.
    pub(crate) fn after_g_per_l(&self, tank: &ReplenishedTank, films: u32) -> Result<f64, ReplenishError> {
        let volume = tank.volume_after_ml(films)?;
        let (inflow, n) = (tank.inflow_ml(), f64::from(films));
        let target = (self.released_mg + tank.rate_ml * self.replenisher_g_per_l) / inflow;
        let grams = if tank.bleed_ml() >= 0.0 && inflow > 0.0 {
            target + (self.start_g_per_l - target) * (-inflow * n / tank.volume_ml).exp()
        } else if inflow > 0.0 {
            let power = inflow / -tank.bleed_ml();
            target + (self.start_g_per_l - target) * (volume / tank.volume_ml).powf(power)
        } else if tank.carry_out_ml > 0.0 {
            self.start_g_per_l + self.released_mg / tank.carry_out_ml * (tank.volume_ml / volume).ln()
        } else {
            self.start_g_per_l + self.released_mg * n / tank.volume_ml
        };
        if grams < -1e-9 { Err(ReplenishError::UsedUp { films }) } else { Ok(grams.max(0.0)) }
    }

    /// Just after each exchange of `exchange_ml` that follows each batch of `films`, g/L, as many as asked.
    ///
    /// # Errors
    /// Where the exchange is larger than the tank, or the substance is used up.
    pub(crate) fn after_batches_g_per_l(
        &self,
        volume_ml: f64,
        films: u32,
        exchange_ml: f64,
        batches: u32,
    ) -> Result<Vec<f64>, ReplenishError> {
        let share = exchange_ml / volume_ml;
        if !(0.0..=1.0).contains(&share) {
            return Err(ReplenishError::ExchangeTooLarge);
        }
        let added = f64::from(films) * self.released_mg / volume_ml;
        let (mut now, mut course) = (self.start_g_per_l, Vec::new());
        for batch in 1..=batches {
            if now + added < -1e-9 {
                return Err(ReplenishError::UsedUp { films: batch * films });
            }
            now = (now + added) * (1.0 - share) + self.replenisher_g_per_l * share;
            course.push(now);
        }
        Ok(course)
    }

    /// Where it settles with batches, g/L: just after an exchange and just before it.
    pub(crate) fn settles_with_batches_g_per_l(
        &self,
        volume_ml: f64,
        films: u32,
        exchange_ml: f64,
    ) -> Option<(f64, f64)> {
        let share = exchange_ml / volume_ml;
        let added = f64::from(films) * self.released_mg / volume_ml;
        (share > 0.0).then(|| {
            let after = self.replenisher_g_per_l + added * (1.0 - share) / share;
            (after, after + added)
        })
    }
}

/// A replenisher that holds a substance where it is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Design {
    /// Replenisher a film, mL.
    pub rate_ml: f64,
    pub replenisher_g_per_l: f64,
}

/// The replenisher that holds `wanted` g/L when a film releases `released_mg` (below zero: uses up), at a rate that is given or worked out.
///
/// With a rate: `C_R = C* + (w C* − m) / r`. Without: as much as leaves none of it in the replenisher, `r = m / C* − w`; where that is
/// less than is carried out, the carry-out is put back and the replenisher holds the rest.
///
/// # Errors
/// Where the rate is too low, or none follows.
pub(crate) fn hold(
    wanted_g_per_l: f64,
    released_mg: f64,
    rate_ml: Option<f64>,
    carry_out_ml: f64,
    carry_in_ml: f64,
) -> Result<Design, ReplenishError> {
    let in_replenisher = |rate: f64| wanted_g_per_l + (carry_in_ml * wanted_g_per_l - released_mg) / rate;
    let without =
        if wanted_g_per_l > 0.0 { released_mg / wanted_g_per_l - carry_in_ml } else { f64::INFINITY };
    match rate_ml {
        Some(rate) if rate > 0.0 => {
            let replenisher_g_per_l = in_replenisher(rate);
            if replenisher_g_per_l < -1e-9 {
                return Err(ReplenishError::RateTooLow {
                    rate_ml: plain(rate),
                    least_ml: plain(without.ceil()),
                });
            }
            Ok(Design { rate_ml: rate, replenisher_g_per_l: replenisher_g_per_l.max(0.0) })
        }
        None if released_mg > 0.0 && without.is_finite() => {
            let fill = carry_out_ml - carry_in_ml;
            if without >= fill {
                Ok(Design { rate_ml: without, replenisher_g_per_l: 0.0 })
            } else {
                Ok(Design { rate_ml: fill, replenisher_g_per_l: in_replenisher(fill).max(0.0) })
            }
        }
        Some(_) | None => Err(ReplenishError::NoRate),
    }
}

/// A figure in a message.
fn plain(value: f64) -> String {
    crate::quantity::rounding::show_short(value, 1)
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    const BROMIDE: ReplenishedSubstance =
        ReplenishedSubstance { start_g_per_l: 0.0, replenisher_g_per_l: 0.0, released_mg: 50.0 };

    fn tank(rate_ml: f64, carry_out_ml: f64, carry_in_ml: f64) -> ReplenishedTank {
        ReplenishedTank { volume_ml: 1000.0, rate_ml, carry_out_ml, carry_in_ml }
    }

    /// Small steps of a thousandth of a film, against the closed formula: an independent way to the same figure.
    fn by_steps(tank: &ReplenishedTank, substance: &ReplenishedSubstance, films: u32) -> f64 {
        let (mut volume, mut grams) =
            (tank.volume_ml / 1000.0, substance.start_g_per_l * tank.volume_ml / 1000.0);
        let step = 0.001;
        for _ in 0..films * 1000 {
            let concentration = grams / volume;
            let out = if tank.bleed_ml() >= 0.0 { tank.inflow_ml() } else { tank.carry_out_ml } / 1000.0;
            grams += step
                * (substance.released_mg / 1000.0 + tank.rate_ml / 1000.0 * substance.replenisher_g_per_l
                    - out * concentration);
            volume += step * (tank.inflow_ml() / 1000.0 - out);
        }
        grams / volume
    }

    #[test]
    fn closed_formulas_agree_with_small_steps() {
        let agent = ReplenishedSubstance { start_g_per_l: 5.0, replenisher_g_per_l: 7.5, released_mg: -23.0 };
        for (tank, films) in [
            (tank(20.0, 20.0, 0.0), 50),
            (tank(70.0, 20.0, 0.0), 15),
            (tank(20.0, 35.0, 15.0), 40),
            (tank(10.0, 25.0, 0.0), 30),
            (tank(0.0, 20.0, 0.0), 10),
            (tank(0.0, 0.0, 0.0), 10),
        ] {
            for own in [BROMIDE, agent] {
                let closed = own.after_g_per_l(&tank, films).unwrap();
                assert_abs_diff_eq!(closed, by_steps(&tank, &own, films), epsilon = 2e-3);
            }
        }
    }

    #[test]
    fn a_replenisher_that_holds_holds_exactly() {
        for (wanted, released, rate, out, carried_in) in [
            (0.5, 50.0, None, 20.0, 0.0),
            (5.0, 50.0, None, 20.0, 0.0),
            (5.0, -25.0, Some(22.0), 22.0, 0.0),
            (5.0, -25.0, Some(20.0), 35.0, 15.0),
        ] {
            let design = hold(wanted, released, rate, out, carried_in).unwrap();
            let held = ReplenishedSubstance {
                start_g_per_l: wanted,
                replenisher_g_per_l: design.replenisher_g_per_l,
                released_mg: released,
            };
            for films in [1, 10, 100] {
                let tank = ReplenishedTank {
                    volume_ml: 2000.0,
                    rate_ml: design.rate_ml,
                    carry_out_ml: out,
                    carry_in_ml: carried_in,
                };
                assert_abs_diff_eq!(held.after_g_per_l(&tank, films).unwrap(), wanted, epsilon = 1e-9);
            }
        }
        assert!(matches!(hold(0.5, 50.0, Some(20.0), 20.0, 0.0), Err(ReplenishError::RateTooLow { .. })));
    }

    #[test]
    fn films_through_a_full_tank_never_lower_its_bromide() {
        let mut last = 0.0;
        for films in 1..200 {
            let now = BROMIDE.after_g_per_l(&tank(20.0, 20.0, 0.0), films).unwrap();
            assert!(now >= last);
            last = now;
        }
    }

    #[test]
    fn a_tank_that_is_not_filled_up_runs_empty() {
        let error = BROMIDE.after_g_per_l(&tank(0.0, 20.0, 0.0), 60).unwrap_err();
        assert!(error.to_string().contains("empty after 50 films"), "{error}");
    }
}
