//! How much air a bath asks for, for all commands from one place.

use super::{GasRelease, Release, Wear};

/// How much air is asked for, least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Air {
    /// None beyond the usual.
    #[default]
    None,
    /// An open window.
    Open,
    /// A gas can come off.
    Gas,
    /// Extraction or outdoors.
    Closed,
}

impl Air {
    /// By the boxes above it, the gases that can come off, and what is asked for otherwise.
    pub(super) fn of(is_boxed: bool, gases: &[GasRelease], wear: &[Wear]) -> Self {
        if is_boxed {
            Self::Closed
        } else if gases.iter().any(|own| own.release == Release::Leave) || wear.contains(&Wear::Extraction) {
            Self::Gas
        } else if wear.contains(&Wear::Ventilation) {
            Self::Open
        } else {
            Self::None
        }
    }

    /// In a sentence; `is_masked` where a dust mask is worn and a gas comes off.
    pub(super) fn words(self, is_masked: bool) -> Option<String> {
        let air = match self {
            Self::None => return None,
            Self::Open => "Air the room: window open or extraction on.",
            Self::Gas => "Window open and extraction on before you begin; work outdoors if you have neither.",
            Self::Closed => "Under extraction or outdoors; nobody else in the room.",
        };
        let no_mask = if is_masked { " A dust mask holds back dust, no gas and no vapour." } else { "" };
        Some(format!("{air}{no_mask}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_air_follows_the_gravest_that_asks_for_it() {
        // Common practice, no source.
        for (is_boxed, wear, air) in [
            (false, &[Wear::NitrileGloves][..], Air::None),
            (false, &[Wear::Ventilation], Air::Open),
            (false, &[Wear::Ventilation, Wear::Extraction], Air::Gas),
            (true, &[], Air::Closed),
        ] {
            assert_eq!(Air::of(is_boxed, &[], wear), air, "{wear:?}");
        }
        let words = |air: Air, is_masked| air.words(is_masked);
        assert_eq!(words(Air::None, true), None);
        assert!(words(Air::Open, true).is_some_and(|own| own.contains("no gas")));
        assert!(words(Air::Open, false).is_some_and(|own| !own.contains("mask")));
    }
}
