//! Inside corners of openings are round, and no smaller than the tool.

use super::least_hole::{is_cut, process_known};
use super::own::{Reading, Teller, length};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Contour, Point, Segment};
use crate::panel::{Class, Panel, ProcessKind, State};

/// The rule.
pub static RULE: Rule = Rule {
    id: "corner-radius",
    asks: "Inside corners of a cut outline are radiused, for a router at least by the radius of its tool.",
    why: "Cracks start in sharp inside corners, and a rotating tool cannot cut one: what it leaves keeps the case \
          out. Measured: least radius of the inside corners (0 where sharp) of cutouts and of a new sheet's outline; \
          with a router of shaped holes too. Round holes have no corners; a turn below 10 degrees is none.",
    limit: Limit::Worked,
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual B, section on the panel: corners of a stack cutout must be \
                radiused; a tool leaves its own radius",
    },
    relation: Relation::Own(measure),
    asked: None,
};

/// Cosine of the turn below which two pieces count as smooth (10 degrees): a tool of 3 mm radius
/// leaves 0.01 mm there, and outlines that were drawn by chords turn by less.
const SMOOTH: f64 = 0.984_807_753_012_208;

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let process = panel.process_of(s.sheet as usize);
    process_known(&mut t);
    let no_tool = process.is_some_and(|p| p.kind == ProcessKind::Router && p.tool_radius.is_none());
    if let Some((edge, at)) = t.cut_sheet().filter(|_| no_tool) {
        t.withhold(edge, at, "the radius of the router's tool".into());
    }
    let tool = process.filter(|p| p.kind == ProcessKind::Router).and_then(|p| p.tool_radius);
    for (k, part) in s.parts.iter().enumerate() {
        let cut = match part.class {
            Class::Edge => panel.sheets.get(part.sheet as usize).is_some_and(|s| s.new),
            Class::Cutout => s.state == State::New && is_cut(part),
            Class::Hole => s.state == State::New && is_cut(part) && tool.is_some(),
            _ => false,
        };
        if !cut || part.contour.as_circle().is_some() {
            continue;
        }
        let Some((radius, at)) = least_corner(&part.contour, part.class != Class::Edge) else { continue };
        let a = t.part(k);
        match tool {
            Some(tool) => {
                let reading = Reading { measured: radius, asked: t.asked(tool), loss: 0.0 };
                t.reading(a, None, [at; 2], reading, |v| match v {
                    Verdict::Fail if radius == 0.0 => format!(
                        "A sharp inside corner: the router leaves {} there. Round the corner by that much, or drill it \
                         out beyond the corner.",
                        length(panel, tool)
                    ),
                    Verdict::Fail => format!(
                        "An inside corner of {} radius is smaller than asked for the router's tool, {}: enlarge it or \
                         take a smaller tool.",
                        length(panel, radius),
                        length(panel, reading.asked)
                    ),
                    _ => String::new(),
                });
            }
            None if radius == 0.0 => {
                let words =
                    "A sharp inside corner: cracks start there. Round it, or drill the corners first \
                             (one published example drills 3/16 in)."
                        .into();
                t.fail(a, None, [at; 2], words);
            }
            None => {
                let reading = Reading { measured: radius, asked: t.asked(0.0), loss: 0.0 };
                t.reading(a, None, [at; 2], reading, |v| match v {
                    Verdict::Fail => format!(
                        "An inside corner has {} of radius, asked {}: enlarge it.",
                        length(panel, radius),
                        length(panel, reading.asked)
                    ),
                    _ => String::new(),
                });
            }
        }
    }
}

/// Least radius of the inside corners and where it is: of an opening those that bulge outwards, of a
/// sheet's outline those that bite into the metal. `None` if there are none.
pub(crate) fn least_corner(c: &Contour, opening: bool) -> Option<(f64, Point)> {
    let side = if opening { 1.0 } else { -1.0 };
    let mut least: Option<(f64, Point)> = None;
    let mut see = |r: f64, at: Point| {
        if least.is_none_or(|(l, _)| r < l) {
            least = Some((r, at));
        }
    };
    let pieces = c.segments();
    for (s, next) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
        let (from, to) = (s.end_direction(), next.start_direction());
        if from.dot(to) < SMOOTH && side * from.cross(to) >= 0.0 {
            see(0.0, s.end());
        }
        match s {
            Segment::Arc(a) if side * a.sweep > 0.0 => see(a.radius, a.at(0.5)),
            _ => {}
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::{Corner, Transform};

    fn one(process: Option<(ProcessKind, Option<f64>)>, contour: Contour) -> Scene {
        let mut s = Scene::new();
        if let Some((kind, tool)) = process {
            s.cut_by(kind, tool);
        }
        let k = s.placement("stack", |_| ());
        s.part(k, "cutout", Class::Cutout, contour, CUTOUT);
        s
    }

    fn rounded(r: f64) -> Contour {
        Contour::rect(Point::new(100.0, 100.0), 160.0, 60.0, r)
    }

    #[test]
    fn least_corner_of_known_shapes() {
        let r = |c: &Contour, opening| least_corner(c, opening).map(|(r, _)| r);
        assert_eq!(r(&rounded(3.0), true), Some(3.0));
        assert_eq!(r(&rounded(3.0), false), None, "outside corners of a sheet are free");
        assert_eq!(r(&rounded(0.0), true), Some(0.0));
        let corners = [Corner::Round(4.0), Corner::Round(2.5), Corner::Round(6.0), Corner::Clip(8.0, 8.0)];
        let clipped = Contour::rect_corners(Point::ORIGIN, 80.0, 80.0, corners);
        for turn in [0.0, 33.0, 90.0, 180.0] {
            let c = Transform::place(Point::new(1.0, 2.0), turn, turn == 33.0).contour(&clipped);
            assert_eq!(r(&c, true), Some(0.0), "a clip has two sharp corners");
        }
        // a polygon of 48 sides turns by 7.5 degrees at each corner
        let many: Vec<Point> = (0..48)
            .map(|k| {
                (crate::geom::angle::unit(f64::from(k) * std::f64::consts::TAU / 48.0) * 30.0).to_point()
            })
            .collect();
        assert_eq!(r(&Contour::polygon(&many), true), None);
    }

    #[test]
    fn passes_a_radius_of_the_tool() {
        let s = one(Some((ProcessKind::Router, Some(1.5))), rounded(1.5));
        assert_eq!(s.line(&RULE), "pass corner-radius/stack.cutout", "equal is pass");
        let s = one(Some((ProcessKind::Waterjet, None)), rounded(1.0));
        assert_eq!(s.line(&RULE), "pass corner-radius/stack.cutout");
    }

    #[test]
    fn fails_below_the_tool_and_where_sharp() {
        let s = one(Some((ProcessKind::Router, Some(1.5))), rounded(1.0));
        assert_eq!(
            s.line(&RULE),
            "fail corner-radius/stack.cutout: An inside corner of 1 mm radius is smaller than asked for the router's \
             tool, 1.5 mm: enlarge it or take a smaller tool."
        );
        let s = one(Some((ProcessKind::Router, Some(1.5))), rounded(0.0));
        assert_eq!(
            s.line(&RULE),
            "fail corner-radius/stack.cutout: A sharp inside corner: the router leaves 1.5 mm there. Round the corner by \
             that much, or drill it out beyond the corner."
        );
        let s = one(Some((ProcessKind::Hand, None)), rounded(0.0));
        assert!(
            s.line(&RULE)
                .starts_with("fail corner-radius/stack.cutout: A sharp inside corner: cracks start there.")
        );
    }

    #[test]
    fn withheld_without_process_or_tool() {
        assert_eq!(
            one(None, rounded(3.0)).lines(&RULE)[0],
            "withheld corner-radius/sheet: the process by which the openings are cut"
        );
        assert_eq!(
            one(Some((ProcessKind::Router, None)), rounded(3.0)).lines(&RULE)[0],
            "withheld corner-radius/sheet: the radius of the router's tool"
        );
    }

    #[test]
    fn a_new_sheets_own_notch_counts() {
        let mut s = Scene::new();
        s.cut_by(ProcessKind::Waterjet, None);
        let notched = [
            (0.0, 0.0),
            (400.0, 0.0),
            (400.0, 200.0),
            (220.0, 200.0),
            (220.0, 150.0),
            (180.0, 150.0),
            (180.0, 200.0),
            (0.0, 200.0),
        ];
        s.panel.subjects[0].parts[0].contour = Contour::polygon(&notched.map(|(x, y)| Point::new(x, y)));
        assert_eq!(s.verdicts(&RULE), [Verdict::Fail]);
        s.panel.sheets[0].new = false;
        assert!(s.verdicts(&RULE).is_empty());
    }
}
