use super::*;

#[test]
fn each_is_answered_with_what_was_meant() {
    let cases: [(&[&str], &str); 8] = [
        (&["list", "fixr"], "no formula mentions `fixr`: did you mean fixer?"),
        (
            &["concentrate", "mq-borax-classic", "--temp", "18C"],
            "unexpected argument '--temp' found\n\nUsage:",
        ),
        (&["scale", "mq-borax-classic", "-500ml"], "-500ml: an amount cannot be below zero"),
        (
            &["scale", "mq-borax-classic", "1,000ml"],
            "write 1000 for thousands, or 1.000 where the comma is a decimal mark",
        ),
        (&["scale", "mq-borax-classic", "1,000.5ml"], "write 1000.5\n"),
        (&["scale", "mq-borax-classic", "0,125L"], "write 0.125\n"),
        (&["scale", "mq-borax-classic", "1,5,6L"], "write one number with one point"),
        (
            &["new", "configuration", "-o", "no/such/folder/config.toml"],
            "make the folder first: mkdir -p no/such/folder",
        ),
    ];
    for (arguments, told) in cases {
        let ran = soupcon(arguments);
        assert!(ran.code != 0 && ran.err.contains(told), "{arguments:?}\n{}", ran.err);
    }
    assert!(good(&["substance", "acetic-acid-glacial"]).out.starts_with("acetic acid, glacial\n"));
}

#[test]
fn a_folder_that_is_not_there_is_told_by_the_name_that_gave_it() {
    let ran = command(&["list"]).env("SOUPCON_LIBRARY", "no-such-folder").output().unwrap();
    let told = String::from_utf8(ran.stderr).unwrap();
    assert!(told.starts_with("error: SOUPCON_LIBRARY: no-such-folder is not a folder"), "{told}");
    let ran = soupcon(&["list", "--library", "no-such-folder"]);
    assert!(ran.err.starts_with("error: --library: no-such-folder is not a folder"), "{}", ran.err);
}
