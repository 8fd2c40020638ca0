//! What is left when all openings are cut hangs together.

use super::own::{Teller, length, of_class};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Contour, Point, Rect, distance, region};
use crate::panel::{Class, Classes, Panel, Part, PartRef, State, SubjectKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "one-piece",
    asks: "The sheet stays one piece when its openings are cut.",
    why: "Openings that run into each other or over the edge can free an island or part the sheet, though each of them \
          alone is harmless. All openings of a sheet are cut out together, provisions left out. Metal that hangs by less \
          than 0.03 mm, or by a single point, does not hang.",
    limit: Limit::Plain,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

/// How far a chord may lie off its arc, mm: no neck that a tool leaves is of this size.
const CHORD: f64 = 0.005;

/// How much the openings are grown first, mm, so that a touch to arithmetic slack is a cut; with a chord on either side
/// of a neck it makes the 0.03 mm of the rule's words.
const HAIR: f64 = 0.005;

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| s.kind == SubjectKind::Sheet) else { return };
    let Some((k, edge)) = of_class(s, Class::Edge).next() else { return };
    let a = t.part(k);
    let joined = joined(&openings(panel, edge.sheet), &edge.contour);
    let grown: Vec<Contour> = joined.iter().flat_map(|(_, p)| grown(&p.contour)).collect();
    let cut: Vec<&Contour> = grown.iter().collect();
    // closed contours that meet neither each other nor the edge part nothing
    let left = (!cut.is_empty()).then(|| region::metal(&edge.contour, &cut, CHORD));
    let Some(left) = left.filter(|left| left.pieces.len() != 1) else {
        t.plain(a, None, [edge.centre; 2], Verdict::Pass, String::new());
        return;
    };
    let Some(loose) = left.pieces.get(1) else {
        t.fail(a, joined.first().map(|(r, _)| *r), [edge.centre; 2], "nothing is left of the sheet".into());
        return;
    };
    let b = loose.bounds();
    let n = left.pieces.len();
    let words = format!(
        "the sheet falls into {n} pieces; {} {} x {}",
        if n == 2 { "the smaller measures" } else { "the second largest measures" },
        about(panel, b.width()),
        about(panel, b.height())
    );
    t.fail(a, Some(culprit(panel, &joined, &loose.outline)), [b.center(); 2], words);
}

/// A length to a tenth of a millimetre, which the hair does not reach.
fn about(panel: &Panel, mm: f64) -> String {
    length(panel, (mm * 10.0).round() / 10.0)
}

/// The opening with a hair all round; as it is where the offset fails its own measurement.
fn grown(c: &Contour) -> Vec<Contour> {
    c.offset(HAIR).unwrap_or_else(|_| vec![c.clone()])
}

type Opening<'a> = (PartRef, &'a Part);

/// Everything that is cut out of a sheet.
fn openings(panel: &Panel, sheet: u32) -> Vec<Opening<'_>> {
    let fitted = panel.subjects.iter().enumerate().filter(|(_, s)| !s.provision);
    fitted
        .flat_map(|(k, s)| {
            let named = move |(n, p)| (PartRef { subject: k as u32, part: n as u32 }, p);
            s.parts.iter().enumerate().map(named)
        })
        .filter(|(_, p)| p.sheet == sheet && Classes::OPENINGS.has(p.class))
        .collect()
}

/// Those whose outline meets another's or the edge, and those that reach around the whole sheet; in their order.
fn joined<'a>(all: &[Opening<'a>], edge: &Contour) -> Vec<Opening<'a>> {
    let meets = |a: &Contour, b: &Contour| distance::outlines_within(a, b, 0.0).is_some();
    let mut met: Vec<bool> = all
        .iter()
        .map(|(_, p)| around(&p.contour.bounds(), &edge.bounds()) || meets(&p.contour, edge))
        .collect();
    // from left to right, so that far ones are never compared
    let slack = crate::geom::SLACK;
    let boxes = all.iter().enumerate().map(|(k, (_, p))| (p.contour.bounds().inflate(slack, slack), k));
    let mut order: Vec<(Rect, usize)> = boxes.collect();
    order.sort_by(|(a, _), (b, _)| a.x0.total_cmp(&b.x0));
    let mut open: Vec<(Rect, usize)> = Vec::new();
    for (here, i) in order {
        open.retain(|(there, _)| there.x1 >= here.x0);
        for &(there, j) in &open {
            let boxes = there.y0 <= here.y1 && here.y0 <= there.y1;
            if boxes && !(met[i] && met[j]) && meets(&all[i].1.contour, &all[j].1.contour) {
                met[i] = true;
                met[j] = true;
            }
        }
        open.push((here, i));
    }
    all.iter().zip(met).filter_map(|(o, met)| met.then_some(*o)).collect()
}

fn around(outer: &Rect, inner: &Rect) -> bool {
    outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && outer.x1 >= inner.x1 && outer.y1 >= inner.y1
}

/// The opening that frees a piece: the first new one on its rim, else the first.
fn culprit(panel: &Panel, joined: &[Opening<'_>], rim: &[Point]) -> PartRef {
    let on_rim =
        |p: &Part| rim.iter().any(|q| distance::point_contour(*q, &p.contour).distance <= HAIR + 2.0 * CHORD);
    let mut rims = joined.iter().filter(|(_, p)| on_rim(p));
    let first = rims.clone().next().or(joined.first());
    let new = rims.find(|(r, _)| panel.subject(*r).state == State::New);
    new.or(first).map_or(PartRef { subject: 0, part: 0 }, |(r, _)| *r)
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::Transform;

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
}
