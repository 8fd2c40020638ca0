//! Items keep clear of controls over their whole travel.

use super::judge::{self, Stack};
use super::obstacle_clear::{STANDS, is_item, sentence};
use super::own::{Judged, Teller, length};
use super::space::{self, Known, Moving, Space};
use super::{Finding, Heed, Interval, Limit, Near, REACH, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Rect, SLACK};
use crate::panel::{Class, Part, PartRef, Sheet, State, SubjectKind};
use crate::solid::travel::{Moved, Reach, Travelled};
use crate::solid::{Lie, Solid};

/// What moving parts keep clear of, mm: 1/2 in.
pub(super) const CLEAR: f64 = 12.7;

/// The rule.
pub static RULE: Rule = Rule {
    id: "control-clear",
    asks: "Everything on the panel, and its sheets, keep clear of every control over its whole travel.",
    why: "A box that stops a control is the worst hazard of all, and a look at neutral does not find it. Measured between \
          true shapes over all positions of all drivers together, past their stops by the overtravel that the file states, \
          each link with its play and flexing: the least clearance is certified, and the pose told at which it comes. \
          Where overtravel or play are not stated, only a contact is certain and the rest is withheld. Round what a hand holds its own \
          room counts (50 mm unless the file says otherwise). 1/2 in to moving parts is common practice.",
    limit: Limit::AtLeast(CLEAR),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Near(Near { reach, heeds: Heed::near, measure }),
    asked: None,
};

/// A near pair.
struct Pair<'m, 'a> {
    a: PartRef,
    moving: &'m Moving<'a>,
    travelled: Travelled,
    asked: f64,
    loss: f64,
    known: Known,
    /// Numbers of the sway that are missing.
    waits: Vec<String>,
}

fn measure(room: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(room.panel, subject, rule, out);
    let Some(s) = t.subject().filter(|_| !room.moving.is_empty()) else { return };
    match s.kind {
        SubjectKind::Sheet => sheet(room, &mut t),
        kind if is_item(kind) => item(room, subject, &mut t),
        _ => {}
    }
}

/// Of a sheet, where what is cut out of it matters; an item is asked without a look at others.
fn reach(room: &Space<'_>, subject: usize, rule: &'static Rule) -> Option<Rect> {
    let mut out = Vec::new();
    let t = Teller::new(room.panel, subject, rule, &mut out);
    let (edge, sheet) = metal(&t)?;
    let seen = room.moving.iter().filter_map(|m| {
        let loss = judge::loss(edge, room.panel.part(m.part), Stack::Boundaries);
        let play = room.panel.play(t.part(0), m.part);
        let sways = (play.high - play.low).length();
        space::looked_at(sheet, &m.bounds, m.asked(&t, CLEAR) + loss + sways)
    });
    seen.reduce(|a, b| a.union(b))
}

/// The outline of the sheet that the subject is, and the sheet.
fn metal<'a>(t: &Teller<'a>) -> Option<(&'a Part, &'a Sheet)> {
    let s = t.subject().filter(|s| s.kind == SubjectKind::Sheet)?;
    Some((s.parts.first()?, t.panel.sheets.get(s.sheet as usize)?))
}

fn item(room: &Space<'_>, subject: usize, t: &mut Teller<'_>) {
    let panel = room.panel;
    let s = &panel.subjects[subject];
    let mut nearest: Option<Pair<'_, '_>> = None;
    for (k, part) in s.parts.iter().enumerate().filter(|(_, p)| STANDS.has(p.class)) {
        // what hangs on the airframe is of one group
        let Some(play) = room.moving.first().map(|m| panel.play(t.part(k), m.part)) else { break };
        let around = space::around_moving(part, &play);
        let near: Vec<(&Moving<'_>, f64, f64)> = room
            .moving
            .iter()
            .filter(|m| !panel.space.exempt(m.link, t.part(k), None))
            .map(|m| (m, m.asked(t, CLEAR), judge::loss(part, panel.part(m.part), Stack::Boundaries)))
            .filter(|(m, asked, loss)| around.distance(&m.bounds) <= (asked + loss).max(asked + REACH))
            .collect();
        if near.is_empty() {
            continue;
        }
        let Some((own, known)) = space::moving(part, &play) else { continue };
        let still = Reach::new(&panel.space.mechanism, Moved { solid: &own, link: None, grow: 0.0 });
        for (moving, asked, loss) in near {
            let travelled = still.clearance(&moving.reach, asked + (loss - REACH).max(0.0));
            let waits = play.waits.clone();
            let pair = Pair { a: t.part(k), moving, travelled, asked, loss, known, waits };
            take(t, pair, &mut nearest);
        }
    }
    if let Some(pair) = nearest {
        tell(t, &pair);
    }
}

/// A sheet's own metal: what moves goes through its openings.
fn sheet(room: &Space<'_>, t: &mut Teller<'_>) {
    let panel = room.panel;
    let Some((edge, sheet)) = metal(t) else { return };
    let k = edge.sheet as usize;
    let mut nearest: Option<Pair<'_, '_>> = None;
    for moving in &room.moving {
        if panel.space.exempt(moving.link, t.part(0), None) {
            continue;
        }
        let asked = moving.asked(t, CLEAR);
        let loss = judge::loss(edge, panel.part(moving.part), Stack::Boundaries);
        let play = panel.play(t.part(0), moving.part);
        let metal: Vec<Solid> = space::plates(panel, k, sheet, &moving.bounds, asked + loss, &play);
        let known = if sheet.thickness.is_some() { Known::Range } else { Known::Side };
        // the pieces are of one sheet: the nearest speaks for all
        let travelled = metal.iter().map(|plate| {
            let still = Reach::new(&panel.space.mechanism, Moved { solid: plate, link: None, grow: 0.0 });
            still.clearance(&moving.reach, asked + (loss - REACH).max(0.0))
        });
        if let Some(travelled) = travelled.min_by(|a, b| a.lower.total_cmp(&b.lower)) {
            let waits = play.waits;
            take(t, Pair { a: t.part(0), moving, travelled, asked, loss, known, waits }, &mut nearest);
        }
    }
    if let Some(pair) = nearest {
        tell(t, &pair);
    }
}

/// Tells what is no plain pass, and keeps the nearest of the passes.
fn take<'m, 'a>(t: &mut Teller<'_>, pair: Pair<'m, 'a>, nearest: &mut Option<Pair<'m, 'a>>) {
    let worst = |p: &Pair<'_, '_>| p.travelled.lower - p.loss - p.asked;
    let near = pair.travelled.lower - pair.loss - pair.asked <= REACH;
    let passes = worst(&pair) >= -SLACK && pair.travelled.relation == Lie::Apart;
    if pair.known == Known::Side {
        // what reaches without end and is clear is clear however deep it is; a sheet may be thicker than it was taken
        let sheet = t.panel.part(pair.a).class == Class::Edge;
        if !passes || near && sheet {
            tell(t, &pair);
        }
    } else if !passes || near && (pair.moving.waits.is_some() || !pair.waits.is_empty()) {
        tell(t, &pair);
    } else if near && !pair.travelled.over && nearest.as_ref().is_none_or(|n| worst(&pair) < worst(n)) {
        *nearest = Some(pair);
    }
}

fn tell(t: &mut Teller<'_>, pair: &Pair<'_, '_>) {
    say(t, pair);
    // where something is taken to reach without end no point of it is known
    if pair.known == Known::Range {
        let pose = space::of_links(t.panel, &[pair.moving.link], &pair.travelled.pose);
        t.in_space(pair.travelled.points, Some(pose));
    }
}

fn say(t: &mut Teller<'_>, pair: &Pair<'_, '_>) {
    let panel = t.panel;
    let Pair { a, moving, travelled, asked, loss, known, waits: sways } = pair;
    let b = moving.part;
    let at = travelled.points.map(space::flat);
    let (name, other) = (panel.part_name(*a), panel.part_name(b));
    let pose = space::in_words(panel, &[moving.link], &travelled.pose);
    let contact = travelled.relation != Lie::Apart;
    let own: &Part = panel.part(*a);
    if *known == Known::Side {
        let waits = match own.class {
            Class::Edge => "the thickness of the sheet".to_string(),
            _ => super::depth_behind::missing_depth(panel.subject(*a), own),
        };
        t.plain(*a, Some(b), at, Verdict::Withheld, format!("{waits}: {other} moves there"));
        return;
    }
    if contact {
        let deep = travelled.depth.map_or(String::new(), |d| format!(" by {}", length(panel, d)));
        let there = [*a, b].iter().all(|r| panel.subject(*r).state == State::Existing);
        let doubt = if there {
            " Both are there already: do not fly it before somebody has measured again."
        } else {
            ""
        };
        let verb = if travelled.relation == Lie::Touching { "touches" } else { "runs into" };
        // what was there first does not matter: a control that is stopped is a hazard today
        let words = format!("{other} {verb} {name}{deep} at {pose}: it cannot travel freely.{doubt}");
        t.plain(*a, Some(b), at, Verdict::Fail, words);
        t.measured(Some(Interval { lower: travelled.lower.min(0.0), upper: travelled.upper }), *asked, *loss);
        return;
    }
    if let Some(waits) = &moving.waits {
        let least = length(panel, travelled.lower);
        let waits = format!("{waits}; without them the least gap to {other} is {least} at {pose}");
        t.plain(*a, Some(b), at, Verdict::Withheld, waits);
        return;
    }
    let holds = travelled.lower - loss >= asked - SLACK;
    if !sways.is_empty() && holds {
        let least = length(panel, travelled.lower);
        let waits = format!("{}; at rest the least gap to {other} is {least} at {pose}", sways.join("; "));
        t.plain(*a, Some(b), at, Verdict::Withheld, waits);
        return;
    }
    let off = travelled.points[1] - travelled.points[0];
    let measured = Interval { lower: travelled.lower, upper: travelled.upper.max(travelled.lower) };
    let judged = Judged { measured, asked: *asked, loss: *loss, at };
    t.interval(*a, Some(b), judged, |v| {
        let gap = format!("least gap to {other} is at {pose}: {}", length(panel, travelled.lower));
        match v {
            Verdict::Fail | Verdict::Tight => {
                let short = asked - travelled.lower + if v == Verdict::Tight { *loss } else { 0.0 };
                let cure = space::cure(panel, off, short).unwrap_or_else(|| {
                    format!("it wants {} more room: a shorter unit, a side-exit plug", length(panel, short))
                });
                format!("{} {}. {}.", sentence(&gap), space::towards(off), sentence(&cure))
            }
            _ => gap,
        }
    });
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Class, Detail};
    use crate::solid::travel::{Driver, DriverKind, Follow, Joint, Link, Mechanism};
    use crate::solid::{Pose, Shape, Vec3};

    fn driver(id: &str, kind: DriverKind, stops: (f64, f64), over: Option<(f64, f64)>) -> Driver {
        Driver { id: id.into(), kind, stops, neutral: 0.0, over }
    }

    /// A shaft that slides fore and aft and turns about itself, with an arm of 100 mm to the right at 300 mm depth; a box
    /// of 40 mm with its lower side at y = 160, 250 deep, above the arm's end when it is turned up.
    fn wheel(over: Option<(f64, f64)>, allowance: Option<f64>, deep: f64) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("radio", |_| ());
        s.part(k, "body", Class::Body, rect(170.0, 180.0, 40.0, 40.0), Detail::Plain);
        s.last(k).depth = Some((0.0, deep));
        let control = s.subject("wheel", SubjectKind::Control);
        s.panel.subjects[control].state = State::Existing;
        let links = vec![
            Link {
                id: "shaft".into(),
                on: None,
                joint: Joint::Slide(Vec3::FORWARD),
                follows: vec![Follow { driver: 0, by: 1.0 }],
                allowance,
            },
            Link {
                id: "arm".into(),
                on: Some(0),
                joint: Joint::Pivot(Vec3::new(100.0, 100.0, 0.0), Vec3::FORWARD),
                follows: vec![Follow { driver: 1, by: 1.0 }],
                allowance: Some(0.0),
            },
        ];
        let drivers = vec![
            driver("fore-aft", DriverKind::Slide, (-80.0, 80.0), over),
            driver("roll", DriverKind::Turn, (-60.0, 60.0), over),
        ];
        s.panel.space.mechanism = Mechanism::new(drivers, links).expect("a mechanism");
        s.panel.space.control_of = vec![control as u32; 2];
        // 100 mm long from the axis, 10 x 10 mm
        let arm =
            Solid::new(Shape::Box(Vec3::new(50.0, 5.0, 5.0)), Pose::shift(Vec3::new(150.0, 100.0, 300.0)));
        s.moving(control, "arm", 1, None, arm.unwrap());
        s
    }

    #[test]
    fn only_full_aft_with_roll_finds_it() {
        // at neutral the arm is 295 - deep behind the box; full aft it stands at 215 to 225 and turns up into its shadow
        let line = wheel(Some((0.0, 0.0)), Some(0.0), 210.0).line(&RULE);
        // depth 215 - 210 = 5, told from below by the width of the bound, at a roll at which the arm stands before the box
        assert!(
            line.starts_with(
                "fail control-clear/radio.body/wheel.arm: Least gap to wheel.arm is at fore-aft -80 mm, roll "
            ),
            "{line}"
        );
        assert!(line.contains(" deg: 5 mm behind. It wants 7.7 mm more room"), "{line}");
        let short = wheel(Some((0.0, 0.0)), Some(0.0), 200.0);
        assert_eq!(short.verdicts(&RULE), [Verdict::Pass]);
        // overtravel and play count
        assert_eq!(wheel(Some((1.0, 1.0)), Some(1.5), 200.0).verdicts(&RULE), [Verdict::Fail]);
        let mut met = wheel(Some((0.0, 0.0)), Some(0.0), 230.0);
        let line = met.line(&RULE);
        assert!(line.contains("wheel.arm runs into radio.body"), "{line}");
        // whatever was there first
        met.panel.subjects.iter_mut().for_each(|s| s.state = State::Existing);
        let line = met.line(&RULE);
        assert!(line.starts_with("fail ") && line.contains("Both are there already"), "{line}");
    }

    #[test]
    fn without_overtravel_or_play_only_a_contact_is_certain() {
        let line = wheel(None, Some(0.0), 200.0).line(&RULE);
        assert!(
            line.starts_with("withheld")
                && line.contains("how far fore-aft can be forced past its stops (over)"),
            "{line}"
        );
        let line = wheel(Some((0.0, 0.0)), None, 200.0).line(&RULE);
        assert!(
            line.contains("the play and flexing of shaft under the pilot's effort (allowance)"),
            "{line}"
        );
        assert_eq!(wheel(None, None, 230.0).verdicts(&RULE), [Verdict::Fail]);
    }
}
