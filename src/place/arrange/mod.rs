//! Many instruments placed at once: every rule holds, and what the user wishes for costs as little as can be found.

mod bar;
mod bound;
mod cost;
mod dice;
mod free;
mod ground;
mod improve;
mod judged;
mod run;
mod separate;
mod terms;
mod unmet;
mod watch;

pub use bar::{What, Why};
pub use bound::REACH;
pub(super) use bound::fronts;
pub use cost::{Cost, Costs};
pub use dice::Dice;
pub use free::{can_move, free};
pub use ground::{Ground, Piece, pieces};
pub use run::{Arranged, Asked, Conflict, Outcome, arrange};
pub use separate::Search;
pub use terms::{SIGHT, TERMS, Term, eye_of};
pub use unmet::{Unmet, unmet};
pub use watch::{Told, Watch};
