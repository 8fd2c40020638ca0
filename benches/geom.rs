//! How long one question of the geometry core takes.

use divan::{Bencher, black_box};
use panelwright::geom::margin::margin_inside;
use panelwright::geom::penetration::penetration;
use panelwright::geom::{Contour, Corner, Point, Transform, contains, distance, region};

fn main() {
    divan::main();
}

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// Eight pieces: four straights, four arcs.
fn round(x: f64) -> Contour {
    Transform::place(p(x, 3.0), 7.0, false).contour(&Contour::rect(p(0.0, 0.0), 60.0, 40.0, 6.0))
}

/// Eight straights.
fn clipped(x: f64) -> Contour {
    Contour::rect_corners(p(x, 0.0), 60.0, 40.0, [Corner::Clip(9.0, 9.0); 4])
}

/// Distance of two pairs of circles: near, and farther than asked.
#[divan::bench(args = [41.0, 90.0])]
fn circles_within(bencher: Bencher, apart: f64) {
    let (a, b) = (Contour::circle(p(0.0, 0.0), 20.0), Contour::circle(p(apart, 3.0), 20.0));
    bencher.bench_local(|| distance::within(black_box(&a), black_box(&b), 6.0));
}

/// Two rounded rectangles of eight pieces: near, crossing, and farther than asked.
#[divan::bench(args = [64.0, 50.0, 90.0])]
fn rounded_within(bencher: Bencher, apart: f64) {
    let (a, b) = (round(0.0), round(apart));
    bencher.bench_local(|| distance::within(black_box(&a), black_box(&b), 6.0));
}

/// Two clipped rectangles of eight straights, near.
#[divan::bench]
fn clipped_within(bencher: Bencher) {
    let (a, b) = (clipped(0.0), clipped(64.0));
    bencher.bench_local(|| distance::within(black_box(&a), black_box(&b), 6.0));
}

/// A circle beside a rounded rectangle.
#[divan::bench]
fn circle_rounded_within(bencher: Bencher) {
    let (a, b) = (Contour::circle(p(-42.0, 11.0), 10.0), round(0.0));
    bencher.bench_local(|| distance::within(black_box(&a), black_box(&b), 6.0));
}

/// A hole in the sheet: the whole of it.
#[divan::bench]
fn hole_in_sheet(bencher: Bencher) {
    let (sheet, hole) =
        (Contour::rect(p(0.0, 0.0), 900.0, 250.0, 24.0), Contour::circle(p(210.0, 20.0), 39.7));
    bencher.bench_local(|| contains(black_box(&sheet), black_box(&hole)));
}

/// Outlines of a thousand straights each, side by side.
#[divan::bench]
fn thousand_straights(bencher: Bencher) {
    let ring = |x: f64| {
        let n = 1000;
        let turn = std::f64::consts::TAU / f64::from(n);
        let points: Vec<Point> = (0..n)
            .map(|k| {
                p(x, 0.0)
                    + panelwright::geom::angle::unit(turn * f64::from(k))
                        * if k % 2 == 0 { 50.0 } else { 49.0 }
            })
            .collect();
        Contour::polygon(&points)
    };
    let (a, b) = (ring(0.0), ring(104.0));
    bencher.bench_local(|| distance::contours(black_box(&a), black_box(&b)));
}

/// Area, centroid and second moments of eight pieces.
#[divan::bench]
fn moments(bencher: Bencher) {
    let a = round(0.0);
    bencher.bench_local(|| black_box(&a).moments());
}

/// Depth of overlap of two rounded rectangles.
#[divan::bench]
fn depth(bencher: Bencher) {
    let (a, b) = (round(0.0), round(50.0));
    bencher.bench_local(|| penetration(black_box(&a), black_box(&b)));
}

/// How far a rounded rectangle sticks out of another.
#[divan::bench]
fn margin(bencher: Bencher) {
    let (a, b) = (round(0.0), round(5.0));
    bencher.bench_local(|| margin_inside(black_box(&a), black_box(&b)));
}

/// A rounded rectangle grown by a millimetre.
#[divan::bench]
fn grown(bencher: Bencher) {
    let a = round(0.0);
    bencher.bench_local(|| black_box(&a).offset(1.0));
}

/// A placement moved and turned.
#[divan::bench]
fn moved(bencher: Bencher) {
    let (a, t) = (round(0.0), Transform::place(p(12.0, 7.0), 12.0, false));
    bencher.bench_local(|| black_box(&t).contour(black_box(&a)));
}

/// Eight pieces made and checked.
#[divan::bench]
fn checked(bencher: Bencher) {
    let a = round(0.0);
    bencher.bench_local(|| Contour::new(black_box(&a).segments().to_vec()));
}

/// A sheet with corners of all kinds and two notches: twenty pieces.
fn twenty() -> Contour {
    let corners = [Corner::Round(24.0), Corner::Clip(20.0, 30.0), Corner::Round(60.0), Corner::Round(5.0)];
    let mut sheet = Contour::rect_corners(p(200.0, 80.0), 400.0, 160.0, corners);
    for x in [150.0, 250.0] {
        let notch = Contour::rect(p(x, 0.0), 30.0, 40.0, 6.0);
        if let Some([cut]) = sheet.without(&notch).as_deref() {
            sheet = cut.clone();
        }
    }
    let n = sheet.segments().len();
    assert_eq!(n, 20, "pieces");
    sheet
}

#[divan::bench]
fn offset_of_twenty_pieces(bencher: Bencher) {
    let sheet = twenty();
    bencher.bench_local(|| black_box(&sheet).offset(-3.0));
}

/// What is left of a sheet with sixty round openings, by chords of the given tolerance in micrometres.
#[divan::bench(args = [100, 10, 1])]
fn metal_around_sixty_openings(bencher: Bencher, micrometres: u32) {
    let sheet = Contour::rect(p(450.0, 150.0), 900.0, 300.0, 24.0);
    let holes: Vec<Contour> = (0..60)
        .map(|k| Contour::circle(p(40.0 + 58.0 * f64::from(k % 15), 40.0 + 70.0 * f64::from(k / 15)), 30.0))
        .collect();
    let cut: Vec<&Contour> = holes.iter().collect();
    bencher
        .bench_local(|| region::metal(black_box(&sheet), black_box(&cut), f64::from(micrometres) / 1000.0));
}
