//! What a proposal changes, seen from the front: the new panel with the metal that is cut and that is to be filled, what
//! stays as it is, and the old outlines and items in broken lines where they were.
//!
//! Scaled, never to cut from. Hatchings, line weights and words say all; there is no colour.

use super::front_view::{Fitted, Over, bar, cautions, face, overlaid};
use super::template::column::{Block, Piece, flow};
use super::template::placer::{Label, Reach};
use super::template::shape::scaled;
use super::template::words::{fitted, short_hash, trimmed};
use super::template::{Standing, TemplateOptions};
use super::{Anchor, Dash, Drawing, Entry, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, Weight};
use crate::check::Finding;
use crate::compare::{Changed, Difference, Fate, on_one_datum};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Point, SLACK, Vec2, length};
use crate::panel::{Panel, SheetRole, Subject, SubjectKind};

/// Most cuts, openings and items listed.
const LISTED: usize = 8;
/// How far a sheet's outline as polygon may be off where two are compared, mm.
const FINE: f64 = 0.01;
/// Slivers between two outlines that run along one another, mm2.
const SLIVER: f64 = 0.5;
/// Letter height of the key, mm.
const KEY: f64 = 2.0;

/// How metal that changes is drawn.
#[derive(Clone, Copy)]
enum Metal {
    /// It goes.
    Cut,
    /// It is to come, or to be covered.
    Fill,
}

/// The new panel with what differs from the old one; `findings` are of the new one.
pub fn compared(old: &Panel, new: &Panel, findings: &[Finding], d: &Difference) -> Drawing {
    let (_, moved) = on_one_datum(old, new);
    let new = moved.as_ref();
    let blocks = vec![standing(old, new, findings), changes(old, new, d), cuts(d), openings(d), cautions()];
    let tall = |inner: f64| flow(&blocks, 0.0, 0.0, inner, Layer::Text).1;
    let page = Fitted::both([old, new], tall);
    let scale = 1.0 / page.ratio;
    let view = View { old, new, d, scale, shift: page.shift };
    let margin = page.room.x0;
    let (width, height) = page.size;
    let inner = width - 2.0 * margin;
    let mut items = overlaid(new, &page, view.over());
    let title = format!(
        "{}: what changes from {}, scale 1:{}, not to cut from",
        new.name,
        old.name,
        trimmed(page.ratio, 1)
    );
    let letters = fitted(&title, 4.5, Weight::Bold, inner);
    let at = Point::new(margin, height - margin - letters);
    items.push(Item::text(Layer::Frame, Text::new(at, letters, Anchor::LEFT, title.clone()).bold()));
    let top = page.room.y0 - 12.0;
    items.extend(view.key(margin, top + 4.0));
    items.extend(bar(width - margin, top + 5.0, scale));
    items.extend(flow(&blocks, margin, top, inner, Layer::Text).0);
    let page = Page {
        name: "what changes".into(),
        width,
        height,
        items: items.into_iter().map(Entry::Item).collect(),
    };
    let meta = vec![
        ("from".to_owned(), old.name.clone()),
        ("from-inputs".to_owned(), old.hash.clone()),
        ("panel".to_owned(), new.name.clone()),
        ("inputs".to_owned(), new.hash.clone()),
    ];
    let units = if new.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    Drawing { title, pages: vec![page], meta, units }
}

/// Two panels on paper.
struct View<'a> {
    old: &'a Panel,
    new: &'a Panel,
    d: &'a Difference,
    scale: f64,
    shift: Vec2,
}

impl View<'_> {
    fn small(&self, c: &Contour) -> Contour {
        scaled(c, self.scale, self.shift)
    }

    fn point(&self, p: Point) -> Point {
        Point::ORIGIN + p.to_vec2() * self.scale + self.shift
    }

    fn over(&self) -> Over {
        let mut over = Over::default();
        let mut metal = |outlines: &[Contour], what: Metal| {
            let all: Vec<Contour> = outlines.iter().map(|c| self.small(c)).collect();
            over.under.extend(hatched(&all, what));
        };
        for c in &self.d.openings.cut {
            metal(&c.metal, Metal::Cut);
        }
        for w in &self.d.openings.old {
            metal(&w.gap, Metal::Fill);
        }
        for (less, more) in self.d.sheets.iter().filter_map(|s| sheet(&s.outline)) {
            metal(&less, Metal::Cut);
            metal(&more, Metal::Fill);
        }
        for s in self.d.sheets.iter().filter(|s| s.reshaped()) {
            over.lines.extend(s.outline[0].iter().map(|c| self.was(c, 0.35)));
        }
        for w in &self.d.openings.old {
            let c = self.small(&w.outline);
            let stroke = match w.fate {
                Fate::Used => Stroke::solid(0.5),
                _ => Stroke::solid(0.18).dash(Dash::DoubleChain),
            };
            over.lines.push(Item::stroked(Layer::Dimension, Shape::contour(&c), stroke));
        }
        for id in &self.d.removed {
            let Some(s) = find(self.old, id).filter(|s| is_item(s)) else { continue };
            let Some(c) = face(s).and_then(|k| s.parts.get(k)).map(|p| &p.contour) else { continue };
            over.lines.push(self.was(c, 0.25));
            let small = self.small(c);
            let lines = vec![(id.clone(), 1.8, Weight::Regular), ("goes".into(), 1.6, Weight::Bold)];
            let b = small.bounds();
            let reach = Reach::Box(Vec2::new(b.width(), b.height()) / 2.0);
            over.labels.push(Label { lines, anchor: b.center(), reach, inside: false, subject: id.clone() });
        }
        for id in self.d.added.iter().filter(|id| find(self.new, id).is_some_and(is_item)) {
            over.notes.insert(id.clone(), "comes".into());
        }
        for c in self.d.changed.iter().filter(|c| find(self.new, &c.id).is_some_and(is_item)) {
            over.notes.insert(c.id.clone(), note(c));
            over.lines.extend(self.moved(c));
        }
        over
    }

    /// Where something was.
    fn was(&self, c: &Contour, width: f64) -> Item {
        let line = Stroke::solid(width).dash(Dash::DoubleChain).ink(Ink(90));
        Item::stroked(Layer::Dimension, Shape::contour(&self.small(c)), line)
    }

    /// The old place of what moved, with an arrow from there.
    fn moved(&self, c: &Changed) -> Vec<Item> {
        let (Some(was), Some(now)) = (find(self.old, &c.id), find(self.new, &c.id)) else {
            return Vec::new();
        };
        let part = |s: &Subject| face(s).and_then(|k| s.parts.get(k)).map(|p| p.contour.clone());
        let mut out: Vec<Item> = part(was).iter().map(|c| self.was(c, 0.25)).collect();
        let (a, b) = (self.point(was.at), self.point(now.at));
        let along = b - a;
        let far = length(along);
        if far > 1.5 {
            let u = along / far;
            let across = Vec2::new(-u.y, u.x) * 0.6;
            let back = b - u * 2.2;
            let tip = Contour::polygon(&[b, back + across, back - across]);
            out.push(Item::stroked(Layer::Dimension, Shape::line(a, back), Stroke::solid(0.25)));
            out.push(Item::filled(Layer::Dimension, Shape::Path(tip), Ink::BLACK));
        }
        out
    }

    /// What the hatchings and lines mean, from left to right.
    fn key(&self, left: f64, y: f64) -> Vec<Item> {
        let open = &self.d.openings;
        let mm2 = |v: f64| format!("{} mm2", trimmed(v, 0));
        let used = open.old.iter().filter(|w| w.fate == Fate::Used).count();
        let gaps: Vec<f64> = open.old.iter().filter(|w| w.open > 0.0).map(|w| w.open).collect();
        let cut: f64 = open.cut.iter().map(|c| c.area).sum();
        let swatches = [
            (Some(Metal::Cut), Stroke::solid(0.13), format!("{} to cut, {}", open.cut.len(), mm2(cut))),
            (
                Some(Metal::Fill),
                Stroke::solid(0.13),
                format!("{} to fill or cover, {}", gaps.len(), mm2(gaps.iter().sum())),
            ),
            (None, Stroke::solid(0.5), format!("{used} kept")),
            (None, Stroke::solid(0.25).dash(Dash::DoubleChain), "as it was".into()),
        ];
        let mut out = Vec::new();
        let mut x = left;
        for (metal, stroke, words) in swatches {
            let c = Contour::rect(Point::new(x + 5.0, y + 2.0), 10.0, 4.5, 0.0);
            out.extend(metal.into_iter().flat_map(|m| hatched(std::slice::from_ref(&c), m)));
            out.push(Item::stroked(Layer::Frame, Shape::Path(c), stroke));
            let wide = super::text::width(&words, KEY, Weight::Regular);
            let t = Text::new(Point::new(x + 12.0, y + 1.2), KEY, Anchor::LEFT, words);
            out.push(Item::text(Layer::Frame, t));
            x += wide + 18.0;
        }
        out
    }
}

/// An item of a panel; sheets are told apart from items.
fn find<'a>(panel: &'a Panel, id: &str) -> Option<&'a Subject> {
    panel.subjects.iter().find(|s| s.kind != SubjectKind::Sheet && s.id == id)
}

/// Whether it is an item of its own: what becomes of old openings is told of them, and labels go with what they name.
fn is_item(s: &Subject) -> bool {
    matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert)
}

/// Outlines hatched as metal that changes.
fn hatched(outlines: &[Contour], what: Metal) -> Vec<Item> {
    if outlines.is_empty() {
        return Vec::new();
    }
    let (spacing, turns, ink): (f64, &[f64], u8) = match what {
        Metal::Cut => (1.1, &[45.0], 60),
        Metal::Fill => (1.6, &[0.0, 90.0], 120),
    };
    let hatch = |angle: &f64| {
        let shape = Shape::Hatch { contours: outlines.to_vec(), spacing, angle: *angle };
        Item::stroked(Layer::Hatch, shape, Stroke::solid(0.1).ink(Ink(ink)))
    };
    let border = |c: &Contour| Item::stroked(Layer::Hatch, Shape::contour(c), Stroke::solid(0.13));
    turns.iter().map(hatch).chain(outlines.iter().map(border)).collect()
}

/// What a sheet loses and gains along its outline; `None` where one panel has no such sheet.
fn sheet(outline: &[Option<Contour>; 2]) -> Option<(Vec<Contour>, Vec<Contour>)> {
    let [Some(was), Some(now)] = outline else { return None };
    let [was, now] = [was, now].map(|c| Area::of(&[polygon(c, Bound::Within, FINE)]));
    Some((was.without(&now).contours(SLIVER), now.without(&was).contours(SLIVER)))
}

/// What is written under the name of an item that changed.
fn note(c: &Changed) -> String {
    let mut said = Vec::new();
    if c.instrument.is_some() {
        said.push("another instrument".to_owned());
    }
    if length(c.moved) > SLACK {
        said.push(format!("moved {}, {}", trimmed(c.moved.x, 1), trimmed(c.moved.y, 1)));
    }
    if c.turned.abs() > SLACK {
        said.push(format!("turned {}", trimmed(c.turned, 1)));
    }
    if c.mirrored {
        said.push("mirrored".into());
    }
    if c.resized {
        said.push("other sizes".into());
    }
    if !c.numbers.is_empty() {
        said.push(format!("other numbers of its own: {}", c.numbers.join(", ")));
    }
    said.join("; ")
}

/// Standing of the new panel, and how to read the view.
fn standing(old: &Panel, new: &Panel, findings: &[Finding]) -> Block {
    let mut b = Vec::new();
    if let Some(notice) = Standing::of(new, findings, &TemplateOptions::default()).notice() {
        b.push(Piece::head(notice));
    }
    b.push(Piece::words(format!("from {}, inputs {}", old.name, short_hash(old))));
    b.push(Piece::words(format!("to {}, inputs {}", new.name, short_hash(new))));
    b.push(Piece::words(
        "bezels solid and openings dashed as proposed; openings that are used again heavy; dash and two dots: where \
         outlines, openings and items were; arrows from the old place to the new one",
    ));
    if new.sheets.iter().any(|s| s.new && s.role == SheetRole::Main) {
        b.push(Piece::words(
            "the sheet is new: openings of the old one are not told, all of it is to be cut",
        ));
    }
    b
}

/// Verdicts and items that changed, counted.
fn changes(old: &Panel, new: &Panel, d: &Difference) -> Block {
    let worse: Vec<String> = d.verdicts.iter().filter(|v| v.worse()).map(|v| v.id.clone()).collect();
    let mut b = Vec::new();
    if !worse.is_empty() {
        b.push(Piece::head(format!("{} verdicts got worse", worse.len())));
        list(worse, &mut b);
    }
    if let Some(by) = d.datum {
        let [x, y] = [by.x, by.y].map(|v| trimmed(v, 2));
        b.push(Piece::words(format!("drawn from the old datum: the new one's is shifted, {x}, {y} mm")));
    }
    let changed: Vec<String> = d.changed.iter().map(|c| c.id.clone()).collect();
    let mut others = 0;
    for (what, panel, ids) in [("come", new, &d.added), ("go", old, &d.removed), ("changed", new, &changed)] {
        let (items, rest): (Vec<&String>, Vec<&String>) =
            ids.iter().partition(|id| find(panel, id).is_some_and(is_item));
        others += rest.len();
        if !items.is_empty() {
            b.push(Piece::head(format!("{} {what}", items.len())));
            b.push(Piece::words(items.into_iter().map(String::as_str).collect::<Vec<_>>().join(", ")));
        }
    }
    if others > 0 {
        let words =
            format!("and {others} labels, openings, zones, lines and parts of the airframe, in the text");
        b.push(Piece::words(words));
    }
    b
}

/// What is cut.
fn cuts(d: &Difference) -> Block {
    if d.openings.cut.is_empty() {
        return Vec::new();
    }
    let mut b = vec![Piece::head("To cut")];
    let each = d.openings.cut.iter().map(|c| {
        format!("{}: {} mm2 of metal, {} mm to cut", c.name, trimmed(c.area, 0), trimmed(c.length, 0))
    });
    list(each.collect(), &mut b);
    b
}

/// What stays open.
fn openings(d: &Difference) -> Block {
    let open: Vec<String> = d
        .openings
        .old
        .iter()
        .filter(|w| w.open > 0.0)
        .map(|w| format!("{}: {} mm2", w.name, trimmed(w.open, 0)))
        .collect();
    if open.is_empty() {
        return Vec::new();
    }
    let mut b = vec![Piece::head("To fill or cover")];
    list(open, &mut b);
    b
}

fn list(all: Vec<String>, b: &mut Block) {
    let more = all.len().saturating_sub(LISTED);
    b.extend(all.into_iter().take(LISTED).map(Piece::words));
    if more > 0 {
        b.push(Piece::words(format!("and {more} more in the text")));
    }
}
