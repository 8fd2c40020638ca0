//! A survey file: points, readings and conditions, as written.

mod behind;
mod build;
mod photograph;
mod table;
mod table_behind;
mod table_photograph;
mod words;

pub use behind::{
    Area, Behind, Control, Form, MovingForm, MovingSolid, Obstacle, OnControl, Place, Probe, Spot,
};
pub use photograph::{Photograph, Pick};
pub use table::{FILE, SURVEY};
pub use table_behind::{DepthSide, Moves};
pub use words::{PictureKind, ToolKind};

use super::Text;
use super::node::{Size, Xy};
use crate::diag::{Where, Written};
use crate::units::{Length, Unit};

/// A survey as its file describes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// Title.
    pub title: Written<Text>,
    /// The file's unit.
    pub unit: Option<Unit>,
    /// Origin and axes.
    pub datum: Option<Datum>,
    /// Points, then circles.
    pub points: Vec<Mark>,
    /// Tools by name.
    pub tools: Vec<Tool>,
    /// Readings in order.
    pub readings: Vec<Reading>,
    /// Conditions in order.
    pub conditions: Vec<Condition>,
    /// Photographs and scans.
    pub photographs: Vec<Photograph>,
    /// What lies and moves behind.
    pub behind: Behind,
    /// Left and right partners.
    pub pairs: Vec<[Written<Text>; 2]>,
    /// How the points make a panel.
    pub as_found: Option<AsFound>,
    /// The whole file's object.
    pub span: Where,
}

/// Origin and axes.
#[derive(Clone, Debug, PartialEq)]
pub struct Datum {
    /// The origin.
    pub origin: Written<Text>,
    /// The point towards which x runs.
    pub along: Option<Written<Text>>,
    /// Coordinates of the origin.
    pub at: Option<Xy>,
}

/// A point, or a circle by its centre.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Its id.
    pub id: Written<Text>,
    /// Whether it is a circle.
    pub round: bool,
    /// Coordinates that hold.
    pub at: Option<Xy>,
    /// Ahead of the datum plane.
    pub depth: Option<Written<Length>>,
    /// On which side of other points it lies.
    pub sides: Vec<(Side, Written<Text>)>,
}

/// A side of another point, seen from the seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Higher.
    Above,
    /// Lower.
    Below,
    /// Further left.
    Left,
    /// Further right.
    Right,
}

impl Side {
    /// The key that says it.
    pub fn key(self) -> &'static str {
        match self {
            Side::Above => "above",
            Side::Below => "below",
            Side::Left => "left-of",
            Side::Right => "right-of",
        }
    }
}

/// What was measured with.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    /// Its name in the file.
    pub name: Text,
    /// What it is.
    pub kind: Written<ToolKind>,
    /// Standard deviation of one reading.
    pub deviation: Option<Written<Length>>,
    /// The mark from which readings were taken.
    pub starts_at: Option<Written<Length>>,
    /// What it reads at zero.
    pub zero_error: Option<Written<Length>>,
    /// Its zero error is to be found.
    pub find_zero: bool,
    /// Name of the source of its deviation.
    pub source: Option<Text>,
}

/// What a reading measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Centre to centre.
    Distance,
    /// Near edge to near edge.
    Inside,
    /// Far edge to far edge.
    Outside,
    /// Of a circle.
    Diameter,
    /// Of a circle.
    Radius,
    /// From a base line, left positive.
    Offset,
    /// Along a base line.
    Along,
    /// A circle's near edge from a line.
    Gap,
    /// Higher.
    Up,
    /// Further right.
    Right,
}

/// One reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What it measures.
    pub what: What,
    /// Between which points.
    pub of: Vec<Written<Text>>,
    /// What the tool read.
    pub reads: Written<Length>,
    /// With which tool.
    pub tool: Option<Written<Text>>,
    /// Standard deviation of its own.
    pub deviation: Option<Written<Length>>,
    /// Where it stands.
    pub place: Where,
}

/// What a condition says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// On one line.
    Line,
    /// At one height.
    Level,
    /// One above the other.
    Plumb,
    /// Right angle at the second.
    Square,
    /// Circles of one diameter.
    SameSize,
    /// On a circle: the first of `of` is the circle.
    Circle,
}

/// One condition.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    /// What it says.
    pub holds: Holds,
    /// Of which points.
    pub of: Vec<Written<Text>>,
    /// Standard deviation.
    pub deviation: Option<Written<Length>>,
    /// Where it stands.
    pub place: Where,
}

/// How the points make a panel.
#[derive(Clone, Debug, PartialEq)]
pub struct AsFound {
    /// The outline's points in order.
    pub outline: Vec<Corner>,
    /// Openings.
    pub openings: Vec<Opening>,
    /// Material of the sheet.
    pub material: Option<Written<Text>>,
    /// Thickness of the sheet.
    pub thickness: Option<Size>,
    /// Where it stands.
    pub place: Where,
}

/// A point of an outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// The point.
    pub to: Written<Text>,
    /// Rounded with this radius.
    pub radius: Option<Size>,
    /// Reached by an arc through this point.
    pub through: Option<Written<Text>>,
}

/// An opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Its id on the panel.
    pub id: Written<Text>,
    /// A circle.
    pub circle: Option<Written<Text>>,
    /// Or corners in order.
    pub points: Vec<Corner>,
}
