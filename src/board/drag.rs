//! Items under a hand: what moves with them, what the rules say at each place, without touching the text.

use super::session::Session;
use crate::check::{self, Finding, Findings};
use crate::edit::Refusal;
use crate::geom::{Contour, Transform, Vec2, length};
use crate::panel::{Panel, Subject, SubjectKind};
use crate::place::Question;

/// Step by which it is tried what follows, mm.
const STEP: f64 = 0.01;

/// A drag.
pub struct Drag {
    ids: Vec<String>,
    panel: Panel,
    start: Panel,
    findings: Findings,
    before: Findings,
    /// Subjects that move, each with where it goes for a millimetre to the right and up.
    pub follow: Vec<(usize, [Vec2; 2])>,
    /// Why the item can only be put at coordinates.
    pub asks: Option<String>,
    /// Nothing but shifts happens; else the whole panel is read again for every place.
    shifts: bool,
}

impl Drag {
    /// Takes hold of items.
    ///
    /// # Errors
    /// An item that is not there or is locked.
    pub fn of(session: &Session, ids: &[String]) -> Result<Drag, Refusal> {
        let panel = session.panel.clone();
        let mut asks = None;
        let mut follow = Vec::new();
        let mut shifts = true;
        let tried = [Vec2::new(STEP, 0.0), Vec2::new(0.0, STEP)].map(|by| session.moved(ids, by));
        match tried {
            [Ok((_, x)), Ok((_, y))] => {
                for (k, s) in panel.subjects.iter().enumerate() {
                    let by = [&x, &y].map(|p| {
                        let other = p.subjects.get(k).filter(|o| o.id == s.id);
                        shifts &= other.is_some_and(|o| is_shift(s, o));
                        let d = other.map_or(Vec2::ZERO, |o| o.at - s.at) / STEP;
                        Vec2::new((d.x * 1e3).round() / 1e3, (d.y * 1e3).round() / 1e3)
                    });
                    if by != [Vec2::ZERO; 2] {
                        follow.push((k, by));
                    }
                }
            }
            [Err(Refusal::NoNumber(why)), _] | [_, Err(Refusal::NoNumber(why))] => {
                let own = ids.iter().filter_map(|id| panel.find(id));
                let with: Vec<usize> = own
                    .flat_map(|k| {
                        let units = panel.subjects.get(k).map_or(0..0, |s| s.units.clone());
                        std::iter::once(k).chain(units.map(|u| u as usize))
                    })
                    .collect();
                follow = with.into_iter().map(|k| (k, [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)])).collect();
                asks = Some(why);
            }
            [Err(why), _] | [_, Err(why)] => return Err(why),
        }
        Ok(Drag {
            ids: ids.to_vec(),
            start: panel.clone(),
            panel,
            findings: session.findings.clone(),
            before: session.findings.clone(),
            follow,
            asks,
            shifts,
        })
    }

    /// The ids that are held.
    pub fn ids(&self) -> &[String] {
        &self.ids
    }

    /// The panel with everything moved as if the hand were `by` from the start, and what the rules say of it.
    pub fn to(&mut self, by: Vec2, session: &Session) -> (&Panel, &Findings) {
        if !self.shifts
            && self.asks.is_none()
            && let Ok((_, panel)) = session.moved(&self.ids, by)
        {
            self.findings = check::check(&panel, &self.findings.options);
            self.panel = panel;
            return (&self.panel, &self.findings);
        }
        for (k, [x, y]) in &self.follow {
            let by = *x * by.x + *y * by.y;
            if let (Some(s), Some(from)) = (self.panel.subjects.get_mut(*k), self.start.subjects.get(*k)) {
                s.clone_from(from);
            }
            self.panel.shift(*k, by);
        }
        let changed: Vec<usize> = self.follow.iter().map(|(k, _)| *k).collect();
        let before = std::mem::replace(&mut self.findings, Findings::unasked());
        self.findings = check::recheck(&self.panel, before, &changed);
        (&self.panel, &self.findings)
    }

    /// Findings that differ from those at the start: as they are now, and the ids of those that are no more.
    pub fn changes(&self) -> (Vec<&Finding>, Vec<String>) {
        let (old, new) = (&self.before.list, &self.findings.list);
        let (mut i, mut j) = (0, 0);
        let (mut changed, mut gone) = (Vec::new(), Vec::new());
        loop {
            match (old.get(i), new.get(j)) {
                (Some(a), Some(b)) if a.key() == b.key() => {
                    if a != b {
                        changed.push(b);
                    }
                    i += 1;
                    j += 1;
                }
                (Some(a), Some(b)) if a.key() < b.key() => {
                    gone.push(a.id(&self.start));
                    i += 1;
                }
                (_, Some(b)) => {
                    changed.push(b);
                    j += 1;
                }
                (Some(a), None) => {
                    gone.push(a.id(&self.start));
                    i += 1;
                }
                (None, None) => break,
            }
        }
        (changed, gone)
    }

    /// The panel as the hand has it now.
    pub fn panel(&self) -> &Panel {
        &self.panel
    }

    /// Where the item may stand, to be worked out: contours of places of its reference point. Of one item that nothing
    /// follows but its own units and labels; `None` of others.
    pub fn region(&self) -> Option<impl FnOnce() -> Vec<Contour> + Send + use<>> {
        let [id] = self.ids.as_slice() else { return None };
        let k = self.start.find(id)?;
        let own = |f: usize| {
            let of = |s: &Subject| s.kind == SubjectKind::Label || s.carrier == Some(k as u32);
            f == k || self.start.subjects.get(f).is_some_and(of)
        };
        if !self.follow.iter().all(|(f, _)| own(*f)) {
            return None;
        }
        let at = self.start.subjects.get(k)?.at.to_vec2();
        let panel = self.start.clone();
        Some(move || {
            let to = Transform::shift(at);
            let q = Question::of(&panel, k, check::bans::Allow::default());
            q.map(|q| q.answer(0.0, &[]).area.contours(0.0).iter().map(|c| to.contour(c)).collect())
                .unwrap_or_default()
        })
    }
}

/// Whether one is the other moved and nothing else.
fn is_shift(a: &Subject, b: &Subject) -> bool {
    let by = b.at - a.at;
    let off = |p: &crate::panel::Part, q: &crate::panel::Part| {
        let (p, q) = (p.contour.bounds(), q.contour.bounds());
        length(q.origin() - p.origin() - by)
            .max((q.width() - p.width()).abs())
            .max((q.height() - p.height()).abs())
    };
    a.parts.len() == b.parts.len() && a.parts.iter().zip(&b.parts).all(|(p, q)| off(p, q) < 1e-5)
}
