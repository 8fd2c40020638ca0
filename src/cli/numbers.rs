//! `numbers`: the numbers of one item, where each comes from, and numbers of its own said in the panel's file.

use crate::cli::common::{self, Failure};
use crate::cli::{Entry, Exit, reading};
use crate::define::Word;
use crate::define::instrument::{Basis, typed};
use crate::diag::did_you_mean;
use crate::edit::{Edit, Refusal, Said, by_hand};
use crate::files::{Beside, Disk, Files, write_whole};
use crate::panel::{Panel, Subject};
use crate::{report, resolve};
use clap::{Arg, ArgAction, ArgMatches, Command};
use std::path::{Path, PathBuf};

/// The command.
pub const ENTRY: Entry = Entry { command, run };

/// What says something of a source that is to be added.
const SOURCE: [(&str, &str); 4] = [
    ("basis", "With --source: add that source to the file, of this standing: measured, maker, standard ..."),
    ("who", "With --source: who measured"),
    ("when", "With --source: when, in your own words"),
    ("document", "With --source: which document"),
];

fn command() -> Command {
    let text = |name: &'static str, value: &'static str, help: &'static str| {
        Arg::new(name).long(name).value_name(value).help(help)
    };
    let mut c = Command::new("numbers")
        .about("The numbers of one item and where each comes from; --set says your own in place of its definition's")
        .arg(common::panel_arg())
        .arg(Arg::new("item").value_name("ITEM").required(true).help("Id of an item"))
        .arg(
            text("set", "PATH=NUMBER", "Say a number of this item, such as mass=\"0.46 kg\"; give it again for more")
                .action(ArgAction::Append)
                .requires("source"),
        )
        .arg(
            text("clear", "PATH", "Let the definition's number hold again; give it again for more")
                .action(ArgAction::Append),
        )
        .arg(text("source", "NAME", "Name of the numbers' source among the file's \"sources\"").requires("set"))
        .arg(
            text("write", "FILE", "Where the changed file goes: the panel itself or a new file; else it is printed")
                .value_parser(clap::value_parser!(PathBuf)),
        )
        .arg(common::instruments_arg())
        .arg(common::format_arg());
    for (name, help) in SOURCE {
        c = c.arg(text(name, "WORDS", help).requires("source"));
    }
    c
}

fn run(m: &ArgMatches) -> Result<Exit, Failure> {
    let path = common::path(m, "panel")?;
    let panel = common::read_panel(&path, m)?;
    let id = m.get_one::<String>("item").map(String::as_str).unwrap_or_default();
    let subject = item(&panel, id)?;
    let edits = edits(m, &panel, id)?;
    if edits.is_empty() {
        if m.contains_id("write") {
            return Err(Failure::Sentence("--write asks for --set or --clear: nothing would change".into()));
        }
        let lines = resolve::numbers_of(subject, &Disk::new(""), &common::catalogue(m))?;
        let name = subject.facts.as_ref().map_or("", |f| f.instrument.as_str());
        let text = if common::wants_json(m) {
            format!("{:#}\n", report::numbers_json(id, name, &lines))
        } else {
            report::numbers(id, name, &lines)
        };
        common::print(&text)?;
        return Ok(Exit::Clean);
    }
    if path == reading::INPUT || id.contains(':') {
        let words = if id.contains(':') { "say it in the floating panel's own file" } else { "name a file" };
        return Err(Failure::Sentence(format!("{id} of {path} cannot be changed so: {words}")));
    }
    let mut text = Disk::new("").read(&path).map_err(crate::diag::Problems::from)?.to_string();
    for e in &edits {
        text = by_hand(&text, panel.unit, e).map_err(|why: Refusal| Failure::Sentence(why.words().into()))?;
    }
    // nothing is written that could not be read again
    let disk = Disk::new("");
    let files = Beside { others: &disk, name: path.clone(), text: text.clone() };
    resolve::resolve(&path, &files, &common::catalogue(m))?;
    match m.get_one::<PathBuf>("write") {
        None => common::print(&text)?,
        Some(to) => {
            writable(Path::new(&path), to)?;
            write_whole(to, text.as_bytes()).map_err(crate::diag::Problems::from)?;
            anstream::eprintln!("written: {}", to.display());
        }
    }
    Ok(Exit::Clean)
}

fn item<'a>(panel: &'a Panel, id: &str) -> Result<&'a Subject, Failure> {
    let placed = |s: &&Subject| s.facts.as_ref().is_some_and(|f| !f.instrument.is_empty());
    if let Some(s) = panel.subjects.iter().filter(placed).find(|s| s.id == id) {
        return Ok(s);
    }
    let near = did_you_mean(id, panel.subjects.iter().filter(placed).map(|s| s.id.as_str()));
    let help =
        near.map_or("name an instrument that is placed on it".into(), |n| format!("did you mean {n}?"));
    Err(Failure::Sentence(format!("there is no instrument `{id}` on {}: {help}", panel.name)))
}

/// What `--set` and `--clear` ask for.
fn edits(m: &ArgMatches, panel: &Panel, id: &str) -> Result<Vec<Edit>, Failure> {
    let text = |name: &str| m.get_one::<String>(name).cloned();
    let name = text("source").unwrap_or_default();
    let mut source = added(&text)?.map(|entry| Box::new((name.clone(), entry)));
    let mut all = Vec::new();
    for words in m.get_many::<String>("set").into_iter().flatten() {
        let Some((path, number)) = words.split_once('=') else {
            let help = "write PATH=NUMBER, such as mass=\"0.46 kg\"";
            return Err(Failure::Sentence(format!(
                "--set {words}: a path and a number with = between: {help}"
            )));
        };
        let t = typed(path.trim(), number, panel.unit)
            .map_err(|why| Failure::Sentence(format!("--set {why}")))?;
        let said = Some(Box::new(Said { of: t.of, off: t.off, source: name.clone() }));
        all.push(Edit::Number { id: id.into(), path: path.trim().into(), said, source: source.take() });
    }
    for path in m.get_many::<String>("clear").into_iter().flatten() {
        all.push(Edit::Number { id: id.into(), path: path.clone(), said: None, source: None });
    }
    Ok(all)
}

/// The source that is to be added, where anything is said of one.
fn added(text: &dyn Fn(&str) -> Option<String>) -> Result<Option<serde_json::Value>, Failure> {
    let mut entry = serde_json::Map::new();
    for (key, _) in SOURCE {
        entry.extend(text(key).map(|v| (key.to_string(), v.into())));
    }
    if entry.is_empty() {
        return Ok(None);
    }
    let basis = entry.shift_remove("basis").unwrap_or("measured".into());
    let known: Vec<&str> = Basis::WORDS.iter().map(|(w, _)| *w).collect();
    if !known.iter().any(|w| basis == *w) {
        return Err(Failure::Sentence(format!("--basis {basis}: one of {}", known.join(", "))));
    }
    let mut all = serde_json::Map::from_iter([("basis".to_string(), basis)]);
    all.extend(entry);
    Ok(Some(all.into()))
}

/// The panel's own file, or one that is not there yet.
fn writable(own: &Path, to: &Path) -> Result<(), Failure> {
    let same = own.canonicalize().ok().is_some_and(|own| to.canonicalize().ok() == Some(own));
    if same || !to.exists() {
        return Ok(());
    }
    let at = to.display();
    Err(Failure::Sentence(format!(
        "--write {at}: it is there and is another file: name the panel itself or a new file"
    )))
}
