//! The true-size part of a template: contours, marks and labels on the paper of one sheet.

use super::holes::Holes;
use super::placer::{Label, Placer, Reach};
use super::plan::{Fate, Opening, Plan};
use super::view::View;
use super::words::{self, mm};
use super::{Face, Purpose, TemplateError, kerf, trial};
use crate::draw::{Anchor, Dash, Ink, Item, Layer, Shape, Stroke, Text, Weight, text};
use crate::geom::{Contour, Point, Rect, SLACK, Vec2, length};
use crate::panel::{Class, Detail, Panel, SubjectKind};
use std::collections::BTreeMap;

/// Line of what is cut.
pub(super) const CUT: f64 = 0.25;
/// Arm of a centre mark beyond the middle, mm.
const ARM: f64 = 2.5;

/// What was drawn, and what found no room.
pub(super) struct Content {
    /// Items, lower left corner of the content at (0, 0).
    pub items: Vec<Item>,
    /// Labels without a place: words for the strip.
    pub unplaced: Vec<String>,
}

/// What the content is made from.
pub(super) struct Subject<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Index of the sheet.
    pub sheet: usize,
    /// What is cut.
    pub plan: &'a Plan,
    /// Which face.
    pub view: &'a View,
    /// Keys of round openings.
    pub holes: &'a Holes,
    /// Half the kerf if the file compensates.
    pub offset: Option<f64>,
    /// What for.
    pub purpose: Purpose,
}

/// Draws the content; `seams` are boxes that labels keep off (register marks).
pub(super) fn content(s: &Subject<'_>, seams: &[Rect]) -> Result<Content, TemplateError> {
    let mut items = lines(s)?;
    let marks = s.view.marks();
    let area = Rect::new(0.5, 0.5, s.view.width - 0.5, s.view.height - 0.5);
    let mut placer = Placer::new(area);
    for r in seams {
        placer.block(*r);
    }
    placer.block_items(&marks);
    for i in &items {
        match (&i.shape, i.layer) {
            (_, Layer::Mark | Layer::Engrave) | (Shape::Text(_), _) => {
                placer.block_items(std::slice::from_ref(i));
            }
            (Shape::Path(c), _) => placer.line(c.clone()),
            (Shape::Circle { centre, radius }, _) => placer.line(Contour::circle(*centre, *radius)),
            _ => {}
        }
    }
    items.extend(marks);
    let mut unplaced = Vec::new();
    for label in labels(s) {
        let short = label.short();
        match placer.place(label).or_else(|long| short.map_or(Err(long), |s| placer.place(s))) {
            Ok(placed) => items.extend(placed),
            Err(l) => {
                let words: Vec<&str> = l.lines.iter().map(|(w, ..)| w.as_str()).collect();
                let p = s.view.way.point(Point::ORIGIN);
                let x = if s.view.face == Face::Back { p.x - l.anchor.x } else { l.anchor.x - p.x };
                unplaced.push(format!("{} at x {} y {}", words.join(" "), mm(x), mm(l.anchor.y - p.y)));
            }
        }
    }
    Ok(Content { items, unplaced })
}

/// Contours, marks and lettering, none of the labels.
pub(super) fn lines(s: &Subject<'_>) -> Result<Vec<Item>, TemplateError> {
    let mut items = Vec::new();
    let thin = Stroke::solid(0.18);
    let way = &s.view.way;
    if !s.plan.cut_outline {
        let shape = Shape::contour(&way.contour(&s.plan.outline));
        items.push(Item::stroked(Layer::Existing, shape, thin.dash(Dash::Dashed)));
    }
    for (name, contour, outside) in &s.plan.contours {
        let path = kerf::path(name, contour, *outside, s.offset)?;
        let shape = Shape::contour(&way.contour(&path));
        let layer = if s.purpose == Purpose::Copy { Layer::Outline } else { Layer::Cut };
        items.push(Item::stroked(layer, shape, Stroke::solid(CUT)).of(name.clone()));
    }
    for o in &s.plan.openings {
        let shape = Shape::contour(&way.contour(&o.contour));
        let (layer, stroke) = match o.fate {
            Fate::Existing => (Layer::Existing, thin.dash(Dash::Dashed)),
            Fate::FromPart => (Layer::Outline, Stroke::solid(0.35).dash(Dash::Dotted)),
            Fate::Provision => (Layer::Outline, thin.dash(Dash::DoubleChain).ink(Ink::GREY)),
            Fate::Cut | Fate::Swallowed | Fate::Twice | Fate::AlreadyOpen | Fate::OffSheet => continue,
        };
        items.push(Item::stroked(layer, shape, stroke).of(o.id.clone()));
    }
    for o in s.plan.openings.iter().filter(|o| matches!(o.fate, Fate::Cut | Fate::FromPart)) {
        let round = if o.hole { Some(o.centre) } else { o.contour.main_circle().map(|(c, _)| c) };
        if let Some(centre) = round {
            items.extend(cross(way.point(centre), o));
        }
    }
    items.extend(lettering(s));
    if s.purpose == Purpose::Trial {
        items.extend(trial::outlines(s));
    }
    Ok(items)
}

/// A centre mark: a cross; for a hole that the part guides, with a ring of pilot size.
fn cross(at: Point, o: &Opening) -> Vec<Item> {
    let thin = Stroke::solid(0.13);
    let mut items: Vec<Item> = [Vec2::new(ARM, 0.0), Vec2::new(0.0, ARM)]
        .into_iter()
        .map(|d| Item::stroked(Layer::Mark, Shape::line(at - d, at + d), thin).of(o.id.clone()))
        .collect();
    if o.fate == Fate::FromPart {
        items.push(
            Item::stroked(Layer::Mark, Shape::Circle { centre: at, radius: 0.8 }, thin).of(o.id.clone()),
        );
    }
    items
}

/// Lettering of the sheet itself, on the front only: what is engraved, and in grey what is made otherwise.
fn lettering(s: &Subject<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    if s.view.face == Face::Back {
        return items;
    }
    for subject in s.panel.subjects.iter().filter(|u| u.kind == SubjectKind::Label && !u.provision) {
        for part in subject.parts.iter().filter(|p| p.class == Class::Label && p.sheet as usize == s.sheet) {
            if let Detail::Label { text: words, height, process, .. } = &part.detail {
                let engraved = process.as_deref().is_some_and(|p| p.contains("engrav"));
                let at = s.view.way.point(part.contour.bounds().center());
                let t = Text::new(at, *height, Anchor::CENTRE, words.clone()).turned(subject.turn);
                for line in text::lines(&t) {
                    let mut item = Item::text(if engraved { Layer::Engrave } else { Layer::Text }, line);
                    item.fill = Some(if engraved { Ink::BLACK } else { Ink::GREY });
                    items.push(item.of(subject.id.clone()));
                }
            }
        }
    }
    items
}

/// The labels in the order in which they are placed: names that stand in their own cutout, keys of holes,
/// names of the rest.
fn labels(s: &Subject<'_>) -> Vec<Label> {
    let mut inside = Vec::new();
    let mut keys = Vec::new();
    let mut rest = Vec::new();
    if s.view.datum {
        keys.push(Label {
            lines: vec![("datum 0, 0".into(), 1.8, Weight::Regular)],
            anchor: s.view.way.point(Point::ORIGIN),
            reach: Reach::Round(2.0),
            inside: false,
            subject: "datum".into(),
        });
    }
    let mut mains: BTreeMap<&str, &Opening> = BTreeMap::new();
    for o in s.plan.openings.iter().filter(|o| shown(o)) {
        let main = mains.entry(o.id.as_str()).or_insert(o);
        if o.contour.area() > main.contour.area() {
            *main = o;
        }
    }
    for o in s.plan.openings.iter().filter(|o| shown(o)) {
        let main = mains.get(o.id.as_str()).is_some_and(|m| m.part == o.part);
        if main {
            let l = name_label(s, o);
            if l.inside { inside.push(l) } else { rest.push(l) }
        } else if o.fate != Fate::Existing
            && let Some(key) = s.holes.key(o)
        {
            let words = if o.fate == Fate::FromPart { format!("{key} from part") } else { key.to_owned() };
            keys.push(Label {
                lines: vec![(words, 1.8, Weight::Regular)],
                anchor: s.view.way.point(o.centre),
                reach: Reach::Round(o.contour.as_circle().map_or(2.0, |(_, r)| r).max(ARM)),
                inside: false,
                subject: o.id.clone(),
            });
        }
    }
    inside.into_iter().chain(keys).chain(rest).collect()
}

fn shown(o: &Opening) -> bool {
    matches!(o.fate, Fate::Cut | Fate::Existing | Fate::FromPart | Fate::Provision)
}

/// The label of a subject's largest opening: id, title where it fits, size or what is (not) done.
fn name_label(s: &Subject<'_>, o: &Opening) -> Label {
    let b = o.contour.bounds();
    let mut lines = vec![(o.id.clone(), 2.5, Weight::Bold)];
    if let Some(subject) = s.panel.subjects.get(o.part.subject as usize)
        && text::width(&subject.title, 1.8, Weight::Regular) < 0.7 * b.width()
        && b.height() > 30.0
        && !subject.title.is_empty()
        && subject.title != o.id
    {
        lines.push((subject.title.clone(), 1.8, Weight::Regular));
    }
    let unit = s.panel.unit;
    let written = |v: String| o.written.as_ref().map_or(v, |w| w.to_string());
    let round = o.contour.main_circle();
    // a relief reaches beyond the circle; a flat stays within it
    let relief = round.filter(|(c, r)| o.contour.as_circle().is_none() && o.contour.farthest(*c) > r + SLACK);
    let size = match (o.contour.as_circle(), relief) {
        (Some((_, r)), _) => format!("\u{2300}{}", written(words::length(2.0 * r, unit))),
        (None, Some((_, r))) => written(format!("\u{2300}{} with relief", words::length(2.0 * r, unit))),
        (None, None) => {
            written(format!("{} \u{d7} {}", words::length(b.width(), unit), words::length(b.height(), unit)))
        }
    };
    let size = match (o.fate, s.holes.key(o)) {
        (Fate::Existing, _) => format!("{size} exists"),
        (Fate::Provision, _) => format!("{size} provision, not cut"),
        (Fate::FromPart, Some(key)) => format!("{key} {size} drill from part"),
        (Fate::FromPart, None) => format!("{size} cut from part"),
        (_, Some(key)) => format!("{key} {size}"),
        (_, None) => size,
    };
    lines.push((size, 1.8, Weight::Regular));
    if s.purpose == Purpose::Trial
        && let Some(depth) = trial::depth(s.panel, o.part.subject as usize)
    {
        lines.push((depth, 1.8, Weight::Regular));
    }
    let wide = lines.iter().map(|(w, h, b)| text::width(w, *h, *b)).fold(0.0, f64::max) + 3.0;
    let tall = lines.iter().map(|(_, h, _)| h * 1.6).sum::<f64>() + 2.0;
    // a place beside the centre mark must fit too
    let needed = Vec2::new(wide / 2.0, tall + 4.5);
    let inside = match round {
        Some((_, r)) => length(needed) < r,
        None => needed.x < b.width() / 2.0 && needed.y < b.height() / 2.0 && holds_middle(o, needed),
    };
    let (anchor, reach) = match round {
        Some((c, r)) => (c, Reach::Round(r.max(ARM))),
        None if inside => (o.centre, Reach::Box(Vec2::new(b.width(), b.height()) / 2.0)),
        None => {
            (b.center(), Reach::Box(Vec2::new(b.width().max(2.0 * ARM), b.height().max(2.0 * ARM)) / 2.0))
        }
    };
    Label { lines, anchor: s.view.way.point(anchor), reach, inside, subject: o.id.clone() }
}

/// Whether a box of this half size about the opening's centre lies in its contour.
fn holds_middle(o: &Opening, half: Vec2) -> bool {
    let room = Contour::rect(o.centre, 2.0 * half.x, 2.0 * half.y, 0.0);
    crate::geom::contains(&o.contour, &room)
}
