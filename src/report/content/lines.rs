//! Ports and what hangs on them: bend, free directions, route, service loop.

use super::Told;
use crate::check::ports::{Exit, Movers, Seen, Turn, exit, free, loop_of, route_at, said};
use crate::panel::{Class, Detail, Line, LineKind, Panel, Part, PartRef, SubjectKind};
use crate::report::document::{Block, Column, Section, Table};
use crate::units::print_length;

/// The section; `None` for a panel out of which nothing leads.
pub(super) fn section(told: &Told<'_>) -> Option<Section> {
    let ports = ports(told.panel);
    if ports.rows.is_empty() && told.panel.space.lines.is_empty() {
        return None;
    }
    let mut s = Section::new("lines", "Ports and lines");
    s.words(
        "What leaves a port goes straight for its plug or fitting and then turns by a quarter. A bend radius is to the inside: \
         the turn takes the radius and the outside diameter. Free directions are certain ones, round the port by the clock, 12 \
         upwards; seen from behind the dial is mirrored. Where no radius is told, the maker of the hose or cable has it: tables \
         exist for pressure hose (AC 43.13-1B table 9-3) and, from memory, for wires (10 outside diameters, 3 where a terminal \
         block supports them). Engine cables leave square to the panel; an article advises a radius of about 300 mm for \
         them (common practice, no source). Where wires pass a hole they want 3/8 in or a grommet, and clamps stand at most \
         24 in apart (AC 43.13-1B 11-115, 11-96): neither is looked at here.",
    );
    s.table(ports, "No port is described.");
    if !told.panel.space.lines.is_empty() {
        s.blocks.push(Block::Table(lines(told.panel)));
    }
    Some(s)
}

fn each_port(panel: &Panel) -> impl Iterator<Item = (PartRef, &Part)> {
    let items = panel.subjects.iter().enumerate();
    let items = items.filter(|(_, s)| matches!(s.kind, SubjectKind::Placement | SubjectKind::Unit));
    items.flat_map(|(k, s)| {
        let parts = s.parts.iter().enumerate().filter(|(_, p)| p.class == Class::Port);
        parts.map(move |(n, p)| (PartRef { subject: k as u32, part: n as u32 }, p))
    })
}

fn ports(panel: &Panel) -> Table {
    let columns = [
        Column::words("Port", 30.0),
        Column::words("Carries", 14.0),
        Column::number("Straight", 14.0),
        Column::words("Turn", 34.0),
        Column::words("Free", 32.0),
        Column::words("Seen from behind", 32.0),
    ];
    let mut t = Table::new("Ports and the first quarter turn", &columns);
    let movers = Movers::of(panel);
    for (port, part) in each_port(panel) {
        let Some(found) = exit(panel, port) else { continue };
        let carries = match &part.detail {
            Detail::Port { carries: Some(word), .. } => word.clone(),
            _ => "not said".into(),
        };
        let mut row = vec![panel.part_name(port), carries];
        match found {
            Ok(e) => {
                let set = free(panel, &movers, &e, 0.0).set;
                let words = |seen| match set.is_empty() {
                    true => "none for certain".to_string(),
                    false => bare(&said(&e, &set, seen)),
                };
                row.extend([
                    straight(panel, &e),
                    turn(panel, &e),
                    words(Seen::FromSeat),
                    words(Seen::FromBehind),
                ]);
            }
            Err(lacks) => row.extend([
                "-".to_string(),
                format!("waits for {}", lacks.join("; ")),
                "withheld".into(),
                "withheld".into(),
            ]),
        }
        t.rows.push(row);
    }
    t
}

/// The head of the column says what is free and from where it is seen.
fn bare(words: &str) -> String {
    let words = words.strip_prefix("free ").unwrap_or(words);
    let words = words.strip_suffix(", seen from the seat").unwrap_or(words);
    words.strip_suffix(", seen from behind").unwrap_or(words).to_string()
}

fn straight(panel: &Panel, e: &Exit) -> String {
    match e.turn {
        // the definition gives one number for both
        Turn::Room { .. } if e.straight == 0.0 => "in the turn".into(),
        _ => print_length(e.straight, panel.unit),
    }
}

fn turn(panel: &Panel, e: &Exit) -> String {
    let mm = |v: f64| print_length(v, panel.unit);
    match &e.turn {
        Turn::Radius { inside, outside, source } => {
            format!("radius {} at {} outside ({source})", mm(*inside), mm(*outside))
        }
        Turn::Room { deep, elbow: true } => format!("an elbow, within {}", mm(*deep)),
        Turn::Room { deep, elbow: false } => format!("within {}, says the definition", mm(*deep)),
    }
}

fn lines(panel: &Panel) -> Table {
    let columns = [
        Column::words("Line", 24.0),
        Column::words("What", 24.0),
        Column::words("From", 28.0),
        Column::number("Diameter", 15.0),
        Column::number("Length", 15.0),
        Column::words("Route", 24.0),
        Column::words("Longer than its route by", 40.0),
    ];
    let mut t = Table::new("Lines", &columns);
    for line in &panel.space.lines {
        t.rows.push(row(panel, line));
    }
    t
}

fn row(panel: &Panel, line: &Line) -> Vec<String> {
    let mm = |v: f64| print_length(v, panel.unit);
    // an estimate is told to whole millimetres or tenths of an inch
    let step = if panel.unit.is_inch() { 2.54 } else { 1.0 };
    let rough = |v: f64| mm((v / step).round() * step);
    let told = |v: Option<f64>| v.map_or("not given".to_string(), mm);
    let id = panel.subjects.get(line.subject as usize).map_or("-", |s| s.id.as_str());
    let carries = line.carries.as_deref().map_or(String::new(), |c| format!(", {c}"));
    let from = line.from.map_or("-".to_string(), |r| panel.part_name(r));
    let here = line.from.and_then(|r| exit(panel, r)).and_then(Result::ok);
    let route = match here.and_then(|e| route_at(panel, &e)) {
        Some(r) => match r.plain {
            Some(plain) if plain - r.lower <= 0.5 => rough(plain),
            Some(plain) => format!("about {}, not under {}", rough(plain), rough(r.lower)),
            None => format!("not under {}", rough(r.lower)),
        },
        None => "not known".into(),
    };
    let hand = panel.limits.get("service-loop").map_or(100.0, |l| l.value);
    let longer = match line.from.and_then(|r| loop_of(panel, r, hand)) {
        Some(Ok(l)) => l.words(mm),
        Some(Err(waits)) => format!("waits for {waits}"),
        None => "-".into(),
    };
    vec![
        id.into(),
        format!("{}{carries}", kind(line.kind)),
        from,
        told(line.diameter),
        told(line.length),
        route,
        longer,
    ]
}

fn kind(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Hose => "hose",
        LineKind::Wires => "wires",
        LineKind::Coax => "coaxial cable",
        LineKind::Drive => "drive cable",
        LineKind::Pipe => "pipe",
        LineKind::ControlCable => "control cable",
    }
}
