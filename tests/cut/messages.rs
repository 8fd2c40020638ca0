//! The other questions, each with its words; layers, options, exit codes, JSON.

use super::*;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

#[test]
fn a_clean_file_passes_every_question() {
    let r = check(&dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0))), &waterjet());
    let ids: Vec<&str> = r.findings.iter().map(|f| f.rule.id).collect();
    for id in [
        "cut-layers",
        "unit",
        "all-read",
        "notice",
        "nesting",
        "closed",
        "single",
        "crossing",
        "strays",
        "only-contours",
        "least-hole",
        "web",
        "corner-radius",
        "true-arcs",
        "size",
        "flat",
    ] {
        // a sheet with rounded corners alone has no inside corner
        assert!(id == "corner-radius" || ids.contains(&id), "{id} is not asked: {ids:?}");
    }
    assert_eq!(told(&r), Vec::<String>::new());
    let f = &r.facts;
    assert_eq!((f.contours, f.outer, f.inner, f.levels, f.open, f.pierces), (2, 1, 1, 2, 0, 2));
    // closed forms: a rectangle less four corners of 3 mm, less the hole
    let pi = std::f64::consts::PI;
    assert!((f.metal.unwrap() - (8000.0 - (4.0 - pi) * 9.0 - 25.0 * pi)).abs() < 1e-9);
    assert!((f.cut_length - (2.0 * (94.0 + 74.0) + 6.0 * pi + 10.0 * pi)).abs() < 1e-9);
    assert_eq!((f.least_hole.unwrap().0, f.least_web.unwrap().0), (10.0, 25.0));
}

#[test]
fn strays_and_pieces_without_length() {
    let stray = line((10.0, 10.0), (25.0, 10.0)) + &line((50.0, 50.0), (50.0, 50.0));
    assert_eq!(
        told(&check(&dxf(&(plate(100.0, 80.0) + &stray)), &waterjet())),
        [
            "fail strays: Stray straight of 15 mm from (10, 10) to (25, 10): it belongs to no contour (LINE at line 76).",
            "fail strays: LINE at line 88 has no length, at (50, 50): the machine would pierce there."
        ]
    );
}

#[test]
fn contours_that_cross_themselves_or_each_other() {
    let bow = polygon(&[(20.0, 20.0), (60.0, 60.0), (60.0, 20.0), (20.0, 60.0)]);
    let options = Options { tool: Some(0.0), web: Some(0.0), ..waterjet() };
    assert_eq!(
        told(&check(&dxf(&(plate(100.0, 80.0) + &bow)), &options)),
        ["fail crossing: The contour crosses or touches itself at (40, 40) (LWPOLYLINE at line 76)."]
    );
    let two = circle(30.0, 40.0, 5.0) + &circle(38.0, 40.0, 3.0);
    assert_eq!(
        told(&check(&dxf(&(plate(100.0, 80.0) + &two)), &options)),
        ["fail crossing: Two contours cross or touch at (35, 40) (CIRCLE at line 76; CIRCLE at line 86)."]
    );
}

#[test]
fn holes_below_what_the_process_asks() {
    let file = dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 0.75) + &circle(60.0, 40.0, 1.1)));
    assert_eq!(
        told(&check(&file, &waterjet())),
        [
            "fail least-hole: 1 opening is narrower than waterjet asks; the least is 1.5 mm wide, at (30, 40), asked 2 mm: mark \
             its centre and drill it instead."
        ]
    );
    let worst = Options { tolerance: 0.15, ..waterjet() };
    let tight = dxf(&(plate(100.0, 80.0) + &circle(60.0, 40.0, 1.1)));
    assert_eq!(
        told(&check(&tight, &worst)),
        [
            "tight least-hole: 1 opening is narrower than waterjet asks at the worst cut; the least is 2.2 mm wide, at (60, 40), \
             asked 2 mm: mark its centre and drill it instead."
        ]
    );
    let plain = Options::default();
    let waits = told(&check(&tight, &plain));
    assert_eq!(waits.len(), 2);
    assert_eq!(
        waits[0],
        "withheld least-hole: The least opening is 2.2 mm wide, at (60, 40). It waits for the process by which it is cut \
         (--process)."
    );
    assert!(waits[1].starts_with("withheld web: The least metal is 38.9 mm wide"), "{waits:?}");
}

#[test]
fn inside_corners_against_the_tool() {
    let file =
        dxf(&(polygon(&[(-50.0, -50.0), (150.0, -50.0), (150.0, 150.0), (-50.0, 150.0)])
            + &plate(60.0, 40.0)));
    let router = |tool: Option<f64>| Options { process: Some(ProcessKind::Router), tool, ..waterjet() };
    assert_eq!(told(&check(&file, &router(Some(6.0)))), Vec::<String>::new(), "equal is pass");
    assert_eq!(
        told(&check(&file, &router(Some(8.0)))),
        [
            "fail corner-radius: The least inside corner has a radius of 3 mm, at (59.121, 0.879); 1 contours have one below the \
             tool's 4 mm: it leaves metal there. Enlarge it, or take a smaller tool."
        ]
    );
    let waits = told(&check(&file, &router(None)));
    assert!(
        waits.iter().all(|w| w.starts_with("withheld") && w.contains("(--tool)")) && waits.len() == 2,
        "{waits:?}"
    );
}

#[test]
fn circles_drawn_as_chords() {
    let ring = |n: u32| -> Vec<(f64, f64)> {
        (0..n)
            .map(|k| {
                let a = f64::from(k) * std::f64::consts::TAU / f64::from(n);
                (50.0 + 30.0 * libm_cos(a), 40.0 + 30.0 * libm_sin(a))
            })
            .collect()
    };
    let r = told(&check(&dxf(&(plate(100.0, 80.0) + &polygon(&ring(24)))), &waterjet()));
    assert_eq!(
        r,
        [
            "fail true-arcs: 1 circle is drawn as chords; the worst has 24 of them at (50, 40) and leaves its circle of 60 mm \
             diameter by 0.26 mm, asked at most 0.1 mm."
        ]
    );
    assert_eq!(
        told(&check(&dxf(&(plate(100.0, 80.0) + &polygon(&ring(180)))), &waterjet())),
        Vec::<String>::new()
    );
}

fn libm_cos(a: f64) -> f64 {
    panelwright::geom::angle::sin_cos(a).1
}

fn libm_sin(a: f64) -> f64 {
    panelwright::geom::angle::sin_cos(a).0
}

#[test]
fn sizes_that_no_panel_has_and_leftovers_far_off() {
    let large = told(&check(&dxf(&plate(15494.0, 5969.0)), &waterjet()));
    assert_eq!(
        large,
        [
            "withheld size: The drawing is 15494 x 5969 mm = 610 x 235 in: larger than any panel. Is the unit right?"
        ]
    );
    let far = plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0) + &circle(900.0, 40.0, 5.0);
    assert_eq!(
        told(&check(&dxf(&far), &waterjet())),
        [
            "withheld nesting: 1 contour lies outside every part that has openings: a part of its own, or an opening that is \
             off its part. The first is at (900, 40). Is it meant?",
            "withheld size: CIRCLE at line 86 at (900, 40) lies 795 mm from everything else, farther than the rest is wide: a \
          leftover?"
        ]
    );
}

#[test]
fn heights_and_turned_over_entities() {
    let high = circle(30.0, 40.0, 5.0).replace("40\n5\n", "30\n12\n40\n5\n");
    assert_eq!(
        told(&check(&dxf(&(plate(100.0, 80.0) + &high)), &waterjet())),
        [
            "fail flat: Entities lie at heights from 0 mm to 12 mm: flatten them to one plane. CIRCLE at line 76."
        ]
    );
    let over = circle(-30.0, 40.0, 5.0) + "210\n0\n220\n0\n230\n-1\n";
    let r = check(&dxf(&(plate(100.0, 80.0) + &over)), &waterjet());
    assert_eq!(r.facts.list[1].bounds.center(), panelwright::geom::Point::new(30.0, 40.0));
    assert!(r.remarks[0].starts_with("1 entities are turned over"), "{:?}", r.remarks);
    let tilted = circle(30.0, 40.0, 5.0) + "210\n1\n220\n0\n230\n0\n";
    let r = told(&check(&dxf(&(plate(100.0, 80.0) + &tilted)), &waterjet()));
    assert!(
        r.iter().any(|t| t.starts_with("withheld all-read") && t.contains("not in the plane of the drawing")),
        "{r:?}"
    );
}

#[test]
fn which_layers_are_cut() {
    let on = |layer: &str, e: String| e.replace("8\nCUT\n", &format!("8\n{layer}\n"));
    let cut = |file: &str, asked: &[&str]| -> Vec<(String, bool)> {
        let o = Options { cut_layers: asked.iter().map(|s| s.to_string()).collect(), ..waterjet() };
        check(file, &o).layers.iter().map(|l| (l.name.clone(), l.cut)).collect()
    };
    let both = dxf(&(on("OUTLINE", plate(100.0, 80.0))
        + &on("Holes", circle(30.0, 40.0, 5.0))
        + &on("Dim", circle(5.0, 5.0, 1.0))));
    let named = |v: &[(&str, bool)]| v.iter().map(|(n, c)| (n.to_string(), *c)).collect::<Vec<_>>();
    assert_eq!(cut(&both, &[]), named(&[("OUTLINE", true), ("Holes", true), ("Dim", false)]));
    assert_eq!(cut(&both, &["holes"]), named(&[("OUTLINE", false), ("Holes", true), ("Dim", false)]));
    let ours = both.replace("Holes", "CUT");
    assert_eq!(cut(&ours, &[]), named(&[("OUTLINE", false), ("CUT", true), ("Dim", false)]));
    let wrong = Options { cut_layers: vec!["Hole".into()], ..waterjet() };
    let e = cut::check(&read(both.as_bytes()), &wrong).unwrap_err();
    assert_eq!(e.to_string(), "file has no layer `Hole` [unknown-layer] (did you mean `Holes`?)");
    let none = dxf(&on("TEXT", plate(100.0, 80.0)));
    assert_eq!(
        told(&check(&none, &waterjet())),
        [
            "withheld cut-layers: Nothing to cut was found. Layers with something on them: TEXT. Name those to be cut with \
          --cut-layers."
        ]
    );
}

#[test]
fn curves_in_svg_are_withheld_and_hidden_things_told() {
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='80mm' viewBox='0 0 100 80'>\
        <rect width='100' height='80' rx='3' stroke='#000' fill='none'/>\
        <path id='p' d='M20 20 C 20 30 40 30 40 20 Z' stroke='#000'/>\
        <g display='none'><circle cx='70' cy='40' r='5' stroke='#000'/></g></svg>";
    let r = check(svg, &waterjet());
    let t = told(&r);
    assert!(
        t.iter().any(|t| t.starts_with("withheld all-read")
            && t.contains("1 x path: a curve that is no circular arc. path at 1:")
            && t.contains("(id p)")),
        "{t:?}"
    );
    assert!(
        r.remarks.iter().any(|m| m.contains("1 entities on the cut layers were left out (display none)")),
        "{:?}",
        r.remarks
    );
    assert_eq!(r.facts.contours, 1);
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_panelwright")).arg("cut-check").args(args).output().unwrap()
}

fn saved(name: &str, text: &str) -> String {
    let folder: PathBuf = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cut-messages");
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join(name);
    std::fs::write(&path, text).unwrap();
    path.to_string_lossy().into_owned()
}

#[test]
fn exit_codes_and_json() {
    let good = saved("good.dxf", &dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0))));
    let bad =
        saved("bad.dxf", &dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0) + &circle(30.0, 40.0, 5.0))));
    let broken = saved("broken.dxf", "0\nSECTION\n2\nENTITIES\n0\nLINE\n");
    let cut = ["--process", "waterjet", "--thickness", "2 mm"];
    let with = |file: &str, more: &[&str]| run(&[&[file], &cut[..], more].concat());
    assert_eq!(with(&good, &[]).status.code(), Some(0));
    assert_eq!(run(&[&good]).status.code(), Some(1), "without a process the least hole is withheld");
    let o = with(&bad, &["--format", "json"]);
    assert_eq!(o.status.code(), Some(1));
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(v["counts"]["fail"], 1);
    assert_eq!(v["facts"]["closed"], 2);
    assert_eq!(v["findings"][0]["rule"], "single");
    assert_eq!(v["findings"][0]["at"][0], serde_json::json!([30.0, 40.0]));
    assert_eq!(v["findings"][0]["spots"][1]["line"], 86);
    assert_eq!(v["unit"]["declared"], "in-file");
    let o = with(&broken, &[]);
    assert_eq!(o.status.code(), Some(2));
    assert!(o.stdout.is_empty() && String::from_utf8_lossy(&o.stderr).contains("cut short"));
    let o = with(&broken, &["--format", "json"]);
    assert_eq!(o.status.code(), Some(2));
    let v: Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(v["problems"][0]["code"], "cut-short");
    let o = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["cut-check", "-"])
        .args(cut)
        .stdin(std::fs::File::open(&good).unwrap())
        .output()
        .unwrap();
    assert_eq!(o.status.code(), Some(0), "{}", String::from_utf8_lossy(&o.stderr));
    let o = run(&[&good, "--join", "a bit"]);
    assert_eq!(o.status.code(), Some(2));
    let text = String::from_utf8(with(&bad, &[]).stdout).unwrap();
    assert!(text.contains("2 identical circles at (30, 40): machine cuts twice."), "{text}");
    assert!(text.contains("by: published, as quoted: Upload guides published by cutting services"), "{text}");
}

#[test]
fn a_file_that_bars_its_own_use_fails_in_its_own_words() {
    let text = "0\nTEXT\n8\nNOTICE\n10\n0\n20\n0\n40\n3\n1\nNOT FOR CUTTING: 4 withheld\n";
    let barred = told(&check(&dxf(&(plate(100.0, 80.0) + text)), &waterjet()));
    assert_eq!(barred.len(), 1, "{barred:?}");
    assert!(
        barred[0]
            .starts_with("fail notice: A text in the file says \"NOT FOR CUTTING: 4 withheld\": do not cut"),
        "{barred:?}"
    );
    for (words, bars) in
        [("not  for\\Pcutting", true), ("DO NOT CUT THIS EDGE", false), ("cutting list", false)]
    {
        let text = text.replace("NOT FOR CUTTING: 4 withheld", words);
        let says = told(&check(&dxf(&(plate(100.0, 80.0) + &text)), &waterjet()));
        assert_eq!(says.iter().any(|s| s.starts_with("fail notice")), bars, "{words}: {says:?}");
    }
}

#[test]
fn a_contour_loose_within_an_opening_is_asked_about() {
    let nested = plate(100.0, 80.0) + &circle(30.0, 40.0, 15.0) + &circle(30.0, 40.0, 5.0);
    let says = told(&check(&dxf(&nested), &waterjet()));
    assert!(
        says.iter().any(|s| s.starts_with("withheld nesting: 1 contour lies inside an opening")),
        "{says:?}"
    );
}

#[test]
fn a_round_hole_below_a_router_s_tool_is_only_drilled() {
    let options = Options { process: Some(ProcessKind::Router), tool: Some(3.0), ..waterjet() };
    let says = told(&check(&dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 0.2))), &options));
    assert!(
        says.iter()
            .any(|s| s
                .starts_with("tight least-hole: 1 round hole is smaller than the tool of 3 mm: a router")),
        "{says:?}"
    );
}
