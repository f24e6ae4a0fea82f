//! Random and mutated input for every reader, in an own loop on the stable toolchain.
//!
//! The ordinary tests run some thousands of cases a target. The long run:
//! `SOUPCON_FUZZ_CASES=2000000 CARGO_PROFILE_TEST_OPT_LEVEL=2 cargo test --test suite fuzz:: -- --ignored --nocapture`.
//! Half of the cases come from proptest strategies, half are shipped texts with bytes flipped, lines left out, doubled or exchanged,
//! and tokens put in place of others. Checked: no panic, a bounded time a case, every mistake told with its line and a remedy, and
//! whatever is accepted can also be scaled, ordered and printed. The generator is seeded (`SOUPCON_FUZZ_SEED`), so a run can be
//! repeated; the input at fault is printed.

mod long;
mod targets;
mod tokens;

use targets::{
    chemical_formula_target, command_line_target, configuration_target, dilution_target, formula_target,
    journal_target, many, quantity_target, shelf_target, substance_target,
};
use tokens::{LONGEST, Random, mutated};

use crate::common::shipped::{Tables, tables};
use proptest::strategy::{BoxedStrategy, Strategy as _, ValueTree as _};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use soupcon::cli::{Environment, Streams, run};
use soupcon::configuration::Configuration;
use soupcon::diagnostic::{Finding, is_hostile};
use soupcon::formula::Formula;
use soupcon::journal::{Date, Journal};
use soupcon::library::Library;
use soupcon::quantity::{self, Mass, MixRatio, Strength, Temperature, Volume, parse_historical_mass};
use soupcon::scale::{Request, scale};
use soupcon::sequence;
use soupcon::sheet::sheet;
use soupcon::substance::Substance;
use soupcon::substance::chemical_formula::ChemicalFormula;
use std::collections::BTreeMap;
use std::time::{Duration, Instant};

/// What a reader made of a case.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Verdict {
    Accepted,
    Refused,
}

/// Prints the case if checking it panics.
struct Witness<'c> {
    target: &'c str,
    case: &'c [u8],
}

impl Drop for Witness<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("{}: fell over {:?}", self.target, String::from_utf8_lossy(self.case));
        }
    }
}

/// What a target makes of one case.
type Check<'t> = Box<dyn FnMut(&[u8]) -> Verdict + 't>;

/// One thing to be fuzzed.
struct Target<'t> {
    name: &'static str,
    seeds: Vec<Vec<u8>>,
    strategies: Vec<BoxedStrategy<String>>,
    check: Check<'t>,
}

impl Target<'_> {
    fn run(mut self, cases: usize) {
        let seed =
            std::env::var("SOUPCON_FUZZ_SEED").ok().and_then(|text| text.parse().ok()).unwrap_or(20_261_125);
        let mut random = Random(seed);
        let bytes: Vec<u8> = (0..4).flat_map(|_| random.next().to_le_bytes()).collect();
        let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
        let mut runner = TestRunner::new_with_rng(Config::default(), rng);
        let (mut accepted, mut slowest) = (0_usize, Duration::ZERO);
        let started = Instant::now();
        for round in 0..cases {
            let case = if self.strategies.is_empty() || round % 2 == 0 {
                let seed = random.below(self.seeds.len());
                mutated(&self.seeds[seed], &self.seeds, &mut random)
            } else {
                let which = random.below(self.strategies.len());
                self.strategies[which].new_tree(&mut runner).unwrap().current().into_bytes()
            };
            let _witness = Witness { target: self.name, case: &case };
            let before = Instant::now();
            if (self.check)(&case) == Verdict::Accepted {
                accepted += 1;
            }
            let took = before.elapsed();
            assert!(took < LONGEST, "a case took {took:?}");
            slowest = slowest.max(took);
        }
        println!(
            "{}: {cases} cases, {accepted} accepted, slowest {} µs, {} s in all",
            self.name,
            slowest.as_micros(),
            started.elapsed().as_secs()
        );
    }
}

#[test]
fn some_thousand_cases_of_every_target() {
    formula_target().run(3000);
    substance_target().run(2000);
    quantity_target().run(10_000);
    dilution_target().run(10_000);
    chemical_formula_target().run(10_000);
    journal_target().run(4000);
    configuration_target().run(10_000);
    shelf_target().run(150);
    command_line_target().run(400);
}
