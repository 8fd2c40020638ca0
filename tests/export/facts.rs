//! What stands on a page, as plain JSON for outside readers to compare with: page coordinates, mm, y up.

use panelwright::draw::{Across, Drawing, Entry, Group, Item, Shape, Up, hatch, text};
use panelwright::geom::{Point, Segment};
use serde_json::{Value, json};

/// Facts about one page of a drawing; `file` is the name of the file that shows it.
pub fn page(drawing: &Drawing, index: usize, file: &str) -> Value {
    let page = &drawing.pages[index];
    let mut items = Vec::new();
    for entry in &page.items {
        match entry {
            Entry::Item(i) => item(i, None, &mut items),
            Entry::Group(g) => g.items.iter().for_each(|i| item(i, Some(g), &mut items)),
        }
    }
    json!({
        "file": file, "title": drawing.title, "page": page.name, "width": page.width, "height": page.height,
        "unit": drawing.units.word(), "items": items,
    })
}

fn item(i: &Item, g: Option<&Group>, out: &mut Vec<Value>) {
    let (kx, ky) = g.map_or((1.0, 1.0), |g| (g.scale_x, g.scale_y));
    let at = |p: Point| {
        let p = g.map_or(p, |g| g.point(p));
        json!([p.x, p.y])
    };
    let piece = |s: &Segment| match s {
        Segment::Line(l) => json!({"a": at(l.a), "b": at(l.b)}),
        Segment::Arc(a) => json!({
            "a": at(a.a), "b": at(a.b), "centre": at(a.centre), "rx": a.radius * kx, "ry": a.radius * ky,
            "start": a.start, "sweep": a.sweep,
        }),
    };
    let mut put = |kind: &str, mut v: Value| {
        v["kind"] = json!(kind);
        v["layer"] = json!(i.layer.name());
        v["subject"] = json!(i.subject);
        out.push(v);
    };
    match &i.shape {
        Shape::Line(l) => put("line", json!({"a": at(l.a), "b": at(l.b)})),
        Shape::Arc(a) => put("arc", piece(&Segment::Arc(*a))),
        Shape::Circle { centre, radius } => {
            put("circle", json!({"centre": at(*centre), "rx": radius * kx, "ry": radius * ky}));
        }
        Shape::Path(c) => put("path", json!({"pieces": c.segments().iter().map(piece).collect::<Vec<_>>()})),
        Shape::Chain(list) => put("chain", json!({"pieces": list.iter().map(piece).collect::<Vec<_>>()})),
        Shape::Hatch { .. } => {
            for l in hatch::of(&i.shape) {
                put("line", json!({"a": at(l.a), "b": at(l.b)}));
            }
        }
        Shape::Picture { at: b, .. } => {
            put("picture", json!({"a": at(b.origin()), "b": at(Point::new(b.x1, b.y1))}))
        }
        Shape::Text(t) => put(
            "text",
            json!({
                "text": t.text, "at": at(t.at), "origin": at(text::origin(t)), "height": t.height * ky,
                "width": text::width(&t.text, t.height, t.weight) * kx, "angle": t.angle,
                "across": match t.anchor.across { Across::Left => "left", Across::Middle => "middle", Across::Right => "right" },
                "up": match t.anchor.up { Up::Baseline => "baseline", Up::Middle => "middle", Up::Top => "top" },
            }),
        ),
    }
}
