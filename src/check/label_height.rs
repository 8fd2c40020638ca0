//! Lettering is tall enough for the eye's distance.

use super::own::{Reading, Teller, length};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Detail, Panel};

/// Smallest height of a letter for one millimetre of distance: 15 arc minutes, 2 tan 7.5'. (The
/// guide prints 0.004, which is the same rounded down.)
const LEAST: f64 = 0.004_363_330;

/// Preferred: 20 arc minutes, 2 tan 10'.
const PREFERRED: f64 = 0.005_817_781;

/// The rule.
pub static RULE: Rule = Rule {
    id: "label-height",
    asks: "Letters subtend at least 15 arc minutes at the pilot's eye.",
    why: "Small neat lettering cannot be read in shake. Measured: letter height against the distance from eye to panel; \
          20 arc minutes is preferred, and told where a label has less.",
    limit: Limit::Worked,
    source: Source {
        standing: Standing::Published,
        title: "NUREG-0700, rev. 3: character height, minimum 15 arc minutes, preferred 20",
    },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    // not needed where the user sets the height himself
    let own = t.own_limit().then_some(0.0);
    let Some(distance) = panel.eye_distance.or(own) else {
        // one question for the whole panel, not one for each label
        if let Some((edge, at)) = t.main_sheet() {
            t.withhold(edge, at, "the distance from the pilot's eye to the panel".into());
        }
        return;
    };
    for (k, part) in s.parts.iter().enumerate() {
        let Detail::Label { height, .. } = part.detail else { continue };
        let reading = Reading { measured: height, asked: t.asked(LEAST * distance), loss: 0.0 };
        let mm = |v: f64| length(panel, v);
        t.reading(t.part(k), None, [part.centre; 2], reading, |v| match v {
            Verdict::Fail => format!(
                "Letters of {} at {}: {} is asked, {} preferred. Make them taller.",
                mm(height),
                mm(distance),
                mm(reading.asked),
                mm((PREFERRED * distance).max(reading.asked))
            ),
            _ if height < PREFERRED * distance => {
                format!(
                    "Letters of {}: {} is preferred at this distance.",
                    mm(height),
                    mm(PREFERRED * distance)
                )
            }
            _ => String::new(),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Class, SubjectKind};

    fn one(height: f64, eye: Option<f64>) -> Scene {
        let mut s = Scene::new();
        s.panel.eye_distance = eye;
        let l = s.subject("boost-label", SubjectKind::Label);
        let detail = Detail::Label { text: "BOOST".into(), height, process: None, of: None };
        s.part(l, "", Class::Label, rect(40.0, 55.0, 14.0, height), detail);
        s
    }

    #[test]
    fn the_ratios_are_those_of_the_angles() {
        let of = |minutes: f64| 2.0 * libm::tan(minutes / 60.0 / 2.0 * std::f64::consts::PI / 180.0);
        assert!((of(15.0) - LEAST).abs() < 5e-10);
        assert!((of(20.0) - PREFERRED).abs() < 5e-10);
        // NUREG-0700 rev. 3 prints them to three decimals; 20' = 0.0058 appears as 0.006
        assert_eq!((LEAST * 1000.0).round(), 4.0);
        assert_eq!((PREFERRED * 1000.0).round(), 6.0);
    }

    #[test]
    fn passes_and_tells_the_preferred_height() {
        // 30 in: 15' is 3.325 mm, 20' is 4.433 mm
        assert_eq!(one(4.5, Some(762.0)).line(&RULE), "pass label-height/boost-label");
        assert_eq!(
            one(3.5, Some(762.0)).line(&RULE),
            "pass label-height/boost-label: Letters of 3.5 mm: 4.433 mm is preferred at this distance."
        );
    }

    #[test]
    fn fails_when_too_small() {
        assert_eq!(
            one(3.0, Some(762.0)).line(&RULE),
            "fail label-height/boost-label: Letters of 3 mm at 762 mm: 3.325 mm is asked, 4.433 mm preferred. Make them \
             taller."
        );
    }

    #[test]
    fn withheld_without_the_eye() {
        assert_eq!(
            one(3.5, None).line(&RULE),
            "withheld label-height/sheet: the distance from the pilot's eye to the panel"
        );
    }
}
