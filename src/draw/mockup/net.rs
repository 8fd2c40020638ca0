//! The net of one body: its sides as a strip, its back (and, of a flat-sided one, its front) as a face with tabs.
//!
//! The printed side is outside. On a strip the front edge is below and the way along it is clockwise as seen from the
//! seat; a back is drawn as it is seen from behind. Lengths are exact: a side is as long as its piece of the section,
//! an arc as its arc.

use super::body::Case;
use super::face;
use super::piece::{self, Piece, Sheet};
use super::tab::{self, TAB};
use crate::geom::{Arc, Contour, Point, Segment, Vec2, angle, length};

/// The direction may turn by this much (radians) without a fold: a degree.
const STRAIGHT: f64 = 0.0175;

/// A side of a strip, or a part of one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Side {
    /// Its length, mm.
    pub long: f64,
    /// Whether it is rolled.
    pub round: bool,
    /// Whether the paper is folded where it begins.
    pub folded: bool,
    /// Whether a round part begins or ends there without a fold.
    pub rolls: bool,
}

/// The section walked clockwise as seen from the seat, started where its longest straight side begins; every side with
/// what happens at its start.
fn sides(section: &Contour) -> (Vec<Segment>, Vec<Side>) {
    let clockwise = section.ccw().reversed();
    let straight = |s: &Segment| if matches!(s, Segment::Line(_)) { s.len() } else { 0.0 };
    let start = clockwise
        .segments()
        .iter()
        .enumerate()
        .max_by(|a, b| straight(a.1).total_cmp(&straight(b.1)).then(b.0.cmp(&a.0)))
        .map_or(0, |(k, _)| k);
    let walked = clockwise.started_at(start).segments().to_vec();
    let before = walked.iter().cycle().skip(walked.len().saturating_sub(1));
    let sides = walked
        .iter()
        .zip(before)
        .map(|(s, b)| {
            let turn = length(s.start_direction() - b.end_direction());
            let round = matches!(s, Segment::Arc(_));
            let folded = turn > STRAIGHT && walked.len() > 1;
            Side { long: s.len(), round, folded, rolls: !folded && round != matches!(b, Segment::Arc(_)) }
        })
        .collect();
    (walked, sides)
}

/// The pieces of a body's net for paper with room for pieces of a size, turned or not, whichever needs fewer.
pub(super) fn pieces(case: &Case, number: usize, room: (f64, f64)) -> Vec<Piece> {
    let upright = build(case, number, room);
    let lying: Vec<Piece> = build(case, number, (room.1, room.0))
        .into_iter()
        .map(|p| if p.fits(room) { p } else { p.turned() })
        .collect();
    let cost = |list: &[Piece]| (list.iter().filter(|p| !p.fits(room)).count(), list.len());
    if cost(&lying) < cost(&upright) { lying } else { upright }
}

/// The pieces for room of a width and a height.
fn build(case: &Case, number: usize, (wide, high): (f64, f64)) -> Vec<Piece> {
    let (walked, sides) = sides(&case.section);
    let flat = walked.len() > 2 && walked.iter().all(|s| matches!(s, Segment::Line(_)));
    let around: f64 = sides.iter().map(|s| s.long).sum();
    let tall = tab::depth(case.section.bounds().width().min(case.section.bounds().height()));
    let mut names = (b'a'..=b'z').map(|c| format!("{number}{}", char::from(c)));
    let mut name = || names.next().unwrap_or_else(|| format!("{number}z"));
    // a back that reaches over its hinge would lie on the sides
    let first = walked.first();
    let clear = first.is_some_and(|f| walked.iter().all(|s| laid(s, f, 1.0, 0.0).start().y >= -1e-6));
    if flat && clear && around + TAB <= wide {
        let whole = whole(case, &walked, &sides, name(), tall);
        if whole.size.0 <= wide && whole.size.1 <= high {
            return vec![whole];
        }
    }
    let rings = ((case.depth() / (high - 2.0 * TAB).max(TAB)).ceil() as u32).max(1);
    let strips = strips(&sides, wide - TAB);
    let mut list = Vec::new();
    for ring in 0..rings {
        for (k, strip) in strips.iter().enumerate() {
            let next = strips.get((k + 1) % strips.len()).and_then(|s| s.first());
            let at = piece::At {
                strip: (k, strips.len()),
                ring: (ring, rings),
                folds_on: next.is_some_and(|s| s.folded),
                front: tall,
            };
            list.push(piece::strip(case, strip, &at, name()));
        }
    }
    list.push(face::back(case, name(), tall));
    list
}

/// Sides joined to strips that a width holds; a side that is wider by itself is divided into equal parts.
fn strips(sides: &[Side], wide: f64) -> Vec<Vec<Side>> {
    let mut strips: Vec<Vec<Side>> = Vec::new();
    let mut used = 0.0;
    for side in sides {
        let parts = (side.long / wide.max(1.0) - 1e-9).ceil().clamp(1.0, 1e4) as u32;
        for k in 0..parts {
            let part = if k == 0 { *side } else { Side { folded: false, rolls: false, ..*side } };
            let part = Side { long: side.long / f64::from(parts), ..part };
            match strips.last_mut() {
                Some(strip) if used + part.long <= wide => {
                    strip.push(part);
                    used += part.long;
                }
                _ => {
                    strips.push(vec![part]);
                    used = part.long;
                }
            }
        }
    }
    strips
}

/// A flat-sided body in one piece: its back hangs on the far edge of the first side, its front on the near edge.
fn whole(case: &Case, walked: &[Segment], sides: &[Side], name: String, tall: f64) -> Piece {
    let depth = case.depth();
    let mut sheet = Sheet::new();
    let mut outline = vec![Point::ORIGIN];
    let Some(first) = walked.first() else { return sheet.piece(case, name) };
    let around: f64 = sides.iter().map(|s| s.long).sum();
    // near edge: the front, which hangs on the first side; the others meet its tabs
    let front: Vec<Segment> = walked.iter().map(|s| laid(s, first, -1.0, 0.0)).collect();
    let front: Vec<Segment> = front.iter().rev().map(Segment::reversed).collect();
    // it starts behind the edge that it hangs on, which is the last when walked backwards
    let hung = front.len().saturating_sub(1);
    let chain: Vec<Segment> = front.iter().take(hung).copied().collect();
    face::with_tabs(&chain, tall, &mut outline, &mut sheet);
    outline.push(Point::new(first.len(), 0.0));
    outline.push(Point::new(around, 0.0));
    let right = Segment::line(Point::new(around, 0.0), Point::new(around, depth));
    outline.extend(tab::along(&right, TAB.min(tall), false));
    sheet.glue(right.start(), right.end());
    outline.push(Point::new(around, depth));
    outline.push(Point::new(first.len(), depth));
    let back: Vec<Segment> = walked.iter().skip(1).map(|s| laid(s, first, 1.0, depth)).collect();
    face::with_tabs(&back, tall, &mut outline, &mut sheet);
    outline.push(Point::new(0.0, depth));
    let mut x = 0.0;
    for (k, side) in sides.iter().enumerate() {
        if k > 0 {
            sheet.fold(Point::new(x, 0.0), Point::new(x, depth));
        }
        x += side.long;
    }
    sheet.fold(Point::new(around, 0.0), Point::new(around, depth));
    sheet.fold(Point::new(0.0, 0.0), Point::new(first.len(), 0.0));
    sheet.fold(Point::new(0.0, depth), Point::new(first.len(), depth));
    for (id, contour) in &case.on_back {
        let list = contour.ccw().reversed().segments().iter().map(|s| laid(s, first, 1.0, depth)).collect();
        sheet.place(id, Contour::from_checked(list));
    }
    sheet.cut(outline);
    piece::words(&mut sheet, case, &name, sides, depth, "sides, back above, front below");
    piece::edges(&mut sheet, sides, depth, (case.from, case.to));
    let back: Vec<Segment> = walked.iter().map(|s| laid(s, first, 1.0, depth)).collect();
    face::words(&mut sheet, case, &name, &Contour::from_checked(back), "back");
    sheet.piece(case, name)
}

/// A piece of the section on the paper: its first side along x, what lies inside of it upwards (`way` 1, as seen from
/// behind) or downwards (`way` -1, as seen from the seat), raised.
fn laid(s: &Segment, first: &Segment, way: f64, raised: f64) -> Segment {
    let along = first.start_direction();
    let inward = Vec2::new(along.y, -along.x);
    let at = |p: Point| {
        let v = p - first.start();
        Point::new(v.dot(along), way * v.dot(inward) + raised)
    };
    match s {
        Segment::Line(l) => Segment::line(at(l.a), at(l.b)),
        Segment::Arc(a) => {
            let (centre, from, to) = (at(a.centre), at(a.a), at(a.b));
            // seen from behind left and right change places, and so does the way round
            let sweep = if way > 0.0 { -a.sweep } else { a.sweep };
            let start = angle::normalise(angle::direction(from - centre));
            Segment::Arc(Arc { centre, radius: a.radius, start, sweep, a: from, b: to })
        }
    }
}
