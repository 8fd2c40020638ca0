//! What is cut in one sheet, as data for whoever prints tables: sizes, lengths, fates, drills.

use super::holes::Holes;
use super::kerf;
use super::plan::{Fate, Plan};
use super::strip::role;
use super::words::{both, thickness};
use crate::geom::{Contour, Point};
use crate::panel::{Compensates, Panel, Process};

/// One opening of a sheet.
#[derive(Clone, Debug)]
pub struct CutOpening {
    /// `subject.part`.
    pub name: String,
    /// What is done with it, in words.
    pub fate: &'static str,
    /// For a fastener, shaft or wire; else for a body.
    pub hole: bool,
    /// Diameter where it is round, mm.
    pub diameter: Option<f64>,
    /// Width and height of its upright box, mm.
    pub size: (f64, f64),
    /// Point that is dimensioned, panel axes, mm.
    pub centre: Point,
}

/// What is cut in one sheet.
#[derive(Clone, Debug)]
pub struct CutSheet {
    /// The sheet's id.
    pub name: String,
    /// Its role in words.
    pub role: &'static str,
    /// Material, or that it is not given.
    pub material: String,
    /// Thickness as written.
    pub thickness: String,
    /// Width and height of the outline's upright box, mm.
    pub size: (f64, f64),
    /// Whether the outline is cut.
    pub cut_outline: bool,
    /// Closed contours that are cut.
    pub contours: usize,
    /// Length of all of them, finished size, mm.
    pub length: f64,
    /// The narrowest contour that is cut and its width, mm: the least side of its upright box.
    pub least: Option<(String, f64)>,
    /// Process and who compensates, in words.
    pub process: String,
    /// Width of the cut in words.
    pub width: String,
    /// Tolerance of the cut with where it comes from.
    pub tolerance: String,
    /// Every opening in the panel's order.
    pub openings: Vec<CutOpening>,
    /// Hole schedule: key, count, mm (in), drill mm, drill in, how.
    pub holes: Vec<Vec<String>>,
    /// What the reader must be told.
    pub remarks: Vec<String>,
}

/// What is cut in the sheet with this index; none if there is no such sheet.
pub fn cut_sheet(panel: &Panel, sheet: usize) -> Option<CutSheet> {
    let s = panel.sheets.get(sheet)?;
    let plan = Plan::of(panel, sheet)?;
    let outline = s.outline.bounds();
    let least = plan
        .contours
        .iter()
        .filter(|(_, _, outside)| !outside)
        .map(|(name, c, _)| (name.clone(), narrow(c)))
        .min_by(|a, b| a.1.total_cmp(&b.1).then_with(|| a.0.cmp(&b.0)));
    let process = panel.process_of(sheet);
    let holes = Holes::of(panel, &plan);
    // a layer hears of every opening of its carrier; those beside it are none of its business
    let own =
        |o: &&super::plan::Opening| o.fate != Fate::OffSheet || panel.part(o.part).sheet as usize == sheet;
    let lost = plan.with(Fate::OffSheet).any(|o| own(&o));
    let mut remarks = plan.remarks.clone();
    remarks.retain(|r| lost || !r.starts_with("NOT DRAWN"));
    remarks.extend(holes.countersinks());
    let offset = kerf::offset(process).unwrap_or_else(|e| {
        remarks.push(e.to_string());
        None
    });
    Some(CutSheet {
        name: s.id.clone(),
        role: role(s.role),
        material: s.material.clone().unwrap_or_else(|| "not given".into()),
        thickness: thickness(s),
        size: (outline.width(), outline.height()),
        cut_outline: plan.cut_outline,
        contours: plan.contours.len(),
        length: plan.contours.iter().map(|(_, c, _)| c.perimeter()).sum(),
        least,
        process: kerf::statement(process, offset),
        width: width(process),
        tolerance: process
            .map_or("not given".into(), |p| format!("{} per side, {}", both(p.tolerance.0), p.tolerance.1)),
        openings: plan.openings.iter().filter(own).map(opening).collect(),
        holes: holes.cells(),
        remarks,
    })
}

fn narrow(c: &Contour) -> f64 {
    let b = c.bounds();
    b.width().min(b.height())
}

fn width(process: Option<&Process>) -> String {
    let Some(p) = process else { return "not given".into() };
    let mut words = match (p.kerf, p.tool_radius) {
        (Some(k), _) => format!("kerf {}", both(k)),
        (None, Some(r)) => format!("tool radius {}", both(r)),
        (None, None) => "not given".into(),
    };
    words.push_str(match p.compensates {
        Compensates::Cutter => "; the cutter allows for it",
        Compensates::File => "; the file allows for it",
    });
    words
}

fn opening(o: &super::plan::Opening) -> CutOpening {
    let b = o.contour.bounds();
    CutOpening {
        name: o.name.clone(),
        fate: match o.fate {
            Fate::Cut => "cut",
            Fate::Existing => "exists, not cut",
            Fate::FromPart => "drilled from the part",
            Fate::Swallowed => "not cut: inside a larger opening",
            Fate::Twice => "not cut again: same contour as another",
            Fate::AlreadyOpen => "not cut: the metal is open there",
            Fate::Provision => "provision: not cut now",
            Fate::OffSheet => "off the sheet: not drawn",
        },
        hole: o.hole,
        diameter: o.contour.as_circle().map(|(_, r)| 2.0 * r),
        size: (b.width(), b.height()),
        centre: o.centre,
    }
}
