//! What a placement's instrument says beyond its parts. Anything may be missing; what is missing
//! stays `None` and the rule that needs it withholds its verdict.

use super::OwnNumber;
use crate::diag::Where;
use crate::solid::Vec3;
use std::sync::Arc;

/// Standing of a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// Maker's installation drawing.
    Maker,
    /// Measured on the part.
    Measured,
    /// Published standard.
    Standard,
    /// Common practice.
    Practice,
    /// Typical, measure yours.
    Typical,
    /// Invented for the demo.
    Invented,
    /// Stated in the panel's own file.
    File,
}

/// Where sizes come from: basis and the words that name it (document and revision, who and when).
#[derive(Clone, Debug, PartialEq)]
pub struct SizeSource {
    /// Standing.
    pub basis: Basis,
    /// Document, revision, who, when: as one line.
    pub words: Arc<str>,
    /// Where the size itself is written (of a hole: its pattern), when a definition's file says it.
    pub place: Option<Where>,
}

/// How an instrument is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mounting {
    /// Put in from the front, bezel on the sheet.
    Front,
    /// Put in from behind, flange against the sheet's back.
    Rear,
    /// Held by a clamp round the case.
    Clamp,
}

/// Side through which it comes out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Service {
    /// Pilot's side.
    Front,
    /// Behind.
    Rear,
    /// Either.
    Both,
}

/// What kind of thing the pilot works or reads, for spacing and labels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    /// Toggle or rocker switch.
    Toggle,
    /// Push switch or button.
    Push,
    /// Circuit breaker or fuse.
    Breaker,
    /// Key switch.
    Key,
    /// Push-pull cable, knob, valve, lever.
    Handle,
    /// Warning or indicator lamp.
    Lamp,
}

/// A unit that slides into a stack.
#[derive(Clone, Debug, PartialEq)]
pub struct StackUnit {
    /// Height of the unit's front, mm.
    pub height: Option<f64>,
    /// Width of the unit's tray or front, mm.
    pub width: Option<f64>,
    /// How far the tray's front must sit behind the panel's face to make faces flush, mm.
    pub set_back: Option<f64>,
    /// Room for the front lock's tool, mm.
    pub lock_room: Option<f64>,
}

/// The frame of a stack: rails and opening.
#[derive(Clone, Debug, PartialEq)]
pub struct StackFrame {
    /// Width of the opening, mm.
    pub opening_width: Option<f64>,
    /// Clear width between the rails, mm.
    pub rail_spacing: Option<f64>,
    /// Height of the opening, mm.
    pub opening_height: Option<f64>,
    /// Gap per joint between units, mm.
    pub joint: Option<f64>,
    /// Clear room above the first and below the last unit, mm.
    pub ends: Option<f64>,
    /// Thickest shim per side that the rails take, mm.
    pub shim: Option<f64>,
    /// Set-back of the rails' mounting face behind the panel's face, mm.
    pub set_back: Option<f64>,
}

/// What leaves at a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaves {
    /// A plug with wires.
    Plug,
    /// A hose or tube with its fitting.
    Hose,
    /// A wide air duct.
    Duct,
    /// A push-pull cable.
    PushPull,
    /// A turning drive.
    Drive,
    /// A coaxial cable with its plug.
    Coax,
    /// Single wires or terminals.
    Wires,
    /// A light guide or lamp holder.
    Light,
}

/// What an instrument says of one of its ports beyond the solid that it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlet {
    /// Name of its part (`port-static`).
    pub part: String,
    /// What leaves there; `None`: not said.
    pub leaves: Option<Leaves>,
    /// Unit vector in which it leaves, about the instrument as its file draws it; `None`: not said.
    pub towards: Option<Vec3>,
    /// Diameter of the plug, hose or cable, mm.
    pub diameter: Option<f64>,
    /// Least bend radius to the inside of the bend, mm.
    pub bend_radius: Option<f64>,
    /// What it needs instead with a plug that leaves sideways: (name, mm or missing).
    pub side_exit: Vec<(String, Option<f64>)>,
}

/// Facts of one instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// Catalogue name (`round/3-1-8in-front`).
    pub instrument: String,
    /// Title.
    pub title: String,
    /// Kind word of the catalogue.
    pub kind: String,
    /// Nominal name; never a size.
    pub nominal: Option<String>,
    /// How it is held.
    pub mounting: Option<Mounting>,
    /// Service side.
    pub service: Option<Service>,
    /// Least and greatest sheet it accepts, mm.
    pub accepts: (Option<f64>, Option<f64>),
    /// Tilt it is calibrated for, degrees, and the deviation it bears; `None`: does not matter or not said.
    pub tilt: Option<(f64, Option<f64>)>,
    /// Whether tilt matters to it at all.
    pub tilt_matters: bool,
    /// What the pilot works, if anything.
    pub control: Option<Control>,
    /// Needs lettering.
    pub needs_label: bool,
    /// Mass, kg.
    pub mass: Option<f64>,
    /// Numbers that the panel's file says of this one item in place of the definition's, in the file's order.
    pub numbers: Vec<OwnNumber>,
    /// Whether the definition has bodies that must pass the cutout but gives no case.
    pub has_case: bool,
    /// Its place in a stack.
    pub unit: Option<StackUnit>,
    /// Its frame, if it is a stack.
    pub frame: Option<StackFrame>,
    /// Worst standing of any of its sizes, with the words.
    pub weakest: SizeSource,
    /// Sizes that rest on "typical" or "invented": their names.
    pub unconfirmed: Vec<String>,
    /// Depth terms beyond the body that the definition leaves open: names.
    pub open_terms: Vec<String>,
    /// Its ports, in the order of the definition.
    pub ports: Vec<Outlet>,
}
