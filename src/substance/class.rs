//! What a chemical is to the rules of combination.

use std::fmt;

macro_rules! classes {
    ($($variant:ident = $word:literal,)*) => {
        /// A class of chemicals: what the rules of combination, of order and of solvents name in place of single chemicals.
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[allow(missing_docs, reason = "each variant is the word of the files itself")]
        pub enum Class {
            $($variant,)*
            /// A word of a file of the user's own that is none of these; rows of the user's own may name it.
            Own(String),
        }

        impl Class {
            /// The classes that the program knows.
            pub const KNOWN: &'static [Self] = &[$(Self::$variant),*];

            /// The word in the files.
            pub fn word(&self) -> &str {
                match self {
                    $(Self::$variant => $word,)*
                    Self::Own(word) => word,
                }
            }
        }

        impl From<String> for Class {
            fn from(word: String) -> Self {
                match word.as_str() {
                    $($word => Self::$variant,)*
                    _ => Self::Own(word),
                }
            }
        }
    };
}

classes! {
    Acid = "acid",
    AcidChelate = "acid-chelate",
    AcidicInWater = "acidic-in-water",
    Aldehyde = "aldehyde",
    Alkali = "alkali",
    AluminiumSalt = "aluminium-salt",
    Amine = "amine",
    Ammonia = "ammonia",
    Ammonium = "ammonium",
    Ascorbate = "ascorbate",
    Azole = "azole",
    Borate = "borate",
    Bromide = "bromide",
    Carbonate = "carbonate",
    Chelate = "chelate",
    Chloride = "chloride",
    ChlorideAcid = "chloride-acid",
    ChromiumIii = "chromium-iii",
    ChromiumVi = "chromium-vi",
    Citrate = "citrate",
    Combustible = "combustible",
    Copper = "copper",
    Cyanoferrate = "cyanoferrate",
    DevelopingAgent = "developing-agent",
    DevelopsWithoutAlkali = "develops-without-alkali",
    DissolvesInAlkali = "dissolves-in-alkali",
    Flammable = "flammable",
    FormaldehydeReleaser = "formaldehyde-releaser",
    Gold = "gold",
    Halide = "halide",
    Hypochlorite = "hypochlorite",
    Iodide = "iodide",
    Iodine = "iodine",
    IronIii = "iron-iii",
    LightSensitive = "light-sensitive",
    MetolLike = "metol-like",
    Organic = "organic",
    Oxalate = "oxalate",
    Oxidiser = "oxidiser",
    OxidiserWeak = "oxidiser-weak",
    Palladium = "palladium",
    Permanganate = "permanganate",
    Peroxide = "peroxide",
    Persulfate = "persulfate",
    Phosphate = "phosphate",
    Platinum = "platinum",
    Reducer = "reducer",
    ReducerWeak = "reducer-weak",
    Selenium = "selenium",
    SilverSalt = "silver-salt",
    SlowToWet = "slow-to-wet",
    StrongAcid = "strong-acid",
    StrongAlkali = "strong-alkali",
    StrongReducer = "strong-reducer",
    Sulfide = "sulfide",
    Sulfite = "sulfite",
    Surfactant = "surfactant",
    Thiocyanate = "thiocyanate",
    Thiosulfate = "thiosulfate",
    Thiourea = "thiourea",
    WeakAcid = "weak-acid",
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
