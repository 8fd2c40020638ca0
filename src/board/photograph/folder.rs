//! What lies beside the panel's file: pictures to choose from, surveys to take up again, and the survey that is saved there.

use crate::files::{Disk, Files, Folder, write_whole};
use crate::import::{Picture, picture};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Widest or highest picture, pixels: a browser shows no larger one whole.
const MOST_SIDE: usize = 16_384;

/// The panel's own folder.
pub(super) struct Beside {
    panel: String,
    folder: Folder,
    /// Texts of surveys as this view read or wrote them.
    known: BTreeMap<String, String>,
}

impl Beside {
    pub fn of(panel: &str) -> Beside {
        Beside { panel: panel.to_owned(), folder: Folder::of(panel), known: BTreeMap::new() }
    }

    /// The file whose journal holds the steps.
    pub fn journal(&self) -> String {
        format!("{}.photograph", self.panel)
    }

    /// The panel's name without its ending.
    pub fn title(&self) -> String {
        let stem = Path::new(&self.panel).file_stem().map(|s| s.to_string_lossy().into_owned());
        stem.unwrap_or_default()
    }

    pub fn pictures(&self) -> Vec<String> {
        self.folder.names(&[".png", ".jpg", ".jpeg"])
    }

    /// Surveys with a picture.
    pub fn surveys(&self) -> Vec<String> {
        let is = |name: &String| {
            let text = self.text(name).unwrap_or_default();
            text.contains("\"survey\"") && super::draft::Draft::of(&text).is_some()
        };
        self.folder.names(&[".json"]).into_iter().filter(is).collect()
    }

    /// A picture's bytes and its pixels.
    pub fn picture(&self, name: &str) -> Result<(Arc<[u8]>, Picture), String> {
        let words = |p: &crate::diag::Problem| match &p.help {
            Some(help) => format!("{}: {help}", p.message),
            None => p.message.clone(),
        };
        let path = self.folder.path(name).map_err(|p| words(&p))?;
        let bytes = Disk::new("").picture(&path.to_string_lossy()).map_err(|p| words(&p))?;
        let read = picture(&bytes).map_err(|fault| format!("{name} {}: {}", fault.says(), fault.help()))?;
        if read.width.max(read.height) > MOST_SIDE {
            let (w, h) = (read.width, read.height);
            return Err(format!(
                "{name} has {w} by {h} pixels, and a browser shows no more than {MOST_SIDE} on a side: save it smaller and pick in that"
            ));
        }
        Ok((bytes, read))
    }

    pub fn text(&self, name: &str) -> Result<String, String> {
        let path = self.folder.path(name).map_err(|p| p.to_string())?;
        let text = Disk::new("").read(&path.to_string_lossy()).map_err(|p| p.to_string())?;
        Ok(text.to_string())
    }

    /// The text that a file had when this view read it.
    pub fn remember(&mut self, name: &str, text: &str) {
        self.known.insert(name.to_owned(), text.to_owned());
    }

    /// Writes a survey whole; a file that this view did not read or write as it stands is replaced only with `over`: what
    /// to ask before comes back.
    pub fn write(&mut self, name: &str, text: &str, over: bool) -> Result<Option<String>, String> {
        let path = self.folder.path(name).map_err(|p| p.to_string())?;
        let is_panel = Path::new(&self.panel).file_name().is_some_and(|own| own == name);
        if is_panel {
            return Err(format!("{name} is the panel itself: give the survey another name"));
        }
        if path.exists() {
            let there = self.text(name)?;
            let is_survey = serde_json::from_str::<Value>(&there).is_ok_and(|v| v["survey"].is_string());
            if !is_survey {
                return Err(format!("{name} is there and no survey: give this one another name"));
            }
            if self.known.get(name) != Some(&there) && !over {
                return Ok(Some(format!("{name} is there already, with other contents.")));
            }
        }
        write_whole(&path, text.as_bytes()).map_err(|p| p.to_string())?;
        self.remember(name, text);
        Ok(None)
    }
}
