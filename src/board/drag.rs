//! Items under a hand: what moves with them, what the rules say at each place, without touching the text.
//!
//! On a panel whose check takes long a step leaves out the rules that look about in space ([`check::SLOW`]); those are
//! asked when the hand rests, from what they said when it rested last.

use super::session::Session;
use super::told::{Differences, Told};
use crate::check::{self, Finding, Findings, Rule};
use crate::edit::Refusal;
use crate::geom::{Contour, Transform, Vec2, length};
use crate::panel::{Panel, Part, Subject, SubjectKind};
use crate::place::Question;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

/// Step by which it is tried what follows, mm.
const STEP: f64 = 0.01;
/// A check that takes no longer is made whole at each step: a hand sees no difference.
const QUICK: Duration = Duration::from_millis(4);

/// A drag.
pub struct Drag {
    ids: Vec<String>,
    panel: Panel,
    /// The panel as it is where the hand took hold, but that what it holds counts as moved: something that was there
    /// already is new by that, and may leave an old opening behind.
    start: Panel,
    before: Findings,
    /// What the page was told.
    told: Told,
    /// Counts the places where the hand was.
    places: u64,
    /// What all rules said last, at whatever place the hand rested.
    rested: Findings,
    /// What was said of such a place while the hand may have moved on, until it is taken over.
    ready: Arc<Mutex<Option<Rested>>>,
    /// What the rules that are asked at each step say now.
    step: Findings,
    slow: &'static [&'static Rule],
    /// Subjects that move, each with where it goes for a millimetre to the right and up.
    pub follow: Vec<(usize, [Vec2; 2])>,
    /// Why the item can only be put at coordinates.
    pub asks: Option<String>,
}

impl Drag {
    /// Takes hold of items.
    ///
    /// # Errors
    /// An item that is not there or is locked.
    pub fn of(session: &Session, ids: &[String]) -> Result<Drag, Refusal> {
        let panel = session.panel.clone();
        let by = Vec2::new(STEP, STEP);
        let (tried, asks) = match session.moved(ids, by, false) {
            Ok((_, tried)) => (Some(tried), None),
            Err(Refusal::NoNumber(why)) => (session.moved(ids, by, true).ok().map(|(_, p)| p), Some(why)),
            Err(why) => return Err(why),
        };
        let start = match tried {
            Some(tried) => tried,
            None => panel.clone(),
        };
        // to the right and up are worked out apart: one try tells both
        let rounded = |v: f64| (v * 1e3).round() / 1e3;
        let mut follow: Vec<(usize, [Vec2; 2])> = Vec::new();
        for (k, o) in start.subjects.iter().enumerate() {
            let same = panel.subjects.get(k).filter(|s| s.id == o.id);
            let Some(s) = same.or_else(|| panel.subjects.get(panel.find(&o.id)?)) else { continue };
            let d = (o.at - s.at) / STEP;
            let by = [Vec2::new(rounded(d.x), 0.0), Vec2::new(0.0, rounded(d.y))];
            if by != [Vec2::ZERO; 2] {
                follow.push((k, by));
            }
        }
        let (start, before) = if is_shifted(&panel, &start) {
            (panel, session.findings.clone())
        } else {
            let mut start = start;
            for (k, [x, y]) in &follow {
                start.shift(*k, -(*x + *y) * STEP);
            }
            let before = check::check(&start, &session.findings.options);
            (start, before)
        };
        if follow.is_empty() {
            let own = ids.iter().filter_map(|id| start.find(id));
            let with = own.flat_map(|k| {
                let units = start.subjects.get(k).map_or(0..0, |s| s.units.clone());
                std::iter::once(k).chain(units.map(|u| u as usize))
            });
            follow = with.map(|k| (k, [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)])).collect();
        }
        Ok(Drag {
            ids: ids.to_vec(),
            panel: start.clone(),
            start,
            told: Told::all(before.list.clone()),
            places: 0,
            rested: before.clone(),
            ready: Arc::default(),
            step: before.clone(),
            before,
            slow: if session.took() <= QUICK { &[] } else { check::SLOW },
            follow,
            asks,
        })
    }

    /// What is otherwise only because the items count as moved: findings that the session has otherwise, and ids of those
    /// that it has and that are no more.
    pub fn taken(&self, session: &Session) -> (Vec<&Finding>, Vec<String>) {
        let old = &session.findings;
        let said = |f: &Finding| (f.verdict, f.measured, f.asked, f.note.clone());
        if self.start.subjects.len() == session.panel.subjects.len() && *old == self.before {
            return (Vec::new(), Vec::new());
        }
        let known: BTreeMap<String, &Finding> = old.list.iter().map(|f| (f.id(&session.panel), f)).collect();
        let now: BTreeMap<String, &Finding> =
            self.before.list.iter().map(|f| (f.id(&self.start), f)).collect();
        let gone = known.keys().filter(|id| !now.contains_key(*id)).cloned().collect();
        let other = |(id, f): &(&String, &&Finding)| known.get(*id).is_none_or(|k| said(k) != said(f));
        (now.iter().filter(other).map(|(_, f)| *f).collect(), gone)
    }

    /// The ids that are held.
    pub fn ids(&self) -> &[String] {
        &self.ids
    }

    /// Rules that wait until the hand rests.
    pub fn open(&self) -> &'static [&'static Rule] {
        self.slow
    }

    /// The same drag with every rule asked at each step, or all but the slow ones.
    pub fn asking(mut self, all: bool) -> Drag {
        self.slow = if all { &[] } else { check::SLOW };
        self
    }

    /// Brings everything to where the hand has it, `by` from the start; tells what all rules but those that are left
    /// [`open`](Drag::open) say of it.
    pub fn to(&mut self, by: Vec2) -> (&Panel, &Findings) {
        self.take_over();
        self.places += 1;
        let changed: Vec<usize> = self.follow.iter().map(|(k, _)| *k).collect();
        for (k, [x, y]) in &self.follow {
            let by = *x * by.x + *y * by.y;
            if let (Some(s), Some(from)) = (self.panel.subjects.get_mut(*k), self.start.subjects.get(*k)) {
                s.clone_from(from);
            }
            self.panel.shift(*k, by);
        }
        let before = std::mem::replace(&mut self.step, Findings::unasked());
        self.step = check::recheck_but(&self.panel, before, &changed, self.slow);
        (&self.panel, &self.step)
    }

    /// What is otherwise than the page was told, by the rules that were asked at the last step.
    pub fn news(&mut self) -> (&Panel, Differences<'_>, &Findings) {
        let news = self.told.news(&self.start, &self.step.list, self.slow);
        (&self.panel, news, &self.step)
    }

    /// Asks all rules about the place where the hand rests, to be worked out beside it.
    pub fn rest(&self) -> impl FnOnce() + Send + use<> {
        let (panel, rested, ready) = (self.panel.clone(), self.rested.clone(), self.ready.clone());
        let place = self.places;
        let changed: Vec<usize> = self.follow.iter().map(|(k, _)| *k).collect();
        move || {
            let findings = check::recheck(&panel, rested, &changed);
            *ready.lock().unwrap_or_else(PoisonError::into_inner) = Some(Rested { place, findings });
        }
    }

    /// As [`Drag::news`], by all rules, once they were asked about the place where the hand is; `None` where it is at
    /// another one by now.
    pub fn rested(&mut self) -> Option<(&Panel, Differences<'_>, &Findings)> {
        let place = self.take_over()?;
        if place != self.places {
            return None;
        }
        let news = self.told.news(&self.start, &self.rested.list, &[]);
        Some((&self.panel, news, &self.rested))
    }

    /// Takes over what was said where the hand rested last; the next time less has changed. Which of its places that was.
    fn take_over(&mut self) -> Option<u64> {
        let ready = self.ready.lock().unwrap_or_else(PoisonError::into_inner).take()?;
        self.rested = ready.findings;
        Some(ready.place)
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

/// What all rules say of a place where the hand rested.
struct Rested {
    place: u64,
    findings: Findings,
}

/// Whether one panel is the other with items shifted and nothing else.
fn is_shifted(a: &Panel, b: &Panel) -> bool {
    let same = |(s, o): (&Subject, &Subject)| s.id == o.id && s.state == o.state && is_shift(s, o);
    a.subjects.len() == b.subjects.len() && a.subjects.iter().zip(&b.subjects).all(same)
}

/// Whether one is the other moved and nothing else.
fn is_shift(a: &Subject, b: &Subject) -> bool {
    let by = b.at - a.at;
    let off = |p: &Part, q: &Part| {
        let (p, q) = (p.contour.bounds(), q.contour.bounds());
        length(q.origin() - p.origin() - by)
            .max((q.width() - p.width()).abs())
            .max((q.height() - p.height()).abs())
    };
    a.parts.len() == b.parts.len() && a.parts.iter().zip(&b.parts).all(|(p, q)| off(p, q) < 1e-5)
}
