//! What stands under the views: sizes, what leaves the instrument, what is touched, what is not known.

use crate::draw::template::column::{Block, Piece};
use crate::draw::template::words::{both, mm, trimmed};
use crate::panel::{Class, Detail, Facts, Mounting, Part, Service, Subject};

/// The line under the title.
pub(super) fn standing(s: &Subject) -> String {
    let name = s.facts.as_ref().map_or(String::new(), |f| format!("{}  ", f.instrument));
    format!("{name}A picture to look at, not to cut from. Millimetres; inches in the list.")
}

/// All blocks; an empty one is left out.
pub(super) fn blocks(s: &Subject, marks: &[(String, &Part)]) -> Vec<Block> {
    vec![
        sizes(s),
        listed(marks, Class::Port, "What leaves it", &port),
        listed(marks, Class::Front, "What is touched or read", &front),
        missing(s),
    ]
}

/// The marked parts of a class; neighbours of which the same is said share a line.
fn listed(marks: &[(String, &Part)], class: Class, head: &str, of: &dyn Fn(&Part) -> String) -> Block {
    let mut lines: Vec<(Vec<(&str, &str)>, String)> = Vec::new();
    for (mark, part) in marks.iter().filter(|(_, p)| p.class == class) {
        let name = part.name.split_once('-').map_or(part.name.as_str(), |n| n.1);
        let said = of(part);
        match lines.last_mut() {
            Some((names, last)) if *last == said => names.push((mark, name)),
            _ => lines.push((vec![(mark, name)], said)),
        }
    }
    let mut block: Block = Vec::new();
    for (names, said) in lines {
        let [all, marks] = [1, 0].map(|k| {
            let list: Vec<&str> = names.iter().map(|n| if k == 1 { n.1 } else { n.0 }).collect();
            list.join(", ")
        });
        block.push(Piece::words(format!("{marks}  {all}{said}")));
    }
    if !block.is_empty() {
        block.insert(0, Piece::head(head));
    }
    block
}

fn sizes(s: &Subject) -> Block {
    let mut lines: Vec<(String, usize)> = Vec::new();
    for class in [Class::Cutout, Class::Case, Class::Bezel, Class::Flange, Class::Hole] {
        for p in s.parts.iter().filter(|p| p.class == class) {
            let screw = p.fastening().map_or(String::new(), |f| format!(" for {}", f.name));
            let words = match class {
                Class::Cutout => format!("cutout {}", size(p)),
                Class::Case => format!("case that passes it {}", size(p)),
                Class::Bezel => format!("bezel {}", size(p)),
                Class::Flange => format!("behind the sheet, against it {}", size(p)),
                _ => format!("hole {}{screw}", size(p)),
            };
            match lines.iter_mut().find(|(w, _)| *w == words) {
                Some((_, n)) => *n += 1,
                None => lines.push((words, 1)),
            }
        }
    }
    let mut b = vec![Piece::head("Sizes")];
    b.extend(lines.into_iter().map(|(w, n)| Piece::words(if n > 1 { format!("{n} x {w}") } else { w })));
    for (class, what) in [(Class::Body, "behind the sheet's face"), (Class::Port, "with plugs and bends")] {
        match deepest(s, class) {
            Some(Some(d)) => b.push(Piece::words(format!("{} {what}", both(d)))),
            Some(None) => {
                b.push(Piece::words(format!("depth {what}: not given, a check withholds its verdict")))
            }
            None => {}
        }
    }
    if let Some(f) = &s.facts {
        facts(f, &mut b);
    }
    b
}

/// Where the deepest part of a class ends, mm behind the sheet's face: `Some(None)` where there is one and a number is missing.
pub fn deepest(s: &Subject, class: Class) -> Option<Option<f64>> {
    let list: Vec<&Part> = s.parts.iter().filter(|p| p.class == class).collect();
    let known = list.iter().all(|p| {
        p.depth.is_some()
            && !matches!(&p.detail, Detail::Port { terms, .. } if terms.iter().any(|t| t.1.is_none()))
    });
    let d = list.iter().filter_map(|p| p.depth).map(|d| d.1).reduce(f64::max);
    if list.is_empty() { None } else { Some(d.filter(|_| known)) }
}

fn size(p: &Part) -> String {
    let b = p.contour.bounds();
    match (p.contour.as_circle(), &p.written) {
        (Some((_, r)), Some(w)) => format!("diameter {w} ({} mm)", mm(2.0 * r)),
        (Some((_, r)), None) => format!("diameter {}", both(2.0 * r)),
        (None, Some(w)) => format!("{w} ({} \u{d7} {} mm)", mm(b.width()), mm(b.height())),
        (None, None) => format!("{} by {}", both(b.width()), both(b.height())),
    }
}

fn facts(f: &Facts, b: &mut Block) {
    let held = f.mounting.map(|m| match m {
        Mounting::Front => "put in from the front",
        Mounting::Rear => "put in from behind",
        Mounting::Clamp => "held by a clamp behind the sheet",
    });
    let out = f.service.map(|s| match s {
        Service::Front => "comes out to the front",
        Service::Rear => "comes out behind",
        Service::Both => "comes out to either side",
    });
    let said: Vec<&str> = held.into_iter().chain(out).collect();
    if !said.is_empty() {
        b.push(Piece::words(said.join(", ")));
    }
    match f.accepts {
        (Some(least), Some(most)) => {
            b.push(Piece::words(format!("for sheets of {} to {}", both(least), both(most))));
        }
        (Some(least), None) => b.push(Piece::words(format!("for sheets of {} or more", both(least)))),
        (None, Some(most)) => b.push(Piece::words(format!("for sheets of {} or less", both(most)))),
        (None, None) => {}
    }
    match (f.tilt_matters, f.tilt) {
        (true, Some((calibrated, bears))) => {
            let bears = bears
                .map_or("how far off is not given".into(), |v| format!("bears {}\u{b0} off", trimmed(v, 1)));
            b.push(Piece::words(format!("made for a tilt of {}\u{b0}, {bears}", trimmed(calibrated, 1))));
        }
        (true, None) => b.push(Piece::words("its tilt matters; for which it is made is not given")),
        (false, _) => {}
    }
    match f.mass {
        Some(kg) => b.push(Piece::words(format!("mass {} kg", trimmed(kg, 3)))),
        None => b.push(Piece::words("mass not given")),
    }
}

/// What is said of a port behind its name: what it carries and what it needs.
fn port(p: &Part) -> String {
    let Detail::Port { carries, terms } = &p.detail else { return String::new() };
    let carries = match carries.as_deref() {
        Some(c) if p.name.strip_prefix("port-") != Some(c) => format!(", carries {c}"),
        _ => String::new(),
    };
    let term = |(what, long): &(String, Option<f64>)| match long {
        Some(v) => format!("{what} {}", both(*v)),
        None => format!("{what}, not given"),
    };
    let needs: Vec<String> = terms.iter().map(term).collect();
    let needs = if needs.is_empty() { "what it needs is not given".into() } else { needs.join("; ") };
    format!("{carries}: {needs}")
}

/// What is said of a front part behind its name: what it is and how far it stands out.
fn front(p: &Part) -> String {
    let Detail::Front { kind, hand_room } = &p.detail else { return String::new() };
    let kind = if p.name.contains(kind.as_str()) { String::new() } else { format!(", {kind}") };
    let out = match p.depth {
        Some((from, _)) if from < 0.0 => format!("; stands out {}", both(-from)),
        Some(_) => String::new(),
        None => "; how far it stands out is not given".into(),
    };
    let room = hand_room.filter(|r| *r > 0.0).map_or(String::new(), |r| format!("; hand {}", both(r)));
    format!("{kind}: {}{out}{room}", size(p))
}

fn missing(s: &Subject) -> Block {
    let open = s.facts.iter().flat_map(|f| f.open_terms.iter().cloned());
    let said = s.missing.iter().map(|(part, what)| format!("{part}: {what}"));
    let lines: Vec<String> = said.chain(open).collect();
    if lines.is_empty() {
        return Vec::new();
    }
    let mut b = vec![Piece::head("Not given: checks withhold")];
    b.extend(lines.into_iter().map(Piece::words));
    b
}
