//! Numbers that are lawful but look mistyped: inches typed as millimetres, a diameter as a radius.

use super::own::{Teller, of_class};
use super::{Finding, Findings, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{Point, Rect, Transform, Vec2, contains, distance, length};
use crate::panel::{Class, Detail, Mounting, Panel, Part, PartRef, Subject, SubjectKind};
use crate::units::Length;
use std::collections::BTreeSet;

/// The rule.
pub static RULE: Rule = Rule {
    id: "plausible",
    asks: "The numbers of an item suit each other and the panel.",
    why: "A bolt circle typed as a radius, inches typed as millimetres, millimetres typed as inches and a cutout measured on \
          the bezel are numbers that can be read, and each draws a row of verdicts after it that do not name it. Looked at: \
          the main opening against the item's own screw holes, its nominal name, its bezel and the panel; the screw holes \
          against the bezel or flange; the panel's own size against 50 mm and 3 m. What rests on such a number is listed \
          in short until the number is mended.",
    limit: Limit::Plain,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

/// No panel of an aeroplane is longer than the second or so small as the first, mm.
const PANEL: (f64, f64) = (50.0, 3000.0);

/// Lengths that differ by less are the same to whoever measured them, mm.
const SAME: f64 = 0.05;

/// What is about subjects whose own numbers look mistyped.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubtful {
    subjects: BTreeSet<u32>,
}

impl Doubtful {
    /// Looks for them; with the main sheet among them, all are doubtful.
    pub fn of(panel: &Panel, findings: &Findings) -> Doubtful {
        let mistyped = |f: &&Finding| *f.rule == RULE && f.verdict == Verdict::Fail;
        let found: BTreeSet<u32> = findings.list.iter().filter(mistyped).map(|f| f.a.subject).collect();
        let is_sheet =
            |k: &u32| panel.subjects.get(*k as usize).is_some_and(|s| s.kind == SubjectKind::Sheet);
        let all = found.iter().any(is_sheet);
        Doubtful { subjects: if all { (0..panel.subjects.len() as u32).collect() } else { found } }
    }

    /// Whether a verdict that is no pass rests on such numbers and does not itself name them.
    pub fn under(&self, f: &Finding) -> bool {
        let about = |r: PartRef| self.subjects.contains(&r.subject);
        f.verdict != Verdict::Pass && *f.rule != RULE && (about(f.a) || f.b.is_some_and(about))
    }
}

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    if let Some((edge, at)) = t.main_sheet() {
        if let Some(words) = whole(t.panel) {
            t.plain(edge, None, [at; 2], Verdict::Fail, words);
        }
        return;
    }
    let openings = || s.parts.iter().enumerate().filter(|(_, p)| is_opening(p));
    let Some((k, main)) = openings().max_by(|a, b| size(a.1).total_cmp(&size(b.1))) else { return };
    if let Some(words) = whole(panel).is_none().then(|| too_large(panel, main)).flatten() {
        return t.plain(t.part(k), None, [main.centre; 2], Verdict::Fail, words + &written(main));
    }
    if main.class == Class::OldOpening {
        return;
    }
    if let Some(words) = too_small(s, main) {
        return t.plain(t.part(k), None, [main.centre; 2], Verdict::Fail, words + &written(main));
    }
    let screw = far_screw(s);
    if let Some((n, words)) = &screw {
        let hole = &s.parts[*n];
        t.plain(t.part(*n), None, [hole.centre; 2], Verdict::Fail, words.clone() + &written(hole));
    }
    if nothing_covers(s, main) {
        let words =
            "Cutout equals bezel: nothing left to cover the edge. Measure the opening, not what hides it.";
        t.plain(t.part(k), None, [main.centre; 2], Verdict::Fail, words.to_string() + &written(main));
    } else if screw.is_none() {
        t.plain(t.part(k), None, [main.centre; 2], Verdict::Pass, String::new());
    }
}

/// The panel's own size, where it is none of a panel.
fn whole(panel: &Panel) -> Option<String> {
    let b = panel.sheets.first()?.outline.bounds();
    let side = b.width().max(b.height());
    let shape = |unit: f64| format!("{} x {}", trimmed(b.width() / unit, 2), trimmed(b.height() / unit, 2));
    if side < PANEL.0 {
        Some(format!("The panel is {} mm: are inches typed as millimetres?", shape(1.0)))
    } else if side > PANEL.1 {
        Some(format!("The panel is {} mm, {} in: are millimetres typed as inches?", shape(1.0), shape(25.4)))
    } else {
        None
    }
}

/// An opening larger than the sheet that it is in.
fn too_large(panel: &Panel, main: &Part) -> Option<String> {
    let sheet = panel.sheets.get(main.sheet as usize)?.outline.bounds();
    let (hole, room) = (size(main), sheet.width().max(sheet.height()));
    let meant = trimmed(hole / 25.4, 3);
    (hole > room).then(|| {
        format!(
            "Hole {} mm exceeds the panel ({} mm). Is {meant} mm meant, not {meant} in?",
            tenth(hole),
            tenth(room)
        )
    })
}

/// An opening smaller than the screw holes beside it, or a 25th of its nominal size.
fn too_small(s: &Subject, main: &Part) -> Option<String> {
    let screws = of_class(s, Class::Hole).filter(|(_, p)| is_for_screw(p)).map(|(_, p)| size(p));
    let (hole, screw) = (size(main), screws.fold(0.0, f64::max));
    let meant = trimmed(hole, 4);
    if main.class == Class::Cutout && hole < screw {
        let hint = if screw > 25.4 {
            format!("Is {0} mm meant for these, not {0} in?", trimmed(screw / 25.4, 3))
        } else {
            format!("Is {meant} in meant, not {meant} mm?")
        };
        return Some(format!("Main hole {} mm is smaller than its own screw holes. {hint}", tenth(hole)));
    }
    let nominal = s.facts.as_ref()?.nominal.as_deref()?;
    let mm = Length::parse(nominal, None).ok()?.mm();
    let times = mm / hole;
    (0.9 * 25.4..1.1 * 25.4).contains(&times).then(|| {
        format!(
            "Main hole {} mm for a nominal size of {nominal}: is {meant} in meant, not {meant} mm?",
            tenth(hole)
        )
    })
}

/// The first screw hole outside the bezel (the flange, where there is no bezel) which at half the
/// distance would lie within: its index and the words.
fn far_screw(s: &Subject) -> Option<(usize, String)> {
    let cover = of_class(s, Class::Bezel).next().or_else(|| of_class(s, Class::Flange).next())?.1;
    let name = if cover.class == Class::Bezel { "bezel" } else { "flange" };
    let apart = |p: Point| distance::point_contour(p, &cover.contour).relation == distance::Relation::Apart;
    // most lie within, which is known sooner
    let outside = |p: Point| !cover.contour.holds(p) && apart(p);
    let holes = of_class(s, Class::Hole).filter(|(_, p)| is_for_screw(p));
    for (k, hole) in holes.filter(|(_, p)| outside(p.centre)) {
        let family: Vec<Point> = of_class(s, Class::Hole)
            .filter(|(_, p)| family(&p.name) == family(&hole.name))
            .map(|(_, p)| p.centre)
            .collect();
        let sum = family.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
        let centre = (sum / family.len() as f64).to_point();
        let halved = |p: &Point| centre + (*p - centre) * 0.5;
        if family.len() < 2 || family.iter().any(|p| outside(halved(p))) {
            continue;
        }
        // as the definition has it: level, whatever the placement's angle
        let back = Transform::place(Point::ORIGIN, -s.turn, false);
        let off = back.vector(hole.centre - centre);
        let (x, y) = (tenth(off.x.abs()), tenth(off.y.abs()));
        let fall = if x == y {
            format!("{x} mm off centre in x and y")
        } else {
            format!("{x} mm off centre in x, {y} mm in y")
        };
        let r = back.contour(&cover.contour).bounds();
        let (wide, half) = pair(&r);
        let words = format!(
            "Screws fall {fall}, outside the {wide} mm {name} ({half}): is {} a diameter?",
            round_in(length(off))
        );
        return Some((k, words));
    }
    None
}

/// Whether an opening put in from the front is as large as the bezel that should hide its edge.
fn nothing_covers(s: &Subject, main: &Part) -> bool {
    let front = s.facts.as_ref().is_none_or(|f| f.mounting != Some(Mounting::Rear));
    front
        && of_class(s, Class::Bezel).any(|(_, bezel)| {
            let (a, b) = (bezel.contour.bounds(), main.contour.bounds());
            (a.width() - b.width()).abs() < SAME
                && (a.height() - b.height()).abs() < SAME
                && (contains(&bezel.contour, &main.contour) || contains(&main.contour, &bezel.contour))
        })
}

fn is_opening(p: &Part) -> bool {
    matches!(p.class, Class::Cutout | Class::OldOpening) || p.class == Class::Hole && !is_for_screw(p)
}

fn is_for_screw(p: &Part) -> bool {
    matches!(p.detail, Detail::Hole { free: false, .. })
}

/// `screw` of `screw-3`: the holes of one pattern.
fn family(name: &str) -> &str {
    name.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end_matches('-')
}

/// The larger side of a part's box, mm.
fn size(p: &Part) -> f64 {
    let b = p.contour.bounds();
    b.width().max(b.height())
}

/// Where the number is written, when that is not the place of the finding.
fn written(p: &Part) -> String {
    match &p.source.place {
        Some(at) if *at != p.place => format!(" Written at {at}."),
        _ => String::new(),
    }
}

/// Sides of a box and their halves: once where they are alike.
fn pair(b: &Rect) -> (String, String) {
    let (w, h) = (b.width(), b.height());
    if (w - h).abs() < SAME {
        (tenth(w), tenth(w / 2.0))
    } else {
        (format!("{} x {}", tenth(w), tenth(h)), format!("{}, {}", tenth(w / 2.0), tenth(h / 2.0)))
    }
}

/// A length as whoever typed it may have had it: a round fraction of an inch, else millimetres.
fn round_in(mm: f64) -> String {
    let eighths = (mm / 25.4 * 8.0).round();
    if (eighths / 8.0 * 25.4 - mm).abs() < SAME && eighths > 0.0 {
        format!("{} in", trimmed(eighths / 8.0, 3))
    } else {
        format!("{} mm", tenth(mm))
    }
}

/// Millimetres as people say them: one decimal, none from 100 on.
fn tenth(mm: f64) -> String {
    trimmed(mm, if mm.abs() < 100.0 { 1 } else { 0 })
}

fn trimmed(v: f64, decimals: usize) -> String {
    super::own::number(v, decimals)
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;

    /// A dial of this cutout with four screws on a square, behind a bezel of 90 mm.
    fn dial(cutout: f64, square: f64, screws: f64) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("asi", |_| {});
        s.part(k, "cutout", Class::Cutout, circle(150.0, 100.0, cutout), CUTOUT);
        for (n, (x, y)) in [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)].into_iter().enumerate() {
            let at = (150.0 + x * square, 100.0 + y * square);
            s.part(
                k,
                &format!("screw-{}", n + 1),
                Class::Hole,
                circle(at.0, at.1, screws),
                hole(screws, None),
            );
        }
        s.part(k, "bezel", Class::Bezel, circle(150.0, 100.0, 90.0), Detail::Plain);
        s
    }

    #[test]
    fn passes_what_suits() {
        assert_eq!(dial(79.4, 62.9, 4.3).line(&RULE), "pass plausible/asi.cutout");
    }

    #[test]
    fn fails_with_the_number_that_may_be_meant() {
        assert_eq!(
            dial(79.4, 62.9, 4.3 * 25.4).line(&RULE),
            "fail plausible/asi.cutout: Main hole 79.4 mm is smaller than its own screw holes. Is 4.3 mm meant for these, \
             not 4.3 in?"
        );
        assert_eq!(
            dial(2.25, 62.9, 4.3).line(&RULE),
            "fail plausible/asi.cutout: Main hole 2.2 mm is smaller than its own screw holes. Is 2.25 in meant, not 2.25 mm?"
        );
        assert_eq!(
            dial(79.4, 120.0, 4.3).line(&RULE),
            "fail plausible/asi.screw-1: Screws fall 60 mm off centre in x and y, outside the 90 mm bezel (45): is 84.9 mm a \
             diameter?"
        );
        // screws that even at half the distance lie outside are no doubled pattern
        assert_eq!(dial(79.4, 160.0, 4.3).line(&RULE), "pass plausible/asi.cutout");
        assert_eq!(
            dial(90.0, 62.9, 4.3).line(&RULE),
            "fail plausible/asi.cutout: Cutout equals bezel: nothing left to cover the edge. Measure the opening, not what \
             hides it."
        );
        assert_eq!(
            dial(2016.76, 62.9, 4.3).line(&RULE),
            "fail plausible/asi.cutout: Hole 2017 mm exceeds the panel (400 mm). Is 79.4 mm meant, not 79.4 in?"
        );
    }

    #[test]
    fn what_rests_on_it_is_known() {
        let s = dial(2016.76, 62.9, 4.3);
        let all = super::super::check(&s.panel, &super::super::Options::default());
        let doubtful = Doubtful::of(&s.panel, &all);
        let (under, not): (Vec<_>, Vec<_>) =
            all.list.iter().filter(|f| f.verdict != Verdict::Pass).partition(|f| doubtful.under(f));
        assert!(under.len() > 5, "{under:?}");
        // what the sheet itself waits for stays in sight
        assert!(not.iter().all(|f| *f.rule == RULE || f.a.subject == 0), "{not:?}");
    }
}
