//! Drawings that a script of `tests/oracle` writes with other libraries, and what it says of them.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Has a script write its files into a folder of their own; the folder, and the script's facts of each file.
pub fn written(script: &str) -> (PathBuf, Vec<Value>) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(script.replace(".py", ""));
    let _ = std::fs::remove_dir_all(&folder);
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let ran = Command::new(&python)
        .arg(format!("tests/oracle/{script}"))
        .arg(&folder)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    let facts = serde_json::from_slice(&std::fs::read(folder.join("facts.json")).unwrap()).unwrap();
    (folder, facts)
}
