//! Where an item fits: the region of all places at which the relations between parts hold, and the best spots in it,
//! asked again by the real rules.
//!
//! A place is told as the shift from where the item stands in the panel that is asked.

mod answer;
pub mod arrange;
mod convex;
mod region;
mod spots;

pub use answer::{Answer, Asks};
pub use region::{Binds, Question, Region, Short, TOLERANCE, region};
pub use spots::{Asked, Spot, Spots, room, size, spots};
