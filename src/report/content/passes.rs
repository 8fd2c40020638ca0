//! What passes: shortfalls that are reported and not judged first, then one table a rule.

use super::{Told, facts, findings, order};
use crate::check::{Finding, Limit, Note, RULES, Rule, Verdict};
use crate::report::document::{Block, Column, Section, Table};
use crate::report::explain::source_words;
use crate::report::sentence::{limit_words, own_limit, point};

const MEASURED: [Column; 7] = [
    Column::words("Between", 33.0),
    Column::number("Measured", 17.0),
    Column::number("Asked", 17.0),
    Column::number("Margin as drawn", 18.0),
    Column::number("At worst tolerance", 18.0),
    Column::number("On the panel", 20.0),
    Column::words("In the file", 27.0),
];

const PLAIN: [Column; 4] = [
    Column::words("About", 40.0),
    Column::words("Says", 50.0),
    Column::number("On the panel", 24.0),
    Column::words("In the file", 36.0),
];

/// The section of all passes.
pub(super) fn section(told: &Told<'_>) -> Section {
    let stays = order::of(told, Verdict::Pass, false);
    let passes = order::of(told, Verdict::Pass, true);
    let mut s = Section::new("pass", format!("Pass: {}", stays.len() + passes.len()));
    s.folds = true;
    s.words(
        "Holds at the worst tolerance. A finding's full name is the rule, a stroke, and its first column.",
    );
    if !stays.is_empty() {
        s.blocks.push(Block::Head(format!("Reported, not judged: {}", stays.len())));
        s.words("Shortfalls between openings that exist and stay count as passes and are no proof that they hold.");
        s.blocks.extend(stays.into_iter().map(|(k, f)| Block::Entry(findings::entry(told, k, f))));
    }
    for rule in RULES {
        let list: Vec<(usize, &Finding)> = passes.iter().filter(|(_, f)| f.rule == *rule).copied().collect();
        if list.is_empty() {
            continue;
        }
        let numbers = list.iter().any(|(_, f)| f.measured.is_some());
        let caption = caption(told, rule, list.len());
        let mut t = Table::new(caption, if numbers { &MEASURED } else { &PLAIN });
        t.rows = list.iter().map(|(k, f)| row(told, *k, f, numbers)).collect();
        s.blocks.push(Block::Head(rule.id.to_string()));
        s.blocks.push(Block::Table(t));
    }
    s
}

fn caption(told: &Told<'_>, rule: &Rule, count: usize) -> String {
    let many = if count == 1 { "1 pass".to_string() } else { format!("{count} passes") };
    let limit = match (told.panel.limits.get(rule.id), rule.limit) {
        (Some(u), _) => format!(
            " The panel's own limit: {}, because {}; by default {}.",
            own_limit(told.panel, rule.limit, u),
            u.because,
            limit_words(rule.limit)
        ),
        (None, Limit::Plain) => String::new(),
        (None, limit) => format!(" Limit: {}.", limit_words(limit)),
    };
    format!("{many}. {}{limit} Source: {}.", rule.asks, source_words(rule))
}

fn row(told: &Told<'_>, k: usize, f: &Finding, numbers: bool) -> Vec<String> {
    let id = told.ids.get(k).map_or("", String::as_str);
    let name = id.strip_prefix(f.rule.id).and_then(|n| n.strip_prefix('/')).unwrap_or(id).to_string();
    let says = match &f.note {
        Note::Says(words) => words.clone(),
        Note::None | Note::Contact | Note::BothStay | Note::Waits(_) => String::new(),
    };
    let accepted: Vec<String> = told
        .panel
        .accepted
        .iter()
        .filter(|a| a.finding == *id)
        .map(|a| format!("accepted by {}: {}", a.by, a.because))
        .collect();
    let says = [says].into_iter().chain(accepted).filter(|w| !w.is_empty()).collect::<Vec<_>>().join("; ");
    let at = point(f.at[0].x, f.at[0].y, told.panel.unit);
    let file = facts::in_file(told, f);
    if !numbers {
        return vec![name, if says.is_empty() { "it is so".into() } else { says }, at, file];
    }
    let margin = |m: Option<f64>| m.map_or("-".to_string(), |m| facts::to_spare(told, f, m));
    let dash = |s: String| if s.is_empty() { "-".to_string() } else { s };
    vec![
        if says.is_empty() { name } else { format!("{name} ({says})") },
        dash(facts::measured(told, f)),
        dash(facts::asked(told, f)),
        margin(f.margin()),
        margin(f.worst_margin()),
        at,
        file,
    ]
}
