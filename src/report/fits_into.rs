//! An instrument into an old opening, told to people and to programs.

use crate::check::{Finding, Findings, Verdict};
use crate::panel::{Panel, PartRef};
use crate::place::{Barred, Into, Plate, Seen};
use crate::report::FORMAT;
use crate::report::sentence::{trim, wrap};
use serde_json::{Value, json};

/// The plate's own check.
pub struct Plated<'a> {
    /// Its panel.
    pub panel: &'a Panel,
    /// What the rules say of it.
    pub findings: &'a Findings,
    /// The file that was written.
    pub file: Option<String>,
}

fn pair(size: (f64, f64)) -> String {
    format!("{} x {} mm", trim(size.0, 2), trim(size.1, 2))
}

/// For people.
pub fn text(a: &Into, plated: Option<&Plated<'_>>) -> String {
    let p = &a.panel;
    let name = |r: &PartRef| p.part_name(*r);
    let mut out = String::new();
    let mut say = |words: String, indent: usize| {
        out += &" ".repeat(indent);
        out += wrap(&words, indent).trim_start();
        out.push('\n');
    };
    say(format!("{} into the opening {}", a.instrument, name(&a.opening)), 0);
    say(String::new(), 0);
    match a.passes {
        Verdict::Withheld => {
            say("withheld: the size of what must pass the old opening is not known".into(), 0)
        }
        v => say(
            format!("{}: what must pass the old opening, {} mm a side asked", v.word(), trim(a.asked, 2)),
            0,
        ),
    }
    for (r, room) in &a.through {
        let words = if *room >= 0.0 {
            format!("{}: {} mm of room a side", name(r), trim(*room, 3))
        } else {
            format!("{}: sticks out by {} mm", name(r), trim(-room, 3))
        };
        say(words, 2);
    }
    if a.screws.is_empty() {
        say("withheld: no screw of the instrument is known".into(), 0);
    } else {
        say(format!("{} of {} screws meet an old hole", a.matched(), a.screws.len()), 0);
    }
    for s in &a.screws {
        let screw = s.fastener.as_deref().unwrap_or("screw");
        let to = s.old.as_ref().map_or(String::new(), |(r, off)| {
            format!(" to {}, {} mm off its centre", name(r), trim(*off, 3))
        });
        let why = match (s.verdict, s.spare) {
            (Verdict::Pass, Some(spare)) => format!(", {} mm of play left", trim(spare, 3)),
            _ => format!(": {}", s.why),
        };
        say(format!("{} {} ({screw}){to}{why}", s.verdict.word(), name(&s.part)), 2);
    }
    if let Some(seen) = &a.seen {
        say(seen_words(a, seen), 0);
    }
    let goes = match a.direct() {
        Verdict::Pass => "It goes in as it is",
        Verdict::Tight => "As drawn it goes in as it is, at the worst tolerances it may not",
        Verdict::Withheld => "Whether it goes in as it is cannot be told yet",
        Verdict::Fail => "It does not go in as it is",
    };
    match &a.plate {
        None => say(format!("{goes}: no plate is needed."), 0),
        Some(Err(why)) => {
            say(format!("{goes}, and no adapter plate would carry it:"), 0);
            why.iter().for_each(|w| say(w.clone(), 2));
        }
        Some(Ok(plate)) => {
            say(format!("{goes}. An adapter plate in front of the sheet would carry it:"), 0);
            plate_words(a, plate, &mut say);
            if let Some(made) = plated {
                check_words(made, &mut say);
            }
        }
    }
    if matches!(a.plate, Some(Err(_))) {
        // the old opening stays as it is
    } else if a.uncovered.is_empty() {
        say("Nothing of the old opening and its screw holes stays uncovered.".into(), 0);
    } else {
        say("Stays uncovered:".into(), 0);
        for (r, area) in &a.uncovered {
            say(format!("{}: {} mm2", name(r), trim(*area, 1)), 2);
        }
    }
    if !a.doubler.is_empty() {
        say("A doubler would be wanted; its design is left to approved data:".into(), 0);
        a.doubler.iter().for_each(|w| say(w.clone(), 2));
    }
    say(String::new(), 0);
    let own = "Asked here: the opening and the screws. Put it into the panel file and run check for depth, neighbours and all \
               other rules. The program advises, it approves nothing: the maintenance manual, the local rules and the licensed \
               person who signs decide.";
    say(own.into(), 0);
    out
}

/// What is seen of a standby there.
fn seen_words(a: &Into, seen: &Seen) -> String {
    let word = seen.verdict().word();
    match seen {
        Seen::Withheld(lacks) => format!("{word}: a standby must be seen; {}", lacks.join("; ")),
        Seen::Told(lines, barred) if barred.is_empty() => format!(
            "{word}: a standby must be seen; all {lines} lines of sight to its corners and middle are clear of controls at rest \
             and what is fixed"
        ),
        Seen::Told(lines, barred) => {
            let mut by: Vec<String> = barred.iter().map(|b| barred_by(a, b)).collect();
            by.sort();
            by.dedup();
            format!(
                "{word}: a standby must be seen; of {lines} lines of sight to its corners and middle {} are barred, by {}",
                barred.len(),
                by.join(", ")
            )
        }
    }
}

fn barred_by(a: &Into, b: &Barred) -> String {
    b.by.map_or("the panel itself, since the eye is not in front of it".into(), |p| a.panel.part_name(p))
}

fn plate_words(a: &Into, plate: &Plate, say: &mut impl FnMut(String, usize)) {
    let thick =
        plate.thickness.map_or("thickness not known".to_owned(), |t| format!("{} mm thick", trim(t, 3)));
    let material = plate.material.as_deref().unwrap_or("material not known");
    say(format!("{}, corners {} mm, {material}, {thick}", pair(plate.size), trim(plate.corner, 2)), 2);
    for h in &plate.holes {
        let screw = h.fastener.as_deref().unwrap_or("screw not named");
        say(
            format!(
                "hole of {} mm ({screw}) at [{}, {}] from its middle, over {}",
                trim(h.diameter, 3),
                trim(h.at.x, 3),
                trim(h.at.y, 3),
                a.panel.part_name(h.old)
            ),
            2,
        );
    }
    if plate.depth.is_none() {
        say("the depth behind it is not known".into(), 2);
    }
    if !plate.meets.is_empty() {
        say(
            format!(
                "fail: it would lie on, or too near to, {}: clear its place first",
                plate.meets.join(", ")
            ),
            2,
        );
    }
}

fn check_words(made: &Plated<'_>, say: &mut impl FnMut(String, usize)) {
    let count = |v: Verdict| made.findings.list.iter().filter(|f| f.verdict == v).count();
    let all = [Verdict::Fail, Verdict::Withheld, Verdict::Tight, Verdict::Pass];
    let counts: Vec<String> = all.iter().map(|v| format!("{} {}", count(*v), v.word())).collect();
    say(format!("its own check: {}", counts.join(", ")), 2);
    for f in made.findings.list.iter().filter(|f| f.verdict != Verdict::Pass) {
        say(format!("{} {}", f.verdict.word(), f.id(made.panel)), 4);
    }
    let driver = |f: &&Finding| f.verdict == Verdict::Fail && f.rule.id == "tool-reach";
    if made.findings.list.iter().any(|f| driver(&f)) {
        let words = "tool-reach: the plate's screws are not reached with the instrument on; screw the plate to the sheet first \
                     and put the instrument in afterwards. The verdict stays until somebody records that (cut-anyway)";
        say(words.into(), 2);
    }
    if let Some(file) = &made.file {
        say(format!("wrote {file}: `panelwright check` and `template` take it like any panel"), 2);
    }
}

/// For programs.
pub fn json(a: &Into, plated: Option<&Plated<'_>>) -> Value {
    let name = |r: &PartRef| a.panel.part_name(*r);
    let through: Vec<Value> =
        a.through.iter().map(|(r, room)| json!({ "part": name(r), "room": room })).collect();
    let screws: Vec<Value> = a
        .screws
        .iter()
        .map(|s| {
            json!({
                "part": name(&s.part), "fastener": s.fastener, "old": s.old.as_ref().map(|o| name(&o.0)),
                "off": s.old.as_ref().map(|o| o.1), "play": s.spare, "verdict": s.verdict.word(), "because": s.why,
            })
        })
        .collect();
    let uncovered: Vec<Value> =
        a.uncovered.iter().map(|(r, area)| json!({ "part": name(r), "area": area })).collect();
    let plate = a.plate.as_ref().and_then(|p| p.as_ref().ok()).map(|p| {
        let holes: Vec<Value> = p
            .holes
            .iter()
            .map(|h| json!({ "over": name(&h.old), "at": [h.at.x, h.at.y], "diameter": h.diameter, "fastener": h.fastener }))
            .collect();
        let check = plated.map(|m| {
            let open = m.findings.list.iter().filter(|f| f.verdict != Verdict::Pass);
            open.map(|f| json!({ "id": f.id(m.panel), "verdict": f.verdict.word() })).collect::<Vec<_>>()
        });
        json!({
            "size": [p.size.0, p.size.1], "corner": p.corner, "thickness": p.thickness, "material": p.material,
            "depth": p.depth, "holes": holes, "meets": p.meets, "findings": check,
            "file": plated.and_then(|m| m.file.clone()),
        })
    });
    let seen = a.seen.as_ref().map(|seen| match seen {
        Seen::Withheld(lacks) => json!({ "verdict": seen.verdict().word(), "withheld": lacks }),
        Seen::Told(lines, barred) => {
            let of = |b: &Barred| json!({ "eye": b.eye, "to": b.to.words(), "by": b.by.map(|p| name(&p)) });
            let barred: Vec<Value> = barred.iter().map(of).collect();
            json!({ "verdict": seen.verdict().word(), "lines": lines, "barred": barred })
        }
    });
    let cannot = a.plate.as_ref().and_then(|p| p.as_ref().err());
    json!({
        "format": FORMAT, "instrument": a.instrument, "opening": name(&a.opening), "as-it-is": a.direct().word(),
        "verdict": a.verdict().word(), "standby-seen": seen,
        "passes": { "verdict": a.passes.word(), "asked": a.asked, "parts": through },
        "screws": screws, "uncovered": uncovered, "doubler": a.doubler, "plate": plate, "no-plate-because": cannot,
    })
}
