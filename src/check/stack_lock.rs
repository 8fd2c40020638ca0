//! The front lock of a stack's unit can be reached with its tool.

use super::judge;
use super::own::{Reading, Teller, length};
use super::stack::in_frame;
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Point, distance};
use crate::panel::{Class, Detail, Panel, Part, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "stack-lock",
    asks: "Round the front lock of a unit there is room for the tool that opens it.",
    why: "A unit that slides in is drawn home and let go by a lock in its face: where a knob or a handle stands before \
          it, the unit cannot come out. Measured: least distance from the lock to the knobs, levers and handles of \
          other items, against the room that the unit's tool needs. Room kept free has no lock yet.",
    limit: Limit::Worked,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(u) = in_frame(&t) else { return };
    let Some(s) = t.subject() else { return };
    // room kept free holds no unit yet, and no lock
    if s.provision && s.parts.iter().all(|p| p.class == Class::Provision) {
        return;
    }
    let locks = s.parts.iter().enumerate().filter_map(|(k, p)| match &p.detail {
        Detail::Front { kind, hand_room } if kind == "lock" => Some((k, p, *hand_room)),
        _ => None,
    });
    let mut any = false;
    for (k, lock, own_room) in locks {
        any = true;
        let Some(room) = u.unit.lock_room.or(own_room) else {
            t.withhold(t.part(k), lock.centre, "the room that the lock's tool needs".into());
            continue;
        };
        one(&mut t, subject, k, lock, room);
    }
    if !any {
        let waits = match u.unit.lock_room {
            Some(_) => "the place of the lock in the unit's face",
            None => "the place of the lock in the unit's face and the room that its tool needs",
        };
        t.withhold(u.a, u.at, waits.into());
    }
}

fn one(t: &mut Teller<'_>, subject: usize, k: usize, lock: &Part, room: f64) {
    let panel = t.panel;
    let asked = t.asked(room);
    let mut nearest: Option<(PartRef, Reading, [Point; 2])> = None;
    for (n, other) in panel.subjects.iter().enumerate().filter(|(n, _)| *n != subject) {
        for (m, front) in other.parts.iter().enumerate().filter(|(_, p)| p.class == Class::Front) {
            let loss = judge::loss(lock, front, judge::Stack::Boundaries);
            let Some(gap) = distance::within(&lock.contour, &front.contour, asked + loss) else { continue };
            let measured = if gap.relation.overlaps() { 0.0 } else { gap.distance };
            if nearest.as_ref().is_none_or(|(_, r, _)| measured - loss < r.measured - r.loss) {
                let part = PartRef { subject: n as u32, part: m as u32 };
                nearest = Some((part, Reading { measured, asked, loss }, gap.at));
            }
        }
    }
    let a = t.part(k);
    let Some((b, reading, at)) = nearest else {
        t.plain(a, None, [lock.centre; 2], Verdict::Pass, String::new());
        return;
    };
    t.reading(a, Some(b), at, reading, |v| match v {
        Verdict::Fail | Verdict::Tight => format!(
            "{} stands {} from the lock, its tool needs {}. Move one of them, or say how the unit comes out.",
            panel.part_name(b),
            length(panel, reading.measured),
            length(panel, asked)
        ),
        _ => String::new(),
    });
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::super::stack_height::tests::{frame, stack};
    use super::*;
    use crate::panel::TermKind;

    fn front(kind: &str) -> Detail {
        Detail::Front { kind: kind.into(), hand_room: None }
    }

    fn with_knob(x: f64) -> (Scene, usize) {
        let (mut s, _) = stack(frame(), &[Some(33.0)]);
        let unit = s.panel.find("unit-1").unwrap_or(0);
        s.part(unit, "lock", Class::Front, circle(130.0, 160.0, 6.0), front("lock"));
        let k = s.placement("mixture", |_| ());
        s.part(k, "knob", Class::Front, circle(x, 160.0, 24.0), front("knob"));
        (s, k)
    }

    #[test]
    fn passes_with_room() {
        // 127 - 117 = 10 exactly
        assert_eq!(with_knob(105.0).0.line(&RULE), "pass stack-lock/unit-1.lock/mixture.knob");
        assert_eq!(with_knob(60.0).0.line(&RULE), "pass stack-lock/unit-1.lock");
    }

    #[test]
    fn tight_when_the_knob_may_be_larger() {
        let (mut s, k) = with_knob(105.0);
        s.tolerance(k, TermKind::Size, 0.2, 0.2);
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn fails_when_a_knob_stands_before_it() {
        assert_eq!(
            with_knob(107.0).0.line(&RULE),
            "fail stack-lock/unit-1.lock/mixture.knob: mixture.knob stands 8 mm from the lock, its tool needs 10 mm. Move \
             one of them, or say how the unit comes out."
        );
        assert!(with_knob(130.0).0.line(&RULE).contains("stands 0 mm from the lock"));
    }

    #[test]
    fn withheld_without_the_lock() {
        let (s, _) = stack(frame(), &[Some(33.0)]);
        assert_eq!(
            s.line(&RULE),
            "withheld stack-lock/unit-1.bezel: the place of the lock in the unit's face"
        );
    }

    #[test]
    fn room_kept_free_has_no_lock_yet() {
        let (mut s, _) = stack(frame(), &[Some(33.0)]);
        let unit = s.panel.find("unit-1").unwrap_or(0);
        s.panel.subjects[unit].provision = true;
        // a provision for a known unit waits for that unit's lock
        assert_eq!(s.verdicts(&RULE), [Verdict::Withheld]);
        s.panel.subjects[unit].parts.retain(|p| p.class == Class::Provision);
        assert!(s.lines(&RULE).is_empty());
    }
}
