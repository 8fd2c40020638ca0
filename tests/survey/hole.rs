//! Round holes recognised in random pictures, against the truth and against another measure of the same pixels.
//! `PANELWRIGHT_LONG=1` for many more.

use crate::make::{Dice, scipy};
use panelwright::geom::Vec2;
use panelwright::survey::camera::Camera;
use panelwright::survey::hole::{NoHole, hole};
use panelwright::survey::straight::Raw;
use serde_json::{Value, json};

fn far(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

const SIZE: [f64; 2] = [780.0, 560.0];

/// A camera that sees about 300 mm by 210 mm of the panel, turned and tilted.
fn camera(dice: &mut Dice) -> Camera {
    let mut c = Camera::new(SIZE);
    let scale = 2.3 * c.long;
    let turn = dice.between(-0.5, 0.5);
    let (sin, cos) = (libm::sin(turn), libm::cos(turn));
    let shear = dice.between(-0.25, 0.25);
    let squeeze = dice.between(0.75, 1.0);
    c.h = [
        scale * cos,
        scale * (sin + shear),
        dice.between(-20.0, 20.0),
        scale * sin * squeeze,
        -scale * cos * squeeze,
        dice.between(-20.0, 20.0),
        c.half * dice.between(-0.25, 0.25),
        c.half * dice.between(-0.25, 0.25),
    ];
    c.lens = dice.between(-8.0, 8.0);
    c
}

/// Holes that lie in the picture, apart from each other.
fn holes(dice: &mut Dice, c: &Camera) -> Vec<[f64; 3]> {
    let mut all: Vec<[f64; 3]> = Vec::new();
    for _ in 0..400 {
        let [x, y, r] = [dice.between(-130.0, 130.0), dice.between(-90.0, 90.0), dice.between(4.0, 40.0)];
        let apart = all.iter().all(|[a, b, s]| far(a - x, b - y) > r + s + 12.0);
        let rim = (0..24).map(|k| panelwright::geom::angle::unit(f64::from(k) * 0.2618) * (r + 8.0));
        let within = rim
            .map(|v| c.sees(panelwright::geom::Point::new(x, y) + v, 0.0))
            .all(|p| (15.0..SIZE[0] - 15.0).contains(&p.x) && (15.0..SIZE[1] - 15.0).contains(&p.y));
        if apart && within && all.len() < 5 {
            all.push([x, y, r]);
        }
    }
    all
}

#[test]
fn holes_are_found_where_they_are_and_as_well_as_by_their_area() {
    let long = std::env::var("PANELWRIGHT_LONG").is_ok();
    let mut dice = Dice(11);
    let at = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("holes");
    std::fs::create_dir_all(&at).unwrap();
    let scenes: Vec<(Camera, Value)> = (0..if long { 60 } else { 3 })
        .map(|seed| {
            let c = camera(&mut dice);
            let of = json!({
                "size": SIZE.map(|v| v as u64), "h": c.h, "half": c.half, "long": c.long, "lens": c.lens, "holes": holes(&mut dice, &c),
                "blur": dice.between(0.6, 2.2), "noise": dice.between(0.0, 6.0), "seed": seed, "folder": at.to_str().unwrap(),
            });
            (c, of)
        })
        .collect();
    let cases: Vec<Value> = scenes.iter().map(|s| s.1.clone()).collect();
    let answers = scipy("holes.py", &cases);
    let (mut ours, mut theirs, mut asked, mut worst) = (0.0, 0.0, 0usize, [0.0f64; 2]);
    for ((c, case), answer) in scenes.iter().zip(&answers) {
        let grey = std::fs::read(answer["raw"].as_str().unwrap()).unwrap();
        let pixels: Vec<u8> = grey.iter().flat_map(|g| [*g; 3]).collect();
        let raw = Raw { width: SIZE[0] as usize, height: SIZE[1] as usize, pixels: &pixels };
        for (k, (truth, area)) in
            case["holes"].as_array().unwrap().iter().zip(answer["holes"].as_array().unwrap()).enumerate()
        {
            let n = |v: &Value, i: usize| v[i].as_f64().unwrap();
            let (x, y, r) = (n(truth, 0), n(truth, 1), n(truth, 2));
            // a click some pixels beside the rim
            let rim = panelwright::geom::angle::unit(dice.between(0.0, std::f64::consts::TAU)) * r;
            let near = c.sees(panelwright::geom::Point::new(x, y) + rim, 0.0)
                + Vec2::new(dice.between(-4.0, 4.0), dice.between(-4.0, 4.0));
            let found = hole(&raw, c, near, 12.0).unwrap_or_else(|e| panic!("hole {k} of {case}: {e:?}"));
            let [bx, by] = c.shows(panelwright::geom::Point::new(x, y), 0.0).by_point;
            let dense = bx.cross(by).abs().sqrt();
            // in pixels: of the centre and of the radius
            let off = far(found.centre.x - x, found.centre.y - y) * dense;
            let wide = (found.radius - r).abs() * dense;
            // by what is told of one place, the radius of so many is off by its deviation over the root of their number;
            // a factor of two for the unevenness of tilted rims, four deviations, and what blur does to the bend
            let told = found.deviation / (found.edge.len() as f64).sqrt();
            assert!(
                off < 8.0 * told + 0.03 && wide < 8.0 * told + 0.03,
                "hole {k}: {off} {wide} px, told {told}, of {case}"
            );
            assert!(
                found.deviation < 0.6 && found.seen > 300.0,
                "hole {k}: {} {} of {case}",
                found.deviation,
                found.seen
            );
            ours += wide * wide + off * off;
            let their = [far(n(area, 0) - x, n(area, 1) - y) * dense, (n(area, 2) - r).abs() * dense];
            theirs += their[0] * their[0] + their[1] * their[1];
            worst = [worst[0].max(off), worst[1].max(wide)];
            asked += 1;
        }
    }
    let rms = |sum: f64| (sum / asked as f64).sqrt();
    println!(
        "{asked} holes: off by {:.4} px (rms), by their area {:.4}; worst centre {:.4}, radius {:.4}",
        rms(ours),
        rms(theirs),
        worst[0],
        worst[1]
    );
    assert!(asked >= if long { 200 } else { 9 });
    assert!(rms(ours) < 0.05, "{}", rms(ours));
    assert!(rms(ours) < 2.0 * rms(theirs) + 0.02, "{} {}", rms(ours), rms(theirs));
}

/// A picture of a function of its places, without noise.
fn picture(grey: impl Fn(f64, f64) -> f64) -> Vec<u8> {
    let (w, h) = (SIZE[0] as usize, SIZE[1] as usize);
    let mut all = Vec::with_capacity(3 * w * h);
    for y in 0..h {
        for x in 0..w {
            let mut sum = 0.0;
            for k in 0..16 {
                sum += grey(
                    x as f64 + (f64::from(k % 4) + 0.5) / 4.0,
                    y as f64 + (f64::from(k / 4) + 0.5) / 4.0,
                );
            }
            all.extend([(sum / 16.0).round() as u8; 3]);
        }
    }
    all
}

#[test]
fn what_is_no_round_hole_is_refused_by_its_reason() {
    let mut c = Camera::new(SIZE);
    // one pixel a mm, square to the panel
    c.h = [c.long, 0.0, 0.0, 0.0, -c.long, 0.0, 0.0, 0.0];
    let asks = |grey: &dyn Fn(f64, f64) -> f64, x: f64, y: f64| {
        let pixels = picture(grey);
        let raw = Raw { width: SIZE[0] as usize, height: SIZE[1] as usize, pixels: &pixels };
        hole(&raw, &c, Vec2::new(x, y), 10.0)
    };
    let disc =
        |x: f64, y: f64, r: f64| move |u: f64, v: f64| if far(u - x, v - y) < r { 30.0 } else { 180.0 };
    let fine = asks(&disc(300.0, 300.0, 60.0), 361.0, 301.0).unwrap();
    assert!((fine.radius - 60.0).abs() < 0.05 && fine.edge.len() == 48, "{fine:?}");
    assert_eq!(asks(&|_, _| 120.0, 300.0, 300.0), Err(NoHole::NoEdge(10.0)));
    assert_eq!(asks(&disc(300.0, 300.0, 60.0), 300.0, 300.0), Err(NoHole::NoEdge(10.0)));
    let straight = asks(&|u, _| if u < 300.0 { 30.0 } else { 180.0 }, 302.0, 300.0);
    assert!(matches!(straight, Err(NoHole::NotRound | NoHole::TooLarge(_))), "{straight:?}");
    let square = asks(
        &|u, v| if (u - 300.0).abs().max((v - 300.0).abs()) < 40.0 { 30.0 } else { 180.0 },
        341.0,
        300.0,
    );
    assert!(square.is_err(), "{square:?}");
    let huge = asks(&disc(300.0, 900.0, 700.0), 300.0, 201.0);
    assert!(matches!(huge, Err(NoHole::TooLarge(_) | NoHole::NotRound)), "{huge:?}");
    let small = asks(&disc(300.0, 300.0, 3.0), 303.0, 300.0);
    assert!(matches!(small, Err(NoHole::TooSmall(_) | NoHole::NotRound)), "{small:?}");
    // an oval one
    let oval =
        asks(&|u, v| if far((u - 300.0) / 1.12, v - 300.0) < 60.0 { 30.0 } else { 180.0 }, 300.0, 240.0);
    assert!(oval.is_err(), "{oval:?}");
    // something lies over more than half of it
    let covered = asks(&|u, v| if v > 265.0 { 110.0 } else { disc(300.0, 300.0, 60.0)(u, v) }, 300.0, 240.0);
    assert!(covered.is_err(), "{covered:?}");
    for why in [
        NoHole::NoEdge(3.0),
        NoHole::NotRound,
        NoHole::TooLarge(400.0),
        NoHole::TooSmall(2.0),
        NoHole::Little(90.0),
        NoHole::Rough(2.0),
    ] {
        assert!(why.says().len() > 40);
    }
}
