//! A line of progress on the terminal for what takes over a second; nothing anywhere else.

use std::io::{IsTerminal, Write, stderr};
use std::time::{Duration, Instant};

/// Nothing is shown before this has passed.
const QUIET: Duration = Duration::from_secs(1);

/// Counts steps and shows them on standard error, if that is a terminal.
pub struct Progress {
    began: Instant,
    total: usize,
    shown: bool,
}

impl Progress {
    /// So many steps are to come.
    pub fn new(total: usize) -> Progress {
        Progress { began: Instant::now(), total, shown: false }
    }

    /// Step number `step` begins.
    pub fn step(&mut self, step: usize, what: &str) {
        if self.began.elapsed() > QUIET && stderr().is_terminal() {
            self.shown = true;
            eprint!("\r\x1b[K{} {step} of {}: {what}", bar(step, self.total), self.total);
            // a terminal that is gone is no reason to stop
            let _ = stderr().flush();
        }
    }
}

/// Signs that a bar is long.
const LONG: usize = 20;

/// What is done, as a bar.
fn bar(step: usize, total: usize) -> String {
    let done = (LONG as f64 * step as f64 / total.max(1) as f64).min(LONG as f64) as usize;
    format!("[{}{}]", "#".repeat(done), "-".repeat(LONG - done))
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown {
            eprint!("\r\x1b[K");
        }
    }
}
