//! Sheets, the cutting process and the room behind.

use crate::diag::Where;
use crate::geom::Contour;

/// What a sheet is to the panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetRole {
    /// The panel's own sheet.
    Main,
    /// On shock mounts in or before an opening of another.
    Floating,
    /// Screwed into an opening of another.
    Insert,
    /// Old structural sheet that stays behind.
    Structural,
    /// Second sheet that strengthens.
    Doubler,
    /// Thin cover in front.
    Overlay,
}

/// Answer to "is this panel structure".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Structure {
    /// Carries flight loads.
    Yes,
    /// Does not, says the user.
    No,
    /// Not answered: ask before cutting.
    Unknown,
}

/// One sheet.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Id (`sheet` for the main one).
    pub id: String,
    /// Role.
    pub role: SheetRole,
    /// Sheet whose openings it shares when it is a layer.
    pub layer_of: Option<usize>,
    /// Index of its subject (class Edge).
    pub subject: u32,
    /// Absolute outline, counter-clockwise.
    pub outline: Contour,
    /// Material as written.
    pub material: Option<String>,
    /// Thickness, mm.
    pub thickness: Option<f64>,
    /// Thickness as written.
    pub thickness_written: Option<String>,
    /// Coat per face, mm.
    pub coat: Option<f64>,
    /// Depth of its front face, mm; 0 for the main sheet, negative for an overlay.
    pub front: f64,
    /// A new blank: nothing exists in it yet.
    pub new: bool,
    /// Structure or not, and who says so.
    pub structure: (Structure, Option<String>),
    /// Where it stands.
    pub place: Where,
}

/// Kind of cutting process.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProcessKind {
    /// Saw, file, fly cutter.
    Hand,
    /// Knock-out punch, hole saw.
    Punch,
    /// Router or mill.
    Router,
    /// Waterjet.
    Waterjet,
    /// Laser.
    Laser,
}

/// Who allows for the width of the cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Compensates {
    /// The shop's machine; the file holds finished contours.
    Cutter,
    /// The file: contours on the cut layer are tool paths.
    File,
}

/// How the openings are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Process {
    /// Kind.
    pub kind: ProcessKind,
    /// Radius of a rotating tool, mm.
    pub tool_radius: Option<f64>,
    /// Width of the cut, mm.
    pub kerf: Option<f64>,
    /// Who compensates.
    pub compensates: Compensates,
    /// Tolerance of a cut contour per side, mm, and where it comes from.
    pub tolerance: (f64, String),
    /// Where it stands.
    pub place: Where,
}

/// A part of the sheet behind which a depth is known.
#[derive(Clone, Debug, PartialEq)]
pub struct DepthArea {
    /// Id for findings.
    pub id: String,
    /// Absolute contour.
    pub contour: Contour,
    /// Depth available, mm, from the main sheet's front face; `None`: not probed.
    pub available: Option<f64>,
    /// Where it stands.
    pub place: Where,
}

/// Room behind: areas, and a depth for everywhere else.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DepthMap {
    /// Depth where no area says otherwise; `None`: not known there.
    pub elsewhere: Option<f64>,
    /// Areas; where several overlap the shallowest holds.
    pub areas: Vec<DepthArea>,
}
