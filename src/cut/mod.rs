//! The check of a cutting file before it goes to a machine: closed single contours, nothing else on the layers
//! that are cut, a known unit, and what the process can do.
//!
//! What was not read or not told is withheld, never passed. Nothing is changed in the file.

mod ask_file;
mod ask_lines;
mod ask_process;
mod chain;
mod draft;
mod ends;
mod gather;
mod layers;
mod near;
mod nest;
mod report;
mod rules;
mod same;
mod shapes;
mod words;

pub use ends::Ends;
pub(crate) use gather::{Gathered, Open, gather};
pub(crate) use layers::choose;
pub(crate) use near::{Field, meeting, neighbours};
pub(crate) use nest::nest;
pub use report::{ContourFacts, Facts, Finding, LayerFacts, Report};
pub use rules::CutRule;
pub(crate) use words::{at, from_own, item, mm, own, size, spot};

use crate::check::Verdict;
use crate::diag::Problem;
use crate::geom::{Contour, Segment};
use crate::import::{CutFile, Shape};
use crate::panel::ProcessKind;
use draft::Draft;
use near::Meetings;

/// What the user says beside the file. Lengths in mm.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// Layers that are cut; empty: by their names.
    pub cut_layers: Vec<String>,
    /// How it is cut.
    pub process: Option<ProcessKind>,
    /// How much an edge may be off after the cut, a side.
    pub tolerance: f64,
    /// Thickness of the sheet.
    pub thickness: Option<f64>,
    /// Diameter of the tool.
    pub tool: Option<f64>,
    /// Least metal that the user wants.
    pub web: Option<f64>,
    /// Gaps up to this are joined.
    pub join: Option<f64>,
}

/// Checks a file.
///
/// # Errors
/// A layer that the user names and the file does not have.
pub fn check(file: &CutFile, options: &Options) -> Result<Report, Problem> {
    let chosen = choose(file, &options.cut_layers)?;
    let cut: Vec<bool> = chosen.iter().map(|l| l.cut).collect();
    let join = options.join.unwrap_or(0.0);
    let gathered = gather(file, &cut, join);
    let bounds = gathered
        .lines
        .iter()
        .filter_map(|k| match &file.items.get(*k)?.shape {
            Shape::Chain { pieces, curves, .. } => {
                let held = curves.iter().map(|c| c.bounds).reduce(|a, b| a.union(b));
                same::bounds(pieces).map(|b| held.map_or(b, |h| b.union(h)))
            }
            _ => None,
        })
        .reduce(|a, b| a.union(b));
    let mut d = Draft { file, cut: &gathered, bounds, findings: vec![], remarks: file.remarks.clone() };
    let mut facts =
        Facts { bounds, open: gathered.open.len(), cut_length: gathered.length, ..Facts::default() };

    ask_file::layers(&mut d, &chosen);
    ask_file::notice(&mut d);
    ask_file::unit(&mut d);
    ask_file::read(&mut d);
    if !gathered.lines.is_empty() {
        lines(&mut d, options, join, &mut facts);
        ask_file::whole_size(&mut d);
        ask_file::flat(&mut d);
    }
    let (mut findings, remarks) = (d.findings, d.remarks);
    findings.sort_by_key(|f| f.verdict);
    Ok(Report { layers: chosen, facts, findings, remarks })
}

/// The questions about contours and chains.
fn lines(d: &mut Draft<'_>, options: &Options, join: f64, facts: &mut Facts) {
    let gathered = d.cut;
    let contours: Vec<Contour> = gathered.closed.iter().map(|c| c.contour.clone()).collect();
    let items: Vec<usize> = gathered
        .closed
        .iter()
        .map(|c| c.copies.first().and_then(|i| i.first()).copied().unwrap_or(0))
        .collect();
    let shapes: Vec<&[Segment]> = contours
        .iter()
        .map(Contour::segments)
        .chain(gathered.open.iter().map(|o| o.pieces.as_slice()))
        .collect();
    let closed = contours.len();
    let owner = |k: usize| -> Vec<usize> {
        match gathered.closed.get(k) {
            Some(c) => c.copies.first().cloned().unwrap_or_default(),
            None => gathered.open.get(k - closed).map(|o| o.items.clone()).unwrap_or_default(),
        }
    };
    let loose = ask_lines::strays(d);
    ask_lines::closed(d, &loose, join);
    let mut field = Field::new(&shapes);
    let mut meetings = field.meetings(|k| k < closed);
    drop_loose(&mut meetings, closed, |k| {
        loose.chains.contains(&k) || gathered.open.get(k).is_some_and(|o| o.unread)
    });
    if field.overran() {
        let says = "There are too many pieces on each other to compare them all.".to_owned();
        d.add(&rules::DOUBLED, Verdict::Withheld, says.clone(), vec![], vec![]);
        d.add(&rules::CROSSING, Verdict::Withheld, says, vec![], vec![]);
    }
    ask_lines::single(d, &meetings, &owner);
    ask_lines::crossing(d, &meetings, &owner);
    ask_file::only_contours(d, &loose.centre_marks);

    let copies: usize = gathered.closed.iter().map(|c| c.copies.len()).sum();
    facts.pierces = copies
        + gathered.open.len()
        + gathered.again.iter().map(|a| a.items.len() - 1).sum::<usize>()
        + gathered.without_length.len();
    facts.contours = closed;
    let Some(places) = nest(&contours) else {
        let says =
            "There are too many contours to tell which lies in which: holes and webs were not measured."
                .to_owned();
        return d.add(&rules::WEB, Verdict::Withheld, says, vec![], vec![]);
    };
    facts.levels = places.iter().map(|p| p.depth + 1).max().unwrap_or(0);
    // several contours none of which holds another: openings in a sheet that is there already
    facts.openings_only = facts.levels == 1 && closed > 1;
    let opening: Vec<bool> =
        places.iter().map(|p| (p.depth + usize::from(facts.openings_only)) % 2 == 1).collect();
    facts.inner = opening.iter().filter(|o| **o).count();
    facts.outer = closed - facts.inner;
    facts.metal = (!facts.openings_only && closed > 0)
        .then(|| contours.iter().zip(&opening).map(|(c, o)| if *o { -c.area() } else { c.area() }).sum());
    for (((c, place), opening), own) in contours.iter().zip(&places).zip(&opening).zip(&gathered.closed) {
        facts.list.push(ContourFacts {
            depth: place.depth,
            opening: *opening,
            diameter: c.as_circle().map(|(_, r)| 2.0 * r),
            area: c.area(),
            length: c.perimeter(),
            bounds: c.bounds(),
            copies: own.copies.len(),
            item: own.copies.first().and_then(|i| i.first()).copied().unwrap_or(0),
        });
    }
    ask_lines::nesting(d, &contours, &items, &places, facts.openings_only);
    let scene = ask_process::Scene { contours: &contours, items: &items, places: &places, opening: &opening };
    ask_process::least_hole(d, &scene, options, facts);
    ask_process::web(d, &scene, options, &mut field, facts);
    ask_process::corners(d, &scene, options, facts);
    ask_process::true_arcs(d, &scene);
}

/// Leaves out crossings with what is told elsewhere: strays, centre marks, chains that were not read.
fn drop_loose(m: &mut Meetings, closed: usize, loose: impl Fn(usize) -> bool) {
    let told = |k: usize| k >= closed && loose(k - closed);
    m.crossings.retain(|(a, b), _| !told(*a) && !told(*b));
}
