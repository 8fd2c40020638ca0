//! The map of depth: how deep it is behind each point of the front view, as bands between contour lines.
//!
//! The depth behind a point is that of the nearest obstacle there or of the depth map's area, whichever is less. Each
//! line is the edge of all that stands before its depth, by the solids' own outlines; nothing is sampled on a grid.
//! Controls, lines and other items do not count: they are no airframe.

use super::page::{About, Drawn, cautions};
use super::shadow::shadow;
use crate::check::Finding;
use crate::draw::drawing::flow::{Cells, Piece};
use crate::draw::drawing::ordinate::Bands;
use crate::draw::drawing::paper::Scale;
use crate::draw::drawing::{DrawingError, DrawingOptions};
use crate::draw::front_view::patch;
use crate::draw::hatch;
use crate::draw::template::placer::{Label, Placer, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::{Anchor, Drawing, Ink, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::overlay::Area;
use crate::geom::region::{Bound, polygon};
use crate::geom::{Contour, Line, Point, Rect, Vec2, span};
use crate::panel::{Class, Detail, Panel, SubjectKind};

/// Room around the panel, mm of the panel.
const AROUND: f64 = 6.0;
/// Most bands between contour lines.
const MOST: usize = 9;
/// Steps that are tried, finest first, mm.
const STEPS: [f64; 6] = [10.0, 20.0, 25.0, 50.0, 100.0, 200.0];
/// The same for a panel in inches.
const INCH_STEPS: [f64; 6] = [12.7, 25.4, 50.8, 76.2, 127.0, 254.0];
/// A piece of a band smaller than this is not labelled, mm2 on paper.
const LABELLED: f64 = 60.0;
/// Chords of arcs, mm.
const CHORD: f64 = 0.01;

/// One band: between two depths, mm; the last is deeper than its first.
struct Band {
    from: f64,
    to: Option<f64>,
    contours: Vec<Contour>,
}

/// The map.
struct Map {
    step: f64,
    bands: Vec<Band>,
    unknown: Vec<Contour>,
}

/// The map of depth over the front view.
///
/// # Errors
/// No standard scale brings it on to the page.
pub fn depth_map(
    panel: &Panel,
    findings: &[Finding],
    opts: &DrawingOptions,
) -> Result<Drawing, DrawingError> {
    let about = About {
        panel,
        findings,
        opts,
        kind: "map of depth",
        part: "depth behind the panel, seen from the seat".into(),
        name: "page".into(),
    };
    let map = map(panel);
    let sheets = panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b));
    let window = sheets.unwrap_or(Rect::new(0.0, 0.0, 100.0, 100.0)).inflate(AROUND, AROUND);
    let real = (window.width(), window.height());
    let pages = about.view(real, |scale, beside| (!beside).then(|| view(&about, &map, window, scale)))?;
    Ok(about.drawing(pages))
}

fn area(contours: &[&Contour]) -> Area {
    Area::of(&contours.iter().map(|c| polygon(c, Bound::Within, CHORD)).collect::<Vec<_>>())
}

/// Builds the bands.
fn map(panel: &Panel) -> Map {
    let sheet = area(&panel.sheets.iter().map(|s| &s.outline).collect::<Vec<_>>());
    let known: Vec<(f64, Area)> =
        panel.depth.areas.iter().filter_map(|a| Some((a.available?, area(&[&a.contour])))).collect();
    let all = area(&panel.depth.areas.iter().map(|a| &a.contour).collect::<Vec<_>>());
    let rest = sheet.without(&all);
    let mut unknown = area(
        &panel.depth.areas.iter().filter(|a| a.available.is_none()).map(|a| &a.contour).collect::<Vec<_>>(),
    );
    if panel.depth.elsewhere.is_none() {
        unknown = unknown.with(&rest);
    }
    let before = |limit: f64| {
        let mut sum = Area::of(&obstacles(panel).flat_map(|s| shadow(s, limit)).collect::<Vec<_>>());
        for (_, a) in known.iter().filter(|(d, _)| *d < limit) {
            sum = sum.with(a);
        }
        if panel.depth.elsewhere.is_some_and(|d| d < limit) {
            sum = sum.with(&rest);
        }
        sum.common(&sheet)
    };
    // where anything begins, and where what slants ends
    let mut depths: Vec<f64> = known.iter().map(|(d, _)| *d).chain(panel.depth.elsewhere).collect();
    for s in obstacles(panel) {
        let b = s.bounds();
        depths.push(b.low.d.max(0.0));
    }
    let (low, high) = depths.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), d| (a.min(*d), b.max(*d)));
    let steps = if panel.unit.is_inch() { INCH_STEPS } else { STEPS };
    let count = |step: f64| ((high - low.min(high)) / step).ceil() as usize + 1;
    let step = steps.into_iter().find(|s| count(*s) <= MOST).unwrap_or(steps[5]);
    let mut bands = Vec::new();
    if low.is_finite() {
        let first = (low / step).floor();
        let (mut done, mut from) = (Area::default(), first * step);
        for k in 1..=count(step) + 1 {
            let to = (first + k as f64) * step;
            let sum = before(to);
            let contours = sum.without(&done).contours(0.5);
            if !contours.is_empty() {
                bands.push(Band { from, to: Some(to), contours });
            }
            (done, from) = (sum, to);
            if from > high {
                break;
            }
        }
        let rest = sheet.without(&done).without(&unknown).contours(0.5);
        if !rest.is_empty() {
            bands.push(Band { from, to: None, contours: rest });
        }
    }
    Map { step, bands, unknown: unknown.common(&sheet).contours(0.5) }
}

fn obstacles(panel: &Panel) -> impl Iterator<Item = &crate::solid::Solid> {
    panel.subjects.iter().flat_map(|s| &s.parts).filter_map(|p| match &p.detail {
        Detail::Obstacle { solid, .. } => Some(solid.as_ref()),
        _ => None,
    })
}

fn view(about: &About<'_>, map: &Map, window: Rect, scale: Scale) -> Drawn {
    let k = scale.factor();
    let shift = -window.origin().to_vec2() * k;
    let small = |c: &Contour| scaled(c, k, shift);
    let size = (window.width() * k, window.height() * k);
    let mut placer = Placer::new(Rect::new(0.0, 0.0, size.0, size.1));
    let panel = about.panel;
    let print = about.print();
    let (mut items, mut labels) = (Vec::new(), Vec::new());
    let many = map.bands.len().max(2) as f64 - 1.0;
    for (n, band) in map.bands.iter().enumerate() {
        // the shallowest is the darkest
        let ink = (168.0 + 87.0 * n as f64 / many).round() as u8;
        let name = band_words(band, |v| print.number(v));
        let list: Vec<Contour> = band.contours.iter().map(small).collect();
        for c in &list {
            // gaps are painted by the bands that lie in them, or by the paper
            let mut fill = Item::filled(Layer::Hatch, Shape::contour(c), Ink(ink));
            if !c.is_ccw() {
                fill.fill = Some(Ink::WHITE);
            }
            items.push((c.area(), fill.of(name.clone())));
        }
        for c in &list {
            let line = Item::stroked(Layer::Outline, Shape::contour(c), Stroke::solid(0.18));
            items.push((0.0, line.of(name.clone())));
        }
        labels.extend(within(&name, &list, 1.6, Weight::Regular));
    }
    // larger areas first, so that a gap never covers what lies in it
    items.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut items: Vec<Item> = items.into_iter().map(|(_, i)| i).collect();
    let unknown: Vec<Contour> = map.unknown.iter().map(small).collect();
    if !unknown.is_empty() {
        let hatch = |angle: f64| Shape::Hatch { contours: unknown.clone(), spacing: 2.5, angle };
        for angle in [30.0, 150.0] {
            items.push(
                Item::stroked(Layer::Existing, hatch(angle), Stroke::solid(0.13).ink(Ink(90)))
                    .of("not probed"),
            );
        }
        labels.extend(within("not probed", &unknown, 2.0, Weight::Bold));
    }
    for s in &panel.sheets {
        let shape = Shape::contour(&small(&s.outline));
        items.push(Item::stroked(Layer::Outline, shape, Stroke::solid(0.5)).of(s.id.clone()));
    }
    let mut names = Vec::new();
    let mut own = Vec::new();
    for s in panel.subjects.iter().filter(|s| matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit)) {
        for p in s.parts.iter().filter(|p| matches!(p.class, Class::Cutout | Class::Body)) {
            let width = if p.class == Class::Body { 0.25 } else { 0.13 };
            let shape = Shape::contour(&small(&p.contour));
            items.push(Item::stroked(Layer::Mark, shape, Stroke::solid(width)).of(s.id.clone()));
        }
        let deep = s.parts.iter().filter(|p| matches!(p.class, Class::Body | Class::Port));
        let needs = deep.filter_map(|p| p.depth).map(|d| d.1).reduce(f64::max);
        let body = s.parts.iter().find(|p| matches!(p.class, Class::Body)).or(s.parts.first());
        if let Some(p) = body {
            let mut l = label(&s.id, &small(&p.contour), 2.0, Weight::Bold);
            if let Some(d) = needs {
                l.lines.push((format!("needs {}", print.number(d)), 1.6, Weight::Regular));
            }
            own.push(l);
        }
    }
    let mut homeless = Vec::new();
    for l in own.into_iter().chain(labels) {
        let short = l.short();
        match placer.place(l).or_else(|l| short.map_or(Err(l), |s| placer.place(s))) {
            Ok(found) => {
                names.extend(found.iter().filter_map(patch));
                names.extend(found);
            }
            Err(l) => homeless.push(l.subject),
        }
    }
    items.extend(names);
    let head = "DEPTH BEHIND THE PANEL, seen from the seat";
    let at = Point::new(0.0, size.1 + 3.0);
    items.push(Item::text(Layer::Text, Text::new(at, 3.5, Anchor::LEFT, head).bold()));
    let wide = text::width(head, 3.5, Weight::Bold);
    let bands = Bands { above: 9.0, right: (wide - size.0).max(0.0), ..Bands::default() };
    homeless.sort();
    homeless.dedup();
    Drawn { items, size, bands, blocks: blocks(about, map, &homeless) }
}

fn band_words(band: &Band, number: impl Fn(f64) -> String) -> String {
    match band.to {
        Some(to) => format!("{}-{}", number(band.from), number(to)),
        None => format!("over {}", number(band.from)),
    }
}

/// A label for each piece of an area, in the middle of the longest level line that lies in it: never in a gap.
fn within(words: &str, list: &[Contour], height: f64, weight: Weight) -> Vec<Label> {
    let gaps: Vec<&Contour> = list.iter().filter(|c| !c.is_ccw()).collect();
    let piece = |c: &Contour| {
        let b = c.bounds();
        let whole: Vec<Contour> = std::iter::once(c).chain(gaps.iter().copied()).cloned().collect();
        let spacing = (b.height() / 9.0).clamp(0.2, 4.0);
        let wide = text::width(words, height, weight) + 2.0;
        let lines = hatch::lines(&whole, spacing, 0.0);
        let own: Vec<&Line> = lines.iter().filter(|l| c.holds(l.a.midpoint(l.b))).collect();
        let longest = own.iter().map(|l| span(l.a, l.b)).fold(0.0, f64::max);
        // of those that are long enough the one nearest to the middle
        let off = |l: &Line| span(l.a.midpoint(l.b), b.center());
        let best = own
            .into_iter()
            .filter(|l| span(l.a, l.b) >= longest.min(1.5 * wide))
            .min_by(|a, b| off(a).total_cmp(&off(b)))?;
        Some(Label {
            lines: vec![(words.to_owned(), height, weight)],
            anchor: best.a.midpoint(best.b),
            reach: Reach::Round(0.3),
            inside: wide < span(best.a, best.b),
            subject: words.to_owned(),
        })
    };
    list.iter().filter(|c| c.is_ccw() && c.area() > LABELLED).filter_map(piece).collect()
}

fn label(words: &str, c: &Contour, height: f64, weight: Weight) -> Label {
    let b = c.bounds();
    let inside = c.holds(b.center());
    let wide = text::width(words, height, weight) + 2.0;
    let (anchor, reach) = match (inside, c.segments().first()) {
        (false, Some(s)) => (s.start(), Reach::Round(0.5)),
        _ => (b.center(), Reach::Box(Vec2::new(b.width(), b.height()) / 2.0)),
    };
    Label {
        lines: vec![(words.to_owned(), height, weight)],
        anchor,
        reach,
        inside: inside && wide < b.width() && 3.0 * height < b.height(),
        subject: words.to_owned(),
    }
}

fn blocks(about: &About<'_>, map: &Map, homeless: &[String]) -> Vec<Vec<Piece>> {
    let panel = about.panel;
    let print = about.print();
    let mut first = vec![Piece::Head("Map of depth".into())];
    first.push(Piece::Words(format!(
        "Depth behind each point, in {}, from the front face of the main sheet: that of the nearest obstacle or of the \
         depth map's area, whichever is less. Contour lines every {}. The darker, the shallower. Controls, lines and \
         other items do not count.",
        if print.inch { "inches" } else { "millimetres" },
        print.number(map.step)
    )));
    if map.bands.is_empty() {
        first.push(Piece::Strong("NO DEPTH IS KNOWN anywhere behind this panel.".into()));
    }
    if !map.unknown.is_empty() {
        first.push(Piece::Strong(
            "Crossed hatching: NOT PROBED. Whatever stands there is not known; lines within it tell of what is known to stand there."
                .into(),
        ));
    }
    first.push(Piece::Words("\"needs\": the deepest of an item's bodies and ports.".into()));
    if !homeless.is_empty() {
        first.push(Piece::Words(format!("No room on the view for: {}.", homeless.join(", "))));
    }
    let mut rows: Vec<(f64, Cells)> = Vec::new();
    for a in &panel.depth.areas {
        let deep = a.available.map_or_else(|| "not probed".into(), |d| print.number(d));
        let cells = vec![a.id.clone(), "area of the depth map".into(), deep];
        rows.push((a.available.unwrap_or(f64::INFINITY), Cells(format!("area {}", a.id), cells)));
    }
    let elsewhere = panel.depth.elsewhere.map_or_else(|| "not probed".into(), |d| print.number(d));
    let cells = vec!["elsewhere".into(), "behind the sheet".into(), elsewhere];
    rows.push((panel.depth.elsewhere.unwrap_or(f64::INFINITY), Cells("area elsewhere".into(), cells)));
    for s in panel.subjects.iter().filter(|s| s.kind == SubjectKind::Obstacle) {
        for p in &s.parts {
            let Detail::Obstacle { solid, kind, .. } = &p.detail else { continue };
            let b = solid.bounds();
            let name = if p.name.is_empty() { s.id.clone() } else { format!("{}.{}", s.id, p.name) };
            let deep = if b.high.d <= 0.0 { "in front".into() } else { print.number(b.low.d.max(0.0)) };
            rows.push((b.low.d, Cells(format!("obstacle {name}"), vec![name, kind.clone(), deep])));
        }
    }
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    let rows = rows.into_iter().map(|(_, r)| r).collect();
    let table = vec![
        Piece::Head("What bounds the depth, nearest first".into()),
        Piece::Table(vec![0.45, 0.33, 0.22], vec!["", "what", "from"], rows),
    ];
    vec![first, table, about.standing_block(), cautions()]
}
