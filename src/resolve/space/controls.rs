//! Drivers and controls: one mechanism of all, and a subject of each control.

use super::axes::Axes;
use super::solids;
use super::spoken;
use crate::define::panel::space::{
    Control, Driver as DriverSaid, Hand, Joint as JointSaid, Link as LinkSaid,
};
use crate::define::panel::{ControlKind, DriverKind as KindSaid};
use crate::define::{Amount, Size, Text, Word};
use crate::diag::{Problem, Problems, Where, Written, did_you_mean};
use crate::panel::{Class, Detail, NamedPose, Space, SubjectKind};
use crate::resolve::merge::{From, Merged};
use crate::resolve::scene::{Scene, number};
use crate::solid::travel::{Driver, DriverKind, Follow, Joint, Link, LinkRef, Mechanism};
use crate::units::Unit;
use std::sync::Arc;

/// Room for a hand that holds something, mm, where the file says no more than that one does: common practice, no
/// source.
const HAND: f64 = 50.0;

/// A link of the files with the control that it belongs to.
pub(super) struct Loose<'a> {
    pub control: usize,
    pub def: &'a LinkSaid,
}

/// A link of a control by its id.
pub(super) fn link(space: &Space, control: usize, id: &str) -> Option<LinkRef> {
    let of = |k: LinkRef| space.control_of.get(k).is_some_and(|c| *c == number(control));
    space.mechanism.links.iter().enumerate().find(|(k, l)| l.id == id && of(*k)).map(|(k, _)| k)
}

/// A number of a driver in its own unit, mm or degrees.
fn value(said: &Amount, kind: KindSaid, problems: &mut Problems) -> Option<f64> {
    let (message, help) = match kind {
        KindSaid::Slide => match &said.length {
            Some(length) => return Some(length.mm()),
            None if said.number.is_some() && said.written.parse::<f64>().is_ok() => (
                "this length has no unit".to_string(),
                "give the file its unit once: \"unit\": \"mm\"; or write it here: \"120 mm\"",
            ),
            None => (
                format!("a driver that slides is measured in lengths, not as {}", said.written),
                "write a length, or make it \"kind\": \"turn\"",
            ),
        },
        KindSaid::Turn => match said.number {
            Some(degrees) if !said.written.trim().ends_with('D') => return Some(degrees),
            _ => (
                format!("a driver that turns is measured in degrees, not as {}", said.written),
                "write degrees, or make it \"kind\": \"slide\"",
            ),
        },
    };
    problems.push(Problem::new("wrong-measure", &said.place, message).help(help));
    None
}

fn driver(said: &DriverSaid, problems: &mut Problems) -> Option<Driver> {
    let mut read = |a: &Amount| value(a, said.kind, problems);
    let (from, to) = (read(&said.from), read(&said.to));
    let neutral = said.neutral.as_ref().map_or(Some(0.0), &mut read);
    let over = said.over.as_ref().map(|[a, b]| (read(a), read(b)));
    let over = match over {
        Some((a, b)) => Some((a?, b?)),
        None => None,
    };
    let kind = match said.kind {
        KindSaid::Slide => DriverKind::Slide,
        KindSaid::Turn => DriverKind::Turn,
    };
    Some(Driver { id: said.id.value.to_string(), kind, stops: (from?, to?), neutral: neutral?, over })
}

impl Scene<'_, '_> {
    /// Makes the mechanism and the subjects of all controls.
    pub(super) fn controls(&mut self, space: &mut Space) {
        let m: &Merged<'_> = self.merged;
        let list = &m.space;
        let mut drivers = Vec::new();
        let mut said = Vec::new();
        for from in &list.drivers {
            if let Some(d) = driver(from.def, self.problems) {
                drivers.push(d);
                said.push(from.def);
            }
        }
        let first = self.subjects.len();
        let (loose, on) = self.chained(&list.controls);
        let mut links = Vec::new();
        for (k, l) in loose.iter().enumerate() {
            let Some(from) = list.controls.get(l.control) else { continue };
            let def = from.def;
            // what the axes lack is told; the links keep their order
            let axes = self.axes(def.frame, space.airframe, &def.id.value, &def.id.place);
            let axes = axes.unwrap_or(Axes::Panel);
            let joint = match &l.def.joint {
                JointSaid::Fixed => Joint::Fixed,
                JointSaid::Slide(along) => Joint::Slide(axes.vector(along.along)),
                JointSaid::Pivot { at, axis } => Joint::Pivot(axes.point(at), axes.axis(axis.along)),
            };
            links.push(Link {
                id: l.def.id.value.to_string(),
                on: on.get(k).copied().flatten(),
                joint,
                follows: self.follows(l.def, &drivers, m.unit(from.file)),
                allowance: l.def.allowance.as_ref().map(Size::mm),
            });
            space.control_of.push(number(first + l.control));
        }
        match Mechanism::new(drivers, links) {
            Ok(mechanism) => space.mechanism = mechanism,
            Err(faults) => {
                for fault in faults {
                    super::faults::tell(fault, &said, &loose, &on, self.problems);
                }
                space.control_of.clear();
            }
        }
        for (k, from) in list.controls.iter().enumerate() {
            self.control(from, k, &loose, space);
        }
    }

    /// All links, each behind the one that it hangs on (those of a loop at the end), and what each hangs on.
    fn chained<'a>(&mut self, controls: &[From<'a, Control>]) -> (Vec<Loose<'a>>, Vec<Option<LinkRef>>) {
        let mut all: Vec<Loose<'a>> = Vec::new();
        for (control, from) in controls.iter().enumerate() {
            let def: &'a Control = from.def;
            all.extend(def.links.iter().map(|def| Loose { control, def }));
        }
        let mut parents: Vec<Option<usize>> = Vec::new();
        for l in &all {
            parents.push(l.def.on.as_ref().and_then(|on| self.hangs_on(on, l.control, controls, &all)));
        }
        let mut order: Vec<usize> = Vec::new();
        let mut placed = vec![false; all.len()];
        loop {
            let before = order.len();
            for k in 0..all.len() {
                let ready = parents.get(k).copied().flatten().is_none_or(|p| placed.get(p) == Some(&true));
                if let (Some(done @ false), true) = (placed.get_mut(k), ready) {
                    *done = true;
                    order.push(k);
                }
            }
            if order.len() == before {
                break;
            }
        }
        order.extend((0..all.len()).filter(|k| placed.get(*k) == Some(&false)));
        let place_of = |old: usize| order.iter().position(|k| *k == old);
        let on = order.iter().map(|k| parents.get(*k).copied().flatten().and_then(place_of)).collect();
        let mut slots: Vec<Option<Loose<'a>>> = all.into_iter().map(Some).collect();
        let sorted = order.iter().filter_map(|k| slots.get_mut(*k).and_then(Option::take)).collect();
        (sorted, on)
    }

    /// The link of a name: of the same control, or `control.link`. One that is not there is told.
    fn hangs_on(
        &mut self,
        on: &Written<Text>,
        control: usize,
        controls: &[From<'_, Control>],
        all: &[Loose<'_>],
    ) -> Option<usize> {
        let name = on.value.as_ref();
        let full = |l: &Loose<'_>| {
            let id = controls.get(l.control).map_or("", |c| c.def.id.value.as_ref());
            format!("{id}.{}", l.def.id.value)
        };
        let own = |l: &Loose<'_>| l.control == control && l.def.id.value.as_ref() == name;
        if let Some(k) = all.iter().position(|l| own(l) || full(l) == name) {
            return Some(k);
        }
        let mut known: Vec<String> =
            all.iter().filter(|l| l.control == control).map(|l| l.def.id.value.to_string()).collect();
        known.extend(all.iter().map(full));
        let help = match did_you_mean(name, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => {
                "name a link of this control, or \"control.link\"; without \"on\" it hangs on the airframe"
                    .into()
            }
        };
        let message = format!("there is no link `{name}` to hang on");
        self.problems.push(Problem::new("unknown-id", &on.place, message).help(help));
        None
    }

    /// What moves a link. Factors are turned from the file's unit to mm.
    fn follows(&mut self, def: &LinkSaid, drivers: &[Driver], unit: Option<Unit>) -> Vec<Follow> {
        let mut all = Vec::new();
        for (name, factor) in &def.follows {
            let Some(driver) = self.driver_named(name, drivers) else { continue };
            let turns = matches!(def.joint, JointSaid::Pivot { .. });
            let by_turn = drivers.get(driver).is_some_and(|d| d.kind == DriverKind::Turn);
            let mm = unit.map(|u| u.nanometres() as f64 / 1e6);
            let scale = match (turns, by_turn) {
                (true, true) | (false, false) => Some(1.0),
                (true, false) => mm.map(|mm| 1.0 / mm),
                (false, true) => mm,
            };
            match scale {
                Some(scale) => all.push(Follow { driver, by: factor.value * scale }),
                None => {
                    let message =
                        "this factor joins a length and an angle, and the file has no unit of length";
                    let help = "give the file its unit once: \"unit\": \"mm\"";
                    self.problems.push(Problem::new("no-unit", &factor.place, message).help(help));
                }
            }
        }
        all
    }

    fn driver_named(&mut self, name: &Written<Text>, drivers: &[Driver]) -> Option<usize> {
        if let Some(k) = drivers.iter().position(|d| d.id == name.value.as_ref()) {
            return Some(k);
        }
        if self.merged.unsure(&name.value) || self.merged.known_driver(&name.value) {
            return None;
        }
        let help = match did_you_mean(&name.value, drivers.iter().map(|d| d.id.as_str())) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "add it to \"drivers\", with its stops".to_string(),
        };
        let message = format!("there is no driver `{}`", name.value);
        self.problems.push(Problem::new("unknown-id", &name.place, message).help(help));
        None
    }

    /// The subject of one control, with the solids of its links.
    fn control(&mut self, from: &From<'_, Control>, k: usize, loose: &[Loose<'_>], space: &mut Space) {
        let m: &Merged<'_> = self.merged;
        let def = from.def;
        let id = def.id.value.as_ref();
        let title = spoken(def.kind.word());
        let mut s = self.space_subject(id, SubjectKind::Control, title, &def.place);
        let index = self.subjects.len();
        let axes = self.axes(def.frame, space.airframe, id, &def.id.place);
        for (number, l) in loose.iter().enumerate().filter(|(_, l)| l.control == k) {
            let Some(axes) = &axes else { break };
            for (n, said) in l.def.solids.iter().enumerate() {
                let Some(solid) = solids::solid(said, axes, m.unit(from.file), self.problems) else {
                    continue;
                };
                let name = match &said.id {
                    Some(own) => format!("{}-{}", l.def.id.value, own.value),
                    None if l.def.solids.len() == 1 => l.def.id.value.to_string(),
                    None => format!("{}-{}", l.def.id.value, n + 1),
                };
                let solid = Arc::new(solid);
                let detail = Detail::Moving {
                    solid: solid.clone(),
                    link: number,
                    kind: said.kind.as_ref().map_or(def.kind.word(), |w| w.value.as_ref()).to_string(),
                    hand: said.hand.as_ref().map(|h| match h {
                        Hand::Usual => HAND,
                        Hand::Room(length) => length.value.mm(),
                    }),
                };
                let part = self.solid_part(name, Class::Moving, &solid, detail, None, index, &said.place);
                s.parts.push(part);
            }
        }
        self.push_space(s);
        self.poses(def, index, space);
    }

    /// The poses of a control that have names.
    fn poses(&mut self, def: &Control, index: usize, space: &mut Space) {
        if def.kind == ControlKind::Canopy && !def.poses.iter().any(|p| p.name.value.as_ref() == "shut") {
            let message = format!("No 'shut' pose for moving part '{}'", def.id.value);
            let help = "add \"poses\": { \"shut\": { driver: value } }, where it stands when it is shut";
            self.problems.push(Problem::new("no-shut-pose", &def.id.place, message).help(help));
        }
        let drivers = space.mechanism.drivers.clone();
        // without a mechanism the drivers have been told of
        let read = !drivers.is_empty() || self.merged.space.drivers.is_empty();
        for pose in def.poses.iter().filter(|_| read) {
            let mut at = space.mechanism.neutral();
            for (name, amount) in &pose.drivers {
                let Some(d) = self.driver_named(name, &drivers) else { continue };
                let Some(driver) = drivers.get(d) else { continue };
                let kind = match driver.kind {
                    DriverKind::Slide => KindSaid::Slide,
                    DriverKind::Turn => KindSaid::Turn,
                };
                let Some(value) = value(amount, kind, self.problems) else { continue };
                let (low, high) = driver.stops;
                if value < low || value > high {
                    self.outside(&pose.name.value, &driver.id, amount, driver, &amount.place);
                    continue;
                }
                if let Some(slot) = at.get_mut(d) {
                    *slot = value;
                }
            }
            space.poses.push(NamedPose {
                control: number(index),
                name: pose.name.value.to_string(),
                drivers: at,
                place: pose.name.place.clone(),
            });
        }
    }

    fn outside(&mut self, pose: &str, id: &str, amount: &Amount, driver: &Driver, place: &Where) {
        let message = format!(
            "the pose `{pose}` puts `{id}` at {}, beyond its stops from {} to {}",
            amount.written,
            super::faults::said(driver.stops.0, driver.kind),
            super::faults::said(driver.stops.1, driver.kind),
        );
        let help = "a pose lies within the stops; correct the pose, or the driver's \"from\" and \"to\"";
        self.problems.push(Problem::new("beyond-stops", place, message).help(help));
    }
}
