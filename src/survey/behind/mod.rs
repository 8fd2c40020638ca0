//! What lies and moves behind the panel, from rods, sticks and tapes: depth at spots, fixed things, travels of controls.
//!
//! Places on the sheet come from the adjusted survey; how deep something lies comes from the readings there. Every place
//! bears its doubt in depth and across, which goes into the panel file as a tolerance. What no probe reached is unknown.

mod area;
mod control;
mod motion;
mod obstacle;
mod place;
mod probe;
mod write;

pub use area::Probing;
pub use control::Fitted;
pub use motion::Motion;
pub use obstacle::Met;
pub use probe::Probed;
pub use write::sections;

use super::found::Frame;
use super::solve::Solved;
use crate::define::Text;
use crate::define::survey::Survey;
use crate::diag::{Problem, Problems, Written, did_you_mean};

/// Half axes of a 95 % ellipsoid in standard deviations: the root of the 95 % quantile of chi-square with three degrees of
/// freedom, 7.8147 (NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4, from memory).
pub const SPACE_95: f64 = 2.795_483_482_915_108;

/// Something that does not hold together, or is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// A short stable name.
    pub code: &'static str,
    /// In words, with what to do.
    pub says: String,
}

/// Everything behind.
#[derive(Clone, Debug, Default)]
pub struct Behind {
    /// Probes, in the order of the file.
    pub probes: Vec<Probed>,
    /// Probed areas.
    pub areas: Vec<Probing>,
    /// Fixed things.
    pub obstacles: Vec<Met>,
    /// What moves.
    pub controls: Vec<Fitted>,
    /// What does not hold together.
    pub told: Vec<Told>,
    /// What was taken where the file says nothing.
    pub assumed: Vec<String>,
}

impl Behind {
    /// Whether the file says anything of what lies behind.
    pub fn is_empty(&self) -> bool {
        self.probes.is_empty()
            && self.areas.is_empty()
            && self.obstacles.is_empty()
            && self.controls.is_empty()
    }

    /// Whether nothing is left to ask.
    pub fn clean(&self) -> bool {
        self.told.is_empty()
    }
}

/// Works out what lies behind.
///
/// # Errors
/// Names that are not there, places that are not determined, marks that are at one place, tubes of one probe.
pub fn behind(survey: &Survey, solved: &Solved) -> Result<Behind, Problems> {
    let mut out = Behind::default();
    let mut maker = Maker { survey, frame: Frame::of(survey, solved), problems: Problems::new() };
    maker.probes(&mut out);
    maker.areas(&mut out);
    maker.obstacles(&mut out);
    maker.controls(&mut out);
    let Maker { frame, mut problems, .. } = maker;
    problems.append(frame.problems);
    problems.or(out)
}

/// Where a mark of a control was taped, by its number and position, and the largest standard deviation in any direction, mm.
///
/// # Errors
/// As [`behind`].
pub fn taped(
    survey: &Survey,
    solved: &Solved,
    control: usize,
    mark: usize,
    position: usize,
) -> Result<(crate::solid::Vec3, f64), Problems> {
    let mut maker = Maker { survey, frame: Frame::of(survey, solved), problems: Problems::new() };
    let known = maker.taped(control, mark, position, &mut Behind::default());
    let Maker { frame, mut problems, .. } = maker;
    problems.append(frame.problems);
    known.map(|k| (k.at, k.deviation)).ok_or(problems)
}

struct Maker<'a> {
    survey: &'a Survey,
    frame: Frame<'a>,
    problems: Problems,
}

impl Maker<'_> {
    fn tell(&mut self, code: &'static str, at: &crate::diag::Where, message: String, help: &str) {
        self.problems.push(Problem::new(code, at, message).help(help.to_owned()));
    }

    /// A probe by its id.
    fn probe(&mut self, out: &Behind, id: &Written<Text>) -> Option<usize> {
        let found = out.probes.iter().position(|p| p.id == id.value);
        // one that was refused is told already
        if found.is_none() && !self.survey.behind.probes.iter().any(|p| p.id.value == id.value) {
            let help = match did_you_mean(&id.value, out.probes.iter().map(|p| p.id.as_ref())) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "list it in `probes`".into(),
            };
            self.tell("unknown-probe", &id.place, format!("there is no probe `{}`", id.value), &help);
        }
        found
    }
}
