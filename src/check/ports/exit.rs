//! One port made ready: where its line leaves, how far straight, and in which room it turns.

use super::terms::{Sums, sums};
use crate::calc::bend::{self, Bends};
use crate::calc::fastener::Seen;
use crate::geom::{Point, Transform, Vec2};
use crate::panel::{Class, Detail, End, Leaves, Line, LineKind, Outlet, Panel, PartRef};
use crate::solid::Vec3;

/// How the first quarter turn is known.
#[derive(Clone, Debug, PartialEq)]
pub enum Turn {
    /// By its least radius.
    Radius {
        /// To the inside of the bend, mm.
        inside: f64,
        /// Outside diameter of what bends, mm.
        outside: f64,
        /// Where the radius comes from.
        source: String,
    },
    /// By the room in which it turns, which its definition states; how wide what bends is need not be known.
    Room {
        /// Depth of the room, beyond the straight, mm.
        deep: f64,
        /// A fitting turns it.
        elbow: bool,
    },
}

/// A port made ready.
#[derive(Clone, Debug, PartialEq)]
pub struct Exit {
    /// The port's part.
    pub port: PartRef,
    /// Where the line leaves its instrument.
    pub at: Vec3,
    /// Unit vector in which it leaves.
    pub axis: Vec3,
    /// Straight out, mm: plug, backshell, fitting.
    pub straight: f64,
    /// The turn.
    pub turn: Turn,
    /// Diameter of the plug, hose or cable as the definition states it, mm.
    pub wide: Option<f64>,
    /// Index of the line that hangs on it.
    pub line: Option<usize>,
    /// What it needs instead with a plug that leaves sideways, mm; `None`: none is described, or a length is missing.
    pub side_exit: Option<f64>,
}

impl Exit {
    /// Room that straight and turn take along the axis, mm.
    pub fn deep(&self) -> f64 {
        self.straight
            + match &self.turn {
                Turn::Radius { inside, outside, .. } => bend::room(*inside, *outside),
                Turn::Room { deep, .. } => *deep,
            }
    }

    /// Half of what leaves, mm, where it is known.
    pub fn half(&self) -> Option<f64> {
        match &self.turn {
            Turn::Radius { outside, .. } => Some(outside / 2.0),
            Turn::Room { .. } => None,
        }
    }
}

/// The line that hangs on a port, by its index.
pub(super) fn line_at(panel: &Panel, port: PartRef) -> Option<usize> {
    let ends = |l: &Line| l.from == Some(port) || l.to == Some(End::Port(port));
    panel.space.lines.iter().position(ends)
}

/// Makes a port ready; `None` for a part that is no port of a definition. `Err`: what is missing, in words.
pub fn exit(panel: &Panel, port: PartRef) -> Option<Result<Exit, Vec<String>>> {
    let s = panel.subject(port);
    let part = s.parts.get(port.part as usize).filter(|p| p.class == Class::Port)?;
    let Detail::Port { carries, terms } = &part.detail else { return None };
    let outlet = s.facts.as_ref()?.ports.iter().find(|o| o.part == part.name)?;
    let line = line_at(panel, port);
    let sums = sums(terms);
    let mut lacks: Vec<String> = sums.open.iter().map(|t| format!("the length of {t}")).collect();
    let turn = turn(panel, outlet, carries.as_deref(), line, &sums, &mut lacks);
    if outlet.towards.is_none() {
        lacks.push("the direction in which it leaves".into());
    }
    let placed = Transform::place(Point::ORIGIN, s.turn, s.mirrored);
    let local = outlet.towards.unwrap_or(Vec3::FORWARD);
    let flat = placed.vector(Vec2::new(local.x, local.y));
    let axis = Vec3::new(flat.x, flat.y, local.d);
    let depth = part.depth.map(|(from, to)| match local.d {
        d if d > 0.0 => from,
        d if d < 0.0 => to,
        _ => (from + to) / 2.0,
    });
    if depth.is_none() && lacks.is_empty() {
        let told = s.missing.iter().filter(|(name, _)| *name == part.name).map(|(_, what)| what.clone());
        lacks.extend(told);
        if lacks.is_empty() {
            lacks.push("the depth at which it leaves".into());
        }
    }
    let (Some(turn), Some(depth), true) = (turn, depth, lacks.is_empty()) else { return Some(Err(lacks)) };
    let side = outlet.side_exit.iter().try_fold(0.0, |sum, (_, l)| Some(sum + (*l)?));
    Some(Ok(Exit {
        port,
        at: Vec3::new(part.centre.x, part.centre.y, depth),
        axis,
        straight: sums.straight,
        turn,
        wide: outlet.diameter,
        line,
        side_exit: side.filter(|_| !outlet.side_exit.is_empty()),
    }))
}

/// How it turns: an elbow first, then what the line says, then what the definition says, then the tables.
fn turn(
    panel: &Panel,
    outlet: &Outlet,
    carries: Option<&str>,
    line: Option<usize>,
    sums: &Sums,
    lacks: &mut Vec<String>,
) -> Option<Turn> {
    let room = |elbow: bool| sums.turns_in.filter(|d| *d > 0.0).map(|deep| Turn::Room { deep, elbow });
    if sums.elbow {
        if let Some(turn) = room(true) {
            return Some(turn);
        }
        lacks.extend(sums.open_turn.iter().map(|t| format!("the length of {t}")));
        return None;
    }
    let line = line.and_then(|k| panel.space.lines.get(k));
    let what = line.map_or_else(|| kind_of_port(outlet, carries), |l| kind_of_line(l, carries));
    let own_width = !matches!(outlet.leaves, Some(Leaves::Plug) | None);
    let wide = line.and_then(|l| l.diameter).or(outlet.diameter.filter(|_| own_width));
    let stated = match line.and_then(|l| l.bend_radius.clone()) {
        Some((r, words)) if words.is_empty() => Some((r, "as the panel's file states it".to_string())),
        Some(given) => Some(given),
        None => outlet.bend_radius.map(|r| (r, "as the definition states it".to_string())),
    };
    if let Some((inside, source)) = stated {
        let Some(outside) = wide.or(outlet.diameter) else {
            lacks.push(format!("the outside diameter of the {}", words(what)));
            return None;
        };
        return Some(Turn::Radius { inside, outside, source });
    }
    let table = |what: Bends, wide: f64| {
        let least = bend::least(what, wide)?;
        let memory =
            if least.seen == Seen::Memory && !least.source.contains("memory") { ", from memory" } else { "" };
        let source = format!("{}{memory}", least.source);
        Some(Turn::Radius { inside: least.radius, outside: wide, source })
    };
    let by_table = what.zip(wide).and_then(|(what, wide)| table(what, wide));
    // a line of known width, or a pressure hose, is bound by its table; else the definition's room stands before it
    let bound = line.is_some() || what == Some(Bends::PressureHose);
    let found = if bound { by_table.clone().or_else(|| room(false)) } else { room(false).or(by_table) };
    if found.is_none() {
        let mut name = words(what).to_string();
        if let Some(open) = sums.open_turn.first() {
            name.push_str(&format!(" ({open})"));
        }
        let wires = what == Some(Bends::Wires);
        lacks.push(match (wires, wide) {
            (true, None) => {
                "the outside diameter of the wires (they bend to 10 of it), or their least bend radius".into()
            }
            _ => format!(
                "the least bend radius of the {name}: no table gives it for this kind and size, ask its maker"
            ),
        });
    }
    found
}

fn words(what: Option<Bends>) -> &'static str {
    what.map_or("line", Bends::words)
}

/// Whether a hose that carries this is under pressure; what is not named is not.
fn hose(carries: Option<&str>) -> Bends {
    if carries.is_some_and(super::kin::is_fluid) { Bends::PressureHose } else { Bends::LowPressureHose }
}

fn kind_of_port(outlet: &Outlet, carries: Option<&str>) -> Option<Bends> {
    Some(match outlet.leaves? {
        Leaves::Hose => hose(carries),
        Leaves::Duct => Bends::Duct,
        Leaves::PushPull => Bends::PushPull,
        Leaves::Drive => Bends::Drive,
        Leaves::Coax => Bends::Coax,
        Leaves::Plug | Leaves::Wires => Bends::Wires,
        Leaves::Light => return None,
    })
}

fn kind_of_line(line: &Line, carries: Option<&str>) -> Option<Bends> {
    Some(match line.kind {
        LineKind::Hose => hose(line.carries.as_deref().or(carries)),
        LineKind::Wires => Bends::Wires,
        LineKind::Coax => Bends::Coax,
        LineKind::Drive => Bends::Drive,
        LineKind::ControlCable => Bends::PushPull,
        LineKind::Pipe => return None,
    })
}
