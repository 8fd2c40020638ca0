//! Items keep clear of what is fixed in the airframe.

use super::depth_behind::{missing_depth, sum_of};
use super::judge::{self, Stack};
use super::own::{Judged, Teller, length};
use super::space::{self, Known, Space};
use super::{Finding, Interval, Limit, REACH, Relation, Rule, Source, Standing, Verdict};
use crate::geom::SLACK;
use crate::panel::{Class, Classes, PartRef, SubjectKind};
use crate::solid::{self, Clearance, Lie};

/// The rule.
pub static RULE: Rule = Rule {
    id: "obstacle-clear",
    asks: "Bodies, plugs and what stands in front keep clear of everything that is fixed in the airframe.",
    why: "The commonest re-cut is a finished panel whose box meets a rib, with its plugs on. Measured in space between true \
          shapes: ribs, tubes, tanks, ducts, glareshield, knees. Bodies and plugs reach as deep as their terms add up; one \
          whose depth is not known is taken to reach without end, and what is then not clear is withheld. 6 mm to fixed \
          parts is common practice.",
    limit: Limit::AtLeast(6.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Room(measure),
    asked: None,
};

/// What of an item can meet the airframe.
pub(super) const STANDS: Classes = Classes::of(&[
    Class::Body,
    Class::Port,
    Class::Flange,
    Class::Nut,
    Class::Bezel,
    Class::Front,
    Class::Head,
]);

/// Whether a subject is an item whose parts are asked about.
pub(super) fn is_item(kind: SubjectKind) -> bool {
    matches!(kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert)
}

/// A near pair.
struct Pair {
    a: PartRef,
    b: PartRef,
    gap: Clearance,
    loss: f64,
    known: Known,
    /// Numbers of the sway that are missing.
    waits: Vec<String>,
}

fn measure(room: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = room.panel;
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| is_item(s.kind) && !room.fixed.is_empty()) else { return };
    let asked = t.asked(6.0);
    let mut nearest: Option<Pair> = None;
    for (k, part) in s.parts.iter().enumerate().filter(|(_, p)| STANDS.has(p.class)) {
        // what is fixed is of one group
        let Some(play) = room.fixed.first().map(|f| panel.play(t.part(k), f.part)) else { break };
        let around = space::around_moving(part, &play);
        let mut made = None;
        for fixed in &room.fixed {
            let other = panel.part(fixed.part);
            let loss = judge::loss(part, other, Stack::Boundaries);
            let reach = (asked + loss).max(asked + REACH);
            if around.distance(&fixed.solid.bounds()) > reach {
                continue;
            }
            if made.is_none() {
                made = Some(space::moving(part, &play));
            }
            let Some(Some((own, known))) = &made else { break };
            let Some(gap) = solid::within(own, fixed.solid, reach) else { continue };
            let pair =
                Pair { a: t.part(k), b: fixed.part, gap, loss, known: *known, waits: play.waits.clone() };
            let worst = gap.lower - loss;
            if worst < asked - SLACK || gap.relation != Lie::Apart || !pair.waits.is_empty() {
                tell(&mut t, &pair, asked);
            } else if nearest.as_ref().is_none_or(|n| worst < n.gap.lower - n.loss) {
                nearest = Some(pair);
            }
        }
    }
    if let Some(pair) = nearest {
        tell(&mut t, &pair, asked);
    }
}

fn tell(t: &mut Teller<'_>, pair: &Pair, asked: f64) {
    say(t, pair, asked);
    // where something is taken to reach without end no point of it is known
    if pair.known == Known::Range {
        t.in_space(pair.gap.points, None);
    }
}

fn say(t: &mut Teller<'_>, pair: &Pair, asked: f64) {
    let panel = t.panel;
    let Pair { a, b, gap, loss, known, waits } = pair;
    let (part, s) = (panel.part(*a), panel.subject(*a));
    let at = gap.points.map(space::flat);
    let other = panel.part_name(*b);
    if *known == Known::Side {
        if gap.lower - loss >= asked - SLACK {
            return;
        }
        let waits = format!("{}: {other} stands in its way somewhere", missing_depth(s, part));
        t.plain(*a, Some(*b), at, Verdict::Withheld, waits);
        return;
    }
    if !waits.is_empty() && gap.lower - loss >= asked - SLACK && gap.relation == Lie::Apart {
        let least = length(panel, gap.lower);
        let waits = format!("{}; at rest {other} is {least} away", waits.join("; "));
        t.plain(*a, Some(*b), at, Verdict::Withheld, waits);
        return;
    }
    let off = gap.points[1] - gap.points[0];
    let sum = sum_of(panel, part);
    let deep = part.depth.map_or(0.0, |(_, to)| to);
    let words = |v: Verdict| {
        if matches!(v, Verdict::Pass | Verdict::Withheld) {
            return String::new();
        }
        let reach = if deep > 0.0 {
            format!("reaches {} deep{sum}", length(panel, deep))
        } else {
            "stands in front".into()
        };
        let (how, cure) = match gap.relation {
            Lie::Apart => {
                let short = asked - gap.lower + if v == Verdict::Tight { *loss } else { 0.0 };
                let cure = space::cure(panel, off, short).unwrap_or_else(|| {
                    format!("it wants {} less depth: a side-exit plug, a shorter unit", length(panel, short))
                });
                (
                    format!(
                        "{} of room to {other} {}",
                        length(panel, gap.lower.max(0.0)),
                        space::towards(off)
                    ),
                    cure,
                )
            }
            Lie::Touching => (format!("it touches {other}"), "move one of them".to_string()),
            Lie::Overlap => {
                let deep = gap
                    .depth
                    .map_or(String::new(), |d| format!(" by {} at the least way out", length(panel, d)));
                (
                    format!("it runs into {other}{deep}"),
                    "move it, or take a shorter unit or a side-exit plug".to_string(),
                )
            }
        };
        format!("{} {reach}: {how}. {}.", panel.part_name(*a), sentence(&cure))
    };
    if gap.relation != Lie::Apart {
        // contact fails whatever the limit
        let measured = Some(Interval { lower: gap.lower.min(0.0), upper: gap.upper.max(gap.lower) });
        t.fail(*a, Some(*b), at, words(Verdict::Fail));
        t.measured(measured, asked, *loss);
        return;
    }
    let judged = Judged { measured: Interval { lower: gap.lower, upper: gap.upper }, asked, loss: *loss, at };
    t.interval(*a, Some(*b), judged, words);
}

/// The first letter made a capital.
pub(super) fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Detail, TermKind};
    use crate::solid::{Pose, Shape, Solid, Vec3};

    /// A case of 80 mm, 150 deep about (60, 60), and a plug behind it; a rib beside, its left face at `x`.
    fn rib(x: f64, depth: Option<f64>) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("alt", |_| ());
        s.part(k, "body", Class::Body, circle(60.0, 60.0, 80.0), Detail::Plain);
        s.last(k).depth = depth.map(|d| (0.0, d));
        let half = Vec3::new(2.0, 50.0, 100.0);
        let solid = Solid::new(Shape::Box(half), Pose::shift(Vec3::new(x + 2.0, 60.0, 160.0))).unwrap();
        s.obstacle("rib", "rib", solid);
        s
    }

    #[test]
    fn a_rib_beside_a_case() {
        // the case ends at x = 100
        assert_eq!(rib(106.0, Some(150.0)).line(&RULE), "pass obstacle-clear/alt.body/rib");
        assert_eq!(
            rib(104.0, Some(150.0)).line(&RULE),
            "fail obstacle-clear/alt.body/rib: alt.body reaches 150 mm deep: 4 mm of room to rib to the right. Move it 2 mm left."
        );
        assert!(rib(150.0, Some(150.0)).lines(&RULE).is_empty(), "far away nothing is said");
        // the rib begins 60 mm deep: a short case stays before it
        assert_eq!(rib(90.0, Some(54.0)).line(&RULE), "pass obstacle-clear/alt.body/rib");
        let line = rib(90.0, Some(56.0)).line(&RULE);
        assert!(line.contains("4 mm of room to rib behind. It wants 2 mm less depth"), "{line}");
        let line = rib(97.0, Some(150.0)).line(&RULE);
        assert!(line.contains("it runs into rib by 3 mm at the least way out"), "{line}");
        let (mut s, t) = (rib(106.5, Some(150.0)), TermKind::Size);
        s.panel.subjects[1].parts[0].terms.push(crate::panel::Term {
            kind: t,
            key: 0,
            grow: 1.0,
            shrink: 1.0,
            shift: 0.0,
        });
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn a_depth_that_is_not_known_withholds_what_it_may_meet() {
        assert_eq!(
            rib(104.0, None).line(&RULE),
            "withheld obstacle-clear/alt.body/rib: the depth of body: rib stands in its way somewhere"
        );
        assert!(rib(110.0, None).lines(&RULE).is_empty());
    }

    #[test]
    fn the_terms_of_a_plug_add_up_openly() {
        let mut s = Scene::new();
        let k = s.placement("gps", |_| ());
        let terms = vec![("connector".into(), Some(30.0)), ("bend".into(), Some(20.0))];
        s.part(k, "plug", Class::Port, circle(60.0, 60.0, 20.0), Detail::Port { carries: None, terms });
        s.last(k).depth = Some((100.0, 150.0));
        let firewall =
            Solid::new(Shape::Box(Vec3::new(200.0, 100.0, 5.0)), Pose::shift(Vec3::new(200.0, 100.0, 158.0)));
        s.obstacle("firewall", "firewall", firewall.unwrap());
        assert_eq!(
            s.line(&RULE),
            "fail obstacle-clear/gps.plug/firewall: gps.plug reaches 150 mm deep (behind the body: connector 30 mm + bend 20 \
             mm): 3 mm of room to firewall behind. It wants 3 mm less depth: a side-exit plug, a shorter unit."
        );
    }
}
