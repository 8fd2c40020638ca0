//! A file that is not there yet, written whole.

use crate::diag::Problem;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

/// Writes a file that is not there yet, whole; what is there is never replaced.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Problem> {
    let shown = path.display();
    let there = || {
        Problem::nowhere("is-there", format!("{shown} is there already: nothing of it is overwritten"))
            .help("give another name")
    };
    let fail = |e: io::Error| match e.kind() {
        io::ErrorKind::AlreadyExists => there(),
        _ => Problem::nowhere("cannot-write", format!("cannot write {shown}: {e}")),
    };
    if fs::symlink_metadata(path).is_ok() {
        return Err(there());
    }
    let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let partial = path.with_file_name(format!(".{name}.{}.partial", std::process::id()));
    let write = |at: &Path, made: io::Result<fs::File>| -> io::Result<()> {
        let mut file = made?;
        let written = file.write_all(bytes).and_then(|()| file.sync_all());
        if written.is_err() {
            // the write's own error is the one to tell
            let _ = fs::remove_file(at);
        }
        written
    };
    write(&partial, fs::File::create(&partial)).map_err(fail)?;
    // a second name for the same bytes is given only where there is none
    let linked = fs::hard_link(&partial, path);
    let _ = fs::remove_file(&partial);
    match linked {
        Err(e) if e.kind() != io::ErrorKind::AlreadyExists => {
            // a disk that knows no second names
            write(path, fs::File::create_new(path)).map_err(fail)
        }
        other => other.map_err(fail),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_there_is_never_replaced() {
        let dir = std::env::temp_dir().join(format!("panelwright-fresh-{}", std::process::id()));
        fs::create_dir_all(&dir).unwrap();
        let path = dir.join("p.json");
        write_new(&path, b"first").unwrap();
        assert_eq!(write_new(&path, b"second").unwrap_err().code, "is-there");
        assert_eq!(fs::read(&path).unwrap(), b"first");
        assert_eq!(write_new(&dir.join("no/p.json"), b"x").unwrap_err().code, "cannot-write");
        #[cfg(unix)]
        {
            // a link that leads nowhere is there too
            std::os::unix::fs::symlink(dir.join("none"), dir.join("loose.json")).unwrap();
            assert_eq!(write_new(&dir.join("loose.json"), b"x").unwrap_err().code, "is-there");
            assert!(!dir.join("none").exists());
            fs::remove_file(dir.join("loose.json")).unwrap();
        }
        assert_eq!(fs::read_dir(&dir).unwrap().count(), 1, "nothing half-written stays");
        fs::remove_dir_all(dir).unwrap();
    }
}
