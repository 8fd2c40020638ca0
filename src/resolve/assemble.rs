//! From a chain of files to the panel: level by level, each one over the one below.

use super::catalogue::Shelf;
use super::chain::ReadFile;
use super::floating;
use super::merge::{self, Merged};
use super::place;
use super::reuse;
use super::scene::{Anchor, Scene};
use super::tolerance::{self, Room};
use crate::check::{Limit as RuleLimit, RULES};
use crate::define::{Size, Text};
use crate::diag::{Problem, Problems, Written, did_you_mean};
use crate::files::Files;
use crate::panel::{Accepted, DepthMap, Panel, Revision, Sheet, Subject, Title, UserLimit};
use crate::units::Angle;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Nearer to the level than to upright, a sheet is no panel; degrees.
const MOST_TILT: f64 = 45.0;

/// Resolves a chain; `path` names the outermost file, `above` the files of the panels that this one floats in.
pub(super) fn chain<'a>(
    path: &str,
    files: &[ReadFile],
    disk: &'a dyn Files,
    above: &[String],
    shelf: &mut Shelf<'a>,
    outlines: &mut Vec<(String, Arc<str>)>,
    problems: &mut Problems,
) -> Option<Panel> {
    let mut before: Option<Panel> = None;
    let mut stood: Vec<Anchor> = Vec::new();
    for top in 1..=files.len() {
        let level = files.get(..top)?;
        let merged = merge::merge(level, problems)?;
        let below = Below { panel: before.as_ref(), stood: &stood };
        let panel = one(path, &merged, below, disk, shelf, outlines, problems)?;
        let ring = above.iter().cloned().chain(level.iter().map(ReadFile::name)).collect::<Vec<_>>();
        let mut work = floating::Work { files: disk, ring: &ring, shelf, outlines, problems };
        let panel = floating::lay_in(panel, &merged, &mut work);
        if top < files.len() {
            // the newest place of a name comes first
            stood.splice(0..0, place::anchors(&panel));
        } else {
            bare(&merged, problems);
        }
        before = Some(panel);
    }
    before
}

/// Tells of a panel on which nothing stands: a sheet that others build on may be bare.
fn bare(merged: &Merged<'_>, problems: &mut Problems) {
    let m = merged;
    // items that cannot be read are told of already
    if problems.is_empty()
        && m.items.is_empty()
        && m.old.is_empty()
        && m.holes.is_empty()
        && m.inserts.is_empty()
    {
        let problem = Problem::new(EMPTY, &m.outer.span, "nothing stands on this panel")
            .help("add \"place\": [ { \"id\": ..., \"instrument\": ..., \"at\": [x, y] } ]");
        problems.push(problem);
    }
}

/// The code of a panel on which nothing stands.
pub(super) const EMPTY: &str = "empty-panel";

/// What lies below one level of a chain.
struct Below<'b> {
    panel: Option<&'b Panel>,
    stood: &'b [Anchor],
}

fn one<'a>(
    path: &str,
    merged: &Merged<'_>,
    below: Below<'_>,
    files: &'a dyn Files,
    shelf: &mut Shelf<'a>,
    outlines: &mut Vec<(String, Arc<str>)>,
    problems: &mut Problems,
) -> Option<Panel> {
    let process = merged.process.map(tolerance::process);
    let room = Room::new(process.as_ref(), merged.tolerances);
    let limits = limits(merged, problems);
    let mut scene = Scene {
        merged,
        shelf,
        files,
        outlines,
        problems,
        before: below.panel,
        stood: below.stood,
        sheets: Vec::new(),
        subjects: Vec::new(),
        room,
        remarks: Vec::new(),
        error: 0.0,
        layer_openings: Vec::new(),
        index: below.panel.map_or_else(BTreeMap::new, |b| {
            b.subjects.iter().enumerate().map(|(k, s)| (s.id.as_str(), k)).collect()
        }),
    };
    for tilt in merged.files.iter().filter_map(|f| f.def.tilt.as_ref()) {
        upright(tilt, scene.problems);
    }
    scene.build_sheets();
    let ready = scene.place_items();
    scene.fixing_holes();
    scene.insert_seats();
    scene.floating_openings();
    scene.put_items(&ready);
    scene.old_openings();
    scene.what_stays();
    reuse::mark(&mut scene.subjects);
    scene.zones();
    scene.put_labels(&ready);
    let together = scene.together();
    let wishes = scene.wishes();
    let depth = scene.depth_map();
    let space = scene.space();
    let mut remarks = std::mem::take(&mut scene.remarks);
    if scene.error > 0.0 {
        let um = scene.error * 1e3;
        remarks.push(format!(
            "curves were turned into arcs; no arc is farther than {um:.2} micrometres from its curve"
        ));
    }
    remarks.extend(scene.room.remarks().cloned());
    let Scene { sheets, subjects, .. } = scene;
    Some(Panel {
        process,
        depth,
        space,
        together,
        wishes,
        limits,
        remarks,
        ..plain(merged, path, sheets, subjects)
    })
}

/// A panel of sheets and subjects with all that the files say by themselves.
pub(super) fn plain(merged: &Merged<'_>, path: &str, sheets: Vec<Sheet>, subjects: Vec<Subject>) -> Panel {
    Panel {
        name: merged.outer.title.value.to_string(),
        slug: slug(path),
        unit: merged.spoken(),
        tilt: last(merged, |d| d.tilt.as_ref().map(|t| t.value.degrees())),
        eye_distance: last(merged, |d| d.eye.as_ref().map(Size::mm)),
        sheets,
        subjects,
        process: None,
        depth: DepthMap::default(),
        space: Default::default(),
        limits: BTreeMap::new(),
        accepted: accepted(merged),
        title: Title { fields: title(merged), revisions: revisions(merged) },
        cut_anyway: merged
            .outer
            .cut_anyway
            .as_ref()
            .map(|r| (r.because.value.to_string(), r.by.value.to_string())),
        hash: String::new(),
        together: Vec::new(),
        wishes: Default::default(),
        remarks: Vec::new(),
    }
}

/// Refuses a tilt by which no panel leans, which is one measured from the level.
pub(super) fn upright(tilt: &Written<Angle>, problems: &mut Problems) {
    let degrees = tilt.value.degrees();
    if degrees.abs() <= MOST_TILT {
        return;
    }
    let from_level = if degrees > 0.0 { 90.0 - degrees } else { -90.0 - degrees };
    let meant = if from_level.abs() <= MOST_TILT {
        format!(": {from_level} if {degrees} was measured from the level")
    } else {
        String::new()
    };
    let message = format!("a panel does not lean by {degrees} degrees");
    problems.push(Problem::new("out-of-range", &tilt.place, message).help(format!(
        "write how far the top leans forward from upright, at most {MOST_TILT} either way{meant}"
    )));
}

/// What the outermost file that says it says.
fn last<T>(m: &Merged<'_>, of: impl Fn(&crate::define::Panel) -> Option<T>) -> Option<T> {
    m.files.iter().rev().find_map(|f| of(&f.def))
}

fn title(m: &Merged<'_>) -> Vec<(String, String)> {
    // the order in which the outermost file gives them, then what those below add
    let mut keys: Vec<&'static str> = Vec::new();
    for f in m.files.iter().rev() {
        keys.extend(f.def.title_block.iter().map(|(k, _)| *k));
    }
    let mut fields: Vec<(String, String)> = Vec::new();
    for key in keys {
        if let (Some(text), false) = (m.title.get(key), fields.iter().any(|(k, _)| k == key)) {
            fields.push((key.to_string(), text.to_string()));
        }
    }
    fields
}

/// Of the outermost file that lists any: a proposal counts its own revisions.
fn revisions(m: &Merged<'_>) -> Vec<Revision> {
    let list = m.files.iter().rev().map(|f| &f.def.revisions).find(|l| !l.is_empty());
    let words = |t: &Option<Written<Text>>| t.as_ref().map_or(String::new(), |t| t.value.to_string());
    let one = |r: &crate::define::panel::Revision| Revision {
        index: r.index.value.to_string(),
        date: words(&r.date),
        change: r.change.value.to_string(),
        by: words(&r.by),
    };
    list.map(|l| l.iter().map(one).collect()).unwrap_or_default()
}

fn accepted(m: &Merged<'_>) -> Vec<Accepted> {
    let mut all: Vec<Accepted> = Vec::new();
    for a in m.files.iter().flat_map(|f| &f.def.accepted) {
        let one = Accepted {
            finding: a.finding.value.to_string(),
            because: a.reason.because.value.to_string(),
            by: a.reason.by.value.to_string(),
            place: a.reason.place.clone(),
        };
        match all.iter_mut().find(|x| x.finding == one.finding) {
            Some(old) => *old = one,
            None => all.push(one),
        }
    }
    all
}

/// The user's limits in the units of their rules.
fn limits(m: &Merged<'_>, problems: &mut Problems) -> BTreeMap<String, UserLimit> {
    let mut all = BTreeMap::new();
    for (id, limit) in &m.limits {
        let Some(rule) = RULES.iter().find(|r| r.id == id.as_ref()) else {
            let help = match did_you_mean(id, RULES.iter().map(|r| r.id)) {
                Some(near) => format!("did you mean \"{near}\"? `panelwright explain` lists the rules"),
                None => "`panelwright explain` lists the rules".to_string(),
            };
            let message = format!("there is no rule `{id}` to set a limit for");
            problems.push(Problem::new("unknown-rule", &limit.rule.place, message).help(help));
            continue;
        };
        let least = limit.at_least.as_ref();
        let (Some(amount), said_most) = (least.or(limit.at_most.as_ref()), least.is_none()) else { continue };
        let place = &amount.place;
        if matches!(rule.limit, RuleLimit::Plain) {
            let message = format!("`{id}` asks no number");
            problems.push(
                Problem::new("no-limit", place, message).help("list its finding under \"accepted\" instead"),
            );
            continue;
        }
        if said_most != rule.limit.at_most() {
            let (right, wrong) = if said_most { ("at-least", "at-most") } else { ("at-most", "at-least") };
            let message = format!(
                "the limit of `{id}` is a least value or a greatest one: \"{wrong}\" is the other way round"
            );
            problems.push(Problem::new("wrong-limit", place, message).help(format!("write \"{right}\"")));
            continue;
        }
        let counts = matches!(
            rule.limit,
            RuleLimit::Diameters(_) | RuleLimit::DegreesAtMost(_) | RuleLimit::Thicknesses(_)
        );
        let value =
            if counts { amount.number } else { amount.length.as_ref().map(|l| l.mm()).or(amount.number) };
        let Some(value) = value.filter(|v| v.is_finite()) else {
            let what = match rule.limit {
                RuleLimit::Diameters(_) => "a number of diameters, such as \"2 D\"",
                RuleLimit::DegreesAtMost(_) => "degrees, such as \"5 deg\"",
                RuleLimit::Thicknesses(_) => "a number of sheet thicknesses, such as 1.5",
                _ => "a length, such as \"6 mm\"",
            };
            let message = format!("`{id}` does not measure in what {} says", amount.written);
            problems.push(Problem::new("wrong-limit", place, message).help(format!("write {what}")));
            continue;
        };
        if value < 0.0 {
            let message =
                format!("{} is negative: a limit of `{id}` below zero would ask nothing", amount.written);
            let help = "write the least or the greatest value itself, without a sign";
            problems.push(Problem::new("negative-size", place, message).help(help));
            continue;
        }
        all.insert(
            id.to_string(),
            UserLimit {
                value,
                written: amount.written.to_string(),
                because: limit.because.value.to_string(),
                place: limit.place.clone(),
            },
        );
    }
    all
}

/// `wheatear-proposed` for `panels/wheatear/proposed.json`: folder and name, in letters that file names bear.
fn slug(path: &str) -> String {
    let mut parts = path.rsplit('/');
    let stem = parts.next().unwrap_or("").trim_end_matches(".json");
    let folder = parts.next().filter(|f| !matches!(*f, "" | "." | ".." | "panels"));
    let whole = match folder {
        Some(folder) => format!("{folder}-{stem}"),
        None => stem.to_string(),
    };
    let mut slug = String::new();
    for c in whole.chars() {
        if c.is_ascii_alphanumeric() {
            slug.push(c.to_ascii_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() { "panel".into() } else { slug.into() }
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn names_for_files() {
        for (path, want) in [
            ("panels/wheatear/proposed.json", "wheatear-proposed"),
            ("panels/dunlin.json", "dunlin"),
            ("dunlin.json", "dunlin"),
            ("./My Panel (2).json", "my-panel-2"),
            ("../x/é.json", "x"),
            ("é.json", "panel"),
            ("", "panel"),
        ] {
            assert_eq!(slug(path), want, "{path}");
        }
    }
}
