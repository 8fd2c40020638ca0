//! One relation of one rule put to two named parts, or to one part and its sheet.

use super::apart::{self, How};
use super::joined::joined;
use super::judge::{Case, Measure, Open, judge, most_loss};
use super::plan::Row;
use super::{Exempt, Finding, From, Note, Relation, Verdict, covers, insert, inside};
use crate::panel::{Panel, PartRef, State};

/// What a row says of two parts, the first in the role of the row's first. `None`: it does not speak
/// of them, or they pass, worst tolerance included, with more than `reach` to spare as drawn. `loss` is
/// the most that the tolerances of the two can take away.
pub(super) fn ask(panel: &Panel, row: &Row, a: PartRef, b: PartRef, reach: f64, loss: f64) -> Option<Case> {
    let (pa, pb) = (panel.part(a), panel.part(b));
    let (asked, waits) = row.asked(panel, a, Some(b))?;
    let mut open = waits.map_or(Open::Nothing, Open::Asked);
    if !speaks(panel, row, a, b) {
        return None;
    }
    let measure = match *row.relation {
        Relation::Apart { measure, depth, touch, .. } => {
            let how = How { measure, depth, touch };
            if depth && (pa.depth.is_none() || pb.depth.is_none()) {
                open = Open::Data;
            }
            // that two outlines differ by much says nothing to anybody
            let reach = if measure == From::Outlines { 0.0 } else { reach };
            let far = asked + reach.max(loss);
            let play = panel.play(a, b);
            if !play.waits.is_empty() {
                open = Open::Sway;
            }
            match measure {
                From::Boundary if play.low != play.high => apart::measure_moving(pa, pb, how, far, &play),
                _ if apart::at_least(pa, pb, how) > far => None,
                _ => apart::measure(pa, pb, how, far),
            }
        }
        Relation::Covers { own, .. } => covers::measure(pa, pb, own),
        _ => None,
    }?;
    let stays = stays(panel, a) && stays(panel, b);
    Case { measure, asked, open, stays }.within(reach)
}

/// Whether a row speaks of two parts in their roles, wherever they stand.
pub(super) fn speaks(panel: &Panel, row: &Row, a: PartRef, b: PartRef) -> bool {
    let one_sheet = panel.part(a).sheet == panel.part(b).sheet;
    match *row.relation {
        Relation::Apart { same_sheet: true, .. } | Relation::Covers { .. } if !one_sheet => false,
        Relation::Apart { .. } if joined(panel, a, b) => false,
        Relation::Apart { exempt: Exempt::OnIt, .. } => !insert::on_it(panel, a, b),
        Relation::Apart { exempt: Exempt::Behind, .. } => !insert::hides(panel, a, b),
        _ => true,
    }
}

/// What a row says of a part in its sheet, and the outline that it was measured against; `None` as for
/// [`ask`].
pub(super) fn ask_in_sheet(
    panel: &Panel,
    row: &Row,
    a: PartRef,
    reach: f64,
    loss: f64,
) -> Option<(PartRef, Case)> {
    let Relation::Inside { measure, .. } = *row.relation else { return None };
    let part = panel.part(a);
    let sheet = panel.sheets.get(part.sheet as usize)?;
    let b = PartRef { subject: sheet.subject, part: 0 };
    let edge = panel.subjects.get(b.subject as usize)?.parts.first()?;
    let (asked, waits) = row.asked(panel, a, None)?;
    let measure = inside::measure(part, edge, measure, asked + reach.max(loss + most_loss(edge)))?;
    let open = waits.map_or(Open::Nothing, Open::Asked);
    let stays = stays(panel, a) && stays(panel, b);
    Some((b, Case { measure, asked, open, stays }.within(reach)?))
}

impl Case {
    /// Nothing where it passes with more to spare than is of interest.
    fn within(self, reach: f64) -> Option<Case> {
        if self.passes() && self.margin() > reach { None } else { Some(self) }
    }
}

/// Whether a part exists and stays, or is cut already.
fn stays(panel: &Panel, r: PartRef) -> bool {
    panel.subject(r).state == State::Existing || panel.part(r).there
}

/// Judges an answer and writes it as a finding.
pub(super) fn finding(panel: &Panel, row: &Row, a: PartRef, b: PartRef, case: &Case) -> Finding {
    let Measure { value, worst, at, .. } = case.measure;
    let (verdict, mut note) = judge(case);
    if verdict == Verdict::Withheld && case.open == Open::Data {
        let unknown = [a, b].into_iter().filter(|r| panel.part(*r).depth.is_none());
        let names: Vec<String> = unknown.map(|r| format!("depth of {}", panel.part_name(r))).collect();
        note = Note::Waits(names.join(", "));
    }
    Finding {
        rule: row.rule,
        a,
        b: Some(b),
        verdict,
        measured: Some(case.measure.interval()),
        asked: Some(case.asked),
        loss: value - worst,
        at,
        space: None,
        note,
    }
}
