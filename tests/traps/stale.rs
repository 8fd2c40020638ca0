//! Verdicts and sheets older than their inputs: told by the content hash that they carry, not by a clock.

use super::kit::{Scratch, panel};

fn with(revision: &str, x: f64) -> String {
    let title = format!("\"title\": {{ \"revision\": \"{revision}\" }},\n");
    let place = |id: &str, x: f64| {
        format!("{{ \"id\": \"{id}\", \"instrument\": \"round/2-1-4in-front\", \"at\": [{x}, 120] }}")
    };
    panel(&format!("{title}\"place\": [\n{},\n{} ]", place("one", 100.0), place("two", x)))
}

#[test]
fn a_report_older_than_its_inputs_says_how_many_results_need_recomputing() {
    let s = Scratch::new("stale-report");
    s.write("p.json", &with("C", 190.0));
    let (_, report, _) = s.run(&["check", "p.json", "--format", "json"]);
    s.write("fit.json", &report);
    // the same inputs: nothing is said, and the words of the report are as ever
    let (_, out, _) = s.run(&["check", "p.json", "--earlier", "fit.json"]);
    assert!(!out.contains("Out of date"), "{out}");
    // an item moved by 5 mm: exactly the results that speak of where it stands differ
    s.write("p.json", &with("D", 195.0));
    let (code, out, _) = s.run(&["check", "p.json", "--earlier", "fit.json"]);
    assert_eq!(code, 1);
    let (_, now, _) = s.run(&["check", "p.json", "--format", "json", "--earlier", "fit.json"]);
    let now: serde_json::Value = serde_json::from_str(&now).unwrap();
    let old: serde_json::Value = serde_json::from_str(&report).unwrap();
    let expected = differing(&old, &now);
    assert!(expected > 1, "{expected}");
    let short = |v: &serde_json::Value| v["inputs-sha256"].as_str().unwrap()[..12].to_string();
    let words = format!(
        "Out of date: {expected} results need recomputing (revision C, now revision D; inputs {}, now {}).",
        short(&old),
        short(&now)
    );
    assert_eq!(out.lines().next(), Some(words.as_str()));
    assert_eq!(now["out-of-date"], words);
    // a sheet drawn in spite of it says so
    let (code, out, err) = s.run(&["template", "p.json", "--earlier", "fit.json", "--formats", "dxf"]);
    assert_eq!(code, 1, "{err}");
    assert_eq!(out.lines().next(), Some(words.as_str()));
    let sheet = s.names("out").into_iter().find(|n| n.ends_with(".dxf")).unwrap();
    assert!(
        s.read(&format!("out/{sheet}"))
            .contains(&format!("out of date: {expected} results need recomputing"))
    );
}

/// Results that differ in verdict or numbers, are new or are gone: worked out here from both reports.
fn differing(old: &serde_json::Value, new: &serde_json::Value) -> usize {
    use std::collections::BTreeMap;
    let list = |v: &serde_json::Value| -> BTreeMap<String, String> {
        let key = |f: &serde_json::Value| {
            let near = |v: &serde_json::Value| v.as_f64().map(|v| (v * 1e6).round() / 1e6);
            format!(
                "{} {:?} {:?} {:?} {:?}",
                f["verdict"],
                near(&f["measured"]["lower"]),
                near(&f["asked"]),
                near(&f["tolerance-loss"]),
                f["waits-for"]
            )
        };
        let all = v["findings"].as_array().unwrap().iter();
        all.map(|f| (f["id"].as_str().unwrap().to_string(), key(f))).collect()
    };
    let (old, new) = (list(old), list(new));
    let ids: std::collections::BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    ids.into_iter().filter(|id| old.get(*id) != new.get(*id)).count()
}

#[test]
fn a_file_cut_from_an_older_revision_is_named() {
    let s = Scratch::new("stale-file");
    s.write("p.json", &with("C", 190.0));
    let (_, _, err) = s.run(&["template", "p.json", "--formats", "dxf,dxf-r12,svg", "--out", "c"]);
    assert!(err.is_empty(), "{err}");
    s.write("p.json", &with("D", 195.0));
    let files: Vec<String> =
        s.names("c").into_iter().filter(|n| n.ends_with(".dxf") || n.ends_with(".svg")).collect();
    assert!(files.len() >= 3, "{files:?}");
    for file in files {
        let (code, out, err) = s.run(&["check", "p.json", "--earlier", &format!("c/{file}")]);
        assert_eq!(code, 1, "{file}: {err}");
        let first = out.lines().next().unwrap_or("");
        assert!(
            first.starts_with("Out of date: file cut from revision C, drawing now D (inputs "),
            "{file}: {first}"
        );
    }
    // changed under the same revision
    s.write("p.json", &with("C", 195.0));
    let sheet = s.names("c").into_iter().find(|n| n.ends_with(".dxf")).unwrap();
    let (_, out, _) = s.run(&["check", "p.json", "--earlier", &format!("c/{sheet}")]);
    let first = out.lines().next().unwrap_or("");
    assert!(
        first.starts_with("Out of date: file cut from other numbers under revision C (inputs "),
        "{first}"
    );
    assert!(first.ends_with("Give the drawing a new revision."), "{first}");
    // put back, it is up to date again
    s.write("p.json", &with("C", 190.0));
    let (_, out, _) = s.run(&["check", "p.json", "--earlier", &format!("c/{sheet}")]);
    assert!(!out.contains("Out of date"), "{out}");
}

#[test]
fn a_file_that_tells_nothing_of_its_inputs_is_refused() {
    let s = Scratch::new("stale-none");
    s.write("p.json", &with("C", 190.0));
    for text in ["", "{}", "0\nSECTION\n", "{ \"inputs-sha256\": \"short\" }", "inputs nothing"] {
        s.write("old", text);
        let (code, out, err) = s.run(&["check", "p.json", "--earlier", "old"]);
        assert_eq!((code, out.as_str()), (2, ""), "{text}");
        assert!(err.contains("--earlier old: nothing in it says which inputs it was made from"), "{err}");
    }
}
