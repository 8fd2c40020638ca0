//! Hole patterns one hole at a time, with the heads in front and the nuts behind.
//!
//! What the file does not say of a head or a nut is taken from the standard's table where its kind is
//! said (`calc::fastener`); a kind that is not said is missing.

use super::super::shape::{point, unit_at};
use super::super::spelling;
use super::source::Sources;
use super::{Local, Seat, Span, rivets};
use crate::calc::fastener::{self, Room, Seen};
use crate::define::instrument::{Head as HeadSaid, HeadKind as Said, Holes, Make as MakeSaid, Pattern};
use crate::define::{Size, Xy};
use crate::diag::Where;
use crate::geom::{Contour, Point, Vec2};
use crate::panel::{Basis, Class, Detail, Fastening, Head, HeadKind, Make, Nut, SizeSource};

/// One hole of a pattern.
#[derive(Clone, Debug)]
pub(in crate::resolve) struct HoleAt {
    /// The hole itself; `None` where its diameter is missing.
    pub hole: Option<Local>,
    /// The head in front.
    pub head: Option<Local>,
    /// The nut behind.
    pub nut: Option<Local>,
    /// The rivets of the nutplate.
    pub rivets: Vec<HoleAt>,
}

impl HoleAt {
    /// The countersunk head, if there is one, sinks into what lies on the sheet: the sheet's hole is plain.
    pub fn sinks_elsewhere(&mut self) {
        if let Some(Local { detail: Detail::Hole { fastening: Some(f), .. }, .. }) = &mut self.hole {
            f.head = f.head.filter(|h| h.kind != HeadKind::Countersunk);
        }
    }
}

/// The holes of a pattern. `over` is how far what lies on the sheet there stands out (a bezel); `held`
/// says that a screw which names no nut is held by what it fixes.
pub(in crate::resolve) fn holes(
    def: &Holes,
    number: usize,
    sources: &Sources<'_>,
    over: f64,
    held: bool,
    missing: &mut Vec<(String, String)>,
) -> Vec<HoleAt> {
    let id = match &def.id {
        Some(id) => id.value.to_string(),
        None if number == 0 => "hole".to_string(),
        None => format!("hole-{}", number + 1),
    };
    let points = centres(&def.pattern);
    let free = def.fastener.as_ref().is_some_and(|f| f.value.as_ref() == "none");
    let name = def.fastener.as_ref().filter(|_| !free).map(|f| f.value.to_string());
    let standard = name.as_deref().and_then(fastener::find);
    let head = head(def.head.as_ref(), name.as_deref(), standard, &id, missing);
    let nut = nut(def, name.as_deref(), standard, &id, held, missing);
    if def.diameter.is_none() {
        missing.push((format!("hole {id}"), "its diameter".into()));
    }
    let fastening = name.clone().map(|name| Fastening {
        diameter: standard.map(|s| s.diameter),
        name,
        head: head.as_ref().map(|h| h.0),
        nut: nut.as_ref().map(|n| n.0),
        length: def.length.as_ref().map(Size::mm),
        nutplate: None,
    });
    let make = made(def.make.as_ref().map(|m| m.value));
    let washer = def.washer.as_ref().map(|w| (w.diameter.mm(), w.thickness.as_ref().map_or(0.0, Size::mm)));
    let many = points.len() > 1;
    let riveted = def.nut.as_ref().and_then(|n| n.rivets.as_ref());
    let riveted = riveted.and_then(|r| rivets::Riveted::of(r, &id, points.len(), missing));
    let one = |(k, at): (usize, &Point)| {
        let name = if many { format!("{id}-{}", k + 1) } else { id.clone() };
        // patterns hold at most 500 holes
        let plate = riveted.as_ref().and_then(|_| u32::try_from(number * 500 + k).ok());
        let fastening = fastening.clone().map(|f| Fastening { nutplate: plate, ..f });
        let hole = def.diameter.as_ref().map(|d| {
            let source = SizeSource { place: written(&def.pattern), ..sources.of(d) };
            drilled(&name, *at, d, source, fastening, free, make)
        });
        let head = head.as_ref().map(|(head, source)| {
            let (wide, thick) = washer.unwrap_or((0.0, 0.0));
            let stands = over + thick + stands(head);
            let span = Span::Range(-stands, 0.0, Seat::Front);
            round(format!("head-{name}"), Class::Head, *at, head.diameter.max(wide), span, source.clone())
        });
        let nut = nut.as_ref().map(|(nut, source)| {
            let span = match nut.height {
                Some(h) => Span::Range(0.0, h, Seat::Back),
                None => Span::Missing,
            };
            round(format!("nut-{name}"), Class::Nut, *at, nut.across, span, source.clone())
        });
        let rivets = riveted.as_ref().map_or(Vec::new(), |r| r.about(&name, *at, k, plate, sources));
        HoleAt { hole, head, nut, rivets }
    };
    points.iter().enumerate().map(one).collect()
}

/// How a hole is made; to the drawing when nothing is said.
pub(super) fn made(said: Option<MakeSaid>) -> Make {
    match said {
        Some(MakeSaid::FromPart) => Make::FromPart,
        _ => Make::Drawing,
    }
}

/// How far a head stands on what it lies on, mm.
pub(super) fn stands(head: &Head) -> f64 {
    match head.kind {
        HeadKind::Raised => head.height.unwrap_or(0.0),
        HeadKind::Countersunk => 0.0,
    }
}

/// A round part about a centre.
pub(super) fn round(
    name: String,
    class: Class,
    at: Point,
    diameter: f64,
    span: Span,
    source: SizeSource,
) -> Local {
    Local {
        name,
        class,
        contour: Contour::circle(at, diameter / 2.0),
        centre: at,
        span,
        off: Default::default(),
        written: None,
        source,
        detail: Detail::Plain,
    }
}

/// A hole with what goes through it.
pub(super) fn drilled(
    name: &str,
    at: Point,
    d: &Size,
    source: SizeSource,
    fastening: Option<Fastening>,
    free: bool,
    make: Make,
) -> Local {
    let mut hole = round(name.to_string(), Class::Hole, at, d.mm(), Span::Through, source);
    hole.off = super::Off::of(d);
    hole.written = spelling::of_size(d);
    hole.detail = Detail::Hole { diameter: Some(d.mm()), fastening, free, make };
    hole
}

fn source_of(sources: Option<SizeSource>, room: Option<&Room>) -> SizeSource {
    let words = match room.map(|r| r.seen) {
        Some(Seen::Read) => "standard table of fasteners",
        Some(Seen::Memory) => "standard table of fasteners, from memory",
        None => "stated in the file",
    };
    sources.unwrap_or(SizeSource { basis: Basis::Standard, words: words.into(), place: None })
}

pub(super) fn head(
    said: Option<&HeadSaid>,
    name: Option<&str>,
    standard: Option<&fastener::Size>,
    id: &str,
    missing: &mut Vec<(String, String)>,
) -> Option<(Head, SizeSource)> {
    let name = name?;
    let Some(said) = said else {
        missing.push((format!("head {id}"), format!("the head of the {name}")));
        return None;
    };
    let (kind, room) = match said.kind.value {
        Said::None => return None,
        Said::Raised => (HeadKind::Raised, standard.and_then(|s| s.pan.as_ref())),
        Said::Countersunk => (HeadKind::Countersunk, standard.and_then(|s| s.countersunk.as_ref())),
    };
    let Some(diameter) = said.diameter.as_ref().map(Size::mm).or(room.map(|r| r.across)) else {
        missing.push((format!("head {id}"), format!("the diameter of the head of the {name}")));
        return None;
    };
    let height = said.height.as_ref().map(Size::mm).or(room.map(|r| r.height));
    if height.is_none() {
        missing.push((format!("head {id}"), format!("the height of the head of the {name}")));
    }
    let used = if said.diameter.is_none() || said.height.is_none() { room } else { None };
    let angle = said.angle.as_ref().map(|a| a.value);
    Some((Head { kind, diameter, height, angle }, source_of(None, used)))
}

fn nut(
    def: &Holes,
    name: Option<&str>,
    standard: Option<&fastener::Size>,
    id: &str,
    held: bool,
    missing: &mut Vec<(String, String)>,
) -> Option<(Nut, SizeSource)> {
    let Some(said) = &def.nut else {
        if let (Some(name), false) = (name, held) {
            missing.push((format!("nut {id}"), format!("what holds the {name} behind")));
        }
        return None;
    };
    let room = standard.and_then(|s| s.nut.as_ref());
    let Some(across) = said.across.as_ref().map(Size::mm).or(room.map(|r| r.across)) else {
        missing.push((format!("nut {id}"), "the size of the nut".into()));
        return None;
    };
    let height = said.height.as_ref().map(Size::mm).or(room.map(|r| r.height));
    if height.is_none() {
        missing.push((format!("nut {id}"), "the height of the nut".into()));
    }
    let used = if said.across.is_none() || said.height.is_none() { room } else { None };
    Some((Nut { across, height, captive: said.captive }, source_of(None, used)))
}

/// Where the numbers of a pattern are written.
fn written(pattern: &Pattern) -> Option<Where> {
    match pattern {
        Pattern::At(points) => points.first().map(|p| p.place.clone()),
        Pattern::Square { pitch: size, .. }
        | Pattern::Rectangle { width: size, .. }
        | Pattern::Circle { diameter: size, .. } => Some(size.place.clone()),
        Pattern::Row { step, .. } => Some(step.place.clone()),
    }
}

/// The centres of a pattern, in its order.
fn centres(pattern: &Pattern) -> Vec<Point> {
    let about = |centre: &Option<Xy>| centre.as_ref().map_or(Point::ORIGIN, point);
    let corners = |centre: Point, w: f64, h: f64| {
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
            .map(|(x, y)| centre + Vec2::new(x * w / 2.0, y * h / 2.0))
            .to_vec()
    };
    match pattern {
        Pattern::At(points) => points.iter().map(point).collect(),
        Pattern::Square { pitch, centre } => corners(about(centre), pitch.mm(), pitch.mm()),
        Pattern::Rectangle { width, height, centre } => corners(about(centre), width.mm(), height.mm()),
        Pattern::Circle { diameter, count, start, centre } => {
            let first = start.as_ref().map_or(90.0, |a| a.value.degrees());
            (0..*count)
                .map(|k| {
                    about(centre)
                        + unit_at(first + 360.0 * f64::from(k) / f64::from(*count)) * (diameter.mm() / 2.0)
                })
                .collect()
        }
        Pattern::Row { from, step, count } => {
            let step = point(step).to_vec2();
            (0..*count).map(|k| point(from) + step * f64::from(k)).collect()
        }
    }
}
