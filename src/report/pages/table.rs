//! Tables: cells wrap within their columns, rows stay whole where a page holds them, heads come again.

use super::chunk::{Chunk, Set, TEXT, para, rule};
use super::text::Measure;
use crate::draw::{Ink, Stroke, Weight};
use crate::report::document::Table;

/// Letter height of cells, mm.
const CELL: f64 = 1.65;
/// Paper between two columns, mm.
const GUTTER: f64 = 2.0;
/// Most lines of a row that stays whole: a fifth of a page.
const WHOLE: usize = 16;

/// Sets a table in a width.
pub(super) fn set(m: &Measure, t: &Table, width: f64, out: &mut Vec<Chunk>) {
    let all: f64 = t.columns.iter().map(|c| c.share).sum();
    let mut sets: Vec<Set> = Vec::new();
    let mut x = 0.0;
    for (k, c) in t.columns.iter().enumerate() {
        let wide = c.share / all * width;
        // the last column needs no paper beside it
        let room = if k + 1 == t.columns.len() { wide } else { wide - GUTTER };
        sets.push(Set { right: c.number, ..Set::words(CELL, x, room.max(CELL)) });
        x += wide;
    }
    let start = out.len();
    para(m, &t.caption, Set::words(TEXT * 0.95, 0.0, width).bold(), 2.6, out);
    for c in out.iter_mut().skip(start) {
        c.keep = true;
    }
    let head = out.len();
    let names: Vec<String> = t.columns.iter().map(|c| c.head.to_string()).collect();
    for mut c in row(m, &names, &sets, width, true) {
        c.space = 1.0;
        c.keep = true;
        out.push(c);
    }
    let heads = out.len() - head;
    for (k, cells) in t.rows.iter().enumerate() {
        for mut c in row(m, cells, &sets, width, false) {
            // a head never stands above one row alone if there are more
            c.keep |= k == 0 && t.rows.len() > 1;
            c.head = (heads == 1).then(|| out.len() - head);
            out.push(c);
        }
    }
}

/// One row: one chunk, or one a line where it is too tall for that.
fn row(m: &Measure, cells: &[String], sets: &[Set], width: f64, head: bool) -> Vec<Chunk> {
    let wrapped: Vec<(Set, Vec<String>)> = cells
        .iter()
        .zip(sets)
        .enumerate()
        .map(|(k, (cell, set))| {
            let set = if head || k == 0 { Set { weight: Weight::Bold, ..*set } } else { *set };
            (set, m.wrap(cell, set.height, set.weight, set.width))
        })
        .collect();
    let lines = wrapped.iter().map(|(_, l)| l.len()).max().unwrap_or(0).max(1);
    let step = CELL * super::chunk::LEADING;
    let per = if lines > WHOLE && !head { 1 } else { lines };
    let mut out = Vec::new();
    for first in (0..lines).step_by(per) {
        let mut c = Chunk::new(0.0);
        let last = (first + per).min(lines);
        for (set, list) in &wrapped {
            // heads stand on their line, cells hang from it
            let down = if head { lines - list.len() } else { 0 };
            for (k, line) in list.iter().enumerate().filter(|(k, _)| (first..last).contains(k)) {
                c.items.push(set.line(0.4 + step * (k + down - first) as f64, line));
            }
        }
        c.height = step * (last - first) as f64 + 0.4;
        if last == lines {
            c.height += 0.4;
            let thin = Stroke::solid(0.1).ink(Ink::LIGHT);
            let stroke = if head { Stroke::solid(0.35) } else { thin };
            c.items.push(rule(0.0, width, c.height, stroke));
        }
        if head {
            c.items.push(rule(0.0, width, 0.0, Stroke::solid(0.35)));
        }
        out.push(c);
    }
    out
}
