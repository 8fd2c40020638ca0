//! A camera or scanner: where a point of the panel shows in a picture, and the first values from picks.
//!
//! The panel's plane maps to the picture by a homography; the lens then moves each place along its ray from the picture's
//! middle by `lens` (r / half)³ pixels, `half` being half the picture's diagonal. A point off the plane needs the
//! camera's place: the homography gives it under the assumption of square pixels and a lens that looks at the picture's
//! middle (Zhang 2000, A flexible new technique for camera calibration, section 3.1: the two constraints per plane).

use crate::geom::{Point, Vec2};

/// Unknowns of a camera: the homography's eight and the lens.
pub const MOST_UNKNOWNS: usize = 9;
/// Step of numerical derivatives, pixels and mm.
const STEP: f64 = 1e-3;

/// A camera. Homography and lens in pixels, so that all unknowns are of like size.
#[derive(Clone, Debug, PartialEq)]
pub struct Camera {
    /// Rows of the homography from (panel - centre) / long to pixels from the picture's middle; the last row's are
    /// divided by `half`, and its third is 1.
    pub h: [f64; 8],
    /// What the lens does at the picture's corner, pixels outwards.
    pub lens: f64,
    /// Middle of the picture, pixels.
    pub middle: Vec2,
    /// Half its diagonal, pixels.
    pub half: f64,
    /// Point of the panel from which it counts.
    pub centre: Point,
    /// Size of what is seen, mm.
    pub long: f64,
}

/// A place in the picture and how it moves.
#[derive(Clone, Debug)]
pub struct Shown {
    /// Pixels from the left and the top.
    pub at: Vec2,
    /// By x and by y of the point, pixels per mm.
    pub by_point: [Vec2; 2],
    /// By each unknown of the camera.
    pub by_camera: [Vec2; MOST_UNKNOWNS],
}

impl Camera {
    /// Seen from straight in front, before anything is known.
    pub fn new(size: [f64; 2]) -> Camera {
        let middle = Vec2::new(0.5 * size[0], 0.5 * size[1]);
        let half = middle.hypot2().sqrt();
        Camera {
            h: [half, 0.0, 0.0, 0.0, -half, 0.0, 0.0, 0.0],
            lens: 0.0,
            middle,
            half,
            centre: Point::ORIGIN,
            long: 300.0,
        }
    }

    /// The same with one unknown changed.
    pub fn changed(&self, unknown: usize, by: f64) -> Camera {
        let mut c = self.clone();
        match c.h.get_mut(unknown) {
            Some(v) => *v += by,
            None => c.lens += by,
        }
        c
    }

    /// Whether the picture shows the panel as it is seen from the seat, not its mirror image.
    pub fn upright(&self) -> bool {
        self.h[0] * self.h[4] - self.h[1] * self.h[3] < 0.0
    }

    /// One over the square of the focal length in pixels; none where the view is too square to the panel to tell.
    pub fn focal(&self) -> Option<f64> {
        let h = &self.h;
        let d = self.half * self.half;
        let a = [h[0] * h[1] + h[3] * h[4], 0.5 * (h[0] * h[0] + h[3] * h[3] - h[1] * h[1] - h[4] * h[4])];
        let b = [h[6] * h[7] / d, 0.5 * (h[6] * h[6] - h[7] * h[7]) / d];
        let x = -(a[0] * b[0] + a[1] * b[1]) / (a[0] * a[0] + a[1] * a[1]);
        // longer than a hundred half diagonals is no lens that a picture of a panel is taken with
        (x.is_finite() && x * 1e4 * d > 1.0).then(|| 1.0 / x.sqrt())
    }

    /// The homography's column for depth (ahead of the panel), from its first two.
    fn ahead(&self) -> Option<[f64; 3]> {
        let f = self.focal()?;
        let h = &self.h;
        let (r1, r2) = ([h[0] / f, h[3] / f, h[6] / self.half], [h[1] / f, h[4] / f, h[7] / self.half]);
        let size = |r: &[f64; 3]| (r[0] * r[0] + r[1] * r[1] + r[2] * r[2]).sqrt();
        let long = (size(&r1) * size(&r2)).sqrt();
        // the picture's y runs down: r1 x r2 points to the camera
        let cross =
            [r1[1] * r2[2] - r1[2] * r2[1], r1[2] * r2[0] - r1[0] * r2[2], r1[0] * r2[1] - r1[1] * r2[0]];
        Some([-f * cross[0] / long, -f * cross[1] / long, -cross[2] / long])
    }

    /// Pixels from the middle before the lens, and the homography's denominator.
    fn flat(&self, p: Point, depth: f64) -> (Vec2, f64) {
        let (x, y) = ((p.x - self.centre.x) / self.long, (p.y - self.centre.y) / self.long);
        let h = &self.h;
        let mut v =
            [h[0] * x + h[1] * y + h[2], h[3] * x + h[4] * y + h[5], 1.0 + (h[6] * x + h[7] * y) / self.half];
        if depth != 0.0
            && let Some(ahead) = self.ahead()
        {
            v.iter_mut().zip(ahead).for_each(|(v, a)| *v += a * depth / self.long);
        }
        let w = if v[2].abs() < 1e-6 { 1e-6 } else { v[2] };
        (Vec2::new(v[0] / w, v[1] / w), w)
    }

    /// Whether a point of the panel's plane lies before the camera and shows so near the picture that the lens's term holds.
    pub fn before(&self, p: Point) -> bool {
        let (q, w) = self.flat(p, 0.0);
        w > 1e-3 && q.hypot2() < 1.7 * self.half * self.half
    }

    /// Where a point shows, pixels.
    pub fn sees(&self, p: Point, depth: f64) -> Vec2 {
        let (q, _) = self.flat(p, depth);
        let bend = self.lens / (self.half * self.half * self.half);
        self.middle + q * (1.0 + bend * q.hypot2())
    }

    /// The same with derivatives.
    pub fn shows(&self, p: Point, depth: f64) -> Shown {
        if depth != 0.0 {
            return self.shows_off_plane(p, depth);
        }
        let (q, w) = self.flat(p, 0.0);
        let (x, y) = ((p.x - self.centre.x) / self.long, (p.y - self.centre.y) / self.long);
        let h = &self.h;
        let cube = self.half * self.half * self.half;
        let (bend, rr) = (self.lens / cube, q.hypot2());
        let lens = |v: Vec2| v * (1.0 + bend * rr) + q * (2.0 * bend * q.dot(v));
        let (px, py) = (h[6] / self.half, h[7] / self.half);
        let by_x = Vec2::new(h[0] - q.x * px, h[3] - q.y * px) / (w * self.long);
        let by_y = Vec2::new(h[1] - q.x * py, h[4] - q.y * py) / (w * self.long);
        let (ex, ey) = (Vec2::new(1.0 / w, 0.0), Vec2::new(0.0, 1.0 / w));
        let tilt = q * (-1.0 / (w * self.half));
        let by_camera = [ex * x, ex * y, ex, ey * x, ey * y, ey, tilt * x, tilt * y].map(lens);
        let mut all = [Vec2::ZERO; MOST_UNKNOWNS];
        all.iter_mut().zip(by_camera).for_each(|(a, b)| *a = b);
        all[8] = q * (rr / cube);
        Shown { at: self.middle + q * (1.0 + bend * rr), by_point: [lens(by_x), lens(by_y)], by_camera: all }
    }

    fn shows_off_plane(&self, p: Point, depth: f64) -> Shown {
        let slope = |a: Vec2, b: Vec2| (a - b) / (2.0 * STEP);
        let moved = |v: Vec2| slope(self.sees(p + v, depth), self.sees(p - v, depth));
        let mut by_camera = [Vec2::ZERO; MOST_UNKNOWNS];
        for (u, d) in by_camera.iter_mut().enumerate() {
            *d = slope(self.changed(u, STEP).sees(p, depth), self.changed(u, -STEP).sees(p, depth));
        }
        Shown {
            at: self.sees(p, depth),
            by_point: [moved(Vec2::new(STEP, 0.0)), moved(Vec2::new(0.0, STEP))],
            by_camera,
        }
    }

    /// The point of the panel's plane that shows at a place; none at its horizon.
    pub fn lies(&self, at: Vec2) -> Option<Point> {
        let away = at - self.middle;
        let bend = self.lens / (self.half * self.half * self.half);
        let mut q = away;
        for _ in 0..30 {
            q = away / (1.0 + bend * q.hypot2()).max(0.1);
        }
        let h = &self.h;
        let (px, py) = (h[6] / self.half, h[7] / self.half);
        let (a, b) = (h[0] - q.x * px, h[1] - q.x * py);
        let (c, d) = (h[3] - q.y * px, h[4] - q.y * py);
        let (e, f) = (q.x - h[2], q.y - h[5]);
        let whole = a * d - b * c;
        let size = (a.abs() + b.abs()) * (c.abs() + d.abs());
        if whole.abs() <= 1e-9 * size {
            return None;
        }
        let (x, y) = ((e * d - b * f) / whole, (a * f - e * c) / whole);
        (x.is_finite() && y.is_finite()).then(|| self.centre + Vec2::new(x, y) * self.long)
    }

    /// How far a point moves in the plane, when read as if in it, per mm that it stands ahead; none where the view is too
    /// square to the panel to tell where the camera is.
    pub fn parallax(&self, p: Point) -> Option<Vec2> {
        self.ahead()?;
        Some((self.lies(self.sees(p, 1.0))? - self.lies(self.sees(p, -1.0))?) / 2.0)
    }
}
