//! The table from which both the reader and the JSON Schema come: records, their fields, and what
//! may stand in each.

use crate::units::Sign;

/// A kind of JSON object. Any object may also carry a `note`.
#[derive(Debug)]
pub struct Record {
    /// Its name in messages and in the schema.
    pub name: &'static str,
    /// What it is.
    pub doc: &'static str,
    /// Its fields, in groups that records may share.
    pub fields: &'static [&'static [Field]],
    /// What its fields ask of each other, in groups that records may share.
    pub rules: &'static [&'static [Rule]],
}

impl Record {
    /// Every field.
    pub fn all(&self) -> impl Iterator<Item = &'static Field> {
        self.fields.iter().flat_map(|group| group.iter())
    }

    /// The field of a key.
    pub fn field(&self, key: &str) -> Option<&'static Field> {
        self.all().find(|f| f.key == key)
    }
}

/// A key of an object.
#[derive(Debug)]
pub struct Field {
    /// The key.
    pub key: &'static str,
    /// What it says.
    pub doc: &'static str,
    /// What may stand there.
    pub kind: Kind,
    /// Whether it may be missing.
    pub need: Need,
}

/// A field that may be missing.
pub const fn may(key: &'static str, kind: Kind, doc: &'static str) -> Field {
    Field { key, doc, kind, need: Need::May }
}

/// A field that must be there.
pub const fn must(key: &'static str, kind: Kind, doc: &'static str) -> Field {
    Field { key, doc, kind, need: Need::Must }
}

/// Whether a field may be missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// Must be there.
    Must,
    /// May be missing.
    May,
}

/// What may stand in a field.
#[derive(Debug)]
pub enum Kind {
    /// A length: `"3 1/8 in"`, or a bare number in the file's unit.
    Length(Sign),
    /// A length with an optional tolerance and source: a length, or `{"of", "plus", "minus", "source"}`.
    Size(Sign),
    /// An angle in degrees.
    Angle,
    /// A mass with its unit.
    Mass,
    /// A mass, or `{"of", "source"}`.
    Weight,
    /// A current; a bare number is amperes.
    Current,
    /// A limit's value: a length, a bare number, `"2 D"` or `"5 deg"`.
    Amount,
    /// A number within bounds.
    Number {
        /// Least.
        least: f64,
        /// Greatest.
        most: f64,
    },
    /// A whole number within bounds.
    Whole {
        /// Least.
        least: u32,
        /// Greatest.
        most: u32,
    },
    /// A text that says something.
    Text,
    /// Who checked something and when: a word and a date or year.
    Signed,
    /// A text that may be empty.
    Words,
    /// A name that other things refer to: letters, digits, `-` and `_`.
    Id,
    /// An outline in SVG path syntax, in the panel's axes and the file's unit.
    Path,
    /// True or false.
    Flag,
    /// One of these words, each with its meaning.
    Choice(&'static [(&'static str, &'static str)]),
    /// `[x, y]`.
    Point,
    /// `[x, y, d]`.
    Point3,
    /// A list.
    List {
        /// What each element is.
        of: &'static Kind,
        /// Fewest elements.
        least: usize,
        /// Most elements.
        most: usize,
    },
    /// An object whose keys are ids of the user's choice.
    Map(&'static Kind),
    /// An object whose keys are paths of an instrument's numbers, each with a value and its source.
    Numbers,
    /// An object with known keys.
    Object(&'static Record),
    /// One of several, told apart by their JSON types.
    Either(&'static [Kind]),
}

/// A list of any length.
pub const fn list(of: &'static Kind) -> Kind {
    Kind::List { of, least: 0, most: usize::MAX }
}

/// What the fields of one object ask of each other.
#[derive(Clone, Copy, Debug)]
pub enum Rule {
    /// Exactly one of these keys stands there.
    One(&'static [&'static str]),
    /// At least one of these keys stands there.
    AtLeastOne(&'static [&'static str]),
    /// At most one of these keys stands there.
    AtMostOne(&'static [&'static str]),
    /// `key` asks for at least one of `beside`.
    Beside {
        /// The key that asks.
        key: &'static str,
        /// The keys of which one must be there too.
        beside: &'static [&'static str],
    },
}

/// The type of a JSON value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Json {
    /// Text.
    Text,
    /// Number.
    Number,
    /// True or false.
    Flag,
    /// List.
    List,
    /// Object.
    Object,
}

impl Kind {
    /// The JSON types in which it may be written.
    pub fn types(&self) -> &'static [Json] {
        match self {
            Kind::Length(_) | Kind::Angle | Kind::Current | Kind::Amount => &[Json::Text, Json::Number],
            Kind::Size(_) => &[Json::Text, Json::Number, Json::Object],
            Kind::Weight => &[Json::Text, Json::Object],
            Kind::Number { .. } | Kind::Whole { .. } => &[Json::Number],
            Kind::Mass
            | Kind::Text
            | Kind::Signed
            | Kind::Words
            | Kind::Id
            | Kind::Path
            | Kind::Choice(_) => &[Json::Text],
            Kind::Flag => &[Json::Flag],
            Kind::Point | Kind::Point3 | Kind::List { .. } => &[Json::List],
            Kind::Map(_) | Kind::Numbers | Kind::Object(_) => &[Json::Object],
            Kind::Either(_) => &[],
        }
    }

    /// What is expected, in words.
    pub fn expected(&self) -> String {
        match self {
            Kind::Length(_) => "a length such as \"3 1/8 in\"".into(),
            Kind::Size(_) => {
                "a size such as \"79.4 mm\" or {\"of\": \"79.4 mm\", \"plus\": 0.2, \"minus\": 0}".into()
            }
            Kind::Angle => "an angle in degrees".into(),
            Kind::Mass | Kind::Weight => "a mass such as \"0.45 kg\"".into(),
            Kind::Current => "a current such as \"1.5 A\"".into(),
            Kind::Amount => "a number, or a length such as \"6 mm\"".into(),
            Kind::Number { .. } => "a number".into(),
            Kind::Whole { .. } => "a whole number".into(),
            Kind::Text | Kind::Words => "a text".into(),
            Kind::Signed => "who and when, such as \"A. Builder, 2 April 2024\"".into(),
            Kind::Id => "an id such as \"asi\"".into(),
            Kind::Path => "an outline such as \"M 0 0 H 400 V 120 H 0 Z\"".into(),
            Kind::Flag => "true or false".into(),
            Kind::Choice(words) => {
                let all: Vec<String> = words.iter().map(|(w, _)| format!("\"{w}\"")).collect();
                format!("one of {}", all.join(", "))
            }
            Kind::Point => "a point [x, y]".into(),
            Kind::Point3 => "a point [x, y, d]".into(),
            Kind::List { of, .. } => format!("a list, each element {}", of.expected()),
            Kind::Map(_) => "an object".into(),
            Kind::Numbers => {
                "an object such as {\"mass\": {\"of\": \"0.46 kg\", \"source\": \"scale\"}}".into()
            }
            Kind::Object(record) => format!("an object ({})", record.name),
            Kind::Either(kinds) => kinds.iter().map(Kind::expected).collect::<Vec<_>>().join(", or "),
        }
    }
}
