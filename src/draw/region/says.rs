//! The words under the view of a region.

use super::lettered;
use crate::check::{Finding, Verdict};
use crate::draw::Weight;
use crate::draw::template::column::{Block, Piece, SMALL};
use crate::draw::template::words::{short_hash, trimmed};
use crate::draw::template::{Standing, TemplateOptions};
use crate::panel::Panel;
use crate::place::{Answer, TOLERANCE, size};
use std::collections::BTreeSet;

/// Most relations, items and numbers listed.
const LISTED: usize = 8;

/// Standing of the panel as it is, the answer, and how to read the view.
pub fn words(panel: &Panel, findings: &[Finding], a: &Answer) -> Block {
    let mut b = Vec::new();
    if let Some(notice) = Standing::of(panel, findings, &TemplateOptions::default()).notice() {
        b.push(Piece::head(notice));
    }
    let revision = panel.title.get("revision").unwrap_or("not given");
    b.push(Piece::words(format!("panel as it is: revision {revision}; inputs {}", short_hash(panel))));
    let (area, pieces) = size(&a.region.area);
    if pieces == 0 {
        return b;
    }
    let shape = if pieces == 1 { "one piece".to_owned() } else { format!("{pieces} pieces") };
    let drawn = if a.asks.tight { ", as drawn, whatever the tolerances take" } else { "" };
    b.push(Piece::words(format!(
        "hatched: where the instrument's origin (cross) may stand{drawn}; {} mm2 in {shape}; what passes by more than \
         {TOLERANCE} mm is in it. Figures on lines: room to the border, mm. Broken lines: the instrument at a spot; \
         coordinates in mm from the datum",
        trimmed(area, 0)
    )));
    if a.region.excess > 0.0 {
        let words = format!(
            "beside controls that turn the region may lack up to {} mm more",
            trimmed(a.region.excess, 2)
        );
        b.push(Piece::words(words));
    }
    b
}

/// A row for each spot.
pub fn spots(a: &Answer) -> Block {
    let all = lettered(a);
    if all.is_empty() {
        return Vec::new();
    }
    let mut rows =
        vec![["spot", "x", "y", "room", "what it is; all rules asked there"].map(String::from).to_vec()];
    for (letter, title, s) in all {
        let p = a.at(s.shift);
        let count = |v: Verdict| s.findings.iter().chain(&s.beside).filter(|f| f.verdict == v).count();
        let said: Vec<String> = [Verdict::Fail, Verdict::Tight, Verdict::Withheld]
            .into_iter()
            .filter(|v| count(*v) > 0)
            .map(|v| format!("{} {}", count(v), v.word()))
            .collect();
        let said = if said.is_empty() { "all pass".to_owned() } else { said.join(", ") };
        rows.push(vec![
            letter.to_string(),
            trimmed(p.x, 2),
            trimmed(p.y, 2),
            trimmed(s.room, 2),
            format!("{title}: {said}"),
        ]);
    }
    vec![Piece::Table(vec![0.09, 0.15, 0.15, 0.13, 0.48], rows)]
}

/// What binds where it fits nowhere, and what would make room.
pub fn nowhere(a: &Answer) -> Block {
    if size(&a.region.area).1 > 0 {
        return Vec::new();
    }
    if a.hairline.is_some() {
        return vec![Piece::words(format!(
            "it fits at the spot drawn, where all rules pass, and hardly elsewhere: what is left is a point, a line or a strip \
             narrower than {TOLERANCE} mm"
        ))];
    }
    if a.hidden.is_some() {
        let words =
            "by room it fits at one spot and hardly elsewhere, but a standby must be seen: it is put nowhere";
        return vec![Piece::words(words.to_owned())];
    }
    let mut b = vec![Piece::head("Fits nowhere")];
    match &a.short {
        None => b.push(Piece::words("nothing that gives way would make room for it")),
        Some(s) => {
            let p = a.at(s.at.to_vec2());
            b.push(Piece::Words(
                format!(
                    "short by {} mm: with all limits together that much less it would stand at [{}, {}], drawn in broken \
                     lines; heavy lines are what binds there:",
                    trimmed(s.by, 2),
                    trimmed(p.x, 1),
                    trimmed(p.y, 1)
                ),
                SMALL,
                Weight::Regular,
            ));
            let name = |b: &crate::place::Binds| {
                let (own, other) = (a.panel.part_name(b.own), a.panel.part_name(b.other));
                format!("{}: {own} and {other}, {} mm asked", b.rule.id, trimmed(b.asks, 2))
            };
            list(
                s.binds.iter().map(name).collect::<BTreeSet<_>>().into_iter().collect(),
                "relations",
                &mut b,
            );
        }
    }
    let items = a.without.iter().map(|(id, area)| format!("{id} ({} mm2)", trimmed(*area, 0)));
    let pairs =
        a.pairs.iter().map(|([one, two], area)| format!("{one} and {two} ({} mm2)", trimmed(*area, 0)));
    let moved: Vec<String> = items.chain(pairs).collect();
    if moved.is_empty() {
        b.push(Piece::words("no single item and no pair, moved or left out, would make room for it"));
    } else {
        b.push(Piece::words("there would be room (region) if one of these lines were moved or left out:"));
        list(moved, "lines", &mut b);
    }
    b
}

/// What the region does not say.
pub fn open(a: &Answer) -> Block {
    let mut b = Vec::new();
    if !a.region.withheld.is_empty() {
        b.push(Piece::head("Withheld wherever it stands, for want of"));
        list(a.region.withheld.clone(), "numbers", &mut b);
    }
    let mut whys: Vec<&str> = a.region.unsaid.iter().map(|(_, why)| *why).collect();
    whys.dedup();
    for why in whys {
        let rules: Vec<&str> = a.region.unsaid.iter().filter(|(_, w)| *w == why).map(|(r, _)| *r).collect();
        b.push(Piece::words(format!("not in the region: {} ({why})", rules.join(", "))));
    }
    b
}

fn list(all: Vec<String>, what: &str, b: &mut Block) {
    let more = all.len().saturating_sub(LISTED);
    b.extend(all.into_iter().take(LISTED).map(Piece::words));
    if more > 0 {
        b.push(Piece::words(format!("and {more} {what} more in the text")));
    }
}
