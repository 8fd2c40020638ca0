//! The words of a template: what it shows, what was found, what to measure, what to mind.

use super::column::{Block, Piece};
use super::holes::Holes;
use super::kerf;
use super::plan::Plan;
use super::standing::{Standing, count_words};
use super::view::View;
use super::words::{mm, short_hash, thickness, trimmed};
use super::{Measured, Paper, Purpose, TemplateOptions};
use crate::draw::Weight;
use crate::panel::{Panel, Sheet, SheetRole, Structure};

/// Cautions that stand on every template; the first is about its scale bars.
pub(in crate::draw) const CAUTIONS: [&str; 6] = [
    "Measure both scale bars with a steel rule before cutting. Check every number against your own instruments \
     and airframe.",
    "This sheet advises, it approves nothing: the maintenance manual, the local rules and the licensed person \
     who signs decide. Is this panel structure, and who approves the change?",
    "Isolate the battery first (earthed lead off first, on last); displays and locator beacons have batteries \
     of their own.",
    "An open ignition lead leaves a magneto live: treat the propeller as live. Lines behind the panel may hold \
     fuel or oil.",
    "Keep swarf out of the wiring. Opened pitot or static lines need a leak test.",
    "Afterwards swing the compass and have the controls inspected by a second person.",
];

/// The role of a sheet in words.
pub(in crate::draw) fn role(role: SheetRole) -> &'static str {
    match role {
        SheetRole::Main => "main sheet",
        SheetRole::Floating => "floating panel",
        SheetRole::Insert => "insert panel",
        SheetRole::Structural => "structural sheet",
        SheetRole::Doubler => "doubler",
        SheetRole::Overlay => "overlay",
    }
}

/// Everything the words are made from.
pub(super) struct Said<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Its sheet.
    pub sheet: &'a Sheet,
    /// The cutting plan.
    pub plan: &'a Plan,
    /// The view.
    pub view: &'a View,
    /// The hole table.
    pub holes: &'a Holes,
    /// The verdicts.
    pub standing: &'a Standing,
    /// Options.
    pub opts: &'a TemplateOptions,
    /// Half the kerf where the file compensates.
    pub offset: Option<f64>,
    /// Printer correction x, y.
    pub factors: (f64, f64),
}

impl Said<'_> {
    /// What kind of page this is.
    pub fn kind(&self) -> String {
        let face = self.view.face.words();
        match self.opts.purpose {
            Purpose::Cut => format!("Cutting template, 1:1. {face}"),
            Purpose::Copy => format!("Copy to look at, NOT TO SCALE. {face}"),
            Purpose::Trial => format!("TRIAL in card or plywood, 1:1. {face}"),
        }
    }

    /// One line for every page: revision, hash, counts.
    pub fn line(&self) -> String {
        let revision = self.panel.title.get("revision").unwrap_or("not given");
        format!(
            "revision {revision}; inputs {}; verdicts: {}",
            short_hash(self.panel),
            count_words(&self.standing.counts)
        )
    }

    /// All blocks in reading order.
    pub fn blocks(&self, unplaced: &[String]) -> Vec<Block> {
        let mut blocks = vec![self.title(), self.verdicts()];
        if self.opts.purpose != Purpose::Copy {
            blocks.push(self.measure());
        }
        blocks.extend(self.holes.blocks());
        blocks.push(self.remarks(unplaced));
        let mut cautions = vec![Piece::head("Cautions")];
        cautions.extend(CAUTIONS.map(Piece::words));
        blocks.push(cautions);
        blocks
    }

    fn title(&self) -> Block {
        let (p, s) = (self.panel, self.sheet);
        let mut b = vec![
            Piece::Words(p.name.clone(), 4.0, Weight::Bold),
            Piece::head(self.kind()),
            Piece::words(format!("{}, {}", s.id, role(s.role))),
        ];
        let material = s.material.as_deref().unwrap_or("material not given");
        if self.opts.purpose == Purpose::Trial {
            b.push(Piece::words(
                "for card or plywood; not for the aeroplane. Try every box in with its plugs on",
            ));
            b.push(Piece::words(format!("inputs {}", short_hash(p))));
            return b;
        }
        b.push(Piece::words(format!("{material}, {}", thickness(s))));
        b.push(Piece::words(kerf::statement(p.subject_process(s.subject), self.offset)));
        for (key, value) in &p.title.fields {
            b.push(Piece::words(format!("{}: {value}", key.replace('-', " "))));
        }
        if p.title.get("revision").is_none() {
            b.push(Piece::words("revision: not given"));
        }
        b.push(Piece::words(format!("content of the inputs: {}", short_hash(p))));
        b
    }

    fn verdicts(&self) -> Block {
        let st = self.standing;
        let mut b = vec![Piece::head("Verdicts"), Piece::words(count_words(&st.counts))];
        if let Some(n) = st.notice() {
            b.push(Piece::head(n));
        }
        if let Some((because, by)) = &st.lifted {
            b.push(Piece::head(format!("CUT IN SPITE OF {}", st.against.join(", "))));
            b.push(Piece::words(format!("recorded reason: {because} ({by})")));
        }
        b.push(Piece::words(match &self.sheet.structure {
            (Structure::Yes, by) => format!("this sheet is structure{}", said_by(by)),
            (Structure::No, by) => format!("not structure{}", said_by(by)),
            (Structure::Unknown, _) => "is this sheet structure? Not answered: ask before cutting".into(),
        }));
        b
    }

    fn measure(&self) -> Block {
        let mut b = vec![
            Piece::head("Measure before cutting"),
            Piece::words("both scale bars, from the first line to the last; print at 100 %, no fit to page"),
        ];
        b.extend(self.view.checks().into_iter().map(Piece::words));
        if self.opts.paper != Paper::Whole {
            // a seam between tiles may run through the words beside the mark
            b.push(Piece::words(self.view.face.mark()));
        }
        b.push(Piece::words("if the two diagonals differ the pages are taped askew"));
        let size = self.sheet.outline.bounds();
        if let Some(words) = super::printed(self.opts, size.width(), size.height()) {
            b.push(Piece::words(format!("the print measured before this one: {words}")));
        }
        for (axis, measured, factor) in
            [('x', self.opts.measured_x, self.factors.0), ('y', self.opts.measured_y, self.factors.1)]
        {
            if let Some(Measured { nominal, read }) = measured {
                b.push(Piece::words(format!(
                    "printer corrected in {axis} by {}: its bar of {} mm had read {} mm; for that printer only",
                    trimmed(factor, 5),
                    mm(nominal),
                    trimmed(read, 3)
                )));
            }
        }
        b
    }

    fn remarks(&self, unplaced: &[String]) -> Block {
        let mut b = vec![
            Piece::head("Lines"),
            Piece::words(
                "solid: cut. Dashed: exists, do not cut. Dotted: not cut, the part guides the drill. Dash and \
                 two dots: provision. Cross: centre, mark only",
            ),
        ];
        if self.opts.purpose == Purpose::Trial {
            b.push(Piece::words(
                "grey dots: bezel in front. Grey dashes: body and plugs behind, with their depth",
            ));
        }
        b.extend(self.plan.remarks.iter().map(Piece::words));
        if !unplaced.is_empty() {
            b.push(Piece::words(format!("no room beside them: {}", unplaced.join("; "))));
        }
        b
    }
}

fn said_by(by: &Option<String>) -> String {
    by.as_ref().map_or(String::new(), |b| format!(", says {b}"))
}
