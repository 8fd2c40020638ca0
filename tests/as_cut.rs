//! A panel as it was cut against its design: deviations known by hand, verdicts at their borders, and the command.

#[path = "support/panels.rs"]
mod panels;

use panels::{Dice, bare, part, subject, term};
use panelwright::as_cut::{AsCut, BOUND, Trouble};
use panelwright::check::Verdict;
use panelwright::geom::distance::{Relation, point_contour};
use panelwright::geom::{Contour, Point, Transform};
use panelwright::panel::{Class, Detail, Panel, State, SubjectKind, TermKind};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A panel of 400 by 200 mm whose sheet was there, with one opening an item, each with so much tolerance a side.
fn panel(class: Class, tolerance: f64, items: &[(&str, Contour)]) -> Panel {
    let mut panel = bare(400.0, 200.0);
    panel.sheets[0].new = false;
    for (id, contour) in items {
        let old = class == Class::OldOpening;
        let kind = if old { SubjectKind::OldOpening } else { SubjectKind::Placement };
        let mut s = subject(id, kind, contour.bounds().center());
        let mut p = part(if old { "" } else { "cutout" }, class, contour.clone(), Detail::Plain);
        p.terms.push(term(TermKind::Cut, 0, tolerance));
        s.parts.push(p);
        panel.subjects.push(s);
    }
    panel
}

fn design(tolerance: f64, items: &[(&str, Contour)]) -> Panel {
    panel(Class::Cutout, tolerance, items)
}

fn measured(doubt: f64, items: &[(&str, Contour)]) -> Panel {
    panel(Class::OldOpening, doubt, items)
}

fn round(x: f64, y: f64, diameter: f64) -> Contour {
    Contour::circle(Point::new(x, y), diameter / 2.0)
}

fn rect(x: f64, y: f64, w: f64, h: f64) -> Contour {
    let (a, b) = (w / 2.0, h / 2.0);
    let p = |dx: f64, dy: f64| Point::new(x + dx, y + dy);
    Contour::polygon(&[p(-a, -b), p(a, -b), p(a, b), p(-a, b)])
}

fn of(design: &Panel, measured: &Panel) -> AsCut {
    AsCut::of(design, measured, false).unwrap()
}

#[test]
fn a_circle_is_off_by_its_centre_and_its_radius() {
    // centre off by (0.3, 0.4), so by 0.5; 0.2 mm larger: outside 0.5 + 0.1, inside 0.5 - 0.1
    let wanted = design(0.55, &[("asi", round(100.0, 100.0, 79.4))]);
    let cut = measured(0.1, &[("asi", round(100.3, 100.4, 79.6))]);
    let told = of(&wanted, &cut);
    let d = &told.list[0];
    assert!((d.off[0] - 0.6).abs() < 1e-9 && (d.off[1] - 0.4).abs() < 1e-9, "{d:?}");
    assert!((d.shift.x - 0.3).abs() < 1e-9 && (d.shift.y - 0.4).abs() < 1e-9);
    assert_eq!(
        (d.allowed, d.doubt, d.id.as_str(), d.measured.as_str()),
        ([0.55; 2], 0.1, "asi.cutout", "asi")
    );
    assert_eq!(d.verdict, Verdict::Fail, "0.6 of 0.55");
    assert!((d.beyond() - 0.05).abs() < 1e-9 && !told.good());
}

#[test]
fn the_doubt_makes_a_pass_tight_and_no_fail_a_pass() {
    let cut = |doubt: f64, off: f64| {
        let told = of(
            &design(0.5, &[("a", round(100.0, 100.0, 57.0))]),
            &measured(doubt, &[("a", round(100.0 + off, 100.0, 57.0))]),
        );
        told.list[0].verdict
    };
    assert_eq!(cut(0.1, 0.4), Verdict::Pass, "0.4 and 0.1 of 0.5");
    assert_eq!(cut(0.11, 0.4), Verdict::Tight);
    assert_eq!(cut(0.0, 0.5), Verdict::Pass);
    assert_eq!(cut(5.0, 0.51), Verdict::Fail, "whatever the doubt");
}

#[test]
fn a_rectangle_is_off_by_each_side_by_itself() {
    // 1 mm longer to the right: outside 1, inside nothing; and one 0.8 mm too short at the top: inside 0.8
    let wanted = design(2.0, &[("a", rect(100.0, 100.0, 60.0, 40.0)), ("b", rect(250.0, 100.0, 60.0, 40.0))]);
    let cut = measured(0.0, &[("a", rect(100.5, 100.0, 61.0, 40.0)), ("b", rect(250.0, 99.6, 60.0, 39.2))]);
    let told = of(&wanted, &cut);
    let of = |id: &str| told.list.iter().find(|d| d.measured == id).unwrap();
    for (id, want) in [("a", [1.0, 0.0]), ("b", [0.0, 0.8])] {
        for (is, want) in of(id).off.iter().zip(want) {
            assert!(*is >= want - 1e-9 && *is <= want + BOUND, "{id}: {is} for {want}");
        }
    }
    // turned by one degree about its middle: a corner (30, 20) comes to y = 30 sin + 20 cos, so 0.520527 above the side
    // (sin and cos of 1 degree: 0.0174524064, 0.9998476952)
    let turned = Transform::place(Point::new(100.0, 100.0), 1.0, false).contour(&rect(0.0, 0.0, 60.0, 40.0));
    let told = self::of(&wanted, &measured(0.0, &[("a", turned)]));
    let want = 30.0 * 0.017_452_406_4 + 20.0 * 0.999_847_695_2 - 20.0;
    let d = told.list.iter().find(|d| d.measured == "a").unwrap();
    assert!(d.off[0] >= want - 1e-6 && d.off[0] <= want + BOUND, "{} for {want}", d.off[0]);
    assert_eq!(told.not_measured, ["b.cutout"]);
}

/// The most that points of one outline, taken densely, lie outside of the other.
fn dense(of: &Contour, other: &Contour) -> f64 {
    let mut most: f64 = 0.0;
    for s in of.segments() {
        for k in 0..=4000 {
            let p = s.at(f64::from(k) / 4000.0);
            let gap = point_contour(p, other);
            if gap.relation != Relation::Inside {
                most = most.max(gap.distance);
            }
        }
    }
    most
}

#[test]
fn shapes_of_all_kinds_agree_with_dense_points_within_the_bound() {
    let mut dice = Dice::new(7);
    for n in 0..40 {
        let a = panels::shape(&mut dice, Point::new(100.0, 100.0), 40.0);
        let lay = Transform::place(
            Point::new(dice.real(-1.0, 1.0), dice.real(-1.0, 1.0)),
            dice.real(-1.0, 1.0),
            false,
        );
        let b = lay.contour(&a);
        let told = of(&design(9.0, &[("a", a.clone())]), &measured(0.0, &[("a", b.clone())]));
        let is = told.list[0].off;
        for (is, want) in is.into_iter().zip([dense(&b, &a), dense(&a, &b)]) {
            assert!(is >= want - 1e-9 && is <= want + 1.5 * BOUND, "{n}: {is} for {want}");
        }
    }
}

#[test]
fn openings_belong_together_by_name_or_by_place_and_each_is_taken_once() {
    let wanted = design(
        1.0,
        &[("a", round(100.0, 100.0, 57.0)), ("b", round(106.0, 100.0, 3.0)), ("c", round(300.0, 100.0, 3.0))],
    );
    // two without a name of the design: the nearest of like size; the third is nobody's
    let cut = measured(
        0.0,
        &[("x", round(105.8, 100.0, 3.2)), ("y", round(100.1, 100.0, 57.1)), ("z", round(250.0, 50.0, 3.0))],
    );
    let told = of(&wanted, &cut);
    let pairs: Vec<(&str, &str)> = told.list.iter().map(|d| (d.id.as_str(), d.measured.as_str())).collect();
    assert!(
        pairs.contains(&("a.cutout", "y")) && pairs.contains(&("b.cutout", "x")) && pairs.len() == 2,
        "{pairs:?}"
    );
    assert_eq!(
        (told.not_measured.as_slice(), told.not_designed.as_slice()),
        (&["c.cutout".to_string()][..], &["z".to_string()][..])
    );
    // a name counts more than the place
    let cut = measured(0.0, &[("c", round(100.0, 100.0, 57.0))]);
    let told = of(&wanted, &cut);
    assert_eq!((told.list[0].id.as_str(), told.list[0].verdict), ("c.cutout", Verdict::Fail));
    // what exists already is not cut anew, and yet known
    let mut old = wanted.clone();
    old.subjects.iter_mut().filter(|s| s.id == "a").for_each(|s| s.state = State::Existing);
    let told = of(&old, &measured(0.0, &[("y", round(100.1, 100.0, 57.1))]));
    assert!(told.list.is_empty() && told.not_designed.is_empty());
    assert_eq!(told.not_measured, ["b.cutout", "c.cutout"]);
}

#[test]
fn laid_over_by_the_openings_a_shift_and_a_turn_of_all_are_gone() {
    let holes = [("a", 50.0, 60.0), ("b", 350.0, 60.0), ("c", 200.0, 150.0), ("d", 90.0, 140.0)];
    let wanted: Vec<_> = holes.iter().map(|(id, x, y)| (*id, round(*x, *y, 57.0))).collect();
    let away = Transform::place(Point::new(3.0, -2.0), 0.7, false);
    let cut: Vec<_> = wanted.iter().map(|(id, c)| (*id, away.contour(c))).collect();
    let (wanted, cut) = (design(0.1, &wanted), measured(0.0, &cut));
    assert!(of(&wanted, &cut).list.iter().all(|d| d.verdict == Verdict::Fail));
    let told = AsCut::of(&wanted, &cut, true).unwrap();
    let fit = told.fit.unwrap();
    assert!((fit.turn + 0.7).abs() < 1e-9 && fit.by == 4, "{fit:?}");
    assert!(told.list.iter().all(|d| d.off[0] < 1e-9 && d.off[1] < 1e-9) && told.good());
    // one opening, or all in one place, cannot be laid over anything
    let one = measured(0.0, &[("a", round(50.0, 60.0, 57.0))]);
    assert_eq!(AsCut::of(&wanted, &one, true), Err(Trouble::TooFew));
}

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_panelwright"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(arguments).output().unwrap()
}

fn written(name: &str, text: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("as-cut-{name}"));
    std::fs::write(&path, text).unwrap();
    path
}

#[test]
fn the_command_tells_what_is_out_what_is_missing_and_by_its_exit_code() {
    let design = written(
        "design.json",
        r#"{ "format": 1, "panel": "Strip", "unit": "mm", "process": { "kind": "waterjet" },
          "sheet": { "material": "6061-T6", "thickness": "2 mm", "outline": { "lines-and-arcs": [[0,0],[300,0],[300,120],[0,120]] } },
          "place": [ { "id": "left", "instrument": "switch/toggle", "at": [100, 60] }, { "id": "right", "instrument": "switch/toggle", "at": [200, 60] } ] }"#,
    );
    let told = serde_json::from_slice::<serde_json::Value>(
        &run(&["as-cut", design.to_str().unwrap(), design.to_str().unwrap(), "--format", "json"]).stdout,
    )
    .unwrap();
    // a panel against itself: nothing is off, and the design's own tolerances are the doubt
    let all = told["deviations"].as_array().unwrap();
    let still = |d: &serde_json::Value| d["outside"] == 0.0 && d["inside"] == 0.0 && d["verdict"] == "pass";
    assert!(all.len() == 2 && all.iter().all(still), "{told:#}");
    let hole = all.iter().find(|d| d["id"].as_str().unwrap().starts_with("left.")).unwrap();
    let size = hole["diameter"][0].as_f64().unwrap();
    let as_cut = |off: f64| {
        let text = format!(
            r#"{{ "format": 1, "panel": "Strip, measured", "unit": "mm", "as-found": true,
              "sheet": {{ "material": "6061-T6", "thickness": "2 mm", "survey": 0.05, "outline": {{ "lines-and-arcs": [[0,0],[300,0],[300,120],[0,120]] }} }},
              "old-openings": [ {{ "id": "left", "shape": {{ "circle": {size} }}, "at": [{}, 60], "survey": 0.05 }} ] }}"#,
            100.0 + off
        );
        written("measured.json", &text)
    };
    let out = run(&["as-cut", design.to_str().unwrap(), as_cut(1.5).to_str().unwrap()]);
    let text = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(1), "{text}");
    assert!(text.contains("fail ") && text.contains("left.") && text.contains("1.50"), "{text}");
    assert!(text.contains("Withheld: nobody measured") && text.contains("right."), "{text}");
    // bad input
    for bad in [vec!["as-cut", "-", "-"], vec!["as-cut", "panels/none.json", "panels/none.json"]] {
        assert_eq!(run(&bad).status.code(), Some(2), "{bad:?}");
    }
    let fit = run(&["as-cut", design.to_str().unwrap(), as_cut(0.0).to_str().unwrap(), "--fit"]);
    let told = String::from_utf8(fit.stderr).unwrap();
    assert!(fit.status.code() == Some(2) && told.contains("fewer than two openings in common"), "{told}");
}
