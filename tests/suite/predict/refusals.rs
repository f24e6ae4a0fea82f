use super::*;

#[test]
fn glycol_and_amine_concentrates_are_refused_and_their_working_baths_told() {
    let ran = soupcon(&["predict", "phenidone-ascorbate-tea-concentrate", "--json"]);
    assert_eq!(ran.code, 1);
    let json = ran.json();
    assert_eq!(json["refusals"][0]["code"], "not-water");
    assert!(json["parts"][0]["ph"].is_null());
    assert!(json["parts"][0]["refused"].as_str().unwrap().contains("triethanolamine"));
    assert!(json["baths"][0]["ph"].is_number());
    // Diluted as used it is a watery solution.
    let diluted = good(&["predict", "phenidone-ascorbate-tea-concentrate", "--dilution", "1+50", "--json"]);
    let diluted = diluted.json();
    assert_abs_diff_eq!(number(&diluted["parts"][0]["ph"]), number(&json["baths"][0]["ph"]), epsilon = 1e-9);
    // Hardly diluted it is not.
    let strong = soupcon(&["predict", "phenidone-ascorbate-tea-concentrate", "--dilution", "1+5"]);
    assert_eq!(strong.code, 1);
    // Of two parts the one in water is told.
    let two = good(&["predict", "phenidone-ascorbate-glycol-plus-borax", "--json"]).json();
    assert!(two["parts"][0]["ph"].is_null() && two["parts"][1]["ph"].is_number());
    let part = soupcon(&["predict", "phenidone-ascorbate-glycol-plus-borax", "--part", "A"]);
    assert_eq!(part.code, 1);
}

#[test]
fn an_end_point_has_no_ph() {
    for formula in
        ["p-aminophenol-sodium-hydroxide-concentrate", "p-aminophenol-potassium-hydroxide-concentrate"]
    {
        for arguments in [vec!["predict", formula], vec!["predict", formula, "--dilution", "1+50"]] {
            let ran = soupcon(&arguments);
            assert_eq!(ran.code, 1, "{}", ran.whole());
            assert!(ran.err.contains("only until"), "{}", ran.err);
        }
        assert_eq!(soupcon(&["adjust", formula, "--ph", "12", "--using", "sodium-hydroxide"]).code, 1);
        let compared = good(&["compare", formula, "mq-borax-classic", "--json"]).json();
        assert!(compared["columns"][0]["ph"].is_null());
    }
}

#[test]
fn wrong_requests_exit_2_and_say_how_to_write_them() {
    for (arguments, says) in [
        (vec!["predict", "mq-borax-classic", "--temp", "20"], "20C"),
        (vec!["predict", "mq-borax-classic", "--dilution", "1:1"], "1+"),
        (vec!["predict", "mq-borax-classic", "--dilution", "1+1+1"], "one figure for each part"),
        (vec!["predict", "mq-borax-classic", "--part", "A"], "has one part"),
        (vec!["predict", "two-bath-metol-sulfite-borax", "--part", "C"], "A, B"),
        (vec!["predict", "mq-borax-classic", "--measured", "84"], "from 0 to 14"),
        (vec!["predict", "mq-borax-classic", "--measured", "8,4"], "8.4"),
        (vec!["predict", "two-bath-metol-sulfite-borax", "--measured", "8.4"], "--part A"),
        (vec!["predict", "mq-borax-clasic"], "mq-borax-classic"),
        (vec!["adjust", "mq-borax-classic", "--using", "borax-decahydrate"], "--replace"),
        (vec!["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "borax"], "borax-decahydrate"),
        (vec!["adjust", "mq-borax-classic", "--ph", "-1", "--using", "boric-acid"], "from 0 to 14"),
        (vec!["adjust", "two-bath-metol-sulfite-borax", "--ph", "8", "--using", "boric-acid"], "--part A"),
        (vec!["concentrate", "mq-borax-classic", "5"], "5x"),
        (vec!["concentrate", "mq-borax-classic", "0x"], "5x"),
    ] {
        let ran = soupcon(&arguments);
        assert_eq!(ran.code, 2, "{arguments:?}\n{}", ran.whole());
        assert!(ran.err.contains(says), "{arguments:?}: {}", ran.err);
    }
    for arguments in [
        vec!["predict", "mq-borax-classic", "--temp", "95C"],
        vec!["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "hydroquinone"],
        vec!["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "glycin"],
        vec!["adjust", "mq-borax-classic", "--ph", "8.6", "--using", "boric-acid", "--replace", "metol-x"],
    ] {
        let ran = soupcon(&arguments);
        assert_ne!(ran.code, 0, "{arguments:?}");
        assert!(ran.err.contains("fix:"), "{}", ran.err);
    }
}
