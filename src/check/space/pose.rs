//! A pose of the controls in words.

use crate::check::own::number;
use crate::panel::Panel;
use crate::solid::travel::DriverKind;

/// The drivers that move the links, each with its value in the pose.
pub fn of_links(panel: &Panel, links: &[usize], pose: &[f64]) -> Vec<(usize, f64)> {
    let mut moving: Vec<usize> = links.iter().flat_map(|l| panel.space.mechanism.movers(*l)).collect();
    moving.sort_unstable();
    moving.dedup();
    moving.into_iter().filter_map(|k| Some((k, *pose.get(k)?))).collect()
}

/// `fore-aft 80 mm, roll -70 deg`: the drivers that move the links.
pub fn in_words(panel: &Panel, links: &[usize], pose: &[f64]) -> String {
    words(panel, &of_links(panel, links, pose))
}

/// The same of drivers and their values; `rest` where there are none.
pub fn words(panel: &Panel, pose: &[(usize, f64)]) -> String {
    let word = |(k, v): &(usize, f64)| {
        let d = panel.space.mechanism.drivers.get(*k)?;
        Some(format!("{} {} {}", d.id, number(*v, 1), unit(d.kind)))
    };
    let words: Vec<String> = pose.iter().filter_map(word).collect();
    if words.is_empty() { "rest".into() } else { words.join(", ") }
}

/// The unit of a driver's values.
pub fn unit(kind: DriverKind) -> &'static str {
    match kind {
        DriverKind::Slide => "mm",
        DriverKind::Turn => "deg",
    }
}
