//! What is done to several items in one step: each brought to a place of its own, mirrored, copied, kept together, taken
//! out.

use super::answer::{Answer, MOST_IDS, degrees, done, ids, refused};
use super::say::vec2;
use super::session::{Session, is_item, read};
use super::stood::Trial;
use crate::edit::{self, Edit, Refusal};
use crate::geom::{Rect, Vec2};
use crate::panel::{Panel, Subject};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Metal between what is copied and its copy where there is room for it, mm: more than a web usually needs, so that the
/// copy is seen to stand apart. Our own choice.
const BESIDE: f64 = 10.0;

impl Session {
    /// Makes edits as one step.
    ///
    /// # Errors
    /// Why one of them, or the panel after all of them, is refused; nothing is changed then.
    pub fn edits(&mut self, all: &[Edit]) -> Result<(), Refusal> {
        self.settled()?;
        let mut text = self.text().to_string();
        for e in all {
            text = edit::by_hand(&text, self.panel.unit, e)?;
        }
        let panel = read(self.path(), &text, self.catalogue()).map_err(Refusal::Words)?;
        self.did(text, panel)
    }

    /// Moves items, each by a way of its own, as one step.
    ///
    /// # Errors
    /// As [`Session::moved`].
    pub fn shift_each(&mut self, each: &[(String, Vec2)], plain: bool) -> Result<(), Refusal> {
        self.settled()?;
        let (text, panel) = self.moved_each(each, plain)?;
        self.did(text, panel)
    }

    /// Brings items to where their mirror images about an upright line would stand; the instruments themselves stay as they
    /// are. What stands right of another one that is mirrored too stands left of it then, as far off.
    ///
    /// # Errors
    /// As [`Session::moved`].
    pub fn mirror(&mut self, ids: &[String], about: f64, plain: bool) -> Result<(), Refusal> {
        self.settled()?;
        let mut to = Vec::new();
        for (id, s) in self.subjects(ids)? {
            if s.locked {
                return Err(Refusal::Words(format!("{id} is locked: free it first")));
            }
            to.push((id.clone(), s.at + Vec2::new(2.0 * (about - s.at.x), 0.0)));
        }
        let (mut text, mut panel) = (self.text().to_string(), self.panel.clone());
        let with = |id: &String| edit::beside(self.text(), id).is_some_and(|o| ids.contains(&o));
        for id in ids.iter().filter(|id| with(id)) {
            // what cannot be told from the other side is brought there as anything else
            if let Ok(flipped) = self.trial().tried(&text, &Edit::Flip { id: id.clone() }) {
                (text, panel) = flipped;
            }
        }
        let trial = Trial { text: &text, panel: &panel, ..self.trial() };
        let (text, panel) = trial.moved_to(&to, plain)?;
        self.did(text, panel)
    }

    /// Copies items with their settings beside them, and gives the copies' ids. What is true of the one part alone is left
    /// out: that it was there already, that it was measured, that it is locked.
    ///
    /// # Errors
    /// An item that has no text of its own to copy and cannot be written anew.
    pub fn copies(&mut self, ids: &[String]) -> Result<Vec<String>, Refusal> {
        let chosen: Vec<(String, Subject)> =
            self.subjects(ids)?.into_iter().map(|(id, s)| (id.clone(), s.clone())).collect();
        let mut names: BTreeMap<String, String> = BTreeMap::new();
        for (id, s) in &chosen {
            let units = s.units.clone().filter_map(|u| self.panel.subjects.get(u as usize)).map(|u| &u.id);
            for id in std::iter::once(id).chain(units) {
                let fresh = self.fresh(id, &names);
                names.insert(id.clone(), fresh);
            }
        }
        let by = beside(&self.panel, &chosen);
        let mut all = Vec::new();
        for (id, s) in &chosen {
            let new = names.get(id).cloned().unwrap_or_default();
            if edit::is_copied_as_text(self.text(), id) {
                all.push(Edit::Copy { id: id.clone(), at: s.at.to_vec2(), by, ids: names.clone() });
            } else {
                all.extend(self.anew(s, new, by)?);
            }
        }
        self.edits(&all)?;
        Ok(ids.iter().filter_map(|id| names.get(id).cloned()).collect())
    }

    /// An item that stands in a row or in another file, written as one that stands by itself.
    fn anew(&self, s: &Subject, id: String, by: Vec2) -> Result<Vec<Edit>, Refusal> {
        let other = || {
            Refusal::Words(format!(
                "{} has no text of its own in this file and cannot be copied here: copy it where it is described, {}:{}",
                s.id, s.place.file, s.place.line
            ))
        };
        let facts =
            s.facts.as_ref().filter(|_| s.units.is_empty() && !s.id.contains(':')).ok_or_else(other)?;
        let mut all =
            vec![Edit::Add { id: id.clone(), instrument: facts.instrument.clone(), at: s.at.to_vec2() + by }];
        let mut say = |key: &str, value: Value| {
            all.push(Edit::Say { id: id.clone(), key: key.into(), value: Some(value) });
        };
        if s.turn != 0.0 {
            say("turn", s.turn.into());
        }
        if let Some(sheet) = self.panel.sheets.get(s.sheet as usize).filter(|_| s.sheet > 0) {
            say("on", sheet.id.clone().into());
        }
        for (key, is) in [("mirrored", s.mirrored), ("provision", s.provision), ("critical", s.critical)] {
            if is {
                say(key, true.into());
            }
        }
        if s.title != facts.title {
            say("title", s.title.clone().into());
        }
        Ok(all)
    }

    /// An id that nothing has: of `vent` or `vent-3`, the first of `vent-2`, `vent-3` ... that is free.
    pub(super) fn fresh(&self, id: &str, given: &BTreeMap<String, String>) -> String {
        let number = |s: &str| s.len() < 6 && !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        let stem = id.rsplit_once('-').filter(|(_, n)| number(n)).map_or(id, |(stem, _)| stem);
        let free = |id: &String| self.is_free(id) && !given.values().any(|g| g == id);
        (2..).map(|n| numbered(stem, n)).find(free).unwrap_or_default()
    }

    /// An id of a name that is one, with a number behind it where it is taken.
    pub(super) fn free_id(&self, stem: &str) -> String {
        let all = std::iter::once(shortened(stem, 0).to_owned()).chain((2..).map(|n| numbered(stem, n)));
        all.into_iter().find(|id| self.is_free(id)).unwrap_or_default()
    }

    fn is_free(&self, id: &str) -> bool {
        // what has no subject, a row or a zone, has its name in the text
        self.panel.find(id).is_none() && !self.text().contains(&format!("\"{id}\""))
    }

    /// Has a hand move items together from now on, or each by itself again.
    ///
    /// # Errors
    /// An item that is not there.
    pub fn together(&mut self, ids: &[String], together: bool) -> Result<(), Refusal> {
        if self.subjects(ids)?.len() < 2 && together {
            return Err(Refusal::Words("choose two items or more to keep together".into()));
        }
        let name = |k: &usize| self.panel.subjects.get(*k).map(|s| s.id.clone());
        let now = self.panel.together.iter().map(|g| g.iter().filter_map(name).collect()).collect();
        self.edits(&[Edit::Together { ids: ids.to_vec(), together, now }])
    }

    /// Items by their ids.
    pub(super) fn subjects<'a>(&self, ids: &'a [String]) -> Result<Vec<(&'a String, &Subject)>, Refusal> {
        let one = |id: &'a String| {
            let s = self.panel.find(id).and_then(|k| self.panel.subjects.get(k)).filter(|s| is_item(s.kind));
            Ok((id, s.ok_or_else(|| self.no_item(id))?))
        };
        ids.iter().map(one).collect()
    }

    /// Why a name is not that of an item that a hand can have by itself.
    pub(super) fn no_item(&self, id: &str) -> Refusal {
        Refusal::Words(match self.panel.find(id) {
            Some(_) => {
                format!("{id} is part of something else, as a unit of its stack is: choose that instead")
            }
            None => format!("there is no {id} on the panel"),
        })
    }
}

/// Longest id of a panel file, letters.
const LONGEST: usize = 64;

/// So much of a name that letters behind it make no id too long.
fn shortened(stem: &str, behind: usize) -> &str {
    let end = stem.char_indices().nth(LONGEST.saturating_sub(behind)).map_or(stem.len(), |(k, _)| k);
    stem.get(..end).unwrap_or(stem)
}

fn numbered(stem: &str, n: u32) -> String {
    let behind = format!("-{n}");
    format!("{}{behind}", shortened(stem, behind.len()))
}

/// What an item covers on the face.
pub(super) fn covers(s: &Subject) -> Option<Rect> {
    s.parts.iter().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b))
}

/// How far from some items their copies are put: to the right, the left, below or above, first where nothing else stands on
/// the sheet, then where it is on the sheet at all.
fn beside(panel: &Panel, chosen: &[(String, Subject)]) -> Vec2 {
    let Some(all) = chosen.iter().filter_map(|(_, s)| covers(s)).reduce(|a, b| a.union(b)) else {
        return Vec2::new(BESIDE, 0.0);
    };
    // whole steps of the file's unit, so that the copies' numbers are as round as those of what is copied
    let step = if panel.unit.is_inch() { 25.4 / 8.0 } else { 1.0 };
    let (w, h) = ((all.width() + BESIDE) / step, (all.height() + BESIDE) / step);
    let (w, h) = (w.ceil() * step, h.ceil() * step);
    let ways = [Vec2::new(w, 0.0), Vec2::new(-w, 0.0), Vec2::new(0.0, -h), Vec2::new(0.0, h)];
    let sheet = chosen.first().and_then(|(_, s)| panel.sheets.get(s.sheet as usize));
    let sheet = sheet.map_or(all, |s| s.outline.bounds());
    let on_sheet = |by: &&Vec2| {
        let r = all + **by;
        sheet.x0 <= r.x0 && r.x1 <= sheet.x1 && sheet.y0 <= r.y0 && r.y1 <= sheet.y1
    };
    let others = || panel.subjects.iter().filter(|s| is_item(s.kind)).filter_map(covers);
    let free = |by: &&Vec2| {
        let r = all + **by;
        !others().any(|o| o.x0 < r.x1 && r.x0 < o.x1 && o.y0 < r.y1 && r.y0 < o.y1)
    };
    let found = ways.iter().find(|by| on_sheet(by) && free(by)).or_else(|| ways.iter().find(on_sheet));
    *found.unwrap_or(&ways[0])
}

/// What is done to several items at once, one step each; `None`: not asked as the page asks it.
pub(super) fn answer(session: &mut Session, m: &Value) -> Option<Answer> {
    let plain = m["plain"] == true;
    let each = || {
        let one = |v: &Value| Some((v[0].as_str()?.to_owned(), vec2(&v[1])?));
        m["each"].as_array()?.iter().map(one).collect::<Option<Vec<_>>>().filter(|e| e.len() <= MOST_IDS)
    };
    // what was done, to the page that asked; the state comes to all
    let told = |own: Value| Answer { own: Some(own), changed: true, later: None };
    let flags = ["locked", "provision", "critical", "kept"];
    Some(match m["do"].as_str()? {
        "bring" => done(session.shift_each(&each()?, plain)),
        "mirror" => {
            let about = m["about"].as_f64().filter(|v| v.is_finite() && v.abs() <= 100_000.0)?;
            match session.mirror(&ids(&m["ids"])?, about, plain) {
                Ok(()) => told(json!({ "kind": "did", "about": [about, null], "ids": m["ids"] })),
                Err(why) => refused(&why),
            }
        }
        "flag" => {
            let key = flags.into_iter().find(|k| m["key"] == *k)?;
            let one = |id| Edit::Flag { id, key, is: m["is"] == true };
            let all: Vec<Edit> = ids(&m["ids"])?.into_iter().map(one).collect();
            done(session.edits(&all))
        }
        "delete" => done(session.take_out(&ids(&m["ids"])?, plain)),
        "turn-all" => {
            let ids = ids(&m["ids"])?;
            match degrees(&m["by"]).and_then(|by| Ok((by, session.turn_all(&ids, by, plain)?))) {
                Ok((by, p)) => told(json!({ "kind": "did", "turned": by, "about": [p.x, p.y], "ids": ids })),
                Err(why) => refused(&why),
            }
        }
        "copy" => match session.copies(&ids(&m["ids"])?) {
            Ok(ids) => told(json!({ "kind": "copied", "ids": ids })),
            Err(why) => refused(&why),
        },
        _ => done(session.together(&ids(&m["ids"])?, m["together"] == true)),
    })
}
