//! Controls run free of the airframe and of each other.

use super::judge::{self, Stack};
use super::own::{Judged, Teller, length};
use super::space::{self, Moving, Space};
use super::{Finding, Interval, Limit, REACH, Relation, Rule, Source, Standing, Verdict};
use crate::geom::SLACK;
use crate::panel::{PartRef, State, SubjectKind};
use crate::solid::Lie;
use crate::solid::travel::{Moved, Reach, Travelled};

/// The rule.
pub static RULE: Rule = Rule {
    id: "control-run",
    asks: "Every control runs free of what is fixed in the airframe and of the other controls, over the whole travel of both.",
    why: "What was there before is measured and reported, and judged only against what is new; a contact fails all the \
          same, for either the control is jammed or a measurement is wrong. Parts of one control are its maker's; what a link passes \
          through or bears in is named in the file and left out. Where overtravel or play are not stated, the control is withheld. \
          1/2 in between moving parts is common practice.",
    limit: Limit::AtLeast(12.7),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Room(measure),
    asked: None,
};

fn measure(room: &Space<'_>, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let panel = room.panel;
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| s.kind == SubjectKind::Control) else { return };
    let asked = t.asked(12.7);
    let mut nearest: Option<(PartRef, PartRef, [usize; 2], Travelled, f64)> = None;
    let mut waits: Option<(PartRef, String)> = None;
    let mut told = false;
    for own in room.moving.iter().filter(|m| m.part.subject as usize == subject) {
        if let (None, Some(words)) = (&waits, &own.waits) {
            waits = Some((own.part, words.clone()));
        }
        for (other, link, reach) in others(room, own, subject, asked) {
            let loss = judge::loss(panel.part(own.part), panel.part(other), Stack::Boundaries);
            let travelled = own.reach.clearance(&reach, asked + (loss - REACH).max(0.0));
            let worst = travelled.lower - loss;
            let pair = (own.part, other, [own.link, link.unwrap_or(own.link)], travelled, loss);
            if pair.3.relation != Lie::Apart || worst < asked - SLACK {
                told = true;
                tell(&mut t, &pair, asked);
            } else if waits_too(room, other) {
                // what the other lacks is told of it
                told = true;
            } else if !pair.3.over && nearest.as_ref().is_none_or(|n| worst < n.3.lower - n.4) {
                nearest = Some(pair);
            }
        }
    }
    match (waits, nearest) {
        (Some((part, words)), _) => {
            let at = panel.part(part).centre;
            t.withhold(part, at, words);
        }
        (None, Some(pair)) => tell(&mut t, &pair, asked),
        (None, None) if told => {}
        (None, None) => {
            if let Some(at) = s.parts.first().map(|p| p.centre) {
                t.plain(t.part(0), None, [at; 2], Verdict::Pass, String::new());
            }
        }
    }
}

/// Whether a part is of a control whose travel is not known either.
fn waits_too(room: &Space<'_>, other: PartRef) -> bool {
    room.moving.iter().any(|m| m.part == other && m.waits.is_some())
}

/// What a control's solid may meet: fixed things, and the moving ones of controls that come after it.
fn others<'r>(
    room: &'r Space<'_>,
    own: &'r Moving<'_>,
    subject: usize,
    asked: f64,
) -> impl Iterator<Item = (PartRef, Option<usize>, std::borrow::Cow<'r, Reach<'r>>)> + 'r {
    use std::borrow::Cow;
    let panel = room.panel;
    let (space, mechanism) = (&panel.space, &panel.space.mechanism);
    let reach = move |other: PartRef| {
        let loss = judge::loss(panel.part(own.part), panel.part(other), Stack::Boundaries);
        asked + loss.max(REACH)
    };
    let fixed = room.fixed.iter().filter(move |f| {
        !space.exempt(own.link, f.part, None) && f.solid.bounds().distance(&own.bounds) <= reach(f.part)
    });
    let fixed = fixed.map(move |f| {
        let reach = Reach::new(mechanism, Moved { solid: f.solid, link: None, grow: 0.0 });
        (f.part, None, Cow::Owned(reach))
    });
    let moving = room.moving.iter().filter(move |m| {
        m.part.subject as usize > subject
            && !space.exempt(own.link, m.part, Some(m.link))
            && m.bounds.distance(&own.bounds) <= reach(m.part)
    });
    fixed.chain(moving.map(|m| (m.part, Some(m.link), Cow::Borrowed(&m.reach))))
}

fn tell(t: &mut Teller<'_>, pair: &(PartRef, PartRef, [usize; 2], Travelled, f64), asked: f64) {
    say(t, pair, asked);
    t.in_space(pair.3.points, Some(space::of_links(t.panel, &pair.2, &pair.3.pose)));
}

fn say(t: &mut Teller<'_>, pair: &(PartRef, PartRef, [usize; 2], Travelled, f64), asked: f64) {
    let panel = t.panel;
    let (a, b, links, travelled, loss) = pair;
    let at = travelled.points.map(space::flat);
    let pose = space::in_words(panel, links, &travelled.pose);
    let (name, other) = (panel.part_name(*a), panel.part_name(*b));
    if travelled.relation != Lie::Apart {
        let deep = travelled.depth.map_or(String::new(), |d| format!(" by {}", length(panel, d)));
        let there = [*a, *b].iter().all(|r| panel.subject(*r).state == State::Existing);
        let doubt = if there {
            " Both are there already: measure again, or name it under runs-in where it bears."
        } else {
            ""
        };
        let words = format!("{name} meets {other}{deep} at {pose}: it cannot travel freely.{doubt}");
        t.plain(*a, Some(*b), at, Verdict::Fail, words);
        t.measured(Some(Interval { lower: travelled.lower.min(0.0), upper: travelled.upper }), asked, *loss);
        return;
    }
    let measured = Interval { lower: travelled.lower, upper: travelled.upper.max(travelled.lower) };
    t.interval(*a, Some(*b), Judged { measured, asked, loss: *loss, at }, |_| {
        format!("Least gap to {other} is at {pose}: {}", length(panel, travelled.lower))
    });
}
