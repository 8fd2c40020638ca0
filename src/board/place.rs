//! Where items of a session come to stand: moved with their relations, put at coordinates, added where there is room.

use super::session::Session;
use super::stood::{Stood, Trial};
use crate::diag::Problems;
use crate::edit::{Edit, Refusal};
use crate::files::{Beside, Disk};
use crate::geom::{Point, Vec2};
use crate::panel::Panel;
use crate::place::{Asks, Brief};
use crate::resolve;

impl Session {
    /// The text and the panel with items moved, relations kept. With `plain`, an item whose place no number of its own
    /// says is put at coordinates.
    ///
    /// # Errors
    /// An item that is locked, or, without `plain`, whose place no number of its own says.
    pub fn moved(&self, ids: &[String], by: Vec2, plain: bool) -> Result<(String, Panel), Refusal> {
        let each: Vec<(String, Vec2)> = ids.iter().map(|id| (id.clone(), by)).collect();
        self.moved_each(&each, plain)
    }

    /// The same of items that each go a way of their own.
    ///
    /// # Errors
    /// As [`Session::moved`].
    pub fn moved_each(&self, each: &[(String, Vec2)], plain: bool) -> Result<(String, Panel), Refusal> {
        let mut to = Vec::new();
        for (id, by) in each {
            let s = self.panel.find(id).and_then(|k| self.panel.subjects.get(k));
            let s = s.ok_or_else(|| Refusal::Words(format!("there is no {id} on the panel")))?;
            if s.locked {
                return Err(Refusal::Words(format!("{id} is locked: free it first")));
            }
            to.push((id.clone(), s.at + *by));
        }
        self.trial().moved_to(&to, plain)
    }

    pub(super) fn trial(&self) -> Trial<'_> {
        Trial { path: self.path(), catalogue: self.catalogue(), text: self.text(), panel: &self.panel }
    }

    /// Whether an item stands by coordinates that are said in this text, or in a file that it builds on.
    pub fn only_coordinates(&self, text: &str, id: &str) -> bool {
        self.trial().only_coordinates(text, id)
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

    /// Adds an instrument at a spot that is known, else where there is most room for it, else in the middle of the sheet;
    /// gives its id.
    ///
    /// # Errors
    /// A name that is none, or the definition's own problems.
    pub fn add(&mut self, instrument: &str, known: Option<Vec2>) -> Result<String, Refusal> {
        self.settled()?;
        self.catalogue().one(instrument).map_err(|p| Refusal::Words(p.to_string()))?;
        let spot = match known {
            Some(spot) => spot,
            None => self.copy().roomiest(instrument)?,
        };
        // a tenth of a millimetre: nobody marks out finer by hand, and a spot has more room than that or is the only one
        let near = Vec2::new((spot.x * 10.0).round() / 10.0, (spot.y * 10.0).round() / 10.0);
        let stem = instrument.rsplit(['/', '\\']).next().unwrap_or("").trim_end_matches(".json");
        let id = self.free_id(&as_id(stem));
        self.edit(&Edit::Add { id: id.clone(), instrument: instrument.into(), at: near })?;
        Ok(id)
    }
}

/// Letters of a file's name that an id may have, in their order, those of others as `-`.
fn as_id(name: &str) -> String {
    let fine = |c: char| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' };
    let id: String = name.chars().map(fine).collect();
    let id = id.trim_matches(['-', '_']);
    if id.is_empty() { "item".into() } else { id.into() }
}

impl Stood {
    /// Where there is most room for an instrument, or the middle of the sheet.
    ///
    /// # Errors
    /// The definition's own problems.
    pub fn roomiest(&self, instrument: &str) -> Result<Vec2, Refusal> {
        let (panel, subject) = self.with(instrument).map_err(|p| Refusal::Words(p.to_string()))?;
        let middle = panel.sheets.first().map_or(Point::ORIGIN, |s| s.outline.bounds().center());
        let asks = Asks { instrument: instrument.into(), turn: 0.0, near: None, tight: false };
        Ok(Brief::of(panel, subject, asks).at.unwrap_or(middle).to_vec2())
    }

    /// The panel with an instrument laid in that stands nowhere yet, and which of its subjects that is.
    ///
    /// # Errors
    /// The definition's own problems.
    pub fn with(&self, instrument: &str) -> Result<(Panel, usize), Problems> {
        let disk = Disk::new("");
        let files = Beside { others: &disk, name: self.path.clone(), text: self.text.clone() };
        resolve::laid_in(&self.path, &files, &self.catalogue, instrument, 0.0)
    }
}
