//! Damaged files: no panic on any bytes, and never an answer that contradicts itself.

use super::*;
use crate::panels::Dice;
use panelwright::report;

/// A DXF with everything that is read and much that is not.
fn rich_dxf() -> String {
    let blocks = format!(
        "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nCUT\n70\n0\n62\n7\n0\nENDTAB\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n0\n\
         BLOCK\n2\nB\n10\n1\n20\n2\n{}0\nINSERT\n8\n0\n2\nC\n10\n4\n20\n4\n0\nENDBLK\n0\nBLOCK\n2\nC\n10\n0\n20\n0\n{}0\nENDBLK\n0\n\
         ENDSEC\n0\nSECTION\n2\nENTITIES\n",
        circle(3.0, 3.0, 1.0),
        polygon(&[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0)])
    );
    let body = plate(100.0, 80.0)
        + &circle(30.0, 40.0, 5.0)
        + &circle(30.0, 40.0, 5.0)
        + &line((10.0, 10.0), (20.0, 10.0))
        + &line((20.0, 10.0), (20.0, 20.0))
        + &line((20.0, 20.0), (10.0, 10.05))
        + "0\nARC\n8\nCUT\n10\n60\n20\n40\n40\n5\n50\n30\n51\n200\n"
        + "0\nPOLYLINE\n8\nCUT\n66\n1\n70\n1\n10\n0\n20\n0\n0\nVERTEX\n8\nCUT\n10\n70\n20\n20\n42\n1\n0\nVERTEX\n8\nCUT\n10\n80\n20\n20\n\
           42\n-0.2\n0\nVERTEX\n8\nCUT\n10\n75\n20\n30\n0\nSEQEND\n8\nCUT\n"
        + "0\nSPLINE\n8\nCUT\n70\n8\n71\n3\n10\n50\n20\n50\n10\n60\n20\n80\n10\n70\n20\n20\n10\n80\n20\n50\n"
        + "0\nELLIPSE\n8\nCUT\n10\n50\n20\n60\n11\n8\n21\n0\n40\n0.5\n41\n0\n42\n3\n"
        + "0\nTEXT\n5\n2F\n8\nNOTES\n10\n5\n20\n5\n40\n3\n1\nLEFT\n0\nHATCH\n8\nCUT\n0\nPOINT\n8\nCUT\n10\n5\n20\n5\n"
        + "0\nINSERT\n8\nCUT\n2\nB\n10\n85\n20\n60\n41\n-1\n42\n1\n50\n30\n70\n2\n71\n2\n44\n4\n45\n5\n";
    dxf(&body).replace("0\nSECTION\n2\nENTITIES\n", &blocks)
}

fn rich_svg() -> String {
    "<?xml version='1.0'?>\n<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='80mm' viewBox='0 0 100 80'>\n\
     <style>.a{fill:none}</style>\n<defs><path id='s' d='M0 0h4v4h-4z'/></defs>\n<g id='CUT' class='cut' stroke='#000' fill='none'>\n\
     <rect width='100' height='80' rx='3' ry='2'/><circle cx='30' cy='40' r='5'/><circle cx='30' cy='40' r='5'/>\n\
     <path d='M10 10 L20 10 20 20Z M50 50a5 5 0 1 1 10 0 5 5 0 1 1-10 0z m0 9 q1 2 3 4 t5 6 c1 2 3 4 5 6 s1 2 3 4'/>\n\
     <polygon points='60,10 70,10 70,20'/><polyline points='1 2 3 4 5 6'/><line x1='1' y1='2' x2='3' y2='4'/>\n\
     <g transform='translate(80 40) rotate(20) scale(-1 1.5) skewX(3) matrix(1 0 0 1 2 3)'><ellipse rx='4' ry='3'/><use href='#s' x='3'/></g>\n\
     <text x='4' y='5'>Words <tspan>and more</tspan></text><image/><foreignObject/>\n</g>\n</svg>\n"
        .to_owned()
}

/// Reads, checks and prints; an answer must hold together.
fn whole(bytes: &[u8]) -> Option<Report> {
    let file = match import::read("file", bytes, &ReadOptions::default()) {
        Ok(f) => f,
        Err(p) => {
            assert!(!p.is_empty(), "refused without a reason");
            assert!(
                p.sorted()
                    .iter()
                    .all(|p| !p.message.is_empty() && p.place.as_ref().is_none_or(|w| w.line > 0))
            );
            return None;
        }
    };
    let options = Options { join: Some(0.2), tool: Some(1.0), ..waterjet() };
    let r = cut::check(&file, &options).unwrap();
    let f = &r.facts;
    assert_eq!(f.list.len(), f.outer + f.inner);
    assert!(f.list.iter().all(|c| c.area >= 0.0 && c.length > 0.0 && c.bounds.is_finite()));
    assert!(f.cut_length.is_finite());
    for f in &r.findings {
        let odd = ["NaN mm", "inf mm", "(NaN", "(inf,", "(-inf", ", inf)", ", NaN)"]
            .iter()
            .any(|w| f.says.contains(w));
        assert!(!odd && !f.says.is_empty(), "{}", f.says);
    }
    // what was not read withholds
    if file
        .items
        .iter()
        .any(|i| matches!(i.shape, import::Shape::NotRead(_)) && i.hidden.is_none() && r.layers[i.layer].cut)
    {
        assert!(told(&r).iter().any(|t| t.starts_with("withheld all-read")));
    }
    let text = report::cut_text(&file, &r);
    assert!(text.contains("Cautions"));
    assert!(report::cut_json(&file, &r)["findings"].is_array());
    Some(r)
}

/// Values that break things.
const NASTY: [&str; 16] = [
    "0",
    "-1",
    "1",
    "nan",
    "inf",
    "1e308",
    "-1e12",
    "1e-300",
    "999999",
    "",
    "x",
    "0.5",
    "360",
    "-0",
    "1e7",
    "2147483648",
];

#[test]
fn the_unharmed_files_are_read() {
    let r = whole(rich_dxf().as_bytes()).unwrap();
    assert!(r.facts.contours >= 10, "{}", r.facts.contours);
    assert!(whole(rich_svg().as_bytes()).unwrap().facts.contours >= 5);
}

#[test]
fn bytes_changed_dropped_doubled() {
    for (seed, text) in [(1, rich_dxf()), (2, rich_svg())] {
        let mut dice = Dice::new(seed);
        for _ in 0..1500 {
            let mut bytes = text.clone().into_bytes();
            for _ in 0..=dice.below(4) {
                let at = dice.below(bytes.len() as u64);
                match dice.below(4) {
                    0 => bytes[at] = dice.below(256) as u8,
                    1 => {
                        bytes.remove(at);
                    }
                    2 => bytes.insert(at, dice.below(256) as u8),
                    _ => bytes.truncate(at.max(1)),
                }
            }
            whole(&bytes);
        }
    }
}

#[test]
fn tags_and_attributes_changed_swapped_dropped() {
    let mut dice = Dice::new(3);
    let text = rich_dxf();
    let lines: Vec<&str> = text.lines().collect();
    let pairs: Vec<(&str, &str)> = lines.chunks(2).map(|c| (c[0], c[1])).collect();
    let mut read = 0;
    for _ in 0..2500 {
        let mut p = pairs.clone();
        for _ in 0..=dice.below(3) {
            let (a, b) = (dice.below(p.len() as u64), dice.below(p.len() as u64));
            match dice.below(5) {
                0 => p[a].1 = NASTY[dice.below(16)],
                1 => p.swap(a, b),
                2 => {
                    p.remove(a);
                }
                3 => p[a].0 = p[b].0,
                _ => p.insert(a, p[b]),
            }
        }
        let text: String = p.iter().map(|(c, v)| format!("{c}\n{v}\n")).collect();
        read += usize::from(whole(text.as_bytes()).is_some());
    }
    assert!(read > 500, "only {read} of 2500 were read: the change is too coarse to test anything");
    let svg = rich_svg();
    let numbers: Vec<(usize, &str)> = svg.match_indices(|c: char| c.is_ascii_digit()).collect();
    for _ in 0..2000 {
        let mut text = svg.clone();
        let (at, _) = numbers[dice.below(numbers.len() as u64)];
        text.replace_range(at..at + 1, NASTY[dice.below(16)]);
        whole(text.as_bytes());
    }
}

#[test]
fn random_bytes() {
    let mut dice = Dice::new(4);
    for k in 0..2000 {
        let n = dice.below(300);
        let head: &[u8] = [&b""[..], b"0\n", b"<svg xmlns='http://www.w3.org/2000/svg'>", b"999\n"][k % 4];
        let mut bytes = head.to_vec();
        bytes.extend((0..n).map(|_| dice.below(256) as u8));
        whole(&bytes);
    }
}
