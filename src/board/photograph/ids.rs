//! Where ids stand in a survey's file.

use serde_json::Value;

/// The id that an entry of `points` or `circles` says.
pub fn id_of(v: &Value) -> Option<&str> {
    v.as_str().or_else(|| v["id"].as_str())
}

/// Whether an id stands anywhere in it.
pub fn mentions(v: &Value, id: &str) -> bool {
    match v {
        Value::String(s) => s == id,
        Value::Array(all) => all.iter().any(|v| mentions(v, id)),
        Value::Object(all) => all.values().any(|v| mentions(v, id)),
        _ => false,
    }
}

/// An id replaced wherever it stands.
pub fn renamed(v: &mut Value, id: &str, to: &str) {
    match v {
        Value::String(s) if s == id => *s = to.to_owned(),
        Value::Array(all) => all.iter_mut().for_each(|v| renamed(v, id, to)),
        Value::Object(all) => {
            let words = ["note", "image", "kind", "reads", "tool", "source"];
            all.iter_mut()
                .filter(|(k, _)| !words.contains(&k.as_str()))
                .for_each(|(_, v)| renamed(v, id, to));
        }
        _ => {}
    }
}
