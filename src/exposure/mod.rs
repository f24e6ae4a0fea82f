//! The sums under the enlarger: stops and seconds, test strips, the lamp, size, contrast, local exposure, contact sheets, silver in the fixer.
//!
//! Everything is kept unrounded; a timer's step enters only where a setting is told ([`Clock`]). Each law says where it stops holding as
//! a [`ExposureWarning`]. The formulas stand beside the functions; the derived ones follow from the thin lens and from adding exposures. Nothing
//! here knows the command line, a page or a folder.
//!
//! The thin lens: Clerc, Photography: Theory and Practice, section 770, gives the same squares. Paper range and speed: ISO 6846.
//! Silver in two baths: a mass balance, tested against sheet after sheet. Cold wash water: the US War Department's rule; viscosity of
//! water: IAPWS. Limits of the warnings (5 to 60 s, fourfold, 0.3 g/L in a second bath, 1.5 g/m² of silver on paper) are advice or
//! memory and say so; reciprocity of papers was found in no document, so the exponent is 1 unless typed. Totals of a strip are
//! rounded and settings are their differences; a first time that the timer cannot be set to is refused. Engraved full stops (5.6, 11,
//! 22) are powers of root two, other f-numbers are taken as written.

mod burn;
mod change;
mod clock;
mod contact;
mod error;
mod filter;
mod lamp;
mod length;
mod limits;
mod metered;
mod paper_range;
mod printed;
mod sheets;
mod silver;
mod size;
mod stops;
mod strip;
mod table;
mod two_filter;
mod wash;

pub(crate) use burn::{Burn, Dodge, burn, burn_of_extra, dodge, dodge_of_held_back};
pub(crate) use change::{By, Change, change, change_to};
pub(crate) use clock::Clock;
pub(crate) use contact::{Contact, contact};
pub(crate) use error::ExposureError;
pub(crate) use filter::{Filtered, by_factor, by_speed};
pub(crate) use lamp::{LampEffect, LampLoss, lamp_effect, lamp_loss};
pub(crate) use length::Length;
pub(crate) use limits::ExposureWarning;
pub(crate) use metered::{Metered, MeteredShadow, by_log_exposure, by_paper_speed};
pub(crate) use paper_range::{NegativeRange, PaperRange, condenser_factor, paper_range};
pub(crate) use printed::{Local, PrintExposure};
pub(crate) use sheets::{PaperSheet, units_left};
pub(crate) use silver::{Baths, SilverPerSheet, TwoBaths, sheets_per_litre, two_baths};
pub(crate) use size::{EnlargerHead, EnlargerSide, Resized, SizeChange, resize};
pub(crate) use stops::Stops;
pub(crate) use strip::{
    ChosenStrip, StripMethod, StripRequest, StripStart, TestStrip, chosen, steps_between, strip,
};
pub(crate) use table::{BURNS, DODGES, WallTable, wall_table};
pub(crate) use two_filter::{
    Failure, FilterTimes, Given, HardChange, Hold, TwoFilters, given, hard_change, two_filters,
};
pub(crate) use wash::{Washed, mg_per_sq_in, washed};
