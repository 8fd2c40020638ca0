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
    let bare = s.panel.unit == Unit::Millimetre;
    let openings = found::old_openings(survey, solved, &of, bare).map_err(|p| words(&p))?;
    let outline = if m["outline"] == true {
        if !bare {
            return Err("an outline is taken into a file in mm alone".into());
        }
        let (outline, off) = found::outline_in_pieces(survey, solved).map_err(|p| words(&p))?;
        Some((outline, format!("{off}")))
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
