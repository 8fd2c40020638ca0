//! A survey as text, as a person would type it: one point, reading or pick a line, short lists on one.

use serde_json::Value;

/// Longest list or object on one line.
const WIDE: usize = 110;

/// The text of a survey's file.
pub fn text(v: &Value) -> String {
    let mut out = String::new();
    write(v, 0, &mut out);
    out.push('\n');
    out
}

/// On one line.
fn line(v: &Value) -> String {
    match v {
        Value::Array(all) => format!("[{}]", all.iter().map(line).collect::<Vec<_>>().join(", ")),
        Value::Object(all) if all.is_empty() => "{}".into(),
        Value::Object(all) => {
            let each = all.iter().map(|(k, v)| format!("{}: {}", Value::from(k.as_str()), line(v)));
            format!("{{ {} }}", each.collect::<Vec<_>>().join(", "))
        }
        plain => plain.to_string(),
    }
}

fn write(v: &Value, indent: usize, out: &mut String) {
    let one = line(v);
    let objects = v.as_array().is_some_and(|a| a.len() > 1 && a.iter().any(Value::is_object));
    let picks =
        v.as_array().is_some_and(|a| a.iter().any(|e| e.get("picks").is_some())) || v.get("picks").is_some();
    if indent > 0 && !picks && !objects && one.chars().count() + indent <= WIDE {
        out.push_str(&one);
        return;
    }
    let (inner, outer) = (" ".repeat(indent + 2), " ".repeat(indent));
    let mut break_up = |open: char, close: char, entries: Vec<(Option<&String>, &Value)>| {
        out.push(open);
        let last = entries.len().saturating_sub(1);
        for (k, (key, value)) in entries.into_iter().enumerate() {
            out.push('\n');
            out.push_str(&inner);
            if let Some(key) = key {
                out.push_str(&format!("{}: ", Value::from(key.as_str())));
            }
            // an entry of a list stays on its line, so that a pick with many places is one
            match value {
                Value::Object(_) if key.is_none() && value.get("picks").is_none() => {
                    out.push_str(&line(value))
                }
                _ => write(value, indent + 2, out),
            }
            if k < last {
                out.push(',');
            }
        }
        out.push('\n');
        out.push_str(&outer);
        out.push(close);
    };
    match v {
        Value::Array(all) if !all.is_empty() => break_up('[', ']', all.iter().map(|v| (None, v)).collect()),
        Value::Object(all) if !all.is_empty() => {
            break_up('{', '}', all.iter().map(|(k, v)| (Some(k), v)).collect());
        }
        _ => out.push_str(&one),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_reads_back_the_same_and_holds_one_thing_a_line() {
        let file = include_str!("../../../surveys/wheatear-photo.json");
        let v: Value = serde_json::from_str(file).unwrap();
        let out = text(&v);
        assert_eq!(serde_json::from_str::<Value>(&out).unwrap(), v);
        for want in [
            "\n  \"points\": [\"T1\", \"T2\", \"T3\", \"T4\", \"T5\", \"T6\"],\n",
            "\n    { \"distance\": [\"T1\", \"T2\"], \"reads\": 580.0, \"tool\": \"tape\" },\n",
            "\n        { \"point\": \"T1\", \"at\": [163.8, 562.0] },\n",
        ] {
            assert!(out.contains(want), "{want}\n{out}");
        }
        assert_eq!(text(&serde_json::from_str::<Value>(&out).unwrap()), out);
    }
}
