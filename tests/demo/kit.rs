//! What the tests of the demo aeroplanes share.

use panelwright::check::{self, Findings, Note, Verdict};
use panelwright::draw::template::{self, TemplateOptions};
use panelwright::files::Disk;
use panelwright::geom::Point;
use panelwright::panel::{Detail, Panel, Part, Subject, SubjectKind};
use panelwright::resolve::{self, Catalogue};
use std::collections::BTreeMap;
use std::sync::Arc;

pub fn text(path: &str) -> Arc<str> {
    let whole = format!("{}/{path}", env!("CARGO_MANIFEST_DIR"));
    Arc::from(std::fs::read_to_string(&whole).unwrap_or_else(|e| panic!("{path}: {e}")))
}

pub fn resolved(path: &str) -> (Panel, Findings) {
    let files = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let panel = resolve::resolve(path, &files, &Catalogue::builtin());
    let panel = panel.unwrap_or_else(|p| panic!("{}", p.render(false)));
    let findings = check::check(&panel, &check::Options::default());
    (panel, findings)
}

/// Fail, withheld and tight by rule.
pub fn by_rule(findings: &Findings) -> BTreeMap<(&'static str, &'static str), usize> {
    let mut counts = BTreeMap::new();
    for f in findings.list.iter().filter(|f| f.verdict != Verdict::Pass) {
        *counts.entry((f.verdict.word(), f.rule.id)).or_insert(0) += 1;
    }
    counts
}

/// Shortfalls between things that exist and stay, by id.
pub fn shortfalls(panel: &Panel, findings: &Findings) -> Vec<String> {
    findings.list.iter().filter(|f| f.note == Note::BothStay).map(|f| f.id(panel)).collect()
}

/// Whether the template of every sheet may be cut; all or none.
pub fn says_may_be_cut(panel: &Panel, findings: &Findings) -> bool {
    let may = |sheet: usize| {
        let drawn = template::template(panel, sheet, &findings.list, &TemplateOptions::default());
        let drawn = drawn.unwrap_or_else(|e| panic!("{}: {e}", panel.sheets[sheet].id));
        !format!("{drawn:?}").contains("NOT FOR CUTTING")
    };
    let all: Vec<bool> = (0..panel.sheets.len()).map(may).collect();
    assert!(all.iter().all(|m| *m == all[0]), "{all:?}");
    all[0]
}

pub fn subject<'a>(panel: &'a Panel, id: &str) -> &'a Subject {
    &panel.subjects[panel.find(id).unwrap_or_else(|| panic!("{id} is placed"))]
}

pub fn part<'a>(panel: &'a Panel, id: &str, name: &str) -> &'a Part {
    let parts = &subject(panel, id).parts;
    parts.iter().find(|p| p.name == name).unwrap_or_else(|| panic!("{id} has a {name}"))
}

pub fn at(panel: &Panel, id: &str) -> Point {
    subject(panel, id).at
}

/// The name of its definition.
pub fn instrument<'a>(panel: &'a Panel, id: &str) -> &'a str {
    subject(panel, id).facts.as_ref().map_or("", |f| f.instrument.as_str())
}

/// Instruments, units of stacks with them.
pub fn placements(panel: &Panel) -> impl Iterator<Item = &Subject> {
    let fitted = |s: &&Subject| match s.kind {
        SubjectKind::Placement => s.facts.is_some(),
        SubjectKind::Unit => !s.provision,
        _ => false,
    };
    panel.subjects.iter().filter(fitted)
}

/// What a label names.
pub fn label_of(s: &Subject) -> Option<&str> {
    s.parts.iter().find_map(|p| match &p.detail {
        Detail::Label { of, .. } => of.as_deref(),
        _ => None,
    })
}
