//! Sections through an item or a line: what the plane cuts, how deep it reaches, and where the least gap is.
//!
//! A section shows what lies in the plane (ISO 128-3, from memory: cut metal hatched at 45 degrees, neighbours the other
//! way; the cutting plane is a long-dashed dotted line, heavy at its ends, with arrows in the direction of sight and a
//! letter). A section through an item shows also what stands within the item's width and is not cut: dash and two dots.

use super::cut::{self, Found};
use super::page::{About, Drawn, cautions};
use super::{key, paint};
use crate::check::Finding;
use crate::draw::Drawing;
use crate::draw::drawing::ordinate;
use crate::draw::drawing::paper::Scale;
use crate::draw::drawing::{DrawingError, DrawingOptions};
use crate::panel::{Class, Panel};
use crate::solid::{Plane, Vec3};
use std::fmt;

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum Asked {
    /// Upright and level through the item of this id.
    Item(String),
    /// Upright, at this x, mm.
    Upright(f64),
    /// Level, at this y, mm.
    Level(f64),
}

/// Why there is no view.
#[derive(Clone, Debug, PartialEq)]
pub enum BehindError {
    /// No subject of this id that has a place behind or in front of the sheet; those that have.
    NoItem(String, Vec<String>),
    /// The line meets nothing: the words of the line, and the range that has something.
    Nothing(String, (f64, f64)),
    /// The paper.
    Drawing(DrawingError),
}

impl fmt::Display for BehindError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BehindError::NoItem(id, have) => {
                write!(f, "there is no item \"{id}\" to cut through: one of {}", have.join(", "))
            }
            BehindError::Nothing(line, (low, high)) => {
                write!(f, "the line {line} mm meets nothing: take one from {low:.0} to {high:.0} mm")
            }
            BehindError::Drawing(e) => e.fmt(f),
        }
    }
}

impl std::error::Error for BehindError {}

impl From<DrawingError> for BehindError {
    fn from(e: DrawingError) -> BehindError {
        BehindError::Drawing(e)
    }
}

/// One cutting plane.
#[derive(Clone, Debug)]
pub struct Cut {
    /// Its letter.
    pub letter: char,
    /// Upright (through x) or level (through y).
    pub upright: bool,
    /// Where, mm.
    pub at: f64,
    /// The item that it goes through.
    pub subject: Option<usize>,
    /// How far beside the plane things are shown, low and high coordinate, mm.
    pub slab: (f64, f64),
}

impl Cut {
    /// The plane.
    pub fn plane(&self) -> Plane {
        if self.upright { Plane::upright(self.at) } else { Plane::level(self.at) }
    }

    /// From which side it is seen.
    pub fn seen(&self) -> &'static str {
        if self.upright {
            "seen from the right: pilot's side at the left, forward to the right"
        } else {
            "seen from above: pilot's side below, forward up"
        }
    }

    /// The coordinate across the plane.
    pub fn across(&self, v: Vec3) -> f64 {
        if self.upright { v.x } else { v.y }
    }
}

/// The sections asked for, a page or more each, lettered in order.
///
/// # Errors
/// No such item, a line that meets nothing, or a page on which no scale brings the view.
pub fn sections(
    panel: &Panel,
    findings: &[Finding],
    asked: &[Asked],
    opts: &DrawingOptions,
) -> Result<Drawing, BehindError> {
    let mut cuts: Vec<Cut> = Vec::new();
    for a in asked {
        let letter = |k: usize| char::from_u32('A' as u32 + (k % 26) as u32).unwrap_or('A');
        let line = |upright: bool, at: f64, k: usize| Cut {
            letter: letter(k),
            upright,
            at,
            subject: None,
            slab: (at, at),
        };
        match a {
            Asked::Upright(x) => cuts.push(line(true, *x, cuts.len())),
            Asked::Level(y) => cuts.push(line(false, *y, cuts.len())),
            Asked::Item(id) => {
                let (subject, at, spans) = item(panel, id)?;
                for (upright, at, slab) in [(true, at.x, spans.0), (false, at.y, spans.1)] {
                    let letter = letter(cuts.len());
                    cuts.push(Cut { letter, upright, at, subject: Some(subject), slab });
                }
            }
        }
    }
    let found = cut::Scene::of(panel);
    let mut pages = Vec::new();
    let about = |kind: String, name: String, part: String| About {
        panel,
        findings,
        opts,
        kind: KIND,
        part: format!("{kind}, {part}"),
        name,
    };
    for c in &cuts {
        let seen = found.cut(c)?;
        let kind = format!("section {0}-{0}", c.letter);
        let name = c.letter.to_string();
        let about = about(kind, name, line_words(panel, c));
        pages.extend(about.view(seen.real(), |scale, beside| draw(&about, c, &seen, scale, beside))?);
    }
    let whole = about("sections".into(), "sections".into(), String::new());
    Ok(whole.drawing(pages))
}

/// Kind of document.
pub(super) const KIND: &str = "sections behind the panel";

/// An item by its id: its index, the middle of its largest body, and its extent in x and in y.
pub(super) fn item(panel: &Panel, id: &str) -> Result<(usize, crate::geom::Point, Spans), BehindError> {
    let solid = |c: Class| {
        matches!(
            c,
            Class::Body
                | Class::Port
                | Class::Bezel
                | Class::Front
                | Class::Flange
                | Class::Cutout
                | Class::Obstacle
                | Class::Moving
                | Class::Line
                | Class::Provision
        )
    };
    let have = |k: &usize| panel.subjects.get(*k).is_some_and(|s| s.parts.iter().any(|p| solid(p.class)));
    let none = || {
        let all = (0..panel.subjects.len()).filter(have);
        BehindError::NoItem(
            id.to_owned(),
            all.filter_map(|k| panel.subjects.get(k)).map(|s| s.id.clone()).collect(),
        )
    };
    let k = panel.find(id).filter(have).ok_or_else(none)?;
    let s = panel.subjects.get(k).ok_or_else(none)?;
    let parts = || s.parts.iter().filter(|p| solid(p.class));
    let largest = |c: Class| {
        parts().filter(|p| p.class == c).max_by(|a, b| a.contour.area().total_cmp(&b.contour.area()))
    };
    let middle = largest(Class::Body)
        .or_else(|| largest(Class::Cutout))
        .or_else(|| parts().max_by(|a, b| a.contour.area().total_cmp(&b.contour.area())))
        .ok_or_else(none)?;
    let all = parts().map(|p| p.contour.bounds()).reduce(|a, b| a.union(b)).ok_or_else(none)?;
    Ok((k, middle.contour.bounds().center(), ((all.x0, all.x1), (all.y0, all.y1))))
}

/// Extents in x and in y.
pub(super) type Spans = ((f64, f64), (f64, f64));

/// `upright at x 120, through alt`.
pub(super) fn line_words(panel: &Panel, c: &Cut) -> String {
    let (way, axis) = if c.upright { ("upright", "x") } else { ("level", "y") };
    let print = crate::draw::drawing::number::Print::of(panel.unit);
    let mut words = format!("{way} at {axis} {} {}", print.number(c.at), print.unit());
    if let Some(s) = c.subject.and_then(|k| panel.subjects.get(k)) {
        words.push_str(&format!(", through {}", s.id));
    }
    words
}

/// The view at a scale: section, running dimensions of depth, title, key.
fn draw(about: &About<'_>, c: &Cut, seen: &Found<'_>, scale: Scale, beside: bool) -> Option<Drawn> {
    let words = scale.words();
    let scale = scale.factor();
    let window = seen.window;
    let size = (window.width() * scale, window.height() * scale);
    let print = about.print();
    let marks = seen.depths(print, scale);
    let (x, y) = if c.upright { (marks, Vec::new()) } else { (Vec::new(), marks) };
    let numbers = ordinate::ordinates(x, y, size)?;
    let bands = numbers.bands;
    let (mut items, least) = paint::section(about, c, seen, scale, &numbers.items);
    items.extend(numbers.items);
    let head = format!("{0}-{0} ({words})   {1}, {2}", c.letter, line_words(about.panel, c), c.seen());
    let bands = key::key(about.panel, c, &head, (size, bands, beside), &mut items);
    let mut blocks = vec![seen.words(c, least, print)];
    blocks.push(seen.table(print));
    blocks.extend(seen.says(about, c));
    blocks.push(about.standing_block());
    blocks.push(cautions());
    Some(Drawn { items, size, bands, blocks })
}
