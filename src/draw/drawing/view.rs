//! The front view of one sheet of metal at a scale: outline, openings, centre marks, zones, tags, ordinates.
//!
//! Everything is in the view's own coordinates: the lower left corner of its box is (0, 0), mm on paper.

use super::feature::{Feature, Features};
use super::form::{Form, Seen};
use super::number::Print;
use super::ordinate::{self, Axis, Bands, Collect, Ordinates};
use crate::draw::template::placer::{Label, Placer, Reach, whole};
use crate::draw::template::plan::{Fate, Plan};
use crate::draw::template::shape::scaled;
use crate::draw::{Dash, Ink, Item, Layer, Shape, Stroke, Weight, text};
use crate::geom::{Contour, Point, Rect, SLACK, Segment, Vec2, length};
use crate::panel::{Class, Detail, Panel, Part};

/// Arm of a centre mark, mm.
const ARM: f64 = 2.5;
/// Where the lines of ordinates begin beside a centre mark, mm from the middle.
const BEGIN: f64 = 3.2;
/// Letter height of tags, mm.
const TAG: f64 = 2.5;
/// Openings smaller than this on paper, mm, are told from their centre mark no more.
const SMALLEST: f64 = 0.8;

/// How places are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// Numbers at the edge of the view.
    Ordinates,
    /// A number at each tag, and a table of coordinates.
    Table,
}

/// What a view shows.
pub struct Scene<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Index of the sheet of metal.
    pub sheet: usize,
    /// What is cut.
    pub plan: &'a Plan,
    /// The openings.
    pub features: &'a Features,
    /// The outline in words.
    pub outline: &'a Seen,
    /// How numbers are printed.
    pub print: Print,
    /// The datum of this drawing, panel axes.
    pub datum: Point,
}

/// A view that was drawn.
pub struct View {
    /// Its items.
    pub items: Vec<Item>,
    /// Its size without the numbers, mm.
    pub size: (f64, f64),
    /// Room of the numbers.
    pub bands: Bands,
    /// Tags for which there was no room: tag, x, y.
    pub unplaced: Vec<(String, Point)>,
    /// Whether the smallest opening can be seen.
    pub legible: bool,
}

impl Scene<'_> {
    /// Draws at a scale; none when the ordinates find no room.
    pub fn draw(&self, scale: f64, mode: Mode) -> Option<View> {
        let bounds = self.plan.bounds();
        let shift = -bounds.origin().to_vec2() * scale;
        let size = (bounds.width() * scale, bounds.height() * scale);
        let at = |p: Point| p.to_vec2() * scale + shift;
        let mut items = self.zones(scale, shift);
        items.extend(self.lines(scale, shift));
        let mut marks = Vec::new();
        for f in &self.features.list {
            let c = at(f.seen.centre);
            for d in [Vec2::new(ARM, 0.0), Vec2::new(0.0, ARM)] {
                let line = Shape::line((c - d).to_point(), (c + d).to_point());
                marks.push(Item::stroked(Layer::Mark, line, Stroke::solid(0.18)).of(f.name.clone()));
            }
        }
        let numbers = match mode {
            Mode::Table => Ordinates { items: self.axes(at, size), bands: Bands::default() },
            Mode::Ordinates => {
                let (x, y) = (self.marks(at, Axis::X, size), self.marks(at, Axis::Y, size));
                marks.extend(self.ring(at, size));
                ordinate::ordinates(x, y, size)?
            }
        };
        items.extend(marks);
        let (tags, unplaced) = self.tags(at, scale, size, mode, &items, &numbers.items);
        items.extend(numbers.items);
        items.extend(tags);
        let least = |f: &Feature| f.contour.bounds().width().min(f.contour.bounds().height()) * scale;
        let legible = self.features.list.iter().all(|f| least(f) >= SMALLEST);
        Some(View { items, size, bands: numbers.bands, unplaced, legible })
    }

    /// Where nothing may be cut, hatched.
    fn zones(&self, scale: f64, shift: Vec2) -> Vec<Item> {
        let mut items = Vec::new();
        for NoCut { id, contour, .. } in zones(self.panel, self.sheet) {
            let c = scaled(contour, scale, shift);
            let hatch = Shape::Hatch { contours: vec![c.clone()], spacing: 2.5, angle: 60.0 };
            items.push(Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.1).ink(Ink(150))).of(id));
            let edge = Stroke::solid(0.13).dash(Dash::DoubleChain).ink(Ink(110));
            items.push(Item::stroked(Layer::Hatch, Shape::contour(&c), edge).of(id));
        }
        items
    }

    /// Outline and openings.
    fn lines(&self, scale: f64, shift: Vec2) -> Vec<Item> {
        let mut items = Vec::new();
        let mut add = |c: &Contour, stroke: Stroke, name: &str| {
            let shape = Shape::contour(&scaled(c, scale, shift));
            items.push(Item::stroked(Layer::Outline, shape, stroke).of(name));
        };
        let thin = Stroke::solid(0.25);
        if !self.plan.cut_outline {
            add(&self.plan.outline, Stroke::solid(0.35).dash(Dash::Dashed), "outline");
        }
        for (name, c, outside) in &self.plan.contours {
            add(c, Stroke::solid(0.5), if *outside { "outline" } else { name });
        }
        for f in &self.features.list {
            match f.fate {
                Fate::Existing => add(&f.contour, thin.dash(Dash::Dashed), &f.name),
                Fate::FromPart => add(&f.contour, Stroke::solid(0.35).dash(Dash::Dotted), &f.name),
                Fate::Provision => add(&f.contour, thin.dash(Dash::DoubleChain).ink(Ink(90)), &f.name),
                Fate::Cut | Fate::Swallowed | Fate::Twice | Fate::AlreadyOpen | Fate::OffSheet => {}
            }
        }
        items
    }

    /// The coordinates along one axis.
    fn marks(&self, at: impl Fn(Point) -> Vec2, axis: Axis, size: (f64, f64)) -> Vec<ordinate::Mark> {
        let mut all = Collect::default();
        let value = |p: Point| match axis {
            Axis::X => p.x - self.datum.x,
            Axis::Y => p.y - self.datum.y,
        };
        let datum = at(self.datum);
        let near = Rect::new(-SLACK, -SLACK, size.0 + SLACK, size.1 + SLACK);
        let inside = match axis {
            Axis::X => (near.x0..=near.x1).contains(&datum.x),
            Axis::Y => (near.y0..=near.y1).contains(&datum.y),
        };
        if inside {
            let c = Vec2::new(datum.x.clamp(0.0, size.0), datum.y.clamp(0.0, size.1));
            all.add(0, ordinate::middle(c, axis, 0.0, "0".into(), "datum".into()));
        }
        for f in &self.features.list {
            let v = value(f.seen.centre);
            let mark = ordinate::middle(at(f.seen.centre), axis, BEGIN, self.print.number(v), f.name.clone());
            all.add(self.print.key(v), mark);
        }
        let b = self.plan.outline.bounds();
        for (corner, name) in [(Point::new(b.x0, b.y0), "low"), (Point::new(b.x1, b.y1), "high")] {
            let v = value(corner);
            let touch: Vec<f64> = self
                .touch(corner, axis)
                .iter()
                .map(|p| match axis {
                    Axis::X => at(*p).y,
                    Axis::Y => at(*p).x,
                })
                .collect();
            let low = touch.iter().copied().fold(f64::INFINITY, f64::min);
            let high = touch.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let c = at(corner);
            let mut mark = ordinate::middle(c, axis, 0.0, self.print.number(v), format!("outline {name}"));
            if low <= high {
                mark.begin = (low - 1.0, high + 1.0);
                mark.span = (low, high);
            }
            all.add(self.print.key(v), mark);
        }
        all.marks()
    }

    /// Where the outline touches a side of its box.
    fn touch(&self, corner: Point, axis: Axis) -> Vec<Point> {
        let off = |p: &Point| match axis {
            Axis::X => (p.x - corner.x).abs(),
            Axis::Y => (p.y - corner.y).abs(),
        };
        let mut found = Vec::new();
        for s in self.plan.outline.segments() {
            let mut points = vec![s.start(), s.end()];
            if let Segment::Arc(a) = s {
                let r = a.radius;
                let ways = [Vec2::new(r, 0.0), Vec2::new(-r, 0.0), Vec2::new(0.0, r), Vec2::new(0.0, -r)];
                points.extend(ways.into_iter().filter(|w| a.faces(*w)).map(|w| a.centre + w));
            }
            found.extend(points.into_iter().filter(|p| off(p) <= SLACK));
        }
        found
    }

    /// The mark of the origin, where it lies on the view.
    fn ring(&self, at: impl Fn(Point) -> Vec2, size: (f64, f64)) -> Option<Item> {
        let centre = at(self.datum).to_point();
        let inside = Rect::new(-SLACK, -SLACK, size.0 + SLACK, size.1 + SLACK).contains(centre);
        let ring = Shape::Circle { centre, radius: 1.5 };
        inside.then(|| Item::stroked(Layer::Dimension, ring, Stroke::solid(0.25)).of("datum"))
    }

    /// The datum's axes, where the places stand in a table.
    fn axes(&self, at: impl Fn(Point) -> Vec2, size: (f64, f64)) -> Vec<Item> {
        let Some(ring) = self.ring(&at, size) else { return Vec::new() };
        let c = at(self.datum);
        let mut items = vec![ring];
        for d in [Vec2::new(9.0, 0.0), Vec2::new(0.0, 9.0)] {
            let line = Shape::line(c.to_point(), (c + d).to_point());
            items.push(Item::stroked(Layer::Dimension, line, Stroke::solid(0.25)).of("datum"));
        }
        items
    }

    /// Letters at the openings, numbers at the outline's points.
    fn tags(
        &self,
        at: impl Fn(Point) -> Vec2,
        scale: f64,
        size: (f64, f64),
        mode: Mode,
        drawn: &[Item],
        numbers: &[Item],
    ) -> (Vec<Item>, Vec<(String, Point)>) {
        let mut placer = Placer::new(Rect::new(-1.0, -1.0, size.0 + 1.0, size.1 + 1.0));
        for i in drawn {
            match (&i.shape, i.layer) {
                (_, Layer::Mark) => placer.block_items(std::slice::from_ref(i)),
                (_, Layer::Hatch) => {}
                (Shape::Path(c), _) => placer.line(c.clone()),
                (Shape::Circle { centre, radius }, _) => placer.line(Contour::circle(*centre, *radius)),
                _ => {}
            }
        }
        for i in numbers {
            if let Shape::Chain(pieces) = &i.shape {
                for s in pieces {
                    placer.line(Contour::from_checked(vec![*s]));
                }
            } else {
                placer.block_items(std::slice::from_ref(i));
            }
        }
        let mut labels: Vec<(Label, Option<Label>, &Feature)> = Vec::new();
        for f in &self.features.list {
            labels.push(self.label(f, at(f.seen.centre), scale, mode));
        }
        // names that stand inside their own opening have the least choice
        labels.sort_by_key(|(l, ..)| !l.inside);
        let (mut items, mut unplaced) = (Vec::new(), Vec::new());
        for (label, short, f) in labels {
            let done = match (label.inside, short) {
                (false, _) => placer.place(label),
                (true, None) => placer.quarter(label).or_else(|l| placer.place(l)),
                // a name is worth its place only within its own opening
                (true, Some(short)) => placer
                    .quarter(label)
                    .or_else(|_| placer.quarter(short))
                    .or_else(|short| placer.place(short)),
            };
            match done {
                Ok(placed) => {
                    items.extend(placed.iter().filter_map(patch));
                    items.extend(placed);
                }
                Err(_) => unplaced.push((tag(f, mode), f.seen.centre)),
            }
        }
        if let Form::Path(pieces) = &self.outline.form {
            for (k, s) in pieces.iter().enumerate() {
                let p = s.start() + self.outline.centre.to_vec2();
                let c = at(p).to_point();
                let dot = Shape::Circle { centre: c, radius: 0.5 };
                items.push(Item::filled(Layer::Dimension, dot, Ink::BLACK).of("outline"));
                let label = Label {
                    lines: vec![((k + 1).to_string(), 1.8, Weight::Regular)],
                    anchor: c,
                    reach: Reach::Round(0.8),
                    inside: false,
                    subject: format!("outline point {}", k + 1),
                };
                match placer.place(label) {
                    Ok(placed) => items.extend(placed),
                    Err(_) => unplaced.push((format!("outline point {}", k + 1), p)),
                }
            }
        }
        (items, unplaced)
    }

    /// A feature's label, and a shorter one.
    fn label<'f>(
        &self,
        f: &'f Feature,
        at: Vec2,
        scale: f64,
        mode: Mode,
    ) -> (Label, Option<Label>, &'f Feature) {
        let mut lines = vec![(tag(f, mode), TAG, Weight::Bold)];
        if let Some(turned) = &f.turned {
            lines.push((turned.clone(), 2.0, Weight::Regular));
        }
        let b = f.contour.bounds();
        let half = Vec2::new(b.width(), b.height()) * (scale / 2.0);
        let round = f.contour.main_circle().map(|(_, r)| r * scale);
        let fits = |lines: &[(String, f64, Weight)]| {
            let wide = width(lines) + 2.0;
            let tall = lines.iter().map(|(_, h, _)| h * 1.6).sum::<f64>() + 1.0;
            // beside the middle lines
            match round {
                Some(r) => length(Vec2::new(wide, tall)) < r,
                None => wide < half.x && tall < half.y,
            }
        };
        let mut long = lines.clone();
        long.push((f.id.clone(), 2.0, Weight::Regular));
        let make = |lines: Vec<(String, f64, Weight)>, inside: bool| Label {
            lines,
            anchor: at.to_point(),
            reach: match round {
                Some(r) => Reach::Round(r.max(ARM)),
                None => Reach::Box(Vec2::new(half.x.max(ARM), half.y.max(ARM))),
            },
            inside,
            subject: f.name.clone(),
        };
        let hole = round.is_some_and(|r| r < 8.0);
        if !hole && fits(&long) {
            (make(long, true), Some(make(lines, true)), f)
        } else {
            let inside = fits(&lines);
            (make(lines, inside), None, f)
        }
    }
}

/// Width of lines of text, mm.
fn width(lines: &[(String, f64, Weight)]) -> f64 {
    lines.iter().map(|(w, h, b)| text::width(w, *h, *b)).fold(0.0, f64::max)
}

/// The tag of a feature: its letter, and in a table's mode its number too.
pub fn tag(f: &Feature, mode: Mode) -> String {
    match mode {
        Mode::Ordinates => f.letter.clone(),
        Mode::Table => format!("{}{}", f.letter, f.number),
    }
}

/// A zone in which nothing may be cut.
pub struct NoCut<'a> {
    /// Its id.
    pub id: &'a str,
    /// Why.
    pub because: &'a str,
    /// Its outline, panel axes.
    pub contour: &'a Contour,
}

/// Zones and flanges of a sheet in which nothing may be cut.
pub fn zones(panel: &Panel, sheet: usize) -> impl Iterator<Item = NoCut<'_>> {
    let on = move |p: &&Part| p.class == Class::Zone && p.sheet as usize == sheet;
    panel.subjects.iter().flat_map(move |s| {
        s.parts.iter().filter(on).filter_map(|p| match &p.detail {
            Detail::Zone { forbids, because } if forbids.cut => {
                Some(NoCut { id: &s.id, because, contour: &p.contour })
            }
            _ => None,
        })
    })
}

/// Paper under a text, so that it reads on a line.
fn patch(item: &Item) -> Option<Item> {
    let Shape::Text(t) = &item.shape else { return None };
    let b = whole(text::bounds(t), t.height).inflate(0.3, 0.1);
    let shape = Shape::Path(Contour::rect(b.center(), b.width(), b.height(), 0.0));
    Some(Item::filled(Layer::Text, shape, Ink::WHITE))
}
