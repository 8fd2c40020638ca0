//! Many instruments placed at once: every rule holds, and what the user wishes for costs as little as can be found.

mod bar;
mod dice;
mod free;
mod ground;
mod judged;
mod run;
mod separate;
mod watch;

pub use bar::{What, Why};
pub use dice::Dice;
pub use free::{can_move, free};
pub use ground::{Ground, Piece, pieces};
pub use run::{Arranged, Conflict, Outcome, arrange};
pub use separate::Search;
pub use watch::{Told, Watch};
