//! Broken and malicious input that needs a stream, a folder or a program to make: each ends soon, without a panic, with what is wrong,
//! where, and how to mend it. One file per plain mistake lies in `refused/`.

mod markup;
mod surroundings;
mod texts;

use crate::common::Ran;
use std::fs;
use std::io::{Read as _, Write as _};
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::{Duration, Instant};

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
