//! A survey on one page: points, holes and outline; ellipses and what disagrees, exaggerated by a stated factor.

use super::template::placer::{Label, Placer, Reach};
use super::template::words::fitted;
use super::{
    Anchor, Dash, Drawing, Entry, Greys, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, Weight,
};
use crate::geom::{Point, Rect, Segment, Vec2};
use crate::survey::behind::Behind;
use crate::survey::observation::{Origin, Relation};
use crate::survey::straight::Straight;
use crate::survey::{Solved, say};

/// Page: A4 lying, ISO 216, mm.
const PAGE: (f64, f64) = (297.0, 210.0);
/// Paper left white, mm.
const MARGIN: f64 = 10.0;
/// Room around the figure for names and ellipses, mm.
const AROUND: f64 = 14.0;
/// Largest ellipse and longest arrow on paper, mm.
const LARGEST: f64 = 6.0;
/// Longest arrow of a reading that was set aside, mm: it is cut there, and its number says how long it is.
const CUT_OFF: f64 = 15.0;
/// Arrows are drawn of readings whose test is at least this, and of at most so many.
const SHOWN: (f64, usize) = (1.8, 12);
/// Shorter arrows say nothing, mm.
const LEAST: f64 = 0.8;

/// The page. `outline` is the panel's, in lines and arcs; it may be empty. `openings` are those given by corners. `photograph` is laid pale under all of it.
pub fn survey(
    title: &str,
    s: &Solved,
    (outline, openings): (&[Segment], &[Vec<Segment>]),
    behind: &Behind,
    photograph: Option<&Straight>,
) -> Drawing {
    let n = &s.network;
    let held: Vec<usize> = (0..n.points.len()).filter(|p| s.holds(*p)).collect();
    let boxes = held.iter().map(|p| {
        let r = if s.sized(*p) { s.adjusted.state.radius[*p].max(0.0) } else { 0.0 };
        Rect::from_center_size(s.adjusted.state.at[*p], (2.0 * r, 2.0 * r))
    });
    let all = boxes.chain(outline.iter().map(Segment::bounds)).reduce(|a, b| a.union(b));
    let all = all.filter(|b| b.width() + b.height() > 0.0).unwrap_or(Rect::new(0.0, 0.0, 100.0, 100.0));
    let words = words(s);
    let under = 5.0 * (words.len() + 1) as f64 + 6.0;
    let room = Rect::new(MARGIN, MARGIN + under, PAGE.0 - MARGIN, PAGE.1 - MARGIN - 10.0);
    let fit = ((room.width() - 2.0 * AROUND) / all.width().max(1.0))
        .min((room.height() - 2.0 * AROUND) / all.height().max(1.0));
    let scale = fit.min(1.0);
    let shift = room.center().to_vec2() - all.center().to_vec2() * scale;
    let view = View { s, scale, shift, room };
    let largest = held.iter().map(|p| s.ellipse(*p).major).fold(0.0, f64::max);
    let arrows = view.chosen();
    let longest = arrows.iter().filter(|a| !a.aside).map(|a| a.off.abs()).fold(0.0, f64::max);
    let (big, long) = (factor(largest * scale), factor(longest * scale));
    let mut items = view.draw(outline, &held, big, (&arrows, long), behind);
    for o in openings {
        let chain = o.iter().map(|s| view.small(s)).collect();
        items.push(Item::stroked(Layer::Outline, Shape::Chain(chain), Stroke::solid(0.35)));
    }
    if let Some(photograph) = photograph {
        items.insert(0, view.pale(photograph));
    }
    let inner = PAGE.0 - 2.0 * MARGIN;
    let head = format!("{title}: survey, not to cut from");
    let height = fitted(&head, 4.5, Weight::Bold, inner);
    let at = Point::new(MARGIN, PAGE.1 - MARGIN - height);
    items.push(Item::text(Layer::Frame, Text::new(at, height, Anchor::LEFT, head.clone()).bold()));
    let key = format!(
        "Scale 1:{:.2}. Ellipses hold the true point in 95 of 100 surveys and are drawn {big} times too large.",
        1.0 / scale
    );
    let other = format!(
        "Arrows: reading less adjusted value, with the number of the reading and mm, {long} times too long; a bold one is set aside and cut short."
    );
    for (k, line) in [&key, &other].into_iter().chain(&words).enumerate() {
        let height = fitted(line, 2.6, Weight::Regular, inner);
        let at = Point::new(MARGIN, MARGIN + under - 6.0 - 5.0 * k as f64);
        items.push(Item::text(Layer::Text, Text::new(at, height, Anchor::LEFT, line.clone())));
    }
    let page = Page {
        name: "survey".into(),
        width: PAGE.0,
        height: PAGE.1,
        items: items.into_iter().map(Entry::Item).collect(),
    };
    let meta = vec![
        ("readings set aside".to_owned(), s.suspects.len().to_string()),
        ("points not determined".to_owned(), s.undetermined.len().to_string()),
    ];
    Drawing { title: head, pages: vec![page], meta, units: Units::Millimetre }
}

/// 1, 2 or 5 times a power of ten: the largest by which a length of `mm` stays within [`LARGEST`].
fn factor(mm: f64) -> f64 {
    if mm <= 0.0 {
        return 1.0;
    }
    let steps = (-3..6).flat_map(|p| [1.0, 2.0, 5.0].map(|k| k * 10.0f64.powi(p)));
    steps.filter(|f| f * mm <= LARGEST).fold(1e-3, f64::max)
}

/// What is set aside and what is open, a line each.
fn words(s: &Solved) -> Vec<String> {
    let n = &s.network;
    let mut out = Vec::new();
    for x in s.suspects.iter().take(4) {
        let o = &n.observations[x.observation];
        let guess = x.slip.as_ref().map_or(String::new(), |p| format!(": {}?", p.written));
        out.push(format!(
            "Set aside: {}, {}, {}, disagrees by {:.1} mm{guess}",
            crate::survey::said(&o.origin),
            say::observation(n, o),
            o.written,
            x.off.abs()
        ));
    }
    let names =
        |of: Vec<usize>| of.into_iter().map(|p| n.points[p].id.to_string()).collect::<Vec<_>>().join(", ");
    if !s.undetermined.is_empty() {
        out.push(format!("Not determined: {}", names(s.undetermined.iter().map(|u| u.point).collect())));
    }
    if !s.ambiguous.is_empty() {
        let open = names(s.ambiguous.iter().map(|a| a.point).collect());
        out.push(format!("May lie on the other side as well: {open}"));
    }
    out.push(
        "Measured, not drawn: check it with a card trial. The program advises; it approves nothing.".into(),
    );
    out
}

/// What disagrees, and which way.
struct Arrow {
    from: Point,
    along: Vec2,
    off: f64,
    aside: bool,
    name: String,
}

struct View<'a> {
    s: &'a Solved,
    scale: f64,
    shift: Vec2,
    room: Rect,
}

impl View<'_> {
    fn on(&self, p: Point) -> Point {
        (p.to_vec2() * self.scale + self.shift).to_point()
    }

    /// The readings that disagree most, and those set aside.
    fn chosen(&self) -> Vec<Arrow> {
        let s = self.s;
        let size = |i: usize| s.tests[i].as_ref().map_or(0.0, |t| t.test.abs());
        let mut order: Vec<usize> = (0..s.tests.len()).filter(|i| size(*i) >= SHOWN.0).collect();
        order.sort_by(|a, b| size(*b).total_cmp(&size(*a)).then(a.cmp(b)));
        let used = order.into_iter().take(SHOWN.1).filter_map(|i| {
            let off = -s.tests[i].as_ref()?.residual;
            self.arrow(i, off, false)
        });
        let aside = s.suspects.iter().filter_map(|x| self.arrow(x.observation, x.off, true));
        aside.chain(used).collect()
    }

    fn arrow(&self, i: usize, mut off: f64, aside: bool) -> Option<Arrow> {
        let o = &self.s.network.observations[i];
        let at = |p: usize| self.s.adjusted.state.at[p];
        let unit = |v: Vec2| (v.hypot2() > 1e-12).then(|| v / v.hypot2().sqrt());
        let (from, along) = match o.relation {
            Relation::Distance { a, b, .. } => {
                let to = at(b) - at(a);
                (at(a) + to * 0.5, unit(to)?)
            }
            Relation::Along { p, a, b } => (at(p), unit(at(b) - at(a))?),
            Relation::Offset { p, a, b } | Relation::Gap { p, a, b } => {
                let e = unit(at(b) - at(a))?;
                let side = if matches!(o.relation, Relation::Gap { .. }) && e.cross(at(p) - at(a)) < 0.0 {
                    -1.0
                } else {
                    1.0
                };
                (at(p), Vec2::new(-e.y, e.x) * side)
            }
            Relation::Up { b, .. } => (at(b), Vec2::new(0.0, 1.0)),
            Relation::Right { b, .. } => (at(b), Vec2::new(1.0, 0.0)),
            Relation::Picked { p, pick, down } => {
                // the way that the pick is off in the panel's plane
                let camera = &self.s.adjusted.state.cameras[n_picture(self.s, pick)];
                let [x, y] = camera.shows(at(p), 0.0).by_point;
                let whole = x.cross(y);
                let to = if down { Vec2::new(-y.x, x.x) } else { Vec2::new(y.y, -x.y) } / whole;
                off *= to.hypot2().sqrt();
                (at(p), unit(to)?)
            }
            _ => return None,
        };
        let number = match o.origin {
            Origin::Reading(k) => format!("{k}"),
            Origin::Condition(k) => format!("c{k}"),
            Origin::Pick(k, n) => format!("{k}.{n}"),
            Origin::Picture(k) => format!("p{k}"),
        };
        Some(Arrow { from, along, off, aside, name: format!("{number}: {off:+.1}") })
    }

    fn draw(
        &self,
        outline: &[Segment],
        held: &[usize],
        big: f64,
        (arrows, long): (&[Arrow], f64),
        behind: &Behind,
    ) -> Vec<Item> {
        let (s, n) = (self.s, &self.s.network);
        let mut items = Vec::new();
        for (i, o) in n.observations.iter().enumerate() {
            let Relation::Distance { a, b, .. } = o.relation else { continue };
            if o.what.is_none() || !s.holds(a) || !s.holds(b) {
                continue;
            }
            let aside = s.tests[i].is_none();
            let stroke =
                if aside { Stroke::solid(0.35).dash(Dash::Dashed) } else { Stroke::solid(0.1).ink(Ink(190)) };
            let (p, q) = (self.on(s.adjusted.state.at[a]), self.on(s.adjusted.state.at[b]));
            items.push(Item::stroked(Layer::Hatch, Shape::line(p, q), stroke));
        }
        let small = |piece: &Segment| self.small(piece);
        if !outline.is_empty() {
            let chain: Vec<Segment> = outline.iter().map(small).collect();
            items.push(Item::stroked(Layer::Outline, Shape::Chain(chain), Stroke::solid(0.5)));
        }
        let mut placer = Placer::new(self.room);
        let mut labels = Vec::new();
        for &p in held {
            let at = self.on(s.adjusted.state.at[p]);
            let id = n.points[p].id.to_string();
            let cross = [Vec2::new(1.2, 0.0), Vec2::new(0.0, 1.2)];
            for arm in cross {
                items.push(
                    Item::stroked(Layer::Mark, Shape::line(at - arm, at + arm), Stroke::solid(0.18)).of(&*id),
                );
            }
            if n.points[p].round && s.sized(p) && s.adjusted.state.radius[p] > 0.0 {
                let circle = Shape::Circle { centre: at, radius: s.adjusted.state.radius[p] * self.scale };
                items.push(Item::stroked(Layer::Outline, circle, Stroke::solid(0.35)).of(&*id));
            }
            let e = s.ellipse(p).scaled(big * self.scale);
            if e.major > 0.0 && !s.doubtful(p) {
                let around = |k: u32| at + e.point(f64::from(k) * 6.0);
                let chain = (0..60).map(|k| Segment::line(around(k), around(k + 1))).collect();
                items.push(Item::stroked(Layer::Mark, Shape::Chain(chain), Stroke::solid(0.25)).of(&*id));
            }
            placer.block(Rect::from_center_size(at, (2.0 * e.major.max(1.2), 2.0 * e.major.max(1.2))));
            let beyond = if s.sized(p) { s.adjusted.state.radius[p] * self.scale + 0.6 } else { 0.0 };
            let name = |off: f64| label(id.clone(), at, off, Weight::Regular, id.clone());
            labels.push((name(e.major.max(1.4)), name(e.major.max(beyond))));
        }
        for piece in outline.iter().map(small) {
            keep_off(&mut placer, &piece);
        }
        for &p in held.iter().filter(|p| s.sized(**p) && s.adjusted.state.radius[**p] > 0.0) {
            let (at, r) = (self.on(s.adjusted.state.at[p]), s.adjusted.state.radius[p] * self.scale);
            keep_off(&mut placer, &Segment::Arc(crate::geom::Arc::new(at, r, 0.0, std::f64::consts::TAU)));
        }
        for a in arrows.iter().filter(|a| a.aside || (a.off * long * self.scale).abs() >= LEAST) {
            let full = a.off * long * self.scale;
            let length = if a.aside { full.clamp(-CUT_OFF, CUT_OFF) } else { full };
            let (from, to) = (self.on(a.from), self.on(a.from) + a.along * length);
            let wide = if a.aside { 0.7 } else { 0.35 };
            items.extend(arrow(from, to, wide));
            placer.block(Rect::from_points(from, to).inflate(0.6, 0.6));
            let middle = from.midpoint(to);
            let weight = if a.aside { Weight::Bold } else { Weight::Regular };
            let name = |off: f64| label(a.name.clone(), middle, off, weight, String::new());
            labels.push((name(0.5 * length.abs() + 0.8), name(0.5 * length.abs() + 4.0)));
        }
        self.behind(behind, &mut placer, &mut items, &mut labels);
        for (near, farther) in labels {
            // a name without room is in the report's table
            if let Ok(placed) = placer.place(near).or_else(|_| placer.place(farther)) {
                items.extend(placed);
            }
        }
        items
    }
}

impl View<'_> {
    /// A straightened photograph, pale, so that lines stand out on it.
    fn pale(&self, s: &Straight) -> Item {
        let corners = [Point::new(s.shows.x0, s.shows.y0), Point::new(s.shows.x1, s.shows.y1)];
        let [a, b] = corners.map(|p| self.on(p));
        let grey = |c: &[u8]| {
            let sum: u32 = c.iter().map(|v| u32::from(*v)).sum();
            (130 + sum * 125 / (3 * 255)) as u8
        };
        let pixels = s.pixels.chunks_exact(3).map(grey).collect();
        let picture = std::sync::Arc::new(Greys { width: s.width, height: s.height, pixels });
        Item {
            layer: Layer::Hatch,
            subject: None,
            shape: Shape::Picture { at: Rect::from_points(a, b), picture },
            stroke: None,
            fill: Some(Ink::BLACK),
        }
    }

    /// Probes with their depth, and the areas that they reach.
    fn behind(
        &self,
        b: &Behind,
        placer: &mut Placer,
        items: &mut Vec<Item>,
        labels: &mut Vec<(Label, Label)>,
    ) {
        for a in &b.areas {
            let chain = a.contour.segments().iter().map(|s| self.small(s)).collect();
            let stroke = Stroke::solid(0.25).dash(Dash::Dashed);
            items.push(Item::stroked(Layer::Mark, Shape::Chain(chain), stroke).of(&*a.id));
        }
        for p in &b.probes {
            let at = self.on(p.at);
            let dot = Shape::Circle { centre: at, radius: 0.7 };
            items.push(Item::filled(Layer::Mark, dot, Ink::BLACK).of(&*p.id));
            placer.block(Rect::from_center_size(at, (1.6, 1.6)));
            let words = format!("{} {}{:.0} deep", p.id, if p.free { "over " } else { "" }, p.depth);
            let name = |off: f64| label(words.clone(), at, off, Weight::Regular, p.id.to_string());
            labels.push((name(1.0), name(4.5)));
        }
    }

    fn small(&self, piece: &Segment) -> Segment {
        match piece {
            Segment::Line(l) => Segment::line(self.on(l.a), self.on(l.b)),
            Segment::Arc(a) => Segment::Arc(crate::geom::Arc::between(
                self.on(a.a),
                self.on(a.b),
                self.on(a.centre),
                a.sweep > 0.0,
            )),
        }
    }
}

/// The picture of a pick.
fn n_picture(s: &Solved, pick: usize) -> usize {
    s.network.picks[pick].picture
}

/// Keeps names off a line.
fn keep_off(placer: &mut Placer, piece: &Segment) {
    let n = (piece.len() / 1.5).ceil().clamp(1.0, 2000.0) as u32;
    for k in 0..=n {
        placer.block(Rect::from_center_size(piece.at(f64::from(k) / f64::from(n)), (0.8, 0.8)));
    }
}

fn label(words: String, anchor: Point, off: f64, weight: Weight, subject: String) -> Label {
    Label { lines: vec![(words, 2.4, weight)], anchor, reach: Reach::Round(off), inside: false, subject }
}

/// A line with a head at its end.
fn arrow(from: Point, to: Point, wide: f64) -> Vec<Item> {
    let long = (to - from).hypot2().sqrt();
    if long < 0.05 {
        return Vec::new();
    }
    let e = (to - from) / long;
    let head = long.min(1.6);
    let side = Vec2::new(-e.y, e.x) * (0.35 * head);
    let back = to - e * head;
    let stroke = Stroke::solid(wide);
    [(from, to), (back + side, to), (back - side, to)]
        .map(|(a, b)| Item::stroked(Layer::Dimension, Shape::line(a, b), stroke))
        .into()
}
