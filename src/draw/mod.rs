//! From a panel to pages: the back-end-free `Drawing` and what builds it.

pub mod behind;
pub mod compared;
pub mod drawing;
pub mod found;
pub mod front_view;
pub mod hatch;
pub mod layer;
pub mod mockup;
pub mod model;
pub mod picture;
pub mod region;
pub mod solids;
pub mod style;
pub mod survey;
pub mod template;
pub mod text;

pub use model::{
    Across, Anchor, Dash, Drawing, Entry, Greys, Group, Ink, Item, Layer, Page, Shape, Stroke, Text, Units,
    Up, Weight,
};
