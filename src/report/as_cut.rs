//! How a panel was cut against its design, told to people and to programs.

use crate::as_cut::{AsCut, BOUND, Deviation};
use crate::check::Verdict;
use crate::report::sentence::trim;
use serde_json::{Value, json};
use std::fmt::Write;

/// Version of its JSON.
pub const AS_CUT_FORMAT: u32 = 1;

/// For people: `names` are the titles of the design and of what was measured.
pub fn as_cut_text(names: [&str; 2], a: &AsCut) -> String {
    let mut out = format!("Design:   {}\nMeasured: {}\n", names[0], names[1]);
    match &a.fit {
        Some(f) => {
            let (x, y, turn) = (trim(f.shift.x, 2), trim(f.shift.y, 2), trim(f.turn, 3));
            let _ = writeln!(
                out,
                "Laid over the design by {} openings: shifted by {x}, {y} mm, turned by {turn} degrees. A shift of all of \
                 them against the sheet is hidden so.",
                f.by
            );
        }
        None => out += "Both from the same datum.\n",
    }
    if !a.list.is_empty() {
        let width = a.list.iter().map(|d| d.id.chars().count()).max().unwrap_or(0).max(7);
        let _ = writeln!(
            out,
            "\n{:8} {:width$} {:>7} {:>7}  {:>17}  {:>8} {:>7}  {:>8} {:>7}  {:>6}",
            "verdict", "opening", "dx", "dy", "diameter", "outside", "of", "inside", "of", "doubt"
        );
        for d in &a.list {
            let diameter = d.diameter.map_or(String::new(), |[was, is]| format!("{was:.2} to {is:.2}"));
            let _ = writeln!(
                out,
                "{:8} {:width$} {:>7.2} {:>7.2}  {diameter:>17}  {:>8.2} {:>7.2}  {:>8.2} {:>7.2}  {:>6.2}",
                d.verdict.word(),
                d.id,
                plain(d.shift.x),
                plain(d.shift.y),
                d.off[0],
                d.allowed[0],
                d.off[1],
                d.allowed[1],
                d.doubt
            );
        }
        let _ = writeln!(
            out,
            "Millimetres: how far the centre is off; the most that the outline lies outside and inside of the design's, of \
             what its tolerances let it; how far the measurement may be off. Circles exactly, others told at most {BOUND} \
             too large."
        );
    }
    for (head, list) in
        [("Withheld: nobody measured", &a.not_measured), ("Measured, but not in the design", &a.not_designed)]
    {
        if !list.is_empty() {
            let _ = writeln!(out, "\n{head} ({})", list.len());
            list.iter().for_each(|id| out += &format!("  {id}\n"));
        }
    }
    let count = |v: Verdict| a.list.iter().filter(|d| d.verdict == v).count();
    let (fail, tight, pass) = (count(Verdict::Fail), count(Verdict::Tight), count(Verdict::Pass));
    let _ = writeln!(
        out,
        "\n{fail} out of tolerance, {} not measured, {tight} tight, {pass} in tolerance.",
        a.not_measured.len()
    );
    if let Some(d) = a.list.iter().find(|d| d.verdict == Verdict::Fail && d.beyond() <= d.doubt) {
        let _ = writeln!(out, "{} is out by less than its doubt: measure it again.", d.id);
    }
    out += "Out of tolerance means that what the check said at the worst tolerance need not hold: check the panel as it was \
            cut. The program advises, it approves nothing: the maintenance manual, the local rules and the licensed person \
            who signs decide.\n";
    out
}

/// No minus before a zero.
fn plain(v: f64) -> f64 {
    if v.abs() < 0.005 { 0.0 } else { v }
}

/// For programs, unrounded.
pub fn as_cut_json(names: [&str; 2], a: &AsCut) -> Value {
    let one = |d: &Deviation| {
        json!({
            "id": d.id, "measured": d.measured, "verdict": d.verdict.word(), "shift": [d.shift.x, d.shift.y],
            "diameter": d.diameter, "outside": d.off[0], "inside": d.off[1],
            "allowed": { "outside": d.allowed[0], "inside": d.allowed[1] }, "doubt": d.doubt, "beyond": d.beyond(),
        })
    };
    json!({
        "format": AS_CUT_FORMAT,
        "design": names[0],
        "measured": names[1],
        "fit": a.fit.map(|f| json!({ "shift": [f.shift.x, f.shift.y], "turn": f.turn, "openings": f.by })),
        "bound": BOUND,
        "deviations": a.list.iter().map(one).collect::<Vec<_>>(),
        "not-measured": a.not_measured,
        "not-designed": a.not_designed,
    })
}
