//! The 1:1 cutting template: what is taped on the sheet and cut along.
//!
//! A template shows one sheet of a panel from one face, true to size, with everything that a person at the
//! bench needs: what is cut and what exists, centres, drills, names, the datum, marks that tell the faces
//! apart, bars and diagonals to measure first, and what the verdicts say about cutting at all.

mod bars;
mod column;
mod content;
mod holes;
mod kerf;
mod merge;
mod options;
mod page;
mod placer;
mod plan;
mod shape;
mod stamp;
mod standing;
mod strip;
mod view;
mod words;

pub use options::{CORRECTION, Face, Measured, Paper, Purpose, TemplateError, TemplateOptions};
pub use standing::{Counts, Standing};

use crate::check::Finding;
use crate::draw::{Drawing, Units};
use crate::panel::Panel;
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
    let none = || TemplateError::NoSheet { asked: sheet, have: panel.sheets.len() };
    let plan = Plan::of(panel, sheet).ok_or_else(none)?;
    let of = panel.sheets.get(sheet).ok_or_else(none)?;
    let factors = match opts.purpose {
        Purpose::Copy => (1.0, 1.0),
        Purpose::Cut | Purpose::Trial => {
            (Measured::factor(opts.measured_x, 'x')?, Measured::factor(opts.measured_y, 'y')?)
        }
    };
    let offset = match opts.purpose {
        Purpose::Cut | Purpose::Copy => kerf::offset(panel.process.as_ref())?,
        Purpose::Trial => None,
    };
    let view = View::of(&plan, opts.face);
    let holes = Holes::of(&plan);
    let standing = Standing::of(panel, findings, opts);
    let subject = content::Subject {
        panel,
        sheet,
        plan: &plan,
        view: &view,
        holes: &holes,
        offset,
        purpose: opts.purpose,
    };
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
    let drawn = content::content(&subject, &[])?;
    let blocks = said.blocks(&drawn.unplaced);
    let laid = page::lay(
        &drawn.items,
        (view.width, view.height),
        &blocks,
        page::LEAST,
        opts.purpose != Purpose::Copy,
    );
    let stamps = stamp::words(&standing, opts);
    let size = (laid.width * factors.0 + 2.0 * page::MARGIN, laid.height * factors.1 + 2.0 * page::MARGIN);
    let under = stamp::across(&stamps, size.0, size.1);
    let pages = vec![page::page(&of.id, laid, None, factors, under)];
    Ok(Drawing { title: format!("{}, {}", panel.name, of.id), pages, meta: meta(&said), units: units(panel) })
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
        ("verdicts".to_owned(), said.standing.counts.words()),
    ];
    if let Some(n) = said.standing.notice() {
        facts.push(("notice".to_owned(), n));
    }
    facts
}
