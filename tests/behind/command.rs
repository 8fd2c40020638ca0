//! The commands from outside: files, exit codes, what a wrong line is told.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PROPOSED: &str = "panels/wheatear/proposed.json";
const AS_FOUND: &str = "panels/wheatear/as-found.json";

fn run(args: &[&str]) -> Output {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("runs")
}

fn folder(name: &str) -> PathBuf {
    let p = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("behind-{name}"));
    let _ = std::fs::remove_dir_all(&p);
    p
}

fn names(folder: &Path) -> Vec<String> {
    let list = std::fs::read_dir(folder).expect("a folder").flatten();
    let mut list: Vec<String> = list.map(|e| e.file_name().to_string_lossy().into()).collect();
    list.sort();
    list
}

#[test]
fn views_sections_and_the_card_are_written_and_twice_the_same() {
    let out = folder("files");
    let to = out.to_string_lossy();
    let runs: [&[&str]; 3] = [
        &["behind", PROPOSED, "--formats", "pdf", "--out", &to],
        &["behind", PROPOSED, "--section", "alt", "--section", "y=3in", "--formats", "svg", "--out", &to],
        &["control-card", PROPOSED, "--out", &to],
    ];
    let check = run(&["check", PROPOSED]).status.code();
    let mut first: Vec<Vec<u8>> = Vec::new();
    for again in [false, true] {
        for args in runs {
            let o = run(args);
            assert_eq!(o.status.code(), check, "{}", String::from_utf8_lossy(&o.stderr));
            assert!(String::from_utf8_lossy(&o.stdout).contains("it approves nothing"));
        }
        let bytes: Vec<Vec<u8>> =
            names(&out).iter().map(|n| std::fs::read(out.join(n)).expect("read")).collect();
        assert!(!again || bytes == first, "the same bytes on a second run");
        first = bytes;
    }
    let list = names(&out).join(" ");
    for end in [
        "from-behind.pdf",
        "depth-map.pdf",
        "depth-table.pdf",
        "sections-a",
        "sections-c",
        "control-card.pdf",
    ] {
        assert!(list.contains(end), "{end} in {list}");
    }
}

#[test]
fn a_panel_that_fails_says_so_in_names_and_exit_code() {
    let out = folder("barred");
    let o =
        run(&["behind", AS_FOUND, "--views", "table", "--formats", "pdf", "--out", &out.to_string_lossy()]);
    let check = run(&["check", AS_FOUND]).status.code();
    assert_eq!(o.status.code(), check);
    let list = names(&out);
    assert_eq!(list.len(), 1);
    assert_eq!(list[0].starts_with("NOT-FOR-CUTTING-"), check == Some(1), "{list:?}");
}

#[test]
fn a_line_that_cannot_be_drawn_is_told_and_nothing_is_written() {
    for (section, says) in [
        ("altimetre", "there is no item \"altimetre\""),
        ("x=abc", "--section x=abc"),
        ("y=9000", "meets nothing"),
        ("x=", "--section x="),
    ] {
        let out = folder("wrong");
        let o = run(&["behind", PROPOSED, "--section", section, "--out", &out.to_string_lossy()]);
        let said = String::from_utf8_lossy(&o.stderr);
        assert!(o.status.code() == Some(2) && said.contains(says), "{section}: {said}");
        assert!(!out.exists(), "{section}");
    }
}
