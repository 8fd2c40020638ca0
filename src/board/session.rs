//! One panel on the board: its text, what was done and undone, the journal, the file on the disk. Knows no network.

use super::journal::{Journal, Left};
use super::layouts::Layouts;
use super::photograph::Photograph;
use super::stood::stands;
use crate::check::{self, Findings, Options};
use crate::diag::{Problem, Problems};
use crate::edit::{Edit, Refusal};
use crate::files::{Beside, Disk, Files, write_whole};
use crate::geom::Point;
use crate::panel::{Panel, SubjectKind};
use crate::resolve::{self, Catalogue};
use sha2::{Digest, Sha256};
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Most bytes of texts that can be undone and redone; the oldest is forgotten beyond it, so that a day's work on a large
/// panel does not fill the memory.
const MOST_STEPS: usize = 64 * 1024 * 1024;

/// A panel on the board.
pub struct Session {
    path: String,
    catalogue: Arc<Catalogue>,
    /// Sum of the text that the file had when it was last read or saved.
    base: String,
    text: String,
    saved: String,
    undo: Vec<String>,
    redo: Vec<String>,
    journal: Journal,
    left: Option<Left>,
    /// The panel as it stands.
    pub panel: Panel,
    /// What the rules say of it.
    pub findings: Findings,
    /// Counts every change.
    pub revision: u64,
    took: Duration,
    pub(super) photograph: Photograph,
    pub(super) layouts: Layouts,
    pub(super) solids: super::behind::Told,
}

fn sum(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|b| format!("{b:02x}")).collect()
}

/// What a save found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saved {
    /// It is on the disk.
    Done,
    /// The file was changed by somebody else meanwhile; nothing was written.
    Conflict,
}

impl Session {
    /// Opens a panel file.
    ///
    /// # Errors
    /// The file's own problems, the disk's, or another board that has it.
    pub fn open(path: &str, catalogue: Catalogue) -> Result<Session, Problems> {
        let text = Disk::new("").read(path)?.to_string();
        let panel = problems(path, &text, &catalogue)?;
        let (journal, left) = Journal::open(Path::new(path))?;
        let left = left.filter(|l| l.texts.last().is_some_and(|t| *t != text));
        let (findings, took) = checked(&panel);
        let base = sum(&text);
        let photograph = Photograph::of(path, panel.unit);
        let mut s = Session {
            path: path.into(),
            catalogue: Arc::new(catalogue),
            base,
            saved: text.clone(),
            text,
            undo: Vec::new(),
            redo: Vec::new(),
            journal,
            left,
            panel,
            findings,
            revision: 1,
            took,
            photograph,
            layouts: Layouts::open(Path::new(path)),
            solids: super::behind::Told::default(),
        };
        if s.left.is_none() {
            s.journal.clear()?;
        }
        Ok(s)
    }

    /// The text as it stands.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// How long the last check of the whole panel took.
    pub fn took(&self) -> Duration {
        self.took
    }

    /// The file's name.
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The catalogue that it reads.
    pub fn catalogue(&self) -> &Catalogue {
        &self.catalogue
    }

    /// The same, for work that goes on beside.
    pub(super) fn shared_catalogue(&self) -> Arc<Catalogue> {
        self.catalogue.clone()
    }

    /// How many steps can be undone and redone.
    pub fn steps(&self) -> (usize, usize) {
        (self.undo.len(), self.redo.len())
    }

    /// Whether something is not saved.
    pub fn is_changed(&self) -> bool {
        self.text != self.saved
    }

    /// What an earlier run left unsaved, in words.
    pub fn offer(&self) -> Option<String> {
        let left = self.left.as_ref()?;
        let n = left.texts.len();
        let other = if left.base == self.base { "" } else { "; the file on the disk has been changed since" };
        Some(format!(
            "An earlier session ended with {n} change{} unsaved{other}.",
            if n == 1 { "" } else { "s" }
        ))
    }

    /// Whether the file on the disk is no longer what was read or saved.
    pub fn is_changed_on_disk(&self) -> bool {
        self.looks_at_disk()()
    }

    /// As [`Session::is_changed_on_disk`], to be looked at while others have the session.
    pub(super) fn looks_at_disk(&self) -> impl FnOnce() -> bool + use<> {
        let (path, base) = (self.path.clone(), self.base.clone());
        move || Disk::new("").read(&path).map_or(true, |t| sum(&t) != base)
    }

    /// Makes a text the current one.
    fn reach(&mut self, text: String, panel: Panel) -> Result<(), Refusal> {
        let before = self.undo.iter().chain([&self.text]).map(String::as_str);
        self.journal.reached(&self.base, &text, before).map_err(|p| Refusal::Words(p.to_string()))?;
        (self.findings, self.took) = checked(&panel);
        self.panel = panel;
        self.text = text;
        self.revision += 1;
        Ok(())
    }

    /// Refuses while it is not said what becomes of what an earlier run left: going on would give that up.
    pub(super) fn settled(&self) -> Result<(), Refusal> {
        match self.offer() {
            Some(words) => Err(Refusal::Words(words)),
            None => Ok(()),
        }
    }

    pub(super) fn did(&mut self, text: String, panel: Panel) -> Result<(), Refusal> {
        self.settled()?;
        let before = self.text.clone();
        if text == before {
            return Ok(());
        }
        self.reach(text, panel)?;
        self.undo.push(before);
        self.redo.clear();
        forget(&mut self.undo, MOST_STEPS);
        Ok(())
    }

    /// Makes one edit.
    ///
    /// # Errors
    /// Why it could not be made; nothing is changed then.
    pub fn edit(&mut self, e: &Edit) -> Result<(), Refusal> {
        let (text, panel) = self.trial().tried(&self.text, e)?;
        if let Edit::Put { id, at } = e {
            stands(&panel, id, Point::new(at[0].mm(), at[1].mm()))?;
        }
        self.did(text, panel)
    }

    /// Makes another text of the file the current one, in one step.
    pub(super) fn rewrite(&mut self, text: String) -> Result<(), Refusal> {
        let panel = read(&self.path, &text, &self.catalogue).map_err(Refusal::Words)?;
        self.did(text, panel)
    }

    fn step(&mut self, back: bool) -> Result<(), Refusal> {
        self.settled()?;
        let from = if back { &mut self.undo } else { &mut self.redo };
        let Some(text) = from.pop() else { return Ok(()) };
        let before = self.text.clone();
        let reached = read(&self.path, &text, &self.catalogue).map_err(Refusal::Words);
        if let Err(why) = reached.and_then(|panel| self.reach(text.clone(), panel)) {
            if back {
                self.undo.push(text)
            } else {
                self.redo.push(text)
            }
            return Err(why);
        }
        if back {
            self.redo.push(before)
        } else {
            self.undo.push(before)
        }
        Ok(())
    }

    /// One step back; nothing where there is none.
    ///
    /// # Errors
    /// A file beside it that is no longer what it was.
    pub fn undo(&mut self) -> Result<(), Refusal> {
        self.step(true)
    }

    /// One step forward again.
    ///
    /// # Errors
    /// As [`Session::undo`].
    pub fn redo(&mut self) -> Result<(), Refusal> {
        self.step(false)
    }

    /// Replaces the file whole. What somebody else wrote meanwhile is only replaced with `over`.
    ///
    /// # Errors
    /// The disk's own.
    pub fn save(&mut self, over: bool) -> Result<Saved, Problem> {
        if let Some(words) = self.offer() {
            return Err(Problem::nowhere("offer-open", words).help("take it up or give it up first"));
        }
        if !over && self.is_changed_on_disk() {
            return Ok(Saved::Conflict);
        }
        if std::fs::metadata(&self.path).is_ok_and(|m| m.permissions().readonly()) {
            let words = format!("{} is write-protected: nothing was saved", self.path);
            return Err(Problem::nowhere("cannot-write", words)
                .help("make it writable, or keep a layout and save that as a file beside it"));
        }
        write_whole(Path::new(&self.path), self.text.as_bytes())?;
        self.saved.clone_from(&self.text);
        self.base = sum(&self.text);
        self.left = None;
        self.journal.clear()?;
        Ok(Saved::Done)
    }

    /// Takes what stands on the disk; what was here can be had back by undo.
    ///
    /// # Errors
    /// The file's own problems.
    pub fn reload(&mut self) -> Result<(), Refusal> {
        let text = Disk::new("").read(&self.path).map_err(|p| Refusal::Words(p.to_string()))?.to_string();
        let panel = read(&self.path, &text, &self.catalogue).map_err(Refusal::Words)?;
        self.settled()?;
        if text == self.text {
            // a file that it builds on may be another one than it was
            (self.findings, self.took) = checked(&panel);
            self.panel = panel;
            self.revision += 1;
        } else {
            self.did(text.clone(), panel)?;
        }
        self.base = sum(&text);
        self.saved = text;
        Ok(())
    }

    /// Takes up what an earlier run left, with its steps, or gives it up.
    ///
    /// # Errors
    /// A text that is no longer a panel.
    pub fn answer_offer(&mut self, take: bool) -> Result<(), Refusal> {
        let Some(left) = self.left.take() else { return Ok(()) };
        if !take {
            return self.journal.clear().map_err(|p| Refusal::Words(p.to_string()));
        }
        let mut texts = left.texts.clone();
        let Some(last) = texts.pop() else { return Ok(()) };
        let panel = match read(&self.path, &last, &self.catalogue) {
            Ok(panel) => panel,
            Err(why) => {
                self.left = Some(left);
                return Err(Refusal::Words(why));
            }
        };
        // a save then sees that the file is not what the changes were made to
        self.base.clone_from(&left.base);
        let before = self.text.clone();
        self.reach(last, panel)?;
        self.undo = std::iter::once(before).chain(texts).collect();
        self.undo.dedup();
        self.redo.clear();
        Ok(())
    }

    /// At a clean stop: an empty journal goes.
    pub fn close(&self) {
        self.journal.remove_if_empty();
        self.photograph.close();
    }
}

/// What the rules say of a panel, and how long that took.
pub(super) fn checked(panel: &Panel) -> (Findings, Duration) {
    let since = Instant::now();
    let findings = check::check(panel, &Options::default());
    (findings, since.elapsed())
}

/// Reads a text as the panel of a file.
pub(super) fn read(path: &str, text: &str, catalogue: &Catalogue) -> Result<Panel, String> {
    problems(path, text, catalogue).map_err(|p| p.to_string())
}

fn problems(path: &str, text: &str, catalogue: &Catalogue) -> Result<Panel, Problems> {
    let disk = Disk::new("");
    let files = Beside { others: &disk, name: path.into(), text: text.into() };
    resolve::resolve(path, &files, catalogue)
}

/// Forgets the oldest texts, so that the others are no more than so many bytes; the newest stays.
fn forget(texts: &mut Vec<String>, most: usize) {
    let mut bytes = 0;
    let fit = texts.iter().rev().take_while(|t| {
        bytes += t.len();
        bytes <= most
    });
    let fit = fit.count().max(1);
    texts.drain(..texts.len().saturating_sub(fit));
}

/// What a hand can take hold of.
pub fn is_item(kind: SubjectKind) -> bool {
    matches!(kind, SubjectKind::Placement | SubjectKind::Label)
}

#[cfg(test)]
mod tests {
    use super::forget;

    #[test]
    fn the_oldest_steps_are_forgotten_and_the_newest_never() {
        let kept = |most: usize| {
            let mut texts: Vec<String> = ["aaaa", "bb", "cccc"].map(String::from).into();
            forget(&mut texts, most);
            texts.concat()
        };
        assert_eq!([10, 9, 6, 5, 0].map(kept), ["aaaabbcccc", "bbcccc", "bbcccc", "cccc", "cccc"]);
    }
}
