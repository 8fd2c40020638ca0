//! The command from outside: files, exit codes, pages asked for, nothing left that contradicts.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
const PROPOSED: &str = "panels/wheatear/proposed.json";
const AS_FOUND: &str = "panels/wheatear/as-found.json";

fn run(args: &[&str]) -> Output {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(ROOT).output().unwrap()
}

fn folder(name: &str) -> PathBuf {
    let p = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("drawing-{name}"));
    let _ = std::fs::remove_dir_all(&p);
    p
}

fn names(folder: &Path) -> Vec<String> {
    let mut list: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .flatten()
        .map(|e| e.file_name().to_string_lossy().into())
        .collect();
    list.sort();
    list
}

#[test]
fn one_drawing_a_sheet_and_the_front_view_when_asked() {
    let out = folder("files");
    let o = run(&["drawing", PROPOSED, "--formats", "pdf", "--front-view", "--out", &out.to_string_lossy()]);
    assert_eq!(o.status.code(), Some(0), "{}", String::from_utf8_lossy(&o.stderr));
    assert_eq!(
        names(&out),
        [
            "wheatear-proposed-arm-doubler-drawing.pdf",
            "wheatear-proposed-drawing.pdf",
            "wheatear-proposed-front-view.pdf"
        ]
    );
    let said = String::from_utf8_lossy(&o.stdout).into_owned();
    assert!(said.contains("Do not scale") && said.contains("it approves nothing"), "{said}");
    let first: Vec<Vec<u8>> = names(&out).iter().map(|n| std::fs::read(out.join(n)).unwrap()).collect();
    run(&["drawing", PROPOSED, "--formats", "pdf", "--front-view", "--out", &out.to_string_lossy()]);
    let again: Vec<Vec<u8>> = names(&out).iter().map(|n| std::fs::read(out.join(n)).unwrap()).collect();
    assert!(first == again, "the same bytes on a second run");
}

#[test]
fn verdicts_that_bar_cutting_stand_in_the_name_and_the_exit_code() {
    let out = folder("barred");
    std::fs::create_dir_all(&out).unwrap();
    std::fs::write(out.join("as-found-drawing.pdf"), "older").unwrap();
    // what an earlier run made carries the program's mark
    let own = "<</Creator(panelwright 0.1.0)>>";
    std::fs::write(out.join("wheatear-as-found-drawing.pdf"), own).unwrap();
    let o = run(&["drawing", AS_FOUND, "--formats", "pdf", "--page", "a2", "--out", &out.to_string_lossy()]);
    assert_eq!(o.status.code(), Some(1), "{}", String::from_utf8_lossy(&o.stderr));
    let list = names(&out);
    assert!(list.contains(&"NOT-FOR-CUTTING-wheatear-as-found-drawing.pdf".into()), "{list:?}");
    assert!(
        !list.contains(&"wheatear-as-found-drawing.pdf".into()),
        "an older one that may be cut stays: {list:?}"
    );
}

#[test]
fn what_cannot_be_drawn_or_written_is_told_and_writes_nothing() {
    let out = folder("blocked");
    std::fs::write(&out, "a file").unwrap();
    let o = run(&["drawing", PROPOSED, "--out", &out.to_string_lossy()]);
    assert_eq!(o.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&o.stderr).contains("a file of that name is there"));
    assert_eq!(std::fs::read_to_string(&out).unwrap(), "a file");
    let o = run(&["drawing", PROPOSED, "--page", "a7"]);
    assert_eq!(o.status.code(), Some(2));
    let o = run(&["drawing", "panels/no-such.json"]);
    assert_eq!(o.status.code(), Some(2));
}
