//! What passes: shortfalls that are reported and not judged first, then one table a rule.

use super::{Told, facts, order};
use crate::check::{Finding, Limit, Note, RULES, Rule, Verdict};
use crate::report::document::{Block, Column, Section, Table};
use crate::report::explain::source_words;
use crate::report::sentence::{limit_words, own_limit};

const MEASURED: [Column; 7] = [
    Column::words("Between", 44.0),
    Column::number("Measured", 17.0),
    Column::number("Asked", 19.0),
    Column::number("To spare as drawn", 17.0),
    Column::number("At worst tolerance", 17.0),
    Column::number("x, y on the panel", 18.0),
    Column::words("In the file", 38.0),
];

const PLAIN: [Column; 4] = [
    Column::words("About", 44.0),
    Column::words("Says", 60.0),
    Column::number("x, y on the panel", 18.0),
    Column::words("In the file", 38.0),
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
        let caption = "Shortfalls between things that exist and stay. They count as passes and are no proof that it holds: each is \
                       judged as soon as either is new, moved or enlarged.";
        let mut t = Table::new(caption, &MEASURED);
        t.rows = stays.iter().map(|(k, f)| row(told, *k, f, true, true)).collect();
        s.blocks.push(Block::Table(t));
    }
    for rule in RULES {
        let list: Vec<(usize, &Finding)> = passes.iter().filter(|(_, f)| f.rule == *rule).copied().collect();
        if list.is_empty() {
            continue;
        }
        let numbers = list.iter().any(|(_, f)| f.measured.is_some());
        let caption = caption(told, rule, list.len());
        let mut t = Table::new(caption, if numbers { &MEASURED } else { &PLAIN });
        t.rows = list.iter().map(|(k, f)| row(told, *k, f, numbers, false)).collect();
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

/// One finding; `whole`: with its rule's name.
fn row(told: &Told<'_>, k: usize, f: &Finding, numbers: bool, whole: bool) -> Vec<String> {
    let id = told.ids.get(k).map_or("", String::as_str);
    let short = id.strip_prefix(f.rule.id).and_then(|n| n.strip_prefix('/')).unwrap_or(id);
    let name = if whole { id } else { short }.to_string();
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
    let at = facts::bare_point(told, f.at[0]);
    let file = facts::in_file(told, f, true);
    if !numbers {
        return vec![name, if says.is_empty() { "it is so".into() } else { says }, at, file];
    }
    let [measured, asked] = facts::numbers(told, f);
    let margin = |m: Option<f64>| m.map_or("-".to_string(), |m| facts::amount(told, f, m));
    vec![
        if says.is_empty() { name } else { format!("{name} ({says})") },
        measured,
        asked,
        margin(f.margin()),
        margin(f.worst_margin()),
        at,
        file,
    ]
}
