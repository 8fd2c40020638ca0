//! Placements, rows, stacks and labels of a chain of files as one list of items.

use super::lettering;
use crate::define::panel::{
    Change, InStack, Label, Number, Placed, Placement, Position, Room, Row, Side, Stack, UnitOrRoom,
};
use crate::define::{Size, Text};
use crate::diag::{Problem, Problems, Where, Written};
use crate::units::{Length, Unit};

/// What an item is.
#[derive(Clone, Debug)]
pub(super) enum Kind {
    /// An instrument.
    Placement,
    /// A frame with its units from the top.
    Stack(Vec<InStack>),
    /// A label or placard.
    Label(Box<LabelLine>),
}

/// What a label says.
#[derive(Clone, Debug)]
pub(super) struct LabelLine {
    pub text: Written<Text>,
    pub height: Option<Size>,
    pub process: Option<Text>,
    pub of: Option<Written<Text>>,
}

/// Where an item stands.
#[derive(Clone, Debug)]
pub(super) enum Spot {
    /// As it says itself.
    Own(Box<Position>),
    /// In a row, at a slot counted from 0.
    InRow(usize, usize),
}

/// One item.
#[derive(Clone, Debug)]
pub(super) struct Item {
    pub id: Written<Text>,
    pub kind: Kind,
    pub instrument: Option<Written<Text>>,
    pub spot: Spot,
    pub placed: Placed,
    /// Where it stands, or where it was changed last.
    pub place: Where,
    /// The file that it comes from.
    pub file: usize,
    /// The last file that says it is there already.
    pub kept_by: Option<usize>,
}

/// A row: its slots stay where they are when an item leaves it.
#[derive(Clone, Debug)]
pub(super) struct RowLine {
    pub id: Option<Written<Text>>,
    pub position: Position,
    pub room: Room,
    pub along: Side,
    pub slots: Vec<Slot>,
    pub place: Where,
}

/// What a slot of a row holds or held.
#[derive(Clone, Debug)]
pub(super) struct Slot {
    pub id: Written<Text>,
    pub instrument: Option<Written<Text>>,
    pub turn: f64,
    pub mirrored: bool,
    pub numbers: Vec<Number>,
}

pub(super) fn turn(placed: &Placed) -> f64 {
    placed.turn.as_ref().map_or(0.0, |t| t.value.degrees())
}

pub(super) fn is(flag: &Option<Written<bool>>) -> bool {
    flag.as_ref().is_some_and(|f| f.value)
}

fn kept_by(placed: &Placed, file: usize) -> Option<usize> {
    is(&placed.kept).then_some(file)
}

impl Item {
    pub fn placement(p: &Placement, file: usize) -> Item {
        Item {
            id: p.id.clone(),
            kind: Kind::Placement,
            instrument: Some(p.instrument.clone()),
            spot: Spot::Own(Box::new(p.position.clone())),
            kept_by: kept_by(&p.placed, file),
            placed: p.placed.clone(),
            place: p.place.clone(),
            file,
        }
    }

    pub fn stack(s: &Stack, file: usize) -> Item {
        Item {
            id: s.id.clone(),
            kind: Kind::Stack(s.units.clone()),
            instrument: Some(s.instrument.clone()),
            spot: Spot::Own(Box::new(s.position.clone())),
            kept_by: kept_by(&s.placed, file),
            placed: s.placed.clone(),
            place: s.place.clone(),
            file,
        }
    }

    pub fn label(l: &Label, file: usize) -> Item {
        let flag = |f: bool| f.then(|| Written::new(true, l.place.clone()));
        let placed = Placed {
            turn: l.turn.clone(),
            on: l.on.clone(),
            locked: flag(l.locked),
            kept: flag(l.kept),
            ..Placed::default()
        };
        let line = LabelLine {
            text: l.text.clone(),
            height: l.height.clone(),
            process: l.process.as_ref().map(|p| p.value.clone()),
            of: l.of.clone(),
        };
        Item {
            id: l.id.clone(),
            kind: Kind::Label(Box::new(line)),
            instrument: None,
            spot: Spot::Own(Box::new(l.position.clone())),
            kept_by: kept_by(&placed, file),
            placed,
            place: l.place.clone(),
            file,
        }
    }

    /// The label that an item's own lettering makes: below it, two millimetres away.
    pub fn lettering(of: &Item, id: Text, text: &Written<Text>) -> Option<Item> {
        let place = &text.place;
        let gap = Length::from_mm(lettering::GAP, Unit::Millimetre)?;
        let position = Position::Beside {
            side: Side::Down,
            of: of.id.clone(),
            room: Room::Gap(Written::new(gap, place.clone())),
            level: None,
            offset: None,
        };
        let named = Written::new(of.id.value.clone(), place.clone());
        let line = LabelLine { text: text.clone(), height: None, process: None, of: Some(named) };
        Some(Item {
            id: Written::new(id, place.clone()),
            kind: Kind::Label(Box::new(line)),
            instrument: None,
            spot: Spot::Own(Box::new(position)),
            placed: Placed { on: of.placed.on.clone(), ..Placed::default() },
            place: place.clone(),
            file: of.file,
            kept_by: None,
        })
    }

    /// Changes it; what cannot change is told.
    pub fn change(&mut self, c: &Change, file: usize, rows: &mut [RowLine], problems: &mut Problems) {
        if let Kind::Label(line) = &mut self.kind {
            if let Some(text) = &c.text {
                line.text = text.clone();
            }
            line.height = c.height.clone().or(line.height.take());
            line.process = c.process.as_ref().map(|p| p.value.clone()).or(line.process.take());
            line.of = c.of.clone().or(line.of.take());
            if let Some(instrument) = &c.instrument {
                refuse(&instrument.place, "a label has no instrument", problems);
            }
            if let Some(n) = c.placed.numbers.first() {
                refuse(&n.path.place, "a label has no numbers of an instrument", problems);
            }
        } else {
            for (said, what) in [
                (c.text.as_ref().map(|t| &t.place), "text"),
                (c.height.as_ref().map(|t| &t.place), "height"),
                (c.process.as_ref().map(|t| &t.place), "process"),
                (c.of.as_ref().map(|t| &t.place), "of"),
            ] {
                if let Some(place) = said {
                    refuse(place, &format!("`{what}` changes a label, {} is none", self.id.value), problems);
                }
            }
            let other = c.instrument.as_ref().map(|i| &i.value) != self.instrument.as_ref().map(|i| &i.value);
            if c.instrument.is_some() && other {
                // whose sizes were confirmed or measured is another part
                self.placed.checked = None;
                self.placed.numbers.clear();
            }
            self.instrument = c.instrument.clone().or(self.instrument.take());
        }
        if let Some(position) = &c.position {
            self.spot = Spot::Own(Box::new(position.clone()));
        }
        if let Some(room) = &c.room {
            match &mut self.spot {
                Spot::Own(position) => match &mut **position {
                    Position::Beside { room: old, .. } => *old = room.clone(),
                    _ => {
                        let message = format!("{} does not stand beside another item", self.id.value);
                        refuse(of_room(room), &message, problems);
                    }
                },
                Spot::InRow(..) => {
                    let message = format!(
                        "{} stands in a row: change the row's pitch or gap, or give it its own place",
                        self.id.value
                    );
                    refuse(of_room(room), &message, problems);
                }
            }
        }
        self.placed = c.placed.over(&self.placed);
        self.kept_by = kept_by(&c.placed, file).or(self.kept_by);
        self.place = c.place.clone();
        if let Spot::InRow(row, slot) = self.spot
            && let Some(slot) = rows.get_mut(row).and_then(|r| r.slots.get_mut(slot))
        {
            slot.instrument = self.instrument.clone();
            slot.turn = turn(&self.placed);
            slot.mirrored = is(&self.placed.mirrored);
            slot.numbers.clone_from(&self.placed.numbers);
        }
    }
}

pub(super) fn of_room(room: &Room) -> &Where {
    match room {
        Room::Pitch(l) | Room::Gap(l) => &l.place,
    }
}

pub(super) fn refuse(place: &Where, message: &str, problems: &mut Problems) {
    problems.push(
        Problem::new("bad-change", place, message)
            .help("or list it under \"remove\" and give a new item with another id"),
    );
}

impl RowLine {
    /// A row with its items.
    pub fn of(row: &Row, index: usize, file: usize) -> (RowLine, Vec<Item>) {
        let mut slots = Vec::new();
        let mut items = Vec::new();
        for (k, item) in row.items.iter().enumerate() {
            let placed = item.placed.over(&row.placed);
            slots.push(Slot {
                id: item.id.clone(),
                instrument: item.instrument.clone(),
                turn: turn(&placed),
                mirrored: is(&placed.mirrored),
                numbers: placed.numbers.clone(),
            });
            items.push(Item {
                id: item.id.clone(),
                kind: Kind::Placement,
                instrument: item.instrument.clone(),
                spot: Spot::InRow(index, k),
                kept_by: kept_by(&placed, file),
                placed,
                place: item.place.clone(),
                file,
            });
        }
        let line = RowLine {
            id: row.id.clone(),
            position: row.position.clone(),
            room: row.room.clone(),
            along: row.along.value,
            slots,
            place: row.place.clone(),
        };
        (line, items)
    }
}

/// Changes a unit of a stack.
pub(super) fn change_unit(unit: &mut InStack, c: &Change, problems: &mut Problems) {
    if let Some(position) = &c.position {
        let place = position.refers_to().first().map_or(&c.place, |w| &w.place).clone();
        refuse(&place, "a unit stands where its stack puts it", problems);
    }
    if let Some(room) = &c.room {
        refuse(of_room(room), "a unit stands where its stack puts it", problems);
    }
    if let Some(name) = &c.instrument {
        if !matches!(&unit.what, UnitOrRoom::Unit(old) if old.value == name.value) {
            unit.placed.checked = None;
            unit.placed.numbers.clear();
        }
        unit.what = UnitOrRoom::Unit(name.clone());
    }
    unit.placed = c.placed.over(&unit.placed);
    unit.place = c.place.clone();
}
