//! One change to a panel's file as a person would type it: a move rewrites the relation's own number, an item of the file
//! that this one builds on gets a change of its own, key order and untouched text stay.

use super::text::{self, Object};
use crate::geom::Vec2;
use crate::units::{Length, Unit};

/// A change of one item.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Moved on, mm to the right and up.
    Move {
        /// The item.
        id: String,
        /// How far.
        by: Vec2,
    },
    /// Put at coordinates, each as somebody spelled it; a relation it had is given up, so only where that was asked for.
    Put {
        /// The item.
        id: String,
        /// To the right of the datum and up from it.
        at: [Length; 2],
    },
    /// Turned to an angle, degrees.
    Turn {
        /// The item.
        id: String,
        /// Counter-clockwise.
        to: f64,
    },
    /// Locked or freed.
    Lock {
        /// The item.
        id: String,
        /// Whether suggestions and hands leave it where it is.
        locked: bool,
    },
    /// Added, at coordinates in mm.
    Add {
        /// Its id.
        id: String,
        /// Name of its definition.
        instrument: String,
        /// Where.
        at: Vec2,
    },
    /// Taken out.
    Delete {
        /// The item.
        id: String,
    },
}

/// Why a text was not changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The item's place follows from something that no number of its own expresses: it can be put at coordinates.
    NoNumber(String),
    /// Anything else, with its advice.
    Words(String),
}

impl Refusal {
    /// The reason, for people.
    pub fn words(&self) -> &str {
        match self {
            Refusal::NoNumber(w) | Refusal::Words(w) => w,
        }
    }
}

/// Lists whose elements stand somewhere.
const LISTS: [&str; 3] = ["place", "stacks", "labels"];
/// What says where an item stands.
const PLACES: [&str; 11] = [
    "right-of",
    "left-of",
    "above",
    "below",
    "centred-on",
    "mirror-of",
    "about",
    "pitch",
    "gap",
    "level",
    "in-line-with",
];

/// The text with a change made. `unit` is that of the file.
///
/// # Errors
/// Where the change cannot be written so; the text is then as it was.
pub fn by_hand(source: &str, unit: Unit, edit: &Edit) -> Result<String, Refusal> {
    let broken = || Refusal::Words("the file's text could not be changed there: change it by hand".into());
    match edit {
        Edit::Move { id, by } => moved(source, unit, id, *by),
        Edit::Put { id, at } => put(source, unit, id, at).ok_or_else(broken),
        Edit::Turn { id, to } => {
            let value = number(*to);
            set_own(source, id, "turn", (*to != 0.0).then_some(&value)).ok_or_else(broken)
        }
        Edit::Lock { id, locked } => {
            set_own(source, id, "locked", locked.then_some("true")).ok_or_else(broken)
        }
        Edit::Add { id, instrument, at } => {
            let quoted = |s: &str| serde_json::Value::from(s).to_string();
            let (x, y) = (spelled(at.x, unit, None), spelled(at.y, unit, None));
            let element = format!(
                "{{ \"id\": {}, \"instrument\": {}, \"at\": [{x}, {y}] }}",
                quoted(id),
                quoted(instrument)
            );
            text::with_element(source, "place", &element).ok_or_else(broken)
        }
        Edit::Delete { id } => match own(source, id) {
            Some((list, k)) => {
                let (_, all) = text::elements(source, list).ok_or_else(broken)?;
                text::without_element(source, &all, k).ok_or_else(broken)
            }
            None => Err(Refusal::Words(format!(
                "{id} stands in no list of this file by itself (a row's item, a stack's unit, or an item of the file that \
                 this one builds on): take it out by hand"
            ))),
        },
    }
}

/// Whether an item stands by coordinates of its own; `None`: this file does not say where it stands.
pub fn is_by_coordinates(source: &str, id: &str) -> Option<bool> {
    if let Some(o) = object_of(source, id) {
        return Some(o.value("at").is_some());
    }
    let change = text::under_two(source, "change", id)?;
    let says = |key: &str| change.value(key).is_some();
    if says("at") { Some(true) } else { PLACES.into_iter().any(says).then_some(false) }
}

/// The list and the element that an item is.
fn own(source: &str, id: &str) -> Option<(&'static str, usize)> {
    LISTS.into_iter().find_map(|list| {
        let (_, all) = text::elements(source, list)?;
        Some((list, all.iter().position(|(name, _)| name.as_deref() == Some(id))?))
    })
}

fn object_of(source: &str, id: &str) -> Option<Object> {
    let (list, k) = own(source, id)?;
    text::elements(source, list)?.1.into_iter().nth(k).map(|(_, o)| o)
}

/// A key of an item set, or taken out with `None`.
fn set_own(source: &str, id: &str, key: &str, value: Option<&str>) -> Option<String> {
    match (object_of(source, id), value) {
        (Some(o), Some(value)) => text::set(source, &o, key, value),
        (Some(o), None) if o.value(key).is_some() => text::unset(source, &o, key),
        (Some(_), None) => Some(source.into()),
        // of the file that this one builds on: what was said there is answered here
        (None, value) => {
            changed(source, id, key, value.unwrap_or(if key == "locked" { "false" } else { "0" }))
        }
    }
}

/// A key set in what this file changes of an item of another.
fn changed(source: &str, id: &str, key: &str, value: &str) -> Option<String> {
    text::root(source)?.value("builds-on")?;
    if let Some(o) = text::under_two(source, "change", id) {
        return text::set(source, &o, key, value);
    }
    let entry = format!("{{ \"{key}\": {value} }}");
    if let Some(o) = text::under(source, "change") {
        return text::set(source, &o, id, &entry);
    }
    let quoted = serde_json::Value::from(id);
    text::set(source, &text::root(source)?, "change", &format!("{{\n    {quoted}: {entry}\n  }}"))
}

/// Coordinates in place of whatever said where the item stands.
fn put(source: &str, unit: Unit, id: &str, at: &[Length; 2]) -> Option<String> {
    let value = format!("[{}, {}]", typed(&at[0], unit), typed(&at[1], unit));
    let Some(o) = object_of(source, id) else { return changed(source, id, "at", &value) };
    if let Some(place) = o.value("at") {
        let old: Vec<serde_json::Value> = serde_json::from_str(source.get(place.clone())?).ok()?;
        let old = old.iter().zip(text::pair(source, place)?).zip(at).map(|((value, words), new)| {
            // what stays as it was keeps its spelling
            let same = Length::parse(&words, Some(unit)).is_ok_and(|l| l.nm() == new.nm());
            if same { value.to_string() } else { typed(new, unit) }
        });
        return text::set(source, &o, "at", &format!("[{}]", old.collect::<Vec<_>>().join(", ")));
    }
    // the first of the words of the relation becomes the coordinates, the others go
    let first = o.entries.iter().find(|(k, ..)| PLACES.contains(&k.as_str()))?;
    let mut out = text::with(source, first.1.clone(), &format!("\"at\": {value}"))?;
    for key in PLACES.iter().chain(&["offset"]) {
        let o = object_of(&out, id)?;
        if o.value(key).is_some() {
            out = text::unset(&out, &o, key)?;
        }
    }
    Some(out)
}

fn moved(source: &str, unit: Unit, id: &str, by: Vec2) -> Result<String, Refusal> {
    let broken = || Refusal::Words(format!("the place of {id} could not be rewritten: change it by hand"));
    let in_change = object_of(source, id).is_none();
    let Some(o) = object_of(source, id).or_else(|| text::under_two(source, "change", id)) else {
        return Err(Refusal::NoNumber(format!(
            "{id} has no place of its own in this file: it can be put at coordinates"
        )));
    };
    if let Some(at) = o.value("at") {
        let new = shifted(source, at.clone(), unit, by).ok_or_else(broken)?;
        return text::with(source, at, &new).ok_or_else(broken);
    }
    let along = [("right-of", 0, 1.0), ("left-of", 0, -1.0), ("above", 1, 1.0), ("below", 1, -1.0)];
    let beside = along.iter().find(|(key, ..)| o.value(key).is_some());
    if in_change || (beside.is_none() && o.value("centred-on").is_none()) {
        return Err(Refusal::NoNumber(format!(
            "the place of {id} follows from another item and no number of its own says it: it can be put at coordinates"
        )));
    }
    let mut left = by;
    let mut out = source.to_string();
    if let Some((_, axis, sign)) = beside {
        let key = if o.value("pitch").is_some() { "pitch" } else { "gap" };
        let at = o.value(key).ok_or_else(broken)?;
        let more = if *axis == 0 { by.x } else { by.y };
        if more != 0.0 {
            let words: serde_json::Value =
                source.get(at.clone()).and_then(|s| serde_json::from_str(s).ok()).ok_or_else(broken)?;
            let spelling = words.as_str().map_or_else(|| words.to_string(), str::to_owned);
            let was = Length::parse(&spelling, Some(unit)).map_err(|_| broken())?;
            let mm = was.mm() + sign * more;
            if mm < 0.0 || (mm == 0.0 && key == "pitch") {
                return Err(Refusal::NoNumber(format!(
                    "{id} would pass the item that its place is told from: it can be put at coordinates"
                )));
            }
            out = text::with(&out, at, &spelled(mm, unit, words.is_string().then(|| was.unit())))
                .ok_or_else(broken)?;
        }
        if *axis == 0 {
            left.x = 0.0;
        } else {
            left.y = 0.0;
        }
    }
    if left == Vec2::ZERO {
        return Ok(out);
    }
    let o = object_of(&out, id).ok_or_else(broken)?;
    let value = match o.value("offset") {
        Some(at) => shifted(&out, at, unit, left).ok_or_else(broken)?,
        None => format!("[{}, {}]", spelled(left.x, unit, None), spelled(left.y, unit, None)),
    };
    text::set(&out, &o, "offset", &value).ok_or_else(broken)
}

/// A pair of lengths moved on; what does not change keeps its spelling.
fn shifted(source: &str, at: std::ops::Range<usize>, unit: Unit, by: Vec2) -> Option<String> {
    let raw: Vec<serde_json::Value> = serde_json::from_str(source.get(at.clone())?).ok()?;
    let pair = text::pair(source, at)?;
    let mut new = Vec::new();
    for ((value, words), d) in raw.iter().zip(&pair).zip([by.x, by.y]) {
        if d == 0.0 {
            new.push(value.to_string());
            continue;
        }
        let was = Length::parse(words, Some(unit)).ok()?;
        new.push(spelled(was.mm() + d, unit, value.is_string().then(|| was.unit())));
    }
    Some(format!("[{}]", new.join(", ")))
}

/// Millimetres as a value of the file: a bare number in its unit, or, where it was written with a unit or cannot be said
/// bare, a text with that.
fn spelled(mm: f64, file: Unit, own: Option<Unit>) -> String {
    let unit = own.unwrap_or(file);
    let Some(length) = Length::from_mm(mm, unit) else { return number(mm) };
    let words = length.to_string();
    match words.strip_suffix(unit.name()).map(str::trim) {
        Some(bare) if own.is_none() && bare.parse::<f64>().is_ok() => bare.to_string(),
        _ => serde_json::Value::from(words).to_string(),
    }
}

/// A length as somebody typed it.
fn typed(length: &Length, file: Unit) -> String {
    let words = length.to_string();
    match words.strip_suffix(file.name()).map(str::trim) {
        Some(bare) if bare.parse::<f64>().is_ok() && serde_json::from_str::<f64>(bare).is_ok() => {
            bare.to_string()
        }
        _ => serde_json::Value::from(words).to_string(),
    }
}

/// A number as short as it is true, to a millionth.
fn number(v: f64) -> String {
    let s = format!("{v:.6}");
    let s = s.trim_end_matches('0').trim_end_matches('.');
    if s == "-0" { "0".into() } else { s.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = r#"{
  "format": 1, "panel": "p", "unit": "mm",
  "note": "kept   as it is",
  "place": [
    { "id": "a", "instrument": "x", "at": [60,  66.5], "note": "n" },
    { "id": "b", "instrument": "x", "right-of": "a", "pitch": "3 1/2 in" },
    { "id": "c", "instrument": "x", "left-of": "a", "gap": 9, "level": "b" },
    { "id": "m", "instrument": "x", "mirror-of": "a", "about": 0 }
  ]
}
"#;

    fn edit(text: &str, e: Edit) -> Result<String, Refusal> {
        by_hand(text, Unit::Millimetre, &e)
    }

    fn mv(id: &str, x: f64, y: f64) -> Edit {
        Edit::Move { id: id.into(), by: Vec2::new(x, y) }
    }

    #[test]
    fn a_move_rewrites_the_relations_own_number_and_nothing_else() {
        let cases = [
            (mv("a", 1.5, 0.0), "[60,  66.5]", "[61.5, 66.5]"),
            (mv("b", 25.4, 0.0), "\"3 1/2 in\"", "\"4 1/2 in\""),
            (mv("c", 2.0, 0.0), "\"gap\": 9", "\"gap\": 7"),
            (mv("c", 0.0, -3.25), "\"level\": \"b\"", "\"level\": \"b\", \"offset\": [0, -3.25]"),
        ];
        for (e, old, new) in cases {
            let got = edit(FILE, e.clone()).unwrap();
            assert_eq!(got, FILE.replacen(old, new, 1), "{e:?}");
        }
        assert!(matches!(edit(FILE, mv("m", 1.0, 0.0)), Err(Refusal::NoNumber(_))));
        assert!(matches!(edit(FILE, mv("c", 10.0, 0.0)), Err(Refusal::NoNumber(_))));
        assert!(edit("{ not json", mv("a", 1.0, 0.0)).is_err());
    }

    #[test]
    fn coordinates_take_the_place_of_a_relation_as_they_were_typed() {
        let at = ["3 1/8 in", "12.5"].map(|t| Length::parse(t, Some(Unit::Millimetre)).unwrap());
        let got = edit(FILE, Edit::Put { id: "c".into(), at }).unwrap();
        let old = r#""left-of": "a", "gap": 9, "level": "b""#;
        assert_eq!(got, FILE.replacen(old, r#""at": ["3 1/8 in", 12.5]"#, 1));
    }

    #[test]
    fn turn_lock_add_and_delete_leave_the_rest() {
        let turned = edit(FILE, Edit::Turn { id: "a".into(), to: 90.0 }).unwrap();
        assert_eq!(turned, FILE.replacen("\"note\": \"n\"", "\"note\": \"n\", \"turn\": 90", 1));
        assert_eq!(edit(&turned, Edit::Turn { id: "a".into(), to: 0.0 }).unwrap(), FILE);
        let locked = edit(FILE, Edit::Lock { id: "b".into(), locked: true }).unwrap();
        assert_eq!(edit(&locked, Edit::Lock { id: "b".into(), locked: false }).unwrap(), FILE);
        let add = Edit::Add { id: "n".into(), instrument: "x".into(), at: Vec2::new(1.0, 2.0) };
        let added = edit(FILE, add).unwrap();
        assert!(
            added.contains(
                "\"about\": 0 },\n    { \"id\": \"n\", \"instrument\": \"x\", \"at\": [1, 2] }\n  ]"
            )
        );
        assert_eq!(edit(&added, Edit::Delete { id: "n".into() }).unwrap(), FILE);
        let first = edit(FILE, Edit::Delete { id: "a".into() }).unwrap();
        assert!(first.contains("\"place\": [\n    { \"id\": \"b\""), "{first}");
    }

    #[test]
    fn an_item_of_another_file_gets_a_change_of_its_own() {
        let file = "{\n  \"format\": 1,\n  \"builds-on\": \"o.json\"\n}\n";
        assert!(matches!(edit(file, mv("a", 1.0, 0.0)), Err(Refusal::NoNumber(_))));
        let at = ["10", "20"].map(|t| Length::parse(t, Some(Unit::Millimetre)).unwrap());
        let put = edit(file, Edit::Put { id: "a".into(), at }).unwrap();
        assert!(
            put.contains(
                "\"builds-on\": \"o.json\",\n  \"change\": {\n    \"a\": { \"at\": [10, 20] }\n  }\n}"
            ),
            "{put}"
        );
        let again = edit(&put, mv("a", 0.5, 0.0)).unwrap();
        assert_eq!(again, put.replace("[10, 20]", "[10.5, 20]"));
    }
}
