//! A panel file: the sheet, what is there, what is placed, and what the user asks, as written.

mod arrange;
mod build;
mod build_items;
mod build_space;
pub mod floating;
mod items;
pub mod space;
mod table;
mod table_arrange;
mod table_floating;
mod table_items;
mod table_space;
mod words;
mod words_space;

pub use arrange::{Arrange, ArrangeZone, KeepApart, Sequence, Symmetric};
pub use floating::{Floating, FloatsIn};
pub use items::{
    Change, InStack, Label, Number, Placed, Placement, Position, Room, Row, RowItem, Stack, UnitOrRoom,
};
pub use space::Space;
pub use table::{FILE, PANEL};
pub use words::{Compensates, Forbids, LayerRole, LayerSide, ProcessKind, Side, Structure};
pub use words_space::{Axis, ControlKind, DriverKind, Frame, LineKind, ObstacleKind};

use super::Text;
use super::instrument::{Holes, Source};
use super::node::{Amount, Size, Xy};
use super::shape::{Outline, Shape};
use crate::diag::{Where, Written};
use crate::units::{Angle, Unit};
use std::collections::BTreeSet;

/// A panel as its file describes it. What the file does not say is `None` or empty; a file that
/// builds on another one holds only what differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Title.
    pub title: Written<Text>,
    /// Ids of what stands in the file but could not be built; why is told.
    pub dropped: BTreeSet<Text>,
    /// What it says of the file that it changes was refused, which is told: what is removed is not known.
    pub below_refused: bool,
    /// The file's unit.
    pub unit: Option<Unit>,
    /// The panel file that this one changes.
    pub builds_on: Option<Written<Text>>,
    /// Ids of that file's items that go.
    pub remove: Vec<Written<Text>>,
    /// That file's items that change.
    pub change: Vec<Change>,
    /// Everything in this file is there already.
    pub as_found: Option<Written<bool>>,
    /// The main sheet.
    pub sheet: Option<Sheet>,
    /// Tilt, positive when the top leans forward, away from the pilot.
    pub tilt: Option<Written<Angle>>,
    /// From the pilot's eye to the panel.
    pub eye: Option<Size>,
    /// Further sheets that lie on the main one.
    pub layers: Vec<Layer>,
    /// Small panels screwed into openings of the main sheet.
    pub inserts: Vec<Insert>,
    /// Panels on shock mounts in or before openings of the main sheet.
    pub floating: Vec<Floating>,
    /// Holes of the sheet itself.
    pub holes: Vec<Holes>,
    /// Openings that are there and stay.
    pub old_openings: Vec<OldOpening>,
    /// Where something may not be; flanges are among them and forbid cutting.
    pub zones: Vec<Zone>,
    /// Room behind the sheet.
    pub depth: Option<Depth>,
    /// Instruments on the panel.
    pub place: Vec<Placement>,
    /// Instruments in rows.
    pub rows: Vec<Row>,
    /// Columns of units.
    pub stacks: Vec<Stack>,
    /// Labels and placards.
    pub labels: Vec<Label>,
    /// Items that a hand moves together; `None`: not said.
    pub together: Option<Vec<Vec<Written<Text>>>>,
    /// What is wished of an arrangement.
    pub arrange: Option<Arrange>,
    /// The user's own limits.
    pub limits: Vec<Limit>,
    /// How the openings are cut.
    pub process: Option<Process>,
    /// Tolerances where no other is given.
    pub tolerances: Option<Tolerances>,
    /// Findings that somebody accepts.
    pub accepted: Vec<Accepted>,
    /// Why it may be cut in spite of its verdicts.
    pub cut_anyway: Option<Reason>,
    /// Where this file's sizes come from, by name.
    pub sources: Vec<Source>,
    /// Name of the source that holds where no other is named.
    pub source: Option<Written<Text>>,
    /// Title block: key and text, in the order in which they are printed.
    pub title_block: Vec<(&'static str, Written<Text>)>,
    /// What changed with each revision, oldest first.
    pub revisions: Vec<Revision>,
    /// What stands, moves and runs behind and in front.
    pub space: Space,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// The whole file's object.
    pub span: Where,
}

/// The main sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Its outline; `None` in a file that builds on another one, or when it is missing (an error).
    pub outline: Option<Outline>,
    /// Material.
    pub material: Option<Written<Text>>,
    /// Thickness, bare.
    pub thickness: Option<Size>,
    /// Coat on one face.
    pub coat: Option<Size>,
    /// A new blank: nothing exists in it yet.
    pub new: Option<Written<bool>>,
    /// How far its edge may be off as measured.
    pub survey: Option<Size>,
    /// Is this panel structure?
    pub structure: Option<Written<Structure>>,
    /// Who says so.
    pub structure_by: Option<Written<Text>>,
    /// Where it stands.
    pub place: Where,
}

/// A further sheet that lies on the main one.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Its id.
    pub id: Written<Text>,
    /// What it is.
    pub role: Written<LayerRole>,
    /// On which side it lies.
    pub side: Option<Written<LayerSide>>,
    /// Material.
    pub material: Option<Written<Text>>,
    /// Thickness.
    pub thickness: Option<Size>,
    /// Its outline; the main sheet's when missing.
    pub outline: Option<Outline>,
    /// Where the outline's origin lies.
    pub at: Option<Xy>,
    /// Its own openings; `None`: the same as the main sheet's.
    pub openings: Option<Vec<OldOpening>>,
    /// There already.
    pub exists: bool,
    /// Why.
    pub because: Option<Written<Text>>,
    /// Where it stands.
    pub place: Where,
}

/// A small panel screwed into an opening of the main sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Insert {
    /// Its id.
    pub id: Written<Text>,
    /// Its outline about its own origin.
    pub outline: Outline,
    /// Where its origin lies.
    pub at: Xy,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// Material.
    pub material: Option<Written<Text>>,
    /// Thickness.
    pub thickness: Option<Size>,
    /// Coat on one face.
    pub coat: Option<Size>,
    /// The opening in the main sheet, about the insert's origin.
    pub opening: Option<Shape>,
    /// Its screws, about its origin.
    pub screws: Vec<Holes>,
    /// On which side of the main sheet it lies.
    pub lies: Option<Written<LayerSide>>,
    /// There already.
    pub kept: bool,
    /// Where it stands.
    pub place: Where,
}

/// An opening that is there.
#[derive(Clone, Debug, PartialEq)]
pub struct OldOpening {
    /// Its id.
    pub id: Written<Text>,
    /// Its shape.
    pub shape: Shape,
    /// Where the shape's origin lies; the datum when missing.
    pub at: Option<Xy>,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// The insert or layer that has it.
    pub on: Option<Written<Text>>,
    /// It stays.
    pub stays: bool,
    /// How far its place may be off as measured.
    pub survey: Option<Size>,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// Where it stands in the file.
    pub place: Where,
}

/// Where something may not be.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// Its id.
    pub id: Written<Text>,
    /// Its shape.
    pub shape: Shape,
    /// Where the shape's origin lies; the datum when missing.
    pub at: Option<Xy>,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// What may not be there.
    pub forbids: Vec<Forbids>,
    /// A bend or stiffener of the sheet.
    pub flange: bool,
    /// Why.
    pub because: Option<Written<Text>>,
    /// Where it stands in the file.
    pub place: Where,
}

/// Room behind the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Depth {
    /// Where no area says otherwise.
    pub default: Option<Size>,
    /// Areas.
    pub areas: Vec<Area>,
    /// Where it stands.
    pub place: Where,
}

/// Part of the sheet behind which a depth is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// Its id.
    pub id: Option<Written<Text>>,
    /// Its shape.
    pub shape: Shape,
    /// Where the shape's origin lies; the datum when missing.
    pub at: Option<Xy>,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// Depth available; `None`: not measured yet.
    pub available: Option<Size>,
    /// Where it stands in the file.
    pub place: Where,
}

/// The user's own limit for a rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The rule.
    pub rule: Written<Text>,
    /// At least this.
    pub at_least: Option<Amount>,
    /// At most this.
    pub at_most: Option<Amount>,
    /// Why.
    pub because: Written<Text>,
    /// Where it stands.
    pub place: Where,
}

/// How the openings are cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Process {
    /// The tool.
    pub kind: Written<ProcessKind>,
    /// Radius of a turning tool.
    pub tool_radius: Option<Size>,
    /// Width of the cut.
    pub kerf: Option<Size>,
    /// Diameter of the hole where a beam or jet starts.
    pub spot: Option<Size>,
    /// Who allows for the width of the cut.
    pub compensates: Option<Written<Compensates>>,
    /// How far a cut contour may be off, per side.
    pub tolerance: Option<Size>,
    /// Where it stands.
    pub place: Where,
}

/// Tolerances where no other is given, plus or minus.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerances {
    /// Of the position of an opening.
    pub position: Option<Size>,
    /// Of an instrument's size that gives none.
    pub size: Option<Size>,
    /// Of what was measured on the old panel.
    pub survey: Option<Size>,
    /// Where it stands.
    pub place: Where,
}

/// A finding that somebody has looked at and accepts.
#[derive(Clone, Debug, PartialEq)]
pub struct Accepted {
    /// The finding's id.
    pub finding: Written<Text>,
    /// Why, and by whom.
    pub reason: Reason,
}

/// A reason and who gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// Why.
    pub because: Written<Text>,
    /// By whom.
    pub by: Written<Text>,
    /// Where it stands.
    pub place: Where,
}

/// One revision of a panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Revision {
    /// Its index.
    pub index: Written<Text>,
    /// What changed.
    pub change: Written<Text>,
    /// When.
    pub date: Option<Written<Text>>,
    /// Who changed it.
    pub by: Option<Written<Text>>,
}
