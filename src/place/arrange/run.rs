//! The whole way: places at which nothing bars anything, every rule asked, numbers made round.

use super::bar::Why;
use super::cost::{Cost, Costs};
use super::dice::Dice;
use super::ground::Ground;
use super::improve::{improve, loosen};
use super::judged::Judged;
use super::separate::{Search, WAYS};
use super::watch::Watch;
use crate::check::Finding;
use crate::geom::{Vec2, length};
use crate::panel::Panel;

/// An arrangement.
pub struct Arranged {
    /// The panel, everything in its new place.
    pub panel: Panel,
    /// Shift of each piece.
    pub at: Vec<Vec2>,
    /// What rules still object to, that another place might cure.
    pub bad: Vec<Finding>,
    /// What else is no pass: no place settles it.
    pub beside: Vec<Finding>,
    /// What it costs, term by term.
    pub costs: Vec<Cost>,
}

/// Why none was found.
#[derive(Clone, Debug)]
pub struct Conflict {
    /// By how much the two overlap what the rules ask, mm, where all overlap is least.
    pub by: f64,
    /// Pieces that overlap there.
    pub overlapping: usize,
    /// The two, and what keeps them apart; `None`: not known.
    pub why: Option<Why>,
    /// It fits nowhere on its sheet, whatever else stands there.
    pub alone: bool,
}

/// What came of it.
pub enum Outcome {
    /// Arrangements in which nothing bars anything, the cheapest first.
    Found(Vec<Arranged>),
    /// None within the moves.
    None(Conflict),
}

/// What is asked of a run.
#[derive(Clone, Copy, Debug)]
pub struct Asked {
    /// The same seed gives the same arrangements.
    pub seed: u64,
    /// So many arrangements that differ, at the most.
    pub different: usize,
}

/// So many arrangements are worked out for each that is asked for; the first begins where everything stands.
const ROUNDS: u64 = 4;

/// Moves of a round, at the most: more rounds are better than longer ones.
const LONGEST: u64 = 60_000;

/// Moves of the first round.
const ROUGH: u64 = 3_000;

/// So many are kept for each that is asked for.
const KEPT: usize = 12;

/// Two arrangements differ where pieces stand so far from each other in the mean, mm.
const DIFFERENT: f64 = 25.0;

/// Part of a round's moves that is spent on loosening.
const LOOSE: f64 = 0.4;

/// Looks for arrangements of the pieces of a panel.
pub fn arrange(panel: &Panel, mut ground: Ground, asked: Asked, watch: &mut Watch<'_>) -> Outcome {
    if let Some(k) = ground.inner.iter().position(|c| c.len() < 3) {
        return Outcome::None(Conflict { by: 0.0, overlapping: 1, why: ground.too_large[k], alone: true });
    }
    let first = Judged::new(panel, &ground);
    ground.trust(|i, j| first.objects(i, j));
    let ground = &ground;
    let costs = Costs::new(panel, &ground.pieces);
    let different = asked.different.max(1);
    let share = (watch.most / (ROUNDS * different as u64)).clamp(1, LONGEST);
    let worth = |j: &Judged| (j.bad().len(), costs.total(&j.at));
    let mut all: Vec<((usize, f64), Vec<Vec2>)> = Vec::new();
    // what stands in order already is the first to beat
    if first.bad().is_empty() {
        all.push((worth(&first), first.at.clone()));
    }
    let mut least: Option<(f64, Vec<Vec2>)> = None;
    let mut round = 0;
    while !watch.over() && !ground.pieces.is_empty() {
        let mut dice = Dice::new(asked.seed.wrapping_mul(1_000_003).wrapping_add(round));
        // the first one is rough: whoever stops early has something
        let share = if round == 0 { share.min(ROUGH) } else { share.min(watch.most - watch.made) };
        let until = watch.made + share;
        let mut search = Search::new(ground, vec![Vec2::ZERO; ground.pieces.len()]);
        let start = if round < 2 { search.at.clone() } else { search.anywhere(&mut dice) };
        round += 1;
        watch.phase("looking where things would go");
        let at = loosen(ground, &costs, start, &mut dice, watch, (share as f64 * LOOSE) as u64);
        search = Search::new(ground, at);
        watch.phase("looking for room");
        if !search.run(&mut dice, watch) {
            if least.as_ref().is_none_or(|l| search.best.0 < l.0) {
                least = Some(search.best);
            }
            continue;
        }
        let mut judged = first.clone();
        judged.to(ground, &search.at);
        judged.mend(ground, &mut dice, watch);
        watch.phase("making it better");
        improve(ground, &costs, &mut judged, &mut dice, watch, until.saturating_sub(watch.made));
        round_off(ground, &costs, &mut judged);
        all.push((worth(&judged), judged.at));
        // as many as could be asked for are kept
        rank(&mut all);
        all.truncate(KEPT * different);
    }
    rank(&mut all);
    let mut found: Vec<Arranged> = Vec::new();
    for (_, at) in all {
        if found.len() < different && found.iter().all(|f| apart(&f.at, &at) >= DIFFERENT) {
            let mut j = first.clone();
            j.to(ground, &at);
            let (bad, beside, costs) = (j.bad(), j.beside(), costs.each(&j.at));
            found.push(Arranged { at, panel: j.panel, bad, beside, costs });
        }
    }
    match (found.is_empty(), least) {
        (false, _) => Outcome::Found(found),
        (true, Some((_, at))) => Outcome::None(conflict(ground, &at)),
        (true, None) => Outcome::None(conflict(ground, &vec![Vec2::ZERO; ground.pieces.len()])),
    }
}

/// Fewest objections first, then the cheapest.
fn rank(all: &mut [((usize, f64), Vec<Vec2>)]) {
    all.sort_by(|(a, _), (b, _)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
}

/// How far the pieces of two arrangements stand from each other in the mean.
fn apart(a: &[Vec2], b: &[Vec2]) -> f64 {
    a.iter().zip(b).map(|(p, q)| length(*p - *q)).sum::<f64>() / a.len().max(1) as f64
}

/// The deepest overlap.
fn conflict(ground: &Ground, at: &[Vec2]) -> Conflict {
    let n = at.len();
    let walls = (0..n).filter_map(|i| ground.why_wall(i, at[i]));
    let pairs = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
    let pairs: Vec<(f64, Why)> = pairs.filter_map(|(i, j)| ground.why(i, at[i], j, at[j])).collect();
    let all: Vec<(f64, Why)> = walls.chain(pairs).collect();
    let worst = all.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    Conflict { by: worst.map_or(0.0, |w| w.0), overlapping: all.len(), why: worst.map(|w| w.1), alone: false }
}

/// Brings places to round numbers where every rule still holds: millimetres, then halves, then tenths, hundredths.
fn round_off(ground: &Ground, costs: &Costs<'_>, judged: &mut Judged) {
    let bad = judged.bad().len();
    let enough = costs.total(&judged.at) * 1.02 + 0.05;
    let moved = (0..ground.pieces.len()).filter(|k| judged.at[*k] != Vec2::ZERO);
    for k in moved.collect::<Vec<_>>() {
        let lead = judged.panel.subjects[ground.pieces[k].lead].at;
        let search = Search::new(ground, judged.at.clone());
        for grid in [1.0, 2.0, 10.0, 100.0] {
            let near = |v: f64| (v * grid).round() / grid;
            let tried = std::iter::once((0.0, 0.0))
                .chain(WAYS)
                .map(|(x, y)| Vec2::new(near(lead.x) + x / grid - lead.x, near(lead.y) + y / grid - lead.y));
            let cheap = |by: Vec2| {
                let mut at = judged.at.clone();
                at[k] += by;
                costs.total(&at) <= enough
            };
            let fits: Vec<Vec2> =
                tried.filter(|by| search.free(k, judged.at[k] + *by) && cheap(*by)).take(2).collect();
            let mut done = false;
            for by in fits {
                let mut trial = judged.clone();
                let mut at = trial.at.clone();
                at[k] += by;
                trial.to(ground, &at);
                if trial.bad().len() <= bad {
                    *judged = trial;
                    done = true;
                    break;
                }
            }
            if done {
                break;
            }
        }
    }
}
