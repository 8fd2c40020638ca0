//! From the checked tree to a [`Survey`].

use super::*;
use crate::define::instrument::{check_sources, sources, unique};
use crate::define::node::Node;
use crate::diag::Problems;

impl Survey {
    /// Builds it; `None` only without a title.
    pub(in crate::define) fn build(root: &Node, problems: &mut Problems) -> Option<Survey> {
        let points = root.each("points", |n| Mark::build(n, false));
        let circles = root.each("circles", |n| Mark::build(n, true));
        let tools = root.get("tools").map_or(&[][..], Node::entries);
        let survey = Survey {
            title: root.text("survey")?,
            unit: root.text("unit").and_then(|unit| Unit::named(&unit)),
            datum: root.get("datum").and_then(|n| {
                Some(Datum { origin: n.text("origin")?, along: n.text("along"), at: n.point("at") })
            }),
            points: points.into_iter().chain(circles).collect(),
            tools: tools.iter().filter_map(|e| Tool::build(&e.key, &e.node)).collect(),
            readings: root.each("readings", Reading::build),
            conditions: root.each("conditions", Condition::build),
            photographs: root.each("photographs", Photograph::build),
            behind: root.get("behind").map(Behind::build).unwrap_or_default(),
            pairs: root.each("pairs", |n| {
                let two: Vec<Written<Text>> = n.items().iter().filter_map(Node::as_text).collect();
                two.try_into().ok()
            }),
            as_found: root.get("as-found").map(|n| AsFound {
                outline: n.each("outline", Corner::build),
                openings: n.each("openings", |o| {
                    Some(Opening {
                        id: o.text("id")?,
                        circle: o.text("circle"),
                        points: o.each("points", Corner::build),
                    })
                }),
                material: n.text("material"),
                thickness: n.size("thickness"),
                place: n.place.clone(),
            }),
            span: root.place.clone(),
        };
        unique(survey.points.iter().map(|p| &p.id), problems);
        let behind = &survey.behind;
        unique(behind.probes.iter().map(|p| &p.id), problems);
        let others = behind.areas.iter().map(|a| &a.id).chain(behind.obstacles.iter().map(|o| &o.id));
        unique(others.chain(behind.controls.iter().map(|c| &c.id)), problems);
        for c in &behind.controls {
            unique(c.marks.iter().map(|m| &m.id), problems);
        }
        unique(survey.photographs.iter().map(|p| &p.id), problems);
        if let Some(found) = &survey.as_found {
            unique(found.openings.iter().map(|o| &o.id), problems);
        }
        check_sources(root, &sources(root), problems);
        Some(survey)
    }
}

impl Mark {
    fn build(node: &Node, round: bool) -> Option<Mark> {
        if let Some(id) = node.as_text() {
            return Some(Mark { id, round, at: None, depth: None, sides: Vec::new() });
        }
        let sides = [Side::Above, Side::Below, Side::Left, Side::Right];
        Some(Mark {
            id: node.text("id")?,
            round,
            at: node.point("at"),
            depth: node.length("depth"),
            sides: sides.into_iter().filter_map(|s| Some((s, node.text(s.key())?))).collect(),
        })
    }
}

impl Tool {
    fn build(name: &Text, node: &Node) -> Option<Tool> {
        Some(Tool {
            name: name.clone(),
            kind: node.word("kind")?,
            deviation: node.length("deviation"),
            starts_at: node.length("starts-at"),
            zero_error: node.length("zero-error"),
            find_zero: node.is("find-zero-error"),
            source: node.text("source").map(|s| s.value),
        })
    }
}

impl Reading {
    fn build(node: &Node) -> Option<Reading> {
        const KEYS: [(&str, What); 10] = [
            ("distance", What::Distance),
            ("inside", What::Inside),
            ("outside", What::Outside),
            ("diameter", What::Diameter),
            ("radius", What::Radius),
            ("offset", What::Offset),
            ("along", What::Along),
            ("gap", What::Gap),
            ("up", What::Up),
            ("right", What::Right),
        ];
        let (key, what) = KEYS.into_iter().find(|(key, _)| node.get(key).is_some())?;
        let of = match node.text(key) {
            Some(one) => vec![one],
            None => node.texts(key),
        };
        let wanted = match what {
            What::Diameter | What::Radius => 1,
            What::Offset | What::Along | What::Gap => 3,
            _ => 2,
        };
        (of.len() == wanted).then_some(())?;
        Some(Reading {
            what,
            of,
            reads: node.length("reads")?,
            tool: node.text("tool"),
            deviation: node.length("deviation"),
            place: node.place.clone(),
        })
    }
}

impl Condition {
    fn build(node: &Node) -> Option<Condition> {
        const KEYS: [(&str, Holds, usize); 5] = [
            ("line", Holds::Line, 3),
            ("level", Holds::Level, 2),
            ("plumb", Holds::Plumb, 2),
            ("square", Holds::Square, 3),
            ("same-size", Holds::SameSize, 2),
        ];
        let (holds, of, least) = match node.text("circle") {
            Some(circle) => {
                (Holds::Circle, std::iter::once(circle).chain(node.texts("through")).collect(), 2)
            }
            None => {
                let (key, holds, least) = KEYS.into_iter().find(|(key, ..)| node.get(key).is_some())?;
                (holds, node.texts(key), least)
            }
        };
        let of: Vec<Written<Text>> = of;
        (of.len() >= least).then_some(())?;
        Some(Condition { holds, of, deviation: node.length("deviation"), place: node.place.clone() })
    }
}

impl Corner {
    pub(super) fn build(node: &Node) -> Option<Corner> {
        if let Some(to) = node.as_text() {
            return Some(Corner { to, radius: None, through: None });
        }
        Some(Corner { to: node.text("to")?, radius: node.size("radius"), through: node.text("through") })
    }
}
