//! Which layers a machine would cut, by their names, by what the file says, or by the user's word.
//!
//! Machines obey every entity that they are given; services sort by layer name only where it is plain. So:
//! where a layer's name or class says "cut", those layers are cut and no others; where none does, every layer
//! is cut whose name does not say otherwise (common practice, no source).

use super::report::LayerFacts;
use crate::diag::{Problem, did_you_mean};
use crate::import::{CutFile, Layer};
use std::collections::BTreeMap;

/// Words in a layer's name that mean "cut".
const CUT: &[&str] = &["cut", "cuts", "cutting", "cutout", "cutouts", "through"];
/// Words that turn these round.
const NOT: &[&str] = &["no", "not", "dont", "never"];
/// Words that mean "not cut".
const NOT_CUT: &[&str] = &[
    "nocut",
    "mark",
    "marks",
    "marking",
    "engrave",
    "engraving",
    "etch",
    "score",
    "text",
    "texts",
    "dim",
    "dims",
    "dimension",
    "dimensions",
    "note",
    "notes",
    "notice",
    "hatch",
    "centre",
    "center",
    "centreline",
    "centerline",
    "axis",
    "axes",
    "construction",
    "reference",
    "ref",
    "scale",
    "register",
    "existing",
    "frame",
    "border",
    "title",
    "titleblock",
    "hidden",
    "bend",
    "bends",
    "defpoints",
    "paper",
    "label",
    "labels",
    "legend",
];

/// Whether a name says that its layer is cut, or is not; None where it says neither.
fn by_name(name: &str) -> Option<bool> {
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let any = |list: &[&str]| words.iter().any(|w| list.contains(w));
    match (any(CUT), any(NOT), any(NOT_CUT)) {
        (_, _, true) | (true, true, _) => Some(false),
        (true, false, false) => Some(true),
        (false, _, false) => None,
    }
}

/// The same, where what the file says of the layer goes before its name.
fn says(l: &Layer) -> Option<bool> {
    l.says_cut.or_else(|| by_name(&l.name))
}

/// Which layers are cut, with the reason of each.
///
/// # Errors
/// A name of the user's that is no layer of the file.
pub fn choose(file: &CutFile, asked: &[String]) -> Result<Vec<LayerFacts>, Problem> {
    let names = || file.layers.iter().map(|l| l.name.as_str());
    for a in asked {
        if !names().any(|n| n.eq_ignore_ascii_case(a)) {
            let p = Problem::nowhere("unknown-layer", format!("{} has no layer `{a}`", file.file));
            return Err(match did_you_mean(a, names()) {
                Some(n) => p.help(format!("did you mean `{n}`?")),
                None => p.help(format!("its layers: {}", names().collect::<Vec<_>>().join(", "))),
            });
        }
    }
    let told = file.layers.iter().any(|l| says(l) == Some(true));
    let mut counts = vec![BTreeMap::new(); file.layers.len()];
    for i in &file.items {
        if let Some(c) = counts.get_mut(i.layer) {
            *c.entry(i.kind.to_string()).or_insert(0) += 1;
        }
    }
    let choice = |l: &Layer| {
        if !asked.is_empty() {
            return match asked.iter().any(|a| a.eq_ignore_ascii_case(&l.name)) {
                true => (true, "you named it"),
                false => (false, "you named others"),
            };
        }
        match (says(l), told) {
            (Some(true), _) => (true, "its name or class says cut"),
            (_, true) => (false, "other layers say cut"),
            (Some(false), false) => (false, "its name says otherwise"),
            (None, false) => (true, "no layer says cut, and its name does not say otherwise"),
        }
    };
    Ok(file
        .layers
        .iter()
        .zip(counts)
        .map(|(l, counts)| {
            let (cut, why) = choice(l);
            LayerFacts { name: l.name.clone(), cut, why, hidden: l.hidden, counts }
        })
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_say_cut_and_names_that_do_not() {
        for n in ["CUT", "Cut_Outer", "laser-cut", "CUTOUTS"] {
            assert_eq!(by_name(n), Some(true), "{n}");
        }
        for n in ["NO-CUT", "do not cut", "Engrave", "DIM", "Text 1", "center", "Defpoints"] {
            assert_eq!(by_name(n), Some(false), "{n}");
        }
        for n in ["0", "Outline", "PROFILE", "shortcuts", "Layer 1", "Holes", "(no layer)", "No. 4"] {
            assert_eq!(by_name(n), None, "{n}");
        }
    }
}
