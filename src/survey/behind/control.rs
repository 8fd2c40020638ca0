//! Controls from marks on them that were taped at both stops and in the middle.

use super::motion::{Fit, Motion, fit};
use super::place::Known;
use super::{Behind, Maker, SPACE_95, Told};
use crate::define::Text;
use crate::define::panel::ControlKind;
use crate::define::survey::{Control, Moves, MovingForm, OnControl};
use crate::diag::Written;
use crate::solid::Vec3;
use crate::survey::statistics::{LINE_95, chi_square_95};
use crate::survey::tools::note;
use crate::units::fmt_mm;

/// Standard deviation of one taped length of a place in space where the file states none, mm (common practice, no source).
const TAPED: f64 = 2.0;
/// What the positions are called.
const POSITIONS: [&str; 3] = ["low", "neutral", "high"];

/// A solid of a control in its middle position, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// A round tube between two points: its diameter.
    Tube(f64, [Vec3; 2]),
    /// A ball: its diameter, its middle.
    Ball(f64, Vec3),
}

/// A control, worked out.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// Its id.
    pub id: Text,
    /// What it is.
    pub kind: ControlKind,
    /// Name of its movement.
    pub driver: Text,
    /// The fit.
    pub fit: Fit,
    /// Names of the marks.
    pub marks: Vec<Text>,
    /// By how much all deviations are larger than the taped lengths' own say.
    pub scale: f64,
    /// Its solids with their names, and whether a hand holds it.
    pub solids: Vec<(String, Solid, bool)>,
}

impl Fitted {
    /// How far a mark may be off at 95 %, any direction, mm.
    pub fn doubt(&self) -> f64 {
        SPACE_95 * self.fit.deviation * self.scale
    }

    /// Both stops in the driver's unit: mm or degrees.
    pub fn stops(&self) -> [f64; 2] {
        self.fit.motion.stops().map(|v| self.unit(v))
    }

    /// How far the stops may lie beyond at 95 %, in the driver's unit.
    pub fn beyond(&self) -> [f64; 2] {
        self.fit.stops.map(|v| self.unit(v) * LINE_95 * self.scale)
    }

    fn unit(&self, v: f64) -> f64 {
        match self.fit.motion {
            Motion::Slide { .. } => v,
            Motion::Turn { .. } => v.to_degrees(),
        }
    }
}

impl Maker<'_> {
    pub(super) fn controls(&mut self, out: &mut Behind) {
        for said in &self.survey.behind.controls {
            if let Some(fitted) = self.control(said, out) {
                out.controls.push(fitted);
            }
        }
    }

    /// One mark's place by its numbers.
    pub(super) fn taped(
        &mut self,
        control: usize,
        mark: usize,
        position: usize,
        out: &mut Behind,
    ) -> Option<Known> {
        let said = self.survey.behind.controls.get(control)?;
        let sigma = said.deviation.as_ref().map_or(TAPED, |d| d.mm());
        self.of(said, said.marks.get(mark)?, position, sigma, out)
    }

    fn of(&mut self, said: &Control, m: &OnControl, k: usize, sigma: f64, out: &mut Behind) -> Option<Known> {
        let what = format!("{}, mark {} at {}", said.id.value, m.id.value, POSITIONS.get(k)?);
        self.place(m.places.get(k)?, sigma, &what, &m.id.place, out)
    }

    fn control(&mut self, said: &Control, out: &mut Behind) -> Option<Fitted> {
        let id = &said.id.value;
        if said.deviation.is_none() {
            note(
                &mut out.assumed,
                "a length taped to a mark on a control has a standard deviation of 2 mm (common practice, no source)",
            );
        }
        let sigma = said.deviation.as_ref().map_or(TAPED, |d| d.mm());
        let mut marks: Vec<[Known; 3]> = Vec::new();
        for m in &said.marks {
            let three: Option<Vec<Known>> = (0..3).map(|k| self.of(said, m, k, sigma, out)).collect();
            marks.push(three?.try_into().ok()?);
        }
        let Some(fit) = fit(said.moves, &marks) else {
            let (message, help) = match said.moves {
                Moves::Slide => (
                    format!("the marks of `{id}` are at one place at both stops"),
                    "tape them at the low and at the high stop",
                ),
                Moves::Turn => (
                    format!("the marks of `{id}` do not turn: each has its three places on one line"),
                    "say \"moves\": \"slide\", or mark a spot farther from the axis",
                ),
            };
            self.tell("no-motion", &said.place, message, help);
            return None;
        };
        let mut scale = 1.0;
        if fit.freedom > 0 && fit.sum > chi_square_95(fit.freedom) {
            scale = (fit.sum / fit.freedom as f64).sqrt();
            let (off, mark, position) = fit.worst;
            let (word, other) = match said.moves {
                Moves::Slide => ("slide", "does it turn"),
                Moves::Turn => ("turn", "does it slide, or do its marks flex"),
            };
            let says = format!(
                "{id}: its marks do not {word} as one, {} at {} is off by {}: {other}, or was it read wrongly? Its doubt is {scale:.1} times the tape's",
                said.marks.get(mark).map_or("", |m| m.id.value.as_ref()),
                POSITIONS[position],
                fmt_mm((off * 10.0).round() / 10.0)
            );
            out.told.push(Told { code: "no-such-motion", says });
        }
        let solids = self.moving(said, &fit)?;
        if solids.is_empty() {
            let says = format!("{id} has no solids: nothing is kept clear of it. Say its tubes by its marks");
            out.told.push(Told { code: "no-solids", says });
        }
        let marks = said.marks.iter().map(|m| m.id.value.clone()).collect();
        let (id, driver) = (id.clone(), said.driver.value.clone());
        Some(Fitted { id, kind: said.kind, driver, fit, marks, scale, solids })
    }

    fn moving(&mut self, said: &Control, fit: &Fit) -> Option<Vec<(String, Solid, bool)>> {
        let mut out = Vec::new();
        for (k, s) in said.solids.iter().enumerate() {
            let name = s.id.as_ref().map_or_else(|| format!("part-{}", k + 1), |n| n.value.to_string());
            match &s.form {
                MovingForm::Ball(of, about) => {
                    let at = self.mark(said, fit, about)?;
                    out.push((name, Solid::Ball(of.mm(), at), s.hand));
                }
                MovingForm::Tube(of, path) => {
                    let places: Vec<Vec3> = path.iter().filter_map(|m| self.mark(said, fit, m)).collect();
                    if places.len() < path.len() {
                        return None;
                    }
                    for (n, two) in places.windows(2).enumerate() {
                        let &[a, b] = two else { continue };
                        if (b - a).length() < 1.0 {
                            let message =
                                format!("two marks along `{name}` of `{}` are at one place", said.id.value);
                            self.tell(
                                "same-place",
                                &said.place,
                                message,
                                "a tube needs marks that are apart",
                            );
                            return None;
                        }
                        let own = if places.len() == 2 { name.clone() } else { format!("{name}-{}", n + 1) };
                        out.push((own, Solid::Tube(of.mm(), [a, b]), s.hand));
                    }
                }
            }
        }
        Some(out)
    }

    fn mark(&mut self, said: &Control, fit: &Fit, id: &Written<Text>) -> Option<Vec3> {
        let found = said.marks.iter().position(|m| m.id.value == id.value);
        if found.is_none() {
            let message = format!("there is no mark `{}` on `{}`", id.value, said.id.value);
            self.tell("unknown-mark", &id.place, message, "list it in the control's \"marks\"");
        }
        fit.marks.get(found?).copied()
    }
}
