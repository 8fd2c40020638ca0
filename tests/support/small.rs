//! Small panels made by a few words each, and what a rule says of them as text.

use crate::panels::{bare, facts, part, screw_hole, source, subject};
use panelwright::check::{Note, Options, check};
use panelwright::geom::{Contour, Point};
use panelwright::panel::*;
use std::sync::Arc;

/// A panel in the making: a bare sheet of 400 x 200 mm.
pub struct Small {
    /// What is made.
    pub panel: Panel,
}

/// A circle by its diameter.
pub fn round(x: f64, y: f64, diameter: f64) -> Contour {
    Contour::circle(Point::new(x, y), diameter / 2.0)
}

/// An upright rectangle about its centre.
pub fn oblong(x: f64, y: f64, width: f64, height: f64) -> Contour {
    Contour::rect(Point::new(x, y), width, height, 0.0)
}

impl Small {
    /// A bare sheet.
    pub fn new() -> Small {
        Small { panel: bare(400.0, 200.0) }
    }

    fn last(&mut self) -> &mut Subject {
        self.panel.subjects.last_mut().expect("the sheet at least")
    }

    fn add(mut self, id: &str, kind: SubjectKind) -> Small {
        let s = subject(id, kind, Point::new(100.0, 100.0));
        self.panel.subjects.push(s);
        self
    }

    /// Starts an item put in from the front.
    pub fn item(self, id: &str) -> Small {
        let mut this = self.add(id, SubjectKind::Placement);
        this.last().facts = Some(Arc::new(facts()));
        this
    }

    /// The item is put in from behind.
    pub fn rear(mut self) -> Small {
        let facts = Facts { mounting: Some(Mounting::Rear), ..facts() };
        self.last().facts = Some(Arc::new(facts));
        self
    }

    /// Starts an old opening.
    pub fn old(self, id: &str, contour: Contour) -> Small {
        let mut this = self.add(id, SubjectKind::OldOpening);
        this.last().state = State::Existing;
        this.part("", Class::OldOpening, contour)
    }

    /// Starts a zone.
    pub fn zone(self, id: &str, forbids: Forbids, contour: Contour) -> Small {
        let mut this = self.add(id, SubjectKind::Zone).part("", Class::Zone, contour);
        if let Some(p) = this.last().parts.last_mut() {
            p.detail = Detail::Zone { forbids, because: "a rib".into() };
        }
        this
    }

    /// Starts a subject of another kind.
    pub fn other(self, id: &str, kind: SubjectKind) -> Small {
        self.add(id, kind)
    }

    /// A part of the subject started last.
    pub fn part(mut self, name: &str, class: Class, contour: Contour) -> Small {
        let detail = match class {
            Class::Cutout => Detail::Cutout { make: Make::Drawing },
            _ => Detail::Plain,
        };
        self.last().parts.push(part(name, class, contour, detail));
        self
    }

    /// A cutout.
    pub fn cutout(self, contour: Contour) -> Small {
        self.part("cutout", Class::Cutout, contour)
    }

    /// A screw's hole; its clearance is a tenth of the screw.
    pub fn screw(mut self, name: &str, x: f64, y: f64, diameter: f64, kind: HeadKind) -> Small {
        self.last().parts.push(screw_hole(name, Point::new(x, y), diameter, kind));
        self
    }

    /// A solid over a range of depth.
    pub fn solid(self, name: &str, class: Class, contour: Contour, from: f64, to: f64) -> Small {
        let mut this = self.part(name, class, contour);
        if let Some(p) = this.last().parts.last_mut() {
            p.depth = Some((from, to));
        }
        this
    }

    /// A front part.
    pub fn front(self, kind: &str, hand_room: Option<f64>, contour: Contour) -> Small {
        let mut this = self.solid(kind, Class::Front, contour, -20.0, 0.0);
        if let Some(p) = this.last().parts.last_mut() {
            p.detail = Detail::Front { kind: kind.into(), hand_room };
        }
        this
    }

    /// A tolerance of the part added last: outline per side, shift.
    pub fn off(mut self, outline: f64, shift: f64) -> Small {
        if let Some(p) = self.last().parts.last_mut() {
            p.source = source();
            p.terms.push(Term { kind: TermKind::Size, key: 0, grow: outline, shrink: outline, shift });
        }
        self
    }

    /// The subject started last exists and stays.
    pub fn kept(mut self) -> Small {
        self.last().state = State::Existing;
        self
    }

    /// The subject started last lacks a part.
    pub fn lacks(mut self, name: &str, what: &str) -> Small {
        self.last().missing.push((name.into(), what.into()));
        self
    }

    /// Changes the part added last.
    pub fn with(mut self, change: impl FnOnce(&mut Part)) -> Small {
        if let Some(p) = self.last().parts.last_mut() {
            change(p);
        }
        self
    }

    /// What a rule says, a line a finding: verdict, the parts, measured and asked, and the note.
    pub fn says(&self, rule: &str) -> String {
        let findings = check(&self.panel, &Options::default());
        let lines = findings.list.iter().filter(|f| f.rule.id == rule).map(|f| {
            let id = f.id(&self.panel);
            let parts = id.trim_start_matches(rule).trim_start_matches('/');
            let mut line = format!("{} {parts}", f.verdict.word());
            if let (Some(m), Some(a)) = (f.measured, f.asked) {
                line.push_str(&format!(" {:.2} of {a:.2}", m.lower));
            }
            match &f.note {
                Note::None => {}
                Note::Contact => line.push_str(", contact"),
                Note::BothStay => line.push_str(", both stay"),
                Note::Waits(w) | Note::Says(w) => line.push_str(&format!(": {w}")),
            }
            line
        });
        lines.collect::<Vec<_>>().join("\n")
    }
}
