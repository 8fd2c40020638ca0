//! Parts that are not there because their sizes are missing: every rule that would speak of them
//! withholds, and says what it waits for. Missing is never a silent pass.

use super::plan::{Plan, Rows, bits};
use super::said::Said;
use super::{Finding, Note, Verdict, spacing};
use crate::panel::{Class, Panel, PartRef, Subject};

/// How many subjects have a part in a row's first role, and in its second.
#[derive(Clone, Debug)]
pub(super) struct Cast {
    of: Vec<u32>,
    from: Vec<u32>,
}

impl Cast {
    /// Counts the subjects' roles.
    pub fn new(rows: usize, roles: impl Iterator<Item = (Rows, Rows)>) -> Cast {
        let mut cast = Cast { of: vec![0; rows], from: vec![0; rows] };
        for (of, from) in roles {
            bits(of).for_each(|k| cast.of[k] += 1);
            bits(from).for_each(|k| cast.from[k] += 1);
        }
        cast
    }

    /// Rows of which someone other than the subject with these roles plays the first, and the second.
    fn without(&self, own: (Rows, Rows)) -> (Rows, Rows) {
        let left = |counts: &[u32], own: Rows| -> Rows {
            let counts = counts.iter().enumerate();
            counts.filter(|(k, n)| **n > u32::from(own & (1 << k) != 0)).map(|(k, _)| 1 << k).sum()
        };
        (left(&self.of, own.0), left(&self.from, own.1))
    }
}

/// The withheld findings of one subject, one a rule. A rule about pairs is withheld only if another
/// subject has, or lacks, what it would be paired with.
pub(super) fn findings(
    panel: &Panel,
    plan: &Plan,
    cast: &Cast,
    subject: usize,
    own: (Rows, Rows),
    said: &mut Said,
) {
    let s = &panel.subjects[subject];
    let (others_of, others_from) = cast.without(own);
    let mut waits: Vec<(u16, String)> = Vec::new();
    for (name, what, class) in unknown(s) {
        let (of, from, inside) = plan.rows_of(class);
        let alone = inside | ((of | from) & (plan.within | plan.hides_own));
        for k in bits((of & others_from) | (from & others_of) | alone) {
            if !spacing::may_speak(plan.rows[k].rule, s) {
                continue;
            }
            let order = plan.rows[k].order;
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
        let rule = super::RULES[order as usize];
        let note = Note::Waits(words);
        let (verdict, b) = (Verdict::Withheld, None);
        let (measured, asked, at) = (None, None, [s.at; 2]);
        said.push(order, Finding { rule, a, b, verdict, measured, asked, loss: 0.0, at, space: None, note });
    }
}

/// What a subject lacks altogether: name, what is missing, and the class that the part would have. A
/// part that is there is measured; what it lacks, the rules that need it ask for.
pub(super) fn unknown(s: &Subject) -> impl Iterator<Item = (&str, &str, Class)> {
    let absent = s.missing.iter().filter(|(name, _)| !s.parts.iter().any(|p| p.name == *name));
    absent.filter_map(|(name, what)| Some((name.as_str(), what.as_str(), class_of(name)?)))
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
