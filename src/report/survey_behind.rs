//! What lies and moves behind the panel, for people and for programs.

use crate::define::Word;
use crate::report::sentence::wrap;
use crate::survey::behind::{Behind, Fitted, Motion, Probed, Probing};
use crate::units::fmt_mm;
use anstyle::{Effects, Style};
use serde_json::{Value, json};
use std::fmt::Write;

const BOLD: Style = Style::new().effects(Effects::BOLD);

/// The section of the text report; nothing where the file says nothing of it.
pub(super) fn text(t: &mut String, b: &Behind) {
    if b.is_empty() {
        return;
    }
    let say = |t: &mut String, line: String| {
        let _ = writeln!(t, "{}", wrap(&format!("- {line}"), 2));
    };
    if !b.told.is_empty() {
        let _ = writeln!(t, "\n{BOLD}Behind: not settled{BOLD:#}");
    }
    for told in &b.told {
        say(t, format!("{}.", told.says));
    }
    probes(t, &b.probes);
    if !b.areas.is_empty() {
        let _ = writeln!(t, "\n{BOLD}Depth{BOLD:#}; where no area is, it is unknown");
    }
    for a in &b.areas {
        say(t, area(a));
    }
    if !b.obstacles.is_empty() {
        let _ = writeln!(t, "\n{BOLD}Obstacles{BOLD:#}");
    }
    for o in &b.obstacles {
        let n = crate::survey::say::count(o.solids.len(), "solid");
        say(t, format!("{} ({}): {n}, off by at most {} (95 %)", o.id, o.kind.word(), near(o.doubt)));
    }
    if !b.controls.is_empty() {
        let _ = writeln!(t, "\n{BOLD}Controls{BOLD:#}");
    }
    for c in &b.controls {
        say(t, control(c));
    }
}

fn near(mm: f64) -> String {
    fmt_mm((mm * 10.0).round() / 10.0)
}

fn probes(t: &mut String, list: &[Probed]) {
    if list.is_empty() {
        return;
    }
    let wide = list.iter().map(|p| p.id.chars().count()).max().unwrap_or(0).max(5);
    let _ = writeln!(t, "\n{BOLD}Probes{BOLD:#}, in mm; depth from the front face");
    let _ = writeln!(
        t,
        "  {:wide$} {:>8} {:>8} {:>9} {:>6} {:>8} {:>9}",
        "probe", "x", "y", "depth", "dev.", "across", "readings"
    );
    for p in list {
        let depth = format!("{}{:.1}", if p.free { ">" } else { "" }, p.depth);
        let _ = writeln!(
            t,
            "  {:wide$} {:>8.1} {:>8.1} {depth:>9} {:>6.2} {:>8.2} {:>9}",
            p.id, p.at.x, p.at.y, p.deviation, p.across, p.readings
        );
    }
}

fn area(a: &Probing) -> String {
    let (read, probe) = (near(a.read.0), &a.read.1);
    match a.available {
        Some(d) => format!(
            "{}: {} is there for certain (95 %; probe {probe} read {read}); no spot of it is farther than {} from a probe",
            a.id,
            near(d),
            fmt_mm(a.gap.1.ceil())
        ),
        None => format!(
            "{}: unknown, though probe {probe} read {read}: ({:.0}, {:.0}) is {} from the nearest probe",
            a.id,
            a.gap.0.x,
            a.gap.0.y,
            fmt_mm(a.gap.1.ceil())
        ),
    }
}

fn control(c: &Fitted) -> String {
    let ([low, high], [a, b]) = (c.stops(), c.beyond());
    let (how, unit) = match &c.fit.motion {
        Motion::Slide { way, .. } => {
            (format!("slides along ({:.3}, {:.3}, {:.3})", way.x, way.y, way.d), "mm")
        }
        Motion::Turn { at, axis, .. } => (
            format!(
                "turns about the line through ({:.1}, {:.1}, {:.1}) along ({:.3}, {:.3}, {:.3})",
                at.x, at.y, at.d, axis.x, axis.y, axis.d
            ),
            "deg",
        ),
    };
    let fits = match c.fit.freedom {
        0 => "nothing checks its marks: tape one more".to_owned(),
        n => format!("its marks lie off by at most {}, {n} lengths more than needed", near(c.fit.worst.0)),
    };
    format!(
        "{} ({}), {}: {how}, from {low:.1} to {high:.1} {unit} (+- {a:.1} and {b:.1} at 95 %); {fits}; a mark may be off by {} (95 %)",
        c.id,
        c.kind.word(),
        c.driver,
        near(c.doubt())
    )
}

/// The same for programs: mm, degrees; null where the file says nothing of it.
pub(super) fn json(b: &Behind) -> Value {
    if b.is_empty() {
        return Value::Null;
    }
    let probe = |p: &Probed| {
        json!({
            "id": &*p.id, "at": [p.at.x, p.at.y], "depth": p.depth, "deviation": p.deviation, "across": p.across,
            "free": p.free, "readings": p.readings,
        })
    };
    let area = |a: &Probing| {
        json!({
            "id": &*a.id, "available": a.available, "read": a.read.0, "probe": &*a.read.1,
            "gap": { "at": [a.gap.0.x, a.gap.0.y], "from-a-probe": a.gap.1 }, "reach": a.reach,
        })
    };
    let control = |c: &Fitted| {
        let motion = match &c.fit.motion {
            Motion::Slide { way, .. } => json!({ "slide": [way.x, way.y, way.d] }),
            Motion::Turn { at, axis, .. } => {
                json!({ "pivot": { "at": [at.x, at.y, at.d], "axis": [axis.x, axis.y, axis.d] } })
            }
        };
        let marks =
            c.marks.iter().zip(&c.fit.marks).map(|(id, p)| json!({ "id": &**id, "at": [p.x, p.y, p.d] }));
        json!({
            "id": &*c.id, "kind": c.kind.word(), "driver": &*c.driver, "motion": motion, "stops": c.stops(),
            "beyond": c.beyond(), "off": c.fit.worst.0, "redundancy": c.fit.freedom, "scale": c.scale,
            "doubt": c.doubt(), "marks": marks.collect::<Vec<_>>(),
        })
    };
    json!({
        "told": b.told.iter().map(|t| json!({ "code": t.code, "says": t.says })).collect::<Vec<_>>(),
        "probes": b.probes.iter().map(probe).collect::<Vec<_>>(),
        "areas": b.areas.iter().map(area).collect::<Vec<_>>(),
        "obstacles": b.obstacles.iter()
            .map(|o| json!({ "id": &*o.id, "kind": o.kind.word(), "solids": o.solids.len(), "doubt": o.doubt })).collect::<Vec<_>>(),
        "controls": b.controls.iter().map(control).collect::<Vec<_>>(),
        "assumed": b.assumed,
    })
}
