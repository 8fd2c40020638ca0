//! Who allows for the width of the cut: the cutter, or the file by offset tool paths.

use super::TemplateError;
use super::words::mm;
use crate::geom::Contour;
use crate::panel::{Compensates, Process, ProcessKind};

/// The word of a process.
pub(in crate::draw) fn process_word(kind: ProcessKind) -> &'static str {
    match kind {
        ProcessKind::Hand => "by hand",
        ProcessKind::Punch => "punch or hole saw",
        ProcessKind::Router => "router or mill",
        ProcessKind::Waterjet => "waterjet",
        ProcessKind::Laser => "laser",
    }
}

/// Half the width of the cut, mm, where the file must allow for it; none where the cutter does.
pub(super) fn offset(process: Option<&Process>) -> Result<Option<f64>, TemplateError> {
    let Some(p) = process else { return Ok(None) };
    if p.compensates == Compensates::Cutter {
        return Ok(None);
    }
    let half = p.kerf.map(|k| k / 2.0).or(p.tool_radius);
    match half {
        Some(h) if h > 0.0 && h.is_finite() => Ok(Some(h)),
        _ => Err(TemplateError::NoKerf),
    }
}

/// What the sheet says about it.
pub(super) fn statement(process: Option<&Process>, offset: Option<f64>) -> String {
    let Some(p) = process else {
        return "process not given; contours are finished size".into();
    };
    let kind = process_word(p.kind);
    match offset {
        None => format!("{kind}; cutter compensates: contours are finished size"),
        Some(h) => format!(
            "{kind}; file compensates: contours are TOOL PATHS, offset by {} = {} mm, openings inward, outline outward",
            if p.kerf.is_some() { "kerf / 2" } else { "tool radius" },
            mm3(h)
        ),
    }
}

fn mm3(v: f64) -> String {
    let three = super::words::trimmed(v, 3);
    if three == "0" { mm(v) } else { three }
}

/// The path of the tool for a finished contour: outside it for an outline, inside it for an opening. Arcs
/// stay arcs; exact to rounding.
///
/// # Errors
/// The tool does not pass through the whole opening: its path vanishes or falls apart.
pub(super) fn path(
    name: &str,
    contour: &Contour,
    outside: bool,
    offset: Option<f64>,
) -> Result<Contour, TemplateError> {
    let Some(h) = offset else { return Ok(contour.clone()) };
    let too_wide = || TemplateError::ToolTooWide { part: name.to_owned(), offset: h };
    let mut found = contour.offset(if outside { h } else { -h }).map_err(|_| too_wide())?;
    if found.len() > 1 {
        return Err(too_wide());
    }
    found.pop().ok_or_else(too_wide)
}
