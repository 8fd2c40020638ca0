//! The first quarter turn of what leaves a port needs room.

use super::own::{Teller, length, of_class};
use super::ports::{self, Around, Exit, Free, Movers, Turn, exit, free_of, gathered, said};
use super::{Finding, Heed, Limit, Near, Relation, Rule, Source, Space, Standing, Verdict};
use crate::calc::clock::Seen;
use crate::geom::Rect;
use crate::panel::{Class, Panel, PartRef, State, SubjectKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "line-bend",
    asks: "What leaves a port goes straight for its plug and then turns by a quarter, no tighter than it may, clear of everything.",
    why: "A hose bent tighter than it may kinks, wires break, a drive cable binds. Looked at: the straight (plug, backshell, \
          fitting) and a quarter turn of the least bend radius, in every direction round the port; a radius is to the inside, \
          so that a turn takes radius and diameter. In the way are bodies, plugs of other items, sheets, obstacles, the \
          floor of the depth map, and controls anywhere in their travel. Passes where some direction is surely free, and says which. The radius is the line's own, \
          else the definition's; pressure hose has a table (AC 43.13-1B table 9-3), wires bend to 10 outside diameters; for \
          other kinds no source gives it: ask the maker. Where a definition gives the room of its bend or an elbow, a turn \
          anywhere within that room must be clear; that some such turn is not is no fail. What a floating panel sways and a rear droops against the port is counted: everything \
          else stands anywhere within that, the floor of the depth map too; how near the fixed sheet comes is asked by sway.",
    limit: Limit::AtLeast(0.0),
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Near(Near { reach, heeds: Heed::near, measure }),
    asked: None,
};

fn measure(space: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(space.panel, subject, rule, out);
    for (port, exit) in exits(&t) {
        match exit {
            Err(lacks) => {
                let part = t.panel.part(port);
                t.withhold(port, part.centre, format!("{} ({})", lacks.join("; "), part.name));
            }
            Ok(e) => one(&mut t, space.movers(), &e),
        }
    }
}

/// The ports of an item, each made ready or with what it lacks.
fn exits(t: &Teller<'_>) -> Vec<(PartRef, Result<Exit, Vec<String>>)> {
    let items = [SubjectKind::Placement, SubjectKind::Unit];
    let Some(s) = t.subject().filter(|s| items.contains(&s.kind)) else { return Vec::new() };
    let ports = of_class(s, Class::Port).map(|(k, _)| t.part(k));
    ports.filter_map(|port| Some((port, exit(t.panel, port)?))).collect()
}

/// The room that the turns of an item's lines are looked for in, seen from the seat.
fn reach(space: &Space<'_>, subject: usize, rule: &'static Rule) -> Option<Rect> {
    let panel = space.panel;
    panel.subjects.get(subject)?.facts.as_ref().filter(|f| !f.ports.is_empty())?;
    let mut out = Vec::new();
    let t = Teller::new(panel, subject, rule, &mut out);
    let clearance = clearance(&t);
    let exits = exits(&t).into_iter().filter_map(|(_, e)| e.ok());
    let all = exits.flat_map(|e| [side_exit(&e), Some(e)]).flatten();
    all.map(|e| ports::looked_at(panel, space.movers(), &e, clearance)).reduce(|a, b| a.union(b))
}

fn clearance(t: &Teller<'_>) -> f64 {
    t.asked(0.0).max(0.0)
}

fn one(t: &mut Teller<'_>, movers: &Movers<'_>, e: &Exit) {
    let panel = t.panel;
    let at = [panel.part(e.port).centre; 2];
    let clearance = clearance(t);
    let around = gathered(panel, movers, e, clearance);
    let mut found = free_of(panel, e, &around, clearance, true);
    let how = how(panel, e);
    if !found.set.is_empty() {
        if waits(t, e, &around) {
            return;
        }
        let words = format!("{}; {how}", said(e, &found.set, Seen::FromSeat));
        t.plain(e.port, None, at, Verdict::Pass, words);
        return;
    }
    if around.blocks.iter().any(|b| b.loss > 0.0) {
        found = free_of(panel, e, &around, clearance, false);
        if !found.set.is_empty() {
            if waits(t, e, &around) {
                return;
            }
            let words = said(e, &found.set, Seen::FromSeat);
            let words = format!("As drawn {words}, at the worst tolerances nowhere; {how}");
            told(t, e, &found, Verdict::Tight, words);
            return;
        }
    }
    let names: Vec<&str> = found.blockers.iter().take(4).map(|(n, _)| n.as_str()).collect();
    let names = names.join(", ");
    if !found.sure {
        let settles = match &e.turn {
            Turn::Room { elbow: true, .. } => "the outline of the elbow and the way it points",
            Turn::Room { .. } => "the least bend radius and the outside diameter",
            Turn::Radius { .. } => "the true shape or depth of what may be in the way",
        };
        t.withhold(e.port, at[0], format!("{settles}: {how}, and no direction is surely clear of {names}"));
        return;
    }
    let words = format!(
        "No direction is free for the first quarter turn; {how}. In the way: {names}.{}",
        cure(t, movers, e, &found, clearance)
    );
    told(t, e, &found, Verdict::Fail, words);
}

/// Withholds what is free while the sway is not stated: it may take all of it.
fn waits(t: &mut Teller<'_>, e: &Exit, around: &Around<'_>) -> bool {
    if !around.waits.is_empty() {
        t.withhold(e.port, t.panel.part(e.port).centre, around.waits.join("; "));
    }
    !around.waits.is_empty()
}

/// Writes a shortfall; among things that exist and stay it is only reported.
fn told(t: &mut Teller<'_>, e: &Exit, found: &Free, verdict: Verdict, words: String) {
    let at = [t.panel.part(e.port).centre; 2];
    let stays = |r: &Option<PartRef>| r.is_none_or(|r| t.panel.subject(r).state == State::Existing);
    if stays(&Some(e.port)) && found.blockers.iter().all(|(_, r)| stays(r)) {
        t.fail(e.port, None, at, words);
    } else {
        t.plain(e.port, None, at, verdict, words);
    }
}

/// What the turn rests on, in words.
fn how(panel: &Panel, e: &Exit) -> String {
    match &e.turn {
        Turn::Radius { inside, outside, source } => format!(
            "bend radius {} to the inside ({source}), outside diameter {}",
            length(panel, *inside),
            length(panel, *outside)
        ),
        Turn::Room { deep, elbow: true } => format!("an elbow turns it within {}", length(panel, *deep)),
        Turn::Room { deep, elbow: false } => {
            format!("it turns within {}, as the definition states it", length(panel, *deep))
        }
    }
}

/// The port with the side exit that its definition describes.
fn side_exit(e: &Exit) -> Option<Exit> {
    let deep = e.side_exit?;
    Some(Exit { straight: 0.0, turn: Turn::Room { deep, elbow: true }, ..e.clone() })
}

/// What would cure it: more room ahead, or the side exit that the definition describes.
fn cure(t: &Teller<'_>, movers: &Movers<'_>, e: &Exit, found: &Free, clearance: f64) -> String {
    let more = found.more.map_or(String::new(), |m| format!(" Needs {} more", length(t.panel, m)));
    let side = side_exit(e).map(|shell| {
        let set =
            free_of(t.panel, &shell, &gathered(t.panel, movers, &shell, clearance), clearance, true).set;
        if set.is_empty() {
            "a side-exit shell does not surely fit either".to_string()
        } else {
            format!("a side-exit shell fits ({})", said(&shell, &set, Seen::FromSeat))
        }
    });
    match (more.is_empty(), side) {
        (true, None) => " Move it, or take a tighter line, an elbow or a plug that leaves sideways.".into(),
        (true, Some(side)) => format!(" But {side}."),
        (false, None) => format!("{more}: move it, or take an elbow or a plug that leaves sideways."),
        (false, Some(side)) => format!("{more}; {side}."),
    }
}

#[cfg(test)]
mod tests;
