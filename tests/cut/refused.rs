//! Files that are refused: every fault with line, column and value; and what is named and not passed over.

use super::*;

fn faults(bytes: &[u8]) -> Vec<String> {
    match import::read("file", bytes, &ReadOptions::default()) {
        Ok(_) => Vec::new(),
        Err(p) => p.sorted().iter().map(|p| p.to_string()).collect(),
    }
}

#[test]
fn formats_that_are_not_read_are_named() {
    let cases: [(&[u8], &str); 8] = [
        (b"Maker's Binary DXF\r\n\x1a\0 rest", "file is a binary DXF, which is not read [unknown-format]"),
        (b"AC1027\0\0", "file is a drawing in a program's own format, not a DXF [unknown-format]"),
        (b"%PDF-1.7", "file is a PDF [unknown-format]"),
        (b"\x1f\x8b\x08", "file is packed [unknown-format]"),
        (b"\xff\xfe0\0", "file is in UTF-16 [unknown-format]"),
        (b"", "file is empty [unknown-format]"),
        (b"hello", "file:1:1: this is neither a DXF nor an SVG file [unknown-format]"),
        (b"<html></html>", "file:1:1: this is XML, but no SVG: its first element is html [unknown-format]"),
    ];
    for (bytes, says) in cases {
        let found = faults(bytes);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].starts_with(says), "{found:?} for {says}");
    }
}

#[test]
fn numbers_that_are_none_are_told_where_they_stand() {
    let file = |v: &str| dxf(&format!("0\nCIRCLE\n8\nCUT\n10\n{v}\n20\n5\n40\n3\n"));
    for (value, why) in [
        ("nan", "is no finite number"),
        ("inf", "is no finite number"),
        ("1e400", "is no finite number"),
        ("1e13", "is farther out than any drawing"),
        ("79,4", "has a decimal comma: numbers in this format have a point"),
        ("3 1/8", "is no number"),
        ("", "is empty: a number is expected"),
    ] {
        let found = faults(file(value).as_bytes());
        let says = format!("file:24:1: CIRCLE: the value of code 10, `{value}`, {why} [bad-number]");
        assert!(found.len() == 1 && found[0].starts_with(&says), "{found:?} for {says}");
    }
    let found = faults(file("1e9").as_bytes());
    assert!(
        found[0].starts_with("file:20:1: CIRCLE lies more than 10 km from the origin [out-of-reach]"),
        "{found:?}"
    );
}

#[test]
fn all_faults_of_a_file_are_told_at_once() {
    let found =
        faults(dxf("0\nCIRCLE\n8\nCUT\n10\nx\n20\ny\n40\n0\n0\nLINE\n8\nCUT\n10\n1\n20\n2\n").as_bytes());
    assert_eq!(found.len(), 5, "{found:?}");
    assert!(found[2].contains("file:28:1: CIRCLE: the radius 0 is not above zero"), "{found:?}");
    assert!(
        found[3].contains("LINE has no end (code 11)") && found[4].contains("LINE has no end (code 21)"),
        "{found:?}"
    );
}

#[test]
fn a_file_that_was_cut_short_never_passes() {
    let whole = dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0)));
    assert_eq!(told(&check(&whole, &waterjet())), Vec::<String>::new());
    let lines: Vec<&str> = whole.split_inclusive('\n').collect();
    for n in 0..lines.len() {
        let part: String = lines[..n].concat();
        let Ok(file) = import::read("file", part.as_bytes(), &ReadOptions::default()) else { continue };
        let r = cut::check(&file, &waterjet()).unwrap();
        assert!(
            told(&r).iter().any(|t| t.contains("no EOF mark")),
            "{n} of {} lines pass: {:?}",
            lines.len(),
            told(&r)
        );
    }
    let code = faults(b"0\nSECTION\n2\nENTITIES\nzero\nLINE\n");
    assert!(
        code[0].starts_with("file:5:1: a group code is expected here, found `zero` [bad-code]"),
        "{code:?}"
    );
}

#[test]
fn line_ends_byte_order_mark_and_comments_do_not_matter() {
    let plain = dxf(&(plate(100.0, 80.0) + &circle(30.0, 40.0, 5.0)));
    let want = check(&plain, &waterjet());
    let crlf = plain.replace('\n', "\r\n");
    let cr = plain.replace('\n', "\r");
    let bom = format!("\u{feff}{plain}");
    let noted = plain.replace("0\nCIRCLE", "999\nwritten by hand\n0\nCIRCLE");
    let spaced = plain.lines().map(|l| format!("  {l} \n")).collect::<String>();
    for other in [crlf, cr, bom, noted, spaced] {
        let r = check(&other, &waterjet());
        assert_eq!(told(&r), told(&want));
        assert_eq!((r.facts.contours, r.facts.cut_length), (want.facts.contours, want.facts.cut_length));
    }
}

#[test]
fn what_stands_in_blocks_that_cannot_be_followed_is_withheld() {
    let insert = |name: &str| format!("0\nINSERT\n8\nCUT\n2\n{name}\n10\n1\n20\n2\n");
    let r = check(&dxf(&(plate(100.0, 80.0) + &insert("GONE"))), &waterjet());
    assert_eq!(
        told(&r),
        [
            "withheld all-read: Not read by this version, so not measured: 1 x reference: a block that is not in the file. \
             INSERT GONE at line 76. Ask for lines and arcs, or look at them yourself."
        ]
    );
    let blocks = format!(
        "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nLOOP\n10\n0\n20\n0\n{}0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n",
        insert("LOOP")
    );
    let own = dxf(&(plate(100.0, 80.0) + &insert("LOOP"))).replace("0\nSECTION\n2\nENTITIES\n", &blocks);
    let r = check(&own, &waterjet());
    assert!(told(&r)[0].contains("a block inside itself, or nested too deep"), "{:?}", told(&r));
}

#[test]
fn too_many_pieces_are_refused_and_not_counted_for_ever() {
    // each block draws the one before ten times: ten to the twelfth circles
    let mut blocks = String::from("0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB0\n");
    blocks += &circle(0.0, 0.0, 1.0);
    blocks += "0\nENDBLK\n";
    for k in 1..=12 {
        blocks += &format!("0\nBLOCK\n2\nB{k}\n");
        for x in 0..10 {
            blocks += &format!("0\nINSERT\n8\nCUT\n2\nB{}\n10\n{x}\n20\n{k}\n", k - 1);
        }
        blocks += "0\nENDBLK\n";
    }
    blocks += "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n";
    let file = dxf("0\nINSERT\n8\nCUT\n2\nB12\n10\n0\n20\n0\n").replace("0\nSECTION\n2\nENTITIES\n", &blocks);
    let found = faults(file.as_bytes());
    assert!(found.iter().any(|f| f.contains("[too-many-pieces]")), "{found:?}");
    let mut svg = String::from("<svg xmlns='http://www.w3.org/2000/svg'><g id='a0'><circle r='1'/></g>");
    for k in 1..=12 {
        svg += &format!("<g id='a{k}'>{}</g>", format!("<use href='#a{}'/>", k - 1).repeat(10));
    }
    let found = faults((svg + "</svg>").as_bytes());
    assert!(found.iter().any(|f| f.contains("[too-many-pieces]")), "{found:?}");
}

#[test]
fn svg_faults_have_line_and_column() {
    let svg = |body: &str| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='10mm' height='10mm' viewBox='0 0 10 10'>\n{body}\n</svg>"
        )
    };
    for (body, says) in [
        ("<path d='M0 0 L5 x'/>", "file:2:18: path data: a number is expected here, found `x` [bad-number]"),
        ("<path d='L0 0'/>", "file:2:10: path data: the path does not start with M [bad-number]"),
        ("<circle r='1e999'/>", "file:2:12: r: `1e999` is no finite number [bad-number]"),
        ("<circle r='-4'/>", "file:2:12: r is below zero [bad-number]"),
        (
            "<g transform='turn(3)'/>",
            "file:2:15: transform: `turn` with 1 numbers is no transform [bad-number]",
        ),
        ("<polygon points='1,2,3'/>", "file:2:23: points: a number is expected here, found `` [bad-number]"),
    ] {
        let found = faults(svg(body).as_bytes());
        assert!(found.len() == 1 && found[0].starts_with(says), "{found:?} for {says}");
    }
    let found = faults(b"<svg xmlns='http://www.w3.org/2000/svg'>\n<rect width='4' height='50%'/></svg>");
    let says = "file:2:25: height: `50%` is a percentage of a size that the file does not give [bad-number]";
    assert!(found[0].starts_with(says), "{found:?}");
    let found = faults(b"<svg xmlns='http://www.w3.org/2000/svg'>\n<g>\n</svg>");
    assert!(found[0].starts_with("file:3:") && found[0].contains("[bad-xml]"), "{found:?}");
}
