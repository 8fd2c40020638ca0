//! What keeps a subject from standing elsewhere: every relation of one of its parts to a part of another subject, or
//! to the outline of its sheet, with the room that it asks at the worst tolerances. The relations' measurers in another
//! form: what [`check`](super::check) finds there is a plain pass exactly where none of these is broken.
//!
//! Rules with measurers of their own are not among them; see [`own_rules`].

use super::apart::depth_gap;
use super::engine::Options;
use super::gone;
use super::judge::{Stack, loss};
use super::pair;
use super::plan::{Row, bits};
use super::ready::{Ready, Scene};
use super::run::kin;
use super::{From, RULES, Relation, Rule};
use crate::geom::{Contour, Point, Rect, SLACK, Vec2, length};
use crate::panel::{Panel, PartRef};

/// One relation that a place may break.
#[derive(Clone, Debug)]
pub struct Ban<'a> {
    /// The rule.
    pub rule: &'static Rule,
    /// The subject's own part.
    pub own: PartRef,
    /// The part of the other subject, or of the sheet.
    pub other: PartRef,
    /// How it is broken.
    pub broken: Broken<'a>,
}

/// When a relation is broken; all in millimetres, the subject as it stands.
#[derive(Clone, Debug)]
pub enum Broken<'a> {
    /// The two are nearer than this, or overlap.
    Nearer {
        /// The subject's own.
        own: Shape<'a>,
        /// The other.
        other: Shape<'a>,
        /// At least so far apart.
        by: f64,
    },
    /// It is not within the outline, or nearer to it than this.
    NotWithin {
        /// The subject's own.
        own: Shape<'a>,
        /// The outline.
        outline: &'a Contour,
        /// At least so far from the outline.
        by: f64,
    },
    /// Upright boxes whose sides differ by less than this.
    Alike {
        /// The subject's own.
        own: Rect,
        /// The other.
        other: Rect,
        /// All sides differ by less.
        by: f64,
    },
    /// It meets what it covers, and does not cover it by this.
    Uncovered {
        /// What covers.
        cover: &'a Contour,
        /// What is to be covered.
        what: &'a Contour,
        /// By so much.
        by: f64,
        /// The cover is the subject's own part.
        own_covers: bool,
    },
}

/// What is measured of a part.
#[derive(Clone, Copy, Debug)]
pub enum Shape<'a> {
    /// Its outline.
    Outline(&'a Contour),
    /// Its centre.
    Centre(Point),
}

/// Everything that the relations ask of where a subject stands. `None` in place of a list: there is no such subject.
pub fn bans(panel: &Panel, subject: usize) -> Option<Vec<Ban<'_>>> {
    bans_among(panel, subject, &[subject])
}

/// The same where others may leave their places too: what they swallow now is there again.
pub fn bans_among<'a>(panel: &'a Panel, subject: usize, moving: &[usize]) -> Option<Vec<Ban<'a>>> {
    panel.subjects.get(subject)?;
    let mut scene = Scene::new(panel, Options::default());
    // what the subject swallows where it stands now is there again when it goes
    let mut boxes = scene.boxes.clone();
    for m in moving {
        if let Some(slot) = boxes.get_mut(*m) {
            *slot = None;
        }
    }
    scene.gone = gone::gone(panel, &boxes);
    let mut out = Vec::new();
    for p in scene.ready(subject) {
        inside(panel, &scene, p, &mut out);
        for o in (0..panel.subjects.len()).filter(|o| *o != subject) {
            let rows = if kin(panel, subject, o) { scene.plan.in_stack } else { scene.plan.between };
            for q in scene.ready(o) {
                let forth = p.roles.of & q.roles.from & rows;
                let back = p.roles.from & q.roles.of & rows;
                for k in bits(forth) {
                    out.extend(one(panel, &scene.plan.rows[k], [p.r, q.r], true));
                }
                for k in bits(back & (!forth | scene.plan.directed)) {
                    out.extend(one(panel, &scene.plan.rows[k], [q.r, p.r], false));
                }
            }
        }
    }
    Some(out)
}

fn inside<'a>(panel: &'a Panel, scene: &Scene<'a>, p: &Ready, out: &mut Vec<Ban<'a>>) {
    let part = panel.part(p.r);
    for k in bits(p.roles.inside) {
        let row = &scene.plan.rows[k];
        let Relation::Inside { measure, .. } = *row.relation else { continue };
        let Some(sheet) = panel.sheets.get(part.sheet as usize) else { continue };
        let other = PartRef { subject: sheet.subject, part: 0 };
        let Some(edge) = panel.subjects.get(sheet.subject as usize).and_then(|s| s.parts.first()) else {
            continue;
        };
        let Some((asked, _)) = row.asked(panel, p.r, None) else { continue };
        let (own, stack) = match measure {
            From::Boundary | From::Outlines => (Shape::Outline(&part.contour), Stack::Within),
            From::Centre | From::Centres => (Shape::Centre(part.centre), Stack::PointWithin),
        };
        let by = asked + loss(part, edge, stack);
        let broken = Broken::NotWithin { own, outline: &edge.contour, by };
        out.push(Ban { rule: row.rule, own: p.r, other, broken });
    }
}

/// A row of the plan about two parts, in their roles; `first`: the subject's own part is the first.
fn one<'a>(panel: &'a Panel, row: &Row, [a, b]: [PartRef; 2], first: bool) -> Option<Ban<'a>> {
    if !pair::speaks(panel, row, a, b) {
        return None;
    }
    let (pa, pb) = (panel.part(a), panel.part(b));
    let (asked, _) = row.asked(panel, a, Some(b))?;
    let (own, other) = if first { (a, b) } else { (b, a) };
    let broken = match *row.relation {
        Relation::Covers { .. } => Broken::Uncovered {
            cover: &pa.contour,
            what: &pb.contour,
            by: asked + loss(pb, pa, Stack::Within),
            own_covers: first,
        },
        Relation::Apart { measure: From::Outlines, .. } => {
            let (own, other) = (panel.part(own).contour.bounds(), panel.part(other).contour.bounds());
            Broken::Alike { own, other, by: asked }
        }
        Relation::Apart { measure, depth, .. } => {
            let (of, from, stack) = match measure {
                From::Centre => (Shape::Centre(pa.centre), Shape::Outline(&pb.contour), Stack::PointBoundary),
                From::Centres => (Shape::Centre(pa.centre), Shape::Centre(pb.centre), Stack::Points),
                _ => (Shape::Outline(&pa.contour), Shape::Outline(&pb.contour), Stack::Boundaries),
            };
            // what sways or droops is given room all round for the farthest that it comes: on the safe side
            let play = panel.play(a, b);
            let far = play.farthest();
            let comes = length(Vec2::new(far.x, far.y));
            let along = far.d;
            let deep = if depth { (depth_gap(pa, pb) - along).max(0.0) } else { 0.0 };
            // beside and deeper are the sides of a right angle
            let flat = if deep <= SLACK { asked } else { (asked * asked - deep * deep).max(0.0).sqrt() };
            if deep > SLACK && deep >= asked {
                return None;
            }
            let by = flat + comes + loss(pa, pb, stack);
            let (own, other) = if first { (of, from) } else { (from, of) };
            Broken::Nearer { own, other, by }
        }
        _ => return None,
    };
    Some(Ban { rule: row.rule, own, other, broken })
}

/// The rules that measure by themselves, which [`bans`] does not speak for.
pub fn own_rules() -> impl Iterator<Item = &'static Rule> {
    fn related(r: &Relation) -> bool {
        match r {
            Relation::All(all) => all.iter().all(related),
            other => {
                matches!(other, Relation::Apart { .. } | Relation::Inside { .. } | Relation::Covers { .. })
            }
        }
    }
    RULES.iter().copied().filter(|r| !related(&r.relation))
}

impl Shape<'_> {
    /// Smallest upright box.
    pub fn bounds(&self) -> Rect {
        match self {
            Shape::Outline(c) => c.bounds(),
            Shape::Centre(p) => Rect::from_points(*p, *p),
        }
    }
}

impl Ban<'_> {
    /// A box outside of which no shift of the subject breaks it; `None`: it may be broken anywhere.
    pub fn bounds(&self) -> Option<Rect> {
        let shifts = |own: Rect, other: Rect, by: f64| {
            Rect::new(
                other.x0 - own.x1 - by,
                other.y0 - own.y1 - by,
                other.x1 - own.x0 + by,
                other.y1 - own.y0 + by,
            )
        };
        match &self.broken {
            Broken::Nearer { own, other, by } => Some(shifts(own.bounds(), other.bounds(), *by)),
            Broken::NotWithin { .. } => None,
            Broken::Alike { own, other, by } => {
                let d = Vec2::new(other.center().x - own.center().x, other.center().y - own.center().y);
                Some(Rect::new(d.x - by, d.y - by, d.x + by, d.y + by))
            }
            Broken::Uncovered { cover, what, own_covers, .. } => {
                let (own, other) = if *own_covers { (cover, what) } else { (what, cover) };
                Some(shifts(own.bounds(), other.bounds(), 0.0))
            }
        }
    }
}
