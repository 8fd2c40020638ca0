//! Questions about single lines: closed, drawn once, not crossing, no strays.

use super::draft::Draft;
use super::ends::Ends;
use super::near::Meetings;
use super::nest::Place;
use super::rules;
use super::same::bounds;
use super::words::{item, mm, trim};
use crate::check::Verdict;
use crate::geom::{Contour, Point, SLACK, Segment, span};
use rstar::RTree;
use rstar::primitives::GeomWithData;
use std::collections::{BTreeMap, BTreeSet};

/// A gap below this is a slip; a larger one is a line that is missing, mm.
const SLIP: f64 = 2.0;

/// What is loose: straights that belong to nothing, and those of them that are centre marks.
#[derive(Default)]
pub struct Loose {
    /// Open chains (by number) that are told as strays or centre marks.
    pub chains: BTreeSet<usize>,
    /// Items that are centre marks.
    pub centre_marks: Vec<usize>,
}

/// Straights that belong to nothing, and pieces without length.
pub fn strays(d: &mut Draft<'_>) -> Loose {
    let mut loose = Loose::default();
    let e = Ends::of(&d.cut.open);
    let mut near: BTreeMap<usize, f64> = BTreeMap::new();
    for ((chain, _), n) in e.list.iter().zip(&e.nearest) {
        if let Some((other, gap)) = n
            && e.list.get(*other).is_some_and(|(c, _)| c != chain)
        {
            let least = near.entry(*chain).or_insert(f64::INFINITY);
            *least = least.min(*gap);
        }
    }
    let centres = RTree::bulk_load(
        d.cut
            .closed
            .iter()
            .filter_map(|c| c.contour.as_circle())
            .map(|(c, r)| GeomWithData::new([c.x, c.y], r))
            .collect::<Vec<_>>(),
    );
    let mut strays = Vec::new();
    for (k, o) in d.cut.open.iter().enumerate() {
        let ([Segment::Line(l)], [i], false) = (o.pieces.as_slice(), o.items.as_slice(), o.unread) else {
            continue;
        };
        if near.get(&k).is_some_and(|g| *g <= SLIP) {
            continue;
        }
        loose.chains.insert(k);
        let m = l.a.midpoint(l.b);
        let mark = centres.nearest_neighbor(&[m.x, m.y]).is_some_and(|g| {
            let [x, y] = *g.geom();
            let v = Point::new(x, y) - l.a;
            let u = l.b - l.a;
            u.cross(v).abs() <= 0.01 * span(l.a, l.b) && span(m, Point::new(x, y)) <= 2.0 * g.data
        });
        if mark {
            loose.centre_marks.push(*i);
        } else {
            strays.push((*i, *l));
        }
    }
    for (i, l) in strays {
        let says = format!(
            "Stray straight of {} from {} to {}: it belongs to no contour ({}).",
            mm(span(l.a, l.b)),
            d.at(l.a),
            d.at(l.b),
            item(d.file, i)
        );
        d.add(&rules::STRAYS, Verdict::Fail, says, vec![l.a, l.b], vec![i]);
    }
    for (i, p) in d.cut.without_length.clone() {
        let says =
            format!("{} has no length, at {}: the machine would pierce there.", item(d.file, i), d.at(p));
        d.add(&rules::STRAYS, Verdict::Fail, says, vec![p], vec![i]);
    }
    d.pass_if_silent(&rules::STRAYS, "No loose straights, no pieces without length.");
    loose
}

/// Open contours and the gaps that were joined.
pub fn closed(d: &mut Draft<'_>, loose: &Loose, join: f64) {
    for c in d.cut.closed.clone() {
        for (gap, p) in &c.joined {
            let says = format!(
                "Gap of {} at {}; joined, your choice: --join {} (the machine's program must join it too).",
                mm(*gap),
                d.at(*p),
                trim(join, 4)
            );
            let items = c.copies.first().cloned().unwrap_or_default();
            d.findings.push(super::report::Finding {
                rule: &rules::CLOSED,
                verdict: Verdict::Pass,
                says,
                measured: Some(*gap),
                asked: None,
                at: vec![*p],
                items,
            });
        }
    }
    let e = Ends::of(&d.cut.open);
    let mut told: BTreeSet<(usize, usize)> = BTreeSet::new();
    for (k, ((chain, p), n)) in e.list.iter().zip(&e.nearest).enumerate() {
        let Some(o) = d.cut.open.get(*chain).filter(|_| !loose.chains.contains(chain)) else { continue };
        let Some((other, gap)) = n else { continue };
        if !told.insert((k.min(*other), k.max(*other))) {
            continue;
        }
        let partner = e.list.get(*other).map_or((*chain, *p), |x| *x);
        let mut items = o.items.clone();
        if partner.0 != *chain
            && let Some(b) = d.cut.open.get(partner.0)
        {
            items.extend(&b.items);
        }
        let unread = [*chain, partner.0].iter().any(|c| d.cut.open.get(*c).is_some_and(|o| o.unread));
        gap_finding(d, *p, partner.1, *gap, items, unread);
    }
    for (e, items) in d.cut.no_contour.clone() {
        let says = format!("No contour: {e} ({}).", d.list(&items));
        d.add(&rules::CLOSED, Verdict::Fail, says, vec![], items);
    }
    let n = d.cut.closed.len();
    let says = if n == 1 {
        "The one contour is closed.".to_owned()
    } else {
        format!("All {n} contours are closed.")
    };
    if !d.findings.iter().any(|f| std::ptr::eq(f.rule, &rules::CLOSED) && f.verdict != Verdict::Pass) && n > 0
    {
        d.add(&rules::CLOSED, Verdict::Pass, says, vec![], vec![]);
    }
}

fn gap_finding(d: &mut Draft<'_>, p: Point, q: Point, gap: f64, items: Vec<usize>, unread: bool) {
    let middle = p.midpoint(q);
    let (verdict, says) = if unread {
        let says = format!(
            "Ends {} apart at {}, of a chain with a curve that was not read: whether it closes is not known.",
            mm(gap),
            d.at(middle)
        );
        (Verdict::Withheld, says)
    } else if gap <= super::chain::CLOSED {
        let says =
            format!("More than two ends meet at {}: which way the contour goes is not told.", d.at(middle));
        (Verdict::Fail, says)
    } else if gap <= SLIP {
        let step = (gap * 100.0 - SLACK).ceil().max(1.0) / 100.0;
        let says = format!(
            "Gap of {} at {}; not joined, your choice: --join {} joins it.",
            mm(gap),
            d.at(middle),
            trim(step, 2)
        );
        (Verdict::Fail, says)
    } else {
        let says = format!(
            "Gap of {} from {} to {}; not joined: a line is missing or one is too many.",
            mm(gap),
            d.at(p),
            d.at(q)
        );
        (Verdict::Fail, says)
    };
    d.findings.push(super::report::Finding {
        rule: &rules::CLOSED,
        verdict,
        says,
        measured: Some(gap),
        asked: Some(0.0),
        at: vec![p, q],
        items,
    });
}

/// "cuts twice", "cuts 3 times".
fn times(n: usize) -> String {
    if n == 2 { "twice".into() } else { format!("{n} times") }
}

/// What is drawn more than once.
pub fn single(d: &mut Draft<'_>, meetings: &Meetings, owner: &dyn Fn(usize) -> Vec<usize>) {
    for c in d.cut.closed.clone().into_iter().filter(|c| c.copies.len() > 1) {
        let n = c.copies.len();
        let (what, p) = match c.contour.as_circle() {
            Some((centre, _)) => ("circles", centre),
            None => ("contours", c.contour.bounds().center()),
        };
        let says = format!("{n} identical {what} at {}: machine cuts {}.", d.at(p), times(n));
        d.add(&rules::DOUBLED, Verdict::Fail, says, vec![p], c.copies.concat());
    }
    for a in d.cut.again.clone() {
        let n = a.items.len();
        let (what, p) = match a.pieces.as_slice() {
            [Segment::Line(l)] => ("straights", l.a.midpoint(l.b)),
            [Segment::Arc(r)] => ("arcs", r.at(0.5)),
            other => ("open contours", bounds(other).map_or(Point::ORIGIN, |b| b.center())),
        };
        let says = format!("{n} identical {what} at {}: machine cuts {}.", d.at(p), times(n));
        d.add(&rules::DOUBLED, Verdict::Fail, says, vec![p], a.items);
    }
    for ((a, b), (long, [p, q])) in &meetings.overlaps {
        let mut items = owner(*a);
        if a != b {
            items.extend(owner(*b));
        }
        let says = format!(
            "Overlap of {} from {} to {}: machine cuts twice ({}).",
            mm(*long),
            d.at(*p),
            d.at(*q),
            d.list(&items)
        );
        d.add(&rules::DOUBLED, Verdict::Fail, says, vec![*p, *q], items);
    }
    d.pass_if_silent(&rules::DOUBLED, "Nothing is drawn twice.");
}

/// Contours that cross or touch themselves or others.
pub fn crossing(d: &mut Draft<'_>, meetings: &Meetings, owner: &dyn Fn(usize) -> Vec<usize>) {
    for c in d.cut.closed.clone() {
        if let Some(p) = c.crossing {
            let items = c.copies.first().cloned().unwrap_or_default();
            let says = format!("The contour crosses or touches itself at {} ({}).", d.at(p), d.list(&items));
            d.add(&rules::CROSSING, Verdict::Fail, says, vec![p], items);
        }
    }
    for ((a, b), p) in meetings.crossings.iter().filter(|(k, _)| !meetings.overlaps.contains_key(k)) {
        let items: Vec<usize> = owner(*a).into_iter().chain(owner(*b)).collect();
        let says = format!("Two contours cross or touch at {} ({}).", d.at(*p), d.list(&items));
        d.add(&rules::CROSSING, Verdict::Fail, says, vec![*p], items);
    }
    d.pass_if_silent(&rules::CROSSING, "No contour crosses or touches itself or another.");
}

/// Whether every contour is a part's outline or an opening in one: none loose within an opening, none alone
/// beside a part that holds openings.
pub fn nesting(
    d: &mut Draft<'_>,
    contours: &[Contour],
    items: &[usize],
    places: &[Place],
    openings_only: bool,
) {
    let middle = |k: usize| contours.get(k).map(|c| c.bounds().center());
    let holds: BTreeSet<usize> = places.iter().filter_map(|p| p.parent).collect();
    let within: Vec<usize> =
        (0..places.len()).filter(|k| places.get(*k).is_some_and(|p| p.depth >= 2)).collect();
    let alone: Vec<usize> = (0..places.len())
        .filter(|k| !openings_only && !holds.is_empty() && !holds.contains(k))
        .filter(|k| places.get(*k).is_some_and(|p| p.depth == 0))
        .collect();
    for (which, says) in [
        (&within, "inside an opening: a second part there, or a slug that is cut loose for nothing"),
        (
            &alone,
            "outside every part that has openings: a part of its own, or an opening that is off its part",
        ),
    ] {
        let Some(first) = which.first().and_then(|k| middle(*k)) else { continue };
        let n = which.len();
        let says = format!(
            "{n} {} {says}. The first is at {}. Is it meant?",
            if n == 1 { "contour lies" } else { "contours lie" },
            d.at(first)
        );
        let at = which.iter().filter_map(|k| middle(*k)).collect();
        let items = which.iter().filter_map(|k| items.get(*k).copied()).collect();
        d.add(&rules::NESTING, Verdict::Withheld, says, at, items);
    }
    if contours.len() == 1 {
        d.remarks.push(
            "There is one contour only: it was taken as a part's outline, not as an opening.".to_owned(),
        );
    }
    d.pass_if_silent(&rules::NESTING, "Every contour is a part's outline or an opening in one.");
}
