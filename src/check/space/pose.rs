//! A pose of the controls in words.

use crate::check::own::number;
use crate::panel::Panel;
use crate::solid::travel::DriverKind;

/// `fore-aft 80 mm, roll -70 deg`: the drivers that move the links.
pub fn in_words(panel: &Panel, links: &[usize], pose: &[f64]) -> String {
    let mechanism = &panel.space.mechanism;
    let mut moving: Vec<usize> = links.iter().flat_map(|l| mechanism.movers(*l)).collect();
    moving.sort_unstable();
    moving.dedup();
    let words: Vec<String> = moving
        .into_iter()
        .filter_map(|k| {
            let (d, v) = (mechanism.drivers.get(k)?, pose.get(k)?);
            let unit = if d.kind == DriverKind::Slide { "mm" } else { "deg" };
            Some(format!("{} {} {unit}", d.id, number(*v, 1)))
        })
        .collect();
    if words.is_empty() { "rest".into() } else { words.join(", ") }
}
