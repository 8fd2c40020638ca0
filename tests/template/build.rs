//! Panels built by hand and at random, straight from the panel's own types.

use panelwright::check::{Finding, Interval, Note, RULES, Verdict};
use panelwright::diag::Where;
use panelwright::geom::{Contour, Point};
use panelwright::panel::{
    Basis, Class, Compensates, DepthMap, Detail, Fastening, Make, Panel, Part, PartRef, Process, ProcessKind,
    Sheet, SheetRole, SizeSource, State, Structure, Subject, SubjectKind, Title,
};
use panelwright::units::Unit;
use std::collections::BTreeMap;

pub fn place() -> Where {
    Where { file: "panel.json".into(), line: 1, column: 1, start: 0, end: 1 }
}

pub fn part(name: &str, class: Class, contour: Contour, depth: Option<(f64, f64)>, detail: Detail) -> Part {
    Part {
        name: name.into(),
        class,
        sheet: 0,
        centre: contour.bounds().center(),
        contour,
        depth,
        there: false,
        terms: Vec::new(),
        written: None,
        source: SizeSource { basis: Basis::Invented, words: "invented for the test".into(), place: None },
        detail,
        place: place(),
    }
}

pub fn cutout(contour: Contour) -> Part {
    part("cutout", Class::Cutout, contour, None, Detail::Cutout { make: Make::Drawing })
}

pub fn hole(name: &str, at: Point, diameter: f64, make: Make) -> Part {
    let fastening = Fastening {
        name: "M4".into(),
        diameter: Some(4.0),
        head: None,
        nut: None,
        length: None,
        nutplate: None,
    };
    let detail = Detail::Hole { diameter: Some(diameter), fastening: Some(fastening), free: false, make };
    part(name, Class::Hole, Contour::circle(at, diameter / 2.0), None, detail)
}

pub fn subject(id: &str, kind: SubjectKind, at: Point, state: State, parts: Vec<Part>) -> Subject {
    Subject {
        id: id.into(),
        kind,
        title: String::new(),
        at,
        turn: 0.0,
        mirrored: false,
        sheet: 0,
        group: 0,
        state,
        provision: false,
        locked: false,
        critical: false,
        carrier: None,
        hung: None,
        facts: None,
        checked: None,
        parts,
        missing: Vec::new(),
        place: place(),
        units: 0..0,
    }
}

/// A bare blank.
pub fn blank(outline: Contour) -> Panel {
    let sheet = Sheet {
        id: "sheet".into(),
        role: SheetRole::Main,
        layer_of: None,
        subject: 0,
        outline: outline.clone(),
        material: Some("6061-T6".into()),
        thickness: Some(2.0),
        thickness_written: Some("2".into()),
        coat: Some(0.08),
        front: 0.0,
        new: true,
        structure: (Structure::No, Some("owner".into())),
        place: place(),
    };
    let edge = part("", Class::Edge, outline, None, Detail::Plain);
    Panel {
        name: "Dunlin trial panel".into(),
        slug: "dunlin-trial".into(),
        unit: Unit::Millimetre,
        tilt: Some(0.0),
        eye_distance: Some(700.0),
        sheets: vec![sheet],
        subjects: vec![subject("sheet", SubjectKind::Sheet, Point::ORIGIN, State::New, vec![edge])],
        process: Some(Process {
            kind: ProcessKind::Laser,
            tool_radius: None,
            kerf: Some(0.2),
            compensates: Compensates::Cutter,
            tolerance: (0.1, "shop".into()),
            place: place(),
        }),
        depth: DepthMap::default(),
        space: Default::default(),
        limits: BTreeMap::new(),
        accepted: Vec::new(),
        title: Title {
            fields: vec![
                ("number".into(), "D-100".into()),
                ("revision".into(), "C".into()),
                ("date".into(), "2031-04-02".into()),
                ("drawn-by".into(), "A. Reader".into()),
            ],
            ..Title::default()
        },
        cut_anyway: None,
        hash: "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef".into(),
        together: Vec::new(),
        wishes: Default::default(),
        remarks: Vec::new(),
    }
}

/// A round instrument: cutout, four screws, bezel, body.
pub fn round(id: &str, title: &str, x: f64, y: f64, diameter: f64) -> Subject {
    let c = Point::new(x, y);
    let d = 0.41 * diameter;
    let mut parts = vec![cutout(Contour::circle(c, diameter / 2.0))];
    for (k, (sx, sy)) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].into_iter().enumerate() {
        let at = Point::new(x + sx * d, y + sy * d);
        parts.push(hole(&format!("screw-{}", k + 1), at, 3.9, Make::Drawing));
    }
    let wide = diameter + 4.0;
    parts.push(part(
        "bezel",
        Class::Bezel,
        Contour::rect(c, wide, wide, 6.0),
        Some((-5.0, 0.0)),
        Detail::Plain,
    ));
    parts.push(part(
        "case",
        Class::Body,
        Contour::circle(c, diameter / 2.0 - 0.5),
        Some((0.0, 152.0)),
        Detail::Plain,
    ));
    let mut s = subject(id, SubjectKind::Placement, c, State::New, parts);
    s.title = title.into();
    s
}

/// A display: rectangle with corners, four screws from the part.
pub fn display(id: &str, title: &str, x: f64, y: f64, w: f64, h: f64) -> Subject {
    let c = Point::new(x, y);
    let mut parts = vec![cutout(Contour::rect(c, w, h, 3.0))];
    for (k, (sx, sy)) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].into_iter().enumerate() {
        let at = Point::new(x + sx * (w / 2.0 + 5.0), y + sy * (h / 2.0 - 4.0));
        parts.push(hole(&format!("screw-{}", k + 1), at, 3.4, Make::FromPart));
    }
    let bezel = Contour::rect(c, w + 16.0, h + 6.0, 4.0);
    parts.push(part("bezel", Class::Bezel, bezel, Some((-9.0, 0.0)), Detail::Plain));
    let body = Contour::rect(c, w - 1.0, h - 1.0, 2.0);
    parts.push(part("box", Class::Body, body, Some((0.0, 74.0)), Detail::Plain));
    let mut s = subject(id, SubjectKind::Placement, c, State::New, parts);
    s.title = title.into();
    s
}

/// A switch: one hole.
pub fn switch(id: &str, x: f64, y: f64, diameter: f64) -> Subject {
    let parts = vec![hole("bush", Point::new(x, y), diameter, Make::Drawing)];
    subject(id, SubjectKind::Placement, Point::new(x, y), State::New, parts)
}

/// An opening that is there already.
pub fn old(id: &str, contour: Contour) -> Subject {
    let at = contour.bounds().center();
    let p = part("", Class::OldOpening, contour, None, Detail::Plain);
    subject(id, SubjectKind::OldOpening, at, State::Existing, vec![p])
}

/// A panel of ordinary size with a bit of everything.
pub fn dunlin() -> Panel {
    let outline = Contour::rect_corners(
        Point::new(206.0, 85.0),
        412.0,
        170.0,
        [
            panelwright::geom::Corner::Sharp,
            panelwright::geom::Corner::Sharp,
            panelwright::geom::Corner::Round(30.0),
            panelwright::geom::Corner::Clip(40.0, 25.0),
        ],
    );
    let mut p = blank(outline);
    p.subjects.push(round("asi", "airspeed", 60.0, 110.0, 79.4));
    p.subjects.push(round("alt", "altimeter", 352.0, 104.0, 79.4));
    p.subjects.push(display("main", "landscape display, 7 in", 206.0, 112.0, 172.0, 98.0));
    p.subjects.push(round("vsi", "vertical speed", 352.0, 34.0, 57.2));
    for k in 0..7 {
        p.subjects.push(switch(&format!("sw-{}", k + 1), 120.0 + 24.0 * f64::from(k), 30.0, 12.2));
    }
    p.subjects.push(old("hub", Contour::circle(Point::new(40.0, 30.0), 20.0)));
    let mut spare = switch("spare", 82.0, 30.0, 16.0);
    spare.provision = true;
    p.subjects.push(spare);
    let label = Detail::Label {
        text: "MASTER".into(),
        height: 3.0,
        process: Some("engraved".into()),
        of: Some("sw-1".into()),
    };
    let at = Point::new(120.0, 43.0);
    let l = part("", Class::Label, Contour::rect(at, 18.0, 4.0, 0.0), None, label);
    p.subjects.push(subject("label-1", SubjectKind::Label, at, State::New, vec![l]));
    p
}

/// A finding with a verdict about one part.
pub fn finding(verdict: Verdict, subject: u32) -> Finding {
    Finding {
        rule: RULES[0],
        a: PartRef { subject, part: 0 },
        b: None,
        verdict,
        measured: Some(Interval::exact(3.0)),
        asked: Some(4.0),
        loss: 0.0,
        at: [Point::ORIGIN; 2],
        space: None,
        note: Note::None,
    }
}

/// Numbers that repeat for a seed (a 64-bit linear congruence; Knuth's multiplier).
pub struct Dice(pub u64);

impl Dice {
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.unit()
    }
}

/// A random panel: sizes, crowding and names of all kinds, overlaps among them.
pub fn random(seed: u64) -> Panel {
    let mut d = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66);
    let (w, h) = (d.between(90.0, 1000.0), d.between(60.0, 420.0));
    let origin = Point::new(d.between(-300.0, 50.0), d.between(-200.0, 50.0));
    let corner = d.between(0.0, 25.0);
    let mut p = blank(Contour::rect(origin + (w / 2.0, h / 2.0), w, h, corner));
    let n = d.between(1.0, 40.0) as usize;
    for k in 0..n {
        let (x, y) = (origin.x + d.between(0.0, w), origin.y + d.between(0.0, h));
        let id = match (d.unit() * 4.0) as u32 {
            0 => format!("i{k}"),
            1 => format!("engine-monitor-{k}"),
            2 => format!("a-quite-long-name-for-something-{k}"),
            _ => format!("sw-{k}"),
        };
        let mut s = match (d.unit() * 5.0) as u32 {
            0 => round(&id, "round dial", x, y, d.between(40.0, 82.0)),
            1 => display(&id, "display", x, y, d.between(50.0, 220.0), d.between(40.0, 150.0)),
            2 => old(&id, Contour::circle(Point::new(x, y), d.between(3.0, 40.0))),
            _ => switch(&id, x, y, d.between(3.0, 16.0)),
        };
        s.provision = d.unit() < 0.1;
        p.subjects.push(s);
    }
    p
}
