//! One change by lot: to a byte, to a token, or to what a value means.

use super::json::{Json, Kind, Node};
use crate::panels::Dice;
use std::ops::Range;

/// What a change is made to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    Byte,
    Token,
    Meaning,
}

/// One change: these bytes of the text are replaced.
#[derive(Clone, Debug)]
pub struct Change {
    pub sort: Sort,
    pub what: &'static str,
    pub at: Range<usize>,
    pub new: Vec<u8>,
}

impl Change {
    /// The text with the change.
    pub fn apply(&self, text: &str) -> Vec<u8> {
        let b = text.as_bytes();
        [&b[..self.at.start], &self.new, &b[self.at.end..]].concat()
    }

    /// Where the change stands in the changed text.
    pub fn place(&self) -> Range<usize> {
        self.at.start..self.at.start + self.new.len()
    }
}

/// A change that changes something.
pub fn change(text: &str, sort: Sort, dice: &mut Dice) -> Change {
    let json = Json::new(text);
    loop {
        let (what, at, new) = match sort {
            Sort::Byte => byte(text, dice),
            Sort::Token => token(&json, dice),
            Sort::Meaning => match meaning(&json, dice) {
                Some(change) => change,
                None => continue,
            },
        };
        if text.as_bytes()[at.clone()] != new[..] {
            return Change { sort, what, at, new };
        }
    }
}

fn byte(text: &str, dice: &mut Dice) -> (&'static str, Range<usize>, Vec<u8>) {
    let at = dice.pick(text.len());
    // punctuation in the middle of things does more harm than letters
    let rough = b"{}[]\",:\\\n-0.eN/\x00\x1f\xff\xc3 "[dice.pick(20)];
    let old = text.as_bytes()[at];
    match dice.pick(6) {
        0 => ("byte deleted", at..at + 1, Vec::new()),
        1 => ("byte doubled", at..at, vec![old]),
        2 => ("bit turned", at..at + 1, vec![old ^ (1 << dice.pick(8))]),
        3 => ("byte inserted", at..at, vec![rough]),
        _ => ("byte replaced", at..at + 1, vec![rough]),
    }
}

fn token(json: &Json<'_>, dice: &mut Dice) -> (&'static str, Range<usize>, Vec<u8>) {
    let k = dice.pick(json.tokens.len());
    let own = json.tokens[k].clone();
    let words = |r: &Range<usize>| json.of(r).as_bytes().to_vec();
    match dice.pick(5) {
        0 => ("token deleted", own, Vec::new()),
        1 => ("token doubled", own.start..own.start, [words(&own), b" ".to_vec()].concat()),
        2 => {
            let other = json.tokens[(k + 1).min(json.tokens.len() - 1)].clone();
            let between = own.end.min(other.start)..other.start;
            let new = [words(&other), words(&between), words(&own)].concat();
            ("tokens swapped", own.start..other.end, new)
        }
        3 => {
            let other = &json.tokens[dice.pick(json.tokens.len())];
            ("token of elsewhere", own, words(other))
        }
        _ => {
            let odd = [
                "{", "}", "[", "]", ":", ",", "null", "true", "\"\"", "\"x\"", "-1", "0", "1e9", "NaN", "'x'",
            ];
            ("odd token", own, odd[dice.pick(odd.len())].as_bytes().to_vec())
        }
    }
}

/// Keys whose text names something else of the files.
const NAMES: [&str; 16] = [
    "instrument",
    "right-of",
    "left-of",
    "above",
    "below",
    "level",
    "in-line-with",
    "centred-on",
    "mirror-of",
    "of",
    "on",
    "source",
    "builds-on",
    "id",
    "unit",
    "kind",
];

fn meaning(json: &Json<'_>, dice: &mut Dice) -> Option<(&'static str, Range<usize>, Vec<u8>)> {
    let node = &json.nodes[dice.pick(json.nodes.len())];
    let key = json.key(node);
    let text = json.of(&node.span);
    let put = |what, new: String| Some((what, node.span.clone(), new.into_bytes()));
    // what is said of a key
    if dice.one_in(4) && node.key.is_some() {
        let own = node.key.clone()?;
        return match dice.pick(3) {
            0 => Some(("key misspelt", own.clone(), format!("\"{key}x\"").into_bytes())),
            1 => Some(("key twice", own.start..own.start, format!("\"{key}\": {text}, ").into_bytes())),
            _ => member_removed(json, node),
        };
    }
    match node.kind {
        Kind::Number => {
            let value: f64 = text.parse().ok()?;
            match dice.pick(10) {
                0 => put("number negative", format!("-{}", text.trim_start_matches('-'))),
                1 => put("number zero", "0".into()),
                2 => put("number absurd", format!("{}", value * 1e7 + 1e7)),
                3 => put("not a number", "\"NaN\"".into()),
                4 => put("decimal comma", format!("\"{},5\"", value.trunc())),
                5 => put("unknown unit", format!("\"{text} inn\"")),
                6 => put("empty", "\"\"".into()),
                7 => put("null", "null".into()),
                8 => put("other unit", format!("{}", (value * 25.4 * 1e4).round() / 1e4)),
                _ => put("other type", ["[1, 2, 3, 4, 5]", "true", "{}"][dice.pick(3)].into()),
            }
        }
        Kind::Text if NAMES.contains(&key) || text.len() < 30 => {
            let inner = text.trim_matches('"');
            match dice.pick(7) {
                0 => put("name misspelt", format!("\"{inner}zz\"")),
                1 => put("name of another", json.of(&names(json, key, dice)?).to_string()),
                2 => put("name empty", "\"\"".into()),
                3 => put("other type", ["7", "true", "[]", "{}"][dice.pick(4)].into()),
                4 => put("null", "null".into()),
                5 if inner.starts_with(|c: char| c.is_ascii_digit()) => put(
                    "unit dropped",
                    format!("\"{}\"", inner.trim_end_matches(|c: char| !c.is_ascii_digit())),
                ),
                _ => put("unknown sign", format!("\"{}\"", inner.replace(['-', ' ', '.'], ","))),
            }
        }
        Kind::Text => None,
        Kind::Word => put("other type", "\"yes\"".into()),
        Kind::List | Kind::Object => match dice.pick(4) {
            0 => put("emptied", if node.kind == Kind::List { "[]" } else { "{}" }.into()),
            1 => put("other type", ["7", "\"x\"", "true"][dice.pick(3)].into()),
            2 => Some(("unknown key", node.span.start + 1..node.span.start + 1, {
                if node.kind == Kind::List { b"null, ".to_vec() } else { b"\"no-such-key\": 1, ".to_vec() }
            })),
            _ => put("null", "null".into()),
        },
    }
}

/// Another text that stands under the same key.
fn names(json: &Json<'_>, key: &str, dice: &mut Dice) -> Option<Range<usize>> {
    let same: Vec<&Node> = json.nodes.iter().filter(|n| n.kind == Kind::Text && json.key(n) == key).collect();
    if same.is_empty() { None } else { Some(same[dice.pick(same.len())].span.clone()) }
}

/// A key and its value with one comma.
fn member_removed(json: &Json<'_>, node: &Node) -> Option<(&'static str, Range<usize>, Vec<u8>)> {
    let start = node.key.as_ref()?.start;
    let after = json.tokens.iter().find(|t| t.start >= node.span.end)?;
    let end = if json.of(after) == "," { after.end } else { node.span.end };
    let start = if json.of(after) == "," {
        start
    } else {
        // the last member goes with the comma before it
        json.tokens
            .iter()
            .rev()
            .find(|t| t.end <= start)
            .filter(|t| json.of(t) == ",")
            .map_or(start, |t| t.start)
    };
    Some(("member removed", start..end, Vec::new()))
}
