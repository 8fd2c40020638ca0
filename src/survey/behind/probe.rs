//! One probe: where it was taken, how deep, and how far either may be off.

use super::{Behind, Maker, Told};
use crate::define::Text;
use crate::define::survey::{Probe, Spot, ToolKind};
use crate::geom::{Point, Vec2};
use crate::survey::statistics::{ELLIPSE_95, LINE_95, critical};
use crate::survey::tools::{handling, note};
use crate::units::fmt_mm;

/// How far from square a rod is held, as a share of its depth: a standard deviation of 0.6 degrees (common practice, no
/// source).
const LEANS: f64 = 0.01;

/// A probe, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Probed {
    /// Its id.
    pub id: Text,
    /// Its place on the sheet, mm.
    pub at: Point,
    /// Depth from the front face, mm.
    pub depth: f64,
    /// Standard deviation of the depth, mm.
    pub deviation: f64,
    /// Standard deviation across, mm: of its place, and as the rod leans.
    pub across: f64,
    /// It met nothing so far in.
    pub free: bool,
    /// Number of readings.
    pub readings: usize,
}

impl Probed {
    /// How far the depth may be off at 95 %, mm.
    pub fn doubt(&self) -> f64 {
        LINE_95 * self.deviation
    }

    /// What is there for certain at 95 %, mm.
    pub fn least(&self) -> f64 {
        (self.depth - self.doubt()).max(0.0)
    }
}

impl Maker<'_> {
    pub(super) fn probes(&mut self, out: &mut Behind) {
        for said in &self.survey.behind.probes {
            if let Some(p) = self.probed(said, out) {
                out.probes.push(p);
            }
        }
    }

    fn probed(&mut self, said: &Probe, out: &mut Behind) -> Option<Probed> {
        let (at, spread) = match &said.spot {
            Spot::Through(id, off) => {
                let p = self.frame.held(id)?;
                let by = off.as_ref().map_or(Vec2::ZERO, |o| Vec2::new(o.x.mm(), o.y.mm()));
                // the step from that place is laid off with a rule
                let own = if off.is_some() { ToolKind::Rule.deviation() } else { 0.0 };
                let centre = self.frame.doubt(p).major / ELLIPSE_95;
                (self.frame.solved.adjusted.state.at[p] + by, (centre * centre + own * own).sqrt())
            }
            Spot::At(xy) => (Point::new(xy.x.mm(), xy.y.mm()), ToolKind::Tape.deviation()),
        };
        let tool = said.tool.as_ref().map_or("rod", |t| t.value.as_ref());
        let how = handling(self.survey, tool, &said.tool, &mut out.assumed, &mut self.problems)?;
        if how.zero {
            let message = format!("the zero error of `{tool}` is to be found, and probes cannot tell it");
            self.tell("probe-zero", &said.place, message, "state its \"zero-error\", or use another tool");
            return None;
        }
        let sigma = said.deviation.as_ref().map_or(how.sigma, |d| d.mm());
        let from = said.from.as_ref().map_or(0.0, |f| f.mm());
        let depths: Vec<f64> = said.reads.iter().map(|r| r.mm() - how.off + from).collect();
        let n = depths.len() as f64;
        let depth = depths.iter().sum::<f64>() / n;
        if let Some((k, d)) = depths.iter().enumerate().find(|(_, d)| **d <= 0.0) {
            let message = format!(
                "probe `{}` reads {}: this is no depth but {}",
                said.id.value,
                said.reads[k].value,
                fmt_mm(*d)
            );
            let help = "readings run forward from the front face; \"from\" says at which depth the rod's zero stands";
            self.tell("no-depth", &said.reads[k].place, message, help);
            return None;
        }
        let off = |d: &f64| (d - depth).abs();
        let worst = depths.iter().map(off).fold(0.0, f64::max);
        let rests = sigma * (1.0 - 1.0 / n).max(0.0).sqrt();
        let mut deviation = sigma / n.sqrt();
        if worst > critical(depths.len()) * rests && worst > 1e-9 {
            let says = format!(
                "the readings of probe {} lie up to {} from their mean, too much for a deviation of {}: take them again",
                said.id.value,
                fmt_mm((worst * 10.0).round() / 10.0),
                fmt_mm(sigma)
            );
            out.told.push(Told { code: "probe-readings", says });
            // until then every one of them may be right
            deviation = deviation.max(worst / LINE_95);
        }
        note(
            &mut out.assumed,
            "a rod is held square to the sheet with a standard deviation of 0.6 degrees (common practice, no source)",
        );
        let leans = LEANS * depth;
        Some(Probed {
            id: said.id.value.clone(),
            at,
            depth,
            deviation,
            across: (spread * spread + leans * leans).sqrt(),
            free: said.free,
            readings: depths.len(),
        })
    }
}
