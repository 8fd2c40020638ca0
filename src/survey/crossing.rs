//! Where an edge crosses a short line in a picture, to parts of a pixel.
//!
//! Along the line the grey's slope is taken with the derivative of a Gaussian; at a blurred edge it is a bell, and the parabola
//! through the logarithms of three values about its top has that top and that width (exact for a bell). Along a curved edge
//! the top lies inside of it: of a disc of radius R blurred with deviation s by s² / 2R (from the slope of a blurred disc,
//! R / s² exp(-(r² + R²) / 2 s²) I1(r R / s²), with the first terms of I1 for large arguments); whoever knows R takes it off.

use super::straight::Raw;
use crate::geom::Vec2;

/// Deviation of the filter along the line, pixels.
const FILTER: f64 = 1.0;
/// Places along the line in a pixel.
const FINE: usize = 2;
/// Half the filter's length in places: three deviations.
const HALF: usize = 6;
/// Of 255 greys: a slope below this a pixel is noise of any picture.
const LEAST_SLOPE: f64 = 2.0;

/// An edge on a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// From the line's middle, along it, pixels.
    pub at: f64,
    /// Greys a pixel at its steepest; positive where it grows brighter along the line.
    pub slope: f64,
    /// Square of the deviation by which the picture blurs it, pixels².
    pub blur: f64,
}

/// The grey at a place; none outside the picture.
pub(super) fn grey(picture: &Raw<'_>, p: Vec2) -> Option<f64> {
    picture.at(p).map(|[r, g, b]| 0.299 * r + 0.587 * g + 0.114 * b)
}

/// The steepest edge within `reach` pixels of the line's middle. `lines` are neighbours along the edge, of which the mean
/// is taken: middle and direction of each. `rises` asks for an edge that grows brighter along the line, or darker.
pub fn crossing(
    picture: &Raw<'_>,
    lines: &[(Vec2, Vec2)],
    reach: f64,
    rises: Option<bool>,
) -> Option<Crossing> {
    let around = (reach * FINE as f64).ceil().max(2.0) as usize;
    let places = 2 * (around + HALF) + 1;
    let offset = |k: usize| (k as f64 - (around + HALF) as f64) / FINE as f64;
    let mut sums = vec![0.0; places];
    for (k, sum) in sums.iter_mut().enumerate() {
        for (middle, along) in lines {
            *sum += grey(picture, *middle + *along * offset(k))?;
        }
        *sum /= lines.len().max(1) as f64;
    }
    let step = 1.0 / FINE as f64;
    let weight = |j: usize| {
        let t = (j as f64 - HALF as f64) * step;
        t / (FILTER * FILTER) * libm::exp(-0.5 * t * t / (FILTER * FILTER))
    };
    // so that a slope of one grey a pixel gives one
    let whole: f64 = (0..=2 * HALF).map(|j| weight(j) * (j as f64 - HALF as f64) * step).sum();
    let slopes: Vec<f64> = (0..=2 * around)
        .map(|k| (0..=2 * HALF).map(|j| weight(j) * sums[k + j]).sum::<f64>() / whole)
        .collect();
    let sized = |v: f64| match rises {
        Some(true) => v,
        Some(false) => -v,
        None => v.abs(),
    };
    // the top lies within: at the ends it may be the flank of another edge
    let top = (FINE..slopes.len().saturating_sub(FINE))
        .max_by(|a, b| sized(slopes[*a]).total_cmp(&sized(slopes[*b])))?;
    let [before, here, after] = [top - FINE, top, top + FINE].map(|k| sized(slopes[k]));
    if here < LEAST_SLOPE || before <= 0.0 || after <= 0.0 || here < before || here < after {
        return None;
    }
    let [a, b, c] = [before, here, after].map(libm::log);
    let bend = a - 2.0 * b + c;
    if bend > -1e-6 {
        return None;
    }
    let shift = (0.5 * (a - c) / bend).clamp(-1.0, 1.0);
    let at = offset(top + HALF) + shift;
    (at.abs() <= reach).then(|| Crossing {
        at,
        slope: slopes[top],
        blur: (-1.0 / bend - FILTER * FILTER).max(0.0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An upright edge at `x`, blurred by `s`, from dark to light.
    fn edge(x: f64, s: f64) -> Vec<u8> {
        let grey = |k: usize| {
            let t = (k as f64 + 0.5 - x) / (s * std::f64::consts::SQRT_2);
            (40.0 + 160.0 * 0.5 * (1.0 + libm::erf(t))).round() as u8
        };
        (0..20).flat_map(|_| (0..40).flat_map(|k| [grey(k); 3]).collect::<Vec<u8>>()).collect()
    }

    #[test]
    fn a_blurred_edge_is_found_where_it_is_and_as_wide_as_it_is() {
        for (x, s) in [(20.0, 0.8), (20.3, 1.0), (19.6, 1.5), (20.5, 2.0)] {
            let pixels = edge(x, s);
            let raw = Raw { width: 40, height: 20, pixels: &pixels };
            let lines = [(Vec2::new(19.0, 10.0), Vec2::new(1.0, 0.0))];
            let c = crossing(&raw, &lines, 4.0, Some(true)).unwrap();
            assert!((c.at - (x - 19.0)).abs() < 0.04, "{x} {s}: {c:?}");
            assert!((c.blur.sqrt() - s).abs() < 0.25, "{x} {s}: {c:?}");
            let back = [(Vec2::new(19.0, 10.0), Vec2::new(-1.0, 0.0))];
            let d = crossing(&raw, &back, 4.0, None).unwrap();
            assert!((d.at + c.at).abs() < 1e-9 && (d.slope + c.slope).abs() < 1e-9);
            assert!(crossing(&raw, &back, 4.0, Some(true)).is_none());
        }
        let flat = vec![90; 3 * 800];
        let raw = Raw { width: 40, height: 20, pixels: &flat };
        assert!(crossing(&raw, &[(Vec2::new(19.0, 10.0), Vec2::new(1.0, 0.0))], 4.0, None).is_none());
    }
}
