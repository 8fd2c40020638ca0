//! Convex polygons with fewer sides: what is joined from many of them is worked out sooner.

use super::convex::{Convex, ordered};
use crate::geom::Point;

/// How much larger a polygon may become where a side is left out, mm.
pub const EASED: f64 = 0.005;

/// A polygon around a convex one with fewer sides, at most twice [`EASED`] larger.
pub fn eased(c: Convex) -> Convex {
    let once = fewer(&c);
    if once.len() < c.len() { ordered(fewer(&once)) } else { c }
}

/// Every other side left out whose neighbours meet hardly outside of it.
fn fewer(c: &[Point]) -> Convex {
    let n = c.len();
    if n < 8 {
        return c.to_vec();
    }
    let mut out: Convex = Vec::with_capacity(n);
    let mut k = 0;
    // the sides before the first and after the last corner stay
    out.extend(c.first());
    while let Some([a, b, c, d]) = c.get(k..k + 4) {
        let (before, side, after) = (*b - *a, *c - *b, *d - *c);
        let turn = before.cross(after);
        if turn > 0.0 {
            let meet = *b + before * (side.cross(after) / turn);
            // how far outside of the side, times its length
            let over = side.cross(meet - *b);
            if over * over <= EASED * EASED * side.hypot2() {
                out.push(meet);
                k += 2;
                continue;
            }
        }
        out.push(*b);
        k += 1;
    }
    out.extend(c.get(k + 1..).unwrap_or_default());
    out
}

#[cfg(test)]
mod tests {
    use super::super::convex::{disc, sum, support};
    use super::*;
    use crate::geom::angle;

    #[test]
    fn eased_polygons_hold_what_they_were_and_are_hardly_larger() {
        for r in [0.5, 6.0, 70.0] {
            let fine = sum(&disc(r), &disc(0.7 * r));
            let coarse = eased(fine.clone());
            assert!(coarse.len() < fine.len(), "{} {}", coarse.len(), fine.len());
            for k in 0..90 {
                let u = angle::unit(f64::from(k) * 0.07);
                let off = support(&coarse, u) - support(&fine, u);
                assert!((-1e-9..=2.0 * EASED + 1e-9).contains(&off), "{off}");
            }
            let next = |k: usize| coarse.iter().cycle().skip(k);
            let turns = coarse.iter().zip(next(1)).zip(next(2)).map(|((p, q), r)| (*q - *p).cross(*r - *q));
            assert!(turns.fold(f64::INFINITY, f64::min) > -1e-9);
        }
    }
}
