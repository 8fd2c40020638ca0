//! Layouts looked at side by side: a card of each, what differs between two, back to one of them.

use super::answer::{Answer, done, own, refused};
use super::aside::{Aside, News};
use super::layouts::Kept;
use super::say;
use super::session::{Session, checked, read};
use crate::check::{Finding, Findings, Verdict};
use crate::compare::{Changed, Difference, VerdictChange};
use crate::draw::front_view::to_lay_out;
use crate::edit::Refusal;
use crate::export::svg;
use crate::geom::{SLACK, length};
use crate::panel::{Panel, SubjectKind};
use crate::report::measured_words;
use crate::resolve::Catalogue;
use crate::units::{Unit, print_length};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Width of a card's view on paper, mm: narrower than the board's, so that its letters are larger beside its items.
const WIDE: f64 = 170.0;
/// Margins that differ by no more are alike, mm.
const ALIKE: f64 = 0.1;
/// Findings of a comparison that are told.
const MOST: usize = 300;

/// A panel with what the rules say of it.
type Judged = (Panel, Findings);

/// What is needed to read a layout, without the session.
struct Reader {
    path: String,
    catalogue: Arc<Catalogue>,
    now: Judged,
    kept: Vec<Kept>,
}

impl Reader {
    fn of(s: &Session) -> Result<Reader, Refusal> {
        Ok(Reader {
            path: s.path().into(),
            catalogue: s.shared_catalogue(),
            now: (s.panel.clone(), s.findings.clone()),
            kept: s.layouts.list()?.to_vec(),
        })
    }

    /// One by its name; without a name the panel as it stands.
    fn judged(&self, name: Option<&str>) -> Result<Judged, String> {
        let Some(name) = name else { return Ok(self.now.clone()) };
        let kept = self.kept.iter().find(|k| k.name == name);
        let kept = kept.ok_or_else(|| format!("no layout of the name {name} is kept"))?;
        let panel = read(&self.path, &kept.text, &self.catalogue)?;
        let (findings, _) = checked(&panel);
        Ok((panel, findings))
    }
}

/// Answers what is asked of layouts.
pub fn answer(s: &mut Session, aside: &mut Aside, m: &Value) -> Answer {
    let name = m["name"].as_str();
    let tell_all = |aside: &Aside| {
        // without a page nobody needs to know
        let _ = aside.news.send(News::Layouts);
    };
    match (m["do"].as_str().unwrap_or(""), name) {
        ("layouts", _) => cards(s, aside),
        ("layouts-closed", _) => {
            aside.layouts.no_more();
            Answer::none()
        }
        ("layout-keep", name) => match s.keep(name.unwrap_or("")) {
            Ok(name) => {
                tell_all(aside);
                own(json!({ "kind": "layout-kept", "name": name }))
            }
            Err(why) => refused(&why),
        },
        ("layout-forget", Some(name)) => match s.layouts.forget(name) {
            Ok(()) => {
                tell_all(aside);
                Answer::none()
            }
            Err(why) => refused(&why),
        },
        ("layout-back", Some(name)) => done(s.back_to(name)),
        ("layout-save", Some(name)) => {
            let file = m["file"].as_str().unwrap_or("");
            let saved = s.layouts.get(name).and_then(|k| s.layouts.save_as(&k.text, file));
            match saved {
                Ok(file) => own(json!({ "kind": "layout-saved", "name": name, "file": file })),
                Err(why) => refused(&why),
            }
        }
        ("layouts-compare", _) => match Reader::of(s) {
            Ok(reader) => {
                let (a, b) = (m["a"].as_str().map(str::to_owned), m["b"].as_str().map(str::to_owned));
                let tell = aside.tell.clone();
                aside.beside(move || {
                    let both =
                        reader.judged(a.as_deref()).and_then(|x| Ok((x, reader.judged(b.as_deref())?)));
                    let told = match both {
                        Ok((x, y)) => compared(&x, &y),
                        Err(why) => json!({ "problem": why }),
                    };
                    tell.say(json!({ "kind": "layouts-differ", "a": a, "b": b, "told": told }));
                })
            }
            Err(why) => refused(&why),
        },
        _ => refused(&Refusal::Words("which layout is meant?".into())),
    }
}

impl Session {
    /// Keeps the panel as it stands under a name; gives the name.
    ///
    /// # Errors
    /// As [`Layouts::keep`](super::layouts::Layouts::keep).
    pub fn keep(&mut self, name: &str) -> Result<String, Refusal> {
        let text = self.text().to_string();
        self.layouts.keep(name, &text)
    }

    /// Goes back to a layout that is kept, in one step that undo takes back.
    ///
    /// # Errors
    /// There is none of that name, or it can no longer be read.
    pub fn back_to(&mut self, name: &str) -> Result<(), Refusal> {
        let text = self.layouts.get(name)?.text.clone();
        let panel = read(self.path(), &text, self.catalogue()).map_err(Refusal::Words)?;
        self.did(text, panel)
    }
}

/// The names at once, then a card of each as it is worked out, that of the panel as it stands first.
fn cards(s: &Session, aside: &mut Aside) -> Answer {
    let reader = match Reader::of(s) {
        Ok(reader) => reader,
        Err(why) => return own(json!({ "kind": "layouts", "names": [], "problem": why.words() })),
    };
    let names: Vec<String> = reader.kept.iter().map(|k| k.name.clone()).collect();
    let (revision, tell, wanted) = (s.revision, aside.tell.clone(), aside.layouts.anew());
    let told = names.clone();
    let begun = aside.beside(move || {
        let all = std::iter::once(None).chain(told.iter().map(|n| Some(n.as_str())));
        for name in all {
            let card = match reader.judged(name) {
                Ok(judged) => card(&judged, name.map(|_| &reader.now)),
                Err(why) => json!({ "problem": why }),
            };
            if !wanted()
                || !tell.say(json!({ "kind": "layout", "name": name, "revision": revision, "card": card }))
            {
                return;
            }
        }
    });
    if begun.own.is_some() {
        return begun;
    }
    own(json!({ "kind": "layouts", "names": names, "revision": revision }))
}

/// What a card shows of a layout: its front, its counts, in a few words what differs from another one.
pub(super) fn card((panel, findings): &Judged, from: Option<&Judged>) -> Value {
    let (drawing, ..) = to_lay_out(panel, &findings.list, WIDE);
    let svg = svg::inline(&drawing, 0, "kept-", &panel.name, "Its front.").unwrap_or_default();
    let differs = from.map(|(p, f)| in_short(&Difference::of((p, f), (panel, findings), ALIKE)));
    json!({ "svg": svg, "counts": say::counts(findings), "differs": differs })
}

/// Items of both that moved, without the labels that go with theirs.
fn items<'a>(d: &'a Difference, panel: &'a Panel) -> impl Iterator<Item = &'a Changed> {
    let label = |id: &str| {
        panel.find(id).and_then(|k| panel.subjects.get(k)).is_some_and(|s| s.kind == SubjectKind::Label)
    };
    d.changed.iter().filter(move |c| !label(&c.id))
}

fn in_short(d: &Difference) -> String {
    if d.is_empty() {
        return "nothing differs".into();
    }
    let some = |n: usize, what: &str| (n > 0).then(|| format!("{n} {what}"));
    let worse = d.verdicts.iter().filter(|v| v.worse()).count();
    let other = d.verdicts.iter().filter(|v| !v.worse() && v.verdict[0] != v.verdict[1]).count();
    let all = [
        some(d.changed.len(), "moved or changed"),
        some(d.added.len(), "more"),
        some(d.removed.len(), "fewer"),
        some(worse, "verdicts worse"),
        some(other, "verdicts better or gone"),
        some(d.sheets.len(), "sheets differ"),
        some(d.settings.len(), "settings differ"),
    ];
    let all: Vec<String> = all.into_iter().flatten().collect();
    if all.is_empty() { "margins alone differ".into() } else { all.join(", ") }
}

/// What differs between two, for a table.
fn compared(a: &Judged, b: &Judged) -> Value {
    let d = Difference::of((&a.0, &a.1), (&b.0, &b.1), ALIKE);
    let unit = a.0.unit;
    let moved = items(&d, &b.0).map(|c| json!({ "id": c.id, "says": changed(c, unit) }));
    let added = d.added.iter().map(|id| json!({ "id": id, "says": "only in the second" }));
    let removed = d.removed.iter().map(|id| json!({ "id": id, "says": "only in the first" }));
    let items: Vec<Value> = removed.chain(added).chain(moved).collect();
    // passes that appear or vanish with an item, and margins that are but other ones, would hide what matters
    let plain =
        |v: &&VerdictChange| !matches!(v.verdict, [None | Some(Verdict::Pass), None | Some(Verdict::Pass)]);
    let all: Vec<&VerdictChange> = d.verdicts.iter().filter(plain).collect();
    let (was, now) = (ById::of(a), ById::of(b));
    let rows: Vec<Value> = all
        .iter()
        .take(MOST)
        .map(|v| json!({ "id": v.id, "worse": v.worse(), "a": was.said(v, 0), "b": now.said(v, 1) }))
        .collect();
    let said: Vec<String> = d
        .settings
        .iter()
        .map(|s| {
            let [x, y] = s.said.each_ref().map(|v| v.as_deref().unwrap_or("not said"));
            format!("{}: {x}, then {y}", s.what)
        })
        .chain(d.sheets.iter().map(|s| format!("sheet {} differs", s.id)))
        .collect();
    let passes = d.verdicts.len() - all.len();
    json!({ "items": items, "rows": rows, "more": all.len().saturating_sub(MOST), "passes": passes, "said": said })
}

fn changed(c: &Changed, unit: Unit) -> String {
    let mut said = Vec::new();
    if let Some([was, now]) = &c.instrument {
        said.push(format!("{was} becomes {now}"));
    }
    if length(c.moved) > SLACK {
        let way = |v: f64, one: &str, other: &str| {
            (v.abs() > SLACK)
                .then(|| format!("{} {}", print_length(v.abs(), unit), if v > 0.0 { one } else { other }))
        };
        let ways = [way(c.moved.x, "right", "left"), way(c.moved.y, "up", "down")];
        said.push(format!("moved {}", ways.into_iter().flatten().collect::<Vec<_>>().join(", ")));
    }
    if c.turned.abs() > SLACK {
        said.push(format!("turned by {} degrees", (c.turned * 1e3).round() / 1e3));
    }
    if c.mirrored {
        said.push("mirrored".into());
    }
    if c.resized {
        said.push("other sizes".into());
    }
    if !c.numbers.is_empty() {
        said.push(format!("other numbers of its own: {}", c.numbers.join(", ")));
    }
    said.join("; ")
}

/// Findings of one layout by their ids.
struct ById<'a> {
    panel: &'a Panel,
    all: BTreeMap<String, Vec<&'a Finding>>,
}

impl<'a> ById<'a> {
    fn of((panel, findings): &'a Judged) -> ById<'a> {
        let mut all: BTreeMap<String, Vec<&Finding>> = BTreeMap::new();
        for f in &findings.list {
            all.entry(f.id(panel)).or_default().push(f);
        }
        ById { panel, all }
    }

    /// What it says where a change of verdict is told: of several with one id the one that is meant.
    fn said(&self, v: &VerdictChange, side: usize) -> Value {
        let list = self.all.get(&v.id).map(Vec::as_slice).unwrap_or_default();
        let meant = |f: &&&Finding| Some(f.verdict) == v.verdict[side] && f.margin() == v.margin[side];
        match list.iter().find(meant) {
            Some(f) => {
                let b = f.b.map(|b| self.panel.part_name(b));
                json!({
                    "verdict": f.verdict.word(), "says": measured_words(self.panel, f), "a": self.panel.part_name(f.a),
                    "b": b, "asks": f.rule.asks,
                })
            }
            None => json!(null),
        }
    }
}
