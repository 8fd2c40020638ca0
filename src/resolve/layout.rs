//! From "right of, 9 mm" to coordinates: the statements of the files as equations, worked out together.
//!
//! Distances from edge to edge are between the upright boxes of what shows in front. A relation may name
//! an item, a unit of a stack, an old opening, an insert, a zone, or an item that was taken out: then it
//! speaks of where that stood.

use super::items::{Item, RowLine, Spot};
use super::merge::Merged;
use super::shape::point;
use super::solve::{Axis, Equation, Item as Node, solve};
use crate::define::Text;
use crate::define::panel::{Position, Room, Side};
use crate::diag::{Problem, Problems, Where, Written, did_you_mean};
use crate::geom::{Point, Rect, Vec2};
use std::collections::BTreeMap;

/// What is to be placed.
pub(super) struct Layout<'a> {
    nodes: Vec<Node>,
    boxes: Vec<Rect>,
    names: BTreeMap<Text, usize>,
    equations: Vec<Equation>,
    problems: &'a mut Problems,
    /// For names that may stand in what could not be read: whoever names them need not be told again.
    merged: &'a Merged<'a>,
    /// Nodes from here on are places of the panel below.
    below: Option<usize>,
    /// Who keeps to the place of something that was taken out: its node and that name.
    kept: Vec<(usize, Text)>,
}

/// A number that a relation gives, and what it is called.
fn of_room(room: &Room) -> (f64, bool) {
    match room {
        Room::Pitch(l) => (l.value.mm(), false),
        Room::Gap(l) => (l.value.mm(), true),
    }
}

impl<'a> Layout<'a> {
    pub fn new(problems: &'a mut Problems, merged: &'a Merged<'a>) -> Layout<'a> {
        Layout {
            nodes: Vec::new(),
            boxes: Vec::new(),
            names: BTreeMap::new(),
            equations: Vec::new(),
            problems,
            merged,
            below: None,
            kept: Vec::new(),
        }
    }

    /// What is added from now on stood on the panel below: a name that finds one names what was taken out.
    pub fn below(&mut self) {
        self.below = Some(self.nodes.len());
    }

    /// Adds something to place; `bounds` is its box about its own reference point, `None` when it could not
    /// be built. Things without a name that relations may use pass `named` false.
    pub fn add(&mut self, id: &Text, place: &Where, bounds: Option<Rect>, named: bool) -> usize {
        let index = self.nodes.len();
        self.nodes.push(Node { id: id.to_string(), place: place.clone(), broken: bounds.is_none() });
        self.boxes.push(bounds.unwrap_or(Rect::ZERO));
        if named {
            self.names.entry(id.clone()).or_insert(index);
        }
        index
    }

    /// Fixes a node.
    pub fn fix(&mut self, node: usize, at: Point, says: &'static str, place: &Where) {
        self.equate(node, Axis::X, Vec::new(), at.x, says, place);
        self.equate(node, Axis::Y, Vec::new(), at.y, says, place);
    }

    /// Holds a node at a constant distance from another.
    pub fn follow(&mut self, node: usize, other: usize, by: Vec2, says: &'static str, place: &Where) {
        self.equate(node, Axis::X, vec![(other, Axis::X, 1.0)], by.x, says, place);
        self.equate(node, Axis::Y, vec![(other, Axis::Y, 1.0)], by.y, says, place);
    }

    /// Keeps a node out: somebody has been told why.
    pub fn break_node(&mut self, node: usize) {
        if let Some(n) = self.nodes.get_mut(node) {
            n.broken = true;
        }
    }

    fn equate(
        &mut self,
        item: usize,
        axis: Axis,
        on: Vec<(usize, Axis, f64)>,
        offset: f64,
        says: &'static str,
        place: &Where,
    ) {
        self.equations.push(Equation { item, axis, on, offset, says, place: place.clone() });
    }

    /// The node of an id; told when there is none.
    fn named(&mut self, id: &Written<Text>) -> Option<usize> {
        if let Some(node) = self.names.get(&id.value) {
            return Some(*node);
        }
        if self.merged.unsure(&id.value) {
            return None;
        }
        let help = match did_you_mean(&id.value, self.names.keys().map(AsRef::as_ref)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name an item of this panel, or place it by \"at\": [x, y]".to_string(),
        };
        let message = format!("there is no item `{}` on this panel", id.value);
        self.problems.push(Problem::new("unknown-id", &id.place, message).help(help));
        None
    }

    /// Places a node as a position says.
    pub fn place(&mut self, node: usize, position: &Position) {
        if self.try_place(node, position).is_none() {
            self.break_node(node);
        }
        for name in position.refers_to() {
            let found = self.names.get(&name.value);
            // an opening that something left behind is named on purpose
            if found.zip(self.below).is_some_and(|(n, below)| *n >= below) && !name.value.starts_with("old-")
            {
                self.kept.push((node, name.value.clone()));
            }
        }
    }

    fn try_place(&mut self, node: usize, position: &Position) -> Option<()> {
        let shift =
            |offset: &Option<crate::define::Xy>| offset.as_ref().map_or(Vec2::ZERO, |o| point(o).to_vec2());
        match position {
            Position::At(at) => self.fix(node, point(at), "at", &at.place),
            Position::Beside { side, of, room, level, offset } => {
                // both names are looked up, so that both are told
                let other = self.named(of);
                let level_node = match level {
                    Some(level) => self.named(level),
                    None => other,
                };
                self.beside(node, (*side, other?, &of.place), room, level_node?, shift(offset));
            }
            Position::CentredOn { of, offset } => {
                let other = self.named(of)?;
                self.follow(node, other, shift(offset), "centred-on", &of.place);
            }
            Position::MirrorOf { of, about } => {
                let other = self.named(of)?;
                let twice = 2.0 * about.value.mm();
                self.equate(node, Axis::X, vec![(other, Axis::X, -1.0)], twice, "mirror-of", &of.place);
                self.equate(node, Axis::Y, vec![(other, Axis::Y, 1.0)], 0.0, "mirror-of", &of.place);
            }
        }
        Some(())
    }

    fn beside(
        &mut self,
        node: usize,
        (side, other, place): (Side, usize, &Where),
        room: &Room,
        level: usize,
        by: Vec2,
    ) {
        let (own, its) = (self.boxes[node], self.boxes[other]);
        let (room, gap) = of_room(room);
        let (axis, across, says, step) = match side {
            Side::Right => (Axis::X, Axis::Y, "right-of", if gap { its.x1 + room - own.x0 } else { room }),
            Side::Left => (Axis::X, Axis::Y, "left-of", if gap { its.x0 - room - own.x1 } else { -room }),
            Side::Up => (Axis::Y, Axis::X, "above", if gap { its.y1 + room - own.y0 } else { room }),
            Side::Down => (Axis::Y, Axis::X, "below", if gap { its.y0 - room - own.y1 } else { -room }),
        };
        let (along, off) = if axis == Axis::X { (by.x, by.y) } else { (by.y, by.x) };
        self.equate(node, axis, vec![(other, axis, 1.0)], step + along, says, place);
        self.equate(node, across, vec![(level, across, 1.0)], off, says, place);
    }

    /// Places the slots of a row: the first as the row says, each further one beside the one before.
    pub fn row(&mut self, row: &RowLine, slots: &[usize]) {
        let Some((first, rest)) = slots.split_first() else { return };
        self.place(*first, &row.position);
        let mut before = *first;
        for slot in rest {
            self.beside(*slot, (row.along, before, &row.place), &row.room, before, Vec2::ZERO);
            before = *slot;
        }
    }

    /// Places an item: in its slot, or as it says itself.
    pub fn item(&mut self, node: usize, item: &Item, slots: &[Vec<usize>]) {
        match &item.spot {
            Spot::Own(position) => self.place(node, position),
            Spot::InRow(row, k) => match slots.get(*row).and_then(|r| r.get(*k)) {
                Some(slot) => self.follow(node, *slot, Vec2::ZERO, "row", &item.place),
                None => self.break_node(node),
            },
        }
    }

    /// Works everything out. Places by node; `None` where it could not be (told). Then remarks: who keeps to
    /// the place of something that was taken out.
    pub fn solve(self) -> (Vec<Option<Point>>, Vec<String>) {
        let (places, problems) = solve(&self.nodes, &self.equations);
        for p in problems {
            self.problems.push(p);
        }
        let mut remarks: Vec<String> = Vec::new();
        for (node, name) in &self.kept {
            let Some(who) = self.nodes.get(*node) else { continue };
            let words = format!(
                "{} is placed by {name}, which was taken out: it keeps to where that stood. To move it, change its place \
                 ({}:{}).",
                who.id, who.place.file, who.place.line
            );
            if !remarks.contains(&words) {
                remarks.push(words);
            }
        }
        (places, remarks)
    }
}
