//! Probed areas: the depth that is there for certain, and whether the probes reach all of it.

use super::{Behind, Maker, Told};
use crate::define::Text;
use crate::define::survey::Area;
use crate::geom::{Contour, Point, span};
use crate::survey::spell::Spell;
use crate::survey::tools::note;
use crate::units::fmt_mm;

/// How far from a probe nothing else is thought to stand where the file does not say it, mm (common practice, no source).
const REACH: f64 = 30.0;
/// Spots a side at which it is asked how far the nearest probe is.
const SPOTS: u32 = 120;

/// An area, worked out.
#[derive(Clone, Debug)]
pub struct Probing {
    /// Its id.
    pub id: Text,
    /// Its contour.
    pub contour: Contour,
    /// As path data of its corners about the origin; none for a circle.
    pub path: Option<String>,
    /// Depth that is there for certain at 95 %, mm; none where the probes leave a gap.
    pub available: Option<f64>,
    /// The least depth as it was read, and the probe that says so.
    pub read: (f64, Text),
    /// The spot of it that is farthest from all probes, and how far, mm: an upper bound.
    pub gap: (Point, f64),
    /// How far from a probe it is known, mm.
    pub reach: f64,
}

impl Maker<'_> {
    pub(super) fn areas(&mut self, out: &mut Behind) {
        for said in &self.survey.behind.areas {
            if let Some(a) = self.area(said, out) {
                out.areas.push(a);
            }
        }
    }

    fn area(&mut self, said: &Area, out: &mut Behind) -> Option<Probing> {
        let id = &said.id.value;
        let (contour, path) = match &said.circle {
            Some(circle) => {
                let p = self.frame.held(circle)?;
                let s = self.frame.solved;
                if !s.network.points[p].round || !s.sized(p) {
                    let message = format!("`{}` is no circle with a known diameter", circle.value);
                    self.tell("no-circle", &circle.place, message, "name a round hole, or give \"points\"");
                    return None;
                }
                (Contour::circle(s.adjusted.state.at[p], s.adjusted.state.radius[p]), None)
            }
            None => {
                if !self.frame.closes(&said.points) {
                    return None;
                }
                let contour = Contour::new(self.frame.drawn(&said.points)).ok()?.ccw();
                (contour, Some(self.frame.svg(&said.points, crate::geom::Vec2::ZERO, Spell::MM)))
            }
        };
        let probes: Vec<usize> = said.probes.iter().filter_map(|p| self.probe(out, p)).collect();
        if probes.len() < said.probes.len() {
            return None;
        }
        if said.reach.is_none() {
            note(
                &mut out.assumed,
                "within 30 mm of a probe nothing stands nearer to the sheet than the probe met (common practice, no source)",
            );
        }
        let reach = said.reach.as_ref().map_or(REACH, |r| r.mm());
        let own: Vec<&super::Probed> = probes.iter().map(|p| &out.probes[*p]).collect();
        let shallow = own.iter().min_by(|a, b| a.depth.total_cmp(&b.depth))?;
        let least = own.iter().map(|p| p.least()).fold(f64::INFINITY, f64::min);
        let read = (shallow.depth, shallow.id.clone());
        let places: Vec<Point> = own.iter().map(|p| p.at).collect();
        let gap = gap(&contour, &places);
        let available = (gap.1 <= reach).then_some(least);
        if available.is_none() {
            let says = format!(
                "the area {id} is not probed all over: ({:.0}, {:.0}) is {} from the nearest probe, and {} is its reach. Its depth stays unknown; probe there",
                gap.0.x,
                gap.0.y,
                fmt_mm(gap.1.ceil()),
                fmt_mm(reach)
            );
            out.told.push(Told { code: "area-gap", says });
        }
        Some(Probing { id: id.clone(), contour, path, available, read, gap, reach })
    }
}

/// The spot of an area that is farthest from all places, and an upper bound of how far: spots on a grid and along the edge,
/// half a grid's diagonal added.
fn gap(area: &Contour, places: &[Point]) -> (Point, f64) {
    let b = area.bounds();
    let step = b.width().max(b.height()) / f64::from(SPOTS);
    let inner = (0..=SPOTS).flat_map(|i| (0..=SPOTS).map(move |j| (i, j))).filter_map(|(i, j)| {
        let p = Point::new(b.x0 + step * f64::from(i), b.y0 + step * f64::from(j));
        area.holds(p).then_some(p)
    });
    let edge = area.segments().iter().flat_map(|s| {
        let n = (s.len() / step).ceil().clamp(1.0, 2000.0) as u32;
        (0..=n).map(move |k| s.at(f64::from(k) / f64::from(n)))
    });
    let far = |p: Point| places.iter().map(|q| span(p, *q)).fold(f64::INFINITY, f64::min);
    let worst = inner.chain(edge).map(|p| (p, far(p))).max_by(|a, b| a.1.total_cmp(&b.1));
    worst.map_or((b.center(), f64::INFINITY), |(p, d)| (p, d + step * std::f64::consts::FRAC_1_SQRT_2))
}
