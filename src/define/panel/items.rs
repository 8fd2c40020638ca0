//! What is placed on a panel: placements, rows, stacks, labels, and changes to those of another file.

use super::words::Side;
use crate::define::Text;
use crate::define::node::{Amount, Size, Value, Xy};
use crate::diag::{Where, Written};
use crate::units::{Angle, Length};

/// Where an item stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Position {
    /// By coordinates.
    At(Xy),
    /// Beside another item.
    Beside {
        /// On which side of it.
        side: Side,
        /// Of which item.
        of: Written<Text>,
        /// How far.
        room: Room,
        /// At the height of this item (right or left), in line with this one (up or down); with `of`
        /// when missing.
        level: Option<Written<Text>>,
        /// Moved on from there.
        offset: Option<Xy>,
    },
    /// Centre on centre.
    CentredOn {
        /// The item.
        of: Written<Text>,
        /// Moved on from there.
        offset: Option<Xy>,
    },
    /// Where another item's mirror image would stand.
    MirrorOf {
        /// The item.
        of: Written<Text>,
        /// The x of the line about which it is mirrored.
        about: Written<Length>,
    },
}

/// How far from one item to the next.
#[derive(Clone, Debug, PartialEq)]
pub enum Room {
    /// From centre to centre.
    Pitch(Written<Length>),
    /// From edge to edge of what shows in front.
    Gap(Written<Length>),
}

/// What any placed thing may say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Placed {
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// Mirrored left to right.
    pub mirrored: Option<Written<bool>>,
    /// The insert or layer that carries it.
    pub on: Option<Written<Text>>,
    /// Kept free for later.
    pub provision: Option<Written<bool>>,
    /// No suggestion may move it.
    pub locked: Option<Written<bool>>,
    /// There already.
    pub kept: Option<Written<bool>>,
    /// Must not be worked by mistake.
    pub critical: Option<Written<bool>>,
    /// What it is here.
    pub title: Option<Written<Text>>,
    /// Its lettering as a text.
    pub label: Option<Written<Text>>,
    /// Ids of its labels.
    pub labels: Vec<Written<Text>>,
    /// Sizes confirmed on the user's own part: who and when.
    pub checked: Option<Written<Text>>,
    /// What holds its back.
    pub rear_support: Option<Written<Text>>,
    /// How far its back drops: degrees, or a length.
    pub droop: Option<Amount>,
    /// Numbers in place of its definition's.
    pub numbers: Vec<Number>,
    /// Remarks.
    pub note: Option<Written<Text>>,
}

/// A number of an item in place of its definition's.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// Where it stands in the definition, such as `bodies.can.to`.
    pub path: Written<Text>,
    /// A size, mass, current, angle or point.
    pub value: Value,
    /// Name of its source in this file's `sources`.
    pub source: Written<Text>,
    /// Where the value stands.
    pub place: Where,
}

/// An instrument put on the panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// Its id.
    pub id: Written<Text>,
    /// Name of its definition.
    pub instrument: Written<Text>,
    /// Where it stands.
    pub position: Position,
    /// What else is said of it.
    pub placed: Placed,
    /// Where it stands in the file.
    pub place: Where,
}

/// What changes of an item of the file that this one builds on.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The item's id.
    pub id: Written<Text>,
    /// Another definition.
    pub instrument: Option<Written<Text>>,
    /// Another place.
    pub position: Option<Position>,
    /// Another distance, with the relation kept.
    pub room: Option<Room>,
    /// A label's text.
    pub text: Option<Written<Text>>,
    /// A label's letter height.
    pub height: Option<Size>,
    /// How a label is made.
    pub process: Option<Written<Text>>,
    /// The item that a label names.
    pub of: Option<Written<Text>>,
    /// What else changes.
    pub placed: Placed,
    /// Where it stands in the file.
    pub place: Where,
}

/// Instruments in a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its id.
    pub id: Option<Written<Text>>,
    /// Its items from the first to the last.
    pub items: Vec<RowItem>,
    /// Where the first one stands.
    pub position: Position,
    /// From one to the next.
    pub room: Room,
    /// The direction in which it runs.
    pub along: Written<Side>,
    /// What is said of all of them.
    pub placed: Placed,
    /// Where it stands in the file.
    pub place: Where,
}

/// One item of a row.
#[derive(Clone, Debug, PartialEq)]
pub struct RowItem {
    /// Its id.
    pub id: Written<Text>,
    /// Name of its definition: its own or the row's; `None` when neither names one, which is told.
    pub instrument: Option<Written<Text>>,
    /// What is said of it alone.
    pub placed: Placed,
    /// Where it stands in the file.
    pub place: Where,
}

/// A column of units in a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Its id.
    pub id: Written<Text>,
    /// Name of the frame's definition.
    pub instrument: Written<Text>,
    /// Where it stands.
    pub position: Position,
    /// Its units from the top.
    pub units: Vec<InStack>,
    /// What else is said of it.
    pub placed: Placed,
    /// Where it stands in the file.
    pub place: Where,
}

/// A unit of a stack, or room kept free for one.
#[derive(Clone, Debug, PartialEq)]
pub struct InStack {
    /// Its id.
    pub id: Option<Written<Text>>,
    /// What stands there.
    pub what: UnitOrRoom,
    /// What else is said of it.
    pub placed: Placed,
    /// Where it stands in the file.
    pub place: Where,
}

/// What stands in a place of a stack.
#[derive(Clone, Debug, PartialEq)]
pub enum UnitOrRoom {
    /// A unit, by the name of its definition.
    Unit(Written<Text>),
    /// Room kept free: its height.
    Room(Size),
}

/// A label or placard.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its id.
    pub id: Written<Text>,
    /// Its text.
    pub text: Written<Text>,
    /// Height of its capital letters.
    pub height: Option<Size>,
    /// How it is made.
    pub process: Option<Written<Text>>,
    /// The item that it names.
    pub of: Option<Written<Text>>,
    /// Where it stands.
    pub position: Position,
    /// Turned counter-clockwise.
    pub turn: Option<Written<Angle>>,
    /// The insert or layer that carries it.
    pub on: Option<Written<Text>>,
    /// No suggestion may move it.
    pub locked: bool,
    /// There already.
    pub kept: bool,
    /// Remarks.
    pub note: Option<Written<Text>>,
    /// Where it stands in the file.
    pub place: Where,
}
