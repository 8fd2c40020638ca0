//! What the views promise: true scale, the mirror, paper, depths, words.

use crate::kit;
use crate::panels::{Dice, bare, nowhere};
use panelwright::check::{Options, check};
use panelwright::draw::behind::{Asked, BehindError, back, card, depth_map, depth_table, sections};
use panelwright::draw::drawing::{DrawingError, SIZES};
use panelwright::draw::front_view::{Shows, front_view, front_view_of};
use panelwright::draw::{Drawing, Entry, Item, Layer, Page, Shape, Text, text};
use panelwright::geom::{Contour, Point, Rect, Vec2, angle};
use panelwright::panel::{Class, DepthArea, Panel, SubjectKind};
use panelwright::{export, panel, resolve, units};

fn items(page: &Page) -> impl Iterator<Item = &Item> {
    page.items.iter().filter_map(|e| if let Entry::Item(i) = e { Some(i) } else { None })
}

fn words(d: &Drawing) -> String {
    let texts = d.pages.iter().flat_map(items).filter_map(|i| match &i.shape {
        Shape::Text(t) => Some(t.text.as_str()),
        _ => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

fn demos() -> Vec<Panel> {
    let files = panelwright::files::Disk::new(env!("CARGO_MANIFEST_DIR"));
    let catalogue = resolve::Catalogue::builtin();
    ["wheatear/proposed", "dunlin/proposed"]
        .iter()
        .map(|p| {
            let path = format!("panels/{p}.json");
            resolve::resolve(&path, &files, &catalogue).unwrap_or_else(|e| panic!("{}", e.render(false)))
        })
        .collect()
}

/// Everything that can be drawn of a panel.
fn all(p: &Panel, asked: &[Asked]) -> Vec<Drawing> {
    let findings = check(p, &Options::default()).list;
    let opts = Default::default();
    vec![
        sections(p, &findings, asked, &opts).expect("sections"),
        back(p, &findings, &opts).expect("back"),
        depth_map(p, &findings, &opts).expect("map"),
        depth_table(p, &findings, &opts),
        card(p, &findings, &opts),
    ]
}

/// The first items that have a body, and two lines.
fn asks(p: &Panel) -> Vec<Asked> {
    let bodied =
        p.subjects.iter().filter(|s| s.parts.iter().any(|q| q.class == Class::Body && q.depth.is_some()));
    let mut asked: Vec<Asked> = bodied.take(2).map(|s| Asked::Item(s.id.clone())).collect();
    let b = p.sheets[0].outline.bounds();
    asked.extend([Asked::Upright(b.center().x), Asked::Level(b.center().y)]);
    asked
}

fn long_names(mut p: Panel) -> Panel {
    p.name =
        "A panel whose title goes on and on, as titles of long projects do, over one line and more".into();
    for s in &mut p.subjects {
        s.id = format!("{}-with-a-name-that-is-much-longer-than-its-face", s.id);
    }
    p
}

/// Nothing leaves the frame of its sheet, and no two texts meet.
#[test]
fn nothing_leaves_the_frame_and_no_texts_meet() {
    let mut panels = demos();
    panels.extend([
        kit::panel(),
        long_names(kit::panel()),
        bare(60.0, 40.0),
        bare(2400.0, 900.0),
        crate::panels::crowded(3),
    ]);
    let mut seen = 0;
    for p in &panels {
        for d in all(p, &asks(p)) {
            export::valid::check(&d).expect("sound");
            for page in &d.pages {
                let size =
                    SIZES.iter().find(|s| (s.width, s.height) == (page.width, page.height)).expect("a sheet");
                let frame = size.frame().inflate(1e-6, 1e-6);
                let mut boxes: Vec<(Rect, &str)> = Vec::new();
                for i in items(page).filter(|i| i.layer != Layer::Frame) {
                    let Some(b) = i.shape.bounds() else { continue };
                    let within = frame.x0 <= b.x0 && b.x1 <= frame.x1 && frame.y0 <= b.y0 && b.y1 <= frame.y1;
                    assert!(within, "{} {}: {i:?} beyond {frame:?}", d.title, page.name);
                    if let Shape::Text(t) = &i.shape {
                        boxes.push((room(t), &t.text));
                    }
                }
                boxes.sort_by(|a, b| a.0.x0.total_cmp(&b.0.x0));
                for (k, (a, said)) in boxes.iter().enumerate() {
                    let beside = boxes.iter().skip(k + 1).take_while(|(b, _)| b.x0 < a.x1 - 1e-6);
                    for (b, other) in beside {
                        let meet = a.y0 < b.y1 - 1e-6 && b.y0 < a.y1 - 1e-6;
                        assert!(!meet, "{} {}: {said:?} and {other:?} at {a:?}", d.title, page.name);
                    }
                }
                seen += boxes.len();
            }
        }
    }
    assert!(seen > 3000, "{seen} texts");
}

/// The box of a text's capitals.
fn room(t: &Text) -> Rect {
    let (s, c) = angle::sin_cos_deg(t.angle);
    let (along, up) = (Vec2::new(c, s), Vec2::new(-s, c));
    let (o, wide) = (text::origin(t), text::width(&t.text, t.height, t.weight));
    Rect::from_points(o, o + along * wide + up * t.height)
        .union_pt(o + along * wide)
        .union_pt(o + up * t.height)
}

/// Coordinates read back by other programs: a body 90 mm deep and 78 mm wide is 45 x 39 mm at 1:2, in SVG and in PDF;
/// seen from behind, what is at the pilot's left is at the right.
#[test]
fn other_programs_read_true_scale_and_the_mirror() {
    let p = kit::panel();
    let findings = check(&p, &Options::default()).list;
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("behind-read");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    let asked = [Asked::Item("alt".into())];
    let drawings = [
        ("section", sections(&p, &findings, &asked, &Default::default()).expect("drawn")),
        ("back", back(&p, &findings, &Default::default()).expect("drawn")),
    ];
    for (stem, d) in &drawings {
        for format in ["svg", "pdf", "dxf", "png"] {
            let format = export::format(format).expect("a format");
            for f in export::files(format, d, stem, &export::Options { dpi: 60.0 }).expect("written") {
                std::fs::write(folder.join(f.name), f.bytes).expect("written");
            }
        }
    }
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let run = std::process::Command::new(python)
        .arg("tests/oracle/behind_read.py")
        .arg(&folder)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("python");
    let said = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success(), "{said}{}", String::from_utf8_lossy(&run.stderr));
}

/// The depth told by the map at random points is that of the made panel's own arithmetic: rib 120 for x 158 to 162, beam
/// 290 for y 48 to 72, the tank's slanting face 320 - 20 (x + 60) / 560 above y 120, else 400.
#[test]
fn the_map_tells_the_depth_of_every_point() {
    let mut p = kit::panel();
    let told = |p: &Panel| -> (Vec<(String, Contour)>, Rect, f64) {
        let d = depth_map(p, &[], &Default::default()).expect("drawn");
        let bands = items(&d.pages[0]).filter(|i| i.layer == Layer::Outline).filter_map(|i| match &i.shape {
            Shape::Path(c) => Some((i.subject.clone()?, c.clone())),
            _ => None,
        });
        let bands: Vec<(String, Contour)> = bands.collect();
        let sheet = bands.iter().find(|(n, _)| n == "sheet").expect("the sheet").1.bounds();
        (bands, sheet, sheet.width() / 400.0)
    };
    let (bands, sheet, scale) = told(&p);
    assert!((scale - 0.5).abs() < 1e-12);
    let mut dice = Dice::new(9);
    for _ in 0..2000 {
        let (x, y) = (dice.real(15.0, 385.0), dice.real(15.0, 185.0));
        let edges = [158.0, 162.0].iter().any(|e| (x - e).abs() < 0.2)
            || [48.0, 72.0, 120.0].iter().any(|e| (y - e).abs() < 0.2);
        let depth: f64 = if (158.0..162.0).contains(&x) {
            120.0
        } else if (48.0..72.0).contains(&y) {
            290.0
        } else if y > 120.0 {
            320.0 - 20.0 * (x + 60.0) / 560.0
        } else {
            400.0
        };
        if edges {
            continue;
        }
        let at = Point::new(sheet.x0 + x * scale, sheet.y0 + y * scale);
        let mut within: Vec<&str> = Vec::new();
        for (name, c) in bands.iter().filter(|(n, _)| n != "sheet") {
            if c.side_of(at) == panelwright::geom::Side::Inside {
                // a gap turns the same band off again
                match within.iter().position(|w| w == name) {
                    Some(k) => {
                        within.remove(k);
                    }
                    None => within.push(name),
                }
            }
        }
        let [name] = within[..] else { panic!("{x} {y}: {within:?}") };
        let (from, to) = name.split_once('-').expect("two depths");
        let (from, to): (f64, f64) = (from.parse().expect("mm"), to.parse().expect("mm"));
        assert!(from <= depth && depth < to, "{x} {y}: {depth} in {name}");
    }
    // nothing is known: no band, and the words say so
    p.depth.elsewhere = None;
    p.subjects.retain(|s| s.kind != SubjectKind::Obstacle);
    assert!(words(&depth_map(&p, &[], &Default::default()).expect("drawn")).contains("NO DEPTH IS KNOWN"));
    p.depth.areas.push(DepthArea {
        id: "bay".into(),
        contour: Contour::rect(Point::new(100.0, 100.0), 100.0, 100.0, 0.0),
        available: Some(150.0),
        place: nowhere(),
    });
    let d = words(&depth_map(&p, &[], &Default::default()).expect("drawn"));
    assert!(d.contains("NOT PROBED") && d.contains("not probed"), "{d}");
}

#[test]
fn sections_tell_depths_gaps_and_what_they_cannot_draw() {
    let mut p = kit::panel();
    let say = |asked: Asked, p: &Panel| sections(p, &[], &[asked], &Default::default()).map(|d| words(&d));
    let d = say(Asked::Level(110.0), &p).expect("drawn");
    // alt ends at 90, its plug's room at 165 is not in this plane; the gap is a corner to the rib: (139, 90) to (158, 120)
    for told in ["90", "180", "260", "gap 35.51"] {
        assert!(d.split(' ').any(|w| told.ends_with(w)), "{told} in {d}");
    }
    assert!(d.contains("Least gap in this plane: 35.51 mm, alt.body to rib-left."), "{d}");
    assert!((19.0_f64 * 19.0 + 30.0 * 30.0).sqrt() - 35.51 < 0.005);
    let alt = p.find("alt").expect("alt");
    let body = p.subjects[alt].parts.iter_mut().find(|q| q.class == Class::Body).expect("a body");
    body.depth = None;
    let d = say(Asked::Item("alt".into()), &p).expect("drawn");
    assert!(d.contains("NOT DRAWN, missing: alt.body: its depth"), "{d}");
    match say(Asked::Item("atl".into()), &p) {
        Err(e @ BehindError::NoItem(..)) => {
            assert!(e.to_string().contains("no item \"atl\"") && e.to_string().contains("alt"));
        }
        other => panic!("{other:?}"),
    }
    let e = say(Asked::Upright(2000.0), &p).expect_err("nothing there");
    assert!(e.to_string().contains("x = 2000 mm meets nothing"), "{e}");
    let a4 = panelwright::draw::drawing::PageSize::named("a4");
    let opts = panelwright::draw::drawing::DrawingOptions { page: a4, stale: None };
    let huge = bare(4000.0, 900.0);
    let e = back(&huge, &[], &opts).expect_err("too large");
    assert!(matches!(e, DrawingError::TooLarge { .. }));
}

#[test]
fn the_table_adds_up_and_begins_with_the_worst() {
    let mut p = kit::panel();
    p.depth.elsewhere = Some(200.0);
    let findings = check(&p, &Options::default()).list;
    let d = words(&depth_table(&p, &findings, &Default::default()));
    for told in ["body 180 + connector 30", "body 90 + connector 30", "fail", "room", "margin"] {
        assert!(d.contains(told), "{told} in {d}");
    }
    // nav's plug needs 260 of 200: it comes first
    let at = |w: &str| d.find(w).unwrap_or(usize::MAX);
    assert!(at("nav.port-data") < at("alt.body"), "{d}");
    // a term that is missing is a question mark and a withheld verdict
    let nav = p.find("nav").expect("nav");
    let port = p.subjects[nav].parts.iter_mut().find(|q| q.class == Class::Port).expect("a port");
    port.depth = None;
    port.detail = panel::Detail::Port {
        carries: None,
        terms: vec![("connector".into(), Some(30.0)), ("backshell".into(), None)],
    };
    let findings = check(&p, &Options::default()).list;
    let d = words(&depth_table(&p, &findings, &Default::default()));
    assert!(d.contains("body 180 + connector 30 + backshell ?") || d.contains("backshell ?"), "{d}");
    assert!(d.contains("withheld") && d.contains("not known"), "{d}");
}

#[test]
fn the_card_names_every_driver_and_has_two_signatures() {
    let p = kit::panel();
    let findings = check(&p, &Options::default()).list;
    let d = words(&card(&p, &findings, &Default::default()));
    for told in [
        "elevator",
        "-80 mm",
        "90 mm",
        "5 mm / 5 mm",
        "aileron",
        "-90\u{b0}",
        "not stated",
        "mechanic who did the work",
        "second person, independent",
        "it approves nothing",
        "Seats occupied",
        "Doors and canopy shut",
        "tied along",
        "Everything fitted",
        "wheel.lever",
    ] {
        assert!(d.contains(told), "{told} in {d}");
    }
    let d = words(&card(&bare(300.0, 100.0), &[], &Default::default()));
    assert!(d.contains("names no control: write them in") && d.contains("second person"));
}

#[test]
fn the_front_view_shows_bands_or_leaves_them_out() {
    let p = kit::panel();
    let bands = |d: &Drawing| {
        let of = |i: &&Item| i.layer == Layer::Existing && i.subject.as_deref().is_some_and(|s| s != "sheet");
        items(&d.pages[0]).filter(of).count()
    };
    let with = front_view(&p, &[]);
    assert!(bands(&with) >= 6, "{}", bands(&with));
    let said = words(&with);
    for told in ["rib-left", "from 120 mm", "wheel", "cross-beam", "from 290 mm"] {
        assert!(said.contains(told), "{told} in {said}");
    }
    let without = front_view_of(&p, &[], Shows { bands: false });
    assert!(bands(&without) == 0 && !words(&without).contains("rib-left"));
}

#[test]
fn a_panel_in_inches_speaks_inches() {
    let mut p = kit::panel();
    p.unit = units::Unit::Inch;
    let d = sections(&p, &[], &[Asked::Item("alt".into())], &Default::default()).expect("drawn");
    assert!(words(&d).contains("3.543") && words(&d).contains("Depths in inches"), "{}", words(&d));
}
