//! A mechanism: a forest of links; each link hangs on another or on the airframe by one joint, and the joint
//! follows drivers.

use crate::solid::{Pose, Vec3};
use std::f64::consts::PI;

/// What a driver's number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DriverKind {
    /// Millimetres.
    Slide,
    /// Degrees.
    Turn,
}

/// One thing that is moved: fore-aft travel, roll, pedals, trim, a lever, a canopy.
#[derive(Clone, Debug, PartialEq)]
pub struct Driver {
    /// Id within the panel.
    pub id: String,
    /// What its number is.
    pub kind: DriverKind,
    /// Stops, low and high, in its unit (mm or degrees).
    pub stops: (f64, f64),
    /// Where it stands at rest.
    pub neutral: f64,
    /// How far it can be forced past each stop (surface stops, cable stretch), in its unit, not negative; `None`:
    /// not said, which withholds.
    pub over: Option<(f64, f64)>,
}

impl Driver {
    /// All that it can be: the stops, widened by how far it can be forced past them.
    pub fn domain(&self) -> (f64, f64) {
        let over = self.over.unwrap_or_default();
        (self.stops.0 - over.0, self.stops.1 + over.1)
    }
}

/// How a link moves against the one it hangs on. Points and directions are those of the zero pose, in which every
/// driver is 0, in the panel's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joint {
    /// Not at all.
    Fixed,
    /// Along a unit vector, by millimetres.
    Slide(Vec3),
    /// About the line through a point along a unit vector, by degrees, as [`Pose::about`] turns.
    Pivot(Vec3, Vec3),
}

impl Joint {
    /// The move that it makes at a number (mm, degrees).
    pub fn at(&self, number: f64) -> Pose {
        match *self {
            Joint::Fixed => Pose::IDENTITY,
            Joint::Slide(along) => Pose::shift(along * number),
            Joint::Pivot(point, axis) => Pose::about(point, axis, number * (PI / 180.0)),
        }
    }
}

/// How a joint follows one driver: its number is the sum over all that it follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Follow {
    /// Index of the driver.
    pub driver: usize,
    /// Millimetres or degrees of the joint for one unit of the driver.
    pub by: f64,
}

/// Names a link of a mechanism.
pub type LinkRef = usize;

/// One rigid link.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Id within its control.
    pub id: String,
    /// Link that it hangs on, which stands before it; `None`: the airframe.
    pub on: Option<LinkRef>,
    /// How it moves against that.
    pub joint: Joint,
    /// What moves it.
    pub follows: Vec<Follow>,
    /// Play and flexing under the pilot's effort, mm, of this link alone; `None`: not said, which withholds.
    pub allowance: Option<f64>,
}

/// All drivers and links of an aeroplane's controls. What [`Mechanism::new`] gives has sound indices, unit axes and
/// finite numbers; of anything else the questions below answer as if what is unsound were not there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mechanism {
    /// Drivers.
    pub drivers: Vec<Driver>,
    /// Links, each after the one that it hangs on.
    pub links: Vec<Link>,
}

impl Mechanism {
    /// Every driver at rest.
    pub fn neutral(&self) -> Vec<f64> {
        self.drivers.iter().map(|d| d.neutral).collect()
    }

    /// A link and all that it hangs on, itself first, the one on the airframe last.
    pub fn down(&self, link: LinkRef) -> impl Iterator<Item = LinkRef> + '_ {
        let below = |&l: &LinkRef| self.links.get(l).and_then(|at| at.on).filter(|&on| on < l);
        std::iter::successors((link < self.links.len()).then_some(link), below)
    }

    /// The number of a link's joint (mm, degrees) with the drivers so; a driver that is not given counts 0.
    pub fn number(&self, link: LinkRef, drivers: &[f64]) -> f64 {
        let one = |f: &Follow| f.by * drivers.get(f.driver).copied().unwrap_or_default();
        self.links.get(link).map_or(0.0, |l| l.follows.iter().map(one).sum())
    }

    /// How a link has moved from the zero pose, with the drivers so.
    pub fn pose(&self, link: LinkRef, drivers: &[f64]) -> Pose {
        let mut pose = Pose::IDENTITY;
        for l in self.down(link) {
            if let Some(at) = self.links.get(l) {
                pose = pose.then(&at.joint.at(self.number(l, drivers)));
            }
        }
        pose
    }

    /// Which drivers move a link, in rising order. A driver that cannot move, or whose effect is nil, is not among
    /// them.
    pub fn movers(&self, link: LinkRef) -> Vec<usize> {
        let mut found: Vec<usize> = self
            .down(link)
            .filter_map(|l| self.links.get(l))
            .filter(|l| l.joint != Joint::Fixed)
            .flat_map(|l| &l.follows)
            .filter(|f| f.by != 0.0)
            .filter(|f| self.drivers.get(f.driver).is_some_and(|d| d.domain().0 < d.domain().1))
            .map(|f| f.driver)
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// Play and flexing of a link and all that it hangs on, added up, mm; `None` where one of them is not said.
    pub fn allowance(&self, link: LinkRef) -> Option<f64> {
        self.down(link).map(|l| self.links.get(l).and_then(|at| at.allowance)).sum()
    }

    /// Whether the overtravel of every driver that moves a link is said.
    pub fn overtravel_said(&self, link: LinkRef) -> bool {
        self.movers(link).iter().all(|&d| self.drivers.get(d).is_some_and(|d| d.over.is_some()))
    }
}
