//! Ctrl-C asks a long search to stop and to keep what it has; a second one ends the program at once.

use std::sync::atomic::{AtomicBool, Ordering};

static PRESSED: AtomicBool = AtomicBool::new(false);

/// The exit code of a program that was interrupted, by common shells: 128 and the number of the signal.
const INTERRUPTED: i32 = 130;

/// From now on Ctrl-C is taken note of. Where that cannot be had, Ctrl-C ends the program as ever.
pub fn listen() {
    let note = || {
        if PRESSED.swap(true, Ordering::Relaxed) {
            std::process::exit(INTERRUPTED);
        }
    };
    // without a handler the search still stops at its count of moves
    let _ = ctrlc::set_handler(note);
}

/// Whether it was pressed.
pub fn pressed() -> bool {
    PRESSED.load(Ordering::Relaxed)
}
