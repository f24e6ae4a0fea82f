//! Whether a bath of extreme pH burns: the rule of the pH with the acid or alkali reserve.
//!
//! A mixture at pH 2 or below, or 11.5 or above, counts as corrosive, unless its acid or alkali reserve says that it need not be
//! (Regulation (EC) 1272/2008, Annex I, 3.2.3.1.2, as the German Federal Institute for Occupational Safety and Health tells it). By
//! the method of Young, How, Walker and Worth ("Classification as corrosive or irritant to skin of preparations containing acidic or
//! alkaline substances, without testing on animals", Toxicology in Vitro 2, 1988, 19 to 26; its abstract was read, and on the page of that
//! institute how the reserve is titrated, to pH 10 or pH 4; the limits are from memory) it burns where pH plus a twelfth of
//! the alkali reserve is 14.5 or more, or pH less a twelfth of the acid reserve is −0.5 or less, the reserve in grams of sodium hydroxide
//! per 100 g. The regulation asks for a test before anything milder is written on goods for sale; so what does not burn by the reserve
//! still counts as irritating skin and eyes, and the ingredients' own limits count beside it. Where no reserve is known it burns.

/// pH at or below which the pH alone makes a bath corrosive.
pub(super) const CORROSIVE_BELOW_PH: f64 = 2.0;
/// pH at or above which the pH alone makes a bath corrosive.
pub(super) const CORROSIVE_ABOVE_PH: f64 = 11.5;
/// Parts of the reserve that count as one unit of pH.
const RESERVE_PER_PH: f64 = 12.0;
/// From this sum on an alkaline bath burns.
const ALKALI_BURNS_FROM: f64 = 14.5;
/// Down from this difference an acid bath burns.
const ACID_BURNS_FROM: f64 = -0.5;

/// How acid or alkaline a bath is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Acidity {
    /// Its pH.
    pub ph: f64,
    /// Acid reserve (to pH 4) or alkali reserve (to pH 10), grams of sodium hydroxide per 100 g; none where it could not be computed.
    pub reserve_g: Option<f64>,
    /// Gases that are dissolved in it; none where only the pH is known.
    pub dissolved: Option<Dissolved>,
    /// Whether the pH is good enough for what spoils a bath, and not for what burns.
    pub is_rough: bool,
}

/// Gases dissolved in a solution at equilibrium, mol/L. What is in the water goes into the air above it by Henry's law.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dissolved {
    /// Hydrogen sulfide.
    pub hydrogen_sulfide: f64,
    /// Ammonia.
    pub ammonia: f64,
}

impl From<f64> for Acidity {
    /// A pH of which nothing more is known.
    fn from(ph: f64) -> Self {
        Self { ph, reserve_g: None, dissolved: None, is_rough: false }
    }
}

/// What an extreme pH makes of a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Extreme {
    /// The pH lies between the limits.
    No,
    Burns,
    /// The pH is extreme, but there is too little behind it to burn.
    Irritates,
}

impl Acidity {
    pub(super) fn extreme(self) -> Extreme {
        let is_acid = self.ph <= CORROSIVE_BELOW_PH;
        if !is_acid && self.ph < CORROSIVE_ABOVE_PH {
            return Extreme::No;
        }
        let Some(reserve) = self.reserve_g else { return Extreme::Burns };
        let burns = if is_acid {
            self.ph - reserve / RESERVE_PER_PH <= ACID_BURNS_FROM
        } else {
            self.ph + reserve / RESERVE_PER_PH >= ALKALI_BURNS_FROM
        };
        if burns { Extreme::Burns } else { Extreme::Irritates }
    }

    /// The pH, with the reserve where it is known.
    pub(super) fn words(self) -> String {
        let kind = if self.ph < 7.0 { "acid" } else { "alkali" };
        match self.reserve_g {
            Some(reserve) => format!("pH {:.1} with {kind} reserve {reserve:.1} g", self.ph),
            None => format!("pH {:.1}", self.ph),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_between_the_limits_is_not_extreme_and_what_lies_beyond_needs_a_reserve_to_burn() {
        let extreme = |ph: f64, reserve_g| Acidity { reserve_g, ..ph.into() }.extreme();
        // Regulation (EC) 1272/2008, Annex I, 3.2.3.1.2: pH at most 2 or at least 11.5.
        for ph in [2.1, 7.0, 11.4] {
            assert_eq!(extreme(ph, None), Extreme::No, "{ph}");
        }
        for ph in [0.5, 2.0, 11.5, 13.5] {
            assert_eq!(extreme(ph, None), Extreme::Burns, "{ph}");
        }
        // Nothing behind it, and much.
        assert_eq!(
            (extreme(2.0, Some(0.0)), extreme(11.5, Some(0.0))),
            (Extreme::Irritates, Extreme::Irritates)
        );
        assert_eq!((extreme(1.0, Some(30.0)), extreme(13.0, Some(30.0))), (Extreme::Burns, Extreme::Burns));
    }

    #[test]
    fn a_reserve_of_twelve_grams_counts_as_one_unit_of_ph() {
        // Young, How, Walker and Worth, Toxicology in Vitro 2, 1988, 19 to 26 (limits from memory): it burns where pH + alkali reserve / 12
        // is 14.5 or more, or pH - acid reserve / 12 is -0.5 or less. 13 and 18/12 are just 14.5; 1 less 18/12 is just -0.5.
        let extreme = |ph: f64, reserve| Acidity { reserve_g: Some(reserve), ..ph.into() }.extreme();
        for ph in [13.0, 1.0] {
            assert_eq!(extreme(ph, 18.0), Extreme::Burns, "{ph}");
            assert_eq!(extreme(ph, 17.9), Extreme::Irritates, "{ph}");
        }
        // The nearer to the limit of the pH, the more must stand behind it: 36 g at pH 11.5, 30 g at pH 2.
        assert_eq!((extreme(11.5, 36.0), extreme(11.5, 35.9)), (Extreme::Burns, Extreme::Irritates));
        assert_eq!((extreme(2.0, 30.0), extreme(2.0, 29.9)), (Extreme::Burns, Extreme::Irritates));
    }
}
