//! One change to a panel's file as a person would type it: a move rewrites the relation's own number, an item of the file
//! that this one builds on gets a change of its own, key order and untouched text stay.

use super::copied::Copies;
use super::item::{deleted, set_of, set_own};
use super::moved::{flipped, moved, put};
use super::numbers::{self, Said};
use super::spelled::{number, spelled};
use super::turned::quartered;
use super::{text, together};
use crate::geom::Vec2;
use crate::units::{Length, Unit};
use std::collections::BTreeMap;

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
    /// Told from the other side of the item that it stands beside, left or right, as far off as before.
    Flip {
        /// The item.
        id: String,
    },
    /// Told from the side of the items it stands beside on which it is once all of them are turned by quarters.
    Quarter {
        /// The item.
        id: String,
        /// How many, counter-clockwise.
        quarters: usize,
    },
    /// Turned to an angle, degrees.
    Turn {
        /// The item.
        id: String,
        /// Counter-clockwise.
        to: f64,
    },
    /// A key that is true or false; what is false is not written where nothing else says that it is true.
    Flag {
        /// The item.
        id: String,
        /// The key: `locked`, `provision`, `kept`, `critical`.
        key: &'static str,
        /// What it says.
        is: bool,
    },
    /// A key of its own set, or taken out.
    Say {
        /// The item.
        id: String,
        /// The key.
        key: String,
        /// What it says, as JSON; `None`: nothing.
        value: Option<serde_json::Value>,
    },
    /// A number of its own said in place of its definition's, or no longer said.
    Number {
        /// The item.
        id: String,
        /// Where it stands in the definition.
        path: String,
        /// What it is; `None`: the definition's holds again.
        said: Option<Box<Said>>,
        /// A source that the file is to have from now on, by its name.
        source: Option<Box<(String, serde_json::Value)>>,
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
    /// Copied with its settings; relations among what is copied are kept.
    Copy {
        /// The item, which stands in this file by itself ([`super::is_copied_as_text`]).
        id: String,
        /// Where it stands, mm.
        at: Vec2,
        /// How far from it the copy stands.
        by: Vec2,
        /// All ids that are copied, with those of their copies.
        ids: BTreeMap<String, String>,
    },
    /// Items that a hand moves together from now on, or no longer.
    Together {
        /// The items.
        ids: Vec<String>,
        /// Together, or apart.
        together: bool,
        /// The lists that held until now, whichever file says them.
        now: Vec<Vec<String>>,
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

impl Edit {
    /// The one item that it is about.
    fn subject(&self) -> Option<&str> {
        match self {
            Edit::Move { id, .. }
            | Edit::Put { id, .. }
            | Edit::Flip { id }
            | Edit::Quarter { id, .. }
            | Edit::Turn { id, .. }
            | Edit::Flag { id, .. }
            | Edit::Say { id, .. }
            | Edit::Add { id, .. }
            | Edit::Copy { id, .. }
            | Edit::Delete { id } => Some(id),
            _ => None,
        }
    }
}

/// The text with a change made. `unit` is that of the file.
///
/// # Errors
/// Where the change cannot be written so; the text is then as it was.
pub fn by_hand(source: &str, unit: Unit, edit: &Edit) -> Result<String, Refusal> {
    // an item of a floating panel that is laid in: no text of this file can speak of it
    if let Some((id, (panel, _))) = edit.subject().and_then(|id| Some((id, id.split_once(':')?))) {
        return Err(Refusal::Words(format!(
            "{id} stands on the floating panel {panel}, which has a file of its own: open that one to change it"
        )));
    }
    let broken = || Refusal::Words("the file's text could not be changed there: change it by hand".into());
    match edit {
        Edit::Move { id, by } => moved(source, unit, id, *by),
        Edit::Put { id, at } => match set_of(source, id) {
            Some(set) => Err(Refusal::Words(format!(
                "{id} stands in a {set} and has no coordinates of its own: move the {set}, or take {id} out of it by hand"
            ))),
            None => put(source, unit, id, at).ok_or_else(broken),
        },
        Edit::Flip { id } => flipped(source, id).ok_or_else(broken),
        Edit::Quarter { id, quarters } => quartered(source, unit, id, *quarters).ok_or_else(broken),
        Edit::Turn { id, to } => {
            let value = number(*to);
            set_own(source, id, "turn", (*to != 0.0).then_some(&value), Some("0")).ok_or_else(broken)
        }
        Edit::Flag { id, key, is } => {
            set_own(source, id, key, is.then_some("true"), Some("false")).ok_or_else(broken)
        }
        Edit::Say { id, key, value } => {
            let words = value.as_ref().map(|v| v.to_string());
            set_own(source, id, key, words.as_deref(), None).ok_or_else(|| {
                Refusal::Words(format!(
                    "what the file below this one says of `{key}` can be said otherwise here, but not taken away"
                ))
            })
        }
        Edit::Number { id, path, said, source: new } => {
            let with = match new {
                Some(new) => numbers::with_source(source, &new.0, &new.1)?,
                None => source.to_string(),
            };
            numbers::set(&with, id, path, said.as_deref())
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
        Edit::Copy { id, at, by, ids } => {
            Copies { ids, by: *by, unit }.of(source, id, *at).ok_or_else(broken)
        }
        Edit::Together { ids, together, now } => {
            together::set(source, now, ids, *together).ok_or_else(broken)
        }
        Edit::Delete { id } => deleted(source, id),
    }
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
        // of a floating panel that is laid in: no coordinates cure that
        let Err(Refusal::Words(why)) = edit(FILE, mv("centre:a", 1.0, 0.0)) else { panic!("it was moved") };
        assert!(why.contains("floating panel centre"), "{why}");
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
        let locked = edit(FILE, Edit::Flag { id: "b".into(), key: "locked", is: true }).unwrap();
        assert_eq!(edit(&locked, Edit::Flag { id: "b".into(), key: "locked", is: false }).unwrap(), FILE);
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
    fn what_stands_within_a_row_or_a_stack_gets_no_coordinates() {
        let file = r#"{ "builds-on": "o.json",
  "rows": [ { "id": "r", "instrument": "x", "ids": ["a", { "id": "b" }], "at": [1, 2], "pitch": 9 } ],
  "stacks": [ { "id": "s", "at": [5, 5], "units": [ { "id": "u", "instrument": "x" } ] } ]
}"#;
        let at = ["10", "20"].map(|t| Length::parse(t, Some(Unit::Millimetre)).unwrap());
        let first = edit(file, Edit::Put { id: "a".into(), at: at.clone() }).unwrap();
        assert_eq!(first, file.replace("[1, 2]", "[10, 20]"), "the first one's place is the row's");
        for (id, set) in [("b", "row"), ("u", "stack")] {
            let at = at.clone();
            let why = edit(file, Edit::Put { id: id.into(), at }).unwrap_err();
            assert!(why.words().starts_with(&format!("{id} stands in a {set} ")), "{}", why.words());
        }
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
