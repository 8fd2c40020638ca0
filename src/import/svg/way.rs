//! The way down to an element: its transform, its layer, and what hides it.

use super::{MOST_DEPTH, Walk, size};
use crate::import::{Layer, Shape, number};
use kurbo::Affine;
use std::sync::Arc;
use usvg::roxmltree::Node;

/// What a fill is, as far as it matters here.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Ink {
    /// Nothing.
    None,
    /// The colour of paper.
    White,
    /// Anything else.
    Some,
}

/// What holds for an element and for all in it.
#[derive(Clone)]
pub(super) struct Way {
    /// From here to millimetres with y up.
    pub map: Affine,
    /// Index of the layer.
    pub layer: Option<usize>,
    /// Whether the layer was named as such, not by a mere id.
    pub named: bool,
    /// Why it is not in the picture.
    pub hidden: Option<&'static str>,
    /// Whether a clip path or a mask cuts it.
    pub clipped: bool,
    /// The reference through which it is drawn.
    pub via: Option<(Arc<str>, u32)>,
    /// How deep it stands.
    pub depth: usize,
    /// Its fill.
    pub fill: Ink,
    /// Whether it has a line.
    pub stroke: bool,
}

impl<'a> Walk<'a, '_, '_> {
    /// The way into an element: its transform, layer, what hides it. None after a fault.
    pub(super) fn enter(&mut self, n: Node<'a, 'a>, way: &Way) -> Option<Way> {
        let mut inner = way.clone();
        inner.depth += 1;
        if inner.depth > MOST_DEPTH {
            let place = self.place(n);
            self.fault(&place, format!("more than {MOST_DEPTH} groups or references inside each other"));
            return None;
        }
        if let Some(t) = n.attribute("transform") {
            match size::transform(t) {
                Ok(m) => inner.map = way.map * m,
                Err(f) => {
                    let place = self.within(n, "transform", f.start, f.end);
                    self.fault(&place, format!("transform: {}", f.why));
                    return None;
                }
            }
        }
        let style = |name: &str| property(n, name);
        if style("display") == Some("none") {
            inner.hidden = Some("display none");
        } else if style("visibility").is_some_and(|v| v == "hidden" || v == "collapse")
            && inner.hidden.is_none()
        {
            inner.hidden = Some("visibility hidden");
        }
        if let Some(f) = style("fill") {
            inner.fill = match f.to_ascii_lowercase().as_str() {
                "none" | "transparent" => Ink::None,
                "white" | "#fff" | "#ffffff" => Ink::White,
                _ => Ink::Some,
            };
        }
        if let Some(s) = style("stroke") {
            inner.stroke = s != "none" && s != "transparent";
        }
        inner.clipped |= ["clip-path", "mask"].iter().any(|p| style(p).is_some_and(|v| v != "none"));
        let label = n.attribute("data-layer").or_else(|| {
            n.attributes().find(|a| a.name() == "label" && a.namespace().is_some()).map(|a| a.value())
        });
        let group = n.tag_name().name() == "g";
        let name = match label {
            Some(l) => Some((l, true)),
            None if group && !way.named && way.layer.is_none() => n.attribute("id").map(|i| (i, false)),
            None => None,
        };
        if let Some((name, named)) = name {
            inner.layer = Some(self.layer(name));
            inner.named = named;
        }
        let says = n.attribute("class").and_then(|c| {
            let words: Vec<&str> = c.split_whitespace().collect();
            if words.contains(&"no-cut") { Some(false) } else { words.contains(&"cut").then_some(true) }
        });
        if let (true, Some(says), Some(l)) = (group, says, inner.layer.and_then(|k| self.layers.get_mut(k))) {
            l.says_cut = Some(says);
        }
        Some(inner)
    }

    /// A symbol, drawn where a reference says: its view is fitted into the reference's width and height.
    pub(super) fn symbol(&mut self, n: Node<'a, 'a>, symbol: Node<'a, 'a>, mut way: Way) {
        let view: Option<[f64; 4]> = symbol.attribute("viewBox").and_then(|t| {
            let v: Option<Vec<f64>> =
                t.split([' ', ',']).filter(|p| !p.is_empty()).map(|p| number(p).ok()).collect();
            <[f64; 4]>::try_from(v?).ok().filter(|v| v[2] > 0.0 && v[3] > 0.0)
        });
        if let Some([x, y, w, h]) = view {
            let mut side = |name: &str| {
                let of = if n.has_attribute(name) { n } else { symbol };
                if of.has_attribute(name) { self.length(of, name).filter(|v| *v > 0.0) } else { None }
            };
            let (Some(width), Some(height)) = (side("width"), side("height")) else {
                return self.push(
                    n,
                    &way,
                    Shape::NotRead("a symbol of which no width and height are told"),
                    None,
                );
            };
            let s = (width / w).min(height / h);
            let middle = ((width - s * w) / 2.0, (height - s * h) / 2.0);
            way.map *= Affine::translate(middle) * Affine::scale(s) * Affine::translate((-x, -y));
        }
        if let Some(inner) = self.enter(symbol, &way) {
            self.children(symbol, &inner);
        }
    }

    /// Index of a layer by its name.
    pub(super) fn layer(&mut self, name: &str) -> usize {
        let layers = &mut self.layers;
        *self.by_name.entry(name.to_owned()).or_insert_with(|| {
            layers.push(Layer { name: name.to_owned(), hidden: None, says_cut: None });
            layers.len() - 1
        })
    }
}

/// A presentation attribute or the same in `style`.
fn property<'a>(n: Node<'a, '_>, name: &str) -> Option<&'a str> {
    let in_style = n.attribute("style").and_then(|s| {
        s.split(';').find_map(|p| {
            let (k, v) = p.split_once(':')?;
            (k.trim() == name).then(|| v.trim())
        })
    });
    in_style.or_else(|| n.attribute(name)).map(str::trim)
}
