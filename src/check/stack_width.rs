//! A unit fits the width of its stack.

use super::own::{Reading, Teller, grows, length, shrinks};
use super::stack::{in_frame, missing};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::Panel;

/// The rule.
pub static RULE: Rule = Rule {
    id: "stack-width",
    asks: "A unit goes between the rails and through the opening of its stack, with no more play than the shims fill.",
    why: "Trays of one nominal width differ by a millimetre and more: a unit that binds at the face costs a day, one \
          that is too narrow hangs on its screws. Measured: the least of the play in the opening, the play between the \
          rails, and what the shims on both sides fill beyond that play (below zero: does not fit).",
    limit: Limit::Worked,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(u) = in_frame(&t) else { return };
    let values = [
        ("the unit's width", u.unit.width),
        ("the opening's width", u.frame.opening_width),
        ("the clear width between the rails", u.frame.rail_spacing),
        ("the thickest shim that the rails take", u.frame.shim),
    ];
    let [Some(width), Some(opening), Some(rails), Some(shim)] = values.map(|(_, v)| v) else {
        t.withhold(u.a, u.at, missing(&values).join(", "));
        return;
    };
    let (in_opening, between) = (opening - width, rails - width);
    let spare = 2.0 * shim - between;
    let measured = in_opening.min(between).min(spare);
    let size = 2.0 * grows(panel.part(u.a));
    let cut = u.b.map_or(0.0, |b| 2.0 * shrinks(panel.part(b)));
    let worst = (in_opening - size - cut).min(between - size).min(spare);
    let mm = |v: f64| length(panel, v);
    let reading = Reading { measured, asked: t.asked(0.0), loss: measured - worst };
    t.reading(u.a, u.b, [u.at; 2], reading, |v| match v {
        Verdict::Fail if in_opening < 0.0 => format!(
            "The unit is {} wide, the opening {}: {} too narrow. Widen the opening.",
            mm(width),
            mm(opening),
            mm(-in_opening)
        ),
        Verdict::Fail if between < 0.0 => format!(
            "The unit is {} wide, the rails stand {} apart: {} too little. Move a rail.",
            mm(width),
            mm(rails),
            mm(-between)
        ),
        Verdict::Fail if spare < 0.0 => format!(
            "The unit is {} wide between rails {} apart: it needs a shim of {} on each side, the rails take {}. Move a \
             rail or make a spacer.",
            mm(width),
            mm(rails),
            mm(between / 2.0),
            mm(shim)
        ),
        Verdict::Fail => format!("The unit has {} of play, asked {}.", mm(measured), mm(reading.asked)),
        Verdict::Tight => format!(
            "The unit is {} wide in an opening of {} and rails {} apart: the tolerances can take {}. Measure the tray.",
            mm(width),
            mm(opening),
            mm(rails),
            mm(reading.loss)
        ),
        Verdict::Pass if between > 0.0 => format!("Shim {} on each side.", mm(between / 2.0)),
        _ => String::new(),
    });
}

#[cfg(test)]
mod tests {
    use super::super::stack_height::tests::{frame, stack};
    use super::*;
    use crate::panel::{StackFrame, TermKind};

    fn line(change: impl FnOnce(&mut StackFrame)) -> String {
        let mut f = frame();
        change(&mut f);
        stack(f, &[Some(33.0)]).0.line(&RULE)
    }

    #[test]
    fn passes_and_names_the_shim() {
        // a 6.25 in tray (158.75 mm) between rails 160 mm apart
        assert_eq!(line(|_| ()), "pass stack-width/unit-1.bezel/radios.cutout: Shim 0.625 mm on each side.");
        assert_eq!(
            line(|f| (f.rail_spacing, f.opening_width) = (Some(158.75), Some(158.75))),
            "pass stack-width/unit-1.bezel/radios.cutout"
        );
    }

    #[test]
    fn tight_when_the_tolerances_take_the_play() {
        let (mut s, k) = stack(frame(), &[Some(33.0)]);
        s.panel.subjects[k].parts[0].terms.clear();
        s.tolerance(k, TermKind::Cut, 0.7, 0.7);
        let line = s.line(&RULE);
        assert!(
            line.starts_with("tight stack-width/unit-1.bezel/radios.cutout: The unit is 158.75 mm wide"),
            "{line}"
        );
    }

    #[test]
    fn fails_each_way() {
        assert_eq!(
            line(|f| f.opening_width = Some(158.0)),
            "fail stack-width/unit-1.bezel/radios.cutout: The unit is 158.75 mm wide, the opening 158 mm: 0.75 mm too \
             narrow. Widen the opening."
        );
        assert!(
            line(|f| f.rail_spacing = Some(158.5))
                .contains("the rails stand 158.5 mm apart: 0.25 mm too little.")
        );
        assert_eq!(
            line(|f| f.shim = Some(0.5)),
            "fail stack-width/unit-1.bezel/radios.cutout: The unit is 158.75 mm wide between rails 160 mm apart: it needs \
             a shim of 0.625 mm on each side, the rails take 0.5 mm. Move a rail or make a spacer."
        );
    }

    #[test]
    fn withheld_names_what_is_missing() {
        assert_eq!(
            line(|f| (f.shim, f.rail_spacing) = (None, None)),
            "withheld stack-width/unit-1.bezel: the clear width between the rails, the thickest shim that the rails take"
        );
    }
}
