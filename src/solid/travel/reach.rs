//! A solid that a link carries, with what is asked again and again: its pieces as a tree, and a certified box of all
//! the room that it can take.

use super::chain::{Chain, Step};
use super::tree::{Node, Tree};
use super::{Joint, LinkRef, Mechanism};
use crate::solid::{Bounds, Core, Pose, Shape, Solid, Vec3};
use std::f64::consts::TAU;
use std::sync::Arc;

/// A solid, what carries it, and by how much it is grown.
#[derive(Clone, Copy, Debug)]
pub struct Moved<'a> {
    /// In the zero pose, panel's frame.
    pub solid: &'a Solid,
    /// Link that carries it; `None`: it stands still.
    pub link: Option<LinkRef>,
    /// Envelope all round, mm: a hand's, what the links' play takes.
    pub grow: f64,
}

/// A solid made ready to be asked.
#[derive(Clone, Debug)]
pub struct Reach<'a> {
    pub(super) mechanism: &'a Mechanism,
    pub(super) moved: Moved<'a>,
    pub(super) tree: Tree<'a>,
    bounds: Bounds,
    /// Boxes that together hold it wherever its drivers stand.
    boxes: Arc<[Bounds]>,
}

/// How much too large the box of a swept solid may be for the bend of its points' paths, mm.
const FINE: f64 = 2.0;

/// Drivers up to which all corners of their domain are looked at; beyond, its middle.
const CORNERED: usize = 6;

/// Parts of the drivers' domain that are looked at for the box of a swept solid.
const PARTS: usize = 64;

impl<'a> Reach<'a> {
    /// A solid made ready.
    pub fn new(mechanism: &'a Mechanism, moved: Moved<'a>) -> Reach<'a> {
        Reach::knowing(mechanism, moved, None)
    }

    /// The same where it is known already what it [sweeps](Reach::swept): the same solid on the same mechanism, as before.
    pub fn knowing(
        mechanism: &'a Mechanism,
        moved: Moved<'a>,
        swept_before: Option<&Arc<[Bounds]>>,
    ) -> Reach<'a> {
        let tree = Tree::new(moved.solid);
        let boxes = swept_before.cloned().unwrap_or_else(|| swept(mechanism, &moved, &tree).into());
        let bounds = whole(&boxes, &moved);
        Reach { mechanism, moved, tree, bounds, boxes }
    }

    /// What it was made of.
    pub fn moved(&self) -> &Moved<'a> {
        &self.moved
    }

    /// Boxes that together hold it, grown, wherever its drivers stand.
    pub fn swept(&self) -> &Arc<[Bounds]> {
        &self.boxes
    }

    /// A box that holds the solid, grown, wherever its drivers stand: larger than needed by at most 2 mm a side for one
    /// link that turns by up to 90 degrees either way within half a metre; coarser where several turn.
    pub fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// Whether it may come within `reach` of a box anywhere in its travel: `false` is certain.
    pub fn may_meet(&self, b: &Bounds, reach: f64) -> bool {
        self.bounds.distance(b) <= reach && self.boxes.iter().any(|own| own.distance(b) <= reach)
    }
}

/// Runs of pieces that get a box each.
const GROUPS: usize = 6;

/// A box that holds a solid, grown, wherever its drivers stand.
pub fn bounds(mechanism: &Mechanism, moved: Moved<'_>) -> Bounds {
    whole(&swept(mechanism, &moved, &Tree::new(moved.solid)), &moved)
}

/// The box around boxes.
fn whole(boxes: &[Bounds], moved: &Moved<'_>) -> Bounds {
    let all = boxes.iter().copied().reduce(|a, b| a.union(&b));
    all.unwrap_or_else(|| moved.solid.bounds().grown(moved.grow))
}

/// Boxes that together hold a solid, grown, wherever its drivers stand.
fn swept(mechanism: &Mechanism, moved: &Moved<'_>, tree: &Tree<'_>) -> Vec<Bounds> {
    let Some(link) = moved.link else { return vec![moved.solid.bounds().grown(moved.grow)] };
    let links = carrying(mechanism, link, moved.solid, None);
    let drivers = moving(mechanism, &links);
    let chain = chain(mechanism, &links, &drivers);
    let domain = domain(mechanism, &drivers);
    // neighbours in the list of pieces are neighbours in space
    let leaves: Vec<_> = tree.leaves().collect();
    let groups: Vec<_> = leaves.chunks(leaves.len().div_ceil(GROUPS).max(1)).collect();
    let mut all = Vec::new();
    for part in parts(&chain, tree, &domain, PARTS, |room| room.bent <= FINE) {
        let (poses, stray) = part.poses(&chain);
        for group in &groups {
            let boxes = poses.iter().flat_map(|pose| {
                let of = |node: &&Node<'_>| placed(node.core(), pose).grown(node.radius + moved.grow + stray);
                group.iter().map(of)
            });
            all.extend(boxes.reduce(|a, b| a.union(&b)));
        }
    }
    all
}

/// Smallest upright box of a core that has moved.
fn placed(core: &Core, pose: &Pose) -> Bounds {
    let [x, y, d] = [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::FORWARD].map(|u| pose.back(u));
    let at = |u: Vec3| pose.point(core.support(u));
    Bounds { low: Vec3::new(at(-x).x, at(-y).y, at(-d).d), high: Vec3::new(at(x).x, at(y).y, at(d).d) }
}

/// How far the points of a solid stray from what stands for a part of the domain, mm.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Room {
    /// From the hull of the poses at the corners: half the square of the half range times the bend, summed.
    pub bent: f64,
    /// From the poses with the drivers that bend at their middle: half range times rate, summed.
    pub gone: f64,
    /// From the pose with all drivers at their middle.
    pub all: f64,
}

/// A part of the domain.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// Low and high of each driver.
    pub range: Vec<[f64; 2]>,
    /// How far points stray.
    pub room: Room,
}

impl Part {
    /// Poses whose hull, grown by the number, holds the solid wherever its drivers stand in this part.
    pub fn poses(&self, chain: &Chain) -> (Vec<Pose>, f64) {
        if self.range.iter().filter(|[low, high]| low < high).count() <= CORNERED {
            (corners(&self.range).iter().map(|c| chain.pose(c)).collect(), self.room.bent)
        } else {
            (vec![chain.pose(&middles(&self.range).0)], self.room.all)
        }
    }
}

/// The domain in parts, fine enough each by itself or `most` in number; only drivers on which paths bend are cut.
pub(super) fn parts(
    chain: &Chain,
    tree: &Tree<'_>,
    domain: &[[f64; 2]],
    most: usize,
    fine: impl Fn(&Room) -> bool,
) -> Vec<Part> {
    let (middles, halves) = middles(domain);
    let motions: Vec<_> = tree.leaves().map(|n| chain.motion(&n.corners, &middles, &halves)).collect();
    let most_of = |pick: &dyn Fn(&super::chain::Motion) -> f64| motions.iter().map(pick).fold(0.0, f64::max);
    let rate: Vec<f64> =
        (0..domain.len()).map(|d| most_of(&|m| m.rate.get(d).copied().unwrap_or_default())).collect();
    let bend: Vec<f64> =
        (0..domain.len()).map(|d| most_of(&|m| m.bend.get(d).copied().unwrap_or_default())).collect();
    let room = |range: &[[f64; 2]]| {
        range.iter().zip(rate.iter().zip(&bend)).fold(Room::default(), |room, ([low, high], (rate, bend))| {
            let half = (high - low) / 2.0;
            let gone = if *bend > 0.0 { half * rate } else { 0.0 };
            Room {
                bent: room.bent + half * half / 2.0 * bend,
                gone: room.gone + gone,
                all: room.all + half * rate,
            }
        })
    };
    let mut parts = vec![Part { range: domain.to_vec(), room: room(domain) }];
    // all are cut alike, so the order is that of a queue
    let mut next = 0;
    while let Some(part) = parts.get(next) {
        let cost = |d: usize, r: &[f64; 2]| (r[1] - r[0]) * rate.get(d).copied().unwrap_or_default();
        let widest = part
            .range
            .iter()
            .enumerate()
            .filter(|(d, r)| bend.get(*d).is_some_and(|b| *b > 0.0) && r[1] > r[0])
            .max_by(|(c, r), (d, s)| cost(*c, r).total_cmp(&cost(*d, s)));
        let Some((d, &[low, high])) = widest.filter(|_| !fine(&part.room)) else {
            next += 1;
            continue;
        };
        if parts.len() - next >= most {
            break;
        }
        let middle = (low + high) / 2.0;
        let halves = [[low, middle], [middle, high]].map(|r| {
            let mut range = part.range.clone();
            if let Some(slot) = range.get_mut(d) {
                *slot = r;
            }
            Part { room: room(&range), range }
        });
        // the queue's front goes, its halves join its end
        parts.remove(next);
        parts.extend(halves);
    }
    parts
}

/// All corners of a range; one where a driver's low and high are one.
pub(super) fn corners(range: &[[f64; 2]]) -> Vec<Vec<f64>> {
    let mut all = vec![Vec::with_capacity(range.len())];
    for [low, high] in range {
        let ends: &[f64] = if low < high { &[*low, *high] } else { &[*low] };
        all = all
            .iter()
            .flat_map(|c: &Vec<f64>| {
                ends.iter().map(|e| {
                    let mut c = c.clone();
                    c.push(*e);
                    c
                })
            })
            .collect();
    }
    all
}

/// Middles and half widths of a range.
pub(super) fn middles(domain: &[[f64; 2]]) -> (Vec<f64>, Vec<f64>) {
    domain.iter().map(|[low, high]| ((low + high) / 2.0, (high - low) / 2.0)).unzip()
}

/// The links that carry a solid, from the one next to the frame of `above` (the airframe) outwards, without joints
/// that do nothing and without pivots that turn the solid about its own axis, which leave it where it is.
pub(super) fn carrying(
    mechanism: &Mechanism,
    link: LinkRef,
    solid: &Solid,
    above: Option<LinkRef>,
) -> Vec<LinkRef> {
    let mut out: Vec<LinkRef> = mechanism.down(link).take_while(|&l| Some(l) != above).collect();
    out.retain(|&l| mechanism.links.get(l).is_some_and(|at| at.joint != Joint::Fixed));
    // from the solid inwards: slides along the axis do not change it
    let mut kept = Vec::with_capacity(out.len());
    let mut seen = true;
    let mut along: Vec<Vec3> = Vec::new();
    for l in out {
        let joint = mechanism.links.get(l).map_or(Joint::Fixed, |at| at.joint);
        match joint {
            Joint::Pivot(point, axis) if seen => {
                let slides = along.iter().all(|s| s.cross(axis).length() <= 1e-12);
                if slides && turns_in_place(solid, point, axis) {
                    continue;
                }
                seen = false;
            }
            Joint::Slide(s) => along.push(s),
            _ => {}
        }
        kept.push(l);
    }
    kept.reverse();
    kept
}

/// Whether turning a solid about an axis leaves it where it is, to 1e-9 mm.
fn turns_in_place(solid: &Solid, point: Vec3, axis: Vec3) -> bool {
    let on = |p: Vec3| axis.cross(p - point).length() <= 1e-9;
    let ring = |path: &[crate::solid::Leg]| {
        let pose = solid.pose();
        let mut turned = 0.0;
        let coaxial = path.iter().all(|leg| match leg {
            crate::solid::Leg::Arc { centre, axis: own, angle, .. } => {
                turned += angle;
                on(pose.point(*centre)) && on(pose.point(*centre + *own * 1e3))
            }
            crate::solid::Leg::Line(..) => false,
        });
        coaxial && turned.abs() >= TAU - 1e-12
    };
    match solid.shape() {
        Shape::Tube { path, .. } => ring(path),
        _ => solid.pieces().iter().all(|piece| match &piece.core {
            Core::Points(points) => points.iter().all(|p| on(*p)),
            // the far end of a metre of axis, so that a slant of 1e-12 shows
            Core::Bar { ends: [a, b], axis: own, .. } => on(*a) && on(*b) && on(*a + *own * 1e3),
            Core::Prism { section, from, pose, .. } => section.as_circle().is_some_and(|(centre, _)| {
                let at = |d: f64| pose.point(Vec3::new(centre.x, centre.y, d));
                on(at(*from)) && on(at(*from + 1e3))
            }),
        }),
    }
}

/// Drivers that move any of some links, in rising order.
pub(super) fn moving(mechanism: &Mechanism, links: &[LinkRef]) -> Vec<usize> {
    let mut found: Vec<usize> = links
        .iter()
        .filter_map(|&l| mechanism.links.get(l))
        .flat_map(|l| &l.follows)
        .filter(|f| f.by != 0.0)
        .filter(|f| mechanism.drivers.get(f.driver).is_some_and(|d| d.domain().0 < d.domain().1))
        .map(|f| f.driver)
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// What drivers can be.
pub(super) fn domain(mechanism: &Mechanism, drivers: &[usize]) -> Vec<[f64; 2]> {
    let of = |&d: &usize| mechanism.drivers.get(d).map_or([0.0, 0.0], |d| [d.domain().0, d.domain().1]);
    drivers.iter().map(of).collect()
}

/// The joints of links, by a list of drivers.
pub(super) fn chain(mechanism: &Mechanism, links: &[LinkRef], drivers: &[usize]) -> Chain {
    Chain::new(links.iter().filter_map(|&l| Step::new(mechanism, l, drivers)).collect())
}
