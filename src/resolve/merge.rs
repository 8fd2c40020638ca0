//! The definitions of a chain of files as one: less what a file removes, with what it changes, plus what
//! it adds. Every item keeps the file that it comes from, because paths are in that file's unit.

use super::chain::ReadFile;
use super::items::{self, Item, Kind, RowLine, Spot, refuse};
use super::space::Lists;
use crate::define::instrument::Holes;
use crate::define::panel::{
    Area, Change, Floating, Insert, Layer, Limit, OldOpening, Panel, Process, Structure, Tolerances, Zone,
};
use crate::define::{Outline, Size, Text};
use crate::diag::{Problem, Problems, Where, Written, did_you_mean};
use crate::units::Unit;
use std::collections::{BTreeMap, BTreeSet};

/// Something of a file, with the file's place in the chain.
#[derive(Clone)]
pub(super) struct From<'a, T> {
    pub def: &'a T,
    pub file: usize,
}

/// The main sheet, field by field from the outermost file that says it.
#[derive(Default)]
pub(super) struct Sheet<'a> {
    pub outline: Option<(&'a Outline, usize)>,
    pub material: Option<&'a Written<Text>>,
    pub thickness: Option<&'a Size>,
    pub coat: Option<&'a Size>,
    pub survey: Option<&'a Size>,
    pub new: bool,
    pub structure: Option<(Structure, Option<Text>)>,
    pub place: Option<&'a Where>,
}

/// One definition out of a chain.
pub(super) struct Merged<'a> {
    pub outer: &'a Panel,
    pub files: &'a [ReadFile],
    pub sheet: Sheet<'a>,
    pub layers: Vec<From<'a, Layer>>,
    pub inserts: Vec<From<'a, Insert>>,
    pub floating: Vec<From<'a, Floating>>,
    pub holes: Vec<From<'a, Holes>>,
    pub old: Vec<From<'a, OldOpening>>,
    pub zones: Vec<From<'a, Zone>>,
    pub depth: Option<&'a Size>,
    pub areas: Vec<From<'a, Area>>,
    pub items: Vec<Item>,
    pub rows: Vec<RowLine>,
    pub limits: BTreeMap<Text, &'a Limit>,
    pub process: Option<&'a Process>,
    pub tolerances: Option<&'a Tolerances>,
    pub title: BTreeMap<&'static str, Text>,
    pub space: Lists<'a>,
    /// Ids of what a file holds but nothing could be built of; why is told.
    pub dropped: BTreeSet<Text>,
    /// The file at hand builds on none: the reader has told that it cannot remove or change anything.
    alone: bool,
    /// Ids that would have gone, had the name in "remove" been the nearest right one; that is told.
    spared: BTreeSet<Text>,
}

impl<'a> Merged<'a> {
    /// Unit of a file of the chain.
    pub fn unit(&self, file: usize) -> Option<Unit> {
        self.files.get(file).and_then(|f| f.def.unit)
    }

    /// The unit in which the outermost file speaks; of the nearest file below it that has one.
    pub fn spoken(&self) -> Unit {
        self.files.iter().rev().find_map(|f| f.def.unit).unwrap_or(Unit::Millimetre)
    }

    /// Whether all of a file is there already.
    pub fn as_found(&self, file: usize) -> bool {
        self.files.get(file).and_then(|f| f.def.as_found.as_ref()).is_some_and(|a| a.value)
    }

    /// The innermost file of this definition that is not merged from below.
    pub fn own(&self) -> usize {
        self.files.len().saturating_sub(1)
    }
}

/// Merges a chain, bottom first. `files` is not empty.
pub(super) fn merge<'a>(files: &'a [ReadFile], problems: &mut Problems) -> Option<Merged<'a>> {
    let outer = &files.last()?.def;
    let mut m = Merged {
        outer,
        files,
        sheet: Sheet::default(),
        layers: Vec::new(),
        inserts: Vec::new(),
        floating: Vec::new(),
        holes: Vec::new(),
        old: Vec::new(),
        zones: Vec::new(),
        depth: None,
        areas: Vec::new(),
        items: Vec::new(),
        rows: Vec::new(),
        limits: BTreeMap::new(),
        process: None,
        tolerances: None,
        title: BTreeMap::new(),
        space: Lists::default(),
        dropped: files.iter().flat_map(|f| f.def.dropped.iter().cloned()).collect(),
        alone: false,
        spared: BTreeSet::new(),
    };
    for (file, read) in files.iter().enumerate() {
        m.take(&read.def, file, problems);
    }
    m.lettering();
    Some(m)
}

impl<'a> Merged<'a> {
    fn take(&mut self, def: &'a Panel, file: usize, problems: &mut Problems) {
        if let Some(s) = &def.sheet {
            let sheet = &mut self.sheet;
            // how well an outline was measured goes with that outline
            sheet.survey =
                if s.outline.is_some() { s.survey.as_ref() } else { s.survey.as_ref().or(sheet.survey) };
            sheet.outline = s.outline.as_ref().map(|o| (o, file)).or(sheet.outline.take());
            sheet.material = s.material.as_ref().or(sheet.material);
            sheet.thickness = s.thickness.as_ref().or(sheet.thickness);
            sheet.coat = s.coat.as_ref().or(sheet.coat);
            if let Some(answer) = &s.structure {
                sheet.structure = Some((answer.value, s.structure_by.as_ref().map(|b| b.value.clone())));
            }
            sheet.place = Some(&s.place);
        }
        // a new blank stays one in what builds on it, until a file says that everything is there
        let said = def.sheet.as_ref().and_then(|s| s.new.as_ref()).map(|n| n.value);
        self.sheet.new = said.unwrap_or(self.sheet.new && !self.as_found(file));
        self.alone = def.builds_on.is_none();
        self.remove(def, problems);
        self.change(def, file, problems);
        let known: BTreeMap<Text, Where> =
            self.ids().into_iter().map(|(id, place)| (id.clone(), place.clone())).collect();
        let replaced =
            |id: &Text| self.areas.iter().any(|a| a.def.id.as_ref().is_some_and(|i| i.value == *id));
        let is_area = |id: &Written<Text>| {
            let areas = def.depth.iter().flat_map(|d| &d.areas);
            areas.filter_map(|a| a.id.as_ref()).any(|i| i.place == id.place)
        };
        for id in def.ids() {
            // a depth that was measured again replaces the older one
            if is_area(id) && replaced(&id.value) || def.below_refused || self.spared.contains(&id.value) {
                continue;
            }
            if let Some(first) = known.get(&id.value) {
                let message = format!("the id `{}` is taken by an item of {}", id.value, first.file);
                let help = "to change that item use \"change\", to replace it list it under \"remove\" and take another id";
                problems.push(Problem::new("twice-id", &id.place, message).help(help));
            }
        }
        self.layers.extend(def.layers.iter().map(|def| From { def, file }));
        self.inserts.extend(def.inserts.iter().map(|def| From { def, file }));
        self.floating.extend(def.floating.iter().map(|def| From { def, file }));
        self.holes.extend(def.holes.iter().map(|def| From { def, file }));
        self.old.extend(def.old_openings.iter().map(|def| From { def, file }));
        self.zones.extend(def.zones.iter().map(|def| From { def, file }));
        if let Some(depth) = &def.depth {
            self.depth = depth.default.as_ref().or(self.depth);
            let again = |a: &From<'_, Area>| {
                let id = a.def.id.as_ref().map(|i| &i.value);
                id.is_some() && depth.areas.iter().any(|n| n.id.as_ref().map(|i| &i.value) == id)
            };
            self.areas.retain(|a| !again(a));
            self.areas.extend(depth.areas.iter().map(|def| From { def, file }));
        }
        self.items.extend(def.place.iter().map(|p| Item::placement(p, file)));
        let mounts = def.floating.iter().flat_map(|f| &f.mounts);
        self.items.extend(mounts.map(|p| Item::placement(p, file)));
        for row in &def.rows {
            let index = self.rows.len();
            let (line, items) = RowLine::of(row, index, file);
            self.rows.push(line);
            self.items.extend(items);
        }
        self.items.extend(def.stacks.iter().map(|s| Item::stack(s, file)));
        self.items.extend(def.labels.iter().map(|l| Item::label(l, file)));
        self.space.take(def, file);
        for limit in &def.limits {
            self.limits.insert(limit.rule.value.clone(), limit);
        }
        self.process = def.process.as_ref().or(self.process);
        self.tolerances = def.tolerances.as_ref().or(self.tolerances);
        for (key, text) in &def.title_block {
            self.title.insert(key, text.value.clone());
        }
    }

    /// Everything that has an id.
    fn ids(&self) -> Vec<(&Text, &Where)> {
        let mut ids: Vec<(&Text, &Where)> = Vec::new();
        ids.extend(self.layers.iter().map(|x| (&x.def.id.value, &x.def.id.place)));
        ids.extend(self.inserts.iter().map(|x| (&x.def.id.value, &x.def.id.place)));
        ids.extend(self.floating.iter().map(|x| (&x.def.id.value, &x.def.id.place)));
        ids.extend(self.holes.iter().filter_map(|x| x.def.id.as_ref()).map(|i| (&i.value, &i.place)));
        ids.extend(self.old.iter().map(|x| (&x.def.id.value, &x.def.id.place)));
        ids.extend(self.zones.iter().map(|x| (&x.def.id.value, &x.def.id.place)));
        ids.extend(self.areas.iter().filter_map(|x| x.def.id.as_ref()).map(|i| (&i.value, &i.place)));
        ids.extend(self.rows.iter().filter_map(|r| r.id.as_ref()).map(|i| (&i.value, &i.place)));
        ids.extend(self.space.ids());
        for item in &self.items {
            ids.push((&item.id.value, &item.id.place));
            if let Kind::Stack(units) = &item.kind {
                ids.extend(units.iter().filter_map(|u| u.id.as_ref()).map(|i| (&i.value, &i.place)));
            }
        }
        ids
    }

    /// Takes away what a file removes.
    fn remove(&mut self, def: &Panel, problems: &mut Problems) {
        for gone in &def.remove {
            let id = &gone.value;
            let before = self.ids().len();
            let rows: Vec<usize> = self
                .rows
                .iter()
                .enumerate()
                .filter(|(_, r)| r.id.as_ref().is_some_and(|i| i.value == *id))
                .map(|(k, _)| k)
                .collect();
            if !self.sheet.new && self.old.iter().any(|o| o.def.id.value == *id) {
                let message = format!("{id} is an opening: it stays as long as its sheet does");
                let help = "give the sheet \"new\": true, or keep the opening and cover it";
                problems.push(Problem::new("hole-stays", &gone.place, message).help(help));
                continue;
            }
            self.layers.retain(|x| x.def.id.value != *id);
            self.inserts.retain(|x| x.def.id.value != *id);
            if self.floating.iter().any(|x| x.def.id.value == *id) {
                // its mounts go with it
                let mount = format!("{id}:");
                self.floating.retain(|x| x.def.id.value != *id);
                self.items.retain(|x| !x.id.value.starts_with(&mount));
            }
            self.holes.retain(|x| x.def.id.as_ref().is_none_or(|i| i.value != *id));
            self.old.retain(|x| x.def.id.value != *id);
            self.zones.retain(|x| x.def.id.value != *id);
            self.space.remove(id);
            self.areas.retain(|x| x.def.id.as_ref().is_none_or(|i| i.value != *id));
            self.items.retain(|x| {
                x.id.value != *id && !matches!(x.spot, Spot::InRow(row, _) if rows.contains(&row))
            });
            for row in rows {
                // the row's slots stay, for what stands beside them; its name is free
                if let Some(row) = self.rows.get_mut(row) {
                    row.id = None;
                }
            }
            for item in &mut self.items {
                if let Kind::Stack(units) = &mut item.kind {
                    units.retain(|u| u.id.as_ref().is_none_or(|i| i.value != *id));
                }
            }
            if self.ids().len() == before {
                self.tell_unknown(id, &gone.place, "remove", problems);
                let near = did_you_mean(id, self.ids().iter().map(|(k, _)| k.as_ref())).map(Text::from);
                let spared = near.map(|near| self.goes_with(&near)).unwrap_or_default();
                self.spared.extend(spared);
            }
        }
    }

    /// The ids that go with an item: its own, those of a stack's units, those of a row's items.
    fn goes_with(&self, id: &Text) -> Vec<Text> {
        let mut all = vec![id.clone()];
        for item in &self.items {
            let row = match item.spot {
                Spot::InRow(row, _) => self.rows.get(row).and_then(|r| r.id.as_ref()),
                Spot::Own(_) => None,
            };
            if row.is_some_and(|r| r.value == *id) {
                all.push(item.id.value.clone());
            }
            if let (Kind::Stack(units), true) = (&item.kind, item.id.value == *id) {
                all.extend(units.iter().filter_map(|u| u.id.as_ref()).map(|u| u.value.clone()));
            }
        }
        all
    }

    /// Applies what a file changes.
    fn change(&mut self, def: &Panel, file: usize, problems: &mut Problems) {
        for c in &def.change {
            let id = &c.id.value;
            if let Some(item) = self.items.iter_mut().find(|i| i.id.value == *id) {
                item.change(c, file, &mut self.rows, problems);
                continue;
            }
            let row = self.rows.iter().position(|r| r.id.as_ref().is_some_and(|i| i.value == *id));
            if let Some(index) = row {
                self.change_row(index, c, file, problems);
                continue;
            }
            let unit = self.items.iter_mut().find_map(|i| match &mut i.kind {
                Kind::Stack(units) => {
                    units.iter_mut().find(|u| u.id.as_ref().is_some_and(|i| i.value == *id))
                }
                _ => None,
            });
            if let Some(unit) = unit {
                items::change_unit(unit, c, problems);
            } else if self.ids().iter().any(|(known, _)| *known == id) {
                let message =
                    format!("{id} cannot be changed: placements, rows, stacks, their units and labels can");
                refuse(&c.id.place, &message, problems);
            } else {
                self.tell_unknown(id, &c.id.place, "change", problems);
            }
        }
    }

    fn change_row(&mut self, index: usize, c: &Change, file: usize, problems: &mut Problems) {
        if let Some(row) = self.rows.get_mut(index) {
            if let Some(position) = &c.position {
                row.position = position.clone();
            }
            if let Some(room) = &c.room {
                row.room = room.clone();
            }
        }
        let all = Change { position: None, room: None, ..c.clone() };
        for item in &mut self.items {
            if matches!(item.spot, Spot::InRow(row, _) if row == index) {
                item.change(&all, file, &mut self.rows, problems);
            }
        }
    }

    /// Whether an id that is not found may stand in what could not be read: then nothing is told of it.
    pub fn unsure(&self, id: &Text) -> bool {
        self.dropped.contains(id) || self.files.iter().any(|f| f.def.below_refused)
    }

    /// Whether the files give this id to anything.
    pub fn known(&self, id: &Text) -> bool {
        self.ids().iter().any(|(known, _)| *known == id)
    }

    /// Whether the files have a driver of this id.
    pub fn known_driver(&self, id: &Text) -> bool {
        self.space.drivers.iter().any(|d| d.def.id.value == *id)
    }

    fn tell_unknown(&self, id: &Text, place: &Where, verb: &str, problems: &mut Problems) {
        if self.unsure(id) || self.alone {
            return;
        }
        let known = self.ids();
        let help = match did_you_mean(id, known.iter().map(|(k, _)| k.as_ref())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name an item of the file that this one builds on".to_string(),
        };
        let message = format!("there is no `{id}` to {verb} in what this file builds on");
        problems.push(Problem::new("unknown-id", place, message).help(help));
    }

    /// Makes a label of the lettering that an item carries as a text: below it.
    fn lettering(&mut self) {
        let mut taken: BTreeSet<Text> = self.ids().into_iter().map(|(id, _)| id.clone()).collect();
        let mut labels = Vec::new();
        for item in &self.items {
            let Some(text) = item.placed.label.as_ref().filter(|_| !matches!(item.kind, Kind::Label(_)))
            else {
                continue;
            };
            let mut id: Text = format!("{}-label", item.id.value).into();
            while taken.contains(&id) {
                id = format!("{id}-2").into();
            }
            taken.insert(id.clone());
            labels.extend(Item::lettering(item, id, text));
        }
        self.items.extend(labels);
    }
}
