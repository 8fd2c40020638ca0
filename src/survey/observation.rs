//! What is observed: each reading or condition as a function of the unknowns, with its partial derivatives.

use super::camera::Camera;
use super::network::Network;
use super::picked;
use crate::define::Text;
use crate::define::survey::What;
use crate::diag::Where;
use crate::geom::{Point, Vec2};

/// Two points nearer than this have no direction between them, mm.
const TOGETHER: f64 = 1e-9;

/// A function of points, by their indices in the network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Relation {
    /// Distance of two points plus `ra`, `rb` times their radii (0 centre, -1 near edge, 1 far edge).
    Distance {
        /// One.
        a: usize,
        /// The other.
        b: usize,
        /// Times the radius of `a`.
        ra: i8,
        /// Times the radius of `b`.
        rb: i8,
    },
    /// Distance of `p` from the line from `a` to `b`, left positive.
    Offset {
        /// The point.
        p: usize,
        /// Where the line begins.
        a: usize,
        /// Where it leads.
        b: usize,
    },
    /// Distance of circle `p`'s near edge from the line through `a` and `b`, on whichever side it lies.
    Gap {
        /// The circle.
        p: usize,
        /// On the line.
        a: usize,
        /// On the line.
        b: usize,
    },
    /// Distance of `p` along the line from `a` towards `b`.
    Along {
        /// The point.
        p: usize,
        /// Where the line begins.
        a: usize,
        /// Where it leads.
        b: usize,
    },
    /// How much higher `b` is than `a`.
    Up {
        /// From.
        a: usize,
        /// To.
        b: usize,
    },
    /// How much further right `b` is than `a`.
    Right {
        /// From.
        a: usize,
        /// To.
        b: usize,
    },
    /// `k` times the radius of a circle.
    Radius {
        /// The circle.
        c: usize,
        /// 1 for a radius, 2 for a diameter.
        k: i8,
    },
    /// Radius of `b` less that of `a`.
    SameSize {
        /// One.
        a: usize,
        /// The other.
        b: usize,
    },
    /// Where a point shows in a picture, pixels.
    Picked {
        /// The point.
        p: usize,
        /// The pick.
        pick: usize,
        /// From the top; else from the left.
        down: bool,
    },
    /// How far a circle's edge lies outside a pick in a picture, pixels.
    Edge {
        /// The circle.
        p: usize,
        /// The pick.
        pick: usize,
    },
    /// What the lens does at a picture's corner, pixels.
    Lens {
        /// The picture.
        picture: usize,
    },
    /// How far a scan's axes are from square, pixels at its corner.
    Axes {
        /// The picture.
        picture: usize,
    },
}

/// Where an observation comes from.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// A reading of the file, counted from 1.
    Reading(usize),
    /// A condition of the file, counted from 1.
    Condition(usize),
    /// A pick: number of the picture and of the pick, counted from 1.
    Pick(usize, usize),
    /// What is taken for a picture, counted from 1.
    Picture(usize),
}

/// One observation: `relation` was found to be `value` (all known errors taken off), give or take `sigma`.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// What.
    pub relation: Relation,
    /// Observed, mm.
    pub value: f64,
    /// Standard deviation, mm.
    pub sigma: f64,
    /// Index of the zero error that it carries.
    pub zero: Option<usize>,
    /// Where it comes from.
    pub origin: Origin,
    /// What a reading measures; none for a condition.
    pub what: Option<What>,
    /// What the tool read, as written.
    pub written: Text,
    /// What is to be added to `value` to get what the tool read, mm.
    pub reduced: f64,
    /// Where it stands.
    pub place: Where,
}

/// One row of partial derivatives: unknown and derivative; at most twelve.
#[derive(Clone, Debug, Default)]
pub struct Row {
    /// Unknown and derivative; no unknown stands twice.
    pub terms: Vec<(usize, f64)>,
}

impl Row {
    pub(super) fn add(&mut self, unknown: Option<usize>, derivative: f64) {
        let Some(u) = unknown else { return };
        match self.terms.iter_mut().find(|(v, _)| *v == u) {
            Some((_, d)) => *d += derivative,
            None => self.terms.push((u, derivative)),
        }
    }

    /// Times a vector.
    pub fn dot(&self, v: &[f64]) -> f64 {
        self.terms.iter().map(|(u, d)| v[*u] * d).sum()
    }
}

/// Coordinates, radii, zero errors and cameras.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Of the points, mm.
    pub at: Vec<Point>,
    /// Of the circles, mm; 0 for points.
    pub radius: Vec<f64>,
    /// Of the tools whose zero error is sought, mm.
    pub zero: Vec<f64>,
    /// Of the pictures.
    pub cameras: Vec<Camera>,
}

impl Observation {
    /// The points that it is about.
    pub fn points(&self) -> Vec<usize> {
        self.relation.points()
    }

    /// What it would be in a state, zero error included, mm; and its derivatives.
    pub fn row(&self, network: &Network, s: &State) -> (f64, Row) {
        let (mut value, mut row) = self.relation.row(network, s);
        if let Some(z) = self.zero {
            value += s.zero[z];
            row.add(Some(network.zero_unknown(z)), 1.0);
        }
        (value, row)
    }
}

impl Relation {
    /// Whether it is told in pixels.
    pub fn in_pixels(&self) -> bool {
        use Relation as R;
        matches!(self, R::Picked { .. } | R::Edge { .. } | R::Lens { .. } | R::Axes { .. })
    }

    /// The points that it is about.
    pub fn points(&self) -> Vec<usize> {
        match *self {
            Relation::Distance { a, b, .. }
            | Relation::Up { a, b }
            | Relation::Right { a, b }
            | Relation::SameSize { a, b } => vec![a, b],
            Relation::Offset { p, a, b } | Relation::Gap { p, a, b } | Relation::Along { p, a, b } => {
                vec![p, a, b]
            }
            Relation::Radius { c, .. } => vec![c],
            Relation::Picked { p, .. } | Relation::Edge { p, .. } => vec![p],
            Relation::Lens { .. } | Relation::Axes { .. } => Vec::new(),
        }
    }

    /// Value and derivatives in a state.
    pub fn row(&self, network: &Network, s: &State) -> (f64, Row) {
        let mut row = Row::default();
        let moved = |row: &mut Row, p: usize, d: Vec2| {
            let (x, y) = network.unknowns(p);
            row.add(x, d.x);
            row.add(y, d.y);
        };
        let value = match *self {
            Relation::Distance { a, b, ra, rb } => {
                let flat = s.at[b] - s.at[a];
                let deep = network.points[b].depth - network.points[a].depth;
                let long = (flat.x * flat.x + flat.y * flat.y + deep * deep).sqrt();
                let unit = if long < TOGETHER { Vec2::new(1.0, 0.0) } else { flat / long };
                moved(&mut row, a, -unit);
                moved(&mut row, b, unit);
                row.add(network.radius_unknown(a), f64::from(ra));
                row.add(network.radius_unknown(b), f64::from(rb));
                long + f64::from(ra) * s.radius[a] + f64::from(rb) * s.radius[b]
            }
            Relation::Offset { p, a, b } => offset(&mut row, &moved, s, (p, a, b), 1.0),
            Relation::Gap { p, a, b } => {
                let mut trial = Row::default();
                let side = if offset(&mut trial, &moved, s, (p, a, b), 1.0) < 0.0 { -1.0 } else { 1.0 };
                row.add(network.radius_unknown(p), -1.0);
                offset(&mut row, &moved, s, (p, a, b), side) - s.radius[p]
            }
            Relation::Along { p, a, b } => {
                let (base, to) = (s.at[b] - s.at[a], s.at[p] - s.at[a]);
                let long = base.hypot2().sqrt().max(TOGETHER);
                let e = base / long;
                let along = to.dot(e);
                // turning the base line by a small angle moves the foot by the offset times it
                let turn = (to - e * along) / long;
                moved(&mut row, p, e);
                moved(&mut row, b, turn);
                moved(&mut row, a, -e - turn);
                along
            }
            Relation::Up { a, b } => {
                moved(&mut row, a, Vec2::new(0.0, -1.0));
                moved(&mut row, b, Vec2::new(0.0, 1.0));
                s.at[b].y - s.at[a].y
            }
            Relation::Right { a, b } => {
                moved(&mut row, a, Vec2::new(-1.0, 0.0));
                moved(&mut row, b, Vec2::new(1.0, 0.0));
                s.at[b].x - s.at[a].x
            }
            Relation::Radius { c, k } => {
                row.add(network.radius_unknown(c), f64::from(k));
                f64::from(k) * s.radius[c]
            }
            Relation::SameSize { a, b } => {
                row.add(network.radius_unknown(a), -1.0);
                row.add(network.radius_unknown(b), 1.0);
                s.radius[b] - s.radius[a]
            }
            Relation::Picked { pick, down, .. } => picked::coordinate(&mut row, network, s, pick, down),
            Relation::Edge { pick, .. } => picked::edge(&mut row, network, s, pick),
            Relation::Lens { picture } => {
                row.add(network.pictures[picture].lens_unknown(), 1.0);
                s.cameras[picture].lens
            }
            Relation::Axes { picture } => picked::square(&mut row, network, s, picture),
        };
        (value, row)
    }
}

/// `sign` times the distance of `p` from the line a b, left positive.
fn offset(
    row: &mut Row,
    moved: &impl Fn(&mut Row, usize, Vec2),
    s: &State,
    (p, a, b): (usize, usize, usize),
    sign: f64,
) -> f64 {
    let (base, to) = (s.at[b] - s.at[a], s.at[p] - s.at[a]);
    let long = base.hypot2().sqrt().max(TOGETHER);
    let e = base / long;
    let left = Vec2::new(-e.y, e.x);
    let share = to.dot(e) / long;
    moved(row, p, left * sign);
    moved(row, b, left * (-share * sign));
    moved(row, a, left * ((share - 1.0) * sign));
    to.dot(left) * sign
}
