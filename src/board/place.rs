//! Where items of a session come to stand: moved with their relations, put at coordinates, added where there is room.

use super::session::Session;
use crate::edit::{self, Edit, Refusal};
use crate::files::{Disk, Files};
use crate::geom::{Point, Vec2, length};
use crate::panel::Panel;
use crate::place::{Answer, Asks};
use crate::resolve;
use crate::units::Length;

/// How far an item may stand from where it was wished, mm: a file holds whole nanometres.
const SAME: f64 = 1e-5;

impl Session {
    /// The text and the panel with items moved, relations kept. With `plain`, an item whose place no number of its own
    /// says is put at coordinates.
    ///
    /// # Errors
    /// An item that is locked, or, without `plain`, whose place no number of its own says.
    pub fn moved(&self, ids: &[String], by: Vec2, plain: bool) -> Result<(String, Panel), Refusal> {
        let mut to = Vec::new();
        for id in ids {
            let s = self.panel.find(id).and_then(|k| self.panel.subjects.get(k));
            let s = s.ok_or_else(|| Refusal::Words(format!("there is no {id} on the panel")))?;
            if s.locked {
                return Err(Refusal::Words(format!("{id} is locked: free it first")));
            }
            to.push((id, s.at + by));
        }
        let (mut text, mut panel) = (self.text().to_string(), self.panel.clone());
        // more than once: what was moved first may follow one that was moved later
        for (id, to) in std::iter::repeat_n(&to, 3).flatten() {
            let now = panel.find(id).and_then(|k| panel.subjects.get(k)).map(|s| s.at);
            let rest = *to - now.ok_or_else(|| Refusal::Words(format!("there is no {id} on the panel")))?;
            // what follows another one that was moved is there already
            if length(rest) > SAME {
                let snapped = |v: f64| if v.abs() < SAME { 0.0 } else { v };
                let by = Vec2::new(snapped(rest.x), snapped(rest.y));
                let tried = self.tried(&text, &Edit::Move { id: (*id).clone(), by });
                // where nothing but coordinates said the place, new ones take nothing away
                let plain =
                    plain || matches!(tried, Err(Refusal::NoNumber(_))) && self.only_coordinates(&text, id);
                let stood = tried.and_then(|(t, p)| stands(&p, id, *to).map(|()| (t, p)));
                (text, panel) = match stood {
                    Err(Refusal::NoNumber(_)) if plain => {
                        let put = Edit::Put { id: (*id).clone(), at: self.at(id, *to)? };
                        self.tried(&text, &put)?
                    }
                    other => other?,
                };
            }
        }
        for (id, to) in to {
            stands(&panel, id, to)?;
        }
        Ok((text, panel))
    }

    /// A place as the file spells it.
    fn at(&self, id: &str, p: Point) -> Result<[Length; 2], Refusal> {
        let unit = self.panel.unit;
        Length::from_mm(p.x, unit)
            .zip(Length::from_mm(p.y, unit))
            .map(|(x, y)| [x, y])
            .ok_or_else(|| Refusal::Words(format!("{id} would stand off the panel")))
    }

    /// Whether an item stands by coordinates that are said in this text, or in a file that it builds on.
    pub fn only_coordinates(&self, text: &str, id: &str) -> bool {
        if let Some(says) = edit::is_by_coordinates(text, id) {
            return says;
        }
        let Some(s) = self.panel.find(id).and_then(|k| self.panel.subjects.get(k)) else { return false };
        let other = Disk::new("").read(&s.place.file).ok();
        other.and_then(|t| edit::is_by_coordinates(&t, id)).unwrap_or(false)
    }

    /// Moves items. With `plain`, an item whose place no number of its own says is put at coordinates.
    ///
    /// # Errors
    /// As [`Session::moved`].
    pub fn shift(&mut self, ids: &[String], by: Vec2, plain: bool) -> Result<(), Refusal> {
        self.settled()?;
        let (text, panel) = self.moved(ids, by, plain)?;
        self.did(text, panel)
    }

    /// Adds an instrument where there is most room for it, else in the middle of the sheet; gives its id.
    ///
    /// # Errors
    /// A name that is none, or the definition's own problems.
    pub fn add(&mut self, instrument: &str) -> Result<String, Refusal> {
        self.catalogue().one(instrument).map_err(|p| Refusal::Words(p.to_string()))?;
        let disk = Disk::new("");
        let files = self.files(&disk, self.text());
        let laid = resolve::laid_in(self.path(), &files, self.catalogue(), instrument, 0.0);
        let (panel, subject) = laid.map_err(|p| Refusal::Words(p.to_string()))?;
        let middle = panel.sheets.first().map_or(Point::ORIGIN, |s| s.outline.bounds().center());
        let asks = Asks { instrument: instrument.into(), turn: 0.0, near: None, tight: false };
        let answer = Answer::of(panel, subject, asks);
        let spot = answer.roomiest.best.as_ref().map_or(middle, |s| answer.at(s.shift));
        // a tenth of a millimetre: nobody marks out finer by hand, and a spot has more room than that or is the only one
        let near = Point::new((spot.x * 10.0).round() / 10.0, (spot.y * 10.0).round() / 10.0);
        let stem: String = instrument.rsplit('/').next().unwrap_or("item").trim_end_matches(".json").into();
        let id = (1..).map(|n| if n == 1 { stem.clone() } else { format!("{stem}-{n}") });
        let id = id.into_iter().find(|id| self.panel.find(id).is_none()).unwrap_or(stem);
        self.edit(&Edit::Add { id: id.clone(), instrument: instrument.into(), at: near.to_vec2() })?;
        Ok(id)
    }
}

/// Refuses what did not come to stand where it was wished.
pub(super) fn stands(panel: &Panel, id: &str, at: Point) -> Result<(), Refusal> {
    let found = panel.find(id).and_then(|k| panel.subjects.get(k)).map(|s| s.at);
    match found {
        Some(p) if length(p - at) <= 2.0 * SAME => Ok(()),
        _ => Err(Refusal::NoNumber(format!(
            "{id} would not come to stand there: its place follows from other items too. It can be put at coordinates"
        ))),
    }
}
