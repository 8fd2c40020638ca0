//! The sizes of one definition go together: on paper, and as parts of the resolved instrument.

use super::{files, read};
use panelwright::check::{self, Verdict};
use panelwright::define::instrument::Basis;
use panelwright::draw::picture::picture;
use panelwright::draw::{Entry, Shape, text};
use panelwright::export;
use panelwright::geom::{Contour, Rect, Relation, distance};
use panelwright::panel::{Class, Mounting, Panel, Part, Subject};
use panelwright::resolve::Catalogue;
use serde_json::Value;

/// Every number that is a size stands under a source: its own, its part's, or the file's.
#[test]
fn every_size_has_a_source() {
    for (name, text) in files() {
        let Ok(instrument) = read(&name, &text) else { panic!("{name} is read") };
        let general = instrument.source.as_ref().unwrap_or_else(|| panic!("{name}: no source for its sizes"));
        assert!(instrument.sources.iter().any(|s| s.name == general.value), "{name}: {}", general.value);
        for source in &instrument.sources {
            let named = format!("\"source\": \"{}\"", source.name);
            assert!(text.contains(&named), "{name}: source {} is not used", source.name);
            let told = source.document.is_some();
            match source.basis.value {
                Basis::Maker => assert!(told && source.revision.is_some(), "{name}: document and revision"),
                Basis::Measured => {
                    assert!(source.who.is_some() && source.when.is_some(), "{name}: who and when")
                }
                Basis::Standard => assert!(told, "{name}: which standard"),
                Basis::Practice | Basis::Typical | Basis::Invented => {}
            }
        }
    }
}

/// The name of a size is never a size: case and opening are two measured numbers.
#[test]
fn case_and_opening_are_two_numbers() {
    for (name, text) in files() {
        let whole: Value = serde_json::from_str(&text).expect("JSON");
        let (Some(case), Some(opening)) = (whole.get("case"), whole.pointer("/openings/0/shape")) else {
            continue;
        };
        assert_ne!(case, opening, "{name}");
    }
}

/// Every definition alone on a plain sheet.
fn samples() -> Vec<(String, Panel)> {
    let catalogue = Catalogue::builtin();
    let sample = |(name, _): (String, _)| {
        let panel = catalogue.sample(&name).unwrap_or_else(|p| panic!("{name}\n{}", p.render(false)));
        (name, panel)
    };
    files().into_iter().map(sample).collect()
}

fn instrument(panel: &Panel) -> &Subject {
    panel.subjects.iter().find(|s| s.facts.is_some()).expect("the placed instrument")
}

fn of(subject: &Subject, class: Class) -> impl Iterator<Item = &Part> {
    subject.parts.iter().filter(move |p| p.class == class)
}

/// How far `inner` lies inside `outer`, mm; not above zero where it does not.
fn inside(inner: &Contour, outer: &Contour) -> f64 {
    let gap = distance::contours(inner, outer);
    if gap.relation == Relation::Inside { gap.distance } else { -gap.distance }
}

#[test]
fn every_definition_is_drawn() {
    let png = export::format("png").expect("the format");
    for (name, panel) in samples() {
        let drawing = picture(instrument(&panel));
        let bytes = (png.write)(&drawing, 0, &export::Options { dpi: 72.0 });
        let bytes = bytes.unwrap_or_else(|e| panic!("{name}: {e}"));
        assert!(bytes.len() > 1000, "{name}: {} bytes", bytes.len());
    }
}

/// Nothing leaves the page, no two texts meet, and everything that leaves the instrument or is touched is listed.
#[test]
fn pictures_are_whole_and_can_be_read() {
    for (name, panel) in samples() {
        let s = instrument(&panel);
        let drawing = picture(s);
        let page = &drawing.pages[0];
        let paper = Rect::new(0.0, 0.0, page.width, page.height);
        let mut texts: Vec<(&str, Rect)> = Vec::new();
        for entry in &page.items {
            let Entry::Item(item) = entry else { panic!("{name}: a group") };
            let b = item.shape.bounds().unwrap_or_else(|| panic!("{name}: an empty shape"));
            assert!(paper.contains_rect(b), "{name}: {:?} leaves the page", item.shape);
            if let Shape::Text(t) = &item.shape {
                let b = Rect::new(b.x0, b.y0 - t.height * text::DESCENT, b.x1, b.y1);
                for (other, c) in &texts {
                    let both = b.intersect(*c);
                    assert!(both.width() < 1e-6 || both.height() < 1e-6, "{name}: {} meets {other}", t.text);
                }
                texts.push((&t.text, b));
            }
        }
        let all = texts.iter().map(|t| t.0).collect::<Vec<_>>().join(" ");
        for part in of(s, Class::Port).chain(of(s, Class::Front)) {
            let word = part.name.split_once('-').map_or("", |n| n.1);
            assert!(all.contains(word), "{name}: {word} is not listed");
        }
        for (part, what) in &s.missing {
            let first = what.split(' ').next().unwrap_or_default();
            assert!(all.contains(part.as_str()) && all.contains(first), "{name}: {part}: {what}");
        }
    }
}

/// Cutout and case with air between them, and a face that covers the cutout.
#[test]
fn cases_pass_and_faces_cover() {
    for (name, panel) in samples() {
        let s = instrument(&panel);
        for cutout in of(s, Class::Cutout) {
            for case in of(s, Class::Case) {
                let air = inside(&case.contour, &cutout.contour);
                assert!(air >= 0.25, "{name}: {air} mm between {} and {}", case.name, cutout.name);
            }
            for face in of(s, Class::Bezel).chain(of(s, Class::Flange)) {
                let over = inside(&cutout.contour, &face.contour);
                assert!(over >= 0.7, "{name}: {} covers {} by {over} mm", face.name, cutout.name);
            }
        }
    }
}

/// Screws and their heads lie under the face that they hold, clear of its edge and of the cutout.
#[test]
fn screws_are_inside_their_face() {
    let mut seen = 0;
    for (name, panel) in samples() {
        let s = instrument(&panel);
        let faces: Vec<&Part> = of(s, Class::Bezel).chain(of(s, Class::Flange)).collect();
        for hole in of(s, Class::Hole).chain(of(s, Class::Head)) {
            for face in &faces {
                let edge = inside(&hole.contour, &face.contour);
                assert!(edge > 0.5, "{name}: {} is {edge} mm inside {}", hole.name, face.name);
                seen += 1;
            }
        }
        for hole in of(s, Class::Hole) {
            for cutout in of(s, Class::Cutout) {
                let gap = distance::contours(&hole.contour, &cutout.contour);
                assert_eq!(gap.relation, Relation::Apart, "{name}: {} and {}", hole.name, cutout.name);
                assert!(gap.distance > 1.0, "{name}: {} mm at {}", gap.distance, hole.name);
            }
        }
    }
    assert!(seen > 60, "{seen} screws and heads");
}

/// Bodies of what goes in from the front pass the cutout; knobs stand on the face or within the cutout.
#[test]
fn bodies_and_knobs_are_where_they_can_be() {
    for (name, panel) in samples() {
        let s = instrument(&panel);
        let front = s.facts.as_ref().and_then(|f| f.mounting) == Some(Mounting::Front);
        let cutouts: Vec<&Part> = of(s, Class::Cutout).collect();
        if front && !cutouts.is_empty() {
            for body in of(s, Class::Body) {
                let fits = cutouts.iter().any(|c| inside(&body.contour, &c.contour) > 0.0);
                assert!(fits, "{name}: {} does not pass", body.name);
            }
        }
        // a knob on a rod stands free in front of its bushing and is wider than that
        if s.facts.as_ref().is_some_and(|f| matches!(f.kind.as_str(), "push-pull" | "valve")) {
            continue;
        }
        let grounds: Vec<&Part> = of(s, Class::Bezel).chain(of(s, Class::Flange)).collect();
        for part in of(s, Class::Front) {
            let on = grounds.iter().any(|g| inside(&part.contour, &g.contour) > 0.0);
            assert!(on || grounds.is_empty(), "{name}: {} hangs over the face", part.name);
        }
    }
}

/// Alone on a sheet of 2 mm nothing fails but what only a panel can give: lettering, and a doubler for what
/// wants more metal.
#[test]
fn alone_on_a_sheet_nothing_fails() {
    for (name, panel) in samples() {
        let findings = check::check(&panel, &check::Options::default());
        for f in findings.list.iter().filter(|f| f.verdict == Verdict::Fail) {
            let wants = instrument(&panel).facts.as_ref().and_then(|facts| facts.accepts.0).unwrap_or(0.0);
            let given = f.rule.id == "labelled" || f.rule.id == "sheet-thickness" && wants > 2.0;
            assert!(given, "{name}: {}", f.id(&panel));
        }
    }
}
