//! What a rigid group has of its own: limits, process, and how far its parts move against others.

use crate::geom::Rect;
use crate::panel::{Class, DepthMap, Hung, Panel, PartRef, Process, Subject, SubjectKind, UserLimit};
use crate::solid::Vec3;
use std::f64::consts::PI;

/// How far one part may move against another from where both are drawn, mm: a box around nothing, exact for sway.
#[derive(Clone, Debug, PartialEq)]
pub struct Play {
    /// Least of each number, none positive.
    pub low: Vec3,
    /// Greatest of each, none negative.
    pub high: Vec3,
    /// Numbers that are missing, in words; then the box holds only what is known.
    pub waits: Vec<String>,
}

impl Play {
    /// The shifts in the plane of the sheet.
    pub fn flat(&self) -> Rect {
        Rect { x0: self.low.x, y0: self.low.y, x1: self.high.x, y1: self.high.y }
    }

    /// What moves as this or as another.
    #[must_use]
    pub fn or(mut self, o: Play) -> Play {
        let (a, b) = (self.low, o.low);
        self.low = Vec3::new(a.x.min(b.x), a.y.min(b.y), a.d.min(b.d));
        let (a, b) = (self.high, o.high);
        self.high = Vec3::new(a.x.max(b.x), a.y.max(b.y), a.d.max(b.d));
        let new = o.waits.into_iter().filter(|w| !self.waits.contains(w)).collect::<Vec<_>>();
        self.waits.extend(new);
        self
    }

    /// The farthest shift along each axis, either way.
    pub fn farthest(&self) -> Vec3 {
        let most = |low: f64, high: f64| high.max(-low);
        let (l, h) = (self.low, self.high);
        Vec3::new(most(l.x, h.x), most(l.y, h.y), most(l.d, h.d))
    }

    /// A depth range with all that it sweeps.
    pub fn deep(&self, (from, to): (f64, f64)) -> (f64, f64) {
        (from + self.low.d, to + self.high.d)
    }
}

impl Panel {
    /// Rigid group of a part's subject; 0 is the fixed panel.
    pub fn group(&self, r: PartRef) -> u32 {
        self.subjects.get(r.subject as usize).map_or(0, |s| s.group)
    }

    /// The limit that a group's own file sets for a rule.
    pub fn limit(&self, rule: &str, group: u32) -> Option<&UserLimit> {
        match self.space.groups.get(group as usize) {
            Some(g) if group > 0 => g.limits.get(rule),
            _ => self.limits.get(rule),
        }
    }

    /// How the openings of a sheet are cut.
    pub fn process_of(&self, sheet: usize) -> Option<&Process> {
        self.subject_process(self.sheets.get(sheet).map_or(0, |s| s.subject))
    }

    /// How the openings of the file from which a subject comes are cut.
    pub fn subject_process(&self, subject: u32) -> Option<&Process> {
        let group = self.subjects.get(subject as usize).map_or(0, |s| s.group as usize);
        match self.space.groups.get(group) {
            Some(g) if group > 0 => g.process.as_ref(),
            _ => self.process.as_ref(),
        }
    }

    /// The depth maps that speak of a group: the carrier's, and its own file's where that says anything.
    pub fn depth_maps(&self, group: u32) -> impl Iterator<Item = &DepthMap> {
        let own = self.space.groups.get(group as usize).map(|g| &g.depth).filter(|_| group > 0);
        let own = own.filter(|d| d.elsewhere.is_some() || !d.areas.is_empty());
        std::iter::once(&self.depth).chain(own)
    }

    /// Whether a part is of a shock mount. It joins the two that sway against each other.
    pub fn is_mount(&self, r: PartRef) -> bool {
        let facts = self.subjects.get(r.subject as usize).and_then(|s| s.facts.as_ref());
        facts.is_some_and(|f| f.kind == "mount")
    }

    /// What happens to the rear of a subject; that of a unit is its stack's.
    pub fn hung(&self, subject: u32) -> Option<&Hung> {
        let s = self.subjects.get(subject as usize)?;
        let carrier = s.carrier.filter(|_| s.kind == SubjectKind::Unit);
        s.hung.as_ref().or_else(|| self.subjects.get(carrier? as usize)?.hung.as_ref())
    }

    /// How far the rear of a part drops because it hangs by its front flange, mm, and by how many degrees the group tips
    /// it: depth times the sine of the angle.
    pub fn drop(&self, r: PartRef) -> f64 {
        let Some(s) = self.subjects.get(r.subject as usize) else { return 0.0 };
        let Some(part) =
            s.parts.get(r.part as usize).filter(|p| matches!(p.class, Class::Body | Class::Port))
        else {
            return 0.0;
        };
        let front = self.sheets.get(part.sheet as usize).map_or(0.0, |sheet| sheet.front);
        let deep = part.depth.map_or(0.0, |(_, to)| (to - front).max(0.0));
        let tips = self.space.groups.get(s.group as usize).and_then(|g| g.droop).unwrap_or(0.0);
        let (own, sag) = match self.hung(r.subject) {
            Some(Hung::Droop(angle)) => (*angle, 0.0),
            Some(Hung::Sag(mm)) => (0.0, *mm),
            _ => (0.0, 0.0),
        };
        deep * libm::sin((tips + own) * (PI / 180.0)) + sag
    }

    /// The farthest that any part may move against any other, mm.
    pub fn most_play(&self) -> f64 {
        let sway = |g: &crate::panel::Group| {
            let s = g.sway.unwrap_or_default();
            let ways = [s.left, s.right, s.up, s.down, s.forward, s.aft];
            ways.into_iter().fold(0.0, f64::max) + g.sag.unwrap_or(0.0)
        };
        let mut sways: Vec<f64> = self.space.groups.iter().map(sway).collect();
        sways.sort_by(|a, b| b.total_cmp(a));
        let hangs = |(k, s): &(usize, &Subject)| {
            let tips = self.space.groups.get(s.group as usize).is_some_and(|g| g.droop.is_some());
            tips || matches!(self.hung(*k as u32), Some(Hung::Droop(_) | Hung::Sag(_)))
        };
        let mut drops = 0.0_f64;
        for (k, s) in self.subjects.iter().enumerate().filter(hangs) {
            for p in 0..s.parts.len() {
                drops = drops.max(self.drop(PartRef { subject: k as u32, part: p as u32 }));
            }
        }
        // flat and along the depth at once
        2.0 * (sways.iter().take(2).sum::<f64>() + 2.0 * drops)
    }

    /// Whether two subjects may move against each other at all; quick.
    fn may_play(&self, a: PartRef, b: PartRef) -> bool {
        let hangs = |r: PartRef| matches!(self.hung(r.subject), Some(Hung::Droop(_) | Hung::Sag(_)));
        !self.space.groups.is_empty() || hangs(a) || hangs(b)
    }

    /// How far the first part may move against the second.
    pub fn play(&self, a: PartRef, b: PartRef) -> Play {
        let mut play = Play { low: Vec3::ZERO, high: Vec3::ZERO, waits: Vec::new() };
        if a.subject == b.subject || !self.may_play(a, b) {
            return play;
        }
        play.low.y -= self.drop(a);
        play.high.y += self.drop(b);
        let (of, to) = (self.group(a), self.group(b));
        // a mount gives way itself: it is taken where it is drawn
        if of == to || self.space.groups.is_empty() || self.is_mount(a) || self.is_mount(b) {
            return play;
        }
        for (group, back) in [(of, false), (to, true)] {
            let Some(g) = self.space.groups.get(group as usize).filter(|_| group > 0) else { continue };
            let sag = g.sag.unwrap_or(0.0);
            let Some(s) = g.sway else {
                play.waits.push(format!("how far {} sways on its mounts (sway)", g.id));
                continue;
            };
            let low = Vec3::new(-s.left, -s.down - sag, -s.aft);
            let high = Vec3::new(s.right, s.up, s.forward);
            if back {
                play.low = play.low - high;
                play.high = play.high - low;
            } else {
                play.low += low;
                play.high += high;
            }
        }
        play
    }
}
