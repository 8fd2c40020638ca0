//! Parts of items as solids.

use crate::geom::sweep::swept;
use crate::panel::{Class, Part, Play};
use crate::solid::{Bounds, Pose, Shape, Solid, Vec3};

/// How far something whose depth is not known is taken to reach, mm: more than any aeroplane has.
const FAR: f64 = 3000.0;

/// What is known of a part's depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// Its depth range.
    Range,
    /// Nothing: it may reach anywhere on its side of the sheet.
    Side,
}

/// The depth range that a part surely lies in.
fn range(p: &Part) -> (f64, f64, Known) {
    match (p.depth, p.class) {
        (Some((from, to)), _) => (from, to, Known::Range),
        (None, Class::Bezel | Class::Front | Class::Head) => (-FAR, 0.0, Known::Side),
        (None, _) => (0.0, FAR, Known::Side),
    }
}

/// The depth range that a part surely lies in, with all that it sweeps.
pub fn range_of(p: &Part, play: &Play) -> ((f64, f64), Known) {
    let (from, to, known) = range(p);
    (play.deep((from, to)), known)
}

/// A box around a part.
pub fn around(p: &Part) -> Bounds {
    let b = p.contour.bounds();
    let (from, to, _) = range(p);
    Bounds { low: Vec3::new(b.x0, b.y0, from), high: Vec3::new(b.x1, b.y1, to) }
}

/// A box around a part with all that it sweeps.
pub fn around_moving(p: &Part, play: &Play) -> Bounds {
    let b = around(p);
    Bounds { low: b.low + play.low, high: b.high + play.high }
}

/// A part with all that it sweeps as a solid; `None` for one without size.
pub fn moving(p: &Part, play: &Play) -> Option<(Solid, Known)> {
    if play.low == play.high {
        return of_part(p);
    }
    let (from, to, known) = range(p);
    let (from, to) = play.deep((from, to));
    Some((Solid::prisms(&swept(&p.contour, play.flat()), from, to).ok()?, known))
}

/// A part as a solid; `None` for one without size.
pub fn of_part(p: &Part) -> Option<(Solid, Known)> {
    let (from, to, known) = range(p);
    let shape = Shape::Prism { section: p.contour.clone(), from, to };
    Some((Solid::new(shape, Pose::IDENTITY).ok()?, known))
}
