//! Sizes that rest on "typical" or "invented" are confirmed on the part.

use super::own::{Teller, anchor};
use super::{Finding, Limit, Relation, Rule, Source, Standing, Verdict};
use crate::panel::{Class, Panel};

/// The rule.
pub static RULE: Rule = Rule {
    id: "typical",
    asks: "Sizes that are only typical are measured on your own part before anything is cut.",
    why: "A typical size says what such items are like, not what yours is. The verdict waits until the placement says \
          who checked its sizes and when.",
    limit: Limit::Plain,
    source: Source { standing: Standing::Nature, title: "" },
    relation: Relation::Own(measure),
    asked: None,
};

fn measure(panel: &Panel, subject: usize, rule: &'static Rule, out: &mut Vec<Finding>) {
    let mut t = Teller::new(panel, subject, rule, out);
    let Some(s) = t.subject() else { return };
    let Some(facts) = s.facts.as_ref().filter(|f| !f.unconfirmed.is_empty()) else { return };
    let Some((k, at)) = anchor(s, &[Class::Cutout, Class::Hole, Class::Bezel]) else { return };
    let a = t.part(k);
    match &s.checked {
        Some(words) => t.plain(a, None, [at; 2], Verdict::Pass, format!("Checked on the part: {words}.")),
        None => {
            let sizes = facts.unconfirmed.join(", ");
            // what stands beside the panel is no part of the catalogue
            let list = match facts.instrument.as_str() {
                "" => String::new(),
                own if own.ends_with(".json") => format!(" ({own} has them)"),
                name => format!(" (`panelwright instruments show {name}` lists them)"),
            };
            let waits = format!(
                "your own part measured: {sizes}{list}; then write on the placement \"checked\": \"who, when\""
            );
            t.withhold(a, at, waits);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::scene::*;
    use super::*;

    fn one(sizes: &[&str]) -> Scene {
        let mut s = Scene::new();
        let k = s.placement("vent", |f| f.unconfirmed = sizes.iter().map(|s| s.to_string()).collect());
        s.part(k, "cutout", Class::Cutout, circle(60.0, 60.0, 60.0), CUTOUT);
        s
    }

    #[test]
    fn waits_for_the_measured_sizes() {
        assert_eq!(
            one(&["case", "depth"]).line(&RULE),
            "withheld typical/vent.cutout: your own part measured: case, depth (`panelwright instruments show test/item` lists \
             them); then write on the placement \"checked\": \"who, when\""
        );
    }

    #[test]
    fn passes_when_checked_and_says_nothing_of_known_sizes() {
        let mut s = one(&["case"]);
        s.panel.subjects[1].checked = Some("owner, with a calliper, rev A".into());
        assert_eq!(
            s.line(&RULE),
            "pass typical/vent.cutout: Checked on the part: owner, with a calliper, rev A."
        );
        assert!(one(&[]).lines(&RULE).is_empty());
    }
}
