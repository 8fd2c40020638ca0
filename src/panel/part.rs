//! One flat part of a subject: a contour with a depth range and its tolerance terms.

use crate::diag::Where;
use crate::geom::{Contour, Point, Transform, Vec2};
use crate::panel::SizeSource;
use crate::solid::{Pose, Solid, Vec3};
use std::sync::Arc;

/// Names a part of a panel: index of the subject, index within the subject.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PartRef {
    /// Index into [`Panel::subjects`](crate::panel::Panel::subjects).
    pub subject: u32,
    /// Index into [`Subject::parts`](crate::panel::Subject::parts).
    pub part: u32,
}

/// What a part is to the rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u32)]
pub enum Class {
    /// The outline of a sheet.
    Edge = 1,
    /// An opening for a body.
    Cutout = 1 << 1,
    /// An opening for a fastener, shaft or wire.
    Hole = 1 << 2,
    /// An opening that exists in the old sheet and stays.
    OldOpening = 1 << 3,
    /// Front face that covers the sheet around the cutout.
    Bezel = 1 << 4,
    /// Face of a rear-mounted case that seats behind the sheet.
    Flange = 1 << 5,
    /// The section of the instrument that passes through the cutout.
    Case = 1 << 6,
    /// Solid behind the sheet.
    Body = 1 << 7,
    /// A plug, hose, bend: what a port needs behind.
    Port = 1 << 8,
    /// Knob, lever, button, socket on the pilot's side.
    Front = 1 << 9,
    /// Room for a hand around a front part.
    Hand = 1 << 10,
    /// Fastener head or washer in front.
    Head = 1 << 11,
    /// Nut, nutplate or washer behind.
    Nut = 1 << 12,
    /// A zone where something is forbidden.
    Zone = 1 << 13,
    /// Lettering.
    Label = 1 << 14,
    /// Free room of a provision.
    Provision = 1 << 15,
    /// A fixed solid of the airframe.
    Obstacle = 1 << 16,
    /// A solid that moves with a control.
    Moving = 1 << 17,
    /// A hose, bundle or cable.
    Line = 1 << 18,
}

/// A set of classes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Classes(pub u32);

impl Classes {
    /// Everything that goes through the sheet.
    pub const OPENINGS: Classes =
        Classes(Class::Cutout as u32 | Class::Hole as u32 | Class::OldOpening as u32);

    /// A set from a list.
    pub const fn of(list: &[Class]) -> Classes {
        let (mut bits, mut k) = (0, 0);
        while k < list.len() {
            bits |= list[k] as u32;
            k += 1;
        }
        Classes(bits)
    }

    /// Membership.
    #[inline]
    pub fn has(self, c: Class) -> bool {
        self.0 & c as u32 != 0
    }
}

/// Where a tolerance comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TermKind {
    /// Size of the part as its source states it.
    Size,
    /// Workmanship of the cut, by process.
    Cut,
    /// Position of the subject.
    Position,
    /// Position that a whole rigid group shares.
    Group,
    /// Coat on the edges.
    Coat,
    /// Survey of what exists.
    Survey,
}

/// One named tolerance of a part. Amounts are millimetres per side, none negative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// Where it comes from.
    pub kind: TermKind,
    /// Terms with the same non-zero key are one and the same deviation: between two parts that share
    /// it, it cancels.
    pub key: u32,
    /// How far the boundary may lie further out.
    pub grow: f64,
    /// How far it may lie further in.
    pub shrink: f64,
    /// How far the whole part may be off, any direction.
    pub shift: f64,
}

/// Cut as drawn, or drilled through the part itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Make {
    /// Cut to drawing.
    Drawing,
    /// Drill from part.
    FromPart,
}

/// Shape of a fastener's head.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadKind {
    /// Pan, round, cheese, hexagon: stands on the sheet.
    Raised,
    /// Countersunk.
    Countersunk,
}

/// Head of a fastener.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Head {
    /// Kind.
    pub kind: HeadKind,
    /// Diameter, mm.
    pub diameter: f64,
    /// Height of a raised head, depth of a countersunk one, mm.
    pub height: Option<f64>,
    /// Whole angle of a countersunk one, degrees.
    pub angle: Option<f64>,
}

/// Nut or nutplate behind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nut {
    /// Diameter of the room it needs, mm.
    pub across: f64,
    /// How far it stands behind, mm.
    pub height: Option<f64>,
    /// Riveted on or pressed in: it holds itself.
    pub captive: bool,
}

/// What goes through a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastening {
    /// Name as written (`#6-32`, `M4`).
    pub name: String,
    /// Nominal diameter, mm, where the name is known.
    pub diameter: Option<f64>,
    /// Head.
    pub head: Option<Head>,
    /// Nut.
    pub nut: Option<Nut>,
    /// Length under the head, mm.
    pub length: Option<f64>,
    /// The nutplate that it belongs to, by its number within the subject: a screw and the rivets round it
    /// share one.
    pub nutplate: Option<u32>,
}

/// What a zone forbids.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Forbids {
    /// Openings.
    pub cut: bool,
    /// Anything behind the sheet.
    pub behind: bool,
    /// Anything in front of the sheet.
    pub front: bool,
}

/// What a class of part knows beyond its contour.
#[derive(Clone, Debug, PartialEq)]
pub enum Detail {
    /// Nothing more.
    Plain,
    /// A cutout.
    Cutout {
        /// How it is made.
        make: Make,
    },
    /// A round or other hole.
    Hole {
        /// Diameter where it is round, mm.
        diameter: Option<f64>,
        /// Its fastener; `None`: not named (or no fastener, see `free`).
        fastening: Option<Fastening>,
        /// Not for a fastener (shaft, wire, anti-rotation pin).
        free: bool,
        /// How it is made.
        make: Make,
    },
    /// A front part.
    Front {
        /// Word of the definition (knob, lever, button, card-door, socket, lock).
        kind: String,
        /// Room for the hand from its edge, mm, where the definition states one.
        hand_room: Option<f64>,
    },
    /// A port's need.
    Port {
        /// What it carries.
        carries: Option<String>,
        /// Terms that add up behind the body: (name, mm or missing).
        terms: Vec<(String, Option<f64>)>,
    },
    /// A zone.
    Zone {
        /// What may not be there.
        forbids: Forbids,
        /// Why.
        because: String,
    },
    /// A fixed solid of the airframe.
    Obstacle {
        /// Its true shape, panel's frame; the part's contour is its silhouette seen from the seat.
        solid: Arc<Solid>,
        /// Word of the file (rib, sub-panel, stringer, firewall, tank, duct, canopy-frame, knees ...).
        kind: String,
        /// What it carries, for lines and tanks.
        carries: Option<String>,
    },
    /// A solid that moves with a control.
    Moving {
        /// Its true shape in the zero pose of its link, panel's frame.
        solid: Arc<Solid>,
        /// Its link, by index into the mechanism's links.
        link: usize,
        /// Word of the file (rim, shaft, lever, chain, frame, monitor, hand ...).
        kind: String,
        /// Room for the hand that holds it, mm: counts as part of the solid against what is fixed.
        hand: Option<f64>,
    },
    /// Where a line runs, as far as it is known.
    Line {
        /// Its true shape, panel's frame.
        solid: Arc<Solid>,
        /// What it carries.
        carries: Option<String>,
    },
    /// Lettering.
    Label {
        /// Text.
        text: String,
        /// Letter height, mm.
        height: f64,
        /// How it is made, if said.
        process: Option<String>,
        /// Id of the subject it names.
        of: Option<String>,
    },
}

impl Detail {
    /// Moves the true shape of what has one.
    pub fn shift(&mut self, by: Vec2) {
        if let Detail::Obstacle { solid, .. } | Detail::Moving { solid, .. } | Detail::Line { solid, .. } =
            self
        {
            *solid = Arc::new(solid.moved(&Pose::shift(Vec3::new(by.x, by.y, 0.0))));
        }
    }
}

/// One flat part.
#[derive(Clone, Debug)]
pub struct Part {
    /// Name within its subject; empty where the subject has this one alone.
    pub name: String,
    /// What it is.
    pub class: Class,
    /// Index of the sheet it belongs to.
    pub sheet: u32,
    /// Absolute contour, mm, counter-clockwise.
    pub contour: Contour,
    /// Point that dimensions and edge distance are measured from.
    pub centre: Point,
    /// Depth range `(from, to)` in mm, 0 at the front face of the main sheet, forward positive.
    /// `None`: openings and edges (whole thickness), or depth missing (then the class is Body or Port).
    pub depth: Option<(f64, f64)>,
    /// A new item's opening that is there already, because an old one has the same outline: nothing is cut.
    pub there: bool,
    /// Tolerances.
    pub terms: Vec<Term>,
    /// Its size as it was written in inches (`3 1/8 in`, `4 in × 2 1/2 in`), which is how it is printed;
    /// `None`: not written in inches, or not one size.
    pub written: Option<Arc<str>>,
    /// Where its sizes come from.
    pub source: SizeSource,
    /// More, by class.
    pub detail: Detail,
    /// Where it stands in the file (the placement for parts that come from a definition).
    pub place: Where,
}

impl Part {
    /// Moves the part; what was there already is not there any more.
    pub fn shift(&mut self, t: &Transform) {
        self.contour = t.contour(&self.contour);
        self.centre = t.point(self.centre);
        self.there = false;
    }

    /// Fastener, where the part is a hole with one.
    pub fn fastening(&self) -> Option<&Fastening> {
        match &self.detail {
            Detail::Hole { fastening, .. } => fastening.as_ref(),
            _ => None,
        }
    }
}
