//! The units of a stack fit the height of its opening.

use super::own::{Reading, Teller, grows, length, of_class, shrinks};
use super::stack::{frame_part, missing, units};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Class, Panel};

/// The rule.
pub static RULE: Rule = Rule {
    id: "stack-height",
    asks: "The heights of a stack's units, a gap at every joint and the room at both ends add up to no more than the \
           opening's height.",
    why: "Trays carry dimples and run taller than drawn, so a column that adds up without gaps does not go in. \
          Measured: sum of the units (provisions too), the joints between them and the two ends, against the height of \
          the opening; tolerances of opening and units count on both sides.",
    limit: Limit::WorkedAtMost,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let Some(frame) = s.facts.as_ref().and_then(|f| f.frame.as_ref()) else { return };
    let Some(a) = frame_part(panel, subject) else { return };
    let part = panel.part(a);
    let (mut sum, mut count, mut loss, mut unknown) = (0.0, 0usize, 0.0, Vec::new());
    for unit in units(panel, s) {
        count += 1;
        match unit.facts.as_ref().and_then(|f| f.unit.as_ref()).and_then(|u| u.height) {
            Some(h) => sum += h,
            None => unknown.push(format!("the height of {}", unit.id)),
        }
        loss += of_class(unit, Class::Bezel).next().map_or(0.0, |(_, p)| 2.0 * grows(p));
    }
    if count == 0 {
        return;
    }
    let joints = count.saturating_sub(1) as f64;
    let mut asked_of =
        vec![("the opening's height", frame.opening_height), ("the room at the ends", frame.ends)];
    if count > 1 {
        asked_of.push(("the gap at a joint", frame.joint));
    }
    unknown.extend(missing(&asked_of).into_iter().map(String::from));
    if let (Some(opening), Some(ends), true) = (frame.opening_height, frame.ends, unknown.is_empty()) {
        let joint = frame.joint.unwrap_or(0.0);
        let need = sum + joints * joint + 2.0 * ends;
        loss += 2.0 * shrinks(part);
        let reading = Reading { measured: need, asked: t.asked(opening), loss };
        let mm = |v: f64| length(panel, v);
        t.reading(a, None, [part.centre; 2], reading, |v| match v {
            Verdict::Pass | Verdict::Withheld => String::new(),
            _ => format!(
                "The units are {} together, with gaps of {} between the {count} of them and {} at both ends they need {}; the \
                 opening is {} high: {}",
                mm(sum),
                mm(joint),
                mm(ends),
                mm(need),
                mm(reading.asked),
                if v == Verdict::Fail {
                    format!("{} too little. Enlarge it, or take a unit out.", mm(need - reading.asked))
                } else {
                    format!("the tolerances can take {} of {}. Measure the trays.", mm(loss), mm(reading.asked - need))
                }
            ),
        });
        return;
    }
    t.withhold(a, part.centre, format!("{} (stack {})", unknown.join(", "), s.id));
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Detail, StackFrame, StackUnit, SubjectKind, TermKind};
    use std::sync::Arc;

    /// A stack with units of these heights (`None`: not given).
    pub(in super::super) fn stack(frame: StackFrame, heights: &[Option<f64>]) -> (Scene, usize) {
        let mut s = Scene::new();
        let k = s.placement("radios", |f| f.frame = Some(frame));
        s.part(k, "cutout", Class::Cutout, rect(200.0, 100.0, 160.0, 150.0), CUTOUT);
        let first = s.panel.subjects.len() as u32;
        for (n, height) in heights.iter().enumerate() {
            let u = s.subject(&format!("unit-{}", n + 1), SubjectKind::Unit);
            let mut f = facts();
            f.unit = Some(StackUnit {
                height: *height,
                width: Some(158.75),
                set_back: Some(3.0),
                lock_room: Some(10.0),
            });
            s.panel.subjects[u].facts = Some(Arc::new(f));
            s.panel.subjects[u].carrier = Some(k as u32);
            let y = 160.0 - 40.0 * n as f64;
            s.part(u, "bezel", Class::Bezel, rect(200.0, y, 158.75, 33.0), Detail::Plain);
        }
        s.panel.subjects[k].units = first..first + heights.len() as u32;
        (s, k)
    }

    pub(in super::super) fn frame() -> StackFrame {
        StackFrame {
            opening_width: Some(160.0),
            rail_spacing: Some(160.0),
            opening_height: Some(104.0),
            joint: Some(1.0),
            ends: Some(1.0),
            shim: Some(1.5),
            set_back: Some(3.0),
        }
    }

    #[test]
    fn passes_when_the_sum_is_the_opening() {
        let (s, _) = stack(frame(), &[Some(33.0), Some(33.0), Some(34.0)]);
        assert_eq!(s.line(&RULE), "pass stack-height/radios.cutout", "33 + 33 + 34 + 2 + 2 = 104");
        assert!(stack(frame(), &[]).0.lines(&RULE).is_empty());
    }

    #[test]
    fn tight_when_the_cut_can_be_small() {
        let (mut s, k) = stack(frame(), &[Some(33.0), Some(33.0), Some(33.9)]);
        s.tolerance(k, TermKind::Cut, 0.1, 0.1);
        let line = s.line(&RULE);
        assert!(
            line.starts_with("tight stack-height/radios.cutout: The units are 99.9 mm together"),
            "{line}"
        );
        assert!(line.ends_with("the tolerances can take 0.2 mm of 0.1 mm. Measure the trays."), "{line}");
    }

    #[test]
    fn fails_when_too_high() {
        let (s, _) = stack(frame(), &[Some(33.0), Some(68.5)]);
        assert_eq!(
            s.line(&RULE),
            "fail stack-height/radios.cutout: The units are 101.5 mm together, with gaps of 1 mm between the 2 of them and \
             1 mm at both ends they need 104.5 mm; the opening is 104 mm high: 0.5 mm too little. Enlarge it, or take a unit out."
        );
    }

    #[test]
    fn withheld_names_what_is_missing() {
        let mut f = frame();
        f.joint = None;
        let (s, _) = stack(f, &[Some(33.0), None]);
        assert_eq!(
            s.line(&RULE),
            "withheld stack-height/radios.cutout: the height of unit-2, the gap at a joint (stack radios)"
        );
    }
}
