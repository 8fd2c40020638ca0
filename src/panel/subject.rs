//! A subject: anything that findings speak about.

use crate::diag::Where;
use crate::geom::Point;
use crate::panel::{Facts, Part};
use std::ops::Range;
use std::sync::Arc;

/// What a subject is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SubjectKind {
    /// The outline of a sheet.
    Sheet,
    /// A placed instrument.
    Placement,
    /// A unit inside a stack.
    Unit,
    /// An opening that exists and stays.
    OldOpening,
    /// An insert panel's screws and its opening in the sheet that carries it.
    Insert,
    /// A forbidden zone, a flange.
    Zone,
    /// A label or placard.
    Label,
    /// A fixed thing of the airframe (rib, firewall, tank, knees).
    Obstacle,
    /// A control that moves.
    Control,
    /// A hose, bundle or cable.
    Line,
}

/// Whether the subject is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Exists in this sheet and stays as it is.
    Existing,
    /// New, moved or enlarged.
    New,
}

/// What happens to the back of a long body.
#[derive(Clone, Debug, PartialEq)]
pub enum Hung {
    /// Something holds it: the words of the file.
    Held(String),
    /// It hangs by its front flange and droops by so many degrees, not negative.
    Droop(f64),
    /// It hangs by its front flange and its back end drops by so many mm, not negative.
    Sag(f64),
}

/// A subject with its parts.
#[derive(Clone, Debug)]
pub struct Subject {
    /// Unique id within the panel.
    pub id: String,
    /// What it is.
    pub kind: SubjectKind,
    /// Words for people: the instrument's title, the label's text, the zone's reason.
    pub title: String,
    /// Reference point, absolute.
    pub at: Point,
    /// Angle in degrees, counter-clockwise.
    pub turn: f64,
    /// Mirrored left to right.
    pub mirrored: bool,
    /// Index of the sheet it sits on.
    pub sheet: u32,
    /// Rigid group: 0 is the fixed panel.
    pub group: u32,
    /// Exists or new.
    pub state: State,
    /// A placement kept free for later.
    pub provision: bool,
    /// May not be moved by a proposed cure.
    pub locked: bool,
    /// Must not be worked by mistake.
    pub critical: bool,
    /// Subject that carries it (a unit's stack, an insert's sheet), index.
    pub carrier: Option<u32>,
    /// What happens to its back; `None`: not said.
    pub hung: Option<Hung>,
    /// Facts of its instrument.
    pub facts: Option<Arc<Facts>>,
    /// The user has confirmed the sizes on his own part: the words (who, when).
    pub checked: Option<String>,
    /// Its parts.
    pub parts: Vec<Part>,
    /// Parts whose data are missing: (part name, what is missing). Rules withhold on them.
    pub missing: Vec<(String, String)>,
    /// Where it stands in the file.
    pub place: Where,
    /// Index range of the units it carries, for a stack.
    pub units: Range<u32>,
}
