//! Trade tables against published values; each data file names its documents.

use panelwright::calc::drill;
use panelwright::check::{Limit, RULES, Standing};
use panelwright::geom::{Contour, Point, distance};

/// Rows of a data file: comma-separated, `#` followed by a blank starts a remark, first row the heads.
fn rows(text: &str) -> Vec<Vec<&str>> {
    text.lines()
        .filter(|l| !l.starts_with("# ") && !l.trim().is_empty())
        .skip(1)
        .map(|l| l.split(',').map(str::trim).collect())
        .collect()
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("{text} is not a number"))
}

#[test]
fn drills_as_the_charts_print_them() {
    let rows = rows(include_str!("reference/drills.csv"));
    assert_eq!(rows.len(), 60 + 26);
    for r in rows {
        let ours = drill::named(r[0]).unwrap_or_else(|| panic!("no drill {}", r[0])).diameter / 25.4;
        if !r[1].is_empty() {
            // four decimals printed, and the sizes are whole ten-thousandths
            assert!((ours - number(r[1])).abs() < 1e-9, "{}: {ours}, chart {}", r[0], r[1]);
        }
        // rounded to three decimals there
        assert!((ours - number(r[2])).abs() < 0.000_5 + 1e-9, "{}: {ours}, library {}", r[0], r[2]);
    }
}

#[test]
fn clearance_holes_as_the_standards_print_them() {
    use panelwright::calc::clearance;
    let inches = |name: &str| match name.split_once('/') {
        Some((over, under)) => number(over) / number(under),
        None => drill::named(name).unwrap_or_else(|| panic!("no drill {name}")).diameter / 25.4,
    };
    for r in rows(include_str!("reference/clearance-holes.csv")) {
        let metric = r[0].starts_with('M');
        let unit = if metric { 1.0 } else { 25.4 };
        let size = |text: &str| if metric { number(text) } else { inches(text) };
        let ours =
            clearance::of_screw(number(r[1]) * unit).unwrap_or_else(|| panic!("no holes for {}", r[0]));
        // the same decimal sizes on both sides: rounding of one product
        assert!((ours.close / unit - size(r[2])).abs() < 1e-9, "{} close {}", r[0], ours.close);
        assert!((ours.normal / unit - size(r[3])).abs() < 1e-9, "{} normal {}", r[0], ours.normal);
        let largest = if r[6].is_empty() { size(r[4]) } else { number(r[6]) };
        assert!((ours.largest / unit - largest).abs() < 1e-9, "{} largest {}", r[0], ours.largest);
        if !r[5].is_empty() {
            // the drill of the loose fit is its lower limit, printed to 0.001 in
            assert!((size(r[4]) - number(r[5])).abs() < 0.000_5 + 1e-9, "{} loose drill", r[0]);
        }
    }
}

#[test]
fn hoses_bend_as_the_table_prints_them() {
    use panelwright::calc::bend;
    let rows = rows(include_str!("reference/hoses.csv"));
    assert_eq!(rows.len(), bend::PRESSURE_HOSES.len());
    let inches = |text: &str| match text.split_once('/') {
        Some((over, under)) => number(over) / number(under),
        None => number(text),
    };
    for (r, ours) in rows.iter().zip(bend::PRESSURE_HOSES) {
        assert_eq!(ours.dash.to_string(), r[0]);
        for (k, value) in [ours.tube, ours.bore, ours.outside, ours.radius].into_iter().enumerate() {
            // the same decimals on both sides: rounding of one product
            assert!((value / 25.4 - inches(r[k + 1])).abs() < 1e-9, "-{}: column {}", r[0], k + 1);
        }
        let least = bend::least(bend::Bends::PressureHose, inches(r[3]) * 25.4).map(|l| l.radius / 25.4);
        assert!(least.is_some_and(|l| (l - inches(r[4])).abs() < 1e-9), "-{}", r[0]);
    }
}

/// A circle, inches in, millimetres out.
fn inch_circle(x: f64, y: f64, diameter: f64) -> Contour {
    Contour::circle(Point::new(x * 25.4, y * 25.4), diameter * 25.4 / 2.0)
}

fn inches_apart(a: &Contour, b: &Contour) -> f64 {
    distance::contours(a, b).distance / 25.4
}

#[test]
fn round_cases_have_the_screw_patterns_of_the_measured_part() {
    for r in rows(include_str!("reference/round-cases.csv")) {
        let [cutout, square, circle, hole] = [1, 2, 3, 4].map(|k| number(r[k]));
        let (main, screw) = (inch_circle(0.0, 0.0, cutout), inch_circle(square / 2.0, square / 2.0, hole));
        // printed to 0.001 in and 0.0005 in; the square itself is measured to 0.001 in
        assert!((square * 2f64.sqrt() - circle).abs() < 0.001, "{} bolt circle", r[0]);
        assert!((inches_apart(&main, &screw) - number(r[8])).abs() < 0.0005, "{} metal", r[0]);
        let centre = distance::point_contour(Point::new(square / 2.0 * 25.4, square / 2.0 * 25.4), &main);
        assert!((centre.distance / 25.4 - number(r[7])).abs() < 0.0005, "{} centre", r[0]);
        assert!((circle + hole - number(r[9])).abs() < 1e-9, "{} around", r[0]);
    }
}

#[test]
fn the_catalogue_holds_the_measured_part() {
    let rows = rows(include_str!("reference/round-cases.csv"));
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/instruments/round/");
    for (file, row) in [("3-1-8in-front", 0), ("3-1-8in-rear", 0), ("2-1-4in-front", 1)] {
        let text = std::fs::read_to_string(format!("{folder}{file}.json")).unwrap_or_default();
        let json: serde_json::Value = serde_json::from_str(&text).unwrap_or_default();
        let expect = |pointer: &str, printed: &str| {
            let ours = json.pointer(pointer).and_then(serde_json::Value::as_f64);
            assert_eq!(ours, Some(number(printed)), "{file} {pointer}");
        };
        assert_eq!(json.pointer("/unit").and_then(|u| u.as_str()), Some("in"), "{file}");
        expect("/openings/0/shape/circle", rows[row][1]);
        expect("/holes/0/square", rows[row][2]);
        let hole = json.pointer("/holes/0/diameter").and_then(|d| d.as_str());
        assert_eq!(hole, Some(format!("{} in", rows[row][4]).as_str()), "{file}");
    }
}

#[test]
fn round_instruments_side_by_side() {
    let cases = rows(include_str!("reference/round-cases.csv"));
    let [cutout, square, hole] = [1, 2, 4].map(|k| number(cases[0][k]));
    for r in rows(include_str!("reference/round-pairs.csv")) {
        let pitch = number(r[0]);
        let web = inches_apart(&inch_circle(0.0, 0.0, cutout), &inch_circle(pitch, 0.0, cutout));
        assert!((web - number(r[1])).abs() < 1e-9, "pitch {pitch}: web {web}");
        let half = square / 2.0;
        let screws = inches_apart(&inch_circle(half, half, hole), &inch_circle(pitch - half, half, hole));
        assert!((screws - number(r[2])).abs() < 1e-9, "pitch {pitch}: screws {screws}");
    }
}

#[test]
fn limits_as_the_documents_print_them() {
    for r in rows(include_str!("reference/rule-limits.csv")) {
        let rule = RULES.iter().find(|rule| rule.id == r[0]).unwrap_or_else(|| panic!("no rule {}", r[0]));
        let value = number(r[2]);
        let printed = match r[1] {
            // 0.25 in and its kin are exact in millimetres
            "at-least" => Limit::AtLeast(value * if r[3] == "in" { 25.4 } else { 1.0 }),
            "diameters" => Limit::Diameters(value),
            "thicknesses" => Limit::Thicknesses(value),
            other => panic!("{other} is no kind of limit"),
        };
        assert_eq!(rule.limit, printed, "{}", r[0]);
        let standing = match rule.source.standing {
            Standing::Published => "published",
            Standing::Quoted => "quoted",
            Standing::Practice => "practice",
            Standing::Memory => "memory",
            Standing::Nature => "nature",
        };
        assert_eq!(standing, r[4], "{}", r[0]);
    }
}

#[test]
fn every_rule_says_where_its_limit_comes_from() {
    for rule in RULES {
        let titled = !rule.source.title.is_empty();
        match rule.source.standing {
            Standing::Published | Standing::Quoted | Standing::Memory => assert!(titled, "{}", rule.id),
            Standing::Practice | Standing::Nature => assert!(!titled, "{}", rule.id),
        }
    }
}
