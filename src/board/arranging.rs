//! Many items arranged at once while the board stays open: one arrangement at a time, in a thread of its own on a copy. How
//! far it is every page is told; what it comes to is offered, and taken only while the panel is what it began with.

use super::answer::{Answer, done, own, refused};
use super::aside::{Aside, News, beside};
use super::session::{Session, checked};
use super::stood::Stood;
use super::what_if;
use crate::check::Findings;
use crate::edit::Refusal;
use crate::geom::{Point, span};
use crate::panel::{Panel, SubjectKind};
use crate::place::arrange::{
    Arranged, Asked, Cost, Ground, Outcome, Told, Watch, arrange, can_move, free, pieces,
};
use crate::report::arrange::{Run, none_text};
use serde_json::{Value, json};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// From one word of progress to the next.
const BETWEEN: Duration = Duration::from_millis(250);
/// Most moves that are asked for here.
const MOST_MOVES: u64 = 10_000_000;

/// What is offered.
#[derive(Clone)]
struct Offer {
    base: String,
    text: String,
    panel: Panel,
    told: Value,
}

#[derive(Default)]
enum Is {
    #[default]
    Idle,
    Runs {
        stop: Arc<AtomicBool>,
        told: Value,
    },
    Offers(Box<Offer>),
    None(String),
}

/// The one arrangement of a board.
#[derive(Default)]
pub struct Arranging(Mutex<Is>);

impl Arranging {
    fn lock(&self) -> MutexGuard<'_, Is> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How it stands, for every page.
    pub fn told(&self) -> Value {
        let (is, told) = match &*self.lock() {
            Is::Idle => ("idle", json!(null)),
            Is::Runs { told, .. } => ("runs", told.clone()),
            Is::Offers(o) => ("offers", o.told.clone()),
            Is::None(words) => ("none", json!({ "words": words })),
        };
        json!({ "kind": "arranging", "is": is, "told": told })
    }

    /// Ends it, as the board is closed.
    pub fn stop(&self) {
        if let Is::Runs { stop, .. } = &*self.lock() {
            stop.store(true, Ordering::Relaxed);
        }
    }
}

/// Whatever a thread comes to, it leaves no run behind.
struct Ends(Arc<Arranging>, tokio::sync::broadcast::Sender<News>);

impl Drop for Ends {
    fn drop(&mut self) {
        let mut is = self.0.lock();
        if matches!(*is, Is::Runs { .. }) {
            *is = Is::None("the arrangement was given up by a fault of our own: please report it".into());
        }
        drop(is);
        let _ = self.1.send(News::Arranging);
    }
}

fn sentence(words: impl Into<String>) -> Answer {
    refused(&Refusal::Words(words.into()))
}

/// Answers what is asked of arranging.
pub fn answer(s: &mut Session, aside: &mut Aside, m: &Value) -> Answer {
    let all = aside.arranging.clone();
    let out = match m["act"].as_str() {
        Some("start") => return start(s, aside, m).unwrap_or_else(|why| refused(&why)),
        Some("stop") => {
            all.stop();
            return Answer::none();
        }
        Some("take") => {
            let offer = match &*all.lock() {
                Is::Offers(o) => o.clone(),
                _ => return sentence("no arrangement is offered"),
            };
            if s.text() != offer.base {
                return sentence(
                    "the panel was changed since the arrangement was begun: it is not laid over that. Keep it as a layout, or \
                     undo what was changed, or arrange again",
                );
            }
            let out = done(s.did(offer.text, offer.panel));
            if out.changed {
                *all.lock() = Is::Idle;
            }
            out
        }
        Some("keep") => {
            let text = match &*all.lock() {
                Is::Offers(o) => o.text.clone(),
                _ => return sentence("no arrangement is offered"),
            };
            match s.layouts.keep(m["name"].as_str().unwrap_or(""), &text) {
                Ok(name) => {
                    let _ = aside.news.send(News::Layouts);
                    return own(json!({ "kind": "layout-kept", "name": name }));
                }
                Err(why) => return refused(&why),
            }
        }
        Some("leave") => {
            let mut is = all.lock();
            if !matches!(*is, Is::Runs { .. }) {
                *is = Is::Idle;
            }
            Answer::none()
        }
        _ => return sentence("what is to be arranged?"),
    };
    let _ = aside.news.send(News::Arranging);
    out
}

fn start(s: &Session, aside: &Aside, m: &Value) -> Result<Answer, Refusal> {
    let words = |w: String| Refusal::Words(w);
    let moves = m["moves"].as_u64().filter(|n| (1..=MOST_MOVES).contains(n));
    let moves = moves.ok_or_else(|| words(format!("moves are a whole number from 1 to {MOST_MOVES}")))?;
    let seed = m["seed"].as_u64().ok_or_else(|| words("a seed is a whole number, 0 or more".into()))?;
    let mut panel = s.panel.clone();
    if let Some(ids) = m["ids"].as_array() {
        let mut chosen = Vec::new();
        for id in ids.iter().filter_map(Value::as_str) {
            let k = panel.find(id).ok_or_else(|| words(format!("there is no {id} on the panel")))?;
            match panel.subjects.get(k) {
                Some(s) if s.locked => return Err(words(format!("{id} is locked: free it first"))),
                Some(s) if can_move(s) => chosen.push(k),
                _ => {
                    return Err(words(format!(
                        "{id} cannot be given another place here: it goes with something else"
                    )));
                }
            }
        }
        panel.wishes.free = Some(chosen);
    }
    let movable = free(&panel);
    if movable.is_empty() {
        return Err(words(
            "nothing that is meant may move: what is there already, what is locked and what the file's \"arrange\" holds \
             fixed stays. Choose the items that may"
                .into(),
        ));
    }
    let stop = Arc::new(AtomicBool::new(false));
    {
        let mut is = aside.arranging.lock();
        match &*is {
            Is::Runs { .. } => {
                return Err(words("an arrangement is being worked out already: stop it first".into()));
            }
            Is::Offers(_) => {
                return Err(words("an arrangement is offered: take it or leave it first".into()));
            }
            _ => {}
        }
        let told = json!({ "revision": s.revision, "made": 0, "most": moves, "phase": "getting ready", "state": "" });
        *is = Is::Runs { stop: stop.clone(), told };
    }
    let _ = aside.news.send(News::Arranging);
    let work = Work {
        stood: s.copy(),
        before: s.findings.clone(),
        panel,
        movable,
        moves,
        seed,
        revision: s.revision,
    };
    let (all, news) = (aside.arranging.clone(), aside.news.clone());
    // made here: where no thread can be had it ends what was said to run
    let ends = Ends(all, news);
    beside(move || {
        let is = work.run(&ends, &stop);
        *ends.0.lock() = is;
    });
    Ok(Answer::none())
}

struct Work {
    stood: Stood,
    before: Findings,
    /// The panel with what may move.
    panel: Panel,
    movable: Vec<usize>,
    moves: u64,
    seed: u64,
    revision: u64,
}

impl Work {
    fn run(self, ends: &Ends, stop: &AtomicBool) -> Is {
        let mut ground = Ground::new(&self.panel, pieces(&self.panel, &self.movable));
        ground.bind(&self.panel);
        let mut shown = Instant::now();
        let mut ask = |t: &Told| {
            if shown.elapsed() > BETWEEN {
                shown = Instant::now();
                if let Is::Runs { told, .. } = &mut *ends.0.lock() {
                    *told = json!({
                        "revision": self.revision, "made": t.made, "most": t.most, "phase": t.phase, "state": t.state,
                    });
                }
                let _ = ends.1.send(News::Arranging);
            }
            !stop.load(Ordering::Relaxed)
        };
        let mut watch = Watch::new(self.moves, &mut ask);
        let outcome = arrange(&self.panel, ground, Asked { seed: self.seed, different: 1 }, &mut watch);
        let run = Run { seed: self.seed, most: self.moves, made: watch.made, stopped: watch.stopped };
        match outcome {
            Outcome::None(conflict) => Is::None(none_text(&self.panel, &run, &conflict)),
            Outcome::Found(all) => match all.first() {
                Some(arranged) => {
                    self.offer(arranged, &run).unwrap_or_else(|why| Is::None(why.words().into()))
                }
                None => Is::None("no arrangement was found".into()),
            },
        }
    }

    /// The arrangement written into the text, read and judged again.
    fn offer(&self, arranged: &Arranged, run: &Run) -> Result<Is, Refusal> {
        let moves = |s: &crate::panel::Subject| {
            matches!(s.kind, SubjectKind::Placement | SubjectKind::Label) && !s.id.contains(':')
        };
        let both = self.panel.subjects.iter().zip(&arranged.panel.subjects).filter(|(was, _)| moves(was));
        let (mut to, rest): (Vec<_>, Vec<_>) =
            both.partition(|(was, now)| was.kind == SubjectKind::Placement && span(was.at, now.at) > 0.0);
        let moved: Vec<String> = to.iter().map(|(was, _)| was.id.clone()).collect();
        // what was placed by something that has moved is put back last
        to.extend(rest);
        let to: Vec<(String, Point)> = to.into_iter().map(|(_, now)| (now.id.clone(), now.at)).collect();
        let (text, panel) = self.stood.trial().moved_to(&to, true)?;
        let (findings, _) = checked(&panel);
        let judged = (panel, findings);
        let card = what_if::card(&judged, Some(&(self.stood.panel.clone(), self.before.clone())));
        let cost: f64 = arranged.costs.iter().map(Cost::cost).sum();
        let told = json!({
            "revision": self.revision, "card": card, "moved": moved, "cost": (cost * 100.0).round() / 100.0,
            "made": run.made, "most": run.most, "seed": run.seed, "stopped": run.stopped,
        });
        let base = self.stood.text.clone();
        Ok(Is::Offers(Box::new(Offer { base, text, panel: judged.0, told })))
    }
}
