//! What every back end may rely on: finite numbers, sizes above zero, and nothing but closed contours on
//! the layer that is cut. All faults of a drawing are reported together.

use super::{ExportError, Fault};
use crate::draw::{Drawing, Entry, Item, Layer, Page, Shape, text};
use crate::geom::{Point, SLACK, Segment, span};

/// Farthest coordinate, mm: beyond it 32-bit formats would be off by more than they promise.
const FARTHEST: f64 = 20_000.0;

/// Checks a whole drawing.
///
/// # Errors
/// Every fault found, with its page and subject.
pub fn check(drawing: &Drawing) -> Result<(), ExportError> {
    let mut faults = Vec::new();
    if drawing.pages.is_empty() {
        faults.push(Fault { page: String::new(), subject: None, says: "the drawing has no page".to_owned() });
    }
    for page in &drawing.pages {
        page_faults(page, &mut faults);
    }
    if faults.is_empty() { Ok(()) } else { Err(ExportError { faults }) }
}

fn page_faults(page: &Page, faults: &mut Vec<Fault>) {
    let mut say = |subject: Option<&String>, says: String| {
        faults.push(Fault { page: page.name.clone(), subject: subject.cloned(), says });
    };
    for (what, size) in [("width", page.width), ("height", page.height)] {
        if !(size > 0.0 && size <= FARTHEST) {
            say(None, format!("page {what} {size} mm is not between 0 and {FARTHEST} mm"));
        }
    }
    for entry in &page.items {
        match entry {
            Entry::Item(item) => item_faults(item, &mut |says| say(item.subject.as_ref(), says)),
            Entry::Group(group) => {
                let scales = [group.scale_x, group.scale_y];
                if !scales.iter().all(|s| s.is_finite() && *s > 0.0) {
                    say(None, format!("a group's scale {scales:?} is not above zero"));
                }
                let clip = group.clip.unwrap_or_default();
                let numbers = [group.shift.x, group.shift.y, clip.x0, clip.y0, clip.x1, clip.y1];
                if !numbers.iter().all(|v| v.abs() <= FARTHEST) {
                    say(None, format!("a group's shift or clip lies beyond {FARTHEST} mm: {numbers:?}"));
                }
                for item in group.items.iter() {
                    item_faults(item, &mut |says| say(item.subject.as_ref(), says));
                }
            }
        }
    }
}

fn near(p: Point) -> bool {
    p.x.abs() <= FARTHEST && p.y.abs() <= FARTHEST
}

fn above_zero(v: f64) -> bool {
    v > 0.0 && v <= FARTHEST
}

/// An arc goes once round at most; rounding may carry it a hair over.
fn turns(sweep: f64) -> bool {
    sweep.abs() <= std::f64::consts::TAU * (1.0 + 1e-12)
}

fn item_faults(item: &Item, say: &mut dyn FnMut(String)) {
    if let Some(stroke) = item.stroke
        && !above_zero(stroke.width)
    {
        say(format!("line width {} mm is not above zero", stroke.width));
    }
    let far =
        |p: Point| format!("a point at ({}, {}) mm lies beyond {FARTHEST} mm or is not a number", p.x, p.y);
    let mut pieces = |list: &[Segment]| {
        for piece in list {
            for p in [piece.start(), piece.end()] {
                if !near(p) {
                    say(far(p));
                }
            }
            if let Segment::Arc(a) = piece
                && !(above_zero(a.radius) && near(a.centre) && turns(a.sweep) && a.start.is_finite())
            {
                say(format!(
                    "an arc of radius {} mm about ({}, {}) mm is not drawable",
                    a.radius, a.centre.x, a.centre.y
                ));
            }
        }
    };
    match &item.shape {
        Shape::Line(l) => pieces(&[Segment::Line(*l)]),
        Shape::Arc(a) => pieces(&[Segment::Arc(*a)]),
        Shape::Circle { centre, radius } => {
            if !(near(*centre) && above_zero(*radius)) {
                say(format!(
                    "a circle of radius {radius} mm about ({}, {}) mm is not drawable",
                    centre.x, centre.y
                ));
            }
        }
        Shape::Path(c) => pieces(c.segments()),
        Shape::Chain(list) => {
            pieces(list);
            for pair in list.windows(2) {
                if let [a, b] = pair
                    && span(a.end(), b.start()) > SLACK
                {
                    say(format!("a chain of lines is broken at ({}, {}) mm", a.end().x, a.end().y));
                }
            }
        }
        Shape::Text(t) => {
            if !(near(t.at) && above_zero(t.height) && t.angle.is_finite()) {
                say(format!(
                    "text {:?} at ({}, {}) mm, {} mm high, is not drawable",
                    t.text, t.at.x, t.at.y, t.height
                ));
            }
            let missing: String =
                t.text.chars().filter(|c| !c.is_control() && !text::has(*c, t.weight)).collect();
            if !missing.is_empty() {
                say(format!("text {:?}: the bundled font has no {missing:?}; write it otherwise", t.text));
            }
        }
        Shape::Picture { at, picture } => {
            let whole = picture.pixels.len() == picture.width * picture.height && !picture.pixels.is_empty();
            let area = above_zero(at.width()) && above_zero(at.height());
            if !(near(at.origin()) && area && whole && picture.width.max(picture.height) <= 65_000) {
                say(format!("a picture of {} by {} pixels is not drawable", picture.width, picture.height));
            }
        }
        Shape::Hatch { contours, spacing, angle } => {
            for c in contours {
                pieces(c.segments());
            }
            if !(above_zero(*spacing) && angle.is_finite()) {
                say(format!("a hatching of {spacing} mm at {angle} degrees is not drawable"));
            }
        }
    }
    if item.layer == Layer::Cut {
        let open = match &item.shape {
            Shape::Circle { .. } | Shape::Path(_) => None,
            Shape::Line(_) => Some("a line"),
            Shape::Arc(_) => Some("an arc"),
            Shape::Chain(_) => Some("an open chain"),
            Shape::Text(_) => Some("a text"),
            Shape::Hatch { .. } => Some("a hatching"),
            Shape::Picture { .. } => Some("a picture"),
        };
        if let Some(what) = open {
            say(format!("{what} on the layer that is cut: only closed contours may stand there"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::draw::{Drawing, Entry, Item, Layer, Page, Shape, Stroke, Units};
    use crate::geom::{Arc, Point};

    #[test]
    fn an_arc_that_goes_round_more_than_once_is_refused() {
        // 1e17 radians would be cut into 1e17 pieces
        for (sweep, fine) in [(1e17, false), (-7.0, false), (std::f64::consts::TAU, true), (-1.0, true)] {
            let arc = Arc { sweep, ..Arc::new(Point::new(50.0, 50.0), 10.0, 0.0, 1.0) };
            let item = Item::stroked(Layer::Outline, Shape::Arc(arc), Stroke::solid(0.2));
            let page =
                Page { name: "one".into(), width: 100.0, height: 100.0, items: vec![Entry::Item(item)] };
            let drawing = Drawing {
                title: "arc".into(),
                pages: vec![page],
                meta: Vec::new(),
                units: Units::Millimetre,
            };
            assert_eq!(check(&drawing).is_ok(), fine, "{sweep}");
        }
    }
}
