//! Which pictograms of the GHS go with which statements, and which of them give way.
//!
//! Source of the allocation: the label elements of each hazard class in Regulation (EC) 1272/2008, Annex I, and the UN GHS, chapters 2
//! to 4; from memory. Source of the precedence: Regulation (EC) 1272/2008, Article 26 (1) b to d, read in a consultants' copy in Czech;
//! two pages that retell 1.4.10.5.3.1 of the UN GHS agree. An explosive or a gas under pressure is no bath: their pictograms are not drawn.

/// A symbol of the GHS.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "each variant is the symbol itself")]
pub enum Pictogram {
    Flame,
    FlameOverCircle,
    Corrosion,
    Skull,
    HealthHazard,
    ExclamationMark,
    Environment,
}

impl Pictogram {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Flame,
        Self::FlameOverCircle,
        Self::Corrosion,
        Self::Skull,
        Self::HealthHazard,
        Self::ExclamationMark,
        Self::Environment,
    ];

    /// The name of the symbol in the standard.
    pub fn name(self) -> &'static str {
        match self {
            Self::Flame => "flame",
            Self::FlameOverCircle => "flame over circle",
            Self::Corrosion => "corrosion",
            Self::Skull => "skull and crossbones",
            Self::HealthHazard => "health hazard",
            Self::ExclamationMark => "exclamation mark",
            Self::Environment => "environment",
        }
    }

    /// The symbol of a statement; none for statements without one (H362, H412, H413, all EUH).
    pub fn of(code: &str) -> Option<Self> {
        match code.get(..4)? {
            "H220" | "H222" | "H223" | "H224" | "H225" | "H226" | "H228" | "H241" | "H242" | "H250"
            | "H251" | "H252" | "H260" | "H261" => Some(Self::Flame),
            "H270" | "H271" | "H272" => Some(Self::FlameOverCircle),
            "H290" | "H314" | "H318" => Some(Self::Corrosion),
            "H300" | "H301" | "H310" | "H311" | "H330" | "H331" => Some(Self::Skull),
            "H304" | "H334" | "H340" | "H341" | "H350" | "H351" | "H360" | "H361" | "H370" | "H371"
            | "H372" | "H373" => Some(Self::HealthHazard),
            "H302" | "H312" | "H315" | "H317" | "H319" | "H332" | "H335" | "H336" | "H420" => {
                Some(Self::ExclamationMark)
            }
            "H400" | "H410" | "H411" => Some(Self::Environment),
            _ => None,
        }
    }
}

/// Statements for which corrosion, or breathing allergy, stands in for the exclamation mark.
const SKIN_AND_EYES: [&str; 2] = ["H315", "H319"];
const SKIN_ALLERGY: &str = "H317";
const BREATHING_ALLERGY: &str = "H334";

/// The symbols of a set of statements, each once.
///
/// The exclamation mark gives way to the skull; for skin and eyes to corrosion; for skin, eyes and skin allergy to the health hazard that
/// stands for breathing allergy.
pub(crate) fn pictograms(codes: &[&str]) -> Vec<Pictogram> {
    let has = |wanted: Pictogram| codes.iter().any(|code| Pictogram::of(code) == Some(wanted));
    let breathing = codes.iter().any(|code| code.starts_with(BREATHING_ALLERGY));
    let skull = has(Pictogram::Skull);
    let corrosion = has(Pictogram::Corrosion);
    let needs_mark = codes.iter().any(|code| {
        let on_skin = SKIN_AND_EYES.iter().any(|own| code.starts_with(own));
        let covered = on_skin && (corrosion || breathing) || code.starts_with(SKIN_ALLERGY) && breathing;
        Pictogram::of(code) == Some(Pictogram::ExclamationMark) && !covered
    });
    Pictogram::ALL
        .into_iter()
        .filter(|own| match own {
            Pictogram::ExclamationMark => needs_mark && !skull,
            other => has(*other),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::Pictogram::{
        Corrosion, Environment, ExclamationMark, Flame, FlameOverCircle, HealthHazard, Skull,
    };
    use super::*;

    #[test]
    fn each_statement_has_its_symbol_once() {
        assert_eq!(pictograms(&["H350", "H360FD", "H341"]), [HealthHazard]);
        assert_eq!(pictograms(&["H226", "H272", "H411"]), [Flame, FlameOverCircle, Environment]);
        assert!(pictograms(&["H412", "EUH031", "EUH208"]).is_empty());
    }

    // Source: Regulation (EC) 1272/2008, Article 26 (1) b.
    #[test]
    fn the_skull_displaces_the_exclamation_mark() {
        assert_eq!(pictograms(&["H301", "H312", "H319"]), [Skull]);
    }

    // Source: Article 26 (1) c: only for irritation of skin or eyes, not for harm by swallowing or for allergy.
    #[test]
    fn corrosion_displaces_the_exclamation_mark_for_skin_and_eyes_only() {
        assert_eq!(pictograms(&["H314", "H315", "H319"]), [Corrosion]);
        assert_eq!(pictograms(&["H318", "H315"]), [Corrosion]);
        assert_eq!(pictograms(&["H314", "H302"]), [Corrosion, ExclamationMark]);
        assert_eq!(pictograms(&["H318", "H317"]), [Corrosion, ExclamationMark]);
    }

    // Source: Article 26 (1) d: only where the health hazard stands for breathing allergy.
    #[test]
    fn breathing_allergy_displaces_it_for_skin_eyes_and_skin_allergy() {
        assert_eq!(pictograms(&["H334", "H317", "H319"]), [HealthHazard]);
        assert_eq!(pictograms(&["H350", "H317"]), [HealthHazard, ExclamationMark]);
        assert_eq!(pictograms(&["H334", "H302"]), [HealthHazard, ExclamationMark]);
    }
}
