//! Where an item fits: the region of all places at which the relations between parts hold, and the best spots in it,
//! asked again by the real rules.
//!
//! A place is told as the shift from where the item stands in the panel that is asked.

mod answer;
pub mod arrange;
mod barred;
mod border;
mod brief;
mod convex;
mod eased;
mod inset;
mod old;
mod open;
mod plate;
mod region;
mod shadow;
mod shadows;
mod short;
mod sight;
mod sighted;
mod spots;
mod standby;
mod walls;
mod without;

pub use answer::{Answer, Asks, Instead};
pub use brief::Brief;
pub use old::{Into, Screw};
pub use plate::{Plate, PlateHole};
pub use region::{Question, Region, TOLERANCE, region};
pub use short::{Binds, Short};
pub use sight::{Barred, Sight, Target, is_standby};
pub use sighted::{BySight, Counted, Sighted};
pub use spots::{Asked, Spot, Spots, room, size, spots};
pub use standby::Seen;
