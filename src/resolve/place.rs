//! Items with their definitions, and the coordinates of all of them.

use super::catalogue::Entry;
use super::items::{Item, Kind, Slot, is, turn};
use super::layout::Layout;
use super::lettering;
use super::merge::Merged;
use super::scene::{Anchor, Scene};
use super::shape;
use crate::define::instrument::Replacement;
use crate::define::panel::{InStack, Number, UnitOrRoom};
use crate::define::{Size, Text};
use crate::diag::{Problem, Written};
use crate::geom::{Contour, Point, Rect, Transform, Vec2};
use crate::panel::{Class, Panel, SheetRole};
use std::sync::Arc;

/// An item that could be placed.
pub(super) struct Ready {
    pub item: usize,
    pub at: Point,
    pub entry: Option<Arc<Entry>>,
    pub units: Vec<ReadyUnit>,
}

/// A unit of a stack, or the room for one, in place.
pub(super) struct ReadyUnit {
    pub id: Text,
    pub unit: InStack,
    pub at: Point,
    pub entry: Option<Arc<Entry>>,
    /// Height of the room kept free, mm.
    pub room: Option<f64>,
}

/// A unit before its stack is placed: its centre about the stack's origin.
struct LooseUnit {
    id: Text,
    unit: InStack,
    entry: Option<Arc<Entry>>,
    room: Option<f64>,
    by: Vec2,
    bounds: Option<Rect>,
}

impl Scene<'_, '_> {
    /// Places all items. Those that could not be are left out; why is told.
    pub fn place_items(&mut self) -> Vec<Ready> {
        let m: &Merged<'_> = self.merged;
        let entries: Vec<Option<Arc<Entry>>> =
            m.items.iter().map(|i| self.entry(i.instrument.as_ref(), &i.placed.numbers)).collect();
        let loose: Vec<Vec<LooseUnit>> =
            m.items.iter().zip(&entries).map(|(i, e)| self.loose_units(i, e.as_deref())).collect();
        let slot_boxes: Vec<Vec<Option<Rect>>> =
            m.rows.iter().map(|row| row.slots.iter().map(|s| self.slot_box(s)).collect()).collect();
        let fixed = self.fixed_places();
        let stood = self.stood;

        let mut layout = Layout::new(self.problems, m);
        let nodes: Vec<usize> = m
            .items
            .iter()
            .zip(&entries)
            .map(|(i, e)| layout.add(&i.id.value, &i.place, item_box(i, e.as_deref()), true))
            .collect();
        for (k, item) in m.items.iter().enumerate() {
            let stand = Transform::place(Point::ORIGIN, turn(&item.placed), is(&item.placed.mirrored));
            for unit in loose.get(k).into_iter().flatten() {
                let node = layout.add(&unit.id, &unit.unit.place, unit.bounds, true);
                layout.follow(node, nodes[k], stand.vector(unit.by), "stack", &unit.unit.place);
            }
        }
        let slots: Vec<Vec<usize>> = m
            .rows
            .iter()
            .zip(&slot_boxes)
            .map(|(row, boxes)| {
                let add = |(s, b): (&Slot, &Option<Rect>)| layout.add(&s.id.value, &s.id.place, *b, false);
                row.slots.iter().zip(boxes).map(add).collect()
            })
            .collect();
        for (id, place, at, bounds) in &fixed {
            let node = layout.add(id, place, Some(*bounds), true);
            layout.fix(node, *at, "there", place);
        }
        layout.below();
        for (id, place, at, bounds) in stood {
            let node = layout.add(id, place, Some(*bounds), true);
            layout.fix(node, *at, "there", place);
        }
        for (row, slots) in m.rows.iter().zip(&slots) {
            layout.row(row, slots);
        }
        for (item, node) in m.items.iter().zip(&nodes) {
            layout.item(*node, item, &slots);
        }
        let (places, remarks) = layout.solve();
        self.remarks.extend(remarks);

        let mut ready = Vec::new();
        for (k, ((entry, units), node)) in entries.into_iter().zip(loose).zip(&nodes).enumerate() {
            let item = &m.items[k];
            let Some(at) = places.get(*node).copied().flatten() else { continue };
            let stand = Transform::place(at, turn(&item.placed), is(&item.placed.mirrored));
            let units = units
                .into_iter()
                .map(|u| ReadyUnit {
                    at: stand.point(u.by.to_point()),
                    id: u.id,
                    unit: u.unit,
                    entry: u.entry,
                    room: u.room,
                })
                .collect();
            ready.push(Ready { item: k, at, entry, units });
        }
        ready
    }

    /// The definition of a name with an item's own numbers, each with the source that its own file says.
    fn entry(&mut self, name: Option<&Written<Text>>, numbers: &[Number]) -> Option<Arc<Entry>> {
        let name = name?;
        let replacement = |n: &Number| {
            let file = self.merged.files.iter().find(|f| f.def.span.file == n.path.place.file)?;
            // a source that is not there is told by the reader
            let source = file.def.sources.iter().find(|s| s.name == n.source.value)?.clone();
            Some(Replacement { path: n.path.clone(), value: n.value.clone(), source })
        };
        let own: Vec<Replacement> = numbers.iter().filter_map(replacement).collect();
        self.shelf.get_with(&name.value, &name.place, &own, self.problems)
    }

    fn slot_box(&mut self, slot: &Slot) -> Option<Rect> {
        let entry = self.entry(slot.instrument.as_ref(), &slot.numbers)?;
        front_box(&entry, slot.turn, slot.mirrored)
    }

    /// Fixed things that a relation may name.
    fn fixed_places(&mut self) -> Vec<Anchor> {
        let m: &Merged<'_> = self.merged;
        let mut all = Vec::new();
        let mut put = |id: &Written<Text>, contour: &Contour| {
            let b = contour.bounds();
            let at = b.center();
            all.push((id.value.clone(), id.place.clone(), at, b - at.to_vec2()));
        };
        let mut quiet = crate::diag::Problems::new();
        for old in &m.old {
            let def = old.def;
            if let Some(flat) = shape::flat(&def.shape, m.unit(old.file), &mut quiet) {
                put(
                    &def.id,
                    &shape::placed(
                        &flat.contour,
                        def.at.as_ref(),
                        def.turn.as_ref().map(|t| t.value.degrees()),
                    ),
                );
            }
        }
        for zone in &m.zones {
            let def = zone.def;
            if let Some(flat) = shape::flat(&def.shape, m.unit(zone.file), &mut quiet) {
                put(
                    &def.id,
                    &shape::placed(
                        &flat.contour,
                        def.at.as_ref(),
                        def.turn.as_ref().map(|t| t.value.degrees()),
                    ),
                );
            }
        }
        for sheet in self.sheets.iter().filter(|s| s.role != SheetRole::Insert) {
            let b = sheet.outline.bounds();
            all.push((sheet.id.as_str().into(), sheet.place.clone(), b.center(), b - b.center().to_vec2()));
        }
        for insert in &m.inserts {
            let def = insert.def;
            if let Some(sheet) = self.sheets.iter().find(|s| s.id == def.id.value.as_ref()) {
                let at = shape::point(&def.at);
                let b = sheet.outline.bounds();
                all.push((def.id.value.clone(), def.id.place.clone(), at, b - at.to_vec2()));
            }
        }
        all
    }

    /// The units of a stack about its origin: from the top of its opening down.
    fn loose_units(&mut self, item: &Item, frame: Option<&Entry>) -> Vec<LooseUnit> {
        let Kind::Stack(units) = &item.kind else { return Vec::new() };
        let Some(entry) = frame else { return Vec::new() };
        let name = item.instrument.as_ref();
        let Some(frame) = &entry.def.frame_of_stack else {
            let place = name.map_or(&item.place, |n| &n.place);
            let message = format!("{} is no frame of a stack", name.map_or("this", |n| n.value.as_ref()));
            self.problems.push(
                Problem::new("no-frame", place, message)
                    .help("a frame's definition has \"stack\": { \"frame\": ... }"),
            );
            return Vec::new();
        };
        let mm = |s: &Option<Size>| s.as_ref().map_or(0.0, Size::mm);
        let opening = entry.built.parts.iter().find(|p| p.class == Class::Cutout).map(|p| p.contour.bounds());
        let opening = opening.unwrap_or_else(|| {
            Rect::from_center_size(Point::ORIGIN, (mm(&frame.opening_width), mm(&frame.opening_height)))
        });
        let mut top = opening.y1 - mm(&frame.top);
        let mut all = Vec::new();
        for (k, unit) in units.iter().enumerate() {
            let (entry, room, height) = match &unit.what {
                UnitOrRoom::Room(size) => (None, Some(size.mm()), Some(size.mm())),
                UnitOrRoom::Unit(name) => {
                    let Some(entry) = self.entry(Some(name), &unit.placed.numbers) else { continue };
                    let Some(def) = &entry.def.unit_of_stack else {
                        let message = format!("{} is no unit of a stack", name.value);
                        let help = "a unit's definition has \"stack\": { \"unit\": ... }; other things are listed under \"place\"";
                        self.problems.push(Problem::new("no-unit", &name.place, message).help(help));
                        continue;
                    };
                    let height = def.height.as_ref().map(Size::mm);
                    (Some(entry), None, height)
                }
            };
            let own = entry.as_deref().and_then(|e| front_box(e, 0.0, false));
            let high = height.or(own.map(|b| b.height())).unwrap_or(0.0);
            let wide = own.map_or(opening.width(), |b| b.width());
            let id = match &unit.id {
                Some(id) => id.value.clone(),
                None => format!("{}-{}", item.id.value, k + 1).into(),
            };
            let by = Vec2::new(opening.center().x, top - high / 2.0);
            let bounds = Some(Rect::from_center_size(Point::ORIGIN, (wide, high)));
            all.push(LooseUnit { id, unit: unit.clone(), entry, room, by, bounds });
            top -= high + mm(&frame.joint);
        }
        all
    }
}

/// The box of what an item shows in front, about its reference point.
fn item_box(item: &Item, entry: Option<&Entry>) -> Option<Rect> {
    if let Kind::Label(line) = &item.kind {
        let height = line.height.as_ref().map_or(lettering::HEIGHT, Size::mm);
        let (w, h) = lettering::room(&line.text.value, height);
        let contour = Contour::rect(Point::ORIGIN, w, h, 0.0);
        return Some(Transform::place(Point::ORIGIN, turn(&item.placed), false).contour(&contour).bounds());
    }
    front_box(entry?, turn(&item.placed), is(&item.placed.mirrored))
}

fn front_box(entry: &Entry, turn: f64, mirrored: bool) -> Option<Rect> {
    let t = Transform::place(Point::ORIGIN, turn, mirrored);
    entry.built.front_box(|c| t.contour(c)).or(Some(Rect::ZERO))
}

/// Where everything of a panel stands, under its own name and under the one that its openings bear when
/// it is taken out.
pub(super) fn anchors(panel: &Panel) -> Vec<Anchor> {
    let mut all = Vec::new();
    for s in &panel.subjects {
        let bezels = || s.parts.iter().filter(|p| p.class == Class::Bezel);
        let boxes: Vec<Rect> = if bezels().next().is_some() {
            bezels().map(|p| p.contour.bounds()).collect()
        } else {
            s.parts.iter().map(|p| p.contour.bounds()).collect()
        };
        if let Some(b) = boxes.into_iter().reduce(|a, b| a.union(b)) {
            for id in [Text::from(s.id.as_str()), format!("old-{}", s.id).into()] {
                all.push((id, s.place.clone(), s.at, b - s.at.to_vec2()));
            }
        }
    }
    all
}
