//! The built-in catalogue: every kind that a panel needs is there; every definition can be read, resolves, is
//! drawn, and is refused as soon as one field is broken; every size names its source, and the sizes of one
//! instrument go together.

#[path = "catalogue/broken.rs"]
mod broken;
#[path = "catalogue/consistent.rs"]
mod consistent;
#[path = "catalogue/counts.rs"]
mod counts;
#[path = "catalogue/kinds.rs"]
mod kinds;
#[path = "catalogue/patterns.rs"]
mod patterns;
#[path = "catalogue/refused.rs"]
mod refused;
#[path = "catalogue/scan.rs"]
mod scan;

use panelwright::define::{self, Instrument};
use panelwright::diag::Problems;
use std::path::{Path, PathBuf};
use std::sync::Arc;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("instruments")
}

/// Name (`round/3-1-8in-front`) and text of every definition, sorted by name.
fn files() -> Vec<(String, Arc<str>)> {
    let mut found = Vec::new();
    for kind in std::fs::read_dir(folder()).expect("the folder of definitions").flatten() {
        for file in std::fs::read_dir(kind.path()).expect("a folder of one kind").flatten() {
            let path = file.path();
            assert_eq!(path.extension().and_then(|e| e.to_str()), Some("json"), "{}", path.display());
            let text = std::fs::read_to_string(&path).expect("a definition is UTF-8");
            let folder = kind.file_name().into_string().expect("a plain name");
            let stem = path.file_stem().and_then(|s| s.to_str()).expect("a plain name");
            found.push((format!("{folder}/{stem}"), Arc::from(text)));
        }
    }
    found.sort();
    found
}

fn read(name: &str, text: &Arc<str>) -> Result<Instrument, Problems> {
    let mut problems = Problems::new();
    let read = define::read_instrument(name, text, &mut problems);
    match read {
        Some(instrument) => problems.or(instrument),
        None => Err(problems),
    }
}

#[test]
fn every_definition_is_read_without_a_problem() {
    let files = files();
    assert!(files.len() >= 70, "{} definitions", files.len());
    for (name, text) in &files {
        if let Err(problems) = read(name, text) {
            panic!("{name}\n{}", problems.render(false));
        }
    }
}

#[test]
fn titles_are_unique_and_words_find_each() {
    let mut titles = std::collections::BTreeSet::new();
    for (name, text) in files() {
        let Ok(instrument) = read(&name, &text) else { panic!("{name} is read") };
        assert!(titles.insert(instrument.title.value.to_string()), "{name}: title stands twice");
        assert!(!instrument.words.is_empty(), "{name}: no words to find it by");
    }
}
