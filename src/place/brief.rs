//! The answer for one instrument in a line: whether it fits, with how much room, or by how much it is short. What many
//! panels are sorted by.

use super::answer::{Answer, Asks};
use super::spots::size;
use crate::check::Verdict;
use crate::geom::Point;
use crate::panel::Panel;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// The answer in a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Brief {
    /// Name of the panel.
    pub panel: String,
    /// Turned, degrees.
    pub turn: f64,
    /// As the whole answer says.
    pub verdict: Verdict,
    /// Whether that is what was asked for.
    pub fits: bool,
    /// Size of the region, mm2.
    pub area: f64,
    /// The best spot: of those that stand alike the one with the most room.
    pub at: Option<Point>,
    /// How far it is from the region's border, mm: it may be off by so much on every side.
    pub room: Option<f64>,
    /// What the rules say there that is no pass.
    pub findings: Vec<(String, Verdict)>,
    /// Numbers that are missing wherever it stands, and what is not known of a standby.
    pub withheld: Vec<String>,
    /// By how much it is short where it fits nowhere, mm; `None`: it fits, or nothing that gives way makes room.
    pub short: Option<f64>,
    /// What binds there: rule, own part, the other.
    pub binds: BTreeSet<String>,
}

/// What is told of a standby of which nobody can say what is seen.
const UNSEEN: &str = "what is seen of a standby (the eye, the tilt, what stands before the panel)";

impl Brief {
    /// Works it out, and no more than that; the instrument is a subject of the panel that stands at its datum.
    pub fn of(panel: Panel, subject: usize, asks: Asks) -> Brief {
        Brief::told(&Answer::brief(panel, subject, asks))
    }

    /// The line of a whole answer.
    pub fn told(a: &Answer) -> Brief {
        let best = a.best();
        let mut trial = a.panel.clone();
        if let Some(s) = best {
            trial.shift(a.subject, s.shift);
        }
        let said = best.into_iter().flat_map(|s| s.findings.iter().chain(&s.beside));
        let findings = said.map(|f| (f.id(&trial), f.verdict)).collect();
        let unseen = a.unseen_standby().then(|| UNSEEN.to_string());
        let name = |r| a.panel.part_name(r);
        let binds = a.short.iter().flat_map(|s| &s.binds);
        Brief {
            panel: a.panel.name.clone(),
            turn: a.asks.turn,
            verdict: a.verdict(),
            fits: a.fits(),
            area: size(&a.region.area).0,
            at: best.map(|s| a.at(s.shift)),
            room: best.map(|s| s.room),
            findings,
            withheld: a.region.withheld.iter().cloned().chain(unseen).collect(),
            short: a.short.as_ref().map(|s| s.by),
            binds: binds.map(|b| format!("{}: {} and {}", b.rule.id, name(b.own), name(b.other))).collect(),
        }
    }

    /// The better one first: what fits with the most room, then tight, then withheld, then what fails at its best spot,
    /// then what fits nowhere, the least short first.
    pub fn order(&self, o: &Brief) -> Ordering {
        let up = |a: Option<f64>, b: Option<f64>| {
            a.unwrap_or(f64::INFINITY).total_cmp(&b.unwrap_or(f64::INFINITY))
        };
        let place = |b: &Brief| (!b.fits, b.at.is_none(), std::cmp::Reverse(b.verdict));
        place(self)
            .cmp(&place(o))
            .then_with(|| o.room.unwrap_or(0.0).total_cmp(&self.room.unwrap_or(0.0)))
            .then_with(|| up(self.short, o.short))
    }
}
