//! Openings, holes, faces, bodies and front parts of a definition.

use super::super::shape::{self, Flat, Off};
use super::super::spelling;
use super::source::Sources;
use super::{HoleAt, Local, Seat, Span, holes, mounting};
use crate::define::Word;
use crate::define::instrument::{Instrument, Make as MakeSaid};
use crate::define::shape::{Corners, Form, Shape};
use crate::define::{Size, Xy};
use crate::diag::Problems;
use crate::geom::{Contour, Point, contains};
use crate::panel::{Class, Detail, Make, Mounting, SizeSource};

/// Collects the parts of one definition.
pub(super) struct Builder<'a> {
    pub def: &'a Instrument,
    pub sources: &'a Sources<'a>,
    pub problems: &'a mut Problems,
    pub parts: Vec<Local>,
    pub missing: Vec<(String, String)>,
    pub error: f64,
}

impl Builder<'_> {
    /// A shape of the file, or nothing where it was refused.
    pub fn flat(&mut self, shape: &Shape) -> Option<Flat> {
        let flat = shape::flat(shape, self.def.unit, self.problems)?;
        self.error = self.error.max(flat.error);
        Some(flat)
    }

    /// The weakest source of a shape's sizes.
    pub fn source(&self, shape: &Shape) -> SizeSource {
        let sizes = sizes(shape);
        if sizes.is_empty() { self.sources.named(shape.source.as_ref()) } else { self.sources.weakest(sizes) }
    }

    pub fn miss(&mut self, part: impl Into<String>, what: impl Into<String>) {
        self.missing.push((part.into(), what.into()));
    }

    fn push(&mut self, part: Local) {
        self.parts.push(part);
    }

    pub fn openings(&mut self) {
        let many = self.def.openings.len() > 1;
        for o in &self.def.openings {
            let Some(flat) = self.flat(&o.shape) else { continue };
            let contour =
                shape::placed(&flat.contour, o.at.as_ref(), o.turn.as_ref().map(|t| t.value.degrees()));
            let make = match o.make.as_ref().map(|m| m.value) {
                Some(MakeSaid::FromPart) => Make::FromPart,
                _ => Make::Drawing,
            };
            let centre = centre_of(&contour, &flat, o.at.as_ref());
            let source = self.source(&o.shape);
            self.push(Local {
                name: if many { format!("cutout-{}", o.id.value) } else { "cutout".into() },
                class: Class::Cutout,
                contour,
                centre,
                span: Span::Through,
                off: flat.off,
                written: spelling::of_shape(&o.shape, self.def.unit, &flat.contour),
                source,
                detail: Detail::Cutout { make },
            });
        }
        if let Some(case) = &self.def.case
            && let Some(flat) = self.flat(case)
        {
            let source = self.source(case);
            self.push(Local {
                name: "case".into(),
                class: Class::Case,
                centre: flat.contour.bounds().center(),
                contour: flat.contour,
                span: Span::Through,
                off: flat.off,
                written: None,
                source,
                detail: Detail::Plain,
            });
        }
    }

    pub fn all_holes(&mut self) {
        let over = self.def.bezel.as_ref().and_then(|b| b.thickness.as_ref()).map_or(0.0, Size::mm);
        // from behind, the screw ends in the instrument's own flange
        let held = mounting(self.def) == Some(Mounting::Rear);
        let mut found = Vec::new();
        for (k, def) in self.def.holes.iter().enumerate() {
            found.extend(holes(def, k, self.sources, over, held, &mut self.missing));
        }
        if let Some(bezel) = self.bezel_over_screws() {
            let under = |h: &HoleAt| h.hole.as_ref().is_some_and(|h| contains(&bezel, &h.contour));
            found.iter_mut().filter(|h| under(h)).for_each(HoleAt::sinks_elsewhere);
        }
        let (mut heads, mut nuts) = (Vec::new(), Vec::new());
        for mut h in found {
            let rivets = std::mem::take(&mut h.rivets);
            for h in std::iter::once(h).chain(rivets) {
                self.parts.extend(h.hole);
                heads.extend(h.head);
                nuts.extend(h.nut);
            }
        }
        self.parts.extend(heads);
        self.parts.extend(nuts);
    }

    /// The bezel, where screws go through it: a countersunk head sinks into the bezel then, not into the
    /// sheet. What is put in from behind is held by screws that lie on the sheet itself.
    fn bezel_over_screws(&self) -> Option<Contour> {
        let cover = self.def.bezel.as_ref().filter(|_| mounting(self.def) != Some(Mounting::Rear))?;
        // what is wrong with its shape is told where it becomes a part
        let flat = shape::flat(&cover.shape, self.def.unit, &mut Problems::new())?;
        Some(shape::placed(&flat.contour, cover.at.as_ref(), None))
    }

    pub fn covers(&mut self) {
        let def = self.def;
        for (cover, class) in [(&def.bezel, Class::Bezel), (&def.flange, Class::Flange)] {
            let Some(cover) = cover else { continue };
            let Some(flat) = self.flat(&cover.shape) else { continue };
            let contour = shape::placed(&flat.contour, cover.at.as_ref(), None);
            let name = if class == Class::Bezel { "bezel" } else { "flange" };
            let thick = cover.thickness.as_ref().map_or(0.0, Size::mm);
            if cover.thickness.is_none() {
                self.miss(name, "its thickness");
            }
            let span = if class == Class::Bezel {
                Span::Range(-thick, 0.0, Seat::Front)
            } else {
                Span::Range(0.0, thick, Seat::Back)
            };
            let source = self.source(&cover.shape);
            let centre = centre_of(&contour, &flat, cover.at.as_ref());
            self.push(Local {
                name: name.into(),
                class,
                contour,
                centre,
                span,
                off: flat.off,
                written: spelling::of_shape(&cover.shape, self.def.unit, &flat.contour),
                source,
                detail: Detail::Plain,
            });
        }
    }

    pub fn bodies(&mut self) {
        let many = self.def.bodies.len() > 1;
        for body in &self.def.bodies {
            let Some(flat) = self.flat(&body.shape) else { continue };
            let contour =
                shape::placed(&flat.contour, body.at.as_ref(), body.turn.as_ref().map(|t| t.value.degrees()));
            let name = if many { format!("body-{}", body.id.value) } else { "body".to_string() };
            // a body whose beginning is not said begins at the sheet: the larger solid
            let from = body.from.as_ref().map_or(0.0, Size::mm);
            let span = match &body.to {
                Some(to) => Span::Range(from, to.mm(), Seat::Instrument),
                None => {
                    self.miss(&name, "the depth at which it ends");
                    Span::Missing
                }
            };
            let sizes = sizes(&body.shape).into_iter().chain(&body.to).chain(&body.from);
            let source = self.sources.weakest(sizes);
            let centre = centre_of(&contour, &flat, body.at.as_ref());
            self.push(Local {
                name,
                class: Class::Body,
                contour,
                centre,
                span,
                off: flat.off,
                written: None,
                source,
                detail: Detail::Plain,
            });
        }
    }

    pub fn front_parts(&mut self) {
        for f in &self.def.front {
            let Some(flat) = self.flat(&f.shape) else { continue };
            let at = f.at.as_ref();
            let name = format!("front-{}", f.id.value);
            let span = match &f.out {
                Some(out) => Span::Range(-out.mm(), 0.0, Seat::Front),
                None => {
                    self.miss(&name, "how far it stands out");
                    Span::Missing
                }
            };
            let contour = shape::placed(&flat.contour, at, None);
            let centre = centre_of(&contour, &flat, at);
            let source = self.source(&f.shape);
            let hand_room = f.hand_room.as_ref().map(Size::mm);
            let detail = Detail::Front { kind: f.kind.value.word().into(), hand_room };
            if let Some(room) = hand_room.filter(|r| *r > 0.0) {
                let contour = shape::placed(&flat.grown(room), at, None);
                self.push(Local {
                    name: format!("hand-{}", f.id.value),
                    class: Class::Hand,
                    contour,
                    centre,
                    span,
                    off: flat.off,
                    written: None,
                    source: source.clone(),
                    detail: Detail::Plain,
                });
            }
            self.push(Local {
                name,
                class: Class::Front,
                contour,
                centre,
                span,
                off: flat.off,
                written: None,
                source,
                detail,
            });
        }
    }

    /// A round part of a given diameter.
    pub fn round(at: Point, diameter: f64) -> Contour {
        Contour::circle(at, diameter / 2.0)
    }
}

/// Dimensions are given from a shape's own origin, except for free outlines: there from the middle of
/// their box.
fn centre_of(contour: &Contour, flat: &Flat, at: Option<&Xy>) -> Point {
    let b = flat.contour.bounds();
    let symmetric = (b.x0 + b.x1).abs() < 1e-9 && (b.y0 + b.y1).abs() < 1e-9;
    if symmetric { at.map_or(Point::ORIGIN, shape::point) } else { contour.bounds().center() }
}

/// All sizes of a shape.
pub(super) fn sizes(shape: &Shape) -> Vec<&Size> {
    match &shape.form {
        Form::Circle(d) => vec![d],
        Form::Rectangle { width, height, corners } => {
            let mut all = vec![width, height];
            match corners {
                Corners::Sharp => {}
                Corners::Round(s) | Corners::Clipped(s) => all.push(s),
                Corners::EachRound(list) | Corners::EachClipped(list) => all.extend(list),
            }
            all
        }
        Form::DHole { diameter, flat, .. } => vec![diameter, flat],
        Form::Slot { length, width } => vec![length, width],
        Form::Path(_) => Vec::new(),
    }
}

/// The larger of two offs, for parts that several sizes make.
pub(super) fn none() -> Off {
    Off::default()
}
