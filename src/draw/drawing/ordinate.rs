//! Ordinate (running) dimensions: every coordinate once, from the datum, at the edge of the view.
//!
//! ISO 129-1 running dimensioning from a common origin and the ASME Y14.5 form without dimension lines (both from
//! memory). Numbers are spread by [`spread`], so they keep their order and their distance and no two leaders
//! of a side cross; the two sides of an axis lie in bands of their own.

use super::spread::spread;
use crate::draw::{Across, Anchor, Item, Layer, Shape, Stroke, Text, Up, Weight, text};
use crate::geom::{Point, Segment, Vec2};

/// Letter height of the numbers, mm.
pub const NUMBERS: f64 = 2.5;
/// Least distance of two numbers, mm.
const APART: f64 = 4.25;
/// Paper between the view and the first bend of a leader, mm.
const CLEAR: f64 = 2.0;
/// Straight end of a leader before its number, mm.
const TAIL: f64 = 1.5;
/// Paper between a leader and its number, mm.
const AIR: f64 = 0.8;
/// Bend of a leader, as a part of the shift, with its least and greatest, mm.
const BEND: (f64, f64, f64) = (0.6, 3.0, 14.0);
/// So many numbers stand on one side where they fit; more use both.
const ONE_SIDE: usize = 12;
/// More coordinates than this on one axis are read better in a table.
pub const MOST: usize = 70;

/// Along which axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Numbers are x, below and above the view.
    X,
    /// Numbers are y, left and right of the view.
    Y,
}

/// One coordinate.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Place along the axis, mm on the view.
    pub at: f64,
    /// The number.
    pub words: String,
    /// What has this coordinate: `subject.part`, `outline`, `datum`.
    pub names: Vec<String>,
    /// Where its line begins when it runs to the low side and to the high side, mm across.
    pub begin: (f64, f64),
    /// Lowest and highest of what has it, mm across.
    pub span: (f64, f64),
}

/// Room that the numbers take beside the view, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bands {
    /// Left.
    pub left: f64,
    /// Right.
    pub right: f64,
    /// Below.
    pub below: f64,
    /// Above.
    pub above: f64,
}

/// The numbers of one axis, on the low and the high side.
struct Sides {
    low: Vec<Mark>,
    high: Vec<Mark>,
}

/// Everything that is drawn, in the view's coordinates: its lower left corner is (0, 0).
pub struct Ordinates {
    /// Lines and numbers.
    pub items: Vec<Item>,
    /// Room beside the view.
    pub bands: Bands,
}

/// Sets the numbers round a view of a size; none when they do not fit.
pub fn ordinates(x: Vec<Mark>, y: Vec<Mark>, size: (f64, f64)) -> Option<Ordinates> {
    if x.len() > MOST || y.len() > MOST {
        return None;
    }
    let (w, h) = size;
    // numbers may stand a little beyond the view's ends; the corners belong to neither axis
    let (xs, ys) = (sides(x, w, h)?, sides(y, h, w)?);
    let mut items = Vec::new();
    let mut set = |marks: &[Mark], axis: Axis, high: bool| side(marks, axis, high, (w, h), &mut items);
    let bands = Bands {
        below: set(&xs.low, Axis::X, false)?,
        above: set(&xs.high, Axis::X, true)?,
        left: set(&ys.low, Axis::Y, false)?,
        right: set(&ys.high, Axis::Y, true)?,
    };
    Some(Ordinates { items, bands })
}

/// How far numbers may reach beyond the ends of the view, mm: less than the least band, so that corners stay
/// free.
const OVER: f64 = 2.0;

/// How many numbers a side of this length takes.
fn room(length: f64) -> usize {
    ((length + 2.0 * OVER) / APART).floor().max(0.0) as usize + 1
}

/// Divides the marks between the two sides: each to the nearer, moved where one side has no room.
fn sides(marks: Vec<Mark>, length: f64, across: f64) -> Option<Sides> {
    let most = room(length);
    if marks.len() > 2 * most {
        return None;
    }
    if marks.len() <= ONE_SIDE.min(most) {
        return Some(Sides { low: marks, high: Vec::new() });
    }
    // how much longer the line to the low side is
    let cost = |m: &Mark| m.span.1 - (across - m.span.0);
    let mut order: Vec<(f64, usize)> = marks.iter().enumerate().map(|(k, m)| (cost(m), k)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let wish = order.iter().filter(|(c, _)| *c <= 0.0).count();
    let low = wish.clamp(marks.len().saturating_sub(most), most);
    let mut is_low = vec![false; marks.len()];
    for (_, k) in order.into_iter().take(low) {
        if let Some(l) = is_low.get_mut(k) {
            *l = true;
        }
    }
    let mut sides = Sides { low: Vec::new(), high: Vec::new() };
    for (m, low) in marks.into_iter().zip(is_low) {
        if low { sides.low.push(m) } else { sides.high.push(m) }
    }
    Some(sides)
}

/// Draws one side; gives the depth of its band.
fn side(marks: &[Mark], axis: Axis, high: bool, (w, h): (f64, f64), items: &mut Vec<Item>) -> Option<f64> {
    if marks.is_empty() {
        return Some(0.0);
    }
    let (length, across) = match axis {
        Axis::X => (w, h),
        Axis::Y => (h, w),
    };
    let wanted: Vec<f64> = marks.iter().map(|m| m.at).collect();
    let places = spread(&wanted, APART, -OVER, length + OVER)?;
    let shift = wanted.iter().zip(&places).map(|(w, p)| (w - p).abs()).fold(0.0, f64::max);
    let bend = if shift < 0.05 { 0.0 } else { (BEND.0 * shift).clamp(BEND.1, BEND.2) };
    let out = if high { 1.0 } else { -1.0 };
    let base = if high { across } else { 0.0 };
    let point = |along: f64, off: f64| match axis {
        Axis::X => Point::new(along, off),
        Axis::Y => Point::new(off, along),
    };
    let level = |d: f64| base + out * d;
    let mut deepest: f64 = 0.0;
    for (m, place) in marks.iter().zip(&places) {
        let begin = if high { m.begin.1 } else { m.begin.0 };
        let steps = [
            point(m.at, begin),
            point(m.at, level(CLEAR)),
            point(*place, level(CLEAR + bend)),
            point(*place, level(CLEAR + bend + TAIL)),
        ];
        let mut pieces: Vec<Segment> = Vec::new();
        for pair in steps.windows(2) {
            if let &[a, b] = pair
                && crate::geom::span(a, b) > 1e-6
            {
                pieces.push(Segment::line(a, b));
            }
        }
        let names = m.names.join(", ");
        let subject = format!("{} {names}", if axis == Axis::X { "x" } else { "y" });
        let line = Item::stroked(Layer::Dimension, Shape::Chain(pieces), Stroke::solid(0.13));
        items.push(line.of(subject.clone()));
        let across = if high { Across::Left } else { Across::Right };
        let at = point(*place, level(CLEAR + bend + TAIL + AIR));
        let mut t = Text::new(at, NUMBERS, Anchor { across, up: Up::Middle }, m.words.clone());
        if axis == Axis::X {
            t.angle = 90.0;
        }
        items.push(Item::text(Layer::Dimension, t).of(subject));
        deepest = deepest.max(text::width(&m.words, NUMBERS, Weight::Regular));
    }
    Some(CLEAR + bend + TAIL + AIR + deepest + 1.0)
}

/// Collects marks: those that print alike become one.
#[derive(Default)]
pub struct Collect(std::collections::BTreeMap<i64, Mark>);

impl Collect {
    /// Adds what has a coordinate.
    pub fn add(&mut self, key: i64, mark: Mark) {
        match self.0.get_mut(&key) {
            Some(m) => {
                m.names.extend(mark.names.into_iter().filter(|n| !m.names.contains(n)).collect::<Vec<_>>());
                m.begin = (m.begin.0.max(mark.begin.0), m.begin.1.min(mark.begin.1));
                m.span = (m.span.0.min(mark.span.0), m.span.1.max(mark.span.1));
            }
            None => {
                self.0.insert(key, mark);
            }
        }
    }

    /// All, in order of their places.
    pub fn marks(self) -> Vec<Mark> {
        self.0.into_values().collect()
    }
}

/// A mark of something with a middle on the view, whose own centre mark reaches `arm` mm.
pub fn middle(at: Vec2, axis: Axis, arm: f64, words: String, name: String) -> Mark {
    let (along, across) = match axis {
        Axis::X => (at.x, at.y),
        Axis::Y => (at.y, at.x),
    };
    Mark { at: along, words, names: vec![name], begin: (across - arm, across + arm), span: (across, across) }
}
