//! Traps in cutting files, each with its message word for word: an open contour, doubled lines, what is not to
//! be cut on a cut layer, a missing unit, and a dial's own screws, which must not alarm.

use super::*;

/// A square of 40 mm as loose straights whose last one ends `gap` short.
fn square(gap: f64) -> String {
    line((20.0, 20.0), (60.0, 20.0))
        + &line((60.0, 20.0), (60.0, 60.0))
        + &line((60.0, 60.0), (20.0, 60.0))
        + &line((20.0, 60.0), (20.0, 20.0 + gap))
}

#[test]
fn an_open_contour_names_its_gap_and_the_choice() {
    let file = dxf(&(plate(100.0, 80.0) + &square(0.08)));
    let r = check(&file, &waterjet());
    assert_eq!(
        told(&r),
        ["fail closed: Gap of 0.08 mm at (20, 20.04); not joined, your choice: --join 0.08 joins it."]
    );
    assert_eq!((r.facts.contours, r.facts.open), (1, 1));
    let joined = Options { join: Some(0.1), ..waterjet() };
    let r = check(&file, &joined);
    let says: Vec<&str> =
        r.findings.iter().filter(|f| f.rule.id == "closed").map(|f| f.says.as_str()).collect();
    assert_eq!(
        says,
        [
            "Gap of 0.08 mm at (20, 20.04); joined, your choice: --join 0.1 (the machine's program must join it too).",
            "All 2 contours are closed."
        ]
    );
    assert_eq!((r.facts.contours, r.facts.open, r.facts.inner), (2, 0, 1));
}

#[test]
fn rounding_of_four_decimals_of_an_inch_is_no_gap() {
    let r = check(&dxf(&(plate(100.0, 80.0) + &square(0.0025))), &waterjet());
    assert_eq!((r.facts.contours, r.facts.open), (2, 0), "{:?}", told(&r));
}

#[test]
fn a_missing_line_is_told_with_both_ends() {
    let three = line((20.0, 20.0), (60.0, 20.0))
        + &line((60.0, 20.0), (60.0, 60.0))
        + &line((60.0, 60.0), (20.0, 60.0));
    let r = check(&dxf(&(plate(100.0, 80.0) + &three)), &waterjet());
    assert_eq!(
        told(&r),
        [
            "fail closed: Gap of 40 mm from (20, 20) to (20, 60); not joined: a line is missing or one is too many."
        ]
    );
}

#[test]
fn a_doubled_circle_is_cut_twice() {
    let twice = plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0) + &circle(30.0, 40.0, 5.0);
    let r = check(&dxf(&twice), &waterjet());
    assert_eq!(told(&r), ["fail single: 2 identical circles at (30, 40): machine cuts twice."]);
    assert_eq!((r.facts.contours, r.facts.pierces), (2, 3));
    let thrice = twice + &circle(30.0, 40.0, 5.0);
    assert_eq!(
        told(&check(&dxf(&thrice), &waterjet())),
        ["fail single: 3 identical circles at (30, 40): machine cuts 3 times."]
    );
}

#[test]
fn a_doubled_contour_is_found_whatever_its_way_round_and_start() {
    let there = polygon(&[(20.0, 20.0), (60.0, 20.0), (60.0, 50.0)]);
    let back = polygon(&[(60.0, 50.0), (60.0, 20.0), (20.0, 20.0)]);
    let loose = line((60.0, 50.0), (20.0, 20.0))
        + &line((20.0, 20.0), (60.0, 20.0))
        + &line((60.0, 50.0), (60.0, 20.0));
    for other in [back, loose] {
        let options = Options { tool: Some(0.0), ..waterjet() };
        let r = check(&dxf(&(plate(100.0, 80.0) + &there + &other)), &options);
        assert_eq!(told(&r), ["fail single: 2 identical contours at (40, 35): machine cuts twice."]);
    }
    // every straight of it twice
    let r = check(
        &dxf(&(plate(100.0, 80.0) + &square(0.0) + &square(0.0))),
        &Options { tool: Some(0.0), ..waterjet() },
    );
    assert_eq!(told(&r), ["fail single: 2 identical contours at (40, 40): machine cuts twice."]);
}

#[test]
fn lines_that_lie_on_each_other_are_told_with_the_stretch() {
    let file = dxf(&(plate(100.0, 80.0)
        + &polygon(&[(20.0, 20.0), (40.0, 20.0), (40.0, 40.0), (20.0, 40.0)])
        + &polygon(&[(40.0, 30.0), (60.0, 30.0), (60.0, 60.0), (40.0, 60.0)])));
    let r = check(&file, &Options { tool: Some(0.0), web: Some(0.0), ..waterjet() });
    assert_eq!(
        told(&r),
        [
            "fail single: Overlap of 10 mm from (40, 30) to (40, 40): machine cuts twice (LWPOLYLINE at line 76; LWPOLYLINE \
             at line 100)."
        ]
    );
}

#[test]
fn what_is_no_contour_on_a_cut_layer_is_listed() {
    let extra = "0\nTEXT\n5\n2F\n8\nCUT\n10\n5\n20\n5\n40\n3\n1\nLEFT\n".to_owned()
        + "0\nDIMENSION\n5\n30\n8\nCUT\n10\n5\n20\n9\n"
        + "0\nPOINT\n8\nCUT\n10\n300\n20\n100\n"
        + &line((296.0, 100.0), (304.0, 100.0))
        + &line((300.0, 96.0), (300.0, 104.0));
    let file = dxf(&(plate(610.0, 235.0) + &circle(300.0, 100.0, 40.0) + &extra));
    assert_eq!(
        told(&check(&file, &waterjet())),
        [
            "fail only-contours: On the cut layers: 1 x DIMENSION (dimension), 2 x LINE (centre mark), 1 x POINT (point), \
             1 x TEXT (text). TEXT at line 86 (handle 2F); DIMENSION at line 100 (handle 30); POINT at line 110; LINE at \
             line 118; LINE at line 130. Listed entities would be cut; size read as 610 x 235 mm = 24.02 x 9.25 in."
        ]
    );
}

#[test]
fn a_spline_on_a_cut_layer_is_listed_and_withheld() {
    let spline =
        "0\nSPLINE\n8\nCUT\n70\n8\n71\n3\n10\n50\n20\n50\n10\n60\n20\n80\n10\n70\n20\n20\n10\n80\n20\n50\n";
    let closing = line((80.0, 50.0), (50.0, 50.0));
    let r = check(&dxf(&(plate(610.0, 235.0) + spline + &closing)), &waterjet());
    assert_eq!(
        told(&r),
        [
            "fail only-contours: On the cut layers: 1 x SPLINE (curve or entity not read). SPLINE at line 76. Listed entities \
             would be cut; size read as 610 x 235 mm = 24.02 x 9.25 in.",
            "withheld all-read: Not read by this version, so not measured: 1 x SPLINE: a curve that is no circular arc. SPLINE \
             at line 76. Ask for lines and arcs, or look at them yourself."
        ]
    );
}

#[test]
fn a_missing_unit_is_told_with_the_size_both_ways() {
    let file = dxf_with("", &plate(610.0, 235.0));
    assert_eq!(
        told(&check(&file, &waterjet())),
        [
            "withheld unit: No unit in the file (no $INSUNITS): size read as 610 x 235 mm = 24.02 x 9.25 in. In inches it would \
             be 15494 x 5969 mm = 610 x 235 in. Measure one known length, then say --unit mm or --unit in."
        ]
    );
    // the user's word settles it
    let options = ReadOptions { unit_mm: Some(25.4) };
    let inch = import::read("file", dxf_with("", &plate(24.0, 9.25)).as_bytes(), &options).unwrap();
    let r = cut::check(&inch, &waterjet()).unwrap();
    assert_eq!(told(&r), Vec::<String>::new());
    let size = r.facts.bounds.unwrap();
    assert!((size.width() - 609.6).abs() < 1e-9 && (size.height() - 234.95).abs() < 1e-9);
}

/// A dial of 3 1/8 in: hole 79.4 mm, four screws of 4.4 mm on a circle of 88.9 mm (3 1/2 in), whose bridges to the
/// hole are 2.55 mm: as its maker drew them.
#[test]
fn a_dials_own_screws_do_not_alarm_and_a_neighbours_hole_does() {
    let mut dial = plate(200.0, 130.0) + &circle(65.0, 65.0, 39.7);
    for (sx, sy) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)] {
        let d = 44.45 * std::f64::consts::FRAC_1_SQRT_2;
        dial += &circle(65.0 + sx * d, 65.0 + sy * d, 2.2);
    }
    let r = check(&dxf(&dial), &waterjet());
    assert_eq!(told(&r), Vec::<String>::new());
    let web = r.findings.iter().find(|f| f.rule.id == "web").unwrap();
    assert!(
        web.says.ends_with(
            "asked 2 mm; between neighbours 6.35 mm (0.25 in) is published; an instrument's own screws may stand nearer to \
             its own hole, as its maker drew them."
        ),
        "{}",
        web.says
    );
    assert!((web.measured.unwrap() - 2.55).abs() < 1e-9);
    let near = dial + &circle(65.0 + 39.7 + 1.5 + 10.0, 65.0, 10.0);
    assert_eq!(
        told(&check(&dxf(&near), &waterjet())),
        [
            "fail web: 1 bridge of metal is thinner than asked; the least is 1.5 mm wide, between (104.7, 65) and (106.2, 65), \
          asked 2 mm."
        ]
    );
}
