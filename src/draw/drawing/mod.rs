//! The dimensioned fabrication drawing: what hangs on the workshop's wall.
//!
//! One sheet of metal makes one drawing of one or more pages. Its words alone define the metal: every opening by its
//! letter in the hole schedule and its coordinates, every odd contour point by point, the outline too. Sheets,
//! title block and scales follow ISO 5457, ISO 7200 and ISO 5455, or ASME Y14.1 for a panel in inches; running
//! dimensions follow ISO 129-1, general tolerances ISO 2768-1. The editions were not at hand: what is taken from
//! memory is marked in each file.

mod contour;
mod feature;
pub(in crate::draw) mod flow;
mod form;
pub(in crate::draw) mod frame;
mod legend;
mod notes;
pub(in crate::draw) mod number;
mod options;
pub(in crate::draw) mod ordinate;
pub(in crate::draw) mod paper;
mod revisions;
pub(in crate::draw) mod sheet;
mod spread;
pub(in crate::draw) mod title;
mod view;

pub use options::{DrawingError, DrawingOptions};
pub use paper::{PageSize, SIZES};

use super::template::plan::Plan;
use super::template::strip::role;
use super::template::words::{mm, thickness};
use super::template::{Standing, TemplateOptions, count_words};
use super::{Drawing, Units};
use crate::check::{Finding, Verdict};
use crate::geom::{Point, Rect};
use crate::panel::Panel;
use feature::Features;
use form::Seen;
use legend::Legend;
use number::Print;
use title::Says;
use view::Scene;

/// The drawing of one sheet of metal; that of the main sheet carries the equipment legend.
///
/// # Errors
/// No such sheet, or a page on which no standard scale brings it.
pub fn drawing(
    panel: &Panel,
    sheet: usize,
    findings: &[Finding],
    opts: &DrawingOptions,
) -> Result<Drawing, DrawingError> {
    let none = || DrawingError::NoSheet { asked: sheet, have: panel.sheets.len() };
    let plan = Plan::of(panel, sheet).ok_or_else(none)?;
    let of = panel.sheets.get(sheet).ok_or_else(none)?;
    let print = Print::of(panel.unit);
    let features = Features::of(panel, sheet, &plan, print);
    let datum = datum(&plan, sheet, print);
    let outline = Seen::of(&plan.outline, datum);
    let scene = Scene { panel, sheet, plan: &plan, features: &features, outline: &outline, print, datum };
    let stale = TemplateOptions { stale: opts.stale.clone(), ..TemplateOptions::default() };
    let standing = Standing::of(panel, findings, &stale);
    let says = Says {
        title: &panel.title,
        kind: panel.title.get("document-type").unwrap_or("fabrication drawing").to_owned(),
        name: panel.name.clone(),
        part: format!("{}, {}", of.id, role(of.role)),
        scale: String::new(),
        material: of.material.clone().unwrap_or_else(|| "not given".into()),
        thickness: thickness(of),
        coat: of.coat.map_or_else(|| "not given".into(), |c| format!("{} mm", mm(c))),
        tolerance: panel.title.get("general-tolerance").unwrap_or(notes::GENERAL).to_owned(),
        unit: print.unit(),
        status: standing.notice().unwrap_or_else(|| count_words(&standing.counts)),
        sheet: 1,
        sheets: 1,
    };
    let legend = (sheet == 0).then(|| Legend { panel, worst: worst(panel, findings), print });
    let (pages, size, scale) = sheet::pages(&scene, &says, &standing, opts.page, legend)?;
    let mut meta = vec![
        ("panel".to_owned(), panel.name.clone()),
        ("sheet".to_owned(), of.id.clone()),
        ("kind".to_owned(), "fabrication drawing".to_owned()),
        ("page".to_owned(), size.name.to_uppercase()),
        ("scale".to_owned(), scale.words()),
        ("revision".to_owned(), panel.title.get("revision").unwrap_or("not given").to_owned()),
        ("inputs".to_owned(), panel.hash.clone()),
        ("verdicts".to_owned(), count_words(&standing.counts)),
    ];
    if let Some(n) = standing.notice() {
        meta.push(("notice".to_owned(), n));
    }
    let units = if print.inch { Units::Inch } else { Units::Millimetre };
    Ok(Drawing { title: format!("{}, {}: drawing", panel.name, of.id), pages, meta, units })
}

/// The panel's datum for the main sheet and for a sheet in whose box it lies; another sheet takes the lower left
/// corner of its own box, on whole steps of the printed numbers so that nothing is rounded twice.
fn datum(plan: &Plan, sheet: usize, print: Print) -> Point {
    let b: Rect = plan.outline.bounds();
    if sheet == 0 || b.inflate(0.01, 0.01).contains(Point::ORIGIN) {
        return Point::ORIGIN;
    }
    Point::new(print.value(print.key(b.x0)), print.value(print.key(b.y0)))
}

/// Worst verdict of each subject.
fn worst(panel: &Panel, findings: &[Finding]) -> Vec<Verdict> {
    let mut worst = vec![Verdict::Pass; panel.subjects.len()];
    for f in findings {
        for r in std::iter::once(f.a).chain(f.b) {
            if let Some(w) = worst.get_mut(r.subject as usize) {
                *w = (*w).min(f.verdict);
            }
        }
    }
    worst
}
