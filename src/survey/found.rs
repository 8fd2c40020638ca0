//! The panel as found: outline and old openings, each with how far it may be off at 95 %.
//!
//! What is cut later is laid out from the sheet's own edges, so uncertainty is told relative to the outline: the motion of
//! the outline as a whole, its mean shift and turn, is taken out of every point's covariance (an S-transformation onto the
//! outline's points).

use super::ellipse::Ellipse;
use super::locus::through;
use super::solve::Solved;
use super::statistics::LINE_95;
use crate::define::survey::{AsFound, Corner, Survey};
use crate::diag::{Problem, Problems, Where, Written};
use crate::geom::{Arc, Point, Segment, Vec2};
use std::fmt::Write;

/// The points of an outline, and how far each may be off relative to all of them.
struct Frame<'a> {
    solved: &'a Solved,
    on: Vec<usize>,
    centre: Point,
    /// Sum of the squared distances from the centre.
    spread: f64,
    problems: Problems,
}

/// The panel file of a survey, as text.
///
/// # Errors
/// The survey says nothing of a panel; a point of it is not determined or may lie elsewhere; either of two readings may
/// be the wrong one; a corner that cannot be rounded as stated.
pub fn panel_file(survey: &Survey, solved: &Solved, file: &str) -> Result<String, Problems> {
    let Some(found) = &survey.as_found else {
        let message = "the survey does not say how its points make a panel";
        let problem = Problem::new("no-outline", &survey.span, message);
        return Err(problem.help("add \"as-found\": { \"outline\": [ points in order ] }").into());
    };
    let mut frame = Frame::new(solved, found);
    frame.rivals();
    let outline = frame.path(&found.outline, Vec2::ZERO);
    let edge =
        found.outline.iter().filter_map(|c| frame.index(&c.to)).map(|p| frame.off(p)).fold(0.0, f64::max);
    let mut openings = Vec::new();
    for o in &found.openings {
        let id = &o.id.value;
        if let Some(circle) = &o.circle {
            let Some(p) = frame.held(circle) else { continue };
            if !solved.network.points[p].round || !solved.sized(p) {
                frame.open(circle, "its diameter is not determined");
                continue;
            }
            let (at, radius) = (solved.adjusted.state.at[p], solved.adjusted.state.radius[p]);
            let give = up(2.0 * LINE_95 * solved.radius_deviation(p));
            openings.push(format!(
                "{{ \"id\": \"{id}\", \"shape\": {{ \"circle\": {{ \"of\": {}, \"plus\": {give}, \"minus\": {give} }} }}, \"at\": {}, \"survey\": {} }}",
                short(2.0 * radius),
                pair(at),
                up(frame.off(p))
            ));
            continue;
        }
        let corners: Vec<usize> = o.points.iter().filter_map(|c| frame.held(&c.to)).collect();
        if corners.len() < o.points.len() || corners.is_empty() {
            continue;
        }
        let sum = corners.iter().fold(Vec2::ZERO, |s, p| s + solved.adjusted.state.at[*p].to_vec2());
        let middle = sum / corners.len() as f64;
        let middle = Vec2::new((middle.x * 100.0).round() / 100.0, (middle.y * 100.0).round() / 100.0);
        let path = frame.svg(&o.points, middle);
        let off = corners.iter().map(|p| frame.off(*p)).fold(0.0, f64::max);
        openings.push(format!(
            "{{ \"id\": \"{id}\", \"shape\": {{ \"path\": \"{path}\" }}, \"at\": {}, \"survey\": {} }}",
            pair(middle.to_point()),
            up(off)
        ));
    }
    if !frame.problems.is_empty() {
        return Err(frame.problems);
    }
    let text = |t: &str| serde_json::Value::from(t).to_string();
    let mut out = String::new();
    let _ = writeln!(out, "{{\n  \"format\": 1,\n  \"panel\": {},", text(&survey.title.value));
    let _ = writeln!(out, "  \"unit\": \"mm\",\n  \"as-found\": true,\n  \"note\": {},", text(&note(solved)));
    let document = format!("{file}, adjusted by least squares");
    let _ = writeln!(
        out,
        "  \"sources\": {{ \"survey\": {{ \"basis\": \"measured\", \"document\": {} }} }},\n  \"source\": \"survey\",",
        text(&document)
    );
    let mut sheet = String::new();
    if let Some(m) = &found.material {
        let _ = write!(sheet, "\"material\": {}, ", text(&m.value));
    }
    if let Some(t) = &found.thickness {
        let _ = write!(sheet, "\"thickness\": {}, ", text(&t.of.to_string()));
    }
    let _ = writeln!(
        out,
        "  \"sheet\": {{ {sheet}\"survey\": {},\n    \"outline\": {{ \"lines-and-arcs\": [\n      {} ] }} }},",
        up(edge),
        outline.join(",\n      ")
    );
    let _ = writeln!(out, "  \"old-openings\": [\n    {}\n  ]\n}}", openings.join(",\n    "));
    Ok(out)
}

/// The outline in lines and arcs, as far as it can be drawn; empty where it cannot.
pub fn outline(survey: &Survey, solved: &Solved) -> Vec<Segment> {
    let Some(found) = &survey.as_found else { return Vec::new() };
    let mut frame = Frame::new(solved, found);
    let pieces = frame.pieces(&found.outline);
    let end = |p: &Piece| match p {
        Piece::Line(to) | Piece::Round(to, ..) | Piece::Through(to, _) => *to,
    };
    let Some(mut at) = pieces.last().map(end) else { return Vec::new() };
    let mut out = Vec::new();
    for piece in &pieces {
        let to = end(piece);
        let arc = match *piece {
            Piece::Line(_) => None,
            Piece::Round(_, radius, left) => {
                let half = (to - at) * 0.5;
                let rise = (radius * radius - half.hypot2()).max(0.0).sqrt() / half.hypot2().sqrt().max(1e-9);
                let side = if left { rise } else { -rise };
                Some((at + half + Vec2::new(-half.y, half.x) * side, left))
            }
            Piece::Through(_, by) => through(at, by, to).map(|(c, _)| (c, (by - at).cross(to - by) > 0.0)),
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

/// What stands behind the numbers.
fn note(s: &Solved) -> String {
    let mut words = String::from(
        "Measured, not drawn: \"survey\" says how far an outline or opening may be off, at 95 %, relative to the outline as a whole.",
    );
    if s.suspects.is_empty() {
        return words;
    }
    let which: Vec<String> =
        s.suspects.iter().map(|x| super::said(&s.network.observations[x.observation].origin)).collect();
    let _ = write!(
        words,
        " Set aside because it disagrees with all others: {}. Measure it again.",
        which.join(", ")
    );
    words
}

/// Hundredths of a millimetre, rounded up: what is left out of a tolerance would be a promise.
fn up(mm: f64) -> f64 {
    (mm * 100.0 - 1e-9).ceil().max(0.0) / 100.0
}

fn short(mm: f64) -> f64 {
    let v = (mm * 100.0).round() / 100.0;
    if v == 0.0 { 0.0 } else { v }
}

fn pair(p: Point) -> String {
    format!("[{}, {}]", short(p.x), short(p.y))
}

/// One piece of an outline: a line or an arc to a point.
enum Piece {
    Line(Point),
    /// To, radius, counter-clockwise.
    Round(Point, f64, bool),
    /// To, through.
    Through(Point, Point),
}

impl<'a> Frame<'a> {
    fn new(solved: &'a Solved, found: &AsFound) -> Frame<'a> {
        let mut frame =
            Frame { solved, on: Vec::new(), centre: Point::ORIGIN, spread: 1.0, problems: Problems::new() };
        frame.on = found.outline.iter().filter_map(|c| frame.held(&c.to)).collect();
        let at = |p: &usize| solved.adjusted.state.at[*p];
        let sum = frame.on.iter().fold(Vec2::ZERO, |s, p| s + at(p).to_vec2());
        frame.centre = (sum / frame.on.len().max(1) as f64).to_point();
        frame.spread = frame.on.iter().map(|p| (at(p) - frame.centre).hypot2()).sum::<f64>().max(1e-9);
        frame
    }

    fn index(&self, id: &Written<crate::define::Text>) -> Option<usize> {
        self.solved.network.find(&id.value)
    }

    fn tell(&mut self, code: &'static str, place: &Where, message: String, help: &str) {
        self.problems.push(Problem::new(code, place, message).help(help));
    }

    fn open(&mut self, id: &Written<crate::define::Text>, why: &str) {
        let message = format!("`{}` cannot be drawn: {why}", id.value);
        self.tell("not-determined", &id.place, message, "the report names the readings that would settle it");
    }

    /// Where either of two readings may be the wrong one, the deviations hold for one of two panels only.
    fn rivals(&mut self) {
        let observations = &self.solved.network.observations;
        for s in &self.solved.suspects {
            let Some(rival) = s.rivals.first() else { continue };
            let (one, other) = (&observations[s.observation], &observations[*rival]);
            let (one_said, other_said) = (super::said(&one.origin), super::said(&other.origin));
            let message = format!("{one_said} or {other_said} is wrong, and the others cannot tell which");
            self.tell("not-determined", &one.place, message, "measure both again, then write the panel");
        }
    }

    /// A point that the readings hold in one place.
    fn held(&mut self, id: &Written<crate::define::Text>) -> Option<usize> {
        let Some(p) = self.index(id) else {
            let message = format!("there is no point or circle `{}`", id.value);
            self.tell("unknown-point", &id.place, message, "list it in `points` or `circles`");
            return None;
        };
        if !self.solved.holds(p) {
            self.open(id, "its place is not determined");
            return None;
        }
        if self.solved.ambiguous.iter().any(|a| a.moved.contains(&p)) {
            self.open(id, "it may lie on either side");
            return None;
        }
        Some(p)
    }

    /// How far a point may be off relative to the outline: the longer half axis at 95 %, mm.
    fn off(&self, p: usize) -> f64 {
        let s = self.solved;
        let n = s.network.unknowns;
        let (mut x, mut y) = (vec![0.0; n], vec![0.0; n]);
        let add = |row: &mut Vec<f64>, u: Option<usize>, d: f64| {
            if let Some(u) = u {
                row[u] += d;
            }
        };
        let (px, py) = s.network.unknowns(p);
        add(&mut x, px, 1.0);
        add(&mut y, py, 1.0);
        let arm = s.adjusted.state.at[p] - self.centre;
        let share = 1.0 / self.on.len().max(1) as f64;
        for q in &self.on {
            let (qx, qy) = s.network.unknowns(*q);
            let r = s.adjusted.state.at[*q] - self.centre;
            // the outline's turn by this point's motion (dx, dy) is (r.x dy - r.y dx) / spread
            let (by_x, by_y) = (-r.y / self.spread, r.x / self.spread);
            add(&mut x, qx, -share + arm.y * by_x);
            add(&mut x, qy, arm.y * by_y);
            add(&mut y, qx, -arm.x * by_x);
            add(&mut y, qy, -share - arm.x * by_y);
        }
        let product = |a: &[f64], b: &[f64]| -> f64 {
            let row = |i: usize| s.cofactor.row(i).iter().zip(b).map(|(q, v)| q * v).sum::<f64>();
            (0..n).filter(|i| a[*i] != 0.0).map(|i| a[i] * row(i)).sum()
        };
        Ellipse::of(product(&x, &x), product(&x, &y), product(&y, &y)).scaled(s.scale).major
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
    fn path(&mut self, corners: &[Corner], from: Vec2) -> Vec<String> {
        let pieces = self.pieces(corners);
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
                        short(*radius)
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

    /// An outline in path syntax.
    fn svg(&mut self, corners: &[Corner], from: Vec2) -> String {
        let mut d = String::new();
        for piece in self.pieces(corners) {
            let word = if d.is_empty() { "M" } else { " L" };
            match piece {
                Piece::Line(p) => {
                    let _ = write!(d, "{word} {} {}", short(p.x - from.x), short(p.y - from.y));
                }
                Piece::Round(p, r, left) => {
                    let (x, y) = (short(p.x - from.x), short(p.y - from.y));
                    let _ = write!(d, " A {0} {0} 0 0 {1} {x} {y}", short(r), u8::from(left));
                }
                Piece::Through(p, by) => {
                    let message =
                        "an opening's edge with an arc through a point is not drawn yet".to_string();
                    let place = corners[0].to.place.clone();
                    self.tell("no-arc", &place, message, "give the corner a radius, or make it a circle");
                    let _ = (p, by);
                }
            }
        }
        d.push_str(" Z");
        d
    }
}
