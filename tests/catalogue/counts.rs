//! What the list counts: values by their standing, and what a definition leaves open. Counted by hand.

use panelwright::define::instrument::Basis;
use panelwright::files::Memory;
use panelwright::report::catalogue as words;
use panelwright::resolve::Catalogue;

/// Typical: case, opening, body's diameter and its two depths, port's place and depth, mass, centre (9). Practice:
/// the bezel's three sizes, the sheet's two (5). Invented: current, tilt (2). Not said: service, compass-safe,
/// the length of the port's bend.
const ONE: &str = r#"{ "format": 1, "instrument": "One", "kind": "gauge", "unit": "mm", "mounting": "front",
  "sources": { "t": { "basis": "typical" }, "p": { "basis": "practice" }, "i": { "basis": "invented" } },
  "source": "t",
  "case": { "circle": 50 },
  "openings": [{ "id": "main", "shape": { "circle": 51 } }],
  "bezel": { "shape": { "rectangle": [60, 60] }, "thickness": 3, "source": "p" },
  "bodies": [{ "id": "case", "shape": { "circle": 50 }, "from": 0, "to": 40 }],
  "ports": [{ "id": "plug", "at": [0, 5], "depth": 40, "towards": "back", "needs": [{ "term": "bend" }] }],
  "mass": "0.2 kg", "sheet": { "least": 1, "most": { "of": 3, "plus": 0.1, "source": "p" }, "source": "p" },
  "centre": [0, 0, 20], "current": { "continuous": 0.1, "volts": 14, "source": "i" },
  "tilt": { "calibrated": 8, "source": "i" }, "label": false }"#;

/// Nothing leaves it, and it says so: nothing of a port is missing.
const TWO: &str = r#"{ "format": 1, "instrument": "Two", "kind": "clock", "unit": "mm", "mounting": "front",
  "service": "front", "case": { "circle": 50 }, "openings": [{ "id": "main", "shape": { "circle": 51 } }],
  "bezel": { "shape": { "rectangle": [60, 60] }, "thickness": 3 },
  "bodies": [{ "id": "case", "shape": { "circle": 50 }, "from": 0, "to": 40 }],
  "ports": [], "mass": "0.2 kg", "centre": [0, 0, 20], "current": { "continuous": 0 }, "compass-safe": 100,
  "sheet": { "least": 1, "most": 3 } }"#;

fn catalogue(two: &str) -> Catalogue {
    let files = Memory::new().with("own/x/one.json", ONE).with("own/x/two.json", two);
    Catalogue::with_files(Box::new(files), "own")
}

#[test]
fn values_are_counted_by_their_standing() {
    let one = catalogue(TWO).one("x/one").unwrap_or_else(|p| panic!("{}", p.render(false)));
    let count = [Basis::Typical, Basis::Practice, Basis::Invented, Basis::Maker].map(|b| one.count(b));
    assert_eq!(count, [9, 5, 2, 0], "{:#?}", one.values);
    assert_eq!(one.values.len(), 16);
    assert_eq!(one.missing, ["service", "compass-safe", "port-plug: bend"]);
    let two = catalogue(TWO).one("x/two").unwrap_or_else(|p| panic!("{}", p.render(false)));
    assert_eq!(two.missing, Vec::<String>::new());
    assert!(two.values.iter().all(|v| v.basis.is_none()), "no source is named");
    let silent = TWO.replace("\"ports\": [], ", "");
    let silent = catalogue(&silent).one("x/two").unwrap_or_else(|p| panic!("{}", p.render(false)));
    assert_eq!(silent.missing, ["plug, hose or wires behind the body, with their bend"]);
}

#[test]
fn the_list_ends_with_the_sums_of_its_lines() {
    let all = Catalogue::builtin().all().unwrap_or_else(|p| panic!("{}", p.render(false)));
    let text = words::list(all.iter());
    let number = |line: &str, what: &str| -> usize {
        let words: Vec<&str> = line.split([' ', '(', ',', ')']).filter(|w| !w.is_empty()).collect();
        let k = words.iter().rposition(|w| *w == what).unwrap_or_else(|| panic!("{line}: no {what}"));
        words[k - 1].parse().unwrap_or_else(|_| panic!("{line}: {}", words[k - 1]))
    };
    let lines: Vec<&str> = text.lines().take_while(|l| !l.is_empty()).collect();
    assert_eq!(lines.len(), all.len());
    assert!(lines.len() >= 70);
    let sum = |what: &str| lines.iter().map(|l| number(l, what)).sum::<usize>();
    let end: String = text.lines().skip(lines.len()).collect::<Vec<_>>().join(" ");
    assert!(end.contains(&format!("{} found. Of {} values", lines.len(), sum("values"))), "{end}");
    assert!(end.contains(&format!("{} are typical", sum("typical"))), "{end}");
    assert!(end.contains(&format!("{} are invented", sum("invented"))), "{end}");
    assert!(end.contains(&format!("{} things are missing", sum("missing"))), "{end}");
    let json = words::json(&all);
    assert_eq!(json["total"]["missing"], sum("missing"));
    assert_eq!(json["total"]["typical"], sum("typical"));
    for s in &all {
        let shown = words::show(s);
        assert!(
            s.missing.iter().all(|m| shown.contains(m.split(' ').next().unwrap_or_default())),
            "{}",
            s.name
        );
        assert!(s.sources.iter().all(|f| shown.contains(&format!("  {}: ", f.name))), "{}", s.name);
    }
}
