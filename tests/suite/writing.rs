//! What `-o` and the journal do to a disk: a file is whole or not there, and nothing but a file is ever replaced.

use std::fs;
use std::io::Read as _;
use std::os::unix::fs::{FileTypeExt as _, MetadataExt as _, PermissionsExt as _, symlink};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::common::{Ran, command, good, soupcon, soupcon_in, soupcon_with_input};

const SHEET: [&str; 3] = ["sheet", "mq-borax-classic", "1L"];

fn sheet_to(folder: &Path, output: &str) -> Ran {
    soupcon_in(folder, &[SHEET[0], SHEET[1], SHEET[2], "--force", "-o", output])
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Makes a pipe with a name.
fn fifo(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}

#[test]
fn a_device_and_a_pipe_are_written_into_and_stay() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    fifo(&pipe);
    let reader = std::thread::spawn({
        let pipe = pipe.clone();
        move || {
            let mut text = String::new();
            fs::File::open(pipe).unwrap().read_to_string(&mut text).unwrap();
            text
        }
    });
    let ran = sheet_to(folder.path(), "pipe");
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert_eq!(reader.join().unwrap(), good(&SHEET).out);
    assert!(pipe.symlink_metadata().unwrap().file_type().is_fifo(), "the pipe was replaced");
    // The true /dev/null is not risked: a link to the full device shows that it is opened, and not replaced.
    symlink("/dev/full", folder.path().join("full")).unwrap();
    let ran = sheet_to(folder.path(), "full");
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.err.contains("full cannot be written: No space left on device"), "{}", ran.err);
    assert_eq!(names(folder.path()), ["full", "pipe"]);
    let ran = sheet_to(folder.path(), ".");
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains(". is a folder\n  fix: name a file in it"), "{}", ran.err);
    let _socket = std::os::unix::net::UnixListener::bind(folder.path().join("socket")).unwrap();
    let ran = sheet_to(folder.path(), "socket");
    assert!(ran.code == 1 && ran.err.contains("is a device, which is no place for a page"), "{}", ran.err);
}

#[test]
fn a_link_is_followed_and_the_mode_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("target.txt");
    fs::write(&target, "old").unwrap();
    fs::set_permissions(&target, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("target.txt", folder.path().join("link")).unwrap();
    let ran = sheet_to(folder.path(), "link");
    assert_eq!(ran.code, 0, "{}", ran.whole());
    assert!(folder.path().join("link").symlink_metadata().unwrap().is_symlink());
    assert_eq!(fs::read_to_string(&target).unwrap(), good(&SHEET).out);
    assert_eq!(target.metadata().unwrap().mode() & 0o777, 0o640);
    // A new file has the mode of any other.
    let plain = folder.path().join("plain");
    fs::write(&plain, "").unwrap();
    assert_eq!(sheet_to(folder.path(), "new").code, 0);
    let mode = |path: &Path| path.metadata().unwrap().mode() & 0o777;
    assert_eq!(mode(&folder.path().join("new")), mode(&plain));
    fs::set_permissions(&target, fs::Permissions::from_mode(0o444)).unwrap();
    let ran = sheet_to(folder.path(), "target.txt");
    assert_eq!(ran.code, 1);
    let words =
        "target.txt is write-protected\n  fix: choose another name, or unprotect it: chmod u+w target.txt";
    assert!(ran.err.contains(words), "{}", ran.err);
    symlink("gone", folder.path().join("dangling")).unwrap();
    let ran = sheet_to(folder.path(), "dangling");
    assert!(ran.code == 1 && ran.err.contains("is a link to something that is not there"), "{}", ran.err);
    assert_eq!(names(folder.path()), ["dangling", "link", "new", "plain", "target.txt"]);
}

#[test]
fn what_a_killed_program_left_is_removed_by_the_next_that_writes_there() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join(".page.txt.soupcon-part"), "half a pa").unwrap();
    assert_eq!(sheet_to(folder.path(), "page.txt").code, 0);
    assert_eq!(names(folder.path()), ["page.txt"]);
    // One that is being written by a living program is left to it.
    let other = fs::File::create(folder.path().join(".page.txt.soupcon-part")).unwrap();
    other.lock().unwrap();
    let ran = sheet_to(folder.path(), "page.txt");
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("another program is writing to it"), "{}", ran.err);
    assert_eq!(names(folder.path()), [".page.txt.soupcon-part", "page.txt"]);
    drop(other);
    // A folder of that name is not removed.
    fs::remove_file(folder.path().join(".page.txt.soupcon-part")).unwrap();
    fs::create_dir(folder.path().join(".page.txt.soupcon-part")).unwrap();
    let ran = sheet_to(folder.path(), "page.txt");
    assert!(ran.code == 1 && ran.err.contains(".page.txt.soupcon-part is in the way"), "{}", ran.err);
}

/// Many at once to one name, without `--force`: one wins, the others are told.
#[test]
fn of_many_writers_to_one_name_one_wins() {
    let folder = tempfile::tempdir().unwrap();
    let children: Vec<_> = (0..20)
        .map(|_| {
            command(&[SHEET[0], SHEET[1], SHEET[2], "-o", "one.txt"])
                .current_dir(folder.path())
                .stdout(Stdio::null())
                .stderr(Stdio::piped())
                .spawn()
                .unwrap()
        })
        .collect();
    let ran: Vec<Ran> = children.into_iter().map(|child| child.wait_with_output().unwrap().into()).collect();
    assert_eq!(ran.iter().filter(|one| one.code == 0).count(), 1, "{ran:?}");
    assert!(ran.iter().filter(|one| one.code != 0).all(|one| one.err.contains("already exists")), "{ran:?}");
    assert_eq!(fs::read_to_string(folder.path().join("one.txt")).unwrap(), good(&SHEET).out);
    assert_eq!(names(folder.path()), ["one.txt"]);
}

/// Ended at some moment by Ctrl-C, by a request to end or with its terminal: whatever the moment, a whole file or none, and nothing beside it.
#[test]
fn a_signal_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let whole = good(&["sheet", "mq-borax-classic", "1L", "--format", "html"]).out;
    let mut ended = 0;
    for turn in 0..60_u64 {
        let file = format!("page{turn}.html");
        let mut child = command(&["sheet", "mq-borax-classic", "1L", "--format", "html", "-o", &file])
            .current_dir(folder.path())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // As soon as something of it lies there, or a little later.
        for _ in 0..2000 {
            if names(folder.path()).iter().any(|name| name.contains(&file)) {
                break;
            }
            std::thread::sleep(std::time::Duration::from_micros(100));
        }
        std::thread::sleep(std::time::Duration::from_micros(50 * (turn % 12)));
        let signal = ["-INT", "-TERM", "-HUP"][usize::try_from(turn % 3).unwrap()];
        let _ = Command::new("kill").args([signal, &child.id().to_string()]).stderr(Stdio::null()).status();
        ended += usize::from(child.wait().unwrap().code().is_none());
        let path = folder.path().join(&file);
        assert!(!path.exists() || fs::read_to_string(&path).unwrap() == whole, "{file} is not whole");
    }
    let left: Vec<String> = names(folder.path()).into_iter().filter(|name| name.starts_with('.')).collect();
    assert!(left.is_empty(), "{left:?} ({ended} ended by a signal)");
}

/// A limit on the size of files, with the signal as the shell leaves it: a message in place of a sudden end.
#[test]
fn a_limit_on_the_size_of_files_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let limited = |arguments: &[&str]| -> Ran {
        Command::new("/bin/sh")
            .args(["-c", "ulimit -f 1; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_soupcon")])
            .args(arguments)
            .env_clear()
            .current_dir(folder.path())
            .output()
            .unwrap()
            .into()
    };
    let ran = limited(&["sheet", "mq-borax-classic", "1L", "-o", "page.txt"]);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.err.contains("page.txt cannot be written: File too large"), "{}", ran.err);
    assert_eq!(names(folder.path()), Vec::<String>::new());
    // The journal takes back what it wrote of the entry.
    let add = |note: &str| {
        let words = ["record", "add", "developed", "8:30", "--film", "f", "--formula", "mq-borax-classic"];
        let rest = ["--date", "2026-11-25", "--note", note, "--journal", "journal.toml"];
        words.iter().chain(&rest).map(|&word| word.to_owned()).collect::<Vec<_>>()
    };
    let note = "n".repeat(150);
    let mut refused = None;
    for _ in 0..20 {
        let arguments = add(&note);
        let ran = limited(&arguments.iter().map(String::as_str).collect::<Vec<_>>());
        if ran.code != 0 {
            refused = Some(ran);
            break;
        }
    }
    let refused = refused.expect("the limit was never reached");
    assert!(refused.err.contains("journal.toml cannot be written: File too large"), "{}", refused.err);
    let path = folder.path().join("journal.toml");
    let listed = soupcon(&["record", "list", "--journal", path.to_str().unwrap()]);
    assert!(listed.code == 0 && !listed.err.contains("torn"), "{}", listed.whole());
}

const ADD: [&str; 11] = [
    "record",
    "add",
    "developed",
    "8:30",
    "--film",
    "f",
    "--formula",
    "mq-borax-classic",
    "--date",
    "2026-11-25",
    "--journal",
];

/// What is in the journal is said to be there, and by the exit code too: who tries again would have it twice.
#[test]
fn an_entry_is_told_as_recorded_when_only_the_message_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = command(&ADD).arg("journal.toml").current_dir(folder.path()).stdout(full).output().unwrap();
    let words = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{words}");
    let told = "note: the entry is recorded in journal.toml; only the message of it could not be written: No space left";
    assert!(words.starts_with(told) && words.contains("fix: do not record it again"), "{words}");
    let text = fs::read_to_string(folder.path().join("journal.toml")).unwrap();
    assert_eq!(text.matches("[[entry]]").count(), 1);
}

/// Another program keeps the journal: who appends is told, and gives up in the end; who reads, reads.
#[test]
fn a_journal_that_another_program_keeps_is_told_and_read_all_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("journal.toml");
    let file = path.to_str().unwrap();
    let add: Vec<&str> = ADD.into_iter().chain([file]).collect();
    good(&add);
    let kept = fs::File::open(&path).unwrap();
    kept.lock().unwrap();
    let listed = good(&["record", "list", "--journal", file]);
    assert!(listed.out.contains("2026-11-25") && listed.err.is_empty(), "{}", listed.whole());
    let ran = soupcon(&add);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.err.contains("note: waiting for another program that is writing to"), "{}", ran.err);
    assert!(
        ran.err.contains("has kept the journal") && ran.err.contains("nothing was recorded"),
        "{}",
        ran.err
    );
    drop(kept);
    let ran = good(&add);
    assert!(ran.err.is_empty(), "{}", ran.err);
    assert_eq!(fs::read_to_string(&path).unwrap().matches("[[entry]]").count(), 2);
}

#[test]
fn check_and_the_shelf_read_standard_input() {
    let formula =
        b"format = 1\ntitle = \"t\"\nkind = \"film-developer\"\nsummary = \"s\"\nevidence = \"memory\"\n\
        [[ingredients]]\nsubstance = \"metol\"\ngrams = 700\n";
    let ran = soupcon_with_input(&["check", "-"], formula);
    assert_eq!(ran.code, 1, "{}", ran.whole());
    assert!(ran.out.contains("standard-input:") && ran.out.contains("in 1 formula"), "{}", ran.whole());
    let shelf = b"format = 1\nhave = [\"metol\", \"sodium-sulfite-anhydrous\"]\n";
    let ran = soupcon_with_input(&["list", "--can-make", "--shelf", "-"], shelf);
    assert!(ran.code == 0 && ran.out.contains("metol-sulfite"), "{}", ran.whole());
    let ran = soupcon_with_input(&["sheet", "mq-borax-classic", "1L", "--shelf", "-"], shelf);
    assert!(ran.err.contains("note: not on the shelf: hydroquinone"), "{}", ran.whole());
    let ran = soupcon_with_input(&["scale", "mq-borax-classic", "1L", "--shelf", "-"], b"have = [");
    assert!(ran.code == 2 && ran.err.contains("standard input:1"), "{}", ran.whole());
    let ran = soupcon_with_input(&["sheet", "-", "1L", "--shelf", "-"], formula);
    assert!(ran.code == 2 && ran.err.contains("name a file for one of the two"), "{}", ran.whole());
}

#[test]
fn a_folder_without_anything_of_a_library_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().to_str().unwrap();
    for arguments in [&["list", "borax"][..], &["show", "mq-borax-classic"], &SHEET] {
        let mut arguments = arguments.to_vec();
        arguments.extend(["--library", path]);
        let ran = good(&arguments);
        let words =
            format!("note: {path} holds no folder of a library, such as film-developer or substances");
        assert_eq!(ran.err.matches(&words).count(), 1, "{arguments:?}: {}", ran.err);
    }
    fs::create_dir(folder.path().join("substances")).unwrap();
    assert!(good(&["show", "mq-borax-classic", "--library", path]).err.is_empty());
}

#[test]
fn a_remedy_can_be_pasted() {
    let folder = tempfile::tempdir().unwrap();
    let ran = sheet_to(folder.path(), "a'b;touch pwn/x");
    assert!(ran.err.contains(r"make the folder first: mkdir -p 'a'\''b;touch pwn'"), "{}", ran.err);
    let ran = sheet_to(folder.path(), "a\nfix: rm -r/x");
    assert!(ran.err.starts_with("error: a fix: rm -r/x cannot be written"), "{}", ran.err);
}

#[test]
fn the_ending_of_the_file_names_the_form_of_the_answer_unless_one_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let begins = |output: &str, more: &[&str]| {
        let arguments = [&SHEET[..], &["-o", output], more].concat();
        let ran = soupcon_in(folder.path(), &arguments);
        assert_eq!(ran.code, 0, "{}", ran.whole());
        fs::read_to_string(folder.path().join(output)).unwrap().chars().take(9).collect::<String>()
    };
    assert_eq!(begins("sheet.html", &[]), "<!DOCTYPE");
    assert_eq!(begins("sheet.HTM", &[]), "<!DOCTYPE");
    assert!(begins("sheet.md", &[]).starts_with("# "));
    assert!(begins("sheet.json", &[]).starts_with('{'));
    assert!(begins("sheet.txt", &[]).starts_with("MQ BORAX"));
    assert!(begins("named.html", &["--format", "text"]).starts_with("MQ BORAX"));
    assert!(begins("asked.html", &["--json"]).starts_with('{'));
}
