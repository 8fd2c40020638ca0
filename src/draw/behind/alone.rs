//! A section alone, without paper, title and notes: what a screen shows of it, with the words that stand beside.

use super::cut::Scene;
use super::page::About;
use super::paint;
use super::section::{BehindError, Cut, KIND, item, line_words};
use crate::check::Finding;
use crate::draw::drawing::flow::moved;
use crate::draw::drawing::ordinate::{self, Bands};
use crate::draw::drawing::{DrawingError, DrawingOptions};
use crate::draw::{Drawing, Entry, Item, Page, Units};
use crate::geom::Vec2;
use crate::panel::Panel;

/// Part of the size that is tried next where a view does not fit with its numbers.
const SMALLER: f64 = 0.9;
/// How often that is tried.
const TRIES: u32 = 20;

/// What is to be seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The item that it goes through; `None`: `at` is given.
    pub subject: Option<usize>,
    /// Up and down (through x), or across (through y).
    pub upright: bool,
    /// Where, mm; `None`: through the middle of the item.
    pub at: Option<f64>,
    /// Largest width and height, mm.
    pub room: (f64, f64),
}

/// A section alone.
#[derive(Clone, Debug)]
pub struct Alone {
    /// One page, as large as the view needs.
    pub drawing: Drawing,
    /// Where the plane is, in words.
    pub line: String,
    /// From which side it is seen.
    pub seen: &'static str,
    /// The least gap in the plane, and whose names had no room.
    pub least: Option<String>,
    /// What is not drawn, each with what is missing.
    pub lacking: Vec<String>,
    /// A place in the plane becomes one on the page, from its lower left: multiplied by this,
    pub scale: f64,
    /// and moved on by this. The plane's axes are depth and y where it is upright, x and depth where it is level.
    pub shift: Vec2,
}

/// A section as large as fits into a room.
///
/// # Errors
/// No such item, a line that meets nothing.
pub fn alone(panel: &Panel, findings: &[Finding], view: View) -> Result<Alone, BehindError> {
    let cut = match (view.subject, view.at) {
        (Some(k), at) => {
            let id = panel.subjects.get(k).map_or("", |s| s.id.as_str());
            let (subject, middle, spans) = item(panel, id)?;
            let (middle, slab) = if view.upright { (middle.x, spans.0) } else { (middle.y, spans.1) };
            Cut { letter: 'A', upright: view.upright, at: at.unwrap_or(middle), subject: Some(subject), slab }
        }
        (None, Some(at)) => Cut { letter: 'A', upright: view.upright, at, subject: None, slab: (at, at) },
        (None, None) => return Err(BehindError::NoItem(String::new(), Vec::new())),
    };
    let scene = Scene::of(panel);
    let seen = scene.cut(&cut)?;
    let opts = DrawingOptions { page: None, stale: None };
    let line = line_words(panel, &cut);
    let about =
        About { panel, findings, opts: &opts, kind: KIND, part: line.clone(), name: "section".into() };
    let (real, room) = (seen.real(), view.room);
    let mut scale = (room.0 / real.0).min(room.1 / real.1);
    let set = |scale: f64, numbered: bool| -> Option<(Vec<Item>, Bands)> {
        if !numbered {
            return Some((Vec::new(), Bands::default()));
        }
        let marks = seen.depths(about.print(), scale);
        let (x, y) = if cut.upright { (marks, Vec::new()) } else { (Vec::new(), marks) };
        let all = ordinate::ordinates(x, y, (real.0 * scale, real.1 * scale))?;
        let (wide, tall) = (all.bands.left + all.bands.right, all.bands.below + all.bands.above);
        let fits = real.0 * scale + wide <= room.0 && real.1 * scale + tall <= room.1;
        fits.then_some((all.items, all.bands))
    };
    let mut numbers = None;
    let largest = scale;
    for _ in 0..TRIES {
        numbers = set(scale, true);
        if numbers.is_some() {
            break;
        }
        scale *= SMALLER;
    }
    // where no size has room for the numbers, the view comes without
    let (numbers, bands) = match numbers {
        Some(n) => n,
        None => {
            scale = largest;
            set(scale, false).unwrap_or_default()
        }
    };
    let (mut items, least) = paint::section(&about, &cut, &seen, scale, &numbers);
    items.extend(numbers);
    let (w, h) = (real.0 * scale, real.1 * scale);
    let corner = Vec2::new(bands.left, bands.below);
    let items = items.iter().map(|i| Entry::Item(moved(i, corner))).collect();
    let (width, height) = (w + bands.left + bands.right, h + bands.below + bands.above);
    if !(width.is_finite() && height.is_finite() && width > 0.0 && height > 0.0) {
        return Err(BehindError::Drawing(DrawingError::TooLarge { metal: real, page: "screen" }));
    }
    let page = Page { name: "section".into(), width, height, items };
    let units = if panel.unit.is_inch() { Units::Inch } else { Units::Millimetre };
    let drawing =
        Drawing { title: format!("{}: {line}", panel.name), pages: vec![page], meta: Vec::new(), units };
    let shift = corner - seen.window.origin().to_vec2() * scale;
    Ok(Alone { drawing, line, seen: cut.seen(), least, lacking: seen.lacking.clone(), scale, shift })
}
