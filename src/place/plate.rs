//! An adapter plate: it lies in front of the sheet over the old opening, is held by the old screws and carries the
//! instrument. It has the opening's own axes: the origin is the old opening's middle.

use super::old::{DIAMETERS, Into, asks, local, loss, middle, through, verdict, width};
use crate::check::Verdict;
use crate::geom::distance;
use crate::geom::{Contour, Point, Rect, SLACK, Vec2};
use crate::panel::{Class, Part, PartRef};

/// How far the plate reaches beyond the old opening at least, mm: common practice, no source.
const LAPS: f64 = 3.0;
/// Room beyond every least distance for cut and drill, mm: common practice, no source.
const SPARE: f64 = 1.0;
/// The plate's sides are whole multiples of this, mm.
const STEP: f64 = 1.0;
/// Radius of its corners, mm: less than two diameters of any screw that holds a panel's plate.
const CORNER: f64 = 3.0;

/// A hole of the plate: an old one drilled through.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateHole {
    /// The old hole.
    pub old: PartRef,
    /// From the plate's origin, mm.
    pub at: Vec2,
    /// Its diameter, mm.
    pub diameter: f64,
    /// The old screw, where it is known.
    pub fastener: Option<String>,
}

/// The plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Width and height, mm.
    pub size: (f64, f64),
    /// Radius of the corners, mm.
    pub corner: f64,
    /// Material, as the panel's.
    pub material: Option<String>,
    /// Thickness, mm, as the panel's where the instrument accepts it.
    pub thickness: Option<f64>,
    /// Room behind, from the plate's front face, mm.
    pub depth: Option<f64>,
    /// The old screws.
    pub holes: Vec<PlateHole>,
    /// What stands on the panel where the plate would lie, or too near to it.
    pub meets: Vec<String>,
    /// Coat per face, mm, as the panel's.
    pub coat: Option<f64>,
    /// The panel's tilt, degrees.
    pub tilt: Option<f64>,
}

impl Plate {
    /// Its outline about a middle.
    pub fn outline(&self, at: Point) -> Contour {
        Contour::rect(at, self.size.0, self.size.1, self.corner)
    }
}

/// The plate that carries an instrument, or why none does.
pub(super) fn plate(into: &Into, holes: &[PartRef]) -> Result<Plate, Vec<String>> {
    let panel = &into.panel;
    let opening = panel.part(into.opening);
    let Some(s) = panel.subjects.get(into.subject) else { return Err(Vec::new()) };
    let mut why = Vec::new();
    // all that is behind the plate goes through the sheet: its nuts and flange too
    let behind = |p: &Part| {
        matches!(p.class, Class::Case | Class::Body | Class::Flange | Class::Nut)
            && p.depth.is_none_or(|d| d.1 > 0.0)
    };
    let parts = through(s, into.subject, opening, behind);
    let room = |r: &PartRef| loss(panel.part(*r), opening);
    match verdict(parts.iter().map(|(r, m)| (*m, room(r))), into.asked) {
        Verdict::Withheld => {
            why.push("the size of what goes through the old opening is not known".to_owned())
        }
        Verdict::Fail => {
            let worst = parts.iter().min_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((r, m)) = worst {
                let stands = if *m < 0.0 {
                    format!("sticks out of the old opening by {:.2} mm", -m)
                } else {
                    format!("has {m:.2} mm of room a side in the old opening")
                };
                why.push(format!(
                    "{} {stands}, {} mm of room are asked: the old opening is too small for what goes through it, with a \
                     plate or without",
                    panel.part_name(*r),
                    into.asked
                ));
            }
        }
        Verdict::Tight | Verdict::Pass => {}
    }
    if holes.len() < 2 {
        why.push(format!(
            "the old opening has {} screw holes: a plate needs two at least, new ones are new cuts",
            holes.len()
        ));
    }
    if !why.is_empty() {
        return Err(why);
    }
    let holes: Vec<PlateHole> = holes.iter().filter_map(|r| hole(into, *r)).collect();
    let (mut x, mut y) = (0.0_f64, 0.0_f64);
    let mut reach = |b: Rect, by: f64| {
        x = x.max(b.x0.abs().max(b.x1.abs()) + by);
        y = y.max(b.y0.abs().max(b.y1.abs()) + by);
    };
    let moved = |p: &Part| p.contour.bounds() + local(panel, into.opening, Point::ORIGIN);
    reach(moved(opening), LAPS);
    for p in &s.parts {
        let fastener = p.fastening().and_then(|f| f.diameter);
        match p.class {
            Class::Bezel => reach(moved(p), SPARE),
            Class::Cutout => reach(moved(p), LAPS + SPARE),
            Class::Hole => {
                let d = fastener.or(width(p)).unwrap_or(0.0);
                let at = Point::ORIGIN + local(panel, into.opening, p.centre);
                reach(Rect::from_points(at, at), DIAMETERS * d + SPARE);
            }
            _ => {}
        }
    }
    for h in &holes {
        let at = Point::ORIGIN + h.at;
        let d = panel.part(h.old).fastening().and_then(|f| f.diameter).unwrap_or(h.diameter);
        reach(Rect::from_points(at, at), DIAMETERS * d + SPARE);
    }
    let side = |half: f64| (2.0 * half / STEP).ceil() * STEP;
    let sheet = panel.sheets.get(opening.sheet as usize);
    let accepts = s.facts.as_ref().map_or((None, None), |f| f.accepts);
    let thickness = sheet
        .and_then(|s| s.thickness)
        .map(|t| t.min(accepts.1.unwrap_or(f64::INFINITY)).max(accepts.0.unwrap_or(0.0)));
    let mut plate = Plate {
        size: (side(x), side(y)),
        corner: CORNER,
        material: sheet.and_then(|s| s.material.clone()),
        thickness,
        depth: depth(into).zip(thickness).map(|(d, t)| d + t),
        holes,
        meets: Vec::new(),
        coat: sheet.and_then(|s| s.coat),
        tilt: panel.tilt,
    };
    plate.meets = meets(into, &plate);
    Ok(plate)
}

fn hole(into: &Into, r: PartRef) -> Option<PlateHole> {
    let part = into.panel.part(r);
    Some(PlateHole {
        old: r,
        at: local(&into.panel, into.opening, part.centre),
        diameter: width(part)?,
        fastener: part.fastening().map(|f| f.name.clone()),
    })
}

/// The least depth behind the sheet where the instrument would stand; `None`: not known.
fn depth(into: &Into) -> Option<f64> {
    let panel = &into.panel;
    let opening = panel.part(into.opening);
    let under = |c: &Contour| distance::contours(c, &opening.contour).relation.overlaps();
    let mut least: Option<f64> = None;
    let mut within = false;
    for a in panel.depth.areas.iter().filter(|a| under(&a.contour)) {
        let here = a.available?;
        least = Some(least.map_or(here, |l| l.min(here)));
        within |= crate::geom::contains(&a.contour, &opening.contour);
    }
    if within {
        return least;
    }
    let elsewhere = panel.depth.elsewhere?;
    Some(least.map_or(elsewhere, |l| l.min(elsewhere)))
}

/// Subjects whose face lies under the plate or nearer to it than a bezel may, or whose holes, letters or kept room it would
/// cover; and the sheet's edge.
fn meets(into: &Into, plate: &Plate) -> Vec<String> {
    let panel = &into.panel;
    let opening = panel.part(into.opening);
    let outline = plate.outline(middle(&opening.contour));
    let mut out = Vec::new();
    if let Some(sheet) = panel.sheets.get(opening.sheet as usize)
        && !crate::geom::contains(&sheet.outline, &outline)
    {
        out.push("the sheet's edge".to_owned());
    }
    let gap = asks(panel, "bezel-gap");
    let own: Vec<usize> = plate.holes.iter().map(|h| h.old.subject as usize).collect();
    for (k, s) in panel.subjects.iter().enumerate() {
        if k == into.subject || k == into.old || own.contains(&k) {
            continue;
        }
        let hits = |p: &Part| match p.class {
            Class::Bezel | Class::Front => distance::near(&p.contour, &outline, gap - SLACK),
            Class::Head | Class::Cutout | Class::Hole | Class::Label | Class::Provision => {
                distance::contours(&p.contour, &outline).relation.overlaps()
            }
            _ => false,
        };
        if s.parts.iter().any(hits) {
            out.push(s.id.clone());
        }
    }
    out
}
