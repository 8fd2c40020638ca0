//! `fits` of several panels, or of a folder of them: which files are asked, and the table.

use crate::cli::common::{self, Failure};
use crate::cli::progress::Progress;
use crate::cli::{Exit, fits, interrupt, reading};
use crate::files::{Disk, Files};
use crate::many::{self, Asked, Outcome};
use crate::report::fits_many::{self, Left, Table};
use clap::ArgMatches;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Whether several panels are asked.
pub fn asked(m: &ArgMatches) -> bool {
    let given: Vec<&PathBuf> = m.get_many("panel").into_iter().flatten().collect();
    given.len() > 1 || given.iter().any(|p| p.is_dir())
}

/// What is to be asked.
#[derive(Default)]
struct Found {
    /// Names of files, and whether each was found in a folder.
    files: Vec<(String, bool)>,
    known: BTreeMap<PathBuf, String>,
    left: Vec<Left>,
    /// Names of folders within folders, whose files are not asked.
    folders: Vec<String>,
    /// Files of folders whose names do not end in `.json`.
    others: usize,
}

impl Found {
    /// One file; a name of a file that is known already is told and left out.
    fn file(&mut self, name: String, listed: bool) {
        let whole = fs::canonicalize(&name).unwrap_or_else(|_| PathBuf::from(&name));
        match self.known.get(&whole) {
            Some(first) => {
                let because = if *first == name {
                    "named twice, asked once".to_string()
                } else {
                    format!("the same file as {first}, asked once")
                };
                self.left.push(Left { file: name, because });
            }
            None => {
                self.known.insert(whole, name.clone());
                self.files.push((name, listed));
            }
        }
    }

    /// The files of a folder by their names; hidden ones are left out unsaid.
    fn folder(&mut self, folder: &str) -> Result<(), Failure> {
        let fail = |e: std::io::Error| Failure::Sentence(format!("cannot read the folder {folder}: {e}"));
        let mut names = Vec::new();
        for entry in fs::read_dir(folder).map_err(fail)? {
            names.push(entry.map_err(fail)?.file_name());
        }
        names.sort();
        for name in names {
            let path = Path::new(folder).join(&name);
            let shown = path.to_string_lossy().into_owned();
            let Some(own) = name.to_str() else {
                let because = "its name is not UTF-8: rename the file".to_string();
                self.left.push(Left { file: shown, because });
                continue;
            };
            if own.starts_with('.') {
                continue;
            }
            if path.is_dir() {
                self.folders.push(shown);
            } else if own.to_ascii_lowercase().ends_with(".json") {
                self.file(shown, true);
            } else {
                self.others += 1;
            }
        }
        Ok(())
    }
}

/// Asks all and tells the table.
pub fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    if let Some(option) = ["near", "out", "into"].into_iter().find(|o| m.contains_id(o)) {
        return Err(Failure::Sentence(format!("--{option} asks one panel: give one panel file, no folder")));
    }
    let name = m.get_one::<String>("instrument").cloned().unwrap_or_default();
    let catalogue = common::catalogue(m);
    catalogue.one(&name)?;
    let mut found = Found::default();
    for path in m.get_many::<PathBuf>("panel").into_iter().flatten() {
        let Some(shown) = path.to_str() else {
            let shown = path.to_string_lossy();
            return Err(Failure::Sentence(format!("the name {shown} is not UTF-8: rename the file")));
        };
        if shown == reading::INPUT {
            return Err(Failure::Sentence(
                "fits reads panels from files, not from the standard input: name the file".into(),
            ));
        }
        if path.is_dir() { found.folder(shown)? } else { found.file(shown.to_string(), false) }
    }
    if found.files.is_empty() {
        return Err(Failure::Sentence(none_in(m, &found)));
    }
    let paths: Vec<String> = found.files.iter().map(|(p, _)| p.clone()).collect();
    let turns = fits::turns(m);
    let tight = m.get_flag("nominal");
    let instrument = |path: &str| common::named_in(path, &name);
    let asked = Asked { instrument: &instrument, turns: &turns, tight };
    let disk = Disk::new("");
    let mut progress = Progress::new(paths.len());
    let began = |k: usize| progress.step(k + 1, paths.get(k).map_or("", String::as_str));
    interrupt::listen();
    let outcomes = many::ask(&paths, &disk, &catalogue, &asked, began, &interrupt::pressed);
    drop(progress);
    let Found { files, mut left, folders, others, .. } = found;
    let mut rows = Vec::new();
    for ((file, listed), outcome) in files.into_iter().zip(outcomes) {
        let no_panel = match &outcome {
            Outcome::Problems(_) if listed => no_panel(&file, &disk),
            _ => None,
        };
        match no_panel {
            Some(because) => left.push(Left { file, because: because.into() }),
            None => rows.push((file, outcome)),
        }
    }
    let table = Table::of(name, turns, tight, rows, left, folders, others);
    let text = if common::wants_json(m) {
        format!("{:#}\n", fits_many::json(&table))
    } else {
        fits_many::text(&table)
    };
    common::print(&text)?;
    Ok(if table.unread() > 0 || table.asked() + table.not_asked() == 0 {
        Exit::CouldNotRun
    } else if table.all_fit() {
        Exit::Clean
    } else {
        Exit::Findings
    })
}

/// There is nothing to ask.
fn none_in(m: &ArgMatches, found: &Found) -> String {
    let given = m.get_many::<PathBuf>("panel").into_iter().flatten();
    let given: Vec<String> = given.map(|p| p.display().to_string()).collect();
    let others = match found.others {
        0 => String::new(),
        n => format!(" ({n} other files)"),
    };
    let folders = match found.folders.as_slice() {
        [] => String::new(),
        some => format!("; folders in it are not entered, name them: {}", some.join(", ")),
    };
    format!("there is no panel file in {}: none whose name ends in .json{others}{folders}", given.join(", "))
}

/// What a file of a folder is that was never meant as a panel; `None`: nobody can tell, or it was.
fn no_panel(file: &str, disk: &Disk) -> Option<&'static str> {
    let v: Value = serde_json::from_str(&disk.read(file).ok()?).ok()?;
    let Some(v) = v.as_object() else { return Some("no panel file: it holds no object") };
    let has = |key: &str| v.contains_key(key);
    if has("panel") {
        return (has("findings") && has("inputs-sha256")).then_some("a fit report, no panel file");
    }
    if has("instrument") {
        return Some("an instrument file, no panel file");
    }
    if has("survey") {
        return Some("a survey, no panel file");
    }
    let meant = ["sheet", "place", "builds-on"].into_iter().any(has);
    (!meant).then_some("no panel file: it has no \"panel\"")
}
