//! Room for the fingers that undo plugs and hose fittings behind the sheet.

use super::judge::{Case, Measure, Open, judge};
use super::own::{Teller, length};
use super::ports::{Fingers, Grip, Round, grips, stays, unsaid};
use super::{Finding, Heed, Limit, Near, REACH, Relation, Rule, Source, Space, Standing, Verdict};
use crate::geom::{Rect, SLACK};
use crate::panel::PartRef;

/// The rule.
pub static RULE: Rule = Rule {
    id: "hand-behind",
    asks: "Behind the sheet there is room for fingers round each plug and hose fitting that is undone there.",
    why: "What fingers cannot get round cannot be undone, and the item stays in. Measured: the width that is free beside it \
          in one unbroken sweep of three quarters of its round, over its whole length. In the way are other items with \
          their plugs, sheets, the depth map and what is fixed; plugs of the same item come off one after the other, as \
          they are reached; its bodies are its maker's, and controls and knees can be moved. Asked of items served from \
          behind, and of pipes on any; plugs of what comes out to the front come along (service-loop). Nuts, which a socket \
          reaches straight on, are asked by tool-reach; terminals with screws and the pull along the plug are not asked.",
    limit: Limit::AtLeast(25.0),
    source: Source {
        standing: Standing::Memory,
        title: "MIL-STD-1472, connectors undone one after the other: 25 mm (1 in) clear in a swept area of 270 degrees",
    },
    relation: Relation::Near(Near { reach, heeds: Heed::near, measure }),
    asked: None,
};

/// The room that is looked at, seen from the seat.
fn reach(space: &Space<'_>, subject: usize, rule: &'static Rule) -> Option<Rect> {
    let panel = space.panel;
    let mut out = Vec::new();
    let t = Teller::new(panel, subject, rule, &mut out);
    let looks = looked(&t) + space.movers().sways();
    let all = grips(panel, subject).into_iter().filter_map(|(_, g)| g.ok());
    let far = |g: Grip| {
        let by = looks + g.radius + super::judge::most_loss(panel.part(g.part));
        g.outline().bounds().inflate(by, by)
    };
    all.map(far).reduce(|a, b| a.union(b))
}

/// How far from what is held something may matter, mm.
fn looked(t: &Teller<'_>) -> f64 {
    t.asked(25.0).max(0.0) + REACH
}

fn measure(space: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = space.panel;
    let mut t = Teller::new(panel, subject, rule, out);
    if let Some((part, at)) = unsaid(panel, subject) {
        let s = panel.subject(part);
        let terms = s.facts.as_ref().map_or(String::new(), |f| f.open_terms.join(", "));
        t.withhold(part, at, format!("what fingers undo behind {}: {terms}", s.id));
    }
    let all = grips(panel, subject);
    if all.is_empty() {
        return;
    }
    let (asked, looks) = (t.asked(25.0), looked(&t));
    let mut left: Vec<(&Grip, Round<'_>)> = Vec::new();
    for (part, grip) in &all {
        match grip {
            Err(waits) => {
                let p = panel.part(*part);
                t.withhold(*part, p.centre, format!("{waits} ({})", p.name));
            }
            Ok(grip) => left.push((grip, Round::of(panel, space.movers().sways(), grip, asked, looks))),
        }
    }
    // what is reached comes off and makes room for the next
    let mut done: Vec<(&Grip, Fingers, Vec<String>)> = Vec::new();
    let mut free = true;
    while free && !left.is_empty() {
        let there: Vec<&Grip> = left.iter().map(|(g, _)| *g).collect();
        let mut stuck = Vec::new();
        for (grip, round) in std::mem::take(&mut left) {
            let found = among(space, grip, &round, &there, looks);
            if found.room.lower - found.loss >= asked - SLACK {
                done.push((grip, found, round.waits));
            } else {
                stuck.push((grip, round));
            }
        }
        free = stuck.len() < there.len();
        left = stuck;
    }
    let there: Vec<&Grip> = left.iter().map(|(g, _)| *g).collect();
    for (grip, round) in left {
        let found = among(space, grip, &round, &there, looks);
        tell(&mut t, grip, &found, &round.waits, asked);
    }
    // of what is reached only the narrowest is told
    let narrowest = |(_, a, _): &&(&Grip, Fingers, Vec<String>),
                     (_, b, _): &&(&Grip, Fingers, Vec<String>)| {
        (a.room.lower - a.loss).total_cmp(&(b.room.lower - b.loss))
    };
    let unsaid = done.iter().find(|(.., waits)| !waits.is_empty());
    if let Some((grip, found, waits)) = unsaid.or_else(|| done.iter().min_by(narrowest)) {
        tell(&mut t, grip, found, waits, asked);
    }
}

/// The room round a grip with the plugs of its item that are still there.
fn among(space: &Space<'_>, grip: &Grip, round: &Round<'_>, there: &[&Grip], looks: f64) -> Fingers {
    let mut round = round.clone();
    for other in there.iter().filter(|o| o.part != grip.part) {
        round.beside(space.panel, other, looks);
    }
    round.fingers()
}

fn tell(t: &mut Teller<'_>, grip: &Grip, found: &Fingers, waits: &[String], asked: f64) {
    let panel = t.panel;
    let (a, at) = (grip.part, panel.part(grip.part).centre);
    let stays = stays(panel, a) && found.by.iter().all(|(_, p)| p.is_none_or(|p| stays(panel, p)));
    if found.room.lower - asked > REACH && waits.is_empty() {
        t.plain(a, None, [at; 2], Verdict::Pass, String::new());
        return;
    }
    let measure = Measure {
        value: found.room.lower,
        upper: found.room.upper,
        worst: found.room.lower - found.loss,
        contact: false,
        at: [at; 2],
    };
    let (verdict, _) = judge(&Case { measure, asked, open: Open::Nothing, stays: false });
    let names: Vec<&str> = found.by.iter().take(4).map(|(n, _)| n.as_str()).collect();
    let names = names.join(", ");
    let numbers = |t: &mut Teller<'_>| {
        // a bound that is not known is no number
        let measured = found.room.upper.is_finite().then_some(found.room);
        t.measured(measured, asked, found.loss);
    };
    match verdict {
        Verdict::Pass if !waits.is_empty() => t.withhold(a, at, waits.join("; ")),
        Verdict::Pass => {
            t.plain(a, None, [at; 2], verdict, String::new());
            numbers(t);
        }
        // what is not known for sure may leave more room than was found
        _ if !found.sure && found.room.upper >= asked - SLACK => {
            let waits =
                format!("the true shape or depth of {names}: it may stand beside {}", panel.part_name(a));
            t.withhold(a, at, waits);
        }
        _ => {
            let words = words(t, a, found, asked, verdict, &names);
            if stays {
                t.fail(a, None, [at; 2], words);
            } else {
                t.plain(a, None, [at; 2], verdict, words);
            }
            numbers(t);
        }
    }
}

fn words(t: &Teller<'_>, a: PartRef, found: &Fingers, asked: f64, verdict: Verdict, names: &str) -> String {
    let panel = t.panel;
    let mm = |v: f64| length(panel, v);
    let name = panel.part_name(a);
    let room = if found.room.lower <= 0.0 {
        format!("no room beside {name}")
    } else {
        format!("{} of room round three quarters of {name}, {} asked", mm(found.room.lower), mm(asked))
    };
    let cure = if verdict == Verdict::Fail {
        "Move one of them, turn the item, or take a plug that leaves sideways.".to_string()
    } else {
        "Measure again behind the sheet.".into()
    };
    format!("{}. In the way: {names}. {cure}", super::obstacle_clear::sentence(&room))
}

#[cfg(test)]
mod tests;
