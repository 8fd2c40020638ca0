//! Ugly SVG files: each ends in the right panel or in the right question.

use super::*;
use Expect::{Asks, Panel as Is, Refused};

const SIZE: [f64; 2] = [400.0, 150.0];

fn with_head(head: &str, body: &str) -> String {
    format!(
        "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' {head}>\n<g fill='none' stroke='#000'>\n{body}\n</g>\n</svg>\n"
    )
}

fn mm(body: &str) -> String {
    with_head("width='500mm' height='200mm' viewBox='0 0 500 200'", body)
}

fn in_plate(body: &str) -> String {
    mm(&format!("<rect width='400' height='150'/>{body}"))
}

const HOLE: &str = "<circle cx='80' cy='75' r='39.6875'/>";

#[test]
fn shapes_and_transforms() {
    // the usual circle in four cubics
    let k = 40.0 * 0.552_284_749_8;
    let four = format!(
        "<path d='M120 75C120 {0} {1} 115 80 115 {2} 115 40 {0} 40 75 40 {3} {2} 35 80 35 {1} 35 120 {3} 120 75Z'/>",
        75.0 + k,
        80.0 + k,
        80.0 - k,
        75.0 - k
    );
    let stack = "<g transform='translate(200 75)'><g transform='rotate(30)'><g transform='scale(2)'><g transform='matrix(0.5 0 0 0.5 3 4)'><circle r='20'/></g></g></g></g>";
    let nested = "<defs><circle id='a' r='5'/><g id='b'><use xlink:href='#a' x='10'/><use href='#a' x='-10'/></g><g id='c'><use href='#b'/><use href='#b' y='20'/></g></defs><use href='#c' x='200' y='60'/>";
    let symbol = "<symbol id='s' viewBox='0 0 10 10'><circle cx='5' cy='5' r='4'/></symbol><use href='#s' x='200' y='50' width='40' height='40'/>";
    let plain_symbol = "<symbol id='s'><circle cx='5' cy='5' r='4'/></symbol><use href='#s' x='200' y='50'/>";
    let outline = "<path d='M10 0 h380 q10 0 10 10 v130 a10 10 0 0 1 -10 10 h-380 c-5 0 -10 -5 -10 -10 v-130 a10 10 0 0 1 10 -10z'/>";
    run(&[
        Case::new("plain", in_plate(HOLE), Is(SIZE, 1, &[])),
        Case::new("a circle in four Béziers", in_plate(&four), Is(SIZE, 1, &["circles"])),
        Case::new(
            "an outline of every kind of piece",
            mm(&(outline.to_owned() + HOLE)),
            Is(SIZE, 1, &["curves"]),
        ),
        Case::new("a stack of transforms", in_plate(stack), Is(SIZE, 1, &[])),
        Case::new(
            "mirrored",
            in_plate("<g transform='scale(-1 1) translate(-300 0)'><path d='M10 20h60v40z'/></g>"),
            Is(SIZE, 1, &[]),
        ),
        Case::new(
            "a skewed circle",
            in_plate("<circle r='20' transform='translate(200 75) skewX(30)'/>"),
            Is(SIZE, 1, &["curves"]),
        ),
        Case::new(
            "a circle scaled unevenly and back",
            in_plate(
                "<g transform='translate(200 75) scale(2 1)'><g transform='scale(1 2)'><circle r='10'/></g></g>",
            ),
            Is(SIZE, 1, &[]),
        ),
        Case::new(
            "an ellipse",
            in_plate("<ellipse cx='200' cy='75' rx='40' ry='20'/>"),
            Is(SIZE, 1, &["curves"]),
        ),
        Case::new(
            "a turned elliptical arc",
            in_plate("<path d='M150 60 A 40 20 30 1 1 190 80 Z'/>"),
            Is(SIZE, 1, &["curves"]),
        ),
        Case::new(
            "a rounded rectangle with two radii",
            in_plate("<rect x='150' y='40' width='80' height='50' rx='10' ry='5'/>"),
            Is(SIZE, 1, &["curves"]),
        ),
        Case::new("nested references", in_plate(&(HOLE.to_owned() + nested)), Is(SIZE, 5, &[])),
        Case::new("a symbol with its view", in_plate(symbol), Is(SIZE, 1, &[])),
        Case::new("a symbol", in_plate(plain_symbol), Is(SIZE, 1, &[])),
        Case::new(
            "a reference into the void",
            in_plate(&(HOLE.to_owned() + "<use href='#x'/>")),
            Is(SIZE, 1, &["not-read"]),
        ),
        Case::new(
            "references in a ring",
            in_plate("<g id='r'><use href='#r'/></g>"),
            Is(SIZE, 0, &["not-read"]),
        ),
        Case::new("sizes in percent", in_plate("<circle cx='50%' cy='40%' r='5%'/>"), Is(SIZE, 1, &[])),
        Case::new("sizes in mixed units", in_plate("<circle cx='40' cy='40' r='15pt'/>"), Is(SIZE, 1, &[])),
        Case::new(
            "an open subpath",
            in_plate(&(HOLE.to_owned() + "<path d='M200 50h40v20h-39.9'/>")),
            Is(SIZE, 1, &["open"]),
        ),
    ]);
}

#[test]
fn units_and_what_does_not_show() {
    let body = format!("<rect width='400' height='150'/>{HOLE}");
    let wide = |head: &str| with_head(head, &body);
    run(&[
        Case::new(
            "percent of nothing",
            wide("width='100%' height='100%' viewBox='0 0 500 200'"),
            Asks("unit"),
        ),
        Case::new("pixels", wide("width='500' height='200' viewBox='0 0 500 200'"), Asks("unit")),
        Case::new("no size", wide(""), Asks("unit")),
        Case::new("a unit by the user", wide(""), Is(SIZE, 1, &[])).unit(1.0),
        Case::new("pixels by the user", wide(""), Is([400.0 * 25.4 / 96.0, 150.0 * 25.4 / 96.0], 1, &[]))
            .unit(25.4 / 96.0),
        Case::new("inches", wide("width='20in' height='8in' viewBox='0 0 508 203.2'"), Is(SIZE, 1, &[])),
        Case::new(
            "points",
            wide("width='500pt' height='200pt' viewBox='0 0 500 200'"),
            Is([400.0 * 25.4 / 72.0, 150.0 * 25.4 / 72.0], 1, &[]),
        ),
        Case::new("too big", wide("width='5000in' height='2000in' viewBox='0 0 500 200'"), Asks("size")),
        Case::new(
            "text and a picture",
            in_plate(&(HOLE.to_owned() + "<text x='5' y='9'>NO STEP</text><image/>")),
            Is(SIZE, 1, &["marks", "marks"]),
        ),
        Case::new(
            "not shown",
            in_plate(&(HOLE.to_owned() + "<circle cx='200' cy='75' r='9' display='none'/>")),
            Is(SIZE, 1, &["hidden"]),
        ),
        Case::new(
            "clipped",
            in_plate(&(HOLE.to_owned() + "<circle cx='200' cy='75' r='9' clip-path='url(#x)'/>")),
            Is(SIZE, 1, &["not-read", "not-read"]),
        ),
        Case::new(
            "a style sheet that changes nothing",
            in_plate(&(HOLE.to_owned() + "<style>.a{display:none}</style>")),
            Is(SIZE, 1, &[]),
        ),
        Case::new(
            "a style sheet that hides",
            in_plate(
                &(HOLE.to_owned()
                    + "<style>.a{display:none}</style><circle class='a' cx='200' cy='75' r='9'/>"),
            ),
            Is(SIZE, 2, &["not-read"]),
        ),
        Case::new(
            "a style sheet that moves",
            in_plate(
                &(HOLE.to_owned()
                    + "<style>.a{transform:translate(50px,0)}</style><circle class='a' cx='200' cy='75' r='9'/>"),
            ),
            Is(SIZE, 2, &["not-read"]),
        ),
        Case::new(
            "a drawing in the drawing",
            in_plate(
                &(HOLE.to_owned()
                    + "<svg x='200' y='50' width='40' height='40' viewBox='0 0 10 10'><circle cx='5' cy='5' r='4'/></svg>"),
            ),
            Is(SIZE, 1, &["not-read", "not-read"]),
        ),
        Case::new("cut short", in_plate(HOLE).replace("</svg>\n", ""), Refused("bad-xml")),
        Case::new("bad path data", in_plate("<path d='M0 0 L10'/>"), Refused("bad-number")),
        Case::new("a bad transform", in_plate("<g transform='turn(5)'/>"), Refused("bad-number")),
        Case::new("other XML", "<html></html>", Refused("unknown-format")),
    ]);
}

/// y down in the file is y up in the panel, and ids become names.
#[test]
fn which_way_is_up_and_what_things_are_called() {
    let text = in_plate(
        "<circle id='low left' cx='50' cy='120' r='10'/><circle id='top' cx='200' cy='20' r='12'/><g id='lamps'><circle cx='300' cy='75' r='4'/></g>",
    );
    let (file, f) = find("drawing.svg", text.as_bytes(), None, &Options::default()).unwrap();
    let p = panel(&file, &f).unwrap();
    let at = |id: &str| {
        let s = p.subjects.iter().find(|s| s.id == id).unwrap_or_else(|| panic!("{id}"));
        s.parts[0].contour.as_circle().unwrap().0
    };
    assert_eq!(at("low-left"), (50.0, 30.0).into());
    assert_eq!(at("top"), (200.0, 130.0).into());
    assert_eq!(at("lamps"), (300.0, 75.0).into());
}
