//! What makes a mechanism impossible; each fault names its driver or link by index, so that the reader of a file
//! can point at the line. All faults are told together.

use super::{Driver, Joint, Link, LinkRef, Mechanism};
use crate::solid::Vec3;

/// What is wrong, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum MechanismFault {
    /// With a driver, by index.
    Driver(usize, DriverFault),
    /// With a link, by index.
    Link(LinkRef, LinkFault),
}

/// What is wrong with a driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DriverFault {
    /// A number is not finite.
    NotFinite,
    /// The low stop is above the high one.
    StopsReversed {
        /// Low stop.
        low: f64,
        /// High stop.
        high: f64,
    },
    /// It rests beyond its stops.
    NeutralOutside {
        /// Where it rests.
        neutral: f64,
        /// Low stop.
        low: f64,
        /// High stop.
        high: f64,
    },
    /// An overtravel is below zero.
    OverNegative(f64),
}

/// What is wrong with a link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LinkFault {
    /// A number is not finite.
    NotFinite,
    /// It hangs on a link that is not there.
    OnNothing(LinkRef),
    /// Following what it hangs on leads back to it.
    Loop,
    /// It stands before the link that it hangs on.
    BeforeItsParent(LinkRef),
    /// Its axis or direction has no length.
    ZeroAxis,
    /// It follows a driver that is not there; place in its list, and the index asked for.
    NoSuchDriver(usize, usize),
    /// It is fixed, and yet follows a driver.
    FixedFollows,
    /// Its allowance is below zero.
    AllowanceNegative(f64),
}

impl Mechanism {
    /// A mechanism of drivers and links, axes made unit vectors; or all that makes it impossible. A joint that
    /// follows two drivers, or one twice, moves by the sum. Equal stops are a driver that cannot move.
    pub fn new(drivers: Vec<Driver>, mut links: Vec<Link>) -> Result<Mechanism, Vec<MechanismFault>> {
        let mut faults = Vec::new();
        for (n, d) in drivers.iter().enumerate() {
            faults.extend(driver(d).map(|f| MechanismFault::Driver(n, f)));
        }
        for n in 0..links.len() {
            let found = link(n, &links, drivers.len());
            faults.extend(found.into_iter().map(|f| MechanismFault::Link(n, f)));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        for l in &mut links {
            match &mut l.joint {
                Joint::Slide(v) | Joint::Pivot(_, v) => *v = v.unit().unwrap_or(*v),
                Joint::Fixed => {}
            }
        }
        Ok(Mechanism { drivers, links })
    }
}

/// The first thing wrong with a driver.
fn driver(d: &Driver) -> Option<DriverFault> {
    let (low, high) = d.stops;
    let over = d.over.unwrap_or_default();
    if ![low, high, d.neutral, over.0, over.1].iter().all(|v| v.is_finite()) {
        Some(DriverFault::NotFinite)
    } else if low > high {
        Some(DriverFault::StopsReversed { low, high })
    } else if d.neutral < low || d.neutral > high {
        Some(DriverFault::NeutralOutside { neutral: d.neutral, low, high })
    } else {
        [over.0, over.1].into_iter().find(|&o| o < 0.0).map(DriverFault::OverNegative)
    }
}

/// All that is wrong with a link.
fn link(n: LinkRef, links: &[Link], drivers: usize) -> Vec<LinkFault> {
    let Some(l) = links.get(n) else { return Vec::new() };
    let mut found = Vec::new();
    if let Some(on) = l.on {
        if on >= links.len() {
            found.push(LinkFault::OnNothing(on));
        } else if leads_back(n, links) {
            found.push(LinkFault::Loop);
        } else if on >= n {
            found.push(LinkFault::BeforeItsParent(on));
        }
    }
    let (point, axis) = match l.joint {
        Joint::Fixed => (Vec3::ZERO, None),
        Joint::Slide(v) => (Vec3::ZERO, Some(v)),
        Joint::Pivot(p, v) => (p, Some(v)),
    };
    let numbers = point.is_finite() && axis.is_none_or(Vec3::is_finite);
    if !numbers || !l.follows.iter().all(|f| f.by.is_finite()) || l.allowance.is_some_and(|a| !a.is_finite())
    {
        found.push(LinkFault::NotFinite);
    } else if axis.is_some_and(|v| v.unit().is_none()) {
        found.push(LinkFault::ZeroAxis);
    }
    let unknown = l.follows.iter().enumerate().filter(|(_, f)| f.driver >= drivers);
    found.extend(unknown.map(|(place, f)| LinkFault::NoSuchDriver(place, f.driver)));
    if axis.is_none() && !l.follows.is_empty() {
        found.push(LinkFault::FixedFollows);
    }
    found.extend(l.allowance.filter(|&a| a < 0.0).map(LinkFault::AllowanceNegative));
    found
}

/// Whether following what a link hangs on comes back to it.
fn leads_back(n: LinkRef, links: &[Link]) -> bool {
    let mut at = n;
    for _ in 0..links.len() {
        match links.get(at).and_then(|l| l.on) {
            Some(on) if on == n => return true,
            Some(on) => at = on,
            None => return false,
        }
    }
    false
}
