//! Ugly DXF files: each ends in the right panel or in the right question.

use super::make::{circle, file, line, loose, mm, poly, poly_on, rect, round};
use super::*;
use Expect::{Asks, Panel as Is, Refused};

fn blocks(body: &str) -> String {
    format!("0\nSECTION\n2\nBLOCKS\n{body}0\nENDSEC\n")
}

fn block(name: &str, body: &str) -> String {
    format!("0\nBLOCK\n2\n{name}\n10\n0\n20\n0\n70\n0\n{body}0\nENDBLK\n")
}

fn spline(flags: i64, degree: usize, knots: &[f64], points: &[(f64, f64)], weights: &[f64]) -> String {
    let mut s = format!("0\nSPLINE\n8\n0\n70\n{flags}\n71\n{degree}\n");
    knots.iter().for_each(|k| s += &format!("40\n{k}\n"));
    weights.iter().for_each(|k| s += &format!("41\n{k}\n"));
    points.iter().for_each(|(x, y)| s += &format!("10\n{x}\n20\n{y}\n"));
    s
}

/// The full circle of nine points and weights.
fn spline_circle(x: f64, y: f64, r: f64) -> String {
    let ring = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)];
    let points: Vec<(f64, f64)> =
        ring.iter().map(|(a, b)| (x + r * f64::from(*a), y + r * f64::from(*b))).collect();
    let weights: Vec<f64> = (0..9).map(|k| if k % 2 == 1 { 0.5f64.sqrt() } else { 1.0 }).collect();
    spline(4, 2, &[0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0], &points, &weights)
}

fn plate() -> String {
    rect(0.0, 0.0, 400.0, 150.0)
}

fn hole() -> String {
    circle(80.0, 75.0, 39.6875)
}

const SIZE: [f64; 2] = [400.0, 150.0];

fn corners() -> [(f64, f64); 4] {
    [(0.0, 0.0), (400.0, 0.0), (400.0, 150.0), (0.0, 150.0)]
}

/// The plate in loose straights, the last of which ends short by a gap.
fn gaping(gap: f64) -> String {
    line(0.0, 0.0, 400.0, 0.0)
        + &line(400.0, 0.0, 400.0, 150.0)
        + &line(400.0, 150.0, 0.0, 150.0)
        + &line(0.0, 150.0, 0.0, gap)
}

#[test]
fn lines_that_should_be_contours() {
    let with_hole = |body: String| mm(&(body + &hole()));
    let slot = |gap: f64| {
        line(200.0, 50.0, 240.0, 50.0)
            + &line(240.0, 50.0, 240.0, 80.0)
            + &line(240.0, 80.0, 200.0, 80.0)
            + &line(200.0, 80.0, 200.0, 50.0 + gap)
    };
    let split = |n: u32| -> String {
        let c = corners();
        let at = |k: u32| {
            let (side, t) = ((k / n) as usize, f64::from(k % n) / f64::from(n));
            let (a, b) = (c[side % 4], c[(side + 1) % 4]);
            (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t)
        };
        (0..4 * n).map(|k| line(at(k).0, at(k).1, at(k + 1).0, at(k + 1).1)).collect()
    };
    let shuffled: String = {
        let mut parts: Vec<String> = (0..4)
            .map(|k| {
                let (a, b) = (corners()[k], corners()[(k + 1) % 4]);
                if k % 2 == 0 { line(a.0, a.1, b.0, b.1) } else { line(b.0, b.1, a.0, a.1) }
            })
            .collect();
        parts.swap(0, 2);
        parts.concat()
    };
    run(&[
        Case::new("plain", with_hole(plate()), Is(SIZE, 1, &[])),
        Case::new("loose straights", with_hole(loose(&corners())), Is(SIZE, 1, &[])),
        Case::new("loose straights in any order and way", with_hole(shuffled), Is(SIZE, 1, &[])),
        Case::new("outline open by 0.08 mm", with_hole(gaping(0.08)), Asks("open-outline")),
        Case::new("the same with nothing else", mm(&gaping(0.08)), Asks("no-outline")),
        Case::new("the same joined", with_hole(gaping(0.08)), Is(SIZE, 1, &["joined"]))
            .with(|o| o.join = 0.1),
        Case::new("open by rounding", with_hole(gaping(0.004)), Is(SIZE, 1, &[])),
        Case::new("an opening open by 0.08 mm", mm(&(plate() + &slot(0.08))), Is(SIZE, 0, &["open"])),
        Case::new("the same opening joined", mm(&(plate() + &slot(0.08))), Is(SIZE, 1, &["joined"]))
            .with(|o| o.join = 0.1),
        Case::new(
            "a stray straight",
            mm(&(plate() + &hole() + &line(250.0, 40.0, 300.0, 60.0))),
            Is(SIZE, 1, &["open"]),
        ),
        Case::new("a circle twice", mm(&(plate() + &hole() + &hole())), Is(SIZE, 1, &["doubled"])),
        Case::new(
            "an outline twice, once loose",
            with_hole(plate() + &loose(&corners())),
            Is(SIZE, 1, &["doubled"]),
        ),
        Case::new(
            "one straight of it twice",
            with_hole(loose(&corners()) + &line(0.0, 0.0, 400.0, 0.0)),
            Is(SIZE, 1, &["doubled-lines"]),
        ),
        Case::new(
            "pieces without length",
            mm(&(plate() + &hole() + &line(50.0, 50.0, 50.0, 50.0))),
            Is(SIZE, 1, &["no-length"]),
        ),
        Case::new(
            "a polyline of one corner",
            mm(&(plate() + &hole() + &poly(&[(9.0, 9.0)]))),
            Is(SIZE, 1, &["no-length"]),
        ),
        Case::new(
            "a closed polyline that repeats its first corner",
            mm(&(hole() + &poly(&[(0.0, 0.0), (400.0, 0.0), (400.0, 150.0), (0.0, 150.0), (0.0, 0.0)]))),
            Is(SIZE, 1, &[]),
        ),
        Case::new(
            "a corner twice",
            mm(&(hole() + &poly(&[(0.0, 0.0), (400.0, 0.0), (400.0, 0.0), (400.0, 150.0), (0.0, 150.0)]))),
            Is(SIZE, 1, &[]),
        ),
        Case::new("straights in 4000 tiny lines", with_hole(split(1000)), Is(SIZE, 1, &["one-line"])),
        Case::new(
            "a circle in 5000 tiny lines",
            mm(&(plate() + &loose(&round(80.0, 75.0, 40.0, 5000)))),
            Is(SIZE, 1, &["circles"]),
        ),
        Case::new(
            "a circle of 24 chords stays one",
            mm(&(plate() + &poly(&round(80.0, 75.0, 40.0, 24)))),
            Is(SIZE, 1, &[]),
        ),
        Case::new(
            "a bow tie",
            mm(&(plate() + &hole() + &poly(&[(200.0, 20.0), (260.0, 80.0), (260.0, 20.0), (200.0, 80.0)]))),
            Is(SIZE, 1, &["crosses-itself"]),
        ),
        Case::new(
            "there and back",
            mm(&(plate() + &hole() + &poly(&[(200.0, 20.0), (260.0, 20.0)]))),
            Is(SIZE, 1, &["no-contour"]),
        ),
    ]);
}

#[test]
fn curves_bulges_and_blocks() {
    let in_plate = |body: String| mm(&(plate() + &body));
    let two = "0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n10\n60\n20\n75\n42\n1\n10\n100\n20\n75\n42\n1\n";
    let nearly = "0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n10\n80\n20\n75\n42\n400\n10\n80.2\n20\n75\n42\n0\n";
    let old = "0\nPOLYLINE\n8\n0\n66\n1\n70\n1\n0\nVERTEX\n8\n0\n10\n60\n20\n60\n42\n0.4\n0\nVERTEX\n8\n0\n10\n90\n20\n60\n0\nVERTEX\n8\n0\n10\n90\n20\n80\n0\nSEQEND\n";
    let half = "0\nELLIPSE\n8\n0\n10\n100\n20\n75\n11\n30\n21\n0\n40\n0.5\n41\n0\n42\n3.141592653589793\n";
    let whole = "0\nELLIPSE\n8\n0\n10\n100\n20\n75\n11\n30\n21\n10\n40\n0.5\n41\n0\n42\n6.283185307179586\n";
    let even = "0\nELLIPSE\n8\n0\n10\n100\n20\n75\n11\n30\n21\n0\n40\n1\n41\n0\n42\n6.283185307179586\n";
    let free = spline(
        0,
        3,
        &[0.0, 0.0, 0.0, 0.0, 1.0, 2.0, 2.0, 2.0, 2.0],
        &[(60.0, 60.0), (70.0, 110.0), (110.0, 100.0), (130.0, 40.0), (60.0, 60.0)],
        &[],
    );
    // a spline with knots that do not pile up at its ends: it starts and ends between its points
    let ring: Vec<(f64, f64)> = round(100.0, 75.0, 30.0, 8).into_iter().cycle().take(11).collect();
    let smooth = spline(3, 3, &(0..15).map(f64::from).collect::<Vec<_>>(), &ring, &[]);
    let fitted = "0\nSPLINE\n8\n0\n70\n1\n71\n3\n74\n3\n11\n60\n21\n60\n11\n90\n21\n90\n11\n120\n21\n60\n";
    let broken = spline(0, 3, &[0.0, 1.0], &[(60.0, 60.0), (70.0, 110.0), (60.0, 60.0)], &[]);
    let minus = spline(
        0,
        2,
        &[0.0, 0.0, 0.0, 1.0, 1.0, 1.0],
        &[(60.0, 60.0), (70.0, 110.0), (60.0, 60.0)],
        &[1.0, -2.0, 1.0],
    );
    let d = poly(&[(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (10.0, 20.0)]);
    let insert = |name: &str, rest: &str| format!("0\nINSERT\n8\n0\n2\n{name}\n10\n200\n20\n70\n{rest}");
    let whole_file = |b: &str, body: &str| file(Some(4), &blocks(b), &(plate() + &hole() + body));
    let nested = block("A", &(d.clone() + &circle(-20.0, 0.0, 4.0)))
        + &block("B", "0\nINSERT\n8\n0\n2\nA\n10\n30\n20\n0\n50\n30\n41\n0.5\n42\n0.5\n")
        + &block("C", "0\nINSERT\n8\n0\n2\nB\n10\n5\n20\n0\n50\n15\n");
    run(&[
        Case::new("a full circle in two bulges", in_plate(two.into()), Is(SIZE, 1, &[])),
        Case::new("a bulge of nearly a full circle", in_plate(nearly.into()), Is(SIZE, 1, &[])),
        Case::new("the old polyline with a bulge", in_plate(old.into()), Is(SIZE, 1, &[])),
        Case::new(
            "a spline with weights that is a circle",
            in_plate(spline_circle(80.0, 75.0, 40.0)),
            Is(SIZE, 1, &[]),
        ),
        Case::new("a free spline", in_plate(free), Is(SIZE, 1, &["curves"])),
        Case::new(
            "a spline without knots at its ends",
            in_plate(smooth),
            Is(SIZE, 1, &["curves", "circles"]),
        ),
        Case::new(
            "a spline by fit points alone",
            mm(&(plate() + &hole() + fitted)),
            Is(SIZE, 1, &["not-read"]),
        ),
        Case::new(
            "a spline with too few knots",
            mm(&(plate() + &hole() + &broken)),
            Is(SIZE, 1, &["not-read"]),
        ),
        Case::new(
            "a spline with a weight below zero",
            mm(&(plate() + &hole() + &minus)),
            Is(SIZE, 1, &["not-read"]),
        ),
        Case::new("an ellipse", in_plate(whole.into()), Is(SIZE, 1, &["curves"])),
        Case::new("an ellipse that is a circle", in_plate(even.into()), Is(SIZE, 1, &[])),
        Case::new(
            "half an ellipse and a straight",
            in_plate(half.to_owned() + &line(70.0, 75.0, 130.0, 75.0)),
            Is(SIZE, 1, &["curves"]),
        ),
        Case::new(
            "a mirrored insert",
            whole_file(&block("A", &d), &insert("A", "41\n-1\n")),
            Is(SIZE, 2, &[]),
        ),
        Case::new(
            "a mirrored, turned, scaled insert",
            whole_file(&block("A", &d), &insert("A", "41\n-1.5\n42\n1.5\n50\n33\n")),
            Is(SIZE, 2, &[]),
        ),
        Case::new(
            "an insert scaled unevenly",
            whole_file(&block("A", &circle(0.0, 0.0, 10.0)), &insert("A", "41\n2\n42\n1\n")),
            Is(SIZE, 2, &["curves"]),
        ),
        Case::new(
            "an insert back to even by another",
            whole_file(
                &(block("A", &circle(0.0, 0.0, 10.0))
                    + &block("B", "0\nINSERT\n8\n0\n2\nA\n10\n0\n20\n0\n41\n2\n42\n1\n")),
                &insert("B", "41\n1\n42\n2\n"),
            ),
            Is(SIZE, 2, &[]),
        ),
        Case::new("nested inserts", whole_file(&nested, &insert("C", "")), Is(SIZE, 3, &[])),
        Case::new(
            "an array of inserts",
            whole_file(&block("A", &circle(0.0, 0.0, 5.0)), &insert("A", "70\n4\n71\n3\n44\n20\n45\n20\n")),
            Is(SIZE, 13, &[]),
        ),
        Case::new("an insert of nothing", whole_file("", &insert("X", "")), Is(SIZE, 1, &["not-read"])),
        Case::new(
            "a block inside itself",
            whole_file(&block("A", "0\nINSERT\n8\n0\n2\nA\n10\n1\n20\n0\n"), &insert("A", "")),
            Is(SIZE, 1, &["not-read"]),
        ),
        Case::new(
            "drawn from behind",
            in_plate("0\nCIRCLE\n8\n0\n10\n-80\n20\n75\n40\n20\n210\n0\n220\n0\n230\n-1\n".into()),
            Is(SIZE, 1, &[]),
        ),
        Case::new(
            "in a tilted plane",
            mm(&(plate() + &hole() + "0\nCIRCLE\n8\n0\n10\n80\n20\n75\n40\n20\n210\n1\n220\n0\n230\n0\n")),
            Is(SIZE, 1, &["not-read"]),
        ),
    ]);
}

#[test]
fn units_and_sizes() {
    let at = |unit: Option<i64>, k: f64| {
        file(
            unit,
            "",
            &(rect(0.0, 0.0, 400.0 * k, 150.0 * k)
                + &circle(80.0 * k, 75.0 * k, 39.6875 * k)
                + &circle(20.0 * k, 20.0 * k, 2.0 * k)),
        )
    };
    let comment = at(None, 1.0).replacen("0\nSECTION", "999\nunit: mm\n0\nSECTION", 1);
    run(&[
        Case::new("no unit", at(None, 1.0), Asks("unit")),
        Case::new("a unit by the user", at(None, 1.0), Is(SIZE, 2, &[])).unit(1.0),
        Case::new("no unit, in inches", at(None, 1.0 / 25.4), Asks("unit")),
        Case::new("inches by the user", at(None, 1.0 / 25.4), Is(SIZE, 2, &[])).unit(25.4),
        Case::new("25.4 times too big", at(Some(1), 1.0), Asks("size")),
        Case::new("25.4 times too big, put right", at(Some(1), 1.0), Is(SIZE, 2, &[])).unit(1.0),
        Case::new("25.4 times too small", at(Some(4), 1.0 / 25.4), Asks("size")),
        Case::new("inches", at(Some(1), 1.0 / 25.4), Is(SIZE, 2, &[])),
        Case::new("centimetres", at(Some(5), 0.1), Is(SIZE, 2, &[])),
        Case::new("metres", at(Some(6), 0.001), Is(SIZE, 2, &[])),
        Case::new("a unit that no sheet is drawn in", at(Some(7), 1.0), Asks("unit")),
        Case::new("a unit in a comment", comment, Is(SIZE, 2, &[])),
        Case::new(
            "huge coordinates",
            mm(&(rect(3e6, -2e6, 400.0, 150.0) + &circle(3e6 + 80.0, -2e6 + 75.0, 39.6875))),
            Is(SIZE, 1, &[]),
        ),
        Case::new("out of reach", mm(&(plate() + &circle(1e9, 0.0, 5.0))), Refused("out-of-reach")),
    ]);
}

#[test]
fn what_lies_where() {
    let in_plate = |body: String| mm(&(plate() + &hole() + &body));
    let framed = rect(-50.0, -50.0, 600.0, 300.0)
        + &poly_on("PANEL", &corners())
        + &hole()
        + &circle(200.0, 75.0, 20.0);
    let layers = poly_on("CUT", &corners())
        + &hole().replace("8\n0\n", "8\nCUT\n")
        + &circle(200.0, 75.0, 20.0).replace("8\n0\n", "8\nNOTES\n");
    let text = "0\nTEXT\n8\n0\n10\n20\n20\n20\n40\n5\n1\nCUT THIS\n";
    let paper = circle(200.0, 75.0, 20.0).replace("8\n0\n", "8\n0\n67\n1\n");
    run(&[
        Case::new("text on the layer", in_plate(text.into()), Is(SIZE, 1, &["marks"])),
        Case::new(
            "dimensions and hatches",
            in_plate(
                "0\nDIMENSION\n8\n0\n10\n5\n20\n5\n0\nHATCH\n8\n0\n0\nPOINT\n8\n0\n10\n1\n20\n1\n".into(),
            ),
            Is(SIZE, 1, &["marks", "marks", "marks"]),
        ),
        Case::new("a solid", in_plate("0\n3DSOLID\n8\n0\n".into()), Is(SIZE, 1, &["not-read"])),
        Case::new("in paper space", in_plate(paper), Is(SIZE, 1, &["hidden"])),
        Case::new(
            "an opening across the edge",
            in_plate(circle(400.0, 75.0, 20.0)),
            Is(SIZE, 1, &["crosses-outline"]),
        ),
        Case::new(
            "an opening that touches the edge",
            in_plate(circle(380.0, 75.0, 20.0)),
            Is(SIZE, 1, &["crosses-outline"]),
        ),
        Case::new(
            "an opening that shares an edge",
            in_plate(rect(300.0, 0.0, 20.0, 20.0)),
            Is(SIZE, 1, &["crosses-outline"]),
        ),
        Case::new(
            "two sheets",
            in_plate(rect(500.0, 0.0, 300.0, 100.0) + &circle(600.0, 50.0, 20.0)),
            Asks("several-outlines"),
        ),
        Case::new("a frame", mm(&framed), Asks("frame")),
        Case::new(
            "a frame left out",
            mm(&framed.replace("CIRCLE\n8\n0", "CIRCLE\n8\nPANEL")),
            Is(SIZE, 2, &[]),
        )
        .with(|o| o.layers = vec!["panel".into()]),
        Case::new("an island", in_plate(circle(80.0, 75.0, 10.0)), Is(SIZE, 1, &["within-an-opening"])),
        Case::new("a part beside the sheet", in_plate(circle(500.0, 75.0, 10.0)), Is(SIZE, 1, &["outside"])),
        Case::new(
            "openings that cross",
            in_plate(circle(110.0, 75.0, 25.0)),
            Is(SIZE, 2, &["openings-cross"]),
        ),
        Case::new("openings alone", mm(&(hole() + &circle(200.0, 75.0, 20.0))), Asks("no-outline")),
        Case::new("nothing", mm(""), Asks("no-outline")),
        Case::new("only the layer that says cut", mm(&layers), Is(SIZE, 1, &[])),
        Case::new("a layer that is not there", mm(&layers), Refused("unknown-layer"))
            .with(|o| o.layers = vec!["CUTS".into()]),
        Case::new("a proposal that is not there", mm(&layers), Refused("unknown-proposal"))
            .with(|o| o.accept = vec!["p9".into()]),
    ]);
}

#[test]
fn files_that_are_none() {
    let good = mm(&(plate() + &hole()));
    let cut = |n: usize| good.get(..n).unwrap().as_bytes().to_vec();
    let without_end = good.replace("0\nEOF\n", "");
    run(&[
        Case::new("empty", Vec::new(), Refused("unknown-format")),
        Case::new(
            "binary junk",
            (0..4000u32).map(|k| (k * 197 % 251) as u8).collect::<Vec<u8>>(),
            Refused("unknown-format"),
        ),
        Case::new("a program's own format", b"AC1027\0\0\0\0".to_vec(), Refused("unknown-format")),
        Case::new("binary DXF", b"AutoCAD Binary DXF\r\n\x1a\0".to_vec(), Refused("unknown-format")),
        Case::new("a PDF", b"%PDF-1.7\n".to_vec(), Refused("unknown-format")),
        Case::new("in UTF-16", vec![0xFF, 0xFE, b'0', 0, b'\n', 0], Refused("unknown-format")),
        Case::new("packed", vec![0x1F, 0x8B, 8, 0], Refused("unknown-format")),
        Case::new("prose", "Please find the panel attached.", Refused("unknown-format")),
        Case::new("cut short in an entity", cut(good.len() - 40), Refused("cut-short")),
        Case::new("cut short in the header", cut(40), Refused("cut-short")),
        Case::new("cut short before EOF", without_end, Is(SIZE, 1, &["not-read"])),
        Case::new("a decimal comma", mm(&plate()).replace("400", "400,5"), Refused("bad-number")),
        Case::new("no number", mm(&plate()).replace("400", "NaN"), Refused("bad-number")),
        Case::new("a radius of zero", mm(&(plate() + &circle(1.0, 1.0, 0.0))), Refused("bad-radius")),
    ]);
}
