//! Old openings that stay are closed by something.

use super::own::Teller;
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::geom::{contains, distance};
use crate::panel::{Class, Classes, Panel, Part, SheetRole, SubjectKind};

/// The rule.
pub static RULE: Rule = Rule {
    id: "spare-hole",
    asks: "An old opening that stays is covered by something.",
    why: "What is taken out leaves its hole, and the last one is found after the coat. Covered: wholly under a bezel or \
          a flange, or under a second sheet that has no opening there. Else the verdict waits for what closes it.",
    limit: Limit::Plain,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject().filter(|s| s.kind == SubjectKind::OldOpening) else { return };
    for (k, old) in s.parts.iter().enumerate().filter(|(_, p)| p.class == Class::OldOpening) {
        let a = t.part(k);
        if swallowed(panel, old) {
            continue;
        }
        if closed(panel, old) {
            t.plain(a, None, [old.centre; 2], Verdict::Pass, String::new());
        } else {
            let waits = "what will close this old opening: a blanking plate, an instrument, a patch?".into();
            t.withhold(a, old.centre, waits);
        }
    }
}

/// Whether a new opening in the same sheet takes the old one up whole: then it no longer exists.
fn swallowed(panel: &Panel, old: &Part) -> bool {
    let openings = Classes::of(&[Class::Cutout, Class::Hole]);
    let fitted = panel.subjects.iter().filter(|s| !s.provision);
    fitted
        .flat_map(|s| &s.parts)
        .any(|p| openings.has(p.class) && p.sheet == old.sheet && contains(&p.contour, &old.contour))
}

fn closed(panel: &Panel, old: &Part) -> bool {
    let covers = Classes::of(&[Class::Bezel, Class::Flange]);
    let fitted = panel.subjects.iter().filter(|s| !s.provision);
    if fitted.flat_map(|s| &s.parts).any(|p| covers.has(p.class) && contains(&p.contour, &old.contour)) {
        return true;
    }
    let own = old.sheet as usize;
    if panel.space.groups.iter().any(|g| g.opening.is_some_and(|o| std::ptr::eq(panel.part(o), old))) {
        return true;
    }
    panel.sheets.iter().enumerate().any(|(k, sheet)| {
        k != own
            && sheet.role != SheetRole::Main
            && (sheet.layer_of == Some(own) || sheet.role == SheetRole::Insert)
            && contains(&sheet.outline, &old.contour)
            && !cut_there(panel, k, old)
    })
}

/// Whether a sheet has an opening that meets the old one.
fn cut_there(panel: &Panel, sheet: usize, old: &Part) -> bool {
    panel.subjects.iter().flat_map(|s| &s.parts).any(|p| {
        Classes::OPENINGS.has(p.class)
            && p.sheet as usize == sheet
            && distance::within(&p.contour, &old.contour, 0.0).is_some_and(|g| g.relation.overlaps())
    })
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;
    use crate::geom::Contour;
    use crate::panel::{Detail, Sheet};

    fn old(contour: Contour) -> Scene {
        let mut s = Scene::new();
        let k = s.subject("old-1", SubjectKind::OldOpening);
        s.part(k, "", Class::OldOpening, contour, Detail::Plain);
        s
    }

    #[test]
    fn waits_for_what_closes_it() {
        assert_eq!(
            old(circle(60.0, 60.0, 57.0)).line(&RULE),
            "withheld spare-hole/old-1: what will close this old opening: a blanking plate, an instrument, a patch?"
        );
    }

    #[test]
    fn a_bezel_or_a_new_opening_takes_it_up() {
        let mut s = old(circle(60.0, 60.0, 57.0));
        let k = s.placement("plate", |_| ());
        s.part(k, "bezel", Class::Bezel, circle(60.0, 60.0, 70.0), Detail::Plain);
        assert_eq!(s.line(&RULE), "pass spare-hole/old-1");
        s.panel.subjects[k].provision = true;
        assert_eq!(s.verdicts(&RULE), [Verdict::Withheld], "a place kept free covers nothing");
        let mut s = old(circle(60.0, 60.0, 57.0));
        let k = s.placement("display", |_| ());
        s.part(k, "cutout", Class::Cutout, rect(70.0, 60.0, 160.0, 90.0), CUTOUT);
        assert!(s.verdicts(&RULE).is_empty(), "it no longer exists");
        let mut s = old(circle(60.0, 60.0, 57.0));
        let k = s.placement("display", |_| ());
        s.part(k, "bezel", Class::Bezel, rect(90.0, 60.0, 90.0, 90.0), Detail::Plain);
        assert_eq!(s.verdicts(&RULE), [Verdict::Withheld], "half covered is open");
    }

    #[test]
    fn a_second_sheet_closes_it_unless_it_is_cut_there() {
        let mut s = old(circle(60.0, 60.0, 57.0));
        let overlay = Sheet {
            id: "overlay".into(),
            role: SheetRole::Overlay,
            layer_of: Some(0),
            ..s.panel.sheets[0].clone()
        };
        s.panel.sheets.push(overlay);
        assert_eq!(s.verdicts(&RULE), [Verdict::Pass]);
        let k = s.placement("asi", |_| ());
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 40.0), CUTOUT);
        s.last(k).sheet = 1;
        assert_eq!(s.verdicts(&RULE), [Verdict::Withheld]);
    }
}
