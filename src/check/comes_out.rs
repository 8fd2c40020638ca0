//! Every instrument can be drawn out again, and what must come off first.

use super::own::{Teller, of_class};
use super::removal::{self, Way};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::Point;
use crate::panel::{Class, Panel, PartRef};

/// The rule.
pub static RULE: Rule = Rule {
    id: "comes-out",
    asks: "Each instrument can be drawn straight out through the side from which it is served.",
    why: "What cannot come out cannot be mended. An item's bodies move straight through their own length: towards the \
          pilot, or forward until they are free of the sheet. In their way may be other items, which come off first (the \
          shortest order is told), what is fixed in the airframe, and controls, which may stand in any pose between \
          their stops that a mechanic can choose. A body that hangs by its front flange is taken from where it is drawn down \
          to where its rear droops (3.93 mm for 1 degree over 225 mm), all along. Plugs are taken off before. That the case passes its own cutout is asked \
          by body-passes. 1 mm of room is common practice.",
    limit: Limit::AtLeast(1.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

/// Asked once for the whole panel: who is in whose way decides the order.
fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let t = Teller::new(panel, subject, rule, out);
    if t.main_sheet().is_none() {
        return;
    }
    let asked = t.asked(1.0);
    for (item, way) in removal::ways(panel, asked) {
        one(panel, item, way, rule, out);
    }
}

fn one(panel: &Panel, item: usize, way: Way, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, item, rule, out);
    let Some(s) = t.subject() else { return };
    let moving = [Class::Body, Class::Case, Class::Bezel].iter().find_map(|c| of_class(s, *c).next());
    let Some((k, at)) = moving.map(|(k, p)| (k, p.centre)) else { return };
    let a = t.part(k);
    let names = |items: &[usize]| -> String {
        items
            .iter()
            .filter_map(|i| panel.subjects.get(*i))
            .map(|s| s.id.as_str())
            .collect::<Vec<_>>()
            .join(", ")
    };
    match way {
        Way::Free { side, first, pose } => {
            let mut words = Vec::new();
            if !first.is_empty() {
                words.push(format!("comes out {} after {}, in this order", side.word(), names(&first)));
            }
            if let Some(pose) = pose {
                words.push(format!("with {pose}"));
            }
            t.plain(a, None, [at; 2], Verdict::Pass, words.join("; "));
        }
        Way::Withheld(waits) => t.withhold(a, at, waits),
        Way::Blocked { side, by, words } => {
            let other: Option<(PartRef, Point)> = by.map(|b| (b, panel.part(b).centre));
            t.fail(
                a,
                other.map(|(b, _)| b),
                [at, other.map_or(at, |(_, p)| p)],
                format!("cannot come out {}: {words}", side.word()),
            );
        }
        Way::Locked { side, with } => t.fail(
            a,
            None,
            [at; 2],
            format!("cannot come out {}: it and {} hold each other in", side.word(), names(&with)),
        ),
    }
}
