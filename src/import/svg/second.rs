//! A second reading of an SVG, by a renderer's reader: what it shows and we did not read, and the other way round.
//!
//! That reader knows style sheets, nested drawings and markers, but its numbers are short and its arcs are cubics: it is
//! asked only where its shapes lie.

use crate::geom::{Point, Rational, Rect, Segment};
use crate::import::{CutFile, ReadOptions, Shape};
use usvg::tiny_skia_path::{Path, PathBuilder, PathSegment};

/// How far two readings of one box may be apart, mm: rounding of short numbers and cubics for arcs, at panel size.
const NEAR: f64 = 0.05;
/// Most shapes that are compared.
const MOST: usize = 50_000;

/// What two readings do not have in common, as boxes in mm, y up.
pub struct Differences {
    /// The second reader shows it and the first did not read it.
    pub unread: Vec<Rect>,
    /// The first read it and the second does not show it.
    pub unseen: Vec<Rect>,
}

/// Compares the readings; None where the second cannot read the file or there is too much in it.
pub fn compare(text: &str) -> Option<Differences> {
    let first = super::super::read("second", text.as_bytes(), &ReadOptions::default()).ok()?;
    let tree = usvg::Tree::from_str(text, &usvg::Options::default()).ok()?;
    let mut theirs = Vec::new();
    group(tree.root(), &mut theirs);
    let (ours, all) = (boxes(&first, false), boxes(&first, true));
    if ours.len().max(theirs.len()) > MOST {
        return None;
    }
    Some(Differences { unread: without(&theirs, &all), unseen: without(&ours, &theirs) })
}

/// Whether the style sheets of a text set nothing but what the second reader obeys: colours, lines, letters, and what is
/// shown at all. It does not move or size by style, as browsers do.
pub fn obeyed(text: &str) -> bool {
    const OBEYED: &[&str] = &[
        "fill",
        "stroke",
        "opacity",
        "display",
        "visibility",
        "color",
        "font",
        "text",
        "stop",
        "letter",
        "word",
    ];
    text.split("<style").skip(1).all(|part| {
        let sheet = part.split_once('>').map_or("", |(_, s)| s).split("</style").next().unwrap_or("");
        let rules = sheet.split('{').skip(1).filter_map(|r| r.split('}').next());
        let mut each = rules.flat_map(|r| r.split(';')).filter(|d| !d.trim().is_empty());
        let lawful = |d: &str| {
            let name = d.split(':').next().unwrap_or("").trim().to_ascii_lowercase();
            OBEYED.iter().any(|o| name == *o || name.strip_prefix(o).is_some_and(|r| r.starts_with('-')))
        };
        !sheet.contains('@') && each.all(lawful)
    })
}

/// Boxes of the first list that have none like them in the second.
fn without(list: &[Rect], others: &[Rect]) -> Vec<Rect> {
    let mut sorted: Vec<&Rect> = others.iter().collect();
    sorted.sort_by(|a, b| a.x0.total_cmp(&b.x0));
    let like =
        |r: &Rect| {
            let near = NEAR + 1e-5 * (r.x1.abs() + r.y0.abs());
            let from = sorted.partition_point(|o| o.x0 < r.x0 - near);
            sorted.iter().skip(from).take_while(|o| o.x0 <= r.x0 + near).any(|o| {
                [(o.y0, r.y0), (o.x1, r.x1), (o.y1, r.y1)].iter().all(|(a, b)| (a - b).abs() <= near)
            })
        };
    list.iter().filter(|r| !like(r)).copied().collect()
}

/// Boxes of what was read; with `hidden` also of what the first reader takes for invisible, such as white paper.
fn boxes(file: &CutFile, hidden: bool) -> Vec<Rect> {
    let shown = file.items.iter().filter(|i| hidden || i.hidden.is_none());
    shown
        .filter_map(|i| match &i.shape {
            Shape::Chain { pieces, curves, .. } => {
                let exact = curves.iter().flat_map(|c| c.exact.iter().flat_map(|e| e.iter()));
                let all: Vec<Segment> = exact.flat_map(arcs).chain(pieces.iter().copied()).collect();
                let b = all.iter().map(Segment::bounds).reduce(|a, b| a.union(b))?;
                // what has no extent is drawn by one and dropped by the other
                (b.width() + b.height() > NEAR).then_some(b)
            }
            Shape::Mark { .. } | Shape::NotRead(_) => None,
        })
        .collect()
}

fn arcs(r: &Rational) -> Vec<Segment> {
    let mut out = Vec::new();
    r.pieces(NEAR / 10.0, &mut out);
    out
}

fn group(g: &usvg::Group, out: &mut Vec<Rect>) {
    for n in g.children() {
        match n {
            usvg::Node::Group(g) => group(g, out),
            usvg::Node::Path(p) if p.is_visible() => {
                for one in subpaths(p.data()) {
                    let moved = one.transform(p.abs_transform());
                    let b = moved.and_then(|m| m.compute_tight_bounds()).map(mm);
                    out.extend(b.filter(|b| b.width() + b.height() > NEAR));
                }
            }
            usvg::Node::Path(_) | usvg::Node::Image(_) | usvg::Node::Text(_) => {}
        }
    }
}

/// Pixels, y down, to mm, y up.
fn mm(r: usvg::tiny_skia_path::Rect) -> Rect {
    let k = 25.4 / 96.0;
    let at = |x: f32, y: f32| Point::new(f64::from(x) * k, -f64::from(y) * k);
    Rect::from_points(at(r.left(), r.top()), at(r.right(), r.bottom()))
}

fn subpaths(path: &Path) -> Vec<Path> {
    let mut out = Vec::new();
    let mut pen = PathBuilder::new();
    for s in path.segments() {
        match s {
            PathSegment::MoveTo(p) => {
                out.extend(std::mem::take(&mut pen).finish());
                pen.move_to(p.x, p.y);
            }
            PathSegment::LineTo(p) => pen.line_to(p.x, p.y),
            PathSegment::QuadTo(a, p) => pen.quad_to(a.x, a.y, p.x, p.y),
            PathSegment::CubicTo(a, b, p) => pen.cubic_to(a.x, a.y, b.x, b.y, p.x, p.y),
            PathSegment::Close => pen.close(),
        }
    }
    out.extend(pen.finish());
    out
}
