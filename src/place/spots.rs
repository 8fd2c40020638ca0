//! Spots in a region, each asked again by the real rules.
//!
//! The spot with the most room is the middle of the largest disc that the region holds, to 0.01 mm (cells of the plane are
//! cut in four while the room in their middle and half their diagonal together can beat the best).

use super::region::Region;
use crate::check::{Finding, Findings, Verdict, recheck, stands_wherever};
use crate::geom::overlay::Area;
use crate::geom::{Contour, Point, Rect, Vec2, distance};
use crate::panel::{Panel, PartRef};
use std::collections::BinaryHeap;

/// What a spot must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// The one with the most room all round.
    MostRoom,
    /// The one nearest to a shift.
    Nearest(Point),
}

/// A spot.
#[derive(Clone, Debug)]
pub struct Spot {
    /// The shift.
    pub shift: Vec2,
    /// How far it is from the region's border, mm.
    pub room: f64,
    /// What the rules say of the subject there that is no pass, and that another place may cure.
    pub findings: Vec<Finding>,
    /// What else is no pass there: tight where that will do, withheld for want of a number, between parts of its own, or a label that is yet to come.
    pub beside: Vec<Finding>,
}

impl Spot {
    /// What stands there: the worst of all that is said, but of labels.
    pub fn verdict(&self) -> Verdict {
        let all = self.findings.iter().chain(&self.beside).filter(|f| f.rule.id != LABELLED);
        all.map(|f| f.verdict).min().unwrap_or(Verdict::Pass)
    }
}

/// What was looked at.
#[derive(Clone, Debug)]
pub struct Spots {
    /// Of those that were tried the one with the fewest findings that another place may cure, then with the fewest others,
    /// then the first.
    pub best: Option<Spot>,
    /// How many spots were asked.
    pub tried: usize,
}

/// Spots that are asked at the most.
pub(super) const MOST: usize = 120;

/// The rule that asks for labels, which are placed after what they name.
const LABELLED: &str = "labelled";

/// How near the largest disc is found, mm.
const FINE: f64 = 0.01;

/// The best spot of a region, of those in the order of what is asked.
pub fn spots(panel: &Panel, subject: usize, region: &Region, asked: Asked) -> Spots {
    spots_kept(panel, subject, region, asked, |_| true)
}

/// The same of those shifts alone that are kept.
pub(super) fn spots_kept(
    panel: &Panel,
    subject: usize,
    region: &Region,
    asked: Asked,
    keep: impl Fn(Vec2) -> bool,
) -> Spots {
    let contours = region.area.contours(0.0);
    let all = points(&contours, asked).into_iter().filter(|(p, _)| keep(p.to_vec2()));
    asked_at(panel, subject, all.take(MOST).collect(), region.tight)
}

/// Shifts all over a region, several in each of its pieces, each with its room.
pub(super) fn all_over(contours: &[Contour]) -> Vec<(Point, f64)> {
    let pieces: Vec<Rect> = contours.iter().filter(|c| c.is_ccw()).map(|c| c.bounds()).collect();
    let many = (400 / pieces.len().max(1)).max(9);
    let of = |b: &Rect| grid(contours, *b, many).into_iter().chain(roomiest(contours, *b));
    pieces.iter().flat_map(of).collect()
}

/// The best of some shifts, each with its room; `tight`: what holds as drawn will do.
pub(super) fn asked_at(panel: &Panel, subject: usize, all: Vec<(Point, f64)>, tight: bool) -> Spots {
    let admitted = |f: &Finding| tight && f.verdict == Verdict::Tight;
    let mut trial = panel.clone();
    // no more is worked out than what is said of the subject and of what its change touches
    let mut findings = Findings::unasked();
    let mut at = Vec2::ZERO;
    let mut best: Option<Spot> = None;
    let mut tried = 0;
    for (p, room) in all {
        tried += 1;
        let shift = p.to_vec2();
        trial.shift(subject, shift - at);
        at = shift;
        findings = recheck(&trial, findings, &[subject]);
        let (beside, findings) =
            about(&findings, subject).into_iter().partition(|f| anywhere(f, subject) || admitted(f));
        let spot = Spot { shift, room, findings, beside };
        let lacks = |s: &Spot| (s.findings.len(), s.beside.iter().filter(|f| !admitted(f)).count());
        // what stands wherever it is put stands at every other spot too: none can lack less
        let least = spot.beside.iter().filter(|f| !admitted(f) && stands_wherever(&trial, f)).count();
        let done = lacks(&spot) == (0, least);
        if best.as_ref().is_none_or(|b| lacks(&spot) < lacks(b)) {
            best = Some(spot);
        }
        if done {
            break;
        }
    }
    Spots { best, tried }
}

/// What findings say of a subject that is no pass.
fn about(findings: &Findings, subject: usize) -> Vec<Finding> {
    let own = |r: PartRef| r.subject as usize == subject;
    let speaks = |f: &&Finding| own(f.a) || f.b.is_some_and(own);
    findings.list.iter().filter(speaks).filter(|f| f.verdict != Verdict::Pass).cloned().collect()
}

/// Whether another place is no cure: a number is missing, it is said of two parts of the subject, or its label is yet to
/// come.
fn anywhere(f: &Finding, subject: usize) -> bool {
    let own = |r: PartRef| r.subject as usize == subject;
    f.verdict == Verdict::Withheld || own(f.a) && f.b.is_some_and(own) || f.rule.id == LABELLED
}

/// Spots in the order of what is asked, each with its room.
fn points(contours: &[Contour], asked: Asked) -> Vec<(Point, f64)> {
    let Some(bounds) = contours.iter().map(|c| c.bounds()).reduce(|a, b| a.union(b)) else {
        return Vec::new();
    };
    let mut all = grid(contours, bounds, 400);
    match asked {
        Asked::MostRoom => {
            all.extend(roomiest(contours, bounds));
            all.sort_by(|(p, a), (q, b)| b.total_cmp(a).then(p.x.total_cmp(&q.x)).then(p.y.total_cmp(&q.y)));
        }
        Asked::Nearest(wish) => {
            all.extend(nearest(contours, wish));
            let far = |p: &Point| (*p - wish).hypot2();
            all.sort_by(|(p, _), (q, _)| {
                far(p).total_cmp(&far(q)).then(p.x.total_cmp(&q.x)).then(p.y.total_cmp(&q.y))
            });
        }
    }
    all
}

/// How far within a region a point lies, below zero outside.
pub fn room(contours: &[Contour], p: Point) -> f64 {
    let off = contours.iter().map(|c| distance::point_contour(p, c).distance).fold(f64::INFINITY, f64::min);
    let inside = contours.iter().filter(|c| c.holds(p)).count() % 2 == 1;
    if inside { off } else { -off }
}

/// Points in rows within a region, of about so many over a box.
fn grid(contours: &[Contour], b: Rect, many: usize) -> Vec<(Point, f64)> {
    let step = (b.width() * b.height() / many as f64).sqrt().max(1.0);
    let count = |long: f64| (long / step).ceil().clamp(1.0, 400.0) as usize;
    let (n, m) = (count(b.width()), count(b.height()));
    let at = |k: usize, n: usize, low: f64, high: f64| low + (high - low) * (k as f64 + 0.5) / n as f64;
    let all = (0..n).flat_map(|i| (0..m).map(move |j| (i, j)));
    let points = all.map(|(i, j)| Point::new(at(i, n, b.x0, b.x1), at(j, m, b.y0, b.y1)));
    points.map(|p| (p, room(contours, p))).filter(|(_, room)| *room > 0.0).collect()
}

/// The point of a region nearest to another.
fn nearest(contours: &[Contour], wish: Point) -> Option<(Point, f64)> {
    let here = room(contours, wish);
    if here >= 0.0 {
        return Some((wish, here));
    }
    let on = contours.iter().map(|c| distance::point_contour(wish, c));
    let nearest = on.min_by(|a, b| a.distance.total_cmp(&b.distance))?.at[1];
    Some((nearest, 0.0))
}

/// A cell of the plane; the one that may hold the most room first.
#[derive(PartialEq)]
struct Cell {
    most: f64,
    middle: Point,
    half: f64,
}

impl Eq for Cell {}

impl PartialOrd for Cell {
    fn partial_cmp(&self, o: &Cell) -> Option<std::cmp::Ordering> {
        Some(self.cmp(o))
    }
}

impl Ord for Cell {
    fn cmp(&self, o: &Cell) -> std::cmp::Ordering {
        let at = |c: &Cell| (c.middle.x, c.middle.y);
        let ((x, y), (u, v)) = (at(self), at(o));
        self.most.total_cmp(&o.most).then(u.total_cmp(&x)).then(v.total_cmp(&y))
    }
}

/// The point of a region that is farthest from its border.
fn roomiest(contours: &[Contour], b: Rect) -> Option<(Point, f64)> {
    let half = b.width().max(b.height()) / 2.0;
    let cell = |middle: Point, half: f64| {
        let here = room(contours, middle);
        (here, Cell { most: here + half * std::f64::consts::SQRT_2, middle, half })
    };
    let (here, first) = cell(b.center(), half);
    let mut best = (b.center(), here);
    let mut open = BinaryHeap::from([first]);
    while let Some(c) = open.pop() {
        if c.most <= best.1 + FINE {
            break;
        }
        let h = c.half / 2.0;
        for (x, y) in [(-h, -h), (h, -h), (-h, h), (h, h)] {
            let (here, next) = cell(c.middle + Vec2::new(x, y), h);
            if here > best.1 {
                best = (next.middle, here);
            }
            if next.most > best.1 + FINE {
                open.push(next);
            }
        }
    }
    (best.1 >= 0.0).then_some(best)
}

/// How large a region is and in how many pieces.
pub fn size(area: &Area) -> (f64, usize) {
    let contours = area.contours(0.0);
    (area.size(), contours.iter().filter(|c| c.is_ccw()).count())
}
