//! Numbers that are lawful but look mistyped, told as remarks: the verdicts come from the rules.

use crate::geom::{contains, distance};
use crate::panel::{Class, Part, Sheet, Subject, SubjectKind};
use crate::units::fmt_mm;

/// What looks wrong, in words.
pub(super) fn look(sheets: &[Sheet], subjects: &[Subject]) -> Vec<String> {
    let mut all = Vec::new();
    for s in subjects.iter().filter(|s| s.kind == SubjectKind::Placement) {
        let mut tell = |words: String| {
            let words = format!("look again at {}: {words}", s.id);
            if !all.contains(&words) {
                all.push(words);
            }
        };
        let of = |class: Class| s.parts.iter().filter(move |p| p.class == class);
        let cutout = of(Class::Cutout).max_by(|a, b| size(a).total_cmp(&size(b)));
        let bezel = of(Class::Bezel).next();
        if let (Some(cutout), Some(hole)) =
            (cutout, of(Class::Hole).max_by(|a, b| size(a).total_cmp(&size(b))))
            && size(cutout) < size(hole)
        {
            tell(format!(
                "its opening, {}, is smaller than its own hole {}, {}: were inches read as millimetres?",
                fmt_mm(size(cutout)),
                hole.name,
                fmt_mm(size(hole))
            ));
        }
        if let Some(bezel) = bezel {
            let far = of(Class::Hole).find(|h| {
                distance::point_contour(h.centre, &bezel.contour).relation == distance::Relation::Apart
            });
            if let Some(far) = far {
                let d = far.centre - s.at;
                tell(format!(
                    "{} lies {} across and {} up or down from the centre, outside the bezel of {}: was a diameter \
                     (of a bolt circle) read as a radius?",
                    far.name,
                    fmt_mm(d.x.abs()),
                    fmt_mm(d.y.abs()),
                    fmt_mm(size(bezel))
                ));
            }
            if let Some(cutout) = cutout {
                let same =
                    (size(bezel) - size(cutout)).abs() < 0.01 && contains(&bezel.contour, &cutout.contour);
                if same {
                    tell("its cutout is as large as its bezel: nothing is left to cover the edge".into());
                }
            }
        }
        if let (Some(cutout), Some(sheet)) = (cutout, sheets.get(s.sheet as usize)) {
            let b = sheet.outline.bounds();
            let room = b.width().max(b.height());
            if size(cutout) > room {
                tell(format!(
                    "its opening, {}, exceeds the whole sheet ({}): were millimetres read as inches?",
                    fmt_mm(size(cutout)),
                    fmt_mm(room)
                ));
            }
        }
    }
    all
}

/// The larger side of a part's box, mm.
fn size(p: &Part) -> f64 {
    let b = p.contour.bounds();
    b.width().max(b.height())
}
