//! Items that a hand moves together: the lists under `together`.

use super::text;
use std::ops::Range;

/// The lists as this file says them, with where each stands.
fn lists(source: &str) -> Option<Vec<(Range<usize>, Vec<String>)>> {
    let (_, all) = text::array(source, "together")?;
    let each = all.into_iter().map(|r| {
        let ids = source.get(r.clone()).and_then(|s| serde_json::from_str(s).ok()).unwrap_or_default();
        (r, ids)
    });
    Some(each.collect())
}

fn written(ids: &[String]) -> String {
    serde_json::Value::from(ids).to_string().replace(',', ", ")
}

/// The text in which nothing is said of some items any more; a list of which one alone is left goes.
pub(super) fn apart(source: &str, ids: &[String]) -> Option<String> {
    let mut out = source.to_string();
    let Some(all) = lists(source) else { return Some(out) };
    for (k, (at, group)) in all.iter().enumerate().rev() {
        let rest: Vec<String> = group.iter().filter(|id| !ids.contains(id)).cloned().collect();
        if rest.len() == group.len() {
            continue;
        }
        if rest.len() > 1 {
            out = text::with(&out, at.clone(), &written(&rest))?;
        } else {
            let ranges: Vec<Range<usize>> = text::array(&out, "together")?.1;
            out = text::without(&out, &ranges, k)?;
        }
    }
    match text::array(&out, "together") {
        // an empty list says something where another file below says more
        Some((_, left)) if left.is_empty() && text::root(&out)?.value("builds-on").is_none() => {
            text::unset(&out, &text::root(&out)?, "together")
        }
        Some((whole, left)) if left.is_empty() => text::with(&out, whole, "[]"),
        _ => Some(out),
    }
}

/// The text with items together, or apart. `now` are the lists that hold, whichever file says them.
pub(super) fn set(source: &str, now: &[Vec<String>], ids: &[String], together: bool) -> Option<String> {
    let root = text::root(source)?;
    let mut out = source.to_string();
    if root.value("together").is_none() && !now.is_empty() {
        // said by a file that this one builds on: said here, this file's word holds alone
        let all: Vec<String> = now.iter().map(|g| written(g)).collect();
        out = text::set(&out, &root, "together", &format!("[{}]", all.join(", ")))?;
    }
    out = apart(&out, ids)?;
    if !together {
        return Some(out);
    }
    match text::array(&out, "together") {
        Some((whole, all)) if all.is_empty() => text::with(&out, whole, &format!("[{}]", written(ids))),
        Some((whole, all)) => text::pushed(&out, whole, &all, &written(ids)),
        None => text::set(&out, &text::root(&out)?, "together", &format!("[{}]", written(ids))),
    }
}
