//! A piece of paper to cut out: its outline, folds and words in its own millimetres, and the strips of a net.

use super::body::Case;
use super::net::Side;
use super::tab::{self, TAB};
use crate::draw::template::shape::shifted;
use crate::draw::template::words::{fitted, mm};
use crate::draw::{Anchor, Dash, Ink, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::{Arc, Contour, Line, Point, Rect, Segment, Transform, Vec2, angle};

/// Distance of two lines of words in letter heights.
pub(super) const LEADING: f64 = 1.5;

/// A piece, its lower left corner at (0, 0).
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// Number of the body and a letter: `12a`.
    pub name: String,
    /// Id of what it belongs to.
    pub of: String,
    /// What is drawn.
    pub items: Vec<Item>,
    /// Width and height, mm.
    pub size: (f64, f64),
}

impl Piece {
    /// Whether room of a size holds it.
    pub fn fits(&self, room: (f64, f64)) -> bool {
        self.size.0 <= room.0 + 1e-6 && self.size.1 <= room.1 + 1e-6
    }

    /// The same, turned a quarter counter-clockwise.
    #[must_use]
    pub fn turned(&self) -> Piece {
        let t = Transform::place(Point::new(self.size.1, 0.0), 90.0, false);
        let items = self.items.iter().map(|i| Item { shape: turned(&i.shape, &t), ..i.clone() }).collect();
        Piece { items, size: (self.size.1, self.size.0), ..self.clone() }
    }
}

fn turned(shape: &Shape, t: &Transform) -> Shape {
    let list = |l: &[Contour]| l.iter().map(|c| t.contour(c)).collect();
    match shape {
        Shape::Line(l) => Shape::Line(Line { a: t.point(l.a), b: t.point(l.b) }),
        Shape::Arc(a) => match t.segment(&Segment::Arc(*a)) {
            Segment::Arc(a) => Shape::Arc(a),
            Segment::Line(l) => Shape::Line(l),
        },
        Shape::Circle { centre, radius } => Shape::Circle { centre: t.point(*centre), radius: *radius },
        Shape::Path(c) => Shape::Path(t.contour(c)),
        Shape::Chain(l) => Shape::Chain(l.iter().map(|s| t.segment(s)).collect()),
        Shape::Text(x) => Shape::Text(Text { at: t.point(x.at), angle: x.angle + 90.0, ..x.clone() }),
        Shape::Hatch { contours, spacing, angle } => {
            Shape::Hatch { contours: list(contours), spacing: *spacing, angle: angle + 90.0 }
        }
        // no paper net has a picture
        Shape::Picture { at, picture } => Shape::Picture { at: *at, picture: picture.clone() },
    }
}

/// A piece while it is drawn, in any coordinates.
pub(super) struct Sheet {
    items: Vec<Item>,
    bounds: Option<Rect>,
    taken: Vec<Rect>,
}

impl Sheet {
    pub fn new() -> Sheet {
        Sheet { items: Vec::new(), bounds: None, taken: Vec::new() }
    }

    pub fn item(&mut self, item: Item) {
        self.items.push(item);
    }

    /// Boxes of what stands on it.
    pub fn taken(&self) -> &[Rect] {
        &self.taken
    }

    /// The line to cut.
    pub fn cut(&mut self, outline: Vec<Point>) {
        let mut corners: Vec<Point> = Vec::new();
        for p in outline {
            if corners.last().is_none_or(|l| crate::geom::span(*l, p) > 1e-6) {
                corners.push(p);
            }
        }
        while corners.len() > 3
            && corners.first().zip(corners.last()).is_some_and(|(a, b)| crate::geom::span(*a, *b) <= 1e-6)
        {
            corners.pop();
        }
        let contour = Contour::polygon(&corners);
        self.bounds = Some(self.bounds.map_or(contour.bounds(), |b| b.union(contour.bounds())));
        self.items.push(Item::stroked(Layer::Cut, Shape::Path(contour), Stroke::solid(0.25)));
    }

    /// A line to fold.
    pub fn fold(&mut self, a: Point, b: Point) {
        let stroke = Stroke::solid(0.18).dash(Dash::Dashed);
        self.items.push(Item::stroked(Layer::Mark, Shape::line(a, b), stroke));
    }

    /// A fold along a piece of a contour.
    pub fn fold_along(&mut self, edge: &Segment) {
        let shape = match edge {
            Segment::Line(l) => Shape::Line(*l),
            Segment::Arc(a) if a.sweep.abs() >= std::f64::consts::TAU => {
                Shape::Circle { centre: a.centre, radius: a.radius }
            }
            Segment::Arc(a) => Shape::Arc(Arc { ..*a }),
        };
        self.items.push(Item::stroked(Layer::Mark, shape, Stroke::solid(0.18).dash(Dash::Dashed)));
    }

    /// A line that another piece reaches to.
    pub fn overlap(&mut self, a: Point, b: Point) {
        let stroke = Stroke::solid(0.25).dash(Dash::DoubleChain);
        self.items.push(Item::stroked(Layer::Register, Shape::line(a, b), stroke));
    }

    /// A line between flat and rolled.
    fn rolls(&mut self, a: Point, b: Point) {
        let stroke = Stroke::solid(0.25).dash(Dash::Dotted).ink(Ink::GREY);
        self.items.push(Item::stroked(Layer::Outline, Shape::line(a, b), stroke));
    }

    /// The place of something that is stuck on, with its name where no other name stands.
    pub fn place(&mut self, id: &str, contour: Contour) {
        let b = contour.bounds();
        self.taken.push(b);
        let shape = Shape::contour(&contour);
        self.items.push(Item::stroked(Layer::Outline, shape, Stroke::solid(0.18)).of(id));
        let short = id.rsplit('.').next().unwrap_or(id);
        let height = fitted(short, 1.8, Weight::Regular, b.width() - 1.0).min(0.6 * b.height());
        if height < 0.9 {
            return;
        }
        let up = [0.0, 0.3, -0.3, 0.6, -0.6, 0.8, -0.8].map(|k| k * (b.height() / 2.0 - 0.7 * height));
        for up in up {
            let t = Text::new(b.center() + Vec2::new(0.0, up), height, Anchor::CENTRE, short);
            let room = text::bounds(&t);
            let meets = |i: &Item| match &i.shape {
                Shape::Text(other) => {
                    let o = text::bounds(other);
                    room.x0 < o.x1 && o.x0 < room.x1 && room.y0 < o.y1 && o.y0 < room.y1
                }
                _ => false,
            };
            if !self.items.iter().any(meets) {
                self.items.push(Item::text(Layer::Text, t));
                return;
            }
        }
    }

    /// The word on a tab, where it is large enough.
    pub fn glue(&mut self, a: Point, b: Point) {
        let along = b - a;
        let long = crate::geom::length(along);
        if long < 12.0 {
            return;
        }
        let out = Vec2::new(along.y, -along.x) / long;
        let mut t = Text::new(a.midpoint(b) + out * 3.5, 1.8, Anchor::CENTRE, "glue");
        t.angle = angle::direction(along) * 180.0 / std::f64::consts::PI;
        self.items.push(Item::text(Layer::Text, t));
    }

    /// The finished piece, moved to its lower left corner.
    pub fn piece(self, case: &Case, name: String) -> Piece {
        let b = self.bounds.unwrap_or(Rect::ZERO);
        let by = -b.origin().to_vec2();
        let move_ = |i: &Item| Item {
            shape: shifted(&i.shape, by),
            subject: i.subject.clone().or(Some(case.id.clone())),
            ..i.clone()
        };
        let items = self.items.iter().map(move_).collect();
        Piece { name, of: case.id.clone(), items, size: (b.width(), b.height()) }
    }
}

/// Where a strip belongs.
pub(super) struct At {
    /// Its number round the body, and how many there are.
    pub strip: (usize, usize),
    /// Its number along the depth, and how many there are.
    pub ring: (u32, u32),
    /// Whether the next strip begins at a fold.
    pub folds_on: bool,
    /// Depth of the tabs in front, mm.
    pub front: f64,
}

/// One strip of sides: tabs in front to stick on the card (or none), a tab to the next strip, and where the body is
/// deeper than the paper a tab to the strip behind.
pub(super) fn strip(case: &Case, sides: &[Side], at: &At, name: String) -> Piece {
    let rings = f64::from(at.ring.1);
    let (low, high) = (0.0, case.depth() / rings);
    let wide: f64 = sides.iter().map(|s| s.long).sum();
    let (first, last) = (at.ring.0 == 0, at.ring.0 + 1 == at.ring.1);
    let mut sheet = Sheet::new();
    let mut starts = Vec::new();
    let mut x = 0.0;
    for s in sides {
        starts.push(x);
        x += s.long;
    }
    let ends = |k: usize| starts.get(k + 1).copied().unwrap_or(wide);
    let mut outline = vec![Point::new(0.0, low)];
    if first {
        for (k, (s, x)) in sides.iter().zip(&starts).enumerate() {
            let edge = Segment::line(Point::new(*x, low), Point::new(ends(k), low));
            outline.extend(tab::along(&edge, at.front, s.round));
            outline.push(edge.end());
        }
        sheet.fold(Point::new(0.0, low), Point::new(wide, low));
    }
    outline.push(Point::new(wide, low));
    let seam = Segment::line(Point::new(wide, low), Point::new(wide, high));
    outline.extend(tab::along(&seam, TAB.min(0.5 * wide), false));
    outline.push(seam.end());
    sheet.glue(seam.start(), seam.end());
    if at.folds_on {
        sheet.fold(seam.start(), seam.end());
    } else {
        sheet.overlap(seam.start(), seam.end());
    }
    if !last {
        for (k, x) in starts.iter().enumerate().rev() {
            let edge = Segment::line(Point::new(ends(k), high), Point::new(*x, high));
            outline.extend(tab::along(&edge, TAB, false));
            outline.push(edge.end());
        }
        sheet.overlap(Point::new(0.0, high), Point::new(wide, high));
    }
    outline.push(Point::new(0.0, high));
    for (s, x) in sides.iter().zip(&starts).skip(1) {
        let (a, b) = (Point::new(*x, low), Point::new(*x, high));
        match (s.folded, s.rolls) {
            (true, _) => sheet.fold(a, b),
            (false, true) => sheet.rolls(a, b),
            (false, false) => {}
        }
    }
    sheet.cut(outline);
    let from = case.from + high * f64::from(at.ring.0);
    let mut what = if at.strip.1 > 1 {
        format!("sides, strip {} of {}", at.strip.0 + 1, at.strip.1)
    } else {
        "sides".to_owned()
    };
    if at.ring.1 > 1 {
        what.push_str(&format!(", {} to {} mm deep", mm(from), mm(from + high)));
    }
    words(&mut sheet, case, &name, sides, high, &what);
    edges(&mut sheet, sides, high, (from, from + high));
    sheet.piece(case, name)
}

/// Where the widest side of a strip begins, and how wide it is.
fn widest(sides: &[Side]) -> (f64, f64) {
    let mut x = 0.0;
    let mut widest = (0.0, 0.0);
    for s in sides {
        if s.long > widest.1 {
            widest = (x, s.long);
        }
        x += s.long;
    }
    widest
}

/// Room that an edge's own words take, mm.
const EDGE: f64 = 3.5;

/// Its depth on the near edge (below) and on the far one.
pub(super) fn edges(sheet: &mut Sheet, sides: &[Side], high: f64, (from, to): (f64, f64)) {
    let (x, wide) = widest(sides);
    if high < 6.0 * EDGE {
        return;
    }
    let near = format!("near edge, {} mm", mm(from));
    let far = format!("far edge, {} mm", mm(to));
    for (words, y) in [(near, 1.2), (far, high - 1.2 - 1.5)] {
        let height = fitted(&words, 1.5, Weight::Regular, wide - 3.0);
        if height > 1.0 {
            let at = Point::new(x + wide / 2.0, y);
            sheet.item(Item::text(Layer::Text, Text::new(at, height, Anchor::MIDDLE, words)));
        }
    }
}

/// Words on the widest side of a strip.
pub(super) fn words(sheet: &mut Sheet, case: &Case, name: &str, sides: &[Side], high: f64, what: &str) {
    let widest = widest(sides);
    let lines = [
        (format!("{name}  {}", case.id), Weight::Bold),
        (format!("{} to {} mm behind the front face", mm(case.from), mm(case.to)), Weight::Regular),
        (format!("{what}; this side out"), Weight::Regular),
    ];
    let edge = if high < 6.0 * EDGE { 0.0 } else { EDGE };
    // along the longer way
    let (wide, tall) = (widest.1, high - 2.0 * edge);
    let (long, short, upright) = if wide >= tall { (wide, tall, false) } else { (tall, wide, true) };
    for count in [3, 2, 1] {
        let some = lines.get(..count).unwrap_or_default();
        let height = some
            .iter()
            .map(|(l, w)| fitted(l, 2.5, *w, long - 3.0))
            .fold(2.5, f64::min)
            .min((short - 2.0) / (LEADING * count as f64));
        if height < 1.1 && count > 1 {
            continue;
        }
        let words: &[(String, Weight)] = if height < 1.1 { &[(name.to_owned(), Weight::Bold)] } else { some };
        let height = if height < 1.1 { (short - 1.0).min(2.0) } else { height };
        if height < 0.7 {
            return;
        }
        let middle = Point::new(widest.0 + wide / 2.0, high / 2.0);
        let n = words.len() as f64;
        for (k, (line, weight)) in words.iter().enumerate() {
            let up = ((n - 1.0) / 2.0 - k as f64) * LEADING * height;
            let by = if upright { Vec2::new(-up, 0.0) } else { Vec2::new(0.0, up) };
            let mut t = Text::new(middle + by, height, Anchor::CENTRE, line.clone());
            t.weight = *weight;
            t.angle = if upright { 90.0 } else { 0.0 };
            sheet.item(Item::text(Layer::Text, t));
        }
        return;
    }
}
