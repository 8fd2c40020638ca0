//! Measured points to contours: straights, arcs, circles and fillets by least squares, each with its residuals.
//!
//! The user says which points lie on which piece; the order of the file is the way round. Nothing is guessed: a piece
//! that its points do not determine is a fault, and one that no further point checks is told.

mod doubt;
mod fit;
mod joined;
mod mirror;
mod read;

pub use doubt::Doubt;

use super::proposal::{Kind, Proposal};
use super::{About, Told, many};
use crate::cut::mm;
use crate::diag::Problems;
use crate::geom::{Contour, Point};
use crate::import::{CutFile, ReadOptions};

/// What a run of points lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// A straight.
    Line,
    /// An arc that need not be tangent to anything.
    Arc,
    /// A whole circle, alone in its contour.
    Circle,
    /// An arc tangent to the straights before and after it.
    Fillet,
}

impl On {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            On::Line => "line",
            On::Arc => "arc",
            On::Circle => "circle",
            On::Fillet => "fillet",
        }
    }

    /// Numbers that its points have to give.
    fn unknowns(self) -> usize {
        match self {
            On::Line => 2,
            On::Arc | On::Circle => 3,
            On::Fillet => 1,
        }
    }
}

/// Points of one piece, in the order in which they were taken.
#[derive(Clone, Debug)]
struct Run {
    on: On,
    /// Piece as written.
    name: String,
    points: Vec<Point>,
    /// Line of the file of each.
    lines: Vec<u32>,
}

/// One fitted piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// Contour.
    pub contour: String,
    /// Piece as written.
    pub piece: String,
    /// What was fitted.
    pub on: On,
    /// Number of points.
    pub points: usize,
    /// Radius, mm; None for a straight.
    pub radius: Option<f64>,
    /// Standard deviation of the radius, mm; None for a straight, and where no point is to spare.
    pub radius_deviation: Option<f64>,
    /// Standard deviation of one point across the piece, mm; None where no point is to spare.
    pub deviation: Option<f64>,
    /// Residual of each point, mm: to the left of a straight, outside of a circle positive.
    pub residuals: Vec<f64>,
    /// Lines of the file of the points.
    pub lines: Vec<u32>,
}

/// A file of points, fitted.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The contours as a drawing: one item each, on a layer of its name.
    pub file: CutFile,
    /// The fits, in the order of the file.
    pub fits: Vec<Fitted>,
    /// Deviation of one point by the residuals of all pieces, mm, and how many points there are to spare; None without any.
    pub scatter: Option<(f64, usize)>,
    /// Of each item how far it may be off at 95 %; None where nothing tells.
    pub doubts: Vec<Option<Doubt>>,
    /// Symmetric contours: item, contour, what is proposed, how far a corner would move, mm.
    mirrored: Vec<(usize, Contour, String, f64)>,
}

impl Measured {
    /// Reads and fits a file of points.
    ///
    /// # Errors
    /// Every fault of the file; points that determine no piece; pieces that do not meet.
    pub fn read(name: &str, bytes: &[u8], options: &ReadOptions) -> Result<Measured, Problems> {
        let (mut file, contours, lines) = read::read(name, bytes, options)?;
        let mut problems = Problems::new();
        problems.add_text(lines.file(), lines.text());
        let (mut fits, mut mirrored, mut spreads) = (Vec::new(), Vec::new(), Vec::new());
        for (k, (contour, runs)) in contours.iter().enumerate() {
            match joined::joined(runs) {
                Ok(joined) => {
                    let free = joined.contour.clone();
                    if let Some((c, says, off)) = mirror::mirrored(runs, &joined) {
                        mirrored.push((k, c, format!("{contour}: {says}"), off));
                    }
                    spreads.push(joined.spread);
                    fits.extend(joined.fits.into_iter().map(|f| Fitted { contour: contour.clone(), ..f }));
                    read::item(&mut file, k, contour, runs, free.segments().to_vec());
                }
                Err(fault) => {
                    let run = runs.get(fault.run).or(runs.first());
                    let line = run.and_then(|r| r.lines.first()).copied().unwrap_or(1);
                    problems.push(read::problem(&lines, line, contour, run, fault));
                }
            }
        }
        let scatter = scatter(&fits);
        let doubt = |s: Option<doubt::Spread>| s.zip(scatter).map(|(s, (one, spare))| s.doubt(one, spare));
        let doubts = spreads.into_iter().map(doubt).collect();
        problems.or(Measured { file, fits, scatter, doubts, mirrored })
    }

    /// How far the contour of an item may be off.
    pub(super) fn doubt(&self, items: &[usize]) -> Option<Doubt> {
        match items {
            [one] => self.doubts.get(*one).copied().flatten(),
            _ => None,
        }
    }

    /// What is told of the fits.
    pub(super) fn tell(&self, told: &mut Vec<Told>) {
        let mut tell = |about, code, says| {
            told.push(Told { about, code, says, at: vec![], items: vec![] });
        };
        let off = |f: &Fitted| f.residuals.iter().fold(0.0f64, |w, r| w.max(r.abs()));
        if let Some(w) = self.fits.iter().max_by(|a, b| off(a).total_cmp(&off(b))) {
            let row = w.residuals.iter().zip(&w.lines).max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
            let pieces = many(self.fits.len(), "piece was", "pieces were");
            let says = format!(
                "{pieces} fitted to {} points, which lie off by at most {} (line {} of the file, {} {})",
                self.fits.iter().map(|f| f.points).sum::<usize>(),
                mm(off(w)),
                row.map_or(0, |r| *r.1),
                w.contour,
                w.piece
            );
            tell(About::Note, "fitted", says);
        }
        let says = match self.scatter {
            Some((one, spare)) => format!(
                "one point has a deviation of {} by all pieces together, {spare} more than needed: the panel file says how far each contour may be off at 95 %",
                mm(one)
            ),
            None => "no point is more than needed: how far the contours may be off is not known, and the panel file does not say it"
                .to_owned(),
        };
        if !self.fits.is_empty() {
            tell(About::Note, "scatter", says);
        }
        let bare: Vec<String> = self
            .fits
            .iter()
            .filter(|f| f.deviation.is_none())
            .map(|f| format!("{} {}", f.contour, f.piece))
            .collect();
        if !bare.is_empty() {
            let says = format!(
                "nothing checks {} of the pieces, as they have just the points they need: {}. Measure one more point on each",
                bare.len(),
                bare.join(", ")
            );
            tell(About::Note, "unchecked", says);
        }
    }

    /// Symmetric contours, as proposals for the pieces that their items became.
    pub(super) fn proposals(&self, target: impl Fn(usize) -> Option<Option<usize>>) -> Vec<Proposal> {
        self.mirrored
            .iter()
            .filter_map(|(item, contour, says, off)| {
                let replace = vec![(target(*item)?, contour.clone())];
                let (says, off) = (says.clone(), *off);
                Some(Proposal {
                    id: String::new(),
                    kind: Kind::Symmetry,
                    says,
                    off,
                    replace,
                    accepted: false,
                })
            })
            .collect()
    }
}

/// The deviation of one point by all residuals, and how many points there are to spare.
fn scatter(fits: &[Fitted]) -> Option<(f64, usize)> {
    let spare: usize = fits.iter().map(|f| f.points.saturating_sub(f.on.unknowns())).sum();
    let squares: f64 = fits.iter().flat_map(|f| &f.residuals).map(|r| r * r).sum();
    (spare > 0).then(|| ((squares / spare as f64).sqrt(), spare))
}
