//! The two views: lines, dimensions, and the spots where marks go.

use super::{LETTERS, MARGIN, WIDE, marks};
use crate::draw::template::placer::{Label, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::template::words::{mm, trimmed};
use crate::draw::{Anchor, Dash, Ink, Item, Layer, Shape, Stroke, Text, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Detail, Part, Subject};

/// Greatest height of a view, mm.
const TALL: f64 = 95.0;
/// Paper left of the front for its height, mm.
const LEFT: f64 = 13.0;
/// Paper between the two views, mm.
const BETWEEN: f64 = 16.0;
/// The front takes at least this much, so that what stands under it has room, mm.
const LEAST: f64 = 24.0;
/// Scales to choose from, the largest that fits.
const SCALES: [f64; 15] = [5.0, 2.0, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0];
/// How many of them enlarge.
const ENLARGING: usize = 2;
/// Paper and letters of a mark.
const MARK: f64 = 2.0;

/// What of an instrument is seen, at its scale.
pub(super) struct View<'a> {
    parts: Vec<&'a Part>,
    marked: Vec<&'a Part>,
    at: Rect,
    /// Depths that are shown: from the pilot's side to behind.
    depth: (f64, f64),
    scale: f64,
    ratio: String,
}

/// A view as drawn.
pub(super) struct Drawn {
    pub items: Vec<Item>,
    /// Dimensions and captions.
    pub texts: Vec<Item>,
    /// Lines that marks keep off.
    pub lines: Vec<Contour>,
    /// Where the mark of a listed part goes, by its number in the list.
    pub spots: Vec<(usize, Spot)>,
}

/// Place of a mark.
pub(super) struct Spot {
    at: Point,
    half: Vec2,
    round: bool,
}

impl Spot {
    /// The mark as a label; `within` lets it stand inside of what is large enough.
    pub fn named(&self, mark: &str, within: bool) -> Label {
        let least = self.half.x.min(self.half.y);
        let tall = if self.round { Reach::Round(self.half.x) } else { Reach::Box(self.half) };
        Label {
            lines: vec![(mark.to_owned(), MARK, Weight::Bold)],
            anchor: self.at,
            reach: tall,
            inside: within && least > MARK * 1.1,
            subject: mark.to_owned(),
        }
    }
}

impl<'a> View<'a> {
    pub fn of(subject: &'a Subject) -> View<'a> {
        let parts: Vec<&Part> = subject.parts.iter().filter(|p| line(p.class).is_some()).collect();
        let boxes = parts.iter().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b));
        let at = boxes.unwrap_or(Rect::from_center_size(subject.at, (10.0, 10.0)));
        let depths = parts.iter().filter_map(|p| p.depth);
        let depth = depths.fold((-2.0_f64, 5.0_f64), |(a, b), d| (a.min(d.0), b.max(d.1)));
        let fits = |s: f64| {
            let wide = LEFT + (at.width() * s).max(LEAST) + BETWEEN + (depth.1 - depth.0) * s;
            wide <= WIDE && at.height() * s <= TALL
        };
        let listed = SCALES.iter().enumerate().find_map(|(k, r)| {
            let (s, ratio) = if k < ENLARGING {
                (*r, format!("{}:1", trimmed(*r, 1)))
            } else {
                (1.0 / r, format!("1:{}", trimmed(*r, 1)))
            };
            fits(s).then_some((s, ratio))
        });
        let (scale, ratio) = listed.unwrap_or_else(|| {
            let across = (at.width() + depth.1 - depth.0) / (WIDE - LEFT - BETWEEN - LEAST);
            let r = across.max(at.height() / TALL).ceil().max(1.0);
            (1.0 / r, format!("1:{}", trimmed(r, 0)))
        });
        let marked = marks(subject).into_iter().map(|m| m.1).collect();
        View { parts, marked, at, depth, scale, ratio }
    }

    /// The scale in words.
    pub fn ratio(&self) -> &str {
        &self.ratio
    }

    /// Height of both views on paper, mm.
    pub fn height(&self) -> f64 {
        self.at.height() * self.scale
    }

    fn number(&self, part: &Part) -> Option<usize> {
        self.marked.iter().position(|p| std::ptr::eq(*p, part))
    }

    /// The front; `corner` is the lower left of the page's room for both views.
    pub fn front(&self, corner: Point) -> Drawn {
        let low = corner + Vec2::new(LEFT, 0.0);
        let shift = low.to_vec2() - self.at.origin().to_vec2() * self.scale;
        let mut d = Drawn { items: Vec::new(), texts: Vec::new(), lines: Vec::new(), spots: Vec::new() };
        for p in &self.parts {
            let Some(stroke) = line(p.class) else { continue };
            let contour = scaled(&p.contour, self.scale, shift);
            if let Some(ink) = fill(p) {
                d.items.push(Item::filled(Layer::Hatch, Shape::contour(&contour), ink));
            }
            d.items.push(Item::stroked(Layer::Outline, Shape::contour(&contour), stroke));
            if let Some(k) = self.number(p) {
                let b = contour.bounds();
                let half = Vec2::new(b.width() / 2.0, b.height() / 2.0);
                d.spots.push((k, Spot { at: b.center(), half, round: contour.as_circle().is_some() }));
            }
            if p.class != Class::Body {
                d.lines.push(contour);
            }
        }
        let face = self.face();
        let on = |v: f64, from: f64| v * self.scale + from;
        let (x0, x1) = (on(face.x0, shift.x), on(face.x1, shift.x));
        across(&mut d, (x0, x1), corner.y - 3.0, &mm(face.width()));
        let (y0, y1) = (on(face.y0, shift.y), on(face.y1, shift.y));
        up(&mut d, (y0, y1), low.x - 3.0, &mm(face.height()));
        caption(&mut d, low.x, corner.y, "front; grey lines lie behind");
        d
    }

    /// What is measured in front: the bezel, else the flange, else everything.
    fn face(&self) -> Rect {
        let of = |class: Class| self.parts.iter().find(|p| p.class == class).map(|p| p.contour.bounds());
        of(Class::Bezel).or(of(Class::Flange)).unwrap_or(self.at)
    }

    /// The side, the pilot at its left: every part with a depth as its height over its depth range.
    pub fn side(&self, corner: Point) -> Drawn {
        let mut d = Drawn { items: Vec::new(), texts: Vec::new(), lines: Vec::new(), spots: Vec::new() };
        let wide = (self.at.width() * self.scale).max(LEAST);
        let face = corner.x + LEFT + wide + BETWEEN - self.depth.0 * self.scale;
        let tall = self.height();
        let middle = Point::new(face + self.scale, corner.y + tall / 2.0);
        let sheet = Contour::rect(middle, 2.0 * self.scale, tall + 6.0, 0.0);
        d.items.push(Item::filled(Layer::Hatch, Shape::Path(sheet), Ink(170)));
        let mut parts = self.parts.clone();
        // from what lies behind the others to the front; of two alike the longer first, so that both are seen
        let long = |p: &Part| p.depth.map_or(0.0, |d| d.1 - d.0);
        parts.sort_by(|a, b| order(a.class).cmp(&order(b.class)).then(long(b).total_cmp(&long(a))));
        for p in parts {
            let (Some((from, to)), Some(stroke)) = (p.depth, line(p.class)) else { continue };
            if to <= from || matches!(p.class, Class::Cutout | Class::Hole | Class::Case) {
                continue;
            }
            let b = p.contour.bounds();
            let low = corner.y + (b.y0 - self.at.y0) * self.scale;
            let at = Point::new(face + (from + to) / 2.0 * self.scale, low + b.height() * self.scale / 2.0);
            let (w, h) = ((to - from) * self.scale, b.height() * self.scale);
            let contour = Contour::rect(at, w, h, 0.0);
            let solid = !matches!(p.class, Class::Port);
            let ink = fill(p).or_else(|| solid.then_some(Ink(238)));
            if let Some(ink) = ink {
                d.items.push(Item::filled(Layer::Outline, Shape::Path(contour.clone()), ink));
            }
            let stroke = if solid { Stroke::solid(0.2) } else { stroke };
            d.items.push(Item::stroked(Layer::Outline, Shape::Path(contour), stroke));
            if let Some(k) = self.number(p).filter(|_| p.class == Class::Port) {
                let end = Point::new(face + to * self.scale, at.y);
                d.spots.push((k, Spot { at: end, half: Vec2::new(0.5, 0.5), round: false }));
            }
        }
        let mut y = corner.y - 3.0;
        for class in [Class::Body, Class::Port] {
            if let Some(to) = self.deepest(class) {
                across(&mut d, (face, face + to * self.scale), y, &mm(to));
                y -= 5.0;
            }
        }
        let words = "side, pilot at the left; broken: plugs and bends";
        let last = corner.x + WIDE - crate::draw::text::width(words, LETTERS, Weight::Regular);
        caption(&mut d, (corner.x + LEFT + wide + BETWEEN).min(last), corner.y, words);
        d
    }

    /// Depth at which the deepest of a class ends, where it lies behind the sheet and all say so.
    fn deepest(&self, class: Class) -> Option<f64> {
        let of = || self.parts.iter().filter(|p| p.class == class);
        let told = of().all(|p| p.depth.is_some());
        of().filter_map(|p| p.depth).map(|d| d.1).reduce(f64::max).filter(|d| told && *d > 0.0)
    }
}

/// How a class of part is drawn from the front; none if it is not drawn.
fn line(class: Class) -> Option<Stroke> {
    match class {
        Class::Bezel => Some(Stroke::solid(0.35)),
        Class::Cutout | Class::Hole => Some(Stroke::solid(0.18).dash(Dash::Dashed)),
        Class::Front => Some(Stroke::solid(0.25)),
        Class::Head => Some(Stroke::solid(0.13)),
        Class::Body | Class::Case | Class::Flange | Class::Nut => {
            Some(Stroke::solid(0.13).dash(Dash::Chain).ink(Ink(110)))
        }
        Class::Port => Some(Stroke::solid(0.13).dash(Dash::DoubleChain).ink(Ink(110))),
        Class::Edge | Class::OldOpening | Class::Hand | Class::Zone | Class::Label | Class::Provision => None,
        Class::Obstacle | Class::Moving | Class::Line => None,
    }
}

/// Grey of what stands in front, so that a knob is told from a line.
fn fill(p: &Part) -> Option<Ink> {
    match (p.class, &p.detail) {
        (Class::Front, Detail::Front { kind, .. }) if kind == "screen" => Some(Ink(245)),
        (Class::Front, _) => Some(Ink(222)),
        (Class::Bezel, _) => Some(Ink(252)),
        _ => None,
    }
}

/// Seen from the side: what hides what.
fn order(class: Class) -> u8 {
    match class {
        Class::Port => 0,
        Class::Flange => 1,
        Class::Nut => 2,
        Class::Body => 3,
        Class::Bezel => 4,
        _ => 5,
    }
}

/// A dimension along the bottom, its number under the line.
fn across(d: &mut Drawn, (from, to): (f64, f64), y: f64, words: &str) {
    let ends = [from, to].map(|x| (Point::new(x, y - 0.8), Point::new(x, y + 1.6)));
    dimension(d, (Point::new(from, y), Point::new(to, y)), ends);
    let at = Point::new((from + to) / 2.0, y - 0.7 - LETTERS);
    d.texts.push(Item::text(Layer::Dimension, Text::new(at, LETTERS, Anchor::MIDDLE, words)));
}

/// A dimension along the left, its number beside the line.
fn up(d: &mut Drawn, (from, to): (f64, f64), x: f64, words: &str) {
    let ends = [from, to].map(|y| (Point::new(x - 0.8, y), Point::new(x + 1.6, y)));
    dimension(d, (Point::new(x, from), Point::new(x, to)), ends);
    let at = Point::new(x - 1.2, (from + to) / 2.0 - LETTERS / 2.0);
    d.texts.push(Item::text(Layer::Dimension, Text::new(at, LETTERS, Anchor::RIGHT, words)));
}

fn dimension(d: &mut Drawn, (a, b): (Point, Point), ends: [(Point, Point); 2]) {
    let thin = Stroke::solid(0.13);
    d.items.push(Item::stroked(Layer::Dimension, Shape::line(a, b), thin));
    for (from, to) in ends {
        d.items.push(Item::stroked(Layer::Dimension, Shape::line(from, to), thin));
    }
    // slanted strokes instead of arrows: they read at any length
    for p in [a, b] {
        let half = Vec2::new(0.6, 0.6);
        d.items.push(Item::stroked(Layer::Dimension, Shape::line(p - half, p + half), Stroke::solid(0.25)));
    }
}

fn caption(d: &mut Drawn, x: f64, base: f64, words: &str) {
    let at = Point::new(x.max(MARGIN), base - 15.5);
    d.texts.push(Item::text(Layer::Text, Text::new(at, LETTERS, Anchor::LEFT, words)));
}
