//! Files are replaced whole: a reader sees the old bytes or the new ones, never a part.

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Most names tried for the file that is written first.
const TRIES: u32 = 100;

/// Writes `bytes` beside `path`, makes them durable, then renames them to `path`. An existing file keeps
/// its permissions; a link is followed, so that what it points at is replaced.
///
/// # Errors
/// Whatever the file system refuses; `path` is then as it was and nothing is left beside it.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let path = match fs::canonicalize(path) {
        Ok(real) => real,
        Err(e) if e.kind() == ErrorKind::NotFound => path.to_owned(),
        Err(e) => return Err(e),
    };
    if path.is_dir() {
        return Err(io::Error::new(ErrorKind::IsADirectory, "it is a folder"));
    }
    let (beside, mut file) = beside(&path)?;
    let done = fill(&mut file, bytes)
        .and_then(|()| match fs::metadata(&path) {
            Ok(old) => fs::set_permissions(&beside, old.permissions()),
            Err(_) => Ok(()),
        })
        .and_then(|()| fs::rename(&beside, &path));
    if done.is_err() {
        // the first error is the one to tell
        let _ = fs::remove_file(&beside);
    }
    done
}

fn fill(file: &mut File, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    file.sync_all()
}

/// A new, empty file in the same folder, so that the rename stays within one file system.
fn beside(path: &Path) -> io::Result<(PathBuf, File)> {
    let name =
        path.file_name().ok_or_else(|| io::Error::new(ErrorKind::InvalidInput, "it has no file name"))?;
    for k in 0..TRIES {
        let mut own = std::ffi::OsString::from(".");
        own.push(name);
        own.push(format!(".{}-{k}.part", std::process::id()));
        let own = path.with_file_name(own);
        match OpenOptions::new().write(true).create_new(true).open(&own) {
            Ok(file) => return Ok((own, file)),
            Err(e) if e.kind() == ErrorKind::AlreadyExists => {}
            Err(e) => return Err(e),
        }
    }
    Err(io::Error::new(
        ErrorKind::AlreadyExists,
        "too many unfinished files beside it: remove the .part files",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An empty folder of this test's own.
    fn folder(name: &str) -> PathBuf {
        let dir = std::env::temp_dir().join(format!("panelwright-whole-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&dir);
        fs::create_dir_all(&dir).expect("temporary folder");
        dir
    }

    fn names(dir: &Path) -> Vec<String> {
        let mut all: Vec<String> = fs::read_dir(dir)
            .expect("folder")
            .map(|e| e.expect("entry").file_name().to_string_lossy().into_owned())
            .collect();
        all.sort();
        all
    }

    #[test]
    fn replaces_and_leaves_nothing_beside() {
        let dir = folder("replace");
        let path = dir.join("a.svg");
        write_whole(&path, b"one").expect("first");
        write_whole(&path, b"two").expect("second");
        assert_eq!(fs::read(&path).expect("read"), b"two");
        assert_eq!(names(&dir), ["a.svg"]);
        fs::remove_dir_all(dir).expect("clean");
    }

    #[test]
    fn an_error_leaves_all_as_it_was() {
        let dir = folder("error");
        fs::create_dir(dir.join("taken")).expect("folder in the way");
        assert!(write_whole(&dir.join("taken"), b"x").is_err());
        assert!(write_whole(&dir.join("no").join("such.svg"), b"x").is_err());
        assert!(write_whole(Path::new("/"), b"x").is_err());
        assert_eq!(names(&dir), ["taken"]);
        fs::remove_dir_all(dir).expect("clean");
    }

    #[cfg(unix)]
    #[test]
    fn follows_a_link_and_keeps_permissions() {
        use std::os::unix::fs::PermissionsExt;
        let dir = folder("link");
        let real = dir.join("real");
        fs::write(&real, b"old").expect("write");
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("mode");
        std::os::unix::fs::symlink(&real, dir.join("link")).expect("link");
        write_whole(&dir.join("link"), b"new").expect("write");
        assert_eq!(fs::read(&real).expect("read"), b"new");
        assert_eq!(fs::metadata(&real).expect("meta").permissions().mode() & 0o777, 0o640);
        assert!(fs::symlink_metadata(dir.join("link")).expect("meta").file_type().is_symlink());
        fs::remove_dir_all(dir).expect("clean");
    }
}
