//! What lies behind, as the sections of a panel file.

use super::control::Solid as Moving;
use super::obstacle::Solid;
use super::{Behind, Motion};
use crate::define::Word;
use crate::solid::Vec3;
use std::collections::BTreeMap;
use std::fmt::Write;

/// The sections "depth", "obstacles", "drivers" and "controls", each with its comma before it.
pub fn sections(b: &Behind) -> String {
    let mut out = String::new();
    let areas: Vec<String> = b.areas.iter().map(area).collect();
    section(&mut out, "\"depth\": { \"areas\": [", &areas, "] }");
    let obstacles: Vec<String> = b.obstacles.iter().map(obstacle).collect();
    section(&mut out, "\"obstacles\": [", &obstacles, "]");
    let (drivers, controls) = moving(b);
    section(&mut out, "\"drivers\": [", &drivers, "]");
    section(&mut out, "\"controls\": [", &controls, "]");
    out
}

fn section(out: &mut String, head: &str, lines: &[String], tail: &str) {
    if !lines.is_empty() {
        let _ = write!(out, ",\n  {head}\n    {}\n  {tail}", lines.join(",\n    "));
    }
}

/// Hundredths of a millimetre.
fn short(v: f64) -> f64 {
    let v = (v * 100.0).round() / 100.0;
    if v == 0.0 { 0.0 } else { v }
}

/// Hundredths, rounded up: what is left out of a doubt would be a promise.
fn up(v: f64) -> f64 {
    (v * 100.0 - 1e-9).ceil().max(0.0) / 100.0
}

/// Hundredths, rounded down.
fn down(v: f64) -> f64 {
    (v * 100.0 + 1e-9).floor() / 100.0
}

fn point(p: Vec3) -> String {
    format!("[{}, {}, {}]", short(p.x), short(p.y), short(p.d))
}

fn text(t: &str) -> String {
    serde_json::Value::from(t).to_string()
}

fn area(a: &super::Probing) -> String {
    let shape = match (&a.path, a.contour.as_circle()) {
        (None, Some((c, r))) => {
            format!(
                "\"shape\": {{ \"circle\": {} }}, \"at\": [{}, {}]",
                short(2.0 * r),
                short(c.x),
                short(c.y)
            )
        }
        (path, _) => format!("\"shape\": {{ \"path\": \"{}\" }}", path.as_deref().unwrap_or_default()),
    };
    let (read, probe) = (short(a.read.0), &a.read.1);
    let (depth, note) = match a.available {
        Some(d) => (
            format!(", \"available\": {}", down(d)),
            format!(
                "probe {probe} read {read} mm, its doubt at 95 % is taken off; no spot is farther than {:.0} mm from a probe",
                a.gap.1.ceil()
            ),
        ),
        None => (
            String::new(),
            format!(
                "not probed all over: ({:.0}, {:.0}) is {:.0} mm from the nearest probe",
                a.gap.0.x,
                a.gap.0.y,
                a.gap.1.ceil()
            ),
        ),
    };
    format!("{{ \"id\": \"{}\", {shape}{depth}, \"note\": {} }}", a.id, text(&note))
}

fn obstacle(o: &super::Met) -> String {
    let solid = |(name, s): &(String, Solid)| {
        let form = match s {
            Solid::Tube(of, [a, b]) => {
                format!("\"tube\": {}, \"path\": [{}, {}]", short(*of), point(*a), point(*b))
            }
            Solid::Ball(of, at) => format!("\"ball\": {}, \"centre\": {}", short(*of), point(*at)),
            Solid::Hull(points) => {
                let points: Vec<String> = points.iter().map(|p| point(*p)).collect();
                format!("\"hull\": [{}]", points.join(", "))
            }
        };
        format!("{{ \"id\": \"{name}\", {form} }}")
    };
    let solids: Vec<String> = o.solids.iter().map(solid).collect();
    let carries = o.carries.as_ref().map_or(String::new(), |c| format!(", \"carries\": {}", text(c)));
    format!(
        "{{ \"id\": \"{}\", \"kind\": \"{}\"{carries}, \"tolerance\": {}, \"solids\": [\n        {} ] }}",
        o.id,
        o.kind.word(),
        up(o.doubt),
        solids.join(",\n        ")
    )
}

/// Drivers and controls. Of several controls with one driver the first says its stops; the others follow it.
fn moving(b: &Behind) -> (Vec<String>, Vec<String>) {
    let mut stops: BTreeMap<&str, [f64; 2]> = BTreeMap::new();
    let (mut drivers, mut controls) = (Vec::new(), Vec::new());
    for c in &b.controls {
        let own = c.stops();
        let kind = match c.fit.motion {
            Motion::Slide { .. } => "slide",
            Motion::Turn { .. } => "turn",
        };
        let ratio = match stops.get(c.driver.as_ref()) {
            Some([low, high]) => (own[0] * low + own[1] * high) / (low * low + high * high).max(1e-9),
            None => {
                stops.insert(&c.driver, own);
                let over = c.beyond();
                drivers.push(format!(
                    "{{ \"id\": \"{}\", \"kind\": \"{kind}\", \"from\": {}, \"to\": {}, \"over\": [{}, {}] }}",
                    c.driver,
                    short(own[0]),
                    short(own[1]),
                    up(over[0]),
                    up(over[1])
                ));
                1.0
            }
        };
        let ratio = (ratio * 1e6).round() / 1e6;
        let joint = match &c.fit.motion {
            Motion::Slide { way, .. } => format!("\"slide\": {}", direction(*way)),
            Motion::Turn { at, axis, .. } => {
                format!("\"pivot\": {{ \"at\": {}, \"axis\": {} }}", point(*at), direction(*axis))
            }
        };
        let solid = |(name, s, hand): &(String, Moving, bool)| {
            let form = match s {
                Moving::Tube(of, [a, b]) => {
                    format!("\"tube\": {}, \"path\": [{}, {}]", short(*of), point(*a), point(*b))
                }
                Moving::Ball(of, at) => format!("\"ball\": {}, \"centre\": {}", short(*of), point(*at)),
            };
            let hand = if *hand { ", \"hand\": true" } else { "" };
            format!("{{ \"id\": \"{name}\", {form}{hand} }}")
        };
        let solids: Vec<String> = c.solids.iter().map(solid).collect();
        controls.push(format!(
            "{{ \"id\": \"{}\", \"kind\": \"{}\", \"links\": [\n        {{ \"id\": \"link\", {joint}, \"follows\": {{ \"{}\": {ratio} }}, \"allowance\": {}, \"solids\": [\n          {} ] }} ] }}",
            c.id,
            c.kind.word(),
            c.driver,
            up(c.doubt()),
            solids.join(",\n          ")
        ));
    }
    (drivers, controls)
}

/// A direction to nine digits.
fn direction(v: Vec3) -> String {
    let n = |v: f64| {
        let v = (v * 1e9).round() / 1e9;
        if v == 0.0 { 0.0 } else { v }
    };
    format!("[{}, {}, {}]", n(v.x), n(v.y), n(v.d))
}
