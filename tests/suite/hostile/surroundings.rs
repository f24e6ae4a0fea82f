//! Arguments, folders and surroundings that are meant to harm.

use super::*;

#[test]
fn names_on_the_command_line_are_never_paths_into_the_system() {
    let folder = library(&[("film-developer/mine.toml", &formula(""))]);
    let long = "x".repeat(100_000);
    let deep = "../".repeat(20_000);
    let names: &[(&str, &str)] = &[
        ("nothing", ""),
        ("a space", " "),
        ("dots", ".."),
        ("dots and a name", "..%2f..%2fetc%2fpasswd"),
        ("a slash of another script", "..\u{2215}mine"),
        ("a line end", "mine\nmine"),
        ("an escape sequence", "mine\u{1b}[2J"),
        ("a bidirectional control", "mine\u{202e}lmot"),
        ("a name of 100 kB", &long),
        ("a path of 60 kB", &deep),
        ("the password file", "/etc/passwd"),
        ("a folder", "/etc"),
        ("a device that never ends", "/dev/zero"),
        ("a device that never answers", "/dev/tty"),
        ("another folder's file", "film-developer/../../../../../../etc/hostname"),
        ("an option", "--"),
        ("markup", "<b>x</b>.toml"),
    ];
    let mut report = Report::default();
    for (what, name) in names {
        let ran = run(folder.path(), &["--library", ".", "show", name]);
        if matches!(
            *what,
            "an option" | "a device that never answers" | "the password file" | "another folder's file"
        ) {
            // Its wording is the parser's, or differs between machines.
            assert_eq!(ran.code, 2, "{what}: {}", ran.whole());
        } else {
            report.refused(what, &ran);
        }
    }
    for (what, name) in
        [("a path as substance", "../../etc/passwd"), ("a substance of 100 kB", long.as_str())]
    {
        report.refused(what, &run(folder.path(), &["--library", ".", "substance", name]));
    }
    insta::assert_snapshot!(report.0);
}

#[test]
fn numbers_on_the_command_line_are_finite_and_sane() {
    let folder = tempfile::tempdir().unwrap();
    let long = format!("{}ml", "9".repeat(100_000));
    let mut report = Report::default();
    for text in [
        "nan",
        "inf",
        "NaNml",
        "infL",
        "1e308L",
        "1e400ml",
        "-1L",
        "-0ml",
        "0ml",
        "1",
        "",
        " ",
        "ml",
        "1,5L",
        "1_000ml",
        "0x10ml",
        "１L",
        "١L",
        "1\u{200b}L",
        "1L1L",
        "1/0L",
        "--1L",
        "1e9999999999L",
        &long,
    ] {
        let ran = run(folder.path(), &["scale", "mq-borax-classic", &format!(" {text}")]);
        let shown: String = text.chars().take(30).collect();
        report.refused(&format!("volume {}", shown.escape_debug()), &ran);
    }
    for arguments in [
        ["--balance", "0g"],
        ["--balance", "1e-300g"],
        ["--balance", "nan g"],
        ["--balance-max", "-1g"],
        ["--working", "0+0"],
        ["--working", "1+nan"],
        ["--working", "1+1e308"],
        ["--have", "metol=metol=1g"],
        ["--have", "=1g"],
        ["--have", "metol=0g"],
        ["--assay", "metol=0%"],
        ["--assay", "metol=1000%"],
        ["--assay", "metol=nan%"],
        ["--limit", "metol"],
        ["--limit", "metol=1e300g"],
    ] {
        let ran = run(folder.path(), &["scale", "mq-borax-classic", "1L", arguments[0], arguments[1]]);
        report.add(&format!("{arguments:?} exit {}", ran.code), &ran.err);
        assert!(!ran.out.contains("NaN") && !ran.out.contains("inf "), "{arguments:?}: {}", ran.out);
        let json =
            run(folder.path(), &["scale", "mq-borax-classic", "1L", arguments[0], arguments[1], "--json"]);
        assert!(!json.out.contains(": null,\n      \"amount"), "{}", json.out);
    }
    for tiny in ["1e-300ml", "5e-324ml", "0.000001ml"] {
        let ran = run(folder.path(), &["sheet", "mq-borax-classic", tiny]);
        assert!(!ran.out.contains("NaN") && !ran.out.contains("inf "), "{tiny}: {}", ran.out);
        report.add(&format!("{tiny} exit {}", ran.code), &ran.err);
    }
    let ran = run(folder.path(), &["sheet", "mq-borax-classic", "900000L"]);
    assert!(ran.code < 2 && !ran.out.contains("NaN"), "{}", ran.whole());
    insta::assert_snapshot!(report.0);
}

#[test]
fn folders_with_traps_are_told_and_keep_nothing_waiting() {
    let folder = library(&[
        ("film-developer/good.toml", &formula("")),
        ("film-developer/twice.toml", &formula("")),
        ("fixer/twice.toml", &formula("")),
        ("film-developer/Clash.toml", &formula("")),
        ("film-developer/clash.toml", &formula("")),
        ("film-developer/broken.toml", "title = \n"),
        ("film-developer/a b.toml", &formula("")),
        ("film-developer/.toml", &formula("")),
        ("film-developer/..toml", &formula("")),
        ("film-developer/es\u{1b}[2Jcape.toml", &formula("")),
        ("film-developer/two\nlines.toml", &formula("")),
        ("film-developer/<script>.toml", &formula("")),
        ("film-developer/mq-borax-classic.toml.bak", "not read"),
        ("substances/hydroquinone.toml", "format = 1\nname = \"harmless\"\n"),
        ("substances/Upper.toml", "format = 1\nname = \"x\"\n"),
        ("substances/broken.toml", "format = \n"),
    ]);
    let own = folder.path().join("film-developer");
    fs::create_dir(own.join("a-folder.toml")).unwrap();
    symlink("itself.toml", own.join("itself.toml")).unwrap();
    symlink("nowhere", own.join("dangling.toml")).unwrap();
    symlink("good.toml", own.join("linked.toml")).unwrap();
    symlink("/dev/zero", own.join("endless.toml")).unwrap();
    symlink("/etc/passwd", own.join("passwd.toml")).unwrap();
    symlink(".", own.join("loop")).unwrap();
    let long = format!("{}.toml", "x".repeat(200));
    fs::write(own.join(&long), formula("")).unwrap();
    assert!(Command::new("mkfifo").arg(own.join("pipe.toml")).status().unwrap().success());
    assert!(
        Command::new("mkfifo").arg(folder.path().join("substances/pipe.toml")).status().unwrap().success()
    );
    let not_utf8 = {
        use std::os::unix::ffi::OsStrExt as _;
        own.join(std::ffi::OsStr::from_bytes(b"caf\xe9.toml"))
    };
    fs::write(not_utf8, formula("")).unwrap();

    let listed = run(folder.path(), &["--library", ".", "list", "for testing", "--json"]);
    assert_eq!(listed.code, 0, "{}", listed.whole());
    for good in ["good", "linked", "clash"] {
        assert!(listed.out.contains(&format!("\"id\": \"{good}\"")), "{good}: {}", listed.out);
    }
    let mut report = Report::default();
    report.0.push_str(&format!("# list\n{}\n", listed.err));
    for name in [
        "twice",
        "broken",
        "a-folder",
        "itself",
        "dangling",
        "endless",
        "pipe",
        "./film-developer/pipe.toml",
        "Clash",
        "caf",
    ] {
        report.refused(&format!("show {name}"), &run(folder.path(), &["--library", ".", "show", name]));
    }
    for name in ["hydroquinone", "broken", "pipe", "Upper"] {
        report.refused(
            &format!("substance {name}"),
            &run(folder.path(), &["--library", ".", "substance", name]),
        );
    }
    let passwd = run(folder.path(), &["--library", ".", "show", "passwd"]);
    assert_eq!(passwd.code, 2);
    assert!(run(folder.path(), &["check", "."]).code > 0);
    insta::assert_snapshot!(report.0);
}

#[test]
fn a_library_that_is_no_folder_of_folders_is_told() {
    let mut report = Report::default();
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("file"), "x").unwrap();
    symlink("round", at.join("round")).unwrap();
    fs::create_dir_all(at.join("kinds")).unwrap();
    fs::write(at.join("kinds/film-developer"), "not a folder").unwrap();
    fs::create_dir_all(at.join("turning")).unwrap();
    symlink("film-developer", at.join("turning/film-developer")).unwrap();
    for library in ["file", "round", "missing", "kinds", "turning", "/dev/null"] {
        for command in [["list", "borax"], ["show", "mq-borax-classic"]] {
            let ran = run(at, &["--library", library, command[0], command[1]]);
            if ran.code == 0 {
                assert!(
                    matches!(library, "kinds" | "turning") && command[0] == "show",
                    "{library}: {}",
                    ran.whole()
                );
            } else {
                report.refused(&format!("{library} {}", command[0]), &ran);
            }
        }
    }
    // A folder behind a link is a folder.
    fs::create_dir_all(at.join("real/film-developer")).unwrap();
    fs::write(at.join("real/film-developer/mine.toml"), formula("")).unwrap();
    symlink("real", at.join("link")).unwrap();
    assert_eq!(run(at, &["--library", "link", "show", "mine"]).code, 0);
    insta::assert_snapshot!(report.0);
}

#[test]
fn what_may_not_be_read_is_told() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = library(&[("film-developer/mine.toml", &formula("")), ("fixer/locked.toml", &formula(""))]);
    let lock = |path: &str| {
        fs::set_permissions(folder.path().join(path), fs::Permissions::from_mode(0o000)).unwrap();
    };
    lock("fixer/locked.toml");
    if fs::read(folder.path().join("fixer/locked.toml")).is_ok() {
        return; // The superuser may read anything.
    }
    let ran = run(folder.path(), &["--library", ".", "show", "locked"]);
    assert_eq!(ran.code, 2, "{}", ran.whole());
    lock("film-developer");
    for arguments in [["list", "mine"], ["show", "mine"], ["show", "mq-borax-classic"]] {
        let ran = run(folder.path(), &["--library", ".", arguments[0], arguments[1]]);
        assert_eq!(ran.code, 2, "{}", ran.whole());
        assert!(ran.err.contains("cannot be read"), "{}", ran.err);
    }
    fs::set_permissions(folder.path().join("film-developer"), fs::Permissions::from_mode(0o700)).unwrap();
}

/// Nothing in the surroundings makes the program fall.
#[test]
fn odd_surroundings_are_borne() {
    use std::os::unix::ffi::OsStrExt as _;
    let not_utf8 = std::ffi::OsStr::from_bytes(b"\xff\xfe");
    for (name, value) in [
        ("COLUMNS", "0"),
        ("COLUMNS", "1"),
        ("COLUMNS", "-5"),
        ("COLUMNS", "99999999999999999999"),
        ("COLUMNS", "abc"),
        ("LC_ALL", "\u{1b}[2J"),
        ("LANG", "C"),
        ("TERM", "\u{1b}"),
        ("HOME", "relative"),
        ("HOME", "/nonexistent"),
        ("XDG_CONFIG_HOME", "/dev/null"),
        ("XDG_DATA_HOME", "/dev/zero"),
        ("SOUPCON_LIBRARY", ""),
        ("SOUPCON_LIBRARY", ":::"),
    ] {
        for arguments in
            [vec!["list", "borax"], vec!["sheet", "mq-borax-classic", "1L"], vec!["show", "--help"]]
        {
            let output = crate::common::command(&arguments).env(name, value).output().unwrap();
            assert_eq!(
                output.status.code(),
                Some(0),
                "{name}={value}: {}",
                String::from_utf8_lossy(&output.stderr)
            );
        }
    }
    for name in ["COLUMNS", "LC_ALL", "HOME", "TERM", "NO_COLOR"] {
        let output = crate::common::command(&["list", "borax"]).env(name, not_utf8).output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{name}");
    }
    let output =
        Command::new(env!("CARGO_BIN_EXE_soupcon")).arg("show").arg(not_utf8).env_clear().output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    let output = crate::common::command(&["list"]).env("SOUPCON_LIBRARY", not_utf8).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}
