//! Whether what is left of a sheet hangs together, and by how much metal.
//!
//! All openings and the sheet's edge are grown by half a width: where that parts the metal, a piece of it hangs
//! by necks no wider. A closed search over pairs comes first, so that polygons are made only where openings (or
//! one opening and itself, or an opening and the edge) come near each other all round something.
//!
//! Bound: the true width lies between `lower` and `upper`, less than [`STEP`] and six chords apart; it is exact
//! where the gaps between two outlines that lie there are alike. Pieces narrower than four times their neck are chips, and
//! are not told.

use super::judge::{self, Stack};
use super::openings::{Opening, Openings, Pair};
use super::ready::{core, lies_deep};
use crate::geom::region::{self, Bound, Piece};
use crate::geom::{Contour, Gap, Rect, SLACK, Segment, distance};
use crate::panel::{Part, PartRef};

/// How far a chord may lie off its arc, mm: no neck that a tool leaves is of this size.
pub(super) const CHORD: f64 = 0.005;

/// Width that is no metal at all, mm: a touch to arithmetic slack is a cut. With a chord on either side of a
/// neck it makes the 0.03 mm of the rule's words.
pub(super) const HAIR: f64 = 0.01;

/// The last halving of a width, mm.
const STEP: f64 = 2.5 * HAIR;

/// What is left of a sheet.
pub(super) enum Left<'a> {
    /// One piece, or none hangs by so little.
    Whole,
    /// No metal.
    Nothing { first: Option<PartRef> },
    /// Pieces, the largest first, of which the second is on no neck at all.
    Falls { pieces: Vec<Piece>, openings: Vec<Opening<'a>> },
    /// A piece that hangs by a neck.
    Hangs(Neck<'a>),
}

/// A piece that hangs by little metal.
pub(super) struct Neck<'a> {
    /// Width of the widest of its necks, mm: not less, not more.
    pub lower: f64,
    pub upper: f64,
    /// The most that tolerances can take of a neck there.
    pub loss: f64,
    /// Where the neck is, if one gap alone can be it.
    pub gap: Option<Gap>,
    /// The piece, by so much too small all round.
    pub piece: Piece,
    pub grown: f64,
    /// The openings that come near each other.
    pub openings: Vec<Opening<'a>>,
}

/// Two outlines that come near each other; the edge is none.
struct Link {
    a: usize,
    b: Option<usize>,
    gap: Gap,
    loss: f64,
}

/// Looks for pieces that hang by less than `asked`, tolerances included.
pub(super) fn left<'a>(edge: &'a Part, all: &Openings<'a>, asked: f64) -> Left<'a> {
    let links = links(edge, all, asked);
    let suspects = Suspects::of(edge, all, &links, asked);
    let near = &suspects.near;
    let openings: Vec<Opening<'a>> =
        all.list.iter().zip(near).filter_map(|(o, near)| near.then_some(*o)).collect();
    if openings.is_empty() && !suspects.edge {
        // closed contours that come near neither each other nor the edge part nothing
        return Left::Whole;
    }
    let loss = links.iter().filter(|l| near.get(l.a) == Some(&true)).map(|l| l.loss).fold(0.0, f64::max);
    let cut = |width: f64| {
        let by = width / 2.0;
        let mut cut: Vec<Contour> = openings.iter().flat_map(|(_, p)| grown(&p.contour, by)).collect();
        let mut sheets = vec![edge.contour.clone()];
        if suspects.edge && width > HAIR {
            match edge.contour.offset(-by) {
                Ok(smaller) => sheets = smaller,
                Err(_) => cut.extend(band(&edge.contour, by)),
            }
        }
        let cut: Vec<&Contour> = cut.iter().collect();
        let mut pieces: Vec<Piece> =
            sheets.iter().flat_map(|sheet| region::pieces(sheet, &cut, CHORD)).collect();
        pieces.sort_by(|a, b| b.area.total_cmp(&a.area));
        pieces
    };
    let now = cut(HAIR);
    match now.len() {
        0 => return Left::Nothing { first: openings.first().map(|(r, _)| *r) },
        1 => {}
        _ => return Left::Falls { pieces: now, openings },
    }
    if !suspects.wider {
        return Left::Whole;
    }
    let most = asked + loss;
    let (mut low, mut found) = (HAIR, None);
    for width in [most / 4.0, most].into_iter().filter(|w| *w > HAIR) {
        let pieces = cut(width);
        if pieces.len() > 1 {
            found = Some((width, pieces));
            break;
        }
        low = width;
    }
    let Some((mut high, mut pieces)) = found else { return Left::Whole };
    // the gap that closes last is one between two outlines, nearly always
    let mut guesses = links.iter().flat_map(|l| [l.gap.distance - HAIR, l.gap.distance + HAIR]);
    while high - low > STEP {
        let width = guesses.find(|w| low < *w && *w < high).unwrap_or(0.5 * (low + high));
        let tried = cut(width);
        if tried.len() > 1 { (high, pieces) = (width, tried) } else { low = width }
    }
    hangs(pieces, (low, high), loss, &links, openings)
}

fn hangs<'a>(
    pieces: Vec<Piece>,
    (low, high): (f64, f64),
    loss: f64,
    links: &[Link],
    openings: Vec<Opening<'a>>,
) -> Left<'a> {
    let upper = high + 6.0 * CHORD;
    let Some(piece) = pieces.into_iter().nth(1) else { return Left::Whole };
    let mut gaps = links.iter().map(|l| l.gap).filter(|g| low <= g.distance && g.distance <= upper);
    let first = gaps.next();
    let gap = first.filter(|f| gaps.all(|g| (g.distance - f.distance).abs() <= SLACK));
    let (lower, upper) = gap.map_or((low, upper), |g| (g.distance, g.distance));
    Left::Hangs(Neck { lower, upper, loss, gap, piece, grown: high / 2.0, openings })
}

/// The pairs that come nearer than what is asked, tolerances included; those with the edge first.
fn links(edge: &Part, all: &Openings<'_>, asked: f64) -> Vec<Link> {
    let mut links = Vec::new();
    // the most that tolerances can take keeps far ones apart without a look at what they share
    let edge_most = judge::most_loss(edge);
    let core = core(&edge.contour);
    let deep = |b: &Rect, most: f64| core.is_some_and(|core| lies_deep(&core, b, asked + most + edge_most));
    for k in all.groups.iter().filter(|g| !deep(&g.around, g.most)).flat_map(|g| g.range.clone()) {
        let (p, most) = (all.list[k].1, all.alone[k].most);
        if deep(&p.contour.bounds(), most) {
            continue;
        }
        let Some(gap) = at_edge(edge, p, asked + most + edge_most) else { continue };
        let loss = judge::loss(p, edge, Stack::Within);
        // one that reaches round the whole sheet counts however far it goes
        if gap.relation == distance::Relation::Outside || gap.distance <= asked + loss + SLACK {
            links.push(Link { a: k, b: None, gap, loss });
        }
    }
    let link = |p: Pair| Link { a: p.a, b: Some(p.b), gap: p.gap, loss: p.loss };
    links.extend(all.pairs(asked).into_iter().map(link));
    links
}

/// An opening whose outline comes near the edge, or that reaches around the whole sheet.
fn at_edge(edge: &Part, p: &Part, reach: f64) -> Option<Gap> {
    let (outer, inner) = (p.contour.bounds(), edge.contour.bounds());
    let around = outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && outer.x1 >= inner.x1 && outer.y1 >= inner.y1;
    if around {
        return Some(distance::contours(&p.contour, &edge.contour));
    }
    distance::outlines_within(&p.contour, &edge.contour, reach)
}

/// What can part anything: chains that close on themselves or meet the edge in two places, and outlines that can
/// come near each other, or themselves, in more than one place. Convex openings in a chain that does not close make
/// one lump without a gap in it, and a lump that meets the edge of a sheet along one stretch leaves the rest in one
/// piece.
struct Suspects {
    /// The openings in such chains.
    near: Vec<bool>,
    /// Whether the edge takes part.
    edge: bool,
    /// Whether a width above a hair can make a difference: not all that is near is in contact.
    wider: bool,
}

impl Suspects {
    fn of(edge: &Part, all: &Openings<'_>, links: &[Link], asked: f64) -> Suspects {
        let narrow = pinches(&edge.contour, asked);
        if links.is_empty() && !all.alone.iter().any(|o| o.pinched) {
            return Suspects { near: vec![false; all.list.len()], edge: narrow, wider: narrow };
        }
        // stretches of the edge that a chain is near; two are too many
        let mut places: Vec<u32> = all.alone.iter().map(|o| if o.pinched { MANY } else { 0 }).collect();
        let mut root: Vec<usize> = (0..places.len()).collect();
        let hollow = |k: usize| all.alone[k].hollow;
        let mut open: Vec<bool> = places.iter().map(|p| *p >= MANY).collect();
        for link in links {
            let a = top(&mut root, link.a);
            let apart = link.gap.distance > HAIR;
            match link.b {
                None => {
                    let shape = &all.list[link.a].1.contour;
                    let along =
                        |reach| if hollow(link.a) { MANY } else { stretches(&edge.contour, shape, reach) };
                    let more = along(asked + link.loss);
                    places[a] = (places[a] + more).min(MANY);
                    open[a] |= apart || hollow(link.a) || along(HAIR) != more;
                }
                Some(b) => {
                    let twice = hollow(link.a) || hollow(b);
                    let b = top(&mut root, b);
                    places[a] = if a == b || twice { MANY } else { (places[a] + places[b]).min(MANY) };
                    open[a] |= open[b] || apart || twice;
                    root[b] = a;
                }
            }
        }
        let tops: Vec<usize> = (0..places.len()).map(|k| top(&mut root, k)).collect();
        let near: Vec<bool> = tops.iter().map(|k| places[*k] >= MANY).collect();
        let edge = narrow || links.iter().any(|l| l.b.is_none() && near[l.a]);
        let wider = narrow || tops.iter().any(|k| places[*k] >= MANY && open[*k]);
        Suspects { near, edge, wider }
    }
}

/// Stretches of the edge from which on a chain may part the sheet.
const MANY: u32 = 2;

/// Along how many stretches of an outline a convex shape is near it, at most: the near part of a straight is one,
/// and two that follow each other are one where their corner is near too.
fn stretches(edge: &Contour, shape: &Contour, reach: f64) -> u32 {
    let mut count = 0;
    for (s, b) in edge.boxed() {
        let far = distance::box_distance2(b, &shape.bounds()) > reach * reach
            || distance::within(&Contour::from_checked(vec![*s]), shape, reach).is_none();
        match s {
            _ if far => {}
            Segment::Arc(_) => return MANY,
            Segment::Line(l) => {
                let corner = distance::point_contour(l.b, shape);
                let joined = corner.distance <= reach || corner.relation == distance::Relation::Inside;
                count += u32::from(!joined);
            }
        }
    }
    // all corners near: the whole outline, or a shape that holds it
    if count == 0 { MANY } else { count }
}

/// The one that stands for a chain.
fn top(root: &mut [usize], mut k: usize) -> usize {
    while root[k] != k {
        root[k] = root[root[k]];
        k = root[k];
    }
    k
}

/// Whether an outline comes as near to itself as this without following itself: a hollow one may.
pub(super) fn pinches(c: &Contour, reach: f64) -> bool {
    if c.is_convex() {
        return false;
    }
    let pieces: Vec<_> = c.boxed().map(|(s, b)| (s, b.inflate(reach / 2.0, reach / 2.0))).collect();
    // how far along the outline each piece begins
    let mut whole = 0.0;
    let starts: Vec<f64> = pieces
        .iter()
        .map(|(s, _)| {
            whole += s.len();
            whole - s.len()
        })
        .collect();
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by(|i, j| pieces[*i].1.x0.total_cmp(&pieces[*j].1.x0));
    let mut open: Vec<usize> = Vec::new();
    for &i in &order {
        let here = pieces[i].1;
        open.retain(|&j| pieces[j].1.x1 >= here.x0);
        for &j in &open {
            let there = pieces[j].1;
            if there.y0 > here.y1 || here.y0 > there.y1 {
                continue;
            }
            // what lies between the two along the outline, the shorter way
            let (first, second) = (i.min(j), i.max(j));
            let one = starts[second] - starts[first] - pieces[first].0.len();
            let other = whole - one - pieces[first].0.len() - pieces[second].0.len();
            // what is cut off by a neck is longer round than it is wide
            if one.min(other) > 2.0 * reach && distance::pair(pieces[i].0, pieces[j].0).distance() <= reach {
                return true;
            }
        }
        open.push(i);
    }
    false
}

/// A shape and all that lies within a distance of it.
fn grown(c: &Contour, by: f64) -> Vec<Contour> {
    // the islands that a hollow shape closes off are metal: its offset would fill them
    let offset = if c.is_convex() { c.offset(by).ok() } else { None };
    offset.unwrap_or_else(|| band(c, by).into_iter().chain([c.clone()]).collect())
}

/// What lies within a distance of an outline, and at most three chords more.
fn band(c: &Contour, by: f64) -> Vec<Contour> {
    let corners = region::polygon(c, Bound::Around, CHORD);
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| Contour::slot(*a, *b, by + CHORD)).collect()
}
