//! Puts labels where they meet no other text, keep off the cut lines if they can, and stay in their area.
//!
//! Deterministic: a fixed list of places is tried around each thing, nearest first; the first that crosses
//! no line wins, else the one that crosses fewest. A label that stands away from its thing gets a leader.
//! A label for which no place is free is handed back, so that the sheet can list it elsewhere.

use super::buckets::Buckets;
use crate::draw::{Anchor, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::distance::{self, Relation};
use crate::geom::{Contour, Line, Point, Rect, Segment, Vec2, angle, length};
use std::f64::consts::TAU;

/// Free paper around a text, mm.
const AIR: f64 = 0.5;
/// Distance of two base lines in letter heights.
pub(in crate::draw) const LEADING: f64 = 1.6;
/// Directions tried around a thing.
const DIRECTIONS: u32 = 16;
/// Rings tried, nearest first.
const RINGS: u32 = 24;
/// What a leader through another's face costs: more than the farthest place.
const THROUGH: f64 = 60.0;
/// A label whose box starts farther than this from its thing gets a leader, mm.
const NEAR: f64 = 2.6;

/// How far a thing reaches from its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::draw) enum Reach {
    /// A disc of this radius, mm.
    Round(f64),
    /// An upright box of this half size, mm.
    Box(Vec2),
}

impl Reach {
    /// Distance from the middle to the edge along a unit direction.
    fn along(self, dir: Vec2) -> f64 {
        match self {
            Reach::Round(r) => r,
            Reach::Box(half) => {
                let x = if dir.x == 0.0 { f64::INFINITY } else { half.x / dir.x.abs() };
                let y = if dir.y == 0.0 { f64::INFINITY } else { half.y / dir.y.abs() };
                x.min(y)
            }
        }
    }
}

/// A block of text lines that belongs to a thing.
pub(in crate::draw) struct Label {
    /// Lines with their letter heights and weights, from the top.
    pub lines: Vec<(String, f64, Weight)>,
    /// Middle of the thing.
    pub anchor: Point,
    /// How far from the middle the label must stay.
    pub reach: Reach,
    /// Whether the thing is large enough to hold the label: places inside are tried first.
    pub inside: bool,
    /// Id of what it names.
    pub subject: String,
}

impl Label {
    /// The same with its first word alone, where there is more.
    pub fn short(&self) -> Option<Label> {
        let (words, height, weight) = self.lines.first()?;
        let first = words.split(' ').next()?;
        (self.lines.len() > 1 || first.len() < words.len()).then(|| Label {
            lines: vec![(first.to_owned(), *height, *weight)],
            inside: false,
            subject: self.subject.clone(),
            ..*self
        })
    }

    /// Width and height of the block with its descenders and air.
    fn size(&self) -> (f64, f64) {
        let width = self.lines.iter().map(|(s, h, w)| text::width(s, *h, *w)).fold(0.0, f64::max);
        let height = self.lines.iter().map(|(_, h, _)| h * LEADING).sum::<f64>();
        (width + 2.0 * AIR, height + AIR)
    }
}

/// What stands already.
pub(in crate::draw) struct Placer {
    area: Rect,
    boxes: Buckets<()>,
    lines: Buckets<Contour>,
    faces: Buckets<Contour>,
    leaders: Buckets<Line>,
    /// Whether there are faces to keep off.
    keeps_off: bool,
}

impl Placer {
    /// An empty area.
    pub fn new(area: Rect) -> Placer {
        Placer {
            area,
            boxes: Buckets::new(),
            lines: Buckets::new(),
            faces: Buckets::new(),
            leaders: Buckets::new(),
            keeps_off: false,
        }
    }

    /// Keeps a box free of labels.
    pub fn block(&mut self, r: Rect) {
        self.boxes.add(r, ());
    }

    /// Keeps the boxes of items free; for texts with their descenders.
    pub fn block_items(&mut self, items: &[Item]) {
        for item in items {
            if let Some(b) = item.shape.bounds() {
                self.block(match &item.shape {
                    Shape::Text(t) => whole(b, t.height),
                    _ => b,
                });
            }
        }
    }

    /// A line that labels should keep off.
    pub fn line(&mut self, c: Contour) {
        self.lines.add(c.bounds(), c);
    }

    /// A face that carries its own name: the names of others keep off it, and off its line.
    pub fn face(&mut self, c: Contour) {
        self.line(c.clone());
        self.keeps_off = true;
        self.faces.add(c.bounds(), c);
    }

    /// Places a label; gives its items, or the label back where there is no room.
    pub fn place(&mut self, label: Label) -> Result<Vec<Item>, Label> {
        let size = label.size();
        // where names must keep off faces, a leader over a text is the lesser evil
        let found = self
            .choose(&label, size, false)
            .or_else(|| if self.keeps_off { self.choose(&label, size, true) } else { None });
        let Some((centre, leader)) = found else { return Err(label) };
        Ok(self.set(&label, centre, size, leader))
    }

    /// The place that costs least; `over`: leaders may run over texts.
    fn choose(&self, label: &Label, (w, h): (f64, f64), over: bool) -> Option<(Point, Option<Line>)> {
        let mut best: Option<(f64, Point, Option<Line>)> = None;
        for (centre, leader, cost) in candidates(label, w, h) {
            let room = Rect::from_center_size(centre, (w, h));
            let line = if over { None } else { leader };
            if best.as_ref().is_some_and(|(c, ..)| cost >= *c) || !self.free(room, line) {
                continue;
            }
            // a name on another's face tells a lie
            if self.faces.count(room, |c| covers(c, room, label.anchor)) > 0 {
                continue;
            }
            let crossed = self.lines.count(room, |c| meets(c, room)) as f64;
            let through = leader.map_or(0, |l| {
                let along = Rect::from_points(l.a, l.b);
                self.faces.count(along, |c| passes(&l, c) && !holds(c, label.anchor))
            });
            if through > 0 && !over {
                continue;
            }
            let total = cost + 12.0 * crossed + THROUGH * through as f64;
            if best.as_ref().is_none_or(|(c, ..)| total < *c) {
                best = Some((total, centre, leader));
            }
        }
        best.map(|(_, centre, leader)| (centre, leader))
    }

    /// Puts a label beside a point, clear of the upright and the level line through it, in the first quarter where
    /// it meets no text and crosses no line.
    ///
    /// # Errors
    /// The label itself when no quarter is free.
    pub fn quarter(&mut self, label: Label) -> Result<Vec<Item>, Label> {
        let (w, h) = label.size();
        for (sx, sy) in [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)] {
            let centre = label.anchor + Vec2::new(sx * (w / 2.0 + AIR), sy * (h / 2.0 + AIR));
            let room = Rect::from_center_size(centre, (w, h));
            if self.free(room, None) && self.lines.count(room, |c| meets(c, room)) == 0 {
                return Ok(self.set(&label, centre, (w, h), None));
            }
        }
        Err(label)
    }

    fn set(&mut self, label: &Label, centre: Point, (w, h): (f64, f64), leader: Option<Line>) -> Vec<Item> {
        self.boxes.add(Rect::from_center_size(centre, (w, h)), ());
        let mut items = Vec::new();
        if let Some(l) = leader {
            self.leaders.add(Rect::from_points(l.a, l.b), l);
            items.push(Item::stroked(Layer::Dimension, Shape::Line(l), Stroke::solid(0.13)));
        }
        let mut top = centre.y + h / 2.0 - AIR;
        for (words, height, weight) in &label.lines {
            let at = Point::new(centre.x, top - height);
            let mut t = Text::new(at, *height, Anchor::MIDDLE, words.clone());
            t.weight = *weight;
            items.push(Item::text(Layer::Text, t));
            top -= height * LEADING;
        }
        items.into_iter().map(|i| i.of(label.subject.clone())).collect()
    }

    fn free(&self, room: Rect, leader: Option<Line>) -> bool {
        let a = self.area;
        room.x0 >= a.x0
            && room.x1 <= a.x1
            && room.y0 >= a.y0
            && room.y1 <= a.y1
            && !self.boxes.near(room).any(|(b, ())| overlap(*b, room))
            && !self.leaders.near(room).any(|(_, l)| hits(l, room))
            && leader
                .is_none_or(|l| !self.boxes.near(Rect::from_points(l.a, l.b)).any(|(b, ())| hits(&l, *b)))
    }
}

/// Places to try: middle of the label's box, leader, cost. Costs rise with distance.
fn candidates(label: &Label, w: f64, h: f64) -> Vec<(Point, Option<Line>, f64)> {
    let mut found = Vec::new();
    let c = label.anchor;
    if label.inside {
        for (k, dy) in [0.0, 1.0, -1.0, 2.0, -2.0].into_iter().enumerate() {
            found.push((c + Vec2::new(0.0, dy * (h / 2.0 + 4.0)), None, k as f64 * 0.01));
        }
    }
    for ring in 0..RINGS {
        let gap = 0.4 + 1.6 * f64::from(ring);
        for k in 0..DIRECTIONS {
            // right first, then up, then by the finer directions
            let dir = angle::unit(TAU * f64::from(k) / f64::from(DIRECTIONS));
            let start = c + dir * label.reach.along(dir);
            // the box touches the ring from outside with the corner or side that faces the thing
            let half = Vec2::new(
                if dir.x.abs() < 0.3 { dir.x } else { dir.x.signum() } * w / 2.0,
                if dir.y.abs() < 0.3 { dir.y } else { dir.y.signum() } * h / 2.0,
            );
            let middle = start + dir * gap + half;
            let leader = (gap > NEAR).then(|| Line { a: start, b: start + dir * (gap - 0.3) });
            let slant = if k % (DIRECTIONS / 4) == 0 { 0.0 } else { 0.2 };
            found.push((middle, leader, 1.0 + gap + slant));
        }
    }
    found
}

/// The box of a text with its descenders, from its cap-height box.
pub(in crate::draw) fn whole(b: Rect, height: f64) -> Rect {
    let d = height * text::DESCENT;
    Rect::new(b.x0, b.y0 - d, b.x1, b.y1)
}

/// Whether two boxes share area.
pub(in crate::draw) fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// Whether a contour's line passes through a box.
pub(in crate::draw) fn meets(c: &Contour, room: Rect) -> bool {
    overlap(c.bounds(), room)
        && c.segments().iter().any(|s| match s {
            Segment::Line(l) => hits(l, room),
            Segment::Arc(a) => {
                // chords of a sixteenth of a turn: a label may be called clear that the arc grazes by
                // 2 % of its radius, which costs nothing but looks
                let n = (a.sweep.abs() / (TAU / 16.0)).ceil().max(1.0);
                let mut at = a.a;
                (1..=n as u32).any(|k| {
                    let next = a.at(f64::from(k) / n);
                    let chord = Line { a: at, b: next };
                    at = next;
                    hits(&chord, room)
                })
            }
        })
}

/// Whether a label would lie over a face that is another's, in part or whole.
fn covers(face: &Contour, room: Rect, anchor: Point) -> bool {
    (meets(face, room) || holds(face, room.center())) && !holds(face, anchor)
}

/// Whether a face has a point within or on its edge.
fn holds(face: &Contour, p: Point) -> bool {
    distance::point_contour(p, face).relation != Relation::Apart
}

/// Whether a leader runs through a face, asked at every millimetre: no face is smaller than that.
fn passes(l: &Line, face: &Contour) -> bool {
    let steps = (length(l.b - l.a)).ceil().max(1.0) as u32;
    (0..=steps).any(|k| holds(face, l.a + (l.b - l.a) * (f64::from(k) / f64::from(steps))))
}

/// Whether a straight line passes through a box (Liang and Barsky's clipping).
pub(in crate::draw) fn hits(l: &Line, r: Rect) -> bool {
    let d = l.b - l.a;
    if length(d) == 0.0 {
        return r.contains(l.a);
    }
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, l.a.x - r.x0), (d.x, r.x1 - l.a.x), (-d.y, l.a.y - r.y0), (d.y, r.y1 - l.a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return false;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    from <= to
}

#[cfg(test)]
mod tests {
    use super::*;

    fn label(words: &str, x: f64, y: f64) -> Label {
        Label {
            lines: vec![(words.to_owned(), 2.0, Weight::Regular)],
            anchor: Point::new(x, y),
            reach: Reach::Round(2.0),
            inside: false,
            subject: words.to_owned(),
        }
    }

    #[test]
    fn crowded_labels_never_meet_and_the_rest_is_handed_back() {
        let mut p = Placer::new(Rect::new(0.0, 0.0, 60.0, 40.0));
        let (mut boxes, mut back) = (Vec::new(), 0);
        for k in 0..200 {
            let at = (f64::from(k % 10) * 5.0, f64::from(k / 10) * 2.0);
            match p.place(label(&format!("item-{k}"), at.0, at.1)) {
                Ok(items) => boxes.extend(items.iter().filter_map(|i| match &i.shape {
                    Shape::Text(t) => Some(whole(text::bounds(t), t.height)),
                    _ => None,
                })),
                Err(_) => back += 1,
            }
        }
        assert!(boxes.len() > 25 && back > 0, "{} placed, {back} not", boxes.len());
        for (k, a) in boxes.iter().enumerate() {
            assert!(a.x0 >= 0.0 && a.y0 >= 0.0 && a.x1 <= 60.0 && a.y1 <= 40.0);
            assert!(boxes.iter().skip(k + 1).all(|b| !overlap(*a, *b)));
        }
    }

    #[test]
    fn a_line_is_avoided_when_there_is_room() {
        let mut p = Placer::new(Rect::new(-50.0, -50.0, 50.0, 50.0));
        p.line(Contour::rect(Point::new(30.0, 0.0), 50.0, 60.0, 0.0));
        let items = p.place(label("free", 0.0, 0.0)).unwrap_or_default();
        let b = items.first().and_then(|i| i.shape.bounds()).expect("placed");
        assert!(b.x1 < 5.0, "{b:?}");
    }

    #[test]
    fn a_name_lies_on_no_face_but_its_own() {
        let mut p = Placer::new(Rect::new(-20.0, -40.0, 60.0, 40.0));
        let faces: Vec<Contour> =
            (0..9).map(|k| Contour::circle(Point::new(f64::from(k) * 5.0, 0.0), 2.0)).collect();
        for f in &faces {
            p.face(f.clone());
        }
        for k in 0..9 {
            let own = Point::new(f64::from(k) * 5.0, 0.0);
            let items = p.place(label(&format!("breaker-{k}"), own.x, own.y)).unwrap_or_default();
            assert!(!items.is_empty(), "{k} has no room");
            for i in &items {
                let b = i.shape.bounds().expect("drawn");
                let other = |f: &&Contour| !holds(f, own) && (meets(f, b) || holds(f, b.center()));
                assert!(matches!(i.shape, Shape::Line(_)) || !faces.iter().any(|f| other(&f)), "{k}");
            }
        }
    }

    #[test]
    fn lines_hit_boxes() {
        let r = Rect::new(0.0, 0.0, 10.0, 5.0);
        let l = |a: (f64, f64), b: (f64, f64)| Line { a: a.into(), b: b.into() };
        assert!(hits(&l((-5.0, 2.0), (15.0, 2.0)), r) && hits(&l((2.0, 1.0), (3.0, 2.0)), r));
        assert!(!hits(&l((-5.0, 6.0), (15.0, 6.0)), r) && !hits(&l((-5.0, 0.0), (-1.0, 9.0)), r));
    }
}
