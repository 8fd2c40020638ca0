//! A panel built by hand, for the tests of the rules with their own measurers.

use super::{Finding, Findings, Note, Options, Rule, Verdict, check, recheck};
use crate::diag::Where;
use crate::geom::{Contour, Point, Transform, Vec2};
use crate::panel::*;
use crate::solid::Solid;
use crate::units::Unit;
use std::sync::Arc;

pub(super) struct Scene {
    pub panel: Panel,
}

pub(super) fn place() -> Where {
    Where { file: "scene".into(), line: 1, column: 1, start: 0, end: 0 }
}

pub(super) fn source() -> SizeSource {
    SizeSource { basis: Basis::Measured, words: "measured for the test".into(), place: None }
}

pub(super) fn circle(x: f64, y: f64, diameter: f64) -> Contour {
    Contour::circle(Point::new(x, y), diameter / 2.0)
}

pub(super) fn rect(x: f64, y: f64, w: f64, h: f64) -> Contour {
    Contour::rect(Point::new(x, y), w, h, 0.0)
}

pub(super) fn hole(diameter: f64, fastening: Option<Fastening>) -> Detail {
    Detail::Hole { diameter: Some(diameter), fastening, free: false, make: Make::Drawing }
}

pub(super) fn shaft(diameter: f64) -> Detail {
    Detail::Hole { diameter: Some(diameter), fastening: None, free: true, make: Make::Drawing }
}

pub(super) fn screw(name: &str, diameter: Option<f64>) -> Fastening {
    Fastening { name: name.into(), diameter, head: None, nut: None, length: None, nutplate: None }
}

pub(super) const CUTOUT: Detail = Detail::Cutout { make: Make::Drawing };

pub(super) fn facts() -> Facts {
    Facts {
        instrument: "test/item".into(),
        title: "Item".into(),
        kind: "test".into(),
        nominal: None,
        mounting: None,
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

impl Scene {
    /// A bare new sheet, 400 x 200 x 2 mm, its lower left corner at the origin.
    pub fn new() -> Scene {
        let outline = rect(200.0, 100.0, 400.0, 200.0);
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
            structure: (Structure::No, None),
            place: place(),
        };
        let panel = Panel {
            name: "Scene".into(),
            slug: "scene".into(),
            unit: Unit::Millimetre,
            tilt: None,
            eye_distance: None,
            sheets: vec![sheet],
            subjects: Vec::new(),
            process: None,
            depth: DepthMap::default(),
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
        let mut scene = Scene { panel };
        let sheet = scene.subject("sheet", SubjectKind::Sheet);
        scene.part(sheet, "", Class::Edge, outline, Detail::Plain);
        scene
    }

    pub fn subject(&mut self, id: &str, kind: SubjectKind) -> usize {
        self.panel.subjects.push(Subject {
            id: id.into(),
            kind,
            title: id.into(),
            at: Point::ORIGIN,
            turn: 0.0,
            mirrored: false,
            sheet: 0,
            group: 0,
            state: State::New,
            provision: false,
            locked: false,
            critical: false,
            hung: None,
            carrier: None,
            facts: None,
            checked: None,
            parts: Vec::new(),
            missing: Vec::new(),
            place: place(),
            units: 0..0,
        });
        self.panel.subjects.len() - 1
    }

    /// A placement with facts changed by `change`.
    pub fn placement(&mut self, id: &str, change: impl FnOnce(&mut Facts)) -> usize {
        let k = self.subject(id, SubjectKind::Placement);
        let mut f = facts();
        change(&mut f);
        self.panel.subjects[k].facts = Some(Arc::new(f));
        k
    }

    pub fn part(
        &mut self,
        subject: usize,
        name: &str,
        class: Class,
        contour: Contour,
        detail: Detail,
    ) -> usize {
        let b = contour.bounds();
        let s = &mut self.panel.subjects[subject];
        s.parts.push(Part {
            name: name.into(),
            class,
            sheet: s.sheet,
            centre: b.center(),
            contour,
            depth: None,
            there: false,
            terms: Vec::new(),
            written: None,
            source: source(),
            detail,
            place: place(),
        });
        s.parts.len() - 1
    }

    pub fn last(&mut self, subject: usize) -> &mut Part {
        self.panel.subjects[subject].parts.last_mut().expect("a part")
    }

    /// A fixed solid of the airframe.
    pub fn obstacle(&mut self, id: &str, kind: &str, solid: Solid) -> usize {
        let k = self.subject(id, SubjectKind::Obstacle);
        self.panel.subjects[k].state = State::Existing;
        let detail = Detail::Obstacle { solid: Arc::new(solid.clone()), kind: kind.into(), carries: None };
        self.solid(k, "", Class::Obstacle, &solid, detail);
        k
    }

    /// A solid that moves with a link, of a control's subject.
    pub fn moving(&mut self, control: usize, name: &str, link: usize, hand: Option<f64>, solid: Solid) {
        let detail = Detail::Moving { solid: Arc::new(solid.clone()), link, kind: "test".into(), hand };
        self.solid(control, name, Class::Moving, &solid, detail);
    }

    fn solid(&mut self, subject: usize, name: &str, class: Class, solid: &Solid, detail: Detail) {
        self.part(subject, name, class, solid.silhouette(), detail);
        let b = solid.bounds();
        self.last(subject).depth = Some((b.low.d, b.high.d));
    }

    /// A size tolerance of the part added last, per side.
    pub fn tolerance(&mut self, subject: usize, kind: TermKind, grow: f64, shrink: f64) {
        self.last(subject).terms.push(Term { kind, key: 0, grow, shrink, shift: 0.0 });
    }

    pub fn cut_by(&mut self, kind: ProcessKind, tool_radius: Option<f64>) {
        self.panel.process = Some(Process {
            kind,
            tool_radius,
            kerf: None,
            compensates: Compensates::Cutter,
            tolerance: (0.1, "test".into()),
            place: place(),
        });
    }

    /// Findings of one rule, in order. The same panel elsewhere must give the same verdicts, and so
    /// must checking again after each subject was moved and put back.
    pub fn findings(&self, rule: &'static Rule) -> Vec<Finding> {
        let options = Options { all_pairs: true };
        let all = check(&self.panel, &options);
        let verdicts =
            |f: &Findings| f.list.iter().map(|f| (f.id(&self.panel), f.verdict)).collect::<Vec<_>>();
        let mut moved = self.panel.clone();
        let by = Vec2::new(-1024.0, 512.0);
        let shift = Transform::shift(by);
        for k in 0..moved.subjects.len() {
            moved.shift(k, by);
        }
        for a in &mut moved.depth.areas {
            a.contour = shift.contour(&a.contour);
        }
        for s in &mut moved.sheets {
            s.outline = shift.contour(&s.outline);
        }
        assert_eq!(verdicts(&all), verdicts(&check(&moved, &options)));
        let mut again = all.clone();
        let mut moving = self.panel.clone();
        for k in 1..moving.subjects.len() {
            moving.shift(k, Vec2::new(64.0, 0.0));
            again = recheck(&moving, again, &[k]);
            assert_eq!(again, check(&moving, &options), "{} moved", moving.subjects[k].id);
            moving.subjects[k] = self.panel.subjects[k].clone();
            moving.space = self.panel.space.clone();
            again = recheck(&moving, again, &[k]);
        }
        assert_eq!(again, all);
        all.list.into_iter().filter(|f| f.rule == rule).collect()
    }

    /// One line a finding: verdict, id and words.
    pub fn lines(&self, rule: &'static Rule) -> Vec<String> {
        let words = |n: &Note| match n {
            Note::None => String::new(),
            Note::Contact => " contact".into(),
            Note::BothStay => " both stay".into(),
            Note::Waits(w) | Note::Says(w) => format!(": {w}"),
        };
        let line = |f: &Finding| format!("{} {}{}", f.verdict.word(), f.id(&self.panel), words(&f.note));
        self.findings(rule).iter().map(line).collect()
    }

    /// The verdicts of one rule in order.
    pub fn verdicts(&self, rule: &'static Rule) -> Vec<Verdict> {
        self.findings(rule).iter().map(|f| f.verdict).collect()
    }

    /// The only finding of a rule, as its line.
    pub fn line(&self, rule: &'static Rule) -> String {
        let lines = self.lines(rule);
        assert_eq!(lines.len(), 1, "{lines:#?}");
        lines[0].clone()
    }
}
