//! Copies of items: the text of each once more, under an id of its own, the relations among them kept.

use super::item::own;
use super::moved::{PLACES, plainly, shifted};
use super::spelled::spelled;
use super::text::{self, Object};
use super::told_from::NAMES;
use crate::geom::Vec2;
use crate::units::{Length, Unit};
use serde_json::Value;
use std::collections::BTreeMap;

/// What is true of the one part and not of another one like it: it was there already, somebody measured it, it must stay.
const OF_THE_ONE: [&str; 3] = ["kept", "checked", "locked"];

/// What a copy needs to know of the others.
pub(super) struct Copies<'a> {
    /// Ids with those of their copies, a stack's units among them.
    pub ids: &'a BTreeMap<String, String>,
    /// How far the copies stand from what they are copied from, mm.
    pub by: Vec2,
    /// Unit of the file.
    pub unit: Unit,
}

/// Whether an item stands in this text by itself, so that its text can be copied.
pub fn is_copied_as_text(source: &str, id: &str) -> bool {
    own(source, id).is_some()
}

impl Copies<'_> {
    /// The text with a copy of an item behind the last element of its list. `at` is where the item stands, mm.
    pub(super) fn of(&self, source: &str, id: &str, at: Vec2) -> Option<String> {
        let (list, k) = own(source, id)?;
        let (_, all) = text::elements(source, list)?;
        let element = source.get(all.get(k)?.1.whole.clone())?;
        text::with_element(source, list, &self.element(element, id, at)?)
    }

    /// The text of one element, copied.
    fn element(&self, element: &str, id: &str, at: Vec2) -> Option<String> {
        let mut out = element.to_string();
        let place = text::root(&out)?.value("id")?;
        out = text::with(&out, place, &quoted(self.ids.get(id)?))?;
        let o = text::root(&out)?;
        if let Some(place) = o.value("at") {
            let new = shifted(&out, place.clone(), self.unit, self.by)?;
            out = text::with(&out, place, &new)?;
        } else if self.names(&out, &o).all(|name| self.ids.contains_key(&name)) {
            out = self.renamed(&out)?;
        } else {
            let to = at + self.by;
            let value = format!("[{}, {}]", spelled(to.x, self.unit, None), spelled(to.y, self.unit, None));
            out = plainly(&out, &o, &PLACES, &value, text::root)?;
        }
        for key in OF_THE_ONE {
            let o = text::root(&out)?;
            if o.value(key).is_some() {
                out = text::unset(&out, &o, key)?;
            }
        }
        out = self.lettered(&out)?;
        self.with_units(&out)
    }

    fn names(&self, text: &str, o: &Object) -> impl Iterator<Item = String> {
        let all: Vec<String> =
            NAMES.iter().filter_map(|key| serde_json::from_str(text.get(o.value(key)?)?).ok()).collect();
        all.into_iter()
    }

    /// Relations told from the copies instead; the line of a mirror image is moved on with them.
    fn renamed(&self, element: &str) -> Option<String> {
        let mut out = element.to_string();
        for key in NAMES.iter().chain(&["of"]) {
            let Some(place) = text::root(&out)?.value(key) else { continue };
            let name: String = serde_json::from_str(out.get(place.clone())?).ok()?;
            if let Some(new) = self.ids.get(&name) {
                out = text::with(&out, place, &quoted(new))?;
            }
        }
        if let Some(place) = text::root(&out)?.value("about").filter(|_| self.by.x != 0.0) {
            let value: Value = serde_json::from_str(out.get(place.clone())?).ok()?;
            let words = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
            let was = Length::parse(&words, Some(self.unit)).ok()?;
            let new = spelled(was.mm() + self.by.x, self.unit, value.is_string().then(|| was.unit()));
            out = text::with(&out, place, &new)?;
        }
        Some(out)
    }

    /// The lettering: the labels that are copied too, else none, as one label names one item.
    fn lettered(&self, element: &str) -> Option<String> {
        let o = text::root(element)?;
        let Some(place) = o.value("label") else { return Some(element.into()) };
        let Ok(labels) = serde_json::from_str::<Vec<String>>(element.get(place.clone())?) else {
            return Some(element.into());
        };
        let new: Vec<String> = labels.iter().filter_map(|l| self.ids.get(l).cloned()).collect();
        if new.is_empty() {
            return text::unset(element, &o, "label");
        }
        text::with(element, place, &Value::from(new).to_string().replace(',', ", "))
    }

    /// A stack's units under their copies' ids, from the last to the first.
    fn with_units(&self, element: &str) -> Option<String> {
        let Some((_, units)) = text::elements(element, "units") else { return Some(element.into()) };
        let mut out = element.to_string();
        for (id, o) in units.iter().rev() {
            let mut unit = out.get(o.whole.clone())?.to_string();
            for key in OF_THE_ONE {
                let o = text::root(&unit)?;
                if o.value(key).is_some() {
                    unit = text::unset(&unit, &o, key)?;
                }
            }
            if let Some(new) = id.as_ref().and_then(|id| self.ids.get(id)) {
                let place = text::root(&unit)?.value("id")?;
                unit = text::with(&unit, place, &quoted(new))?;
            }
            out = text::with(&out, o.whole.clone(), &unit)?;
        }
        Some(out)
    }
}

fn quoted(s: &str) -> String {
    Value::from(s).to_string()
}
