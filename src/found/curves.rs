//! Béziers, splines and ellipses to lines and arcs, with the error on record.

use super::{About, Told, many};
use crate::cut::{item, mm};
use crate::geom::Segment;
use crate::import::{Curve, CutFile, Item, Shape};

/// The file with its curves as arcs, and how many they were with the largest bound. What only ends are known of stays.
pub fn to_arcs(file: &CutFile, tolerance: f64, told: &mut Vec<Told>) -> (CutFile, (usize, f64)) {
    let mut out = file.clone();
    let (mut count, mut worst) = (0, 0.0f64);
    let mut coarse = Vec::new();
    for (k, i) in out.items.iter_mut().enumerate() {
        let bound = item_to_arcs(i, tolerance, &mut count);
        worst = worst.max(bound);
        if bound > tolerance {
            coarse.push(k);
        }
    }
    if count > 0 {
        let says = format!(
            "{} turned to arcs, off by at most {} (allowed {})",
            many(count, "Bézier, spline or ellipse was", "Béziers, splines and ellipses were"),
            mm(worst),
            mm(tolerance)
        );
        told.push(Told { about: About::Note, code: "curves", says, at: vec![], items: vec![] });
    }
    if !coarse.is_empty() {
        let names: Vec<String> = coarse.iter().take(5).map(|k| item(file, *k)).collect();
        let says = format!("too tight to be followed within {}: {}", mm(tolerance), names.join("; "));
        told.push(Told { about: About::LeftOut, code: "coarse-curve", says, at: vec![], items: coarse });
    }
    (out, (count, worst))
}

fn item_to_arcs(i: &mut Item, tolerance: f64, count: &mut usize) -> f64 {
    let Shape::Chain { pieces, curves, .. } = &mut i.shape else { return 0.0 };
    if curves.is_empty() || curves.iter().any(|c| c.exact.is_err()) {
        return 0.0;
    }
    let old = std::mem::take(pieces);
    let curves = std::mem::take(curves);
    let mut next = curves.iter().peekable();
    let mut worst = 0.0f64;
    for (k, s) in old.iter().enumerate() {
        match next.next_if(|c| c.piece == k) {
            None => pieces.push(*s),
            Some(Curve { exact, .. }) => {
                *count += 1;
                let mut new = Vec::new();
                for part in exact.iter().flat_map(|parts| parts.iter()) {
                    worst = worst.max(part.pieces(tolerance, &mut new));
                }
                join(&mut new, s);
                pieces.append(&mut new);
            }
        }
    }
    if pieces.is_empty() {
        pieces.extend(old.first());
    }
    worst
}

/// Ends that are those of the chord bit for bit; parts that meet do so to rounding.
fn join(new: &mut [Segment], chord: &Segment) {
    let n = new.len();
    for k in 0..n {
        let a = if k == 0 { chord.start() } else { new[k - 1].end() };
        let b = if k + 1 == n { chord.end() } else { new[k].end() };
        new[k] = new[k].with_ends(a, b);
    }
}
