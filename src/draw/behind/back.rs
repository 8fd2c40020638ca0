//! The view from behind: mirrored, as the mechanic sees it who lies on his back under the panel, or as it lies on the
//! bench. What stands nearer to him hides what is behind it.
//!
//! Labelled as mirrored, with the asymmetric mark of the templates at the side where it must be.

use super::cut::inside_window;
use super::page::{About, Drawn, cautions};
use super::things::{self, Role, Thing};
use crate::calc::clock::Seen;
use crate::check::Finding;
use crate::check::ports::{self, Movers};
use crate::draw::drawing::flow::{Cells, Piece};
use crate::draw::drawing::ordinate::Bands;
use crate::draw::drawing::paper::Scale;
use crate::draw::drawing::{DrawingError, DrawingOptions};
use crate::draw::front_view::patch;
use crate::draw::template::placer::{Label, Placer, Reach};
use crate::draw::template::shape::scaled;
use crate::draw::template::view::flag;
use crate::draw::{Dash, Drawing, Ink, Item, Layer, Shape, Stroke, Weight, text};
use crate::geom::{Contour, Point, Rect, Transform, Vec2};
use crate::panel::{Class, Detail, Panel, PartRef, SubjectKind};

/// What the view is, at its mark.
pub const WORDS: &str = "VIEW FROM BEHIND, mirrored: pilot's left is at your right";
/// Where the mark must be.
const NOTE: &str = "The asymmetric mark must be at your left.";
/// Room around the panel, mm of the panel.
const AROUND: f64 = 20.0;
/// Letter height of names, mm.
const NAME: f64 = 2.0;
/// Least width of the words at the mark, mm.
const LEAST: f64 = 120.0;

/// A port with its tag.
struct Tagged {
    tag: String,
    at: PartRef,
    centre: Point,
}

/// The view from behind.
///
/// # Errors
/// No standard scale brings it on to the page.
pub fn back(panel: &Panel, findings: &[Finding], opts: &DrawingOptions) -> Result<Drawing, DrawingError> {
    let about = About {
        panel,
        findings,
        opts,
        kind: "view from behind",
        part: "view from behind, mirrored".into(),
        name: "page".into(),
    };
    let mut all = things::things(panel);
    all.retain(|t| t.solid.bounds().high.d > 0.0 && t.role != Role::Front);
    let limit = things::beyond(panel);
    let far = |t: &Thing| t.role == Role::Obstacle && t.solid.bounds().low.d > limit;
    let mut beyond: Vec<String> = all.iter().filter(|t| far(t)).map(|t| panel.part_name(t.part)).collect();
    beyond.dedup();
    all.retain(|t| !far(t));
    // who looks from behind is nearest to what is deepest
    all.sort_by(|a, b| a.solid.bounds().high.d.total_cmp(&b.solid.bounds().high.d));
    let tags = tags(panel);
    let window = window(panel, &all);
    let blocks = blocks(&about, &tags, &beyond);
    let real = (window.width(), window.height());
    let pages = about
        .view(real, |scale, beside| (!beside).then(|| view(&about, &all, &tags, window, scale, &blocks)))?;
    Ok(about.drawing(pages))
}

/// Ports in the order of the panel.
fn tags(panel: &Panel) -> Vec<Tagged> {
    let mut out: Vec<Tagged> = Vec::new();
    for (k, s) in panel.subjects.iter().enumerate() {
        for (n, p) in s.parts.iter().enumerate().filter(|(_, p)| p.class == Class::Port) {
            let at = PartRef { subject: k as u32, part: n as u32 };
            out.push(Tagged { tag: format!("P{}", out.len() + 1), at, centre: p.centre });
        }
    }
    out
}

/// Sheets and what belongs to items; the airframe is cut off.
fn window(panel: &Panel, all: &[Thing]) -> Rect {
    let sheets = panel.sheets.iter().map(|s| s.outline.bounds());
    let own = all.iter().filter(|t| matches!(t.role, Role::Body | Role::Port));
    let bodies = own.map(|t| {
        let b = t.solid.bounds();
        Rect::new(b.low.x, b.low.y, b.high.x, b.high.y)
    });
    let all = sheets.chain(bodies).reduce(|a, b| a.union(b)).unwrap_or(Rect::new(0.0, 0.0, 100.0, 100.0));
    all.inflate(AROUND, AROUND)
}

fn view(
    about: &About<'_>,
    all: &[Thing],
    tags: &[Tagged],
    window: Rect,
    scale: Scale,
    blocks: &[Vec<Piece>],
) -> Drawn {
    let k = scale.factor();
    let size = (window.width() * k, window.height() * k);
    let mirror = Transform::place(Point::new(window.x1, -window.y0), 0.0, true);
    let small = |c: &Contour| scaled(&mirror.contour(c), k, Vec2::ZERO);
    let mut placer = Placer::new(Rect::new(0.0, 0.0, size.0, size.1));
    let panel = about.panel;
    let mut items = Vec::new();
    for s in &panel.sheets {
        let c = small(&s.outline);
        items.push(Item::stroked(Layer::Outline, Shape::contour(&c), Stroke::solid(0.5)).of(s.id.clone()));
        placer.line(c);
    }
    for s in panel.subjects.iter() {
        for p in s.parts.iter().filter(|p| matches!(p.class, Class::Cutout | Class::Hole | Class::OldOpening))
        {
            let stroke =
                if s.provision { Stroke::solid(0.13).dash(Dash::DoubleChain) } else { Stroke::solid(0.13) };
            items.push(
                Item::stroked(Layer::Outline, Shape::contour(&small(&p.contour)), stroke).of(s.id.clone()),
            );
        }
    }
    let mut labels = Vec::new();
    for t in all {
        let name = panel.part_name(t.part);
        let mut outlines = vec![t.solid.silhouette()];
        inside_window(&mut outlines, window);
        for c in outlines.iter().map(small) {
            items.extend(one(t, &c, &name));
            match t.role {
                Role::Nut => {}
                Role::Body => placer.face(c.clone()),
                _ => placer.line(c.clone()),
            }
            // an item is named once, at its deepest body
            if t.role != Role::Body || deepest(all, t) {
                labels.extend(label(about, t, &c));
            }
        }
    }
    let mut homeless = Vec::new();
    // names of airframe and lines come last: items have less choice
    labels.sort_by_key(|(rank, _)| *rank);
    let mut names = Vec::new();
    let ports = tags.iter().map(|t| {
        let at = mirror.point(t.centre);
        Label {
            lines: vec![(t.tag.clone(), NAME, Weight::Regular)],
            anchor: (at.to_vec2() * k).to_point(),
            reach: Reach::Round(0.2),
            inside: true,
            subject: panel.part_name(t.at),
        }
    });
    for l in ports.chain(labels.into_iter().map(|(_, l)| l)) {
        let short = l.short();
        match placer.place(l).or_else(|l| short.map_or(Err(l), |s| placer.place(s))) {
            Ok(found) => {
                names.extend(found.iter().filter_map(patch));
                names.extend(found);
            }
            Err(l) => homeless.push(l.lines.first().map_or(l.subject.clone(), |(w, ..)| w.clone())),
        }
    }
    items.extend(names);
    // the pilot's upper right corner of the main sheet lies at the upper left here
    let all = panel.sheets.iter().map(|s| s.outline.bounds()).reduce(|a, b| a.union(b));
    let corner = all.map_or(window, |b| b);
    let foot = mirror.point(Point::new(corner.x1, corner.y1)).to_vec2() * k;
    let foot = Point::new(foot.x, size.1 + 3.0);
    let room = (size.0 - foot.x - 24.0).max(LEAST);
    items.extend(flag(foot, 1.0, (WORDS, NOTE), room));
    let right = (foot.x + 24.0 + room.min(LEAST) - size.0).max(0.0);
    let bands = Bands { above: 17.0, right, ..Bands::default() };
    let mut blocks = blocks.to_vec();
    if let (false, Some(first)) = (homeless.is_empty(), blocks.first_mut()) {
        first.push(Piece::Strong(format!("No room on the view for the names of {}.", homeless.join(", "))));
    }
    Drawn { items, size, bands, blocks }
}

/// Whether a body is the deepest of its item; the things stand in the order of their depth.
fn deepest(all: &[Thing], t: &Thing) -> bool {
    let of = |o: &&Thing| o.role == Role::Body && o.part.subject == t.part.subject;
    all.iter().rfind(of).is_some_and(|last| last.part == t.part)
}

/// One thing; fill and line on one layer, so that what is nearer hides what is behind it.
fn one(t: &Thing, c: &Contour, name: &str) -> Vec<Item> {
    let shape = Shape::contour(c);
    let solid = |ink: u8, width: f64| {
        let mut i = Item::stroked(Layer::Outline, shape.clone(), Stroke::solid(width));
        i.fill = Some(Ink(ink));
        vec![i.of(name)]
    };
    let hatched = |spacing: f64, angle: f64, stroke: Stroke| {
        let hatch = Shape::Hatch { contours: vec![c.clone()], spacing, angle };
        vec![
            Item::stroked(Layer::Hatch, hatch, Stroke::solid(0.1).ink(Ink(170))).of(name),
            Item::stroked(Layer::Outline, shape.clone(), stroke).of(name),
        ]
    };
    match t.role {
        Role::Front => Vec::new(),
        Role::Body => solid(228, 0.5),
        Role::Port => solid(248, 0.25),
        Role::Nut => solid(255, 0.13),
        Role::Line => solid(255, 0.25),
        Role::Control(_) => hatched(1.6, 135.0, Stroke::solid(0.35)),
        Role::Obstacle => hatched(3.0, 60.0, Stroke::solid(0.25).dash(Dash::DoubleChain)),
    }
}

/// Name and depth of a thing.
fn label(about: &About<'_>, t: &Thing, c: &Contour) -> Option<(u8, Label)> {
    let panel = about.panel;
    let s = panel.subject(t.part);
    let b = t.solid.bounds();
    let number = |v: f64| about.print().number(v);
    let (rank, name, depth, weight) = match t.role {
        Role::Body => (0, s.id.clone(), format!("to {}", number(b.high.d)), Weight::Bold),
        Role::Control(_) => {
            (1, panel.part_name(t.part), format!("from {}", number(b.low.d.max(0.0))), Weight::Regular)
        }
        Role::Obstacle => (2, panel.part_name(t.part), format!("from {}", number(b.low.d)), Weight::Regular),
        Role::Line => (3, panel.part_name(t.part), carried(panel, t.part), Weight::Regular),
        Role::Front | Role::Port | Role::Nut => return None,
    };
    let mut lines = vec![(name.clone(), NAME, weight)];
    if !depth.is_empty() {
        lines.push((depth, 1.8, Weight::Regular));
    }
    let box_ = c.bounds();
    let wide = lines.iter().map(|(w, h, b)| text::width(w, *h, *b)).fold(0.0, f64::max) + 2.0;
    let tall = lines.len() as f64 * NAME * 1.6 + 1.0;
    Some((
        rank,
        Label {
            lines,
            anchor: box_.center(),
            reach: Reach::Box(Vec2::new(box_.width(), box_.height()) / 2.0),
            inside: wide < box_.width() && tall < box_.height(),
            subject: name,
        },
    ))
}

fn carried(panel: &Panel, r: PartRef) -> String {
    match &panel.part(r).detail {
        Detail::Line { carries: Some(c), .. } => c.clone(),
        _ => String::new(),
    }
}

fn blocks(about: &About<'_>, tags: &[Tagged], beyond: &[String]) -> Vec<Vec<Piece>> {
    let panel = about.panel;
    let print = about.print();
    let mut first = vec![Piece::Head("View from behind".into())];
    first.push(Piece::Strong(format!("{WORDS}.")));
    first.push(Piece::Words(format!(
        "What is deeper hides what stands before it. \"to\": depth of the rear face; \"from\": depth at which it begins; in \
         {}, from the front face of the main sheet. Controls at rest. Airframe and lines are cut off at the edge of the view.",
        if print.inch { "inches" } else { "millimetres" }
    )));
    first.push(Piece::Words(
        "Grey: bodies. P and a number: ports, in the table. Hatched: airframe (dash and two dots) and controls (unbroken)."
            .into(),
    ));
    if !beyond.is_empty() {
        first.push(Piece::Words(format!(
            "Left out, because it stands behind everything: {}.",
            beyond.join(", ")
        )));
    }
    let lacking = things::lacking(panel);
    if !lacking.is_empty() {
        let list: Vec<String> = lacking.into_iter().map(|(_, w)| w).collect();
        first.push(Piece::Strong(format!("NOT DRAWN, missing: {}.", list.join("; "))));
    }
    let mut blocks = vec![first];
    if !tags.is_empty() {
        let movers = Movers::of(panel);
        let rows = tags.iter().map(|t| {
            let part = panel.part(t.at);
            let carries = match &part.detail {
                Detail::Port { carries, .. } => carries.clone().unwrap_or_else(|| "not said".into()),
                _ => String::new(),
            };
            let deep = part.depth.map_or_else(|| "not known".into(), |(_, to)| print.number(to));
            let free = match ports::exit(panel, t.at) {
                Some(Ok(exit)) => {
                    let free = ports::free(panel, &movers, &exit, 0.0);
                    // the head of the column says whence it is seen
                    ports::said(&exit, &free.set, Seen::FromBehind).replace(", seen from behind", "")
                }
                Some(Err(missing)) => format!("not known: {}", missing.join("; ")),
                None => "not known: which way it leaves".into(),
            };
            Cells(format!("port {}", t.tag), vec![t.tag.clone(), panel.part_name(t.at), carries, deep, free])
        });
        let head = vec!["", "port", "carries", "to", "first turn, from behind"];
        blocks.push(vec![
            Piece::Head("Ports".into()),
            Piece::Table(vec![0.09, 0.23, 0.21, 0.14, 0.33], head, rows.collect()),
        ]);
    }
    let kinds = [(SubjectKind::Obstacle, "Airframe"), (SubjectKind::Line, "Lines")];
    for (kind, title) in kinds {
        let list: Vec<String> =
            panel.subjects.iter().filter(|s| s.kind == kind).map(|s| s.id.clone()).collect();
        if !list.is_empty() {
            blocks.push(vec![Piece::Head(title.into()), Piece::Words(list.join(", "))]);
        }
    }
    blocks.push(about.standing_block());
    blocks.push(cautions());
    blocks
}
