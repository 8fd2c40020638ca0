//! From a model of solids to bytes: one file a format, for viewers, for other people's CAD and for printing. A back
//! end translates and decides nothing.
//!
//! The panel's frame is left-handed; other programs are right-handed. What leaves here has x to the pilot's right, y
//! up and z towards the pilot (z = -d), so that nothing is mirrored.

mod body;
mod cells;
mod fill;
mod glb;
mod hull;
mod lines;
mod mesh;
mod mf3;
mod shown;
mod space;
mod step;
mod tube;

pub use mesh::CHORD;
pub use shown::{Shown, matrix, shown};

use super::{ExportError, Fault, Made};
use crate::draw::solids::Model3;
use body::Body;

/// A way to write solids.
pub struct SolidFormat {
    /// Name on the command line.
    pub name: &'static str,
    /// End of the file's name, without the dot.
    pub extension: &'static str,
    /// What it is for, in a few words.
    pub says: &'static str,
    /// The instruments alone, each one piece: what is printed.
    pub dummies: bool,
    /// Writes the bytes.
    pub write: fn(&Model3) -> Result<Vec<u8>, ExportError>,
}

/// Every format, in the order in which help lists them.
pub const SOLID_FORMATS: [SolidFormat; 3] = [
    SolidFormat {
        name: "glb",
        extension: "glb",
        says: "glTF 2.0, for any viewer",
        dummies: false,
        write: glb::write,
    },
    SolidFormat {
        name: "step",
        extension: "step",
        says: "STEP AP214 with true planes and cylinders, for CAD",
        dummies: false,
        write: step::write,
    },
    SolidFormat {
        name: "3mf",
        extension: "3mf",
        says: "the instruments alone, to print dummies",
        dummies: true,
        write: mf3::write,
    },
];

/// The file of a model in one format; `stem` is its name without the ending.
///
/// # Errors
/// What the back end refuses.
pub fn file(format: &SolidFormat, model: &Model3, stem: &str) -> Result<Made, ExportError> {
    let bytes = if format.dummies { (format.write)(&model.dummies())? } else { (format.write)(model)? };
    Ok(Made { name: format!("{stem}.{}", format.extension), bytes })
}

/// Farthest coordinate, mm: beyond it 32-bit formats would be off by more than they promise.
const FARTHEST: f64 = 20_000.0;

/// Whether a body has a size and lies where a file can hold it.
fn sized(body: &Body) -> Result<(), &'static str> {
    let near = |p: space::V3| p.is_finite() && p.list().iter().all(|v| v.abs() <= FARTHEST);
    let points: Vec<space::V3> = match body {
        Body::Drawn(d) => {
            if d.ends.0 >= d.ends.1 || d.rings.is_empty() {
                return Err("it has no thickness");
            }
            let boxes = d.rings.iter().map(|r| r.bounds());
            boxes
                .flat_map(|b| [(b.x0, b.y0, d.ends.0), (b.x1, b.y1, d.ends.1)])
                .map(|(x, y, z)| d.frame.point(space::V3::new(x, y, z)))
                .collect()
        }
        Body::Runs(runs) => {
            if runs.is_empty() || runs.iter().any(|r| r.radius.is_nan() || r.radius <= 0.0) {
                return Err("it has no thickness");
            }
            runs.iter().flat_map(|r| r.sections.iter().map(|s| s.centre)).collect()
        }
        Body::Hull(h) => h.points.clone(),
    };
    if points.into_iter().all(near) {
        Ok(())
    } else {
        Err("it reaches farther than 20 m, or a size is no number")
    }
}

/// All refused solids together.
fn faults(wrong: Vec<(&str, &'static str)>) -> Result<(), ExportError> {
    if wrong.is_empty() {
        return Ok(());
    }
    let fault = |(id, why): (&str, &'static str)| Fault {
        page: String::new(),
        subject: Some(id.to_owned()),
        says: format!("this solid cannot be written: {why}"),
    };
    Err(ExportError { faults: wrong.into_iter().map(fault).collect() })
}
