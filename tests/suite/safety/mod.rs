//! What must not meet what, row by row with its counter-examples; hazards that must never be left out; the library as a whole.

mod bath;
mod between;
mod mixtures;
mod shipped;
mod vessels;

use crate::common::shipped::{formulas, tables};
use soupcon::formula::{Chemicals as _, Kind};
use soupcon::library::Library;
use soupcon::mixing::{self, baths_of, review};
use soupcon::predict::{additions, reserve_g};
use soupcon::safety::{
    Acidity, BathSummary, Caution, Filling, NOT_KNOWN, Refusal, SafetyData, Severity, Wear, signal_of,
};
use soupcon::solution::predict;
use soupcon::substance::Signal;
use soupcon::vessel::{Content, Vessel};
use std::collections::{BTreeMap, BTreeSet};

fn safety() -> &'static SafetyData {
    &tables().safety
}

/// A vessel of forms in grams per litre.
fn vessel(library: &Library, contents: &[(&str, f64)]) -> Vec<Content> {
    contents.iter().map(|(id, grams)| Content::grams(&library.form(id).unwrap(), *grams)).collect()
}

/// What is said of a litre mixed from chemicals, its pH known as far as it can be predicted.
fn mixed_of(data: &SafetyData, contents: impl Into<Vessel>) -> Result<Vec<Caution>, Box<Refusal>> {
    let vessel: Vessel = contents.into();
    let acidity = soupcon::mixing::acidity(&tables().equilibria, &vessel);
    data.while_mixing_so_acid(&vessel, 1.0, Filling::FromChemicals, acidity)
}

fn mixed(contents: &[(&str, f64)]) -> Result<Vec<Caution>, Box<Refusal>> {
    let library = Library::shipped();
    mixed_of(safety(), vessel(&library, contents))
}

fn ids(cautions: &[Caution]) -> Vec<&str> {
    cautions.iter().map(|caution| caution.id.as_str()).collect()
}

type Bath = &'static [(&'static str, f64)];

/// Baths one after the other.
const BETWEEN: &[(&str, Bath, Bath)] = &[
    ("ammonium-then-sulfide", &[("ammonium-chloride", 60.0)], &[("sodium-sulfide-nonahydrate", 20.0)]),
    ("weak-acid-then-sulfide", &[("sodium-sulfide-nonahydrate", 20.0)], &[("boric-acid", 45.0)]),
    ("acid-then-thiosulfate", &[("acetic-acid-28", 48.7)], &[("sodium-thiosulfate-pentahydrate", 250.0)]),
    (
        "acid-then-sulfite",
        &[("potassium-dichromate", 9.5), ("sulfuric-acid", 14.6)],
        &[("sodium-sulfite-anhydrous", 90.0)],
    ),
    ("acid-then-sulfide", &[("acetic-acid-28", 48.7)], &[("sodium-sulfide-nonahydrate", 5.0)]),
    // A bisulfite or alum bath before sulfide gives hydrogen sulfide too.
    ("acid-then-sulfide", &[("sodium-metabisulfite", 30.0)], &[("sodium-sulfide-nonahydrate", 5.0)]),
    ("acid-then-sulfide", &[("potassium-alum-dodecahydrate", 50.0)], &[("potassium-polysulfide", 7.5)]),
    (
        "strong-acid-then-cyanoferrate",
        &[("sodium-bisulfate-anhydrous", 30.0)],
        &[("potassium-ferricyanide", 20.0)],
    ),
    ("acid-then-cyanoferrate", &[("acetic-acid-28", 48.7)], &[("potassium-ferricyanide", 20.0)]),
    ("strong-acid-then-thiocyanate", &[("sulfuric-acid", 15.0)], &[("ammonium-thiocyanate", 20.0)]),
    ("oxidiser-then-thiocyanate", &[("ammonium-persulfate", 30.0)], &[("ammonium-thiocyanate", 20.0)]),
    (
        "oxidiser-then-acid-chloride",
        &[("potassium-permanganate", 1.0), ("sulfuric-acid", 5.0)],
        &[("sodium-chloride", 20.0)],
    ),
    ("oxidiser-then-hydrochloric", &[("ammonium-persulfate", 30.0)], &[("hydrochloric-acid-37", 20.0)]),
    (
        "oxidiser-then-reducer",
        &[("ammonium-persulfate", 30.0)],
        &[("metol", 2.0), ("sodium-sulfite-anhydrous", 30.0)],
    ),
    (
        "thiosulfate-then-ferricyanide",
        &[("sodium-thiosulfate-pentahydrate", 200.0)],
        &[("potassium-ferricyanide", 20.0), ("potassium-bromide", 5.0)],
    ),
    ("silver-then-ammonia", &[("silver-nitrate", 120.0)], &[("ammonia-25", 10.0)]),
    ("iodine-ammonia", &[("iodine", 5.0)], &[("ammonia-25", 10.0)]),
    (
        "alkali-then-ammonium",
        &[("sodium-carbonate-anhydrous", 50.0), ("metol", 2.0)],
        &[("ammonium-thiosulfate-60", 200.0)],
    ),
    ("carbonate-then-acid", &[("sodium-carbonate-anhydrous", 50.0)], &[("acetic-acid-28", 48.7)]),
    ("caustic-then-acid", &[("sodium-hydroxide", 25.0)], &[("acetic-acid-28", 129.5)]),
    ("alkali-then-alum", &[("sodium-carbonate-anhydrous", 50.0)], &[("potassium-alum-dodecahydrate", 15.0)]),
    (
        "formaldehyde-hydrochloric",
        &[("formaldehyde-37", 10.8)],
        &[("potassium-dichromate", 11.0), ("hydrochloric-acid-37", 2.0)],
    ),
    (
        "formaldehyde-then-oxidiser",
        &[("formaldehyde-37", 10.8)],
        &[("potassium-permanganate", 2.0), ("sulfuric-acid", 18.0)],
    ),
    (
        "formaldehyde-then-oxidiser",
        &[("potassium-permanganate", 2.0), ("sulfuric-acid", 18.0)],
        &[("formaldehyde-37", 10.8)],
    ),
    (
        "acid-then-alkaline-fixer",
        &[("acetic-acid-28", 48.7)],
        &[
            ("ammonium-thiosulfate-60", 260.0),
            ("sodium-sulfite-anhydrous", 60.0),
            ("sodium-metaborate-anhydrous", 5.0),
        ],
    ),
    (
        "acid-then-selenium",
        &[("sodium-metabisulfite", 25.0)],
        &[("selenium", 1.0), ("sodium-sulfite-anhydrous", 25.0)],
    ),
    ("gold-ammonia", &[("tetrachloroauric-acid-trihydrate", 0.2)], &[("ammonia-25", 5.0)]),
    ("hypochlorite-acid", &[("sodium-hypochlorite-5", 100.0)], &[("acetic-acid-28", 48.7)]),
    ("hypochlorite-ammonia", &[("sodium-hypochlorite-5", 100.0)], &[("ammonium-thiosulfate-60", 200.0)]),
    ("hypochlorite-cyanoferrate", &[("sodium-hypochlorite-5", 100.0)], &[("potassium-ferricyanide", 20.0)]),
    (
        "hypochlorite-reducer",
        &[("sodium-thiosulfate-pentahydrate", 200.0)],
        &[("sodium-hypochlorite-5", 100.0)],
    ),
    (
        "oxidiser-then-acid-bromide",
        &[("potassium-permanganate", 1.0), ("sulfuric-acid", 5.0)],
        &[("potassium-ferricyanide", 20.0), ("potassium-bromide", 20.0)],
    ),
    ("alkali-then-chrome-alum", &[("sodium-carbonate-anhydrous", 50.0)], &[("chrome-alum", 30.0)]),
    (
        "borate-then-alum",
        &[("borax-decahydrate", 2.0), ("metol", 2.0)],
        &[("potassium-alum-dodecahydrate", 50.0)],
    ),
    (
        "citrate-then-alum",
        &[("citric-acid-monohydrate", 15.0)],
        &[
            ("sodium-thiosulfate-pentahydrate", 240.0),
            ("sodium-sulfite-anhydrous", 15.0),
            ("acetic-acid-28", 49.7),
            ("potassium-alum-dodecahydrate", 15.0),
        ],
    ),
    ("hypochlorite-peroxide", &[("sodium-hypochlorite-5", 100.0)], &[("hydrogen-peroxide-3", 100.0)]),
    (
        "peroxide-then-permanganate",
        &[("hydrogen-peroxide-3", 100.0)],
        &[("potassium-permanganate", 5.0), ("sulfuric-acid", 5.0)],
    ),
    ("platinum-ammonia", &[("palladium-chloride", 10.0)], &[("ammonia-25", 10.0)]),
    ("hypochlorite-thiocyanate", &[("sodium-hypochlorite-5", 100.0)], &[("sodium-thiocyanate", 10.0)]),
    ("hypochlorite-alcohol", &[("sodium-hypochlorite-5", 100.0)], &[("methanol", 10.0)]),
];
