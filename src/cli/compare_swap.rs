//! `compare PANEL --swap ID=INSTRUMENT`: the same panel with other instruments in the places of some items.

use crate::cli::common::{self, Failure};
use crate::cli::reading;
use crate::diag::{Problem, Problems, did_you_mean};
use crate::edit::{Derived, is_untouched};
use crate::files::{Beside, Disk, beside};
use crate::panel::{Class, Panel, SubjectKind};
use crate::resolve;
use clap::{Arg, ArgAction, ArgMatches};
use std::path::{Path, PathBuf};

/// The panel with what was swapped, and the text of its file.
pub struct Swapped {
    /// As read from that text.
    pub panel: Panel,
    /// The text.
    text: String,
}

/// `--swap` and `--write`.
pub fn args() -> [Arg; 2] {
    [
        Arg::new("swap")
            .long("swap")
            .value_name("ID=INSTRUMENT")
            .action(ArgAction::Append)
            .conflicts_with("new")
            .help("In place of NEW: the same panel with another instrument in an item's place; give it again for more"),
        Arg::new("write")
            .long("write")
            .value_name("FILE")
            .requires("swap")
            .value_parser(clap::value_parser!(PathBuf))
            .help("Write the swapped panel's file too, in the panel's own folder: it builds on the panel"),
    ]
}

/// The panel of a file after what `--swap` asks for. An item keeps its id, its place and its relations; so do those that
/// stand beside it.
pub fn swapped(path: &str, old: &Panel, m: &ArgMatches) -> Result<Swapped, Failure> {
    if path == reading::INPUT {
        return Err(Failure::Sentence(
            "--swap builds on a panel file, not on the standard input: name the file".into(),
        ));
    }
    if let Some(target) = target(m) {
        writable(path, target)?;
    }
    let mut swaps: Vec<(String, String)> = Vec::new();
    let mut problems = Problems::new();
    for words in m.get_many::<String>("swap").into_iter().flatten() {
        match asked(words, old, m) {
            Ok((id, _)) if swaps.iter().any(|(known, _)| *known == id) => {
                let message = format!("--swap {words}: {id} is swapped twice");
                problems.push(Problem::nowhere("twice-id", message).help("name each item once"));
            }
            Ok(swap) => swaps.push(swap),
            Err(p) => p.sorted().into_iter().for_each(|p| problems.push(p.clone())),
        }
    }
    if !problems.is_empty() {
        return Err(problems.into());
    }
    let what: Vec<String> = swaps.iter().map(|(id, name)| format!("{id} is {name}")).collect();
    let file = path.rsplit('/').next().unwrap_or(path);
    let what = what.join(", ");
    let mut derived = Derived::of(old, &what, file, format!("swapped: {what}"));
    derived.instruments = swaps.clone();
    let text = derived.text(old.unit);
    let disk = Disk::new("");
    let name = match target(m) {
        Some(target) => target.to_string_lossy().into_owned(),
        None => beside(path, ".with-another-instrument.json"),
    };
    let files = Beside { others: &disk, name: name.clone(), text: text.clone() };
    let panel =
        resolve::resolve(&name, &files, &common::catalogue(m)).map_err(|p| without_made(&p, &name))?;
    for (id, instrument) in &swaps {
        let opens = |p: &Panel| {
            let parts = p.find(id).and_then(|k| p.subjects.get(k)).map(|s| s.parts.iter());
            parts.is_some_and(|mut parts| parts.any(|p| p.class == Class::Cutout))
        };
        if opens(old) && !opens(&panel) {
            let message =
                format!("--swap {id}={instrument}: {instrument} states no cutout, and {id} has one");
            let help = "complete its definition, or remove the item in a panel file of your own and compare with that";
            return Err(Problems::from(Problem::nowhere("no-cutout", message).help(help)).into());
        }
    }
    Ok(Swapped { panel, text })
}

fn target(m: &ArgMatches) -> Option<&Path> {
    m.get_one::<PathBuf>("write").map(PathBuf::as_path)
}

impl Swapped {
    /// Writes the file that `--write` names, whole or not at all.
    pub fn write(&self, m: &ArgMatches) -> Result<(), Failure> {
        let Some(target) = target(m) else { return Ok(()) };
        common::write(target, self.text.as_bytes())?;
        anstream::eprintln!("written: {}", target.display());
        Ok(())
    }
}

/// Refuses a file that is not beside the panel, or that holds somebody's work.
fn writable(path: &str, target: &Path) -> Result<(), Failure> {
    let own = Path::new(path);
    let folder = |p: &Path| {
        let parent = p.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."));
        parent.canonicalize().ok()
    };
    let at = target.display();
    if folder(own).is_none() || folder(target) != folder(own) {
        return Err(Failure::Sentence(format!(
            "--write {at}: the new file builds on {path} and belongs into its folder: name a file there"
        )));
    }
    if target.is_dir() {
        return Err(Failure::Sentence(format!("--write {at} is a folder: name a file in it")));
    }
    if own.canonicalize().ok().is_some_and(|own| target.canonicalize().ok() == Some(own)) {
        return Err(Failure::Sentence(format!(
            "--write {at} is the panel itself, on which the new file builds: name another file"
        )));
    }
    match std::fs::read(target) {
        Ok(bytes) if !is_untouched(&bytes) => Err(Failure::Sentence(format!(
            "{at} is there, and this program did not write it or somebody has changed it since: name another file with \
             --write, or move it away"
        ))),
        _ => Ok(()),
    }
}

/// An item that is there and an instrument that is known.
fn asked(words: &str, old: &Panel, m: &ArgMatches) -> Result<(String, String), Problems> {
    let wrong = |code: &'static str, message: String, help: String| {
        Problems::from(Problem::nowhere(code, format!("--swap {words}: {message}")).help(help))
    };
    let split = words.split_once('=').map(|(id, name)| (id.trim(), name.trim()));
    let Some((id, name)) = split.filter(|(id, name)| !id.is_empty() && !name.is_empty()) else {
        let help = "write ID=INSTRUMENT, such as asi=round/80mm-front";
        return Err(wrong("swap-words", "an item and an instrument with = between".into(), help.into()));
    };
    let placed = |k: SubjectKind| matches!(k, SubjectKind::Placement | SubjectKind::Unit);
    let Some(s) = old.subjects.iter().find(|s| s.id == id) else {
        let known = old.subjects.iter().filter(|s| placed(s.kind)).map(|s| s.id.as_str());
        let help = match did_you_mean(id, known) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name an item that is placed on this panel".into(),
        };
        return Err(wrong("unknown-id", format!("there is no `{id}` on {}", old.name), help));
    };
    if s.id.contains(':') {
        let help = "swap it in the floating panel's own file".into();
        return Err(wrong("no-item", format!("{id} belongs to a floating panel"), help));
    }
    let Some(facts) = s.facts.as_ref().filter(|_| placed(s.kind)) else {
        return Err(wrong("no-item", format!("{id} is no instrument"), "name a placed instrument".into()));
    };
    if facts.instrument == name {
        return Err(wrong("same-instrument", format!("{id} is a {name} already"), "name another one".into()));
    }
    // a file of one's own is named from the panel's folder, where the new file looks for it
    if !name.ends_with(".json") {
        common::catalogue(m).one(name)?;
    }
    Ok((id.to_string(), name.to_string()))
}

/// Problems without their places in a file that nobody wrote.
fn without_made(problems: &Problems, made: &str) -> Problems {
    let mut out = Problems::new();
    for p in problems.sorted() {
        let mut p = p.clone();
        p.place = p.place.filter(|w| &*w.file != made);
        out.push(p);
    }
    out
}
