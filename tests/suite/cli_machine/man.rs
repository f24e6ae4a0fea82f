use super::*;

#[test]
fn a_page_is_the_same_every_time_and_holds_every_option() {
    let page = good(&["man", "scale"]).out;
    assert_eq!(page, good(&["man", "scale"]).out);
    assert!(page.starts_with(".ie") || page.contains(".TH SOUPCON-SCALE 1"), "{page}");
    for word in ["balance\\-max", "ascii", "EXAMPLES", "characters only"] {
        assert!(page.contains(word), "no {word}");
    }
    assert_eq!(soupcon(&["man", "scael"]).code, 2);
    assert!(soupcon(&["man", "scael"]).err.contains("did you mean scale"));
}

#[test]
fn all_pages_are_written_or_none_and_pass_the_formatters_check() {
    let folder = tempfile::tempdir().unwrap();
    let pages = folder.path().join("man1");
    let write = |extra: &[&str]| {
        let mut all = vec!["man", "--dir", pages.to_str().unwrap()];
        all.extend(extra);
        soupcon(&all)
    };
    assert_eq!(write(&[]).code, 0);
    let names: Vec<String> = fs::read_dir(&pages)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert!(names.contains(&"soupcon.1".to_owned()) && names.contains(&"soupcon-scale.1".to_owned()));
    fs::remove_file(pages.join("soupcon-scale.1")).unwrap();
    let again = write(&[]);
    assert_eq!(again.code, 1);
    assert!(again.err.contains("--force") && !pages.join("soupcon-scale.1").exists());
    assert_eq!(write(&["--force"]).code, 0);
    for name in names {
        let lint = std::process::Command::new("mandoc")
            .args(["-T", "lint", "-W", "warning"])
            .arg(pages.join(&name))
            .output();
        // Only where the formatter is installed.
        let Ok(lint) = lint else { return };
        assert!(lint.stdout.is_empty(), "{}", String::from_utf8_lossy(&lint.stdout));
    }
}
