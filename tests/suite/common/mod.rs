//! Runs the program as a user would, in surroundings that never vary.
#![allow(dead_code, reason = "each test file uses a part of it")]

pub(crate) mod schema;
pub(crate) mod shipped;

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::sync::{Mutex, OnceLock, PoisonError};

use soupcon::cli::{Environment, Streams, run};

/// What a run gave.
#[derive(Debug)]
pub(crate) struct Ran {
    /// Exit code.
    pub(crate) code: i32,
    /// Standard output.
    pub(crate) out: String,
    /// Standard error.
    pub(crate) err: String,
}

impl Ran {
    /// Output, error and code as one text for a snapshot.
    pub(crate) fn whole(&self) -> String {
        format!("exit {}\n--- output\n{}--- error\n{}", self.code, self.out, self.err)
    }

    /// The output as JSON; null where there is none.
    pub(crate) fn json_or_null(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_default()
    }

    /// The output as JSON.
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}\n{}", self.out, self.err))
    }
}

impl From<Output> for Ran {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).expect("output is UTF-8"),
            err: String::from_utf8(output.stderr).expect("errors are UTF-8"),
        }
    }
}

/// The program with a clean environment: no home, 80 columns.
pub(crate) fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_soupcon"));
    command.env_clear().env("COLUMNS", "80").args(arguments).stdin(Stdio::null());
    command
}

/// Runs a command in this process: some hundred runs would take long as processes.
pub(crate) fn in_process(arguments: &[&str]) -> Ran {
    let arguments: Vec<OsString> = ["soupcon"].iter().chain(arguments).map(OsString::from).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut streams = Streams { out: &mut out, err: &mut err, input: &mut std::io::empty() };
    let code = run(&arguments, &mut streams, &Environment::default()).into();
    Ran { code, out: String::from_utf8(out).unwrap(), err: String::from_utf8(err).unwrap() }
}

/// What the program answers of the shipped library: worked out once for all the tests that ask the same.
pub(crate) fn answer(arguments: &[&str]) -> &'static Ran {
    type Answers = BTreeMap<String, &'static OnceLock<Ran>>;
    static ANSWERS: Mutex<Answers> = Mutex::new(BTreeMap::new());
    let place = *ANSWERS
        .lock()
        .unwrap_or_else(PoisonError::into_inner)
        .entry(arguments.join("\n"))
        .or_insert_with(|| Box::leak(Box::default()));
    place.get_or_init(|| in_process(arguments))
}

/// Runs the program.
pub(crate) fn soupcon(arguments: &[&str]) -> Ran {
    command(arguments).output().expect("the program starts").into()
}

/// Runs it in a folder.
pub(crate) fn soupcon_in(folder: &Path, arguments: &[&str]) -> Ran {
    command(arguments).current_dir(folder).output().expect("the program starts").into()
}

/// Runs it with text on standard input.
pub(crate) fn soupcon_with_input(arguments: &[&str], input: &[u8]) -> Ran {
    let mut child = command(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // The program may refuse before it has read everything.
    let _ = child.stdin.take().expect("a pipe").write_all(input);
    child.wait_with_output().expect("the program ends").into()
}

/// Runs it and wants exit 0.
pub(crate) fn good(arguments: &[&str]) -> Ran {
    let ran = soupcon(arguments);
    assert_eq!(ran.code, 0, "{arguments:?} failed:\n{}", ran.whole());
    ran
}

/// A formula of one's own, in one part and used as it is, in a folder; the words that name it on the command line.
pub(crate) fn own_formula(folder: &tempfile::TempDir, kind: &str, contents: &[(&str, &str)]) -> String {
    let rows: String = contents
        .iter()
        .map(|(id, amount)| format!("\n[[ingredients]]\nsubstance = \"{id}\"\n{amount}\n"))
        .collect();
    let head = format!(
        "format = 1\ntitle = \"T\"\nkind = \"{kind}\"\nsummary = \"s\"\nevidence = \"memory\"\n\n[[use]]\nname = \"normal\"\nbaths = [{{ stock = 1 }}]\n"
    );
    let path = folder.path().join("own.toml");
    std::fs::write(&path, head + &rows).unwrap();
    path.to_str().unwrap().to_owned()
}

/// A library in a folder of its own.
pub(crate) fn library(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (path, text) in files {
        let path = folder.path().join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    folder
}

/// A command with that library.
pub(crate) fn with_library(folder: &Path, arguments: &[&str]) -> Ran {
    soupcon(&[arguments, &["--library", folder.to_str().unwrap()]].concat())
}
