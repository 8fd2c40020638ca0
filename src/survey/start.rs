//! First coordinates: from point to point, each where two observations cross that touch points already placed.
//!
//! Where more than two touch it, the crossing that most of them agree on is taken, so that one wrong reading does not
//! mislead. Where two crossings fit alike and no stated side decides, that is a choice, and it is remembered.

use super::locus::{Locus, through};
use super::network::Network;
use super::observation::{Observation, Relation, State};
use super::picked::view;
use super::resect::round;
use crate::define::survey::Side;
use crate::geom::{Point, Vec2, angle};
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// What counts as agreement between observations while coordinates are rough, mm.
const ROUGH: f64 = 2.0;
/// Two crossings whose scores differ by less fit alike: one observation 5 mm off.
const ALIKE: f64 = 2.0;
/// Observations of one point that are crossed with each other; all are asked about each crossing.
const CROSSED: usize = 10;

/// First coordinates and how they came about.
#[derive(Clone, Debug)]
pub struct Start {
    /// Coordinates, radii, zero errors.
    pub state: State,
    /// Points where two places fitted alike, in the order in which they were placed.
    pub choices: Vec<usize>,
    /// Some point was placed by guess: the adjustment may end in a figure that does not fit.
    pub guessed: bool,
}

/// Finds first coordinates from the observations that are in use. `other` names points for which the second of two
/// places that fit alike is taken; what nothing places is guessed, for each `guess` elsewhere.
pub fn start(network: &Network, used: &[bool], other: &BTreeSet<usize>, guess: u32) -> Start {
    let n = network.points.len();
    let mut grow = Grow {
        network,
        used,
        touching: vec![Vec::new(); n],
        placed: network.points.iter().map(|p| p.known.is_some()).collect(),
        state: State {
            at: network.points.iter().map(|p| p.known.unwrap_or(Point::ORIGIN)).collect(),
            radius: vec![0.0; n],
            zero: vec![0.0; network.zeros.len()],
            cameras: network.pictures.iter().map(|p| p.camera.clone()).collect(),
        },
        sized: vec![false; n],
        taken: vec![false; network.pictures.len()],
    };
    for (i, o) in network.observations.iter().enumerate() {
        if used[i] {
            o.points().into_iter().for_each(|p| grow.touching[p].push(i));
        }
    }
    grow.sizes();
    let (choices, guessed) = grow.run(other, guess);
    Start { state: grow.state, choices, guessed }
}

struct Grow<'a> {
    network: &'a Network,
    used: &'a [bool],
    touching: Vec<Vec<usize>>,
    placed: Vec<bool>,
    state: State,
    sized: Vec<bool>,
    /// Whether a picture's camera is placed.
    taken: Vec<bool>,
}

/// Where a point may go.
#[derive(Clone, Debug)]
struct Places {
    loci: usize,
    best: Point,
    second: Option<Point>,
}

impl Grow<'_> {
    /// Radii that are read directly, are like such a one, or come from the near and far edges of one pair.
    fn sizes(&mut self) {
        let all = &self.network.observations;
        let live = || all.iter().enumerate().filter(|(i, _)| self.used[*i]).map(|(_, o)| o);
        for o in live() {
            if let Relation::Radius { c, k } = o.relation
                && !self.sized[c]
            {
                self.state.radius[c] = o.value / f64::from(k);
                self.sized[c] = true;
            }
        }
        for _ in 0..2 {
            for o in live() {
                if let Relation::SameSize { a, b } = o.relation {
                    for (from, to) in [(a, b), (b, a)] {
                        if self.sized[from] && !self.sized[to] {
                            self.state.radius[to] = self.state.radius[from];
                            self.sized[to] = true;
                        }
                    }
                }
            }
        }
        for o in live() {
            let Relation::Distance { a, b, ra: -1, rb: -1 } = o.relation else { continue };
            let far = live().find(|p| p.relation == Relation::Distance { a, b, ra: 1, rb: 1 });
            let Some(far) = far else { continue };
            let sum = (0.5 * (far.value - o.value)).max(0.0);
            match (self.sized[a], self.sized[b]) {
                (false, false) => {
                    self.state.radius[a] = 0.5 * sum;
                    self.state.radius[b] = 0.5 * sum;
                }
                (true, false) => self.state.radius[b] = (sum - self.state.radius[a]).max(0.0),
                (false, true) => self.state.radius[a] = (sum - self.state.radius[b]).max(0.0),
                (true, true) => {}
            }
            (self.sized[a], self.sized[b]) = (true, true);
        }
    }

    fn run(&mut self, other: &BTreeSet<usize>, turn: u32) -> (Vec<usize>, bool) {
        let mut guessed = false;
        let n = self.network.points.len();
        let mut choices = Vec::new();
        let mut fresh: Vec<bool> = vec![true; n];
        let mut places: Vec<Option<Places>> = vec![None; n];
        loop {
            for p in 0..n {
                if fresh[p] && !self.placed[p] {
                    places[p] = self.places(p);
                }
                fresh[p] = false;
            }
            // first what is certain, then what most observations touch, then by id
            let next = (0..n).filter(|p| !self.placed[*p] && places[*p].is_some()).min_by_key(|p| {
                let found = places[*p].as_ref();
                (found.is_some_and(|f| f.second.is_some()), Reverse(found.map_or(0, |f| f.loci)), *p)
            });
            let (p, at) = match next.and_then(|p| Some((p, places[p].take()?))) {
                Some((p, found)) => {
                    if found.second.is_some() {
                        choices.push(p);
                    }
                    let second = found.second.filter(|_| other.contains(&p));
                    (p, second.unwrap_or(found.best))
                }
                // what no reading places a picture may
                None if self.look(&mut fresh) => continue,
                None => match self.guess(turn) {
                    Some(guess) => {
                        guessed = true;
                        guess
                    }
                    None => break,
                },
            };
            self.placed[p] = true;
            self.state.at[p] = at;
            for &o in &self.touching[p] {
                self.network.observations[o].points().into_iter().for_each(|q| fresh[q] = true);
            }
        }
        self.look(&mut fresh);
        (choices, guessed)
    }

    /// Places the cameras of pictures that show enough placed points, and what else was picked in them.
    fn look(&mut self, fresh: &mut [bool]) -> bool {
        let mut any = false;
        for k in 0..self.taken.len() {
            if self.taken[k] {
                continue;
            }
            let Some(camera) = view(self.network, k, &self.state, |p| self.placed[p]) else { continue };
            self.taken[k] = true;
            for p in 0..self.placed.len() {
                let spots = |edge: bool| {
                    let picks = self.network.picks.iter();
                    let own = picks.filter(move |q| q.picture == k && q.point == p && q.edge == edge);
                    own.filter_map(|q| camera.lies(q.at)).collect::<Vec<Point>>()
                };
                let (marked, edge) = (spots(false), round(&spots(true)));
                if let (Some((_, radius)), false) = (edge, self.sized[p]) {
                    (self.state.radius[p], self.sized[p], any) = (radius, true, true);
                }
                if let (Some(at), false) = (marked.first().copied().or(edge.map(|e| e.0)), self.placed[p]) {
                    (self.state.at[p], self.placed[p], any) = (at, true, true);
                }
            }
            self.state.cameras[k] = camera;
        }
        if any {
            fresh.fill(true);
        }
        any
    }

    /// Where a point may go by at least two observations; a circle's centre also by three points on its edge.
    fn places(&mut self, p: usize) -> Option<Places> {
        // the same measured again and again crosses nothing: what repeats an earlier observation comes last
        let all = &self.network.observations;
        let again = |o: &usize| {
            let relation = all[*o].relation;
            self.touching[p].iter().take_while(|q| *q != o).filter(|q| all[**q].relation == relation).count()
        };
        let mut order = self.touching[p].clone();
        if order.len() > CROSSED {
            order.sort_by_cached_key(again);
        }
        let mut loci: Vec<Locus> = order.iter().filter_map(|o| self.locus(p, &all[*o])).collect();
        if self.network.datum.along == Some(p)
            && let Some(o) = self.network.datum.origin
        {
            loci.push(Locus::Line { through: self.state.at[o], along: Vec2::new(1.0, 0.0) });
        }
        if loci.len() < 2 {
            return self.on_edge(p);
        }
        let mut found: Vec<(f64, Point)> = Vec::new();
        let crossed = &loci[..loci.len().min(CROSSED)];
        for (i, a) in crossed.iter().enumerate() {
            for b in crossed.iter().skip(i + 1) {
                for at in a.meet(b) {
                    if self.allowed(p, at) {
                        let score = loci.iter().map(|l| score(l.off(at))).sum();
                        found.push((score, at));
                    }
                }
            }
        }
        let least = found.iter().map(|f| f.0).min_by(f64::total_cmp)?;
        // what fits alike: the same place again and again, or one other
        found.retain(|f| f.0 < least + ALIKE);
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        let best = found.first()?.1;
        let second = found.iter().map(|f| f.1).find(|q| (*q - best).hypot2() > 16.0 * ROUGH * ROUGH);
        let mut ends = [Some(best), second];
        if let Some(second) = second {
            // by chance of rounding neither is first: the upper one, then the right one
            if second.y > best.y + ROUGH || (second.y - best.y).abs() <= ROUGH && second.x > best.x {
                ends.reverse();
            }
        }
        Some(Places { loci: loci.len(), best: ends[0]?, second: ends[1] })
    }

    fn on_edge(&mut self, p: usize) -> Option<Places> {
        if self.sized[p] || !self.network.points[p].round {
            return None;
        }
        let edge: Vec<Point> = self.touching[p]
            .iter()
            .filter_map(|o| match self.network.observations[*o].relation {
                Relation::Distance { a, b, ra, rb } if (a == p && ra == -1 && rb == 0) => Some(b),
                Relation::Distance { a, b, ra, rb } if (b == p && rb == -1 && ra == 0) => Some(a),
                _ => None,
            })
            .filter(|q| self.placed[*q])
            .map(|q| self.state.at[q])
            .collect();
        if edge.len() < 3 {
            return None;
        }
        let (centre, radius) = through(edge[0], edge[edge.len() / 2], *edge.last()?)?;
        self.state.radius[p] = radius;
        self.sized[p] = true;
        Some(Places { loci: edge.len(), best: centre, second: None })
    }

    /// Whether the stated sides and the base line's direction allow a place.
    fn allowed(&self, p: usize, at: Point) -> bool {
        let ahead = match (self.network.datum.along, self.network.datum.origin) {
            (Some(along), Some(origin)) if along == p => at.x > self.state.at[origin].x,
            _ => true,
        };
        ahead
            && self.network.points[p]
                .sides
                .iter()
                .all(|(side, q)| !self.placed[*q] || on_side(*side, at, self.state.at[*q]))
    }

    /// Where an observation lets a point lie, when everything else in it is placed.
    fn locus(&self, p: usize, o: &Observation) -> Option<Locus> {
        let (network, s) = (self.network, &self.state);
        if !o.points().iter().all(|q| *q == p || self.placed[*q]) {
            return None;
        }
        let line = |a: Point, b: Point| {
            let long = (b - a).hypot2().sqrt();
            (long > 1e-9).then(|| (a, (b - a) / long))
        };
        Some(match o.relation {
            Relation::Distance { a, b, ra, rb } => {
                let q = if a == p { b } else { a };
                if (ra != 0 && !self.sized[a]) || (rb != 0 && !self.sized[b]) {
                    return None;
                }
                let long = o.value - f64::from(ra) * s.radius[a] - f64::from(rb) * s.radius[b];
                let deep = network.points[a].depth - network.points[b].depth;
                Locus::Circle { centre: s.at[q], radius: (long * long - deep * deep).max(0.0).sqrt() }
            }
            Relation::Offset { p: of, a, b } => {
                let ends = if of == p {
                    (a, b)
                } else if o.value == 0.0 {
                    (of, if a == p { b } else { a })
                } else {
                    return None;
                };
                let (from, along) = line(s.at[ends.0], s.at[ends.1])?;
                Locus::Line { through: from + Vec2::new(-along.y, along.x) * o.value, along }
            }
            Relation::Gap { p: of, a, b } if of == p && self.sized[p] => {
                let (through, along) = line(s.at[a], s.at[b])?;
                Locus::Beside { through, along, off: o.value + s.radius[p] }
            }
            Relation::Along { p: of, a, b } if of == p || a != p && o.value == 0.0 => {
                let (from, along) = line(s.at[a], s.at[if of == p { b } else { of }])?;
                let across = Vec2::new(-along.y, along.x);
                Locus::Line { through: from + along * o.value, along: across }
            }
            Relation::Up { a, b } => {
                let y = if b == p { s.at[a].y + o.value } else { s.at[b].y - o.value };
                Locus::Line { through: Point::new(0.0, y), along: Vec2::new(1.0, 0.0) }
            }
            Relation::Right { a, b } => {
                let x = if b == p { s.at[a].x + o.value } else { s.at[b].x - o.value };
                Locus::Line { through: Point::new(x, 0.0), along: Vec2::new(0.0, 1.0) }
            }
            _ => return None,
        })
    }

    /// A place for the first point that nothing places: on the one circle or line that it has, else beside all.
    fn guess(&self, again: u32) -> Option<(usize, Point)> {
        let open = |p: &usize| !self.placed[*p];
        let one = |p: usize| {
            let mut loci =
                self.touching[p].iter().filter_map(|o| self.locus(p, &self.network.observations[*o]));
            loci.next().map(|l| (p, l))
        };
        // a different direction for each, so that no two fall together
        let again = f64::from(again);
        let turn = |p: usize| angle::unit(0.9 + 2.4 * p as f64 + 1.7 * again);
        let room = 150.0 * (1.0 + 0.7 * again);
        let all = 0..self.network.points.len();
        if let Some((p, locus)) = all.clone().filter(open).find_map(one) {
            let at = match locus {
                Locus::Circle { centre, radius } => centre + turn(p) * radius,
                Locus::Line { through, along } | Locus::Beside { through, along, .. } => {
                    through + along * room
                }
            };
            let ahead = self.network.datum.along == Some(p);
            let origin = self.network.datum.origin.map(|o| self.state.at[o]);
            return Some(match (ahead, origin, locus) {
                (true, Some(o), Locus::Circle { radius, .. }) => (p, o + Vec2::new(radius.max(1.0), 0.0)),
                _ => (p, at),
            });
        }
        let p = all.clone().find(open)?;
        if let (true, Some(o)) = (self.network.datum.along == Some(p), self.network.datum.origin) {
            return Some((p, self.state.at[o] + Vec2::new(2.0 * room, 0.0)));
        }
        let placed: Vec<Point> = all.filter(|q| self.placed[*q]).map(|q| self.state.at[q]).collect();
        let sum = placed.iter().fold(Vec2::ZERO, |s, q| s + q.to_vec2());
        let middle = (sum / placed.len().max(1) as f64).to_point();
        Some((p, middle + turn(p) * room))
    }
}

/// The cameras anew, after points have moved.
pub(super) fn look_again(network: &Network, s: &mut State) {
    for k in 0..network.pictures.len() {
        if let Some(camera) = view(network, k, s, |_| true) {
            s.cameras[k] = camera;
        }
    }
}

/// How badly one observation misses: grows ever more slowly, so that one wrong reading does not decide.
fn score(off: f64) -> f64 {
    libm::log(1.0 + (off / ROUGH) * (off / ROUGH))
}

/// Whether a place lies on the stated side of another.
pub fn on_side(side: Side, at: Point, of: Point) -> bool {
    match side {
        Side::Above => at.y > of.y,
        Side::Below => at.y < of.y,
        Side::Left => at.x < of.x,
        Side::Right => at.x > of.x,
    }
}
