//! What the spacing of controls shares: centre to centre of the openings by which they are held.

use super::own::is_main_opening;
use super::{Exempt, From, Relation, Rule, Select, Touch, breaker_spacing, switch_spacing};
use crate::panel::{Classes, Control, Panel, PartRef, Subject};

/// Two controls of a kind keep a pitch, on whichever sheets they are.
pub(super) const fn pitch(is_one: fn(&Panel, PartRef) -> bool) -> Relation {
    let held = Select { classes: Classes::OPENINGS, when: Some(is_one) };
    Relation::Apart {
        of: held,
        from: held,
        measure: From::Centres,
        exempt: Exempt::SameSubject,
        same_sheet: false,
        depth: false,
        touch: Touch::Fails,
    }
}

pub(super) fn is_toggle(panel: &Panel, part: PartRef) -> bool {
    is_main_opening(panel, part, Control::Toggle)
}

pub(super) fn is_breaker(panel: &Panel, part: PartRef) -> bool {
    is_main_opening(panel, part, Control::Breaker)
}

/// Whether a rule can have something to say of a subject at all: a gauge that lacks a hole is no switch.
pub(super) fn may_speak(rule: &Rule, s: &Subject) -> bool {
    let is = |control| s.facts.as_ref().is_some_and(|f| f.control == Some(control));
    if *rule == switch_spacing::RULE {
        is(Control::Toggle)
    } else if *rule == breaker_spacing::RULE {
        is(Control::Breaker)
    } else {
        true
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::super::{Rule, Verdict};
    use super::*;
    use crate::panel::{Class, Detail, Term, TermKind};

    fn rules() -> [(&'static Rule, Control); 2] {
        [(&switch_spacing::RULE, Control::Toggle), (&breaker_spacing::RULE, Control::Breaker)]
    }

    fn two(control: Control, pitch: f64, shift: f64) -> Scene {
        let mut s = Scene::new();
        for (id, x) in [("one", 100.0), ("two", 100.0 + pitch)] {
            let k = s.placement(id, |f| f.control = Some(control));
            s.part(k, "bush", Class::Hole, circle(x, 40.0, 12.2), shaft(12.2));
            s.last(k).terms.push(Term { kind: TermKind::Position, key: 0, grow: 0.0, shrink: 0.0, shift });
        }
        s
    }

    #[test]
    fn passes_tight_and_fails_by_pitch() {
        for (rule, control) in rules() {
            for (pitch, shift, expect) in [
                (19.0, 0.0, Some(Verdict::Pass)),
                (19.1, 0.1, Some(Verdict::Tight)),
                (18.0, 0.0, Some(Verdict::Fail)),
                (60.0, 0.0, None),
            ] {
                let said = two(control, pitch, shift).verdicts(rule);
                assert_eq!(said, Vec::from_iter(expect), "{}: pitch {pitch}", rule.id);
            }
        }
    }

    #[test]
    fn speaks_of_the_controls_own_hole_alone() {
        for (rule, control) in rules() {
            let mut s = two(control, 30.0, 0.0);
            s.part(1, "key", Class::Hole, circle(118.0, 40.0, 2.5), shaft(2.5));
            s.part(1, "bat", Class::Front, circle(100.0, 40.0, 20.0), Detail::Plain);
            for other in [Control::Toggle, Control::Breaker, Control::Lamp] {
                if other != control {
                    let k = s.placement("other", |f| f.control = Some(other));
                    s.part(k, "bush", Class::Hole, circle(115.0, 44.0, 5.0), shaft(5.0));
                }
            }
            let gauge = s.placement("gauge", |_| ());
            s.part(gauge, "cutout", Class::Cutout, circle(90.0, 70.0, 57.0), CUTOUT);
            let ids: Vec<String> = s.findings(rule).iter().map(|f| f.id(&s.panel)).collect();
            assert_eq!(ids, [format!("{}/one.bush/two.bush", rule.id)]);
        }
    }

    #[test]
    fn waits_for_the_hole_of_a_control_and_of_nothing_else() {
        for (rule, control) in rules() {
            let mut s = two(control, 30.0, 0.0);
            let gauge = s.placement("gauge", |_| ());
            s.panel.subjects[gauge].missing.push(("hole key".into(), "its diameter".into()));
            assert_eq!(s.verdicts(rule), [Verdict::Pass]);
            let third = s.placement("three", |f| f.control = Some(control));
            s.panel.subjects[third].missing.push(("hole bush".into(), "its diameter".into()));
            let lines = s.lines(rule);
            assert_eq!(lines.len(), 2, "{lines:?}");
            assert!(lines[0].ends_with("hole bush of three: its diameter"), "{lines:?}");
        }
    }
}
