//! Changes to panels as files: as a person would type them into the text, or in a file that builds on it and says what
//! differs.

mod adapter;
mod by_hand;
mod copied;
mod derived;
mod item;
mod measured;
mod moved;
mod numbers;
mod spelled;
mod text;
mod together;
mod told_from;
mod turned;

pub use adapter::adapter;
pub use by_hand::{Edit, Refusal, by_hand};
pub use copied::is_copied_as_text;
pub use derived::{Derived, is_untouched};
pub use measured::{Measured, measured};
pub use moved::{beside, is_by_coordinates};
pub use numbers::Said;
pub use told_from::told_from;
