//! Panels to draw: the demo panels, and random ones of many sizes and units.

use crate::panels::*;
use panelwright::check::{self, Finding};
use panelwright::draw::Drawing;
use panelwright::draw::drawing::{DrawingOptions, drawing};
use panelwright::files::Disk;
use panelwright::geom::{Contour, Corner, Point, Transform, Vec2};
use panelwright::panel::*;
use panelwright::resolve::{self, Catalogue};
use panelwright::units::Unit;

/// Every panel file of the demo folder, resolved.
pub fn demos() -> Vec<Panel> {
    let root = env!("CARGO_MANIFEST_DIR");
    let files = Disk::new(root);
    let mut paths = Vec::new();
    for folder in std::fs::read_dir(format!("{root}/panels")).unwrap().flatten() {
        for file in std::fs::read_dir(folder.path()).unwrap().flatten() {
            let text = std::fs::read_to_string(file.path()).unwrap();
            // measured instruments may lie beside their panel
            if text.contains("\"panel\":") {
                let path = file.path();
                paths.push(path.strip_prefix(root).unwrap().to_string_lossy().into_owned());
            }
        }
    }
    paths.sort();
    assert!(paths.len() >= 2);
    let one = |path: &String| {
        resolve::resolve(path, &files, &Catalogue::builtin())
            .unwrap_or_else(|p| panic!("{}", p.render(false)))
    };
    paths.iter().map(one).collect()
}

pub fn findings(panel: &Panel) -> Vec<Finding> {
    check::check(panel, &check::Options::default()).list
}

/// The drawing of one sheet on the page that the program chooses.
pub fn draw(panel: &Panel, sheet: usize) -> Drawing {
    drawing(panel, sheet, &[], &DrawingOptions::default()).unwrap_or_else(|e| panic!("{}: {e}", panel.name))
}

/// A random panel: a messy one, or one of 1 to 60 placements on 60 to 950 mm, every third in inches, some with
/// outlines, turns and datums that are nowhere near round numbers.
pub fn random(seed: u64) -> Panel {
    let mut dice = Dice::new(seed.wrapping_mul(0x9E37) ^ 0xD1A6);
    let d = &mut dice;
    let mut panel = match seed % 3 {
        0 => crate::messy::messy(seed),
        _ => spread_out(d, seed),
    };
    if d.one_in(3) {
        panel.unit = Unit::Inch;
    }
    panel.hash = "0123456789abcdef".into();
    if d.one_in(5) {
        panel.name =
            "A panel with a title as long as the committee could agree upon in one evening, and more".into();
        panel.title.fields.push(("supplementary-title".into(), "with all that was asked for".into()));
        panel
            .title
            .fields
            .push(("owner".into(), "the gliding club at the invented field behind the hills".into()));
        panel.title.fields.push(("approved-by".into(), "".into()));
    }
    if d.one_in(4) {
        let one = |k: usize| Revision {
            index: "ABCDEFGH"[k..=k].into(),
            date: "2031-05-01".into(),
            change: "the engine display moved and one more breaker, as the report of the fit check asked"
                .into(),
            by: "the builder".into(),
        };
        panel.title.revisions = (0..1 + d.below(8)).map(one).collect();
    }
    panel
}

fn spread_out(d: &mut Dice, seed: u64) -> Panel {
    let (w, h) = if seed % 10 == 1 { (60.0, 45.0) } else { (d.real(90.0, 950.0), d.real(70.0, 380.0)) };
    let mut panel = bare(w, h);
    let datum =
        if d.one_in(2) { Vec2::ZERO } else { Vec2::new(d.real(-700.0, 300.0), d.real(-300.0, 300.0)) };
    let outline = match d.below(4) {
        0 => Contour::rect(Point::new(w / 2.0, h / 2.0), w, h, d.real(0.0, 20.0)),
        1 => {
            let corners = [Corner::Clip(d.real(3.0, 15.0), d.real(3.0, 15.0)), Corner::Round(9.0)];
            let all = [corners[0], corners[1], Corner::Sharp, corners[0]];
            Contour::rect_corners(Point::new(w / 2.0, h / 2.0), w, h, all)
        }
        2 => {
            let sheet = Contour::rect(Point::new(w / 2.0, h / 2.0), w, h, 7.5);
            let bite = Contour::circle(Point::new(w * d.real(0.3, 0.7), -5.0), d.real(9.0, 0.2 * w));
            sheet.without(&bite).map(|mut c| c.remove(0)).unwrap_or(sheet)
        }
        _ => {
            let turn = Transform::place(Point::ORIGIN, d.real(-40.0, 40.0), false);
            turn.contour(&Contour::rect(Point::new(w / 2.0, h / 2.0), w, h, 11.0))
        }
    };
    let outline = Transform::shift(datum).contour(&outline);
    panel.sheets[0].outline = outline.clone();
    panel.subjects[0].parts[0] = part("", Class::Edge, outline.clone(), Detail::Plain);
    let pitch = d.real(24.0, 80.0);
    let b = outline.bounds();
    let (across, up) = ((b.width() / pitch) as usize, (b.height() / pitch) as usize);
    for k in 0..(across * up).min(60) {
        let cell = Vec2::new((k % across) as f64 + 0.5, (k / across) as f64 + 0.5) * pitch;
        let at = b.origin() + cell + Vec2::new(d.real(-1.0, 1.0), d.real(-1.0, 1.0));
        if !d.one_in(5) {
            panel.subjects.push(item(d, k, at, pitch));
        }
    }
    panel
}

fn item(d: &mut Dice, k: usize, at: Point, pitch: f64) -> Subject {
    let mut s = subject(&format!("item-{k}"), SubjectKind::Placement, at);
    s.facts = Some(std::sync::Arc::new(facts()));
    if d.one_in(6) {
        s.state = State::Existing;
    }
    s.provision = d.one_in(9);
    let make = if d.one_in(9) { Make::FromPart } else { Make::Drawing };
    let size = d.real(5.0, 0.62 * pitch);
    let c = match d.below(6) {
        0 => {
            let round = Contour::circle(at, size / 2.0);
            let bite = Contour::circle(at + Vec2::new(size * 0.4, -size * 0.3), size * 0.2);
            round.union(&bite).map(|mut c| c.remove(0)).unwrap_or(round)
        }
        1 => Contour::slot(at, at + Vec2::new(size * 0.3, size * 0.2), size * 0.2),
        _ => shape(d, at, size),
    };
    s.parts.push(part("cutout", Class::Cutout, c, Detail::Cutout { make }));
    if pitch > 45.0 && d.one_in(2) {
        for (n, (x, y)) in [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].into_iter().enumerate() {
            let kind = if d.one_in(3) { HeadKind::Countersunk } else { HeadKind::Raised };
            let c = at + Vec2::new(x, y) * (0.4 * pitch);
            s.parts.push(screw_hole(&format!("screw-{}", n + 1), c, 3.5, kind));
        }
    }
    let bezel = Contour::rect(at, 0.8 * pitch, 0.8 * pitch, 3.0);
    s.parts.push(part("bezel", Class::Bezel, bezel, Detail::Plain));
    s
}
