//! Every file that ships with the project is read without a problem.

use panelwright::define::{read_instrument, read_panel};
use panelwright::diag::Problems;
use panelwright::files::{Disk, Files};

pub fn disk() -> Disk {
    Disk::new(env!("CARGO_MANIFEST_DIR"))
}

pub fn names(folder: &str) -> Vec<String> {
    let names = disk().list(folder).expect("a folder of the project");
    names.into_iter().filter(|name| name.ends_with(".json")).collect()
}

/// The panel files below `panels`; an instrument of one's own may stand beside its panel.
pub fn panels() -> Vec<String> {
    let is_panel = |name: &String| disk().read(name).is_ok_and(|text| !text.contains("\n  \"instrument\":"));
    names("panels").into_iter().filter(is_panel).collect()
}

#[test]
fn every_instrument_of_the_catalogue_is_read() {
    let mut problems = Problems::new();
    let names = names("instruments");
    assert!(names.len() >= 15);
    for name in names {
        let text = disk().read(&name).expect("a file that was listed");
        assert!(read_instrument(&name, &text, &mut problems).is_some(), "{name}");
    }
    assert!(problems.is_empty(), "{}", problems.render(false));
}

#[test]
fn every_panel_of_the_project_is_read() {
    let mut problems = Problems::new();
    for name in panels().into_iter().chain(names("assets/starter")) {
        let text = disk().read(&name).expect("a file that was listed");
        assert!(read_panel(&name, &text, &mut problems).is_some(), "{name}");
    }
    assert!(problems.is_empty(), "{}", problems.render(false));
}
