//! The further reading that would help most: what it would do is known before it is taken.
//!
//! A reading b with standard deviation s changes the covariance Q by - Q b bᵀ Q / (s² + bᵀ Q b). Asked are distances
//! between all points (by tape) and diameters of circles (by calipers).

use super::adjust::Adjusted;
use super::ellipse::Ellipse;
use super::network::Network;
use super::normal::Matrix;
use super::observation::{Relation, Row, State};
use super::snoop::{LEAST_REDUNDANCY, MOST_CORRELATION, Test};
use crate::define::survey::ToolKind;

/// Motions smaller than this share of the largest are rounding.
const STILL: f64 = 1e-6;
/// What sliding calipers span, mm: common practice, no source.
const CALIPERS_REACH: f64 = 300.0;

/// A further reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Further {
    /// What to measure.
    pub relation: Relation,
    /// With this standard deviation, mm.
    pub sigma: f64,
}

/// A point that the readings leave free.
#[derive(Clone, Debug)]
pub struct Undetermined {
    /// The point.
    pub point: usize,
    /// Only its radius is.
    pub radius_only: bool,
}

/// The weakest point and what would help.
#[derive(Clone, Debug)]
pub struct Weakest {
    /// The point.
    pub point: usize,
    /// Longer half axis of its ellipse, mm.
    pub now: f64,
    /// The further reading.
    pub further: Further,
    /// What that half axis would be with it, mm.
    pub then: f64,
}

/// What the free motions move: points, and zero errors by index.
pub fn undetermined(network: &Network, adjusted: &Adjusted) -> (Vec<Undetermined>, Vec<usize>) {
    let moves =
        |u: Option<usize>| u.is_some_and(|u| adjusted.factor.motions.iter().any(|m| m[u].abs() > STILL));
    let points = (0..network.points.len()).filter_map(|p| {
        let (x, y) = network.unknowns(p);
        let place = moves(x) || moves(y);
        (place || moves(network.radius_unknown(p))).then_some(Undetermined { point: p, radius_only: !place })
    });
    let zeros = (0..network.zeros.len()).filter(|z| moves(Some(network.zero_unknown(*z))));
    (points.collect(), zeros.collect())
}

/// All readings that may be asked for.
fn candidates(network: &Network, of: impl Fn(usize) -> bool) -> Vec<Further> {
    let n = network.points.len();
    let mut all = Vec::new();
    for a in 0..n {
        if network.points[a].round && of(a) {
            all.push(Further {
                relation: Relation::Radius { c: a, k: 2 },
                sigma: ToolKind::Calipers.deviation(),
            });
        }
        for b in a + 1..n {
            // between two known points nothing is learnt
            let known = network.points[a].known.is_some() && network.points[b].known.is_some();
            if (of(a) || of(b)) && !known {
                let relation = Relation::Distance { a, b, ra: 0, rb: 0 };
                all.push(Further { relation, sigma: ToolKind::Tape.deviation() });
            }
        }
    }
    all
}

/// The same as finely measured as another reading was: calipers cannot be checked with a tape. Beside each distance of
/// two circles that of their far edges, which calipers can take.
fn finer(network: &Network, s: &State, sigma: f64, of: Vec<Further>) -> Vec<Further> {
    let mut all = Vec::new();
    for f in of {
        let Relation::Distance { a, b, .. } = f.relation else {
            all.push(f);
            continue;
        };
        let short = (s.at[b] - s.at[a]).hypot2() <= CALIPERS_REACH * CALIPERS_REACH;
        let fine = Further { sigma: if short { f.sigma.min(sigma) } else { f.sigma }, ..f };
        if network.points[a].round && network.points[b].round {
            all.push(Further { relation: Relation::Distance { a, b, ra: -1, rb: -1 }, ..fine });
            all.push(Further { relation: Relation::Distance { a, b, ra: 1, rb: 1 }, ..fine });
        } else {
            all.push(fine);
        }
    }
    all
}

/// Readings that together hold what is free: for each free motion the one that sees it best.
pub fn to_determine(network: &Network, adjusted: &Adjusted, loose: &[Undetermined]) -> Vec<Further> {
    let mut motions = adjusted.factor.motions.clone();
    let free = |p: usize| loose.iter().any(|u| u.point == p);
    let mut asked = Vec::new();
    let all: Vec<(Further, Row)> = candidates(network, free)
        .into_iter()
        .map(|c| (c, c.relation.row(network, &adjusted.state).1))
        .collect();
    while let Some(motion) = motions.pop() {
        let seen = all.iter().map(|(c, row)| (c, row, row.dot(&motion).abs()));
        let Some((best, row, sight)) = seen.max_by(|a, b| a.2.total_cmp(&b.2)) else { break };
        if sight < STILL {
            continue;
        }
        asked.push(*best);
        // what the others do that this reading does not see
        let own = row.dot(&motion);
        for other in &mut motions {
            let share = row.dot(other) / own;
            other.iter_mut().zip(&motion).for_each(|(o, m)| *o -= share * m);
        }
    }
    asked
}

/// The covariance of a point: xx, xy, yy in mm².
pub fn covariance(network: &Network, q: &Matrix, p: usize) -> (f64, f64, f64) {
    let (x, y) = network.unknowns(p);
    let at = |a: Option<usize>, b: Option<usize>| match (a, b) {
        (Some(a), Some(b)) => q.at(a, b),
        _ => 0.0,
    };
    (at(x, x), at(x, y), at(y, y))
}

/// Q bᵀ.
fn sight(row: &Row, q: &Matrix) -> Vec<f64> {
    let mut out = vec![0.0; q.size()];
    for (u, d) in &row.terms {
        out.iter_mut().zip(q.row(*u)).for_each(|(s, v)| *s += d * v);
    }
    out
}

/// The point with the longest ellipse among those that hold, and the distance from it that shortens it most.
pub fn weakest(network: &Network, q: &Matrix, s: &State, loose: &[Undetermined]) -> Option<Weakest> {
    let ellipse = |p: usize| {
        let (xx, xy, yy) = covariance(network, q, p);
        Ellipse::of(xx, xy, yy).major
    };
    let held = (0..network.points.len()).filter(|p| !loose.iter().any(|u| u.point == *p && !u.radius_only));
    let (point, now) =
        held.clone().map(|p| (p, ellipse(p))).max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))?;
    if now <= 0.0 {
        return None;
    }
    let (x, y) = network.unknowns(point);
    let (xx, xy, yy) = covariance(network, q, point);
    let mut best: Option<Weakest> = None;
    for further in candidates(network, |p| p == point) {
        let Relation::Distance { a, b, .. } = further.relation else { continue };
        if loose.iter().any(|u| u.point == a || u.point == b) {
            continue;
        }
        let (_, row) = further.relation.row(network, s);
        let seen = sight(&row, q);
        let scale = 1.0 / (further.sigma * further.sigma + row.dot(&seen));
        let by = |u: Option<usize>| u.map_or(0.0, |u| seen[u]);
        let (bx, by) = (by(x), by(y));
        let then = Ellipse::of(xx - bx * bx * scale, xy - bx * by * scale, yy - by * by * scale).major;
        if best.as_ref().is_none_or(|w| then < w.then) {
            best = Some(Weakest { point, now, further, then });
        }
    }
    best.filter(|w| w.then < 0.95 * w.now)
}

/// b Q bᵀ.
fn spread(row: &Row, q: &Matrix) -> f64 {
    row.terms.iter().map(|(u, d)| d * row.dot(q.row(*u))).sum()
}

/// Candidates that are looked at in full.
const LOOKED_AT: usize = 6;

/// The reading that would make an observation checkable, if one alone does.
pub fn to_check(
    network: &Network,
    adjusted: &Adjusted,
    tests: &[Option<Test>],
    i: usize,
    q: &Matrix,
) -> Option<Further> {
    let (own, o) = (tests[i].as_ref()?, &network.observations[i]);
    let near = o.points();
    let asked = candidates(network, |p| near.contains(&p));
    let mut best: Vec<(f64, Further, Row)> = Vec::new();
    // a pick is checked with a tape
    let fine = if o.relation.in_pixels() { f64::INFINITY } else { o.sigma };
    for further in finer(network, &adjusted.state, fine, asked) {
        // the same once more checks it, and does not say which of the two is wrong
        if further.relation == o.relation {
            continue;
        }
        let (_, new) = further.relation.row(network, &adjusted.state);
        let scale = 1.0 / (further.sigma * further.sigma + spread(&new, q));
        let by = new.dot(&own.sight);
        let redundancy = own.redundancy + by * by * scale / (o.sigma * o.sigma);
        if redundancy >= LEAST_REDUNDANCY {
            let rho = own.like.map_or(0.0, |(j, _)| after(network, adjusted, tests, (i, j), &new, scale));
            best.push((redundancy - rho, further, new));
        }
    }
    // the likeliest first; alike, the one that stands first in the list
    best.sort_by(|a, b| b.0.total_cmp(&a.0));
    best.into_iter()
        .take(LOOKED_AT)
        .find(|(_, further, new)| {
            let variance = further.sigma * further.sigma;
            let all = spread(new, q);
            let scale = 1.0 / (variance + all);
            let by = new.dot(&own.sight);
            let redundancy = own.redundancy + by * by * scale / (o.sigma * o.sigma);
            let with_new =
                by.abs() * further.sigma * scale / (o.sigma * (redundancy * variance * scale).sqrt());
            let others = (0..tests.len()).filter(|j| *j != i && tests[*j].is_some());
            with_new <= MOST_CORRELATION
                && others
                    .map(|j| after(network, adjusted, tests, (i, j), new, scale))
                    .all(|r| r <= MOST_CORRELATION)
        })
        .map(|(_, f, _)| f)
}

/// The correlation of two tests once a reading with row `new` is there; `scale` is one over the variance of its misclosure.
fn after(
    network: &Network,
    adjusted: &Adjusted,
    tests: &[Option<Test>],
    (i, j): (usize, usize),
    new: &Row,
    scale: f64,
) -> f64 {
    let (Some(a), Some(b), Some((_, line))) = (&tests[i], &tests[j], &adjusted.rows[j]) else { return 0.0 };
    let (si, sj) = (network.observations[i].sigma, network.observations[j].sigma);
    let (to_a, to_b) = (new.dot(&a.sight), new.dot(&b.sight));
    let ra = a.redundancy + to_a * to_a * scale / (si * si);
    let rb = b.redundancy + to_b * to_b * scale / (sj * sj);
    if rb <= STILL {
        return 0.0;
    }
    (line.dot(&a.sight) - to_a * to_b * scale).abs() / (si * sj * (ra * rb).sqrt())
}
