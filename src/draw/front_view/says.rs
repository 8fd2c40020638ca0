//! The words under the front view: standing, what does not pass, cautions.

use super::Shows;
use crate::check::{Finding, Verdict};
use crate::draw::Weight;
use crate::draw::template::column::{Block, Piece, SMALL};
use crate::draw::template::strip::CAUTIONS;
use crate::draw::template::words::short_hash;
use crate::draw::template::{Standing, TemplateOptions};
use crate::panel::{Panel, Subject, SubjectKind};

/// Most findings listed by name.
const LISTED: usize = 10;

/// Notice, revision, and how to read the view.
pub fn words(panel: &Panel, findings: &[Finding], shows: Shows) -> Block {
    let standing = Standing::of(panel, findings, &TemplateOptions::default());
    let mut b = Vec::new();
    match (standing.notice(), &standing.lifted) {
        (Some(n), _) => b.push(Piece::head(n)),
        (None, Some((because, by))) => {
            let words = format!("cut in spite of {}: {because} ({by})", standing.against.join(", "));
            b.push(Piece::Words(words, SMALL, Weight::Bold));
        }
        (None, None) => {}
    }
    let revision = panel.title.get("revision").unwrap_or("not given");
    b.push(Piece::words(format!("revision {revision}; inputs {}", short_hash(panel))));
    b.push(Piece::words(
        "bezels solid, openings dashed, provisions dash and two dots; the worst verdict of each item is written, \
         hatched and drawn heavier",
    ));
    let around = |s: &Subject| matches!(s.kind, SubjectKind::Obstacle | SubjectKind::Control);
    if shows.bands && panel.subjects.iter().any(around) {
        b.push(Piece::words(
            "thin grey dashes: airframe, and all the room that controls take on their travel, with the depth at which each \
             begins",
        ));
    }
    b
}

/// The cautions of a template, but for its scale bars: this view is not to cut from.
pub fn cautions() -> Block {
    let mut b = vec![Piece::head("Cautions")];
    b.push(Piece::words("Check every number against your own instruments and airframe."));
    b.extend(CAUTIONS.iter().skip(1).map(|c| Piece::words(*c)));
    b
}

/// The worst of what is not a pass.
pub fn listed(panel: &Panel, findings: &[Finding]) -> Block {
    let mut open: Vec<&Finding> = findings.iter().filter(|f| f.verdict != Verdict::Pass).collect();
    open.sort_by_key(|f| f.verdict);
    if open.is_empty() {
        return Vec::new();
    }
    let mut b = vec![Piece::head("Not pass")];
    for f in open.iter().take(LISTED) {
        b.push(Piece::words(format!("{}: {}", f.verdict.word(), f.id(panel))));
    }
    if open.len() > LISTED {
        b.push(Piece::words(format!("and {} more in the report", open.len() - LISTED)));
    }
    b
}
