//! The text report: question first, findings worst first, then what waits, what is not checked, cautions.

use crate::check::{Counts, Doubtful, Finding, Findings, Note, Verdict};
use crate::panel::{Panel, Structure};
use crate::report::cure;
use crate::report::explain::source_words;
use crate::report::sentence::{limit_words, measured_words, own_limit, point, value, wrap};
use crate::report::{CAUTIONS, NOT_CHECKED};
use anstyle::{Effects, Style};
use std::fmt::Write;

/// What the text report shows.
#[derive(Clone, Copy, Debug, Default)]
pub struct TextOptions {
    /// List every pass with its numbers too.
    pub passes: bool,
}

const BOLD: Style = Style::new().effects(Effects::BOLD);

/// The whole report. Styles are ANSI codes; a printer that is no terminal strips them.
pub fn text(panel: &Panel, findings: &Findings, options: &TextOptions) -> String {
    let mut s = String::new();
    let c = findings.counts();
    head(&mut s, panel, &c);
    let cures = cure::all(panel, findings);
    let mut order: Vec<(usize, &Finding)> = findings.list.iter().enumerate().collect();
    // worst first; within a verdict the smallest margin first, then the list's own order
    order.sort_by(|(_, a), (_, b)| {
        let m = |f: &Finding| f.worst_margin().unwrap_or(f64::NEG_INFINITY);
        a.verdict.cmp(&b.verdict).then(m(a).total_cmp(&m(b))).then_with(|| a.key().cmp(&b.key()))
    });
    let doubtful = Doubtful::of(panel, findings);
    let mut resting = Vec::new();
    for (k, f) in &order {
        if !options.passes && doubtful.under(f) {
            resting.push(f.id(panel));
            continue;
        }
        if f.verdict != Verdict::Pass || options.passes || f.note == Note::BothStay {
            finding(&mut s, panel, f, cures.get(k).and_then(|c| cure::words(panel, c)));
        }
    }
    if !resting.is_empty() {
        let text = format!(
            "{} more verdicts rest on numbers that look mistyped: mend those first, then these are told in full (--passes \
             does so now): {}",
            resting.len(),
            resting.join(", ")
        );
        let _ = writeln!(s, "{}\n", wrap(&text, 0));
    }
    if !options.passes && c.pass > c.stays {
        let _ = writeln!(
            s,
            "{} pass; --passes lists them, --format json gives every number.\n",
            c.pass - c.stays
        );
    }
    let order: Vec<&Finding> = order.into_iter().map(|(_, f)| f).collect();
    tail(&mut s, panel, &order);
    s
}

fn head(s: &mut String, panel: &Panel, c: &Counts) {
    let revision = panel
        .title
        .get("revision")
        .filter(|r| !r.is_empty())
        .map(|r| format!(", revision {r}"))
        .unwrap_or_default();
    let _ = writeln!(
        s,
        "{BOLD}{}{BOLD:#}{revision}   inputs {}",
        panel.name,
        &panel.hash.get(..12).unwrap_or(&panel.hash)
    );
    let (answer, by) = match panel.sheets.first().map(|m| &m.structure) {
        Some((Structure::Yes, by)) => ("yes", by.as_deref()),
        Some((Structure::No, by)) => ("no", by.as_deref()),
        _ => ("not answered", None),
    };
    let by = by.map(|b| format!(" ({b})")).unwrap_or_default();
    let approve = panel.title.get("approved-by").filter(|a| !a.is_empty()).unwrap_or("not answered");
    let _ = writeln!(
        s,
        "{}",
        wrap(
            &format!("First: is this panel structure? {answer}{by}. Who approves the change? {approve}."),
            0
        )
    );
    if answer != "no" {
        let _ = writeln!(s, "{}", wrap("Ask the person who signs before any metal is cut.", 0));
    }
    let _ = writeln!(
        s,
        "\n{BOLD}fail {}   tight {}   withheld {}   pass {}{BOLD:#}",
        c.fail, c.tight, c.withheld, c.pass
    );
    if let Some(words) = c.stays_words() {
        let _ = writeln!(s, "among the passes {words}");
    }
    s.push('\n');
}

fn finding(s: &mut String, panel: &Panel, f: &Finding, cure: Option<String>) {
    let id = f.id(panel);
    let _ = writeln!(s, "{BOLD}{}{BOLD:#}  {id}", f.verdict.word());
    let numbers = measured_words(panel, f);
    if !numbers.is_empty() {
        let _ = writeln!(s, "{}", wrap(&numbers, 6));
    }
    match &f.note {
        Note::None => {}
        Note::Contact => {
            let deep = f.measured.map(|m| -m.lower).filter(|deep| *deep > 0.0);
            let words = match deep.map(|deep| value(f.rule.limit, deep, panel.unit)) {
                Some(deep) => {
                    format!("they overlap, or one sticks out, by {deep}: this fails whatever the limit")
                }
                None => "they touch or overlap: this fails whatever the limit".to_string(),
            };
            let _ = writeln!(s, "{}", wrap(&words, 6));
        }
        Note::BothStay => {
            let _ = writeln!(
                s,
                "{}",
                wrap(
                    "both exist and stay: reported, not judged; judged as soon as either is new, moved or enlarged",
                    6
                )
            );
        }
        Note::Waits(what) => {
            let _ = writeln!(s, "{}", wrap(&format!("waits for: {what}"), 6));
        }
        Note::Says(what) => {
            let _ = writeln!(s, "{}", wrap(what, 6));
        }
    }
    if f.verdict != Verdict::Pass {
        let source = match f.asks(panel).own {
            Some(u) => format!(
                "limit: yours, {}, because {}; by default {}: {}",
                own_limit(panel, f.rule.limit, u),
                u.because,
                limit_words(f.rule.limit),
                source_words(f.rule)
            ),
            None => format!("by: {}", source_words(f.rule)),
        };
        let _ = writeln!(s, "{}", wrap(&source, 6));
    }
    let (a, at) = (panel.part(f.a), f.at[0]);
    let mut place = format!("at {}:{}:{}", a.place.file, a.place.line, a.place.column);
    if let Some(b) = f.b {
        let b = panel.part(b);
        if b.place.file != a.place.file {
            let _ = write!(place, " and {}:{}:{}", b.place.file, b.place.line, b.place.column);
        } else if b.place != a.place {
            let _ = write!(place, " and {}:{}", b.place.line, b.place.column);
        }
    }
    let _ = writeln!(s, "{}", wrap(&format!("{place}; on the panel {}", point(at.x, at.y, panel.unit)), 6));
    if let Some(words) = cure {
        let _ = writeln!(s, "{}", wrap(&words, 6));
    }
    for acc in panel.accepted.iter().filter(|x| x.finding == id) {
        let _ = writeln!(
            s,
            "{}",
            wrap(&format!("accepted by {}: {} (the verdict stays)", acc.by, acc.because), 6)
        );
    }
    s.push('\n');
}

fn tail(s: &mut String, panel: &Panel, order: &[&Finding]) {
    let ids: Vec<String> = order.iter().map(|f| f.id(panel)).collect();
    for acc in panel.accepted.iter().filter(|a| !ids.contains(&a.finding)) {
        let text = format!(
            "stale: \"{}\" is accepted at {}:{} but there is no such finding now; take it out or correct its name.",
            acc.finding, acc.place.file, acc.place.line
        );
        let _ = writeln!(s, "{}\n", wrap(&text, 0));
    }
    let mut waits: Vec<String> = Vec::new();
    for f in order.iter().filter(|f| f.verdict == Verdict::Withheld) {
        if let Note::Waits(what) = &f.note {
            waits.push(format!("{}: {what}", f.id(panel)));
        }
    }
    if !waits.is_empty() {
        let _ = writeln!(s, "{BOLD}Withheld, and what each waits for{BOLD:#}");
        list(s, waits.iter().map(String::as_str));
    }
    let own: Vec<&str> = {
        let mut v: Vec<&str> = order
            .iter()
            .filter(|f| {
                matches!(
                    f.rule.source.standing,
                    crate::check::Standing::Practice | crate::check::Standing::Memory
                )
            })
            .filter(|f| f.asked.is_some() && f.asks(panel).own.is_none())
            .map(|f| f.rule.id)
            .collect();
        v.sort_unstable();
        v.dedup();
        v
    };
    if !own.is_empty() {
        let _ = writeln!(s, "{BOLD}Limits that rest on practice or memory alone: set your own{BOLD:#}");
        let _ = writeln!(s, "{}\n", wrap(&own.join(", "), 2));
    }
    if !panel.remarks.is_empty() {
        let _ = writeln!(s, "{BOLD}Remarks{BOLD:#}");
        list(s, panel.remarks.iter().map(String::as_str));
    }
    let _ = writeln!(s, "{BOLD}Not checked by this version{BOLD:#}");
    list(s, NOT_CHECKED.iter().copied());
    let _ = writeln!(s, "{BOLD}Cautions{BOLD:#}");
    list(s, CAUTIONS.iter().copied());
    s.truncate(s.trim_end().len());
    s.push('\n');
}

fn list<'a>(s: &mut String, lines: impl Iterator<Item = &'a str>) {
    for l in lines {
        let _ = writeln!(s, "{}", wrap(&format!("- {l}"), 2));
    }
    s.push('\n');
}
