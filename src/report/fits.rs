//! Where an instrument fits, told to people and to programs.

use crate::check::Finding;
use crate::geom::Vec2;
use crate::panel::Panel;
use crate::place::{self, Answer, Asks, Short, Spots, TOLERANCE};
use crate::report::FORMAT;
use crate::report::fits_sight;
use crate::report::sentence::{measured_words, trim, wrap};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// A finding in one line.
fn line(panel: &Panel, f: &Finding) -> String {
    let measured = measured_words(panel, f);
    let measured = if measured.is_empty() { measured } else { format!(": {measured}") };
    format!("{} {}{measured}", f.verdict.word(), f.id(panel))
}

/// For people.
pub fn text(answers: &[Answer]) -> String {
    let mut out = String::new();
    for a in answers {
        let Asks { instrument, turn, .. } = &a.asks;
        out += &format!("{instrument} on {}, turned by {} degrees\n\n", a.panel.name, trim(*turn, 3));
        let (area, pieces) = place::size(&a.region.area);
        if pieces == 0 {
            nowhere(a, &mut out);
            beside(a, &mut out);
            out.push('\n');
            continue;
        }
        let shape = if pieces == 1 { "one piece".to_string() } else { format!("{pieces} pieces") };
        let region = format!(
            "It may stand with its origin in a region of {} mm2, in {shape}{}. What passes by more than {TOLERANCE} mm is in it.",
            trim(area, 0),
            if a.asks.tight { ", as drawn, whatever the tolerances take" } else { "" }
        );
        out += &format!("{}\n", wrap(&region, 0));
        beside(a, &mut out);
        spot(a, &a.roomiest, "Most room", &mut out);
        if let Some(nearest) = &a.nearest {
            spot(a, nearest, "Nearest to the place wished for", &mut out);
        }
        fits_sight::text(a, &mut out, |out| {
            if let Some(s) = a.sighted() {
                spot(a, &s.spots, "Best by sight and reach", out);
            }
        });
        out.push('\n');
    }
    let own = "Each spot told was asked by all rules. The program advises, it approves nothing: the maintenance manual, the \
               local rules and the licensed person who signs decide.";
    out += &wrap(own, 0);
    out.push('\n');
    out
}

/// What the region does not say.
fn beside(a: &Answer, out: &mut String) {
    let mut say = |words: String| *out += &format!("{}\n", wrap(&words, 0));
    if a.region.excess > 0.0 {
        say(format!("Beside controls that turn it may lack up to {} mm more.", trim(a.region.excess, 2)));
    }
    if !a.region.withheld.is_empty() {
        say(format!("Withheld wherever it stands, for want of: {}.", a.region.withheld.join("; ")));
    }
    let mut whys: Vec<&str> = a.region.unsaid.iter().map(|(_, why)| *why).collect();
    whys.dedup();
    for why in whys {
        let rules = a.region.unsaid.iter().filter(|(_, w)| *w == why).map(|(r, _)| *r);
        say(format!("Not in the region: {} ({why}).", rules.collect::<Vec<_>>().join(", ")));
    }
}

fn spot(a: &Answer, spots: &Spots, title: &str, out: &mut String) {
    let Some(best) = &spots.best else { return };
    let p = a.at(best.shift);
    *out += &format!(
        "{title}: at [{}, {}], {} mm from the region's border. ",
        trim(p.x, 2),
        trim(p.y, 2),
        trim(best.room, 2)
    );
    let mut trial = a.panel.clone();
    trial.shift(a.subject, best.shift);
    let mut list = |head: String, findings: &[Finding]| {
        *out += &format!("{head}\n");
        for f in findings {
            *out += &format!("  {}\n", line(&trial, f));
        }
    };
    let place = match best.findings.len() {
        0 => "No rule about its place is broken there.".into(),
        _ => format!("No spot of {} that were tried keeps every rule about its place; there:", spots.tried),
    };
    list(place, &best.findings);
    if !best.beside.is_empty() {
        let head = if a.asks.tight {
            "Tight there, or not settled by its place:"
        } else {
            "Not settled by its place:"
        };
        list(head.into(), &best.beside);
    }
    seen(a, best.shift, out);
}

fn seen(a: &Answer, shift: Vec2, out: &mut String) {
    if let Some(words) = fits_sight::seen(a, shift) {
        *out += &format!("{}\n", wrap(&words, 0));
    }
}

fn nowhere(a: &Answer, out: &mut String) {
    if let Some(only) = &a.hairline {
        let p = a.at(only.shift);
        let words = format!(
            "It fits at [{}, {}], where all rules pass, and hardly elsewhere: what is left is a point, a line or a strip narrower \
             than {TOLERANCE} mm.",
            trim(p.x, 3),
            trim(p.y, 3)
        );
        *out += &format!("{}\n", wrap(&words, 0));
        seen(a, only.shift, out);
        return;
    }
    if let Some(only) = &a.hidden {
        let p = a.at(only.shift);
        let words = format!(
            "By room it fits at [{}, {}] and hardly elsewhere, but a standby must be seen: it is put nowhere.",
            trim(p.x, 3),
            trim(p.y, 3)
        );
        *out += &format!("{}\n", wrap(&words, 0));
        seen(a, only.shift, out);
        return;
    }
    *out += "It fits nowhere";
    match &a.short {
        Some(s) => {
            let p = a.at(s.at.to_vec2());
            let least = s.binds.iter().map(|b| b.asks).fold(f64::INFINITY, f64::min);
            let overlap = if s.by > least {
                format!(
                    " (parts then overlap, or reach beyond the edge, by up to {} mm)",
                    trim(s.by - least, 2)
                )
            } else {
                String::new()
            };
            let words = format!(
                ": short by {} mm. With all limits together that much less, one place would do: [{}, {}]{overlap}. There bind:",
                trim(s.by, 2),
                trim(p.x, 1),
                trim(p.y, 1)
            );
            *out += &format!("{words}\n");
            for words in binds(a, s) {
                *out += &format!("  {words}\n");
            }
        }
        None => *out += ": nothing that gives way would make room for it.\n",
    }
    if a.without.is_empty() {
        *out += "No single item, if it were moved or left out, would make room for it.\n";
    } else {
        *out += "There would be room if one of these were moved or left out:\n";
        for (id, area) in &a.without {
            *out += &format!("  {id} (a region of {} mm2)\n", trim(*area, 0));
        }
    }
    if !a.pairs.is_empty() {
        *out += "There would be room if two of these were moved or left out together:\n";
        for ([one, other], area) in a.pairs.iter().take(PAIRS) {
            *out += &format!("  {one} and {other} (a region of {} mm2)\n", trim(*area, 0));
        }
        if a.pairs.len() > PAIRS {
            *out += &format!("  and {} pairs more\n", a.pairs.len() - PAIRS);
        }
    }
    for other in &a.instead {
        let turned = if other.turn == 0.0 {
            String::new()
        } else {
            format!(", turned by {} degrees", trim(other.turn, 3))
        };
        *out += &format!("{}{turned} would do: a region of {} mm2.\n", other.instrument, trim(other.area, 0));
    }
    if let Some(area) = a.side_exit {
        let words = format!(
            "A connector or hose that leaves to the side within its outline, in place of those that leave to the rear, would \
             do: a region of {} mm2.",
            trim(area, 0)
        );
        *out += &format!("{}\n", wrap(&words, 0));
    }
}

/// Pairs that are told to people.
const PAIRS: usize = 5;

fn binds(a: &Answer, s: &Short) -> BTreeSet<String> {
    let name = |b: &place::Binds| {
        format!(
            "{}: {} and {}, {} mm asked",
            b.rule.id,
            a.panel.part_name(b.own),
            a.panel.part_name(b.other),
            trim(b.asks, 2)
        )
    };
    s.binds.iter().map(name).collect()
}

/// For programs.
pub fn json(answers: &[Answer]) -> Value {
    let of = |a: &Answer| {
        let spot = |s: &Spots| {
            let best = s.best.as_ref()?;
            let p = a.at(best.shift);
            let mut trial = a.panel.clone();
            trial.shift(a.subject, best.shift);
            let said = |list: &[Finding]| -> Vec<Value> {
                let of = |f: &Finding| json!({ "id": f.id(&trial), "verdict": f.verdict.word() });
                list.iter().map(of).collect()
            };
            Some(json!({
                "at": [p.x, p.y], "room": best.room, "verdict": best.verdict().word(),
                "findings": said(&best.findings), "beside": said(&best.beside), "tried": s.tried,
                "seen": fits_sight::seen_json(a, best.shift),
            }))
        };
        let (area, pieces) = place::size(&a.region.area);
        let origin = a.at(Vec2::ZERO).to_vec2();
        let rings: Vec<Vec<[f64; 2]>> = a
            .region
            .area
            .contours(0.0)
            .iter()
            .map(|c| c.segments().iter().map(|s| s.start() + origin).map(|p| [p.x, p.y]).collect())
            .collect();
        let short = a.short.as_ref().map(|s| {
            let p = a.at(s.at.to_vec2());
            json!({ "by": s.by, "at": [p.x, p.y], "binds": binds(a, s) })
        });
        let without: Vec<Value> =
            a.without.iter().map(|(id, area)| json!({ "item": id, "area": area })).collect();
        let only = |s: &place::Spot| {
            let p = a.at(s.shift);
            json!({ "at": [p.x, p.y], "verdict": s.verdict().word(), "seen": fits_sight::seen_json(a, s.shift) })
        };
        let (hairline, hidden) = (a.hairline.as_ref().map(only), a.hidden.as_ref().map(only));
        let instead =
            |i: &place::Instead| json!({ "instrument": i.instrument, "turn": i.turn, "area": i.area });
        let instead: Vec<Value> = a.instead.iter().map(instead).collect();
        let pairs: Vec<Value> =
            a.pairs.iter().map(|(ids, area)| json!({ "items": ids, "area": area })).collect();
        let unsaid: Vec<Value> =
            a.region.unsaid.iter().map(|(rule, why)| json!({ "rule": rule, "because": why })).collect();
        json!({
            "instrument": a.asks.instrument, "turn": a.asks.turn, "verdict": a.verdict().word(),
            "nominal": a.asks.tight,
            "region": {
                "area": area, "pieces": pieces, "rings": rings, "tolerance": TOLERANCE, "beside-controls": a.region.excess,
                "relations": a.region.rules, "withheld": a.region.withheld, "not-in-the-region": unsaid,
            },
            "most-room": spot(&a.roomiest), "nearest": a.nearest.as_ref().and_then(spot),
            "by-sight": fits_sight::json(a, |s| spot(&s.spots)),
            "hairline": hairline, "hidden": hidden, "instead": instead, "short": short, "without": without, "without-two": pairs, "with-side-exit": a.side_exit,
        })
    };
    json!({ "format": FORMAT, "answers": answers.iter().map(of).collect::<Vec<_>>() })
}
