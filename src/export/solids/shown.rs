//! The model for a screen: one mesh for each subject and moving link, lean enough to be drawn many times a second, with the
//! lines of a drawing beside its faces. Millimetres in the right-handed space of this room, 32-bit.

use super::body::body;
use super::lines::lines;
use super::mesh::{Fine, meshes};
use super::sized;
use super::space::{Frame, V3};
use crate::draw::solids::{Group, Kind, Model3, Named};
use crate::solid::{Pose, Vec3};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::f64::consts::PI;

/// What a screen shows: 15 degrees from chord to chord, less than what makes an edge.
pub(super) const SCREEN: Fine = Fine { chord: 0.05, turn: PI / 12.0, part: 0.008 };

/// Meshes for a screen.
#[derive(Clone, Debug, Default)]
pub struct Shown {
    /// One a subject and link, with where its numbers begin in `data` (in fours of bytes) and how many there are:
    /// `points` (x, y, z), `triangles` (three corners), `hard` and `soft` (two corners), `normals` (two for each soft line).
    pub meshes: Vec<Value>,
    /// All numbers, 32-bit, least byte first.
    pub data: Vec<u8>,
    /// How many solids there are.
    pub solids: usize,
    /// Solids that cannot be shown, each with the reason.
    pub refused: Vec<String>,
}

/// Numbers of a mesh, in the order in which they stand in the data.
const LISTS: [&str; 5] = ["points", "triangles", "hard", "soft", "normals"];

/// The meshes of a model whose controls stand in their zero pose.
pub fn shown(model: &Model3) -> Shown {
    let mut out = Shown::default();
    for group in &model.groups {
        let mut links: Vec<_> = group.parts.iter().map(|p| p.link).collect();
        links.dedup();
        links.sort_unstable();
        links.dedup();
        for link in links {
            let parts: Vec<&Named> = group.parts.iter().filter(|p| p.link == link).collect();
            out.one(group, link, &parts);
        }
    }
    out
}

/// A move of the panel's frame in the space of the meshes, column by column, as graphics libraries hold it.
pub fn matrix(pose: &Pose) -> [f64; 16] {
    let f = Frame::of(pose);
    let column = |v: V3, w: f64| [v.x, v.y, v.z, w];
    let all = [column(f.x, 0.0), column(f.y, 0.0), column(f.z, 0.0), column(f.at, 1.0)];
    let mut out = [0.0; 16];
    out.iter_mut().zip(all.iter().flatten()).for_each(|(slot, v)| *slot = *v);
    out
}

impl Shown {
    /// A point of the panel's frame in the space of the meshes.
    pub fn point(p: Vec3) -> [f64; 3] {
        V3::mirrored(p).list()
    }

    /// A sum of each mesh: of what is said of it, but for where its numbers stand, and of the numbers.
    pub fn sums(&self) -> Vec<String> {
        let one = |mesh: &Value| {
            let mut sum = Sha256::new();
            for (key, v) in
                mesh.as_object().into_iter().flatten().filter(|(k, _)| !LISTS.contains(&k.as_str()))
            {
                sum.update(key);
                sum.update(v.to_string());
            }
            for list in LISTS {
                let bytes = self.bytes(&mesh[list]);
                sum.update((bytes.len() as u64).to_le_bytes());
                sum.update(bytes);
            }
            sum.finalize().iter().take(16).map(|b| format!("{b:02x}")).collect()
        };
        self.meshes.iter().map(one).collect()
    }

    /// The same without the numbers of those meshes of which somebody has `had` the sum: they are told by their place
    /// among those, as `had`.
    pub fn but(self, had: &[String]) -> Shown {
        let mut out = Shown { solids: self.solids, refused: self.refused.clone(), ..Shown::default() };
        for (mesh, sum) in self.meshes.iter().zip(self.sums()) {
            if let Some(k) = had.iter().position(|h| *h == sum) {
                out.meshes.push(json!({ "had": k }));
                continue;
            }
            let mut own = mesh.clone();
            for list in LISTS {
                let bytes = self.bytes(&mesh[list]);
                own[list] = json!([out.data.len() / 4, bytes.len() / 4]);
                out.data.extend(bytes);
            }
            out.meshes.push(own);
        }
        out
    }

    /// The numbers of a list of a mesh.
    fn bytes(&self, list: &Value) -> &[u8] {
        let at = |k: usize| 4 * list[k].as_u64().unwrap_or(0) as usize;
        self.data.get(at(0)..at(0) + at(1)).unwrap_or(&[])
    }

    fn one(&mut self, group: &Group, link: Option<usize>, parts: &[&Named]) {
        let (mut points, mut triangles): (Vec<V3>, Vec<[u32; 3]>) = (Vec::new(), Vec::new());
        let (mut hard, mut soft) = (Vec::new(), Vec::new());
        let mut told = Vec::new();
        for part in parts {
            let body = match body(&part.form).and_then(|b| sized(&b).map(|()| b)) {
                Ok(b) => b,
                Err(why) => {
                    self.refused.push(format!("{}: {why}", part.id));
                    continue;
                }
            };
            let all = meshes(&body, SCREEN);
            let (first, begin) = (points.len() as u32, triangles.len());
            let lines = lines(&body, &all, SCREEN);
            for mesh in all {
                let base = points.len() as u32;
                triangles.extend(mesh.triangles.iter().map(|t| t.map(|k| k + base)));
                points.extend(mesh.points);
            }
            hard.extend(lines.hard.into_iter().map(|l| l.map(|k| k + first)));
            soft.extend(lines.soft.into_iter().map(|(l, n)| (l.map(|k| k + first), n)));
            told.push(json!({
                "id": part.id, "kind": part.kind.word(), "points": [first, points.len() as u32 - first],
                "triangles": [begin, triangles.len() - begin],
            }));
        }
        if told.is_empty() {
            return;
        }
        self.solids += told.len();
        let kind = parts.first().map_or(Kind::Body, |p| p.kind);
        // of an instrument the parts are of many kinds
        let kind = if group.instrument { "instrument" } else { kind.word() };
        let flat = |list: &[V3]| list.iter().flat_map(|p| p.list()).map(|v| v as f32).collect::<Vec<f32>>();
        let normals: Vec<V3> = soft.iter().flat_map(|(_, n)| *n).collect();
        let mesh = json!({
            "id": group.id, "title": group.title, "kind": kind, "link": link, "parts": told,
            "points": self.put(flat(&points).into_iter().map(f32::to_le_bytes)),
            "triangles": self.put(triangles.into_iter().flatten().map(u32::to_le_bytes)),
            "hard": self.put(hard.into_iter().flatten().map(u32::to_le_bytes)),
            "soft": self.put(soft.iter().flat_map(|(l, _)| *l).map(u32::to_le_bytes)),
            "normals": self.put(flat(&normals).into_iter().map(f32::to_le_bytes)),
        });
        self.meshes.push(mesh);
    }

    /// Where numbers begin and how many there are.
    fn put(&mut self, numbers: impl Iterator<Item = [u8; 4]>) -> [usize; 2] {
        let begin = self.data.len() / 4;
        numbers.for_each(|n| self.data.extend(n));
        [begin, self.data.len() / 4 - begin]
    }
}
