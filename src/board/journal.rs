//! The journal beside a panel's file: every text that was reached and not saved, on the disk before it is answered for.
//!
//! One JSON object a line. A line that a crash cut short is left out; the file is locked while a board has it.

use crate::diag::Problem;
use serde_json::{Value, json};
use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

/// A journal that has grown so long between two saves is written anew with its last texts alone, bytes.
const LONG: u64 = 64 * 1024 * 1024;
/// Largest journal that is read, bytes. A longer one is refused and left as it is: what was reached last stands at its end.
const MOST: u64 = 256 * 1024 * 1024;

/// What an earlier run left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// Sum of the file's text that it started from.
    pub base: String,
    /// The texts that were reached, in order.
    pub texts: Vec<String>,
}

/// An open journal.
#[derive(Debug)]
pub struct Journal {
    file: File,
    path: PathBuf,
    /// Bytes of whole lines in it.
    length: u64,
    long: u64,
    /// Files that were replaced: each keeps its lock, for who opened it before.
    replaced: Vec<File>,
}

fn fail(path: &Path, e: &std::io::Error) -> Problem {
    Problem::nowhere("no-journal", format!("cannot keep the journal {}: {e}", path.display()))
        .help("the panel's folder must be writable, so that a crash loses nothing")
}

fn line(base: &str, text: &str) -> String {
    format!("{}\n", json!({ "base": base, "text": text }))
}

impl Journal {
    /// Name of the journal of a panel file.
    pub fn path_of(panel: &Path) -> PathBuf {
        let name = panel.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        panel.with_file_name(format!(".{name}.board-journal"))
    }

    /// Opens it, makes it where there is none, and reads what an earlier run left.
    ///
    /// # Errors
    /// The disk's own, or another board that has it.
    pub fn open(panel: &Path) -> Result<(Journal, Option<Left>), Problem> {
        let path = Journal::path_of(panel);
        let open = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path);
        let mut file = open.map_err(|e| fail(&path, &e))?;
        if file.try_lock().is_err() {
            return Err(Problem::nowhere(
                "board-open",
                format!("another board has {} open", panel.display()),
            )
            .help("use its page, or stop it first"));
        }
        let long = file.metadata().map_err(|e| fail(&path, &e))?.len();
        if long > MOST {
            let words = format!("the journal {} is too long to be read: {long} bytes", path.display());
            return Err(Problem::nowhere("no-journal", words).help(
                "move it away; each line is a JSON object with a text that was reached, the last one last",
            ));
        }
        let mut bytes = Vec::new();
        (&mut file).take(MOST).read_to_end(&mut bytes).map_err(|e| fail(&path, &e))?;
        // a line that has no end was being written when the program was ended
        let whole = bytes.iter().rposition(|b| *b == b'\n').map_or(0, |k| k + 1);
        file.set_len(whole as u64).map_err(|e| fail(&path, &e))?;
        file.seek(SeekFrom::End(0)).map_err(|e| fail(&path, &e))?;
        let text = String::from_utf8_lossy(bytes.get(..whole).unwrap_or(&[])).into_owned();
        let mut left: Option<Left> = None;
        for line in text.lines() {
            let Ok(v) = serde_json::from_str::<Value>(line) else { continue };
            let (Some(base), Some(text)) = (v["base"].as_str(), v["text"].as_str()) else { continue };
            match &mut left {
                Some(l) if l.base == base => l.texts.push(text.to_owned()),
                _ => left = Some(Left { base: base.to_owned(), texts: vec![text.to_owned()] }),
            }
        }
        Ok((Journal { file, path, length: whole as u64, long: LONG, replaced: Vec::new() }, left))
    }

    /// Writes a text that was reached and waits until the disk has it. Of the texts `before` it, oldest first, those are
    /// kept that a journal which has become too long has room for.
    ///
    /// # Errors
    /// The disk's own; the journal is then as it was.
    pub fn reached<'a>(
        &mut self,
        base: &str,
        text: &str,
        before: impl DoubleEndedIterator<Item = &'a str>,
    ) -> Result<(), Problem> {
        let own = line(base, text);
        if self.length > self.long {
            let mut room = self.long / 2;
            let mut kept = vec![own.clone()];
            for line in before.rev().map(|t| line(base, t)) {
                let Some(left) = room.checked_sub(line.len() as u64) else { break };
                room = left;
                kept.push(line);
            }
            kept.reverse();
            // where it cannot be written anew it grows on
            if self.anew(&kept.concat()).is_ok() {
                return Ok(());
            }
        }
        match self.file.write_all(own.as_bytes()).and_then(|()| self.file.sync_data()) {
            Ok(()) => {
                self.length += own.len() as u64;
                Ok(())
            }
            Err(e) => {
                // half a line would spoil the next one
                let _ = self.file.set_len(self.length);
                let _ = self.file.seek(SeekFrom::Start(self.length));
                Err(fail(&self.path, &e))
            }
        }
    }

    /// Other lines in its place, in one step: an end at any moment leaves the one or the other.
    fn anew(&mut self, lines: &str) -> std::io::Result<()> {
        let new = self.path.with_extension("board-journal-new");
        let write = || {
            let mut file =
                OpenOptions::new().read(true).write(true).create(true).truncate(true).open(&new)?;
            file.try_lock()?;
            file.write_all(lines.as_bytes())?;
            file.sync_data()?;
            std::fs::rename(&new, &self.path)?;
            Ok(file)
        };
        match write() {
            Ok(file) => {
                self.replaced.push(std::mem::replace(&mut self.file, file));
                self.length = lines.len() as u64;
                Ok(())
            }
            Err(e) => {
                // a leftover is only untidy
                let _ = std::fs::remove_file(&new);
                Err(e)
            }
        }
    }

    /// Empties it: all is saved, or was given up.
    ///
    /// # Errors
    /// The disk's own.
    pub fn clear(&mut self) -> Result<(), Problem> {
        let clear = self.file.set_len(0).and_then(|()| self.file.seek(SeekFrom::Start(0)).map(drop));
        clear.and_then(|()| self.file.sync_data()).map_err(|e| fail(&self.path, &e))?;
        self.length = 0;
        Ok(())
    }

    /// Takes an empty journal away.
    pub fn remove_if_empty(&self) {
        if self.file.metadata().is_ok_and(|m| m.len() == 0) {
            // a leftover without content is only untidy
            let _ = std::fs::remove_file(&self.path);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_journal_keeps_its_last_texts_and_its_lock() {
        let dir = std::env::temp_dir().join(format!("panelwright-journal-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&dir);
        std::fs::create_dir_all(&dir).unwrap();
        let panel = dir.join("p.json");
        let (mut j, left) = Journal::open(&panel).unwrap();
        assert_eq!(left, None);
        j.long = 1000;
        let texts: Vec<String> = (0..100).map(|n| format!("text {n:03}")).collect();
        let mut most = 0;
        for (k, text) in texts.iter().enumerate() {
            j.reached("b", text, texts[..k].iter().map(String::as_str)).unwrap();
            most = most.max(std::fs::metadata(Journal::path_of(&panel)).unwrap().len());
            assert!(Journal::open(&panel).is_err(), "no other board may have it");
        }
        assert!((900..1100).contains(&most), "{most}");
        drop(j);
        let (mut j, left) = Journal::open(&panel).unwrap();
        let kept = left.unwrap().texts;
        assert!(kept.len() > 10 && texts.ends_with(&kept), "{kept:?}");
        j.clear().unwrap();
        j.reached("b", "one", std::iter::empty()).unwrap();
        drop(j);
        assert_eq!(Journal::open(&panel).unwrap().1.unwrap().texts, ["one"]);
        assert_eq!(std::fs::read_dir(&dir).unwrap().count(), 1, "nothing is left beside it");
        std::fs::remove_dir_all(dir).unwrap();
    }
}
