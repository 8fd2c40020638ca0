//! From the checked tree to placements, rows, stacks, labels and changes.

use super::items::*;
use super::words::Side;
use crate::define::Text;
use crate::define::node::{Node, Size, Value};
use crate::diag::Written;

const SIDES: [(&str, Side); 4] =
    [("right-of", Side::Right), ("left-of", Side::Left), ("above", Side::Up), ("below", Side::Down)];

impl Room {
    fn build(node: &Node, pitch: &str, gap: &str) -> Option<Room> {
        match node.length(pitch) {
            Some(pitch) => Some(Room::Pitch(pitch)),
            None => node.length(gap).map(Room::Gap),
        }
    }
}

impl Position {
    fn build(node: &Node, room: Option<Room>) -> Option<Position> {
        if let Some(at) = node.point("at") {
            return Some(Position::At(at));
        }
        let offset = node.point("offset");
        if let Some((side, of)) = SIDES.iter().find_map(|(key, side)| Some((*side, node.text(key)?))) {
            let level = match side {
                Side::Right | Side::Left => node.text("level"),
                Side::Up | Side::Down => node.text("in-line-with"),
            };
            return Some(Position::Beside { side, of, room: room?, level, offset });
        }
        if let Some(of) = node.text("centred-on") {
            return Some(Position::CentredOn { of, offset });
        }
        Some(Position::MirrorOf { of: node.text("mirror-of")?, about: node.length("about")? })
    }

    fn usual(node: &Node) -> Option<Position> {
        Position::build(node, Room::build(node, "pitch", "gap"))
    }

    /// The ids of the items that it refers to.
    pub fn refers_to(&self) -> Vec<&Written<Text>> {
        match self {
            Position::At(_) => Vec::new(),
            Position::Beside { of, level, .. } => std::iter::once(of).chain(level).collect(),
            Position::CentredOn { of, .. } | Position::MirrorOf { of, .. } => vec![of],
        }
    }
}

impl Placed {
    fn build(node: &Node) -> Placed {
        Placed {
            turn: node.angle("turn"),
            mirrored: node.flag("mirrored"),
            on: node.text("on"),
            provision: node.flag("provision"),
            locked: node.flag("locked"),
            kept: node.flag("kept"),
            critical: node.flag("critical"),
            title: node.text("title"),
            label: node.text("label"),
            labels: node.texts("label"),
            checked: node.text("checked"),
            rear_support: node.text("rear-support"),
            droop: node.amount("droop"),
            numbers: node.get("numbers").map_or_else(Vec::new, Number::all),
            note: node.text("note"),
        }
    }

    /// What this says, and where it is silent, what `general` says.
    pub fn over(&self, general: &Placed) -> Placed {
        let (own, all) = (self.clone(), general.clone());
        let (hangs, held) = (own.droop.is_some(), own.rear_support.is_some());
        Placed {
            turn: own.turn.or(all.turn),
            mirrored: own.mirrored.or(all.mirrored),
            on: own.on.or(all.on),
            provision: own.provision.or(all.provision),
            locked: own.locked.or(all.locked),
            kept: own.kept.or(all.kept),
            critical: own.critical.or(all.critical),
            title: own.title.or(all.title),
            label: own.label.or(all.label),
            labels: if own.labels.is_empty() { all.labels } else { own.labels },
            checked: own.checked.or(all.checked),
            // one replaces the other: what hangs is not held
            rear_support: own.rear_support.or(if hangs { None } else { all.rear_support }),
            droop: own.droop.or(if held { None } else { all.droop }),
            numbers: Number::over(own.numbers, all.numbers),
            note: own.note.or(all.note),
        }
    }
}

impl Number {
    /// Those of an object whose keys are their paths; what was refused has been told.
    fn all(node: &Node) -> Vec<Number> {
        node.entries()
            .iter()
            .filter_map(|e| Number::build(Written::new(e.key.clone(), e.key_place.clone()), &e.node))
            .collect()
    }

    fn build(path: Written<Text>, node: &Node) -> Option<Number> {
        let (of, source) = (node.get("of")?, node.text("source")?);
        let value = match &of.value {
            Value::Length(length) => Value::Size(Size {
                of: length.clone(),
                plus: node.length("plus").map(|l| l.value),
                minus: node.length("minus").map(|l| l.value),
                source: Some(source.value.clone()),
                place: of.place.clone(),
            }),
            Value::Refused(_) => return None,
            other => other.clone(),
        };
        Some(Number { path, value, source, place: of.place.clone() })
    }

    /// The own ones, and of the others those of paths that are not among them.
    fn over(own: Vec<Number>, mut others: Vec<Number>) -> Vec<Number> {
        others.retain(|o| own.iter().all(|n| n.path.value != o.path.value));
        others.extend(own);
        others
    }
}

impl Placement {
    pub(super) fn build(node: &Node) -> Option<Placement> {
        Some(Placement {
            id: node.text("id")?,
            instrument: node.text("instrument")?,
            position: Position::usual(node)?,
            placed: Placed::build(node),
            place: node.place.clone(),
        })
    }
}

impl Change {
    pub(super) fn build(id: Written<Text>, node: &Node) -> Change {
        let position = Position::usual(node);
        Change {
            id,
            instrument: node.text("instrument"),
            room: if position.is_none() { Room::build(node, "pitch", "gap") } else { None },
            position,
            text: node.text("text"),
            height: node.size("height"),
            process: node.text("process"),
            of: node.text("of"),
            placed: Placed::build(node),
            place: node.place.clone(),
        }
    }
}

impl Row {
    pub(super) fn build(node: &Node) -> Option<Row> {
        let general = node.text("instrument");
        let item = |item: &Node| {
            let (id, own) = match item.as_text() {
                Some(id) => (id, None),
                None => (item.text("id")?, item.text("instrument")),
            };
            let placed = Placed::build(item);
            Some(RowItem { id, instrument: own.or(general.clone()), placed, place: item.place.clone() })
        };
        let room = Room::build(node, "pitch", "gap")?;
        let first = Room::build(node, "first-pitch", "first-gap").unwrap_or_else(|| room.clone());
        Some(Row {
            id: node.text("id"),
            items: node.each("ids", item),
            position: Position::build(node, Some(first))?,
            room,
            along: node.word("along")?,
            placed: Placed::build(node),
            place: node.place.clone(),
        })
    }
}

impl Stack {
    pub(super) fn build(node: &Node) -> Option<Stack> {
        Some(Stack {
            id: node.text("id")?,
            instrument: node.text("instrument")?,
            position: Position::usual(node)?,
            units: node.each("units", InStack::build),
            placed: Placed::build(node),
            place: node.place.clone(),
        })
    }
}

impl InStack {
    fn build(node: &Node) -> Option<InStack> {
        let what = match node.text("instrument") {
            Some(name) => UnitOrRoom::Unit(name),
            None => UnitOrRoom::Room(node.size("provision")?),
        };
        let (placed, place) = (Placed::build(node), node.place.clone());
        Some(InStack { id: node.text("id"), what, placed, place })
    }
}

impl Label {
    pub(super) fn build(node: &Node) -> Option<Label> {
        Some(Label {
            id: node.text("id")?,
            text: node.text("text")?,
            height: node.size("height"),
            process: node.text("process"),
            of: node.text("of"),
            position: Position::usual(node)?,
            turn: node.angle("turn"),
            on: node.text("on"),
            locked: node.is("locked"),
            kept: node.is("kept"),
            note: node.text("note"),
            place: node.place.clone(),
        })
    }
}
