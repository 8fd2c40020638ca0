//! Outlines as files write them, read into checked contours of lines and arcs.

mod curve;
mod path;
mod scan;
#[cfg(test)]
mod tests;

pub use path::{Loop, PathError, read};
pub(super) use path::{circle_through, contour_code, piece_of};
