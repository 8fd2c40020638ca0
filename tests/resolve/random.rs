//! No file makes it panic: real files with bytes, words and numbers exchanged at random.

use crate::kit::*;
use panelwright::files::{Files, Memory};
use panelwright::resolve::{Catalogue, resolve};
use proptest::prelude::*;

const WORDS: &[&str] = &[
    "\"a\"",
    "\"sheet\"",
    "null",
    "true",
    "-1",
    "0",
    "1e300",
    "1e-7",
    "\"1/64 in\"",
    "[]",
    "{}",
    "\"right-of\"",
    "\"centred-on\"",
    "\"mirror-of\"",
    "\"M 0 0 C 1 1 2 2 3 3 Z\"",
    "\"M 0 0 A 1 1 0 0 1 2 0 A 1 1 0 0 1 0 0\"",
    "99999",
    "\"dial.json\"",
    "\"p.json\"",
    "\"turn\"",
    "45",
    "0.000001",
    "\"on\"",
    "\"\"",
    "é",
];

/// A file of every kind of thing.
const RICH: &str = r#"{ "format": 1, "panel": "T", "unit": "mm", "builds-on": "q.json", "remove": ["b"], "change": { "c": { "pitch": 9 } },
"sheet": { "thickness": 2, "new": false }, "tilt": 5, "layers": [ { "id": "cover", "role": "overlay", "thickness": 0.5 } ],
"inserts": [ { "id": "sub", "outline": { "rectangle": [120, 80], "corner": 5 }, "at": [200, 100], "turn": 90, "opening": { "rectangle": [100, 60] },
  "screws": [ { "rectangle": [110, 70], "diameter": 3.4, "fastener": "M3", "head": { "kind": "raised" } } ] } ],
"holes": [ { "circle": 300, "count": 5, "centre": [200, 100], "diameter": 4 } ],
"place": [ { "id": "n", "instrument": "odd.json", "right-of": "c", "gap": 9, "turn": 30, "mirrored": true, "label": "PUMP" } ],
"rows": [ { "instrument": "switch.json", "ids": ["x", "y"], "below": "n", "gap": 4, "along": "down" } ],
"labels": [ { "id": "l", "text": "A B", "of": "n", "height": 4, "above": "x", "gap": 3 } ],
"zones": [ { "id": "z", "shape": { "d-hole": 10, "flat": 4 }, "at": [30, 30], "forbids": ["cut"] } ],
"process": { "kind": "laser" }, "limits": { "web": { "at-least": 5, "because": "x" } } }"#;

const BELOW: &str = r#"{ "format": 1, "panel": "Q", "unit": "mm", "as-found": true, "sheet": { "thickness": 2, "outline": "M 0 0 H 400 V 200 H 0 Z" },
"place": [ { "id": "a", "instrument": "dial.json", "at": [60, 120] }, { "id": "b", "instrument": "dial.json", "right-of": "a", "pitch": 80 },
  { "id": "c", "instrument": "odd.json", "right-of": "b", "pitch": 80 } ] }"#;

/// Pieces of a JSON text: words, numbers, signs.
fn tokens(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let mut token = c.to_string();
        if c == '"' {
            for d in rest.by_ref() {
                token.push(d);
                if d == '"' {
                    break;
                }
            }
        } else if c.is_alphanumeric() || c == '-' || c == '.' {
            while let Some(d) = rest.peek().copied().filter(|d| d.is_alphanumeric() || matches!(d, '-' | '.'))
            {
                token.push(d);
                rest.next();
            }
        }
        all.push(token);
    }
    all
}

fn mutated(text: &str, changes: &[(usize, usize, u8)]) -> String {
    let mut all = tokens(text);
    for (at, word, how) in changes {
        if all.is_empty() {
            break;
        }
        let k = at % all.len();
        match how % 4 {
            0 => all[k] = WORDS[word % WORDS.len()].to_string(),
            1 => {
                all.remove(k);
            }
            2 => all.swap(k, word % k.max(1)),
            _ => {
                let copy = all[word % all.len()].clone();
                all[k] = copy;
            }
        }
    }
    all.concat()
}

fn try_all(panel: &str, below: &str, dial: &str) {
    let files = files(&[("p.json", panel), ("q.json", below), ("dial.json", dial)]);
    let found = resolve("p.json", &files as &dyn Files, &Catalogue::builtin());
    match found {
        Ok(panel) => {
            for s in &panel.subjects {
                for q in &s.parts {
                    assert!(q.contour.is_ccw() && q.centre.x.is_finite() && q.centre.y.is_finite());
                    assert!(q.depth.is_none_or(|(a, b)| a <= b), "{}.{}: {:?}", s.id, q.name, q.depth);
                    assert!((q.sheet as usize) < panel.sheets.len());
                }
            }
            let mut ids: Vec<&str> = panel.subjects.iter().map(|s| s.id.as_str()).collect();
            ids.sort_unstable();
            ids.windows(2).for_each(|w| assert_ne!(w[0], w[1], "an id twice"));
        }
        Err(problems) => {
            assert!(!problems.is_empty());
            problems.render(false);
        }
    }
}

#[test]
fn the_file_itself_resolves() {
    let p = chain("p.json", &[("p.json", RICH), ("q.json", BELOW)]);
    assert!(p.find("old-b").is_some() && p.find("n-label").is_some());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn exchanged_words_never_panic(
        changes in prop::collection::vec((any::<usize>(), any::<usize>(), any::<u8>()), 1..6),
        which in 0..3usize,
    ) {
        let text = |k: usize, t: &str| if k == which { mutated(t, &changes) } else { t.to_string() };
        try_all(&text(0, RICH), &text(1, BELOW), &text(2, DIAL));
    }

    #[test]
    fn any_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..200), at in 0..RICH.len()) {
        let mut all = RICH.as_bytes().to_vec();
        all.splice(at..at, bytes);
        let files = Memory::new().with("p.json", &all).with("q.json", BELOW).with("dial.json", DIAL).with("odd.json", ODD);
        if let Err(p) = resolve("p.json", &files as &dyn Files, &Catalogue::builtin()) {
            p.render(false);
        }
    }

    #[test]
    fn any_path_never_panics(path in "[MLHVACSQTZmlhvacsqtz0-9 .,+-]{0,60}") {
        let _ = panelwright::resolve::outline::read(&path, 1.0);
        let _ = panelwright::resolve::outline::read(&format!("M 0 0 {path} Z"), 25.4);
    }
}
