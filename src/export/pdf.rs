//! PDF: all pages, each as large as its paper, the bundled font embedded as a subset.
//!
//! Circles become cubics within 5e-5 mm; coordinates are 32-bit points, which adds at most 5e-5 mm on
//! pages up to 2 m. What tiles share is stored once. No date and no machine enters the file.

use super::order::{Part, layers, parts};
use super::{ExportError, arcs, mark, valid};
use crate::draw::{Drawing, Greys, Group, Ink, Item, Page, Shape, Stroke, Text, Weight, hatch, text};
use crate::geom::{Arc, Line, Point, Rect, Segment, angle};
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Transform};
use krilla::graphic::Graphic;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::sync::Arc as Shared;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;
/// How far a cubic may stray from its arc, mm.
const STRAY: f64 = 5e-5;
/// Largest page side that common viewers accept: 14,400 points.
const LARGEST: f64 = 5080.0;

/// Writes all pages.
///
/// # Errors
/// What [`valid::check`] refuses, a page over 5080 mm, or a fault of the PDF library.
pub fn write(drawing: &Drawing) -> Result<Vec<u8>, ExportError> {
    valid::check(drawing)?;
    let fonts = Fonts::load()?;
    let mut doc = krilla::Document::new();
    let facts: Vec<String> = drawing.meta.iter().map(|(k, v)| format!("{k}: {v}")).collect();
    let mut about = Metadata::new()
        .title(drawing.title.clone())
        .creator(mark::PROGRAM.to_owned())
        .language("en".to_owned());
    if !facts.is_empty() {
        about = about.description(facts.join("; "));
    }
    doc.set_metadata(about);
    let mut shared: Vec<(Shared<[Item]>, Graphic)> = Vec::new();
    for page in &drawing.pages {
        let settings = Some(page)
            .filter(|p| p.width <= LARGEST && p.height <= LARGEST)
            .and_then(|p| PageSettings::from_wh(points(p.width), points(p.height)))
            .ok_or_else(|| {
                let says = format!(
                    "{} x {} mm is more than a PDF page can be ({LARGEST} mm): take another format or smaller pages",
                    page.width, page.height
                );
                ExportError::one(&page.name, says)
            })?;
        let mut sheet = doc.start_page_with(settings);
        let mut surface = sheet.surface();
        one_page(&mut surface, page, &fonts, &mut shared);
        surface.finish();
        sheet.finish();
    }
    doc.finish().map_err(|e| ExportError::one("", format!("the PDF could not be put together: {e:?}")))
}

fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

/// The two weights, parsed.
struct Fonts {
    regular: Font,
    bold: Font,
}

impl Fonts {
    fn load() -> Result<Fonts, ExportError> {
        let load = |bytes: &'static [u8]| {
            Font::new(bytes.into(), 0).ok_or_else(|| ExportError::one("", "the bundled font cannot be read"))
        };
        Ok(Fonts { regular: load(text::REGULAR)?, bold: load(text::BOLD)? })
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::Bold => self.bold.clone(),
        }
    }
}

/// A surface whose y runs down, and the height from which drawing coordinates (y up) are measured.
struct Sheet<'a, 'b> {
    surface: &'a mut Surface<'b>,
    height: f64,
    fonts: &'a Fonts,
}

fn one_page(
    surface: &mut Surface<'_>,
    page: &Page,
    fonts: &Fonts,
    shared: &mut Vec<(Shared<[Item]>, Graphic)>,
) {
    for part in parts(page) {
        match part {
            Part::Loose(list) => {
                let mut sheet = Sheet { surface, height: page.height, fonts };
                for item in list.into_iter().flat_map(|(_, items)| items) {
                    sheet.item(item);
                }
            }
            Part::Group(g) => group(surface, page, g, fonts, shared),
        }
    }
}

fn group(
    surface: &mut Surface<'_>,
    page: &Page,
    g: &Group,
    fonts: &Fonts,
    shared: &mut Vec<(Shared<[Item]>, Graphic)>,
) {
    let known =
        shared.iter().find(|(items, _)| Shared::ptr_eq(items, &g.items)).map(|(_, graphic)| graphic.clone());
    let graphic = known.unwrap_or_else(|| {
        let mut builder = surface.stream_builder();
        let mut own = builder.surface();
        let mut sheet = Sheet { surface: &mut own, height: 0.0, fonts };
        for item in layers(g.items.iter()).into_iter().flat_map(|(_, items)| items) {
            sheet.item(item);
        }
        own.finish();
        let graphic = Graphic::new(builder.finish(), false);
        shared.push((Shared::clone(&g.items), graphic.clone()));
        graphic
    });
    let window = g.clip.and_then(|c| rect(c, page.height));
    if let Some(path) = &window {
        surface.push_clip_path(path, &FillRule::NonZero);
    }
    let (x, y) = (points(g.shift.x), points(page.height - g.shift.y));
    surface.push_transform(&Transform::from_row(g.scale_x as f32, 0.0, 0.0, g.scale_y as f32, x, y));
    surface.draw_graphic(graphic);
    surface.pop();
    if window.is_some() {
        surface.pop();
    }
}

fn rect(r: Rect, height: f64) -> Option<Path> {
    let mut pen = Pen::new(height);
    pen.start(Point::new(r.x0, r.y0));
    for p in [Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)] {
        pen.line(p);
    }
    pen.close();
    pen.finish()
}

/// Builds a path from drawing coordinates.
struct Pen {
    builder: PathBuilder,
    height: f64,
}

impl Pen {
    fn new(height: f64) -> Pen {
        Pen { builder: PathBuilder::new(), height }
    }

    fn at(&self, p: Point) -> (f32, f32) {
        (points(p.x), points(self.height - p.y))
    }

    fn start(&mut self, p: Point) {
        let (x, y) = self.at(p);
        self.builder.move_to(x, y);
    }

    fn line(&mut self, p: Point) {
        let (x, y) = self.at(p);
        self.builder.line_to(x, y);
    }

    fn arc(&mut self, arc: &Arc) {
        for [p, q, to] in arcs::cubics(arc, STRAY) {
            let ((x1, y1), (x2, y2), (x, y)) = (self.at(p), self.at(q), self.at(to));
            self.builder.cubic_to(x1, y1, x2, y2, x, y);
        }
    }

    fn pieces(&mut self, pieces: &[Segment]) {
        if let Some(first) = pieces.first() {
            self.start(first.start());
        }
        for piece in pieces {
            match piece {
                Segment::Line(l) => self.line(l.b),
                Segment::Arc(a) => self.arc(a),
            }
        }
    }

    fn lines(&mut self, lines: &[Line]) {
        for l in lines {
            self.start(l.a);
            self.line(l.b);
        }
    }

    fn close(&mut self) {
        self.builder.close();
    }

    fn finish(self) -> Option<Path> {
        self.builder.finish()
    }
}

impl Sheet<'_, '_> {
    fn item(&mut self, item: &Item) {
        let mut pen = Pen::new(self.height);
        let closed = match &item.shape {
            Shape::Line(l) => {
                pen.lines(&[*l]);
                false
            }
            Shape::Arc(a) => {
                pen.pieces(&[Segment::Arc(*a)]);
                false
            }
            Shape::Circle { centre, radius } => {
                pen.pieces(&[Segment::Arc(arcs::circle(*centre, *radius))]);
                true
            }
            Shape::Path(c) => {
                match c.as_circle() {
                    Some((centre, radius)) => pen.pieces(&[Segment::Arc(arcs::circle(centre, radius))]),
                    None => pen.pieces(c.segments()),
                }
                true
            }
            Shape::Chain(pieces) => {
                pen.pieces(pieces);
                false
            }
            Shape::Picture { at, picture } => return self.picture(*at, picture),
            Shape::Text(t) => return self.letters(t, item.fill.unwrap_or(Ink::BLACK)),
            Shape::Hatch { .. } => {
                pen.lines(&hatch::of(&item.shape));
                false
            }
        };
        if closed {
            pen.close();
        }
        let fill = item.fill.filter(|_| closed).map(paint);
        if fill.is_none() && item.stroke.is_none() {
            return;
        }
        if let Some(path) = pen.finish() {
            self.surface.set_fill(fill);
            self.surface.set_stroke(item.stroke.as_ref().map(line));
            self.surface.draw_path(&path);
        }
    }

    fn picture(&mut self, at: Rect, picture: &Greys) {
        let rgba = picture.pixels.iter().flat_map(|g| [*g, *g, *g, 255]).collect();
        let image = krilla::image::Image::from_rgba8(rgba, picture.width as u32, picture.height as u32);
        let Some(size) = krilla::geom::Size::from_wh(points(at.width()), points(at.height())) else { return };
        let (x, y) = (points(at.x0), points(self.height - at.y1));
        self.surface.push_transform(&Transform::from_translate(x, y));
        self.surface.draw_image(image, size);
        self.surface.pop();
    }

    fn letters(&mut self, t: &Text, ink: Ink) {
        let glyphs: Vec<KrillaGlyph> = text::glyphs(&t.text, t.weight)
            .iter()
            .map(|g| {
                let range = g.start..g.start + g.source.len_utf8();
                KrillaGlyph::new(GlyphId::new(u32::from(g.id)), g.advance as f32, 0.0, 0.0, 0.0, range, None)
            })
            .collect();
        if glyphs.is_empty() {
            return;
        }
        let o = text::origin(t);
        let (s, c) = angle::sin_cos_deg(t.angle);
        let (x, y) = (points(o.x), points(self.height - o.y));
        // counter-clockwise with y up is clockwise in a matrix whose y runs down
        let turn = Transform::from_row(c as f32, -s as f32, s as f32, c as f32, x, y);
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(paint(ink)));
        self.surface.push_transform(&turn);
        let start = krilla::geom::Point::from_xy(0.0, 0.0);
        self.surface.draw_glyphs(
            start,
            &glyphs,
            self.fonts.of(t.weight),
            &t.text,
            points(text::em(t.height)),
            false,
        );
        self.surface.pop();
    }
}

fn paint(ink: Ink) -> Fill {
    Fill { paint: luma::Color::new(ink.0).into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn line(s: &Stroke) -> krilla::paint::Stroke {
    let pattern = s.pattern();
    krilla::paint::Stroke {
        paint: luma::Color::new(s.ink.0).into(),
        width: points(s.width),
        dash: (!pattern.is_empty())
            .then(|| StrokeDash { array: pattern.iter().map(|v| points(*v)).collect(), offset: 0.0 }),
        ..krilla::paint::Stroke::default()
    }
}
