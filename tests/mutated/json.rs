//! A JSON text as pieces with their places: tokens, and values with the keys that lead to them.

use std::ops::Range;

/// What a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Object,
    List,
    Text,
    Number,
    Word,
}

/// One value.
#[derive(Clone, Debug)]
pub struct Node {
    pub kind: Kind,
    pub span: Range<usize>,
    /// The key before it, in its quotes.
    pub key: Option<Range<usize>>,
    /// Its parent in the list of nodes.
    pub parent: Option<usize>,
}

/// A text that is JSON, taken apart.
pub struct Json<'a> {
    pub text: &'a str,
    pub tokens: Vec<Range<usize>>,
    pub nodes: Vec<Node>,
}

impl<'a> Json<'a> {
    /// Takes apart a text that is known to be JSON.
    pub fn new(text: &'a str) -> Json<'a> {
        let tokens = tokens(text);
        let mut json = Json { text, tokens, nodes: Vec::new() };
        let mut at = 0;
        json.value(&mut at, None, None);
        json
    }

    pub fn of(&self, range: &Range<usize>) -> &'a str {
        &self.text[range.clone()]
    }

    /// The key of a node without its quotes; empty where it has none.
    pub fn key(&self, node: &Node) -> &'a str {
        node.key.as_ref().map_or("", |k| self.of(k).trim_matches('"'))
    }

    /// The keys from the outermost value down to a node; elements of lists have none.
    pub fn path(&self, node: usize) -> Vec<&'a str> {
        let mut keys = Vec::new();
        let mut at = Some(node);
        while let Some(k) = at {
            keys.push(self.key(&self.nodes[k]));
            at = self.nodes[k].parent;
        }
        keys.retain(|k| !k.is_empty());
        keys.reverse();
        keys
    }

    fn value(&mut self, at: &mut usize, key: Option<Range<usize>>, parent: Option<usize>) {
        let token = self.tokens[*at].clone();
        let me = self.nodes.len();
        let kind = match &self.text[token.clone()] {
            "{" => Kind::Object,
            "[" => Kind::List,
            t if t.starts_with('"') => Kind::Text,
            "true" | "false" | "null" => Kind::Word,
            _ => Kind::Number,
        };
        self.nodes.push(Node { kind, span: token.clone(), key, parent });
        *at += 1;
        let close = match kind {
            Kind::Object => "}",
            Kind::List => "]",
            _ => return,
        };
        while self.of(&self.tokens[*at]) != close {
            if self.of(&self.tokens[*at]) == "," {
                *at += 1;
            }
            let key = (kind == Kind::Object).then(|| self.tokens[*at].clone());
            if kind == Kind::Object {
                *at += 2;
            }
            self.value(at, key, Some(me));
        }
        self.nodes[me].span = token.start..self.tokens[*at].end;
        *at += 1;
    }
}

fn tokens(text: &str) -> Vec<Range<usize>> {
    let bytes = text.as_bytes();
    let mut all = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let start = at;
        at += 1;
        match bytes[start] {
            b'{' | b'}' | b'[' | b']' | b':' | b',' => {}
            b'"' => {
                while bytes[at] != b'"' {
                    at += if bytes[at] == b'\\' { 2 } else { 1 };
                }
                at += 1;
            }
            c if c.is_ascii_whitespace() => continue,
            _ => {
                while at < bytes.len() && !b"{}[]:, \t\r\n\"".contains(&bytes[at]) {
                    at += 1;
                }
            }
        }
        all.push(start..at);
    }
    all
}

#[test]
fn a_text_is_taken_apart() {
    let json = Json::new(r#"{ "a": [1, "x\"y"], "b": { "c": true } }"#);
    assert_eq!(json.tokens.len(), 17);
    let kinds: Vec<Kind> = json.nodes.iter().map(|n| n.kind).collect();
    assert_eq!(kinds, [Kind::Object, Kind::List, Kind::Number, Kind::Text, Kind::Object, Kind::Word]);
    assert_eq!(json.path(5), ["b", "c"]);
    assert_eq!(json.of(&json.nodes[3].span), r#""x\"y""#);
}
