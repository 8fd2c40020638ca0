//! What was traced taken into the panel's file as what is there: told line by line first, then one step of the board's undo.

use super::super::session::Session;
use crate::diag::Problems;
use crate::edit::{Measured, measured};
use crate::survey::found;
use crate::units::Unit;
use serde_json::Value;

/// The panel's text with what is asked for, and a line on each thing that is written.
fn tried(s: &Session, m: &Value) -> Result<(String, Vec<String>), String> {
    let p = &s.photograph;
    let (survey, solved) = p.both()?;
    let (Some(name), false) = (&p.name, p.is_changed()) else {
        return Err("save the survey first: the panel's file names it as the source".into());
    };
    let words = |all: &Problems| {
        let each = all.sorted().into_iter().map(|p| match &p.help {
            Some(help) => format!("{}: {help}", p.message),
            None => p.message.clone(),
        });
        each.collect::<Vec<_>>().join("; ")
    };
    let of: Vec<String> = m["openings"]
        .as_array()
        .map(|a| a.iter().filter_map(|v| v.as_str().map(str::to_owned)).collect())
        .unwrap_or_default();
    // bare numbers are in the unit that the file itself says, not one that it builds on
    let own = serde_json::from_str::<Value>(s.text()).ok();
    let unit = own.and_then(|v| Unit::named(v["unit"].as_str()?));
    let openings = found::old_openings(survey, solved, &of, unit).map_err(|p| words(&p))?;
    let outline = if m["outline"] == true {
        Some(found::outline_in_pieces(survey, solved, unit).map_err(|p| words(&p))?)
    } else {
        None
    };
    if openings.is_empty() && outline.is_none() {
        return Err("nothing is ticked that could be taken".into());
    }
    let all = Measured { openings, outline, document: name.clone() };
    measured(s.text(), &all).map_err(|why| why.words().to_owned())
}

/// What would be written, line by line.
///
/// # Errors
/// Why it cannot be.
pub(super) fn lines(s: &Session, m: &Value) -> Result<Vec<String>, String> {
    tried(s, m).map(|(_, lines)| lines)
}

/// Writes it into the panel that lies on the desk.
///
/// # Errors
/// Why it cannot be; nothing is changed then.
pub(super) fn take(s: &mut Session, m: &Value) -> Result<(), String> {
    let (text, _) = tried(s, m)?;
    s.rewrite(text).map_err(|why| why.words().to_owned())
}
