//! The items of a section on paper: hatching, outlines, names, and the least gap with its value.

use super::cut::{Found, Met};
use super::page::About;
use super::section::Cut;
use super::things::{Role, kin};
use crate::draw::front_view::patch;
use crate::draw::template::placer::{Label, Placer, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::{Anchor, Dash, Ink, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::distance::{self, Relation};
use crate::geom::{Contour, Point, Rect, Vec2, length};
use crate::panel::{Class, Detail, Panel};

/// Letter height of names, mm.
const NAME: f64 = 2.0;

/// The section at a scale, and the words of its least gap.
pub fn section(
    about: &About<'_>,
    c: &Cut,
    seen: &Found<'_>,
    scale: f64,
    numbers: &[Item],
) -> (Vec<Item>, Option<String>) {
    let shift = -seen.window.origin().to_vec2() * scale;
    let small = |c: &Contour| scaled(c, scale, shift);
    let room = Rect::new(0.0, 0.0, seen.window.width() * scale, seen.window.height() * scale);
    let mut placer = Placer::new(room);
    placer.block_items(
        &numbers.iter().filter(|i| matches!(i.shape, Shape::Text(_))).cloned().collect::<Vec<_>>(),
    );
    let mut items = Vec::new();
    for (k, list) in &seen.sheets {
        let Some(sheet) = about.panel.sheets.get(*k) else { continue };
        let list: Vec<Contour> = list.iter().map(small).collect();
        items.extend(cut_area(&list, 1.0, 45.0, 0.5, &sheet.id));
        list.into_iter().for_each(|c| placer.line(c));
    }
    for m in &seen.met {
        let list: Vec<Contour> = m.contours.iter().map(small).collect();
        items.extend(one(m, &list, c.upright, scale, about));
        let face = m.cut && m.thing.role == Role::Body;
        list.into_iter().for_each(|c| if face { placer.face(c) } else { placer.line(c) });
    }
    for (name, c) in &seen.extremes {
        let stroke = Stroke::solid(0.25).dash(Dash::Dashed);
        items.push(Item::stroked(Layer::Outline, Shape::contour(&small(c)), stroke).of(name.clone()));
    }
    let mut top = Vec::new();
    let least = least(about, c, seen).map(|gap| {
        let at = |p: Point| (p.to_vec2() * scale + shift).to_point();
        top.extend(gap.items(at, &mut placer, about));
        gap.words(about)
    });
    let mut homeless = Vec::new();
    let small_parts = |m: &&Met<'_>| {
        let head = about.panel.part(m.thing.part).class == Class::Head;
        m.thing.role == Role::Nut || head || (m.thing.role == Role::Front && !m.cut)
    };
    for m in seen.met.iter().filter(|m| !small_parts(m)) {
        let Some(largest) = m.contours.iter().max_by(|a, b| a.area().total_cmp(&b.area())) else { continue };
        let drawn = small(largest);
        let b = drawn.bounds();
        // a bent tube's middle lies beside it
        let (anchor, reach) =
            match (drawn.holds(b.center()), drawn.segments().get(drawn.segments().len() / 3)) {
                (false, Some(s)) => (s.start(), Reach::Round(0.6)),
                _ => (b.center(), Reach::Box(Vec2::new(b.width(), b.height()) / 2.0)),
            };
        let weight = if m.cut { Weight::Bold } else { Weight::Regular };
        let wide = text::width(&m.name, NAME, weight) + 2.0;
        let label = Label {
            lines: vec![(m.name.clone(), NAME, weight)],
            anchor,
            reach,
            inside: wide < b.width() && 2.5 * NAME < b.height(),
            subject: m.name.clone(),
        };
        match placer.place(label) {
            Ok(found) => {
                top.extend(found.iter().filter_map(patch));
                top.extend(found);
            }
            Err(l) => homeless.push(l.subject),
        }
    }
    items.extend(top);
    let least = match (least, homeless.is_empty()) {
        (least, true) => least,
        (least, false) => {
            let names = format!("No room on the view for the names of {}.", homeless.join(", "));
            Some(least.map_or(names.clone(), |l| format!("{l} {names}")))
        }
    };
    (items, least)
}

/// One thing, in or beside the plane.
fn one(m: &Met<'_>, list: &[Contour], upright: bool, scale: f64, about: &About<'_>) -> Vec<Item> {
    if !m.cut {
        let stroke = Stroke::solid(0.18).dash(Dash::DoubleChain).ink(Ink(90));
        let line = |c: &Contour| Item::stroked(Layer::Outline, Shape::contour(c), stroke).of(m.name.clone());
        return list.iter().map(line).collect();
    }
    match m.thing.role {
        Role::Obstacle => cut_area(list, 2.2, 135.0, 0.5, &m.name),
        Role::Control(_) => cut_area(list, 1.6, 135.0, 0.5, &m.name),
        Role::Nut | Role::Line => cut_area(list, 0.8, 135.0, 0.25, &m.name),
        Role::Front => filled(list, Ink::WHITE, 0.35, &m.name),
        Role::Body => filled(list, Ink(228), 0.5, &m.name),
        Role::Port => {
            let mut items = filled(list, Ink(243), 0.25, &m.name);
            items.extend(list.iter().flat_map(|c| terms(m, c, upright, scale, about)));
            items
        }
    }
}

/// An area by the even-odd rule, hatched, with its outlines.
fn cut_area(list: &[Contour], spacing: f64, angle: f64, width: f64, name: &str) -> Vec<Item> {
    let hatch = Shape::Hatch { contours: list.to_vec(), spacing, angle };
    let mut items = vec![Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.13).ink(Ink(70))).of(name)];
    let line = |c: &Contour| Item::stroked(Layer::Outline, Shape::contour(c), Stroke::solid(width)).of(name);
    items.extend(list.iter().map(line));
    items
}

fn filled(list: &[Contour], ink: Ink, width: f64, name: &str) -> Vec<Item> {
    let mut items = Vec::new();
    for c in list {
        let shape = Shape::contour(c);
        items.push(Item::filled(Layer::Hatch, shape.clone(), ink).of(name));
        items.push(Item::stroked(Layer::Outline, shape, Stroke::solid(width)).of(name));
    }
    items
}

/// Lines between the terms of a port that runs straight back: connector, backshell, bend.
fn terms(m: &Met<'_>, c: &Contour, upright: bool, scale: f64, about: &About<'_>) -> Vec<Item> {
    let part = about.panel.part(m.thing.part);
    let (Detail::Port { terms, .. }, Some((from, to))) = (&part.detail, part.depth) else {
        return Vec::new();
    };
    let long: f64 = terms.iter().filter_map(|(_, v)| *v).sum();
    // a run to the side is as deep as it is wide, not as its terms are long
    if (to - from - long).abs() > 0.01 {
        return Vec::new();
    }
    let b = c.bounds();
    let mut at = 0.0;
    let mut items = Vec::new();
    for (_, v) in terms.iter().take(terms.len().saturating_sub(1)) {
        at += v.unwrap_or(0.0) * scale;
        let (p, q) = if upright {
            (Point::new(b.x0 + at, b.y0), Point::new(b.x0 + at, b.y1))
        } else {
            (Point::new(b.x0, b.y0 + at), Point::new(b.x1, b.y0 + at))
        };
        if b.inflate(1e-6, 1e-6).contains(p) && b.inflate(1e-6, 1e-6).contains(q) {
            let line = Item::stroked(Layer::Outline, Shape::line(p, q), Stroke::solid(0.18));
            items.push(line.of(m.name.clone()));
        }
    }
    items
}

/// The least gap of a plane.
struct Least {
    names: [String; 2],
    distance: f64,
    meets: bool,
    at: [Point; 2],
}

/// Of the item that is cut to everything else; without one, between any two things of which one is an item's or a
/// control's.
fn least(about: &About<'_>, c: &Cut, seen: &Found<'_>) -> Option<Least> {
    let mut best: Option<Least> = None;
    let cut: Vec<&Met<'_>> = seen.met.iter().filter(|m| m.cut && m.thing.role != Role::Nut).collect();
    let own = |m: &Met<'_>| c.subject.is_some_and(|k| kin(about.panel, k as u32, m.thing.part.subject));
    let moves =
        |m: &Met<'_>| matches!(m.thing.role, Role::Body | Role::Port | Role::Front | Role::Control(_));
    for (k, a) in cut.iter().enumerate() {
        for b in cut.iter().skip(k + 1) {
            let (i, j) = (a.thing.part.subject, b.thing.part.subject);
            let asked = match c.subject {
                Some(_) => own(a) != own(b),
                None => moves(a) || moves(b),
            };
            if kin(about.panel, i, j) || !asked || exempt(about.panel, a, b) {
                continue;
            }
            for x in &a.contours {
                for y in &b.contours {
                    let gap = distance::contours(x, y);
                    let meets = gap.relation != Relation::Apart;
                    let distance = if meets { 0.0 } else { gap.distance };
                    let nearer =
                        |l: &Least| (meets && !l.meets) || (meets == l.meets && distance < l.distance);
                    if best.as_ref().is_none_or(nearer) {
                        let names = [a.name.clone(), b.name.clone()];
                        best = Some(Least { names, distance, meets, at: gap.at });
                    }
                }
            }
        }
    }
    best
}

/// Whether one passes through or bears in the other, by what the file says.
fn exempt(panel: &Panel, a: &Met<'_>, b: &Met<'_>) -> bool {
    let link = |m: &Met<'_>| match m.thing.role {
        Role::Control(l) => Some(l),
        _ => None,
    };
    let through =
        |x: &Met<'_>, y: &Met<'_>| link(x).is_some_and(|l| panel.space.exempt(l, y.thing.part, link(y)));
    through(a, b) || through(b, a)
}

impl Least {
    fn value(&self, about: &About<'_>) -> String {
        if self.meets { "MEET".into() } else { format!("gap {}", about.print().number(self.distance)) }
    }

    fn words(&self, about: &About<'_>) -> String {
        let [a, b] = &self.names;
        let print = about.print();
        if self.meets {
            format!("IN THIS PLANE {a} AND {b} MEET.")
        } else {
            let value = print.number(self.distance);
            format!("Least gap in this plane: {value} {}, {a} to {b}.", print.unit())
        }
    }

    /// A line with strokes at its ends and its value.
    fn items(&self, at: impl Fn(Point) -> Point, placer: &mut Placer, about: &About<'_>) -> Vec<Item> {
        let [a, b] = self.at.map(at);
        let line =
            |p: Point, q: Point| Item::stroked(Layer::Dimension, Shape::line(p, q), Stroke::solid(0.35));
        let mut items = Vec::new();
        let along = b - a;
        if length(along) > 1e-6 {
            items.push(line(a, b));
        }
        for p in [a, b] {
            let tick = Vec2::new(0.9, 0.9);
            items.push(line(p - tick, p + tick));
        }
        placer.block(Rect::from_points(a, b).inflate(0.5, 0.5));
        let value = self.value(about);
        let label = Label {
            lines: vec![(value.clone(), 2.5, Weight::Bold)],
            anchor: a.midpoint(b),
            reach: Reach::Box(Vec2::new((b.x - a.x).abs() / 2.0 + 1.2, (b.y - a.y).abs() / 2.0 + 1.2)),
            inside: false,
            subject: format!("least gap {}", self.names.join(" to ")),
        };
        match placer.place(label) {
            Ok(found) => {
                items.extend(found.iter().filter_map(patch));
                items.extend(found);
            }
            Err(l) => {
                let t = Text::new(a.midpoint(b) + Vec2::new(1.5, 1.5), 2.5, Anchor::LEFT, value).bold();
                items.push(Item::text(Layer::Dimension, t).of(l.subject));
            }
        }
        items
    }
}
