//! Items taken out of the panel. What stands by a relation to one of them can be put at coordinates where it stands, and
//! labels that name one can go with it; that is asked first, and is one step.

use super::session::{Session, is_item, read};
use super::stood::{SAME, stands};
use crate::edit::{self, Edit, Refusal};
use crate::files::{Disk, Files};
use crate::geom::{Point, length};
use crate::panel::{Detail, Panel, Subject};
use crate::units::Length;

/// What hangs on items that are taken out.
#[derive(Default)]
struct Hangs {
    /// What stands by a relation to one of them, and where.
    beside: Vec<(String, Point)>,
    /// Labels that name one of them.
    labels: Vec<String>,
}

impl Session {
    /// Takes items out, as one step. With `plain`, what stands by a relation to one of them is put at coordinates where it
    /// stands, and labels that name one go with it.
    ///
    /// # Errors
    /// Without `plain`, what hangs on them; else why the panel cannot be without them. Nothing is changed then.
    pub fn take_out(&mut self, ids: &[String], plain: bool) -> Result<(), Refusal> {
        self.settled()?;
        let gone = |ids: &[String]| ids.iter().cloned().map(|id| Edit::Delete { id }).collect::<Vec<_>>();
        let alone = self.without(&gone(ids));
        let hangs = self.hangs_on(ids);
        let (text, panel) = match alone {
            // no more than what was asked for: a label that only its item names stays
            Ok((text, panel)) => {
                let closed = self.closed_up(&panel);
                if !plain && !closed.is_empty() {
                    return Err(Refusal::NoNumber(format!(
                        "{} would move, as a row closes up where {} stood",
                        closed.join(", "),
                        ids.join(", ")
                    )));
                }
                (text, panel)
            }
            Err(why) if hangs.beside.is_empty() && hangs.labels.is_empty() => return Err(why),
            Err(_) => {
                let unit = self.panel.unit;
                let mut all = Vec::new();
                for (id, p) in &hangs.beside {
                    let at = Length::from_mm(p.x, unit).zip(Length::from_mm(p.y, unit)).map(|(x, y)| [x, y]);
                    let at = at.ok_or_else(|| Refusal::Words(format!("{id} stands off the panel")))?;
                    all.push(Edit::Put { id: id.clone(), at });
                }
                all.extend(gone(&hangs.labels));
                all.extend(gone(ids));
                // what cannot be done is not offered
                let (text, panel) = self.without(&all)?;
                for (id, at) in &hangs.beside {
                    stands(&panel, id, *at)?;
                }
                if !plain {
                    return Err(Refusal::NoNumber(hangs.words(ids)));
                }
                (text, panel)
            }
        };
        self.did(text, panel)
    }

    /// The text and the panel after edits.
    fn without(&self, all: &[Edit]) -> Result<(String, Panel), Refusal> {
        let mut text = self.text().to_string();
        for e in all {
            text = edit::by_hand(&text, self.panel.unit, e)?;
        }
        let panel = read(self.path(), &text, self.catalogue()).map_err(Refusal::Words)?;
        Ok((text, panel))
    }

    /// What no longer stands where it stood.
    fn closed_up(&self, panel: &Panel) -> Vec<String> {
        let moved = |s: &&Subject| {
            let now = panel.find(&s.id).and_then(|k| panel.subjects.get(k));
            now.is_some_and(|now| length(now.at - s.at) > SAME)
        };
        let items = self.panel.subjects.iter().filter(|s| is_item(s.kind));
        items.filter(moved).map(|s| s.id.clone()).collect()
    }

    fn hangs_on(&self, ids: &[String]) -> Hangs {
        let mut hangs = Hangs::default();
        for s in self.panel.subjects.iter().filter(|s| is_item(s.kind) && !ids.contains(&s.id)) {
            if names(s).is_some_and(|of| ids.contains(of)) {
                hangs.labels.push(s.id.clone());
                continue;
            }
            if self.told_from(s).is_some_and(|from| from.iter().any(|id| ids.contains(id))) {
                hangs.beside.push((s.id.clone(), s.at));
            }
        }
        hangs
    }

    /// The items from which an item's place is told, in this file or in the one below that describes it; `None`: it has no
    /// place of its own, as lettering that an item carries.
    pub(super) fn told_from(&self, s: &Subject) -> Option<Vec<String>> {
        let below = || edit::told_from(&Disk::new("").read(&s.place.file).ok()?, &s.id);
        edit::told_from(self.text(), &s.id).or_else(below)
    }
}

/// The item that a label names.
fn names(s: &Subject) -> Option<&String> {
    s.parts.iter().find_map(|p| match &p.detail {
        Detail::Label { of, .. } => of.as_ref(),
        _ => None,
    })
}

impl Hangs {
    /// What would be done, in words.
    fn words(&self, gone: &[String]) -> String {
        let gone = gone.join(", ");
        let mut all = Vec::new();
        let beside: Vec<&str> = self.beside.iter().map(|(id, _)| id.as_str()).collect();
        match beside.as_slice() {
            [] => {}
            [one] => all.push(format!(
                "the place of {one} is told from {gone}: it can be put at coordinates where it stands"
            )),
            more => all.push(format!(
                "the places of {} are told from {gone}: they can be put at coordinates where they stand",
                more.join(", ")
            )),
        }
        match self.labels.as_slice() {
            [] => {}
            [one] => all.push(format!("the label {one} names {gone} and would go with it")),
            more => all.push(format!("the labels {} name {gone} and would go with it", more.join(", "))),
        }
        all.join("; ")
    }
}
