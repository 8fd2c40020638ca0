//! The panel as found: outline and old openings, each with how far it may be off at 95 %.
//!
//! What is cut later is laid out from the sheet's own edges, so uncertainty is told relative to the outline: the motion of
//! the outline as a whole, its mean shift and turn, is taken out of every point's covariance (an S-transformation onto the
//! outline's points).

use super::behind::Behind;
use super::ellipse::Ellipse;
use super::solve::Solved;
use super::spell::Spell;
use super::statistics::LINE_95;
use crate::define::survey::{AsFound, Opening, Survey};
use crate::diag::{Problem, Problems, Where, Written};
use crate::geom::{Point, Segment, Vec2};
use crate::units::Unit;
use std::fmt::Write;

/// The points of an outline, and how far each may be off relative to all of them.
pub(super) struct Frame<'a> {
    pub(super) solved: &'a Solved,
    on: Vec<usize>,
    centre: Point,
    /// Sum of the squared distances from the centre.
    spread: f64,
    pub(super) problems: Problems,
}

/// The panel file of a survey, as text.
///
/// # Errors
/// The survey says nothing of a panel; a point of it is not determined or may lie elsewhere; either of two readings may
/// be the wrong one; a corner that cannot be rounded as stated.
pub fn panel_file(survey: &Survey, solved: &Solved, behind: &Behind, file: &str) -> Result<String, Problems> {
    let Some(found) = survey.as_found.as_ref().filter(|f| !f.outline.is_empty()) else {
        let message = "the survey does not say how its points make a panel";
        let problem = Problem::new("no-outline", &survey.span, message);
        return Err(problem.help("add \"as-found\": { \"outline\": [ points in order ] }").into());
    };
    let mut frame = Frame::new(solved, found);
    frame.rivals();
    let drawn = frame.closes(&found.outline);
    let outline = if drawn { frame.path(&found.outline, Vec2::ZERO, Spell::MM) } else { Vec::new() };
    let edge =
        found.outline.iter().filter_map(|c| frame.index(&c.to)).map(|p| frame.off(p)).fold(0.0, f64::max);
    let openings: Vec<String> = found.openings.iter().filter_map(|o| frame.opening(o, Spell::MM)).collect();
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
        Spell::MM.up(edge),
        outline.join(",\n      ")
    );
    let _ = write!(out, "  \"old-openings\": [\n    {}\n  ]", openings.join(",\n    "));
    out.push_str(&super::behind::sections(behind));
    out.push_str("\n}\n");
    Ok(out)
}

/// Openings as a panel file of a unit lists them among its old ones, by id. Where the file says no unit, lengths are texts
/// with theirs, and openings by corners, whose path has none, are refused.
///
/// # Errors
/// As [`panel_file`], of the openings alone.
pub fn old_openings(
    survey: &Survey,
    solved: &Solved,
    of: &[String],
    unit: Option<Unit>,
) -> Result<Vec<(String, String)>, Problems> {
    let Some(found) = &survey.as_found else { return Ok(Vec::new()) };
    let mut frame = Frame::of(survey, solved);
    frame.rivals();
    let asked = found.openings.iter().filter(|o| of.iter().any(|id| *id == *o.id.value));
    let all = asked.filter_map(|o| Some((o.id.value.to_string(), frame.opening(o, Spell(unit))?))).collect();
    frame.problems.or(all)
}

/// The outline as a panel file of a unit lists it, and how far it may be off at 95 %, as that file writes it.
///
/// # Errors
/// As [`panel_file`], of the outline alone.
pub fn outline_in_pieces(
    survey: &Survey,
    solved: &Solved,
    unit: Option<Unit>,
) -> Result<(String, String), Problems> {
    let Some(found) = survey.as_found.as_ref().filter(|f| f.outline.len() > 2) else {
        let problem = Problem::nowhere("no-outline", "no outline was traced");
        return Err(problem.help("trace three corners or more, in order").into());
    };
    let spell = Spell(unit);
    let mut frame = Frame::new(solved, found);
    frame.rivals();
    let closes = frame.closes(&found.outline);
    let pieces = if closes { frame.path(&found.outline, Vec2::ZERO, spell) } else { Vec::new() };
    let edge = found.outline.iter().filter_map(|c| frame.index(&c.to)).map(|p| solved.ellipse(p).major);
    let off = spell.said(spell.up(edge.fold(0.0, f64::max)));
    frame.problems.or((format!("{{ \"lines-and-arcs\": [\n      {} ] }}", pieces.join(",\n      ")), off))
}

/// The outline in lines and arcs, as far as it can be drawn; empty where it cannot.
pub fn outline(survey: &Survey, solved: &Solved) -> Vec<Segment> {
    let Some(found) = &survey.as_found else { return Vec::new() };
    Frame::new(solved, found).drawn(&found.outline)
}

/// Outlines of the openings that are given by corners, as far as they can be drawn.
pub fn openings(survey: &Survey, solved: &Solved) -> Vec<Vec<Segment>> {
    let Some(found) = &survey.as_found else { return Vec::new() };
    let drawn = found.openings.iter().map(|o| Frame::new(solved, found).drawn(&o.points));
    drawn.filter(|o| !o.is_empty()).collect()
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
        " Set aside because it disagrees with the rest: {}. Measure it again.",
        which.join(", ")
    );
    words
}

impl<'a> Frame<'a> {
    /// Of a survey, whether or not it says how its points make a panel.
    pub(super) fn of(survey: &Survey, solved: &'a Solved) -> Frame<'a> {
        let empty = || Frame {
            solved,
            on: Vec::new(),
            centre: Point::ORIGIN,
            spread: 1.0,
            problems: Problems::new(),
        };
        let frame = survey.as_found.as_ref().map_or_else(empty, |found| Frame::new(solved, found));
        // what the outline itself lacks is told where a panel is asked for
        Frame { problems: Problems::new(), ..frame }
    }

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

    /// An opening as a panel file lists it; what it lacks goes to the problems.
    fn opening(&mut self, o: &Opening, spell: Spell) -> Option<String> {
        let id = &o.id.value;
        let state = &self.solved.adjusted.state;
        let said = |mm: f64| spell.said(spell.number(mm));
        let up = |mm: f64| spell.said(spell.up(mm));
        let place = |p: Point| format!("[{}, {}]", said(p.x), said(p.y));
        if let Some(circle) = &o.circle {
            let p = self.held(circle)?;
            if !self.solved.network.points[p].round || !self.solved.sized(p) {
                self.open(circle, "its diameter is not determined");
                return None;
            }
            let (at, radius) = (state.at[p], state.radius[p]);
            let give = up(2.0 * LINE_95 * self.solved.radius_deviation(p));
            return Some(format!(
                "{{ \"id\": \"{id}\", \"shape\": {{ \"circle\": {{ \"of\": {}, \"plus\": {give}, \"minus\": {give} }} }}, \"at\": {}, \"survey\": {} }}",
                said(2.0 * radius),
                place(at),
                up(self.off(p))
            ));
        }
        let corners: Vec<usize> = o.points.iter().filter_map(|c| self.held(&c.to)).collect();
        if corners.len() < o.points.len() || corners.is_empty() {
            return None;
        }
        if spell.0.is_none() {
            self.open(
                &o.id,
                "a path is in the file's unit, and the panel's file says none: add \"unit\" to it",
            );
            return None;
        }
        let sum = corners.iter().fold(Vec2::ZERO, |s, p| s + state.at[*p].to_vec2());
        let middle = sum / corners.len() as f64;
        let middle = Vec2::new(spell.again(middle.x), spell.again(middle.y));
        if !self.closes(&o.points) {
            return None;
        }
        let path = self.svg(&o.points, middle, spell);
        let off = corners.iter().map(|p| self.off(*p)).fold(0.0, f64::max);
        Some(format!(
            "{{ \"id\": \"{id}\", \"shape\": {{ \"path\": \"{path}\" }}, \"at\": {}, \"survey\": {} }}",
            place(middle.to_point()),
            up(off)
        ))
    }

    fn index(&self, id: &Written<crate::define::Text>) -> Option<usize> {
        self.solved.network.find(&id.value)
    }

    pub(super) fn tell(&mut self, code: &'static str, place: &Where, message: String, help: &str) {
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
    pub(super) fn held(&mut self, id: &Written<crate::define::Text>) -> Option<usize> {
        let Some(p) = self.index(id) else {
            let message = format!("there is no point or circle `{}`", id.value);
            self.tell("unknown-point", &id.place, message, "list it in `points` or `circles`");
            return None;
        };
        if !self.solved.holds(p) {
            self.open(id, "its place is not determined");
            return None;
        }
        let camera = |k: usize| self.solved.adjusted.state.cameras[k].focal();
        let off = self.solved.network.picks.iter().filter(|k| k.point == p).any(|k| {
            let deep = self.solved.network.points[p].depth != 0.0;
            k.may_stand_off.is_some() || deep && camera(k.picture).is_none()
        });
        if off {
            self.open(id, "it stands off the plane of the photograph, by how much is not known");
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
        self.doubt(p).major
    }

    /// The 95 % ellipse of a point relative to the outline; relative to the datum where there is none.
    pub(super) fn doubt(&self, p: usize) -> Ellipse {
        let s = self.solved;
        if self.on.len() < 2 {
            return s.ellipse(p);
        }
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
        Ellipse::of(product(&x, &x), product(&x, &y), product(&y, &y)).scaled(s.scale)
    }
}
