//! The journal beside a panel's file: every text that was reached and not saved, on the disk before it is answered for.
//!
//! One JSON object a line. A line that a crash cut short is left out; the file is locked while a board has it.

use crate::diag::Problem;
use serde_json::{Value, json};
use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

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
}

fn fail(path: &Path, e: &std::io::Error) -> Problem {
    Problem::nowhere("no-journal", format!("cannot keep the journal {}: {e}", path.display()))
        .help("the panel's folder must be writable, so that a crash loses nothing")
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
        Ok((Journal { file, path }, left))
    }

    /// Writes a text that was reached and waits until the disk has it.
    ///
    /// # Errors
    /// The disk's own.
    pub fn reached(&mut self, base: &str, text: &str) -> Result<(), Problem> {
        let line = format!("{}\n", json!({ "base": base, "text": text }));
        let write = self.file.write_all(line.as_bytes()).and_then(|()| self.file.sync_data());
        write.map_err(|e| fail(&self.path, &e))
    }

    /// Empties it: all is saved, or was given up.
    ///
    /// # Errors
    /// The disk's own.
    pub fn clear(&mut self) -> Result<(), Problem> {
        let clear = self.file.set_len(0).and_then(|()| self.file.seek(SeekFrom::Start(0)).map(drop));
        clear.and_then(|()| self.file.sync_data()).map_err(|e| fail(&self.path, &e))
    }

    /// Takes an empty journal away.
    pub fn remove_if_empty(&self) {
        if self.file.metadata().is_ok_and(|m| m.len() == 0) {
            // a leftover without content is only untidy
            let _ = std::fs::remove_file(&self.path);
        }
    }
}
