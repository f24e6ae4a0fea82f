//! Broken and malicious input that needs a stream, a folder or a program to make: each ends soon, without a panic, with what is wrong,
//! where, and how to mend it. One file per plain mistake lies in `refused/`.

use std::fs;
use std::io::{Read as _, Write as _};
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::{Duration, Instant};

use crate::common::Ran;

/// Longest that any run may take, in an unoptimised build on a busy machine.
const LONGEST: Duration = Duration::from_mins(1);

/// Most address space that a run may have, in kilobytes.
const MOST_MEMORY_KB: u32 = 600_000;

const HEAD: &str = "format = 1\ntitle = \"Borax developer\"\nkind = \"film-developer\"\nsummary = \"For testing.\"\nevidence = \"memory\"\n";

const INGREDIENT: &str = "\n[[ingredients]]\nsubstance = \"metol\"\ngrams = 2\n";

fn formula(more_head: &str) -> String {
    format!("{HEAD}{more_head}{INGREDIENT}")
}

/// The program under a limit of memory, in a folder.
fn start(folder: &Path, arguments: &[&str], input: Stdio) -> Child {
    Command::new("/bin/sh")
        .args(["-c", &format!("ulimit -v {MOST_MEMORY_KB}; exec \"$0\" \"$@\"")])
        .arg(env!("CARGO_BIN_EXE_soupcon"))
        .args(arguments)
        .env_clear()
        .env("COLUMNS", "80")
        .current_dir(folder)
        .stdin(input)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Waits for it, but not for ever; and what it printed must disturb no terminal.
fn finish(mut child: Child, what: &str) -> Ran {
    let started = Instant::now();
    let (mut out, mut err) = (child.stdout.take().unwrap(), child.stderr.take().unwrap());
    let (send, receive) = mpsc::channel();
    let reader = std::thread::spawn(move || {
        let mut text = String::new();
        out.read_to_string(&mut text).unwrap();
        text
    });
    std::thread::spawn(move || {
        let mut text = String::new();
        err.read_to_string(&mut text).unwrap();
        send.send(text).unwrap();
    });
    let Ok(err) = receive.recv_timeout(LONGEST) else {
        child.kill().unwrap();
        panic!("{what}: still running after {:?}", started.elapsed());
    };
    let ran = Ran { code: child.wait().unwrap().code().unwrap_or(-1), out: reader.join().unwrap(), err };
    assert!((0..=2).contains(&ran.code), "{what}: {}", ran.whole());
    assert!(!ran.err.contains("panicked"), "{what}: {}", ran.err);
    for text in [&ran.out, &ran.err] {
        let bad = text.chars().find(|&letter| letter != '\n' && soupcon::diagnostic::is_hostile(letter));
        assert!(bad.is_none(), "{what} printed {bad:?}");
        assert!(text.len() < 8_000_000, "{what} printed {} bytes", text.len());
    }
    ran
}

fn run(folder: &Path, arguments: &[&str]) -> Ran {
    finish(start(folder, arguments, Stdio::null()), &format!("{arguments:?}"))
}

fn run_with_input(arguments: &[&str], input: &[u8]) -> Ran {
    let folder = tempfile::tempdir().unwrap();
    let mut child = start(folder.path(), arguments, Stdio::piped());
    let mut pipe = child.stdin.take().unwrap();
    let input = input.to_vec();
    // The program may refuse before it has read everything.
    let writer = std::thread::spawn(move || pipe.write_all(&input).is_ok());
    let ran = finish(child, &format!("{arguments:?}"));
    writer.join().unwrap();
    ran
}

/// A personal library.
fn library(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for kind in ["film-developer", "fixer", "substances"] {
        fs::create_dir_all(folder.path().join(kind)).unwrap();
    }
    for (path, text) in files {
        fs::write(folder.path().join(path), text).unwrap();
    }
    folder
}

/// Collects refusals into one text for a snapshot; the message must say how to mend it.
#[derive(Default)]
struct Report(String);

impl Report {
    fn refused(&mut self, what: &str, ran: &Ran) {
        assert_eq!(ran.code, 2, "{what}: {}", ran.whole());
        assert!(ran.out.is_empty(), "{what} printed a result");
        assert!(ran.err.starts_with("error: ") && ran.err.contains("\n  fix: "), "{what}: {}", ran.err);
        assert!(ran.err.len() < 20_000, "{what}: a message of {} bytes", ran.err.len());
        self.add(what, &ran.err);
    }

    /// Of a long message the first lines, each cut.
    fn add(&mut self, what: &str, text: &str) {
        self.0.push_str(&format!("# {what}\n"));
        for line in text.lines().take(4) {
            self.0.push_str(&line.chars().take(200).collect::<String>());
            self.0.push('\n');
        }
        self.0.push('\n');
    }
}

#[test]
fn monstrous_text_is_refused_in_bounded_time_and_memory() {
    let many = |count: usize, text: &dyn Fn(usize) -> String| (0..count).map(text).collect::<String>();
    let deep = |open: &str, close: &str| format!("own.x = {}{}\n", open.repeat(10_000), close.repeat(10_000));
    let inputs: Vec<(&str, String)> = vec![
        ("10,000 arrays in each other", formula(&deep("[", "]"))),
        ("10,000 arrays never closed", formula(&deep("[", ""))),
        ("10,000 inline tables in each other", formula(&deep("{a=", "}"))),
        ("a key of 10,000 parts", formula(&format!("own.{}a = 1\n", "a.".repeat(10_000)))),
        ("a table header of 10,000 parts", format!("{HEAD}[own.{}a]\n", "a.".repeat(10_000))),
        ("a comment of more than a megabyte", format!("# {}\n{}", "x".repeat(1_100_000), formula(""))),
        ("a million blank lines and more", format!("{}{}", "\n".repeat(1_050_000), formula(""))),
        (
            "a substance's name of 900 kB",
            formula("").replace("\"metol\"", &format!("\"{}\"", "metol-".repeat(150_000))),
        ),
        ("a mistyped key of 900 kB", formula(&format!("{} = 1\n", "k".repeat(900_000)))),
        ("a broken line of 900 kB", formula(&format!("note = {}\n", "x".repeat(900_000)))),
        (
            "a part's name of 900 kB",
            format!(
                "{HEAD}[[parts]]\nname = \"{}\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\n",
                "A".repeat(900_000)
            ),
        ),
        (
            "an amount of 300,000 digits",
            formula("").replace("= 2\n", &format!("= 2{}\n", "0".repeat(300_000))),
        ),
        (
            "15,000 unknown substances",
            format!(
                "{HEAD}{}",
                many(15_000, &|n| format!("[[ingredients]]\nsubstance = \"metool-{n}\"\ngrams = 2\n"))
            ),
        ),
        ("20,000 times metol", format!("{HEAD}{}", INGREDIENT.repeat(20_000))),
        (
            "10,000 uses of a part that is not there",
            format!("{}{}", formula(""), "[[use]]\nname = \"x\"\nbaths = [{ stok = 1 }]\n".repeat(10_000)),
        ),
        (
            "5,000 parts of one name",
            format!(
                "{HEAD}{}",
                "[[parts]]\nname = \"A\"\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\n"
                    .repeat(5000)
            ),
        ),
        ("50,000 keys", formula(&many(50_000, &|n| format!("k{n} = 1\n")))),
        ("one key 50,000 times", formula(&"note = \"x\"\n".repeat(50_000))),
        ("40,000 empty aliases", formula(&format!("aliases = [{}]\n", "\"\",".repeat(40_000)))),
    ];
    let mut report = Report::default();
    for (what, text) in &inputs {
        report.refused(what, &run_with_input(&["show", "-"], text.as_bytes()));
    }
    for (what, bytes) in [
        ("bytes that are no text", b"\xff\xfe\xfd".as_slice()),
        ("a UTF-8 sequence cut short", b"title = \"\xe2\x82".as_slice()),
        ("an overlong encoding", b"title = \"\xc0\xaf\"".as_slice()),
        ("a surrogate in UTF-8", b"title = \"\xed\xa0\x80\"".as_slice()),
        ("nothing at all", b"".as_slice()),
        ("a program", &fs::read(env!("CARGO_BIN_EXE_soupcon")).unwrap()[..2_000_000]),
    ] {
        report.refused(what, &run_with_input(&["show", "-"], bytes));
    }
    let endless = fs::File::open("/dev/zero").unwrap();
    let ran = finish(start(Path::new("/"), &["show", "-"], endless.into()), "an endless stream");
    report.refused("an endless stream", &ran);
    insta::assert_snapshot!(report.0);
}

#[test]
fn monstrous_text_that_is_valid_is_printed_in_bounded_time() {
    let word = "x".repeat(2000);
    let words = "word ".repeat(400);
    let wide = "漢".repeat(2000);
    for text in [&word, &words, &wide] {
        let formula = formula(&format!("note = \"{text}\"\naliases = [\"a\"]\n"));
        for format in ["text", "markdown", "html", "json"] {
            assert_eq!(run_with_input(&["show", "-", "--format", format], formula.as_bytes()).code, 0);
        }
        assert_eq!(run_with_input(&["sheet", "-", "1L"], formula.as_bytes()).code, 0);
    }
}

#[test]
fn what_is_odd_but_sound_is_read() {
    let plain = run_with_input(&["show", "-"], formula("").as_bytes());
    assert_eq!(plain.code, 0, "{}", plain.whole());
    let windows = format!("\u{feff}{}", formula("").replace('\n', "\r\n"));
    assert_eq!(run_with_input(&["show", "-"], windows.as_bytes()).out, plain.out);
    let no_final_line_end = formula("").trim_end().to_owned();
    assert_eq!(run_with_input(&["show", "-"], no_final_line_end.as_bytes()).out, plain.out);
    let hexadecimal = formula("").replace("grams = 2", "grams = 0x2");
    assert_eq!(run_with_input(&["show", "-"], hexadecimal.as_bytes()).out, plain.out);
    // Whatever later TOML allows (a table over several lines) is read or refused, never worse.
    let later = formula("own = {\n  a = 1,\n}\n");
    run_with_input(&["show", "-"], later.as_bytes());
}

/// Relations are names, never paths, and nothing follows them round and round.
#[test]
fn relations_in_a_circle_and_out_of_the_library_lead_nowhere() {
    let relation = |to: &str| {
        format!(
            "{}\n[replenishment]\nwith = \"{to}\"\nml_per_roll = 20\n",
            formula(&format!(
                "variant_of = \"{to}\"\nreplenishes = [\"{to}\"]\npartners = [\"{to}\"]\naliases = [\"{to}-too\"]\n"
            ))
        )
    };
    let folder = library(&[
        ("film-developer/first.toml", &relation("second")),
        ("film-developer/second.toml", &relation("third")),
        ("film-developer/third.toml", &relation("first")),
        ("film-developer/own-tail.toml", &relation("own-tail")),
        (
            "film-developer/outside.toml",
            &relation("no-such").replace("no-such", "../../../etc/passwd").replace("aliases", "own.aliases"),
        ),
        (
            "film-developer/absolute.toml",
            &relation("no-such").replace("no-such", "/etc/passwd").replace("aliases", "own.aliases"),
        ),
    ]);
    for name in ["first", "second", "own-tail", "outside", "absolute", "first-too"] {
        for arguments in [
            vec!["show", name],
            vec!["scale", name, "1L"],
            vec!["sheet", name, "1L"],
            vec!["safety", name, "first"],
            vec!["compare", name, "first"],
        ] {
            let ran = run(folder.path(), &[&["--library", "."], arguments.as_slice()].concat());
            assert!(!ran.whole().contains("root:"), "{}", ran.whole());
            assert!(ran.code < 2, "{arguments:?}: {}", ran.whole());
        }
    }
    for arguments in [vec!["list"], vec!["list", "--near", "first"], vec!["check", "."]] {
        let ran = run(folder.path(), &[&["--library", "."], arguments.as_slice()].concat());
        assert!(ran.code < 2, "{}", ran.whole());
        assert!(!ran.whole().contains("root:"), "{}", ran.whole());
    }
}

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

#[test]
fn absurd_chemical_formulas_are_refused() {
    let nested = format!("{}H{}", "(".repeat(100), ")".repeat(100));
    let long = "CH2".repeat(5000);
    let dots = ".H2O".repeat(40);
    let absurd: &[&str] = &[
        "H9999999",
        "H0",
        "H-1",
        "H1.5",
        "",
        " ",
        "h2o",
        "Xx2",
        "H(",
        "H)",
        "()",
        "(((((((((",
        "(H]",
        "2",
        "..",
        "Na2CO3..10H2O",
        "1e9H2O",
        "H２O",
        "H٢O",
        "Н2O",
        "H2O<b>",
        "H2O; rm -rf",
        "../H2O",
        "H2O\u{301}",
        "9999.9999H2O9999",
        &nested,
        &long,
        &dots,
    ];
    let mut report = Report::default();
    for text in absurd {
        let substance = format!(
            "format = 1\nname = \"Odd\"\nroles = [\"alkali\"]\n\n[[forms]]\nid = \"odd\"\nname = \"odd\"\nformula = \"{text}\"\n"
        );
        let folder = library(&[("substances/odd.toml", &substance)]);
        let shown: String = text.chars().take(30).collect();
        report.refused(&shown, &run(folder.path(), &["--library", ".", "substance", "odd"]));
    }
    insta::assert_snapshot!(report.0);
}

#[test]
fn broken_substances_are_refused() {
    let head = "format = 1\nname = \"Odd\"\nroles = [\"alkali\"]\n";
    let form = "\n[[forms]]\nid = \"odd\"\nname = \"odd\"\n";
    let texts: &[(&str, String)] = &[
        ("no form", head.to_owned()),
        ("two forms of one id", format!("{head}{form}{form}")),
        ("a form of another name", format!("{head}{}", form.replace("id = \"odd\"", "id = \"metol\""))),
        ("an unknown role", format!("{}{form}", head.replace("alkali", "alkaly"))),
        ("assay nan", format!("{head}{form}assay_percent = nan\n")),
        ("assay 1e308", format!("{head}{form}assay_percent = 1e308\n")),
        ("density 0", format!("{head}{form}density_g_per_ml = 0\n")),
        ("density infinite", format!("{head}{form}density_g_per_ml = inf\n")),
        ("crystal water negative", format!("{head}{form}crystal_water = -1\n")),
        (
            "crystal water that the formula denies",
            format!("{head}{form}formula = \"Na2CO3\"\ncrystal_water = 10\n"),
        ),
        ("usual assay nan", format!("{head}{form}assay_typical = [85, nan]\n")),
        (
            "constant nan",
            format!("{head}{form}acid_constants = [{{ step = \"x\", pka = nan, source = \"memory\" }}]\n"),
        ),
        (
            "heat infinite",
            format!("{head}{form}heat_of_solution = {{ kj_per_mol = -inf, source = \"memory\" }}\n"),
        ),
        (
            "solubility falling in temperature",
            format!(
                "{head}{form}solubility = [{{ basis = \"as-weighed\", points = [[20, 1], [10, 2]], source = \"memory\" }}]\n"
            ),
        ),
        (
            "solubility infinite",
            format!(
                "{head}{form}solubility = [{{ basis = \"as-weighed\", points = [[20, inf]], source = \"memory\" }}]\n"
            ),
        ),
        (
            "percent solution of 1000 %",
            format!(
                "{head}keeps_in_solution = {{ solvent = \"water\", percent = [1000], source = \"memory\" }}\n{form}"
            ),
        ),
        ("escape in a name", format!("{head}{}", form.replace("name = \"odd\"", "name = \"o\\u001b[2Jdd\""))),
        (
            "a hazard in no class",
            format!("{head}{form}hazards = {{ status = \"harmless\", source = \"memory\" }}\n"),
        ),
        ("5,000 forms of one id", format!("{head}{}", form.repeat(5000))),
    ];
    let mut report = Report::default();
    for (what, text) in texts {
        let folder = library(&[("substances/odd.toml", text)]);
        report.refused(what, &run(folder.path(), &["--library", ".", "substance", "odd"]));
        let using = formula("").replace("\"metol\"", "\"odd\"");
        fs::write(folder.path().join("film-developer/uses.toml"), using).unwrap();
        assert_eq!(run(folder.path(), &["--library", ".", "show", "uses"]).code, 2, "{what}");
    }
    insta::assert_snapshot!(report.0);
}

#[test]
fn a_substance_of_5000_forms_and_a_formula_of_many_lines_are_borne() {
    let forms: String = (0..5000)
        .map(|index| {
            format!(
                "\n[[forms]]\nid = \"odd-{index}\"\nname = \"odd {index}\"\nformula = \"Rb2CO3.{}H2O\"\n",
                index % 90 + 1
            )
        })
        .collect();
    let substance = format!("format = 1\nname = \"Odd\"\nroles = [\"alkali\"]\n{forms}");
    let lines: String = (0..60)
        .map(|index| format!("\n[[ingredients]]\nsubstance = \"odd-{index}\"\ngrams = 0.{:03}\n", index + 1))
        .collect();
    let folder = library(&[
        ("substances/odd.toml", &substance),
        ("film-developer/long.toml", &format!("{HEAD}{lines}")),
    ]);
    assert_eq!(run(folder.path(), &["--library", ".", "substance", "odd-4999"]).code, 0);
    assert_eq!(run(folder.path(), &["--library", ".", "substance", "odd"]).code, 2);
    assert_eq!(run(folder.path(), &["--library", ".", "show", "long"]).code, 0);
    assert_eq!(run(folder.path(), &["--library", ".", "scale", "long", "1L"]).code, 0);
    assert!(run(folder.path(), &["--library", ".", "sheet", "long", "1L"]).code < 2);
}

/// Text that would do harm if any writer let it through as it stands.
const HARM: &str = "<script>alert(1)</script><img src=x onerror=alert(1)> & 'q' `c` *b* _i_ [l](javascript:alert(1)) ![i](x) | ~~s~~ # h {{7*7}} ${x} $(x) %s &lt; 漢字 é\u{301} \u{1f469}\u{1f52c}";

/// A formula with hostile text in every place that takes text.
fn harmful_formula() -> String {
    let harm = format!("'''{}'''", HARM.replace("'q'", "q"));
    format!(
        "format = 1\ntitle = {harm}\nkind = \"film-developer\"\nsummary = {harm}\nevidence = \"published\"\nsource = {harm}\nlead = {harm}\ndoubt = {harm}\naliases = ['<i>x<i>']\nvariant_of = {harm}\nreplenishes = [{harm}]\npartners = [{harm}]\ncautions = [{harm}]\nnote = {harm}\nown.x = {harm}\n\n[stated]\nph = 8.5\nsource = {harm}\nnote = {harm}\n\n[[parts]]\nname = 'A-first'\nnote = {harm}\n\n[parts.mixing]\nwater = 700\ntemperature = 40\norder = [{harm}]\nsource = {harm}\norder_note = {harm}\nnote = {harm}\nother_way = {harm}\n\n[[parts.ingredients]]\nsubstance = \"sodium-sulfite-anhydrous\"\ngrams = 80\nnote = {harm}\nuntil = {harm}\n\n[[parts.ingredients]]\nsubstance = \"metol\"\ngrams = 2\nnote = {harm}\n\n[[parts.ingredients]]\nsubstance = \"odd\"\namount = \"20 grain\"\nper = \"1 us-qt\"\nnote = {harm}\nuntil = {harm}\n\n[parts.keeping]\nfull_bottle_days = 100\nsource = {harm}\nnote = {harm}\n\n[[parts]]\nname = 'B 2'\n\n[[parts.ingredients]]\nsubstance = \"potassium-bromide\"\nmillilitres = 5\nstrength = \"10 % w/v\"\nnote = {harm}\n\n[[use]]\nname = {harm}\nbaths = [{{ 'A-first' = 1, 'B 2' = 1, water = 2 }}]\nminutes = [5, 8]\nsource = {harm}\nnote = {harm}\n\n[capacity]\narea_cm2_per_litre = 2000\nsource = {harm}\nnote = {harm}\n\n[replenishment]\nwith = {harm}\nml_per_roll = 20\nsource = {harm}\nnote = {harm}\n\n[[check]]\nquantity = \"ph\"\nexpected = 8.5\ntolerance = 0.2\ntolerance_note = {harm}\nsource = {harm}\n"
    )
}

/// A substance with hostile text in every place that takes text.
fn harmful_substance() -> String {
    let harm = format!("'''{}'''", HARM.replace("'q'", "q"));
    format!(
        "format = 1\nname = {harm}\nsynonyms = [{harm}]\nroles = [\"restrainer\"]\nclasses = [{harm}]\nnote = {harm}\nkeeps_in_solution = {{ solvent = \"water\", percent = [1], source = {harm}, note = {harm} }}\n\n[[forms]]\nid = \"odd\"\nname = {harm}\nsystematic = {harm}\nsynonyms = [{harm}]\ncas = {harm}\nformula = \"RbBr\"\nassay_percent = 99\nassay_source = {harm}\ndensity_g_per_ml = 2\ndensity_source = {harm}\nhandling = {harm}\nsolubility = [{{ primary = true, basis = \"as-weighed\", points = [[20, 5], [30, 8]], source = {harm}, remark = {harm} }}]\nacid_constants = [{{ step = {harm}, pka = 5, source = {harm}, remark = {harm} }}]\nheat_of_solution = {{ kj_per_mol = 20, method = {harm}, source = {harm}, remark = {harm} }}\nhazards = {{ status = \"typical\", signal = \"Warning\", statements = [{harm}], supplementary = [{harm}], source = {harm}, remark = {harm} }}\n"
    )
}

/// Every `<` of a page begins a tag of ours, and no tag has an attribute that a stranger chose.
fn only_own_tags(page: &str) {
    const TAGS: &[&str] = &[
        "!DOCTYPE", "html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "dl", "dt",
        "dd", "ul", "ol", "li", "table", "thead", "tbody", "tr", "th", "td", "div", "b", "i", "span",
        "section", "article", "header", "footer", "main", "br", "hr", "svg", "path", "rect", "line", "text",
        "circle", "g", "polygon", "polyline", "strong", "em", "small", "caption", "figure", "colgroup",
        "col", "ellipse", "address", "aside", "s",
    ];
    for piece in page.split('<').skip(1) {
        let name: String = piece
            .trim_start_matches('/')
            .chars()
            .take_while(|&letter| letter.is_ascii_alphanumeric() || letter == '!')
            .collect();
        assert!(TAGS.contains(&name.as_str()), "a tag <{}", piece.chars().take(40).collect::<String>());
        let tag = piece.split('>').next().unwrap();
        assert!(!tag.contains("alert") && !tag.contains("onerror"), "a tag <{tag}>");
    }
}

#[test]
fn hostile_text_in_every_field_is_inert_in_every_command_and_format() {
    let folder = library(&[
        ("film-developer/harm.toml", &harmful_formula()),
        ("film-developer/harm-too.toml", &harmful_formula()),
        ("substances/odd.toml", &harmful_substance()),
    ]);
    let commands: &[&[&str]] = &[
        &["show", "harm"],
        &["scale", "harm", "1L"],
        &["scale", "harm", "10ml", "--balance", "1g"],
        &["scale", "harm", "1L", "--working", "1+1+2"],
        &["sheet", "harm", "1L"],
        &["sheet", "harm", "20ml"],
        &["label", "harm", "1L"],
        &["safety", "harm", "wash", "harm-too"],
        &["compare", "harm", "harm-too"],
        &["compare", "harm", "mq-borax-classic"],
        &["list"],
        &["list", "--with", "odd"],
        &["list", "--near", "harm"],
        &["list", "--can-make", "--have", "metol", "--have", "odd"],
        &["substance", "odd"],
        &["substance"],
        &["percent", "odd", "1%w/v", "100ml"],
        &["exchange", "5g", "odd", "--for", "potassium-bromide"],
        &["check", "."],
    ];
    for command in commands {
        for format in ["text", "markdown", "html", "json"] {
            for more in [vec![], vec!["--ascii"]] {
                let arguments = [&["--library", ".", "--format", format], *command, &more].concat();
                let ran = run(folder.path(), &arguments);
                assert!(ran.code < 2 || command[0] == "percent", "{arguments:?}: {}", ran.whole());
                assert!(
                    !more.contains(&"--ascii") || format == "json" || ran.out.is_ascii(),
                    "{arguments:?} is not ASCII"
                );
                match format {
                    "html" => only_own_tags(&ran.out),
                    "markdown" => {
                        let no_tag = !ran.out.contains("<script") && !ran.out.contains("<img");
                        assert!(
                            no_tag && !ran.out.replace("\\]", "").contains("](javascript"),
                            "{arguments:?}: {}",
                            ran.out
                        );
                    }
                    "json" if !ran.out.is_empty() => drop(ran.json()),
                    _ => {}
                }
            }
        }
    }
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
