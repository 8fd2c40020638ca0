//! Changes to panels as files: nothing of the user's own text is touched, a file that builds on it says what differs.

mod adapter;
mod derived;

pub use adapter::adapter;
pub use derived::{Derived, is_untouched};
