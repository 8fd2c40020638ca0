//! Tools: how well they read, and what their zero does to a reading.

use crate::define::Text;
use crate::define::survey::{Survey, ToolKind};
use crate::diag::{Problem, Problems, Written, did_you_mean};

/// What one tool does to its readings.
pub(super) struct Handling {
    /// Standard deviation of one reading, mm.
    pub sigma: f64,
    /// What is taken off every reading, mm.
    pub off: f64,
    /// Whether its zero error is sought.
    pub zero: bool,
}

/// Adds a sentence once.
pub(super) fn note(to: &mut Vec<String>, words: &str) {
    if !to.iter().any(|w| w == words) {
        to.push(words.to_string());
    }
}

/// The deviation and zero of a tool.
pub(super) fn handling(
    survey: &Survey,
    name: &str,
    at: &Option<Written<Text>>,
    assumed: &mut Vec<String>,
    problems: &mut Problems,
) -> Option<Handling> {
    use ToolKind as K;
    let tool = survey.tools.iter().find(|t| t.name.as_ref() == name);
    let kind = match (tool, name) {
        (Some(tool), _) => tool.kind.value,
        (None, "tape") => K::Tape,
        (None, "rule") => K::Rule,
        (None, "calipers") => K::Calipers,
        (None, "rod") => K::Rod,
        (None, "gauge") => K::Gauge,
        (None, _) => {
            let own = survey.tools.iter().map(|t| t.name.as_ref());
            let help = match did_you_mean(name, own.chain(["tape", "rule", "calipers", "rod", "gauge"])) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "describe it in `tools`, or say tape, rule, calipers, rod or gauge".to_string(),
            };
            if let Some(at) = at {
                problems.push(
                    Problem::new("unknown-tool", &at.place, format!("there is no tool `{name}`")).help(help),
                );
            }
            return None;
        }
    };
    let stated = tool.and_then(|t| t.deviation.as_ref()).map(|d| d.mm());
    if stated.is_none() {
        note(assumed, &practice(kind));
    }
    let mm = |l: Option<&Written<crate::units::Length>>| l.map_or(0.0, |l| l.mm());
    let off = tool.map_or(0.0, |t| mm(t.starts_at.as_ref()) + mm(t.zero_error.as_ref()));
    Some(Handling { sigma: stated.unwrap_or(kind.deviation()), off, zero: tool.is_some_and(|t| t.find_zero) })
}

/// What is taken for a kind of tool, in words.
fn practice(kind: ToolKind) -> String {
    use ToolKind as K;
    let word = match kind {
        K::Tape => "a tape",
        K::Rule => "a rule",
        K::Calipers => "calipers",
        K::Rod => "a rod",
        K::Gauge => "a gauge",
    };
    format!(
        "one reading with {word} has a standard deviation of {} (common practice, no source)",
        crate::units::fmt_mm(kind.deviation())
    )
}
