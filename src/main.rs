//! The program: runs the command line and sets the exit code.

use panelwright::cli::{self, Exit};
use std::process::ExitCode;

fn main() -> ExitCode {
    // A panic is our own fault, never the user's: say so, with what a report needs.
    std::panic::set_hook(Box::new(|info| {
        let place = info.location().map(|l| format!(" ({}:{})", l.file(), l.line())).unwrap_or_default();
        let payload = info.payload();
        let what = match (payload.downcast_ref::<&str>(), payload.downcast_ref::<String>()) {
            (Some(s), _) => (*s).to_string(),
            (None, Some(s)) => s.clone(),
            (None, None) => String::new(),
        };
        eprintln!(
            "panelwright: internal fault{place}: {what}\n\
             This is a fault of the program, not of your file; no file was half-written. Please report it with the file that caused it."
        );
    }));
    let exit = std::panic::catch_unwind(|| cli::run(std::env::args_os().collect())).unwrap_or(Exit::OurFault);
    ExitCode::from(exit as u8)
}
