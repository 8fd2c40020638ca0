//! A panel with one instrument more, laid in at the panel's datum to ask where it fits.

use super::{Catalogue, resolve};
use crate::diag::{Problem, Problems};
use crate::files::{Beside, Files, beside};
use crate::panel::Panel;
use serde_json::json;

/// Id under which the instrument is tried.
pub const TRIED: &str = "instrument-tried";

/// The panel of a file with the instrument laid in, turned by degrees, and the instrument's subject. Problems are those of
/// the panel's own files, or of the question itself. A file of an instrument is named from the panel's folder.
pub fn laid_in(
    path: &str,
    files: &dyn Files,
    catalogue: &Catalogue,
    instrument: &str,
    turn: f64,
) -> Result<(Panel, usize), Problems> {
    let file = path.rsplit('/').next().unwrap_or(path);
    let text = json!({
        "format": 1, "panel": file, "unit": "mm", "builds-on": file,
        "place": [{ "id": TRIED, "instrument": instrument, "at": [0, 0], "turn": turn }],
    });
    let with = Beside {
        others: files,
        name: beside(path, ".with-an-instrument-tried.json"),
        text: text.to_string(),
    };
    let panel = resolve(&with.name, &with, catalogue).map_err(|p| told(&p, &with.name))?;
    let subject = panel.find(TRIED).ok_or_else(|| {
        let mut out = Problems::new();
        let help = "look at its definition: panelwright instruments show NAME";
        out.push(Problem::nowhere("not-laid-in", format!("{instrument} was not laid in")).help(help));
        out
    })?;
    Ok((panel, subject))
}

/// Problems without the file that was made up for the question: that one nobody wrote.
fn told(problems: &Problems, made: &str) -> Problems {
    let mut out = Problems::new();
    for p in problems.sorted() {
        let own = p.place.as_ref().is_some_and(|w| &*w.file == made);
        if !own {
            out.push(p.clone());
            continue;
        }
        let help = if p.message.ends_with("is a unit of a stack") {
            "its place is in a stack: list it among the \"units\" of one, or ask where the stack's frame fits"
                .to_string()
        } else {
            p.help
                .clone()
                .unwrap_or_else(|| "look at its definition: panelwright instruments show NAME".into())
        };
        out.push(Problem::nowhere(p.code, p.message.clone()).help(help));
    }
    out
}
