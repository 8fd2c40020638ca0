//! What was felt and taped behind a panel, as its file describes it.

use super::table_behind::{DepthSide, Moves};
use super::{Corner, Text};
use crate::define::node::{Node, Size, Value, Xy, Xyd};
use crate::define::panel::{ControlKind, ObstacleKind};
use crate::diag::{Where, Written};
use crate::units::Length;

/// Everything behind.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Behind {
    /// Probes.
    pub probes: Vec<Probe>,
    /// Probed areas.
    pub areas: Vec<Area>,
    /// Fixed things.
    pub obstacles: Vec<Obstacle>,
    /// What moves.
    pub controls: Vec<Control>,
}

/// Where a probe was taken.
#[derive(Clone, Debug, PartialEq)]
pub enum Spot {
    /// At a point or circle, and how far from it.
    Through(Written<Text>, Option<Xy>),
    /// By its coordinates.
    At(Xy),
}

/// One probe.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    /// Its id.
    pub id: Written<Text>,
    /// Where.
    pub spot: Spot,
    /// Depth of the tool's zero.
    pub from: Option<Written<Length>>,
    /// Readings of it.
    pub reads: Vec<Written<Length>>,
    /// It met nothing.
    pub free: bool,
    /// With which tool.
    pub tool: Option<Written<Text>>,
    /// Standard deviation of one reading.
    pub deviation: Option<Written<Length>>,
    /// Where it stands.
    pub place: Where,
}

/// A probed area.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// Its id.
    pub id: Written<Text>,
    /// The hole that it is.
    pub circle: Option<Written<Text>>,
    /// Or its corners.
    pub points: Vec<Corner>,
    /// Its probes.
    pub probes: Vec<Written<Text>>,
    /// How far from a probe it is known.
    pub reach: Option<Written<Length>>,
    /// Where it stands.
    pub place: Where,
}

/// The form of a probed solid.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A tube: its diameter, probes on its near side.
    Tube(Size, Vec<Written<Text>>),
    /// A ball: its diameter, the probe on its near side.
    Ball(Size, Written<Text>),
    /// A face at its corners, and how far forward it reaches.
    Face(Vec<Written<Text>>, Size),
    /// A plate that stands edge-on: its thickness, probes along its near edge, how far forward it reaches.
    Plate(Size, Vec<Written<Text>>, Size),
}

/// A fixed thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Its id.
    pub id: Written<Text>,
    /// What it is.
    pub kind: ObstacleKind,
    /// Its solids, with their names.
    pub solids: Vec<(Option<Written<Text>>, Form)>,
    /// What it carries.
    pub carries: Option<Written<Text>>,
    /// Where it stands.
    pub place: Where,
}

/// A place in space.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// By its coordinates.
    At(Xyd),
    /// By distances to points, and its side.
    Taped(Vec<(Written<Text>, Written<Length>)>, DepthSide),
}

/// A mark on a control at its low stop, in the middle and at its high stop.
#[derive(Clone, Debug, PartialEq)]
pub struct OnControl {
    /// Its id.
    pub id: Written<Text>,
    /// The three places.
    pub places: [Place; 3],
}

/// The form of a moving solid, by marks.
#[derive(Clone, Debug, PartialEq)]
pub enum MovingForm {
    /// A tube: its diameter, marks on its middle line.
    Tube(Size, Vec<Written<Text>>),
    /// A ball: its diameter, the mark in its middle.
    Ball(Size, Written<Text>),
}

/// A solid of a control.
#[derive(Clone, Debug, PartialEq)]
pub struct MovingSolid {
    /// Its name.
    pub id: Option<Written<Text>>,
    /// Its form.
    pub form: MovingForm,
    /// A hand holds it.
    pub hand: bool,
}

/// Something that moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    /// Its id.
    pub id: Written<Text>,
    /// What it is.
    pub kind: ControlKind,
    /// How it moves.
    pub moves: Moves,
    /// The name of its movement.
    pub driver: Written<Text>,
    /// Its marks.
    pub marks: Vec<OnControl>,
    /// Standard deviation of one taped length.
    pub deviation: Option<Written<Length>>,
    /// Its solids.
    pub solids: Vec<MovingSolid>,
    /// Where it stands.
    pub place: Where,
}

fn written(node: &Node) -> Option<Written<Length>> {
    match &node.value {
        Value::Length(l) => Some(Written::new(l.clone(), node.place.clone())),
        _ => None,
    }
}

impl Behind {
    pub(super) fn build(node: &Node) -> Behind {
        Behind {
            probes: node.each("probes", Probe::build),
            areas: node.each("areas", |n| {
                Some(Area {
                    id: n.text("id")?,
                    circle: n.text("circle"),
                    points: n.each("points", Corner::build),
                    probes: n.texts("probes"),
                    reach: n.length("reach"),
                    place: n.place.clone(),
                })
            }),
            obstacles: node.each("obstacles", |n| {
                Some(Obstacle {
                    id: n.text("id")?,
                    kind: n.word("kind")?.value,
                    solids: n.each("solids", |s| Some((s.text("id"), form(s)?))),
                    carries: n.text("carries"),
                    place: n.place.clone(),
                })
            }),
            controls: node.each("controls", Control::build),
        }
    }
}

fn form(n: &Node) -> Option<Form> {
    if let Some(of) = n.size("tube") {
        return Some(Form::Tube(of, n.texts("path")));
    }
    if let Some(of) = n.size("ball") {
        return Some(Form::Ball(of, n.text("met")?));
    }
    if let Some(of) = n.size("plate") {
        return Some(Form::Plate(of, n.texts("edge"), n.size("thick")?));
    }
    Some(Form::Face(n.texts("face"), n.size("thick")?))
}

impl Probe {
    fn build(n: &Node) -> Option<Probe> {
        let spot = match n.text("through") {
            Some(through) => Spot::Through(through, n.point("off")),
            None => Spot::At(n.point("at")?),
        };
        let reads = n.get("reads")?;
        let reads: Vec<Written<Length>> = match written(reads) {
            Some(one) => vec![one],
            None => reads.items().iter().filter_map(written).collect(),
        };
        Some(Probe {
            id: n.text("id")?,
            spot,
            from: n.length("from"),
            reads,
            free: n.is("free"),
            tool: n.text("tool"),
            deviation: n.length("deviation"),
            place: n.place.clone(),
        })
    }
}

impl Control {
    fn build(n: &Node) -> Option<Control> {
        let mark = |m: &Node| {
            let place = |key: &str| place(m.get(key)?);
            Some(OnControl { id: m.text("id")?, places: [place("low")?, place("neutral")?, place("high")?] })
        };
        let solid = |s: &Node| {
            let form = match s.size("tube") {
                Some(of) => MovingForm::Tube(of, s.texts("path")),
                None => MovingForm::Ball(s.size("ball")?, s.text("about")?),
            };
            Some(MovingSolid { id: s.text("id"), form, hand: s.is("hand") })
        };
        Some(Control {
            id: n.text("id")?,
            kind: n.word("kind")?.value,
            moves: n.word("moves")?.value,
            driver: n.text("driver")?,
            marks: n.each("marks", mark),
            deviation: n.length("deviation"),
            solids: n.each("solids", solid),
            place: n.place.clone(),
        })
    }
}

fn place(n: &Node) -> Option<Place> {
    if let Value::Point3(at) = &n.value {
        return Some(Place::At(at.clone()));
    }
    let tapes = n.get("taped")?.entries().iter();
    let tapes =
        tapes.filter_map(|e| Some((Written::new(e.key.clone(), e.key_place.clone()), written(&e.node)?)));
    Some(Place::Taped(tapes.collect(), n.word("side")?.value))
}
