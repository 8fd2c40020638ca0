//! What is known of the room behind and in front of the panel beyond its own parts: where the panel stands in the
//! aeroplane, what moves, what sways, and the lines that leave ports.
//!
//! Obstacles, controls and lines are subjects of the panel; their parts carry their solid in their detail.

use crate::diag::Where;
use crate::panel::{DepthMap, PartRef, Process, UserLimit};
use crate::solid::Vec3;
use crate::solid::travel::{LinkRef, Mechanism};
use std::collections::BTreeMap;

/// Where the panel's datum stands in the aeroplane, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Airframe {
    /// Aft of the aeroplane's datum positive.
    pub station: f64,
    /// Right positive.
    pub butt_line: f64,
    /// Up positive.
    pub water_line: f64,
}

/// How far what rides on shock mounts may move, mm, all at least 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sway {
    /// To the left, seen from the seat.
    pub left: f64,
    /// To the right.
    pub right: f64,
    /// Up.
    pub up: f64,
    /// Down.
    pub down: f64,
    /// Forward, away from the pilot.
    pub forward: f64,
    /// Aft, towards the pilot.
    pub aft: f64,
}

/// A rigid group: what moves as one. Group 0 is fixed.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Id of the panel that it is.
    pub id: String,
    /// Index of its main sheet.
    pub sheet: usize,
    /// The opening of the carrier in or before which it floats; `None`: not given.
    pub opening: Option<PartRef>,
    /// How far it sways; `None`: not given, which withholds. Group 0 has none and needs none.
    pub sway: Option<Sway>,
    /// How far it sinks on its mounts below where it is drawn, mm, not negative; `None`: not given.
    pub sag: Option<f64>,
    /// By how many degrees it tips so that the rear of what it carries drops, not negative; `None`: not given.
    pub droop: Option<f64>,
    /// The limits that its own file sets.
    pub limits: BTreeMap<String, UserLimit>,
    /// How its openings are cut.
    pub process: Option<Process>,
    /// Room behind it as its own file says it, in place on the carrier, from the carrier's front face.
    pub depth: DepthMap,
    /// Where it stands.
    pub place: Where,
}

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// A hose.
    Hose,
    /// A wire bundle.
    Wires,
    /// A coaxial cable.
    Coax,
    /// A mechanical drive cable.
    Drive,
    /// A rigid pipe.
    Pipe,
    /// A control cable (push-pull or wire rope).
    ControlCable,
}

/// A hose, bundle or cable that leaves a port.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its subject.
    pub subject: u32,
    /// What it is.
    pub kind: LineKind,
    /// What it carries (pitot, static, vacuum, fuel, oil, power, signal ...).
    pub carries: Option<String>,
    /// The port that it leaves; `None`: a line that is there and belongs to no item.
    pub from: Option<PartRef>,
    /// Where it ends: a port of an item, or a point.
    pub to: Option<End>,
    /// Outside diameter, mm.
    pub diameter: Option<f64>,
    /// Least bend radius to the inside of the bend, mm, and where it comes from.
    pub bend_radius: Option<(f64, String)>,
    /// Length that it has, mm, where it was stated.
    pub length: Option<f64>,
    /// Where it stands.
    pub place: Where,
}

/// Where a line ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum End {
    /// At a port.
    Port(PartRef),
    /// At a point, panel's frame.
    Point(Vec3),
}

/// What a link passes through or bears in, by what the file says: rules do not ask the two to keep apart, and the
/// report lists each pair with its place, because nobody has measured it.
#[derive(Clone, Debug, PartialEq)]
pub struct Exempt {
    /// The link, by index into the mechanism's links; all solids on it, none on links that hang on it.
    pub link: LinkRef,
    /// What it passes through.
    pub from: Exempted,
    /// The name in the file.
    pub place: Where,
}

/// What a link passes through or bears in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Exempted {
    /// Every part of a subject: a sheet, an obstacle, a placement, a line, or another control with all its links.
    Subject(u32),
    /// One part.
    Part(PartRef),
    /// One link, by index into the mechanism's links.
    Link(LinkRef),
}

/// A pose that has a name, such as a canopy's `shut`.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedPose {
    /// Index of the control's subject.
    pub control: u32,
    /// Its name.
    pub name: String,
    /// Every driver of the mechanism: as the pose says, at rest where it says nothing. Within the stops.
    pub drivers: Vec<f64>,
    /// Where it stands.
    pub place: Where,
}

/// The room behind and in front.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Space {
    /// Where the panel stands in the aeroplane.
    pub airframe: Option<Airframe>,
    /// Drivers and links of all controls.
    pub mechanism: Mechanism,
    /// Of each link of the mechanism: index of its control's subject.
    pub control_of: Vec<u32>,
    /// What links pass through or bear in.
    pub exempt: Vec<Exempt>,
    /// Poses that have a name; a canopy has one called `shut`.
    pub poses: Vec<NamedPose>,
    /// Rigid groups by their number; empty where nothing floats.
    pub groups: Vec<Group>,
    /// Lines.
    pub lines: Vec<Line>,
}

impl Space {
    /// Whether a link passes through or bears in a part, as its file says it. `other` is the part's own link where it
    /// is a moving one. What is said of one of two links holds for both.
    pub fn exempt(&self, link: LinkRef, part: PartRef, other: Option<LinkRef>) -> bool {
        let holds = |e: &Exempt| match e.from {
            Exempted::Subject(s) => e.link == link && s == part.subject,
            Exempted::Part(p) => e.link == link && p == part,
            Exempted::Link(l) => e.link == link && Some(l) == other || Some(e.link) == other && l == link,
        };
        let own = |l: LinkRef| self.control_of.get(l).copied();
        let back = |e: &Exempt| {
            // the other link names this one's whole control
            matches!(e.from, Exempted::Subject(s) if Some(e.link) == other && Some(s) == own(link))
        };
        self.exempt.iter().any(|e| holds(e) || back(e))
    }
}
