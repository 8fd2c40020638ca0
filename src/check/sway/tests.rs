//! A floating panel of 100 x 60 mm in an opening with room round it.

use super::super::scene::*;
use super::*;
use crate::check::Verdict;
use crate::panel::{Detail, Sheet, Sway};

const SWAY: Sway = Sway { left: 4.0, right: 4.0, up: 2.0, down: 5.0, forward: 3.0, aft: 6.0 };

/// What was measured, to the hundredth of a micrometre: how far something sticks out is told to a micrometre.
fn near(f: &Finding) -> f64 {
    (f.measured.unwrap().lower * 1e5).round() / 1e5
}

/// The opening is 120 x 80 mm about (200, 100); the floating sheet stands at the depth `front`, its middle `off` below.
fn floating(front: f64, off: f64, sway: Option<Sway>) -> Scene {
    let mut s = Scene::new();
    let bay = s.subject("bay", SubjectKind::OldOpening);
    s.part(bay, "", Class::OldOpening, rect(200.0, 100.0, 120.0, 80.0), Detail::Plain);
    let outline = rect(200.0, 100.0 - off, 100.0, 60.0);
    let edge = s.subject("centre:sheet", SubjectKind::Sheet);
    let sheet = Sheet {
        id: "centre:sheet".into(),
        role: SheetRole::Floating,
        subject: edge as u32,
        outline: outline.clone(),
        front,
        ..s.panel.sheets[0].clone()
    };
    s.panel.sheets.push(sheet);
    s.panel.subjects[edge].sheet = 1;
    s.panel.subjects[edge].group = 1;
    s.part(edge, "", Class::Edge, outline, Detail::Plain);
    let mount = s.placement("centre:mount-1", |f| f.kind = "mount".into());
    s.part(mount, "hole", Class::Hole, circle(120.0, 100.0, 6.0), shaft(6.0));
    let group = |sheet, opening, sway| Group {
        id: if sheet == 0 { "sheet".into() } else { "centre".into() },
        sheet,
        opening,
        sway,
        sag: None,
        droop: None,
        limits: Default::default(),
        process: None,
        depth: Default::default(),
        place: place(),
    };
    let opening = Some(PartRef { subject: bay as u32, part: 0 });
    s.panel.space.groups = vec![group(0, None, None), group(1, opening, sway)];
    s
}

#[test]
fn the_sway_of_each_side_is_taken_from_its_own_gap() {
    // 10 mm free all round: left and right 6 stay, above 8, below 5
    let found = floating(0.0, 0.0, Some(SWAY)).findings(&RULE);
    assert_eq!((found.len(), found[0].verdict), (1, Verdict::Pass));
    assert_eq!(near(&found[0]), 5.0);
    // 6 mm lower: 4 are left below, 5 are swayed
    let s = floating(0.0, 6.0, Some(SWAY));
    assert_eq!(near(&s.findings(&RULE)[0]), -1.0);
    assert_eq!(
        s.line(&RULE),
        "fail sway/centre:sheet/bay: centre:sheet meets bay below as it sways 4 mm left, 4 mm right, 2 mm up, 5 mm down, \
         3 mm forward, 6 mm aft. At rest it is 4 mm away seen from the seat. Give it more room, or stiffer mounts."
    );
    // its sag counts below
    let mut s = floating(0.0, 0.0, Some(SWAY));
    s.panel.space.groups[1].sag = Some(1.5);
    assert_eq!(near(&s.findings(&RULE)[0]), 3.5);
}

#[test]
fn before_the_sheet_the_stand_off_less_the_sway_forward_counts() {
    // 2 mm thick, its front 10 mm before the carrier's: 8 mm of air, 3 of them swayed; 5 mm inside the opening's edge
    let found = floating(-10.0, 0.0, Some(SWAY)).findings(&RULE);
    assert_eq!(near(&found[0]), 7.07107);
    // wider than the opening it covers it: only the depth is left
    let mut s = floating(-10.0, 0.0, Some(SWAY));
    let edge = s.panel.find("centre:sheet").unwrap();
    s.panel.subjects[edge].parts[0].contour = rect(200.0, 100.0, 150.0, 110.0);
    assert_eq!(near(&s.findings(&RULE)[0]), 5.0);
    s.panel.sheets[1].front = -5.0;
    assert_eq!(s.verdicts(&RULE), [Verdict::Fail], "3 mm of air and 3 of sway: it touches");
}

#[test]
fn cases_and_what_is_fixed_beside_them() {
    let mut s = floating(-10.0, 0.0, Some(SWAY));
    let k = s.placement("centre:gauge", |_| ());
    s.panel.subjects[k].group = 1;
    s.part(k, "body", Class::Body, circle(238.0, 100.0, 40.0), Detail::Plain);
    s.last(k).sheet = 1;
    s.last(k).depth = Some((-8.0, 90.0));
    // its case ends 2 mm from the edge of the opening and sways 4 mm
    // the worst that is said of it
    let of = |s: &Scene| {
        let own = s.findings(&RULE).into_iter().filter(|f| f.a.subject as usize == k);
        own.min_by(|f, g| near(f).total_cmp(&near(g))).unwrap()
    };
    assert_eq!((of(&s).verdict, near(&of(&s))), (Verdict::Fail, -2.0));
    s.panel.subjects[k].parts[0].contour = circle(232.0, 100.0, 40.0);
    assert_eq!((of(&s).verdict, near(&of(&s))), (Verdict::Pass, 4.0));
    // a nut of the carrier behind its sheet, 3 mm from the case
    let n = s.placement("bracket", |_| ());
    s.part(n, "nut", Class::Nut, circle(259.0, 100.0, 8.0), Detail::Plain);
    s.last(n).depth = Some((2.0, 8.0));
    assert_eq!(of(&s).verdict, Verdict::Fail);
    s.panel.subjects[n].parts[0].contour = circle(261.5, 100.0, 8.0);
    assert_eq!((of(&s).verdict, near(&of(&s))), (Verdict::Pass, 1.5));
}

#[test]
fn without_its_sway_nothing_passes() {
    let mut s = floating(0.0, 0.0, None);
    assert_eq!(
        s.line(&RULE),
        "withheld sway/centre:sheet: how far centre sways on its mounts, each way (sway)"
    );
    s.panel.space.groups[1].sway = Some(SWAY);
    s.panel.space.groups[1].opening = None;
    assert_eq!(
        s.line(&RULE),
        "withheld sway/centre:sheet: the opening of the carrier in which centre floats (opening)"
    );
}

/// A case of 40 mm on the floating panel, 90 deep, its right side at x = 252.
fn case(sway: Option<Sway>) -> (Scene, usize) {
    let mut s = floating(-10.0, 0.0, sway);
    let k = s.placement("centre:gauge", |_| ());
    s.panel.subjects[k].group = 1;
    s.part(k, "body", Class::Body, circle(232.0, 100.0, 40.0), Detail::Plain);
    s.last(k).sheet = 1;
    s.last(k).depth = Some((-8.0, 90.0));
    (s, k)
}

#[test]
fn bodies_of_the_carrier_are_asked_with_the_sway() {
    let beside = |sway| {
        let (mut s, _) = case(sway);
        let o = s.placement("radio", |_| ());
        s.part(o, "body", Class::Body, rect(274.0, 100.0, 20.0, 20.0), Detail::Plain);
        s.last(o).depth = Some((0.0, 60.0));
        s.findings(&crate::check::bodies_apart::RULE)
    };
    // 12 mm at rest less 4 to the right
    let found = beside(Some(SWAY));
    assert_eq!((found.len(), found[0].verdict, near(&found[0])), (1, Verdict::Pass, 8.0));
    let found = beside(Some(Sway { right: 7.0, ..SWAY }));
    assert_eq!((found[0].verdict, near(&found[0])), (Verdict::Fail, 5.0));
    assert_eq!(beside(None)[0].verdict, Verdict::Withheld);
}

#[test]
fn the_airframe_is_asked_with_the_sway() {
    use crate::solid::{Pose, Shape, Solid, Vec3};
    let rib = |sway, half: Vec3, at: Vec3| {
        let (mut s, k) = case(sway);
        s.obstacle("rib", "rib", Solid::new(Shape::Box(half), Pose::shift(at)).unwrap());
        let found = s.findings(&crate::check::obstacle_clear::RULE);
        found.into_iter().find(|f| f.a.subject as usize == k).unwrap()
    };
    let (upright, at) = (Vec3::new(2.0, 60.0, 60.0), Vec3::new(268.0, 100.0, 70.0));
    // beside: 14 mm at rest, 4 swayed
    let found = rib(Some(SWAY), upright, at);
    assert_eq!((found.verdict, near(&found)), (Verdict::Pass, 10.0));
    assert_eq!(rib(None, upright, at).verdict, Verdict::Withheld);
    // behind: the case ends at 90, the bulkhead begins at 98; 3 swayed forward leave 5 of 6
    let found = rib(Some(SWAY), Vec3::new(100.0, 100.0, 5.0), Vec3::new(232.0, 100.0, 103.0));
    assert_eq!((found.verdict, near(&found)), (Verdict::Fail, 5.0));
}

#[test]
fn depth_behind_is_less_by_the_sway_forward() {
    let depth = |sway| {
        let (mut s, _) = case(sway);
        s.panel.depth.elsewhere = Some(99.5);
        s.findings(&crate::check::depth_behind::RULE).remove(0)
    };
    assert_eq!((depth(Some(SWAY)).verdict, near(&depth(Some(SWAY)))), (Verdict::Pass, 6.5));
    let far = Some(Sway { forward: 4.0, ..SWAY });
    assert_eq!((depth(far).verdict, near(&depth(far))), (Verdict::Fail, 5.5));
    assert_eq!(depth(None).verdict, Verdict::Withheld);
    // what its own file says of the depth holds, and less that the carrier's says
    let both = |own: f64, carrier: Option<f64>| {
        let (mut s, _) = case(Some(SWAY));
        s.panel.depth.elsewhere = carrier;
        s.panel.space.groups[1].depth.elsewhere = Some(own);
        near(&s.findings(&crate::check::depth_behind::RULE)[0])
    };
    assert_eq!([both(110.0, None), both(110.0, Some(105.0)), both(110.0, Some(120.0))], [17.0, 12.0, 17.0]);
}
