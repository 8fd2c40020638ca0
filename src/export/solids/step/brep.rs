//! A closed shell of faces on true surfaces, and how it is written.

use super::super::space::V3;
use super::{File, listed, real};

/// What an edge runs along, from its first corner to its second.
#[derive(Clone, Copy, Debug)]
pub(super) enum Curve {
    Straight,
    /// A circle, walked counter-clockwise about `axis` when `ccw`.
    Circle {
        centre: V3,
        axis: V3,
        radius: f64,
        ccw: bool,
    },
}

/// What a face lies on.
#[derive(Clone, Copy, Debug)]
pub(super) enum Surface {
    /// Its outward normal is `axis`.
    Plane {
        at: V3,
        axis: V3,
    },
    Cylinder {
        at: V3,
        axis: V3,
        towards: V3,
        radius: f64,
    },
    /// Its poles lie along `axis`.
    Sphere {
        at: V3,
        axis: V3,
        towards: V3,
        radius: f64,
    },
    Torus {
        at: V3,
        axis: V3,
        towards: V3,
        major: f64,
        minor: f64,
    },
}

/// An edge by the corners that it joins.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    pub from: usize,
    pub to: usize,
    pub curve: Curve,
}

/// A face: its loops keep it to the left, seen from outside; each edge with whether it is walked forward.
#[derive(Clone, Debug)]
pub(super) struct Face {
    pub surface: Surface,
    /// Whether the surface's own normal points out of the solid.
    pub outward: bool,
    /// The outer loop first.
    pub loops: Vec<Vec<(usize, bool)>>,
}

/// A closed shell.
#[derive(Clone, Debug, Default)]
pub(super) struct Shell {
    pub corners: Vec<V3>,
    pub edges: Vec<Edge>,
    pub faces: Vec<Face>,
}

impl Shell {
    pub fn corner(&mut self, p: V3) -> usize {
        self.corners.push(p);
        self.corners.len() - 1
    }

    pub fn edge(&mut self, from: usize, to: usize, curve: Curve) -> usize {
        self.edges.push(Edge { from, to, curve });
        self.edges.len() - 1
    }

    pub fn face(&mut self, surface: Surface, outward: bool, loops: Vec<Vec<(usize, bool)>>) {
        self.faces.push(Face { surface, outward, loops });
    }

    /// Writes the shell; gives its name.
    pub(super) fn write(&self, file: &mut File) -> usize {
        let points: Vec<usize> = self.corners.iter().map(|p| point(file, *p)).collect();
        let vertices: Vec<usize> =
            points.iter().map(|p| file.add(format!("VERTEX_POINT('',#{p})"))).collect();
        let edges: Vec<usize> =
            self.edges.iter().map(|e| self.write_edge(file, e, &points, &vertices)).collect();
        let faces: Vec<usize> = self.faces.iter().map(|f| write_face(file, f, &edges)).collect();
        file.add(format!("CLOSED_SHELL('',{})", listed(&faces)))
    }

    fn write_edge(&self, file: &mut File, e: &Edge, points: &[usize], vertices: &[usize]) -> usize {
        let name = |list: &[usize], k: usize| list.get(k).copied().unwrap_or(0);
        let (curve, ccw) = match e.curve {
            Curve::Straight => {
                let at = |k: usize| self.corners.get(k).copied().unwrap_or(V3::new(0.0, 0.0, 0.0));
                let along = at(e.to) - at(e.from);
                let way = direction(file, along.unit());
                let vector = file.add(format!("VECTOR('',#{way},{})", real(along.length(), 12)));
                (file.add(format!("LINE('',#{},#{vector})", name(points, e.from))), true)
            }
            Curve::Circle { centre, axis, radius, ccw } => {
                let start = self.corners.get(e.from).copied().unwrap_or(centre);
                let place = placement(file, centre, axis, start - centre);
                (file.add(format!("CIRCLE('',#{place},{})", real(radius, 12))), ccw)
            }
        };
        let (from, to) = (name(vertices, e.from), name(vertices, e.to));
        file.add(format!("EDGE_CURVE('',#{from},#{to},#{curve},{})", truth(ccw)))
    }
}

fn write_face(file: &mut File, face: &Face, edges: &[usize]) -> usize {
    let surface = match face.surface {
        Surface::Plane { at, axis } => {
            let place = placement(file, at, axis, axis.across());
            file.add(format!("PLANE('',#{place})"))
        }
        Surface::Cylinder { at, axis, towards, radius } => {
            let place = placement(file, at, axis, towards);
            file.add(format!("CYLINDRICAL_SURFACE('',#{place},{})", real(radius, 12)))
        }
        Surface::Sphere { at, axis, towards, radius } => {
            let place = placement(file, at, axis, towards);
            file.add(format!("SPHERICAL_SURFACE('',#{place},{})", real(radius, 12)))
        }
        Surface::Torus { at, axis, towards, major, minor } => {
            let place = placement(file, at, axis, towards);
            file.add(format!("TOROIDAL_SURFACE('',#{place},{},{})", real(major, 12), real(minor, 12)))
        }
    };
    let mut bounds = Vec::new();
    for (k, edge_loop) in face.loops.iter().enumerate() {
        let walked: Vec<usize> = edge_loop
            .iter()
            .filter_map(|(e, forward)| edges.get(*e).map(|name| (*name, *forward)))
            .map(|(name, forward)| file.add(format!("ORIENTED_EDGE('',*,*,#{name},{})", truth(forward))))
            .collect();
        let ring = file.add(format!("EDGE_LOOP('',{})", listed(&walked)));
        let kind = if k == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
        bounds.push(file.add(format!("{kind}('',#{ring},.T.)")));
    }
    file.add(format!("ADVANCED_FACE('',{},#{surface},{})", listed(&bounds), truth(face.outward)))
}

fn truth(v: bool) -> &'static str {
    if v { ".T." } else { ".F." }
}

fn point(file: &mut File, p: V3) -> usize {
    let [x, y, z] = p.list().map(|v| real(v, 12));
    file.add(format!("CARTESIAN_POINT('',({x},{y},{z}))"))
}

fn direction(file: &mut File, v: V3) -> usize {
    let [x, y, z] = v.list().map(|v| real(v, 15));
    file.add(format!("DIRECTION('',({x},{y},{z}))"))
}

/// A place with its z axis and, made square to it, its x axis.
fn placement(file: &mut File, at: V3, axis: V3, towards: V3) -> usize {
    let square = towards - axis * axis.dot(towards);
    let x = if square.length() > 1e-9 { square.unit() } else { axis.across() };
    let (at, z, x) = (point(file, at), direction(file, axis), direction(file, x));
    file.add(format!("AXIS2_PLACEMENT_3D('',#{at},#{z},#{x})"))
}
