//! Ports and what hangs on them: where a line leaves, how tightly it may bend, which ways its first quarter turn is free,
//! how long its route is. Shared by the rules about lines and by the report; nothing is judged here.

mod around;
mod beside;
mod exit;
mod fingers;
mod free;
mod grip;
pub(super) mod kin;
mod room;
mod route;
mod service;
mod terms;
mod tube;
mod words;

pub use crate::calc::clock::Seen;
pub(super) use around::Around;
pub use around::Movers;
pub use exit::{Exit, Turn, exit};
pub(super) use fingers::{Fingers, Round};
pub use free::{Free, free};
pub(super) use grip::{Grip, grips, stays, unsaid};
pub use route::{Route, route_at};
pub use service::{Loop, loop_of};
pub use words::said;

pub(super) use around::stiff;
pub(super) use free::{free_of, gathered, looked_at};
