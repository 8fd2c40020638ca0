//! Files that other libraries write, contour by contour as other libraries read them.

use super::written::written;
use super::*;
use panelwright::found::Piece;
use panelwright::import::Axes;

/// Has a script write files, reads them, and compares every contour.
fn compare(script: &str, least: usize) {
    let (folder, facts) = written(script);
    assert!(facts.len() >= least, "{}", facts.len());
    // what leaves a circle by more than a few um stays what it is, so that only reading is compared
    let options = Options { round: 2e-3, ..Options::default() };
    for f in &facts {
        let name = f["file"].as_str().unwrap();
        let bytes = std::fs::read(folder.join(name)).unwrap();
        let (file, found) =
            find(name, &bytes, f["unit-mm"].as_f64(), &options).unwrap_or_else(|p| panic!("{p}"));
        assert!(panel(&file, &found).is_some() && found.clean(), "{name}: {:#?}", found.told);
        let contours = f["contours"].as_array().unwrap();
        assert_eq!(found.openings.len() + 1, contours.len(), "{name}: {:#?}", found.told);
        let mut ours: Vec<&Piece> = found.openings.iter().chain(&found.outline).collect();
        for c in contours {
            let v: Vec<f64> = c["box"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
            let (area, length) = (c["area"].as_f64().unwrap(), c["length"].as_f64().unwrap());
            let off = |p: &&Piece| {
                let b = p.contour.bounds();
                let y = if file.axes == Axes::Page { [-b.y1, -b.y0] } else { [b.y0, b.y1] };
                [b.x0, y[0], b.x1, y[1]].iter().zip(&v).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
            };
            let (k, gap) = ours.iter().map(off).enumerate().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
            let p = ours.swap_remove(k);
            // a curve is followed within 1 um, a circle within 2; their own chords leave it by 0.5 um
            assert!(gap < 4e-3, "{name}: no contour within {v:?}, nearest {} off by {gap}", p.id);
            let (a, l) = (p.contour.area(), p.contour.perimeter());
            assert!((a - area).abs() < 3e-3 * length, "{name} {}: area {a}, theirs {area}", p.id);
            assert!(
                (l - length).abs() < 2e-5 * length + 1e-3,
                "{name} {}: length {l}, theirs {length}",
                p.id
            );
        }
    }
}

#[test]
fn curves_and_blocks_of_ezdxf() {
    compare("found_dxf.py", 8);
}

#[test]
fn files_of_svgwrite_and_cairo_as_svgelements_reads_them() {
    compare("found_svg.py", 6);
}
