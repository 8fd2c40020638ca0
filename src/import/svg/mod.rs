//! SVG: paths, basic shapes, groups, references to them, transforms, sizes with a viewBox.
//!
//! Layers are named groups: by `data-layer`, by a drawing program's label, else by the id of the outermost
//! group. Style sheets are not read, but told. Everything that is drawn and not read is named.

mod path;
pub mod second;
mod shapes;
mod size;
mod way;

use super::{
    Axes, CutFile, Format, Item, Layer, MOST_MM, MOST_PIECES, Mark, ReadOptions, Shape, affine, number, spot,
};
use crate::diag::{Lines, Problem, Problems, Where};
use crate::geom::Point;
use kurbo::Affine;
use std::collections::BTreeMap;
use std::sync::Arc;
use usvg::roxmltree::{self, Document, Node, ParsingOptions};
use way::{Ink, Way};

const SPACE: &str = "http://www.w3.org/2000/svg";
const LINK: &str = "http://www.w3.org/1999/xlink";
/// Deepest nesting of groups and references.
const MOST_DEPTH: usize = 200;
/// What is told of a style sheet.
pub const STYLE_SHEET: &str =
    "A style sheet is in the file and is not read: what it hides or moves is taken as it stands.";
/// Name of the layer of what stands in no named group.
const NO_LAYER: &str = "(no layer)";

/// Reads a text. None where it is no SVG; faults are in `problems`.
pub fn read(lines: &Lines, options: &ReadOptions, problems: &mut Problems) -> Option<CutFile> {
    let text = lines.text().clone();
    let parsing = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    let doc = match Document::parse_with_options(&text, parsing) {
        Ok(d) => d,
        Err(e) => {
            problems.push(not_xml(lines, &e));
            return None;
        }
    };
    let root = doc.root_element();
    if root.tag_name().name() != "svg" {
        let name: String = root.tag_name().name().chars().take(40).collect();
        let place = lines.place(root.range().start, root.range().start + 1);
        let message = format!("this is XML, but no SVG: its first element is {name}");
        problems.push(Problem::new("unknown-format", &place, message).help("is this the right file?"));
        return None;
    }
    let mut remarks = Vec::new();
    let mut walk = Walk {
        lines,
        problems,
        ids: doc.descendants().filter_map(|n| Some((n.attribute("id")?, n))).collect(),
        layers: Vec::new(),
        by_name: BTreeMap::new(),
        items: Vec::new(),
        not_read: Vec::new(),
        spent: 0,
        frame: None,
    };
    let view = {
        let said = walk.root(root);
        walk.frame = said.frame();
        size::view(&said, options.unit_mm, &mut remarks)
    };
    let way = Way {
        map: view.map,
        layer: None,
        named: false,
        hidden: None,
        clipped: false,
        via: None,
        depth: 0,
        fill: Ink::Some,
        stroke: false,
    };
    walk.children(root, &way);
    let version = root.attribute("version").unwrap_or("not stated").chars().take(20).collect::<String>();
    let (layers, items, not_read) = (walk.layers, walk.items, walk.not_read);
    Some(CutFile {
        file: lines.file().clone(),
        format: Format::Svg,
        version: format!("version {version}"),
        unit: view.unit,
        axes: Axes::Page,
        layers,
        items,
        not_read,
        remarks,
    })
}

fn not_xml(lines: &Lines, e: &roxmltree::Error) -> Problem {
    let pos = e.pos();
    let row = usize::try_from(pos.row).unwrap_or(1).saturating_sub(1);
    let before: usize = lines.text().split_inclusive('\n').take(row).map(str::len).sum();
    let at = before + usize::try_from(pos.col).unwrap_or(1).saturating_sub(1);
    let place = lines.place(at, at + 1);
    Problem::new("bad-xml", &place, format!("the XML is damaged: {e}")).help("write the file again")
}

struct Walk<'a, 'l, 'p> {
    lines: &'l Lines,
    problems: &'p mut Problems,
    ids: BTreeMap<&'a str, Node<'a, 'a>>,
    layers: Vec<Layer>,
    by_name: BTreeMap<String, usize>,
    items: Vec<Item>,
    not_read: Vec<String>,
    spent: usize,
    /// Width and height that percentages are of.
    frame: Option<[f64; 2]>,
}

impl<'a> Walk<'a, '_, '_> {
    fn place(&self, n: Node<'_, '_>) -> Where {
        let r = n.range();
        let name = n.tag_name().name().len();
        self.lines.place(r.start, (r.start + 1 + name).min(r.end))
    }

    /// The place of a part of an attribute's value.
    fn within(&self, n: Node<'_, '_>, name: &str, start: usize, end: usize) -> Where {
        match n.attribute_node(name) {
            Some(a) => {
                let r = a.range_value();
                self.lines.place((r.start + start).min(r.end), (r.start + end).min(r.end))
            }
            None => self.place(n),
        }
    }

    fn fault(&mut self, place: &Where, message: String) {
        if self.problems.len() < 50 {
            self.problems
                .push(Problem::new("bad-number", place, message).help("correct it, or write the file again"));
        }
    }

    fn root(&mut self, n: Node<'a, 'a>) -> size::Root {
        let mut len = |name: &str| {
            let t = n.attribute(name)?;
            match size::length(t) {
                Ok(v) => Some(v),
                Err(why) => {
                    let place = self.within(n, name, 0, t.len());
                    self.fault(&place, format!("{name}: `{}` {why}", t.chars().take(40).collect::<String>()));
                    None
                }
            }
        };
        let (width, height) = (len("width"), len("height"));
        let view = n.attribute("viewBox").and_then(|t| {
            let v: Vec<f64> = t
                .split([' ', ',', '\t', '\n', '\r'])
                .filter(|p| !p.is_empty())
                .filter_map(|p| number(p).ok())
                .collect();
            let four = <[f64; 4]>::try_from(v).ok().filter(|v| v[2] > 0.0 && v[3] > 0.0);
            if four.is_none() {
                let place = self.within(n, "viewBox", 0, t.len());
                self.fault(&place, "viewBox is four numbers: x, y, width and height above zero".to_owned());
            }
            four
        });
        let stretch = n.attribute("preserveAspectRatio").is_some_and(|p| p.trim_start().starts_with("none"));
        size::Root { width, height, view, stretch }
    }

    fn children(&mut self, n: Node<'a, 'a>, way: &Way) {
        for c in n.children().filter(Node::is_element) {
            if self.spent > MOST_PIECES {
                return;
            }
            self.element(c, way);
        }
    }

    fn spend(&mut self, n: Node<'_, '_>, pieces: usize) -> bool {
        let before = self.spent;
        self.spent += pieces.max(1);
        if self.spent > MOST_PIECES && before <= MOST_PIECES {
            let place = self.place(n);
            let message = format!("the file draws more than {MOST_PIECES} pieces, references counted");
            self.problems.push(
                Problem::new("too-many-pieces", &place, message).help("leave out what is not to be cut"),
            );
        }
        self.spent <= MOST_PIECES
    }

    fn element(&mut self, n: Node<'a, 'a>, way: &Way) {
        if n.tag_name().namespace().is_some_and(|s| s != SPACE) {
            return;
        }
        let kind = n.tag_name().name();
        match kind {
            "defs" | "symbol" | "clipPath" | "mask" | "marker" | "pattern" | "linearGradient"
            | "radialGradient" | "filter" | "title" | "desc" | "metadata" | "script" | "view" | "cursor"
            | "font" => return,
            "style" => {
                if !self.not_read.iter().any(|t| t == STYLE_SHEET) {
                    self.not_read.push(STYLE_SHEET.to_owned());
                }
                return;
            }
            _ => {}
        }
        let Some(inner) = self.enter(n, way) else { return };
        match kind {
            "g" | "a" => self.children(n, &inner),
            "use" => self.reference(n, inner),
            "text" | "image" => {
                let what = if kind == "text" { Mark::Words } else { Mark::Fill };
                let words: String = n.descendants().filter(Node::is_text).filter_map(|t| t.text()).collect();
                let words =
                    words.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(200).collect();
                let x = n.attribute("x").and_then(|t| number(t.split([' ', ',']).next()?).ok());
                let y = n.attribute("y").and_then(|t| number(t.split([' ', ',']).next()?).ok());
                let at = x.zip(y).map(|(x, y)| Point::new(x, y));
                self.push(n, &inner, Shape::Mark { what, at, words }, None);
            }
            "path" => self.path(n, &inner),
            "polygon" | "polyline" => {
                let text = n.attribute("points").unwrap_or("");
                match shapes::points(text) {
                    Ok(p) => self.push(n, &inner, shapes::polygon(&p, kind == "polygon"), None),
                    Err(f) => {
                        let place = self.within(n, "points", f.start, f.end);
                        self.fault(&place, format!("points: {}", f.why));
                    }
                }
            }
            "line" | "rect" | "circle" | "ellipse" => self.basic(n, &inner, kind),
            _ => self.push(n, &inner, Shape::NotRead("an element that this version does not read"), None),
        }
    }

    fn reference(&mut self, n: Node<'a, 'a>, mut way: Way) {
        let href = n.attribute("href").or_else(|| n.attribute((LINK, "href"))).unwrap_or("");
        let target = href.strip_prefix('#').and_then(|id| self.ids.get(id)).copied();
        let why = match target {
            None => Some("a reference to what is not in the file"),
            Some(t) if t.tag_name().name() == "svg" => Some("a reference to a whole drawing"),
            Some(t) if n.ancestors().any(|a| a == t) => Some("a reference to what it stands in"),
            Some(_) => None,
        };
        if !self.spend(n, 1) {
            return;
        }
        match (why, target) {
            (None, Some(t)) => {
                let x = self.length(n, "x").unwrap_or(0.0);
                let y = self.length(n, "y").unwrap_or(0.0);
                way.map *= Affine::translate((x, y));
                way.via = Some((href.chars().take(60).collect::<String>().into(), self.place(n).line));
                if t.tag_name().name() == "symbol" { self.symbol(n, t, way) } else { self.element(t, &way) }
            }
            (why, _) => self.push(n, &way, Shape::NotRead(why.unwrap_or("a reference")), None),
        }
    }

    /// A length attribute in user units, 0 where it is missing; None after a fault.
    fn length(&mut self, n: Node<'_, '_>, name: &str) -> Option<f64> {
        let Some(t) = n.attribute(name) else { return Some(0.0) };
        let why = match size::plain(t) {
            Ok(Some(v)) => return Some(v),
            Ok(None) => match (self.frame, size::percent(t)) {
                (Some(f), Some(p)) => return Some(p / 100.0 * size::whole(f, name)),
                _ => "is a percentage of a size that the file does not give",
            },
            Err(why) => why,
        };
        let place = self.within(n, name, 0, t.len());
        self.fault(&place, format!("{name}: `{}` {why}", t.chars().take(40).collect::<String>()));
        None
    }

    fn basic(&mut self, n: Node<'a, 'a>, way: &Way, kind: &str) {
        let names: &[&str] = match kind {
            "line" => &["x1", "y1", "x2", "y2"],
            "rect" => &["x", "y", "width", "height", "rx", "ry"],
            "circle" => &["cx", "cy", "r"],
            _ => &["cx", "cy", "rx", "ry"],
        };
        let v: Vec<Option<f64>> = names.iter().map(|name| self.length(n, name)).collect();
        let Some(v) = v.into_iter().collect::<Option<Vec<f64>>>() else { return };
        let sizes = if kind == "line" { &[] } else { v.get(2..).unwrap_or(&[]) };
        if let Some(k) = sizes.iter().position(|s| *s < 0.0) {
            let name = names.get(k + 2).copied().unwrap_or("");
            let place = self.within(n, name, 0, usize::MAX / 2);
            self.fault(&place, format!("{name} is below zero"));
            return;
        }
        let has = |name: &str| n.attribute(name).is_some_and(|v| v != "auto");
        let shape = match (kind, v.as_slice()) {
            ("line", [a, b, c, d]) => shapes::line(Point::new(*a, *b), Point::new(*c, *d)),
            ("rect", [x, y, w, h, rx, ry]) => {
                shapes::rect(Point::new(*x, *y), *w, *h, has("rx").then_some(*rx), has("ry").then_some(*ry))
            }
            ("circle", [x, y, r]) => shapes::ellipse(Point::new(*x, *y), *r, *r),
            (_, [x, y, rx, ry]) => shapes::ellipse(Point::new(*x, *y), *rx, *ry),
            _ => return,
        };
        self.push(n, way, shape, None);
    }

    fn path(&mut self, n: Node<'a, 'a>, way: &Way) {
        let d = n.attribute("d").unwrap_or("");
        match path::read(d) {
            Ok(list) => {
                for s in list {
                    let place = self.within(n, "d", s.start, s.start + 1);
                    self.push(n, way, s.shape, Some(place));
                }
            }
            Err(f) => {
                let place = self.within(n, "d", f.start, f.end);
                self.fault(&place, format!("path data: {}", f.why));
            }
        }
    }

    fn push(&mut self, n: Node<'_, '_>, way: &Way, shape: Shape, place: Option<Where>) {
        let pieces = if let Shape::Chain { pieces, .. } = &shape { pieces.len() } else { 1 };
        if !self.spend(n, pieces) {
            return;
        }
        let place = place.unwrap_or_else(|| self.place(n));
        let line = matches!(shape, Shape::Chain { .. });
        let shape = affine::shape(&way.map, shape);
        if let Shape::Chain { pieces, .. } = &shape {
            let far = |p: Point| !(p.x.abs() <= MOST_MM && p.y.abs() <= MOST_MM);
            if pieces.iter().any(|s| far(s.start()) || far(s.end()) || far(s.bounds().center())) {
                let message =
                    format!("{} lies more than {} km from the origin", n.tag_name().name(), MOST_MM / 1e6);
                self.fault(&place, message);
                return;
            }
        }
        let shape =
            if way.clipped && line { Shape::NotRead("cut off by a clip path or a mask") } else { shape };
        let hidden = way.hidden.or(match (line && !way.stroke, way.fill) {
            (true, Ink::None) => Some("neither stroke nor fill"),
            (true, Ink::White) => Some("white without a line"),
            _ => None,
        });
        let layer = match way.layer {
            Some(k) => k,
            None => self.layer(NO_LAYER),
        };
        let id = n.attribute("id").or_else(|| n.attribute("data-subject"));
        let spot = super::Spot { id: id.map(Arc::from), via: way.via.clone(), ..spot(&place) };
        // y down to y up is no mirror; a second turn-over is
        let mirrored = !affine::mirrors(&way.map);
        self.items.push(Item {
            kind: n.tag_name().name().into(),
            layer,
            spot,
            shape,
            hidden,
            mirrored,
            z: [0.0; 2],
        });
    }
}
