use super::*;

#[test]
fn a_reading_is_explained_by_what_moves_the_ph_that_way() {
    let low = good(&["predict", "mq-borax-classic", "--measured", "8.0", "--json"]).json();
    let measured = &low["measured"];
    assert_eq!(measured["agrees"], false);
    assert!(number(&measured["alkali_moles_per_litre"]) < 0.0);
    let first = &measured["explanations"][0];
    assert_eq!(first["what"], "1 % of the sulfite is bisulfite");
    for own in measured["explanations"].as_array().unwrap() {
        assert!(number(&own["change"]) < 0.0 && number(&own["share"]) > 0.0);
    }
    let high = good(&["predict", "mq-borax-classic", "--measured", "9.0", "--json"]).json();
    for own in high["measured"]["explanations"].as_array().unwrap() {
        assert!(number(&own["change"]) > 0.0);
    }
    let same = good(&["predict", "mq-borax-classic", "--measured", "8.4", "--json"]).json();
    assert_eq!(same["measured"]["agrees"], true);
    // The alkali told makes the difference: 0.4 g of caustic is 10 mmol.
    let moles = number(&high["measured"]["alkali_moles_per_litre"]);
    let with = recipe(
        &[
            ("metol", 2.0),
            ("sodium-sulfite-anhydrous", 100.0),
            ("hydroquinone", 5.0),
            ("borax-decahydrate", 2.0),
            ("sodium-hydroxide", moles * 39.997),
        ],
        "",
    );
    assert_abs_diff_eq!(number(&predicted(&with, &[])["parts"][0]["ph"]), 9.0, epsilon = 1e-3);
}

#[test]
fn in_sulfite_alone_a_reading_says_little() {
    let text = recipe(&[("sodium-sulfite-anhydrous", 100.0)], "");
    let ran = soupcon_with_input(&["predict", "-", "--measured", "9.2"], text.as_bytes());
    assert!(ran.out.contains("do not rely on this figure"), "{}", ran.out);
    assert!(ran.out.contains("says little"), "{}", ran.out);
}
