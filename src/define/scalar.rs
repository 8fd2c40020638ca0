//! Single values against the table: lengths, quantities, numbers, texts, points.

use super::check::{Checker, short};
use super::node::{Amount, Node, Size, Value, Weight, Xy, Xyd};
use super::table::{Kind, Record, may, must};
use crate::diag::{Problem, did_you_mean};
use crate::units::{Angle, Current, Length, Mass, QuantityError, Sign, Unit};
use jsonc_parser::ast;
use jsonc_parser::common::Ranged;

/// A length with tolerance. The signs of `of` are checked by the kind that asks.
pub(super) const SIZE: Record = Record {
    name: "size",
    doc: "A length with its tolerance and where it comes from.",
    fields: &[&[
        must("of", Kind::Length(Sign::Any), "The length as drawn."),
        may("plus", Kind::Length(Sign::NotNegative), "How much larger it may be."),
        may("minus", Kind::Length(Sign::NotNegative), "How much smaller it may be."),
        may("source", Kind::Id, "Name of its source in `sources`."),
    ]],
    rules: &[],
};

/// A mass with its source.
pub(super) const WEIGHT: Record = Record {
    name: "mass",
    doc: "A mass and where it comes from.",
    fields: &[&[
        must("of", Kind::Mass, "The mass, such as \"0.45 kg\"."),
        may("source", Kind::Id, "Name of its source in `sources`."),
    ]],
    rules: &[],
};

const SIZE_RECORD: Record = SIZE;
const WEIGHT_RECORD: Record = WEIGHT;

impl Checker<'_> {
    /// A text or number of a kind that is written as one.
    pub(super) fn scalar(&mut self, value: &ast::Value, kind: &'static Kind) -> Option<Node> {
        let written = match value {
            ast::Value::StringLit(text) => text.value.as_ref(),
            ast::Value::NumberLit(number) => number.value,
            _ => return None,
        };
        let read = match kind {
            Kind::Length(sign) => self.length(value, written, *sign).map(Value::Length),
            Kind::Size(sign) => {
                let of = self.length(value, written, *sign)?;
                let (source, place) = (self.source(), self.place(value.range()));
                Some(Value::Size(Size { of, plus: None, minus: None, source, place }))
            }
            Kind::Angle => self.quantity(value, Angle::parse(written)).map(Value::Angle),
            Kind::Current => self.quantity(value, Current::parse(written)).map(Value::Current),
            Kind::Mass | Kind::Weight => {
                let of = self.quantity(value, Mass::parse(written))?;
                Some(Value::Mass(Weight { of, source: self.source(), place: self.place(value.range()) }))
            }
            Kind::Amount => self.amount(value, written).map(Value::Amount),
            Kind::Number { least, most } => self.number(value, written, *least, *most, false),
            Kind::Whole { least, most } => {
                self.number(value, written, f64::from(*least), f64::from(*most), true)
            }
            Kind::Text | Kind::Signed if written.trim().is_empty() => {
                let problem = Problem::new("empty-value", &self.place(value.range()), "the text is empty")
                    .help("write something, or leave the key out");
                self.tell(problem);
                None
            }
            Kind::Signed if !signed(written) => {
                let message = format!("{} does not say who checked and when", short(written));
                let problem = Problem::new("unsigned-check", &self.place(value.range()), message).help(
                    "write a name or a role, and a date or year: \"A. Builder, 2 April 2024, calliper\"; leave \
                     the key out until your own part is measured",
                );
                self.tell(problem);
                None
            }
            Kind::Id => self.id(written, value.range()).then(|| Value::Text(written.into())),
            Kind::Path => self.path(value, written),
            Kind::Choice(words) => self.choice(value, written, words),
            _ => Some(Value::Text(written.into())),
        };
        read.map(|read| self.node(read, value.range()))
    }

    fn quantity<T>(&mut self, value: &ast::Value, read: Result<T, QuantityError>) -> Option<T> {
        read.map_err(|error| self.refused(value, &error)).ok()
    }

    fn length(&mut self, value: &ast::Value, written: &str, sign: Sign) -> Option<Length> {
        let length = self.quantity(value, Length::parse(written, self.unit))?;
        if let Err(mut error) = length.check(sign) {
            // The sign's error speaks of the spelling with its unit; the caret takes the whole value.
            (error.start, error.end) = (0, written.len());
            self.refused(value, &error);
            return None;
        }
        Some(length)
    }

    fn number(
        &mut self,
        value: &ast::Value,
        written: &str,
        least: f64,
        most: f64,
        whole: bool,
    ) -> Option<Value> {
        let number: f64 = written.parse().ok().filter(|n: &f64| n.is_finite()).unwrap_or(f64::INFINITY);
        let problem = if whole && number.fract() != 0.0 {
            Problem::new(
                "wrong-type",
                &self.place(value.range()),
                format!("{} is no whole number", short(written)),
            )
        } else if !(least..=most).contains(&number) {
            let message = format!("{} is not between {least} and {most}", short(written));
            Problem::new("out-of-range", &self.place(value.range()), message)
        } else {
            return Some(Value::Number(number));
        };
        self.tell(problem.help(format!("give a number from {least} to {most}")));
        None
    }

    /// A limit: a length with its unit, a bare number, diameters or degrees.
    fn amount(&mut self, value: &ast::Value, written: &str) -> Option<Amount> {
        let place = self.place(value.range());
        let bare = written.trim().trim_end_matches(['D', '\u{b0}']).trim_end_matches("deg").trim();
        let is_bare = matches!(value, ast::Value::NumberLit(_)) || bare.len() < written.trim().len();
        // A bare number may be anything its rule measures, so a file without a unit is no error yet.
        let length = if is_bare { Length::parse(bare, self.unit).ok() } else { None };
        if is_bare {
            return match bare.parse::<f64>() {
                Ok(number) if number.is_finite() => {
                    let length = length.filter(|_| bare.len() == written.trim().len());
                    Some(Amount { number: Some(number), length, written: written.into(), place })
                }
                _ => {
                    let problem =
                        Problem::new("bad-number", &place, format!("`{}` is no number", short(written)))
                            .help("write a number, a length such as \"6 mm\", or diameters as \"2 D\"");
                    self.tell(problem);
                    None
                }
            };
        }
        let length = self.length(value, written, Sign::Any)?;
        Some(Amount { number: None, length: Some(length), written: written.into(), place })
    }

    /// An outline's text: the numbers in it have no unit of their own, so the file must declare one.
    fn path(&mut self, value: &ast::Value, written: &str) -> Option<Value> {
        let problem = if written.trim().is_empty() {
            Problem::new("empty-value", &self.place(value.range()), "the outline is empty")
                .help("write a path such as \"M 0 0 H 400 V 120 H 0 Z\"")
        } else if self.unit.is_none() {
            Problem::new("no-unit", &self.place(value.range()), "the numbers of this outline have no unit")
                .help("give the file its unit once: \"unit\": \"mm\"")
        } else {
            return Some(Value::Text(written.into()));
        };
        self.tell(problem);
        None
    }

    fn choice(&mut self, value: &ast::Value, written: &str, words: &[(&'static str, &str)]) -> Option<Value> {
        if let Some((word, _)) = words.iter().find(|(word, _)| *word == written) {
            return Some(Value::Text((*word).into()));
        }
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        // "inches" looks like no word of the list, and says one
        let same = Unit::named(&written.to_lowercase()).map(Unit::name).filter(|name| known.contains(name));
        let help = match same.or_else(|| did_you_mean(written, known.iter().copied())) {
            Some(near) => format!("did you mean \"{near}\"? known words: {}", known.join(", ")),
            None => format!("known words: {}", known.join(", ")),
        };
        let message = format!("\"{}\" is not a word known here", short(written));
        let problem = Problem::new("unknown-word", &self.place(value.range()), message).help(help);
        self.tell(problem);
        None
    }

    /// `[x, y]` or `[x, y, d]`.
    pub(super) fn point(&mut self, array: &ast::Array, kind: &Kind) -> Option<Node> {
        let n = if matches!(kind, Kind::Point) { 2 } else { 3 };
        self.count(array, n, n)?;
        let read: Vec<Option<Node>> =
            array.elements.iter().map(|e| self.value(e, &Kind::Length(Sign::Any))).collect();
        let mut lengths = read.into_iter().map(|node| match node?.value {
            Value::Length(length) => Some(length),
            _ => None,
        });
        let (x, y) = (lengths.next()??, lengths.next()??);
        let place = self.place(array.range);
        let value = match kind {
            Kind::Point => Value::Point(Xy { x, y, place }),
            _ => Value::Point3(Xyd { x, y, d: lengths.next()??, place }),
        };
        Some(self.node(value, array.range))
    }

    /// A size or mass written as an object.
    pub(super) fn sourced(&mut self, value: &ast::Value, kind: &'static Kind) -> Option<Node> {
        let place = self.place(value.range());
        let read = if let Kind::Size(sign) = kind {
            let node = self.object(value, &SIZE_RECORD)?;
            let of = node.length("of")?;
            if let Err(error) = of.check(*sign) {
                self.tell(Problem::new(error.code(), &of.place, error.to_string()).help(error.help()));
                return None;
            }
            let source = node.text("source").map(|s| s.value).or(self.source());
            let (plus, minus) = (node.length("plus"), node.length("minus"));
            Value::Size(Size {
                of: of.value,
                plus: plus.map(|l| l.value),
                minus: minus.map(|l| l.value),
                source,
                place,
            })
        } else {
            let node = self.object(value, &WEIGHT_RECORD)?;
            let source = node.text("source").map(|s| s.value).or(self.source());
            Value::Mass(Weight { of: node.mass("of")?.of, source, place })
        };
        Some(self.node(read, value.range()))
    }
}

/// Whether a text has a word of two letters or more, and a digit: who, and when.
fn signed(text: &str) -> bool {
    let word = |w: &str| w.chars().count() >= 2;
    text.split(|c: char| !c.is_alphabetic()).any(word) && text.contains(|c: char| c.is_ascii_digit())
}
