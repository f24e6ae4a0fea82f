//! How long the commonest commands take, against the smallest program of the same language run in turn with each.
//!
//! `cargo test --release --test suite speed:: -- --ignored --nocapture` prints the table. Wall times are medians of pairs, so that a busy
//! machine slows both halves of a pair alike; the ratio is the median of the pairs' ratios. Nothing here fails on a slow machine but
//! what would be slow on any: a list that does not grow linearly.
#![allow(clippy::cast_precision_loss, reason = "counts and bytes far below the limit")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

use soupcon::library::Library;
use soupcon::quantity::Volume;
use soupcon::scale::exchange::Relations;
use soupcon::scale::{Request, scale};
use soupcon::sequence;

/// Pairs of runs a command.
fn pairs() -> usize {
    std::env::var("SOUPCON_SPEED_PAIRS").ok().and_then(|text| text.parse().ok()).unwrap_or(101)
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Microseconds of one whole run.
fn run_us(program: &Path, arguments: &[&str], folder: &Path) -> f64 {
    let mut command = Command::new(program);
    command
        .args(arguments)
        .current_dir(folder)
        .env_clear()
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let started = Instant::now();
    let status = command.status().unwrap();
    let took = started.elapsed().as_secs_f64() * 1e6;
    // 1 is an answer too: a bottle is out.
    assert!(matches!(status.code(), Some(0 | 1)), "{} {arguments:?}", program.display());
    took
}

/// Medians of a program, of the other run in turn with it, and of the ratio.
fn side_by_side((program, arguments): (&Path, &[&str]), other: &Path, folder: &Path) -> (f64, f64, f64) {
    run_us(program, arguments, folder);
    let mut times = Vec::new();
    for _ in 0..pairs() {
        times.push((run_us(program, arguments, folder), run_us(other, &[], folder)));
    }
    (
        median(times.iter().map(|pair| pair.0).collect()),
        median(times.iter().map(|pair| pair.1).collect()),
        median(times.iter().map(|pair| pair.0 / pair.1).collect()),
    )
}

/// The smallest program, optimised as this one is.
fn hello_world(folder: &Path) -> PathBuf {
    let (source, program) = (folder.join("hello.rs"), folder.join("hello"));
    fs::write(&source, "fn main() { println!(\"Hello, world!\"); }\n").unwrap();
    let flags =
        ["-O", "-C", "lto=fat", "-C", "codegen-units=1", "-C", "panic=abort", "-C", "strip=symbols", "-o"];
    assert!(Command::new("rustc").args(flags).args([&program, &source]).status().unwrap().success());
    program
}

/// A library of so many own formulas.
fn own_library(root: &Path, count: usize) -> PathBuf {
    let library = root.join(format!("library-{count}"));
    let folder = library.join("film-developer");
    fs::create_dir_all(&folder).unwrap();
    let text =
        Library::shipped_files().iter().find(|(path, _)| path.ends_with("/mq-borax-classic.toml")).unwrap().1;
    for index in 0..count {
        fs::write(folder.join(format!("own-{index:05}.toml")), text).unwrap();
    }
    library
}

/// A year of a busy shared darkroom, many times over: entries of every kind that touches a bottle, as the program writes them.
fn journal_of(entries: usize) -> String {
    let mut text = String::from("# Darkroom journal.\n");
    for index in 0..entries {
        let bottle = format!("D{}", index / 50 % 400);
        let date =
            format!("20{:02}-{:02}-{:02}", 10 + index * 16 / entries, 1 + index / 30 % 12, 1 + index % 28);
        let own = match index % 10 {
            0 => format!(
                "kind = \"mixed\"\ndate = \"{date}\"\nformula = \"mq-borax-classic\"\nvolume_ml = 1000\nbottles = [\"{bottle}\"]\nvolumes_ml = [1000]\ntaken = [\"metol 2 g\", \"sodium-sulfite-anhydrous 100 g\", \"hydroquinone 5 g\", \"borax-decahydrate 2 g\"]\nby = \"A\"\n"
            ),
            1..=6 => format!(
                "kind = \"developed\"\ndate = \"{date}\"\nfilm = \"the 400 film\"\nformula = \"mq-borax-classic\"\ndilution = \"stock\"\ncelsius = 20.5\nagitation = \"inversion\"\nminutes = 8.5\nfilms = \"2x135-36\"\nrolls = [\"R-{index}\", \"R-{index}b\"]\nbottles = [\"{bottle}\"]\ndrawn_ml = [600]\nreturned_ml = [590]\nby = \"B\"\n"
            ),
            7 => format!(
                "kind = \"judged\"\ndate = \"{date}\"\nroll = \"R-{}\"\nshadows = \"right\"\nhighlights = \"flat\"\n",
                index - 1
            ),
            8 => format!(
                "kind = \"replenished\"\ndate = \"{date}\"\nbottle = \"{bottle}\"\nformula = \"mq-borax-classic\"\nvolume_ml = 44\n"
            ),
            _ => format!("kind = \"count\"\ndate = \"{date}\"\nbottle = \"{bottle}\"\nfilms = 3\n"),
        };
        text.push_str(&format!("\n[[entry]]\nversion = 1\n{own}end = true\n"));
    }
    text
}

#[test]
#[ignore = "a benchmark: run it in release, by itself"]
fn bottles_of_a_long_journal() {
    let folder = tempfile::tempdir().unwrap();
    let soupcon = Path::new(env!("CARGO_BIN_EXE_soupcon"));
    println!("{:<44} {:>9}", "bottles, entries in the journal", "ms");
    for count in [1000, 10_000, 100_000] {
        let journal = folder.path().join(format!("journal-{count}.toml")).display().to_string();
        fs::write(&journal, journal_of(count)).unwrap();
        let arguments = ["bottles", "--date", "2026-12-28", "--journal", &journal];
        let ms = median((0..9).map(|_| run_us(soupcon, &arguments, folder.path())).collect()) / 1000.0;
        println!("{count:<44} {ms:>9.1}");
        assert!(count < 100_000 || ms < 300.0, "{ms} ms for {count} entries");
    }
}

#[test]
#[ignore = "a benchmark: run it in release, by itself"]
fn start_up_list_and_computation() {
    let folder = tempfile::tempdir().unwrap();
    let hello = hello_world(folder.path());
    let soupcon = Path::new(env!("CARGO_BIN_EXE_soupcon"));
    println!("binary: {} kB", fs::metadata(soupcon).unwrap().len() / 1024);
    println!("{:<44} {:>9} {:>9} {:>7}", "command", "µs", "hello µs", "ratio");
    for arguments in [
        vec!["--version"],
        vec!["--help"],
        vec!["list"],
        vec!["list", "borax", "--json"],
        vec!["list", "--with", "metol"],
        vec!["show", "mq-borax-classic"],
        vec!["scale", "mq-borax-classic", "500ml"],
        vec!["sheet", "mq-borax-classic", "500ml"],
        vec!["sheet", "mq-borax-classic", "500ml", "--format", "html"],
        vec!["substance", "metol"],
        vec!["substance"],
        vec!["dilute", "1+3", "1L"],
        vec!["safety", "mq-borax-classic", "acetic-acid-stop-bath", "plain-thiosulfate-fixer"],
    ] {
        let (own, other, ratio) = side_by_side((soupcon, &arguments), &hello, folder.path());
        println!("{:<44} {own:>9.0} {other:>9.0} {ratio:>7.2}", arguments.join(" "));
    }
    let units = Path::new("/usr/bin/units");
    if units.exists() {
        let (own, other, ratio) = side_by_side((units, &["-t", "2 floz", "ml"]), &hello, folder.path());
        println!("{:<44} {own:>9.0} {other:>9.0} {ratio:>7.2}", "(the units calculator, for comparison)");
    }

    println!("\n{:<44} {:>9} {:>14}", "list with own formulas", "ms", "µs a formula");
    let empty = median((0..15).map(|_| run_us(soupcon, &["list"], folder.path())).collect());
    let mut each = Vec::new();
    for count in [10, 100, 1000, 10_000] {
        let library = own_library(folder.path(), count).display().to_string();
        let runs = if count > 1000 { 5 } else { 15 };
        let listed = |arguments: &[&str]| {
            median((0..runs).map(|_| run_us(soupcon, arguments, folder.path())).collect())
        };
        let all = listed(&["--library", &library, "list"]);
        each.push((all - empty) / count as f64);
        println!("{count:<44} {:>9.1} {:>14.1}", all / 1000.0, each[each.len() - 1]);
        if count == 10_000 {
            let one = listed(&["--library", &library, "show", "own-09999"]);
            println!("{:<44} {:>9.1}", "show one of 10,000", one / 1000.0);
        }
    }
    assert!(
        each[3] < 2.5 * each[2],
        "a list of ten times the formulas takes more than ten times as long: {each:?}"
    );

    println!("\n{:<44} {:>9}", "in the process, one formula", "µs");
    let library = Library::shipped();
    let formula = library.formula("mq-borax-classic").unwrap().formula;
    let relations = Relations::parse(library.table("exchanges.toml").unwrap(), "exchanges.toml").unwrap();
    let timed = |work: &dyn Fn()| {
        let rounds = 200;
        median(
            (0..31)
                .map(|_| {
                    let started = Instant::now();
                    (0..rounds).for_each(|_| work());
                    started.elapsed().as_secs_f64() * 1e6 / f64::from(rounds)
                })
                .collect(),
        )
    };
    let request = Request::volume(Volume::from_ml(500.0));
    let parse = timed(&|| drop(Library::shipped().formula("mq-borax-classic").unwrap()));
    let weigh = timed(&|| drop(scale(&formula, &request, &relations).unwrap()));
    let order = timed(&|| {
        let batch = scale(&formula, &request, &relations).unwrap();
        for (part, source) in batch.parts.iter().zip(&formula.parts) {
            drop(sequence::plan(part, source, batch.balance).unwrap());
        }
    });
    for (what, us) in
        [("read it and its substances", parse), ("scale", weigh), ("scale and put in order", order)]
    {
        println!("{what:<44} {us:>9.1}");
    }
}
