//! The built-in catalogue: every definition can be read and is refused as soon as one required field
//! is broken, every size names its source, and the sizes of one instrument go together.

#[path = "catalogue/consistent.rs"]
mod consistent;
#[path = "catalogue/patterns.rs"]
mod patterns;
#[path = "catalogue/refused.rs"]
mod refused;

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
    assert!(files.len() >= 25, "{} definitions", files.len());
    for (name, text) in &files {
        if let Err(problems) = read(name, text) {
            panic!("{name}\n{}", problems.render(false));
        }
    }
}

#[test]
fn every_kind_that_a_panel_needs_is_there() {
    let names: Vec<String> = files().into_iter().map(|(name, _)| name).collect();
    for wanted in [
        "round/3-1-8in-front",
        "round/3-1-8in-rear",
        "round/2-1-4in-front",
        "round/80mm-front",
        "display/7in-landscape",
        "standby/3-1-8in",
        "radio/6-1-4in-unit",
        "stack/6-1-4in-frame",
        "switch/toggle",
        "breaker/pullable",
        "switch/key",
        "vent/60mm",
        "jack/phones",
        "blank/3-1-8in",
        "mount/shock",
    ] {
        assert!(names.iter().any(|n| n == wanted), "{wanted}");
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
