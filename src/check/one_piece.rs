//! What is left when all openings are cut hangs together.

use super::necks::{self, CHORD, HAIR, Left, Neck};
use super::openings::{Metal, Opening, cuts};
use super::own::{Judged, Teller, absent, length, of_class};
use super::{Finding, Interval, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Point, Rect, distance};
use crate::panel::{Class, Panel, Part, PartRef, State, SubjectKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "one-piece",
    asks: "The sheet stays one piece when its openings are cut, and no part of it hangs by a thread.",
    why: "Openings that run into each other, over the edge, or nearly so, can free an island or part the sheet, though \
          each of them alone is harmless: one item's own openings too. All openings of a sheet are cut out together, \
          those of its carrier too where it is a layer, provisions left out. Measured: the widest neck by which any \
          part hangs. Metal that hangs by less than 0.03 mm, or by a single point, does not hang, whatever the limit. \
          How strong a strip must be is asked by web and sheet-edge; parts narrower than four times their neck are chips.",
    limit: Limit::AtLeast(1.0),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Metal(measure),
    asked: None,
};

fn measure(metal: &Metal<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = metal.panel;
    if panel.subjects.get(subject).is_none_or(|s| s.kind != SubjectKind::Sheet) {
        return;
    }
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let Some((k, edge)) = of_class(s, Class::Edge).next() else { return };
    let a = t.part(k);
    let asked = t.asked(1.0);
    let wide = asked.max(HAIR);
    match necks::left(edge, &metal.openings(edge.sheet, wide), wide) {
        Left::Whole => match unknown(panel, edge.sheet) {
            None => t.plain(a, None, [edge.centre; 2], Verdict::Pass, String::new()),
            Some(waits) => t.withhold(a, edge.centre, waits),
        },
        Left::Nothing { first } => t.fail(a, first, [edge.centre; 2], "nothing is left of the sheet".into()),
        Left::Falls { pieces, openings } => {
            let Some(loose) = pieces.get(1) else { return };
            let (b, n) = (loose.bounds(), pieces.len());
            let which = if n == 2 { "the smaller measures" } else { "the second largest measures" };
            let words = format!("the sheet falls into {n} pieces; {which} {}", sides(panel, b));
            let culprit = culprit(panel, &openings, &loose.outline, 0.0);
            t.fail(a, Some(culprit), [b.center(); 2], words);
        }
        Left::Hangs(neck) => hangs(&mut t, a, &neck, asked),
    }
}

fn hangs(t: &mut Teller<'_>, a: PartRef, neck: &Neck<'_>, asked: f64) {
    let panel = t.panel;
    let b = neck.piece.bounds().inflate(neck.grown, neck.grown);
    let culprit = culprit(panel, &neck.openings, &neck.piece.outline, neck.grown);
    let judged = Judged {
        measured: Interval { lower: neck.lower, upper: neck.upper },
        asked,
        loss: neck.loss,
        at: neck.gap.map_or([b.center(); 2], |g| g.at),
    };
    let mm = |v: f64| length(panel, (v * 1000.0).round() / 1000.0);
    t.interval(a, Some(culprit), judged, |v| {
        let hangs = format!("a part of {} hangs by {} of metal at the most", sides(panel, b), mm(neck.upper));
        match v {
            Verdict::Pass | Verdict::Withheld => String::new(),
            Verdict::Tight => format!("{hangs}; the tolerances can take {}", mm(neck.loss)),
            Verdict::Fail => format!("{hangs}: move the openings apart, or make them one"),
        }
    });
}

/// Two sides of a box.
fn sides(panel: &Panel, b: Rect) -> String {
    format!("{} x {}", about(panel, b.width()), about(panel, b.height()))
}

/// A length to a tenth of a millimetre, which the hair does not reach.
fn about(panel: &Panel, mm: f64) -> String {
    length(panel, (mm * 10.0).round() / 10.0)
}

/// The openings that are not there for want of a size, in words.
fn unknown(panel: &Panel, sheet: u32) -> Option<String> {
    let fitted = panel.subjects.iter().filter(|s| !s.provision && !s.missing.is_empty());
    let words: Vec<String> = fitted
        .filter(|s| cuts(panel, s.sheet, sheet))
        .flat_map(|s| [Class::Cutout, Class::Hole].map(|c| (s, c)))
        .flat_map(|(s, c)| absent(s, c).map(|(name, what)| format!("{name} of {}: {what}", s.id)))
        .collect();
    if words.is_empty() { None } else { Some(words.join("; ")) }
}

/// The opening that frees a piece: the first new one on its rim, else the first.
fn culprit(panel: &Panel, openings: &[Opening<'_>], rim: &[Point], grown: f64) -> PartRef {
    let reach = grown + 4.0 * CHORD;
    let on_rim = |p: &Part| rim.iter().any(|q| distance::point_contour(*q, &p.contour).distance <= reach);
    let mut rims = openings.iter().filter(|(_, p)| on_rim(p));
    let first = rims.clone().next().or(openings.first());
    let new = rims.find(|(r, _)| panel.subject(*r).state == State::New);
    new.or(first).map_or(PartRef { subject: 0, part: 0 }, |(r, _)| *r)
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::{Contour, Transform};

    fn scene(cutouts: &[Contour]) -> Scene {
        let mut s = Scene::new();
        for (k, c) in cutouts.iter().enumerate() {
            let n = s.placement(&format!("i{k}"), |_| ());
            s.part(n, "cutout", Class::Cutout, c.clone(), CUTOUT);
        }
        s
    }

    fn frame() -> Vec<Contour> {
        vec![
            rect(100.0, 112.0, 28.0, 4.0),
            rect(100.0, 88.0, 28.0, 4.0),
            rect(112.0, 100.0, 4.0, 28.0),
            rect(88.0, 100.0, 4.0, 28.0),
        ]
    }

    #[test]
    fn apart_or_joined_without_an_island_is_one_piece() {
        assert_eq!(scene(&[]).line(&RULE), "pass one-piece/sheet");
        let s = scene(&[circle(100.0, 100.0, 80.0), circle(170.0, 100.0, 80.0), circle(100.0, 100.0, 20.0)]);
        assert_eq!(s.line(&RULE), "pass one-piece/sheet");
        assert_eq!(scene(&frame()[..3]).line(&RULE), "pass one-piece/sheet", "a frame open on one side");
        assert_eq!(scene(&[rect(100.0, 0.0, 20.0, 20.0)]).line(&RULE), "pass one-piece/sheet", "a notch");
        assert_eq!(scene(&[circle(900.0, 0.0, 20.0)]).line(&RULE), "pass one-piece/sheet", "off the sheet");
    }

    #[test]
    fn an_island_and_a_chain_from_edge_to_edge_fail() {
        assert_eq!(
            scene(&frame()).line(&RULE),
            "fail one-piece/sheet/i0.cutout: the sheet falls into 2 pieces; the smaller measures 20 mm x 20 mm"
        );
        let chain: Vec<Contour> = (0..5).map(|k| circle(150.0, 20.0 + 40.0 * f64::from(k), 40.0)).collect();
        assert_eq!(scene(&chain).verdicts(&RULE), [Verdict::Fail], "five circles that only touch");
        assert_eq!(scene(&chain[..4]).verdicts(&RULE), [Verdict::Pass]);
        // the same aslant, its touches off by rounding and by half of the arithmetic slack
        let aslant = Transform::place(Point::new(200.0, 100.0), 31.7, false);
        for (off, shape) in [(0.0, 0.0), (5e-7, 0.0), (5e-7, 40.0)] {
            let one = |k: i32| match shape {
                0.0 => circle(0.0, f64::from(k) * (40.0 + off), 40.0),
                side => rect(0.0, f64::from(k) * (40.0 + off), side, 40.0),
            };
            let chain: Vec<Contour> = (-3..=3).map(|k| aslant.contour(&one(k))).collect();
            assert_eq!(scene(&chain).verdicts(&RULE), [Verdict::Fail], "{off} {shape}");
            assert_eq!(scene(&[&chain[..3], &chain[4..]].concat()).verdicts(&RULE), [Verdict::Pass]);
        }
        let all = scene(&[rect(200.0, 100.0, 500.0, 300.0)]);
        assert_eq!(all.line(&RULE), "fail one-piece/sheet/i0.cutout: nothing is left of the sheet");
    }

    #[test]
    fn what_exists_is_reported_and_what_is_kept_free_is_not_cut() {
        let mut s = scene(&frame());
        s.panel.subjects[0].state = State::Existing;
        for k in [1, 2, 3] {
            s.panel.subjects[k].state = State::Existing;
        }
        assert!(s.line(&RULE).starts_with("fail one-piece/sheet/i3.cutout"), "one of the four is new");
        s.panel.subjects[4].state = State::Existing;
        assert_eq!(s.line(&RULE), "pass one-piece/sheet/i0.cutout both stay");
        s.panel.subjects[4].provision = true;
        assert_eq!(s.line(&RULE), "pass one-piece/sheet");
    }

    /// The rule's findings of one look, without moving the scene about.
    fn once(s: &Scene) -> Vec<Finding> {
        let all = crate::check::check(&s.panel, &Default::default());
        all.list.into_iter().filter(|f| f.rule == &RULE).collect()
    }

    /// Four bars about (100, 100) whose necks at the corners are so wide.
    fn four(neck: f64) -> Vec<Contour> {
        let (far, long) = (12.0, 20.0);
        let side = |x: f64, y: f64, w: f64, h: f64| rect(100.0 + x * far, 100.0 + y * far, w, h);
        // bars of 4 mm that end short of each other's side: the frame is closed but for the necks
        let (across, up) = (long, 28.0 + 2.0 * neck);
        let reach = 2.0 + neck;
        vec![
            side(0.0, 1.0, across, 4.0),
            side(0.0, -1.0, across, 4.0),
            rect(100.0 + long / 2.0 + reach, 100.0, 4.0, up),
            rect(100.0 - long / 2.0 - reach, 100.0, 4.0, up),
        ]
    }

    #[test]
    fn a_part_that_hangs_by_threads_fails_whoever_they_belong_to() {
        for neck in [0.04, 0.2, 0.5, 0.95] {
            let f = once(&scene(&four(neck)));
            assert_eq!((f.len(), f[0].verdict), (1, Verdict::Fail), "{neck}");
            let m = f[0].measured.expect("a width");
            assert!(
                m.lower <= neck + 1e-6 && m.upper >= neck - 1e-6 && m.upper - m.lower < 0.04,
                "{neck}: {m:?}"
            );
            // one item's own openings: web exempts them
            let mut own = Scene::new();
            let n = own.placement("grille", |_| ());
            for (k, c) in four(neck).into_iter().enumerate() {
                own.part(n, &format!("cutout-{k}"), Class::Cutout, c, CUTOUT);
            }
            assert_eq!(once(&own)[0].verdict, Verdict::Fail, "{neck}");
        }
        for neck in [1.05, 3.0] {
            assert_eq!(scene(&four(neck)).line(&RULE), "pass one-piece/sheet", "{neck}");
        }
        let three = &four(0.1)[..3];
        assert_eq!(scene(three).line(&RULE), "pass one-piece/sheet", "it hangs by its open side");
    }

    #[test]
    fn the_only_gap_is_told_exactly() {
        let slit = |gap: f64| scene(&[rect(200.0, 100.0, 10.0, 200.0 - 2.0 * gap)]);
        // both ends of a slit come as near to the edge: one gap of the two outlines
        let f = once(&slit(0.3));
        let m = f[0].measured.expect("a width");
        assert!((m.lower - 0.3).abs() < 1e-9 && m.upper == m.lower, "{m:?}");
        let line = slit(0.3).line(&RULE);
        assert!(line.starts_with("fail one-piece/sheet/i0.cutout: a part of 195"), "{line}");
        assert!(line.contains(" x 200 mm hangs by 0.3 mm of metal at the most: move"), "{line}");
        assert_eq!(slit(1.1).verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn chains_of_small_webs_at_any_angle_are_all_told() {
        for (turn, gaps) in [(0.0, [0.01, 0.6]), (31.7, [0.005, 0.1])] {
            let t = Transform::place(Point::new(200.0, 100.0), turn, false);
            for gap in gaps {
                // across the whole sheet, ends beyond it
                let chain: Vec<Contour> =
                    (-6..=6).map(|k| t.contour(&circle(0.0, f64::from(k) * (40.0 + gap), 40.0))).collect();
                assert_eq!(once(&scene(&chain))[0].verdict, Verdict::Fail, "{turn} {gap}");
                // a ring of six round a seventh place
                let ring: Vec<Contour> = (0..6)
                    .map(|k| {
                        let at = crate::geom::angle::unit(f64::from(k) * std::f64::consts::PI / 3.0)
                            * (24.0 + gap);
                        t.contour(&circle(at.x, at.y, 24.0))
                    })
                    .collect();
                assert_eq!(once(&scene(&ring))[0].verdict, Verdict::Fail, "{turn} {gap}");
                assert_eq!(once(&scene(&ring[1..]))[0].verdict, Verdict::Pass, "{turn} {gap}");
            }
        }
    }

    #[test]
    fn a_hollow_opening_that_nearly_closes_on_itself_is_seen() {
        // a C of 3 mm round a core of 20 mm, its mouth so wide
        let c = |mouth: f64| {
            let p = |x: f64, y: f64| Point::new(150.0 + x, 100.0 + y);
            let h = mouth / 2.0;
            Contour::polygon(&[
                p(13.0, h),
                p(13.0, 13.0),
                p(-13.0, 13.0),
                p(-13.0, -13.0),
                p(13.0, -13.0),
                p(13.0, -h),
                p(10.0, -h),
                p(10.0, -10.0),
                p(-10.0, -10.0),
                p(-10.0, 10.0),
                p(10.0, 10.0),
                p(10.0, h),
            ])
        };
        assert_eq!(scene(&[c(0.1)]).verdicts(&RULE), [Verdict::Fail]);
        assert_eq!(scene(&[c(0.8)]).verdicts(&RULE), [Verdict::Fail]);
        assert_eq!(scene(&[c(1.2)]).verdicts(&RULE), [Verdict::Pass]);
    }

    #[test]
    fn tight_where_the_tolerances_can_take_the_neck() {
        let mut s = scene(&[rect(200.0, 100.0, 10.0, 197.6)]);
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass], "1.2 mm at both ends");
        s.tolerance(1, crate::panel::TermKind::Cut, 0.3, 0.3);
        assert_eq!(s.verdicts(&RULE), [Verdict::Tight]);
    }

    #[test]
    fn what_is_cut_through_the_carrier_parts_a_layer() {
        use crate::panel::{Sheet, SheetRole};
        let mut s = scene(&[rect(100.0, 100.0, 60.0, 20.0)]);
        let outline = rect(100.0, 100.0, 40.0, 80.0);
        let d = s.subject("doubler", SubjectKind::Sheet);
        s.part(d, "", Class::Edge, outline.clone(), crate::panel::Detail::Plain);
        s.last(d).sheet = 1;
        let main = s.panel.sheets[0].clone();
        s.panel.sheets.push(Sheet {
            id: "doubler".into(),
            role: SheetRole::Doubler,
            layer_of: Some(0),
            subject: d as u32,
            outline,
            ..main
        });
        let lines = s.lines(&RULE);
        assert_eq!(lines[0], "pass one-piece/sheet");
        assert!(
            lines[1].starts_with("fail one-piece/doubler/i0.cutout: the sheet falls into 2 pieces"),
            "{lines:?}"
        );
    }
}
