//! Views behind the sheet: sections, the view from behind, the map and the table of depth, the control card.
//!
//! All to scale and never to cut from. Sheets of paper, title block, running dimensions and notes are those of the
//! fabrication drawing; sections follow ISO 128-3 (cutting plane, arrows, hatching) and views ISO 5456-2: the editions
//! were not at hand, what is taken from memory is marked in each file. One kind of page a file.

mod alone;
mod back;
mod card;
mod cut;
mod depth_map;
mod key;
mod page;
mod paint;
mod project;
pub mod section;
mod shadow;
mod table;
mod things;

pub use alone::{Alone, View, alone};
pub use back::back;
pub use card::card;
pub(in crate::draw) use cut::inside_window;
pub use depth_map::depth_map;
pub use section::{Asked, BehindError, sections};
pub use table::{HEADS, depth_rows, depth_table};
pub(in crate::draw) use things::beyond;
