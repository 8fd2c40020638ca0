//! Where an item stands, rewritten: the relation's own number, or coordinates in its place.

use super::by_hand::Refusal;
use super::item::{changed, object_of, row_of, standing};
use super::spelled::{spelled, typed};
use super::text::{self, Object};
use crate::geom::Vec2;
use crate::units::{Length, Unit};

/// What says where an item stands.
pub(super) const PLACES: [&str; 11] = [
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

/// What says where a row stands; its own `pitch` or `gap` says how far apart its items are.
const ROW_PLACES: [&str; 11] = [
    "right-of",
    "left-of",
    "above",
    "below",
    "centred-on",
    "mirror-of",
    "about",
    "first-pitch",
    "first-gap",
    "level",
    "in-line-with",
];

/// Whether an item stands by coordinates of its own; `None`: this file does not say where it stands.
pub fn is_by_coordinates(source: &str, id: &str) -> Option<bool> {
    if let Some(o) = object_of(source, id) {
        return Some(o.value("at").is_some());
    }
    let change = text::under_two(source, "change", id)?;
    let says = |key: &str| change.value(key).is_some();
    if says("at") { Some(true) } else { PLACES.into_iter().any(says).then_some(false) }
}

/// Coordinates in place of whatever said where the item stands.
pub(super) fn put(source: &str, unit: Unit, id: &str, at: &[Length; 2]) -> Option<String> {
    let value = format!("[{}, {}]", typed(&at[0], unit), typed(&at[1], unit));
    let Some(o) = object_of(source, id) else {
        return match row_of(source, id) {
            // the place of a row is that of its first item
            Some((row, 0)) => {
                if row.value("at").is_some() {
                    return text::set(source, &row, "at", &value);
                }
                plainly(source, &row, &ROW_PLACES, &value, |out| row_of(out, id).map(|(row, _)| row))
            }
            _ => changed(source, id, "at", &value),
        };
    };
    if let Some(place) = o.value("at") {
        let old: Vec<serde_json::Value> = serde_json::from_str(source.get(place.clone())?).ok()?;
        let old = old.iter().zip(text::pair(source, place)?).zip(at).map(|((value, words), new)| {
            // what stays as it was keeps its spelling
            let same = Length::parse(&words, Some(unit)).is_ok_and(|l| l.nm() == new.nm());
            if same { value.to_string() } else { typed(new, unit) }
        });
        return text::set(source, &o, "at", &format!("[{}]", old.collect::<Vec<_>>().join(", ")));
    }
    plainly(source, &o, &PLACES, &value, |out| object_of(out, id))
}

/// The text with coordinates where an object has a relation: the first of its words becomes the coordinates, the others go.
/// `again` finds the object in a text that was changed.
pub(super) fn plainly(
    source: &str,
    o: &Object,
    places: &[&str],
    value: &str,
    again: impl Fn(&str) -> Option<Object>,
) -> Option<String> {
    let first = o.entries.iter().find(|(k, ..)| places.contains(&k.as_str()))?;
    let mut out = text::with(source, first.1.clone(), &format!("\"at\": {value}"))?;
    for key in places.iter().chain(&["offset"]) {
        let o = again(&out)?;
        if o.value(key).is_some() {
            out = text::unset(&out, &o, key)?;
        }
    }
    Some(out)
}

/// The item right or left of which an item is told to stand, where this text says so.
pub fn beside(source: &str, id: &str) -> Option<String> {
    let o = object_of(source, id)?;
    let at = o.value("right-of").or_else(|| o.value("left-of"))?;
    serde_json::from_str(source.get(at)?).ok()
}

/// What stands on one side of another item told to stand on the other side of it, left or right, as far off as before.
pub(super) fn flipped(source: &str, id: &str) -> Option<String> {
    let o = object_of(source, id)?;
    let (key, entry, _) = o.entries.iter().find(|(k, ..)| k == "right-of" || k == "left-of")?;
    let other = if key == "right-of" { "left-of" } else { "right-of" };
    let words = source.get(entry.clone())?.strip_prefix(&format!("\"{key}\""))?;
    text::with(source, entry.clone(), &format!("\"{other}\"{words}"))
}

/// An item moved on: the number rewritten by which its place is told. A row's item takes its row along.
pub(super) fn moved(source: &str, unit: Unit, id: &str, by: Vec2) -> Result<String, Refusal> {
    let broken = || Refusal::Words(format!("the place of {id} could not be rewritten: change it by hand"));
    let in_change = standing(source, id).is_none();
    let Some(o) = standing(source, id).or_else(|| text::under_two(source, "change", id)) else {
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
        // a row may say apart how far its first item stands from what it is beside
        let keys = ["first-pitch", "first-gap", "pitch", "gap"];
        let key = keys.into_iter().find(|k| o.value(k).is_some()).ok_or_else(broken)?;
        let at = o.value(key).ok_or_else(broken)?;
        let more = if *axis == 0 { by.x } else { by.y };
        if more != 0.0 {
            let words: serde_json::Value =
                source.get(at.clone()).and_then(|s| serde_json::from_str(s).ok()).ok_or_else(broken)?;
            let spelling = words.as_str().map_or_else(|| words.to_string(), str::to_owned);
            let was = Length::parse(&spelling, Some(unit)).map_err(|_| broken())?;
            let mm = was.mm() + sign * more;
            if mm < 0.0 || (mm == 0.0 && key.ends_with("pitch")) {
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
    let o = standing(&out, id).ok_or_else(broken)?;
    let value = match o.value("offset") {
        Some(at) => shifted(&out, at, unit, left).ok_or_else(broken)?,
        None => format!("[{}, {}]", spelled(left.x, unit, None), spelled(left.y, unit, None)),
    };
    text::set(&out, &o, "offset", &value).ok_or_else(broken)
}

/// A pair of lengths moved on; what does not change keeps its spelling.
pub(super) fn shifted(source: &str, at: std::ops::Range<usize>, unit: Unit, by: Vec2) -> Option<String> {
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
