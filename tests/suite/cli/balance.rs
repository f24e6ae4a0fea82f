use super::*;

#[test]
fn more_than_it_carries_is_weighed_in_portions_it_can_show() {
    let ran = good(&["scale", "mq-borax-classic", "500ml", "--balance-max", "1g"]);
    let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("weigh 50 portions of 1 g -"), "{told}");
    assert!(told.contains("weigh 2 portions of 1 g and one of 0.5 g +"), "{told}");
}

#[test]
fn how_far_off_counts_the_rounding_and_the_half_step() {
    // 1.25 g becomes 1.5 g, read to 0.25 g: (0.25 + 0.25) / 1.25.
    let ran = good(&["scale", "sulfide-sepia-bleach-redevelop-toner", "250ml", "--balance", "0.5g"]);
    let told = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("(± 40 %)"), "{told}");
}

#[test]
fn one_that_carries_less_than_it_shows_is_told_where_it_was_given() {
    let ran = soupcon(&["scale", "mq-borax-classic", "500ml", "--balance-max", "0.001g"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("--balance-max: a balance that shows 0.1 g cannot carry only 0.001 g"),
        "{}",
        ran.err
    );

    let folder = library(&[("config.toml", "format = 1\n\nbalance_max = \"0.001 g\"\n")]);
    let file = folder.path().join("config.toml");
    let arguments = ["scale", "mq-borax-classic", "500ml"];
    let ran = command(&arguments).env("SOUPCON_CONFIG", &file).output().unwrap();
    let told = String::from_utf8(ran.stderr).unwrap();
    assert!(told.contains("config.toml:3: balance_max: a balance that shows 0.1 g"), "{told}");
}
