//! What a command reads: the standard input, and every file that a watched panel is made of.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

const SHEET: &str = r#""sheet": { "material": "6061-T6", "thickness": 2, "new": true, "outline": { "file": "shapes/outline.txt" } }"#;
const OUTLINE: &str = "M 0 0 H 300 V 100 H 0 Z";
const LAMP: &str = r#"{ "format": 1, "instrument": "Lamp", "kind": "lamp", "unit": "mm",
  "openings": [{ "id": "main", "shape": { "circle": 8 } }] }"#;

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("input-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

fn program(folder: &Path, args: &[&str]) -> Command {
    let mut c = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    c.args(args).current_dir(folder).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    c
}

fn with_input(folder: &Path, args: &[&str], input: &[u8]) -> (i32, String, String) {
    let mut child = program(folder, args).spawn().unwrap();
    // the program may end without reading all of it
    let _ = child.stdin.take().unwrap().write_all(input);
    let o = child.wait_with_output().unwrap();
    let text = |b: &[u8]| String::from_utf8_lossy(b).into_owned();
    (o.status.code().unwrap_or(-1), text(&o.stdout), text(&o.stderr))
}

#[test]
fn a_panel_comes_from_the_standard_input() {
    let folder = folder("pipe");
    let (code, _, err) = with_input(&folder, &["new", "p.json"], b"");
    assert_eq!(code, 0, "{err}");
    let text = fs::read(folder.join("p.json")).unwrap();
    let (_, by_name, _) = with_input(&folder, &["check", "p.json"], b"");
    let (code, piped, err) = with_input(&folder, &["check", "-"], &text);
    assert_eq!(code, 1, "{err}");
    assert_eq!(piped, by_name.replace("at p.json:", "at -:"));
    // sheets of it, and an error in it
    let (code, out, err) = with_input(&folder, &["template", "-", "--formats", "svg"], &text);
    assert_eq!(code, 1, "{err}");
    assert!(out.contains("panel-front-view.svg"), "{out}");
    let (code, out, err) = with_input(&folder, &["check", "-"], b"{ \"format\": 1, }");
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("-:1:"), "{err}");
    // what it builds on is taken from the folder where the program runs
    let derived =
        br#"{ "format": 1, "panel": "D", "unit": "mm", "builds-on": "p.json", "remove": ["altimeter"] }"#;
    let (code, out, err) = with_input(&folder, &["check", "-"], derived);
    assert_eq!(code, 1, "{err}");
    assert!(out.contains("airspeed.") && !out.contains("altimeter."), "{out}");
    let (code, _, err) = with_input(&folder, &["check", "-", "--watch"], b"");
    assert_eq!(code, 2);
    assert!(err.contains("the standard input cannot be watched"), "{err}");
    fs::remove_dir_all(folder).unwrap();
}

/// A watching program; ended when dropped.
struct Watching {
    child: Child,
    told: Receiver<String>,
}

impl Watching {
    fn start(folder: &Path, args: &[&str]) -> Watching {
        let mut child = program(folder, args).stdout(Stdio::null()).spawn().unwrap();
        let err = BufReader::new(child.stderr.take().unwrap());
        let (sender, told) = channel();
        std::thread::spawn(move || {
            for line in err.lines().map_while(Result::ok).filter(|l| l.starts_with("watching")) {
                if sender.send(line).is_err() {
                    break;
                }
            }
        });
        Watching { child, told }
    }

    /// Waits until the command has run once more.
    fn ran(&self, why: &str) -> String {
        self.told
            .recv_timeout(Duration::from_secs(120))
            .unwrap_or_else(|_| panic!("did not run again: {why}"))
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The panel in one folder builds on a file in a second, whose outline is a drawing in a third; an instrument
/// comes from a folder of the user's own, another from a file beside the panel's.
#[test]
fn every_file_that_is_read_is_watched() {
    let root = folder("watch");
    for sub in ["panels", "base/shapes", "own/lamp", "parts"] {
        fs::create_dir_all(root.join(sub)).unwrap();
    }
    let write = |name: &str, text: &str| fs::write(root.join(name), text).unwrap();
    write("base/shapes/outline.txt", OUTLINE);
    write(
        "base/found.json",
        &format!(
            "{{ \"format\": 1, \"panel\": \"B\", \"unit\": \"mm\", {SHEET},\n\"place\": [ {{ \"id\": \"a\", \"instrument\": \"lamp/mine\", \"at\": [50, 50] }} ] }}"
        ),
    );
    write("own/lamp/mine.json", LAMP);
    write("parts/lamp.json", LAMP);
    let panel = r#"{ "format": 1, "panel": "P", "unit": "mm", "builds-on": "../base/found.json",
        "place": [ { "id": "b", "instrument": "../parts/lamp.json", "at": [150, 50] } ] }"#;
    write("panels/p.json", panel);
    let (code, out, err) =
        with_input(&root, &["check", "panels/p.json", "--instruments", "own", "--only-fail"], b"");
    assert!(code < 2 && out.contains("a.cutout"), "{out}{err}");
    let w = Watching::start(&root, &["check", "panels/p.json", "--instruments", "own", "--watch"]);
    assert_eq!(w.ran("at first"), "watching 4 files (interrupt to end)");
    for (name, text) in [
        ("base/shapes/outline.txt", OUTLINE.replace("300", "310")),
        (
            "base/found.json",
            fs::read_to_string(root.join("base/found.json")).unwrap().replace("[50, 50]", "[60, 50]"),
        ),
        ("own/lamp/mine.json", LAMP.replace("\"circle\": 8", "\"circle\": 9")),
        ("parts/lamp.json", LAMP.replace("\"circle\": 8", "\"circle\": 10")),
        ("panels/p.json", panel.replace("[150, 50]", "[160, 50]")),
    ] {
        write(name, &text);
        w.ran(name);
        // a file that is broken for a while is watched on
        if name == "base/found.json" {
            write(name, "{");
            w.ran("broken");
            write(name, &text);
            w.ran("mended");
        }
    }
    drop(w);
    fs::remove_dir_all(root).unwrap();
}
