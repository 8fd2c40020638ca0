//! The demo panels and the built-in catalogue.

use crate::kit::subject;
use panelwright::files::{Disk, Files};
use panelwright::panel::{Class, Panel, State};
use panelwright::resolve::{Catalogue, resolve};
use std::path::Path;

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
    assert_eq!(subject(&new, "asi").state, State::Existing);
    assert_eq!(subject(&new, "standby").state, State::New);
    // what was taken out leaves its openings: one cutout, four screw holes
    let old = subject(&new, "old-vario");
    assert_eq!(old.state, State::Existing);
    assert!(old.parts.iter().all(|p| p.class == Class::OldOpening));
    assert_eq!(old.parts.len(), 5);
    assert_eq!(new.slug, "wheatear-proposed");
    assert_eq!(new.hash.len(), 64);
}

#[test]
fn both_starter_panels_resolve() {
    disk("assets/starter/panel-mm.json");
    disk("assets/starter/panel-in.json");
}

#[test]
fn the_built_in_list_is_the_folder() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let listed = Disk::new(root).list("instruments").unwrap_or_else(|p| panic!("{p}"));
    let mut files: Vec<String> = listed
        .iter()
        .filter_map(|f| Some(f.strip_prefix("instruments/")?.strip_suffix(".json")?.to_string()))
        .collect();
    // by name: "toggle" before "toggle-double", which the ending turns round
    files.sort();
    let names = Catalogue::builtin().names().unwrap_or_else(|p| panic!("{}", p.render(false)));
    if files != names {
        // one line a file, as the list itself is written
        let mut list = String::from(
            "//! The built-in definitions; a test holds the list against the folder `instruments`.\n\n\
             /// Name and text, sorted by name.\npub(super) static BUILTIN: &[(&str, &str)] = &[\n",
        );
        for name in &files {
            list.push_str(&format!("    (\"{name}\", include_str!(\"../../instruments/{name}.json\")),\n"));
        }
        list.push_str("];\n");
        if std::env::var_os("UPDATE").is_some() {
            std::fs::write(root.join("src/resolve/builtin.rs"), list).expect("the list is written");
        }
        panic!(
            "src/resolve/builtin.rs is not what instruments holds: run UPDATE=1 cargo test --test resolve"
        );
    }
}

#[test]
fn every_definition_can_be_summed_up_and_shown() {
    let catalogue = Catalogue::builtin();
    let all = catalogue.all().unwrap_or_else(|p| panic!("{}", p.render(false)));
    assert!(all.len() >= 15);
    for s in &all {
        let sample = catalogue.sample(&s.name).unwrap_or_else(|p| panic!("{}", p.render(false)));
        assert!(sample.subjects.len() == 2 && !sample.subjects[1].parts.is_empty(), "{}", s.name);
        let one = catalogue.one(&s.name).unwrap_or_else(|p| panic!("{}", p.render(false)));
        assert_eq!(one.title, s.title);
    }
}

#[test]
fn an_unknown_name_is_answered_with_the_nearest() {
    let catalogue = Catalogue::builtin();
    for (name, near) in [
        ("round/3-1-8in-frnt", "round/3-1-8in-front"),
        ("3-1-8in-front", "round/3-1-8in-front"),
        ("switches/toggle", "switch/toggle"),
        ("togle", "switch/toggle"),
    ] {
        let problems = catalogue.one(name).err().unwrap_or_else(|| panic!("{name} was found"));
        let text = problems.render(false);
        assert!(text.contains(near), "{name}: {text}");
        let sample = catalogue.sample(name).err().unwrap_or_else(|| panic!("{name} was found"));
        assert!(sample.sorted()[0].place.is_none());
    }
}
