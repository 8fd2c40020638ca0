//! Controls that move: links joined by slides and pivots, coupled to drivers, and how near anything comes over
//! the whole travel.

mod fault;
mod mechanism;

pub use fault::{DriverFault, LinkFault, MechanismFault};
pub use mechanism::{Driver, DriverKind, Follow, Joint, Link, LinkRef, Mechanism};
