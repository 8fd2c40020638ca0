//! What gets a net: bodies and connectors behind the sheet, and what stands on the back of which.

use crate::geom::{Contour, Rect};
use crate::panel::{Class, Panel, PartRef};

/// Less than this across, or deep, is not folded from paper, mm.
pub const SMALLEST: f64 = 6.0;

/// A body to fold.
#[derive(Clone, Debug)]
pub(super) struct Case {
    /// `subject.part`.
    pub id: String,
    /// What it is.
    pub connector: bool,
    /// Its section, panel axes.
    pub section: Contour,
    /// Where it begins behind the front face, mm; not below 0.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// What stands on its back: name and section.
    pub on_back: Vec<(String, Contour)>,
}

impl Case {
    /// Its depth, mm.
    pub fn depth(&self) -> f64 {
        self.to - self.from
    }
}

/// Bodies and connectors of all instruments in the panel's order, and what gets no net with the reason.
pub(super) fn cases(panel: &Panel) -> (Vec<Case>, Vec<String>) {
    let (mut cases, mut without) = (Vec::new(), Vec::new());
    for (k, subject) in panel.subjects.iter().enumerate() {
        let first = cases.len();
        for (j, part) in subject.parts.iter().enumerate() {
            if !matches!(part.class, Class::Body | Class::Port) {
                continue;
            }
            let id = panel.part_name(PartRef { subject: k as u32, part: j as u32 });
            let Some((from, to)) = part.depth else {
                without.push(format!("{id}: how deep it reaches is missing; measure yours"));
                continue;
            };
            // what stands in front of the sheet is not stuck behind the card
            let from = from.max(0.0);
            if to <= from {
                continue;
            }
            let size = part.contour.bounds();
            if size.width().min(size.height()).min(to - from) < SMALLEST {
                let words = format!(
                    "{id}: {:.1} x {:.1} mm, from {:.1} to {:.1} mm behind the front face; too small to fold, take a stick",
                    size.width(),
                    size.height(),
                    from,
                    to
                );
                without.push(words);
                continue;
            }
            cases.push(Case {
                id,
                connector: part.class == Class::Port,
                section: part.contour.ccw(),
                from,
                to,
                on_back: Vec::new(),
            });
        }
        let of_subject: Vec<Case> = cases.get(first..).unwrap_or_default().to_vec();
        for c in cases.iter_mut().skip(first) {
            c.on_back = of_subject
                .iter()
                .filter(|o| stands_on(o, c))
                .map(|o| (o.id.clone(), o.section.clone()))
                .collect();
        }
        for (name, what) in &subject.missing {
            let behind = name.starts_with("port") || name.starts_with("body");
            if behind && !subject.parts.iter().any(|p| p.name == *name) {
                without.push(format!("{}.{name}: {what} is missing; measure yours", subject.id));
            }
        }
    }
    (cases, without)
}

/// Whether one thing begins where another ends, behind it.
fn stands_on(on: &Case, under: &Case) -> bool {
    let meets =
        |a: Rect, b: Rect| a.x0.max(b.x0) < a.x1.min(b.x1) - 1e-6 && a.y0.max(b.y0) < a.y1.min(b.y1) - 1e-6;
    // one that is as large as the back, or larger, needs no place drawn on it
    let covers = on.section.area() > 0.9 * under.section.area();
    let behind = (on.from - under.to).abs() <= 0.5;
    on.id != under.id && behind && !covers && meets(on.section.bounds(), under.section.bounds())
}
