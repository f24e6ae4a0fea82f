use super::*;

#[test]
fn undiluted_is_as_bottled_and_the_order_of_the_file_does_not_matter() {
    let forms = [
        ("metol", 2.0),
        ("sodium-sulfite-anhydrous", 100.0),
        ("hydroquinone", 5.0),
        ("borax-decahydrate", 2.0),
    ];
    let mut backward = forms;
    backward.reverse();
    let ph = |text: &str, arguments: &[&str]| number(&predicted(text, arguments)["parts"][0]["ph"]);
    let plain = ph(&recipe(&forms, ""), &[]);
    assert_abs_diff_eq!(ph(&recipe(&forms, ""), &["--dilution", "stock"]), plain, epsilon = 1e-9);
    assert_abs_diff_eq!(ph(&recipe(&forms, ""), &["--dilution", "1+0"]), plain, epsilon = 1e-9);
    assert_abs_diff_eq!(ph(&recipe(&backward, ""), &[]), plain, epsilon = 1e-9);
    // Halved in the file is diluted 1+1.
    let half = forms.map(|(form, grams)| (form, grams / 2.0));
    assert_abs_diff_eq!(
        ph(&recipe(&half, ""), &[]),
        ph(&recipe(&forms, ""), &["--dilution", "1+1"]),
        epsilon = 1e-9
    );
}

#[test]
fn parts_mixed_are_the_same_solution_as_one_vessel() {
    let head =
        "format = 1\ntitle = \"T\"\nkind = \"film-developer\"\nsummary = \"S.\"\nevidence = \"memory\"\n";
    let two = format!(
        "{head}[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"hydroquinone\"\ngrams = 10\n\
             [[parts.ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 60\n\
             [[parts]]\nname = \"B\"\n[[parts.ingredients]]\nsubstance = \"sodium-carbonate-anhydrous\"\ngrams = 80\n\
             [[use]]\nname = \"tray\"\nbaths = [{{ A = 1, B = 1, water = 2 }}]\n"
    );
    let one = recipe(
        &[("hydroquinone", 2.5), ("sodium-sulfite-anhydrous", 15.0), ("sodium-carbonate-anhydrous", 20.0)],
        "",
    );
    let expected = number(&predicted(&one, &[])["parts"][0]["ph"]);
    let by_use = predicted(&two, &[]);
    assert_eq!(by_use["parts"].as_array().unwrap().len(), 2);
    assert_eq!(by_use["baths"][0]["use"], "tray");
    assert_abs_diff_eq!(number(&by_use["baths"][0]["ph"]), expected, epsilon = 1e-9);
    let asked = predicted(&two, &["--dilution", "1+1+2"]);
    assert_abs_diff_eq!(number(&asked["baths"][0]["ph"]), expected, epsilon = 1e-9);
    let only_b = predicted(&two, &["--part", "b", "--dilution", "1+3"]);
    assert_eq!(only_b["parts"].as_array().unwrap().len(), 1);
    let alone = recipe(&[("sodium-carbonate-anhydrous", 20.0)], "");
    let alone = number(&predicted(&alone, &[])["parts"][0]["ph"]);
    assert_abs_diff_eq!(number(&only_b["parts"][0]["ph"]), alone, epsilon = 1e-9);
}

#[test]
fn a_slip_told_is_what_the_slip_does() {
    let plain = [("metol", 2.0), ("sodium-sulfite-anhydrous", 50.0), ("borax-decahydrate", 5.0)];
    let json = predicted(&recipe(&plain, ""), &[]);
    let slip = |words: &str| {
        let all = json["parts"][0]["sensitivities"].as_array().unwrap();
        let found = all.iter().find(|own| own["what"] == words).unwrap_or_else(|| panic!("{words}"));
        number(&found["ph"])
    };
    let ph = |forms: &[(&str, f64)]| number(&predicted(&recipe(forms, ""), &[])["parts"][0]["ph"]);
    // One sulfite in a hundred as NaHSO3 (104.061 g/mol against 126.043).
    let impure = [
        ("metol", 2.0),
        ("sodium-sulfite-anhydrous", 49.5),
        ("sodium-bisulfite", 0.5 * 104.061 / 126.043),
        ("borax-decahydrate", 5.0),
    ];
    assert_abs_diff_eq!(slip("1 % of the sulfite is bisulfite"), ph(&impure), epsilon = 1e-3);
    let carbonated = [
        ("metol", 2.0),
        ("sodium-sulfite-anhydrous", 49.9),
        ("sodium-carbonate-anhydrous", 0.1 * 105.988 / 126.043),
        ("borax-decahydrate", 5.0),
    ];
    assert_abs_diff_eq!(slip("0.2 % of the sulfite is carbonate"), ph(&carbonated), epsilon = 1e-3);
    let pentahydrate = [("metol", 2.0), ("sodium-sulfite-anhydrous", 50.0), ("borax-pentahydrate", 5.0)];
    assert_abs_diff_eq!(
        slip("the jar contains borax, pentahydrate instead of borax (decahydrate)"),
        ph(&pentahydrate),
        epsilon = 1e-6
    );
    let short = [("metol", 2.0), ("sodium-sulfite-anhydrous", 50.0), ("borax-decahydrate", 4.75)];
    assert_abs_diff_eq!(slip("5 % too little borax (decahydrate)"), ph(&short), epsilon = 1e-6);
    let warmer = number(&predicted(&recipe(&plain, ""), &["--temp", "25C"])["parts"][0]["ph"]);
    assert_abs_diff_eq!(slip("5 °C warmer"), warmer, epsilon = 1e-9);
}

// Source of the shifts: worked out with the same model apart from this program, to 0.01.
#[test]
fn the_table_of_slips_agrees_with_one_worked_out_elsewhere() {
    for (forms, bisulfite, carbonate, hydroquinone) in [
        (
            vec![
                ("metol", 2.0),
                ("hydroquinone", 5.0),
                ("sodium-sulfite-anhydrous", 100.0),
                ("borax-decahydrate", 2.0),
            ],
            -0.24,
            0.06,
            Some(0.03),
        ),
        (vec![("metol", 7.5), ("sodium-sulfite-anhydrous", 100.0)], -0.08, 0.02, None),
        (
            vec![
                ("phenidone", 0.2),
                ("hydroquinone", 5.0),
                ("sodium-sulfite-anhydrous", 80.0),
                ("sodium-metaborate-tetrahydrate", 8.0),
            ],
            -0.11,
            0.02,
            Some(0.10),
        ),
        (vec![("sodium-sulfite-anhydrous", 100.0)], -1.8, 0.32, None),
    ] {
        let json = predicted(&recipe(&forms, ""), &[]);
        let change = |start: &str| {
            let all = json["parts"][0]["sensitivities"].as_array().unwrap();
            let found = all.iter().find(|own| own["what"].as_str().unwrap().starts_with(start));
            found.map(|own| number(&own["change"]))
        };
        assert_abs_diff_eq!(change("1 % of the sulfite is bis").unwrap(), bisulfite, epsilon = 0.05);
        // There the 0.2 % is by mass, here by moles: a fifth more.
        assert_abs_diff_eq!(change("0.2 %").unwrap(), carbonate, epsilon = 0.03);
        match (change("pK of hydroquinone"), hydroquinone) {
            (Some(own), Some(expected)) => assert_abs_diff_eq!(own, expected, epsilon = 0.015),
            (own, expected) => assert_eq!(own, expected),
        }
    }
}
