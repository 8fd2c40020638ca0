//! From files to the resolved panel: the demo panels end to end.

use panelwright::files::{Disk, Files};
use panelwright::panel::{Class, Panel, State};
use panelwright::resolve::{Catalogue, resolve};

fn disk(path: &str) -> Panel {
    let files = Disk::new(env!("CARGO_MANIFEST_DIR"));
    match resolve(path, &files as &dyn Files, &Catalogue::builtin()) {
        Ok(panel) => panel,
        Err(problems) => panic!("{}", problems.render(false)),
    }
}

#[test]
fn the_wheatear_resolves_as_found_and_as_proposed() {
    let found = disk("panels/wheatear/as-found.json");
    assert!(found.subjects.iter().all(|s| s.state == State::Existing));
    let new = disk("panels/wheatear/proposed.json");
    let state = |id: &str| new.find(id).map(|k| new.subjects[k].state);
    assert_eq!(state("asi"), Some(State::Existing));
    assert_eq!(state("standby"), Some(State::New));
    // what was taken out leaves its openings
    let old = &new.subjects[new.find("old-vario").unwrap()];
    assert_eq!(old.state, State::Existing);
    assert!(old.parts.iter().all(|p| p.class == Class::OldOpening));
    assert_eq!(old.parts.len(), 5);
}
