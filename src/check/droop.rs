//! How far a long body drops at its rear that hangs by its front flange.

use super::own::{Reading, Teller, length};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Class, Hung, Panel, Part, Subject};

/// The rule.
pub static RULE: Rule = Rule {
    id: "droop",
    asks: "A long body is held at its rear, or drops there no farther than 6 mm.",
    why: "A long tray hung by its front flange alone sags until it lies on what is below it: a stack that came down has stopped \
          a control. Drop at the rear end: depth behind the face times the sine of the angle, 3.93 mm for 1 degree over 225 mm, \
          with what a floating panel tips on its mounts. The rules of clearance count the same drop below the whole body. Long \
          is more than 200 mm; that, and 6 mm, the gap that bodies keep, are common practice.",
    limit: Limit::AtMost(6.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

/// From this depth behind its face on, a body is long, mm: common practice, no source.
const LONG: f64 = 200.0;

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| !s.provision) else { return };
    let Some((k, part, deep)) = longest(panel, s) else { return };
    let a = t.part(k);
    let mm = |v: f64| length(panel, v);
    match panel.hung(subject as u32) {
        Some(Hung::Held(words)) if deep > LONG => {
            t.plain(a, None, [part.centre; 2], Verdict::Pass, format!("Held at its rear: {words}."));
        }
        Some(Hung::Held(_)) => {}
        Some(Hung::Droop(_) | Hung::Sag(_)) => {
            let drop = panel.drop(a);
            let reading = Reading { measured: drop, asked: t.asked(6.0), loss: 0.0 };
            t.reading(a, None, [part.centre; 2], reading, |v| {
                let cure =
                    if v == Verdict::Pass { "" } else { " Hold its rear: a bracket, a tray, a shelf." };
                format!(
                    "It hangs by its front flange and drops {} at its rear, {} deep.{cure}",
                    mm(drop),
                    mm(deep)
                )
            });
        }
        None if deep > LONG => {
            let waits = format!(
                "what holds the rear of {}, {} deep (rear-support), or how far it drops there (droop)",
                s.id,
                mm(deep)
            );
            t.withhold(a, part.centre, waits);
        }
        None => {}
    }
}

/// The deepest body of a subject and how far it reaches behind the face of its sheet, mm.
fn longest<'a>(panel: &Panel, s: &'a Subject) -> Option<(usize, &'a Part, f64)> {
    let bodies = s.parts.iter().enumerate().filter(|(_, p)| p.class == Class::Body);
    let deep = |p: &Part| {
        let front = panel.sheets.get(p.sheet as usize).map_or(0.0, |sheet| sheet.front);
        p.depth.map(|(_, to)| to - front)
    };
    bodies.filter_map(|(k, p)| Some((k, p, deep(p)?))).max_by(|a, b| a.2.total_cmp(&b.2))
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;

    /// A case that reaches so deep, hung so.
    fn tray(deep: f64, hung: Option<Hung>) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("radio", |_| ());
        s.part(k, "body", Class::Body, rect(100.0, 100.0, 160.0, 50.0), crate::panel::Detail::Plain);
        s.last(k).depth = Some((0.0, deep));
        s.panel.subjects[k].hung = hung;
        s
    }

    #[test]
    fn the_drop_is_the_depth_times_the_sine() {
        // sin 1 deg = 0.01745240643728351 (tables of sines): 225 mm take 3.926791 mm, 280 mm take 4.886674 mm
        for (deep, angle, want) in [(225.0, 1.0, 3.926_791), (280.0, 1.0, 4.886_674), (100.0, 30.0, 50.0)] {
            let found = tray(deep, Some(Hung::Droop(angle))).findings(&RULE);
            assert!((found[0].measured.unwrap().upper - want).abs() < 1e-6, "{deep} {angle}");
        }
        assert_eq!(
            tray(225.0, Some(Hung::Droop(1.0))).line(&RULE),
            "pass droop/radio.body: It hangs by its front flange and drops 3.927 mm at its rear, 225 mm deep."
        );
        assert_eq!(tray(225.0, Some(Hung::Sag(6.5))).verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn the_drop_is_taken_from_the_room_below() {
        let below = |gap: f64, hung: Option<Hung>| {
            let mut s = tray(280.0, hung);
            let k = s.placement("box", |_| ());
            s.part(k, "body", Class::Body, rect(100.0, 50.0 - gap, 100.0, 50.0), crate::panel::Detail::Plain);
            s.last(k).depth = Some((0.0, 60.0));
            s.panel.subjects[k].hung = Some(Hung::Held("a shelf".into()));
            let found = s.findings(&crate::check::bodies_apart::RULE);
            found[0].measured.unwrap().lower
        };
        assert_eq!(below(10.0, Some(Hung::Held("a tray".into()))), 10.0);
        assert!((below(10.0, Some(Hung::Droop(1.0))) - (10.0 - 4.886_674)).abs() < 1e-6);
        assert_eq!(below(10.0, Some(Hung::Sag(3.0))), 7.0);
        assert!(below(4.0, Some(Hung::Droop(1.0))) < 0.0, "it lies on it");
    }

    #[test]
    fn a_long_body_of_which_nothing_is_said_is_withheld() {
        assert_eq!(
            tray(280.0, None).line(&RULE),
            "withheld droop/radio.body: what holds the rear of radio, 280 mm deep (rear-support), or how far it drops there (droop)"
        );
        assert_eq!(tray(200.0, None).verdicts(&RULE), []);
        assert_eq!(tray(280.0, Some(Hung::Held("a tray".into()))).verdicts(&RULE), [Verdict::Pass]);
    }
}
