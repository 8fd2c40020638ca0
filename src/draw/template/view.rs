//! Which face is seen: the way from the panel's axes to the paper, and the marks that tell the faces apart.

use super::Face;
use super::placer::overlap;
use super::plan::Plan;
use super::words::{both, fitted, mm};
use crate::draw::{Anchor, Ink, Item, Layer, Shape, Stroke, Text, Weight};
use crate::geom::{Contour, Point, Rect, Transform, Vec2, span};

/// Paper left of, right of and below the sheet, mm.
pub(super) const AROUND: f64 = 12.0;
/// Paper above the sheet for the words that name the face, mm.
pub(super) const ABOVE: f64 = 24.0;
/// Least width of the content, mm: room for the words that name the face beside a sheet that is narrower than they.
const LEAST_WIDTH: f64 = 110.0;
/// A datum farther than this from the sheet is told in words only, mm.
const DATUM_NEAR: f64 = 60.0;
/// Distance of the check marks from the sheet's box, mm.
const OFF: f64 = 5.0;

/// The way from panel to paper.
#[derive(Clone, Debug)]
pub(super) struct View {
    /// Which face.
    pub face: Face,
    /// Moves panel axes onto the content's paper, lower left corner (0, 0).
    pub way: Transform,
    /// Width of the content, mm.
    pub width: f64,
    /// Height of the content, mm.
    pub height: f64,
    /// Box of the sheet and its openings in panel axes.
    pub bounds: Rect,
    /// Whether the datum lies on the content.
    pub datum: bool,
}

impl View {
    /// Sees a plan from one side.
    pub fn of(plan: &Plan, face: Face) -> View {
        let bounds = plan.bounds();
        let datum = bounds.inflate(DATUM_NEAR, DATUM_NEAR).contains(Point::ORIGIN);
        let all = if datum { bounds.union_pt(Point::ORIGIN) } else { bounds };
        let (own, height) = (all.width() + 2.0 * AROUND, all.height() + AROUND + ABOVE);
        let width = own.max(LEAST_WIDTH);
        // the words run from the flag: to the left in front, to the right at the back
        let way = match face {
            Face::Front => Transform::shift(Vec2::new(width - own + AROUND - all.x0, AROUND - all.y0)),
            Face::Back => Transform::place(Point::new(AROUND + all.x1, AROUND - all.y0), 0.0, true),
        };
        let mut view = View { face, way, width, height, bounds, datum };
        view.datum = datum && view.datum_is_free();
        view
    }

    /// Whether the datum's axes stand clear of the other marks, so that nothing is drawn over anything.
    fn datum_is_free(&self) -> bool {
        let (mut others, mut axes) = (Vec::new(), Vec::new());
        self.fixed(&mut others);
        self.datum_mark(&mut axes);
        let boxes = |items: &[Item]| -> Vec<Rect> { items.iter().filter_map(|i| i.shape.bounds()).collect() };
        let others = boxes(&others);
        boxes(&axes).iter().all(|a| others.iter().all(|b| !overlap(a.inflate(0.5, 0.5), b.inflate(0.5, 0.5))))
    }

    /// The check marks P Q R S, in panel axes: pilot's lower left, lower right, upper right, upper left.
    pub fn corners(&self) -> [(char, Point); 4] {
        let b = self.bounds.inflate(OFF, OFF);
        [
            ('P', Point::new(b.x0, b.y0)),
            ('Q', Point::new(b.x1, b.y0)),
            ('R', Point::new(b.x1, b.y1)),
            ('S', Point::new(b.x0, b.y1)),
        ]
    }

    /// What to measure between the check marks, in words.
    pub fn checks(&self) -> Vec<String> {
        let [(_, p), (_, q), (_, r), _] = self.corners();
        vec![
            format!("diagonals P-R and Q-S: {} each", both(span(p, r))),
            format!("P-Q: {}, Q-R: {}", both(span(p, q)), both(span(q, r))),
            format!("mark P stands at x {}, y {} mm from the datum", mm(p.x), mm(p.y)),
        ]
    }

    /// Marks of the view: check marks, flag, words, up arrow, datum. None of them is cut.
    pub fn marks(&self) -> Vec<Item> {
        let mut items = Vec::new();
        self.fixed(&mut items);
        if self.datum {
            self.datum_mark(&mut items);
        }
        items
    }

    fn fixed(&self, items: &mut Vec<Item>) {
        for (name, p) in self.corners() {
            items.extend(self.corner(name, self.way.point(p)));
        }
        self.flag(items);
    }

    fn corner(&self, name: char, at: Point) -> Vec<Item> {
        let line = |d: Vec2| Item::stroked(Layer::Register, Shape::line(at - d, at + d), Stroke::solid(0.18));
        let centre = self.way.point(self.bounds.center()).x;
        // the letter stands on the outer side of its cross
        let out = if at.x < centre { -1.0 } else { 1.0 };
        let text = Text::new(at + Vec2::new(out * 4.6, -1.0), 2.0, Anchor::MIDDLE, name.to_string()).bold();
        vec![line(Vec2::new(3.0, 0.0)), line(Vec2::new(0.0, 3.0)), Item::text(Layer::Register, text)]
    }

    /// The asymmetric mark: a flag at the pilot's upper right that blows towards the pilot's left.
    fn flag(&self, items: &mut Vec<Item>) {
        let [.., (_, r), _] = self.corners();
        let foot = self.way.point(r) + Vec2::new(0.0, 5.0);
        let side = match self.face {
            Face::Front => -1.0,
            Face::Back => 1.0,
        };
        let room = self.width - 2.0 * AROUND - 24.0;
        items.extend(flag(foot, side, (self.face.words(), self.face.mark()), room));
    }

    /// Axes at the datum, with words.
    fn datum_mark(&self, items: &mut Vec<Item>) {
        let o = self.way.point(Point::ORIGIN);
        let stroke = Stroke::solid(0.18);
        items.push(Item::stroked(Layer::Register, Shape::Circle { centre: o, radius: 1.5 }, stroke));
        for (v, name) in [(Vec2::new(1.0, 0.0), "x"), (Vec2::new(0.0, 1.0), "y")] {
            let d = self.way.vector(v);
            let across = Vec2::new(-d.y, d.x);
            let tip = o + d * 9.0;
            items.push(Item::stroked(Layer::Register, Shape::line(o - d * 3.0, tip), stroke));
            let head = [tip + d * 2.2, tip + across * 0.7, tip - across * 0.7];
            items.push(Item::filled(Layer::Register, Shape::Path(Contour::polygon(&head)), Ink::BLACK));
            let text = Text::new(tip + d * 4.0 - Vec2::new(0.0, 0.8), 1.6, Anchor::MIDDLE, name);
            items.push(Item::text(Layer::Register, text));
        }
    }
}

/// The asymmetric mark on its foot: a flag that blows to the `side` (1: right), what the view is, where the mark must be,
/// and an arrow that points up. The words take up to `room` mm.
pub(in crate::draw) fn flag(foot: Point, side: f64, (words, note): (&str, &str), room: f64) -> Vec<Item> {
    let p = |x: f64, y: f64| foot + Vec2::new(side * x, y);
    let line = |a: Point, b: Point, width: f64| {
        Item::stroked(Layer::Register, Shape::line(a, b), Stroke::solid(width))
    };
    let mut items = vec![line(p(0.0, 0.0), p(0.0, 11.0), 0.5)];
    let mut corners = vec![p(0.0, 11.0), p(0.0, 5.0), p(9.0, 6.5), p(6.0, 8.0), p(9.0, 11.0)];
    if side < 0.0 {
        corners.reverse();
    }
    items.push(Item::filled(Layer::Register, Shape::Path(Contour::polygon(&corners)), Ink::BLACK));
    let height = fitted(words, 5.0, Weight::Bold, room);
    let anchor = if side > 0.0 { Anchor::LEFT } else { Anchor::RIGHT };
    let mut head = Text::new(p(12.0, 5.6), height, anchor, words);
    head.weight = Weight::Bold;
    let wide = crate::draw::text::width(words, height, Weight::Bold);
    items.push(Item::text(Layer::Register, head));
    let height = fitted(note, 1.8, Weight::Regular, room + 18.0);
    items.push(Item::text(Layer::Register, Text::new(p(12.0, 2.0), height, anchor, note)));
    let (tip, tail) = (p(16.0 + wide, 11.0), p(16.0 + wide, 4.8));
    items.push(line(tail, tip, 0.35));
    let head = [tip + Vec2::new(0.0, 1.5), tip + Vec2::new(-1.2, -1.8), tip + Vec2::new(1.2, -1.8)];
    items.push(Item::filled(Layer::Register, Shape::Path(Contour::polygon(&head)), Ink::BLACK));
    let up = Text::new(p(19.0 + wide, 6.5), 2.5, anchor, "UP").bold();
    items.push(Item::text(Layer::Register, up));
    items
}
