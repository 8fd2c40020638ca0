//! A panel file with the files that it builds on.

use crate::define::{self, Panel};
use crate::diag::{Problem, Problems};
use crate::files::{Files, beside};
use std::sync::Arc;

/// Longest chain of files.
const MOST_FILES: usize = 50;

/// One file of a chain.
pub(super) struct ReadFile {
    pub text: Arc<str>,
    pub def: Panel,
}

impl ReadFile {
    /// Its name, without detours.
    pub fn name(&self) -> String {
        normal(&self.def.span.file)
    }
}

/// Reads a panel file and all that it builds on; the one at the bottom comes first. `None` when one
/// of them could not be read at all; what is wrong is told.
pub(super) fn read(path: &str, files: &dyn Files, problems: &mut Problems) -> Option<Vec<ReadFile>> {
    let mut chain: Vec<ReadFile> = Vec::new();
    let mut names = vec![normal(path)];
    let mut next = match files.read(path) {
        Ok(text) => text,
        Err(p) => {
            let help = p.help.clone().unwrap_or_else(|| {
                "check the name and the folder; `panelwright new FILE` writes a starter".to_string()
            });
            problems.push(p.help(help));
            return None;
        }
    };
    let mut name = path.to_string();
    loop {
        let def = define::read_panel(&name, &next, problems)?;
        let below = def.builds_on.clone();
        chain.push(ReadFile { text: next, def });
        let Some(below) = below else { break };
        let file = beside(&name, &below.value);
        if file.is_empty() {
            let message = format!("\"builds-on\" names a folder, no file: \"{}\"", below.value);
            let help = "write the name of the panel file that this one changes";
            problems.push(Problem::new("no-file", &below.place, message).help(help));
            return None;
        }
        let key = normal(&file);
        if let Some(first) = names.iter().position(|n| *n == key) {
            let mut ring: Vec<&str> = names.iter().skip(first).map(String::as_str).collect();
            ring.push(&key);
            let message = format!("these files build on each other in a ring: {}", ring.join(", "));
            let help = "one of them stands for itself: give it its own \"sheet\" instead of \"builds-on\"";
            problems.push(Problem::new("ring-of-files", &below.place, message).help(help));
            return None;
        }
        if names.len() >= MOST_FILES {
            let message = format!("more than {MOST_FILES} files build on one another");
            problems
                .push(Problem::new("long-chain", &below.place, message).help("put some of them together"));
            return None;
        }
        match files.read(&file) {
            Ok(text) => next = text,
            Err(p) => {
                let help = "the name is taken from the folder of the file that says it";
                let help = p.help.clone().unwrap_or_else(|| help.to_string());
                let place = p.place.clone().or(Some(below.place.clone()));
                problems.push(Problem { place, ..p }.help(help));
                return None;
            }
        }
        names.push(key);
        name = file;
    }
    chain.reverse();
    Some(chain)
}

/// A name without `.` and without `..` behind a folder's name.
pub(super) fn normal(path: &str) -> String {
    beside("", path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_taken_from_the_folder_of_the_file_that_says_them() {
        for (file, name, want) in [
            ("panels/a/new.json", "old.json", "panels/a/old.json"),
            ("panels/a/new.json", "../b/old.json", "panels/b/old.json"),
            ("new.json", "./old.json", "old.json"),
            ("new.json", "../old.json", "../old.json"),
            ("../x/new.json", "../old.json", "../old.json"),
            ("/p/new.json", "old.json", "/p/old.json"),
            ("/new.json", "old.json", "/old.json"),
            ("p/new.json", "/q/old.json", "/q/old.json"),
        ] {
            assert_eq!(beside(file, name), want, "{file} {name}");
        }
    }
}
