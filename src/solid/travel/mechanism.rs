//! A mechanism: a forest of links; each link hangs on another or on the airframe by one joint, and the joint
//! follows drivers.

use crate::solid::Vec3;

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
    /// How far it can be forced past each stop (surface stops, cable stretch); `None`: not said, which withholds.
    pub over: Option<(f64, f64)>,
}

/// How a link moves against the one it hangs on. Points and directions are those of the zero pose, in which every
/// driver is 0, in the panel's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joint {
    /// Not at all.
    Fixed,
    /// Along a unit vector, by millimetres.
    Slide(Vec3),
    /// About the line through a point along a unit vector, by degrees.
    Pivot(Vec3, Vec3),
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

/// All drivers and links of an aeroplane's controls.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mechanism {
    /// Drivers.
    pub drivers: Vec<Driver>,
    /// Links, each after the one that it hangs on.
    pub links: Vec<Link>,
}
