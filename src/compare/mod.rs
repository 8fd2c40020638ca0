//! Two panels: items added, removed and changed, sheets, verdicts that differ, and what becomes of each opening.
//!
//! Items are known by their ids, findings by theirs, of several with one id the worst by the worst; openings by where they
//! are in a sheet of the same id. Both panels are in millimetres from their own datum, which is taken to be one and the same
//! but where the whole panel stands elsewhere: then the new one is told from the old one's datum.

mod masses;
mod openings;
mod settings;

pub use masses::Masses;
pub use openings::{COINCIDE, Cut, Fate, Openings, Was};
pub use settings::{Setting, on_one_datum};

use crate::check::{Findings, Verdict};
use crate::geom::{Contour, SLACK, Vec2, length};
use crate::panel::{OwnNumber, Panel, Part, Subject, SubjectKind};
use std::collections::BTreeMap;

/// How an item of both panels differs.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Its id.
    pub id: String,
    /// How far it moved, mm.
    pub moved: Vec2,
    /// How far it was turned, degrees, above -180 and at most 180.
    pub turned: f64,
    /// It is mirrored in one of the two.
    pub mirrored: bool,
    /// Its instrument before and now, where that differs.
    pub instrument: Option<[String; 2]>,
    /// Its parts have other outlines or depths, though it is the same instrument.
    pub resized: bool,
    /// Numbers that one of the two panels says of it in place of its definition's, or says otherwise: their paths.
    pub numbers: Vec<String>,
}

/// A sheet that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetChange {
    /// Its id.
    pub id: String,
    /// Area within its outline before and now, mm2; `None`: the panel has no such sheet.
    pub area: [Option<f64>; 2],
    /// Its thickness before and now, mm; `None`: not given, or no such sheet.
    pub thickness: [Option<f64>; 2],
    /// Its coat per face before and now, mm; `None`: not given, or no such sheet.
    pub coat: [Option<f64>; 2],
    /// Its material before and now, as written; `None`: not given, or no such sheet.
    pub material: [Option<String>; 2],
    /// Its outline before and now.
    pub outline: [Option<Contour>; 2],
}

impl SheetChange {
    /// Whether its outline differs, or one panel has no such sheet.
    pub fn reshaped(&self) -> bool {
        match &self.outline {
            [Some(a), Some(b)] => !openings::coincide(a, b),
            _ => true,
        }
    }
}

/// What one finding says before and now.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictChange {
    /// Its id.
    pub id: String,
    /// Verdicts; `None`: there is no such finding.
    pub verdict: [Option<Verdict>; 2],
    /// Margins as drawn, in the rule's unit.
    pub margin: [Option<f64>; 2],
}

impl VerdictChange {
    /// What is new and no pass, or was better before.
    pub fn worse(&self) -> bool {
        match self.verdict {
            [was, Some(now)] => now < was.unwrap_or(Verdict::Pass),
            _ => false,
        }
    }
}

/// All that differs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Difference {
    /// Ids of items that only the new panel has.
    pub added: Vec<String>,
    /// Ids of items that only the old panel has.
    pub removed: Vec<String>,
    /// Items of both that differ.
    pub changed: Vec<Changed>,
    /// Sheets that differ.
    pub sheets: Vec<SheetChange>,
    /// Findings that differ in verdict, or in margin by more than what was asked; the worst now first.
    pub verdicts: Vec<VerdictChange>,
    /// What becomes of the openings.
    pub openings: Openings,
    /// Mass of the instruments that go and come.
    pub masses: Masses,
    /// What else is said of the panels and differs.
    pub settings: Vec<Setting>,
    /// By how much the new panel's datum is shifted, where the whole panel stands elsewhere; all else is told from the old
    /// one's datum.
    pub datum: Option<Vec2>,
}

impl Difference {
    /// From one panel to another; margins that differ by at most `least` are left out.
    pub fn of(old: (&Panel, &Findings), new: (&Panel, &Findings), least: f64) -> Difference {
        let (datum, moved) = on_one_datum(old.0, new.0);
        let new = (moved.as_ref(), new.1);
        let items = [items(old.0), items(new.0)];
        let only = |a: usize, b: usize| {
            items[a].keys().filter(|id| !items[b].contains_key(*id)).map(|id| (*id).to_string()).collect()
        };
        let both = items[0].iter().filter_map(|(id, was)| Some((*was, *items[1].get(id)?)));
        Difference {
            added: only(1, 0),
            removed: only(0, 1),
            changed: both.filter_map(|(was, now)| changed(was, now)).collect(),
            sheets: sheets(old.0, new.0),
            verdicts: verdicts(old, new, least),
            openings: Openings::of(old.0, new.0),
            masses: Masses::of(old.0, new.0),
            settings: settings::settings(old.0, new.0),
            datum,
        }
    }

    /// Whether any verdict got worse.
    pub fn worse(&self) -> bool {
        self.verdicts.iter().any(VerdictChange::worse)
    }

    /// Whether the two are alike but for openings, which a panel has without any change.
    pub fn is_empty(&self) -> bool {
        let items = self.added.is_empty() && self.removed.is_empty() && self.changed.is_empty();
        items
            && self.masses.is_empty()
            && self.sheets.is_empty()
            && self.verdicts.is_empty()
            && self.settings.is_empty()
            && self.datum.is_none()
            && self.openings.cut.is_empty()
    }
}

/// Whatever is placed: all subjects but the sheets, which are told apart.
fn items(panel: &Panel) -> BTreeMap<&str, &Subject> {
    let all = panel.subjects.iter().filter(|s| s.kind != SubjectKind::Sheet);
    all.map(|s| (s.id.as_str(), s)).collect()
}

fn changed(was: &Subject, now: &Subject) -> Option<Changed> {
    let name = |s: &Subject| s.facts.as_ref().map_or(String::new(), |f| f.instrument.clone());
    let names = [name(was), name(now)];
    let moved = now.at - was.at;
    let turned = 180.0 - (180.0 - (now.turn - was.turn)).rem_euclid(360.0);
    let mirrored = was.mirrored != now.mirrored;
    let instrument = (names[0] != names[1]).then_some(names);
    let same_sizes = was.parts.len() == now.parts.len()
        && was.parts.iter().zip(&now.parts).all(|(a, b)| {
            let off = |s: &Subject, p: &Part| length(p.centre - s.at);
            let deep = |p: &Part| p.depth.map_or(0.0, |(from, to)| to - from);
            // an outline that only moved keeps these to rounding
            let sizes = [
                a.contour.area() - b.contour.area(),
                a.contour.perimeter() - b.contour.perimeter(),
                off(was, a) - off(now, b),
                deep(a) - deep(b),
            ];
            let same = a.name == b.name && a.depth.is_some() == b.depth.is_some();
            same && sizes.iter().all(|d| d.abs() <= 1e-6 * (1.0 + a.contour.area()))
        });
    let resized = instrument.is_none() && !same_sizes;
    let still = length(moved) <= SLACK && turned.abs() <= SLACK;
    let numbers = if instrument.is_none() { numbers(was, now) } else { Vec::new() };
    if still && !mirrored && instrument.is_none() && !resized && numbers.is_empty() {
        return None;
    }
    Some(Changed { id: now.id.clone(), moved, turned, mirrored, instrument, resized, numbers })
}

/// Paths of the numbers that two panels say otherwise of one item.
fn numbers(was: &Subject, now: &Subject) -> Vec<String> {
    let own = |s: &Subject| s.facts.as_ref().map_or_else(Vec::new, |f| f.numbers.clone());
    let [was, now] = [own(was), own(now)];
    let said = |all: &[OwnNumber], path: &str| {
        all.iter().find(|n| n.path == path).map(|n| (n.written.clone(), n.source.words.clone()))
    };
    let mut paths: Vec<String> = was.iter().chain(&now).map(|n| n.path.clone()).collect();
    paths.sort();
    paths.dedup();
    paths.retain(|p| said(&was, p) != said(&now, p));
    paths
}

fn sheets(old: &Panel, new: &Panel) -> Vec<SheetChange> {
    let mut all: BTreeMap<&str, SheetChange> = BTreeMap::new();
    for (k, panel) in [old, new].into_iter().enumerate() {
        for s in &panel.sheets {
            let blank = SheetChange {
                id: s.id.clone(),
                area: [None; 2],
                thickness: [None; 2],
                coat: [None; 2],
                material: [None, None],
                outline: [None, None],
            };
            let entry = all.entry(&s.id).or_insert(blank);
            entry.area[k] = Some(s.outline.area());
            entry.thickness[k] = s.thickness;
            entry.coat[k] = s.coat;
            entry.material[k].clone_from(&s.material);
            entry.outline[k] = Some(s.outline.clone());
        }
    }
    let differs = |c: &SheetChange| {
        let outlines = c.reshaped();
        let other = |both: [Option<f64>; 2]| match both {
            [Some(a), Some(b)] => (a - b).abs() > SLACK,
            [a, b] => a != b,
        };
        outlines || other(c.thickness) || other(c.coat) || c.material[0] != c.material[1]
    };
    all.into_values().filter(differs).collect()
}

/// Verdicts and margins of all findings with one id, before and now.
type Said = [Vec<(Verdict, Option<f64>)>; 2];

fn verdicts(old: (&Panel, &Findings), new: (&Panel, &Findings), least: f64) -> Vec<VerdictChange> {
    let mut all: BTreeMap<String, Said> = BTreeMap::new();
    for (k, (panel, findings)) in [old, new].into_iter().enumerate() {
        for f in &findings.list {
            all.entry(f.id(panel)).or_default()[k].push((f.verdict, f.margin()));
        }
    }
    let least_first = |(v, m): &(Verdict, Option<f64>), (w, n): &(Verdict, Option<f64>)| {
        let margin = |m: &Option<f64>| m.unwrap_or(f64::NEG_INFINITY);
        v.cmp(w).then(margin(m).total_cmp(&margin(n)))
    };
    // one id may be spoken of several times: the worst is compared with the worst
    let each = |(id, mut both): (String, Said)| {
        both.iter_mut().for_each(|list| list.sort_by(least_first));
        let many = both.iter().map(Vec::len).max().unwrap_or(0);
        (0..many).map(move |n| {
            let of = |k: usize| both[k].get(n).copied();
            VerdictChange {
                id: id.clone(),
                verdict: [of(0).map(|f| f.0), of(1).map(|f| f.0)],
                margin: [of(0).and_then(|f| f.1), of(1).and_then(|f| f.1)],
            }
        })
    };
    let differs = |c: &VerdictChange| {
        let margin = match c.margin {
            [Some(a), Some(b)] => (a - b).abs() > least,
            _ => false,
        };
        c.verdict[0] != c.verdict[1] || margin
    };
    let mut list: Vec<VerdictChange> = all.into_iter().flat_map(each).filter(differs).collect();
    let rank = |c: &VerdictChange| (!c.worse(), c.verdict[1].unwrap_or(Verdict::Pass));
    list.sort_by(|a, b| rank(a).cmp(&rank(b)).then_with(|| a.id.cmp(&b.id)));
    list
}
