//! Controls that move: links joined by slides and pivots, coupled to drivers, and how near anything comes over
//! the whole travel.
//!
//! A travel is not judged by looking at poses: whole boxes of the drivers' domain are bounded at once, with a proven
//! bound on how far any point can be from what was looked at (`chain.rs`, `corners.rs`), and cut until the bound
//! decides (`search.rs`). What two things do together cancels: they are asked relative to the last link that
//! carries both.

mod chain;
mod clearance;
mod corners;
mod cover;
mod fault;
mod mechanism;
pub(super) mod nearest;
mod outline;
mod reach;
mod search;
mod tree;

pub use clearance::{BEYOND, MOST, Travelled, WIDTH, at_pose, clearance};
pub use cover::{Cell, Cover, Hull};
pub use fault::{DriverFault, LinkFault, MechanismFault};
pub use mechanism::{Driver, DriverKind, Follow, Joint, Link, LinkRef, Mechanism};
pub use outline::{Band, sweep_outline};
pub use reach::{Moved, Reach, bounds};
