//! From closed contours to a sheet: which is the outline, which are openings, which lie elsewhere.

use super::round;
use super::{About, Options, Piece, Told, many};
use crate::cut::{Field, Gathered, Open, at, item, meeting, mm, neighbours, nest};
use crate::geom::{Contour, Point, Rect, Segment};
use crate::import::CutFile;

/// Outline and openings; ids are still empty.
pub struct Sorted {
    /// The outline.
    pub outline: Option<Piece>,
    /// The openings.
    pub openings: Vec<Piece>,
}

impl Sorted {
    /// What an item's contour became: an opening by its place, None for the outline; nothing if it is neither.
    pub fn of(&self, item: usize) -> Option<Option<usize>> {
        let own = |p: &Piece| p.items == [item];
        if self.outline.as_ref().is_some_and(own) {
            return Some(None);
        }
        self.openings.iter().position(own).map(Some)
    }
}

/// Sorts the closed contours. Circles that are drawn as something else are written as circles within the tolerance.
pub fn sort(file: &CutFile, g: &Gathered, options: &Options, told: &mut Vec<Told>) -> Sorted {
    let mut tell = |about, code, says, at: Vec<Point>, items: Vec<usize>| {
        told.push(Told { about, code, says, at, items });
    };
    let mut list: Vec<Piece> = Vec::new();
    for c in &g.closed {
        let items = c.copies.first().cloned().unwrap_or_default();
        if let Some(p) = c.crossing {
            let says =
                format!("a contour crosses or touches itself at {}: {}", at(file, p), names(file, &items));
            tell(About::LeftOut, "crosses-itself", says, vec![p], items);
            continue;
        }
        list.push(rounded(c.contour.ccw(), items, options.round));
    }
    round_told(&list, options, &mut tell);
    let contours: Vec<Contour> = list.iter().map(|p| p.contour.clone()).collect();
    let Some(places) = nest(&contours) else {
        let says = "there are too many contours to tell which lies in which".to_owned();
        tell(About::Question, "too-many", says, vec![], vec![]);
        return Sorted { outline: None, openings: vec![] };
    };
    let mut within = vec![0usize; list.len()];
    for parent in places.iter().filter_map(|p| p.parent) {
        within[parent] += 1;
    }
    let children = |k: usize| within[k];
    let outer: Vec<usize> = (0..list.len()).filter(|k| places[*k].depth == 0).collect();
    let holders: Vec<usize> = outer.iter().copied().filter(|k| children(*k) > 0).collect();
    let sheet = match (holders.as_slice(), outer.as_slice()) {
        ([one], _) => Some(*one),
        ([], [one]) => Some(*one),
        ([], []) => {
            let says =
                "no closed contour is on the layers that were looked at: there is no outline".to_owned();
            tell(About::Question, "no-outline", says, vec![], vec![]);
            None
        }
        ([], many) => {
            let says = format!(
                "none of the {} closed contours holds another: the sheet's outline is not among them (is it open, or on a layer that was not looked at?)",
                many.len()
            );
            tell(About::Question, "no-outline", says, vec![], vec![]);
            None
        }
        (many, _) => {
            let where_ = |k: &usize| list[*k].contour.bounds().center();
            let spots: Vec<String> = many.iter().map(|k| at(file, where_(k))).collect();
            let says = format!(
                "{} contours hold others, about {}: name the layers of one sheet with --layers, or save each sheet in a file of its own",
                many.len(),
                spots.join(", ")
            );
            let items = many.iter().flat_map(|k| list[*k].items.clone()).collect();
            tell(About::Question, "several-outlines", says, many.iter().map(where_).collect(), items);
            None
        }
    };
    let Some(sheet) = sheet else { return Sorted { outline: None, openings: vec![] } };
    let inner: Vec<usize> = (0..list.len()).filter(|k| places[*k].parent == Some(sheet)).collect();
    if let [only] = inner.as_slice()
        && children(*only) > 1
    {
        let says = format!(
            "the outermost contour holds one other that holds {} more: if the outermost is the drawing's frame, leave its layer out with --layers",
            children(*only)
        );
        tell(
            About::Question,
            "frame",
            says,
            vec![list[sheet].contour.bounds().center()],
            list[sheet].items.clone(),
        );
    }
    let own = list[sheet].contour.bounds();
    let around = |o: &&Open| {
        let b = o.pieces.iter().map(Segment::bounds).reduce(|a, b| a.union(b));
        b.is_some_and(|b| b != own && b.union(own) == b)
    };
    if let Some(o) = g.open.iter().find(around) {
        let says = "a line that goes round everything found is open: is it the outline? Close it in the drawing, or say --join with its gap".to_owned();
        let ends = o.pieces.first().map(Segment::start).into_iter().chain(o.pieces.last().map(Segment::end));
        tell(About::Question, "open-outline", says, ends.collect(), o.items.clone());
    }
    let crossed = crossed(&list, sheet);
    let mut openings = Vec::new();
    let (mut deep, mut gone) = (Vec::new(), 0);
    let (mut outline, mut aside) = (None, Vec::new());
    for (k, piece) in list.into_iter().enumerate() {
        let place = places[k];
        if k == sheet {
            outline = Some(piece);
        } else if crossed.binary_search(&k).is_ok() {
            let p = piece.contour.bounds().center();
            let says = format!(
                "a contour about {} crosses or touches the outline: {}",
                at(file, p),
                names(file, &piece.items)
            );
            tell(About::LeftOut, "crosses-outline", says, vec![p], piece.items);
        } else if place.depth == 0 {
            aside.push(piece);
        } else if place.depth == 1 {
            openings.push(piece);
        } else {
            // an old hole that a new opening swallows is no metal
            let old = piece
                .items
                .iter()
                .filter_map(|i| file.layers.get(file.items.get(*i)?.layer))
                .any(|l| l.name.eq_ignore_ascii_case("existing"));
            if old { gone += 1 } else { deep.push(piece.contour.bounds().center()) }
        }
    }
    for piece in aside {
        let p = piece.contour.bounds().center();
        let says = format!(
            "a contour about {} lies outside the outline: {}",
            at(file, p),
            names(file, &piece.items)
        );
        tell(About::LeftOut, "outside", says, vec![p], piece.items);
    }
    if let Some(p) = deep.first() {
        let what = many(deep.len(), "contour lies", "contours lie");
        let says =
            format!("{what} within an opening, the first about {}: metal there falls out", at(file, *p));
        tell(About::LeftOut, "within-an-opening", says, deep, vec![]);
    }
    if gone > 0 {
        let what = many(
            gone,
            "existing opening lies within another and is gone with it",
            "existing openings lie within others and are gone with them",
        );
        tell(About::Note, "gone", what, vec![], vec![]);
    }
    overlaps(file, &openings, &mut tell);
    // rows from the top, each from the left: boxes whose middles are within 5 mm of height are one row
    openings.sort_by(|a, b| {
        let key = |p: &Piece| {
            let c = p.contour.bounds().center();
            ((-c.y / 10.0).round(), c.x, c.y)
        };
        let (a, b) = (key(a), key(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(b.2.total_cmp(&a.2))
    });
    Sorted { outline, openings }
}

fn names(file: &CutFile, items: &[usize]) -> String {
    let shown: Vec<String> = items.iter().take(3).map(|k| item(file, *k)).collect();
    let more = items.len().saturating_sub(3);
    if more > 0 { format!("{} and {more} more", shown.join("; ")) } else { shown.join("; ") }
}

/// A contour as a circle where it leaves one by no more than the tolerance.
fn rounded(contour: Contour, items: Vec<usize>, tolerance: f64) -> Piece {
    let plain = Piece { id: String::new(), contour, items, rounded: None, doubt: None };
    if plain.contour.as_circle().is_some() {
        return plain;
    }
    match round::circle(&plain.contour) {
        // so small a contour that everything is within the tolerance is no circle
        Some(f) if f.off <= tolerance && f.radius > 20.0 * tolerance => {
            Piece { contour: Contour::circle(f.centre, f.radius), rounded: Some(f.off), ..plain }
        }
        _ => plain,
    }
}

fn round_told(
    list: &[Piece],
    options: &Options,
    tell: &mut impl FnMut(About, &'static str, String, Vec<Point>, Vec<usize>),
) {
    let (n, worst) =
        list.iter().filter_map(|p| p.rounded).fold((0, 0.0f64), |(n, w), off| (n + 1, w.max(off)));
    if n > 0 {
        let says = format!(
            "closed contours not drawn as circles but taken for such, {n} in all: they leave them by at most {} (allowed {}, --round)",
            mm(worst),
            mm(options.round)
        );
        let at = list.iter().filter(|p| p.rounded.is_some()).map(|p| p.contour.bounds().center()).collect();
        tell(About::Changed, "circles", says, at, vec![]);
    }
}

/// Contours that meet the outline.
fn crossed(list: &[Piece], sheet: usize) -> Vec<usize> {
    let others: Vec<usize> = (0..list.len()).filter(|k| *k != sheet).collect();
    let shapes: Vec<&[Segment]> = others.iter().map(|k| list[*k].contour.segments()).collect();
    meeting(list[sheet].contour.segments(), &shapes).into_iter().map(|k| others[k]).collect()
}

/// Openings that cross each other are one hole in the metal: they stay, and are told.
fn overlaps(
    file: &CutFile,
    openings: &[Piece],
    tell: &mut impl FnMut(About, &'static str, String, Vec<Point>, Vec<usize>),
) {
    let boxes: Vec<Rect> = openings.iter().map(|p| p.contour.bounds()).collect();
    let shapes: Vec<&[Segment]> =
        neighbours(&boxes).into_iter().map(|k| openings[k].contour.segments()).collect();
    let meet = Field::new(&shapes).meetings(|_| true);
    let places: Vec<Point> =
        meet.crossings.values().copied().chain(meet.overlaps.values().map(|o| o.1[0])).collect();
    if let Some(p) = places.first() {
        let says = format!(
            "openings cross or touch each other at {}, the first {}: each is in the panel as drawn",
            many(places.len(), "place", "places"),
            at(file, *p)
        );
        tell(About::Note, "openings-cross", says, places, vec![]);
    }
}
