//! From the checked tree to an [`Instrument`], and what no single field can show.

use super::*;
use crate::define::node::Node;
use crate::diag::{Problem, Problems, did_you_mean};
use std::collections::BTreeMap;

impl Instrument {
    /// The source of a name.
    pub fn source_named(&self, name: &str) -> Option<&Source> {
        self.sources.iter().find(|s| s.name.as_ref() == name)
    }

    /// Builds it, with `more` sources than its own; `None` only without title and kind.
    pub(in crate::define) fn build(
        root: &Node,
        more: &[Source],
        problems: &mut Problems,
    ) -> Option<Instrument> {
        let stack = root.get("stack");
        let instrument = Instrument {
            title: root.text("instrument")?,
            kind: root.text("kind")?,
            unit: root.text("unit").and_then(|unit| Unit::named(&unit)),
            words: root.texts("words"),
            mounting: root.word("mounting"),
            service: root.word("service"),
            nominal: root.text("nominal"),
            sources: sources(root).into_iter().chain(more.iter().cloned()).collect(),
            source: root.text("source"),
            case: root.get("case").and_then(Shape::build),
            openings: root.each("openings", Opening::build),
            holes: root.each("holes", Holes::build),
            bezel: root.get("bezel").and_then(Cover::build),
            flange: root.get("flange").and_then(Cover::build),
            bodies: root.each("bodies", Solid::build),
            ports: root.each("ports", Port::build),
            ports_said: root.get("ports").is_some(),
            front: root.each("front", FrontPart::build),
            mass: root.mass("mass"),
            centre: root.point3("centre"),
            current: root.get("current").map(Currents::build),
            compass_safe: root.size("compass-safe"),
            sheet: root.get("sheet").map(Accepts::build),
            tilt: root.get("tilt").map(Tilt::build),
            label: root.flag("label"),
            unit_of_stack: stack.and_then(|s| s.get("unit")).map(StackUnit::build),
            frame_of_stack: stack.and_then(|s| s.get("frame")).map(StackFrame::build),
            note: root.text("note"),
            place: root.place.clone(),
        };
        instrument.check_ids(problems);
        check_sources(root, &instrument.sources, problems);
        instrument.check_depths(problems);
        Some(instrument)
    }

    /// Ids are part of a finding's name, so no two parts may share one within their list.
    fn check_ids(&self, problems: &mut Problems) {
        unique(self.openings.iter().map(|o| &o.id), problems);
        unique(self.holes.iter().filter_map(|h| h.id.as_ref()), problems);
        unique(self.bodies.iter().map(|b| &b.id), problems);
        unique(self.ports.iter().map(|p| &p.id), problems);
        unique(self.front.iter().map(|f| &f.id), problems);
    }

    /// A body ends further forward than it begins; a range runs upwards.
    fn check_depths(&self, problems: &mut Problems) {
        for body in &self.bodies {
            if let (Some(from), Some(to)) = (&body.from, &body.to)
                && to.of.nm() <= from.of.nm()
            {
                let message =
                    format!("body `{}` runs from {} to {}: it has no depth", *body.id, from.of, to.of);
                problems.push(
                    Problem::new("no-depth", &to.place, message)
                        .help("depth runs forward, 0 at the sheet's front face: `to` is the larger one"),
                );
            }
        }
        if let Some(Accepts { least: Some(least), most: Some(most), .. }) = &self.sheet
            && most.of.nm() < least.of.nm()
        {
            let message = format!("sheets from {} to {}: no sheet is in that range", least.of, most.of);
            problems.push(Problem::new("empty-range", &most.place, message).help("exchange the two"));
        }
    }
}

/// Tells every id that stands a second time.
pub(in crate::define) fn unique<'a>(ids: impl Iterator<Item = &'a Written<Text>>, problems: &mut Problems) {
    let mut seen: BTreeMap<&str, &Where> = BTreeMap::new();
    for id in ids {
        if let Some(first) = seen.get(id.value.as_ref()) {
            let message = format!("the id `{}` stands here a second time", id.value);
            problems.push(
                Problem::new("twice-id", &id.place, message)
                    .help(format!("the first one is at line {}; give this one another id", first.line)),
            );
        } else {
            seen.insert(&id.value, &id.place);
        }
    }
}

/// The sources of a file, in its order.
pub(in crate::define) fn sources(root: &Node) -> Vec<Source> {
    let entries = root.get("sources").map_or(&[][..], Node::entries);
    let build = |name: &Text, node: &Node| {
        Some(Source {
            name: name.clone(),
            basis: node.word("basis")?,
            document: node.text("document"),
            revision: node.text("revision"),
            who: node.text("who"),
            when: node.text("when"),
            note: node.text("note"),
            place: node.place.clone(),
        })
    };
    entries.iter().filter_map(|e| build(&e.key, &e.node)).collect()
}

/// Every `source` in the tree names one of the file's sources.
pub(in crate::define) fn check_sources(root: &Node, known: &[Source], problems: &mut Problems) {
    use crate::define::node::Value;
    let mut todo = vec![root];
    let mut tell = |name: &Text, place: &Where| {
        // one that is there and was refused has been told
        if known.iter().any(|s| s.name == *name) || root.get("sources").is_some_and(|s| s.get(name).is_some())
        {
            return;
        }
        let names = known.iter().map(|s| s.name.as_ref());
        let help = match did_you_mean(name, names) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "name it in `sources` with its basis".to_string(),
        };
        let message = format!("there is no source \"{name}\" in this file's `sources`");
        problems.push(Problem::new("unknown-source", place, message).help(help));
    };
    while let Some(node) = todo.pop() {
        match &node.value {
            Value::List(items) => todo.extend(items),
            Value::Object(entries) => {
                for entry in entries {
                    match (&entry.node.value, entry.key.as_ref()) {
                        (Value::Text(name), "source") => tell(name, &entry.node.place),
                        _ => todo.push(&entry.node),
                    }
                }
            }
            // A source that a size names itself; one that it inherits is told where it is named.
            Value::Size(size) if size.source != node.source => {
                size.source.iter().for_each(|name| tell(name, &size.place));
            }
            Value::Mass(mass) if mass.source != node.source => {
                mass.source.iter().for_each(|name| tell(name, &mass.place));
            }
            _ => {}
        }
    }
}

impl Opening {
    fn build(node: &Node) -> Option<Opening> {
        Some(Opening {
            id: node.text("id")?,
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            turn: node.angle("turn"),
            make: node.word("make"),
            source: node.source.clone(),
            place: node.place.clone(),
        })
    }
}

impl Cover {
    fn build(node: &Node) -> Option<Cover> {
        Some(Cover {
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            thickness: node.size("thickness"),
            place: node.place.clone(),
        })
    }
}

impl Solid {
    fn build(node: &Node) -> Option<Solid> {
        Some(Solid {
            id: node.text("id")?,
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            turn: node.angle("turn"),
            from: node.size("from"),
            to: node.size("to"),
            source: node.source.clone(),
            place: node.place.clone(),
        })
    }
}

impl Port {
    fn build(node: &Node) -> Option<Port> {
        let need = |n: &Node| Some(Need { term: n.text("term")?, length: n.size("length") });
        Some(Port {
            id: node.text("id")?,
            kind: node.word("kind"),
            carries: node.word("carries"),
            at: node.point("at"),
            depth: node.size("depth"),
            towards: node.word("towards"),
            diameter: node.size("diameter"),
            bend_radius: node.size("bend-radius"),
            needs: node.each("needs", need),
            side_exit: node.each("side-exit", need),
            source: node.source.clone(),
            place: node.place.clone(),
        })
    }
}

impl FrontPart {
    fn build(node: &Node) -> Option<FrontPart> {
        Some(FrontPart {
            id: node.text("id")?,
            kind: node.word("kind")?,
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            out: node.size("out"),
            hand_room: node.size("hand-room"),
            source: node.source.clone(),
            place: node.place.clone(),
        })
    }
}

impl Currents {
    fn build(node: &Node) -> Currents {
        Currents {
            continuous: node.current("continuous"),
            intermittent: node.current("intermittent"),
            peak: node.current("peak"),
            volts: node.number("volts"),
            place: node.place.clone(),
        }
    }
}

impl Accepts {
    fn build(node: &Node) -> Accepts {
        Accepts { least: node.size("least"), most: node.size("most"), place: node.place.clone() }
    }
}

impl Tilt {
    fn build(node: &Node) -> Tilt {
        Tilt {
            matters: node.flag("matters"),
            calibrated: node.angle("calibrated"),
            bears: node.angle("bears"),
            place: node.place.clone(),
        }
    }
}

impl StackUnit {
    fn build(node: &Node) -> StackUnit {
        StackUnit {
            height: node.size("height"),
            width: node.size("width"),
            set_back: node.size("set-back"),
            lock_room: node.size("lock-room"),
            place: node.place.clone(),
        }
    }
}

impl StackFrame {
    fn build(node: &Node) -> StackFrame {
        StackFrame {
            opening_width: node.size("opening-width"),
            opening_height: node.size("opening-height"),
            rail_spacing: node.size("rail-spacing"),
            joint: node.size("joint"),
            top: node.size("top").or(node.size("ends")),
            bottom: node.size("bottom").or(node.size("ends")),
            shim: node.size("shim"),
            set_back: node.size("set-back"),
            place: node.place.clone(),
        }
    }
}
