//! The terms of the cost of an arrangement: what each measures, with its source.
//!
//! Every term is a mean, so that it does not grow with the number of items; lengths in mm, angles in degrees.

use super::bound::reach_of;
use super::cost::View;
use crate::geom::{Point, Rect, Vec2, angle, length};
use crate::panel::{InOrder, Panel, Wishes};
use crate::solid::Vec3;

/// A term.
#[derive(Debug)]
pub struct Term {
    /// Its id, as the weights of a panel file name it.
    pub id: &'static str,
    /// What is measured.
    pub asks: &'static str,
    /// Who says so.
    pub source: &'static str,
    /// What it counts where the user says nothing.
    pub weight: f64,
    /// Unit of what is measured.
    pub unit: &'static str,
    pub(super) measure: fn(&View<'_>) -> Option<f64>,
    /// What it needs from the file.
    pub needs: &'static str,
}

const PRACTICE: &str = "common practice, no source";

/// All terms, in the order in which they are told.
pub static TERMS: &[Term] = &[
    Term {
        id: "basic-t",
        asks: "attitude top centre, airspeed directly left of it, altitude right, direction below",
        source: "14 CFR 23.1321(d), text before amendment 23-64",
        weight: 3.0,
        unit: "mm",
        measure: basic_t,
        needs: "\"roles\" with an attitude and one more",
    },
    Term {
        id: "field-of-view",
        asks: "primary items within 15 degrees of the line of sight, other displays and gauges within 35 sideways, 40 above, 20 below",
        source: "AC 23.1311-1C 15.2 and 15.3 as quoted by others, not seen",
        weight: 2.0,
        unit: "deg",
        measure: field_of_view,
        needs: "\"eye\" here, and the panel's \"eye\" and \"tilt\"",
    },
    Term {
        id: "together",
        asks: "items of a group near each other",
        source: PRACTICE,
        weight: 1.0,
        unit: "mm",
        measure: together,
        needs: "\"groups\"",
    },
    Term {
        id: "reach",
        asks: "stacks and what the hand works within reach of the shoulder, harness locked",
        source: "NUREG-0700 revision 3: functional reach, 5th percentile woman, 26.7 in",
        weight: 1.0,
        unit: "mm",
        measure: reach,
        needs: "\"shoulder\"",
    },
    Term {
        id: "rows",
        asks: "rows straight, close and in order of use",
        source: PRACTICE,
        weight: 1.0,
        unit: "mm",
        measure: rows,
        needs: "\"rows\"",
    },
    Term {
        id: "alignment",
        asks: "each item in line with another across and in line with one upright",
        source: PRACTICE,
        weight: 0.5,
        unit: "mm",
        measure: alignment,
        needs: "two items",
    },
    Term {
        id: "symmetry",
        asks: "pairs as mirror images",
        source: PRACTICE,
        weight: 0.5,
        unit: "mm",
        measure: symmetry,
        needs: "\"symmetric\"",
    },
    Term {
        id: "provision-room",
        asks: "10 mm free round what is kept free for later",
        source: PRACTICE,
        weight: 0.5,
        unit: "mm",
        measure: provision_room,
        needs: "a provision that may move",
    },
    Term {
        id: "short-hoses",
        asks: "items on the same pitot, static or vacuum line near each other",
        source: PRACTICE,
        weight: 0.3,
        unit: "mm",
        measure: short_hoses,
        needs: "two items with such ports",
    },
    Term {
        id: "little-moved",
        asks: "items near where the file has them",
        source: PRACTICE,
        weight: 0.1,
        unit: "mm",
        measure: little_moved,
        needs: "an item that may move",
    },
];

/// A mean of some; none where there are none.
fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, n) = values.fold((0.0, 0), |(s, n), v| (s + v, n + 1));
    (n > 0).then(|| sum / f64::from(n))
}

fn middle(w: &Wishes, panel: &Panel) -> f64 {
    let sheet = panel.sheets.first().map_or(0.0, |s| s.outline.bounds().center().x);
    w.eye.map_or(sheet, |e| e.x)
}

fn basic_t(v: &View<'_>) -> Option<f64> {
    let [attitude, airspeed, altitude, direction] = v.wishes().basic_t;
    let attitude = attitude?;
    let a = v.face(attitude);
    let mut all = Vec::with_capacity(4);
    let other = |k: Option<usize>| k.filter(|k| *k != attitude).map(|k| v.face(k));
    if let Some(f) = other(airspeed) {
        all.push((f.center().y - a.center().y).abs() + (a.x0 - f.x1).abs());
    }
    if let Some(f) = other(altitude) {
        all.push((f.center().y - a.center().y).abs() + (f.x0 - a.x1).abs());
    }
    if let Some(f) = other(direction) {
        all.push((f.center().x - a.center().x).abs() + (a.y0 - f.y1).abs());
    }
    if all.is_empty() {
        return None;
    }
    let sheet = v.c.panel.subjects.get(attitude).and_then(|s| v.c.panel.sheets.get(s.sheet as usize));
    let top = sheet.map_or(a.y1, |s| s.outline.bounds().y1);
    all.push((a.center().x - middle(v.wishes(), v.c.panel)).abs() + (top - a.y1).max(0.0));
    mean(all.into_iter())
}

/// Below the horizon, degrees: the line of sight.
pub const SIGHT: f64 = 15.0;

/// The pilot's eye, panel's frame: straight and level aft of its point; in the panel's axes level leans up by the tilt.
/// `None`: the file does not say its point, how far it is, or the tilt.
pub fn eye_of(panel: &Panel) -> Option<Vec3> {
    let (eye, far, tilt) = (panel.wishes.eye?, panel.eye_distance?, panel.tilt?);
    let (sin, cos) = angle::sin_cos_deg(tilt);
    Some(Vec3::new(eye.x, eye.y - far * sin, -far * cos))
}

fn field_of_view(v: &View<'_>) -> Option<f64> {
    let w = v.wishes();
    let (eye, tilt) = (eye_of(v.c.panel)?, v.c.panel.tilt?);
    let (up, aft) = (eye.y, -eye.d);
    let beyond = |p: Point, primary: bool| {
        let sideways = angle::direction(Vec2::new(aft, p.x - eye.x)).to_degrees().abs();
        let above = angle::direction(Vec2::new(aft, p.y - up)).to_degrees() - tilt + SIGHT;
        let (side, high, low) = if primary { (15.0, 15.0, 15.0) } else { (35.0, 40.0, 20.0) };
        (sideways - side).max(0.0) + (above - high).max(0.0) + (-above - low).max(0.0)
    };
    let primary = |k: &usize| w.basic_t.contains(&Some(*k)) || w.primary.contains(k);
    let read = |k: &usize| {
        let facts = v.c.panel.subjects[*k].facts.as_ref();
        facts.is_some_and(|f| {
            f.control.is_none() && matches!(f.kind.as_str(), "gauge" | "display" | "radio" | "light" | "lamp")
        })
    };
    let of = v.c.moving.iter().filter(|k| primary(k) || read(k));
    mean(of.map(|k| beyond(v.face(*k).center(), primary(k))))
}

fn together(v: &View<'_>) -> Option<f64> {
    let group = |g: &Vec<usize>| {
        let n = g.len().max(1) as f64;
        let centre = g.iter().fold(Vec2::ZERO, |s, k| s + v.face(*k).center().to_vec2()) / n;
        g.iter().map(|k| length(v.face(*k).center().to_vec2() - centre)).sum::<f64>() / n
    };
    mean(v.wishes().groups.iter().filter(|g| g.len() > 1).map(group))
}

fn reach(v: &View<'_>) -> Option<f64> {
    let (foot, d, most) = reach_of(v.wishes())?;
    let works = |k: &usize| {
        let s = &v.c.panel.subjects[*k];
        s.units.start < s.units.end
            || s.facts.as_ref().is_some_and(|f| f.control.is_some() || f.frame.is_some())
    };
    let beyond = |k: &usize| {
        let flat = v.face(*k).center() - foot;
        ((flat.hypot2() + d * d).sqrt() - most).max(0.0)
    };
    mean(v.c.moving.iter().filter(|k| works(k)).map(beyond))
}

fn rows(v: &View<'_>) -> Option<f64> {
    let row = |r: &InOrder| {
        let across = Vec2::new(-r.along.y, r.along.x);
        let pair = |p: &[usize]| match p {
            [a, b] => {
                let (f, g) = (v.face(*a), v.face(*b));
                let d = g.center() - f.center();
                let half = (size_along(&f, r.along) + size_along(&g, r.along)) / 2.0;
                d.dot(across).abs() + (d.dot(r.along) - half).abs()
            }
            _ => 0.0,
        };
        mean(r.items.windows(2).map(pair)).unwrap_or(0.0)
    };
    mean(v.wishes().rows.iter().filter(|r| r.items.len() > 1).map(row))
}

fn size_along(f: &Rect, along: Vec2) -> f64 {
    f.width() * along.x.abs() + f.height() * along.y.abs()
}

/// Farther out of line is no more out of line, mm.
const OUT_OF_LINE: f64 = 20.0;

fn alignment(v: &View<'_>) -> Option<f64> {
    let centres: Vec<(usize, Point)> = v.c.items.iter().map(|k| (*k, v.face(*k).center())).collect();
    let of = |k: &usize| {
        let p = v.face(*k).center();
        let others = || centres.iter().filter(|(o, _)| o != k);
        let x = others().map(|(_, q)| (q.x - p.x).abs()).fold(OUT_OF_LINE, f64::min);
        let y = others().map(|(_, q)| (q.y - p.y).abs()).fold(OUT_OF_LINE, f64::min);
        x + y
    };
    if centres.len() < 2 { None } else { mean(v.c.moving.iter().map(of)) }
}

fn symmetry(v: &View<'_>) -> Option<f64> {
    let pair = |([a, b], about): &([usize; 2], f64)| {
        let (p, q) = (v.face(*a).center(), v.face(*b).center());
        (p.x + q.x - 2.0 * about).abs() + (p.y - q.y).abs()
    };
    mean(v.wishes().symmetric.iter().map(pair))
}

/// Room that is wished for round a provision, mm.
const ROOM: f64 = 10.0;

fn provision_room(v: &View<'_>) -> Option<f64> {
    let kept = v.c.moving.iter().filter(|k| v.c.panel.subjects[**k].provision);
    let lacks = |k: &usize| {
        let f = v.face(*k);
        let gap = |o: &usize| {
            let g = v.face(*o);
            let (x, y) = ((g.x0 - f.x1).max(f.x0 - g.x1).max(0.0), (g.y0 - f.y1).max(f.y0 - g.y1).max(0.0));
            length(Vec2::new(x, y))
        };
        let nearest = v.c.items.iter().filter(|o| *o != k).map(gap).fold(f64::INFINITY, f64::min);
        (ROOM - nearest).max(0.0)
    };
    mean(kept.map(lacks))
}

fn short_hoses(v: &View<'_>) -> Option<f64> {
    let of = |items: &Vec<usize>| {
        let n = items.len().max(1) as f64;
        let centre = items.iter().fold(Vec2::ZERO, |s, k| s + v.face(*k).center().to_vec2()) / n;
        items.iter().map(|k| length(v.face(*k).center().to_vec2() - centre)).sum::<f64>() / n
    };
    mean(v.c.hoses.values().map(of))
}

fn little_moved(v: &View<'_>) -> Option<f64> {
    mean(v.at.iter().map(|by| length(*by)))
}
