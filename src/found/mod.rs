//! The panel as found in a drawing of another program: outline and openings of lines and arcs, with what was read,
//! joined, merged, left out and perhaps meant.
//!
//! [`find`] reads nothing and writes nothing. What it is sure of it takes, and says how; what it only supposes (chords
//! that look like an arc, a diameter near a trade size) is a [`Proposal`], which nothing but the user's word accepts.

mod ask;
mod curves;
mod form;
mod grid;
mod measured;
mod names;
mod panel_file;
mod patterns;
mod proposal;
mod round;
mod runs;
mod sizes;
mod sort;
mod unit;

pub use form::{Form, form};
pub use measured::{Doubt, Fitted, Measured, On};
pub use panel_file::panel_file;
pub use patterns::{Match, Pattern};
pub use proposal::{Kind, Proposal};

use crate::cut::{Gathered, LayerFacts, choose, gather};
use crate::diag::{Problem, Problems};
use crate::geom::{Contour, Point};
use crate::import::CutFile;

/// What the user says beside the file. Lengths in mm.
#[derive(Clone, Debug)]
pub struct Options {
    /// Layers that hold the panel; empty: by their names.
    pub layers: Vec<String>,
    /// Ends up to this far apart are joined; 0: only those within rounding.
    pub join: f64,
    /// How far arcs may leave a Bézier, spline or ellipse.
    pub curve: f64,
    /// A closed contour that leaves a circle by no more is written as that circle.
    pub round: f64,
    /// Straights that leave an arc or a circle by no more are proposed as such.
    pub fit: f64,
    /// Contours are proposed on a grid this wide; None: they are not.
    pub grid: Option<f64>,
    /// Proposals that are accepted.
    pub accept: Vec<String>,
    /// Where the panel's origin lies, in the axes in which places are told; None: the lower left corner of the outline's box.
    pub origin: Option<Point>,
}

impl Default for Options {
    /// The stated tolerances: 1 um for curves, 0.02 mm for circles (a Bézier circle of four pieces leaves its circle by
    /// 0.027 % of the radius), 0.05 mm for straights that look like arcs.
    fn default() -> Options {
        Options {
            layers: vec![],
            join: 0.0,
            curve: 1e-3,
            round: 0.02,
            fit: 0.05,
            grid: None,
            accept: vec![],
            origin: None,
        }
    }
}

/// What something told is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// There is no panel without an answer.
    Question,
    /// Not in the panel though it may belong there.
    LeftOut,
    /// Changed on the way: joined, merged, a curve turned to arcs.
    Changed,
    /// Only to know.
    Note,
}

impl About {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            About::Question => "question",
            About::LeftOut => "left out",
            About::Changed => "changed",
            About::Note => "note",
        }
    }
}

/// One thing told.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// What it is about.
    pub about: About,
    /// A short stable name: `open`, `unit`, `doubled`, ...
    pub code: &'static str,
    /// In words, with what to do.
    pub says: String,
    /// Where, mm, y up, in the file's axes.
    pub at: Vec<Point>,
    /// Items of the file.
    pub items: Vec<usize>,
}

/// One contour of the panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its id in the panel file.
    pub id: String,
    /// Its contour, mm, in the file's axes (y up), counter-clockwise.
    pub contour: Contour,
    /// Items that draw it.
    pub items: Vec<usize>,
    /// How it became a circle, and how far it leaves it, mm; None where it was drawn as one or is none.
    pub rounded: Option<f64>,
    /// How far it may be off at 95 %, where it was measured and the points tell.
    pub doubt: Option<Doubt>,
}

/// Everything that was found.
#[derive(Clone, Debug)]
pub struct Found {
    /// Layers, and which of them were looked at.
    pub layers: Vec<LayerFacts>,
    /// The sheet's edge.
    pub outline: Option<Piece>,
    /// Openings, from top left to bottom right.
    pub openings: Vec<Piece>,
    /// Patterns of the catalogue, by the opening in their middle.
    pub patterns: Vec<Match>,
    /// Proposals, accepted or not.
    pub proposals: Vec<Proposal>,
    /// Fits to measured points, in the order of their file.
    pub fits: Vec<Fitted>,
    /// What was told.
    pub told: Vec<Told>,
    /// Where the panel's origin lies, mm, y up, in the file's axes.
    pub origin: Point,
    /// Curves turned to arcs: how many, and the largest bound, mm.
    pub curves: (usize, f64),
    /// The tolerances that held.
    pub options: Options,
}

impl Found {
    /// Whether nothing is open: no question, nothing left out that may belong to the panel.
    pub fn clean(&self) -> bool {
        !self.told.iter().any(|t| matches!(t.about, About::Question | About::LeftOut))
    }

    /// What stands in the way of a panel file.
    pub fn questions(&self) -> impl Iterator<Item = &Told> {
        self.told.iter().filter(|t| t.about == About::Question)
    }
}

/// Finds the panel in a file.
///
/// # Errors
/// A layer or proposal that the user names and that is not there; two accepted proposals that contradict each other.
pub fn find(file: &CutFile, patterns: &[Pattern], options: &Options) -> Result<Found, Problems> {
    with(file, None, patterns, options)
}

/// Finds the panel in measured points.
///
/// # Errors
/// As [`find`].
pub fn find_measured(points: &Measured, patterns: &[Pattern], options: &Options) -> Result<Found, Problems> {
    with(&points.file, Some(points), patterns, options)
}

fn with(
    file: &CutFile,
    points: Option<&Measured>,
    patterns: &[Pattern],
    options: &Options,
) -> Result<Found, Problems> {
    let mut told = Vec::new();
    if let Some(p) = points {
        p.tell(&mut told);
    }
    let (plain, curves) = curves::to_arcs(file, options.curve, &mut told);
    let layers = layers(file, &options.layers)?;
    let chosen: Vec<bool> = layers.iter().map(|l| l.cut).collect();
    let mut gathered: Gathered = gather(&plain, &chosen, options.join);
    runs::straighten(&mut gathered, &mut told);
    ask::all(file, &gathered, &layers, options, &mut told);
    let mut sorted = sort::sort(file, &gathered, options, &mut told);
    if let Some(m) = points {
        for p in sorted.outline.iter_mut().chain(&mut sorted.openings) {
            p.doubt = m.doubt(&p.items);
        }
    }
    let mut found = patterns::find(&sorted.openings, patterns);
    names::give(file, &layers, sorted.outline.as_ref(), &mut sorted.openings, &found);
    unit::ask(file, sorted.outline.as_ref(), &sorted.openings, &mut told);
    let mut proposals = runs::proposals(&sorted, options);
    proposals.extend(sizes::proposals(&sorted.openings, &proposals, patterns));
    if let Some(p) = points {
        proposals.extend(p.proposals(|item| sorted.of(item)));
    }
    proposal::number(&mut proposals);
    proposal::mark(&mut proposals, &options.accept);
    proposal::take(&mut sorted, &proposals, &[Kind::Fit, Kind::Symmetry, Kind::Size]);
    let origin = match (options.origin, &sorted.outline) {
        (Some(at), _) => crate::cut::from_own(file, at),
        (None, Some(o)) => o.contour.bounds().origin(),
        (None, None) => Point::ORIGIN,
    };
    if let Some(grid) = options.grid {
        let mut last = grid::proposals(&sorted, origin, grid);
        proposal::mark(&mut last, &options.accept);
        proposal::take(&mut sorted, &last, &[Kind::Grid]);
        proposals.extend(last);
    }
    proposal::refuse(&proposals, &options.accept)?;
    if proposals.iter().any(|p| p.accepted) {
        found = patterns::find(&sorted.openings, patterns);
    }
    told.sort_by_key(|t| t.about);
    let sort::Sorted { outline, openings } = sorted;
    Ok(Found {
        layers,
        outline,
        openings,
        patterns: found,
        proposals,
        fits: points.map_or(vec![], |p| p.fits.clone()),
        told,
        origin,
        curves,
        options: options.clone(),
    })
}

/// The layers that hold the panel: those that are cut, and those with openings that are there already.
fn layers(file: &CutFile, asked: &[String]) -> Result<Vec<LayerFacts>, Problem> {
    let mut layers = choose(file, asked)?;
    if asked.is_empty() {
        for l in &mut layers {
            if l.name.eq_ignore_ascii_case("existing") {
                (l.cut, l.why) = (true, "its name says that it is there already");
            }
        }
    }
    Ok(layers)
}

/// "1 gap was", "3 gaps were": the number with what fits it.
fn many(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}
