//! Damaged drawings: no panic on any bytes, and whatever becomes a panel file is one.

use super::make::{circle, line, mm, poly, rect, round};
use super::*;
use crate::panels::Dice;
use proptest::prelude::*;

fn rich_dxf() -> String {
    let spline = "0\nSPLINE\n8\n0\n70\n0\n71\n3\n40\n0\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n40\n1\n41\n1\n41\n2\n41\n1\n41\n1\n10\n250\n20\n50\n10\n260\n20\n90\n10\n290\n20\n90\n10\n250\n20\n50\n";
    let ellipse = "0\nELLIPSE\n8\n0\n10\n150\n20\n75\n11\n20\n21\n5\n40\n0.5\n41\n0\n42\n6.283185307179586\n";
    mm(&(rect(0.0, 0.0, 400.0, 150.0)
        + &circle(80.0, 75.0, 39.7)
        + &circle(80.0, 75.0, 39.7)
        + &line(300.0, 50.0, 340.0, 50.0)
        + &line(340.0, 50.0, 320.0, 80.0)
        + &line(320.0, 80.0, 300.0, 50.08)
        + &poly(&round(360.0, 110.0, 20.0, 40))
        + spline
        + ellipse
        + "0\nTEXT\n8\n0\n10\n80\n20\n75\n40\n3\n1\nASI\n"))
}

fn rich_svg() -> String {
    "<svg xmlns='http://www.w3.org/2000/svg' width='500mm' height='200mm' viewBox='0 0 500 200'>\n<g id='CUT' fill='none' stroke='#000'>\n\
     <path d='M10 0H390Q400 0 400 10V140A10 10 0 0 1 390 150H10C5 150 0 145 0 140V10A10 10 0 0 1 10 0Z'/><circle id='asi' cx='80' cy='75' r='39.7'/>\n\
     <defs><path id='s' d='M0 0h20v20h-20z'/></defs><g transform='translate(200 40) rotate(20) scale(-1 1.5)'><ellipse rx='14' ry='9'/><use href='#s' x='30' width='5'/></g>\n\
     <path d='M250 60 A 40 20 30 1 1 290 80 Z'/><text x='80' y='75'>asi</text><rect x='310' y='40' width='10%' height='50' rx='10' ry='5'/>\n\
     <symbol id='y' viewBox='0 0 10 10'><circle cx='5' cy='5' r='4'/></symbol><use href='#y' x='350' y='100' width='30' height='30'/>\n</g>\n</svg>\n"
        .to_owned()
}

/// Reads, finds, tells and writes; an answer must hold together. Whether there was a panel.
fn whole(bytes: &[u8], options: &Options) -> bool {
    let (file, f) = match find("file", bytes, Some(1.0), options) {
        Ok(found) => found,
        Err(p) => {
            assert!(!p.is_empty() && p.sorted().iter().all(|p| !p.message.is_empty()));
            return false;
        }
    };
    let text = panelwright::report::found_text(&file, &f);
    assert!(text.contains("Cautions"));
    for t in &f.told {
        let odd = ["NaN", "inf mm", "(inf", "-inf"].iter().any(|w| t.says.contains(w));
        assert!(!odd && !t.says.is_empty(), "{}", t.says);
        assert!(t.at.iter().all(|p| p.is_finite()), "{}", t.says);
    }
    assert!(panelwright::report::found_json(&file, &f)["openings"].is_array());
    let mut ids: Vec<&str> = f.openings.iter().map(|o| o.id.as_str()).collect();
    ids.sort_unstable();
    assert!(ids.windows(2).all(|w| w[0] != w[1]) && ids.iter().all(|i| !i.is_empty()), "{ids:?}");
    let Some(text) = found::panel_file(&file, &f, "found") else {
        assert!(f.questions().next().is_some(), "neither panel nor question");
        return false;
    };
    let files = Memory::new().with("found.json", &*text);
    match resolve::resolve_bare("found.json", &files, &Catalogue::builtin()) {
        Ok(p) => assert!(p.subjects.len() > f.openings.len()),
        Err(p) => panic!("{p}\n{text}"),
    }
    panelwright::draw::found::found("file", &file, &f);
    true
}

#[test]
fn the_unharmed_files_become_panels() {
    assert!(whole(rich_dxf().as_bytes(), &Options::default()));
    assert!(whole(rich_svg().as_bytes(), &Options::default()));
}

#[test]
fn bytes_and_values_changed_dropped_doubled() {
    let many = std::env::var("MUTATIONS").ok().and_then(|v| v.parse().ok()).unwrap_or(400u64);
    let mut panels = 0;
    for (seed, text) in [(1, rich_dxf()), (2, rich_svg())] {
        let mut dice = Dice::new(seed);
        let digits: Vec<usize> =
            text.bytes().enumerate().filter(|(_, b)| b.is_ascii_digit()).map(|(k, _)| k).collect();
        for n in 0..many {
            let mut bytes = text.clone().into_bytes();
            for _ in 0..=dice.below(3) {
                let at = dice.below(bytes.len() as u64);
                match dice.below(8) {
                    0 => bytes[at] = dice.below(256) as u8,
                    1 => drop(bytes.remove(at)),
                    2 => bytes.insert(at, b"0123456789-.eE \nMzAaCc"[dice.below(22)]),
                    3 if n % 5 == 0 => bytes.truncate(at.max(1)),
                    // another number, which more often is a drawing still
                    _ => {
                        let k = digits[dice.below(digits.len() as u64)];
                        if let Some(b) = bytes.get_mut(k) {
                            *b = b'0' + dice.below(10) as u8;
                        }
                    }
                }
            }
            let options = Options {
                join: [0.0, 0.1, 30.0][dice.below(3)],
                round: [0.02, 2.0, 1e-4][dice.below(3)],
                fit: [0.05, 5.0][dice.below(2)],
                curve: [1e-3, 1.0, 1e-5][dice.below(3)],
                accept: if dice.one_in(2) { vec!["fits".into()] } else { vec![] },
                ..Options::default()
            };
            panels += u64::from(whole(&bytes, &options));
        }
    }
    assert!(panels > many / 5, "only {panels} of {} were still panels", 2 * many);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        whole(&bytes, &Options::default());
    }

    #[test]
    fn any_entities(list in proptest::collection::vec((0u8..5, -10i32..420, -10i32..160, -60i32..120, -60i32..60), 1..30)) {
        let mut body = rect(0.0, 0.0, 400.0, 150.0);
        for (kind, x, y, a, b) in list {
            let [x, y, a, b] = [x, y, a, b].map(f64::from);
            body += &match kind {
                0 => circle(x, y, a.abs() + 0.5),
                1 => line(x, y, x + a, y + b),
                2 => rect(x, y, a, b),
                3 => format!("0\nARC\n8\n0\n10\n{x}\n20\n{y}\n40\n{}\n50\n{}\n51\n{}\n", a.abs() + 1.0, b * 3.0, a * 3.0),
                _ => format!("0\nELLIPSE\n8\n0\n10\n{x}\n20\n{y}\n11\n{a}\n21\n{b}\n40\n0.4\n41\n0\n42\n6.2831853\n"),
            };
        }
        whole(mm(&body).as_bytes(), &Options::default());
        whole(mm(&body).as_bytes(), &Options { join: 5.0, round: 1.0, fit: 1.0, accept: vec!["fits".into()], ..Options::default() });
    }
}
