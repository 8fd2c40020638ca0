//! The two round patterns through the whole way: definition, resolve, distances. The values follow from the
//! screw squares measured on a public part that cites MS33638 and are those of `tests/reference`; printed to
//! 0.0005 in, so half of that is the tolerance.

use panelwright::check::{self, Verdict};
use panelwright::files::Memory;
use panelwright::geom::{distance, span};
use panelwright::panel::{Class, Panel, Part, Subject};
use panelwright::resolve::{self, Catalogue};

const INCH: f64 = 25.4;
/// Diameter of a #6 screw, 0.060 + 6 x 0.013 in.
const SCREW: f64 = 0.138;
const CASES: &str = include_str!("../reference/round-cases.csv");
const PAIRS: &str = include_str!("../reference/round-pairs.csv");

fn rows(text: &str) -> Vec<Vec<&str>> {
    let lines = text.lines().filter(|l| !l.starts_with('#') && !l.is_empty()).skip(1);
    lines.map(|l| l.split(',').collect()).collect()
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("{text} is no number"))
}

fn close(what: &str, ours: f64, printed: f64) {
    assert!((ours - printed).abs() <= 0.000_25 + 1e-9, "{what}: {ours} in, printed {printed} in");
}

fn of(subject: &Subject, class: Class) -> Vec<&Part> {
    subject.parts.iter().filter(|p| p.class == class).collect()
}

#[test]
fn screws_and_cutout_of_one_instrument() {
    for row in rows(CASES) {
        for side in ["front", "rear"] {
            let name = format!("round/{}-{side}", row[0]);
            let Ok(panel) = Catalogue::builtin().sample(&name) else { continue };
            let s = panel.subjects.iter().find(|s| s.facts.is_some()).expect("the instrument");
            let (cutouts, holes) = (of(s, Class::Cutout), of(s, Class::Hole));
            let [cutout] = cutouts[..] else { panic!("{name}: one cutout") };
            assert_eq!(holes.len(), 4, "{name}");
            let mut around = 0.0_f64;
            for hole in &holes {
                let (c, r) = hole.contour.as_circle().expect("a round hole");
                close(&format!("{name} half square"), c.x.abs() / INCH, number(row[2]) / 2.0);
                close(&format!("{name} half square"), c.y.abs() / INCH, number(row[2]) / 2.0);
                let centre = distance::point_contour(c, &cutout.contour).distance / INCH;
                close(&format!("{name} screw centre to cutout"), centre, number(row[7]));
                assert!((centre / SCREW - 1.36).abs() < 0.005, "{name}: {} D", centre / SCREW);
                let metal = distance::contours(&hole.contour, &cutout.contour).distance / INCH;
                close(&format!("{name} metal"), metal, number(row[8]));
                around = around.max(2.0 * (span(c, cutout.centre) + r) / INCH);
            }
            // the bolt circle of common practice is the square's diagonal rounded to 0.001 in
            assert!((around - number(row[9])).abs() < 0.001, "{name}: {around} in around all holes");
        }
    }
}

fn pair(pitch: &str) -> Panel {
    let text = format!(
        r#"{{ "format": 1, "panel": "Two", "unit": "in", "sheet": {{ "thickness": 0.08, "outline": "M 0 0 H 12 V 6 H 0 Z" }},
        "place": [ {{ "id": "a", "instrument": "round/3-1-8in-front", "at": [3, 3] }},
                   {{ "id": "b", "instrument": "round/3-1-8in-front", "right-of": "a", "pitch": {pitch} }} ] }}"#
    );
    let files = Memory::new().with("two.json", text);
    resolve::resolve("two.json", &files, &Catalogue::builtin())
        .unwrap_or_else(|p| panic!("{}", p.render(false)))
}

#[test]
fn two_side_by_side() {
    for row in rows(PAIRS) {
        let panel = pair(row[0]);
        let [a, b] = ["a", "b"].map(|id| &panel.subjects[panel.find(id).expect("placed")]);
        let least = |class: Class| {
            let (of_a, of_b) = (of(a, class), of(b, class));
            let pairs = of_a.iter().flat_map(|p| of_b.iter().map(move |q| (p, q)));
            let gaps = pairs.map(|(p, q)| distance::contours(&p.contour, &q.contour).distance / INCH);
            gaps.fold(f64::INFINITY, f64::min)
        };
        close(&format!("pitch {}: web", row[0]), least(Class::Cutout), number(row[1]));
        close(&format!("pitch {}: screws", row[0]), least(Class::Hole), number(row[2]));
    }
}

/// A frame with two units and room for a third: it resolves, and nothing about it fails; what the units'
/// definition leaves open is withheld.
#[test]
fn a_stack_of_radios() {
    let text = r#"{ "format": 1, "panel": "Stack", "unit": "in", "tilt": 0,
        "sheet": { "thickness": 0.08, "outline": "M 0 0 H 9 V 10 H 0 Z" }, "depth": { "default": 16 },
        "stacks": [ { "id": "stack", "instrument": "stack/6-1-4in-frame", "at": [4.5, 5], "units": [
            { "id": "upper", "instrument": "radio/6-1-4in-unit" }, { "id": "lower", "instrument": "radio/6-1-4in-unit" },
            { "provision": 3 } ] } ] }"#;
    let files = Memory::new().with("stack.json", text);
    let panel = resolve::resolve("stack.json", &files, &Catalogue::builtin());
    let panel = panel.unwrap_or_else(|p| panic!("{}", p.render(false)));
    let findings = check::check(&panel, &check::Options::default());
    let fails = findings.list.iter().filter(|f| f.verdict == Verdict::Fail);
    assert_eq!(fails.map(|f| f.id(&panel)).collect::<Vec<_>>(), Vec::<String>::new());
    let depth =
        findings.list.iter().filter(|f| f.rule.id == "depth-behind" && f.verdict == Verdict::Withheld);
    assert_eq!(depth.count(), 2, "the plugs' length is not known: measure yours");
    for rule in ["stack-height", "stack-width"] {
        assert!(findings.list.iter().any(|f| f.rule.id == rule), "{rule}");
    }
}
