//! The shelf: what there is to add, drawn to one scale, and whether it still fits. Worked out beside, told as it comes.

use super::answer::{Answer, own, refused};
use super::aside::Aside;
use super::say;
use super::session::Session;
use super::stood::Stood;
use crate::check::Verdict;
use crate::diag::Problems;
use crate::draw::picture::deepest;
use crate::edit::Refusal;
use crate::panel::{Class, Part, Subject, SubjectKind};
use crate::place::{Asks, Brief};
use crate::resolve::{Catalogue, TRIED};
use crate::units::{Unit, print_length};
use serde_json::{Value, json};

/// Most names in one question.
const MOST: usize = 2000;
/// Findings that are told of one instrument.
const FEW: usize = 2;
/// How often a spot is looked for anew because the panel changed meanwhile; then the last one is taken, and the findings say
/// whether it is still free.
const TRIES: u64 = 3;

/// Answers what the shelf asks.
pub fn answer(s: &mut Session, aside: &mut Aside, m: &Value) -> Answer {
    match m["do"].as_str() {
        Some("catalogue") => {
            let (catalogue, unit, tell) = (s.shared_catalogue(), s.panel.unit, aside.tell.clone());
            aside.beside(move || _ = tell.say(listed(&catalogue, unit)))
        }
        Some("fits") => {
            let names = m["names"].as_array().into_iter().flatten();
            let names: Vec<String> = names.filter_map(|n| n.as_str().map(str::to_owned)).take(MOST).collect();
            let (stood, revision, tell) = (s.copy(), s.revision, aside.tell.clone());
            let wanted = aside.shelf.anew();
            aside.beside(move || {
                for name in names {
                    let told = fits(&stood, &name);
                    // what was worked out while the panel changed is of another panel
                    if !wanted() || !tell.say(row(&name, revision, &told)) {
                        return;
                    }
                }
                tell.say(json!({ "kind": "fits-all", "revision": revision }));
            })
        }
        Some("shelf-closed") => {
            aside.shelf.no_more();
            Answer::none()
        }
        _ => {
            let Some(name) = m["instrument"].as_str() else {
                return refused(&Refusal::Words("which instrument is to be added?".into()));
            };
            // a spot that was worked out for the panel as it stands need not be looked for again
            let sought = m["sought"].as_u64().unwrap_or(0);
            let fresh = m["revision"] == s.revision || sought >= TRIES;
            let Some(spot) = say::vec2(&m["at"]).filter(|_| fresh) else { return seek(s, name, sought) };
            match s.add(name, Some(spot)) {
                Ok(id) => Answer { changed: true, ..own(json!({ "kind": "added", "id": id })) },
                Err(why) => refused(&why),
            }
        }
    }
}

/// Looks for the spot with most room beside, and has it added there then: no other page's hand waits meanwhile.
fn seek(s: &Session, name: &str, sought: u64) -> Answer {
    if let Err(p) = s.catalogue().one(name) {
        return refused(&Refusal::Words(p.to_string()));
    }
    let (stood, name, revision) = (s.copy(), name.to_owned(), s.revision);
    let later = move || match stood.roomiest(&name) {
        Ok(at) => {
            json!({ "do": "add", "instrument": name, "at": [at.x, at.y], "revision": revision, "sought": sought + 1 })
        }
        Err(why) => json!({ "kind": "refused", "words": why.words().trim_end(), "asks": false }),
    };
    Answer { later: Some(Box::new(later)), ..Answer::none() }
}

/// What there is, each with its outline; what cannot be read is told by name.
fn listed(catalogue: &Catalogue, unit: Unit) -> Value {
    let names = match catalogue.names() {
        Ok(names) => names,
        Err(p) => return json!({ "kind": "catalogue", "all": [], "unread": [first(&p)] }),
    };
    let (mut all, mut unread) = (Vec::new(), Vec::new());
    for name in names {
        let both = catalogue.one(&name).and_then(|i| Ok((i, catalogue.sample(&name)?)));
        match both {
            Ok((i, sample)) => {
                let subject = sample.subjects.iter().find(|s| s.kind == SubjectKind::Placement);
                all.push(json!({
                    "name": i.name, "title": i.title, "kind": i.kind, "words": i.words,
                    "drawn": subject.map(outline), "sizes": subject.map(|s| sizes(s, unit)),
                }));
            }
            Err(p) => unread.push(format!("{name}: {}", first(&p))),
        }
    }
    json!({ "kind": "catalogue", "all": all, "unread": unread })
}

fn first(p: &Problems) -> String {
    p.sorted().first().map_or(String::new(), |p| p.message.clone())
}

/// Its outlines as path data, mm, y up, and the box around them.
fn outline(s: &Subject) -> Value {
    let of = |classes: &[Class]| {
        let parts = s.parts.iter().filter(|p| classes.contains(&p.class));
        say::path(&parts.map(|p| p.contour.clone()).collect::<Vec<_>>())
    };
    let seen = [Class::Bezel, Class::Flange, Class::Cutout, Class::Hole];
    let all = |of: &[Class]| {
        let parts = s.parts.iter().filter(|p| of.contains(&p.class)).map(|p| p.contour.bounds());
        parts.reduce(|a, b| a.union(b))
    };
    // what lies on the sheet alone has no outline but its own
    let own = [Class::Bezel, Class::Front, Class::Body];
    let (b, face) = match all(&seen) {
        Some(b) => (b, of(&[Class::Bezel])),
        None => (all(&own).unwrap_or_default(), of(&own)),
    };
    json!({
        "face": face, "behind": of(&[Class::Flange]),
        "cut": of(&[Class::Cutout, Class::Hole]), "box": [b.x0, b.y0, b.x1, b.y1],
    })
}

/// Cutout and depth in words.
fn sizes(s: &Subject, unit: Unit) -> String {
    let length = |mm: f64| print_length(mm, unit);
    let cutouts: Vec<&Part> = s.parts.iter().filter(|p| p.class == Class::Cutout).collect();
    let holes = s.parts.iter().filter(|p| p.class == Class::Hole).count();
    let size = |p: &Part| match p.contour.as_circle() {
        Some((_, r)) => format!("{} round", length(2.0 * r)),
        None => {
            let b = p.contour.bounds();
            format!("{} \u{d7} {}", length(b.width()), length(b.height()))
        }
    };
    let largest = cutouts.iter().max_by(|a, b| a.contour.area().abs().total_cmp(&b.contour.area().abs()));
    let cut = match (largest, cutouts.len(), holes) {
        (Some(p), 1, _) => format!("cutout {}", size(p)),
        (Some(p), n, _) => format!("{n} cutouts, the largest {}", size(p)),
        (None, _, 0) => "no opening of its own".into(),
        (None, _, 1) => "one hole".into(),
        (None, _, n) => format!("{n} holes"),
    };
    let deep = |class: Class, what: &str| match deepest(s, class) {
        Some(Some(d)) => Some(format!("{}{what}", length(d))),
        Some(None) => Some(format!("not given{what}")),
        None => None,
    };
    let behind: Vec<String> =
        [deep(Class::Body, ""), deep(Class::Port, " with plugs")].into_iter().flatten().collect();
    if behind.is_empty() {
        format!("{cut}; nothing behind is stated")
    } else {
        format!("{cut}; depth behind {}", behind.join(", "))
    }
}

/// Whether one instrument still fits.
fn fits(stood: &Stood, name: &str) -> Result<(Brief, Unit), String> {
    let (panel, subject) = stood.with(name).map_err(|p| first(&p))?;
    let unit = panel.unit;
    let asks = Asks { instrument: name.into(), turn: 0.0, near: None, tight: false };
    Ok((Brief::of(panel, subject, asks), unit))
}

fn row(name: &str, revision: u64, told: &Result<(Brief, Unit), String>) -> Value {
    let (group, word, says) = match told {
        Ok((b, unit)) => in_words(b, *unit),
        Err(why) => (3, "not asked", why.clone()),
    };
    let at = told.as_ref().ok().and_then(|(b, _)| b.at).map(|p| [p.x, p.y]);
    json!({ "kind": "fits", "revision": revision, "name": name, "group": group, "word": word, "says": says, "at": at })
}

/// The row's group (0 fits, 1 room but withheld, 2 tight, 3 not asked, 4 does not fit), its word, and what is said.
fn in_words(b: &Brief, unit: Unit) -> (u8, &'static str, String) {
    let length = |mm: f64| print_length(mm, unit);
    // what is left is told no larger than it is, what lacks no smaller
    let step = if unit.is_inch() { 0.254 } else { 0.1 };
    let spare = b.room.map_or(String::new(), |r| match (r / step + 1e-9).floor() {
        n if n < 1.0 => format!("less than {} to spare", length(step)),
        n => format!("{} to spare at the roomiest spot", length(n * step)),
    });
    let of = |v: Verdict| -> Vec<String> {
        b.findings.iter().filter(|(_, f)| *f == v).map(|(id, _)| own_words(id)).collect()
    };
    match (b.at, b.verdict) {
        (Some(_), Verdict::Pass) => (0, "fits", spare),
        (Some(_), Verdict::Withheld) => {
            let lacks = if b.withheld.is_empty() { of(Verdict::Withheld) } else { b.withheld.clone() };
            let lacks: Vec<String> = lacks.iter().map(|w| own_words(w)).collect();
            (1, "withheld", format!("room for it, {spare}; not known: {}", some(&lacks)))
        }
        (Some(_), Verdict::Tight) => (2, "tight", format!("as drawn alone: {}", some(&of(Verdict::Tight)))),
        (Some(_), Verdict::Fail) => {
            (4, "does not fit", format!("at its best spot: {}", some(&of(Verdict::Fail))))
        }
        (None, _) => {
            let binds: Vec<String> = b.binds.iter().map(|w| own_words(w)).collect();
            let by = b.short.map(|s| format!("short by {}", length((s / step - 1e-9).ceil() * step)));
            let binds = (!binds.is_empty()).then(|| some(&binds));
            let says: Vec<String> = by.into_iter().chain(binds).collect();
            let says =
                if says.is_empty() { "nothing that gives way makes room".into() } else { says.join(": ") };
            (4, "does not fit", says)
        }
    }
}

/// The first of some, and how many more there are.
fn some(all: &[String]) -> String {
    let told = all.iter().take(FEW).cloned().collect::<Vec<_>>().join("; ");
    if all.len() > FEW { format!("{told}; and {} more", all.len() - FEW) } else { told }
}

/// A finding's id, or a part's name, of what stands nowhere yet.
fn own_words(id: &str) -> String {
    let told = match id.split_once('/') {
        Some((rule, parts)) => format!("{rule}: {}", parts.replace('/', " and ")),
        None => id.to_string(),
    };
    told.replace(&format!("{TRIED}."), "its ").replace(TRIED, "it")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;
    use std::collections::BTreeSet;

    fn brief(verdict: Verdict) -> Brief {
        Brief {
            panel: "p".into(),
            turn: 0.0,
            verdict,
            fits: verdict == Verdict::Pass,
            area: 4.0,
            at: Some(Point::new(1.0, 2.0)),
            room: Some(12.7),
            findings: vec![(format!("web/{TRIED}.cutout/one.cutout"), verdict)],
            withheld: Vec::new(),
            short: None,
            binds: BTreeSet::new(),
        }
    }

    #[test]
    fn what_is_said_of_each_verdict() {
        let told = |v: Verdict| in_words(&brief(v), Unit::Millimetre);
        assert_eq!(told(Verdict::Pass), (0, "fits", "12.7 mm to spare at the roomiest spot".into()));
        assert_eq!(in_words(&brief(Verdict::Pass), Unit::Inch).2, "1/2 in to spare at the roomiest spot");
        let room = |room| in_words(&Brief { room: Some(room), ..brief(Verdict::Pass) }, Unit::Millimetre).2;
        assert_eq!(room(17.869), "17.8 mm to spare at the roomiest spot");
        assert_eq!(room(0.04), "less than 0.1 mm to spare");
        let withheld =
            "room for it, 12.7 mm to spare at the roomiest spot; not known: web: its cutout and one.cutout";
        assert_eq!(told(Verdict::Withheld), (1, "withheld", withheld.into()));
        assert_eq!(told(Verdict::Tight).0, 2);
        assert_eq!(told(Verdict::Fail).1, "does not fit");
        let mut b = Brief { at: None, room: None, short: Some(4.21), ..brief(Verdict::Fail) };
        b.binds.insert(format!("edge: {TRIED}.bezel and sheet.edge"));
        let says = "short by 4.3 mm: edge: its bezel and sheet.edge";
        assert_eq!(in_words(&b, Unit::Millimetre), (4, "does not fit", says.into()));
        b.short = None;
        b.binds.clear();
        assert_eq!(in_words(&b, Unit::Millimetre).2, "nothing that gives way makes room");
    }

    #[test]
    fn everything_of_the_catalogue_is_drawn_and_measured() {
        let v = listed(&Catalogue::builtin(), Unit::Millimetre);
        let all = v["all"].as_array().unwrap();
        assert_eq!(v["unread"], json!([]));
        assert_eq!(all.len(), Catalogue::builtin().names().unwrap().len());
        for i in all {
            let b: Vec<f64> =
                i["drawn"]["box"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
            assert!(b[2] > b[0] && b[3] > b[1], "{i}");
            let lines = ["face", "cut", "behind"].map(|k| i["drawn"][k].as_str().unwrap().len());
            assert!(lines.iter().sum::<usize>() > 0, "{i}");
        }
        // the definition says: { "circle": 60 }, measured in both units
        let vent = |unit| {
            let v = listed(&Catalogue::builtin(), unit);
            let all = v["all"].as_array().unwrap().clone();
            all.into_iter().find(|i| i["name"] == "vent/60mm").unwrap()["sizes"].as_str().unwrap().to_string()
        };
        let (mm, inch) = (vent(Unit::Millimetre), vent(Unit::Inch));
        assert!(mm.starts_with("cutout ") && mm.contains("mm round; depth behind "), "{mm}");
        assert!(inch.contains(" in round; depth behind "), "{inch}");
    }

    #[test]
    fn a_circle_is_drawn_round() {
        let sample = Catalogue::builtin().sample("vent/60mm").unwrap();
        let s = sample.subjects.iter().find(|s| s.kind == SubjectKind::Placement).unwrap();
        let cutout = s.parts.iter().find(|p| p.class == Class::Cutout).unwrap();
        let (c, r) = cutout.contour.as_circle().unwrap();
        let d = say::path(std::slice::from_ref(&cutout.contour));
        assert!(d.contains(&format!("A{r:.3} {r:.3} 0 0 ")), "{d} about {c:?}");
    }
}
