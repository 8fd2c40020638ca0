//! Trade tables against published values; each data file names its documents.

use panelwright::calc::drill;

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
