//! What stands, moves and runs behind and in front of a panel, as its file says it.

use super::words_space::{Axis, ControlKind, DriverKind, Frame, LineKind, ObstacleKind};
use crate::define::{Amount, Shape, Size, Text, Xy, Xyd};
use crate::diag::{Where, Written};
use crate::units::{Angle, Length};

/// All sections of space of one file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Space {
    /// Where the panel's datum stands in the aeroplane.
    pub airframe: Option<Airframe>,
    /// Fixed things.
    pub obstacles: Vec<Obstacle>,
    /// What is moved.
    pub drivers: Vec<Driver>,
    /// What moves.
    pub controls: Vec<Control>,
    /// Hoses, bundles, cables.
    pub lines: Vec<Line>,
}

/// Where the panel's datum stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Airframe {
    /// Aft positive.
    pub station: Length,
    /// Right positive.
    pub butt_line: Length,
    /// Up positive.
    pub water_line: Length,
    /// Where it stands in the file.
    pub place: Where,
}

/// A fixed thing of the airframe.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Its id.
    pub id: Written<Text>,
    /// What it is.
    pub kind: ObstacleKind,
    /// Axes of its points.
    pub frame: Frame,
    /// Its solids.
    pub solids: Vec<Solid>,
    /// What it carries.
    pub carries: Option<Written<Text>>,
    /// How far off it may stand.
    pub tolerance: Option<Size>,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// Where it stands in the file.
    pub place: Where,
}

/// A solid of an obstacle or link.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// Its name within what it belongs to.
    pub id: Option<Written<Text>>,
    /// Its form.
    pub form: Form,
    /// What it is, of a moving one.
    pub kind: Option<Written<Text>>,
    /// Room for the hand that holds it.
    pub hand: Option<Hand>,
    /// Where it stands in the file.
    pub place: Where,
}

/// Room for a hand.
#[derive(Clone, Debug, PartialEq)]
pub enum Hand {
    /// By default.
    Usual,
    /// So much.
    Room(Written<Length>),
}

/// Form of a solid.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A shape drawn out along the depth.
    Prism {
        /// The shape.
        section: Box<Shape>,
        /// Where its origin lies.
        at: Option<Xy>,
        /// Turned counter-clockwise.
        turn: Option<Written<Angle>>,
        /// Depth at which it begins.
        from: Written<Length>,
        /// Depth at which it ends.
        to: Written<Length>,
    },
    /// A box.
    Box {
        /// Its sizes along the three axes.
        sizes: [Size; 3],
        /// Its middle.
        centre: Xyd,
        /// Turns, one after the other.
        turns: Vec<(Written<Axis>, Written<Angle>)>,
    },
    /// A round bar.
    Bar {
        /// Its diameter.
        diameter: Size,
        /// One end.
        from: Xyd,
        /// The other end.
        to: Xyd,
    },
    /// A ball.
    Ball {
        /// Its diameter.
        diameter: Size,
        /// Its middle.
        centre: Xyd,
    },
    /// A tube along a path.
    Tube {
        /// Its outside diameter.
        diameter: Size,
        /// Points of its centre line.
        path: Vec<Xyd>,
        /// Radius of its corners to the inside.
        bend: Option<Size>,
    },
    /// The convex hull of points.
    Hull(Vec<Xyd>),
}

/// Something that is moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Driver {
    /// Its id.
    pub id: Written<Text>,
    /// What its number is.
    pub kind: DriverKind,
    /// Low stop.
    pub from: Amount,
    /// High stop.
    pub to: Amount,
    /// Where it rests.
    pub neutral: Option<Amount>,
    /// How far it can be forced past its stops.
    pub over: Option<[Amount; 2]>,
    /// Where it stands in the file.
    pub place: Where,
}

/// Something that moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    /// Its id.
    pub id: Written<Text>,
    /// What it is.
    pub kind: ControlKind,
    /// Axes of its points.
    pub frame: Frame,
    /// Its links.
    pub links: Vec<Link>,
    /// Its poses.
    pub poses: Vec<Pose>,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// Where it stands in the file.
    pub place: Where,
}

/// A direction; it needs no length.
#[derive(Clone, Debug, PartialEq)]
pub struct Direction {
    /// Its three numbers.
    pub along: [f64; 3],
    /// Where it stands in the file.
    pub place: Where,
}

/// How a link moves.
#[derive(Clone, Debug, PartialEq)]
pub enum Joint {
    /// Not against what it hangs on.
    Fixed,
    /// Along a direction.
    Slide(Direction),
    /// About a line.
    Pivot {
        /// A point of the line.
        at: Xyd,
        /// Its direction.
        axis: Direction,
    },
}

/// A rigid link of a control.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Its id within its control.
    pub id: Written<Text>,
    /// What it hangs on.
    pub on: Option<Written<Text>>,
    /// How it moves.
    pub joint: Joint,
    /// Drivers by id with their factors.
    pub follows: Vec<(Written<Text>, Written<f64>)>,
    /// Play and flexing.
    pub allowance: Option<Size>,
    /// Ids of what it passes through.
    pub runs_in: Vec<Written<Text>>,
    /// Its solids.
    pub solids: Vec<Solid>,
    /// Where it stands in the file.
    pub place: Where,
}

/// A named pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// Its name.
    pub name: Written<Text>,
    /// Drivers by id with their numbers.
    pub drivers: Vec<(Written<Text>, Amount)>,
}

/// A hose, bundle or cable.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its id.
    pub id: Written<Text>,
    /// What it is.
    pub kind: LineKind,
    /// What it carries.
    pub carries: Option<Written<Text>>,
    /// The port that it leaves.
    pub from: Option<Written<Text>>,
    /// Where it ends.
    pub to: Option<End>,
    /// Outside diameter.
    pub diameter: Option<Size>,
    /// Least bend radius to the inside.
    pub bend: Option<Size>,
    /// Its length.
    pub length: Option<Size>,
    /// Points of its centre line; empty where it is not known.
    pub path: Vec<Xyd>,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// Where it stands in the file.
    pub place: Where,
}

/// Where a line ends.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// At a port.
    Port(Written<Text>),
    /// At a point.
    Point(Xyd),
}
