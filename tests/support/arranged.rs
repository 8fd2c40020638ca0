//! Seeded panels to arrange: a passing arrangement by construction, then everything thrown about. The same seed gives
//! the same panel everywhere.
//!
//! A sheet is cut into cells, straight through each time; every cell gets one item, smaller than its cell by what the
//! rules ask and by chance, until the bezels cover the share of the sheet that is asked for.

use crate::panels::{Dice, bare, facts, part, screw_hole, subject, term};
use panelwright::check::{Options, Verdict, check};
use panelwright::geom::{Contour, Point, Rect, Vec2};
use panelwright::panel::*;
use std::sync::Arc;

/// Least room between bezels and between a bezel and the cell's neighbour, mm: 1.5 mm of gap, tolerances, and a bit.
const GAP: f64 = 3.0;

/// From the sheet's edge to the cells, mm.
const MARGIN: f64 = 6.0;

/// A panel to arrange.
pub struct Made {
    /// As it was made: it passes.
    pub hidden: Panel,
    /// Everything thrown about.
    pub shuffled: Panel,
    /// What may move.
    pub free: Vec<usize>,
}

/// So many items on a sheet that their bezels cover by this share at least.
pub fn made(seed: u64, count: usize, fill: f64) -> Made {
    let mut dice = Dice::new(seed.wrapping_mul(977).wrapping_add(count as u64));
    let high = if count > 30 { 330.0 } else { 250.0 };
    let wide = (count as f64 * 5200.0 / high).round();
    let mut hidden = bare(wide, high);
    let mut cells = vec![Rect::new(MARGIN, MARGIN, wide - MARGIN, high - MARGIN)];
    while cells.len() < count {
        // the largest is cut next, across its longer side
        let k = (0..cells.len()).max_by(|a, b| cells[*a].area().total_cmp(&cells[*b].area())).unwrap();
        let c = cells.swap_remove(k);
        let at = dice.real(0.35, 0.65);
        if c.width() > c.height() {
            let x = c.x0 + c.width() * at;
            cells.extend([Rect::new(c.x0, c.y0, x, c.y1), Rect::new(x, c.y0, c.x1, c.y1)]);
        } else {
            let y = c.y0 + c.height() * at;
            cells.extend([Rect::new(c.x0, c.y0, c.x1, y), Rect::new(c.x0, y, c.x1, c.y1)]);
        }
    }
    let less: Vec<f64> = cells.iter().map(|_| dice.real(0.2, 1.0)).collect();
    let sizes = |scale: f64| -> Vec<(f64, f64)> {
        let size = |(c, l): (&Rect, &f64)| {
            let by = GAP + scale * l;
            ((c.width() - by).max(26.0), (c.height() - by).max(26.0))
        };
        cells.iter().zip(&less).map(size).collect()
    };
    let covered = |s: &[(f64, f64)]| s.iter().map(|(w, h)| w * h).sum::<f64>() / (wide * high);
    let (mut tight, mut loose) = (0.0, 60.0);
    for _ in 0..60 {
        let middle = (tight + loose) / 2.0;
        // a little more than asked: the corners of bezels are rounded off
        if covered(&sizes(middle)) >= fill + 1e-3 { tight = middle } else { loose = middle }
    }
    for (k, (c, (w, h))) in cells.iter().zip(sizes(tight)).enumerate() {
        hidden.subjects.push(item(&format!("item-{k}"), c.center(), w, h, k as u32 + 1, &mut dice));
    }
    let free: Vec<usize> = (1..hidden.subjects.len()).collect();
    let mut shuffled = hidden.clone();
    for &s in &free {
        let to = Point::new(dice.real(0.0, wide), dice.real(0.0, high));
        let by = to - shuffled.subjects[s].at;
        shuffled.shift(s, by);
    }
    Made { hidden, shuffled, free }
}

/// What bezels cover of the sheet.
pub fn fill(panel: &Panel) -> f64 {
    let bezels = panel.subjects.iter().flat_map(|s| &s.parts).filter(|p| p.class == Class::Bezel);
    bezels.map(|p| p.contour.area()).sum::<f64>() / panel.sheets[0].outline.area()
}

/// Whether nothing fails and nothing is tight.
pub fn passes(panel: &Panel) -> bool {
    check(panel, &Options::default())
        .list
        .iter()
        .all(|f| !matches!(f.verdict, Verdict::Fail | Verdict::Tight))
}

fn item(id: &str, at: Point, w: f64, h: f64, key: u32, dice: &mut Dice) -> Subject {
    let mut s = subject(id, SubjectKind::Placement, at);
    s.facts = Some(Arc::new(facts()));
    let round = (w - h).abs() < 0.3 * w.min(h) && dice.one_in(2);
    let opening = |less: f64| {
        if round {
            Contour::circle(at, w.min(h) / 2.0 - 5.0 - less)
        } else {
            Contour::rect(at, w - 20.0 - 2.0 * less, h - 8.0 - 2.0 * less, 2.0)
        }
    };
    s.parts.push(part("cutout", Class::Cutout, opening(0.0), Detail::Cutout { make: Make::Drawing }));
    // beside a rectangle, in the corners about a circle
    let (sx, sy) = if round { (w / 2.0 - 4.5, h / 2.0 - 4.5) } else { (w / 2.0 - 5.0, 0.0) };
    let places =
        if round { vec![(-sx, -sy), (sx, -sy), (sx, sy), (-sx, sy)] } else { vec![(-sx, sy), (sx, sy)] };
    for (k, (x, y)) in places.into_iter().enumerate() {
        let c = at + Vec2::new(x, y);
        let n = k + 1;
        s.parts.push(screw_hole(&format!("screw-{n}"), c, 3.0, HeadKind::Raised));
        let mut head = part(&format!("screw-{n}.head"), Class::Head, Contour::circle(c, 3.0), Detail::Plain);
        head.depth = Some((-2.0, 0.0));
        let mut nut = part(&format!("screw-{n}.nut"), Class::Nut, Contour::circle(c, 3.4), Detail::Plain);
        nut.depth = Some((2.0, 5.0));
        s.parts.extend([head, nut]);
    }
    let mut face = part("bezel", Class::Bezel, Contour::rect(at, w, h, 2.0), Detail::Plain);
    face.depth = Some((-5.0, 0.0));
    let mut body = part("body", Class::Body, opening(0.6), Detail::Plain);
    body.depth = Some((0.0, 90.0));
    s.parts.extend([face, body]);
    for p in &mut s.parts {
        p.terms.push(term(TermKind::Position, key, 0.1));
        p.terms.push(term(TermKind::Size, 0, 0.05));
    }
    s
}
