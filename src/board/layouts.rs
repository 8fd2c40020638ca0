//! Layouts kept side by side: whole texts of the panel under names, in one file beside it, which is there while one is kept.
//!
//! The file is replaced whole at each change, before that is answered for: what was kept outlives saves, crashes and closed
//! pages. The journal's lock guards it too.

use crate::diag::Problem;
use crate::edit::Refusal;
use crate::files::{Disk, Files, Folder, write_new, write_whole};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// Most layouts of a panel.
const MOST: usize = 40;
/// Longest name, letters.
const LONGEST: usize = 60;
/// Largest file of them, bytes: less than is read again.
const MOST_BYTES: usize = 8 * 1024 * 1024;

/// One.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// Its name, of which there is one.
    pub name: String,
    /// The panel's text.
    pub text: String,
}

/// All of a panel.
#[derive(Clone, Debug)]
pub struct Layouts {
    panel: PathBuf,
    /// Those that are kept, or why the file of them could not be read: it is then left as it is.
    all: Result<Vec<Kept>, String>,
}

fn words(p: &Problem) -> Refusal {
    Refusal::Words(p.to_string())
}

impl Layouts {
    /// Name of the file of a panel's layouts.
    pub fn path_of(panel: &Path) -> PathBuf {
        let name = panel.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        panel.with_file_name(format!(".{name}.board-layouts"))
    }

    /// Reads those of a panel's file.
    pub fn open(panel: &Path) -> Layouts {
        let path = Layouts::path_of(panel);
        let name = path.to_string_lossy().into_owned();
        let all = match Disk::new("").read(&name) {
            Ok(text) => read(&text).ok_or_else(|| {
                format!("{name} holds no layouts that can be read: it is left as it is; move it away to keep new ones")
            }),
            Err(p) if p.code == "no-file" => Ok(Vec::new()),
            Err(p) => Err(p.to_string()),
        };
        Layouts { panel: panel.into(), all }
    }

    /// Those that are kept, in the order in which they were.
    ///
    /// # Errors
    /// The file of them could not be read.
    pub fn list(&self) -> Result<&[Kept], Refusal> {
        self.all.as_deref().map_err(|why| Refusal::Words(why.clone()))
    }

    /// One by its name.
    ///
    /// # Errors
    /// There is none.
    pub fn get(&self, name: &str) -> Result<&Kept, Refusal> {
        let found = self.list()?.iter().find(|k| k.name == name);
        found.ok_or_else(|| Refusal::Words(format!("no layout of the name {name} is kept")))
    }

    /// Keeps a text; without a name it is numbered. Gives the name.
    ///
    /// # Errors
    /// A name that is taken or cannot be one, too many, the disk's own; nothing is changed then.
    pub fn keep(&mut self, name: &str, text: &str) -> Result<String, Refusal> {
        let list = self.list()?;
        let name = match name.trim() {
            "" => (1..)
                .map(|n| format!("Layout {n}"))
                .find(|n| list.iter().all(|k| k.name != *n))
                .unwrap_or_default(),
            name => name.to_string(),
        };
        if name.chars().count() > LONGEST || name.chars().any(char::is_control) {
            return Err(Refusal::Words(format!("a layout's name has at most {LONGEST} letters in one line")));
        }
        if list.iter().any(|k| k.name == name) {
            return Err(Refusal::Words(format!(
                "there is a layout {name} already: give this one another name"
            )));
        }
        if list.len() >= MOST {
            return Err(Refusal::Words(format!("{MOST} layouts are kept already: forget one first")));
        }
        let mut all = list.to_vec();
        all.push(Kept { name: name.clone(), text: text.into() });
        self.replace(all)?;
        Ok(name)
    }

    /// Forgets one.
    ///
    /// # Errors
    /// There is none of that name, or the disk's own.
    pub fn forget(&mut self, name: &str) -> Result<(), Refusal> {
        self.get(name)?;
        let all = self.list()?.iter().filter(|k| k.name != name).cloned().collect();
        self.replace(all)
    }

    /// Writes one, or the panel as it stands, as a panel file of its own in the panel's folder; gives its name.
    ///
    /// # Errors
    /// A name with a path, one that is there already, or the disk's own.
    pub fn save_as(&self, text: &str, file: &str) -> Result<String, Refusal> {
        let file = file.trim();
        let file =
            if file.to_lowercase().ends_with(".json") { file.to_string() } else { format!("{file}.json") };
        // what some system takes for a device or a pattern
        if file.len() <= ".json".len() || file.contains(|c: char| "*?\"<>|".contains(c)) {
            return Err(Refusal::Words(
                "a file's name without a folder is asked for, such as second-idea.json: letters, digits, - and _".into(),
            ));
        }
        let path = Folder::of(&self.panel.to_string_lossy()).path(&file).map_err(|p| words(&p))?;
        write_new(&path, text.as_bytes()).map_err(|p| words(&p))?;
        Ok(file)
    }

    fn replace(&mut self, all: Vec<Kept>) -> Result<(), Refusal> {
        let path = Layouts::path_of(&self.panel);
        if all.is_empty() {
            match std::fs::remove_file(&path) {
                Err(e) if e.kind() != std::io::ErrorKind::NotFound => {
                    return Err(Refusal::Words(format!("cannot remove {}: {e}", path.display())));
                }
                _ => {}
            }
        } else {
            let list: Vec<Value> = all.iter().map(|k| json!({ "name": k.name, "text": k.text })).collect();
            let note = "layouts kept on the board beside the panel; each text is a whole panel file";
            let bytes = format!("{:#}\n", json!({ "format": 1, "note": note, "layouts": list })).into_bytes();
            if bytes.len() > MOST_BYTES {
                return Err(Refusal::Words(
                    "the layouts that are kept are too many for one file: forget one first".into(),
                ));
            }
            write_whole(&path, &bytes).map_err(|p| words(&p))?;
        }
        self.all = Ok(all);
        Ok(())
    }
}

fn read(text: &str) -> Option<Vec<Kept>> {
    let v: Value = serde_json::from_str(text).ok()?;
    if v["format"] != 1 {
        return None;
    }
    let one = |k: &Value| Some(Kept { name: k["name"].as_str()?.into(), text: k["text"].as_str()?.into() });
    v["layouts"].as_array()?.iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    fn folder(name: &str) -> PathBuf {
        let dir = std::env::temp_dir().join(format!("panelwright-layouts-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&dir);
        fs::create_dir_all(&dir).unwrap();
        dir
    }

    #[test]
    fn what_is_kept_is_there_after_any_end() {
        let dir = folder("kept");
        let panel = dir.join("p.json");
        let mut l = Layouts::open(&panel);
        assert_eq!(l.list().unwrap(), []);
        assert!(!Layouts::path_of(&panel).exists(), "nothing is written before one is kept");
        assert_eq!(l.keep("", "{ 1 }").unwrap(), "Layout 1");
        assert_eq!(l.keep(" radios high ", "{ \"\u{e9}\" }\n").unwrap(), "radios high");
        assert_eq!(l.keep("", "{ 3 }").unwrap(), "Layout 2");
        for wrong in ["radios high", &"x".repeat(61), "a\nb"] {
            assert!(l.keep(wrong, "{}").is_err(), "{wrong}");
        }
        // what another program start reads, without any word to this one
        let again = Layouts::open(&panel);
        assert_eq!(again.list().unwrap(), l.list().unwrap());
        assert_eq!(again.get("radios high").unwrap().text, "{ \"\u{e9}\" }\n");
        l.forget("Layout 1").unwrap();
        assert!(l.forget("Layout 1").is_err() && l.get("Layout 1").is_err());
        assert_eq!(l.keep("", "{ 4 }").unwrap(), "Layout 1", "the least number that is free");
        for name in ["Layout 1", "Layout 2", "radios high"] {
            l.forget(name).unwrap();
        }
        assert_eq!(fs::read_dir(&dir).unwrap().count(), 0, "nothing is left behind");
        fs::remove_dir_all(dir).unwrap();
    }

    #[test]
    fn a_file_that_cannot_be_read_is_left_as_it_is() {
        let dir = folder("broken");
        let panel = dir.join("p.json");
        for text in [
            "{ \"format\": 2, \"layouts\": [] }",
            "{ \"format\": 1, \"lay",
            "{ \"format\": 1, \"layouts\": [{}] }",
        ] {
            fs::write(Layouts::path_of(&panel), text).unwrap();
            let mut l = Layouts::open(&panel);
            assert!(l.list().is_err() && l.keep("a", "{}").is_err() && l.forget("a").is_err());
            assert_eq!(fs::read_to_string(Layouts::path_of(&panel)).unwrap(), text);
        }
        fs::remove_dir_all(dir).unwrap();
    }

    #[test]
    fn a_file_of_its_own_replaces_nothing_and_stays_in_the_folder() {
        let dir = folder("own");
        let panel = dir.join("p.json");
        fs::write(&panel, "mine").unwrap();
        let l = Layouts::open(&panel);
        assert_eq!(l.save_as("{ a }", "second").unwrap(), "second.json");
        assert_eq!(fs::read_to_string(dir.join("second.json")).unwrap(), "{ a }");
        assert!(l.save_as("{ b }", "second.json").is_err() && l.save_as("{ b }", "p.json").is_err());
        assert_eq!(fs::read_to_string(dir.join("second.json")).unwrap(), "{ a }");
        assert_eq!(fs::read_to_string(&panel).unwrap(), "mine");
        for wrong in [
            "",
            " ",
            "../x.json",
            "a/b.json",
            "/tmp/x.json",
            "..",
            ".hidden.json",
            "a\\b",
            "c:x",
            "a\0b",
            "a*",
            &"x".repeat(200),
        ] {
            assert!(l.save_as("{}", wrong).is_err(), "{wrong:?}");
        }
        assert_eq!(fs::read_dir(&dir).unwrap().count(), 2);
        fs::remove_dir_all(dir).unwrap();
    }
}
