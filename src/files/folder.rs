//! One folder that is open to a page: its files by their bare names, and nothing outside it.

use crate::diag::Problem;
use std::fs;
use std::path::{Path, PathBuf};

/// Most names that are told.
const MOST_NAMES: usize = 500;

/// A folder.
#[derive(Clone, Debug)]
pub struct Folder {
    root: PathBuf,
}

impl Folder {
    /// The folder that a file stands in.
    pub fn of(file: &str) -> Folder {
        let root = Path::new(file).parent().filter(|p| !p.as_os_str().is_empty());
        Folder { root: root.unwrap_or_else(|| Path::new(".")).to_path_buf() }
    }

    /// Names of its files that end so, sorted; none that begins with a point.
    pub fn names(&self, endings: &[&str]) -> Vec<String> {
        let Ok(entries) = fs::read_dir(&self.root) else { return Vec::new() };
        let ends = |name: &str| {
            let name = name.to_ascii_lowercase();
            endings.iter().any(|e| name.ends_with(e))
        };
        let names = entries.flatten().filter_map(|e| e.file_name().into_string().ok());
        let mut all: Vec<String> = names.filter(|n| !n.starts_with('.') && ends(n)).collect();
        all.sort();
        all.truncate(MOST_NAMES);
        all
    }

    /// The path of a name that is there or may be made there.
    ///
    /// # Errors
    /// A name with a folder in it, or one that leads elsewhere.
    pub fn path(&self, name: &str) -> Result<PathBuf, Problem> {
        let bare = !name.is_empty()
            && name.len() <= 120
            && !name.starts_with('.')
            && !name.contains(['/', '\\', ':'])
            && !name.contains(char::is_control);
        if !bare {
            return Err(Problem::nowhere(
                "not-a-name",
                format!("`{name}` is not the name of a file beside the panel"),
            )
            .help("name a file of the panel's own folder, without a path"));
        }
        let path = self.root.join(name);
        // a link is followed before it is judged
        let (Ok(real), Ok(root)) = (fs::canonicalize(&path), fs::canonicalize(&self.root)) else {
            let dangling = fs::symlink_metadata(&path).is_ok_and(|m| m.is_symlink());
            return if dangling { Err(outside(name)) } else { Ok(path) };
        };
        if real.parent() == Some(&root) { Ok(path) } else { Err(outside(name)) }
    }
}

fn outside(name: &str) -> Problem {
    Problem::nowhere(
        "outside-folder",
        format!("{name} leads to a file outside the panel's folder: it is not read"),
    )
    .help("copy the file itself beside the panel")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_lies_in_the_folder_itself_is_named() {
        let root = std::env::temp_dir().join(format!("panelwright-folder-{}", std::process::id()));
        let within = root.join("desk");
        fs::create_dir_all(within.join("deeper.png")).unwrap();
        for name in ["desk/b.png", "desk/a.JPG", "desk/p.json", "desk/.hidden.png", "away.png"] {
            fs::write(root.join(name), "x").unwrap();
        }
        let folder = Folder::of(within.join("p.json").to_str().unwrap());
        assert_eq!(folder.names(&[".png", ".jpg"]), ["a.JPG", "b.png", "deeper.png"]);
        assert_eq!(folder.path("b.png").unwrap(), within.join("b.png"));
        assert!(folder.path("new.json").is_ok());
        for wrong in
            ["", "..", "../away.png", "a/b.png", "/etc/passwd", "c:x.png", "x\\y.png", ".hidden.png", "a\nb"]
        {
            assert_eq!(folder.path(wrong).unwrap_err().code, "not-a-name", "{wrong}");
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(root.join("away.png"), within.join("link.png")).unwrap();
            std::os::unix::fs::symlink(root.join("none.png"), within.join("loose.png")).unwrap();
            std::os::unix::fs::symlink(within.join("b.png"), within.join("fine.png")).unwrap();
            assert_eq!(folder.path("link.png").unwrap_err().code, "outside-folder");
            assert_eq!(folder.path("loose.png").unwrap_err().code, "outside-folder");
            assert!(folder.path("fine.png").is_ok());
        }
        assert_eq!(Folder::of("p.json").root, Path::new("."));
        fs::remove_dir_all(root).unwrap();
    }
}
