//! `--watch`: runs a command again whenever a file beside the panel is saved.

use crate::cli::Exit;
use crate::cli::common::Failure;
use notify_debouncer_full::notify::{EventKind, RecursiveMode};
use notify_debouncer_full::{DebounceEventResult, new_debouncer};
use std::path::Path;
use std::sync::mpsc;
use std::time::Duration;

/// Runs `once`, then again after each save of a `.json` or `.svg` file in the panel's folder. The folder is watched,
/// not the file, because editors replace a file when they save it.
pub fn repeat(path: &str, mut once: impl FnMut() -> Result<Exit, Failure>) -> Result<Exit, Failure> {
    let folder = match Path::new(path).parent() {
        Some(p) if !p.as_os_str().is_empty() => p.to_path_buf(),
        _ => Path::new(".").to_path_buf(),
    };
    let (sender, receiver) = mpsc::channel::<DebounceEventResult>();
    let mut debouncer = new_debouncer(Duration::from_millis(80), None, sender)
        .map_err(|e| Failure::Sentence(format!("cannot watch {}: {e}", folder.display())))?;
    debouncer
        .watch(&folder, RecursiveMode::NonRecursive)
        .map_err(|e| Failure::Sentence(format!("cannot watch {}: {e}", folder.display())))?;
    loop {
        if let Err(f) = once() {
            anstream::eprint!("{}", f.text());
        }
        anstream::eprintln!("watching {} (interrupt to end)", folder.display());
        loop {
            let Ok(result) = receiver.recv() else { return Ok(Exit::Clean) };
            let Ok(events) = result else { continue };
            // reads are reported too: our own must not wake us
            let saved = events.iter().any(|e| {
                !matches!(e.kind, EventKind::Access(_))
                    && e.paths.iter().any(|p| p.extension().is_some_and(|x| x == "json" || x == "svg"))
            });
            if saved {
                break;
            }
        }
    }
}
