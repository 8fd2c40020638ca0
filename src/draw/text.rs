//! Size of a text in the bundled font, from the font's own advances: exact, no kerning and no ligatures,
//! which every back end respects.

use super::model::{Across, Item, Shape, Text, Up, Weight};
use crate::geom::{Point, Rect, Vec2, angle};
use std::sync::OnceLock;
use ttf_parser::Face;

/// The regular font file (DejaVu Sans Condensed 2.37; licence beside it).
pub const REGULAR: &[u8] = include_bytes!("../../assets/fonts/DejaVuSansCondensed.ttf");
/// The bold font file (DejaVu Sans Condensed Bold 2.37; licence beside it).
pub const BOLD: &[u8] = include_bytes!("../../assets/fonts/DejaVuSansCondensed-Bold.ttf");
/// Family name under which the operating system may know the font.
pub const FAMILY: &str = "DejaVu Sans Condensed";

/// Height of a capital letter in em: 1493 of 2048 units in both files.
pub const CAP_HEIGHT: f64 = 1493.0 / 2048.0;
/// How far letters reach below the baseline, in cap heights (483 of 1493 units: the font's descender).
pub const DESCENT: f64 = 483.0 / 1493.0;

fn face(weight: Weight) -> Option<&'static Face<'static>> {
    static FACES: [OnceLock<Option<Face<'static>>>; 2] = [const { OnceLock::new() }; 2];
    let (slot, bytes) = match weight {
        Weight::Regular => (&FACES[0], REGULAR),
        Weight::Bold => (&FACES[1], BOLD),
    };
    slot.get_or_init(|| Face::parse(bytes, 0).ok()).as_ref()
}

/// A character of a text as the font has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    /// Its number in the font; 0 (an empty box) when the font lacks the character.
    pub id: u16,
    /// The character of the text that it stands for.
    pub source: char,
    /// Byte at which it starts in the text.
    pub start: usize,
    /// Room it takes along the line, in em.
    pub advance: f64,
}

/// Characters whose glyphs are looked up once: most of every text, and a look-up costs a search.
const COMMON: usize = 256;

/// Number of a character's glyph, 0 when the font lacks it, and its advance in em. Control characters become
/// spaces.
fn glyph(c: char, weight: Weight) -> (u16, f64) {
    static KNOWN: [OnceLock<Vec<(u16, f64)>>; 2] = [const { OnceLock::new() }; 2];
    let slot = match weight {
        Weight::Regular => &KNOWN[0],
        Weight::Bold => &KNOWN[1],
    };
    let common = || (0..COMMON as u32).filter_map(char::from_u32).map(|c| look_up(c, weight)).collect();
    let known = slot.get_or_init(common).get(c as usize);
    known.copied().unwrap_or_else(|| look_up(c, weight))
}

fn look_up(c: char, weight: Weight) -> (u16, f64) {
    let face = face(weight);
    let shown = if c.is_control() { ' ' } else { c };
    let id = face.and_then(|f| f.glyph_index(shown)).unwrap_or_default();
    let units = face.and_then(|f| f.glyph_hor_advance(id)).unwrap_or_default();
    let per_em = face.map_or(2048, |f| f.units_per_em());
    (id.0, f64::from(units) / f64::from(per_em))
}

/// The characters of a text as glyphs in order. Control characters become spaces.
pub fn glyphs(text: &str, weight: Weight) -> Vec<Glyph> {
    text.char_indices()
        .map(|(start, c)| {
            let (id, advance) = glyph(c, weight);
            Glyph { id, source: c, start, advance }
        })
        .collect()
}

/// Whether the bundled font has a glyph for a character.
pub fn has(char: char, weight: Weight) -> bool {
    !char.is_control() && glyph(char, weight).0 != 0
}

/// Puts a box in place of each letter that the bundled font lacks: for a view on a screen, where the rest must be seen; on
/// paper it is an error.
pub fn drawable(items: &mut [Item]) {
    for item in items {
        if let Shape::Text(t) = &mut item.shape {
            let one = |c: char| if c.is_control() || has(c, t.weight) { c } else { '\u{25a1}' };
            t.text = t.text.chars().map(one).collect();
        }
    }
}

/// Font size in mm (one em) that gives capitals the height `height` in mm.
pub fn em(height: f64) -> f64 {
    height / CAP_HEIGHT
}

/// Width in mm of a line of text whose capitals are `height` mm high: the sum of the font's advances.
pub fn width(text: &str, height: f64, weight: Weight) -> f64 {
    text.chars().map(|c| glyph(c, weight).1).sum::<f64>() * em(height)
}

/// Start of the baseline of a text, on the page.
pub fn origin(t: &Text) -> Point {
    let along = match t.anchor.across {
        Across::Left => 0.0,
        Across::Middle => width(&t.text, t.height, t.weight) / 2.0,
        Across::Right => width(&t.text, t.height, t.weight),
    };
    let up = match t.anchor.up {
        Up::Baseline => 0.0,
        Up::Middle => t.height / 2.0,
        Up::Top => t.height,
    };
    let (s, c) = angle::sin_cos_deg(t.angle);
    t.at - Vec2::new(along * c - up * s, along * s + up * c)
}

/// The lines of a text whose words say where a new one begins, as a block about its place: one and a half
/// letter heights from one to the next.
pub fn lines(t: &Text) -> Vec<Text> {
    let words: Vec<&str> = t.text.split('\n').collect();
    let (s, c) = angle::sin_cos_deg(t.angle);
    let last = words.len().saturating_sub(1) as f64;
    let line = |(k, words): (usize, &&str)| {
        let up = (last / 2.0 - k as f64) * 1.5 * t.height;
        Text { at: t.at + Vec2::new(-s, c) * up, text: (*words).to_owned(), ..t.clone() }
    };
    words.iter().enumerate().map(line).collect()
}

/// Smallest upright box around a text's width and cap height, mm. Descenders reach below it by
/// [`DESCENT`] times the height.
pub fn bounds(t: &Text) -> Rect {
    let (s, c) = angle::sin_cos_deg(t.angle);
    let along = Vec2::new(c, s) * width(&t.text, t.height, t.weight);
    let up = Vec2::new(-s, c) * t.height;
    let o = origin(t);
    Rect::from_points(o, o + along).union_pt(o + up).union_pt(o + along + up)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::model::Anchor;

    #[test]
    fn both_fonts_parse_and_agree_with_the_constants() {
        for weight in [Weight::Regular, Weight::Bold] {
            let f = face(weight).expect("bundled font");
            assert_eq!(f.units_per_em(), 2048);
            let cap = f.glyph_index('H').and_then(|g| f.glyph_bounding_box(g)).expect("H");
            assert_eq!((cap.y_min, cap.y_max), (0, 1493));
            assert_eq!(f.descender(), -483);
            for c in "Øøéµ°±½⅛⅜⅝⅞×·−–—≤≥⌀".chars() {
                assert!(has(c, weight), "{c} missing in {weight:?}");
            }
        }
    }

    #[test]
    fn width_is_the_sum_of_advances_and_scales() {
        let w = width("ASI", 3.0, Weight::Regular);
        assert!((width("ASIASI", 3.0, Weight::Regular) - 2.0 * w).abs() < 1e-12);
        assert!((width("ASI", 6.0, Weight::Regular) - 2.0 * w).abs() < 1e-12);
        assert!(width("ASI", 3.0, Weight::Bold) > w);
        assert_eq!(width("", 3.0, Weight::Regular), 0.0);
        assert_eq!(width("a\nb", 3.0, Weight::Regular), width("a b", 3.0, Weight::Regular));
    }

    #[test]
    fn lines_stand_about_the_place_of_the_text() {
        let p = Point::new(10.0, 20.0);
        let one = Text::new(p, 2.0, Anchor::CENTRE, "TOW");
        assert_eq!(lines(&one), std::slice::from_ref(&one));
        let two = lines(&Text::new(p, 2.0, Anchor::CENTRE, "TOW 60\nMAX 620"));
        assert_eq!(two.iter().map(|t| t.text.as_str()).collect::<Vec<_>>(), ["TOW 60", "MAX 620"]);
        assert_eq!((two[0].at, two[1].at), (Point::new(10.0, 21.5), Point::new(10.0, 18.5)));
        // turned a quarter, the second line stands to the right of the first
        let turned = lines(&Text::new(p, 2.0, Anchor::CENTRE, "A\nB").turned(90.0));
        assert!(turned[1].at.x > turned[0].at.x && (turned[1].at.y - 20.0).abs() < 1e-12);
    }

    #[test]
    fn anchors_move_the_origin() {
        let p = Point::new(10.0, 20.0);
        let w = width("HX", 2.0, Weight::Regular);
        let t = Text::new(p, 2.0, Anchor { across: Across::Right, up: Up::Top }, "HX").turned(90.0);
        let o = origin(&t);
        assert!((o.x - 12.0).abs() < 1e-12 && (o.y - (20.0 - w)).abs() < 1e-12, "{o:?}");
        let b = bounds(&Text::new(p, 2.0, Anchor::CENTRE, "HX"));
        assert!((b.center() - p).x.abs() < 1e-12 && (b.height() - 2.0).abs() < 1e-12);
    }
}
