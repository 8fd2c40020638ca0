//! Random shapes from a stated sequence. Every second scene stands on a grid of 5 mm with quarter turns,
//! so that tangent, touching, shared and nested outlines are common.

use panelwright::geom::{Contour, Corner, Point, Segment, Transform, Vec2};

/// splitmix64: a failing scene can be made again from its seed.
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn range(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    /// A length in the range, on the grid if asked.
    fn size(&mut self, low: f64, high: f64, grid: bool) -> f64 {
        let v = self.range(low, high);
        if grid { ((v / 5.0).round() * 5.0).max(5.0) } else { v }
    }
}

/// A shape about the origin.
fn about_origin(dice: &mut Dice, grid: bool) -> Contour {
    let o = Point::ORIGIN;
    let (w, h) = (dice.size(10.0, 80.0, grid), dice.size(10.0, 80.0, grid));
    let least = w.min(h) / 2.0;
    let corner = if grid { 5.0f64.min(least) } else { dice.range(0.1, least) };
    match dice.below(9) {
        0 | 1 => Contour::circle(o, w / 2.0),
        2 => Contour::rect(o, w, h, 0.0),
        3 => Contour::rect(o, w, h, corner),
        4 => {
            let mut one = || match dice.below(3) {
                0 => Corner::Sharp,
                1 => Corner::Round(corner),
                _ => Corner::Clip(corner, corner),
            };
            let four = [one(), one(), one(), one()];
            Contour::rect_corners(o, w, h, four)
        }
        5 => Contour::slot(Point::new(-w / 2.0, 0.0), Point::new(w / 2.0, 0.0), h / 4.0),
        6 => Contour::d_hole(o, w / 2.0, w / 3.0, dice.below(2) == 0),
        7 => {
            // an L with a rounded knee
            let (t, r) = (w / 3.0, corner.min(w / 4.0));
            let p = |x: f64, y: f64| Point::new(x, y);
            let arc = panelwright::geom::Arc::between(p(t + r, t), p(t, t + r), p(t + r, t + r), false);
            Contour::new(vec![
                Segment::line(p(0.0, 0.0), p(w, 0.0)),
                Segment::line(p(w, 0.0), p(w, t)),
                Segment::line(p(w, t), arc.a),
                Segment::Arc(arc),
                Segment::line(arc.b, p(t, w)),
                Segment::line(p(t, w), p(0.0, w)),
                Segment::line(p(0.0, w), p(0.0, 0.0)),
            ])
            .expect("an L")
        }
        _ => {
            // a star of unequal rays
            let n = 5 + dice.below(8);
            let points: Vec<Point> = (0..2 * n)
                .map(|k| {
                    let a = std::f64::consts::PI * k as f64 / n as f64;
                    let r = if k % 2 == 0 { dice.range(0.3, 0.5) * w } else { dice.range(0.1, 0.29) * w };
                    o + panelwright::geom::angle::unit(a) * r
                })
                .collect();
            Contour::new(
                points
                    .iter()
                    .zip(points.iter().cycle().skip(1))
                    .map(|(a, b)| Segment::line(*a, *b))
                    .collect(),
            )
            .expect("a star")
        }
    }
}

/// A shape somewhere in a square of `room` mm, turned, sometimes mirrored, walked either way.
pub fn shape(dice: &mut Dice, room: f64, grid: bool) -> Contour {
    let c = about_origin(dice, grid);
    let (x, y) = (dice.range(-room, room) / 2.0, dice.range(-room, room) / 2.0);
    let snap = |v: f64| if grid { (v / 5.0).round() * 5.0 } else { v };
    let turn = if grid { 90.0 * dice.below(4) as f64 } else { dice.range(0.0, 360.0) };
    let t = Transform::place(Point::new(snap(x), snap(y)), turn, dice.below(4) == 0);
    let c = t.contour(&c);
    let n = c.segments().len().max(1);
    let c = c.started_at(dice.below(n as u64) as usize);
    if dice.below(3) == 0 { c.reversed() } else { c }
}

/// Two shapes; every third pair is made to nest or coincide.
pub fn pair(seed: u64) -> (Contour, Contour) {
    let mut dice = Dice(seed);
    let grid = seed.is_multiple_of(2);
    let a = shape(&mut dice, 120.0, grid);
    let b = match dice.below(12) {
        0 => a.reversed(),
        1 => a.offset(-2.5).ok().and_then(|v| v.into_iter().next()).unwrap_or_else(|| a.clone()),
        2 => Transform::shift(Vec2::new(a.bounds().width(), 0.0)).contour(&a),
        _ => shape(&mut dice, 120.0, grid),
    };
    (a, b)
}
