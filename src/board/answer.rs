//! One message of a page and what is answered.

use super::aside::Aside;
use super::behind;
use super::drag::Drag;
use super::say::{self, vec2};
use super::session::{Saved, Session, is_item};
use super::told::Differences;
use super::{arranging, numbers, shelf, what_if};
use crate::check::Findings;
use crate::edit::{Edit, Refusal};
use crate::geom::Vec2;
use crate::panel::Panel;
use crate::units::{Angle, Length};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// What comes of a message.
pub struct Answer {
    /// To the page that asked.
    pub own: Option<Value>,
    /// Whether every page needs the new state.
    pub changed: bool,
    /// What takes its time and needs nothing that is shared: its answer comes when it is ready. One with a `do` is itself a
    /// message, to be answered in its turn.
    pub later: Option<Box<dyn FnOnce() -> Value + Send>>,
}

impl Answer {
    /// Nothing now: what is to be said comes by itself.
    pub fn none() -> Answer {
        Answer { own: None, changed: false, later: None }
    }
}

pub(super) fn own(v: Value) -> Answer {
    Answer { own: Some(v), changed: false, later: None }
}

pub(super) fn refused(why: &Refusal) -> Answer {
    let asks = matches!(why, Refusal::NoNumber(_));
    own(json!({ "kind": "refused", "words": why.words().trim_end(), "asks": asks }))
}

pub(super) fn done(r: Result<(), Refusal>) -> Answer {
    match r {
        Ok(()) => Answer { own: None, changed: true, later: None },
        Err(why) => refused(&why),
    }
}

pub(super) fn ids(v: &Value) -> Option<Vec<String>> {
    let mut list: Vec<String> = Vec::new();
    let mut seen = BTreeSet::new();
    for id in v.as_array()?.iter().filter_map(Value::as_str) {
        // what is named twice is meant once
        if seen.insert(id) {
            list.push(id.to_owned());
        }
    }
    (!list.is_empty() && list.len() <= MOST_IDS).then_some(list)
}

/// Most items of one message.
pub(super) const MOST_IDS: usize = 4000;

/// Why what a message would change is not to be changed in this file: an item of a floating panel that is laid in, whose
/// ids hold a colon, is described in that one's own.
fn elsewhere(panel: &Panel, m: &Value) -> Option<String> {
    let each = m["each"].as_array().into_iter().flatten().map(|e| &e[0]);
    let named = m["ids"].as_array().into_iter().flatten().chain(each).chain([&m["id"]]);
    let id = named.filter_map(Value::as_str).find(|id| id.contains(':'))?;
    let s = panel.find(id).and_then(|k| panel.subjects.get(k))?;
    let (file, line) = (&s.place.file, s.place.line);
    Some(format!("{id} is described in {file}, line {line}: open the board of that file to change it"))
}

/// What is said of the place under the hand: what differs from the last answer, how many of each verdict, which rules are
/// still open.
fn step(m: &Value, panel: &Panel, news: &Differences<'_>, findings: &Findings, open: &[&str]) -> Value {
    let fresh: Vec<Value> = news.fresh.iter().map(|f| say::finding(panel, f)).collect();
    let again: Vec<Value> = news.again.iter().map(|f| say::again(panel, f)).collect();
    let counts = say::counts(findings);
    json!({
        "kind": "drag", "n": m["n"], "grab": m["grab"], "findings": fresh, "again": again, "gone": news.gone,
        "counts": counts, "open": open,
    })
}

/// What changes the text: refused while it is not said what becomes of what an earlier run left.
const CHANGES: [&str; 17] = [
    "layout-back",
    "move",
    "put",
    "turn",
    "turn-all",
    "add",
    "bring",
    "mirror",
    "flag",
    "number",
    "delete",
    "copy",
    "together",
    "undo",
    "redo",
    "save",
    "reload",
];

/// Answers a message; `drag` is what that page has under its hand, `aside` what goes on beside.
pub fn answer(session: &mut Session, drag: &mut Option<Drag>, aside: &mut Aside, text: &str) -> Answer {
    let strange =
        || refused(&Refusal::Words("the page asked for something that this program does not know".into()));
    let Ok(m) = serde_json::from_str::<Value>(text) else { return strange() };
    let id = m["id"].as_str().map(str::to_owned);
    if let Some(words) = session.offer().filter(|_| CHANGES.contains(&m["do"].as_str().unwrap_or(""))) {
        *drag = None;
        return own(json!({ "kind": "offered", "words": words, "again": m }));
    }
    // a copy, and a hand that only tries, say so themselves
    let writes = |what: &str| CHANGES.contains(&what) && what != "copy";
    if let Some(words) = m["do"].as_str().filter(|d| writes(d)).and_then(|_| elsewhere(&session.panel, &m)) {
        *drag = None;
        return refused(&Refusal::Words(words));
    }
    match (m["do"].as_str().unwrap_or(""), id) {
        ("state", _) => own(say::state(session)),
        (
            "layouts" | "layouts-closed" | "layouts-compare" | "layout-keep" | "layout-forget"
            | "layout-back" | "layout-save",
            _,
        ) => what_if::answer(session, aside, &m),
        ("arrange", _) => arranging::answer(session, aside, &m),
        ("catalogue" | "fits" | "shelf-closed" | "add", _) => shelf::answer(session, aside, &m),
        // the page does not show the panel that it would be taken from
        ("grab", _) if m["revision"].as_u64().is_some_and(|r| r != session.revision) => {
            *drag = None;
            refused(&Refusal::Words("another page changed the panel meanwhile: take hold again".into()))
        }
        ("grab", _) => match ids(&m["ids"]).map(|ids| Drag::of(session, &ids)) {
            Some(Ok(d)) => {
                let follow = d.follow.iter().filter_map(|(k, [x, y])| {
                    Some(json!([d.panel().subjects.get(*k)?.id, [x.x, x.y, y.x, y.y]]))
                });
                let (changed, gone) = d.taken(session);
                let changed: Vec<Value> = changed.into_iter().map(|f| say::finding(d.panel(), f)).collect();
                let answer = json!({
                    "kind": "grab", "n": m["n"], "follow": follow.collect::<Vec<_>>(), "asks": d.asks, "findings": changed, "gone": gone,
                });
                *drag = Some(d);
                own(answer)
            }
            Some(Err(why)) => refused(&why),
            None => strange(),
        },
        // worked out beside, so that the hand need not wait for it
        ("region", _) => match drag.as_ref().and_then(Drag::region) {
            Some(region) => {
                let n = m["n"].clone();
                let later = move || json!({ "kind": "region", "n": n, "path": say::path(&region()) });
                Answer { own: None, changed: false, later: Some(Box::new(later)) }
            }
            None => own(json!({ "kind": "region", "n": m["n"], "path": null })),
        },
        // after what is held was given up there may be messages on their way
        ("drag" | "rest" | "rested", _) if drag.is_none() => Answer::none(),
        ("drag", _) => match (drag.as_mut(), vec2(&m["by"])) {
            (Some(d), Some(by)) => {
                d.to(by);
                let open: Vec<&str> = d.open().iter().map(|r| r.id).collect();
                let (panel, news, findings) = d.news();
                own(step(&m, panel, &news, findings, &open))
            }
            _ => strange(),
        },
        // what the steps left out, worked out beside; told in its turn, as it is told by what differs from the answer before
        ("rest", _) => match drag.as_ref() {
            Some(d) => {
                let (n, grab, rest) = (m["n"].clone(), m["grab"].clone(), d.rest());
                let later = move || {
                    rest();
                    json!({ "do": "rested", "n": n, "grab": grab })
                };
                Answer { own: None, changed: false, later: Some(Box::new(later)) }
            }
            None => strange(),
        },
        ("rested", _) => match drag.as_mut().and_then(Drag::rested) {
            Some((panel, news, findings)) => own(step(&m, panel, &news, findings, &[])),
            None => Answer::none(),
        },
        ("let-go", _) => {
            *drag = None;
            Answer::none()
        }
        // the hand let it go where the panel was another one: it would land elsewhere than it was seen to
        ("move", _) if m["revision"].as_u64().is_some_and(|r| r != session.revision) => {
            *drag = None;
            refused(&Refusal::Words(
                "the panel was changed while you held it: nothing was moved, take hold again".into(),
            ))
        }
        ("move", _) => match (ids(&m["ids"]), vec2(&m["by"])) {
            (Some(ids), Some(by)) => {
                *drag = None;
                done(session.shift(&ids, by, m["plain"] == true))
            }
            _ => strange(),
        },
        ("put", Some(id)) => put(session, &id, &m),
        ("turn", Some(id)) => turn(session, id, &m["to"]),
        ("bring" | "mirror" | "turn-all" | "flag" | "delete" | "copy" | "together", _) => {
            *drag = None;
            super::several::answer(session, &m).unwrap_or_else(strange)
        }
        ("numbers" | "number", _) => numbers::answer(session, &m),
        ("pose", _) => behind::pose(session, &m),
        ("undo", _) => done(session.undo()),
        ("redo", _) => done(session.redo()),
        ("save", _) => match session.save(m["over"] == true) {
            Ok(Saved::Done) => Answer { own: Some(json!({ "kind": "saved" })), changed: true, later: None },
            Ok(Saved::Conflict) => own(json!({ "kind": "conflict" })),
            Err(p) => refused(&Refusal::Words(p.to_string())),
        },
        ("reload", _) => done(session.reload()),
        ("photograph", _) => super::photograph::answer(session, &m),
        ("offer", _) => done(session.answer_offer(m["take"] == true)),
        _ => strange(),
    }
}

/// An item turned to an angle, a number or as it was typed.
fn turn(session: &mut Session, id: String, to: &Value) -> Answer {
    let subject = session.panel.find(&id).and_then(|k| session.panel.subjects.get(k));
    match subject.filter(|s| is_item(s.kind)) {
        None => return refused(&session.no_item(&id)),
        Some(s) if s.locked => return refused(&Refusal::Words(format!("{id} is locked: free it first"))),
        Some(_) => {}
    }
    match degrees(to) {
        Ok(to) => done(session.edit(&Edit::Turn { id, to: to.rem_euclid(360.0) })),
        Err(why) => refused(&why),
    }
}

/// An angle as it was typed, degrees from -360 to 360.
pub(super) fn degrees(to: &Value) -> Result<f64, Refusal> {
    let degrees = match to.as_str().map(Angle::parse) {
        Some(Ok(angle)) => Some(angle.degrees()),
        Some(Err(e)) => return Err(Refusal::Words(format!("turn: {e} ({})", e.help()))),
        None => to.as_f64(),
    };
    // to what is written: a hair below nothing is nothing and no whole turn
    let fine = degrees.filter(|t| t.is_finite() && t.abs() <= 360.0).map(|t| (t * 1e6).round() / 1e6);
    fine.ok_or_else(|| {
        Refusal::Words(format!(
            "turn: {to} is not an angle that can be asked for: give degrees from -360 to 360"
        ))
    })
}

/// An item put at coordinates as they were typed. A coordinate that stays as it was shown keeps its number; where the item
/// has a relation, that is kept if its own number can say the place.
fn put(session: &mut Session, id: &str, m: &Value) -> Answer {
    let unit = session.panel.unit;
    let Some(s) = session.panel.find(id).and_then(|k| session.panel.subjects.get(k)) else {
        return refused(&Refusal::Words(format!("there is no {id} on the panel")));
    };
    if s.locked {
        return refused(&Refusal::Words(format!("{id} is locked: free it first")));
    }
    let at = s.at;
    let mut all = Vec::new();
    for (key, now) in [("x", at.x), ("y", at.y)] {
        let words = m[key].as_str().unwrap_or("");
        if words == crate::units::print_length(now, unit) {
            all.extend(Length::from_mm(now, unit));
            continue;
        }
        match Length::parse(words, Some(unit)) {
            Ok(l) => all.push(l),
            Err(e) => {
                let way = if key == "x" { "right of datum" } else { "up from datum" };
                return refused(&Refusal::Words(format!("{way}: {e} ({})", e.help())));
            }
        }
    }
    let Ok([x, y]) = <[Length; 2]>::try_from(all) else {
        return refused(&Refusal::Words("two lengths are asked for".into()));
    };
    if session.only_coordinates(session.text(), id) {
        return done(session.edit(&Edit::Put { id: id.to_owned(), at: [x, y] }));
    }
    let by = Vec2::new(x.mm() - at.x, y.mm() - at.y);
    match session.shift(&[id.to_owned()], by, false) {
        Err(Refusal::NoNumber(_)) if m["plain"] == true => {
            done(session.edit(&Edit::Put { id: id.to_owned(), at: [x, y] }))
        }
        other => done(other),
    }
}

#[cfg(test)]
mod tests;
