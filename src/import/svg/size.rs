//! The size of an SVG: how long one of its units is, and how its `transform` attributes read.

use super::path::{Fault, Scan};
use crate::geom::{Vec2, angle};
use crate::import::{Declared, FileUnit, number};
use kurbo::Affine;

/// CSS pixels in an inch (CSS values, level 3).
const PIXELS: f64 = 96.0;

/// A length attribute.
pub enum Length {
    /// User units (pixels where nothing else is said).
    Plain(f64),
    /// Millimetres, by a real unit.
    Real(f64),
    /// A part of something.
    Percent,
}

/// Reads a length.
pub fn length(text: &str) -> Result<Length, &'static str> {
    let t = text.trim();
    for (unit, mm) in [("mm", 1.0), ("cm", 10.0), ("in", 25.4), ("pt", 25.4 / 72.0), ("pc", 25.4 / 6.0)] {
        if let Some(n) = t.strip_suffix(unit) {
            return number(n).map(|v| Length::Real(v * mm));
        }
    }
    if let Some(n) = t.strip_suffix("px") {
        return number(n).map(Length::Plain);
    }
    if let Some(n) = t.strip_suffix('%') {
        return number(n).map(|_| Length::Percent);
    }
    number(t).map(Length::Plain)
}

/// A length in user units.
pub fn plain(text: &str) -> Result<Option<f64>, &'static str> {
    Ok(match length(text)? {
        Length::Plain(v) => Some(v),
        Length::Real(mm) => Some(mm * PIXELS / 25.4),
        Length::Percent => None,
    })
}

/// The number before a percent sign.
pub fn percent(text: &str) -> Option<f64> {
    number(text.trim().strip_suffix('%')?).ok()
}

/// What an attribute's percentage is of (Scalable Vector Graphics 1.1, 7.10).
pub fn whole([w, h]: [f64; 2], name: &str) -> f64 {
    match name {
        "x" | "x1" | "x2" | "cx" | "rx" | "width" => w,
        "y" | "y1" | "y2" | "cy" | "ry" | "height" => h,
        _ => ((w * w + h * h) / 2.0).sqrt(),
    }
}

/// The map from user units to millimetres with y up, and the unit in words.
pub struct View {
    /// The map.
    pub map: Affine,
    /// The unit.
    pub unit: FileUnit,
}

/// What the root element says.
pub struct Root {
    /// `width`.
    pub width: Option<Length>,
    /// `height`.
    pub height: Option<Length>,
    /// `viewBox`.
    pub view: Option<[f64; 4]>,
    /// `preserveAspectRatio` is `none`.
    pub stretch: bool,
}

impl Root {
    /// Width and height in user units.
    pub fn frame(&self) -> Option<[f64; 2]> {
        let plain = |l: &Option<Length>| match l {
            Some(Length::Plain(v)) => Some(*v),
            Some(Length::Real(mm)) => Some(mm * PIXELS / 25.4),
            _ => None,
        };
        self.view.map(|[_, _, w, h]| [w, h]).or_else(|| Some([plain(&self.width)?, plain(&self.height)?]))
    }
}

/// Works out the map. `unit_mm`: what the user says that one user unit is.
pub fn view(root: &Root, unit_mm: Option<f64>, remarks: &mut Vec<String>) -> View {
    let up = |sx: f64, sy: f64, x: f64, y: f64| Affine::new([sx, 0.0, 0.0, -sy, -x * sx, y * sy]);
    let [x, y, w, h] = root.view.unwrap_or([0.0, 0.0, 0.0, 0.0]);
    let boxed = root.view.is_some() && w > 0.0 && h > 0.0;
    let named = |name: String, mm: f64, declared| FileUnit { name, mm, declared };
    if let Some(mm) = unit_mm {
        return View { map: up(mm, mm, x, y), unit: named("unit".into(), mm, Declared::ByUser) };
    }
    let pixel = 25.4 / PIXELS;
    let (real_w, real_h) = (real(&root.width), real(&root.height));
    if let (true, Some(width), Some(height)) = (boxed, real_w.or(real_h), real_h.or(real_w)) {
        let (sx, sy) = match (real_w, real_h) {
            (Some(width), Some(height)) => (width / w, height / h),
            (Some(width), None) => (width / w, width / w),
            _ => (height / h, height / h),
        };
        let uneven = (sx - sy).abs() > 1e-6 * sx.max(sy);
        if uneven && !root.stretch {
            let s = sx.min(sy);
            remarks.push(
                "width, height and viewBox differ in proportion: the drawing is scaled evenly to the smaller, as browsers do."
                    .to_owned(),
            );
            let (dx, dy) = ((width - s * w) / 2.0, (height - s * h) / 2.0);
            let map = Affine::translate(Vec2::new(dx, -dy)) * up(s, s, x, y);
            return View {
                map,
                unit: named("mm".into(), s, Declared::InFile("width, height and viewBox".into())),
            };
        }
        if uneven {
            remarks.push("width, height and viewBox stretch the drawing unevenly.".to_owned());
        }
        let declared = Declared::InFile("width, height and viewBox".into());
        return View { map: up(sx, sy, x, y), unit: named("mm".into(), sx, declared) };
    }
    if !boxed && (real_w.is_some() || real_h.is_some()) {
        let declared = Declared::InFile("width and height; without a viewBox a user unit is 1/96 in".into());
        return View { map: up(pixel, pixel, 0.0, 0.0), unit: named("1/96 in".into(), pixel, declared) };
    }
    let scale = match (&root.width, boxed) {
        (Some(Length::Plain(width)), true) if *width > 0.0 => pixel * width / w,
        _ => pixel,
    };
    let why = "width and height name no unit; a user unit was taken as 1/96 in".to_owned();
    View { map: up(scale, scale, x, y), unit: named("1/96 in".into(), scale, Declared::Missing(why)) }
}

fn real(l: &Option<Length>) -> Option<f64> {
    match l {
        Some(Length::Real(mm)) if *mm > 0.0 => Some(*mm),
        _ => None,
    }
}

/// Reads a `transform` attribute.
///
/// # Errors
/// The first fault.
pub fn transform(text: &str) -> Result<Affine, Fault> {
    let mut out = Affine::IDENTITY;
    let mut at = 0;
    while let Some(open) = text.get(at..).and_then(|t| t.find('(')) {
        let name = text.get(at..at + open).unwrap_or("").trim_matches([' ', ',', '\t', '\n', '\r']);
        let body_start = at + open + 1;
        let Some(close) = text.get(body_start..).and_then(|t| t.find(')')) else {
            return Err(Fault { start: at, end: text.len(), why: "a bracket is not closed".into() });
        };
        let mut scan = Scan::new(text.get(body_start..body_start + close).unwrap_or(""));
        let mut v = Vec::new();
        while !scan.done() {
            v.push(scan.number().map_err(|f| Fault {
                start: body_start + f.start,
                end: body_start + f.end,
                ..f
            })?);
        }
        let step = match (name, v.as_slice()) {
            ("matrix", [a, b, c, d, e, f]) => Affine::new([*a, *b, *c, *d, *e, *f]),
            ("translate", [x]) => Affine::translate(Vec2::new(*x, 0.0)),
            ("translate", [x, y]) => Affine::translate(Vec2::new(*x, *y)),
            ("scale", [s]) => Affine::scale(*s),
            ("scale", [x, y]) => Affine::scale_non_uniform(*x, *y),
            ("rotate", [d]) => turn(*d),
            ("rotate", [d, x, y]) => {
                let c = Vec2::new(*x, *y);
                Affine::translate(c) * turn(*d) * Affine::translate(-c)
            }
            ("skewX", [d]) => Affine::new([1.0, 0.0, tangent(*d), 1.0, 0.0, 0.0]),
            ("skewY", [d]) => Affine::new([1.0, tangent(*d), 0.0, 1.0, 0.0, 0.0]),
            _ => {
                let shown: String = name.chars().take(20).collect();
                let why = format!("`{shown}` with {} numbers is no transform", v.len());
                return Err(Fault { start: at, end: body_start + close, why });
            }
        };
        out *= step;
        at = body_start + close + 1;
    }
    let rest = text.get(at..).unwrap_or("").trim();
    if rest.is_empty() || rest == "none" {
        return Ok(out);
    }
    Err(Fault { start: at, end: text.len(), why: "a transform is name(numbers)".into() })
}

fn turn(degrees: f64) -> Affine {
    let (s, c) = angle::sin_cos_deg(degrees);
    Affine::new([c, s, -s, c, 0.0, 0.0])
}

fn tangent(degrees: f64) -> f64 {
    libm::tan(degrees.to_radians())
}
