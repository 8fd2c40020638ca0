//! Questions about the file as a whole: unit, layers, what was read, size, plane.

use super::draft::Draft;
use super::gather::is_reference;
use super::report::LayerFacts;
use super::rules;
use super::words::{mm, size};
use crate::check::Verdict;
use crate::geom::{Rect, SLACK};
use crate::import::{Declared, Mark, Shape};
use std::collections::BTreeMap;

/// Largest side of a drawing that is taken for a panel, mm.
const LARGEST: f64 = 3000.0;
/// Smallest larger side, mm.
const SMALLEST: f64 = 5.0;

/// Whether the unit is known.
pub fn unit(d: &mut Draft<'_>) {
    let u = &d.file.unit;
    let read = d.size();
    match &u.declared {
        Declared::InFile(how) => {
            let says = format!("The unit is {} ({how}): {read}.", u.name);
            d.add(&rules::UNIT, Verdict::Pass, says, vec![], vec![]);
        }
        Declared::ByUser => {
            let says = format!("The unit is {} mm by your word: {read}.", super::words::trim(u.mm, 6));
            d.add(&rules::UNIT, Verdict::Pass, says, vec![], vec![]);
        }
        Declared::Missing(why) => {
            let other = match d.bounds {
                Some(b) if u.mm == 1.0 => {
                    let k = 25.4;
                    let b = Rect::new(b.x0 * k, b.y0 * k, b.x1 * k, b.y1 * k);
                    format!(" In inches it would be {}.", size(b))
                }
                _ => String::new(),
            };
            let says = format!(
                "No unit in the file ({why}): {read}.{other} Measure one known length, then say --unit mm or --unit in."
            );
            d.add(&rules::UNIT, Verdict::Withheld, says, vec![], vec![]);
        }
    }
}

/// Whether there is something to cut, and what is hidden.
pub fn layers(d: &mut Draft<'_>, layers: &[LayerFacts]) {
    let cut: Vec<&LayerFacts> = layers.iter().filter(|l| l.cut && !l.counts.is_empty()).collect();
    let names: Vec<&str> = cut.iter().map(|l| l.name.as_str()).collect();
    if d.cut.lines.is_empty() {
        let all: Vec<&str> =
            layers.iter().filter(|l| !l.counts.is_empty()).map(|l| l.name.as_str()).collect();
        let says = format!(
            "Nothing to cut was found. Layers with something on them: {}. Name those to be cut with --cut-layers.",
            if all.is_empty() { "none".to_owned() } else { all.join(", ") }
        );
        d.add(&rules::LAYERS, Verdict::Withheld, says, vec![], vec![]);
    } else {
        let says = format!("Taken as cut: {}.", names.join(", "));
        d.add(&rules::LAYERS, Verdict::Pass, says, vec![], vec![]);
    }
    for l in cut {
        if let Some(how) = l.hidden {
            d.remarks.push(format!(
                "Layer {} is {how} in the program that drew it; what stands on it is in the file and was taken as cut.",
                l.name
            ));
        }
    }
    let mut hidden: BTreeMap<&str, usize> = BTreeMap::new();
    for k in &d.cut.hidden {
        if let Some(why) = d.file.items.get(*k).and_then(|i| i.hidden) {
            *hidden.entry(why).or_insert(0) += 1;
        }
    }
    for (why, n) in hidden {
        d.remarks.push(format!("{n} entities on the cut layers were left out ({why}): ask whether the machine's program does so too."));
    }
}

/// Words that bar a whole file from being cut from. "Do not cut" is not among them: notes say it of single lines.
const BARS: [&str; 2] = ["NOT FOR CUTTING", "NOT TO SCALE"];

/// Whether the file itself says that it is not to be cut from.
pub fn notice(d: &mut Draft<'_>) {
    // a paragraph break of formatted text is a blank too, and several are one
    let plain = |s: &str| {
        let spaced = s.replace("\\P", " ").replace(['-', '_'], " ").to_uppercase();
        spaced.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let bars = |s: &str| BARS.iter().any(|b| plain(s).contains(b));
    let mut said: Vec<(String, Option<crate::geom::Point>, Vec<usize>)> = Vec::new();
    let name = d.file.file.rsplit(['/', '\\']).next().unwrap_or("").to_owned();
    if bars(&name) {
        said.push((format!("The file is called {name}"), None, vec![]));
    }
    for (k, i) in d.file.items.iter().enumerate() {
        if let Shape::Mark { words, at, .. } = &i.shape
            && bars(words)
        {
            said.push((format!("A text in the file says \"{}\"", words.trim()), *at, vec![k]));
        }
    }
    for (what, at, items) in said {
        let says = format!("{what}: do not cut from it; ask who made it for one that may be cut.");
        d.add(&rules::NOTICE, Verdict::Fail, says, at.into_iter().collect(), items);
    }
    d.pass_if_silent(&rules::NOTICE, "Nothing in the file says that it is not to be cut from.");
}

/// What was not read.
pub fn read(d: &mut Draft<'_>) {
    for says in d.file.not_read.clone() {
        d.add(&rules::READ, Verdict::Withheld, says, vec![], vec![]);
    }
    let items = d.cut.unread.clone();
    if !items.is_empty() {
        let mut why: BTreeMap<String, usize> = BTreeMap::new();
        for i in items.iter().filter_map(|k| d.file.items.get(*k)) {
            let reason = match &i.shape {
                Shape::NotRead(r) => {
                    format!("{}: {r}", if is_reference(&i.kind) { "reference" } else { &*i.kind })
                }
                _ => format!("{}: a curve that is no circular arc", i.kind),
            };
            *why.entry(reason).or_insert(0) += 1;
        }
        let list: Vec<String> = why.iter().map(|(r, n)| format!("{n} x {r}")).collect();
        let says = format!(
            "Not read by this version, so not measured: {}. {}. Ask for lines and arcs, or look at them yourself.",
            list.join("; "),
            d.list(&items)
        );
        d.add(&rules::READ, Verdict::Withheld, says, vec![], items);
    }
    d.pass_if_silent(&rules::READ, "Everything on the cut layers was read.");
}

/// Whether only contours stand on the cut layers. `centre_marks`: loose straights through centres of circles.
pub fn only_contours(d: &mut Draft<'_>, centre_marks: &[usize]) {
    let mut items: Vec<usize> = d.cut.marks.iter().chain(centre_marks).copied().collect();
    // curves would be cut too, as whatever the machine's program makes of them
    items.extend(
        d.cut.unread.iter().filter(|k| d.file.items.get(**k).is_some_and(|i| !is_reference(&i.kind))),
    );
    items.sort_unstable();
    if items.is_empty() {
        return d.pass_if_silent(&rules::ONLY_CONTOURS, "Only contours stand on the cut layers.");
    }
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    for k in &items {
        let Some(i) = d.file.items.get(*k) else { continue };
        let what = match &i.shape {
            Shape::Mark { what: Mark::Words, .. } => format!("{} (text)", i.kind),
            Shape::Mark { what: Mark::Dimension, .. } => format!("{} (dimension)", i.kind),
            Shape::Mark { what: Mark::Fill, .. } => format!("{} (fill)", i.kind),
            Shape::Mark { what: Mark::Point, .. } => format!("{} (point)", i.kind),
            _ if centre_marks.contains(k) => format!("{} (centre mark)", i.kind),
            _ => format!("{} (curve or entity not read)", i.kind),
        };
        *kinds.entry(what).or_insert(0) += 1;
    }
    let counts: Vec<String> = kinds.iter().map(|(k, n)| format!("{n} x {k}")).collect();
    let says = format!(
        "On the cut layers: {}. {}. Listed entities would be cut; {}.",
        counts.join(", "),
        d.list(&items),
        d.size()
    );
    let at = items
        .iter()
        .filter_map(|k| match d.file.items.get(*k).map(|i| &i.shape) {
            Some(Shape::Mark { at, .. }) => *at,
            _ => None,
        })
        .collect();
    d.add(&rules::ONLY_CONTOURS, Verdict::Fail, says, at, items);
}

/// Whether the size can be a panel's, and whether something lies far off.
pub fn whole_size(d: &mut Draft<'_>) {
    let Some(b) = d.bounds else { return };
    let (large, small) = (b.width().max(b.height()), b.width().min(b.height()));
    if !(SMALLEST..=LARGEST).contains(&large) {
        let word = if large > LARGEST { "larger" } else { "smaller" };
        let says = format!("The drawing is {}: {word} than any panel. Is the unit right?", size(b));
        d.add(&rules::SIZE, Verdict::Withheld, says, vec![b.center()], vec![]);
    } else if small > 0.0 {
        outlier(d);
    }
    let far = b.x0.abs().max(b.x1.abs()).max(b.y0.abs()).max(b.y1.abs());
    if far > 100.0 * large.max(100.0) {
        d.remarks.push(format!(
            "The drawing lies {} from the origin of its axes: some programs lose digits there, or show nothing.",
            mm(far)
        ));
    }
    d.pass_if_silent(
        &rules::SIZE,
        &format!("{} is a size that a panel can have; nothing lies far from the rest.", size(b)),
    );
}

/// One contour or chain that lies farther from all others than these reach.
fn outlier(d: &mut Draft<'_>) {
    let mut list: Vec<(Rect, usize)> = Vec::new();
    for c in &d.cut.closed {
        list.push((c.contour.bounds(), c.copies.first().and_then(|i| i.first()).copied().unwrap_or(0)));
    }
    for o in &d.cut.open {
        if let (Some(b), Some(k)) = (super::same::bounds(&o.pieces), o.items.first()) {
            list.push((b, *k));
        }
    }
    if list.len() < 3 {
        return;
    }
    // boxes of all before and all after each one
    let mut after: Vec<Rect> = Vec::with_capacity(list.len());
    let mut sum: Option<Rect> = None;
    for (b, _) in list.iter().rev() {
        after.push(sum.unwrap_or(*b));
        sum = Some(sum.map_or(*b, |s| s.union(*b)));
    }
    after.reverse();
    let mut before: Option<Rect> = None;
    let last = list.len() - 1;
    let mut found = Vec::new();
    for (k, ((b, item), rest)) in list.iter().zip(&after).enumerate() {
        let others = match (before, k == last) {
            (Some(s), true) => s,
            (Some(s), false) => s.union(*rest),
            (None, _) => *rest,
        };
        let gap = crate::geom::distance::box_distance2(b, &others).sqrt();
        let reach = others.width().max(others.height());
        if gap > reach.max(SLACK) {
            found.push((*item, *b, gap));
        }
        before = Some(before.map_or(*b, |s| s.union(*b)));
    }
    for (item, b, gap) in found {
        let says = format!(
            "{} at {} lies {} from everything else, farther than the rest is wide: a leftover?",
            super::words::item(d.file, item),
            d.at(b.center()),
            mm(gap)
        );
        d.add(&rules::SIZE, Verdict::Withheld, says, vec![b.center()], vec![item]);
    }
}

/// Whether all lies in one plane, and what was turned over.
pub fn flat(d: &mut Draft<'_>) {
    let lines = || d.cut.lines.iter().filter_map(|k| d.file.items.get(*k).map(|i| (*k, i)));
    let low = lines().map(|(_, i)| i.z[0]).fold(f64::INFINITY, f64::min);
    let high = lines().map(|(_, i)| i.z[1]).fold(f64::NEG_INFINITY, f64::max);
    let over: usize = lines().filter(|(_, i)| i.mirrored).count();
    if high - low > SLACK {
        let items: Vec<usize> =
            lines().filter(|(_, i)| i.z[0].abs() > SLACK || i.z[1].abs() > SLACK).map(|(k, _)| k).collect();
        let says = format!(
            "Entities lie at heights from {} to {}: flatten them to one plane. {}.",
            mm(low),
            mm(high),
            d.list(&items)
        );
        d.add(&rules::FLAT, Verdict::Fail, says, vec![], items);
    } else if high.is_finite() && high.abs() > SLACK {
        d.remarks.push(format!("Everything to be cut lies {} above the plane of the drawing.", mm(high)));
    }
    if over > 0 {
        d.remarks.push(format!(
            "{over} entities are turned over (a negative scale, or an extrusion that points down): check that no part is mirrored."
        ));
    }
    let back = d.file.items.iter().any(|i| {
        matches!(&i.shape, Shape::Mark { words, .. } if words.split(|c: char| !c.is_alphanumeric()).any(|w| w == "BACK"))
    });
    if back {
        d.remarks.push("A text in the file says BACK: is that the side from which you cut?".to_owned());
    }
    d.pass_if_silent(&rules::FLAT, "Everything to be cut lies in one plane.");
}
