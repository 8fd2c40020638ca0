//! The panel's tilt is the one that an instrument is calibrated for.

use super::own::{Reading, Teller, anchor, number};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Class, Panel};

/// Deviation that an instrument is taken to bear when its definition says none, degrees.
const BEARS: f64 = 1.0;

/// The rule.
pub static RULE: Rule = Rule {
    id: "tilt",
    asks: "The panel's tilt is that for which the instrument is calibrated.",
    why: "A gyro built for another tilt shows a false pitch and loses part of its range. Measured: difference between the \
          panel's tilt and the instrument's, against what its definition says it bears; where it says nothing, one \
          degree is common practice.",
    limit: Limit::DegreesAtMost(BEARS),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let Some(facts) = s.facts.as_ref().filter(|f| f.tilt_matters) else { return };
    let Some((k, at)) = anchor(s, &[Class::Cutout, Class::Bezel, Class::Body]) else { return };
    let a = t.part(k);
    let (Some((calibrated, bears)), Some(tilt)) = (facts.tilt, panel.tilt) else {
        let mut waits = Vec::new();
        if facts.tilt.is_none() {
            waits.push("the tilt that the instrument is calibrated for");
        }
        if panel.tilt.is_none() {
            waits.push("the panel's tilt");
        }
        t.withhold(a, at, waits.join(", "));
        return;
    };
    let reading =
        Reading { measured: (tilt - calibrated).abs(), asked: t.asked(bears.unwrap_or(BEARS)), loss: 0.0 };
    t.reading(a, None, [at; 2], reading, |v| match v {
        Verdict::Fail => format!(
            "Panel {} deg, unit {} deg. It bears {} deg: have it calibrated for this panel, or wedge its mount.",
            number(tilt, 2),
            number(calibrated, 2),
            number(reading.asked, 2)
        ),
        _ => String::new(),
    });
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;

    fn one(panel: Option<f64>, unit: Option<(f64, Option<f64>)>, matters: bool) -> Scene {
        let mut s = Scene::new();
        s.panel.tilt = panel;
        let k = s.placement("gyro", |f| (f.tilt, f.tilt_matters) = (unit, matters));
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 79.4), CUTOUT);
        s
    }

    #[test]
    fn passes_within_what_it_bears() {
        assert_eq!(one(Some(8.0), Some((8.0, None)), true).line(&RULE), "pass tilt/gyro.cutout");
        assert_eq!(one(Some(8.0), Some((5.0, Some(3.0))), true).line(&RULE), "pass tilt/gyro.cutout");
        assert!(one(Some(8.0), None, false).lines(&RULE).is_empty());
    }

    #[test]
    fn fails_for_another_tilt() {
        assert_eq!(
            one(Some(8.0), Some((0.0, None)), true).line(&RULE),
            "fail tilt/gyro.cutout: Panel 8 deg, unit 0 deg. It bears 1 deg: have it calibrated for this panel, or wedge \
             its mount."
        );
        // leaning the other way is not the same tilt
        assert_eq!(one(Some(-8.0), Some((8.0, None)), true).verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn withheld_without_either() {
        assert_eq!(
            one(None, None, true).line(&RULE),
            "withheld tilt/gyro.cutout: the tilt that the instrument is calibrated for, the panel's tilt"
        );
    }
}
