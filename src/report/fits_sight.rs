//! What is seen of an instrument where it fits, and the best spot by sight and reach, told to people and to programs.

use crate::geom::Vec2;
use crate::panel::Panel;
use crate::place::{Answer, BySight, Counted, Sight, Sighted, is_standby};
use crate::report::sentence::{trim, wrap};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What is seen after a shift, in a sentence; nothing where the panel does not say where the eye is.
pub fn seen(a: &Answer, shift: Vec2) -> Option<String> {
    let sight = a.sight.as_ref().ok()?;
    let barred = sight.barred(shift);
    let lines = sight.lines();
    let heights = "from the eye at its height, 40 mm lower and 40 mm higher";
    if sight.asked_of() == 0 {
        // nothing known in front is not the same as nothing in front
        return Some(format!(
            "Whether it is seen there is withheld: the file tells of no control and of nothing fixed in front of the panel. \
             Give what stands there in `controls` and `obstacles`.{}",
            must(a)
        ));
    }
    if barred.is_empty() {
        return Some(format!(
            "Seen there past controls at rest and what is fixed: all {lines} lines of sight to its corners and middle are \
             clear, {heights}."
        ));
    }
    let mut by: BTreeMap<String, usize> = BTreeMap::new();
    for b in &barred {
        *by.entry(name(&a.panel, b.by)).or_default() += 1;
    }
    let by: Vec<String> = by.into_iter().map(|(name, n)| format!("{n} by {name}")).collect();
    Some(format!(
        "Not wholly seen there: of {lines} lines of sight to its corners and middle, {heights}, {} {} barred: {}.",
        barred.len(),
        if barred.len() == 1 { "is" } else { "are" },
        by.join(", ")
    ))
}

/// What is open of a standby while nobody can say what is seen of it.
fn must(a: &Answer) -> &'static str {
    if is_standby(&a.panel, a.subject) { " A standby must be seen: until then no spot is sure." } else { "" }
}

fn name(panel: &Panel, by: Option<crate::panel::PartRef>) -> String {
    by.map_or("the panel itself, since the eye is not in front of it".into(), |p| panel.part_name(p))
}

/// The best spot by sight and reach, or why none is told; `spot` tells the spot itself.
pub fn text(a: &Answer, out: &mut String, spot: impl FnOnce(&mut String)) {
    match &a.by_sight {
        None => {}
        Some(BySight::Withheld(lacks)) => {
            let words = format!("Best by sight and reach: withheld; {}.{}", lacks.join("; "), must(a));
            *out += &format!("{}\n", wrap(&words, 0));
        }
        Some(BySight::Told(s)) => told(s, out, spot),
    }
}

fn told(s: &Sighted, out: &mut String, spot: impl FnOnce(&mut String)) {
    if s.unseen > 0 {
        let none = if s.spots.best.is_none() { " None is chosen." } else { "" };
        let words = format!(
            "A standby must be seen: of {} spots compared, it is not wholly seen at {}, and these are left out.{none}",
            s.compared, s.unseen
        );
        *out += &format!("{}\n", wrap(&words, 0));
    }
    if s.spots.best.is_none() {
        return;
    }
    spot(out);
    let words = format!(
        "It costs {}: {} spots were compared, the cheapest asked by all rules, and of those with the fewest findings this one \
         costs the least.",
        trim(s.cost(), 2),
        s.compared - s.unseen
    );
    *out += &format!("{}\n", wrap(&words, 0));
    for t in &s.terms {
        *out += &format!("{}\n", wrap(&term(t), 2));
    }
}

fn term(t: &Counted) -> String {
    let Counted { id, asks, source, weight, unit, measured, lacks } = t;
    match measured {
        Some(m) => format!(
            "{id}: {} {unit} x {} = {}; {asks} ({source})",
            trim(*m, 1),
            trim(*weight, 3),
            trim(t.cost(), 2)
        ),
        None => match lacks {
            Some(what) => format!("{id}: not counted; the file does not give {what}"),
            None => format!("{id}: not counted; it asks nothing of such an item"),
        },
    }
}

/// What is seen after a shift; null where the panel does not say where the eye is.
pub fn seen_json(a: &Answer, shift: Vec2) -> Value {
    let Ok(sight) = &a.sight else { return Value::Null };
    let barred = sight.barred(shift);
    let of = |b: &crate::place::Barred| json!({ "eye": b.eye, "to": b.to.words(), "by": b.by.map(|p| a.panel.part_name(p)) });
    json!({
        "whole": (sight.asked_of() > 0).then_some(barred.is_empty()), "lines": sight.lines(), "asked-of": sight.asked_of(),
        "barred": barred.iter().map(of).collect::<Vec<_>>(),
    })
}

/// The best spot by sight and reach; `spot` is what is told of any spot.
pub fn json(a: &Answer, spot: impl FnOnce(&Sighted) -> Option<Value>) -> Value {
    match &a.by_sight {
        None => Value::Null,
        Some(BySight::Withheld(lacks)) => json!({ "withheld": lacks }),
        Some(BySight::Told(s)) => {
            let term = |t: &Counted| {
                json!({
                    "id": t.id, "measured": t.measured, "unit": t.unit, "weight": t.weight, "cost": t.cost(),
                    "asks": t.asks, "source": t.source, "lacks": t.lacks,
                })
            };
            json!({
                "spot": spot(s), "cost": s.spots.best.as_ref().map(|_| s.cost()),
                "terms": s.terms.iter().map(term).collect::<Vec<_>>(),
                "must-be-seen": a.sight.as_ref().is_ok_and(|s: &Sight| s.standby),
                "compared": s.compared, "unseen": s.unseen,
            })
        }
    }
}
