//! The sheet's thickness suits the instrument.

use super::own::{Reading, Teller, anchor, length, of_class, thickness_of};
use super::{Finding, Heed, Limit, Near, Relation, Rule, Source, Space, Standing, Verdict};
use crate::geom::{Contour, Rect, SLACK, contains, distance};
use crate::panel::{Class, Panel, Part, State, Subject, SubjectKind};

/// Thinnest sheet for a new instrument hole, mm: 0.040 in.
const THINNEST: f64 = 1.016;

/// The rule.
pub static RULE: Rule = Rule {
    id: "sheet-thickness",
    asks: "The metal under an instrument is as thick as the instrument accepts, even, and at least 0.040 in for a new \
           hole.",
    why: "Clips, bushings and screws are made for a range of sheet; a second sheet under half of a bezel tilts it. \
          Measured: all sheets that lie at the item together, and for the upper end their coat, against the range \
          that the instrument accepts (how far inside the range; below zero: outside).",
    limit: Limit::Worked,
    source: Source {
        standing: Standing::Published,
        title: "Avionics installation manual A, section on cutting a new hole: sheet at least 0.040 in; the range \
                is what the instrument's own definition says",
    },
    relation: Relation::Near(Near { reach, heeds: Heed::near, measure }),
    asked: None,
};

/// Old openings under its seat take metal from it.
fn reach(space: &Space<'_>, subject: usize, _: &'static Rule) -> Option<Rect> {
    let s = space.panel.subjects.get(subject)?;
    Some(s.parts.get(seat(s)?)?.contour.bounds())
}

/// What an item sits on the sheet with.
fn seat(s: &Subject) -> Option<usize> {
    anchor(s, &[Class::Bezel, Class::Flange, Class::Cutout, Class::Hole]).map(|(k, _)| k)
}

fn measure(space: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = space.panel;
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let Some(facts) = &s.facts else { return };
    let cuts = |c: Class| matches!(c, Class::Cutout | Class::Hole);
    // what has no opening is not held by the sheet (a unit in its stack)
    if s.kind != SubjectKind::Placement || !s.parts.iter().any(|p| cuts(p.class)) {
        return;
    }
    let Some((k, at)) = anchor(s, &[Class::Cutout, Class::Hole]) else { return };
    let Some(seat) = seat(s) else { return };
    let (a, sheet) = (t.part(k), s.sheet as usize);
    let Some(main) = panel.sheets.get(sheet) else { return };
    let Some((thickness, even)) = s.parts.get(seat).and_then(|p| metal_at(panel, s, sheet, &p.contour))
    else {
        let unknown = std::iter::once(main)
            .chain(panel.sheets.iter().filter(|l| l.layer_of == Some(sheet)))
            .find(|l| l.thickness.is_none());
        t.withhold(a, at, thickness_of(unknown));
        return;
    };
    let mm = |v: f64| length(panel, v);
    if !even {
        let words = format!(
            "The edge of a second sheet runs under this item: part of it sits on {} of metal and the rest on less. \
             Move the edge or the item, or pack the lower part.",
            mm(thickness)
        );
        t.fail(a, None, [at; 2], words);
        return;
    }
    let is_new_hole = s.state == State::New && s.parts.iter().any(|p| p.class == Class::Cutout);
    if is_new_hole && thickness < THINNEST - SLACK {
        let words = format!(
            "A new instrument hole in {} of sheet: at least {} is asked. Add a doubler or take thicker sheet.",
            mm(thickness),
            mm(THINNEST)
        );
        t.fail(a, None, [at; 2], words);
        return;
    }
    let coat = 2.0 * main.coat.unwrap_or(0.0);
    let room = match facts.accepts {
        (Some(least), Some(most)) => (thickness - least).min(most - thickness - coat),
        (Some(least), None) => thickness - least,
        (None, Some(most)) => most - thickness - coat,
        (None, None) => {
            t.withhold(a, at, "the range of sheet thickness that the instrument accepts".into());
            return;
        }
    };
    t.reading(a, None, [at; 2], Reading { measured: room, asked: t.asked(0.0), loss: 0.0 }, |v| match v {
        Verdict::Fail => {
            let range = match facts.accepts {
                (Some(least), Some(most)) => format!("{} to {}", mm(least), mm(most)),
                (Some(least), None) => format!("at least {}", mm(least)),
                (None, most) => format!("at most {}", mm(most.unwrap_or(0.0))),
            };
            let coated = if coat > 0.0 { format!(" and {} of coat", mm(coat)) } else { String::new() };
            let cure = if facts.accepts.0.is_some_and(|least| thickness < least - SLACK) {
                "Add a doubler or a spacer."
            } else {
                "Take thinner sheet, or longer screws or bushings if the maker has them."
            };
            format!("Here lie {} of metal{coated}; the instrument accepts {range}. {cure}", mm(thickness))
        }
        _ => String::new(),
    });
}

/// Metal under a seat, and whether it is even. A layer that has an old opening round the whole seat adds
/// nothing there; one whose old opening takes metal from under a part of the seat makes it uneven. `None` if a thickness is missing.
fn metal_at(panel: &Panel, s: &Subject, sheet: usize, seat: &Contour) -> Option<(f64, bool)> {
    let (sum, mut even) = panel.thickness_at(sheet, seat)?;
    for (k, layer) in panel.sheets.iter().enumerate().filter(|(_, l)| l.layer_of == Some(sheet)) {
        if !distance::contours(&layer.outline, seat).relation.overlaps() {
            continue;
        }
        let mut holes = panel.subjects.iter().flat_map(|o| &o.parts).filter(|p| {
            p.class == Class::OldOpening
                && p.sheet as usize == k
                && distance::contours(&p.contour, seat).relation.overlaps()
        });
        // within the item's own cutout, or round it with metal left under the seat all round
        let own = |hole: &Part| {
            of_class(s, Class::Cutout).any(|(_, c)| {
                let ring = contains(&hole.contour, &c.contour) && contains(seat, &hole.contour);
                ring || contains(&c.contour, &hole.contour)
            })
        };
        // a layer that is open round the whole seat is not counted, and does not tilt it
        even &= holes.clone().any(|hole| contains(&hole.contour, seat)) || holes.all(own);
    }
    Some((sum, even))
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::Contour;
    use crate::panel::{Detail, Sheet, SheetRole};

    fn one(accepts: (Option<f64>, Option<f64>)) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("asi", |f| f.accepts = accepts);
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 79.4), CUTOUT);
        s.part(k, "bezel", Class::Bezel, rect(60.0, 60.0, 82.5, 82.5), Detail::Plain);
        s
    }

    fn doubler(s: &mut Scene, outline: Contour) {
        let main = &s.panel.sheets[0];
        let layer = Sheet {
            id: "doubler".into(),
            role: SheetRole::Doubler,
            layer_of: Some(0),
            outline,
            thickness: Some(1.0),
            ..main.clone()
        };
        s.panel.sheets.push(layer);
    }

    #[test]
    fn passes_in_the_range() {
        assert_eq!(one((Some(1.6), Some(2.3))).line(&RULE), "pass sheet-thickness/asi.cutout");
        assert_eq!(one((Some(2.0), Some(2.0))).line(&RULE), "pass sheet-thickness/asi.cutout");
        assert_eq!(one((None, Some(6.0))).line(&RULE), "pass sheet-thickness/asi.cutout");
    }

    #[test]
    fn fails_outside_the_range_with_layers_and_coat_counted() {
        assert_eq!(
            one((Some(2.5), None)).line(&RULE),
            "fail sheet-thickness/asi.cutout: Here lie 2 mm of metal; the instrument accepts at least 2.5 mm. Add a \
             doubler or a spacer."
        );
        let mut s = one((Some(1.6), Some(2.3)));
        doubler(&mut s, rect(60.0, 60.0, 120.0, 120.0));
        assert_eq!(
            s.line(&RULE),
            "fail sheet-thickness/asi.cutout: Here lie 3 mm of metal; the instrument accepts 1.6 mm to 2.3 mm. Take \
             thinner sheet, or longer screws or bushings if the maker has them."
        );
        let mut s = one((Some(1.6), Some(2.1)));
        s.panel.sheets[0].coat = Some(0.08);
        assert_eq!(s.verdicts(&RULE), [Verdict::Fail]);
    }

    #[test]
    fn fails_on_an_uneven_seat() {
        let mut s = one((Some(1.6), Some(6.0)));
        doubler(&mut s, rect(0.0, 60.0, 120.0, 120.0));
        let line = s.line(&RULE);
        assert!(
            line.starts_with("fail sheet-thickness/asi.cutout: The edge of a second sheet runs under"),
            "{line}"
        );
    }

    #[test]
    fn old_openings_of_a_layer_count() {
        for (x, diameter, expect) in [
            (60.0, 70.0, Verdict::Pass),  // within the item's own cutout: metal all round
            (60.0, 81.0, Verdict::Pass),  // an overlay's own, somewhat larger: still metal all round
            (63.0, 81.0, Verdict::Fail),  // beyond the bezel on one side: uneven
            (80.0, 60.0, Verdict::Fail),  // beside the cutout under the bezel: uneven
            (60.0, 100.0, Verdict::Fail), // beyond the bezel, but not at its corners: uneven
            (60.0, 130.0, Verdict::Fail), // round the whole item: 2 mm alone
        ] {
            let mut s = one((Some(2.5), Some(6.0)));
            doubler(&mut s, rect(60.0, 60.0, 140.0, 140.0));
            let k = s.subject("old", SubjectKind::OldOpening);
            s.part(k, "", Class::OldOpening, circle(x, 60.0, diameter), Detail::Plain);
            s.last(k).sheet = 1;
            assert_eq!(s.verdicts(&RULE), [expect], "{diameter} at {x}");
            if diameter == 130.0 {
                let line = s.line(&RULE);
                assert!(line.contains("Here lie 2 mm of metal"), "{line}");
            }
        }
    }

    #[test]
    fn a_new_hole_wants_forty_thousandths() {
        let mut s = one((None, Some(6.0)));
        s.panel.sheets[0].thickness = Some(1.016);
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
        s.panel.sheets[0].thickness = Some(0.8);
        assert_eq!(
            s.line(&RULE),
            "fail sheet-thickness/asi.cutout: A new instrument hole in 0.8 mm of sheet: at least 1.016 mm is asked. Add a \
             doubler or take thicker sheet."
        );
        s.panel.subjects[1].state = State::Existing;
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn withheld_without_range_or_thickness() {
        assert_eq!(
            one((None, None)).line(&RULE),
            "withheld sheet-thickness/asi.cutout: the range of sheet thickness that the instrument accepts"
        );
        let mut s = one((None, Some(6.0)));
        s.panel.sheets[0].thickness = None;
        assert_eq!(s.line(&RULE), "withheld sheet-thickness/asi.cutout: the thickness of the sheet");
    }
}
