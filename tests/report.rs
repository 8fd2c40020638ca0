//! The report as a reader meets it: which numbers, which source, which place, which end.

use panelwright::check::{Options, check};
use panelwright::files::Memory;
use panelwright::panel::Panel;
use panelwright::report::{TextOptions, text};
use panelwright::resolve::{Catalogue, resolve};

/// A panel of round openings, `more` beside its list of items.
fn file(unit: &str, place: &str, more: &str) -> String {
    format!(
        r#"{{ "format": 1, "panel": "Test", "unit": "{unit}",
  "sheet": {{ "material": "6061-T6", "thickness": "2 mm", "coat": 0, "new": true, "outline": {{ "rectangle": ["600 mm", "300 mm"] }} }},
  "place": [ {place} ]{more} }}"#
    )
}

fn panel(files: &[(&str, &str)]) -> Panel {
    let mut shelf = Memory::new();
    for (name, text) in files {
        shelf = shelf.with((*name).to_string(), text);
    }
    let (name, _) = files.last().unwrap();
    resolve(name, &shelf, &Catalogue::builtin()).unwrap_or_else(|e| panic!("{e}"))
}

fn report(files: &[(&str, &str)]) -> String {
    let panel = panel(files);
    let styled = text(&panel, &check(&panel, &Options::default()), &TextOptions { passes: true });
    anstream::adapter::strip_str(&styled).to_string()
}

/// The lines of one finding, joined.
fn about(report: &str, id: &str) -> String {
    let all =
        report.split("\n\n").find(|b| b.lines().next().is_some_and(|l| l.ends_with(&format!("  {id}"))));
    let all = all.unwrap_or_else(|| panic!("nothing about {id} in\n{report}"));
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

const ASI: &str = r#"{ "id": "asi", "instrument": "round/3-1-8in-front", "at": ["-100 mm", 0], "checked": "the builder, 2024" }"#;

/// A second one whose cutout, 79.375 mm like the first, stands `pitch` away.
fn beside(pitch: &str) -> String {
    format!(
        r#"{ASI}, {{ "id": "alt", "instrument": "round/3-1-8in-front", "right-of": "asi", "pitch": "{pitch}", "checked": "the builder, 2024" }}"#
    )
}

#[test]
fn what_touches_has_nothing_to_spare() {
    let r = report(&[("p.json", &file("mm", &beside("70 mm"), ""))]);
    let f = about(&r, "bodies-apart/asi.body/alt.body");
    // bodies of 78.11 mm, 70 mm apart
    let deep = "they overlap, or one sticks out, by 8.11 mm: this fails whatever the limit";
    assert!(f.contains(deep) && f.contains("measured -8.11 mm"), "{f}");
    for block in r.split("\n\n").filter(|b| b.contains("this fails whatever the limit")) {
        assert!(!block.contains("to spare"), "{block}");
    }
    // 79.375 mm of cutout at a pitch of 79.375 mm: they touch and nothing more
    let r = report(&[("p.json", &file("mm", &beside("79.375 mm"), ""))]);
    let f = about(&r, "web/asi.cutout/alt.cutout");
    assert!(f.contains("they touch or overlap: this fails whatever the limit"), "{f}");
}

#[test]
fn a_hair_too_little_reads_as_less() {
    // web: 79.375 mm to 6.35 mm of metal is 85.725 mm of pitch; 0.1 um less
    let r = report(&[("p.json", &file("mm", &beside("85.7249 mm"), ""))]);
    let f = about(&r, "web/asi.cutout/alt.cutout");
    assert!(f.starts_with("fail"), "{f}");
    assert!(f.contains("measured 6.3499 mm, asked at least 6.35 mm: short by 0.0001 mm"), "{f}");
}

#[test]
fn an_own_limit_stands_beside_the_default_with_units() {
    let limits = r#", "limits": { "web": { "at-least": 7, "because": "our cutter" } }"#;
    let f = about(&report(&[("p.json", &file("mm", &beside("86 mm"), limits))]), "web/asi.cutout/alt.cutout");
    assert!(
        f.contains("limit: yours, 7 mm, because our cutter; by default at least 6.35 mm (1/4 in):"),
        "{f}"
    );
    let limits = r#", "limits": { "web": { "at-least": "9/32 in", "because": "our cutter" } }"#;
    let f = about(&report(&[("p.json", &file("mm", &beside("86 mm"), limits))]), "web/asi.cutout/alt.cutout");
    assert!(f.contains("limit: yours, 9/32 in, because"), "{f}");
}

#[test]
fn an_inch_panel_is_told_where_in_inches() {
    let f = about(&report(&[("p.json", &file("in", &beside("3.3 in"), ""))]), "web/asi.cutout/alt.cutout");
    assert!(f.contains("on the panel x -2.37 y 0 in"), "{f}");
    assert!(f.contains("0.25 in (6.35 mm)"), "{f}");
}

#[test]
fn a_finding_between_two_files_names_both() {
    let below = file("mm", ASI, "");
    let above = r#"{ "format": 1, "panel": "New", "unit": "mm", "builds-on": "old.json",
  "place": [ { "id": "alt", "instrument": "round/3-1-8in-front", "right-of": "asi", "pitch": "82 mm", "checked": "the builder, 2024" } ] }"#;
    let f = about(&report(&[("old.json", &below), ("new.json", above)]), "web/asi.cutout/alt.cutout");
    assert!(f.contains("at old.json:3:") && f.contains(" and new.json:2:"), "{f}");
}

#[test]
fn accepted_findings_keep_their_verdict_and_stale_ones_are_told() {
    let accepted = r#", "accepted": [
    { "finding": "web/asi.cutout/alt.cutout", "because": "looked at it", "by": "the inspector" },
    { "finding": "web/asi.cutout/gone.cutout", "because": "once", "by": "the inspector" } ]"#;
    let r = report(&[("p.json", &file("mm", &beside("82 mm"), accepted))]);
    let f = about(&r, "web/asi.cutout/alt.cutout");
    assert!(
        f.starts_with("fail") && f.contains("accepted by the inspector: looked at it (the verdict stays)"),
        "{f}"
    );
    assert!(r.contains("stale: \"web/asi.cutout/gone.cutout\" is accepted at p.json:5"), "{r}");
}

#[test]
fn the_report_asks_first_and_ends_with_what_it_does_not_know() {
    let r = report(&[("p.json", &file("mm", ASI, ""))]);
    let at = |words: &str| r.find(words).unwrap_or_else(|| panic!("no {words:?} in\n{r}"));
    assert!(at("is this panel structure?") < at("\nfail "));
    assert!(r.contains("Who approves the change?"));
    assert!(at("Withheld, and what each waits for") < at("Not checked by this version"));
    assert!(at("Not checked by this version") < at("Cautions"));
    for words in ["loads", "mass", "electrical", "compass", "independence", "approves"] {
        assert!(r[at("Not checked by this version")..].contains(words), "{words}");
    }
    // every withheld finding stands in the list with the number it waits for
    let withheld = r.lines().filter(|l| l.starts_with("withheld  ")).count();
    let list = &r[at("Withheld, and what each waits for")..at("Limits that rest on practice")];
    assert!(
        withheld > 0 && list.lines().filter(|l| l.starts_with("  - ")).count() == withheld,
        "{withheld}: {list}"
    );
}

#[test]
fn the_panel_of_the_readme_is_read() {
    let readme = include_str!("../README.md");
    let start = readme.find("    { \"format\": 1, \"panel\"").unwrap();
    let example: String = readme[start..]
        .lines()
        .take_while(|l| l.starts_with("    "))
        .map(|l| format!("{}\n", &l[4..]))
        .collect();
    let p = panel(&[("p.json", &example)]);
    assert_eq!(p.sheets.first().map(|s| s.structure.1.clone()), Some(Some("the inspector".into())));
}
