//! Everything that is known of one finding, as names and values.

use super::Told;
use crate::check::{Finding, Limit, Note};
use crate::diag::Where;
use crate::geom::Point;
use crate::report::cure;
use crate::report::explain::source_words;
use crate::report::sentence::{apart, limit_words, own_limit, point, rule_unit, trim, value};

/// The value of one name.
type Fact = (String, String);

/// All facts of the finding at this place of the list.
pub(super) fn of(told: &Told<'_>, k: usize, f: &Finding) -> Vec<Fact> {
    let mut facts: Vec<Fact> = Vec::new();
    let mut add = |name: &str, words: String| {
        if !words.is_empty() {
            facts.push((name.to_string(), words));
        }
    };
    match &f.note {
        Note::None => {}
        Note::Contact => add("Contact", "they touch or overlap: this fails whatever the limit".into()),
        Note::BothStay => add(
            "Not judged",
            "both exist and stay: reported; judged as soon as either is new, moved or enlarged".into(),
        ),
        Note::Waits(what) => add("Waits for", what.clone()),
        Note::Says(what) => add("Says", what.clone()),
    }
    add("Measured", measured(told, f));
    add("Asked", asked(told, f));
    add("Margin", margin(told, f));
    add("Limit by", source(told, f));
    add("On the panel", on_panel(told, f));
    add("In the file", in_file(told, f, false));
    if let Some(words) = told.cures.get(&k).and_then(|c| cure::words(told.panel, c)) {
        let words = words.strip_prefix("Cure: ").unwrap_or(&words);
        add("Cure", words.into());
    }
    if let Some(id) = told.ids.get(k) {
        for a in told.panel.accepted.iter().filter(|a| a.finding == *id) {
            add("Accepted", format!("by {}: {} (the verdict stays)", a.by, a.because));
        }
    }
    facts
}

/// What was measured at nominal size; the bounds where it is known within bounds alone.
fn measured(told: &Told<'_>, f: &Finding) -> String {
    let (limit, unit) = (f.rule.limit, told.panel.unit);
    let Some(m) = f.measured else { return String::new() };
    let end = if limit.at_most() { m.upper } else { m.lower };
    let mut words = match f.asked {
        Some(asked) => apart(limit, end, asked, unit)[0].clone(),
        None => value(limit, end, unit),
    };
    let [low, high] = apart(limit, m.lower, m.upper, unit);
    // wider than any arithmetic: the bounds of a search
    if m.upper - m.lower > 1e-3 && low != high {
        words.push_str(&format!(" (certain between {low} and {high})"));
    }
    words
}

/// What is asked.
fn asked(told: &Told<'_>, f: &Finding) -> String {
    let Some(asked) = f.asked else { return String::new() };
    let limit = f.rule.limit;
    let word = if limit.at_most() { "at most" } else { "at least" };
    let shown = match f.measured {
        Some(m) => {
            apart(limit, if limit.at_most() { m.upper } else { m.lower }, asked, told.panel.unit)[1].clone()
        }
        None => value(limit, asked, told.panel.unit),
    };
    format!("{word} {shown}")
}

/// Measured and asked for a table: in the panel's unit alone, with as many decimals as tell them apart.
pub(super) fn numbers(told: &Told<'_>, f: &Finding) -> [String; 2] {
    let limit = f.rule.limit;
    let sign = if limit.at_most() { '\u{2264}' } else { '\u{2265}' };
    let dash = || "-".to_string();
    let end = f.measured.map(|m| if limit.at_most() { m.upper } else { m.lower });
    match (end, f.asked) {
        (Some(m), Some(a)) => {
            let [m, a] = bare(told, limit, [m, a]);
            [m, format!("{sign} {a}")]
        }
        (Some(m), None) => [bare(told, limit, [m, m])[0].clone(), dash()],
        (None, Some(a)) => [dash(), format!("{sign} {}", bare(told, limit, [a, a])[0])],
        (None, None) => [dash(), dash()],
    }
}

/// A margin for a table; what is a hair more than nothing never reads as nothing.
pub(super) fn amount(told: &Told<'_>, f: &Finding, margin: f64) -> String {
    bare(told, f.rule.limit, [margin, 0.0])[0].clone()
}

/// Two values of a rule in the panel's unit, with as many decimals as tell them apart, at most six.
fn bare(told: &Told<'_>, limit: Limit, values: [f64; 2]) -> [String; 2] {
    let quantity = rule_unit(limit);
    let inch = quantity == "mm" && told.panel.unit.is_inch();
    let (scale, word) = if inch { (25.4, "in") } else { (1.0, quantity) };
    let say =
        |digits: usize| values.map(|v| format!("{} {word}", trim(v / scale, digits)).trim_end().to_string());
    let least = if inch { 3 } else { 2 };
    let differ = |digits: &usize| {
        let [a, b] = say(*digits);
        a != b
    };
    say((least..=6).find(differ).unwrap_or(least))
}

/// A point as two numbers in the panel's unit.
pub(super) fn bare_point(told: &Told<'_>, p: Point) -> String {
    if told.panel.unit.is_inch() {
        format!("{}, {}", trim(p.x / 25.4, 2), trim(p.y / 25.4, 2))
    } else {
        format!("{}, {}", trim(p.x, 1), trim(p.y, 1))
    }
}

/// "1.2 mm to spare", "short by 0.3 mm".
fn to_spare(told: &Told<'_>, f: &Finding, margin: f64) -> String {
    let [amount, _] = apart(f.rule.limit, margin.abs(), 0.0, told.panel.unit);
    match (margin < 0.0, &f.note) {
        (true, _) => format!("short by {amount}"),
        // what touches has nothing to spare, even where 0 is asked
        (false, Note::Contact) => "none".into(),
        (false, _) => format!("{amount} to spare"),
    }
}

/// Margin as drawn and at the worst stack of tolerances.
fn margin(told: &Told<'_>, f: &Finding) -> String {
    let Some(nominal) = f.margin() else { return String::new() };
    let mut words = format!("{} as drawn", to_spare(told, f, nominal));
    if f.loss > 0.0 {
        words.push_str(&format!(
            "; the worst tolerances take {}: {} then",
            value(f.rule.limit, f.loss, told.panel.unit),
            to_spare(told, f, nominal - f.loss)
        ));
    }
    words
}

/// Whose limit it is and what standing it has.
fn source(told: &Told<'_>, f: &Finding) -> String {
    match f.asks(told.panel).own {
        Some(u) => format!(
            "the panel's own, {}, because {}; by default {}: {}",
            own_limit(told.panel, f.rule.limit, u),
            u.because,
            limit_words(f.rule.limit),
            source_words(f.rule)
        ),
        None => source_words(f.rule),
    }
}

/// The witness points.
fn on_panel(told: &Told<'_>, f: &Finding) -> String {
    let one = |k: usize| point(f.at[k].x, f.at[k].y, told.panel.unit);
    let (a, b) = (one(0), one(1));
    if a == b { a } else { format!("{a} to {b}") }
}

/// Where its subjects stand in their files; `short`: without the folders of a file, where that names one file alone.
pub(super) fn in_file(told: &Told<'_>, f: &Finding, short: bool) -> String {
    let name = |p: &Where| if short { told.short(&p.file).to_string() } else { p.file.to_string() };
    let a = &told.panel.part(f.a).place;
    let mut words = format!("{}:{}:{}", name(a), a.line, a.column);
    if let Some(b) = f.b.map(|b| &told.panel.part(b).place) {
        if b.file != a.file {
            words.push_str(&format!(" and {}:{}:{}", name(b), b.line, b.column));
        } else if b != a {
            words.push_str(&format!(" and {}:{}", b.line, b.column));
        }
    }
    words
}
