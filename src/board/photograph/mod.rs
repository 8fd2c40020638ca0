//! The photograph on the board: a picture from the panel's own folder, what is picked in it, and the survey that becomes of
//! it, adjusted at every step by the code of the command `survey`. Every step is in a journal until the survey is saved.

mod answer;
mod draft;
mod folder;
mod ids;
mod round;
mod taken;
mod told;
mod trace;
mod under;
mod writing;

use super::journal::Journal;
use crate::define;
use crate::define::survey::Survey;
use crate::diag::Problems;
use crate::import::Picture;
use crate::survey::Solved;
use crate::units::Unit;
pub(super) use answer::answer;
use draft::Draft;
use folder::Beside;
use serde_json::{Value, json};
use std::path::Path;
use std::sync::{Arc, PoisonError};

/// Most steps that can be undone.
const MOST_STEPS: usize = 500;

/// A picture that is looked at.
pub(super) struct Shown {
    name: String,
    bytes: Arc<[u8]>,
    picture: Arc<Picture>,
}

/// What the view holds of one panel.
pub(super) struct Photograph {
    beside: Beside,
    unit: Unit,
    draft: Option<Draft>,
    undo: Vec<Draft>,
    redo: Vec<Draft>,
    shown: Option<Shown>,
    journal: Option<Journal>,
    /// The survey's file, once it has one.
    name: Option<String>,
    /// Its text as it was read or saved.
    saved: Option<String>,
    /// The adjusted survey of the draft as it stands, or what is missing for it.
    solved: Result<Box<(Survey, Solved)>, Vec<String>>,
    /// It straightened, once that was asked for.
    under: under::Slot,
    /// Counts every change.
    revision: u64,
    /// What happened that the page should say once.
    news: Option<String>,
    /// Why what an earlier run left in the journal could not be taken up.
    stuck: Option<String>,
}

impl Photograph {
    /// Of a panel's file.
    pub fn of(panel: &str, unit: Unit) -> Photograph {
        Photograph {
            beside: Beside::of(panel),
            unit,
            draft: None,
            undo: Vec::new(),
            redo: Vec::new(),
            shown: None,
            journal: None,
            name: None,
            saved: None,
            solved: Err(Vec::new()),
            under: under::Slot::default(),
            revision: 0,
            news: None,
            stuck: None,
        }
    }

    /// The journal opened, and what an earlier run left in it taken up.
    fn begin(&mut self) -> Result<(), String> {
        if self.journal.is_some() {
            return Ok(());
        }
        let (journal, left) = Journal::open(Path::new(&self.beside.journal())).map_err(|p| p.to_string())?;
        self.journal = Some(journal);
        let Some(left) = left else { return Ok(()) };
        let mut all: Vec<Draft> = left.texts.iter().filter_map(|t| Draft::left(t)).collect();
        let Some(last) = all.pop() else { return Ok(()) };
        let n = all.len() + 1;
        if let Err(why) = self.look(last.image(), Some(&last)) {
            let words = format!("What was left of the survey of {} cannot be taken up: {why}.", last.image());
            self.stuck = Some(words.clone());
            return Err(words);
        }
        self.name = Some(left.base).filter(|b| !b.is_empty());
        self.saved = self.name.as_ref().and_then(|n| self.beside.text(n).ok());
        let steps = if n == 1 { "step".to_owned() } else { format!("{n} steps") };
        self.news = Some(format!("Taken up where the program was ended: {steps} that no file has yet."));
        self.undo = all;
        self.stand(last);
        Ok(())
    }

    /// Looks at a picture; a survey says how large it must be.
    fn look(&mut self, name: &str, of: Option<&Draft>) -> Result<(), String> {
        let (bytes, picture) = self.beside.picture(name)?;
        if let Some(draft) = of {
            let size = &draft.photograph()["size"];
            let (w, h) = (picture.width, picture.height);
            if size[0].as_f64() != Some(w as f64) || size[1].as_f64() != Some(h as f64) {
                return Err(format!(
                    "{name} has {w} by {h} pixels, and {} by {} are stated: picks count in the picture's own pixels",
                    size[0], size[1]
                ));
            }
        }
        self.shown = Some(Shown { name: name.to_owned(), bytes, picture: Arc::new(picture) });
        Ok(())
    }

    /// Reads a draft as the command reads its file.
    fn read(&self, draft: &Draft) -> Result<Survey, String> {
        let text: Arc<str> = writing::text(&draft.file).into();
        let mut problems = Problems::new();
        let survey = define::read_survey("the survey", &text, &mut problems);
        match survey {
            Some(survey) if problems.is_empty() => Ok(survey),
            _ => {
                let first = problems.sorted().into_iter().next();
                Err(first.map_or("the survey could not be read".into(), |p| match &p.help {
                    Some(help) => format!("{}: {help}", p.message),
                    None => p.message.clone(),
                }))
            }
        }
    }

    /// A draft becomes what is looked at.
    fn stand(&mut self, draft: Draft) {
        // a press that no shape came of yet changes nothing that is adjusted
        if self.draft.as_ref().is_none_or(|now| now.file != draft.file) {
            self.solved = self
                .read(&draft)
                .map_err(|why| vec![why])
                .and_then(|survey| told::solved(&survey).map(|s| Box::new((survey, s))));
        }
        self.draft = Some(draft);
        self.revision += 1;
    }

    /// A draft reached by an act: on the disk before it is answered for.
    fn reach(&mut self, draft: Draft) -> Result<(), String> {
        // without a pick it is no survey yet
        if !draft.is_bare_picture() && self.draft.as_ref().is_none_or(|now| now.file != draft.file) {
            self.read(&draft)?;
        }
        self.keep(&draft)?;
        if let Some(before) = self.draft.clone() {
            self.undo.push(before);
            if self.undo.len() > MOST_STEPS {
                self.undo.remove(0);
            }
        }
        self.redo.clear();
        self.stand(draft);
        Ok(())
    }

    fn keep(&mut self, draft: &Draft) -> Result<(), String> {
        let base = self.name.clone().unwrap_or_default();
        let journal = self.journal.as_mut().ok_or("the journal is not open")?;
        journal.reached(&base, &draft.kept(), std::iter::empty()).map_err(|p| p.to_string())
    }

    fn step(&mut self, back: bool) -> Result<(), String> {
        let from = if back { &self.undo } else { &self.redo };
        let Some(draft) = from.last().cloned() else { return Ok(()) };
        if self.shown.as_ref().is_none_or(|s| s.name != draft.image()) {
            self.look(draft.image(), Some(&draft))?;
        }
        self.keep(&draft)?;
        let now = self.draft.clone();
        if back {
            self.undo.pop();
            self.redo.extend(now);
        } else {
            self.redo.pop();
            self.undo.extend(now);
        }
        self.stand(draft);
        Ok(())
    }

    fn is_changed(&self) -> bool {
        self.draft.as_ref().is_some_and(|d| match &self.saved {
            Some(saved) => writing::text(&d.file) != *saved,
            None => !d.is_bare_picture(),
        })
    }

    /// What another picture or survey would give up, in words.
    fn gives_up(&self) -> Option<String> {
        if let Some(words) = &self.stuck {
            return Some(format!("{words} It stays in the journal until you give it up."));
        }
        let open = self.draft.as_ref().is_some_and(|d| !d.begun.is_empty());
        (self.is_changed() || open)
            .then(|| "What was picked here is in no file yet: it would be given up.".into())
    }

    /// Another picture or survey: what was not saved is given up only where that is said.
    fn fresh(&mut self, draft: Draft, name: Option<String>, saved: Option<String>) -> Result<(), String> {
        if let Some(j) = self.journal.as_mut() {
            j.clear().map_err(|p| p.to_string())?;
        }
        (self.name, self.saved, self.stuck) = (name, saved, None);
        (self.undo, self.redo) = (Vec::new(), Vec::new());
        self.draft = None;
        self.stand(draft);
        Ok(())
    }

    fn choose(&mut self, name: &str) -> Result<(), String> {
        self.look(name, None)?;
        let size = self.shown.as_ref().map_or([0, 0], |s| [s.picture.width, s.picture.height]);
        let title = format!("{}, from a photograph", self.beside.title());
        self.fresh(Draft::begin(&title, self.unit, name, size), None, None)
    }

    fn take_up(&mut self, name: &str) -> Result<(), String> {
        let text = self.beside.text(name)?;
        let draft = Draft::of(&text).ok_or_else(|| format!("{name} is no survey with a picture"))?;
        self.read(&draft).map_err(|why| format!("{name}: {why}"))?;
        self.look(draft.image(), Some(&draft))?;
        // saved as it is on the disk, whatever its spaces
        let saved = Some(writing::text(&draft.file));
        self.beside.remember(name, &text);
        self.fresh(draft, Some(name.to_owned()), saved)
    }

    fn save(&mut self, name: &str, over: bool) -> Result<Option<String>, String> {
        let Some(draft) = self.draft.clone() else { return Err("there is nothing to save".into()) };
        self.read(&draft).map_err(|why| format!("it is no survey yet: {why}"))?;
        let text = writing::text(&draft.file);
        let name = if name.ends_with(".json") { name.to_owned() } else { format!("{name}.json") };
        if let Some(asks) = self.beside.write(&name, &text, over)? {
            return Ok(Some(asks));
        }
        self.name = Some(name);
        self.saved = Some(text);
        if let Some(j) = self.journal.as_mut() {
            j.clear().map_err(|p| p.to_string())?;
        }
        // what is begun is in no file
        if !draft.begun.is_empty() {
            self.keep(&draft)?;
        }
        self.revision += 1;
        Ok(None)
    }

    /// The survey of the draft as it stands, and its adjustment.
    fn both(&self) -> Result<(&Survey, &Solved), String> {
        match &self.solved {
            Ok(both) => Ok((&both.0, &both.1)),
            Err(_) => Err("that is withheld until four or more known points hold the picture".into()),
        }
    }

    /// The picture as it lies in its file, or straightened.
    pub fn given(&self, number: usize) -> Option<(&'static str, Vec<u8>)> {
        if number == 1 {
            let held = self.under.lock().unwrap_or_else(PoisonError::into_inner);
            return held.as_ref().map(|u| ("image/png", u.bytes.clone()));
        }
        let s = self.shown.as_ref()?;
        let kind = if s.bytes.starts_with(&[0xff, 0xd8]) { "image/jpeg" } else { "image/png" };
        Some((kind, s.bytes.to_vec()))
    }

    /// At a clean stop: an empty journal goes.
    pub fn close(&self) {
        if let Some(j) = &self.journal {
            j.remove_if_empty();
        }
    }

    /// What the page shows.
    fn state(&mut self) -> Value {
        let mut v = json!({
            "kind": "photograph", "revision": self.revision, "pictures": self.beside.pictures(), "surveys": self.beside.surveys(),
            "unit": self.unit.name(), "name": self.name, "changed": self.is_changed(), "undo": self.undo.len(), "redo": self.redo.len(),
            "news": self.news.take().or_else(|| self.stuck.clone()), "draft": null, "told": null, "missing": [],
        });
        if let (Some(draft), Some(shown)) = (&self.draft, &self.shown) {
            v["draft"] = draft.file.clone();
            v["begun"] = draft.begun.value();
            v["photo"] = json!(draft.photo);
            v["image"] = json!(shown.name);
            v["size"] = json!([shown.picture.width, shown.picture.height]);
            v["unit"] = json!(draft.unit().unwrap_or(self.unit).name());
            match &self.solved {
                Ok(both) => {
                    let id = draft.photograph()["id"].as_str().unwrap_or("");
                    if let Some(k) = told::picture(&both.1, id) {
                        v["told"] = told::told(&both.0, &both.1, k, draft.unit().unwrap_or(self.unit));
                    }
                }
                Err(missing) => v["missing"] = json!(missing),
            }
        }
        v
    }

    fn does(&mut self, m: &Value) -> Result<Option<Value>, String> {
        let word = |key: &str| m[key].as_str().unwrap_or("").to_owned();
        self.begin()?;
        let ask = |words: &str, again: &Value| {
            Ok(Some(json!({ "kind": "photograph-asks", "words": words, "again": again })))
        };
        match m["act"].as_str().unwrap_or("") {
            "open" => Ok(None),
            "choose" | "take-up" if m["over"] != true && self.gives_up().is_some() => {
                ask(&self.gives_up().unwrap_or_default(), m)
            }
            "choose" => self.choose(&word("picture")).map(|()| None),
            "take-up" => self.take_up(&word("survey")).map(|()| None),
            "undo" => self.step(true).map(|()| None),
            "redo" => self.step(false).map(|()| None),
            "save" => match self.save(word("name").trim(), m["over"] == true)? {
                Some(words) => ask(&words, m),
                None => Ok(None),
            },
            "hole" => self.hole(m).map(|()| None),
            _ => {
                let mut draft = self.draft.clone().ok_or("choose a picture first")?;
                draft.act(m)?;
                self.reach(draft).map(|()| None)
            }
        }
    }
}
