//! The smallest hole or slot that a process cuts cleanly.

use super::own::{Reading, Teller, alike, length, shrinks};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Contour, Point, Segment, Vec2};
use crate::panel::{Class, Classes, Detail, Make, Panel, Part, ProcessKind, State};

/// The rule.
pub static RULE: Rule = Rule {
    id: "least-hole",
    asks: "An opening is at least as wide as the cutting process needs in this thickness.",
    why: "A jet or a beam needs room to pierce: holes narrower than the sheet is thick are tapered, blown or burnt, \
          and some services ask one and a half thicknesses. A router does not get into a slot narrower than its tool. \
          Measured: least width of the outline over all directions. Holes drilled from the part, drilled round holes \
          and work by hand or punch have no such limit.",
    limit: Limit::Thicknesses(1.0),
    source: Source {
        standing: Standing::Quoted,
        title: "Process limits published by cutting services: least hole 1.0 to 1.5 thicknesses; a tool \
                does not get into less than its own width",
    },
    relation: Relation::Own(measure),
    asked: None,
};

/// Thicknesses at which every service that was read is content.
const CONTENT: f64 = 1.5;

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    process_known(&mut t);
    let Some(process) = panel.process_of(s.sheet as usize) else { return };
    if s.state == State::Existing || matches!(process.kind, ProcessKind::Hand | ProcessKind::Punch) {
        return;
    }
    for (k, part) in s.parts.iter().enumerate().filter(|(_, p)| is_cut(p)) {
        if alike(s, k).is_none() {
            continue;
        }
        let thickness = panel.sheets.get(part.sheet as usize).and_then(|s| s.thickness);
        if process.kind == ProcessKind::Router {
            router(&mut t, k, part, process.tool_radius);
        } else {
            jet(
                &mut t,
                k,
                part,
                thickness,
                if process.kind == ProcessKind::Laser { "laser" } else { "waterjet" },
            );
        }
    }
}

/// Asks once, at the main sheet of each rigid group, how the panel is cut: not once a hole.
pub(super) fn process_known(t: &mut Teller<'_>) {
    let process = t.subject().and_then(|s| t.panel.process_of(s.sheet as usize));
    if let Some((edge, at)) = t.cut_sheet().filter(|_| process.is_none()) {
        t.withhold(edge, at, "the process by which the openings are cut".into());
    }
}

/// Whether the process cuts this part: an opening that is not drilled from the part itself.
pub(super) fn is_cut(part: &Part) -> bool {
    let from_part = matches!(
        part.detail,
        Detail::Hole { make: Make::FromPart, .. } | Detail::Cutout { make: Make::FromPart }
    );
    Classes::of(&[Class::Cutout, Class::Hole]).has(part.class) && !from_part
}

fn jet(t: &mut Teller<'_>, k: usize, part: &Part, thickness: Option<f64>, process: &str) {
    let a = t.part(k);
    let Some(thickness) = thickness else {
        t.withhold(a, part.centre, "the thickness of the sheet".into());
        return;
    };
    let width = least_width(&part.contour);
    let times = t.asked(1.0);
    let reading = Reading { measured: width, asked: times * thickness, loss: 2.0 * shrinks(part) };
    let panel = t.panel;
    t.reading(a, None, [part.centre; 2], reading, |v| {
        let measured = length(panel, width);
        let sheet = length(panel, thickness);
        match v {
            Verdict::Fail => format!(
                "The opening is {measured} wide in {sheet} of sheet; {process} asks {}. Mark its centre and drill it \
                 instead.",
                length(panel, reading.asked)
            ),
            _ if width < CONTENT * thickness => {
                format!("The opening is {measured} wide in {sheet} of sheet: some services ask 1.5 thicknesses, ask yours.")
            }
            _ => String::new(),
        }
    });
}

fn router(t: &mut Teller<'_>, k: usize, part: &Part, tool_radius: Option<f64>) {
    let width = least_width(&part.contour);
    let a = t.part(k);
    let Some(radius) = tool_radius else {
        if part.contour.as_circle().is_none() {
            t.withhold(a, part.centre, "the radius of the router's tool".into());
        }
        return;
    };
    if part.contour.as_circle().is_some() && width < 2.0 * radius {
        return;
    }
    let reading = Reading { measured: width, asked: 2.0 * radius, loss: 2.0 * shrinks(part) };
    let panel = t.panel;
    t.reading(a, None, [part.centre; 2], reading, |v| match v {
        Verdict::Fail => format!(
            "The opening is {} wide, the router's tool {}: take a smaller tool or widen the opening.",
            length(panel, width),
            length(panel, 2.0 * radius)
        ),
        _ => String::new(),
    });
}

/// Least width of a contour over all directions (of its hull), exact to rounding.
///
/// The width as a function of direction is least where the hull has a straight side, or along the
/// line from an arc's centre to another arc's centre or to a corner. All those directions are tried;
/// straight sides that are not pieces of the contour exist only where it is not convex.
pub(crate) fn least_width(c: &Contour) -> f64 {
    if let Some((_, r)) = c.as_circle() {
        return 2.0 * r;
    }
    let mut least = f64::INFINITY;
    let mut anchors: Vec<(Point, f64)> = Vec::new();
    let mut convex = true;
    let pieces = c.segments();
    for (s, next) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
        let (from, to) = (s.end_direction(), next.start_direction());
        if from.cross(to).abs() > STRAIGHT || from.dot(to) < 0.0 {
            anchors.push((s.end(), 0.0));
        }
        convex &= from.cross(to) > -STRAIGHT;
        match s {
            Segment::Line(_) => least = least.min(extent(c, Vec2::new(-from.y, from.x))),
            Segment::Arc(a) => {
                anchors.push((a.centre, a.radius));
                convex &= a.sweep > 0.0;
            }
        }
    }
    for (k, (p, r)) in anchors.iter().enumerate() {
        for (q, o) in &anchors[k + 1..] {
            let d = *q - *p;
            let len = crate::geom::length(d);
            if len <= 0.0 || (convex && *r == 0.0 && *o == 0.0) {
                continue;
            }
            let u = d / len;
            least = least.min(extent(c, u));
            let (along, across) = ((r - o) / len, 1.0 - (r - o) * (r - o) / (len * len));
            if !convex && across >= 0.0 {
                // normals of the two straights that touch both circles from outside
                for n in [Vec2::new(-u.y, u.x), Vec2::new(u.y, -u.x)] {
                    least = least.min(extent(c, u * along + n * across.sqrt()));
                }
            }
        }
    }
    least
}

/// Sine of the turn below which two pieces join smoothly.
const STRAIGHT: f64 = 1e-9;

/// Extent of a contour along a unit direction; exact to rounding.
fn extent(c: &Contour, u: Vec2) -> f64 {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut see = |h: f64| {
        low = low.min(h);
        high = high.max(h);
    };
    for s in c.segments() {
        see(s.start().to_vec2().dot(u));
        let Segment::Arc(a) = s else { continue };
        for way in [u, -u] {
            if a.faces(way) {
                see((a.centre.to_vec2() + way * a.radius).dot(u));
            }
        }
    }
    high - low
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::{Arc, Transform};
    use crate::panel::TermKind;

    fn one(kind: ProcessKind, tool: Option<f64>, contour: Contour) -> (Scene, usize) {
        let mut s = Scene::new();
        s.cut_by(kind, tool);
        let k = s.placement("slot", |_| ());
        s.part(k, "slot", Class::Cutout, contour, CUTOUT);
        (s, k)
    }

    fn slot(width: f64) -> Contour {
        Contour::slot(Point::new(50.0, 50.0), Point::new(62.0, 59.0), width / 2.0)
    }

    #[test]
    fn least_width_of_known_shapes() {
        let near = |c: Contour, w: f64| {
            for turn in [0.0, 17.0, 90.0, 213.0] {
                let c = Transform::place(Point::new(3.0, -5.0), turn, false).contour(&c);
                assert!((least_width(&c) - w).abs() < 1e-9, "{} for {w}", least_width(&c));
            }
        };
        near(circle(1.0, 2.0, 5.0), 5.0);
        near(rect(0.0, 0.0, 40.0, 7.0), 7.0);
        near(Contour::rect(Point::ORIGIN, 40.0, 7.0, 2.0), 7.0);
        near(slot(2.5), 2.5);
        // a D hole of 12 mm with its flat 4.5 mm from the centre, and one with two flats
        near(Contour::d_hole(Point::ORIGIN, 6.0, 4.5, false), 10.5);
        near(Contour::d_hole(Point::ORIGIN, 6.0, 4.5, true), 9.0);
        // an equilateral triangle of side 2: its height
        let triangle = [Point::new(0.0, 0.0), Point::new(2.0, 0.0), Point::new(1.0, 3f64.sqrt())];
        near(Contour::polygon(&triangle), 3f64.sqrt());
        // an L of 10 x 10 with legs of 2: across its hull's slanting side, (2 + 10) / sqrt 2
        let l = [(0.0, 0.0), (10.0, 0.0), (10.0, 2.0), (2.0, 2.0), (2.0, 10.0), (0.0, 10.0)];
        near(Contour::polygon(&l.map(|(x, y)| Point::new(x, y))), 12.0 / 2f64.sqrt());
        // a lens of two arcs of radius 5 about centres 8 apart: 2 * 5 - 8
        let (low, high) = (Point::new(4.0, -3.0), Point::new(4.0, 3.0));
        let lens = [
            Segment::Arc(Arc::between(low, high, Point::new(0.0, 0.0), true)),
            Segment::Arc(Arc::between(high, low, Point::new(8.0, 0.0), true)),
        ];
        near(Contour::from_checked(lens.to_vec()), 2.0);
    }

    #[test]
    fn passes_and_tells_of_stricter_services() {
        assert_eq!(one(ProcessKind::Waterjet, None, slot(3.0)).0.line(&RULE), "pass least-hole/slot.slot");
        assert_eq!(
            one(ProcessKind::Laser, None, slot(2.0)).0.line(&RULE),
            "pass least-hole/slot.slot: The opening is 2 mm wide in 2 mm of sheet: some services ask 1.5 thicknesses, \
             ask yours."
        );
        assert!(one(ProcessKind::Hand, None, slot(1.0)).0.lines(&RULE).is_empty());
    }

    #[test]
    fn tight_at_the_worst_cut() {
        let (mut s, k) = one(ProcessKind::Waterjet, None, slot(2.1));
        s.tolerance(k, TermKind::Cut, 0.1, 0.1);
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn fails_below_one_thickness_and_below_the_tool() {
        assert_eq!(
            one(ProcessKind::Waterjet, None, slot(1.5)).0.line(&RULE),
            "fail least-hole/slot.slot: The opening is 1.5 mm wide in 2 mm of sheet; waterjet asks 2 mm. Mark its \
             centre and drill it instead."
        );
        assert_eq!(
            one(ProcessKind::Router, Some(1.5), slot(2.5)).0.line(&RULE),
            "fail least-hole/slot.slot: The opening is 2.5 mm wide, the router's tool 3 mm: take a smaller tool or widen \
             the opening."
        );
        let drilled = one(ProcessKind::Router, Some(1.5), circle(50.0, 50.0, 2.5)).0;
        assert!(drilled.lines(&RULE).is_empty(), "a round hole below the tool is drilled");
    }

    #[test]
    fn withheld_without_process_thickness_or_tool() {
        let (mut s, _) = one(ProcessKind::Waterjet, None, slot(3.0));
        s.panel.sheets[0].thickness = None;
        assert_eq!(s.line(&RULE), "withheld least-hole/slot.slot: the thickness of the sheet");
        s.panel.process = None;
        assert_eq!(s.line(&RULE), "withheld least-hole/sheet: the process by which the openings are cut");
        assert_eq!(
            one(ProcessKind::Router, None, slot(3.0)).0.line(&RULE),
            "withheld least-hole/slot.slot: the radius of the router's tool"
        );
    }
}
