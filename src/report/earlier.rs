//! Whether an earlier report or sheet still tells the truth: the content hash of the inputs that it
//! carries against the one of now. No clock is asked.

use crate::check::Findings;
use crate::panel::Panel;
use crate::report::json;
use serde_json::Value;
use std::collections::BTreeMap;

/// Digits of the hash that sheets print.
const SHORT: usize = 12;

/// Numbers of two results that differ by less are the same, in the rule's unit: what is lost when they
/// are written down and read again.
const SAME: f64 = 1e-6;

/// What a file written earlier says of its own making.
#[derive(Clone, Debug, PartialEq)]
pub struct Earlier {
    /// Revision, where it names one.
    pub revision: Option<String>,
    /// Content hash of its inputs: all digits in a report, the first twelve on a sheet.
    pub inputs: String,
    /// Its results by id, where it is a report.
    results: Option<BTreeMap<String, Value>>,
}

impl Earlier {
    /// Reads a fit report (JSON) or any sheet whose words can be read as text (SVG, DXF).
    ///
    /// # Errors
    /// In words: nothing in the file says which inputs it was made from.
    pub fn read(text: &str) -> Result<Earlier, String> {
        if let Ok(report) = serde_json::from_str::<Value>(text) {
            let words = |key: &str| report.get(key).and_then(Value::as_str).map(str::to_owned);
            let inputs = words("inputs-sha256").filter(|h| is_hash(h)).ok_or_else(none)?;
            let list = report.get("findings").and_then(Value::as_array).cloned().unwrap_or_default();
            let id = |f: &Value| f.get("id").and_then(Value::as_str).map(str::to_owned);
            let results = list.into_iter().filter_map(|f| Some((id(&f)?, f))).collect();
            return Ok(Earlier { revision: words("revision"), inputs, results: Some(results) });
        }
        // "revision C; inputs 0123456789ab; verdicts: ..." in one line, or each with a colon in its own
        let behind = |mark: &'static str| {
            text.match_indices(mark).filter_map(move |(at, _)| {
                let rest = text.get(at + mark.len()..)?;
                rest.strip_prefix(':').unwrap_or(rest).strip_prefix(' ')
            })
        };
        let digits = |rest: &str| rest.chars().take_while(char::is_ascii_hexdigit).collect::<String>();
        let inputs = behind("inputs").map(digits).find(|h| is_hash(h)).ok_or_else(none)?;
        let revision = behind("revision").map(|rest| rest.split([';', '<', '\n', '\r']).next().unwrap_or(""));
        let revision = revision.map(str::to_owned).next().filter(|r| r != "not given");
        Ok(Earlier { revision, inputs, results: None })
    }

    /// Whether it was made from the same inputs.
    pub fn holds(&self, panel: &Panel) -> bool {
        let n = self.inputs.len().min(panel.hash.len());
        n >= SHORT && self.inputs.get(..n) == panel.hash.get(..n)
    }

    /// What is out of date, in words; `None` when it still holds.
    pub fn stale(&self, panel: &Panel, findings: &Findings) -> Option<String> {
        if self.holds(panel) {
            return None;
        }
        let now = panel.title.get("revision").filter(|r| !r.is_empty());
        let said = |r: Option<&str>| r.map_or("no revision".to_owned(), |r| format!("revision {r}"));
        let old = self.revision.as_deref();
        let short = |h: &str| h.get(..SHORT).unwrap_or(h).to_owned();
        let inputs = format!("inputs {}, now {}", short(&self.inputs), short(&panel.hash));
        let Some(results) = &self.results else {
            return Some(match (old, now) {
                (Some(a), Some(b)) if a != b => {
                    format!("Out of date: file cut from revision {a}, drawing now {b} ({inputs}).")
                }
                _ => format!(
                    "Out of date: file cut from other numbers under {} ({inputs}). Give the drawing a new revision.",
                    said(now)
                ),
            });
        };
        let changed = changed(results, panel, findings);
        let of = if old == now { said(now) } else { format!("{}, now {}", said(old), said(now)) };
        Some(match changed {
            0 => format!("Out of date: the inputs changed, no result did ({of}; {inputs})."),
            1 => format!("Out of date: 1 result needs recomputing ({of}; {inputs})."),
            n => format!("Out of date: {n} results need recomputing ({of}; {inputs})."),
        })
    }
}

fn none() -> String {
    "nothing in it says which inputs it was made from: name a fit report (JSON), an SVG or a DXF that this program wrote"
        .to_owned()
}

fn is_hash(text: &str) -> bool {
    text.len() >= SHORT && text.bytes().all(|b| b.is_ascii_hexdigit())
}

/// How many results are new, gone or otherwise now.
fn changed(old: &BTreeMap<String, Value>, panel: &Panel, findings: &Findings) -> usize {
    let report = json(panel, findings);
    let list = report.get("findings").and_then(Value::as_array);
    let mut seen = 0;
    let mut changed = 0;
    for f in list.into_iter().flatten() {
        let Some(before) = f.get("id").and_then(Value::as_str).and_then(|id| old.get(id)) else {
            changed += 1;
            continue;
        };
        seen += 1;
        let keys = ["verdict", "measured", "asked", "tolerance-loss", "waits-for"];
        changed += usize::from(keys.iter().any(|k| !same(before.get(*k), f.get(*k))));
    }
    changed + old.len().saturating_sub(seen)
}

fn same(a: Option<&Value>, b: Option<&Value>) -> bool {
    match (a, b) {
        (Some(Value::Number(a)), Some(Value::Number(b))) => {
            a.as_f64().zip(b.as_f64()).is_some_and(|(a, b)| (a - b).abs() <= SAME)
        }
        (Some(Value::Object(a)), Some(Value::Object(b))) => {
            a.len() == b.len() && a.iter().all(|(k, v)| same(Some(v), b.get(k)))
        }
        _ => a == b,
    }
}
