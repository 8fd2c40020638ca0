//! The report of a survey, for people: what disagrees first, then what is open, points, readings.

use crate::define::survey::Side;
use crate::report::sentence::wrap;
use crate::survey::behind::Behind;
use crate::survey::observation::Origin;
use crate::survey::snoop::LEAST_REDUNDANCY;
use crate::survey::statistics::LINE_95;
use crate::survey::{Solved, pairs, say};
use anstyle::{Effects, Style};
use std::collections::BTreeSet;
use std::fmt::Write;

const BOLD: Style = Style::new().effects(Effects::BOLD);
/// Most readings that nothing checks which are listed.
const MOST: usize = 20;

/// What a survey's numbers do not say.
pub(crate) const SURVEY_CAUTIONS: &[&str] = &[
    "An error that all readings share is not seen: a stretched tape, a plan copied to another scale, a datum on the wrong rivet.",
    "Measure one long diagonal again before you cut, and lay a card trial on the panel.",
    "The maintenance manual, the local rules and the licensed person who signs decide. This program advises: it approves nothing.",
];

/// The whole report.
pub fn survey_text(file: &str, title: &str, s: &Solved, behind: &Behind) -> String {
    let mut t = String::new();
    let n = &s.network;
    let _ = writeln!(t, "{BOLD}{title}{BOLD:#}   {file}");
    let readings = n.observations.iter().filter(|o| matches!(o.origin, Origin::Reading(_))).count();
    let numbers = n.observations.iter().filter_map(|o| match o.origin {
        Origin::Condition(k) => Some(k),
        _ => None,
    });
    let conditions = numbers.collect::<BTreeSet<usize>>().len();
    let circles = n.points.iter().filter(|p| p.round).count();
    let line = format!(
        "Readings {readings}, conditions {conditions}, points {}, circles {circles}; {} more than needed. {}",
        n.points.len() - circles,
        s.freedom,
        datum(s)
    );
    let _ = writeln!(t, "{}", wrap(&line, 0));
    let _ = writeln!(t, "{}", wrap(&fits(s), 0));
    suspects(&mut t, file, s);
    open(&mut t, s);
    points(&mut t, s);
    zeros(&mut t, s);
    super::survey_pictures::text(&mut t, s);
    sides(&mut t, s);
    super::survey_behind::text(&mut t, behind);
    table(&mut t, s);
    weak(&mut t, s);
    let taken: BTreeSet<&String> = n.assumed.iter().collect();
    let taken: Vec<&String> =
        n.assumed.iter().chain(behind.assumed.iter().filter(|a| !taken.contains(a))).collect();
    if !taken.is_empty() {
        let _ = writeln!(t, "\n{BOLD}Taken where the file says nothing{BOLD:#}");
    }
    for a in taken {
        let _ = writeln!(t, "{}", wrap(&format!("- {a}"), 2));
    }
    let _ = writeln!(t, "\n{BOLD}Cautions{BOLD:#}");
    for c in SURVEY_CAUTIONS {
        let _ = writeln!(t, "{}", wrap(&format!("- {c}"), 2));
    }
    t
}

/// How the axes lie.
pub(crate) fn datum(s: &Solved) -> String {
    let n = &s.network;
    let id = |p: usize| n.points[p].id.as_ref();
    match (n.datum.origin, n.datum.along) {
        (Some(o), Some(a)) => format!("Datum: {} is the origin, x runs towards {}.", id(o), id(a)),
        (Some(o), None) => format!("Datum: {} is the origin, level and plumb lines turn the axes.", id(o)),
        _ => "Datum: the points with given coordinates.".to_string(),
    }
}

/// Whether the readings fit the stated deviations.
fn fits(s: &Solved) -> String {
    if s.freedom == 0 {
        return "No reading is more than needed: nothing checks any of them.".into();
    }
    let word = format!("The residuals are {:.2} times what the stated deviations let expect", s.ratio);
    if s.scale == 1.0 {
        format!("{word}: they fit (95 % test).")
    } else {
        format!(
            "{word}: too much for chance (95 % test). All deviations below are {:.2} times the stated ones.",
            s.scale
        )
    }
}

/// "reading 14 (found.json:31), distance A to K".
fn named(file: &str, s: &Solved, i: usize) -> String {
    let o = &s.network.observations[i];
    let what = say::observation(&s.network, o);
    format!("{} ({file}:{}), {what}", crate::survey::said(&o.origin), o.place.line)
}

fn suspects(t: &mut String, file: &str, s: &Solved) {
    if s.suspects.is_empty() {
        return;
    }
    let _ = writeln!(t, "\n{BOLD}Disagrees with the rest, and is set aside{BOLD:#}");
    for x in &s.suspects {
        let o = &s.network.observations[x.observation];
        let line = match &x.slip {
            Some(slip) => {
                let why = slip.why.map_or(String::new(), |w| format!(" ({w})"));
                format!(
                    "{}, {}, disagrees by {:.1} mm: {}?{why}",
                    named(file, s, x.observation),
                    o.written,
                    x.off.abs(),
                    slip.written
                )
            }
            None => {
                format!("{}, is off by {:.1} {}", named(file, s, x.observation), x.off.abs(), say::unit(o))
            }
        };
        let _ = writeln!(t, "{}", wrap(&format!("- {line}. Measure it again."), 2));
        for r in &x.rivals {
            let line = format!("it could be {} instead: the others cannot tell", named(file, s, *r));
            let _ = writeln!(t, "{}", wrap(&format!("  {line}"), 4));
            for e in s.either.iter().filter(|e| e.rival == *r) {
                let id = &s.network.points[e.point].id;
                let round =
                    if e.radius > 0.0 { format!(", diameter {:.2}", 2.0 * e.radius) } else { String::new() };
                let line = format!("{id} then lies at {:.2}, {:.2}{round}", plain(e.at.x), plain(e.at.y));
                let _ = writeln!(t, "{}", wrap(&format!("  {line}"), 4));
            }
        }
    }
}

fn open(t: &mut String, s: &Solved) {
    let n = &s.network;
    let id = |p: usize| n.points[p].id.as_ref();
    if !s.undetermined.is_empty() || !s.loose_zeros.is_empty() {
        let _ = writeln!(t, "\n{BOLD}Not determined{BOLD:#}");
        for u in &s.undetermined {
            let what = if u.radius_only { "its radius" } else { "its place" };
            let _ = writeln!(t, "- {}: {what}", id(u.point));
        }
        for z in &s.loose_zeros {
            let _ = writeln!(t, "- zero error of {}", n.zeros[*z].tool);
        }
        let asked: Vec<String> = s.to_determine.iter().map(|f| say::further(n, f)).collect();
        if !asked.is_empty() {
            let _ = writeln!(t, "{}", wrap(&format!("  Measure also: {}.", asked.join("; ")), 2));
        }
    }
    if !s.ambiguous.is_empty() {
        let _ = writeln!(t, "\n{BOLD}May lie elsewhere as well{BOLD:#}");
        for a in &s.ambiguous {
            let at = s.adjusted.state.at[a.point];
            let (side, other) = if (a.also.y - at.y).abs() >= (a.also.x - at.x).abs() {
                (Side::Above, Side::Below)
            } else {
                (Side::Right, Side::Left)
            };
            let more = match a.moved.len() {
                0 | 1 => String::new(),
                k => format!(" (and {} more with it)", k - 1),
            };
            let line = format!(
                "{} at {:.1}, {:.1}{more}: at {:.1}, {:.1} the readings fit as well. Say its side with \"{}\" or \"{}\".",
                id(a.point),
                at.x,
                at.y,
                a.also.x,
                a.also.y,
                side.key(),
                other.key()
            );
            let _ = writeln!(t, "{}", wrap(&format!("- {line}"), 2));
        }
    }
}

fn points(t: &mut String, s: &Solved) {
    let n = &s.network;
    let wide = n.points.iter().map(|p| p.id.chars().count()).max().unwrap_or(0).max(5);
    let _ =
        writeln!(t, "\n{BOLD}Points{BOLD:#}, in mm; the ellipse holds the true point in 95 of 100 surveys");
    let _ = writeln!(
        t,
        "  {:wide$} {:>10} {:>10} {:>7} {:>7}   {:>16} {:>6}   {:>9} {:>7}",
        "point", "x", "y", "dev. x", "dev. y", "ellipse", "at deg", "diameter", "dev."
    );
    for (i, p) in n.points.iter().enumerate() {
        let at = s.adjusted.state.at[i];
        if !s.holds(i) {
            let _ = writeln!(t, "  {:wide$} {:>10} {:>10}", p.id, "open", "open");
            continue;
        }
        if s.doubtful(i) {
            let (x, y) = (plain(at.x), plain(at.y));
            let _ = writeln!(
                t,
                "  {:wide$} {x:>10.2} {y:>10.2}   withheld: either of two readings may be wrong",
                p.id
            );
            continue;
        }
        let (e, d) = (s.ellipse(i), s.deviations(i));
        let mut line = format!(
            "  {:wide$} {:>10.2} {:>10.2} {:>7.2} {:>7.2}   {:>7.2} x {:>6.2} {:>6.0}",
            p.id,
            plain(at.x),
            plain(at.y),
            d.0,
            d.1,
            e.major,
            e.minor,
            plain(e.angle.round())
        );
        if p.round && s.sized(i) {
            let r = s.adjusted.state.radius[i];
            let _ = write!(line, "   {:>9.2} {:>7.2}", 2.0 * r, 2.0 * s.radius_deviation(i));
        } else if p.round {
            let _ = write!(line, "   {:>9}", "open");
        }
        let _ = writeln!(t, "{line}");
    }
}

/// How far left and right are from being mirror images.
fn sides(t: &mut String, s: &Solved) {
    let Some((middle, all)) = pairs::pairs(s) else { return };
    let _ =
        writeln!(t, "\n{BOLD}Left and right{BOLD:#}, in mm, about the middle line x {:.2}", plain(middle));
    for p in all {
        let id = |p: usize| s.network.points[p].id.as_ref();
        let real = p.across.abs() > LINE_95 * p.deviations.0 || p.up.abs() > LINE_95 * p.deviations.1;
        let word = if real { "not mirror images" } else { "no difference beyond the survey's own" };
        let line = format!(
            "{} is {:+.2} farther out (dev. {:.2}) and {:+.2} higher (dev. {:.2}) than {}: {word}",
            id(p.right),
            plain(p.across),
            p.deviations.0,
            plain(p.up),
            p.deviations.1,
            id(p.left)
        );
        let _ = writeln!(t, "{}", wrap(&format!("- {line}"), 2));
    }
}

/// Never "-0.00".
fn plain(v: f64) -> f64 {
    if v.abs() < 0.005 { 0.0 } else { v }
}

fn zeros(t: &mut String, s: &Solved) {
    for (z, zero) in s.network.zeros.iter().enumerate() {
        if s.loose_zeros.contains(&z) {
            continue;
        }
        let u = s.network.zero_unknown(z);
        let deviation = s.cofactor.at(u, u).max(0.0).sqrt() * s.scale;
        let _ = writeln!(
            t,
            "\nZero error of {}: {:+.2} mm, deviation {:.2} mm; it is taken off.",
            zero.tool, s.adjusted.state.zero[z], deviation
        );
    }
}

/// The observations' indices in the order of the file.
pub(crate) fn in_order(s: &Solved) -> Vec<usize> {
    let mut all: Vec<usize> = (0..s.network.observations.len()).collect();
    all.sort_by_key(|i| (s.network.observations[*i].origin.clone(), *i));
    all
}

fn table(t: &mut String, s: &Solved) {
    let n = &s.network;
    let pixels = if n.picks.is_empty() { "" } else { ", picks in pixels" };
    let _ = writeln!(
        t,
        "\n{BOLD}Readings{BOLD:#}, in mm{pixels}; misclosure: reading less what all others expect; checked: 0 nothing checks it, 1 fully"
    );
    let reads = n.observations.iter().map(|o| o.written.chars().count()).max().unwrap_or(0).max(12);
    let words: Vec<String> = n.observations.iter().map(|o| say::observation(n, o)).collect();
    let wide = words.iter().map(|w| w.chars().count()).max().unwrap_or(0);
    let _ = writeln!(
        t,
        "  {:>4} {:wide$} {:>reads$} {:>6} {:>8} {:>10} {:>7} {:>6}",
        "", "what", "reads", "dev.", "residual", "misclosure", "checked", "test"
    );
    for i in in_order(s) {
        let o = &n.observations[i];
        let number = match o.origin {
            Origin::Reading(k) => format!("{k}"),
            Origin::Condition(k) => format!("c{k}"),
            Origin::Pick(k, i) => format!("{k}.{i}"),
            Origin::Picture(k) => format!("p{k}"),
        };
        let head = format!("  {number:>4} {:wide$} {:>reads$} {:>6.2}", words[i], o.written, o.sigma);
        let tail = match &s.tests[i] {
            None => {
                let off = s.suspects.iter().find(|x| x.observation == i).map_or(0.0, |x| x.off);
                format!("{:>8} {off:>+10.2}  set aside", "")
            }
            Some(x) => {
                let closing =
                    x.misclosure().map_or(format!("{:>10}", "-"), |m| format!("{:>+10.2}", plain(m)));
                format!("{:>+8.2} {closing} {:>7.2} {:>6.1}", plain(x.residual), x.redundancy, x.test.abs())
            }
        };
        let _ = writeln!(t, "{head} {tail}");
    }
}

fn weak(t: &mut String, s: &Solved) {
    let n = &s.network;
    if let Some(w) = &s.weakest {
        let line = format!(
            "The weakest point is {}: {:.2} mm. {} would make it {:.2} mm: the further reading that helps it most.",
            n.points[w.point].id,
            w.now * s.scale,
            capital(&say::further(n, &w.further)),
            w.then * s.scale
        );
        let _ = writeln!(t, "\n{BOLD}What would help{BOLD:#}\n{}", wrap(&line, 0));
    }
    if s.not_checkable.is_empty() {
        return;
    }
    let _ = writeln!(
        t,
        "\n{BOLD}Not checkable{BOLD:#}: an error in these would not be found, or not be told from another's"
    );
    for (i, f) in s.not_checkable.iter().take(MOST) {
        let o = &n.observations[*i];
        let why = match &s.tests[*i] {
            Some(x) if x.redundancy < LEAST_REDUNDANCY => format!("checked only {:.2}", x.redundancy),
            Some(x) => x.like.map_or(String::new(), |(j, _)| {
                format!("cannot be told from {}", crate::survey::said(&n.observations[j].origin))
            }),
            None => String::new(),
        };
        let with = match f {
            Some(f) => format!("checkable with {}", say::further(n, f)),
            None => "take two more readings of the same".into(),
        };
        let line = format!("{}, {}: {why}; {with}", crate::survey::said(&o.origin), say::observation(n, o));
        let _ = writeln!(t, "{}", wrap(&format!("- {line}"), 2));
    }
    if s.not_checkable.len() > MOST {
        let _ = writeln!(t, "- and {} more (--format json lists all)", s.not_checkable.len() - MOST);
    }
}

fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default()
}
