//! 3MF for printing: millimetres, one object for each group, its solids as components, so that a body and its
//! connectors come out in one piece. z points towards the pilot.
//!
//! The container is a zip file whose entries are stored as they are, with a fixed time stamp: the same model gives
//! the same bytes.

use super::body::body;
use super::mesh::{self, Mesh};
use super::{faults, sized};
use crate::draw::solids::Model3;
use crate::export::ExportError;
use crate::export::mark::PROGRAM;
use crate::export::number::fixed;
use std::fmt::Write as _;
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

const TYPES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
<Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/></Types>\n";

const RELATIONS: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" \
Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>\n";

/// The bytes of a file.
///
/// # Errors
/// Every solid that is none, by name; a container that cannot be written.
pub fn write(model: &Model3) -> Result<Vec<u8>, ExportError> {
    let text = text(model)?;
    let packed =
        |e: &dyn std::fmt::Display| ExportError::one("", format!("the container cannot be written: {e}"));
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(DateTime::DEFAULT)
        .unix_permissions(0o644);
    for (name, content) in
        [("[Content_Types].xml", TYPES), ("_rels/.rels", RELATIONS), ("3D/3dmodel.model", text.as_str())]
    {
        zip.start_file(name, options).map_err(|e| packed(&e))?;
        zip.write_all(content.as_bytes()).map_err(|e| packed(&e))?;
    }
    Ok(zip.finish().map_err(|e| packed(&e))?.into_inner())
}

fn text(model: &Model3) -> Result<String, ExportError> {
    let mut out = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model unit=\"millimeter\" xml:lang=\"en\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n",
    );
    let facts: Vec<String> = model.facts.iter().map(|(k, v)| format!("{k}: {v}")).collect();
    for (name, words) in [
        ("Title", model.title.as_str()),
        ("Application", PROGRAM),
        ("Description", facts.join("; ").as_str()),
    ] {
        line(&mut out, format_args!("<metadata name=\"{name}\">{}</metadata>", escaped(words)));
    }
    line(&mut out, format_args!("<resources>"));
    let mut wrong = Vec::new();
    let mut items = Vec::new();
    let mut id = 0;
    for group in &model.groups {
        let mut components = Vec::new();
        for part in &group.parts {
            match body(&part.form).and_then(|b| sized(&b).map(|()| b)) {
                Ok(b) => {
                    for mesh in mesh::meshes(&b, mesh::FILES) {
                        id += 1;
                        components.push(id);
                        object(&mut out, id, &part.id, &mesh);
                    }
                }
                Err(why) => wrong.push((part.id.as_str(), why)),
            }
        }
        if components.is_empty() {
            continue;
        }
        id += 1;
        items.push(id);
        let name = escaped(&group.id);
        line(&mut out, format_args!("<object id=\"{id}\" type=\"model\" name=\"{name}\"><components>"));
        for c in components {
            line(&mut out, format_args!("<component objectid=\"{c}\"/>"));
        }
        line(&mut out, format_args!("</components></object>"));
    }
    faults(wrong)?;
    line(&mut out, format_args!("</resources>\n<build>"));
    for id in items {
        line(&mut out, format_args!("<item objectid=\"{id}\"/>"));
    }
    line(&mut out, format_args!("</build>\n</model>"));
    Ok(out)
}

fn object(out: &mut String, id: usize, name: &str, mesh: &Mesh) {
    line(out, format_args!("<object id=\"{id}\" type=\"model\" name=\"{}\"><mesh><vertices>", escaped(name)));
    for p in &mesh.points {
        let [x, y, z] = p.list().map(|v| fixed(v, 6));
        line(out, format_args!("<vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>"));
    }
    line(out, format_args!("</vertices><triangles>"));
    for [a, b, c] in &mesh.triangles {
        line(out, format_args!("<triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>"));
    }
    line(out, format_args!("</triangles></mesh></object>"));
}

/// A line; writing to a string cannot fail.
fn line(out: &mut String, words: std::fmt::Arguments<'_>) {
    let _ = writeln!(out, "{words}");
}

fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
