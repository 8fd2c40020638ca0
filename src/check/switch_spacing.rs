//! Toggle switches stand far enough apart for fingers.

use super::own::is_main_opening;
use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Classes, Control, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "switch-spacing",
    asks: "Toggle and rocker switches keep a pitch that one gloved finger can work.",
    why: "Two bats at once are taken where switches stand too close. Measured: centre to centre of the switches' own \
          holes. 19 mm is what builders use (common practice, 19 to 25 mm); human-factors tables ask 19 mm between the \
          edges of toggles and 13 mm between push types, which is more: try it in card with gloves on.",
    limit: Limit::AtLeast(19.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Apart {
        of: Select { classes: Classes::OPENINGS, when: Some(is_toggle) },
        from: Select { classes: Classes::OPENINGS, when: Some(is_toggle) },
        measure: From::Centres,
        exempt: Exempt::SameSubject,
        same_sheet: false,
        depth: false,
        touch: Touch::Fails,
    },
    asked: None,
};

fn is_toggle(panel: &Panel, part: PartRef) -> bool {
    is_main_opening(panel, part, Control::Toggle)
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::check::Verdict;
    use crate::panel::{Class, Detail, Term, TermKind};

    fn two(pitch: f64, shift: f64) -> Scene {
        let mut s = Scene::new();
        for (id, x) in [("boost", 100.0), ("pitot", 100.0 + pitch)] {
            let k = s.placement(id, |f| f.control = Some(Control::Toggle));
            s.part(k, "bush", Class::Hole, circle(x, 40.0, 12.2), shaft(12.2));
            s.last(k).terms.push(Term { kind: TermKind::Position, key: 0, grow: 0.0, shrink: 0.0, shift });
        }
        s
    }

    #[test]
    fn passes_at_the_pitch_that_builders_use() {
        assert_eq!(two(19.0, 0.0).verdicts(&RULE), [Verdict::Pass]);
        assert_eq!(two(60.0, 0.0).verdicts(&RULE), []);
    }

    #[test]
    fn tight_when_the_holes_may_be_off() {
        assert_eq!(two(19.1, 0.1).verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn fails_below() {
        assert_eq!(two(18.0, 0.0).verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn speaks_of_the_switchs_own_hole_alone() {
        let mut s = Scene::new();
        let k = s.placement("boost", |f| f.control = Some(Control::Toggle));
        let key = s.part(k, "key", Class::Hole, circle(40.0, 48.0, 2.5), shaft(2.5));
        let bush = s.part(k, "bush", Class::Hole, circle(40.0, 40.0, 12.2), shaft(12.2));
        s.part(k, "bat", Class::Front, circle(40.0, 40.0, 20.0), Detail::Plain);
        let speaks = |p: usize| is_toggle(&s.panel, PartRef { subject: k as u32, part: p as u32 });
        assert!(speaks(bush) && !speaks(key));
        let other = s.placement("gauge", |_| ());
        s.part(other, "cutout", Class::Cutout, circle(90.0, 40.0, 57.0), CUTOUT);
        assert!(!is_toggle(&s.panel, PartRef { subject: other as u32, part: 0 }));
    }
}
