//! A hole suits its fastener.

use super::own::{Reading, Teller, alike, count, length, of_class, withhold_absent};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::calc::clearance::{self, Clearance};
use crate::geom::SLACK;
use crate::panel::{Class, Detail, Make, Panel, Part, ProcessKind, TermKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "fastener-hole",
    asks: "A fastener's hole lies in its standard's range from the close to the loose fit.",
    why: "A hole below the close fit binds as soon as two holes are a little off; one above the loose fit lets the \
          head pull in and the part walk. Measured: how far the diameter lies inside the range as drawn (below zero: \
          outside); at the worst cut the screw must still go through, and the hole be no larger than the range. A hole by \
          hand or from the part is drilled: no smaller than drawn, at most 0.2 mm larger.",
    limit: Limit::Worked,
    source: Source {
        standing: Standing::Published,
        title: "ASME B18.2.8-1999 (R2017), Table 1a, in Machinery's Handbook, 31st ed., p. 1741; ISO 273, public tables",
    },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    for (k, part) in of_class(s, Class::Hole) {
        let Detail::Hole { diameter, fastening, free: false, make } = &part.detail else { continue };
        let Some(n) = alike(s, k) else { continue };
        let a = t.part(k);
        let Some(fastening) = fastening else {
            t.withhold(
                a,
                part.centre,
                format!("the name of the fastener that goes through this hole{}", count(n)),
            );
            continue;
        };
        let name = &fastening.name;
        let Some(holes) = fastening.diameter.and_then(clearance::of_screw) else {
            let waits =
                format!("a clearance hole for the fastener {name}{}: no table here knows it", count(n));
            t.withhold(a, part.centre, waits);
            continue;
        };
        let Some(hole) = diameter.or_else(|| part.contour.as_circle().map(|(_, r)| 2.0 * r)) else {
            t.withhold(a, part.centre, format!("the diameter of this hole for {name}"));
            continue;
        };
        judge_hole(&mut t, (k, part), &format!("{name}{}", count(n)), hole, &holes, *make);
    }
    withhold_absent(&mut t, s, &[Class::Hole]);
}

/// How much larger a drilled hole comes out, mm of diameter: common practice, no source. A drill cuts
/// no hole smaller than itself.
const DRILLED: f64 = 0.2;

/// How much larger and smaller the diameter may come out. A round hole by hand or from the part is
/// drilled, whatever the saw or the punch leaves on the cutouts.
fn off(panel: &Panel, part: &Part, make: Make) -> (f64, f64) {
    let machine = panel
        .process_of(part.sheet as usize)
        .is_some_and(|p| matches!(p.kind, ProcessKind::Router | ProcessKind::Waterjet | ProcessKind::Laser));
    let drilled = !machine || make == Make::FromPart;
    part.terms.iter().fold((0.0, 0.0), |(larger, smaller), t| match t.kind {
        TermKind::Cut if drilled => (larger + DRILLED.min(2.0 * t.grow), smaller),
        _ => (larger + 2.0 * t.grow, smaller + 2.0 * t.shrink),
    })
}

fn judge_hole(
    t: &mut Teller<'_>,
    (k, part): (usize, &Part),
    name: &str,
    hole: f64,
    holes: &Clearance,
    make: Make,
) {
    let measured = (hole - holes.close).min(holes.largest - hole);
    // the class of fit is asked as drawn; at the worst cut the screw must go through and its head hold
    let (larger, smaller) = off(t.panel, part, make);
    let (through, held) = (hole - smaller - holes.screw, holes.largest - hole - larger);
    let worst = through.min(held);
    let loss = (measured - worst).max(0.0);
    let (a, at) = (t.part(k), [part.centre; 2]);
    let panel = t.panel;
    let mm = |v: f64| length(panel, v);
    let reading = Reading { measured, asked: t.asked(0.0), loss };
    t.reading(a, None, at, reading, |v| {
        if v == Verdict::Pass {
            return String::new();
        }
        let range = format!(
            "{} asks {} to {}, normal {}",
            holes.standard,
            mm(holes.close),
            mm(holes.largest),
            mm(holes.normal)
        );
        if hole <= holes.screw + SLACK {
            let (hole, screw) = (mm(hole), mm(holes.screw));
            return format!("The hole is {hole}, {name} itself {screw}: it does not go through. {range}.");
        }
        let from_part = match make {
            Make::FromPart => " Drill from the part, with the drill for the normal fit.",
            Make::Drawing => "",
        };
        let outside = match v {
            Verdict::Tight if through < held => {
                format!(" At the worst cut it can be {}.", mm(hole - smaller))
            }
            Verdict::Tight => format!(" At the worst cut it can be {}.", mm(hole + larger)),
            _ => String::new(),
        };
        format!("The hole for {name} is {}: {range}.{from_part}{outside}", mm(hole))
    });
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Fastening, State, TermKind};

    fn one(diameter: f64, fastening: Option<Fastening>) -> (Scene, usize) {
        let mut s = Scene::new();
        let k = s.placement("asi", |_| ());
        s.part(k, "screw-1", Class::Hole, circle(40.0, 40.0, diameter), hole(diameter, fastening));
        (s, k)
    }

    fn no6() -> Option<Fastening> {
        Some(screw("#6-32", Some(0.138 * 25.4)))
    }

    #[test]
    fn passes_in_the_range() {
        // the hole of the published round-case adapter, 0.170 in for #6
        assert_eq!(one(0.170 * 25.4, no6()).0.line(&RULE), "pass fastener-hole/asi.screw-1");
        assert_eq!(one(4.3, Some(screw("M4", Some(4.0)))).0.verdicts(&RULE), [Verdict::Pass]);
        assert_eq!(one(4.8, Some(screw("M4", Some(4.0)))).0.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn tight_at_the_worst_cut() {
        let (mut s, k) = one(4.5, Some(screw("M4", Some(4.0))));
        s.cut_by(ProcessKind::Router, Some(1.5));
        s.tolerance(k, TermKind::Cut, 0.15, 0.15);
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass], "4.2 to 4.8 mm: the screw goes through");
        s.tolerance(k, TermKind::Cut, 0.05, 0.05);
        assert_eq!(
            s.line(&RULE),
            "tight fastener-hole/asi.screw-1: The hole for M4 is 4.5 mm: ISO 273 asks 4.3 mm to 4.8 mm, normal 4.5 mm. \
             At the worst cut it can be 4.9 mm."
        );
    }

    #[test]
    fn a_hole_by_hand_is_drilled() {
        let (mut s, k) = one(4.5, Some(screw("M4", Some(4.0))));
        s.cut_by(ProcessKind::Hand, None);
        s.tolerance(k, TermKind::Cut, 0.5, 0.5);
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
        let (mut s, k) = one(4.7, Some(screw("M4", Some(4.0))));
        s.tolerance(k, TermKind::Cut, 0.5, 0.5);
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn fails_outside_the_range() {
        assert_eq!(
            one(5.2, Some(screw("M4", Some(4.0)))).0.line(&RULE),
            "fail fastener-hole/asi.screw-1: The hole for M4 is 5.2 mm: ISO 273 asks 4.3 mm to 4.8 mm, normal 4.5 mm."
        );
        assert_eq!(
            one(4.0, Some(screw("M4", Some(4.0)))).0.line(&RULE),
            "fail fastener-hole/asi.screw-1: The hole is 4 mm, M4 itself 4 mm: it does not go through. ISO 273 asks \
             4.3 mm to 4.8 mm, normal 4.5 mm."
        );
        assert_eq!(one(4.2, Some(screw("M4", Some(4.0)))).0.verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn what_stays_is_reported() {
        let (mut s, k) = one(5.2, Some(screw("M4", Some(4.0))));
        s.panel.subjects[k].state = State::Existing;
        assert_eq!(s.line(&RULE), "pass fastener-hole/asi.screw-1 both stay");
    }

    #[test]
    fn withheld_without_fastener_or_table() {
        assert_eq!(
            one(4.3, None).0.line(&RULE),
            "withheld fastener-hole/asi.screw-1: the name of the fastener that goes through this hole"
        );
        assert_eq!(
            one(4.3, Some(screw("self-tapping 8", None))).0.line(&RULE),
            "withheld fastener-hole/asi.screw-1: a clearance hole for the fastener self-tapping 8: no table here knows it"
        );
    }

    #[test]
    fn a_shaft_has_no_fastener() {
        let mut s = Scene::new();
        let k = s.placement("knob", |_| ());
        s.part(k, "shaft", Class::Hole, circle(40.0, 40.0, 9.5), shaft(9.5));
        assert!(s.lines(&RULE).is_empty());
    }
}
