//! What the user wishes of an arrangement: what must hold, and what is striven for.

use crate::diag::Where;
use crate::geom::{Contour, Point, Vec2};
use crate::solid::Vec3;

/// What is wished; empty where nothing is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wishes {
    /// Subjects that may move; `None`: not said.
    pub free: Option<Vec<usize>>,
    /// Subjects that stay.
    pub fixed: Vec<usize>,
    /// Within an area: must hold.
    pub zones: Vec<InZone>,
    /// In order: must hold.
    pub orders: Vec<InOrder>,
    /// Apart: must hold.
    pub apart: Vec<KeptApart>,
    /// Near each other.
    pub groups: Vec<Vec<usize>>,
    /// In a row.
    pub rows: Vec<InOrder>,
    /// Mirror images: the two, and the x of the line.
    pub symmetric: Vec<([usize; 2], f64)>,
    /// Attitude, airspeed, altitude, direction.
    pub basic_t: [Option<usize>; 4],
    /// What must be read at a glance besides.
    pub primary: Vec<usize>,
    /// Breakers that may have to be reset in flight.
    pub flight_breakers: Vec<usize>,
    /// The point of the panel straight and level ahead of the pilot's eye.
    pub eye: Option<Point>,
    /// The pilot's shoulder.
    pub shoulder: Option<Vec3>,
    /// How far the hand comes from it, mm.
    pub reach: Option<f64>,
    /// What terms count, by their id, where the user says it.
    pub weights: Vec<(String, f64)>,
    /// Where they stand; `None`: nothing is said.
    pub place: Option<Where>,
}

/// Within an area.
#[derive(Clone, Debug, PartialEq)]
pub struct InZone {
    /// The subjects.
    pub items: Vec<usize>,
    /// The area.
    pub area: Contour,
    /// Where it stands.
    pub place: Where,
}

/// One after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct InOrder {
    /// From the first to the last.
    pub items: Vec<usize>,
    /// The direction, of length one.
    pub along: Vec2,
    /// Where it stands.
    pub place: Where,
    /// Where it comes from.
    pub source: &'static str,
}

/// Apart.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptApart {
    /// The subjects.
    pub items: Vec<usize>,
    /// At least so far, mm.
    pub by: f64,
    /// Where it stands.
    pub place: Where,
}
