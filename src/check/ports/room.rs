//! A box that holds every turn within the room that a definition states for it: safe where the radius is not known.

use super::exit::Exit;
use super::tube::{Frame, along_depth};
use crate::geom::{Contour, Point, Vec2};
use crate::panel::Panel;
use crate::solid::Vec3;

/// A box that holds every turn within a stated room.
pub(super) struct Room {
    /// Where it begins and ends along the axis.
    along: (f64, f64),
    /// The port's section, seen from the seat.
    section: Contour,
    /// Reach to the side from where what leaves has its centre.
    side: f64,
    /// Whether that centre is the port's own; else it may be anywhere in the section.
    centred: bool,
    /// Farthest point from the axis.
    pub farthest: f64,
}

impl Room {
    pub fn of(panel: &Panel, exit: &Exit, deep: f64) -> Room {
        let part = panel.part(exit.port);
        let centre = Point::new(exit.at.x, exit.at.y);
        // radius and diameter together are the room: the centre line ends less than that to the side
        let section = if along_depth(exit.axis) {
            part.contour.clone()
        } else {
            let depth = part.depth.map_or(deep, |(a, b)| b - a);
            Contour::circle(centre, depth / 2.0)
        };
        let wide = section.farthest(centre);
        let centred = exit.wide.is_some();
        // how far a point moves for a turn of one radian: swept, the section itself stands still
        let side = deep.max(wide);
        let farthest = if centred { (side * side + wide * wide).sqrt() } else { deep };
        Room { along: (exit.straight, exit.straight + deep), section, side: deep, centred, farthest }
    }

    /// What leaves at the port's centre: a box that turns with the direction.
    fn turned(&self, centre: Vec2, way: Vec3) -> Contour {
        let u = Vec2::new(way.x, way.y);
        let n = Vec2::new(-u.y, u.x);
        let reach = |d: Vec2| self.section.support(d) - centre.dot(d);
        let (ahead, back, left, right) = (self.side.max(reach(u)), reach(-u), reach(n), reach(-n));
        let corner = |a: f64, b: f64| Point::ORIGIN + centre + u * a + n * b;
        Contour::polygon(&[
            corner(ahead, -right),
            corner(ahead, left),
            corner(-back, left),
            corner(-back, -right),
        ])
    }

    /// What leaves anywhere in the section: the section's upright box drawn out along the direction.
    fn swept(&self, way: Vec3) -> Contour {
        let b = self.section.bounds();
        let by = Vec2::new(way.x, way.y) * self.side;
        let (y0, y1) = if by.y >= 0.0 { (b.y0, b.y1) } else { (b.y1, b.y0) };
        let (x0, x1) = if by.x >= 0.0 { (b.x0, b.x1) } else { (b.x1, b.x0) };
        let p = Point::new;
        Contour::polygon(&[p(x0, y0), p(x1, y0), p(x1, y0) + by, p(x1, y1) + by, p(x0, y1) + by, p(x0, y1)])
    }

    /// The box in one direction: its outline seen from the seat (at least that) and its range of depth.
    pub fn at(&self, exit: &Exit, frame: &Frame, way: Vec3) -> (Contour, f64, f64) {
        let centre = Vec2::new(exit.at.x, exit.at.y);
        let (near, far) = self.along;
        if along_depth(exit.axis) {
            let outline = if self.centred { self.turned(centre, way) } else { self.swept(way) };
            let (a, b) = (exit.at.d + frame.axis.d * near, exit.at.d + frame.axis.d * far);
            return (outline, a.min(b), a.max(b));
        }
        let half = self.section.farthest(Point::ORIGIN + centre);
        let across = frame.axis.cross(way);
        let mut low = Vec3::new(f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let mut high = -low;
        for along in [near, far] {
            for side in [-half, self.side.max(half)] {
                for off in [-half, half] {
                    let p = exit.at + frame.axis * along + way * side + across * off;
                    low = Vec3::new(low.x.min(p.x), low.y.min(p.y), low.d.min(p.d));
                    high = Vec3::new(high.x.max(p.x), high.y.max(p.y), high.d.max(p.d));
                }
            }
        }
        let size = high - low;
        let middle = Point::new((low.x + high.x) / 2.0, (low.y + high.y) / 2.0);
        (Contour::rect(middle, size.x, size.y, 0.0), low.d, high.d)
    }
}
