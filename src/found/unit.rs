//! The unit and the size that follows from it: where either may be wrong, it is asked, not guessed.

use super::{About, Piece, Told};
use crate::cut::size;
use crate::geom::Rect;
use crate::import::{CutFile, Declared};

/// How wide the sheet of a light aeroplane's panel may be, mm, from a small insert to a wide panel with its wings.
/// (Common practice, no source.)
const WIDTHS: [f64; 2] = [20.0, 2500.0];
/// A sheet up to this size with a hole below that one was drawn in inches: no drill is so thin, mm.
const THIN: [f64; 2] = [150.0, 1.0];

/// Asks for a unit that the file does not name, or that gives no panel's size.
pub fn ask(file: &CutFile, outline: Option<&Piece>, openings: &[Piece], told: &mut Vec<Told>) {
    let boxes = outline.into_iter().chain(openings).map(|p| p.contour.bounds());
    let Some(b) = boxes.reduce(|a, b| a.union(b)) else { return };
    let mut ask =
        |code, says| told.push(Told { about: About::Question, code, says, at: vec![], items: vec![] });
    let other = |mm: f64| {
        let k = mm / file.unit.mm;
        size(Rect::new(0.0, 0.0, b.width() * k, b.height() * k))
    };
    let long = b.width().max(b.height());
    let least = openings
        .iter()
        .map(|o| o.contour.bounds())
        .map(|b| b.width().min(b.height()))
        .fold(f64::INFINITY, f64::min);
    let fits = |mm: f64| {
        let k = mm / file.unit.mm;
        let thin = long * k <= THIN[0] && least * k < THIN[1];
        WIDTHS[0] <= long * k && long * k <= WIDTHS[1] && !thin
    };
    match &file.unit.declared {
        Declared::Missing(why) if file.axes == crate::import::Axes::File => {
            let likely = match (fits(1.0), fits(25.4)) {
                (true, false) => "; only mm gives a panel's size",
                (false, true) => "; only inches give a panel's size",
                (true, true) => "; both would be a panel's size",
                (false, false) => "; neither is a panel's size",
            };
            ask(
                "unit",
                format!(
                    "what is the unit? The file does not say ({why}). In mm it is {}, in inches {}{likely}. Say --unit mm or --unit in",
                    other(1.0),
                    other(25.4)
                ),
            );
        }
        Declared::Missing(why) => ask(
            "unit",
            format!(
                "how long is one unit? {why}, which makes it {}. With 1 mm to the unit it is {}, with an inch {}. Say --unit mm, --unit in or --unit px (1/96 in)",
                size(b),
                other(1.0),
                other(25.4)
            ),
        ),
        Declared::InFile(how) if !fits(file.unit.mm) => {
            let times = long / WIDTHS[1];
            let which = if times > 1.0 { "large" } else { "small" };
            let instead = match (fits(1.0), fits(25.4)) {
                (true, _) if file.unit.mm != 1.0 => format!("; as mm it would be {}", other(1.0)),
                (_, true) if file.unit.mm != 25.4 => format!("; as inches it would be {}", other(25.4)),
                _ => String::new(),
            };
            ask(
                "size",
                format!(
                    "is the unit right? By {how} it is {}, too {which} for a panel{instead}. Say --unit, even where the file is right",
                    size(b)
                ),
            );
        }
        Declared::InFile(_) | Declared::ByUser => {}
    }
}
