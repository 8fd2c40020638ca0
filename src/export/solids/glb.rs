//! glTF 2.0 in its binary form: metres, y up, the pilot on the side of +z. One node a solid, named by its id, under one
//! node a group, under one for the panel.
//!
//! Coordinates are 32-bit as the format asks: within a few metres of the datum they are off by less than 1e-3 mm.
//! Normals are left out, for which the format prescribes flat faces: meshes stay closed and small.

use super::body::body;
use super::mesh::{self, Mesh};
use super::space::V3;
use super::{faults, sized};
use crate::draw::solids::{Kind, Model3};
use crate::export::ExportError;
use crate::export::mark::PROGRAM;
use serde_json::{Map, Value, json};

/// Buffer targets of the format: corners, indices.
const CORNERS: u32 = 34962;
const INDICES: u32 = 34963;
/// Component types: 32-bit float, 32-bit unsigned.
const FLOAT: u32 = 5126;
const UNSIGNED: u32 = 5125;

/// The bytes of a file.
///
/// # Errors
/// Every solid that is none, by name.
pub fn write(model: &Model3) -> Result<Vec<u8>, ExportError> {
    let mut file = File::default();
    let mut wrong = Vec::new();
    let mut roots = Vec::new();
    for group in &model.groups {
        let mut children = Vec::new();
        for part in &group.parts {
            match body(&part.form).and_then(|b| sized(&b).map(|()| b)) {
                Ok(b) => {
                    let mesh = file.mesh(&part.id, part.kind, &mesh::meshes(&b, mesh::FILES));
                    children.push(file.node(json!({ "name": part.id, "mesh": mesh })));
                }
                Err(why) => wrong.push((part.id.as_str(), why)),
            }
        }
        let extras = json!({ "title": group.title });
        roots.push(file.node(json!({ "name": group.id, "children": children, "extras": extras })));
    }
    faults(wrong)?;
    let root = file.node(json!({ "name": model.title, "children": roots }));
    Ok(file.bytes(model, root))
}

#[derive(Default)]
struct File {
    nodes: Vec<Value>,
    meshes: Vec<Value>,
    accessors: Vec<Value>,
    views: Vec<Value>,
    data: Vec<u8>,
}

impl File {
    fn node(&mut self, node: Value) -> usize {
        self.nodes.push(node);
        self.nodes.len() - 1
    }

    /// One mesh, one primitive for each closed part of it.
    fn mesh(&mut self, name: &str, kind: Kind, parts: &[Mesh]) -> usize {
        let primitives: Vec<Value> = parts.iter().map(|m| self.primitive(kind, m)).collect();
        self.meshes.push(json!({ "name": name, "primitives": primitives }));
        self.meshes.len() - 1
    }

    fn primitive(&mut self, kind: Kind, mesh: &Mesh) -> Value {
        let metres: Vec<[f32; 3]> = mesh.points.iter().map(|p| metre(*p)).collect();
        let fold = |start: f32, pick: fn(f32, f32) -> f32| {
            metres.iter().fold([start; 3], |m, p| [pick(m[0], p[0]), pick(m[1], p[1]), pick(m[2], p[2])])
        };
        let (low, high) = (fold(f32::INFINITY, f32::min), fold(f32::NEG_INFINITY, f32::max));
        let view = self.view(metres.iter().flatten().flat_map(|v| v.to_le_bytes()), CORNERS);
        let corners = self.accessor(json!({
            "bufferView": view, "componentType": FLOAT, "count": metres.len(), "type": "VEC3", "min": low, "max": high
        }));
        let view = self.view(mesh.triangles.iter().flatten().flat_map(|v| v.to_le_bytes()), INDICES);
        let indices = self.accessor(json!({
            "bufferView": view, "componentType": UNSIGNED, "count": mesh.triangles.len() * 3, "type": "SCALAR"
        }));
        let material = Kind::ALL.iter().position(|k| *k == kind).unwrap_or(0);
        json!({ "attributes": { "POSITION": corners }, "indices": indices, "material": material })
    }

    fn view(&mut self, bytes: impl Iterator<Item = u8>, target: u32) -> usize {
        let offset = self.data.len();
        self.data.extend(bytes);
        let length = self.data.len() - offset;
        self.views.push(json!({ "buffer": 0, "byteOffset": offset, "byteLength": length, "target": target }));
        self.views.len() - 1
    }

    fn accessor(&mut self, accessor: Value) -> usize {
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn bytes(self, model: &Model3, root: usize) -> Vec<u8> {
        let facts: Map<String, Value> =
            model.facts.iter().map(|(k, v)| (k.clone(), Value::from(v.as_str()))).collect();
        let mut top = Map::new();
        let asset = json!({ "version": "2.0", "generator": PROGRAM, "extras": facts });
        top.insert("asset".into(), asset);
        top.insert("scene".into(), json!(0));
        top.insert("scenes".into(), json!([{ "name": model.title, "nodes": [root] }]));
        top.insert("nodes".into(), Value::from(self.nodes));
        // empty lists are not lawful
        if !self.meshes.is_empty() {
            top.insert("meshes".into(), Value::from(self.meshes));
            top.insert("materials".into(), Kind::ALL.iter().map(|k| material(*k)).collect());
            top.insert("accessors".into(), Value::from(self.accessors));
            top.insert("bufferViews".into(), Value::from(self.views));
            top.insert("buffers".into(), json!([{ "byteLength": self.data.len() }]));
        }
        let mut text = Value::from(top).to_string().into_bytes();
        // both chunks are multiples of four bytes
        text.resize(text.len().next_multiple_of(4), b' ');
        let mut chunks = chunk(b"JSON", &text);
        if !self.data.is_empty() {
            chunks.extend(chunk(b"BIN\0", &self.data));
        }
        let mut out = b"glTF".to_vec();
        out.extend(2u32.to_le_bytes());
        out.extend(((chunks.len() + 12) as u32).to_le_bytes());
        out.extend(chunks);
        out
    }
}

fn metre(p: V3) -> [f32; 3] {
    // no minus zero: equal places have equal bytes
    p.list().map(|v| (v / 1000.0) as f32 + 0.0)
}

fn chunk(kind: &[u8; 4], bytes: &[u8]) -> Vec<u8> {
    let mut out = (bytes.len() as u32).to_le_bytes().to_vec();
    out.extend(kind);
    out.extend(bytes);
    out
}

/// A dull grey. The format's factors are linear: the lightness is that of a screen, taken back by the square that
/// stands close to a screen's curve.
fn material(kind: Kind) -> Value {
    let v = f64::from(kind.lightness()) / 255.0;
    let grey = (v * v * 1e4).round() / 1e4;
    json!({
        "name": kind.word(),
        "pbrMetallicRoughness":
            { "baseColorFactor": [grey, grey, grey, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.9 }
    })
}
