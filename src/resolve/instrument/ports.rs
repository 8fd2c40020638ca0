//! What leaves an instrument: plug, hose or cable with its bend, as a solid behind the body.
//!
//! A port's room is the sum of its terms along its direction. A bend radius is to the inside: it takes
//! the radius and the diameter of what bends. A term without a length, or no term at all, leaves the
//! depth open; the sum of the known terms is never taken for the whole.

use super::super::shape::point;
use super::parts::{Builder, none};
use super::{Local, Seat, Span};
use crate::define::Size;
use crate::define::Word;
use crate::define::instrument::{Need, Port, PortKind, Towards};
use crate::diag::Problem;
use crate::geom::{Contour, Point, SLACK, Side, Vec2};
use crate::panel::{Class, Detail, Leaves, Outlet};
use crate::solid::Vec3;
use crate::units::fmt_mm;

impl Builder<'_> {
    pub fn ports(&mut self) {
        for port in &self.def.ports {
            self.port(port);
        }
    }

    fn port(&mut self, port: &Port) {
        let name = part_name(port);
        let at = port.at.as_ref().map_or(Point::ORIGIN, point);
        let terms = terms(port);
        let open: Vec<&str> = terms.iter().filter(|(_, v)| v.is_none()).map(|(n, _)| n.as_str()).collect();
        let mut lacks: Vec<String> = open.iter().map(|t| t.to_string()).collect();
        if terms.is_empty() {
            lacks.push("what it needs behind: plug or fitting, and bend".into());
        }
        let depth = port.depth.as_ref().map(Size::mm).or_else(|| self.deepest());
        if let (Some(d), true) = (depth, port.at.is_some()) {
            self.outside(port, at, d);
        }
        if depth.is_none() {
            lacks.push("the depth at which it leaves".into());
        }
        if port.towards.is_none() {
            lacks.push("the direction in which it leaves".into());
        }
        let sum: f64 = terms.iter().filter_map(|(_, v)| *v).sum();
        let towards = port.towards.as_ref().map_or(Towards::Back, |t| t.value);
        let wide = port.diameter.as_ref().map(Size::mm);
        let contour = match (towards, wide) {
            (Towards::Back | Towards::Front, Some(d)) => Some(Builder::round(at, d)),
            // a plug of unknown size is taken to lie within the body that carries it
            (Towards::Back | Towards::Front, None) => self.carrier(at),
            (side, Some(d)) => (sum > 0.0).then(|| sideways(at, side, sum, d)),
            (_, None) => {
                lacks.push("its diameter".into());
                self.carrier(at)
            }
        };
        let Some(contour) = contour else {
            let lacks = if lacks.is_empty() { "its diameter".to_string() } else { lacks.join(", ") };
            self.miss(name, lacks);
            return;
        };
        let span = match depth {
            Some(d) if lacks.is_empty() => match (towards, wide) {
                (Towards::Back, _) => Span::Range(d, d + sum, Seat::Instrument),
                (Towards::Front, _) => Span::Range(d - sum, d, Seat::Instrument),
                (_, Some(w)) => Span::Range(d - w / 2.0, d + w / 2.0, Seat::Instrument),
                (_, None) => Span::Missing,
            },
            _ => Span::Missing,
        };
        for what in &lacks {
            self.miss(&name, what);
        }
        let needs = port.needs.iter().filter_map(|n| n.length.as_ref());
        let source = self.sources.weakest(needs.chain(&port.depth).chain(&port.diameter));
        let detail = Detail::Port { carries: port.carries.as_ref().map(|c| c.value.word().into()), terms };
        self.parts.push(Local {
            name,
            class: Class::Port,
            contour,
            centre: at,
            span,
            off: none(),
            written: None,
            source,
            detail,
        });
    }

    /// Tells a port whose mouth lies within a body of its own instrument: nothing can leave there.
    fn outside(&mut self, port: &Port, at: Point, depth: f64) {
        let holds = |p: &&Local| {
            let Span::Range(from, to, _) = p.span else { return false };
            let between = from + SLACK < depth && depth < to - SLACK;
            p.class == Class::Body && between && p.contour.side_of(at) == Side::Inside
        };
        let Some(Span::Range(from, to, _)) = self.parts.iter().find(holds).map(|p| p.span) else { return };
        let message = format!(
            "the port `{}` leaves {} deep, within the body, which reaches from {} to {} there",
            port.id.value,
            fmt_mm(depth),
            fmt_mm(from),
            fmt_mm(to)
        );
        let help = "give the place and depth of its mouth: on the body's face, or beyond";
        self.problems.push(Problem::new("port-inside", &port.place, message).help(help));
    }

    /// The depth at which the deepest body ends, if all of them say so.
    fn deepest(&self) -> Option<f64> {
        let ends = self.def.bodies.iter().map(|b| b.to.as_ref().map(Size::mm));
        ends.reduce(|a, b| Some(a?.max(b?))).flatten()
    }

    /// The section of the deepest body that lies behind the port.
    fn carrier(&self, at: Point) -> Option<Contour> {
        let bodies = self.parts.iter().filter(|p| p.class == Class::Body);
        let depth = |p: &Local| if let Span::Range(_, to, _) = p.span { to } else { f64::INFINITY };
        let holds = |p: &&Local| p.contour.bounds().contains(at);
        let best = bodies.clone().filter(holds).max_by(|a, b| depth(a).total_cmp(&depth(b)));
        best.or_else(|| bodies.max_by(|a, b| depth(a).total_cmp(&depth(b)))).map(|p| p.contour.clone())
    }
}

fn part_name(port: &Port) -> String {
    format!("port-{}", port.id.value)
}

/// What a port says beyond the solid that it takes.
pub(super) fn outlet(port: &Port) -> Outlet {
    let leaves = |kind: PortKind| match kind {
        PortKind::Connector => Leaves::Plug,
        PortKind::Hose => Leaves::Hose,
        PortKind::Duct => Leaves::Duct,
        PortKind::Cable => Leaves::PushPull,
        PortKind::Drive => Leaves::Drive,
        PortKind::Coax => Leaves::Coax,
        PortKind::Wire => Leaves::Wires,
        PortKind::Light => Leaves::Light,
    };
    let towards = |t: Towards| match t {
        Towards::Back => Vec3::FORWARD,
        Towards::Front => -Vec3::FORWARD,
        Towards::Up => Vec3::new(0.0, 1.0, 0.0),
        Towards::Down => Vec3::new(0.0, -1.0, 0.0),
        Towards::Left => Vec3::new(-1.0, 0.0, 0.0),
        Towards::Right => Vec3::new(1.0, 0.0, 0.0),
    };
    Outlet {
        part: part_name(port),
        leaves: port.kind.as_ref().map(|k| leaves(k.value)),
        towards: port.towards.as_ref().map(|t| towards(t.value)),
        diameter: port.diameter.as_ref().map(Size::mm),
        bend_radius: port.bend_radius.as_ref().map(Size::mm),
        side_exit: lengths(&port.side_exit),
    }
}

fn lengths(needs: &[Need]) -> Vec<(String, Option<f64>)> {
    needs.iter().map(|n| (n.term.value.to_string(), n.length.as_ref().map(Size::mm))).collect()
}

fn terms(port: &Port) -> Vec<(String, Option<f64>)> {
    let mut terms = lengths(&port.needs);
    // only what is called a bend is one: "straight run before the bend" is not
    let said = terms.iter_mut().find(|(name, _)| name.to_lowercase().starts_with("bend"));
    let takes = |radius: &Size| Some(radius.mm() + port.diameter.as_ref()?.mm());
    match (&port.bend_radius, said) {
        (Some(radius), None) => terms.push(("bend".into(), takes(radius))),
        // a stated bend that is tighter than its own radius allows takes what the radius asks
        (Some(radius), Some((_, Some(length)))) => *length = takes(radius).map_or(*length, |t| length.max(t)),
        _ => {}
    }
    terms
}

/// A straight run to one side, as wide as what leaves.
fn sideways(at: Point, side: Towards, long: f64, wide: f64) -> Contour {
    let (centre, w, h) = match side {
        Towards::Left => (at - Vec2::new(long / 2.0, 0.0), long, wide),
        Towards::Right => (at + Vec2::new(long / 2.0, 0.0), long, wide),
        Towards::Down => (at - Vec2::new(0.0, long / 2.0), wide, long),
        Towards::Up | Towards::Back | Towards::Front => (at + Vec2::new(0.0, long / 2.0), wide, long),
    };
    Contour::rect(centre, w, h, 0.0)
}
