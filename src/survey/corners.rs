//! The edge that a survey's corners make: lines, rounded corners and arcs through points, as a panel file writes
//! them.

use super::found::Frame;
use super::locus::through;
use super::spell::Spell;
use crate::define::survey::Corner;
use crate::geom::{Arc, Contour, Point, Segment, Vec2};
use std::fmt::Write;

/// One piece of an outline: a line or an arc to a point.
enum Piece {
    Line(Point),
    /// To, radius, counter-clockwise.
    Round(Point, f64, bool),
    /// To, through.
    Through(Point, Point),
}

impl Piece {
    /// Where it ends.
    fn end(&self) -> Point {
        match self {
            Piece::Line(to) | Piece::Round(to, ..) | Piece::Through(to, _) => *to,
        }
    }
}

impl Frame<'_> {
    /// Corners in lines and arcs; empty where they cannot be drawn.
    pub(super) fn drawn(&mut self, corners: &[Corner]) -> Vec<Segment> {
        let pieces = self.pieces(corners);
        let Some(mut at) = pieces.last().map(Piece::end) else { return Vec::new() };
        let mut out = Vec::new();
        for piece in &pieces {
            let to = piece.end();
            let arc = match *piece {
                Piece::Line(_) => None,
                Piece::Round(_, radius, left) => {
                    let half = (to - at) * 0.5;
                    let rise =
                        (radius * radius - half.hypot2()).max(0.0).sqrt() / half.hypot2().sqrt().max(1e-9);
                    let side = if left { rise } else { -rise };
                    Some((at + half + Vec2::new(-half.y, half.x) * side, left))
                }
                Piece::Through(_, by) => {
                    through(at, by, to).map(|(c, _)| (c, (by - at).cross(to - by) > 0.0))
                }
            };
            if (to - at).hypot2() > 1e-12 {
                out.push(match arc {
                    Some((centre, left)) => Segment::Arc(Arc::between(at, to, centre, left)),
                    None => Segment::line(at, to),
                });
            }
            at = to;
        }
        out
    }

    /// Whether corners make an edge; tells those that stand twice and sides that cross.
    pub(super) fn closes(&mut self, corners: &[Corner]) -> bool {
        for (k, c) in corners.iter().enumerate() {
            if corners.iter().take(k).any(|d| d.to.value == c.to.value) {
                let message = format!("`{}` stands twice among the corners", c.to.value);
                self.tell(
                    "repeated-corner",
                    &c.to.place,
                    message,
                    "name each corner once; the last side leads back to the first",
                );
                return false;
            }
        }
        let told = self.problems.len();
        let pieces = self.drawn(corners);
        if self.problems.len() > told {
            return false;
        }
        if let (Some(c), Err(e)) = (corners.first(), Contour::new(pieces)) {
            let message = format!("the corners from `{}` on make no edge: {e}", c.to.value);
            self.tell(
                "bad-outline",
                &c.to.place,
                message,
                "name the corners in the order in which the edge runs",
            );
            return false;
        }
        true
    }

    /// An outline in pieces, its first point first.
    fn pieces(&mut self, corners: &[Corner]) -> Vec<Piece> {
        let mut at = Vec::new();
        for c in corners {
            let through = c.through.as_ref().and_then(|t| self.held(t));
            let Some(p) = self.held(&c.to) else { return Vec::new() };
            at.push((self.solved.adjusted.state.at[p], through.map(|t| self.solved.adjusted.state.at[t])));
        }
        let n = at.len();
        let mut out = Vec::new();
        for (i, c) in corners.iter().enumerate() {
            let (here, through) = at[i];
            if let Some(through) = through {
                out.push(Piece::Through(here, through));
                continue;
            }
            let radius = c.radius.as_ref().map_or(0.0, |r| r.mm());
            if radius == 0.0 {
                out.push(Piece::Line(here));
                continue;
            }
            let (before, after) = (at[(i + n - 1) % n].0 - here, at[(i + 1) % n].0 - here);
            let (a, b) = (before.hypot2().sqrt(), after.hypot2().sqrt());
            let (u, v) = (before / a.max(1e-9), after / b.max(1e-9));
            // the tangent points lie radius / tan(half the angle) from the corner
            let cos = u.dot(v);
            let back = radius * ((1.0 + cos) / (1.0 - cos).max(1e-9)).max(0.0).sqrt();
            if back > a || back > b || at[(i + 1) % n].1.is_some() {
                let message = format!("the corner `{}` cannot be rounded with {radius} mm", c.to.value);
                let help = "a rounded corner lies between two straight edges that are long enough";
                self.tell("corner-too-round", &c.to.place, message, help);
                return Vec::new();
            }
            out.push(Piece::Line(here + u * back));
            out.push(Piece::Round(here + v * back, radius, before.cross(after) < 0.0));
        }
        out
    }

    /// An outline as a panel file lists it.
    pub(super) fn path(&mut self, corners: &[Corner], from: Vec2, spell: Spell) -> Vec<String> {
        let pieces = self.pieces(corners);
        let said = |mm: f64| spell.said(spell.number(mm));
        let pair = |p: Point| format!("[{}, {}]", said(p.x), said(p.y));
        let mut out = Vec::new();
        let mut last = None;
        for (i, piece) in pieces.iter().enumerate() {
            match piece {
                Piece::Line(p) => out.push(pair(*p - from)),
                Piece::Round(p, radius, left) => {
                    let turn = if *left { "counter-clockwise" } else { "clockwise" };
                    let to = pair(*p - from);
                    out.push(format!(
                        "{{ \"to\": {to}, \"radius\": {}, \"turn\": \"{turn}\" }}",
                        said(*radius)
                    ));
                }
                Piece::Through(p, by) => {
                    let arc = format!("{{ \"to\": {}, \"through\": {} }}", pair(*p - from), pair(*by - from));
                    if i == 0 {
                        // the arc that closes it
                        out.push(pair(*p - from));
                        last = Some(arc);
                    } else {
                        out.push(arc);
                    }
                }
            }
        }
        out.extend(last);
        out
    }

    /// An outline in path syntax, whose numbers are bare in any file.
    pub(super) fn svg(&mut self, corners: &[Corner], from: Vec2, spell: Spell) -> String {
        let pieces = self.pieces(corners);
        let Some(mut at) = pieces.last().map(Piece::end) else { return String::new() };
        let short = |mm: f64| spell.number(mm);
        let said = |p: Point| format!("{} {}", short(p.x - from.x), short(p.y - from.y));
        let mut d = String::new();
        for piece in &pieces {
            if d.is_empty() && !matches!(piece, Piece::Line(_)) {
                let _ = write!(d, "M {}", said(at));
            }
            let _ = match *piece {
                Piece::Line(p) => write!(d, "{} {}", if d.is_empty() { "M" } else { " L" }, said(p)),
                Piece::Round(p, r, left) => {
                    write!(d, " A {0} {0} 0 0 {1} {2}", short(r), u8::from(left), said(p))
                }
                Piece::Through(p, by) => match through(at, by, p) {
                    Some((_, r)) => {
                        // the point lies on the longer arc where its angle over the chord is less than a right one
                        let long = (at - by).dot(p - by) > 0.0;
                        let left = (by - at).cross(p - by) > 0.0;
                        write!(
                            d,
                            " A {0} {0} 0 {1} {2} {3}",
                            short(r),
                            u8::from(long),
                            u8::from(left),
                            said(p)
                        )
                    }
                    None => write!(d, " L {}", said(p)),
                },
            };
            at = piece.end();
        }
        d.push_str(" Z");
        d
    }
}
