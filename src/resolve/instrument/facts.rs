//! What a definition says beyond its parts, and what it should have said.

use super::source::{Sources, weaker};
use super::{Local, mounting};
use crate::define::Size;
use crate::define::instrument::{Instrument, Service as Said};
use crate::geom::contains;
use crate::panel::{Basis, Class, Control, Facts, Mounting, Service, StackFrame, StackUnit};
use std::collections::BTreeSet;

/// Kinds that are worked or read by hand, and what they are to the rules.
fn control(kind: &str) -> Option<Control> {
    Some(match kind {
        "toggle" => Control::Toggle,
        "push" => Control::Push,
        "breaker" | "fuse" => Control::Breaker,
        "key" => Control::Key,
        "lamp" => Control::Lamp,
        "rotary" | "dimmer" | "knob-control" | "push-pull" | "lever" | "valve" => Control::Handle,
        _ => return None,
    })
}

/// Kinds that the hand takes hold of: something of them stands out in front.
fn is_worked(kind: &str) -> bool {
    control(kind).is_some() && !matches!(kind, "lamp" | "fuse")
}

/// Flat things: nothing passes the sheet, nothing stands behind it.
fn is_flat(kind: &str) -> bool {
    matches!(kind, "blank" | "placard" | "nutplate" | "arm")
}

/// Kinds out of which nothing leads behind.
fn leads_nowhere(kind: &str) -> bool {
    is_flat(kind) || matches!(kind, "mount" | "stack" | "box" | "compass" | "other")
}

pub(super) fn facts(
    name: &str,
    def: &Instrument,
    sources: &Sources<'_>,
    parts: &[Local],
    missing: &mut Vec<(String, String)>,
) -> Facts {
    let kind = def.kind.value.to_string();
    let mounting = mounting(def);
    let frame = def.frame_of_stack.as_ref();
    let unit = def.unit_of_stack.as_ref();
    let mm = |s: &Option<Size>| s.as_ref().map(Size::mm);
    let opens = !def.openings.is_empty();
    // units slide into a frame: its opening is theirs
    if opens && frame.is_none() && unit.is_none() {
        not_said(def, mounting, parts, &kind, missing);
    }
    let mut open_terms = Vec::new();
    if !def.ports_said && !def.bodies.is_empty() && !leads_nowhere(&kind) {
        open_terms.push("plug, hose or wires behind the body, with their bend".to_string());
    }
    let mut unconfirmed = BTreeSet::new();
    let mut weakest = sources.named(None);
    for (k, p) in parts.iter().enumerate() {
        weakest = if k == 0 { p.source.clone() } else { weaker(weakest, p.source.clone()) };
        if matches!(p.source.basis, Basis::Typical | Basis::Invented) {
            unconfirmed.insert(group(&p.name, p.class));
        }
    }
    Facts {
        instrument: name.to_string(),
        title: def.title.value.to_string(),
        nominal: def.nominal.as_ref().map(|n| n.value.to_string()),
        mounting,
        service: def.service.as_ref().map(|s| match s.value {
            Said::Front => Service::Front,
            Said::Rear => Service::Rear,
            Said::Both => Service::Both,
        }),
        accepts: def.sheet.as_ref().map_or((None, None), |s| (mm(&s.least), mm(&s.most))),
        tilt: def.tilt.as_ref().and_then(|t| {
            let calibrated = t.calibrated.as_ref()?.value.degrees();
            Some((calibrated, t.bears.as_ref().map(|b| b.value.degrees())))
        }),
        tilt_matters: def
            .tilt
            .as_ref()
            .is_some_and(|t| t.matters.as_ref().map_or(t.calibrated.is_some(), |m| m.value)),
        control: control(&kind),
        needs_label: def
            .label
            .as_ref()
            .map_or(control(&kind).is_some() || matches!(kind.as_str(), "jack" | "outlet"), |l| l.value),
        mass: def.mass.as_ref().map(|m| m.of.kg()),
        numbers: Vec::new(),
        has_case: def.case.is_some() || !opens || is_flat(&kind) || frame.is_some() || unit.is_some(),
        unit: unit.map(|u| StackUnit {
            height: mm(&u.height),
            width: mm(&u.width),
            set_back: mm(&u.set_back),
            lock_room: mm(&u.lock_room),
        }),
        frame: frame.map(|f| StackFrame {
            opening_width: mm(&f.opening_width),
            opening_height: mm(&f.opening_height),
            rail_spacing: mm(&f.rail_spacing),
            joint: mm(&f.joint),
            // the rules ask for both ends together: the mean keeps the sum
            ends: mm(&f.top).zip(mm(&f.bottom)).map(|(t, b)| (t + b) / 2.0),
            shim: mm(&f.shim),
            set_back: mm(&f.set_back),
        }),
        kind,
        weakest,
        unconfirmed: unconfirmed.into_iter().collect(),
        open_terms,
        ports: def.ports.iter().map(super::ports::outlet).collect(),
    }
}

/// Parts that the kind and the mounting call for and the file does not describe.
fn not_said(
    def: &Instrument,
    mounting: Option<Mounting>,
    parts: &[Local],
    kind: &str,
    missing: &mut Vec<(String, String)>,
) {
    let front = matches!(mounting, Some(Mounting::Front) | None);
    if front && def.bezel.is_none() {
        missing.push(("bezel".into(), "its shape".into()));
    }
    if mounting == Some(Mounting::Rear) && def.flange.is_none() && !shoulder(parts) {
        missing.push(("flange".into(), "the face that seats behind the sheet".into()));
    }
    let clamped = shoulder(parts) || def.bodies.iter().any(|b| b.id.value.contains("clamp"));
    if mounting == Some(Mounting::Clamp) && def.flange.is_none() && !clamped {
        missing.push(("flange".into(), "the clamp behind the sheet".into()));
    }
    if is_worked(kind) && def.front.is_empty() {
        missing.push(("front".into(), "the knob, lever or button that the hand takes hold of".into()));
    }
    if def.bodies.is_empty() && !is_flat(kind) {
        missing.push(("body".into(), "what stands behind the sheet".into()));
    }
}

/// Whether a body is larger than a cutout and so seats behind by itself.
fn shoulder(parts: &[Local]) -> bool {
    let cutouts = || parts.iter().filter(|p| p.class == Class::Cutout);
    parts
        .iter()
        .filter(|p| p.class == Class::Body)
        .any(|b| cutouts().any(|c| contains(&b.contour, &c.contour)))
}

/// Names sizes for people: a pattern's holes, heads and nuts once.
fn group(name: &str, class: Class) -> String {
    match class {
        Class::Hole | Class::Head | Class::Nut => {
            let base = name.trim_end_matches(|c: char| c.is_ascii_digit());
            base.strip_suffix('-').unwrap_or(name).to_string()
        }
        Class::Hand => name.replacen("hand-", "front-", 1),
        _ => name.to_string(),
    }
}
