//! The card of the full-and-free check of the controls, to work through and sign after the job.
//!
//! What is tried and under which conditions is common practice (no source at hand); that a second, independent person
//! inspects the controls after they were disturbed is asked by many local rules (from memory). The card asks; it
//! approves nothing.

use super::page::{About, cautions};
use crate::check::{Finding, Note, Verdict};
use crate::draw::drawing::DrawingOptions;
use crate::draw::drawing::flow::{Cells, Piece};
use crate::draw::{Drawing, Weight, text};
use crate::panel::{Panel, SubjectKind};
use crate::solid::travel::{Driver, DriverKind};

/// Clearances that are listed.
const LISTED: usize = 14;

/// Conditions under which the controls are tried.
const CONDITIONS: [&str; 7] = [
    "Everything fitted as it will fly: every instrument, plug, hose, cover and screw. Nothing lies loose behind.",
    "Looms, hoses and cables tied along their whole run, also where they will be pulled and pushed by the movement.",
    "Seats occupied, by people as large as will fly: knees, hands, belts and headset leads where they will be.",
    "Doors and canopy shut and latched; map, tablet and monitor arms in every position in which they are used, and slipped.",
    "Seats and pedals at both ends of their own adjustment.",
    "Tools counted back into the box; a lamp and a mirror taken round everything that moves.",
    "Propeller treated as live, battery as the maintenance manual asks.",
];

/// What is tried of each control.
const TRIALS: [&str; 5] = [
    "Slowly from stop to stop, then quickly: no rub, no step, no spring, no sound that was not there before.",
    "Every control at each end while each of the others goes from stop to stop: all corners, not neutral alone.",
    "At each stop a firm push: it is the stop that is met, not a wire, box or screw. Flexing under force brings nothing nearer.",
    "Every surface moves the right way, and as far as the manual says.",
    "Both sets of controls, where there are two. Let go: nothing has moved, slipped or been pulled tight.",
];

/// The card.
pub fn card(panel: &Panel, findings: &[Finding], opts: &DrawingOptions) -> Drawing {
    let about = About {
        panel,
        findings,
        opts,
        kind: "control check card",
        part: "controls full and free".into(),
        name: "page".into(),
    };
    let mut blocks = vec![intro(), ticks("Before", &CONDITIONS), ticks("Try", &TRIALS), controls(&about)];
    blocks.extend(clearances(&about));
    blocks.push(signatures());
    blocks.push(about.standing_block());
    blocks.push(cautions());
    let pages = about.words(&blocks);
    about.drawing(pages)
}

fn intro() -> Vec<Piece> {
    vec![
        Piece::Head("Controls full and free, after work behind the panel".into()),
        Piece::Strong(
            "The program advises, it approves nothing. The numbers are those of the panel's file; the aeroplane decides."
                .into(),
        ),
        Piece::Words(
            "Work through it with everything fitted, and again after anything behind the panel was touched. One box left open: \
             do not fly."
                .into(),
        ),
    ]
}

/// A box to tick, as the font has it.
fn tick() -> &'static str {
    if text::has('\u{2610}', Weight::Regular) { "\u{2610}" } else { "[  ]" }
}

fn ticks(head: &str, list: &[&str]) -> Vec<Piece> {
    let rows = list
        .iter()
        .enumerate()
        .map(|(k, words)| Cells(format!("{head} {}", k + 1), vec![tick().into(), (*words).to_owned()]));
    vec![Piece::Head(head.into()), Piece::Table(vec![0.05, 0.95], vec!["", ""], rows.collect())]
}

/// Each control with what moves it.
fn controls(about: &About<'_>) -> Vec<Piece> {
    let panel = about.panel;
    let m = &panel.space.mechanism;
    let mut rows = Vec::new();
    let number = |d: &Driver, v: f64| match d.kind {
        DriverKind::Slide => format!("{} {}", about.print().number(v), about.print().unit()),
        DriverKind::Turn => format!("{}\u{b0}", crate::draw::drawing::number::degrees(v)),
    };
    for (k, s) in panel.subjects.iter().enumerate().filter(|(_, s)| s.kind == SubjectKind::Control) {
        let own = (0..m.links.len()).filter(|l| panel.space.control_of.get(*l) == Some(&(k as u32)));
        let mut movers: Vec<usize> = own.flat_map(|l| m.movers(l)).collect();
        movers.sort_unstable();
        movers.dedup();
        for d in movers.into_iter().filter_map(|d| m.drivers.get(d)) {
            let past = match d.over {
                Some((low, high)) => format!("{} / {}", number(d, low), number(d, high)),
                None => "not stated".into(),
            };
            let cells = vec![
                s.id.clone(),
                d.id.clone(),
                number(d, d.stops.0),
                number(d, d.stops.1),
                past,
                format!("{0} low   {0} high   {0} with all others", tick()),
            ];
            rows.push(Cells(format!("{} {}", s.id, d.id), cells));
        }
    }
    let mut block = vec![Piece::Head("Every control".into())];
    if rows.is_empty() {
        block.push(Piece::Strong("The panel's file names no control: write them in.".into()));
        for _ in 0..5 {
            block.push(Piece::Sign(vec![
                (0.3, "control".into()),
                (0.35, "stops".into()),
                (0.35, "free at both ends, with all others".into()),
            ]));
        }
        return block;
    }
    block.push(Piece::Words(
        "From and to: its stops, and how far beyond them it can be forced, as the file states them. Boxes: at the low stop, at \
         the high stop, and both again while every other control goes from stop to stop."
            .into(),
    ));
    let head = vec!["control", "moved by", "from", "to", "past them", "free and full"];
    block.push(Piece::Table(vec![0.15, 0.15, 0.11, 0.11, 0.16, 0.32], head, rows));
    block
}

/// The nearest that the fit check found, worst first.
fn clearances(about: &About<'_>) -> Option<Vec<Piece>> {
    let panel = about.panel;
    let control = |r: crate::panel::PartRef| panel.subject(r).kind == SubjectKind::Control;
    let mut list: Vec<&Finding> = about
        .findings
        .iter()
        .filter(|f| f.rule.id.starts_with("control-") && (control(f.a) || f.b.is_some_and(control)))
        .collect();
    if !panel.subjects.iter().any(|s| s.kind == SubjectKind::Control) {
        return None;
    }
    let margin = |f: &Finding| f.worst_margin().unwrap_or(f64::NEG_INFINITY);
    list.sort_by(|a, b| a.verdict.cmp(&b.verdict).then(margin(a).total_cmp(&margin(b))));
    let mut block = vec![Piece::Head("Where it is nearest, as the fit check computed".into())];
    if list.is_empty() {
        block.push(Piece::Words("The fit check found nothing near a control, or was not asked.".into()));
        return Some(block);
    }
    let print = about.print();
    let more = list.len().saturating_sub(LISTED);
    let rows = list.into_iter().take(LISTED).map(|f| {
        let other = f.b.map_or(String::new(), |b| panel.part_name(b));
        let least = f.measured.map_or_else(|| "-".into(), |m| print.number(m.lower));
        let says = match &f.note {
            Note::Waits(w) => format!("waits for {w}"),
            Note::Says(w) => w.clone(),
            Note::Contact => "they meet".into(),
            Note::BothStay => "both are there already".into(),
            Note::None => String::new(),
        };
        let verdict =
            if f.verdict == Verdict::Pass { "pass".into() } else { f.verdict.word().to_uppercase() };
        Cells(
            f.id(panel),
            vec![format!("{} / {other}", panel.part_name(f.a)), least, verdict, says, tick().into()],
        )
    });
    let head = vec!["between", "least", "verdict", "at, and why", "seen"];
    block.push(Piece::Table(vec![0.25, 0.09, 0.12, 0.47, 0.07], head, rows.collect()));
    if more > 0 {
        block.push(Piece::Words(format!("and {more} more in the report")));
    }
    Some(block)
}

fn signatures() -> Vec<Piece> {
    let line = |who: &str| {
        Piece::Sign(vec![
            (0.34, who.to_owned()),
            (0.2, "licence or number".into()),
            (0.28, "signature".into()),
            (0.18, "date".into()),
        ])
    };
    vec![
        Piece::Head("Signed".into()),
        Piece::Words(
            "Two people, each for himself, the second one independent: he has not done the work and tries everything again."
                .into(),
        ),
        line("mechanic who did the work"),
        line("second person, independent"),
    ]
}
