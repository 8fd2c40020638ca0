//! A resolved panel moved into its place on another: every index, name and depth of it.

use super::super::scene::number;
use crate::define::Text;
use crate::diag::{Problem, Problems, Where};
use crate::geom::{Transform, Vec2};
use crate::panel::{
    Accepted, DepthArea, Detail, End, Group, Line, Panel, Part, PartRef, Sheet, SheetRole, Subject,
    SubjectKind,
};
use crate::solid::{Pose, Solid, Vec3};
use std::sync::Arc;

/// Where a floating panel goes.
pub(super) struct Place<'p> {
    /// Its id.
    pub id: &'p Text,
    /// From its datum to the carrier's, mm.
    pub by: Vec3,
    /// Where its file is named.
    pub said: &'p Where,
}

/// The move of one panel into another.
struct Move<'p> {
    place: &'p Place<'p>,
    shift: Transform,
    pose: Pose,
    /// Number of its group.
    group: u32,
    /// Sheets that the carrier had.
    sheets: usize,
    /// Subjects that the carrier had.
    base: usize,
    /// New index of each of its subjects; `None`: it is left to the carrier's file.
    index: Vec<Option<u32>>,
}

/// Lays a panel in.
pub(super) fn into(
    panel: &mut Panel,
    inner: Panel,
    group: Group,
    place: &Place<'_>,
    problems: &mut Problems,
) {
    let base = panel.subjects.len();
    let mut next = number(base);
    let mut index = Vec::new();
    for s in &inner.subjects {
        let stays = taken_over(panel, s, place, problems);
        index.push(stays.then_some(next));
        next += u32::from(stays);
    }
    let m = Move {
        place,
        shift: Transform::shift(Vec2::new(place.by.x, place.by.y)),
        pose: Pose::shift(place.by),
        group: number(panel.space.groups.len()),
        sheets: panel.sheets.len(),
        base,
        index,
    };
    let Panel { sheets, subjects, space, depth, accepted, remarks, .. } = inner;
    panel.sheets.extend(sheets.into_iter().map(|s| m.sheet(s)));
    let left = subjects.into_iter().zip(&m.index).filter(|(_, new)| new.is_some());
    let moved: Vec<Subject> = left.map(|(s, _)| m.subject(s)).collect();
    panel.subjects.extend(moved);
    panel.space.lines.extend(space.lines.into_iter().filter_map(|l| m.line(l)));
    let mut group = group;
    group.depth.elsewhere = depth.elsewhere.map(|e| e + place.by.d);
    group.depth.areas = depth.areas.into_iter().map(|a| m.area(a)).collect();
    panel.space.groups.push(group);
    panel.accepted.extend(accepted.into_iter().map(|a| m.accepted(a)));
    panel.remarks.extend(remarks.into_iter().map(|r| format!("{}: {r}", place.id)));
}

/// Whether a subject comes along. What stands or moves in the airframe belongs to the carrier's file, where both panels
/// are asked about it: of two of one name the carrier's holds.
fn taken_over(panel: &mut Panel, s: &Subject, place: &Place<'_>, problems: &mut Problems) -> bool {
    let held = panel.subjects.iter().any(|o| o.id == s.id && o.kind == s.kind);
    match s.kind {
        SubjectKind::Obstacle if held => {
            let id = place.id;
            panel
                .remarks
                .push(format!("{id}: where {} stands is taken from the carrier's file, not its own", s.id));
            false
        }
        SubjectKind::Control if held => {
            let id = place.id;
            panel
                .remarks
                .push(format!("{id}: how {} moves is taken from the carrier's file, not its own", s.id));
            false
        }
        SubjectKind::Control => {
            let message = format!("the control `{}` stands in the floating panel's file alone", s.id);
            let help =
                "describe it in this panel's file too: there both panels are asked to keep clear of it";
            problems.push(Problem::new("control-of-floating", place.said, message).help(help));
            false
        }
        _ => true,
    }
}

impl Move<'_> {
    fn id(&self, own: &str) -> String {
        format!("{}:{own}", self.place.id)
    }

    fn new_index(&self, old: u32) -> Option<u32> {
        self.index.get(old as usize).copied().flatten()
    }

    fn part_ref(&self, r: PartRef) -> Option<PartRef> {
        Some(PartRef { subject: self.new_index(r.subject)?, part: r.part })
    }

    fn sheet(&self, s: Sheet) -> Sheet {
        Sheet {
            id: self.id(&s.id),
            role: if s.role == SheetRole::Main { SheetRole::Floating } else { s.role },
            layer_of: s.layer_of.map(|k| k + self.sheets),
            subject: self.new_index(s.subject).unwrap_or(s.subject),
            outline: self.shift.contour(&s.outline),
            front: s.front + self.place.by.d,
            ..s
        }
    }

    fn subject(&self, mut s: Subject) -> Subject {
        // what stands in the airframe does not ride on the panel
        let fixed = s.kind == SubjectKind::Obstacle;
        s.id = self.id(&s.id);
        if s.kind == SubjectKind::Sheet && s.title == "sheet" {
            s.title = format!("floating panel {}", self.place.id);
        }
        s.at = self.shift.point(s.at);
        s.sheet += number(self.sheets);
        s.group = if fixed { 0 } else { self.group };
        s.carrier = s.carrier.and_then(|c| self.new_index(c));
        if s.units.start < s.units.end {
            let first = self.new_index(s.units.start).unwrap_or(s.units.start);
            s.units = first..first + (s.units.end - s.units.start);
        }
        for p in &mut s.parts {
            self.part(p);
        }
        s
    }

    fn part(&self, p: &mut Part) {
        p.sheet += number(self.sheets);
        p.contour = self.shift.contour(&p.contour);
        p.centre = self.shift.point(p.centre);
        p.depth = p.depth.map(|(from, to)| (from + self.place.by.d, to + self.place.by.d));
        for t in p.terms.iter_mut().filter(|t| t.key != 0) {
            t.key = t.key.saturating_add(number(self.base));
        }
        match &mut p.detail {
            Detail::Obstacle { solid, .. } | Detail::Moving { solid, .. } | Detail::Line { solid, .. } => {
                let moved: Solid = solid.moved(&self.pose);
                *solid = Arc::new(moved);
            }
            Detail::Label { of: Some(of), .. } => *of = self.id(of),
            _ => {}
        }
    }

    fn line(&self, l: Line) -> Option<Line> {
        let to = match l.to {
            Some(End::Port(r)) => self.part_ref(r).map(End::Port),
            Some(End::Point(p)) => Some(End::Point(p + self.place.by)),
            None => None,
        };
        let from = l.from.and_then(|r| self.part_ref(r));
        Some(Line { subject: self.new_index(l.subject)?, from, to, ..l })
    }

    fn area(&self, a: DepthArea) -> DepthArea {
        DepthArea {
            id: self.id(&a.id),
            contour: self.shift.contour(&a.contour),
            available: a.available.map(|d| d + self.place.by.d),
            ..a
        }
    }

    /// `web/a.hole/b.hole` of its own file is `web/centre:a.hole/centre:b.hole` here.
    fn accepted(&self, a: Accepted) -> Accepted {
        let mut names = a.finding.split('/');
        let mut finding = names.next().unwrap_or_default().to_string();
        for name in names {
            finding.push('/');
            finding.push_str(&self.id(name));
        }
        Accepted { finding, ..a }
    }
}
