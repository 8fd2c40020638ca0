//! Sizes in inches as they were written, for the printers: `3 1/8 in`, `4 in × 2 1/2 in`.

use crate::define::Size;
use crate::define::shape::{Form, Shape};
use crate::geom::{Contour, SLACK};
use crate::units::{Unit, fmt_in};
use std::sync::Arc;

/// One size as written; `None` where it was not written in inches.
pub(super) fn of_size(size: &Size) -> Option<Arc<str>> {
    size.of.unit().is_inch().then(|| size.of.to_string().into())
}

/// The size of a shape as written: the diameter of a circle, width and height of a rectangle, length and
/// width of a slot, diameter and flat of a D-hole; of path data in inches, which name no size, the size of
/// `contour` in inches. `None` where it was not written in inches.
pub(super) fn of_shape(shape: &Shape, unit: Option<Unit>, contour: &Contour) -> Option<Arc<str>> {
    let (a, b) = match &shape.form {
        Form::Circle(d) => return of_size(d),
        Form::Rectangle { width, height, .. } => (width, height),
        Form::Slot { length, width } => (length, width),
        Form::DHole { diameter, flat, flats } => {
            let (d, flat) = (of_size(diameter)?, of_size(flat)?);
            let word = if *flats == 1 { "flat" } else { "2 flats" };
            return Some(format!("\u{2300}{d}, {word} at {flat}").into());
        }
        Form::Path(_) => return unit?.is_inch().then(|| of_path(contour)),
    };
    let (a, b) = (of_size(a)?, of_size(b)?);
    Some(format!("{a} \u{d7} {b}").into())
}

fn of_path(contour: &Contour) -> Arc<str> {
    let b = contour.bounds();
    let round = contour.main_circle().filter(|(c, r)| contour.farthest(*c) > r + SLACK);
    match round {
        Some((_, r)) => format!("\u{2300}{} with relief", fmt_in(2.0 * r)).into(),
        None => format!("{} \u{d7} {}", fmt_in(b.width()), fmt_in(b.height())).into(),
    }
}
