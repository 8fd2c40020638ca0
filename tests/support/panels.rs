//! Seeded panels for tests and benches: messy random ones, a crowded one of sixty placements, and
//! large regular ones. The same seed gives the same panel everywhere.

#![allow(dead_code, reason = "each test and bench uses its own part")]

use panelwright::diag::Where;
use panelwright::geom::{Contour, Point, Transform, Vec2};
use panelwright::panel::*;
use panelwright::units::Unit;
use std::sync::Arc;

/// Random numbers by the splitmix64 recurrence (Steele, Lea, Flood 2014): 64 bits of state, no tables.
pub struct Dice(u64);

impl Dice {
    /// Starts from a seed.
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    /// The next 64 bits.
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number in `from..to`; every third one on a grid of 0.5 so that things meet exactly.
    pub fn real(&mut self, from: f64, to: f64) -> f64 {
        let v = from + (to - from) * (self.next() >> 11) as f64 / (1u64 << 53) as f64;
        if self.one_in(3) { (v * 2.0).round() / 2.0 } else { v }
    }

    /// A whole number below `n`.
    pub fn below(&mut self, n: u64) -> usize {
        (self.next() % n) as usize
    }

    /// A place in a list of `n`.
    pub fn pick(&mut self, n: usize) -> usize {
        self.below(n as u64)
    }

    /// True once in `n`.
    pub fn one_in(&mut self, n: u64) -> bool {
        self.next().is_multiple_of(n)
    }
}

/// A place that means nothing.
pub fn nowhere() -> Where {
    Where { file: "made.json".into(), line: 1, column: 1, start: 0, end: 0 }
}

/// A source for made-up sizes.
pub fn source() -> SizeSource {
    SizeSource { basis: Basis::Invented, words: "invented for the test".into(), place: None }
}

/// A bare panel of one new sheet with its lower left corner at the origin.
pub fn bare(width: f64, height: f64) -> Panel {
    let outline = Contour::rect(Point::new(width / 2.0, height / 2.0), width, height, 12.0);
    let sheet = Sheet {
        id: "sheet".into(),
        role: SheetRole::Main,
        layer_of: None,
        subject: 0,
        outline: outline.clone(),
        material: Some("6061-T6".into()),
        thickness: Some(2.0),
        thickness_written: None,
        coat: None,
        front: 0.0,
        new: true,
        structure: (Structure::No, Some("invented".into())),
        place: nowhere(),
    };
    let mut panel = Panel {
        name: "Made".into(),
        slug: "made".into(),
        unit: Unit::Millimetre,
        tilt: Some(8.0),
        eye_distance: Some(700.0),
        sheets: vec![sheet],
        subjects: Vec::new(),
        process: Some(Process {
            kind: ProcessKind::Router,
            tool_radius: Some(1.5),
            kerf: None,
            compensates: Compensates::Cutter,
            tolerance: (0.1, "invented".into()),
            place: nowhere(),
        }),
        depth: DepthMap { elsewhere: Some(200.0), areas: Vec::new() },
        space: Default::default(),
        limits: Default::default(),
        accepted: Vec::new(),
        title: Title::default(),
        cut_anyway: None,
        hash: String::new(),
        together: Vec::new(),
        wishes: Default::default(),
        remarks: Vec::new(),
    };
    let mut edge = subject("sheet", SubjectKind::Sheet, Point::ORIGIN);
    edge.parts.push(part("", Class::Edge, outline, Detail::Plain));
    panel.subjects.push(edge);
    panel
}

/// A subject without parts.
pub fn subject(id: &str, kind: SubjectKind, at: Point) -> Subject {
    Subject {
        id: id.into(),
        kind,
        title: id.into(),
        at,
        turn: 0.0,
        mirrored: false,
        sheet: 0,
        group: 0,
        state: State::New,
        provision: false,
        locked: false,
        critical: false,
        carrier: None,
        hung: None,
        facts: None,
        checked: None,
        parts: Vec::new(),
        missing: Vec::new(),
        place: nowhere(),
        units: 0..0,
    }
}

/// A part; its centre is that of its box.
pub fn part(name: &str, class: Class, contour: Contour, detail: Detail) -> Part {
    Part {
        name: name.into(),
        class,
        sheet: 0,
        centre: contour.bounds().center(),
        contour,
        depth: None,
        there: false,
        terms: Vec::new(),
        written: None,
        source: source(),
        detail,
        place: nowhere(),
    }
}

/// Facts of an item put in from the front.
pub fn facts() -> Facts {
    Facts {
        instrument: "made/item".into(),
        title: "Item".into(),
        kind: "gauge".into(),
        nominal: None,
        mounting: Some(Mounting::Front),
        service: None,
        accepts: (None, None),
        tilt: None,
        tilt_matters: false,
        control: None,
        needs_label: false,
        mass: None,
        numbers: Vec::new(),
        has_case: true,
        unit: None,
        frame: None,
        weakest: source(),
        unconfirmed: Vec::new(),
        open_terms: Vec::new(),
        ports: Vec::new(),
    }
}

/// A round hole for a screw of this diameter, with clearance.
pub fn screw_hole(name: &str, at: Point, diameter: f64, kind: HeadKind) -> Part {
    let head = Head { kind, diameter: 2.0 * diameter, height: Some(0.6 * diameter), angle: None };
    let nut = Nut { across: 2.3 * diameter, height: Some(diameter), captive: false };
    let fastening = Fastening {
        name: format!("M{diameter}"),
        diameter: Some(diameter),
        head: Some(head),
        nut: Some(nut),
        length: None,
        nutplate: None,
    };
    let hole = 1.1 * diameter;
    let detail =
        Detail::Hole { diameter: Some(hole), fastening: Some(fastening), free: false, make: Make::Drawing };
    part(name, Class::Hole, Contour::circle(at, hole / 2.0), detail)
}

/// A term of its own for each part.
pub fn term(kind: TermKind, key: u32, amount: f64) -> Term {
    match kind {
        TermKind::Position | TermKind::Group => Term { kind, key, grow: 0.0, shrink: 0.0, shift: amount },
        _ => Term { kind, key, grow: amount, shrink: amount, shift: 0.0 },
    }
}

/// A whole instrument about a point: cutout, four screws with heads and nuts, bezel, body.
pub fn instrument(
    id: &str,
    at: Point,
    [cutout, case, bezel]: [Contour; 3],
    screws: f64,
    key: u32,
) -> Subject {
    let mut s = subject(id, SubjectKind::Placement, at);
    s.facts = Some(Arc::new(facts()));
    s.parts.push(part("cutout", Class::Cutout, cutout, Detail::Cutout { make: Make::Drawing }));
    for (k, (sx, sy)) in [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].into_iter().enumerate() {
        let c = at + Vec2::new(sx * screws, sy * screws);
        let n = k + 1;
        s.parts.push(screw_hole(&format!("screw-{n}"), c, 3.5, HeadKind::Raised));
        let mut head = part(&format!("screw-{n}.head"), Class::Head, Contour::circle(c, 3.5), Detail::Plain);
        head.depth = Some((-2.1, 0.0));
        let mut nut = part(&format!("screw-{n}.nut"), Class::Nut, Contour::circle(c, 4.0), Detail::Plain);
        nut.depth = Some((2.0, 5.5));
        s.parts.extend([head, nut]);
    }
    let mut face = part("bezel", Class::Bezel, bezel, Detail::Plain);
    face.depth = Some((-5.0, 0.0));
    let mut case = part("body", Class::Body, case, Detail::Plain);
    case.depth = Some((0.0, 90.0));
    s.parts.extend([face, case]);
    for p in &mut s.parts {
        p.terms.push(term(TermKind::Position, key, 0.1));
        p.terms.push(term(TermKind::Size, 0, 0.05));
    }
    s
}

/// Sixty placements on a sheet of 900 x 370 mm: bezels on most of it, small things between them, and
/// many pairs close to their limits.
pub fn crowded(seed: u64) -> Panel {
    let mut dice = Dice::new(seed);
    let mut panel = bare(900.0, 370.0);
    grid(&mut panel, &mut dice, 12, 5, 72.0, Vec2::new(54.0, 41.0));
    panel
}

/// So many placements of the same mixture on a sheet as large as they need.
pub fn large(count: usize) -> Panel {
    let mut dice = Dice::new(7);
    let across = (1..).find(|n| n * n >= count).unwrap_or(1);
    let rows = count.div_ceil(across);
    let mut panel = bare(72.0 * across as f64 + 30.0, 72.0 * rows as f64 + 30.0);
    grid(&mut panel, &mut dice, across, rows, 72.0, Vec2::new(51.0, 51.0));
    panel.subjects.truncate(count + 1);
    panel
}

fn grid(panel: &mut Panel, dice: &mut Dice, across: usize, rows: usize, pitch: f64, first: Vec2) {
    for k in 0..across * rows {
        let (col, row) = (k % across, k / across);
        let jitter = Vec2::new(dice.real(-0.9, 0.9), dice.real(-0.9, 0.9));
        let at = (first + Vec2::new(col as f64, row as f64) * pitch + jitter).to_point();
        let shapes = if dice.one_in(3) {
            let corner = dice.real(2.0, 6.0);
            let inner = |side: f64| Contour::rect(at, side, side, corner);
            [inner(60.0), inner(59.0), Contour::rect(at, 69.0, 69.0, 3.0)]
        } else {
            let r = dice.real(29.0, 31.0);
            [Contour::circle(at, r), Contour::circle(at, r - 0.6), Contour::rect(at, 68.5, 68.5, 8.0)]
        };
        // screws of square cutouts sit outside of its corners
        let screws = if shapes[0].as_circle().is_some() { 25.5 } else { 32.2 };
        let s = instrument(&format!("item-{k}"), at, shapes, screws, k as u32 + 1);
        panel.subjects.push(s);
    }
}

/// A random contour about a point.
pub fn shape(dice: &mut Dice, at: Point, size: f64) -> Contour {
    let base = match dice.below(5) {
        0 | 1 => Contour::circle(Point::ORIGIN, size / 2.0),
        2 => Contour::rect(Point::ORIGIN, size, size * 0.7, 0.0),
        3 => Contour::rect(Point::ORIGIN, size, size * 0.8, size / 8.0),
        _ => Contour::d_hole(Point::ORIGIN, size / 2.0, size * 0.4, dice.one_in(2)),
    };
    let turn = if dice.one_in(2) { 0.0 } else { dice.real(0.0, 360.0) };
    Transform::place(at, turn, dice.one_in(4)).contour(&base)
}
