//! Every control and lamp has a label.

use super::own::{Teller, anchor};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::distance::box_distance2;
use crate::geom::{Rect, SLACK};
use crate::panel::{Class, Control, Detail, Panel, Part, PartRef, Subject};
use std::collections::BTreeMap;

/// The rule.
pub static RULE: Rule = Rule {
    id: "labelled",
    asks: "Every control, lamp and breaker is named by a label.",
    why: "An unmarked lamp or control fails inspection, and a stranger cannot use it. A label names what its `of` says. \
          What is kept free for later needs none. A label nearer to another control of the same kind than to its own, or \
          more than 60 mm from its own with another control nearer, names the wrong one for every reader (common practice, \
          no source; upright box to upright box). The paragraph is from memory: older part 23, as to its function and \
          method of operation.",
    limit: Limit::Plain,
    source: Source { standing: Standing::Memory, title: "14 CFR 23.1555(a), before Amdt 23-64" },
    relation: Relation::Around(measure),
    asked: None,
};

/// Answers for the whole panel when it is asked about the main sheet: who is named is gathered once.
fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some((sheet, _)) = t.main_sheet() else { return };
    let mut named: BTreeMap<&str, Vec<(PartRef, Rect)>> = BTreeMap::new();
    for (n, s) in panel.subjects.iter().enumerate() {
        for (k, part) in s.parts.iter().enumerate() {
            match &part.detail {
                Detail::Label { of: Some(of), text, .. } if !text.trim().is_empty() => {
                    let r = PartRef { subject: n as u32, part: k as u32 };
                    named.entry(of).or_default().push((r, part.contour.bounds()));
                }
                _ => {}
            }
        }
    }
    let seen: Vec<Seen> = panel.subjects.iter().filter_map(Seen::of).collect();
    for (n, s) in panel.subjects.iter().enumerate() {
        let Some(facts) = &s.facts else { continue };
        if s.provision || (facts.control.is_none() && !facts.needs_label) {
            continue;
        }
        // a control of which no part is known has its place all the same
        let (a, at) = match anchor(s, &[Class::Front, Class::Bezel, Class::Cutout, Class::Hole]) {
            Some((k, at)) => (PartRef { subject: n as u32, part: k as u32 }, at),
            None => (sheet, s.at),
        };
        if let Some(labels) = named.get(s.id.as_str()) {
            let own = Seen::of(s);
            let astray = own.and_then(|own| {
                let mut all = labels.iter();
                all.find_map(|(label, bounds)| Some((*label, bounds.center(), own.rival(bounds, &seen)?)))
            });
            match astray {
                Some((label, there, rival)) => {
                    let name = &panel.subject(label).id;
                    let words = format!("The label {name} is of {}, but stands nearer to {rival}.", s.id);
                    t.fail(a, Some(label), [at, there], words);
                }
                None => t.plain(a, None, [at; 2], Verdict::Pass, String::new()),
            }
        } else {
            let words = format!("Nothing names {}: add a label with \"of\": \"{}\".", s.id, s.id);
            t.plain(a, None, [at; 2], Verdict::Fail, words);
        }
    }
}

/// A label farther than this from its control is far, mm.
const FAR: f64 = 60.0;

/// A control as it is seen: who, of what kind, and the box around what shows of it.
#[derive(Clone, Copy)]
struct Seen<'a> {
    id: &'a str,
    control: Control,
    bounds: Rect,
}

impl<'a> Seen<'a> {
    fn of(s: &'a Subject) -> Option<Seen<'a>> {
        let control = s.facts.as_ref()?.control.filter(|_| !s.provision)?;
        let shows = |p: &&Part| matches!(p.class, Class::Front | Class::Bezel | Class::Cutout | Class::Hole);
        let boxes = s.parts.iter().filter(shows).map(|p| p.contour.bounds());
        Some(Seen { id: &s.id, control, bounds: boxes.reduce(|all, b| all.union(b))? })
    }

    /// Another control that a label of this one stands nearer to, so that it seems to name that one.
    fn rival(&self, label: &Rect, seen: &[Seen<'a>]) -> Option<&'a str> {
        let to = |b: &Rect| box_distance2(label, b).sqrt();
        let own = to(&self.bounds);
        let nearer = seen.iter().filter(|o| o.id != self.id && to(&o.bounds) < own - SLACK);
        nearer.into_iter().find(|o| o.control == self.control || own > FAR).map(|o| o.id)
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::SubjectKind;

    fn scene(label_of: Option<&str>) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("boost", |f| f.control = Some(Control::Toggle));
        s.part(k, "bush", Class::Hole, circle(40.0, 40.0, 12.2), shaft(12.2));
        let l = s.subject("boost-label", SubjectKind::Label);
        let detail = Detail::Label {
            text: "BOOST".into(),
            height: 3.5,
            process: None,
            of: label_of.map(String::from),
        };
        s.part(l, "", Class::Label, rect(40.0, 55.0, 14.0, 3.5), detail);
        s
    }

    #[test]
    fn passes_with_its_label_and_fails_without() {
        assert_eq!(scene(Some("boost")).line(&RULE), "pass labelled/boost.bush");
        assert_eq!(
            scene(Some("pitot")).line(&RULE),
            "fail labelled/boost.bush: Nothing names boost: add a label with \"of\": \"boost\"."
        );
        assert_eq!(scene(None).verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn a_control_whose_parts_are_not_known_is_asked_for_too() {
        let mut s = scene(Some("boost"));
        s.placement("pitot", |f| f.control = Some(Control::Toggle));
        let lines = s.lines(&RULE);
        assert_eq!(lines[0], "fail labelled/sheet: Nothing names pitot: add a label with \"of\": \"pitot\".");
        assert_eq!(lines[1], "pass labelled/boost.bush");
    }

    #[test]
    fn gauges_and_provisions_need_none() {
        let mut s = scene(None);
        s.panel.subjects[1].provision = true;
        let k = s.placement("asi", |_| ());
        s.part(k, "cutout", Class::Cutout, circle(120.0, 60.0, 79.4), CUTOUT);
        assert!(s.lines(&RULE).is_empty());
    }
}
