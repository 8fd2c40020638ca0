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
