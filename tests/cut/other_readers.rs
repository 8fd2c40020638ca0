//! Files that ezdxf writes and SVG that svgelements reads: every contour's area, length and box against theirs.

use super::written::written;
use super::*;

/// Has a script write files, reads them, and compares contour by contour.
fn compare(script: &str, most_box: f64) {
    let (folder, facts) = written(script);
    assert!(facts.len() >= 5);
    for f in &facts {
        let name = f["file"].as_str().unwrap();
        let file = read(&std::fs::read(folder.join(name)).unwrap());
        let told = match &file.unit.declared {
            import::Declared::InFile(_) => Some(file.unit.name.as_str()),
            import::Declared::ByUser | import::Declared::Missing(_) => None,
        };
        // an SVG without a viewBox names its size, and its user unit is the pixel
        assert_eq!(told.map(|u| u.replace("1/96 in", "mm")).as_deref(), f["unit"].as_str(), "{name}");
        let r = cut::check(&file, &waterjet()).unwrap();
        assert_eq!((r.facts.open, r.facts.contours), (0, f["contours"].as_array().unwrap().len()), "{name}");
        // SVG is told with y down
        let down = file.axes == import::Axes::Page;
        let numbers = |b: [f64; 4], area: f64, length: f64| (b, area, length);
        let mut ours: Vec<_> = r
            .facts
            .list
            .iter()
            .map(|c| {
                let b = c.bounds;
                let y = if down { [-b.y1, -b.y0] } else { [b.y0, b.y1] };
                numbers([b.x0, y[0], b.x1, y[1]], c.area, c.length)
            })
            .collect();
        for c in f["contours"].as_array().unwrap() {
            let v: Vec<f64> = c["box"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
            let (area, length) = (c["area"].as_f64().unwrap(), c["length"].as_f64().unwrap());
            let off =
                |o: &([f64; 4], f64, f64)| o.0.iter().zip(&v).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            let (k, gap) = ours
                .iter()
                .map(off)
                .enumerate()
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .unwrap_or_else(|| panic!("{name}: too few contours"));
            assert!(gap < most_box, "{name}: no contour within {v:?}, nearest off by {gap}");
            let (_, a, l) = ours.swap_remove(k);
            assert!((a - area).abs() < 1e-5 * area, "{name} {v:?}: area {a}, theirs {area}");
            assert!((l - length).abs() < 2e-6 * length, "{name} {v:?}: length {l}, theirs {length}");
        }
        assert!(ours.is_empty());
    }
}

#[test]
fn files_of_ezdxf_in_seven_versions_and_three_units() {
    compare("cut_dxf.py", 1e-4);
}

#[test]
fn files_of_svg_as_svgelements_reads_them() {
    compare("cut_svg.py", 1e-4);
}
