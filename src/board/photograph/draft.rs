//! The survey that is being made of a picture: what each act of the hand writes into it. It is a survey's file at every
//! step; what this view knows nothing of stays in it as it was.

use super::ids::{id_of, mentions, renamed};
use super::trace::{Begun, is_at, points_of};
use super::writing;
use crate::units::{Length, Unit};
use serde_json::{Map, Value, json};

/// A survey's file and which of its pictures is looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The file.
    pub file: Value,
    /// The picture's number in it.
    pub photo: usize,
    /// What was pressed and is in no file yet.
    pub begun: Begun,
}

fn object(v: &Value) -> Option<&Map<String, Value>> {
    v.as_object()
}

/// A place in the picture as the file has it, in hundredths of a pixel.
pub(super) fn spot(v: &Value) -> Result<Value, String> {
    let [x, y] = pixel(v).ok_or("a place in the picture is two numbers")?;
    let round = |v: f64| (v * 100.0).round() / 100.0;
    Ok(json!([round(x), round(y)]))
}

/// A place in the picture.
pub fn pixel(v: &Value) -> Option<[f64; 2]> {
    let (x, y) = (v.get(0)?.as_f64()?, v.get(1)?.as_f64()?);
    let fine = |v: f64| v.is_finite() && v.abs() <= 1e6;
    (fine(x) && fine(y)).then_some([x, y])
}

/// A length as it was typed: a bare number stays one.
pub(super) fn typed(words: &str, unit: Option<Unit>) -> Result<Value, String> {
    Length::parse(words, unit).map_err(|e| format!("{words}: {e}. {}", e.help()))?;
    let bare = serde_json::from_str::<Value>(words.trim()).ok().filter(Value::is_number);
    Ok(bare.unwrap_or_else(|| Value::from(words.trim())))
}

impl Draft {
    /// A new survey of a picture.
    pub fn begin(title: &str, unit: Unit, image: &str, size: [usize; 2]) -> Draft {
        let file = json!({
            "format": 1, "survey": title, "unit": unit.name(), "points": [], "circles": [], "readings": [],
            "photographs": [{ "id": "front", "image": image, "kind": "photograph", "size": size, "picks": [] }],
        });
        Draft { file, photo: 0, begun: Begun::default() }
    }

    /// A survey's file, with the first of its pictures that names an image.
    pub fn of(text: &str) -> Option<Draft> {
        let file: Value = serde_json::from_str(text).ok()?;
        file["survey"].as_str()?;
        let photo = file["photographs"].as_array()?.iter().position(|p| p["image"].is_string())?;
        Some(Draft { file, photo, begun: Begun::default() })
    }

    /// From the journal: a survey's file, or one with what was begun beside it.
    pub fn left(text: &str) -> Option<Draft> {
        let all: Value = serde_json::from_str(text).ok()?;
        if !all["begun"].is_object() {
            return Draft::of(text);
        }
        Some(Draft { begun: Begun::of(&all["begun"]), ..Draft::of(all["file"].as_str()?)? })
    }

    /// For the journal.
    pub fn kept(&self) -> String {
        let text = writing::text(&self.file);
        if self.begun.is_empty() {
            text
        } else {
            json!({ "begun": self.begun.value(), "file": text }).to_string()
        }
    }

    /// The picture's part of the file.
    pub fn photograph(&self) -> &Value {
        &self.file["photographs"][self.photo]
    }

    /// The picture's file.
    pub fn image(&self) -> &str {
        self.photograph()["image"].as_str().unwrap_or("")
    }

    /// Whether nothing is picked in any picture.
    pub fn is_bare_picture(&self) -> bool {
        let none = |p: &Value| p["picks"].as_array().is_none_or(Vec::is_empty);
        self.file["photographs"].as_array().is_none_or(|all| all.iter().all(none))
    }

    /// The file's unit.
    pub fn unit(&self) -> Option<Unit> {
        Unit::named(self.file["unit"].as_str()?)
    }

    fn list(&mut self, key: &str) -> Result<&mut Vec<Value>, String> {
        let root = self.file.as_object_mut().ok_or("the survey is no object")?;
        let list = root.entry(key).or_insert_with(|| json!([]));
        list.as_array_mut().ok_or_else(|| format!("`{key}` of the survey is no list"))
    }

    pub(super) fn found(&mut self, key: &str) -> Result<&mut Vec<Value>, String> {
        let root = self.file.as_object_mut().ok_or("the survey is no object")?;
        let found = root.entry("as-found").or_insert_with(|| json!({}));
        let found = found.as_object_mut().ok_or("`as-found` of the survey is no object")?;
        let list = found.entry(key).or_insert_with(|| json!([]));
        list.as_array_mut().ok_or_else(|| format!("`{key}` of the survey is no list"))
    }

    fn picks(&mut self) -> Result<&mut Vec<Value>, String> {
        let photo = self.photo;
        let picks = self.list("photographs")?.get_mut(photo).and_then(|p| p.get_mut("picks"));
        picks.and_then(Value::as_array_mut).ok_or_else(|| "the survey has no picture with picks".into())
    }

    /// Whether an id is taken by a point or a circle.
    pub fn has(&self, id: &str) -> bool {
        ["points", "circles"]
            .iter()
            .any(|key| self.file[*key].as_array().is_some_and(|all| all.iter().any(|e| id_of(e) == Some(id))))
    }

    /// The first id of a letter and a number that nothing has.
    pub fn free(&self, letter: &str) -> String {
        let openings = self.file["as-found"]["openings"].as_array();
        let taken = |id: &str| {
            self.has(id) || openings.is_some_and(|all| all.iter().any(|o| o["id"].as_str() == Some(id)))
        };
        (1..).map(|n| format!("{letter}{n}")).find(|id| !taken(id)).unwrap_or_default()
    }

    /// Does what a message asks.
    ///
    /// # Errors
    /// Why not, in words; the draft may then be half changed and is to be given up.
    pub fn act(&mut self, m: &Value) -> Result<(), String> {
        let word = |key: &str| m[key].as_str().map(str::trim).unwrap_or("").to_owned();
        let id = word("id");
        match m["act"].as_str().unwrap_or("") {
            "pick" => {
                let id = if id.is_empty() { self.free("T") } else { id };
                self.pick(&id, spot(&m["at"])?)
            }
            "point" => {
                let to = word("to");
                // another name first: where that is refused, no other point is put anywhere
                let id = if to.is_empty() || to == id { id } else { self.rename(&id, &to).map(|()| to)? };
                if m["x"].is_string() { self.place(&id, &word("x"), &word("y")) } else { Ok(()) }
            }
            "drop" => self.drop(&id),
            "reading" => self.reading(&word("what"), &m["of"], &word("reads"), &word("tool")),
            "drop-reading" => {
                let n = m["n"].as_u64().unwrap_or(u64::MAX) as usize;
                let all = self.list("readings")?;
                if n >= all.len() {
                    return Err("there is no such reading".into());
                }
                all.remove(n);
                Ok(())
            }
            "corner" => self.corner(m),
            "opening-corner" => self.opening_corner(m),
            "close-opening" => self.close_opening(),
            "give-up" => {
                self.give_up();
                Ok(())
            }
            "radius" => self.radius(&id, &word("radius")),
            "picture" => self.picture(m),
            _ => Err("the page asked for something that this program does not know".into()),
        }
    }

    /// How the picture came about, whether its lens is sought, how well it was picked: what is said of these.
    fn picture(&mut self, m: &Value) -> Result<(), String> {
        let mut said: Vec<(&str, Option<Value>)> = Vec::new();
        if let Some(kind) = m["kind"].as_str() {
            said.push(("kind", Some(json!(kind))));
        }
        if let Some(lens) = m["lens"].as_str() {
            said.push(("lens", (lens == "no").then_some(json!(false))));
        }
        if let Some(words) = m["deviation"].as_str().map(str::trim) {
            let px = words.parse::<f64>().ok().filter(|px| (0.01..=1000.0).contains(px));
            if px.is_none() && !words.is_empty() {
                return Err(format!("{words}: a deviation is a number of pixels from 0.01 to 1000"));
            }
            said.push(("deviation", px.map(Value::from)));
        }
        let photo = self.photo;
        let of = self.list("photographs")?.get_mut(photo).and_then(Value::as_object_mut);
        let of = of.ok_or("the survey has no picture")?;
        for (key, value) in said {
            match value {
                Some(v) => drop(of.insert(key.into(), v)),
                None => drop(of.shift_remove(key)),
            }
        }
        Ok(())
    }

    pub(super) fn pick(&mut self, id: &str, at: Value) -> Result<(), String> {
        if !self.has(id) {
            self.list("points")?.push(json!(id));
        }
        let picks = self.picks()?;
        match picks.iter_mut().find(|k| k["point"].as_str() == Some(id)) {
            Some(k) => k["at"] = at,
            None => picks.push(json!({ "point": id, "at": at })),
        }
        Ok(())
    }

    /// Where a point is known to lie; by nothing where both are empty.
    fn place(&mut self, id: &str, x: &str, y: &str) -> Result<(), String> {
        let unit = self.unit();
        let at = match (x.is_empty(), y.is_empty()) {
            (true, true) => None,
            (false, false) => Some(json!([typed(x, unit)?, typed(y, unit)?])),
            _ => return Err(format!("the place of {id} is two lengths: right of the datum, and up")),
        };
        for key in ["points", "circles"] {
            let Some(e) = self.list(key)?.iter_mut().find(|e| id_of(e) == Some(id)) else { continue };
            let mut all = object(e).cloned().unwrap_or_else(|| Map::from_iter([("id".into(), json!(id))]));
            match at {
                Some(at) => drop(all.insert("at".into(), at)),
                None => drop(all.shift_remove("at")),
            }
            *e = if all.len() == 1 { json!(id) } else { Value::Object(all) };
            return Ok(());
        }
        Err(format!("there is no point {id}"))
    }

    fn rename(&mut self, id: &str, to: &str) -> Result<(), String> {
        let exists = |d: &Draft, id: &str| {
            d.has(id)
                || d.file["as-found"]["openings"].as_array().is_some_and(|o| o.iter().any(|o| o["id"] == *id))
        };
        if !exists(self, id) {
            return Err(format!("there is no point {id}"));
        }
        if id != to && exists(self, to) {
            return Err(format!("there is a {to} already"));
        }
        // ids stand in these alone; titles, notes and files are words
        for key in [
            "datum",
            "points",
            "circles",
            "readings",
            "conditions",
            "photographs",
            "pairs",
            "as-found",
            "behind",
        ] {
            if let Some(v) = self.file.get_mut(key) {
                renamed(v, id, to);
            }
        }
        self.begun.renamed(id, to);
        Ok(())
    }

    /// Whether a point is picked and no more is said of it.
    fn is_bare(&self, id: &str) -> bool {
        let said = ["datum", "readings", "conditions", "pairs", "as-found", "behind"];
        let listed =
            self.file["points"].as_array().is_some_and(|all| all.iter().any(|e| e.as_str() == Some(id)));
        listed && !said.iter().any(|key| mentions(&self.file[*key], id))
    }

    /// A point, circle or opening taken out, with all that was said of it.
    fn drop(&mut self, id: &str) -> Result<(), String> {
        let is = |v: &Value| v.as_str() == Some(id);
        let names = |v: &Value| match v {
            Value::Array(all) => all.iter().any(is),
            v => is(v),
        };
        if names(&self.file["datum"]["origin"]) || names(&self.file["datum"]["along"]) {
            return Err(format!("coordinates are given from {id}: it stays"));
        }
        self.begun.without(id);
        let named = |o: &Value| o["points"].as_array().is_some_and(|p| p.iter().any(|c| is_at(c, id)));
        if let Some(openings) = self.file["as-found"]["openings"].as_array() {
            let gone = openings.iter().filter(|o| is(&o["id"])).filter_map(|o| o["points"].as_array());
            let corners: Vec<String> = gone.flatten().flat_map(points_of).collect();
            self.found("openings")?.retain(|o| !is(&o["id"]) && !is(&o["circle"]) && !named(o));
            // a corner that nothing else is said of goes with it
            for c in corners {
                if self.is_bare(&c) {
                    self.drop(&c)?;
                }
            }
        }
        if self.file["as-found"]["outline"].is_array() {
            let outline = self.found("outline")?;
            outline.retain(|c| !is_at(c, id));
            // fewer than three corners are no outline
            if outline.len() < 3
                && let Some(found) = self.file["as-found"].as_object_mut()
            {
                found.shift_remove("outline");
            }
        }
        for key in ["points", "circles"] {
            self.list(key)?.retain(|e| id_of(e) != Some(id));
        }
        let said =
            ["distance", "inside", "outside", "diameter", "radius", "offset", "along", "gap", "up", "right"];
        self.list("readings")?.retain(|r| !said.iter().any(|key| names(&r[*key])));
        if self.file["conditions"].is_array() {
            let said = ["line", "level", "plumb", "square", "same-size", "circle", "through"];
            self.list("conditions")?.retain(|r| !said.iter().any(|key| names(&r[*key])));
        }
        if self.file["pairs"].is_array() {
            self.list("pairs")?.retain(|p| !names(p));
        }
        for p in self.list("photographs")? {
            if let Some(picks) = p.get_mut("picks").and_then(Value::as_array_mut) {
                picks.retain(|k| !is(&k["point"]) && !is(&k["circle"]));
            }
        }
        Ok(())
    }

    fn reading(&mut self, what: &str, of: &Value, reads: &str, tool: &str) -> Result<(), String> {
        let ids: Vec<&str> =
            of.as_array().map(|a| a.iter().filter_map(Value::as_str).collect()).unwrap_or_default();
        let of = match (what, ids.as_slice()) {
            ("distance" | "inside" | "outside", [a, b]) if a != b => json!([a, b]),
            ("distance" | "inside" | "outside", _) => {
                return Err("a distance is measured between two points".into());
            }
            ("diameter", [c, ..]) => json!(c),
            _ => return Err("this view knows distances and diameters".into()),
        };
        let reads = typed(reads, self.unit())?;
        let mut all = Map::from_iter([(what.to_owned(), of), ("reads".to_owned(), reads)]);
        if !tool.is_empty() {
            all.insert("tool".into(), json!(tool));
        }
        self.list("readings")?.push(Value::Object(all));
        Ok(())
    }

    /// A round hole by the places that were found on its edge, each off by so many pixels.
    ///
    /// # Errors
    /// The survey is not one.
    pub fn round(&mut self, id: &str, edge: &[[f64; 2]], deviation: f64) -> Result<(), String> {
        let spots: Result<Vec<Value>, String> = edge.iter().map(|s| spot(&json!(s))).collect();
        let pick = json!({ "circle": id, "edge": spots?, "deviation": (deviation * 1000.0).ceil() / 1000.0 });
        if self.has(id) {
            let picks = self.picks()?;
            match picks.iter_mut().find(|k| k["circle"].as_str() == Some(id)) {
                Some(k) => *k = pick,
                None => picks.push(pick),
            }
            return Ok(());
        }
        self.list("circles")?.push(json!(id));
        self.picks()?.push(pick);
        self.found("openings")?.push(json!({ "id": id, "circle": id }));
        Ok(())
    }
}
