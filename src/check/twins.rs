//! Metric and inch twins are not mixed: 80 mm for 3 1/8 in, 57 mm for 2 1/4 in.

use super::own::{Teller, length, of_class};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Point, span};
use crate::panel::{Class, Panel, Part, PartRef, State, Subject};

/// The rule.
pub static RULE: Rule = Rule {
    id: "twins",
    asks: "A round instrument sits in the hole of its own standard size, not in that of the metric or inch twin.",
    why: "80 mm and 3 1/8 in (79.4 mm), 57 mm and 2 1/4 in (57.15 mm) are taken for each other: the one rattles, the \
          other does not go in. Looked at: the cutout, or the old opening about the same centre that stays round it, \
          against the size that the instrument's nominal name or its case means; where neither is told, it waits.",
    limit: Limit::Plain,
    source: Source {
        standing: Standing::Quoted,
        title: "Nominal sizes 3 1/8 and 2 1/4 in: magazine article and public part model that cites MS33638",
    },
    relation: Relation::Around(measure),
    asked: None,
};

/// A standard size: hole in millimetres, the name that people say, and how it is written.
struct Size {
    hole: f64,
    name: &'static str,
    written: &'static [&'static str],
}

/// The pairs that are mixed up.
const PAIRS: [[Size; 2]; 2] = [
    [
        Size {
            hole: 79.375,
            name: "3 1/8 in",
            written: &["31/8in", "3-1/8in", "31/8\"", "3-1/8\"", "3.125in"],
        },
        Size { hole: 80.0, name: "80 mm", written: &["80mm"] },
    ],
    [
        Size {
            hole: 57.15,
            name: "2 1/4 in",
            written: &["21/4in", "2-1/4in", "21/4\"", "2-1/4\"", "2.25in"],
        },
        Size { hole: 57.0, name: "57 mm", written: &["57mm"] },
    ],
];

/// Centres that lie no farther apart are taken for one opening that was kept or enlarged, mm.
const SAME_CENTRE: f64 = 1.0;

/// Holes that are farther from every size of a pair are no twin's, mm.
const NEAR: f64 = 1.0;

/// Answers for the whole panel when it is asked about the main sheet: old openings are gathered once.
fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    if t.main_sheet().is_none() {
        return;
    }
    let largest = 2.0 * PAIRS[0][1].hole;
    let old: Vec<(PartRef, Point, f64, u32)> = parts(panel, Class::OldOpening)
        .filter_map(|(r, p)| p.contour.as_circle().map(|(c, radius)| (r, c, 2.0 * radius, p.sheet)))
        .filter(|o| o.2 < largest)
        .collect();
    for (n, s) in panel.subjects.iter().enumerate() {
        for (k, cutout) in of_class(s, Class::Cutout) {
            let Some((centre, radius)) = cutout.contour.as_circle() else { continue };
            let a = PartRef { subject: n as u32, part: k as u32 };
            let around = old
                .iter()
                .filter(|o| o.3 == cutout.sheet && span(o.1, centre) <= SAME_CENTRE && o.2 > 2.0 * radius)
                .max_by(|x, y| x.2.total_cmp(&y.2));
            let (hole, b) = around.map_or((2.0 * radius, None), |o| (o.2, Some(o.0)));
            // most holes are far from every pair
            let near = PAIRS.iter().flatten().any(|size| (size.hole - hole).abs() <= NEAR);
            if !near {
                continue;
            }
            match meant(s) {
                Some([own, other]) => one(&mut t, s, a, b, centre, hole, (own, other)),
                None if unsaid(s) => {
                    let waits = format!(
                        "the nominal size of {}, or its case: a hole of {} is one of two that are mixed up",
                        s.id,
                        length(panel, hole)
                    );
                    t.withhold(a, centre, waits);
                }
                None => {}
            }
        }
    }
}

fn one(
    t: &mut Teller<'_>,
    s: &Subject,
    a: PartRef,
    b: Option<PartRef>,
    at: Point,
    hole: f64,
    (own, other): (&Size, &Size),
) {
    // 0 at the own size, 1 at the twin's
    let towards = (hole - own.hole) / (other.hole - own.hole);
    if !(0.5..=1.25).contains(&towards) {
        t.plain(a, b, [at; 2], Verdict::Pass, String::new());
        return;
    }
    let mm = |v: f64| length(t.panel, v);
    let which = if b.is_some() { "The old opening that stays round it" } else { "It" };
    let side = if hole > own.hole { "over" } else { "under" };
    let words = format!(
        "Hole is {} {side} this case: keep or change? {which} is {}, the {} size; the instrument is for {} ({}).",
        mm((hole - own.hole).abs()),
        mm(hole),
        other.name,
        own.name,
        mm(own.hole),
    );
    if s.state == State::Existing {
        t.plain(a, b, [at; 2], Verdict::Pass, words);
    } else {
        t.plain(a, b, [at; 2], Verdict::Fail, words);
    }
}

/// The size that an instrument is made for and its twin: by its nominal name, else by its case when
/// that has the very size of one of the two holes.
fn meant(s: &Subject) -> Option<[&'static Size; 2]> {
    let facts = s.facts.as_ref()?;
    let nominal: Option<String> = facts
        .nominal
        .as_ref()
        .map(|n| n.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect());
    let case = of_class(s, Class::Case).find_map(|(_, p)| p.contour.as_circle()).map(|(_, r)| 2.0 * r);
    for [one, two] in &PAIRS {
        let apart = (one.hole - two.hole).abs();
        for sizes in [[one, two], [two, one]] {
            let named = nominal.as_deref().is_some_and(|n| sizes[0].written.contains(&n));
            let fits = nominal.is_none() && case.is_some_and(|c| (c - sizes[0].hole).abs() < 0.25 * apart);
            if named || fits {
                return Some(sizes);
            }
        }
    }
    None
}

/// Whether nothing at all tells the size of the item that goes in. What has a case is asked by body-passes.
fn unsaid(s: &Subject) -> bool {
    let named = s.facts.as_ref().is_none_or(|f| f.nominal.is_some() || f.frame.is_some());
    !named && of_class(s, Class::Case).next().is_none() && s.parts.iter().any(|p| p.class == Class::Body)
}

/// All parts of one class.
fn parts(panel: &Panel, class: Class) -> impl Iterator<Item = (PartRef, &Part)> {
    panel.subjects.iter().enumerate().flat_map(move |(n, s)| {
        of_class(s, class).map(move |(k, p)| (PartRef { subject: n as u32, part: k as u32 }, p))
    })
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::panel::{Detail, SubjectKind};

    fn one(nominal: Option<&str>, cutout: f64, case: f64) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("asi", |f| f.nominal = nominal.map(String::from));
        s.part(k, "main", Class::Cutout, circle(60.0, 60.0, cutout), CUTOUT);
        s.part(k, "case", Class::Case, circle(60.0, 60.0, case), Detail::Plain);
        s
    }

    #[test]
    fn passes_in_its_own_hole() {
        assert_eq!(one(Some("3 1/8 in"), 79.4, 78.1).line(&RULE), "pass twins/asi.main");
        assert_eq!(one(Some("80 mm"), 80.0, 79.0).line(&RULE), "pass twins/asi.main");
        assert!(one(Some("60 mm"), 60.0, 59.0).lines(&RULE).is_empty());
        assert!(one(None, 79.4, 78.1).lines(&RULE).is_empty(), "nothing says what it is for");
    }

    #[test]
    fn fails_in_the_twins_hole() {
        assert_eq!(
            one(Some("3 1/8 in"), 80.0, 78.1).line(&RULE),
            "fail twins/asi.main: Hole is 0.625 mm over this case: keep or change? It is 80 mm, the 80 mm size; the \
             instrument is for 3 1/8 in (79.375 mm)."
        );
        assert_eq!(
            one(None, 57.15, 57.0).line(&RULE),
            "fail twins/asi.main: Hole is 0.15 mm over this case: keep or change? It is 57.15 mm, the 2 1/4 in size; the \
             instrument is for 57 mm (57 mm)."
        );
        assert!(one(Some("2-1/4 in"), 57.0, 56.5).line(&RULE).contains("0.15 mm under"));
    }

    #[test]
    fn an_old_opening_round_it_is_the_hole_that_counts() {
        let mut s = one(Some("3-1/8\""), 79.4, 78.1);
        let k = s.subject("old-asi", SubjectKind::OldOpening);
        s.part(k, "", Class::OldOpening, circle(60.0, 60.0, 80.0), Detail::Plain);
        let line = s.line(&RULE);
        assert!(
            line.contains("fail twins/asi.main/old-asi: Hole is")
                && line.contains("The old opening that stays round it is 80 mm"),
            "{line}"
        );
    }
}
