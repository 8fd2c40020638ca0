//! A small picture of one instrument: its front, and its side with what stands before and behind the sheet.

use super::template::column::{Piece, flow};
use super::template::shape::scaled;
use super::template::words::{both, mm, trimmed};
use super::{Anchor, Dash, Drawing, Entry, Ink, Item, Layer, Page, Shape, Stroke, Text, Units, Weight};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::panel::{Class, Detail, Part, Subject};

/// Paper left white, mm.
const MARGIN: f64 = 8.0;
/// Largest size of the two views together, mm.
const MOST: (f64, f64) = (170.0, 90.0);
/// Paper between the two views, mm.
const BETWEEN: f64 = 14.0;

/// The picture of an instrument that stands somewhere on a panel (or alone). Scaled, not to cut from.
pub fn picture(subject: &Subject) -> Drawing {
    let flat: Vec<&Part> = subject.parts.iter().filter(|p| line(p.class).is_some()).collect();
    let front = flat.iter().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b));
    let front = front.unwrap_or(Rect::from_center_size(subject.at, (10.0, 10.0)));
    let depths = flat.iter().filter_map(|p| p.depth);
    let (near, far) = depths.fold((-5.0_f64, 15.0_f64), |(a, b), d| (a.min(d.0), b.max(d.1)));
    let fit = ((MOST.0 - BETWEEN) / (front.width() + far - near)).min(MOST.1 / front.height());
    let ratio = ((10.0 / fit).ceil() / 10.0).max(1.0);
    let scale = 1.0 / ratio;
    let blocks = [words(subject)];
    let tall_words = flow(&blocks, 0.0, 0.0, MOST.0, Layer::Text).1;
    let base = MARGIN + tall_words + 10.0;
    let width = MOST.0 + 2.0 * MARGIN;
    let height = base + front.height() * scale + 14.0 + MARGIN;
    let mut items = Vec::new();
    let shift = Vec2::new(MARGIN, base) - front.origin().to_vec2() * scale;
    for p in &flat {
        if let Some(stroke) = line(p.class) {
            items.push(Item::stroked(
                Layer::Outline,
                Shape::contour(&scaled(&p.contour, scale, shift)),
                stroke,
            ));
        }
    }
    let side = MARGIN + front.width() * scale + BETWEEN - near * scale;
    items.extend(profile(&flat, front, scale, Point::new(side, base)));
    let title = format!("{}, 1:{}", subject.title, trimmed(ratio, 1));
    let at = Point::new(MARGIN, height - MARGIN - 3.5);
    let letters = super::template::words::fitted(&title, 3.5, Weight::Bold, MOST.0);
    items.push(Item::text(Layer::Frame, Text::new(at, letters, Anchor::LEFT, title.clone()).bold()));
    let under = |x: f64, words: &str| {
        Item::text(Layer::Text, Text::new(Point::new(x, base - 6.5), 1.8, Anchor::LEFT, words))
    };
    items.push(under(MARGIN, "front"));
    // under a wide front the side is narrower than its caption
    let caption = "side, pilot at the left, sheet grey";
    let last = width - MARGIN - super::text::width(caption, 1.8, Weight::Regular);
    items.push(under((MARGIN + front.width() * scale + BETWEEN).min(last), caption));
    items.extend(flow(&blocks, MARGIN, MARGIN + tall_words, MOST.0, Layer::Text).0);
    let page =
        Page { name: "picture".into(), width, height, items: items.into_iter().map(Entry::Item).collect() };
    Drawing { title, pages: vec![page], meta: Vec::new(), units: Units::Millimetre }
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
    }
}

/// The side: every part with a depth as its height over its depth range; `at` is the sheet's face, low end.
fn profile(flat: &[&Part], front: Rect, scale: f64, at: Point) -> Vec<Item> {
    let mut items = Vec::new();
    let tall = front.height() * scale;
    let sheet = Contour::rect(Point::new(at.x + scale, at.y + tall / 2.0), 2.0 * scale, tall + 6.0, 0.0);
    items.push(Item::filled(Layer::Outline, Shape::Path(sheet), Ink(190)));
    for p in flat {
        let (Some((from, to)), Some(stroke)) = (p.depth, line(p.class)) else { continue };
        if to <= from {
            continue;
        }
        let b = p.contour.bounds();
        let low = at.y + (b.y0 - front.y0) * scale;
        let middle = Point::new(at.x + (from + to) / 2.0 * scale, low + b.height() * scale / 2.0);
        let solid = matches!(p.class, Class::Body | Class::Case | Class::Bezel | Class::Front);
        let stroke = if solid { Stroke::solid(0.25) } else { stroke };
        let shape = Shape::Path(Contour::rect(middle, (to - from) * scale, b.height() * scale, 0.0));
        items.push(Item::stroked(Layer::Outline, shape, stroke));
    }
    items
}

fn words(s: &Subject) -> Vec<Piece> {
    let mut b = Vec::new();
    let size = |p: &Part| {
        let b = p.contour.bounds();
        match (p.contour.as_circle(), &p.written) {
            (Some((_, r)), Some(w)) => format!("diameter {w} ({} mm)", mm(2.0 * r)),
            (Some((_, r)), None) => format!("diameter {}", both(2.0 * r)),
            (None, Some(w)) => format!("{w} ({} \u{d7} {} mm)", mm(b.width()), mm(b.height())),
            (None, None) => format!("{} by {}", both(b.width()), both(b.height())),
        }
    };
    let mut holes: Vec<(String, usize)> = Vec::new();
    for p in &s.parts {
        match p.class {
            Class::Cutout => b.push(Piece::words(format!("cutout {}", size(p)))),
            Class::Bezel => b.push(Piece::words(format!("bezel {}", size(p)))),
            Class::Hole => {
                let screw = p.fastening().map_or(String::new(), |f| format!(" for {}", f.name));
                let words = format!("hole {}{screw}", size(p));
                match holes.iter_mut().find(|(w, _)| *w == words) {
                    Some((_, n)) => *n += 1,
                    None => holes.push((words, 1)),
                }
            }
            _ => {}
        }
    }
    b.extend(holes.into_iter().map(|(w, n)| Piece::words(if n > 1 { format!("{n} x {w}") } else { w })));
    let deepest = |class: Class| {
        let list: Vec<&Part> = s.parts.iter().filter(|p| p.class == class).collect();
        let known = list.iter().all(|p| {
            p.depth.is_some()
                && !matches!(&p.detail, Detail::Port { terms, .. } if terms.iter().any(|t| t.1.is_none()))
        });
        let d = list.iter().filter_map(|p| p.depth).map(|d| d.1).reduce(f64::max);
        if list.is_empty() { None } else { Some(d.filter(|_| known)) }
    };
    for (class, what) in [(Class::Body, "behind the sheet's face"), (Class::Port, "with plugs and bends")] {
        match deepest(class) {
            Some(Some(d)) => b.push(Piece::words(format!("{} {what}", both(d)))),
            Some(None) => {
                b.push(Piece::words(format!("depth {what}: not given, a check withholds its verdict")))
            }
            None => {}
        }
    }
    if let Some(f) = &s.facts {
        match f.mass {
            Some(kg) => b.push(Piece::words(format!("mass {} kg", trimmed(kg, 3)))),
            None => b.push(Piece::words("mass not given")),
        }
    }
    b
}
