//! A panel with its text, on which edits are tried: of the session, or a copy of it in a thread of its own.

use super::session::read;
use crate::edit::{self, Edit, Refusal};
use crate::files::{Disk, Files};
use crate::geom::{Point, Vec2, length};
use crate::panel::Panel;
use crate::resolve::Catalogue;
use crate::units::Length;
use std::sync::Arc;

/// How far an item may stand from where it was wished, mm: a file holds whole nanometres.
pub(super) const SAME: f64 = 1e-5;

/// A copy.
#[derive(Clone)]
pub struct Stood {
    /// Name of the panel's file.
    pub path: String,
    /// What its instruments are looked up in.
    pub catalogue: Arc<Catalogue>,
    /// Its text.
    pub text: String,
    /// The same, read.
    pub panel: Panel,
}

impl Stood {
    /// To try edits on.
    pub fn trial(&self) -> Trial<'_> {
        Trial { path: &self.path, catalogue: &self.catalogue, text: &self.text, panel: &self.panel }
    }
}

/// What edits are tried on.
#[derive(Clone, Copy)]
pub struct Trial<'a> {
    /// Name of the panel's file.
    pub path: &'a str,
    /// What its instruments are looked up in.
    pub catalogue: &'a Catalogue,
    /// Its text.
    pub text: &'a str,
    /// The same, read.
    pub panel: &'a Panel,
}

impl Trial<'_> {
    /// A text with an edit made, read.
    pub fn tried(&self, text: &str, e: &Edit) -> Result<(String, Panel), Refusal> {
        let text = edit::by_hand(text, self.panel.unit, e)?;
        let panel = read(self.path, &text, self.catalogue).map_err(Refusal::Words)?;
        Ok((text, panel))
    }

    /// The text and the panel with items at other places, relations kept. With `plain`, an item whose place no number of its
    /// own says is put at coordinates.
    ///
    /// # Errors
    /// An item that, without `plain`, no number of its own places there.
    pub fn moved_to(&self, to: &[(String, Point)], plain: bool) -> Result<(String, Panel), Refusal> {
        let (mut text, mut panel) = (self.text.to_string(), self.panel.clone());
        // more than once: what was moved first may follow one that was moved later
        for (id, to) in std::iter::repeat_n(to, 3).flatten() {
            let now = panel.find(id).and_then(|k| panel.subjects.get(k)).map(|s| s.at);
            let rest = *to - now.ok_or_else(|| Refusal::Words(format!("there is no {id} on the panel")))?;
            // what follows another one that was moved is there already
            if length(rest) > SAME {
                let snapped = |v: f64| if v.abs() < SAME { 0.0 } else { v };
                let by = Vec2::new(snapped(rest.x), snapped(rest.y));
                let tried = self.tried(&text, &Edit::Move { id: id.clone(), by });
                // where nothing but coordinates said the place, new ones take nothing away
                let plain =
                    plain || matches!(tried, Err(Refusal::NoNumber(_))) && self.only_coordinates(&text, id);
                let stood = tried.and_then(|(t, p)| stands(&p, id, *to).map(|()| (t, p)));
                (text, panel) = match stood {
                    Err(Refusal::NoNumber(_)) if plain => {
                        let put = Edit::Put { id: id.clone(), at: self.at(id, *to)? };
                        self.tried(&text, &put)?
                    }
                    other => other?,
                };
            }
        }
        for (id, to) in to {
            stands(&panel, id, *to)?;
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
}

/// Refuses what did not come to stand where it was wished.
pub fn stands(panel: &Panel, id: &str, at: Point) -> Result<(), Refusal> {
    let found = panel.find(id).and_then(|k| panel.subjects.get(k)).map(|s| s.at);
    match found {
        Some(p) if length(p - at) <= 2.0 * SAME => Ok(()),
        _ => Err(Refusal::NoNumber(format!(
            "{id} would not come to stand there: its place follows from other items too. It can be put at coordinates"
        ))),
    }
}
