//! Where an instrument fits, told to people and to programs.

use crate::check::Finding;
use crate::check::bans::own_rules;
use crate::geom::Vec2;
use crate::panel::Panel;
use crate::place::{self, Answer, Asks, Short, Spots, TOLERANCE};
use crate::report::FORMAT;
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
            continue;
        }
        let shape = if pieces == 1 { "one piece".to_string() } else { format!("{pieces} pieces") };
        let region = format!(
            "By the relations between parts it may stand with its origin in a region of {} mm2, in {shape}. What passes by \
             more than {TOLERANCE} mm is in it.",
            trim(area, 0)
        );
        out += &format!("{}\n", wrap(&region, 0));
        spot(a, &a.roomiest, "Most room", &mut out);
        if let Some(nearest) = &a.nearest {
            spot(a, nearest, "Nearest to the place wished for", &mut out);
        }
        out.push('\n');
    }
    let own = format!(
        "Rules that measure by themselves ({}) are not in the region: each spot told was asked by all rules. The program advises, \
         it approves nothing: the maintenance manual, the local rules and the licensed person who signs decide.",
        own_rules().map(|r| r.id).collect::<Vec<_>>().join(", ")
    );
    out += &wrap(&own, 0);
    out.push('\n');
    out
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
        list("Not settled by its place:".into(), &best.beside);
    }
}

fn nowhere(a: &Answer, out: &mut String) {
    *out += "It fits nowhere";
    match &a.short {
        Some(s) => {
            let p = a.at(s.at.to_vec2());
            *out += &format!(
                ": short by {} mm. With all limits together that much less, one place would do: [{}, {}]. There bind:\n",
                trim(s.by, 2),
                trim(p.x, 1),
                trim(p.y, 1)
            );
            for words in binds(a, s) {
                *out += &format!("  {words}\n");
            }
        }
        None => *out += ": it would overlap something wherever it stands, whatever the limits.\n",
    }
    if a.without.is_empty() {
        *out +=
            "No single item, if it were not there, would make room for it by the relations between parts.\n";
    } else {
        *out += "By the relations between parts there would be room without one of these:\n";
        for (id, area) in &a.without {
            *out += &format!("  {id} (a region of {} mm2)\n", trim(*area, 0));
        }
    }
    out.push('\n');
}

fn binds(a: &Answer, s: &Short) -> BTreeSet<String> {
    let name = |b: &place::Binds| {
        format!("{}: {} and {}", b.rule.id, a.panel.part_name(b.own), a.panel.part_name(b.other))
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
        json!({
            "instrument": a.asks.instrument, "turn": a.asks.turn, "verdict": a.verdict().word(),
            "region": { "area": area, "pieces": pieces, "rings": rings, "tolerance": TOLERANCE, "relations": a.region.rules },
            "most-room": spot(&a.roomiest), "nearest": a.nearest.as_ref().and_then(spot),
            "short": short, "without": without,
        })
    };
    let own: Vec<&str> = own_rules().map(|r| r.id).collect();
    json!({ "format": FORMAT, "answers": answers.iter().map(of).collect::<Vec<_>>(), "not-in-the-region": own })
}
