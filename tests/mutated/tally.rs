//! The changes by lot, judged one by one, and how they ended.

use super::change::{Change, Sort, change};
use super::judge::{End, Given, judge, read, sort};
use crate::panels::Dice;
use panelwright::files::{Disk, Files};
use std::collections::BTreeMap;

/// How many files are changed when nobody says otherwise.
const MUTATIONS: u64 = 360;

/// All files of the project that a user could have written, with what each gives unchanged.
pub fn files() -> Vec<(String, String, Given)> {
    let disk = Disk::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = Vec::new();
    for folder in ["panels", "assets/starter", "instruments"] {
        for name in disk.list(folder).unwrap().into_iter().filter(|n| n.ends_with(".json")) {
            let text = disk.read(&name).unwrap().to_string();
            let head: serde_json::Value = serde_json::from_str(&text).unwrap();
            // an instrument beside its panel is read with it
            if folder != "instruments" && head.get("panel").is_none() {
                continue;
            }
            let given = read(&name, text.as_bytes()).unwrap_or_else(|p| panic!("{}", p.render(false)));
            all.push((name, text, given));
        }
    }
    all
}

/// The change of one number; half of them are made to panels.
pub fn by_lot(k: u64, files: &[(String, String, Given)]) -> (usize, Change) {
    let mut dice = Dice::new(k);
    let panels = files.iter().take_while(|f| !f.0.starts_with("instruments/")).count();
    let file = if dice.one_in(2) { dice.pick(panels) } else { panels + dice.pick(files.len() - panels) };
    (file, change(&files[file].1, sort(k), &mut dice))
}

#[test]
fn every_changed_file_is_refused_at_the_change_or_judged_as_before() {
    let most = std::env::var("MUTATIONS").ok().and_then(|n| n.parse().ok()).unwrap_or(MUTATIONS);
    let files = files();
    let mut tally: BTreeMap<(Sort, End), usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    for k in 0..most {
        let (file, change) = by_lot(k, &files);
        let (name, text, before) = &files[file];
        match judge(name, text, before, &change) {
            Ok(end) => *tally.entry((change.sort, end)).or_default() += 1,
            Err(why) => wrong.push(format!(
                "{k}: {name}, {} of {:?} to {:?}: {why}",
                change.what,
                &text[change.at.clone()],
                String::from_utf8_lossy(&change.new)
            )),
        }
    }
    for ((sort, end), n) in &tally {
        println!("{sort:?} {end:?} {n}");
    }
    assert!(wrong.is_empty(), "{} of {most}\n{}", wrong.len(), wrong.join("\n\n"));
    let count = |what: &dyn Fn(Sort, End) -> bool| -> usize {
        tally.iter().filter(|((s, e), _)| what(*s, *e)).map(|(_, n)| n).sum()
    };
    for sort in [Sort::Byte, Sort::Token, Sort::Meaning] {
        let all = count(&|s, _| s == sort);
        assert_eq!(all as u64, most / 3, "{sort:?}: in equal parts");
        let refused = count(&|s, e| s == sort && e < End::Same);
        assert!(2 * refused > all, "{sort:?}: only {refused} of {all} were refused");
        let inside = count(&|s, e| s == sort && e == End::Inside);
        assert!(
            10 * inside > 7 * refused,
            "{sort:?}: only {inside} of {refused} were told in the change itself"
        );
    }
    assert!(most >= 300, "{most}");
}
