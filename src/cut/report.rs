//! What the check of a cutting file found: facts, findings, remarks.

use super::rules::CutRule;
use crate::check::{Counts, Verdict};
use crate::geom::{Point, Rect};
use std::collections::BTreeMap;

/// One finding.
#[derive(Clone, Debug)]
pub struct Finding {
    /// The question.
    pub rule: &'static CutRule,
    /// Verdict.
    pub verdict: Verdict,
    /// In words.
    pub says: String,
    /// Measured, mm.
    pub measured: Option<f64>,
    /// Asked, mm.
    pub asked: Option<f64>,
    /// Where, mm, y up.
    pub at: Vec<Point>,
    /// Which items of the file.
    pub items: Vec<usize>,
}

/// A layer and what stands on it.
#[derive(Clone, Debug)]
pub struct LayerFacts {
    /// Name.
    pub name: String,
    /// Whether it is taken as cut.
    pub cut: bool,
    /// Why, in words.
    pub why: &'static str,
    /// Hidden in the program that drew it.
    pub hidden: Option<&'static str>,
    /// Entities by kind.
    pub counts: BTreeMap<String, usize>,
}

/// The numbers of a file.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// Closed contours, copies counted once.
    pub contours: usize,
    /// Of these, outlines of parts; the others are openings.
    pub outer: usize,
    /// Openings.
    pub inner: usize,
    /// Deepest nesting, from 1.
    pub levels: usize,
    /// Whether no contour holds another, so that all are taken as openings.
    pub openings_only: bool,
    /// Open chains.
    pub open: usize,
    /// Box of everything that would be cut, mm, y up.
    pub bounds: Option<Rect>,
    /// Length of all cuts as the file stands, copies included, mm.
    pub cut_length: f64,
    /// Starts of cuts, copies included.
    pub pierces: usize,
    /// Area that contours enclose as metal, mm2; only where an outline is in the file.
    pub metal: Option<f64>,
    /// Least width of an opening and where, mm.
    pub least_hole: Option<(f64, Point)>,
    /// Least metal between two contours, mm, with both places.
    pub least_web: Option<(f64, [Point; 2])>,
    /// Least radius of an inside corner, mm; 0 where one is sharp.
    pub least_corner: Option<(f64, Point)>,
    /// Each contour: kind of shape, depth (0 outermost), area, length, box.
    pub list: Vec<ContourFacts>,
}

/// One contour's numbers.
#[derive(Clone, Debug)]
pub struct ContourFacts {
    /// Depth of nesting, 0 outermost.
    pub depth: usize,
    /// Whether it is taken as an opening.
    pub opening: bool,
    /// Diameter if it is a circle, mm.
    pub diameter: Option<f64>,
    /// Enclosed area, mm2.
    pub area: f64,
    /// Length of the outline, mm.
    pub length: f64,
    /// Its box, mm, y up.
    pub bounds: Rect,
    /// How often it is drawn.
    pub copies: usize,
    /// First item of it.
    pub item: usize,
}

/// The whole answer.
#[derive(Clone, Debug)]
pub struct Report {
    /// Layers.
    pub layers: Vec<LayerFacts>,
    /// Numbers.
    pub facts: Facts,
    /// Findings, worst first.
    pub findings: Vec<Finding>,
    /// What was noticed beside.
    pub remarks: Vec<String>,
}

impl Report {
    /// How many of each verdict.
    pub fn counts(&self) -> Counts {
        let mut c = Counts::default();
        for f in &self.findings {
            match f.verdict {
                Verdict::Fail => c.fail += 1,
                Verdict::Withheld => c.withheld += 1,
                Verdict::Tight => c.tight += 1,
                Verdict::Pass => c.pass += 1,
            }
        }
        c
    }
}
