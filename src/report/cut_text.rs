//! The report of a cutting file, for people: what it is, what would be cut, findings worst first.

use crate::check::Verdict;
use crate::cut::{Facts, Finding, Report, own, spot};
use crate::geom::Point;
use crate::import::{Axes, CutFile, Declared};
use crate::report::sentence::{trim, wrap};
use anstyle::{Effects, Style};
use std::fmt::Write;

/// Most findings of one question that are written out.
const MOST: usize = 20;
const BOLD: Style = Style::new().effects(Effects::BOLD);

/// What this check does not look at.
pub(crate) const NOT_LOOKED_AT: &[&str] = &[
    "necks within one contour, and the space between parts that are nested side by side",
    "lead-ins, tabs, order of cuts, kerf: the machine's program makes them",
    "whether the contours are those of your panel: compare with the drawing and its hole schedule",
    "splines, Beziers and ellipses: they are named and not measured",
];

/// The whole report.
pub fn cut_text(file: &CutFile, r: &Report) -> String {
    let mut s = String::new();
    let c = r.counts();
    let _ = writeln!(s, "{BOLD}{}{BOLD:#}   {} {}", file.file, file.format.name(), file.version);
    let unit = match &file.unit.declared {
        Declared::InFile(how) => format!("{}, by {how}", file.unit.name),
        Declared::ByUser => "by your word".to_owned(),
        Declared::Missing(why) => format!("not told ({why}); {} assumed", file.unit.name),
    };
    let axes = match file.axes {
        Axes::File => "in the file's own axes, y up",
        Axes::Page => "in mm from the top left corner, y down",
    };
    let _ = writeln!(s, "{}", wrap(&format!("Unit: {unit}. Places are told {axes}."), 0));
    let _ = writeln!(
        s,
        "\n{BOLD}fail {}   tight {}   withheld {}   pass {}{BOLD:#}\n",
        c.fail, c.tight, c.withheld, c.pass
    );
    facts(&mut s, file, &r.facts);
    layers(&mut s, r);
    let mut shown: Vec<(&str, Verdict, usize)> = Vec::new();
    for f in &r.findings {
        let n = match shown.iter_mut().find(|(id, v, _)| *id == f.rule.id && *v == f.verdict) {
            Some((_, _, n)) => {
                *n += 1;
                *n
            }
            None => {
                shown.push((f.rule.id, f.verdict, 1));
                1
            }
        };
        if n <= MOST {
            finding(&mut s, file, f);
        }
    }
    for (id, v, n) in shown.iter().filter(|(_, _, n)| *n > MOST) {
        let _ =
            writeln!(s, "... and {} more of {} {id}; --format json lists them all.\n", n - MOST, v.word());
    }
    let mut list = |title: &str, lines: &mut dyn Iterator<Item = &str>| {
        let _ = writeln!(s, "{BOLD}{title}{BOLD:#}");
        for l in lines {
            let _ = writeln!(s, "{}", wrap(&format!("- {l}"), 2));
        }
        s.push('\n');
    };
    if !r.remarks.is_empty() {
        list("Remarks", &mut r.remarks.iter().map(String::as_str));
    }
    list("Not checked by this version", &mut NOT_LOOKED_AT.iter().copied());
    list("Cautions", &mut super::CUT_CAUTIONS.iter().copied());
    s.truncate(s.trim_end().len());
    s.push('\n');
    s
}

fn place(file: &CutFile, p: Point) -> String {
    let q = own(file, p);
    format!("({}, {})", trim(q.x, 3), trim(q.y, 3))
}

fn facts(s: &mut String, file: &CutFile, f: &Facts) {
    if let Some(b) = f.bounds {
        let (w, h) = (b.width(), b.height());
        let (w, h, wi, hi) = (trim(w, 2), trim(h, 2), trim(w / 25.4, 2), trim(h / 25.4, 2));
        let _ = writeln!(s, "size          {w} x {h} mm = {wi} x {hi} in");
    }
    let kinds = match f.openings_only {
        true => {
            format!("all {} taken as openings: none holds another, the sheet's edge is not cut here", f.inner)
        }
        false => format!("{} outer, {} inner, {} deep", f.outer, f.inner, f.levels),
    };
    let _ = writeln!(s, "contours      {} closed ({kinds}); {} open", f.contours, f.open);
    let _ = writeln!(
        s,
        "cut           {} mm long, {} pierces, as the file stands",
        trim(f.cut_length, 1),
        f.pierces
    );
    if let Some(area) = f.metal {
        let _ = writeln!(s, "metal         {} mm2 inside the outer contours", trim(area, 1));
    }
    if let Some((w, p)) = f.least_hole {
        let _ = writeln!(s, "least hole    {} mm at {}", trim(w, 3), place(file, p));
    }
    if let Some((w, [p, q])) = f.least_web {
        let _ =
            writeln!(s, "least web     {} mm between {} and {}", trim(w, 3), place(file, p), place(file, q));
    }
    if let Some((r, p)) = f.least_corner {
        let _ = writeln!(s, "least corner  {} mm inside radius at {}", trim(r, 3), place(file, p));
    }
    s.push('\n');
}

fn layers(s: &mut String, r: &Report) {
    let _ = writeln!(s, "{BOLD}Layers{BOLD:#}");
    let (used, empty): (Vec<_>, Vec<_>) = r.layers.iter().partition(|l| !l.counts.is_empty());
    for l in used {
        let counts = l.counts.iter().map(|(k, n)| format!("{n} {k}")).collect::<Vec<_>>().join(", ");
        let word = if l.cut { "cut" } else { "not cut" };
        let hidden = l.hidden.map(|h| format!("; {h}")).unwrap_or_default();
        let _ = writeln!(s, "{}", wrap(&format!("{} {word} ({}{hidden}): {counts}", l.name, l.why), 2));
    }
    if !empty.is_empty() {
        let names: Vec<&str> = empty.iter().map(|l| l.name.as_str()).collect();
        let _ = writeln!(s, "{}", wrap(&format!("empty: {}", names.join(", ")), 2));
    }
    s.push('\n');
}

fn finding(s: &mut String, file: &CutFile, f: &Finding) {
    let _ = writeln!(s, "{BOLD}{}{BOLD:#}  {}", f.verdict.word(), f.rule.id);
    let _ = writeln!(s, "{}", wrap(&f.says, 6));
    if f.verdict != Verdict::Pass {
        let source = &f.rule.source;
        let title = if source.title.is_empty() { String::new() } else { format!(": {}", source.title) };
        let _ = writeln!(s, "{}", wrap(&format!("by: {}{title}", source.standing.words()), 6));
        let spots: Vec<String> = f.items.iter().take(6).map(|k| spot(file, *k)).collect();
        if !spots.is_empty() {
            let more = f.items.len().saturating_sub(6);
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            let _ = writeln!(s, "{}", wrap(&format!("{}: {}{more}", file.file, spots.join("; ")), 6));
        }
    }
    s.push('\n');
}
