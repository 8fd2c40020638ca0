//! Several items turned together, about the middle of what they cover.

use super::session::{Session, read};
use super::several::covers;
use super::stood::Trial;
use crate::edit::{self, Edit, Refusal};
use crate::geom::angle::sin_cos_deg;
use crate::geom::{Point, Vec2};
use crate::panel::{Subject, SubjectKind};

impl Session {
    /// Turns items by an angle in degrees, counter-clockwise, about the middle of what they cover together, as one step. A
    /// label goes along and stays upright, as it is to be read. By quarters, a relation among the items is kept: what stood
    /// right of another one stands above it then. Gives the middle.
    ///
    /// # Errors
    /// As [`Session::moved`].
    pub fn turn_all(&mut self, ids: &[String], by: f64, plain: bool) -> Result<Point, Refusal> {
        self.settled()?;
        let chosen = self.subjects(ids)?;
        if let Some((id, _)) = chosen.iter().find(|(_, s)| s.locked) {
            return Err(Refusal::Words(format!("{id} is locked: free it first")));
        }
        let all = chosen.iter().filter_map(|(_, s)| covers(s)).reduce(|a, b| a.union(b));
        let about = all.ok_or_else(|| Refusal::Words("nothing is chosen".into()))?.center();
        let (sin, cos) = sin_cos_deg(by);
        let round = |v: Vec2| Vec2::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y);
        // lettering that an item carries goes with it by itself
        let own = |s: &Subject| s.kind != SubjectKind::Label || self.told_from(s).is_some();
        let placed = chosen.iter().filter(|(_, s)| own(s));
        let to: Vec<_> = placed.map(|(id, s)| ((*id).clone(), about + round(s.at - about))).collect();
        let unit = self.panel.unit;
        let mut turned = self.text().to_string();
        for (id, s) in chosen.iter().filter(|(_, s)| s.kind != SubjectKind::Label) {
            let e = Edit::Turn { id: (*id).clone(), to: (s.turn + by).rem_euclid(360.0) };
            turned = edit::by_hand(&turned, unit, &e)?;
        }
        let mut text = turned.clone();
        let quarters = (by / 90.0).rem_euclid(4.0);
        let whole = quarters.fract() == 0.0;
        for (id, _) in chosen.iter().filter(|_| whole) {
            let from = edit::told_from(self.text(), id).unwrap_or_default();
            if !from.is_empty() && from.iter().all(|o| ids.contains(o)) {
                let e = Edit::Quarter { id: (*id).clone(), quarters: quarters as usize };
                // what cannot be told so is brought there as anything else
                text = edit::by_hand(&text, unit, &e).unwrap_or(text);
            }
        }
        let read = |text: &str| read(self.path(), text, self.catalogue()).map_err(Refusal::Words);
        let (text, panel) = match read(&text) {
            Ok(panel) => (text, panel),
            Err(_) => (turned.clone(), read(&turned)?),
        };
        let trial = Trial { text: &text, panel: &panel, ..self.trial() };
        let (text, panel) = trial.moved_to(&to, plain)?;
        self.did(text, panel)?;
        Ok(about)
    }
}
