//! A panel as a list of named solids in their places: what a three-dimensional viewer or another CAD program is given.
//!
//! It holds what the panel knows and nothing more: what has no thickness, no depth or no size is not drawn but listed,
//! so that nobody takes an empty place in the model for free room.

mod parts;
mod plate;

pub use plate::Plate;

use crate::check::Finding;
use crate::draw::template::{Standing, TemplateOptions, count_words};
use crate::panel::{Panel, SubjectKind};
use crate::solid::travel::LinkRef;
use crate::solid::{Fault, Solid};

/// All solids of a panel, in its own frame: x to the right seen from the seat, y up, d forward, millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Model3 {
    /// Title as it stands in the file's own properties.
    pub title: String,
    /// Facts in order: name and value (content hash, verdicts).
    pub facts: Vec<(String, String)>,
    /// What belongs together: one group a sheet, instrument, obstacle, control or line.
    pub groups: Vec<Group>,
    /// What is not in the model, each with what is missing.
    pub left_out: Vec<String>,
}

/// Solids of one subject.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Id of the subject.
    pub id: String,
    /// Words for people.
    pub title: String,
    /// An instrument, switch, unit: what somebody may want a dummy of.
    pub instrument: bool,
    /// Its solids; at least one.
    pub parts: Vec<Named>,
}

/// One solid with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// `subject.part`, unique within the model.
    pub id: String,
    /// What it is.
    pub kind: Kind,
    /// Its form.
    pub form: Form,
    /// The link of the controls' mechanism that carries it.
    pub link: Option<LinkRef>,
}

/// What a solid is: viewers show each in its own grey.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A sheet of metal.
    Sheet,
    /// A front face or flange that seats on the sheet.
    Cover,
    /// A case behind (or in front of) the sheet.
    Body,
    /// A plug, hose end or bend at a port.
    Port,
    /// A knob, lever, button.
    Front,
    /// A screw's head or nut.
    Fastener,
    /// A fixed thing of the airframe.
    Obstacle,
    /// A control that moves.
    Control,
    /// A hose, bundle or cable.
    Line,
}

impl Kind {
    /// Every kind, in the order in which files list them.
    pub const ALL: [Kind; 9] = [
        Kind::Sheet,
        Kind::Cover,
        Kind::Body,
        Kind::Port,
        Kind::Front,
        Kind::Fastener,
        Kind::Obstacle,
        Kind::Control,
        Kind::Line,
    ];

    /// Its word in files.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Sheet => "sheet",
            Kind::Cover => "cover",
            Kind::Body => "body",
            Kind::Port => "port",
            Kind::Front => "front part",
            Kind::Fastener => "fastener",
            Kind::Obstacle => "obstacle",
            Kind::Control => "control",
            Kind::Line => "line",
        }
    }

    /// Lightness in which it is shown, 0 black to 255 white: neighbours differ, nothing is coloured.
    pub fn lightness(self) -> u8 {
        match self {
            Kind::Sheet => 214,
            Kind::Cover => 92,
            Kind::Body => 150,
            Kind::Port => 118,
            Kind::Front => 58,
            Kind::Fastener => 184,
            Kind::Obstacle => 168,
            Kind::Control => 76,
            Kind::Line => 40,
        }
    }
}

/// The form of a solid.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// One of the shapes of [`crate::solid`].
    Solid(Solid),
    /// Sheet metal with openings.
    Plate(Plate),
}

/// The solids of a panel. `findings` say what stands against cutting the sheets; `drivers` is the number of every
/// driver of its controls (at rest: [`Mechanism::neutral`](crate::solid::travel::Mechanism::neutral)).
pub fn model(panel: &Panel, findings: &[Finding], drivers: &[f64]) -> Model3 {
    let standing = Standing::of(panel, findings, &TemplateOptions::default());
    let mut facts = vec![
        ("panel".to_owned(), panel.name.clone()),
        ("revision".to_owned(), panel.title.get("revision").unwrap_or("not given").to_owned()),
        ("inputs".to_owned(), panel.hash.clone()),
        ("verdicts".to_owned(), count_words(&standing.counts)),
    ];
    if let Some(n) = standing.notice() {
        facts.push(("notice".to_owned(), n));
    }
    let mut groups = Vec::new();
    let mut left_out = Vec::new();
    for sheet in 0..panel.sheets.len() {
        groups.extend(plate::group(panel, sheet, &mut left_out));
    }
    for (k, subject) in panel.subjects.iter().enumerate() {
        let (named, lacking) = parts::of(panel, k, drivers);
        left_out.extend(lacking);
        if !named.is_empty() {
            let instrument = matches!(subject.kind, SubjectKind::Placement | SubjectKind::Unit);
            groups.push(Group {
                id: subject.id.clone(),
                title: subject.title.clone(),
                instrument,
                parts: named,
            });
        }
    }
    Model3 { title: panel.name.clone(), facts, groups, left_out }
}

impl Model3 {
    /// The instruments alone: what is printed as a dummy.
    #[must_use]
    pub fn dummies(&self) -> Model3 {
        let groups = self.groups.iter().filter(|g| g.instrument).cloned().collect();
        Model3 { groups, ..self.clone() }
    }

    /// Every solid, group by group.
    pub fn parts(&self) -> impl Iterator<Item = &Named> {
        self.groups.iter().flat_map(|g| &g.parts)
    }
}

/// What a fault of a solid means for the reader.
fn says(fault: Fault) -> &'static str {
    match fault {
        Fault::NotFinite => "a size is no number",
        Fault::ZeroSize => "it has no thickness",
        Fault::Broken => "its path is broken",
        Fault::TooTight => "it is bent tighter than its own radius",
        Fault::Flat => "its points lie in one plane",
    }
}
