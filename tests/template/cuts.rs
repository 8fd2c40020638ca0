//! What is cut and what is not: every opening once, nothing that exists, nothing twice.

use crate::build::{self, blank, cutout, dunlin, hole, old, round, subject, switch};
use panelwright::check::Verdict;
use panelwright::draw::template::{Face, TemplateError, TemplateOptions, shop, template};
use panelwright::draw::{Drawing, Entry, Item, Layer, Shape};
use panelwright::geom::distance::{self, Relation};
use panelwright::geom::{Contour, Point, span};
use panelwright::panel::{Compensates, Make, Panel, SheetRole, State, SubjectKind};

/// Contours on the cut layer of a one-page drawing with uncorrected size.
pub fn cut(d: &Drawing) -> Vec<Contour> {
    let read = |i: &Item| match (&i.shape, i.layer) {
        (Shape::Circle { centre, radius }, Layer::Cut) => Some(Contour::circle(*centre, *radius)),
        (Shape::Path(c), Layer::Cut) => Some(c.clone()),
        (other, Layer::Cut) => panic!("{other:?} on the cut layer"),
        _ => None,
    };
    let mut found = Vec::new();
    for e in &d.pages[0].items {
        match e {
            Entry::Item(i) => found.extend(read(i)),
            Entry::Group(g) => found.extend(g.items.iter().filter_map(read)),
        }
    }
    found
}

fn drawn(p: &Panel, opts: &TemplateOptions) -> Drawing {
    template(p, 0, &[build::finding(Verdict::Pass, 0)], opts).expect("template")
}

fn page_words(d: &Drawing) -> String {
    let mut s = String::new();
    for e in &d.pages[0].items {
        let items: Vec<&Item> = match e {
            Entry::Item(i) => vec![i],
            Entry::Group(g) => g.items.iter().collect(),
        };
        for i in items {
            if let Shape::Text(t) = &i.shape {
                s += &t.text;
                s.push(' ');
            }
        }
    }
    s
}

fn sheet() -> Panel {
    blank(Contour::rect(Point::new(150.0, 75.0), 300.0, 150.0, 10.0))
}

#[test]
fn each_fate() {
    let mut p = sheet();
    p.subjects.push(round("dial", "", 60.0, 75.0, 79.4));
    p.subjects.push(switch("swallowed", 60.0, 80.0, 6.0));
    p.subjects.push(switch("one", 150.0, 30.0, 12.0));
    p.subjects.push(switch("same", 150.0, 30.0, 12.0));
    p.subjects.push(old("hole", Contour::circle(Point::new(200.0, 75.0), 30.0)));
    p.subjects.push(switch("open", 205.0, 80.0, 8.0));
    p.subjects.push(switch("far", 900.0, 80.0, 8.0));
    let mut later = switch("later", 150.0, 120.0, 8.0);
    later.provision = true;
    p.subjects.push(later);
    let guide = hole("screw", Point::new(270.0, 30.0), 4.5, Make::FromPart);
    p.subjects.push(subject(
        "guided",
        SubjectKind::Placement,
        Point::new(270.0, 30.0),
        State::New,
        vec![guide],
    ));
    let d = drawn(&p, &TemplateOptions::default());
    // the outline, the dial with its four screws, one switch
    assert_eq!(cut(&d).len(), 7);
    let words = page_words(&d);
    for said in [
        "not cut, inside a larger opening: swallowed.bush",
        "not cut again, same contour as another: same.bush",
        "not cut, the metal is open there already: open.bush",
        "NOT DRAWN, off the sheet: far.bush",
        "provision, not cut now: later.bush",
        "drill from part",
    ] {
        assert!(words.contains(said), "{said:?} not in {words:?}");
    }
}

#[test]
fn an_existing_sheet_keeps_its_edge() {
    let mut p = sheet();
    p.sheets[0].new = false;
    p.subjects.push(switch("one", 150.0, 30.0, 12.0));
    assert_eq!(cut(&drawn(&p, &TemplateOptions::default())).len(), 1);
}

#[test]
fn overlapping_openings_become_one_and_an_edge_gets_a_notch() {
    let mut p = sheet();
    p.subjects.push(switch("a", 100.0, 75.0, 20.0));
    p.subjects.push(switch("b", 112.0, 75.0, 20.0));
    p.subjects.push(switch("c", 300.0, 75.0, 20.0));
    let found = cut(&drawn(&p, &TemplateOptions::default()));
    assert_eq!(found.len(), 2);
    let area = 300.0 * 150.0 - (4.0 - std::f64::consts::PI) * 100.0 - std::f64::consts::PI * 50.0;
    let outline = found.iter().map(Contour::area).fold(0.0, f64::max);
    assert!((outline - area).abs() < 1.0, "{outline} {area}");
}

#[test]
fn no_two_cut_lines_cross_on_random_panels() {
    for seed in 0..100 {
        let p = build::random(seed);
        let Ok(d) = shop(&p, 0, &[], &TemplateOptions::default()) else { panic!("seed {seed}") };
        let found = cut(&d);
        for (k, a) in found.iter().enumerate() {
            for b in found.iter().skip(k + 1) {
                let r = distance::contours(a, b).relation;
                assert!(
                    !matches!(r, Relation::Crossing | Relation::Coincident),
                    "seed {seed}: {r:?} {a:?} {b:?}"
                );
            }
        }
        for face in [Face::Front, Face::Back] {
            let d = drawn(&p, &TemplateOptions { face, ..TemplateOptions::default() });
            panelwright::export::valid::check(&d).expect("lawful");
        }
        panelwright::export::valid::check(&d).expect("lawful");
    }
}

#[test]
fn back_is_the_mirror_of_the_front() {
    for seed in 0..30 {
        let p = build::random(seed);
        let front = shop(&p, 0, &[], &TemplateOptions::default()).expect("front");
        let back =
            shop(&p, 0, &[], &TemplateOptions { face: Face::Back, ..Default::default() }).expect("back");
        let (f, b) = (cut(&front), cut(&back));
        assert_eq!(f.len(), b.len());
        let place = |c: &Contour, all: &Contour, flip: f64| {
            let v = c.centroid() - all.bounds().center();
            Point::new(flip * v.x, v.y)
        };
        for (x, y) in f.iter().zip(&b) {
            assert!((x.area() - y.area()).abs() < 1e-6);
            assert!(span(place(x, &f[0], 1.0), place(y, &b[0], -1.0)) < 1e-6, "seed {seed}");
        }
    }
}

#[test]
fn the_file_really_offsets() {
    let mut p = dunlin();
    let finished = cut(&drawn(&p, &TemplateOptions::default()));
    if let Some(process) = &mut p.process {
        process.compensates = Compensates::File;
    }
    let d = drawn(&p, &TemplateOptions::default());
    let paths = cut(&d);
    assert_eq!(paths.len(), finished.len());
    for (k, (path, line)) in paths.iter().zip(&finished).enumerate() {
        let gap = distance::contours(path, line);
        assert!((gap.distance - 0.1).abs() < 1e-9, "{gap:?}");
        assert_eq!(gap.relation, if k == 0 { Relation::Outside } else { Relation::Inside });
        assert_eq!(path.as_circle().is_some(), line.as_circle().is_some());
    }
    assert!(page_words(&d).contains("TOOL PATHS, offset by kerf / 2 = 0.1 mm"));
    if let Some(process) = &mut p.process {
        process.kerf = Some(6.0);
    }
    let narrow = template(&p, 0, &[], &TemplateOptions::default());
    assert!(matches!(narrow, Err(TemplateError::ToolTooWide { .. })), "a kerf of 6 mm in a 3.9 mm hole");
    if let Some(process) = &mut p.process {
        process.kerf = None;
    }
    assert_eq!(template(&p, 0, &[], &TemplateOptions::default()), Err(TemplateError::NoKerf));
}

#[test]
fn a_layer_gets_the_openings_of_its_carrier() {
    let mut p = sheet();
    p.subjects.push(old("port", Contour::circle(Point::new(60.0, 75.0), 20.0)));
    p.subjects.push(switch("one", 90.0, 40.0, 12.0));
    p.subjects.push(switch("beside", 250.0, 40.0, 12.0));
    let mut doubler = p.sheets[0].clone();
    doubler.id = "doubler".into();
    doubler.role = SheetRole::Doubler;
    doubler.layer_of = Some(0);
    doubler.outline = Contour::rect(Point::new(70.0, 75.0), 100.0, 120.0, 5.0);
    p.sheets.push(doubler);
    let d = template(&p, 1, &[], &TemplateOptions::default()).expect("doubler");
    // its edge, the old port (not yet in this new blank) and the switch; what lies beside it is not its own
    assert_eq!(cut(&d).len(), 3);
    assert!(matches!(
        template(&p, 2, &[], &TemplateOptions::default()),
        Err(TemplateError::NoSheet { asked: 2, have: 2 })
    ));
}

#[test]
fn every_round_opening_and_hole_has_a_centre_mark() {
    let d = drawn(&dunlin(), &TemplateOptions::default());
    let marks: Vec<Point> = d.pages[0]
        .items
        .iter()
        .filter_map(|e| if let Entry::Group(g) = e { Some(g) } else { None })
        .flat_map(|g| g.items.iter())
        .filter_map(|i| match (&i.shape, i.layer) {
            (Shape::Line(l), Layer::Mark) => Some(l.a.midpoint(l.b)),
            _ => None,
        })
        .collect();
    let circles: Vec<Point> = cut(&d).iter().filter_map(|c| c.as_circle()).map(|(c, _)| c).collect();
    assert_eq!(circles.len(), 22);
    for c in circles {
        assert_eq!(marks.iter().filter(|m| span(**m, c) < 1e-9).count(), 2, "two arms at {c:?}");
    }
    assert_eq!(marks.len(), 2 * (22 + 4), "and the four holes that the display guides");
}

#[test]
fn a_slot_that_nobody_shares_is_a_closed_path() {
    let mut p = sheet();
    let slot = Contour::slot(Point::new(100.0, 75.0), Point::new(140.0, 75.0), 4.0);
    let s = subject(
        "slot",
        SubjectKind::Placement,
        Point::new(120.0, 75.0),
        State::New,
        vec![cutout(slot.clone())],
    );
    p.subjects.push(s);
    let found = cut(&drawn(&p, &TemplateOptions::default()));
    assert_eq!(found.len(), 2);
    assert!((found[1].area() - slot.area()).abs() < 1e-9 && found[1].segments().len() == 4);
}
