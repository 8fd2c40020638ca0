//! From the checked tree to a [`Panel`], and what no single field can show.

use super::table::TITLE_FIELDS;
use super::*;
use crate::define::instrument::{check_sources, sources, unique};
use crate::define::node::{Node, Value};
use crate::define::words::Word;
use crate::diag::{Problem, Problems};
use std::collections::BTreeSet;

impl Panel {
    /// Builds it; `None` only without a title.
    pub(in crate::define) fn build(root: &Node, problems: &mut Problems) -> Option<Panel> {
        let changes = root.get("change").map_or(&[][..], Node::entries);
        let limits = root.get("limits").map_or(&[][..], Node::entries);
        let flanges = root.each("flanges", |node| Zone::build(node, true));
        let refused = |key: &str| root.get(key).is_some_and(|n| matches!(n.value, Value::Refused(_)));
        let mut panel = Panel {
            title: root.text("panel")?,
            dropped: BTreeSet::new(),
            below_refused: refused("builds-on") || refused("remove"),
            unit: root.text("unit").and_then(|unit| Unit::named(&unit)),
            builds_on: root.text("builds-on"),
            remove: root.texts("remove"),
            change: changes
                .iter()
                .map(|e| Change::build(Written::new(e.key.clone(), e.key_place.clone()), &e.node))
                .collect(),
            as_found: root.flag("as-found"),
            sheet: root.get("sheet").map(Sheet::build),
            tilt: root.angle("tilt"),
            eye: root.size("eye"),
            layers: root.each("layers", Layer::build),
            inserts: root.each("inserts", Insert::build),
            floating: root.each("floating", Floating::build),
            holes: root.each("holes", Holes::build),
            old_openings: root.each("old-openings", OldOpening::build),
            zones: root.each("zones", |node| Zone::build(node, false)).into_iter().chain(flanges).collect(),
            depth: root.get("depth").map(Depth::build),
            place: root.each("place", Placement::build),
            rows: root.each("rows", Row::build),
            stacks: root.each("stacks", Stack::build),
            labels: root.each("labels", Label::build),
            together: root.get("together").map(|list| {
                list.items().iter().map(|g| g.items().iter().filter_map(Node::as_text).collect()).collect()
            }),
            arrange: root.get("arrange").map(Arrange::build),
            limits: limits
                .iter()
                .filter_map(|e| Limit::build(Written::new(e.key.clone(), e.key_place.clone()), &e.node))
                .collect(),
            process: root.get("process").and_then(Process::build),
            tolerances: root.get("tolerances").map(Tolerances::build),
            accepted: root.each("accepted", |node| {
                Some(Accepted { finding: node.text("finding")?, reason: Reason::build(node)? })
            }),
            cut_anyway: root.get("reasons").and_then(|r| r.get("cut-anyway")).and_then(Reason::build),
            sources: sources(root),
            source: root.text("source"),
            title_block: title_block(root),
            revisions: root.get("title").map(|t| t.each("revisions", Revision::build)).unwrap_or_default(),
            space: Space::build(root, problems),
            note: root.text("note"),
            span: root.place.clone(),
        };
        let mut said = BTreeSet::new();
        ids_of(root, &mut said);
        panel.ids().into_iter().for_each(|id| {
            said.remove(&id.value);
        });
        panel.space.inner_ids().for_each(|id| {
            said.remove(id);
        });
        panel.dropped = said;
        unique(panel.ids().into_iter(), problems);
        check_sources(root, &panel.sources, problems);
        panel.check_rows(problems);
        panel.check_sheet(problems);
        Some(panel)
    }

    /// Every id of the file: they share one space, because findings and relations name things by them.
    pub fn ids(&self) -> Vec<&Written<Text>> {
        let mut ids: Vec<&Written<Text>> = Vec::new();
        ids.extend(self.layers.iter().map(|x| &x.id));
        ids.extend(self.inserts.iter().map(|x| &x.id));
        ids.extend(self.floating.iter().map(|x| &x.id));
        ids.extend(self.holes.iter().filter_map(|x| x.id.as_ref()));
        ids.extend(self.old_openings.iter().map(|x| &x.id));
        ids.extend(self.zones.iter().map(|x| &x.id));
        ids.extend(self.depth.iter().flat_map(|d| &d.areas).filter_map(|a| a.id.as_ref()));
        ids.extend(self.place.iter().map(|x| &x.id));
        ids.extend(self.rows.iter().filter_map(|x| x.id.as_ref()));
        ids.extend(self.rows.iter().flat_map(|r| &r.items).map(|x| &x.id));
        ids.extend(self.stacks.iter().map(|x| &x.id));
        ids.extend(self.stacks.iter().flat_map(|s| &s.units).filter_map(|u| u.id.as_ref()));
        ids.extend(self.labels.iter().map(|x| &x.id));
        ids.extend(self.space.ids());
        ids
    }

    /// Every item of a row has a definition.
    fn check_rows(&self, problems: &mut Problems) {
        // a row in which something was refused has been told of
        let whole = self.rows.iter().filter(|row| !problems.within(&row.place)).collect::<Vec<_>>();
        for item in whole.into_iter().flat_map(|row| &row.items) {
            if item.instrument.is_none() {
                let message = format!("`{}` names no instrument, and neither does its row", item.id.value);
                problems.push(
                    Problem::new("missing-instrument", &item.place, message)
                        .help("add \"instrument\" to the row, or to the item"),
                );
            }
        }
    }

    /// A sheet that stands for itself has an outline.
    fn check_sheet(&self, problems: &mut Problems) {
        if let Some(sheet) = &self.sheet
            && sheet.outline.is_none()
            && self.builds_on.is_none()
            // A refused outline has been told already.
            && problems.is_empty()
        {
            problems.push(
                Problem::new("missing-outline", &sheet.place, "the sheet has no `outline`").help(
                    "add \"outline\": \"M 0 0 H 400 V 120 H 0 Z\", a list of lines and arcs, or a file",
                ),
            );
        }
    }
}

/// Every id that a file gives to something, built or not.
fn ids_of(node: &Node, found: &mut BTreeSet<Text>) {
    if let Value::Refused(ids) = &node.value {
        found.extend(ids.iter().cloned());
    }
    for e in node.entries() {
        match e.key.as_ref() {
            "id" => found.extend(e.node.as_text().map(|t| t.value)),
            "ids" => found.extend(e.node.items().iter().filter_map(Node::as_text).map(|t| t.value)),
            _ => ids_of(&e.node, found),
        }
    }
    node.items().iter().for_each(|item| ids_of(item, found));
}

fn title_block(root: &Node) -> Vec<(&'static str, Written<Text>)> {
    let Some(block) = root.get("title") else { return Vec::new() };
    TITLE_FIELDS.iter().filter_map(|f| Some((f.key, block.text(f.key)?))).collect()
}

impl Revision {
    fn build(node: &Node) -> Option<Revision> {
        Some(Revision {
            index: node.text("index")?,
            change: node.text("change")?,
            date: node.text("date"),
            by: node.text("by"),
        })
    }
}

impl Sheet {
    fn build(node: &Node) -> Sheet {
        let answer = node.get("structure");
        Sheet {
            outline: node.get("outline").and_then(Outline::build),
            material: node.text("material"),
            thickness: node.size("thickness"),
            coat: node.size("coat"),
            new: node.flag("new"),
            survey: node.size("survey"),
            structure: node.word("structure").or(answer.and_then(|a| a.word("is"))),
            structure_by: answer.and_then(|a| a.text("by")),
            place: node.place.clone(),
        }
    }
}

impl Layer {
    fn build(node: &Node) -> Option<Layer> {
        let openings = node.get("openings").filter(|n| matches!(n.value, Value::List(_)));
        Some(Layer {
            id: node.text("id")?,
            role: node.word("role")?,
            side: node.word("side"),
            material: node.text("material"),
            thickness: node.size("thickness"),
            outline: node.get("outline").and_then(Outline::build),
            at: node.point("at"),
            openings: openings.map(|list| list.items().iter().filter_map(OldOpening::build).collect()),
            exists: node.is("exists"),
            because: node.text("because"),
            place: node.place.clone(),
        })
    }
}

impl Insert {
    fn build(node: &Node) -> Option<Insert> {
        Some(Insert {
            id: node.text("id")?,
            outline: node.get("outline").and_then(Outline::build)?,
            at: node.point("at")?,
            turn: node.angle("turn"),
            material: node.text("material"),
            thickness: node.size("thickness"),
            coat: node.size("coat"),
            opening: node.get("opening").and_then(Shape::build),
            screws: node.each("screws", Holes::build),
            lies: node.word("lies"),
            kept: node.is("kept"),
            place: node.place.clone(),
        })
    }
}

impl OldOpening {
    fn build(node: &Node) -> Option<OldOpening> {
        Some(OldOpening {
            id: node.text("id")?,
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            turn: node.angle("turn"),
            on: node.text("on"),
            stays: node.flag("stays").is_none_or(|stays| stays.value),
            survey: node.size("survey"),
            note: node.text("note"),
            place: node.place.clone(),
        })
    }
}

impl Zone {
    fn build(node: &Node, flange: bool) -> Option<Zone> {
        let named = node.texts("forbids");
        Some(Zone {
            id: node.text("id")?,
            shape: node.get("shape").and_then(Shape::build)?,
            at: node.point("at"),
            turn: node.angle("turn"),
            forbids: if flange {
                vec![Forbids::Cut]
            } else {
                named.iter().filter_map(|word| Forbids::named(word)).collect()
            },
            flange,
            because: node.text("because"),
            place: node.place.clone(),
        })
    }
}

impl Depth {
    fn build(node: &Node) -> Depth {
        let area = |node: &Node| {
            Some(Area {
                id: node.text("id"),
                shape: node.get("shape").and_then(Shape::build)?,
                at: node.point("at"),
                turn: node.angle("turn"),
                available: node.size("available"),
                place: node.place.clone(),
            })
        };
        Depth { default: node.size("default"), areas: node.each("areas", area), place: node.place.clone() }
    }
}

impl Limit {
    fn build(rule: Written<Text>, node: &Node) -> Option<Limit> {
        Some(Limit {
            rule,
            at_least: node.amount("at-least"),
            at_most: node.amount("at-most"),
            because: node.text("because")?,
            place: node.place.clone(),
        })
    }
}

impl Process {
    fn build(node: &Node) -> Option<Process> {
        Some(Process {
            kind: node.word("kind")?,
            tool_radius: node.size("tool-radius"),
            kerf: node.size("kerf"),
            spot: node.size("spot"),
            compensates: node.word("compensates"),
            tolerance: node.size("tolerance"),
            place: node.place.clone(),
        })
    }
}

impl Tolerances {
    fn build(node: &Node) -> Tolerances {
        Tolerances {
            position: node.size("position"),
            size: node.size("size"),
            survey: node.size("survey"),
            place: node.place.clone(),
        }
    }
}

impl Reason {
    fn build(node: &Node) -> Option<Reason> {
        Some(Reason { because: node.text("because")?, by: node.text("by")?, place: node.place.clone() })
    }
}
