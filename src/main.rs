//! The program `soupcon`: arguments, streams and environment in, exit code out. Everything happens in the library.

use std::io::{self, BufWriter, IsTerminal as _};
use std::process::ExitCode;

use soupcon::cli::{Environment, Streams, run};

fn main() -> ExitCode {
    // A limit on the size of files then fails the one write, which is told, instead of ending the program in the middle of it. That
    // the signal came need not be looked at.
    #[cfg(unix)]
    let _ = signal_hook::flag::register(signal_hook::consts::SIGXFSZ, std::sync::Arc::default());
    let environment = Environment {
        variables: std::env::vars_os()
            .filter_map(|(name, value)| Some((name.into_string().ok()?, value)))
            .collect(),
        out_is_terminal: io::stdout().is_terminal(),
        input_is_terminal: io::stdin().is_terminal(),
        terminal_columns: terminal_size::terminal_size_of(io::stdout()).map(|(width, _)| width.0.into()),
    };
    let mut out = BufWriter::new(io::stdout().lock());
    let mut err = io::stderr().lock();
    let mut input = io::stdin().lock();
    let mut streams = Streams { out: &mut out, err: &mut err, input: &mut input };
    ExitCode::from(run(&std::env::args_os().collect::<Vec<_>>(), &mut streams, &environment))
}
