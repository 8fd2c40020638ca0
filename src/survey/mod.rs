//! A survey of the existing panel: one least-squares adjustment of all readings.
//!
//! [`network`] turns the file into points, unknowns and observations; `start` finds first coordinates; [`adjust`]
//! improves them until the sum of the weighted squares is least; [`snoop`] finds readings that disagree; `mirror`
//! asks whether another figure fits as well; [`next`] names the further reading that would help most. [`solve`] runs all of it.
//! [`behind`] then adds what rods, sticks and tapes found behind the sheet, at the places that were adjusted.
//!
//! Standard deviations come from the stated deviations of the tools (a priori); when the whole does not fit them,
//! [`Solved::scale`] says by how much they are too hopeful. Everything is relative to the datum.

pub mod adjust;
pub mod behind;
pub mod camera;
mod control;
mod corners;
mod crossing;
pub mod ellipse;
pub mod found;
pub mod hole;
mod locus;
mod mirror;
pub mod network;
pub mod next;
mod normal;
pub mod observation;
pub mod pairs;
pub mod picked;
pub mod pictures;
mod relate;
mod resect;
mod rival;
pub mod say;
pub mod slip;
pub mod snoop;
mod solve;
mod spell;
mod start;
pub mod statistics;
pub mod straight;
mod tools;

pub use ellipse::Ellipse;
pub use network::Network;
pub use rival::Either;
pub use solve::{Solved, Suspect, said, solve};
