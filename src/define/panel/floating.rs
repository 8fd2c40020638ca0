//! A panel that floats in an opening of this one, as the file says it.

use super::items::{Placed, Placement, Position};
use crate::define::node::{Node, Value};
use crate::define::{Shape, Text, Xy};
use crate::diag::{Where, Written};
use crate::units::{Angle, Length};

/// A panel on shock mounts.
#[derive(Clone, Debug, PartialEq)]
pub struct Floating {
    /// Its id; what stands on it is called by this id, a colon, and its own.
    pub id: Written<Text>,
    /// Name of its own panel file, beside this one.
    pub panel: Written<Text>,
    /// Where its datum stands on the carrier.
    pub at: Xy,
    /// Its front face from the carrier's, aft (towards the pilot) positive.
    pub stand_off: Written<Length>,
    /// The opening of the carrier that it lies in or covers.
    pub opening: Option<FloatsIn>,
    /// Its shock mounts as placements on the carrier.
    pub mounts: Vec<Placement>,
    /// How far it sways.
    pub sway: Option<Sway>,
    /// How far it sinks on its mounts.
    pub sag: Option<Written<Length>>,
    /// By how much the rear of what it carries tips down.
    pub droop: Option<Written<Angle>>,
    /// Where it stands.
    pub place: Where,
}

/// The opening in which a panel floats.
#[derive(Clone, Debug, PartialEq)]
pub enum FloatsIn {
    /// One that the carrier has already, by its id.
    Known(Written<Text>),
    /// A new one, about the floating panel's datum.
    New(Box<Shape>),
}

/// How far a panel sways each way.
#[derive(Clone, Debug, PartialEq)]
pub struct Sway {
    /// To the left, seen from the seat.
    pub left: Written<Length>,
    /// To the right.
    pub right: Written<Length>,
    /// Up.
    pub up: Written<Length>,
    /// Down.
    pub down: Written<Length>,
    /// Forward, away from the pilot.
    pub forward: Written<Length>,
    /// Aft, towards the pilot.
    pub aft: Written<Length>,
}

impl Floating {
    pub(super) fn build(node: &Node) -> Option<Floating> {
        let id = node.text("id")?;
        let known = node.text("opening").map(FloatsIn::Known);
        let new = || node.get("opening").and_then(Shape::build).map(|s| FloatsIn::New(Box::new(s)));
        Some(Floating {
            panel: node.text("panel")?,
            at: node.point("at")?,
            stand_off: node.length("stand-off")?,
            opening: known.or_else(new),
            mounts: mounts(&id.value, node),
            sway: node.get("sway").and_then(Sway::build),
            sag: node.length("sag"),
            droop: node.angle("droop"),
            place: node.place.clone(),
            id,
        })
    }
}

/// Each mount as a placement, numbered through.
fn mounts(id: &Text, node: &Node) -> Vec<Placement> {
    let mut all = Vec::new();
    for kind in node.list("mounts") {
        let Some(instrument) = kind.text("instrument") else { continue };
        for at in kind.list("at") {
            let Value::Point(at) = &at.value else { continue };
            let name: Text = format!("{id}:mount-{}", all.len() + 1).into();
            all.push(Placement {
                id: Written::new(name, kind.place.clone()),
                instrument: instrument.clone(),
                position: Position::At(at.clone()),
                placed: Placed {
                    kept: kind.flag("kept"),
                    checked: kind.text("checked"),
                    ..Placed::default()
                },
                place: kind.place.clone(),
            });
        }
    }
    all
}

impl Sway {
    fn build(node: &Node) -> Option<Sway> {
        Some(Sway {
            left: node.length("left")?,
            right: node.length("right")?,
            up: node.length("up")?,
            down: node.length("down")?,
            forward: node.length("forward")?,
            aft: node.length("aft")?,
        })
    }
}
