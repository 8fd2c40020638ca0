//! What was measured taken into a panel's file as what is there: old openings, and the sheet's own outline.

use super::by_hand::Refusal;
use super::text;

/// What is taken.
#[derive(Clone, Debug, Default)]
pub struct Measured {
    /// Openings by id, each as the file lists it.
    pub openings: Vec<(String, String)>,
    /// The outline as the file writes it, and how far it may be off, as it writes that.
    pub outline: Option<(String, String)>,
    /// The document that it comes from.
    pub document: String,
}

fn broken() -> Refusal {
    Refusal::Words("the file's text could not be changed there: change it by hand".into())
}

/// The text with what was measured in it, and a line on each thing that is written. An opening of the same id is replaced.
///
/// # Errors
/// A file without a sheet of its own, for an outline; a text that cannot be changed so.
pub fn measured(source: &str, m: &Measured) -> Result<(String, Vec<String>), Refusal> {
    let mut lines = Vec::new();
    let (mut out, key) = sourced(source, &m.document, &mut lines).ok_or_else(broken)?;
    for (id, element) in &m.openings {
        let quoted = serde_json::Value::from(key.as_str());
        let body = element.strip_suffix('}').map(str::trim_end).ok_or_else(broken)?;
        let element = format!("{body}, \"source\": {quoted} }}");
        let before = text::elements(&out, "old-openings")
            .and_then(|(_, all)| all.into_iter().find(|(name, _)| name.as_deref() == Some(id.as_str())));
        out = match before {
            Some((_, o)) => {
                lines.push(format!("old-openings, in place of the {id} that is there: {element}"));
                text::with(&out, o.whole, &element)
            }
            None => {
                lines.push(format!("old-openings: {element}"));
                text::with_element(&out, "old-openings", &element)
            }
        }
        .ok_or_else(broken)?;
    }
    if let Some((outline, survey)) = &m.outline {
        for (name, value) in [("outline", outline), ("survey", survey)] {
            let Some(sheet) = text::under(&out, "sheet") else {
                return Err(Refusal::Words(
                    "this file has no sheet of its own: take the outline into the file that it builds on"
                        .into(),
                ));
            };
            let one = value.split_whitespace().collect::<Vec<_>>().join(" ");
            let instead = if sheet.value(name).is_some() { ", in place of what is there" } else { "" };
            lines.push(format!("sheet, {name}{instead}: {one}"));
            out = text::set(&out, &sheet, name, value).ok_or_else(broken)?;
        }
    }
    Ok((out, lines))
}

/// The text with a source that names the document, and the source's name.
fn sourced(source: &str, document: &str, lines: &mut Vec<String>) -> Option<(String, String)> {
    let entry = format!(
        "{{ \"basis\": \"measured\", \"document\": {} }}",
        serde_json::Value::from(format!("{document}, adjusted by least squares"))
    );
    let same = |value: std::ops::Range<usize>| {
        let read = |t: &str| serde_json::from_str::<serde_json::Value>(t).ok();
        source.get(value).and_then(read) == read(&entry)
    };
    let there = text::under(source, "sources");
    if let Some(o) = &there
        && let Some((key, ..)) = o.entries.iter().find(|(_, _, value)| same(value.clone()))
    {
        return Some((source.to_owned(), key.clone()));
    }
    let taken = |key: &str| there.as_ref().is_some_and(|o| o.value(key).is_some());
    let numbered = (2..).map(|n| format!("photograph-{n}"));
    let key = std::iter::once("photograph".to_owned()).chain(numbered).find(|key| !taken(key))?;
    lines.push(format!("sources: \"{key}\": {entry}"));
    let out = match &there {
        Some(o) => text::set(source, o, &key, &entry),
        None => text::set(source, &text::root(source)?, "sources", &format!("{{ \"{key}\": {entry} }}")),
    };
    Some((out?, key))
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "{\n  \"format\": 1,\n  \"note\": \"kept   so\",\n  \"sheet\": { \"thickness\": 2, \"outline\": \"M 0 0 H 4 V 4 Z\" }\n}\n";

    #[test]
    fn openings_and_outline_are_written_and_the_rest_stays() {
        let hole = |at: &str| ("asi".to_owned(), format!("{{ \"id\": \"asi\", \"at\": {at} }}"));
        let m = Measured { openings: vec![hole("[1, 2]")], outline: None, document: "s.json".into() };
        let (once, lines) = measured(FILE, &m).unwrap();
        assert_eq!(lines.len(), 2, "{lines:?}");
        assert!(once.contains("\"old-openings\": [\n    { \"id\": \"asi\", \"at\": [1, 2], \"source\": \"photograph\" }\n  ]"), "{once}");
        assert!(once.contains("\"sources\": { \"photograph\": { \"basis\": \"measured\", \"document\": \"s.json, adjusted by least squares\" } }"));
        assert!(once.contains("\"note\": \"kept   so\""));
        // again: the source is there, the opening is replaced
        let m = Measured { openings: vec![hole("[3, 2]")], ..m };
        let (twice, lines) = measured(&once, &m).unwrap();
        assert_eq!(twice, once.replace("[1, 2]", "[3, 2]"));
        assert!(lines.len() == 1 && lines[0].contains("in place of the asi"), "{lines:?}");
        // another document has a source of its own
        let (third, _) = measured(&twice, &Measured { document: "t.json".into(), ..m.clone() }).unwrap();
        assert!(
            third.contains("\"photograph-2\": { \"basis\"") && third.contains("\"source\": \"photograph-2\"")
        );
        let m =
            Measured { outline: Some(("\"M 0 0 H 5 V 5 Z\"".into(), "0.5".into())), openings: vec![], ..m };
        let (edge, lines) = measured(&twice, &m).unwrap();
        assert!(
            edge.contains(
                "\"sheet\": { \"thickness\": 2, \"outline\": \"M 0 0 H 5 V 5 Z\", \"survey\": 0.5 }"
            ),
            "{edge}"
        );
        assert_eq!(lines.len(), 2);
        assert!(measured("{ \"format\": 1 }", &m).is_err());
        assert!(measured("no json", &m).is_err());
    }
}
