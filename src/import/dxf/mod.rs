//! DXF in ASCII, from R12 on: header, layer table, blocks, entities.
//!
//! Read exactly: LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE, POLYLINE, SPLINE (by its control points), blocks laid out by
//! INSERT. Everything else is named.
//! Group codes as in the published DXF reference, entity by entity.

mod blocks;
mod entity;
mod record;
mod tags;
mod units;

use super::{Axes, CutFile, Declared, FileUnit, Format, ReadOptions};
use crate::diag::{Lines, Problems};
use crate::geom::Point;
use blocks::{Block, Layers, Layout, Way};
use record::{Desk, Record};
use std::collections::BTreeMap;
use tags::Tag;

/// The pairs of the sections that are read.
#[derive(Default)]
struct Sections<'b, 'a> {
    header: &'b [Tag<'a>],
    tables: &'b [Tag<'a>],
    blocks: &'b [Tag<'a>],
    entities: Option<&'b [Tag<'a>]>,
}

/// Reads a text. None where it cannot be told what it holds; faults are in `problems`.
pub fn read(lines: &Lines, options: &ReadOptions, problems: &mut Problems) -> Option<CutFile> {
    let text = lines.text().clone();
    let mut comments = Vec::new();
    let tags = tags::pairs(lines, &text, &mut comments, problems);
    if !problems.is_empty() {
        return None;
    }
    let mut desk = Desk { lines, problems };
    let sections = sections(&tags, &mut desk)?;
    let mut remarks = Vec::new();
    let mut not_read = Vec::new();
    if tags.last().is_none_or(|t| (t.code, t.value) != (0, "EOF")) {
        not_read.push("The file has no EOF mark at its end: it may have been cut short.".to_owned());
    }
    let header = variables(sections.header);
    let version = units::version(header.get("$ACADVER").map_or("", |t| t.value));
    let unit = unit(&header, &comments, options, &mut remarks);
    let mut layers = Layers::default();
    layer_table(sections.tables, &mut layers, &mut desk);
    let blocks = block_table(sections.blocks, &mut desk);
    let records = Record::split(sections.entities?);
    let mut layout = Layout { blocks: &blocks, desk, layers, items: vec![], spent: 0, full: false };
    layout.run(&records, &Way::root(unit.mm));
    let (layers, items) = (layout.layers.list, layout.items);
    Some(CutFile {
        file: lines.file().clone(),
        format: Format::Dxf,
        version,
        unit,
        axes: Axes::File,
        layers,
        items,
        not_read,
        remarks,
    })
}

/// Finds the sections. One that does not end means that the file was cut short.
fn sections<'b, 'a>(tags: &'b [Tag<'a>], desk: &mut Desk<'_, '_>) -> Option<Sections<'b, 'a>> {
    let mut out = Sections::default();
    let mut k = 0;
    while let Some(head) = tags.get(k) {
        k += 1;
        if (head.code, head.value) != (0, "SECTION") {
            continue;
        }
        let name = tags.get(k).filter(|t| t.code == 2).map_or("", |t| t.value);
        let start = k + usize::from(!name.is_empty());
        let rest = tags.get(start..).unwrap_or(&[]);
        let Some(length) =
            rest.iter().position(|t| t.code == 0 && matches!(t.value, "ENDSEC" | "SECTION" | "EOF"))
        else {
            let place = head.place(desk.lines);
            let message = format!("the section {name} starts here and does not end");
            desk.fault("cut-short", &place, message, "the file was cut short: get a whole copy");
            return None;
        };
        let body = rest.get(..length).unwrap_or(&[]);
        if rest.get(length).is_some_and(|t| t.value != "ENDSEC") {
            let place = head.place(desk.lines);
            let message = format!("the section {name} starts here and has no ENDSEC");
            desk.fault(
                "cut-short",
                &place,
                message,
                "the file was cut short or joined wrongly: get a whole copy",
            );
            return None;
        }
        match name {
            "HEADER" => out.header = body,
            "TABLES" => out.tables = body,
            "BLOCKS" => out.blocks = body,
            "ENTITIES" => out.entities = Some(body),
            _ => {}
        }
        k = start + length;
    }
    if out.entities.is_none() {
        let place = desk.lines.place(0, 0);
        desk.fault(
            "no-entities",
            &place,
            "the file has no ENTITIES section".to_owned(),
            "is this the right file?",
        );
        return None;
    }
    Some(out)
}

/// Header variables: the first pair after each name.
fn variables<'b, 'a>(header: &'b [Tag<'a>]) -> BTreeMap<&'a str, &'b Tag<'a>> {
    header
        .windows(2)
        .filter_map(|w| match w {
            [name, value] if name.code == 9 => Some((name.value, value)),
            _ => None,
        })
        .collect()
}

/// The unit: the user's word, the header's code, a comment "unit: mm", or none.
fn unit(
    header: &BTreeMap<&str, &Tag<'_>>,
    comments: &[&str],
    options: &ReadOptions,
    remarks: &mut Vec<String>,
) -> FileUnit {
    let code = header.get("$INSUNITS").and_then(|t| t.value.parse::<i64>().ok());
    let by_code = code.and_then(units::of_code);
    let by_comment = comments.iter().filter_map(|c| c.trim().strip_prefix("unit:")).find_map(units::of_word);
    let in_file = by_code
        .map(|(name, mm)| (name, mm, format!("$INSUNITS {}", code.unwrap_or(0))))
        .or_else(|| by_comment.map(|(name, mm)| (name, mm, "a comment in the file".to_owned())));
    if let (Some((a, x)), Some((b, y))) = (by_code, by_comment)
        && x != y
    {
        remarks.push(format!("The header says {a}, a comment in the file {b}: the header was taken."));
    }
    if let Some(mm) = options.unit_mm {
        if let Some((name, said, _)) = &in_file
            && *said != mm
        {
            remarks.push(format!("The file says {name}; your --unit was taken instead."));
        }
        let name = if mm == 25.4 {
            "in"
        } else if mm == 1.0 {
            "mm"
        } else {
            "unit"
        };
        return FileUnit { name: name.into(), mm, declared: Declared::ByUser };
    }
    match in_file {
        Some((name, mm, how)) => FileUnit { name: name.into(), mm, declared: Declared::InFile(how) },
        None => {
            let measurement = header.get("$MEASUREMENT").map(|t| t.value);
            let why = match (code, measurement) {
                (Some(c), _) if c != 0 => format!("$INSUNITS {c} is no unit that sheets are drawn in"),
                (_, Some("0")) => "no $INSUNITS; $MEASUREMENT hints at inches".to_owned(),
                (_, Some("1")) => "no $INSUNITS; $MEASUREMENT hints at millimetres".to_owned(),
                _ => "no $INSUNITS".to_owned(),
            };
            FileUnit { name: "mm".into(), mm: 1.0, declared: Declared::Missing(why) }
        }
    }
}

fn layer_table(tags: &[Tag<'_>], layers: &mut Layers, desk: &mut Desk<'_, '_>) {
    for r in Record::split(tags).iter().filter(|r| r.kind == "LAYER") {
        let Some(name) = r.text(2) else { continue };
        let k = layers.index(&unicode(name));
        let hidden = if r.int(70, desk) & 1 != 0 {
            Some("frozen")
        } else if r.int(62, desk) < 0 {
            Some("off")
        } else {
            (r.text(290) == Some("0")).then_some("not printed")
        };
        if let Some(l) = layers.list.get_mut(k) {
            l.hidden = hidden;
        }
    }
}

fn block_table<'a, 'b>(tags: &'b [Tag<'a>], desk: &mut Desk<'_, '_>) -> BTreeMap<String, Block<'a, 'b>> {
    let mut out = BTreeMap::new();
    let mut open: Option<(String, Block<'a, 'b>)> = None;
    for r in Record::split(tags) {
        match r.kind {
            "BLOCK" => {
                let base = Point::new(r.number(10, desk).unwrap_or(0.0), r.number(20, desk).unwrap_or(0.0));
                let outside = r.int(70, desk) & 4 != 0;
                let name = r.text(2).unwrap_or("").to_uppercase();
                open = Some((name, Block { base, records: vec![], outside }));
            }
            "ENDBLK" => {
                if let Some((name, block)) = open.take() {
                    out.insert(name, block);
                }
            }
            _ => {
                if let Some((_, block)) = &mut open {
                    block.records.push(r);
                }
            }
        }
    }
    out
}

/// A name with its `\U+XXXX` written out.
fn unicode(s: &str) -> String {
    let mut parts = s.split("\\U+");
    let mut out = parts.next().unwrap_or("").to_owned();
    for p in parts {
        let code = p.get(..4).and_then(|h| u32::from_str_radix(h, 16).ok()).and_then(char::from_u32);
        match code {
            Some(c) => {
                out.push(c);
                out.push_str(p.get(4..).unwrap_or(""));
            }
            None => {
                out.push_str("\\U+");
                out.push_str(p);
            }
        }
    }
    out
}
