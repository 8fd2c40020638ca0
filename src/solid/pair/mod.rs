//! Pairs with a closed form: exact to rounding (1e-9 mm for what lies within ten metres).
//!
//! Most are products: what lies beside and what lies before are told apart, and two such sets are as far apart as the
//! root of the squares of their gaps; where no gap is left, the one nearest to none says how deep they overlap.

mod bars;
mod boxes;
mod prisms;
mod straights;

use super::{Core, Gap, Piece, Shape, Solid, Vec3};

/// The gap of two pieces where a closed form knows it.
pub(super) fn gap(a: &Piece, b: &Piece) -> Option<Gap> {
    match (&a.core, &b.core) {
        (Core::Points(p), Core::Points(q)) => straights::gap(a, straight(p)?, b, straight(q)?),
        (Core::Points(p), Core::Prism { .. } | Core::Bar { .. }) => match p.as_slice() {
            [p] => point(*p, a.radius, b),
            _ => None,
        },
        (Core::Prism { .. } | Core::Bar { .. }, Core::Points(_)) => gap(b, a).map(Gap::flipped),
        (Core::Prism { .. }, Core::Prism { .. }) => prisms::gap(a, b),
        (Core::Bar { .. }, Core::Bar { .. }) => bars::gap(a, b),
        (Core::Prism { .. }, Core::Bar { .. }) | (Core::Bar { .. }, Core::Prism { .. }) => None,
    }
}

/// The ends of a straight; a point is one without length.
fn straight(points: &[Vec3]) -> Option<(Vec3, Vec3)> {
    match points {
        [p] => Some((*p, *p)),
        [p, q] => Some((*p, *q)),
        _ => None,
    }
}

/// A ball and a piece.
fn point(p: Vec3, radius: f64, b: &Piece) -> Option<Gap> {
    let (gap, q) = match &b.core {
        Core::Prism { section, from, to, pose } => prisms::to(p, section, (*from, *to), pose)?,
        Core::Bar { ends, axis, radius } => bars::to(p, *ends, *axis, *radius),
        Core::Points(_) => return None,
    };
    Some(ball(p, radius, gap, q, b.radius))
}

/// A ball about `p` and a set that is `gap` away from `p` (below zero: `p` lies so deep in it), at its point `q`.
fn ball(p: Vec3, radius: f64, gap: f64, q: Vec3, round: f64) -> Gap {
    let towards = (q - p).unit().map_or(Vec3::ZERO, |n| if gap < 0.0 { -n } else { n });
    let told = gap - radius - round;
    Gap { lower: told, upper: told, points: [p + towards * radius, q - towards * round] }
}

/// The gap of two solids of which a closed form is known as wholes.
pub(super) fn solids(a: &Solid, b: &Solid) -> Option<Gap> {
    match (a.shape(), b.shape()) {
        (Shape::Box(_), Shape::Box(_)) if boxes::upright(a) && boxes::upright(b) => {
            Some(boxes::gap(&a.bounds(), &b.bounds()))
        }
        (Shape::Sphere(radius), Shape::Box(half)) => {
            let (gap, q) = boxes::to(a.pose().origin(), *half, b.pose());
            Some(ball(a.pose().origin(), *radius, gap, q, 0.0))
        }
        (Shape::Box(_), Shape::Sphere(_)) => solids(b, a).map(Gap::flipped),
        _ => None,
    }
}

/// An upright box as a prism along the depth, against which prisms have a closed form.
pub(super) fn box_as_prism(a: &Solid, against: &Solid) -> Option<Piece> {
    let wanted = matches!(a.shape(), Shape::Box(_)) && matches!(against.shape(), Shape::Prism { .. });
    (wanted && boxes::upright(a)).then(|| prisms::upright(&a.bounds()))
}

/// The gap of two products whose sides are so far apart (below zero: that deep in each other).
fn product<const N: usize>(gaps: [f64; N]) -> f64 {
    let most = gaps.into_iter().fold(f64::NEG_INFINITY, f64::max);
    if most <= 0.0 {
        return most;
    }
    gaps.into_iter().map(|g| g.max(0.0) * g.max(0.0)).sum::<f64>().sqrt()
}

/// Nearest levels of two stretches of a line.
fn levels(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    if b.0 > a.1 {
        (a.1, b.0)
    } else if a.0 > b.1 {
        (a.0, b.1)
    } else {
        let level = (a.0.max(b.0) + a.1.min(b.1)) / 2.0;
        (level, level)
    }
}

/// How far two stretches of a line are apart; below zero: how far one has to move to come free.
fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    (b.0 - a.1).max(a.0 - b.1)
}

#[cfg(test)]
mod tests;
