//! What a chemical does in a bath.

use serde::Deserialize;

/// What a chemical does in a bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "each variant is the trade word itself")]
pub enum Role {
    DevelopingAgent,
    Preservative,
    Alkali,
    Buffer,
    Restrainer,
    Antifoggant,
    Acid,
    FixingAgent,
    SilverSolvent,
    Hardener,
    Sequestrant,
    Bleach,
    Oxidiser,
    Toner,
    Solvent,
    WettingAgent,
    SilverSource,
    Sensitiser,
    Colloid,
    SwellingControl,
    HalideSource,
    Accelerator,
    Catalyst,
    Cleaner,
    Stabiliser,
    Indicator,
}

impl Role {
    /// The trade word.
    pub fn word(self) -> &'static str {
        match self {
            Self::DevelopingAgent => "developing agent",
            Self::Preservative => "preservative",
            Self::Alkali => "alkali",
            Self::Buffer => "buffer",
            Self::Restrainer => "restrainer",
            Self::Antifoggant => "antifoggant",
            Self::Acid => "acid",
            Self::FixingAgent => "fixing agent",
            Self::SilverSolvent => "silver solvent",
            Self::Hardener => "hardener",
            Self::Sequestrant => "sequestrant",
            Self::Bleach => "bleach",
            Self::Oxidiser => "oxidiser",
            Self::Toner => "toner",
            Self::Solvent => "solvent",
            Self::WettingAgent => "wetting agent",
            Self::SilverSource => "silver source",
            Self::Sensitiser => "sensitiser",
            Self::Colloid => "colloid",
            Self::SwellingControl => "swelling control",
            Self::HalideSource => "halide source",
            Self::Accelerator => "accelerator",
            Self::Catalyst => "catalyst",
            Self::Cleaner => "cleaner",
            Self::Stabiliser => "stabiliser",
            Self::Indicator => "indicator",
        }
    }
}
