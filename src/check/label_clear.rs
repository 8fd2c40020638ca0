//! Labels can be read: nothing lies on them and no opening cuts them.

use super::{Exempt, From, Limit, Relation, Rule, Select, Source, Standing, Touch, insert};
use crate::panel::{Class, Classes};

/// The rule.
pub static RULE: Rule = Rule {
    id: "label-clear",
    asks: "A label keeps clear of bezels, knobs, fastener heads, openings, other labels, and inserts and floating panels that it is not on.",
    why: "Lettering under a bezel or across a hole is noticed after it is engraved. Boundary of the label's room to \
          boundary; half a millimetre is common practice.",
    limit: Limit::AtLeast(0.5),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::All(&[
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Label]), when: None },
            from: Select {
                classes: Classes::of(&[
                    Class::Bezel,
                    Class::Front,
                    Class::Head,
                    Class::Cutout,
                    Class::Hole,
                    Class::OldOpening,
                ]),
                when: None,
            },
            measure: From::Boundary,
            exempt: Exempt::Behind,
            same_sheet: false,
            depth: false,
            touch: Touch::Fails,
        },
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Label]), when: None },
            from: Select { classes: Classes::of(&[Class::Label]), when: None },
            measure: From::Boundary,
            exempt: Exempt::SameSubject,
            same_sheet: false,
            depth: false,
            touch: Touch::Fails,
        },
        Relation::Apart {
            of: Select { classes: Classes::of(&[Class::Label]), when: None },
            from: insert::HIDING,
            measure: From::Boundary,
            exempt: Exempt::OnIt,
            same_sheet: false,
            depth: false,
            touch: Touch::Fails,
        },
    ]),
    asked: None,
};

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::check::Verdict;
    use crate::panel::{Detail, SubjectKind, Term, TermKind};

    /// A label 3.5 mm high whose lower edge lies `gap` above the edge of a bezel or of an opening.
    fn over(class: Class, detail: Detail, gap: f64, shift: f64) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("boost", |_| ());
        s.part(k, "part", class, rect(40.0, 40.0, 20.0, 20.0), detail);
        let l = s.subject("label", SubjectKind::Label);
        let text =
            Detail::Label { text: "BOOST".into(), height: 3.5, process: None, of: Some("boost".into()) };
        s.part(l, "", Class::Label, rect(40.0, 50.0 + gap + 1.75, 14.0, 3.5), text);
        s.last(l).terms.push(Term { kind: TermKind::Position, key: 0, grow: 0.0, shrink: 0.0, shift });
        s
    }

    #[test]
    fn passes_tight_and_fails_by_the_gap() {
        for (class, detail) in [(Class::Bezel, Detail::Plain), (Class::Cutout, CUTOUT)] {
            let verdict = |gap: f64, shift: f64| over(class, detail.clone(), gap, shift).verdicts(&RULE);
            assert_eq!(verdict(0.5, 0.0), [Verdict::Pass]);
            assert_eq!(verdict(0.6, 0.2), [Verdict::Tight]);
            assert_eq!(verdict(0.4, 0.0), [Verdict::Fail]);
            assert_eq!(verdict(0.0, 0.0), [Verdict::Fail], "it touches");
            assert_eq!(verdict(-10.0, 0.0), [Verdict::Fail], "half under it");
            assert_eq!(verdict(-15.0, 0.0), [Verdict::Fail], "wholly under it");
        }
    }

    #[test]
    fn what_lies_behind_does_not_cover() {
        assert_eq!(over(Class::Body, Detail::Plain, -10.0, 0.0).verdicts(&RULE), []);
    }
}
