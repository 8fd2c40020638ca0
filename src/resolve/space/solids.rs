//! One solid of a file in its place.

use super::axes::Axes;
use super::path::{PathFault, rounded};
use crate::define::Size;
use crate::define::panel::Axis;
use crate::define::panel::space::{Form, Solid as Said};
use crate::define::{Word, Xyd};
use crate::diag::{Problem, Problems, Where};
use crate::resolve::shape;
use crate::solid::{Fault, Pose, Shape, Solid, Vec3};
use crate::units::{Unit, fmt_mm};
use std::f64::consts::PI;

/// Makes a solid; why there is none is told.
pub(super) fn solid(said: &Said, axes: &Axes, unit: Option<Unit>, problems: &mut Problems) -> Option<Solid> {
    let (shape, pose) = match &said.form {
        Form::Prism { section, at, turn, from, to } => {
            if *axes != Axes::Panel {
                let message =
                    "a prism stands along the panel's depth: it cannot be given in the aeroplane's axes";
                let help = "use a box, bar, ball, tube or hull here, or give it in the panel's axes";
                problems.push(Problem::new("wrong-axes", &section.place, message).help(help));
                return None;
            }
            let flat = shape::flat(section, unit, problems)?;
            let turn = turn.as_ref().map(|t| t.value.degrees());
            let section = shape::placed(&flat.contour, at.as_ref(), turn);
            let (a, b) = (from.value.mm(), to.value.mm());
            if b < a {
                let message =
                    format!("this prism begins at {} and ends at {}, before it", fmt_mm(a), fmt_mm(b));
                let help = "depth runs forward: \"from\" is the end nearer to the pilot";
                problems.push(Problem::new("wrong-order", &from.place, message).help(help));
                return None;
            }
            (Shape::Prism { section, from: a, to: b }, Pose::IDENTITY)
        }
        Form::Box { sizes: [a, b, c], centre, turns } => {
            let half = axes.sizes([a.mm() / 2.0, b.mm() / 2.0, c.mm() / 2.0]);
            let middle = axes.point(centre);
            let mut pose = Pose::about(Vec3::ZERO, Vec3::new(1.0, 0.0, 0.0), axes.lean());
            pose = pose.then(&Pose::shift(middle));
            for (axis, by) in turns {
                let along = along(axis.value, axes).or_else(|| {
                    let message =
                        format!("`{}` is no axis of the frame in which this box is given", axis.value.word());
                    let help =
                        "in the panel's axes: x, y, d; in the aeroplane's: station, butt-line, water-line";
                    problems.push(Problem::new("wrong-axes", &axis.place, message).help(help));
                    None
                })?;
                pose = pose.then(&Pose::about(middle, axes.axis(along), by.value.degrees() * (PI / 180.0)));
            }
            (Shape::Box(half), pose)
        }
        Form::Bar { diameter, from, to } => {
            let (a, b) = (axes.point(from), axes.point(to));
            let pose = Pose::from_forward_to((b - a).unit().unwrap_or(Vec3::FORWARD));
            let half = (b - a).length() / 2.0;
            let shape = Shape::Cylinder { radius: diameter.mm() / 2.0, half };
            (shape, pose.then(&Pose::shift((a + b) * 0.5)))
        }
        Form::Ball { diameter, centre } => {
            (Shape::Sphere(diameter.mm() / 2.0), Pose::shift(axes.point(centre)))
        }
        Form::Tube { diameter, path, bend } => {
            let shape = tube(diameter, path, bend.as_ref(), axes, &said.place, problems)?;
            if bend.is_none() && bent(path) {
                let message = "this path has corners, and nothing says how tightly it is bent there";
                let help = "add \"bend-radius\", to the inside of the bend";
                problems.push(Problem::new("missing-beside", &said.place, message).help(help));
                return None;
            }
            (shape, Pose::IDENTITY)
        }
        Form::Hull(points) => (Shape::Hull(points.iter().map(|p| axes.point(p)).collect()), Pose::IDENTITY),
    };
    Solid::new(shape, pose).map_err(|fault| tell(&said.form, fault, &said.place, problems)).ok()
}

/// The three numbers of an axis, if it is one of the frame.
fn along(axis: Axis, axes: &Axes) -> Option<[f64; 3]> {
    let panel = *axes == Axes::Panel;
    match axis {
        Axis::X if panel => Some([1.0, 0.0, 0.0]),
        Axis::Y if panel => Some([0.0, 1.0, 0.0]),
        Axis::D if panel => Some([0.0, 0.0, 1.0]),
        Axis::Station if !panel => Some([1.0, 0.0, 0.0]),
        Axis::ButtLine if !panel => Some([0.0, 1.0, 0.0]),
        Axis::WaterLine if !panel => Some([0.0, 0.0, 1.0]),
        _ => None,
    }
}

/// A tube through points; without a bend radius its corners are sharp.
pub(super) fn tube(
    diameter: &Size,
    path: &[Xyd],
    bend: Option<&Size>,
    axes: &Axes,
    place: &Where,
    problems: &mut Problems,
) -> Option<Shape> {
    let radius = diameter.mm() / 2.0;
    let points: Vec<Vec3> = path.iter().map(|p| axes.point(p)).collect();
    if let Some(r) = bend.filter(|r| r.mm() < radius) {
        let message = format!(
            "bent to {} inside, tighter than its own radius: it is {} thick",
            fmt_mm(r.mm()),
            fmt_mm(2.0 * radius)
        );
        let help = format!("give the radius to the inside of the bend, at least {}", fmt_mm(radius));
        problems.push(Problem::new("too-tight", &r.place, message).help(help));
        return None;
    }
    match rounded(&points, bend.map_or(0.0, |r| r.mm() + radius)) {
        Ok(path) => Some(Shape::Tube { path, radius }),
        Err(fault) => {
            tell_path(fault, path, place, problems);
            None
        }
    }
}

/// Whether a path has corners.
fn bent(path: &[Xyd]) -> bool {
    let points: Vec<Vec3> = path.iter().map(|p| Axes::Panel.point(p)).collect();
    let mut units = points.windows(2).filter_map(|w| match w {
        [a, b] => (*b - *a).unit(),
        _ => None,
    });
    let first = units.next().unwrap_or(Vec3::ZERO);
    units.any(|u| u.cross(first).length() > 1e-9)
}

/// Tells why a path cannot be walked, at its point.
fn tell_path(fault: PathFault, path: &[Xyd], place: &Where, problems: &mut Problems) {
    let at = |k: usize| path.get(k).map_or(place, |p| &p.place).clone();
    let problem = match fault {
        PathFault::Equal(k) => {
            let message = format!("points {k} and {} of this path are the same", k + 1);
            Problem::new("twice-point", &at(k), message).help("take one of them away")
        }
        PathFault::Back(k) => {
            let message = format!("at its point {} this path turns straight back", k + 1);
            Problem::new("bad-path", &at(k), message).help("give the points of the bend between")
        }
        PathFault::Short(k, asked, there) => {
            let message = format!(
                "the straight from point {k} to point {} is {} long; the bends at its ends ask for {}",
                k + 1,
                fmt_mm(there),
                fmt_mm(asked)
            );
            let help = "move the points farther apart, or give the smaller radius to which it is bent";
            Problem::new("too-tight", &at(k), message).help(help)
        }
    };
    problems.push(problem);
}

/// Tells why numbers make no solid.
fn tell(form: &Form, fault: Fault, place: &Where, problems: &mut Problems) {
    let what = match form {
        Form::Prism { .. } => "prism",
        Form::Box { .. } => "box",
        Form::Bar { .. } => "bar",
        Form::Ball { .. } => "ball",
        Form::Tube { .. } => "tube",
        Form::Hull(_) => "hull",
    };
    let (message, help) = match fault {
        Fault::ZeroSize => {
            (format!("this {what} has no size in some direction"), "its ends and points must lie apart")
        }
        Fault::Flat => (
            format!("the points of this {what} lie in one plane"),
            "give at least one point off the plane: a plate has a thickness",
        ),
        Fault::TooTight => (
            format!("this {what} is bent tighter than its own radius"),
            "give the radius to the inside of the bend, at least half of the diameter",
        ),
        Fault::Broken => (format!("the pieces of this {what} do not join"), "give its points in their order"),
        Fault::NotFinite => (format!("this {what} lies too far off"), "give smaller numbers"),
    };
    problems.push(Problem::new("no-solid", place, message).help(help));
}
