//! Scale bars in millimetres and inches: what is measured before anything is cut.
//!
//! A bar is drawn in the same scaled group as the contours, so that a printer's fault shows on both alike.

use crate::draw::{Across, Anchor, Item, Layer, Shape, Stroke, Text, Up};
use crate::geom::{Line, Point, Vec2};

/// Room across a bar, mm.
pub(crate) const ACROSS: f64 = 17.0;

/// Lengths that a bar may have, mm and inches: the longest that fits is drawn.
pub(super) const LENGTHS_MM: [u32; 6] = [250, 200, 150, 100, 50, 20];
pub(super) const LENGTHS_IN: [u32; 6] = [10, 8, 6, 4, 2, 1];

/// Axis of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Axis {
    /// To the right.
    X,
    /// Up.
    Y,
}

/// A bar that starts at `at` (lower left of its room) along an axis, at most `room` mm long with its words.
pub(crate) fn bar(at: Point, axis: Axis, room: f64) -> Vec<Item> {
    let fit = |v: f64| v + 6.0 <= room;
    let mm = LENGTHS_MM.into_iter().find(|l| fit(f64::from(*l))).unwrap_or(0);
    let inches = LENGTHS_IN.into_iter().find(|l| fit(f64::from(*l) * 25.4)).unwrap_or(0);
    let (along, up) = match axis {
        Axis::X => (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)),
        Axis::Y => (Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0)),
    };
    let turn = if axis == Axis::X { 0.0 } else { 90.0 };
    let start = match axis {
        Axis::X => at + Vec2::new(3.0, 0.0),
        Axis::Y => at + Vec2::new(ACROSS, 3.0),
    };
    let mut b = Builder { items: Vec::new(), start, along, up, turn };
    if mm > 0 {
        let name = if axis == Axis::X { "x" } else { "y" };
        let words = format!("MEASURE BEFORE CUTTING, {name}: {mm} mm");
        b.scale(10.4, 10.0, 100, f64::from(mm), (10, 50), 1.0);
        b.words(14.2, 1.8, &words, f64::from(mm));
    }
    if inches > 0 {
        b.scale(2.4, 25.4, 4, f64::from(inches) * 25.4, (1, 2), 25.4);
    }
    b.items
}

struct Builder {
    items: Vec<Item>,
    start: Point,
    along: Vec2,
    up: Vec2,
    turn: f64,
}

impl Builder {
    fn at(&self, along: f64, up: f64) -> Point {
        self.start + self.along * along + self.up * up
    }

    fn line(&mut self, from: Point, to: Point, width: f64) {
        let shape = Shape::Line(Line { a: from, b: to });
        self.items.push(Item::stroked(Layer::Scale, shape, Stroke::solid(width)));
    }

    /// A base line with a tick every `step` mm; `long` counts units of `unit` mm for the long ticks, which
    /// carry numbers; `(small, middle)` in the same units.
    fn scale(&mut self, up: f64, step: f64, long: u32, length: f64, (small, middle): (u32, u32), unit: f64) {
        self.line(self.at(0.0, up), self.at(length, up), 0.25);
        let count = (length / step).round() as u32;
        for k in 0..=count {
            let value = k * small;
            let ends = k == 0 || k == count;
            let tall = if ends || value % long == 0 {
                3.2
            } else if value % middle == 0 {
                2.2
            } else {
                1.3
            };
            let x = f64::from(k) * step;
            self.line(self.at(x, up), self.at(x, up + tall), if tall > 3.0 { 0.25 } else { 0.13 });
            if ends || value % long == 0 || (unit == 1.0 && value % middle == 0) {
                let words = if ends && k > 0 {
                    format!("{value} {}", if unit == 1.0 { "mm" } else { "in" })
                } else {
                    value.to_string()
                };
                let at = self.at(x, up - 0.5);
                let anchor = Anchor { across: Across::Middle, up: Up::Top };
                let text = Text::new(at, 1.5, anchor, words).turned(self.turn);
                self.items.push(Item::text(Layer::Scale, text));
            }
        }
    }

    /// Words over the bar, made to fit its length.
    fn words(&mut self, up: f64, height: f64, words: &str, length: f64) {
        let height = super::words::fitted(words, height, crate::draw::Weight::Bold, length);
        let at = self.at(0.0, up);
        let text = Text::new(at, height, Anchor::LEFT, words).bold().turned(self.turn);
        self.items.push(Item::text(Layer::Scale, text));
    }
}
