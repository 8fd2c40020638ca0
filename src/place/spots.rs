//! Spots in a region, each asked again by the real rules.
//!
//! The spot with the most room is the middle of the largest disc that the region holds, to 0.01 mm (cells of the plane are
//! cut in four while the room in their middle and half their diagonal together can beat the best).

use super::border::Border;
use super::region::Region;
use crate::check::{Finding, Findings, Verdict, recheck, stands_wherever};
use crate::geom::overlay::Area;
use crate::geom::{Contour, Point, Vec2, distance};
use crate::panel::{Panel, PartRef};

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
    let border = Border::of(&region.area);
    let Some(bounds) = border.bounds() else { return Spots { best: None, tried: 0 } };
    let grid = || border.grid(bounds, 400);
    let by_place = |p: &Point, q: &Point| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y));
    let kept = |(p, _): &(Point, f64)| keep(p.to_vec2());
    match asked {
        Asked::MostRoom => {
            // where the first one passes the others need not be found
            let others = std::iter::once_with(|| {
                let mut all = grid();
                all.sort_by(|(p, a), (q, b)| b.total_cmp(a).then_with(|| by_place(p, q)));
                all
            });
            let all = border.roomiest(bounds).into_iter().chain(others.flatten());
            asked_at(panel, subject, all.filter(kept).take(MOST), region.tight)
        }
        Asked::Nearest(wish) => {
            let mut all = grid();
            all.extend(border.nearest(wish));
            let far = |p: &Point| (*p - wish).hypot2();
            all.sort_by(|(p, _), (q, _)| far(p).total_cmp(&far(q)).then_with(|| by_place(p, q)));
            asked_at(panel, subject, all.into_iter().filter(kept).take(MOST), region.tight)
        }
    }
}

/// Shifts all over a region, several in each of its pieces, each with its room.
pub(super) fn all_over(border: &Border) -> Vec<(Point, f64)> {
    let many = (400 / border.pieces.len().max(1)).max(9);
    border.pieces.iter().flat_map(|b| border.grid(*b, many).into_iter().chain(border.roomiest(*b))).collect()
}

/// The best of some shifts, each with its room; `tight`: what holds as drawn will do.
pub(super) fn asked_at(
    panel: &Panel,
    subject: usize,
    all: impl IntoIterator<Item = (Point, f64)>,
    tight: bool,
) -> Spots {
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

/// How far within a region a point lies, below zero outside.
pub fn room(contours: &[Contour], p: Point) -> f64 {
    let off = contours.iter().map(|c| distance::point_contour(p, c).distance).fold(f64::INFINITY, f64::min);
    let inside = contours.iter().filter(|c| c.holds(p)).count() % 2 == 1;
    if inside { off } else { -off }
}

/// How large a region is and in how many pieces.
pub fn size(area: &Area) -> (f64, usize) {
    let contours = area.contours(0.0);
    (area.size(), contours.iter().filter(|c| c.is_ccw()).count())
}
