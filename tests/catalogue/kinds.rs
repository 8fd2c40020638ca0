//! Every kind of thing that a panel needs is in the catalogue, by what its definition says and not by its name;
//! and what differs only in its sizes counts once.

use super::files;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// A definition with questions to ask of it.
struct Def {
    name: String,
    value: Value,
}

impl Def {
    fn text(&self, key: &str) -> &str {
        self.value.get(key).and_then(Value::as_str).unwrap_or("")
    }

    fn list(&self, key: &str) -> &[Value] {
        self.value.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
    }

    /// A kind, held so, for a round case of that name.
    fn round(&self, nominal: &str, mounting: &str) -> bool {
        self.text("nominal") == nominal && self.text("mounting") == mounting && self.case("circle")
    }

    fn kind(&self, kind: &str) -> bool {
        self.text("kind") == kind
    }

    fn case(&self, form: &str) -> bool {
        self.value.pointer(&format!("/case/{form}")).is_some()
    }

    /// An opening of that form.
    fn opening(&self, form: &str) -> bool {
        self.list("openings").iter().any(|o| o.pointer(&format!("/shape/{form}")).is_some())
    }

    fn front(&self, kind: &str) -> bool {
        self.list("front").iter().any(|f| f["kind"] == kind)
    }

    /// A knob at a corner, and an opening that gives way to it.
    fn corner_knob(&self) -> bool {
        let away = |f: &Value| {
            f["at"].as_array().is_some_and(|at| at.iter().all(|v| v.as_f64().is_some_and(|v| v != 0.0)))
        };
        self.opening("path") && self.list("front").iter().any(|f| f["kind"] == "knob" && away(f))
    }

    fn carries(&self, what: &str) -> bool {
        self.list("ports").iter().any(|p| p["carries"] == what)
    }

    fn port(&self, kind: &str) -> bool {
        self.list("ports").iter().any(|p| p["kind"] == kind)
    }

    /// A word to search for, or one of the title.
    fn word(&self, word: &str) -> bool {
        let title = self.text("instrument").to_lowercase();
        title.contains(word)
            || self.list("words").iter().any(|w| w.as_str().is_some_and(|w| w.contains(word)))
    }

    /// Where the deepest body ends, in the file's unit.
    fn depth(&self) -> f64 {
        self.list("bodies").iter().filter_map(|b| b["to"].as_f64()).fold(0.0, f64::max)
    }

    /// A body grips the sheet from behind and no screw goes through it.
    fn clamped(&self) -> bool {
        self.text("mounting") == "clamp" && self.list("holes").is_empty()
    }
}

type Asked = (&'static str, fn(&Def) -> bool);

/// What must be there, and how it is known.
const KINDS: &[Asked] = &[
    ("round case 2 1/4 in, front", |d| d.round("2 1/4 in", "front") && d.opening("circle")),
    ("round case 2 1/4 in, rear", |d| d.round("2 1/4 in", "rear")),
    ("round case 2 1/4 in, clamp", |d| d.round("2 1/4 in", "clamp") && d.clamped()),
    ("round case 2 1/4 in, corner knob", |d| d.round("2 1/4 in", "front") && d.corner_knob()),
    ("round case 3 1/8 in, front", |d| d.round("3 1/8 in", "front") && d.opening("circle")),
    ("round case 3 1/8 in, rear", |d| d.round("3 1/8 in", "rear")),
    ("round case 3 1/8 in, clamp", |d| d.round("3 1/8 in", "clamp") && d.clamped()),
    ("round case 3 1/8 in, corner knob", |d| d.round("3 1/8 in", "front") && d.corner_knob()),
    ("round case 3 1/8 in, short", |d| d.text("nominal") == "3 1/8 in" && d.depth() > 0.0 && d.depth() < 3.0),
    ("round case 3 1/8 in, long", |d| d.text("nominal") == "3 1/8 in" && d.depth() > 6.0),
    ("round case 80 mm, front", |d| d.round("80 mm", "front") && d.opening("circle")),
    ("round case 80 mm, clamp", |d| d.round("80 mm", "clamp") && d.clamped()),
    ("round case 80 mm, corner knob", |d| d.round("80 mm", "front") && d.corner_knob()),
    ("round case 57 mm, front", |d| d.round("57 mm", "front")),
    ("round case 57 mm, rear", |d| d.round("57 mm", "rear")),
    ("round case 57 mm, clamp", |d| d.round("57 mm", "clamp") && d.clamped()),
    ("ATI square 2", |d| d.text("nominal") == "2ATI" && d.case("rectangle")),
    ("ATI square 3", |d| d.text("nominal") == "3ATI" && d.case("rectangle")),
    ("ATI square 4", |d| d.text("nominal") == "4ATI" && d.case("rectangle")),
    ("ATI square 5", |d| d.text("nominal") == "5ATI" && d.case("rectangle")),
    ("airspeed", |d| d.kind("gauge") && d.word("airspeed") && d.carries("pitot") && d.carries("static")),
    ("altimeter", |d| d.kind("gauge") && d.word("altimeter") && d.carries("static") && !d.carries("pitot")),
    ("vertical speed", |d| d.kind("gauge") && d.word("vertical speed") && d.carries("static")),
    ("turn", |d| d.kind("gauge") && d.word("turn") && d.value.get("tilt").is_some()),
    ("vacuum gyro", |d| {
        d.kind("gauge") && d.word("gyro") && d.carries("vacuum") && d.value["tilt"]["matters"] == true
    }),
    ("display, rounded corners", |d| d.kind("display") && d.opening("rectangle") && d.opening("corner")),
    ("display, clipped corners", |d| d.kind("display") && d.case("clip")),
    ("standby display for a round opening", |d| d.kind("display") && d.word("standby") && d.case("circle")),
    ("radio for a stack", |d| d.kind("radio") && d.word("radio") && d.value.pointer("/stack/unit").is_some()),
    ("stack frame", |d| d.kind("stack") && d.value.pointer("/stack/frame").is_some()),
    ("radio for the panel itself", |d| d.kind("radio") && d.word("radio") && d.case("circle")),
    ("intercom", |d| d.word("intercom") && d.carries("audio") && d.value.get("stack").is_none()),
    ("audio panel", |d| d.word("audio panel") && d.value.pointer("/stack/unit").is_some()),
    ("transponder for a stack", |d| d.word("transponder") && d.value.pointer("/stack/unit").is_some()),
    ("transponder for the panel itself", |d| d.word("transponder") && d.case("circle")),
    ("engine-gauge cluster", |d| d.kind("gauge") && d.word("cluster")),
    ("hour meter", |d| d.kind("gauge") && d.word("hour meter")),
    ("clock", |d| d.kind("clock")),
    ("suction gauge", |d| d.kind("gauge") && d.word("suction") && d.carries("vacuum")),
    ("ammeter", |d| d.kind("gauge") && d.word("ammeter")),
    ("toggle switch", |d| d.kind("toggle") && d.front("lever")),
    ("rocker switch", |d| d.kind("toggle") && d.word("rocker")),
    ("push switch", |d| d.kind("push") && d.front("button")),
    ("pullable breaker", |d| d.kind("breaker") && d.word("pullable")),
    ("fuse holder", |d| d.kind("fuse")),
    ("spare-fuse holder", |d| d.word("spare")),
    ("ignition key switch", |d| d.kind("key") && d.carries("ignition")),
    ("primer", |d| d.word("primer") && d.carries("fuel")),
    ("push-pull cable, plain", |d| d.kind("push-pull") && d.word("throttle") && !d.word("vernier")),
    ("push-pull cable, vernier", |d| d.kind("push-pull") && d.word("vernier")),
    ("cabin heat", |d| d.kind("push-pull") && d.word("cabin heat")),
    ("carburettor heat", |d| d.kind("push-pull") && d.word("carburettor")),
    ("vent", |d| d.kind("vent") && d.port("duct")),
    ("jack", |d| d.kind("jack") && d.front("socket")),
    ("USB outlet", |d| d.kind("outlet") && d.word("usb")),
    ("warning lamp", |d| d.kind("lamp") && d.word("warning")),
    ("dimmer", |d| d.kind("dimmer")),
    ("compass", |d| d.kind("compass")),
    ("emergency-locator remote switch", |d| d.word("locator") && d.word("remote")),
    ("flap switch", |d| d.word("flap")),
    ("trim switch", |d| d.word("trim")),
    ("alternate-static valve", |d| d.word("alternate") && d.carries("static")),
    ("monitor-arm base", |d| d.kind("arm") && !d.list("holes").is_empty()),
    ("shock mount", |d| d.kind("mount") && d.word("shock") && !d.list("holes").is_empty()),
    ("grommet", |d| d.word("grommet") && !d.list("openings").is_empty()),
    ("nutplate", |d| d.kind("nutplate") && !d.list("holes").is_empty()),
    ("blanking plate", |d| d.kind("blank") && d.value.get("bezel").is_some()),
];

fn all() -> Vec<Def> {
    let def = |(name, text): (String, std::sync::Arc<str>)| Def {
        name,
        value: serde_json::from_str(&text).expect("JSON"),
    };
    files().into_iter().map(def).collect()
}

#[test]
fn every_kind_that_a_panel_needs_is_there() {
    let all = all();
    let missing: Vec<&str> =
        KINDS.iter().filter(|(_, is)| !all.iter().any(is)).map(|(what, _)| *what).collect();
    assert!(missing.is_empty(), "not in the catalogue: {}", missing.join(", "));
}

/// The form of a shape.
fn form(shape: Option<&Value>) -> String {
    let forms = ["circle", "rectangle", "d-hole", "slot", "path"];
    forms.into_iter().find(|f| shape.is_some_and(|s| s.get(f).is_some())).unwrap_or("").into()
}

/// What a definition is without any of its sizes, names and words: kind, mounting, forms, what leaves it and what
/// is touched. Two that agree in it are variants of one thing, however many of their sizes differ.
fn without_sizes(d: &Def) -> Vec<String> {
    let set = |key: &str, of: &dyn Fn(&Value) -> String| {
        let all: BTreeSet<String> = d.list(key).iter().map(of).collect();
        all.into_iter().collect::<Vec<_>>().join(" ")
    };
    let shape_of = |v: &Value| form(v.get("shape"));
    let word = |v: &Value, key: &str| v.get(key).and_then(Value::as_str).unwrap_or("").to_string();
    vec![
        d.text("kind").into(),
        d.text("mounting").into(),
        set("openings", &shape_of),
        (!d.list("holes").is_empty()).to_string(),
        form(d.value.pointer("/bezel/shape")),
        form(d.value.pointer("/flange/shape")),
        set("bodies", &shape_of),
        set("ports", &|p| format!("{} {}", word(p, "kind"), word(p, "carries"))),
        set("front", &|f| word(f, "kind")),
        d.value.get("stack").is_some().to_string(),
    ]
}

#[test]
fn seventy_remain_when_variants_in_size_count_once() {
    let all = all();
    let mut groups: BTreeMap<Vec<String>, Vec<&str>> = BTreeMap::new();
    for d in &all {
        groups.entry(without_sizes(d)).or_default().push(&d.name);
    }
    let variants: Vec<String> = groups.values().filter(|g| g.len() > 1).map(|g| g.join(", ")).collect();
    assert!(
        groups.len() >= 70,
        "{} of {}; the same but for sizes:\n{}",
        groups.len(),
        all.len(),
        variants.join("\n")
    );
    // the measure sees what differs in sizes alone
    let group = |name: &str| groups.values().position(|g| g.contains(&name));
    assert_eq!(group("round/2-1-4in-clamp"), group("round/57mm-clamp"));
    assert_ne!(group("round/2-1-4in-clamp"), group("round/2-1-4in-rear"));
}
