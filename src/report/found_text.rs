//! The report of a panel found in a drawing, for people: what it is, what is asked, what was left out and changed, the
//! openings with their patterns, and what is proposed.

use crate::cut::own;
use crate::found::{About, Found, Match, Piece, form};
use crate::geom::Point;
use crate::import::{Axes, CutFile, Declared};
use crate::report::sentence::{trim, wrap};
use anstyle::{Effects, Style};
use std::collections::BTreeMap;
use std::fmt::Write;

const BOLD: Style = Style::new().effects(Effects::BOLD);
/// Most openings that are listed.
const MOST: usize = 200;

/// What a drawing does not say.
pub(crate) const FOUND_CAUTIONS: &[&str] = &[
    "A drawing is not the sheet: print it 1:1, lay it on the panel and measure one long diagonal before you rely on it.",
    "Material, thickness, what is behind and what moves there are in no such drawing: add them to the panel file.",
    "The maintenance manual, the local rules and the licensed person who signs decide. This program advises: it approves nothing.",
];

/// The whole report.
pub fn found_text(file: &CutFile, f: &Found) -> String {
    let mut s = String::new();
    let _ = writeln!(s, "{BOLD}{}{BOLD:#}   {} {}", file.file, file.format.name(), file.version);
    let unit = match &file.unit.declared {
        Declared::InFile(how) => format!("{}, by {how}", file.unit.name),
        Declared::ByUser => "by your word".to_owned(),
        Declared::Missing(why) => format!("not told ({why}); {} assumed until you say", file.unit.name),
    };
    let axes = match file.axes {
        Axes::File => "in the file's own axes, y up",
        Axes::Page => "in mm from the top left corner, y down",
    };
    let _ = writeln!(s, "{}", wrap(&format!("Unit: {unit}. Places are told {axes}."), 0));
    s.push('\n');
    sheet(&mut s, file, f);
    for about in [About::Question, About::LeftOut, About::Changed, About::Note] {
        let told: Vec<&str> = f.told.iter().filter(|t| t.about == about).map(|t| t.says.as_str()).collect();
        let title = match about {
            About::Question => "To answer before there is a panel",
            About::LeftOut => "Left out: not in the panel",
            About::Changed => "Changed on the way",
            About::Note => "Notes",
        };
        if !told.is_empty() {
            let _ = writeln!(s, "\n{BOLD}{title}{BOLD:#}");
        }
        for t in told {
            let _ = writeln!(s, "{}", wrap(&format!("- {t}"), 2));
        }
    }
    fits(&mut s, f);
    patterns(&mut s, f);
    proposals(&mut s, f);
    openings(&mut s, file, f);
    let _ = writeln!(s, "\n{BOLD}Cautions{BOLD:#}");
    for c in FOUND_CAUTIONS {
        let _ = writeln!(s, "{}", wrap(&format!("- {c}"), 2));
    }
    s
}

fn place(file: &CutFile, p: Point) -> String {
    let q = own(file, p);
    let digits = if file.unit.mm == 1.0 || file.axes == Axes::Page { 3 } else { 5 };
    format!("({}, {})", trim(q.x, digits), trim(q.y, digits))
}

fn sheet(s: &mut String, file: &CutFile, f: &Found) {
    let Some(o) = &f.outline else {
        let _ = writeln!(s, "outline       none");
        return;
    };
    let b = o.contour.bounds();
    let (w, h) = (b.width(), b.height());
    let (w, h, wi, hi) = (trim(w, 2), trim(h, 2), trim(w / 25.4, 2), trim(h / 25.4, 2));
    let _ = writeln!(
        s,
        "outline       {w} x {h} mm = {wi} x {hi} in, {} lines and arcs",
        o.contour.segments().len()
    );
    if let Some(d) = o.doubt {
        let _ = writeln!(s, "              off by at most {} mm (95 %)", trim(d.off, 2));
    }
    let round = f.openings.iter().filter(|o| o.contour.as_circle().is_some()).count();
    let _ = writeln!(s, "openings      {} ({round} round)", f.openings.len());
    let _ = writeln!(s, "origin        at {} of the drawing; --origin X,Y moves it", place(file, f.origin));
}

fn fits(s: &mut String, f: &Found) {
    if f.fits.is_empty() {
        return;
    }
    let _ = writeln!(
        s,
        "\n{BOLD}Fits{BOLD:#}: deviation of a point, and the worst one with its line in the file"
    );
    for t in &f.fits {
        let radius = match (t.radius, t.radius_deviation) {
            (Some(r), Some(d)) => format!(", radius {} +- {} mm (deviation)", trim(r, 3), trim(d, 3)),
            (Some(r), None) => format!(", radius {} mm, nothing checks it", trim(r, 3)),
            (None, _) => String::new(),
        };
        let deviation = t.deviation.map_or("not known".to_owned(), |d| format!("{} mm", trim(d, 3)));
        let worst = t.residuals.iter().zip(&t.lines).max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
        let worst = worst.map(|(r, l)| format!(", worst {} mm (line {l})", trim(*r, 3))).unwrap_or_default();
        let line = format!(
            "- {}, {}: {} through {} points{radius}; deviation {deviation}{worst}",
            t.contour,
            t.piece,
            t.on.word(),
            t.points
        );
        let _ = writeln!(s, "{}", wrap(&line, 2));
    }
}

/// Patterns by their title, in the order of the first one.
pub(crate) fn grouped(f: &Found) -> Vec<(&str, Vec<&Match>)> {
    let mut groups: Vec<(&str, Vec<&Match>)> = Vec::new();
    for m in &f.patterns {
        match groups.iter_mut().find(|(t, _)| *t == m.title) {
            Some((_, list)) => list.push(m),
            None => groups.push((&m.title, vec![m])),
        }
    }
    groups
}

fn patterns(s: &mut String, f: &Found) {
    if f.patterns.is_empty() {
        return;
    }
    let _ = writeln!(s, "\n{BOLD}Patterns of the catalogue{BOLD:#}");
    for (title, list) in grouped(f) {
        let off = list.iter().map(|m| m.off).fold(0.0, f64::max);
        let names = list.first().map(|m| m.names.as_slice()).unwrap_or_default();
        let shown = names.iter().take(3).map(String::as_str).collect::<Vec<_>>().join(", ");
        let more = names.len().saturating_sub(3);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        let ids: Vec<&str> =
            list.iter().filter_map(|m| f.openings.get(*m.openings.first()?)).map(|o| o.id.as_str()).collect();
        let plural = if list.len() == 1 { "pattern" } else { "patterns" };
        let line = format!(
            "- {} {title} {plural} found, off by at most {} mm: {}. As in {shown}{more}",
            count(list.len()),
            trim(off, 3),
            ids.join(", ")
        );
        let _ = writeln!(s, "{}", wrap(&line, 2));
    }
}

/// Small numbers in words.
fn count(n: usize) -> String {
    let words = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    words.get(n).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}

fn proposals(s: &mut String, f: &Found) {
    if f.proposals.is_empty() {
        return;
    }
    let _ = writeln!(
        s,
        "\n{BOLD}Proposals{BOLD:#}: nothing of it is done unless you say --accept p1,p2 (or fits, grid)"
    );
    for p in &f.proposals {
        let done = if p.accepted { " (accepted)" } else { "" };
        let _ = writeln!(s, "{}", wrap(&format!("{}{done}  {}: {}", p.id, p.kind.word(), p.says), 4));
    }
}

/// What an opening is, in words.
pub(crate) fn kind(o: &Piece) -> String {
    match o.contour.as_circle() {
        Some((_, r)) => format!("circle {} mm", trim(2.0 * r, 3)),
        None => {
            if let Some(f) = form(&o.contour) {
                return f.says();
            }
            let b = o.contour.bounds();
            let n = o.contour.segments().len();
            format!("{} x {} mm, {n} lines and arcs", trim(b.width(), 3), trim(b.height(), 3))
        }
    }
}

fn openings(s: &mut String, file: &CutFile, f: &Found) {
    if f.openings.is_empty() {
        return;
    }
    let mut part: BTreeMap<usize, &str> = BTreeMap::new();
    for m in &f.patterns {
        for k in &m.openings {
            part.insert(*k, &m.title);
        }
    }
    let _ = writeln!(s, "\n{BOLD}Openings{BOLD:#}");
    let wide = f.openings.iter().take(MOST).map(|o| o.id.len()).max().unwrap_or(0).clamp(8, 30);
    for (k, o) in f.openings.iter().take(MOST).enumerate() {
        let of = part.get(&k).map(|t| format!("   of {t}")).unwrap_or_default();
        let off =
            o.rounded.map(|v| format!("   drawn otherwise, off by {} mm", trim(v, 4))).unwrap_or_default();
        let at = place(file, o.contour.bounds().center());
        let doubt = match o.doubt.map(|d| (d.off, d.diameter)) {
            Some((off, Some(d))) => {
                format!("   +- {} mm, diameter +- {} mm (95 %)", trim(off, 2), trim(d, 2))
            }
            Some((off, None)) => format!("   +- {} mm (95 %)", trim(off, 2)),
            None => String::new(),
        };
        let _ = writeln!(s, "{:wide$}  {} at {at}{of}{off}{doubt}", o.id, kind(o));
    }
    if f.openings.len() > MOST {
        let _ = writeln!(s, "... and {} more; --format json lists them all.", f.openings.len() - MOST);
    }
}
