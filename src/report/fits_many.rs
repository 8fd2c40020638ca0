//! One instrument on many panels: the table, the best first, for people and for programs.

use crate::check::Verdict;
use crate::diag::Problems;
use crate::many::Outcome;
use crate::place::{Brief, TOLERANCE};
use crate::report::FORMAT;
use crate::report::sentence::{trim, wrap};
use serde_json::{Value, json};
use std::cmp::Ordering;

/// A file that was left out, and why.
#[derive(Clone, Debug)]
pub struct Left {
    /// Its name.
    pub file: String,
    /// Why.
    pub because: String,
}

/// What came of all files.
pub struct Table {
    instrument: String,
    turns: Vec<f64>,
    tight: bool,
    rows: Vec<(String, Outcome)>,
    left: Vec<Left>,
    folders: Vec<String>,
    others: usize,
}

impl Table {
    /// Sorted: the best first, then what was not asked, then what could not be read; alike by the names of the files.
    pub fn of(
        instrument: String,
        turns: Vec<f64>,
        tight: bool,
        mut rows: Vec<(String, Outcome)>,
        mut left: Vec<Left>,
        folders: Vec<String>,
        others: usize,
    ) -> Table {
        rows.sort_by(|(p, a), (q, b)| order(a, b).then_with(|| p.cmp(q)));
        left.sort_by(|a, b| a.file.cmp(&b.file));
        Table { instrument, turns, tight, rows, left, folders, others }
    }

    fn told(&self) -> impl Iterator<Item = (&String, &Brief)> {
        self.rows.iter().filter_map(|(file, o)| match o {
            Outcome::Told(b) => Some((file, &**b)),
            _ => None,
        })
    }

    fn problems(&self) -> impl Iterator<Item = (&String, &Problems)> {
        self.rows.iter().filter_map(|(file, o)| match o {
            Outcome::Problems(p) => Some((file, p)),
            _ => None,
        })
    }

    fn later(&self) -> impl Iterator<Item = &String> {
        self.rows.iter().filter(|(_, o)| matches!(o, Outcome::NotAsked)).map(|(file, _)| file)
    }

    /// How many were asked.
    pub fn asked(&self) -> usize {
        self.told().count()
    }

    /// How many could not be read.
    pub fn unread(&self) -> usize {
        self.problems().count()
    }

    /// How many were not asked because the search was stopped.
    pub fn not_asked(&self) -> usize {
        self.later().count()
    }

    /// Whether it fits on every panel.
    pub fn all_fit(&self) -> bool {
        self.rows.iter().all(|(_, o)| matches!(o, Outcome::Told(b) if b.fits))
    }
}

fn order(a: &Outcome, b: &Outcome) -> Ordering {
    let kind = |o: &Outcome| match o {
        Outcome::Told(_) => 0,
        Outcome::NotAsked => 1,
        Outcome::Problems(_) => 2,
    };
    match (a, b) {
        (Outcome::Told(a), Outcome::Told(b)) => a.order(b),
        _ => kind(a).cmp(&kind(b)),
    }
}

/// Findings, and what binds, that are told to people of one panel.
const FEW: usize = 3;

/// For people.
pub fn text(t: &Table) -> String {
    let count = |n: usize| if n == 1 { "1 panel".to_string() } else { format!("{n} panels") };
    let turns: Vec<String> = t.turns.iter().map(|turn| trim(*turn, 3)).collect();
    let mut out =
        format!("{} on {}, turned by {} degrees\n\n", t.instrument, count(t.asked()), turns.join(" or "));
    let mut lines = vec![["verdict", "room, mm", "at", "panel file"].map(String::from)];
    let mut below = vec![Vec::new()];
    for (file, b) in t.told() {
        lines.push([verdict(b), margin(b), at(b, t.turns.len() > 1), file.clone()]);
        below.push(because(b));
    }
    for file in t.later() {
        lines.push(["not asked".into(), String::new(), String::new(), file.clone()]);
        below.push(Vec::new());
    }
    for (file, problems) in t.problems() {
        lines.push(["not read".into(), String::new(), String::new(), file.clone()]);
        below.push(unread(problems));
    }
    let wide =
        |k: usize| lines.iter().filter_map(|l| l.get(k)).map(|cell| cell.chars().count()).max().unwrap_or(0);
    let (a, b, c) = (wide(0), wide(1), wide(2));
    for ([verdict, margin, at, file], why) in lines.iter().zip(below) {
        out += &format!("{verdict:a$}  {margin:>b$}  {at:c$}  {file}\n");
        for words in why {
            out += &format!("{}\n", wrap(&words, 4));
        }
    }
    out.push('\n');
    let mut say = |words: String| out += &format!("{}\n", wrap(&words, 0));
    let fit = t.told().filter(|(_, b)| b.fits).count();
    say(format!(
        "It fits on {fit} of {}. Room: how far the spot is from the border of the region of all places, so that it may be off by \
         as much on every side; what passes by more than {TOLERANCE} mm is in that region. For the whole answer of one: \
         panelwright fits {} FILE.",
        count(t.asked()),
        t.instrument
    ));
    if t.not_asked() > 0 {
        say(format!("Stopped by Ctrl-C: {} not asked.", count(t.not_asked())));
    }
    for l in &t.left {
        say(format!("Left out: {}: {}.", l.file, l.because));
    }
    if t.others > 0 {
        say(format!("Left out: {} whose names do not end in .json.", files(t.others)));
    }
    if !t.folders.is_empty() {
        say(format!("Folders in it are not entered; name them to ask them too: {}.", t.folders.join(", ")));
    }
    say("Each spot told was asked by all rules. The program advises, it approves nothing: the maintenance manual, the local \
         rules and the licensed person who signs decide."
        .into());
    out
}

fn files(n: usize) -> String {
    if n == 1 { "1 file".into() } else { format!("{n} files") }
}

fn verdict(b: &Brief) -> String {
    b.verdict.word().to_string()
}

fn margin(b: &Brief) -> String {
    match (b.room, b.short) {
        (Some(room), _) => trim(room, 2),
        (None, Some(short)) => format!("short by {}", trim(short, 2)),
        (None, None) => "nowhere".into(),
    }
}

fn at(b: &Brief, turned: bool) -> String {
    let turn = if turned { format!(", turned by {}", trim(b.turn, 3)) } else { String::new() };
    b.at.map_or(String::new(), |p| format!("[{}, {}]{turn}", trim(p.x, 2), trim(p.y, 2)))
}

/// The first of some, and how many more there are.
fn first(all: &[String]) -> String {
    let told = all.iter().take(FEW).cloned().collect::<Vec<_>>().join("; ");
    if all.len() > FEW { format!("{told}; and {} more", all.len() - FEW) } else { told }
}

/// Why it is no pass.
fn because(b: &Brief) -> Vec<String> {
    let mut out = Vec::new();
    if b.at.is_none() {
        let binds: Vec<String> = b.binds.iter().cloned().collect();
        out.push(if binds.is_empty() {
            "nothing that gives way would make room for it".to_string()
        } else {
            format!("there bind: {}", first(&binds))
        });
    }
    for v in [Verdict::Fail, Verdict::Tight, Verdict::Withheld] {
        let of: Vec<String> = b.findings.iter().filter(|(_, f)| *f == v).map(|(id, _)| id.clone()).collect();
        if !of.is_empty() {
            out.push(format!("{}: {}", v.word(), first(&of)));
        }
    }
    if !b.withheld.is_empty() {
        out.push(format!("withheld wherever it stands, for want of: {}", first(&b.withheld)));
    }
    out
}

/// Why it could not be read: the first problem.
fn unread(problems: &Problems) -> Vec<String> {
    let all = problems.sorted();
    let Some(p) = all.first() else { return Vec::new() };
    let place = p.place.as_ref().map_or(String::new(), |w| format!("{}:{}:{}: ", w.file, w.line, w.column));
    let help = p.help.as_ref().map_or(String::new(), |h| format!("; {h}"));
    let more = match all.len() - 1 {
        0 => String::new(),
        n => format!(" (and {n} more: panelwright check tells all)"),
    };
    vec![format!("{place}{}{help}{more}", p.message)]
}

/// For programs: unrounded.
pub fn json(t: &Table) -> Value {
    let told = |(file, b): (&String, &Brief)| {
        let findings: Vec<Value> =
            b.findings.iter().map(|(id, v)| json!({ "id": id, "verdict": v.word() })).collect();
        json!({
            "file": file, "panel": b.panel, "verdict": b.verdict.word(), "fits": b.fits, "turn": b.turn,
            "at": b.at.map(|p| [p.x, p.y]), "room": b.room, "area": b.area, "findings": findings,
            "withheld": b.withheld, "short": b.short, "binds": b.binds,
        })
    };
    let unread = |(file, p): (&String, &Problems)| json!({ "file": file, "problems": p.to_json() });
    let left: Vec<Value> = t.left.iter().map(|l| json!({ "file": l.file, "because": l.because })).collect();
    json!({
        "format": FORMAT, "instrument": t.instrument, "turns": t.turns, "nominal": t.tight,
        "panels": t.told().map(told).collect::<Vec<_>>(),
        "not-asked": t.later().collect::<Vec<_>>(),
        "unread": t.problems().map(unread).collect::<Vec<_>>(),
        "left-out": left, "other-files": t.others, "folders-not-entered": t.folders,
    })
}
