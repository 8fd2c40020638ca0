//! One relation of one rule put to two named parts, or to one part and its sheet.

use super::apart::{self, How};
use super::judge::{Case, Measure, Open, judge, most_loss};
use super::plan::Row;
use super::{Finding, From, Interval, Note, Relation, Verdict, covers, inside};
use crate::panel::{Panel, Part, PartRef, State};

/// A row's finding about two parts, the first in the role of the row's first. `None`: the rule does
/// not speak of them, or they pass, worst tolerance included, with more than `reach` to spare as drawn.
pub(super) fn between(panel: &Panel, row: &Row, a: PartRef, b: PartRef, reach: f64) -> Option<Finding> {
    let (pa, pb) = (panel.part(a), panel.part(b));
    let (asked, waits) = row.asked(panel, a, Some(b))?;
    let mut open = waits.map_or(Open::Nothing, Open::Asked);
    // that two outlines differ by much says nothing to anybody
    let differ = matches!(row.relation, Relation::Apart { measure: From::Outlines, .. });
    let reach = if differ { 0.0 } else { reach };
    let measure = match *row.relation {
        Relation::Apart { same_sheet: true, .. } if pa.sheet != pb.sheet => None,
        Relation::Apart { measure, depth, touch, .. } => {
            let how = How { measure, depth, touch };
            if depth && (pa.depth.is_none() || pb.depth.is_none()) {
                open = Open::Data;
            }
            let far = asked + reach.max(most_loss(pa) + most_loss(pb));
            if apart::at_least(pa, pb, how) > far { None } else { apart::measure(pa, pb, how, far) }
        }
        Relation::Covers { own, .. } if pa.sheet == pb.sheet => covers::measure(pa, pb, own),
        _ => None,
    }?;
    let stays = stays(panel, a) && stays(panel, b);
    finding(panel, row, (a, Some(b)), Case { measure, asked, open, stays }, reach)
}

/// A row's finding about a part in its sheet; `None` as for [`between`].
pub(super) fn within_sheet(panel: &Panel, row: &Row, a: PartRef, reach: f64) -> Option<Finding> {
    let Relation::Inside { measure, .. } = *row.relation else { return None };
    let part = panel.part(a);
    let sheet = panel.sheets.get(part.sheet as usize)?;
    let b = PartRef { subject: sheet.subject, part: 0 };
    let edge = edge(panel, b)?;
    let (asked, waits) = row.asked(panel, a, None)?;
    let far = asked + reach.max(most_loss(part) + most_loss(edge));
    let measure = inside::measure(part, edge, measure, far)?;
    let open = waits.map_or(Open::Nothing, Open::Asked);
    let stays = stays(panel, a) && stays(panel, b);
    finding(panel, row, (a, Some(b)), Case { measure, asked, open, stays }, reach)
}

fn edge(panel: &Panel, r: PartRef) -> Option<&Part> {
    panel.subjects.get(r.subject as usize)?.parts.first()
}

fn stays(panel: &Panel, r: PartRef) -> bool {
    panel.subject(r).state == State::Existing
}

fn finding(
    panel: &Panel,
    row: &Row,
    (a, b): (PartRef, Option<PartRef>),
    case: Case,
    reach: f64,
) -> Option<Finding> {
    let Measure { value, worst, at, .. } = case.measure;
    let (verdict, mut note) = judge(&case);
    if verdict == Verdict::Pass && note == Note::None && value - case.asked > reach {
        return None;
    }
    if verdict == Verdict::Withheld && case.open == Open::Data {
        let unknown = [Some(a), b].into_iter().flatten().filter(|r| panel.part(*r).depth.is_none());
        let names: Vec<String> = unknown.map(|r| format!("depth of {}", panel.part_name(r))).collect();
        note = Note::Waits(names.join(", "));
    }
    Some(Finding {
        rule: row.rule,
        a,
        b,
        verdict,
        measured: Some(Interval::exact(value)),
        asked: Some(case.asked),
        loss: value - worst,
        at,
        note,
    })
}
