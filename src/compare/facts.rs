//! What the trade knows of the differences between baths, each sentence with where it comes from.
//!
//! A sentence is told without its subject, so that it can follow the figures of any formula.

/// Why a sentence is so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// A document that was read.
    Source(&'static str),
    /// Known in the trade; no document.
    CommonPractice,
    /// It follows from the figures.
    Arithmetic,
    /// What the formulas' own files state.
    Stated,
    /// What the program predicts.
    Predicted,
}

impl Reason {
    /// As printed behind the sentence.
    pub fn words(self) -> &'static str {
        match self {
            Self::Source(source) => source,
            Self::CommonPractice => "common practice",
            Self::Arithmetic => "arithmetic",
            Self::Stated => "stated in the formulas",
            Self::Predicted => "predicted",
        }
    }
}

/// A sentence with its reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Fact {
    pub(super) text: &'static str,
    pub(super) reason: Reason,
}

const fn practice(text: &'static str) -> Fact {
    Fact { text, reason: Reason::CommonPractice }
}

const fn source(text: &'static str, source: &'static str) -> Fact {
    Fact { text, reason: Reason::Source(source) }
}

const COOKBOOK_195: &str = "S. Anchell, The Darkroom Cookbook, 3rd edition, 2008, page 195";
const COOKBOOK_106: &str = "S. Anchell, The Darkroom Cookbook, 3rd edition, 2008, page 106";
const CLERC_341: &str =
    "L. P. Clerc, Photography: Theory and Practice, English edition, about 1937, section 341";
const CLERC_350: &str =
    "L. P. Clerc, Photography: Theory and Practice, English edition, about 1937, section 350";
const CYCLOPAEDIA: &str = "B. E. Jones (ed.), Cassell's Cyclopaedia of Photography, 1911, article Restrainer";
const GERMAN_MQ: &str = "German handbook (title page not seen), goobi.tib.eu/viewer/fulltext/1686551908/121";
const ARCHIVE: &str = "Developing Agents, course page for film archives, brianpritchard.com, section 9";
const PLATES_1910: &str =
    "Photo (British book, about 1910), Development of the Negative, part 5, chestofbooks.com";

/// Sulfite from which its solvent action shows in the grain, g/L counted anhydrous. Source: [`COOKBOOK_195`].
pub(super) const SOLVENT_SULFITE_G: f64 = 50.0;

pub(super) const SULFITE_BOTH_SOLVENT: Fact = source(
    "above about 50 g/L sulfite dissolves enough silver halide to show in the grain, and both are above it",
    COOKBOOK_195,
);
pub(super) const SULFITE_MORE_SOLVENT: Fact = source(
    "it is above the 50 g/L or so from which sulfite dissolves enough silver halide to show in the grain: finer grain",
    COOKBOOK_195,
);
pub(super) const SULFITE_LESS_SOLVENT: Fact = source(
    "it is below the 50 g/L or so from which sulfite dissolves enough silver halide to show in the grain: coarser grain",
    COOKBOOK_195,
);
pub(super) const SULFITE_BOTH_LITTLE: Fact =
    source("both are below the 50 g/L or so from which sulfite shows in the grain", COOKBOOK_195);
pub(super) const SHARPER: Fact = practice("grain that is not softened keeps its edges: sharper");
pub(super) const LESS_SHARP: Fact = practice("grain with dissolved edges looks less sharp");

pub(super) const MORE_HYDROQUINONE: Fact = source(
    "metol brings up shadows and halftones quickly and soft, hydroquinone adds density: more of it works harder",
    GERMAN_MQ,
);
pub(super) const LESS_HYDROQUINONE: Fact = source(
    "metol brings up shadows and halftones quickly and soft, hydroquinone adds density: less of it works softer",
    GERMAN_MQ,
);

pub(super) const STRONGER_ALKALI: Fact = source(
    "a stronger alkali makes it more active: carbonate is custom for positives, borax for negatives",
    ARCHIVE,
);
pub(super) const WEAKER_ALKALI: Fact = source(
    "a weaker alkali makes it less active: borax is custom for negatives, carbonate for positives",
    ARCHIVE,
);
pub(super) const MORE_ALKALI: Fact = source("the more alkali the more active", ARCHIVE);
pub(super) const LESS_ALKALI: Fact = source("the less alkali the less active", ARCHIVE);
pub(super) const CAUSTIC: Fact =
    practice("caustic works fastest and hardest, and the mixed bath dies soonest");
pub(super) const SULFITE_ALONE: Fact =
    practice("sulfite alone is alkaline enough for metol, amidol and the phenidones: slow and soft");
pub(super) const BUFFERED: Fact = practice(
    "boric acid beside the borate lowers the pH and holds it: steadier from bottle to bottle and with age",
);

pub(super) const MORE_BROMIDE: Fact = source(
    "bromide keeps unexposed parts clear and holds back the shadows most: less fog, more contrast, a little less speed",
    CYCLOPAEDIA,
);
pub(super) const LESS_BROMIDE: Fact =
    source("with less bromide the shadows come up more easily, and so may fog", CYCLOPAEDIA);
pub(super) const NO_BROMIDE: Fact = source(
    "development sets bromide free, so a bath that starts without any changes more with the first films",
    ARCHIVE,
);
pub(super) const ANTIFOGGANT: Fact =
    practice("holds back fog with less loss of speed than bromide; colder tone on paper");
pub(super) const IODIDE: Fact =
    practice("a trace of iodide holds development back beside dense edges: sharper lines");

pub(super) const THIOCYANATE: Fact = practice(
    "a gram or so dissolves silver halide strongly: finer grain and less speed; too much gives a metallic fog",
);
pub(super) const CHLORIDE: Fact = practice("dissolves silver halide mildly: finer grain, longer times");
pub(super) const MONOBATH: Fact =
    practice("thiosulfate fixes as it develops: time no longer controls the contrast");
pub(super) const TWO_BATHS: Fact = practice(
    "agent and alkali apart: each spot develops with what it carried over, so highlights hold themselves back and time and temperature matter little",
);

pub(super) const ACID_IN_DEVELOPER: Fact =
    practice("acid takes part of the alkali: slower, softer, finer grain");
pub(super) const FALLS_BELOW_SOLVENT: Fact =
    source("at about 50 g/L and below it no longer shows in the grain: coarser, but sharper", COOKBOOK_195);

pub(super) const AMMONIUM: Fact = practice("ammonium makes the fixer quicker");
pub(super) const ACID_FIXER: Fact = practice("acid stops development at once and keeps the bath clear");
pub(super) const NO_ACID_FIXER: Fact =
    source("without acid the thiosulfate washes out of paper sooner", COOKBOOK_106);
pub(super) const HARDENER: Fact =
    source("hardener slows fixing and is itself hard to wash out of paper", COOKBOOK_106);

pub(super) const DILUTED: Fact = source(
    "a diluted developer needs more time than the dilution alone says, for the air in the water takes some of the agent",
    CLERC_341,
);

/// What an agent (species or chemical) is known for.
pub(super) fn of_agent(name: &str) -> Fact {
    match name {
        "metol" => source("brings up shadows and halftones quickly, soft in contrast", GERMAN_MQ),
        "hydroquinone" => source("adds density where a quicker agent has begun", GERMAN_MQ),
        "pyrazolidone" => {
            practice("does metol's work in about a tenth of the amount; bromide holds it back less")
        }
        "ascorbate" => practice("works clean and is mild on the skin; dies without changing colour"),
        "pyrogallol" => source("stains and tans the image where little sulfite protects it", CLERC_350),
        "pyrocatechol" => practice("stains and tans the image where little sulfite protects it"),
        "p-aminophenol" => practice("keeps as a concentrate and is used highly diluted; even, little fog"),
        "glycin" => source("is hardly taken by the air, so dilution costs it nothing but time", CLERC_341),
        "amidol" => source("works without alkali; its solution does not keep", PLATES_1910),
        "p-phenylenediamine" | "o-phenylenediamine" => {
            practice("dissolves silver halide: very fine grain, less speed; a strong skin sensitiser")
        }
        "coffee" => practice("develops by its phenols, and stains"),
        _ => practice("develops"),
    }
}
