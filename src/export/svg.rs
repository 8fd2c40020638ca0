//! SVG: one page, true size, y turned down once. Arcs stay arcs, circles stay circles, text stays text.
//!
//! Coordinates are millimetres with six decimals: rounding is at most 5e-7 mm. An arc over 120 degrees is
//! written as equal shorter ones, because its centre is ill conditioned in end points and radius alone.

use super::number::fixed;
use super::order::{OneLayer, Part, layers, parts};
use super::{ExportError, arcs, mark, page, valid};
use crate::draw::{
    Across, Drawing, Greys, Group, Ink, Item, Page, Shape, Stroke, Text, Up, Weight, hatch, text,
};
use crate::geom::{Contour, Point, Rect, Segment, Vec2, angle};
use std::f64::consts::TAU;
use svg::Node;
use svg::node::element;

/// Longest arc in one piece, radians.
const LONGEST_ARC: f64 = TAU / 3.0;

/// Writes one page.
///
/// # Errors
/// What [`valid::check`] refuses, or a page that is not there.
pub fn write(drawing: &Drawing, index: usize) -> Result<Vec<u8>, ExportError> {
    valid::check(drawing)?;
    let page = page(drawing, index)?;
    let (w, h) = (mm(page.width), mm(page.height));
    let mut doc = svg::Document::new()
        .set("width", format!("{w}mm"))
        .set("height", format!("{h}mm"))
        .set("viewBox", format!("0 0 {w} {h}"));
    doc = doc.add(element::Title::new(lawful(&format!("{}, {}", drawing.title, page.name))));
    {
        let facts = drawing.meta.iter().map(|(k, v)| format!("{k}: {v}"));
        let lines: Vec<String> = facts.chain([mark::FACT.to_owned()]).collect();
        doc = doc.add(element::Description::new().add(svg::node::Text::new(lawful(&lines.join("\n")))));
    }
    doc = painted(doc, page, Names::default());
    let mut bytes = doc.to_string().into_bytes();
    bytes.push(b'\n');
    Ok(bytes)
}

/// One page as an element of an HTML page: no size of its own, every id starts with `prefix`, and `title` and `says`
/// are what a reader is told who does not see it.
///
/// # Errors
/// As [`write()`].
pub fn inline(
    drawing: &Drawing,
    index: usize,
    prefix: &'static str,
    title: &str,
    says: &str,
) -> Result<String, ExportError> {
    valid::check(drawing)?;
    let page = page(drawing, index)?;
    let doc = svg::Document::new()
        .set("viewBox", format!("0 0 {} {}", mm(page.width), mm(page.height)))
        .set("role", "img")
        .set("aria-labelledby", format!("{prefix}title {prefix}says"))
        .add(element::Title::new(lawful(title)).set("id", format!("{prefix}title")))
        .add(
            element::Description::new()
                .set("id", format!("{prefix}says"))
                .add(svg::node::Text::new(lawful(says))),
        );
    Ok(painted(doc, page, Names { prefix, given: Vec::new() }).to_string())
}

/// Paper, layers and groups.
fn painted(mut doc: svg::Document, page: &Page, mut names: Names) -> svg::Document {
    doc = doc.add(
        element::Rectangle::new()
            .set("id", format!("{}paper", names.prefix))
            .set("width", mm(page.width))
            .set("height", mm(page.height))
            .set("fill", "#fff"),
    );
    for (k, part) in parts(page).iter().enumerate() {
        match part {
            Part::Loose(list) => {
                let view = View { height: page.height };
                for layer in list {
                    doc = doc.add(layer_group(layer, view, &mut names));
                }
            }
            Part::Group(g) => {
                let name = format!("{}window-{}", names.prefix, k + 1);
                if let Some(clip) = g.clip {
                    doc = doc.add(window(&name, clip, page.height));
                }
                doc = doc.add(group(g, page.height, &name, &mut names));
            }
        }
    }
    doc
}

/// How page coordinates (y up) become file coordinates (y down): measured from this height.
#[derive(Clone, Copy)]
struct View {
    height: f64,
}

impl View {
    fn x(self, p: Point) -> String {
        mm(p.x)
    }

    fn y(self, p: Point) -> String {
        mm(self.height - p.y)
    }

    fn both(self, p: Point) -> String {
        format!("{} {}", self.x(p), self.y(p))
    }
}

/// Ids given so far: the first stretch of a layer has the layer's plain name.
#[derive(Default)]
struct Names {
    /// Starts every id.
    prefix: &'static str,
    given: Vec<&'static str>,
}

impl Names {
    fn next(&mut self, name: &'static str) -> String {
        let before = self.given.iter().filter(|n| **n == name).count();
        self.given.push(name);
        if before == 0 {
            format!("{}{name}", self.prefix)
        } else {
            format!("{}{name}-{}", self.prefix, before + 1)
        }
    }
}

fn mm(v: f64) -> String {
    fixed(v, 6)
}

fn grey(ink: Ink) -> String {
    format!("#{0:02x}{0:02x}{0:02x}", ink.0)
}

/// Characters that XML 1.0 can hold; others become spaces (control) or the replacement character.
fn lawful(s: &str) -> String {
    s.chars()
        .map(|c| match c {
            '\n' => '\n',
            c if c.is_control() => ' ',
            '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
            c => c,
        })
        .collect()
}

fn window(name: &str, clip: Rect, height: f64) -> element::ClipPath {
    let rect = element::Rectangle::new()
        .set("x", mm(clip.x0))
        .set("y", mm(height - clip.y1))
        .set("width", mm(clip.width()))
        .set("height", mm(clip.height()));
    element::ClipPath::new().set("id", name).add(rect)
}

fn group(g: &Group, height: f64, name: &str, names: &mut Names) -> element::Group {
    // inside, y runs down from the group's own zero: -y; so the page's height enters the shift alone
    let place =
        [g.scale_x, 0.0, 0.0, g.scale_y, g.shift.x, height - g.shift.y].map(|v| fixed(v, 9)).join(" ");
    let mut inner = element::Group::new().set("transform", format!("matrix({place})"));
    for layer in layers(g.items.iter()) {
        inner = inner.add(layer_group(&layer, View { height: 0.0 }, names));
    }
    match g.clip {
        Some(_) => element::Group::new().set("clip-path", format!("url(#{name})")).add(inner),
        None => inner,
    }
}

fn layer_group((layer, items): &OneLayer<'_>, view: View, names: &mut Names) -> element::Group {
    let mut g = element::Group::new()
        .set("id", names.next(layer.name()))
        .set("class", if layer.is_cut() { "cut" } else { "no-cut" })
        .set("data-layer", layer.name())
        .set("fill", "none");
    for item in items {
        if let Some(mut node) = shape(item, view) {
            if let Some(subject) = &item.subject {
                node.assign("data-subject", lawful(subject));
            }
            g = g.add(node);
        }
    }
    g
}

fn shape(item: &Item, view: View) -> Option<element::Element> {
    let mut node = match &item.shape {
        Shape::Line(l) => {
            let mut n = element::Element::new("line");
            for (name, value) in
                [("x1", view.x(l.a)), ("y1", view.y(l.a)), ("x2", view.x(l.b)), ("y2", view.y(l.b))]
            {
                n.assign(name, value);
            }
            n
        }
        Shape::Arc(a) => path(chain(&[Segment::Arc(*a)], view)?),
        Shape::Circle { centre, radius } => circle(*centre, *radius, view),
        Shape::Path(c) => match c.as_circle() {
            Some((centre, radius)) => circle(centre, radius, view),
            None => path(closed(c, view)?),
        },
        Shape::Chain(pieces) => path(chain(pieces, view)?),
        Shape::Picture { at, picture } => return embedded(*at, picture, view),
        Shape::Text(t) => return Some(letters(t, item.fill.unwrap_or(Ink::BLACK), view)),
        Shape::Hatch { .. } => {
            let lines = hatch::of(&item.shape);
            if lines.is_empty() {
                return None;
            }
            let d: Vec<String> =
                lines.iter().map(|l| format!("M{} L{}", view.both(l.a), view.both(l.b))).collect();
            path(d.join(" "))
        }
    };
    if item.stroke.is_none() && item.fill.is_none() {
        return None;
    }
    if let Some(fill) = item.fill
        && fillable(&item.shape)
    {
        node.assign("fill", grey(fill));
    }
    if let Some(s) = item.stroke {
        pen(&mut node, &s);
    }
    Some(node)
}

/// Whether a fill means anything for a shape.
fn fillable(shape: &Shape) -> bool {
    match shape {
        Shape::Circle { .. } | Shape::Path(_) => true,
        Shape::Line(_)
        | Shape::Arc(_)
        | Shape::Chain(_)
        | Shape::Text(_)
        | Shape::Hatch { .. }
        | Shape::Picture { .. } => false,
    }
}

fn pen(node: &mut element::Element, s: &Stroke) {
    node.assign("stroke", grey(s.ink));
    node.assign("stroke-width", mm(s.width));
    let pattern = s.pattern();
    if !pattern.is_empty() {
        node.assign("stroke-dasharray", pattern.iter().map(|v| mm(*v)).collect::<Vec<_>>().join(" "));
    }
}

fn circle(centre: Point, radius: f64, view: View) -> element::Element {
    let mut n = element::Element::new("circle");
    for (name, value) in [("cx", view.x(centre)), ("cy", view.y(centre)), ("r", mm(radius))] {
        n.assign(name, value);
    }
    n
}

fn path(d: String) -> element::Element {
    let mut n = element::Element::new("path");
    n.assign("d", d);
    n
}

fn closed(c: &Contour, view: View) -> Option<String> {
    let pieces = c.segments();
    // a straight last piece is the closing line itself
    let drawn = match pieces {
        [rest @ .., Segment::Line(_)] if !rest.is_empty() => rest,
        all => all,
    };
    Some(format!("{} Z", chain(drawn, view)?))
}

fn chain(pieces: &[Segment], view: View) -> Option<String> {
    let mut d = format!("M{}", view.both(pieces.first()?.start()));
    for piece in pieces {
        match piece {
            Segment::Line(l) => d += &format!(" L{}", view.both(l.b)),
            Segment::Arc(a) => {
                let r = mm(a.radius);
                // counter-clockwise with y up is sweep 0 with y down; a piece is never the large arc
                let sweep = u8::from(a.sweep < 0.0);
                for part in arcs::split(a, LONGEST_ARC) {
                    d += &format!(" A{r} {r} 0 0 {sweep} {}", view.both(part.b));
                }
            }
        }
    }
    Some(d)
}

/// A picture within the file itself.
fn embedded(at: Rect, picture: &Greys, view: View) -> Option<element::Element> {
    let data = super::png::greys(picture).ok()?;
    let mut n = element::Element::new("image");
    let corner = Point::new(at.x0, at.y1);
    for (name, value) in [
        ("x", view.x(corner)),
        ("y", view.y(corner)),
        ("width", mm(at.width())),
        ("height", mm(at.height())),
        ("preserveAspectRatio", "none".into()),
        ("href", format!("data:image/png;base64,{}", super::base64::encode(&data))),
    ] {
        n.assign(name, value);
    }
    Some(n)
}

fn letters(t: &Text, ink: Ink, view: View) -> element::Element {
    let up = match t.anchor.up {
        Up::Baseline => 0.0,
        Up::Middle => t.height / 2.0,
        Up::Top => t.height,
    };
    let (s, c) = angle::sin_cos_deg(t.angle);
    let at = t.at - Vec2::new(-s, c) * up;
    let content = lawful(&t.text.replace('\n', " "));
    let mut n = element::Text::new(content.as_str())
        .set("x", view.x(at))
        .set("y", view.y(at))
        .set("font-family", format!("'{}', 'DejaVu Sans', sans-serif", text::FAMILY))
        .set("font-stretch", "condensed")
        .set("font-kerning", "none")
        .set("font-variant-ligatures", "none")
        .set("font-size", mm(text::em(t.height)))
        .set("fill", grey(ink));
    match t.weight {
        Weight::Regular => {}
        Weight::Bold => n = n.set("font-weight", "bold"),
    }
    match t.anchor.across {
        Across::Left => {}
        Across::Middle => n = n.set("text-anchor", "middle"),
        Across::Right => n = n.set("text-anchor", "end"),
    }
    // whatever font a viewer falls back to, the line keeps its width
    let width = text::width(&t.text, t.height, t.weight);
    if width > 0.0 {
        n = n.set("textLength", mm(width)).set("lengthAdjust", "spacingAndGlyphs");
    }
    if t.angle != 0.0 {
        n = n.set("transform", format!("rotate({} {})", mm(-t.angle), view.both(at)));
    }
    if content.starts_with(' ') || content.ends_with(' ') || content.contains("  ") {
        n = n.set("xml:space", "preserve");
    }
    n.into()
}
