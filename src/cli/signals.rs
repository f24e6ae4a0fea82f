//! Ctrl-C, a request to end and a terminal that is closed, held back while a file is being written.

#[cfg(unix)]
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
#[cfg(unix)]
use std::sync::{Arc, OnceLock};

#[cfg(unix)]
use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};

/// What the handlers look at, for the whole life of the process.
#[cfg(unix)]
struct Signals {
    /// Whether a signal ends the program at once.
    is_free: Arc<AtomicBool>,
    /// The last signal that came, or 0.
    seen: Arc<AtomicUsize>,
}

/// The handlers, set with the first file: a program that writes none is ended by the system as ever.
#[cfg(unix)]
fn signals() -> Option<&'static Signals> {
    static SIGNALS: OnceLock<Option<Signals>> = OnceLock::new();
    let set = || -> std::io::Result<Signals> {
        let signals = Signals { is_free: Arc::new(AtomicBool::new(true)), seen: Arc::default() };
        for signal in [SIGINT, SIGTERM, SIGHUP] {
            let number = usize::try_from(signal).unwrap_or_default();
            signal_hook::flag::register_usize(signal, Arc::clone(&signals.seen), number)?;
            signal_hook::flag::register_conditional_default(signal, Arc::clone(&signals.is_free))?;
        }
        Ok(signals)
    };
    SIGNALS.get_or_init(|| set().ok()).as_ref()
}

/// Does a short work to its end; a signal that comes meanwhile ends the program afterwards.
#[cfg(unix)]
pub(super) fn after<T>(work: impl FnOnce() -> T) -> T {
    let Some(signals) = signals() else { return work() };
    signals.is_free.store(false, Ordering::SeqCst);
    let done = work();
    signals.is_free.store(true, Ordering::SeqCst);
    let seen = i32::try_from(signals.seen.load(Ordering::SeqCst)).unwrap_or_default();
    if seen != 0 {
        // Returns only where the system does not know the signal.
        let _ = signal_hook::low_level::emulate_default_handler(seen);
    }
    done
}

#[cfg(not(unix))]
pub(super) fn after<T>(work: impl FnOnce() -> T) -> T {
    work()
}
