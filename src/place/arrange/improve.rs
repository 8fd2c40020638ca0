//! Makes an arrangement cheaper step by step, through places only at which nothing bars anything and no rule objects.
//!
//! (Simulated annealing: Kirkpatrick, Gelatt and Vecchi 1983.)

use super::cost::Costs;
use super::dice::Dice;
use super::ground::Ground;
use super::judged::Judged;
use super::separate::Search;
use super::watch::Watch;
use crate::geom::Vec2;

/// Part of the moves after which only what is better is taken.
const COOL: f64 = 0.8;

/// Worse by this part of the first cost is taken once in e times in the beginning.
const WARM: f64 = 0.03;

/// The same in the end.
const COLD: f64 = 1e-4;

/// Moves pieces about for so many moves; leaves the cheapest arrangement that it met.
pub fn improve(
    ground: &Ground,
    costs: &Costs<'_>,
    judged: &mut Judged,
    dice: &mut Dice,
    watch: &mut Watch<'_>,
    moves: u64,
) {
    let mut search = Search::new(ground, judged.at.clone());
    let mut cost = costs.total(&search.at);
    let bad = judged.bad().len();
    let first = cost.max(1.0);
    let mut best = (cost, search.at.clone());
    for step in 0..moves {
        if !watch.another(|| format!("cost {:.1}", best.0)) {
            break;
        }
        let part = step as f64 / moves as f64;
        let heat = if part < COOL { first * WARM * libm::pow(COLD / WARM, part / COOL) } else { 0.0 };
        let was = search.at.clone();
        let moved = propose(ground, costs, &mut search, dice, part);
        let now = costs.total(&search.at);
        let worse = now - cost;
        let taken = worse < 0.0 || worse > 0.0 && heat > 0.0 && dice.unit() < libm::exp(-worse / heat);
        let free = taken && !moved.is_empty() && moved.iter().all(|k| search.free(*k, search.at[*k]));
        if !free || !agrees(ground, judged, &search.at, bad) {
            search.at = was;
            continue;
        }
        cost = now;
        if cost < best.0 {
            best = (cost, search.at.clone());
        }
    }
    judged.to(ground, &best.1);
}

/// Overlap counts this much of the cost per mm in the beginning of the loosening.
const SOFT: f64 = 0.02;

/// The same in the end.
const HARD: f64 = 20.0;

/// Lets pieces overlap while they seek their places, the less the longer: what belongs together finds together first.
pub fn loosen(
    ground: &Ground,
    costs: &Costs<'_>,
    at: Vec<Vec2>,
    dice: &mut Dice,
    watch: &mut Watch<'_>,
    moves: u64,
) -> Vec<Vec2> {
    let mut search = Search::new(ground, at);
    let mut cost = costs.total(&search.at);
    let first = cost.max(1.0);
    for step in 0..moves {
        if !watch.another(|| format!("cost {cost:.1}, pieces still overlap")) {
            break;
        }
        let part = step as f64 / moves as f64;
        let heat = first * 0.1 * libm::pow(1e-4, part);
        let counts = first * 0.01 * SOFT * libm::pow(HARD / SOFT, part);
        let was = search.at.clone();
        let moved = propose(ground, costs, &mut search, dice, part);
        let now = costs.total(&search.at);
        let over = |search: &Search<'_>| moved.iter().map(|k| search.own(*k)).sum::<f64>();
        let after = over(&search);
        let there = std::mem::replace(&mut search.at, was);
        let worse = now - cost + counts * (after - over(&search));
        if after.is_finite() && (worse < 0.0 || dice.unit() < libm::exp(-worse / heat)) {
            search.at = there;
            cost = now;
        }
    }
    search.at
}

/// Whether the rules object to no more than they did; goes back where they do.
fn agrees(ground: &Ground, judged: &mut Judged, at: &[Vec2], bad: usize) -> bool {
    let before = (judged.at.clone(), judged.findings.clone());
    judged.to(ground, at);
    if judged.bad().len() <= bad {
        return true;
    }
    judged.back(ground, before.0, before.1);
    false
}

/// Another place for one piece or for a few; which were moved.
fn propose(
    ground: &Ground,
    costs: &Costs<'_>,
    search: &mut Search<'_>,
    dice: &mut Dice,
    part: f64,
) -> Vec<usize> {
    let n = ground.pieces.len();
    let i = dice.below(n);
    let lead = |k: usize| ground.pieces[k].lead;
    let centre = |search: &Search<'_>, k: usize| costs.face(k, &search.at).center();
    let step = |dice: &mut Dice, far: f64| Vec2::new(dice.between(-far, far), dice.between(-far, far));
    match dice.below(10) {
        0 => search.at[i] = search.somewhere(i, dice),
        1 | 2 => {
            // in line with any other
            let other = centre(search, costs.any_item(dice));
            let own = centre(search, lead(i));
            if dice.below(2) == 0 {
                search.at[i].x += other.x - own.x
            } else {
                search.at[i].y += other.y - own.y
            }
        }
        3 => {
            let far = 30.0 * (1.0 - part) + 0.5;
            search.at[i] += step(dice, far);
        }
        4 => {
            // two change places
            let j = dice.below(n);
            if i == j {
                return Vec::new();
            }
            let d = centre(search, lead(j)) - centre(search, lead(i));
            search.at[i] += d;
            search.at[j] -= d;
            return vec![i, j];
        }
        5 | 6 => {
            // beside one that belongs to it
            let Some((k, of)) = costs.relative(dice) else { return Vec::new() };
            let Some(i) = ground.piece_of(k) else { return Vec::new() };
            beside(ground, costs, search, dice, i, of);
            return vec![i];
        }
        7 => {
            let Some(moved) = in_a_row(ground, costs, search, dice) else { return Vec::new() };
            return moved;
        }
        _ => {
            // all that belong together by the same way
            let Some(all) = costs.some_related(dice) else { return Vec::new() };
            let mut pieces: Vec<usize> = all.iter().filter_map(|k| ground.piece_of(*k)).collect();
            pieces.sort_unstable();
            pieces.dedup();
            let by = step(dice, 60.0 * (1.0 - part) + 1.0);
            let by = if dice.below(2) == 0 { Vec2::new(by.x, 0.0) } else { Vec2::new(0.0, by.y) };
            for k in &pieces {
                search.at[*k] += by;
            }
            return pieces;
        }
    }
    vec![i]
}

/// Puts the items of a row beside one of them, each touching the next.
fn in_a_row(
    ground: &Ground,
    costs: &Costs<'_>,
    search: &mut Search<'_>,
    dice: &mut Dice,
) -> Option<Vec<usize>> {
    let row = costs.some_row(dice)?;
    let anchor = dice.below(row.items.len());
    let mut moved = Vec::new();
    let after: Vec<usize> = (anchor + 1..row.items.len()).collect();
    for (steps, way) in [(after, 1.0), ((0..anchor).rev().collect(), -1.0)] {
        let mut last = *row.items.get(anchor)?;
        for k in steps {
            let next = *row.items.get(k)?;
            let Some(i) = ground.piece_of(next) else { break };
            let (own, other) = (costs.face(next, &search.at), costs.face(last, &search.at));
            let along = row.along * way;
            let touch = ground.piece_of(last).and_then(|j| ground.reach(i, j));
            // centres in line; then as far as what bars the two asks, or a little farther than their faces
            search.at[i] += other.center() - own.center();
            let by = match (touch, ground.piece_of(last)) {
                (Some(t), Some(j)) => {
                    let least =
                        if along.x + along.y > 0.0 { Vec2::new(t.x1, t.y1) } else { Vec2::new(t.x0, t.y0) };
                    let lacks = search.at[j] + least - search.at[i];
                    (lacks.x * along.x + lacks.y * along.y) + 1e-4
                }
                _ => {
                    let (w, h) = ((own.width() + other.width()) / 2.0, (own.height() + other.height()) / 2.0);
                    w * along.x.abs() + h * along.y.abs() + 3.0
                }
            };
            search.at[i] += along * by;
            moved.push(i);
            last = next;
        }
    }
    moved.sort_unstable();
    moved.dedup();
    Some(moved)
}

/// Puts a piece so that it touches an item, in line with it.
fn beside(ground: &Ground, costs: &Costs<'_>, search: &mut Search<'_>, dice: &mut Dice, i: usize, of: usize) {
    let (own, other) = (costs.face(ground.pieces[i].lead, &search.at), costs.face(of, &search.at));
    let d = other.center() - own.center();
    let far = Vec2::new((own.width() + other.width()) / 2.0, (own.height() + other.height()) / 2.0);
    let touch = ground.piece_of(of).and_then(|j| Some(ground.reach(i, j)? + search.at[j]));
    let outside = 1e-4;
    let to = match (dice.below(4), touch) {
        (0, Some(t)) => Vec2::new(t.x0 - outside, search.at[i].y + d.y),
        (1, Some(t)) => Vec2::new(t.x1 + outside, search.at[i].y + d.y),
        (2, Some(t)) => Vec2::new(search.at[i].x + d.x, t.y0 - outside),
        (_, Some(t)) => Vec2::new(search.at[i].x + d.x, t.y1 + outside),
        (side, None) => {
            let gap = dice.between(1.0, 10.0);
            let by = match side {
                0 => Vec2::new(-far.x - gap, 0.0),
                1 => Vec2::new(far.x + gap, 0.0),
                2 => Vec2::new(0.0, -far.y - gap),
                _ => Vec2::new(0.0, far.y + gap),
            };
            search.at[i] + d + by
        }
    };
    search.at[i] = to;
}
