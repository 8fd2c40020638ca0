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
          does not help the edge). The depth is the one given or that of the cone, (head diameter - fastener diameter) \
          / (2 tan (angle / 2)), the deeper of the two. Dimple the sheet or take a raised head instead. Two thirds is \
          common practice.",
    limit: Limit::WorkedAtMost,
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    for (k, part) in of_class(s, Class::Hole) {
        let Some((fastening, head)) = part.fastening().and_then(|f| Some((f, f.head?))) else { continue };
        let name = &fastening.name;
        if head.kind != HeadKind::Countersunk {
            continue;
        }
        let Some(n) = alike(s, k) else { continue };
        let a = t.part(k);
        let cone = fastening.diameter.zip(head.angle).map(|(shank, angle)| cone(head.diameter, shank, angle));
        let Some(depth) = head.height.into_iter().chain(cone).reduce(f64::max) else {
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

/// Depth of a countersunk head, mm, from its diameter down to its shank; the angle is the whole one, in degrees.
fn cone(head: f64, shank: f64, angle: f64) -> f64 {
    ((head - shank) / 2.0).max(0.0) / libm::tan((angle / 2.0).to_radians())
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Detail, Head};

    fn one(kind: HeadKind, height: Option<f64>, thickness: Option<f64>) -> Scene {
        let mut s = Scene::new();
        s.panel.sheets[0].thickness = thickness;
        let k = s.placement("asi", |_| ());
        let mut f = screw("#6-32", Some(0.138 * 25.4));
        f.head = Some(Head { kind, diameter: 7.1, height, angle: None });
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

    fn angled(angle: f64, height: Option<f64>, thickness: f64) -> Scene {
        let mut s = one(HeadKind::Countersunk, height, Some(thickness));
        if let Detail::Hole { fastening: Some(f), .. } = &mut s.panel.subjects[1].parts[0].detail {
            f.head = f.head.map(|h| Head { angle: Some(angle), ..h });
        }
        s
    }

    #[test]
    fn the_depth_follows_from_the_angle() {
        // ASME B18.6.3 flat heads, 82 degrees, #6: 0.279 in sharp, 0.083 in deep (table, from memory); the cone is
        // (0.279 - 0.138) / (2 tan 41 deg) = 0.0811 in, the rest is the table's tolerance
        assert!((cone(0.279, 0.138, 82.0) - 0.081_1).abs() < 5e-5);
        // closed form: at 90 degrees the depth is half the difference
        assert!((cone(9.4, 4.0, 90.0) - 2.7).abs() < 1e-12);
        // 7.1 mm head on 3.5052 mm at 90 degrees is 1.7974 mm deep
        assert_eq!(angled(90.0, None, 2.7).line(&RULE), "pass countersink-depth/asi.screw-1");
        assert!(angled(90.0, None, 2.6).line(&RULE).contains("is 1.797 mm deep in 2.6 mm of sheet"));
        // a wider angle is shallower: 1.5083 mm at 100 degrees
        assert_eq!(angled(100.0, None, 2.3).line(&RULE), "pass countersink-depth/asi.screw-1");
        // a depth that its own angle contradicts: the deeper one holds
        assert!(angled(90.0, Some(1.0), 2.0).line(&RULE).contains("is 1.797 mm deep"));
        assert!(angled(90.0, Some(1.9), 2.0).line(&RULE).contains("is 1.9 mm deep"));
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
