//! A control that must not be worked by mistake stands apart, or under a guard.

use super::judge::{self, Measure};
use super::own::{Teller, anchor};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::distance;
use crate::panel::{Class, Control, Detail, Panel, Part, PartRef, Subject};

/// The rule.
pub static RULE: Rule = Rule {
    id: "critical-apart",
    asks: "A control that is marked critical stands 25 mm from what the hand works beside it, or under a guard.",
    why: "Starter, magnetos, fuel shut-off, tow release: worked in place of a neighbour they stop the engine or lose \
          the load. Measured, seen from the seat: least distance from the levers, knobs, buttons, keys and handles of \
          the critical item to those of every other item. A guard over it does instead. A lamp is read, not worked. 25 mm is \
          common practice, twice what toggles at their least pitch leave.",
    limit: Limit::AtLeast(25.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| s.critical && !is_lamp(s)) else { return };
    let Some((first, _)) = worked(s).next() else {
        let faces = [Class::Front, Class::Bezel, Class::Cutout, Class::Hole, Class::Provision];
        if let Some((k, at)) = anchor(s, &faces) {
            t.withhold(
                t.part(k),
                at,
                "what the hand works: no lever, knob, button, key or handle is described".into(),
            );
        }
        return;
    };
    if s.parts.iter().any(is_guard) {
        let at = s.parts.get(first).map_or(s.at, |p| p.centre);
        t.plain(t.part(first), None, [at; 2], Verdict::Pass, String::new());
        return;
    }
    let mut any = false;
    for (n, other) in panel.subjects.iter().enumerate().filter(|(n, o)| *n != subject && !is_lamp(o)) {
        if let Some((k, m, measure)) = nearest(s, other, t.asked(25.0)) {
            any = true;
            t.pair(t.part(k), PartRef { subject: n as u32, part: m as u32 }, measure, t.asked(25.0));
        }
    }
    if !any {
        let at = s.parts.get(first).map_or(s.at, |p| p.centre);
        t.plain(t.part(first), None, [at; 2], Verdict::Pass, String::new());
    }
}

/// The pairs of worked parts of a subject and of others that are asked to stand apart, the subject's own first, and how far.
pub(super) fn asks(panel: &Panel, subject: usize) -> Vec<(PartRef, PartRef, f64)> {
    let guarded = |s: &Subject| !s.critical || is_lamp(s) || s.parts.iter().any(is_guard);
    let Some(s) = panel.subjects.get(subject).filter(|s| !is_lamp(s)) else { return Vec::new() };
    let mut out = Vec::new();
    for (n, other) in panel.subjects.iter().enumerate().filter(|(n, o)| *n != subject && !is_lamp(o)) {
        let limit = |k: usize, of: &Subject| {
            let group = panel.limit(RULE.id, panel.subjects.get(k).map_or(0, |s| s.group));
            (!guarded(of)).then(|| group.map_or(25.0, |l| l.value))
        };
        let asked = [limit(subject, s), limit(n, other)].into_iter().flatten().reduce(f64::max);
        let Some(asked) = asked else { continue };
        for (k, _) in worked(s) {
            for (m, _) in worked(other) {
                let own = PartRef { subject: subject as u32, part: k as u32 };
                out.push((own, PartRef { subject: n as u32, part: m as u32 }, asked));
            }
        }
    }
    out
}

/// The nearest two worked parts of two items, where they are no further apart than asked at the worst.
fn nearest(s: &Subject, other: &Subject, asked: f64) -> Option<(usize, usize, Measure)> {
    let mut best: Option<(usize, usize, Measure)> = None;
    for (k, a) in worked(s) {
        for (m, b) in worked(other) {
            let loss = judge::loss(a, b, judge::Stack::Boundaries);
            let Some(gap) = distance::within(&a.contour, &b.contour, asked + loss) else { continue };
            let contact = gap.relation.overlaps() || gap.distance <= crate::geom::SLACK;
            let value = if contact { 0.0 } else { gap.distance };
            if best.as_ref().is_none_or(|(_, _, m)| value - loss < m.worst) {
                best =
                    Some((k, m, Measure { value, upper: value, worst: value - loss, contact, at: gap.at }));
            }
        }
    }
    best
}

/// What the hand works of an item.
fn worked(s: &Subject) -> impl Iterator<Item = (usize, &Part)> {
    const KINDS: [&str; 5] = ["lever", "knob", "button", "key", "handle"];
    let by_hand =
        |p: &Part| matches!(&p.detail, Detail::Front { kind, .. } if KINDS.contains(&kind.as_str()));
    s.parts.iter().enumerate().filter(move |(_, p)| by_hand(p))
}

fn is_guard(p: &Part) -> bool {
    matches!(&p.detail, Detail::Front { kind, .. } if kind == "guard")
}

fn is_lamp(s: &Subject) -> bool {
    s.facts.as_ref().is_some_and(|f| f.control == Some(Control::Lamp))
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Term, TermKind};

    fn front(kind: &str) -> Detail {
        Detail::Front { kind: kind.into(), hand_room: None }
    }

    /// A critical lever of 10 mm and another control `gap` away, edge to edge.
    fn two(kind: &str, gap: f64) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("start", |_| ());
        s.part(k, "front-lever", Class::Front, circle(40.0, 40.0, 10.0), front("lever"));
        s.last(k).place = place();
        s.panel.subjects[k].critical = true;
        let o = s.placement("pump", |_| ());
        s.part(o, "front-other", Class::Front, circle(50.0 + gap, 40.0, 10.0), front(kind));
        s
    }

    #[test]
    fn passes_at_the_distance_and_beyond() {
        assert_eq!(two("knob", 25.0).line(&RULE), "pass critical-apart/start.front-lever/pump.front-other");
        assert_eq!(two("knob", 60.0).line(&RULE), "pass critical-apart/start.front-lever");
        assert_eq!(two("screen", 5.0).line(&RULE), "pass critical-apart/start.front-lever", "it is read");
    }

    #[test]
    fn fails_below_and_is_tight_when_it_may_be_off() {
        for kind in ["lever", "knob", "button", "key", "handle"] {
            assert_eq!(two(kind, 24.0).verdicts(&RULE), [Verdict::Fail], "{kind}");
        }
        assert_eq!(two("knob", -3.0).verdicts(&RULE), [Verdict::Fail], "in front of one another");
        let mut s = two("knob", 25.2);
        let off = Term { kind: TermKind::Position, key: 0, grow: 0.0, shrink: 0.0, shift: 0.4 };
        s.last(2).terms.push(off);
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn a_guard_does_instead_and_a_lamp_is_not_worked() {
        let mut s = two("knob", 5.0);
        s.part(1, "front-guard", Class::Front, circle(40.0, 40.0, 16.0), front("guard"));
        assert_eq!(s.line(&RULE), "pass critical-apart/start.front-lever");
        let mut s = two("knob", 5.0);
        let lamp = s.placement("lamp", |f| f.control = Some(Control::Lamp));
        s.part(lamp, "front-lens", Class::Front, circle(40.0, 60.0, 10.0), front("button"));
        assert_eq!(s.verdicts(&RULE), [Verdict::Fail], "the knob alone");
        s.panel.subjects[1].critical = false;
        s.panel.subjects[lamp].critical = true;
        assert!(s.lines(&RULE).is_empty());
    }

    #[test]
    fn every_neighbour_that_is_too_near_is_named() {
        let mut s = two("knob", 10.0);
        let third = s.placement("flap", |_| ());
        s.part(third, "front-flap", Class::Front, circle(40.0, 62.0, 10.0), front("lever"));
        assert_eq!(s.verdicts(&RULE), [Verdict::Fail, Verdict::Fail]);
    }

    #[test]
    fn withheld_where_nothing_that_is_worked_is_described() {
        let mut s = Scene::new();
        let k = s.placement("start", |_| ());
        s.part(k, "cutout", Class::Cutout, circle(40.0, 40.0, 12.0), CUTOUT);
        s.panel.subjects[k].critical = true;
        assert_eq!(
            s.line(&RULE),
            "withheld critical-apart/start.cutout: what the hand works: no lever, knob, button, key or handle is described"
        );
    }

    #[test]
    fn speaks_of_what_is_marked_alone() {
        let mut s = two("knob", 5.0);
        s.panel.subjects[1].critical = false;
        assert!(s.lines(&RULE).is_empty());
    }
}
