//! A countersunk head fits the thickness of its sheet.

use super::own::{Reading, Teller, alike, count, length, of_class, thickness_of};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Class, HeadKind, Panel};

/// Part of the thickness that the head may take.
const SHARE: f64 = 2.0 / 3.0;

/// The rule.
pub static RULE: Rule = Rule {
    id: "countersink-depth",
    asks: "A countersunk head is no deeper than two thirds of the sheet that it is cut into.",
    why: "A countersink as deep as the sheet leaves a knife edge: the hole grows, the head pulls through and cracks \
          start there. Measured: depth of the head against the thickness of its own sheet (a second sheet behind \
          does not help the edge). Dimple the sheet or take a raised head instead. Two thirds is common practice.",
    limit: Limit::WorkedAtMost,
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    for (k, part) in of_class(s, Class::Hole) {
        let Some((name, head)) = part.fastening().and_then(|f| Some((&f.name, f.head?))) else { continue };
        if head.kind != HeadKind::Countersunk {
            continue;
        }
        let Some(n) = alike(s, k) else { continue };
        let a = t.part(k);
        let Some(depth) = head.height else {
            t.withhold(a, part.centre, format!("the depth of the countersunk head of {name}{}", count(n)));
            continue;
        };
        let sheet = panel.sheets.get(part.sheet as usize);
        let Some(thickness) = sheet.and_then(|s| s.thickness) else {
            t.withhold(a, part.centre, thickness_of(sheet));
            continue;
        };
        let asked = t.asked(SHARE * thickness);
        let reading = Reading { measured: depth, asked, loss: 0.0 };
        t.reading(a, None, [part.centre; 2], reading, |v| match v {
            Verdict::Fail => format!(
                "The head of {name}{} is {} deep in {} of sheet{}, at most {} is asked. Dimple the sheet, or take a \
                 raised head.",
                count(n),
                length(panel, depth),
                length(panel, thickness),
                if depth >= thickness { ": a knife edge" } else { "" },
                length(panel, asked),
            ),
            _ => String::new(),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::Head;

    fn one(kind: HeadKind, height: Option<f64>, thickness: Option<f64>) -> Scene {
        let mut s = Scene::new();
        s.panel.sheets[0].thickness = thickness;
        let k = s.placement("asi", |_| ());
        let mut f = screw("#6-32", Some(0.138 * 25.4));
        f.head = Some(Head { kind, diameter: 7.1, height });
        s.part(k, "screw-1", Class::Hole, circle(40.0, 40.0, 4.3), hole(4.3, Some(f)));
        s
    }

    #[test]
    fn passes_up_to_two_thirds() {
        let line = one(HeadKind::Countersunk, Some(1.0), Some(1.5)).line(&RULE);
        assert_eq!(line, "pass countersink-depth/asi.screw-1", "equal is pass");
        assert!(one(HeadKind::Raised, Some(2.5), Some(1.5)).lines(&RULE).is_empty());
    }

    #[test]
    fn fails_where_it_leaves_a_knife_edge() {
        assert_eq!(
            one(HeadKind::Countersunk, Some(1.9), Some(1.6)).line(&RULE),
            "fail countersink-depth/asi.screw-1: The head of #6-32 is 1.9 mm deep in 1.6 mm of sheet: a knife edge, at \
             most 1.067 mm is asked. Dimple the sheet, or take a raised head."
        );
    }

    #[test]
    fn withheld_without_depth_or_thickness() {
        assert_eq!(
            one(HeadKind::Countersunk, None, Some(2.0)).line(&RULE),
            "withheld countersink-depth/asi.screw-1: the depth of the countersunk head of #6-32"
        );
        assert_eq!(
            one(HeadKind::Countersunk, Some(1.9), None).line(&RULE),
            "withheld countersink-depth/asi.screw-1: the thickness of the sheet"
        );
    }
}
