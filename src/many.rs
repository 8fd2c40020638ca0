//! One instrument asked of many panel files, in parallel. The answers come in the order of the files, and no file's
//! mistake keeps the others from being asked.

use crate::diag::Problems;
use crate::files::Files;
use crate::jobs;
use crate::place::{Asks, Brief};
use crate::resolve::{self, Catalogue};

/// What is asked of every panel.
pub struct Asked<'a> {
    /// Name of the instrument from the folder of a panel's file.
    pub instrument: &'a (dyn Fn(&str) -> String + Sync),
    /// Angles, degrees; the best of them is told.
    pub turns: &'a [f64],
    /// What holds as drawn will do.
    pub tight: bool,
}

/// What came of one file.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// It was asked.
    Told(Box<Brief>),
    /// It could not be read, or the instrument not laid in.
    Problems(Problems),
    /// The search was stopped before its turn.
    NotAsked,
}

/// Asks all files; `began` is told now and then which one begins, and `stop` is asked before each.
pub fn ask<F: Files + Sync>(
    paths: &[String],
    files: &F,
    catalogue: &Catalogue,
    asked: &Asked<'_>,
    began: impl FnMut(usize),
    stop: &(dyn Fn() -> bool + Sync),
) -> Vec<Outcome> {
    let one = |k: usize| match paths.get(k) {
        Some(path) if !stop() => match brief(path, files, catalogue, asked) {
            Ok(Some(told)) => Outcome::Told(Box::new(told)),
            Ok(None) => Outcome::NotAsked,
            Err(problems) => Outcome::Problems(problems),
        },
        _ => Outcome::NotAsked,
    };
    jobs::each(paths.len(), began, one)
}

/// The best over all angles.
fn brief(
    path: &str,
    files: &dyn Files,
    catalogue: &Catalogue,
    asked: &Asked<'_>,
) -> Result<Option<Brief>, Problems> {
    let instrument = (asked.instrument)(path);
    let mut best: Option<Brief> = None;
    for &turn in asked.turns {
        let (panel, subject) =
            resolve::laid_in(path, files, catalogue, &instrument, turn).map_err(|of_question| {
                // the file's own mistakes are told with the lines that hold them
                match resolve::resolve_bare(path, files, catalogue) {
                    Err(own) => own,
                    Ok(_) => of_question,
                }
            })?;
        let asks = Asks { instrument: instrument.clone(), turn, near: None, tight: asked.tight };
        let told = Brief::of(panel, subject, asks);
        if best.as_ref().is_none_or(|b| told.order(b).is_lt()) {
            best = Some(told);
        }
    }
    Ok(best)
}
