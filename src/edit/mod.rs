//! Changes to panels as files: as a person would type them into the text, or in a file that builds on it and says what
//! differs.

mod adapter;
mod by_hand;
mod derived;
mod measured;
mod text;

pub use adapter::adapter;
pub use by_hand::{Edit, Refusal, by_hand, is_by_coordinates};
pub use derived::{Derived, is_untouched};
pub use measured::{Measured, measured};
