//! From the items of a file to what a machine would cut: contours, open chains, and what is neither.

use super::chain::{self, Chain, Trail};
use super::same;
use super::shapes;
use crate::geom::{Contour, ContourError, Point, SLACK, Segment};
use crate::import::{CutFile, Shape};

/// A closed contour with all its copies.
#[derive(Clone, Debug)]
pub struct Closed {
    /// The contour.
    pub contour: Contour,
    /// Items that draw it, of each copy.
    pub copies: Vec<Vec<usize>>,
    /// Gaps that were joined.
    pub joined: Vec<(f64, Point)>,
    /// Where it crosses or touches itself.
    pub crossing: Option<Point>,
}

/// An open chain.
#[derive(Clone, Debug)]
pub struct Open {
    /// Its pieces.
    pub pieces: Vec<Segment>,
    /// Items.
    pub items: Vec<usize>,
    /// Whether a curve in it was not read.
    pub unread: bool,
}

/// An open item that is drawn again.
#[derive(Clone, Debug)]
pub struct Again {
    /// All items, the first one first.
    pub items: Vec<usize>,
    /// Its pieces.
    pub pieces: Vec<Segment>,
}

/// What stands on the cut layers.
#[derive(Clone, Debug, Default)]
pub struct Gathered {
    /// Closed contours, each once.
    pub closed: Vec<Closed>,
    /// Open chains.
    pub open: Vec<Open>,
    /// Open items drawn more than once.
    pub again: Vec<Again>,
    /// Items without length, and where.
    pub without_length: Vec<(usize, Point)>,
    /// Texts, points and the like.
    pub marks: Vec<usize>,
    /// Items not read, or with a curve that was not.
    pub unread: Vec<usize>,
    /// Closed chains that are no contour: why, and their items.
    pub no_contour: Vec<(ContourError, Vec<usize>)>,
    /// Items not in the picture (paper space, invisible).
    pub hidden: Vec<usize>,
    /// Every item that would be cut as a line.
    pub lines: Vec<usize>,
    /// Length as the file stands, mm.
    pub length: f64,
}

/// Gathers the items of the layers that are cut.
pub fn gather(file: &CutFile, cut: &[bool], join: f64) -> Gathered {
    let mut out = Gathered::default();
    let mut trails: Vec<Trail> = Vec::new();
    let mut rings: Vec<(Vec<Segment>, usize)> = Vec::new();
    for (k, item) in file.items.iter().enumerate() {
        // what stands behind a reference that could not be followed may be on any layer
        let reference = matches!(item.shape, Shape::NotRead(_)) && is_reference(&item.kind);
        if !cut.get(item.layer).copied().unwrap_or(false) && !reference {
            continue;
        }
        if item.hidden.is_some() {
            out.hidden.push(k);
            continue;
        }
        match &item.shape {
            Shape::Mark { .. } => out.marks.push(k),
            Shape::NotRead(_) => out.unread.push(k),
            Shape::Chain { pieces, closed, curves } => {
                out.lines.push(k);
                out.length += pieces.iter().map(Segment::len).sum::<f64>();
                let unread = !curves.is_empty();
                if unread {
                    out.unread.push(k);
                }
                let long = pieces.iter().any(|s| s.len() > SLACK);
                match (unread, *closed) {
                    (true, true) => {}
                    (true, false) => trails.push(Trail { pieces: pieces.clone(), item: k, unread }),
                    (false, _) if !long => {
                        let at = pieces.first().map_or(Point::ORIGIN, Segment::start);
                        out.without_length.push((k, at));
                    }
                    (false, true) => rings.push((pieces.clone(), k)),
                    (false, false) => trails.push(Trail { pieces: pieces.clone(), item: k, unread }),
                }
            }
        }
    }
    // of a curve that was not read only the chord is known: nothing can be said to be the same as it
    let (unread, known): (Vec<Trail>, Vec<Trail>) = trails.into_iter().partition(|t| t.unread);
    let mut trails = once(known, &mut out.again);
    trails.extend(unread);
    let mut loops: Vec<Chain> = chain::chains(&trails, join);
    loops.extend(rings.into_iter().map(|(pieces, item)| Chain {
        pieces,
        items: vec![item],
        closed: true,
        unread: false,
        joined: vec![],
    }));
    let mut found: Vec<Closed> = Vec::new();
    for c in loops {
        if !c.closed {
            out.open.push(Open { pieces: c.pieces, items: c.items, unread: c.unread });
        } else if !c.unread {
            contour(c, &mut found, &mut out.no_contour);
        }
    }
    found.sort_by_key(|c| c.copies.iter().flatten().min().copied());
    out.open.sort_by_key(|o| o.items.iter().min().copied());
    out.closed = merged(found);
    repeated_contours(&mut out);
    out
}

/// Whether an item stands for others.
pub fn is_reference(kind: &str) -> bool {
    kind.starts_with("INSERT") || kind == "use"
}

/// Open items, each once; the others are told.
fn once(trails: Vec<Trail>, again: &mut Vec<Again>) -> Vec<Trail> {
    let shapes: Vec<&[Segment]> = trails.iter().map(|t| t.pieces.as_slice()).collect();
    let first = same::first_of(&shapes, false);
    let mut groups: Vec<Vec<usize>> = vec![vec![]; trails.len()];
    for (k, f) in first.iter().enumerate() {
        if let Some(g) = groups.get_mut(*f) {
            g.push(k);
        }
    }
    for g in groups.iter().filter(|g| g.len() > 1) {
        let pieces = g.first().and_then(|k| trails.get(*k)).map(|t| t.pieces.clone()).unwrap_or_default();
        let items = g.iter().filter_map(|k| trails.get(*k)).map(|t| t.item).collect();
        again.push(Again { items, pieces });
    }
    trails.into_iter().zip(first).enumerate().filter(|(k, (_, f))| k == f).map(|(_, (t, _))| t).collect()
}

fn contour(c: Chain, found: &mut Vec<Closed>, bad: &mut Vec<(ContourError, Vec<usize>)>) {
    let pieces = chain::bridged(&c.pieces);
    let plain = shapes::as_circle(&pieces);
    let made = match plain {
        Some(circle) => Ok((circle, None)),
        None => match Contour::new(pieces.clone()) {
            Ok(c) => Ok((c, None)),
            Err(ContourError::SelfCrossing { at, .. }) => Ok((Contour::from_checked(pieces), Some(at))),
            Err(e) => Err(e),
        },
    };
    match made {
        Ok((contour, crossing)) => {
            found.push(Closed { contour, copies: vec![c.items], joined: c.joined, crossing });
        }
        Err(e) => bad.push((e, c.items)),
    }
}

/// Equal contours in one.
fn merged(found: Vec<Closed>) -> Vec<Closed> {
    let first = {
        let shapes: Vec<&[Segment]> = found.iter().map(|c| c.contour.segments()).collect();
        same::first_of(&shapes, true)
    };
    let mut out: Vec<Option<Closed>> = vec![None; found.len()];
    for (c, f) in found.into_iter().zip(first) {
        match out.get_mut(f) {
            Some(Some(kept)) => kept.copies.extend(c.copies),
            Some(empty) => *empty = Some(c),
            None => {}
        }
    }
    out.into_iter().flatten().collect()
}

/// A contour whose every item is drawn the same number of times is itself drawn so often: told once, not
/// once for every item.
fn repeated_contours(out: &mut Gathered) {
    if out.again.is_empty() {
        return;
    }
    let mut of: std::collections::BTreeMap<usize, usize> = std::collections::BTreeMap::new();
    for (g, a) in out.again.iter().enumerate() {
        if let Some(first) = a.items.first() {
            of.insert(*first, g);
        }
    }
    let mut told = vec![false; out.again.len()];
    for c in &mut out.closed {
        let Some(items) = c.copies.first() else { continue };
        let groups: Option<Vec<usize>> = items.iter().map(|i| of.get(i).copied()).collect();
        let Some(groups) = groups else { continue };
        let times: Vec<usize> =
            groups.iter().filter_map(|g| out.again.get(*g)).map(|a| a.items.len()).collect();
        let Some(&n) = times.first() else { continue };
        if times.iter().any(|t| *t != n) {
            continue;
        }
        for k in 1..n {
            let copy = groups.iter().filter_map(|g| out.again.get(*g)?.items.get(k).copied()).collect();
            c.copies.push(copy);
        }
        for g in groups {
            if let Some(t) = told.get_mut(g) {
                *t = true;
            }
        }
    }
    let mut k = 0;
    out.again.retain(|_| {
        k += 1;
        !told.get(k - 1).copied().unwrap_or(false)
    });
}
