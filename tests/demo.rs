//! The invented aeroplanes, as found and as proposed: their files are read, resolved, checked and drawn, the
//! counts of their verdicts are pinned, and what the story of each says is so.

#[path = "demo/corncrake.rs"]
mod corncrake;
#[path = "demo/dunlin.rs"]
mod dunlin;
#[path = "demo/kit.rs"]
mod kit;
#[path = "demo/wheatear.rs"]
mod wheatear;

use kit::*;
use panelwright::check::Verdict;
use panelwright::define;
use panelwright::diag::Problems;
use panelwright::panel::{State, SubjectKind};
use std::collections::{BTreeMap, BTreeSet};

/// Each panel as found and as proposed.
const PAIRS: [[&str; 2]; 4] = [corncrake::FLOATING, corncrake::FIXED, dunlin::FILES, wheatear::FILES];

const STARTERS: [&str; 2] = ["assets/starter/panel-mm.json", "assets/starter/panel-in.json"];

#[test]
fn panel_files_are_read_without_a_problem() {
    for path in PAIRS.iter().flatten().chain(&STARTERS) {
        let mut problems = Problems::new();
        let panel = define::read_panel(path, &text(path), &mut problems);
        assert!(problems.is_empty() && panel.is_some(), "{}", problems.render(false));
    }
}

#[test]
fn as_found_everything_is_there_and_nothing_may_be_cut() {
    for [path, _] in PAIRS {
        let (panel, findings) = resolved(path);
        assert!(panel.subjects.iter().all(|s| s.state == State::Existing), "{path}");
        assert!(!findings.all_pass(), "{path} has faults to find");
        assert!(!says_may_be_cut(&panel, &findings), "{path}");
    }
}

#[test]
fn proposed_may_be_cut_on_every_sheet() {
    for [_, path] in PAIRS {
        let (panel, findings) = resolved(path);
        assert_eq!((findings.counts().fail, findings.counts().tight), (0, 0), "{path}");
        assert!(says_may_be_cut(&panel, &findings), "{path}");
        // where something is withheld, somebody has accepted it by its name and said why
        let withheld: BTreeSet<String> =
            findings.list.iter().filter(|f| f.verdict == Verdict::Withheld).map(|f| f.id(&panel)).collect();
        let accepted: BTreeSet<String> = panel.accepted.iter().map(|a| a.finding.clone()).collect();
        assert_eq!(withheld, accepted, "{path}");
        assert_eq!(panel.cut_anyway.is_some(), !withheld.is_empty(), "{path}");
    }
}

/// What is proposed was measured on the part, has its lettering, and its sheets say who answers for them.
#[test]
fn proposed_is_ready_for_its_reader() {
    for [_, path] in PAIRS {
        let (panel, _) = resolved(path);
        let named: BTreeSet<&str> = panel.subjects.iter().filter_map(label_of).collect();
        for s in placements(&panel) {
            assert!(s.checked.is_some(), "{path}: {} was measured", s.id);
            let wants = s.facts.as_ref().is_some_and(|f| f.needs_label);
            assert!(!wants || named.contains(s.id.as_str()), "{path}: {} is named", s.id);
        }
        for key in ["owner", "number", "revision", "drawn-by"] {
            assert!(panel.title.get(key).is_some_and(|t| !t.is_empty()), "{path}: {key}");
        }
        assert!(panel.process.is_some() && panel.eye_distance.is_some() && panel.tilt.is_some(), "{path}");
        assert!(panel.sheets[0].thickness.is_some() && panel.sheets[0].coat > Some(0.0), "{path}");
    }
}

#[test]
fn together_they_show_most_of_what_there_is_to_place() {
    let mut kinds = BTreeSet::new();
    let mut most = 0;
    for path in PAIRS.iter().flatten() {
        let (panel, _) = resolved(path);
        most = most.max(placements(&panel).count());
        kinds.extend(placements(&panel).filter_map(|s| Some(s.facts.as_ref()?.kind.clone())));
    }
    assert!(most >= 65, "the largest has {most} placements");
    for kind in [
        "arm",
        "blank",
        "box",
        "breaker",
        "clock",
        "compass",
        "dimmer",
        "display",
        "fuse",
        "gauge",
        "jack",
        "key",
        "lamp",
        "mount",
        "outlet",
        "placard",
        "push-pull",
        "radio",
        "rotary",
        "stack",
        "toggle",
        "valve",
        "vent",
    ] {
        assert!(kinds.contains(kind), "no {kind} in {kinds:?}");
    }
}

/// Zones with a reason, openings that stayed, flanges and depth areas, some of them not measured yet.
#[test]
fn sheets_have_a_history_and_neighbours() {
    for [found, _] in PAIRS {
        let (panel, _) = resolved(found);
        let has = |kind| panel.subjects.iter().any(|s| s.kind == kind);
        assert!(has(SubjectKind::OldOpening), "{found}");
        let zoned = panel.subjects.iter().filter(|s| s.kind == SubjectKind::Zone);
        assert!(zoned.clone().all(|z| !z.title.is_empty()), "{found}");
        assert!(found == corncrake::FLOATING[0] || zoned.count() >= 3, "{found}");
        assert!(panel.depth.areas.len() >= 2, "{found}");
    }
}

/// A starter fails nowhere and is tight nowhere; what it withholds is what only its reader can say.
#[test]
fn starters_wait_only_for_their_reader() {
    for path in STARTERS {
        let (panel, findings) = resolved(path);
        assert_eq!(by_rule(&findings), BTreeMap::from([(("withheld", "typical"), 4)]), "{path}");
        assert_eq!(panel.name, "My panel");
    }
}
