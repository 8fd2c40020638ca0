//! `--watch`: runs a command again whenever a file that it reads is saved.

use crate::cli::Exit;
use crate::cli::common::Failure;
use crate::cli::reading;
use clap::ArgMatches;
use notify_debouncer_full::notify::{EventKind, RecursiveMode};
use notify_debouncer_full::{DebounceEventResult, new_debouncer};
use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::time::Duration;

/// What is watched: single files, each by its folder and name, and whole folders of definitions.
struct Watched {
    files: BTreeSet<PathBuf>,
    folder: Option<PathBuf>,
}

impl Watched {
    /// Everything that the panel is read from: its own file, those it builds on or names, the user's
    /// folder of instruments.
    fn of(path: &str, m: &ArgMatches) -> Watched {
        let (_, asked) = reading::panel(path, m);
        let own = m.try_get_one::<PathBuf>("instruments").ok().flatten();
        Watched {
            files: asked.iter().map(|name| whole(Path::new(name))).collect(),
            folder: own.map(|folder| whole(folder)),
        }
    }

    /// The folders to look at. They are watched, not the files, because editors replace a file when they
    /// save it, and a file may not be there yet.
    fn folders(&self) -> BTreeSet<(PathBuf, bool)> {
        let files = self.files.iter().filter_map(|f| Some((f.parent()?.to_path_buf(), false)));
        files.chain(self.folder.iter().map(|f| (f.clone(), true))).filter(|(f, _)| f.is_dir()).collect()
    }

    fn has(&self, path: &Path) -> bool {
        let path = whole(path);
        let json = path.extension() == Some(OsStr::new("json"));
        self.files.contains(&path) || json && self.folder.as_ref().is_some_and(|f| path.starts_with(f))
    }
}

/// A path with its folder as the disk knows it, so that one file has one name.
fn whole(path: &Path) -> PathBuf {
    if let Ok(known) = path.canonicalize() {
        return known;
    }
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."));
    match (folder.canonicalize(), path.file_name()) {
        (Ok(folder), Some(name)) => folder.join(name),
        _ => path.to_path_buf(),
    }
}

/// Runs `once`, then again after each save of a file that the panel at `path` is read from.
pub fn repeat(
    path: &str,
    m: &ArgMatches,
    mut once: impl FnMut() -> Result<Exit, Failure>,
) -> Result<Exit, Failure> {
    if path == reading::INPUT {
        return Err(Failure::Sentence("the standard input cannot be watched: name a file".into()));
    }
    let (sender, receiver) = mpsc::channel::<DebounceEventResult>();
    let mut debouncer = new_debouncer(Duration::from_millis(80), None, sender)
        .map_err(|e| Failure::Sentence(format!("cannot watch {path}: {e}")))?;
    let mut known: BTreeSet<(PathBuf, bool)> = BTreeSet::new();
    loop {
        // a save while the command runs is seen: the folders are watched before
        let watched = Watched::of(path, m);
        for (folder, deep) in watched.folders() {
            let mode = if deep { RecursiveMode::Recursive } else { RecursiveMode::NonRecursive };
            if known.insert((folder.clone(), deep)) {
                debouncer
                    .watch(&folder, mode)
                    .map_err(|e| Failure::Sentence(format!("cannot watch {}: {e}", folder.display())))?;
            }
        }
        if let Err(f) = once() {
            f.tell(m);
        }
        let n = watched.files.len();
        anstream::eprintln!("watching {n} file{} (interrupt to end)", if n == 1 { "" } else { "s" });
        loop {
            let Ok(result) = receiver.recv() else { return Ok(Exit::Clean) };
            let Ok(events) = result else { continue };
            // reads are reported too: our own must not wake us
            let saved = events
                .iter()
                .any(|e| !matches!(e.kind, EventKind::Access(_)) && e.paths.iter().any(|p| watched.has(p)));
            if saved {
                break;
            }
        }
    }
}
