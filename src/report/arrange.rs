//! An arrangement told to people and to programs.

use crate::check::{Finding, Findings, Verdict};
use crate::panel::Panel;
use crate::place::arrange::{Conflict, Cost, What, unmet};
use crate::report::FORMAT;
use crate::report::sentence::{measured_words, point, trim, wrap};
use serde_json::{Value, json};

/// How it was looked for.
#[derive(Clone, Debug)]
pub struct Run {
    /// Seed.
    pub seed: u64,
    /// Moves that might be made.
    pub most: u64,
    /// Moves that were made.
    pub made: u64,
    /// Stopped by the clock or by hand before that.
    pub stopped: bool,
}

/// One arrangement, written to a file and read again.
pub struct One {
    /// Its file.
    pub file: String,
    /// The panel as its file says it.
    pub panel: Panel,
    /// What the rules say of it.
    pub findings: Findings,
    /// Ids of what might move.
    pub free: Vec<String>,
    /// What it costs, term by term.
    pub costs: Vec<Cost>,
}

/// What is said in the end of every answer.
const ADVICE: &str = "The program advises, it approves nothing: the maintenance manual, the local rules and the licensed person who \
                      signs decide.";

fn line(panel: &Panel, f: &Finding) -> String {
    let measured = measured_words(panel, f);
    let measured = if measured.is_empty() { measured } else { format!(": {measured}") };
    format!("{} {}{measured}", f.verdict.word(), f.id(panel))
}

fn of<'a>(one: &'a One, wanted: &'a [Verdict]) -> impl Iterator<Item = &'a Finding> {
    one.findings.list.iter().filter(|f| wanted.contains(&f.verdict))
}

/// How often it comes out alike.
fn repeats(run: &Run) -> String {
    let of = format!("seed {}, {} of at most {} moves", run.seed, run.made, run.most);
    if run.stopped {
        format!("{of}; stopped by the clock or by hand: another run may come out otherwise")
    } else {
        format!("{of}; the same seed gives the same arrangement")
    }
}

/// For people.
pub fn text(before: &Panel, run: &Run, asked: usize, all: &[One]) -> String {
    let mut out = String::new();
    if asked > 1 {
        let words = format!(
            "{} of {asked} arrangements that were asked for were found to differ; the cheapest comes first.",
            all.len()
        );
        out += &format!("{}\n\n", wrap(&words, 0));
    }
    for one in all {
        out += &format!("{}, arranged ({})\n\n", before.name, repeats(run));
        let wide = one.free.iter().map(|id| id.chars().count()).max().unwrap_or(0);
        for id in &one.free {
            let at = |p: &Panel| p.find(id).and_then(|k| p.subjects.get(k)).map(|s| s.at);
            let (Some(was), Some(now)) = (at(before), at(&one.panel)) else { continue };
            let stays = if (now - was).hypot2() < 1e-12 {
                "stays".into()
            } else {
                format!("was {}", point(was.x, was.y, before.unit))
            };
            out += &format!("  {id:wide$}  {}  {stays}\n", point(now.x, now.y, before.unit));
        }
        out.push('\n');
        let all: Vec<&Finding> = of(one, &[Verdict::Fail, Verdict::Tight]).collect();
        let alone = |f: &&Finding| f.b.is_some_and(|b| b.subject == f.a.subject);
        let (alone, objections): (Vec<&Finding>, Vec<&Finding>) = all.iter().copied().partition(alone);
        if all.is_empty() {
            out += "Nothing fails and nothing is tight: asked by every rule as the file is read again.\n";
        }
        let mut list = |head: &str, findings: &[&Finding]| {
            if !findings.is_empty() {
                out += &format!("{head}:\n");
            }
            for f in findings {
                out += &format!("  {}\n", line(&one.panel, f));
            }
        };
        list("No place was found that settles these", &objections);
        list("No place settles these, each is about one item by itself", &alone);
        let (count, lacks) = unmet(&one.panel);
        if count > 0 && lacks.is_empty() {
            out += &format!(
                "What the file asks of the arrangement holds, measured again: {count} of {count}.\n"
            );
        }
        for u in &lacks {
            out += &format!("Not as the file asks, both may have to stay: {} ({})\n", u.asks, u.source);
        }
        let waits: Vec<&Finding> = of(one, &[Verdict::Withheld]).collect();
        if !waits.is_empty() {
            out += &format!("Withheld, because a number is missing: {}\n", waits.len());
            for f in waits {
                out += &format!("  {}\n", f.id(&one.panel));
            }
        }
        out.push('\n');
        costs(&one.costs, &mut out);
        out += &format!("Written: {}\n\n", one.file);
    }
    out += &wrap(ADVICE, 0);
    out.push('\n');
    out
}

/// What it costs, term by term, and what no term could be asked for.
fn costs(costs: &[Cost], out: &mut String) {
    let all: f64 = costs.iter().map(Cost::cost).sum();
    *out +=
        &format!("Cost {} (the less the better; soft wishes, each a mean times its weight):\n", trim(all, 2));
    for c in costs.iter().filter(|c| c.weight > 0.0) {
        let Some(measured) = c.measured else { continue };
        let sum = format!("{} {} x {}", trim(measured, 2), c.term.unit, trim(c.weight, 3));
        *out += &format!("  {:14}  {:>8} = {sum:<16}  {}\n", c.term.id, trim(c.cost(), 2), c.term.asks);
        *out += &format!("  {:14}  {:8}   {:16}  source: {}\n", "", "", "", c.term.source);
    }
    for c in costs.iter().filter(|c| c.measured.is_none() && c.weight > 0.0) {
        *out += &format!("  {:14}  not asked: wants {}\n", c.term.id, c.term.needs);
    }
    for c in costs.iter().filter(|c| c.weight <= 0.0) {
        *out += &format!("  {:14}  left out: its weight is 0\n", c.term.id);
    }
}

/// Where none was found, for people.
pub fn none_text(panel: &Panel, run: &Run, c: &Conflict) -> String {
    let mut out = format!("{}: no arrangement found ({})\n\n", panel.name, repeats(run));
    let words = match &c.why {
        Some(_) if c.alone => {
            format!("One item has no room on its sheet whatever else stands there: {}.", why(panel, c))
        }
        Some(_) => format!(
            "The tightest conflict is {}: short by {} mm where all is nearest to fitting; {} stand in each other's way there.",
            why(panel, c),
            trim(c.by, 2),
            if c.overlapping == 1 { "one pair".into() } else { format!("{} pairs", c.overlapping) },
        ),
        None => "One item has no room on its sheet whatever else stands there.".into(),
    };
    let advice = "That none was found does not prove that there is none: give it more moves (--moves) or another --seed, let more items \
                  move, or take something out.";
    out += &format!("{}\n{}\n\n{}\n", wrap(&words, 0), wrap(advice, 0), wrap(ADVICE, 0));
    out
}

fn why(panel: &Panel, c: &Conflict) -> String {
    let Some(w) = &c.why else { return String::new() };
    let parts = format!("{} and {}", panel.part_name(w.own), panel.part_name(w.other));
    match w.what {
        What::Rule(rule) => format!("{parts} (rule {})", rule.id),
        What::Apart(_) => format!("{parts} (they are to keep apart)"),
        What::Order(_) => format!("{parts} (they are to stand in order)"),
        What::Zone(_) => format!("{} (it is to stay in a zone)", panel.part_name(w.own)),
        What::Sight => format!("{parts} (one would hide the other)"),
        What::Reach => format!("{} (it is to stay within reach)", panel.part_name(w.own)),
    }
}

/// For programs.
pub fn json(before: &Panel, run: &Run, all: &[One]) -> Value {
    let one = |o: &One| {
        let places: Vec<Value> = o
            .free
            .iter()
            .filter_map(|id| {
                let at = |p: &Panel| p.find(id).and_then(|k| p.subjects.get(k)).map(|s| [s.at.x, s.at.y]);
                Some(json!({ "id": id, "at": at(&o.panel)?, "was": at(before)? }))
            })
            .collect();
        let said = |v: Verdict| -> Vec<String> { of(o, &[v]).map(|f| f.id(&o.panel)).collect() };
        let cost = |c: &Cost| {
            json!({
                "term": c.term.id, "asks": c.term.asks, "source": c.term.source, "weight": c.weight,
                "unit": c.term.unit, "measured": c.measured, "cost": c.cost(),
            })
        };
        let (asked, lacks) = unmet(&o.panel);
        let lacks: Vec<Value> = lacks.iter().map(|u| json!({ "asks": u.asks, "source": u.source })).collect();
        let total: f64 = o.costs.iter().map(Cost::cost).sum();
        json!({
            "file": o.file, "places": places, "wishes-asked": asked, "wishes-unmet": lacks, "cost": total, "terms": o.costs.iter().map(cost).collect::<Vec<_>>(),
            "fail": said(Verdict::Fail), "tight": said(Verdict::Tight), "withheld": said(Verdict::Withheld),
        })
    };
    json!({
        "format": FORMAT, "panel": before.name, "found": true, "run": run_json(run),
        "arrangements": all.iter().map(one).collect::<Vec<_>>(),
    })
}

/// Where none was found, for programs.
pub fn none_json(panel: &Panel, run: &Run, c: &Conflict) -> Value {
    let conflict = c.why.as_ref().map(|w| {
        let rule = if let What::Rule(r) = w.what { Some(r.id) } else { None };
        json!({ "a": panel.part_name(w.own), "b": panel.part_name(w.other), "rule": rule, "short-by": c.by, "alone": c.alone })
    });
    json!({
        "format": FORMAT, "panel": panel.name, "found": false, "run": run_json(run), "tightest-conflict": conflict,
        "overlapping-pairs": c.overlapping,
    })
}

fn run_json(run: &Run) -> Value {
    json!({ "seed": run.seed, "moves": run.made, "most-moves": run.most, "repeatable": !run.stopped })
}
