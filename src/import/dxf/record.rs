//! One entity's pairs: numbers and words by code, with every fault named.

use super::tags::Tag;
use crate::diag::{Lines, Problem, Problems, Where};
use crate::geom::Point;
use crate::import::number;

/// An entity, table entry or block: a pair of code 0 and those up to the next.
#[derive(Clone, Copy)]
pub struct Record<'a, 'b> {
    /// The value of the pair of code 0.
    pub kind: &'a str,
    /// The pair of code 0.
    pub head: Tag<'a>,
    /// The pairs after it.
    pub tags: &'b [Tag<'a>],
}

/// What reading needs beside the pairs.
pub struct Desk<'l, 'p> {
    /// Places.
    pub lines: &'l Lines,
    /// Faults so far.
    pub problems: &'p mut Problems,
}

/// Faults after which a file is not read on: enough to see what is wrong with it.
pub const MOST_FAULTS: usize = 50;

impl Desk<'_, '_> {
    /// Notes a fault.
    pub fn fault(&mut self, code: &'static str, place: &Where, message: String, help: &str) {
        if self.problems.len() < MOST_FAULTS {
            self.problems.push(Problem::new(code, place, message).help(help));
        }
    }

    /// Reads a number; a fault gives None.
    pub fn number(&mut self, tag: &Tag<'_>, kind: &str) -> Option<f64> {
        match number(tag.value) {
            Ok(v) => Some(v),
            Err(why) => {
                let shown: String = tag.value.chars().take(40).collect();
                let message = format!("{kind}: the value of code {}, `{shown}`, {why}", tag.code);
                let place = tag.place(self.lines);
                self.fault("bad-number", &place, message, "correct it, or write the file again");
                None
            }
        }
    }
}

impl<'a, 'b> Record<'a, 'b> {
    /// Splits pairs into records; those before the first code 0 are left out.
    pub fn split(tags: &'b [Tag<'a>]) -> Vec<Record<'a, 'b>> {
        let starts: Vec<usize> =
            tags.iter().enumerate().filter(|(_, t)| t.code == 0).map(|(k, _)| k).collect();
        let ends = starts.iter().skip(1).copied().chain([tags.len()]);
        starts
            .iter()
            .zip(ends)
            .filter_map(|(&k, end)| {
                let head = *tags.get(k)?;
                Some(Record { kind: head.value, head, tags: tags.get(k + 1..end)? })
            })
            .collect()
    }

    /// The record's own pairs: application data and embedded objects left out.
    pub fn own(&self) -> impl Iterator<Item = &'b Tag<'a>> + use<'a, 'b> {
        let tags = self.tags;
        tags.iter().take_while(|t| t.code != 101).filter(|t| t.code < 1000)
    }

    /// First value of a code.
    pub fn text(&self, code: i32) -> Option<&'a str> {
        self.own().find(|t| t.code == code).map(|t| t.value)
    }

    /// First number of a code; a fault is noted and gives None.
    pub fn number(&self, code: i32, desk: &mut Desk<'_, '_>) -> Option<f64> {
        let tag = self.own().find(|t| t.code == code)?;
        desk.number(tag, self.kind)
    }

    /// First whole number of a code, 0 where there is none.
    pub fn int(&self, code: i32, desk: &mut Desk<'_, '_>) -> i64 {
        let Some(tag) = self.own().find(|t| t.code == code) else { return 0 };
        match tag.value.parse::<i64>() {
            Ok(v) => v,
            // some programs write flags as reals
            Err(_) => desk.number(tag, self.kind).map_or(0, |v| v as i64),
        }
    }

    /// A number that the entity cannot do without.
    pub fn needed(&self, code: i32, what: &str, desk: &mut Desk<'_, '_>) -> Option<f64> {
        if self.own().any(|t| t.code == code) {
            return self.number(code, desk);
        }
        let place = self.head.place(desk.lines);
        let message = format!("{} has no {what} (code {code})", self.kind);
        desk.fault("missing-value", &place, message, "the entity is damaged: write the file again");
        None
    }

    /// A point of x and y; y stands 10 codes after x.
    pub fn point(&self, code: i32, what: &str, desk: &mut Desk<'_, '_>) -> Option<Point> {
        let x = self.needed(code, what, desk);
        let y = self.needed(code + 10, what, desk);
        Some(Point::new(x?, y?))
    }

    /// A height, 0 where there is none.
    pub fn z(&self, code: i32, desk: &mut Desk<'_, '_>) -> f64 {
        self.number(code, desk).unwrap_or(0.0)
    }

    /// All numbers of a code.
    pub fn numbers(&self, code: i32, desk: &mut Desk<'_, '_>) -> Vec<f64> {
        self.own().filter(|t| t.code == code).filter_map(|t| desk.number(t, self.kind)).collect()
    }

    /// All points of a code, each from its x to its y.
    pub fn points(&self, code: i32, desk: &mut Desk<'_, '_>) -> Vec<Point> {
        let mut out = Vec::new();
        let mut x = None;
        for t in self.own() {
            if t.code == code {
                x = desk.number(t, self.kind);
            } else if t.code == code + 10
                && let (Some(x), Some(y)) = (x.take(), desk.number(t, self.kind))
            {
                out.push(Point::new(x, y));
            }
        }
        out
    }
}
