//! What a report says, section by section: one file each. Nothing is judged here.

mod accepted;
mod cut;
mod end;
mod equipment;
mod facts;
mod findings;
mod head;
mod limits;
mod lines;
mod order;
mod passes;
mod rules;
mod sizes;
mod space;
mod waits;

use crate::check::{Cure, Findings, NoCure};
use crate::draw::template::{Standing, TemplateOptions, count_words};
use crate::panel::Panel;
use crate::report::cure;
use crate::report::document::Document;
use std::collections::{BTreeMap, BTreeSet};

/// What every section is made from.
struct Told<'a> {
    panel: &'a Panel,
    findings: &'a Findings,
    /// Ids of the findings, in the order of their list.
    ids: Vec<String>,
    /// Cures by place in the list.
    cures: BTreeMap<usize, Result<Cure, NoCure>>,
    standing: Standing,
    /// Every file that a part stands in, sorted.
    files: BTreeSet<String>,
}

impl Told<'_> {
    /// A file's name without its folders, where no other file of the panel ends alike.
    fn short<'n>(&self, file: &'n str) -> &'n str {
        let last = |n: &'n str| n.rsplit('/').next().unwrap_or(n);
        let own = last(file);
        let alike = self.files.iter().filter(|f| f.rsplit('/').next() == Some(own)).count();
        if alike > 1 { file } else { own }
    }
}

/// The whole report of a panel.
pub fn document(panel: &Panel, findings: &Findings) -> Document {
    let told = Told {
        panel,
        findings,
        ids: findings.list.iter().map(|f| f.id(panel)).collect(),
        cures: cure::all(panel, findings),
        standing: Standing::of(panel, &findings.list, &TemplateOptions::default()),
        files: panel.subjects.iter().flat_map(|s| &s.parts).map(|p| p.place.file.to_string()).collect(),
    };
    let revision = panel.title.get("revision").filter(|r| !r.is_empty()).unwrap_or("not given");
    let short = panel.hash.get(..12).unwrap_or(&panel.hash);
    let mut sections = vec![head::summary(&told), head::front_view(&told)];
    sections.extend(findings::sections(&told));
    sections.push(passes::section(&told));
    sections.push(waits::section(&told));
    sections.push(accepted::section(&told));
    sections.push(limits::rests(&told));
    sections.push(limits::own(&told));
    sections.push(equipment::section(&told));
    sections.push(space::section(&told));
    sections.extend(lines::section(&told));
    sections.push(sizes::section(&told));
    sections.push(cut::section(&told));
    sections.push(rules::section(&told));
    sections.extend(end::sections(&told));
    Document {
        title: format!("Fit report: {}", panel.name),
        running: format!("{}, revision {revision}, inputs {short}", panel.name),
        notice: told.standing.notice(),
        meta: vec![
            ("panel".into(), panel.name.clone()),
            ("revision".into(), revision.into()),
            ("inputs".into(), panel.hash.clone()),
            ("verdicts".into(), count_words(&told.standing.counts)),
        ],
        sections,
    }
}
