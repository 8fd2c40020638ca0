//! The whole program on changed files: what is refused writes nothing.

use super::judge::read;
use super::tally::{by_lot, files};
use std::fs;
use std::path::Path;
use std::process::Command;

#[test]
fn what_is_refused_writes_nothing() {
    let files = files();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("mutated");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("own/x")).unwrap();
    let mut ran = [0, 0];
    for k in 0.. {
        if ran.iter().all(|n| *n >= 10) {
            break;
        }
        let (file, change) = by_lot(k, &files);
        let (name, text, _) = &files[file];
        let bytes = change.apply(text);
        let kind = usize::from(name.starts_with("instruments/"));
        if ran[kind] >= 10 || read(name, &bytes).is_ok() || text.contains(".json\"") {
            continue;
        }
        ran[kind] += 1;
        let panel = if kind == 0 {
            fs::write(folder.join("p.json"), &bytes).unwrap();
            "p.json"
        } else {
            fs::write(folder.join("own/x/y.json"), &bytes).unwrap();
            fs::write(
                folder.join("q.json"),
                r#"{ "format": 1, "panel": "Q", "unit": "mm", "sheet": { "outline": "M 0 0 H 600 V 400 H 0 Z", "new": true },
                "place": [ { "id": "one", "instrument": "x/y", "at": [300, 200] } ] }"#,
            )
            .unwrap();
            "q.json"
        };
        for command in ["template", "report", "drawing", "check"] {
            let mut args = vec![command, panel, "--instruments", "own"];
            if command != "check" {
                args.extend(["--out", "out"]);
            }
            let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
                .args(&args)
                .current_dir(&folder)
                .env_remove("RUST_BACKTRACE")
                .output()
                .unwrap();
            let (out, err) = (String::from_utf8_lossy(&o.stdout), String::from_utf8_lossy(&o.stderr));
            let what = format!("{k}: {name}, {}: {args:?}\n{out}\n{err}", change.what);
            assert_eq!(o.status.code(), Some(2), "{what}");
            assert!(out.is_empty(), "{what}");
            assert!(err.contains(if kind == 0 { "p.json:" } else { "own/x/y.json:" }), "{what}");
            assert!(!folder.join("out").exists(), "{what}");
        }
    }
    fs::remove_dir_all(folder).unwrap();
}
