//! The catalogue: definitions by name, from the user's own folder first, then the built-in ones.

use super::builtin::BUILTIN;
use super::instrument::{self, Built};
use crate::define::instrument::Replacement;
use crate::define::summary::{Summary, summary};
use crate::define::{self, Instrument, Node};
use crate::diag::{Problem, Problems, Where, did_you_mean};
use crate::files::{Disk, Files};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Where definitions are looked up. A name is a path without its ending: `round/3-1-8in-front`.
pub struct Catalogue {
    own: Option<(Box<dyn Files + Send + Sync>, String)>,
}

impl Catalogue {
    /// The built-in definitions alone.
    pub fn builtin() -> Catalogue {
        Catalogue { own: None }
    }

    /// A folder on disk before the built-in definitions.
    pub fn with_folder(folder: &str) -> Catalogue {
        Catalogue::with_files(Box::new(Disk::new("")), folder)
    }

    /// A folder of any files before the built-in definitions.
    pub fn with_files(files: Box<dyn Files + Send + Sync>, folder: &str) -> Catalogue {
        Catalogue { own: Some((files, folder.trim_end_matches('/').to_string())) }
    }

    /// All names, sorted.
    pub fn names(&self) -> Result<Vec<String>, Problems> {
        let mut names: Vec<String> = BUILTIN.iter().map(|(name, _)| name.to_string()).collect();
        if let Some((files, folder)) = &self.own {
            let listed = files.list(folder).map_err(|p| {
                let mut all = Problems::new();
                all.push(p);
                all
            })?;
            for file in listed {
                let inside =
                    file.strip_prefix(folder.as_str()).map_or(file.as_str(), |f| f.trim_start_matches('/'));
                if let Some(name) = inside.strip_suffix(".json") {
                    names.push(name.to_string());
                }
            }
        }
        names.sort();
        names.dedup();
        Ok(names)
    }

    /// File name and text of a definition.
    pub(super) fn text(&self, name: &str) -> Result<(String, Arc<str>), Problem> {
        if let Some((files, folder)) = &self.own {
            let file =
                if folder.is_empty() { format!("{name}.json") } else { format!("{folder}/{name}.json") };
            match files.read(&file) {
                Ok(text) => return Ok((file, text)),
                // a folder that is not there is no empty folder
                Err(p) if p.code == "no-file" => {
                    files.list(folder)?;
                }
                Err(p) => return Err(p),
            }
        }
        match BUILTIN.iter().find(|(known, _)| *known == name) {
            Some((_, text)) => Ok((format!("instruments/{name}.json"), (*text).into())),
            None => Err(self.unknown(name)),
        }
    }

    fn unknown(&self, name: &str) -> Problem {
        let names = self.names().unwrap_or_default();
        let help = match nearest(name, &names) {
            Some(near) => format!("did you mean \"{near}\"? `panelwright instruments list` lists all"),
            None => {
                "`panelwright instruments list` lists all; a file of your own is named with its .json".into()
            }
        };
        Problem::nowhere("unknown-instrument", format!("there is no instrument \"{name}\"")).help(help)
    }

    /// One definition, by its name or by the name of a file that ends in `.json`.
    pub fn one(&self, name: &str) -> Result<Summary, Problems> {
        let mut problems = Problems::new();
        let text = if name.ends_with(".json") {
            Disk::new("").read(name).map(|text| (name.to_string(), text))
        } else {
            self.text(name)
        };
        let found = match text {
            Ok((file, text)) => self.summary_of(name, &file, &text, &mut problems),
            Err(p) => {
                problems.push(p);
                None
            }
        };
        match found {
            Some(s) if problems.is_empty() => Ok(s),
            _ => Err(problems),
        }
    }

    /// All definitions, by name.
    pub fn all(&self) -> Result<Vec<Summary>, Problems> {
        let mut problems = Problems::new();
        let mut all = Vec::new();
        for name in self.names()? {
            match self.text(&name) {
                Ok((file, text)) => all.extend(self.summary_of(&name, &file, &text, &mut problems)),
                Err(p) => problems.push(p),
            }
        }
        problems.or(all)
    }

    fn summary_of(
        &self,
        name: &str,
        file: &str,
        text: &Arc<str>,
        problems: &mut Problems,
    ) -> Option<Summary> {
        let def = define::read_instrument(file, text, problems)?;
        // the tree once more, for the sizes by their paths; its problems have been told
        let root = define::document::read(file, text, &define::instrument::FILE, &mut Problems::new())?;
        let built = instrument::build(name, &def, problems);
        let parts = built.missing.iter().map(|(part, what)| format!("{part}: {what}"));
        let case = (!built.facts.has_case).then(|| "case: the section that passes the opening".to_string());
        let open = built.facts.open_terms.iter().cloned();
        Some(summary(name, &root, &def, parts.chain(case).chain(open)))
    }

    /// A plain sheet with this one instrument in its middle, for a picture of it.
    pub fn sample(&self, name: &str) -> Result<crate::panel::Panel, Problems> {
        super::sample::sample(self, name)
    }
}

/// The nearest of the names: by the whole name, then by its last part, then by what it begins with.
fn nearest<'a>(name: &str, names: &'a [String]) -> Option<&'a str> {
    let all = || names.iter().map(String::as_str);
    let last = |n: &'a str| n.rsplit('/').next().unwrap_or(n);
    let own = name.rsplit('/').next().unwrap_or(name);
    did_you_mean(name, all())
        .or_else(|| all().find(|n| last(n) == own))
        .or_else(|| did_you_mean(own, all().map(last)).and_then(|near| all().find(|n| last(n) == near)))
}

/// Definitions that a panel uses, each read and built once.
pub(super) struct Shelf<'a> {
    catalogue: &'a Catalogue,
    files: &'a dyn Files,
    built: BTreeMap<String, Option<Arc<Entry>>>,
    /// Definitions with numbers of an item's own, by name and numbers.
    own: BTreeMap<String, Option<Arc<Entry>>>,
}

/// One definition in use.
pub(super) struct Entry {
    pub built: Built,
    pub def: Instrument,
    pub text: Arc<str>,
    /// The checked tree of its file.
    root: Node,
    /// Whether nothing is wrong with it.
    sound: bool,
}

impl<'a> Shelf<'a> {
    pub fn new(catalogue: &'a Catalogue, files: &'a dyn Files) -> Shelf<'a> {
        Shelf { catalogue, files, built: BTreeMap::new(), own: BTreeMap::new() }
    }

    /// The definition of a name; told at the place of the first use when there is none.
    pub fn get(&mut self, name: &str, place: &Where, problems: &mut Problems) -> Option<Arc<Entry>> {
        // a file of the user's own stands beside the panel's file
        let key = if name.ends_with(".json") { super::beside(&place.file, name) } else { name.to_string() };
        if let Some(found) = self.built.get(&key) {
            return found.clone();
        }
        let read = if name.ends_with(".json") {
            self.files.read(&key).map(|text| (key.clone(), text))
        } else {
            self.catalogue.text(name)
        };
        let entry = match read {
            Ok((file, text)) => {
                let before = problems.len();
                let tree = define::read_instrument_tree(&file, &text, problems);
                tree.map(|(root, def)| {
                    let built = instrument::build(name, &def, problems);
                    Arc::new(Entry { built, def, text, root, sound: problems.len() == before })
                })
            }
            Err(p) => {
                let help = "name a definition of the catalogue, or a file beside this one";
                let help = Some(p.help.unwrap_or_else(|| help.to_string()));
                let place = p.place.clone().or(Some(place.clone()));
                problems.push(Problem { place, help, ..p });
                None
            }
        };
        self.built.insert(key, entry.clone());
        entry
    }

    /// The same with numbers of an item's own in place of the definition's.
    pub fn get_with(
        &mut self,
        name: &str,
        place: &Where,
        numbers: &[Replacement],
        problems: &mut Problems,
    ) -> Option<Arc<Entry>> {
        let entry = self.get(name, place, problems)?;
        let Some(first) = numbers.first().filter(|_| entry.sound) else { return Some(entry) };
        let key = format!("{name} {} {numbers:?}", place.file);
        if let Some(found) = self.own.get(&key) {
            return found.clone();
        }
        let mut own = Problems::new();
        let replaced = Instrument::with_numbers(&entry.root, name, numbers, &mut own);
        let made = replaced.map(|(def, were)| {
            let pairs: Vec<_> = numbers.iter().cloned().zip(were).collect();
            let built = instrument::build(name, &def, &mut own).with_numbers(&def, &pairs);
            Arc::new(Entry {
                built,
                def,
                text: entry.text.clone(),
                root: entry.root.clone(),
                sound: own.is_empty(),
            })
        });
        let file = &first.path.place.file;
        for p in own.sorted() {
            // the definition was sound: what is wrong now is so by these numbers
            let here = p.place.as_ref().is_some_and(|w| w.file == *file);
            let message = if here {
                p.message.clone()
            } else {
                format!("with the numbers said here, {name}: {}", p.message)
            };
            let place = if here { p.place.clone() } else { Some(first.path.place.clone()) };
            let help = match (&p.help, here) {
                (Some(help), false) => Some(format!("{help}; say what else of it is otherwise here too")),
                (help, _) => help.clone(),
            };
            problems.push(Problem { message, place, help, ..p.clone() });
        }
        self.own.insert(key, made.clone());
        made
    }

    /// The texts of all definitions in use, in the order of their names.
    pub fn texts(&self) -> impl Iterator<Item = &Arc<str>> {
        self.built.values().flatten().map(|e| &e.text)
    }
}
