//! The whole: figure, adjustment, wrong readings set aside, tests, what is weak and what would help.

use super::adjust::{Adjusted, adjust};
use super::mirror::{Ambiguous, figure};
use super::network::Network;
use super::next::{self, Further, Undetermined, Weakest};
use super::normal::Matrix;
use super::observation::{Origin, Relation};
use super::rival::{self, Either};
use super::slip::{Slip, slip};
use super::snoop::{Test, tests};
use super::statistics::{chi_square_95, critical};
use crate::diag::{Problem, Problems};
use crate::units::fmt_mm;

/// Tests within this share of the largest are tried too.
const RIVAL: f64 = 0.7;
/// Two refits whose sums differ by less cannot be told apart (95 % of chi-square with one degree of freedom).
const APART: f64 = 3.84;

/// A reading that disagrees with the rest and was set aside.
#[derive(Clone, Debug)]
pub struct Suspect {
    /// Its observation.
    pub observation: usize,
    /// What the others expect that the tool reads, mm.
    pub expected: f64,
    /// Standard deviation of that together with the reading's own, mm.
    pub sigma: f64,
    /// Reading less expected, mm.
    pub off: f64,
    /// The value of its test when it was set aside.
    pub test: f64,
    /// What it should perhaps have been; none for a condition.
    pub slip: Option<Slip>,
    /// Observations that could be wrong instead of it.
    pub rivals: Vec<usize>,
}

/// An adjusted survey.
#[derive(Clone, Debug)]
pub struct Solved {
    /// What was adjusted.
    pub network: Network,
    /// Whether an observation was used.
    pub used: Vec<bool>,
    /// The adjustment.
    pub adjusted: Adjusted,
    /// Covariance of the unknowns by the stated deviations, mm².
    pub cofactor: Matrix,
    /// Tests of what was used.
    pub tests: Vec<Option<Test>>,
    /// What was set aside, in the order in which it was found.
    pub suspects: Vec<Suspect>,
    /// Observations more than needed.
    pub freedom: usize,
    /// By how much the residuals are larger than the stated deviations say: root of the sum of squares over freedom.
    pub ratio: f64,
    /// What every standard deviation is multiplied with: 1 where the residuals fit the stated deviations.
    pub scale: f64,
    /// Points that lie elsewhere if another reading is the wrong one: their deviations are not known.
    pub either: Vec<Either>,
    /// Other figures that fit.
    pub ambiguous: Vec<Ambiguous>,
    /// What the readings leave free.
    pub undetermined: Vec<Undetermined>,
    /// Zero errors that they leave free.
    pub loose_zeros: Vec<usize>,
    /// Readings that would hold what is free.
    pub to_determine: Vec<Further>,
    /// The weakest point and what would help it.
    pub weakest: Option<Weakest>,
    /// Observations in which an error would not be found, with the reading that would change that.
    pub not_checkable: Vec<(usize, Option<Further>)>,
}

impl Solved {
    /// Whether a point's place is held by the readings.
    pub fn holds(&self, p: usize) -> bool {
        !self.undetermined.iter().any(|u| u.point == p && !u.radius_only)
    }

    /// Whether a circle's radius is held.
    pub fn sized(&self, p: usize) -> bool {
        let unknown = self.network.radius_unknown(p);
        unknown.is_some_and(|u| self.adjusted.factor.motions.iter().all(|m| m[u].abs() < 1e-6))
    }

    /// Whether nothing is left to ask: all held, one figure, no reading set aside, the whole fits.
    pub fn clean(&self) -> bool {
        self.suspects.is_empty()
            && self.ambiguous.is_empty()
            && self.undetermined.is_empty()
            && self.loose_zeros.is_empty()
            && self.scale == 1.0
    }

    /// Whether a point lies elsewhere if another reading is the wrong one.
    pub fn doubtful(&self, p: usize) -> bool {
        self.either.iter().any(|e| e.point == p)
    }

    /// The 95 % ellipse of a point, relative to the datum.
    pub fn ellipse(&self, p: usize) -> super::Ellipse {
        let (xx, xy, yy) = next::covariance(&self.network, &self.cofactor, p);
        super::Ellipse::of(xx, xy, yy).scaled(self.scale)
    }

    /// Standard deviations of x and y, mm.
    pub fn deviations(&self, p: usize) -> (f64, f64) {
        let (xx, _, yy) = next::covariance(&self.network, &self.cofactor, p);
        (xx.max(0.0).sqrt() * self.scale, yy.max(0.0).sqrt() * self.scale)
    }

    /// Standard deviation of a circle's radius, mm.
    pub fn radius_deviation(&self, p: usize) -> f64 {
        self.network.radius_unknown(p).map_or(0.0, |u| self.cofactor.at(u, u).max(0.0).sqrt()) * self.scale
    }
}

/// Adjusts a network.
///
/// # Errors
/// Control points on one line that leave a point's side open, and distances that no triangle has and no other reading
/// can judge.
pub fn solve(network: Network) -> Result<Solved, Problems> {
    let mut used = vec![true; network.observations.len()];
    let first = figure(&network, &used);
    control(&network, &first.ambiguous)?;
    let (mut adjusted, mut ambiguous) = (first.adjusted, first.ambiguous);
    let mut cofactor = adjusted.factor.inverse();
    let mut found = tests(&network, &adjusted, &cofactor);
    let mut suspects: Vec<(usize, f64, Vec<usize>)> = Vec::new();
    let most = (network.observations.len() / 5).max(1);
    while suspects.len() < most {
        let Some((worst, rivals, next)) = wrong(&network, &used, &adjusted, &found) else { break };
        for i in together(&network, worst) {
            suspects.push((i, found[i].as_ref().map_or(0.0, |t| t.test), rivals.clone()));
            used[i] = false;
        }
        adjusted = next;
        cofactor = adjusted.factor.inverse();
        found = tests(&network, &adjusted, &cofactor);
    }
    if !suspects.is_empty() {
        // it may have led the first coordinates astray
        let again = figure(&network, &used);
        if again.adjusted.sum <= adjusted.sum + APART {
            (adjusted, ambiguous) = (again.adjusted, again.ambiguous);
            cofactor = adjusted.factor.inverse();
            found = tests(&network, &adjusted, &cofactor);
        }
    }
    let suspects = judge(&network, &adjusted, &cofactor, suspects);
    triangles(&network, &suspects, &found)?;
    let held = network.unknowns - adjusted.factor.motions.len();
    let count = used.iter().filter(|u| **u).count();
    let freedom = count.saturating_sub(held);
    let ratio = if freedom == 0 { 1.0 } else { (adjusted.sum / freedom as f64).sqrt() };
    let scale = if freedom > 0 && adjusted.sum > chi_square_95(freedom) { ratio } else { 1.0 };
    let (undetermined, loose_zeros) = next::undetermined(&network, &adjusted);
    let to_determine = next::to_determine(&network, &adjusted, &undetermined);
    let weakest = next::weakest(&network, &cofactor, &adjusted.state, &undetermined);
    let read = |i: usize| matches!(network.observations[i].origin, Origin::Reading(_) | Origin::Pick(..));
    let poor = |i: &usize| read(*i) && found[*i].as_ref().is_some_and(|t| !t.checkable());
    let readings = (0..network.observations.len()).filter(poor);
    let not_checkable =
        readings.map(|i| (i, next::to_check(&network, &adjusted, &found, i, &cofactor))).collect();
    let figures = rival::figures(&network, &used, &adjusted, &suspects);
    let mut solved = Solved {
        used,
        cofactor,
        tests: found,
        suspects,
        freedom,
        ratio,
        scale,
        either: Vec::new(),
        ambiguous,
        undetermined,
        loose_zeros,
        to_determine,
        weakest,
        not_checkable,
        adjusted,
        network,
    };
    solved.either = rival::either(&solved, &figures);
    Ok(solved)
}

/// The observation whose test is worst and that, left out, mends most; those that mend as much; and the adjustment
/// without it. Nothing when every test is within what chance does.
fn wrong(
    network: &Network,
    used: &[bool],
    adjusted: &Adjusted,
    found: &[Option<Test>],
) -> Option<(usize, Vec<usize>, Adjusted)> {
    let size = |i: usize| found[i].as_ref().map_or(0.0, |t| t.test.abs());
    let count = used.iter().filter(|u| **u).count();
    let mut order: Vec<usize> = (0..found.len()).filter(|i| found[*i].is_some()).collect();
    order.sort_by(|a, b| size(*b).total_cmp(&size(*a)).then(a.cmp(b)));
    let worst = size(*order.first()?);
    if worst <= critical(count) {
        return None;
    }
    let mut tried: Vec<(usize, f64, Adjusted)> = Vec::new();
    let mut asked: Vec<usize> = Vec::new();
    for i in order.into_iter().filter(|i| size(*i) >= RIVAL * worst) {
        let all = together(network, i);
        if asked.contains(&i) || tried.len() == 5 {
            continue;
        }
        let mut without = used.to_vec();
        all.iter().for_each(|k| without[*k] = false);
        let next = adjust(network, &without, &adjusted.state);
        // each that is left out takes one from the sum by chance alone
        tried.push((i, next.sum + all.len() as f64, next));
        asked.extend(all);
    }
    tried.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    let least = tried.first()?.1;
    let rivals = tried.iter().skip(1).filter(|t| t.1 < least + APART).map(|t| t.0).collect();
    let (worst, _, best) = tried.into_iter().next()?;
    Some((worst, rivals, best))
}

/// What is wrong together: who picks a wrong place has both its coordinates wrong.
pub(super) fn together(network: &Network, i: usize) -> Vec<usize> {
    let Relation::Picked { pick, .. } = network.observations[i].relation else { return vec![i] };
    let same = |k: &usize| matches!(network.observations[*k].relation, Relation::Picked { pick: p, .. } if p == pick);
    (0..network.observations.len()).filter(same).collect()
}

/// What the final adjustment says of what was set aside.
fn judge(
    network: &Network,
    adjusted: &Adjusted,
    q: &Matrix,
    found: Vec<(usize, f64, Vec<usize>)>,
) -> Vec<Suspect> {
    let one = |(observation, test, rivals): (usize, f64, Vec<usize>)| {
        let o = &network.observations[observation];
        let (value, row) = o.row(network, &adjusted.state);
        let mut spread = 0.0;
        for (u, d) in &row.terms {
            spread += d * row.dot(q.row(*u));
        }
        let sigma = (o.sigma * o.sigma + spread.max(0.0)).sqrt();
        let (expected, reads) = (value + o.reduced, o.value + o.reduced);
        let slip =
            matches!(o.origin, Origin::Reading(_)).then(|| slip(&o.written, reads, expected, 3.0 * sigma));
        Suspect { observation, expected, sigma, off: reads - expected, test, slip, rivals }
    };
    found.into_iter().map(one).collect()
}

/// Known points on one line leave open on which side of it a point lies.
fn control(network: &Network, ambiguous: &[Ambiguous]) -> Result<(), Problems> {
    let known: Vec<usize> =
        (0..network.points.len()).filter(|p| network.points[*p].known.is_some()).collect();
    let at = |p: usize| network.points[p].known.unwrap_or_default();
    let [a, b, rest @ ..] = &known[..] else { return Ok(()) };
    let off = |c: &usize| {
        let base = at(*b) - at(*a);
        base.cross(at(*c) - at(*a)).abs() / base.hypot2().sqrt().max(1e-9)
    };
    if rest.is_empty() || rest.iter().any(|c| off(c) > 0.01) {
        return Ok(());
    }
    let mut problems = Problems::new();
    let names: Vec<&str> = known.iter().map(|p| network.points[*p].id.as_ref()).collect();
    for open in ambiguous {
        let p = &network.points[open.point];
        let message = format!(
            "the known points {} lie on one line: `{}` may lie on either side of it",
            names.join(", "),
            p.id
        );
        let first = network.observations.iter().find(|o| o.points().contains(&open.point));
        let (reading, place) = match first {
            Some(o) => (format!("{} is the first about it; ", said(&o.origin)), &o.place),
            None => (String::new(), &p.place),
        };
        problems.push(Problem::new("collinear-control", place, message).help(format!(
            "{reading}say its side (\"above\", \"below\", \"left-of\", \"right-of\"), or add a known point off that line"
        )));
    }
    problems.or(())
}

/// Distances between three points of which one is longer than the other two together, where no other reading tells
/// which of them is wrong.
fn triangles(network: &Network, suspects: &[Suspect], found: &[Option<Test>]) -> Result<(), Problems> {
    let n = network.points.len();
    let mut from: Vec<Vec<(usize, usize)>> = vec![Vec::new(); n];
    for (i, o) in network.observations.iter().enumerate() {
        if let Relation::Distance { a, b, ra: 0, rb: 0 } = o.relation {
            from[a].push((b, i));
        }
    }
    let mut problems = Problems::new();
    for a in 0..n {
        for (x, &(b, ab)) in from[a].iter().enumerate() {
            for &(c, ac) in from[a].iter().skip(x + 1).filter(|(c, _)| *c != b) {
                let (low, high) = (b.min(c), b.max(c));
                for &(_, bc) in from[low].iter().filter(|(q, _)| *q == high) {
                    let three = [ab, ac, bc];
                    let told = |s: &Suspect| {
                        three.contains(&s.observation) && !s.rivals.iter().any(|r| three.contains(r))
                    };
                    let judged = |i: &usize| found[*i].as_ref().is_some_and(Test::checkable);
                    if !suspects.iter().any(told)
                        && !three.iter().any(judged)
                        && let Some(problem) = violated(network, three)
                    {
                        problems.push(problem);
                    }
                }
            }
        }
    }
    problems.or(())
}

fn violated(network: &Network, three: [usize; 3]) -> Option<Problem> {
    let mut of: Vec<_> = three.iter().map(|i| &network.observations[*i]).collect();
    of.sort_by(|a, b| a.value.total_cmp(&b.value));
    let [one, two, long] = of[..] else { return None };
    let sigma = (one.sigma * one.sigma + two.sigma * two.sigma + long.sigma * long.sigma).sqrt();
    let short = long.value - one.value - two.value;
    if short <= 4.0 * sigma {
        return None;
    }
    let message = format!(
        "{} ({}) is longer by {} than {} ({}) and {} ({}) together: no triangle has these sides",
        said(&long.origin),
        long.written,
        fmt_mm(short),
        said(&one.origin),
        one.written,
        said(&two.origin),
        two.written
    );
    let help = format!(
        "measure the three again (lines {}, {} and {}); with a fourth point the program finds which is wrong",
        long.place.line, one.place.line, two.place.line
    );
    Some(Problem::new("no-triangle", &long.place, message).help(help))
}

/// "reading 14".
pub fn said(origin: &Origin) -> String {
    match origin {
        Origin::Reading(n) => format!("reading {n}"),
        Origin::Condition(n) => format!("condition {n}"),
        Origin::Pick(k, n) => format!("pick {n} of photograph {k}"),
        Origin::Picture(k) => format!("what is taken for photograph {k}"),
    }
}
