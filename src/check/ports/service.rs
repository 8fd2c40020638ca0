//! How much longer than its route a line has to be, so that its item comes out with the plug in it.

use super::exit::line_at;
use crate::panel::{Class, Detail, LineKind, Panel, PartRef, Service};

/// New ends that wires are to allow (AC 43.13-1B 11-118), and what each takes, mm (common practice).
const ENDS: f64 = 2.0 * 25.0;

/// What a line needs beyond its route.
#[derive(Clone, Debug, PartialEq)]
pub struct Loop {
    /// The line's id.
    pub line: String,
    /// Its stated length, mm.
    pub length: Option<f64>,
    /// How far the plug has to come to be in front of the sheet, mm; 0 for what is served from behind.
    pub pull: f64,
    /// The hand behind it, mm.
    pub hand: f64,
    /// Two new ends, mm; 0 for what is no wire.
    pub ends: f64,
}

impl Loop {
    /// All of it, mm.
    pub fn sum(&self) -> f64 {
        self.pull + self.hand + self.ends
    }

    /// Its terms in words.
    pub fn words(&self, mm: impl Fn(f64) -> String) -> String {
        let mut terms = Vec::new();
        if self.pull > 0.0 {
            terms.push(format!("{} to draw it out", mm(self.pull)));
            terms.push(format!("{} for the hand", mm(self.hand)));
        }
        if self.ends > 0.0 {
            terms.push(format!("{} for two new ends", mm(self.ends)));
        }
        if terms.is_empty() { "nothing beyond it".into() } else { terms.join(" + ") }
    }
}

/// The loop of the line that hangs on a port; `None`: no line with an end does, or it is a rigid one. `Err`: what is
/// missing, in words.
pub fn loop_of(panel: &Panel, port: PartRef, hand: f64) -> Option<Result<Loop, String>> {
    let line = panel.space.lines.get(line_at(panel, port)?)?;
    line.to?;
    let wires = match line.kind {
        LineKind::Wires | LineKind::Coax => true,
        LineKind::Hose | LineKind::Drive => false,
        LineKind::Pipe | LineKind::ControlCable => return None,
    };
    let s = panel.subject(port);
    let id = panel.subjects.get(line.subject as usize).map_or("the line", |s| s.id.as_str());
    let front = match s.facts.as_ref()?.service {
        Some(Service::Front) => true,
        Some(Service::Rear | Service::Both) => false,
        None => return Some(Err(format!("the side from which {} is served", s.id))),
    };
    let ends = if wires { ENDS } else { 0.0 };
    let mut l = Loop { line: id.to_string(), length: line.length, pull: 0.0, hand: 0.0, ends };
    if front {
        let Some(deep) = deepest(panel, port) else {
            return Some(Err(format!("how deep {} is with its plug", s.id)));
        };
        let face = panel.sheets.get(s.sheet as usize).map_or(0.0, |sheet| sheet.front);
        l.pull = (deep - face).max(0.0);
        l.hand = hand;
    }
    Some(Ok(l))
}

/// Depth at which the body and this port's plug end.
fn deepest(panel: &Panel, port: PartRef) -> Option<f64> {
    let s = panel.subject(port);
    let plug = match &panel.part(port).detail {
        Detail::Port { .. } => super::stiff(s, panel.part(port)).map_or(Some(0.0), |p| p.depth.map(|d| d.1)),
        _ => None,
    };
    let bodies = s.parts.iter().filter(|p| p.class == Class::Body).map(|p| p.depth.map(|d| d.1));
    bodies.chain([plug]).try_fold(0.0, |deep: f64, d| Some(deep.max(d?)))
}
