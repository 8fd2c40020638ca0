//! The invented Wheatear, as found and as proposed: the files are read, resolved, checked and drawn, and
//! the counts of their verdicts are pinned.

use panelwright::check::{self, Findings, Verdict};
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::draw::template::{self, TemplateOptions};
use panelwright::files::Disk;
use panelwright::panel::{Panel, State, SubjectKind};
use panelwright::resolve::{self, Catalogue};
use std::collections::BTreeMap;
use std::sync::Arc;

fn text(path: &str) -> Arc<str> {
    let whole = format!("{}/{path}", env!("CARGO_MANIFEST_DIR"));
    Arc::from(std::fs::read_to_string(&whole).unwrap_or_else(|e| panic!("{path}: {e}")))
}

const FILES: [&str; 4] = [
    "panels/wheatear/as-found.json",
    "panels/wheatear/proposed.json",
    "assets/starter/panel-mm.json",
    "assets/starter/panel-in.json",
];

#[test]
fn panel_files_are_read_without_a_problem() {
    for path in FILES {
        let mut problems = Problems::new();
        let panel = define::read_panel(path, &text(path), &mut problems);
        assert!(problems.is_empty() && panel.is_some(), "{}", problems.render(false));
    }
}

fn resolved(path: &str) -> (Panel, Findings) {
    let files = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let panel = resolve::resolve(path, &files, &Catalogue::builtin());
    let panel = panel.unwrap_or_else(|p| panic!("{}", p.render(false)));
    let findings = check::check(&panel, &check::Options::default());
    (panel, findings)
}

/// Fail, withheld and tight by rule.
fn by_rule(findings: &Findings) -> BTreeMap<(&'static str, &'static str), usize> {
    let mut counts = BTreeMap::new();
    for f in findings.list.iter().filter(|f| f.verdict != Verdict::Pass) {
        *counts.entry((f.verdict.word(), f.rule.id)).or_insert(0) += 1;
    }
    counts
}

#[test]
fn as_found_is_honest() {
    let (panel, findings) = resolved(FILES[0]);
    let expected = BTreeMap::from([
        (("fail", "labelled"), 6),          // nothing on the old panel is named
        (("withheld", "corner-radius"), 1), // nobody has said how it would be cut
        (("withheld", "depth-behind"), 2),  // the duct's bay is not measured
        (("withheld", "least-hole"), 1),
        (("withheld", "spare-hole"), 1), // the voltmeter's hole is open
        (("withheld", "typical"), 13),   // no part has been measured yet
    ]);
    assert_eq!(by_rule(&findings), expected);
    assert!(findings.counts().pass > 150, "{:?}", findings.counts());
    let existing =
        |kind| panel.subjects.iter().filter(|s| s.kind == kind).all(|s| s.state == State::Existing);
    assert!(existing(SubjectKind::Placement));
    assert!(says_not_for_cutting(&panel, &findings, 0));
}

fn says_not_for_cutting(panel: &Panel, findings: &Findings, sheet: usize) -> bool {
    let drawn = template::template(panel, sheet, &findings.list, &TemplateOptions::default());
    let drawn = drawn.unwrap_or_else(|e| panic!("{}: {e}", panel.sheets[sheet].id));
    format!("{drawn:?}").contains("NOT FOR CUTTING")
}

#[test]
fn proposed_may_be_cut() {
    let (panel, findings) = resolved(FILES[1]);
    assert_eq!(by_rule(&findings), BTreeMap::new());
    assert!(findings.counts().pass > 500, "{:?}", findings.counts());
    let placed: Vec<_> = panel.subjects.iter().filter(|s| s.kind == SubjectKind::Placement).collect();
    assert!(placed.len() >= 25, "{} placements", placed.len());
    assert_eq!(placed.iter().filter(|s| s.provision).count(), 1);
    assert!(placed.iter().all(|s| s.checked.is_some()), "every part was measured");
    for kind in [
        "gauge", "display", "radio", "toggle", "breaker", "fuse", "key", "vent", "jack", "outlet", "arm",
        "lamp", "blank",
    ] {
        assert!(placed.iter().any(|s| s.facts.as_ref().is_some_and(|f| f.kind == kind)), "{kind}");
    }
    for sheet in 0..panel.sheets.len() {
        assert!(!says_not_for_cutting(&panel, &findings, sheet), "{}", panel.sheets[sheet].id);
    }
}

/// The panel is laid out about its centreline: what is mirrored stands at the same height, as far out.
#[test]
fn proposed_is_symmetric() {
    let (panel, _) = resolved(FILES[1]);
    let at = |id: &str| panel.subjects[panel.find(id).unwrap_or_else(|| panic!("{id} is placed"))].at;
    for (left, right) in [
        ("asi", "alt"),
        ("tach", "engine"),
        ("vent", "radio"),
        ("cover", "spare"),
        ("outlet", "arm"),
        ("lamp-charge", "lamp-oil"),
        ("sw-master", "sw-light"),
        ("sw-radio", "sw-strobe"),
        ("sw-pump", "sw-screen"),
    ] {
        let (l, r) = (at(left), at(right));
        assert!((l.x + r.x).abs() < 1e-6 && (l.y - r.y).abs() < 1e-6, "{left} {l:?}, {right} {r:?}");
    }
    assert!(at("standby").x.abs() < 1e-6, "what shows the attitude stands before the pilot");
}

/// A starter fails nowhere and is tight nowhere; what it withholds is what only its reader can say.
#[test]
fn starters_wait_only_for_their_reader() {
    for path in &FILES[2..] {
        let (panel, findings) = resolved(path);
        assert_eq!(by_rule(&findings), BTreeMap::from([(("withheld", "typical"), 5)]), "{path}");
        assert_eq!(panel.name, "My panel");
    }
}
