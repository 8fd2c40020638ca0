//! The checked tree of a file: every value typed, every value with its place.
//!
//! A value that did not fit the table is not in the tree; its problem has been told.

use super::Text;
use super::words::Word;
use crate::diag::{Where, Written};
use crate::units::{Angle, Current, Length, Mass};

/// A length with its tolerance and source.
#[derive(Clone, Debug, PartialEq)]
pub struct Size {
    /// The length as drawn.
    pub of: Length,
    /// How much larger it may be.
    pub plus: Option<Length>,
    /// How much smaller it may be.
    pub minus: Option<Length>,
    /// Name of its source in the file's `sources`: its own, or the nearest one around it.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

impl Size {
    /// In millimetres, as drawn.
    pub fn mm(&self) -> f64 {
        self.of.mm()
    }
}

/// A mass with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// The mass.
    pub of: Mass,
    /// Name of its source.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

/// A point of the sheet's face.
#[derive(Clone, Debug, PartialEq)]
pub struct Xy {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
    /// Where it stands.
    pub place: Where,
}

/// A point in space: d is the depth, forward.
#[derive(Clone, Debug, PartialEq)]
pub struct Xyd {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
    /// Forward.
    pub d: Length,
    /// Where it stands.
    pub place: Where,
}

/// The value of a limit, in whatever its rule measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// The bare number: diameters, degrees, a count. `None` when a length unit was written.
    pub number: Option<f64>,
    /// As a length: with its own unit, or the bare number in the file's unit.
    pub length: Option<Length>,
    /// As written.
    pub written: Text,
    /// Where it stands.
    pub place: Where,
}

/// A value of the tree.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// True or false.
    Flag(bool),
    /// A number.
    Number(f64),
    /// A text, id or path.
    Text(Text),
    /// A length.
    Length(Length),
    /// A length with tolerance and source.
    Size(Size),
    /// An angle.
    Angle(Angle),
    /// A mass.
    Mass(Weight),
    /// A current.
    Current(Current),
    /// A limit's value.
    Amount(Amount),
    /// `[x, y]`.
    Point(Xy),
    /// `[x, y, d]`.
    Point3(Xyd),
    /// A list.
    List(Vec<Node>),
    /// An object, its entries in the file's order.
    Object(Vec<Entry>),
    /// A value that was refused, which is told: the ids that stand in it.
    Refused(Vec<Text>),
}

/// A key with its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The key.
    pub key: Text,
    /// Where the key stands.
    pub key_place: Where,
    /// The value.
    pub node: Node,
}

/// A value with its place; for an object or list the place runs from bracket to bracket.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// The value.
    pub value: Value,
    /// Where it stands.
    pub place: Where,
    /// The source named nearest around it.
    pub source: Option<Text>,
}

macro_rules! getter {
    ($(#[$doc:meta])* $name:ident, $variant:ident, $out:ty) => {
        $(#[$doc])*
        pub fn $name(&self, key: &str) -> Option<$out> {
            match &self.get(key)?.value {
                Value::$variant(value) => Some(value.clone()),
                _ => None,
            }
        }
    };
}

macro_rules! written_getter {
    ($(#[$doc:meta])* $name:ident, $variant:ident, $out:ty) => {
        $(#[$doc])*
        pub fn $name(&self, key: &str) -> Option<Written<$out>> {
            let node = self.get(key)?;
            match &node.value {
                Value::$variant(value) => Some(Written::new(value.clone(), node.place.clone())),
                _ => None,
            }
        }
    };
}

impl Node {
    /// The value of a key, if this is an object that has it.
    pub fn get(&self, key: &str) -> Option<&Node> {
        self.entries().iter().find(|e| e.key.as_ref() == key).map(|e| &e.node)
    }

    /// The entries of an object; none if this is something else.
    pub fn entries(&self) -> &[Entry] {
        match &self.value {
            Value::Object(entries) => entries,
            _ => &[],
        }
    }

    /// The elements of a list; none if this is something else.
    pub fn items(&self) -> &[Node] {
        match &self.value {
            Value::List(items) => items,
            _ => &[],
        }
    }

    /// The elements of the list under a key; none if there is no list.
    pub fn list(&self, key: &str) -> &[Node] {
        self.get(key).map_or(&[], Node::items)
    }

    /// Everything that can be built from the list under a key.
    pub fn each<T>(&self, key: &str, build: impl Fn(&Node) -> Option<T>) -> Vec<T> {
        self.list(key).iter().filter_map(build).collect()
    }

    /// This value as a text.
    pub fn as_text(&self) -> Option<Written<Text>> {
        match &self.value {
            Value::Text(text) => Some(Written::new(text.clone(), self.place.clone())),
            _ => None,
        }
    }

    /// The texts of the list under a key.
    pub fn texts(&self, key: &str) -> Vec<Written<Text>> {
        self.each(key, Node::as_text)
    }

    /// The chosen word under a key.
    pub fn word<T: Word>(&self, key: &str) -> Option<Written<T>> {
        let text = self.text(key)?;
        T::named(&text).map(|word| Written::new(word, text.place))
    }

    /// Whether the flag under a key is there and true.
    pub fn is(&self, key: &str) -> bool {
        self.flag(key).is_some_and(|flag| flag.value)
    }

    written_getter!(
        /// The text under a key.
        text, Text, Text
    );
    written_getter!(
        /// The flag under a key.
        flag, Flag, bool
    );
    written_getter!(
        /// The number under a key.
        number, Number, f64
    );
    written_getter!(
        /// The length under a key.
        length, Length, Length
    );
    written_getter!(
        /// The angle under a key.
        angle, Angle, Angle
    );
    written_getter!(
        /// The current under a key.
        current, Current, Current
    );
    getter!(
        /// The size under a key.
        size, Size, Size
    );
    getter!(
        /// The mass under a key.
        mass, Mass, Weight
    );
    getter!(
        /// The limit's value under a key.
        amount, Amount, Amount
    );
    getter!(
        /// The point under a key.
        point, Point, Xy
    );
    getter!(
        /// The point in space under a key.
        point3, Point3, Xyd
    );
}
