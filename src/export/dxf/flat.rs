//! A page as a flat list: groups moved into place, windows applied, exact repetitions left out.

use crate::draw::{Dash, Entry, Group, Item, Layer, Page, Shape, hatch};
use crate::export::{ExportError, Fault, number::fixed};
use crate::geom::{Arc, Contour, Line, Point, Rect, SLACK, Segment};
use std::collections::BTreeSet;

/// A shape in page coordinates (never a hatch: that has become lines).
pub struct Placed {
    /// Its layer.
    pub layer: Layer,
    /// Its line pattern.
    pub dash: Dash,
    /// Its line width, mm.
    pub width: f64,
    /// The shape.
    pub shape: Shape,
}

/// Everything that stands on a page.
///
/// # Errors
/// See [`super::write`].
pub fn page(page: &Page) -> Result<Vec<Placed>, ExportError> {
    let mut out = Vec::new();
    let mut faults = Vec::new();
    for entry in &page.items {
        match entry {
            Entry::Item(item) => put(item, None, &mut out, &mut |_| {}),
            Entry::Group(g) if g.scale_x != g.scale_y => {
                let says = format!(
                    "scaled by {} across and {} up to correct a printer: a shop file is written from the uncorrected page",
                    g.scale_x, g.scale_y
                );
                faults.push(Fault { page: page.name.clone(), subject: None, says });
            }
            Entry::Group(g) => {
                for item in g.items.iter() {
                    put(item, Some(g), &mut out, &mut |says| {
                        faults.push(Fault { page: page.name.clone(), subject: item.subject.clone(), says });
                    });
                }
            }
        }
    }
    if !faults.is_empty() {
        return Err(ExportError { faults });
    }
    let mut seen = BTreeSet::new();
    out.retain(|p| seen.insert(key(p)));
    Ok(out)
}

/// Adds an item, moved by its group. Areas without a line are written as their edge unless they are
/// paper-white, which only hides something.
fn put(item: &Item, group: Option<&Group>, out: &mut Vec<Placed>, refuse: &mut dyn FnMut(String)) {
    let (dash, width) = match (item.stroke, item.fill, &item.shape) {
        (_, _, Shape::Text(_)) => (Dash::Solid, 0.0),
        (Some(s), _, _) => (s.dash, s.width),
        (None, Some(ink), _) if ink.0 < 255 => (Dash::Solid, 0.0),
        (None, _, _) => return,
    };
    let shapes: Vec<Shape> = match &item.shape {
        Shape::Picture { .. } => vec![],
        Shape::Hatch { .. } => hatch::of(&item.shape).into_iter().map(Shape::Line).collect(),
        Shape::Line(_)
        | Shape::Arc(_)
        | Shape::Circle { .. }
        | Shape::Path(_)
        | Shape::Chain(_)
        | Shape::Text(_) => {
            vec![item.shape.clone()]
        }
    };
    for shape in shapes {
        let shape = match group {
            Some(g) => moved(&shape, g),
            None => shape,
        };
        if let (Some(clip), Some(b)) = (group.and_then(|g| g.clip), shape.bounds()) {
            if outside(clip, b) {
                continue;
            }
            if !inside(clip, b) {
                refuse("an edge of the page's window runs through it: a shop file is written from the undivided page".to_owned());
                continue;
            }
        }
        out.push(Placed { layer: item.layer, dash, width, shape });
    }
}

fn outside(clip: Rect, b: Rect) -> bool {
    b.x1 < clip.x0 || b.x0 > clip.x1 || b.y1 < clip.y0 || b.y0 > clip.y1
}

fn inside(clip: Rect, b: Rect) -> bool {
    let c = clip.inflate(SLACK, SLACK);
    b.x0 >= c.x0 && b.x1 <= c.x1 && b.y0 >= c.y0 && b.y1 <= c.y1
}

/// A shape moved and scaled evenly.
fn moved(shape: &Shape, g: &Group) -> Shape {
    let k = g.scale_x;
    let line = |l: &Line| Line { a: g.point(l.a), b: g.point(l.b) };
    let arc = |a: &Arc| Arc {
        centre: g.point(a.centre),
        radius: a.radius * k,
        a: g.point(a.a),
        b: g.point(a.b),
        ..*a
    };
    let piece = |s: &Segment| match s {
        Segment::Line(l) => Segment::Line(line(l)),
        Segment::Arc(a) => Segment::Arc(arc(a)),
    };
    let contour = |c: &Contour| Contour::from_checked(c.segments().iter().map(piece).collect());
    match shape {
        Shape::Line(l) => Shape::Line(line(l)),
        Shape::Arc(a) => Shape::Arc(arc(a)),
        Shape::Circle { centre, radius } => Shape::Circle { centre: g.point(*centre), radius: radius * k },
        Shape::Path(c) => Shape::Path(contour(c)),
        Shape::Chain(pieces) => Shape::Chain(pieces.iter().map(piece).collect()),
        Shape::Text(t) => {
            let mut t = t.clone();
            t.at = g.point(t.at);
            t.height *= k;
            Shape::Text(t)
        }
        Shape::Hatch { contours, spacing, angle } => Shape::Hatch {
            contours: contours.iter().map(contour).collect(),
            spacing: spacing * k,
            angle: *angle,
        },
        Shape::Picture { .. } => shape.clone(),
    }
}

/// The same text for the same thing on the same layer, whichever way round and wherever it starts, to
/// 1e-6 mm.
fn key(p: &Placed) -> String {
    let name = p.layer.name();
    let at = |p: Point| format!("{} {}", fixed(p.x, 6), fixed(p.y, 6));
    let circle = |c: Point, r: f64| format!("{name} circle {} {}", at(c), fixed(r, 6));
    let piece = |s: &Segment| {
        let mut ends = [at(s.start()), at(s.end())];
        ends.sort();
        format!("{} {} {}", ends.join(" "), at(s.at(0.5)), matches!(s, Segment::Arc(_)))
    };
    let pieces = |list: &[Segment]| {
        let mut all: Vec<String> = list.iter().map(piece).collect();
        all.sort();
        format!("{name} pieces {}", all.join(" "))
    };
    match &p.shape {
        Shape::Line(l) => pieces(&[Segment::Line(*l)]),
        Shape::Arc(a) => pieces(&[Segment::Arc(*a)]),
        Shape::Circle { centre, radius } => circle(*centre, *radius),
        Shape::Path(c) => match c.as_circle() {
            Some((centre, radius)) => circle(centre, radius),
            None => pieces(c.segments()),
        },
        Shape::Chain(list) => pieces(list),
        Shape::Text(t) => format!("{name} text {t:?}"),
        Shape::Hatch { contours, spacing, angle } => {
            let borders: Vec<String> = contours.iter().map(|c| pieces(c.segments())).collect();
            format!("{name} hatch {spacing} {angle} {}", borders.join(" "))
        }
        Shape::Picture { at, .. } => format!("{name} picture {at:?}"),
    }
}
