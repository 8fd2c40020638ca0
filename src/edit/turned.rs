//! The relation of an item that is turned together with what it stands beside: told from the side on which that is then.

use super::item::object_of;
use super::spelled::spelled;
use super::text;
use crate::units::{Length, Unit};

/// The sides of an item, counter-clockwise.
const ROUND: [&str; 4] = ["right-of", "above", "left-of", "below"];
/// What says the other coordinate, beside it and above or below it.
const CROSS: [&str; 2] = ["level", "in-line-with"];

/// What a word of a relation is after quarter turns, counter-clockwise; `None`: the same.
fn after(key: &str, quarters: usize) -> Option<&'static str> {
    if let Some(k) = ROUND.iter().position(|side| *side == key) {
        return ROUND.get((k + quarters) % 4).copied().filter(|new| *new != key);
    }
    let k = CROSS.iter().position(|cross| *cross == key)?;
    CROSS.get((k + quarters) % 2).copied().filter(|new| *new != key)
}

/// The text with an item's relation turned by quarters, as far off as before.
pub(super) fn quartered(source: &str, unit: Unit, id: &str, quarters: usize) -> Option<String> {
    let o = object_of(source, id)?;
    let mut out = source.to_string();
    // from the last one on: what stands before it stays where it is
    for (key, entry, value) in o.entries.iter().rev() {
        if key == "offset" {
            out = text::with(&out, value.clone(), &offset(source, value.clone(), unit, quarters)?)?;
        } else if let Some(new) = after(key, quarters) {
            let words = source.get(entry.clone())?.strip_prefix(&format!("\"{key}\""))?;
            out = text::with(&out, entry.clone(), &format!("\"{new}\"{words}"))?;
        }
    }
    Some(out)
}

/// A pair of lengths turned by quarters; each keeps its unit, and where it is not negated its spelling.
fn offset(source: &str, at: std::ops::Range<usize>, unit: Unit, quarters: usize) -> Option<String> {
    let raw: Vec<serde_json::Value> = serde_json::from_str(source.get(at.clone())?).ok()?;
    let pair = text::pair(source, at)?;
    let said = |k: usize, negated: bool| {
        let (value, words) = (raw.get(k)?, pair.get(k)?);
        if !negated {
            return Some(value.to_string());
        }
        let was = Length::parse(words, Some(unit)).ok()?;
        Some(spelled(-was.mm(), unit, value.is_string().then(|| was.unit())))
    };
    let (x, y) = match quarters % 4 {
        0 => (said(0, false)?, said(1, false)?),
        1 => (said(1, true)?, said(0, false)?),
        2 => (said(0, true)?, said(1, true)?),
        _ => (said(1, false)?, said(0, true)?),
    };
    Some(format!("[{x}, {y}]"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_relation_goes_round_with_the_quarters() {
        let file =
            |words: &str| format!("{{ \"place\": [ {{ \"id\": \"b\", {words}, \"note\": \"n\" }} ] }}");
        let cases = [
            (1, "\"right-of\": \"a\", \"pitch\": 40", "\"above\": \"a\", \"pitch\": 40"),
            (2, "\"right-of\":  \"a\", \"gap\": \"1/2 in\"", "\"left-of\":  \"a\", \"gap\": \"1/2 in\""),
            (
                3,
                "\"right-of\": \"a\", \"gap\": 2, \"level\": \"c\"",
                "\"below\": \"a\", \"gap\": 2, \"in-line-with\": \"c\"",
            ),
            (
                1,
                "\"below\": \"a\", \"gap\": 2, \"offset\": [3, \"1/4 in\"]",
                "\"right-of\": \"a\", \"gap\": 2, \"offset\": [\"-1/4 in\", 3]",
            ),
            (
                2,
                "\"offset\": [0, 1.5], \"centred-on\": \"a\"",
                "\"offset\": [0, -1.5], \"centred-on\": \"a\"",
            ),
        ];
        for (quarters, old, new) in cases {
            let got = quartered(&file(old), Unit::Millimetre, "b", quarters);
            assert_eq!(got.as_deref(), Some(file(new).as_str()), "{quarters} of {old}");
        }
        // four make none
        let all = file("\"above\": \"a\", \"pitch\": 40, \"in-line-with\": \"c\", \"offset\": [1, -2]");
        let round = (0..4).try_fold(all.clone(), |t, _| quartered(&t, Unit::Millimetre, "b", 1));
        assert_eq!(round, Some(all));
    }
}
