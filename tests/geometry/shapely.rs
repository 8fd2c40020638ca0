//! 1,500 pairs of random shapes measured again by shapely (PyPI), within the bound of its chords.
//! `PANELWRIGHT_LONG=1` draws 30,000.

use super::oracle::{self, pieces};
use super::shapes::pair;
use panelwright::geom::margin::margin_inside;
use panelwright::geom::penetration::penetration;
use panelwright::geom::{Contour, distance};
use serde_json::{Value, json};

fn described(c: &Contour) -> Value {
    let m = c.moments();
    json!({
        "pieces": pieces(c), "area": m.area, "centroid": [m.centroid.x, m.centroid.y],
        "second": [m.ixx, m.iyy, m.ixy], "perimeter": c.perimeter(),
    })
}

/// A list of contours, or null where the library answers that it has none to give.
fn list(found: Option<Vec<Contour>>) -> Value {
    found.map_or(Value::Null, |v| v.iter().map(pieces).collect())
}

#[test]
fn random_pairs_agree_with_shapely() {
    let case = |seed: u64| {
        let (a, b) = pair(seed);
        let gap = distance::contours(&a, &b);
        let depth = penetration(&a, &b);
        let by = [-6.0, -2.5, -0.1, 0.1, 2.5, 6.0][(seed % 6) as usize];
        json!({
            "seed": seed, "a": described(&a), "b": described(&b),
            "distance": gap.distance, "relation": format!("{:?}", gap.relation),
            "shift": depth.map(|d| [d.by.x, d.by.y]),
            "exact": depth.map(|d| d.exact), "convex": [a.is_convex(), b.is_convex()],
            "margin": margin_inside(&b, &a),
            "by": by, "offset": list(a.offset(by).ok()),
            "union": list(a.union(&b)), "without": list(a.without(&b)),
        })
    };
    oracle::agrees("pairs_shapely.py", (0..oracle::cases(1_500, 30_000)).map(case));
}
