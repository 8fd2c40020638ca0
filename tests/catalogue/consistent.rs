//! The sizes of one definition go together.

use super::{files, read};
use serde_json::Value;

/// Every number that is a size stands under a source: its own, its part's, or the file's.
#[test]
fn every_size_has_a_source() {
    for (name, text) in files() {
        let Ok(instrument) = read(&name, &text) else { panic!("{name} is read") };
        let general = instrument.source.as_ref().unwrap_or_else(|| panic!("{name}: no source for its sizes"));
        assert!(
            instrument.sources.iter().any(|s| s.name == general.value),
            "{name}: source {}",
            general.value
        );
        let whole: Value = serde_json::from_str(&text).expect("JSON");
        let shown = text.replace("\"source\": \"", "\"used\": \"");
        for source in whole["sources"].as_object().expect("sources").keys() {
            assert!(
                shown.contains(&format!("\"used\": \"{source}\"")),
                "{name}: source {source} is not used"
            );
        }
        for source in &instrument.sources {
            use panelwright::define::instrument::Basis;
            let told = source.document.is_some();
            match source.basis.value {
                Basis::Maker => assert!(told && source.revision.is_some(), "{name}: document and revision"),
                Basis::Measured => {
                    assert!(source.who.is_some() && source.when.is_some(), "{name}: who and when")
                }
                Basis::Standard => assert!(told, "{name}: which standard"),
                Basis::Practice | Basis::Typical | Basis::Invented => {}
            }
        }
    }
}

/// The name of a size is never a size: where a nominal name is a length, the case that passes is another.
#[test]
fn the_nominal_name_is_no_size() {
    for (name, text) in files() {
        let whole: Value = serde_json::from_str(&text).expect("JSON");
        let (Some(case), Some(opening)) = (whole.get("case"), whole.pointer("/openings/0/shape")) else {
            continue;
        };
        assert_ne!(case, opening, "{name}: case and opening are two measured things");
    }
}
