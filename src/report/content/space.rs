//! Behind and in front: how deep things reach, how near the controls come to anything, what comes out in which order.

use super::Told;
use crate::check::{LOOKED, Least, Note, Verdict, least_clearances, pose_words};
use crate::draw::behind::{HEADS, depth_rows};
use crate::panel::{Panel, SubjectKind};
use crate::report::document::{Block, Column, Section, Table};
use crate::units::print_length;

/// The section.
pub(super) fn section(told: &Told<'_>) -> Section {
    let mut s = Section::new("space", "Behind and in front");
    depth(told, &mut s);
    controls(told.panel, &mut s);
    order(told, &mut s);
    s.blocks.push(Block::Head("Which ways are free behind".into()));
    s.words("Of every port, in words: the table of ports under \u{201c}Ports and lines\u{201d}.");
    s
}

/// Depth terms, worst first.
fn depth(told: &Told<'_>, s: &mut Section) {
    let unit = if told.panel.unit.is_inch() { "inches" } else { "millimetres" };
    s.blocks.push(Block::Head("How deep each item reaches".into()));
    s.words(format!(
        "In {unit}, from the front face of the main sheet. Total: the body, and what its plug, hose and bend need behind it; \
         a term that is missing shows as ?, and what decides names the number that would settle it. Margin: what is left \
         beyond what the rule asks, at the worst tolerances; below zero, so much is missing. Worst first."
    ));
    let shares = [30.0, 38.0, 13.0, 13.0, 13.0, 15.0, 44.0];
    let column = |k: usize| match k {
        2..=4 => Column::number(HEADS[k], shares[k]),
        _ => Column::words(HEADS[k], shares[k]),
    };
    let columns: Vec<Column> = (0..HEADS.len()).map(column).collect();
    let mut t = Table::new("Depth terms", &columns);
    t.rows = depth_rows(told.panel, &told.findings.list);
    s.table(t, "No item of this panel has a body or a port.");
}

/// Least clearances of the controls.
fn controls(panel: &Panel, s: &mut Section) {
    s.blocks.push(Block::Head("Controls over their whole travel".into()));
    let mut all = least_clearances(panel);
    if all.is_empty() {
        s.words("No control of the aeroplane is described: whether anything comes in a control's way was not looked at.");
        return;
    }
    let unknown = panel.subjects.iter().filter(|s| is_item(s.kind));
    let unknown = unknown.filter(|s| s.parts.iter().any(|p| p.depth.is_none() && reaches(p.class))).count();
    let left = match unknown {
        0 => String::new(),
        1 => " One item whose depth is not known is left out.".into(),
        n => format!(" {n} items whose depth is not known are left out."),
    };
    s.words(format!(
        "What comes nearest to each solid of a control, all drivers in all positions together, overtravel and play included, and the pose at \
         which the gap is least; as drawn, before tolerances, what floats with all of its sway. The gap is certified: nowhere is it smaller than told. What the \
         file says that a link runs in is left out, and the hand's own room is not part of the solid.{left}"
    ));
    let gap = |l: &Least| l.nearest.as_ref().map_or(f64::INFINITY, |n| n.gap.lower);
    all.sort_by(|a, b| gap(a).total_cmp(&gap(b)).then(a.part.cmp(&b.part)));
    let columns = [
        Column::words("Control", 36.0),
        Column::words("Nearest", 36.0),
        Column::number("Least gap", 17.0),
        Column::words("At", 40.0),
        Column::words("Not known", 42.0),
    ];
    let mut t = Table::new("Least gaps of the controls", &columns);
    t.rows = all.iter().map(|l| least(panel, l)).collect();
    s.blocks.push(Block::Table(t));
}

fn is_item(kind: SubjectKind) -> bool {
    matches!(kind, SubjectKind::Placement | SubjectKind::Unit | SubjectKind::Insert)
}

/// Classes that stand behind or in front of the sheet.
fn reaches(class: crate::panel::Class) -> bool {
    use crate::panel::Class::{Body, Front, Port};
    matches!(class, Body | Front | Port)
}

fn least(panel: &Panel, l: &Least) -> Vec<String> {
    let name = panel.part_name(l.part);
    let waits = l.waits.clone().unwrap_or_else(|| "-".into());
    let (other, gap, pose) = match &l.nearest {
        None => ("-".into(), format!("over {}", print_length(LOOKED, panel.unit)), "any pose".into()),
        Some(n) if n.gap.lower <= 0.0 => {
            (panel.part_name(n.other), "they meet".into(), pose_words(panel, &n.pose))
        }
        Some(n) => {
            (panel.part_name(n.other), print_length(n.gap.lower, panel.unit), pose_words(panel, &n.pose))
        }
    };
    vec![name, other, gap, pose, waits]
}

/// What comes out, and what must come off first.
fn order(told: &Told<'_>, s: &mut Section) {
    s.blocks.push(Block::Head("What comes out, and in which order".into()));
    s.words(
        "Each item drawn straight out through the side from which it is served, its plugs taken off before. What does not come \
         out or is withheld stands first, then what waits for others.",
    );
    let columns = [Column::words("Item", 36.0), Column::words("Verdict", 15.0), Column::words("How", 120.0)];
    let mut t = Table::new("Coming out", &columns);
    let mut all: Vec<_> = told.findings.list.iter().filter(|f| f.rule.id == "comes-out").collect();
    let plain = |n: &Note| !matches!(n, Note::Says(w) | Note::Waits(w) if !w.is_empty());
    all.sort_by_key(|f| (f.verdict, plain(&f.note)));
    for f in all {
        let how = match (&f.note, f.verdict) {
            (Note::Waits(w), _) => format!("waits for {w}"),
            (Note::Says(w), _) if !w.is_empty() => w.clone(),
            (Note::BothStay, _) => {
                "does not come out, or not alone; exists and stays: reported, not judged".into()
            }
            (_, Verdict::Pass) => "comes out, nothing first".into(),
            _ => "-".into(),
        };
        t.rows.push(vec![told.panel.part_name(f.a), f.verdict.word().into(), how]);
    }
    s.table(t, "Nothing on this panel has a body that could be drawn out.");
}
