//! No bytes make a reader panic, and every error carries code, file, line and column.

use crate::catalogue::{disk, names};
use crate::generate::{Dice, Maker, damage};
use panelwright::define::{instrument::INSTRUMENT, panel::PANEL, read_instrument, read_panel};
use panelwright::diag::Problems;
use panelwright::files::{Files, Memory};
use panelwright::units::{Angle, Current, Length, Mass, Unit};
use proptest::prelude::*;

/// Reads bytes as both kinds of file and holds every error to its form.
fn read(bytes: &[u8]) {
    let files = Memory::new().with("f.json", bytes);
    let text = match files.read("f.json") {
        Ok(text) => text,
        Err(problem) => {
            assert_eq!(problem.code, "not-utf8");
            return;
        }
    };
    for kind in 0..2 {
        let mut problems = Problems::new();
        let read = match kind {
            0 => read_panel("f.json", &text, &mut problems).is_some(),
            _ => read_instrument("f.json", &text, &mut problems).is_some(),
        };
        assert!(read || !problems.is_empty(), "refused without a word");
        for problem in problems.sorted() {
            let place = problem.place.as_ref().expect("a place");
            assert_eq!(place.file.as_ref(), "f.json");
            assert!(!problem.code.is_empty() && !problem.message.is_empty());
            let part = text.get(place.start..place.end);
            assert!(part.is_some(), "{problem}: the place cuts a character");
            let before = &text[..place.start];
            assert_eq!(place.line as usize, before.matches('\n').count() + 1, "{problem}");
            let line = before.rsplit('\n').next().unwrap_or("");
            assert_eq!(place.column as usize, line.chars().count() + 1, "{problem}");
        }
        let _ = (problems.render(false), problems.to_json().to_string());
    }
}

/// The texts of the project, and some that follow the table more widely.
fn seeds() -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for folder in ["instruments", "panels", "assets/starter"] {
        all.extend(names(folder).iter().map(|name| disk().read(name).unwrap().to_string()));
    }
    for seed in 0..20 {
        for record in [&INSTRUMENT, &PANEL] {
            all.push(serde_json::to_string_pretty(&Maker::new(seed).file(record)).unwrap());
        }
    }
    all
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        read(&bytes);
    }

    #[test]
    fn any_text(text in "\\PC*") {
        read(text.as_bytes());
    }

    #[test]
    fn any_json_punctuation(text in "[\\[\\]{}:,\"\\\\0-9.eE+\\- \n\u{e9}tfn]{0,200}") {
        read(text.as_bytes());
    }

    #[test]
    fn a_file_with_bytes_changed(which in any::<prop::sample::Index>(), edits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..4usize), 1..6)) {
        let seeds = seeds();
        let mut bytes = which.get(&seeds).clone().into_bytes();
        for (at, byte, how) in edits {
            if bytes.is_empty() { break; }
            let at = at.index(bytes.len());
            match how {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                2 => { bytes.remove(at); }
                // Punctuation in the middle of things does more harm than letters.
                _ => bytes[at] = b"{}[]\",:\\\n-0"[usize::from(byte) % 11],
            }
        }
        read(&bytes);
    }

    #[test]
    fn a_file_cut_and_joined(a in any::<prop::sample::Index>(), b in any::<prop::sample::Index>(), x in any::<prop::sample::Index>(), y in any::<prop::sample::Index>()) {
        let seeds = seeds();
        let (a, b) = (a.get(&seeds).as_bytes(), b.get(&seeds).as_bytes());
        let mut bytes = a[..x.index(a.len())].to_vec();
        bytes.extend(&b[y.index(b.len())..]);
        read(&bytes);
    }

    #[test]
    fn a_file_with_values_damaged(seed in any::<u64>(), hits in 1..6usize) {
        for record in [&INSTRUMENT, &PANEL] {
            let mut maker = Maker::new(seed);
            let mut file = maker.file(record);
            let mut dice = Dice(seed ^ 0x5555);
            (0..hits).for_each(|_| damage(&mut file, &mut dice));
            read(file.to_string().as_bytes());
        }
    }

    #[test]
    fn any_quantity(text in "\\PC{0,30}") {
        for unit in [None, Some(Unit::Millimetre), Some(Unit::Inch)] {
            if let Err(e) = Length::parse(&text, unit) {
                prop_assert!(text.get(e.start..e.end).is_some(), "{:?}", e);
                prop_assert!(!e.help().is_empty() && !e.to_string().is_empty());
            }
        }
        let _ = (Angle::parse(&text), Mass::parse(&text), Current::parse(&text));
    }

    #[test]
    fn likely_quantities(text in "[-+0-9./' \"eimnctfodkgA\u{b0},]{1,16}") {
        for unit in [None, Some(Unit::Inch)] {
            match Length::parse(&text, unit) {
                // What is read prints with its unit and reads back the same.
                Ok(length) => {
                    let again = Length::parse(&length.to_string(), None).expect("its own print");
                    prop_assert_eq!(again.nm(), length.nm());
                    prop_assert!(text.contains(|c: char| c.is_ascii_digit()));
                }
                Err(e) => prop_assert!(text.get(e.start..e.end).is_some(), "{:?}", e),
            }
        }
    }

    #[test]
    fn lengths_are_exact(whole in 0..100i64, top in 0..64i64, nm in 0..99_999_999_999i64) {
        let text = if top == 0 { format!("{whole} in") } else { format!("{whole} {top}/64 in") };
        prop_assert_eq!(Length::parse(&text, None).unwrap().nm(), whole * 25_400_000 + top * 396_875);
        let text = format!("{}.{:06} mm", nm / 1_000_000, nm % 1_000_000);
        prop_assert_eq!(Length::parse(&text, None).unwrap().nm(), nm);
        for unit in [Unit::Millimetre, Unit::Inch, Unit::Foot] {
            let made = Length::from_mm(nm as f64 / 1e6, unit).unwrap();
            prop_assert_eq!(Length::parse(&made.to_string(), None).unwrap().nm(), nm);
        }
    }
}

#[test]
fn a_foreign_letter_anywhere_is_pointed_at_whole() {
    let text = r#"{ "format": 1, "instrument": "I", "kind": "box", "mass": "0.4 kg", "words": ["a", "b"] }"#;
    for (at, _) in text.char_indices() {
        for letter in ["\u{e9}", "\u{d7}", "\u{1f6e9}"] {
            let mut broken = text.to_string();
            broken.insert_str(at, letter);
            read(broken.as_bytes());
        }
    }
}
