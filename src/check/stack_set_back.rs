//! Faces of a stack's units are flush.

use super::own::{Reading, Teller, length};
use super::stack::{in_frame, missing};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::Panel;

/// The rule.
pub static RULE: Rule = Rule {
    id: "stack-set-back",
    asks: "A unit's tray sits as far behind the panel's face as the rails carry it.",
    why: "Proud and sunk faces show at once, and tray screws at different depths collide. Measured: the difference \
          between the set-back that the unit wants and that of the rails; half a millimetre is common practice.",
    limit: Limit::AtMost(0.5),
    source: Source { standing: Standing::Practice, title: "" },
    relation: Relation::Around(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(u) = in_frame(&t) else { return };
    let values = [
        ("the set-back of the unit's tray", u.unit.set_back),
        ("the set-back of the rails", u.frame.set_back),
    ];
    let [Some(unit), Some(rails)] = values.map(|(_, v)| v) else {
        t.withhold(u.a, u.at, missing(&values).join(", "));
        return;
    };
    let reading = Reading { measured: (unit - rails).abs(), asked: t.asked(0.5), loss: 0.0 };
    let mm = |v: f64| length(panel, v);
    t.reading(u.a, u.b, [u.at; 2], reading, |v| match v {
        Verdict::Fail => format!(
            "The tray wants {} of set-back, the rails give {}: the face stands {} {}, at most {} is asked. Slot the rail \
             or move the tray's screws.",
            mm(unit),
            mm(rails),
            mm(reading.measured),
            // a tray that sits less far behind than it wants pushes its face forward, to the pilot
            if rails < unit { "proud" } else { "sunk" },
            mm(reading.asked)
        ),
        _ => String::new(),
    });
}

#[cfg(test)]
mod tests {
    use super::super::stack_height::tests::{frame, stack};
    use super::*;

    fn line(rails: Option<f64>) -> String {
        let mut f = frame();
        f.set_back = rails;
        stack(f, &[Some(33.0)]).0.line(&RULE)
    }

    #[test]
    fn passes_within_half_a_millimetre() {
        assert_eq!(line(Some(3.0)), "pass stack-set-back/unit-1.bezel/radios.cutout");
        assert_eq!(line(Some(3.5)), "pass stack-set-back/unit-1.bezel/radios.cutout");
    }

    #[test]
    fn fails_proud_and_sunk() {
        assert_eq!(
            line(Some(1.8)),
            "fail stack-set-back/unit-1.bezel/radios.cutout: The tray wants 3 mm of set-back, the rails give 1.8 mm: the \
             face stands 1.2 mm proud, at most 0.5 mm is asked. Slot the rail or move the tray's screws."
        );
        assert!(line(Some(4.0)).contains("the face stands 1 mm sunk"));
    }

    #[test]
    fn withheld_without_one_of_the_two() {
        assert_eq!(line(None), "withheld stack-set-back/unit-1.bezel: the set-back of the rails");
    }
}
