//! The case passes its cutout.

use super::judge;
use super::own::{Reading, Teller, absent, length, of_class};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::contains;
use crate::geom::distance::{self, Relation as Lie};
use crate::panel::{Class, Detail, Make, Mounting, Panel, Part, Subject, TermKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "body-passes",
    asks: "An instrument's case passes its cutout with room on every side.",
    why: "Cutout and case are two measured numbers, and the coat on the cut edge closes the cutout on both \
          sides. Measured: least room per side between the case and the cutout less its coat; the worst case \
          grows and the worst cutout shrinks. What is put in from the front must pass with its whole body, less what \
          is put on afterwards (named nut, ring, collar, clamp or washer); what comes from behind may be larger there.",
    limit: Limit::AtLeast(0.1),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

/// Words in the name of a body that is put on after the case has passed.
const AFTERWARDS: [&str; 5] = ["nut", "ring", "collar", "clamp", "washer"];

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let Some(facts) = &s.facts else { return };
    // a stack's frame holds units, which are asked about their width and height
    if facts.frame.is_some() || of_class(s, Class::Cutout).next().is_none() {
        return;
    }
    for (k, case) in of_class(s, Class::Case) {
        passes(&mut t, s, (k, case), "case");
    }
    let cases = of_class(s, Class::Case).count();
    let bodies = of_class(s, Class::Body).count();
    let says_case = absent(s, Class::Case).next().is_some();
    let expects_case = cases == 0 && (bodies > 0 || says_case || !facts.has_case);
    if let Some((k, cutout)) = of_class(s, Class::Cutout).next().filter(|_| expects_case) {
        t.withhold(t.part(k), cutout.centre, "the size of the case where it passes the cutout".into());
    }
    let from_front = match facts.mounting {
        Some(Mounting::Front) => Some(true),
        Some(Mounting::Rear) => Some(false),
        Some(Mounting::Clamp) => Some(of_class(s, Class::Bezel).next().is_some()),
        None => None,
    };
    // what lies in front of the sheet is put on afterwards, and so is a nut behind it
    let behind = of_class(s, Class::Body)
        .filter(|(_, p)| p.depth.is_none_or(|(_, to)| to > 0.0))
        .filter(|(_, p)| !p.name.split('-').any(|word| AFTERWARDS.contains(&word)));
    // what the case covers is answered by the case
    let inside_case =
        |body: &Part| of_class(s, Class::Case).any(|(_, c)| contains(&c.contour, &body.contour));
    for (k, body) in behind.filter(|(_, p)| !inside_case(p)) {
        match from_front {
            Some(true) => passes(&mut t, s, (k, body), "body"),
            Some(false) => {}
            None => {
                let waits =
                    "how it is mounted: only from behind may the body be larger than its cutout".into();
                if !holds(s, body) {
                    t.withhold(t.part(k), body.centre, waits);
                }
            }
        }
    }
}

/// Whether some cutout of the subject holds the part.
fn holds(s: &Subject, part: &Part) -> bool {
    of_class(s, Class::Cutout).any(|(_, c)| contains(&c.contour, &part.contour))
}

/// Judges one part against every cutout that it goes through.
fn passes(t: &mut Teller<'_>, s: &Subject, (k, part): (usize, &Part), word: &str) {
    let mut met = false;
    for (c, cutout) in of_class(s, Class::Cutout) {
        let gap = distance::contours(&part.contour, &cutout.contour);
        if matches!(gap.relation, Lie::Apart | Lie::Touching) {
            continue;
        }
        met = true;
        let (a, b) = (t.part(k), Some(t.part(c)));
        if !matches!(gap.relation, Lie::Inside | Lie::Coincident) {
            let words = format!(
                "The {word} is larger than its cutout: it cannot go in. Compare both with the maker's drawing; \
                 the bezel's size is not the cutout's."
            );
            t.fail(a, b, gap.at, words);
            continue;
        }
        let coat = t.panel.sheets.get(cutout.sheet as usize).and_then(|s| s.coat).unwrap_or(0.0);
        // the coat is certain and already taken off: it is no tolerance here
        let coats = cutout.terms.iter().filter(|t| t.kind == TermKind::Coat).map(|t| t.shrink).sum::<f64>();
        let loss = (judge::loss(part, cutout, judge::Stack::Within) - coats).max(0.0);
        let reading = Reading { measured: gap.distance - coat, asked: t.asked(0.1), loss };
        let panel = t.panel;
        let from_part = matches!(cutout.detail, Detail::Cutout { make: Make::FromPart });
        t.reading(a, b, gap.at, reading, |v| match v {
            Verdict::Fail => format!(
                "The {word} has {} of room per side{}, asked {}. Enlarge the cutout by {} all round.",
                length(panel, reading.measured),
                if coat > 0.0 {
                    format!(" after {} of coat on the cut edge", length(panel, coat))
                } else {
                    String::new()
                },
                length(panel, reading.asked),
                length(panel, reading.asked - reading.measured),
            ),
            Verdict::Tight => format!(
                "The {word} has {} of room per side as drawn; the tolerances can take {}. {}",
                length(panel, reading.measured),
                length(panel, loss),
                if from_part {
                    "It is marked from the part: offer the part up."
                } else {
                    "Measure the part, or file to fit."
                },
            ),
            _ => String::new(),
        });
    }
    if !met {
        let words = format!("The {word} lies beside every cutout of its instrument: check the definition.");
        t.fail(t.part(k), None, [part.centre; 2], words);
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::SubjectKind;

    fn round(cutout: f64, case: f64, mounting: Option<Mounting>) -> (Scene, usize) {
        let mut s = Scene::new();
        let k = s.placement("asi", |f| f.mounting = mounting);
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, cutout), CUTOUT);
        s.part(k, "case", Class::Case, circle(60.0, 60.0, case), Detail::Plain);
        (s, k)
    }

    #[test]
    fn passes_with_room() {
        assert_eq!(
            round(79.4, 78.1, Some(Mounting::Front)).0.line(&RULE),
            "pass body-passes/asi.case/asi.cutout"
        );
        // exactly what is asked: equal is pass
        assert_eq!(round(80.2, 80.0, None).0.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn tight_when_tolerances_close_the_room() {
        let (mut s, k) = round(79.4, 79.0, Some(Mounting::Front));
        s.tolerance(k, TermKind::Size, 0.15, 0.15);
        assert_eq!(
            s.line(&RULE),
            "tight body-passes/asi.case/asi.cutout: The case has 0.2 mm of room per side as drawn; the tolerances \
             can take 0.15 mm. Measure the part, or file to fit."
        );
    }

    #[test]
    fn coat_counts_at_nominal() {
        let (mut s, _) = round(79.4, 79.1, Some(Mounting::Front));
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
        s.panel.sheets[0].coat = Some(0.08);
        assert_eq!(
            s.line(&RULE),
            "fail body-passes/asi.case/asi.cutout: The case has 0.07 mm of room per side after 0.08 mm of coat on \
             the cut edge, asked 0.1 mm. Enlarge the cutout by 0.03 mm all round."
        );
    }

    #[test]
    fn a_case_larger_than_its_cutout_fails() {
        let line = round(79.4, 82.5, Some(Mounting::Front)).0.line(&RULE);
        assert!(
            line.starts_with("fail body-passes/asi.case/asi.cutout: The case is larger than its cutout"),
            "{line}"
        );
    }

    #[test]
    fn a_larger_body_goes_in_from_behind_only() {
        for (mounting, expect) in [
            (Some(Mounting::Front), Some(Verdict::Fail)),
            (Some(Mounting::Rear), None),
            (None, Some(Verdict::Withheld)),
        ] {
            let (mut s, k) = round(79.4, 78.1, mounting);
            s.part(k, "body", Class::Body, rect(60.0, 60.0, 90.0, 90.0), Detail::Plain);
            assert_eq!(s.verdicts(&RULE).get(1).copied(), expect, "{mounting:?}");
        }
    }

    #[test]
    fn a_nut_behind_is_put_on_afterwards() {
        let (mut s, k) = round(12.2, 11.9, Some(Mounting::Front));
        s.part(k, "body-nut", Class::Body, circle(60.0, 60.0, 16.0), Detail::Plain);
        s.last(k).depth = Some((2.0, 5.0));
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn a_nut_in_front_need_not_pass() {
        let (mut s, k) = round(12.2, 11.9, Some(Mounting::Front));
        s.part(k, "nut", Class::Body, circle(60.0, 60.0, 16.0), Detail::Plain);
        s.last(k).depth = Some((-2.0, 0.0));
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn withheld_without_a_case() {
        let mut s = Scene::new();
        let k = s.placement("gps", |_| ());
        s.part(k, "cutout", Class::Cutout, rect(60.0, 60.0, 90.0, 60.0), CUTOUT);
        s.part(k, "body", Class::Body, rect(60.0, 60.0, 80.0, 50.0), Detail::Plain);
        assert_eq!(
            s.lines(&RULE)[0],
            "withheld body-passes/gps.cutout: the size of the case where it passes the cutout"
        );
        // an opening of no instrument has no case
        let mut s = Scene::new();
        let k = s.subject("old", SubjectKind::OldOpening);
        s.part(k, "", Class::OldOpening, circle(60.0, 60.0, 57.0), Detail::Plain);
        assert!(s.lines(&RULE).is_empty());
    }
}
