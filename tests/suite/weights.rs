//! No amount that nobody can weigh, measure or mix leaves the program; what is on the shelf is counted whole.

use crate::common::{good, soupcon, soupcon_in, soupcon_with_input};

/// What comes to nothing is refused, with what to do.
#[test]
fn nothing_exactly_is_no_answer() {
    let cases: [(&[&str], &str); 14] = [
        (&["scale", "mq-borax-classic", "--limit", "metol=0g"], "--limit: a mass of zero makes nothing"),
        (&["scale", "mq-borax-classic", "1L", "--have", "metol=0g"], "--have: a mass of zero makes nothing"),
        (
            &["sheet", "mq-borax-classic", "--limit", "metol=0.000001g"],
            "a batch of 0.0005 mL is too small to mix",
        ),
        (
            &["scale", "mq-borax-classic", "500ml", "--working", "1+99999999"],
            "a part of a dilution of `1+99999999` is too small",
        ),
        (
            &["percent", "potassium-bromide", "1e-300%w/v", "250ml"],
            "a strength of `1e-300%w/v` is too small to measure",
        ),
        (&["percent", "potassium-bromide", "0.00000001 % w/v", "250ml"], "is too small to measure"),
        (
            &["percent", "potassium-bromide", "0.0001%w/v", "1ml"],
            "less than 0.1 mg of potassium bromide, too little to weigh",
        ),
        (&["dilute", "1+99999999", "500ml"], "is too small to measure"),
        (&["dilute", "1+3", "0.00001ml"], "a volume of `0.00001ml` is too small to measure"),
        (&["dilute", "1+1000", "1ml"], "less than 0.01 mL of stock, too little to measure"),
        (&["time", "1e-300s", "--from", "mq-borax-classic"], "a time of `1e-300s` is too small to measure"),
        (&["chart", "1e-300s", "--from", "mq-borax-classic"], "a time of `1e-300s` is too small to measure"),
        (&["concentrate", "mq-borax-classic", "1e-300x"], "is no strength of a stock (from 0.01x to 1000x)"),
        (
            &["exchange", "0g", "sodium-carbonate-anhydrous", "--for", "sodium-carbonate-monohydrate"],
            "a mass of zero makes nothing",
        ),
    ];
    for (arguments, words) in cases {
        let ran = soupcon(arguments);
        assert!(
            ran.code != 0 && ran.out.is_empty() && ran.err.contains(words),
            "{arguments:?}\n{}",
            ran.whole()
        );
    }
    // What is small and can be measured is answered.
    assert!(good(&["dilute", "1+99", "10ml"]).out.contains("0.1 mL"));
    assert!(good(&["percent", "potassium-bromide", "0.01%w/v", "100ml"]).out.contains("0.01 g"));
}

/// Advice never leads beyond the largest batch that the program mixes, 200 L.
#[test]
fn no_remedy_is_absurd() {
    let ran = good(&["sheet", "mq-borax-classic", "500ml", "--balance", "1lb"]);
    let whole = ran.whole();
    assert!(whole.contains("would be too little to weigh or measure. Use a finer balance."), "{whole}");
    let words = whole.split_whitespace().collect::<Vec<_>>().join(" ");
    let least: Vec<f64> = words
        .split("or mix at least ")
        .skip(1)
        .map(|rest| rest.split(' ').next().unwrap().parse().unwrap())
        .collect();
    assert!(
        least.iter().all(|&millilitres| millilitres <= 200_000.0) && !whole.contains("2268000"),
        "{least:?}"
    );
    let ran = good(&["scale", "mq-borax-classic", "500ml", "--balance", "1g"]);
    assert!(ran.out.contains("or mix at least"), "{}", ran.out);
}

#[test]
fn a_chemical_with_one_form_is_not_sold_in_several() {
    let ran = soupcon(&["substance", "potassium-ferrocyanide"]);
    let words = "`potassium-ferrocyanide` is the chemical, and its one form has a name of its own\n  fix: name the form: \
                 potassium-ferrocyanide-trihydrate\n";
    assert!(ran.code == 2 && ran.err.contains(words), "{}", ran.err);
    assert!(
        soupcon(&["substance", "sodium-carbonate"])
            .err
            .contains("sold in several forms that weigh differently")
    );
}

/// A litre takes 2 g of metol: 1 g and 1.5 g in two jars are enough, 1 g and 0.5 g are not.
#[test]
fn two_jars_of_one_form_add_up() {
    let scale = |first: &str, second: &str| {
        soupcon(&["scale", "mq-borax-classic", "1L", "--have", first, "--have", second])
    };
    assert_eq!(scale("metol=1g", "metol=1.5g").code, 0);
    assert_eq!(scale("metol=1g", "metol").code, 0, "a jar without an amount is as good as full");
    let ran = scale("metol=1g", "metol=0.5g");
    assert!(ran.code == 1 && ran.err.contains("this batch needs 2 g; you have 1.5 g"), "{}", ran.err);
    let folder = tempfile::tempdir().unwrap();
    let shelf = folder.path().join("shelf.toml");
    std::fs::write(&shelf, "format = 1\nhave = [\"metol=1g\", \"metol=5g\"]\n").unwrap();
    good(&["scale", "mq-borax-classic", "3L", "--shelf", shelf.to_str().unwrap()]);
}

/// What two parts take of one percent solution is made once, and words and JSON of `scale` and `sheet` say the same of it.
#[test]
fn a_percent_solution_for_two_parts_is_made_once() {
    let part = |name: &str, agent: &str| {
        format!(
            "[[parts]]\nname = \"{name}\"\n[[parts.ingredients]]\nsubstance = \"{agent}\"\ngrams = 20\n\
             [[parts.ingredients]]\nsubstance = \"potassium-bromide\"\ngrams = 0.4\n"
        )
    };
    let file = format!(
        "format = 1\ntitle = \"Two parts\"\nkind = \"paper-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n{}{}",
        part("A", "hydroquinone"),
        part("B", "sodium-carbonate-anhydrous")
    );
    let of = |arguments: &[&str]| soupcon_with_input(arguments, file.as_bytes());
    let scale = of(&["scale", "-", "1L", "--json"]).json();
    let sheet = of(&["sheet", "-", "1L", "--json"]).json();
    let first = &scale["made_first"];
    assert_eq!(first, &sheet["made_first"]);
    assert_eq!(first.as_array().unwrap().len(), 1, "{first}");
    let doses: Vec<f64> = scale["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| part["items"][1]["dose"]["millilitres"].as_f64().unwrap())
        .collect();
    // 0.4 g are 4 mL of 10 % w/v, twice; of a restrainer 2.5 g weigh within 2 % where the balance shows 0.1 g, so that 50 mL are made.
    assert_eq!(doses, [4.0, 4.0]);
    let numbers = ["needed_ml", "make", "amount"].map(|field| first[0][field].to_string());
    assert_eq!(numbers, ["8.0", "50.0", "5.0"]);
    assert_eq!((&first[0]["strength"], &first[0]["unit"]), (&"10 % w/v".into(), &"g".into()));
    for (arguments, words) in [
        (["scale", "-", "1L"].as_slice(), "FIRST make potassium bromide, 10 % w/v: 5.0 g, made up to 50 mL"),
        (&["sheet", "-", "1L", "--side", "reasons"], "to 50 mL"),
    ] {
        let text = of(arguments).out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(text.matches(words).count(), 1, "{text}");
    }
}

/// A stock that would crystallise gives no amounts, and says how to learn how strong it can be.
#[test]
fn a_stock_that_crystallises_is_no_recipe() {
    // 90 g of sulfite nine times over: 26 g dissolve in 100 g of water at 20 °C (the shipped curve).
    let ran = soupcon(&["concentrate", "mq-carbonate-tray-tank", "9x"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(ran.err.contains("sodium sulfite, anhydrous would crystallise"), "{}", ran.err);
    assert!(ran.err.contains("`soupcon concentrate mq-carbonate-tray-tank` tells how strong"), "{}", ran.err);
    assert!(good(&["concentrate", "mq-carbonate-tray-tank", "2x"]).out.contains("180 g/L"));
}

#[test]
fn no_batch_is_advised_that_is_too_large_to_mix() {
    // A balance that reads to a pound would need a batch of thousands of litres; 200 L are the most that is mixed.
    let ran = good(&["sheet", "mq-borax-classic", "500ml", "--balance", "1lb"]);
    assert!(ran.out.contains("on this balance"), "{}", ran.out);
    for litres in ran.out.split("better mix ").skip(1).map(|rest| rest.split(" L or more").next().unwrap()) {
        assert!(litres.trim().parse::<f64>().unwrap() <= 200.0, "{litres}");
    }
    assert!(ran.out.contains("better mix 45.4 L or more"), "{}", ran.out);
}

#[test]
fn no_time_of_nothing_is_told() {
    // A clock of the darkroom is set in whole seconds, and answers are told in steps of five: what rounds to none is no time.
    for (known, temperature) in [("1s", "27C"), ("2s", "24C")] {
        let ran = soupcon(&["time", known, "--from", "mq-borax-classic", "--to-temp", temperature]);
        assert_eq!(ran.code, 1, "{}", ran.whole());
        assert!(
            ran.err.contains("shorter than any timer is set to") && ran.out.is_empty(),
            "{}",
            ran.whole()
        );
    }
    let ran = good(&["time", "5s", "--from", "mq-borax-classic", "--to-temp", "22C"]);
    assert!(ran.out.starts_with("5 s"), "{}", ran.out);
}

/// Sulfite beside carbonate: a chemist reckoned 2.2 to 2.5 times by hand from [Na+]²[SO3²⁻] of the saturated heptahydrate, where the sulfite
/// alone in its water would allow 3 (a reviewer's own constants).
#[test]
fn a_stock_of_salts_that_share_their_sodium_is_weaker_than_each_alone_allows() {
    let ran = soupcon(&["concentrate", "mq-carbonate-universal-film-paper", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let part = &json["parts"][0];
    let about = part["about_times_beside_common_ions"].as_f64().unwrap();
    assert!((2.2..=2.5).contains(&about), "{about}");
    assert!(part["largest_times"].as_f64().unwrap() > 2.9);
    // Between the two nothing is promised.
    let ran = soupcon(&["concentrate", "mq-carbonate-universal-film-paper", "2.6x"]);
    assert!(ran.out.contains("not known for") && ran.out.contains("sodium sulfite"), "{}", ran.out);
    // One salt alone has nothing to share.
    let ran = soupcon(&["concentrate", "plain-thiosulfate-fixer"]);
    assert!(!ran.out.contains("share ions with"), "{}", ran.out);
}

/// Who reads an amount must know of which form it is: another form than the recipe's says so, the recipe's own does not.
#[test]
fn only_another_form_than_the_recipes_is_said_to_stand_in_its_place() {
    let instead = |more: &[&str]| {
        let ran = good(&[&["scale", "plain-thiosulfate-fixer", "1L", "--json"], more].concat());
        let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
        json["parts"][0]["items"][0]["instead_of"].clone()
    };
    assert!(instead(&[]).is_null());
    assert_eq!(instead(&["--have", "sodium-thiosulfate-anhydrous"]), "sodium-thiosulfate-pentahydrate");
}

/// Caustic of 60 % and of 98 %: weighed by one of the two, the other would put in a third too much or too little.
#[test]
fn jars_of_one_form_are_of_one_purity() {
    let folder = tempfile::tempdir().unwrap();
    let told = |first: &str, second: &str| {
        let jar =
            |assay: &str| format!("[[jars]]\nform = \"sodium-hydroxide\"\namount = \"100 g\"\n{assay}\n");
        std::fs::write(
            folder.path().join("shelf.toml"),
            format!("format = 1\n{}{}", jar(first), jar(second)),
        )
        .unwrap();
        soupcon_in(folder.path(), &["scale", "mq-hydroxide-maximum-energy", "1L", "--shelf", "shelf.toml"])
    };
    let ran = told("assay = \"60 %\"", "assay = \"98 %\"");
    assert_eq!(ran.code, 2, "{}", ran.whole());
    assert!(ran.err.contains("the jars of sodium-hydroxide are not all of the same purity"), "{}", ran.err);
    assert_eq!(told("", "assay = \"60 %\"").code, 2);
    assert_eq!(told("assay = \"60 %\"", "").code, 2);
    assert_ne!(told("", "").code, 2);
    assert_ne!(told("assay = \"98 %\"", "assay = \"98 %\"").code, 2);
}

/// An acid that the table of equivalents does not hold counts as one all the same: ferric oxalate, acid in water, breaks dithionite down.
#[test]
fn an_acid_without_a_figure_counts_as_acid() {
    let text = "format = 1\ntitle = \"T\"\nkind = \"toner\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"sodium-dithionite\"\ngrams = 200\n[[ingredients]]\nsubstance = \"ferric-oxalate\"\ngrams = 20\n";
    let ran = soupcon_with_input(&["sheet", "-", "1L"], text.as_bytes());
    assert!(ran.code == 1 && ran.whole().contains("Acid breaks dithionite"), "{}", ran.whole());
}

/// Peroxide of 3 % is no peroxide of 30 %, and caustic of 100 % has no water; near its own strength a liquid is the product.
#[test]
fn no_solution_is_stronger_than_what_it_is_made_of() {
    let ran = |substance: &str, strength: &str| {
        let text = format!(
            "format = 1\ntitle = \"T\"\nkind = \"toner\"\nsummary = \"s\"\nevidence = \"memory\"\n[[ingredients]]\nsubstance = \"{substance}\"\nmillilitres = 20\nstrength = \"{strength}\"\n"
        );
        soupcon_with_input(&["sheet", "-", "1L"], text.as_bytes())
    };
    for (substance, strength, words) in [
        (
            "hydrogen-peroxide-3",
            "30 % w/w",
            "`hydrogen-peroxide-3` cannot be 30 % w/w: the product is 3 % itself",
        ),
        ("ammonia-25", "35 % w/w", "the product is 25 % itself"),
        ("sodium-hydroxide", "100 % w/w", "cannot be 100 % w/w"),
    ] {
        let ran = ran(substance, strength);
        let told = ran.whole().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(ran.code != 0 && told.contains(words), "{told}");
    }
    for (substance, strength) in
        [("hydrogen-peroxide-3", "3 % w/w"), ("ammonia-25", "26 % w/w"), ("sodium-hydroxide", "10 % w/w")]
    {
        let ran = ran(substance, strength);
        assert!(!ran.whole().contains("cannot be"), "{}", ran.whole());
    }
}
