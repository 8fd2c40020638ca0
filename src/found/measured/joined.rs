//! Fitted pieces to one closed contour: corners where they cross, fillets where their points say so.

use super::doubt::{self, Part, Spread};
use super::fit::{self, Fit, Shape};
use super::{Fitted, On, Run};
use crate::geom::{Arc, Contour, Point, Segment, Vec2, length, span};

/// A contour with its fits.
pub struct Joined {
    /// The contour.
    pub contour: Contour,
    /// In the order of the runs; the contour's name is still empty.
    pub fits: Vec<Fitted>,
    /// How far it may be off, for points of deviation 1.
    pub spread: Option<Spread>,
}

impl Joined {
    /// Sum of the squared residuals, mm2.
    pub fn squares(&self) -> f64 {
        self.fits.iter().flat_map(|f| &f.residuals).map(|r| r * r).sum()
    }
}

/// Why runs give no contour.
pub struct Fault {
    /// Which run.
    pub run: usize,
    /// A short stable name.
    pub code: &'static str,
    /// What is wrong.
    pub says: String,
    /// What to do.
    pub help: &'static str,
}

/// Fits the runs of one contour and joins them.
pub fn joined(runs: &[Run]) -> Result<Joined, Fault> {
    let n = runs.len();
    let fault = |run, code, says: String, help| Err(Fault { run, code, says, help });
    if let Some(run) = runs.iter().position(|r| r.on == On::Circle).filter(|_| n > 1) {
        let says = "a circle stands alone in its contour, and here are other pieces".to_owned();
        return fault(run, "circle-not-alone", says, "call it arc, or give it a contour of its own");
    }
    let few = |run: usize, r: &Run| Fault {
        run,
        code: "few-points",
        says: format!(
            "{} points do not determine a {}: it takes {} that are apart{}",
            r.points.len(),
            r.on.word(),
            r.on.unknowns(),
            if matches!(r.on, On::Arc | On::Circle) { " and not on a line" } else { "" }
        ),
        help: "measure more points on it, spread over its length",
    };
    let mut fits: Vec<Option<Fit>> = Vec::with_capacity(n);
    for (k, r) in runs.iter().enumerate() {
        fits.push(match r.on {
            On::Line => Some(fit::line(&r.points).ok_or_else(|| few(k, r))?),
            On::Arc | On::Circle => Some(fit::circle(r.on, &r.points).ok_or_else(|| few(k, r))?),
            On::Fillet => None,
        });
    }
    for (k, r) in runs.iter().enumerate().filter(|(_, r)| r.on == On::Fillet) {
        let side = |k: usize| match fits.get(k % n).and_then(Option::as_ref).map(|f| f.shape) {
            Some(Shape::Line(p, e)) if runs[k % n].on == On::Line => Some((p, e)),
            _ => None,
        };
        let (Some(before), Some(after)) = (side(k + n - 1), side(k + 1)) else {
            let says = "a fillet lies between two lines, and here is another piece beside it".to_owned();
            return fault(k, "fillet-between", says, "measure the lines beside it, or call it arc");
        };
        let Some(f) = fit::fillet(before, after, &r.points) else {
            let says = "no radius fits between the lines before and after it".to_owned();
            return fault(
                k,
                "no-fillet",
                says,
                "are its points, and those of both lines, in the order of the way round?",
            );
        };
        fits[k] = Some(f);
    }
    let fits: Vec<Fit> = fits.into_iter().flatten().collect();
    let (contour, spread) = match fits.as_slice() {
        [Fit { shape: Shape::Circle(c, r), .. }] if runs[0].on == On::Circle => {
            (Contour::circle(*c, *r), doubt::circle(&runs[0].points, *c))
        }
        _ => {
            let pieces = pieces(runs, &fits)?;
            let parts: Vec<Part<'_>> = fits.iter().zip(runs).zip(&pieces).map(part).collect();
            let spread = doubt::edge(&parts);
            let contour = Contour::new(pieces).map_err(|e| Fault {
                run: 0,
                code: "no-contour",
                says: format!("the fitted pieces make no contour: {e}"),
                help: "list the pieces in the order in which they follow each other round the contour",
            })?;
            (contour, spread)
        }
    };
    let fits = fits
        .into_iter()
        .zip(runs)
        .map(|(f, r)| Fitted {
            contour: String::new(),
            piece: r.name.clone(),
            on: r.on,
            points: r.points.len(),
            radius: match f.shape {
                Shape::Line(..) => None,
                Shape::Circle(_, r) => Some(r),
            },
            radius_deviation: f.radius_deviation,
            deviation: f.deviation,
            residuals: f.residuals,
            lines: r.lines.clone(),
        })
        .collect();
    Ok(Joined { contour, fits, spread })
}

fn part<'a>(((fit, run), piece): ((&'a Fit, &'a Run), &Segment)) -> Part<'a> {
    Part { fit, fillet: run.on == On::Fillet, points: &run.points, ends: [piece.start(), piece.end()] }
}

fn pieces(runs: &[Run], fits: &[Fit]) -> Result<Vec<Segment>, Fault> {
    let n = fits.len();
    let joints: Result<Vec<Point>, Fault> = (0..n).map(|k| joint(runs, fits, k)).collect();
    let joints = joints?;
    let mut out = Vec::with_capacity(n);
    for k in 0..n {
        let (a, b) = (joints[(k + n - 1) % n], joints[k]);
        out.push(match fits[k].shape {
            Shape::Line(..) => Segment::line(a, b),
            Shape::Circle(c, _) => Segment::Arc(Arc::between(a, b, c, left(&runs[k].points, c, a, b))),
        });
    }
    Ok(out)
}

/// Whether an arc from `a` to `b` that passes its points in order turns left.
fn left(points: &[Point], centre: Point, a: Point, b: Point) -> bool {
    let way: Vec<Vec2> = std::iter::once(&a).chain(points).chain([&b]).map(|p| *p - centre).collect();
    way.windows(2).map(|w| w[0].cross(w[1])).sum::<f64>() > 0.0
}

/// Where piece `k` and the next one meet: of two places the one nearer to the points on both sides.
fn joint(runs: &[Run], fits: &[Fit], k: usize) -> Result<Point, Fault> {
    let next = (k + 1) % fits.len();
    let (a, b) = (&fits[k].shape, &fits[next].shape);
    let tangent = runs[k].on == On::Fillet || runs[next].on == On::Fillet;
    let found: Vec<Point> = match (*a, *b) {
        (Shape::Line(p, e), Shape::Line(q, f)) => fit::crossing((p, e), (q, f)).into_iter().collect(),
        (Shape::Line(p, e), Shape::Circle(c, r)) | (Shape::Circle(c, r), Shape::Line(p, e)) => {
            let foot = p + e * (c - p).dot(e);
            let half = r * r - (foot - c).hypot2();
            match half {
                _ if tangent => vec![foot],
                h if h < 0.0 => vec![],
                h => vec![foot - e * h.sqrt(), foot + e * h.sqrt()],
            }
        }
        (Shape::Circle(c, r), Shape::Circle(d, q)) => {
            let v = d - c;
            let long = length(v);
            let along = (long * long + r * r - q * q) / (2.0 * long);
            let half = r * r - along * along;
            let across = Vec2::new(-v.y, v.x) / long;
            match half {
                h if long > 0.0 && h >= 0.0 => {
                    let m = c + v * (along / long);
                    vec![m - across * h.sqrt(), m + across * h.sqrt()]
                }
                _ => vec![],
            }
        }
    };
    let (last, first) = (runs[k].points.last(), runs[next].points.first());
    let far = |p: &Point| last.map_or(0.0, |q| span(*p, *q)) + first.map_or(0.0, |q| span(*p, *q));
    found.into_iter().min_by(|p, q| far(p).total_cmp(&far(q))).ok_or_else(|| Fault {
        run: next,
        code: "no-corner",
        says: format!("it does not meet {} before it", runs[k].name),
        help: "an arc that runs smoothly into its lines is a fillet; otherwise: is a piece missing between them?",
    })
}
