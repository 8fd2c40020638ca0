//! Our own templates back again: every sheet of every demo panel, in SVG and both versions of DXF.

use super::*;
use panelwright::geom::{Contour, Segment, Vec2, distance};
use panelwright::panel::Class;
use std::path::{Path, PathBuf};
use std::process::Command;

fn demo_panels() -> Vec<PathBuf> {
    let is_panel = |p: &PathBuf| {
        std::fs::read(p).is_ok_and(|t| {
            serde_json::from_slice::<serde_json::Value>(&t).is_ok_and(|v| v["panel"].is_string())
        })
    };
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("panels");
    let mut found: Vec<PathBuf> = std::fs::read_dir(root)
        .unwrap()
        .flatten()
        .filter_map(|folder| std::fs::read_dir(folder.path()).ok())
        .flat_map(|files| files.flatten().map(|f| f.path()).filter(is_panel).collect::<Vec<_>>())
        .collect();
    found.sort();
    found
}

/// Largest distance from points along one contour to the other.
fn apart(a: &Contour, b: &Contour) -> f64 {
    let near = |p| distance::point_contour(p, b).distance;
    let along = |s: &Segment| [0.0, 0.21, 0.5, 0.83].map(|t| near(s.at(t))).into_iter().fold(0.0, f64::max);
    a.segments().iter().map(along).fold(0.0, f64::max)
}

fn moved(c: &Contour, by: Vec2) -> Contour {
    panelwright::geom::Transform::place(by.to_point(), 0.0, false).contour(c)
}

#[test]
fn every_sheet_of_every_demo_panel_comes_back() {
    let root = Path::new(env!("CARGO_TARGET_TMPDIR")).join("import-ours");
    let _ = std::fs::remove_dir_all(&root);
    let all = demo_panels();
    assert!(all.len() >= 10, "{all:?}");
    let (mut files, mut named, mut openings) = (0, 0, 0);
    for (n, path) in all.iter().enumerate() {
        let name = path.to_string_lossy().into_owned();
        let panel_before = resolve::resolve(&name, &panelwright::files::Disk::new(""), &Catalogue::builtin())
            .unwrap_or_else(|p| panic!("{p}"));
        let folder = root.join(n.to_string());
        let made = Command::new(env!("CARGO_BIN_EXE_panelwright"))
            .arg("template")
            .arg(path)
            .args(["--formats", "dxf,dxf-r12,svg", "--out"])
            .arg(&folder)
            .output()
            .unwrap();
        assert!(made.status.code().is_some_and(|c| c < 2), "{}", String::from_utf8_lossy(&made.stderr));
        let mut list: Vec<PathBuf> =
            std::fs::read_dir(&folder).unwrap().flatten().map(|f| f.path()).collect();
        list.sort();
        for p in list {
            let ending = p.extension().unwrap().to_string_lossy().into_owned();
            let text = std::fs::read_to_string(&p).unwrap_or_default();
            // the front view is no template
            if !matches!(ending.as_str(), "dxf" | "svg") || p.to_string_lossy().contains("front-view") {
                continue;
            }
            let label = p.file_name().unwrap().to_string_lossy().into_owned();
            let sheet_name = text
                .lines()
                .find_map(|l| l.trim().strip_prefix("sheet: "))
                .unwrap_or_else(|| panic!("{label}"));
            let sheet = panel_before.sheets.iter().position(|s| s.id == sheet_name).unwrap() as u32;
            let (file, f) =
                find(&label, text.as_bytes(), None, &Options::default()).unwrap_or_else(|p| panic!("{p}"));
            assert!(f.clean(), "{label}: {:?}", f.told);
            assert!(f.proposals.iter().all(|p| p.kind == found::Kind::Size), "{label}: {:?}", f.proposals);
            let back = panel(&file, &f).unwrap_or_else(|| panic!("{label}: {:?}", f.told));
            named += compare(&label, &panel_before, sheet, &back);
            openings += f.openings.len();
            files += 1;
        }
    }
    assert!(files >= 50 && openings > 1500, "{files} files, {openings} openings");
    assert!(named > 500, "only {named} openings bear the name of their item");
}

/// Compares edge and openings; how many openings bear the id of their item.
fn compare(label: &str, before: &Panel, sheet: u32, back: &Panel) -> usize {
    let of = |p: &Panel, sheet: Option<u32>, edge: bool| -> Vec<(String, Contour)> {
        p.subjects
            .iter()
            // room that is kept free is not cut
            .filter(|s| !s.provision)
            .flat_map(|s| s.parts.iter().map(move |part| (s.id.clone(), part)))
            .filter(|(_, p)| sheet.is_none_or(|s| p.sheet == s))
            .filter(|(_, p)| match p.class {
                Class::Edge => edge,
                Class::Cutout | Class::Hole | Class::OldOpening => !edge,
                _ => false,
            })
            .map(|(id, p)| (id, p.contour.clone()))
            .collect()
    };
    let (edge, new_edge) = (of(before, Some(sheet), true), of(back, Some(0), true));
    let shift = new_edge[0].1.bounds().origin() - edge[0].1.bounds().origin();
    let edge = moved(&edge[0].1, shift);
    let off = apart(&edge, &new_edge[0].1).max(apart(&new_edge[0].1, &edge));
    assert!(off < 1e-3, "{label}: the edge is off by {off}");
    let list = |sheet: Option<u32>| -> Vec<(String, Contour)> {
        of(before, sheet, false).into_iter().map(|(id, c)| (id, moved(&c, shift))).collect()
    };
    // an overlay has the openings of the sheets below it
    let (olds, all) = (list(Some(sheet)), list(None));
    let news = of(back, Some(0), false);
    let mut named = 0;
    for (id, c) in &news {
        let best = all
            .iter()
            .filter(|(_, o)| (o.bounds().center() - c.bounds().center()).hypot() < 0.01)
            .map(|(old, o)| (apart(c, o).max(apart(o, c)), old))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((off, old)) = best else { panic!("{label}: {id} is not in the panel") };
        assert!(off < 1e-3, "{label}: {id} is off by {off} from {old}");
        named += usize::from(id == old || id.strip_prefix(old.as_str()).is_some_and(|r| r.starts_with('-')));
    }
    for (id, o) in &olds {
        let there = |c: &Contour| apart(o, c).max(apart(c, o)) < 1e-3;
        let swallowed = || {
            olds.iter()
                .any(|(_, big)| big.area() > o.area() && big.bounds().union(o.bounds()) == big.bounds())
        };
        assert!(news.iter().any(|(_, c)| there(c)) || swallowed(), "{label}: {id} is lost");
    }
    named
}
