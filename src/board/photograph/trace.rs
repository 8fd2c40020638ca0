//! What is traced by hand: the outline's corners and arcs, openings by their corners. What is begun and no shape of the
//! survey's file yet is of the draft too: it is undone, outlives the page and is in the journal.

use super::draft::{Draft, pixel, spot, typed};
use serde_json::{Map, Value, json};

/// Fewest corners of a shape.
const LEAST: usize = 3;
/// Most corners of a shape.
const MOST: usize = 200;

/// Presses that are no shape yet. A place is two pixels, or the id of a picked point.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Begun {
    /// Corners of an outline that has not three yet: two are none.
    outline: Vec<Value>,
    /// A place on an arc whose end is not pressed yet.
    through: Option<Value>,
    /// Corners of an opening that is not closed yet.
    opening: Vec<Value>,
}

impl Begun {
    /// Whether nothing is begun.
    pub fn is_empty(&self) -> bool {
        self.outline.is_empty() && self.through.is_none() && self.opening.is_empty()
    }

    /// For the page and the journal.
    pub fn value(&self) -> Value {
        json!({ "outline": self.outline, "through": self.through, "opening": self.opening })
    }

    /// From the journal; what is none is left out.
    pub fn of(v: &Value) -> Begun {
        let list = |key: &str| v[key].as_array().cloned().unwrap_or_default();
        let through = Some(v["through"].clone()).filter(|t| !t.is_null());
        Begun { outline: list("outline"), through, opening: list("opening") }
    }

    /// A point of another name.
    pub fn renamed(&mut self, id: &str, to: &str) {
        let places = self.outline.iter_mut().chain(&mut self.through).chain(&mut self.opening);
        places.for_each(|v| super::ids::renamed(v, id, to));
    }

    /// Without a point.
    pub fn without(&mut self, id: &str) {
        let is = |v: &Value| v.as_str() == Some(id);
        self.outline.retain(|c| !is(&c["at"]) && !is(&c["through"]));
        self.through.take_if(|t| is(t));
        self.opening.retain(|p| !is(p));
    }
}

/// The point of a corner in the file.
fn to(corner: &Value) -> Option<&str> {
    corner.as_str().or_else(|| corner["to"].as_str())
}

/// Whether a corner of the file is at a point, or reached through it.
pub fn is_at(corner: &Value, id: &str) -> bool {
    to(corner) == Some(id) || corner["through"].as_str() == Some(id)
}

/// The points that a corner of the file names.
pub fn points_of(corner: &Value) -> impl Iterator<Item = String> {
    [to(corner), corner["through"].as_str()].into_iter().flatten().map(str::to_owned)
}

impl Draft {
    /// A press on the picture that is a corner of the outline, or with `arc` in turn a place on an arc and where it ends;
    /// three corners make the outline.
    ///
    /// # Errors
    /// No place; a point that is not there; more corners than a shape has.
    pub(super) fn corner(&mut self, m: &Value) -> Result<(), String> {
        let at = self.pressed(m)?;
        if m["arc"] == true && self.begun.through.is_none() {
            self.begun.through = Some(at);
            return Ok(());
        }
        let through = self.begun.through.take().filter(|_| m["arc"] == true);
        self.begun.outline.push(match through {
            Some(through) => json!({ "at": at, "through": through }),
            None => json!({ "at": at }),
        });
        let has = self.file["as-found"]["outline"].as_array().map_or(0, Vec::len);
        if has + self.begun.outline.len() > MOST {
            return Err(format!("an outline has no more than {MOST} corners"));
        }
        if has + self.begun.outline.len() < LEAST {
            return Ok(());
        }
        for c in std::mem::take(&mut self.begun.outline) {
            let to = self.point(&c["at"])?;
            let corner = match &c["through"] {
                Value::Null => json!(to),
                through => json!({ "to": to, "through": self.point(through)? }),
            };
            self.found("outline")?.push(corner);
        }
        Ok(())
    }

    /// A press that is a corner of an opening; one within `near` pixels of the first closes it.
    ///
    /// # Errors
    /// As [`Draft::corner`].
    pub(super) fn opening_corner(&mut self, m: &Value) -> Result<(), String> {
        let at = self.pressed(m)?;
        let near = m["near"].as_f64().unwrap_or(0.0);
        if self.begun.opening.len() >= LEAST
            && let (Some([x, y]), Some([u, v])) =
                (self.shown(&at), self.begun.opening.first().and_then(|p| self.shown(p)))
            && (x - u) * (x - u) + (y - v) * (y - v) < near * near
        {
            return self.close_opening();
        }
        if self.begun.opening.len() >= MOST {
            return Err(format!("an opening has no more than {MOST} corners"));
        }
        self.begun.opening.push(at);
        Ok(())
    }

    /// The opening that was begun is one.
    ///
    /// # Errors
    /// It has not three corners.
    pub(super) fn close_opening(&mut self) -> Result<(), String> {
        if self.begun.opening.len() < LEAST {
            return Err(format!("an opening has {LEAST} corners or more"));
        }
        let id = self.free("opening-");
        let mut ids = Vec::new();
        for at in std::mem::take(&mut self.begun.opening) {
            ids.push(self.point(&at)?);
        }
        self.found("openings")?.push(json!({ "id": id, "points": ids }));
        Ok(())
    }

    /// What was begun is given up.
    pub(super) fn give_up(&mut self) {
        self.begun = Begun::default();
    }

    /// The place of a press: two pixels, or a picked point that was pressed.
    fn pressed(&self, m: &Value) -> Result<Value, String> {
        let Some(id) = m["of"].as_str() else { return spot(&m["at"]) };
        match self.shown(&json!(id)) {
            Some(_) => Ok(json!(id)),
            None => Err(format!("{id} is not picked in this picture")),
        }
    }

    /// Where a place is in the picture.
    fn shown(&self, place: &Value) -> Option<[f64; 2]> {
        let Some(id) = place.as_str() else { return pixel(place) };
        let picks = self.photograph()["picks"].as_array()?;
        pixel(&picks.iter().find(|k| k["point"].as_str() == Some(id))?["at"])
    }

    /// The point at a place: the picked one, or a new one.
    fn point(&mut self, place: &Value) -> Result<String, String> {
        if let Some(id) = place.as_str() {
            return Ok(id.to_owned());
        }
        let id = self.free("E");
        self.pick(&id, place.clone())?;
        Ok(id)
    }

    /// A corner of the outline or of an opening rounded; an empty radius makes it sharp again.
    ///
    /// # Errors
    /// No such corner; an arc leads to it; no length.
    pub(super) fn radius(&mut self, id: &str, words: &str) -> Result<(), String> {
        let radius = if words.is_empty() { None } else { Some(typed(words, self.unit())?) };
        let found = self.file.get_mut("as-found").and_then(Value::as_object_mut);
        let mut lists: Vec<&mut Vec<Value>> = Vec::new();
        for (key, v) in found.into_iter().flat_map(Map::iter_mut) {
            match (key.as_str(), v) {
                ("outline", Value::Array(all)) => lists.push(all),
                ("openings", Value::Array(all)) => {
                    lists.extend(all.iter_mut().filter_map(|o| o.get_mut("points")?.as_array_mut()));
                }
                _ => {}
            }
        }
        let mut any = false;
        for corner in lists.into_iter().flatten().filter(|c| to(c) == Some(id)) {
            if corner["through"].is_string() {
                return Err(format!("an arc leads to {id}: it cannot be rounded"));
            }
            *corner = radius.as_ref().map_or(json!(id), |r| json!({ "to": id, "radius": r }));
            any = true;
        }
        if any { Ok(()) } else { Err(format!("{id} is no corner of an outline or opening")) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    /// A survey of a picture with three picked points, T1 known.
    fn draft() -> Draft {
        let mut d = Draft::begin("traced", Unit::Millimetre, "front.png", [1000, 800]);
        for (k, at) in [[100, 700], [900, 700], [500, 100]].iter().enumerate() {
            d.act(&json!({ "act": "pick", "id": format!("T{}", k + 1), "at": at })).unwrap();
        }
        d.act(&json!({ "act": "point", "id": "T1", "x": "0", "y": "1/2 in" })).unwrap();
        d
    }

    fn press(d: &mut Draft, act: &str, x: f64, y: f64) {
        d.act(&json!({ "act": act, "at": [x, y], "near": 5.0 })).unwrap();
    }

    #[test]
    fn what_is_begun_is_kept_until_it_is_a_shape() {
        let mut d = draft();
        let file = d.file.clone();
        press(&mut d, "corner", 10.0, 20.0);
        d.act(&json!({ "act": "corner", "of": "T2", "at": [901, 701] })).unwrap();
        press(&mut d, "opening-corner", 300.0, 300.0);
        d.act(&json!({ "act": "corner", "at": [5, 6], "arc": true })).unwrap();
        assert_eq!(d.file, file, "nothing of it is in the file");
        let again = Draft::left(&d.kept()).unwrap();
        assert_eq!(again, d);
        // a point that goes takes its corner along, one of another name keeps it
        let mut e = d.clone();
        e.act(&json!({ "act": "point", "id": "T2", "to": "right" })).unwrap();
        assert_eq!(e.begun.outline[1]["at"], "right");
        e.act(&json!({ "act": "drop", "id": "right" })).unwrap();
        assert_eq!(e.begun.outline.len(), 1);
        // the arc's end is the third corner
        d.act(&json!({ "act": "corner", "at": [7, 8], "arc": true })).unwrap();
        assert_eq!(d.file["as-found"]["outline"], json!(["E1", "T2", { "to": "E2", "through": "E3" }]));
        assert_eq!(d.begun.value(), json!({ "outline": [], "through": null, "opening": [[300.0, 300.0]] }));
        d.act(&json!({ "act": "give-up" })).unwrap();
        assert!(d.begun.is_empty() && d.kept() == super::super::writing::text(&d.file));
        assert_eq!(Draft::left(&d.kept()).unwrap(), d);
        assert!(Draft::left("{ \"begun\": {}, \"file\": 3 }").is_none() && Draft::left("[").is_none());
    }

    #[test]
    fn an_opening_is_closed_by_its_first_corner_and_goes_with_what_was_made_for_it() {
        let mut d = draft();
        d.act(&json!({ "act": "opening-corner", "of": "T1", "near": 5.0 })).unwrap();
        press(&mut d, "opening-corner", 300.0, 300.0);
        // too few corners to close
        press(&mut d, "opening-corner", 101.0, 701.0);
        assert!(d.act(&json!({ "act": "opening-corner", "of": "T9", "near": 5.0 })).is_err());
        press(&mut d, "opening-corner", 101.0, 702.0);
        assert_eq!(
            d.file["as-found"]["openings"],
            json!([{ "id": "opening-1", "points": ["T1", "E1", "E2"] }])
        );
        assert!(d.act(&json!({ "act": "close-opening" })).is_err());
        d.act(&json!({ "act": "radius", "id": "E1", "radius": "1/8 in" })).unwrap();
        assert_eq!(d.file["as-found"]["openings"][0]["points"][1], json!({ "to": "E1", "radius": "1/8 in" }));
        for (id, radius) in [("T2", "1"), ("E1", "wide")] {
            assert!(d.act(&json!({ "act": "radius", "id": id, "radius": radius })).is_err());
        }
        // a point that is a corner too and is known by itself stays
        d.act(&json!({ "act": "drop", "id": "opening-1" })).unwrap();
        assert_eq!(d.file["as-found"]["openings"], json!([]));
        assert!(d.has("T1") && !d.has("E1") && !d.has("E2"));
    }

    #[test]
    fn corners_are_rounded_and_made_sharp_again_unless_an_arc_leads_there() {
        let mut d = draft();
        for k in 0..3 {
            press(&mut d, "corner", 10.0 * f64::from(k), 20.0);
        }
        for at in [[50, 60], [70, 80]] {
            d.act(&json!({ "act": "corner", "at": at, "arc": true })).unwrap();
        }
        let outline = |d: &Draft| d.file["as-found"]["outline"].clone();
        let sharp = outline(&d);
        assert_eq!(sharp, json!(["E1", "E2", "E3", { "to": "E4", "through": "E5" }]));
        d.act(&json!({ "act": "radius", "id": "E2", "radius": "6" })).unwrap();
        assert_eq!(outline(&d)[1], json!({ "to": "E2", "radius": 6 }));
        assert!(d.act(&json!({ "act": "radius", "id": "E4", "radius": "6" })).is_err());
        d.act(&json!({ "act": "radius", "id": "E2", "radius": "" })).unwrap();
        assert_eq!(outline(&d), sharp);
        // the point that an arc goes through takes its corner along
        d.act(&json!({ "act": "drop", "id": "E5" })).unwrap();
        assert_eq!(outline(&d), json!(["E1", "E2", "E3"]));
        // a name that is there already is refused before any place is written
        let before = d.clone();
        assert!(
            d.clone().act(&json!({ "act": "point", "id": "T2", "to": "T1", "x": "5", "y": "5" })).is_err()
        );
        assert_eq!(d, before);
        // more corners than a shape has
        let many = (0..200).map(|k| d.act(&json!({ "act": "corner", "at": [k, 3] })));
        assert!(many.last().unwrap().is_err());
    }
}
