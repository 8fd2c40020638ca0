//! Sizes in inches as they were written, for the printers: `3 1/8 in`, `4 in × 2 1/2 in`.

use crate::define::Size;
use crate::define::shape::{Form, Shape};
use std::sync::Arc;

/// One size as written; `None` where it was not written in inches.
pub(super) fn of_size(size: &Size) -> Option<Arc<str>> {
    size.of.unit().is_inch().then(|| size.of.to_string().into())
}

/// The size of a shape as written: the diameter of a circle, width and height of a rectangle, length and
/// width of a slot. `None` where it was not written in inches, or is no such shape.
pub(super) fn of_shape(shape: &Shape) -> Option<Arc<str>> {
    let (a, b) = match &shape.form {
        Form::Circle(d) => return of_size(d),
        Form::Rectangle { width, height, .. } => (width, height),
        Form::Slot { length, width } => (length, width),
        Form::DHole { .. } | Form::Path(_) => return None,
    };
    let (a, b) = (of_size(a)?, of_size(b)?);
    Some(format!("{a} \u{d7} {b}").into())
}
