//! What meets in one vessel: every combination of the table, and what stays quiet.

use super::*;

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
    ("ammonia-fumes", &[("ammonia-25", 200.0)]),
    ("acetic-fumes", &[("acetic-acid", 400.0)]),
    (
        "permanganate-weak-acid-bromide",
        &[("potassium-permanganate", 2.0), ("acetic-acid", 50.0), ("potassium-bromide", 10.0)],
    ),
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

#[test]
fn every_row_of_the_table_has_a_vessel_that_brings_it_up() {
    let library = Library::shipped();
    let data = safety();
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
    tried.extend(crate::own::ROWS_OF_OWN_CHEMICALS);
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
    let data = safety();
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
        let review = review(data, &formula, 1.0, &|_| None);
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
    let data = safety();
    for formula in formulas() {
        for vessel in review(data, formula, 1.0, &|_| None).parts {
            let cautions = vessel.outcome.unwrap();
            let told: BTreeSet<&str> = cautions.iter().map(|caution| caution.id.as_str()).collect();
            assert_eq!(told.len(), cautions.len(), "{}", formula.id);
            for caution in &cautions {
                let about: BTreeSet<&String> = caution.about.iter().collect();
                assert_eq!(about.len(), caution.about.len(), "{}: {}", formula.id, caution.id);
            }
        }
    }
}

#[test]
fn an_unknown_amount_is_dangerous_and_protects_from_nothing() {
    let library = Library::shipped();
    let data = safety();
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
    let data = safety();
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
    let data = safety();
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
    let data = safety();
    let contents = vessel(&library, &[("my-powder", 5.0), ("sodium-sulfite-anhydrous", 10.0)]);
    let cautions = data.while_mixing(&contents, 1.0, Filling::FromChemicals).unwrap();
    assert_eq!(cautions[0].text, "combinations not checked for my powder");
    let hazards = data.powders(&contents);
    assert_eq!(hazards[0].plain, [NOT_KNOWN]);
    assert!(hazards[0].wear.contains(&Wear::NitrileGloves) && hazards[0].wear.contains(&Wear::DustMask));
}
