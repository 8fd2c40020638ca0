//! Looks at JSON values before they are held against the table.

use super::Text;
use super::table::Json;
use jsonc_parser::ast;

/// The type of a value; none for null.
pub(super) fn json(value: &ast::Value) -> Option<Json> {
    match value {
        ast::Value::StringLit(_) => Some(Json::Text),
        ast::Value::NumberLit(_) => Some(Json::Number),
        ast::Value::BooleanLit(_) => Some(Json::Flag),
        ast::Value::Array(_) => Some(Json::List),
        ast::Value::Object(_) => Some(Json::Object),
        ast::Value::NullKeyword(_) => None,
    }
}

/// The ids that are given in a value of any kind; of a plain list of texts all of them may be.
pub(super) fn ids_in(value: &ast::Value) -> Vec<Text> {
    let mut found: Vec<Text> = Vec::new();
    if let ast::Value::Array(list) = value {
        found.extend(
            list.elements.iter().filter_map(|e| e.as_string_lit()).map(|t| Text::from(t.value.as_ref())),
        );
    }
    let mut todo = vec![value];
    while let Some(value) = todo.pop() {
        match value {
            ast::Value::Array(list) => todo.extend(&list.elements),
            ast::Value::Object(object) => {
                for property in &object.properties {
                    match (property.name.as_str(), &property.value) {
                        ("id", ast::Value::StringLit(id)) => found.push(id.value.as_ref().into()),
                        ("ids", ast::Value::Array(ids)) => {
                            let texts = ids.elements.iter().filter_map(|e| e.as_string_lit());
                            found.extend(texts.map(|t| Text::from(t.value.as_ref())));
                        }
                        (_, other) => todo.push(other),
                    }
                }
            }
            _ => {}
        }
    }
    found
}

/// The offset in the raw JSON text (opening quote included) of a byte of the decoded text.
pub(super) fn raw_offset(raw: &str, decoded: usize) -> usize {
    let (mut at, mut passed) = (1, 0);
    let mut chars = raw.get(1..).unwrap_or("").chars();
    while passed < decoded {
        match chars.next() {
            Some('\\') => match chars.next() {
                Some('u') => {
                    let code = |chars: &mut std::str::Chars| {
                        let hex: String = chars.by_ref().take(4).collect();
                        u32::from_str_radix(&hex, 16).unwrap_or(0)
                    };
                    let first = code(&mut chars);
                    at += 6;
                    // A pair of surrogates is one character of four bytes.
                    if (0xD800..0xDC00).contains(&first) {
                        chars.by_ref().take(2).for_each(drop);
                        code(&mut chars);
                        at += 6;
                        passed += 4;
                    } else {
                        passed += char::from_u32(first).map_or(3, char::len_utf8);
                    }
                }
                _ => {
                    at += 2;
                    passed += 1;
                }
            },
            Some(c) => {
                at += c.len_utf8();
                passed += c.len_utf8();
            }
            None => break,
        }
    }
    at.min(raw.len().saturating_sub(1))
}
