//! Small panels in memory, with invented instruments of round numbers.

use panelwright::diag::Problems;
use panelwright::files::{Files, Memory};
use panelwright::geom::Point;
use panelwright::panel::{Panel, Part, Subject};
use panelwright::resolve::{Catalogue, resolve};

/// A dial: bezel 66, opening 60, case 59, four screws on a square of 50.
pub const DIAL: &str = r##"{ "format": 1, "instrument": "Dial", "kind": "gauge", "unit": "mm", "mounting": "front",
  "sources": { "drawing": { "basis": "maker", "document": "D-1", "revision": "B" } }, "source": "drawing",
  "case": { "circle": 59 }, "openings": [{ "id": "main", "shape": { "circle": 60 } }],
  "holes": [{ "id": "screw", "square": 50, "diameter": 4.5, "fastener": "M4", "head": { "kind": "raised" },
    "nut": { "across": 8 , "height": 3 } }],
  "bezel": { "shape": { "circle": 66 }, "thickness": 4 },
  "bodies": [{ "id": "can", "shape": { "circle": 59 }, "from": 0, "to": 80 }],
  "ports": [{ "id": "plug", "at": [10, 5], "depth": 80, "towards": "back", "diameter": 12,
    "needs": [{ "term": "plug", "length": 30 }, { "term": "bend", "length": 20 }] }] }"##;

/// A box whose parts lie to its right and above: bezel 40 x 20 about (10, 5), opening 30 x 12, body from
/// behind with a lump, a knob at (24, 9).
pub const ODD: &str = r##"{ "format": 1, "instrument": "Odd box", "kind": "box", "unit": "mm", "mounting": "rear",
  "sources": { "typical": { "basis": "typical" } }, "source": "typical",
  "case": { "rectangle": [29, 11] },
  "openings": [{ "id": "main", "shape": { "rectangle": [30, 12], "corners": [1, 2, 3, 0] }, "at": [8, 5] }],
  "holes": [{ "id": "pin", "at": [[-8, 0]], "diameter": 3, "fastener": "none" }],
  "bezel": { "shape": { "rectangle": [40, 20] }, "at": [10, 5] },
  "flange": { "shape": { "rectangle": [40, 20] }, "at": [10, 5], "thickness": 2 },
  "bodies": [{ "id": "lump", "shape": { "d-hole": 20, "flat": 6 }, "at": [30, 4], "turn": 90, "from": 0, "to": 25 }],
  "front": [{ "id": "knob", "kind": "knob", "shape": { "circle": 8 }, "at": [24, 9], "out": 12, "hand-room": 5 }] }"##;

/// A switch held from behind.
pub const SWITCH: &str = r##"{ "format": 1, "instrument": "Switch", "kind": "toggle", "unit": "mm", "mounting": "rear",
  "openings": [{ "id": "bush", "shape": { "circle": 12 } }], "case": { "circle": 11.8 },
  "bodies": [{ "id": "case", "shape": { "rectangle": [14, 28] }, "from": 0, "to": 25 },
    { "id": "nut", "shape": { "circle": 16 }, "from": -3, "to": 0 }] }"##;

/// The files that every test panel may use, with the panel's own.
pub fn files(panels: &[(&str, &str)]) -> Memory {
    let mut files = Memory::new().with("dial.json", DIAL).with("odd.json", ODD).with("switch.json", SWITCH);
    for (name, text) in panels {
        files = files.with(*name, text);
    }
    files
}

/// A panel of 400 x 200 mm about the datum at its lower left, 2 mm thick; `rest` follows the sheet.
pub fn text(rest: &str) -> String {
    format!(
        r#"{{ "format": 1, "panel": "Test", "unit": "mm",
"sheet": {{ "thickness": 2, "outline": "M 0 0 H 400 V 200 H 0 Z" }}{}{rest} }}"#,
        if rest.is_empty() { "" } else { ",\n" }
    )
}

pub fn try_files(path: &str, panels: &[(&str, &str)]) -> Result<Panel, Problems> {
    resolve(path, &files(panels) as &dyn Files, &Catalogue::builtin())
}

/// Resolves a panel that must resolve.
pub fn panel(rest: &str) -> Panel {
    whole(&text(rest))
}

pub fn whole(text: &str) -> Panel {
    chain("p.json", &[("p.json", text)])
}

pub fn chain(path: &str, panels: &[(&str, &str)]) -> Panel {
    try_files(path, panels).unwrap_or_else(|p| panic!("{}", p.render(false)))
}

/// Code, line and words of every problem of a panel that must not resolve.
pub fn refused(rest: &str) -> Vec<(String, u32, String)> {
    refused_files("p.json", &[("p.json", &text(rest))])
}

pub fn refused_files(path: &str, panels: &[(&str, &str)]) -> Vec<(String, u32, String)> {
    match try_files(path, panels) {
        Ok(_) => panic!("it resolved"),
        Err(problems) => problems
            .sorted()
            .iter()
            .map(|p| {
                assert!(p.help.as_ref().is_some_and(|h| !h.is_empty()), "no advice: {p}");
                (p.code.to_string(), p.place.as_ref().map_or(0, |w| w.line), p.message.clone())
            })
            .collect(),
    }
}

pub fn subject<'a>(panel: &'a Panel, id: &str) -> &'a Subject {
    match panel.find(id) {
        Some(k) => &panel.subjects[k],
        None => panic!("no {id} among {:?}", panel.subjects.iter().map(|s| &s.id).collect::<Vec<_>>()),
    }
}

pub fn part<'a>(panel: &'a Panel, id: &str, name: &str) -> &'a Part {
    let s = subject(panel, id);
    match s.parts.iter().find(|p| p.name == name) {
        Some(p) => p,
        None => panic!("no {name} of {id} among {:?}", s.parts.iter().map(|p| &p.name).collect::<Vec<_>>()),
    }
}

#[track_caller]
pub fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-9, "{a} is not {b}");
}

#[track_caller]
pub fn at(panel: &Panel, id: &str, x: f64, y: f64) {
    let p = subject(panel, id).at;
    assert!((p - Point::new(x, y)).hypot2() < 1e-18, "{id} stands at {p:?}, not at ({x}, {y})");
}

/// The box of a part: x0, y0, x1, y1.
#[track_caller]
pub fn boxed(panel: &Panel, id: &str, name: &str, want: [f64; 4]) {
    let b = part(panel, id, name).contour.bounds();
    let got = [b.x0, b.y0, b.x1, b.y1];
    assert!(got.iter().zip(want).all(|(g, w)| (g - w).abs() < 1e-9), "{id}.{name}: {got:?} is not {want:?}");
}
