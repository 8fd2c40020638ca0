//! From a measure to a verdict: the one place where numbers become words.
//!
//! The lower end of the measure decides; equal is pass, to [`SLACK`]. Contact fails whatever the
//! limit and its source. Tight: it holds as drawn, not at the worst stack of tolerances. What exists
//! and stays is reported, not failed.

use super::{Interval, Note, Verdict};
use crate::geom::SLACK;
use crate::panel::Part;

/// What a relation measured of two parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Measure {
    /// As drawn, mm: not less than this. Below zero: how deep the two overlap, or how far one sticks out.
    pub value: f64,
    /// As drawn, mm: not more than this. The same as `value` but for the depth of overlap of hollow shapes.
    pub upper: f64,
    /// At the worst stack of tolerances, mm; not above `value`.
    pub worst: f64,
    /// The two share metal, or touch where that counts as contact.
    pub contact: bool,
    /// Nearest points, on the first and on the second.
    pub at: [crate::geom::Point; 2],
}

impl Measure {
    /// As drawn, as findings tell it.
    pub fn interval(&self) -> Interval {
        Interval { lower: self.value, upper: self.upper }
    }
}

/// What a case leaves open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Open {
    /// Nothing.
    Nothing,
    /// What is asked is only known not to be more: a pass and a contact are certain. Waits for this.
    Asked(&'static str),
    /// How far one sways against the other is missing: only a fail is certain.
    Sway,
    /// A depth is missing and was taken as the whole depth: only a pass is certain.
    Data,
}

/// The case to be judged.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case {
    pub measure: Measure,
    /// What is asked, mm.
    pub asked: f64,
    pub open: Open,
    /// All that it is about exists and stays.
    pub stays: bool,
}

impl Case {
    /// A plain pass.
    pub fn passes(&self) -> bool {
        let m = &self.measure;
        let short = self.asked - m.worst;
        // also false where a number is none
        !m.contact && short <= SLACK && self.asked - m.value <= SLACK && self.open != Open::Sway
    }

    /// Margin as drawn.
    pub fn margin(&self) -> f64 {
        self.measure.value - self.asked
    }

    /// Order of answers: the better verdict, then the larger margin.
    pub fn worth(&self) -> (bool, f64) {
        (!self.measure.contact, self.measure.worst - self.asked)
    }
}

/// The verdict and what to say with it.
pub(super) fn judge(case: &Case) -> (Verdict, Note) {
    let Measure { value, worst, contact, .. } = case.measure;
    if value.is_nan() || worst.is_nan() || case.asked.is_nan() {
        // every comparison with it is false and would read as a pass
        return (Verdict::Withheld, Note::Waits("finite sizes: a number here is not one".into()));
    }
    let (verdict, note) = if contact {
        (Verdict::Fail, Note::Contact)
    } else if case.asked - value > SLACK {
        (Verdict::Fail, Note::None)
    } else if case.asked - worst > SLACK {
        (Verdict::Tight, Note::None)
    } else if case.open == Open::Sway && !case.stays {
        return (
            Verdict::Withheld,
            Note::Waits("how far the floating panel sways on its mounts (sway)".into()),
        );
    } else {
        return (Verdict::Pass, Note::None);
    };
    match case.open {
        _ if case.stays => (Verdict::Pass, Note::BothStay),
        Open::Asked(words) if !contact => (Verdict::Withheld, Note::Waits(words.into())),
        Open::Data => (Verdict::Withheld, Note::Waits("a depth".into())),
        Open::Nothing | Open::Asked(_) | Open::Sway => (verdict, note),
    }
}

/// How the terms of two parts can stack against a relation: the outline of the first further out (or
/// in), the outline of the second further out (or in), and one off to the other.
#[derive(Clone, Copy, Debug)]
pub(super) enum Stack {
    /// Both outlines may grow.
    Boundaries,
    /// The second outline may grow; the first is a point.
    PointBoundary,
    /// Two points.
    Points,
    /// The first outline may grow while the second, around it, shrinks.
    Within,
    /// The first is a point, the outline around it may shrink.
    PointWithin,
}

/// The worst that the tolerances of two parts can take away, mm. A term with the same non-zero key in
/// both is one deviation: the shift that both share cancels, and an outline that grows with the one
/// around it takes only the difference. Two outlines that grow towards each other are added even when
/// they do so together.
pub(super) fn loss(a: &Part, b: &Part, stack: Stack) -> f64 {
    use Stack::*;
    let mut sum = 0.0;
    for t in &a.terms {
        let shared = shared(t.key, b);
        sum += (t.shift - shared.map_or(0.0, |u| u.shift)).max(0.0);
        sum += match stack {
            Boundaries => t.grow,
            // together with the outline around it
            Within => match shared {
                Some(u) => (t.grow - u.grow).max(u.shrink - t.shrink).max(0.0),
                None => t.grow,
            },
            PointBoundary | Points | PointWithin => 0.0,
        };
    }
    for u in &b.terms {
        let shared = shared(u.key, a);
        sum += (u.shift - shared.map_or(0.0, |t| t.shift)).max(0.0);
        sum += match stack {
            Boundaries | PointBoundary => u.grow,
            Within if shared.is_some() => 0.0,
            Within | PointWithin => u.shrink,
            Points => 0.0,
        };
    }
    sum
}

/// The most that [`loss`] can find for a part in any pair.
pub(super) fn most_loss(p: &Part) -> f64 {
    p.terms.iter().map(|t| t.shift + t.grow.max(t.shrink)).sum()
}

#[inline]
fn shared(key: u32, other: &Part) -> Option<&crate::panel::Term> {
    if key == 0 { None } else { other.terms.iter().find(|t| t.key == key) }
}

#[cfg(test)]
mod tests;
