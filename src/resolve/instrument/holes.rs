//! Hole patterns one hole at a time, with the heads in front and the nuts behind.
//!
//! What the file does not say of a head or a nut is taken from the standard's table where its kind is
//! said (`calc::fastener`); a kind that is not said is missing.

use super::super::shape::{point, unit_at};
use super::super::spelling;
use super::source::Sources;
use super::{Local, Seat, Span};
use crate::calc::fastener::{self, Room, Seen};
use crate::define::instrument::{HeadKind as Said, Holes, Make as MakeSaid, Pattern};
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
    let head = head(def, name.as_deref(), standard, &id, missing);
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
    });
    let make = match def.make.as_ref().map(|m| m.value) {
        Some(MakeSaid::FromPart) => Make::FromPart,
        _ => Make::Drawing,
    };
    let washer = def.washer.as_ref().map(|w| (w.diameter.mm(), w.thickness.as_ref().map_or(0.0, Size::mm)));
    let many = points.len() > 1;
    let one = |(k, at): (usize, &Point)| {
        let name = if many { format!("{id}-{}", k + 1) } else { id.clone() };
        let round = |class, d: f64, span, source, detail| Local {
            name: match class {
                Class::Head => format!("head-{name}"),
                Class::Nut => format!("nut-{name}"),
                _ => name.clone(),
            },
            class,
            contour: Contour::circle(*at, d / 2.0),
            centre: *at,
            span,
            off: Default::default(),
            written: None,
            source,
            detail,
        };
        let hole = def.diameter.as_ref().map(|d| {
            let detail = Detail::Hole { diameter: Some(d.mm()), fastening: fastening.clone(), free, make };
            let source = SizeSource { place: written(&def.pattern), ..sources.of(d) };
            let mut hole = round(Class::Hole, d.mm(), Span::Through, source, detail);
            hole.off = super::Off::of(d);
            hole.written = spelling::of_size(d);
            hole
        });
        let head = head.as_ref().map(|(head, source)| {
            let (wide, thick) = washer.unwrap_or((0.0, 0.0));
            let stands = match head.kind {
                HeadKind::Raised => head.height.unwrap_or(0.0),
                HeadKind::Countersunk => 0.0,
            };
            let span = Span::Range(-(over + thick + stands), 0.0, Seat::Front);
            round(Class::Head, head.diameter.max(wide), span, source.clone(), Detail::Plain)
        });
        let nut = nut.as_ref().map(|(nut, source)| {
            let span = match nut.height {
                Some(h) => Span::Range(0.0, h, Seat::Back),
                None => Span::Missing,
            };
            round(Class::Nut, nut.across, span, source.clone(), Detail::Plain)
        });
        HoleAt { hole, head, nut }
    };
    points.iter().enumerate().map(one).collect()
}

fn source_of(sources: Option<SizeSource>, room: Option<&Room>) -> SizeSource {
    let words = match room.map(|r| r.seen) {
        Some(Seen::Read) => "standard table of fasteners",
        Some(Seen::Memory) => "standard table of fasteners, from memory",
        None => "stated in the file",
    };
    sources.unwrap_or(SizeSource { basis: Basis::Standard, words: words.into(), place: None })
}

fn head(
    def: &Holes,
    name: Option<&str>,
    standard: Option<&fastener::Size>,
    id: &str,
    missing: &mut Vec<(String, String)>,
) -> Option<(Head, SizeSource)> {
    let name = name?;
    let Some(said) = &def.head else {
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
    Some((Head { kind, diameter, height }, source_of(None, used)))
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
    if said.rivets.is_some() {
        missing.push((
            format!("hole {id} rivets"),
            "the nutplate's rivet holes: list them as a pattern of holes of their own, without a fastener, and take \"rivets\" out"
                .into(),
        ));
    }
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
    Some((Nut { across, height }, source_of(None, used)))
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
