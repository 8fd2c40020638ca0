//! DXF files as text: header, entities, closed and loose lines.

use panelwright::geom::angle;
use std::f64::consts::TAU;

pub fn file(unit: Option<i64>, tables: &str, body: &str) -> String {
    let unit = unit.map_or(String::new(), |u| format!("9\n$INSUNITS\n70\n{u}\n"));
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n{unit}0\nENDSEC\n{tables}0\nSECTION\n2\nENTITIES\n{body}0\nENDSEC\n0\nEOF\n"
    )
}

pub fn mm(body: &str) -> String {
    file(Some(4), "", body)
}

pub fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> String {
    format!("0\nLINE\n8\n0\n10\n{x0}\n20\n{y0}\n11\n{x1}\n21\n{y1}\n")
}

pub fn circle(x: f64, y: f64, r: f64) -> String {
    format!("0\nCIRCLE\n8\n0\n10\n{x}\n20\n{y}\n40\n{r}\n")
}

/// A closed light polyline on a layer.
pub fn poly_on(layer: &str, points: &[(f64, f64)]) -> String {
    let mut s = format!("0\nLWPOLYLINE\n8\n{layer}\n90\n{}\n70\n1\n", points.len());
    for (x, y) in points {
        s += &format!("10\n{x}\n20\n{y}\n");
    }
    s
}

pub fn poly(points: &[(f64, f64)]) -> String {
    poly_on("0", points)
}

pub fn rect(x: f64, y: f64, w: f64, h: f64) -> String {
    poly(&[(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
}

/// Loose straights from corner to corner, closed.
pub fn loose(points: &[(f64, f64)]) -> String {
    let n = points.len();
    (0..n).map(|k| line(points[k].0, points[k].1, points[(k + 1) % n].0, points[(k + 1) % n].1)).collect()
}

pub fn round(x: f64, y: f64, r: f64, n: usize) -> Vec<(f64, f64)> {
    (0..n).map(|k| angle::unit(k as f64 / n as f64 * TAU) * r).map(|v| (x + v.x, y + v.y)).collect()
}
