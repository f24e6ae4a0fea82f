//! What must not meet what, row by row with its counter-examples; hazards that must never be left out; the library as a whole.

use std::collections::{BTreeMap, BTreeSet};

use soupcon::formula::{Chemicals as _, Kind};
use soupcon::library::Library;
use soupcon::mixing::{self, baths_of, review};
use soupcon::predict::{additions, reserve_g};
use soupcon::safety::{
    Acidity, BathSummary, Caution, Filling, NOT_KNOWN, Refusal, SafetyData, Severity, Wear, signal_of,
};
use soupcon::solution::{Equilibria, predict};
use soupcon::substance::Signal;
use soupcon::vessel::{Content, Vessel};

fn safety(library: &Library) -> SafetyData {
    let table = |name: &str| library.table(name).unwrap();
    SafetyData::parse(table("statements.toml"), table("combinations.toml"), table("precautions.toml"))
        .unwrap()
}

/// A vessel of forms in grams per litre.
fn vessel(library: &Library, contents: &[(&str, f64)]) -> Vec<Content> {
    contents.iter().map(|(id, grams)| Content::grams(&library.form(id).unwrap(), *grams)).collect()
}

thread_local! {
    static EQUILIBRIA: Equilibria =
        Equilibria::parse(Library::shipped().table("equilibria.toml").unwrap()).unwrap();
}

/// What is said of a litre mixed from chemicals, its pH known as far as it can be predicted.
fn mixed_of(data: &SafetyData, contents: impl Into<Vessel>) -> Result<Vec<Caution>, Box<Refusal>> {
    let vessel: Vessel = contents.into();
    let acidity = EQUILIBRIA.with(|equilibria| soupcon::mixing::acidity(equilibria, &vessel));
    data.while_mixing_so_acid(&vessel, 1.0, Filling::FromChemicals, acidity)
}

fn mixed(contents: &[(&str, f64)]) -> Result<Vec<Caution>, Box<Refusal>> {
    let library = Library::shipped();
    mixed_of(&safety(&library), vessel(&library, contents))
}

fn ids(cautions: &[Caution]) -> Vec<&str> {
    cautions.iter().map(|caution| caution.id.as_str()).collect()
}

/// What one vessel must bring up: a row, and grams per litre.
const IN_ONE_VESSEL: &[(&str, &[(&str, f64)])] = &[
    ("strong-acid-sulfite", &[("sulfuric-acid", 20.0), ("sodium-sulfite-anhydrous", 20.0)]),
    // The classic acid hardening fixer: 48 mL of 28 % acetic acid on 15 g of sulfite.
    (
        "acid-sulfite",
        &[
            ("sodium-thiosulfate-pentahydrate", 240.0),
            ("sodium-sulfite-anhydrous", 15.0),
            ("acetic-acid-28", 49.7),
        ],
    ),
    ("phenylenediamine-skin", &[("p-phenylenediamine", 10.0), ("sodium-sulfite-anhydrous", 60.0)]),
    ("phenylenediamine-skin", &[("o-phenylenediamine", 12.0)]),
    ("methanol-vapour", &[("methanol", 38.0), ("metol", 14.0)]),
    ("glacial-acid-sulfite", &[("acetic-acid", 18.8), ("sodium-sulfite-anhydrous", 30.0)]),
    ("bisulfite-open-tray", &[("sodium-metabisulfite", 30.0)]),
    (
        "strong-acid-thiosulfate",
        &[
            ("hydrochloric-acid-37", 20.0),
            ("sodium-sulfite-anhydrous", 30.0),
            ("sodium-thiosulfate-pentahydrate", 200.0),
        ],
    ),
    ("acid-thiosulfate", &[("monosodium-phosphate", 15.0), ("sodium-thiosulfate-pentahydrate", 200.0)]),
    (
        "alum-thiosulfate",
        &[("sodium-thiosulfate-pentahydrate", 125.0), ("potassium-alum-dodecahydrate", 25.0)],
    ),
    (
        "acid-fixer-order",
        &[
            ("sodium-thiosulfate-pentahydrate", 240.0),
            ("sodium-sulfite-anhydrous", 15.0),
            ("acetic-acid-28", 49.7),
        ],
    ),
    (
        "bisulfite-thiosulfate-warm",
        &[("sodium-thiosulfate-pentahydrate", 250.0), ("sodium-metabisulfite", 25.0)],
    ),
    ("strong-acid-cyanoferrate", &[("sulfuric-acid", 5.0), ("potassium-ferricyanide", 20.0)]),
    ("strong-acid-cyanoferrate-open", &[("sulfuric-acid", 20.0), ("potassium-ferricyanide", 20.0)]),
    ("hydrochloric-fumes", &[("hydrochloric-acid-37", 50.0)]),
    // The same in a glycol, of which the model of water says nothing.
    (
        "selenium-bisulfite",
        &[
            ("selenium", 5.0),
            ("sodium-sulfite-anhydrous", 50.0),
            ("sodium-metabisulfite", 40.0),
            ("propylene-glycol", 150.0),
        ],
    ),
    (
        "weak-acid-cyanoferrate",
        &[("citric-acid-anhydrous", 10.0), ("potassium-ferrocyanide-trihydrate", 20.0)],
    ),
    ("acid-thiocyanate", &[("ammonium-thiocyanate", 25.0), ("tartaric-acid", 2.0)]),
    ("oxidiser-hydrochloric", &[("potassium-dichromate", 11.4), ("hydrochloric-acid-37", 2.1)]),
    (
        "oxidiser-acid-chloride",
        &[("potassium-permanganate", 2.65), ("sodium-chloride", 37.5), ("sulfuric-acid", 14.6)],
    ),
    ("oxidiser-reducer", &[("ammonium-persulfate", 10.0), ("sodium-thiosulfate-pentahydrate", 50.0)]),
    ("oxidiser-alcohol", &[("ammonium-dichromate", 10.0), ("isopropanol", 100.0)]),
    ("permanganate-concentrated-acid", &[("potassium-permanganate", 1.0), ("sulfuric-acid", 10.0)]),
    ("peroxide-metal", &[("hydrogen-peroxide-3", 100.0), ("copper-sulfate-pentahydrate", 5.0)]),
    ("peroxide-ammonia", &[("hydrogen-peroxide-3", 126.0), ("ammonia-28", 9.0)]),
    ("peroxide-closed", &[("hydrogen-peroxide-3", 126.0)]),
    ("persulfate-alkali", &[("potassium-persulfate", 10.0), ("sodium-hydroxide", 5.0)]),
    (
        "ferricyanide-thiosulfate",
        &[("potassium-ferricyanide", 2.0), ("sodium-thiosulfate-pentahydrate", 30.0)],
    ),
    ("silver-ammonia", &[("silver-nitrate", 50.0), ("ammonia-25", 30.0)]),
    (
        "silver-alkali-ammonium",
        &[("silver-nitrate", 5.0), ("ammonium-thiosulfate", 100.0), ("sodium-carbonate-anhydrous", 10.0)],
    ),
    ("silver-alcohol", &[("silver-nitrate", 50.0), ("ethanol", 100.0)]),
    ("silver-halide", &[("silver-nitrate", 1.0), ("sodium-chloride", 1.0)]),
    ("silver-sulfide", &[("silver-nitrate", 1.0), ("sodium-sulfide-nonahydrate", 1.0)]),
    (
        "silver-physical-developer",
        &[("silver-nitrate", 10.0), ("metol", 4.0), ("sodium-thiosulfate-pentahydrate", 17.0)],
    ),
    ("silver-oxalate", &[("silver-nitrate", 32.0), ("ferric-oxalate", 225.0)]),
    ("alkali-ammonium", &[("ammonium-chloride", 40.0), ("sodium-metaborate-tetrahydrate", 10.0)]),
    // 16 g of ascorbic acid in a carbonate developer end as bicarbonate; as much citric acid as carbonate foams.
    ("carbonate-acid-little", &[("sodium-carbonate-anhydrous", 54.0), ("ascorbic-acid", 16.0)]),
    ("carbonate-acid", &[("sodium-carbonate-anhydrous", 54.0), ("citric-acid-anhydrous", 40.0)]),
    ("bicarbonate-bisulfite", &[("sodium-bicarbonate", 30.0), ("sodium-metabisulfite", 30.0)]),
    ("oxidiser-iodide", &[("potassium-permanganate", 5.0), ("potassium-iodide", 10.0)]),
    ("oxidiser-iodide", &[("copper-sulfate-pentahydrate", 20.0), ("potassium-iodide", 10.0)]),
    ("persulfate-bromide", &[("ammonium-persulfate", 30.0), ("potassium-bromide", 10.0)]),
    ("permanganate-organic", &[("potassium-permanganate", 5.0), ("sugar", 20.0)]),
    ("permanganate-organic", &[("potassium-permanganate", 5.0), ("lactic-acid-90", 20.0)]),
    ("persulfate-ammonia", &[("potassium-persulfate", 30.0), ("ammonia-25", 20.0)]),
    ("platinum-ammonia", &[("potassium-tetrachloroplatinate", 5.0), ("ammonia-25", 20.0)]),
    ("formaldehyde-caustic", &[("formaldehyde-37", 100.0), ("sodium-hydroxide", 30.0)]),
    // Told only where the sheet or the file heats it; `heat_that_the_file_asks_for_counts`.
    ("acid-cyanoferrate-hot", &[("potassium-ferricyanide", 20.0), ("potassium-alum-dodecahydrate", 30.0)]),
    ("oxidiser-hot", &[("potassium-persulfate", 30.0)]),
    ("aldehyde-hot", &[("formaldehyde-37", 20.0)]),
    ("carbonate-bisulfite", &[("sodium-carbonate-anhydrous", 10.0), ("sodium-metabisulfite", 20.0)]),
    ("strong-acid-strong-alkali", &[("sulfuric-acid", 50.0), ("sodium-hydroxide", 40.0)]),
    ("acid-strong-alkali", &[("potassium-metabisulfite", 150.0), ("potassium-hydroxide", 215.0)]),
    ("acid-water", &[("sulfuric-acid", 15.0)]),
    ("caustic-water", &[("sodium-hydroxide", 4.6)]),
    ("caustic-metal-vessel", &[("sodium-hydroxide", 10.0)]),
    ("carbonate-metal-vessel", &[("sodium-carbonate-anhydrous", 50.0)]),
    ("copper-metal-vessel", &[("copper-sulfate-pentahydrate", 25.0)]),
    ("alum-sulfite", &[("potassium-alum-dodecahydrate", 15.0), ("sodium-sulfite-anhydrous", 15.0)]),
    ("alum-alkali", &[("potassium-alum-dodecahydrate", 15.0), ("borax-decahydrate", 2.0)]),
    ("formaldehyde-sulfite", &[("paraformaldehyde", 7.5), ("sodium-sulfite-anhydrous", 30.0)]),
    // Where nobody can tell the pH: glycin's constants are not known.
    ("selenium-acid", &[("sodium-selenite", 5.0), ("acetic-acid-28", 20.0), ("glycin", 30.0)]),
    ("sulfite-this-acid", &[("sodium-sulfite-anhydrous", 10.0), ("potassium-hydrogen-tartrate", 19.0)]),
    ("hypo-this-acid", &[("sodium-thiosulfate-pentahydrate", 250.0), ("sodium-metabisulfite", 50.0)]),
    ("ammonium-this-alkaline", &[("ammonium-chloride", 150.0), ("sodium-sulfite-anhydrous", 200.0)]),
    ("borate-polyol", &[("borax-decahydrate", 10.0), ("glycerol", 10.0)]),
    (
        "oxidiser-acid-chloride-slow",
        &[("ammonium-persulfate", 50.0), ("sodium-chloride", 50.0), ("sulfuric-acid", 10.0)],
    ),
    (
        "oxidiser-acid-iodide",
        &[("potassium-dichromate", 10.0), ("potassium-iodide", 30.0), ("sulfuric-acid", 10.0)],
    ),
    (
        "permanganate-ammonium-dry",
        &[("potassium-permanganate", 1.0), ("ammonium-persulfate", 30.0), ("sulfuric-acid", 1.0)],
    ),
    ("peroxide-acetic", &[("hydrogen-peroxide-3", 500.0), ("acetic-acid-28", 50.0)]),
    ("strong-acid-alcohol", &[("sulfuric-acid", 100.0), ("glycerol", 100.0)]),
    ("sulfuric-halide", &[("sulfuric-acid", 10.0), ("sodium-chloride", 75.0)]),
    ("sulfuric-halide-much", &[("sulfuric-acid", 100.0), ("sodium-chloride", 75.0)]),
    ("corrosive-metal-vessel", &[("ferric-chloride-hexahydrate", 100.0)]),
    ("formaldehyde-ammonia", &[("formaldehyde-37", 100.0), ("ammonia-25", 100.0)]),
    ("alkali-ammonium", &[("triethanolamine", 100.0), ("ammonium-chloride", 100.0)]),
    ("sulfuric-iodide", &[("sulfuric-acid", 100.0), ("potassium-iodide", 20.0)]),
    ("acid-ammonia", &[("acetic-acid", 60.0), ("ammonia-25", 60.0)]),
    ("oxidiser-amine", &[("potassium-permanganate", 10.0), ("triethanolamine", 50.0)]),
    ("sulfuric-oxalate", &[("sulfuric-acid", 500.0), ("oxalic-acid-dihydrate", 50.0)]),
    ("sulfite-ammonium-hot", &[("sodium-sulfite-anhydrous", 140.0), ("ammonium-chloride", 140.0)]),
];

/// What must be refused in one vessel.
const REFUSED: &[(&str, &[(&str, f64)])] = &[
    (
        "oxidiser-alcohol-acid",
        &[("potassium-dichromate", 10.0), ("sulfuric-acid", 20.0), ("isopropanol", 50.0)],
    ),
    (
        "iodide-oxidiser-ammonia",
        &[("potassium-persulfate", 10.0), ("potassium-iodide", 10.0), ("ammonia-25", 20.0)],
    ),
    ("acid-sulfide", &[("sodium-sulfide-nonahydrate", 5.0), ("acetic-acid-28", 5.0)]),
    ("frees-hydrogen-sulfide", &[("sodium-sulfide-nonahydrate", 20.0), ("boric-acid", 45.0)]),
    ("weak-acid-sulfide", &[("potassium-polysulfide", 20.0), ("boric-acid", 45.0)]),
    ("frees-hydrogen-selenide", &[("sodium-selenite", 5.0), ("metol", 60.0)]),
    ("hypo-this-acid-unprotected", &[("sodium-thiosulfate-pentahydrate", 250.0), ("acetic-acid-28", 62.0)]),
    ("alum-falls-out", &[("potassium-alum-dodecahydrate", 15.0), ("sodium-carbonate-anhydrous", 10.0)]),
    ("strong-oxidiser-developer", &[("potassium-dichromate", 1.0), ("hydroquinone", 1.0)]),
    ("strong-oxidiser-developer", &[("potassium-permanganate", 1.0), ("sodium-sulfite-anhydrous", 10.0)]),
    ("peroxide-permanganate", &[("hydrogen-peroxide-3", 50.0), ("potassium-permanganate", 1.0)]),
    ("gold-ammonia", &[("tetrachloroauric-acid-trihydrate", 0.2), ("ammonia-25", 5.0)]),
    ("hypochlorite-acid", &[("sodium-hypochlorite-5", 50.0), ("citric-acid-anhydrous", 5.0)]),
    ("hypochlorite-ammonia", &[("sodium-hypochlorite-5", 50.0), ("ammonium-chloride", 5.0)]),
    ("hypochlorite-ammonia", &[("sodium-hypochlorite-5", 50.0), ("triethanolamine", 5.0)]),
    ("hypochlorite-cyanoferrate", &[("sodium-hypochlorite-5", 50.0), ("potassium-ferricyanide", 5.0)]),
    ("hypochlorite-reducer", &[("sodium-hypochlorite-5", 50.0), ("sodium-thiosulfate-pentahydrate", 5.0)]),
    ("strong-acid-thiocyanate", &[("sulfuric-acid", 10.0), ("ammonium-thiocyanate", 20.0)]),
    ("oxidiser-thiocyanate", &[("hydrogen-peroxide-3", 100.0), ("potassium-thiocyanate", 10.0)]),
    ("thiourea-oxidiser", &[("thiourea", 5.0), ("hydrogen-peroxide-3", 100.0)]),
    ("silver-ammonia-alcohol", &[("silver-nitrate", 50.0), ("ammonia-25", 30.0), ("ethanol", 100.0)]),
    ("silver-alcohol-acid", &[("silver-nitrate", 50.0), ("methanol", 100.0), ("sulfuric-acid", 1.0)]),
    (
        "gold-ammonium-alkali",
        &[
            ("sodium-tetrachloroaurate-dihydrate", 0.2),
            ("ammonium-thiocyanate", 20.0),
            ("sodium-carbonate-anhydrous", 5.0),
        ],
    ),
    ("formaldehyde-hydrochloric", &[("formaldehyde-37", 10.0), ("hydrochloric-acid-37", 10.0)]),
    ("strong-acid-sulfite-much", &[("sulfuric-acid", 60.0), ("sodium-sulfite-anhydrous", 100.0)]),
    ("strong-acid-dithionite", &[("sodium-dithionite", 100.0), ("hydrochloric-acid-37", 200.0)]),
    ("oxidiser-hydrochloric-never", &[("hydrogen-peroxide-3", 500.0), ("hydrochloric-acid-37", 119.0)]),
    ("oxidiser-hydrochloric-never", &[("potassium-permanganate", 5.0), ("hydrochloric-acid-37", 119.0)]),
    ("dichromate-hydrochloric-strong", &[("potassium-dichromate", 100.0), ("hydrochloric-acid-37", 595.0)]),
    (
        "oxidiser-acid-bromide",
        &[("potassium-permanganate", 5.0), ("potassium-bromide", 30.0), ("sulfuric-acid", 18.0)],
    ),
    ("permanganate-glycol", &[("potassium-permanganate", 50.0), ("glycerol", 900.0)]),
    ("permanganate-alcohol", &[("potassium-permanganate", 5.0), ("ethanol", 200.0)]),
    ("permanganate-much-acid", &[("potassium-permanganate", 50.0), ("sulfuric-acid", 900.0)]),
    ("silver-ammonia-caustic", &[("silver-nitrate", 50.0), ("ammonia-25", 90.0), ("sodium-hydroxide", 20.0)]),
    ("caustic-ammonium-much", &[("sodium-hydroxide", 40.0), ("ammonium-chloride", 60.0)]),
    (
        "silver-ammonium-caustic",
        &[("silver-nitrate", 60.0), ("ammonium-chloride", 20.0), ("sodium-hydroxide", 20.0)],
    ),
    ("acid-dithionite", &[("sodium-dithionite", 30.0), ("citric-acid-monohydrate", 30.0)]),
    (
        "selenium-spare-acid",
        &[("sodium-selenite", 10.0), ("sodium-sulfite-anhydrous", 50.0), ("acetic-acid", 52.0)],
    ),
    (
        "strong-acid-thiosulfate-spare",
        &[("hydrochloric-acid-37", 47.0), ("sodium-thiosulfate-pentahydrate", 250.0)],
    ),
    ("strong-acid-cyanoferrate-much", &[("sulfuric-acid", 110.0), ("potassium-ferricyanide", 30.0)]),
    ("formaldehyde-oxidiser", &[("formaldehyde-37", 100.0), ("potassium-permanganate", 20.0)]),
    ("selenium-strong-acid", &[("sodium-selenite", 50.0), ("hydrochloric-acid-37", 100.0)]),
    ("strong-oxidiser-developer", &[("potassium-permanganate", 5.0), ("sodium-sulfide-nonahydrate", 10.0)]),
    ("peroxide-much-acid", &[("hydrogen-peroxide-3", 200.0), ("sulfuric-acid", 600.0)]),
    ("permanganate-ammonia", &[("potassium-permanganate", 5.0), ("ammonia-25", 50.0)]),
    ("hypochlorite-peroxide", &[("sodium-hypochlorite-5", 200.0), ("hydrogen-peroxide-3", 200.0)]),
    ("hypochlorite-thiocyanate", &[("sodium-hypochlorite-5", 500.0), ("sodium-thiocyanate", 40.0)]),
    ("hypochlorite-alcohol", &[("sodium-hypochlorite-5", 500.0), ("isopropanol", 300.0)]),
    ("hypochlorite-anything", &[("sodium-hypochlorite-5", 500.0), ("boric-acid", 40.0)]),
    ("hypochlorite-anything", &[("sodium-hypochlorite-5", 500.0), ("potassium-iodide", 10.0)]),
    ("hypochlorite-anything", &[("sodium-hypochlorite-5", 500.0), ("paracetamol", 10.0)]),
];

/// Two substances side by side on the bench.
const DRY: &[(&str, &str, &str)] = &[
    ("oxidiser-reducer-dry", "potassium-permanganate", "sodium-metabisulfite"),
    ("oxidiser-organic-dry", "ammonium-dichromate", "sugar"),
    ("permanganate-glycol", "potassium-permanganate", "glycerol"),
    ("oxidiser-reducer-dry", "potassium-permanganate", "selenium"),
    ("oxidiser-reducer-dry", "potassium-permanganate", "potassium-thiocyanate"),
    ("oxidiser-organic-dry", "ammonium-dichromate", "acetic-acid"),
    ("oxidiser-organic-dry", "potassium-permanganate", "citric-acid-anhydrous"),
    ("permanganate-ammonium-dry", "potassium-permanganate", "ammonium-chloride"),
    ("silver-reducer-dry", "silver-nitrate", "tartaric-acid"),
];

type Bath = &'static [(&'static str, f64)];

/// Baths one after the other.
const BETWEEN: &[(&str, Bath, Bath)] = &[
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

#[test]
fn every_row_of_the_table_has_a_vessel_that_brings_it_up() {
    let library = Library::shipped();
    let data = safety(&library);
    let mut tried: BTreeSet<&str> = BTreeSet::new();
    for (row, contents) in IN_ONE_VESSEL {
        let cautions = mixed(contents).unwrap_or_else(|refusal| panic!("{row}: refused by {}", refusal.id));
        assert!(ids(&cautions).contains(row), "{row} not among {:?}", ids(&cautions));
        tried.insert(row);
    }
    for (row, contents) in REFUSED {
        let refusal = mixed(contents).expect_err(row);
        assert_eq!(refusal.id, *row);
        assert!(!refusal.fix().is_empty() && !refusal.about.is_empty());
        tried.insert(row);
    }
    for (row, one, other) in DRY {
        let cautions = data.dry(&vessel(&library, &[(one, 1.0), (other, 1.0)]));
        assert_eq!(ids(&cautions), [*row]);
        tried.insert(row);
    }
    for (row, first, second) in BETWEEN {
        let baths = [first, second]
            .map(|bath| BathSummary { name: String::new(), contents: vessel(&library, bath).into() });
        let cautions: Vec<Caution> =
            data.between(&[&baths[0], &baths[1]]).into_iter().map(|own| own.caution).collect();
        assert!(ids(&cautions).contains(row), "{row} not among {:?}", ids(&cautions));
        tried.insert(row);
    }
    let all: BTreeSet<&str> = data.combinations().ids().collect();
    assert_eq!(all.difference(&tried).collect::<Vec<_>>(), Vec::<&&str>::new(), "rows without a test");
}

#[test]
fn what_is_harmless_by_its_amount_stays_quiet() {
    // 0.7 g of citric acid in 40 g of sulfite is no danger; nor are classic amounts of bisulfite beside carbonate.
    let quiet: &[(&str, &[(&str, f64)])] = &[
        ("citric acid in sulfite", &[("citric-acid-monohydrate", 0.7), ("sodium-sulfite-anhydrous", 40.0)]),
        (
            "boric acid beside carbonate",
            &[("boric-acid", 8.0), ("sodium-carbonate-anhydrous", 20.0), ("sodium-sulfite-anhydrous", 50.0)],
        ),
        (
            "boric acid in sulfite",
            &[("boric-acid", 8.0), ("borax-decahydrate", 8.0), ("sodium-sulfite-anhydrous", 100.0)],
        ),
        (
            "boric acid in a thiosulfate bath",
            &[("boric-acid", 7.5), ("sodium-thiosulfate-pentahydrate", 240.0)],
        ),
        (
            "a gram of bisulfite in a carbonate developer",
            &[
                ("sodium-metabisulfite", 1.0),
                ("sodium-carbonate-monohydrate", 6.0),
                ("sodium-sulfite-anhydrous", 45.0),
            ],
        ),
        (
            "ascorbic acid with metaborate",
            &[("ascorbic-acid", 11.5), ("sodium-metaborate-tetrahydrate", 7.0)],
        ),
        ("ascorbic acid and sulfite", &[("ascorbic-acid", 11.5), ("sodium-sulfite-anhydrous", 60.0)]),
    ];
    for (what, contents) in quiet {
        let cautions = mixed(contents).unwrap();
        assert!(cautions.is_empty(), "{what}: {:?}", ids(&cautions));
    }
}

#[test]
fn a_working_principle_is_told_and_not_refused() {
    let library = Library::shipped();
    let data = safety(&library);
    // The physical intensifier, the ferricyanide reducer, the silver-oxalate sensitizer, the hot alum toner, the eliminator, acid
    // chloride bleach: all shipped, all made.
    for (id, row) in [
        ("silver-physical-intensifier", "silver-physical-developer"),
        ("ferricyanide-thiosulfate-cutting-reducer", "ferricyanide-thiosulfate"),
        ("kallitype-ferric-oxalate-sensitizer", "silver-oxalate"),
        ("alum-thiosulfate-hot-sepia-toner", "alum-thiosulfate"),
        ("peroxide-ammonia-thiosulfate-eliminator", "peroxide-ammonia"),
        ("permanganate-chloride-stain-bleach", "oxidiser-acid-chloride"),
    ] {
        let formula = library.formula(id).unwrap().formula;
        let review = review(&data, &formula, 1.0, &|_| None);
        assert_eq!(review.objections, [], "{id}");
        let cautions =
            review.parts.iter().chain(&review.baths).flat_map(|vessel| vessel.outcome.as_ref().unwrap());
        assert!(cautions.into_iter().any(|caution| caution.id == row), "{id}: {row}");
    }
}

#[test]
fn one_thing_is_told_once() {
    // Metabisulfite is a weak acid and acidic in water and a sulfite: none of it makes a caution with itself.
    let cautions = mixed(&[("sodium-metabisulfite", 30.0)]).unwrap();
    assert_eq!(ids(&cautions), ["bisulfite-open-tray"]);
    // Potassium alum is weak acid and acidic in water: it stands once in its group.
    let cautions =
        mixed(&[("potassium-alum-dodecahydrate", 50.0), ("sodium-carbonate-anhydrous", 5.0)]).unwrap();
    let foam = cautions.iter().find(|caution| caution.id == "carbonate-acid").unwrap();
    assert_eq!(foam.about, ["sodium-carbonate-anhydrous", "potassium-alum-dodecahydrate"]);
    // Strong acid on sulfite is one story, not three.
    let cautions =
        mixed(&[("sulfuric-acid", 20.0), ("sodium-sulfite-anhydrous", 20.0), ("sodium-metabisulfite", 5.0)])
            .unwrap();
    let sulfur_dioxide = cautions.iter().filter(|caution| caution.gas.as_deref() == Some("sulfur-dioxide"));
    assert_eq!(sulfur_dioxide.count(), 1);
    // Nor is a row told twice for all the shipped formulas.
    let library = Library::shipped();
    let data = safety(&library);
    for found in library.formulas().unwrap().0 {
        for vessel in review(&data, &found.formula, 1.0, &|_| None).parts {
            let cautions = vessel.outcome.unwrap();
            let told: BTreeSet<&str> = cautions.iter().map(|caution| caution.id.as_str()).collect();
            assert_eq!(told.len(), cautions.len(), "{}", found.formula.id);
            for caution in &cautions {
                let about: BTreeSet<&String> = caution.about.iter().collect();
                assert_eq!(about.len(), caution.about.len(), "{}: {}", found.formula.id, caution.id);
            }
        }
    }
}

#[test]
fn an_unknown_amount_is_dangerous_and_protects_from_nothing() {
    let library = Library::shipped();
    let data = safety(&library);
    let mut contents = vessel(&library, &[("sodium-sulfite-anhydrous", 40.0)]);
    contents.push(Content::unknown_amount(&library.form("citric-acid-monohydrate").unwrap()));
    let cautions = data.while_mixing(&contents, 1.0, Filling::FromChemicals).unwrap();
    assert_eq!(ids(&cautions), ["acid-sulfite"]);
    let mut contents =
        vessel(&library, &[("sodium-thiosulfate-pentahydrate", 200.0), ("citric-acid-monohydrate", 10.0)]);
    contents.push(Content::unknown_amount(&library.form("sodium-sulfite-anhydrous").unwrap()));
    let cautions = data.while_mixing(&contents, 1.0, Filling::FromChemicals).unwrap();
    assert!(ids(&cautions).contains(&"acid-thiosulfate"));
}

#[test]
fn caustic_is_told_by_its_strength_not_by_the_batch() {
    let library = Library::shipped();
    let data = safety(&library);
    let contents = vessel(&library, &[("sodium-hydroxide", 10.0)]);
    let told = |litres: f64| {
        let cautions = data.while_mixing(&contents, litres, Filling::FromChemicals).unwrap();
        cautions.into_iter().map(|caution| (caution.id, caution.text)).collect::<Vec<_>>()
    };
    assert!(told(1.0).iter().any(|(id, _)| id == "caustic-water"));
    assert!([0.1, 10.0, 20.0].iter().all(|litres| told(*litres) == told(1.0)));
}

#[test]
fn parts_poured_together_are_no_longer_concentrated() {
    let library = Library::shipped();
    let data = safety(&library);
    let contents = vessel(&library, &[("potassium-permanganate", 1.0), ("sulfuric-acid", 5.0)]);
    let from_chemicals = data.while_mixing(&contents, 1.0, Filling::FromChemicals).unwrap();
    assert_eq!(
        ids(&from_chemicals),
        ["permanganate-concentrated-acid", "acid-water", "corrosive-metal-vessel"]
    );
    let from_parts = data.while_mixing(&contents, 1.0, Filling::FromParts).unwrap();
    assert!(from_parts.is_empty(), "{:?}", ids(&from_parts));
}

#[test]
fn a_caution_belongs_before_the_step_that_completes_it() {
    let cautions = mixed(&[
        ("sodium-thiosulfate-pentahydrate", 240.0),
        ("sodium-sulfite-anhydrous", 15.0),
        ("acetic-acid-28", 49.7),
        ("potassium-alum-dodecahydrate", 15.0),
    ])
    .unwrap();
    let order = [
        "sodium-thiosulfate-pentahydrate",
        "sodium-sulfite-anhydrous",
        "acetic-acid-28",
        "potassium-alum-dodecahydrate",
    ];
    let at = |row: &str| cautions.iter().find(|caution| caution.id == row).unwrap().completed_at(&order);
    assert_eq!(at("acid-sulfite"), Some(2));
    assert_eq!(at("acid-fixer-order"), Some(2));
    assert_eq!(at("alum-sulfite"), Some(3));
    assert_eq!(cautions[0].completed_at(&["metol"]), None);
}

#[test]
fn a_substance_without_classes_says_that_it_was_not_checked() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("substances")).unwrap();
    let text = "format = 1\nname = \"my powder\"\n[[forms]]\nid = \"my-powder\"\nname = \"my powder\"\n";
    std::fs::write(folder.path().join("substances/my-powder.toml"), text).unwrap();
    let library = Library::with_folders(vec![folder.path().to_owned()]);
    let data = safety(&library);
    let contents = vessel(&library, &[("my-powder", 5.0), ("sodium-sulfite-anhydrous", 10.0)]);
    let cautions = data.while_mixing(&contents, 1.0, Filling::FromChemicals).unwrap();
    assert_eq!(cautions[0].text, "combinations not checked for my powder");
    let hazards = data.powders(&contents);
    assert_eq!(hazards[0].plain, [NOT_KNOWN]);
    assert!(hazards[0].wear.contains(&Wear::NitrileGloves) && hazards[0].wear.contains(&Wear::DustMask));
}

#[test]
fn every_substance_with_hazard_statements_shows_them() {
    let library = Library::shipped();
    let data = safety(&library);
    let (substances, findings) = library.all_substances().unwrap();
    assert!(findings.is_empty());
    for form in substances.iter().flat_map(|substance| &substance.forms) {
        let hazards = data.powders(&[Content::grams(form, 1.0)]);
        if form.parent.id == "water" {
            assert!(hazards.is_empty());
            continue;
        }
        let [hazard] = hazards.as_slice() else { panic!("{}", form.id) };
        let codes: Vec<&String> = form.hazards.statements.iter().chain(&form.hazards.supplementary).collect();
        for code in &codes {
            assert!(data.statements().get(code).is_some(), "{code} of {} is not in statements.toml", form.id);
            assert!(
                hazard.with_codes().iter().any(|line| line.ends_with(&format!("({code})"))),
                "{code} of {}",
                form.id
            );
        }
        // Never nothing: a statement, or that nothing is known, or a source that says so.
        let is_cleared = !form.hazards.is_unknown() && codes.is_empty();
        assert!(!hazard.plain.is_empty() || is_cleared, "{}", form.id);
        assert_eq!(
            hazard.plain.first().is_some_and(|line| line == NOT_KNOWN),
            form.hazards.is_unknown(),
            "{}",
            form.id
        );
        if let Some(computed) = codes.iter().filter_map(|code| signal_of(code)).max() {
            assert_eq!(hazard.signal, Some(computed), "signal word of {}", form.id);
        }
    }
}

#[test]
fn every_shipped_formula_shows_every_hazard_of_what_it_holds() {
    let library = Library::shipped();
    let data = safety(&library);
    for found in library.formulas().unwrap().0 {
        let formula = found.formula;
        let review = review(&data, &formula, 1.0, &|_| None);
        for ingredient in formula.ingredients() {
            if ingredient.form.parent.id == "water" {
                continue;
            }
            let own = review.powders.iter().find(|hazard| hazard.id == ingredient.form.id);
            let own = own.unwrap_or_else(|| panic!("{} does not show {}", formula.id, ingredient.form.id));
            let codes =
                ingredient.form.hazards.statements.len() + ingredient.form.hazards.supplementary.len();
            assert_eq!(own.statements.len(), codes);
        }
        assert!(review.general.closing.contains("Local rules and licensed practice come first"));
        assert!(review.general.exposure.iter().any(|line| line.contains("15 minutes")));
        assert!(review.general.exposure.iter().any(|line| line.contains("poison centre")));
    }
}

#[test]
fn no_shipped_formula_is_refused() {
    let library = Library::shipped();
    let data = safety(&library);
    let (formulas, findings) = library.formulas().unwrap();
    assert!(findings.is_empty());
    assert!(formulas.len() > 150);
    for found in formulas {
        let review = review(&data, &found.formula, 20.0, &|_| None);
        assert_eq!(review.objections, [], "{}", found.formula.id);
    }
}

#[test]
fn boxes_stand_over_exactly_these_formulas() {
    let library = Library::shipped();
    let data = safety(&library);
    let mut boxes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for found in library.formulas().unwrap().0 {
        let formula = found.formula;
        for own in review(&data, &formula, 1.0, &|_| None).boxes {
            assert!(!own.waste.is_empty() && own.title.to_uppercase() == own.title);
            assert_ne!(own.safer_formula.as_ref(), Some(&formula.id));
            // A test of residual silver is the only one for which the collection has no safer way.
            assert!(own.safer.is_some() || formula.kind == Kind::TestSolution, "{}", formula.id);
            boxes.entry(own.id).or_default().push(formula.id.clone());
        }
    }
    let named: Vec<(&str, Vec<&str>)> = boxes
        .iter()
        .map(|(id, formulas)| (id.as_str(), formulas.iter().map(String::as_str).collect()))
        .collect();
    let expected: Vec<(&str, Vec<&str>)> = vec![
        ("acid-ferricyanide", vec!["iron-blue-two-stock-toner"]),
        (
            "chromium-vi",
            vec![
                "chromium-intensifier",
                "chromium-intensifier-little-acid",
                "chromium-intensifier-medium-acid",
                "chromium-intensifier-much-acid",
                "copper-bromide-dichromate-bromoil-bleach",
                "dichromate-bisulfate-reversal-bleach",
                "dichromate-sulfuric-reversal-bleach",
                "dichromate-sulfuric-weak-reversal-bleach",
                "gum-ammonium-dichromate-sensitizer",
                "gum-potassium-dichromate-sensitizer",
            ],
        ),
        (
            "formaldehyde",
            vec![
                "lith-paraformaldehyde",
                "lith-paraformaldehyde-two-part-paper-developer",
                "formalin-hardener",
            ],
        ),
        ("selenium", vec!["selenium-selenosulfate-toner"]),
        (
            "sulfide",
            vec![
                "polysulfide-direct-brown-toner",
                "sulfide-sepia-bleach-redevelop-toner",
                "residual-silver-sulfide-test",
            ],
        ),
    ];
    assert_eq!(named, expected);
}

#[test]
fn boxes_of_a_users_formula_come_by_what_it_holds() {
    let library = Library::shipped();
    let data = safety(&library);
    let boxes = |contents: &[(&str, f64)], kind: Kind| {
        let boxes = data.boxes(&vessel(&library, contents), Some(kind), None);
        boxes.into_iter().map(|own| own.id).collect::<Vec<_>>()
    };
    assert_eq!(
        boxes(&[("silver-nitrate", 50.0), ("ammonia-25", 30.0)], Kind::Sensitizer),
        ["ammoniacal-silver"]
    );
    let salt = [("silver-nitrate", 5.0), ("ammonium-chloride", 30.0), ("sodium-hydroxide", 5.0)];
    assert_eq!(boxes(&salt, Kind::Sensitizer), ["ammoniacal-silver-from-salt"]);
    assert_eq!(
        boxes(&[("sulfuric-acid", 10.0), ("potassium-ferricyanide", 5.0)], Kind::Bleach),
        ["acid-ferricyanide"]
    );
    assert_eq!(
        boxes(&[("potassium-ferricyanide", 5.0), ("potassium-bromide", 5.0)], Kind::Bleach),
        Vec::<String>::new()
    );
}

#[test]
fn a_wash_or_an_alkaline_bath_between_ends_the_danger() {
    let library = Library::shipped();
    let data = safety(&library);
    let bath = |name: &str| baths_of(&library.formula(name).unwrap().formula, None).remove(0);
    let stop = bath("acetic-acid-stop-bath");
    let sulfide =
        baths_of(&library.formula("sulfide-sepia-bleach-redevelop-toner").unwrap().formula, None).remove(2);
    let next = data.between(&[&stop, &sulfide]);
    assert!(next.iter().any(|own| own.is_next && own.caution.id == "acid-then-sulfide"));
    // With a wash between, only the waste remains.
    let wash = BathSummary::wash();
    assert!(wash.is_wash());
    let apart = data.between(&[&stop, &wash, &sulfide]);
    assert!(
        !apart.is_empty() && apart.iter().all(|own| !own.is_next && own.caution.severity == Severity::Danger)
    );
    // A carbonate developer with a little bisulfite is alkaline: no hydrogen sulfide.
    let developer = bath("mq-carbonate-tray-tank");
    assert!(!data.between(&[&developer, &sulfide]).iter().any(|own| own.caution.id == "acid-then-sulfide"));
    // The ordinary sequence has nothing dangerous in it.
    let ordinary = [bath("mq-borax-classic"), stop, bath("acid-hardening-alum-boric-fixer")];
    let ordinary: Vec<&BathSummary> = ordinary.iter().collect();
    assert_eq!(data.between(&ordinary), []);
}

#[test]
fn only_a_fixer_that_is_alkaline_is_spoiled_by_a_stop_bath() {
    let library = Library::shipped();
    let data = safety(&library);
    let bath = |name: &str| baths_of(&library.formula(name).unwrap().formula, None).remove(0);
    let alkaline = "ammonium-thiosulfate-alkaline-rapid-fixer";
    let stop = bath("acetic-acid-stop-bath");
    let told = |first: &BathSummary, second: &BathSummary| {
        let all = data.between(&[first, second]);
        all.iter().any(|own| own.caution.id == "acid-then-alkaline-fixer")
    };
    assert!(told(&stop, &bath(alkaline)) && !told(&bath(alkaline), &stop));
    // What only spoils a bath is of no account with a wash between.
    assert_eq!(data.between(&[&stop, &BathSummary::wash(), &bath(alkaline)]), []);
    let fixers = library.formulas().unwrap().0.into_iter().filter(|found| found.formula.kind == Kind::Fixer);
    let spoiled: Vec<String> =
        fixers.map(|found| found.formula.id.clone()).filter(|id| told(&stop, &bath(id))).collect();
    assert_eq!(spoiled, [alkaline, "salted-paper-fixer", "thiosulfate-sulfite-carbonate-alkaline-fixer"]);
}

#[test]
fn a_bath_names_what_must_not_come_beside_it() {
    let library = Library::shipped();
    let data = safety(&library);
    let bath = |name: &str, index: usize| {
        baths_of(&library.formula(name).unwrap().formula, None).remove(index).contents
    };
    let never = data.never_beside(&bath("acetic-acid-stop-bath", 0));
    assert_eq!(never[0], "a sulfide bath");
    let never = data.never_beside(&bath("sulfide-sepia-bleach-redevelop-toner", 2));
    assert!(never.iter().any(|words| words.contains("bisulfite")));
    let never = data.never_beside(&bath("silver-nitrate-salted-paper-sensitizer", 0));
    assert!(never.contains(&"a bath with ammonia".to_owned()));
}

#[test]
fn a_bath_is_not_the_powder() {
    let library = Library::shipped();
    let data = safety(&library);
    let codes = |contents: &[(&str, f64)], ph: Option<f64>| {
        let bath = data.bath(&vessel(&library, contents), ph.map(Acidity::from));
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    // Reproductive toxicants count from 0.3 % (CLP Annex I, table 3.7.2): 2 g of borax in a litre is 0.2 %, 8 g is 0.8 %.
    assert_eq!(codes(&[("borax-decahydrate", 2.0)], None), Vec::<String>::new());
    assert_eq!(codes(&[("borax-decahydrate", 8.0)], None), ["H360FD"]);
    // Carcinogens and mutagens of category 1 from 0.1 % (table 3.6.2); dichromate allergy by its own limit of 0.2 %.
    let weak = codes(&[("potassium-dichromate", 1.0)], None);
    assert!(
        weak.contains(&"H350".to_owned())
            && weak.contains(&"EUH208".to_owned())
            && !weak.contains(&"H317".to_owned())
    );
    assert!(codes(&[("potassium-dichromate", 2.0)], None).contains(&"H317".to_owned()));
    // A sensitiser from 1 %, an extreme one from 0.1 % (table 3.4.5).
    assert!(!codes(&[("metol", 5.0)], Some(8.5)).contains(&"H317".to_owned()));
    assert!(codes(&[("p-phenylenediamine", 5.0)], Some(8.5)).contains(&"H317".to_owned()));
    // Suspected ones from 1 %.
    assert!(!codes(&[("hydroquinone", 5.0)], Some(8.5)).contains(&"H351".to_owned()));
    assert!(codes(&[("hydroquinone", 45.0)], Some(8.5)).contains(&"H351".to_owned()));
    // pH at or below 2, at or above 11.5: corrosive (Annex I, 3.2.3.1.2).
    assert_eq!(codes(&[("trisodium-phosphate-dodecahydrate", 50.0)], Some(12.1)), ["H314"]);
    // Near a limit a predicted pH proves nothing: that is said.
    let near = data.bath(&vessel(&library, &[("citric-acid-anhydrous", 15.0)]), Some(Acidity::from(2.2)));
    assert!(near.statements.is_empty() && near.not_computed[0].what == "whether it is corrosive");
    // Acetic acid has limits of its own: 10 % irritates, 25 % burns.
    assert_eq!(codes(&[("acetic-acid-28", 48.7)], Some(2.9)), Vec::<String>::new());
    assert_eq!(codes(&[("acetic-acid-28", 500.0)], None), ["H315", "H319"]);
    assert!(codes(&[("acetic-acid-28", 1000.0)], None).contains(&"H314".to_owned()));
    // Caustic taken up by bisulfite no longer burns once the pH says so; without a pH it counts.
    let taken_up = [("sodium-hydroxide", 15.0), ("sodium-metabisulfite", 60.0)];
    assert!(codes(&taken_up, None).contains(&"H314".to_owned()));
    assert!(!codes(&taken_up, Some(7.0)).contains(&"H314".to_owned()));
}

/// Twenty baths of extreme pH: what is in a litre, pH and reserve (g of sodium hydroxide per 100 g) as worked out by hand from the moles and
/// the acid constants of handbooks, lowest and highest, and what they count as. The rule is that of `safety::extreme` (Young et al.
/// 1988; CLP Annex I, 3.2.3.1.2), beside the limits of the substances' own entries (recalled from Annex VI: sulfuric acid 15 %,
/// hydroxides 2 %, hydrochloric and acetic acid 25 %).
#[allow(clippy::type_complexity, reason = "a table: what is in it, pH, reserve, class")]
const EXTREME: &[(&[(&str, f64)], [f64; 2], [f64; 2], &str)] = &[
    // Strong acid: two protons of sulfuric acid are gone at pH 4. 3.7 g is 2 mL.
    (&[("sulfuric-acid", 3.7)], [1.2, 1.7], [0.25, 0.33], "irritates"),
    (&[("sulfuric-acid", 18.3)], [0.6, 1.0], [1.3, 1.6], "irritates"),
    (&[("sulfuric-acid", 59.0)], [0.1, 0.5], [4.4, 5.1], "irritates"),
    (&[("sulfuric-acid", 180.0)], [-0.6, 0.1], [13.0, 15.2], "burns"),
    (&[("hydrochloric-acid-37", 10.0)], [0.8, 1.2], [0.36, 0.45], "irritates"),
    (&[("hydrochloric-acid-37", 119.0)], [-0.2, 0.3], [4.5, 5.2], "irritates"),
    (&[("sodium-bisulfate-anhydrous", 30.0)], [0.8, 1.2], [0.9, 1.05], "eyes"),
    (&[("sulfamic-acid", 20.0)], [0.6, 1.1], [0.75, 0.9], "irritates"),
    // Weak acids: citric acid gives one proton of three by pH 4, tartaric acid one and a half of two.
    (&[("citric-acid-anhydrous", 50.0)], [1.7, 2.0], [0.9, 1.5], "irritates"),
    (&[("tartaric-acid", 45.0)], [1.6, 2.0], [1.3, 2.1], "eyes"),
    (&[("oxalic-acid-dihydrate", 50.0)], [0.7, 1.4], [2.0, 2.9], "eyes"),
    // Caustic: all of it is gone at pH 10.
    (&[("sodium-hydroxide", 4.0)], [12.7, 13.1], [0.38, 0.42], "irritates"),
    (&[("sodium-hydroxide", 10.0)], [13.1, 13.5], [0.95, 1.05], "irritates"),
    (&[("sodium-hydroxide", 25.0)], [13.5, 13.9], [2.4, 2.6], "burns"),
    (&[("sodium-hydroxide", 100.0)], [14.1, 14.7], [9.8, 10.2], "burns"),
    (&[("potassium-hydroxide", 15.0)], [13.1, 13.6], [0.95, 1.2], "irritates"),
    // Carbonate takes half a proton or so by pH 10.
    (&[("sodium-carbonate-anhydrous", 50.0)], [11.4, 11.8], [0.5, 1.5], "irritates"),
    (&[("potassium-carbonate-anhydrous", 75.0)], [11.6, 12.0], [0.6, 1.8], "irritates"),
    (&[("trisodium-phosphate-dodecahydrate", 50.0)], [11.7, 12.4], [0.4, 0.8], "irritates"),
    (
        &[("sodium-carbonate-anhydrous", 50.0), ("sodium-hydroxide", 5.0)],
        [12.7, 13.3],
        [0.9, 1.9],
        "irritates",
    ),
];

#[test]
fn an_extreme_ph_counts_with_what_stands_behind_it() {
    let library = Library::shipped();
    let data = safety(&library);
    let equilibria = Equilibria::parse(library.table("equilibria.toml").unwrap()).unwrap();
    let mut wrong = Vec::new();
    for (contents, ph, reserve, expected) in EXTREME {
        let contents = vessel(&library, contents);
        let additions = additions(&equilibria, &contents, "it").unwrap();
        let prediction = predict(&equilibria, &additions, 20.0).unwrap();
        let reserve_g = reserve_g(&equilibria, &additions, &prediction, 20.0).unwrap_or(f64::NAN);
        let bath = data.bath(&contents, Some(Acidity { reserve_g: Some(reserve_g), ..prediction.ph.into() }));
        let has = |code: &str| bath.statements.iter().any(|own| own.code == code);
        let told = match (has("H314"), has("H318"), has("H315") && has("H319")) {
            (true, ..) => "burns",
            (_, true, _) => "eyes",
            (_, _, true) => "irritates",
            _ => "nothing",
        };
        let within = |value: f64, [low, high]: [f64; 2]| (low..=high).contains(&value);
        if told != *expected || !within(prediction.ph, *ph) || !within(reserve_g, *reserve) {
            let names: Vec<&str> = contents.iter().map(|own| own.form.id.as_str()).collect();
            wrong.push(format!("{names:?}: pH {:.2}, reserve {reserve_g:.2}, {told}", prediction.ph));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // Where nothing is known of the reserve, the pH alone decides.
    assert!(
        data.bath(&vessel(&library, &[("citric-acid-anhydrous", 50.0)]), Some(1.9.into())).is_corrosive()
    );
    let unmeasured = [Content::unknown_amount(&library.form("sulfuric-acid").unwrap())];
    assert!(data.bath(&unmeasured, Some(1.0.into())).is_corrosive());
}

#[test]
fn a_bath_asks_for_an_apron_that_its_powders_do_not() {
    let library = Library::shipped();
    let formula = library.formula("mq-carbonate-tray-tank").unwrap().formula;
    let general = |ph: f64| review(&safety(&library), &formula, 1.0, &|_| Some(Acidity::from(ph))).general;
    assert!(general(12.1).wear.contains(&Wear::Apron));
    assert!(!general(10.0).wear.contains(&Wear::Apron));
}

#[test]
fn acute_toxicity_adds_up_by_estimates() {
    let library = Library::shipped();
    let data = safety(&library);
    let codes = |contents: &[(&str, f64)]| {
        let bath = data.bath(&vessel(&library, contents), None);
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    // H301, 100 mg/kg: 5 % gives 100 × 100 / 5 = 2000 mg/kg, just category 4; 4 % is 2500, nothing.
    assert!(codes(&[("p-phenylenediamine", 50.0)]).contains(&"H302".to_owned()));
    assert!(!codes(&[("p-phenylenediamine", 40.0)]).contains(&"H302".to_owned()));
    // H302, 500 mg/kg, needs 25 % for 2000 mg/kg.
    assert!(codes(&[("thiourea", 250.0)]).contains(&"H302".to_owned()));
    assert!(!codes(&[("thiourea", 200.0)]).contains(&"H302".to_owned()));
    // By breathing it is never computed, and that is said.
    let bath = data.bath(&vessel(&library, &[("p-phenylenediamine", 50.0)]), None);
    assert!(bath.not_computed.iter().any(|line| line.what == "poisoning by vapour or spray"));
}

#[test]
fn water_life_adds_up_and_says_what_it_leaves_out() {
    let library = Library::shipped();
    let data = safety(&library);
    let codes = |contents: &[(&str, f64)]| {
        let bath = data.bath(&vessel(&library, contents), None);
        bath.statements.into_iter().map(|own| own.code).collect::<Vec<_>>()
    };
    // Summation (table 4.1.2): 100 × 0.25 % of a substance with H410 is 25 %: H412; 10 × 2.5 % is 25 %: H411.
    assert!(codes(&[("copper-sulfate-pentahydrate", 2.5)]).contains(&"H412".to_owned()));
    assert!(codes(&[("copper-sulfate-pentahydrate", 25.0)]).contains(&"H411".to_owned()));
    assert!(!codes(&[("copper-sulfate-pentahydrate", 2.0)]).contains(&"H412".to_owned()));
    let bath = data.bath(&vessel(&library, &[("metol", 2.0)]), Some(Acidity::from(8.5)));
    assert!(bath.not_computed.iter().any(|line| line.what.contains("water life")));
    assert!(bath.summary().contains("as far as it is known") || !bath.statements.is_empty());
}

#[test]
fn an_unknown_substance_is_never_called_harmless() {
    let library = Library::shipped();
    let data = safety(&library);
    let bath = data.bath(&vessel(&library, &[("potassium-bromide", 5.0)]), Some(Acidity::from(7.0)));
    assert_eq!(bath.unknown, ["potassium bromide"]);
    assert_eq!(bath.summary(), "no limit of the mixture rules is reached as far as it is known");
    assert_eq!(bath.signal, None::<Signal>);
}

#[test]
fn gloves_and_eye_protection_are_named_whatever_the_statements_ask_for() {
    let library = Library::shipped();
    // Metabisulfite with H318, which asks for eye protection alone; a fixer of which nothing is classified.
    for name in ["thiosulfate-metabisulfite-acid-fixer", "plain-thiosulfate-fixer"] {
        let general =
            review(&safety(&library), &library.formula(name).unwrap().formula, 1.0, &|_| None).general;
        assert!(general.wear.starts_with(&[Wear::NitrileGloves, Wear::EyeProtection]), "{name}: {general:?}");
    }
}

#[test]
fn general_names_gloves_air_waste_and_the_gases_that_mean_leaving() {
    let library = Library::shipped();
    let data = safety(&library);
    let review =
        review(&data, &library.formula("permanganate-chloride-stain-bleach").unwrap().formula, 1.0, &|_| {
            None
        });
    let general = review.general;
    assert!(general.wear.contains(&Wear::NitrileGloves) && general.wear.contains(&Wear::EyeProtection));
    assert!(general.ventilation().unwrap().contains("Window open"));
    assert!(general.exposure[0].contains("chlorine") && general.exposure[0].contains("leave at once"));
    let waste = |name: &str| {
        let formula = library.formula(name).unwrap().formula;
        let waste = mixing::review(&data, &formula, 1.0, &|_| None).general.waste;
        waste.into_iter().map(|line| line.id).collect::<Vec<_>>()
    };
    assert_eq!(waste("plain-thiosulfate-fixer"), ["silver-fixer"]);
    assert_eq!(waste("chromium-intensifier"), ["chromium-vi", "acid"]);
    assert_eq!(waste("mq-borax-classic"), ["developer"]);
    assert!(waste("selenium-selenosulfate-toner").contains(&"selenium".to_owned()));
    assert!(waste("copper-red-toner").contains(&"copper".to_owned()));
    // Waste lines that hang on a kind are left out where the kind is not known.
    let fixer = vessel(&library, &[("sodium-thiosulfate-pentahydrate", 200.0)]);
    assert!(data.waste(&fixer, None).is_empty());
}

#[test]
fn the_tables_name_nothing_that_is_not_there() {
    let library = Library::shipped();
    let data = safety(&library);
    let mut known: BTreeSet<String> = BTreeSet::new();
    for substance in library.all_substances().unwrap().0 {
        known.insert(substance.parent.id.clone());
        known.extend(substance.forms.iter().map(|form| form.id.clone()));
        known.extend(substance.parent.classes.iter().flatten().map(ToString::to_string));
    }
    assert_eq!(data.unknown_names(&|name| known.contains(name)), Vec::<String>::new());
    assert_eq!(data.unknown_gases(), Vec::<&str>::new());
    let sources = library.sources();
    for (source, statement, _) in data.combinations().references() {
        assert!(sources.contains_key(source), "{source}");
        assert!(statement.is_none_or(|code| data.statements().get(code).is_some()), "{statement:?}");
    }
    for source in data.precautions().sources() {
        assert!(sources.contains_key(source), "{source}");
    }
    for formula in data.precautions().safer_formulas() {
        assert!(library.formula(formula).is_ok(), "{formula}");
    }
}

#[test]
fn a_broken_row_is_refused_with_its_line() {
    let library = Library::shipped();
    let table = |name: &str| library.table(name).unwrap();
    let parse = |combinations: &str| {
        SafetyData::parse(table("statements.toml"), combinations, table("precautions.toml")).unwrap_err()
    };
    let head = "format = 1\n[equivalents]\nsource = \"memory\"\nacid = {}\nalkali = {}\nsulfite = {}\n";
    let row = "[[combinations]]\nid = \"x\"\nwhere = [\"one-vessel\"]\nseverity = \"danger\"\nproduct = \"p\"\nplain = \"p\"\nsource = \"memory\"\n";
    let one_group = format!("{head}{row}members = [{{ any = [\"acid\"] }}]\n");
    let finding = parse(&one_group);
    assert_eq!(finding.line, Some(7));
    assert!(finding.message.contains("too few"));
    let refuses =
        format!("{head}{row}refuse = true\nmembers = [{{ any = [\"acid\"] }}, {{ any = [\"sulfide\"] }}]\n");
    assert!(parse(&refuses).message.contains("refuses without a way out"));
    let mistyped = format!("{head}{row}member = []\n");
    assert_eq!(parse(&mistyped).code, "unknown-key");
    assert_eq!(parse("format = 2\n").code, "missing-key");
}

#[test]
fn the_contents_of_a_bath_follow_its_parts() {
    let library = Library::shipped();
    let formula = library.formula("two-bath-metol-sulfite-carbonate").unwrap().formula;
    let baths = baths_of(&formula, None);
    assert_eq!(baths.len(), 2);
    assert_eq!(baths[0].contents, Vessel::of_part(&formula.parts[0]));
    let formula = library.formula("ferricyanide-thiosulfate-cutting-reducer").unwrap().formula;
    let bath = &baths_of(&formula, None)[0];
    // 1 of A with 100 g/L in 41 parts.
    assert!((bath.contents[0].grams_per_litre.unwrap() - 100.0 / 41.0).abs() < 1e-9);
}

/// Rows of a table in `tests/data`: every cell in quotes or without a comma.
fn rows_of(text: &str) -> Vec<Vec<String>> {
    let cells = |line: &str| {
        let mut cells = vec![String::new()];
        let mut quoted = false;
        for letter in line.chars() {
            match letter {
                '"' => quoted = !quoted,
                ',' if !quoted => cells.push(String::new()),
                other => cells.last_mut().unwrap().push(other),
            }
        }
        cells
    };
    text.lines().skip(1).map(cells).collect()
}

/// `id=grams; id=grams` in a litre.
fn contents_of(library: &Library, text: &str) -> Vessel {
    let one = |item: &str| {
        let (id, grams) = item.split_once('=').unwrap();
        Content::grams(&library.form(id.trim()).unwrap(), grams.trim().parse().unwrap())
    };
    Vessel::from(text.split(';').map(one).collect::<Vec<_>>())
}

/// What is told of a mixture of the table: the verdict, and the words of what has that verdict.
fn told_of(library: &Library, data: &SafetyData, contents: &str) -> Vec<(&'static str, String)> {
    let words = |cautions: Vec<Caution>| {
        cautions
            .into_iter()
            .map(|own| (own.severity.word(), format!("{} {}", own.product, own.text)))
            .collect()
    };
    if let Some(dry) = contents.strip_prefix("dry:") {
        let bench: Vec<Content> =
            dry.split(';').map(|id| Content::grams(&library.form(id.trim()).unwrap(), 1.0)).collect();
        return words(data.dry(&bench));
    }
    if let Some((first, second)) = contents.split_once('>') {
        let baths = [first, second].map(|bath| BathSummary {
            name: String::new(),
            contents: Vessel::default().with(contents_of(library, bath)),
        });
        return words(data.between(&[&baths[0], &baths[1]]).into_iter().map(|own| own.caution).collect());
    }
    match mixed_of(data, contents_of(library, contents)) {
        Err(refusal) => {
            assert!(!refusal.fix().is_empty(), "{contents}");
            vec![("refuse", format!("{} {}", refusal.product, refusal.text))]
        }
        Ok(cautions) => words(cautions),
    }
}

#[test]
fn dangerous_mixtures_are_refused_or_told() {
    let library = Library::shipped();
    let data = safety(&library);
    let rows = rows_of(include_str!("../data/dangerous-mixtures.csv"));
    assert!(rows.len() >= 60);
    let mut wrong = Vec::new();
    for row in &rows {
        let [mixture, contents, expected, forms, source] = row.as_slice() else { panic!("{row:?}") };
        assert!(!source.is_empty(), "{mixture}: no source");
        let told = told_of(&library, &data, contents);
        if !told.iter().any(|(verdict, words)| verdict == expected && words.contains(forms.as_str())) {
            wrong.push(format!("{mixture}: not {expected} of {forms}, but {told:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn harmless_mixtures_are_not_warned_of() {
    let library = Library::shipped();
    let data = safety(&library);
    let rows = rows_of(include_str!("../data/harmless-mixtures.csv"));
    assert!(rows.len() >= 40);
    let mut wrong = Vec::new();
    for row in &rows {
        let [words, contents, source] = row.as_slice() else { panic!("{row:?}") };
        assert!(!source.is_empty(), "{words}: no source");
        match mixed_of(&data, contents_of(&library, contents)) {
            Err(refusal) => wrong.push(format!("{words}: refused, {}", refusal.id)),
            Ok(cautions) => {
                // What holds only in a hot step says so itself.
                let grave = cautions
                    .iter()
                    .filter(|own| own.severity >= Severity::Warning && own.only_above_c.is_none());
                wrong.extend(grave.map(|caution| format!("{words}: {}", caution.id)));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_row_that_forbids_a_mixture_refuses_it() {
    let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/formulas/tables/combinations.toml"));
    for row in text.split("[[combinations]]").skip(1) {
        let plain = row.lines().find_map(|line| line.strip_prefix("plain = ")).unwrap();
        let in_vessel = row.lines().find(|line| line.starts_with("where")).unwrap().contains("one-vessel");
        let forbids =
            ["Do not put", "Never together", "Do not make this", "Do not use or store them together"]
                .iter()
                .any(|words| plain.contains(words));
        assert!(!(in_vessel && forbids) || row.contains("refuse = true"), "{row}");
    }
}
