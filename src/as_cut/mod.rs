//! A panel as it was cut against its design: how far every opening is off, and whether that is within what the design's
//! check allowed for.
//!
//! The design's tolerances make a band round each outline: everything that the check said at the worst tolerance holds
//! where the outline that was cut stays in its band. So that is what is asked. What was measured has its own doubt, which
//! turns a pass into tight where it can take the outline out of the band.
//!
//! Openings are known by their ids where these are the same, else the nearest of like size are taken together.

mod fit;
mod outline;
mod partner;

pub use fit::Fit;

use crate::check::Verdict;
use crate::geom::{Contour, Point, SLACK, Transform, Vec2};
use crate::panel::{Class, Classes, Panel, Part, State};
use outline::Off;

/// One outline as it was cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Deviation {
    /// Name of the part in the design.
    pub id: String,
    /// Name of what was measured.
    pub measured: String,
    /// Pass: in its band whatever the doubt. Tight: in it as measured. Fail: out of it as measured.
    pub verdict: Verdict,
    /// From the centre of the design to the centre that was measured, mm.
    pub shift: Vec2,
    /// Diameter in the design and as measured, mm, of two circles.
    pub diameter: Option<[f64; 2]>,
    /// The most that it lies outside and inside of the design's outline, mm; not less, and no more than
    /// [`BOUND`] above the truth.
    pub off: [f64; 2],
    /// How far outside and inside the design's tolerances let it lie, mm.
    pub allowed: [f64; 2],
    /// How far the measurement may be off, mm.
    pub doubt: f64,
}

impl Deviation {
    /// By how much it leaves its band, as measured, mm; negative: what is left.
    pub fn beyond(&self) -> f64 {
        (self.off[0] - self.allowed[0]).max(self.off[1] - self.allowed[1])
    }
}

/// A panel as it was cut.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AsCut {
    /// How the measured panel was laid over the design, where that was asked.
    pub fit: Option<Fit>,
    /// What was measured of the design, the worst first: by verdict, then by how far it leaves its band.
    pub list: Vec<Deviation>,
    /// Openings of the design that nobody measured.
    pub not_measured: Vec<String>,
    /// Openings that were measured and that the design does not know.
    pub not_designed: Vec<String>,
}

/// The most by which a deviation of an outline that is no circle is told too large, mm.
pub const BOUND: f64 = 0.01;

/// Why two panels cannot be compared so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// Fewer than two openings of one and of the other are the same: nothing can be laid over anything.
    TooFew,
}

/// What is cut or was measured: its name and its part.
struct Item<'a> {
    subject: &'a str,
    name: String,
    part: &'a Part,
    exists: bool,
}

impl AsCut {
    /// Compares what was measured with the design; `fit`: lays it over the openings first as well as it goes.
    ///
    /// # Errors
    /// [`Trouble`]: what was asked to be laid over the design has fewer than two openings in common with it.
    pub fn of(design: &Panel, measured: &Panel, fit: bool) -> Result<AsCut, Trouble> {
        let (asked, found) = (openings(design), openings(measured));
        let place = |items: &[Item<'_>], t: &Transform| -> Vec<Contour> {
            items.iter().map(|i| t.contour(&i.part.contour)).collect()
        };
        let mut lay = Transform::IDENTITY;
        let mut out = AsCut::default();
        if fit {
            // what is taken together first is perhaps not what belongs together: it is laid over once more
            for _ in 0..2 {
                let partners = partner::partners(&asked, &found, &place(&found, &lay));
                let centres: Vec<[Point; 2]> = partners
                    .iter()
                    .map(|(a, b)| [centre(&asked[*a].part.contour), centre(&found[*b].part.contour)])
                    .collect();
                let fit = Fit::of(&centres).ok_or(Trouble::TooFew)?;
                lay = fit.transform();
                out.fit = Some(fit);
            }
        }
        let laid = place(&found, &lay);
        let partners = partner::partners(&asked, &found, &laid);
        for (k, item) in asked.iter().enumerate() {
            match partners.iter().find(|(a, _)| *a == k) {
                Some((_, b)) if !item.exists => out.list.push(deviation(item, &found[*b], &laid[*b])),
                None if !item.exists => out.not_measured.push(item.name.clone()),
                _ => {}
            }
        }
        let lone = (0..found.len()).filter(|b| partners.iter().all(|(_, taken)| taken != b));
        out.not_designed = lone.map(|b| found[b].name.clone()).collect();
        for (item, other) in edges(design, measured) {
            let laid = lay.contour(&other.part.contour);
            out.list.push(deviation(&item, &other, &laid));
        }
        out.list.sort_by(|a, b| a.verdict.cmp(&b.verdict).then(b.beyond().total_cmp(&a.beyond())));
        Ok(out)
    }

    /// Whether all that the design asks was measured and stays within its band.
    pub fn good(&self) -> bool {
        let pass = self.list.iter().all(|d| d.verdict == Verdict::Pass);
        pass && self.not_measured.is_empty() && self.not_designed.is_empty()
    }
}

/// The openings of a panel.
fn openings(panel: &Panel) -> Vec<Item<'_>> {
    let subjects = panel.subjects.iter().enumerate().filter(|(_, s)| !s.provision);
    let items = subjects.flat_map(|(k, s)| {
        let cut = s.parts.iter().enumerate().filter(|(_, p)| Classes::OPENINGS.has(p.class));
        cut.map(move |(n, part)| {
            let name = panel.part_name(crate::panel::PartRef { subject: k as u32, part: n as u32 });
            // what is there already is not cut anew
            let exists = s.state == State::Existing || part.there;
            Item { subject: &s.id, name, part, exists }
        })
    });
    items.collect()
}

/// Outlines of sheets that the design cuts, with those that were measured.
fn edges<'a>(design: &'a Panel, measured: &'a Panel) -> Vec<(Item<'a>, Item<'a>)> {
    let edge = |panel: &'a Panel, k: usize| {
        let sheet = panel.sheets.get(k)?;
        let s = panel.subjects.get(sheet.subject as usize)?;
        let part = s.parts.iter().find(|p| p.class == Class::Edge)?;
        Some(Item { subject: &s.id, name: s.id.clone(), part, exists: !sheet.new })
    };
    let alone = design.sheets.len() == 1 && measured.sheets.len() == 1;
    let pairs = (0..design.sheets.len()).filter_map(|k| {
        let item = edge(design, k).filter(|i| !i.exists)?;
        let same = |n: &usize| measured.sheets[*n].id == design.sheets[k].id;
        let other = if alone { Some(0) } else { (0..measured.sheets.len()).find(same) }?;
        Some((item, edge(measured, other)?))
    });
    pairs.collect()
}

fn centre(c: &Contour) -> Point {
    c.as_circle().map_or_else(|| c.centroid(), |(at, _)| at)
}

fn deviation(item: &Item<'_>, found: &Item<'_>, laid: &Contour) -> Deviation {
    let design = &item.part.contour;
    let Off { outside, inside } = outline::off(design, laid);
    let sum = |of: fn(&crate::panel::Term) -> f64| item.part.terms.iter().map(of).sum::<f64>();
    let allowed = [sum(|t| t.shift + t.grow), sum(|t| t.shift + t.shrink)];
    let doubt = found.part.terms.iter().map(|t| t.shift + t.grow.max(t.shrink)).sum();
    let diameter = design.as_circle().zip(laid.as_circle()).map(|((_, r), (_, s))| [2.0 * r, 2.0 * s]);
    let mut out = Deviation {
        id: item.name.clone(),
        measured: found.name.clone(),
        verdict: Verdict::Pass,
        shift: centre(laid) - centre(design),
        diameter,
        off: [outside, inside],
        allowed,
        doubt,
    };
    let beyond = out.beyond();
    out.verdict = if beyond > SLACK {
        Verdict::Fail
    } else if beyond + doubt > SLACK {
        Verdict::Tight
    } else {
        Verdict::Pass
    };
    out
}
