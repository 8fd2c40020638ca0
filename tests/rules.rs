//! Every rule's page in tests/rules: prose, the smallest panels, and what the rule says of them.
//!
//! A page holds blocks: ```` ```json instrument NAME ```` defines an instrument, ```` ```json panel ````
//! a panel, and the ```` ```text ```` block behind it the findings of the page's rule, one a line, each
//! followed by its words where it has any. `UPDATE=1 cargo test` writes what the rule says now.

use panelwright::check::RULES;
use panelwright::diag::Problems;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/rules")
}

#[test]
fn pages_read() {
    let mut bad = String::new();
    for e in fs::read_dir(folder()).unwrap().flatten() {
        let text = fs::read_to_string(e.path()).unwrap();
        for block in text.split("\n```json ").skip(1) {
            let (head, body) = block.split_once('\n').unwrap();
            let body = body.split("\n```").next().unwrap();
            let mut problems = Problems::new();
            let name = format!("{:?} {head}", e.file_name());
            let text: std::sync::Arc<str> = body.into();
            if head == "panel" {
                panelwright::define::read_panel(&name, &text, &mut problems);
            } else {
                panelwright::define::read_instrument(&name, &text, &mut problems);
            }
            for p in problems.sorted() {
                bad.push_str(&format!("{p}\n"));
            }
        }
    }
    assert!(bad.is_empty(), "{bad}");
}

#[test]
fn the_ledger_names_every_rule_and_no_other() {
    let text = fs::read_to_string(folder().join("../../src/check/SOURCES.md")).unwrap();
    let named: BTreeSet<&str> = text.split('`').skip(1).step_by(2).collect();
    let rules: BTreeSet<&str> = RULES.iter().map(|r| r.id).collect();
    assert_eq!(named, rules);
}
