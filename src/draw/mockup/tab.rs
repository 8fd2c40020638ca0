//! Tabs to glue, as corners of an outline: one trapezoid on a straight edge, teeth on a round one.

use crate::geom::{Arc, Point, Segment, Vec2, length};

/// Depth of a tab, mm.
pub(super) const TAB: f64 = 8.0;
/// Width of a tooth, mm.
const TOOTH: f64 = 7.0;

/// Outward unit vector of an edge walked with the piece to its left.
fn outward(a: Point, b: Point) -> Vec2 {
    let d = b - a;
    let l = length(d).max(f64::MIN_POSITIVE);
    Vec2::new(d.y, -d.x) / l
}

/// Corners of the outline along an edge, its ends left out: a tab as deep as `tall` at most. `toothed` makes teeth
/// of a straight edge that will be rolled.
pub(super) fn along(edge: &Segment, tall: f64, toothed: bool) -> Vec<Point> {
    match edge {
        Segment::Arc(a) => on_arc(a, tall),
        Segment::Line(l) if toothed => {
            let n = (edge.len() / TOOTH).ceil().max(2.0) as u32;
            let out = outward(l.a, l.b) * tall;
            let base = |k: f64| l.a.lerp(l.b, k / f64::from(n));
            row(n, base, |k| base(k) + out)
        }
        Segment::Line(l) => {
            let long = edge.len();
            // a little flatter than 45 degrees: two tabs in a square inner corner stay apart
            let tall = tall.min(0.35 * long);
            let slope = (l.b - l.a) / long * (1.2 * tall);
            let out = outward(l.a, l.b) * tall;
            vec![l.a + slope + out, l.b - slope + out]
        }
    }
}

/// Whether an arc has tabs: a rounded corner shorter than a tooth has none.
pub(super) fn has_teeth(a: &Arc) -> bool {
    a.radius * a.sweep.abs() >= TOOTH
}

fn on_arc(a: &Arc, tall: f64) -> Vec<Point> {
    if !has_teeth(a) {
        let n = (a.sweep.abs() / 0.2).ceil().max(1.0) as u32;
        return (1..n).map(|k| a.at(f64::from(k) / f64::from(n))).collect();
    }
    let n = (a.radius * a.sweep.abs() / TOOTH).ceil().max(1.0).max((a.sweep.abs() / 0.5).ceil()) as u32;
    // outside of a piece to the left: away from the centre of an arc that runs counter-clockwise
    let out = if a.sweep > 0.0 { tall } else { -tall.min(0.5 * a.radius) };
    let base = |k: f64| a.at(k / f64::from(n));
    row(n, base, |k| {
        let p = base(k);
        p + (p - a.centre) / a.radius * out
    })
}

/// Teeth between notches: the first and last notch are the ends of the edge, which are not given out.
fn row(n: u32, base: impl Fn(f64) -> Point, tip: impl Fn(f64) -> Point) -> Vec<Point> {
    let mut list = Vec::new();
    for k in 0..n {
        let k = f64::from(k);
        if k > 0.0 {
            list.push(base(k));
        }
        list.push(tip(k + 0.2));
        list.push(tip(k + 0.8));
    }
    list
}

/// How deep the tabs of a face may be: on a small face less, so that they do not meet inside.
pub(super) fn depth(least: f64) -> f64 {
    TAB.min(0.45 * least)
}
