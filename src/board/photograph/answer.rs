//! What is answered to the view, for a page.

use super::super::answer::Answer;
use super::super::session::Session;
use super::{taken, under};
use serde_json::{Value, json};

/// Answers what the view asks; every answer has the number of what was asked.
pub fn answer(session: &mut Session, m: &Value) -> Answer {
    let mut answer = answered(session, m);
    let asked = m["asked"].clone();
    if let Some(own) = answer.own.as_mut().and_then(Value::as_object_mut) {
        own.insert("asked".into(), asked.clone());
    }
    answer.later = answer.later.map(|later| -> Box<dyn FnOnce() -> Value + Send> {
        Box::new(move || {
            let mut own = later();
            if let Some(own) = own.as_object_mut() {
                own.insert("asked".into(), asked);
            }
            own
        })
    });
    answer
}

fn answered(session: &mut Session, m: &Value) -> Answer {
    let refused = |words: String| json!({ "kind": "photograph-words", "words": words });
    let own = |v: Value| Answer { own: Some(v), changed: false, later: None };
    match m["act"].as_str().unwrap_or("") {
        "under" => return own(under::place(&session.photograph.under)),
        "straighten" => {
            let sheet = session.panel.sheets.first().map(|s| s.outline.bounds()).unwrap_or_default();
            return match session.photograph.straighten(sheet) {
                Ok(later) => Answer { own: None, changed: false, later: Some(later) },
                Err(words) => own(refused(words)),
            };
        }
        "preview" => {
            return own(match taken::lines(session, m) {
                Ok(lines) => {
                    json!({ "kind": "photograph-take", "lines": lines, "again": m, "file": session.path() })
                }
                Err(words) => refused(words),
            });
        }
        "take" => {
            return match taken::take(session, m) {
                Ok(()) => {
                    Answer { own: Some(json!({ "kind": "photograph-taken" })), changed: true, later: None }
                }
                Err(words) => own(refused(words)),
            };
        }
        _ => {}
    }
    let said = match session.photograph.does(m) {
        Ok(Some(v)) => v,
        Ok(None) => session.photograph.state(),
        Err(words) => refused(words),
    };
    own(said)
}
