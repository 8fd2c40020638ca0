//! Our own shop files and templates of every demo panel: clean, with the counts that the files themselves tell.

use super::*;
use panelwright::import::Shape;
use std::path::{Path, PathBuf};
use std::process::Command;

fn panels() -> Vec<PathBuf> {
    // measured instruments of a panel stand beside it
    let is_panel = |p: &PathBuf| {
        std::fs::read(p).is_ok_and(|t| {
            serde_json::from_slice::<serde_json::Value>(&t).is_ok_and(|v| v["panel"].is_string())
        })
    };
    let mut found = Vec::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("panels");
    for folder in std::fs::read_dir(root).unwrap().flatten() {
        let Ok(files) = std::fs::read_dir(folder.path()) else { continue };
        found.extend(files.flatten().map(|f| f.path()).filter(is_panel));
    }
    found.sort();
    found
}

/// The number of contours and the size that a shop file tells in its own words.
fn words(file: &CutFile) -> Option<(usize, String)> {
    file.items.iter().find_map(|i| match &i.shape {
        Shape::Mark { words, .. } => {
            let rest = words.strip_prefix("cut layer: ")?;
            let (n, rest) = rest.split_once(" closed contours within ")?;
            Some((n.parse().ok()?, rest.split_once(" mm")?.0.to_owned()))
        }
        _ => None,
    })
}

#[test]
fn every_demo_panels_files_are_clean_and_count_right() {
    let root = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cut-ours");
    let _ = std::fs::remove_dir_all(&root);
    let mut checked = 0;
    let all = panels();
    assert!(all.len() >= 8, "{all:?}");
    for (n, panel) in all.iter().enumerate() {
        let folder = root.join(n.to_string());
        let made = Command::new(env!("CARGO_BIN_EXE_panelwright"))
            .arg("template")
            .arg(panel)
            .args(["--formats", "dxf,dxf-r12,svg", "--out"])
            .arg(&folder)
            .output()
            .unwrap();
        assert!(made.status.code().is_some_and(|c| c < 2), "{}", String::from_utf8_lossy(&made.stderr));
        let mut files: Vec<PathBuf> =
            std::fs::read_dir(&folder).unwrap().flatten().map(|f| f.path()).collect();
        files.sort();
        let shop = |p: &PathBuf| p.extension().is_some_and(|e| e == "dxf" || e == "svg");
        for path in files.iter().filter(|p| shop(p)) {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let file = read(&std::fs::read(path).unwrap());
            // hand work asks for no least hole, and our metal is the panel's own check's to judge
            let options = Options {
                process: Some(ProcessKind::Hand),
                web: Some(0.0),
                tool: Some(0.0),
                ..Options::default()
            };
            let r = cut::check(&file, &options).unwrap();
            if name.contains("front-view") {
                continue;
            }
            let known = [
                "closed",
                "single",
                "crossing",
                "strays",
                "only-contours",
                "all-read",
                "unit",
                "flat",
                "true-arcs",
            ];
            // the neck between two openings of a panel that is not finished may be gone: its own check tells it
            let wrong: Vec<String> = told(&r)
                .into_iter()
                .filter(|t| known.iter().any(|k| t.split(' ').nth(1) == Some(&format!("{k}:"))))
                .collect();
            // a sheet that may not be cut says so, and no other is taken for one
            let barred = told(&r).iter().any(|t| t.starts_with("fail notice:"));
            assert_eq!(barred, name.contains("NOT-FOR-CUTTING"), "{name}");
            if r.facts.contours > 0 {
                assert_eq!(wrong, Vec::<String>::new(), "{name}");
                checked += 1;
            }
            if let Some((contours, size)) = words(&file) {
                assert_eq!(r.facts.contours, contours, "{name}");
                let Some(b) = r.facts.bounds else { continue };
                let told: Vec<f64> = size.split(" x ").map(|v| v.trim().parse().unwrap()).collect();
                for (ours, told) in [b.width(), b.height()].into_iter().zip(told) {
                    assert!((ours - told).abs() < 0.006, "{name}: {ours} x ..., told {told}");
                }
            } else {
                assert!(!name.ends_with(".dxf") || r.facts.contours == 0, "{name} tells no count");
            }
        }
        // every sheet's three files hold the same contours
        for path in files.iter().filter(|p| p.extension().is_some_and(|e| e == "dxf")) {
            let svg = path.with_extension("svg");
            if !svg.exists() {
                continue;
            }
            let lists: Vec<Vec<(f64, f64)>> = [path, &svg]
                .iter()
                .map(|p| {
                    let r = cut::check(&read(&std::fs::read(p).unwrap()), &waterjet()).unwrap();
                    let mut l: Vec<(f64, f64)> = r.facts.list.iter().map(|c| (c.area, c.length)).collect();
                    l.sort_by(|a, b| a.0.total_cmp(&b.0));
                    l
                })
                .collect();
            assert_eq!(lists[0].len(), lists[1].len(), "{}", path.display());
            for (a, b) in lists[0].iter().zip(&lists[1]) {
                assert!(
                    (a.0 - b.0).abs() < 1e-3 && (a.1 - b.1).abs() < 1e-3,
                    "{}: {a:?} {b:?}",
                    path.display()
                );
            }
        }
    }
    assert!(checked >= 20, "only {checked} files");
}
