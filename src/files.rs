//! Files in and out: what is read comes through [`Files`], what is written replaces a file whole.
//!
//! Names are texts with forward slashes. Only this module, the command line and the board touch a
//! disk.

mod folder;
mod fresh;

pub use folder::Folder;
pub use fresh::write_new;

use crate::diag::{Problem, Where};
use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Largest file that is read, in bytes (16 MiB): a panel file is a few kilobytes, a drawing a few
/// megabytes.
pub const MOST_BYTES: u64 = 16 * 1024 * 1024;
/// Largest picture that is read, in bytes (128 MiB): a phone's, saved without loss, takes 20 to 60.
const MOST_PICTURE_BYTES: u64 = 128 * 1024 * 1024;
/// Deepest folder that a listing enters, and most files that it gives.
const MOST_DEPTH: usize = 16;
const MOST_FILES: usize = 100_000;

/// Where files come from.
pub trait Files {
    /// The bytes of a file, at most [`MOST_BYTES`].
    fn bytes(&self, name: &str) -> Result<Arc<[u8]>, Problem>;

    /// The names of all files in a folder and in the folders below it, sorted.
    fn list(&self, folder: &str) -> Result<Vec<String>, Problem>;

    /// The text of a file, which must be UTF-8.
    fn read(&self, name: &str) -> Result<Arc<str>, Problem> {
        let bytes = self.bytes(name)?;
        match std::str::from_utf8(&bytes) {
            Ok(text) => Ok(text.into()),
            Err(e) => {
                let start = e.valid_up_to();
                let before = bytes.get(..start).and_then(|b| std::str::from_utf8(b).ok()).unwrap_or("");
                let line = before.matches('\n').count() + 1;
                let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
                let end = start + e.error_len().unwrap_or(bytes.len() - start);
                let (line, column) =
                    (u32::try_from(line).unwrap_or(u32::MAX), u32::try_from(column).unwrap_or(u32::MAX));
                let place = Where { file: name.into(), start, end, line, column };
                let message = format!("this is not UTF-8 text (byte {start} of {name})");
                Err(Problem::new("not-utf8", &place, message).help("save the file as UTF-8"))
            }
        }
    }
}

/// One file held in memory beside others.
pub struct Beside<'a> {
    /// The others.
    pub others: &'a dyn Files,
    /// Its name.
    pub name: String,
    /// Its text.
    pub text: String,
}

impl Files for Beside<'_> {
    fn bytes(&self, name: &str) -> Result<Arc<[u8]>, Problem> {
        if name == self.name { Ok(self.text.as_bytes().into()) } else { self.others.bytes(name) }
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, Problem> {
        self.others.list(folder)
    }
}

/// Files on disk; names are relative to a root folder.
#[derive(Clone, Debug)]
pub struct Disk {
    root: PathBuf,
}

impl Disk {
    /// Names are taken from `root`; an absolute name stands for itself.
    pub fn new(root: impl Into<PathBuf>) -> Self {
        Disk { root: root.into() }
    }

    /// The path of a name on disk.
    pub fn path(&self, name: &str) -> PathBuf {
        self.root.join(name)
    }

    /// The bytes of a picture: it may be larger than what a person writes.
    pub fn picture(&self, name: &str) -> Result<Arc<[u8]>, Problem> {
        self.bytes_up_to(name, MOST_PICTURE_BYTES)
    }

    fn bytes_up_to(&self, name: &str, most: u64) -> Result<Arc<[u8]>, Problem> {
        let fail = |e: io::Error| cannot_read(name, &e);
        let path = self.path(name);
        // A pipe or a device could give bytes for ever, or none.
        if !fs::metadata(&path).map_err(fail)?.is_file() {
            let what = if path.is_dir() { "a folder" } else { "not a file" };
            return Err(Problem::nowhere("not-a-file", format!("{name} is {what}"))
                .help("name the file itself, such as panel.json"));
        }
        let file = fs::File::open(path).map_err(fail)?;
        let mut bytes = Vec::new();
        file.take(most + 1).read_to_end(&mut bytes).map_err(fail)?;
        if bytes.len() as u64 > most {
            return Err(too_large(name, most));
        }
        Ok(bytes.into())
    }
}

impl Files for Disk {
    fn bytes(&self, name: &str) -> Result<Arc<[u8]>, Problem> {
        self.bytes_up_to(name, MOST_BYTES)
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, Problem> {
        let mut names = Vec::new();
        let mut todo = vec![(folder.trim_end_matches('/').to_string(), 0)];
        while let Some((name, depth)) = todo.pop() {
            let fail = |e: io::Error| cannot_read(if name.is_empty() { "." } else { &name }, &e);
            for entry in fs::read_dir(self.path(&name)).map_err(fail)? {
                let entry = entry.map_err(fail)?;
                // A name that is not UTF-8 cannot be typed into a panel file either.
                let Ok(own) = entry.file_name().into_string() else { continue };
                let full = if name.is_empty() { own } else { format!("{name}/{own}") };
                let kind = entry.file_type().map_err(fail)?;
                if kind.is_dir() && depth < MOST_DEPTH {
                    todo.push((full, depth + 1));
                } else if !kind.is_dir() && names.len() < MOST_FILES {
                    names.push(full);
                }
            }
        }
        names.sort();
        Ok(names)
    }
}

/// Files held in memory.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    files: BTreeMap<String, Arc<[u8]>>,
}

impl Memory {
    /// No files.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds or replaces a file.
    pub fn with(mut self, name: impl Into<String>, bytes: impl AsRef<[u8]>) -> Self {
        self.files.insert(name.into(), bytes.as_ref().into());
        self
    }
}

impl Files for Memory {
    fn bytes(&self, name: &str) -> Result<Arc<[u8]>, Problem> {
        match self.files.get(name) {
            Some(bytes) if bytes.len() as u64 > MOST_BYTES => Err(too_large(name, MOST_BYTES)),
            Some(bytes) => Ok(bytes.clone()),
            None => Err(cannot_read(name, &io::Error::from(io::ErrorKind::NotFound))),
        }
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, Problem> {
        let folder = folder.trim_end_matches('/');
        let below = |name: &&String| {
            folder.is_empty() || name.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/'))
        };
        Ok(self.files.keys().filter(below).cloned().collect())
    }
}

fn too_large(name: &str, most: u64) -> Problem {
    Problem::nowhere("too-large", format!("{name} is larger than {} MiB", most >> 20))
        .help("is this the right file?")
}

fn cannot_read(name: &str, e: &io::Error) -> Problem {
    let (code, why, help) = match e.kind() {
        io::ErrorKind::NotFound => ("no-file", "there is no such file".to_string(), None),
        io::ErrorKind::PermissionDenied => {
            ("no-permission", "permission denied".to_string(), Some("ask for the right to read it"))
        }
        io::ErrorKind::NotADirectory => {
            ("cannot-read", "a file stands where a folder is named".to_string(), Some("check the name"))
        }
        _ => ("cannot-read", e.to_string(), None),
    };
    Problem { help: help.map(str::to_owned), ..Problem::nowhere(code, format!("cannot read {name}: {why}")) }
}

/// The name of a file that is named in another one: relative to the folder of that other one.
/// `.` and `..` are resolved in the text, so that one file has one name.
pub fn beside(name: &str, other: &str) -> String {
    if other.starts_with('/') {
        return other.to_string();
    }
    let root = if name.starts_with('/') { "/" } else { "" };
    let folder = name.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = Vec::new();
    for part in folder.split('/').chain(other.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|p| *p != "..") => {
                parts.pop();
            }
            ".." if !root.is_empty() => {}
            part => parts.push(part),
        }
    }
    format!("{root}{}", parts.join("/"))
}

/// The name under which a file is named in another one: the inverse of [`beside`]. `None`: the one is named from the root
/// and the other is not, or the way would lead down from a folder above that has no name here.
pub fn named_in(name: &str, file: &str) -> Option<String> {
    let (from, to) = (beside("", name), beside("", file));
    if from.starts_with('/') != to.starts_with('/') {
        return None;
    }
    let folders = |p: &str| -> Vec<String> {
        p.split('/').filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    let (mut from, to) = (folders(&from), folders(&to));
    from.pop();
    let same = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    let up = from.get(same..)?;
    if up.iter().any(|part| part == "..") {
        return None;
    }
    let down = to.get(same..)?.iter().map(String::as_str);
    Some(up.iter().map(|_| "..").chain(down).collect::<Vec<_>>().join("/"))
}

/// Replaces a file whole: whoever reads it sees the old bytes or the new ones, never a part.
///
/// The bytes go to a new file in the same folder, are flushed to the disk, and the new file takes
/// the old one's name. On any error the old file is untouched and the new one is removed.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Problem> {
    let shown = path.display();
    let fail = |e: io::Error| {
        let why = match e.kind() {
            io::ErrorKind::NotFound => "its folder is not there: make it first".to_string(),
            io::ErrorKind::PermissionDenied => "permission denied: choose another folder".to_string(),
            io::ErrorKind::NotADirectory => "a file stands where its folder is named".to_string(),
            _ => e.to_string(),
        };
        Problem::nowhere("cannot-write", format!("cannot write {shown}: {why}"))
    };
    // Through a link, the file it names is replaced, not the link.
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let Some(name) = target.file_name() else {
        return Err(Problem::nowhere("cannot-write", format!("cannot write {shown}: it names no file")));
    };
    if target.is_dir() {
        return Err(Problem::nowhere("cannot-write", format!("cannot write {shown}: it is a folder")));
    }
    let mut partial_name = std::ffi::OsString::from(".");
    partial_name.push(name);
    partial_name.push(format!(".{}.partial", std::process::id()));
    let partial = target.with_file_name(partial_name);
    let write = || -> io::Result<()> {
        let mut file = fs::File::create(&partial)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        if let Ok(old) = fs::metadata(&target) {
            fs::set_permissions(&partial, old.permissions())?;
        }
        fs::rename(&partial, &target)
    };
    write().map_err(|e| {
        // The write's own error is the one to tell; a leftover is only untidy.
        let _ = fs::remove_file(&partial);
        fail(e)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> PathBuf {
        let dir = std::env::temp_dir().join(format!("panelwright-{name}-{}", std::process::id()));
        fs::create_dir_all(&dir).unwrap();
        dir
    }

    #[test]
    fn disk_and_memory_answer_alike() {
        let dir = folder("files");
        fs::create_dir_all(dir.join("a/b")).unwrap();
        for (name, text) in [("a/b/two.json", "2"), ("a/one.json", "1"), ("zero.json", "0")] {
            write_whole(&dir.join(name), text.as_bytes()).unwrap();
        }
        let disk = Disk::new(&dir);
        let memory = Memory::new().with("a/b/two.json", "2").with("a/one.json", "1").with("zero.json", "0");
        for files in [&disk as &dyn Files, &memory] {
            assert_eq!(files.list("a").unwrap(), ["a/b/two.json", "a/one.json"]);
            assert_eq!(files.list("").unwrap().len(), 3);
            assert_eq!(files.read("a/one.json").unwrap().as_ref(), "1");
            assert_eq!(files.read("none.json").unwrap_err().code, "no-file");
        }
        assert_eq!(disk.read("a").unwrap_err().code, "not-a-file");
        fs::remove_dir_all(dir).unwrap();
    }

    #[test]
    fn files_are_replaced_whole_and_nothing_is_left_behind() {
        let dir = folder("whole");
        let path = dir.join("panel.json");
        write_whole(&path, b"first").unwrap();
        write_whole(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(fs::read_dir(&dir).unwrap().count(), 1);
        assert_eq!(write_whole(&dir, b"x").unwrap_err().code, "cannot-write");
        assert_eq!(write_whole(&dir.join("no/such.json"), b"x").unwrap_err().code, "cannot-write");
        fs::remove_dir_all(dir).unwrap();
    }

    #[test]
    fn wrong_bytes_and_giants_are_refused_by_name() {
        let big = vec![b' '; MOST_BYTES as usize + 1];
        let files = Memory::new().with("latin1", b"{}\n\xe9").with("big", big);
        let e = files.read("latin1").unwrap_err();
        assert_eq!(e.code, "not-utf8");
        let at = e.place.as_ref().map(|w| (w.line, w.column, w.start));
        assert_eq!(at, Some((2, 1, 3)), "{e}");
        assert_eq!(files.read("big").unwrap_err().code, "too-large");
    }

    #[test]
    fn names_beside_a_file() {
        assert_eq!(beside("panels/wheatear/proposed.json", "found.json"), "panels/wheatear/found.json");
        assert_eq!(beside("panels/proposed.json", "../instruments/x.json"), "instruments/x.json");
        assert_eq!(beside("p.json", "./q.json"), "q.json");
        assert_eq!(beside("p.json", "../q.json"), "../q.json");
        assert_eq!(beside("/a/p.json", "../../../q.json"), "/q.json");
        assert_eq!(beside("/a/p.json", "/q.json"), "/q.json");
    }

    #[test]
    fn names_in_another_file_lead_there() {
        for (name, file, want) in [
            ("p.json", "own.json", Some("own.json")),
            ("panels/p.json", "own.json", Some("../own.json")),
            ("panels/p.json", "panels/own.json", Some("own.json")),
            ("a/b/p.json", "./a/c/../d/own.json", Some("../d/own.json")),
            ("p.json", "../own.json", Some("../own.json")),
            ("../x/p.json", "../own.json", Some("../own.json")),
            ("../x/p.json", "own.json", None),
            ("/a/p.json", "/b/own.json", Some("../b/own.json")),
            ("/a/p.json", "own.json", None),
        ] {
            let named = named_in(name, file);
            assert_eq!(named.as_deref(), want, "{name} {file}");
            if let Some(named) = named {
                assert_eq!(beside(name, &named), beside("", file), "{name} {file}");
            }
        }
    }
}
