//! A photograph straightened: what its camera saw of the panel's plane, as it would be seen square to it, at a stated scale.
//!
//! Every pixel of the new picture asks the adjusted camera, lens and all, where its place shows, and takes the mean of four
//! neighbours weighted by nearness (bilinear). Where one new pixel covers several old ones it takes the mean of several
//! places within it. What stands off the plane is shifted as it was in the photograph.

use super::camera::Camera;
use crate::geom::{Point, Rect, Vec2};

/// Most places within a new pixel, a side.
const MOST_WITHIN: usize = 8;
/// Most pixels of the new picture.
pub const MOST_PIXELS: f64 = 4e7;

/// A picture in rows from the top, three bytes a pixel.
#[derive(Clone, Copy, Debug)]
pub struct Raw<'a> {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Red, green and blue of each pixel.
    pub pixels: &'a [u8],
}

/// A straightened picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Straight {
    /// What it shows, mm; its upper edge is the picture's first row.
    pub shows: Rect,
    /// Pixels in a mm.
    pub per_mm: f64,
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Red, green and blue of each pixel; white where the photograph does not show the place.
    pub pixels: Vec<u8>,
}

impl Raw<'_> {
    /// The colour at a place in pixels from the left and the top; the middle of the first pixel is 0.5, 0.5. None outside.
    pub(super) fn at(&self, p: Vec2) -> Option<[f64; 3]> {
        let inside = (0.0..=self.width as f64).contains(&p.x) && (0.0..=self.height as f64).contains(&p.y);
        if !inside || self.width == 0 || self.height == 0 {
            return None;
        }
        let (x, y) = ((p.x - 0.5).max(0.0), (p.y - 0.5).max(0.0));
        let (left, top) = (x as usize, y as usize);
        let (left, top) = (left.min(self.width - 1), top.min(self.height - 1));
        let (right, low) = ((left + 1).min(self.width - 1), (top + 1).min(self.height - 1));
        let (u, v) = ((x - left as f64).min(1.0), (y - top as f64).min(1.0));
        let byte = |x: usize, y: usize, c: usize| {
            f64::from(self.pixels.get(3 * (y * self.width + x) + c).copied().unwrap_or(255))
        };
        Some(std::array::from_fn(|c| {
            let (a, b) = (byte(left, top, c), byte(right, top, c));
            let (d, e) = (byte(left, low, c), byte(right, low, c));
            (a + (b - a) * u) * (1.0 - v) + (d + (e - d) * u) * v
        }))
    }
}

/// Straightens what a camera saw of a window of the panel's plane; the window grows to whole pixels at its right and lower
/// edge. None of more pixels than are made.
pub fn straighten(camera: &Camera, picture: Raw<'_>, window: Rect, per_mm: f64) -> Option<Straight> {
    let (wide, high) =
        ((window.width() * per_mm).ceil().max(1.0), (window.height() * per_mm).ceil().max(1.0));
    if wide * high > MOST_PIXELS || !(wide * high).is_finite() {
        return None;
    }
    let (width, height) = (wide as usize, high as usize);
    let shows = Rect::new(window.x0, window.y1 - high / per_mm, window.x0 + wide / per_mm, window.y1);
    // how many old pixels the middle of the window has to a new one
    let [x, y] = camera.shows(shows.center(), 0.0).by_point;
    let dense = x.hypot2().max(y.hypot2()).sqrt() / per_mm;
    let n = (dense.ceil() as usize).clamp(1, MOST_WITHIN);
    let mut pixels = Vec::with_capacity(3 * width * height);
    for row in 0..height {
        for column in 0..width {
            let (mut sum, mut count) = ([0.0; 3], 0usize);
            for k in 0..n * n {
                let part = |i: usize| (i as f64 + 0.5) / n as f64;
                let at = Point::new(
                    shows.x0 + (column as f64 + part(k % n)) / per_mm,
                    shows.y1 - (row as f64 + part(k / n)) / per_mm,
                );
                let Some(c) = camera.before(at).then(|| camera.sees(at, 0.0)).and_then(|p| picture.at(p))
                else {
                    continue;
                };
                sum.iter_mut().zip(c).for_each(|(s, c)| *s += c);
                count += 1;
            }
            match count {
                0 => pixels.extend([255; 3]),
                _ => pixels.extend(sum.map(|s| (s / count as f64).round() as u8)),
            }
        }
    }
    Some(Straight { shows, per_mm, width, height, pixels })
}

/// The resolution at which nothing of the photograph is lost, of 1, 2, 5, 10 and 20 pixels to the mm: the least that is as
/// fine as its finest place, or the finest that stays below the most pixels.
pub fn resolution(finest_mm: f64, window: Rect) -> f64 {
    let area = window.width() * window.height();
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0];
    let fits = |s: &&f64| area * *s * *s <= 0.9 * MOST_PIXELS;
    let wanted = steps.iter().filter(fits).find(|s| *s * finest_mm >= 1.0);
    wanted.or(steps.iter().rfind(fits)).copied().unwrap_or(1.0)
}
