//! Single numbers of an instrument by their paths, as `instruments show` prints them (`bodies.can.to`, `mass`): what may
//! stand at a path follows from the table alone, whichever instrument is meant.

use super::table::INSTRUMENT;
use crate::define::table::{Field, Kind, Record, may, must};
use crate::units::Sign;

/// The whole of an instrument, from which paths begin.
pub(super) static ROOT: Kind = Kind::Object(&INSTRUMENT);

const SOURCE: Field = must(
    "source",
    Kind::Id,
    "Name of its source in this file's `sources`: who measured it, or which document.",
);

macro_rules! number {
    ($name:ident, $called:literal, $of:expr, $doc:literal $(, $more:expr)*) => {
        const $name: Kind = Kind::Object(&Record {
            name: $called,
            doc: "A number of an item in place of its definition's.",
            fields: &[&[must("of", $of, $doc), SOURCE], $($more),*],
            rules: &[],
        });
    };
}

const OFF: &[Field] = &[
    may("plus", Kind::Length(Sign::NotNegative), "How much larger it may be."),
    may("minus", Kind::Length(Sign::NotNegative), "How much smaller it may be."),
];

number!(SIZE, "size of its own", Kind::Length(Sign::Positive), "The length as measured.", OFF);
number!(ROOM, "room of its own", Kind::Length(Sign::NotNegative), "The length as measured.", OFF);
number!(DEPTH, "depth of its own", Kind::Length(Sign::Any), "The depth as measured.", OFF);
number!(MASS, "mass of its own", Kind::Mass, "The mass, such as \"0.45 kg\".");
number!(CURRENT, "current of its own", Kind::Current, "The current, such as \"1.5 A\".");
number!(ANGLE, "angle of its own", Kind::Angle, "The angle in degrees.");
number!(POINT, "point of its own", Kind::Point, "The point, [x, y].");
number!(POINT3, "point in space of its own", Kind::Point3, "The point, [x, y, d].");

/// Why no number stands at a path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::define) enum NoNumber {
    /// A step is no key there; the path up to it, the step, and the keys that are.
    Key(String, String, Vec<&'static str>),
    /// The path ends too early or leads to words.
    Words,
}

/// What an object at a path must be: value, source and, of a length, its tolerance.
pub(in crate::define) fn number_at(path: &str) -> Result<&'static Kind, NoNumber> {
    let mut kind = &ROOT;
    let mut before = String::new();
    for step in path.split('.') {
        kind = match inner(kind) {
            Kind::Object(record) => {
                let known = || record.all().map(|f| f.key).filter(|k| *k != "source").collect();
                match record.field(step) {
                    Some(field) => &field.kind,
                    None => return Err(NoNumber::Key(before, step.into(), known())),
                }
            }
            Kind::List { of, .. } if !step.is_empty() => of,
            _ => return Err(NoNumber::Words),
        };
        before = if before.is_empty() { step.into() } else { format!("{before}.{step}") };
    }
    of_leaf(kind).ok_or(NoNumber::Words)
}

/// What a number is, in words; empty where there is none.
pub fn number_doc(path: &str) -> &'static str {
    let mut kind = &ROOT;
    let mut doc = "";
    for step in path.split('.') {
        kind = match inner(kind) {
            Kind::Object(record) => match record.field(step) {
                Some(field) => {
                    doc = field.doc;
                    &field.kind
                }
                None => return "",
            },
            // an element is said by what is said of its list
            Kind::List { of, .. } => of,
            _ => return "",
        };
    }
    doc
}

/// Of what may be a list or a single value, the list: a path goes on through it.
pub(super) fn inner(kind: &'static Kind) -> &'static Kind {
    match kind {
        Kind::Either(kinds) => kinds.iter().find(|k| matches!(k, Kind::List { .. })).unwrap_or(kind),
        _ => kind,
    }
}

/// What a number of this kind is written as, if it is one.
pub(super) fn of_leaf(kind: &'static Kind) -> Option<&'static Kind> {
    Some(match kind {
        Kind::Size(Sign::Positive) => &SIZE,
        Kind::Size(Sign::NotNegative) => &ROOM,
        Kind::Size(Sign::Any) => &DEPTH,
        Kind::Weight => &MASS,
        Kind::Current => &CURRENT,
        Kind::Angle => &ANGLE,
        Kind::Point => &POINT,
        Kind::Point3 => &POINT3,
        Kind::Either(kinds) => return kinds.iter().find_map(of_leaf),
        _ => return None,
    })
}

/// All paths at which a number may stand, with what it is there; a list's element stands for all of them.
pub(in crate::define) fn all_numbers(element: &str) -> Vec<(String, &'static Kind)> {
    let mut out = Vec::new();
    walk(&ROOT, String::new(), element, &mut out);
    out
}

fn walk(kind: &'static Kind, path: String, element: &str, out: &mut Vec<(String, &'static Kind)>) {
    out.extend(of_leaf(kind).map(|number| (path.clone(), number)));
    match inner(kind) {
        Kind::Object(record) => {
            for field in record.all() {
                let under =
                    if path.is_empty() { field.key.to_string() } else { format!("{path}.{}", field.key) };
                walk(&field.kind, under, element, out);
            }
        }
        Kind::List { of, .. } => walk(of, format!("{path}.{element}"), element, out),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn expected(path: &str) -> String {
        match number_at(path) {
            Ok(Kind::Object(record)) => record.field("of").unwrap().kind.expected(),
            other => format!("{other:?}"),
        }
    }

    #[test]
    fn a_path_says_by_itself_what_may_stand_there() {
        for (path, asked) in [
            ("mass", "a mass"),
            ("centre", "a point [x, y, d]"),
            ("current.continuous", "a current"),
            ("bodies.can.to", "a length"),
            ("openings.main.shape.circle", "a length"),
            ("openings.main.shape.clip", "a length"),
            ("openings.main.shape.clip.2", "a length"),
            ("holes.1.at.3", "a point [x, y]"),
            ("holes.1.nutplate.rivets.turn", "an angle"),
            ("ports.pipe.needs.1.length", "a length"),
            ("tilt.bears", "an angle"),
        ] {
            assert!(expected(path).starts_with(asked), "{path}: {}", expected(path));
        }
    }

    #[test]
    fn all_paths_are_found_by_their_names() {
        let all = all_numbers("1");
        assert!(all.len() > 50, "{}", all.len());
        for (path, kind) in all {
            assert!(std::ptr::eq(number_at(&path).unwrap(), kind), "{path}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for path in [
            "kind",
            "bodies",
            "bodies.can",
            "bodies.can.shape",
            "sources.own.who",
            "stack.unit",
            "holes.1.count",
        ] {
            assert_eq!(number_at(path).err(), Some(NoNumber::Words), "{path}");
        }
        for (path, before, step) in [
            ("", "", ""),
            ("bodies.can.too", "bodies.can", "too"),
            ("mas", "", "mas"),
            ("current.", "current", ""),
        ] {
            let Err(NoNumber::Key(b, s, keys)) = number_at(path) else { panic!("{path}") };
            assert!(b == before && s == step && !keys.is_empty(), "{path}: {b} {s}");
        }
        assert_eq!(number_at("mass.of").err(), Some(NoNumber::Words));
        assert_eq!(number_at("bodies..to").err(), Some(NoNumber::Words));
    }
}
