//! Too little metal in a layer, between the openings of the items and the layer's own openings and edge.

use super::apart::{self, How};
use super::own::{Teller, absent, anchor, of_class};
use super::{Finding, From, Limit, Relation, Rule, Source, Standing, Touch, inside};
use crate::geom::contains;
use crate::geom::distance::{self, Relation as Meets};
use crate::panel::{Class, Classes, Panel, Part, PartRef, SubjectKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "layer-web",
    asks: "A doubler, overlay or old structural sheet keeps enough metal round the openings that go through it.",
    why: "What is cut through the main sheet is cut through every layer that lies there, and leaves thin strips along the \
          layer's edge and beside its own openings. Boundary to boundary. An opening that lies wholly in one of the layer's \
          own cuts nothing there; one that contains it takes its place.",
    limit: Limit::AtLeast(6.35),
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual (type-certificate data), section on cutting a new hole: 0.25 in from main hole or screw holes to any other hole or panel edge",
    },
    relation: Relation::Around(measure),
    asked: None,
};

const HOW: How = How { measure: From::Boundary, depth: false, touch: Touch::Fails };

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| s.kind == SubjectKind::Sheet) else { return };
    let Some((k, edge)) = of_class(s, Class::Edge).next() else { return };
    let Some(carrier) = panel.sheets.get(edge.sheet as usize).and_then(|l| l.layer_of) else { return };
    let asked = t.asked(6.35);
    let edge_at = t.part(k);
    // where a layer ends with its carrier, sheet-edge has asked already
    let carriers = panel.sheets.get(carrier).map(|c| &c.outline);
    let ends = carriers.is_none_or(|c| distance::contours(c, &edge.contour).relation != Meets::Coincident);
    let own: Vec<(PartRef, &Part)> = openings(panel, edge.sheet as usize).collect();
    let mut found = Vec::new();
    for (a, part) in openings(panel, carrier) {
        let on_it = distance::contours(&part.contour, &edge.contour).relation.overlaps();
        if !on_it || own.iter().any(|(_, o)| contains(&o.contour, &part.contour)) {
            continue;
        }
        if ends {
            found.extend(inside::measure(part, edge, From::Boundary, f64::INFINITY).map(|m| (a, edge_at, m)));
        }
        for (b, other) in own.iter().filter(|(_, o)| !contains(&part.contour, &o.contour)) {
            found.extend(apart::measure(part, other, HOW, f64::INFINITY).map(|m| (a, *b, m)));
        }
    }
    for (n, item) in panel.subjects.iter().enumerate().filter(|(_, s)| s.sheet as usize == carrier) {
        let missing: Vec<String> = [Class::Cutout, Class::Hole]
            .iter()
            .flat_map(|c| absent(item, *c))
            .map(|(name, what)| format!("{name} of {}: {what}", item.id))
            .collect();
        let Some((k, at)) = anchor(item, &[Class::Cutout, Class::Hole, Class::Bezel]) else { continue };
        let on_it = item
            .parts
            .get(k)
            .is_some_and(|p| distance::contours(&p.contour, &edge.contour).relation.overlaps());
        if on_it && !missing.is_empty() {
            t.withhold(PartRef { subject: n as u32, part: k as u32 }, at, missing.join("; "));
        }
    }
    // the nearest one stands for those that pass
    let least = found.iter().map(|(_, _, m)| m.worst).fold(f64::INFINITY, f64::min);
    let mut told = false;
    for (a, b, m) in found {
        let short = m.contact || m.worst < asked;
        if short || (m.worst <= least && !told) {
            told = true;
            t.pair(a, b, m, asked);
        }
    }
}

/// The openings of one sheet.
fn openings(panel: &Panel, sheet: usize) -> impl Iterator<Item = (PartRef, &Part)> {
    let parts = panel.subjects.iter().enumerate().flat_map(|(k, s)| {
        let named = move |(n, p)| (PartRef { subject: k as u32, part: n as u32 }, p);
        s.parts.iter().enumerate().map(named)
    });
    parts.filter(move |(_, p)| p.sheet as usize == sheet && Classes::OPENINGS.has(p.class))
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::Contour;
    use crate::panel::{Detail, Sheet, SheetRole};

    /// A hole of 20 mm at (60, 60) of the main sheet, and a layer of 100 mm by `tall` about (60, 60).
    fn one(tall: f64, own: Option<Contour>) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("vent", |_| ());
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 20.0), CUTOUT);
        let outline = rect(60.0, 60.0, 100.0, tall);
        let main = s.panel.sheets[0].clone();
        let d = s.subject("doubler", SubjectKind::Sheet);
        s.part(d, "", Class::Edge, outline.clone(), Detail::Plain);
        s.last(d).sheet = 1;
        let layer = Sheet {
            id: "doubler".into(),
            role: SheetRole::Doubler,
            layer_of: Some(0),
            subject: d as u32,
            outline,
            ..main
        };
        s.panel.sheets.push(layer);
        if let Some(own) = own {
            let k = s.subject("slot", SubjectKind::OldOpening);
            s.part(k, "", Class::OldOpening, own, Detail::Plain);
            s.last(k).sheet = 1;
        }
        s
    }

    #[test]
    fn the_edge_of_a_layer_is_asked() {
        let line = |tall| one(tall, None).line(&RULE);
        assert_eq!(line(40.0), "pass layer-web/vent.cutout/doubler");
        assert_eq!(line(32.70), "pass layer-web/vent.cutout/doubler");
        assert_eq!(line(32.68), "fail layer-web/vent.cutout/doubler");
        // the layer ends within the opening: an edge with a notch
        assert!(line(15.0).starts_with("fail layer-web/vent.cutout/doubler"));
    }

    #[test]
    fn the_own_openings_of_a_layer_are_asked() {
        let lines = |own| one(100.0, Some(own)).lines(&RULE);
        // 40 mm to the edge; 4 mm to the slot
        assert_eq!(lines(circle(60.0, 79.0, 10.0)), ["fail layer-web/vent.cutout/slot"]);
        assert_eq!(lines(circle(60.0, 83.0, 10.0)), ["pass layer-web/vent.cutout/slot"]);
        // the layer is open there already, or the opening takes the smaller one in
        assert!(lines(circle(60.0, 60.0, 21.0)).is_empty());
        assert_eq!(lines(circle(60.0, 60.0, 8.0)), ["pass layer-web/vent.cutout/doubler"]);
        // they run into each other
        assert_eq!(one(100.0, Some(circle(60.0, 70.0, 10.0))).verdicts(&RULE), [super::super::Verdict::Fail]);
    }

    #[test]
    fn what_lies_beside_the_layer_is_not_asked() {
        let mut s = one(40.0, None);
        let k = s.placement("far", |_| ());
        s.part(k, "cutout", Class::Cutout, circle(160.0, 60.0, 20.0), CUTOUT);
        assert_eq!(s.lines(&RULE), ["pass layer-web/vent.cutout/doubler"]);
    }
}
