//! Parts that are not there because their sizes are missing: every rule that would speak of them
//! withholds, and says what it waits for. Missing is never a silent pass.

use super::plan::{Plan, bits};
use super::{Finding, Note, Verdict};
use crate::panel::{Class, Panel, PartRef, Subject};

/// The withheld findings of one subject, one a rule.
pub(super) fn findings(panel: &Panel, plan: &Plan, subject: usize, out: &mut Vec<Finding>) {
    let s = &panel.subjects[subject];
    if s.missing.is_empty() {
        return;
    }
    let mut waits: Vec<(usize, String)> = Vec::new();
    for (name, what) in &s.missing {
        // a part that is there is measured; what it lacks, its own rules ask for
        let Some(class) = class_of(name).filter(|_| !there(s, name)) else { continue };
        for k in bits(plan.rows_of(class)) {
            let order = plan.rows[k].order as usize;
            let words = format!("{name} of {}: {what}", s.id);
            match waits.iter_mut().find(|(o, _)| *o == order) {
                Some((_, all)) if all.contains(&words) => {}
                Some((_, all)) => {
                    all.push_str("; ");
                    all.push_str(&words);
                }
                None => waits.push((order, words)),
            }
        }
    }
    // a subject without any part is told of at its sheet
    let sheet = panel.sheets.get(s.sheet as usize).map_or(0, |sheet| sheet.subject);
    let a = PartRef { subject: if s.parts.is_empty() { sheet } else { subject as u32 }, part: 0 };
    for (order, words) in waits {
        let rule = super::RULES[order];
        let note = Note::Waits(words);
        let (verdict, b) = (Verdict::Withheld, None);
        out.push(Finding {
            rule,
            a,
            b,
            verdict,
            measured: None,
            asked: None,
            loss: 0.0,
            at: [s.at; 2],
            note,
        });
    }
}

fn there(s: &Subject, name: &str) -> bool {
    s.parts.iter().any(|p| p.name == name)
}

/// The class that a missing part would have, by the first word of its name.
pub(super) fn class_of(name: &str) -> Option<Class> {
    let word = name.split(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or(name);
    Some(match word {
        "cutout" | "opening" | "openings" => Class::Cutout,
        "hole" | "holes" => Class::Hole,
        "bezel" => Class::Bezel,
        "flange" => Class::Flange,
        "case" => Class::Case,
        "body" | "bodies" => Class::Body,
        "port" | "ports" => Class::Port,
        "front" | "knob" => Class::Front,
        "head" => Class::Head,
        "nut" => Class::Nut,
        _ => return None,
    })
}
