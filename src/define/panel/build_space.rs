//! From the checked tree to what stands, moves and runs behind and in front of a panel.

use super::space::*;
use super::words_space::Frame;
use crate::define::instrument::unique;
use crate::define::node::{Amount, Entry, Node, Size, Value, Xyd};
use crate::define::{Shape, Text};
use crate::diag::{Problem, Problems, Where, Written};
use crate::units::Length;

impl Space {
    /// From a file's outermost object.
    pub(super) fn build(root: &Node, problems: &mut Problems) -> Space {
        let mut space = Space {
            airframe: root.get("airframe").and_then(Airframe::build),
            drivers: root.each("drivers", Driver::build),
            lines: root.each("lines", Line::build),
            ..Space::default()
        };
        for node in root.list("obstacles") {
            space.obstacles.extend(Obstacle::build(node, problems));
        }
        for node in root.list("controls") {
            space.controls.extend(Control::build(node, problems));
        }
        space.own_ids(problems);
        space
    }

    /// The ids that share one space with all others of the file.
    pub fn ids(&self) -> impl Iterator<Item = &Written<Text>> {
        let obstacles = self.obstacles.iter().map(|x| &x.id);
        let drivers = self.drivers.iter().map(|x| &x.id);
        let controls = self.controls.iter().map(|x| &x.id);
        obstacles.chain(drivers).chain(controls).chain(self.lines.iter().map(|x| &x.id))
    }

    /// The names within an obstacle, control or link.
    pub(super) fn inner_ids(&self) -> impl Iterator<Item = &Text> {
        let links = self.controls.iter().flat_map(|c| &c.links);
        let moving = links.clone().flat_map(|l| &l.solids);
        let solids = self.obstacles.iter().flat_map(|o| &o.solids).chain(moving);
        links.map(|l| &l.id.value).chain(solids.filter_map(|s| s.id.as_ref()).map(|i| &i.value))
    }

    /// Names within one obstacle, control or link stand there once.
    fn own_ids(&self, problems: &mut Problems) {
        let solids = |all: &[Solid], problems: &mut Problems| {
            unique(all.iter().filter_map(|s| s.id.as_ref()), problems);
        };
        for o in &self.obstacles {
            solids(&o.solids, problems);
        }
        for c in &self.controls {
            unique(c.links.iter().map(|l| &l.id), problems);
            c.links.iter().for_each(|l| solids(&l.solids, problems));
        }
    }
}

impl Airframe {
    fn build(node: &Node) -> Option<Airframe> {
        Some(Airframe {
            station: node.length("station")?.value,
            butt_line: node.length("butt-line")?.value,
            water_line: node.length("water-line")?.value,
            place: node.place.clone(),
        })
    }
}

fn frame(node: &Node) -> Frame {
    node.word("in").map_or(Frame::Panel, |w: Written<Frame>| w.value)
}

impl Obstacle {
    fn build(node: &Node, problems: &mut Problems) -> Option<Obstacle> {
        Some(Obstacle {
            id: node.text("id")?,
            kind: node.word("kind")?.value,
            frame: frame(node),
            solids: solids(node, problems),
            carries: node.text("carries"),
            tolerance: node.size("tolerance"),
            note: node.text("note"),
            place: node.place.clone(),
        })
    }
}

fn solids(node: &Node, problems: &mut Problems) -> Vec<Solid> {
    node.list("solids").iter().filter_map(|n| Solid::build(n, problems)).collect()
}

fn point3(node: &Node) -> Option<Xyd> {
    match &node.value {
        Value::Point3(p) => Some(p.clone()),
        _ => None,
    }
}

fn amount(node: &Node) -> Option<Amount> {
    match &node.value {
        Value::Amount(a) => Some(a.clone()),
        _ => None,
    }
}

/// Key and place of an entry.
fn key(entry: &Entry) -> Written<Text> {
    Written::new(entry.key.clone(), entry.key_place.clone())
}

impl Solid {
    fn build(node: &Node, problems: &mut Problems) -> Option<Solid> {
        let hand = match &node.get("hand").map(|n| (&n.value, &n.place)) {
            Some((Value::Flag(true), _)) => Some(Hand::Usual),
            Some((Value::Length(l), place)) => Some(Hand::Room(Written::new(l.clone(), (*place).clone()))),
            _ => None,
        };
        Some(Solid {
            id: node.text("id"),
            form: form(node, problems)?,
            kind: node.text("kind"),
            hand,
            place: node.place.clone(),
        })
    }
}

/// The form of a solid; ends of the wrong kind are told.
fn form(node: &Node, problems: &mut Problems) -> Option<Form> {
    if let Some(section) = node.get("prism") {
        let mut depth = |key: &str| end(node, key, "a prism", "the depth at which it ", problems);
        let (from, to) = (depth("from"), depth("to"));
        return Some(Form::Prism {
            section: Box::new(Shape::build(section)?),
            at: node.point("at"),
            turn: node.angle("turn"),
            from: from?,
            to: to?,
        });
    }
    if let Some(diameter) = node.size("bar") {
        let mut point = |key: &str| {
            let found = node.get(key)?;
            point3(found).or_else(|| {
                wrong_end(&found.place, "a bar", key, "the point at which it ", "[x, y, d]", problems);
                None
            })
        };
        let (from, to) = (point("from"), point("to"));
        return Some(Form::Bar { diameter, from: from?, to: to? });
    }
    if let Some(list) = node.get("box") {
        let turn = |n: &Node| Some((n.word("about")?, n.angle("by")?));
        let sizes: Vec<Size> = list.items().iter().filter_map(size).collect();
        let centre = node.get("centre").and_then(point3)?;
        return Some(Form::Box { sizes: sizes.try_into().ok()?, centre, turns: node.each("turns", turn) });
    }
    if let Some(diameter) = node.size("ball") {
        return Some(Form::Ball { diameter, centre: node.get("centre").and_then(point3)? });
    }
    if let Some(diameter) = node.size("tube") {
        return Some(Form::Tube {
            diameter,
            path: node.each("path", point3),
            bend: node.size("bend-radius"),
        });
    }
    node.get("hull").map(|_| Form::Hull(node.each("hull", point3)))
}

fn size(node: &Node) -> Option<Size> {
    match &node.value {
        Value::Size(size) => Some(size.clone()),
        _ => None,
    }
}

fn end(node: &Node, key: &str, what: &str, means: &str, problems: &mut Problems) -> Option<Written<Length>> {
    let found = node.get(key)?;
    if let Value::Length(length) = &found.value {
        return Some(Written::new(length.clone(), found.place.clone()));
    }
    wrong_end(&found.place, what, key, means, "a length", problems);
    None
}

fn wrong_end(place: &Where, what: &str, key: &str, means: &str, give: &str, problems: &mut Problems) {
    // a value that was refused has been told of
    if problems.within(place) {
        return;
    }
    let does = if key == "from" { "begins" } else { "ends" };
    let message = format!("`{key}` of {what} is {means}{does}");
    problems.push(Problem::new("wrong-end", place, message).help(format!("write {give}")));
}

impl Driver {
    fn build(node: &Node) -> Option<Driver> {
        let over: Vec<Amount> = node.each("over", amount);
        Some(Driver {
            id: node.text("id")?,
            kind: node.word("kind")?.value,
            from: node.amount("from")?,
            to: node.amount("to")?,
            neutral: node.amount("neutral"),
            over: over.try_into().ok(),
            place: node.place.clone(),
        })
    }
}

impl Control {
    fn build(node: &Node, problems: &mut Problems) -> Option<Control> {
        let poses = node.get("poses").map_or(&[][..], Node::entries).iter().map(|e| Pose {
            name: key(e),
            drivers: e.node.entries().iter().filter_map(|d| Some((key(d), amount(&d.node)?))).collect(),
        });
        Some(Control {
            id: node.text("id")?,
            kind: node.word("kind")?.value,
            frame: frame(node),
            links: node.list("links").iter().filter_map(|n| Link::build(n, problems)).collect(),
            poses: poses.collect(),
            note: node.text("note"),
            place: node.place.clone(),
        })
    }
}

fn number(node: &Node) -> Option<f64> {
    match node.value {
        Value::Number(n) => Some(n),
        _ => None,
    }
}

fn direction(node: &Node) -> Option<Direction> {
    let along: Vec<f64> = node.items().iter().filter_map(number).collect();
    Some(Direction { along: along.try_into().ok()?, place: node.place.clone() })
}

impl Link {
    fn build(node: &Node, problems: &mut Problems) -> Option<Link> {
        let follows = node.get("follows").map_or(&[][..], Node::entries).iter();
        let follow = |e: &Entry| Some((key(e), Written::new(number(&e.node)?, e.node.place.clone())));
        let joint = match (node.get("slide"), node.get("pivot")) {
            (Some(slide), _) => Joint::Slide(direction(slide)?),
            (_, Some(pivot)) => Joint::Pivot {
                at: pivot.get("at").and_then(point3)?,
                axis: pivot.get("axis").and_then(direction)?,
            },
            _ => Joint::Fixed,
        };
        Some(Link {
            id: node.text("id")?,
            on: node.text("on"),
            joint,
            follows: follows.filter_map(follow).collect(),
            allowance: node.size("allowance"),
            runs_in: node.texts("runs-in"),
            solids: solids(node, problems),
            place: node.place.clone(),
        })
    }
}

impl Line {
    fn build(node: &Node) -> Option<Line> {
        let to = node.get("to").and_then(|n| match &n.value {
            Value::Point3(p) => Some(End::Point(p.clone())),
            _ => n.as_text().map(End::Port),
        });
        Some(Line {
            id: node.text("id")?,
            kind: node.word("kind")?.value,
            carries: node.text("carries"),
            from: node.text("from"),
            to,
            diameter: node.size("diameter"),
            bend: node.size("bend-radius"),
            length: node.size("length"),
            path: node.each("path", point3),
            note: node.text("note"),
            place: node.place.clone(),
        })
    }
}
