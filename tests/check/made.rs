//! The generated panels are what the benches say of them.

use crate::panels::*;
use panelwright::check::{Options, check};
use panelwright::panel::{Class, SubjectKind};

#[test]
fn the_crowded_panel_is_crowded() {
    let panel = crowded(1);
    let placements = panel.subjects.iter().filter(|s| s.kind == SubjectKind::Placement).count();
    assert_eq!(placements, 60);
    let bezels = panel.subjects.iter().flat_map(|s| &s.parts).filter(|p| p.class == Class::Bezel);
    let covered: f64 = bezels.map(|p| p.contour.signed_area().abs()).sum();
    let sheet = panel.sheets[0].outline.signed_area().abs();
    assert!(covered >= 0.45 * sheet, "bezels on {:.0} % of the sheet", 100.0 * covered / sheet);

    let findings = check(&panel, &Options { all_pairs: true });
    let close = findings.list.iter().filter(|f| {
        let placed = |r: panelwright::panel::PartRef| panel.subject(r).kind == SubjectKind::Placement;
        let two = f.b.is_some_and(|b| b.subject != f.a.subject && placed(b));
        let under = f.measured.zip(f.asked).is_some_and(|(m, a)| a > 0.0 && m.lower < 2.0 * a);
        two && under
    });
    let close = close.count();
    assert!(close >= 100, "{close} pairs under twice their limit");
    let counts = findings.counts();
    println!("{counts:?}, {close} close pairs, bezels on {:.0} %", 100.0 * covered / sheet);
}

#[test]
fn the_same_seed_gives_the_same_findings() {
    let (a, b) = (check(&crowded(3), &Options::default()), check(&crowded(3), &Options::default()));
    assert_eq!(a, b);
}
