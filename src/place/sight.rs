//! Whether an instrument is seen past what stands and moves in front of the panel: straight lines from the pilot's eye at
//! three heights to the four corners and the middle of its bezel.
//!
//! Exact for what the file tells, as drawn: controls at rest, fixed things where they stand. A line is taken as a bar of
//! [`THIN`] radius, so what it touches bars it. Knobs and levers of other instruments, sway and tolerances are not asked.

use super::arrange::{SIGHT, eye_of, fronts};
use crate::geom::{Rect, Vec2, angle};
use crate::panel::{Class, Detail, Panel, PartRef};
use crate::solid::{Leg, Pose, Shape, Solid, Vec3, nearer};

/// Radius of a line of sight, mm.
pub const THIN: f64 = 0.01;

/// How far above and below the eye is taken too, mm: a pilot sits taller or lower (common practice, no source).
pub const STEP: f64 = 40.0;

/// Where a line of sight goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// The middle of the face.
    Middle,
    /// A corner about its own axes, or of a round bezel the point of the rim on the diagonal.
    Corner(&'static str),
}

impl Target {
    /// Words for it.
    pub fn words(self) -> &'static str {
        match self {
            Target::Middle => "middle",
            Target::Corner(name) => name,
        }
    }
}

/// A line of sight that is barred.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Barred {
    /// How far above its stated height the eye is, mm.
    pub eye: f64,
    /// Where the line goes.
    pub to: Target,
    /// What bars it, the first in the order of the panel; `None`: the eye lies in the panel itself, so there is no line.
    pub by: Option<PartRef>,
}

/// What is seen of one instrument.
#[derive(Clone, Debug)]
pub struct Sight {
    eye: Vec3,
    up: Vec3,
    ahead: Vec3,
    targets: Vec<(Target, Vec3)>,
    solids: Vec<(PartRef, Solid)>,
    /// Whether it must be seen: its catalogue name or its title says that it is a standby.
    pub standby: bool,
}

/// Corners of a bezel by the diagonals of its own axes.
const CORNERS: [(&str, f64, f64); 4] = [
    ("lower left corner", -1.0, -1.0),
    ("lower right corner", 1.0, -1.0),
    ("upper right corner", 1.0, 1.0),
    ("upper left corner", -1.0, 1.0),
];

impl Sight {
    /// Of a subject of a panel. Where the panel does not say where the eye is: what would settle it.
    pub fn of(panel: &Panel, subject: usize) -> Result<Sight, Vec<&'static str>> {
        let lacks = [
            (panel.wishes.eye.is_none(), "give `eye` in the panel's `arrange` section"),
            (panel.eye_distance.is_none(), "give the panel's own `eye`, from the eye to the panel"),
            (panel.tilt.is_none(), "give the panel's `tilt`"),
        ];
        let lacks: Vec<&str> = lacks.into_iter().filter(|(lacks, _)| *lacks).map(|(_, what)| what).collect();
        let (Some(eye), Some(tilt), true) = (eye_of(panel), panel.tilt, lacks.is_empty()) else {
            return Err(lacks);
        };
        let (sin, cos) = angle::sin_cos_deg(tilt);
        let (down, forward) = angle::sin_cos_deg(tilt - SIGHT);
        Ok(Sight {
            eye,
            up: Vec3::new(0.0, cos, -sin),
            ahead: Vec3::new(0.0, down, forward),
            targets: targets(panel, subject),
            solids: in_front(panel, subject),
            standby: is_standby(panel, subject),
        })
    }

    /// How many solids the lines are asked of.
    pub fn asked_of(&self) -> usize {
        self.solids.len()
    }

    /// How many lines there are.
    pub fn lines(&self) -> usize {
        3 * self.targets.len()
    }

    /// The angle from the line of sight to the middle of the face after a shift, degrees in 0..=180.
    pub fn angle(&self, shift: Vec2) -> f64 {
        let middle = self.targets.iter().find(|(t, _)| *t == Target::Middle).map_or(Vec3::ZERO, |(_, p)| *p);
        let v = moved(middle, shift) - self.eye;
        angle::direction(Vec2::new(self.ahead.dot(v), self.ahead.cross(v).length())).to_degrees()
    }

    /// The lines of sight that are barred after a shift, by rising eye.
    pub fn barred(&self, shift: Vec2) -> Vec<Barred> {
        let lines = [-STEP, 0.0, STEP].into_iter().flat_map(|h| self.targets.iter().map(move |t| (h, t)));
        lines.filter_map(|(h, (to, at))| self.line(h, *to, moved(*at, shift))).collect()
    }

    /// Whether all of them are clear.
    pub fn clear(&self, shift: Vec2) -> bool {
        let mut lines = [0.0, -STEP, STEP].into_iter().flat_map(|h| self.targets.iter().map(move |t| (h, t)));
        lines.all(|(h, (to, at))| self.line(h, *to, moved(*at, shift)).is_none())
    }

    fn line(&self, eye: f64, to: Target, at: Vec3) -> Option<Barred> {
        let from = self.eye + self.up * eye;
        let path = vec![Leg::Line(from, at)];
        // the eye behind the face, or on it, sees nothing of it
        let line = Solid::new(Shape::Tube { path, radius: THIN }, Pose::IDENTITY).ok();
        let Some(line) = line.filter(|_| from.d < at.d) else { return Some(Barred { eye, to, by: None }) };
        let by = self.solids.iter().find(|(_, s)| nearer(&line, s, 0.0)).map(|(by, _)| *by)?;
        Some(Barred { eye, to, by: Some(by) })
    }
}

fn moved(p: Vec3, by: Vec2) -> Vec3 {
    p + Vec3::new(by.x, by.y, 0.0)
}

/// Whether an instrument must be seen: its catalogue name or its title says that it is a standby.
pub fn is_standby(panel: &Panel, subject: usize) -> bool {
    let facts = panel.subjects.get(subject).and_then(|s| s.facts.as_ref());
    let says = |words: &str| words.to_lowercase().contains("standby");
    facts.is_some_and(|f| says(&f.instrument) || says(&f.title))
}

/// Middle and corners of what an instrument shows, on the side of the pilot.
fn targets(panel: &Panel, subject: usize) -> Vec<(Target, Vec3)> {
    let Some(s) = panel.subjects.get(subject) else { return Vec::new() };
    let faces = fronts(panel, subject);
    let Some(b) = faces.iter().map(|c| c.bounds()).reduce(|a: Rect, b| a.union(b)) else { return Vec::new() };
    let bezels = s.parts.iter().filter(|p| p.class == Class::Bezel).filter_map(|p| p.depth);
    let d = bezels.map(|(from, _)| from).fold(0.0, f64::min);
    let (sin, cos) = angle::sin_cos_deg(s.turn);
    let prisms: Vec<Solid> = faces
        .into_iter()
        .filter_map(|c| {
            Solid::new(Shape::Prism { section: c.clone(), from: d, to: d + 1.0 }, Pose::IDENTITY).ok()
        })
        .collect();
    let corner = |(name, x, y): (&'static str, f64, f64)| {
        let along = Vec3::new(x * cos - y * sin, x * sin + y * cos, 0.0);
        let pieces = prisms.iter().flat_map(|p| p.pieces());
        let far = pieces.map(|p| p.core.support(along));
        let at = far.reduce(|a, b| if b.dot(along) > a.dot(along) { b } else { a })?;
        Some((Target::Corner(name), Vec3::new(at.x, at.y, d)))
    };
    let middle = (Target::Middle, Vec3::new(b.center().x, b.center().y, d));
    [middle].into_iter().chain(CORNERS.into_iter().filter_map(corner)).collect()
}

/// Controls at rest and fixed things, as far as they come before the front face.
fn in_front(panel: &Panel, but: usize) -> Vec<(PartRef, Solid)> {
    let rest = panel.space.mechanism.neutral();
    let mut out = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate().filter(|(k, _)| *k != but) {
        for (n, p) in s.parts.iter().enumerate() {
            let solid = match &p.detail {
                Detail::Moving { solid, link, .. } => solid.moved(&panel.space.mechanism.pose(*link, &rest)),
                Detail::Obstacle { solid, .. } => solid.as_ref().clone(),
                _ => continue,
            };
            if solid.bounds().low.d < 0.0 {
                out.push((PartRef { subject: k as u32, part: n as u32 }, solid));
            }
        }
    }
    out
}
