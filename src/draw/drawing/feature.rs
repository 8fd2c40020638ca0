//! The openings of one sheet as the drawing knows them: what each is, and the letter under which it stands in
//! the hole schedule. Openings that are made alike share a letter.

use super::contour;
use super::form::{Form, Seen, turned};
use super::number::Print;
use crate::calc::drill::{self, Limits};
use crate::draw::template::plan::{Fate, OFF, Opening, Plan};
use crate::draw::template::words::{limits, mm, trimmed};
use crate::geom::{Contour, Point, contains};
use crate::panel::{HeadKind, Panel, Part, PartRef, SubjectKind};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Most names in one cell of the schedule.
const NAMES: usize = 5;

/// One opening that is drawn and dimensioned.
#[derive(Clone, Debug)]
pub struct Feature {
    /// The part.
    pub part: PartRef,
    /// `subject.part`.
    pub name: String,
    /// Id of its subject.
    pub id: String,
    /// Its outline, panel axes.
    pub contour: Contour,
    /// What it is.
    pub seen: Seen,
    /// What is done with it.
    pub fate: Fate,
    /// Letter of its row.
    pub letter: String,
    /// Its number within the row, from 1.
    pub number: usize,
    /// Its angle in words where it must be told.
    pub turned: Option<String>,
}

/// Openings that are made alike.
#[derive(Clone, Debug)]
pub struct Row {
    /// Letter.
    pub letter: String,
    /// What they are.
    pub form: Form,
    /// How many.
    pub count: usize,
    /// Size in words, with its spellings.
    pub size: String,
    /// Tolerance of the size in words; empty where nothing is made.
    pub tolerance: String,
    /// Drill or tool, and the countersink.
    pub tool: String,
    /// For what.
    pub uses: String,
}

/// All openings of a sheet.
#[derive(Clone, Debug)]
pub struct Features {
    /// Rows in order of letter.
    pub rows: Vec<Row>,
    /// Openings in order of letter and number.
    pub list: Vec<Feature>,
    /// What is not dimensioned, in words.
    pub remarks: Vec<String>,
}

/// What makes two openings alike: form and outline as printed, what is done, tolerance, countersink.
type Key = ((u8, i64), String, u8, String, String);

impl Features {
    /// Names the openings of a plan.
    pub fn of(panel: &Panel, sheet: usize, plan: &Plan, print: Print) -> Features {
        let mut rows: BTreeMap<Key, Vec<(&Opening, Seen)>> = BTreeMap::new();
        let (mut gone, mut twice): (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
        let cut: Vec<&Contour> =
            plan.openings.iter().filter(|o| o.fate == Fate::Cut).map(|o| &o.contour).collect();
        for (k, o) in plan.openings.iter().enumerate() {
            if !matches!(o.fate, Fate::Cut | Fate::FromPart | Fate::Existing | Fate::Provision) {
                continue;
            }
            if o.fate == Fate::Existing && cut.iter().any(|c| contains(c, &o.contour)) {
                gone.push(&o.name);
                continue;
            }
            if one_with_another(panel, plan, k) {
                twice.push(&o.name);
                continue;
            }
            let seen = Seen::of(&o.contour, o.centre);
            let part = panel.part(o.part);
            let words = match &seen.form {
                Form::Path(pieces) => contour::rows(pieces, print).concat().join(" "),
                form => form.words(print),
            };
            let made = matches!(o.fate, Fate::Cut | Fate::FromPart);
            let tolerance = if made { tolerance(part, print) } else { String::new() };
            let sink = sink(part, print).filter(|_| made).unwrap_or_default();
            let how = match o.fate {
                Fate::Cut => 0,
                Fate::FromPart => 1,
                Fate::Existing => 2,
                _ => 3,
            };
            rows.entry((seen.form.order(print), words, how, tolerance, sink)).or_default().push((o, seen));
        }
        let mut features =
            Features { rows: Vec::new(), list: Vec::new(), remarks: remarks(panel, plan, sheet) };
        if !gone.is_empty() {
            features
                .remarks
                .push(format!("exists now, falls out with a larger opening: {}", gone.join(", ")));
        }
        if !twice.is_empty() {
            features.remarks.push(format!("told once, lies in another that exists: {}", twice.join(", ")));
        }
        for (k, (key, mut some)) in rows.into_iter().enumerate() {
            let order = |p: Point| (print.key(p.x), print.key(p.y));
            some.sort_by_key(|(_, seen)| order(seen.centre));
            features.add(letter(k), &key, some, panel, print);
        }
        features
    }

    fn add(&mut self, letter: String, key: &Key, some: Vec<(&Opening, Seen)>, panel: &Panel, print: Print) {
        let Some((first, seen)) = some.first().cloned() else { return };
        let (_, _, _, tolerance, sink) = key;
        let openings: Vec<&Opening> = some.iter().map(|(o, _)| *o).collect();
        let tool = tool(first.fate, &seen.form, limits(panel.part(first.part)), sink, print);
        self.rows.push(Row {
            letter: letter.clone(),
            count: some.len(),
            size: size(&seen.form, &openings, print),
            tolerance: tolerance.clone(),
            tool,
            uses: uses(panel, &openings),
            form: seen.form,
        });
        for (k, (o, seen)) in some.into_iter().enumerate() {
            let turned = turned(&seen);
            self.list.push(Feature {
                part: o.part,
                name: o.name.clone(),
                id: o.id.clone(),
                contour: o.contour.clone(),
                seen,
                fate: o.fate,
                letter: letter.clone(),
                number: k + 1,
                turned,
            });
        }
    }
}

/// What the plan has to tell; of a layer's carrier only what meets the layer.
fn remarks(panel: &Panel, plan: &Plan, sheet: usize) -> Vec<String> {
    let mut list: Vec<String> = plan.remarks.iter().filter(|r| !r.starts_with(OFF)).cloned().collect();
    let off = plan.with(Fate::OffSheet).filter(|o| panel.part(o.part).sheet as usize == sheet);
    let names: Vec<&str> = off.map(|o| o.name.as_str()).collect();
    if !names.is_empty() {
        list.push(format!("{OFF}: {}", names.join(", ")));
    }
    list
}

/// Whether an opening that exists lies in another that exists: an item that took over what an older one left is
/// told, what was left is not.
fn one_with_another(panel: &Panel, plan: &Plan, k: usize) -> bool {
    let Some(o) = plan.openings.get(k).filter(|o| o.fate == Fate::Existing) else { return false };
    let old = |o: &Opening| panel.subject(o.part).kind == SubjectKind::OldOpening;
    plan.openings.iter().enumerate().any(|(j, other)| {
        let holds = j != k && other.fate == Fate::Existing && contains(&other.contour, &o.contour);
        // of two that are one the item's is told, else the first
        holds && (!contains(&o.contour, &other.contour) || (old(other), j) < (old(o), k))
    })
}

/// A to Z without I and O, which read as figures; then AA, AB ...
pub fn letter(k: usize) -> String {
    const LETTERS: &[u8; 24] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let one = |k: usize| LETTERS.get(k % 24).map_or('?', |b| char::from(*b));
    if k < 24 { one(k).to_string() } else { format!("{}{}", letter(k / 24 - 1), one(k)) }
}

/// Size with how it was written: `⌀79.38 (3 1/8 in)`; on a drawing in inches millimetres beside.
fn size(form: &Form, openings: &[&Opening], print: Print) -> String {
    let mut beside: Vec<String> = Vec::new();
    let mut written: Vec<&Arc<str>> = openings.iter().filter_map(|o| o.written.as_ref()).collect();
    written.dedup();
    for w in written.into_iter().map(|w| w.to_string()) {
        // decimals of an inch stand there already on a drawing in inches
        if !beside.contains(&w) && (!print.inch || w.contains('/')) {
            beside.push(w);
        }
    }
    if print.inch {
        match form {
            Form::Round { diameter } | Form::Flat { diameter, .. } => {
                beside.push(format!("{} mm", mm(*diameter)))
            }
            Form::Rectangle { width, height, .. } | Form::Slot { length: width, width: height } => {
                beside.push(format!("{} \u{d7} {} mm", mm(*width), mm(*height)));
            }
            Form::Path(_) => {}
        }
    }
    let words = form.words(print);
    if beside.is_empty() { words } else { format!("{words} ({})", beside.join("; ")) }
}

/// Plus and minus of a size, from the terms of its outline: both sides count.
fn tolerance(part: &Part, print: Print) -> String {
    let (plus, minus) = limits(part).map_or((0.0, 0.0), |l| (l.plus, l.minus));
    match (print.key(plus), print.key(minus)) {
        (0, 0) => String::new(),
        (p, m) if p == m => format!("\u{b1}{}", print.number(plus)),
        _ => format!("+{} \u{2212}{}", print.number(plus), print.number(minus)),
    }
}

fn sink(part: &Part, print: Print) -> Option<String> {
    let head = part.fastening()?.head?;
    (head.kind == HeadKind::Countersunk).then(|| {
        let angle =
            head.angle.map_or(" angle as the screw's".into(), |a| format!(" \u{d7} {}\u{b0}", trimmed(a, 1)));
        format!("csk \u{2300}{}{angle}", print.number(head.diameter))
    })
}

fn tool(fate: Fate, form: &Form, limits: Option<Limits>, sink: &str, print: Print) -> String {
    let made = match (fate, form) {
        (Fate::Existing, _) => return "exists, not cut".into(),
        (Fate::Provision, _) => return "provision, not cut now".into(),
        (Fate::FromPart, Form::Round { .. }) => "drill from part".into(),
        (Fate::FromPart, _) => "cut from part".into(),
        (_, Form::Round { diameter }) => drills(*diameter, limits, print),
        _ => "cut to line".into(),
    };
    if sink.is_empty() { made } else { format!("{made}; {sink}") }
}

/// The drills that make a diameter within its limits, the shop's own series first; where no limits are known
/// how much larger each makes it.
fn drills(diameter: f64, limits: Option<Limits>, print: Print) -> String {
    let drill::Choice { metric, inches } = drill::choose(diameter, limits);
    let names = if print.inch { [inches, metric] } else { [metric, inches] };
    let one = |d: drill::Drill| match print.key(d.diameter - diameter) {
        n if n > 0 && limits.is_none() => format!("{d} (+{})", print.number(d.diameter - diameter)),
        _ => d.to_string(),
    };
    let names: Vec<String> = names.into_iter().flatten().map(one).collect();
    if !names.is_empty() {
        return format!("drill {}", names.join(" or "));
    }
    let small = drill::nearest_at_or_above(diameter).is_some();
    if small { "no standard drill: cut to line".into() } else { "cut to line".into() }
}

/// Screws by name, then the items.
fn uses(panel: &Panel, openings: &[&Opening]) -> String {
    let (mut screws, mut names): (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
    for o in openings {
        if let Some(f) = panel.part(o.part).fastening()
            && !screws.contains(&f.name.as_str())
        {
            screws.push(&f.name);
        }
        if !names.contains(&o.id.as_str()) {
            names.push(&o.id);
        }
    }
    let more = names.len().saturating_sub(NAMES);
    let mut items = names.get(..NAMES).unwrap_or(&names).join(", ");
    if more > 0 {
        items = format!("{items} and {more} more");
    }
    if screws.is_empty() { items } else { format!("{}: {items}", screws.join(", ")) }
}

#[cfg(test)]
mod tests {
    use super::letter;

    #[test]
    fn letters_go_on_after_z_without_i_and_o() {
        assert_eq!([0, 8, 13, 23, 24, 25, 47, 48].map(letter), ["A", "J", "P", "Z", "AA", "AB", "AZ", "BA"]);
        let all: std::collections::BTreeSet<String> = (0..2000).map(letter).collect();
        assert_eq!(all.len(), 2000);
    }
}
