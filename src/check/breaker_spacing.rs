//! Circuit breakers stand far enough apart to be pulled and read.

use super::own::is_main_opening;
use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch};
use crate::panel::{Classes, Control, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "breaker-spacing",
    asks: "Circuit breakers keep a pitch at which one can be pulled, and named, alone.",
    why: "A breaker that is pulled with its neighbour takes a second circuit away, and below this pitch there is no \
          room for its name. Measured: centre to centre of the breakers' own holes. 19 mm is from memory.",
    limit: Limit::AtLeast(19.0),
    source: Source {
        standing: Standing::Memory,
        title: "Makers' sheets of push-pull breakers, about 3/4 in pitch",
    },
    relation: Relation::Apart {
        of: Select { classes: Classes::OPENINGS, when: Some(is_breaker) },
        from: Select { classes: Classes::OPENINGS, when: Some(is_breaker) },
        measure: From::Centres,
        exempt: Exempt::SameSubject,
        same_sheet: false,
        depth: false,
        touch: Touch::Fails,
    },
    asked: None,
};

fn is_breaker(panel: &Panel, part: PartRef) -> bool {
    is_main_opening(panel, part, Control::Breaker)
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::check::Verdict;
    use crate::panel::{Class, Term, TermKind};

    #[test]
    fn passes_tight_and_fails_by_pitch() {
        for (pitch, shift, expect) in
            [(19.0, 0.0, Verdict::Pass), (19.1, 0.1, Verdict::Tight), (18.5, 0.0, Verdict::Fail)]
        {
            let mut s = Scene::new();
            for (id, x) in [("cb-1", 100.0), ("cb-2", 100.0 + pitch)] {
                let k = s.placement(id, |f| f.control = Some(Control::Breaker));
                s.part(k, "bush", Class::Hole, circle(x, 40.0, 11.5), shaft(11.5));
                s.last(k).terms.push(Term {
                    kind: TermKind::Position,
                    key: 0,
                    grow: 0.0,
                    shrink: 0.0,
                    shift,
                });
            }
            assert_eq!(s.verdicts(&RULE), [expect], "pitch {pitch}");
        }
    }

    #[test]
    fn speaks_of_breakers_alone() {
        let mut s = Scene::new();
        for (id, control) in [("cb", Control::Breaker), ("sw", Control::Toggle)] {
            let k = s.placement(id, |f| f.control = Some(control));
            s.part(k, "bush", Class::Hole, circle(40.0, 40.0, 11.5), shaft(11.5));
        }
        assert!(is_breaker(&s.panel, PartRef { subject: 1, part: 0 }));
        assert!(!is_breaker(&s.panel, PartRef { subject: 2, part: 0 }));
    }
}
