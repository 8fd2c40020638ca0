//! Places, rendering and suggestions.

use super::*;

fn problems(text: &str, start: usize, end: usize) -> Problems {
    let (file, text): (Arc<str>, Arc<str>) = ("panel.json".into(), text.into());
    let lines = Lines::new(file.clone(), text.clone());
    let mut all = Problems::new();
    all.add_text(&file, &text);
    all.push(
        Problem::new("unknown-unit", &lines.place(start, end), "`inn` is not a unit known here")
            .help("did you mean `in`?"),
    );
    all
}

#[test]
fn columns_count_characters_whatever_the_order_of_asking() {
    let lines = Lines::new("a".into(), "a\u{e9}\u{1f6e9}b\r\n\u{b5}m\n".into());
    let at = |start| {
        let place = lines.place(start, start + 1);
        (place.line, place.column)
    };
    assert_eq!(at(7), (1, 4));
    assert_eq!(at(0), (1, 1));
    assert_eq!(at(1), (1, 2));
    assert_eq!(at(3), (1, 3));
    assert_eq!(at(10), (2, 1));
    assert_eq!(at(12), (2, 2));
    assert_eq!(at(14), (3, 1));
    assert_eq!(at(99), (3, 1));
}

#[test]
fn a_page_shows_the_line_and_the_caret() {
    let text = "{\n  \"pitch\": \"3 1/8 inn\"\n}\n";
    let at = text.find("inn").unwrap();
    let page = problems(text, at, at + 3).render(false);
    let column = |part: &str| {
        let line = page.lines().find(|l| l.contains(part)).unwrap_or_else(|| panic!("{page}"));
        line.split(part).next().unwrap_or("").chars().count()
    };
    let mark = "\u{2500}\u{2500}\u{2500}";
    // The opening frame holds the same bar, so the mark is looked for on its own line.
    let under = page.lines().find(|l| l.trim_end().ends_with(mark) && l.contains('\u{b7}')).unwrap();
    assert_eq!(under.split(mark).next().unwrap().chars().count(), column("inn\""), "{page}");
    assert!(page.contains("panel.json:2:19"), "{page}");
    assert!(page.contains("did you mean"), "{page}");
    assert!(!page.contains('\u{1b}'), "no colour unless asked");
}

#[test]
fn long_lines_are_cut_around_the_place() {
    let text = format!("{}inn{}", "x".repeat(5000), "y".repeat(5000));
    let page = problems(&text, 5000, 5003).render(false);
    assert!(page.contains("panel.json:1:5001"), "{page}");
    assert!(page.len() < 3000);
}

#[test]
fn any_place_renders() {
    let text = "\u{1f6e9}\u{b5}\t\"a\u{7}\r\nb";
    for start in 0..text.len() + 3 {
        for end in start..text.len() + 3 {
            assert!(problems(text, start, end).render(false).contains("unknown-unit"));
        }
    }
    let bare = Problems::from(Problem::nowhere("no-file", "cannot read"));
    assert!(bare.render(true).contains("cannot read"));
}

#[test]
fn json_holds_everything() {
    let json = problems("ab\ncd", 3, 5).to_json();
    assert_eq!(json[0]["line"], 2);
    assert_eq!(json[0]["column"], 1);
    assert_eq!(json[0]["code"], "unknown-unit");
}

#[test]
fn slips_are_recognised() {
    let keys = ["thickness", "material", "outline", "right-of", "at"];
    assert_eq!(did_you_mean("thicknes", keys), Some("thickness"));
    assert_eq!(did_you_mean("right_of", keys), Some("right-of"));
    assert_eq!(did_you_mean("rigthof", keys), Some("right-of"));
    assert_eq!(did_you_mean("Material", keys), Some("material"));
    assert_eq!(did_you_mean("zebra", keys), None);
    assert_eq!(did_you_mean(&"t".repeat(1000), keys), None);
}

#[test]
fn long_lines_are_counted_block_by_block() {
    let text: String = (0..700).map(|i| ["a", "\u{e9}", "\u{1f6e9}", "\n"][(i * i + i / 97) % 4]).collect();
    for text in [text.clone(), text.replace('\n', "\u{b5}"), "x".repeat(512), String::new()] {
        let lines = Lines::new("a".into(), text.as_str().into());
        for (at, _) in text.char_indices().chain([(text.len(), ' ')]) {
            let before = &text[..at];
            let place = lines.place(at, at);
            assert_eq!(place.line as usize, before.matches('\n').count() + 1);
            assert_eq!(place.column as usize, before.rsplit('\n').next().unwrap().chars().count() + 1);
        }
    }
}
