//! What is told of the lines themselves: open ends, doubles, strays, marks, what was not read or not looked at.

use super::{About, Options, Told, many};
use crate::cut::{Ends, Gathered, LayerFacts, at, item, mm};
use crate::geom::{Point, Segment};
use crate::import::{CutFile, Mark, Shape};

/// Most places that one thing told names in words.
const NAMED: usize = 5;

/// Tells everything but nesting.
pub fn all(file: &CutFile, g: &Gathered, layers: &[LayerFacts], options: &Options, told: &mut Vec<Told>) {
    let mut tell = |about, code, says, at: Vec<Point>, items: Vec<usize>| {
        told.push(Told { about, code, says, at, items });
    };
    open(file, g, options, &mut tell);
    let joined: Vec<(f64, Point)> = g.closed.iter().flat_map(|c| c.joined.iter().copied()).collect();
    if !joined.is_empty() {
        let widest = joined.iter().map(|j| j.0).fold(0.0, f64::max);
        let spots: Vec<String> =
            joined.iter().take(NAMED).map(|(gap, p)| format!("{} at {}", mm(*gap), at(file, *p))).collect();
        let says = format!(
            "{} joined, the widest {} (allowed {}): {}{}",
            many(joined.len(), "gap was", "gaps were"),
            mm(widest),
            mm(options.join),
            spots.join("; "),
            more(joined.len())
        );
        tell(About::Changed, "joined", says, joined.iter().map(|j| j.1).collect(), vec![]);
    }
    doubled(file, g, &mut tell);
    if !g.without_length.is_empty() {
        let (items, spots): (Vec<usize>, Vec<Point>) = g.without_length.iter().copied().unzip();
        let what = many(items.len(), "piece without length was", "pieces without length were");
        let says = format!("{what} dropped{}", listed(file, &items));
        tell(About::Changed, "no-length", says, spots, items);
    }
    for (e, items) in &g.no_contour {
        let says = format!("a closed line encloses nothing ({e}){}", listed(file, items));
        tell(About::LeftOut, "no-contour", says, vec![], items.clone());
    }
    let hidden = |k: &usize| file.items.get(*k).is_some_and(|i| i.hidden.is_none());
    let unread: Vec<usize> = g.unread.iter().copied().filter(hidden).collect();
    if !unread.is_empty() {
        let mut whys: Vec<&str> = unread.iter().map(|k| why(file, *k)).collect();
        whys.sort_unstable();
        whys.dedup();
        let says = format!(
            "{} not read ({}){}",
            many(unread.len(), "entity was", "entities were"),
            whys.join("; "),
            listed(file, &unread)
        );
        tell(About::LeftOut, "not-read", says, vec![], unread);
    }
    marks(file, g, &mut tell);
    if !g.hidden.is_empty() {
        let says = format!(
            "{} left out, as {} not show (paper space, invisible, no line and no fill){}",
            many(g.hidden.len(), "item was", "items were"),
            if g.hidden.len() == 1 { "it does" } else { "they do" },
            listed(file, &g.hidden)
        );
        tell(About::Note, "hidden", says, vec![], g.hidden.clone());
    }
    let aside: Vec<String> = layers
        .iter()
        .filter(|l| !l.cut && !l.counts.is_empty())
        .map(|l| format!("{} ({})", l.name, many(l.counts.values().sum(), "item", "items")))
        .collect();
    if !aside.is_empty() {
        let says = format!("layers that were not looked at: {}. --layers names others", aside.join(", "));
        tell(About::Note, "layers", says, vec![], vec![]);
    }
    for says in &file.not_read {
        tell(About::LeftOut, "not-read", says.clone(), vec![], vec![]);
    }
    for says in &file.remarks {
        tell(About::Note, "remark", says.clone(), vec![], vec![]);
    }
}

fn more(n: usize) -> String {
    if n > NAMED { format!(" and {} more", n - NAMED) } else { String::new() }
}

fn listed(file: &CutFile, items: &[usize]) -> String {
    let shown: Vec<String> = items.iter().take(NAMED).map(|k| item(file, *k)).collect();
    format!(": {}{}", shown.join("; "), more(items.len()))
}

fn why(file: &CutFile, k: usize) -> &'static str {
    match file.items.get(k).map(|i| &i.shape) {
        Some(Shape::NotRead(why)) => why,
        Some(Shape::Chain { curves, .. }) => {
            curves.iter().find_map(|c| c.exact.as_ref().err().copied()).unwrap_or("")
        }
        Some(Shape::Mark { .. }) | None => "",
    }
}

/// Open chains, each with the nearest other end of any open chain.
fn open(
    file: &CutFile,
    g: &Gathered,
    options: &Options,
    tell: &mut impl FnMut(About, &'static str, String, Vec<Point>, Vec<usize>),
) {
    let ends = Ends::of(&g.open);
    for (k, o) in g.open.iter().enumerate() {
        if o.unread {
            continue;
        }
        let own = ends.list.iter().zip(&ends.nearest).filter(|((chain, _), _)| *chain == k);
        let gaps = own.filter_map(|((_, p), near)| {
            let (other, gap) = (*near)?;
            Some((gap, *p, ends.list.get(other)?.1))
        });
        let Some((gap, p, q)) = gaps.min_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        let long: f64 = o.pieces.iter().map(Segment::len).sum();
        let help = if gap > options.join && gap <= 2.0 {
            format!("; --join {} would close it", super::sizes::up(gap))
        } else {
            String::new()
        };
        let says = format!(
            "a line {} long is open: its end at {} is {} from the nearest other end at {}{help}{}",
            mm(long),
            at(file, p),
            mm(gap),
            at(file, q),
            listed(file, &o.items)
        );
        tell(About::LeftOut, "open", says, vec![p, q], o.items.clone());
    }
}

fn doubled(
    file: &CutFile,
    g: &Gathered,
    tell: &mut impl FnMut(About, &'static str, String, Vec<Point>, Vec<usize>),
) {
    let twice: Vec<(&crate::geom::Contour, usize, Vec<usize>)> = g
        .closed
        .iter()
        .filter(|c| c.copies.len() > 1)
        .map(|c| (&c.contour, c.copies.len(), c.copies.iter().skip(1).flatten().copied().collect()))
        .collect();
    if !twice.is_empty() {
        let spots: Vec<Point> = twice.iter().map(|(c, ..)| c.bounds().center()).collect();
        let named: Vec<String> = twice
            .iter()
            .zip(&spots)
            .take(NAMED)
            .map(|((_, n, _), p)| format!("{n} times about {}", at(file, *p)))
            .collect();
        let says = format!(
            "drawn more than once and merged, {} in all: {}{}",
            twice.len(),
            named.join("; "),
            more(twice.len())
        );
        let items = twice.into_iter().flat_map(|(.., items)| items).collect();
        tell(About::Changed, "doubled", says, spots, items);
    }
    let again: Vec<usize> = g.again.iter().flat_map(|a| a.items.iter().skip(1).copied()).collect();
    if !again.is_empty() {
        let what = many(again.len(), "line is drawn again and was", "lines are drawn again and were");
        let says = format!("{what} merged{}", listed(file, &again));
        tell(About::Changed, "doubled-lines", says, vec![], again);
    }
}

fn marks(
    file: &CutFile,
    g: &Gathered,
    tell: &mut impl FnMut(About, &'static str, String, Vec<Point>, Vec<usize>),
) {
    for (kind, one, more) in [
        (Mark::Words, "text stands", "texts stand"),
        (Mark::Point, "point stands", "points stand"),
        (Mark::Dimension, "dimension stands", "dimensions stand"),
        (Mark::Fill, "fill or picture stands", "fills and pictures stand"),
    ] {
        let of = |k: &usize| matches!(file.items.get(*k).map(|i| &i.shape), Some(Shape::Mark { what, .. }) if *what == kind);
        let items: Vec<usize> = g.marks.iter().copied().filter(of).collect();
        if !items.is_empty() {
            let says = format!(
                "{} on the layers that were looked at, left out{}",
                many(items.len(), one, more),
                listed(file, &items)
            );
            tell(About::Note, "marks", says, vec![], items);
        }
    }
}
