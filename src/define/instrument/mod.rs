//! An instrument file: everything that is known of one instrument, as written.

mod build;
mod graft;
mod holes;
mod numbers;
mod table;
mod typed;
mod words;

pub(in crate::define) use build::{check_sources, sources, unique};
pub use graft::{Replacement, open_numbers};
pub use holes::{Head, Holes, Nut, Pattern, Places, Rivets, Round, Turns};
pub use numbers::number_doc;
pub(in crate::define) use numbers::{NoNumber, all_numbers, number_at};
pub use table::{FILE, HOLES, INSTRUMENT};
pub(in crate::define) use table::{HEAD, ROOM, SIZE, SOURCES, UNITS};
pub use typed::{Typed, typed};
pub use words::{Basis, Carries, FrontKind, HeadKind, Make, Mounting, PortKind, Service, Towards};

use super::Text;
use super::node::{Size, Weight, Xy, Xyd};
use super::shape::Shape;
use crate::diag::{Where, Written};
use crate::units::{Angle, Current, Unit};

/// An instrument as its file describes it. What the file does not say is `None` or empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Instrument {
    /// Title.
    pub title: Written<Text>,
    /// What kind of thing it is (a word of the catalogue).
    pub kind: Written<Text>,
    /// The file's unit.
    pub unit: Option<Unit>,
    /// Words to search for.
    pub words: Vec<Written<Text>>,
    /// How it is held.
    pub mounting: Option<Written<Mounting>>,
    /// Through which side it comes out.
    pub service: Option<Written<Service>>,
    /// The name of its size; never a size.
    pub nominal: Option<Written<Text>>,
    /// Where sizes come from, by name, in the file's order.
    pub sources: Vec<Source>,
    /// Name of the source that holds where no other is named.
    pub source: Option<Written<Text>>,
    /// The section that passes the opening.
    pub case: Option<Shape>,
    /// Openings for bodies, shafts and buttons.
    pub openings: Vec<Opening>,
    /// Fastener holes and other round holes, in patterns.
    pub holes: Vec<Holes>,
    /// The face that covers the sheet in front.
    pub bezel: Option<Cover>,
    /// The face that seats behind the sheet.
    pub flange: Option<Cover>,
    /// Solids behind (and, with negative depth, in front of) the sheet.
    pub bodies: Vec<Solid>,
    /// Where hoses, plugs and cables leave it.
    pub ports: Vec<Port>,
    /// Whether the file says what leaves it: an empty list says that nothing does.
    pub ports_said: bool,
    /// Knobs, levers and what else the pilot touches.
    pub front: Vec<FrontPart>,
    /// Mass.
    pub mass: Option<Weight>,
    /// Centre of mass.
    pub centre: Option<Xyd>,
    /// Currents.
    pub current: Option<Currents>,
    /// Least distance from a magnetic compass.
    pub compass_safe: Option<Size>,
    /// Sheets that it accepts.
    pub sheet: Option<Accepts>,
    /// What the panel's tilt means to it.
    pub tilt: Option<Tilt>,
    /// Whether it needs lettering.
    pub label: Option<Written<bool>>,
    /// What it is to a stack: a unit.
    pub unit_of_stack: Option<StackUnit>,
    /// What it is to a stack: the frame.
    pub frame_of_stack: Option<StackFrame>,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// The whole file's object.
    pub place: Where,
}

/// Where sizes come from.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Its name in the file.
    pub name: Text,
    /// Its standing.
    pub basis: Written<Basis>,
    /// Document.
    pub document: Option<Written<Text>>,
    /// Revision or edition.
    pub revision: Option<Written<Text>>,
    /// Who measured.
    pub who: Option<Written<Text>>,
    /// When, as the user wrote it.
    pub when: Option<Written<Text>>,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// Where it stands.
    pub place: Where,
}

/// An opening for a body, shaft or button.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Its id.
    pub id: Written<Text>,
    /// Its shape.
    pub shape: Shape,
    /// Where its origin lies; the instrument's own origin when missing.
    pub at: Option<Xy>,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// Cut to drawing or from the part.
    pub make: Option<Written<Make>>,
    /// The source named nearest around it.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

/// A face that lies on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    /// Its shape.
    pub shape: Shape,
    /// Where its origin lies.
    pub at: Option<Xy>,
    /// How far it stands off the sheet.
    pub thickness: Option<Size>,
    /// Where it stands in the file.
    pub place: Where,
}

/// A solid along the depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// Its id.
    pub id: Written<Text>,
    /// Its section.
    pub shape: Shape,
    /// Where the section's origin lies.
    pub at: Option<Xy>,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// Depth where it begins; negative is on the pilot's side.
    pub from: Option<Size>,
    /// Depth where it ends.
    pub to: Option<Size>,
    /// The source named nearest around it.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

/// Where a hose, plug or cable leaves the instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Port {
    /// Its id.
    pub id: Written<Text>,
    /// Connector, hose, cable, drive ...
    pub kind: Option<Written<PortKind>>,
    /// What it carries.
    pub carries: Option<Written<Carries>>,
    /// Where it lies on the face's plane.
    pub at: Option<Xy>,
    /// At which depth.
    pub depth: Option<Size>,
    /// In which direction it leaves.
    pub towards: Option<Written<Towards>>,
    /// Diameter of the plug, hose or cable.
    pub diameter: Option<Size>,
    /// Least bend radius to the inside of the bend.
    pub bend_radius: Option<Size>,
    /// What it needs beyond the body, one after the other.
    pub needs: Vec<Need>,
    /// What it needs instead with a plug that leaves sideways.
    pub side_exit: Vec<Need>,
    /// The source named nearest around it.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

/// One term of what a port needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// What it is (connector, backshell, bend, hand).
    pub term: Written<Text>,
    /// How long; `None`: not known, which withholds the depth.
    pub length: Option<Size>,
}

/// Something that the pilot touches.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontPart {
    /// Its id.
    pub id: Written<Text>,
    /// Knob, lever, button ...
    pub kind: Written<FrontKind>,
    /// Its shape, seen from the seat.
    pub shape: Shape,
    /// Where its origin lies.
    pub at: Option<Xy>,
    /// How far it stands out from the sheet.
    pub out: Option<Size>,
    /// Room for the hand around it.
    pub hand_room: Option<Size>,
    /// The source named nearest around it.
    pub source: Option<Text>,
    /// Where it stands.
    pub place: Where,
}

/// Currents by duty.
#[derive(Clone, Debug, PartialEq)]
pub struct Currents {
    /// As long as it is on.
    pub continuous: Option<Written<Current>>,
    /// For minutes (transmitting, a heater).
    pub intermittent: Option<Written<Current>>,
    /// For moments (a motor that starts).
    pub peak: Option<Written<Current>>,
    /// At which voltage.
    pub volts: Option<Written<f64>>,
    /// Where it stands.
    pub place: Where,
}

/// Sheets that an instrument accepts.
#[derive(Clone, Debug, PartialEq)]
pub struct Accepts {
    /// Thinnest.
    pub least: Option<Size>,
    /// Thickest.
    pub most: Option<Size>,
    /// Where it stands.
    pub place: Where,
}

/// What the panel's tilt means to an instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Tilt {
    /// Whether it matters at all.
    pub matters: Option<Written<bool>>,
    /// The tilt it is calibrated for.
    pub calibrated: Option<Written<Angle>>,
    /// How far off it may be.
    pub bears: Option<Written<Angle>>,
    /// Where it stands.
    pub place: Where,
}

/// A unit that slides into a stack.
#[derive(Clone, Debug, PartialEq)]
pub struct StackUnit {
    /// Height of its front.
    pub height: Option<Size>,
    /// Width of its tray.
    pub width: Option<Size>,
    /// How far its tray sits behind the panel's face.
    pub set_back: Option<Size>,
    /// Room for the front lock's tool.
    pub lock_room: Option<Size>,
    /// Where it stands.
    pub place: Where,
}

/// The opening and rails of a stack.
#[derive(Clone, Debug, PartialEq)]
pub struct StackFrame {
    /// Width of the opening.
    pub opening_width: Option<Size>,
    /// Height of the opening.
    pub opening_height: Option<Size>,
    /// Clear width between the rails.
    pub rail_spacing: Option<Size>,
    /// Gap per joint between units.
    pub joint: Option<Size>,
    /// Clear room above the first unit.
    pub top: Option<Size>,
    /// Clear room below the last unit.
    pub bottom: Option<Size>,
    /// Thickest shim per side.
    pub shim: Option<Size>,
    /// How far the rails sit behind the panel's face.
    pub set_back: Option<Size>,
    /// Where it stands.
    pub place: Where,
}
