//! From bytes to the checked tree: strict JSON, the head of the file, then the table.

use super::check::Checker;
use super::node::Node;
use super::table::Record;
use crate::diag::{Lines, Problem, Problems};
use crate::units::comma;
use jsonc_parser::ast::Value;
use jsonc_parser::errors::{ParseError, ParseErrorKind};
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};
use std::sync::Arc;

/// The format number that this version writes, and the newest that it reads.
pub const FORMAT: u32 = 1;

/// A kind of file.
#[derive(Debug)]
pub struct FileKind {
    /// The key that tells the kind and holds the title.
    pub key: &'static str,
    /// What the file's outermost object may hold.
    pub record: &'static Record,
}

/// The keys that tell what a file is.
const KINDS: &[&str] = &["panel", "instrument", "survey"];

/// Strict JSON: every leniency of the parser is off.
fn strict() -> ParseOptions {
    ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        allow_missing_commas: false,
        allow_single_quoted_strings: false,
        allow_hexadecimal_numbers: false,
        allow_unary_plus_numbers: false,
        allow_bare_decimal_point_numbers: false,
        allow_non_finite_numbers: false,
        allow_extended_string_escapes: false,
    }
}

/// Reads a file of the given kind. Every problem goes to `problems`; what fits the table comes back.
pub fn read(name: &str, text: &Arc<str>, kind: &FileKind, problems: &mut Problems) -> Option<Node> {
    let file: Arc<str> = name.into();
    problems.add_text(&file, text);
    let lines = Lines::new(file, text.clone());
    // A byte order mark is no part of the text; places still count it.
    let base = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let body = text.get(base..).unwrap_or("");
    let parsed = parse_to_ast(body, &CollectOptions::default(), &strict());
    let end = parsed.as_ref().map_or_else(|e| e.range().start, |_| body.len());
    if let Some(problem) = control(&lines, base, body.get(..end).unwrap_or(body)) {
        problems.push(problem);
        return None;
    }
    let root = match parsed {
        Ok(parsed) => parsed.value,
        Err(error) => {
            problems.push(syntax(&lines, base, &error));
            return None;
        }
    };
    let Some(root) = root else {
        let problem = Problem::new("empty-file", &lines.place(0, 0), "the file is empty")
            .help(format!("begin with {{ \"format\": {FORMAT}, \"{}\": \"a title\" }}", kind.key));
        problems.push(problem);
        return None;
    };
    if !head(&root, &lines, base, kind, problems) {
        return None;
    }
    Checker::new(&lines, base, &root, problems).object(&root, kind.record)
}

/// Looks at format and kind first: with the wrong ones, every other error would be noise.
fn head(root: &Value, lines: &Lines, base: usize, kind: &FileKind, problems: &mut Problems) -> bool {
    let at = |start: usize, end: usize| lines.place(base + start, base + end);
    let object = match root {
        Value::Object(object) => object,
        other => {
            use jsonc_parser::common::Ranged;
            let place = at(other.start(), other.end());
            problems.push(Problem::new("wrong-type", &place, "the file holds no object").help(format!(
                "a file is one object: {{ \"format\": {FORMAT}, \"{}\": \"a title\", ... }}",
                kind.key
            )));
            return false;
        }
    };
    if let Some(format) = object.get_number("format") {
        let place = at(format.range.start, format.range.end);
        match format.value.parse::<f64>() {
            Ok(number) if number == f64::from(FORMAT) => {}
            Ok(number) if number > f64::from(FORMAT) => {
                problems.push(
                    Problem::new(
                        "newer-format",
                        &place,
                        format!("format {number} is newer than this version, which reads up to {FORMAT}"),
                    )
                    .help("use a newer version of panelwright"),
                );
                return false;
            }
            _ => {
                problems.push(
                    Problem::new("unknown-format", &place, format!("there is no format {}", format.value))
                        .help(format!("write \"format\": {FORMAT}")),
                );
                return false;
            }
        }
    }
    let other = KINDS.iter().find(|key| **key != kind.key && object.get(key).is_some());
    if object.get(kind.key).is_none()
        && let Some(other) = other.and_then(|key| object.get(key))
    {
        use jsonc_parser::common::Ranged;
        let found = other.name.as_str();
        let place = at(other.name.start(), other.name.end());
        let message = format!("this is a file of kind `{found}`; one of kind `{}` is asked", kind.key);
        problems.push(Problem::new("wrong-kind", &place, message).help("name another file"));
        return false;
    }
    true
}

/// The first control character inside a text, which the parser lets pass and JSON (RFC 8259, section 7) does not.
/// A line's end among them means that the closing quote is missing: told where that text begins, not where the
/// parser stumbles later.
fn control(lines: &Lines, base: usize, body: &str) -> Option<Problem> {
    let mut opened: Option<usize> = None;
    let mut escaped = false;
    for (at, byte) in body.bytes().enumerate() {
        match (opened, byte) {
            (None, b'"') => opened = Some(at),
            (Some(_), _) if escaped => escaped = false,
            (Some(_), b'\\') => escaped = true,
            (Some(_), b'"') => opened = None,
            (Some(start), b'\n' | b'\r') => {
                let place = lines.place(base + start, base + at);
                return Some(
                    Problem::new("bad-json", &place, "this text is not closed on its line")
                        .help("add the missing double quote; a line break within a text is written \\n"),
                );
            }
            (Some(_), 0..0x20) => {
                let place = lines.place(base + at, base + at + 1);
                let message = format!("a control character (code {byte}) stands in this text");
                return Some(
                    Problem::new("bad-json", &place, message).help("take it out; a tab is written \\t"),
                );
            }
            _ => {}
        }
    }
    None
}

/// A syntax error in our own words.
fn syntax(lines: &Lines, base: usize, error: &ParseError) -> Problem {
    use ParseErrorKind as K;
    let range = error.range();
    // at least one whole character, however many bytes it has
    let text = lines.text();
    let least = text.get(base + range.start..).and_then(|t| t.chars().next()).map_or(1, char::len_utf8);
    let place = lines.place(base + range.start, base + range.end.max(range.start + least));
    if let Some((code, message, help)) = slip(text, place.start) {
        return Problem::new(code, &place, message).help(help);
    }
    let (message, help): (String, &str) = match error.kind() {
        K::CommentsNotAllowed => {
            ("comments are no part of strict JSON".into(), "put the words into a \"note\"")
        }
        K::TrailingCommasNotAllowed => ("a comma stands before the closing bracket".into(), "drop the comma"),
        K::ExpectedComma => ("a comma is missing before this".into(), "put a comma between two entries"),
        K::SingleQuotedStringsNotAllowed => ("single quotes are no part of JSON".into(), "use double quotes"),
        K::BareDecimalPointNumbersNotAllowed => {
            ("a number needs digits on both sides of its point".into(), "write 0.5, or \"1/2 in\" in quotes")
        }
        K::NonFiniteNumbersNotAllowed => {
            ("Infinity and NaN are no numbers here".into(), "leave the key out: a missing value is withheld")
        }
        K::UnexpectedWord | K::ExpectedStringObjectProperty => {
            ("a word stands here without quotes".into(), "put it in double quotes")
        }
        K::UnterminatedObject => ("an object is not closed".into(), "add the missing }"),
        K::UnterminatedArray => ("a list is not closed".into(), "add the missing ]"),
        K::NestingDepthExceeded => ("brackets are nested too deep".into(), "is this the right file?"),
        K::MultipleRootJsonValues => ("something follows the end of the file's object".into(), "remove it"),
        _ if curly(lines, place.start) => {
            ("curly quotes are no part of JSON".into(), "use straight double quotes: \"")
        }
        other => {
            let text = other.to_string();
            let mut chars = text.chars();
            let lower = chars.next().map(|c| c.to_lowercase().chain(chars).collect::<String>());
            (format!("this is not JSON: {}", lower.unwrap_or_default()), "correct the punctuation here")
        }
    };
    Problem::new("bad-json", &place, message).help(help)
}

/// A measure that was written without its quotes, or with a mark that ends the text: what people type who do
/// not know JSON. Code, words and advice for what the parser met at a byte of the text.
fn slip(text: &str, at: usize) -> Option<(&'static str, String, String)> {
    let (before, rest) = text.split_at_checked(at)?;
    let next = rest.trim_start().chars().next()?;
    let blank = before.trim_end();
    let apart = blank != before || rest.starts_with(char::is_whitespace);
    // the number that stands before, and what stands before that
    let number = |t: &str| {
        let n = t.chars().rev().take_while(|c| c.is_ascii_digit() || *c == '.').count();
        t.get(t.len() - n..).unwrap_or("").to_string()
    };
    let own = number(blank);
    if next.is_ascii_digit()
        && let Some(whole) = blank.strip_suffix(',').map(number).filter(|n| !n.is_empty() && !apart)
    {
        let part: String = rest.chars().take_while(char::is_ascii_digit).collect();
        let message = comma(&format!("{whole},{part}"));
        return Some(("comma-decimal", message, format!("use a point for decimals: {whole}.{part}")));
    }
    if next.is_ascii_digit() && !own.is_empty() && apart || next == '/' && !own.is_empty() {
        let message = "a fraction stands here without quotes".to_string();
        return Some(("bad-json", message, "write it as a text with its unit: \"3 1/8 in\"".into()));
    }
    if next.is_ascii_alphabetic() && !own.is_empty() {
        let unit: String = rest.trim_start().chars().take_while(|c| c.is_alphabetic()).collect();
        let message = "a unit stands behind this number without quotes".to_string();
        return Some(("bad-json", message, format!("write the whole as a text: \"{own} {unit}\"")));
    }
    if next == '"' && !apart && before.ends_with('"') {
        let inside = before.strip_suffix('"').map(number).unwrap_or_default();
        if !inside.is_empty() {
            let message = "this text ends at an inch mark and is closed once more".to_string();
            return Some((
                "bad-json",
                message,
                "write \"3 1/8 in\", or the mark with a stroke: \"3 1/8\\\"\"".into(),
            ));
        }
    }
    if next.is_ascii_alphabetic() {
        return Some((
            "bad-json",
            "a word stands here without quotes".into(),
            "put it in double quotes".into(),
        ));
    }
    None
}

/// Whether a typesetter's quotation mark stands at a byte of the text.
fn curly(lines: &Lines, at: usize) -> bool {
    let next = lines.text().get(at..).and_then(|t| t.chars().next());
    next.is_some_and(|c| ('\u{2018}'..='\u{201f}').contains(&c))
}
