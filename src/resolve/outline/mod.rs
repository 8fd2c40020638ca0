//! Outlines as files write them, read into checked contours of lines and arcs.

mod curve;
mod path;
mod scan;
#[cfg(test)]
mod tests;

pub use path::{Loop, PathError, contour_code, read};
