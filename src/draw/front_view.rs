//! The front of a panel on one page: bezels, openings, names and verdicts, to look at and to talk over.
//!
//! Scaled, never to cut from. Verdicts show as word, hatching and line weight, so that a grey print says all
//! that a screen does.

mod bands;
mod over;
mod says;

pub(in crate::draw) use over::{Fitted, Over, bar, overlaid};
pub(in crate::draw) use says::cautions;

use over::FIRST;

use super::template::column::flow;
use super::template::placer::{Label, Placer, Reach, whole};
use super::template::shape::scaled;
use super::template::words::{fitted, trimmed};
use super::template::{count, count_words};
use super::{Anchor, Dash, Drawing, Entry, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, Weight, text};
use crate::check::{Counts, Finding, Verdict};
use crate::geom::{Contour, Point, Rect, Vec2, length};
use crate::panel::{Class, Detail, Panel, SheetRole, State, Subject, SubjectKind};

/// Page: A4 lying, ISO 216, mm.
const PAGE: (f64, f64) = (297.0, 210.0);
/// Page of a large panel: A3 lying, ISO 216, mm.
const LARGE_PAGE: (f64, f64) = (420.0, 297.0);
/// What is wider, mm, is large: on A4 it would be drawn below 1:2.5 and its names crowd.
const LARGE: f64 = 650.0;
/// Paper left white, mm.
const MARGIN: f64 = 10.0;
/// Room for labels around the panel, mm.
const AROUND: f64 = 7.0;
/// Height of the view to lay out, in widths, at most: an item far off makes it small and never too tall to be drawn.
const TALLEST: f64 = 10.0;
/// How a verdict is drawn: line weight in mm; spacing in mm and directions in degrees of its hatching.
fn looks(verdict: Verdict) -> (f64, f64, &'static [f64]) {
    match verdict {
        Verdict::Fail => (0.9, 1.5, &[45.0, 135.0]),
        Verdict::Withheld => (0.6, 2.2, &[0.0]),
        Verdict::Tight => (0.6, 2.2, &[45.0]),
        Verdict::Pass => (0.3, 0.0, &[]),
    }
}

/// What a front view may leave out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shows {
    /// Where the airframe and the sweeps of controls begin behind the sheet.
    pub bands: bool,
}

/// The front view of a panel with what its findings say, and its keep-out bands.
pub fn front_view(panel: &Panel, findings: &[Finding]) -> Drawing {
    front_view_of(panel, findings, Shows { bands: true })
}

/// The front view with what is asked for.
pub fn front_view_of(panel: &Panel, findings: &[Finding], shows: Shows) -> Drawing {
    let blocks = vec![says::words(panel, findings, shows), says::listed(panel, findings), cautions()];
    let tall = |inner: f64| flow(&blocks, 0.0, 0.0, inner, Layer::Text).1;
    let Fitted { size, room, ratio, shift } = Fitted::of(panel, tall);
    let inner = size.0 - 2.0 * MARGIN;
    let tall = tall(inner).min(80.0);
    let scale = 1.0 / ratio;
    let view = View { panel, scale, shift, worst: worst(panel, findings), shows };
    let mut items = view.draw(room, Over::default());
    let title = format!("{}: front view, scale 1:{}, not to cut from", panel.name, trimmed(ratio, 1));
    let height = fitted(&title, 4.5, Weight::Bold, inner);
    let at = Point::new(MARGIN, size.1 - MARGIN - height);
    items.push(Item::text(Layer::Frame, Text::new(at, height, Anchor::LEFT, title.clone()).bold()));
    items.extend(legend(&count(findings), (MARGIN, size.0 - MARGIN), MARGIN + tall + 5.0, scale));
    items.extend(flow(&blocks, MARGIN, MARGIN + tall, inner, Layer::Text).0);
    let page = Page {
        name: "front view".into(),
        width: size.0,
        height: size.1,
        items: items.into_iter().map(Entry::Item).collect(),
    };
    let meta = vec![
        ("panel".to_owned(), panel.name.clone()),
        ("inputs".to_owned(), panel.hash.clone()),
        ("verdicts".to_owned(), count_words(&count(findings))),
    ];
    let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    Drawing { title, pages: vec![page], meta, units }
}

/// The view alone, for a page of somebody else's: names, verdicts, legend, no words around. Its page is as wide as
/// `most.0` mm and as high as the view needs, at most `most.1` mm.
pub fn figure(panel: &Panel, findings: &[Finding], most: (f64, f64)) -> Drawing {
    let bounds = bounds(panel);
    // the legend below, and names that found no room
    let under = 12.0;
    let fit =
        ((most.0 - 2.0 * AROUND) / bounds.width()).min((most.1 - under - 2.0 * AROUND) / bounds.height());
    let ratio = ((10.0 / fit).ceil() / 10.0).max(1.0);
    let scale = 1.0 / ratio;
    let height = bounds.height() * scale + 2.0 * AROUND + under;
    let room = Rect::new(0.0, under, most.0, height);
    let shift = room.center().to_vec2() - bounds.center().to_vec2() * scale;
    let shows = Shows { bands: false };
    let view = View { panel, scale, shift, worst: worst(panel, findings), shows };
    let mut items = view.draw(room, Over::default());
    items.extend(legend(&count(findings), (1.0, most.0 - 4.0), 2.0, scale));
    let page = Page {
        name: "front view".into(),
        width: most.0,
        height,
        items: items.into_iter().map(Entry::Item).collect(),
    };
    let title = format!("{}: front view, scale 1:{}, not to cut from", panel.name, trimmed(ratio, 1));
    let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    Drawing { title, pages: vec![page], meta: Vec::new(), units }
}

/// The view alone, as wide as the panel needs and `wide` mm at most, with how panel coordinates become its own: multiplied
/// by the first number, moved on by the vector. What a hand takes hold of on a screen.
pub fn to_lay_out(panel: &Panel, findings: &[Finding], wide: f64) -> (Drawing, f64, Vec2) {
    let bounds = bounds(panel);
    let around = 2.0 * AROUND;
    let tall = (TALLEST * wide - 2.0 * around) / bounds.height();
    let scale = ((wide - 2.0 * around) / bounds.width()).min(tall).min(1.0);
    let (width, height) = (bounds.width() * scale + 2.0 * around, bounds.height() * scale + 2.0 * around);
    let room = Rect::new(0.0, 0.0, width, height);
    let shift = room.center().to_vec2() - bounds.center().to_vec2() * scale;
    let shows = Shows { bands: true };
    let view = View { panel, scale, shift, worst: worst(panel, findings), shows };
    let mut items = view.draw(room, Over::default());
    text::drawable(&mut items);
    let items = items.into_iter().map(Entry::Item).collect();
    let page = Page { name: "front view".into(), width, height, items };
    let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    (Drawing { title: panel.name.clone(), pages: vec![page], meta: Vec::new(), units }, scale, shift)
}

/// Box of everything that is drawn.
fn bounds(panel: &Panel) -> Rect {
    let sheets = panel.sheets.iter().map(|s| s.outline.bounds());
    let faces = panel
        .subjects
        .iter()
        .filter(|s| s.kind == SubjectKind::Placement)
        .flat_map(|s| s.parts.iter().filter(|p| p.class == Class::Bezel))
        .map(|p| p.contour.bounds());
    sheets
        .chain(faces)
        .reduce(|a, b| a.union(b))
        .filter(|r| r.area() > 0.0)
        .unwrap_or(Rect::new(0.0, 0.0, 100.0, 100.0))
}

/// Worst verdict of each subject, and how many findings have it.
fn worst(panel: &Panel, findings: &[Finding]) -> Vec<(Verdict, usize)> {
    let mut found = vec![(Verdict::Pass, 0); panel.subjects.len()];
    for f in findings {
        let other = f.b.map(|b| b.subject).filter(|b| *b != f.a.subject);
        for k in std::iter::once(f.a.subject).chain(other) {
            if let Some(w) = found.get_mut(k as usize) {
                if f.verdict < w.0 {
                    *w = (f.verdict, 1);
                } else if f.verdict == w.0 {
                    w.1 += 1;
                }
            }
        }
    }
    found
}

struct View<'a> {
    panel: &'a Panel,
    scale: f64,
    shift: Vec2,
    worst: Vec<(Verdict, usize)>,
    shows: Shows,
}

impl View<'_> {
    fn small(&self, c: &Contour) -> Contour {
        scaled(c, self.scale, self.shift)
    }

    fn draw(&self, room: Rect, over: Over) -> Vec<Item> {
        let (mut under, mut lines) = (over.under, Vec::new());
        let mut placer = Placer::new(room);
        let figures = |i: &&Item| matches!(i.shape, Shape::Text(_));
        placer.block_items(&over.lines.iter().filter(figures).cloned().collect::<Vec<_>>());
        let mut labels: Vec<(u8, Label)> = over.labels.into_iter().map(|l| (FIRST, l)).collect();
        for s in &self.panel.sheets {
            let stroke = match s.role {
                SheetRole::Main | SheetRole::Floating => Stroke::solid(0.5),
                SheetRole::Insert => Stroke::solid(0.35),
                SheetRole::Structural | SheetRole::Doubler | SheetRole::Overlay => {
                    Stroke::solid(0.13).dash(Dash::DoubleChain).ink(Ink(110))
                }
            };
            let c = self.small(&s.outline);
            lines.push(Item::stroked(Layer::Outline, Shape::contour(&c), stroke).of(s.id.clone()));
            placer.line(c);
        }
        for (k, s) in self.panel.subjects.iter().enumerate() {
            let verdict = self.worst.get(k).copied().unwrap_or((Verdict::Pass, 0));
            self.subject(s, verdict.0, &mut under, &mut lines, &mut placer);
            labels.extend(self.label(s, verdict, over.notes.get(&s.id)));
        }
        if self.shows.bands {
            let (bands, names) = bands::bands(self.panel, self.scale, self.shift, room);
            lines.extend(bands);
            labels.extend(names.into_iter().map(|l| (3, l)));
        }
        lines.extend(over.lines);
        // names that stand inside their own face have the least choice; what is no item comes last
        let first = labels.iter().take_while(|(rank, _)| *rank == FIRST).count();
        if let Some(rest) = labels.get_mut(first..) {
            rest.sort_by_key(|(rank, l)| (*rank, !l.inside));
        }
        placer.block_items(
            &under.iter().filter(|i: &&Item| matches!(i.shape, Shape::Text(_))).cloned().collect::<Vec<_>>(),
        );
        let (mut names, mut homeless) = (Vec::new(), Vec::new());
        for (_, label) in labels {
            let short = label.short();
            match placer.place(label).or_else(|l| short.map_or(Err(l), |s| placer.place(s))) {
                Ok(items) => {
                    names.extend(items.iter().filter_map(patch));
                    names.extend(items);
                }
                Err(l) => homeless.push(l.subject),
            }
        }
        if !homeless.is_empty() {
            let words = format!("no room for the names of: {}", homeless.join(", "));
            let height = fitted(&words, 1.6, Weight::Regular, room.width());
            let at = Point::new(room.x0, room.y0 - 1.9);
            names.push(Item::text(Layer::Text, Text::new(at, height, Anchor::LEFT, words)));
        }
        under.into_iter().chain(lines).chain(names).collect()
    }

    /// Shapes of one subject.
    fn subject(
        &self,
        s: &Subject,
        verdict: Verdict,
        under: &mut Vec<Item>,
        lines: &mut Vec<Item>,
        placer: &mut Placer,
    ) {
        let face = face(s);
        for (k, p) in s.parts.iter().enumerate() {
            let c = self.small(&p.contour);
            let shape = Shape::contour(&c);
            let (weight, spacing, turns) = looks(verdict);
            let is_face = face == Some(k);
            let stroke = match (p.class, &p.detail) {
                (Class::Zone, _) => {
                    let hatch = Shape::Hatch { contours: vec![c.clone()], spacing: 4.0, angle: 60.0 };
                    under.push(
                        Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.1).ink(Ink::LIGHT))
                            .of(s.id.clone()),
                    );
                    Stroke::solid(0.13).dash(Dash::Chain).ink(Ink::GREY)
                }
                (Class::Label, Detail::Label { text: words, height, .. }) => {
                    let height = height * self.scale;
                    let t = Text::new(c.bounds().center(), height, Anchor::CENTRE, words.clone());
                    for t in text::lines(&t.turned(s.turn)).into_iter().filter(|_| height >= 0.5) {
                        let mut i = Item::text(Layer::Engrave, t);
                        i.fill = Some(Ink(90));
                        under.push(i.of(s.id.clone()));
                    }
                    continue;
                }
                (_, _) if is_face => {
                    let solid = if s.state == State::Existing && p.class != Class::Bezel {
                        Stroke::solid(weight.min(0.6)).dash(Dash::Dashed)
                    } else if s.provision {
                        Stroke::solid(weight.min(0.6)).dash(Dash::DoubleChain)
                    } else {
                        Stroke::solid(weight)
                    };
                    for angle in turns {
                        let hatch = Shape::Hatch { contours: vec![c.clone()], spacing, angle: *angle };
                        under.push(
                            Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.1).ink(Ink(120)))
                                .of(s.id.clone()),
                        );
                    }
                    placer.face(c.clone());
                    solid
                }
                (Class::Cutout | Class::Hole | Class::OldOpening, _) => {
                    Stroke::solid(0.13).dash(Dash::Dashed)
                }
                (Class::Front, _) => Stroke::solid(0.18),
                _ => continue,
            };
            lines.push(Item::stroked(Layer::Outline, shape, stroke).of(s.id.clone()));
        }
    }

    /// Name and verdict of one subject.
    fn label(
        &self,
        s: &Subject,
        (verdict, count): (Verdict, usize),
        note: Option<&String>,
    ) -> Option<(u8, Label)> {
        let rank = match s.kind {
            SubjectKind::Sheet
            | SubjectKind::Label
            | SubjectKind::Obstacle
            | SubjectKind::Control
            | SubjectKind::Line => return None,
            // the units of a stack stand before its frame
            SubjectKind::Placement if !s.units.is_empty() => 1,
            SubjectKind::Placement | SubjectKind::Unit => 0,
            SubjectKind::Insert | SubjectKind::OldOpening => 1,
            SubjectKind::Zone => 2,
        };
        let k = face(s)?;
        let c = self.small(&s.parts.get(k)?.contour);
        let b = c.bounds();
        let (height, weight) = if rank == 0 { (1.8, Weight::Bold) } else { (1.5, Weight::Regular) };
        let mut lines = vec![(s.id.clone(), height, weight)];
        if s.provision {
            lines.push(("provision".into(), 1.6, Weight::Regular));
        }
        lines.extend(note.map(|n| (n.clone(), 1.6, Weight::Bold)));
        if verdict != Verdict::Pass {
            lines.push((format!("{} {count}", verdict.word().to_uppercase()), 1.6, Weight::Bold));
        }
        let wide = lines.iter().map(|(w, h, b)| text::width(w, *h, *b)).fold(0.0, f64::max) + 2.0;
        let tall = lines.iter().map(|(_, h, _)| h * 1.6).sum::<f64>() + 1.0;
        let inside = match c.as_circle() {
            Some((_, r)) => length(Vec2::new(wide, tall)) < 2.0 * r,
            None => wide < b.width() && tall < b.height(),
        };
        let reach = match c.as_circle() {
            Some((_, r)) => Reach::Round(r),
            None => Reach::Box(Vec2::new(b.width(), b.height()) / 2.0),
        };
        Some((rank, Label { lines, anchor: b.center(), reach, inside, subject: s.id.clone() }))
    }
}

/// Paper under a text, so that it reads on a hatching.
pub(in crate::draw) fn patch(item: &Item) -> Option<Item> {
    let Shape::Text(t) = &item.shape else { return None };
    let b = whole(text::bounds(t), t.height).inflate(0.4, 0.2);
    let shape = Shape::Path(Contour::rect(b.center(), b.width(), b.height(), 0.0));
    Some(Item::filled(Layer::Text, shape, Ink::WHITE))
}

/// The part that stands for a subject when seen from the front: its largest bezel, else its largest opening
/// or zone, else the room kept free for it.
pub(in crate::draw) fn face(s: &Subject) -> Option<usize> {
    let largest = |classes: &[Class]| {
        s.parts
            .iter()
            .enumerate()
            .filter(|(_, p)| classes.contains(&p.class))
            .max_by(|a, b| a.1.contour.area().total_cmp(&b.1.contour.area()))
            .map(|(k, _)| k)
    };
    largest(&[Class::Bezel])
        .or_else(|| largest(&[Class::Cutout, Class::Hole, Class::OldOpening]))
        .or_else(|| largest(&[Class::Zone]))
        .or_else(|| largest(&[Class::Provision]))
}

/// What the hatchings mean, with the counts, and a bar at the view's scale, from left to right.
fn legend(counts: &Counts, (left, right): (f64, f64), y: f64, scale: f64) -> Vec<Item> {
    let mut items = Vec::new();
    let mut x = left;
    for (verdict, n) in [
        (Verdict::Fail, counts.fail),
        (Verdict::Withheld, counts.withheld),
        (Verdict::Tight, counts.tight),
        (Verdict::Pass, counts.pass),
    ] {
        let (weight, spacing, turns) = looks(verdict);
        let c = Contour::rect(Point::new(x + 5.0, y + 2.0), 10.0, 5.0, 0.8);
        for angle in turns {
            let hatch = Shape::Hatch { contours: vec![c.clone()], spacing, angle: *angle };
            items.push(Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.1).ink(Ink(120))));
        }
        items.push(Item::stroked(Layer::Frame, Shape::Path(c), Stroke::solid(weight)));
        let words = format!("{n} {}", verdict.word());
        items.push(Item::text(
            Layer::Frame,
            Text::new(Point::new(x + 12.0, y + 1.0), 2.2, Anchor::LEFT, words),
        ));
        x += 36.0;
    }
    items.extend(bar(right, y, scale));
    items
}
