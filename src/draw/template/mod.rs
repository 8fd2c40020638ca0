//! The 1:1 cutting template: what is taped on the sheet and cut along.
//!
//! A template shows one sheet of a panel from one face, true to size, with everything that a person at the
//! bench needs: what is cut and what exists, centres, drills, names, the datum, marks that tell the faces
//! apart, bars and diagonals to measure first, and what the verdicts say about cutting at all.

pub(in crate::draw) mod bars;
mod buckets;
pub(in crate::draw) mod column;
mod content;
mod cut_data;
mod grid;
mod holes;
pub(in crate::draw) mod kerf;
mod map;
mod merge;
mod options;
pub(in crate::draw) mod page;
pub(in crate::draw) mod placer;
pub(in crate::draw) mod plan;
mod printed;
pub(in crate::draw) mod shape;
mod shop;
mod stamp;
mod standing;
pub(in crate::draw) mod strip;
mod tiles;
mod trial;
pub(in crate::draw) mod view;
pub(in crate::draw) mod words;

pub use cut_data::{CutOpening, CutSheet, cut_sheet};
pub use options::{CORRECTION, Face, Measured, Paper, Purpose, TemplateError, TemplateOptions};
pub use printed::{TRUE_WITHIN, printed};
pub use standing::{BARRED, Standing, count, count_words};

use crate::check::Finding;
use crate::draw::{Drawing, Page, Units};
use crate::geom::{Contour, Rect};
use crate::panel::Panel;
use content::Subject;
use grid::Grid;
use holes::Holes;
use plan::Plan;
use strip::Said;
use view::View;

/// The template of one sheet.
///
/// # Errors
/// No such sheet, a printer correction outside 0.9 to 1.1, an overlap that the paper does not take, a kerf
/// that is missing or swallows an opening.
pub fn template(
    panel: &Panel,
    sheet: usize,
    findings: &[Finding],
    opts: &TemplateOptions,
) -> Result<Drawing, TemplateError> {
    make(panel, sheet, findings, opts, |subject, said| {
        let stamps = stamp::words(said.standing, opts);
        match opts.purpose {
            Purpose::Copy => Ok(vec![copy(subject, said, &stamps)?]),
            Purpose::Cut | Purpose::Trial => true_size(subject, said, &stamps),
        }
    })
}

/// The shop file of one sheet: one page whose cut layer holds closed contours and nothing else. Paper,
/// overlap and printer corrections in the options mean nothing here.
///
/// # Errors
/// As [`template`].
pub fn shop(
    panel: &Panel,
    sheet: usize,
    findings: &[Finding],
    opts: &TemplateOptions,
) -> Result<Drawing, TemplateError> {
    let opts = TemplateOptions { measured_x: None, measured_y: None, ..opts.clone() };
    make(panel, sheet, findings, &opts, |subject, said| Ok(vec![shop::page(subject, said)?]))
}

/// Plans the sheet, then has the pages drawn.
fn make(
    panel: &Panel,
    sheet: usize,
    findings: &[Finding],
    opts: &TemplateOptions,
    draw: impl Fn(&Subject<'_>, &Said<'_>) -> Result<Vec<Page>, TemplateError>,
) -> Result<Drawing, TemplateError> {
    let none = || TemplateError::NoSheet { asked: sheet, have: panel.sheets.len() };
    let plan = Plan::of(panel, sheet).ok_or_else(none)?;
    let of = panel.sheets.get(sheet).ok_or_else(none)?;
    let factors = match opts.purpose {
        Purpose::Copy => (1.0, 1.0),
        Purpose::Cut | Purpose::Trial => opts.correction()?,
    };
    // card and plywood are cut by a knife along the line: a trial shows finished size
    let offset = match opts.purpose {
        Purpose::Cut | Purpose::Copy => kerf::offset(panel.process_of(sheet))?,
        Purpose::Trial => None,
    };
    let view = View::of(&plan, opts.face);
    let holes = Holes::of(panel, &plan);
    let standing = Standing::of(panel, findings, opts);
    let subject =
        Subject { panel, sheet, plan: &plan, view: &view, holes: &holes, offset, purpose: opts.purpose };
    let said = Said {
        panel,
        sheet: of,
        plan: &plan,
        view: &view,
        holes: &holes,
        standing: &standing,
        opts,
        offset,
        factors,
    };
    let pages = draw(&subject, &said)?;
    Ok(Drawing { title: format!("{}, {}", panel.name, of.id), pages, meta: meta(&said), units: units(panel) })
}

/// One page where the paper holds it, tiles where not.
fn true_size(subject: &Subject<'_>, said: &Said<'_>, stamps: &[String]) -> Result<Vec<Page>, TemplateError> {
    let scale = said.factors;
    let size = (said.view.width, said.view.height);
    let grid = Grid::choose(said.opts.paper, size, said.opts.overlap, scale)?;
    let drawn = content::content(subject, &[])?;
    let blocks = said.blocks(&drawn.unplaced);
    let name = said.sheet.id.as_str();
    let Some(grid) = grid else {
        let laid = page::lay(&drawn.items, size, &blocks, page::LEAST, true);
        return Ok(vec![page::page(name, laid, None, scale, stamps)]);
    };
    let (w, h) = grid.paper;
    for paper in [(w, h), (h, w)] {
        let inner = ((paper.0 - 2.0 * page::MARGIN) / scale.0, (paper.1 - 2.0 * page::MARGIN) / scale.1);
        let laid = page::lay(&drawn.items, size, &blocks, inner, true);
        if laid.width <= inner.0 && laid.height <= inner.1 {
            return Ok(vec![page::page(name, laid, Some(paper), scale, stamps)]);
        }
    }
    // labels once more, clear of the register marks
    let lines: Vec<Contour> = said
        .plan
        .openings
        .iter()
        .map(|o| &o.contour)
        .chain(std::iter::once(&said.plan.outline))
        .map(|c| said.view.way.contour(c))
        .collect();
    let marks = grid.marks(&lines);
    let boxes: Vec<Rect> = marks.iter().copied().map(grid::mark_box).collect();
    let drawn = content::content(subject, &boxes)?;
    let blocks = said.blocks(&drawn.unplaced);
    Ok(tiles::pages(said, &grid, drawn.items, &marks, &blocks, stamps))
}

/// The whole page shrunk to the paper, to look at.
fn copy(subject: &Subject<'_>, said: &Said<'_>, stamps: &[String]) -> Result<Page, TemplateError> {
    let drawn = content::content(subject, &[])?;
    let blocks = said.blocks(&drawn.unplaced);
    let laid = page::lay(&drawn.items, (said.view.width, said.view.height), &blocks, page::LEAST, false);
    let name = said.sheet.id.as_str();
    let Some((short, long)) = said.opts.paper.size() else {
        return Ok(page::page(name, laid, None, (1.0, 1.0), stamps));
    };
    let paper = if laid.width > laid.height { (long, short) } else { (short, long) };
    let room = 2.0 * page::MARGIN;
    let scale = ((paper.0 - room) / laid.width).min((paper.1 - room) / laid.height);
    Ok(page::page(name, laid, Some(paper), (scale, scale), stamps))
}

/// The unit of a panel's shop files.
fn units(panel: &Panel) -> Units {
    if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre }
}

/// Facts that go into a file's own properties.
fn meta(said: &Said<'_>) -> Vec<(String, String)> {
    let p = said.panel;
    let mut facts = vec![
        ("panel".to_owned(), p.name.clone()),
        ("sheet".to_owned(), said.sheet.id.clone()),
        ("kind".to_owned(), said.kind()),
        ("revision".to_owned(), p.title.get("revision").unwrap_or("not given").to_owned()),
        ("inputs".to_owned(), p.hash.clone()),
        ("verdicts".to_owned(), count_words(&said.standing.counts)),
    ];
    if let Some(n) = said.standing.notice() {
        facts.push(("notice".to_owned(), n));
    }
    facts
}
